"""The line-by-line tutor: whole lessons from a script, other ways to the same result, lines that can't be read."""

from __future__ import annotations

import io
import re
import subprocess
import sys
import tempfile
from contextlib import chdir
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.lesson.reading import find_lesson
from tutor.pattern.measures import Kind
from tutor.practice.page import Page
from tutor.practice.plain import run_plain
from tutor.practice.plain_commands import COMMANDS, GROUPS
from tutor.practice.plain_text import tape_lines
from tutor.practice.session import Session
from tutor.practice.tape import TapeRow
from tutor.units import Unit

ROOT = Path(__file__).resolve().parent.parent

CROSSED = """
    slash crown to hem, hinge at both ends, as grain
    slash back underarm to front underarm, hinge at both ends, as bicep
"""
LIFTED = """
    lift
    slash bicep line to hem, hinge at hem
    open A at bicep line 3 cm
"""


def talked(
    lesson: str, script: str, unit: Unit = Unit.CM, width: int = 80, ascii: bool | None = None
) -> tuple[int, str]:
    """The exit status and the output of a lesson taken from a script, a command a line."""
    output = io.StringIO()
    lines = "\n".join(line.strip() for line in script.strip().splitlines())
    status = run_plain(find_lesson(lesson), io.StringIO(lines + "\n"), output, width, unit=unit, ascii=ascii)
    return status, output.getvalue()


def flowing(text: str) -> str:
    """The text with its line breaks taken out."""
    return " ".join(text.split())


def last_mark(text: str) -> int:
    return int(re.findall(r"Mark: (\d+) of 100", text)[-1])


# Lesson 4's first task by Pythagoras, from the figures on the tape: girth 33, cap 14.2, girth wanted 36.
BY_HAND = (16.5**2 + 14.2**2 - 18**2) ** 0.5
# What pieces that turn about hinges at the edge leave as long as it was: the edges.
STAYED = "answer cap-seam, underarm-seam-back, hem-girth"

SOLVED = {
    "4": f"answer {BY_HAND:.1f} cm\nnext{CROSSED}open grain at bicep, hem side 3 cm\ncheck\nnext\n{STAYED}\nnext",
    "5": f"""answer 2.9 cm
        next
        {CROSSED}
        cut grain at crown
        open grain at bicep, hem side 3 cm
        open grain at crown 1.1 cm
        check
        next
        answer 3.1 cm
        next""",
    "6": f"{LIFTED}\ncheck\nnext\nanswer 2.2 cm\nnext",
    "7": """answer 1.3 cm
        next
        widen both 8 mm
        lower both 8 mm
        check
        next
        answer 46.4 cm
        next""",
}


@pytest.mark.parametrize("lesson", SOLVED)
def test_a_lesson_is_solved_and_passed_from_a_script(lesson: str) -> None:
    status, said = talked(lesson, SOLVED[lesson])
    assert status == 0
    assert f"Lesson {lesson} passed." in said
    assert "Not read" not in said
    best = re.findall(r"Task \d+, [^:]*: passed, best mark (\d+)", flowing(said))
    assert best == ["100"] * len(find_lesson(lesson).tasks)


# The same in inches, to the nearest eighth or sixteenth: nobody fails for rounding.
INCHES = {
    "4": f"answer 4 7/8\nnext{CROSSED}open grain at bicep, hem side 1 3/16\ncheck\nnext\n{STAYED}",
    "5": f"""answer 1 1/8
        next
        {CROSSED}
        cut grain at crown
        open grain at bicep, hem side 1 3/16
        open grain at crown 7/16
        check
        next
        answer 1 3/16""",
    "6": f"{LIFTED.replace('3 cm', '1 3/16')}\ncheck\nnext\nanswer 7/8",
    "7": "answer 1/2\nnext\nwiden both 5/16\nlower both 5/16\ncheck\nnext\nanswer 18 1/4",
}


@pytest.mark.parametrize("lesson", INCHES)
def test_a_lesson_is_passed_in_inches(lesson: str) -> None:
    status, said = talked(lesson, INCHES[lesson], Unit.INCH)
    assert status == 0, said
    assert " cm" not in said.replace("units cm", "")


