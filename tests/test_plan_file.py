"""Plans in TOML: every word of the format, every fault, and back again."""

import math
import re
import textwrap
import tomllib
from pathlib import Path

import pytest
from blocks import crossed, pattern, sound_plans, symmetric, wild_plans
from hypothesis import given
from hypothesis import strategies as st
from plan_text import write_plan

from tutor.alteration import plan_file as module
from tutor.alteration.alter import alter
from tutor.alteration.outline import whole
from tutor.alteration.plan import Along, Answer, At, Landmark, OnSlash, Opening, Place, Plan, Share, Slash
from tutor.alteration.plan_aims import Aim
from tutor.alteration.plan_faults import PlanFaults
from tutor.alteration.plan_file import MOST_SLASHES, PlanFile, read_plan, solved
from tutor.alteration.plan_places import SEAM_ENDS
from tutor.alteration.reach import OpeningAmount
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.pattern.pattern import Pattern

GRAIN = '[[slash]]\nname = "grain"\nfrom = "crown"\nto = "grain-hem"\n'


def plan(text: str) -> Plan:
    return read_plan(textwrap.dedent(text).encode()).plan


def told(text: str, fault: str) -> str:
    """What a fault says, without its line: that is to be the one on which the key stands that it is about."""
    found = re.fullmatch(r"plan\.toml: line (\d+)(?:, |: )(.+)", fault, re.DOTALL)
    assert found is not None
    number, said = found.groups()
    unknown = re.search(r'"(\w+)" is no key known here', said)
    key = unknown[1] if unknown else re.findall(r"[a-z][a-z-]*", said.partition(": ")[0])[-1]
    line = textwrap.dedent(text).split("\n")[int(number) - 1]
    assert key in line or key not in text, (key, line)
    return said


def faults(text: str) -> list[str]:
    """All faults of a plan, as lines."""
    with pytest.raises(Fault) as caught:
        read_plan(textwrap.dedent(text).encode(), "plan.toml")
    return [str(fault) for fault in getattr(caught.value, "faults", (caught.value,))]


def place(text: str, before: str = "") -> Place:
    """The place at which a slash begins that is written with this ``from``."""
    read = plan(f'{before}\n[[slash]]\nname = "a"\nfrom = {text}\nto = "hem-back"\n{GRAIN}')
    return read.slashes[0].start


def amount(text: str, units: str = "") -> float:
    """The opening written with this ``amount``, mm."""
    head = f'units = "{units}"\n' if units else ""
    return plan(f'{head}{GRAIN}[[opening]]\nslash = "grain"\nat = "from"\namount = {text}\n').openings[0].amount


def test_the_format_as_documented_is_read() -> None:
    assert module.__doc__ is not None
    example = "\n".join(line[4:] for line in module.__doc__.splitlines() if line.startswith("    "))
    read = read_plan(example.encode())
    assert read.plan == Plan(
        (
            Slash("grain", Landmark("crown"), Landmark("grain-hem"), True, True),
            Slash("bicep", Landmark("underarm-back"), Landmark("underarm-front"), True, True),
        ),
        (Opening("grain", 0.0, where="bicep", toward="end"), Opening("grain", 0.0, share=0.0)),
        front=Answer(8.0, 8.0),
        title="Crossed slashes, crown closed",
    )
    assert read.aims == (Aim(OpeningAmount(0), "bicep-girth", change=30.0),)


def test_an_empty_file_is_a_plan_that_does_nothing() -> None:
    assert read_plan(b"") == PlanFile(Plan())


