"""A lesson: a brief, a block, an arm, and tasks done on the pattern.

A lesson is a TOML 1.0 file. Nothing in it is evaluated or run: it is text and figures. Keys it does not know are
faults. A length is a number in the file's ``units``, or a text with a unit of its own: ``3``, ``"3 cm"``,
``"1 1/4 in"``. Texts may hold lengths in braces, shown in the learner's unit: see ``wording``.

    title = "Room with the cap seam kept"
    number = 4
    part = "Width"                       # the part of the course it belongs to
    after = [1, 2]                       # numbers of the lessons that it builds on
    version = 1                          # goes up whenever marks could come out otherwise
    units = "cm"                         # of bare numbers: cm, in or mm
    brief = ["...", "..."]               # paragraphs of at most 60 words
    cautions = ["..."]                   # shown before anything is cut
    screen = ["..."]                     # told below the brief in the tutor, of its keys and files, and not on paper
    watch = ["bicep-girth", "hem-girth"] # measures on the tape besides those of the goals

    [arm]
    of = "Mirjam"                        # the wearer
    girth = 31
    measured = "relaxed"                 # or "flexed"
    cloth = "woven"                      # or "knit"
    wearing-ease = 5
    ease-in-other-cloth = 0              # what a knit would be given; 5 cm for a woven, none for a knit if left out
    elbow = 27                           # other girths, where a task goes by them: elbow, forearm, wrist, hand
    stretch = 20                         # per cent that a knit may be stretched; its wearing ease may be below 0

    [block]                              # what it is drafted from; the keys of ``DraftSpec``, with hyphens
    armhole-front = 21.5
    armhole-back = 22.5
    cap-ease = 2.5
    cap-height = 14.5
    sleeve-length = 59
    hem-girth = 24

    seam-allowance = 1                   # what a learner who measures the cut edge is out by; 1 cm if left out

    [vary]                               # what new variants are drawn from; all of it can be left out
    arms = "women"                       # or "men": whose arms, measured as [arm] says
    arm-girth = [27, 36]                 # no thinner and no fuller than this
    wearing-ease = [4.5, 5.5]
    room = [2.4, 3.6]                    # what the sleeve lacks; arm and ease less this is the block's bicep girth
    cap-ease = [1.6, 2.4]
    sleeve-length = [57, 61]
    armhole = [0.97, 1.03]               # factor on what each armhole would be in proportion to the block's girth
    hem-girth = [0.95, 1.05]
    hand = [19, 23]                      # or elbow, forearm, wrist; they go along with the arm in part if left out
    stretch = [15, 25]                   # stays as it is if left out
    plans = { one-open = [0.8, 1.3] }    # factor on each amount written in a plan
    goals = { cap-height = [0.8, 1.3] }  # factor on every figure written for a measure, in goals and plans alike
    complaints = [0.85, 1.2]             # factor on what is off in a diagnosis
    complaints-by-room = true            # what is off at the upper arm is what the block lacks there
    difficulty = [0.6, 1.6]              # how far goals are from the start, in times this lesson's own

    [plans.crossed]                      # plans by name: worked solutions, and what tasks start from
    slash = [
      { name = "grain", from = "crown", to = "grain-hem", hinge = ["from", "to"] },
      { name = "bicep", from = "underarm-back", to = "underarm-front", hinge = ["from", "to"] },
    ]
    opening = [{ slash = "grain", at = { crosses = "bicep", toward = "to" }, for = "bicep-girth" }]

    [[tasks]]
    kind = "plan"                        # build an alteration
    title = "Open the sleeve"
    ask = "..."
    start = ""                           # a plan whose result the task starts from; else the block
    may-use = ["slashes"]                # of slashes, set-back, armhole
    solution = "crossed"
    pass-mark = 0.8
    hints = ["what to look at", "which measure is off", "what to do next, and where"]
    watch = []

    [[tasks.goals]]
    kind = "reach"                       # reach, keep, at-most, at-least, balance, sound
    measure = "bicep-girth"
    arm-and-ease = true                  # or another figure: value = 36, change = "+3 cm", around = "hand"
    tolerance = 0.3
    weight = 2                           # in the mark; 1 if left out
    must = true                          # the task can't be passed without it
    why = "..."                          # said when it is missed

    [[tasks]]
    kind = "number"                      # say a figure
    title = "Predict"
    ask = "..."
    of = "cap-height"                    # a measure
    after = "crossed"                    # as this plan leaves it; else as the pattern lies
    edge = "seam"                        # or "cut": measured at the cut edge, seam allowance and all
    asks = "value"                       # or "change": what the plan, or the cut edge, makes of it
    tolerance = 0.5
    hints = ["...", "...", "..."]
    why = "..."
    unnamed = ["cut-line"]               # usual mistakes not to be looked for in this task
    goes-on-from = 1                     # the earlier task whose result, or whose arm with ease, the learner's own,
                                         # is gone on from
    tells-plan = true                    # asked by itself, it tells the plan of ``after`` step by step

    [[tasks]]
    kind = "number"                      # a figure worked out from the arm, and not measured
    title = "The hand must pass"
    ask = "..."
    wanted = { measure = "hem-girth", around = "hand", plus = 1 }
    tolerance = 0.3
    hints = ["...", "...", "..."]

    [[tasks]]
    kind = "choice"                      # choose among plans; which are right is worked out, and never written
    title = "Which keeps the cap seam?"
    ask = "..."
    options = [
      { plan = "crossed", title = "Slashes crossed, all ends hinged" },
      { plan = "lifted", title = "The cap lifted off and set back" },
    ]
    most = "cap-height"                  # or least: of those that meet the goals, the one with the most of it is right
    mends = 0                            # the number of an earlier diagnosis: right is what leaves nothing of it off
    pick = "one"                         # just one is right; or "all" that are, not being all there are
    apart = 0.3                          # how far figures must differ to tell which is the greater; 3 mm, 1 degree or
                                         # 1 per cent if left out
    hints = ["...", "...", "..."]
    why = "..."
                                         # goals as of a plan: right is what meets every one of them

    [[tasks]]
    kind = "choice"                      # choose among measures
    title = "What shrinks?"
    ask = "..."
    measures = ["cap-height", "cap-seam", "elbow-girth"]
    after = "crossed"                    # the plan they are asked about
    which = "shrink"                     # or grow, or stay
    hints = ["...", "...", "..."]

    [[tasks]]
    kind = "place"                       # show a place on the edge of the pattern
    title = "The front notch"
    ask = "..."
    place = "notch-front"                # or { seam = "cap-back", distance = 8, from = "crown" }, or a share of a seam
    tolerance = 0.4                      # along the edge
    hints = ["...", "...", "..."]
    why = "..."

    [[tasks]]
    kind = "diagnose"                    # folds are drawn; ask for signs, and name what they come of
    title = "Folds at the upper arm"
    ask = "..."
    cause = "girth-short"                # what is off; see below
    amount = 2                           # by how much
    instead = ["cap-high"]               # what variants may draw in its place; nothing if left out
    suspects = ["girth-short", "cap-high", "ease-little"]   # causes to name one of: 2 to 8
    signs = ["pinch", "walk"]            # signs that can be asked for; all if left out
    hints = ["...", "...", "..."]        # each is followed by what can be worked out: the look, the causes, a sign
    why = "..."

A figure (``wanted``, of a goal, or in ``for``) is one of: ``value``; ``change``, from where the task starts;
``arm-and-ease = true``; or ``around`` a part of the arm (arm, elbow, forearm, wrist, hand) ``plus`` so much. With
``stretched = true`` one that goes by the arm is as much smaller as the cloth may stretch, girth / (1 + stretch).
With ``asks = "change"`` a wanted figure is asked for as its difference from the pattern as it lies.

A plan is written as in a plan file (see ``plan_file``), with one thing more: ``for`` can be the bare name of a
measure, and the amount is then solved for what the task's goals want of it; or a table that gives the figure. An
armhole can have ``for`` as well, in place of ``widen`` and ``lower``: both are solved together, and ``width-share``
of the amount goes into width, one half if left out. A plan that a task starts from, or that a number is asked after,
needs figures of its own.

With ``mends`` the options are to mend what was found off: right are those after which no sign shows anything off, for
the same wearer and by the changes of bicep and elbow girth, cap height and the ease of both halves. Up to 16 mm
more room at the elbow than was planned are let pass, as a wedge brings them along.

Options stand in an order drawn by the variant, each under its title. One that paper refuses is wrong. A goal is met
inside its tolerance and missed beyond twice that; a measure grows or shrinks by ``apart`` at least, and stays within a
quarter of it. Where an option lies between, or where not just one is right though one is to be picked, a variant is not
set, and the lesson as written has a fault.

Causes of a complaint are girth-short, girth-spare, sleeve-narrow, sleeve-wide, cap-low, cap-high, ease-much,
ease-little, ease-front, ease-back, ease-forward, ease-backward, arm-forward, arm-behind, elbow-short (see
``fit/causes``); signs are pinch, walk, halves, crosswise-yarn, lengthwise-yarn, bend (see ``fit/signs``). The folds are
worked out from cause and amount. They must have more than one cause among the suspects, and the signs must tell these
apart; else the lesson has a fault, and a variant is drawn again. Variants draw the amount by ``goals`` of the measure
it is counted in, or else by ``complaints``, a factor as well. The wearer is known by the signs alone: no task that
diagnoses shows what goes by the arm.

Goals: ``keep`` is a measure that stays where the task starts; ``at-most`` and ``at-least`` take a figure as ``reach``
does. ``sound`` asks that the trued seams can be sewn. ``balance`` asks that the cap fits the armhole: ``ease-front``
and ``ease-back`` are bands ``[low, high]`` with ``tolerance`` beyond them, ``notches`` and ``seams`` are how far
notches, underarm seams and side seams may be from meeting. A goal is met in full within its tolerance, and not at all
beyond three times it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from msgspec import Struct

from tutor.lesson.amount import Amount
from tutor.lesson.goal import Figure
from tutor.lesson.recipe import Recipe, carried_out
from tutor.lesson.setting import Arm, Block
from tutor.lesson.task import Task
from tutor.lesson.vary import Vary
from tutor.pattern.draft import draft
from tutor.pattern.pattern import Pattern
from tutor.units import Unit

REMEMBERED = 128
"""How many lessons, variants counted, keep their patterns at hand."""


class LessonText(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """What a lesson file holds."""

    title: str
    number: int
    brief: tuple[str, ...]
    arm: Arm
    block: Block
    tasks: tuple[Task, ...]
    part: str = ""
    after: tuple[int, ...] = ()
    version: int = 1
    units: Literal["cm", "in", "mm"] = "cm"
    cautions: tuple[str, ...] = ()
    screen: tuple[str, ...] = ()
    watch: tuple[str, ...] = ()
    plans: dict[str, Recipe] = {}
    vary: Vary = Vary()
    seam_allowance: Amount = Amount(10.0, 1.0)


class Lesson(LessonText, frozen=True, kw_only=True, eq=False):
    """A lesson read from a file; ``name`` is the file's, without its ending. Lessons are one only with themselves."""

    name: str

    @property
    def unit(self) -> Unit:
        return Unit(self.units)

    @property
    def task_count(self) -> int:
        return len(self.tasks)


@lru_cache(maxsize=REMEMBERED)
def block_of(lesson: Lesson) -> Pattern:
    """The lesson's block, drafted. Raises Fault when no such block can be."""
    return draft(lesson.block.spec(lesson.title, lesson.unit))


def starting_pattern(lesson: Lesson, task: Task) -> Pattern:
    """The pattern that a task starts from: the block, or the block as one of the lesson's plans leaves it.

    Raises Fault, Refusal or ValueError when that can't be made.
    """
    return pattern_after(lesson, task.start) if task.start else block_of(lesson)


@lru_cache(maxsize=REMEMBERED)
def pattern_after(lesson: Lesson, plan: str) -> Pattern:
    """The block as one of the lesson's plans leaves it. Raises as ``starting_pattern`` does."""
    return carried_out(lesson.plans[plan], block_of(lesson), lesson.arm)


__all__ = ["Figure", "Lesson", "LessonText", "block_of", "pattern_after", "starting_pattern"]
