"""Path data (W3C, SVG 1.1, section 8.3) as chains of cubics.

Lines, quadratics and cubics are exact; arcs keep within a tolerance.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from tutor.faults import Fault
from tutor.geometry.cubic import Complexes
from tutor.pattern.svg_arc import Row, arc_rows
from tutor.pattern.svg_scan import Scanner

COMMANDS = "MmZzLlHhVvCcSsQqTtAa"
NUMBERS = {"M": 2, "Z": 0, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7}
MOST = 100_000
"""The most cubics that one file may draw."""


@dataclass(frozen=True, slots=True)
class Subpath:
    """One line without lifting the pen: cubics in the page's own units, y down; ``rows`` may be empty."""

    start: complex
    rows: list[Row] = field(default_factory=list)
    closed: bool = False

    def controls(self) -> Complexes:
        """The cubics as an array of shape (n, 4)."""
        return np.array(self.rows, dtype=np.complex128).reshape(-1, 4)


def read_path(text: str, where: str, tolerance: float = 1e-7) -> list[Subpath]:
    """The subpaths of path data; arcs are nowhere off by more than ``tolerance``, in the path's own units.

    Raises Fault, with the character, where the data leave the grammar, and when they draw more than 100,000 cubics.
    """
    scan = Scanner(text, where)
    pen = _Pen(where, tolerance)
    if not scan.ended() and scan.text[scan.at] not in "Mm":
        raise scan.fault("path data must begin with M or m")
    while not scan.ended():
        command = scan.letter(COMMANDS)
        if command in "Zz":
            pen.close()
            continue
        while True:
            pen.draw(command, _arguments(scan, command.upper()))
            command = {"M": "L", "m": "l"}.get(command, command)
            if not scan.more():
                break
    return pen.subpaths


def _arguments(scan: Scanner, command: str) -> list[float]:
    if command != "A":
        return [scan.number() for _ in range(NUMBERS[command])]
    radii = [scan.number() for _ in range(3)]
    flags = [float(scan.flag()) for _ in range(2)]
    return [*radii, *flags, scan.number(), scan.number()]


class _Pen:
    """Where the pen stands, and what it has drawn."""

    def __init__(self, where: str, tolerance: float) -> None:
        self.subpaths: list[Subpath] = []
        self._where = where
        self._tolerance = tolerance
        self._drawn = 0
        self._here = 0j
        self._start = 0j
        # The control point that S or T reflects, when the command before was of their kind.
        self._cubic: complex | None = None
        self._quadratic: complex | None = None
        self._steps: dict[str, Callable[[complex, list[float]], None]] = {
            "M": self._move,
            "L": self._line,
            "H": self._across,
            "V": self._down,
            "C": self._curve,
            "S": self._smooth,
            "Q": self._bend,
            "T": self._smooth_bend,
            "A": self._arc,
        }

    def draw(self, command: str, numbers: list[float]) -> None:
        """Takes one step; a small letter's numbers count from where the pen stands."""
        origin = self._here if command.islower() else 0j
        self._steps[command.upper()](origin, numbers)

    def close(self) -> None:
        """Draws back to where the subpath began."""
        if self._here != self._start:
            self._line(0j, [self._start.real, self._start.imag])
        self.subpaths[-1] = replace(self._current(), closed=True)
        self._here = self._start
        self._cubic = self._quadratic = None

    def _current(self) -> Subpath:
        if self.subpaths[-1].closed:
            self.subpaths.append(Subpath(self._here))
            self._start = self._here
        return self.subpaths[-1]

    def _add(self, rows: list[Row], end: complex) -> None:
        self._drawn += len(rows)
        if self._drawn > MOST:
            raise Fault(self._where, f"draws more than {MOST:,} curves", "a seam needs a few")
        self._current().rows.extend(rows)
        self._here = end
        self._cubic = self._quadratic = None

    def _move(self, origin: complex, numbers: list[float]) -> None:
        self._here = self._start = origin + complex(*numbers)
        if len(self.subpaths) >= MOST:
            raise Fault(self._where, f"lifts the pen more than {MOST:,} times", "a seam is one line")
        self.subpaths.append(Subpath(self._here))
        self._cubic = self._quadratic = None

    def _line(self, origin: complex, numbers: list[float]) -> None:
        self._straight(origin + complex(*numbers))

    def _across(self, origin: complex, numbers: list[float]) -> None:
        self._straight(complex(origin.real + numbers[0], self._here.imag))

    def _down(self, origin: complex, numbers: list[float]) -> None:
        self._straight(complex(self._here.real, origin.imag + numbers[0]))

    def _straight(self, end: complex) -> None:
        step = (end - self._here) / 3
        self._add([(self._here, self._here + step, end - step, end)], end)

    def _curve(self, origin: complex, numbers: list[float]) -> None:
        self._cubic_to(*(origin + complex(*numbers[k : k + 2]) for k in (0, 2, 4)))

    def _smooth(self, origin: complex, numbers: list[float]) -> None:
        first = self._here if self._cubic is None else 2 * self._here - self._cubic
        self._cubic_to(first, *(origin + complex(*numbers[k : k + 2]) for k in (0, 2)))

    def _cubic_to(self, first: complex, second: complex, end: complex) -> None:
        self._add([(self._here, first, second, end)], end)
        self._cubic = second

    def _bend(self, origin: complex, numbers: list[float]) -> None:
        self._quadratic_to(*(origin + complex(*numbers[k : k + 2]) for k in (0, 2)))

    def _smooth_bend(self, origin: complex, numbers: list[float]) -> None:
        control = self._here if self._quadratic is None else 2 * self._here - self._quadratic
        self._quadratic_to(control, origin + complex(*numbers))

    def _quadratic_to(self, control: complex, end: complex) -> None:
        here = self._here
        self._add([(here, here + (control - here) * 2 / 3, end + (control - end) * 2 / 3, end)], end)
        self._quadratic = control

    def _arc(self, origin: complex, numbers: list[float]) -> None:
        rx, ry, tilt, large, sweep, x, y = numbers
        end = origin + complex(x, y)
        rows = arc_rows(self._here, end, (rx, ry), tilt, bool(large), bool(sweep), self._tolerance)
        self._add(rows, end)
