"""Pages of HTML that ask for nothing: no script, no picture, no letter shape from elsewhere, every text escaped."""

from __future__ import annotations

import base64
import hashlib
import html
import re
from collections.abc import Iterable, Sequence

from tutor.classwork.result import Drawn
from tutor.faults import printable

STYLE = """
body { font: 16px/1.5 sans-serif; color: #1a1a1a; background: #fff }
body { max-width: 54rem; margin: 2rem auto; padding: 0 1rem }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0 } h2 { font-size: 1.2rem; margin: 2rem 0 .3rem }
h3 { font-size: 1rem; margin: 1rem 0 .2rem }
p { margin: .4rem 0 } .small { color: #555; font-size: .9rem } .mark { font-weight: bold }
table { border-collapse: collapse; margin: .6rem 0 } th { text-align: left }
th, td { border-bottom: 1px solid #bbb; padding: .2rem .9rem .2rem 0; vertical-align: top }
td.number, th.number { text-align: right } tr.missed td { font-weight: bold }
ul { margin: .3rem 0; padding-left: 1.3rem } .said { border-left: 4px solid #777; padding-left: .8rem }
.pictures { display: flex; flex-wrap: wrap; gap: 1.5rem; align-items: flex-end }
svg { max-width: 100% } section { break-inside: avoid }
"""
_DIGEST = base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode()
POLICY = f"default-src 'none'; style-src 'sha256-{_DIGEST}'; base-uri 'none'; form-action 'none'"
_NUMBERS = re.compile(r"(-?[0-9.]+),(-?[0-9.]+)")
LOOKS = {
    "before": ("before", {"stroke": "#666", "stroke-width": "1.2", "stroke-dasharray": "6 4"}),
    "wanted": ("as wanted", {"stroke": "#0a6b3d", "stroke-width": "1.6", "stroke-dasharray": "1.5 3"}),
    "theirs": ("yours", {"stroke": "#8a1c1c", "stroke-width": "2"}),
}
"""How the outlines of a picture are called and drawn: told apart by dashes as well as by colour."""
PIXELS = 0.8
"""CSS pixels to the mm in pictures."""
EDGE = 8.0


def text(words: str) -> str:
    """Words as HTML: nothing in them is markup, and nothing in them steers anything."""
    return html.escape(printable(words), quote=True)


def page(title: str, body: Iterable[str]) -> str:
    """A whole page."""
    lines = [
        "<!DOCTYPE html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{html.escape(POLICY, quote=True)}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        f"<title>{text(title)}</title>",
        f"<style>{STYLE}</style>",
        "</head>",
        "<body>",
        *body,
        "</body>",
        "</html>",
    ]
    return "\n".join(lines) + "\n"


def paragraph(words: str, kind: str = "") -> str:
    return f"<p{_class(kind)}>{text(words)}</p>"


def bullets(items: Iterable[str]) -> list[str]:
    """A list; nothing at all for no items."""
    found = [f"<li>{text(item)}</li>" for item in items]
    return ["<ul>", *found, "</ul>"] if found else []


def table(head: Sequence[str], rows: Iterable[tuple[str, Sequence[str]]], numbers: int) -> list[str]:
    """A table of rows, each with its class; its last columns, so many of them, are of numbers."""
    first = len(head) - numbers
    names = ["number" if k >= first else "" for k in range(len(head))]
    cells = "".join(f"<th{_class(name)}>{text(cell)}</th>" for name, cell in zip(names, head, strict=True))
    lines = ["<table>", f"<tr>{cells}</tr>"]
    for kind, row in rows:
        cells = "".join(f"<td{_class(name)}>{text(cell)}</td>" for name, cell in zip(names, row, strict=True))
        lines.append(f"<tr{_class(kind)}>{cells}</tr>")
    return [*lines, "</table>"]


def _class(name: str) -> str:
    return f' class="{name}"' if name else ""


def pictures(groups: Sequence[Sequence[Drawn]], titles: Sequence[str]) -> list[str]:
    """Outlines over each other, picture by picture, and what each line is."""
    if not groups:
        return []
    groups = [_seen(lines) for lines in groups]
    drawn = [_picture(lines, title) for lines, title in zip(groups, titles, strict=False)]
    looks = list(dict.fromkeys(line.look for lines in groups for line in lines))
    return ['<div class="pictures">', *drawn, "</div>", _legend(looks)]


def _seen(lines: Sequence[Drawn]) -> list[Drawn]:
    """The lines of a picture that there are, without those that lie under another just like them."""
    return [line for k, line in enumerate(lines) if line.path and line.path not in {e.path for e in lines[k + 1 :]}]


def _picture(lines: Sequence[Drawn], title: str) -> str:
    places = [(float(x), float(y)) for line in lines for x, y in _NUMBERS.findall(line.path)]
    left, top = (min(place[k] for place in places) - EDGE for k in (0, 1))
    width, height = (max(place[k] for place in places) + EDGE - low for k, low in ((0, left), (1, top)))
    size = f'width="{width * PIXELS:.0f}" height="{height * PIXELS:.0f}"'
    paths = "".join(f'<path d="{html.escape(line.path, quote=True)}"{_stroke(line.look)}/>' for line in lines)
    box = f'viewBox="{left:.1f} {top:.1f} {width:.1f} {height:.1f}"'
    return f'<svg {size} {box} fill="none" role="img"><title>{text(title)}</title>{paths}</svg>'


def _legend(looks: Sequence[str]) -> str:
    samples = []
    for look in looks:
        line = f'<svg width="44" height="10" fill="none" aria-hidden="true"><path d="M2,5L42,5"{_stroke(look)}/></svg>'
        samples.append(f"{line} {text(LOOKS[look][0])}")
    return f'<p class="small">{" &#160; ".join(samples)}</p>'


def _stroke(look: str) -> str:
    return "".join(f' {name}="{value}"' for name, value in LOOKS[look][1].items())


def bars(counts: Sequence[int], labels: Sequence[str], title: str) -> str:
    """Columns side by side, each with its count above and its label below."""
    most, high, wide = max([*counts, 1]), 120, 52
    parts = []
    for k, (count, label) in enumerate(zip(counts, labels, strict=True)):
        tall, middle = high * count / most, k * wide + wide / 2
        place = f'x="{k * wide + 6}" y="{20 + high - tall:.1f}" width="{wide - 12}" height="{tall:.1f}"'
        parts.append(f'<rect {place} fill="#4a6785"/>')
        if count:
            parts.append(_word(middle, 15 + high - tall, str(count)))
        parts.append(_word(middle, 38 + high, label))
    width, height = wide * len(counts), high + 48
    size = f'width="{width}" height="{height}" viewBox="0 0 {width} {height}"'
    return f'<svg {size} role="img"><title>{text(title)}</title>{"".join(parts)}</svg>'


def _word(x: float, y: float, words: str) -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="middle" font-size="12" font-family="sans-serif" fill="#1a1a1a">'
        f"{text(words)}</text>"
    )