def test_a_file_is_read_by_its_path(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text(GRAIN, encoding="utf-8")
    assert [slash.name for slash in read_plan(path).plan.slashes] == ["grain"]


def test_windows_line_ends_and_byte_order_mark_are_read() -> None:
    text = b"\xef\xbb\xbf" + GRAIN.replace("\n", "\r\n").encode()
    assert read_plan(text) == read_plan(GRAIN.encode())


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('"notch-front"', Landmark("notch-front")),
        ('{ seam = "cap-back", distance = "6 cm", from = "crown" }', Along("cap-back", 60.0, from_end=True)),
        ('{ seam = "cap-back", distance = "6 cm", from = "underarm-back" }', Along("cap-back", 60.0)),
        ('{ seam = "cap-front", distance = 0, from = "crown" }', Along("cap-front", 0.0)),
        ('{ seam = "hem", share = 0.5 }', Share("hem", 0.5)),
        ('{ seam = "hem", share = 0.25, from = "hem-front" }', Share("hem", 0.25)),
        ('{ seam = "hem", share = 0.25, from = "hem-back" }', Share("hem", 0.75)),
        ('{ seam = "underarm-back", share = 1, from = "hem-back" }', Share("underarm-back", 1.0)),
        ('{ slash = "grain", share = 0.4 }', OnSlash("grain", 0.4)),
        ('{ x = "-3 cm", y = "20 mm" }', At(complex(-30, 20))),
        ('{ x = 0, y = "-1/2 in" }', At(complex(0, -12.7))),
    ],
)
def test_every_kind_of_place(text: str, expected: Place) -> None:
    assert place(text) == expected


def test_the_bicep_line_is_a_seam_once_the_cap_is_off() -> None:
    written = '{ seam = "bicep-line", distance = "5 cm", from = "underarm-front" }'
    assert place(written, "set-back = true") == Along("bicep-line", 50.0, from_end=True)


@pytest.mark.parametrize("seam", SEAM_ENDS)
def test_distances_are_measured_from_the_landmark_they_name(seam: str) -> None:
    sleeve = symmetric()
    ends = SEAM_ENDS[seam]
    if seam == "bicep-line":
        assert (sleeve.landmarks()[ends[0]], sleeve.landmarks()[ends[1]]) == (
            sleeve.underarm_point_back,
            sleeve.underarm_point_front,
        )
    else:
        curve = sleeve.seam(seam)
        assert (sleeve.landmarks()[ends[0]], sleeve.landmarks()[ends[1]]) == (curve.start, curve.end)


@pytest.mark.parametrize(
    ("text", "hinges"),
    [
        ("", (False, False)),
        ("hinge = []", (False, False)),
        ('hinge = "from"', (True, False)),
        ('hinge = "to"', (False, True)),
        ('hinge = ["to"]', (False, True)),
        ('hinge = ["to", "from"]', (True, True)),
    ],
)
def test_hinges(text: str, hinges: tuple[bool, bool]) -> None:
    (slash,) = plan(GRAIN + text).slashes
    assert (slash.start_hinge, slash.end_hinge) == hinges


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('"from"', Opening("grain", 10.0, share=0.0)),
        ('"to"', Opening("grain", 10.0, share=1.0)),
        ("0.3", Opening("grain", 10.0, share=0.3)),
        ('{ crosses = "b" }', Opening("grain", 10.0, where="b")),
        ('{ crosses = "b", toward = "to" }', Opening("grain", 10.0, where="b", toward="end")),
        ('{ crosses = "b", toward = "from" }', Opening("grain", 10.0, where="b", toward="start")),
    ],
)
def test_places_of_openings(text: str, expected: Opening) -> None:
    other = '[[slash]]\nname = "b"\nfrom = "underarm-back"\nto = "underarm-front"\n'
    opening = f'[[opening]]\nslash = "grain"\nat = {text}\namount = "1 cm"\n'
    assert plan(GRAIN + other + opening).openings == (expected,)


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [
        ("3", "cm", 30.0),
        ("2.3", "cm", 23.0),
        ("0.1", "cm", 1.0),
        ("-1.5", "in", -38.1),
        ('"1 1/8"', "in", 28.575),
        ('"1 1/8 in"', "cm", 28.575),
        ('"-8 mm"', "", -8.0),
        ("7", "mm", 7.0),
        ("0", "", 0.0),
        ("999", "cm", 9990.0),
    ],
)
def test_lengths(text: str, units: str, mm: float) -> None:
    """An inch is 25.4 mm exactly, by the international yard and pound agreement of 1959."""
    assert amount(text, units) == mm


