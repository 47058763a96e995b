"""Corrections taken back, put back and changed: what stands decides, and every row stays."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import polars as pl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evenhand import reconcile
from evenhand.jobs import correct as corrections
from evenhand.jobs.correct import CorrectionRequest, whom_it_is_about
from evenhand.jobs.history import day_history
from evenhand.jobs.reckoning import Reckoning, reckon_day, reckon_period
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.tables import CORRECTIONS
from tests.jobs.asked import civil_instant, correct, hand_off, person_week
from tests.jobs.test_correct import punch_at
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 15, tzinfo=UTC)
H = 3600
SAID = {"author": "Ada", "reason": "as they say"}
FORGOT = CorrectionRequest("add", "P3", **SAID, at=datetime(2026, 11, 4, 21, tzinfo=UTC), direction="out")
FRAMES = ("classed", "weeks", "questions", "premiums", "differentials")


@pytest.fixture
def mill(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Reckoning]:
    opened = made(tmp_path_factory.mktemp("mill"))
    yield reckon_period(opened, NOW)
    opened.close()


def back(number: int, person: str = "P3", **other: Any) -> CorrectionRequest:
    return CorrectionRequest("withdraw", person, **(SAID | other), correction=number)


def paid(workspace: Workspace, person: str, day: date = date(2026, 11, 4)) -> int:
    return sum(person_week(workspace, person, day).totals[f"{kind}_s"] for kind in ("ordinary", "overtime", "double"))


# ---- which stand


def rows(*withdraws: int | None) -> Any:
    """Corrections 1, 2 and so on: each takes the one named back, or where None adds a punch."""
    said = {"author": "a", "reason": "r", "made_at": 1, "person": "P3"}
    return CORRECTIONS.rows(
        {**said, "correction": at, "action": "withdraw" if of else "add", "withdraws": of, "at": None if of else at}
        for at, of in enumerate(withdraws, start=1)
    )


@pytest.mark.parametrize(
    ("withdraws", "standing"),
    [
        ((), []),
        ((None, None), [1, 2]),
        ((None, None, 1), [2]),
        ((None, None, 1, 3), [1, 2]),  # the undo undone
        ((None, 1, 2, 3), []),  # and that undone too
        ((None, 1, 2, None, 3, 4), []),
        ((None, 1, 2, 3, 4), [1]),
    ],
)
def test_what_nothing_that_stands_takes_back_stands(withdraws: tuple[int | None, ...], standing: list[int]) -> None:
    assert reconcile.standing(rows(*withdraws))["correction"].to_list() == standing


# ---- any sequence


ACTS = st.lists(
    st.tuples(
        st.sampled_from(["add", "leave_out", "direct", "attribute", "withdraw", "withdraw"]),
        st.integers(0, 10_000),
        st.integers(0, 50),
    ),
    min_size=1,
    max_size=12,
)


def sequence(reckoning: Reckoning, acts: list[tuple[str, int, int]]) -> list[dict[str, Any]]:
    """Corrections as the store would number them: of recorded and of added punches, and of earlier corrections."""
    recorded, people = reckoning.snapshot.recorded["punch"].to_list(), reckoning.snapshot.people["person"].to_list()
    found: list[dict[str, Any]] = []
    for action, which, whose in acts:
        number, added = len(found) + 1, [-one["correction"] for one in found if one["action"] == "add"]
        row = {"correction": number, "action": action, "person": people[whose % len(people)], "made_at": 1, **SAID}
        punch = [*recorded, *(added * 5)][which % (len(recorded) + 5 * len(added))]
        if action == "add":
            row |= {"at": int(datetime(2026, 11, 3, 6, tzinfo=UTC).timestamp()) + which * 9, "direction": "in"}
            row["direction"] = ("in", "out", None)[whose % 3]
        elif action == "withdraw":
            taken = set(reconcile.withdrawn_by(CORRECTIONS.rows(found)))
            there = [one for one in found if one["correction"] not in taken]
            if not there:
                continue
            of = there[which % len(there)]
            root = next(
                one
                for one in found
                if one["correction"] == reconcile.roots(CORRECTIONS.rows(found), [of["correction"]])[of["correction"]]
            )
            about = -root["correction"] if root["action"] == "add" else root["punch"]
            row |= {"withdraws": of["correction"], "punch": about, "person": root["person"]}
        elif action == "attribute":
            row |= {"punch": recorded[which % len(recorded)], "person": row["person"] if whose % 4 else ""}
        else:
            row |= {"punch": punch} | ({"direction": ("in", "out")[whose % 2]} if action == "direct" else {})
        found.append(row)
    return found


def made_anew(found: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Only those that stand, by a rule as plain as it is written: each in turn, the last first, takes its one back."""
    back: set[int] = set()
    for one in reversed(found):
        if one["action"] == "withdraw" and one["correction"] not in back:
            back.add(one["withdraws"])
    standing = [one for one in found if one["correction"] not in back and one["action"] != "withdraw"]
    numbers = {-one["correction"]: -at for at, one in enumerate(standing, start=1) if one["action"] == "add"}
    gone = {-one["correction"] for one in found if one["action"] == "add"} - numbers.keys()
    renumbered = []
    for at, one in enumerate(standing, start=1):
        punch = one.get("punch")
        # what was said of an added punch that is gone is said of no punch
        renumbered.append(one | {"correction": at, "punch": -9999 if punch in gone else numbers.get(punch, punch)})
    return renumbered


