"""An alteration carried out: a plan on a pattern, and everything it costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from tutor.alteration.armhole_answer import answer_armhole
from tutor.alteration.cap import redraw_cap
from tutor.alteration.cutting import CutPaper, Piece, cut_paper
from tutor.alteration.outline import BICEP_LINE, Outline, lower_part, whole
from tutor.alteration.plan import Plan, Slash
from tutor.alteration.refusal import CROSSES_ITSELF, Refusal
from tutor.alteration.seam_change import change_seams
from tutor.alteration.set_back import carried_out, place_cap
from tutor.alteration.shoulder import move_shoulder
from tutor.alteration.solving import Asked, Solution, parting, solve
from tutor.alteration.truing import true
from tutor.geometry.cubic import Complexes
from tutor.geometry.move import Move
from tutor.geometry.region import Layers, crosses_itself
from tutor.pattern.measures import curve_lengths, measure
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Sleeve, level_of


@dataclass(frozen=True, slots=True)
class MovedPiece:
    """A piece where it came to lie: its name, its ring of points now, and the move that took it there."""

    name: str
    ring: Complexes
    move: Move


@dataclass(frozen=True)
class Altered:
    """A plan carried out. ``before`` and ``after`` are patterns in their frames, the after trued.

    ``pieces`` lie in the frame of ``after``; ``opened`` are the openings as they came out (mm, as asked to 1e-9) and
    ``residual`` is the largest error of any hinge or opening in mm.
    """

    plan: Plan
    before: Pattern
    after: Pattern
    paper: CutPaper
    pieces: tuple[MovedPiece, ...]
    asked: tuple[Asked, ...]
    opened: tuple[float, ...]
    residual: float

    @cached_property
    def measures_before(self) -> dict[str, float]:
        """All measures of the pattern as it was, each in its own unit: mm, degrees or per cent."""
        return measure(self.before)

    @cached_property
    def measures_after(self) -> dict[str, float]:
        """All measures of the trued pattern, with ``bust-gain``, ``overlap`` and ``gap``."""
        overlap, gap = self.areas
        return measure(self.after) | {"bust-gain": self.bust_gain, "overlap": overlap, "gap": gap}

    @cached_property
    def as_cut(self) -> dict[str, float]:
        """Seam lengths in mm of the paper as it was cut, before truing."""
        return _as_cut(self.before.sleeve, self.paper, self.plan.set_back)

    @cached_property
    def _layers(self) -> Layers:
        return Layers([piece.ring for piece in self.pieces], self.after.sleeve.outline())

    @property
    def areas(self) -> tuple[float, float]:
        """Areas of paper on paper, and of the new outline left uncovered, mm2."""
        return self._layers.overlap, self._layers.gap

    @cached_property
    def overlaps(self) -> list[Complexes]:
        """Rings of the places where paper lies on paper."""
        return self._layers.overlaps()

    @cached_property
    def gaps(self) -> list[Complexes]:
        """Rings of the places inside the new outline that no piece covers."""
        return self._layers.gaps()

    @property
    def bust_gain(self) -> float:
        """What the moved side seams add to the bust right round the body, mm: both pieces, left and right."""
        return 2 * (self.plan.back.widen + self.plan.front.widen)


def alter(pattern: Pattern, plan: Plan) -> Altered:
    """Carries a plan out. Raises Refusal when paper can't do it; every opening of the result is met to 1e-9 mm."""
    if plan.set_back:
        sleeve, paper, solution, pieces = _set_back(pattern.sleeve, plan)
    else:
        sleeve, paper, solution, pieces = _slashed(pattern.sleeve, plan)
    if crosses_itself(sleeve.outline()):
        raise _crossing(plan, solution)
    back = pattern.armhole_back and answer_armhole(pattern.armhole_back, plan.back)
    front = pattern.armhole_front and answer_armhole(pattern.armhole_front, plan.front)
    back, front = move_shoulder(back, front, plan.shoulder)
    after = replace(pattern, sleeve=sleeve, armhole_back=back, armhole_front=front)
    opened = tuple(parting(solution.moves, asked).real for asked in solution.asked)
    return Altered(plan, pattern, after, paper, pieces, solution.asked, opened, solution.residual)


KEPT = 256
"""How many alterations are kept at hand."""


@lru_cache(maxsize=KEPT)
def altered_once(pattern: Pattern, plan: Plan) -> Altered:
    """As ``alter``, kept: the same plans are marked in every unit, after a variant was looked at by them."""
    return alter(pattern, plan)


