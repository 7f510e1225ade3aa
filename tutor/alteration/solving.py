"""Where cut pieces of paper go.

Every piece may turn and shift. What is asked are equations: a hinge keeps two pieces together at its point, an opening
parts two edges by its amount, and the grain stays where it was: the paper beside the grain between bicep line and
elbow does not turn on the whole, nor move at the grain's crossing with the bicep line, so that an opening at the grain
is split evenly. If the pieces are still free, two things more are kept where they can be: a slash cut through at both
ends, with one opening asked on it, parts by as much all along, neither side turning against the other; and no piece
slides along an opening that was asked for. What freedom is left then goes to least motion: the sum over the pieces of
area times squared shift of the centre, plus polar second moment times squared turn, is smallest.

Solved by repeated linearising (Gauss-Newton, minimum norm in the scaled unknowns), exact to rounding.
"""

from __future__ import annotations

import cmath
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from tutor.alteration.cutting import Cut, CutPaper
from tutor.alteration.plan import Opening
from tutor.alteration.refusal import LOCKED, LOOSE, NOT_ON_OUTLINE, Refusal, length
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.move import Move
from tutor.geometry.region import count_inside

RESIDUAL = 1e-9
"""No equation of a solution is off by more than this, in mm."""
ROUNDED = 1e-12
"""mm; equations that are off by less where the search sets out are met there, and any step would be rounding alone."""
STANDSTILL = 1e-8
"""mm; a round that moves paper by less leaves an error far below the residual, as each round gains some digits."""
ROUNDS = 60
PATIENCE = 6
"""Rounds in which the residual has to halve, or the search is given up."""
SMALLEST_BIT = 1 / 512
"""The least part of what is asked by which openings are made to grow, unless that is more than ``FINEST`` mm."""
FINEST = 0.5
LARGEST_TURN = 1.3
"""Radians; paper that has to turn farther is folding over, not opening."""
LEVER = 300.0
"""mm; turns are weighed as the shift they make at this distance, so that all equations are in mm."""


@dataclass(frozen=True, slots=True)
class Asked:
    """An opening placed: its pieces, its point before moving, the slash's direction, and its amount in mm."""

    left: int
    right: int
    point: complex
    along: complex
    amount: float
    opening: Opening


@dataclass(frozen=True, slots=True)
class Solution:
    """A move for every piece, the openings as placed, and the largest residual in mm."""

    moves: tuple[Move, ...]
    asked: tuple[Asked, ...]
    residual: float


def solve(
    paper: CutPaper,
    openings: Sequence[Opening],
    levels: tuple[float, float],
    start: Sequence[Move] | None = None,
) -> Solution:
    """Moves for all pieces such that hinges hold and openings are met, to 1e-9 mm.

    ``levels`` are the y of the two ends of the stretch of grain that is kept (bicep line, elbow line). ``start`` is
    where the pieces lie already, from which their motion is least; the moves are from the uncut paper all the same.
    Raises Refusal for a plan that leaves a piece held by nothing, or whose hinges allow no such opening.
    """
    asked = tuple(place_opening(paper, opening) for opening in openings)
    hinges = _hinges(paper)
    held = _grain_weights(paper, levels)
    _check_held(paper, hinges, asked, held)
    system = _System(paper, hinges, asked, held, start)
    found = system.solve()
    if found is None:
        raise _locked(paper, system)
    state, residual = found
    return Solution(system.moves(state), asked, residual)


def place_opening(paper: CutPaper, opening: Opening) -> Asked:
    """Finds the stretch of slash an opening is asked on. Raises Refusal for an opening on no slash."""
    names = [slash.name for slash in paper.slashes]
    if opening.slash not in names:
        what = f"an opening is asked on {opening.slash}, which is no slash of this plan"
        raise Refusal(NOT_ON_OUTLINE, what, slash=opening.slash)
    number = names.index(opening.slash)
    cuts = paper.of_slash(number)
    share = _crossing_share(paper, number, opening) if opening.where else opening.share
    cut = _stretch(paper, cuts, share, opening.toward)
    a, b = paper.lines[number]
    return Asked(cut.left, cut.right, a + share * (b - a), (b - a) / abs(b - a), opening.amount, opening)


