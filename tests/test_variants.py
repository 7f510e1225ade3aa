"""Variants of lessons: drawn the same everywhere, kept for ever, fit to be set; and own work that is carried on."""

from __future__ import annotations

import hashlib
import io
import json
import math
import re
import statistics
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lessons_for_tests import SMALL, own_lessons, small_lesson, written
from msgspec import structs
from scipy.stats import norm
from simulated_learners import GUESSED, NAMED, out_of_bounds, simulate
from simulated_tally import BY_CHANCE, Tally, added, table

from tutor.alteration.alter import alter
from tutor.alteration.plan import Landmark, Opening, Plan, Slash
from tutor.cli import main
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson, block_of
from tutor.lesson.reading import find_lesson, read_lesson
from tutor.lesson.task import ChoiceTask, DiagnoseTask
from tutor.lesson.variants import drawn, variant_from, with_values
from tutor.lesson.vary import ARMS
from tutor.pattern.measures import measure
from tutor.practice.entry import read_figure
from tutor.practice.proving import prove
from tutor.practice.session import Session
from tutor.practice.variants import UNITS, confusions, difficulty, variant_of, why_not
from tutor.practice.worked import case_of, worked_plan
from tutor.resources import lessons_folder
from tutor.units import Unit

LESSONS = {str(lesson.number): lesson for lesson in own_lessons()}


@pytest.fixture(params=LESSONS)
def lesson(request: pytest.FixtureRequest) -> Lesson:
    return LESSONS[request.param]


# Drawing.


def test_a_share_is_sha_256_of_its_name_as_anybody_can_compute_it() -> None:
    """FIPS 180-4 by hashlib; the first 48 bits as a fraction of 1.

    A sleeve is longer as women's upper arms are: 307, 334, 363 mm at 5, 50 and 95 % (ANSUR II 2012); normal by scipy.
    """
    for seed in range(20):
        found = drawn(find_lesson("4"), seed, 2).values
        digest = hashlib.sha256(f"2/04-cap-seam-kept/{seed}/2/sleeve-length".encode()).digest()
        share = 0.05 + 0.9 * int.from_bytes(digest[:6], "big") / 2**48
        to_percentile = (363 - 334 if share > 0.5 else 334 - 307) / norm.ppf(0.95)
        arm = 334 + norm.ppf(share) * to_percentile
        assert found["block sleeve-length"] == round(590 * arm / 334)


def test_a_number_draws_the_same_and_another_number_another(lesson: Lesson) -> None:
    assert drawn(lesson, 3).values == drawn(lesson, 3).values
    assert len({tuple(drawn(lesson, seed).values.values()) for seed in range(50)}) == 50
    assert drawn(lesson, 3, 1).values != drawn(lesson, 3, 0).values


def test_all_that_is_drawn_is_whole_millimetres(lesson: Lesson) -> None:
    assert all(value == round(value) for value in drawn(lesson, 11).values.values())


# ANSUR II 2012 (NATICK/TR-15/007) and NHANES 2015-16: percentiles 5, 50 and 95, mm.
@pytest.mark.parametrize(
    ("arms", "measured", "percentiles"),
    [
        ("women", "flexed", (259, 304, 360)),
        ("men", "flexed", (303, 357, 418)),
        ("women", "relaxed", (246, 315, 425)),
        ("men", "relaxed", (277, 341, 424)),
    ],
)
def test_arms_are_spread_as_they_were_measured(
    arms: str, measured: str, percentiles: tuple[float, float, float], tmp_path: Path
) -> None:
    """Drawn between the 5th and the 95th percentile: of the draws, half lie on either side of the 50th."""
    easy = small_lesson(
        tmp_path,
        ("girth = 30\n", f'girth = 30\nmeasured = "{measured}"\n'),
        ("[plans.crossed]", f'[vary]\narms = "{arms}"\n\n[plans.crossed]'),
    )
    girths = sorted(drawn(easy, seed).values["arm girth"] for seed in range(2000))
    low, middle, high = percentiles
    assert low <= girths[0] < low + 5
    assert high - 5 < girths[-1] <= high
    assert statistics.median(girths) == pytest.approx(middle, abs=5)
    # A quarter of a normal curve cut off at 5 and 95 %: 27.5 and 72.5 %, 0.598 of a standard deviation of 1.645.
    assert statistics.quantiles(girths, n=4)[0] == pytest.approx(middle - 0.3635 * (middle - low), abs=6)
    assert statistics.quantiles(girths, n=4)[2] == pytest.approx(middle + 0.3635 * (high - middle), abs=8)


