"""What a lesson's screen knows: the session, what is under way in it, which line is chosen, what is looked at."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from typing import Any

from tutor.alteration.alter import Altered
from tutor.alteration.amounts import given
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.task import ChoiceTask, DiagnoseTask, NumberTask, PlaceTask, PlanTask, Task
from tutor.pattern.pattern import Pattern
from tutor.picture.scene import Bounds, Scene
from tutor.picture.sheet import Armholes, Pointing, View
from tutor.practice.options import Option
from tutor.tui import guide
from tutor.tui.actions import Action, Mode, named
from tutor.tui.desk import Desk
from tutor.tui.lesson_page import LessonPage
from tutor.tui.placing import Placing, kept_placing, placing_from
from tutor.tui.plan_lines import Kind, PlanLine, plan_lines
from tutor.tui.seeking import Seeking, seeking_of
from tutor.tui.showing import Showing
from tutor.tui.showing import showing as showing_of
from tutor.tui.walking import Walking, walking

PITCH = "pitch"
"""The amount whose line says that the cap is turned, as the footer does, and not what is typed for it."""
ZOOMS = ("whole", "cap", "back underarm", "front underarm")
SLASHES = frozenset(
    {"new_slash", "toggle_start", "toggle_end", "move_start", "move_end", "next_place", "add_opening", "apart"}
)
"""Actions that only a task with slashes has."""
AMOUNT_WORDS = {
    "more": "a little more of the chosen amount (also →)",
    "less": "a little less of the chosen amount (also ←)",
    "much_more": "much more of the chosen amount",
    "much_less": "much less of the chosen amount",
    "delete": "put the chosen amount back to nothing",
}
"""What some actions do where there are no slashes."""
MODES: dict[type[Task], Mode] = {
    PlanTask: Mode.PLAN,
    NumberTask: Mode.NUMBER,
    ChoiceTask: Mode.CHOICE,
    PlaceTask: Mode.PLACE,
    DiagnoseTask: Mode.DIAGNOSE,
}
"""What the learner does in each kind of task."""


class LessonState(LessonPage):
    """One lesson. What is known of the work is in its ``Session``; here is only what is chosen and looked at."""

    def __init__(self, desk: Desk, lesson: Lesson, leave: Callable[[], object]) -> None:
        super().__init__(desk)
        self.lesson = lesson
        self._leave = leave
        self.session, remembered = desk.open(lesson)
        self.placing: Placing | None = None
        self.taped: tuple[int, Placing] | None = None
        """The task in which a tape was read last, and where it lay."""
        self.seeking: Seeking | None = None
        self.showing: Showing | None = None
        self.walking: Walking | None = None
        self.chosen = ""
        self.view: View | None = None
        self.zoom = 0
        self.telling = False
        """Whether a message stands where the guide does."""
        self.scene = Scene()
        self.pointing = Pointing()
        self._listed: tuple[object, tuple[PlanLine, ...]] | None = None
        self._foreseen: tuple[tuple[object, ...], Scene] | None = None
        """A scene drawn before it is asked for, and what it goes by."""
        self._flat: dict[tuple[int, Armholes], Bounds] = {}
        """The bounds of the uncut paper, by task."""
        self._recall(remembered)

    @property
    def mode(self) -> Mode:
        if self.showing is not None:
            return Mode.SHOWING
        if self.walking is not None:
            return Mode.WALKING
        if self.placing is not None:
            return Mode.MEASURING if self.placing.measuring else Mode.PLACING
        return MODES[type(self.session.task)]

    @property
    def foot(self) -> tuple[Action, ...]:
        if self.mode is Mode.DIAGNOSE:
            causes = {option.name for option in self.session.options}
            return _called(super().foot, {"look_into": "Name"} if self.chosen in causes else {})
        if self.placing is not None and self.placing.measuring and self.placing.candidate is not None:
            # The tape lies between two places, and says so at length.
            return _called(super().foot, {"hold_tape": "Anew"})
        if self.mode is not Mode.PLAN:
            return super().foot
        line = self.line() if self.session.amounts or self.session.may_use("set-back") else None
        short = {"more": word} if line is not None and (word := _short(line, self.session.draft)) else {}
        actions = super().foot
        if not self.session.may_use("slashes"):
            actions = tuple(named(name) for name in ("help", "quit", "more", "type_amount", "check", "hint"))
        elif line is None and not self.session.draft.slashes:
            # There is nothing to open yet.
            actions = tuple(each for each in actions if each.name != "more")
        return _called(actions, short)

    @property
    def actions(self) -> tuple[Action, ...]:
        """What can be done with this task: no slashes where it is done without."""
        session, none = self.session, set[str]()
        if self.mode is Mode.PLAN and not session.may_use("slashes"):
            none |= SLASHES
        if not session.may_use("set-back"):
            none.add("set_back")
        if session.pattern.armhole("back") is None and session.pattern.armhole("front") is None:
            none |= {"armholes", "walk_cap"}
        if session.task_number == 1:
            none.add("last_task")
        words = {"next_task": f"{guide.onward(session)}, passed or not"}
        words |= {} if session.may_use("slashes") else AMOUNT_WORDS
        able = [each for each in super().actions if each.name not in none]
        return tuple(replace(each, words=words.get(each.name, each.words)) for each in able)

    @property
    def seen(self) -> View:
        """What of the pattern is shown."""
        return self.view or View()

    def _recall(self, remembered: Mapping[str, Any]) -> None:
        """Takes up what was looked at last time; of what makes no sense any more, nothing."""
        with suppress(KeyError, TypeError, ValueError, IndexError, Fault):
            self.view = View(bool(remembered["before"]), bool(remembered["apart"]), Armholes(remembered["armholes"]))
            self.zoom = int(remembered["zoom"]) % len(ZOOMS)
            self.chosen = str(remembered["chosen"])
            if remembered["placing"] is not None:
                self._take_up(placing_from(self.session, remembered["placing"]))
            if remembered["seeking"] is not None and isinstance(self.session.task, PlaceTask):
                self.seeking = seeking_of(self.session, float(remembered["seeking"]))
            if remembered["walking"] is not None:
                side, along = remembered["walking"]
                self.walking = walking(self.pattern_now(), "back" if side == "back" else "front", float(along))
            if remembered["showing"] is not None and self.session.standing() == "shown":
                showing = showing_of(self.session.pattern, self.session.solution(), self.desk.unit)
                self.showing = None if showing is None else showing.moved(int(remembered["showing"]) - 1)

    def _take_up(self, placing: Placing | None) -> None:
        """Takes up what was being placed, if the task at hand is one for it."""
        wanted = NumberTask if placing is not None and placing.measuring else PlanTask
        self.placing = placing if isinstance(self.session.task, wanted) else None

    def _remembered(self) -> dict[str, Any]:
        return {
            "before": self.seen.before,
            "apart": self.seen.apart,
            "armholes": self.seen.armholes.value,
            "zoom": self.zoom,
            "chosen": self.chosen,
            "placing": None if self.placing is None else kept_placing(self.placing),
            "seeking": None if self.seeking is None else self.seeking.marker.along,
            "walking": None if self.walking is None else [self.walking.walk.side, self.walking.along],
            "showing": None if self.showing is None else self.showing.done,
        }

    def seeking_now(self) -> Seeking:
        """Where the marker stands in a task that asks for a place."""
        if self.seeking is None:
            self.seeking = seeking_of(self.session)
        return self.seeking

    def taped_now(self) -> str:
        """What the tape read last in the task at hand, to stand after a sentence; "" where it read nothing."""
        if self.taped is None or self.taped[0] != self.session.task_number:
            return ""
        return f" Tape: {guide.tape_read(self.session, self.taped[1], self.desk.unit)}"

    def pattern_now(self) -> Pattern:
        """The pattern as the learner has it now."""
        found = self.found()
        return found.after if isinstance(found, Altered) else self.session.pattern

    def found(self) -> Altered | Refusal | None:
        return self.session.preview() if isinstance(self.session.task, PlanTask) else None

    def moves_something(self) -> bool:
        """Whether the learner's plan moves anything."""
        return moves_something(self.session.draft)

    def leave(self) -> None:
        """Goes back to the list of lessons, which is to say what has become of this one."""
        self.desk.left = self.lesson
        self._leave()

    def forget(self) -> None:
        """Forgets what was chosen and under way, for another session of the lesson."""
        self.placing = self.taped = self.seeking = self.showing = self.walking = None
        self.chosen = ""
        self._listed = self._foreseen = None
        self._flat.clear()

    def lines(self) -> tuple[PlanLine, ...]:
        key = (self.session.draft, self.session.task_number, self.session.unit, self.chosen)
        if self._listed is None or self._listed[0] != key:
            self._listed = key, plan_lines(self.session, self.chosen, ascii=self.desk.ascii)
        return self._listed[1]

    def line(self) -> PlanLine | None:
        return next((line for line in self.lines() if line.key == self.chosen), None)

    @property
    def options(self) -> tuple[Option, ...]:
        """What there is to choose among, as it stands on the screen: by the number of its key, causes by none.

        Letters have other things to do there.
        """
        return tuple(replace(each, letter="" if self.session.signs else each.number) for each in self.session.options)

    def choose_some_line(self) -> None:
        """Keeps the chosen line if it is still there, else its slash, else the first."""
        keys = self._keys()
        if keys and self.chosen not in keys:
            slash = self.chosen.split("/")[0]
            self.chosen = slash if slash in keys else keys[0]

    def _keys(self) -> list[str]:
        """The keys of the lines that can be chosen: of the plan, or of what there is to choose among."""
        if isinstance(self.session.task, PlanTask):
            return [line.key for line in self.lines()]
        signs = [sign.name for sign in self.session.signs]
        return [*signs, *(option.name for option in self.session.options)]

    def _select(self, way: int) -> None:
        keys = self._keys()
        if keys:
            here = keys.index(self.chosen) if self.chosen in keys else 0
            self.chosen = keys[min(max(here + way, 0), len(keys) - 1)]

    def do_select_up(self) -> None:
        self._select(-1)

    def do_select_down(self) -> None:
        self._select(1)

    def attempt(self, edit: Callable[[], object]) -> bool:
        """Makes an edit; a fault is said instead."""
        try:
            edit()
        except Fault as fault:
            self.said = f"{fault.what}; {fault.right}." if fault.right else f"{fault.what}."
            return False
        return True


def moves_something(plan: Plan) -> bool:
    """Whether a plan moves anything: an opening, the cap, an armhole."""
    return plan.set_back or bool(given(plan)) or any(opening.amount for opening in plan.openings)


def _called(actions: tuple[Action, ...], short: Mapping[str, str]) -> tuple[Action, ...]:
    """Actions of the footer, some of them with other words there."""
    return tuple(replace(each, short=short.get(each.name, each.short)) for each in actions)


def _short(line: PlanLine, plan: Plan) -> str:
    """What + does with a line, in a word for the foot; nothing for a slash, which it opens."""
    if line.kind is Kind.SET_BACK:
        return "Put cap back" if plan.set_back else "Lift cap off"
    if line.of is None:
        return ""
    return "Turn" if line.of.key == PITCH else line.of.typed[0].split()[0].capitalize()
