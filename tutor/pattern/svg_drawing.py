"""What an SVG page draws under the ids looked for, in millimetres with y up.

A line counts wherever it is drawn: in groups, links and nested pages, and through ``use``; what only lies ready to be
used (``defs``, ``symbol``, ``clipPath`` and their like) is not drawn. Hiding, clipping and styles are for the eye and
change nothing. An id on a group stands for all lines inside it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np

from tutor.faults import Fault
from tutor.geometry.cubic import Complexes
from tutor.pattern.svg_path import MOST, Subpath, read_path
from tutor.pattern.svg_scan import read_numbers, read_px
from tutor.pattern.svg_transform import Affine, read_transform
from tutor.pattern.svg_tree import DEEPEST, MOST_ELEMENTS, Element
from tutor.pattern.svg_viewport import inner_view, page_scale

ARC_TOLERANCE = 1e-7
"""Arcs are drawn this near, in mm, by cubics."""
FARTHEST = 100_000.0
"""No point may lie farther from the page's origin, in mm."""
MOST_LINES = 100
"""The most lines under one id."""
CONTAINERS = frozenset({"svg", "g", "a", "switch"})
SHAPES = frozenset({"path", "line", "polyline", "polygon", "rect", "circle", "ellipse"})
DRAWN = CONTAINERS | SHAPES | {"use"}
_STYLED = re.compile(r"(?<![\w-])(transform|translate|rotate|scale|offset|offset-path|zoom|d|cx|cy|x|y)\s*:")
_MOVED_BY_SHEET = re.compile(r"(?<![\w-])(transform|translate|rotate|scale|offset|offset-path|zoom|d)\s*:")
_IDLE = re.compile(r"(?<![\w-])(transform|translate|rotate|scale|offset-path)\s*:\s*none\s*(?=;|$)")
"""What says in a style only that nothing is moved, where no attribute moves it either."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line without a lift of the pen: ``controls`` of shape (n, 4) in mm, y up; n is 0 for a mere dot."""

    start: complex
    controls: Complexes
    closed: bool


@dataclass(frozen=True, slots=True, eq=False)
class _Placed:
    """An element where it is drawn: inside ``outer``, or, below a ``use``, as what that shows."""

    element: Element
    outer: _Placed | None = None
    depth: int = 1
    used: bool = False

    def chain(self) -> Iterator[Element]:
        """The element and all around it, outwards."""
        placed: _Placed | None = self
        while placed:
            yield placed.element
            placed = placed.outer


