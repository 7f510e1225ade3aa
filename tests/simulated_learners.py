"""Learners simulated over every task of the lessons, in many variants, and how well the tutor understands them.

    python tests/simulated_learners.py [VARIANTS [LESSON...]]

Of every task, and by turns in centimetres and in inches, there are learners who are right but for measuring and
rounding; learners who make one usual mistake, worked out here from landmarks, measures and plans of their own and not
by the tutor's own derivations; and learners who are wrong in no usual way: figures picked anywhere between the least
and the greatest that a mistake leads to (``anywhere``) or near the right one, a third to three times it (``near``),
``apart`` when it is not by chance what a mistake leads to, to the division that is typed; and plans with amounts,
hinges or slashes at random. Printed is how often a right answer fails or is accused, how often a
mistake is the one that is named, and how often one is named where none was made.
"""

from __future__ import annotations

import math
import random
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

from tutor.alteration.alter import Altered, alter
from tutor.alteration.plan import Along, Answer, Landmark, Opening, Place, Plan, Share, Slash
from tutor.alteration.reach import OpeningAmount, reach
from tutor.alteration.refusal import Refusal
from tutor.lesson.goal import Aim
from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import find_lesson, list_lessons
from tutor.lesson.task import NumberTask, PlanTask
from tutor.marking.answers import mark_result
from tutor.marking.case import NumberCase, PlanCase
from tutor.marking.credit import tolerance_of
from tutor.marking.left_behind import old_notches, untrued_kink
from tutor.marking.marked import Marked
from tutor.pattern.pattern import Pattern
from tutor.practice.entry import read_figure
from tutor.practice.session import Session
from tutor.practice.variants import told
from tutor.practice.worked import case_of
from tutor.units import Unit

INCH = 25.4
SIDES = ("back", "front")
GIRTHS = ("bicep-girth", "elbow-girth", "forearm-girth", "hem-girth")
HEM = Landmark("grain-hem")
NONSENSE = 20
PLANS = 3


@dataclass
class Tally:
    """What became of the learners of one task."""

    title: str
    right: int = 0
    failed: int = 0
    accused: int = 0
    made: Counter[str] = field(default_factory=Counter)
    named: Counter[str] = field(default_factory=Counter)
    taken: Counter[tuple[str, str]] = field(default_factory=Counter)
    nonsense: Counter[str] = field(default_factory=Counter)
    guessed: Counter[str] = field(default_factory=Counter)

    def add_right(self, marked: Marked) -> None:
        self.right += 1
        self.failed += not marked.passed
        self.accused += marked.mistake is not None

    def add_mistake(self, name: str, marked: Marked) -> None:
        """A mistake that leads to an answer that passes is none, and must be told nothing."""
        if marked.passed:
            self.accused += marked.mistake is not None
            return
        if marked.refusal is not None:
            return
        self.made[name] += 1
        self.named[name] += marked.mistake == name
        if marked.mistake != name:
            self.taken[name, marked.mistake or "none"] += 1

    def add_nonsense(self, kind: str, marked: Marked) -> None:
        if not marked.settled:
            self.nonsense[kind] += 1
            self.guessed[kind] += marked.mistake is not None

    @property
    def share_named(self) -> float:
        return sum(self.named.values()) / max(sum(self.made.values()), 1)

    def share_guessed(self, *kinds: str) -> float:
        """The share of answers wrong in no usual way, of these kinds or of all, in which a mistake was named."""
        chosen = kinds or tuple(self.nonsense)
        return sum(self.guessed[k] for k in chosen) / max(sum(self.nonsense[k] for k in chosen), 1)


# Learners who are asked for a figure.


