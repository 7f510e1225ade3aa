"""The plan as lines to choose from: slashes, the places where they open, the cap, other amounts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from tutor.alteration.amounts import PlanAmount
from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Along, Place, Share, Slash
from tutor.faults import Fault
from tutor.picture.looks import Sign
from tutor.practice.session import Session
from tutor.practice.stations import Station
from tutor.units import Unit, format_length, parse_length

SEAMS = {
    "cap-back": "cap, back",
    "cap-front": "cap, front",
    "underarm-back": "seam, back",
    "underarm-front": "seam, front",
    "hem": "hem",
    "bicep-line": "bicep line",
}
"""Seams in few words, for a place along them."""


class Kind(Enum):
    """What a line stands for."""

    SLASH = "slash"
    STATION = "station"
    SET_BACK = "set back"
    AMOUNT = "amount"


@dataclass(frozen=True, slots=True)
class PlanLine:
    """A line of the plan: ``key`` tells it apart and stays the same while the thing itself does.

    ``amount`` is in mm, None where there is none; ``slash``, ``station`` and ``of`` say what it is about.
    """

    kind: Kind
    key: str
    words: str
    amount: float | None = None
    slash: str = ""
    station: Station | None = None
    of: PlanAmount | None = None


def plan_lines(session: Session, chosen: str, *, ascii: bool) -> tuple[PlanLine, ...]:
    """All lines of the plan; places that stay shut are listed for the slash of the chosen line alone."""
    return (*_set_back(session), *_slashes(session, chosen, ascii), *_amounts(session))


def _set_back(session: Session) -> Iterator[PlanLine]:
    if session.may_use("set-back"):
        words = "cap lifted off, to be set back" if session.draft.set_back else "cap left on (l lifts it off)"
        yield PlanLine(Kind.SET_BACK, "set-back", words)


def _slashes(session: Session, chosen: str, ascii: bool) -> Iterator[PlanLine]:
    open_slash = chosen.split("/")[0]
    for slash in session.draft.slashes:
        yield PlanLine(Kind.SLASH, slash.name, slash_words(slash, session.unit, ascii=ascii), slash=slash.name)
        for station in session.stations(slash.name):
            if station.amount is not None or slash.name == open_slash:
                key = f"{slash.name}/{station.key}"
                yield PlanLine(Kind.STATION, key, station.words, station.amount, slash.name, station)


def _amounts(session: Session) -> Iterator[PlanLine]:
    for each in session.amounts:
        yield PlanLine(Kind.AMOUNT, each.key, each.line, each.read(session.draft), of=each)


def slash_words(slash: Slash, unit: Unit, *, ascii: bool) -> str:
    """A slash in one short line: its name, and both ends with their signs."""
    ends = ((slash.start, slash.start_hinge), (slash.end, slash.end_hinge))
    signs = [(Sign.HINGE if hinge else Sign.THROUGH).glyph(ascii=ascii) for _, hinge in ends]
    first, last = (end_words(place, unit) for place, _ in ends)
    return f"{slash.name} {signs[0]} {first} - {last} {signs[1]}"


def end_words(place: Place, unit: Unit) -> str:
    """A place in few words."""
    if isinstance(place, Along):
        return f"{SEAMS.get(place.seam, place.seam)} {format_length(place.distance, unit)}"
    if isinstance(place, Share):
        return f"{SEAMS.get(place.seam, place.seam)} {100 * place.share:.0f}%"
    words = place_words(place, unit).removeprefix("the ")
    for ending in (" point", " corner", " at the grain"):
        words = words.removesuffix(ending)
    return words


def main_station(stations: Sequence[Station], slash: Slash) -> Station | None:
    """Where a slash is opened when nothing else is said.

    Where it is open already; else where a slash crosses; else at its one free end; else at the bicep line.
    """
    if not stations:
        return None
    opened = [station for station in stations if station.amount]
    crossing = [station for station in stations if station.where]
    if opened or not crossing:
        return opened[0] if opened else _free_end(stations)
    hinged = "end" if slash.end_hinge and not slash.start_hinge else "start" if slash.start_hinge else ""
    share = crossing[0].share
    if slash.start_hinge == slash.end_hinge:
        hinged = "end" if share < 0.5 else "start"
    return next((station for station in crossing if station.toward == hinged), crossing[0])


def _free_end(stations: Sequence[Station]) -> Station:
    ends = [station for station in stations if station.key in ("start", "end")]
    if len(ends) == 1:
        return ends[0]
    at_bicep = [station for station in stations if station.key == "bicep-line"]
    return at_bicep[0] if at_bicep else min(stations, key=lambda station: abs(station.share - 0.5))


def line_amount(line: PlanLine, unit: Unit) -> str:
    """A line's amount in words: at a place with none asked a dash, with nought asked held shut."""
    if line.kind is Kind.AMOUNT:
        return format_length(line.amount or 0.0, unit, signed=True)
    if line.amount is None:
        return "-"
    return "held shut" if line.amount == 0 else format_length(line.amount, unit, signed=True)


FINE_STEP = {Unit.CM: 1.0, Unit.MM: 1.0, Unit.INCH: 25.4 / 16}
COARSE_STEP = {Unit.CM: 5.0, Unit.MM: 5.0, Unit.INCH: 25.4 / 4}


def stepped(amount: float | None, steps: int, unit: Unit, *, coarse: bool) -> float:
    """An amount so many steps on, on a whole number of steps of the learner's unit; mm."""
    step = (COARSE_STEP if coarse else FINE_STEP)[unit]
    here = (amount or 0.0) / step
    nearest = round(here)
    if abs(here - nearest) > 1e-6:
        # Between two marks of the tape the first step goes to the next mark that way.
        return step * (int(here // 1) + (1 if steps > 0 else 0))
    return step * (nearest + steps)


def stepped_text(text: str, steps: int, unit: Unit, start: float = 0.0) -> str:
    """A length in words so many fine steps on, in the learner's unit; from ``start`` mm where there is none yet."""
    try:
        mm = parse_length(text, unit)
    except Fault:
        mm = start
    return format_length(stepped(mm, steps, unit, coarse=False), unit)


FIGURE_STEP = 0.5


def stepped_figure(text: str, steps: int) -> str:
    """A figure that is no length, degrees or per cent, so many halves on; from nought where there is none yet."""
    try:
        figure = float(text.strip().rstrip("%°").replace(",", "."))
    except ValueError:
        figure = 0.0
    return f"{figure + steps * FIGURE_STEP:g}" if abs(figure) < 1e6 else text
