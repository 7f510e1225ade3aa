"""What one person has done, kept as it happens."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import RLock
from typing import TYPE_CHECKING, Any, Self, TypeVar
from weakref import WeakKeyDictionary

from tutor.faults import Fault, printable
from tutor.quiz.canonical import canonical
from tutor.record.attempts import ATTEMPTS, KeptAttempt, kept_attempt
from tutor.record.database import WAIT, Database, Trouble
from tutor.record.image import Image, read_state, text_of
from tutor.record.opening import Opened, open_database
from tutor.record.progress import LessonProgress, Titled, read_progress
from tutor.record.quizzes import ANY_UNDER_WAY, HANDED_IN, KeptQuiz, QuizImage, give_up, read_quiz, write_quiz
from tutor.record.writing import name_of, seed_of, seed_text, write_session
from tutor.settings import data_folder
from tutor.units import Unit

if TYPE_CHECKING:
    from tutor.lesson.lesson import Lesson
    from tutor.practice.session import Session
    from tutor.quiz.sitting import Sitting

T = TypeVar("T")

WAIT_AGAIN = 0.02
"""Seconds that another writer is waited for after waiting was in vain, so that keys don't become slow."""
WAIT_AT_THE_END = 3.0

_SITTINGS = """SELECT id, version, screen, state FROM sitting
    WHERE lesson = ? AND seed = ? ORDER BY turn DESC"""
_LEFT = """SELECT lesson, seed FROM sitting AS last
    WHERE turn = (SELECT max(turn) FROM sitting WHERE lesson = last.lesson)"""
_PARTS = "SELECT number, text FROM part WHERE sitting = ?"

_Kept = tuple[int, str, str, list[tuple[Any, ...]]]
"""A sitting: version, screen, state and parts."""
Screen = Mapping[str, Any]
"""What a face remembers besides the session; texts, numbers, lists and tables, as JSON has them."""


@dataclass(frozen=True, slots=True)
class LastLesson:
    """The name of the lesson last worked at, and the number of its variant."""

    name: str
    seed: int | None