TWO_WEDGES = """
    slash back underarm to front underarm, hinge at both ends, as bicep
    slash crown to half way along bicep, hinge at crown, as cap
    slash 40% along bicep to 60% along hem, hinge at hem, as one
    slash 60% along bicep to 40% along hem, hinge at hem, as two
    open one at bicep 1.5 cm
    open two at bicep 1.5 cm
"""
Y_SHAPED = """
    slash crown to hem, hinge at both ends, as grain
    slash back underarm to 30% along grain, hinge at start, as left
    slash front underarm to 30% along grain, hinge at start, as right
    open grain at left, hem side 2.8 cm
"""
CROWN_AT_NOUGHT = f"{CROSSED}\ncut grain at crown\nopen grain at bicep, hem side 3 cm\nclose grain at crown"

# Different slashes with the same result pass, whatever the lesson had in mind.
OTHER_WAYS = {
    "the crown cut through and kept closed": ("4", f"next{CROWN_AT_NOUGHT}"),
    "two wedges below the cap": ("4", f"next{TWO_WEDGES}"),
    "slashes that meet below the bicep line": ("4", f"next{Y_SHAPED}"),
    "two wedges and the crown left open": ("5", f"next{TWO_WEDGES}\ncut cap at crown\nopen cap at crown 1.1 cm"),
    "two wedges under the lifted cap": (
        "6",
        """lift
        slash 35% along bicep-line to 65% along hem, hinge at hem
        slash 65% along bicep-line to 35% along hem, hinge at hem
        open A at start 1.5 cm
        open B at start 1.5 cm""",
    ),
    "more depth than width": ("7", "next\nwiden back 6 mm\nlower back 10 mm\nwiden front 6 mm\nlower front 10 mm"),
}


@pytest.mark.parametrize(("lesson", "script"), OTHER_WAYS.values(), ids=OTHER_WAYS)
def test_any_right_way_passes(lesson: str, script: str) -> None:
    _, said = talked(lesson, f"{script}\ncheck")
    assert "passed (pass mark" in said, said
    assert "not passed (pass mark" not in said, said
    assert last_mark(said) >= 95


# What is done wrongly, and what the learner must be told.
WRONG = {
    "nothing at all": ("4", "next", "Nothing that this task looks at has changed yet."),
    "too little": (
        "4",
        f"next{CROSSED}open grain at bicep, hem side 1 cm",
        "The bicep girth is 34.0 cm, 2.0 cm too little",
    ),
    "too much": ("4", f"next{CROSSED}open grain at bicep, hem side 6 cm", "cm too much; wanted is 36.0 cm"),
    "the crown left to gape": (
        "4",
        f"next{CROSSED}cut grain at crown\nopen grain at bicep, hem side 3 cm",
        "The cap seam grew by 2.6 cm; it should stay, within 0.3 cm. The armhole it is sewn into does not change.",
    ),
    "the hem let go": (
        "4",
        "next\nslash crown to hem\nopen A at crown 3 cm\nopen A at hem 3 cm",
        "The hem girth grew by 3.0 cm",
    ),
    "overlapped": (
        "4",
        f"next{CROSSED}overlap grain at bicep, hem side 3 cm",
        "The bicep girth is 30.0 cm, 6.0 cm too little",
    ),
    "the crown closed where height was to stay": (
        "5",
        f"next{CROSSED}open grain at bicep, hem side 3 cm",
        "The cap height fell by 1.9 cm; the task lets it fall by 1.2 cm.",
    ),
    "all the opening left in the cap": (
        "5",
        f"next{CROSSED}cut grain at crown\nopen grain at bicep, hem side 3 cm\nopen grain at crown 3 cm",
        "The cap ease grew by 2.9 cm; the task lets it grow by 1.2 cm.",
    ),
    "the cap opened where its height was to stay": (
        "6",
        f"{CROSSED}open grain at bicep, hem side 3 cm",
        "The cap height fell by 1.9 cm; it should stay, within 0.2 cm.",
    ),
    "the front forgotten": (
        "7",
        "next\nwiden back 8 mm\nlower back 8 mm",
        "The cap ease, front is 2.1 cm, 0.9 cm too much",
    ),
    "all in width": (
        "7",
        "next\nwiden back 19 mm\nwiden front 17 mm",
        "The bust gain grew by 7.2 cm; the task lets it",
    ),
    "all in depth": (
        "7",
        "next\nlower back 13 mm\nlower front 14 mm",
        "shrank by 1.4 cm; the task lets it shrink by 1.1 cm.",
    ),
}


