"""What is built and installed carries everything, and works from an empty folder."""

import os
import site
import subprocess
import sys
import sysconfig
import tarfile
import tomllib
import venv
import zipfile
from collections.abc import Sequence
from email.parser import HeaderParser
from pathlib import Path

import pytest

import tutor

ROOT = Path(__file__).resolve().parent.parent
START = "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/sleeve-tutor"
TEST = "python3 -m venv .venv && .venv/bin/pip install '.[test]' && .venv/bin/python -m pytest"


def files_under(folder: str) -> set[str]:
    """The files that belong to the project in a folder, as paths from the top."""
    paths = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert paths
    return paths


def run(command: Sequence[str | Path], folder: Path) -> str:
    """What the command prints when run in the folder, as by somebody who has set nothing of Python's."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    done = subprocess.run(
        command,
        cwd=folder,
        env=environment,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def distributions(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the sdist, and the wheel made from that sdist."""
    folder = tmp_path_factory.mktemp("dist")
    run([sys.executable, "-m", "build", "--no-isolation", "--outdir", folder, ROOT], folder)
    return folder


@pytest.fixture(scope="module")
def sdist(distributions: Path) -> Path:
    (path,) = distributions.glob("*.tar.gz")
    return path


@pytest.fixture(scope="module")
def wheel(distributions: Path) -> Path:
    (path,) = distributions.glob("*.whl")
    return path


@pytest.fixture(scope="module")
def programs(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of programs of a new environment that has the wheel.

    The libraries it depends on are those of the environment that runs the tests, put after its own.
    """
    home = tmp_path_factory.mktemp("environment")
    venv.create(home, with_pip=False)
    paths = {"base": str(home), "platbase": str(home)}
    libraries = Path(sysconfig.get_path("purelib", "venv", paths))
    (libraries / "libraries_of_the_tests.pth").write_text(
        "\n".join(dict.fromkeys([sysconfig.get_path("purelib"), *site.getsitepackages()])), encoding="utf-8"
    )
    programs = Path(sysconfig.get_path("scripts", "venv", paths))
    pip = (sys.executable, "-m", "pip", "--python", str(programs / "python"))
    run([*pip, "install", "--no-index", "--no-deps", "--ignore-installed", wheel], home)
    return programs


def test_the_sdist_carries_all_that_is_tested(sdist: Path) -> None:
    with tarfile.open(sdist) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    single = {"README.md", "DEVELOPERS.md", "pyproject.toml", ".gitignore", ".ci/run"}
    folders = set().union(*map(files_under, ("tutor", "lessons", "assets", "tests")))
    assert names == folders | single | {"PKG-INFO"}


def test_the_wheel_carries_the_program_the_lessons_and_the_assets(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = {name for name in archive.namelist() if ".dist-info/" not in name}
    moved = {f"tutor/_{name}" for folder in ("lessons", "assets") for name in files_under(folder)}
    assert names == files_under("tutor") | moved


def test_the_wheel_says_what_it_is(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        (metadata,) = (name for name in archive.namelist() if name.endswith(".dist-info/METADATA"))
        says = HeaderParser().parsestr(archive.read(metadata).decode())
        licence = archive.read(metadata.replace("METADATA", "licenses/assets/LICENSE"))
    assert says["Name"] == "sleeve-tutor"
    assert says["Version"] == tutor.__version__
    assert says["Requires-Python"] == ">=3.11"
    assert licence == (ROOT / "assets" / "LICENSE").read_bytes()


def test_the_installed_program_is_the_one_that_runs(programs: Path, tmp_path: Path) -> None:
    where = run([programs / "python", "-c", "import tutor; print(tutor.__file__)"], tmp_path)
    assert Path(where.strip()).is_relative_to(programs.parent)


@pytest.mark.parametrize("folder", ["lessons", "assets"])
def test_the_installed_program_finds_its_own_files(folder: str, programs: Path, tmp_path: Path) -> None:
    program = f"from tutor.resources import {folder}_folder as folder; print(folder())"
    found = Path(run([programs / "python", "-c", program], tmp_path).strip())
    assert found.is_relative_to(programs.parent)
    here = {path.removeprefix(f"{folder}/"): (ROOT / path).read_bytes() for path in files_under(folder)}
    there = {path.relative_to(found).as_posix(): path.read_bytes() for path in found.rglob("*") if path.is_file()}
    assert there == here


def test_the_installed_program_helps(programs: Path, tmp_path: Path) -> None:
    text = run([programs / "sleeve-tutor", "--help"], tmp_path)
    for command in ("learn", "lessons", "measure", "alter", "draft"):
        assert command in text


def test_the_installed_program_lists_every_lesson(programs: Path, tmp_path: Path) -> None:
    text = run([programs / "sleeve-tutor", "lessons"], tmp_path)
    for path in files_under("lessons"):
        if path.endswith(".toml"):
            assert tomllib.loads((ROOT / path).read_text(encoding="utf-8"))["title"] in text
    assert run([programs / "python", "-m", "tutor", "lessons"], tmp_path) == text


@pytest.mark.parametrize("command", [START, TEST])
def test_the_readme_gives_each_command_on_one_line_of_its_own(command: str) -> None:
    blocks = (ROOT / "README.md").read_text(encoding="utf-8").split("```")[1::2]
    lines = [line for block in blocks for line in block.splitlines()[1:]]
    assert lines.count(command) == 1
