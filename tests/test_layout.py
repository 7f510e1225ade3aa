"""The shape of the project: what lies where, and which part may know of which."""

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "tutor"

TOP_LEVEL = {
    ".ci",
    ".gitignore",
    "DEVELOPERS.md",
    "README.md",
    "assets",
    "lessons",
    "pyproject.toml",
    "tests",
    "tutor",
}

ORDER = (
    "geometry",
    "pattern",
    "alteration",
    "fit",
    "lesson",
    "marking",
    "practice",
    "quiz",
    "classwork",
    "record",
    "picture",
    "tui",
    "commands",
)
ANYWHERE = {
    "__init__",
    "faults",
    "letters",
    "locks",
    "units",
    "resources",
    "settings",
    "file_reading",
    "toml_reading",
    "toml_lines",
    "toml_tables",
    "toml_writing",
    "whole_file",
}
MAY_IMPORT = {
    **{part: {*ORDER[: place + 1], *ANYWHERE} for place, part in enumerate(ORDER)},
    "picture": {"geometry", "pattern", "alteration", "fit", "picture", "__init__", "units", "faults"},
    "faults": {"faults"},
    "letters": {"letters"},
    "locks": {"locks"},
    "units": {"units", "faults"},
    "resources": {"resources", "faults"},
    "settings": {"settings", "units", "whole_file"},
    "toml_faults": {"toml_faults"},
    "file_reading": {"file_reading", "faults"},
    "toml_reading": {"toml_reading", "toml_faults", "file_reading", "faults"},
    "toml_lines": {"toml_lines"},
    "toml_tables": {"toml_tables", "faults"},
    "toml_writing": {"toml_writing"},
    "whole_file": {"whole_file", "file_reading", "faults"},
    "cli": {*ORDER, *ANYWHERE, "cli"},
    "__main__": {"cli"},
    "__init__": set[str](),
}
"""What each part of tutor/ may import of tutor/; the order of the parts is DEVELOPERS.md's."""

RUN_BY_TESTS = {"record_writer.py"}

CORE = ("geometry", "pattern", "alteration", "fit", "lesson", "marking", "practice", "quiz", "classwork")
SCREEN_LIBRARIES = {"textual", "rich", "plotext"}


def sources(folder: Path = PACKAGE) -> list[Path]:
    return sorted(folder.rglob("*.py"))


def part_of(source: Path) -> str:
    """The subpackage, or the module at the top of tutor/, that the file belongs to."""
    return source.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported(source: Path) -> Iterator[str]:
    """Full names of all that the file imports, at whatever depth the import stands."""
    package = source.relative_to(ROOT).parent.parts
    for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            parent = package[: len(package) - node.level + 1] if node.level else ()
            base = ".".join((*parent, *filter(None, [node.module])))
            yield from (f"{base}.{name.name}" for name in node.names)


def parts_imported(source: Path) -> set[str]:
    """The parts of tutor/ that the file imports; a name of tutor itself counts as of ``__init__``."""
    within = [name.split(".")[1:] for name in imported(source) if name.split(".")[0] == "tutor"]
    names = {path[0] if path else "__init__" for path in within}
    return {name if (PACKAGE / name).is_dir() or name in MAY_IMPORT else "__init__" for name in names}


def libraries_imported(source: Path) -> set[str]:
    return {name.split(".")[0] for name in imported(source)} - sys.stdlib_module_names - {"tutor"}


def importers(library: str) -> list[str]:
    """The files of tutor/ that import the library, as paths from the top of the project."""
    return [
        source.relative_to(ROOT).as_posix()
        for source in sources()
        if library in {name.split(".")[0] for name in imported(source)}
    ]


def declared(group: str) -> set[str]:
    """The distributions that pyproject.toml asks for, always or with an extra."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = project["dependencies"] if group == "dependencies" else project["optional-dependencies"][group]
    return {canonicalize_name(Requirement(line).name) for line in lines}


def top_level() -> set[str]:
    """What git keeps at the top level; where there is no git, what lies there but for tools' dot-folders."""
    listing = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    tracked = {line.split("/")[0].strip('"') for line in listing.stdout.splitlines()}
    lying = {path.name for path in ROOT.iterdir()}
    unpacked = {name for name in lying if name in TOP_LEVEL or not name.startswith(".")} - {"PKG-INFO"}
    return tracked or unpacked


def test_the_top_level_is_what_it_should_be() -> None:
    assert top_level() == TOP_LEVEL


def test_every_part_has_its_place_in_the_order() -> None:
    parts = {part_of(source) for source in sources()}
    assert parts <= set(MAY_IMPORT)
    assert set(CORE) <= parts


