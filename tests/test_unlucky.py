"""Bad luck: full disks, folders that may only be read, no home, wrong clocks, plain locales, kills, old companions."""

from __future__ import annotations

import contextlib
import errno
import io
import json
import os
import pwd
import re
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from unittest import mock

import pytest
from blocks import crossed, pattern
from class_for_tests import HOMEWORK
from lessons_for_tests import SMALL
from plan_text import write_plan
from record_driving import easy_lesson, edited
from test_hostile import assert_clear

from tutor import cli
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_write import write_svg
from tutor.practice.due import scheduled
from tutor.practice.session import Session
from tutor.record.database import Database
from tutor.record.opening import open_database
from tutor.record.record import Record, open_record
from tutor.record.schema import STEPS
from tutor.settings import DATA_VARIABLE, remember_unit, remembered_unit, settings_file
from tutor.units import Unit
from tutor.whole_file import write_new

NOBODY = 65534
"""The user who owns nothing, on Linux and elsewhere (from memory)."""
CLASS_QUIZ = 'title = "Evenings"\nlessons = ["small"]\ncount = 2\nseed = 1\n'
DRAFT = (
    *("draft", "--armhole-front", "21 cm", "--armhole-back", "22 cm", "--bicep-girth", "34 cm"),
    *("--cap-ease", "2.5 cm", "--sleeve-length", "58 cm", "--hem-girth", "24 cm"),
)
FORM = 'homework = "Small homework"\nlearner = "Anouk"\nunits = "cm"\n\n[[answers]]\ntask = 1\nanswer = "12.5 cm"\n'
LINES = "hint\nslash grain from crown to grain-hem\nopen grain 1 cm\nundo\nquit\n"
CHANGING = ("os.mkdir", "os.rename", "os.remove", "os.truncate", "os.link", "os.symlink")
NEW_PART = re.compile(r"\.[0-9a-f]{8}\.part$")
WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND


@dataclass(frozen=True)
class Ran:
    """How a run of the program ended."""

    status: int
    out: str
    err: str


@dataclass(frozen=True)
class Task:
    """A command that writes: its words, what is typed, which files it makes, and its status when all goes well."""

    words: tuple[str, ...]
    makes: tuple[str, ...]
    typed: str = ""
    status: int = 0
    first: tuple[str, ...] = ()


TASKS = {
    "draft": Task((*DRAFT, "--out", "new.svg"), ("new.svg",)),
    "alter": Task(("alter", "block.svg", "plan.toml", "--out", "new.svg"), ("new.svg",)),
    "over": Task((*DRAFT, "--out", "block.svg", "--force"), ("block.svg",)),
    "pages": Task(
        ("sheet", "block.svg", "--out", "printed", "--scale", "quarter", "--pdf"),
        ("printed/block-1.svg", "printed/block.pdf"),
    ),
    "sheet": Task(
        ("sheet", "homework.toml", "class.csv", "--out", "sheets", "--scale", "quarter"),
        ("sheets/register.json", "sheets/answers.csv", "sheets/key/key.html", "sheets/learners/anouk/anouk.toml"),
    ),
    "mark": Task(
        ("mark", "homework.toml", "answers", "--out", "marked"),
        ("marked/marks.csv", "marked/class.html", "marked/feedback/anouk.html"),
        first=("mark", "homework.toml", "--class", "class.csv", "--out", "marked"),
    ),
    "lessons new": Task(("lessons", "new", "mine"), ("data/lessons/mine.toml",)),
    "quiz give": Task(("quiz", "give", "quiz.toml", "--out", "given"), ("given/quiz-given.toml",)),
    "write": Task(("learn", "small.toml", "--plain"), ("my.svg",), "write my\nquit\n", 1),
}


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one of everything, in which the program runs; what is kept is kept in ``data``."""
    monkeypatch.setenv(DATA_VARIABLE, str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    lay_out(tmp_path)
    return tmp_path


def lay_out(folder: Path) -> None:
    for name in ("data/lessons", "answers"):
        (folder / name).mkdir(parents=True)
    content = {
        "block.svg": write_svg(pattern()),
        "plan.toml": write_plan(crossed(30.0)),
        "small.toml": SMALL,
        "homework.toml": HOMEWORK,
        "class.csv": "Name\nAnouk\n",
        "quiz.toml": CLASS_QUIZ,
        "data/lessons/small.toml": SMALL,
        "answers/anouk.toml": FORM,
    }
    for name, text in content.items():
        (folder / name).write_text(text, encoding="utf-8")


def run(*words: str, typed: str = "", encoding: str = "utf-8", read_as: str = "") -> Ran:
    """The program with its output kept; what it prints must go into the encoding. ``read_as`` is another's."""
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding=encoding, errors="strict") for _ in range(2))
    was = sys.stdin
    sys.stdin = io.TextIOWrapper(io.BytesIO(typed.encode()), encoding="utf-8")
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = cli.main(list(words))
    finally:
        sys.stdin = was
    out.flush()
    err.flush()
    return Ran(status, *(stream.buffer.getvalue().decode(read_as or encoding) for stream in (out, err)))


