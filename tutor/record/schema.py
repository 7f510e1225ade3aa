"""The tables, made in numbered steps. A step once released is never changed: a new one is added below it."""

from __future__ import annotations

from typing import TypeAlias

Steps: TypeAlias = tuple[tuple[str, ...], ...]

APPLICATION = 0x51EE7E
"""The number in the file's header that says whose file it is."""

FIRST = (
    f"PRAGMA application_id = {APPLICATION}",
    # ``time`` is that of the last writing, in UTC; the order of things is never taken from it.
    """CREATE TABLE lesson (
        name TEXT PRIMARY KEY,
        number INTEGER NOT NULL,
        title TEXT NOT NULL,
        tasks INTEGER NOT NULL,
        time TEXT NOT NULL
    ) WITHOUT ROWID""",
    # How each task of a lesson stands over all sittings; once passed or shown is always so.
    """CREATE TABLE standing (
        lesson TEXT NOT NULL REFERENCES lesson,
        task INTEGER NOT NULL,
        passed INTEGER NOT NULL,
        shown INTEGER NOT NULL,
        PRIMARY KEY (lesson, task)
    ) WITHOUT ROWID""",
    # A lesson under way. ``turn`` counts the writings: of several sittings at a lesson the greatest is the last.
    """CREATE TABLE sitting (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        lesson TEXT NOT NULL REFERENCES lesson,
        seed TEXT NOT NULL,
        version INTEGER NOT NULL,
        turn INTEGER NOT NULL,
        screen TEXT NOT NULL,
        state TEXT NOT NULL
    )""",
    "CREATE INDEX sitting_turn ON sitting (turn)",
    "CREATE INDEX sitting_lesson ON sitting (lesson, seed, turn)",
    # The plans and attempts that a sitting's state names by their numbers, so that an undo step is written once.
    """CREATE TABLE part (
        sitting INTEGER NOT NULL REFERENCES sitting ON DELETE CASCADE,
        number INTEGER NOT NULL,
        text TEXT NOT NULL,
        PRIMARY KEY (sitting, number)
    ) WITHOUT ROWID""",
    """CREATE TABLE attempt (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        lesson TEXT NOT NULL REFERENCES lesson,
        seed TEXT NOT NULL,
        version INTEGER NOT NULL,
        task INTEGER NOT NULL,
        given TEXT NOT NULL,
        unit TEXT NOT NULL,
        mark REAL NOT NULL,
        passed INTEGER NOT NULL,
        mistake TEXT,
        hints INTEGER NOT NULL,
        shown INTEGER NOT NULL,
        time TEXT NOT NULL
    )""",
    "CREATE INDEX attempt_lesson ON attempt (lesson, task)",
    "CREATE TRIGGER attempt_stays BEFORE DELETE ON attempt BEGIN SELECT RAISE(ABORT, 'attempts are kept'); END",
    "CREATE TRIGGER attempt_as_given BEFORE UPDATE ON attempt BEGIN SELECT RAISE(ABORT, 'attempts are kept'); END",
    "CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID",
)

QUIZZES = (
    # A quiz as it was drawn, and how far somebody is with it: ``ended`` is empty while it is under way.
    """CREATE TABLE quiz (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        digest TEXT NOT NULL,
        drawn TEXT NOT NULL,
        learner TEXT NOT NULL,
        turn INTEGER NOT NULL,
        head TEXT NOT NULL,
        ended TEXT NOT NULL,
        time TEXT NOT NULL
    )""",
    "CREATE INDEX quiz_under_way ON quiz (ended, turn)",
    """CREATE TABLE quiz_work (
        quiz INTEGER NOT NULL REFERENCES quiz ON DELETE CASCADE,
        question INTEGER NOT NULL,
        state TEXT NOT NULL,
        PRIMARY KEY (quiz, question)
    ) WITHOUT ROWID""",
    # Answers given in a quiz are attempts as well: ``form`` is what the task was asked as.
    "ALTER TABLE attempt ADD COLUMN form TEXT NOT NULL DEFAULT 'task'",
    "ALTER TABLE attempt ADD COLUMN quiz INTEGER REFERENCES quiz",
)

STEPS: Steps = (FIRST, QUIZZES)
"""Step n brings a file of version n - 1 to version n; an empty file has version 0."""
