"""The full-screen tutor, driven by keys and by mouse."""

import math
import re
from pathlib import Path

import pytest
from msgspec import structs
from textual.geometry import Region
from tutor_driving import Driven, driven

from tutor.alteration.plan import Landmark
from tutor.lesson.reading import find_lesson
from tutor.record.record import open_record
from tutor.tui.about import About
from tutor.tui.foot import Foot
from tutor.tui.names import Names
from tutor.tui.side import Side
from tutor.tui.tape_lines import SHORT
from tutor.tui.tour import stops
from tutor.tui.typed_number import TypedNumber
from tutor.units import Unit

TO_THE_PLAN = structs.replace(find_lesson("4"), tasks=find_lesson("4").tasks[:2])
"""Lesson 4 as far as its task on the pattern, which is then the last."""
CROSSED = "s enter n n n n n h left_square_bracket s N N N h n n n n n h"
"""Keys of the crossed slashes, hinges everywhere: crown to hem, then from underarm to underarm."""


async def to_the_plan(tutor: Driven) -> None:
    """On from lesson 4's question to its task on the pattern."""
    await tutor.press("n enter")


async def test_lesson_4_is_passed_by_keys_alone() -> None:
    async with driven("4") as tutor:
        session = tutor.lesson.session
        before = session.measures_before()
        # The cap keeps the straight line from crown to underarm point and half the girth grows: Pythagoras on the
        # block's halves, which are nearly equal; within the half centimetre that the task allows.
        half, height = before["bicep-girth"] / 2, before["cap-height"]
        left = math.sqrt(half**2 + height**2 - 180**2)
        await tutor.press("enter")
        await tutor.write(f"{left / 10:.1f}")
        await tutor.press("enter")
        assert "Passed" in tutor.page
        await tutor.press("n enter")
        await tutor.press(CROSSED)
        await tutor.press("up up up up up enter")
        await tutor.write("3.1 cm")
        await tutor.press("enter")
        assert "+3.1 cm" in tutor.text
        await tutor.press("c")
        assert "Passed: 100 of 100" in tutor.page
        assert session.standing(2) == "passed"
        await tutor.press("n enter")
        # The edges stay as long as they were: underarm seam, cap seam and hem.
        await tutor.press("down enter down enter down down enter c")
        assert "Passed: 100 of 100" in tutor.page
        await tutor.press("n")
        assert "passed, 100 of 100" in tutor.text.replace("  ", " ")


async def test_a_sleeve_opened_all_the_way_down_is_told_what_it_cost() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("s enter n n n n n enter")
        assert "held by nothing" in tutor.text
        await tutor.press("enter")
        await tutor.write("3")
        await tutor.press("enter c")
        assert "Not passed yet" in tutor.page
        # Nothing holds the two halves at cap and hem, which may not change: told by how much they did.
        assert re.search(r"The cap seam grew by [2-4]\.\d cm; it should stay", tutor.page)
        assert re.search(r"The hem girth (grew|shrank) by [0-4]\.\d cm; it should stay", tutor.page)
        assert tutor.lesson.session.standing() == "not passed"


async def test_from_a_mark_that_does_not_pass_n_goes_on_as_from_one_that_does() -> None:
    async with driven("4") as tutor:
        await tutor.press("enter")
        await tutor.write("2")
        await tutor.press("enter")
        assert "Not passed yet" in tutor.page
        assert tutor.lesson.session.task_number == 1
        await tutor.press("n")
        assert tutor.lesson.session.task_number == 2
        await tutor.press("enter")
        assert "task 2 of 3" in tutor.text