@dataclass(frozen=True)
class Asked:
    """What a learner has in front of them: the pattern before, and after the plan that the figure is asked about."""

    session: Session
    case: NumberCase
    altered: Altered | None
    chance: random.Random

    @property
    def unit(self) -> Unit:
        return self.session.unit

    @property
    def before(self) -> dict[str, float]:
        return self.session.measures_before()

    @property
    def after(self) -> dict[str, float]:
        return self.before if self.altered is None else self.altered.measures_after

    def figure(self, name: str) -> float:
        """A measure as the task asks for it: what it comes to, or what it changes by."""
        return self.after[name] - self.before[name] if self.case.is_change else self.after[name]

    @property
    def right(self) -> float:
        if self.task.wanted is not None:
            return self.by_arm()
        return self.edge(self.case.of) if self.task.edge == "cut" else self.figure(self.case.of)

    @property
    def task(self) -> NumberTask:
        return self.case.task

    @property
    def more(self) -> float:
        """What is to be added to a girth that goes by the arm: its ease, or room."""
        wanted, arm = self.task.wanted, self.session.lesson.arm
        assert wanted is not None
        return float(arm.wearing_ease if wanted.arm_and_ease else wanted.plus or 0)

    def by_arm(self, *, more: float | None = None, around: str = "", stretched: bool = True) -> float:
        """The girth wanted, gone about rightly or, with other figures, wrongly."""
        wanted, arm = self.task.wanted, self.session.lesson.arm
        assert wanted is not None
        girths = {"arm": arm.girth, "elbow": arm.elbow, "forearm": arm.forearm, "wrist": arm.wrist, "hand": arm.hand}
        girth = girths[around or wanted.around or "arm"]
        assert girth is not None
        total = float(girth) + (self.more if more is None else more)
        total /= 1 + (arm.stretch or 0) / 100 if wanted.stretched and stretched else 1
        return total - self.before[self.case.of] if self.case.is_change else total

    def edge(self, of: str) -> float:
        """A length of the cap at its cut edge, by Steiner: longer by allowance times turning, and by mitres."""
        sleeve, allowance = self.session.pattern.sleeve, float(self.session.lesson.seam_allowance)
        joints = {
            "back": (sleeve.underarm_back, sleeve.cap_back, sleeve.underarm_back),
            "front": (sleeve.cap_front, sleeve.cap_front, sleeve.underarm_front),
        }
        total = 0.0
        for side, (before, cap, after) in joints.items():
            corner = (sleeve.cap_back if side == "back" else after).tangent(0)
            turned = _angle(before.tangent(float(len(before)), arriving=True) / corner)
            along = _angle(cap.tangent(0) / cap.tangent(float(len(cap)), arriving=True))
            if of in ("cap-seam", f"cap-seam-{side}"):
                seam = 0.0 if self.case.is_change else self.before[f"cap-seam-{side}"]
                total += seam + allowance * (along + math.tan(turned / 2))
        return total

    def otherwise(self, plan: Plan) -> Iterator[float]:
        """The figure as another plan would have it; nothing where paper can't follow it."""
        try:
            altered = alter(self.session.pattern, plan)
        except Refusal:
            return
        name = self.case.of
        after = altered.measures_after[name]
        yield after - self.before[name] if self.case.is_change else after

    def typed(self, mm: float) -> str:
        """A length as people type it, in whole millimetres or in sixteenths of an inch; anything else to a tenth."""
        if not self.case.is_length:
            return f"{mm:.1f}"
        if self.unit is Unit.INCH:
            sixteenths = round(mm / INCH * 16)
            whole, rest = divmod(abs(sixteenths), 16)
            text = f"{whole} {rest}/16" if rest else str(whole)
            return f"-{text}" if sixteenths < 0 else text
        return f"{mm / 10:.1f}"


def _angle(turn: complex) -> float:
    return math.atan2(turn.imag, turn.real)


Maker = Callable[[Asked], Iterator[float | str]]


def by_triangle(asked: Asked, half_added: float) -> Iterator[float]:
    """The cap height by Pythagoras, the slant kept and so much added to half the girth."""
    half = asked.before["bicep-girth"] / 2
    square = half**2 + asked.before["cap-height"] ** 2 - (half + half_added) ** 2
    if square > 0:
        yield math.sqrt(square)