def test_flexed_and_relaxed_arms_are_kept_apart() -> None:
    assert ARMS["women", "flexed"] != ARMS["women", "relaxed"]
    for lesson in LESSONS.values():
        assert drawn(lesson, 1).lesson.arm.measured == lesson.arm.measured


def test_the_block_lacks_the_room_that_the_lesson_gives(lesson: Lesson) -> None:
    assert lesson.vary.room is not None
    for seed in range(8):
        variant = drawn(lesson, seed).lesson
        room = variant.arm.with_ease - measure(block_of(variant))["bicep-girth"]
        assert lesson.vary.room[0] - 1 <= room <= lesson.vary.room[1] + 1


# Keeping.


def test_a_variant_kept_is_the_same_lesson_for_ever(lesson: Lesson) -> None:
    variant = variant_of(lesson, 5)
    kept = json.loads(json.dumps(variant.stored()))
    again = variant_from(lesson, kept)
    assert again.stored() == kept
    before, after = (measure(block_of(each.lesson)) for each in (variant, again))
    assert before == after
    assert again.lesson.arm == variant.lesson.arm


def test_the_digest_is_that_of_canonical_json() -> None:
    lesson = find_lesson("6")
    kept = variant_of(lesson, 2).stored()
    table = {"generator": 2, "lesson": lesson.name, "values": kept["values"], "version": lesson.version}
    text = json.dumps(table, sort_keys=True, separators=(",", ":"))
    assert kept["digest"] == hashlib.sha256(text.encode()).hexdigest()


def test_a_figure_that_was_changed_is_found_out() -> None:
    lesson = find_lesson("4")
    kept = variant_of(lesson, 2).stored()
    changed = {**kept, "values": {**kept["values"], "arm girth": kept["values"]["arm girth"] + 1}}
    with pytest.raises(Fault, match="digest"):
        variant_from(lesson, changed)
    for broken in (None, {}, {**kept, "values": {"nobody girth": 3}}, {**kept, "values": {"arm girth": "x"}}):
        with pytest.raises(Fault, match="stored variant"):
            variant_from(lesson, broken)


@given(st.recursive(st.none() | st.integers() | st.text(), lambda x: st.dictionaries(st.text(), x) | st.lists(x)))
def test_anything_else_is_refused(stored: object) -> None:
    with pytest.raises(Fault):
        variant_from(LESSONS["4"], stored)


def test_a_session_comes_back_to_the_variant_it_was_on() -> None:
    lesson = find_lesson("5")
    session = Session(lesson, Unit.CM, 9)
    session.answer("1.2 cm")
    kept = json.loads(json.dumps(session.dump()))
    again = Session.load(lesson, kept)
    assert again.dump() == session.dump()
    assert again.right_answer() == session.right_answer()
    # It goes by what was kept, and not by how such a number would be drawn now.
    other = variant_of(lesson, 8).stored()
    moved = Session.load(lesson, {**kept, "variant": {**other, "seed": 9}})
    assert moved.seed == 9
    assert moved.lesson.arm == variant_of(lesson, 8).lesson.arm


def test_texts_speak_of_the_variants_own_figures() -> None:
    session = Session(find_lesson("7"), Unit.CM, 3)
    answer = session.lesson.plans["out-and-down"].plan.back
    assert f"{answer.widen / 10:g} cm out and {answer.lower / 10:g} cm down" in session.ask
    session = Session(find_lesson("6"), Unit.CM, 3)
    session.go_to_task(2)
    lifted = measure(block_of(session.lesson))["bicep-girth"]
    assert f"by {(session.lesson.arm.with_ease - lifted) / 10:g} cm" in session.ask


