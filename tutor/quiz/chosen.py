"""A question that is made of a task, with options of which one is right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.marking.case import Case, NumberCase, PlanCase
from tutor.marking.figures import shown
from tutor.marking.mark import mark_nothing
from tutor.marking.marked import Marked
from tutor.marking.usual import mistake_words
from tutor.practice.session import Session
from tutor.practice.worked import case_of
from tutor.quiz.asked import LETTERS, Asked, Given
from tutor.quiz.choices import right_option, shown_by
from tutor.quiz.question import Question
from tutor.quiz.spotting import mistake_in, named_in
from tutor.units import Unit


class Chosen(Asked):
    """A question with options; the answer is one of them."""

    option: int | None = None

    @property
    def is_built(self) -> bool:
        return False

    @property
    def takes_several(self) -> bool:
        return False

    def give(self, text: str) -> None:
        self.option = self._option(text)

    def _option(self, text: str) -> int:
        """The option, from 0, that a letter, a number or its own words mean. Raises Fault."""
        bare = " ".join(text.split()).casefold().rstrip(".)")
        letters = LETTERS[: len(self.options)]
        if len(bare) == 1 and bare.upper() in letters:
            return letters.index(bare.upper())
        words = [option.casefold() for option in self.options]
        if bare in words:
            return words.index(bare)
        raise Fault("answer", f'"{text.strip()[:40]}" is none of the answers', f"write {_listed(letters)}")

    @property
    def answer(self) -> str | None:
        return None if self.option is None else f"{LETTERS[self.option]}, {self.options[self.option]}"

    def given(self) -> Given | None:
        return None if self.option is None else {"option": LETTERS[self.option]}

    def take(self, given: Mapping[str, Any]) -> None:
        self.give(str(given["option"]))

    def mark(self) -> Marked:
        task = self.session.task
        if self.option is None:
            return mark_nothing(task, "There is no answer.")
        if self.option == self.right():
            return replace(mark_nothing(task, "Right."), total=1.0, passed=True)
        return self.wrong(replace(mark_nothing(task, "That is not it."), total=0.0))

    def right(self) -> int | None:
        """The number of the right option, from 0; None where there is none."""
        raise NotImplementedError

    def right_answer(self) -> str:
        right = self.right()
        return "" if right is None else f"{LETTERS[right]}, {self.options[right]}"

    def wrong(self, marked: Marked) -> Marked:
        """What is said of the option that was chosen, which is wrong."""
        return marked

    def stored(self) -> dict[str, Any]:
        return {"option": self.option}

    def restore(self, stored: Mapping[str, Any]) -> None:
        option = stored["option"]
        if option is not None and not 0 <= int(option) < len(self.options):
            raise ValueError(option)
        self.option = None if option is None else int(option)


class Choice(Chosen):
    """Figures to choose from."""

    @property
    def case(self) -> NumberCase:
        found = _case(self.session)
        assert isinstance(found, NumberCase)
        return found

    @property
    def ask(self) -> str:
        return f"{self.session.ask} Choose the figure that comes nearest."

    @property
    def options(self) -> tuple[str, ...]:
        return tuple(shown(self.case.of, figure, self.session.unit) for figure in self.question.figures)

    def right(self) -> int | None:
        return right_option(self.case, self.question.figures)

    def wrong(self, marked: Marked) -> Marked:
        case, unit = self.case, self.session.unit
        assert self.option is not None
        found = next(shown_by(case, self.question.figures[self.option]), None)
        if found is None:
            return marked
        said = found.said(lambda value: shown(case.of, value, unit))
        return replace(marked, mistake=found.mistake, feedback=(said, found.then))


class Spot(Chosen):
    """A pattern altered with one usual mistake made; which one is asked."""

    def __init__(self, question: Question, lesson: Lesson, unit: Unit) -> None:
        super().__init__(question, lesson, unit)
        assert question.plan is not None
        self.session.adopt(question.plan)

    @property
    def title(self) -> str:
        return f"Find the mistake: {self.session.task.title}"

    @property
    def ask(self) -> str:
        return (
            f"It was asked: {self.session.ask} What came out is shown, and the pattern as it was."
            " One usual mistake was made. Which?"
        )

    @property
    def options(self) -> tuple[str, ...]:
        return tuple(map(mistake_words, self.question.mistakes))

    def right(self) -> int | None:
        case = _case(self.session)
        assert isinstance(case, PlanCase)
        assert self.question.plan is not None
        made = mistake_in(case, self.question.plan)
        return self.question.mistakes.index(made) if made in self.question.mistakes else None

    def wrong(self, marked: Marked) -> Marked:
        case, plan = _case(self.session), self.question.plan
        assert isinstance(case, PlanCase)
        assert plan is not None
        named = named_in(case, plan, self.session.unit)
        return (
            marked
            if named is None
            else replace(marked, feedback=(f"It was {mistake_words(named.mistake)}.", *named.said))
        )


def _case(session: Session) -> Case:
    return case_of(session.lesson, session.task_number)


def _listed(letters: str) -> str:
    return f"{', '.join(letters[:-1])} or {letters[-1]}"
