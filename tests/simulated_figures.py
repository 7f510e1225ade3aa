"""Simulated learners who are asked for a figure."""

from __future__ import annotations

import cmath
import math
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely
from simulated_plans import (
    INCH,
    SIDES,
    crossed,
    in_one_direction,
    left_undone,
    reached,
    times,
    wrong_amounts,
)
from simulated_tally import Tally

from tutor.alteration.alter import Altered, alter
from tutor.alteration.plan import Answer, Opening, Plan
from tutor.alteration.refusal import Refusal
from tutor.geometry.curve import Curve
from tutor.lesson.goal import Aim
from tutor.lesson.task import NumberTask
from tutor.marking.case import NumberCase
from tutor.marking.credit import tolerance_of
from tutor.pattern.measures import Kind, kind_of, measure
from tutor.pattern.pattern import Pattern
from tutor.practice.entry import read_figure
from tutor.practice.session import Session
from tutor.practice.variants import told
from tutor.units import Unit

NONSENSE = 20
RIGHT = 4
GIRTHS = ("bicep-girth", "elbow-girth", "forearm-girth", "hem-girth")
OF_BOTH = ("cap-seam", "armhole", "cap-ease")


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
    def of(self) -> str:
        return self.case.of

    @property
    def is_length(self) -> bool:
        return kind_of(self.of) is Kind.LENGTH

    @property
    def plan(self) -> Plan:
        """The plan that the figure is asked about; one that does nothing where it is asked of the pattern as it is."""
        return Plan() if self.altered is None else self.altered.plan

    @property
    def pattern(self) -> Pattern:
        """The pattern that the figure is of."""
        return self.session.pattern if self.altered is None else self.altered.after

    @property
    def before(self) -> dict[str, float]:
        return self.session.measures_before()

    @property
    def after(self) -> dict[str, float]:
        return self.before if self.altered is None else self.measured(self.altered)

    def measured(self, altered: Altered) -> dict[str, float]:
        return {**altered.measures_after, **measure(altered.after, self.session.lesson.arm.girth)}

    def figure(self, name: str) -> float:
        """A measure as the task asks for it: what it comes to, or what it changes by."""
        return self.after[name] - self.before.get(name, 0.0) if self.case.is_change else self.after[name]

    @property
    def task(self) -> NumberTask:
        return self.case.task

    @property
    def right(self) -> float:
        if self.task.wanted is not None:
            return self.by_arm()
        return self.edge(self.of) if self.at_edge else self.figure(self.of)

    @property
    def at_edge(self) -> bool:
        return self.task.edge == "cut"

    @property
    def lies_there(self) -> bool:
        """Whether the figure can be taken off the pattern as it is."""
        return self.altered is None and self.task.wanted is None and not (self.at_edge and self.case.is_change)

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
        return total - self.before[self.of] if self.case.is_change else total

    def edge(self, of: str) -> float:
        """Bicep girth, seam, armhole or cap ease at the cut edge; of a change, what it has beyond the seam line."""
        if of == "bicep-girth":
            found = between_cut_lines(self)
        else:
            found = next(along_seams(self, of, lambda seam, name: parallel(self, seam, name)))
        return found - self.before[of] if self.case.is_change else found

    def otherwise(self, plan: Plan) -> Iterator[float]:
        """The figure as another plan would have it; nothing where paper can't follow it, or where nothing changes."""
        try:
            altered = alter(self.session.pattern, plan)
        except Refusal:
            return
        after, before = self.measured(altered)[self.of], self.before.get(self.of, 0.0)
        if not self.case.is_change:
            yield after
        elif abs(after - before) > 2:
            yield after - before

    def typed(self, figure: float, parts: int = 0) -> str:
        """A figure as people type it: millimetres, sixteenths or eighths of an inch, tenths of a degree."""
        if not self.is_length:
            return f"{figure:.1f}"
        if self.unit is not Unit.INCH:
            return f"{figure / 10:.1f}"
        return in_parts(figure, parts or self.chance.choice((8, 16)))

    def read(self, text: str) -> float:
        return read_figure(text, self.of, self.unit)

    def on_the_tape(self, name: str) -> float:
        """A measure from before the alteration as the tape shows it: in whole millimetres or sixteenths of an inch."""
        division = INCH / 16 if self.unit is Unit.INCH else 1.0
        return round(self.before[name] / division) * division

    @property
    def written(self) -> float:
        """The right figure as the learner would have typed it."""
        return self.read(self.typed(self.right, 16))


