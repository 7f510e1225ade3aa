"""Broken and hostile lesson files: every fault named at its place, all at once, and nothing done but reading."""

from __future__ import annotations

import contextlib
import os
import unicodedata
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import CHOICES, PLACES, SMALL

from tutor.cli import main
from tutor.lesson.reading import check_lesson

Ran = tuple[int, list[str]]
Change = tuple[str, str]
LONGEST_LINE = 700


@pytest.fixture
def checked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    """Checks a file by the command, in a folder of its own: the exit status and the lines."""
    monkeypatch.chdir(tmp_path)

    def run(content: str | bytes) -> Ran:
        path = Path("broken.toml")
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        capsys.readouterr()
        status = main(["lessons", "check", "broken.toml"])
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        assert "fault of the program" not in out + err
        assert sorted(os.listdir()) == ["broken.toml"]
        lines = [line for line in (out + err).splitlines() if not line.endswith("right")]
        assert all(line.isprintable() and len(line) <= LONGEST_LINE for line in lines)
        assert not {unicodedata.category(letter) for line in lines for letter in line} & {"Cc", "Cf", "Cs", "Zl"}
        return status, lines

    return run


def changed(text: str, *changes: Change) -> str:
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def line(text: str, part: str) -> int:
    """The line on which a part of a text first stands, counted from 1."""
    return next(k for k, each in enumerate(text.splitlines(), 1) if part in each)


# The text that is broken, what is changed in it, the part whose line is named, the keys, and what is said.
FAULTS: dict[str, tuple[str, Change, str, str, str]] = {
    "no title": (SMALL, ('title = "A small lesson"', 'title = "  "'), "title", "title", "is empty; write"),
    "a lesson numbered nought": (SMALL, ("number = 90", "number = 0"), "number", "number", "write 1 to"),
    "a version below one": (SMALL, ("number = 90", "number = 90\nversion = 0"), "version", "version", "write 1 to"),
    "built on itself": (SMALL, ("number = 90", "number = 90\nafter = [90]"), "after", "after 1", "is no other lesson"),
    "built on what it is": (
        SMALL,
        ("number = 90", "number = 90\nafter = [90]"),
        "after",
        "after 1",
        "90 is this lesson",
    ),
    "a brace that is not closed": (
        SMALL,
        ('ask = "To {arm and ease}."', 'ask = "To {arm and ease?"'),
        'ask = "To',
        "tasks 1, ask",
        "a brace without its other half: {arm and ease?",
    ),
    "a brace that is not opened": (
        SMALL,
        ('"one", "two"', '"one", "half of arm}"'),
        'hints = ["one", "half',
        "tasks 1, hints 2",
        "a brace without its other half: }",
    ),
    "an amount of no plan": (
        SMALL,
        ('ask = "How high is the cap then?"', 'ask = "How high is the cap, opened {crosed opening 1}?"'),
        'ask = "How high',
        "tasks 2, ask",
        "or {goal 1}, {crossed opening 1}, {crossed for 1}",
    ),
    "built on a name": (
        SMALL,
        ("number = 90", 'number = 90\nafter = ["Width"]'),
        "after",
        "after 1",
        "write a whole number",
    ),
    "a giant's arm": (SMALL, ("girth = 30\n", "girth = 300\n"), "girth = 300", "arm, girth", "write 8 to 100 cm"),
    "ease that eats the arm": (SMALL, ("wearing-ease = 5", "wearing-ease = -31"), "wearing", "wearing-ease", "leaves"),
    "a wrist of nothing": (SMALL, ("girth = 30\n", "girth = 30\nwrist = 0.1\n"), "wrist", "arm, wrist", "is no wrist"),
    "cloth of rubber": (SMALL, ("girth = 30\n", "girth = 30\nstretch = 900\n"), "stretch", "arm, stretch", "up to 200"),
    "a cloth unknown": (SMALL, ("girth = 30\n", 'girth = 30\ncloth = "tin"\n'), "cloth", "arm, cloth", "one of woven"),
    "an armhole of metres": (
        SMALL,
        ("armhole-front = 21.5", "armhole-front = 215"),
        "armhole-front",
        "block, armhole-front",
        "",
    ),
    "a hem too wide for its sleeve": (
        SMALL,
        ("hem-girth = 24", "hem-girth = 150"),
        "hem-girth",
        "block, hem-girth",
        "",
    ),
    "a sleeve shorter than its cap": (
        SMALL,
        ("sleeve-length = 59", "sleeve-length = 12"),
        "sleeve-length",
        "block, sleeve-length",
        "",
    ),
    "a span that runs down": (
        CHOICES,
        ("room = [2.4, 3.6]", "room = [3.6, 2.4]"),
        "room",
        "vary, room",
        "write [low, high]",
    ),
    "a span of three": (CHOICES, ("room = [2.4, 3.6]", "room = [1, 2, 3]"), "room", "vary, room", "write 2"),
    "a variant of no plan": (
        CHOICES,
        ("room = [2.4, 3.6]", "plans = { none = [0.8, 1.2] }"),
        "plans = {",
        "vary, plans, none",
        "is no plan of this lesson",
    ),
    "a variant of no goal": (
        CHOICES,
        ("room = [2.4, 3.6]", "goals = { kink = [0.8, 1.2] }"),
        "goals = {",
        "vary, goals, kink",
        "no figure is written",
    ),
    "a text that does not vary with its plan": (
        SMALL,
        ("[plans.crossed]", "[vary]\nplans = { crossed = [0.8, 1.2] }\n\n[plans.crossed]"),
        'ask = "How high is the cap then?"',
        "tasks 2, ask",
        "write it as {crossed opening 1}",
    ),
    "a text that does not vary with its goal": (
        SMALL,
        ("[plans.crossed]", "[vary]\ngoals = { bicep-girth = [0.9, 1.1] }\n\n[plans.crossed]"),
        'ask = "To {arm and ease}."',
        "tasks 1, ask",
        "write it as {goal 1}",
    ),
    "a plan named as something else": (SMALL, ("[plans.crossed]", "[plans.arm]"), "[plans.arm]", "plans, arm", "mean"),
    "a hint left out": (
        SMALL,
        ('hints = ["one", "two", "three"]', 'hints = ["one"]'),
        'hints = ["one"]',
        "hints",
        "write 3",
    ),
    "a goal without a measure": (
        SMALL,
        ('kind = "keep"\nmeasure = "cap-seam"\n', 'kind = "keep"\n'),
        'kind = "keep"',
        "tasks 1, goals 2, measure",
        "is missing; write a text",
    ),
    "an option that is no plan": (
        CHOICES,
        ('plan = "lifted", title', 'plan = "liftet", title'),
        '"liftet"',
        "tasks 1, options 2, plan",
        "is no plan of this lesson",
    ),
    "an option without a title": (
        CHOICES,
        ('{ plan = "wedge", title = "One wedge, hinged at the crown" }', '{ plan = "wedge" }'),
        '{ plan = "wedge" }',
        "tasks 1, options 3, title",
        "is missing; write a text",
    ),
    "a place that is none": (PLACES, ('place = "crown"', 'place = "crow"'), 'place = "crow"', "tasks 1, place", ""),
    "a place on no seam": (
        PLACES,
        ('place = "crown"', 'place = { seam = "cap", distance = 3, from = "crown" }'),
        "place = {",
        "tasks 1, place",
        "",
    ),
    "a place on the paper": (PLACES, ('place = "crown"', "place = { x = 0, y = 0 }"), "place = {", "place", "edge"),
}


