"""Lessons passed in a real terminal, one by keys alone and another by mouse alone.

Run as a script it passes both at 80 x 24, 120 x 40 and 60 x 20, and prints the screens on the way.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from terminal import Cell, Terminal, tutor_in_terminal

STOPS = (
    "The paper",
    "The tape",
    "The marker",
    "The slash",
    "The plan",
    "The opening",
    "The mark",
    "Leaving off",
)
"""What the walk round the tutor is about, stop by stop."""
SIZES = ((80, 24), (120, 40), (60, 20))


def pass_by_keys(terminal: Terminal) -> Iterator[str]:
    """Passes lesson 4 by keys alone, task by task; gives the screens worth looking at."""
    for stop in STOPS:
        yield terminal.wait_for(f": {stop}")
        terminal.press("Enter")
    yield terminal.wait_for("Mirjam's")
    terminal.press("Enter Enter")
    terminal.wait_for("your answer, in cm")
    terminal.write("12.3\r")
    yield terminal.wait_for("Passed: 100 of 100")
    terminal.press("n Enter s Enter g")
    terminal.wait_for("Go to which place?")
    terminal.write("hem at\r")
    yield terminal.wait_for("From the crown to the hem at the grain")
    terminal.press("h [ s g")
    terminal.wait_for("Go to which place?")
    terminal.write("back under\rh")
    terminal.wait_for("Starts at the back underarm point")
    terminal.press("g")
    terminal.wait_for("Go to which place?")
    terminal.write("front under\r")
    yield terminal.wait_for("From the back underarm point to the front underarm point")
    terminal.press("h k k k k Enter")
    terminal.wait_for("open by")
    terminal.write("3.1\r")
    yield terminal.wait_for("A at B, hem side is +3.1 cm")
    terminal.press("c")
    yield terminal.wait_for("Every goal is met.")
    terminal.press("n")
    terminal.wait_for("Walk the seams")
    terminal.press("Enter j Enter j Enter j j Enter")
    yield terminal.wait_for("Chosen: 2 and 3 and 5.")
    terminal.press("c")
    yield terminal.wait_for("Passed: 100 of 100")
    terminal.press("n")
    # In few columns without what it is out of.
    yield terminal.wait_for("passed, 100")
    terminal.press("q")


def pass_by_mouse(terminal: Terminal) -> Iterator[str]:
    """Passes lesson 6 by mouse alone: no key is ever pressed."""
    for stop in STOPS:
        terminal.wait_for(f": {stop}")
        terminal.click_on("→ Next")
    terminal.wait_for("Anouk likes the cap")
    terminal.click_on("Enter close")
    # The line of the cap is the chosen one; clicked again it lifts the cap off.
    terminal.click_on("cap left on")
    yield terminal.wait_for("cap lifted off")
    # The edge is now the lower part's: the bicep line, and the hem.
    bicep, hem = _grain(terminal)
    terminal.click(bicep)
    yield terminal.wait_for("Starts at")
    terminal.click(hem)
    terminal.wait_for("grain")
    yield terminal.wait_for("A ✕")
    # The end at the hem, clicked, becomes a hinge.
    terminal.click(hem)
    yield terminal.wait_for("hem ◉")
    terminal.click_on("at the bicep line")
    terminal.wheel(bicep, 6)
    yield terminal.wait_for("+3.0 cm")
    terminal.click_on("c Check")
    yield terminal.wait_for("Every goal is met.")
    terminal.click_on("n next task")
    terminal.wait_for("What the armhole will have to take")
    terminal.click_on("Enter close")
    terminal.click_on("Enter Answer")
    # Three quarters of the three centimetres that the girth grew by, as a hint has it.
    terminal.wait_for("your answer, in cm")
    terminal.wheel(terminal.place_of("your answer"), 23)
    yield terminal.wait_for("2.3 cm")
    terminal.click_on("Enter have it marked")
    yield terminal.wait_for("Passed")
    terminal.click_on("n back to the lessons")
    yield terminal.wait_for("passed, ")
    terminal.click_on("q Quit")


def _grain(terminal: Terminal) -> tuple[Cell, Cell]:
    """Where the grain meets the bicep line, and the hem."""
    column, _ = terminal.place_of("⇕")
    _, level = terminal.place_of("◊")
    rows = terminal.screen().split("\n")
    hem = max(k for k, row in enumerate(rows[:-4]) if re.match(r"\s*[⠀-⣿]{4,}", row[: column + 1]))
    return (column, level), (column, hem)


def main() -> None:
    """Passes both lessons at every size and prints the screens."""
    for lesson, passing in (("4", pass_by_keys), ("6", pass_by_mouse)):
        for size in SIZES:
            with tutor_in_terminal(["learn", lesson], *size) as terminal:
                for screen in passing(terminal):
                    print(screen, end=f"\n{'=' * size[0]}\n")
                print(f"lesson {lesson} at {size[0]} x {size[1]}: exit status {terminal.status()}")


if __name__ == "__main__":
    main()
