"""A question being asked: its texts, the answer as it stands, and its mark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import ChoiceTask, DiagnoseTask, PlanTask, Task
from tutor.marking.case import Case, NumberCase, PlanCase
from tutor.marking.figures import shown
from tutor.marking.finding import Finding
from tutor.marking.mark import mark_nothing
from tutor.marking.marked import Marked
from tutor.marking.usual import mistake_words
from tutor.practice.session import Session
from tutor.practice.stored import plan_from, stored_plan
from tutor.practice.worked import case_of
from tutor.quiz.choices import right_option, shown_by
from tutor.quiz.question import Question
from tutor.quiz.spotting import mistake_in, named_in
from tutor.units import Unit

LETTERS = "ABCDEFGH"
Given = dict[str, Any]
"""An answer as it was given: a plan's table, a text with its unit, or the number of an option from 1."""


class Asked:
    """A task of a lesson as a question. ``unit`` is the learner's; nothing is marked before ``mark``."""

    def __init__(self, question: Question, lesson: Lesson, unit: Unit) -> None:
        self.question = question
        self.lesson = lesson
        self.session = _session(question, lesson, unit)

    @property
    def title(self) -> str:
        """What is asked, in a few words."""
        return self.session.task.title

    @property
    def story(self) -> tuple[str, ...]:
        """What is to be known before the question, paragraph by paragraph: the brief, and what was asked before."""
        session, earlier = self.session, self.session.task.goes_on_from
        before = [f"Before that it was asked: {_ask_of(session, earlier)}"] if earlier else []
        before += [*session.plan_told(), *session.off_told()]
        cautions = session.cautions if isinstance(session.task, PlanTask) else ()
        return (*session.brief, *(f"Caution: {text}" for text in cautions), *before)

    @property
    def ask(self) -> str:
        """The question itself."""
        return self.session.ask

    @property
    def options(self) -> tuple[str, ...]:
        """What there is to choose from, in the learner's unit; nothing where nothing is to be chosen."""
        return ()

    @property
    def takes_several(self) -> bool:
        """Whether more than one of the options may be the answer."""
        return bool(self.options) and not (isinstance(self, Chosen) or self.session.task_picks_one)

    @property
    def is_built(self) -> bool:
        """Whether the answer is built on the pattern, and not said."""
        return isinstance(self.session.task, PlanTask)

    def give(self, text: str) -> None:
        """Takes an answer in words. Raises Fault for one that can't be read."""
        self.session.give(text)

    @property
    def answer(self) -> str | None:
        """The answer in a few words, None while there is none."""
        given = self.session.given
        if isinstance(given, Plan):
            count = len(given.slashes)
            return f"{count} slash{'' if count == 1 else 'es'}" if count else "built"
        return given

    def mark(self) -> Marked:
        """The mark of the answer as it stands."""
        if self.session.given is None:
            return mark_nothing(self.session.task, "There is no answer.")
        return self.session.check()

    def right_answer(self) -> str:
        """The right answer in words, where it can be said; "" otherwise."""
        if self.is_built:
            return ""
        try:
            return self.session.right_answer()
        except Fault:
            return ""

    def given(self) -> Given | None:
        """The answer as it was given, as a plain table; None while there is none."""
        given = self.session.given
        if given is None:
            return None
        return {"plan": stored_plan(given)} if isinstance(given, Plan) else {"text": given}

    def take(self, given: Mapping[str, Any]) -> None:
        """Takes an answer as ``given`` gave it. Raises Fault for one that can't be of this question."""
        if "plan" in given:
            self.session.adopt(plan_from(given["plan"]))
        else:
            self.session.give(str(given["text"]))

    def stored(self) -> dict[str, Any]:
        """All that is to be kept of it, as a plain table."""
        return self.session.dump()

    def restore(self, stored: Mapping[str, Any]) -> None:
        """Goes on from what ``stored`` gave. Raises Fault, KeyError, TypeError or ValueError for anything else."""
        unit = self.session.unit
        self.session = Session.load(self.lesson, stored)
        self.session.go_to_task(self.question.task)
        self.session.unit = unit


class Picked(Asked):
    """A task that gives something to choose among, as a question; one is to be chosen, or all that are right."""

    @property
    def options(self) -> tuple[str, ...]:
        return tuple(option.words for option in self.session.options)

    @property
    def answer(self) -> str | None:
        return self._told(self.session.chosen) or None

    def right_answer(self) -> str:
        try:
            return self._told(self.session.right_options())
        except Fault:
            return ""

    def _told(self, names: Sequence[str]) -> str:
        """Options by their names in words, each with its letter."""
        rows = zip(LETTERS, self.session.options, strict=False)
        return "; ".join(f"{letter}, {option.words}" for letter, option in rows if option.name in names)


class Diagnosed(Picked):
    """A task that shows folds, as a question: signs can be looked for before a cause is named."""

    @property
    def story(self) -> tuple[str, ...]:
        cautions = (f"Caution: {text}" for text in self.session.cautions)
        return (*self.session.brief, *cautions)

    def right_answer(self) -> str:
        """The cause, and signs that prove it."""
        try:
            right = Finding.read(self.session.right_answer())
        except Fault:
            return ""
        signs = [sign.words for sign in self.session.signs if sign.name in right.asked]
        return f"{self._told((right.cause,))}; signs that prove it: {'; '.join(signs)}"


class Chosen(Asked):
    """A question with options; the answer is one of them."""

    option: int | None = None

    @property
    def is_built(self) -> bool:
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


_KINDS: dict[type[Task], type[Asked]] = {ChoiceTask: Picked, DiagnoseTask: Diagnosed}


def ask(question: Question, lesson: Lesson, unit: Unit) -> Asked:
    """The question, ready to be asked. Raises Fault for one that the lesson does not have, or no longer."""
    kinds: dict[str, type[Asked]] = {"task": Asked, "choice": Choice, "spot": Spot}
    if not 1 <= question.task <= len(lesson.tasks):
        raise Fault(f"lesson {lesson.number}", f"has no task {question.task}", "draw the quiz again")
    try:
        kind = _KINDS.get(type(lesson.tasks[question.task - 1])) or kinds[question.form]
        return kind(question, lesson, unit)
    except (Refusal, ValueError) as reason:
        raise Fault(f"lesson {lesson.number}", f"can't be set for these figures: {reason}", "draw it again") from None


def _session(question: Question, lesson: Lesson, unit: Unit) -> Session:
    session = Session(lesson, unit, variant=question.variant(lesson))
    session.go_to_task(question.task)
    return session


def _case(session: Session) -> Case:
    return case_of(session.lesson, session.task_number)


def _ask_of(session: Session, number: int) -> str:
    here = session.task_number
    session.go_to_task(number)
    text = session.ask
    session.go_to_task(here)
    return text


def _listed(letters: str) -> str:
    return f"{', '.join(letters[:-1])} or {letters[-1]}"
