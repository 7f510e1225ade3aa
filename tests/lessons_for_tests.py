"""Small lessons as text, and how to read one from text in the tests."""

from __future__ import annotations

from pathlib import Path

from tutor.lesson.lesson import Lesson
from tutor.lesson.listing import own_listing
from tutor.lesson.reading import read_lesson

SMALL = """\
title = "A small lesson"
number = 90
brief = ["Odd's arm is {arm} round."]
watch = ["cap-height", "elbow-girth"]

[arm]
of = "Odd"
girth = 30
wearing-ease = 5

[block]
armhole-front = 21.5
armhole-back = 22.5
cap-ease = 2
bicep-girth = 33
sleeve-length = 59
hem-girth = 24

[plans.crossed]
slash = [
  { name = "grain", from = "crown", to = "grain-hem", hinge = ["from", "to"] },
  { name = "bicep", from = "underarm-back", to = "underarm-front", hinge = ["from", "to"] },
]
opening = [
  { slash = "grain", at = { crosses = "bicep", toward = "to" }, for = { measure = "bicep-girth", value = 35 } },
]

[[tasks]]
kind = "plan"
title = "Open it"
ask = "To {arm and ease}."
solution = "crossed"
hints = ["one", "two", "three"]

[[tasks.goals]]
kind = "reach"
measure = "bicep-girth"
value = 35
tolerance = 0.3
weight = 2
must = true

[[tasks.goals]]
kind = "keep"
measure = "cap-seam"
tolerance = "3 mm"

[[tasks]]
kind = "number"
title = "Say it"
ask = "How high is the cap then?"
of = "cap-height"
after = "crossed"
tolerance = "1/4 in"
hints = ["one", "two", "three"]
"""

FIGURES = """\
title = "Figures to work out"
number = 91
brief = ["Odd's hand is {hand} round and the wrist {wrist}."]
watch = ["bicep-girth", "hem-girth"]

[arm]
of = "Odd"
girth = 30
wearing-ease = 5
elbow = 27
wrist = 16
hand = 21

[block]
armhole-front = 21.5
armhole-back = 22.5
cap-ease = 2
bicep-girth = 33
sleeve-length = 59
hem-girth = 24

[[tasks]]
kind = "number"
title = "Arm and ease"
ask = "The arm is {arm} and the ease {ease}. What girth should the sleeve have?"
wanted = { measure = "bicep-girth", arm-and-ease = true }
tolerance = 0.3
hints = ["one", "two", "three"]

[[tasks]]
kind = "number"
title = "What is lacking"
ask = "By how much is the bicep girth to grow?"
wanted = { measure = "bicep-girth", arm-and-ease = true }
asks = "change"
tolerance = 0.2
unnamed = ["unit-swap"]
hints = ["one", "two", "three"]

[[tasks]]
kind = "number"
title = "The hand must pass"
ask = "How wide must the hem be, with {1 cm} to spare?"
wanted = { measure = "hem-girth", around = "hand", plus = 1 }
tolerance = 0.3
hints = ["one", "two", "three"]

[[tasks]]
kind = "number"
title = "At the cut edge"
ask = "How long is the cut edge of the cap?"
of = "cap-seam"
edge = "cut"
tolerance = 0.5
unnamed = ["straight-for-curve"]
hints = ["one", "two", "three"]

[[tasks]]
kind = "number"
title = "What the cut edge adds"
ask = "By how much is the cut edge of the cap longer than its seam?"
of = "cap-seam"
edge = "cut"
asks = "change"
tolerance = 0.4
hints = ["one", "two", "three"]
"""
JERSEY = """\
title = "Figures in jersey"
number = 92
brief = ["The jersey may stretch by {stretch}."]

[arm]
of = "Odd"
girth = 30
cloth = "knit"
wearing-ease = -2
stretch = 20

[block]
armhole-front = 20
armhole-back = 21
cap-ease = 0.5
bicep-girth = 26
sleeve-length = 59
hem-girth = 20

[vary]
stretch = [16, 24]
wearing-ease = [-3, -1.5]

[[tasks]]
kind = "number"
title = "Smaller than the arm"
ask = "What girth should the sleeve have?"
wanted = { measure = "bicep-girth", arm-and-ease = true }
tolerance = 0.3
hints = ["one", "two", "three"]

[[tasks]]
kind = "number"
title = "As small as the cloth allows"
ask = "How small may the sleeve be?"
wanted = { measure = "bicep-girth", around = "arm", stretched = true }
tolerance = 0.3
hints = ["one", "two", "three"]

[[tasks]]
kind = "number"
title = "The stretch that is used"
ask = "By how many per cent does the sleeve stretch on the arm of {arm}?"
of = "stretch-used"
tolerance = 0.5
watch = ["bicep-girth"]
hints = ["one", "two", "three"]
"""

