"""What can be wrong with a sleeve that sits badly: causes, each as the misfit that a given amount of it makes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tutor.fit.misfit import Misfit


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that is off. ``made`` gives the misfit of an amount in mm, above 0; ``remedy`` says what mends it."""

    name: str
    words: str
    remedy: str
    made: Callable[[float], Misfit]


CAUSES: dict[str, Cause] = {
    cause.name: cause
    for cause in (
        Cause(
            "girth-short",
            "the upper arm has too little room",
            "more width at the bicep line",
            lambda mm: Misfit(girth=-mm),
        ),
        Cause(
            "girth-spare",
            "the upper arm has too much room",
            "less width at the bicep line",
            lambda mm: Misfit(girth=mm),
        ),
        Cause("cap-low", "the cap is too low for the shoulder", "a higher cap", lambda mm: Misfit(cap_height=-mm)),
        Cause("cap-high", "the cap is too high for the shoulder", "a lower cap", lambda mm: Misfit(cap_height=mm)),
        Cause(
            "ease-much",
            "there is more cap ease than the cloth takes up",
            "a shorter cap seam, or a longer armhole",
            lambda mm: Misfit(ease_back=mm / 2, ease_front=mm / 2),
        ),
        Cause(
            "ease-little",
            "the cap seam is too short for its armhole",
            "a longer cap seam, or a shorter armhole",
            lambda mm: Misfit(ease_back=-mm / 2, ease_front=-mm / 2),
        ),
        Cause(
            "arm-forward", "the arm hangs ahead of the sleeve", "the cap turned forward", lambda mm: Misfit(pitch=mm)
        ),
        Cause("arm-behind", "the arm hangs behind the sleeve", "the cap turned back", lambda mm: Misfit(pitch=-mm)),
        Cause("elbow-short", "the elbow has too little room", "more room at the elbow", lambda mm: Misfit(elbow=-mm)),
    )
}
