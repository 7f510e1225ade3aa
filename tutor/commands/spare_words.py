"""Words of a command line that nothing takes, and what is said of the first of them."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.commands.parser import Parser, quotable
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
    return parser.out_of_place(option, word, command) or own.no_option(word)
