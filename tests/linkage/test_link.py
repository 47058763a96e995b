from __future__ import annotations

from datetime import date

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.linkage import Linkage, blocking
from evenhand.linkage.tables import DECIDED, EVIDENCE
from evenhand.linkage.words import parts_of
from evenhand.terms.sources import ENROLMENTS
from evenhand.terms.tables import RECORDED
from tests.linkage.scene import (
    DAY,
    HOUR,
    MONDAY,
    PEOPLE_ROWS,
    attributed,
    chances,
    everybody_else,
    linked,
    shifts,
    stray,
)

WEEK = range(5)
BUSY = everybody_else(WEEK)
PLANNED = {
    "A": (WEEK, 6),
    "B": (WEEK, 6),
    "C": (WEEK, 14),
    **{f"X{at}": (WEEK, 6 if at % 2 else 14) for at in range(20)},
}


def test_swapped_digits_at_the_hours_somebody_is_missing_are_theirs() -> None:
    found = chances(
        linked(stray("4281", shifts(WEEK)), BUSY + attributed("B", shifts(WEEK)), planned=PLANNED), "GATE/4281"
    )
    assert max(found, key=found.__getitem__) == "A"
    assert found["A"] > 0.95


def test_the_same_digits_at_another_persons_hours_are_the_other_persons() -> None:
    # 4281 is both Ana's number swapped and the end of Cy's telephone; the hours decide
    strays = stray("4281", shifts(WEEK, 14))
    linkage = linked(strays, BUSY + attributed("A", shifts(WEEK)), planned=PLANNED)
    assert linkage.candidates.filter("is_best")["person"].to_list() == ["C"]
    found = chances(linkage, "GATE/4281")
    assert max(found, key=found.__getitem__) == "C"


def test_the_likeliest_error_is_named_for_every_candidate() -> None:
    # 4281 is Ana's number swapped, the end of Cy's telephone and nothing of Ben's
    linkage = linked(stray("4281", shifts(WEEK)) + stray("7306", shifts(WEEK)), BUSY, planned=PLANNED)
    named = linkage.candidates.filter(pl.col("kind").is_not_null()).select("stray", "person", "kind", "meant")
    assert sorted(named.rows()) == [
        ("GATE/4281", "A", "adjacent", "4821"),
        ("GATE/4281", "C", "phone", "4281"),
        ("GATE/7306", "B", "adjacent", "7360"),
    ]
    assert linkage.candidates.filter(pl.col("stray") == "GATE/4281", pl.col("person") == "B")["kind"].to_list() == [
        None
    ]


def test_nobody_is_likeliest_for_a_number_and_hours_that_fit_nobody() -> None:
    everybody = BUSY + attributed("A", shifts(WEEK)) + attributed("B", shifts(WEEK)) + attributed("C", shifts(WEEK, 14))
    linkage = linked(stray("5599", shifts(WEEK, 23)), everybody, planned=PLANNED)
    assert not linkage.candidates["is_best"].any()
    found = chances(linkage, "GATE/5599")
    assert max(found, key=found.__getitem__) == "nobody"


def test_a_leaver_is_never_given_punches_made_after_leaving() -> None:
    # Lea held 6202 and left on 27 February; the punches begin on 2 March
    linkage = linked(stray("6202", shifts(WEEK)), BUSY, planned=PLANNED)
    assert "L" not in linkage.candidates["person"].to_list()
    found = chances(linkage, "GATE/6202")
    assert max(found, key=found.__getitem__) == "nobody"


def test_a_leaver_keeps_only_punches_up_to_the_last_day() -> None:
    people = [{**row, "left_on": date(2026, 3, 3)} if row["person"] == "A" else row for row in PEOPLE_ROWS]
    linkage = linked(stray("4281", shifts(WEEK)), BUSY, planned=PLANNED, people=people)
    cannot = linkage.impossible.filter(pl.col("person") == "A")["punch"].sort().to_list()
    # four punches a day: Monday and Tuesday can be Ana's, the rest cannot
    assert cannot == list(range(8, 20))


def test_nobody_is_at_two_sites_at_once() -> None:
    # Ana punches at the quarry in the very minutes of the stray
    there = attributed("A", shifts(WEEK), reader="FAR")
    linkage = linked(stray("4281", shifts(WEEK)), BUSY + there, planned=PLANNED)
    assert chances(linkage, "GATE/4281").get("A", 0.0) < 0.01
    assert linkage.candidates.filter(pl.col("person") == "A")["impossible"].to_list() == [20]