def files(folder: Path) -> dict[str, bytes]:
    """All files below a folder but for locks and SQLite's."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.suffix != ".lock" and path.name != ".lock" and "record.db" not in path.name
    }


def apart(work: Callable[[], int]) -> int:
    """The work done in a process of its own; its status, or less than 0 for the signal that ended it."""
    child = os.fork()
    if child == 0:
        status = 99
        try:
            status = work()
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


# full disks


@pytest.mark.parametrize("room", [0, 700])
@pytest.mark.parametrize("name", TASKS)
def test_a_disk_that_is_full_spoils_nothing(name: str, room: int, place: Path) -> None:
    """A process that may write so many bytes to a file meets what it would meet on a full disk, but for the number."""
    task = TASKS[name]
    if task.first:
        assert run(*task.first).status == 0
    before = files(place)

    def work() -> int:
        resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))
        ran = run(*task.words, typed=task.typed)
        told = ran.err if name != "write" else "".join(x for x in ran.out.splitlines() if "Not read" in x)
        assert os.strerror(errno.EFBIG) in told
        if name != "write":
            assert_clear(ran.err)
        return ran.status

    assert apart(work) == (2 if name != "write" else 1)
    after = files(place)
    assert {path: content for path, content in after.items() if path in before} == before
    # What was too much for the disk is not there in part, under whatever name.
    assert all(len(content) <= room for path, content in after.items() if path not in before)
    assert not [path for path in after if path.endswith(".part")]
    ran = run(*task.words, typed=task.typed)
    assert (ran.status, ran.err) == (task.status, "")
    assert all((place / path).stat().st_size > 0 for path in task.makes)


@pytest.mark.parametrize("words", [DRAFT, ("lessons",), ("progress", "--csv"), ("completion", "zsh"), ("--help",)])
def test_output_to_a_full_disk_is_said(words: tuple[str, ...], place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """/dev/full is the kernel's own full disk (full(4))."""
    err = io.StringIO()
    for buffering in (1, -1):
        with (
            open("/dev/full", "w", buffering=buffering, encoding="utf-8") as full,
            contextlib.redirect_stdout(full),
            contextlib.redirect_stderr(err),
        ):
            assert cli.main(list(words)) == 2
    assert err.getvalue() == f"sleeve-tutor: output: {os.strerror(errno.ENOSPC)}\n" * 2


def test_what_is_practised_on_a_full_disk_is_told_and_kept_when_there_is_room(place: Path) -> None:
    def work() -> int:
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
        ran = run("learn", "small.toml", "--plain", typed=LINES)
        assert "Note: Nothing can be kept" in ran.out
        assert "Hint 1 of 3" in ran.out
        assert "Traceback" not in ran.out + ran.err
        return ran.status

    assert apart(work) == 1
    ran = run("learn", "small.toml", "--plain", typed=LINES)
    assert "Note:" not in ran.out
    assert "Hint 1 of 3" in ran.out
    assert "Hint 2 of 3" in run("learn", "small.toml", "--plain", typed="hint\nquit\n").out


# folders that may only be read, and no home


