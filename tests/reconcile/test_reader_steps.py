"""The steps at a reader never leave it without a supervisor, and end where roster and reader agree."""

from __future__ import annotations

from datetime import date

import polars as pl
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.reconcile import compare, count_seen, reader_steps
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS
from evenhand.terms.tables import RECORDED

TODAY = date(2026, 3, 9)
LEFT = date(2026, 2, 27)
NAMES = ["Ana Ruiz", "Ben Okafor", "Cy Marlow", "Dora Lindqvist", "Emil Novak", "Fay Turner", "Gus Weber", "Hana Sato"]
AT_READERS = {
    "not_enrolled", "wrong_number", "shared_number", "leaver_enrolled", "unknown_enrolment", "lost_zeros",
    "few_supervisors", "supervisor_mismatch",
}  # fmt: skip


def compared(people, readers, enrolments):
    nothing = RECORDED.empty()
    return compare(people, readers, enrolments, count_seen(nothing), nothing, as_of=TODAY)


def steps_for(people, readers, enrolments):
    return reader_steps(people, readers, enrolments, compared(people, readers, enrolments), as_of=TODAY)


def apply_steps(enrolments, steps):
    """Return the enrolments once each reader's steps are done in their order (ENROLMENTS, by reader, number)."""
    last = steps.sort("reader", "position").unique(["reader", "number"], keep="last", maintain_order=True)
    untouched = enrolments.select(ENROLMENTS.names).join(last, on=["reader", "number"], how="anti")
    done = last.filter(pl.col("action") != "remove")
    authority = done["action"] == "enrol_supervisor"
    anew = ENROLMENTS.frame({**{name: done[name] for name in ("reader", "number", "name")}, "is_supervisor": authority})
    return pl.concat([untouched, anew]).sort("reader", "number")


def told(steps):
    return [tuple(row) for row in steps.select("action", "number").iter_rows()]


def workplace(people, enrolments, capacity=None, digits=None):
    return (
        PEOPLE.rows({"person": f"P{at}", "site": "Mill", **row} for at, row in enumerate(people)),
        READERS.rows(
            [{"reader": "North", "site": "Mill", "zone": "America/Chicago", "capacity": capacity, "max_digits": digits}]
        ),
        ENROLMENTS.rows({"reader": "North", **row} for row in enrolments),
    )


def test_an_empty_reader_gets_its_two_supervisors_before_anybody_else():
    steps = steps_for(
        *workplace(
            [
                {"name": "Ana Ruiz", "number": "1111"},
                {"name": "Ben Okafor", "number": "2222", "is_supervisor": True},
                {"name": "Cy Marlow", "number": "3333", "is_supervisor": True},
            ],
            [],
        )
    )
    assert told(steps) == [("enrol_supervisor", "2222"), ("enrol_supervisor", "3333"), ("enrol", "1111")]


def test_a_supervisor_under_a_wrong_number_is_enrolled_anew_before_the_wrong_number_goes():
    steps = steps_for(
        *workplace(
            [{"name": "Ana Ruiz", "number": "4821", "is_supervisor": True}],
            [{"number": "4281", "name": "Ana Ruiz", "is_supervisor": True}],
        )
    )
    assert told(steps) == [("enrol_supervisor", "4821"), ("remove", "4281")]


def test_on_a_full_reader_the_leaver_goes_before_the_new_person_comes():
    steps = steps_for(
        *workplace(
            [
                {"name": "Ana Ruiz", "number": "1111", "is_supervisor": True},
                {"name": "Ben Okafor", "number": "2222", "is_supervisor": True},
                {"name": "Cy Marlow", "number": "3333", "left_on": LEFT},
                {"name": "Dora Lindqvist", "number": "4444"},
            ],
            [
                {"number": "1111", "is_supervisor": True},
                {"number": "2222", "is_supervisor": True},
                {"number": "3333", "is_supervisor": False},
            ],
            capacity=3,
        )
    )
    assert told(steps) == [("remove", "3333"), ("enrol", "4444")]


def test_a_leaver_who_is_the_only_supervisor_stays_until_another_stands():
    people = [{"name": "Ana Ruiz", "number": "1111", "is_supervisor": True, "left_on": LEFT}]
    enrolled = [{"number": "1111", "is_supervisor": True}]
    assert told(steps_for(*workplace(people, enrolled))) == []
    people.append({"name": "Ben Okafor", "number": "2222", "is_supervisor": True})
    steps = steps_for(*workplace(people, enrolled))
    assert told(steps) == [("enrol_supervisor", "2222"), ("remove", "1111")]
    assert steps.row(0, named=True)["why"].endswith("is a supervisor of the site, and two should stand on each reader")


def test_where_nobody_on_the_roster_may_enrol_the_reader_is_left_alone():
    people, readers, enrolled = workplace([{"name": "Ana Ruiz", "number": "1111"}], [])
    assert told(steps_for(people, readers, enrolled)) == []
    few = compared(people, readers, enrolled).filter(pl.col("kind") == "few_supervisors")
    assert "supervisors on the roster of site Mill: nobody" in few["evidence"][0]


def test_a_hand_under_somebody_elses_number_is_enrolled_under_its_own_and_the_holder_again():
    steps = steps_for(
        *workplace(
            [
                {"name": "Ana Ruiz", "number": "1111", "is_supervisor": True},
                {"name": "Ben Okafor", "number": "2222", "is_supervisor": True},
                {"name": "Cy Marlow", "number": "3333"},
                {"name": "Dora Lindqvist", "number": "4444"},
            ],
            [
                {"number": "1111", "is_supervisor": True},
                {"number": "2222", "is_supervisor": True},
                {"number": "3333", "name": "DORA LIND", "is_supervisor": False},
            ],
        )
    )
    assert told(steps) == [("enrol", "4444"), ("enrol_again", "3333")]


