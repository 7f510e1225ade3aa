"""The marks of a class as tables: a row for each learner, and one for each answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tutor.classwork.homework import Homework
from tutor.classwork.overrides import NO_ANSWER, Override
from tutor.classwork.standing import Standing, mark_shown
from tutor.classwork.trouble import Trouble
from tutor.classwork.words import given_words

Cells = list[str | float | None]


def class_head(homework: Homework) -> Cells:
    return ["learner", "variant", *(f"task {q.number}" for q in homework.questions), "mark", "handed in", "note"]


def class_row(standing: Standing) -> Cells:
    """One learner's marks out of 100: empty where there is none."""
    marks = [standing.shown(question.number) for question in standing.homework.questions]
    cells: list[str | float | None] = [_number(mark) if standing.counts else "" for mark in marks]
    on = "" if standing.on is None else standing.on.isoformat()
    learner = standing.learner
    return [learner.name, learner.deal, *cells, _number(mark_shown(standing.total)), on, note_of(standing)]


def note_of(standing: Standing) -> str:
    """What is to be known beside the figures."""
    notes = []
    if not standing.handed_in:
        notes.append("nothing else handed in" if standing.unread else "nothing handed in")
    if standing.late:
        notes.append("late")
    notes += [f"{each.source} {_what_of(each)}" for each in standing.unread.values()]
    open_ones = [q.number for q in standing.homework.questions if standing.mark(q.number) is None]
    open_ones = [number for number in open_ones if number in standing.answers]
    notes += [f"task {number} could not be marked" for number in open_ones]
    notes += [f"task {number}: the teacher's mark{_given_to(each)}" for number, each in standing.overrides.items()]
    return "; ".join(notes)


def _given_to(override: Override) -> str:
    if override.given_to == NO_ANSWER:
        return f", given to {NO_ANSWER}"
    return f", given to another answer: {override.given_to}" if override.given_to else ""


def _what_of(unread: Trouble) -> str:
    return "could not be read, and may hold answers" if unread.shared else "could not be marked"


def trouble_rows(homework: Homework, troubles: Mapping[str, Trouble]) -> Iterator[Cells]:
    """A row for each file, or row of one, that could not be read: no mark at all, and the reason."""
    empty: list[str | float | None] = [""] * (len(homework.questions) + 2)
    for each in troubles.values():
        yield [f"({each.source})", "", *empty, f"not marked: {each.line}"]


def answer_head() -> Cells:
    return [
        "learner",
        "task",
        "answer as given",
        "from",
        "automatic mark",
        "mistake",
        "teacher's mark",
        "reason",
        "mark",
    ]


def answer_rows(standing: Standing) -> Iterator[Cells]:
    """One learner's answers: as given, the automatic mark, the teacher's own, and the one that counts."""
    for question in standing.homework.questions:
        number = question.number
        answer, result = standing.answers.get(number), standing.results.get(number)
        override = standing.overrides.get(number)
        if answer is None and override is None:
            continue
        given = "" if answer is None else given_words(answer.given, answer.source)
        yield [
            standing.learner.name,
            number,
            given,
            "" if answer is None else answer.source,
            _number(mark_shown(None if result is None else result.total)),
            "" if result is None else result.mistake or result.trouble,
            "" if override is None else _number(override.shown),
            "" if override is None else override.reason,
            _number(standing.shown(number)),
        ]


def _number(shown: str) -> str | float:
    """A mark as a cell: a number, or nothing where there is none."""
    return float(shown) if shown else ""
