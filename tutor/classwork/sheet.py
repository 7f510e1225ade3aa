"""One learner's sheet: the questions, and the pattern each starts from, to scale on as many pages as it takes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from tutor.classwork.canvas import Page
from tutor.classwork.folds_print import diagnosis_flow, options_flow
from tutor.classwork.homework import Homework, Question
from tutor.classwork.learner import Learner
from tutor.classwork.pattern_print import Piece, pieces_of
from tutor.classwork.question_pages import (
    BLANK,
    GAP,
    HEAD,
    LINE,
    SMALL,
    TEXT,
    Blank,
    Figure,
    Flow,
    Paragraph,
    question_pages,
)
from tutor.classwork.tiles import Paper, grid_for, tiled
from tutor.lesson.task import ChoiceTask, DiagnoseTask, NumberTask, PlaceTask, PlanTask
from tutor.pattern.pattern import Pattern
from tutor.practice.session import Session

SCALES = {"full": 1.0, "half": 0.5, "quarter": 0.25}
SCALE_WORDS = {"full": "full size", "half": "half size", "quarter": "quarter size"}
OF_ARMHOLES = ("armhole", "cap-ease", "ease-balance", "notch-mismatch", "side-", "bust-gain")
"""What the names of measures begin with that need the armholes."""
SLASH_BLANKS = ("Slash, from - to:", "Hinges at:", "Opened where, by:")
ARMHOLE_BLANKS = ("Back: out by, down by:", "Front: out by, down by:")
PLACE = (
    "Mark it on the pattern. Write along which seam it lies, and how far from which end; or how far across from the"
    " grain, to the front or back, and how far above the bicep line."
)
PLACE_BLANKS = ("Along the seam:", "How far, from where:")
LETTERS = 75
"""Of a line of text on a page, at the least."""
MOST_KEPT = 180.0
"""mm that a question takes on a page of its own, at the most; a longer one goes on over the page."""
PUT_TOGETHER = "Lay pages over each other mark on mark, and glue along the dotted lines."


@dataclass(frozen=True, slots=True)
class Look:
    """How sheets are printed: on which paper, how large, and whether with a cut line round the seams."""

    paper: Paper
    scale: str = "full"
    cut_line: bool = True


@dataclass(frozen=True, slots=True)
class Subject:
    """A pattern that questions start from: the numbers of the questions, and its pieces."""

    title: str
    questions: tuple[int, ...]
    pieces: tuple[Piece, ...]


def sheet_pages(homework: Homework, learner: Learner, sessions: Mapping[int, Session], look: Look) -> list[Page]:
    """All pages of a learner's sheet; ``sessions`` stand at the tasks of the questions."""
    foot = f"{homework.title}. {learner.name}, variant {learner.deal}"
    subjects = list(_subjects(homework, sessions, look))
    flow = list(_flow(homework, learner, sessions, subjects, look))
    scale = SCALES[look.scale]
    of_patterns = sum(_count(piece, scale, look.paper) for subject in subjects for piece in subject.pieces)
    last = len(question_pages(look.paper, flow, foot)) + of_patterns
    pages = question_pages(look.paper, flow, foot, last)
    for subject in subjects:
        for piece in subject.pieces:
            said = f"{foot}. {subject.title}, {SCALE_WORDS[look.scale]}"
            pages += tiled(piece, scale, look.paper, said, len(pages) + 1, last)
    return pages


def _count(piece: Piece, scale: float, paper: Paper) -> int:
    return grid_for(piece.box(scale), paper).count


def _subjects(homework: Homework, sessions: Mapping[int, Session], look: Look) -> Iterator[Subject]:
    """The patterns that questions start from, each once."""
    groups: dict[int, list[Question]] = {}
    patterns: dict[int, Pattern] = {}
    for question in homework.questions:
        if isinstance(question.task, DiagnoseTask):
            # Its sleeve stands beside the question.
            continue
        pattern = sessions[question.number].pattern
        patterns[id(pattern)] = pattern
        groups.setdefault(id(pattern), []).append(question)
    for key, questions in groups.items():
        first = sessions[questions[0].number]
        allowance = float(first.lesson.seam_allowance) if look.cut_line else 0.0
        armholes = any(needs_armholes(question) for question in questions)
        numbers = tuple(question.number for question in questions)
        title = f"Task{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}"
        yield Subject(title, numbers, pieces_of(patterns[key], allowance, armholes=armholes))


