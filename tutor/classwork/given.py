"""What a learner handed in: a figure or other text, a plan, or the altered pattern as a drawing or as traced points."""

from __future__ import annotations

import base64
import datetime
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from tutor.faults import Fault
from tutor.units import Unit

LONGEST_TEXT = 2000


@dataclass(frozen=True, slots=True)
class GivenText:
    """A figure, or whatever else is answered in words."""

    text: str


@dataclass(frozen=True, slots=True)
class GivenPlan:
    """A slash plan, as a plan file's table; ``units`` of its bare numbers stand in it."""

    table: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class GivenDrawing:
    """The altered pattern as the bytes of an SVG file."""

    svg: bytes


@dataclass(frozen=True, slots=True)
class GivenPoints:
    """The altered pattern as points traced along its lines: for each id of a pattern's, [x, y] after [x, y], in mm."""

    lines: Mapping[str, Sequence[Sequence[float]]]


Given: TypeAlias = GivenText | GivenPlan | GivenDrawing | GivenPoints


@dataclass(frozen=True, slots=True)
class Submission:
    """What one learner handed in at one time, read but not marked; ``source`` names the file, and the line if any;
    ``path`` is where the file lies.

    ``homework`` and ``variant`` are None where the file does not say. An answer that can't be read is its Fault.
    ``alone`` is a file that is one answer, and no form or row; ``dealt`` one that is called as the pattern that was
    handed out, and an answer only where it is another. ``attached`` are the files beside it that it names.
    """

    source: str
    learner: str
    answers: tuple[tuple[int, Given | Fault], ...]
    homework: str | None = None
    variant: str | None = None
    unit: Unit | None = None
    on: datetime.date | None = None
    alone: bool = False
    dealt: bool = False
    attached: tuple[str, ...] = ()
    path: str = ""


def stored_given(given: Given) -> dict[str, Any]:
    """What was handed in as a plain table."""
    match given:
        case GivenText(text):
            return {"text": text}
        case GivenPlan(table):
            return {"plan": table}
        case GivenDrawing(svg):
            return {"svg": _as_text(svg)}
        case GivenPoints(lines):
            return {"points": {name: [list(point) for point in points] for name, points in lines.items()}}


def given_from(stored: Any) -> Given:
    """What ``stored_given`` made the table of. Raises KeyError, TypeError or ValueError for anything else."""
    if "text" in stored:
        return GivenText(str(stored["text"]))
    if "plan" in stored:
        return GivenPlan(dict(stored["plan"]))
    if "svg" in stored:
        return GivenDrawing(_as_bytes(stored["svg"]))
    return GivenPoints({str(name): points for name, points in stored["points"].items()})


def digest_of(given: Given) -> str:
    """Sixteen letters and figures that two answers share only when they are the same."""
    text = json.dumps(stored_given(given), sort_keys=True, ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:16]


def _as_text(svg: bytes) -> Any:
    """The file as its text where it is UTF-8, so that it can be read where it is kept."""
    try:
        return svg.decode("utf-8")
    except UnicodeDecodeError:
        return {"base64": base64.b64encode(svg).decode("ascii")}


def _as_bytes(stored: Any) -> bytes:
    return stored.encode("utf-8") if isinstance(stored, str) else base64.b64decode(stored["base64"], validate=True)
