"""Paper cut along slashes: the pieces, what edge each keeps, and which two lie beside every stretch of every cut."""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from tutor.alteration.ends import find_ends
from tutor.alteration.outline import SAME, Outline, Spot
from tutor.alteration.plan import Slash
from tutor.alteration.refusal import CROSSES_SEAM, CUT_TWICE, STOPS_INSIDE, Refusal
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve, flatten_all, row_crossings
from tutor.geometry.region import Section, section, signed_area

GRAZE = 2.0
"""A slash may stray this far, in mm, over an edge that dips under it: a knife on the table cuts nothing there."""
ALONG = 0.02
"""A slash that is nowhere farther than this, in mm, from the edge runs along it."""

LEAST_AREA = 1.0
"""mm2; a piece smaller than this is a crumb, not a piece."""


@dataclass(frozen=True, slots=True)
class Arc:
    """A stretch of a seam, from u ``start`` to ``end``, that one piece keeps."""

    seam: int
    start: float
    end: float
    curve: Curve
    piece: int


@dataclass(frozen=True, slots=True)
class Cut:
    """A stretch of a slash between two neighbouring meeting places, with the pieces to its left and right.

    ``start`` and ``end`` are shares of the slash; left and right are as seen walking from its start to its end.
    """

    slash: int
    start: float
    end: float
    left: int
    right: int


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of paper: its name in the trade's words, and its ring of points in mm with the area it encloses."""

    name: str
    ring: Complexes
    section: Section


@dataclass(frozen=True, slots=True, eq=False)
class CutPaper:
    """The result of cutting: arcs in the order of the outline, cuts slash by slash, pieces, and slash end points."""

    arcs: tuple[Arc, ...]
    cuts: tuple[Cut, ...]
    pieces: tuple[Piece, ...]
    lines: tuple[tuple[complex, complex], ...]
    slashes: tuple[Slash, ...] = ()

    def along(self, slash: int, share: float) -> complex:
        """The point at a share of a slash, before moving."""
        a, b = self.lines[slash]
        return a + share * (b - a)

    def of_slash(self, slash: int) -> list[Cut]:
        """The cuts that a slash, by its number, makes in the paper."""
        return [cut for cut in self.cuts if cut.slash == slash]


def cut_paper(outline: Outline, slashes: Sequence[Slash]) -> CutPaper:
    """Cuts the outline along the slashes. Refuses those that paper can't be cut by."""
    ends = find_ends(outline, slashes)
    for slash, (a, b) in zip(slashes, ends, strict=True):
        _check_inside(outline, slash, a, b)
    graph = _Graph(outline, slashes, ends)
    return graph.cut()


def _check_inside(outline: Outline, slash: Slash, a: Spot, b: Spot) -> None:
    """Refuses a slash of no length, one that leaves the paper between its ends, and one that runs along the edge."""
    length = abs(b.point - a.point)
    if length < 1:
        what = f"the slash {slash.name} starts and ends at the same place"
        raise Refusal(CROSSES_SEAM, what, slash=slash.name, piece=outline.name, place=a.point)
    near = 0.05 / length
    inner = sorted(s for s, _, _ in row_crossings(outline.rows, a.point, b.point) if near < s < 1 - near)
    stops = np.array([0.0, *inner, 1.0])
    shares = (stops[:-1, None] + np.diff(stops)[:, None] * [0.25, 0.5, 0.75]).ravel()
    points = a.point + shares * (b.point - a.point)
    off = np.flatnonzero(outline.region.distances_outside(points) > GRAZE)
    if len(off):
        k = int(off[0]) // 3
        place = a.point + float(stops[k] if k else stops[k + 1]) * (b.point - a.point)
        what = f"the slash {slash.name} leaves the paper between its ends; make two slashes of it, each edge to edge"
        raise Refusal(CROSSES_SEAM, what, slash=slash.name, piece=outline.name, place=place)
    if (outline.region.distances_to_edge(points) <= ALONG).all():
        what = f"the slash {slash.name} runs along the seam, not across the paper"
        raise Refusal(CROSSES_SEAM, what, slash=slash.name, piece=outline.name, place=(a.point + b.point) / 2)


@dataclass(slots=True)
class _Node:
    point: complex
    seam: int = -1
    u: float = 0.0
    rays: list[int] = field(default_factory=list)
    """Half-edges that leave this node, clockwise; on the edge of the paper the onward arc comes first."""


@dataclass(slots=True)
class _HalfEdge:
    start: int
    end: int
    arc: tuple[int, float, float] | None = None
    slash: int = -1
    share: tuple[float, float] = (0.0, 0.0)
    face: int = -1


