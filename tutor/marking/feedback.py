"""What is said after a mark: which goal is missed, by how much and which way, and where to look next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tutor.lesson.task import NumberTask
from tutor.marking.figures import bounds, shown
from tutor.marking.marked import GoalMark, Part
from tutor.marking.reasons import tolerance_reason, tolerance_reasons
from tutor.units import Unit

TOLD = 2
"""How many missed goals are told at once; the rest are in the figures."""

FAR = 10
"""A number answer this many tolerances off is called far off."""

_LOOK = {
    "bicep-girth": "Look at how much was added along the bicep line.",
    "cap-height": "Look at the crown, and at what the two halves of the cap turn about.",
    "cap-seam": "Look for a place where the cap was parted, or its curve cut short.",
    "cap-ease": "Look at how far the cap is open at the crown, and what the armhole does.",
    "cap-ease-back": "Look at the back half: cap seam against armhole.",
    "cap-ease-front": "Look at the front half: cap seam against armhole.",
    "ease-balance": "Compare front and back: something was done to one and not to the other.",
    "hem-girth": "Look at the hem: a hinge there keeps it, a through cut lets it grow.",
    "elbow-girth": "Look at how far down what was added runs.",
    "underarm-mismatch": "Compare the two underarm seams: one was lengthened and the other was not.",
    "underarm-seam-back": "Look at where the back underarm seam was cut through.",
    "underarm-seam-front": "Look at where the front underarm seam was cut through.",
    "side-mismatch": "Compare the two side seams: both pieces must be lowered alike.",
    "bust-gain": "Look at the widening: every side seam moved counts on both pieces, left and right.",
    "kink": "Look along the cap seam for the corner where pieces parted.",
    "crown-shift": "Look at whether front and back were changed alike.",
}
"""The next thing to look at, by the measure that is off."""
NOTCH_LOOK = "Look at the seams between underarm and notch, on sleeve and armhole."


def plan_feedback(
    goals: Sequence[GoalMark], passed: bool, enough: bool, before: Mapping[str, float], unit: Unit
) -> tuple[str, ...]:
    """One sentence for all is well, or one each for the worst goals missed, what is allowed there, and where to look.

    ``enough`` says that the marks reach the pass mark, whatever must be met besides.
    """
    missed = [goal for goal in goals if not goal.met]
    if not missed:
        return ("Every goal is met.",)
    missed.sort(key=lambda goal: (not goal.must, goal.weight * (goal.credit - 1)))
    said = [missed_words(goal, before, unit) for goal in missed[:TOLD]]
    if len(missed) > TOLD:
        said.append(f"{_count(len(missed) - TOLD)} not met.")
    reasons = tolerance_reasons([goal.worst for goal in missed[:TOLD] if not goal.worst.is_missing], unit)
    if passed:
        return ("Passed, though not to the full.", *said, *reasons)
    if enough:
        said.append("The marks would do, but this goal must be met.")
    said += reasons
    look = "" if missed[0].worst.is_missing else _look(missed[0].worst.measure)
    return (*said, *filter(None, [look]))


def named_feedback(feedback: Sequence[str], said: Sequence[str]) -> tuple[str, ...]:
    """What is said of a mistake that was named, and then what it led to; where to look is said with the mistake."""
    places = {*_LOOK.values(), NOTCH_LOOK}
    return (*said, *(sentence for sentence in feedback if sentence not in places))


def _look(measure: str) -> str:
    if measure.startswith("notch-"):
        return NOTCH_LOOK
    return _LOOK.get(measure, "")


def _count(number: int) -> str:
    return "One more goal is" if number == 1 else f"{number} more goals are"


def missed_words(goal: GoalMark, before: Mapping[str, float], unit: Unit) -> str:
    """What one missed goal's worst part came to, what was wanted, and the lesson's reason for it."""
    part = goal.worst
    if part.is_missing:
        said = _missing(part)
    elif part.aim.low == part.aim.high == 0 and ("mismatch" in part.measure):
        said = _unequal(part, unit)
    elif goal.kind == "keep":
        said = _kept(part, before, unit)
    elif goal.kind in ("at-most", "at-least") and part.measure in before:
        said = _limited(part, before, unit)
    else:
        wanted = bounds(part.aim, unit)
        said = (
            f"The {part.words} is {shown(part.measure, part.figure, unit)}, {_off(part, unit)};"
            f" wanted is {wanted}, within {_tolerance(part, unit)}."
        )
    return f"{said} {goal.why}" if goal.why else said


def _missing(part: Part) -> str:
    """What is said of a measure that can't be taken any more, as what it is taken from is gone."""
    if part.measure.startswith("notch-"):
        notch = part.words.removesuffix(" apart")
        return f"The {notch} is missing, so it can't be seen whether sleeve and armhole meet there."
    return f"The {part.words} can't be measured: what it is taken from is missing."


