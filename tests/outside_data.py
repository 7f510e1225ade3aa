"""Every reader of what comes from outside, as a function of bytes; and good bytes for each to begin from.

A reader gives a value, or raises Fault or Refusal; anything else that it raises is wrong. ``tests/fuzz_inputs.py``
feeds them for as long as it is told, ``tests/test_fuzzed_inputs.py`` a little in every run.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import sqlite3
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from unittest import mock

from blocks import crossed, pattern
from class_for_tests import HOMEWORK, NAMES
from class_for_tests import PLAN as ANSWER_PLAN
from lessons_for_tests import SMALL, small_lesson
from plan_text import write_plan
from quiz_driving import small_quiz
from record_driving import edited

from tutor import cli
from tutor.alteration.alter import alter
from tutor.alteration.plan_file import read_plan, solved
from tutor.classwork.class_list import read_class
from tutor.classwork.drawn_pattern import read_drawn
from tutor.classwork.enrolment import handed_in
from tutor.classwork.homework import Homework
from tutor.classwork.homework_reading import read_homework
from tutor.classwork.learner import Learner
from tutor.classwork.overrides import read_overrides
from tutor.classwork.register import Register, dealt, register_from
from tutor.classwork.store import Store
from tutor.classwork.writing import Ledger
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.listing import whole_listing
from tutor.lesson.reading import check_lesson, own_lesson, read_lesson
from tutor.pattern.measures import measure
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_write import write_svg
from tutor.practice.due import due
from tutor.practice.entry import read_figure
from tutor.practice.page import Page
from tutor.practice.plain_commands import obey
from tutor.practice.plain_talk import Talk
from tutor.practice.session import Session
from tutor.quiz import plain_commands as quiz_commands
from tutor.quiz.class_quiz import read_class_quiz
from tutor.quiz.handout import Handout, handout_text, read_handout
from tutor.quiz.outcome import outcome_of
from tutor.quiz.plain_text import outcome_lines
from tutor.quiz.quiz import Quiz
from tutor.quiz.results import marked_again, read_results, results_text
from tutor.quiz.sitting import Sitting
from tutor.record import open_record
from tutor.resources import assets_folder, lessons_folder
from tutor.settings import DATA_VARIABLE, remember_unit, remembered_unit
from tutor.toml_reading import read_toml
from tutor.units import Unit, parse_length

BLOCK = write_svg(pattern())
WHERE = "file"
CLASS_QUIZ = 'title = "Evenings"\nlessons = ["small"]\ncount = 4\nseed = 1\nminutes = 30\nvariants = "each"\n'
ARGUMENTS = (
    "measure block.svg --arm 30 --units cm --draw --width 60 --height 20 --ascii",
    "measure - --json",
    "alter block.svg plan.toml --out new.svg --allowance 1cm --force --json",
    "draft --armhole-front 21cm --armhole-back 22cm --bicep-girth 34 --cap-ease 2.5 --sleeve-length 58 --hem-girth 24",
    "draft --armhole-front=21 --armhole-back=22 --arm-girth=29 --wearing-ease=-1 --cap-height=12 --slant-front=19"
    " --slant-back=19 --cap-ease-front=1 --cap-ease-back=1 --sleeve-length=30 --hem-girth=24 --elbow-level=20"
    " --notch-front=7 --notch-back=7 --above-elbow --title=mine --out=out.svg",
    "learn small.toml --plain --ascii --seed 3",
    "learn 4 --plain",
    "quiz --lessons 4,6-7 --count 3 --seed 11 --minutes 5 --pauses stop --pass-mark 0.7 --marks end --plain --new",
    "quiz give quiz.toml --out given --learner Anouk --class class.csv --force",
    "quiz mark results.toml --of quiz.toml --csv",
    "quiz results --name Anouk",
    "lessons check small.toml --seeds 2 --json",
    "lessons new mine",
    "sheet block.svg --out printed --paper letter --scale half --allowance 1 --seams-only --pdf --semicolons",
    "sheet homework.toml class.csv --out sheets",
    "mark homework.toml answers --out sheets --class class.csv --replace --json --semicolons",
    "mark homework.toml --out sheets --again --write --force",
    "progress weeks --weeks 4 --plot --ascii",
    "progress mistakes --csv",
    "completion zsh",
    "--units in --version --help",
)
LESSON_LINES = (
    "hints\nhint\nslash grain from crown to grain-hem hinge both\nslash bicep from underarm-back to underarm-front\n"
    "open grain at bicep toward to 2 cm\ntape\nlook\ncheck\nundo\nredo\nsolution\nmeasures\n",
    "task 2\nanswer 12.5 cm\nanswer 1 1/2 in\nunits in\nwrite my-sleeve\nwrite over ~nobody/my.svg\nprogress\n",
    "help\nhelp slash\nmove grain from 3 cm along hem\nhinge grain from\ndrop grain\nwiden back 1\nlower front 1 in\n",
    "sign fold-direction\ncause too-narrow\nwords cap\ntour\nvariant 7\nagain\ntask 1\nplan\nquit\n",
)
QUIZ_LINES = (
    "list\ngo 2\nanswer 12 cm\nanswer 1,2\nnext\nback\nmark\ntime\nhelp\nlook\nunits in\nhand in\nyes\n",
    "slash a from crown to grain-hem\nopen a 1 cm\ntape\nundo\ngo 4\nanswer back hinge\nquit\n",
)
CELLS = (
    *(("lesson", name) for name in ("name", "number", "title", "tasks", "time")),
    *(("standing", name) for name in ("task", "passed", "shown")),
    *(("sitting", name) for name in ("seed", "version", "turn", "screen", "state")),
    *(("part", name) for name in ("number", "text")),
    *(
        ("attempt", name)
        for name in ("seed", "version", "task", "given", "unit", "mark", "passed", "mistake", "hints", "shown", "time")
    ),
    *(("attempt", name) for name in ("form", "quiz")),
    ("setting", "value"),
    *(("quiz", name) for name in ("digest", "drawn", "learner", "turn", "head", "ended", "time")),
    *(("quiz_work", name) for name in ("question", "state")),
)
"""The places of the record, a byte's value each, in which something else may come to stand."""

