"""What can be wrong with a sleeve that sits badly: causes, each as the misfit that a given amount of it makes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tutor.fit.misfit import Misfit


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that is off. ``made`` gives the misfit of an amount in mm, above 0; ``remedy`` says what mends it.

    ``measure`` is the measure of a pattern that it is counted in.
    """

    name: str
    words: str
    remedy: str
    measure: str
    made: Callable[[float], Misfit]


CAUSES: dict[str, Cause] = {
    cause.name: cause
    for cause in (
        Cause(
            "girth-short",
            "too little room at the upper arm",
            "more width at the bicep line",
            "bicep-girth",
            lambda mm: Misfit(girth=-mm),
        ),
        Cause(
            "girth-spare",
            "too much room at the upper arm",
            "less width at the bicep line",
            "bicep-girth",
            lambda mm: Misfit(girth=mm),
        ),
        Cause(
            "sleeve-narrow",
            "too narrow from the upper arm to below the elbow",
            "more width all the way down",
            "bicep-girth",
            lambda mm: Misfit(girth=-mm, elbow=-mm),
        ),
        Cause(
            "sleeve-wide",
            "too wide from the upper arm to below the elbow",
            "less width all the way down",
            "bicep-girth",
            lambda mm: Misfit(girth=mm, elbow=mm),
        ),
        Cause(
            "cap-low",
            "a cap too low for the shoulder",
            "a higher cap",
            "cap-height",
            lambda mm: Misfit(cap_height=-mm),
        ),
        Cause(
            "cap-high",
            "a cap too high for the shoulder",
            "a lower cap",
            "cap-height",
            lambda mm: Misfit(cap_height=mm),
        ),
        Cause(
            "ease-much",
            "more cap ease than the cloth takes up, in both halves",
            "a shorter cap seam, or a longer armhole",
            "cap-ease",
            lambda mm: Misfit(ease_back=mm / 2, ease_front=mm / 2),
        ),
        Cause(
            "ease-little",
            "a cap seam too short for its armhole",
            "a longer cap seam, or a shorter armhole",
            "cap-ease",
            lambda mm: Misfit(ease_back=-mm / 2, ease_front=-mm / 2),
        ),
        Cause(
            "ease-front",
            "too much cap ease in the front half alone",
            "a shorter front cap seam, or a longer front armhole",
            "cap-ease-front",
            lambda mm: Misfit(ease_front=mm),
        ),
        Cause(
            "ease-back",
            "too much cap ease in the back half alone",
            "a shorter back cap seam, or a longer back armhole",
            "cap-ease-back",
            lambda mm: Misfit(ease_back=mm),
        ),
        Cause(
            "ease-forward",
            "cap ease that belongs to the back half set into the front",
            "the crown mark moved back along the cap seam",
            "cap-ease-front",
            lambda mm: Misfit(ease_front=mm, ease_back=-mm),
        ),
        Cause(
            "ease-backward",
            "cap ease that belongs to the front half set into the back",
            "the crown mark moved forward along the cap seam",
            "cap-ease-back",
            lambda mm: Misfit(ease_front=-mm, ease_back=mm),
        ),
        Cause(
            "arm-forward",
            "an arm that hangs ahead of the sleeve",
            "the cap turned forward",
            "cap-ease-front",
            lambda mm: Misfit(pitch=mm),
        ),
        Cause(
            "arm-behind",
            "an arm that hangs behind the sleeve",
            "the cap turned back",
            "cap-ease-back",
            lambda mm: Misfit(pitch=-mm),
        ),
        Cause(
            "elbow-short",
            "too little room at the elbow",
            "more room at the elbow",
            "elbow-girth",
            lambda mm: Misfit(elbow=-mm),
        ),
    )
}


def contrary_of(cause: str) -> str | None:
    """The cause that is too much where this one is too little, or the reverse; None where there is none."""
    return _cause_of(-CAUSES[cause].made(1.0))


def other_side_of(cause: str) -> str | None:
    """The same cause on the other half of the sleeve; None for one that lies on both."""
    found = _cause_of(CAUSES[cause].made(1.0).mirrored)
    return None if found == cause else found


def _cause_of(misfit: Misfit) -> str | None:
    return next((name for name, each in CAUSES.items() if each.made(1.0) == misfit), None)
