"""The ids by which a pattern's elements are known in an SVG file, and those of its marks.

``notch-...`` is a notch on the cap seam of the side it names, else on the nearest seam of the sleeve;
``armhole-notch-...`` on the armhole of the side it names, else on the nearest one. ``SEAM-mark-NAME`` says the seam of
the mark NAME outright.
"""

from __future__ import annotations

import re

from tutor.pattern.sleeve import SEAMS, Mark

SIDES = ("back", "front")
ARMHOLES = ("armhole-back", "armhole-front")
PLAIN = frozenset(
    [
        *SEAMS,
        "grain",
        "bicep-line",
        "elbow-line",
        *ARMHOLES,
        *(f"{what}-{side}" for side in SIDES for what in ("side", "across")),
    ]
)
_NOTCH = re.compile(r"(?P<armhole>armhole-)?(?P<name>notch-((?P<side>back|front)(?![a-z]))?.*)", re.DOTALL)
_MARK = re.compile(rf"(?P<seam>{'|'.join([*SEAMS, *ARMHOLES])})-mark-(?P<name>.+)", re.DOTALL)


def is_known(name: str) -> bool:
    """Whether an id means something on a pattern."""
    return name in PLAIN or is_mark(name)


def is_mark(name: str) -> bool:
    """Whether an id is a mark's: a notch, or anything else on a seam."""
    return ("notch-" in name or "-mark-" in name) and bool(_NOTCH.fullmatch(name) or _MARK.fullmatch(name))


def mark_name(name: str) -> str:
    """What the mark with this id is called on its seam; partners on sleeve and armhole share it."""
    found = _MARK.fullmatch(name) or _NOTCH.fullmatch(name)
    assert found
    return found["name"]


def mark_seams(name: str) -> tuple[tuple[str, ...], ...]:
    """The seams on which to look for the mark with this id: the first group where it lies on one is the right one."""
    said = _MARK.fullmatch(name)
    if said:
        return ((said["seam"],),)
    found = _NOTCH.fullmatch(name)
    assert found
    side = found["side"]
    if found["armhole"]:
        return ((f"armhole-{side}",),) if side else (ARMHOLES,)
    return ((f"cap-{side}",), SEAMS) if side else (SEAMS,)


def mark_id(mark: Mark) -> str:
    """The id that brings a mark back to its name and seam."""
    whole = mark.name if mark.seam in SEAMS else f"armhole-{mark.name}"
    found = _NOTCH.fullmatch(whole)
    if found and found["side"] and mark_seams(whole)[0] == (mark.seam,):
        return whole
    return f"{mark.seam}-mark-{mark.name}"