Take = Callable[[bytes], object]


@dataclass(frozen=True)
class Reader:
    """``take`` reads some bytes; ``seeds`` are good ones."""

    take: Take
    seeds: tuple[bytes, ...]


def readers(folder: Path) -> dict[str, Reader]:
    """All readers by their names; they may write within the folder and nowhere else."""
    place = _Place(folder)
    quiz, lessons = small_quiz(folder)
    handout = handout_text(Handout(quiz, "Anouk")).encode()
    sound = {path.name: path.read_bytes() for path in sorted((assets_folder() / "evening-class/answers").iterdir())}
    forms = [data for name, data in sound.items() if name.endswith(".toml")]
    points = "seam,x,y\n" + "".join(f"hem,{k * 10},-400\n" for k in range(-12, 13)) + 'cap-back,"-17,5",0\n'
    typed = [text.encode() for text in LESSON_LINES]
    lengths = ("12.5 cm", "1 1/2 in", "3,8cm", '1½"', "38mm", "-1-1/2 in", "30°", "2.5 %", "1.234,5 mm")
    files = [path.read_bytes() for path in sorted(lessons_folder().glob("*.toml"))[:24:6]]
    # Of the lesson of folds two questions, as each takes its time.
    folds = b"\n[[tasks]]".join((lessons_folder() / "25-drag-lines.toml").read_bytes().split(b"\n[[tasks]]")[:3])
    marks = b"learner,task,mark,reason\nAnouk,1,50,counted by hand\nTove;2;0,5;x\n"
    return {
        "lesson": Reader(
            place.lesson, (SMALL.encode(), (assets_folder() / "new-lesson.toml").read_bytes(), *files, folds)
        ),
        "plan": Reader(place.plan, (write_plan(crossed(30.0)).encode(), ANSWER_PLAN.encode(), *_plans())),
        "pattern": Reader(_pattern, (BLOCK.encode(), (assets_folder() / "blouse-block.svg").read_bytes())),
        "drawing": Reader(place.drawing, (BLOCK.encode(), *(data for name, data in sound.items() if "svg" in name))),
        "homework": Reader(place.homework_file, (HOMEWORK.encode(), b"seed = 4\nvariants = 3\n" + HOMEWORK.encode())),
        "class list": Reader(
            lambda data: read_class(data, WHERE, Unit.CM), (b"Name\nAnouk\nTove\n", b'Name;Units\n"Odd, B.";in\n')
        ),
        "form": Reader(place.answer(".toml"), tuple(forms[::4])),
        "table": Reader(place.answer(".csv"), (sound["on-paper.csv"],)),
        "points": Reader(place.answer(".csv"), (points.encode(), sound["idris-3.csv"])),
        "overrides": Reader(place.overrides, (marks,)),
        "register": Reader(lambda data: register_from(data.decode("utf-8", "replace"), WHERE), (place.register,)),
        "kept answers": Reader(place.kept, place.kept_seeds()),
        "class quiz": Reader(lambda data: read_class_quiz(read_toml(data, WHERE), lessons), (CLASS_QUIZ.encode(),)),
        "quiz file": Reader(lambda data: read_handout(read_toml(data, WHERE)), (handout,)),
        "results": Reader(place.results(lessons), (_results(quiz, lessons),)),
        "settings": Reader(place.settings, (b'units = "in"\n', b"units = 'cm'\ncolour = \"dark\"\n[more]\na = 1\n")),
        "length": Reader(_length, tuple(text.encode() for text in lengths)),
        "arguments": Reader(place.arguments, tuple(text.replace(" ", "\n").encode() for text in ARGUMENTS)),
        "lesson lines": Reader(place.lesson_lines, tuple(bytes([k]) + text for k in range(3) for text in typed)),
        "quiz lines": Reader(place.quiz_lines(lessons), tuple(text.encode() for text in QUIZ_LINES)),
        "record": Reader(place.record, place.record_seeds()),
        "record file": Reader(place.record_file, (place.kept_record,)),
    }