def width(asked: Asked) -> float:
    return asked.after["bicep-girth"] - asked.before["bicep-girth"]


def per_side(asked: Asked) -> Iterator[float]:
    if asked.case.of == "cap-height" and asked.altered is not None:
        yield from by_triangle(asked, width(asked))
        yield from by_triangle(asked, width(asked) / 4)
    elif asked.case.of in (*GIRTHS, "bust-gain"):
        yield asked.right / 2
    elif asked.case.of.endswith(SIDES) and asked.case.of.startswith(("cap-seam", "cap-ease", "armhole")):
        whole = asked.case.of.rpartition("-")[0]
        yield asked.edge(whole) if asked.task.edge == "cut" else asked.figure(whole)
    elif asked.case.of in ("cap-seam", "cap-ease", "armhole"):
        yield 2 * asked.right


def unit_swap(asked: Asked) -> Iterator[str]:
    """A figure read off the other side of the tape, and typed without its unit."""
    if not asked.case.is_length:
        return
    if asked.unit is Unit.INCH:
        yield f"{asked.right / 10:.1f}"
    else:
        yield f"{asked.right / INCH:.2f}"


def tenths(asked: Asked) -> Iterator[str]:
    if asked.unit is not Unit.INCH or asked.right < INCH or not asked.case.is_length:
        return
    whole, rest = divmod(round(asked.right / INCH * 16), 16)
    if rest:
        yield f"{whole}.{rest}"
    whole, rest = divmod(round(asked.right / INCH * 10), 10)
    if rest:
        yield f"{whole} {rest}/16"


def change_for_value(asked: Asked) -> Iterator[float]:
    if asked.altered is not None:
        new, old = asked.after[asked.case.of], asked.before[asked.case.of]
        yield new if asked.case.is_change else abs(new - old)
    elif asked.task.wanted is not None or (asked.task.edge == "cut" and asked.case.is_change):
        old = asked.before[asked.case.of]
        yield asked.right + old if asked.case.is_change else abs(asked.right - old)


def wrong_sign(asked: Asked) -> Iterator[float]:
    if asked.task.wanted is not None and asked.more:
        yield asked.by_arm(more=-asked.more)
    if asked.case.is_change:
        yield -asked.right
    elif asked.altered is None:
        return
    else:
        yield from asked.otherwise(times(asked.altered.plan, -1))


def one_side(asked: Asked) -> Iterator[float]:
    if asked.case.of in ("cap-seam", "cap-ease", "armhole"):
        read = asked.edge if asked.task.edge == "cut" else asked.figure
        if not (asked.task.edge == "cut" and asked.case.is_change):
            yield from (read(f"{asked.case.of}-{side}") for side in SIDES)


def straight(asked: Asked) -> Iterator[float]:
    pattern = asked.session.pattern if asked.altered is None else asked.altered.after
    if asked.case.is_change or asked.case.of not in ("cap-seam", "cap-ease", "armhole"):
        return
    cap = sum(abs(pattern.sleeve.crown - point) for point in underarms(pattern))
    armholes = filter(None, (pattern.armhole_back, pattern.armhole_front))
    holes = sum(abs(armhole.shoulder_tip - armhole.underarm_point) for armhole in armholes)
    yield {"cap-seam": cap, "armhole": holes, "cap-ease": cap - holes}[asked.case.of]


def slant(asked: Asked) -> Iterator[float]:
    if asked.case.of == "cap-height" and not asked.case.is_change:
        pattern = asked.session.pattern if asked.altered is None else asked.altered.after
        yield from (abs(pattern.sleeve.crown - point) for point in underarms(pattern))
        yield from (asked.after[f"cap-seam-{side}"] for side in SIDES)


def underarms(pattern: Pattern) -> tuple[complex, complex]:
    return pattern.sleeve.underarm_point_back, pattern.sleeve.underarm_point_front


