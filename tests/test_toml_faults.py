"""What is told of text that is no TOML: what people do wrong, and that no fault is told in a library's words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import SMALL

from tutor.faults import Fault
from tutor.toml_reading import parse_toml

ON_ONE_LINE = 'write it on one line, as in { slash = "grain", at = 0.5 }'
BACKSLASH = "a text has a backslash in it; write two for one, or put the text in single quotation marks"
BRACKETS = "the name of a table is not between brackets; write it as in [arm], or [[tasks]]"
NUMBER = 'a number goes on with what is none; write 7 or 0.5, and a length in quotation marks, as in "3 1/2 in"'
BELOW = "stands twice, or below a key that has a value; write each once, and nothing below a key that has a value"
FAULTS = {
    "a =": 'a key has nothing after =; write it as in title = "A sleeve"',
    "a = # later": 'a key has nothing after =; write it as in title = "A sleeve"',
    "a == 1": 'a key has more than = after it; write it as in title = "A sleeve"',
    "a: 1": 'a key has a colon after it; write = there, as in title = "A sleeve"',
    "a title": 'a key has no = after it; write it as in title = "A sleeve", and a remark after #',
    "weite-für-arm = 1": 'a key has the letter "ü"; write keys in a to z, figures, - and _',
    "= 1": 'there is no key before =; write it as in title = "A sleeve"',
    "a..b = 1": "a key has a point too many; write a point between two words alone",
    "// later": "a remark begins with /; begin it with #",
    "<svg/>": 'it begins like XML, as drawings do; write it as in title = "A sleeve"',
    '{"a": 1}': 'it begins like JSON; write it as in title = "A sleeve"',
    "a = 1\n]": "a ] closes what is not open; take it away, or open it before",
    "[arm": BRACKETS,
    "[[tasks]\na = 1": BRACKETS,
    "[tasks]]": BRACKETS,
    "[upper arm]": BRACKETS,
    'a = "blocks\\my.svg"': BACKSLASH,
    'a = "C:\\users"': BACKSLASH,
    "a = 2026-02-30": "there is no such date or time; write it as in 2026-11-18",
    "a = 2026-13-45": "there is no such date or time; write it as in 2026-11-18",
    "a = 3 1/2": NUMBER,
    'a = 12"': NUMBER,
    "a = 5.": NUMBER,
    "a = .5": "a number has no figure before its point or after its sign; write it as in 0.5 or -2",
    "a = (1, 2)": 'a list is in round brackets; write square ones, as in ["one", "two"]',
    "a = [1,, 2]": "nothing stands before a comma or a bracket; write one comma between any two items",
    "a = { b = 1, }": f"a list or a table in braces breaks off; {ON_ONE_LINE}",
    "a = {\n b = 1 }": f"a list or a table in braces breaks off; {ON_ONE_LINE}",
    "a = 1; b = 2": "a semicolon is no end of a line; write each key on a line of its own",
    'a = "x";': "a semicolon is no end of a line; write each key on a line of its own",
    "a = 'x' ; b = 2": "a semicolon is no end of a line; write each key on a line of its own",
    "a = 1\na = 2": "the key or table a stands twice; write each once, with all that belongs to it",
    "a.b = 1\na.b.c = 2": f"the key or table a.b.c {BELOW}",
    "a.b = 1\na.b = 2": f"the key or table a.b {BELOW}",
    "a = 1\n[a.b]": f"the key or table a.b {BELOW}",
    "a = true b = 2": "more stands after a value than belongs to it; write each key on a line of its own, and a remark"
    " after #",
    "a = []\n[[a]]": "more is added to a list or table that is whole; write all of it in one place",
    'a = "\x01"': "it has a letter that can't be shown; save it as plain text",
}
"""By a text, what is said of it after its place and that it is no TOML."""
PLAIN = {
    "a = True": "has capital letters in true or false; write it small, as in set-back = true",
    "a = '''b": "a text has no closing quotation mark; close it on the line that it begins on",
    "a = { b = 1 c = 2 }": "a table in braces is not closed, or lacks a comma; write it on one line, with } at the end",
    "a = 0x": "has a number that breaks off; write it as in 7 or 0.5",
    "a = 1e": "has a number that breaks off; write it as in 7 or 0.5",
    "a = [1, 2e-]": "has a number that breaks off; write it as in 7 or 0.5",
    "a = 0cm": 'has a length without quotation marks; write it as in girth = "30 cm"',
    "a = 3 ells": 'has a length without quotation marks; write it as in girth = "30 cm"',
    "a = 3 cm": 'has a length without quotation marks; write it as in girth = "30 cm"',
}


def told(text: str) -> str:
    """What is said of a text, "" if it is TOML."""
    try:
        parse_toml(text, "my.toml")
    except Fault as fault:
        return str(fault)
    return ""


@pytest.mark.parametrize("text", [*FAULTS, *PLAIN])
def test_a_fault_is_told_in_plain_words(text: str) -> None:
    with pytest.raises(Fault) as caught:
        parse_toml(text, "my.toml")
    told = PLAIN.get(text) or f"is not TOML: {FAULTS[text]}"
    assert str(caught.value).partition(": ")[2].partition(": ")[2] == told


@given(st.integers(0, len(SMALL)), st.integers(0, 3), st.text("[]{}=,.;:#\"'\\\n-+ ab1½é\x00", max_size=3))
def test_a_damaged_lesson_is_told_in_no_library_s_words(at: int, lost: int, put: str) -> None:
    assert "TOML 1.0" not in told(SMALL[:at] + put + SMALL[at + lost :])


@given(st.text("[]{}=,.;:#\"'\\\n-+ ab1½é\x00", max_size=20))
def test_no_text_is_told_in_a_library_s_words(text: str) -> None:
    assert "TOML 1.0" not in told(text)
