"""The commands that tell a figure: the sleeve, its cap, slashes, pieces and armholes, the cap walked, all measures."""

from __future__ import annotations

from collections.abc import Callable

from tutor.alteration.alter import Altered
from tutor.faults import Fault
from tutor.lesson.task import DiagnoseTask, NumberTask, PlaceTask
from tutor.marking.figures import shown
from tutor.pattern.cap_walk import CapWalk
from tutor.pattern.measures import words_for
from tutor.pattern.pattern import Pattern
from tutor.practice.figures_told import (
    Told,
    armhole_told,
    as_it_lies,
    cap_told,
    pieces_told,
    slashes_told,
    sleeve_told,
    walk_told,
)
from tutor.practice.plain_signs import folds_lines
from tutor.practice.plain_talk import Talk, refused_told
from tutor.practice.taping import taped_words

SIDES = ("back", "front")
SECRET = (
    "This task asks for the {words}, so the figure tells no lengths along the edge: work it out from the tape, or"
    " lay a tape measure between two places, as in measure crown to back underarm."
)
NAMELESS = "Places have no names while one is asked for; figure tells the edge in figures."
FROM_CROSSING = "Points are across, + to the front, and up, from where grain and bicep line cross."


def figure(talk: Talk, rest: str) -> list[str]:
    """Tells the figure that is named; the sleeve where none is."""
    word = rest.casefold().removeprefix("the ").strip() or "sleeve"
    tell = _FIGURES.get(word)
    if tell is None:
        raise Fault("figure", f'"{rest[:40]}" is no figure here', f"there are {', '.join(_NAMES)}")
    hidden = talk.session.hidden
    if hidden:
        return talk.lines(SECRET.format(words=words_for(hidden)))
    if _keeps_places_back(talk) and tell in (_sleeve, _cap):
        return _edge(talk) if tell is _sleeve else talk.lines(NAMELESS)
    return [*refused_told(talk), *tell(talk)]


def _keeps_places_back(talk: Talk) -> bool:
    """Whether a place is asked for, so that telling places by their names would be telling the answer."""
    return isinstance(talk.session.task, PlaceTask) and not talk.session.settled


def _edge(talk: Talk) -> list[str]:
    """The sleeve with nothing on it called by its name but the seams."""
    session = talk.session
    (lies, *_), _ = sleeve_told(session.pattern, None, session.unit)
    return talk.lines(lies, "The edge, clockwise:", *session.edge_lines(), FROM_CROSSING)


def walk(talk: Talk, rest: str) -> list[str]:
    """Walks the cap along one armhole, or along both."""
    words = rest.casefold().removeprefix("the ").removesuffix(" half").strip()
    if words not in ("", "both", *SIDES):
        raise Fault("walk", f'"{rest[:40]}" is no half of a cap', "write walk back, walk front, or walk alone for both")
    if talk.session.hidden:
        return talk.lines(SECRET.format(words=words_for(talk.session.hidden)))
    if _keeps_places_back(talk):
        return talk.lines(NAMELESS)
    lines = refused_told(talk)
    pattern = _now(talk)
    for side in SIDES:
        armhole = pattern.armhole(side)
        if words in ("", "both", side) and armhole is not None:
            lines += ["", *_lines(talk, walk_told(CapWalk.of(pattern.sleeve, armhole), talk.session.unit))]
    if lines and (note := as_it_lies(talk.session.task)):
        lines = [*talk.lines(note), *lines]
    return lines or talk.lines("This pattern has no armhole to walk the cap along.")


def measure(talk: Talk, rest: str) -> list[str]:
    """What a tape measure reads between two places, straight and along the edge."""
    if _keeps_places_back(talk):
        raise Fault("measure", "places have no names while one is asked for", "places tells the edge in figures")
    return talk.lines(taped_words(rest, talk.session.pattern.sleeve, talk.session.unit))


def measures(talk: Talk, rest: str) -> list[str]:
    """Every measure of the pattern: before, now, and the change; in one column where all is as it was."""
    session = talk.session
    before, now = session.measures_before(), session.measures_now()
    names = [name for name in (now or before) if name != session.hidden]
    if now == before:
        told = [("measure", session.lies), *((words_for(name), shown(name, now[name], session.unit)) for name in names)]
        return talk.page.table(told)
    rows = [("measure", "before", "now", "change")]
    for name in names:
        was = shown(name, before[name], session.unit) if name in before else ""
        figure = shown(name, now[name], session.unit) if now is not None else "-"
        change = ""
        if now is not None and name in before:
            change = shown(name, now[name] - before[name], session.unit, signed=True)
        rows.append((words_for(name), was, figure, change))
    return [*refused_told(talk), *talk.page.table(rows)]


def _sleeve(talk: Talk) -> list[str]:
    session = talk.session
    lines = _lines(talk, sleeve_told(session.pattern, _altered(talk), session.unit))
    if not isinstance(session.task, NumberTask) and session.draft.slashes:
        lines += ["", *_slashes(talk)]
    if isinstance(session.task, DiagnoseTask):
        lines = [*folds_lines(talk), "", *lines]
    return lines


def _cap(talk: Talk) -> list[str]:
    return _lines(talk, cap_told(talk.session.pattern, _altered(talk), talk.session.unit))


def _slashes(talk: Talk) -> list[str]:
    session = talk.session
    return _lines(talk, slashes_told(session.pattern, session.draft, _altered(talk), session.unit))


def _pieces(talk: Talk) -> list[str]:
    altered = _altered(talk)
    if altered is None:
        return talk.lines("There are no pieces yet: draw a slash and open it.")
    return _lines(talk, pieces_told(altered, talk.session.unit))


def _armholes(talk: Talk) -> list[str]:
    lines: list[str] = []
    for side in SIDES:
        before, now = talk.session.pattern.armhole(side), _now(talk).armhole(side)
        if before is not None and now is not None:
            lines += [*([""] if lines else []), *_lines(talk, armhole_told(before, now, talk.session.unit))]
    return lines or talk.lines("This pattern has no armholes.")


def _altered(talk: Talk) -> Altered | None:
    if isinstance(talk.session.task, NumberTask):
        return None
    found = talk.session.preview()
    return found if isinstance(found, Altered) else None


def _now(talk: Talk) -> Pattern:
    altered = _altered(talk)
    return talk.session.pattern if altered is None else altered.after


def _lines(talk: Talk, told: Told) -> list[str]:
    """A figure's sentences, and its table."""
    sentences, rows = told
    return [*talk.lines(*sentences), *(["", *talk.page.table(rows)] if rows else [])]


_FIGURES: dict[str, Callable[[Talk], list[str]]] = {
    "sleeve": _sleeve,
    "cap": _cap,
    "slashes": _slashes,
    "slash": _slashes,
    "pieces": _pieces,
    "piece": _pieces,
    "armholes": _armholes,
    "armhole": _armholes,
    "folds": folds_lines,
}
_NAMES = ("sleeve", "cap", "slashes", "pieces", "armholes", "folds")
