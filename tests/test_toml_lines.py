"""Lines of keys in TOML text, held against where each key, named but once, stands in the text."""

from __future__ import annotations

import itertools
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tutor.toml_lines import Path as Keys
from tutor.toml_lines import key_lines, line_of

ROOT = Path(__file__).resolve().parent.parent
SCALARS = (
    "1",
    "-0.5e3",
    "true",
    "1979-05-27 07:32:00Z",
    "inf",
    '"a # no [comment], {none}"',
    "'x = \\'",
    '"\\" = \\\\"',
    '""',
    '"""\nk = 1\n[t]\n\\"""\n"""',
    "'''\n# [[t]]\n'''",
    '"""a""""',
    '"\u2028\u0085"',
)
"""Values of each kind that TOML 1.0 has, with all that could be taken for something else."""


def drawn(draw: st.DrawFn, names: Iterator[int], depth: int, one_line: bool = False) -> str:
    """A value with keys of its own."""
    kind = draw(st.sampled_from(("scalar", "list", "table") if depth else ("scalar",)))
    if kind == "scalar":
        return draw(st.sampled_from([each for each in SCALARS if "\n" not in each] if one_line else SCALARS))
    inside = range(draw(st.integers(0, 3)))
    if kind == "table":
        # A table in braces stands on one line, but for texts and lists in it.
        members = [f"{name(draw, names)} = {drawn(draw, names, depth - 1, one_line)}" for _ in inside]
        return f"{{ {', '.join(members)} }}"
    break_ = " " if one_line else draw(st.sampled_from((" ", "\n  ", " # a ] comment\n")))
    items = [f"{break_}{drawn(draw, names, depth - 1, one_line)}" for _ in inside]
    return f"[{','.join(items)}{break_}]"


def name(draw: st.DrawFn, names: Iterator[int]) -> str:
    """A key that is nowhere else, in one of the ways to write one."""
    return draw(st.sampled_from(("k{}", '"k{}"', "'k{}'", "k{}"))).format(f"{next(names)}e")


@st.composite
def documents(draw: st.DrawFn) -> str:
    names, lines = itertools.count(1), list[str]()
    for _ in range(draw(st.integers(1, 4))):
        header = draw(st.sampled_from(("", "[{}]", "[ {} . {} ]  # here", "[[all]]", "[[all.{}]]", "[[{}]]")))
        if "all." in header and "[[all]]" not in lines:
            header = "[[all]]"
        if header or not lines:
            lines.append(header.format(name(draw, names), name(draw, names)) if "{}" in header else header)
        for _ in range(draw(st.integers(0, 3))):
            key = ".".join(name(draw, names) for _ in range(draw(st.integers(1, 2))))
            lines.append(f"{key} = {drawn(draw, names, 3)}")
    return "\n".join(lines)


def paths(value: object, path: Keys = ()) -> Iterator[Keys]:
    inside: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        inside = list(value.items())
    elif isinstance(value, list):
        inside = list(enumerate(value))
    for step, each in inside:
        yield (*path, step)
        yield from paths(each, (*path, step))


@given(documents())
def test_every_key_is_found_on_the_line_it_stands_on(text: str) -> None:
    lines, found = text.split("\n"), key_lines(text)
    there = set(paths(tomllib.loads(text)))
    assert set(found) == there
    for path in there:
        if isinstance(path[-1], str) and path[-1] != "all":
            assert path[-1] in lines[found[path] - 1]


@pytest.mark.parametrize("file", sorted(ROOT.glob("lessons/*.toml")), ids=lambda file: file.stem)
def test_every_key_of_a_lesson_has_its_line(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    lines, found = text.split("\n"), key_lines(text)
    for path in paths(tomllib.loads(text)):
        if isinstance(path[-1], str):
            assert path[-1] in lines[found[path] - 1]


@given(st.text("[]{}=,.\"'#\n\\ ab1", max_size=60))
def test_of_what_is_no_toml_lines_are_found_as_far_as_it_goes(text: str) -> None:
    found = key_lines(text)
    assert all(1 <= line <= text.count("\n") + 1 for line in found.values())
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert set(found) == set(paths(tables))


def test_a_key_that_is_not_there_has_the_line_of_what_it_would_belong_to() -> None:
    lines = key_lines("a = [\n  { b = 1 },\n  { c = 2 },\n]\n[[d]]\ne.f = 1\n")
    assert line_of(("a", 1, "x"), lines) == 3
    assert line_of(("d", 0, "e", "x"), lines) == 6
    assert line_of(("d", 0, "x"), lines) == 5
    assert line_of(("z",), lines) is None


def test_deep_lists_are_no_trouble() -> None:
    assert len(key_lines(f"a = {'[' * 5000}{']' * 5000}")) == 5000
