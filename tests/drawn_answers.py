"""Patterns as learners hand them back: redrawn by an unsteady hand, and rewritten as editors of drawings do.

Everything is drawn by a numbered generator, so that a test tries the same ones each time.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tutor.geometry import cubic
from tutor.geometry.cubic import Complexes
from tutor.geometry.curve import Curve
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS, Sleeve
from tutor.pattern.svg_ids import mark_id

NOISE = 0.3
"""mm."""
PX = 96 / 25.4


@dataclass(frozen=True)
class Hand:
    """How unsteady a hand is: how far points are off, at the most, and how far apart those are that it traces."""

    noise: float = NOISE
    every: float = 0.0
    """mm between traced points; 0 leaves the cubics, whose own points are then off."""

    @property
    def curves(self) -> bool:
        """Whether it draws curves, and does not trace points."""
        return not self.every


def lines_of(pattern: Pattern) -> dict[str, Complexes]:
    """All lines of a pattern by their ids, as cubics, shape (n, 4); armholes beside the sleeve."""
    sleeve = pattern.sleeve
    found = {name: sleeve.seam(name).controls for name in SEAMS}
    found["grain"] = cubic.line(*sleeve.grain)[None, :]
    found["bicep-line"] = cubic.line(sleeve.underarm_point_back, sleeve.underarm_point_front)[None, :]
    found |= _elbow(sleeve)
    for mark in sleeve.marks:
        if not mark.name.startswith("elbow"):
            found[mark_id(mark)] = _tick(sleeve.seam(mark.seam), mark.u)
    for side, shift in (("back", -400 + 0j), ("front", 400 + 0j)):
        piece = pattern.armhole(side)
        if piece is None:
            continue
        found[f"armhole-{side}"] = piece.seam.controls + shift
        if piece.side_seam is not None:
            found[f"side-{side}"] = piece.side_seam.controls + shift
        found[f"across-{side}"] = _tick(Curve(piece.seam.controls + shift), piece.across)
        for mark in piece.marks:
            found[f"armhole-{mark.name}"] = _tick(Curve(piece.seam.controls + shift), mark.u)
    return found


def _elbow(sleeve: Sleeve) -> dict[str, Complexes]:
    ends = [mark for mark in sleeve.marks if mark.name.startswith("elbow")]
    return {"elbow-line": cubic.line(*(sleeve.mark_point(mark) for mark in ends))[None, :]} if len(ends) == 2 else {}


def _tick(seam: Curve, u: float) -> Complexes:
    return cubic.line(seam.point(u), seam.point(u) + 1j * seam.tangent(u) * 5)[None, :]


def redrawn(lines: dict[str, Complexes], hand: Hand, rng: random.Random) -> dict[str, Complexes]:
    """The lines as a hand draws them anew."""
    return {name: _traced(rows, hand, rng) for name, rows in lines.items()}


def _traced(rows: Complexes, hand: Hand, rng: random.Random) -> Complexes:
    if not hand.every or (len(rows) == 1 and abs(rows[0, 3] - rows[0, 0]) < 2 * hand.every):
        return _off(rows, hand.noise, rng)
    curve = Curve(rows)
    length = curve.length()
    count = max(round(length / hand.every), 1)
    points = np.array([curve.point(curve.at_distance(length * k / count)) for k in range(count + 1)])
    points = np.array([point + jolt(hand.noise, rng) for point in points])
    return np.array([cubic.line(a, b) for a, b in itertools.pairwise(points)])


def _off(rows: Complexes, noise: float, rng: random.Random) -> Complexes:
    """Every control point off by itself; the joints stay joints."""
    moved = np.array([[point + jolt(noise, rng) for point in row] for row in rows])
    moved[1:, 0] = moved[:-1, 3]
    return moved


def jolt(noise: float, rng: random.Random) -> complex:
    """Within a disc of that radius, evenly."""
    return noise * math.sqrt(rng.random()) * complex(math.cos(a := rng.uniform(0, math.tau)), math.sin(a))


def as_editors_write(lines: dict[str, Complexes], rng: random.Random) -> bytes:
    """The lines as an editor might save them: split, relative, in groups with transforms, in px or mm, ids escaped."""
    style = rng.choice([_in_mm, _in_px, _in_groups])
    names = list(lines)
    rng.shuffle(names)
    rename: Callable[[str], str] = rng.choice(
        [lambda n: n, lambda n: n.replace("-", "_x2D_"), lambda n: f"{n}_1_", lambda n: n.replace("-", "_").upper()]
    )
    turned = {name: _rewritten(lines[name], rng) for name in names}
    return style(turned, rename, rng).encode()


def _rewritten(rows: Complexes, rng: random.Random) -> Complexes:
    """The same line with cubics split in two, and perhaps walked the other way."""
    split: list[Complexes] = []
    for row in rows:
        if rng.random() < 0.3 and abs(row[3] - row[0]) > 10:
            split += cubic.split(row, rng.uniform(0.3, 0.7))
        else:
            split.append(row)
    found = np.array(split)
    return found[::-1, ::-1] if rng.random() < 0.3 and len(rows) > 1 else found


def _in_mm(lines: dict[str, Complexes], rename: Callable[[str], str], rng: random.Random) -> str:
    body = "".join(f'<path id="{rename(name)}" d="{_absolute(rows, 1.0)}"/>' for name, rows in lines.items())
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" viewBox="-450 -300 900 900">{body}</svg>'
    )


def _in_px(lines: dict[str, Complexes], rename: Callable[[str], str], rng: random.Random) -> str:
    body = "".join(
        f'<path style="fill:none;stroke:#000" d="{_relative(rows, PX)}" id="{rename(name)}"/>'
        for name, rows in lines.items()
    )
    return f'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" version="1.1"><g id="layer1">{body}</g></svg>'


def _in_groups(lines: dict[str, Complexes], rename: Callable[[str], str], rng: random.Random) -> str:
    """Each line in a group of its own, scaled and shifted, which comes to the same place."""
    parts = []
    for name, rows in lines.items():
        scale, x, y = rng.uniform(0.5, 3), rng.uniform(-90, 90), rng.uniform(-90, 90)
        d = _relative((rows - complex(x, -y)) / scale, 1.0)
        parts.append(f'<g transform="translate({x!r} {y!r}) scale({scale!r})"><path d="{d}" id="{rename(name)}"/></g>')
    body = "".join(parts)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="90cm" height="90cm" viewBox="-450 -300 900 900">{body}</svg>'
    )


def _absolute(rows: Complexes, unit: float) -> str:
    steps = [f"M {_xy(rows[0, 0], unit)}"]
    steps += [f"C {' '.join(_xy(point, unit) for point in row[1:])}" for row in rows]
    return " ".join(steps)


def _relative(rows: Complexes, unit: float) -> str:
    """Relative commands, each from where the rounded ones before have led."""
    here = complex(round(rows[0, 0].real * unit, 4), round(-rows[0, 0].imag * unit, 4))
    steps = [f"m{here.real:.4f},{here.imag:.4f}"]
    for row in rows:
        ends = [complex(round(p.real * unit - here.real, 4), round(-p.imag * unit - here.imag, 4)) for p in row[1:]]
        steps.append("c" + " ".join(f"{p.real:.4f},{p.imag:.4f}" for p in ends))
        here += ends[-1]
    return "".join(steps)


def _xy(point: complex, unit: float) -> str:
    return f"{point.real * unit:.4f},{-point.imag * unit:.4f}"
