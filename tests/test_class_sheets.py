"""Sheets for a class: to scale, put together mark on mark, the key apart, and the same bytes every time."""

from __future__ import annotations

import re
import shlex
import sys
import tomllib
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
import shapely
from blocks import pattern
from class_for_tests import NAMES, PLAN, Classroom, classroom
from lessons_for_tests import FIGURES, SMALL

from tutor.classwork.canvas import SEAM, Page, Stroke, Words, box_of
from tutor.classwork.lettering import broken, width_of
from tutor.classwork.page_pdf import pages_pdf
from tutor.classwork.page_svg import page_svg
from tutor.classwork.pattern_print import pieces_of
from tutor.classwork.question_pages import Blank, Paragraph, question_pages, square_box
from tutor.classwork.tiles import PAPERS, Paper, grid_for, tiled
from tutor.geometry.cubic import Complexes
from tutor.pattern.svg_read import read_svg

SQUARE = 50.0
INK = 128


@pytest.fixture
def room(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Classroom:
    return classroom(tmp_path, capsys)


def test_everybody_gets_a_sheet_a_form_and_the_pattern_and_the_key_lies_apart(room: Classroom) -> None:
    status, out, err = room.sheet("--pdf")
    assert (status, err) == (0, "")
    assert out.startswith("Small homework\n4 learners, 1 variant, ")
    files = room.files()
    for file in ("anouk", "tove", "odd", "mirjam"):
        own = sorted(name for name in files if name.startswith(f"learners/{file}/"))
        assert f"learners/{file}/{file}.toml" in own
        assert f"learners/{file}/{file}-sheet-1.svg" in own
        assert f"learners/{file}/{file}-sheet.pdf" in own
        assert f"learners/{file}/{file}-2-pattern.svg" in own
    assert {"key/key.txt", "key/key.html", "answers.csv", "register.json"} <= set(files)
    handed_out = b"".join(content for name, content in files.items() if name.startswith("learners/"))
    assert b"Usual mistakes" in files["key/key.txt"]
    assert b"Usual mistakes" not in handed_out
    assert room.register()["homework"] == "Small homework"


def test_a_form_is_toml_that_names_learner_homework_and_variant(room: Classroom) -> None:
    room.change("class.csv", "Odd", '"Odd ""the \\ last"""')
    room.sheet()
    (file,) = (each["file"] for each in room.register()["learners"] if each["name"].startswith("Odd"))
    form = tomllib.loads((room.out / "learners" / file / f"{file}.toml").read_text(encoding="utf-8"))
    assert form["learner"] == 'Odd "the \\ last"'
    assert form["homework"] == "Small homework"
    assert form["variant"] == room.register()["learners"][2]["deal"]
    assert [answer["task"] for answer in form["answers"]] == [1, 2]
    rows = room.table("answers.csv")
    assert [row["learner"] for row in rows] == [each["name"] for each in room.register()["learners"]]


def test_no_name_of_a_file_is_parted_in_a_form(room: Classroom) -> None:
    names = [f"Jean-Pierre{'-x' * k} van-der-Berg" for k in range(1, 12)]
    (room.folder / "class.csv").write_text("Name\n" + "\n".join(names) + "\n")
    room.sheet()
    for each in room.register()["learners"]:
        file = each["file"]
        text = (room.out / "learners" / file / f"{file}.toml").read_text(encoding="utf-8")
        assert [text.count(f'"{file}-2.{ending}"') for ending in ("toml", "svg", "csv")] == [1, 1, 1]


def test_the_pattern_that_is_handed_out_reads_back(room: Classroom) -> None:
    room.sheet()
    path = room.out / "learners" / "anouk" / "anouk-2-pattern.svg"
    assert abs(read_svg(path, "p.svg").sleeve.underarm_point_front.real * 2 - 330) < 30


def test_the_same_class_gives_the_same_bytes_and_more_learners_change_nothing_for_the_others(room: Classroom) -> None:
    room.sheet("--pdf")
    first = room.files()
    room.sheet("--pdf")
    assert room.files() == first
    room.change("class.csv", "Anouk", "Hedda\nAnouk")
    room.sheet("--pdf", "--force")
    learners = {name: content for name, content in room.files().items() if name.startswith("learners/")}
    assert {name: content for name, content in learners.items() if "hedda" not in name} == {
        name: content for name, content in first.items() if name.startswith("learners/")
    }


def test_a_learner_is_added_to_a_class_that_has_its_sheets(room: Classroom) -> None:
    room.sheet()
    first = room.files()
    room.change("class.csv", "Anouk", "Hedda\nAnouk")
    status, _, err = room.sheet()
    assert (status, err) == (0, "")
    assert [row["learner"] for row in room.table("answers.csv")] == [*NAMES, "Hedda"]
    files = room.files()
    for name in ("key/key.txt", "key/key.html"):
        assert b"Hedda" in files[name]
    assert "learners/hedda/hedda.toml" in files
    shared = {"register.json", "answers.csv", "key/key.txt", "key/key.html", "kept/written/sheets.json"}
    assert {name: files[name] for name in first if name not in shared} == {
        name: content for name, content in first.items() if name not in shared
    }
    assert room.sheet()[0] == 0
    assert room.files() == files


@pytest.mark.parametrize("force", [(), ("--force",)])
@pytest.mark.parametrize(
    ("sign", "ends", "encoding"),
    [(",", "\r\n", "utf-8-sig"), (";", "\r\n", "utf-8-sig"), (";", "\n", "utf-8"), ("\t", "\r\n", "utf-16")],
)
def test_a_form_of_the_class_that_was_filled_in_gains_a_row(
    room: Classroom, sign: str, ends: str, encoding: str, force: tuple[str, ...]
) -> None:
    room.sheet()
    rows = [list(row.values()) for row in room.table("answers.csv")]
    rows[1][4:] = ["12.5 cm", "tove-2.toml"]
    lines = [sign.join(row) for row in [["learner", "variant", "units", "handed-in", "1", "2"], *rows]]
    path = room.out / "answers.csv"
    path.write_bytes(ends.join(lines).encode(encoding))
    room.change("class.csv", "Anouk", "Hedda\nAnouk")
    code = room.register()["learners"][0]["deal"]
    status, _, err = room.sheet(*force)
    assert (status, err) == (0, "")
    assert path.read_bytes().decode(encoding) == ends.join([*lines, sign.join(["Hedda", code, "cm", "", "", ""]), ""])
    room.change("class.csv", "Anouk", "Ida\nAnouk")
    assert room.sheet(*force)[0] == 0
    found = path.read_bytes().decode(encoding)
    assert found.startswith(ends.join(lines))
    assert found.count("Hedda") == found.count("Ida") == found.count("12.5 cm") == 1


@pytest.mark.parametrize(
    ("name", "content", "what"),
    [
        ("answers.csv", "learner,1\nTove,12.5\n", "answers.csv: has no column called 2; write that heading"),
        (
            "answers.csv",
            'learner,1,2\nTove,"12.5,\n',
            "answers.csv: line 2: has a quote that is not closed; close it",
        ),
        ("answers.csv", "my notes\n", "answers.csv: has no column called name"),
        ("key/key.txt", "my notes\n", "key.txt: was changed since it was written; move it away, or give --force"),
    ],
)
def test_nobody_is_added_where_that_would_write_over_what_was_changed(
    room: Classroom, name: str, content: str, what: str
) -> None:
    room.sheet()
    (room.out / name).write_text(content)
    first = room.files()
    room.change("class.csv", "Anouk", "Hedda\nAnouk")
    status, _, err = room.sheet()
    assert status == 2
    assert what in err
    assert room.files() == first
    assert room.sheet("--force")[0] == 0
    assert b"Hedda" in room.files()[name]


def test_the_key_says_of_each_wrong_figure_what_it_is(room: Classroom) -> None:
    """The cut edge for the seam and the seam for the cut edge are one mistake, and two figures."""
    cut = next(each for each in FIGURES.split("[[tasks]]") if "At the cut edge" in each)
    seam = cut.replace("At the cut edge", "At the seam").replace('edge = "cut"\n', "")
    (room.folder / "figures.toml").write_text(f"{FIGURES}[[tasks]]{seam}", encoding="utf-8")
    titles = [task["title"] for task in tomllib.loads(f"{FIGURES}[[tasks]]{seam}")["tasks"]]
    tasks = [titles.index(title) + 1 for title in ("At the cut edge", "At the seam")]
    text = 'title = "Edges"\n' + "".join(f'[[tasks]]\nlesson = "figures.toml"\ntask = {task}\n' for task in tasks)
    (room.folder / "homework.toml").write_text(text, encoding="utf-8")
    assert room.sheet()[0] == 0
    first, second = (room.out / "key" / "key.txt").read_text(encoding="utf-8").split("Task 2.")
    assert "cm is the seam line, inside the allowance." in first
    assert "cm is the cut edge, 1.0 cm outside the seam." in second
    assert "or the seam line for the cut edge" not in first + second


def test_a_key_of_an_older_version_says_what_to_do(room: Classroom) -> None:
    """Older versions kept no note of what they had written, and their keys had other words."""
    room.sheet()
    (room.out / "kept" / "written" / "sheets.json").unlink()
    for name in ("key.txt", "key.html"):
        room.change(f"out/key/{name}", "the teacher's key", "the key")
    key = room.out / "key"
    status, _, err = room.sheet()
    assert status == 2
    assert err == (
        f"sleeve-tutor: {key}: is there already, and not as it comes out now: an older version may have made it;"
        " move it away and do this again, or give --force to write over it\n"
    )
    # What it says to do does it, and nothing else is touched.
    key.rename(room.folder / "old-key")
    before = room.files()
    assert room.sheet()[0] == 0
    after = room.files()
    changed = {name for name in after if after[name] != before.get(name)}
    assert changed == {"key/key.html", "key/key.txt", "kept/written/sheets.json"}


def test_sheets_that_would_come_out_otherwise_are_not_written_over(room: Classroom) -> None:
    room.sheet()
    first = room.files()
    room.change("homework.toml", "due = 2026-11-20", "due = 2026-11-27")
    status, _, err = room.sheet()
    assert status == 2
    assert "is there already, and would come out otherwise; give another folder, or --force" in err
    assert room.files() == first
    assert room.sheet("--force")[0] == 0
    assert b"2026-11-27" in room.files()["learners/anouk/anouk.toml"]


@pytest.mark.parametrize(
    ("more", "then", "now", "again"),
    [
        (("--scale", "half"), "in full size", "in half size", "give --scale full"),
        (
            ("--scale", "half", "--paper", "letter"),
            "in full size, on A4",
            "in half size, on Letter",
            "give --scale full --paper a4",
        ),
        (("--seams-only",), "with a cut line", "without a cut line", "leave out --seams-only"),
        (
            ("--seams-only", "--paper", "letter"),
            "on A4, with a cut line",
            "on Letter, without a cut line",
            "give --paper a4 and leave out --seams-only",
        ),
    ],
)
def test_sheets_that_would_be_printed_otherwise_say_in_what(
    room: Classroom, more: tuple[str, ...], then: str, now: str, again: str
) -> None:
    room.sheet()
    status, _, err = room.sheet(*more)
    right = f"{again} as before, give another folder, or --force to write over it"
    assert (status, err.count("\n")) == (2, 1)
    assert err.endswith(f": is there already, {then}, and would come out {now}; {right}\n")
    assert room.sheet(*more, "--force")[0] == 0
    assert room.sheet(*more)[0] == 0
    # What is kept of it may be gone, or be anything.
    for kept in ("", "[]", "7", '{"scale": [1]}'):
        (room.out / "kept" / "written" / "look.json").write_text(kept)
        assert "is there already" in room.sheet()[2]


def test_variants_are_dealt_in_turn_and_kept(room: Classroom) -> None:
    room.change("homework.toml", "due = 2026-11-20", "variants = 2\nseed = 5")
    room.sheet()
    learners = room.register()["learners"]
    deals = [each["deal"] for each in learners]
    assert deals[0] == deals[2] != deals[1] == deals[3]
    assert sorted(each["number"] for each in room.register()["deals"].values()) == [5, 6]
    texts = [(room.out / "learners" / f / f"{f}.toml").read_text() for f in ("anouk", "tove")]
    asks = [re.search(r"To ([0-9.]+ cm)", text) for text in texts]
    assert asks[0] is not None
    assert asks[1] is not None
    assert asks[0][1] != asks[1][1]
    # What was dealt stays, even when the lesson would now be drawn from otherwise.
    room.change("small.toml", "[plans.crossed]", "[vary]\nwearing-ease = [4, 4.4]\n\n[plans.crossed]")
    room.change("class.csv", "Mirjam", "Mirjam\nHedda")
    room.sheet("--force")
    assert [each["deal"] for each in room.register()["learners"]][:4] == deals


def test_a_folder_is_for_one_homework(room: Classroom) -> None:
    room.sheet()
    room.change("homework.toml", '"Small homework"', '"Another"')
    status, _, err = room.sheet()
    assert status == 2
    assert 'register.json: is of the homework "Small homework"; give each homework a folder of its own' in err


@pytest.mark.parametrize("inner", ["learners", "learners/anouk", "key", "kept", "kept/given"])
def test_no_folder_that_is_a_link_is_written_through(room: Classroom, tmp_path: Path, inner: str) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (room.out / inner).parent.mkdir(parents=True, exist_ok=True)
    (room.out / inner).symlink_to(elsewhere)
    status, _, err = room.sheet()
    assert status == 2
    assert f"{inner}: is a link; nothing is written through links: name the folder itself" in err
    assert list(elsewhere.iterdir()) == []


# To scale.


def ink(pdf: bytes, page: int, dpi: int) -> np.ndarray:
    """Where a page of a PDF is dark when PDFium, another program altogether, draws it."""
    document = pypdfium2.PdfDocument(pdf)
    picture = document[page].render(scale=dpi / 72, grayscale=True).to_numpy()
    document.close()
    return np.asarray(picture.reshape(picture.shape[:2]) < INK)


def longest_run(dark: np.ndarray) -> int:
    """The longest row of dark pixels."""
    best = 0
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate([[0], row.astype(int), [0]])))
        best = max([best, *(edges[1::2] - edges[0::2])])
    return best


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("scale", ["full", "half", "quarter"])
def test_the_square_measures_50_mm_in_the_pdf(room: Classroom, paper: str, scale: str) -> None:
    (room.folder / "class.csv").write_text("name\nAnouk\n")
    room.sheet("--pdf", "--paper", paper, "--scale", scale)
    pdf = (room.out / "learners" / "anouk" / "anouk-sheet.pdf").read_bytes()
    dpi = 600
    dark = ink(pdf, 0, dpi)
    box = square_box(PAPERS[paper])
    low, high = (corner / 25.4 * dpi for corner in (box.low - 2 * (1 + 1j), box.high + 2 * (1 + 1j)))
    part = dark[round(low.imag) : round(high.imag), round(low.real) : round(high.real)]
    # Each side is drawn 0.2 mm wide about its line, so from outer edge to outer edge it is 50.2 mm.
    for side in (longest_run(part), longest_run(part.T)):
        assert side / dpi * 25.4 == pytest.approx(SQUARE + 0.2, abs=0.1)


