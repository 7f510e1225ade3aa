"""The teacher's key: for each variant the right figures, worked solutions, and what usual mistakes lead to."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence

from tutor.alteration.refusal import Refusal
from tutor.classwork import html_page
from tutor.classwork.homework import Homework, Question
from tutor.classwork.learner import Learner
from tutor.classwork.right_answer import lettered, right_answer
from tutor.faults import Fault, printable
from tutor.lesson.task import NumberTask
from tutor.marking.case import NumberCase
from tutor.marking.figures import shown
from tutor.marking.recognise_number import candidates
from tutor.practice.session import Session
from tutor.practice.worked import case_of

WIDTH = 76


def key_lines(question: Question, session: Session) -> tuple[list[str], list[str]]:
    """The worked answer to a question, and the figures that usual mistakes lead to, in the session's unit.

    Letters and numbers are those of the sheet of the session's variant; last stands what a learner is to write.

    The session counts as shown afterwards.
    """
    try:
        case = case_of(session.lesson, question.task_number)
        steps = list(lettered(session, case, session.solution().steps))
        answer = right_answer(session, case)
        if answer:
            steps.append(f"In the answer form: {answer}")
        return steps, list(_wrong_figures(question, session))
    except (Fault, Refusal, ValueError) as reason:
        return [f"It can't be worked out: {reason}."], []


def _wrong_figures(question: Question, session: Session) -> Iterator[str]:
    if not isinstance(question.task, NumberTask):
        return
    case = case_of(session.lesson, question.task_number)
    if isinstance(case, NumberCase):
        led_to = candidates(case, session.unit)
        # By its own words: one mistake may be made in either of two ways, and lead to a figure each.
        yield from dict.fromkeys(
            each.said(lambda value: shown(case.of, value, session.unit)) for each in led_to if not each.again
        )


Keys = Mapping[str, Mapping[int, tuple[list[str], list[str]]]]
"""For each variant's code, and each question's number, what ``key_lines`` gives."""


def key_text(homework: Homework, keys: Keys, learners: Sequence[Learner]) -> str:
    """The key as plain text."""
    lines = [f"{homework.title}: the teacher's key"]
    for code, answers in keys.items():
        lines += ["", "", *_wrapped(_head(code, learners)), ""]
        for question in homework.questions:
            steps, wrong = answers[question.number]
            lines += _wrapped(f"Task {question.number}. {question.title}")
            lines += [line for step in steps for line in _wrapped(step, "   ")]
            lines += ["   Usual mistakes:"] if wrong else []
            lines += [line for each in wrong for line in _wrapped(each, "      ")]
    return "\n".join(map(printable, lines)) + "\n"


def key_page(homework: Homework, keys: Keys, learners: Sequence[Learner]) -> str:
    """The key as a page of HTML."""
    body = [f"<h1>{html_page.text(homework.title)}: the teacher's key</h1>"]
    for code, answers in keys.items():
        body.append(f"<h2>{html_page.text(_head(code, learners))}</h2>")
        for question in homework.questions:
            steps, wrong = answers[question.number]
            body.append(f"<h3>Task {question.number}. {html_page.text(question.title)}</h3>")
            body += [html_page.paragraph(step) for step in steps]
            body += [html_page.paragraph("Usual mistakes:", "small"), *html_page.bullets(wrong)] if wrong else []
    return html_page.page(f"{homework.title}: the teacher's key", body)


def _head(code: str, learners: Sequence[Learner]) -> str:
    names = [learner.name for learner in learners if learner.deal == code]
    return f"Variant {code}: {', '.join(names)}"


def _wrapped(words: str, indent: str = "") -> list[str]:
    return textwrap.wrap(
        words, WIDTH, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False
    ) or [""]