FAULTS = [
    ('units = "furlong"', 'units: "furlong" is no unit known here; write "mm", "cm" or "in"'),
    ("units = 3", "units: is a whole number; write text in quotes"),
    ("set-back = 1", "set-back: is a whole number; write true or false"),
    (
        "slashes = 3",
        '"slashes" is no key known here; the keys are title, units, set-back, slash, opening,'
        " seam, cap-raise, pitch, crown-forward, shoulder, armhole",
    ),
    ("pitch = true", "pitch: is true or false; write a number or text in quotes or a table"),
    ('seam.back.bicep = "wide"', 'seam.back.bicep: "wide" is not a length'),
    ("seam.back.cap = 1", 'seam.back: "cap" is no key known here; the keys are bicep, elbow, hem, up'),
    ("shoulder = 3", "shoulder: is a whole number; write a table"),
    ('pitch = { amount = 1, for = { measure = "cap-ease", change = 0 } }', 'pitch: "amount" is no key known here; the'),
    ("pitch = {}", "pitch: for is missing; write it"),
    ("pitch = { for = 3 }", "pitch, for: is a whole number; write a table"),
    ('pitch = { for = { measure = "gap", value = 1 } }', 'pitch, for, measure: "gap" is no measure that an amount can'),
    ("cap-raise = 20000", "cap-raise: a number that large is no length of a sleeve"),
    ("cap-raise = 2", 'cap-raise: 2 has no unit; write its unit, or units = "cm"'),
    (
        'armhole.back = { widen = "1 cm", for = { measure = "armhole", change = "1 cm" } }',
        "armhole.back: gives amounts, and says what they are for; give one or the other",
    ),
    (
        'armhole.back = { for = { measure = "armhole", change = "1 cm" }, width-share = 2 }',
        "armhole.back.width-share: 2",
    ),
    ("slash = 3", "slash: is a whole number; write a list"),
    ('[slash]\nname = "a"', "slash: is a table; write a list"),
    ('title = "a\\u001b[31m"', "title: has letters that can't be shown; write one line of plain text"),
    ('[[slash]]\nfrom = "crown"\nto = "hem-back"', "slash 1: name is missing; write it"),
    (
        '[[slash]]\nname = 3\nfrom = "crown"\nto = "hem-back"',
        "slash 1, name: is a whole number; write text in quotes",
    ),
    (GRAIN.replace('"grain"', '""'), "slash 1, name: is empty; write a name"),
    (GRAIN.replace('"grain"', f'"{"g" * 41}"'), "slash 1, name: has 41 letters; 40 are the most"),
    (
        GRAIN + "\n\n" + GRAIN.replace("crown", "notch-front"),
        'slash 2, name: "grain" is the name of an earlier slash; give each slash its own',
    ),
    (GRAIN.replace("grain-hem", "crown"), "slash 1, to: is the place where the slash begins; lead it to"),
    (GRAIN + 'hinge = "bottom"', 'slash 1, hinge: names no end of a slash; write "from", "to" or'),
    (GRAIN + "hinge = true", "slash 1, hinge: is true or false; write text in quotes or a list"),
    (GRAIN + 'end = "crown"', 'slash 1: "end" is no key known here; the keys are name, from, to, hinge'),
]


