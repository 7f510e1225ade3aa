"""The commands that set amounts which need no slash: one word or two of what, and the amount."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from tutor.alteration.amounts import AMOUNTS, SIDES, PlanAmount
from tutor.faults import Fault
from tutor.practice.plain_reading import listed
from tutor.practice.plain_talk import Talk
from tutor.practice.steps import amounts_told
from tutor.units import Unit, format_length, parse_length

SIDE = "SIDE"
BOTH = "both"
EXAMPLE = 8.0
"""mm; the amount in examples."""

DOES = {
    "widen": "move the bodice's side seam out: back, front or both",
    "take-in": "move the bodice's side seam in",
    "lower": "move the underarm of the bodice down: back, front or both",
    "raise": "move the underarm of the bodice up",
    "add": "add paper to an edge of the sleeve, back, front or both: at the underarm, the elbow or the hem",
    "take": "take paper away from an edge of the sleeve, in the same way",
    "underarm": "move the sleeve's underarm point up, or down: back, front or both",
    "cap": "redraw the top of the cap higher, or with down lower",
    "pitch": "turn the cap in its armhole, forward or back: crown and notches move along the seam",
    "crown": "move the crown mark alone along the cap seam, forward or back",
    "shoulder": "move the bodice's shoulder ends: forward, back, up or down",
}
"""What the commands do, by their first word; of others the meaning of their amount is said."""


@dataclass(frozen=True, slots=True)
class Form:
    """What can be typed for an amount: its words, the sign they give it, and the amount by side ("" for none)."""

    words: tuple[str, ...]
    sign: int
    amounts: tuple[tuple[str, PlanAmount], ...]

    def example(self, unit: Unit) -> str:
        """A whole line of this form."""
        words = " ".join(SIDES[0] if word == SIDE else word for word in self.words)
        return f"{words} {format_length(EXAMPLE, unit)}"

    def on(self, side: str) -> list[PlanAmount]:
        """The amounts meant by a side, or by both."""
        return [amount for own, amount in self.amounts if side in (own, BOTH)]


def _forms() -> dict[tuple[str, ...], Form]:
    forms: dict[tuple[str, ...], Form] = {}
    for amount in AMOUNTS:
        for typed, sign in zip(amount.typed, (1, -1), strict=True):
            words = tuple(typed.split())
            known = forms[words].amounts if words in forms else ()
            forms[words] = Form(words, sign, (*known, (amount.side, amount)))
    return forms


FORMS = _forms()


def commands() -> list[tuple[str, str, str, Callable[[Talk, str], list[str]]]]:
    """For each first word: the word, how it is used, what it does, and the function that does it."""
    found = {}
    for form in FORMS.values():
        word = form.words[0]
        if word not in found:
            use = " ".join(SIDES[0] if each == SIDE else each for each in form.words)
            found[word] = (word, f"{use} AMOUNT", DOES.get(word, form.amounts[0][1].meaning), _setting(word))
    return list(found.values())


def examples(amounts: Iterable[PlanAmount], unit: Unit) -> list[str]:
    """A line to type for each kind of amount among these."""
    allowed = set(amounts)
    forms = [form for form in FORMS.values() if form.sign > 0 and {amount for _, amount in form.amounts} & allowed]
    return [form.example(unit) for form in forms]


def _setting(word: str) -> Callable[[Talk, str], list[str]]:
    def run(talk: Talk, rest: str) -> list[str]:
        session = talk.session
        form, side, text = _read(word, rest, session.unit)
        if not text:
            raise Fault(word, "needs an amount", f"write such as {form.example(session.unit)}")
        mm = form.sign * parse_length(text.removeprefix("by "), session.unit, word)
        amounts = form.on(side)
        with session.one_step():
            for amount in amounts:
                session.set_amount(amount, mm)
        return talk.after_edit(*amounts_told(session.draft, amounts, session.unit))

    return run


def _read(word: str, rest: str, unit: Unit) -> tuple[Form, str, str]:
    """The form that a line has, the side it names, and the rest of it, which is the amount. Raises Fault."""
    forms = [form for form in FORMS.values() if form.words[0] == word]
    tokens, side, k = rest.split(), "", 1
    while len(forms) > 1 or len(forms[0].words) > k:
        said = tokens[k - 1].casefold() if k <= len(tokens) else ""
        fitting = [form for form in forms if len(form.words) > k and said in _choices(form.words[k])]
        if not fitting:
            needed = dict.fromkeys(choice for form in forms for choice in _choices(form.words[k]))
            what = f"needs {listed(needed, 'or')}, and an amount"
            raise Fault(word, what, f"write such as {forms[0].example(unit)}")
        side = said if fitting[0].words[k] == SIDE else side
        forms, k = fitting, k + 1
    return forms[0], side, " ".join(tokens[k - 1 :])


def _choices(word: str) -> tuple[str, ...]:
    return (*SIDES, BOTH) if word == SIDE else (word,)