async def test_lesson_4_is_passed_by_mouse_alone() -> None:
    async with driven("4", brief_closed=False) as tutor:
        await tutor.click_way("enter")
        session = tutor.lesson.session
        # From 14.2 cm, what the cap is high now, down to the answer that the test above works out: 12.3 cm.
        await tutor.pilot.click("#foot", offset=_foot_place(tutor, "answer"))
        for _ in range(19):
            await tutor.click_way("down")
        await tutor.click_way("enter")
        assert "Passed" in tutor.page
        await tutor.click_way("n")
        await tutor.click_way("enter")
        places = session.landmarks
        for start, end in (("crown", "grain-hem"), ("underarm-back", "underarm-front")):
            for name in (start, end, start, end):
                # The first two clicks make the slash, the next two turn its ends into hinges.
                await tutor.click(places[name])
        await tutor.pilot.click("#side", offset=_side_place(tutor, "A "))
        for _ in range(6):
            tutor.picture.post_message(tutor.picture.Wheeled(1))
        await tutor.pilot.pause()
        await tutor.pilot.click("#foot", offset=_foot_place(tutor, "more"))
        assert session.draft.openings[0].amount == pytest.approx(31)
        await tutor.pilot.click("#foot", offset=_foot_place(tutor, "check"))
        assert "Passed: 100 of 100" in tutor.page
        await tutor.click_way("n")
        await tutor.click_way("enter")
        for line in ("[ ] 2", "[ ] 3", "[ ] 5"):
            await tutor.pilot.click("#side", offset=_side_place(tutor, line))
        await tutor.pilot.click("#foot", offset=_foot_place(tutor, "check"))
        assert "Passed: 100 of 100" in tutor.page
        assert session.passed


async def test_an_end_is_dragged_to_another_place_and_a_slash_drawn_in_one_go() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        places = tutor.lesson.session.landmarks
        await _drag(tutor, places["crown"], places["hem-front"])
        await _drag(tutor, places["hem-front"], places["grain-hem"])
        (slash,) = tutor.lesson.session.draft.slashes
        assert (slash.start, slash.end) == (Landmark("crown"), Landmark("grain-hem"))


async def test_a_task_is_gone_back_to_as_it_was_left() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("s enter n n n n n h N")
        assert "task 1 of 3" in tutor.text
        await tutor.press("N")
        assert "first task" in tutor.text
        await tutor.press("n enter")
        assert [slash.name for slash in tutor.lesson.session.draft.slashes] == ["A"]


async def test_what_was_done_is_taken_back_and_done_again() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("s enter n n n n n h plus plus")
        session = tutor.lesson.session
        done = session.draft
        await tutor.press("u u u")
        assert session.plan is None
        await tutor.press("r r r")
        assert session.draft == done
        await tutor.press("r")
        assert "nothing to do again" in tutor.text


async def test_a_refused_place_is_told_and_marked() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        # The cap is hollow below the notches: a straight line from crown to underarm point leaves the paper.
        await tutor.press("s enter n n")
        assert "leaves the paper between its ends" in tutor.text
        assert "!" in _picture(tutor)
        await tutor.press("enter")
        assert tutor.lesson.session.plan is None
        assert "Paper can't be cut so" in tutor.text


async def test_hinges_that_lock_are_told_in_the_learners_unit() -> None:
    async with driven("4", unit=Unit.INCH) as tutor:
        await to_the_plan(tutor)
        await tutor.press("s h n n n n n h enter")
        await tutor.write("1")
        await tutor.press("enter")
        assert "can't open by 1 in" in tutor.text
        assert "!" in _picture(tutor)


async def test_units_change_at_a_key_and_nothing_is_rounded() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("s enter n n n n n h enter")
        await tutor.write("1 1/4 in")
        await tutor.press("enter")
        assert "tape, cm" in tutor.text
        assert "36.0" in tutor.text
        await tutor.press("i")
        assert "tape, in" in tutor.text
        # 36 cm are 14.173 in, to the nearest sixteenth 14 3/16.
        assert "14 3/16" in tutor.text
        assert tutor.lesson.session.draft.openings[0].amount == 31.75
        await tutor.press("plus")
        assert tutor.lesson.session.draft.openings[0].amount == pytest.approx(25.4 * 21 / 16)


async def test_an_amount_that_is_none_is_refused_and_can_be_put_right() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("s enter n n n n n h enter")
        await tutor.write("1/0")
        await tutor.press("enter")
        assert "divides by zero" in tutor.text
        await tutor.press("backspace 2 enter")
        assert tutor.lesson.session.draft.openings[0].amount == pytest.approx(5)


async def test_lesson_6_lifts_the_cap_off_and_sets_it_back() -> None:
    async with driven("6") as tutor:
        await tutor.press("l s g")
        await tutor.write("bicep")
        await tutor.press("enter enter g")
        await tutor.write("hem at")
        await tutor.press("enter h enter")
        await tutor.write("3")
        await tutor.press("enter c")
        assert "Passed" in tutor.page
        assert tutor.lesson.session.draft.set_back


