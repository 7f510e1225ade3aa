"""Lesson files: read strictly, every fault with its place."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import SMALL, own_lessons, small_lesson, written

from tutor.faults import Fault
from tutor.lesson.goal import Keep, Reach
from tutor.lesson.lesson import block_of, starting_pattern
from tutor.lesson.reading import LessonFaults, check_lesson, find_lesson, read_lesson
from tutor.lesson.task import NumberTask, PlanTask
from tutor.pattern.measures import measure

INCHES = (
    ('title = "A small lesson"', 'title = "A small lesson"\nunits = "in"'),
    ("girth = 30\n", "girth = 12.1\n"),
    ("wearing-ease = 5", 'wearing-ease = "5 cm"'),
    ("armhole-front = 21.5", 'armhole-front = "21.5 cm"'),
    ("armhole-back = 22.5", 'armhole-back = "8 7/8 in"'),
    ("cap-ease = 2", "cap-ease = 0.8"),
    ("bicep-girth = 33", "bicep-girth = 13"),
    ("sleeve-length = 59", "sleeve-length = 23"),
    ("hem-girth = 24", "hem-girth = 9.5"),
    ("value = 35 }", "value = 14 }"),
    ("value = 35\ntolerance = 0.3", "value = 14\ntolerance = 0.125"),
)


def faults_of(folder: Path, *changes: tuple[str, str]) -> list[str]:
    """The faults of the small lesson with a text replaced, once each."""
    text = SMALL
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return [str(fault) for fault in check_lesson(written(folder, text))]


def line(text: str) -> int:
    """The line of the small lesson on which a text first stands, counted from 1."""
    return next(k for k, each in enumerate(SMALL.splitlines(), 1) if text in each)


def test_lengths_are_in_the_unit_of_the_file_or_their_own(tmp_path: Path) -> None:
    lesson = small_lesson(tmp_path)
    plan, number = lesson.tasks
    assert isinstance(plan, PlanTask)
    assert isinstance(number, NumberTask)
    reach, keep = plan.goals
    assert isinstance(reach, Reach)
    assert isinstance(keep, Keep)
    assert (lesson.arm.girth, reach.value, keep.tolerance) == (300.0, 350.0, 3.0)
    assert number.tolerance == 6.35
    assert lesson.name == "small"


def test_inches_are_exact(tmp_path: Path) -> None:
    # The inch of 1959 is 25.4 mm exactly.
    lesson = small_lesson(tmp_path, *INCHES)
    assert lesson.arm.girth == pytest.approx(12.1 * 25.4, abs=1e-12)
    assert lesson.arm.wearing_ease == 50.0
    assert lesson.block.armhole_back == pytest.approx(8.875 * 25.4, abs=1e-12)
    assert measure(block_of(lesson))["bicep-girth"] == pytest.approx(13 * 25.4, abs=1e-9)


def test_the_block_is_the_one_asked_for(tmp_path: Path) -> None:
    found = measure(block_of(small_lesson(tmp_path)))
    assert found["cap-ease"] == pytest.approx(20, abs=1e-9)
    assert found["hem-girth"] == pytest.approx(240, abs=1e-9)


def test_a_task_starts_from_what_a_plan_leaves(tmp_path: Path) -> None:
    lesson = small_lesson(tmp_path, ('title = "Open it"', 'title = "Open it"\nstart = "crossed"'))
    plain = small_lesson(tmp_path)
    assert measure(starting_pattern(lesson, lesson.tasks[0]))["bicep-girth"] == pytest.approx(350, abs=1e-8)
    assert measure(starting_pattern(plain, plain.tasks[0]))["bicep-girth"] == pytest.approx(330, abs=1e-9)


# What is changed in the small lesson, the text whose line is named, and what the fault must say.
TITLE = 'title = "A small lesson"\n'
BROKEN = [
    ("missing title", ('title = "A small lesson"\n', ""), "", "title: is missing; write a text"),
    ("a number for a text", ('title = "A small lesson"', "title = 3"), "title =", "title: is a number; write a text"),
    ("a text for a number", ("number = 90", 'number = "90"'), "number =", "number: is a text; write a whole number"),
    ("half a lesson", ("number = 90", "number = 9.5"), "number =", "write a whole number"),
    ("misspelt key", ("watch =", "wacth ="), "watch =", "wacth: is no key here; did you mean watch?"),
    ("key like none", (TITLE, TITLE + "count = 3\n"), "title =", "count: is no key here; there are title"),
    ("unknown key", ("[arm]\n", "[arm]\nzzz = 1\n"), "[arm]", "arm, zzz: is no key here; there are girth"),
    ("no such unit", ("number = 90", 'number = 90\nunits = "yd"'), "", '"yd" is not known; write one of cm, in, mm'),
    ("text that steers", ('of = "Odd"', 'of = "O\\u001b[2Jdd"'), "of =", "arm, of: has letters that can't be shown"),
    ("no brief", ('brief = ["Odd\'s arm is {arm} round."]', "brief = []"), "brief", "brief: is empty"),
    ("brief no list", ('brief = ["Odd\'s arm is {arm} round."]', 'brief = "x"'), "brief", "is a text, not a list"),
    ("long brief", ("Odd's arm", "arm " * 70), "brief", "has 73 words; write at most 60"),
    ("braces with no figure", ("{arm}", "{leg}"), "brief", "has {leg} in it, which is no figure"),
    ("unknown measure watched", ('"elbow-girth"]', '"elbow"]'), "watch", '"elbow" is no measure; there is elbow-girth'),
    ("no arm", ("girth = 30\n", "girth = 3\n"), "girth = 30", "arm, girth: is no arm"),
    ("length without sense", ("girth = 30\n", 'girth = "thirty"\n'), "girth = 30", '"thirty" is not a length'),
    ("length beyond belief", ("girth = 30\n", "girth = 1e9\n"), "girth = 30", "is no length"),
    ("length not a number", ("girth = 30\n", "girth = nan\n"), "girth = 30", "is no length"),
    ("length true", ("girth = 30\n", "girth = true\n"), "girth = 30", "is no length"),
    ("ambiguous length", ("girth = 30\n", 'girth = "1,250"\n'), "girth = 30", "can mean two numbers"),
    ("flexed misspelt", ("girth = 30\n", 'girth = 30\nmeasured = "bent"\n'), "girth = 30", '"bent" is not known'),
    (
        "block that can't be",
        ("cap-ease = 2", "cap-ease = 2\ncap-height = 38"),
        "[block]",
        "block: with a bicep girth of",
    ),
    ("block of contradictions", ("cap-ease = 2", "cap-ease = 2\ncap-ease-back = 1"), "cap-ease", "given together"),
    ("block measure missing", ("hem-girth = 24\n", ""), "[block]", "block, hem-girth: is missing; write a length"),
    ("no tasks", (SMALL[SMALL.index("[[tasks]]") :], ""), "", "tasks: is missing; write a list"),
    ("unknown kind of task", ('kind = "plan"', 'kind = "plane"'), 'kind = "plan"', "write one of plan, number"),
    ("no kind of task", ('kind = "plan"\n', ""), "[[tasks]]", "tasks 1, kind: is missing; write one of plan, number"),
    (
        "two hints",
        ('hints = ["one", "two", "three"]', 'hints = ["one", "two"]'),
        "hints",
        "hints: has 2 items; write 3",
    ),
    (
        "unknown solution",
        ('solution = "crossed"', 'solution = "cross"'),
        "solution",
        '"cross" is no plan of this lesson',
    ),
    ("unknown start", ('title = "Open it"', 'title = "Open it"\nstart = "x"'), "", '"x" is no plan of this lesson'),
    ("pass mark beyond", ('title = "Open it"', 'title = "Open it"\npass-mark = 80'), "", "is no pass mark"),
    ("unknown means", ('title = "Open it"', 'title = "Open it"\nmay-use = ["glue"]'), "", '"glue" is not known'),
    ("no means", ('title = "Open it"', 'title = "Open it"\nmay-use = []'), "", "may-use: is empty"),
    ("unknown kind of goal", ('kind = "reach"', 'kind = "rich"'), 'kind = "reach"', "write one of reach, keep"),
    ("key of another goal", ('kind = "keep"', 'kind = "keep"\nvalue = 3'), 'kind = "keep"', "value: is no key here"),
    ("two figures", ("value = 35\n", "value = 35\nchange = 2\n"), "[[tasks.goals]]", "gives 2 figures"),
    ("no figure", ("value = 35\n", ""), "[[tasks.goals]]", "gives no figures; give one of value"),
    ("no weight", ("weight = 2", "weight = 0"), "weight", "weight: is not above 0"),
    ("tolerance nought", ("tolerance = 0.3", "tolerance = 0"), "tolerance", "tolerance: is not above 0"),
    (
        "a length for degrees",
        ('"cap-seam"\ntolerance', '"kink"\ntolerance'),
        "",
        "kink counts in degrees; write a bare",
    ),
    (
        "unknown slash",
        ('slash = "grain", at', 'slash = "groin", at'),
        '{ slash = "grain"',
        '"groin" is no slash of this plan',
    ),
    ("unknown landmark", ('from = "crown"', 'from = "crowm"'), "slash = [", "asks for crowm, which is no place"),
    (
        "amount and for",
        ('toward = "to" }, for', 'toward = "to" }, amount = 1, for'),
        '{ slash = "grain"',
        "both amount and for",
    ),
    (
        "for no measure",
        ('for = { measure = "bicep-girth", value = 35 }', 'for = "bicep"'),
        '{ slash = "grain"',
        "no measure",
    ),
    ("asked of no plan", ('after = "crossed"', 'after = "c"'), "after", '"c" is no plan of this lesson'),
    ("not TOML", ("[arm]", "[arm"), "[arm]", "is not TOML"),
]


@pytest.mark.parametrize(("change", "at", "said"), [case[1:] for case in BROKEN], ids=[case[0] for case in BROKEN])
def test_a_broken_lesson_is_told_where_and_what(tmp_path: Path, change: tuple[str, str], at: str, said: str) -> None:
    faults = faults_of(tmp_path, change)
    assert any(said in fault for fault in faults), faults
    assert all(fault.startswith("small.toml") for fault in faults)
    if at:
        hits = [fault for fault in faults if said in fault]
        # A line put in above the one at fault moves it down by one.
        moved = change[1].count("\n") - change[0].count("\n")
        assert any(f"line {line(at) + shift}" in hit for hit in hits for shift in (0, moved)), hits


def test_faults_of_the_keys_are_told_all_at_once(tmp_path: Path) -> None:
    faults = faults_of(
        tmp_path,
        ("number = 90", 'number = "x"'),
        ("girth = 30\n", 'girth = "x"\n'),
        ("cap-ease = 2", "cap-eese = 2"),
        ('kind = "keep"', 'kind = "kept"'),
        ('tolerance = "1/4 in"', 'tolerance = "1/0 in"'),
    )
    assert len(faults) == 5


def test_faults_of_the_sense_are_told_all_at_once(tmp_path: Path) -> None:
    faults = faults_of(
        tmp_path,
        ("{arm}", "{leg}"),
        ('"elbow-girth"]', '"elbow"]'),
        ("weight = 2", "weight = -2"),
        ('of = "cap-height"', 'of = "cap"'),
    )
    assert len(faults) == 4


def test_reading_raises_all_faults_together(tmp_path: Path) -> None:
    path = written(tmp_path, SMALL.replace("number = 90", 'number = "x"').replace("girth = 30\n", "girth = []\n"))
    with pytest.raises(LessonFaults) as raised:
        read_lesson(path)
    assert [str(fault) for fault in raised.value.faults] == [str(fault) for fault in check_lesson(path)]
    assert len(raised.value.faults) == 2


@given(st.integers(0, len(SMALL)), st.text(max_size=20))
def test_no_file_ends_in_anything_but_faults(tmp_path_factory: pytest.TempPathFactory, at: int, noise: str) -> None:
    path = tmp_path_factory.mktemp("lesson") / "noise.toml"
    path.write_bytes((SMALL[:at] + noise + SMALL[at:]).encode("utf-8", "surrogatepass"))
    for fault in check_lesson(path):
        assert str(fault).startswith("noise.toml")
        assert str(fault).isprintable()


@pytest.mark.parametrize(
    "value",
    ["9" * 4000, "[" * 3000, "{ a = 1 }", "1979-05-27", "inf", "-1", '"""\n"""', "[[[]]]", "0x7fffffffffffffffff"],
)
def test_strange_values_are_faults_anywhere(tmp_path: Path, value: str) -> None:
    for key in ("girth = 30", "number = 90", "tolerance = 0.3", "weight = 2"):
        assert faults_of(tmp_path, (key, f"{key.split(' = ')[0]} = {value}"))


@pytest.mark.parametrize("path", ["none.toml", ".", "a\0b.toml"])
def test_what_is_no_file_is_a_fault(tmp_path: Path, path: str) -> None:
    with pytest.raises(Fault):
        read_lesson(tmp_path / path)


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    (fault,) = check_lesson(written(tmp_path, "# " + "x" * 300_000))
    assert "256 KB" in str(fault)


def test_lessons_are_found_by_number_name_words_and_path(tmp_path: Path) -> None:
    four = find_lesson("4")
    assert four.number == 4
    assert find_lesson(four.name) is four
    assert find_lesson(four.title.upper()) is four
    assert find_lesson("trading ease").number == 5
    assert find_lesson(str(written(tmp_path, SMALL))).number == 90


@pytest.mark.parametrize("wanted", ["room", "99", "", "no such lesson"])
def test_what_fits_no_lesson_or_several_is_a_fault(wanted: str) -> None:
    with pytest.raises(Fault, match="lesson"):
        find_lesson(wanted)


def test_lessons_come_by_number() -> None:
    numbers = [lesson.number for lesson in own_lessons()]
    assert numbers == sorted(numbers)
    assert {4, 5, 6, 7} <= set(numbers)


HEADED = """\
[[plans.crossed.slash]]
name = "grain"
from = "crown"
to = "grain-hem"
hinge = ["from", "to"]