def in_parts(mm: float, parts: int) -> str:
    """A length in inches and so many parts of one, bare."""
    divisions = round(mm / INCH * parts)
    whole, rest = divmod(abs(divisions), parts)
    text = f"{whole} {rest}/{parts}" if rest else str(whole)
    return f"-{text}" if divisions < 0 else text


Maker = Callable[[Asked], Iterator[float | str]]


def by_triangle(asked: Asked, half_added: float) -> Iterator[float]:
    """The cap height by Pythagoras, the slant kept and so much added to half the girth.

    From the measures as they are, and from the measures as the tape shows them.
    """
    for girth, height in (
        (asked.before["bicep-girth"], asked.before["cap-height"]),
        (asked.on_the_tape("bicep-girth"), asked.on_the_tape("cap-height")),
    ):
        square = (girth / 2) ** 2 + height**2 - (girth / 2 + half_added) ** 2
        if square > 0:
            yield math.sqrt(square)


def cap_turns(asked: Asked) -> bool:
    """Whether the crown is closed and the cap turns about its underarm points, so that it goes by the triangle."""
    return len(asked.plan.slashes) == 2 and len(asked.plan.openings) == 1 and not asked.plan.set_back


def width(asked: Asked) -> float:
    return asked.after["bicep-girth"] - asked.before["bicep-girth"]


def per_side(asked: Asked) -> Iterator[float]:
    if asked.of == "cap-height":
        for factor in (1, 0.25) if asked.altered is not None and cap_turns(asked) else ():
            yield from by_triangle(asked, width(asked) * factor)
    elif asked.of in (*GIRTHS, "bust-gain"):
        yield from (asked.right / 2, asked.written / 2, asked.right * 2, asked.written * 2)
    elif asked.of in OF_BOTH:
        yield from (asked.right * 2, asked.written * 2)
    elif asked.of.endswith(SIDES) and asked.of.rpartition("-")[0] in OF_BOTH:
        whole = asked.of.rpartition("-")[0]
        yield asked.edge(whole) if asked.at_edge else asked.figure(whole)


def per_piece(asked: Asked) -> Iterator[float]:
    if asked.of == "bust-gain":
        yield from (asked.right / 4, asked.right * 4)


def unit_swap(asked: Asked) -> Iterator[float | str]:
    """A figure read off the other side of the tape and typed without its unit; or a right one converted."""
    if not asked.is_length:
        return
    if asked.unit is Unit.INCH:
        yield f"{asked.right / 10:.1f}"
    else:
        yield f"{asked.right / INCH:.2f}"
        yield in_parts(asked.right, 16)
    for figure in (asked.right, asked.written):
        yield from (figure * 2.54, figure / 2.54)


def tenths(asked: Asked) -> Iterator[str]:
    if asked.unit is not Unit.INCH or not asked.is_length or asked.right < INCH:
        return
    whole, rest = divmod(round(asked.right / INCH * 16), 16)
    if rest:
        yield f"{whole}.{rest}"
    whole, rest = divmod(round(asked.right / INCH * 10), 10)
    if rest:
        yield f"{whole} {rest}/16"