@pytest.mark.parametrize(("lesson", "script", "told"), WRONG.values(), ids=WRONG)
def test_what_is_done_wrongly_is_told(lesson: str, script: str, told: str) -> None:
    status, said = talked(lesson, f"{script}\ncheck")
    assert status == 1
    assert "Not read" not in said
    assert last_mark(said) < 100
    assert told in flowing(said), said


def test_what_it_cost_is_told_when_all_is_well() -> None:
    _, said = talked("4", f"next{CROSSED}open grain at bicep, hem side 3 cm\ncheck")
    assert "What it cost: cap height -1.9 cm" in flowing(said)


def test_what_paper_can_not_do_is_told_and_gets_no_marks() -> None:
    _, said = talked("4", "next\nslash crown to hem\ncheck")
    assert "Paper can't follow this (loose)" in flowing(said)
    assert last_mark(said) == 0


def test_a_cut_end_that_goes_the_other_way_is_told() -> None:
    """Open by 2 at 30 % and shut at 70 %, straight edges cross there and lap by 2 * 30 / 40 at the end (rays)."""
    script = "next\nslash elbow-back to elbow-front\nopen A at 30% 2 cm\nopen A at 70% 0"
    _, said = talked("4", script)
    flat = flowing(said)
    lap = "The paper laps over by 1.5 cm at the front elbow point, where A is cut through; a hinge there would hold it."
    assert flat.count(lap) == 1
    _, said = talked("4", f"{script}\noverlap A at 30% 2 cm")
    assert "The paper parts by 1.5 cm at the front elbow point" in flowing(said)
    _, said = talked("4", "next\nslash crown to hem, hinge at crown\nopen A at hem 3 cm")
    assert "laps" not in said
    assert "Paper lies on paper" not in said


def test_paper_on_paper_is_told() -> None:
    _, said = talked("4", f"next{CROSSED}open grain at bicep, hem side 3 cm")
    assert re.search(r"Paper lies on paper, \d+\.\d cm² in all\.", said)


def test_an_edit_tells_what_it_changed_and_no_more() -> None:
    _, said = talked("7", "next\nwiden back 8 mm\nlower front 8 mm\nundo\nlower front 0")
    widened, lowered = (said.split(f"> {line}")[1].split("\n>")[0] for line in ("widen back", "lower front"))
    assert "Back bodice: side seam out 0.8 cm." in flowing(widened)
    assert "cap ease, back" in flowing(widened)
    assert "cap ease, front" not in flowing(widened)
    assert "cap ease, back" not in flowing(lowered)
    assert "Common practice" not in said
    assert "No measure changes by this." in said


def test_a_table_stays_a_table_in_inches() -> None:
    """Every row of a table ends in the same columns, so no line of it runs on."""
    _, said = talked("4", "next", Unit.INCH)
    table = said.split("measure  ")[-1].split("\n\n")[0].splitlines()
    ends = {len(line.rsplit("  ", 1)[0].rstrip()) for line in table if line.count("  ") > 3 and "met" in line}
    assert len(ends) == 1
    assert [line.split() for line in table if line.startswith("  back")] == [
        ["back", *["0", "in"] * 2, "met", "0", "in"]
    ]
    assert not any(", before " in line for line in table)


