"""Each planted mistake is where the truth says, in the frames the offices and readers report."""

from datetime import date

import polars as pl
import pytest

from evenhand.terms.zones import civil_date
from evenhand.twin import Workplace, workplace

from .planted import attributed, planted


@pytest.fixture(scope="module", params=[7, 8, 9])
def any_place(request: pytest.FixtureRequest) -> Workplace:
    return workplace(request.param)


def row_of(place: Workplace, person: str) -> dict[str, object]:
    return place.people.row(by_predicate=pl.col("person") == person, named=True)


def test_wrong_numbers_come_about_as_they_do(any_place: Workplace) -> None:
    right = dict(any_place.truth.numbers.select("person", "number").rows())
    listed = set(any_place.enrolments.select("reader", "number").rows())
    kinds = set()
    for row in planted(any_place, "wrong_number").iter_rows(named=True):
        typed, number, person = row["number"], right[row["person"]], row_of(any_place, row["person"])
        assert (row["reader"], typed) in listed
        assert (row["reader"], number) not in listed
        kinds.add(row["detail"])
        match row["detail"]:
            case "phone":
                assert str(person["phone"]).endswith(typed)
            case "street":
                assert str(person["address"]).startswith(f"{typed} ")
            case "swapped":
                assert sorted(typed) == sorted(number)
                assert typed != number
            case "dropped":
                assert len(typed) == len(number) - 1
            case "zero_lost":
                assert number == typed.zfill(len(number))
                assert len(typed) < len(number)
            case "somebody_else":
                assert typed in set(right.values()) - {number}
    assert kinds == {"phone", "street", "swapped", "dropped", "zero_lost", "somebody_else"}
    strangers = planted(any_place, "wrong_number").filter(pl.col("detail") != "somebody_else")["number"]
    assert not set(strangers) & set(right.values())


def test_all_of_the_persons_punches_at_that_reader_come_under_the_wrong_number(any_place: Workplace) -> None:
    rows = attributed(any_place).filter(pl.col("planted").ne_missing("other_number"))
    for row in planted(any_place, "wrong_number").iter_rows(named=True):
        there = rows.filter(pl.col("person") == row["person"], pl.col("reader") == row["reader"])
        assert there.height
        assert set(there["number"]) == {row["number"]}


def test_leavers_stay_on_the_readers_and_one_still_punches(any_place: Workplace) -> None:
    on_readers = set(any_place.enrolments["number"])
    for kind in ("leaver_enrolled", "leaver_punches"):
        for row in planted(any_place, kind).iter_rows(named=True):
            assert row["number"] in on_readers
            assert row_of(any_place, row["person"])["left_on"]
    who = planted(any_place, "leaver_punches")["person"].item()
    left = row_of(any_place, who)["left_on"]
    at = attributed(any_place).filter(pl.col("person") == who)["true_at"]
    assert isinstance(left, date)
    assert civil_date("America/New_York", int(at.max())) > left  # type: ignore[arg-type]


def test_readers_without_two_supervisors_are_the_planted_ones(any_place: Workplace) -> None:
    held = any_place.enrolments.group_by("reader").agg(pl.col("is_supervisor").sum())
    few = {reader: int(count) for reader, count in held.rows() if count < 2}
    assert few == {
        row["reader"]: int(row["detail"]) for row in planted(any_place, "few_supervisors").iter_rows(named=True)
    }
    assert set(few.values()) == {0, 1}


def test_people_not_enrolled_work_but_leave_no_punch(any_place: Workplace) -> None:
    for row in planted(any_place, "not_enrolled").iter_rows(named=True):
        assert row["number"] not in set(any_place.enrolments["number"])
        assert row["person"] not in set(any_place.truth.owners["person"])
        assert row["person"] in set(any_place.truth.spans["person"])


def test_people_enrolled_but_never_seen_are_there(any_place: Workplace) -> None:
    for row in planted(any_place, "never_punched").iter_rows(named=True):
        assert row["number"] in set(any_place.enrolments["number"])
        assert row["person"] not in set(any_place.truth.owners["person"])


def test_a_number_too_long_for_a_reader_is_not_on_it(any_place: Workplace) -> None:
    row = planted(any_place, "too_long").row(0, named=True)
    digits = dict(any_place.readers.select("reader", "max_digits").rows())
    assert len(row["number"]) > digits[row["reader"]]
    fits = any_place.enrolments.select(
        pl.col("number").str.len_chars() <= pl.col("reader").replace_strict(digits)
    ).to_series()
    assert fits.all()


def test_one_reader_is_near_its_capacity(any_place: Workplace) -> None:
    held = dict(any_place.enrolments.group_by("reader").len().rows())
    free = {row["reader"]: row["capacity"] - held[row["reader"]] for row in any_place.readers.iter_rows(named=True)}
    near = {reader for reader, places in free.items() if places <= 5}
    assert near == set(planted(any_place, "near_capacity")["reader"])