FOLDS = """\
title = "Folds to look into"
number = 94
brief = ["Odd's blouse shows folds."]

[arm]
of = "Odd"
girth = 30
wearing-ease = 6

[block]
armhole-front = 21.5
armhole-back = 22.5
cap-ease = 2
bicep-girth = 33
sleeve-length = 59
hem-girth = 24

[vary]
room = [2.4, 3.6]

[[tasks]]
kind = "diagnose"
title = "Folds across"
ask = "What is off?"
cause = "girth-short"
amount = 2
instead = ["cap-high"]
suspects = ["girth-short", "cap-high", "ease-little", "girth-spare", "ease-much"]
hints = ["one", "two", "three"]
why = "Only the pinch tells."

[[tasks]]
kind = "diagnose"
title = "Folds aslant"
ask = "What is off?"
cause = "arm-forward"
amount = 1.8
instead = ["arm-behind", "cap-low"]
suspects = ["arm-forward", "arm-behind", "cap-low", "ease-front", "ease-back"]
signs = ["pinch", "walk", "crosswise-yarn", "lengthwise-yarn"]
hints = ["one", "two", "three"]

[[tasks]]
kind = "diagnose"
title = "Puckers"
ask = "What is off?"
cause = "ease-forward"
amount = 1.6
instead = ["ease-front"]
suspects = ["ease-front", "ease-forward", "ease-back", "ease-backward"]
hints = ["one", "two", "three"]
"""
"""A lesson in which all is to be diagnosed."""

CHOICES = """\
title = "Things to choose"
number = 93
brief = ["Odd's arm is {arm} round."]
watch = ["bicep-girth"]

[arm]
of = "Odd"
girth = 30
wearing-ease = 6

[block]
armhole-front = 21.5
armhole-back = 22.5
cap-ease = 2
bicep-girth = 33
sleeve-length = 59
hem-girth = 24

[vary]
room = [2.4, 3.6]

[plans.crossed]
slash = [
  { name = "grain", from = "crown", to = "grain-hem", hinge = ["from", "to"] },
  { name = "bicep", from = "underarm-back", to = "underarm-front", hinge = ["from", "to"] },
]
opening = [
  { slash = "grain", at = { crosses = "bicep", toward = "to" }, for = { measure = "bicep-girth", arm-and-ease = true }},
]

[plans.lifted]
set-back = true
slash = [{ name = "grain", from = "grain-bicep", to = "grain-hem", hinge = "to" }]
opening = [{ slash = "grain", at = "from", for = { measure = "bicep-girth", arm-and-ease = true } }]

[plans.wedge]
slash = [{ name = "grain", from = "crown", to = "grain-hem", hinge = "from" }]
opening = [{ slash = "grain", at = "to", for = { measure = "bicep-girth", arm-and-ease = true } }]

[plans.through]
slash = [{ name = "grain", from = "crown", to = "grain-hem", hinge = [] }]
opening = [
  { slash = "grain", at = "from", amount = "3 cm" },
  { slash = "grain", at = "to", amount = "3 cm" },
]

[[tasks]]
kind = "choice"
title = "Which keeps the cap seam?"
ask = "The sleeve is to be {arm and ease}. Which alteration keeps cap seam and hem?"
options = [
  { plan = "crossed", title = "Slashes crossed, all ends hinged" },
  { plan = "lifted", title = "The cap lifted off and set back" },
  { plan = "wedge", title = "One wedge, hinged at the crown" },
]
hints = ["one", "two", "three"]
why = "The halves of the cap turn, and their seam stays."

[[tasks.goals]]
kind = "reach"
measure = "bicep-girth"
arm-and-ease = true
tolerance = 0.3

[[tasks.goals]]
kind = "keep"
measure = "cap-seam"
tolerance = 0.3
why = "The armhole stays."

[[tasks.goals]]
kind = "keep"
measure = "hem-girth"
tolerance = 0.3

[[tasks]]
kind = "choice"
title = "Which costs least height?"
ask = "Which of these leaves the highest cap?"
options = [
  { plan = "crossed", title = "Slashes crossed, all ends hinged" },
  { plan = "lifted", title = "The cap lifted off and set back" },
]
most = "cap-height"
hints = ["one", "two", "three"]

[[tasks]]
kind = "choice"
title = "What shrinks?"
ask = "Of these measures, which shrink when the slashes are crossed?"
measures = ["cap-height", "cap-seam", "elbow-girth", "underarm-seam-back"]
after = "crossed"
which = "shrink"
hints = ["one", "two", "three"]

[[tasks]]
kind = "choice"
title = "What stays?"
ask = "Which of these measures stay?"
measures = ["cap-height", "cap-seam", "elbow-girth", "hem-girth", "bicep-girth"]
after = "crossed"
which = "stay"
pick = "all"
hints = ["one", "two", "three"]
"""