async def test_lesson_5_is_passed_with_the_crown_left_open() -> None:
    async with driven("5") as tutor:
        await tutor.press("n enter s enter n n n n n h s N N N h n n n n n h up up up up up up")
        session = tutor.lesson.session
        plan = session.draft
        assert [(slash.start_hinge, slash.end_hinge) for slash in plan.slashes] == [(False, True), (True, True)]
        for station, amount in (("at the crown", "1.1"), ("hem side", "3")):
            while station not in _chosen(tutor):
                await tutor.press("down")
            await tutor.press("enter")
            await tutor.write(amount)
            await tutor.press("enter")
        await tutor.press("c")
        assert "Passed: 100 of 100" in tutor.page
        assert session.standing(2) == "passed"


def _chosen(tutor: Driven) -> str:
    """The line of the plan that the keys are on."""
    return next((row for row in tutor.rows if re.search(r"\s>\s?", row)), "")


async def test_lesson_7_widens_and_lowers_without_slashes() -> None:
    async with driven("7") as tutor:
        await tutor.press("n enter s")
        assert "without slashes" in tutor.text
        assert tutor.lesson.placing is None
        for amount in ("0.8", "0.9", "0.8", "0.9"):
            await tutor.press("enter")
            await tutor.write(amount)
            await tutor.press("enter down")
        draft = tutor.lesson.session.draft
        assert (draft.back, draft.front) == (draft.front, draft.back)
        await tutor.press("c")
        # The armhole rule, as common practice has it and as computed, stands on the mark's page.
        assert "Common practice counts the gain as width plus depth" in tutor.page


async def test_hints_say_more_each_time_and_a_solution_is_asked_for_twice() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("h h")
        assert "Hint 2 of 3" in tutor.page
        await tutor.press("enter w")
        assert tutor.lesson.session.standing() == "open"
        await tutor.press("y")
        session = tutor.lesson.session
        assert session.standing() == "shown"
        assert "> 1. Slash grain" in tutor.text
        assert session.plan is None
        await tutor.press("right right")
        assert "+3.0 cm" in _picture(tutor)
        assert "Y" in _picture(tutor)
        # Taken over, it is one step of the learner's own, and does what is asked.
        await tutor.press("a")
        assert session.preview() is not None
        await tutor.press("c")
        assert "Every goal is met." in tutor.page
        assert session.standing() == "shown"
        await tutor.press("enter u")
        assert session.plan is None


async def test_the_cap_is_walked_round_the_armhole_from_notch_to_notch() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("f")
        assert "the front half, from notch to notch" in tutor.text
        await tutor.press("n")
        assert "the front notch of the cap and the armhole" in tutor.text
        await tutor.press("n")
        # The block is drafted with 2 cm of ease, shared by the lengths of the armholes: 21.5 of 44 for the front.
        assert "the cap has 1.0 cm left over" in tutor.text
        await tutor.press("s")
        assert "the back half" in tutor.text
        await tutor.press("escape")
        assert "tape, cm" in tutor.text


async def test_the_walk_round_is_shown_once(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        async with driven("4", record=record, brief_closed=False) as tutor:
            assert "A minute's walk round the tutor" in tutor.text
            await tutor.press("escape")
            assert "Mirjam" in tutor.page
        async with driven(record=record) as tutor:
            assert "choose a lesson" in tutor.text


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (200, 60)])
async def test_the_walk_round_goes_from_stop_to_stop_and_says_all_of_it(size: tuple[int, int]) -> None:
    async with driven("4", size) as tutor:
        await tutor.press("f2")
        session = tutor.lesson.session
        for k, stop in enumerate(stops(ascii=False), 1):
            assert f"{k} of 8: {stop.heading}" in tutor.text
            side = " ".join(row[size[0] - tutor.app.screen.query_one(Side).size.width :] for row in tutor.rows)
            assert stop.text in " ".join(side.split())
            await tutor.press("right left right")
        # It ends where it began, and nothing of it is the learner's work.
        assert "task 1 of 3" in tutor.text
        assert tutor.lesson.session is session
        assert session.standing() == "open"


async def test_every_line_of_the_help_can_be_clicked() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("question_mark")
        row = next(k for k, row in enumerate(tutor.rows) if "start a new slash" in row)
        await tutor.pilot.click(offset=(20, row))
        assert tutor.lesson.placing is not None