@pytest.mark.parametrize(("text", "line"), FAULTS)
def test_faults(text: str, line: str) -> None:
    (found,) = faults(text)
    assert told(text, found).startswith(line)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("3", "from: is a whole number; write text in quotes or a table"),
        ("{ x = 1 }", "from: y is missing; write it"),
        ("{ z = 1 }", 'from: "z" is no key known here; the keys are x, y'),
        ("{ x = nan, y = 0 }", "from, x: nan is no length of a sleeve; write one such as"),
        ("{ x = inf, y = 0 }", "from, x: inf is no length of a sleeve; write one such as"),
        ("{ x = true, y = 0 }", "from, x: is true or false; write a number or text in quotes"),
        ("{ x = 1e300, y = 0 }", "from, x: 1e+300 is no length of a sleeve; write one such as"),
        ('{ x = "11 m", y = 0 }', 'from, x: "11 m" ends in no unit known here; use cm, mm or in'),
        ('{ x = "1001 cm", y = 0 }', 'from, x: "1001 cm" is beyond 10 m; write a length such as'),
        ("{ x = 5, y = 0 }", "from, x: 5 has no unit; write its unit, or units"),
        ('{ x = "5", y = 0 }', 'from, x: "5" has no unit; write its unit, or units'),
        ('{ seam = "hem" }', "from: should have one of distance and share; give one of them"),
        (
            '{ seam = "hem", share = 0.5, distance = 0 }',
            "from: should have one of distance and share; give one of them",
        ),
        ('{ seam = "hem", share = 0.4 }', 'from: doesn\'t say from which end; write from = "hem-front" or'),
        (
            '{ seam = "hem", share = 1.5, from = "hem-back" }',
            "from, share: 1.5 is no share of a length; write a number",
        ),
        (
            '{ seam = "hem", share = nan, from = "hem-back" }',
            "from, share: nan is no share of a length; write a number",
        ),
        ('{ seam = "hem", distance = "-1 cm", from = "hem-back" }', "from, distance: is below zero; measure it into"),
        (
            '{ seam = "hem", distance = "1 cm", from = "crown" }',
            'from, from: "crown" is no end of hem; write "hem-front"',
        ),
        ('{ seam = "cuff", share = 0.5 }', 'from, seam: "cuff" is no seam of the paper that is slashed; the seams are'),
        (
            '{ seam = "bicep-line", share = 0.5 }',
            'from, seam: "bicep-line" is no seam of the paper that is slashed; the',
        ),
        ('{ slash = "a", share = 0.5 }', "from, slash: is the slash itself; end it on another slash"),
        ('{ slash = "c", share = 0.5 }', 'from, slash: "c" is no slash of this plan; the slashes are a'),
        ('{ slash = "a", share = 2 }', "from, slash: is the slash itself"),
        ('{ slash = "a" }', "from: share is missing; write it"),
    ],
)
def test_faults_of_places(text: str, line: str) -> None:
    whole = f'[[slash]]\nname = "a"\nfrom = {text}\nto = "hem-back"'
    (found,) = faults(whole)
    assert told(whole, found).startswith(f"slash 1, {line}")


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('slash = "g"\nat = "to"\namount = 0', ', slash: "g" is no slash of this plan; the slashes are grain'),
        ('slash = "grain"\namount = 0', ": at is missing; write it"),
        ('slash = "grain"\nat = "to"', ": neither amount nor for is given; give the amount, or what"),
        (
            'slash = "grain"\nat = "to"\namount = 0\nfor = {measure = "kink", value = 1}',
            ": both amount and for are given; give the amount, or what",
        ),
        ('slash = "grain"\nat = "top"\namount = 0', ', at: "top" is no place on a slash; write "from", "to", a share'),
        ('slash = "grain"\nat = -0.1\namount = 0', ", at: -0.1 is no share of a length; write a number from 0 to 1"),
        (
            'slash = "grain"\nat = true\namount = 0',
            ", at: is true or false; write a number or text in quotes or a table",
        ),
        ('slash = "grain"\nat = {crosses = "grain"}\namount = 0', ", at, crosses: is the slash itself; name the slash"),
        (
            'slash = "grain"\nat = {crosses = "z"}\namount = 0',
            ', at, crosses: "z" is no slash of this plan; the slashes',
        ),
        ('slash = "grain"\nat = 0\namount = "3 parsec"', ', amount: "3 parsec" ends in no unit known here; use cm, mm'),
        ('slash = "grain"\nat = 0\namount = 1979-05-27', ", amount: is a date; write a number or text in quotes"),
        (
            'slash = "grain"\nat = 0\nfor = {measure = "girth", value = 1}',
            ', for, measure: "girth" is no measure that an',
        ),
        ('slash = "grain"\nat = 0\nfor = {measure = "gap", value = 1}', ', for, measure: "gap" is no measure that an'),
        ('slash = "grain"\nat = 0\nfor = {measure = "kink"}', ", for: should have one of value and change; give one"),
        (
            'slash = "grain"\nat = 0\nfor = {measure = "kink", value = "1 cm"}',
            ", for, value: is not what this measure is in",
        ),
        ('slash = "grain"\nat = 0\nfor = {measure = "hem-girth", value = 3}', ", for, value: 3 has no unit; write its"),
    ],
)
def test_faults_of_openings(text: str, line: str) -> None:
    whole = f"{GRAIN}[[opening]]\n{text}"
    (found,) = faults(whole)
    assert told(whole, found).startswith(f"opening 1{line}")