class Record:
    """The record, open. No method raises for anything the disk does; see ``notice``."""

    def __init__(self, opened: Opened, folder: Path | None) -> None:
        self._database: Database = opened.database
        self._locks = opened.locks
        self._folder = folder
        self._notices = list(opened.notices)
        self._images: WeakKeyDictionary[Session, Image] = WeakKeyDictionary()
        self._quizzes: WeakKeyDictionary[Sitting, QuizImage] = WeakKeyDictionary()
        # What could not be written yet, with its screen.
        self._waiting: dict[Session, str] = {}
        # Lessons of which the disk did not say where somebody left off: that must outlive what is done now.
        self._unread: set[str] = set()
        self._lock = RLock()
        self._settings: dict[str, Any] = {}
        self._failing = False
        self._told_unread = False
        self._closed = False

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # What the user is to be told.

    @property
    def notice(self) -> str:
        """What has still to be told, in sentences: a file set aside, a disk that is full; "" while all is well."""
        return " ".join(self._notices)

    def take_notice(self) -> str:
        """``notice``, once: after that it is taken as told."""
        notice = self.notice
        self._notices.clear()
        return notice

    # Lessons under way.

    def save(self, session: Session, screen: Screen | None = None) -> bool:
        """Keeps all of a session, its new attempts, and what the screen remembers of it.

        True when it is on disk, or in memory where ``notice`` has told that there is no disk; else ``notice`` says
        why, and the next call tries again. Raises TypeError for a screen that is no plain table.
        """
        told = text_of(screen)
        with self._lock:
            if self._closed:
                return False
            self._waiting[session] = told
            if not self._written(session):
                self._tried(lambda: self._database.wait(WAIT_AGAIN), None)
                return False
            if self._failing and all(list(map(self._written, list(self._waiting)))):
                self._failing = False
                self._tried(lambda: self._database.wait(WAIT), None)
                self._tell("What you do is kept again, and nothing is missing.")
            return True

    def resume(self, lesson: Lesson, seed: int | None = None) -> tuple[Session | None, dict[str, Any] | None]:
        """The session last saved of a lesson, or of the variant with that seed, and what its screen remembered.

        (None, None) when there is none, or when it no longer fits the lesson, which ``notice`` then tells. ``notice``
        tells as well when another tutor has the lesson open.
        """
        alone = self._locks.take(_key(lesson, seed))
        if not alone:
            self._tell(
                f"Lesson {lesson.number} is open in another tutor as well. Nothing is lost by that; "
                "what is done last, here or there, is where it opens next time."
            )
        none: tuple[_Kept, ...] = ()
        found = self._tried(lambda: self._sittings(lesson, seed), none)
        if not found:
            return None, None
        (version, screen, state, parts), *others = found
        if version != lesson.version:
            self._begins_anew(f"Lesson {lesson.number} has changed since you left off")
            return None, None
        from tutor.practice.session import Session

        try:
            session = Session.load(lesson, read_state(state, parts))
            remembered = json.loads(screen) if screen else None
            if not isinstance(remembered, dict | None):
                raise ValueError(screen)
        except (Fault, ValueError, TypeError, RecursionError):
            self._begins_anew(f"Where you left off in lesson {lesson.number} can't be read")
            return None, None
        if alone and self._taken_in(lesson, session, others):
            self._tell(
                f"Lesson {lesson.number} was open in two tutors at once. It goes on as the last of them left it; undo"
                " goes back to what was built in the other, and answers given in either count."
            )
        numbers = range(1, len(session.tasks) + 1)
        self._images[session] = Image([len(session.attempts(number)) for number in numbers])
        self.save(session, remembered)
        return session, remembered

    def seed_left(self, lesson: Lesson) -> int | None:
        """The seed of the variant in which a lesson was left, None for the lesson as written."""
        sql = "SELECT seed FROM sitting WHERE lesson = ? ORDER BY turn DESC LIMIT 1"
        return next((seed for (text,) in self._rows(sql, name_of(lesson)) if (seed := _seed(text)) is not None), None)

    def variants_left(self) -> dict[str, int]:
        """The seeds of the variants in which lessons were left, by the lessons' names; none for those as written."""
        left = ((str(name), _seed(text)) for name, text in self._rows(_LEFT))
        return {name: seed for name, seed in left if seed is not None}

    def _sittings(self, lesson: Lesson, seed: int | None) -> tuple[_Kept, ...]:
        """The sittings at a lesson that are kept, the last first, all of the same moment.

        There is more than one after two tutors had the lesson open at once.
        """
        self._unread.add(_key(lesson, seed))
        with self._database.transaction():
            rows = self._database.rows(_SITTINGS, name_of(lesson), seed_text(seed))
            found = [(*row, self._database.rows(_PARTS, sitting)) for sitting, *row in rows]
        self._unread.discard(_key(lesson, seed))
        return tuple(found)

    def _taken_in(self, lesson: Lesson, session: Session, others: Sequence[_Kept]) -> bool:
        """Takes in what was done in other sittings at the lesson; whether there was anything."""
        from tutor.practice.session import Session

        took = False
        for version, _, state, parts in others:
            with suppress(Fault, ValueError):
                if version == lesson.version:
                    took |= session.take_in(Session.load(lesson, read_state(state, parts)))
        return took

    def _begins_anew(self, reason: str) -> None:
        self._tell(f"{reason}, so it begins anew. Your attempts are kept.")

    def last_lesson(self) -> LastLesson | None:
        """The lesson last saved, or None."""
        sql = "SELECT lesson, seed FROM sitting ORDER BY turn DESC LIMIT 1"
        return next((LastLesson(str(name), _seed(text)) for name, text in self._rows(sql)), None)

    # What was achieved.

    def attempts(self, lesson: str | None = None) -> tuple[KeptAttempt, ...]:
        """All attempts, or those at one lesson by its name, in the order in which they were made."""
        found = [kept_attempt(row) for row in self._rows(ATTEMPTS, lesson)]
        if None in found and not self._told_unread:
            self._told_unread = True
            self._tell("Some answers in the record can't be read, and are not counted.")
        return tuple(attempt for attempt in found if attempt is not None)

    def progress(self, lessons: Sequence[Titled]) -> tuple[LessonProgress, ...]:
        """How far each of the lessons is, in their order; other lessons that were begun follow."""
        return self._tried(lambda: read_progress(self._database, lessons), ())

    # Quizzes.

    def save_quiz(self, sitting: Sitting) -> bool:
        """Keeps a quiz as it stands; once it is over, its answers as attempts. True when it is on disk."""
        image = self._quizzes.setdefault(sitting, QuizImage())

        def write() -> bool:
            write_quiz(self._database, sitting, image)
            return True

        with self._lock:
            written = not self._closed and self._tried(write, False)
            if written and self._failing and not self._waiting:
                self._failing = False
                self._tell("What you do is kept again, and nothing is missing.")
            return written

    def resume_quiz(
        self, lessons: Mapping[str, Lesson], digest: str | None = None, learner: str | None = None
    ) -> Sitting | None:
        """The quiz under way that was last worked at, of this digest or this learner where one is named.

        None when there is none, or when it no longer fits the lessons, which ``notice`` then tells.
        """
        read = self._read_quiz(lambda: read_quiz(self._database, digest, learner), lessons)
        if read is None:
            return None
        sitting, row = read
        if not self._locks.take(f"quiz {row}"):
            self._tell("This quiz is open in another tutor as well. What is done last, here or there, is what counts.")
        return sitting

    def has_open_quiz(self) -> bool:
        """Whether there is a quiz under way."""
        return bool(self._rows(ANY_UNDER_WAY))

    def handed_in_quiz(self, lessons: Mapping[str, Lesson]) -> Sitting | None:
        """The quiz last handed in; None when there is none, or it no longer fits the lessons."""
        read = self._read_quiz(lambda: read_quiz(self._database, None, None, HANDED_IN), lessons)
        return None if read is None else read[0]

    def _read_quiz(
        self, read: Callable[[], KeptQuiz | None], lessons: Mapping[str, Lesson]
    ) -> tuple[Sitting, int] | None:
        """A quiz as it was left, and its row; None when there is none, or it can't be gone on with, which is told."""
        from tutor.quiz.quiz import quiz_from
        from tutor.quiz.sitting import Sitting

        try:
            kept = self._tried(read, None)
            if kept is None:
                return None
            sitting = Sitting(quiz_from(kept.drawn, kept.digest), lessons, Unit.CM, kept.learner)
            sitting.resume(kept.head, kept.works)
            works = {number: canonical(state) for number, state in kept.works.items()}
        except Fault as reason:
            self._tell(f"The quiz can't be gone on with: {reason}.")
            return None
        except (ValueError, TypeError, RecursionError):
            self._tell("The quiz can't be gone on with: what was kept of it can't be read.")
            return None
        self._quizzes[sitting] = QuizImage(kept.row, ended=kept.ended, works=works)
        return sitting, kept.row

    def give_up_quiz(self, sitting: Sitting) -> None:
        """Leaves a quiz under way for good."""
        row = self._quizzes[sitting].row
        self._tried(lambda: give_up(self._database, row), None)

    # Settings.

    def setting(self, name: str, otherwise: Any = None) -> Any:
        """What was last kept under the name, or ``otherwise``."""
        if name not in self._settings:
            rows = self._rows("SELECT value FROM setting WHERE name = ?", name)
            if not rows:
                return otherwise
            try:
                self._settings[name] = json.loads(rows[0][0])
            except (ValueError, TypeError, RecursionError):
                return otherwise
        return self._settings[name]

    def keep_setting(self, name: str, value: Any) -> bool:
        """Keeps a text, number, truth value or a table of them under the name. True when it is on disk."""
        self._settings[name] = value
        sql = "INSERT INTO setting (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value"
        return self._tried(lambda: self._database.run(sql, name, json.dumps(value)) == 1, False)

    def close(self) -> None:
        """Writes what could not be written until now, if it can be, and closes the record; then it does nothing."""
        if self._closed:
            return
        if self._waiting:
            self._tried(lambda: self._database.wait(WAIT_AT_THE_END), None)
            for session in list(self._waiting):
                self._written(session)
        self._closed = True
        self._database.close()
        self._locks.close()

    # Inside.

    def _tell(self, notice: str) -> None:
        self._notices.append(printable(notice))

    def _tried(self, work: Callable[[], T], otherwise: T) -> T:
        """What the work gives; when the database can't, ``otherwise``, and the user is told once."""
        try:
            try:
                return work()
            except Trouble as trouble:
                if trouble.kind != "damaged" or self._failing:
                    raise
                self._reopen()
                return work()
        except Trouble as trouble:
            if not self._failing and not self._closed:
                self._tell(
                    f"What you do can't be kept just now: {trouble.what}. You can go on; every step tries again."
                )
                self._failing = True
            return otherwise

    def _reopen(self) -> None:
        """Opens the record again, which sets a damaged file aside; all sessions at hand are to be written anew."""
        self._database.close()
        self._locks.close()
        opened = open_database(self._folder, thorough=True)
        self._database, self._locks = opened.database, opened.locks
        self._notices += opened.notices
        for sitting in self._quizzes:
            self._quizzes[sitting] = QuizImage()
        for image in self._images.values():
            image.start_over()
            if opened.notices:
                image.logged = [0] * len(image.logged)

    def _rows(self, sql: str, *values: object) -> list[tuple[Any, ...]]:
        return self._tried(lambda: self._database.rows(sql, *values), [])

    def _written(self, session: Session) -> bool:
        """Writes a session that waits for it. False when that can't be done."""
        screen = self._waiting[session]
        image = self._images.setdefault(session, Image([0] * len(session.tasks)))

        def write() -> bool:
            key = _key(session.lesson, session.seed)
            alone = self._locks.take(key) and key not in self._unread
            write_session(self._database, session, image, screen, alone)
            return True

        written = self._tried(write, False)
        if written:
            del self._waiting[session]
        return written


def _seed(text: Any) -> int | None:
    """The seed that was kept; None for the lesson as written, and for what is no seed."""
    try:
        return seed_of(text)
    except (ValueError, TypeError):
        return None


def _key(lesson: Lesson, seed: int | None) -> str:
    return f"{name_of(lesson)} {seed_text(seed)}"


def open_record(folder: Path | None = None) -> Record:
    """The record in its folder, or the one given. What lies there unreadable is set aside, and ``notice`` says so."""
    folder = folder or data_folder()
    return Record(open_database(folder), folder)