[[plans.crossed.slash]]
name = "bicep"
from = "underarm-back"
to = "underarm-front"
hinge = [
  "from",
  "to",
]

[[plans.crossed.opening]]
slash = "grain"
at = { crosses = "bicep", toward = "to" }
for = { measure = "bicep-girth", value = 35 }
"""
"""The small lesson's plan with its keys on lines of their own."""


@pytest.mark.parametrize("headed", [False, True])
@pytest.mark.parametrize(
    ("key", "after", "misspelt", "said"),
    [
        ("name", 1, "nam", 'slash 2: "nam" is no key known here'),
        ("hinge", 1, "hing", 'slash 2: "hing" is no key known here'),
        ("toward", 0, "towards", 'opening 1, at: "towards" is no key known here'),
        ("value", 0, "valu", "opening 1, for, valu: is no key here; did you mean value?"),
    ],
)
def test_a_misspelt_key_of_a_plan_is_told_on_its_own_line(
    tmp_path: Path, headed: bool, key: str, after: int, misspelt: str, said: str
) -> None:
    start, end = SMALL.index("[plans.crossed]"), SMALL.index("[[tasks]]")
    plan = HEADED if headed else SMALL[start:end]
    found = [match.start() for match in re.finditer(rf"\b{key} = ", plan)][after]
    text = SMALL[:start] + plan[:found] + misspelt + plan[found + len(key) :] + "\n" + SMALL[end:]
    hits = [str(fault) for fault in check_lesson(written(tmp_path, text)) if said in str(fault)]
    number = next(k for k, each in enumerate(text.splitlines(), 1) if f"{misspelt} = " in each)
    assert hits
    assert hits[0].startswith(f"small.toml: line {number}, plans, crossed, {said}")