def test_pages_of_the_pdf_are_of_the_paper(room: Classroom) -> None:
    """A4 by ISO 216, Letter by ANSI/ASME Y14.1."""
    (room.folder / "class.csv").write_text("name\nAnouk\n")
    for paper, size in (("a4", (210, 297)), ("letter", (215.9, 279.4))):
        room.sheet("--pdf", "--force", "--paper", paper)
        document = pypdfium2.PdfDocument((room.out / "learners" / "anouk" / "anouk-sheet.pdf").read_bytes())
        for page in document:
            width, height = (points / 72 * 25.4 for points in page.get_size())
            assert sorted((width, height)) == pytest.approx(sorted(size), abs=0.01)
        assert len(document) == len(list((room.out / "learners" / "anouk").glob("*.svg"))) - 1
        document.close()
        for path in (room.out / "learners" / "anouk").glob("*-sheet-*.svg"):
            path.unlink()


def test_the_square_in_the_svg_is_50_units_of_a_page_in_mm(room: Classroom) -> None:
    room.sheet()
    text = (room.out / "learners" / "anouk" / "anouk-sheet-1.svg").read_text()
    assert 'width="210mm" height="297mm" viewBox="0 0 210 297"' in text
    assert 'd="M146,14L196,14L196,64L146,64L146,14"' in text


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())
@pytest.mark.parametrize("scale", [1.0, 0.5, 0.25])
def test_pages_laid_mark_on_mark_show_the_whole_pattern_to_scale(paper: object, scale: float) -> None:
    (sleeve,) = pieces_of(pattern(), 10.0, armholes=False)
    assert isinstance(paper, type(PAPERS["a4"]))
    pages = tiled(sleeve, scale, paper, "foot", 1, 9)
    marks = [named_marks(page) for page in pages]
    places = _laid(marks)
    assert len(places) == len(pages)
    # Every mark comes out at one place, whichever of its pages it is read from.
    seen: dict[str, complex] = {}
    for page, found in enumerate(marks):
        for name, at in found.items():
            assert abs(seen.setdefault(name, at + places[page]) - (at + places[page])) < 1e-9
    # The seam line, put together from what each page shows in its window, has its full size.
    shown = np.concatenate([_shown(page) + places[number] for number, page in enumerate(pages)])
    drawn = box_of([item.placed(scale, 0j) for item in sleeve.items if _is_seam(item)])
    assert np.ptp(shown.real) == pytest.approx(drawn.width, abs=1e-6)
    assert np.ptp(shown.imag) == pytest.approx(drawn.height, abs=1e-6)


