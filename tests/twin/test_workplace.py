import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES
from evenhand.twin import Workplace, workplace
from evenhand.twin.truth import CLOCKS, MISTAKES, NUMBERS, OWNERS, SPANS

from .planted import attributed, planted

SEEDS = st.integers(0, 10_000)
REPORTED = ("readers", "people", "enrolments", "punches", "schedules", "consent")


def test_the_default_is_as_large_as_promised(place: Workplace) -> None:
    assert place.people.height == 300
    assert place.readers.height == 8
    assert len(place.zones) == 3
    assert set(place.zones.values()) == {"America/New_York", "America/Chicago"}
    assert place.days == 42


def test_every_frame_has_its_declared_columns(place: Workplace) -> None:
    for name in REPORTED:
        SOURCES[name].check(getattr(place, name))
    truth = place.truth
    tables = {"numbers": NUMBERS, "owners": OWNERS, "spans": SPANS, "mistakes": MISTAKES, "clocks": CLOCKS}
    for name, table in tables.items():
        table.check(getattr(truth, name))


@pytest.mark.parametrize("name", REPORTED)
def test_keys_are_unique(place: Workplace, name: str) -> None:
    assert not getattr(place, name).select(SOURCES[name].key).is_duplicated().any()


def test_a_seed_makes_one_workplace_and_another_seed_another(place: Workplace) -> None:
    again, other = workplace(7), workplace(8)
    for name in REPORTED:
        assert getattr(again, name).equals(getattr(place, name))
    assert again.truth.mistakes.equals(place.truth.mistakes)
    assert not other.punches.equals(place.punches)
    assert not other.people.equals(place.people)


@pytest.mark.parametrize("sizes", [{"people": 99}, {"readers": 7}, {"weeks": 1}])
def test_a_workplace_too_small_for_its_mistakes_is_refused(sizes: dict[str, int]) -> None:
    with pytest.raises(Refusal, match="at least"):
        workplace(1, **sizes)  # type: ignore[arg-type]


@settings(max_examples=8, deadline=None)
@given(SEEDS)
def test_every_punch_is_under_its_owners_number_or_a_planted_one(seed: int) -> None:
    place = workplace(seed, people=120, weeks=2)
    assert place.truth.owners["row"].to_list() == list(range(place.punches.height))
    right = dict(place.truth.numbers.select("person", "number").rows())
    wrong = {
        (person, reader): number
        for person, reader, number in planted(place, "wrong_number").select("person", "reader", "number").rows()
    }
    rows = attributed(place).filter(pl.col("planted").ne_missing("other_number"))
    for person, reader, number in rows.select("person", "reader", "number").unique().rows():
        assert number == wrong.get((person, reader), right[person])


@settings(max_examples=8, deadline=None)
@given(SEEDS)
def test_nobody_truly_works_in_two_places_at_once(seed: int) -> None:
    spans = workplace(seed, people=120, weeks=3).truth.spans.sort("person", "starts")
    assert (spans["ends"] > spans["starts"]).all()
    follows = spans["person"].shift(1) == spans["person"]
    assert (spans["starts"].filter(follows) > spans["ends"].shift(1).filter(follows)).all()


@settings(max_examples=6, deadline=None)
@given(SEEDS)
def test_every_end_of_a_true_span_is_an_accepted_punch_or_a_listed_missed_one(seed: int) -> None:
    place = workplace(seed, people=150, weeks=3)
    spans = place.truth.spans
    happened = {(person, at) for name in ("starts", "ends") for person, at in spans.select("person", name).rows()}
    kept = attributed(place).filter(
        pl.col("outcome").ne_missing("refused") & ~pl.col("planted").is_in(["double", "other_number"]).fill_null(False)
    )
    seen = set(kept.select("person", "true_at").rows())
    missed = set(planted(place, "missed_punch").select("person", "starts").rows())
    assert seen | missed == happened
    assert not seen & missed


def test_two_fully_punched_ends_give_the_true_hours(place: Workplace) -> None:
    # with clocks that are right but for a constant, out minus in at one reader is the span to the second
    rows = attributed(place).filter(pl.col("reader") == "BM-OVEN", pl.col("outcome") == "accepted")
    at = {(person, true): at for person, true, at in rows.select("person", "true_at", "at").rows()}
    compared = 0
    for person, starts, ends in place.truth.spans.select("person", "starts", "ends").rows():
        if (person, starts) in at and (person, ends) in at:
            assert at[person, ends] - at[person, starts] == ends - starts
            compared += 1
    assert compared > 1000


def test_some_weeks_exceed_forty_hours_and_most_do_not(place: Workplace) -> None:
    weeks = place.truth.spans.with_columns(
        week=pl.from_epoch("starts", time_unit="s").dt.truncate("1w"), worked=pl.col("ends") - pl.col("starts")
    )
    share = (weeks.group_by("person", "week").agg(pl.col("worked").sum())["worked"] > 40 * 3600).mean()
    assert 0.03 < float(share) < 0.35  # type: ignore[arg-type]


def test_most_meals_last_half_an_hour_and_some_are_rests_of_twenty_minutes(place: Workplace) -> None:
    spans = place.truth.spans.sort("person", "starts")
    same = spans["shift"].shift(-1) == spans["shift"]
    minutes = (spans["starts"].shift(-1) - spans["ends"]).filter(same) / 60
    assert float((minutes >= 30).mean()) > 0.8  # type: ignore[arg-type]
    assert 0.03 < float(((minutes >= 20) & (minutes < 30)).mean()) < 0.2  # type: ignore[arg-type]
    assert (minutes >= 20).all()


def test_nights_and_twelve_hour_shifts_are_planned(place: Workplace) -> None:
    hours = (place.schedules["ends_at"] - place.schedules["starts_at"]) / 3600
    assert {8.0, 12.0} <= set(hours.to_list())
    # the repeated hour of 1 November 2026 makes a night shift one hour longer than its wall clock says
    assert {9.0, 13.0} <= set(hours.to_list())
