"""What is said about the lesson, the task, the paper and the work so far."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.alteration.amounts import given
from tutor.alteration.place_words import LANDMARK_WORDS, SEAM_WORDS
from tutor.faults import Fault, printable
from tutor.lesson.glossary import Word, find_words, glossary, words_in
from tutor.lesson.task import ChoiceTask, DiagnoseTask, NumberTask, PlaceTask
from tutor.marking.points import out_of_100
from tutor.practice.editing import slash_named
from tutor.practice.pattern_out import write_own_pattern
from tutor.practice.plain_amounts import examples
from tutor.practice.plain_figures import FROM_CROSSING
from tutor.practice.plain_reading import listed
from tutor.practice.plain_signs import folds_lines, found_out, signs_lines
from tutor.practice.plain_talk import Talk, refused_told
from tutor.practice.plain_text import tape_lines
from tutor.practice.session import Session
from tutor.practice.steps import amounts_told, opening_words, slash_words
from tutor.units import Unit, format_length

UNIT_WORDS = {Unit.CM: "centimetres", Unit.INCH: "inches", Unit.MM: "millimetres"}


def opening_lines(talk: Talk, resuming: Sequence[str] = ()) -> list[str]:
    """What is said when a lesson opens: title, brief and cautions, where it goes on, and the task."""
    session = talk.session
    title = talk.lines(f"Lesson {session.lesson.number}: {session.title}")
    lines = [*title, "=" * max(map(len, title))]
    for paragraph in session.brief:
        lines += ["", *talk.lines(paragraph)]
    for caution in session.cautions:
        lines += ["", *talk.lines(f"Caution: {caution}")]
    return [*lines, "", *resuming, *task_lines(talk)]


def resuming_lines(talk: Talk) -> list[str]:
    """What is said where a lesson goes on that was begun before; nothing when nothing was done."""
    session = talk.session
    numbers = range(1, len(session.tasks) + 1)
    standings = [(number, session.standing(number)) for number in numbers]
    done = any(standing != "open" for _, standing in standings)
    begun = session.plan is not None or bool(session.finding.text)
    if not done and not begun and session.task_number == 1:
        return []
    at = f"You go on where you left off, at task {session.task_number} of {len(session.tasks)}."
    said = [" ".join([at, *_standing_together(standings)])]
    if begun:
        said += ["Found out so far:" if session.signs else "Built so far:", *built(talk)]
    there = "Task and a number goes to another task, clear takes fresh paper, start over begins the lesson anew."
    return [*talk.lines(*said, *_still_open(session), there), ""]


def _standing_together(standings: Sequence[tuple[int, str]]) -> list[str]:
    """Which tasks stand how, those alike in one sentence; nothing of those that are open."""
    alike: dict[str, list[str]] = {}
    for number, standing in standings:
        if standing != "open":
            alike.setdefault(standing, []).append(str(number))
    return [
        f"Task {numbers[0]} is {standing}." if len(numbers) == 1 else f"Tasks {listed(numbers)} are {standing}."
        for standing, numbers in alike.items()
    ]


def _still_open(session: Session) -> list[str]:
    """How many tasks are left besides the one at hand, and which is next; nothing where there are none."""
    numbers = range(1, len(session.tasks) + 1)
    left = [number for number in numbers if session.standing(number) in ("open", "not passed")]
    others = [number for number in left if number != session.task_number]
    if not others:
        return []
    coming = next((number for number in others if number > session.task_number), others[0])
    what = "task is" if len(others) == 1 else "tasks are"
    return [f"{len(others)} other {what} still to be passed, the next is task {coming}."]


def task_lines(talk: Talk) -> list[str]:
    """What is said when a task begins."""
    session = talk.session
    lines = talk.lines(f"Task {session.task_number} of {len(session.tasks)}: {session.task.title}", session.ask)
    rows = session.tape()
    talk.told = {}
    talk.tell(rows)
    if isinstance(session.task, DiagnoseTask):
        lines += ["", *folds_lines(talk), "", *signs_lines(talk)]
    lines += ["", *tape_lines(rows, session.unit, talk.page, session.lies)] if rows else []
    lines += [*option_lines(talk), ""]
    if isinstance(session.task, DiagnoseTask):
        said = _how_to_diagnose(session)
    elif isinstance(session.task, ChoiceTask):
        said = _how_to_choose(session)
    elif isinstance(session.task, PlaceTask):
        said = how_to_show(session)
    elif isinstance(session.task, NumberTask):
        said = "Type answer and the figure."
    elif session.may_use("slashes"):
        also = examples(session.amounts, session.unit)
        besides = f" Without a slash, type such as {listed(also)}." if also else ""
        said = f"Type places for the places a slash can run between.{besides}"
    else:
        said = f"Type such as {listed(examples(session.amounts, session.unit))}."
    return [*lines, *talk.lines(f"{said} figure tells the figure, tour how all goes, help lists all commands.")]


def standing_lines(talk: Talk) -> list[str]:
    """How each task of the lesson stands, with its best mark."""
    session, lines = talk.session, list[str]()
    for number, task in enumerate(session.tasks, 1):
        tries = len(session.attempts(number))
        best = max((attempt.total for attempt in session.attempts(number)), default=0.0)
        marks = f", best mark {out_of_100(best)} of 100 in {tries} {'try' if tries == 1 else 'tries'}" if tries else ""
        standing = {"open": "not done"}.get(session.standing(number), session.standing(number))
        lines += talk.lines(f"Task {number}, {task.title}: {standing}{marks}.")
    return lines


def progress(talk: Talk, rest: str) -> list[str]:
    """How the tasks of this lesson stand, and all lessons where there is a record of them."""
    rows = [] if talk.progress is None else talk.progress()
    return [*standing_lines(talk), *(["", *talk.page.table(rows)] if rows else [])]


def _how_to_diagnose(session: Session) -> str:
    letter = session.options[0].letter
    return f"Type sign and a number to look for a sign, then answer and the letter of the cause, such as {letter}."


def _how_to_choose(session: Session) -> str:
    numbers = [option.number for option in session.options]
    if session.task_picks_one:
        return f"Type answer and one number, {listed(numbers, 'or')}."
    return f"Type answer and all numbers that are right, such as {listed(numbers[:2])}."


def how_to_show(session: Session) -> str:
    """How a place is shown in words, by the seams that there are. Raises Fault where no place is asked for."""
    example = format_length(60, session.unit)
    return (
        f"Type answer and how far along a seam, such as answer {example} along hem. The seams are"
        f" {listed(session.edge.outline.names)}; places tells from where to where each goes, and what lies on it."
    )


def option_lines(talk: Talk) -> list[str]:
    """What there is to choose among, a line each under its number; causes under letters, as signs have the numbers."""
    options, lettered = talk.session.options, isinstance(talk.session.task, DiagnoseTask)
    labelled = [(each.letter if lettered else each.number, each.words) for each in options]
    lines = [line for label, words in labelled for line in talk.page.wrapped(f"{label}) {words}", "", "   ")]
    return ["", *lines] if lines else []


def built(talk: Talk) -> list[str]:
    """What has been built so far, a sentence each."""
    session, draft = talk.session, talk.session.draft
    if isinstance(session.task, DiagnoseTask):
        return found_out(talk)
    said = ["The cap is lifted off along the bicep line."] if draft.set_back else []
    for slash in draft.slashes:
        said.append(f"Slash {slash_words(slash, session.unit)}.")
        said += [
            f"{slash.name}, {station.words}: {opening_words(station.amount, session.unit)}."
            for station in session.stations(slash.name)
            if station.amount is not None
        ]
    said += amounts_told(draft, given(draft), session.unit)
    return said or ["The paper is as it was."]


def where_to_open(talk: Talk, name: str) -> list[str]:
    stations = talk.session.stations(name)
    if not stations:
        return []
    return [f"It can be opened {listed(station.words for station in stations)}."]


def plan(talk: Talk, rest: str) -> list[str]:
    return talk.lines(*built(talk))


def tape(talk: Talk, rest: str) -> list[str]:
    rows = talk.session.tape()
    talk.tell(rows)
    return [*tape_lines(rows, talk.session.unit, talk.page, talk.session.lies), *refused_told(talk)]


def places(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    if isinstance(session.task, PlaceTask):
        return talk.lines("The edge, clockwise:", *session.edge_lines(), FROM_CROSSING)
    if rest:
        slash = slash_named(session.draft, rest.removeprefix("on "))
        return talk.lines(*(where_to_open(talk, slash.name) or [f"{slash.name} can't be opened: both its ends hold."]))
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


def ask(talk: Talk, rest: str) -> list[str]:
    if rest:
        if not rest.isdecimal():
            raise Fault("task", f'"{rest[:40]}" is no number of a task', f"write 1 to {len(talk.session.tasks)}")
        talk.session.go_to_task(int(rest))
    return task_lines(talk)


def write(talk: Talk, rest: str) -> list[str]:
    """The learner's own pattern, to a file."""
    path = write_own_pattern(talk.session, rest)
    return talk.lines(f"{printable(str(path))} is written, to scale. sleeve-tutor sheet lays it on pages to print.")


