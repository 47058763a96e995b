"""Due dates of the biometric laws, of time records and of answers against the cases of cases.json.

`sourced` says how the source was read: seen, from memory, or computed from the rule.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import polars as pl
import pytest
from dateutil.relativedelta import relativedelta

from evenhand.records import retention

CASES = json.loads((Path(__file__).parent / "cases.json").read_text(encoding="utf-8"))


def case(name: str) -> dict[str, Any]:
    return next(case for case in CASES if case["id"] == name)


def days(place: str, reader: str | None, **events: str | None) -> pl.DataFrame:
    dated = {name: date.fromisoformat(day) for name, day in events.items() if day}
    frame = retention.EVENTS.rows([{"person": "P1", "reader": reader, "place": place, **dated}])
    return retention.due_dates(frame)


def destroy_by(place: str, **events: str | None) -> str:
    bound = retention.binding_dates(days(place, "GATE", **events)).filter(pl.col("clock") == "destroy")
    return str(bound["day"].item())


def test_every_case_is_run() -> None:
    run = Path(__file__).read_text(encoding="utf-8")
    assert [one["id"] for one in CASES if one["id"] not in run] == []


@pytest.mark.parametrize("name", ["PRI-001", "PRI-002", "PRI-003"])
def test_illinois(name: str) -> None:
    given = case(name)["inputs"]
    found = destroy_by("US-IL", last_interaction=given["last_interaction"], purpose_ended=given["purpose_satisfied"])
    assert found == case(name)["expected"]["destroy_by"]


@pytest.mark.parametrize("name", ["PRI-007", "PRI-008"])
def test_texas(name: str) -> None:
    given = case(name)
    assert destroy_by("US-TX", purpose_ended=given["inputs"]["employment_ended"]) == given["expected"]["destroy_by"]


def test_colorado_has_three_limbs_and_the_earliest_binds() -> None:
    given, expected = case("PRI-009")["inputs"], case("PRI-009")["expected"]
    events = {name: given[name] for name in ("last_interaction", "found_unnecessary")}
    rows = days("US-CO", "GATE", **events).filter(pl.col("clock") == "destroy")
    by_event = {row["event"]: str(row["day"]) for row in rows.to_dicts()}
    assert by_event == {"last_interaction": expected["by_24_months"], "found_unnecessary": expected["by_45_days"]}
    assert destroy_by("US-CO", **events) == expected["delete_by"]
    # The extension is not taken: it would end 45 days later.
    found = date.fromisoformat(expected["by_45_days"])
    assert str(found + relativedelta(days=45)) == expected["with_45_day_extension"]


@pytest.mark.parametrize(("name", "law"), [("PRI-010", "us_516_5"), ("PRI-011", "us_516_6")])
def test_federal_time_records(name: str, law: str) -> None:
    given = case(name)
    kept = days("US", None, last_entry=given["inputs"]["last_entry"]).filter(pl.col("law") == law)["day"].item()
    assert str(kept) == given["expected"]["keep_through"]
    assert str(retention.first_disposal_day(kept)) == given["expected"]["first_disposal_day"]


def test_a_request_is_answered_within_a_month_or_three() -> None:
    given = case("PRI-012")
    for at, day in enumerate(given["inputs"]["request_received"]):
        received = date.fromisoformat(day)
        assert str(retention.answer_by(received).latest) == given["expected"]["answer_by"][at]
        extended = retention.answer_by(received, is_extended=True)
        assert str(extended.latest) == given["expected"]["if_extended_two_months"][at]


def test_a_month_that_ends_on_a_saturday_moves_to_monday() -> None:
    given = case("PRI-013")
    found = retention.answer_by(date.fromisoformat(given["inputs"]["request_received"]))
    assert (str(found.nominal), str(found.latest)) == (given["expected"]["nominal"], given["expected"]["answer_by"])


def test_72_hours_are_elapsed_hours() -> None:
    given = case("PRI-014")
    aware = datetime.fromisoformat(given["inputs"]["aware_at"]).astimezone(ZoneInfo(given["inputs"]["zone"]))
    assert retention.notify_by(aware).isoformat() == given["expected"]["notify_by"]


def test_a_limitation_ends_off_the_weekend() -> None:
    given = case("PRI-018")
    found = retention.last_day_to_sue(date.fromisoformat(given["inputs"]["accrued"]), given["inputs"]["years"])
    assert str(found) == given["expected"]["last_day_to_sue"]