@pytest.mark.parametrize("width", [40, 80])
def test_the_tape_has_the_columns_that_say_something(width: int) -> None:
    _, said = talked("2", "tape", width=width)
    tables = [part.split("\n\n")[0].splitlines() for part in said.split("measure  ")[1:]]
    assert [line.split() for line in tables[0]] == [
        ["now"],
        ["cap", "seam,", "back", "24.4", "cm"],
        ["armhole,", "back", "22.0", "cm"],
        ["cap", "seam,", "front", "21.9", "cm"],
        ["armhole,", "front", "22.5", "cm"],
    ]
    assert len(tables) == 2
    # A figure that is asked after an alteration is not the one that the tape has.
    asked_after = talked("4", "", width=width)[1].splitlines()
    assert [line.split() for line in asked_after if line.startswith("measure ")] == [["measure", "before"]]
    # What is asked of a plan stays, whatever has changed.
    planned = talked("4", "next\ntape", width=80)[1].partition("Task 2 of ")[2]
    heads = [line.split() for line in planned.splitlines() if line.startswith("measure ")]
    assert heads == [["measure", "before", "now", "off", "by", "wanted"]] * 2


def test_where_nothing_is_wanted_but_something_changed_before_and_now_are_told() -> None:
    row = TapeRow("cap-height", "cap height", Kind.LENGTH, 142.0, 136.0)
    assert [line.split() for line in tape_lines([row], Unit.CM, Page())] == [
        ["measure", "before", "now"], ["cap", "height", "14.2", "cm", "13.6", "cm"],
    ]  # fmt: skip
    assert tape_lines([row], Unit.CM, Page(30))[-1].endswith("13.6 cm")
    refused = replace(row, now=None)
    assert tape_lines([refused], Unit.CM, Page())[-1].split()[-3:] == ["14.2", "cm", "-"]


def test_the_answer_to_a_question_about_a_change_is_told_as_one() -> None:
    _, said = talked("6", f"{LIFTED}check\nnext\nsolution")
    assert re.search(
        r"1. The cap seam is [0-9.]+ cm before, and [0-9.]+ cm after.\n2. The cap seam grows by 2.2 cm.", said
    )
    session = Session(find_lesson("6"), Unit.CM)
    session.next_task()
    assert session.answer("2 cm").goals[0].parts[0].words == "change of the cap seam"


def test_a_task_is_gone_to_by_its_number_and_the_lesson_begun_anew() -> None:
    _, said = talked("4", "next\nslash crown to hem\ntask 1\ntask 2\nplan\nstart over\ntask 2\nplan\ntask 9\nstart")
    assert "Slash A: from the crown to the hem" in said.split("> plan")[1]
    assert "The paper is as it was." in said.split("> plan")[2]
    assert "task: there is no task 9; write 1 to 3" in flowing(said)
    assert "start: begins the lesson anew only as two words; write start over" in flowing(said)


# The armhole rule: width and depth add up to more than the armhole gains (common practice counts their sum).
def test_lesson_7_shows_the_sum_beside_the_computed_gain() -> None:
    _, said = talked("7", "next\nwiden both 8 mm\nlower both 8 mm\ncheck")
    flat = flowing(said)
    assert "Common practice counts the gain as width plus depth. The mark goes by what is computed." in flat
    for side in ("back", "front"):
        match = re.search(
            rf"The {side} armhole: 0\.80 cm out and 0\.80 cm down, 1\.60 cm in all; computed, it gains (\S+) cm", flat
        )
        assert match is not None
        assert 0.5 < float(match[1]) / 1.6 < 0.9
        match = re.search(rf"The {side} cap seam was carried out by (\S+) cm and gained (\S+) cm", flat)
        assert match is not None
        assert 0.5 < float(match[2]) / float(match[1]) < 0.9


def test_undo_and_redo_all_the_way() -> None:
    steps = f"next{CROSSED}open grain at bicep, hem side 3 cm\ncut grain at both ends\nhinge grain at both ends"
    _, said = talked("4", f"{steps}\nundo\nundo\nundo\nundo\nundo\nundo\nredo\nredo\nredo\nplan\ncheck")
    assert "There is nothing to undo." in said
    assert "grain, at bicep, hem side: opened by 3.0 cm." in said
    assert last_mark(said) == 100


