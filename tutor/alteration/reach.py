"""Amounts found for a wanted result: how far to open so that a measure comes out as asked.

Newton's method on as many amounts as measures are wanted, the derivatives by differences; a step that paper refuses is
halved.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from tutor.alteration.alter import alter
from tutor.alteration.amounts import PlanAmount
from tutor.alteration.plan import Answer, Plan
from tutor.alteration.refusal import LOCKED, Refusal, length
from tutor.geometry.cubic import Floats
from tutor.pattern.measures import Kind, kind_of, measure, words_for
from tutor.pattern.pattern import Pattern

EXACT = 1e-8
"""A wanted measure is met to this, in its own unit: mm for a length."""
ROUNDS = 40
HALVINGS = 12
NEARLY = 1.0
"""mm, degrees or per cent: nearer than this, two figures would read alike."""
REFUSED = 8
"""So many steps that paper refuses are enough to say that the result is out of reach: each takes its time."""
DIFFERENCE = 1e-4
FIRST_STEP = 10.0
"""mm; an amount that the plan leaves at nought is tried from here: a plan that opens nothing may have no slope."""
FARTHEST_STEP = 60.0


@dataclass(frozen=True, slots=True)
class OpeningAmount:
    """The amount of the plan's opening of this number, counted from 0."""

    number: int

    def read(self, plan: Plan) -> float:
        """The amount in a plan, mm. Raises IndexError where it has no such opening."""
        return plan.openings[self.number].amount

    def put(self, plan: Plan, mm: float) -> Plan:
        """The plan with this amount, and all others as they were."""
        amounts = [opening.amount for opening in plan.openings]
        amounts[self.number] = mm
        return plan.with_amounts(*amounts)


@dataclass(frozen=True, slots=True)
class AnswerAmount:
    """What one armhole is widened and lowered by together; ``width_share`` of it, 0 to 1, goes into width."""

    side: str
    width_share: float = 0.5

    def read(self, plan: Plan) -> float:
        """What the armhole is widened and lowered by in a plan, together, mm."""
        answer = self._answer(plan)
        return answer.widen + answer.lower

    def put(self, plan: Plan, mm: float) -> Plan:
        """The plan with this amount, shared between width and depth."""
        answer = Answer(mm * self.width_share, mm * (1 - self.width_share))
        return replace(plan, back=answer) if self.side == "back" else replace(plan, front=answer)

    def _answer(self, plan: Plan) -> Answer:
        return plan.back if self.side == "back" else plan.front


Amount: TypeAlias = OpeningAmount | AnswerAmount | PlanAmount


def reach(pattern: Pattern, plan: Plan, wanted: Mapping[str, float], amounts: Sequence[Amount] | None = None) -> Plan:
    """The plan with its amounts solved so that the measures named come out as wanted, each to 1e-8.

    ``wanted`` gives measures of the result by name: mm, degrees or per cent as the measure counts. ``amounts`` are
    those that may change, as many as are wanted; left out, they are all the openings. Amounts the plan already gives
    are where the search starts.

    Raises ValueError when the counts differ or the pattern has no such measure, and Refusal when paper can't follow
    the plan at all, or no amounts give the result.
    """
    chosen = tuple(map(OpeningAmount, range(len(plan.openings)))) if amounts is None else tuple(amounts)
    if len(chosen) != len(wanted):
        raise ValueError(f"{len(wanted)} wanted measures need as many amounts, not {len(chosen)}")
    if not chosen:
        alter(pattern, plan)
        return plan
    search = _Search(pattern, plan, tuple(wanted), np.array(list(wanted.values()), dtype=float), chosen)
    return search.plan(search.solve())


