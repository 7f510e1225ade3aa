"""Folds of a worn sleeve: the strain of its cloth, the lines traced in it, and what can be told from them."""

from __future__ import annotations

import itertools
from functools import lru_cache
from typing import Any

import numpy as np
import pytest
from blocks import lopsided
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.fit.causes import CAUSES, contrary_of, other_side_of
from tutor.fit.diagnosis import Complaint
from tutor.fit.folds import SEEN, Fold, Kind, folds
from tutor.fit.grid import grid_of
from tutor.fit.look import Half, Look, Run, folds_told, look
from tutor.fit.misfit import Misfit
from tutor.fit.signs import SIGNS
from tutor.fit.strain import Strain, Worn
from tutor.geometry.region import Region
from tutor.pattern.draft import draft
from tutor.pattern.drafting.spec import DraftSpec
from tutor.pattern.sleeve import Sleeve

SPEC: dict[str, Any] = {
    "armhole_front": 215.0,
    "armhole_back": 225.0,
    "bicep_girth": 330.0,
    "cap_ease": 20.0,
    "sleeve_length": 590.0,
    "hem_girth": 240.0,
}


@lru_cache(maxsize=1)
def sleeve() -> Sleeve:
    return draft(DraftSpec(**SPEC)).sleeve


@lru_cache(maxsize=128)
def complaint(cause: str, amount: float = 18.0) -> Complaint:
    return Complaint(sleeve(), cause, amount)


@given(st.lists(st.tuples(st.floats(-0.2, 0.2), st.floats(0, 3.1416)), min_size=1, max_size=4), st.floats(0.0, 3.1416))
def test_strains_add_as_tensors_do(parts: list[tuple[float, float]], direction: float) -> None:
    # A plane strain's normal component along n is n.E.n, its principal strains the eigenvalues of E (any text on
    # strength of materials, Mohr's circle); numpy's eigenvalues are the reference.
    total = Strain(np.zeros(1), np.zeros(1, dtype=np.complex128))
    tensor = np.zeros((2, 2))
    for amount, angle in parts:
        total = total + Strain.along(np.array([amount]), np.array([np.exp(1j * angle)]))
        unit = np.array([np.cos(angle), np.sin(angle)])
        tensor += amount * np.outer(unit, unit)
    low, high = np.linalg.eigvalsh(tensor)
    assert total.shortest[0] == pytest.approx(low, abs=1e-12)
    assert total.roomiest[0] == pytest.approx(high, abs=1e-12)
    n = np.exp(1j * direction)
    along = total.mean[0] + (total.deviator[0] * np.conj(n * n)).real
    unit = np.array([n.real, n.imag])
    assert along == pytest.approx(unit @ tensor @ unit, abs=1e-12)


def test_a_fold_runs_along_the_pull_and_across_the_room() -> None:
    # Common practice: cloth that is too tight crosswise shows crosswise drag lines, spare width hangs in upright folds.
    pull = Strain.along(np.array([-0.1]), np.array([1 + 0j]))
    room = Strain.along(np.array([0.1]), np.array([1 + 0j]))
    assert abs(pull.fold[0].imag) < 1e-12
    assert abs(room.fold[0].real) < 1e-12


def test_nothing_off_shows_no_folds() -> None:
    assert folds(Worn(sleeve(), Misfit())) == ()
    assert folds_told((), sleeve()) == ("No folds show.",)