def brief(talk: Talk, rest: str) -> list[str]:
    return opening_lines(talk)


def units(talk: Talk, rest: str) -> list[str]:
    known = {"cm": Unit.CM, "in": Unit.INCH, "inch": Unit.INCH, "inches": Unit.INCH, "mm": Unit.MM}
    unit = known.get(rest.casefold())
    if unit is None:
        raise Fault("units", f'"{rest[:40]}" is no unit known here', "write units cm, units in or units mm")
    talk.session.unit = unit
    if talk.unit_changed is not None:
        talk.unit_changed(unit)
    lines = talk.lines(f"Lengths are in {UNIT_WORDS[unit]} now.")
    return [*lines, *tape_lines(talk.session.tape(), unit, talk.page, talk.session.lies)]


def words(talk: Talk, rest: str) -> list[str]:
    """The words of the trade: what the ones sought mean; or those of this task with their meanings, and the rest."""
    if rest:
        return [line for word in find_words(rest) for line in _word_lines(talk, word)]
    session = talk.session
    measured = (row.words for row in session.tape())
    here = words_in([session.task.title, session.ask, *session.brief, *measured])
    others = ", ".join(word.name for word in glossary() if word not in here)
    lines = [line for word in here for line in _word_lines(talk, word)]
    return [*lines, *talk.lines(f"More words: {others}.", "words and one of them says what it means.")]


def _word_lines(talk: Talk, word: Word) -> list[str]:
    return talk.page.wrapped(f"{word.heading}: {word.meaning}", "", "    ")
