"""The one exception that carries a person's mistake to that person in a single line."""


class Fault(Exception):
    """Input that can't be used: where it is, what is wrong with it, and what would be right.

    All three are short phrases without a full stop; ``str(fault)`` is one line with no control characters.
    """

    def __init__(self, where: str, what: str, right: str = "") -> None:
        self.where = where
        self.what = what
        self.right = right
        super().__init__(where, what, right)

    def __str__(self) -> str:
        line = f"{self.where}: {self.what}" if self.where else self.what
        if self.right:
            line += f"; {self.right}"
        return printable(line)


def printable(text: str) -> str:
    """The text on one line, with anything a terminal could obey made visible."""
    return "".join(letter if letter.isprintable() else f"\\x{ord(letter):02x}" for letter in text)