def test_places_are_taken_in_many_words() -> None:
    script = """next
        slash the crown to the hem at the grain
        slash from 6 cm along cap-back from crown to 6 cm along the front cap seam from crown
        slash half way along underarm-back to point 3 cm, -12 cm
        slash back-notch-1 to 1/3 along underarm front
        SLASH Front Notch TO 25 % of the way along hem AS odd
        places
        places odd
        plan"""
    _, said = talked("4", script)
    assert "Not read" not in said
    assert "Slash B: from 6.0 cm from the crown along the back cap seam to 6.0 cm from the crown" in flowing(said)
    assert "odd: from the front notch to 25% along the hem" in flowing(said)


UNREADABLE = [
    ("frobnicate", '"frobnicate" is no command; help lists them all'),
    ("slash", "slash: goes from one place to another"),
    ("slash crown", "slash: goes from one place to another"),
    ("slash crown to moon", '"moon" is no place on this paper; there are'),
    ("slash crown to hem, hinge at moon", '"moon" is no end of the slash; it has start (crown) and end (hem)'),
    ("slash crown to 900 cm along hem", "is not on the hem; it is 24.0 cm long"),
    ("slash crown to 6 blorp along hem", "ends in no unit known here"),
    ("slash crown to 140% along hem", "is no share of the way"),
    ("slash crown to 6 cm along elbow", '"elbow" is no seam of this paper'),
    ("slash crown to 6 cm along hem from crown", '"crown" is no end of the hem'),
    ("slash crown to hem as two words", "slash"),
    ("slash crown to hem as to", "can't name a slash"),
    ("open A at crown 3 cm", 'there is no slash "A"; make one first'),
    ("answer 3 cm", "this task asks for no number"),
    ("lift", "this task does not allow lifting the cap off"),
    ("widen back 8 mm", "this task does not allow a change of the armhole"),
    ("widen 8 mm", "needs back, front or both, and an amount"),
    ("units ell", '"ell" is no unit known here; write units cm, units in or units mm'),
    ("help me", '"me" is no command'),
    ("x" * 500, "the line is too long to be read"),
]


@pytest.mark.parametrize(("line", "told"), UNREADABLE, ids=[line[:30] for line, _ in UNREADABLE])
def test_an_unreadable_line_costs_nothing_and_says_what_would_be_readable(line: str, told: str) -> None:
    status, said = talked("4", f"next\n{line}\nplan")
    assert status == 1
    assert "Not read, and nothing lost:" in said
    assert told in flowing(said), said
    assert said.count("The paper is as it was.") == 1


@pytest.mark.parametrize("size", [500, 2000, 5000, 200_000])
def test_a_line_far_too_long_is_told_by_its_beginning(size: int) -> None:
    _, said = talked("4", f"next\n{'x' * size}\nplan")
    assert said.count("the line is too long") == 1
    assert "x" * 50 in said
    assert said.count("x") < 150
    assert said.count("The paper is as it was.") == 1


AMBIGUOUS = [
    ("open grain 3 cm", "does not say where on grain; write at bicep, crown side, at bicep, hem side"),
    ("open grain at bicep 3 cm", '"at bicep" could be more than one place on grain'),
    ("open grain at moon 3 cm", '"at moon" is no place to open on grain'),
    ("open grain at bicep, hem side", "has no amount that can be read at its end; write such as open A at hem 3.0 cm"),
    ("open grain at bicep, hem side 1,250", "has no amount that can be read"),
    ("open grain at bicep, hem side by 1,250", "can mean two numbers"),
    ("hinge grain", "needs a slash and one of its ends"),
    ("move grain", "needs a slash and where its start or end goes"),
    ("free grain", "nothing is asked of grain"),
]


@pytest.mark.parametrize(("line", "told"), AMBIGUOUS)
def test_what_could_mean_two_things_is_asked_back(line: str, told: str) -> None:
    _, said = talked("4", f"next{CROSSED}{line}\nundo\nundo\nundo")
    assert told in flowing(said), said
    assert said.count("There is nothing to undo.") == 1