@dataclass(slots=True)
class Drawing:
    """The drawn elements of a page whose ids are ``wanted``, in the order of the file.

    Raises Fault when two have the same id, or a ``use`` shows itself.
    """

    root: Element
    where: str
    wanted: Callable[[str], bool]
    ids: tuple[str, ...] = field(default=(), init=False)
    """The wanted ids that are drawn."""
    others: tuple[str, ...] = field(default=(), init=False)
    """The other ids of the file."""
    _by_id: dict[str, list[Element]] = field(default_factory=dict, init=False)
    _found: dict[str, _Placed] = field(default_factory=dict, init=False)
    _own_maps: dict[int, Affine] = field(default_factory=dict, init=False)
    _placed: dict[_Placed, Affine] = field(default_factory=dict, init=False)
    _curves: int = field(default=0, init=False)

    def __post_init__(self) -> None:
        for element in _all(self.root):
            if element.id:
                self._by_id.setdefault(element.id, []).append(element)
            if element.name == "style":
                self._refuse_styled(element, element.text, _MOVED_BY_SHEET)
        self._refuse_doubles()
        self._find()
        self.ids = tuple(self._found)
        self.others = tuple(name for name in self._by_id if name not in self._found)

    def place(self, name: str) -> str:
        """Where a fault about an id is: file, line and id."""
        return self._where(self._found[name].element, name)

    def lines(self, name: str) -> list[Line]:
        """What is drawn under an id. Raises Fault for nothing, or for what can't be read."""
        drawn: list[Line] = []
        for placed in self._shapes(self._found[name]):
            drawn.extend(self._lines(placed, self.place(name)))
            if len(drawn) > MOST_LINES:
                raise Fault(self.place(name), f"draws more than {MOST_LINES} separate lines", "a seam is one line")
        if not drawn:
            raise Fault(self.place(name), "draws no line", "draw it as a path or a line")
        return drawn

    def point(self, name: str) -> complex:
        """The place an id marks: the centre of a circle, ellipse or rectangle, or the first point of any other line.

        Raises Fault where nothing is drawn.
        """
        for placed in self._shapes(self._found[name]):
            centre = _centre(placed.element, self.place(name))
            if centre is not None:
                return self._point(centre, self._map(placed), self.place(name))
            for line in self._lines(placed, self.place(name)):
                return line.start
        raise Fault(
            self.place(name), "marks no point", "draw it as a short line that starts on the seam, or as a circle"
        )

    def origin(self, name: str) -> complex | None:
        """The place of the origin that an element says its piece is measured from (``data-origin``), if it says so.

        Raises Fault where it says anything but two numbers.
        """
        placed = self._found[name]
        text = placed.element.attributes.get("data-origin")
        if text is None:
            return None
        numbers = read_numbers(text, self.place(name))
        if len(numbers) != 2:
            raise Fault(self.place(name), f'has the data-origin "{text[:40]}"', "it is two numbers, or left out")
        return self._point(complex(*numbers), self._map(placed), self.place(name))

    def _where(self, element: Element, name: str = "") -> str:
        return ", ".join(filter(None, [self.where, f"line {element.line}", name or element.id or f"<{element.name}>"]))

    def _refuse_doubles(self) -> None:
        for name, elements in self._by_id.items():
            if len(elements) > 1 and self.wanted(name):
                first, second = elements[:2]
                raise Fault(
                    f"{self.where}, line {second.line}",
                    f"{name} is the id of two elements, the other on line {first.line}",
                    "each id belongs to one",
                )

    def _find(self) -> None:
        through_use: dict[str, list[_Placed]] = {}
        order: dict[str, None] = {}
        for placed in self._visit(_Placed(self.root), lambda element: self.wanted(element.id)):
            name = placed.element.id
            if not self.wanted(name) or placed.element.name not in DRAWN:
                continue
            order[name] = None
            if placed.used:
                through_use.setdefault(name, []).append(placed)
            else:
                self._found[name] = placed
        for name, places in through_use.items():
            if name not in self._found and len(places) > 1:
                raise Fault(self._where(places[0].element, name), "is used at two places", "use it once")
            self._found.setdefault(name, places[0])
        self._found = {name: self._found[name] for name in order}

    def _visit(self, first: _Placed, stop: Callable[[Element], bool]) -> Iterator[_Placed]:
        """All that is drawn in an element, itself first, in order; not what is inside elements that ``stop``."""
        waiting = [first]
        count = 0
        while waiting:
            placed = waiting.pop()
            count += 1
            if count > MOST_ELEMENTS or placed.depth > DEEPEST:
                raise Fault(self._where(placed.element), "is drawn too often or too deep", "draw with fewer uses")
            yield placed
            if placed is first or not stop(placed.element):
                waiting.extend(reversed(self._inside(placed)))

    def _inside(self, placed: _Placed) -> list[_Placed]:
        element = placed.element
        if element.name in CONTAINERS:
            inner = element.children
        elif element.name == "use":
            inner = self._used(placed)
        else:
            inner = []
        used = placed.used or element.name == "use"
        return [_Placed(child, placed, placed.depth + 1, used) for child in inner if child.name]

    def _used(self, placed: _Placed) -> list[Element]:
        """What a ``use`` shows: nothing where its link leads nowhere in this file."""
        link = placed.element.attributes.get("href", "").strip()
        targets = self._by_id.get(link[1:], []) if link.startswith("#") else []
        if any(element is target for target in targets for element in placed.chain()):
            raise Fault(self._where(placed.element), "is a use that shows itself", "draw the line in place")
        return targets[:1]

    def _shapes(self, placed: _Placed) -> Iterator[_Placed]:
        for inner in self._visit(placed, lambda _: False):
            element = inner.element
            if element.name in SHAPES:
                yield inner
            elif element.name == "use":
                self._refuse_unusable(inner)

    def _refuse_unusable(self, placed: _Placed) -> None:
        targets = self._used(placed)
        if not targets or targets[0].name not in CONTAINERS | SHAPES | {"use"}:
            raise Fault(
                self._where(placed.element),
                "is a use of something that can't be followed here",
                "draw the line in place",
            )

    def _map(self, placed: _Placed) -> Affine:
        """The map from an element's own units to mm on the page."""
        waiting = []
        around: _Placed | None = placed
        while around and around not in self._placed:
            waiting.append(around)
            around = around.outer
        whole = self._placed[around] if around else Affine()
        for inner in reversed(waiting):
            where = self._where(inner.element)
            whole = whole @ self._step(inner.element, where)
            if not whole.usable():
                raise Fault(where, "is placed beyond 100 m", "look for a transform that is too large")
            self._placed[inner] = whole
        return whole

    def _step(self, element: Element, where: str) -> Affine:
        """The map from an element's own units to those of what it stands in."""
        style = element.attributes.get("style", "")
        # A style goes before the attribute, which would then move nothing.
        style = style if "transform" in element.attributes else _IDLE.sub("", style)
        self._refuse_styled(element, style, _STYLED)
        own = self._own(element, where)
        if element is self.root:
            return own @ page_scale(element, where)
        if element.name == "svg":
            return own @ inner_view(element, where)
        if element.name == "use":
            x, y = (read_px(element.attributes.get(name, "0"), where) for name in ("x", "y"))
            return own @ Affine.shift(x, y)
        return own

    def _own(self, element: Element, where: str) -> Affine:
        """The map of an element's own transform, read once."""
        text = element.attributes.get("transform")
        if text is None:
            return Affine()
        if id(element) in self._own_maps:
            return self._own_maps[id(element)]
        origin = element.attributes.get("transform-origin", "")
        if origin.replace("px", "").split() not in ([], ["0"], ["0", "0"]):
            raise Fault(where, "has a transform-origin", "write it into the transform")
        self._own_maps[id(element)] = read_transform(text, where)
        return self._own_maps[id(element)]

    def _refuse_styled(self, element: Element, style: str, pattern: re.Pattern[str]) -> None:
        found = pattern.search(style)
        if found:
            raise Fault(self._where(element), f"places lines by the style {found[1]}", "write it as an attribute")

    def _lines(self, placed: _Placed, where: str) -> Iterator[Line]:
        whole = self._map(placed)
        tolerance = ARC_TOLERANCE / max(whole.stretch, 1e-12)
        for subpath in _subpaths(placed.element, where, tolerance):
            self._curves += max(len(subpath.rows), 1)
            if self._curves > MOST:
                raise Fault(where, f"draws more than {MOST:,} curves with those before it", "a seam needs a few")
            controls = self._carried(subpath.controls(), whole, where)
            start = self._point(subpath.start, whole, where)
            yield Line(start, controls, subpath.closed)

    def _point(self, point: complex, whole: Affine, where: str) -> complex:
        return complex(self._carried(np.array([point]), whole, where)[0])

    def _carried(self, points: Complexes, whole: Affine, where: str) -> Complexes:
        page = whole(points)
        # Also refuses what is not a number, since nothing compares with it.
        if page.size and not (np.abs(page.real).max() <= FARTHEST and np.abs(page.imag).max() <= FARTHEST):
            raise Fault(where, "lies beyond 100 m", "look for a number or a transform that is too large")
        return page.conj()