def test_a_leavers_hand_comes_off_before_the_next_holder_of_the_number_is_enrolled():
    people = [
        {"name": "Ana Ruiz", "number": "1111", "is_supervisor": True},
        {"name": "Ben Okafor", "number": "2222", "is_supervisor": True},
        {"name": "Cy Marlow", "number": "3333", "left_on": LEFT},
        {"name": "Dora Lindqvist", "number": "3333", "hired_on": TODAY},
    ]
    enrolled = [
        {"number": "1111", "is_supervisor": True},
        {"number": "2222", "is_supervisor": True},
        {"number": "3333", "name": "CY MARLOW", "is_supervisor": False},
    ]
    assert told(steps_for(*workplace(people, enrolled))) == [("remove", "3333"), ("enrol", "3333")]


@st.composite
def workplaces(draw):
    size = draw(st.integers(2, len(NAMES)))
    numbers = draw(st.lists(st.sampled_from(range(1000, 9999)), min_size=size, max_size=size, unique=True))
    people = [
        {
            "person": f"P{at}",
            "name": NAMES[at],
            "number": f"{draw(st.sampled_from(['', '0']))}{numbers[at]}",
            "site": "Mill",
            "is_supervisor": draw(st.booleans()),
            "left_on": draw(st.sampled_from([None, None, None, LEFT])),
        }
        for at in range(size)
    ]
    readers = [{"reader": name, "site": "Mill", "zone": "America/Chicago"} for name in ("North", "South")]
    enrolled = {}
    for reader in ("North", "South"):
        for person in draw(st.lists(st.sampled_from(people), unique_by=lambda row: row["person"])):
            number = draw(
                st.sampled_from([person["number"], person["number"], person["number"].lstrip("0"), "777", "8" * 5])
                | st.sampled_from([row["number"] for row in people])
            )
            row = {"reader": reader, "number": number, "is_supervisor": draw(st.booleans())}
            row["name"] = draw(st.sampled_from([None, person["name"], person["name"].upper()[:6]]))
            enrolled[reader, number] = row
        readers[-1]["capacity"] = readers[0]["capacity"] = draw(st.sampled_from([None, None, 12]))
    return PEOPLE.rows(people), READERS.rows(readers), ENROLMENTS.rows(enrolled.values())


def supervisors_on(enrolments, reader):
    return enrolments.filter(pl.col("reader") == reader, pl.col("is_supervisor").fill_null(False)).height


@given(workplaces())
@settings(max_examples=60, deadline=None)
def test_no_reader_is_without_a_supervisor_once_it_has_one_and_none_is_overfilled(place):
    people, readers, enrolments = place
    steps = steps_for(people, readers, enrolments)
    for reader, capacity in readers.select("reader", "capacity").iter_rows():
        own = steps.filter(pl.col("reader") == reader)
        had = supervisors_on(enrolments, reader) > 0
        before = enrolments.filter(pl.col("reader") == reader).height
        if own.height and not had:
            assert own["action"][0] == "enrol_supervisor"
        for done in range(1, own.height + 1):
            state = apply_steps(enrolments, own.head(done))
            assert supervisors_on(state, reader) > 0
            held = state.filter(pl.col("reader") == reader).height
            assert capacity is None or held <= max(capacity, before)


@given(workplaces())
@settings(max_examples=60, deadline=None)
def test_once_all_steps_are_done_readers_and_roster_agree(place):
    people, readers, enrolments = place
    able = people.filter(pl.col("is_supervisor"), pl.col("left_on").is_null()).height
    if able < 2:
        return
    after = apply_steps(enrolments, steps_for(people, readers, enrolments))
    left = compared(people, readers, after).filter(pl.col("kind").is_in(AT_READERS))
    # zeros that the roster itself has lost are put right on the roster, not at the reader
    roster_lost = left.filter(
        pl.col("kind") == "lost_zeros", pl.col("other").str.len_chars() < pl.col("number").str.len_chars()
    )
    assert left.height == roster_lost.height, left["evidence"].to_list()


@given(workplaces())
@settings(max_examples=30, deadline=None)
def test_steps_end_and_readers_that_agree_need_none(place):
    people, readers, enrolments = place
    for _ in range(ROUNDS):
        steps = steps_for(people, readers, enrolments)
        if steps.is_empty():
            break
        enrolments = apply_steps(enrolments, steps)
    assert told(steps_for(people, readers, enrolments)) == []


ROUNDS = 3
"""How often steps are made at most: whose hand a number nobody holds is may be guessed from its digits alone, and the
guess falls once whoever was guessed stands under their own number; then it is nobody's, and steps are made anew."""


def test_a_number_guessed_to_be_somebodys_is_nobodys_once_they_are_enrolled_and_comes_off_then():
    people = [
        {"name": "Ana Ruiz", "number": "1001", "is_supervisor": True},
        {"name": "Dora Lindqvist", "number": "1000"},
    ]
    enrolled = [
        {"number": "1001", "name": "ANA RUIZ", "is_supervisor": True},
        {"number": "1007", "name": None, "is_supervisor": True},  # 1000 with a digit mistyped
    ]
    people, readers, enrolments = workplace(people, enrolled)
    first = steps_for(people, readers, enrolments)
    # the hand that may be theirs stays, since with it the reader would lose one of its last two supervisors
    assert told(first) == [("enrol", "1000")]
    after = apply_steps(enrolments, first)
    assert told(steps_for(people, readers, after)) == [("remove", "1007")]
    assert told(steps_for(people, readers, apply_steps(after, steps_for(people, readers, after)))) == []
