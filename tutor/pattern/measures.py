"""Every measure of a pattern, computed from its seam lines.

Names are those people type and read in files; ``MEASURES`` says what each is and in which kind of unit.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

import numpy as np

from tutor.geometry.arclength import lengths
from tutor.geometry.curve import Curve, row_crossings
from tutor.pattern.armhole import Armhole
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS, Sleeve, level_of

FOREARM = 1 / 3
"""The forearm level lies this share of the way from elbow to hem (our own convention: the arm is fullest there)."""
SEAM_MEASURES = ("cap-seam-back", "cap-seam-front", "underarm-seam-front", "hem-seam", "underarm-seam-back")
"""The measures that are the lengths of ``SEAMS``."""


class Kind(Enum):
    """What a measure counts: a length in mm, an angle in degrees, a share in per cent, or an area in mm2."""

    LENGTH = "mm"
    ANGLE = "degrees"
    SHARE = "%"
    AREA = "mm2"


@dataclass(frozen=True, slots=True)
class Measure:
    """A measure's name in files, its words on screen, its kind, and its definition in a sentence."""

    name: str
    words: str
    kind: Kind
    meaning: str


def _measures() -> dict[str, Measure]:
    length, angle, share, area = Kind.LENGTH, Kind.ANGLE, Kind.SHARE, Kind.AREA
    rows = [
        ("bicep-girth", "bicep girth", length, "distance between the two underarm points"),
        (
            "cap-height",
            "cap height",
            length,
            "distance from the crown square to the bicep line; once the crown was moved, from where it was",
        ),
        ("cap-seam-back", "cap seam, back", length, "along the seam, underarm point to crown"),
        ("cap-seam-front", "cap seam, front", length, "along the seam, underarm point to crown"),
        ("cap-seam", "cap seam", length, "back and front cap seam together"),
        ("armhole-back", "armhole, back", length, "along the seam, underarm point to shoulder tip"),
        ("armhole-front", "armhole, front", length, "along the seam, underarm point to shoulder tip"),
        ("armhole", "armhole", length, "back and front armhole together"),
        ("cap-ease-back", "cap ease, back", length, "back cap seam less back armhole"),
        ("cap-ease-front", "cap ease, front", length, "front cap seam less front armhole"),
        ("cap-ease", "cap ease", length, "cap seam less armhole"),
        ("cap-ease-percent", "cap ease in %", share, "cap ease in per cent of the armhole"),
        ("ease-balance", "front less back ease", length, "front cap ease less back cap ease"),
        ("elbow-girth", "elbow girth", length, "width at the elbow line, square to the grain"),
        ("forearm-girth", "forearm girth", length, "width a third of the way from elbow to hem"),
        ("hem-girth", "hem girth", length, "width between the hem corners, square to the grain"),
        ("hem-seam", "hem seam", length, "along the hem, corner to corner"),
        ("hem-tilt", "hem tilt", angle, "hem corner to hem corner against square to the grain, + anticlockwise"),
        ("taper", "taper", length, "bicep girth less hem girth"),
        ("sleeve-length", "sleeve length", length, "cap to hem, along the grain line"),
        ("crown-to-elbow", "crown to elbow", length, "cap to elbow line, along the grain line"),
        ("underarm-seam-back", "underarm seam, back", length, "along the seam, underarm point to hem"),
        ("underarm-seam-front", "underarm seam, front", length, "along the seam, underarm point to hem"),
        (
            "underarm-mismatch",
            "underarm seams, front less back",
            length,
            "difference of the seams to be joined",
        ),
        ("notch-mismatch-front", "front notch apart", length, "underarm to notch, sleeve less armhole"),
        ("notch-mismatch-back-1", "lower back notch apart", length, "underarm to notch, sleeve less armhole"),
        ("notch-mismatch-back-2", "upper back notch apart", length, "underarm to notch, sleeve less armhole"),
        ("side-seam-back", "side seam, back", length, "bodice side seam from the underarm point down"),
        ("side-seam-front", "side seam, front", length, "bodice side seam from the underarm point down"),
        ("side-mismatch", "side seams, front less back", length, "difference of the seams to be joined"),
        (
            "crown-shift",
            "crown from the middle",
            length,
            "crown to the middle of the bicep line, + to the front",
        ),
        ("grain-tilt", "grain tilt", angle, "grain against square to the bicep line, + anticlockwise"),
        ("kink", "sharpest kink in the cap", angle, "the sharpest turn at a joint of the cap seam"),
        ("wearing-ease", "wearing ease", length, "bicep girth less arm girth"),
        (
            "stretch-used",
            "stretch used",
            share,
            "what the bicep girth must stretch to go round the arm",
        ),
        ("bust-gain", "bust gain", length, "what the moved side seams add to the bust, both sides"),
        ("overlap", "overlap", area, "area where pieces lie on each other"),
        ("gap", "gap", area, "area inside the new outline that no piece covers"),
    ]
    return {name: Measure(name, words, kind, meaning) for name, words, kind, meaning in rows}