@given(ACTS, st.integers(0, 12))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_sequence_gives_the_hours_of_only_what_stands(
    seen: Reckoning, acts: list[tuple[str, int, int]], looked: int
) -> None:
    found = sequence(seen, acts)
    of = seen.snapshot
    # worked out once in between, so that what follows starts from there
    halfway = seen.following(replace(of, corrections=CORRECTIONS.rows(found[:looked])), NOW)
    _ = halfway.hours
    after = halfway.following(replace(of, corrections=CORRECTIONS.rows(found)), NOW)
    anew = Reckoning(replace(of, corrections=CORRECTIONS.rows(made_anew(found))), NOW)
    for name in FRAMES:
        one, other = (getattr(each.hours, name) for each in (after, anew))
        kept = [column for column in one.columns if column not in ("shift", "punch", "punch_in", "punch_out")]
        assert one.select(kept).sort(kept).equals(other.select(kept).sort(kept)), name
    one, other = (each.attribution.attributed.drop("punch") for each in (after, anew))
    assert one.sort(one.columns).equals(other.sort(one.columns))


# ---- taken back, put back, changed


def test_an_added_punch_is_taken_back_put_back_and_taken_back_again(mill: Workspace) -> None:
    before = paid(mill, "P3")
    number, foreseen = correct(mill, FORGOT, as_of=NOW)
    assert paid(mill, "P3") == before + 8 * H
    gone, seen = correct(mill, back(number), as_of=NOW)
    assert paid(mill, "P3") == before
    assert (seen.ordinary_before_s, seen.ordinary_after_s) == (foreseen.ordinary_after_s, foreseen.ordinary_before_s)
    assert (seen.questions_before, seen.questions_after) == (0, 1)
    there_again, _ = correct(mill, back(gone), as_of=NOW)
    assert paid(mill, "P3") == before + 8 * H
    correct(mill, back(there_again), as_of=NOW)
    assert paid(mill, "P3") == before
    with mill.store.reading() as conn:
        made = frames.corrections(conn)
    assert made["withdraws"].to_list() == [None, number, gone, there_again]
    assert made["punch"].to_list() == [None, -number, -number, -number]