@pytest.mark.parametrize("case", FAULTS)
def test_a_fault_is_named_at_its_place(case: str, checked: Callable[..., Ran]) -> None:
    text, change, part, keys, said = FAULTS[case]
    broken = changed(text, change)
    status, lines = checked(broken)
    assert status == 1
    hits = [each for each in lines if keys in each and said in each]
    assert hits, lines
    assert hits[0].startswith("broken.toml: ")
    assert f"line {line(broken, part)}" in hits[0] or "tasks" in keys, hits
    assert ";" in hits[0], "what would be right is said as well"


MANY = (
    ('title = "A small lesson"\n', ""),
    ("number = 90", 'number = "ninety"'),
    ("{arm}", "{leg}"),
    ("girth = 30\n", "girth = 3\n"),
    ("cap-ease = 2", "cap-eese = 2"),
    ('slash = "grain", at', 'slash = "groin", at'),
    ("weight = 2", "weight = -2"),
    ('of = "cap-height"', 'of = "cap"'),
    ('tolerance = "1/4 in"', 'tolerance = "1/0 in"'),
)
TOLD = (
    "title: is missing",
    "number: is a text",
    "{leg}",
    "arm, girth: is no arm",
    "block, cap-eese: is no key here",
    '"groin" is no slash',
    "weight: is not above 0",
    'of: "cap" is no measure',
    "tasks 2, tolerance",
)


def test_faults_of_every_sort_are_told_at_once(checked: Callable[..., Ran]) -> None:
    status, lines = checked(changed(SMALL, *MANY))
    assert status == 1
    for said in TOLD:
        assert sum(said in each for each in lines) == 1, said
    assert len(lines) == len(TOLD)