async def test_what_is_cut_short_in_the_panel_is_shown_whole_at_a_click() -> None:
    async with driven("6", (60, 20)) as tutor:
        row = next(k for k, row in enumerate(tutor.rows) if "(b: all of it)" in row)
        await tutor.pilot.click(offset=(30, row))
        assert "The cap seam grows by no more than" not in tutor.page
        assert "You may lift the cap off along the bicep line" in tutor.page
        await tutor.press("enter")
        row = next(k for k, row in enumerate(tutor.rows) if "cap height" in row)
        await tutor.pilot.click(offset=(30, row))
        assert "Every measure" in tutor.page


@pytest.mark.parametrize("zooms", ["z", "z z", "z z z"])
async def test_closer_to_the_marker_and_what_is_refused_stay_in_view(zooms: str) -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press(f"{zooms} s")
        for _ in range(11):
            await tutor.press("n")
            assert "@" in _picture(tutor)
        # From the crown to the front underarm point paper can't be cut: the place lies between.
        await tutor.press("enter n n")
        assert "leaves the paper" in tutor.text
        assert "!" in _picture(tutor)


async def test_a_slash_is_placed_on_the_sleeve_even_where_the_armholes_were_shown_by_themselves() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("v v s n")
        assert "⇕" in _picture(tutor)
        assert "@" in _picture(tutor)


async def test_a_lesson_that_is_left_says_where_it_waits() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("escape")
        assert "Lesson 4 waits as you left it, at task 2; Enter goes on there." in tutor.text
        await tutor.press("down")
        assert "waits" not in tutor.text
        await tutor.press("up enter")
        assert "task 2 of 3" in tutor.text