def change_for_value(asked: Asked) -> Iterator[float]:
    old = asked.before.get(asked.of)
    if asked.lies_there or old is None:
        return
    if asked.case.is_change:
        yield asked.right + old
    elif not asked.at_edge:
        yield from (abs(asked.right - old), abs(asked.written - asked.on_the_tape(asked.of)))


def old_for_new(asked: Asked) -> Iterator[float]:
    """What stands on the tape from before, of a pattern that the learner altered and is to measure once more."""
    measured_before = asked.of in asked.before and asked.of != "bust-gain"
    if asked.task.goes_on_from and asked.altered is not None and measured_before:
        old = asked.on_the_tape(asked.of)
        if old or not asked.case.is_change:
            yield from (asked.before[asked.of], old)


def wrong_sign(asked: Asked) -> Iterator[float]:
    if asked.task.wanted is not None and asked.more:
        yield asked.by_arm(more=-asked.more)
    if asked.case.is_change:
        yield -asked.right
    elif asked.altered is not None:
        yield from asked.otherwise(times(asked.plan, -1))


def one_side(asked: Asked) -> Iterator[float]:
    if asked.at_edge and asked.of in GIRTHS and not asked.case.is_change:
        yield from (asked.figure(asked.of) + lean for lean in leans(asked))
    if asked.of in OF_BOTH and not (asked.at_edge and asked.case.is_change):
        read = asked.edge if asked.at_edge else asked.figure
        yield from (read(f"{asked.of}-{side}") for side in SIDES)


def underarms(pattern: Pattern) -> dict[str, complex]:
    return {"back": pattern.sleeve.underarm_point_back, "front": pattern.sleeve.underarm_point_front}


def seam(pattern: Pattern, of: str, side: str) -> Curve | None:
    """A cap seam or an armhole of one side; None for one that the pattern does not show."""
    if of == "cap-seam":
        return pattern.sleeve.cap_back if side == "back" else pattern.sleeve.cap_front
    armhole = pattern.armhole(side)
    return None if armhole is None else armhole.seam


def along_seams(asked: Asked, name: str, length: Callable[[Curve, str], float]) -> Iterator[float]:
    """Cap seam, armhole or cap ease, with each seam's length taken in some other way; nothing for other measures."""
    of = name.removesuffix("-back").removesuffix("-front")
    if of not in OF_BOTH:
        return
    sides = SIDES if of == name else (name.removeprefix(f"{of}-"),)

    def total(name: str) -> float:
        seams = [seam(asked.pattern, name, side) for side in sides]
        return sum(length(each, name) for each in seams if each is not None)

    yield total("cap-seam") - total("armhole") if of == "cap-ease" else total(of)


def straight(asked: Asked) -> Iterator[float]:
    if not asked.case.is_change and not asked.task.wanted:
        yield from along_seams(asked, asked.of, lambda seam, name: abs(seam.end - seam.start))


def turning(seam: Curve) -> float:
    """How far a seam turns from end to end to the left, in radians, by walking it in small steps."""
    steps = np.diff(seam.flatten(1e-4))
    return float(np.angle(steps[1:] / steps[:-1]).sum())


def cut_line(asked: Asked) -> Iterator[float]:
    """A parallel is longer or shorter by its distance times the turning; girths gain by the lean of their seams.

    Where the cut edge is asked for, the seam line is the mistake.
    """
    allowance = asked.case.allowance
    if asked.at_edge:
        if not asked.case.is_change:
            yield asked.figure(asked.of)
        return
    if not asked.lies_there:
        return
    if asked.of == "cap-height":
        yield asked.right + allowance
    elif asked.of in GIRTHS:
        yield asked.right + sum(leans(asked))
    yield from along_seams(asked, asked.of, lambda seam, name: parallel(asked, seam, name))


def leans(asked: Asked) -> list[float]:
    """What the seam allowance adds to a girth at the back and at the front, by the lean of a straight underarm seam."""
    allowance, sleeve = asked.case.allowance, asked.session.pattern.sleeve
    corners = ((sleeve.underarm_point_back, sleeve.hem.end), (sleeve.underarm_point_front, sleeve.hem.start))
    return [allowance * abs(up - down) / abs((up - down).imag) for up, down in corners]