@given(st.sets(st.sampled_from(range(len(MANY))), min_size=1))
def test_no_fault_hides_another(tmp_path_factory: pytest.TempPathFactory, chosen: set[int]) -> None:
    path = tmp_path_factory.mktemp("lesson") / "broken.toml"
    path.write_text(changed(SMALL, *(MANY[k] for k in sorted(chosen))), encoding="utf-8")
    lines = [str(fault) for fault in check_lesson(path)]
    assert sorted(k for k, said in enumerate(TOLD) if any(said in each for each in lines)) == sorted(chosen)
    assert len(lines) == len(chosen)


def test_files_are_checked_together_wherever_options_stand(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("one.toml").write_text(changed(SMALL, ("number = 90", "number = 0")))
    Path("two.toml").write_text(changed(SMALL, ("weight = 2", "weight = 0")))
    Path("good.toml").write_text(SMALL)
    for words in (["one.toml", "two.toml", "good.toml", "--seeds", "0"], ["--seeds", "0", "one.toml", "two.toml", "."]):
        assert main(["lessons", "check", *words]) == 1
        out = capsys.readouterr().out
        assert "one.toml: line 2, number" in out
        assert "two.toml: line" in out
        assert "good.toml" not in out


# What is changed in the small lesson, the part on whose line it shows, and what is said.
NOT_TOML: dict[str, tuple[Change, str, str]] = {
    "a list not closed": (('"two", "three"]', '"two", "three"'), "[[tasks.goals]]", "a list is not closed"),
    "a list not closed before a key": (('is {arm} round."]', 'is {arm} round.",'), "watch =", "] at the end"),
    "no comma in a list": (('"one", "two"', '"one" "two"'), 'hints = ["one" "two"', "lacks a comma"),
    "texts without brackets": (
        ('hints = ["one", "two", "three"]', 'hints = "one", "two", "three"'),
        'hints = "one"',
        'write a list, as in ["one", "two"]',
    ),
    "texts on lines of their own": (
        ('brief = ["Odd', 'brief = "Odd"\n"Odd'),
        "\"Odd's",
        "a text that belongs to no key",
    ),
    "a comma for a point": (("tolerance = 0.3", "tolerance = 0,3"), "tolerance = 0,3", "write a point, as in 0.3"),
    "a comma for a point in braces": (("value = 35 }", "value = 35,5 }"), "value = 35,5", "write a point"),
    "curly quotation marks": (('"Open it"', "\u201cOpen it\u201d"), "title = \u201cOpen", "write straight ones"),
    "marks inside a text": (('"Open it"', '"Open "it" up"'), 'title = "Open', "quotation marks inside a text"),
    "a length without marks": (("girth = 30\n", "girth = 30 cm\n"), "girth = 30 cm", 'write it as in girth = "30 cm"'),
    "a key twice": (("wearing-ease = 5", "wearing-ease = 5\nwearing-ease = 5"), "", "wearing-ease stands twice"),
    "a table twice": (("[block]", "[arm]\n[block]"), "", "arm stands twice"),
}


@pytest.mark.parametrize("case", NOT_TOML)
def test_what_is_no_toml_is_told_in_words_that_help(case: str, checked: Callable[..., Ran]) -> None:
    change, part, said = NOT_TOML[case]
    broken = changed(SMALL, change)
    status, lines = checked(broken)
    assert status in (1, 2)
    hits = [each for each in lines if each.startswith("broken.toml: line ")]
    assert len(hits) == 1, lines
    assert said in hits[0]
    assert f"line {line(broken, part)}," in hits[0] or not part, hits


def test_an_alteration_gone_on_from_is_named_as_a_start_as_well(checked: Callable[..., Ran]) -> None:
    """Where the learner's own work can't be gone on from, the task would start from the block."""
    onward = SMALL[SMALL.index("[[tasks]]") :]
    onward = onward[: onward.index("[[tasks]]", 5)]
    onward = onward.replace('title = "Open it"', 'title = "Open it again"\ngoes-on-from = 1')
    status, lines = checked(SMALL + "\n" + onward)
    assert status == 1
    assert any("tasks 3, start: goes on from task 1" in each and 'write start = "crossed"' in each for each in lines)


# What is changed, what is said once, and what must not be said at all.
TRIED: dict[str, tuple[str, Change, str, str]] = {
    "a figure that the solution does not come to": (
        SMALL,
        ("value = 35\ntolerance = 0.3", "value = 37\ntolerance = 0.3"),
        "tasks 1: the worked solution gets 33.3 of 100: goal 1, reach: the bicep girth is 35.0 cm, wanted is"
        " 37.0 cm, within 0.3 cm; mend that goal, or the plan crossed",
        ".;",
    ),
    "means forgotten": (
        SMALL,
        ('solution = "crossed"', 'solution = "crossed"\nmay-use = ["set-back"]'),
        'tasks 1: its worked solution crossed needs "slashes", which the task does not allow; add "slashes" to may-use',
        "mend the plan",
    ),
    "a plan that is held shut": (
        SMALL,
        ('at = { crosses = "bicep", toward = "to" }', "at = 1.0"),
        "tasks 1: its worked solution can't be made: plan crossed: can't be worked out",
        "the lesson needs mending",
    ),
    "a mistake misspelt": (
        SMALL,
        ('of = "cap-height"', 'of = "cap-height"\nunnamed = ["cut-lines"]'),
        'tasks 2, unnamed: "cut-lines" is no usual mistake; did you mean cut-line?',
        "there are",
    ),
    "two right ones": (
        CHOICES,
        ('measure = "cap-seam"\ntolerance = 0.3', 'measure = "hem-girth"\ntolerance = 0.3'),
        "tasks 1: 2 of its options are right, where one should be: crossed is right, lifted ",
        "say in apart",
    ),
}


@pytest.mark.parametrize("case", TRIED)
def test_what_shows_when_a_lesson_is_tried_out_is_told_once_and_in_full(case: str, checked: Callable[..., Ran]) -> None:
    text, change, said, unsaid = TRIED[case]
    status, lines = checked(changed(text, change))
    assert status == 1
    assert sum(said in each for each in lines) == 1, lines
    assert not any(unsaid in each for each in lines if said in each)
    assert not any(", in in" in each for each in lines)


def test_goals_that_the_block_meets_are_called_so_and_nothing_else_is_said(checked: Callable[..., Ran]) -> None:
    """Nothing is to be opened, so that all mistakes come to the same: none of them is worth a line."""
    easy = changed(
        SMALL, ("value = 35\ntolerance = 0.3", "value = 33\ntolerance = 0.3"), ("value = 35 }", "value = 33 }")
    )
    status, lines = checked(easy)
    assert status == 1
    about = [each for each in lines if "tasks 1" in each]
    assert about == ["broken: tasks 1: the pattern meets these goals as it lies; ask for something that it lacks"]


def test_a_lesson_has_a_number_of_its_own_and_builds_on_lessons_that_there_are(checked: Callable[..., Ran]) -> None:
    assert checked(changed(SMALL, ("number = 90", "number = 90\nafter = [3, 4]"))) == (0, [])
    status, lines = checked(changed(SMALL, ("number = 90", "number = 4\nafter = [3, 77]")))
    assert status == 1
    assert len(lines) == 2
    assert "broken.toml: line 2, number: 4 is the lesson " in lines[0]
    assert "broken.toml: line 3, after 2: 77 is no lesson that there is; there are 1-28" in lines[1]


def test_a_lesson_of_ones_own_is_found_by_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SLEEVE_TUTOR_DATA", str(tmp_path / "kept"))
    monkeypatch.chdir(tmp_path)
    assert main(["lessons", "new", "mine"]) == 0
    mine = tmp_path / "kept" / "lessons" / "mine.toml"
    assert main(["lessons", "check", str(mine)]) == 0
    assert main(["lessons", "new", "other"]) == 0
    mine.write_text(mine.read_text().replace("after = [4]", "after = [77]"))
    assert main(["lessons", "check", str(mine)]) == 1
    assert "after 1: 77 is no lesson that there is; there are 1-28, 102" in capsys.readouterr().out
    assert main(["lessons", "check", "mine"]) == 2
    assert f"your lesson of that name is {tmp_path / 'kept' / 'lessons' / 'mine.toml'}" in capsys.readouterr().err


TEXT = 'brief = ["Odd\'s arm is {arm} round."]'
HOSTILE: dict[str, tuple[str | bytes, str]] = {
    "not text": (b"\xff\xfe\x00", "not UTF-8"),
    "a null": (b"\0", "not TOML"),
    "nothing": ("", "is missing"),
    "a program": ("import os; os.system('touch owned')", "not TOML"),
    "a key that runs something": (SMALL + '\n[run]\ncommand = "touch owned"\n', "run: is no key"),
    "code for a text": (changed(SMALL, ("{arm}", "{__import__('os').system('touch owned')}")), "is no figure"),
    "an attribute in braces": (changed(SMALL, ("{arm}", "{arm.__class__.__mro__}")), "is no figure"),
    "an index in braces": (changed(SMALL, ("{arm}", "{0[0]}")), "is no figure"),
    "a format in braces": (changed(SMALL, ("{arm}", "{arm!r:>99999999}")), "is no figure"),
    "code for a length": (changed(SMALL, ("girth = 30\n", 'girth = "2**9999"\n')), "is not a length"),
    "a sum for a length": (changed(SMALL, ("girth = 30\n", 'girth = "15+15 cm"\n')), "is not a length"),
    "a path for a plan": (changed(SMALL, ('solution = "crossed"', 'solution = "../../plan.toml"')), "is no plan"),
    "a path for a start": (
        changed(SMALL, ('title = "Open it"', 'title = "Open it"\nstart = "/etc/passwd"')),
        "is no plan",
    ),
    "a path for a unit": (changed(SMALL, ("number = 90", 'number = 90\nunits = "/etc/passwd"')), "write one of cm"),
    "a file to be read in": (changed(SMALL, ("number = 90", 'number = 90\ninclude = "../secret.toml"')), "include"),
    "a picture from elsewhere": (
        changed(SMALL, ("number = 90", 'number = 90\nimage = "https://example.org/x.svg"')),
        "image",
    ),
    "a block from a file": (changed(SMALL, ("[block]\n", '[block]\npattern = "../block.svg"\n')), "pattern"),
    "an escape sequence in a title": (changed(SMALL, ("A small lesson", "\\u001b[2J\\u009b31m")), "can't be shown"),
    "an escape sequence in a hint": (changed(SMALL, ('"two"', '"\\u001b]0;owned\\u0007"')), "can't be shown"),
    "an escape sequence as a key": ('"\\u001b[2J" = 1\n' + SMALL, "\\x1b[2J"),
    "an escape sequence as a plan": (changed(SMALL, ("[plans.crossed]", '[plans."\\u001b[2J"]')), "plans"),
    "text that runs backwards": (changed(SMALL, ("A small lesson", "a\\u202eb")), "can't be shown"),
    "a line separator": (changed(SMALL, ("A small lesson", "a\\u2028b")), "can't be shown"),
    "a title of a hundred thousand letters": (changed(SMALL, ("A small lesson", "x" * 100_000)), "title"),
    "a brief of a hundred paragraphs": (changed(SMALL, (TEXT, "brief = [" + '"a", ' * 100 + "]")), "brief"),
    "not a number": (changed(SMALL, ("tolerance = 0.3", "tolerance = nan")), "tolerance"),
    "infinity": (changed(SMALL, ("weight = 2", "weight = inf")), "weight"),
    "a number that overflows": (changed(SMALL, ("weight = 2", "weight = 1e999")), "weight"),
    "five thousand figures": (changed(SMALL, ("number = 90", f"number = {'9' * 5000}")), "figures"),
    "four thousand figures": (changed(SMALL, ("girth = 30\n", f"girth = {'9' * 4000}\n")), "girth"),
    "a negative lesson": (changed(SMALL, ("number = 90", "number = -9223372036854775808")), "number"),
    "deep lists": (SMALL + "\nx = " + "[" * 50_000, "nested"),
    "deep tables": (SMALL + "\nx = " + "{ a = " * 20_000, "nested"),
    "a long dotted key": ("a" + ".a" * 50_000 + " = 1", "32 parts"),
    "over a quarter of a megabyte": ("#" * 300_000, "over 256 KB"),
    "a thousand tasks": (SMALL + '[[tasks]]\nkind = "plan"\n' * 1000, "tasks"),
    "the same key twice": ("number = 1\n" + SMALL, "not TOML"),
    "a pattern for a lesson": ('<svg xmlns="http://www.w3.org/2000/svg"/>', "not TOML"),
}


@pytest.mark.parametrize("case", HOSTILE)
def test_a_hostile_file_is_only_read(case: str, checked: Callable[..., Ran]) -> None:
    content, named = HOSTILE[case]
    status, lines = checked(content)
    assert status in (1, 2)
    assert any(named in each for each in lines), lines[:3]
    assert main(["learn", "broken.toml", "--plain"]) == 2


@pytest.mark.parametrize("target", ["/dev/zero", "/dev/stdin", "/etc/passwd", "loop.toml", "nowhere.toml"])
def test_a_link_leads_to_nothing_but_what_can_be_read_as_a_lesson(
    target: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("loop.toml").symlink_to(target)
    monkeypatch.setattr("sys.stdin", None)
    with contextlib.suppress(OSError):
        assert main(["lessons", "check", "loop.toml"]) in (1, 2)
    out, err = capsys.readouterr()
    said = out + err
    assert "loop.toml" in said
    assert "root:" not in said, "nothing of another file is shown"
    assert len(said) < 3 * LONGEST_LINE
