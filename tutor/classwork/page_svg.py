"""A page written as an SVG file of its own size."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

import numpy as np

from tutor.classwork.canvas import Box, Item, Page, Stroke, Style, Words
from tutor.geometry import cubic
from tutor.pattern.svg_tree import SVG

STRAIGHT = 1e-6
WINDOW = "window"


def page_svg(page: Page, title: str) -> str:
    """The page as SVG text that prints at its size."""
    size = f'width="{_number(page.width)}mm" height="{_number(page.height)}mm"'
    box = f'viewBox="0 0 {_number(page.width)} {_number(page.height)}"'
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', f'<svg xmlns="{SVG}" {size} {box}>']
    lines.append(f"  <title>{escape(_plain(title))}</title>")
    if page.window is not None and page.inside:
        lines.append(f'  <clipPath id="{WINDOW}">{_rectangle(page.window)}</clipPath>')
        lines += [f'  <g clip-path="url(#{WINDOW})" fill="none">', *map(_item, page.inside), "  </g>"]
    lines += ['  <g fill="none">', *map(_item, page.items), "  </g>", "</svg>"]
    return "\n".join(lines) + "\n"


def _rectangle(box: Box) -> str:
    place = f'x="{_number(box.low.real)}" y="{_number(box.low.imag)}"'
    return f'<rect {place} width="{_number(box.width)}" height="{_number(box.height)}"/>'


def _item(item: Item) -> str:
    return _stroke(item) if isinstance(item, Stroke) else _words(item)


def _stroke(stroke: Stroke) -> str:
    return f'    <path d="{path_data(stroke)}"{_style(stroke.style)}/>'


def path_data(stroke: Stroke) -> str:
    """A stroke as path data, thousandths of a millimetre."""
    steps = [f"M{_xy(stroke.rows[0, 0])}"]
    for row in stroke.rows:
        straight = np.abs(row - cubic.line(complex(row[0]), complex(row[3]))).max() <= STRAIGHT
        steps.append("L" + _xy(row[3]) if straight else "C" + " ".join(map(_xy, row[1:])))
    return "".join(steps)


def _style(style: Style) -> str:
    level = round(255 * style.grey)
    dashes = f' stroke-dasharray="{" ".join(map(_number, style.dashes))}"' if style.dashes else ""
    return f' stroke="#{level:02x}{level:02x}{level:02x}" stroke-width="{_number(style.width)}"{dashes}'


def _words(words: Words) -> str:
    place = f'x="{_number(words.at.real)}" y="{_number(words.at.imag)}"'
    weight = ' font-weight="bold"' if words.bold else ""
    letters = (
        f'font-family="sans-serif" font-size="{_number(words.size)}"{weight} text-anchor={quoteattr(words.anchor)}'
    )
    return f'    <text {place} {letters} fill="#000000">{escape(_plain(words.text))}</text>'


def _plain(text: str) -> str:
    """The text without anything that XML 1.0 can't hold."""
    return "".join(letter if letter.isprintable() else " " for letter in text)


def _xy(point: complex) -> str:
    return f"{_number(point.real)},{_number(point.imag)}"


def _number(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
