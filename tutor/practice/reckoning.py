"""How a figure that is worked out from the arm comes about, in a sentence."""

from __future__ import annotations

from tutor.lesson.goal import Figure
from tutor.lesson.setting import Arm
from tutor.marking.case import NumberCase
from tutor.marking.figures import shown
from tutor.pattern.measures import words_for
from tutor.units import Unit, format_length


def reckoning(case: NumberCase, unit: Unit) -> tuple[str, ...]:
    """The way to a figure that is wanted, or to the stretch that is used; nothing for what is read off a pattern."""
    if case.of == "stretch-used" and case.wanted is None and not case.is_change:
        return _stretch(case, unit)
    if case.wanted is None or not case.wanted.goes_by_arm:
        return ()
    said = [_together(case.wanted, case.arm, unit)]
    if case.wanted.stretched:
        said.append(f"The cloth may stretch by {case.arm.stretch:g}%, so that is divided by {_factor(case.arm):g}.")
    if case.is_change:
        there = shown(case.of, case.before.get(case.of, 0.0), unit)
        said.append(f"The {words_for(case.of)} is {there} as it lies; what is wanted is the difference.")
    return tuple(said)


def _together(figure: Figure, arm: Arm, unit: Unit) -> str:
    part = figure.around or "arm"
    girth = format_length(arm.around(part) or 0.0, unit)
    more = arm.wearing_ease if figure.arm_and_ease else figure.plus or 0.0
    name = "wearing ease" if figure.arm_and_ease else "room"
    if not more:
        return f"The {part} is {girth} round."
    total = format_length((arm.around(part) or 0.0) + more, unit)
    return f"The {part} is {girth} round, the {name} {format_length(more, unit)}: {total} together."


def _factor(arm: Arm) -> float:
    return 1 + (arm.stretch or 0.0) / 100


def _stretch(case: NumberCase, unit: Unit) -> tuple[str, ...]:
    after = None if case.plan is None else case.measures(case.plan)
    girth, arm = (after or case.before)["bicep-girth"], float(case.arm.girth)
    if girth >= arm:
        sizes = f"The sleeve is {format_length(girth, unit)} and the arm {format_length(arm, unit)}"
        return (f"{sizes}: nothing stretches.",)
    short = format_length(arm - girth, unit)
    return (f"The sleeve is {short} smaller than the arm: taken of its own {format_length(girth, unit)}.",)