def test_openings_at_shares_and_half_way() -> None:
    script = """next
        slash elbow-back to elbow-front, hinge at front elbow point
        open A half way 1/2 in
        open A at 25% by 2 cm
        free A half way
        plan"""
    _, said = talked("4", script)
    assert "Not read" not in said
    assert "A, 25% of the way: opened by 2.0 cm." in said.split("> plan")[1]
    assert "half way" not in said.split("> plan")[1]


def test_moving_and_removing() -> None:
    script = """next
        slash crown to hem, hinge at hem
        move A to 3 cm along hem from hem-back
        move A from upper back notch
        remove A
        plan"""
    _, said = talked("4", script)
    assert "Slash A: from the upper back notch to 3.0 cm from the back hem corner along the hem" in flowing(said)
    assert "The paper is as it was." in said


def test_hints_solution_and_help() -> None:
    _, said = talked(
        "4", f"next{CROSSED}hint\nhint\nhint\nhint\nsolution\nopen grain at bicep, hem side 3 cm\ncheck\nhelp open"
    )
    flat = flowing(said)
    assert [f"Hint {k} of 3:" in flat for k in (1, 2, 3)] == [True] * 3
    # The fourth is the third once more, and says that it is.
    assert flat.count("Hint 3 of 3:") == 2
    assert flat.count("There are no others; solution shows the worked solution.") == 1
    assert "As it lies the bicep girth is 3.0 cm below what is wanted (36.0 cm)." in flat
    assert "This task now counts as shown, not as passed." in flat
    assert "Task 2, Open it: shown, best mark 100 of 100 in 1 try." in flat
    assert "Lesson 4 not passed." in flat


def test_help_tells_every_command() -> None:
    _, said = talked("4", "help\nhelp slash\n?")
    for command in COMMANDS:
        assert f"\n  {command.use}: " in said
        assert command.word == command.use.split()[0]


def test_help_begins_with_what_every_task_needs_and_has_headings() -> None:
    _, said = talked("4", "help\nquit")
    lines = said.split("> help\n")[1].split("> quit")[0].splitlines()
    headings = [line for line in lines if line and not line.startswith(" ")]
    assert headings == [heading for heading, _ in GROUPS]
    needed = lines[: lines.index("")]
    # One screen of 24 lines has room for it.
    assert len(needed) < 20
    words = {line.split(":")[0].split()[0] for line in needed}
    assert {"ask", "answer", "check", "hint", "next", "undo", "quit"} <= words


@pytest.mark.parametrize("use", [*(command.use for command in COMMANDS), "?", "start over as written"])
def test_help_takes_every_command_as_it_is_typed(use: str) -> None:
    _, said = talked("4", f"help {use}")
    assert "Not read" not in said
    if use != "?":
        assert f"\n{use.removesuffix(' as written')}: " in said


def test_a_passed_task_stays_passed() -> None:
    _, said = talked("6", f"{LIFTED}check\nclear\ncheck\nnext\nanswer 2.2 cm")
    assert "Lesson 6 passed." in said


def test_units_can_be_changed_on_the_way() -> None:
    script = f"units in\nanswer 4 7/8\nnext\nunits mm{CROSSED}open grain at bicep, hem side 30\ncheck\nnext\n{STAYED}"
    _, said = talked("4", script)
    assert "Lengths are in inches now." in said
    assert "Lesson 4 passed." in said


def test_the_end_of_the_input_ends_the_lesson() -> None:
    for script in ("", "\n\n", "hint", "# a remark"):
        status, said = talked("4", script)
        assert status == 1
        assert said.endswith("Lesson 4 not passed.\n")


def test_quitting_ends_it_too() -> None:
    status, said = talked("4", "quit\nanswer 12.3 cm")
    assert status == 1
    assert "answer" not in said.split("> quit")[1]


def test_a_session_begun_elsewhere_goes_on() -> None:
    session = Session(find_lesson("4"), Unit.CM)
    session.answer("12.3 cm")
    session.next_task()
    output = io.StringIO()
    script = f"{CROSSED}open grain at bicep, hem side 3 cm\ncheck\nnext\n{STAYED}".replace("    ", "")
    assert run_plain(session, io.StringIO(script), output) == 0
    assert "Task 2 of 3: Open it" in output.getvalue()


