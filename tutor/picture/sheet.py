"""A pattern laid out as a scene: the sleeve before and after over each other, slashes, pieces, armholes beside it.

Before and after lie in their own frames: in both the grain is x = 0 and the bicep line y = 0. Bodice pieces stand
beside the cap, their underarm points level with the bicep line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import lru_cache

import numpy as np

from tutor.alteration.alter import Altered
from tutor.alteration.outline import Outline, lower_part, whole
from tutor.alteration.plan import OnSlash, Plan, Slash
from tutor.alteration.refusal import Refusal
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve, row_crossings
from tutor.geometry.region import section
from tutor.pattern.armhole import Armhole
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Sleeve, level_of
from tutor.picture.looks import Look, Sign
from tutor.picture.scene import Bounds, Mark, Patch, Scene, Stroke
from tutor.units import Unit, format_length

FINE = 0.2
"""mm that a drawn line may stray from its curve: less than a dot of any terminal shows."""
BESIDE = 45.0
"""mm between the sleeve and a bodice piece drawn beside it."""
BETWEEN = 50.0
"""mm between the two bodice pieces drawn by themselves."""
SIDE_SEAM_SHOWN = 70.0
"""mm of a side seam drawn below the bicep line."""
SPREAD = 0.3
"""How far pieces shown apart move outwards, as a share of their distance from the middle."""
GRAIN_SHOWN = 0.75
"""How far down from the bicep line to the hem the sign of the grain stands, as a share."""
SAME = 1e-6


class Armholes(Enum):
    """Whether the bodice armholes are shown: not at all, beside the cap, or by themselves, side seam to side seam."""

    HIDDEN = "hidden"
    BESIDE = "beside the cap"
    ALONE = "by themselves"


@dataclass(frozen=True, slots=True)
class View:
    """What of it is shown: the pattern as it was, the pieces pulled apart, the armholes, signs that tell places."""

    before: bool = True
    apart: bool = False
    armholes: Armholes = Armholes.HIDDEN
    telling: bool = True


@dataclass(frozen=True, slots=True)
class Pointing:
    """What someone points at, all in mm: a marker, both ends of a slash not yet made, a place that is refused."""

    marker: complex | None = None
    candidate: tuple[complex, complex] | None = None
    refused: complex | None = None


@dataclass(frozen=True, slots=True)
class SlashEnd:
    """An end of a slash, "start" or "end", where it is drawn (mm), and whether it is a hinge."""

    slash: str
    name: str
    point: complex
    hinge: bool

    @property
    def mark(self) -> Mark:
        """Its sign; the start carries the slash's name."""
        return Mark(self.point, Sign.HINGE if self.hinge else Sign.THROUGH, self.slash if self.name == "start" else "")


def scene_of(
    pattern: Pattern,
    altered: Altered | None = None,
    *,
    plan: Plan | None = None,
    view: View | None = None,
    pointing: Pointing | None = None,
    unit: Unit | None = None,
    folds: Sequence[Complexes] = (),
) -> Scene:
    """The scene of a pattern, altered or as it was; ``folds`` are lines on the sleeve, mm, shown while it lies flat.

    Without ``altered`` the paper lies flat, and the slashes of ``plan``, as far as they have places on it, are drawn
    where they would be cut. Amounts of openings are written beside them when a ``unit`` is given.
    """
    view, pointing = view or View(), pointing or Pointing()
    if view.armholes is Armholes.ALONE:
        parts = [Scene()]
    elif altered is None:
        parts = [_flat(pattern, plan, view), Scene(tuple(Stroke(line, Look.FOLD) for line in folds))]
    elif view.apart and len(altered.pieces) > 1:
        parts = [_apart(altered)]
    else:
        parts = [_laid_over(altered, view, unit)]
    if view.armholes is not Armholes.HIDDEN:
        parts += [_armhole(pattern, altered, side, view) for side in ("back", "front")]
    return _together([*parts, _pointed(pointing)])


