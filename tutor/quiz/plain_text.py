"""What the line-by-line quiz says: of the quiz, of a question, of what it came to."""

from __future__ import annotations

import math

from tutor.lesson.task import PlaceTask
from tutor.marking.marked import Marked
from tutor.marking.points import needed_of_100, out_of_100
from tutor.marking.usual import mistake_words
from tutor.practice.page import Page
from tutor.practice.plain_looking import built, how_to_show
from tutor.practice.plain_signs import folds_lines, signs_lines
from tutor.practice.plain_talk import Talk
from tutor.practice.plain_text import tape_lines
from tutor.quiz.asked import LETTERS, Asked
from tutor.quiz.chosen import Spot
from tutor.quiz.clock import spell
from tutor.quiz.outcome import Outcome, time_words
from tutor.quiz.sitting import Result, Sitting

STANDINGS = {"open": "no answer yet", "answered": "answered", "marked": "answered and marked"}


def opening_lines(sitting: Sitting, page: Page, resumed: bool) -> list[str]:
    """What is said when a quiz begins, or goes on."""
    spec = sitting.quiz.spec
    title = title_of(sitting)
    lines = [title, "=" * len(title), ""]
    said = [about(sitting), terms(sitting)]
    if resumed:
        said.append(f"You go on where you left off, at question {sitting.number}.")
    if spec.minutes is not None:
        said.append(time_left(sitting))
    return [*lines, *(line for text in said for line in page.wrapped(text)), ""]


def title_of(sitting: Sitting) -> str:
    """The quiz's own title, or its seed."""
    spec = sitting.quiz.spec
    return spec.title or f"Quiz {spec.seed}"


def about(sitting: Sitting) -> str:
    """How many questions there are, from which lessons."""
    count = len(sitting.quiz.questions)
    numbers = sorted({sitting.lessons[each.lesson].number for each in sitting.quiz.questions})
    lessons = f"lesson {numbers[0]}" if len(numbers) == 1 else f"lessons {', '.join(map(str, numbers))}"
    needed = needed_of_100(sitting.quiz.spec.pass_mark)
    return f"{count} question{'' if count == 1 else 's'} from {lessons}. {needed} of 100 passes."


def terms(sitting: Sitting) -> str:
    """How it is taken."""
    spec = sitting.quiz.spec
    marks = "and no marks before the end, unless you ask for one, which settles the question"
    if spec.marks == "end":
        marks = "and no marks before the end"
    return f"There are no hints, {marks}. Questions can be left and come back to."


def time_left(sitting: Sitting) -> str:
    """How much time is left, and whether it runs on in pauses."""
    sitting.clock.look()
    left = sitting.clock.left
    if left is None:
        return f"There is no time limit; it has taken {spell(sitting.clock.elapsed)} so far."
    runs = "runs on" if sitting.clock.pauses == "count" else "stands still"
    return f"Time left: {spell(math.ceil(left))}. It {runs} while the quiz is closed."


def question_lines(sitting: Sitting, page: Page) -> list[str]:
    """A question with all that is to be known for it."""
    asked, session = sitting.asked, sitting.asked.session
    lesson = asked.lesson
    head = f"Question {sitting.number} of {len(sitting.quiz.questions)}: {asked.title} (lesson {lesson.number})"
    lines = [*page.wrapped(head)]
    for text in (*asked.story, asked.ask):
        lines += ["", *page.wrapped(text)]
    if isinstance(asked, Spot):
        lines += ["", *(line for text in built(Talk(session, page)) for line in page.wrapped(text))]
    rows = session.tape()
    if session.signs:
        talk = Talk(session, page)
        lines += ["", *folds_lines(talk), "", *signs_lines(talk)]
    lines += ["", *tape_lines(rows, session.unit, page, session.lies), ""] if rows else [""]
    for letter, option in zip(LETTERS, asked.options, strict=False):
        lines += page.wrapped(f"{letter}  {option}", "", "   ")
    return [*lines, *page.wrapped(_how(sitting, asked))]


def _how(sitting: Sitting, asked: Asked) -> str:
    answered = f"Your answer is {asked.answer}. " if asked.answer is not None and not asked.is_built else ""
    if sitting.settled(sitting.number) is not None:
        return f"{answered}It is marked, and settled by that."
    if asked.takes_several:
        return f"{answered}Type the letters of all that are right, as A, C."
    if asked.session.signs:
        return f"{answered}Type sign and a number to look for a sign, and the letter of the cause."
    if asked.options:
        return f"{answered}Type the letter of your answer."
    if asked.is_built:
        begun = "What you built is still here; plan tells it. " if asked.answer is not None else ""
        return f"{begun}Build it; what is there when you hand in is marked. help lists all commands."
    if isinstance(asked.session.task, PlaceTask):
        return f"{answered}{how_to_show(asked.session)}"
    return f"{answered}Type your answer."


def list_lines(sitting: Sitting, page: Page) -> list[str]:
    """All questions, and how they stand."""
    rows = [["", "question", "lesson", "stands"]]
    for number in sitting.numbers:
        asked = sitting.question(number)
        here = ">" if number == sitting.number else ""
        rows.append([here, f"{number} {asked.title}", str(asked.lesson.number), STANDINGS[sitting.standing(number)]])
    return page.table(rows, left=4)


def marked_text(marked: Marked) -> list[str]:
    """A mark in sentences."""
    verdict = "right" if marked.passed else "not right"
    return [f"{out_of_100(marked.total)} of 100, {verdict}.", *marked.feedback]


def outcome_lines(sitting: Sitting, outcome: Outcome, page: Page) -> list[str]:
    """What a quiz came to: a mark for each question, the mistakes, what to practise next."""
    lines = [""]
    for each in outcome.results:
        lines += page.wrapped(f"{each.number} {each.title}: {' '.join(result_words(sitting, each))}", "", "  ")
    return [*lines, "", *(line for text in _closing(sitting, outcome) for line in page.wrapped(text))]


def result_words(sitting: Sitting, result: Result) -> list[str]:
    """The mark of one question, the answer, and where that was not right what is said of it."""
    said = [f"{out_of_100(result.marked.total)} of 100.", f"Your answer: {result.answer or 'none'}."]
    if result.marked.passed:
        return said
    right = [f"Right is {result.right}."] if result.right and reveals(sitting) else []
    return [*said, *(result.marked.feedback if result.given is not None else ()), *right]


def reveals(sitting: Sitting) -> bool:
    """Whether right answers are told at the end: not of a quiz that others may still have to take."""
    return sitting.quiz.spec.marks == "asked"


def closing_words(sitting: Sitting, outcome: Outcome) -> list[str]:
    """The mistakes recognised, what to practise next, and the time it took."""
    said = []
    if outcome.mistakes:
        named = [f"{mistake_words(name)}{f' ({count} times)' if count > 1 else ''}" for name, count in outcome.mistakes]
        said.append(f"Mistakes recognised: {'; '.join(named)}.")
    said += [
        f"Practise next: lesson {each.number}, {each.title}, task {each.task} ({each.why}): sleeve-tutor learn"
        f" {each.number}."
        for each in outcome.advice
    ]
    return [*said, *time_words(sitting)]


def _closing(sitting: Sitting, outcome: Outcome) -> list[str]:
    verdict = "passed" if outcome.passed else "not passed"
    mark = f"Mark: {out_of_100(outcome.mark)} of 100, {verdict} ({needed_of_100(outcome.pass_mark)} needed)."
    return [*closing_words(sitting, outcome), mark]
