"""Texts of a lesson in the learner's unit: what stands in braces is a length, or one of the lesson's own figures.

``{1 cm}`` becomes "3/8 in" for a learner who works in inches. ``{arm}`` is the arm's girth, ``{ease}`` the wearing
ease and ``{arm and ease}`` both together; ``{elbow}``, ``{forearm}``, ``{wrist}`` and ``{hand}`` are the other girths
of the arm and ``{stretch}`` is the cloth's, in per cent, where [arm] gives them. A task's texts may also name measures
of its pattern, figures of its goals and amounts of the lesson's plans: see ``figures``.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from tutor.faults import Fault
from tutor.lesson.setting import PARTS, Arm
from tutor.units import Unit, format_length, parse_length

_BRACES = re.compile(r"\{([^{}]*)\}")


Figures = Callable[[str], "float | str | None"]
"""The figure that words in braces name besides the usual: mm, or the text of one that is no length; or None."""


def unclosed(text: str) -> str:
    """The first words after a brace that has no partner, or the brace; nothing where each has one."""
    left = _BRACES.sub("", text)
    at = next((k for k, letter in enumerate(left) if letter in "{}"), None)
    return "" if at is None else left[at : at + 24]


def worded(text: str, arm: Arm, unit: Unit, figures: Figures | None = None) -> str:
    """The text with its braces filled. Raises Fault for braces that hold no length."""
    return _BRACES.sub(lambda match: _figure(match[1].strip(), arm, unit, figures), text)


def _figure(inside: str, arm: Arm, unit: Unit, figures: Figures | None) -> str:
    own = _own(arm)
    if inside in own:
        return short(own[inside], unit)
    if inside == "stretch" and arm.stretch is not None:
        return f"{arm.stretch:g} per cent"
    named = None if figures is None else figures(inside)
    if named is not None:
        return named if isinstance(named, str) else short(named, unit)
    try:
        return short(parse_length(inside, Unit.CM, ""), unit)
    except Fault:
        right = f"write a length such as {{1 cm}}, or one of {', '.join(f'{{{name}}}' for name in own)}"
        raise Fault("", f"has {{{inside[:40]}}} in it, which is no figure", right) from None


def _own(arm: Arm) -> dict[str, float]:
    """The lengths that are the arm's own, by their words."""
    girths = {part: girth for part in PARTS if (girth := arm.around(part)) is not None}
    return girths | {"ease": float(arm.wearing_ease), "arm and ease": arm.with_ease}


def short(mm: float, unit: Unit) -> str:
    """A length without figures that say nothing: "1 cm", "2.5 cm", "3/8 in"."""
    return format_length(mm, unit).replace(".0 ", " ")