def test_two_numbers_at_one_reader_are_two_peoples() -> None:
    # both lie one slip from Ana's 4821; Cy, whose telephone ends in 4281, works the same hours here
    planned = {**PLANNED, "C": (WEEK, 6)}
    linkage = linked(stray("4281", shifts(WEEK)) + stray("4812", shifts(WEEK)), BUSY, planned=planned)
    first, second = chances(linkage, "GATE/4281"), chances(linkage, "GATE/4812")
    assert first["A"] + second["A"] <= 1 + 1e-9
    assert (max(first, key=first.__getitem__), max(second, key=second.__getitem__)) == ("C", "A")
    best = linkage.candidates.filter("is_best").select("stray", "person").rows()
    assert sorted(best) == [("GATE/4281", "C"), ("GATE/4812", "A")]


def test_one_number_at_two_readers_is_one_persons() -> None:
    alone = chances(linked(stray("4281", shifts(range(1))), BUSY, planned=PLANNED), "GATE/4281")["A"]
    strays = stray("4281", shifts(range(1))) + stray("4281", shifts(range(1, 5)), "DOCK")
    both = linked(strays, BUSY, planned=PLANNED)
    assert chances(both, "DOCK/4281")["A"] > 0.9
    assert chances(both, "GATE/4281")["A"] > alone


def test_the_name_beside_the_number_on_the_reader_tells() -> None:
    lists = ENROLMENTS.rows([{"reader": "GATE", "number": "1188", "name": "Oor, Ben"}])
    linkage = linked(
        stray("1188", shifts(WEEK)), BUSY + attributed("A", shifts(WEEK)), planned=PLANNED, enrolments=lists
    )
    assert chances(linkage, "GATE/1188")["B"] > 0.9


def test_a_refused_try_under_ones_own_number_just_before_counts() -> None:
    tries = RECORDED.rows(
        [
            {"punch": 500 + at, "reader": "GATE", "number": "7360", "at": instant - 20, "outcome": "refused"}
            for at, (instant, _) in enumerate(shifts(range(1)))
        ]
    )
    strays = stray("1188", shifts(range(1)))
    without = chances(linked(strays, BUSY, planned=PLANNED), "GATE/1188").get("B", 0.0)
    assert chances(linked(strays, BUSY, planned=PLANNED, refused=tries), "GATE/1188")["B"] > without


def said(person: str) -> pl.DataFrame:
    return DECIDED.rows([{"reader": "GATE", "number": "4281", "person": person}])


def test_what_somebody_rejected_is_not_proposed_and_what_was_confirmed_is() -> None:
    strays = stray("4281", shifts(WEEK))
    rejected = linked(strays, BUSY, planned=PLANNED, rejected=said("A"))
    assert "A" not in rejected.candidates["person"].to_list()
    confirmed = linked(strays, BUSY, planned=PLANNED, confirmed=said("B"))
    found = chances(confirmed, "GATE/4281")
    assert max(found, key=found.__getitem__) == "B"


def test_punches_under_an_attributed_number_that_fit_somebody_else_are_found() -> None:
    # Dee works at the quarry; somebody punches 9914 at the mill meanwhile; Ben, 9941, is missing
    people = [{**row, "number": "9941"} if row["person"] == "B" else row for row in PEOPLE_ROWS]
    strays = [{**row, "holder": "D"} for row in stray("9914", shifts(WEEK))]
    planned = {**PLANNED, "D": (WEEK, 6)}
    linkage = linked(
        strays,
        BUSY + attributed("A", shifts(WEEK)) + attributed("D", shifts(WEEK), "FAR"),
        planned=planned,
        people=people,
    )
    found = chances(linkage, "GATE/9914")
    assert found["D"] < 0.01
    assert max(found, key=found.__getitem__) == "B"


def test_a_day_at_another_site_stays_with_whoever_holds_the_number() -> None:
    strays = [{**row, "holder": "D"} for row in stray("9914", shifts(range(2)))]
    planned = {**PLANNED, "D": (WEEK, 6)}
    held = (
        BUSY
        + attributed("D", shifts(range(2, 5)), "FAR")
        + attributed("A", shifts(WEEK))
        + attributed("B", shifts(WEEK))
    )
    found = chances(linked(strays, held, planned=planned), "GATE/9914")
    assert found["D"] > 0.95


