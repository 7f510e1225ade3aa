"""What came of a quiz that was given out: a file with the answers as given, to be marked again whenever it is wanted.

The digest over the file shows that it was changed, by hand or by a fault of a disk; not who could have made a new one.
What counts is therefore never the mark that is written in it, but that of the answers, marked again; and a teacher who
has the class quiz can see whether the questions are those that it draws.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.quiz.canonical import canonical
from tutor.quiz.clock import iso
from tutor.quiz.handout import KIND, RESULTS, flat, learner_name, quiz_of
from tutor.quiz.outcome import Outcome, outcome_of
from tutor.quiz.quiz import Quiz
from tutor.quiz.sitting import Result, Sitting
from tutor.toml_reading import Document
from tutor.toml_writing import toml_text
from tutor.units import Unit

_HEAD = ("The results of a quiz, to be handed to whoever set it: sleeve-tutor quiz mark and the name of this file.",)
OWN_DIGEST = "results-digest"
MOST_SECONDS = 1e9


@dataclass(frozen=True, slots=True)
class Results:
    """A results file. ``stated`` is the mark written in it; ``intact`` says whether its digest is that of the rest.

    ``elapsed`` and ``open`` are seconds, by the clock and with the quiz open.
    """

    quiz: Quiz
    learner: str
    unit: Unit
    begun: str
    elapsed: float
    open: float
    set_back: float
    stated: float
    answers: Mapping[int, Mapping[str, Any]]
    intact: bool


def results_text(sitting: Sitting, outcome: Outcome) -> str:
    """The results of a sitting that is over, as TOML."""
    clock = sitting.clock
    table: dict[str, Any] = {
        KIND: RESULTS,
        "learner": sitting.learner,
        "units": sitting.unit.value,
        "begun": iso(clock.begun),
        "elapsed": round(clock.elapsed, 1),
        "open": round(clock.open, 1),
        "set-back": round(clock.set_back, 1),
        "mark": round(outcome.mark, 6),
        "passed": outcome.passed,
        **flat(sitting.quiz),
        "answers": [_answer(each) for each in outcome.results],
    }
    return toml_text({OWN_DIGEST: digest_of(table), **table}, _HEAD)


def digest_of(table: Mapping[str, Any]) -> str:
    """The SHA-256 of all of a results file but the digest itself, in canonical JSON."""
    rest = {key: value for key, value in table.items() if key != OWN_DIGEST}
    return hashlib.sha256(canonical(rest).encode("ascii")).hexdigest()


def _answer(result: Result) -> dict[str, Any]:
    marked = result.marked
    table: dict[str, Any] = {"question": result.number, "mark": round(marked.total, 6), "passed": marked.passed}
    if marked.mistake is not None:
        table["mistake"] = marked.mistake
    return table | ({} if result.given is None else {"given": result.given})


def read_results(document: Document) -> Results:
    """The results in a document. Raises Fault for what can't be read; what was changed is read, and not ``intact``."""
    try:
        return _results(document.tables)
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
        raise Fault(document.where, "can't be read as results of a quiz", "ask for the file again") from None
    except Fault as fault:
        raise Fault(f"{document.where}: {fault.where}", fault.what, fault.right) from None


def _results(tables: Mapping[str, Any]) -> Results:
    answers = {int(each["question"]): dict(each["given"]) for each in tables["answers"] if "given" in each}
    elapsed, opened, set_back = (_seconds(tables[key]) for key in ("elapsed", "open", "set-back"))
    return Results(
        quiz_of(tables),
        learner_name(tables["learner"]),
        Unit(tables["units"]),
        str(tables["begun"])[:40],
        elapsed,
        opened,
        set_back,
        float(tables["mark"]),
        answers,
        tables.get(OWN_DIGEST) == digest_of(tables),
    )


def _seconds(value: Any) -> float:
    seconds = float(value)
    if not 0 <= seconds < MOST_SECONDS:
        raise ValueError(value)
    return seconds


def marked_again(results: Results, lessons: Mapping[str, Lesson]) -> Outcome:
    """What the answers come to, marked anew.

    An answer that is none of its question counts as not given. Lessons are taken as they are now, whatever their
    version was. Raises Fault when the quiz does not fit them.
    """
    sitting = Sitting(results.quiz, lessons, results.unit, results.learner, any_version=True)
    for number in sitting.numbers:
        given = results.answers.get(number)
        if given is not None:
            _take(sitting, number, given)
    sitting.hand_in()
    return outcome_of(sitting)


def changed_lessons(results: Results, lessons: Mapping[str, Lesson]) -> tuple[str, ...]:
    """The names of the lessons that have changed since the quiz was drawn."""
    asked = {(question.lesson, question.version) for question in results.quiz.questions}
    return tuple(sorted(name for name, version in asked if name in lessons and lessons[name].version != version))


def _take(sitting: Sitting, number: int, given: Mapping[str, Any]) -> None:
    try:
        sitting.question(number).take(given)
    except (KeyError, IndexError, TypeError, ValueError, AttributeError, OverflowError, Fault):
        return
