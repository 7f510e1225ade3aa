"""The commands that build: slashes, hinges, openings, the cap lifted off, what the armholes answer."""

from __future__ import annotations

import re

from tutor.alteration.plan import Slash
from tutor.faults import Fault
from tutor.lesson.task import DiagnoseTask
from tutor.practice.editing import End, slash_named
from tutor.practice.plain_looking import built, task_lines, where_to_open
from tutor.practice.plain_reading import amount_at_end, ends_named, split_at, station_named
from tutor.practice.plain_talk import Talk
from tutor.practice.session import Session
from tutor.practice.steps import opening_words, slash_words

_HINGES = re.compile(r"(?P<rest>.*?),?\s+(?:with\s+)?(?:a\s+|an\s+)?hinges?\s+(?:at\s+)?(?P<ends>.+)", re.IGNORECASE)
_NAMED = re.compile(r"(?P<rest>.+?),?\s+(?:as|named|called)\s+(?P<name>\S+)", re.IGNORECASE)


def slash(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    name: str | None = None
    if match := _NAMED.fullmatch(rest):
        rest, name = match["rest"], match["name"]
    hinges = ""
    if match := _HINGES.fullmatch(rest):
        rest, hinges = match["rest"], match["ends"]
    rest = rest.removeprefix("from ")
    first, found, second = split_at(rest, " to ")
    if not found:
        raise Fault("slash", "goes from one place to another", "write slash crown to hem, hinge at hem")
    start, end = session.read_place(first), session.read_place(second)
    for words, place in ((first, start), (second, end)):
        if session.point(place) is None:
            raise Fault("slash", f'"{words}" is nowhere on this paper', "places lists where a slash can begin and end")
    probe = Slash("", start, end)
    held = ends_named(talk, probe, hinges) if hinges else set[End]()
    name = session.add_slash(start, end, "start" in held, "end" in held, name)
    return talk.after_edit(
        f"Slash {slash_words(slash_named(session.draft, name), session.unit)}.", *where_to_open(talk, name)
    )


def move(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    match = re.fullmatch(r"(\S+)\s+(?:from\s+(?P<start>.+?))?(?:\s*\bto\s+(?P<end>.+))?", rest, re.IGNORECASE)
    if match is None or not (match["start"] or match["end"]):
        raise Fault(
            "move", "needs a slash and where its start or end goes", "write move A from crown, or move A to hem"
        )
    slash = slash_named(session.draft, match[1])
    start = session.read_place(match["start"]) if match["start"] else None
    end = session.read_place(match["end"]) if match["end"] else None
    session.move_slash(slash.name, start, end)
    return talk.after_edit(f"Slash {slash_words(slash_named(session.draft, slash.name), session.unit)}.")


def remove(talk: Talk, rest: str) -> list[str]:
    name = slash_named(talk.session.draft, rest.removeprefix("slash ")).name
    talk.session.remove_slash(name)
    return talk.after_edit(f"Slash {name} is taken away.")


def hinge(talk: Talk, rest: str) -> list[str]:
    return _hold(talk, rest, holds=True)


def cut(talk: Talk, rest: str) -> list[str]:
    return _hold(talk, rest, holds=False)


def _hold(talk: Talk, rest: str, holds: bool) -> list[str]:
    word = "hinge" if holds else "cut"
    name, _, where = rest.partition(" ")
    if not where:
        raise Fault(word, "needs a slash and one of its ends", f"write {word} A at hem, or {word} A at both ends")
    slash = slash_named(talk.session.draft, name)
    ends = ends_named(talk, slash, where)
    with talk.session.one_step():
        for end in ends:
            talk.session.set_hinge(slash.name, end, holds)
    return talk.after_edit(f"Slash {slash_words(slash_named(talk.session.draft, slash.name), talk.session.unit)}.")


def open_slash(talk: Talk, rest: str) -> list[str]:
    return _part(talk, rest, "open", 1)


def overlap(talk: Talk, rest: str) -> list[str]:
    return _part(talk, rest, "overlap", -1)


def close(talk: Talk, rest: str) -> list[str]:
    name, _, where = rest.partition(" ")
    slash = slash_named(talk.session.draft, name)
    station = station_named(talk, slash.name, where, "close")
    talk.session.set_opening(slash.name, station, 0.0)
    return talk.after_edit(f"{slash.name}, {station.words}: kept closed.")


def free(talk: Talk, rest: str) -> list[str]:
    name, _, where = rest.partition(" ")
    slash = slash_named(talk.session.draft, name)
    asked = [station for station in talk.session.stations(slash.name) if station.amount is not None]
    if not asked:
        raise Fault("free", f"nothing is asked of {slash.name}", "open it first")
    station = asked[0] if len(asked) == 1 and not where else station_named(talk, slash.name, where, "free")
    talk.session.set_opening(slash.name, station, None)
    return talk.after_edit(f"{slash.name}, {station.words}: goes as the paper goes.")


def _part(talk: Talk, rest: str, word: str, sign: int) -> list[str]:
    name, _, where = rest.partition(" ")
    slash = slash_named(talk.session.draft, name)
    where, amount = amount_at_end(talk, where, word)
    station = station_named(talk, slash.name, where, word)
    talk.session.set_opening(slash.name, station, sign * amount)
    return talk.after_edit(f"{slash.name}, {station.words}: {opening_words(sign * amount, talk.session.unit)}.")


def lift(talk: Talk, rest: str) -> list[str]:
    talk.session.set_set_back(True)
    return talk.after_edit(
        "The cap is cut off along the bicep line; it is set back when the lower part has been opened."
    )


def keep(talk: Talk, rest: str) -> list[str]:
    talk.session.set_set_back(False)
    return talk.after_edit("The cap stays on.")


def undo(talk: Talk, rest: str) -> list[str]:
    if not talk.session.undo():
        return talk.lines("There is nothing to undo.")
    return _stepped(talk, "Undone.")


def redo(talk: Talk, rest: str) -> list[str]:
    if not talk.session.redo():
        return talk.lines("There is nothing to do again.")
    return _stepped(talk, "Done again.")


def _stepped(talk: Talk, said: str) -> list[str]:
    """What there is after a step back or on."""
    if isinstance(talk.session.task, DiagnoseTask):
        return talk.lines(said, *built(talk))
    return talk.after_edit(said, *built(talk))


def clear(talk: Talk, rest: str) -> list[str]:
    talk.session.clear()
    talk.tell(talk.session.tape())
    if isinstance(talk.session.task, DiagnoseTask):
        return talk.lines("No sign looked for, no cause named. undo brings the old back.")
    return talk.lines("Fresh paper. undo brings the old back.")


def another(talk: Talk, rest: str) -> list[str]:
    """The task at hand on another arm and block."""
    session = talk.session
    fresh = Session(session.written, session.unit, (session.seed or 0) + 1)
    fresh.go_to_task(session.task_number)
    talk.session = fresh
    brief = [line for text in fresh.brief for line in ("", *talk.lines(text))]
    return [*talk.lines(f"Variant {fresh.seed}: another arm, another block."), *brief, "", *task_lines(talk)]


def start(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    match rest.casefold():
        case "over":
            talk.session = Session(session.written, session.unit, session.seed, variant=session.variant)
        case "over as written":
            talk.session = Session(session.written, session.unit)
        case _:
            right = "write start over, or start over as written; clear takes fresh paper"
            raise Fault("start", "begins the lesson anew only as two words", right)
    return [
        *talk.lines("The lesson begins anew. What you passed before stays in your progress."),
        "",
        *task_lines(talk),
    ]