def slash_lines(sleeve: Sleeve, plan: Plan) -> dict[str, tuple[complex, complex]]:
    """Both ends of every slash whose places can be found on the uncut paper, by name, in mm."""
    outline = lower_part(sleeve) if plan.set_back else whole(sleeve)
    lines: dict[str, tuple[complex, complex]] = {}
    waiting = list(plan.slashes)
    for _ in plan.slashes:
        for slash in waiting:
            ends = _end(outline, lines, slash, slash.start), _end(outline, lines, slash, slash.end)
            if ends[0] is not None and ends[1] is not None:
                lines[slash.name] = ends[0], ends[1]
        waiting = [slash for slash in waiting if slash.name not in lines]
    return lines


def slash_ends(sleeve: Sleeve, plan: Plan, altered: Altered | None = None) -> list[SlashEnd]:
    """Both ends of every slash as they are drawn: on the uncut paper, or where they went with ``altered``."""
    if altered is not None:
        return [end for k in range(len(altered.paper.slashes)) for end in _moved_ends(altered, k)]
    lines = slash_lines(sleeve, plan)
    return [
        SlashEnd(slash.name, name, point, hinge)
        for slash in plan.slashes
        if slash.name in lines
        for name, point, hinge in (
            ("start", lines[slash.name][0], slash.start_hinge),
            ("end", lines[slash.name][1], slash.end_hinge),
        )
    ]


def refused_at(pattern: Pattern, plan: Plan, refusal: Refusal, view: View) -> complex | None:
    """Where the place that a refusal is about is drawn, mm: on the flat paper, or on the armholes as they are shown.

    Half way along its slash where the refusal has no place; None where nothing in view is meant.
    """
    for side in ("back", "front"):
        if refusal.piece == f"the {side} bodice":
            armhole = pattern.armhole(side)
            if armhole is None or view.armholes is Armholes.HIDDEN:
                return None
            shown = None if view.armholes is Armholes.ALONE else pattern.sleeve
            return armhole.underarm_point + _place_beside(shown, armhole, side)
    if refusal.place is not None:
        return refusal.place
    # A slash that is nowhere on what is left when the cap is lifted off still has its place on the whole sleeve.
    kept_on = replace(plan, set_back=False)
    lines = [slash_lines(pattern.sleeve, each).get(refusal.slash) for each in (plan, kept_on)]
    return next((sum(line) / 2 for line in lines if line is not None), None)


def cap_bounds(sleeve: Sleeve, below: float = 60.0) -> Bounds:
    """The rectangle round the cap, and ``below`` mm under the bicep line."""
    ring = np.concatenate([sleeve.cap_back.flatten(FINE), sleeve.cap_front.flatten(FINE)])
    return Bounds(
        complex(ring.real.min(), min(float(ring.imag.min()), 0.0) - below), complex(ring.real.max(), ring.imag.max())
    )


def underarm_bounds(sleeve: Sleeve, side: str, around: float = 90.0) -> Bounds:
    """The square ``around`` mm to every side of the underarm point of ``side``, "back" or "front"."""
    point = sleeve.underarm_point_back if side == "back" else sleeve.underarm_point_front
    return Bounds(point - complex(around, around), point + complex(around, around))


def _end(outline: Outline, lines: dict[str, tuple[complex, complex]], slash: Slash, place: object) -> complex | None:
    if isinstance(place, OnSlash):
        if place.slash not in lines:
            return None
        a, b = lines[place.slash]
        return a + place.share * (b - a)
    try:
        return outline.spot(place, slash.name).point  # type: ignore[arg-type]
    except Refusal:
        return None


def _together(parts: Iterable[Scene]) -> Scene:
    parts = list(parts)
    return Scene(
        tuple(stroke for part in parts for stroke in part.strokes),
        tuple(patch for part in parts for patch in part.patches),
        tuple(mark for part in parts for mark in part.marks),
    )


def _line(a: complex, b: complex, look: Look) -> Stroke:
    return Stroke(np.array([a, b]), look)


def _closed(ring: Complexes, look: Look) -> Stroke:
    return Stroke(np.append(ring, ring[0]), look)


