"""``sleeve-tutor draft``: a sleeve block, and armholes for it, from measures."""

from __future__ import annotations

import argparse
import re
from pathlib import Path
from typing import Any

from tutor.commands.options import (
    LENGTHS,
    OVER,
    add_json,
    add_picture,
    add_units,
    allowance_of,
    check_picture,
    length_of,
    unit_of,
)
from tutor.units import Unit

SUMMARY = "draft a sleeve block from measures of body and armhole"
DESCRIPTION = f"""\
Drafts a sleeve whose cap seam is the armhole plus the cap ease, front and back each, with a front and a back
armhole that it fits. The cap's size follows from the cap height and the girth, from one of them alone, or from
the cap height and two slants; the girth is the bicep girth, or arm girth plus wearing ease. A wish that can't be
drawn is refused with what would be possible. Prints the pattern as SVG in millimetres, or writes it to a file, or
draws it with its measures.
{LENGTHS}
"""
EXAMPLE = """\
sleeve-tutor draft --armhole-front '21 cm' --armhole-back '22 cm' \\
    --bicep-girth '34 cm' --cap-ease '2.5 cm' --sleeve-length '58 cm' \\
    --hem-girth '24 cm' --out block.svg"""

GROUPS: dict[str, dict[str, str]] = {
    "always needed": {
        "armhole-front": "the front armhole on its seam line, underarm point to shoulder tip",
        "armhole-back": "the back armhole likewise",
        "sleeve-length": "crown to hem along the grain",
        "hem-girth": "width of the hem, ease included",
    },
    "the cap's size": {
        "cap-height": "crown to bicep line",
        "bicep-girth": "width at the bicep line, ease included",
        "arm-girth": "girth of the arm, with --wearing-ease instead of --bicep-girth",
        "wearing-ease": "bicep girth less arm girth; may be below zero for a knit",
        "slant-front": "straight from crown to front underarm point",
        "slant-back": "straight from crown to back underarm point",
    },
    "cap ease": {
        "cap-ease": "cap seam less armhole, shared in proportion to the armholes",
        "cap-ease-front": "or of the front alone",
        "cap-ease-back": "and of the back alone",
    },
    "levels and notches": {
        "elbow-level": "crown to elbow line; else half way from bicep line to hem",
        "notch-front": "underarm point to front notch along the seam; else a third of the armhole",
        "notch-back": "underarm point to lower back notch along the seam; else a third of the armhole",
    },
}
"""The options that are lengths; the fields of DraftSpec with hyphens."""
LENGTH_NAMES = tuple(name for group in GROUPS.values() for name in group)
LONGEST_TITLE = 200
_FIELD = re.compile(rf"\b({'|'.join(name.replace('-', '_') for name in LENGTH_NAMES)}|to_wrist)\b")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    for title, options in GROUPS.items():
        group = parser.add_argument_group(title)
        for name, words in options.items():
            group.add_argument(f"--{name}", metavar="LENGTH", help=words)
        if "elbow-level" in options:
            group.add_argument("--above-elbow", action="store_true", help="the sleeve ends above the elbow")
    result = parser.add_argument_group("the pattern")
    result.add_argument("--title", default="", metavar="TEXT", help="what the pattern is called")
    result.add_argument("--out", type=Path, metavar="FILE", help="write it there instead of printing it")
    result.add_argument("--allowance", metavar="LENGTH", help="draw a cut line this far outside the seam lines")
    result.add_argument("--force", action="store_true", help="write over a file that is there already")
    add_picture(parser, "draw it with its measures, in place of printing SVG")
    add_units(parser)
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    from tutor.commands.measures_table import value_rows
    from tutor.commands.output import print_data, print_json, print_table
    from tutor.faults import Fault, printable
    from tutor.pattern.draft import DraftSpec, draft
    from tutor.pattern.measures import measure
    from tutor.pattern.svg_write import write_svg
    from tutor.whole_file import write_new

    unit = unit_of(args)
    check_picture(args)
    if args.force and args.out is None:
        raise Fault("--force", "is for the file, which isn't asked for", "add --out FILE")
    allowance = allowance_of(args.allowance, unit)
    try:
        pattern = draft(DraftSpec(**_fields(args, unit)))
    except Fault as fault:
        raise Fault(*map(_as_options, (fault.where, fault.what, fault.right))) from None
    svg = write_svg(pattern, allowance=allowance)
    if args.out is not None:
        write_new(args.out, svg, over=args.force, how_over=OVER)
    if args.json:
        written = {"svg": svg} if args.out is None else {"out": str(args.out)}
        print_json({"title": pattern.title, "measures": measure(pattern), **written})
    elif args.out is None and not args.draw:
        print_data(svg)
    else:
        title = printable(pattern.title) or "sleeve block"
        print(title if args.out is None else f"{printable(str(args.out))}: {title}")
        print()
        print_table(value_rows(measure(pattern), unit))
    if args.draw:
        from tutor.commands.picture import print_pattern

        print_pattern(pattern, args)
    return 0


def _fields(args: argparse.Namespace, unit: Unit) -> dict[str, Any]:
    """The fields of DraftSpec that were given. Raises Fault for one that is no length, or a title that can't be."""
    from tutor.faults import Fault

    title = args.title
    if len(title) > LONGEST_TITLE or not title.isprintable():
        raise Fault("--title", "is no title", f"give one line of at most {LONGEST_TITLE} letters")
    texts = {name: getattr(args, name.replace("-", "_")) for name in LENGTH_NAMES}
    lengths = {name: length_of(text, f"--{name}", unit) for name, text in texts.items()}
    return {
        **{name.replace("-", "_"): mm for name, mm in lengths.items()},
        "unit": unit,
        "to_wrist": not args.above_elbow,
        "title": title,
    }


def _as_options(text: str) -> str:
    """The text with the names of fields made those of options."""
    return _FIELD.sub(lambda found: f"--{found[0]}".replace("_", "-").replace("to-wrist", "above-elbow"), text)
