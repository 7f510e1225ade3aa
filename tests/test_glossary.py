"""The words of the trade: found by either country's name, shown where they are used."""

from __future__ import annotations

import io

import pytest

from tutor.faults import Fault
from tutor.lesson.glossary import find_words, glossary, words_in
from tutor.lesson.reading import find_lesson
from tutor.practice.plain import run_plain
from tutor.tui.glossary_page import glossary_parts


def test_no_word_stands_twice() -> None:
    names = [name.casefold() for word in glossary() for name in (word.name, *word.also)]
    assert len(set(names)) == len(names)
    assert [word.name for word in glossary()] == sorted(word.name for word in glossary())


@pytest.mark.parametrize(
    ("elsewhere", "here"),
    # Common usage in Britain and the United States, as any general dictionary has it.
    [("armscye", "armhole"), ("muslin", "toile"), ("sloper", "block"), ("warp", "lengthwise yarn")],
)
def test_the_other_countrys_word_is_found(elsewhere: str, here: str) -> None:
    assert find_words(elsewhere)[0].name == here
    assert find_words(here)[0].name == here


def test_a_word_that_is_not_there_is_told() -> None:
    with pytest.raises(Fault, match="no word"):
        find_words("zip\x1b[31m")


def test_words_used_are_found_once_and_whole() -> None:
    names = [word.name for word in words_in(["Keep the cap seams as they are; slashes hinge at the hem."])]
    assert names == ["cap seam", "hem", "hinge", "slash"]


def test_the_page_begins_with_the_words_in_use() -> None:
    text = "".join(part for part, _ in glossary_parts(["Lower the armhole."]))
    assert text.startswith("In this task\narmhole (also armscye)")
    assert all(word.meaning in text for word in glossary())


def test_line_by_line_words_are_asked_for() -> None:
    output = io.StringIO()
    run_plain(find_lesson("4"), io.StringIO("words\nwords armscye\nwords zip\nquit\n"), output)
    said = " ".join(output.getvalue().split())
    assert "cap seam" in said.split("More words:")[0]
    assert "armhole (also armscye): The edge of the bodice" in said
    assert 'there is no word "zip" here' in said
