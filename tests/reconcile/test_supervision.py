"""Who stands at a reader as supervisor, and what proves it: a punch of their own there since that enrolment.

That two stand on each, and that a punch proves it, are common practice, no source.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import polars as pl

from evenhand import reconcile
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS, SCHEDULES
from evenhand.terms.supervision import SUPERVISION
from evenhand.terms.tables import ATTRIBUTED, RECORDED

ZONE = "America/Chicago"
TODAY = date(2026, 3, 9)
ANA, BEN = (
    {"person": "P1", "name": "Ana Ruiz", "number": "4821", "site": "Mill", "is_supervisor": True},
    {"person": "P2", "name": "Ben Okafor", "number": "1357", "site": "Mill", "is_supervisor": True},
)
TAPPED = {"reader": pl.String, "number": pl.String, "at": pl.Int64, "may": pl.Boolean}


def at(text: str) -> int:
    return int(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(ZONE)).timestamp())


def stands(people, enrolments, punches, *, tapped=(), no_hand=(), today=TODAY):
    """Return SUPERVISION at the reader North, by number."""
    people = PEOPLE.rows(people)
    readers = READERS.rows([{"reader": "North", "site": "Mill", "zone": ZONE}])
    recorded = RECORDED.rows(
        {"punch": place, "reader": "North", "number": number, "at": at(when), "outcome": outcome}
        for place, (number, when, *outcome) in enumerate(punches, start=1)
        for outcome in [outcome[0] if outcome else None]
    )
    rows = [{"reader": "North", "number": number, "at": at(when), "may": may} for number, when, may in tapped]
    of = reconcile.AuthorityTold(
        people,
        readers,
        ENROLMENTS.rows({"reader": "North", **row} for row in enrolments),
        pl.DataFrame(rows, schema=TAPPED),
        no_hand,
    )
    held = reconcile.holders(recorded, people, readers)
    found = reconcile.supervision(of, recorded, held, today=today)
    assert found.schema == SUPERVISION.schema
    return {row["number"]: row for row in found.iter_rows(named=True)}


def listed(number, on=None, may=True):
    return {"number": number, "is_supervisor": may, "enrolled_on": on}


def test_a_punch_on_the_day_of_the_enrolment_proves_and_one_of_the_evening_before_does_not():
    # days are those of the reader's clock: 23:30 in Chicago is already the next day in UTC
    on = date(2026, 3, 4)
    before = stands([ANA], [listed("4821", on)], [("4821", "2026-03-03 23:30")])["4821"]
    assert (before["state"], before["proved_at"], before["since"]) == ("unproved", None, on)
    after = stands([ANA], [listed("4821", on)], [("4821", "2026-03-03 23:30"), ("4821", "2026-03-04 00:05")])["4821"]
    assert (after["state"], after["proved_at"]) == ("proved", at("2026-03-04 00:05"))


def test_a_refused_hand_proves_nothing_and_without_a_day_any_punch_does():
    assert stands([ANA], [listed("4821")], [("4821", "2026-03-04 08:00", "refused")])["4821"]["state"] == "unproved"
    assert stands([ANA], [listed("4821")], [("4821", "2026-03-04 08:00", "accepted")])["4821"]["state"] == "proved"


def test_a_round_tells_of_authority_where_the_list_does_not_and_the_later_enrolment_counts():
    silent = [{"number": "4821", "is_supervisor": None, "enrolled_on": None}]
    tapped = [("4821", "2026-03-05 10:00", True)]
    early = stands([ANA], silent, [("4821", "2026-03-05 09:59")], tapped=tapped)["4821"]
    assert (early["told_by"], early["state"]) == ("round", "unproved")
    assert stands([ANA], silent, [("4821", "2026-03-05 10:01")], tapped=tapped)["4821"]["state"] == "proved"
    # the list says that the number has no authority: it is the reader's own word
    assert stands([ANA], [listed("4821", may=False)], [], tapped=tapped) == {}
    # a round enrolled the hand again, later than the list: what came before proves no longer
    again = stands([ANA], [listed("4821", date(2026, 3, 2))], [("4821", "2026-03-03 08:00")], tapped=tapped)["4821"]
    assert again["state"] == "unproved"


def test_another_persons_punch_under_the_number_proves_nothing():
    # the number was Cy's until 3 March and is Ana's since
    cy = {"person": "P9", "name": "Cy Vale", "number": "4821", "site": "Mill", "left_on": date(2026, 3, 3)}
    people = [cy, {**ANA, "hired_on": date(2026, 3, 4)}]
    assert stands(people, [listed("4821")], [("4821", "2026-03-03 08:00")])["4821"]["state"] == "unproved"
    assert stands(people, [listed("4821")], [("4821", "2026-03-04 08:00")])["4821"]["state"] == "proved"


def test_why_somebody_listed_does_not_count():
    people = [ANA, {**BEN, "left_on": date(2026, 3, 6)}]
    people += [{"person": f"P{n}", "name": f"N{n}", "number": "7777", "site": "Mill"} for n in (3, 4)]
    people += [{"person": "P5", "name": "Ed", "number": "8888", "site": "Mill", "is_supervisor": False}]
    rows = [listed(number) for number in ("4821", "1357", "7777", "8888", "9999")]
    found = stands(people, rows, [], no_hand=("P1",))
    assert {number: row["state"] for number, row in found.items()} == {
        "4821": "withdrew", "1357": "left", "7777": "number", "8888": "roster", "9999": "number",
    }  # fmt: skip
    assert found["1357"]["leaves_on"] == date(2026, 3, 6)


def test_a_proof_is_old_after_six_weeks_to_the_day():
    punch = [("4821", "2026-01-26 00:00")]
    assert stands([ANA], [listed("4821")], punch)["4821"]["state"] == "proved"
    assert stands([ANA], [listed("4821")], punch, today=TODAY + timedelta(days=1))["4821"]["state"] == "old"


def test_shifts_that_touch_no_supervisors_and_days_on_which_all_were_away_are_counted():
    people = PEOPLE.rows([ANA, *({"person": f"W{n}", "number": f"{n}", "site": "Mill"} for n in range(2))])
    enrolled = ENROLMENTS.rows({"reader": "North", "number": number} for number in ("4821", "0", "1"))
    readers = READERS.rows([{"reader": "North", "site": "Mill", "zone": "UTC"}])
    of = reconcile.AuthorityTold(people, readers, enrolled, pl.DataFrame(schema=TAPPED))
    standing = SUPERVISION.rows([{"reader": "North", "person": "P1", "number": "4821", "state": "proved"}])
    as_of = int(datetime(2026, 3, 9, tzinfo=UTC).timestamp())

    def shift(person, day, hour):
        begins = as_of - day * 86_400 + hour * 3600
        return {"person": person, "starts_at": begins, "ends_at": begins + 8 * 3600}

    schedules = SCHEDULES.rows(
        [shift("P1", 5, 6), shift("W0", 5, 13), shift("W1", 5, 14), shift("W0", 4, 6), shift("W0", 40, 6)]
    )
    punched = [("P1", 5), ("W0", 5), ("W0", 4), ("W1", 4), ("W1", 3), ("W0", 40)]
    attributed = ATTRIBUTED.rows(
        {"punch": n, "person": who, "reader": "North", "at": as_of - day * 86_400 + 3600, "zone": "UTC"}
        for n, (who, day) in enumerate(punched)
    )
    (row,) = reconcile.uncovered(of, standing, schedules, attributed, as_of=as_of).to_dicts()
    # W0's of 13:00 begins before Ana's ends at 14:00; W1's begins as hers ends, and on day 4 she has none
    assert row == {"reader": "North", "shifts": 3, "alone": 2, "days": 3, "absent": 2}