def _all(root: Element) -> Iterator[Element]:
    waiting = [root]
    while waiting:
        element = waiting.pop()
        if element.name:
            yield element
            waiting.extend(reversed(element.children))


def _numbers(element: Element, names: tuple[str, ...], where: str) -> list[float]:
    return [read_px(element.attributes.get(name, "0"), where) for name in names]


def _centre(element: Element, where: str) -> complex | None:
    if element.name in ("circle", "ellipse"):
        return complex(*_numbers(element, ("cx", "cy"), where))
    if element.name == "rect":
        x, y, width, height = _numbers(element, ("x", "y", "width", "height"), where)
        return complex(x + width / 2, y + height / 2)
    return None


def _subpaths(element: Element, where: str, tolerance: float) -> list[Subpath]:
    """The lines of a shape in its own units. A round or four-sided shape is told as one closed dot."""
    if element.name == "path":
        return read_path(element.attributes.get("d", ""), where, tolerance)
    if element.name == "line":
        x1, y1, x2, y2 = _numbers(element, ("x1", "y1", "x2", "y2"), where)
        return [_corners([complex(x1, y1), complex(x2, y2)])]
    if element.name in ("polyline", "polygon"):
        numbers = read_numbers(element.attributes.get("points", ""), where)
        if len(numbers) % 2:
            raise Fault(where, f"has {len(numbers)} numbers as points", "points come in pairs x,y")
        corners = [complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        return [_corners(corners, element.name == "polygon")] if corners else []
    centre = _centre(element, where)
    return [Subpath(centre, closed=True)] if centre is not None else []


def _corners(corners: list[complex], closed: bool = False) -> Subpath:
    ends = [*corners[1:], *corners[:1]] if closed else corners[1:]
    rows = [(a, a + (b - a) / 3, b - (b - a) / 3, b) for a, b in zip(corners, ends, strict=False)]
    return Subpath(corners[0], rows, closed)