@pytest.mark.parametrize(
    ("cause", "run", "half"),
    [
        # Common practice in fitting, as any fitting class teaches it: tight upper arm, crosswise; spare width, upright;
        # a low cap, slanting from the crown on both halves; a high one, crosswise under the crown; ease that is not
        # taken up, puckers from the seam.
        ("girth-short", "crosswise", "both halves"),
        ("girth-spare", "upright", "both halves"),
        ("cap-low", "slanting", "both halves"),
        ("cap-high", "crosswise", "both halves"),
        ("ease-little", "slanting", "both halves"),
        ("ease-much", "from the seam", "both halves"),
        ("sleeve-narrow", "crosswise", "both halves"),
        ("sleeve-wide", "upright", "both halves"),
        ("ease-front", "from the seam", "front"),
        ("ease-back", "from the seam", "back"),
        ("ease-forward", "from the seam", "front"),
        ("ease-backward", "from the seam", "back"),
    ],
)
@pytest.mark.parametrize("amount", [12.0, 18.0, 25.0])
def test_causes_show_the_folds_that_practice_knows(cause: str, run: Run, half: Half, amount: float) -> None:
    assert complaint(cause, amount).look == Look(run, half)


def test_what_is_off_at_the_elbow_shows_when_the_arm_is_bent() -> None:
    # Common practice: a narrow elbow is found by bending the arm, and pulls across the elbow then.
    narrow = CAUSES["elbow-short"].made(18.0)
    assert folds(Worn(sleeve(), narrow)) == ()
    found = folds(Worn(sleeve(), narrow, bent=True))
    assert look(found, sleeve()) == Look("crosswise", "both halves", "elbow")
    assert all(fold.line.imag.mean() < -100 for fold in found)


def test_an_arm_ahead_of_its_sleeve_pulls_the_back_and_slackens_the_front() -> None:
    found = complaint("arm-forward").folds
    assert {kind: {np.sign(fold.line.real.mean()) for fold in found if fold.kind is kind} for kind in Kind} == {
        Kind.PULL: {-1.0},
        Kind.SLACK: {1.0},
    }


OTHER: dict[Half, Half] = {"back": "front", "front": "back", "both halves": "both halves"}


@pytest.mark.parametrize("cause", sorted(CAUSES))
@pytest.mark.parametrize("amount", [12.0, 18.0, 25.0])
def test_the_other_arm_shows_the_mirror_image(cause: str, amount: float) -> None:
    """A sleeve mirrored, with back for front in what is off, is the same sleeve seen from behind the paper."""
    here = Complaint(sleeve(), cause, amount)
    there = Complaint(sleeve().mirrored(), other_side_of(cause) or cause, amount)
    grid, mirrored = grid_of(here.sleeve), grid_of(there.sleeve)
    assert sorted(map(_rounded, -grid.places.conjugate())) == sorted(map(_rounded, mirrored.places))
    places = grid.places
    strain = Worn(here.sleeve, here.misfit).strain(places)
    other = Worn(there.sleeve, there.misfit).strain(-places.conj())
    assert strain.mean == pytest.approx(other.mean, abs=1e-9)
    assert strain.deviator == pytest.approx(other.deviator.conj(), abs=1e-9)
    if here.look is None:
        assert cause == "elbow-short"
        return
    assert there.look == Look(here.look.run, OTHER[here.look.half], here.look.height)


def _rounded(point: complex) -> tuple[float, float]:
    return round(point.real, 3), round(point.imag, 3)


@given(st.sampled_from(sorted(CAUSES)), st.floats(8.0, 40.0))
@settings(max_examples=25, deadline=None)
def test_folds_stay_on_the_sleeve_and_apart(cause: str, amount: float) -> None:
    worn = Worn(lopsided(), CAUSES[cause].made(amount))
    found = folds(worn)
    region = Region(worn.sleeve.outline())
    for fold in found:
        assert np.isfinite(fold.line).all()
        assert fold.strength >= SEEN
        assert region.distances_outside(fold.line).max() == 0
        assert fold.line[0].imag >= fold.line[-1].imag
    for one, other in itertools.combinations(found, 2):
        assert np.abs(one.line[:, None] - other.line[None, :]).min() > 4.0