# Fit to be set.


def test_variants_are_as_hard_as_the_lesson_and_tell(lesson: Lesson) -> None:
    for seed in range(2):
        variant = variant_of(lesson, seed)
        assert why_not(lesson, variant.lesson) is None
        easiest, hardest = lesson.vary.difficulty
        for number in range(1, len(lesson.tasks) + 1):
            own, found = difficulty(lesson, number), difficulty(variant.lesson, number)
            assert (own is None) == (found is None)
            assert own is None or found is None or easiest * own <= found <= hardest * own
            assert all(confusions(case_of(variant.lesson, number), unit) == () for unit in UNITS)


def test_a_block_that_meets_its_goals_is_no_variant() -> None:
    lesson = find_lesson("4")
    values = dict(variant_of(lesson, 0).values)
    wanted = values["arm girth"] + values["arm wearing-ease"]
    assert why_not(lesson, with_values(lesson, values)) is None
    assert "meets" in str(why_not(lesson, with_values(lesson, values | {"block bicep-girth": wanted - 1})))
    assert "too easy or too hard" in str(
        why_not(lesson, with_values(lesson, values | {"block bicep-girth": wanted - 70}))
    )
    assert "drafted" in str(why_not(lesson, with_values(lesson, values | {"block armhole-back": 620.0})))


def test_a_variant_that_hides_a_mistake_is_drawn_again() -> None:
    """So little to widen that half of it leaves the cap within the half centimetre that the task allows."""
    lesson = find_lesson("4")
    easy = structs.replace(lesson, vary=structs.replace(lesson.vary, difficulty=(0.0, 9.0)))
    values = dict(variant_of(lesson, 0).values)
    wanted = values["arm girth"] + values["arm wearing-ease"]
    little = with_values(easy, values | {"block bicep-girth": wanted - 12})
    assert why_not(easy, little, task=1) == "per-side and right can't be told apart in task 1"
    assert why_not(easy, with_values(easy, values), task=1) is None


def test_what_the_goals_let_pass_is_remarked_on() -> None:
    remarks = prove(find_lesson("7"), seeds=1).remarks
    assert any("tasks 2: the goals let these mistakes pass: notches-left" in remark for remark in remarks)
    assert prove(find_lesson("7")).remarks == ()


def test_a_lesson_without_fit_variants_says_so(tmp_path: Path) -> None:
    lesson = small_lesson(tmp_path, ("[plans.crossed]", "[vary]\ndifficulty = [3, 4]\n\n[plans.crossed]"))
    with pytest.raises(Fault, match="can't be drawn: in 400 draws mostly too easy or too hard"):
        Session(lesson, Unit.CM, 1)


def test_figures_written_for_a_measure_vary_together(tmp_path: Path) -> None:
    asked = ('"To {arm and ease}."', '"To {goal 1}, {half crossed for 1} a side."')
    lesson = small_lesson(
        tmp_path, asked, ("[plans.crossed]", "[vary]\ngoals = { bicep-girth = [0.98, 1.03] }\n\n[plans.crossed]")
    )
    girths = set()
    for seed in range(6):
        variant = drawn(lesson, seed)
        figure = variant.values["goal 1 1"]
        girths.add(figure)
        assert variant.values["crossed for 1"] == figure == round(figure)
        assert 0.98 * 350 - 0.5 <= figure <= 1.03 * 350 + 0.5
        session = Session(lesson, Unit.MM, variant=variant)
        assert session.ask == f"To {figure:g} mm, {figure / 2:g} mm a side."
        assert measure(alter(session.pattern, worked_plan(variant.lesson, 1, "crossed")).after)[
            "bicep-girth"
        ] == pytest.approx(figure, abs=1e-6)
        assert variant_from(lesson, variant.stored()).lesson.tasks == variant.lesson.tasks
    assert len(girths) > 3
    with pytest.raises(KeyError):
        with_values(lesson, {"goal 1 2": 3.0})
    with pytest.raises(KeyError):
        with_values(lesson, {"crossed for 2": 3.0})


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("room = [3, 2]", "vary, room: is no span; write [low, high]"),
        ("plans = { none = [1, 2] }", "is no plan of this lesson"),
        ("goals = { hem-girth = [1, 2] }", "vary, goals, hem-girth: no figure is written for this measure"),
        ("goals = { bicep-girth = [0, 1] }", "vary, goals, bicep-girth: is no span"),
        ("plans = { crossed = [0, 2] }", "is no span"),
        ('arms = "anyone"', "is not known; write one of women, men"),
        ("cap-easy = [1, 2]", "did you mean cap-ease?"),
        ("armhole = [1]", "has 1 items; write 2"),
    ],
)
def test_faults_of_what_is_to_vary(table: str, words: str, tmp_path: Path) -> None:
    with pytest.raises(Fault, match=re.escape(words)):
        small_lesson(tmp_path, ("[plans.crossed]", f"[vary]\n{table}\n\n[plans.crossed]"))


