"""A little of what ``tests/fuzz_inputs.py`` does at length: whatever comes in, there is a value or a clear line."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from outside_data import ARGUMENTS, Reader, readers, told
from test_hostile import LETTERS, assert_clear

from tutor.alteration.refusal import Refusal
from tutor.cli import COMMANDS
from tutor.faults import Fault

NAMES = (
    *("lesson", "plan", "pattern", "drawing", "homework", "class list", "form", "table", "points", "overrides"),
    *("register", "kept answers", "class quiz", "quiz file", "results", "settings", "length", "lesson lines"),
    *("quiz lines", "record", "record file", "arguments"),
)
SLOW = {"lesson lines": 4, "quiz lines": 4, "record": 5, "record file": 6, "lesson": 12, "arguments": 25}
"""Examples of readers that take longer than a few milliseconds; of the others there are more."""
WORDS = (*COMMANDS, *sorted({word for text in ARGUMENTS for word in text.split()}), "-", "--", "", "\udcff", "nan", "0")


@pytest.fixture(scope="module")
def known(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Reader]:
    """All readers, in a folder of their own; made once, as that takes seconds."""
    return _readers(tmp_path_factory.mktemp("outside"))


@cache
def _readers(folder: Path) -> dict[str, Reader]:
    return readers(folder)


@st.composite
def damage(draw: st.DrawFn) -> list[tuple[float, int, bytes]]:
    """Places, as shares of whatever is damaged, how many bytes there are taken out, and what is put in."""
    put = LETTERS.map(str.encode) | st.binary(max_size=6) | st.sampled_from([b"99999999999", b"1e999", b"null"])
    return draw(st.lists(st.tuples(st.floats(0, 1), st.integers(0, 12), put), min_size=1, max_size=4))


def damaged(data: bytes, changes: list[tuple[float, int, bytes]]) -> bytes:
    for share, out, put in changes:
        at = round(share * len(data))
        data = data[:at] + put + data[at + out :]
    return data


def test_all_readers_are_tried(known: dict[str, Reader]) -> None:
    assert set(known) == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_good_bytes_are_read_and_damaged_ones_are_a_value_or_a_clear_line(name: str, known: dict[str, Reader]) -> None:
    reader = known[name]

    @settings(max_examples=SLOW.get(name, 40), database=None)
    @given(st.sampled_from(reader.seeds), damage() | st.just([]), st.binary(max_size=60))
    def read(seed: bytes, changes: list[tuple[float, int, bytes]], other: bytes) -> None:
        for data in (damaged(seed, changes), other):
            try:
                reader.take(data)
            except (Fault, Refusal) as refused:
                assert_clear(f"sleeve-tutor: {str(refused)[:600]}")

    read()


@settings(max_examples=40)
@given(st.lists(st.sampled_from(WORDS) | st.text(st.characters(exclude_characters="/~\0"), max_size=8), max_size=9))
def test_any_arguments_end_in_one_of_three_ways(known: dict[str, Reader], words: list[str]) -> None:
    known["arguments"].take("\n".join(words).encode("utf-8", "surrogatepass"))


def test_letters_that_are_none_are_let_by(known: dict[str, Reader]) -> None:
    status, out, err = told("measure", "\udcff\ud800.svg")
    assert (status, out) == (2, "")
    assert_clear(err)
