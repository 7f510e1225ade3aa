"""Words of a command line that nothing takes, and what is said of the first of them."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.commands.parser import Parser, one_after_the_other, quotable
from tutor.faults import Fault

DASHES = ("-", "–", "—")
"""The last two are what word processors and telephones make of the first two."""


def fault_of(spare: Sequence[str], parser: Parser, command: str | None, words: Sequence[str]) -> Fault:
    """What is wrong with the first option among the ``spare`` ones of all ``words``, or else with the first word."""
    own = parser.commands[command] if command else parser
    named = [word for word in spare if len(word) > 1 and word.startswith(DASHES)]
    if "--" in words or not named:
        # After -- nothing is an option.
        return Fault(command or "", f'"{quotable(spare[0])}" is one word too many', f"write {own.use}; {own.help_told}")
    word = named[0]
    option = word.partition("=")[0]
    if option in own.options and command:
        after = f"{own.prog} {quotable(word)}"
        return Fault(option, "stands before the command", f"write it after, as in {after}")
    takers = [each for each in parser.commands.values() if option in each.options]
    if not command and takers and not parser.near(word):
        names = one_after_the_other([each.prog.partition(" ")[2] for each in takers], "or")
        return Fault(option, "belongs after a command", f"write {names} before it")
    return own.no_option(word)