def test_lessons_hold_in_variants_and_say_what_can_not_be_told_apart(tmp_path: Path) -> None:
    assert prove(find_lesson("6"), seeds=2).faults == ()
    wrong = small_lesson(
        tmp_path,
        ("tolerance = 0.3\nweight = 2\nmust = true", "tolerance = 3\nweight = 2\nmust = true"),
        ('tolerance = "3 mm"', 'tolerance = "3 mm"\nmust = true'),
        ('solution = "crossed"', 'solution = "crossed"\nunnamed = ["no-such-slip"]'),
    )
    faults = [str(fault) for fault in prove(wrong).faults]
    assert any("no-such-slip" in fault and "is no usual mistake" in fault for fault in faults)


def test_the_lessons_tasks_are_told_apart_from_few_to_many_seeds() -> None:
    """A smaller run of tests/simulated_learners.py, in which every rate is held to what it must be."""
    each = [pair for lesson in LESSONS.values() for pair in zip(lesson.tasks, simulate(lesson, range(2)), strict=True)]
    tallies = [tally for _, tally in each]
    told = "\n".join(table(tallies))
    total = added(tallies)
    assert (total.failed, total.accused) == (0, 0), told
    for task, tally in each:
        # Of a choice there is one right answer to each variant.
        assert tally.right >= (2 if isinstance(task, ChoiceTask | DiagnoseTask) else 6), told
    assert sum(total.made.values()) > 300, told
    assert total.share_named >= NAMED, told
    assert sum(total.nonsense.values()) > 500, told
    assert total.share_guessed <= GUESSED, told
    # So few learners a task leave chance some room: three standard deviations of so rare a thing (Poisson).
    for tally in tallies:
        for misunderstood, of, share in (
            ((1 - tally.share_named) * sum(tally.made.values()), sum(tally.made.values()), 1 - NAMED),
            (tally.share_guessed * sum(tally.nonsense.values()), sum(tally.nonsense.values()), GUESSED),
        ):
            assert misunderstood <= share * of + 3 * math.sqrt(share * of), told


def test_the_simulation_knows_when_a_task_is_out_of_bounds() -> None:
    good = Tally("good", right=9, made=Counter(a=20), named=Counter(a=19), nonsense=Counter(b=20), guessed=Counter(b=1))
    assert out_of_bounds([good]) == []
    for worse in (
        {"failed": 1},
        {"accused": 1},
        {"named": Counter(a=18)},
        {"guessed": Counter(b=2)},
    ):
        assert out_of_bounds([good, replace(good, title="bad", **worse)]) == ["bad"]
    chance = replace(good, nonsense=Counter({"b": 20, BY_CHANCE: 5}), guessed=Counter({"b": 1, BY_CHANCE: 5}))
    assert (out_of_bounds([chance]), chance.share_of_all_guessed) == ([], 6 / 25)


def flowing(text: str) -> str:
    return " ".join(text.split())


# Own work is carried on.

LIFTED = Slash("grain", Landmark("grain-bicep"), Landmark("grain-hem"), False, True)