class _Graph:
    """Edge and slashes as nodes and half-edges; half-edges k and k ^ 1 are the two ways along one line."""

    def __init__(self, outline: Outline, slashes: Sequence[Slash], ends: Sequence[tuple[Spot, Spot]]) -> None:
        self.outline = outline
        self.slashes = slashes
        self.lines = tuple((a.point, b.point) for a, b in ends)
        self.nodes: list[_Node] = [_Node(curve.start, k) for k, curve in enumerate(outline.curves)]
        self.edges: list[_HalfEdge] = []
        stops = self._stops(ends)
        self._add_arcs()
        self._add_slashes(stops)
        self._order_rays()
        self._walk_faces()

    def _node(self, point: complex, seam: int = -1, u: float = 0.0) -> int:
        for k, node in enumerate(self.nodes):
            if abs(node.point - point) < SAME:
                if seam >= 0 > node.seam:
                    node.seam, node.u = seam, u
                return k
        self.nodes.append(_Node(point, seam, u))
        return len(self.nodes) - 1

    def _stops(self, ends: Sequence[tuple[Spot, Spot]]) -> list[list[tuple[float, int]]]:
        """For every slash the shares at which it meets something, with the node there, in order."""
        stops: list[dict[int, float]] = []
        for a, b in ends:
            first = self._node(a.point, a.seam, a.u)
            last = self._node(b.point, b.seam, b.u)
            stops.append({first: 0.0, last: 1.0})
        for i in range(len(ends)):
            for j in range(i + 1, len(ends)):
                meeting = self._meeting(i, j)
                if meeting is not None:
                    point, share_i, share_j = meeting
                    node = self._node(point)
                    stops[i].setdefault(node, share_i)
                    stops[j].setdefault(node, share_j)
        return [sorted((share, node) for node, share in stop.items()) for stop in stops]

    def _meeting(self, i: int, j: int) -> tuple[complex, float, float] | None:
        (a, b), (c, d) = self.lines[i], self.lines[j]
        along, other = b - a, d - c
        cross = (along.conjugate() * other).imag
        reach_i, reach_j = SAME / abs(along), SAME / abs(other)
        if abs(cross) < 1e-9 * abs(along) * abs(other):
            self._check_apart(i, j)
            return None
        share_i = ((c - a).conjugate() * other).imag / cross
        share_j = ((c - a).conjugate() * along).imag / cross
        if not (-reach_i <= share_i <= 1 + reach_i and -reach_j <= share_j <= 1 + reach_j):
            return None
        return a + share_i * along, share_i, share_j

    def _check_apart(self, i: int, j: int) -> None:
        """Refuses two slashes on one line that lie on each other."""
        (a, b), (c, d) = self.lines[i], self.lines[j]
        shares = sorted(((p - a) / (b - a)).real for p in (c, d))
        off = abs(((c - a) / (b - a)).imag) * abs(b - a)
        if off < SAME and min(shares[1], 1) - max(shares[0], 0) > SAME / abs(b - a):
            what = f"the slashes {self.slashes[i].name} and {self.slashes[j].name} lie on each other; leave one out"
            raise Refusal(CUT_TWICE, what, slash=self.slashes[j].name, piece=self.outline.name, place=c)

    def _pair(self, forward: _HalfEdge) -> None:
        back = _HalfEdge(forward.end, forward.start, slash=forward.slash, share=forward.share[::-1])
        self.edges += [forward, back]

    def _add_arcs(self) -> None:
        """The edge of the paper, clockwise, from node to node."""
        on_edge = [(node.seam, node.u, k) for k, node in enumerate(self.nodes) if node.seam >= 0]
        on_edge.sort()
        for (seam, u, k), (next_seam, next_u, n) in zip(on_edge, [*on_edge[1:], on_edge[0]], strict=True):
            end = next_u if next_seam == seam and next_u > u else float(len(self.outline.curves[seam]))
            self._pair(_HalfEdge(k, n, arc=(seam, u, end)))

    def _add_slashes(self, stops: list[list[tuple[float, int]]]) -> None:
        for slash, stop in enumerate(stops):
            for (share, node), (next_share, following) in itertools.pairwise(stop):
                self._pair(_HalfEdge(node, following, slash=slash, share=(share, next_share)))

    def _order_rays(self) -> None:
        for k, edge in enumerate(self.edges):
            self.nodes[edge.start].rays.append(k)
        for node in self.nodes:
            slashes = [k for k in node.rays if self.edges[k].slash >= 0]
            outward = self._outward(node) if node.seam >= 0 else -1 + 0j
            angles = {k: _clockwise(outward, self._direction(k, node)) for k in slashes}
            slashes.sort(key=angles.__getitem__)
            onward = [k for k in node.rays if self.edges[k].slash < 0 and k % 2 == 0]
            backward = [k for k in node.rays if self.edges[k].slash < 0 and k % 2 == 1]
            node.rays = onward + slashes + backward

    def _direction(self, k: int, node: _Node) -> complex:
        return self.nodes[self.edges[k].end].point - node.point

    def _outward(self, node: _Node) -> complex:
        """The direction away from the paper at a node of its edge: slashes never leave that way.

        Slashes may touch the seam's tangent, so they are ordered from this direction and not from the tangents.
        """
        curve = self.outline.curves[node.seam]
        onward = curve.tangent(node.u)
        if node.u > 0:
            arriving = curve.tangent(node.u, arriving=True)
        else:
            before = self.outline.curves[node.seam - 1]
            arriving = before.tangent(len(before), arriving=True)
        opening = _clockwise(onward, -arriving) or math.tau
        return -onward * cmath.rect(1, -opening / 2)

    def _walk_faces(self) -> None:
        """Numbers the faces with the face on the right of every half-edge; the outside is no face (-1)."""
        self.loops: list[list[int]] = []
        place = {k: (node, i) for node in self.nodes for i, k in enumerate(node.rays)}
        for first, edge in enumerate(self.edges):
            if edge.face >= 0 or (edge.slash < 0 and first % 2):
                continue
            loop, k = [], first
            while self.edges[k].face < 0:
                self.edges[k].face = len(self.loops)
                loop.append(k)
                node, i = place[k ^ 1]
                k = node.rays[i - 1]
            self.loops.append(loop)

    def cut(self) -> CutPaper:
        """The finished pieces. Refuses slashes that leave the paper in one piece on both their sides."""
        arcs = {k: self._arc(edge) for k, edge in enumerate(self.edges) if edge.arc is not None}
        flat = dict(zip(arcs, flatten_all([arc.curve for arc in arcs.values()]), strict=True))
        rings = [self._ring(loop, flat) for loop in self.loops]
        # A ring walked the wrong way is the outer side of a loop of slashes that touches no edge.
        inside_out = [signed_area(ring) > 0 for ring in rings]
        sections = [section(ring) if len(ring) > 2 and signed_area(ring) else None for ring in rings]
        cuts = []
        for k in range(0, len(self.edges), 2):
            edge = self.edges[k]
            if edge.slash < 0:
                continue
            left, right = self.edges[k ^ 1].face, edge.face
            if not (_sound(sections[left]) and _sound(sections[right])):
                self._refuse_sliver(edge)
            if left == right or inside_out[left] or inside_out[right]:
                self._refuse_dangling(edge)
            cuts.append(Cut(edge.slash, *edge.share, left, right))
        return CutPaper(
            tuple(arcs.values()),
            tuple(cuts),
            _named(rings, [each for each in sections if each]),
            self.lines,
            tuple(self.slashes),
        )

    def _refuse_sliver(self, edge: _HalfEdge) -> None:
        name = self.slashes[edge.slash].name
        what = f"the slash {name} cuts off next to nothing; move an end of it away from the edge or the other slash"
        raise Refusal(CROSSES_SEAM, what, slash=name, piece=self.outline.name, place=self.nodes[edge.end].point)

    def _refuse_dangling(self, edge: _HalfEdge) -> None:
        name = self.slashes[edge.slash].name
        what = f"the slash {name} leads to no edge on one side, so nothing can open; lead it on to an edge"
        raise Refusal(STOPS_INSIDE, what, slash=name, piece=self.outline.name, place=self.nodes[edge.end].point)

    def _arc(self, edge: _HalfEdge) -> Arc:
        assert edge.arc is not None
        seam, start, end = edge.arc
        return Arc(seam, start, end, self.outline.curves[seam].part(start, end), edge.face)

    def _ring(self, loop: list[int], flat: dict[int, Complexes]) -> Complexes:
        parts = [flat[k][:-1] if k in flat else np.array([self.nodes[self.edges[k].start].point]) for k in loop]
        return np.concatenate(parts)