def no_ease(asked: Asked) -> Iterator[float]:
    """As if only the arm itself were to go in: where the plan goes by the arm."""
    if asked.task.wanted is not None and asked.more:
        yield asked.by_arm(more=0.0)
    arm, recipe = asked.session.lesson.arm, asked.case.recipe
    if asked.altered is None or recipe is None or not any(s.figure and s.figure.arm_and_ease for s in recipe.sought):
        return
    if asked.case.of == "cap-height":
        yield from by_triangle(asked, (arm.girth - asked.before["bicep-girth"]) / 2)
    else:
        yield from asked.otherwise(reached(asked.session.pattern, asked.altered.plan, float(arm.girth)))


def crown(gap: Callable[[float], float]) -> Maker:
    def make(asked: Asked) -> Iterator[float]:
        if asked.altered is None or asked.altered.plan.set_back or not held_at_hem(asked.altered.plan):
            return
        if asked.case.of in ("cap-ease", "cap-seam") or (asked.case.of == "cap-height" and gap(1.0) == 0):
            yield from asked.otherwise(crossed(asked.altered.plan.openings[0].amount, gap))

    return make


def wrong_end(asked: Asked) -> Iterator[float]:
    """What the wedge the other way about makes of it; one that leaves next to nothing there is no answer."""
    if asked.altered is not None and asked.case.of in GIRTHS:
        for plan in hinged_at_other_end(asked.altered.plan):
            yield from (each for each in asked.otherwise(plan) if not (asked.case.is_change and abs(each) < 2))


def all_along(asked: Asked) -> Iterator[float]:
    """The gap as wide at every level as it was opened."""
    if asked.altered is None or asked.case.of not in GIRTHS or not hinged(asked.altered.plan):
        return
    gap = asked.altered.plan.openings[0].amount
    yield gap if asked.case.is_change else asked.before[asked.case.of] + gap


def one_way(width: bool) -> Maker:
    def make(asked: Asked) -> Iterator[float]:
        if asked.altered is not None and asked.altered.plan.back != Answer():
            yield from asked.otherwise(along_one_way(asked.altered.plan, width, whole=False))

    return make


def added_up(asked: Asked) -> Iterator[float]:
    if asked.altered is not None and asked.case.is_change and asked.case.of.startswith("armhole"):
        answers = {"back": asked.altered.plan.back, "front": asked.altered.plan.front}
        sides = [side for side in SIDES if asked.case.of in ("armhole", f"armhole-{side}")]
        yield sum(answers[side].widen + answers[side].lower for side in sides)


def seam_line(asked: Asked) -> Iterator[float]:
    if asked.task.edge == "cut" and not asked.case.is_change:
        yield asked.before[asked.case.of]


def other_cloth(asked: Asked) -> Iterator[float]:
    """The ease of the other cloth: 2 in for a woven, none for a knit; or no stretch at all."""
    wanted, arm = asked.task.wanted, asked.session.lesson.arm
    if wanted is not None and wanted.arm_and_ease:
        ease = arm.ease_in_other_cloth
        other = float(ease) if ease is not None else 50.0 if arm.cloth == "knit" else 0.0
        if other:
            yield asked.by_arm(more=other)
    if wanted is not None and wanted.stretched:
        yield asked.by_arm(stretched=False)


def of_the_wrong_whole(asked: Asked) -> Iterator[float | str]:
    wanted, arm = asked.task.wanted, asked.session.lesson.arm
    if wanted is not None and wanted.stretched:
        yield asked.by_arm(stretched=False) * (1 - (arm.stretch or 0) / 100)
    elif asked.case.of == "stretch-used":
        yield f"{100 * (arm.girth - asked.after['bicep-girth']) / arm.girth:.1f}"


def by_the_wrist(asked: Asked) -> Iterator[float]:
    if asked.task.wanted is not None and asked.task.wanted.around == "hand" and asked.session.lesson.arm.wrist:
        yield asked.by_arm(around="wrist")


