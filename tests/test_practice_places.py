"""Places in words: as people type them, and told back."""

from __future__ import annotations

import pytest
from blocks import lopsided
from hypothesis import given
from hypothesis import strategies as st

from tutor.alteration.outline import lower_part, whole
from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Along, At, Landmark, OnSlash, Place, Share
from tutor.faults import Fault
from tutor.practice.place_text import landmark_names, read_place
from tutor.units import Unit

SLEEVE = whole(lopsided())
LOWER = lower_part(lopsided())

READ: list[tuple[str, Place]] = [
    ("crown", Landmark("crown")),
    ("The Crown", Landmark("crown")),
    ("  top ", Landmark("crown")),
    ("underarm-back", Landmark("underarm-back")),
    ("back underarm", Landmark("underarm-back")),
    ("the front underarm point", Landmark("underarm-front")),
    ("hem", Landmark("grain-hem")),
    ("hem at the grain", Landmark("grain-hem")),
    ("back hem corner", Landmark("hem-back")),
    ("hem front", Landmark("hem-front")),
    ("back notch", Landmark("notch-back-1")),
    ("upper back notch", Landmark("notch-back-2")),
    ("notch back 2", Landmark("notch-back-2")),
    ("back elbow", Landmark("elbow-back")),
    ("6 cm along cap-back", Along("cap-back", 60)),
    ("6 along the back cap seam", Along("cap-back", 60)),
    ("6 cm along cap-back from crown", Along("cap-back", 60, True)),
    ("6 cm from the crown along cap back", Along("cap-back", 60, True)),
    ("60 mm along cap-front from crown", Along("cap-front", 60)),
    ("1 1/2 in along cap-front from the front underarm", Along("cap-front", 38.1, True)),
    ("3,5 cm along hem from hem-back", Along("hem", 35, True)),
    ("4 cm along underarm-back from hem", Along("underarm-back", 40)),
    ("4 cm along underarm-back from underarm", Along("underarm-back", 40, True)),
    ("half way along hem", Share("hem", 0.5)),
    ("middle of the hem", Share("hem", 0.5)),
    ("40% along cap-front", Share("cap-front", 0.4)),
    ("1/4 of cap-back", Share("cap-back", 0.25)),
    ("1/4 of the way along cap-back", Share("cap-back", 0.25)),
    ("25 per cent along cap-back from crown", Share("cap-back", 0.75)),
    ("half way along Grain", OnSlash("grain", 0.5)),
    ("30% along grain", OnSlash("grain", 0.3)),
    ("point 3 cm, -12 cm", At(30 - 120j)),
    ("point -1 1/2 in and 2 in", At(-38.1 + 50.8j)),
    ("point 3; -2", At(30 - 20j)),
]


@pytest.mark.parametrize(("text", "place"), READ, ids=[text for text, _ in READ])
def test_words_are_read(text: str, place: Place) -> None:
    assert read_place(text, SLEEVE, Unit.CM, ["grain"]) == place


def test_bare_numbers_are_in_the_learner_s_unit() -> None:
    assert read_place("1 1/2 along hem", SLEEVE, Unit.INCH) == Along("hem", 38.1)


def test_the_lower_part_has_its_own_places() -> None:
    assert read_place("bicep line", LOWER, Unit.CM) == Landmark("grain-bicep")
    assert read_place("40% along the bicep line", LOWER, Unit.CM) == Share("bicep-line", 0.4)
    with pytest.raises(Fault, match="crown"):
        read_place("crown", LOWER, Unit.CM)


UNREAD = [
    "",
    "moon",
    "back",
    "notch",
    "6 cm",
    "along hem",
    "6 cm along",
    "6 cm along moon",
    "moon along hem",
    "900 cm along hem",
    "-1 cm along hem",
    "120% along hem",
    "3/2 along hem",
    "1/0 along hem",
    "6 cm along grain",
    "6 cm along hem from crown",
    "6 cm along hem from",
    "point 3",
    "point a, b",
    "1,250 along hem",
]


@pytest.mark.parametrize("text", UNREAD)
def test_what_is_no_place_is_a_fault_that_says_what_would_be(text: str) -> None:
    with pytest.raises(Fault) as raised:
        read_place(text, SLEEVE, Unit.CM, ["grain"])
    assert raised.value.right


@given(st.text(max_size=60))
def test_any_text_is_a_place_or_a_fault(text: str) -> None:
    try:
        said = place_words(read_place(text, SLEEVE, Unit.CM, ["grain"]), Unit.CM)
    except Fault as fault:
        said = str(fault)
    assert said
    assert said.isprintable()


@pytest.mark.parametrize("outline", [SLEEVE, LOWER], ids=["whole", "lower part"])
def test_every_landmark_is_read_by_its_name_and_by_its_words(outline: object) -> None:
    shape = LOWER if outline is LOWER else SLEEVE
    for name in landmark_names(shape):
        assert read_place(name, shape, Unit.CM) == Landmark(name)
        assert read_place(place_words(Landmark(name), Unit.CM), shape, Unit.CM) == Landmark(name)


def test_each_place_is_named_once() -> None:
    points = [SLEEVE.spot(Landmark(name), "").point for name in landmark_names(SLEEVE)]
    assert min(abs(a - b) for k, a in enumerate(points) for b in points[:k]) > 1


ROUND_TRIP: list[Place] = [
    Along("cap-back", 60),
    Along("hem", 35, True),
    Share("cap-front", 0.4),
    OnSlash("grain", 0.3),
]


@pytest.mark.parametrize("place", ROUND_TRIP)
def test_words_told_back_are_read_as_the_same_place(place: Place) -> None:
    assert read_place(place_words(place, Unit.CM), SLEEVE, Unit.CM, ["grain"]) == place


def test_points_are_told_from_grain_and_bicep_line() -> None:
    assert place_words(At(30 - 120j), Unit.CM) == "the point 3.0 cm in front of the grain, 12.0 cm below the bicep line"
