"""Parts of the screen that need no app: the marker, the list of actions, the panel, colours."""

import math
import re

import pytest
from blocks import symmetric
from lessons_for_tests import own_lessons
from textual.content import Content
from tutor_driving import driven

from tutor.alteration.outline import whole
from tutor.alteration.plan import Along, Landmark, OnSlash
from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import find_lesson
from tutor.lesson.task import PlaceTask
from tutor.picture.looks import Look, Role, Sign
from tutor.practice.session import Session
from tutor.tui import due_screen, lesson_screen, lessons_screen, question_screen, quiz_screen, tour_screen
from tutor.tui.actions import ACTIONS, MOST_IN_FOOTER, Action, Mode, footer, in_mode
from tutor.tui.marker import Marker, Track
from tutor.tui.plan_lines import plan_lines, stepped, stepped_text
from tutor.tui.prose import Prose
from tutor.tui.side_lines import SideState, side_lines
from tutor.tui.tape_lines import tape_lines
from tutor.tui.themes import PALETTES, Palette
from tutor.units import Unit


@pytest.fixture(scope="module")
def track() -> Track:
    return Track(whole(symmetric()), {"A": (0j, 30 - 40j)})


# The marker.


def test_a_marker_stepped_all_the_way_round_is_back(track: Track) -> None:
    marker, steps = Marker(3.0), 1000
    here = track.point(marker)
    for _ in range(steps):
        marker = track.stepped(marker, track.length() / steps)
    assert abs(track.point(marker) - here) < 1e-6


def test_a_step_is_as_long_as_it_says_along_the_seam(track: Track) -> None:
    # On the straight hem a step along the seam is a step across the paper.
    corner = track.at_landmark("hem-front")
    assert corner is not None
    moved = track.point(track.stepped(corner, 37.0)) - track.point(corner)
    assert abs(moved) == pytest.approx(37, abs=1e-6)


def test_arrows_go_the_way_they_point(track: Track) -> None:
    crown = track.at_landmark("crown")
    hem = track.at_landmark("grain-hem")
    assert crown is not None
    assert hem is not None
    for start, arrow in ((crown, 1), (crown, -1), (hem, 1), (hem, -1)):
        there = track.toward(start, arrow, 5.0)
        assert there is not None
        assert (track.point(there) - track.point(start)).real * arrow > 0
    # From the level hem no way leads up.
    assert track.toward(hem, 1j, 5.0) is None


def test_the_next_places_are_all_places_each_once(track: Track) -> None:
    marker, seen = Marker(), []
    for _ in track.stops:
        marker = track.next_stop(marker, 1)
        seen.append(track.landmark(marker))
    assert sorted(seen) == sorted(name for _, name in track.stops)
    for name in reversed(seen[:-1]):
        marker = track.next_stop(marker, -1)
        assert track.landmark(marker) == name


def test_a_marker_becomes_the_place_where_it_stands(track: Track) -> None:
    session = Session(find_lesson("4"), Unit.CM)
    own = Track(session.outline, {})
    for along in (0.0, 12.5, 200.0, 500.0, 1000.0):
        point = session.point(own.place(Marker(along)))
        assert point is not None
        assert abs(point - own.point(Marker(along))) < 1e-6
    crown = track.at_landmark("crown")
    assert crown is not None
    assert track.place(crown) == Landmark("crown")
    assert isinstance(track.place(track.stepped(crown, 10)), Along)
    assert track.place(Marker(25.0, "A")) == OnSlash("A", 0.5)


def test_pointing_finds_landmarks_before_edges_before_slashes(track: Track) -> None:
    crown = track.outline.spots["crown"].point
    near = track.nearest(crown + 3 - 3j, 4.0)
    assert near is not None
    assert track.landmark(near) == "crown"
    on_slash = track.nearest(15 - 20j, 4.0)
    assert on_slash is not None
    assert on_slash.line == "A"
    assert track.nearest(-60 - 60j, 4.0) is None


# The list of actions.


@pytest.mark.parametrize("mode", list(Mode))
def test_a_key_does_one_thing_in_a_mode(mode: Mode) -> None:
    keys = [key for action in in_mode(mode) for key in action.keys]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("mode", list(Mode))
def test_the_footer_begins_with_help_and_quit_and_fits(mode: Mode) -> None:
    shown = footer(mode)
    assert [action.name for action in shown[:2]] == ["help", "quit"]
    assert len(shown) <= MOST_IN_FOOTER
    assert all(action.short and mode in action.modes for action in shown)
    for words, columns in (([action.short for action in shown], 80), ([_terse(action) for action in shown], 60)):
        keys = [action.key_words for action in shown]
        assert sum(len(key) + len(word) + 3 for key, word in zip(keys, words, strict=True)) <= columns


