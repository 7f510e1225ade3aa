"""Tables as spreadsheets write them: with or without a byte order mark, with commas, semicolons or tabs, quoted or not.

Which sign parts the cells is read off the heading. A line ``sep=;``, which some spreadsheets put before it, is heeded.
"""

from __future__ import annotations

import codecs
import contextlib
import csv
import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from tutor.faults import Fault
from tutor.file_reading import is_no_text, size_words

LARGEST = 8_000_000
"""Bytes; ten thousand learners with twenty answers each take four million."""
LONGEST_CELL = 10_000
MOST_COLUMNS = 200
MOST_ROWS = 20_000
MOST_JOINED = 8
"""Places of a line at which a sign is tried as a part of a cell, as in a name with a comma."""
UNCLOSED, INNER = "has a quote that is not closed", "stands in a quote that is opened in line"
MOST_UNCLOSED = 20
"""Rows with a quote that is never closed after which reading goes on."""
SIGNS = ";,\t"
SAVED_SO = 'save it as "CSV UTF-8"'
Begins: TypeAlias = Callable[[Sequence[str]], bool]
"""Whether cells can only be those of a row of its own."""
_SEP = re.compile(r"\A\"?sep=(.)\"?[ \t]*\n", re.IGNORECASE)
_QUOTED = re.compile(r'"[^"\n]*"')


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table: its line in the file, counted from 1, and its cells by their headings; empty ones as "".

    ``fault`` says what makes the row unfit for use; its cells then only tell whose row it may be.
    """

    line: int
    cells: Mapping[str, str]
    fault: Fault | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose first row are headings, in small letters."""

    where: str
    headings: tuple[str, ...]
    rows: tuple[Row, ...]

    def place(self, row: Row, heading: str = "") -> str:
        """Where a fault is: the file, the line, the heading."""
        return ", ".join(filter(None, [f"{self.where}: line {row.line}", heading]))


def read_table(content: bytes, where: str) -> Table:
    """The table in the bytes of a CSV file. Raises Fault for what is none, or beyond all use, be it one row."""
    table = read_rows(content, where)
    fault = next((row.fault for row in table.rows if row.fault is not None), None)
    if fault is not None:
        raise fault
    return table


def read_rows(content: bytes, where: str, begins: Begins = lambda cells: False) -> Table:
    """The table in the bytes of a CSV file, where a row that is beyond use bears its own fault.

    ``begins`` tells whether the cells of a line can only be those of a row of its own, so that a quote which takes such
    a line in is known as one that was never closed. Raises Fault for what is no table.
    """
    text = _decoded(content, where)
    text, sign = _parted(text)
    rows = _rows(text, sign, where, begins)
    try:
        first = next(rows)
    except StopIteration:
        raise Fault(where, "is empty", "write a row of headings, and a row for each learner") from None
    headings = _headings(first[1], f"{where}: line {first[0]}")
    return Table(where, headings, tuple(_row(*row, headings, where) for row in rows))


def _decoded(content: bytes, where: str) -> str:
    """The text, its lines ended by single line feeds."""
    if len(content) > LARGEST:
        raise Fault(where, f"is over {size_words(LARGEST)}", "a class takes a few thousand bytes")
    encoding = "utf-16" if content.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError as error:
        if is_no_text(content):
            raise Fault(where, "is no text, and no table", SAVED_SO) from None
        line = content.count(b"\n", 0, error.start) + 1
        raise Fault(f"{where}: line {line}", "is not UTF-8 text", SAVED_SO) from None
    if "\0" in text:
        raise Fault(where, "is no text: it holds zero bytes", SAVED_SO)
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _parted(text: str) -> tuple[str, str]:
    """The text from its headings on, and the sign that parts its cells."""
    said = _SEP.match(text)
    if said and said[1] in SIGNS:
        # The line stays, empty, so that the lines after it keep their numbers.
        return "\n" + text[said.end() :], said[1]
    heading = next((line for line in text[:LONGEST_CELL].split("\n") if line.strip()), "")
    bare = _QUOTED.sub("", heading)
    return text, max(SIGNS, key=bare.count)