def named_marks(page: Page) -> dict[str, complex]:
    """The marks in a page's window, by name."""
    assert page.window is not None
    low, high = page.window.low, page.window.high
    words = [item for item in page.inside if isinstance(item, Words) and re.fullmatch("[A-Za-z][0-9]+", item.text)]
    inside = [w for w in words if low.real <= w.at.real <= high.real and low.imag <= w.at.imag <= high.imag]
    return {word.text: word.at for word in inside}


def _laid(marks: list[dict[str, complex]]) -> dict[int, complex]:
    """Where each page lies when pages that share two marks are laid mark on mark, the first at nought."""
    places = {0: 0j}
    while True:
        for page, found in enumerate(marks):
            for other in list(places):
                shared = sorted(set(found) & set(marks[other]))
                if page not in places and len(shared) >= 2:
                    places[page] = places[other] + marks[other][shared[0]] - found[shared[0]]
                    break
            else:
                continue
            break
        else:
            return places


def _shown(page: Page) -> Complexes:
    """Points of the seams in a page's window, densely."""
    assert page.window is not None
    low, high = page.window.low, page.window.high
    t = np.linspace(0, 1, 401)[None, :] + 0j
    controls = np.concatenate([item.rows for item in page.inside if isinstance(item, Stroke) and _is_seam(item)])
    c0, c1, c2, c3 = (controls[:, k, None] for k in range(4))
    points: Complexes = (c0 * (1 - t) ** 3 + 3 * c1 * t * (1 - t) ** 2 + 3 * c2 * t * t * (1 - t) + c3 * t**3).ravel()
    inside = (
        (points.real >= low.real) & (points.real <= high.real) & (points.imag >= low.imag) & (points.imag <= high.imag)
    )
    found: Complexes = points[inside]
    return found


