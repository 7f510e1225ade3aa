"""A learner's way through a lesson: building, undoing, being marked, hints, solutions, and what is kept."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lessons_for_tests import own_lessons, small_lesson

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Along, Answer, At, Landmark, OnSlash, Opening, Place, Plan, Share, Slash
from tutor.alteration.refusal import LOOSE, NOT_ON_OUTLINE, Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.practice.proving import prove
from tutor.practice.session import Session
from tutor.practice.stored import plan_from, stored_plan
from tutor.units import Unit

CROWN, HEM = Landmark("crown"), Landmark("grain-hem")
BACK, FRONT = Landmark("underarm-back"), Landmark("underarm-front")


@pytest.fixture
def lesson(tmp_path: Path) -> Lesson:
    return small_lesson(tmp_path)


@pytest.fixture
def session(lesson: Lesson) -> Session:
    return Session(lesson, Unit.CM)


def opened(session: Session, amount: float = 20) -> Session:
    """The crossed slashes, opened."""
    session.add_slash(CROWN, HEM, True, True, "grain")
    session.add_slash(BACK, FRONT, True, True, "bicep")
    session.set_opening("grain", "bicep:end", amount)
    return session


def keys(session: Session, name: str) -> list[str]:
    return [station.key for station in session.stations(name)]


def test_a_fresh_session_has_built_nothing(session: Session) -> None:
    assert session.task_number == 1
    assert session.plan is None
    assert session.preview() is None
    assert not session.undo()
    assert session.measures_now() == session.measures_before()
    assert session.measures_before()["wearing-ease"] == pytest.approx(30, abs=1e-9)


def test_every_edit_is_one_step_undone_and_done_again(session: Session) -> None:
    seen = [session.draft]
    edits: list[Any] = [
        lambda: session.add_slash(CROWN, HEM, True, True, "grain"),
        lambda: session.add_slash(BACK, FRONT, True, True),
        lambda: session.set_opening("grain", "A:end", 20),
        lambda: session.set_opening("grain", "A:end", 25),
        lambda: session.set_hinge("grain", "start", False),
        lambda: session.set_opening("grain", "start", 5),
        lambda: session.move_slash("A", start=At(-150 + 0j)),
        lambda: session.set_opening("grain", "start", None),
        lambda: session.remove_slash("A"),
        session.clear,
    ]
    for edit in edits:
        edit()
        seen.append(session.draft)
    assert len(set(seen)) == len(seen) - 1  # Fresh paper is equal to what there was at first.
    for state in seen[-2::-1]:
        assert session.undo()
        assert session.draft == state
    assert not session.undo()
    for state in seen[1:]:
        assert session.redo()
        assert session.draft == state
    assert not session.redo()


def test_a_new_edit_forgets_what_was_undone(session: Session) -> None:
    opened(session)
    session.undo()
    session.set_opening("grain", "bicep:end", 9)
    assert not session.redo()


def test_an_edit_that_changes_nothing_is_no_step(session: Session) -> None:
    session.add_slash(CROWN, HEM, True, True)
    session.set_hinge("A", "start", True)
    session.move_slash("A", end=HEM)
    assert session.undo()
    assert not session.undo()


def test_edits_together_are_one_step(session: Session) -> None:
    session.add_slash(CROWN, HEM)
    with session.one_step():
        session.set_hinge("A", "start", True)
        session.set_hinge("A", "end", True)
    session.undo()
    assert session.draft.slashes == (Slash("A", CROWN, HEM),)
    session.redo()
    assert session.draft.slashes == (Slash("A", CROWN, HEM, True, True),)


def test_slashes_get_free_letters_and_refuse_bad_names(session: Session) -> None:
    assert [session.add_slash(CROWN, HEM) for _ in range(3)] == ["A", "B", "C"]
    session.remove_slash("B")
    assert session.add_slash(BACK, FRONT) == "B"
    for name in ("A", "a", "", "two words", "x" * 40, "hinge", "\x1b[2J"):
        with pytest.raises(Fault):
            session.add_slash(CROWN, HEM, name=name)
    with pytest.raises(Fault, match="no slash"):
        session.remove_slash("Z")


def test_stations_are_free_ends_crossings_and_levels(session: Session) -> None:
    session.add_slash(CROWN, HEM, False, True, "grain")
    assert keys(session, "grain") == ["start", "bicep-line", "elbow-line"]
    session.add_slash(BACK, FRONT, True, True, "bicep")
    assert keys(session, "grain") == ["start", "bicep:start", "bicep:end", "elbow-line"]
    assert [s.words for s in session.stations("grain")] == [
        "at the crown",
        "at bicep, crown side",
        "at bicep, hem side",
        "at the elbow line",
    ]
    assert keys(session, "bicep") == ["grain:start", "grain:end"]


def test_a_slash_that_nothing_crosses_can_be_opened_half_way(session: Session) -> None:
    session.add_slash(Landmark("elbow-back"), Landmark("elbow-front"), False, True)
    assert keys(session, "A") == ["start", "middle"]
    station = session.stations("A")[1]
    session.set_opening("A", station, 4)
    assert session.draft.openings == (Opening("A", 4, 0.5),)


def test_an_opening_is_shown_at_its_station_and_changed_there(session: Session) -> None:
    opened(session, 20)
    session.set_opening("grain", "bicep:end", 25)
    assert session.draft.openings == (Opening("grain", 25, where="bicep", toward="end"),)
    assert [s.amount for s in session.stations("grain") if s.key == "bicep:end"] == [25]
    session.set_opening("grain", "bicep:end", None)
    assert not session.draft.openings


def test_a_new_hinge_drops_the_opening_it_would_hold_shut(session: Session) -> None:
    session.add_slash(CROWN, HEM, False, True)
    session.set_opening("A", "start", 10)
    session.set_hinge("A", "start", True)
    assert not session.draft.openings
    session.undo()
    assert session.draft.openings == (Opening("A", 10, 0.0),)


def test_a_slash_taken_away_takes_its_openings_and_crossings_along(session: Session) -> None:
    opened(session)
    session.remove_slash("bicep")
    assert session.draft.openings == ()


def test_openings_refuse_what_is_no_place_or_no_amount(session: Session) -> None:
    opened(session)
    with pytest.raises(Fault, match="there are bicep:start"):
        session.set_opening("grain", "crown", 3)
    for amount in (1e9, float("nan"), float("inf")):
        with pytest.raises(Fault, match="no amount"):
            session.set_opening("grain", "bicep:end", amount)


def test_the_preview_is_what_the_solver_says(session: Session) -> None:
    found = opened(session).preview()
    assert isinstance(found, Altered)
    assert found.residual < 1e-9
    assert found.opened == pytest.approx((20,), abs=1e-9)
    assert session.preview() is found


def test_an_unfinished_plan_is_refused_and_not_raised(session: Session) -> None:
    session.add_slash(CROWN, HEM)
    found = session.preview()
    assert isinstance(found, Refusal)
    assert found.kind == LOOSE
    assert session.measures_now() is None
    assert {row.now for row in session.tape()} == {None}
    marked = session.check()
    assert (marked.total, marked.refusal) == (0, found)


def test_a_place_that_is_not_there_is_refused(session: Session) -> None:
    session.add_slash(Landmark("nowhere"), HEM, name="x")
    found = session.preview()
    assert isinstance(found, Refusal)
    assert found.kind == NOT_ON_OUTLINE
    assert session.stations("x") == ()
    assert session.slash_line("x") is None
    assert session.point(Landmark("nowhere")) is None


PLACES = st.one_of(
    st.sampled_from([CROWN, HEM, BACK, FRONT, Landmark("notch-front"), Landmark("x")]),
    st.builds(Along, st.sampled_from(["cap-back", "hem", "bicep-line"]), st.floats(0, 500), st.booleans()),
    st.builds(Share, st.sampled_from(["cap-front", "underarm-back"]), st.floats(0, 1)),
    st.builds(OnSlash, st.sampled_from("ABC"), st.floats(0, 1)),
    st.builds(lambda x, y: At(complex(x, y)), st.floats(-250, 250), st.floats(-500, 200)),
)
EDITS = st.one_of(
    st.tuples(st.just("add"), PLACES, PLACES, st.booleans(), st.booleans()),
    st.tuples(st.just("open"), st.integers(0, 5), st.integers(0, 5), st.floats(-80, 80)),
    st.tuples(st.just("hinge"), st.integers(0, 5), st.booleans(), st.booleans()),
    st.tuples(st.just("remove"), st.integers(0, 5)),
    st.tuples(st.just("undo")),
    st.tuples(st.just("redo")),
)


def do(session: Session, edit: tuple[Any, ...]) -> None:
    names = [slash.name for slash in session.draft.slashes]
    match edit:
        case ("add", start, end, first, last):
            session.add_slash(start, end, first, last)
        case ("open", number, place, amount) if names:
            name = names[number % len(names)]
            stations = session.stations(name)
            if stations:
                session.set_opening(name, stations[place % len(stations)], amount)
        case ("hinge", number, start, holds) if names:
            session.set_hinge(names[number % len(names)], "start" if start else "end", holds)
        case ("remove", number) if names:
            session.remove_slash(names[number % len(names)])
        case ("undo",):
            session.undo()
        case ("redo",):
            session.redo()


SMALL: list[Lesson] = []


@settings(max_examples=60)
@given(st.lists(EDITS, max_size=10))
def test_no_way_of_building_ends_in_an_error(tmp_path_factory: pytest.TempPathFactory, edits: list[Any]) -> None:
    if not SMALL:
        SMALL.append(small_lesson(tmp_path_factory.mktemp("lesson")))
    session = Session(SMALL[0], Unit.CM)
    for edit in edits:
        do(session, edit)
        found = session.preview()
        assert found is None or isinstance(found, Refusal | Altered)
        assert 0 <= session.check().total <= 1
        assert session.tape()
    stored = session.dump()
    assert Session.load(SMALL[0], json.loads(json.dumps(stored))).dump() == stored
    while session.undo():
        pass
    assert session.draft == Plan()


def test_the_tape_has_the_goals_first_and_each_measure_once(session: Session) -> None:
    rows = opened(session).tape()
    assert [row.measure for row in rows] == ["bicep-girth", "cap-seam", "cap-height", "elbow-girth"]
    girth, seam, height, _ = rows
    assert (girth.wanted, girth.met, seam.wanted, seam.met) == ("35.0 cm", True, "46.0 cm", True)
    assert girth.off == pytest.approx(0, abs=0.5)
    assert (height.wanted, height.off, height.met) == (None, None, None)
    assert height.change is not None
    assert height.change < -10
    session.unit = Unit.INCH
    assert session.tape()[0].wanted == "13 3/4 in"


def test_the_tape_says_all_that_is_asked_of_a_measure(tmp_path: Path) -> None:
    both = """[[tasks.goals]]