def lifted(mm: float) -> Plan:
    return Plan((LIFTED,), (Opening("grain", mm, 0.0),), set_back=True)


def gone_on(mm: float, unit: Unit = Unit.CM) -> Session:
    """Lesson 6 with the first task done so far, at the second, which asks what the cap seam has gained."""
    session = Session(find_lesson("6"), unit)
    session.adopt(lifted(mm))
    session.check()
    session.next_task()
    return session


def test_a_later_figure_is_judged_on_what_the_learner_really_had() -> None:
    """A sleeve opened by half is marked once: what its own cap seam gains is then the right answer."""
    session = gone_on(15)
    gained = alter(session.pattern, lifted(15)).measures_after["cap-seam"] - session.measures_before()["cap-seam"]
    assert not session.attempts(1)[0].passed
    assert "your own work in task 1" in session.ask
    assert "by 1.5 cm" in session.ask
    assert session.answer(f"{gained} mm").passed
    worked = Session(find_lesson("6"), Unit.CM)
    worked.go_to_task(2)
    assert not worked.answer(f"{gained} mm").passed


def test_work_that_passed_is_gone_on_from_before_work_that_did_not() -> None:
    session = gone_on(30)
    session.go_to_task(1)
    session.adopt(lifted(12))
    session.check()
    session.next_task()
    assert "by 3 cm" in session.ask


@pytest.mark.parametrize("mm", [3.0, -1.0])
def test_a_slip_that_would_leave_nothing_to_do_is_not_carried(mm: float) -> None:
    """So little opened that no gain at all would count as right: the worked sleeve is asked about instead."""
    session = gone_on(mm)
    assert "can't be taken further" in session.ask
    assert "by 3 cm" in session.ask


def test_what_paper_refuses_is_not_carried() -> None:
    session = Session(find_lesson("6"), Unit.CM)
    session.adopt(Plan((Slash("a", Landmark("grain-bicep"), Landmark("grain-hem")),), (), set_back=True))
    assert session.check().refusal is not None
    session.next_task()
    assert "can't be taken further" in session.ask


def test_nothing_is_said_of_own_work_before_there_is_any() -> None:
    session = Session(find_lesson("6"), Unit.CM)
    session.go_to_task(2)
    assert "own work" not in session.ask


def test_own_work_is_carried_in_variants_and_comes_back() -> None:
    session = Session(find_lesson("6"), Unit.CM, 2)
    session.adopt(lifted(18))
    session.check()
    session.next_task()
    session.answer("1 cm")
    again = Session.load(find_lesson("6"), json.loads(json.dumps(session.dump())))
    assert again.ask == session.ask
    assert again.check().total == session.check().total


HEM_AFTERWARDS = """
[plans.narrowed]
slash = [{ name = "g", from = "crown", to = "grain-hem", hinge = "from" }]
opening = [{ slash = "g", at = "to", for = { measure = "hem-girth", value = 22 } }]

[[tasks]]
kind = "plan"
title = "Then the hem"
ask = "Bring the hem to 22 cm."
start = "crossed"
goes-on-from = 1
solution = "narrowed"
hints = ["one", "two", "three"]

[[tasks.goals]]
kind = "reach"
measure = "hem-girth"
value = 22
tolerance = 0.2
must = true
"""


def test_a_plan_task_starts_from_the_learners_own_pattern(tmp_path: Path) -> None:
    lesson = read_lesson(written(tmp_path, SMALL + HEM_AFTERWARDS))
    session = Session(lesson, Unit.CM)
    session.adopt(lesson.plans["crossed"].plan.with_amounts(14))
    session.check()
    own = alter(session.pattern, session.draft).measures_after["bicep-girth"]
    session.go_to_task(3)
    assert "your own work in task 1" in session.ask
    assert session.measures_before()["bicep-girth"] == pytest.approx(own, abs=1e-9)
    solution = session.solution().plan
    assert solution is not None
    session.adopt(solution)
    assert session.check().total == 1


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("goes-on-from = 1", "goes-on-from = 3", "task 3 is no task before this one that alters the pattern"),
        ("goes-on-from = 1", "goes-on-from = 2", "task 2 is no task before this one that alters the pattern"),
        ("goes-on-from = 1", "goes-on-from = -1", "task -1 is no task before this one"),
    ],
)
def test_tasks_that_can_not_be_gone_on_from(old: str, new: str, words: str, tmp_path: Path) -> None:
    with pytest.raises(Fault, match=re.escape(words)):
        read_lesson(written(tmp_path, SMALL + HEM_AFTERWARDS.replace(old, new)))