@dataclass(slots=True)
class _Search:
    pattern: Pattern
    start: Plan
    names: tuple[str, ...]
    wanted: Floats
    amounts: tuple[Amount, ...]
    refused: int = 0
    last: Refusal | None = None

    def plan(self, x: Floats) -> Plan:
        plan = self.start
        for amount, mm in zip(self.amounts, x, strict=True):
            plan = amount.put(plan, float(mm))
        return plan

    def off(self, x: Floats) -> Floats:
        """What each measure lacks of what is wanted, negative when under. Raises Refusal."""
        altered = alter(self.pattern, self.plan(x))
        found = measure(altered.after) | {"bust-gain": altered.bust_gain}
        missing = [name for name in self.names if name not in found]
        if missing:
            raise ValueError(f"the pattern has no {words_for(missing[0])}")
        return np.array([found[name] for name in self.names]) - self.wanted

    def solve(self) -> Floats:
        x, off = self._first()
        best = float(np.abs(off).max())
        for _ in range(ROUNDS):
            if np.abs(off).max() <= EXACT:
                return x
            step = np.asarray(np.linalg.lstsq(self._slopes(x, off), -off, rcond=1e-10)[0], dtype=np.float64)
            longest = float(np.abs(step).max())
            if longest > FARTHEST_STEP:
                step *= FARTHEST_STEP / longest
            moved = self._shortened(x, step, best)
            if moved is None:
                break
            x, off = moved
            best = float(np.abs(off).max())
        raise self._out_of_reach(off)

    def _first(self) -> tuple[Floats, Floats]:
        """Where the search starts: what the plan gives, or a small opening, or next to nothing."""
        given = np.array([amount.read(self.start) for amount in self.amounts])
        refused: Refusal | None = None
        for step in (FIRST_STEP, FIRST_STEP / 10, -FIRST_STEP / 10):
            x = np.where(given == 0, step, given)
            try:
                return x, self.off(x)
            except Refusal as refusal:
                refused = refused or refusal
        assert refused is not None
        raise refused

    def _slopes(self, x: Floats, off: Floats) -> Floats:
        """The derivatives of the measures by the amounts, by differences toward whichever side paper allows."""
        columns = [self._slope(x, off, k) for k in range(len(x))]
        return np.column_stack(columns)

    def _slope(self, x: Floats, off: Floats, k: int) -> Floats:
        for step in (DIFFERENCE, -DIFFERENCE):
            near = x.copy()
            near[k] += step
            try:
                slope: Floats = (self.off(near) - off) / step
            except Refusal:
                continue
            return slope
        raise self._out_of_reach(off)

    def _shortened(self, x: Floats, step: Floats, best: float) -> tuple[Floats, Floats] | None:
        """The step, halved until paper allows it and it comes nearer; None when it never does."""
        for _ in range(HALVINGS):
            try:
                off = self.off(x + step)
            except Refusal as refusal:
                self.last = refusal
                self.refused += 1
                if self.refused >= REFUSED:
                    return None
                step = step / 2
                continue
            if np.abs(off).max() < best:
                return x + step, off
            step = step / 2
        return None

    def _out_of_reach(self, off: Floats) -> Refusal:
        worst = int(np.abs(off).argmax())
        name = self.names[worst]
        wanted, came = float(self.wanted[worst]), float(self.wanted[worst] + off[worst])
        shown = _shown(name)
        near = abs(came - wanted) < NEARLY
        means = "these slashes" if self.start.slashes else "these amounts"
        ends = f"{means} stop just short of it" if near else f"{means} come to {shown(came)}"
        what = f"no amounts bring the {words_for(name)} to {shown(wanted)}; {ends}"
        slash = self.start.slashes[0].name if self.start.slashes else ""
        if self.last is None:
            return Refusal(LOCKED, what, slash=slash)
        return Refusal(LOCKED, what, slash=self.last.slash or slash, piece=self.last.piece, place=self.last.place)


def _shown(name: str) -> Callable[[float], str]:
    if kind_of(name) is Kind.LENGTH:
        return length
    return lambda value: f"{value:.1f} {kind_of(name).value}"
