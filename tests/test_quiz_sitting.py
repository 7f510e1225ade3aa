"""A quiz taken: answers that wait for their marks, left and come back to, ended by hand or by the clock."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from lessons_for_tests import CHOICES, small_lesson
from quiz_driving import SMALL, Hands, small_quiz, small_sitting

from tutor.alteration.plan import Landmark
from tutor.faults import Fault
from tutor.quiz.asked import LETTERS
from tutor.quiz.chosen import Chosen
from tutor.quiz.drawing import draw_quiz
from tutor.quiz.outcome import outcome_of
from tutor.quiz.picked import Picked
from tutor.quiz.sitting import Sitting
from tutor.quiz.spec import QuizSpec
from tutor.record import open_record
from tutor.units import Unit


def forms(sitting: Sitting) -> dict[str, int]:
    """The number of the first question of each form; of tasks those that are built and those that are said."""
    found: dict[str, int] = {}
    for number in sitting.numbers:
        asked = sitting.question(number)
        form = asked.question.form
        found.setdefault(form if form != "task" else "plan" if asked.is_built else "number", number)
    return found


def answer_all(sitting: Sitting) -> None:
    """Answers everything right."""
    for number in sitting.numbers:
        sitting.go_to(number)
        asked = sitting.asked
        if isinstance(asked, Chosen):
            right = asked.right()
            assert right is not None
            sitting.give(LETTERS[right])
        elif asked.is_built:
            solution = asked.session.solution()
            assert solution.plan is not None
            asked.session.adopt(solution.plan)
        else:
            sitting.give(asked.right_answer())


def test_every_form_is_asked(tmp_path: Path) -> None:
    assert set(forms(small_sitting(tmp_path))) == {"choice", "number", "spot", "plan"}


def test_all_right_is_full_marks(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    answer_all(sitting)
    sitting.hand_in()
    outcome = outcome_of(sitting)
    assert [each.marked.total for each in outcome.results] == [1, 1, 1, 1]
    assert (outcome.mark, outcome.passed, outcome.mistakes, outcome.advice) == (1, True, (), ())


def test_nothing_is_marked_before_the_end_unless_asked_for(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    with pytest.raises(Fault, match="not handed in"):
        sitting.results()
    number = forms(sitting)["number"]
    sitting.go_to(number)
    with pytest.raises(Fault, match="no answer yet"):
        sitting.mark_now()
    sitting.give("1 cm")
    sitting.give("2 cm")
    assert sitting.asked.session.attempts() == ()
    assert not sitting.mark_now().passed
    with pytest.raises(Fault, match="settled"):
        sitting.give("3 cm")
    assert sitting.standing(number) == "marked"


def test_a_quiz_marked_at_its_end_gives_no_mark_before(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path, replace(SMALL, marks="end"))
    sitting.go_to(forms(sitting)["choice"])
    sitting.give("A")
    with pytest.raises(Fault, match="marked at its end"):
        sitting.mark_now()


def test_a_wrong_choice_is_the_mistake_it_was_made_from(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    sitting.go_to(forms(sitting)["choice"])
    asked = sitting.asked
    assert isinstance(asked, Chosen)
    wrong = [k for k in range(len(asked.options)) if k != asked.right()]
    named = set()
    for k in wrong:
        sitting.give(LETTERS[k])
        marked = asked.mark()
        assert not marked.passed
        named.add(marked.mistake)
    assert len(named) == len(wrong)
    assert None not in named


def test_questions_can_be_left_and_come_back_to(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    found = forms(sitting)
    sitting.go_to(found["choice"])
    sitting.give("b")
    sitting.go_to(found["plan"])
    sitting.asked.session.add_slash(Landmark("crown"), Landmark("grain-hem"))
    sitting.go_to(found["choice"])
    sitting.give("C.")
    sitting.go_to(found["plan"])
    assert sitting.asked.session.draft.slashes
    answers = {form: sitting.question(number).answer for form, number in found.items()}
    assert answers["choice"] is not None
    assert answers["choice"].startswith("C, ")
    assert (answers["plan"], answers["number"], answers["spot"]) == ("1 slash", None, None)
    assert sitting.next_open() in (found["number"], found["spot"])
    assert not sitting.step(len(sitting.numbers))


def test_what_is_no_answer_costs_nothing(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    found = forms(sitting)
    for form, text in (("choice", "Z"), ("choice", ""), ("number", "wide"), ("spot", "5")):
        sitting.go_to(found[form])
        with pytest.raises(Fault):
            sitting.give(text)
        assert sitting.asked.answer is None
    with pytest.raises(Fault, match="no question 9"):
        sitting.go_to(9)


def test_the_time_ends_it_with_what_was_answered_by_then(tmp_path: Path) -> None:
    hands = Hands()
    sitting = small_sitting(tmp_path, replace(SMALL, minutes=10), hands)
    sitting.go_to(forms(sitting)["number"])
    sitting.give(sitting.asked.right_answer())
    over = []
    for seconds in (599, 1):
        hands.go(seconds)
        over.append(sitting.is_over)
    assert over == [False, True]
    assert sitting.ended_by_time
    with pytest.raises(Fault, match="time is up"):
        sitting.give("1 cm")
    assert outcome_of(sitting).mark == pytest.approx(1 / 4)


def test_unit_goes_with_every_question(tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    sitting.go_to(forms(sitting)["choice"])
    centimetres = sitting.asked.options
    sitting.unit = Unit.INCH
    assert all(option.endswith(" in") for option in sitting.asked.options)
    sitting.unit = Unit.CM
    assert sitting.asked.options == centimetres


def test_it_goes_on_where_it_was_left(tmp_path: Path) -> None:
    hands = Hands()
    sitting = small_sitting(tmp_path, SMALL, hands)
    answer_all(sitting)
    number = forms(sitting)["spot"]
    sitting.go_to(number)
    sitting.mark_now()
    hands.go(90)
    sitting.clock.look()
    head, kept = json.loads(json.dumps(sitting.head())), json.loads(json.dumps(sitting.kept()))
    again = small_sitting(tmp_path, SMALL, hands)
    again.resume(head, {int(key): value for key, value in kept.items()})
    assert again.number == number
    assert [again.standing(n) for n in again.numbers] == [sitting.standing(n) for n in sitting.numbers]
    assert [again.question(n).given() for n in again.numbers] == [sitting.question(n).given() for n in sitting.numbers]
    assert again.clock.elapsed == 90
    again.hand_in()
    assert outcome_of(again).mark == 1


@pytest.mark.parametrize("head", [{}, {"unit": "ell"}, {"number": 99}, {"clock": {}}, {"settled": ["x"]}])
def test_what_is_no_kept_quiz_is_told(head: dict[str, object], tmp_path: Path) -> None:
    sitting = small_sitting(tmp_path)
    whole = {**sitting.head(), **head} if head else {}
    with pytest.raises(Fault):
        sitting.resume(whole, {})


def test_a_record_keeps_a_quiz_and_its_answers(tmp_path: Path) -> None:
    quiz, lessons = small_quiz(tmp_path)
    with open_record(tmp_path / "kept") as record:
        sitting = Sitting(quiz, lessons, Unit.INCH)
        sitting.go_to(forms(sitting)["number"])
        sitting.give("3 in")
        assert record.save_quiz(sitting)
    with open_record(tmp_path / "kept") as record:
        assert record.resume_quiz(lessons, "0" * 64) is None
        again = record.resume_quiz(lessons)
        assert again is not None
        assert (again.quiz, again.unit, again.asked.answer) == (quiz, Unit.INCH, "3 in")
        assert record.attempts() == ()
        again.hand_in()
        assert record.save_quiz(again)
        assert record.save_quiz(again)
        (attempt,) = record.attempts()
        assert (attempt.lesson, attempt.given, attempt.unit) == ("small", {"text": "3 in"}, "in")
        assert (attempt.form, attempt.quiz, attempt.passed) == ("task", 1, False)
        assert record.resume_quiz(lessons) is None
        assert record.take_notice() == ""


def test_a_quiz_given_up_is_not_gone_on_with(tmp_path: Path) -> None:
    quiz, lessons = small_quiz(tmp_path)
    with open_record(tmp_path / "kept") as record:
        sitting = Sitting(quiz, lessons, Unit.CM)
        record.save_quiz(sitting)
        record.give_up_quiz(sitting)
        assert record.resume_quiz(lessons) is None


def test_a_quiz_of_a_lesson_that_has_changed_is_told(tmp_path: Path) -> None:
    quiz, lessons = small_quiz(tmp_path)
    changed = {"small": small_lesson(tmp_path, ("number = 90", "number = 90\nversion = 2"))}
    with pytest.raises(Fault, match="has changed since"):
        Sitting(quiz, changed, Unit.CM)
    with open_record(tmp_path / "kept") as record:
        record.save_quiz(Sitting(quiz, lessons, Unit.CM))
        assert record.resume_quiz(changed) is None
        assert "can't be gone on with" in record.take_notice()


def test_a_task_that_gives_a_choice_is_a_question_as_it_is(tmp_path: Path) -> None:
    lesson = small_lesson(tmp_path, text=CHOICES)
    lessons = {lesson.name: lesson}
    quiz = draw_quiz(QuizSpec((lesson.name,), 2, 1), lessons)
    sitting = Sitting(quiz, lessons, Unit.CM)
    assert {type(sitting.question(number)) for number in sitting.numbers} >= {Picked}
    number = next(n for n in sitting.numbers if isinstance(sitting.question(n), Picked))
    sitting.go_to(number)
    asked = sitting.asked
    letters = [part[0] for part in asked.right_answer().split("; ")]
    with pytest.raises(Fault):
        sitting.give("Z")
    sitting.give(", ".join(letters))
    assert asked.answer == asked.right_answer()
    again = Sitting(quiz, lessons, Unit.CM)
    again.question(number).take(asked.given() or {})
    for each in (sitting, again):
        each.hand_in()
        assert each.results()[number - 1].marked.total == 1
