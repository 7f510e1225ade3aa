"""Variants of a lesson: the same tasks for another arm and another block, drawn by number.

A variant is what was drawn, resolved into whole millimetres. Kept as it is, with the generator's number and a digest,
it makes the same lesson for ever, whatever becomes of the way they are drawn.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import Any

from msgspec import structs

from tutor.alteration.amounts import AMOUNTS, BY_NAME
from tutor.alteration.reach import OpeningAmount
from tutor.faults import Fault
from tutor.fit.causes import CAUSES
from tutor.lesson.amount import Amount
from tutor.lesson.goal import Figure
from tutor.lesson.lesson import Lesson, block_of
from tutor.lesson.recipe import Recipe
from tutor.lesson.setting import PARTS, Part
from tutor.lesson.task import DiagnoseTask, NumberTask, goals_of
from tutor.lesson.vary import ARMS, SHOULDER_TO_ELBOW, Percentiles
from tutor.lesson.written import goal_figures, plan_figures, with_complaint, with_goal_figure, with_plan_figure
from tutor.pattern.measures import measure

GENERATOR = 2
"""Goes up whenever the same number and draw would come to other values."""
LEAST, MOST = 0.05, 0.95
"""The percentiles between which arms are drawn: beyond them the sources give none."""
NEAR = 0.15
"""How far, as a share, a span goes from the lesson's own figure where the lesson names no span."""
GIRTH_NEAR = (0.98, 1.02)
HEM_FOLLOWS = 0.5
"""The share of an arm's difference that the hem goes along with: wrists spread by half as much as arms (see below)."""
FOLLOWS: dict[Part, float] = {"elbow": 0.7, "forearm": 0.7, "wrist": 0.5, "hand": 0.5}
"""The share of an arm's difference that its other girths go along with.

By spread, where all would go along wholly: 10 % of the mean at the upper arm, 7 % at the forearm, 5 % at the wrist
(standard deviations of women, ANSUR II 2012, Gordon et al. 2014, NATICK/TR-15/007); hand and elbow by their neighbours.
"""
PART_NEAR = 0.02
BITS = 48
TOO_MUCH = 1e5

Values = dict[str, float]


@dataclass(frozen=True, slots=True)
class Variant:
    """A variant: its number, which draw of that number it is, what was drawn (mm), and the lesson it makes."""

    lesson: Lesson
    seed: int
    draw: int
    values: Mapping[str, float]
    generator: int = GENERATOR

    @property
    def digest(self) -> str:
        """The SHA-256 of lesson, version, generator and values in canonical JSON: sorted keys, no spaces."""
        return _digest(self.lesson, self.generator, self.values)

    def stored(self) -> dict[str, Any]:
        """The variant as a plain table."""
        return {
            "seed": self.seed,
            "draw": self.draw,
            "generator": self.generator,
            "values": dict(self.values),
            "digest": self.digest,
        }


def drawn(lesson: Lesson, seed: int, draw: int = 0) -> Variant:
    """The variant of a number, or a further draw of it, the same on every machine; it need not be any good."""
    values = _Draw(lesson, seed, draw).values()
    return Variant(with_values(lesson, values), seed, draw, values)


def variant_from(lesson: Lesson, stored: object) -> Variant:
    """The variant that ``stored`` made the table of. Raises Fault for anything else, or when a figure was changed."""
    try:
        return _variant(lesson, stored)
    except (LookupError, TypeError, ValueError, AttributeError):
        raise Fault("stored variant", "can't be read", "start the lesson again") from None


def _variant(lesson: Lesson, stored: Any) -> Variant:
    values = {str(name): float(value) for name, value in stored["values"].items()}
    if not all(abs(value) < TOO_MUCH for value in values.values()):
        raise ValueError(values)
    generator = int(stored["generator"])
    if _digest(lesson, generator, values) != stored["digest"]:
        raise Fault("stored variant", "does not have the digest it was kept with", "start the lesson again")
    return Variant(with_values(lesson, values), int(stored["seed"]), int(stored["draw"]), values, generator)