MEASURES: dict[str, Measure] = _measures()
_ORDER = {name: place for place, name in enumerate(MEASURES)}


def measure(pattern: Pattern, arm_girth: float | None = None) -> dict[str, float]:
    """All measures that the pattern allows, by name: lengths in mm, angles in degrees, shares in per cent.

    Armhole, ease, side seam and notch measures appear only when the pattern carries those pieces and notches;
    ``wearing-ease`` and ``stretch-used`` only with an ``arm_girth`` (mm). Seam lengths are within 1e-9 mm.
    """
    sleeve = pattern.sleeve
    found = _widths(sleeve)
    seams = _seam_lengths(pattern)
    found["cap-seam"] = seams["cap-seam-back"] + seams["cap-seam-front"]
    found |= {name: value for name, value in seams.items() if not name.startswith("to-")}
    found["underarm-mismatch"] = seams["underarm-seam-front"] - seams["underarm-seam-back"]
    _ease(found)
    for notch in (mark.name for mark in sleeve.marks):
        if f"to-{notch}-sleeve" in seams and f"to-{notch}-armhole" in seams:
            found[f"notch-mismatch-{notch.removeprefix('notch-')}"] = (
                seams[f"to-{notch}-sleeve"] - seams[f"to-{notch}-armhole"]
            )
    if "side-seam-back" in found and "side-seam-front" in found:
        found["side-mismatch"] = found["side-seam-front"] - found["side-seam-back"]
    found["kink"] = _kink(sleeve)
    if arm_girth is not None:
        found |= on_arm(found["bicep-girth"], arm_girth)
    return dict(sorted(found.items(), key=lambda item: _ORDER.get(item[0], len(_ORDER))))


def on_arm(bicep_girth: float, arm_girth: float) -> dict[str, float]:
    """The measures that go by the arm in the sleeve, both girths in mm: ease in mm, stretch in per cent."""
    ease = bicep_girth - arm_girth
    return {"wearing-ease": ease, "stretch-used": 100 * max(-ease, 0.0) / bicep_girth}


def words_for(name: str) -> str:
    """The words of a measure on screen; of a notch beyond the usual three, made from its name."""
    known = MEASURES.get(name)
    return known.words if known else name.replace("notch-mismatch-", "notch ").replace("-", " ")


def kind_of(name: str) -> Kind:
    """The kind of unit of a measure; the notches of any name are lengths."""
    known = MEASURES.get(name)
    return known.kind if known else Kind.LENGTH


def _widths(sleeve: Sleeve) -> dict[str, float]:
    back, front, crown = sleeve.underarm_point_back, sleeve.underarm_point_front, sleeve.crown
    along = (front - back) / abs(front - back)
    top, bottom = sleeve.grain
    upright = (top - bottom) / abs(top - bottom)
    level, hem = upright * -1j, sleeve.hem.start - sleeve.hem.end
    found = {
        "bicep-girth": abs(front - back),
        "cap-height": ((sleeve.cap_top - back) * along.conjugate()).imag,
        "crown-shift": ((crown - (back + front) / 2) * along.conjugate()).real,
        "grain-tilt": math.degrees(float(np.angle(upright / (along * 1j)))),
        "hem-girth": abs((hem * level.conjugate()).real),
        "hem-tilt": math.degrees(cmath.phase(hem * level.conjugate())),
    }
    found["taper"] = found["bicep-girth"] - found["hem-girth"]
    elbow = level_of(sleeve, "elbow")
    if elbow is not None:
        lowest = (sleeve.hem.start.imag + sleeve.hem.end.imag) / 2
        found["elbow-girth"] = width_at(sleeve, elbow)
        found["forearm-girth"] = width_at(sleeve, elbow + (lowest - elbow) * FOREARM)
    return found | _lengths_along_grain(sleeve, elbow)


