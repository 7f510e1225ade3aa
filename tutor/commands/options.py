"""Options that several commands share, and what they mean."""

from __future__ import annotations

import argparse

from tutor.faults import Fault
from tutor.units import Unit, parse_length

UNITS = ("cm", "in")
GREATEST_ALLOWANCE = 100.0
"""mm."""
GREATEST_SEED = 2**31 - 1
PICTURE_OPTIONS = ("ascii", "width", "height")
PICTURE_SIZES = {"width": (20, 500), "height": (8, 250)}
OVER = "--force to write over it"
LENGTHS = 'A LENGTH is text such as "38 mm", "3.8 cm" or "1 1/2 in"; a bare number is in the unit of --units.'


def add_units(parser: argparse.ArgumentParser) -> None:
    """Adds ``--units``. Left out, it sets nothing, so that the program's own option of that name holds."""
    parser.add_argument(
        "--units",
        choices=UNITS,
        default=argparse.SUPPRESS,
        help="centimetres or inches, for what is shown and for lengths without a unit; remembered for next time",
    )


def add_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--json", action="store_true", help="print JSON alone: full precision, lengths in mm, angles in degrees"
    )


def add_picture(parser: argparse.ArgumentParser, drawn: str) -> None:
    """Adds ``--draw`` and what goes with it; ``drawn`` says what is drawn."""
    picture = parser.add_argument_group("picture")
    picture.add_argument("--draw", action="store_true", help=drawn)
    picture.add_argument("--ascii", action="store_true", help="draw with plain letters instead of braille")
    picture.add_argument("--width", type=int, metavar="COLUMNS", help="columns of the picture: as the terminal")
    picture.add_argument("--height", type=int, metavar="ROWS", help="rows of the picture: as the terminal")


def check_picture(args: argparse.Namespace) -> None:
    """Raises Fault for options of a picture that isn't asked for, can't be had with JSON, or is of no size."""
    if args.draw and args.json:
        raise Fault("--draw", "can't be given with --json, which prints nothing else", "leave one of them out")
    for name in PICTURE_OPTIONS:
        if getattr(args, name) and not args.draw:
            raise Fault(f"--{name}", "is for the picture, which isn't asked for", "add --draw")
    for name, (low, high) in PICTURE_SIZES.items():
        size = getattr(args, name)
        if size is not None and not low <= size <= high:
            raise Fault(f"--{name}", f"{size} is no size for a picture", f"give {low} to {high}")


def add_seed(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--seed", type=int, metavar="N", help="variant N: the same number gives the same arm and block, everywhere"
    )


def check_seed(args: argparse.Namespace) -> None:
    """Raises Fault for a number that no variant has."""
    if args.seed is not None and not 0 <= args.seed <= GREATEST_SEED:
        raise Fault("--seed", f"{args.seed} is no number of a variant", f"write 0 to {GREATEST_SEED}")


def unit_of(args: argparse.Namespace) -> Unit:
    """The unit to read and show lengths in. One that was asked for is remembered."""
    from tutor.settings import remember_unit, remembered_unit

    asked = getattr(args, "units", None)
    if asked is None:
        return remembered_unit()
    remember_unit(Unit(asked))
    return Unit(asked)


def length_of(text: str | None, where: str, unit: Unit) -> float | None:
    """The length of an option in mm, or None where it was left out. Raises Fault at ``where``."""
    return None if text is None else parse_length(text, unit, where)


def allowance_of(text: str | None, unit: Unit) -> float:
    """The seam allowance in mm, 0 where none was asked for. Raises Fault for what is none."""
    allowance = length_of(text, "--allowance", unit) or 0.0
    if not 0 <= allowance <= GREATEST_ALLOWANCE:
        raise Fault("--allowance", f"{allowance / 10:.6g} cm is no seam allowance", "give 0 to 10 cm")
    return allowance


def add_semicolons(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--semicolons", action="store_true", help="part the cells of CSV files by semicolons")


def sign_of(args: argparse.Namespace) -> str:
    """The sign that parts the cells of CSV files."""
    return ";" if args.semicolons else ","
