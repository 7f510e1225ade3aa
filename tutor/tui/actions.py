"""Everything a key can do. Key bindings, footer, help and palette are all made from this one list."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache

from textual.binding import Binding, BindingType


class Mode(Enum):
    """What the learner is doing: the value heads the help."""

    LESSONS = "List of lessons"
    PLAN = "Altering the pattern"
    PLACING = "Placing a slash"
    MEASURING = "Laying a tape measure"
    NUMBER = "Answering with a number"
    CHOICE = "Choosing"
    PLACE = "Showing a place"
    DIAGNOSE = "Finding out what is off"
    SHOWING = "Watching a worked solution"
    WALKING = "Walking the cap round the armhole"
    TOUR = "A walk round the tutor"
    QUIZ = "Questions of a quiz"
    CHOOSING = "Choosing an answer"
    DUE = "Due for practice"


@dataclass(frozen=True, slots=True)
class Action:
    """One thing to do: its name (``action_...`` of the screen), its keys, and its words.

    ``short`` is for the footer, ``terse`` for one too narrow for that; ``shown`` is how the keys are written, if not
    as they are named.
    """

    name: str
    keys: tuple[str, ...]
    short: str
    words: str
    modes: tuple[Mode, ...]
    group: str
    shown: str = ""
    terse: str = ""

    @property
    def key_words(self) -> str:
        """The keys as written in footer and help."""
        return self.shown or " ".join(key_words(key) for key in self.keys)


_KEY_WORDS = {
    "question_mark": "?",
    "plus": "+",
    "minus": "-",
    "equals_sign": "=",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
    "less_than_sign": "<",
    "greater_than_sign": ">",
    "comma": ",",
    "full_stop": ".",
    "up": "↑",
    "down": "↓",
    "left": "←",
    "right": "→",
    "enter": "Enter",
    "escape": "Esc",
    "tab": "Tab",
    "shift+tab": "Shift+Tab",
    "space": "Space",
    "home": "Home",
    "end": "End",
    "pageup": "PgUp",
    "pagedown": "PgDn",
    "delete": "Del",
}


def key_words(key: str) -> str:
    """A key as it is written on a keyboard."""
    if key in _KEY_WORDS:
        return _KEY_WORDS[key]
    if "+" in key:
        first, last = key.rsplit("+", 1)
        return f"{first.capitalize()}+{_KEY_WORDS.get(last, last.upper() if len(last) == 1 else last)}"
    return key


PLAN, PLACING, NUMBER, LESSONS = (Mode.PLAN,), (Mode.PLACING,), (Mode.NUMBER,), (Mode.LESSONS,)
CHOICE, PLACE, DIAGNOSE = (Mode.CHOICE,), (Mode.PLACE,), (Mode.DIAGNOSE,)
STEPPING = (*PLAN, *DIAGNOSE)
"""Where every step can be undone."""
MEASURING = (Mode.MEASURING,)
WALKED = (*PLACING, *PLACE, *MEASURING)
NAMED = (*PLACING, *MEASURING)
"""Where the marker goes from one named place to the next."""
SHOWING, WALKING = (Mode.SHOWING,), (Mode.WALKING,)
QUIZ, CHOOSING, DUE = (Mode.QUIZ,), (Mode.CHOOSING,), (Mode.DUE,)
TASKS = (Mode.PLAN, Mode.NUMBER, Mode.CHOICE, Mode.PLACE, Mode.DIAGNOSE)
PAPER = (*TASKS, Mode.PLACING, Mode.MEASURING, Mode.SHOWING, Mode.CHOOSING)
LESSON = (*PAPER, Mode.WALKING)
LISTS = (Mode.LESSONS, Mode.QUIZ, Mode.CHOICE, Mode.DIAGNOSE, Mode.CHOOSING, Mode.DUE)
COMPARING = (Mode.PLAN, Mode.NUMBER, Mode.CHOICE)
IN_LESSON = (*COMPARING, Mode.PLACE, Mode.DIAGNOSE)
ANSWERING = (*IN_LESSON, Mode.CHOOSING)
AT_WORK = (Mode.LESSONS, Mode.QUIZ, Mode.DUE, *LESSON)
BODICE = (*COMPARING, Mode.PLACING, Mode.SHOWING, Mode.CHOOSING)
"""Where the bodice may be looked at: not where a place of the sleeve is asked for, which its own marks would tell."""
EVERYWHERE = (*AT_WORK, Mode.TOUR)

ACTIONS: tuple[Action, ...] = (
    Action("help", ("question_mark", "f1"), "Help", "show every key that works now", EVERYWHERE, "Always", "?"),
    Action("quit", ("q", "ctrl+c", "ctrl+q"), "Quit", "leave the tutor", EVERYWHERE, "Always", "q"),
    Action("palette", ("ctrl+p",), "", "find by a few letters what can be done, and do it", EVERYWHERE, "Always"),
    # Slashes
    Action("new_slash", ("s",), "Slash", "start a new slash", PLAN, "Slashes"),
    Action("select_up", ("up", "k"), "", "choose the line above", (*PLAN, *LISTS), "Choosing", "↑"),
    Action("select_down", ("down", "j"), "", "choose the line below", (*PLAN, *LISTS), "Choosing", "↓"),
    Action("page_up", ("pageup",), "", "go up by what is in view", (Mode.LESSONS,), "Choosing"),
    Action("page_down", ("pagedown",), "", "go down by what is in view", (Mode.LESSONS,), "Choosing"),
    Action("first_line", ("home",), "", "choose the first line", (Mode.LESSONS,), "Choosing"),
    Action("last_line", ("end",), "", "choose the last line", (Mode.LESSONS,), "Choosing"),
    Action("lesson_number", tuple("0123456789"), "", "choose the lesson of that number", LESSONS, "Choosing", "0-9"),
    Action("toggle_start", ("left_square_bracket",), "", "start of the slash: hinge, or cut through", PLAN, "Slashes"),
    Action("toggle_end", ("right_square_bracket",), "", "end of the slash: hinge, or cut through", PLAN, "Slashes"),
    Action("move_start", ("m",), "", "pick the start of the slash up again and move it", PLAN, "Slashes"),
    Action("move_end", ("M",), "", "pick the end of the slash up again and move it", PLAN, "Slashes"),
    Action("delete", ("x", "delete"), "", "take the chosen slash or opening away", PLAN, "Slashes", "x"),
    # Openings
    Action("more", ("plus", "right", "equals_sign"), "Open", "open a little more (also →)", PLAN, "Amounts", "+"),
    Action("less", ("minus", "left"), "", "open a little less, or overlap (also ←)", PLAN, "Amounts", "-"),
    Action("much_more", ("pageup", "greater_than_sign"), "", "open much more", PLAN, "Amounts", "PgUp or >"),
    Action("much_less", ("pagedown", "less_than_sign"), "", "open much less", PLAN, "Amounts", "PgDn or <"),
    Action("type_amount", ("enter",), "Type", "type the amount", PLAN, "Amounts"),
    Action("next_place", ("p",), "", "move the opening to the next place of its slash", PLAN, "Amounts"),
    Action("add_opening", ("a",), "", "add another opening to the chosen slash", PLAN, "Amounts"),
    Action("set_back", ("l",), "", "lift the cap off and set it back, or not", PLAN, "Amounts"),
    # Placing
    Action("walk_left", ("left",), "", "walk to the left along the edge", WALKED, "Marker", "←"),
    Action("walk_right", ("right",), "", "walk to the right along the edge", WALKED, "Marker", "→"),
    Action("walk_up", ("up",), "", "walk up along the edge", WALKED, "Marker", "↑"),
    Action("walk_down", ("down",), "", "walk down along the edge", WALKED, "Marker", "↓"),
    Action("fine_back", ("comma",), "", "a hair's breadth back (anticlockwise)", WALKED, "Marker"),
    Action("fine_on", ("full_stop",), "", "a hair's breadth on (clockwise)", WALKED, "Marker"),
    Action("coarse_back", ("pageup",), "", "a long step back (anticlockwise)", WALKED, "Marker"),
    Action("coarse_on", ("pagedown",), "", "a long step on (clockwise)", WALKED, "Marker"),
    Action(
        "next_stop", ("tab", "n"), "Next place", "on to the next named place (also n)", NAMED, "Marker", "Tab", "Place"
    ),
    Action(
        "previous_stop", ("shift+tab", "N"), "", "back to the named place before (also N)", NAMED, "Marker", "Shift+Tab"
    ),
    Action("next_mark", ("tab",), "Next mark", "on to the next mark, or end of a seam", PLACE, "Marker", "Tab", "Mark"),
    Action("last_mark", ("shift+tab",), "", "back to the mark before, or end of a seam", PLACE, "Marker"),
    Action("show_place", ("enter", "space"), "Here", "say it is here, and have it marked", PLACE, "Marking", "Enter"),
    Action("go_to", ("g",), "Go to", "go to a place by its name", NAMED, "Marker"),
    Action("next_line", ("l",), "", "walk along a slash instead, or the edge again", PLACING, "Marker"),
    Action("hold_tape", ("enter", "space"), "Hold", "hold the tape here, and walk on", MEASURING, "Marker", "Enter"),
    Action("tape_off", ("escape",), "Back", "take the tape off again", MEASURING, "Marker"),
    Action("put", ("enter", "space"), "Set", "set this end of the slash here", PLACING, "Marker", "Enter"),
    Action("put_hinge", ("h",), "", "set this end here, with a hinge", PLACING, "Marker"),
    Action("give_up", ("escape",), "Back", "leave off placing", PLACING, "Marker"),
    # Watching
    Action("step_on", ("right", "enter", "space", "n"), "Next step", "the next step", SHOWING, "Steps", "→", "Next"),
    Action("step_back", ("left", "p"), "Back", "the step before", SHOWING, "Steps", "←"),
    Action("take_over", ("a",), "Take over", "lay all of it on your own paper", SHOWING, "Steps"),
    Action("leave_off", ("escape",), "Leave", "back to your own paper", (*SHOWING, *WALKING), "Steps"),
    Action("roll_on", ("right", "plus"), "On", "roll the cap on", WALKING, "Steps", "→"),
    Action("roll_back", ("left", "minus"), "", "roll the cap back", WALKING, "Steps", "←"),
    Action(
        "next_notch",
        ("tab", "n", "space", "enter"),
        "Next notch",
        "on to the next notch (also n)",
        WALKING,
        "Steps",
        "Tab",
        "Notch",
    ),
    Action("last_notch", ("shift+tab", "N"), "", "back to the notch before (also N)", WALKING, "Steps", "Shift+Tab"),
    Action("stop_on", ("right", "enter", "space", "n"), "Next stop", "next stop", (Mode.TOUR,), "Steps", "→", "Next"),
    Action("stop_back", ("left", "p"), "Back", "the stop before", (Mode.TOUR,), "Steps", "←"),
    Action("stop_here", ("escape",), "End", "end the walk", (Mode.TOUR,), "Steps"),
    Action("other_side", ("s",), "Other side", "the other half of the cap", WALKING, "Steps"),
    # Answer
    Action("answer", ("enter",), "Answer", "write your answer", NUMBER, "Marking"),
    Action("pick", ("enter", "space"), "Choose", "choose the option, or not after all", CHOICE, "Marking", "Enter"),
    Action(
        "pick_number",
        ("1", "2", "3", "4", "5", "6", "7", "8", "9"),
        "",
        "choose the option of that number, or not after all",
        CHOICE,
        "Marking",
        "1-9",
    ),
    Action(
        "look_into",
        ("enter", "space"),
        "Look",
        "look for the chosen sign, or name the cause",
        DIAGNOSE,
        "Signs",
        "Enter",
    ),
    Action(
        "sign",
        ("1", "2", "3", "4", "5", "6", "7", "8", "9"),
        "Signs",
        "look for the sign of that number",
        DIAGNOSE,
        "Signs",
        "1-9",
    ),
    Action("take_option", ("enter", "space"), "Answer", "answer with the chosen line", CHOOSING, "Marking", "Enter"),
    Action(
        "option", ("A", "B", "C", "D", "1", "2", "3", "4"), "", "answer with A, B, C or D", CHOOSING, "Marking", "A-D"
    ),
    Action("check", ("c",), "Check", "have the work marked", ANSWERING, "Marking"),
    Action("hint", ("h",), "Hint", "a hint; each of the three says more", IN_LESSON, "Marking"),
    Action("solution", ("w",), "", "a worked solution (the task counts as shown)", IN_LESSON, "Marking"),
    Action("next_task", ("n",), "", "go on to the next task", ANSWERING, "Marking"),
    Action("last_task", ("N",), "", "back to the task before", ANSWERING, "Marking"),
    Action("undo", ("u", "ctrl+z"), "Undo", "take back the last change", STEPPING, "Marking", "u"),
    Action("start_over", ("X",), "", "start this task over on fresh paper (u brings it back)", STEPPING, "Marking"),
    Action("begin_again", ("R",), "", "start the whole lesson over", IN_LESSON, "Marking"),
    Action("another", ("A",), "", "practise this again on another arm and block", IN_LESSON, "Marking"),
    Action("redo", ("r", "ctrl+y"), "", "do again what was taken back", STEPPING, "Marking", "r"),
    # Looking
    Action("brief", ("b",), "", "read what is asked", PAPER, "Looking"),
    Action(
        "zoom",
        ("z",),
        "",
        "closer: whole sleeve, cap, underarm; where a place is shown, closer to the marker",
        PAPER,
        "Looking",
    ),
    Action("overlay", ("o",), "", "the pattern as it was: show or hide", (*PLAN, *CHOOSING), "Looking"),
    Action("apart", ("e",), "", "the pieces pulled apart, or together", (*PLAN, *CHOOSING), "Looking"),
    Action("armholes", ("v",), "", "the armholes: beside the cap, by themselves, or hidden", BODICE, "Looking"),
    Action("write_pattern", ("S",), "", "write your pattern to a file, to scale, to be printed", COMPARING, "Looking"),
    Action("lay_tape", ("m",), "", "lay a tape measure between two places", NUMBER, "Looking"),
    Action("walk_cap", ("f",), "", "walk the cap round the armhole", COMPARING, "Looking"),
    Action("legend", ("y",), "", "what the marks in the picture mean", (*LESSON, Mode.TOUR), "Looking"),
    Action("all_measures", ("t",), "", "every measure of the pattern", PAPER, "Looking"),
    Action("glossary", ("G",), "", "the words of the trade", EVERYWHERE, "Looking"),
    Action("units", ("i",), "Units", "centimetres or inches", EVERYWHERE, "Looking"),
    Action("theme", ("d",), "Theme", "dark, light or high contrast", EVERYWHERE, "Looking"),
    Action("tour", ("f2",), "", "a minute's walk round the tutor", AT_WORK, "Always", "F2"),
    Action("lessons", ("escape",), "Lessons", "back to the list of lessons", ANSWERING, "Always"),
    Action("open_lesson", ("enter", "space"), "Open", "open the lesson", LESSONS, "Lessons", "Enter"),
    Action("take_quiz", ("t",), "Quiz", "take a quiz, or go on with the one under way", LESSONS, "Lessons"),
    Action("due", ("p",), "Due", "practise what is due, and see why", LESSONS, "Lessons"),
    # Quizzes
    Action("open_question", ("enter", "space"), "Open", "go to the question, or see its mark", QUIZ, "Quiz", "Enter"),
    Action("question_number", tuple("0123456789"), "", "choose the question of that number", QUIZ, "Choosing", "0-9"),
    Action("hand_in", ("F",), "Hand in", "hand the quiz in, and see the marks", QUIZ, "Quiz"),
    Action("outcome", ("m",), "Marks", "what the quiz came to", QUIZ, "Quiz"),
    Action("leave_quiz", ("escape",), "Leave", "leave it for now; it goes on where it is left", QUIZ, "Quiz"),
    # What is due
    Action(
        "open_due", ("enter", "space"), "Practise", "practise it, on another arm and block", DUE, "Practice", "Enter"
    ),
    Action("leave_due", ("escape",), "Lessons", "to the list of lessons", DUE, "Practice"),
)

_FOOTERS = {
    Mode.LESSONS: ("help", "quit", "open_lesson", "take_quiz", "due", "units"),
    Mode.PLAN: ("help", "quit", "new_slash", "more", "check", "hint"),
    Mode.PLACING: ("help", "quit", "next_stop", "go_to", "put", "give_up"),
    Mode.MEASURING: ("help", "quit", "next_stop", "go_to", "hold_tape", "tape_off"),
    Mode.NUMBER: ("help", "quit", "answer", "check", "hint", "lessons"),
    Mode.CHOICE: ("help", "quit", "pick", "check", "hint", "lessons"),
    Mode.DIAGNOSE: ("help", "quit", "look_into", "check", "hint", "lessons"),
    Mode.PLACE: ("help", "quit", "next_mark", "show_place", "hint", "lessons"),
    Mode.SHOWING: ("help", "quit", "step_on", "step_back", "take_over", "leave_off"),
    Mode.QUIZ: ("help", "quit", "open_question", "hand_in", "leave_quiz"),
    Mode.CHOOSING: ("help", "quit", "take_option", "lessons"),
    Mode.DUE: ("help", "quit", "open_due", "leave_due"),
    Mode.TOUR: ("help", "quit", "stop_on", "stop_back", "stop_here"),
    Mode.WALKING: ("help", "quit", "roll_on", "next_notch", "other_side", "leave_off"),
}
MOST_IN_FOOTER = 6


@cache
def in_mode(mode: Mode) -> tuple[Action, ...]:
    """What can be done in a mode, in the list's order."""
    return tuple(action for action in ACTIONS if mode in action.modes)


def named(name: str) -> Action:
    """The action of a name. Raises KeyError for any other."""
    return _BY_NAME[name]


@cache
def footer(mode: Mode) -> tuple[Action, ...]:
    """The few that the footer shows."""
    return tuple(named(name) for name in _FOOTERS[mode])


def bindings(*modes: Mode) -> list[BindingType]:
    """The key bindings of a screen that works in these modes: each calls ``press`` with its key."""
    keys = dict.fromkeys(key for mode in modes for action in in_mode(mode) for key in action.keys)
    return [Binding(key, f"press('{key}')", show=False, priority=key.startswith("ctrl+")) for key in keys]


@cache
def for_key(key: str, mode: Mode) -> Action | None:
    """What a key does in a mode."""
    return next((action for action in in_mode(mode) if key in action.keys), None)


_BY_NAME = {action.name: action for action in ACTIONS}