def _lengths_along_grain(sleeve: Sleeve, elbow: float | None) -> dict[str, float]:
    """From where the grain line leaves the cap down to the hem, and down to the elbow line; mm, of a framed sleeve."""
    top, bottom = sleeve.grain
    met = [top + s * (bottom - top) for s, _, _ in row_crossings(sleeve.rows(), top, bottom)]
    if len(met) < 2:
        return {}
    cap, hem = max(met, key=lambda point: point.imag), min(met, key=lambda point: point.imag)
    found = {"sleeve-length": abs(cap - hem)}
    return found if elbow is None else {**found, "crown-to-elbow": cap.imag - elbow}


def width_at(sleeve: Sleeve, y: float) -> float:
    """Width in mm across the sleeve at the level y, square to the grain of a framed sleeve; 0 above and below it."""
    level = complex(0, y)
    x = sorted(s for s, _, _ in row_crossings(sleeve.rows(), level, level + 1))
    return x[-1] - x[0] if len(x) > 1 else 0.0


def _seam_lengths(pattern: Pattern) -> dict[str, float]:
    """All arc lengths: seams by name, and underarm-to-notch as ``to-<notch>-sleeve`` and ``to-<notch>-armhole``."""
    sleeve = pattern.sleeve
    curves: dict[str, Curve] = {}
    for name, words in zip(SEAMS, SEAM_MEASURES, strict=True):
        curves[words] = sleeve.seam(name)
    for mark in sleeve.marks:
        if mark.seam == "cap-back" and mark.u > 0:
            curves[f"to-{mark.name}-sleeve"] = sleeve.cap_back.part(0, mark.u)
        elif mark.seam == "cap-front" and mark.u < len(sleeve.cap_front):
            curves[f"to-{mark.name}-sleeve"] = sleeve.cap_front.part(mark.u, len(sleeve.cap_front))
    found = curve_lengths(curves)
    for side in ("back", "front"):
        if (armhole := pattern.armhole(side)) is not None:
            found |= _armhole_lengths(armhole)
    return found


@lru_cache(maxsize=64)
def _armhole_lengths(armhole: Armhole) -> Mapping[str, float]:
    """Arc lengths of one armhole, which mostly stays as it is while the sleeve is altered over and over."""
    curves = {f"armhole-{armhole.side}": armhole.seam}
    if armhole.side_seam is not None:
        curves[f"side-seam-{armhole.side}"] = armhole.side_seam
    for mark in armhole.marks:
        if mark.u > 0:
            curves[f"to-{mark.name}-armhole"] = armhole.seam.part(0, mark.u)
    return curve_lengths(curves)


def curve_lengths(curves: Mapping[str, Curve]) -> dict[str, float]:
    """Arc lengths in mm of many curves at once, within 1e-9 mm."""
    if not curves:
        return {}
    each = lengths(np.concatenate([curve.controls for curve in curves.values()]), 1e-10)
    ends = np.cumsum([len(curve) for curve in curves.values()])
    parts = np.split(each, ends[:-1])
    return {name: float(part.sum()) for name, part in zip(curves, parts, strict=True)}


def _ease(found: dict[str, float]) -> None:
    for side in ("back", "front"):
        if f"armhole-{side}" in found:
            found[f"cap-ease-{side}"] = found[f"cap-seam-{side}"] - found[f"armhole-{side}"]
    if "armhole-back" in found and "armhole-front" in found:
        found["armhole"] = found["armhole-back"] + found["armhole-front"]
        found["cap-ease"] = found["cap-seam"] - found["armhole"]
        found["cap-ease-percent"] = 100 * found["cap-ease"] / found["armhole"]
        found["ease-balance"] = found["cap-ease-front"] - found["cap-ease-back"]


def _kink(sleeve: Sleeve) -> float:
    turns = [*sleeve.cap_back.turns_at_joints(), *sleeve.cap_front.turns_at_joints()]
    turns.append(np.angle(sleeve.cap_front.tangent(0) / sleeve.cap_back.tangent(len(sleeve.cap_back), arriving=True)))
    return math.degrees(max(abs(float(turn)) for turn in turns))
