"""Pages written as one PDF file, by reportlab, which is met here alone and need not be there.

Page boxes are in points, 72 to the inch, and nothing is scaled; the file asks viewers not to scale either. The same
pages give the same bytes.
"""

from __future__ import annotations

import importlib.util
import io
import shlex
import sys
import unicodedata
from collections.abc import Sequence
from typing import Any

import numpy as np

from tutor.classwork.canvas import Item, Page, Stroke, Words
from tutor.faults import Fault
from tutor.geometry import cubic
from tutor.letters import LATIN

POINT = 25.4 / 72
PLAIN, BOLD = "Vera", "VeraBd"
STRAIGHT = 1e-6
ANCHORS = {"start": "drawString", "middle": "drawCentredString", "end": "drawRightString"}


def check_pdf() -> None:
    """Raises Fault when PDF can't be written because its library is not installed."""
    if importlib.util.find_spec("reportlab") is None:
        right = f"install it with {shlex.quote(sys.executable)} -m pip install reportlab, or do with the SVG pages"
        raise Fault("--pdf", "needs reportlab, which is not installed", right)


def pages_pdf(pages: Sequence[Page], title: str) -> bytes:
    """The pages as the bytes of a PDF file. Raises Fault when the library is not installed."""
    from reportlab.pdfgen.canvas import Canvas

    letters = _letters()
    buffer = io.BytesIO()
    canvas = Canvas(buffer, invariant=1, pageCompression=1)
    canvas.setTitle(_shown(title, letters[PLAIN]))
    canvas.setCreator("sleeve-tutor")
    canvas.setViewerPreference("PrintScaling", "None")
    for page in pages:
        _Pen(canvas, page, letters).draw()
    canvas.save()
    return buffer.getvalue()


def letters_lacking(text: str) -> frozenset[str]:
    """The letters of a text that PDF has no shapes for, nor for any like them. Raises as ``pages_pdf`` does."""
    known = _letters()[PLAIN]
    return frozenset(letter for letter in text if letter != "?" and _shown(letter, known) == "?")


def _letters() -> dict[str, frozenset[int]]:
    """Which letters each font has shapes for."""
    check_pdf()
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for name in (PLAIN, BOLD):
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, f"{name}.ttf"))
    return {name: frozenset(pdfmetrics.getFont(name).face.charToGlyph) for name in (PLAIN, BOLD)}


class _Pen:
    """Draws one page."""

    def __init__(self, canvas: Any, page: Page, letters: dict[str, frozenset[int]]) -> None:
        self.canvas = canvas
        self.page = page
        self.letters = letters

    def draw(self) -> None:
        page, canvas = self.page, self.canvas
        canvas.setPageSize((page.width / POINT, page.height / POINT))
        if page.window is not None and page.inside:
            canvas.saveState()
            window = canvas.beginPath()
            x, y = self._place(complex(page.window.low.real, page.window.high.imag))
            window.rect(x, y, page.window.width / POINT, page.window.height / POINT)
            canvas.clipPath(window, stroke=0, fill=0)
            for item in page.inside:
                self._item(item)
            canvas.restoreState()
        for item in page.items:
            self._item(item)
        canvas.showPage()

    def _place(self, point: complex) -> tuple[float, float]:
        return point.real / POINT, (self.page.height - point.imag) / POINT

    def _item(self, item: Item) -> None:
        if isinstance(item, Stroke):
            self._stroke(item)
        else:
            self._words(item)

    def _stroke(self, stroke: Stroke) -> None:
        canvas, style = self.canvas, stroke.style
        canvas.setLineWidth(style.width / POINT)
        canvas.setStrokeGray(style.grey)
        canvas.setDash([dash / POINT for dash in style.dashes])
        path = canvas.beginPath()
        path.moveTo(*self._place(complex(stroke.rows[0, 0])))
        for row in stroke.rows:
            if np.abs(row - cubic.line(complex(row[0]), complex(row[3]))).max() <= STRAIGHT:
                path.lineTo(*self._place(complex(row[3])))
            else:
                path.curveTo(*(value for point in row[1:] for value in self._place(complex(point))))
        canvas.drawPath(path, stroke=1, fill=0)

    def _words(self, words: Words) -> None:
        name = BOLD if words.bold else PLAIN
        self.canvas.setFont(name, words.size / POINT)
        x, y = self._place(words.at)
        getattr(self.canvas, ANCHORS[words.anchor])(x, y, _shown(words.text, self.letters[name]))


def _shown(text: str, known: frozenset[int]) -> str:
    """The text in letters that there are shapes for: without its accent, spelled by others, or a ? where all fails."""
    return "".join(letter if ord(letter) in known else _nearest(letter, known) for letter in text)


def _nearest(letter: str, known: frozenset[int]) -> str:
    if unicodedata.combining(letter):
        return ""
    bare = unicodedata.normalize("NFKD", letter)[:1]
    spelled = LATIN.get(bare, bare)
    return spelled if spelled and known.issuperset(map(ord, spelled)) else "?"