SUMS = """
[[tasks]]
kind = "number"
title = "How wide"
ask = "How wide should it be?"
wanted = { measure = "bicep-girth", arm-and-ease = true }
tolerance = 0.3
hints = ["one", "two", "three"]

[[tasks]]
kind = "number"
title = "How much more"
ask = "How much is missing?"
wanted = { measure = "bicep-girth", arm-and-ease = true }
asks = "change"
goes-on-from = 3
tolerance = 0.2
hints = ["one", "two", "three"]

[plans.by-arm]
slash = [
  { name = "grain", from = "crown", to = "grain-hem", hinge = ["from", "to"] },
  { name = "bicep", from = "underarm-back", to = "underarm-front", hinge = ["from", "to"] },
]
opening = [{ slash = "grain", at = { crosses = "bicep", toward = "to" }, for = "bicep-girth" }]

[[tasks]]
kind = "plan"
title = "Then open it"
ask = "Open it to {arm and ease}."
goes-on-from = 3
solution = "by-arm"
hints = ["one", "two", "three"]

[[tasks.goals]]
kind = "reach"
measure = "bicep-girth"
arm-and-ease = true
tolerance = 0.3
must = true
"""


# An arm of 30 with 5 of ease, a block of 33: 35 in all, 2 more than there is. With 7 of ease: 37, and 4 more.
def summed(tmp_path: Path, *answers: str) -> Session:
    session = Session(read_lesson(written(tmp_path, SMALL + SUMS)), Unit.CM)
    session.go_to_task(3)
    for answer in answers:
        session.answer(answer)
    return session


def test_a_figure_that_is_off_is_marked_once_and_then_gone_on_from(tmp_path: Path) -> None:
    session = summed(tmp_path, "37 cm")
    assert session.standing(3) == "not passed"
    session.go_to_task(4)
    assert "goes on from your own figure in task 3" in session.ask
    assert session.right_answer() == "4.0 cm"
    assert session.answer("4 cm").total == 1
    assert not session.answer("2 cm").passed
    session.go_to_task(5)
    assert session.ask.startswith("Open it to 37 cm. This goes on from")
    solution = session.solution().plan
    assert solution is not None
    assert alter(session.pattern, solution).measures_after["bicep-girth"] == pytest.approx(370, abs=1e-6)
    session.adopt(solution)
    assert session.check().total == 1
    # What is told of the wearer stays as it is.
    assert session.brief == ("Odd's arm is 30 cm round.",)


@pytest.mark.parametrize("answers", [(), ("35 cm",), ("31 cm", "35.2 cm"), ("33 cm",), ("-3 cm",)])
def test_a_right_figure_or_a_hopeless_one_is_not_gone_on_from(answers: tuple[str, ...], tmp_path: Path) -> None:
    """Nor one that leaves nothing to do: 33 is how wide it is."""
    session = summed(tmp_path, *answers)
    session.go_to_task(5)
    assert ("can't be taken further" in session.ask) == (answers in (("33 cm",), ("-3 cm",)))
    assert session.ask.startswith("Open it to 35 cm.")
    session.go_to_task(4)
    if answers != ("-3 cm",):
        assert session.right_answer() == "2.0 cm"


def test_a_figure_gone_on_from_comes_back_in_the_other_unit(tmp_path: Path) -> None:
    session = summed(tmp_path, "37 cm")
    session.unit = Unit.INCH
    again = Session.load(session.lesson, json.loads(json.dumps(session.dump())))
    again.go_to_task(4)
    assert again.right_answer() == "1 9/16 in"


