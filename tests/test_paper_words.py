"""What is printed for a class speaks of paper: no sheet, form or key tells of keys, commands or what a screen shows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tutor.classwork.canvas import Page, Words
from tutor.classwork.forms import form
from tutor.classwork.homework import Homework
from tutor.classwork.homework_reading import read_homework
from tutor.classwork.key import key_lines
from tutor.classwork.learner import Learner
from tutor.classwork.marker import Marker
from tutor.classwork.register import dealt
from tutor.classwork.right_answer import right_answer
from tutor.classwork.sheet import Look, sheet_pages
from tutor.classwork.tiles import PAPERS
from tutor.lesson.reading import own_lesson
from tutor.practice.session import Session
from tutor.practice.worked import case_of
from tutor.units import Unit

LESSONS = sorted(path.stem for path in (Path(__file__).parents[1] / "lessons").glob("*.toml"))
OF_THE_SCREEN = re.compile(
    r"\b[Pp]ress [A-Z]\b|\bkeys?\b|\bscreen|\bpanel|\bfooter|\bclick|\bmouse|\bline by line|sleeve-tutor|\bterminal"
    r"|\b[A-Z] writes\b|\b(?:with|by) [B-Z]\b|\bTab\b|\bEnter\b|\bcommand|\.svg --",
)


def homework_of(lesson: str, folder: Path) -> Homework:
    """A homework of all tasks of one of the program's lessons."""
    count = own_lesson(lesson).task_count
    tasks = "".join(f'[[tasks]]\nlesson = "{lesson}"\ntask = {k}\n' for k in range(1, count + 1))
    (folder / "homework.toml").write_text(f'title = "All of it"\n{tasks}')
    return read_homework(folder / "homework.toml")


def handed_out(homework: Homework) -> tuple[Learner, dict[int, Session]]:
    """A learner, and a session at each task as sheets are made from it."""
    register = dealt(homework, [Learner("Tove", Unit.CM, "tove")])
    (learner,) = register.learners
    marker = Marker(homework)
    deal = register.deal_of(learner)
    return learner, {q.number: marker.session(q, learner.deal, deal, learner.unit) for q in homework.questions}


def words_on(pages: list[Page]) -> str:
    return " ".join(item.text for page in pages for item in (*page.inside, *page.items) if isinstance(item, Words))


@pytest.mark.parametrize("lesson", LESSONS)
def test_paper_has_words_for_paper(lesson: str, tmp_path: Path) -> None:
    homework = homework_of(lesson, tmp_path)
    learner, sessions = handed_out(homework)
    sheet = words_on(sheet_pages(homework, learner, sessions, Look(PAPERS["a4"], "quarter")))
    assert len(sheet) > 500
    asks = {number: session.ask for number, session in sessions.items()}
    keys = [text for q in homework.questions for part in key_lines(q, sessions[q.number]) for text in part]
    for text in (sheet, form(homework, learner, asks), *keys):
        assert OF_THE_SCREEN.search(text) is None


def test_a_lesson_s_words_for_the_screen_stay_there(tmp_path: Path) -> None:
    lesson = own_lesson("28-complaint-to-cut")
    assert OF_THE_SCREEN.search(lesson.screen[0])
    assert Session(lesson, Unit.CM).brief[-1] == lesson.screen[0]
    learner, sessions = handed_out(homework := homework_of(lesson.name, tmp_path))
    sheet = words_on(sheet_pages(homework, learner, sessions, Look(PAPERS["a4"], "quarter")))
    assert "The evening ends" not in sheet
    assert "Your house rules for linen" in sheet


def test_a_place_is_asked_for_so_that_paper_can_answer(tmp_path: Path) -> None:
    homework = homework_of("01-reading-a-sleeve", tmp_path)
    learner, sessions = handed_out(homework)
    sheet = words_on(sheet_pages(homework, learner, sessions, Look(PAPERS["a4"], "quarter")))
    assert sheet.count("Mark it on the pattern.") == 4
    assert sheet.count("Along the seam:") == sheet.count("How far, from where:") == 4
    assert sheet.count("Answer, with its unit:") == 4


def test_what_the_form_gives_as_an_example_is_read(tmp_path: Path) -> None:
    """The ways to write a place that a form names, with the figures of the key in place of its own."""
    homework = homework_of("01-reading-a-sleeve", tmp_path)
    learner, sessions = handed_out(homework)
    text = " ".join(form(homework, learner, {n: s.ask for n, s in sessions.items()}).replace("# ", "").split())
    assert text.count("6 cm along cap-back") == text.count("point -3 cm, 5 cm.") == 4
    case = case_of(sessions[3].lesson, 3)
    assert right_answer(sessions[3], case).endswith(" along cap-back")
    assert sessions[3].answer(right_answer(sessions[3], case)).passed
    sleeve = sessions[3].pattern.sleeve
    spot = next(sleeve.mark_point(mark) for mark in sleeve.notches if mark.name == "notch-back-1")
    again = handed_out(homework)[1][3]
    assert again.answer(f"point {spot.real / 10:.1f} cm, {spot.imag / 10:.1f} cm").passed