FIGURES: dict[str, Maker] = {
    "cut-line": seam_line,
    "stretch-missed": other_cloth,
    "wrong-whole": of_the_wrong_whole,
    "wrist-for-hand": by_the_wrist,
    "per-side": per_side,
    "unit-swap": unit_swap,
    "tenths-for-sixteenths": tenths,
    "change-for-value": change_for_value,
    "wrong-sign": wrong_sign,
    "one-side": one_side,
    "straight-for-curve": straight,
    "slant-for-height": slant,
    "no-ease": no_ease,
    "hinge-at-wrong-end": wrong_end,
    "parallel-for-hinged": all_along,
    "crown-closed": crown(lambda s: 0.0),
    "crown-wide-open": crown(lambda s: s),
    "width-only": one_way(True),
    "depth-only": one_way(False),
    "sum-for-seam": added_up,
}


def asked_for_a_figure(session: Session, case: NumberCase, tally: Tally, chance: random.Random) -> None:
    altered = None if case.plan is None else alter(session.pattern, case.plan)
    asked = Asked(session, case, altered, chance)
    wanted = Aim(case.of, case.right, case.right, case.task.tolerance.of(case.of))
    tolerance = tolerance_of(wanted, session.unit)
    rounding = 0.05 if not case.is_length else 0.5 if session.unit is Unit.CM else INCH / 32
    for _ in range(4):
        noise = chance.uniform(-1, 1) * max(tolerance - rounding, 0)
        tally.add_right(session.answer(asked.typed(asked.right + noise)))
    made = [asked.right]
    for name, make in FIGURES.items():
        if name in session.task.unnamed:
            continue
        for figure in make(asked):
            text = figure if isinstance(figure, str) else asked.typed(figure)
            tally.add_mistake(name, session.answer(text))
            made.append(read_figure(text, case.of, session.unit))
    missing = told(case, session.unit) - set(FIGURES)
    assert not missing, f"nobody makes the mistakes {missing} here"
    for _ in range(NONSENSE):
        tally_nonsense(tally, asked, "anywhere", chance.uniform(min(made), max(made)), made)
        near = asked.right * math.exp(chance.uniform(math.log(0.3), math.log(3)))
        tally_nonsense(tally, asked, "near", near, made)


def tally_nonsense(tally: Tally, asked: Asked, kind: str, figure: float, made: list[float]) -> None:
    """A figure out of the blue; those are told apart that happen to be what a mistake leads to, to a division."""
    text = asked.typed(figure)
    marked = asked.session.answer(text)
    tally.add_nonsense(kind, marked)
    division = 0.1 if not asked.case.is_length else 1.0 if asked.unit is Unit.CM else INCH / 16
    if min(abs(read_figure(text, asked.case.of, asked.unit) - each) for each in made) > division * 1.001:
        tally.add_nonsense(f"{kind}, apart", marked)


# Learners who alter the pattern.


def times(plan: Plan, factor: float) -> Plan:
    def each(answer: Answer) -> Answer:
        return Answer(answer.widen * factor, answer.lower * factor)

    opened = plan.with_amounts(*(opening.amount * factor for opening in plan.openings))
    return replace(opened, back=each(plan.back), front=each(plan.front))


def crossed(amount: float, gap: Callable[[float], float]) -> Plan:
    """Crossed slashes, opened below by an amount, and at the crown by a gap that goes by it."""
    at_crown = gap(amount)
    grain = Slash("down", Landmark("crown"), Landmark("grain-hem"), at_crown == 0, True)
    across = Slash("across", Landmark("underarm-back"), Landmark("underarm-front"), True, True)
    openings = [Opening("down", amount, where="across", toward="end")]
    return Plan((grain, across), (*openings, *([Opening("down", at_crown, 0.0)] if at_crown else [])))


def along_one_way(plan: Plan, width: bool, whole: bool) -> Plan:
    def turned(answer: Answer) -> Answer:
        out = answer.widen + (answer.lower if whole else 0.0)
        down = answer.lower + (answer.widen if whole else 0.0)
        return Answer(out, 0.0) if width else Answer(0.0, down)

    return replace(plan, back=turned(plan.back), front=turned(plan.front))


