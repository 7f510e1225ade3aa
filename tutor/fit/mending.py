"""What is still off, or newly so, once a pattern has been altered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from tutor.fit.misfit import GREATEST, Misfit
from tutor.fit.signs import NOTICED, SIGNS

MEASURED = {
    "girth": "bicep-girth",
    "elbow": "elbow-girth",
    "cap_height": "cap-height",
    "ease_back": "cap-ease-back",
    "ease_front": "cap-ease-front",
}
"""The measure of a pattern by which each thing that can be off goes along. How the arm hangs is no measure of it."""
CLEARLY = 1.5
"""What is off by so many times what is noticed is off clearly; by less than 1 / CLEARLY of it, clearly not."""


ELBOW_SPARE = 16.0
"""mm of more room at the elbow than planned, which nobody minds: a wedge from the bicep line brings it along."""


def left_over(misfit: Misfit, before: Mapping[str, float], after: Mapping[str, float]) -> Misfit:
    """What is off after an alteration that brought the measures, mm, from ``before`` to ``after``."""
    changes = {
        name: min(max(getattr(misfit, name) + after[of] - before[of], -GREATEST), GREATEST)
        for name, of in MEASURED.items()
        if of in before and of in after
    }
    return replace(misfit, **changes)


def showing(misfit: Misfit) -> tuple[str, ...]:
    """The signs that show something off; a little more room at the elbow than planned is let pass."""
    return tuple(name for name, figure in _figures(misfit).items() if abs(figure) >= NOTICED)


def is_mended(misfit: Misfit) -> bool | None:
    """Whether nothing shows that is off; None where that is a near thing."""
    most = max(map(abs, _figures(misfit).values()))
    if NOTICED / CLEARLY < most < NOTICED * CLEARLY:
        return None
    return most < NOTICED


def _figures(misfit: Misfit) -> dict[str, float]:
    """The figure of every sign, mm."""
    figures = {name: sign.read(misfit) for name, sign in SIGNS.items()}
    elbow = figures["bend"]
    return figures | {"bend": min(elbow, 0.0) + max(elbow - ELBOW_SPARE, 0.0)}