def _digest(lesson: Lesson, generator: int, values: Mapping[str, float]) -> str:
    table = {"lesson": lesson.name, "version": lesson.version, "generator": generator, "values": dict(values)}
    text = json.dumps(table, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def with_values(lesson: Lesson, values: Mapping[str, float]) -> Lesson:
    """The lesson with an arm, a block and amounts as drawn. Raises KeyError for a value that names none of these."""
    arm: dict[str, Amount] = {}
    stretch: dict[str, float] = {}
    block: dict[str, Amount] = {}
    plans, tasks = dict(lesson.plans), list(lesson.tasks)
    for name, value in values.items():
        part, _, rest = name.partition(" ")
        field = rest.replace("-", "_")
        if (part, field) == ("arm", "stretch"):
            stretch["stretch"] = value
        elif part == "arm" and field in ("girth", "wearing_ease", *PARTS):
            arm[field] = Amount(value)
        elif part == "block" and field in lesson.block.__struct_fields__:
            block[field] = Amount(value)
        elif part == "complaint":
            task, _, cause = rest.partition(" ")
            tasks[int(task) - 1] = with_complaint(tasks[int(task) - 1], cause, value)
        elif part == "goal":
            task, _, goal = rest.partition(" ")
            tasks[int(task) - 1] = with_goal_figure(tasks[int(task) - 1], int(goal), value)
        else:
            plan, _, place = rest.rpartition(" ")
            plans[part] = _with_amount(plans[part], plan, place, value)
    wearer, drafted = structs.replace(lesson.arm, **arm, **stretch), structs.replace(lesson.block, **block)
    return structs.replace(lesson, arm=wearer, block=drafted, plans=plans, tasks=tuple(tasks))


def _with_amount(recipe: Recipe, part: str, place: str, value: float) -> Recipe:
    """A recipe with one written amount given anew: of ``opening`` and its number, or one known by its name.

    Or, ``for`` a number, the figure that it is solved for.
    """
    plan = recipe.plan
    if part == "for":
        return with_plan_figure(recipe, int(place), value)
    if part == "opening":
        amounts = [opening.amount for opening in plan.openings]
        amounts[int(place) - 1] = value
        return replace(recipe, plan=plan.with_amounts(*amounts))
    amount = BY_NAME[f"{part} {place}".strip()]
    return replace(recipe, plan=amount.put(plan, value))


class _Draw:
    """One draw: evenly spread shares between 0 and 1, each by the name of what it is for."""

    def __init__(self, lesson: Lesson, seed: int, draw: int) -> None:
        self.lesson = lesson
        self.vary = lesson.vary
        self.key = f"{GENERATOR}/{lesson.name}/{seed}/{draw}"

    def share(self, name: str) -> float:
        """Between 0 and 1, by SHA-256, so that it hangs on nothing else that is drawn and on no library."""
        digest = hashlib.sha256(f"{self.key}/{name}".encode()).digest()
        return int.from_bytes(digest[: BITS // 8], "big") / (1 << BITS)

    def between(self, name: str, span: tuple[float, float]) -> float:
        low, high = span
        return low + (high - low) * self.share(name)

    def values(self) -> Values:
        girth, ease = self._arm(), self._near("wearing-ease", self.vary.wearing_ease, self.lesson.arm.wearing_ease)
        found = {"arm girth": girth, "arm wearing-ease": ease} | self._parts(girth)
        found |= {f"block {name}": value for name, value in self._block(girth + ease).items()}
        for name, span in self.vary.plans.items():
            found |= self._amounts(name, self.lesson.plans[name], span)
        found |= self._goals()
        values = {name: float(round(value)) for name, value in found.items()}
        return values | {name: float(round(value)) for name, value in self._complaints(values).items()}

    def _arm(self) -> float:
        """An arm of the measured distribution, no thinner and no fuller than the lesson wants it."""
        return self._person("arm", ARMS[self.vary.arms, self.lesson.arm.measured], self.vary.arm_girth)

    def _person(self, name: str, known: Percentiles, within: tuple[float, float] | None = None) -> float:
        """A measure as people have it: the normal curve's shape, through all three percentiles known of it."""
        low, middle, high = known
        first, last = (_percentile(float(end), known) for end in within or (low, high))
        normal = NormalDist()
        reach = normal.inv_cdf(MOST)
        z = normal.inv_cdf(self.between(name, (max(first, LEAST), min(last, MOST)))) / reach
        return middle + z * ((high - middle) if z > 0 else (middle - low))

    def _parts(self, girth: float) -> Values:
        """The girths further down, which go along with the arm in part; and the cloth's stretch, where it varies."""
        arm, found = self.lesson.arm, dict[str, float]()
        for part in PARTS[1:]:
            own, span = arm.around(part), getattr(self.vary, part)
            if own is not None:
                follows = own * (1 + FOLLOWS[part] * (girth / arm.girth - 1))
                near = (follows * (1 - PART_NEAR), follows * (1 + PART_NEAR))
                found[f"arm {part}"] = self.between(f"arm {part}", span or near)
        if self.vary.stretch is not None:
            found["arm stretch"] = self.between("arm stretch", self.vary.stretch)
        return found

    def _near(self, name: str, span: tuple[Amount, Amount] | None, own: float) -> float:
        return self.between(name, (own * (1 - NEAR), own * (1 + NEAR)) if span is None else span)

    def _block(self, wanted: float) -> Values:
        """The block's own measures, grown with its girth; its length, hem and cap ease by themselves."""
        block, start = self.lesson.block, measure(block_of(self.lesson))
        own = start["bicep-girth"]
        if self.vary.room is not None or _goes_by_arm(self.lesson):
            girth = round(wanted - self._near("room", self.vary.room, self.lesson.arm.with_ease - own))
        else:
            girth = round(own * self.between("girth", GIRTH_NEAR))
        size = girth / own
        long = block.sleeve_length
        length = self._length(long)
        rules: dict[str, Callable[[float, str], float]] = {
            "bicep_girth": lambda value, name: girth,
            "arm_girth": lambda value, name: girth - (block.wearing_ease or 0.0),
            "wearing_ease": lambda value, name: value,
            "sleeve_length": lambda value, name: length,
            "elbow_level": lambda value, name: value * length / long,
            "hem_girth": lambda value, name: (
                value * (1 + HEM_FOLLOWS * (size - 1)) * self.between(name, self.vary.hem_girth)
            ),
            "armhole_front": lambda value, name: value * size * self.between(name, self.vary.armhole),
            "armhole_back": lambda value, name: value * size * self.between(name, self.vary.armhole),
            "cap_ease": lambda value, name: self._near(name, self.vary.cap_ease, value),
            "cap_ease_front": lambda value, name: self._near(name, None, value),
            "cap_ease_back": lambda value, name: self._near(name, None, value),
        }
        found: Values = {}
        for field in block.__struct_fields__:
            value = getattr(block, field)
            if isinstance(value, Amount):
                name = field.replace("_", "-")
                rule = rules.get(field)
                found[name] = value * size if rule is None else rule(float(value), name)
        return found

    def _length(self, own: float) -> float:
        """The sleeve's length: in its span, or as much longer or shorter as upper arms are."""
        if self.vary.sleeve_length is not None:
            return self.between("sleeve-length", self.vary.sleeve_length)
        return own * self._person("sleeve-length", SHOULDER_TO_ELBOW) / SHOULDER_TO_ELBOW[1]

    def _amounts(self, name: str, recipe: Recipe, span: tuple[float, float]) -> Values:
        """The written amounts of a plan, each times a factor; back and front go by the same factors."""
        solved = {sought.amount for sought in recipe.sought}
        found: Values = {}
        for k, opening in enumerate(recipe.plan.openings):
            if OpeningAmount(k) not in solved:
                found[f"{name} opening {k + 1}"] = opening.amount * self.between(f"{name} opening {k + 1}", span)
        for amount in AMOUNTS:
            if value := amount.read(recipe.plan):
                found[f"{name} {amount.name}"] = value * self.between(f"{name} {amount.way}", span)
        return found

    def _goals(self) -> Values:
        """The figures written for a measure, all of them times the same factor."""
        figures = [
            (f"goal {number} {goal}", measure, figure)
            for number, task in enumerate(self.lesson.tasks, 1)
            for goal, measure, figure in goal_figures(task)
        ]
        figures += [
            (f"{name} for {number}", measure, figure)
            for name, recipe in self.lesson.plans.items()
            for number, measure, figure in plan_figures(recipe)
        ]
        spans = self.vary.goals
        return {name: figure * self.between(f"goals {of}", spans[of]) for name, of, figure in figures if of in spans}

    def _complaints(self, values: Values) -> Values:
        """What is off in each diagnosis, and by how much; the name tells what, so that it is kept as it was drawn.

        ``values`` are those drawn of arm and block.
        """
        found: Values = {}
        for number, task in enumerate(self.lesson.tasks, 1):
            if isinstance(task, DiagnoseTask):
                cause = task.causes[int(self.share(f"complaint {number}") * len(task.causes))]
                of = CAUSES[cause].measure
                span, share = self.vary.complaints, f"complaint {number} amount"
                if of in self.vary.goals:
                    span, share = self.vary.goals[of], f"goals {of}"
                amount = task.amount * self.between(share, span)
                if self.vary.complaints_by_room and of == "bicep-girth":
                    amount = abs(values["arm girth"] + values["arm wearing-ease"] - values["block bicep-girth"])
                found[f"complaint {number} {cause}"] = amount
        return found


def _goes_by_arm(lesson: Lesson) -> bool:
    """Whether any figure of the lesson is the upper arm's; if none is, the block keeps to its own girth."""
    goals = (goal for task in lesson.tasks for goal in goals_of(task))
    sought = (each.figure for recipe in lesson.plans.values() for each in recipe.sought)
    wanted = (task.wanted for task in lesson.tasks if isinstance(task, NumberTask))
    figures = (each for each in (*goals, *sought, *wanted) if isinstance(each, Figure))
    return any(figure.arm_and_ease or figure.around == "arm" for figure in figures)


def _percentile(value: float, known: Percentiles) -> float:
    """Where a measure stands among those taken of people, 0 to 1."""
    low, middle, high = known
    normal = NormalDist()
    side = high - middle if value > middle else middle - low
    return normal.cdf((value - middle) / side * normal.inv_cdf(MOST))