def test_all_faults_of_a_plan_are_told_at_once() -> None:
    text = """colour = "red"
[[slash]]
name = "grain"
from = "crown"
to = { seam = "cuff", share = 0.5 }
hinge = "middle"
[[opening]]
slash = "gran"
at = "somewhere"
amount = "lots"
ammount = 3
for = { measure = "bicep", change = 3, value = 4 }
[[opening]]
slash = 3
[armhole.back]
widen = "x"
lower = "y"
"""
    told = [
        ': line 1: "colour" is no key known here',
        ': line 5, slash 1, to, seam: "cuff" is no seam',
        ": line 6, slash 1, hinge: names no end of a slash",
        ': line 11, opening 1: "ammount" is no key known here',
        ': line 8, opening 1, slash: "gran" is no slash of this plan',
        ": line 7, opening 1: both amount and for are given",
        ': line 12, opening 1, for, measure: "bicep" is no measure',
        ": line 12, opening 1, for: should have one of value and change",
        ': line 10, opening 1, amount: "lots" is not a length',
        ': line 9, opening 1, at: "somewhere" is no place on a slash',
        ": line 14, opening 2, slash: is a whole number",
        ": line 13, opening 2: at is missing",
        ': line 16, armhole.back.widen: "x" is not a length',
        ': line 17, armhole.back.lower: "y" is not a length',
    ]
    found = faults(text)
    assert len(found) == len(told)
    for line, start in zip(found, told, strict=True):
        assert line.startswith(f"plan.toml{start}")


def test_a_crossing_says_toward_an_end_of_its_own_slash() -> None:
    text = GRAIN + '[[slash]]\nname = "b"\nfrom = "underarm-back"\nto = "underarm-front"\n'
    text += '[[opening]]\nslash = "b"\nat = { crosses = "grain", toward = "hem" }\namount = 0\n'
    assert faults(text) == [
        'plan.toml: line 11, opening 1, at, toward: names no end of the slash; write "from" or "to"'
    ]


def test_faults_of_armholes() -> None:
    assert faults('[armhole.front]\nwiden = "wide"')[0].startswith(
        'plan.toml: line 2, armhole.front.widen: "wide" is not a length'
    )
    assert faults("[armhole.side]\nwiden = 0")[0].startswith(
        'plan.toml: line 1, armhole: "side" is no key known here; the keys'
    )
    assert faults("[armhole]\nfront = 3")[0].startswith(
        "plan.toml: line 2, armhole, front: is a whole number; write a table"
    )


def test_all_faults_are_reported_at_once() -> None:
    found = faults(
        """\
        title = "\\u0007"

        [[slash]]
        name = "a"
        from = "crown"
        to = { seam = "cuff", share = 0.5 }

        [[slash]]
        name = "b"
        from = 7
        to = "hem-back"

        [[opening]]
        slash = "c"
        at = 0
        amount = 0

        [armhole.back]
        lower = 1
        """
    )
    assert [line.split(": ")[1] for line in found] == [
        "line 1, title",
        "line 6, slash 1, to, seam",
        "line 10, slash 2, from",
        "line 14, opening 1, slash",
        "line 19, armhole.back.lower",
    ]


def test_lists_in_brackets_have_lines_as_well() -> None:
    text = '\nslash = [\n  { name = "a", to = "crown", from = 1 },\n]'
    assert faults(text)[0].startswith("plan.toml: line 3, slash 1, from: is a")
    # A header inside a text is none.
    quoted = f'title = """\n[[slash]]\n"""\n{GRAIN.replace("crown", "grain-hem")}'
    assert any(line.startswith("plan.toml: line 7, slash 1, to:") for line in faults(quoted))


