"""How a figure comes about, in a sentence or two: from the arm, from what it is the difference of, from before."""

from __future__ import annotations

from tutor.lesson.goal import Figure
from tutor.lesson.setting import Arm
from tutor.marking.case import NumberCase
from tutor.marking.figures import shown
from tutor.pattern.measures import words_for
from tutor.units import Unit, format_length

LESS = {
    "cap-ease": ("cap-seam", "armhole"),
    "cap-ease-front": ("cap-seam-front", "armhole-front"),
    "cap-ease-back": ("cap-seam-back", "armhole-back"),
    "underarm-mismatch": ("underarm-seam-front", "underarm-seam-back"),
    "side-mismatch": ("side-seam-front", "side-seam-back"),
}
"""Measures that are one less the other."""


def reckoning(case: NumberCase, unit: Unit) -> tuple[str, ...]:
    """The way to a figure; nothing for what is read off the pattern as it lies."""
    if case.of == "stretch-used" and case.wanted is None and not case.is_change:
        return _stretch(case, unit)
    if case.wanted is None and not case.at_cut_edge:
        return _measured(case, unit)
    if case.wanted is None or not case.wanted.goes_by_arm:
        return ()
    said = [_together(case.wanted, case.arm, unit)]
    if case.wanted.stretched:
        said.append(f"The cloth may stretch by {case.arm.stretch:g}%, so that is divided by {_factor(case.arm):g}.")
    if case.is_change:
        there = shown(case.of, case.before.get(case.of, 0.0), unit)
        said.append(f"The {words_for(case.of)} is {there} as it lies; what is wanted is the difference.")
    return tuple(said)


def _measured(case: NumberCase, unit: Unit) -> tuple[str, ...]:
    """What a figure was before the alteration that it is asked after, and what it is the difference of."""
    after = case.before if case.plan is None else case.measures(case.plan)
    if after is None or case.of not in after or case.of not in case.before:
        return ()
    said = []
    if case.plan is not None and case.of != "bust-gain":
        was, now = (shown(case.of, figures[case.of], unit) for figures in (case.before, after))
        said.append(f"The {words_for(case.of)} is {was} before{f', and {now} after' if case.is_change else ''}.")
    if case.of in LESS and all(name in after for name in LESS[case.of]):
        more, less = ((words_for(name), shown(name, after[name], unit)) for name in LESS[case.of])
        then = " then" if case.plan is not None else ""
        said.append(f"The {more[0]} is{then} {more[1]}, the {less[0]} {less[1]}: take the one from the other.")
    if case.of == "wearing-ease":
        girth, arm = shown("bicep-girth", after["bicep-girth"], unit), format_length(float(case.arm.girth), unit)
        said.append(f"The bicep girth is{' then' if case.plan else ''} {girth}, the arm {arm} round.")
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