@pytest.fixture
def shut(monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder laid out for the program, in which whoever runs it may read everything and write nothing."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        lay_out(folder)
        monkeypatch.setenv(DATA_VARIABLE, str(folder / "data"))
        monkeypatch.setenv("HOME", str(folder))
        monkeypatch.chdir(folder)
        run("learn", "small.toml", "--plain", "--units", "in", typed=LINES)
        # What is imported late must be imported while everything may be read.
        for task in TASKS.values():
            run(*task.first or ("--version",))
            run(*task.words, typed=task.typed)
        for made in ("new.svg", "my.svg", "data/lessons/mine.toml", "given/quiz-given.toml"):
            (folder / made).unlink(missing_ok=True)
        for made in ("printed", "sheets", "marked"):
            shutil.rmtree(folder / made)
        for path in (folder, *folder.rglob("*")):
            path.chmod(0o555 if path.is_dir() else 0o444)
        with as_nobody():
            yield folder
        for path in (folder, *(path for path in folder.rglob("*") if path.is_dir())):
            path.chmod(0o755)


@contextlib.contextmanager
def as_nobody() -> Iterator[None]:
    """No administrator, whom the system lets write everything, from here on."""
    administrator = os.geteuid() == 0
    if administrator:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if administrator:
            os.seteuid(0)


def test_folders_that_may_only_be_read_stop_what_writes_there_and_nothing_else(shut: Path) -> None:
    before = files(shut)
    for name, task in TASKS.items():
        ran = run(*(task.first or task.words), typed=task.typed)
        if name == "write":
            assert "Not read, and nothing lost: my.svg: may not be read or written by you" in " ".join(ran.out.split())
            continue
        assert ran.status == 2, name
        assert_clear(ran.err)
        assert "may not be read or written by you" in ran.err, (name, ran.err)
    assert run("measure", "block.svg", "--units", "cm").status == 0
    assert remembered_unit() is Unit.INCH
    assert run("lessons").err == ""
    ran = run("progress", "--json")
    assert json.loads(ran.out)["lessons"]
    ran = run("learn", "small.toml", "--plain", typed="hint\nquit\n")
    assert "Note: Nothing can be kept" in ran.out
    # It goes on from where it was, which can be read.
    assert "Hint 2 of 3" in ran.out
    assert files(shut) == before


def test_a_data_folder_that_may_not_even_be_read_is_told_of(shut: Path) -> None:
    os.environ[DATA_VARIABLE] = str(shut / "closed" / "data")
    with contextlib.ExitStack() as stack:
        if os.geteuid() == NOBODY:
            os.seteuid(0)
            stack.callback(os.seteuid, NOBODY)
        shut.chmod(0o755)
        (shut / "closed").mkdir()
        (shut / "closed").chmod(0)
    for words in (("lessons",), ("progress",), ("measure", "block.svg", "--units", "in"), ("completion", "bash")):
        ran = run(*words)
        assert ran.status == 0, (words, ran.err)
    assert "Note: Nothing can be kept" in run("learn", "small.toml", "--plain", typed="quit\n").out
    assert run("lessons", "new", "mine").status == 2


@pytest.mark.parametrize("home", [None, "", "nowhere", "/dev/null/home"])
def test_without_a_home_all_goes_but_keeping(home: str | None, place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for variable in (DATA_VARIABLE, "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
        monkeypatch.delenv(variable, raising=False)
    monkeypatch.delenv("HOME") if home is None else monkeypatch.setenv("HOME", home)
    monkeypatch.setattr(pwd, "getpwuid", lambda user: exec("raise KeyError(user)"))
    before = files(place)
    assert run("measure", "block.svg", "--units", "in").out
    assert run("lessons").status == 0
    assert run("progress", "--csv").status == 0
    assert run("completion", "bash").status == 0
    ran = run("learn", "small.toml", "--plain", typed="hint\nwrite ~/my\nwrite ~nobody-known/my\nquit\n")
    assert ran.status == 1
    assert "Note: Nothing can be kept" in ran.out
    assert "Hint 1 of 3" in ran.out
    ran = run("lessons", "new", "mine")
    assert ran.status == 2
    assert_clear(ran.err)
    assert files(place) == before


# wrong clocks


def test_a_clock_that_was_wrong_and_is_set_back(place: Path) -> None:
    assert run("learn", "small.toml", "--plain", typed="task 2\nanswer 3 cm\nquit\n").status == 1
    dates = ("2099-01-01T00:00:00+00:00", "1970-01-01T00:00:00+00:00", "9000-06-01T00:00:00", "2026-02-30", "yesterday")
    database = sqlite3.connect(place / "data/record.db")
    for date in dates:
        database.execute(
            "INSERT INTO attempt (lesson, seed, version, task, given, unit, mark, passed, hints, shown, time) "
            "SELECT '04-cap-seam-kept', '', 1, 1, '\"3 cm\"', 'cm', 0, 0, 0, 0, ?",
            (date,),
        )
    database.execute("UPDATE lesson SET time = ?", (dates[0],))
    database.commit()
    database.close()
    for words in (("progress",), ("progress", "--json"), ("progress", "--plot"), ("progress", "weeks", "--csv")):
        ran = run(*words)
        assert ran.status == 0
        assert ran.err == "sleeve-tutor: Some answers in the record can't be read, and are not counted.\n"
    done = json.loads(run("progress", "--json").out)
    tried = {each["name"]: each["tries"] for each in done["lessons"]}
    assert tried["04-cap-seam-kept"] == 5
    assert "Nothing is due. Lesson " in run("learn", "--plain", typed="\n").out
    with open_record() as record:
        attempts = record.attempts()
    assert len(attempts) == 4
    # What was answered on a day that is still to come was answered by now; it went wrong, and comes back tomorrow.
    now = datetime.now(UTC)
    assert {each.due <= now + timedelta(days=1) for each in scheduled(attempts, now)} == {True}


def test_files_of_a_year_to_come_are_written_over_as_others_are(place: Path) -> None:
    assert run(*TASKS["sheet"].words).status == 0
    for path in (place / "sheets").rglob("*"):
        os.utime(path, (4e9, 4e9))
    assert run(*TASKS["sheet"].words).status == 0
    assert run("mark", "homework.toml", "answers", "--out", "sheets").status == 0


# plain locales


@pytest.mark.parametrize("way", ["LC_ALL=C", "PYTHONIOENCODING=ascii"])
def test_a_plain_locale_garbles_nothing(way: str, place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What goes out is ASCII, and nothing in it had to be made a question mark that wasn't one."""
    name, value = way.split("=")
    for variable in ("LC_ALL", "LC_CTYPE", "LANG", "PYTHONIOENCODING", "PYTHONUTF8"):
        monkeypatch.delenv(variable, raising=False)
    monkeypatch.setenv(name, value)
    encoding = "ascii" if value == "ascii" else "utf-8"
    typed = "help\nfigure\ntape\nhint\nsolution\nunits in\ntape\nwords\ntour\nprogress\nquit\n"
    for words in (
        ("learn", "4", "--plain"),
        ("measure", "block.svg", "--draw"),
        ("alter", "block.svg", "plan.toml", "--draw"),
        (*DRAFT, "--draw"),
        (*DRAFT, "--units", "in", "--draw"),
        ("lessons",),
        ("progress",),
        ("progress", "--plot"),
        ("lessons", "check", "small.toml"),
        TASKS["sheet"].words,
        ("mark", "homework.toml", "answers", "--out", "sheets"),
        ("--help",),
    ):
        ran = run(*words, typed=typed, encoding=encoding)
        assert ran.status in (0, 1), (words, ran.err)
        assert ran.out.isascii(), (words, [line for line in ran.out.splitlines() if not line.isascii()])
        assert ran.err == ""
        if words[0] != "learn":
            assert "?" not in ran.out, words
    # What other programs read is whole.
    drafted = run(*DRAFT, "--title", "Ärmel", encoding=encoding, read_as="utf-8")
    assert "Ärmel" in drafted.out


# kills


@dataclass
class Death:
    """Kills its process, by SIGKILL, before the change of a file or the statement of a database of that number."""

    at: int
    count: int = 0

    def come(self) -> None:
        self.count += 1
        if self.count == self.at:
            os.kill(os.getpid(), signal.SIGKILL)

    def watch(self, event: str, arguments: tuple[Any, ...]) -> None:
        opened = event == "open" and isinstance(arguments[2], int) and arguments[2] & WRITING
        if opened or event in CHANGING:
            self.come()


def killed(task: Task, at: int) -> bool:
    """Runs a task in a process of its own that is killed at that moment; whether it came to it."""

    def work() -> int:
        death = Death(at)
        tried = Database.run

        def dying(database: Database, sql: str, *values: object) -> int:
            death.come()
            return tried(database, sql, *values)

        mock.patch.object(Database, "run", dying).start()
        sys.addaudithook(death.watch)
        return run(*task.words, typed=task.typed).status

    status = apart(work)
    assert status in (-signal.SIGKILL, task.status, 2), status
    return status == -signal.SIGKILL


@pytest.mark.parametrize("name", ["draft", "over", "pages", "lessons new", "write", "sheet", "mark"])
def test_killed_at_a_change_of_a_file_the_next_run_makes_it_whole(name: str, place: Path) -> None:
    task = TASKS[name]
    # What it comes to when nothing happens, and what there is before, for each kill anew.
    if task.first:
        assert run(*task.first).status == 0
    shutil.copytree(place, place / "kept-before")
    before = files(place / "kept-before")
    assert run(*task.words, typed=task.typed).status == task.status
    whole = {path: content for path, content in files(place).items() if not path.startswith("kept-before/")}
    # Where there are many of the same kind, some are tried.
    step = {"sheet": 5, "mark": 4, "write": 9}.get(name, 1)
    deaths = 0
    for at in range(1, 400, step):
        for there in place.iterdir():
            if there.name != "kept-before":
                shutil.rmtree(there) if there.is_dir() else there.unlink()
        shutil.copytree(place / "kept-before", place, dirs_exist_ok=True)
        if not killed(task, at):
            break
        deaths += 1
        after = {path: content for path, content in files(place).items() if not path.startswith("kept-before/")}
        for path, content in after.items():
            # Each file is as it was, or as it is to be; what is in between lies under a name of its own.
            assert path.endswith(".part") or path not in task.makes or content in (before.get(path), whole[path]), path
        ran = run(*task.words, typed=task.typed)
        assert ran.status == task.status or "is there already" in ran.err, (at, ran.err)
        after = {path: content for path, content in files(place).items() if not path.startswith("kept-before/")}
        # A disk that has no files without a name keeps what was to be a new file under a name of its own.
        assert {path: content for path, content in after.items() if not NEW_PART.search(path)} == whole, at
    assert deaths >= 2


def test_killed_at_a_statement_a_record_goes_on(place: Path) -> None:
    """``tests/kill.py`` kills at random moments; here statements that write have their turn."""
    lines = LINES.splitlines(keepends=True)
    deaths = 0
    for at in range(1, 200, 6):
        shutil.rmtree(place / "data")
        if not killed(Task(("learn", "small.toml", "--plain"), (), "".join(lines), 1), at):
            break
        deaths += 1
        database = sqlite3.connect(place / "data/record.db" if (place / "data").exists() else ":memory:")
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        database.close()
        ran = run("learn", "small.toml", "--plain", typed="hint\nhint\nhint\nquit\n")
        assert "Note:" not in ran.out
        assert "Hint 3 of 3" in ran.out
    assert deaths >= 5


def test_killed_in_the_middle_of_a_write_the_old_file_is_there(place: Path) -> None:
    """The system kills a process that writes beyond its limit, if it does not say otherwise (setrlimit(2))."""
    before = (place / "block.svg").read_bytes()

    def work() -> int:
        signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
        return run(*TASKS["over"].words).status

    assert apart(work) == -signal.SIGXFSZ
    assert (place / "block.svg").read_bytes() == before
    assert run(*TASKS["over"].words).status == 0
    assert read_svg(place / "block.svg", "").title == ""
    assert sorted(files(place)) == sorted({*files(place)} - {".block.svg.part"})


def test_a_link_that_leads_nowhere_is_there_and_a_device_is_not_replaced(tmp_path: Path) -> None:
    (tmp_path / "nowhere").symlink_to("gone")
    with pytest.raises(Fault, match="is there already"):
        write_new(tmp_path / "nowhere", "new", over=False, how_over="say so")
    write_new(Path(os.devnull), "lost", over=True, how_over="say so")
    assert not Path(os.devnull).is_file()


# terminals and pipes that go away


def separate(*words: str, **options: Any) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-m", "tutor", *words], stdin=subprocess.PIPE, stderr=subprocess.PIPE, **options
    )


@pytest.mark.parametrize("words", [("completion", "bash"), ("learn", "4", "--plain"), ("measure", "block.svg")])
def test_whoever_reads_one_line_and_goes_hears_no_complaint(words: tuple[str, ...], place: Path) -> None:
    with separate(*words, stdout=subprocess.PIPE, cwd=place, env=os.environ | {"PYTHONPATH": _path()}) as process:
        assert process.stdout is not None
        process.stdout.readline()
        process.stdout.close()
        _, err = process.communicate(LINES.encode() * 200)
    assert err == b""
    assert process.returncode in (0, 1, 141)


def test_a_terminal_that_hangs_up_ends_a_lesson_and_loses_nothing(place: Path) -> None:
    with separate(
        "learn", "small.toml", "--plain", stdout=subprocess.PIPE, cwd=place, env=os.environ | {"PYTHONPATH": _path()}
    ) as process:
        assert process.stdout is not None
        assert process.stdin is not None
        process.stdin.write(b"hint\n")
        process.stdin.flush()
        while b"Hint 1 of 3" not in process.stdout.readline():
            assert process.poll() is None
        process.send_signal(signal.SIGHUP)
        _, err = process.communicate()
    assert (process.returncode, err) == (-signal.SIGHUP, b"")
    assert "Hint 2 of 3" in run("learn", "small.toml", "--plain", typed="hint\nquit\n").out


def _path() -> str:
    return str(Path(cli.__file__).parents[1])


def test_standard_streams_that_are_closed(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (place / "data/lessons/bad.toml").write_text("x", encoding="utf-8")
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        monkeypatch.setattr(sys, "stderr", None)
        assert cli.main(["measure", "nowhere.svg"]) == 2
        sys.stderr.close()
        monkeypatch.setattr(sys, "stderr", None)
        assert cli.main(["lessons", "--json"]) == 0
        sys.stderr.close()
    # No complaint gets among what is printed.
    assert json.loads(out.getvalue())["lessons"]
    monkeypatch.setattr(sys, "stderr", err := io.StringIO())
    monkeypatch.setattr(sys, "stdout", None)
    for words in (("learn", "small.toml", "--plain"), ("quiz", "--plain", "--seed", "1")):
        assert cli.main(list(words)) == 2
    assert err.getvalue() == "sleeve-tutor: there is nothing to print to; give standard output\n" * 2


# two versions with one data folder


@pytest.fixture
def lesson(tmp_path: Path) -> Lesson:
    return easy_lesson(tmp_path)


def test_a_record_that_a_newer_version_takes_over_is_written_on_by_the_older(place: Path, lesson: Lesson) -> None:
    newer = (
        *STEPS,
        (
            "ALTER TABLE lesson ADD COLUMN colour TEXT NOT NULL DEFAULT ''",
            "ALTER TABLE part ADD COLUMN size INTEGER NOT NULL DEFAULT 0",
            "ALTER TABLE standing ADD COLUMN since TEXT",
            "ALTER TABLE setting ADD COLUMN since TEXT",
            "ALTER TABLE quiz_work ADD COLUMN since TEXT",
        ),
    )
    folder = place / "data"
    older = open_record(folder)
    session = Session(lesson, Unit.CM)
    assert older.save(session, {"zoom": 1})
    taken_over = Record(open_database(folder, newer), folder)
    assert older.save(edited(session, 1, 40), {"zoom": 2})
    assert older.keep_setting("theme", "dark")
    assert (older.notice, taken_over.notice) == ("", "")
    found, screen = taken_over.resume(lesson)
    assert found is not None
    assert (found.dump(), screen) == (session.dump(), {"zoom": 2})
    older.close()
    taken_over.close()
    # Begun again, the older one puts the newer one's file aside as it is, and says so.
    with open_record(folder) as again:
        assert "it was made by a newer sleeve-tutor. It is set aside as record-set-aside-1.db" in again.notice
    (folder / "record-set-aside-1.db").rename(folder / "record.db")
    with contextlib.closing(Database(folder / "record.db")) as kept:
        assert kept.version == len(newer)
        assert kept.rows("SELECT count(*) FROM attempt") == [(len(session.attempts(2)),)]


@pytest.mark.parametrize(
    ("there", "kept"),
    [
        ('units = "cm"\n', ""),
        ('colour = "dark"\nunits = "cm"\n\n[more]\nunits = 3\n', 'colour = "dark"\n\n[more]\nunits = 3\n'),
        ('# mine\nunits = "fathom"   # of a newer version\n[more]\nlist = [1, 2]\n', "# mine\n[more]\nlist = [1, 2]\n"),
        ('text = """\nunits = 4\n"""\n', ""),
        ("units.of = 3\n", ""),
        ("[units]\nof = 3\n", ""),
    ],
)
def test_settings_keep_what_another_version_has_put_there(there: str, kept: str, place: Path) -> None:
    path = settings_file()
    assert path is not None
    path.write_text(there, encoding="utf-8")
    remember_unit(Unit.INCH)
    assert path.read_text(encoding="utf-8") == f'units = "in"\n{kept}'
    assert remembered_unit() is Unit.INCH
    assert [each.name for each in path.parent.iterdir() if each.is_file()] == ["settings.toml"]
