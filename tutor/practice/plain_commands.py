"""The words of the line-by-line tutor: each line a command, read and done on a session, answered in lines."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from tutor.alteration.plan import Answer, Place, Slash
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.task import NumberTask
from tutor.marking.marked import Marked
from tutor.practice.editing import End, Side, slash_named
from tutor.practice.place_text import LANDMARK_WORDS, SEAM_WORDS, place_words
from tutor.practice.plain_text import changed_line, marked_lines, tape_lines, wrapped
from tutor.practice.session import Session
from tutor.practice.stations import Station, end_words
from tutor.practice.steps import answer_words, opening_words, slash_words
from tutor.units import Unit, format_length, parse_length

LONGEST_LINE = 400
UNIT_WORDS = {Unit.CM: "centimetres", Unit.INCH: "inches", Unit.MM: "millimetres"}

_HINGES = re.compile(r"(?P<rest>.*?),?\s+(?:with\s+)?(?:a\s+|an\s+)?hinges?\s+(?:at\s+)?(?P<ends>.+)", re.IGNORECASE)
_NAMED = re.compile(r"(?P<rest>.+?),?\s+(?:as|named|called)\s+(?P<name>\S+)", re.IGNORECASE)
_SHARE = re.compile(r"(\d{1,3})\s*(?:%|per cent)(?:\s+of the way)?")
_SIDES: dict[str, tuple[Side, ...]] = {"back": ("back",), "front": ("front",), "both": ("back", "front")}
_SMALL_WORDS = {"the", "at", "side", "point", "line", "corner", "on", "of"}


@dataclass(frozen=True, slots=True)
class Command:
    """One word that begins a line: how it is used, what it does, and the function that does it."""

    word: str
    use: str
    does: str
    run: Callable[[Talk, str], list[str]]


@dataclass(slots=True)
class Talk:
    """A session being talked through; ``leaving`` once the learner has said so, or the last task is done."""

    session: Session
    width: int
    leaving: bool = False

    def obey(self, line: str) -> list[str]:
        """Does what a line asks for and answers in lines. Raises Fault, at no cost, for a line that can't be read."""
        words = " ".join(line.split())
        if not words or words.startswith("#"):
            return []
        if len(words) > LONGEST_LINE:
            raise Fault("", "the line is too long to be read", "write one command a line")
        word, _, rest = words.partition(" ")
        command = _BY_WORD.get(word.casefold().rstrip(":,."))
        if command is None:
            raise Fault("", f'"{word[:40]}" is no command', "help lists them all")
        return command.run(self, rest.strip())

    def lines(self, *texts: str) -> list[str]:
        return [line for text in texts for line in wrapped(text, self.width)]

    def after_edit(self, *said: str) -> list[str]:
        """What an edit did, and what it comes to."""
        found = self.session.preview()
        if isinstance(found, Refusal):
            return self.lines(*said, f"Paper can't follow this as it stands. {found}.")
        return self.lines(*said, changed_line(self.session.tape(), self.session.unit))


def opening_lines(talk: Talk) -> list[str]:
    """What is said when a lesson opens: its title, brief and cautions, and the first task."""
    session = talk.session
    title = f"Lesson {session.lesson.number}: {session.lesson.title}"
    lines = [title, "=" * len(title)]
    for paragraph in session.brief:
        lines += ["", *talk.lines(paragraph)]
    for caution in session.cautions:
        lines += ["", *talk.lines(f"Caution: {caution}")]
    return [*lines, "", *task_lines(talk)]


def task_lines(talk: Talk) -> list[str]:
    """What is said when a task begins."""
    session = talk.session
    lines = talk.lines(f"Task {session.task_number} of {len(session.tasks)}: {session.task.title}", session.ask)
    lines += ["", *tape_lines(session.tape(), session.unit, talk.width), ""]
    if isinstance(session.task, NumberTask):
        said = "Type answer and the figure. help lists all commands."
    elif session.may_use("slashes"):
        said = "Type places for the places a slash can run between. help lists all commands."
    else:
        said = "Type widen or lower, back or front, and the amount. help lists all commands."
    return [*lines, *talk.lines(said)]


# Building.


