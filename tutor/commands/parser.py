"""A parser of the command line whose every complaint is a Fault: where, what is wrong, and what would be right."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable
from typing import Any, NoReturn

from tutor.faults import Fault

NUMBERS = {int: ("whole number", "7"), float: ("number", "0.7")}
"""By what a value is turned into, what it is called and an example."""
LONGEST_WORD = 40
MISSING = re.compile(r"the following arguments are required: (.+)")
VALUE = re.compile(r"argument (\S+): ignored explicit argument")
TOGETHER = re.compile(r"argument (\S+): not allowed with argument (\S+)")
"""What argparse itself says of faults that it has no separate place for."""


class Parser(argparse.ArgumentParser):
    """As argparse's own; what is wrong is raised as Fault, and help is not lost without a word on a full disk."""

    words: tuple[str, ...] = ()
    """What is being read."""

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        """As argparse's own. Raises Fault for words that can't be meant so."""
        self.words = tuple(args or ())
        return super().parse_known_args(args, namespace)

    @property
    def options(self) -> tuple[str, ...]:
        """Every option that is known here, such as ``--units``."""
        return tuple(self._option_string_actions)

    @property
    def commands(self) -> dict[str, Parser]:
        """The parsers of the commands below this one, by their names."""
        below = [action for action in self._actions if isinstance(action, argparse._SubParsersAction)]
        return dict(below[0].choices) if below else {}

    @property
    def use(self) -> str:
        """What is written before any options that may be left out."""
        needed = [action for action in self._actions if not action.option_strings or action.required]
        return " ".join([self.prog, *map(_written, needed)])

    @property
    def help_told(self) -> str:
        return f"{self.prog} --help shows what it takes"

    def near(self, word: str) -> str:
        """The option that a word is most like, "" if it is like none."""
        from difflib import get_close_matches

        meant = f"--{word.lstrip('-–—').partition('=')[0].casefold()}"
        found = get_close_matches(meant, [each for each in self.options if each.startswith("--")], 1, 0.75)
        return found[0] if found else ""

    def no_option(self, word: str) -> Fault:
        """What is said of an option that is not known here."""
        near = self.near(word)
        command = self.prog.partition(" ")[2]
        return Fault(
            command, f"takes no {quotable(word.partition('=')[0])}", f"did you mean {near}?" if near else self.help_told
        )

    def out_of_place(self, option: str, written: str, command: str | None) -> Fault | None:
        """What is said of an option that commands take and that stands before that one, or before any.

        ``written`` is how it was written, with its value. None where no command takes it.
        """
        if command:
            below = self.commands[command]
            after = f"{below.prog} {quotable(written)}"
            told = Fault(option, "stands before the command", f"write it after, as in {after}")
            return told if option in below.options else None
        takers = [each.prog.partition(" ")[2] for each in self.commands.values() if option in each.options]
        if not takers or self.near(option):
            return None
        return Fault(option, "belongs after a command", f"write {one_after_the_other(takers, 'or')} before it")

    def error(self, message: str) -> NoReturn:
        """Raises the Fault for what argparse has to say."""
        if match := MISSING.fullmatch(message):
            all_names = match[1].split(", ")
            names = [name for name in all_names if name not in self._may_be_left_out] or all_names
            are = "is" if len(names) == 1 else "are"
            raise Fault(one_after_the_other(names, "and"), f"{are} missing", f"write {self.use}; {self.help_told}")
        if match := VALUE.match(message):
            option = match[1].rpartition("/")[2]
            short = next((word for word in self.words if re.match(r"-[^-].", word)), "")
            if "/" in match[1] and short:
                raise self.no_option(short)
            raise Fault(option, "takes no value", f"write {option} alone")
        if match := TOGETHER.fullmatch(message):
            raise Fault(match[1], f"can't be given with {match[2]}", "leave one of them out")
        raise Fault("", message, self.help_told)

    @property
    def _may_be_left_out(self) -> set[str]:
        # argparse counts a list that may be empty among what is required.
        return {_name(action) for action in self._actions if not action.option_strings and action.nargs in ("*", "?")}

    def _print_message(self, message: str, file: Any = None) -> None:
        print(message, end="", file=file)

    def _get_value(self, action: argparse.Action, arg_string: str) -> Any:
        try:
            return super()._get_value(action, arg_string)
        except argparse.ArgumentError as error:
            kind, example = NUMBERS.get(action.type, ("", ""))  # type: ignore[call-overload]
            what = f'"{quotable(arg_string)}" is no {kind}' if kind else error.message
            raise Fault(_name(action), what, f"write one, such as {example}" if kind else self.help_told) from None

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        if action.choices is None or value in action.choices:
            return
        known = [str(each) for each in action.choices]
        if isinstance(action, argparse._SubParsersAction):
            raise self._no_command(str(value), known)
        where = _name(action) if action.option_strings else self.prog.partition(" ")[2]
        raise Fault(where, f'"{quotable(str(value))}" is not known', f"write {one_after_the_other(known, 'or')}")

    def _no_command(self, word: str, known: list[str]) -> Fault:
        at = self.words.index(word) if word in self.words else 0
        for option in self.words[:at]:
            # What was meant as this option's value has been taken for the command.
            if option.startswith("-") and option.partition("=")[0] not in self.options:
                command = next((each for each in self.words[at:] if each in known), None)
                return self.out_of_place(option, f"{option} {word}", command) or self.no_option(option)
        from difflib import get_close_matches

        near = get_close_matches(word.casefold(), known, 1)
        if f"--{word}" in self.options:
            near = [f"--{word}"]
        if near:
            right = f"did you mean {near[0]}?"
        elif word.isdecimal() or word.endswith(".toml"):
            right = f"{self.prog} learn {quotable(word)} opens a lesson"
        else:
            right = f"there are {one_after_the_other(known, 'and')}"
        return Fault("", f'"{quotable(word)}" is no command', right)

    def _match_argument(self, action: argparse.Action, arg_strings_pattern: str) -> int:
        try:
            return super()._match_argument(action, arg_strings_pattern)
        except argparse.ArgumentError:
            raise self._no_value(action) from None

    def _no_value(self, action: argparse.Action) -> Fault:
        """What is said of an option that has no value: it may have one that begins with a minus."""
        name = _name(action)
        after = [self.words[k + 1] for k, word in enumerate(self.words[:-1]) if word in action.option_strings]
        minus = next((word for word in after if re.match(r"-[\d.,]", word)), "")
        if minus:
            return Fault(name, f"{quotable(minus)} begins with a minus", f"write {name}={quotable(minus)}")
        more = "" if action.choices else f"; {self.help_told}"
        return Fault(name, "has nothing after it", f"write {_written(action)}{more}")


def one_after_the_other(words: Iterable[str], last: str) -> str:
    """Words in a sentence: "a, b and c"."""
    *most, final = words
    return f"{', '.join(most)} {last} {final}" if most else final


def quotable(word: str) -> str:
    """As much of a word as a line has room for."""
    return word if len(word) <= LONGEST_WORD else f"{word[:LONGEST_WORD]}…"


def _name(action: argparse.Action) -> str:
    """What people call an option or a place for a word."""
    if action.option_strings:
        return action.option_strings[-1]
    return str(action.metavar or action.dest)


def _written(action: argparse.Action) -> str:
    """How an option or a word is written in a command line."""
    if action.choices is not None and not action.metavar:
        value = one_after_the_other(map(str, action.choices), "or")
    else:
        value = str(action.metavar or action.dest)
    if action.option_strings:
        return f"{action.option_strings[-1]} {value}"
    return {"?": f"[{value}]", "*": f"[{value} ...]"}.get(str(action.nargs), value)
