"""A quiz for a class, as its teacher writes it.

A TOML 1.0 file. Nothing in it is evaluated or run.

    title = "Width, after four evenings"
    lessons = [4, 5, "06-cap-height-kept"]   # by number, name or title; a span is "4-7", and all of them "all"
    count = 8                                # how many questions
    seed = 20                                # which questions and bodies: the same number draws the same ones
    pass-mark = 0.7                          # 0 to 1
    minutes = 30                             # without it there is no limit
    pauses = "count"                         # whether the time runs on while the quiz is closed, or "stop"
    marks = "end"                            # none before the end; "asked": for single questions when asked for
    variants = "each"                        # other bodies for each learner; "same": one set for all
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from msgspec import Struct

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.strict import Reader
from tutor.quiz.lesson_names import lessons_named
from tutor.quiz.spec import COUNT, PASS_MARK, Marks, Pauses, QuizSpec, spec_faults
from tutor.toml_lines import key_lines
from tutor.toml_reading import Document
from tutor.units import Unit


class ClassQuizText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """What a class quiz file holds."""

    title: str
    lessons: tuple[str | int, ...]
    count: int = COUNT
    seed: int = 0
    pass_mark: float = PASS_MARK
    minutes: int | None = None
    pauses: Pauses = "count"
    marks: Marks = "end"
    variants: Literal["same", "each"] = "same"


@dataclass(frozen=True, slots=True)
class ClassQuiz:
    """A class quiz: what is drawn, and whether for each learner anew."""

    spec: QuizSpec
    for_each: bool

    def of(self, learner: str) -> QuizSpec:
        """What one learner is asked: by the name, where each has other bodies."""
        return replace(self.spec, variant_set=set_of(learner)) if self.for_each else self.spec


class ClassQuizFaults(Fault):
    """Everything that is wrong with a class quiz file; as a Fault it is the first of ``faults``."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(faults[0].where, faults[0].what, faults[0].right)
        self.faults = faults


def set_of(learner: str) -> str:
    """The name of the variant set of a learner: the name, however it is spaced and capitalised."""
    return " ".join(learner.split()).casefold()


def read_class_quiz(document: Document, lessons: Mapping[str, Lesson]) -> ClassQuiz:
    """The class quiz in a document. Raises ClassQuizFaults, which is a Fault, with everything that is wrong with it."""
    where = Path(document.where).name
    reader = Reader(where, Unit.CM, key_lines(document.text))
    text = reader.read(ClassQuizText, document.tables)
    spec = None if text is None else _spec(text, lessons, reader)
    if text is None or spec is None or reader.faults:
        raise ClassQuizFaults(tuple(reader.faults))
    return ClassQuiz(spec, text.variants == "each")


def _spec(text: ClassQuizText, lessons: Mapping[str, Lesson], reader: Reader) -> QuizSpec | None:
    names: dict[str, None] = {}
    for k, named in enumerate(text.lessons):
        try:
            names |= dict.fromkeys(lessons_named(str(named), lessons))
        except Fault as fault:
            reader.fault(("lessons", k), fault.what, fault.right)
    if not text.title.strip():
        reader.fault(("title",), "is empty", "write what the quiz is called")
    if reader.faults:
        return None
    spec = QuizSpec(
        tuple(name for name in lessons if name in names),
        text.count,
        text.seed,
        "",
        text.title.strip(),
        float(text.pass_mark),
        text.minutes,
        text.pauses,
        text.marks,
    )
    for each in spec_faults(spec):
        reader.fault((each.where,), each.what, each.right)
    return spec