def _is_seam(item: object) -> bool:
    return isinstance(item, Stroke) and item.style == SEAM


def test_neighbouring_pages_overlap() -> None:
    (sleeve,) = pieces_of(pattern(), 10.0, armholes=False)
    grid = grid_for(sleeve.box(1.0), PAPERS["a4"])
    assert grid.count > 1
    assert grid.paper.window.width - grid.step.real == pytest.approx(16)
    assert grid.paper.window.height - grid.step.imag == pytest.approx(16)


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())
@pytest.mark.parametrize("scale", [1.0, 0.5, 0.25])
def test_every_word_is_whole_on_some_page(paper: Paper, scale: float) -> None:
    for piece in pieces_of(pattern(), 10.0, armholes=True):
        whole: set[str] = set()
        for page in tiled(piece, scale, paper, "foot", 1, 9):
            assert page.window is not None
            low, high = page.window.low, page.window.high
            boxes = [(item.text, box_of([item])) for item in page.inside if isinstance(item, Words)]
            across = [(text, box) for text, box in boxes if low.real <= box.low.real and box.high.real <= high.real]
            whole |= {text for text, box in across if low.imag <= box.low.imag and box.high.imag <= high.imag}
        assert whole >= {item.text for item in piece.items if isinstance(item, Words)}