def parallel(asked: Asked, seam: Curve, of: str) -> float:
    """The length of a cut edge, by Steiner: the cap's outside its bulge, to the underarm's mitre; an armhole's inside.

    The parallel of a smooth curve is longer by its distance times the turning.
    """
    allowance = float(asked.session.lesson.seam_allowance)
    if of == "armhole":
        return seam.length() - allowance * abs(turning(seam))
    sleeve = asked.pattern.sleeve
    before, after = sleeve.underarm_back, sleeve.cap_back
    if seam is sleeve.cap_front:
        before, after = sleeve.cap_front, sleeve.underarm_front
    corner = cmath.phase(after.tangent(0) / before.tangent(float(len(before)), arriving=True))
    return seam.length() - allowance * turning(seam) + allowance * math.tan(-corner / 2)


def between_cut_lines(asked: Asked) -> float:
    """The bicep girth read from cut line to cut line: across the sleeve as shapely's buffer widens it."""
    sleeve, allowance = asked.pattern.sleeve, float(asked.session.lesson.seam_allowance)
    seams = (sleeve.cap_back, sleeve.cap_front, sleeve.underarm_front, sleeve.hem, sleeve.underarm_back)
    points = np.concatenate([seam.flatten(1e-3) for seam in seams])
    cut = shapely.Polygon(np.column_stack([points.real, points.imag])).buffer(allowance, join_style="mitre")
    level = sleeve.underarm_point_back.imag
    far = 10 * float(np.abs(points).max())
    return float(cut.intersection(shapely.LineString([(-far, level), (far, level)])).length)


def slant(asked: Asked) -> Iterator[float]:
    if asked.of != "cap-height":
        return
    for side, point in underarms(asked.pattern).items():
        crown = asked.pattern.sleeve.crown
        along = (abs(crown - point), asked.after[f"cap-seam-{side}"])
        if asked.case.is_change:
            start = asked.session.pattern
            before = (abs(start.sleeve.crown - underarms(start)[side]), asked.before[f"cap-seam-{side}"])
            along = (along[0] - before[0], along[1] - before[1])
        yield from along


def with_ease(asked: Asked, ease: float) -> Iterator[float]:
    """As if so much ease were to go in: where the plan goes by the arm."""
    girth, recipe = asked.session.lesson.arm.girth + ease, asked.case.recipe
    goes_by_arm = recipe is not None and any(each.figure and each.figure.arm_and_ease for each in recipe.sought)
    if asked.altered is None or not goes_by_arm:
        return
    if asked.of == "cap-height" and not asked.case.is_change and cap_turns(asked):
        yield from by_triangle(asked, (girth - asked.before["bicep-girth"]) / 2)
    else:
        yield from asked.otherwise(reached(asked.session.pattern, asked.plan, girth, asked.case.recipe))


def no_ease(asked: Asked) -> Iterator[float]:
    if asked.task.wanted is not None and asked.more:
        yield asked.by_arm(more=0.0)
    yield from with_ease(asked, 0.0)


def stretch_missed(asked: Asked) -> Iterator[float]:
    """The ease of the other cloth: 2 in for a woven, none for a knit; or no stretch at all."""
    wanted, arm = asked.task.wanted, asked.session.lesson.arm
    ease = arm.ease_in_other_cloth
    other = float(ease) if ease is not None else 50.0 if arm.cloth == "knit" else 0.0
    if other:
        yield from with_ease(asked, other)
    if wanted is not None and wanted.arm_and_ease and other:
        yield asked.by_arm(more=other)
    if wanted is not None and wanted.stretched:
        yield asked.by_arm(stretched=False)