def test_what_was_left_out_is_put_back(mill: Workspace) -> None:
    punch, before = punch_at(mill, "2026-11-02T17:00"), paid(mill, "P1")
    number, _ = correct(mill, CorrectionRequest("leave_out", "P1", **SAID, punch=punch), as_of=NOW)
    assert paid(mill, "P1") < before
    correct(mill, back(number, "P1"), as_of=NOW)
    assert paid(mill, "P1") == before


def test_a_direction_that_was_taken_back_leaves_the_one_said_before(mill: Workspace) -> None:
    punch = punch_at(mill, "2026-11-03T16:00")
    way = CorrectionRequest("direct", "P3", **SAID, punch=punch, direction="in")
    first, _ = correct(mill, way, as_of=NOW)
    second, _ = correct(mill, replace(way, direction="out"), as_of=NOW)

    def ways() -> dict[int, str]:
        return dict(reckon_period(mill, NOW).attribution.attributed.select("punch", "direction").iter_rows())

    assert ways()[punch] == "out"
    correct(mill, back(second), as_of=NOW)
    assert ways()[punch] == "in"
    changed, _ = correct(mill, CorrectionRequest("change", "P3", **SAID, correction=first, direction="out"), as_of=NOW)
    assert ways()[punch] == "out"
    with mill.store.reading() as conn:
        assert frames.corrections(conn)["action"].to_list() == ["direct", "direct", "withdraw", "withdraw", "direct"]
    assert changed == 5


def test_an_added_punch_is_changed_to_another_time_in_one_step(mill: Workspace) -> None:
    before = paid(mill, "P3")
    number, _ = correct(mill, FORGOT, as_of=NOW)
    later = CorrectionRequest(
        "change", "P3", **SAID, correction=number, at=FORGOT.at and FORGOT.at + timedelta(hours=1)
    )
    changed, seen = correct(mill, later, as_of=NOW)
    assert paid(mill, "P3") == before + 9 * H
    assert seen.ordinary_after_s - seen.ordinary_before_s == H
    # a correction of what it was changed to
    correct(mill, CorrectionRequest("leave_out", "P3", **SAID, punch=-changed), as_of=NOW)
    assert paid(mill, "P3") == before
    for again in (back(number), replace(later, at=NOW - timedelta(days=3))):
        with pytest.raises(Refusal, match=f"^correction {number} is taken back already, by correction {number + 1};"):
            correct(mill, again, as_of=NOW)


def test_a_changed_punch_comes_back_only_once_the_one_in_its_place_is_gone(mill: Workspace) -> None:
    before = paid(mill, "P3")
    number, _ = correct(mill, FORGOT, as_of=NOW)
    as_added = paid(mill, "P3")
    assert FORGOT.at is not None
    later = CorrectionRequest("change", "P3", **SAID, correction=number, at=FORGOT.at + timedelta(hours=1))
    changed, _ = correct(mill, later, as_of=NOW)
    again, _ = correct(mill, replace(later, correction=changed, at=FORGOT.at + timedelta(hours=2)), as_of=NOW)
    as_changed = paid(mill, "P3")
    # Of a change, what takes the punch back is not taken back by itself, whichever of several changes it was.
    for taking in (changed - 1, again - 1):
        with pytest.raises(Refusal, match=f"^correction {taking} was made with [0-9]+, .* Take {again} back first"):
            correct(mill, back(taking), as_of=NOW)
    assert paid(mill, "P3") == as_changed
    correct(mill, back(again), as_of=NOW)
    assert paid(mill, "P3") == before
    correct(mill, back(changed - 1), as_of=NOW)
    assert paid(mill, "P3") == as_added
    with mill.store.reading() as conn:
        assert reconcile.standing(frames.corrections(conn))["correction"].to_list() == [number]


def given_to(mill: Workspace, punch: int, person: str) -> int:
    said = {"made_at": int(NOW.timestamp()), "at": None, "direction": None, **SAID}
    with mill.store.writing() as conn:
        return decisions.add_corrections(conn, [{"action": "attribute", "person": person, "punch": punch, **said}])[0]


