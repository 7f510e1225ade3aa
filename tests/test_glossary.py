"""The words of the trade: found by either country's name, shown where they are used."""

from __future__ import annotations

import io
import re

import pytest
from tutor_driving import driven

from tutor.alteration.amounts import MEANS
from tutor.alteration.place_words import LANDMARK_WORDS
from tutor.cli import main
from tutor.commands.lesson_names import lesson_names
from tutor.faults import Fault
from tutor.fit.causes import CAUSES
from tutor.fit.signs import SIGNS
from tutor.lesson.glossary import find_words, glossary, words_in
from tutor.lesson.reading import find_lesson
from tutor.marking.usual import MISTAKES
from tutor.pattern.measures import MEASURES
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


def _explained(words: str) -> bool:
    """Whether the words are those of an entry, or of one with the side behind it."""
    names = {word.name for word in glossary()}
    return words in names or re.sub(", (?:back|front)$", "", words) in names


def test_every_measure_is_explained_by_the_words_that_are_shown() -> None:
    assert [each.words for each in MEASURES.values() if not _explained(each.words)] == []


def test_what_is_measured_is_told_with_the_words_of_a_task() -> None:
    for measure in MEASURES.values():
        (word, *more) = words_in([measure.words])
        assert not more, measure.words
        assert measure.words.startswith(word.name)


@pytest.mark.parametrize("place", LANDMARK_WORDS.values())
def test_every_place_has_a_word_that_is_explained(place: str) -> None:
    assert words_in([place])


def test_lesson_names_tell_all_that_a_lesson_file_can_name(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["lessons", "names"]) == 0
    told = capsys.readouterr().out
    assert all(len(line) <= 80 for line in told.splitlines())
    names = lesson_names()
    for known, kind in (
        (MEASURES, "measures"),
        (LANDMARK_WORDS, "places"),
        (MEANS, "means"),
        (MISTAKES, "mistakes"),
        (CAUSES, "causes"),
        (SIGNS, "signs"),
    ):
        assert set(names[kind]) == set(known)
        for name, words in names[kind].items():
            assert words != name.replace("-", " ") or name in ("slashes", "crown")
            assert f"  {name} " in told
    said = " ".join(told.split())
    assert all(words in said for group in names.values() for words in group.values())
    for width in (100, 60, 40):
        monkeypatch.setenv("COLUMNS", str(width))
        assert main(["lessons", "names"]) == 0
        told = capsys.readouterr().out
        assert max(map(len, told.splitlines())) <= width
        assert all(words in " ".join(told.split()) for group in names.values() for words in group.values())
    assert main(["lessons", "names", "crown"]) == 2
    assert "names" in capsys.readouterr().err


@pytest.mark.parametrize("number", ["10", "15"])
async def test_the_words_in_use_are_those_of_the_tape_as_well(number: str) -> None:
    """On the screen and line by line."""
    async with driven(number) as tutor:
        shown = [row.words for row in tutor.lesson.session.tape()]
        await tutor.press("G")
        in_use = tutor.page.split("All words")[0]
    output = io.StringIO()
    run_plain(find_lesson(number), io.StringIO("words\nquit\n"), output)
    said = " ".join(output.getvalue().split()).split("More words:")[0]
    for words in shown:
        for word in words_in([words]):
            assert word.meaning in in_use
            assert word.meaning in said