def _rows(text: str, sign: str, where: str, begins: Begins) -> Iterator[tuple[int, list[str], str]]:
    """The rows that hold anything, each with its first line, and what is wrong with its quotes."""
    count = 0
    lines = [f"{line}\n" for line in text.split("\n")]
    records = _line_by_line if _strict_fault(lines, sign) else _in_quotes
    for line, cells, wrong in records(lines, sign, where, begins):
        if any(cell.strip() for cell in cells):
            count += 1
            if count > MOST_ROWS:
                raise Fault(where, f"has more than {MOST_ROWS:,} rows", "part it into several files")
            yield line, cells, wrong


def _strict_fault(lines: Sequence[str], sign: str) -> str:
    """What a strict reader has to say; "" where every quote is closed, and stands about a whole cell."""
    try:
        for _ in csv.reader(lines, delimiter=sign, strict=True):
            pass
    except csv.Error as error:
        return str(error)
    return ""


def _in_quotes(lines: Sequence[str], sign: str, where: str, begins: Begins) -> Iterator[tuple[int, list[str], str]]:
    """Rows of a table whose quotes are right. A line in a cell that looks like a row of its own stays in the cell.

    But two quotes may be wrong together; so that line is told beside, for whoever has no other row.
    """
    reader = csv.reader(lines, delimiter=sign, strict=True)
    first = 0
    for cells in reader:
        line, first = first + 1, reader.line_num
        if cells:
            yield line, cells, ""
        for inner in range(line, first):
            found = _begun(lines[inner], sign, begins)
            if found:
                yield inner + 1, found, f"{INNER} {line}"


def _line_by_line(lines: Sequence[str], sign: str, where: str, begins: Begins) -> Iterator[tuple[int, list[str], str]]:
    """Rows that are not empty. A quote never closed ends with its line, and takes none of the rows below it in."""
    at = again = 0
    while at < len(lines):
        taken = _Lines(lines, at, sign, begins)
        try:
            cells = next(csv.reader(taken, delimiter=sign), [])
        except csv.Error:
            what = "is no row of a table"
            raise Fault(f"{where}: line {at + 1}", what, "look for a quote that is not closed") from None
        unclosed = taken.stopped
        if not unclosed and taken.next == len(lines) and again < MOST_UNCLOSED:
            unclosed = _is_unclosed(lines[at:], sign)
            again += unclosed
        if unclosed:
            yield at + 1, _begun(lines[at], sign, begins) or _bare(lines[at].split(sign)), UNCLOSED
        elif cells:
            yield at + 1, cells, ""
        at = at + 1 if unclosed else taken.next


class _Lines:
    """The lines of one row as a reader asks for them, up to one that begins another row; ``next`` comes after them."""

    def __init__(self, lines: Sequence[str], first: int, sign: str, begins: Begins) -> None:
        self.next = first
        self.stopped = False
        self._lines = lines
        self._first = first
        self._sign = sign
        self._begins = begins

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        if self.next == len(self._lines):
            raise StopIteration
        line = self._lines[self.next]
        if self.next > self._first and _begun(line, self._sign, self._begins):
            self.stopped = True
            raise StopIteration
        self.next += 1
        return line


def _begun(line: str, sign: str, begins: Begins) -> list[str]:
    """The cells of a line that can only be a row's, however its quotes are meant; none of any other line."""
    for cells in _readings(line[:LONGEST_CELL], sign):
        if len(cells) > 1 and begins(cells):
            return cells
    return []


def _readings(line: str, sign: str) -> Iterator[list[str]]:
    """What the cells of a line may be: by its quotes, without them, or with one sign that is a part of a cell."""
    with contextlib.suppress(csv.Error):
        yield _bare(next(csv.reader([line], delimiter=sign), []))
    parts = line.split(sign)
    yield _bare(parts)
    for k in range(min(len(parts) - 1, MOST_JOINED)):
        yield _bare([*parts[:k], f"{parts[k]}{sign}{parts[k + 1]}", *parts[k + 2 :]])


def _bare(cells: Sequence[str]) -> list[str]:
    return [cell.strip().strip('"').strip() for cell in cells]


def _is_unclosed(lines: Sequence[str], sign: str) -> bool:
    """Whether the last row has a quote that is never closed, and rows below it in the quote."""
    return any(line.strip() for line in lines[1:]) and "unexpected end" in _strict_fault(lines, sign)


