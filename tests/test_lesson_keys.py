"""The guide's tables of the keys of a lesson file, against what the reader of lesson files knows."""

from __future__ import annotations

import types
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin

import msgspec
import pytest

from tutor.alteration.amounts import MEANS
from tutor.lesson.amount import Amount
from tutor.lesson.goal import AtLeast, AtMost, Balance, Figure, Keep, Reach, Sound, Weighed
from tutor.lesson.lesson import LessonText
from tutor.lesson.setting import Arm, Block
from tutor.lesson.target import Target
from tutor.lesson.task import Asked, ChoiceTask, DiagnoseTask, NumberTask, Option, PlaceTask, PlanTask
from tutor.lesson.vary import Vary
from tutor.marking.usual import MISTAKES

GUIDE = Path(__file__).resolve().parent.parent / "DEVELOPERS.md"
HEADING = "### All keys of a lesson file"
Kind = type[msgspec.Struct]
TABLES: dict[str, tuple[tuple[Kind, ...], tuple[Kind, ...]]] = {
    "The file itself": ((LessonText,), ()),
    "`[arm]`": ((Arm,), ()),
    "`[block]`": ((Block,), ()),
    "`[vary]`": ((Vary,), ()),
    "`[[tasks]]`": ((Asked,), ()),
    "Besides, a `plan`": ((PlanTask,), (Asked,)),
    "A `number`": ((NumberTask,), (Asked,)),
    "A `choice`": ((ChoiceTask,), (Asked,)),
    "An option": ((Option,), ()),
    "A `place`": ((PlaceTask,), (Asked,)),
    "A `diagnose`": ((DiagnoseTask,), (Asked,)),
    "A figure": ((Figure,), ()),
    "A goal of any kind": ((Weighed,), ()),
    "`reach`, `at-most`": ((Keep, Balance), (Weighed,)),
}
"""How the text before each table begins; the structs it has the keys of, and those whose keys stand elsewhere."""
TAGGED = {"`[[tasks]]`", "A goal of any kind"}
"""Tables with the key that says which kind it is."""


def _tables() -> dict[str, list[list[str]]]:
    """The rows of each table under the heading, by the text before it."""
    text = GUIDE.read_text(encoding="utf-8").split(f"{HEADING}\n")[1].split("\n## ")[0]
    blocks = [block.splitlines() for block in text.split("\n\n")]
    return {
        " ".join(before): [[cell.strip() for cell in line.strip("|").split("|")] for line in table[2:]]
        for before, table in pairwise(blocks)
        if table[0].startswith("| key |")
    }


def _table(begins: str) -> dict[str, list[str]]:
    (rows,) = [rows for before, rows in _tables().items() if before.startswith(begins)]
    found = {row[0].strip("`"): row[1:] for row in rows}
    assert len(found) == len(rows)
    return found


def _fields(kinds: tuple[Kind, ...]) -> dict[str, msgspec.structs.FieldInfo]:
    return {field.encode_name: field for kind in kinds for field in msgspec.structs.fields(kind)}


def test_every_table_is_looked_at() -> None:
    assert len(_tables()) == len(TABLES)
    for before in _tables():
        assert [begins for begins in TABLES if before.startswith(begins)], before


@pytest.mark.parametrize("begins", TABLES)
def test_the_guide_has_just_the_keys_that_the_reader_knows(begins: str) -> None:
    kinds, elsewhere = TABLES[begins]
    known = _fields(kinds).keys() - _fields(elsewhere).keys()
    assert _table(begins).keys() == known | ({"kind"} if begins in TAGGED else set())


@pytest.mark.parametrize("begins", TABLES)
def test_the_guide_says_which_keys_are_needed_and_what_they_hold(begins: str) -> None:
    fields = _fields(TABLES[begins][0])
    for key, (_, kind, needed) in _table(begins).items():
        if key == "kind":
            assert needed == "yes"
            continue
        field = fields[key]
        assert (needed == "yes") == field.required, key
        assert needed.split(":")[0] in ("yes", "no"), key
        assert kind in _kinds(field.type), (key, kind)
        default = field.default
        if isinstance(default, str) and default and get_origin(field.type) is Literal:
            assert needed == f'no: `"{default}"`', key
        if isinstance(default, bool):
            assert needed == f"no: {str(default).lower()}", key
        elif isinstance(default, int | float) and not isinstance(default, Amount):
            assert needed.removeprefix("no: ").split(",")[0] == f"{default:g}", key
        elif isinstance(default, tuple) and len(default) == 2:
            assert needed == f"no: {default[0]:g} to {default[1]:g}", key


def _kinds(kind: Any) -> tuple[str, ...]:
    """What values of a type may be called in the tables."""
    plain = {
        str: ("text", "measure"),
        int: ("whole number",),
        float: ("number",),
        bool: ("true or false",),
        Amount: ("length",),
        Target: ("text or table",),
    }
    origin, inside = get_origin(kind), get_args(kind)
    if kind in plain:
        return plain[kind]
    if origin in (Union, types.UnionType):
        parts = [part for part in inside if part is not type(None)]
        return _kinds(parts[0]) if len(parts) == 1 else ("table",)
    if origin is Literal:
        return ("one of these",)
    if origin is tuple and inside[-1] is Ellipsis:
        of = "these" if get_origin(inside[0]) is Literal else ""
        return (f"list of {of}",) if of else tuple(f"list of {each}s" for each in _kinds(inside[0]))
    if origin is tuple:
        each = _kinds(inside[0])[0]
        return (f"span of {each}s",) if len(inside) == 2 else (f"list of {len(inside)} {each}s",)
    if origin is dict:
        return ("table of spans of numbers",) if get_origin(inside[1]) is tuple else ("table of plans",)
    return ("table",)


def test_a_goal_with_a_figure_has_the_keys_the_guide_gives_it() -> None:
    for kind in (Reach, AtMost, AtLeast):
        assert _fields((kind,)).keys() == _fields((Figure, Weighed)).keys() | {"tolerance"}
    assert _fields((Sound,)).keys() == _fields((Weighed,)).keys()


@pytest.mark.parametrize(
    ("table", "key", "names"),
    [
        ("Besides, a `plan`", "may-use", set(MEANS)),
        ("A figure", "around", {"arm", "elbow", "forearm", "wrist", "hand"}),
        ("A goal of any kind", "kind", {"reach", "keep", "at-most", "at-least", "balance", "sound"}),
        ("`[[tasks]]`", "kind", {"plan", "number", "choice", "place", "diagnose"}),
        ("A `choice`", "which", {"grow", "shrink", "stay"}),
        ("A `choice`", "pick", {"one", "all"}),
    ],
)
def test_the_guide_names_all_there_is_to_write(table: str, key: str, names: set[str]) -> None:
    told = _table(table)[key][0]
    assert {part for part in told.split("`")[1::2] if part.startswith('"')} == {f'"{name}"' for name in names}


def test_mistakes_go_by_the_names_of_their_files() -> None:
    folder = GUIDE.parent / "tutor" / "marking" / "mistakes"
    files = {path.stem.replace("_", "-") for path in folder.glob("*.py")}
    assert set(MISTAKES) <= files