def _flat(pattern: Pattern, plan: Plan | None, view: View) -> Scene:
    sleeve = pattern.sleeve
    strokes = [_closed(sleeve.outline(FINE), Look.AFTER), *_guides(sleeve)]
    marks = [mark for mark in _landmarks(sleeve) if view.telling or mark.sign in (Sign.GRAIN, Sign.NOTCH)]
    if plan is not None:
        strokes += [_line(*line, Look.SLASH) for line in slash_lines(sleeve, plan).values()]
        marks += [end.mark for end in slash_ends(sleeve, plan)]
        if plan.set_back:
            strokes.append(_line(sleeve.underarm_point_back, sleeve.underarm_point_front, Look.SLASH))
    return Scene(tuple(strokes), (), tuple(marks))


def _laid_over(altered: Altered, view: View, unit: Unit | None) -> Scene:
    before, after = altered.before.sleeve, altered.after.sleeve
    strokes = [_closed(after.outline(FINE), Look.AFTER), *_guides(after), *_parted(altered)]
    if view.before and before != after:
        strokes.append(_was(before))
    patches = []
    if altered.gaps:
        patches.append(Patch(tuple(altered.gaps), Look.GAP))
    if altered.overlaps:
        patches += [Patch((ring,), Look.OVERLAP) for ring in altered.overlaps]
    marks = [
        *_landmarks(after),
        *(end.mark for end in slash_ends(before, altered.plan, altered)),
        *_openings(altered, unit),
    ]
    return Scene(tuple(strokes), tuple(patches), tuple(marks))


@lru_cache(maxsize=8)
def _was(sleeve: Sleeve) -> Stroke:
    """The sleeve as it was, which stays the same while amounts change."""
    return _closed(sleeve.outline(FINE), Look.BEFORE)


def _apart(altered: Altered) -> Scene:
    """The pieces as cut, moved outwards from their middle so that each is seen whole."""
    centres = [section(piece.ring).centre for piece in altered.pieces]
    middle = sum(centres) / len(centres)
    rings = [piece.ring + SPREAD * (centre - middle) for piece, centre in zip(altered.pieces, centres, strict=True)]
    marks = tuple(Mark(centre + SPREAD * (centre - middle), Sign.GRAIN) for centre in centres)
    return Scene(tuple(_closed(ring, Look.PIECE) for ring in rings), (), marks)


def _guides(sleeve: Sleeve) -> Iterator[Stroke]:
    """Bicep line, elbow line and grain line."""
    yield _line(sleeve.underarm_point_back, sleeve.underarm_point_front, Look.GUIDE)
    hem = (sleeve.hem.start.imag + sleeve.hem.end.imag) / 2
    yield _line(complex(0, sleeve.crown.imag), complex(0, hem), Look.GUIDE)
    elbow = level_of(sleeve, "elbow")
    if elbow is not None:
        crossings = [point.real for point in _at_level(sleeve, elbow)]
        if len(crossings) > 1:
            yield _line(complex(min(crossings), elbow), complex(max(crossings), elbow), Look.GUIDE)


def _at_level(sleeve: Sleeve, y: float) -> list[complex]:
    level = complex(0, y)
    return [complex(s, y) for s, _, _ in row_crossings(sleeve.rows(), level, level + 1)]


def _landmarks(sleeve: Sleeve) -> Iterator[Mark]:
    yield Mark(sleeve.underarm_point_back, Sign.UNDERARM, "back")
    yield Mark(sleeve.underarm_point_front, Sign.UNDERARM, "front")
    yield Mark(complex(0, GRAIN_SHOWN * (sleeve.hem.start.imag + sleeve.hem.end.imag) / 2), Sign.GRAIN)
    yield Mark(sleeve.crown, Sign.CROWN)
    for mark in sleeve.notches:
        yield Mark(sleeve.mark_point(mark), Sign.NOTCH)


def _edge_points(altered: Altered, slash: int, share: float, first: bool) -> tuple[complex, complex]:
    """Where both parted edges of a slash have gone at one of its ends."""
    stretches = altered.paper.of_slash(slash)
    stretch = stretches[0] if first else stretches[-1]
    point = altered.paper.along(slash, share)
    return altered.pieces[stretch.left].move(point), altered.pieces[stretch.right].move(point)


def _moved_ends(altered: Altered, slash: int) -> Iterator[SlashEnd]:
    given = altered.paper.slashes[slash]
    for name, share, hinge in (("start", 0.0, given.start_hinge), ("end", 1.0, given.end_hinge)):
        left, right = _edge_points(altered, slash, share, name == "start")
        yield SlashEnd(given.name, name, (left + right) / 2, hinge)


