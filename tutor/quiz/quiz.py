"""A quiz: what it was drawn from, how it is taken, and its questions, with a digest over all of it."""

from __future__ import annotations

import hashlib
from dataclasses import asdict, dataclass
from typing import Any

import msgspec

from tutor.faults import Fault
from tutor.quiz.canonical import canonical
from tutor.quiz.question import Question, question_from
from tutor.quiz.spec import QuizSpec, spec_faults

GENERATOR = 1
"""Goes up whenever the same seed would draw other questions."""


@dataclass(frozen=True, slots=True)
class Quiz:
    """A quiz, drawn."""

    spec: QuizSpec
    questions: tuple[Question, ...]
    generator: int = GENERATOR

    @property
    def text(self) -> str:
        """All of it as canonical JSON: the same bytes wherever it was drawn."""
        return canonical(self._table())

    @property
    def digest(self) -> str:
        """The SHA-256 of ``text``."""
        return hashlib.sha256(self.text.encode("ascii")).hexdigest()

    @property
    def maximum(self) -> int:
        """How many questions there are."""
        return len(self.questions)

    def stored(self) -> dict[str, Any]:
        """The quiz as a plain table, with its digest."""
        return {**self._table(), "digest": self.digest}

    def _table(self) -> dict[str, Any]:
        spec = {name.replace("_", "-"): value for name, value in asdict(self.spec).items() if value is not None}
        spec["lessons"] = list(self.spec.lessons)
        return {"generator": self.generator, "spec": spec, "questions": [each.stored() for each in self.questions]}


class _SpecTable(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """A QuizSpec as it is stored."""

    lessons: tuple[str, ...]
    count: int
    seed: int
    variant_set: str
    title: str
    pass_mark: float
    minutes: int | None = None
    pauses: str
    marks: str


def quiz_from(stored: object, digest: str | None = None) -> Quiz:
    """The quiz that ``stored`` made the table of; or of the table in its ``text``, with the digest beside it.

    Raises Fault for anything else, or when any of it was changed.
    """
    try:
        quiz = _quiz(stored)
        kept = stored["digest"] if digest is None and isinstance(stored, dict) else digest
        whole = kept == quiz.digest
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError, msgspec.ValidationError):
        raise Fault("quiz", "can't be read", "ask for the file again") from None
    if not whole:
        raise Fault("quiz", "does not have the digest it was given out with: it was changed", "ask for the file again")
    return quiz


def _quiz(stored: Any) -> Quiz:
    table = msgspec.convert(stored["spec"], _SpecTable)
    if table.pauses not in ("count", "stop") or table.marks not in ("asked", "end"):
        raise ValueError(table)
    values = {name: getattr(table, name) for name in table.__struct_fields__}
    spec = QuizSpec(**values)
    faults = spec_faults(spec)
    if faults:
        raise faults[0]
    questions = tuple(map(question_from, stored["questions"]))
    if len(questions) != spec.count or not {each.lesson for each in questions} <= set(spec.lessons):
        raise ValueError(questions)
    return Quiz(spec, questions, int(stored["generator"]))
