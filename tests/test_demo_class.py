"""The demo class of fourteen: sheets made and answers marked as README says, and each mistake known that was made."""

from __future__ import annotations

import csv
from pathlib import Path

import pypdfium2
import pytest
from demo_class import CLASS, FOLDER, class_list

from tutor import cli


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder into which sheets were made and marks written."""
    folder = tmp_path_factory.mktemp("evening") / "upper-arm"
    homework, learners, answers = (str(FOLDER / name) for name in ("homework.toml", "class.csv", "answers"))
    assert cli.main(["sheet", homework, learners, "--out", str(folder), "--pdf"]) == 0
    assert cli.main(["mark", homework, answers, "--out", str(folder)]) == 1
    return folder


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def test_the_class_list_is_the_one_that_is_kept() -> None:
    assert (FOLDER / "class.csv").read_text(encoding="utf-8") == class_list().replace("\r\n", "\n")
    assert len(CLASS) == 14


def test_everybody_has_a_sheet_with_a_square_of_50_mm(out: Path) -> None:
    """The square's lower side, its longest dark row on the first page, is measured by PDFium, another program."""
    sheets = sorted(out.glob("learners/*/*-sheet.pdf"))
    assert len(sheets) == 14
    for sheet in sheets:
        with pypdfium2.PdfDocument(sheet) as pdf:
            image = pdf[0].render(scale=4, grayscale=True, crop=(380, 640, 0, 0)).to_numpy()
            upper = image.reshape(image.shape[0], -1)
            longest = max(_run(row) for row in (upper < 128).tolist())
            assert longest * 25.4 / 72 / 4 == pytest.approx(50, abs=0.25)


def _run(row: list[bool]) -> int:
    """The longest run of dark points."""
    longest = run = 0
    for dark in row:
        run = run + 1 if dark else 0
        longest = max(longest, run)
    return longest


def test_whoever_is_right_has_full_marks_and_each_mistake_is_known(out: Path) -> None:
    found = {(row["learner"], int(row["task"])): row for row in rows(out / "marks-by-answer.csv")}
    for pupil in CLASS:
        for task, gives in pupil.gives.items():
            if (pupil.name, task) not in found:
                assert pupil.broken
                continue
            row = found[pupil.name, task]
            if gives == "right" and task not in pupil.loose:
                assert (row["mark"], row["mistake"]) == ("100", ""), row
            elif isinstance(gives, str) and gives != "right":
                assert row["mistake"] == gives, row
                assert int(row["mark"]) < 80


def test_one_form_can_t_be_read_one_hands_in_nothing_and_one_is_late(out: Path) -> None:
    notes = {row["learner"]: row["note"] for row in rows(out / "marks.csv")}
    assert notes["Marit"] == "marit.toml could not be marked"
    assert notes["Ines"] == "nothing handed in"
    assert notes["Fenna"] == "late"
    assert notes["(marit.toml)"].startswith("not marked: marit.toml: line 2")
    page = (out / "class.html").read_text(encoding="utf-8")
    assert "13 of 14 learners handed something in, 1 of them late" in page
    assert "What to teach again" in page
