"""Pages of a class: no markup but their own, and what they show."""

from __future__ import annotations

import html.parser
import re

import pytest
from class_for_tests import Classroom, filled
from hypothesis import given
from hypothesis import strategies as st

from tutor.classwork import html_page
from tutor.classwork.result import Drawn


class Tags(html.parser.HTMLParser):
    """Every tag and attribute of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs


HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</title><svg/onload=1>",
    "javascript:x",
    "\x1b[31m\u202e",
]


@pytest.mark.parametrize("words", HOSTILE)
def test_pages_hold_no_markup_but_their_own(room: Classroom, words: str) -> None:
    shown = words if words.isprintable() else "Odd"
    (room.folder / "class.csv").write_text(f'name\nAnouk\n"{shown.replace(chr(34), chr(34) * 2)}"\n')
    (room.out / "register.json").unlink()
    room.sheet("--force")
    room.hand_in(
        "a.csv",
        f'name,1\nAnouk,12.5\n"{shown.replace(chr(34), chr(34) * 2)}","{words.replace(chr(34), chr(34) * 2)}"\n',
    )
    room.mark()
    pages = list(room.out.rglob("*.html"))
    assert len(pages) >= 3
    for path in pages:
        tags = Tags()
        tags.feed(path.read_text())
        assert tags.tags <= {
            *("html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "div", "section", "ul", "li"),
            *("table", "tr", "th", "td", "svg", "path", "rect", "text"),
        }
        assert not [name for name, _ in tags.attributes if name.startswith("on") or name in ("src", "href", "style")]
        policy = next(value for name, value in tags.attributes if value and "default-src" in value)
        assert policy.startswith("default-src 'none'; style-src 'sha256-")
        assert "unsafe" not in policy


def test_the_policy_knows_the_style_by_its_digest(room: Classroom) -> None:
    """A style element's hash covers its text alone (W3C, Content Security Policy Level 3, 6.7.3)."""
    import base64
    import hashlib

    filled(room).mark()
    text = (room.out / "feedback" / "anouk.html").read_text()
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)
    assert style is not None
    digest = base64.b64encode(hashlib.sha256(style[1].encode()).digest()).decode()
    assert f"&#x27;sha256-{digest}&#x27;" in text


@given(st.text())
def test_any_text_stays_text(words: str) -> None:
    tags = Tags()
    page = html_page.page(words, [html_page.paragraph(words), *html_page.bullets([words])])
    tags.feed(page)
    assert tags.tags <= {"html", "head", "meta", "title", "style", "body", "p", "ul", "li"}
    assert "\x1b" not in page
    assert html_page.pictures([[Drawn("before", "M0,0L1,1")]], [words])


def test_feedback_shows_the_pattern_before_as_handed_in_and_as_wanted(room: Classroom) -> None:
    filled(room).mark()
    text = (room.out / "feedback" / "tove.html").read_text()
    for words in ("before", "as wanted", "yours"):
        assert words in text
    assert text.count("<path d=") >= 6
    assert "bicep girth" in text


def test_the_legend_names_only_lines_that_can_be_seen() -> None:
    """A line that is not there, or lies under another just like it, is none that anybody could look for."""
    here, there = "M0,0L9,9", "M0,0L9,8"

    def named(*groups: list[Drawn]) -> list[str]:
        page = "".join(html_page.pictures(groups, ["one", "two"]))
        return [
            words for words in ("before", "as wanted", "yours") if f" {words}" in page.partition('class="small"')[2]
        ]

    looks = [Drawn("before", there), Drawn("wanted", here), Drawn("theirs", here)]
    assert named(looks) == ["before", "yours"]
    assert named([*looks[:2], Drawn("theirs", there)]) == ["as wanted", "yours"]
    assert named([Drawn("before", here), Drawn("wanted", "")]) == ["before"]
    # What is hidden in one picture and seen in another is named.
    assert named(looks, [Drawn("wanted", there), Drawn("theirs", here)]) == ["before", "as wanted", "yours"]