def _terse(action: Action) -> str:
    return action.terse or action.short


def test_a_key_says_in_the_footer_what_it_goes_on_to() -> None:
    """There are places, marks, notches, steps and stops to go on to, besides tasks and questions."""
    for mode in Mode:
        words = [action.short for action in footer(mode)]
        assert "Next" not in words


SCREENS = {
    Mode.LESSONS: lessons_screen.LessonsScreen,
    Mode.TOUR: tour_screen.TourScreen,
    Mode.QUIZ: quiz_screen.QuizScreen,
    Mode.CHOOSING: question_screen.QuestionScreen,
    Mode.DUE: due_screen.DueScreen,
}


def test_every_action_is_done_by_its_screen_and_explained() -> None:
    for action in ACTIONS:
        screens = {SCREENS.get(mode, lesson_screen.LessonScreen) for mode in action.modes}
        assert all(callable(getattr(screen, f"do_{action.name}")) for screen in screens), action.name
        assert action.words


def test_every_mode_can_be_helped_left_and_drawn_in_another_unit() -> None:
    for mode in Mode:
        assert {"help", "quit", "units", "theme"} <= {action.name for action in in_mode(mode)}


# Amounts.


@pytest.mark.parametrize(
    ("amount", "steps", "unit", "coarse", "wanted"),
    [
        (None, 1, Unit.CM, False, 1.0),
        (0.0, -1, Unit.CM, True, -5.0),
        (31.75, 1, Unit.CM, False, 32.0),
        (31.75, -1, Unit.CM, False, 31.0),
        (25.4, 1, Unit.INCH, False, 25.4 * 17 / 16),
        (25.4, -1, Unit.INCH, True, 25.4 * 3 / 4),
        (30.0, 1, Unit.INCH, False, 25.4 * 19 / 16),
    ],
)
def test_steps_go_from_mark_to_mark_of_the_tape(
    amount: float | None, steps: int, unit: Unit, coarse: bool, wanted: float
) -> None:
    assert stepped(amount, steps, unit, coarse=coarse) == pytest.approx(wanted)


def test_what_is_written_is_stepped_in_its_own_unit() -> None:
    assert stepped_text("3.1", 1, Unit.CM) == "3.2 cm"
    assert stepped_text("1 1/4", -1, Unit.INCH) == "1 3/16 in"
    assert stepped_text("nonsense", 1, Unit.CM, 120.0) == "12.1 cm"


# The panel.


@pytest.mark.parametrize("width", [36, 46, 56, 74])
@pytest.mark.parametrize("unit", [Unit.CM, Unit.INCH])
@pytest.mark.parametrize("lesson", ["4", "5", "6"])
def test_the_tape_is_as_wide_as_the_panel_and_cuts_no_figure(lesson: str, unit: Unit, width: int) -> None:
    session = Session(find_lesson(lesson), unit)
    for number in range(1, len(session.tasks) + 1):
        session.go_to_task(number)
        lines = [text for text, _ in tape_lines(session.tape(), unit, width, ascii=False)]
        assert {len(line) for line in lines} == {width}
        for line in lines[1:]:
            assert re.search(r"[0-9°%]$| met$", line.rstrip())


@pytest.mark.parametrize("width", [36, 47, 57])
@pytest.mark.parametrize("unit", [Unit.CM, Unit.INCH])
@pytest.mark.parametrize("lesson", own_lessons(), ids=lambda lesson: lesson.name)
def test_no_two_measures_on_the_tape_read_alike(lesson: Lesson, unit: Unit, width: int) -> None:
    session = Session(lesson, unit)
    for number in range(1, len(session.tasks) + 1):
        session.go_to_task(number)
        if not session.tape():
            # Folds are looked at, not measured.
            continue
        rows = [text for text, _ in tape_lines(session.tape(), unit, width, ascii=False)][1:]
        # No name ends in a figure: what is left without the figures at the end is the name.
        names = [re.sub(r"(\s+[-+≤≥]?\d[\d ./°%–-]*)+(\s+met)?\s*$", "", row) for row in rows]
        assert len(set(names)) == len(names)
        assert names or isinstance(session.task, PlaceTask) or session.hidden
        assert [name for name in names if "…" in name] == []


def test_what_is_asked_too_long_says_where_all_of_it_is_read() -> None:
    session = Session(find_lesson("7"), Unit.CM)
    session.go_to_task(2)
    state = SideState(session.ask, session.tape(), plan_lines(session, "", ascii=False), "", "plan", Unit.CM)
    lines = [line.text for line in side_lines(state, 47, 20, ascii=False)]
    (cut,) = [line for line in lines if "…" in line]
    assert cut.endswith("… (b: all of it)")
    # Cut between words.
    assert cut.removesuffix(" … (b: all of it)").split()[-1] in session.ask.split()