def test_consent_is_missing_for_the_planted_people_only(any_place: Workplace) -> None:
    without = set(any_place.people["person"]) - set(any_place.consent["person"])
    assert without == set(planted(any_place, "no_consent")["person"])
    withdrawn = any_place.consent.filter(pl.col("withdrawn_on").is_not_null())
    assert set(withdrawn["person"]) == set(planted(any_place, "consent_withdrawn")["person"])


def test_the_roster_lost_only_the_planted_zeros(any_place: Workplace) -> None:
    both = any_place.people.select("person", "number").join(any_place.truth.numbers, on="person")
    lost = both.filter(pl.col("number") != pl.col("number_right"))
    assert set(lost["person"]) == set(planted(any_place, "roster_zeros")["person"])
    assert (lost["number"].str.zfill(4) == lost["number_right"]).all()


def test_clocks_are_off_as_the_truth_says(any_place: Workplace) -> None:
    ahead = attributed(any_place).with_columns(off=pl.col("at") - pl.col("true_at"))
    late = planted(any_place, "clock_set_back_late").row(0, named=True)
    while_late = ahead.filter(
        pl.col("reader") == late["reader"], pl.col("true_at").is_between(late["starts"], late["ends"], closed="left")
    )
    assert while_late.height
    assert while_late["off"].is_between(3600 - 15, 3600 + 15).all()
    runs = ahead.filter(pl.col("reader") == planted(any_place, "clock_runs_off")["reader"].item()).sort("true_at")
    assert runs["off"].is_sorted()
    # 18 s a day over six weeks
    assert 41 * 18 - 18 <= runs["off"][-1] - runs["off"][0] <= 43 * 18
    faulty = {late["reader"], planted(any_place, "clock_runs_off")["reader"].item()}
    minutes = {"BM-PACK", "TB-DOCK"}
    right = ahead.filter(~pl.col("reader").is_in(list(faulty | minutes)))
    assert right["off"].abs().max() <= 15
    assert (ahead.filter(pl.col("reader").is_in(list(minutes)))["at"] % 60 == 0).all()


def test_a_quiet_reader_records_nothing(any_place: Workplace) -> None:
    row = planted(any_place, "reader_quiet").row(0, named=True)
    there = attributed(any_place).filter(pl.col("reader") == row["reader"])["true_at"]
    # a refused try may begin seconds before the reader comes back
    assert not there.is_between(row["starts"], row["ends"] - 60).any()
    assert there.is_between(row["starts"] - 2 * 86_400, row["starts"]).any()
    assert row["ends"] - row["starts"] > 2 * 86_400


def test_doubles_and_wrong_directions_are_in_the_logs_as_often_as_listed(any_place: Workplace) -> None:
    rows = attributed(any_place)
    doubles = rows.filter(pl.col("planted") == "double")
    assert doubles.height == planted(any_place, "double_punch").height
    keyed_wrong = rows.filter(pl.col("direction") != pl.col("true_direction"))
    assert keyed_wrong.height == planted(any_place, "wrong_direction").height
    assert set(keyed_wrong["planted"]) == {"wrong_direction"}
    firsts = set(rows.filter(pl.col("planted").is_null()).select("person", "reader", "true_at").rows())
    # its retries included, a double comes within a minute of the first
    for person, reader, at in doubles.select("person", "reader", "true_at").rows():
        assert any((person, reader, at - after) in firsts for after in range(61))


def test_somebody_elses_number_is_refused(any_place: Workplace) -> None:
    rows = attributed(any_place).filter(pl.col("planted") == "other_number")
    assert rows.height == planted(any_place, "other_number").height
    assert set(rows["outcome"]) == {"refused"}


def test_refused_tries_are_mostly_followed_by_an_accepted_one(any_place: Workplace) -> None:
    rows = attributed(any_place).filter(pl.col("outcome") == "refused", pl.col("planted").ne_missing("other_number"))
    accepted = set(
        attributed(any_place).filter(pl.col("outcome") == "accepted").select("person", "reader", "true_at").rows()
    )
    followed = [
        any((person, reader, at + after) in accepted for after in (6, 12))
        for person, reader, at in rows.select("person", "reader", "true_at").rows()
    ]
    assert sum(followed) / len(followed) > 0.75


def test_drifting_hands_score_higher_at_the_end(any_place: Workplace) -> None:
    rows = attributed(any_place).filter(pl.col("planted").is_null(), pl.col("score").is_not_null())
    rises = []
    for row in planted(any_place, "hand_drifts").iter_rows(named=True):
        own = rows.filter(pl.col("person") == row["person"]).sort("true_at")
        before = own.filter(pl.col("true_at") < row["starts"])["score"].mean()
        rises.append(own.tail(20)["score"].mean() / before)  # type: ignore[operator]
    assert min(rises) > 1
    assert sum(rises) / len(rises) > 1.4