@pytest.mark.parametrize("cause", sorted(CAUSES.keys() - {"elbow-short"}))
def test_more_that_is_off_shows_more(cause: str) -> None:
    """Strains are in proportion to what is off; folds show from some amount on, and then reach farther."""
    found = [complaint(cause, mm).folds for mm in (0.5, 8.0, 12.0, 18.0, 25.0)]
    assert found[0] == ()
    strongest = [max((fold.strength for fold in each), default=0.0) for each in found]
    assert strongest == sorted(strongest)
    assert strongest[4] == pytest.approx(strongest[3] * 25 / 18, rel=0.03)
    lengths = [sum(fold.length for fold in each) for each in found]
    assert lengths[0] < lengths[2] <= lengths[4] * 1.02


def test_the_room_that_a_longer_cap_lacks_shifts_the_folds_with_the_crown() -> None:
    """The folds of a high cap lie at a share of its height: on a cap 30 mm higher they lie higher."""
    specs = [DraftSpec(**{**SPEC, "cap_height": height, "bicep_girth": None}) for height in (120.0, 150.0)]
    levels = [
        np.mean([fold.line.imag.mean() for fold in Complaint(draft(spec).sleeve, "cap-high", 18.0).folds])
        for spec in specs
    ]
    assert levels[1] > levels[0] + 10


def test_one_look_has_several_causes_and_a_second_sign_tells() -> None:
    tight = complaint("girth-short")
    assert {"girth-short", "cap-high"} <= set(tight.alike)
    assert tight.left(["pinch"]) == ("girth-short", "sleeve-narrow")
    assert not tight.settled(["pinch"])
    assert tight.left(["pinch", "bend"]) == ("girth-short",)
    assert tight.settled(["pinch", "bend"])
    assert tight.settled(["pinch"], among=("girth-short", "cap-high"))
    assert not tight.settled([])
    # Following the lengthwise yarn finds it straight in all of them, and tells nothing.
    assert tight.left(["lengthwise-yarn"]) == tight.alike


def test_a_cause_knows_its_contrary_and_its_other_side() -> None:
    assert contrary_of("girth-short") == "girth-spare"
    assert contrary_of("elbow-short") is None
    assert {other_side_of("ease-front"), other_side_of("ease-backward")} == {"ease-back", "ease-forward"}
    assert other_side_of("arm-behind") == contrary_of("arm-behind") == "arm-forward"
    assert other_side_of("cap-low") is None


@pytest.mark.parametrize("cause", sorted(CAUSES))
def test_every_cause_can_be_settled(cause: str) -> None:
    case = complaint(cause)
    assert cause in case.left(list(SIGNS))
    assert case.settled(list(SIGNS))


def test_the_straight_yarn_is_the_sign_of_a_sleeve_well_set() -> None:
    # USDA, Fitting Dresses: lengthwise yarn straight from shoulder to elbow, crosswise yarn level at the armpit.
    well = Misfit()
    assert "straight" in SIGNS["lengthwise-yarn"].shows(well)
    assert "level" in SIGNS["crosswise-yarn"].shows(well)


def test_folds_are_told_in_sentences() -> None:
    told = folds_told(complaint("cap-high").folds, sleeve())
    assert any("folds run crosswise" in line and "in the cap" in line for line in told)
    assert not any("slack" in line or "taut" in line for line in told)
    felt = folds_told(complaint("cap-high").folds, sleeve(), felt=True)
    assert all("slack" in line for line in felt)


@pytest.mark.parametrize("amount", [float("nan"), float("inf"), 1e9])
def test_a_misfit_is_finite_and_of_this_world(amount: float) -> None:
    with pytest.raises(ValueError, match="girth"):
        Misfit(girth=amount)


def test_looks_go_by_length() -> None:
    long = Fold(np.array([-100 + 0j, 100 + 0j]), Kind.PULL, 0.1)
    short = Fold(np.array([0 + 60j, 0 + 30j]), Kind.SLACK, 0.1)
    assert look((short, long), sleeve()) == Look("crosswise", "both halves")
    assert look((), sleeve()) is None
