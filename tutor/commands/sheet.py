"""``sleeve-tutor sheet``: practice sheets and answer forms for a class, and the teacher's key apart."""

from __future__ import annotations

import argparse
from pathlib import Path

from tutor.commands.options import add_semicolons, sign_of

SUMMARY = "make practice sheets and answer forms for a class, to scale"
DESCRIPTION = """\
Makes for each learner of a class a sheet with the questions, blanks and the pattern, to scale: full size over as many
pages as it takes, with marks by which the pages are put together, or half or quarter size; a square on the first page
must measure 50 mm. Beside it an answer form, and each pattern as an SVG file to be altered in an editor of drawings.
The teacher's key lies apart, in a folder of its own. Learners keep the variant they were dealt when more are added.
"""
EXAMPLE = "sleeve-tutor sheet homework.toml class.csv --out upper-arm --pdf"
PAPERS = ("a4", "letter")
SCALES = ("full", "half", "quarter")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("homework", type=Path, metavar="HOMEWORK", help="a TOML file: the tasks, and how they are set")
    parser.add_argument("class_list", type=Path, metavar="CLASS", help="a CSV file with a row for each learner")
    parser.add_argument("--out", type=Path, required=True, metavar="FOLDER", help="the folder to write into")
    parser.add_argument("--paper", choices=PAPERS, default="a4", help="A4 if left out")
    parser.add_argument("--scale", choices=SCALES, default="full", help="full size if left out")
    parser.add_argument("--pdf", action="store_true", help="write each sheet as one PDF file too; needs reportlab")
    parser.add_argument("--seams-only", action="store_true", help="draw no cut line round the seams")
    parser.add_argument("--force", action="store_true", help="write over files that come out otherwise")
    add_semicolons(parser)


def run(args: argparse.Namespace) -> int:
    from tutor.classwork.enrolment import class_of
    from tutor.classwork.homework_reading import read_homework
    from tutor.classwork.page_pdf import check_pdf
    from tutor.classwork.register import dealt
    from tutor.classwork.sheet import Look
    from tutor.classwork.sheets_run import SheetsRun
    from tutor.classwork.store import Store
    from tutor.classwork.tiles import PAPERS as SIZES
    from tutor.commands.progress_line import ProgressLine
    from tutor.faults import printable

    if args.pdf:
        check_pdf()
    homework = read_homework(args.homework)
    learners = class_of(args.class_list, homework.unit)
    store = Store(args.out)
    try:
        with store.locked():
            dealing = ProgressLine("dealt", len(learners))
            register = dealt(homework, learners, store.register(), lambda learner: dealing.step(learner.name))
            dealing.done()
            store.write_register(register)
            look = Look(SIZES[args.paper], args.scale, not args.seams_only)
            sheets = SheetsRun(homework, register, args.out, look, args.pdf, args.force, sign_of(args))
            drawing = ProgressLine("drawn", len(register.learners))
            sheets.write(drawing.step)
            drawing.done()
    finally:
        store.close()
    print(printable(homework.title))
    variants = len({learner.deal for learner in register.learners})
    print(f"{len(register.learners)} learners, {variants} variants, {sheets.pages} pages")
    print(f"  {printable(str(args.out / 'learners'))}  for each learner: sheet, answer form, patterns to alter")
    print(f"  {printable(str(args.out / 'answers.csv'))}  answer form of the whole class")
    print(f"  {printable(str(args.out / 'key'))}  the teacher's key")
    return 0