def _sound(measured: Section | None) -> bool:
    """Whether a piece is one: no crumb, and not folded over itself.

    No region of an area A has a polar second moment below A^2 / 2 pi, that of a disk.
    """
    if measured is None or measured.area < LEAST_AREA:
        return False
    return measured.moment > 0.99 * measured.area**2 / math.tau


def _clockwise(start: complex, end: complex) -> float:
    """The clockwise angle from one direction to another, in [0, 2 pi)."""
    angle = cmath.phase(start / end) % math.tau
    return angle if angle < math.tau - 1e-12 else 0.0


def _named(rings: list[Complexes], sections: list[Section]) -> tuple[Piece, ...]:
    """Pieces with names that tell them apart by where they lie: cap or lower, back or front."""
    names = [_place_words(ring) for ring in rings]
    counted: dict[str, int] = {}
    pieces = []
    for name, ring, measured in zip(names, rings, sections, strict=True):
        counted[name] = counted.get(name, 0) + 1
        label = f"{name} {counted[name]}" if names.count(name) > 1 else name
        pieces.append(Piece(f"the {label}", ring, measured))
    return tuple(pieces)


def _place_words(ring: Complexes) -> str:
    x = (float(ring.real.min()), float(ring.real.max()))
    y = (float(ring.imag.min()), float(ring.imag.max()))
    # A piece belongs to a side when it barely reaches over to the other one.
    side = "" if x[0] < -0.2 * (x[1] - x[0]) and x[1] > 0.2 * (x[1] - x[0]) else "back" if sum(x) < 0 else "front"
    height = "cap" if y[0] > -0.2 * (y[1] - y[0]) else "lower part" if y[1] < 0.2 * (y[1] - y[0]) else "half"
    if not side:
        return {"cap": "cap piece", "lower part": "lower piece", "half": "middle piece"}[height]
    return f"{side} {height}"