def test_back_and_front_stand_inside_the_cap() -> None:
    (sleeve, *_) = pieces_of(pattern(), 10.0, armholes=False)
    outline = np.concatenate([curve.flatten(0.05) for curve in pattern().sleeve.curves()])
    inside = shapely.Polygon(np.stack([outline.real, -outline.imag], axis=1))
    for words in (item for item in sleeve.items if isinstance(item, Words) and item.text in ("BACK", "FRONT")):
        box = box_of([words])
        assert inside.contains(shapely.box(box.low.real, box.low.imag, box.high.real, box.high.imag))


def test_a_question_stays_on_one_page() -> None:
    flow: list[Paragraph | Blank] = [
        Paragraph("word " * 900),
        Paragraph("Task", keep=80.0),
        *[Blank("Slash:") for _ in range(8)],
    ]
    pages = question_pages(PAPERS["a4"], flow, "foot")
    (page,) = (page for page in pages if any(isinstance(i, Words) and i.text == "Task" for i in page.items))
    assert sum(isinstance(item, Words) and item.text == "Slash:" for item in page.items) == 8


def test_a_sleeve_has_all_that_is_worked_by() -> None:
    sleeve, armholes = pieces_of(pattern(), 10.0, armholes=True)
    words = {item.text for item in sleeve.items if isinstance(item, Words)}
    assert {
        "crown",
        "bicep line",
        "back underarm point",
        "front underarm point",
        "grain",
        "hem",
        "BACK",
        "FRONT",
    } <= words
    assert {"elbow line", "notch 1", "notch 2", "notch"} <= words
    cut, seam = (box_of([item]) for item in (_cut(sleeve.items), sleeve.items[0]))
    assert seam.low.imag - cut.low.imag == pytest.approx(10.0, abs=0.05)
    assert {"underarm point", "shoulder tip"} <= {item.text for item in armholes.items if isinstance(item, Words)}


