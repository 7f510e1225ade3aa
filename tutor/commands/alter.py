"""``sleeve-tutor alter``: a plan carried out on a pattern, and what it costs."""

from __future__ import annotations

import argparse
from pathlib import Path

from tutor.commands.options import LENGTHS, OVER, add_json, add_picture, add_units, allowance_of, check_picture, unit_of

SUMMARY = "carry out a plan on a pattern, and show what it costs"
DESCRIPTION = f"""\
Cuts the pattern along the slashes of a plan, opens or overlaps them as asked, trues the seams, and prints
every measure before and after, seams as cut and as trued, openings as met, pieces, and the areas of overlap, where
pieces lie on each other, and gap, where the new outline is not covered. What paper can't do is refused, with the
slash, the piece and the place. {LENGTHS}
"""
EXAMPLE = "sleeve-tutor alter blouse-block.svg crossed-slashes.toml --draw --out altered.svg"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("pattern", metavar="PATTERN", help="an SVG file whose paths carry the ids of seams")
    parser.add_argument("plan", metavar="PLAN", help="a TOML file: slashes, hinges, openings, the armhole's answer")
    parser.add_argument("--arm", metavar="LENGTH", help="girth of the arm: adds the wearing ease to the measures")
    add_picture(parser, "draw before and after over each other")
    written = parser.add_argument_group("the altered pattern")
    written.add_argument("--out", type=Path, metavar="FILE", help="write it as SVG, to scale")
    written.add_argument("--allowance", metavar="LENGTH", help="draw a cut line this far outside the seam lines")
    written.add_argument("--force", action="store_true", help="write over a file that is there already")
    add_units(parser)
    add_json(parser)


def run(args: argparse.Namespace) -> int:
    from tutor.alteration.alter import alter
    from tutor.alteration.outline import whole
    from tutor.alteration.plan_file import read_plan, solved
    from tutor.alteration.refusal import Refusal
    from tutor.commands import alter_report as report
    from tutor.commands.output import print_json
    from tutor.commands.pattern_source import arm_of, read_pattern
    from tutor.faults import Fault
    from tutor.whole_file import write_new

    unit = unit_of(args)
    _check(args)
    arm, allowance = arm_of(args.arm, unit), allowance_of(args.allowance, unit)
    pattern = read_pattern(args.pattern)
    plan_file = read_plan(Path(args.plan), landmarks=whole(pattern.sleeve).landmarks)
    try:
        altered = alter(pattern, solved(pattern, plan_file))
    except Refusal as refusal:
        if args.json:
            print_json({"pattern": args.pattern, "plan": args.plan, "refused": report.refusal_json(refusal)})
        else:
            print(f"refused: {refusal.kind}: {refusal.words(unit)}")
        return 1
    except Fault as fault:
        raise Fault(f"{args.plan}: {fault.where}", fault.what, fault.right) from None
    if args.out is not None:
        from tutor.pattern.svg_write import write_svg

        write_new(args.out, write_svg(altered.after, allowance=allowance), over=args.force, how_over=OVER)
    if args.json:
        print_json({"pattern": args.pattern, "plan": args.plan, **report.altered_json(altered, arm)})
        return 0
    report.print_altered(altered, arm, unit)
    if args.draw:
        from tutor.commands.picture import print_altered

        print_altered(altered, unit, args)
    return 0


def _check(args: argparse.Namespace) -> None:
    """Raises Fault for options that don't go together."""
    from tutor.faults import Fault

    check_picture(args)
    for name in ("allowance", "force"):
        if getattr(args, name) and args.out is None:
            raise Fault(f"--{name}", "is for the file, which isn't asked for", "add --out FILE")