def reached(pattern: Pattern, plan: Plan, girth: float) -> Plan:
    """The plan with its first opening brought to a bicep girth."""
    return reach(pattern, plan, {"bicep-girth": girth}, [OpeningAmount(0)])


def rounded(plan: Plan, unit: Unit) -> Plan:
    """The plan as it is typed: in whole millimetres, or in sixteenths of an inch."""
    division = 1.0 if unit is not Unit.INCH else INCH / 16

    def typed(mm: float) -> float:
        return round(mm / division) * division

    def each(answer: Answer) -> Answer:
        return Answer(typed(answer.widen), typed(answer.lower))

    opened = plan.with_amounts(*(typed(opening.amount) for opening in plan.openings))
    return replace(opened, back=each(plan.back), front=each(plan.front))


def wrong_plans(session: Session, case: PlanCase, plan: Plan) -> Iterator[tuple[str, Plan]]:
    """Every usual mistake made on a plan that was right, amounts already rounded."""
    for factor in (0.5, 2.0):
        yield "per-side", times(plan, factor)
    yield "unit-swap", times(plan, INCH / 10 if session.unit is Unit.CM else 10 / INCH)
    yield "wrong-sign", times(plan, -1)
    if plan.openings:
        yield from wrong_slashes(session, plan)
    if plan.back != Answer():
        yield from wrong_armholes(plan)


def wrong_slashes(session: Session, plan: Plan) -> Iterator[tuple[str, Plan]]:
    main = plan.slashes[0]
    amount = plan.openings[0].amount
    arm = float(session.lesson.arm.girth)
    assert isinstance(session.task, PlanTask)
    if any(getattr(goal, "arm_and_ease", False) for goal in session.task.goals):
        yield "no-ease", rounded(reached(session.pattern, plan, arm), session.unit)
    yield from (("hinge-at-wrong-end", each) for each in hinged_at_other_end(plan))
    if hinged(plan):
        free = replace(main, start_hinge=False, end_hinge=False)
        both = (Opening(main.name, amount, 0.0), Opening(main.name, amount, 1.0))
        yield "parallel-for-hinged", replace(plan, slashes=(free,), openings=both)
    if held_at_hem(plan):
        if plan.set_back or not main.start_hinge:
            yield "crown-closed", crossed(amount, lambda s: 0.0)
        yield "crown-wide-open", crossed(amount, lambda s: s)
        if plan.openings[0].where:
            through = replace(main, end_hinge=False)
            at_hem = (*plan.openings, Opening(main.name, amount, 1.0))
            yield "hem-widened", replace(plan, slashes=(through, *plan.slashes[1:]), openings=at_hem)
    for across in plan.slashes[1:]:
        for cut in (replace(across, start_hinge=False), replace(across, end_hinge=False)):
            if cut != across:
                yield "hinge-cut", replace(plan, slashes=tuple(cut if s is across else s for s in plan.slashes))


def hinged(plan: Plan) -> bool:
    """Whether the slash that makes the room turns about an end."""
    return bool(plan.openings) and (plan.slashes[0].start_hinge or plan.slashes[0].end_hinge)


def held_at_hem(plan: Plan) -> bool:
    return bool(plan.openings) and plan.slashes[0].end == HEM and plan.slashes[0].end_hinge


def hinged_at_other_end(plan: Plan) -> Iterator[Plan]:
    """The slash that makes the room by itself, opened where it was held and held where it was open."""
    if hinged(plan):
        main, end = plan.slashes[0], plan.slashes[0].end_hinge
        turned = replace(main, start_hinge=end, end_hinge=not end)
        opening = Opening(main.name, plan.openings[0].amount, 1.0 if end else 0.0)
        yield replace(plan, slashes=(turned,), openings=(opening,))