def of_the_wrong_whole(asked: Asked) -> Iterator[float]:
    wanted, arm = asked.task.wanted, asked.session.lesson.arm
    if wanted is not None and wanted.stretched:
        yield asked.by_arm(stretched=False) * (1 - (arm.stretch or 0) / 100)
    elif asked.of == "stretch-used":
        yield 100 * (arm.girth - asked.after["bicep-girth"]) / arm.girth
    elif asked.of == "cap-ease-percent" and not asked.case.is_change:
        yield 100 * asked.after["cap-ease"] / asked.after["cap-seam"]


def by_the_wrist(asked: Asked) -> Iterator[float]:
    if asked.task.wanted is not None and asked.task.wanted.around == "hand" and asked.session.lesson.arm.wrist:
        yield asked.by_arm(around="wrist")


def crown(share: float) -> Maker:
    def make(asked: Asked) -> Iterator[float]:
        plan = asked.plan
        if plan.set_back or not plan.openings or not plan.slashes[0].end_hinge:
            return
        if asked.of in ("cap-ease", "cap-seam") or (asked.of == "cap-height" and not share):
            wrong = crossed(plan.openings[0].amount, share * plan.openings[0].amount)
            if wrong.openings != plan.openings:
                yield from asked.otherwise(wrong)

    return make


def alone(end: str) -> Maker:
    """A girth when the slash that makes the room is hinged at its other end alone, or at neither."""

    def make(asked: Asked) -> Iterator[float]:
        plan = asked.plan
        main = next((slash for slash in plan.slashes if plan.openings and slash.name == plan.openings[0].slash), None)
        if asked.of not in GIRTHS or main is None or not (main.start_hinge or main.end_hinge):
            return
        amount = plan.openings[0].amount
        free = replace(main, start_hinge=False, end_hinge=False)
        shares = (0.0, 1.0) if end == "neither" else (1.0,) if main.end_hinge else (0.0,)
        if end == "other":
            free = replace(free, start_hinge=main.end_hinge, end_hinge=not main.end_hinge)
        openings = tuple(Opening(main.name, amount, share) for share in shares)
        yield from asked.otherwise(replace(plan, slashes=(free,), openings=openings))

    return make


def hem_widened(asked: Asked) -> Iterator[float]:
    if asked.of == "hem-girth" and asked.altered is not None:
        yield width(asked) if asked.case.is_change else asked.before["hem-girth"] + width(asked)


def one_way(width: bool) -> Maker:
    def make(asked: Asked) -> Iterator[float]:
        wrong = in_one_direction(asked.plan, width, whole=False)
        if wrong != asked.plan and (wrong.back, wrong.front) != (Answer(), Answer()):
            yield from asked.otherwise(wrong)

    return make


def piece_alone(side: str) -> Maker:
    def make(asked: Asked) -> Iterator[float]:
        plan = asked.plan
        if Answer() not in (plan.back, plan.front):
            yield from asked.otherwise(
                replace(plan, back=Answer()) if side == "front" else replace(plan, front=Answer())
            )

    return make


def forgotten(asked: Asked) -> Iterator[float]:
    if asked.plan.back != Answer():
        yield from asked.otherwise(replace(asked.plan, back=Answer(), front=Answer()))


def part_left_out(asked: Asked) -> Iterator[float]:
    if asked.altered is not None:
        yield from (
            figure
            for name, wrong in wrong_amounts(asked.plan)
            if name == "part-left-out"
            for figure in asked.otherwise(wrong)
        )


def added_up(asked: Asked) -> Iterator[float]:
    if asked.altered is not None and asked.case.is_change and asked.of.startswith("armhole"):
        answers = {"back": asked.plan.back, "front": asked.plan.front}
        sides = [side for side in SIDES if asked.of in ("armhole", f"armhole-{side}")]
        yield sum(answers[side].widen + answers[side].lower for side in sides)


