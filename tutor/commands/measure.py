"""``sleeve-tutor measure``: every measure of a pattern."""

from __future__ import annotations

import argparse

from tutor.commands.options import LENGTHS, add_json, add_picture, add_units, check_picture, unit_of
from tutor.commands.output import print_json, print_table

SUMMARY = "all measures of a pattern"
DESCRIPTION = f"""\
Reads a pattern from an SVG file and prints every measure that its seam lines allow: girths, cap height,
seams along their curves, ease, notches, kinks. Seam allowance never enters a measure. {LENGTHS}
"""
EXAMPLE = "sleeve-tutor measure blouse-block.svg --arm '29 cm'"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("pattern", metavar="PATTERN", help="an SVG file whose paths carry the ids of seams")
    parser.add_argument("--arm", metavar="LENGTH", help="girth of the arm: adds the wearing ease to the measures")
    add_picture(parser, "draw the pattern below its measures")
    add_units(parser)
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    from tutor.commands.measures_table import DECIMALS, value_rows
    from tutor.commands.pattern_source import arm_of, read_pattern
    from tutor.faults import printable
    from tutor.pattern.measures import measure
    from tutor.units import format_length

    unit = unit_of(args)
    check_picture(args)
    arm = arm_of(args.arm, unit)
    pattern = read_pattern(args.pattern)
    measures = measure(pattern, arm)
    if args.json:
        given = {} if arm is None else {"arm-girth": arm}
        print_json({"pattern": args.pattern, "title": pattern.title, **given, "measures": measures})
        return 0
    print(printable(pattern.title or args.pattern))
    print()
    print_table(value_rows(measures, unit))
    if measures.get("wearing-ease", 0.0) < 0:
        short = format_length(-measures["wearing-ease"], unit, decimals=DECIMALS)
        print()
        print(f"The sleeve is smaller than the arm, by {short} at the bicep line.")
    if args.draw:
        from tutor.commands.picture import print_pattern

        print_pattern(pattern, args)
    return 0