def _crossing_share(paper: CutPaper, number: int, opening: Opening) -> float:
    """The share of a slash at which the slash that the opening names meets it."""
    names = [slash.name for slash in paper.slashes]
    if opening.where in names:
        other = names.index(opening.where)
        (a, b), (c, d) = paper.lines[number], paper.lines[other]
        cross = ((b - a).conjugate() * (d - c)).imag
        stops = {share for cut in paper.of_slash(number) for share in (cut.start, cut.end)}
        if cross:
            share = ((c - a).conjugate() * (d - c)).imag / cross
            near = min(stops, key=lambda stop: abs(stop - share))
            if abs(near - share) * abs(b - a) < 1e-3:
                return near
    what = f"the slash {opening.slash} is not crossed by {opening.where}"
    raise Refusal(NOT_ON_OUTLINE, what, slash=opening.slash)


def _stretch(paper: CutPaper, cuts: Sequence[Cut], share: float, toward: str) -> Cut:
    """The stretch a share lies on; at a crossing, the one toward the end asked for, or the one that opens."""
    size = abs(paper.lines[cuts[0].slash][1] - paper.lines[cuts[0].slash][0])
    near = 1e-6 / size
    touching = [cut for cut in cuts if cut.start - near <= share <= cut.end + near]
    if len(touching) == 1:
        return touching[0]
    before, after = touching[0], touching[-1]
    if toward:
        return before if toward == "start" else after
    slash = paper.slashes[cuts[0].slash]
    if slash.start_hinge != slash.end_hinge:
        return before if slash.start_hinge else after
    return before if share > 0.5 else after


@dataclass(frozen=True, slots=True)
class _Hinge:
    left: int
    right: int
    point: complex


def _hinges(paper: CutPaper) -> list[_Hinge]:
    hinges = []
    for number, slash in enumerate(paper.slashes):
        cuts = paper.of_slash(number)
        a, b = paper.lines[number]
        if slash.start_hinge:
            hinges.append(_Hinge(cuts[0].left, cuts[0].right, a))
        if slash.end_hinge:
            hinges.append(_Hinge(cuts[-1].left, cuts[-1].right, b))
    return hinges


@lru_cache(maxsize=32)
def _grain_weights(paper: CutPaper, levels: tuple[float, float]) -> Floats:
    """How much of the kept grain lies in, or beside, each piece; in sum 1. By area where the grain misses the paper."""
    y = np.linspace(levels[0], levels[1], 26)[1:-1]
    # Just beside the grain on both sides, so that a cut along it shares it out evenly.
    counts = np.array(
        [count_inside(p.ring, -0.01, y) + count_inside(p.ring, 0.01, y) for p in paper.pieces], dtype=float
    )
    if not counts.any():
        counts = np.array([piece.section.area for piece in paper.pieces])
    result: Floats = counts / counts.sum()
    result.setflags(write=False)
    return result


def _check_held(paper: CutPaper, hinges: Sequence[_Hinge], asked: Sequence[Asked], held: Floats) -> None:
    """Refuses a piece that no hinge and no asked opening joins, link by link, to the paper beside the grain."""
    joined = {int(held.argmax())}
    links = [(h.left, h.right) for h in hinges] + [(a.left, a.right) for a in asked]
    for _ in paper.pieces:
        joined |= {b for a, b in links if a in joined} | {a for a, b in links if b in joined}
    loose = [k for k in range(len(paper.pieces)) if k not in joined]
    if not loose:
        return
    piece = paper.pieces[loose[0]]
    cut = next(cut for cut in paper.cuts if loose[0] in (cut.left, cut.right))
    slash = paper.slashes[cut.slash].name
    what = (
        f"{piece.name} is held by nothing along the slash {slash};"
        " leave a hinge at one end, or say how far the slash opens"
    )
    raise Refusal(LOOSE, what, slash=slash, piece=piece.name, place=piece.section.centre)