def _slash(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    name: str | None = None
    if match := _NAMED.fullmatch(rest):
        rest, name = match["rest"], match["name"]
    hinges = ""
    if match := _HINGES.fullmatch(rest):
        rest, hinges = match["rest"], match["ends"]
    rest = rest.removeprefix("from ")
    first, found, second = _split(rest, " to ")
    if not found:
        raise Fault("slash", "goes from one place to another", "write slash crown to hem, hinge at hem")
    start, end = session.read_place(first), session.read_place(second)
    for words, place in ((first, start), (second, end)):
        if session.point(place) is None:
            raise Fault("slash", f'"{words}" is nowhere on this paper', "places lists where a slash can begin and end")
    probe = Slash("", start, end)
    held = _ends(talk, probe, hinges) if hinges else set[End]()
    name = session.add_slash(start, end, "start" in held, "end" in held, name)
    return talk.after_edit(f"Slash {slash_words(slash_named(session.draft, name), session.unit)}.", *_where(talk, name))


def _where(talk: Talk, name: str) -> list[str]:
    stations = talk.session.stations(name)
    if not stations:
        return []
    return [f"It can be opened {_listed(station.words for station in stations)}."]


def _move(talk: Talk, rest: str) -> list[str]:
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


def _remove(talk: Talk, rest: str) -> list[str]:
    name = slash_named(talk.session.draft, rest.removeprefix("slash ")).name
    talk.session.remove_slash(name)
    return talk.after_edit(f"Slash {name} is taken away.")


def _hinge(talk: Talk, rest: str) -> list[str]:
    return _hold(talk, rest, holds=True)


def _cut(talk: Talk, rest: str) -> list[str]:
    return _hold(talk, rest, holds=False)


def _hold(talk: Talk, rest: str, holds: bool) -> list[str]:
    word = "hinge" if holds else "cut"
    name, _, where = rest.partition(" ")
    if not where:
        raise Fault(word, "needs a slash and one of its ends", f"write {word} A at hem, or {word} A at both ends")
    slash = slash_named(talk.session.draft, name)
    for end in sorted(_ends(talk, slash, where), reverse=True):
        talk.session.set_hinge(slash.name, end, holds)
    return talk.after_edit(f"Slash {slash_words(slash_named(talk.session.draft, slash.name), talk.session.unit)}.")


def _ends(talk: Talk, slash: Slash, words: str) -> set[End]:
    """The ends of a slash that words name: start, end, both, none, or the places they are at."""
    found: set[End] = set()
    for part in re.split(r"\s*(?:,|\band\b)\s*(?:at\s+)?", words.strip()):
        bare = part.casefold().removeprefix("at ").removeprefix("the ").removesuffix(" ends").removesuffix(" end")
        if bare in ("none", "neither", "no"):
            continue
        if bare == "both":
            return {"start", "end"}
        found.add(_end(talk, slash, bare))
    return found


def _end(talk: Talk, slash: Slash, words: str) -> End:
    if words in ("start", "from"):
        return "start"
    if words in ("end", "to"):
        return "end"
    session = talk.session
    try:
        point = session.point(session.read_place(words))
    except Fault:
        point = None
    places: tuple[tuple[End, Place], ...] = (("start", slash.start), ("end", slash.end))
    for end, place in places:
        there = session.point(place)
        if point is not None and there is not None and abs(point - there) < 1e-3:
            return end
    hits = [end for end, place in places if _bag(words) and _bag(words) <= _bag(place_words(place, session.unit))]
    if len(hits) == 1:
        return hits[0]
    first, last = (end_words(place) for place in (slash.start, slash.end))
    raise Fault("hinge", f'"{words}" is no end of the slash', f"it has start ({first}) and end ({last})")


def _open(talk: Talk, rest: str) -> list[str]:
    return _part(talk, rest, "open", 1)


def _overlap(talk: Talk, rest: str) -> list[str]:
    return _part(talk, rest, "overlap", -1)


def _close(talk: Talk, rest: str) -> list[str]:
    name, _, where = rest.partition(" ")
    slash = slash_named(talk.session.draft, name)
    station = _station(talk, slash.name, where, "close")
    talk.session.set_opening(slash.name, station, 0.0)
    return talk.after_edit(f"{slash.name}, {station.words}: kept closed.")


def _free(talk: Talk, rest: str) -> list[str]:
    name, _, where = rest.partition(" ")
    slash = slash_named(talk.session.draft, name)
    asked = [station for station in talk.session.stations(slash.name) if station.amount is not None]
    if not asked:
        raise Fault("free", f"nothing is asked of {slash.name}", "open it first")
    station = asked[0] if len(asked) == 1 and not where else _station(talk, slash.name, where, "free")
    talk.session.set_opening(slash.name, station, None)
    return talk.after_edit(f"{slash.name}, {station.words}: goes as the paper goes.")


def _part(talk: Talk, rest: str, word: str, sign: int) -> list[str]:
    name, _, where = rest.partition(" ")
    slash = slash_named(talk.session.draft, name)
    where, amount = _amount_at_end(talk, where, word)
    station = _station(talk, slash.name, where, word)
    talk.session.set_opening(slash.name, station, sign * amount)
    return talk.after_edit(f"{slash.name}, {station.words}: {opening_words(sign * amount, talk.session.unit)}.")


def _amount_at_end(talk: Talk, words: str, word: str) -> tuple[str, float]:
    """The words before the amount, and the amount: what follows "by", or the longest end of the line that is one."""
    unit = talk.session.unit
    before, found, after = _split(words, " by ")
    if found or words.startswith("by "):
        text = after if found else words.removeprefix("by ")
        return (before if found else ""), parse_length(text, unit, word)
    parts = words.split()
    for k in range(len(parts)):
        try:
            return " ".join(parts[:k]), parse_length(" ".join(parts[k:]), unit, word)
        except Fault:
            continue
    example = f"{word} A at hem {format_length(30, unit)}"
    raise Fault(word, "has no amount that can be read at its end", f"write such as {example}")


def _station(talk: Talk, slash: str, words: str, word: str) -> Station:
    """The station of a slash that words mean. Raises Fault when they mean none, or more than one."""
    stations = talk.session.stations(slash)
    bare = words.strip().strip(",").casefold()
    if match := _SHARE.fullmatch(bare.removeprefix("at ").strip()):
        return _station_at(talk, slash, int(match[1]) / 100)
    exact = [station for station in stations if bare in (station.key.casefold(), station.words.casefold())]
    wanted = _bag(bare)
    hits = exact or [s for s in stations if wanted and wanted <= _bag(s.words.casefold())]
    if not bare and len(stations) == 1:
        return stations[0]
    if bare in ("half way", "halfway", "at half way", "the middle", "at the middle") and not hits:
        return _station_at(talk, slash, 0.5)
    if len(hits) == 1:
        return hits[0]
    there = _listed((station.words for station in hits or stations), "or")
    if not stations:
        raise Fault(
            word, f"{slash} has no place to open: both ends hold and nothing crosses", f"cut {slash} at one end"
        )
    what = f'"{bare}" could be more than one place on {slash}' if hits else f'"{bare}" is no place to open on {slash}'
    raise Fault(word, what if bare else f"does not say where on {slash}", f"write {there}, or such as at 40%")


def _station_at(talk: Talk, slash: str, share: float) -> Station:
    line = talk.session.slash_line(slash)
    if line is None or not 0 <= share <= 1:
        raise Fault("open", "is no share of the slash", "write one between 0% and 100%")
    near = [s for s in talk.session.stations(slash) if not s.where and abs(s.share - share) < 1e-6]
    percent = f"{100 * share:.0f}%"
    point = line[0] + share * (line[1] - line[0])
    return near[0] if near else Station(slash, percent, f"{percent} of the way", share, point)


def _lift(talk: Talk, rest: str) -> list[str]:
    talk.session.set_set_back(True)
    return talk.after_edit(
        "The cap is cut off along the bicep line; it is set back when the lower part has been opened."
    )


def _keep(talk: Talk, rest: str) -> list[str]:
    talk.session.set_set_back(False)
    return talk.after_edit("The cap stays on.")


def _answers(amount_of: str, sign: int) -> Callable[[Talk, str], list[str]]:
    def run(talk: Talk, rest: str) -> list[str]:
        word, _, amount_words = rest.partition(" ")
        sides = _SIDES.get(word.casefold(), ())
        if not sides:
            example = format_length(8, talk.session.unit)
            raise Fault("armhole", "needs back, front or both, and an amount", f"write such as widen back {example}")
        amount = sign * parse_length(amount_words.removeprefix("by "), talk.session.unit, "armhole")
        said = []
        for side in sides:
            widen, lower = (amount, None) if amount_of == "widen" else (None, amount)
            talk.session.set_answer(side, widen, lower)
            draft = talk.session.draft
            answer = draft.back if side == "back" else draft.front
            said.append(f"On the {side} bodice {answer_words(answer, talk.session.unit)}.")
        return talk.after_edit(*said, *talk.session.notes())

    return run


def _undo(talk: Talk, rest: str) -> list[str]:
    if not talk.session.undo():
        return talk.lines("There is nothing to undo.")
    return talk.after_edit("Undone.", *_built(talk))


def _redo(talk: Talk, rest: str) -> list[str]:
    if not talk.session.redo():
        return talk.lines("There is nothing to do again.")
    return talk.after_edit("Done again.", *_built(talk))


def _clear(talk: Talk, rest: str) -> list[str]:
    talk.session.clear()
    return talk.lines("Fresh paper. undo brings the old back.")


# Looking.


def _built(talk: Talk) -> list[str]:
    """What has been built so far, a sentence each."""
    session, draft = talk.session, talk.session.draft
    said = ["The cap is lifted off along the bicep line."] if draft.set_back else []
    for slash in draft.slashes:
        said.append(f"Slash {slash_words(slash, session.unit)}.")
        said += [
            f"{slash.name}, {station.words}: {opening_words(station.amount, session.unit)}."
            for station in session.stations(slash.name)
            if station.amount is not None
        ]
    for side, answer in (("back", draft.back), ("front", draft.front)):
        if answer != Answer():
            said.append(f"On the {side} bodice {answer_words(answer, session.unit)}.")
    return said or ["The paper is as it was."]


def _plan(talk: Talk, rest: str) -> list[str]:
    return talk.lines(*_built(talk))


def _tape(talk: Talk, rest: str) -> list[str]:
    found = talk.session.preview()
    lines = tape_lines(talk.session.tape(), talk.session.unit, talk.width)
    return [*lines, *talk.lines(f"Paper can't follow this. {found}.")] if isinstance(found, Refusal) else lines


def _places(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    if rest:
        slash = slash_named(session.draft, rest.removeprefix("on "))
        return talk.lines(*(_where(talk, slash.name) or [f"{slash.name} can't be opened: both its ends hold."]))
    names = [f"{name} ({LANDMARK_WORDS[name]})" if name in LANDMARK_WORDS else name for name in session.landmarks]
    outline = session.outline
    seams = [
        f"{name} ({SEAM_WORDS[name]}, {format_length(curve.length(), session.unit)})"
        for name, curve in zip(outline.names, outline.curves, strict=True)
    ]
    first = outline.names[0]
    example = f"{format_length(60, session.unit)} along {first}, half way along hem, or point -3 cm, 5 cm"
    return talk.lines(
        f"Landmarks: {', '.join(names)}.",
        f"Seams: {', '.join(seams)}.",
        f"A slash can also begin and end at such as {example} (from where grain and bicep line cross, + to the front"
        " and up), or half way along another slash.",
    )


def _ask(talk: Talk, rest: str) -> list[str]:
    return task_lines(talk)


def _brief(talk: Talk, rest: str) -> list[str]:
    return opening_lines(talk)


def _units(talk: Talk, rest: str) -> list[str]:
    known = {"cm": Unit.CM, "in": Unit.INCH, "inch": Unit.INCH, "inches": Unit.INCH, "mm": Unit.MM}
    unit = known.get(rest.casefold())
    if unit is None:
        raise Fault("units", f'"{rest[:40]}" is no unit known here', "write units cm, units in or units mm")
    talk.session.unit = unit
    return [*talk.lines(f"Lengths are in {UNIT_WORDS[unit]} now."), *tape_lines(talk.session.tape(), unit, talk.width)]


# Being marked, and going on.


def _check(talk: Talk, rest: str) -> list[str]:
    return _marked(talk, talk.session.check())


def _answer(talk: Talk, rest: str) -> list[str]:
    return _marked(talk, talk.session.answer(rest))


def _marked(talk: Talk, marked: Marked) -> list[str]:
    lines = marked_lines(marked, talk.session.unit, talk.width)
    if marked.passed:
        last = talk.session.task_number == len(talk.session.tasks)
        lines = [*lines, *talk.lines("next ends the lesson." if last else "next goes on to the next task.")]
    return lines


def _hint(talk: Talk, rest: str) -> list[str]:
    text = talk.session.hint()
    return talk.lines(f"Hint {talk.session.hints_taken} of 3: {text}")


def _solution(talk: Talk, rest: str) -> list[str]:
    was = talk.session.standing()
    steps = talk.session.solution().steps
    lines = [line for k, step in enumerate(steps, 1) for line in wrapped(f"{k}. {step}", talk.width, "", "   ")]
    if was != "passed":
        lines += talk.lines("This task now counts as shown, not as passed.")
    return lines


def _next(talk: Talk, rest: str) -> list[str]:
    if talk.session.next_task():
        return ["", *task_lines(talk)]
    talk.leaving = True
    return []


def _quit(talk: Talk, rest: str) -> list[str]:
    talk.leaving = True
    return []


def _help(talk: Talk, rest: str) -> list[str]:
    known = _BY_WORD.get(rest.casefold())
    if rest and known is None:
        raise Fault("help", f'"{rest[:40]}" is no command', "help alone lists them all")
    shown = [known] if known else list(COMMANDS)
    return [line for c in shown for line in wrapped(f"{c.use}: {c.does}", talk.width, "", "    ")]


COMMANDS = (
    Command(
        "slash", "slash PLACE to PLACE, hinge at PLACE, as NAME", "a slash; hinges and name can be left out", _slash
    ),
    Command(
        "hinge", "hinge NAME at PLACE", "leave paper holding at an end: hinge A at hem, hinge A at both ends", _hinge
    ),
    Command("cut", "cut NAME at PLACE", "cut an end of a slash through", _cut),
    Command("open", "open NAME at PLACE AMOUNT", "open a slash there: open A at hem 3 cm", _open),
    Command("overlap", "overlap NAME at PLACE AMOUNT", "lap the paper over there", _overlap),
    Command("close", "close NAME at PLACE", "keep a slash shut there", _close),
    Command("free", "free NAME at PLACE", "ask nothing there any more", _free),
    Command("move", "move NAME from PLACE to PLACE", "move one end of a slash, or both", _move),
    Command("remove", "remove NAME", "take a slash away", _remove),
    Command("lift", "lift", "cut the cap off along the bicep line, to be set back afterwards", _lift),
    Command("keep", "keep", "leave the cap on after all", _keep),
    Command("widen", "widen back AMOUNT", "move the side seam out: back, front or both", _answers("widen", 1)),
    Command("take-in", "take-in back AMOUNT", "move the side seam in", _answers("widen", -1)),
    Command(
        "lower", "lower back AMOUNT", "move the underarm of the bodice down: back, front or both", _answers("lower", 1)
    ),
    Command("raise", "raise back AMOUNT", "move the underarm of the bodice up", _answers("lower", -1)),
    Command("undo", "undo", "take the last step back", _undo),
    Command("redo", "redo", "do it again", _redo),
    Command("clear", "clear", "start over on fresh paper", _clear),
    Command("plan", "plan", "what you have built so far", _plan),
    Command("tape", "tape", "measures before, now and as wanted", _tape),
    Command("places", "places", "where slashes can run; places NAME: where that slash can be opened", _places),
    Command("check", "check", "have it marked", _check),
    Command("answer", "answer FIGURE", "answer a question for a number: answer 12.5 cm", _answer),
    Command("hint", "hint", "the next of three hints", _hint),
    Command("solution", "solution", "a worked solution; the task then counts as shown", _solution),
    Command("ask", "ask", "the task again", _ask),
    Command("brief", "brief", "the lesson from its beginning", _brief),
    Command("units", "units cm", "centimetres, in for inches, or mm", _units),
    Command("next", "next", "go on to the next task", _next),
    Command("quit", "quit", "end the lesson here", _quit),
    Command("help", "help", "these commands; help COMMAND: that one", _help),
)

_OTHER_WORDS = {
    "slashes": "plan",
    "task": "ask",
    "landmarks": "places",
    "measures": "tape",
    "mark": "check",
    "hints": "hint",
    "show": "plan",
    "lap": "overlap",
    "exit": "quit",
    "bye": "quit",
    "?": "help",
    "unit": "units",
    "delete": "remove",
    "shut": "close",
}
_BY_WORD = {command.word: command for command in COMMANDS}
_BY_WORD |= {other: _BY_WORD[word] for other, word in _OTHER_WORDS.items()}


def _split(text: str, between: str) -> tuple[str, bool, str]:
    """The text before and after the first ``between``, whatever its case, and whether it is there."""
    at = text.casefold().find(between)
    return (text[:at].strip(), True, text[at + len(between) :].strip()) if at >= 0 else (text, False, "")


def _bag(words: str) -> frozenset[str]:
    return frozenset(re.split(r"[\s,-]+", words.casefold())) - _SMALL_WORDS - {""}


def _listed(words: Iterable[str], join: str = "and") -> str:
    *most, last = words
    return f"{', '.join(most)} {join} {last}" if most else last