def wrong_armholes(plan: Plan) -> Iterator[tuple[str, Plan]]:
    for factor in (0.25, 4.0):
        yield "per-piece", times(plan, factor)
    for factor in (0.5, 2.0):
        yield "per-side", replace(plan, back=times(plan, factor).back)
        yield "per-side", replace(plan, front=times(plan, factor).front)
    yield "front-only", replace(plan, back=Answer())
    yield "back-only", replace(plan, front=Answer())
    for whole in (False, True):
        yield "width-only", along_one_way(plan, True, whole)
        yield "depth-only", along_one_way(plan, False, whole)


def left_undone(altered: Altered) -> Iterator[tuple[str, dict[str, float]]]:
    """Results that the tutor's own paper can't have, but a pattern on a table can: not trued, notches not moved."""
    after = dict(altered.measures_after)
    if altered.plan.slashes:
        yield "untrued", after | {"kink": untrued_kink(altered)}
    yield "notches-left", after | dict(old_notches(altered))


def told_to_alter(session: Session, case: PlanCase, tally: Tally, chance: random.Random) -> None:
    assert case.plan is not None
    for plan in noisy_but_right(session, case, chance):
        tally.add_right(checked(session, plan))
    typed = rounded(case.plan, session.unit)
    made = set()
    for name, plan in wrong_plans(session, case, typed):
        if name not in session.task.unnamed:
            made.add(name)
            tally.add_mistake(name, marked_plan(session, case, plan))
    altered = alter(session.pattern, typed)
    for name, after in left_undone(altered):
        made.add(name)
        tally.add_mistake(name, mark_result(case, session.unit, after))
    missing = told(case, session.unit) - made
    assert not missing, f"nobody makes the mistakes {missing} here"
    for kind, random_plan in (("amounts", random_amounts), ("hinges", random_hinges), ("slashes", random_slashes)):
        for _ in range(PLANS):
            tally.add_nonsense(kind, marked_plan(session, case, random_plan(session, case.plan, chance)))


def checked(session: Session, plan: Plan) -> Marked:
    session.adopt(plan)
    return session.check()


def marked_plan(session: Session, case: PlanCase, plan: Plan) -> Marked:
    """The mark of a plan: in the session where the task allows what it uses, or else as a pattern handed in."""
    if not plan.slashes or session.may_use("slashes"):
        return checked(session, plan)
    altered = alter(session.pattern, plan)
    return mark_result(case, session.unit, altered.measures_after, plan, altered)


def noisy_but_right(session: Session, case: PlanCase, chance: random.Random) -> Iterator[Plan]:
    """Plans whose amounts are off by measuring and rounding, and whose results are inside every tolerance still."""
    assert case.plan is not None
    for _ in range(6):
        plan = rounded(shaken(case.plan, chance), session.unit)
        after = session_measures(session, plan)
        if after is not None and all(
            abs(aim.off(after[aim.measure])) <= tolerance_of(aim, session.unit) for aim in case.aims
        ):
            yield plan


def shaken(plan: Plan, chance: random.Random) -> Plan:
    def near(mm: float) -> float:
        return mm + chance.gauss(0, 1.0) if mm else mm

    def each(answer: Answer) -> Answer:
        return Answer(near(answer.widen), near(answer.lower))

    opened = plan.with_amounts(*(near(opening.amount) for opening in plan.openings))
    return replace(opened, back=each(plan.back), front=each(plan.front))


def session_measures(session: Session, plan: Plan) -> dict[str, float] | None:
    try:
        return alter(session.pattern, plan).measures_after
    except Refusal:
        return None


def random_amounts(session: Session, plan: Plan, chance: random.Random) -> Plan:
    """The right slashes, and any amounts: overlapped by up to 6 cm or opened by up to 10; armholes by 3 either way."""
    opened = plan.with_amounts(*(chance.uniform(-60, 100) for _ in plan.openings))
    if plan.back == Answer():
        return rounded(opened, session.unit)
    back, front = (Answer(chance.uniform(-30, 30), chance.uniform(-30, 30)) for _ in SIDES)
    return rounded(replace(opened, back=back, front=front), session.unit)