class _System:
    """The equations of one plan over the unknowns (turn, shift x, shift y) of every piece, about its own centre."""

    def __init__(
        self,
        paper: CutPaper,
        hinges: Sequence[_Hinge],
        asked: Sequence[Asked],
        held: Floats,
        start: Sequence[Move] | None = None,
    ) -> None:
        self.count = len(paper.pieces)
        sections = [piece.section for piece in paper.pieces]
        self.centres = np.array([each.centre for each in sections])
        weights = np.array([(each.moment, each.area, each.area) for each in sections])
        self.scale = np.sqrt(weights / weights[:, 1].sum()).ravel()
        self.origin = np.zeros(3 * self.count)
        if start is not None:
            shifts = [move(complex(centre)) - centre for move, centre in zip(start, self.centres, strict=True)]
            self.origin = np.array([(m.angle, s.real, s.imag) for m, s in zip(start, shifts, strict=True)]).ravel()
        self.held = held
        self.asked = asked
        self.level = self._level_rows(paper)
        self.reached = 0.0
        self.hinged = len(hinges)
        places = [(h.left, h.right, h.point) for h in hinges] + [(a.left, a.right, a.point) for a in asked]
        self.left, self.right = (np.array([place[k] for place in places], dtype=int) for k in (0, 1))
        at = np.array([place[2] for place in places], dtype=complex)
        self.arm_left, self.arm_right = at - self.centres[self.left], at - self.centres[self.right]
        self.along = np.array([a.along for a in asked], dtype=complex)
        self.amounts = np.array([a.amount for a in asked], dtype=float)
        self.template = self._shift_derivatives()
        self.grain_template = np.zeros((3, 3 * self.count))
        self.grain_template[0, ::3] = held * LEVER
        self.grain_template[1, 1::3] = self.grain_template[2, 2::3] = held

    def _level_rows(self, paper: CutPaper) -> Floats:
        """Turns of left less right, in mm at the lever, for slashes cut through at both ends with one opening asked."""
        through = {slash.name for slash in paper.slashes if not (slash.start_hinge or slash.end_hinge)}
        counts = Counter(a.opening.slash for a in self.asked)
        pairs = [(a.left, a.right) for a in self.asked if a.opening.slash in through and counts[a.opening.slash] == 1]
        rows = np.zeros((len(pairs), 3 * self.count))
        for row, (left, right) in zip(rows, pairs, strict=True):
            row[3 * left], row[3 * right] = LEVER, -LEVER
        return rows

    def _shift_derivatives(self) -> Complexes:
        """What every parting changes by with the pieces' shifts, which never changes; turns are still zero."""
        derivatives = np.zeros((len(self.left), 3 * self.count), dtype=complex)
        each = np.arange(len(self.left))
        for piece, sign in ((self.left, 1), (self.right, -1)):
            derivatives[each, 3 * piece + 1] = sign
            derivatives[each, 3 * piece + 2] = sign * 1j
        return derivatives

    def moves(self, state: Floats) -> tuple[Move, ...]:
        rows = state.reshape(-1, 3)
        return tuple(
            Move.about(complex(centre), float(turn), complex(x, y))
            for centre, (turn, x, y) in zip(self.centres, rows, strict=True)
        )

    def solve(self) -> tuple[Floats, float] | None:
        """The state in which all is met, and its residual in mm; None if there is none, and then ``reached`` is set.

        What is kept where it can be is asked for first, and given up bit by bit when it can't be had. Where the way
        is too far for one go the openings grow bit by bit, each solution starting from the last.
        """
        wishes = [(True, True), (False, True), (False, False)] if len(self.level) else [(False, True), (False, False)]
        for level, slides in wishes:
            state, residual = self._newton(self.origin, 1.0, level, slides)
            if self._sound(state, residual):
                return state, residual
        for level, slides in wishes:
            found = self._grown(self.origin, level, slides)
            if found is not None:
                return found
        return None

    def _grown(self, state: Floats, level: bool, slides: bool) -> tuple[Floats, float] | None:
        """Opens bit by bit, by less where it fails; ``reached`` becomes the part of the openings that could be had."""
        part, bit = 0.0, 0.5
        least = min(SMALLEST_BIT, FINEST / max(float(np.abs(self.amounts).max(initial=0)), FINEST))
        while bit >= least:
            new, residual = self._newton(state, min(part + bit, 1.0), level, slides)
            if not self._sound(new, residual):
                bit /= 2
                continue
            state, part = new, min(part + bit, 1.0)
            self.reached = max(self.reached, part)
            if part == 1.0:
                return state, residual
            bit *= 1.5
        return None

    @staticmethod
    def _sound(state: Floats, residual: float) -> bool:
        return residual <= RESIDUAL and float(np.abs(state[::3]).max()) <= LARGEST_TURN

    def _newton(self, state: Floats, part: float, level: bool, slides: bool) -> tuple[Floats, float]:
        """Rounds of linearised equations, least norm of the scaled state, until it stands still or gets nowhere."""
        levers = np.tile([LEVER, 1.0, 1.0], self.count)
        values, jacobian = self._equations(state, part, level, slides)
        residuals = [float(np.abs(values).max())]
        if state is self.origin and residuals[0] <= ROUNDED:
            return state, residuals[0]
        for _ in range(ROUNDS):
            scaled = jacobian / self.scale
            target = scaled @ ((state - self.origin) * self.scale) - values
            new = self.origin + np.linalg.lstsq(scaled, target, rcond=1e-9)[0] / self.scale
            step = float(np.abs((new - state) * levers).max())
            state = new
            values, jacobian = self._equations(state, part, level, slides)
            residuals.append(float(np.abs(values).max()))
            stuck = len(residuals) > PATIENCE and residuals[-1] > max(RESIDUAL, residuals[-PATIENCE] / 2)
            if step < STANDSTILL or stuck:
                break
        return state, residuals[-1]

    def _equations(self, state: Floats, part: float, level: bool, slides: bool) -> tuple[Floats, Floats]:
        """Residuals in mm and their derivatives: hinges, openings, grain; no turning; no sliding."""
        rows = state.reshape(-1, 3)
        angles = rows[:, 0]
        turns = np.exp(1j * angles)
        centres = self.centres + rows[:, 1] + 1j * rows[:, 2]
        arm_left, arm_right = turns[self.left] * self.arm_left, turns[self.right] * self.arm_right
        parted = centres[self.left] + arm_left - centres[self.right] - arm_right
        parted_by = self.template.copy()
        each = np.arange(len(parted))
        parted_by[each, 3 * self.left] = 1j * arm_left
        parted_by[each, 3 * self.right] = -1j * arm_right
        pinned, pinned_by = parted[: self.hinged], parted_by[: self.hinged]
        # Openings are seen in the direction halfway between the two parted edges, which turns with both.
        left, right = self.left[self.hinged :], self.right[self.hinged :]
        back = (self.along * np.exp(0.5j * (angles[left] + angles[right]))).conj()
        seen, seen_by = parted[self.hinged :] * back, parted_by[self.hinged :] * back[:, None]
        each = np.arange(len(seen))
        seen_by[each, 3 * left] -= 0.5j * seen
        seen_by[each, 3 * right] -= 0.5j * seen
        grain, grain_by = self._grain(angles, turns, centres)
        values = [pinned.real, pinned.imag, seen.imag - part * self.amounts, grain]
        derivatives = [pinned_by.real, pinned_by.imag, seen_by.imag, grain_by]
        if level:
            values.append(self.level @ state)
            derivatives.append(self.level)
        if slides:
            values.append(seen.real)
            derivatives.append(seen_by.real)
        return np.concatenate(values), np.concatenate(derivatives)

    def _grain(self, angles: Floats, turns: Complexes, centres: Complexes) -> tuple[Floats, Floats]:
        """The grain's mean turn, and the mean move of its crossing with the bicep line (the origin)."""
        arms = -turns * self.centres
        moved = complex(self.held @ (centres + arms))
        derivatives = self.grain_template.copy()
        derivatives[1, ::3], derivatives[2, ::3] = self.held * -arms.imag, self.held * arms.real
        return np.array([LEVER * float(self.held @ angles), moved.real, moved.imag]), derivatives