def undone(name: str) -> Maker:
    def make(asked: Asked) -> Iterator[float]:
        if asked.altered is None:
            return
        for mistake, changed in left_undone(asked.altered):
            after = asked.after | changed
            if mistake == name and abs(after[asked.of] - asked.after[asked.of]) > 1e-9:
                yield after[asked.of] - asked.before.get(asked.of, 0.0) if asked.case.is_change else after[asked.of]

    return make


FIGURES: dict[str, Maker] = {
    "per-side": per_side,
    "per-piece": per_piece,
    "unit-swap": unit_swap,
    "tenths-for-sixteenths": tenths,
    "change-for-value": change_for_value,
    "old-for-new": old_for_new,
    "wrong-sign": wrong_sign,
    "one-side": one_side,
    "straight-for-curve": straight,
    "cut-line": cut_line,
    "slant-for-height": slant,
    "no-ease": no_ease,
    "stretch-missed": stretch_missed,
    "crown-closed": crown(0.0),
    "crown-wide-open": crown(1.0),
    "hinge-at-wrong-end": alone("other"),
    "parallel-for-hinged": alone("neither"),
    "hem-widened": hem_widened,
    "armhole-forgotten": forgotten,
    "part-left-out": part_left_out,
    "front-only": piece_alone("front"),
    "back-only": piece_alone("back"),
    "width-only": one_way(True),
    "depth-only": one_way(False),
    "sum-for-seam": added_up,
    "wrong-whole": of_the_wrong_whole,
    "wrist-for-hand": by_the_wrist,
    "notches-left": undone("notches-left"),
    "untrued": undone("untrued"),
}


def asked_for_a_figure(session: Session, case: NumberCase, tally: Tally, chance: random.Random) -> None:
    """Marks answers to a task that asks for a figure: right ones, one of every mistake, and others."""
    altered = None if case.plan is None else alter(session.pattern, case.plan)
    asked = Asked(session, case, altered, chance)
    for text in noisy_but_right(asked):
        tally.add_right(session.answer(text))
    made = {asked.right}
    for name, make in FIGURES.items():
        if name in session.task.unnamed:
            continue
        for figure in make(asked):
            text = figure if isinstance(figure, str) else asked.typed(figure)
            tally.add_mistake(name, session.answer(text))
            made |= {asked.read(figure)} if isinstance(figure, str) else in_every_division(asked, figure)
    missing = told(case, session.unit) - set(FIGURES)
    assert not missing, f"nobody makes the mistakes {missing} here"
    for _ in range(NONSENSE):
        for kind, figure in out_of_the_blue(asked, min(made), max(made)):
            text = asked.typed(figure)
            usual = any(abs(asked.read(text) - each) < 1e-6 for each in made)
            tally.add_nonsense(kind, session.answer(text), usual=usual)


def noisy_but_right(asked: Asked) -> Iterator[str]:
    """Figures that are off by measuring and rounding, and inside the tolerance."""
    wanted = Aim(asked.of, asked.right, asked.right, asked.task.tolerance.of(asked.of))
    tolerance = tolerance_of(wanted, asked.unit)
    for _ in range(RIGHT):
        text = asked.typed(asked.right + asked.chance.uniform(-1, 1) * tolerance)
        if abs(asked.read(text) - asked.right) > tolerance:
            text = asked.typed(asked.right)
        yield text


def in_every_division(asked: Asked, figure: float) -> set[float]:
    """What a figure reads as, typed in each division that people type in."""
    return {asked.read(asked.typed(figure, parts)) for parts in (8, 16)}


def out_of_the_blue(asked: Asked, least: float, most: float) -> Iterator[tuple[str, float]]:
    """A figure anywhere between the least and the greatest that a mistake leads to, and one near the right one."""
    yield "anywhere", asked.chance.uniform(least, most)
    yield "near", asked.right * math.exp(asked.chance.uniform(math.log(1 / 3), math.log(3)))