def _headings(cells: Sequence[str], where: str) -> tuple[str, ...]:
    headings = tuple(" ".join(cell.split()).casefold() for cell in cells)
    while headings and not headings[-1]:
        headings = headings[:-1]
    if len(headings) > MOST_COLUMNS:
        raise Fault(where, f"has {len(headings)} columns", f"write at most {MOST_COLUMNS}")
    twice = next((each for each in headings if each and headings.count(each) > 1), None)
    if twice is not None:
        raise Fault(where, f'has two columns called "{twice[:40]}"', "give each heading once")
    return headings


def _row(line: int, cells: Sequence[str], wrong: str, headings: Sequence[str], where: str) -> Row:
    padded = [cell.strip() for cell in cells] + [""] * (len(headings) - len(cells))
    fault = _row_fault(cells, wrong, headings, f"{where}: line {line}")
    return Row(line, dict(zip(headings, padded, strict=False)), fault)


def _row_fault(cells: Sequence[str], wrong: str, headings: Sequence[str], where: str) -> Fault | None:
    if wrong == UNCLOSED:
        return Fault(where, wrong, "close it, or take it away")
    if wrong:
        return Fault(where, wrong, "close that quote before it, if it is a row of its own")
    if any(cell.strip() for cell in cells[len(headings) :]):
        return Fault(where, "has more cells than there are headings", "part cells as the headings are")
    longest = max(cells, key=len)
    if len(longest) <= LONGEST_CELL:
        return None
    right = "a short answer is enough"
    if "\n" in longest:
        right = "look for a quote that is not closed"
    return Fault(where, f"has a cell of {len(longest)} letters", right)


FORMULA = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What a spreadsheet takes a cell that begins with it for; the last four are the wide forms of the first."""


_INNER_FORMULA = re.compile(rf'([{SIGNS}][\s"]*)(?=[{re.escape("".join(FORMULA))}])')


def safe_cell(value: str | float | None) -> str | float:
    """What is written into a cell: text on one line, and never anything that a spreadsheet would work out."""
    if value is None:
        return ""
    if isinstance(value, float | int):
        return value
    line = " ".join("".join(letter if _is_plain(letter) else " " for letter in value).split())
    line = _INNER_FORMULA.sub(r"\1'", line)
    return f"'{line}" if line.startswith(FORMULA) else line


def _is_plain(letter: str) -> bool:
    return unicodedata.category(letter) not in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")


def written_table(rows: Sequence[Sequence[str | float | None]], sign: str = ",") -> str:
    """Rows as CSV text that begins with a byte order mark, by which spreadsheets know UTF-8."""
    return "\ufeff" + "".join(written_row(row, sign) for row in rows)


def written_row(row: Sequence[str | float | None], sign: str) -> str:
    """A row as a line of CSV text. A cell with any sign that may part cells is quoted, whichever does here.

    Where semicolons part the cells a number has its decimal comma: spreadsheets that expect the one expect the other.
    """
    return sign.join(_written(value, sign) for value in row) + "\r\n"


def _written(value: str | float | None, sign: str) -> str:
    if not isinstance(value, float):
        return _quoted(safe_cell(value))
    text = f"{value:.12g}"
    return text.replace(".", ",") if sign == ";" else text


def _quoted(value: str | float) -> str:
    text = str(value)
    doubled = text.replace('"', '""')
    return f'"{doubled}"' if any(letter in text for letter in f'{SIGNS}"') else text


def with_rows(content: bytes, rows: Sequence[Sequence[str | float | None]]) -> bytes:
    """A table with rows after its own, which stay as they are; the new ones are parted and encoded alike."""
    if not rows:
        return content
    encoding = "utf-8"
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encoding = "utf-16-le" if content.startswith(codecs.BOM_UTF16_LE) else "utf-16-be"
    text = content.decode(encoding)
    ends = "\r\n" if "\r\n" in text or "\n" not in text else "\n"
    _, sign = _parted(text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n"))
    more = "".join(written_row(row, sign) for row in rows).replace("\r\n", ends)
    return content + ("" if text.endswith(("\n", "\r")) else ends).encode(encoding) + more.encode(encoding)