def _cut(items: tuple[object, ...]) -> Stroke:
    return next(item for item in items if isinstance(item, Stroke) and item.style.dashes == (4.0, 2.0))


# Words.


def test_lines_of_words_fit_their_room() -> None:
    """Widths are held against those of the typeface that PDF is written in."""
    from reportlab.pdfbase.ttfonts import TTFont

    text = " ".join([SMALL.replace("\n", " "), "WWWW mmmm 1 1/2 in, 3.8 cm — Łucja Ångström " * 3, "x" * 300])
    plain, bold = (TTFont(name, f"{name}.ttf") for name in ("Vera", "VeraBd"))
    for width, size in ((60.0, 3.6), (182.0, 3.0), (120.0, 6.0)):
        for font, is_bold in ((plain, False), (bold, True)):
            lines = broken(text, width, size, bold=is_bold)
            assert " ".join(lines).replace(" ", "") == text.replace(" ", "")
            for line in lines:
                assert font.stringWidth(line, size) <= width_of(line, size, bold=is_bold) + 1e-9 <= width + 1e-6


def test_no_figure_is_parted_from_its_unit() -> None:
    text = " ".join(["Her arm is 33 cm round, 12 3/8 in, and the sleeve may be 2,5 mm or 10 % wider."] * 20)
    for width in range(30, 120):
        lines = broken(text, width, 3.6)
        assert " ".join(lines) == text
        assert not [line for line in lines if re.match(r"cm|in\b|mm|%|3/8", line)]