# Figures as they are typed.


@pytest.mark.parametrize(
    "text", ["1 1/2 in", "1-1/2 in", '1.5"', "1 1/2", "1½", "3.81 cm", "3,81 cm", "38.1mm", "38,1 mm", " 1.5 IN "]
)
def test_a_length_is_read_however_it_is_written(text: str) -> None:
    assert read_figure(text, "cap-height", Unit.INCH) == pytest.approx(38.1, abs=1e-9)


@pytest.mark.parametrize(("text", "figure"), [("3.5", 3.5), ("3,5 %", 3.5), ("3 1/2 per cent", 3.5), ("-2%", -2)])
def test_a_share_is_a_bare_number(text: str, figure: float) -> None:
    assert read_figure(text, "cap-ease-percent", Unit.CM) == figure


@pytest.mark.parametrize(
    ("text", "measure", "words"),
    [
        ("about 12", "cap-height", '"about 12" is not a length; write a length such as 1 1/2 in, 3.8 cm or 38 mm'),
        ("1,250", "cap-height", '"1,250" can mean two numbers; write 1.250 or 1250'),
        ("12 feet", "cap-height", "ends in no unit known here; use cm, mm or in"),
        ("", "cap-height", "is not a length"),
        ("1_0", "kink", '"1_0" is no number; write such as 3.5'),
        ("nan", "kink", "is no number"),
        ("inf", "cap-ease-percent", "is no number"),
        ("1,250", "kink", "can mean two numbers; write 1.250 or 1250"),
        ("3 cm", "kink", "is no number"),
    ],
)
def test_what_can_not_be_read_says_what_could(text: str, measure: str, words: str) -> None:
    with pytest.raises(Fault, match=re.escape(words)):
        read_figure(text, measure, Unit.CM)


def test_what_can_not_be_read_costs_nothing() -> None:
    session = Session(find_lesson("4"), Unit.CM)
    for text in ("", "twelve", "1,250", "12 ells"):
        with pytest.raises(Fault):
            session.answer(text)
    assert (session.attempts(), session.answered, session.standing()) == ((), None, "open")


# From the command line.


def test_lessons_are_checked_in_variants(capsys: pytest.CaptureFixture[str]) -> None:
    path = str(lessons_folder() / "07-armhole-answers.toml")
    assert main(["lessons", "check", path, "--seeds", "2"]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "right"
    assert main(["lessons", "check", path, "--seeds", "1", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["faults"] == []
    assert all("the goals let these mistakes pass" in remark for remark in found["alike"])


def test_a_name_that_is_no_mistake_is_a_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, SMALL.replace('of = "cap-height"', 'of = "cap-height"\nunnamed = ["hinge"]'))
    assert main(["lessons", "check", str(path)]) == 1
    out = capsys.readouterr().out
    assert 'small: tasks 2, unnamed: "hinge" is no usual mistake; there are armhole-forgotten, back-only, ' in out
    assert out.splitlines()[-1] == "0 of 1 right"


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["lessons", "check", "--seeds", "-1"], "--seeds: -1 is no number of variants; write 0 to 10000"),
        (["learn", "4", "--plain", "--seed=-1"], "--seed: -1 is no number of a variant; write 0 to 2147483647"),
        (["learn", "--seed", "1"], "--seed: numbers a variant of a lesson, and none is named"),
    ],
)
def test_numbers_that_no_variant_has(arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 2
    assert words in capsys.readouterr().err


def test_a_variant_is_talked_through(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    for _ in range(2):
        monkeypatch.setattr(sys, "stdin", io.StringIO("answer 12 cm\nquit\n"))
        assert main(["learn", "4", "--plain", "--seed", "7", "--units", "cm"]) == 1
        said = capsys.readouterr().out
        arm = drawn(find_lesson("4"), 7, variant_of(find_lesson("4"), 7).draw).values["arm girth"]
        assert f"Her arm is {arm / 10:g} cm round" in flowing(said)
    assert "You go on where you left off" in flowing(said)
