"""What is wrong with text that is no TOML, in words for whoever wrote it, from what the standard reader says of it."""

from __future__ import annotations

import re

UNCLOSED = ("Illegal character '\\n'", "Unterminated string", 'Expected "\'"', "Expected \"'''\"", 'Expected \'"""\'')
"""What the standard reader says of a text in quotes that doesn't end."""
TWICE = ("Cannot overwrite", "Cannot declare", "Duplicate inline table key")
AFTER = ("Expected newline", "Unclosed array", "Unclosed inline table")
"""What it says where something follows that can't; and where a bracket is missing."""
WHOLE = ("Cannot mutate immutable namespace", "Cannot redefine namespace")
BACKSLASH = ("Unescaped", "Invalid hex value", "Escaped character")
UNSHOWN = ("Illegal character", "Found invalid character")
HEADER = ("Expected ']'", "Expected ']]'")

_COMMA = re.compile(r"=\s*[+-]?\d+,\d+(?![\d,]*\s*\])")
_BEGINS = re.compile(r"""\s*(?:\[+\s*[\w.-]+\s*\]+\s*(?:\#.*)?$|[\w.-]+\s*=)""")
_NAMED = re.compile(r"\s*\[*\s*([\w.-]{1,40})")
_BREAKS_OFF = re.compile(r"(?:[xob]\w*|e[+-]?)(?=[\s,\]}#]|$)", re.IGNORECASE)
"""What goes on after the first figure of a number in another base, or of one with an exponent, and is none."""
_KEY = re.compile(r"\s*[\w.-]+\s*=")
_DATE = re.compile(r"\d{4}-\d\d|\d\d:\d\d")
_CURLY = "\u201c\u201d\u201e\u201f\u2018\u2019\u201a\u00ab\u00bb"
TITLE = 'title = "A sleeve"'
"""The example of a line."""


def parted(text: str, place: str) -> tuple[str, str]:
    """The line at a place such as "line 2, column 9", before it and from it on; at the end the last line and nothing.

    Of any other place two empty texts.
    """
    found = re.fullmatch(r"line (\d+), column (\d+)", place)
    lines = text.split("\n")
    if place == "end of document":
        return lines[-1], ""
    if found is None or int(found[1]) > len(lines):
        return "", ""
    line, column = lines[int(found[1]) - 1], int(found[2]) - 1
    return line[:column], line[column:]


def plainly(what: str, before: str, rest: str) -> tuple[str, str]:
    """What the standard reader says of a line, told plainly, and what would be right."""
    told = _usual(what, before, rest)
    if told is None:
        kind, right = _unusual(what, before, rest)
        told = f"is not TOML: {kind}", right
    return told


def _usual(what: str, before: str, rest: str) -> tuple[str, str] | None:
    """What people do who write a lesson or an answer for the first time."""
    line, left = before + rest, before.rstrip()
    named = _NAMED.match(line)
    if what in UNCLOSED:
        return "a text has no closing quotation mark", "close it on the line that it begins on"
    if what.startswith(TWICE):
        told = named and not what.startswith("Duplicate") and (line.lstrip().startswith("[") or "=" in before)
        name = f" {named[1]}" if named and told else ""
        if what.startswith("Cannot overwrite") and "." in name:
            right = "write each once, and nothing below a key that has a value"
            return f"is not TOML: the key or table{name} stands twice, or below a key that has a value", right
        return f"is not TOML: the key or table{name} stands twice", "write each once, with all that belongs to it"
    if rest[:1] in _CURLY and rest:
        return "has curly quotation marks", f"write straight ones, as in {TITLE}"
    if what != "Invalid value" and _COMMA.search(line):
        return "has a comma in a number", "write a point, as in 0.3"
    if what.startswith(AFTER) and before[-1:].isdigit() and _BREAKS_OFF.match(rest):
        return "has a number that breaks off", "write it as in 7 or 0.5"
    if what.startswith(AFTER) and left[-1:].isdigit() and rest[:1].isalpha() and not _KEY.match(rest):
        return "has a length without quotation marks", 'write it as in girth = "30 cm"'
    if what.startswith("Expected newline") and left[-1:] in ('"', "'") and rest[:1] != ";":
        if rest[:1].isalpha():
            return "has quotation marks inside a text", "write single ones there, or \\ before each"
        return "has several texts without brackets", 'write a list, as in ["one", "two"]'
    if what.startswith("Expected '='") and line.lstrip()[:1] in ('"', "'"):
        return "has a text that belongs to no key", 'write several texts as a list, as in ["one", "two"]'
    if what == "Unclosed array" or (what == "Invalid value" and not before.strip(" \t[") and _BEGINS.match(line)):
        return "a list is not closed, or lacks a comma", "write a comma between any two items and ] at the end"
    if what == "Unclosed inline table":
        return "a table in braces is not closed, or lacks a comma", "write it on one line, with } at the end"
    if what == "Invalid value" and rest.split() and rest.split()[0].casefold() in ("true", "false"):
        return "has capital letters in true or false", "write it small, as in set-back = true"
    if what == "Invalid value" and rest[:1].isalpha():
        return "has a text without quotation marks", f"write it as in {TITLE}"
    return None


