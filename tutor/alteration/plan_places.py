"""The words of a plan file, and its places: where on the paper a slash begins or ends."""

from __future__ import annotations

from dataclasses import dataclass

import msgspec

from tutor.alteration.outline import BICEP_LINE
from tutor.alteration.plan import Along, At, Landmark, OnSlash, Place, Share
from tutor.alteration.plan_lengths import Length, read_length, said
from tutor.faults import Fault
from tutor.pattern.sleeve import CORNERS, SEAMS
from tutor.toml_tables import convert
from tutor.units import Unit

LONGEST_NAME = 40
NEAR = 0.75
"""How like a name is to the one that may be meant, 0 to 1, before that is asked."""

SEAM_ENDS = {
    **{name: (CORNERS[k], CORNERS[(k + 1) % len(CORNERS)]) for k, name in enumerate(SEAMS)},
    BICEP_LINE: ("underarm-back", "underarm-front"),
}
"""The landmarks at the start and the end of each seam."""

Number = int | float
Table = dict[str, object]


class _OnSeam(msgspec.Struct, forbid_unknown_fields=True):
    seam: str
    distance: Length | None = None
    share: Number | None = None
    start: str | None = msgspec.field(name="from", default=None)


class _OnSlash(msgspec.Struct, forbid_unknown_fields=True):
    slash: str
    share: Number


class _Point(msgspec.Struct, forbid_unknown_fields=True):
    x: Length
    y: Length


@dataclass(frozen=True, slots=True)
class Context:
    """What the parts of a plan are read in the light of: unit, names of the slashes, whether the cap comes off.

    ``landmarks`` are those of the pattern that the plan is for, none where that is not known.
    """

    unit: Unit | None
    slashes: tuple[object, ...]
    set_back: bool
    landmarks: tuple[str, ...] = ()


def read_text(text: str, where: str, most: int) -> str:
    """The text, if it is one line that shows as it stands, and so can't steer a terminal. Raises Fault."""
    if len(text) > most:
        raise Fault(where, f"has {len(text)} letters", f"{most} are the most")
    if not text.isprintable():
        raise Fault(where, "has letters that can't be shown", "write one line of plain text")
    return text


def read_name(text: str, where: str) -> str:
    """The name, if it is one. Raises Fault."""
    if not text.strip():
        raise Fault(where, "is empty", "write a name")
    return read_text(text, where, LONGEST_NAME)


def read_share(value: Number, where: str) -> float:
    """The share, if it is from 0 to 1. Raises Fault."""
    if not 0 <= value <= 1:
        raise Fault(where, f"{said(value)} is no share of a length", "write a number from 0 to 1")
    return float(value)


def known_slash(name: str, where: str, context: Context) -> str:
    """The name, if a slash of the plan has it. Raises Fault."""
    if name not in context.slashes:
        names = [each for each in context.slashes if isinstance(each, str)]
        known = ", ".join(each[:LONGEST_NAME] for each in names[:10])
        right = f"the slashes are {known}" if known else "no slash has been written"
        raise Fault(where, f'"{name[:LONGEST_NAME]}" is no slash of this plan', right)
    return name


def read_place(written: str | Table, slash: str, where: str, context: Context) -> Place:
    """The place where the slash of this name begins or ends. Raises Fault for what is none on any pattern."""
    if isinstance(written, str):
        return _landmark(read_name(written, where), where, context)
    if "seam" in written:
        return _on_seam(convert(written, _OnSeam, where), where, context)
    if "slash" in written:
        return _on_slash(convert(written, _OnSlash, where), slash, where, context)
    point = convert(written, _Point, where)
    x = read_length(point.x, f"{where}, x", context.unit)
    return At(complex(x, read_length(point.y, f"{where}, y", context.unit)))


def _landmark(name: str, where: str, context: Context) -> Landmark:
    # Without its cap the paper has other places than the pattern.
    if context.landmarks and name not in context.landmarks and not context.set_back:
        import difflib

        near = difflib.get_close_matches(name, context.landmarks, 1, NEAR)
        right = f"did you mean {near[0]}?" if near else f"there are {', '.join(context.landmarks)}"
        raise Fault(where, f'"{name}" is no place on this pattern', right)
    return Landmark(name)


def _on_slash(place: _OnSlash, slash: str, where: str, context: Context) -> OnSlash:
    if place.slash == slash:
        raise Fault(f"{where}, slash", "is the slash itself", "end it on another slash, or on the outline")
    return OnSlash(known_slash(place.slash, f"{where}, slash", context), read_share(place.share, f"{where}, share"))


def _on_seam(place: _OnSeam, where: str, context: Context) -> Along | Share:
    ends = _seam_ends(place.seam, f"{where}, seam", context)
    if (place.distance is None) == (place.share is None):
        raise Fault(where, "should have one of distance and share", "give one of them")
    if place.start is None and place.share != 0.5:
        raise Fault(where, "doesn't say from which end", f'write from = "{ends[0]}" or from = "{ends[1]}"')
    if place.start is not None and place.start not in ends:
        what = f'"{place.start[:LONGEST_NAME]}" is no end of {place.seam}'
        raise Fault(f"{where}, from", what, f'write "{ends[0]}" or "{ends[1]}"')
    from_end = place.start == ends[1]
    if place.distance is not None:
        distance = read_length(place.distance, f"{where}, distance", context.unit)
        if distance < 0:
            raise Fault(f"{where}, distance", "is below zero", "measure it into the seam")
        return Along(place.seam, distance, from_end)
    share = read_share(place.share or 0, f"{where}, share")
    return Share(place.seam, 1 - share if from_end else share)


def _seam_ends(seam: str, where: str, context: Context) -> tuple[str, str]:
    """The landmarks at both ends of a seam that the paper to be slashed has."""
    away = ("cap-back", "cap-front") if context.set_back else (BICEP_LINE,)
    seams = [name for name in SEAM_ENDS if name not in away]
    if seam not in seams:
        what = f'"{seam[:LONGEST_NAME]}" is no seam of the paper that is slashed'
        raise Fault(where, what, f"the seams are {', '.join(seams)}")
    return SEAM_ENDS[seam]