def needs_armholes(question: Question) -> bool:
    """Whether a task is about the armholes, or what they and the sleeve have to do with each other."""
    task = question.task
    if isinstance(task, PlanTask):
        goals = {getattr(goal, "measure", "") for goal in task.goals}
        balanced = any(goal.__struct_config__.tag == "balance" for goal in task.goals)
        return balanced or "armhole" in task.may_use or any(name.startswith(OF_ARMHOLES) for name in goals)
    return isinstance(task, NumberTask) and task.measure.startswith(OF_ARMHOLES)


def _flow(
    homework: Homework,
    learner: Learner,
    sessions: Mapping[int, Session],
    subjects: Sequence[Subject],
    look: Look,
) -> Iterator[Flow]:
    yield Paragraph(homework.title, HEAD, True, 0.0)
    yield Paragraph(learner.name, 4.6, True)
    due = "" if homework.text.due is None else f" Due on {homework.text.due.isoformat()}."
    yield Paragraph(f"Variant {learner.deal}.{due}")
    if homework.text.note:
        yield Paragraph(homework.text.note)
    for subject in subjects:
        yield Paragraph(_where(subject, look), SMALL)
    if any(_count(piece, SCALES[look.scale], look.paper) > 1 for subject in subjects for piece in subject.pieces):
        yield Paragraph(PUT_TOGETHER, SMALL)
    told: set[str] = set()
    for question in homework.questions:
        session = sessions[question.number]
        if question.lesson.name not in told:
            told.add(question.lesson.name)
            yield from _lesson(session)
        yield from _question(question, session, _told(question, homework, session))


def _told(question: Question, homework: Homework, session: Session) -> tuple[str, ...]:
    """What earlier tasks that are no questions of this homework would have led to."""
    if not question.stands_alone(homework):
        return ()
    return (*session.plan_told(), *session.off_told())


def _where(subject: Subject, look: Look) -> str:
    """Where a pattern is printed, and on how many pages."""
    parts = []
    for piece in subject.pieces:
        grid = grid_for(piece.box(SCALES[look.scale]), look.paper)
        pages = "1 page" if grid.count == 1 else f"{grid.rows} rows of {grid.columns}"
        parts.append(f"{piece.name.lower()} on {pages}")
    return f"{subject.title}: the pattern in {SCALE_WORDS[look.scale]}, {' and '.join(parts)}."


def _lesson(session: Session) -> Iterator[Flow]:
    yield Paragraph(session.lesson.title, 4.4, True, 5.0, keep=40.0)
    for text in session.brief:
        yield Paragraph(text)
    for text in session.cautions:
        yield Paragraph(f"Take care. {text}", SMALL)


def _question(question: Question, session: Session, told: Sequence[str]) -> Iterator[Flow]:
    """One question; ``told`` is what is to be known for it besides."""
    points = "" if question.points == 1 else f" ({question.points:g} points)"
    head = Paragraph(f"Task {question.number}. {question.task.title}{points}", TEXT, True, 4.0)
    rest = [Paragraph(session.ask), *map(Paragraph, told), *_below(question, session)]
    yield replace(head, keep=min(sum(map(_height, [head, *rest])), MOST_KEPT))
    yield from rest


def _height(flow: Flow) -> float:
    """About how high it is on the page, mm."""
    if isinstance(flow, Figure):
        return flow.height + 2 * GAP
    if isinstance(flow, Blank):
        return BLANK
    return flow.before + math.ceil(len(flow.text) / LETTERS) * flow.size * LINE


def _below(question: Question, session: Session) -> Iterator[Flow]:
    """What stands below a question: folds and signs, what there is to choose among, and where to write the answer."""
    if isinstance(question.task, DiagnoseTask):
        yield from diagnosis_flow(session)
    elif isinstance(question.task, ChoiceTask):
        yield from options_flow(session)
        yield Blank("Letter:" if session.task_picks_one else "Letters of all that are right:")
    elif isinstance(question.task, PlaceTask):
        yield Paragraph(PLACE, SMALL)
        yield from map(Blank, PLACE_BLANKS)
    elif isinstance(question.task, PlanTask):
        if "slashes" in question.task.may_use:
            yield from (blank for words in SLASH_BLANKS for blank in (Blank(words), Blank()))
        if "armhole" in question.task.may_use:
            yield from map(Blank, ARMHOLE_BLANKS)
    else:
        yield Blank("Answer, with its unit:")
