"""``sleeve-tutor sheet``: practice sheets and answer forms for a class, and the teacher's key apart."""

from __future__ import annotations

import argparse
from pathlib import Path

from tutor.commands.options import add_semicolons, sign_of
from tutor.faults import Fault, printable

SUMMARY = "make practice sheets for a class, or print a pattern, to scale"
DESCRIPTION = """\
Makes for each learner of a class a sheet with the questions, blanks and the pattern, to scale: full size over as many
pages as it takes, with marks by which the pages are put together, or half or quarter size; a square on the first page
must measure 50 mm. Beside it an answer form, and each pattern as an SVG file to be altered in an editor of drawings.
The teacher's key lies apart, in a folder of its own. Learners keep the variant they were dealt when more are added.
Given a pattern, an SVG file as measure and alter read it, its own pages are made instead.
"""
EXAMPLE = "sleeve-tutor sheet homework.toml class.csv --out upper-arm --pdf"
PAPERS = ("a4", "letter")
SCALES = ("full", "half", "quarter")
MOST_LACKING = 3
OF_NAMES = (
    "; a name with such letters has the learner's number in the class beside it, or in its place where none of it can"
    " be written"
)
"""Letters that are told as examples."""
SEAM_ALLOWANCE = 10.0
"""mm outside the seam lines, where nothing else is asked for."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("homework", type=Path, metavar="HOMEWORK", help="a TOML file; or a pattern, SVG")
    parser.add_argument(
        "class_list", nargs="?", type=Path, metavar="CLASS", help="a CSV file with a row for each learner"
    )
    parser.add_argument("--out", type=Path, required=True, metavar="FOLDER", help="the folder to write into")
    parser.add_argument("--paper", choices=PAPERS, default="a4", help="A4 if left out")
    parser.add_argument("--scale", choices=SCALES, default="full", help="full size if left out")
    parser.add_argument("--pdf", action="store_true", help="write each sheet as one PDF file too; needs reportlab")
    parser.add_argument("--seams-only", action="store_true", help="draw no cut line round the seams")
    parser.add_argument("--allowance", metavar="LENGTH", help="of the cut line round a pattern; 1 cm if left out")
    parser.add_argument("--force", action="store_true", help="write over files that come out otherwise")
    add_semicolons(parser)


def run(args: argparse.Namespace) -> int:
    if args.homework.suffix.casefold() == ".svg":
        return _pattern(args)
    if args.class_list is None:
        raise Fault(
            "CLASS", "is missing", "give a CSV file with a row for each learner; or a pattern that ends in .svg"
        )
    if args.allowance is not None:
        raise Fault("--allowance", "is for a pattern", "lessons give the seam allowance of their own")
    return _homework(args)


def _pattern(args: argparse.Namespace) -> int:
    """The pages of a pattern by itself."""
    from tutor.classwork.page_pdf import check_pdf, letters_lacking, pages_pdf
    from tutor.classwork.page_svg import page_svg
    from tutor.classwork.pattern_pages import pattern_pages
    from tutor.classwork.sheet import Look
    from tutor.classwork.tiles import PAPERS as SIZES
    from tutor.classwork.writing import content_of, make_folder, write_whole
    from tutor.commands.options import allowance_of
    from tutor.commands.pattern_source import read_pattern
    from tutor.units import Unit

    if args.class_list is not None:
        raise Fault("CLASS", "has no use for a pattern", "give a homework in TOML, or the pattern alone")
    if args.pdf:
        check_pdf()
    pattern = read_pattern(str(args.homework))
    allowance = SEAM_ALLOWANCE if args.allowance is None else allowance_of(args.allowance, Unit.CM)
    title = pattern.title or args.homework.stem
    pages = pattern_pages(pattern, title, Look(SIZES[args.paper], args.scale, not args.seams_only), allowance)
    name = args.homework.stem
    files = {f"{name}-{k}.svg": page_svg(page, f"{title}, page {k}").encode() for k, page in enumerate(pages, 1)}
    if args.pdf:
        files[f"{name}.pdf"] = pages_pdf(pages, title)
    make_folder(args.out)
    for file, content in files.items():
        there = content_of(args.out / file)
        if not args.force and (there or content) != content:
            right = "give another folder, or --force to write over it"
            raise Fault(str(args.out / file), "is there already, and would come out otherwise", right)
    for file, content in files.items():
        write_whole(args.out / file, content)
    print(printable(title))
    print(f"{len(pages)} pages in {printable(str(args.out))}; the square on the sleeve must measure what it says")
    if args.pdf:
        _print_lacking(letters_lacking(" ".join([title, *(page.words for page in pages)])))
    return 0


def _print_lacking(letters: frozenset[str], of_names: str = "") -> None:
    """One line about what stands in the PDF for letters that it has no shapes for."""
    if letters:
        some = sorted(letters)[:MOST_LACKING]
        more = f" and {len(letters) - len(some)} more" if len(letters) > len(some) else ""
        lacking = f"{printable(', '.join(some))}{more}"
        print(f"PDF has no shapes for {lacking}: there stands ?{of_names}; the SVG pages have all")


def _homework(args: argparse.Namespace) -> int:
    from tutor.classwork.enrolment import class_of, known_register
    from tutor.classwork.homework_reading import read_homework
    from tutor.classwork.page_pdf import check_pdf
    from tutor.classwork.register import dealt
    from tutor.classwork.sheet import Look
    from tutor.classwork.sheets_run import SheetsRun
    from tutor.classwork.store import Store
    from tutor.classwork.tiles import PAPERS as SIZES
    from tutor.commands.progress_line import ProgressLine

    if args.pdf:
        check_pdf()
    homework = read_homework(args.homework)
    learners = class_of(args.class_list, homework.unit)
    store = Store(args.out)
    try:
        with store.locked():
            dealing = ProgressLine("dealt", len(learners))
            register = dealt(
                homework, learners, known_register(homework, store), lambda learner: dealing.step(learner.name)
            )
            dealing.done()
            look = Look(SIZES[args.paper], args.scale, not args.seams_only)
            sheets = SheetsRun(homework, register, store, look, args.pdf, args.force, sign_of(args))
            drawing = ProgressLine("drawn", len(register.learners))
            sheets.write(drawing.step)
            drawing.done()
    finally:
        store.close()
    print(printable(homework.title))
    variants = len({learner.deal for learner in register.learners})
    counts = ((len(register.learners), "learner"), (variants, "variant"), (sheets.pages, "page"))
    print(", ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts))
    print(f"  {printable(str(args.out / 'learners'))}  for each learner: sheet, answer form, patterns to alter")
    print(f"  {printable(str(args.out / 'answers.csv'))}  answer form of the whole class")
    print(f"  {printable(str(args.out / 'key'))}  the teacher's key")
    _print_lacking(sheets.lacking, OF_NAMES)
    return 0