def test_places_that_a_pattern_lacks_are_told_with_its_other_faults() -> None:
    text = '[[slash]]\nname = "a"\nfrom = "crwn"\nto = "hem"\nhinge = "middle"\n'
    landmarks = whole(pattern().sleeve).landmarks
    with pytest.raises(PlanFaults) as caught:
        read_plan(text.encode(), "plan.toml", landmarks)
    first, second, third = map(str, caught.value.faults)
    assert first == 'plan.toml: line 3, slash 1, from: "crwn" is no place on this pattern; did you mean crown?'
    assert second.startswith('plan.toml: line 4, slash 1, to: "hem" is no place on this pattern; there are underarm-')
    assert "grain-hem" in second
    assert third.startswith("plan.toml: line 5, slash 1, hinge: names no end")
    # With the cap off the paper has other places, and is asked for them when it is cut.
    assert read_plan(b"set-back = true\n" + text.replace('"middle"', '"to"').encode(), "plan.toml", landmarks).plan


def test_a_unit_that_is_not_known_hides_no_other_fault() -> None:
    text = 'units = "furlong"\n[[slash]]\nname = "a"\nfrom = { x = 1, y = 2 }\nto = "crown"\nhinge = "middle"\n'
    assert [each.partition(": ")[2].partition(":")[0] for each in faults(text)] == [
        "line 1, units",
        "line 6, slash 1, hinge",
    ]


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (b"a = ", 'end of document: is not TOML: a key has nothing after =; write it as in title = "A sleeve"'),
        (
            b"a = 1\na = 2\n",
            "line 2, column 6: is not TOML: the key or table a stands twice;"
            " write each once, with all that belongs to it",
        ),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is no text; give a TOML file"),
        ("title = 'Ä'".encode("utf-16"), "line 1: is not UTF-8 text; save the file as UTF-8"),
        (b"[[slash]]\nname = '\xff'", "line 2: is not UTF-8 text; save the file as UTF-8"),
        (b"\0", "line 1, column 1: is not TOML: it has a letter that can't be shown; save it as plain text"),
        (b"#" * 1_000_001, "is over 1 MB; a smaller file is enough"),
        (b"a = " + b"[" * 100_000, "is nested too deeply; three levels are enough"),
        (b"a = " + b"9" * 5_000, "has a number with thousands of figures; write a shorter one"),
        (b"a" + b".a" * 400_000 + b" = 1", "line 1: has a key of over 32 parts; three are enough"),
        (b"[[slash]]\n" * 10_000, f"slash: there are 10000 of them; a plan has {MOST_SLASHES} at the most"),
        (b"[[opening]]\n" * 200, f"opening: there are 200 of them; a plan has {2 * MOST_SLASHES} at the most"),
    ],
    ids=lambda value: repr(value)[:30],
)
def test_files_that_are_no_plans(data: bytes, line: str) -> None:
    with pytest.raises(Fault) as caught:
        read_plan(data, "plan.toml")
    assert str(caught.value) == f"plan.toml: {line}"


@given(sound_plans() | wild_plans())
def test_what_is_written_reads_back_the_same(written: Plan) -> None:
    distinct = tuple(slash for slash in written.slashes if slash.start != slash.end)
    names = {slash.name for slash in distinct}
    ends = [(slash, end) for slash in distinct for end in (slash.start, slash.end)]
    own = all(not isinstance(end, OnSlash) or end.slash in names - {slash.name} for slash, end in ends)
    seams = not written.set_back or not any(
        isinstance(end, Share) and end.seam in ("cap-back", "cap-front") for _, end in ends
    )
    openings = tuple(o for o in written.openings if o.slash in names and o.where != o.slash and o.where in {"", *names})
    if not (own and seams):
        return
    # A place where another slash crosses is written without the share, which means nothing there.
    kept = tuple(Opening(o.slash, o.amount, where=o.where, toward=o.toward) if o.where else o for o in openings)
    plan = Plan(distinct, kept, written.set_back, written.back, written.front, written.title)
    text = write_plan(plan)
    tomllib.loads(text)
    assert read_plan(text.encode()).plan == plan