def test_the_map_names_every_part_and_no_file_that_is_not_there() -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for part in set(MAY_IMPORT) - {"__init__", "__main__", "commands"}:
        assert f"`{part}`" in guide or f"`{part}.py`" in guide or f"`../{part}.py`" in guide, part
    there = [f"/{path.relative_to(ROOT).as_posix()}" for path in (*sources(), *sources(ROOT / "tests"))]
    there += [f"/{path.relative_to(ROOT).as_posix()}" for path in PACKAGE.rglob("*.tcss")]
    for name in re.findall(r"`([\w./]+\.(?:py|tcss))\b[^`]*`", guide):
        assert any(path.endswith("/" + name.removeprefix("../")) for path in there), name
    for script in (ROOT / "tests").glob("*.py"):
        if "__main__" in script.read_text(encoding="utf-8") and script.name not in RUN_BY_TESTS:
            assert f"tests/{script.name}" in guide or f"`{script.name}`" in guide, script.name


@pytest.mark.parametrize("source", sources(), ids=lambda source: source.relative_to(PACKAGE).as_posix())
def test_imports_go_one_way(source: Path) -> None:
    assert parts_imported(source) <= MAY_IMPORT[part_of(source)]


def test_every_kind_of_import_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    source = tmp_path / "tutor" / "pattern" / "sleeve.py"
    source.parent.mkdir(parents=True)
    monkeypatch.setattr(sys.modules[__name__], "ROOT", tmp_path)
    source.write_text(
        "import tutor.tui.app, json\n"
        "from tutor import cli, __version__\n"
        "from . import block\n"
        "from ..marking.goal import Goal\n"
        "from .. import record\n"
        "def late():\n    from numpy.linalg import solve\n",
        encoding="utf-8",
    )
    assert set(imported(source)) == {
        "tutor.tui.app",
        "json",
        "tutor.cli",
        "tutor.__version__",
        "tutor.pattern.block",
        "tutor.marking.goal.Goal",
        "tutor.record",
        "numpy.linalg.solve",
    }
    assert parts_imported(source) == {"tui", "cli", "__init__", "pattern", "marking", "record"}
    assert libraries_imported(source) == {"numpy"}


@pytest.mark.parametrize("part", CORE)
def test_the_core_names_no_screen_library(part: str) -> None:
    named = {library for source in sources(PACKAGE / part) for library in libraries_imported(source)}
    assert named & SCREEN_LIBRARIES == set()


def test_the_core_loads_no_screen_library() -> None:
    modules = [
        ".".join(source.relative_to(ROOT).with_suffix("").parts) for part in CORE for source in sources(PACKAGE / part)
    ]
    program = "import importlib, sys\nfor name in sys.argv[1:]: importlib.import_module(name)\nprint(*sys.modules)"
    loaded = subprocess.run(
        [sys.executable, "-c", program, *modules], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split()
    assert {"tutor.geometry", "tutor.practice"} <= set(loaded)
    assert SCREEN_LIBRARIES & set(loaded) == set()


def test_regions_alone_know_shapely() -> None:
    assert importers("shapely") == ["tutor/geometry/region.py"]


def test_one_file_of_the_picture_knows_plotext() -> None:
    assert [Path(path).parent.as_posix() for path in importers("plotext")] == ["tutor/picture"]


def test_one_file_knows_the_library_of_pdf() -> None:
    assert importers("reportlab") == ["tutor/classwork/page_pdf.py"]


def test_at_most_one_file_of_the_record_knows_sqlite() -> None:
    assert [Path(path).parent.as_posix() for path in importers("sqlite3")] in ([], ["tutor/record"])


def test_the_program_needs_what_it_declares_and_no_more() -> None:
    used = {canonicalize_name(library) for source in sources() for library in libraries_imported(source)}
    # rich is what Textual draws with, and comes with it in the release it fits.
    assert used - {"rich"} == declared("dependencies") | declared("pdf")


def test_the_tests_need_what_the_project_declares_for_them() -> None:
    files = sources(ROOT / "tests")
    used = {library for source in files for library in libraries_imported(source)}
    outside = {canonicalize_name(library) for library in used - {source.stem for source in files} - {"tests"}}
    assert outside <= declared("dependencies") | declared("pdf") | declared("test")


@pytest.mark.parametrize("folder", ["lessons", "assets"])
def test_what_people_write_holds_no_code(folder: str) -> None:
    files = [path for path in (ROOT / folder).rglob("*") if path.is_file()]
    assert files
    assert [path for path in files if path.suffix in {".py", ".pyc", ".so"}] == []