@pytest.mark.parametrize("height", [13, 16, 20, 35])
@pytest.mark.parametrize("ascii", [False, True])
def test_the_panel_is_filled_and_shows_the_chosen_line(height: int, ascii: bool) -> None:
    session = Session(find_lesson("6"), Unit.CM)
    session.add_slash(Landmark("crown"), Landmark("grain-hem"))
    for chosen in ("set-back", "A", "A/start", "A/end"):
        plan = plan_lines(session, chosen, ascii=ascii)
        state = SideState(session.ask, session.tape(), plan, chosen, "plan", Unit.CM)
        lines = side_lines(state, 46, height, ascii=ascii)
        assert len(lines) == height
        assert max(len(line.text) for line in lines) <= 46
        assert [line.key for line in lines if line.text.startswith(">")] == [chosen]


@pytest.mark.parametrize(("width", "height"), [(36, 15), (47, 20), (57, 36)])
def test_lines_of_the_plan_that_are_not_shown_are_told_of(width: int, height: int) -> None:
    session = Session(find_lesson("4"), Unit.CM)
    session.go_to_task(2)
    ends = (Landmark("crown"), Landmark("grain-hem")), (Landmark("underarm-back"), Landmark("underarm-front"))
    for first, last in ends:
        session.add_slash(first, last)
    keys = {line.key for slash in "AB" for line in plan_lines(session, slash, ascii=False)}
    assert {"A/elbow-line", "A/end"} <= keys
    for chosen in keys:
        plan = plan_lines(session, chosen, ascii=False)
        state = SideState(session.ask, session.tape(), plan, chosen, "plan", Unit.CM)
        shown = side_lines(state, width, height, ascii=False)
        seen = [line.key for line in shown if line.key]
        (heading,) = [line.text for line in shown if line.text.startswith("plan")]
        at = [line.key for line in plan].index(seen[0])
        whole = f"plan: lines {at + 1} to {at + len(seen)} of {len(plan)}"
        assert heading == (whole if len(seen) < len(plan) else "plan")
        assert seen == [line.key for line in plan][at : at + len(seen)]


# Colours.


def luminance(colour: str) -> float:
    """Relative luminance of #rrggbb (WCAG 2.2, definition of relative luminance)."""
    channels = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio (WCAG 2.2, definition of contrast ratio)."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_is_the_published_one() -> None:
    # WCAG 2.2: black on white is 21 to 1. #777777 on white is the usual example of a grey just below 4.5 to 1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("palette", PALETTES, ids=lambda palette: palette.name)
def test_texts_and_lines_stand_out(palette: Palette) -> None:
    for ground in (palette.page, palette.bar):
        for name, colour in palette.texts.items():
            assert contrast(colour, ground) >= 4.5, (palette.name, name)
        for name, colour in palette.lines.items():
            assert contrast(colour, ground) >= 3, (palette.name, name)
    # What is chosen is written in the page's colour on the colour for it.
    assert contrast(palette.page, palette.chosen) >= 4.5


@pytest.mark.parametrize("palette", PALETTES, ids=lambda palette: palette.name)
def test_every_part_of_the_picture_stands_out_from_the_page(palette: Palette) -> None:
    roles: list[Role | None] = [None, *Look, *Sign]
    for role in roles:
        style = palette.style(role)
        assert style.color is not None
        # A sign is a letter, and is read; a look is a line.
        least = 4.5 if isinstance(role, Sign) else 3
        assert contrast(style.color.name, palette.page) >= least, role


def test_the_high_contrast_theme_is_that() -> None:
    (palette,) = (each for each in PALETTES if each.name == "contrast")
    # 7 to 1 is the enhanced level (WCAG 2.2, 1.4.6).
    assert min(contrast(colour, palette.page) for colour in (*palette.texts.values(), *palette.lines.values())) >= 7
    assert math.isclose(luminance(palette.page), 0)


async def test_a_page_beside_the_picture_is_laid_out_once_for_its_width(monkeypatch: pytest.MonkeyPatch) -> None:
    """Else it moves after it was shown, and what is clicked on it is no longer there."""
    widths: list[int] = []
    lines = Prose.lines

    def seen(prose: Prose, width: int) -> list[Content]:
        widths.append(width)
        return lines(prose, width)

    monkeypatch.setattr(Prose, "lines", seen)
    async with driven("6", (120, 40)) as tutor:
        await tutor.press("l")
        widths.clear()
        await tutor.press("c")
        assert "Goals" in tutor.page
    assert len(set(widths)) == 1