PLACES = """\
title = "Places to show"
number = 94
brief = ["Odd's sleeve lies before you."]
watch = ["cap-height"]

[arm]
of = "Odd"
girth = 30
wearing-ease = 6

[block]
armhole-front = 21.5
armhole-back = 22.5
cap-ease = 2
bicep-girth = 33
sleeve-length = 59
hem-girth = 24

[[tasks]]
kind = "place"
title = "The crown"
ask = "Show the crown."
place = "crown"
tolerance = 0.5
hints = ["one", "two", "three"]
why = "Both cap seams meet there."

[[tasks]]
kind = "place"
title = "The front underarm point"
ask = "Show it."
place = "underarm-front"
tolerance = 0.5
hints = ["one", "two", "three"]

[[tasks]]
kind = "place"
title = "The front notch"
ask = "Show it."
place = "notch-front"
tolerance = 0.4
hints = ["one", "two", "three"]

[[tasks]]
kind = "place"
title = "Where the elbow line meets the back seam"
ask = "Show it."
place = "elbow-back"
tolerance = 0.5
hints = ["one", "two", "three"]

[[tasks]]
kind = "place"
title = "A point of the cap seam"
ask = "Show the place of the back cap seam that is {8 cm} from the crown, along the seam."
place = { seam = "cap-back", distance = 8, from = "crown" }
tolerance = 0.3
unnamed = ["other-landmark"]
hints = ["one", "two", "three"]
"""


def own_lessons() -> tuple[Lesson, ...]:
    """The lessons that come with the program, by their numbers."""
    return tuple(listed.lesson for listed in own_listing())


def written(folder: Path, text: str, name: str = "small.toml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def small_lesson(folder: Path, *changes: tuple[str, str], text: str = SMALL) -> Lesson:
    """The small lesson, or another, with texts in it replaced; each must be there."""
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return read_lesson(written(folder, text))


AMOUNTS = """\
title = "Amounts without a slash"
number = 93
brief = ["No slash is needed."]

[arm]
of = "Odd"
girth = 31
wearing-ease = 3

[block]
armhole-front = 21.5
armhole-back = 22.5
cap-ease = 2
bicep-girth = 33
sleeve-length = 59
hem-girth = 24

[plans.turned]
pitch = 0.5
cap-raise = 1

[plans.right]
pitch = { for = "ease-balance" }
seam.back.bicep = { for = "bicep-girth" }
seam.front.bicep = 0.5
armhole.back = { for = { measure = "armhole-back", change = 0.4 }, width-share = 0.25 }

[vary]
plans = { turned = [0.5, 1.5] }

[[tasks]]
kind = "number"
title = "Say it"
ask = "The cap turns {turned pitch} and rises {turned cap-raise}. How long is the front cap seam?"
of = "cap-seam-front"
after = "turned"
tolerance = 0.3
hints = ["one", "two", "three"]

[[tasks]]
kind = "plan"
title = "Do it"
ask = "Make it wider, and turn it."
may-use = ["pitch", "seams", "cap-top", "crown", "shoulder", "armhole"]
solution = "right"
hints = ["one", "two", "three"]

[[tasks.goals]]
kind = "reach"
measure = "bicep-girth"
value = 34
tolerance = 0.2

[[tasks.goals]]
kind = "reach"
measure = "ease-balance"
value = 0.6
tolerance = 0.2

[[tasks.goals]]
kind = "reach"
measure = "armhole-back"
change = 0.4
tolerance = 0.1
"""
"""A lesson done without slashes, in which all other amounts may be used."""
