"""Where roster, enrolments and punches disagree, with the evidence."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import polars as pl

from evenhand.reconcile import attribute, compare, count_seen
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS
from evenhand.terms.tables import CORRECTIONS, DISCREPANCIES, RECORDED

TODAY = date(2026, 3, 9)
ZONE = "America/Chicago"
SITE_LEVEL = {"few_supervisors", "unproved"}


def instant(text):
    return int(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(ZONE)).timestamp())


def compared(people, enrolments=(), punches=(), readers=({},)):
    roster = PEOPLE.rows(
        {"person": f"P{at}", "name": f"Person {at}", "site": "Mill"} | row for at, row in enumerate(people)
    )
    listed = READERS.rows({"reader": "North", "site": "Mill", "zone": ZONE} | row for row in readers)
    recorded = RECORDED.rows({"reader": "North", "punch": at} | row for at, row in enumerate(punches, start=1))
    found = compare(
        roster,
        listed,
        ENROLMENTS.rows({"reader": "North"} | row for row in enrolments),
        count_seen(recorded),
        attribute(recorded, roster, listed, CORRECTIONS.empty()).unattributed,
        as_of=TODAY,
    )
    return DISCREPANCIES.check(found)


def kinds(found):
    return sorted(kind for kind in found["kind"] if kind not in SITE_LEVEL)


def only(found, kind):
    rows = found.filter(pl.col("kind") == kind)
    assert rows.height == 1, found
    return rows.row(0, named=True)


def test_nothing_disagrees_in_an_empty_workplace():
    assert compared([], readers=[]).height == 0


def test_unattributed_punches_are_counted_by_reader_and_number_with_first_and_last():
    keyed = [
        {"number": "7777", "at": instant(at)} for at in ("2026-03-05 08:00", "2026-03-02 08:00", "2026-03-03 08:00")
    ]
    row = only(compared([], punches=keyed), "unattributed_punches")
    assert (row["reader"], row["number"], row["punches"]) == ("North", "7777", 3)
    assert (row["first_at"], row["last_at"]) == (instant("2026-03-02 08:00"), instant("2026-03-05 08:00"))
    assert "from 2026-03-02 to 2026-03-05" in row["evidence"]
    assert "nobody on the roster holds" in row["evidence"]


def test_a_name_is_stronger_evidence_than_a_slip():
    # 4822 is one slip from P0's 4821, but the reader says whose hand it is
    people = [{"number": "4821", "name": "Ana Ruiz"}, {"number": "1357", "name": "Ben Okafor"}]
    row = only(compared(people, [{"number": "4822", "name": "OKAFOR BEN"}]), "wrong_number")
    assert (row["person"], row["number"], row["other"]) == ("P1", "4822", "1357")


def test_a_name_nobody_bears_contradicts_a_slip():
    found = compared([{"number": "4821", "name": "Ana Ruiz"}], [{"number": "4822", "name": "Lenka Dvorak"}])
    assert kinds(found) == ["not_enrolled", "unknown_enrolment"]


def test_somebody_already_enrolled_there_did_not_mean_the_unknown_number():
    found = compared([{"number": "4821"}], [{"number": "4821"}, {"number": "4822"}])
    assert kinds(found) == ["unknown_enrolment"]


def test_of_two_who_could_have_meant_it_the_one_enrolled_nowhere_did():
    people = [{"number": "4821"}, {"number": "4823"}]
    enrolled = [{"number": "4822"}, {"reader": "South", "number": "4821"}]
    row = only(compared(people, enrolled, readers=[{}, {"reader": "South"}]), "wrong_number")
    assert row["person"] == "P1"


def test_a_hand_under_a_leavers_number_is_its_owners_when_the_name_says_so():
    people = [{"number": "1111", "left_on": date(2026, 1, 31)}, {"number": "4821", "name": "Ana Ruiz"}]
    row = only(compared(people, [{"number": "1111", "name": "Ana Ruiz"}]), "wrong_number")
    assert (row["person"], row["other"]) == ("P1", "4821")


def test_a_person_yet_to_start_may_be_enrolled_and_need_not_be():
    starts = {"number": "4821", "hired_on": date(2026, 3, 16)}
    assert kinds(compared([starts], [{"number": "4821"}])) == []
    assert kinds(compared([starts])) == []


def test_three_people_on_one_number_are_two_pairs():
    found = compared([{"number": "4821"}] * 3)
    pairs = found.filter(pl.col("kind") == "shared_number").select("person", "other").rows()
    assert pairs == [("P0", "P1"), ("P0", "P2")]


def test_a_person_without_a_site_is_enrolled_wherever_a_reader_lists_the_number():
    assert kinds(compared([{"number": "4821", "site": None}], [{"number": "4821"}])) == []


def test_a_list_that_does_not_say_who_may_enrol_others_shows_no_supervisor():
    people = [{"number": "1111", "is_supervisor": True}, {"number": "2222", "is_supervisor": True}]
    silent = only(compared(people, [{"number": "1111"}, {"number": "2222"}]), "few_supervisors")
    assert (
        "supervisors enrolled with authority: nobody, as its list does not say who may enrol others"
        in silent["evidence"]
    )
    told = compared(people, [{"number": "1111", "is_supervisor": True}, {"number": "2222", "is_supervisor": True}])
    assert "few_supervisors" not in told["kind"]


def test_an_unknown_number_names_four_who_could_have_meant_it_and_no_more():
    people = [{"number": f"482{last}"} for last in "123456"]
    row = only(compared(people, [{"number": "4820"}]), "unknown_enrolment")
    assert row["evidence"].count(", as 4820 is 482") == 4


def test_a_number_of_zeros_alone_has_lost_none():
    found = compared([{"number": "000"}], punches=[{"number": "00", "at": instant("2026-03-02 08:00")}])
    assert "lost_zeros" not in kinds(found)


def test_disagreements_of_a_kind_stand_by_number():
    keyed = [{"number": number, "at": instant("2026-03-02 08:00")} for number in ("9999", "1111", "7777", "3333")]
    found = compared([], punches=keyed)
    assert found.filter(pl.col("kind") == "unattributed_punches")["number"].to_list() == [
        "1111",
        "3333",
        "7777",
        "9999",
    ]


def test_who_is_enrolled_nowhere_is_told_with_their_site():
    row = only(compared([{"number": "4821"}]), "not_enrolled")
    assert "site Mill" in row["evidence"]


def test_those_who_could_have_meant_a_number_are_named_with_the_slip():
    row = only(compared([{"number": "4821"}, {"number": "4823"}], [{"number": "4822"}]), "unknown_enrolment")
    assert row["evidence"].endswith(
        "it could be Person 0 (P0), as 4822 is 4821 with one digit mistyped; "
        "Person 1 (P1), as 4822 is 4823 with one digit mistyped"
    )


def test_zeros_in_front_tell_more_than_any_other_slip_and_alone():
    # 42 is 0042 without its zeros, and 420 with a digit dropped
    found = compared([{"number": "0042"}, {"number": "420"}], [{"number": "42"}])
    assert found.filter(pl.col("kind") == "lost_zeros").select("person", "number").rows() == [("P0", "42")]
    # two people's numbers without their zeros tell nothing
    both = compared([{"number": "0042"}, {"number": "042"}], [{"number": "42"}])
    assert "lost_zeros" not in kinds(both)
    assert "unknown_enrolment" in kinds(both)


def test_two_slips_that_lead_to_one_person_are_one_guess():
    # 4281 is 4821 with two digits swapped, and the end of the same person's telephone number
    found = compared([{"number": "4821", "phone": "555-010-4281"}], [{"number": "4281"}])
    assert found.filter(pl.col("kind") == "wrong_number").select("person", "number").rows() == [("P0", "4281")]


def test_the_evidence_names_how_often_and_when_a_number_was_punched_or_what_the_log_holds_instead():
    twice = [{"number": "9999", "at": instant(f"2026-03-0{day}T08:00")} for day in (5, 6)]
    unknown = compared([{"number": "4821"}], [{"number": "9999"}], twice).filter(pl.col("kind") == "unknown_enrolment")
    assert unknown["evidence"].to_list() == [
        "9999 is enrolled at North, and nobody on the roster holds it; 2 punches from 2026-03-05 to 2026-03-06"
    ]
    two = [{"number": "4821"}, {"number": "7360"}]
    unproved = compared(two, two, [{"number": "7360", "at": instant("2026-03-05T08:00")}])
    assert unproved.filter(pl.col("kind") == "unproved")["evidence"].to_list() == [
        "no hand has been accepted under 4821 at North in the logs looked at; its log holds other numbers"
    ]


def test_the_number_of_somebody_who_left_is_theirs_where_no_name_says_otherwise():
    gone = {"number": "4821", "name": "Lea Gone", "left_on": date(2026, 3, 1)}
    for name in (None, "Lea Gone"):
        found = compared([gone, {"number": "7360"}], [{"number": "4821", "name": name}])
        told = found.filter(pl.col("kind") == "leaver_enrolled")
        assert told.select("person", "number").rows() == [("P0", "4821")]
        assert "unknown_enrolment" not in kinds(found)