def test_a_long_sheet_goes_on_over_the_page() -> None:
    flow = [Paragraph("word " * 60) if k % 3 else Blank("Answer:") for k in range(120)]
    pages = question_pages(PAPERS["letter"], flow, "foot")
    assert len(pages) > 3
    for page in pages:
        low = box_of(list(page.items))
        assert low.high.imag <= page.height - 5
    words = " ".join(item.text for page in pages for item in page.items if isinstance(item, Words))
    assert words.count("word") == 60 * 80


def test_no_name_breaks_a_page() -> None:
    words = Words(20 + 20j, "<b>&\"'\x00\u202e]]> 日本 Ő")
    page = Page(210, 297, (words,))
    text = page_svg(page, "<script>\x1b[31m")
    assert "<b>" not in text
    assert "<script>" not in text
    assert text.isprintable() or set(text) - set("\n") == {letter for letter in text if letter.isprintable()}
    assert pages_pdf([page], "<script>\x00").startswith(b"%PDF-1.")


def test_names_of_learners_stand_on_their_sheets(room: Classroom) -> None:
    room.sheet()
    for name, file in zip(NAMES, ("anouk", "tove", "odd", "mirjam"), strict=True):
        text = (room.out / "learners" / file / f"{file}-sheet-1.svg").read_text()
        assert f">{name}</text>" in text


def written_in(pdf: bytes) -> str:
    """All that is written in a PDF, as another reader finds it."""
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())


@pytest.mark.parametrize(
    ("name", "file", "shown"),
    [
        ("王小明", "王小明", "learner 2"),
        ("Ана Lind", "ана-lind", "??? Lind (learner 2)"),
        ("Øyvind Łuć", "oyvind-luc", "Øyvind Łuć"),
        ("Ħanna Ế", "hanna-e", "Hanna E"),
    ],
)
def test_a_name_that_pdf_can_t_write_has_its_number_beside_it(
    room: Classroom, name: str, file: str, shown: str
) -> None:
    (room.folder / "class.csv").write_text(f"name\nAnouk\n{name}\nTove\n", encoding="utf-8")
    status, out, err = room.sheet("--pdf")
    assert (status, err) == (0, "")
    folder = room.out / "learners" / file
    text = written_in((folder / f"{file}-sheet.pdf").read_bytes())
    foot = f"Small homework. {shown}, variant "
    assert text.count(foot) >= 2
    assert text.count("Small homework. ") == text.count(foot)
    # Whoever prints the SVG pages has all letters.
    assert f">{name}</text>" in (folder / f"{file}-sheet-1.svg").read_text(encoding="utf-8")
    told = "beside it, or in its place where none of it can be written; the SVG pages have all\n"
    lines = [line for line in out.splitlines(keepends=True) if line.startswith("PDF has no shapes for ")]
    assert [line.endswith(told) for line in lines] == ([True] if "learner 2" in shown else [])
    # Nobody else's sheet says more than it did, and answers find their learner.
    assert "Small homework. Tove, variant" in written_in((room.out / "learners/tove/tove-sheet.pdf").read_bytes())
    room.hand_in(f"{file.upper()}-2.TOML", PLAN)
    assert room.mark()[::2] == (0, "")
    assert room.marks(name)["task 2"] == "100"


def test_pdf_without_its_library_is_refused_before_anything_is_written(
    room: Classroom, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    status, _, err = room.sheet("--pdf")
    assert status == 2
    # The one that runs here: a pip found by its name alone may be another's.
    installs = f"{shlex.quote(sys.executable)} -m pip install reportlab"
    assert f"--pdf: needs reportlab, which is not installed; install it with {installs}, or do" in err
    assert not room.out.exists()