def _parted(altered: Altered) -> Iterator[Stroke]:
    """Both edges of every stretch of every slash, one line where they still touch; a set-back cap's lower edge."""
    paper, pieces = altered.paper, altered.pieces
    for cut in paper.cuts:
        ends = paper.along(cut.slash, cut.start), paper.along(cut.slash, cut.end)
        left, right = ([pieces[side].move(point) for point in ends] for side in (cut.left, cut.right))
        yield _line(left[0], left[1], Look.SLASH)
        if max(abs(left[0] - right[0]), abs(left[1] - right[1])) > SAME:
            yield _line(right[0], right[1], Look.SLASH)
    if altered.plan.set_back:
        cap, sleeve = pieces[-1].move, altered.before.sleeve
        yield _line(cap(sleeve.underarm_point_back), cap(sleeve.underarm_point_front), Look.SLASH)


def _openings(altered: Altered, unit: Unit | None) -> Iterator[Mark]:
    for asked, amount in zip(altered.asked, altered.opened, strict=True):
        left, right = (altered.pieces[side].move(asked.point) for side in (asked.left, asked.right))
        label = format_length(amount, unit, signed=True) if unit is not None else ""
        if abs(amount) > SAME:
            yield Mark((left + right) / 2, Sign.OPENING, label)


def _armhole(pattern: Pattern, altered: Altered | None, side: str, view: View) -> Scene:
    """One armhole, as it was and as it is; nothing where the pattern has none."""
    armhole = pattern.armhole(side)
    if armhole is None:
        return Scene()
    sleeve = pattern.sleeve if altered is None else altered.after.sleeve
    shift = _place_beside(None if view.armholes is Armholes.ALONE else sleeve, armhole, side)
    now = altered.after.armhole(side) if altered is not None else armhole
    piece = now or armhole
    strokes = list(_bodice(piece, shift, Look.ARMHOLE))
    if piece != armhole and view.before:
        strokes += _bodice(armhole, shift, Look.BEFORE)
    marks = [Mark(piece.underarm_point + shift, Sign.UNDERARM)]
    marks += [Mark(piece.seam.point(mark.u) + shift, Sign.NOTCH) for mark in piece.marks]
    if view.armholes is Armholes.ALONE:
        marks.append(Mark(piece.shoulder_tip + shift, Sign.CROWN, side))
    return Scene(tuple(strokes), (), tuple(marks))


def _place_beside(sleeve: Sleeve | None, armhole: Armhole, side: str) -> complex:
    """The shift that puts an armhole outside the sleeve, or outside the middle, its underarm point on y = 0."""
    curves = [armhole.seam] if armhole.side_seam is None else [armhole.seam, armhole.side_seam]
    points = np.concatenate([curve.flatten(FINE) for curve in curves])
    edge = np.zeros(1) if sleeve is None else sleeve.outline(FINE).real
    gap = BESIDE if sleeve is not None else BETWEEN / 2
    across = edge.min() - gap - points.real.max() if side == "back" else edge.max() + gap - points.real.min()
    return complex(across, -armhole.underarm_point.imag)


def _bodice(armhole: Armhole, shift: complex, look: Look) -> Iterator[Stroke]:
    yield Stroke(armhole.seam.flatten(FINE) + shift, look)
    if armhole.side_seam is not None:
        yield Stroke(_down_to(armhole.side_seam, -SIDE_SEAM_SHOWN - shift.imag) + shift, look)


def _down_to(side_seam: Curve, y: float) -> Complexes:
    """The upper part of a side seam, as far down as the level y."""
    level = complex(0, y)
    places = [u for _, u in side_seam.line_crossings(level, level + 1) if u > 0]
    return (side_seam.part(0, min(places)) if places else side_seam).flatten(FINE)


def _pointed(pointing: Pointing) -> Scene:
    strokes = () if pointing.candidate is None else (_line(*pointing.candidate, Look.CANDIDATE),)
    places = ((pointing.refused, Sign.REFUSED), (pointing.marker, Sign.MARKER))
    return Scene(strokes, (), tuple(Mark(place, sign) for place, sign in places if place is not None))