def random_hinges(session: Session, plan: Plan, chance: random.Random) -> Plan:
    """The right slashes with hinges anyhow, and any amounts."""
    slashes = tuple(
        replace(slash, start_hinge=chance.random() < 0.5, end_hinge=chance.random() < 0.5) for slash in plan.slashes
    )
    return random_amounts(session, replace(plan, slashes=slashes), chance)


def random_slashes(session: Session, plan: Plan, chance: random.Random) -> Plan:
    """One slash or two from anywhere to anywhere, opened somewhere."""
    if not plan.slashes:
        return random_amounts(session, plan, chance)
    names = session.outline.names
    slashes, openings = [], []
    for name in "xy"[: chance.randint(1, 2)]:
        ends = [random_place(session, names, chance) for _ in SIDES]
        slashes.append(Slash(name, ends[0], ends[1], False, True))
        openings.append(Opening(name, round(chance.uniform(-40, 60)), 0.0))
    return Plan(tuple(slashes), tuple(openings), plan.set_back)


def random_place(session: Session, names: tuple[str, ...], chance: random.Random) -> Place:
    if chance.random() < 0.5:
        return Landmark(chance.choice(list(session.landmarks)))
    seam = chance.choice(names)
    return Share(seam, chance.random()) if chance.random() < 0.5 else Along(seam, chance.uniform(0, 200))


# All of them.


def simulate(lesson: Lesson, seeds: range) -> list[Tally]:
    """The tallies of a lesson's tasks over variants, even ones in centimetres and odd ones in inches."""
    tallies = [Tally(f"{lesson.number}.{k} {task.title}") for k, task in enumerate(lesson.tasks, 1)]
    for seed in seeds:
        for number, tally in enumerate(tallies, 1):
            chance = random.Random(f"{lesson.name} {seed} {number}")
            session = Session(lesson, Unit.INCH if seed % 2 else Unit.CM, seed)
            session.go_to_task(number)
            case = case_of(session.lesson, number)
            if isinstance(case, NumberCase):
                asked_for_a_figure(session, case, tally, chance)
            else:
                told_to_alter(session, case, tally, chance)
    return tallies


def table(tallies: list[Tally]) -> Iterator[str]:
    """The figures of all tasks, and below each what mistakes were taken for."""
    yield f"{'task':<40} right failed accused  mistakes named rightly  no usual way: named"
    for tally in tallies:
        guesses = ", ".join(f"{kind} {100 * tally.share_guessed(kind):.1f} %" for kind in tally.nonsense)
        yield (
            f"{tally.title:<40} {tally.right:>5} {tally.failed:>6} {tally.accused:>7}"
            f" {sum(tally.made.values()):>9} {100 * tally.share_named:>11.2f} %  {guesses}"
        )
        for (name, taken), count in tally.taken.most_common():
            yield f"{'':<8}{name}: {count} of {tally.made[name]} taken for {taken}"
    made = sum(sum(tally.made.values()) for tally in tallies)
    named = sum(sum(tally.named.values()) for tally in tallies)
    yield f"all: {made} mistakes, {100 * named / max(made, 1):.2f} % named rightly"
    for kinds in (("anywhere, apart",), ("near, apart",), ("anywhere",), ("near",), ("amounts", "hinges", "slashes")):
        total = sum(t.nonsense[kind] for t in tallies for kind in kinds)
        guessed = 100 * sum(t.guessed[kind] for t in tallies for kind in kinds) / max(total, 1)
        yield f"all: {total} answers wrong in no usual way ({', '.join(kinds)}), {guessed:.2f} % named"


def main(arguments: list[str]) -> None:
    variants = int(arguments[0]) if arguments else 300
    lessons = [find_lesson(name) for name in arguments[1:]] or list_lessons()
    tallies = [tally for lesson in lessons for tally in simulate(lesson, range(variants))]
    print("\n".join(table(tallies)))


if __name__ == "__main__":
    main(sys.argv[1:])