def swapped(*, names: bool) -> Linkage:
    """Ana's hand under Ben's number at the gate, and his under hers, as their holders' punches stand."""
    both = [{**row, "holder": "B"} for row in stray("7360", shifts(WEEK))]
    both += [{**row, "holder": "A"} for row in stray("4821", shifts(WEEK, 14))]
    given_now = [row | {"punch": at} for at, row in enumerate(attributed("B", shifts(WEEK)))]
    given_now += [row | {"punch": 20 + at} for at, row in enumerate(attributed("A", shifts(WEEK, 14)))]
    listed = [{"reader": "GATE", "number": "7360", "name": "Ana Vell"}]
    listed += [{"reader": "GATE", "number": "4821", "name": "Ben Oor"}]
    planned = PLANNED | {"A": (WEEK, 6), "B": (WEEK, 14)}
    return linked(both, BUSY + given_now, planned=planned, enrolments=ENROLMENTS.rows(listed if names else []))


def test_numbers_exchanged_at_a_reader_are_each_the_other_persons() -> None:
    found = swapped(names=True)
    assert chances(found, "GATE/7360")["A"] > 0.95
    assert chances(found, "GATE/4821")["B"] > 0.95
    # punches that are asked about do not make those who hold the numbers silent
    assert found.candidates.filter(pl.col("person").is_in(["A", "B"]))["days_n"].to_list() == [0] * 4


def test_whoever_was_not_looked_at_counts_beside_nobody(monkeypatch: pytest.MonkeyPatch) -> None:
    everybody = chances(linked(stray("5999", shifts(range(1), 20)), BUSY), "GATE/5999")["nobody"]
    monkeypatch.setattr(blocking, "MOST_PAIRS", 0)
    found = linked(stray("5999", shifts(range(1), 20)), BUSY)
    assert found.strays["others"][0] > 0.02
    assert found.strays["nobody"][0] < 0.99
    assert found.strays["nobody"][0] == pytest.approx(everybody, abs=0.2)
    assert found.candidates.height < 5


def test_no_strays_and_no_people_are_no_trouble() -> None:
    assert linked([], BUSY).strays.height == 0
    alone = linked(stray("1234", shifts(WEEK)), [], people=[])
    assert alone.strays["nobody"].to_list() == [1.0]


@settings(max_examples=12, deadline=None)
@given(
    st.lists(
        st.sampled_from(["4281", "4812", "482", "04821", "7306", "6202", "1188", "3507"]),
        min_size=1,
        max_size=6,
        unique=True,
    ),
    st.integers(0, 999),
)
def test_probabilities_sum_to_one_parts_sum_to_bits_and_each_part_speaks(numbers: list[str], seed: int) -> None:
    rng = np.random.default_rng(seed)
    strays = [
        row
        for number in numbers
        for row in stray(
            number, shifts(range(int(rng.integers(1, 5))), int(rng.integers(0, 20))), str(rng.choice(["GATE", "DOCK"]))
        )
    ]
    linkage = linked(strays, BUSY, planned=PLANNED)
    given_ = linkage.candidates.group_by("stray").agg(pl.col("probability").sum())
    sums = linkage.strays.join(given_, on="stray", how="left").with_columns(pl.col("probability").fill_null(0.0))
    assert (sums["nobody"] + sums["others"] + sums["probability"]).to_list() == pytest.approx([1.0] * sums.height)
    for row in linkage.candidates.iter_rows(named=True):
        assert sum(row[part] for part in EVIDENCE) == pytest.approx(row["bits"])
        parts = parts_of(row)
        assert sum(part.bits for part in parts) == pytest.approx(row["bits"])
        assert parts and all(part.says for part in parts)
        assert row["person"] != "L"


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 999))
def test_the_order_of_rows_does_not_matter(seed: int) -> None:
    rows = stray("4281", shifts(WEEK)) + stray("7306", shifts(WEEK), "DOCK")
    order = np.random.default_rng(seed).permutation(len(rows)).tolist()
    straight, mixed = linked(rows, BUSY, planned=PLANNED), linked([rows[at] for at in order], BUSY, planned=PLANNED)
    assert straight.candidates.drop("bits").equals(mixed.candidates.drop("bits"))


def test_one_weeks_strays_stand_for_a_weeks_minutes() -> None:
    # five days of eight hours less the meal of half an hour, which is punched
    linkage = linked(stray("4281", shifts(WEEK)), BUSY)
    assert linkage.strays.select("punches", "shifts", "minutes").rows() == [(20, 5, 5 * 450)]
    assert linkage.strays["first_at"][0] == MONDAY + 6 * HOUR - 240
    assert linkage.strays["last_at"][0] == MONDAY + 4 * DAY + 14 * HOUR - 240
