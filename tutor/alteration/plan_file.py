"""Plans as people write them: TOML 1.0, with our own words.

::

    title = "Crossed slashes, crown closed"
    units = "cm"             # of numbers without a unit: "mm", "cm" or "in"; needless when every length says its own
    set-back = false         # true: the cap comes off along the bicep line first, and is set back afterwards

    [[slash]]
    name = "grain"
    from = "crown"           # a place, see below
    to = "grain-hem"
    hinge = "to"             # the ends that hold: "from", "to" or ["from", "to"]; left out, both are cut through

    [[opening]]
    slash = "grain"
    at = "from"              # "from", "to", a share from 0 to 1, or { crosses = "bicep", toward = "to" }
    amount = "3 cm"          # overlaps when below zero

    [[opening]]
    slash = "bicep"
    at = 0.5
    for = { measure = "bicep-girth", change = "3 cm" }   # solved for; or value = "37 cm"

    [armhole.front]          # and armhole.back: what the bodice piece answers
    widen = "8 mm"
    lower = "8 mm"

A place is a landmark's name; ``{ seam = "cap-back", distance = "6 cm", from = "crown" }`` along a seam from a landmark
at either end of it; ``{ seam = "hem", share = 0.5 }``, which needs ``from`` unless it is one half;
``{ slash = "grain", share = 0.4 }`` on another slash; or ``{ x = "-3 cm", y = "2 cm" }`` from where grain and bicep
line cross, x to the front and y to the shoulder. A length is text such as "1 1/2 in", or a number in ``units``.
"""

from __future__ import annotations

import json
import math
import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from tutor.alteration.outline import BICEP_LINE
from tutor.alteration.plan import Along, Answer, At, Landmark, OnSlash, Opening, Place, Plan, Share, Slash
from tutor.faults import Fault
from tutor.pattern.measures import MEASURES, Kind
from tutor.pattern.sleeve import CORNERS, SEAMS
from tutor.units import Unit, parse_length

LARGEST_FILE = 1_000_000
"""Bytes; a plan of the most slashes takes a tenth of this."""
MOST_SLASHES = 200
MOST_OPENINGS = 400
GREATEST_LENGTH = 10_000.0
"""mm; no length of a plan is believed beyond 10 m."""
LONGEST_NAME = 40
LONGEST_TITLE = 200

Length = str | int | float
T = TypeVar("T")
S = TypeVar("S", bound=msgspec.Struct)


@dataclass(frozen=True, slots=True)
class Aim:
    """What the opening numbered ``opening`` is solved for: a measure's ``value``, or its ``change`` from before.

    The figure is in the measure's unit inside: mm, degrees, per cent or mm2. Just one of the two is a number.
    """

    opening: int
    measure: str
    value: float | None = None
    change: float | None = None


@dataclass(frozen=True, slots=True)
class PlanFile:
    """A plan as written, and the aims of those openings whose amount is still to be solved, which are 0 in it."""

    plan: Plan
    aims: tuple[Aim, ...] = ()


class PlanFaults(Fault):
    """All faults found in a plan; as a Fault it is the first of them."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__(faults[0].where, faults[0].what, faults[0].right)
        self.faults = tuple(faults)


def read_plan(source: Path | bytes, where: str = "plan") -> PlanFile:
    """Reads a plan from a file, or from its bytes, which faults then call ``where``.

    Raises PlanFaults with every fault of the slashes, openings and armholes; Fault where the file can't be read at all.
    """
    if isinstance(source, Path):
        where = str(source)
        source = _bytes(source)
    return plan_from(*_document(source, where), where)


def _bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(LARGEST_FILE + 1)
    except OSError as error:
        raise Fault(str(path), error.strerror or "can't be read", "give a plan file") from None


def _document(data: bytes, where: str) -> tuple[Mapping[str, Any], str]:
    """The tables of a TOML document, and its text."""
    if len(data) > LARGEST_FILE:
        raise Fault(where, "is over 1 MB", "a plan takes a few kB")
    try:
        text = data.decode("utf-8").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        place = f"{where}: line {data[: error.start].count(b'\n') + 1}" if False else where
        raise Fault(place, "is not UTF-8 text", "save it as UTF-8") from None
    try:
        return tomllib.loads(text), text
    except tomllib.TOMLDecodeError as error:
        raise _not_toml(str(error), where) from None
    except ValueError:
        raise Fault(where, "has a number too long to read", "give lengths below 10 m") from None
    except RecursionError:
        raise Fault(where, "is nested too deeply", "a plan needs three levels") from None