def test_an_attribution_is_taken_back_or_changed_by_whoever_looks_at_the_day(mill: Workspace) -> None:
    # GATE's punches of P3 on Tuesday, given to P2 by mistake
    theirs = reckon_period(mill, NOW).snapshot.recorded.filter(pl.col("number") == "2290")
    mine = theirs.sort("at")["punch"].to_list()
    first, second = (given_to(mill, punch, "P2") for punch in mine[:2])
    lost = paid(mill, "P3")
    reckoning = reckon_period(mill, NOW)
    assert whom_it_is_about(reckoning, first) == "P2"
    # also from the day of the one who lost them
    foreseen = corrections.preview_correction(reckoning, back(first, "P3"), as_of=NOW)
    assert {one.person for one in foreseen.changes} == {"P2", "P3"}
    correct(mill, back(first, "P3"), as_of=NOW)
    with pytest.raises(Refusal, match=f"^correction {second} is not about P1"):
        correct(mill, back(second, "P1"), as_of=NOW)
    correct(mill, back(second, "P2"), as_of=NOW)
    assert paid(mill, "P3") == lost + 8 * H
    third = given_to(mill, mine[0], "P2")
    to_ida = CorrectionRequest("change", "P2", **SAID, correction=third, to="Ida Marlow")
    correct(mill, to_ida, as_of=NOW)
    now = reckon_period(mill, NOW)
    assert dict(now.attribution.attributed.select("punch", "person").iter_rows())[mine[0]] == "P1"
    assert now.snapshot.corrections["holder"].to_list()[-1] == "P3"


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (back(7), "there is no correction 7; `evenhand hours why` lists those of a day."),
        (replace(back(1), correction=None), "say which correction is meant;"),
        (back(1, "P2"), "correction 1 is not about P2;"),
        (back(1, reason=" "), "a correction is made by somebody and for a reason; give both."),
        (CorrectionRequest("change", "P3", **SAID, correction=1), "of an added punch the time or the direction"),
        (
            CorrectionRequest("change", "P3", **SAID, correction=1, to="P2"),
            "of an added punch the time or the direction",
        ),
        (replace(FORGOT, action="change", correction=1), "correction 1 says this already"),
    ],
)
def test_what_cannot_be_taken_back_or_changed_is_refused(
    mill: Workspace, asked: CorrectionRequest, sentence: str
) -> None:
    correct(mill, FORGOT, as_of=NOW)
    with pytest.raises(Refusal) as refused:
        correct(mill, asked, as_of=NOW)
    assert str(refused.value).startswith(sentence)
    with mill.store.reading() as conn:
        assert frames.corrections(conn).height == 1
    if asked.correction == 7:
        with pytest.raises(Unknown):
            whom_it_is_about(reckon_period(mill, NOW), 7)


def test_a_correction_that_there_is_not_is_looked_for_without_a_warning(mill: Workspace) -> None:
    correct(mill, FORGOT, as_of=NOW)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        around = corrections.reckon_around(mill, correction=999, as_of=NOW)
    with pytest.raises(Unknown, match=r"^there is no correction 999;"):
        whom_it_is_about(around, 999)


def test_of_two_who_take_the_same_correction_back_the_second_is_told(mill: Workspace) -> None:
    number, _ = correct(mill, FORGOT, as_of=NOW)
    both = reckon_period(mill, NOW)
    corrections.correct(mill, both, back(number, author="Zoe"), as_of=NOW)
    with pytest.raises(Refusal, match="is taken back already, by correction 2"):
        corrections.correct(mill, both, back(number), as_of=NOW)
    # and whoever corrects that day from a page of before
    with pytest.raises(Refusal, match="Zoe has corrected P3's 4 November meanwhile"):
        corrections.correct(mill, both, replace(FORGOT, direction="in"), as_of=NOW)