@pytest.mark.parametrize("lesson", SOLVED)
def test_every_line_fits_the_width(lesson: str) -> None:
    for width in (80, 60):
        _, said = talked(lesson, f"{SOLVED[lesson]}\nhelp\nplaces\nsolution\nhint", width=width)
        assert max(len(line) for line in said.splitlines() if not line.startswith(">")) <= width


@pytest.mark.parametrize("lesson", SOLVED)
def test_ascii_alone_where_that_is_asked(lesson: str) -> None:
    _, said = talked(lesson, f"{SOLVED[lesson]}\nhelp\nplaces\nslash Ü to ½ along hem", ascii=True)
    assert said.isascii()
    assert "deg" in said or lesson == "7"


def test_nothing_can_steer_the_terminal() -> None:
    _, said = talked("4", "next\nslash crown to \x1b[2Jhem\nslash \u202ecrown to hem\nfoo\x07bar")
    assert all(letter.isprintable() or letter == "\n" for letter in said)


@settings(max_examples=30)
@given(
    st.lists(
        st.one_of(st.text(max_size=40), st.sampled_from([c.use for c in COMMANDS if c.word != "solution"])), max_size=8
    )
)
def test_no_line_ends_in_an_error(lines: list[str]) -> None:
    output = io.StringIO()
    session = Session(find_lesson("6"), Unit.CM)
    # Some of the lines write a file.
    with tempfile.TemporaryDirectory() as folder, chdir(folder):
        assert run_plain(session, io.StringIO("\n".join(lines)), output) in (0, 1)


def test_words_are_put_together_at_random_without_an_error() -> None:
    words = [
        [
            "slash",
            "move A from",
            "hinge A at",
            "cut A at",
            "open A at",
            "overlap B",
            "close A at",
            "free A",
            "widen",
            "places",
        ],
        ["crown", "hem", "both", "back", "40%", "half way along A", "point 1, 2", "bicep line", "grain-hem", "start"],
        ["to hem", "to crown", "3 cm", "1/2", "by 1", "hinge at start", "as A", "along hem from crown", ""],
    ]
    lines = [f"{a} {b} {c}" for a in words[0] for b in words[1] for c in words[2]]
    output = io.StringIO()
    run_plain(find_lesson("6"), io.StringIO("\n".join(lines[::3])), output)
    assert "Lesson 6 not passed." in output.getvalue()


def test_it_works_from_a_pipe_in_the_c_locale() -> None:
    program = (
        "import sys\n"
        "from tutor.lesson.reading import find_lesson\n"
        "from tutor.practice.plain import run_plain\n"
        "sys.exit(run_plain(find_lesson('4'), sys.stdin, sys.stdout))\n"
    )
    found = subprocess.run(
        [sys.executable, "-c", program],
        cwd=ROOT,
        input=f"answer 12,3 cm\nnext{CROSSED}open grain at bicep, hem side 3 cm\ncheck\nnext\n{STAYED}\n".encode(),
        env={"LANG": "C", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PATH": "/usr/bin:/bin"},
        capture_output=True,
        check=False,
    )
    assert found.stderr == b""
    assert found.returncode == 0
    assert found.stdout.isascii()
    assert found.stdout.endswith(b"Lesson 4 passed.\n")


def test_input_that_is_no_text_ends_it_cleanly() -> None:
    input = io.TextIOWrapper(io.BytesIO(b"hint\n\xff\xfe\n"), encoding="utf-8")
    output = io.StringIO()
    assert run_plain(find_lesson("4"), input, output) == 1
    assert "is no text" in output.getvalue()


def test_hinges_can_be_named_one_by_one() -> None:
    _, text = talked("4", "next\nslash crown to grain-hem hinge at crown hinge at hem")
    assert "a hinge at the crown and at the hem at the grain" in flowing(text)


@pytest.mark.parametrize("line", ["12.7 cm", "12 1/2", "12,7"])
def test_where_a_number_is_asked_a_number_alone_is_the_answer(line: str) -> None:
    assert "Mark:" in talked("4", line)[1]
    assert "is no command" in talked("4", f"next\n{line}")[1]