def _locked(paper: CutPaper, system: _System) -> Refusal:
    """What to say when the hinges allow no such opening: which one, and how far it could go."""
    asked = max(system.asked, key=lambda a: abs(a.amount))
    most = system.reached * asked.amount
    slash = asked.opening.slash
    held, free = "the hinges around it", "cut through a hinge"
    if _both_hinged(paper, slash):
        held = "both its ends"
    if len(system.asked) > 1:
        held, free = "hinges and other openings", "free one of them"
    room = f"it gives {length(abs(most))} at the most" if abs(most) > 0.5 else f"{held} hold it shut"
    verb = "open" if asked.amount > 0 else "overlap"
    what = f"the slash {slash} can't {verb} by {length(abs(asked.amount))}: {room}; {free}, or ask for less"
    piece = paper.pieces[asked.left].name
    return Refusal(LOCKED, what, slash=slash, piece=piece, place=asked.point)


def _both_hinged(paper: CutPaper, name: str) -> bool:
    slash = next(slash for slash in paper.slashes if slash.name == name)
    return slash.start_hinge and slash.end_hinge


def parting(moves: Sequence[Move], asked: Asked) -> complex:
    """How far an asked place has opened in a solution: + opened across (real) and slid along (imaginary), mm."""
    left, right = moves[asked.left], moves[asked.right]
    halfway = asked.along * cmath.exp(0.5j * (left.angle + right.angle))
    gap = (left(asked.point) - right(asked.point)) * halfway.conjugate()
    return complex(gap.imag, gap.real)
