"""Quizzes and what is due, on the screen."""

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

import pytest
import quiz_kill
import quiz_passing
from lessons_for_tests import small_lesson
from quiz_driving import SMALL, Hands, small_quiz, small_sitting
from terminal import tutor_in_terminal
from test_quiz_sitting import forms
from textual.pilot import Pilot
from tutor_driving import Driven, driven

from tutor.lesson.lesson import Lesson
from tutor.lesson.listing import Listed
from tutor.practice.session import Session
from tutor.quiz.asked import LETTERS, Asked
from tutor.quiz.chosen import Chosen
from tutor.quiz.quiz import Quiz
from tutor.quiz.sitting import Sitting
from tutor.record import Record, open_record
from tutor.tui import due_screen, quiz_choice, quiz_screen
from tutor.tui.app import Opening, TutorApp
from tutor.tui.desk import Desk
from tutor.tui.drawing import Drawing
from tutor.tui.due_screen import DueScreen
from tutor.tui.question_screen import QuestionScreen
from tutor.tui.quiz_screen import QuizScreen
from tutor.units import Unit


@asynccontextmanager
async def opened(
    lesson: Lesson, opening: Opening | None, record: Record | None = None, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[Driven]:
    """The tutor at a screen of its own, or at the list of lessons."""
    app = TutorApp(None, Desk((Listed.of(lesson),), Unit.CM, record=record), opening)
    pilot: Pilot[int]
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield Driven(app, pilot)


@asynccontextmanager
async def quizzing(
    sitting: Sitting, record: Record | None = None, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[Driven]:
    """The tutor at a quiz."""
    opening: Opening = lambda app: QuizScreen(app.desk, sitting, app.show_lessons)  # noqa: E731
    async with opened(sitting.lessons["small"], opening, record, size) as tutor:
        yield tutor


def right_letter(sitting: Sitting, number: int) -> str:
    asked = sitting.question(number)
    assert isinstance(asked, Chosen)
    right = asked.right()
    assert right is not None
    return LETTERS[right]


async def open_question(tutor: Driven, number: int) -> None:
    """From the list to a question, its page closed."""
    screen = tutor.app.screen
    assert isinstance(screen, QuizScreen)
    await tutor.press("up " * 10 + "down " * (number - 1) + "enter enter")
    assert isinstance(tutor.app.screen, QuestionScreen)


async def test_a_quiz_is_taken_by_keys_and_marked_at_its_end(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    found = forms(sitting)
    async with quizzing(sitting) as tutor:
        assert "4 without an answer" in tutor.text
        for form in ("choice", "spot"):
            await open_question(tutor, found[form])
            await tutor.press(right_letter(sitting, found[form]))
            assert "Your answer is " in tutor.text
            await tutor.press("escape")
        await open_question(tutor, found["number"])
        await tutor.press("enter")
        await tutor.write(sitting.question(found["number"]).right_answer())
        await tutor.press("enter escape")
        await open_question(tutor, found["plan"])
        solution = sitting.asked.session.solution()
        assert solution.plan is not None
        sitting.asked.session.adopt(solution.plan)
        await tutor.press("escape")
        assert "Every question has an answer." in tutor.text
        await tutor.press("F y")
        assert "Passed: 100 of 100, 70 needed" in tutor.text
        assert "m Marks" in tutor.text


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_after_the_last_question_there_is_no_next_one(size: tuple[int, int], tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    last = len(sitting.numbers)
    async with quizzing(sitting, size=size) as tutor:
        for number in sitting.numbers:
            await open_question(tutor, number)
            onward = "n Next question" in tutor.rows[-1]
            assert onward == ("n: next question" in tutor.text) == (number != last), tutor.text
            assert "Esc All questions" in tutor.rows[-1]
            if number == last:
                assert "ast question. Esc: all" in tutor.text
            await tutor.press("escape")
        choices = [number for number in sitting.numbers if isinstance(sitting.question(number), Chosen)]
        for number in choices:
            await open_question(tutor, number)
            await tutor.press("A")
            assert ("n: next question" in tutor.text) == (number != last)
            await tutor.press("escape")


async def test_arrows_and_enter_choose_as_letters_and_clicks_do(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    number = forms(sitting)["choice"]
    async with quizzing(sitting) as tutor:
        await open_question(tutor, number)
        await tutor.press("down down enter")
        assert (sitting.asked.answer or "")[:1] == "C"
        await tutor.press("B")
        assert (sitting.asked.answer or "")[:1] == "B"
        await tutor.press("1")
        assert (sitting.asked.answer or "")[:1] == "A"


async def test_there_are_no_hints_no_solutions_and_no_marks(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path, replace(SMALL, marks="end"))
    async with quizzing(sitting) as tutor:
        for form in ("number", "plan"):
            await open_question(tutor, forms(sitting)[form])
            await tutor.press("h")
            assert "There are no hints in a quiz." in tutor.text
            await tutor.press("w")
            assert "There are no worked solutions in a quiz." in tutor.text
            await tutor.press("R")
            assert "not started over" in tutor.text
            await tutor.press("c")
            assert "this quiz is marked at its end" in tutor.text
            assert sitting.asked.session.hints_taken == 0
            await tutor.press("escape")


async def test_a_mark_asked_for_settles_the_question(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    number = forms(sitting)["choice"]
    async with quizzing(sitting) as tutor:
        await open_question(tutor, number)
        await tutor.press("c")
        assert "there is no answer yet" in tutor.text
        await tutor.press("A c")
        assert "settled" in tutor.page
        await tutor.press("y")
        assert "of 100" in tutor.page
        await tutor.press("enter B")
        assert "settled by that" in tutor.text
        assert (sitting.asked.answer or "")[:1] == "A"


@pytest.mark.parametrize("form", ["choice", "spot", "number", "plan"])
async def test_a_settled_question_takes_no_answer_and_its_footer_offers_its_mark(form: str, tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    answering = {"plan": "s enter n n n n n h pageup", "number": "enter 1 2 enter"}
    async with quizzing(sitting) as tutor:
        await open_question(tutor, forms(sitting)[form])
        await tutor.press(answering.get(form, "A"))
        offered = tutor.rows[-1]
        await tutor.press("c y")
        page = tutor.page
        assert "of 100" in page
        await tutor.press("enter")
        assert tutor.rows[-1] != offered
        assert all(words not in tutor.rows[-1] for words in ("Enter", "Slash", "Open", "Undo"))
        given = sitting.asked.given()
        for key in ("A", "s", "+", "x", "u", "X", "enter"):
            await tutor.press(key)
            assert isinstance(tutor.app.screen, QuestionScreen)
            assert sitting.asked.given() == given
        assert "settled by that" in tutor.text
        if form == "plan":
            # Nor by mouse: no slash is begun at the edge, none is picked up by its end.
            sleeve = tutor.lesson.session.pattern.sleeve
            for place in (sleeve.underarm_point_back, sleeve.crown):
                await tutor.click(place)
                assert tutor.lesson.placing is None
                assert "This question" in tutor.lesson.say.words
            assert sitting.asked.given() == given
        await tutor.press("question_mark")
        assert "read its mark again" in tutor.page
        assert "write your answer" not in tutor.page
        assert "answer with" not in tutor.page
        await tutor.press("escape")
        assert " c Mark " in tutor.rows[-1]
        await tutor.press("c")
        assert tutor.page == page


async def test_what_is_built_is_still_there_on_coming_back(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    number = forms(sitting)["plan"]
    async with quizzing(sitting) as tutor:
        await open_question(tutor, number)
        await tutor.press("s enter n n n n n h pageup")
        assert sitting.asked.session.draft.slashes
        drawn = tutor.text
        await tutor.press("N" if number == len(sitting.numbers) else "n")
        await tutor.press("enter")
        await tutor.press("n" if number == len(sitting.numbers) else "N")
        assert tutor.text == drawn.replace("u takes the last step back.", "u takes the last step back.")


async def test_the_time_ends_it_whatever_lies_over_it(tmp_path: Path) -> None:
    hands = Hands()
    sitting = small_sitting(tmp_path, replace(SMALL, minutes=1), hands)
    number = forms(sitting)["number"]
    async with quizzing(sitting) as tutor:
        await open_question(tutor, number)
        assert "1:00 left" in tutor.text
        hands.go(30)
        screen = tutor.app.screen
        assert isinstance(screen, QuestionScreen)
        screen.tick()
        await tutor.pilot.pause()
        assert "0:30 left" in tutor.text
        await tutor.press("enter")
        hands.go(31)
        screen.tick()
        await tutor.pilot.pause()
        assert "Not passed: 0 of 100" in tutor.text
        assert "The time was up after 1 min" in tutor.text


async def test_a_key_after_the_time_is_not_counted(tmp_path: Path) -> None:
    hands = Hands()
    sitting = small_sitting(tmp_path, replace(SMALL, minutes=1), hands)
    async with quizzing(sitting) as tutor:
        await open_question(tutor, forms(sitting)["choice"])
        hands.go(61)
        await tutor.press("A")
        assert sitting.question(forms(sitting)["choice"]).answer is None
        assert isinstance(tutor.app.screen, QuizScreen)


async def test_it_goes_on_where_it_was_left(tmp_path: Path) -> None:
    quiz, lessons = small_quiz(tmp_path)
    with open_record(tmp_path / "kept") as record:
        sitting = Sitting(quiz, lessons, Unit.CM)
        async with quizzing(sitting, record) as tutor:
            await open_question(tutor, forms(sitting)["choice"])
            await tutor.press("B i")
    with open_record(tmp_path / "kept") as record:
        again = record.resume_quiz(lessons)
        assert again is not None
        assert (again.number, (again.asked.answer or "")[:1]) == (forms(sitting)["choice"], "B")


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_options_and_questions_fit(size: tuple[int, int], tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    async with quizzing(sitting, size=size) as tutor:
        assert all(f"{number} open" in tutor.text for number in sitting.numbers)
        await open_question(tutor, forms(sitting)["spot"])
        for letter in LETTERS[: len(sitting.asked.options)]:
            assert any(f" {letter}  " in row or f">{letter}  " in row for row in tutor.rows)


async def test_what_a_quiz_came_to_is_cut_with_a_sign_and_the_footer_names_the_list(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path, replace(SMALL, marks="asked"))
    async with quizzing(sitting, size=(60, 20)) as tutor:
        await open_question(tutor, forms(sitting)["choice"])
        assert tutor.rows[-1].split()[-2:] == ["Esc", "List"]
        await tutor.press("escape F y")
        with patch.object(quiz_screen, "closing_words", lambda *_: ["Practise next: lesson 90, a little."] * 8):
            assert isinstance(tutor.app.screen, QuizScreen)
            tutor.app.screen.show()
            await tutor.pilot.pause()
        shown = [row.strip() for row in tutor.rows]
        assert shown[6].startswith("Not passed")
        rows = shown[: next(k for k, row in enumerate(shown) if row.startswith("↑↓ choose"))]
        assert rows[-1].endswith("…")
        assert 1 < " ".join(rows).count("Practise next") < 8


async def test_a_quiz_is_drawn_from_the_list_of_lessons(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lesson = small_lesson(tmp_path)
    monkeypatch.setattr(quiz_choice, "every_lesson", lambda: {lesson.name: lesson})
    monkeypatch.setattr(quiz_choice, "COUNT", 2)
    with open_record(tmp_path / "kept") as record:
        record.keep_setting("toured", True)
        async with opened(lesson, None, record) as tutor:
            await tutor.press("t")
            assert "A quiz about what?" in tutor.text
            await tutor.press("down enter")
            while isinstance(tutor.app.screen, Drawing):
                await tutor.pilot.pause(0.05)
            await tutor.pilot.pause(0.2)
            assert isinstance(tutor.app.screen, QuizScreen)
            assert "2 without an answer" in tutor.text
            await tutor.press("escape t")
            # The one under way, without being asked what about.
            assert isinstance(tutor.app.screen, QuizScreen)


async def test_the_list_of_lessons_says_that_a_quiz_is_open_until_it_is_handed_in(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    with open_record(tmp_path / "kept") as record:
        record.keep_setting("toured", True)
        lessons = [Listed.of(each) for each in sitting.lessons.values()]
        async with driven(record=record, known=lessons) as tutor:
            assert "a quiz is open" not in tutor.text
            record.save_quiz(sitting)
            await tutor.press("down")
            assert "a quiz is open: t" in tutor.rows[0]
            await tutor.resize(60, 20)
            assert "a quiz is open: t" in tutor.rows[0]
            sitting.hand_in()
            record.save_quiz(sitting)
            await tutor.press("down")
            assert "a quiz is open" not in tutor.text


async def test_every_line_of_a_quiz_names_its_lesson_however_narrow(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    long = "A title that is as long as any title can be, and then some"
    with patch.object(Asked, "title", long):
        async with quizzing(sitting, size=(60, 20)) as tutor:
            rows = [tutor.rows[number].rstrip() for number in sitting.numbers]
            assert all(row.endswith("(lesson 90)") for row in rows)
            assert any("A title that is as long… " in row for row in rows)


async def test_a_question_is_gone_to_by_its_number(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    async with quizzing(sitting) as tutor:
        await tutor.press("3")
        assert "Question 3. Enter opens it." in tutor.text
        await tutor.press("9")
        assert "There is no question 9." in tutor.text
        await tutor.press("up 4 enter")
        assert sitting.number == 4


async def test_a_click_on_a_question_ends_the_number_that_was_being_typed(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    async with quizzing(sitting) as tutor:
        screen = tutor.app.screen
        assert isinstance(screen, QuizScreen)
        await tutor.press("1")
        assert screen.typed.digits == "1"
        row = next(k for k, row in enumerate(tutor.rows) if row.lstrip(" >│▌|").startswith("3  "))
        await tutor.pilot.click(offset=(20, row))
        assert sitting.number == 3
        assert screen.typed.digits == ""


async def test_an_answer_is_told_with_its_unit(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    async with quizzing(sitting) as tutor:
        await open_question(tutor, forms(sitting)["number"])
        await tutor.press("i enter")
        await tutor.write("4 3/4")
        await tutor.press("enter")
        assert "Your answer is 4 3/4 in." in tutor.text
        sitting.unit = Unit.CM
        # 4 3/4 inches are 12.065 cm, an inch being 25.4 mm.
        assert sitting.asked.answer == "12.1 cm"
        sitting.unit = Unit.INCH
        await tutor.press("escape F y enter")
        assert "Your answer: 4 3/4 in." in tutor.page


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_drawing_stands_where_other_pages_do_and_can_be_left(
    size: tuple[int, int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lesson = small_lesson(tmp_path)
    quiz, _ = small_quiz(tmp_path)

    def slow(spec: object, lessons: object, told: Callable[[int, int], object]) -> Quiz:
        for done in range(10_000):
            told(done, 10_000)
        return quiz

    monkeypatch.setattr("tutor.tui.drawing.draw_quiz", slow)
    monkeypatch.setattr(quiz_choice, "every_lesson", lambda: {lesson.name: lesson})
    with open_record(tmp_path / "kept") as record:
        record.keep_setting("toured", True)
        async with opened(lesson, None, record, size) as tutor:
            await tutor.press("t")
            asked = tutor.app.screen.query_one("#choice").region
            await tutor.press("enter")
            assert isinstance(tutor.app.screen, Drawing)
            # In the middle, as the question before it was.
            box, (columns, rows) = tutor.app.screen.query_one("#reader").region, size
            assert (box.x, box.width) == (asked.x, asked.width)
            assert abs(box.y - (rows - box.bottom)) <= 1
            assert abs(box.x - (columns - box.right)) <= 1
            await tutor.pilot.press("escape")
            await tutor.pilot.pause()
            assert "Lessons on altering a sleeve" in tutor.text


async def test_what_is_due_is_shown_with_its_reason_and_practised(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lesson = small_lesson(tmp_path)
    monkeypatch.setattr(due_screen, "every_lesson", lambda: {lesson.name: lesson})
    with open_record(tmp_path / "kept") as record:
        session = Session(lesson, Unit.CM)
        session.go_to_task(2)
        session.answer("99 cm")
        record.save(session)
        opening: Opening = lambda app: DueScreen(app.desk, app.show_lessons)  # noqa: E731
        async with opened(lesson, opening, record) as tutor:
            assert "Nothing is due. Lesson 90, A small lesson, comes back tomorrow." in tutor.text
            await tutor.press("enter")
        made = record.attempts()[-1].time

        class Tomorrow:
            @staticmethod
            def now(zone: object) -> object:
                from datetime import timedelta

                return made + timedelta(days=1)

        monkeypatch.setattr(due_screen, "datetime", Tomorrow)
        record.keep_setting("toured", True)
        async with opened(lesson, opening, record) as tutor:
            assert "Lesson 90, A small lesson: Say it" in tutor.text
            assert "It went wrong yesterday" in tutor.text
            await tutor.press("enter enter")
            assert tutor.lesson.session.seed == 2
            assert tutor.lesson.session.task_number == 2


def test_a_whole_quiz_by_keys_in_a_terminal_gets_the_marks_that_it_gets_line_by_line(tmp_path: Path) -> None:
    given = quiz_passing.answers()
    with tutor_in_terminal(quiz_passing.ARGUMENTS) as terminal:
        *_, last = quiz_passing.by_keys(terminal, given)
        assert terminal.status() == 0
    assert quiz_passing.marks_on(last) == ["0", "100", "100", "100", "75"]
    assert quiz_passing.marks_in(quiz_passing.line_by_line(given, tmp_path)) == quiz_passing.marks_on(last)


def test_a_quiz_killed_while_answers_are_given_has_what_was_shown() -> None:
    assert quiz_kill.kill(4, seed=2) > 0
