"""An SVG file as a tree of elements, read with nothing in it trusted.

No entity is ever expanded and no other file opened: a document type may name SVG 1.1 by its public identifier, as
files of that age do, and may declare nothing.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from xml.parsers import expat

from tutor.faults import Fault
from tutor.file_reading import is_no_text

LARGEST_FILE = 8_000_000
"""Bytes."""
MOST_ELEMENTS = 100_000
DEEPEST = 200
SVG = "http://www.w3.org/2000/svg"
XLINK_HREF = "http://www.w3.org/1999/xlink href"
_DECLARED = re.compile(rb"""<\?xml[^>]{0,200}?encoding\s*=\s*["']([A-Za-z0-9._-]{1,40})["']""")
_ENTITY = re.compile(r"&(?!#|(?:amp|lt|gt|quot|apos);)[^;\s]{0,40};?")


@dataclass(slots=True)
class Element:
    """One element: ``name`` without its namespace, "" when it isn't SVG's; ``line`` of the file, from 1."""

    name: str
    attributes: dict[str, str]
    line: int
    children: list[Element] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)

    @property
    def id(self) -> str:
        """The id as it is written; "" where there is none."""
        return self.attributes.get("id", "")

    @property
    def text(self) -> str:
        """What stands directly in it; kept for titles and styles alone."""
        return "".join(self.texts)


def read_tree(source: Path | bytes, where: str) -> Element:
    """The root element of an SVG file, which is an ``svg``.

    Raises Fault, with the line where there is one, for what can't be read, is over 8 MB, is neither UTF-8 nor UTF-16,
    is not well-formed XML or not SVG, declares a document type of its own, or nests deeper than 200 elements.
    """
    text = _decoded(_content(source, where), where)
    return _Builder(text, where).root


def _content(source: Path | bytes, where: str) -> bytes:
    if isinstance(source, bytes):
        content = source
    else:
        try:
            with source.open("rb") as file:
                content = file.read(LARGEST_FILE + 1)
        except (OSError, ValueError) as error:
            reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
            raise Fault(where, f"can't be read: {reason}", "give the path of an SVG file") from None
    if len(content) > LARGEST_FILE:
        raise Fault(where, "is larger than 8 MB", "a pattern is a few kilobytes; leave pictures out")
    if content.startswith(b"\x1f\x8b"):
        raise Fault(where, "is compressed", "save it as plain SVG")
    return content


def _decoded(content: bytes, where: str) -> str:
    right = "save it as UTF-8 or UTF-16"
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        encoding = "utf-16"
    elif content.startswith(b"<\0"):
        encoding = "utf-16-le"
    elif content.startswith(b"\0<"):
        encoding = "utf-16-be"
    else:
        encoding = "utf-8-sig"
        declared = _DECLARED.match(content.removeprefix(b"\xef\xbb\xbf"))
        if declared and declared[1].lower() not in (b"utf-8", b"us-ascii", b"ascii"):
            raise Fault(where, f"is written in {declared[1].decode()}", right)
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as error:
        if is_no_text(content):
            raise Fault(where, "is no text, and no drawing in SVG", "give an SVG file") from None
        raise Fault(where, f"is not {encoding[:6].upper().rstrip('-')} text at byte {error.start}", right) from None


class _Builder:
    """Takes the parser's reports and keeps the tree, without recursion."""

    def __init__(self, text: str, where: str) -> None:
        self._where = where
        self._open: list[Element] = []
        self._count = 0
        self._found: Element | None = None
        self._parser = expat.ParserCreate(None, " ")
        self._parser.buffer_text = True
        self._parser.StartDoctypeDeclHandler = self._doctype
        self._parser.EntityDeclHandler = self._entity
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._characters
        self._text = text
        try:
            self._parser.Parse(text, True)
        except expat.ExpatError as error:
            reason = expat.ErrorString(error.code)
            raise Fault(
                f"{where}, line {error.lineno}", f"is not well-formed XML: {reason}", "save it as SVG"
            ) from None

    @property
    def root(self) -> Element:
        # The parser has refused a file without a root.
        assert self._found is not None
        return self._found

    def _place(self) -> str:
        return f"{self._where}, line {self._parser.CurrentLineNumber}"

    def _doctype(self, name: str, system: str | None, public: str | None, internal: bool) -> None:
        right = "leave the DOCTYPE out"
        if internal:
            raise Fault(self._place(), "declares a document type of its own", right)
        if name != "svg" or not (public or "").startswith("-//W3C//DTD SVG"):
            raise Fault(self._place(), f"has the document type {name[:40]}, not SVG's", right)
        # The W3C's definition is never read, so the parser would pass over what only that could explain.
        entity = _ENTITY.search(self._text)
        if entity:
            raise Fault(self._where, f"refers to the entity {entity[0]}", "write the character itself")

    def _entity(self, name: str, *_: object) -> None:
        raise Fault(self._place(), f"declares the entity {name[:40]}", "write it out where it is used")

    def _start(self, full_name: str, attributes: dict[str, str]) -> None:
        self._count += 1
        if self._count > MOST_ELEMENTS:
            raise Fault(self._place(), f"has more than {MOST_ELEMENTS:,} elements", "a pattern has a few dozen")
        if len(self._open) >= DEEPEST:
            raise Fault(self._place(), f"nests deeper than {DEEPEST} elements", "draw in fewer groups")
        namespace, _, name = full_name.rpartition(" ")
        known = namespace == SVG or not namespace
        if not self._open and not (known and name == "svg"):
            raise Fault(
                self._place(),
                f"begins with <{name[:40]}>, which is not SVG",
                f'it should begin with <svg xmlns="{SVG}">',
            )
        element = Element(name if known else "", _attributes(attributes), self._parser.CurrentLineNumber)
        if self._open:
            self._open[-1].children.append(element)
        else:
            self._found = element
        self._open.append(element)

    def _end(self, _: str) -> None:
        self._open.pop()

    def _characters(self, text: str) -> None:
        if self._open[-1].name in ("title", "style"):
            self._open[-1].texts.append(text)


def _attributes(given: dict[str, str]) -> dict[str, str]:
    """Those without a namespace, the link of SVG 1.1, which ``href`` of SVG 2 comes before, and an editor's label."""
    kept = {name: value for name, value in given.items() if " " not in name}
    label = next((value for name, value in given.items() if name.endswith(" label")), None)
    if label is not None:
        kept.setdefault("label", label)
    if XLINK_HREF in given:
        kept.setdefault("href", given[XLINK_HREF])
    return kept
