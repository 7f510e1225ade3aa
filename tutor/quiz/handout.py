"""A quiz given out as a file: every question resolved, with a digest over all of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tutor.faults import Fault
from tutor.quiz.quiz import Quiz, quiz_from
from tutor.quiz.spec import LONGEST_TEXT
from tutor.toml_reading import Document
from tutor.toml_writing import toml_text

KIND, HANDOUT, RESULTS = "sleeve-tutor", "quiz", "quiz results"
"""The key by which these files are told from those that people write, and what stands there."""
_HEAD = ("A quiz. Take it with: sleeve-tutor quiz and the name of this file.", "A change makes it another quiz.")


@dataclass(frozen=True, slots=True)
class Handout:
    """A quiz as it was given out; ``learner`` is whom to, "" for everyone."""

    quiz: Quiz
    learner: str = ""


def handout_text(handout: Handout) -> str:
    """The handout as TOML."""
    return toml_text({KIND: HANDOUT, "learner": handout.learner, **flat(handout.quiz)}, _HEAD)


def flat(quiz: Quiz) -> dict[str, Any]:
    """A quiz as tables that read well: what it is, and a table for each question."""
    stored = quiz.stored()
    return {"digest": stored["digest"], "generator": stored["generator"], **_nested(stored)}


def _nested(stored: Mapping[str, Any]) -> dict[str, Any]:
    return {"spec": stored["spec"], "questions": stored["questions"]}


def kind_of_file(document: Document) -> str:
    """What a document is by its own word: HANDOUT, RESULTS, or "" for what somebody wrote."""
    kind = document.tables.get(KIND, "")
    return kind if kind in (HANDOUT, RESULTS) else ""


def read_handout(document: Document) -> Handout:
    """The handout in a document. Raises Fault for one that was changed, or can't be read."""
    try:
        learner = learner_name(document.tables["learner"])
        return Handout(quiz_of(document.tables), learner)
    except (KeyError, TypeError, ValueError) as error:
        raise Fault(document.where, "can't be read as a quiz", "ask for the file again") from error
    except Fault as fault:
        raise Fault(f"{document.where}: {fault.where}", fault.what, fault.right) from None


def quiz_of(tables: Mapping[str, Any]) -> Quiz:
    """The quiz in the tables that ``flat`` made. Raises Fault or KeyError."""
    return quiz_from({key: tables[key] for key in ("digest", "generator", "spec", "questions")})


def learner_name(value: Any) -> str:
    """A learner's name, single spaces between its words. Raises ValueError for what is none."""
    name = " ".join(str(value).split())
    if not isinstance(value, str) or len(name) > LONGEST_TEXT or not name.isprintable():
        raise ValueError(value)
    return name