async def test_it_comes_back_to_where_it_was_left(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        record.keep_setting("toured", True)
        async with driven("4", record=record) as tutor:
            await to_the_plan(tutor)
            await tutor.press("s enter n n n n n h plus plus z o d")
            await tutor.press("s n n enter n n")
            left, draft = tutor.rows, tutor.lesson.session.draft
    with open_record(tmp_path) as record:
        async with driven("4", record=record, brief_closed=False) as tutor:
            assert tutor.rows == left
            assert tutor.app.theme == "day"
            await tutor.press("escape u")
            assert tutor.lesson.session.draft != draft
        async with driven(record=record) as tutor:
            assert "begun, 0 of 3 tasks passed" in tutor.text


@pytest.mark.parametrize(
    ("lesson", "size"), [("4", (60, 20)), ("4", (80, 24)), ("4", (120, 40)), ("4", (200, 60)), ("7", (60, 20))]
)
async def test_no_screen_is_clipped(lesson: str, size: tuple[int, int]) -> None:
    async with driven(lesson, size) as tutor:
        for keys in ("n enter", "s", "question_mark"):
            await tutor.press(keys)
            rows = tutor.rows
            assert len(rows) == size[1]
            assert {len(row) for row in rows} == {size[0]}
            foot = tutor.lesson.query_one(Foot)
            assert [action for action, *_ in foot.items] == list(tutor.lesson.foot)
        # The paper is as large as it goes: it reaches to the picture's edges one way or the other.
        (columns, high), (across, down) = _ink(tutor)
        assert across >= 0.8 * columns or down >= high - 2


async def test_the_whole_tape_and_plan_are_seen_at_120_columns() -> None:
    async with driven("7", (120, 40)) as tutor:
        await tutor.press("n enter")
        text = tutor.text
        for row in tutor.lesson.session.tape():
            assert row.words in text or SHORT[row.measure] in text
        assert "front bodice, lower" in text


async def test_a_window_too_small_says_what_it_needs_and_loses_nothing() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press(CROSSED)
        done = tutor.lesson.session.draft
        await tutor.resize(50, 15)
        assert "needs 60 x 20" in tutor.text
        assert "has 50 x 15" in tutor.text
        await tutor.resize(100, 30)
        assert "bicep girth" in tutor.text
        assert tutor.lesson.session.draft == done


async def test_ascii_is_nothing_but_ascii() -> None:
    async with driven("4", ascii=True) as tutor:
        await to_the_plan(tutor)
        seen = list(tutor.rows)
        for keys in (
            CROSSED,
            "up up up up up plus",
            "c",
            "escape y",
            "escape question_mark",
            "escape t",
            "escape escape",
            "ctrl+p",
            "escape s g",
            "escape escape f2",
            "escape b",
        ):
            await tutor.press(keys)
            seen += tutor.rows
        assert [row for row in seen if not row.isascii()] == []
        # Nothing had to be spelled as a question mark but the key of that name.
        assert [row for row in seen if "?" in row.replace("? Help", "").replace("?    ", "").replace(" ?", "")] == []


async def test_no_color_sends_no_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press(CROSSED)
        styles = [segment.style for line in tutor.strips for segment in line if segment.style is not None]
        named = {colour.name for style in styles for colour in (style.color, style.bgcolor) if colour is not None}
        assert named <= {"default"}
        # The chosen line still stands out: by its sign.
        assert any(row[33:].startswith(">B") for row in tutor.rows)


async def test_an_empty_no_color_is_no_wish(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "")
    async with driven("4") as tutor:
        styles = [segment.style for line in tutor.strips for segment in line if segment.style is not None]
        assert any(style.color is not None and style.color.name.startswith("#") for style in styles)


async def test_lines_that_stay_the_same_are_not_drawn_again(monkeypatch: pytest.MonkeyPatch) -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press(CROSSED)
        await tutor.press("up up up up up plus")
        side = tutor.lesson.query_one(Side)
        sent: list[int] = []

        def refresh(*regions: Region, **_: bool) -> Side:
            sent.extend(region.y for region in regions)
            return side

        monkeypatch.setattr(side, "refresh", refresh)
        before = side._lines
        await tutor.press("plus")
        changed = [y for y, (old, new) in enumerate(zip(before, side._lines, strict=True)) if old != new]
        assert sent == changed
        assert 0 < len(changed) < len(before)


async def test_the_palette_finds_and_does_what_keys_do() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("ctrl+p")
        for action in tutor.lesson.actions:
            if action.name != "palette":
                assert action.words in [
                    words.split("  ", 1)[1].strip() for words in tutor.app.screen.query_one(Names).words
                ]
        await tutor.write("new slash")
        await tutor.press("enter")
        assert tutor.lesson.placing is not None


async def test_a_task_that_was_shown_is_told_right_and_not_passed() -> None:
    async with driven(TO_THE_PLAN) as tutor:
        await to_the_plan(tutor)
        await tutor.press("w y right right right a c")
        assert "Right: 100 of 100, but it counts as shown" in tutor.page
        assert "Passed" not in tutor.page
        # It is the lesson's last task, and the one before was never answered.
        assert "n back to the lessons" in tutor.text
        await tutor.press("enter")
        assert "Right, but it counts as shown. Task 1 is still open: N goes back" in tutor.text


async def test_a_passed_task_whose_plan_is_changed_is_guided_again() -> None:
    async with driven(TO_THE_PLAN) as tutor:
        await to_the_plan(tutor)
        await tutor.press(f"{CROSSED} up up up up up enter")
        await tutor.write("3.1")
        await tutor.press("enter c enter")
        assert " Passed. Task 1 is still open: N goes back" in tutor.text
        await tutor.press("plus")
        assert "Passed before (n goes on). A at B, hem side is +3.2 cm" in tutor.text
        await tutor.press("minus")
        assert " Passed. Task 1 is still open" in tutor.text
        await tutor.press("X")
        assert "Fresh paper" in tutor.text
        await tutor.press("down")
        assert "Passed before (n goes on). To begin: s starts a slash" in tutor.text
        await tutor.press("u")
        assert " Passed. Task 1" in tutor.text


async def test_a_lesson_come_back_to_says_which_tasks_are_open(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        record.keep_setting("toured", True)
        async with driven("4", record=record) as tutor:
            await tutor.press("n enter")
        async with driven("4", record=record, brief_closed=False) as tutor:
            assert "You left off at task 2 of 3; task 1 is still open: N goes back to it." in tutor.text
            assert "task 2 of 3 (1 before it open)" in tutor.text
            # What is told is taken away first; only then is the lesson left.
            await tutor.press("escape")
            assert "To begin: s starts a slash" in tutor.text
            await tutor.press("escape")
            assert "begun, 0 of 3 tasks passed" in tutor.text


async def test_the_whole_lesson_is_started_over(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        record.keep_setting("toured", True)
        async with driven("4", record=record) as tutor:
            await to_the_plan(tutor)
            await tutor.press("h enter s enter n n n n n h R")
            assert "Start the whole lesson over?" in tutor.page
            await tutor.press("enter")
            assert tutor.lesson.session.draft.slashes
            await tutor.press("R y")
            assert "Mirjam" in tutor.page
            await tutor.press("enter")
            assert tutor.lesson.session.task_number == 1
        async with driven("4", record=record, brief_closed=False) as tutor:
            session = tutor.lesson.session
            assert session.task_number == 1
            session.go_to_task(2)
            assert not session.draft.slashes
            assert session.hints_taken == 0


@pytest.mark.parametrize("keys", ["b", "n enter c", "h", "y", "t", "w"])
async def test_help_and_quit_work_on_every_page(keys: str) -> None:
    async with driven("4") as tutor:
        await tutor.press(keys)
        first = tutor.page
        await tutor.press("question_mark")
        assert "Keys: reading a page" in tutor.page
        await tutor.press("escape")
        assert tutor.page == first
        await tutor.press("q")
    assert tutor.app.return_value == 0


async def test_where_letters_are_written_help_works_and_q_is_a_letter() -> None:
    async with driven("4") as tutor:
        await tutor.press("enter 1 question_mark")
        assert "q is a letter here" in tutor.page
        await tutor.press("escape 2")
        assert "12" in tutor.text
        await tutor.press("q enter")
        assert '"12q"' in tutor.text
        # What was wrong with it is gone with the next letter.
        await tutor.press("backspace")
        assert '"12q"' not in tutor.text


@pytest.mark.parametrize(("lesson", "keys"), [("4", ""), ("4", "n enter"), ("6", ""), ("7", "n enter")])
async def test_help_lists_what_works_for_the_task(lesson: str, keys: str) -> None:
    async with driven(lesson) as tutor:
        await tutor.press(f"{keys} question_mark")
        session = tutor.lesson.session
        assert ("start a new slash" in tutor.page) == session.may_use("slashes")
        assert ("hinge" in tutor.page) == session.may_use("slashes")
        assert ("lift the cap off" in tutor.page) == session.may_use("set-back")
        assert ("back to the task before" in tutor.page) == (session.task_number > 1)
        assert ("of the chosen amount" in tutor.page) == session.may_use("armhole")


async def test_the_footer_says_what_plus_does_to_the_chosen_line() -> None:
    async with driven("7") as tutor:
        await tutor.press("n enter")
        assert "+ Widen" in tutor.text
        await tutor.press("down")
        assert "+ Lower" in tutor.text


async def test_amounts_are_asked_for_in_inches() -> None:
    async with driven("4", unit=Unit.INCH) as tutor:
        await tutor.press("enter")
        assert "your answer, in inches. Enter has it marked." in tutor.text
        await tutor.press("escape n enter s enter n n n n n h enter")
        assert "(minus overlaps), in inches" in tutor.text


async def test_another_theme_is_named() -> None:
    async with driven("4") as tutor:
        await tutor.press("d")
        assert "Theme: light." in tutor.text
        await tutor.press("escape d")
        assert "Theme: high contrast." in tutor.text
    async with driven() as tutor:
        await tutor.press("d")
        assert "Theme: light." in tutor.text


async def test_the_list_is_gone_through_by_pages() -> None:
    async with driven() as tutor:
        await tutor.press("end")
        assert ">28 From complaint to cut" in tutor.text
        await tutor.press("home pagedown pagedown pagedown pageup pageup")
        assert "> 1 " not in tutor.text
        await tutor.press("home")
        assert "> 1 Reading a sleeve" in tutor.text


async def test_a_lesson_is_gone_to_by_the_digits_of_its_number() -> None:
    async with driven() as tutor:
        await tutor.press("1")
        assert "> 1 Reading a sleeve" in tutor.text
        assert "another digit goes on to lessons 10 to 19" in tutor.text
        await tutor.press("2")
        assert ">12 Below the bicep line" in tutor.text
        # No number begins with 127, so that 7 begins another; nor after an arrow does a digit go on.
        await tutor.press("7")
        assert "> 7 " in tutor.text
        await tutor.press("2 up 8")
        assert "> 8 " in tutor.text
        await tutor.press("0")
        assert "> 8 " in tutor.text
        assert "There is no lesson 0." in tutor.text
        await tutor.press("0 2 5 enter enter")
        assert tutor.lesson.session.lesson.number == 25


async def test_a_click_on_the_list_ends_the_number_that_was_being_typed() -> None:
    async with driven() as tutor:
        await tutor.press("1")
        row = next(k for k, row in enumerate(tutor.rows) if row.lstrip(" >").startswith("5 "))
        await tutor.pilot.click(offset=(20, row))
        assert tutor.lesson.session.lesson.number == 5
        await tutor.press("enter escape 2")
        assert "> 2 " in tutor.text


def test_a_number_leads_to_the_lesson_of_one_s_own_that_it_is_or_begins() -> None:
    numbers = [*range(1, 29), 300, 301]
    typed = TypedNumber().typed("3", numbers)
    assert typed.meant(numbers) == [3, 300, 301]
    typed = typed.typed("0", numbers)
    assert typed.words(numbers, "lesson") == "Lesson 300. Enter opens it; another digit goes on to lesson 301."
    assert typed.typed("1", numbers).meant(numbers) == [301]
    assert TypedNumber().typed("9", numbers).words(numbers, "lesson") == "Lesson 9. Enter opens it."
    assert TypedNumber().typed("9", [1]).words([1], "lesson") == "There is no lesson 9."


async def test_the_list_says_where_the_path_goes() -> None:
    async with driven() as tutor:
        assert "Next on the path: lesson 1." in tutor.text
        assert "F2 is a walk round the tutor" in tutor.text


@pytest.mark.parametrize("key", ["q", "ctrl+c", "ctrl+q"])
async def test_the_tutor_is_left_by_key(key: str) -> None:
    async with driven() as tutor:
        await tutor.press(key)
    assert tutor.app.return_value == 0


def _picture(tutor: Driven) -> str:
    chart = tutor.picture.chart
    assert chart is not None
    return "\n".join(chart.lines())


def _ink(tutor: Driven) -> tuple[tuple[int, int], tuple[int, int]]:
    """Columns and rows of the picture, and how many of them the drawing spans."""
    lines = _picture(tutor).split("\n")
    rows = [y for y, line in enumerate(lines) if line.strip()]
    columns = [x for line in lines for x, letter in enumerate(line) if letter != " "]
    return (len(lines[0]), len(lines)), (max(columns) - min(columns) + 1, rows[-1] - rows[0] + 1)


def _foot_place(tutor: Driven, name: str) -> tuple[int, int]:
    foot = tutor.lesson.query_one(Foot)
    return next((column + 1, 0) for action, _, _, column in foot.items if action.name == name)


def _side_place(tutor: Driven, start: str) -> tuple[int, int]:
    lines = tutor.lesson.query_one(Side)._lines
    return next((3, y) for y, line in enumerate(lines) if line.text[1:].startswith(start))


async def _drag(tutor: Driven, start: complex, end: complex) -> None:
    """Presses the mouse at one place, moves it, and lets go of it at another."""
    first, last = tutor.cell(start), tutor.cell(end)
    between = ((first[0] + last[0]) // 2, (first[1] + last[1]) // 2)
    await tutor.pilot.mouse_down("#picture", offset=first)
    for there in (between, last):
        await tutor.pilot.hover("#picture", offset=there)
    await tutor.pilot.mouse_up("#picture", offset=last)


@pytest.mark.parametrize(
    ("letters", "place"),
    [
        ("grain-hem", "grain-hem"),
        ("GRAIN hem", "grain-hem"),
        ("hem at", "grain-hem"),
        ("underarm-front", "underarm-front"),
        ("front under", "underarm-front"),
        ("notch-back-2", "notch-back-2"),
    ],
)
async def test_a_place_is_gone_to_by_its_words_or_by_its_name_in_plans(letters: str, place: str) -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("s g")
        await tutor.write(letters)
        await tutor.press("enter")
        placing = tutor.lesson.placing
        assert placing is not None
        assert placing.track.landmark(placing.marker) == place


async def test_a_place_that_is_nowhere_is_said_to_be_and_can_be_put_right() -> None:
    async with driven("4") as tutor:
        await to_the_plan(tutor)
        await tutor.press("s g")
        await tutor.write("collar")
        assert "Nothing goes by that name" in tutor.text
        await tutor.press("enter")
        assert "Go to which place?" in tutor.text
        await tutor.press("ctrl+u")
        await tutor.write("crown")
        await tutor.press("enter")
        assert "Go to which place?" not in tutor.text


async def test_what_a_lesson_is_about_is_told_plainly_and_its_headings_stand_out() -> None:
    async with driven(None) as tutor:
        await tutor.press("down")
        about = tutor.app.screen.query_one(About)
        styles = {line.strip(): style for line, style in about.lines if line.strip()}
        assert styles["Tasks"] == "bold $strong"
        assert {style for line, style in styles.items() if line != "Tasks"} == {"$text"}