def _unusual(what: str, before: str, rest: str) -> tuple[str, str]:
    if what.startswith(UNSHOWN) or (rest and not rest[0].isprintable() and rest[0] not in "\t\r"):
        return "it has a letter that can't be shown", "save it as plain text"
    if what.startswith(BACKSLASH):
        return "a text has a backslash in it", "write two for one, or put the text in single quotation marks"
    if what.startswith(WHOLE):
        return "more is added to a list or table that is whole", "write all of it in one place"
    if what == "Invalid date or datetime":
        return "there is no such date or time", "write it as in 2026-11-18"
    if what.startswith(HEADER) or (before.lstrip().startswith("[") and "=" not in before):
        return "the name of a table is not between brackets", "write it as in [arm], or [[tasks]]"
    if what.startswith("Invalid initial character"):
        return _no_key(before, rest)
    if what.startswith("Expected '='"):
        return _no_equals(rest)
    if what == "Invalid statement":
        return _no_statement(rest)
    if what == "Invalid value":
        return _no_value(rest)
    if what.startswith("Expected newline"):
        return _no_end(before.rstrip(), rest)
    return f"{what[:1].lower()}{what[1:]}", "write TOML 1.0"


def _no_key(before: str, rest: str) -> tuple[str, str]:
    if "=" in before or not rest:
        return "a list or a table in braces breaks off", 'write it on one line, as in { slash = "grain", at = 0.5 }'
    return _key_of_other_letters(rest) or ("a key has a point too many", "write a point between two words alone")


def _no_equals(rest: str) -> tuple[str, str]:
    if rest[:1] == ":":
        return "a key has a colon after it", f"write = there, as in {TITLE}"
    return _key_of_other_letters(rest) or ("a key has no = after it", f"write it as in {TITLE}, and a remark after #")


def _no_statement(rest: str) -> tuple[str, str]:
    sign = rest[:1]
    if sign in ("<", "{"):
        return f"it begins like {'XML, as drawings do' if sign == '<' else 'JSON'}", f"write it as in {TITLE}"
    if sign in ("/", ";", "%"):
        return f"a remark begins with {sign}", "begin it with #"
    if sign in ("]", "}"):
        return f"a {sign} closes what is not open", "take it away, or open it before"
    if sign == "=":
        return "there is no key before =", f"write it as in {TITLE}"
    return _key_of_other_letters(rest) or (
        f"no key begins with {sign}",
        f"write it as in {TITLE}, and a remark after #",
    )


def _key_of_other_letters(rest: str) -> tuple[str, str] | None:
    if rest[:1].isalnum() and not rest[:1].isascii():
        return f'a key has the letter "{rest[0]}"', "write keys in a to z, figures, - and _"
    return None


def _no_value(rest: str) -> tuple[str, str]:
    sign = rest.lstrip()[:1]
    if sign in ("", "#"):
        return "a key has nothing after =", f"write it as in {TITLE}"
    if sign in ("=", ">", ":"):
        return "a key has more than = after it", f"write it as in {TITLE}"
    if sign in (",", "]", "}"):
        return "nothing stands before a comma or a bracket", "write one comma between any two items"
    if sign in ".+-":
        return "a number has no figure before its point or after its sign", "write it as in 0.5 or -2"
    if sign == "(":
        return "a list is in round brackets", 'write square ones, as in ["one", "two"]'
    return f"no value begins with {sign}", f"write a text in quotation marks, as in {TITLE}"


def _no_end(left: str, rest: str) -> tuple[str, str]:
    value = left.rpartition("=")[2].strip()
    if rest[:1] == ";":
        return "a semicolon is no end of a line", "write each key on a line of its own"
    if rest[:1] in ("-", ":") and value.isdigit():
        return "there is no such date or time", "write it as in 2026-11-18"
    if _DATE.match(value):
        return "more stands after a date", "write it as in 2026-11-18"
    if value[-1:].isdigit() or value in ("inf", "nan"):
        return "a number goes on with what is none", 'write 7 or 0.5, and a length in quotation marks, as in "3 1/2 in"'
    return "more stands after a value than belongs to it", "write each key on a line of its own, and a remark after #"