def _plans() -> Iterator[bytes]:
    for path in sorted(assets_folder().glob("*.toml")):
        if b"[[slash]]" in path.read_bytes() or b"set-back" in path.read_bytes():
            yield path.read_bytes()


def _pattern(data: bytes) -> None:
    read = read_svg(data, WHERE)
    measure(read)
    write_svg(read)


def _length(data: bytes) -> None:
    text = data.decode("utf-8", "surrogateescape")
    for what in ("cap-height", "pitch", "cap-ease-share"):
        with contextlib.suppress(Fault, KeyError):
            read_figure(text, what, Unit.INCH)
    parse_length(text, Unit.CM)


def _results(quiz: Quiz, lessons: Mapping[str, Lesson]) -> bytes:
    sitting = Sitting(quiz, lessons, Unit.CM, "Anouk")
    for number, answer in zip(sitting.numbers, ("12.5 cm", "1", "2", "3"), strict=False):
        sitting.go_to(number)
        with contextlib.suppress(Fault, AttributeError):
            sitting.asked.session.answer(answer)
    sitting.hand_in()
    return results_text(sitting, outcome_of(sitting)).encode()


class _Place:
    """A folder with one of everything in it, and the readers that need one."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.small = small_lesson(folder)
        (folder / "block.svg").write_text(BLOCK, encoding="utf-8")
        (folder / "plan.toml").write_text(write_plan(crossed(30.0)), encoding="utf-8")
        (folder / "quiz.toml").write_text(CLASS_QUIZ, encoding="utf-8")
        (folder / "class.csv").write_text("Name\n" + "\n".join(NAMES) + "\n", encoding="utf-8")
        (folder / "homework.toml").write_text(HOMEWORK, encoding="utf-8")
        for name in ("answers", "data", "kept-record"):
            (folder / name).mkdir(exist_ok=True)
        self.homework: Homework = read_homework(folder / "homework.toml")
        learners = tuple(Learner(name, Unit.CM) for name in NAMES)
        self.enrolled: Register = dealt(self.homework, learners)
        self.register = self.enrolled.text().encode()
        self.block = pattern()
        self.lessons = (self.small, own_lesson("25-drag-lines"), own_lesson("08-one-wedge"))
        self.kept_record = self._kept_record(folder / "kept-record")

    def _path(self, name: str, data: bytes) -> Path:
        path = self.folder / name
        path.write_bytes(data)
        return path

    def lesson(self, data: bytes) -> None:
        path = self._path("bad-lesson.toml", data)
        if not check_lesson(path):
            read_lesson(path)

    def plan(self, data: bytes) -> None:
        alter(self.block, solved(self.block, read_plan(data, WHERE)))

    def drawing(self, data: bytes) -> None:
        read_drawn(data, WHERE, self.block)

    def homework_file(self, data: bytes) -> None:
        read_homework(self._path("bad-homework.toml", data))

    def answer(self, ending: str) -> Take:
        def take(data: bytes) -> None:
            path = self._path(f"answers/anouk-2{ending}", data)
            try:
                list(handed_in([path.parent], self.enrolled))
            finally:
                path.unlink()

        return take

    def overrides(self, data: bytes) -> None:
        self._path("overrides.csv", data)
        read_overrides(self.folder, self.homework, self.enrolled)

    # What marking keeps.

    def kept_seeds(self) -> tuple[bytes, ...]:
        """Answers as they are kept, of every kind, and a mark."""
        given: tuple[dict[str, Any], ...] = (
            {"text": "12 cm"},
            {"plan": {"slash": []}},
            {"svg": "<svg/>"},
            {"svg": {"base64": "AA=="}},
            {"points": {"hem": [[1, 2]]}},
        )
        answers = [{"given": each, "unit": "cm", "from": "a.toml", "on": "2026-11-18"} for each in given]
        mark = {"total": 0.5, "passed": False, "near": True, "mistake": None, "trouble": "", "feedback": ["a"]}
        shown = {"goals": [["a", "b", "c", 0.5]], "differences": [], "pictures": [[["a", "M0 0"]]]}
        marked = {"answer": "x-cm", "by": "y", **mark, **shown}
        return tuple(json.dumps({"1": each}).encode() for each in (*answers, marked, "a"))

    def kept(self, data: bytes) -> None:
        store = Store(self.folder / "out")
        learner = self.enrolled.learners[0]
        with store.locked():
            # Only then are its folders there.
            pass
        try:
            for path in (store.own / f"given/{learner.file}.json", store.own / f"marked/{learner.file}.json"):
                path.write_bytes(data)
            (store.own / "troubles.json").write_bytes(data)
            for read in (lambda: store.answers(learner), lambda: store.results(learner), store.troubles):
                with contextlib.suppress(Fault):
                    read()
            Ledger(store.folder, store.own / "troubles.json")
        finally:
            store.close()

    # Quizzes.

    def results(self, lessons: Mapping[str, Lesson]) -> Take:
        def take(data: bytes) -> None:
            found = read_results(read_toml(data, WHERE))
            marked_again(found, lessons)

        return take

    def quiz_lines(self, lessons: Mapping[str, Lesson]) -> Take:
        quiz, _ = small_quiz(self.folder)

        def take(data: bytes) -> None:
            talk = quiz_commands.QuizTalk(Sitting(quiz, lessons, Unit.CM), Page())
            for line in _lines(data):
                with contextlib.suppress(Fault), self._inside():
                    quiz_commands.obey(talk, line)
                if talk.leaving or talk.sitting.is_over:
                    break
            if talk.sitting.is_over:
                outcome_lines(talk.sitting, outcome_of(talk.sitting), Page())

        return take

    # What is typed.

    def lesson_lines(self, data: bytes) -> None:
        talk = Talk(Session(self.lessons[data[0] % len(self.lessons)] if data else self.small, Unit.CM), Page())
        for line in _lines(data[1:]):
            with contextlib.suppress(Fault), self._inside():
                obey(talk, line)
            if talk.leaving:
                break

    def settings(self, data: bytes) -> None:
        self._path("data/settings.toml", data)
        with self._inside():
            remember_unit(Unit.INCH if remembered_unit() is Unit.CM else Unit.CM)

    def arguments(self, data: bytes) -> None:
        """What is asked for is done but where it is long by its nature: quizzes aren't drawn, nor lessons tried out."""

        def refuse(*_: object, **__: object) -> object:
            raise Fault("", "is not done here")

        given = data.decode("utf-8", "surrogateescape").split("\n")
        with (
            self._inside(),
            mock.patch("tutor.quiz.drawing.draw_quiz", refuse),
            mock.patch("tutor.practice.proving.prove", refuse),
            mock.patch("tutor.classwork.register.deal", refuse),
        ):
            status, _, err = told(*given)
        assert status in (0, 1, 2), (status, err)
        assert "fault of the program" not in err, err

    @contextlib.contextmanager
    def _inside(self) -> Iterator[None]:
        """Works within the folder, with the data folder in it."""
        before = Path.cwd()
        os.chdir(self.folder)
        try:
            with mock.patch.dict(os.environ, {DATA_VARIABLE: str(self.folder / "data"), "HOME": str(self.folder)}):
                yield
        finally:
            os.chdir(before)

    # The record.

    def _kept_record(self, folder: Path) -> bytes:
        """A record in which there is one of everything."""
        quiz, lessons = small_quiz(self.folder)
        with open_record(folder) as record:
            session = edited(Session(self.small, Unit.CM), 1, 62)
            record.save(session, {"edit": 62})
            record.keep_setting("theme", {"name": "dark"})
            for over in (True, False):
                sitting = Sitting(quiz, lessons, Unit.CM, "Anouk")
                for number in sitting.numbers:
                    sitting.go_to(number)
                    with contextlib.suppress(Fault, AttributeError):
                        sitting.asked.session.answer("12 cm")
                if over:
                    sitting.hand_in()
                record.save_quiz(sitting)
        database = sqlite3.connect(folder / "record.db")
        database.execute("PRAGMA journal_mode = DELETE")
        database.close()
        return (folder / "record.db").read_bytes()

    def record_seeds(self) -> tuple[bytes, ...]:
        database = sqlite3.connect(self.folder / "kept-record/record.db")
        found = []
        for number, (table, column) in enumerate(CELLS):
            row = database.execute(f"SELECT {column} FROM {table} LIMIT 1").fetchone()
            found.append(bytes([number]) + str(row[0] if row else "").encode())
        database.close()
        return tuple(found)

    def record(self, data: bytes) -> None:
        """Puts something else into all rows of one place of a record, and reads all that a record is asked for."""
        table, column = CELLS[data[0] % len(CELLS)] if data else CELLS[0]
        value: object = data[1:]
        with contextlib.suppress(UnicodeDecodeError):
            value = data[1:].decode("utf-8")
        path = self._fresh_record(self.kept_record)
        database = sqlite3.connect(path)
        triggers = database.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
        try:
            for name, _ in triggers:
                database.execute(f"DROP TRIGGER {name}")
            only = f"WHERE rowid = (SELECT max(rowid) FROM {table})" if table in ("sitting", "quiz", "attempt") else ""
            database.execute(f"UPDATE {table} SET {column} = ? {only}", (value,))
            for _, sql in triggers:
                database.execute(sql)
            database.commit()
        except sqlite3.Error:
            return
        finally:
            database.close()
        self._read_record(path.parent, table)

    def record_file(self, data: bytes) -> None:
        self._read_record(self._fresh_record(data).parent)

    def _fresh_record(self, content: bytes) -> Path:
        folder = self.folder / "record"
        folder.mkdir(exist_ok=True)
        for path in folder.iterdir():
            path.unlink()
        (folder / "record.db").write_bytes(content)
        return folder / "record.db"

    def _read_record(self, folder: Path, table: str = "") -> None:
        """Reads what a record is asked for; of a table, what goes by it."""
        _, lessons = small_quiz(self.folder)
        with open_record(folder) as record:
            attempts = record.attempts()
            record.progress(whole_listing()[0])
            record.setting("theme")
            record.last_lesson()
            if table in ("", "lesson", "attempt"):
                due(attempts, datetime.now(UTC))
            if table in ("", "quiz", "quiz_work"):
                record.resume_quiz(lessons)
                sitting = record.handed_in_quiz(lessons)
                if sitting is not None:
                    outcome_of(sitting)
            if table in ("", "sitting", "part"):
                session, _ = record.resume(self.small, record.seed_left(self.small))
                if session is not None:
                    talk = Talk(session, Page())
                    for line in ("tape", "undo", "plan", "redo"):
                        with contextlib.suppress(Fault):
                            obey(talk, line)
                    record.save(session)
        if table in ("lesson", "standing", "attempt"):
            with mock.patch.dict(os.environ, {DATA_VARIABLE: str(folder)}):
                status, _, err = told("progress", *(["--json"] if len(attempts) % 2 else ["--plot"]))
                assert status == 0, err


def _lines(data: bytes) -> list[str]:
    return data.decode("utf-8", "surrogateescape").split("\n")[:20]


def told(*arguments: str) -> tuple[int, str, str]:
    """The program run with these arguments: its status, and what it printed. A pattern waits on standard input."""
    out, err = io.StringIO(), io.StringIO()
    pattern_in = io.TextIOWrapper(io.BytesIO(BLOCK.encode()), encoding="utf-8")
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), mock.patch.object(sys, "stdin", pattern_in):
        status = cli.main(list(arguments))
    return status, out.getvalue(), err.getvalue()