def test_a_day_tells_who_decided_what_and_what_stands(mill: Workspace) -> None:
    number, _ = correct(mill, FORGOT, as_of=NOW)
    gone, _ = correct(mill, back(number, author="Zoe", reason="was ill"), as_of=NOW + timedelta(hours=1))
    reckoning = reckon_day(mill, NOW, date(2026, 11, 4))
    told = day_history(reckoning, reckoning.person_day("P3", date(2026, 11, 4)))
    assert [(one.correction, one.author, one.reason, one.stands, one.withdrawn_by, one.withdraws) for one in told] == [
        (number, "Ada", "as they say", False, gone, None),
        (gone, "Zoe", "was ill", True, None, number),
    ]
    assert {one.at for one in told} == {int(civil_instant(mill, "P3", "2026-11-04T16:00").timestamp())}
    assert day_history(reckoning, reckoning.person_day("P3", date(2026, 11, 3))) == []


def test_after_a_withdrawal_everything_is_as_if_worked_out_from_nothing(mill: Workspace) -> None:
    number, _ = correct(mill, FORGOT, as_of=NOW)
    before = reckon_period(mill, NOW)
    find_today(before)
    done = corrections.correct(mill, before, back(number), as_of=NOW)
    fresh = reckon_period(mill, NOW)
    assert find_today(done.after).findings == find_today(fresh).findings


# ---- what does not fit


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (replace(FORGOT, at=datetime(2026, 11, 5, 13, tzinfo=UTC)), "an out without an in before it"),
        (replace(FORGOT, at=datetime(2026, 11, 5, 13, tzinfo=UTC), direction="in"), "an in without an out after it"),
        (replace(FORGOT, at=datetime(2026, 11, 4, 13, 0, 20, tzinfo=UTC), direction="in"), "A second punch at"),
        (replace(FORGOT, at=datetime(2026, 11, 5, 4, tzinfo=UTC)), "longer than the longest span of 14 h"),
        (replace(FORGOT, at=datetime(2019, 12, 31, 15, tzinfo=UTC)), "lies before Lena Fisk's first day of work"),
    ],
)
def test_a_preview_says_what_does_not_fit(mill: Workspace, asked: CorrectionRequest, says: str) -> None:
    at = asked.at.isoformat() if asked.at else None
    around = corrections.reckon_around(mill, at=at, as_of=NOW)
    warnings = corrections.preview_correction(around, asked, as_of=NOW).warnings
    assert any(says in one for one in warnings), warnings


def test_what_fits_warns_of_nothing(seen: Reckoning) -> None:
    assert corrections.preview_correction(seen, FORGOT, as_of=NOW).warnings == ()


# ---- time and pay of one span, closed periods apart


def test_time_and_pay_are_of_the_same_weeks_and_handed_off_periods_stand_apart(mill: Workspace) -> None:
    hand_off(mill, as_of=NOW, despite=True)
    foreseen = corrections.preview_correction(reckon_period(mill, NOW), FORGOT, as_of=NOW)
    (one,) = foreseen.changes
    assert (one.first, one.last, one.file) == (
        date(2026, 11, 1),
        date(2026, 11, 7),
        "hours-2026-11-01-to-2026-11-07.csv",
    )
    assert one.first_week == one.last_week == date(2026, 11, 1)
    # Tuesday's eight hours, then Wednesday's too, at 17.00
    assert (one.before.ordinary_s, one.after.ordinary_s) == (8 * H, 16 * H)
    assert (str(one.before.pay), str(one.after.pay)) == ("136.00", "272.00")
    assert (str(one.after.straight_pay), str(one.after.overtime_premium)) == ("272.00", "0.00")
    # last week is another period, which payroll does not have
    earlier = replace(FORGOT, person="P2", at=datetime(2026, 10, 31, 20, tzinfo=UTC), direction="in")
    periods = corrections.preview_correction(reckon_period(mill, NOW), earlier, as_of=NOW).changes
    assert next((one.first, one.file is None) for one in periods) == (date(2026, 10, 25), True)