def _unequal(part: Part, unit: Unit) -> str:
    """Two lengths that should be one, told by which is the longer."""
    by = _telling(part, abs(part.figure), unit)
    longer = part.figure > 0
    if part.measure.startswith("notch-"):
        where = "sleeve" if longer else "armhole"
        notch = part.words.removesuffix(" apart")
        said = f"The {notch} is off by {by}: underarm to notch is longer on the {where}"
    else:
        seams = part.words.partition(",")[0]
        said = f"The {seams} differ by {by}: the {'front' if longer else 'back'} is longer"
    return f"{said}. They should meet within {_tolerance(part, unit)}."


def _kept(part: Part, before: Mapping[str, float], unit: Unit) -> str:
    change = part.figure - before[part.measure]
    moved = _moved(part.measure, change)
    by = _telling(part, abs(change), unit)
    return f"The {part.words} {moved} by {by}; it should stay, within {_tolerance(part, unit)}."


def _limited(part: Part, before: Mapping[str, float], unit: Unit) -> str:
    """A limit missed, told as the change it was where the measure went the wrong way from its start."""
    start = before[part.measure]
    change = part.figure - start
    allowed = (part.aim.high if part.off > 0 else part.aim.low) - start
    if change * part.off <= 0 or shown(part.measure, abs(change), unit) == shown(part.measure, 0.0, unit):
        return (
            f"The {part.words} is {shown(part.measure, part.figure, unit)}, {_off(part, unit)};"
            f" wanted is {bounds(part.aim, unit)}."
        )
    moved = _moved(part.measure, change)
    limit = f"the task lets it come to {bounds(part.aim, unit)}"
    if change * allowed >= 0:
        verb = _moved(part.measure, change, base=True)
        limit = f"the task lets it {verb} by {shown(part.measure, abs(allowed), unit)}"
    return f"The {part.words} {moved} by {shown(part.measure, abs(change), unit)}; {limit}."


def _moved(measure: str, change: float, base: bool = False) -> str:
    """The verb for a change: a height rises and falls, everything else grows and shrinks."""
    if measure == "cap-height":
        verbs = ("rise", "fall") if base else ("rose", "fell")
    else:
        verbs = ("grow", "shrink") if base else ("grew", "shrank")
    return verbs[0] if change > 0 else verbs[1]


def _off(part: Part, unit: Unit) -> str:
    return f"{_telling(part, abs(part.off), unit)} too {'much' if part.off > 0 else 'little'}"


def _tolerance(part: Part, unit: Unit) -> str:
    return shown(part.measure, part.tolerance, unit)


def _telling(part: Part, away: float, unit: Unit) -> str:
    """How far away; what is rounded to the tolerance itself is said to be more than that."""
    text = shown(part.measure, away, unit)
    if part.met or text != _tolerance(part, unit):
        return text
    return f"a little more than {text}"


def number_feedback(task: NumberTask, goal: GoalMark, passed: bool, unit: Unit) -> tuple[str, ...]:
    """Whether a figure is right; if it is not, which way and roughly how far off it is, and not the right figure."""
    part = goal.worst
    why = tuple(filter(None, [task.why]))
    right = shown(task.measure, part.aim.low, unit)
    if goal.met:
        # A figure that is near enough is not said to be the very one.
        near = "" if shown(task.measure, part.figure, unit) == right else ", near enough"
        return (f"Right{near}: it is {right}.", *why)
    if passed:
        return (
            f"Beyond the tolerance, but near enough to pass: it is {right}.",
            tolerance_reason(part, unit, asked=True),
            *why,
        )
    near = "a little " if part.credit > 0 else "far " if abs(part.off) > FAR * part.tolerance else ""
    way = "too much" if part.off > 0 else "too little"
    way = {"a little too little": "a little less than it is"}.get(f"{near}{way}", f"{near}{way}")
    return (f"{shown(task.measure, part.figure, unit)} is {way}.", tolerance_reason(part, unit, asked=True))