kind = "at-most"
measure = "bicep-girth"
value = 34.5
tolerance = 0.2

[[tasks.goals]]
kind = "at-least"
measure = "bicep-girth"
value = 34
tolerance = 0.2

[[tasks]]
kind = "number"
"""
    # Written as two goals, as a reading of "between 34 and 34.5 cm".
    reach = """kind = "reach"
measure = "bicep-girth"
value = 35
tolerance = 0.3
weight = 2
must = true"""
    most = """kind = "at-most"
measure = "elbow-girth"
value = 31
tolerance = 0.3"""
    lesson = small_lesson(tmp_path, (reach, most), ('[[tasks]]\nkind = "number"\n', both))
    row = next(row for row in Session(lesson, Unit.CM).tape() if row.measure == "bicep-girth")
    assert row.wanted == "34.0 cm to 34.5 cm"
    # The block has 33 cm: a centimetre too little, and nearer to the lower bound.
    assert row.off == pytest.approx(-10, abs=0.5)
    assert (row.met, row.nearer) == (False, "at least 34.0 cm")


def test_a_task_is_passed_by_its_marks(session: Session) -> None:
    assert session.standing() == "open"
    assert not session.check().passed
    assert session.standing() == "open"
    opened(session, 12).check()
    assert session.standing() == "not passed"
    session.set_opening("grain", "bicep:end", 20)
    assert session.check().passed
    assert session.standing() == "passed"
    assert [attempt.passed for attempt in session.attempts()] == [False, True]
    assert not session.passed


def test_number_tasks_take_any_unit_and_cost_nothing_when_unreadable(session: Session) -> None:
    session.next_task()
    right = session.right_answer()
    with pytest.raises(Fault, match="not a length"):
        session.answer("rather high")
    assert session.attempts() == ()
    assert session.check().feedback == ("There is no answer yet: give the figure asked for.",)
    assert session.attempts() == ()
    assert not session.answer("1 in").passed
    assert session.answer(right).passed
    assert session.answer(f"{float(right.split()[0]) * 10} mm").passed
    assert session.answer(right.split()[0].replace(".", ",")).passed


def test_an_answer_keeps_the_unit_of_its_time(session: Session) -> None:
    session.next_task()
    session.answer(session.right_answer().split()[0])
    session.unit = Unit.INCH
    assert session.check().passed


def test_numbers_and_plans_are_not_taken_for_each_other(session: Session) -> None:
    with pytest.raises(Fault, match="asks for no number"):
        session.answer("3 cm")
    session.next_task()
    with pytest.raises(Fault, match="does not allow slashes"):
        session.add_slash(CROWN, HEM)


def test_means_that_a_task_does_not_allow_are_refused(session: Session) -> None:
    attempts: list[Callable[[], None]] = [
        lambda: session.set_set_back(True),
        lambda: session.set_amount("armhole.back.widen", 5),
        lambda: session.adopt(Plan(set_back=True)),
        lambda: session.adopt(Plan(front=Answer(1, 0))),
    ]
    for attempt in attempts:
        with pytest.raises(Fault, match="it is to be done with slashes"):
            attempt()
    assert not session.undo()


def test_hints_go_from_where_to_look_to_what_to_do(session: Session) -> None:
    opened(session, 12)
    assert session.hint() == "one"
    assert session.hint().startswith("two As it lies the bicep girth is 0.8 cm below what is wanted (35.0 cm).")
    assert session.hint() == session.hint() == "three"
    assert session.hints_taken == 3
    session.check()
    assert session.attempts()[0].hints == 3


def test_a_solution_is_computed_and_the_task_then_counts_as_shown(session: Session) -> None:
    solution = session.solution()
    assert solution.plan is not None
    assert solution.steps[-1] == "It comes to: bicep girth 35.0 cm; cap seam 46.0 cm."
    assert any("opened by 2.0 cm" in step for step in solution.steps)
    session.adopt(solution.plan)
    assert session.check().passed
    assert session.standing() == "shown"
    assert not session.passed


def test_a_solution_shown_after_passing_takes_nothing_away(session: Session) -> None:
    opened(session).check()
    session.solution()
    assert session.standing() == "passed"


def test_going_on_and_back(session: Session) -> None:
    opened(session)
    assert [session.next_task(), session.plan is None, session.finished] == [True, True, False]
    assert [session.next_task(), session.finished] == [False, True]
    session.go_to_task(1)
    assert session.plan is not None
    with pytest.raises(Fault):
        session.go_to_task(3)


def test_what_is_kept_comes_back_to_the_last_key(session: Session, lesson: Lesson) -> None:
    opened(session)
    session.undo()
    session.hint()
    session.check()
    session.next_task()
    session.answer("11 cm")
    again = Session.load(lesson, json.loads(json.dumps(session.dump())))
    assert again.dump() == session.dump()
    assert (again.task_number, again.answered, again.unit) == (2, "11 cm", Unit.CM)
    again.go_to_task(1)
    assert again.hints_taken == 1
    assert again.redo()
    assert again.draft.openings == (Opening("grain", 20, where="bicep", toward="end"),)


@pytest.mark.parametrize("path", [["task"], ["unit"], ["tasks"], ["tasks", 0, "now"], ["tasks", 0, "past"], ["lesson"]])
@pytest.mark.parametrize("value", [None, 99, "x", [], [1], {}])
def test_what_was_kept_badly_is_a_fault(session: Session, lesson: Lesson, path: list[Any], value: object) -> None:
    stored = json.loads(json.dumps(opened(session).dump()))
    inner = stored
    for key in path[:-1]:
        inner = inner[key]
    if path == ["tasks", 0, "past"] and value in ([], {}):
        value = 3
    inner[path[-1]] = value
    with pytest.raises(Fault):
        Session.load(lesson, stored)


def test_plans_of_every_kind_of_place_are_kept() -> None:
    places: list[Place] = [CROWN, Along("hem", 12.5, True), Share("cap-back", 0.25), OnSlash("a", 0.5), At(-3.5 + 7j)]
    slashes = tuple(Slash(f"s{k}", place, HEM, k % 2 == 0, k % 3 == 0) for k, place in enumerate(places))
    plan = Plan(slashes, (Opening("s1", -4.25, 0.3), Opening("s2", 1, where="s3", toward="start")), True, Answer(1, 2))
    assert plan_from(json.loads(json.dumps(stored_plan(plan)))) == plan


def test_texts_are_in_the_learner_s_unit(session: Session) -> None:
    assert session.brief == ("Odd's arm is 30 cm round.",)
    assert session.ask == "To 35 cm."
    session.unit = Unit.INCH
    assert session.ask == "To 13 3/4 in."


@pytest.mark.parametrize("lesson", own_lessons(), ids=lambda lesson: lesson.name)
def test_every_lesson_holds_when_tried_out_on_itself(lesson: Lesson) -> None:
    assert [str(fault) for fault in prove(lesson).faults] == []


def test_a_lesson_that_does_not_hold_is_found_out(tmp_path: Path) -> None:
    easy = small_lesson(tmp_path, ("value = 35\ntolerance = 0.3", "value = 35\ntolerance = 30"), ("must = true\n", ""))
    wrong = small_lesson(tmp_path, ("value = 35\ntolerance = 0.3", "value = 37\ntolerance = 0.3"))
    far = small_lesson(tmp_path, ('measure = "bicep-girth", value = 35 }', 'measure = "hem-girth", value = 60 }'))
    assert prove(easy).faults == ()
    assert "the worked solution gets" in str(prove(wrong).faults[0])
    assert "its worked solution can't be made" in str(prove(far).faults[0])


def test_a_lesson_whose_plan_can_not_be_worked_out_says_so_and_goes_on(tmp_path: Path) -> None:
    broken = small_lesson(tmp_path, ('measure = "bicep-girth", value = 35 }', 'measure = "hem-girth", value = 60 }'))
    session = Session(broken, Unit.CM)
    with pytest.raises(Fault, match="plan crossed: can't be worked out"):
        session.solution()
    assert session.standing() == "open"
    session.next_task()
    marked = session.answer("12 cm")
    assert "can't be worked out" in marked.feedback[0]
    assert session.attempts() == ()
