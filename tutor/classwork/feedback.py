"""What a learner gets back: the marks task by task, what was right and what to look at, as plain text and as a page."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from tutor.classwork import html_page
from tutor.classwork.class_table import ENDINGS as TABLES
from tutor.classwork.homework import Question
from tutor.classwork.overrides import NO_ANSWER
from tutor.classwork.result import Result
from tutor.classwork.standing import Standing, mark_shown
from tutor.classwork.trouble import Trouble
from tutor.classwork.words import given_words
from tutor.faults import printable

WIDTH = 76
OF_THEIRS = "Something that you handed in could not be marked."
OF_TABLE = "A table of the class could not be read, and may hold answers of yours."
OF_FILE = "A file could not be taken in, and may hold answers of yours."
UNREAD = "What you handed in could not be marked, so nobody knows your answer here."
IN_A_TABLE = "Your answer may be in a table that could not be read, so nobody knows it yet."
IN_A_FILE = "Your answer may be in a file that could not be taken in, so nobody knows it yet."
GIVEN_TO_ANOTHER = "It was given to another answer of yours"
GIVEN_TO_NONE = "It was given when there was no answer of yours that could be marked."
LATE = "Handed in after the day it was due."
PICTURES = ("The sleeve", "An armhole, from the shoulder tip down", "An armhole, from the shoulder tip down")


def said_of(standing: Standing, question: Question) -> tuple[str, ...]:
    """What is said of one answer, sentence by sentence; the teacher's mark and reason come first."""
    number = question.number
    result = standing.results.get(number)
    said: list[str] = []
    if number in standing.overrides:
        override = standing.overrides[number]
        instead = "" if result is None or result.total is None else f" in place of {mark_shown(result.total)}"
        said.append(f"Your teacher's mark is {override.shown} of 100{instead}: {override.reason}")
        if override.given_to:
            none = override.given_to == NO_ANSWER
            said.append(GIVEN_TO_NONE if none else f"{GIVEN_TO_ANOTHER}: {override.given_to}.")
    if result is None and standing.is_unread(number):
        in_a_table = any(each.shared and _is_table(each) for each in standing.unread.values())
        of_class = IN_A_TABLE if in_a_table else IN_A_FILE
        said.append(UNREAD if standing.is_unread(number, own=True) else of_class)
    elif result is None:
        said.append("No answer was handed in.")
    elif result.trouble:
        said.append(f"Your answer could not be marked. {result.trouble}.")
    else:
        said += result.feedback
    return tuple(said)


def mark_words(standing: Standing, question: Question) -> str:
    """The mark of one task in words."""
    mark = standing.shown(question.number)
    if not mark:
        return "not marked"
    passed = "passed" if standing.passed(question.number) else "not passed"
    return f"{mark} of 100, {passed}"


def total_words(standing: Standing) -> str:
    """The mark for the whole in words."""
    total = standing.total
    if total is None:
        return "The whole is not marked yet." if standing.handed_in or standing.unread else "Nothing was handed in."
    return f"In all: {mark_shown(total)} of 100."


def unread_words(standing: Standing) -> list[str]:
    """A sentence for each thing that could not be read."""
    return [_unread_words(each) for each in standing.unread.values()]


def _unread_words(unread: Trouble) -> str:
    if not unread.shared:
        return f"{OF_THEIRS} {unread.line}."
    # What is wrong with it is for the teacher, and may tell of others.
    return OF_TABLE if _is_table(unread) else OF_FILE


def _is_table(unread: Trouble) -> bool:
    return unread.file.casefold().endswith(TABLES)


def feedback_text(standing: Standing) -> str:
    """The feedback as plain text, at most 76 letters to the line."""
    lines = [standing.homework.title, _whose(standing), "", total_words(standing)]
    lines += [LATE] if standing.late else []
    for words in unread_words(standing):
        lines += _wrapped(words)
    for question in standing.homework.questions:
        lines += ["", *_wrapped(f"Task {question.number}. {question.title}"), f"   {mark_words(standing, question)}"]
        lines += _task_lines(standing, question)
    return "\n".join(printable(line) for line in lines) + "\n"


def _task_lines(standing: Standing, question: Question) -> Iterator[str]:
    answer, result = standing.answers.get(question.number), standing.results.get(question.number)
    if answer is not None:
        yield from _wrapped(f"You gave: {given_words(answer.given, answer.source)}", "   ")
    for sentence in said_of(standing, question):
        yield from _wrapped(sentence, "   ")
    if result is None:
        return
    if result.goals:
        widest = max(len(goal.words) for goal in result.goals)
        figure = max(len(goal.figure) for goal in result.goals)
        for goal in result.goals:
            mark = mark_shown(goal.credit)
            yield f"   {goal.words:<{widest}}  {goal.figure:>{figure}}   wanted {goal.wanted}: {mark} of 100"
    for difference in result.differences:
        yield from _wrapped(f"- {difference}", "   ")


def _wrapped(words: str, indent: str = "") -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent=indent, subsequent_indent=indent) or [indent.rstrip()]


def _whose(standing: Standing) -> str:
    return f"{standing.learner.name}, variant {standing.learner.deal}"


def feedback_page(standing: Standing) -> str:
    """The feedback as a page of HTML, with the pattern drawn before, as handed in, and as wanted."""
    title = f"{standing.homework.title}: {standing.learner.name}"
    body = [
        f"<h1>{html_page.text(standing.homework.title)}</h1>",
        html_page.paragraph(_whose(standing), "small"),
        html_page.paragraph(total_words(standing), "mark"),
    ]
    if standing.late:
        body.append(html_page.paragraph(LATE))
    body += map(html_page.paragraph, unread_words(standing))
    for question in standing.homework.questions:
        body += _section(standing, question)
    return html_page.page(title, body)


def _section(standing: Standing, question: Question) -> Iterator[str]:
    answer, result = standing.answers.get(question.number), standing.results.get(question.number)
    yield "<section>"
    yield f"<h2>Task {question.number}. {html_page.text(question.title)}</h2>"
    yield html_page.paragraph(mark_words(standing, question), "mark")
    if answer is not None:
        yield html_page.paragraph(f"You gave: {given_words(answer.given, answer.source)}")
    yield '<div class="said">'
    for sentence in said_of(standing, question):
        yield html_page.paragraph(sentence)
    yield "</div>"
    if result is not None:
        yield from _details(result)
    yield "</section>"


def _details(result: Result) -> Iterator[str]:
    if result.goals:
        rows = [
            ("" if goal.credit >= 1 else "missed", [goal.words, goal.figure, goal.wanted, mark_shown(goal.credit)])
            for goal in result.goals
        ]
        yield from html_page.table(["goal", "came to", "wanted", "of 100"], rows, 3)
    if result.differences:
        yield html_page.paragraph("Beside one way that does it:")
        yield from html_page.bullets(result.differences)
    yield from html_page.pictures(result.pictures, PICTURES)