@given(st.text(st.characters(blacklist_categories=["C", "Z"]), min_size=1, max_size=40), st.booleans())
def test_any_printable_name_and_title_can_be_written(name: str, set_back: bool) -> None:
    plan = Plan((Slash(name, Landmark(name), At(1e-9 - 2j)),), set_back=set_back, title=name)
    assert read_plan(write_plan(plan).encode()).plan == plan


def test_aims_are_written_too() -> None:
    plan = crossed(0.0)
    for aim in (
        Aim(OpeningAmount(0), "bicep-girth", change=30.0),
        Aim(OpeningAmount(0), "cap-ease-percent", value=-1.5),
    ):
        assert read_plan(write_plan(plan, [aim]).encode()) == PlanFile(plan, (aim,))


@pytest.mark.parametrize("gain", [20.0, 30.0, 40.0, 50.0])
def test_an_opening_is_solved_for_what_it_is_for(gain: float) -> None:
    """The cap height by the closed form for crossed slashes: the two circles about the new underarm points."""
    half, height = 170.0, 140.0
    sleeve = Pattern(symmetric(half, height, 450.0))
    plan = solved(sleeve, PlanFile(crossed(0.0), (Aim(OpeningAmount(0), "bicep-girth", change=gain),)))
    after = alter(sleeve, plan).measures_after
    assert after["bicep-girth"] == pytest.approx(2 * half + gain, abs=1e-6)
    assert after["cap-height"] == pytest.approx(math.sqrt(height**2 + half**2 - (half + gain / 2) ** 2), abs=1e-6)


def test_a_value_is_met_as_well_as_a_change() -> None:
    block = pattern()
    plan = solved(block, PlanFile(crossed(0.0), (Aim(OpeningAmount(0), "bicep-girth", value=355.0),)))
    assert alter(block, plan).measures_after["bicep-girth"] == pytest.approx(355.0, abs=1e-6)


def test_a_plan_without_aims_stays_as_it_is() -> None:
    plan = crossed(12.0)
    assert solved(pattern(), PlanFile(plan)) is plan


def test_an_aim_out_of_reach_is_refused() -> None:
    """However far a sleeve is lengthened below the bicep line, the line itself stays as wide as it was."""
    across = Slash("across", Landmark("elbow-back"), Landmark("elbow-front"))
    plan = Plan((across,), (Opening("across", 10.0, share=0.0), Opening("across", 10.0, share=1.0)))
    with pytest.raises(Refusal, match="bicep girth"):
        solved(pattern(), PlanFile(plan, (Aim(OpeningAmount(0), "bicep-girth", change=20.0),)))


def test_crossed_slashes_reach_no_farther_than_the_cap_lying_flat() -> None:
    """W < 2 (sqrt(H^2 + b^2) - b): 100.45 for b 170, H 140; two circles about the underarm points, touching."""
    sleeve = Pattern(symmetric(170.0, 140.0, 450.0))
    plan = solved(sleeve, PlanFile(crossed(0.0), (Aim(OpeningAmount(0), "bicep-girth", change=99.0),)))
    assert alter(sleeve, plan).measures_after["bicep-girth"] == pytest.approx(439.0, abs=1e-6)
    with pytest.raises(Refusal, match="bicep girth"):
        solved(sleeve, PlanFile(crossed(0.0), (Aim(OpeningAmount(0), "bicep-girth", change=101.0),)))


def test_an_aim_at_what_the_pattern_lacks_is_a_fault() -> None:
    with pytest.raises(Fault, match="for cap-ease: the pattern doesn't have that measure"):
        solved(Pattern(symmetric()), PlanFile(crossed(0.0), (Aim(OpeningAmount(0), "cap-ease", value=10.0),)))


def test_two_openings_are_not_for_one_measure() -> None:
    opening = '[[opening]]\nslash = "grain"\nat = "to"\nfor = { measure = "hem-girth", value = "30 cm" }\n'
    with pytest.raises(PlanFaults, match="two amounts are for hem-girth"):
        read_plan((GRAIN + opening + opening).encode())