def _crossing(plan: Plan, solution: Solution) -> Refusal:
    """The refusal of a plan whose outline would cross itself, at the place that is asked to move furthest."""
    what = "the trued outline would cross itself; open, overlap or take away less"
    worst = max(solution.asked, key=lambda asked: abs(asked.amount), default=None)
    if worst is None:
        return Refusal(CROSSES_ITSELF, what, slash=plan.slashes[0].name if plan.slashes else "")
    return Refusal(CROSSES_ITSELF, what, slash=worst.opening.slash, place=worst.point)


def _slashed(sleeve: Sleeve, plan: Plan) -> tuple[Sleeve, CutPaper, Solution, tuple[MovedPiece, ...]]:
    outline, paper, solution = _solved(sleeve, plan)
    trued = true(outline, paper.arcs, solution.moves)
    return _framed(_redrawn(sleeve.with_seams(trued.seams, trued.marks), plan), paper, solution, ())


def _set_back(sleeve: Sleeve, plan: Plan) -> tuple[Sleeve, CutPaper, Solution, tuple[MovedPiece, ...]]:
    outline, paper, solution = _solved(sleeve, plan)
    trued = true(outline, paper.arcs, solution.moves)
    line = trued.seams[BICEP_LINE]
    cap = place_cap(sleeve, line.start, line.end)
    cap_back, cap_front, notches = carried_out(sleeve, cap, line.start, line.end)
    seams = {name: curve for name, curve in trued.seams.items() if name != BICEP_LINE}
    marks = {mark.name: mark for mark in (*notches, *trued.marks)}
    altered = sleeve.with_seams(
        seams | {"cap-back": cap_back, "cap-front": cap_front},
        tuple(marks[mark.name] for mark in sleeve.marks),
    )
    ring = np.concatenate([sleeve.cap_back.flatten()[:-1], sleeve.cap_front.flatten()])
    return _framed(_redrawn(altered, plan), paper, solution, (MovedPiece("the cap", cap(ring), cap),))


def _redrawn(sleeve: Sleeve, plan: Plan) -> Sleeve:
    """The trued sleeve with all that needs no slash: its underarm seams changed, then its cap."""
    return redraw_cap(change_seams(sleeve, plan.seam_back, plan.seam_front), plan)


def _solved(sleeve: Sleeve, plan: Plan) -> tuple[Outline, CutPaper, Solution]:
    outline, paper = _cut(sleeve, plan.slashes, plan.set_back)
    return outline, paper, solve(paper, plan.openings, _kept_levels(sleeve))


@lru_cache(maxsize=32)
def _cut(sleeve: Sleeve, slashes: tuple[Slash, ...], set_back: bool) -> tuple[Outline, CutPaper]:
    """The paper cut; kept, as stepping an opening and solving for a result cut the same paper over and over."""
    outline = lower_part(sleeve) if set_back else whole(sleeve)
    return outline, cut_paper(outline, slashes)


def _kept_levels(sleeve: Sleeve) -> tuple[float, float]:
    """The stretch of grain that stays put: bicep line to elbow line, or to half way down when there is none."""
    elbow = level_of(sleeve, "elbow")
    return 0.0, elbow if elbow is not None else (sleeve.hem.start.imag + sleeve.hem.end.imag) / 4


def _framed(
    sleeve: Sleeve, paper: CutPaper, solution: Solution, more: Sequence[MovedPiece]
) -> tuple[Sleeve, CutPaper, Solution, tuple[MovedPiece, ...]]:
    """Everything shifted so that the new bicep line crosses the grain at the origin again."""
    framed = sleeve.framed()
    back = Move(1 + 0j, framed.crown - sleeve.crown)
    moved = [_moved(piece, move) for piece, move in zip(paper.pieces, solution.moves, strict=True)]
    pieces = tuple(MovedPiece(p.name, back(p.ring), back @ p.move) for p in (*moved, *more))
    return framed, paper, solution, pieces


def _moved(piece: Piece, move: Move) -> MovedPiece:
    return MovedPiece(piece.name, move(piece.ring), move)


def _as_cut(sleeve: Sleeve, paper: CutPaper, set_back: bool) -> dict[str, float]:
    names = ("cap-back", "cap-front", "underarm-front", "hem", "underarm-back")
    numbered = (BICEP_LINE, *names[2:]) if set_back else names
    words = {"cap-back": "cap-seam-back", "cap-front": "cap-seam-front"}
    words |= {f"underarm-{side}": f"underarm-seam-{side}" for side in ("back", "front")}
    lengths = curve_lengths({f"{numbered[arc.seam]}/{k}": arc.curve for k, arc in enumerate(paper.arcs)})
    if set_back:
        lengths |= curve_lengths({"cap-back/": sleeve.cap_back, "cap-front/": sleeve.cap_front})
    found = {
        word: sum(value for key, value in lengths.items() if key.startswith(f"{seam}/")) for seam, word in words.items()
    }
    return {"cap-seam": found["cap-seam-back"] + found["cap-seam-front"], **found}
