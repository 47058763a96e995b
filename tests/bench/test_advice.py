"""What Hands advises never speaks against the figures beside it, at workplaces that no estimator would like."""

from __future__ import annotations

import re
from typing import Any

import pytest
from bench.adverse.claims import changes_of
from bench.adverse.crew import Crew
from bench.adverse.families import SCORES
from bench.adverse.place import make_place

from evenhand.jobs.hands import Hands, find_hands
from evenhand.terms.records import Finding

KINDS = ("lognormal", "t3", "1 % far off", "days alike", "tries alike", "adapting, a = 0.02", "all of it, mildly")
OF_HANDS = ("hand_changed", "enrol_again", "many_refusals")
SEED = 4001


def workplace(kind: str, *, changes: bool) -> Hands:
    """The hands of a workplace of sixty, where four hands drift and two jump, or nothing changes."""
    crew, noise, mishaps = SCORES[kind]
    crew = Crew(**{**vars(crew), "people": 60, "readers": 4})
    place = make_place(SEED, crew, noise, mishaps, changes_of(SEED, crew) if changes else ())
    return find_hands(place.reckoning())


def advises(says: str) -> bool:
    """Whether somebody is told to enrol a hand again."""
    return any(
        "do not" not in told[0] for told in re.finditer(r"(do not )?\benrol\b[^.;:]*\bagain\b", says, re.IGNORECASE)
    )


def contradicted(hands: Hands) -> list[str]:
    """Sentences that speak against what else is said of the same person, and why."""
    found: list[str] = []
    forecasts = {row["person"]: row for row in hands.forecasts.iter_rows(named=True)}
    for row in forecasts.values():
        found += _by_itself(row)
    lasting: dict[str, list[dict[str, Any]]] = {}
    for alarm in hands.alarms.filter(hands.alarms["until"].is_null(), hands.alarms["person"].is_not_null()).rows(
        named=True
    ):
        lasting.setdefault(alarm["person"], []).append(alarm)
    for person, alarms in lasting.items():
        row = forecasts.get(person)
        if row and "as before" in row["says"] and any(alarm["cause"] in {"hand", "both"} for alarm in alarms):
            found.append(f"{person}: the hand changed, and is as before")
    for one in hands.findings:
        if one.person and one.code in OF_HANDS:
            causes = [alarm["cause"] for alarm in lasting.get(one.person, ())]
            found += _beside(one, forecasts.get(one.person), causes)
        if one.code == "reader_changed" and "Scores fell" in one.says and "nothing to do" not in one.next_step:
            found.append(f"{one.key}: {one.next_step} where scores fell")
    return found


def _beside(one: Finding, row: dict[str, Any] | None, causes: list[str | None]) -> list[str]:
    """What a finding advises against the forecast of the person, or against the causes of their alarms."""
    found = []
    if advises(one.next_step):
        if one.code == "many_refusals":  # of one reader, held against what the hand did there before
            spares = row is None or row["state"] != "often_refused"
        else:
            spares = row is not None and row["saved"] >= 1 and row["refusal_after"] < row["refusal_now"]
        if not spares:
            found.append(f"{one.key}: {one.next_step} {row}")
    if one.code == "hand_changed" and "ring" in one.next_step and "hand" not in causes:
        found.append(f"{one.key}: a ring may explain it, and no chart says that it was the hand")
    return found


def _by_itself(row: dict[str, Any]) -> list[str]:
    """What one forecast says against its own figures."""
    says, found = row["says"], []
    if advises(says) and row["saved"] < 1:
        found.append(f"{row['person']}: enrol again, which saves {row['saved']:.2f}")
    if row["saved"] > 0 and row["refusal_after"] >= row["refusal_now"]:
        found.append(f"{row['person']}: saves what is refused after as well")
    if ("as before" in says) != (row["state"] == "often_refused" and "has changed" not in says):
        found.append(f"{row['person']}: {row['state']}, and said to be as before or not")
    if ("soonest" in says) != (row["soonest"] is not None):
        found.append(f"{row['person']}: a date said and not given, or given and not said")
    dates = [row[name] for name in ("soonest", "likely", "latest") if row[name] is not None]
    if dates != sorted(dates) or (dates and row["refusal_now"] >= 0.05):
        found.append(f"{row['person']}: days out of order, or of a limit that is passed")
    if f"{row['refused']} of {row['presentations']} presentations" not in says and "last four" not in says:
        found.append(f"{row['person']}: another count than the table's")
    return found


@pytest.mark.parametrize("changes", [True, False])
@pytest.mark.parametrize("kind", KINDS)
def test_no_advice_speaks_against_its_own_table(kind: str, *, changes: bool) -> None:
    hands = workplace(kind, changes=changes)
    assert contradicted(hands) == []


def test_there_is_advice_to_speak_against() -> None:
    hands = workplace("tries alike", changes=True)
    assert any(advises(one.next_step) for one in hands.findings)
    assert any("as before" in says for says in hands.forecasts["says"])


@pytest.mark.parametrize(
    ("kind", "hand_slow", "reader_slow"),
    [
        ("days alike", True, False),
        ("readers' days alike", False, True),
        ("lognormal", False, False),
        ("all of it, 100 people", False, False),  # of four readers two change at once, and are seen within days
    ],
)
def test_charts_that_days_make_slow_are_said_to_be(kind: str, *, hand_slow: bool, reader_slow: bool) -> None:
    crew, noise, mishaps = SCORES[kind]
    hands = find_hands(make_place(1001, crew, noise, mishaps, changes_of(1001, crew)).reckoning())
    told = {issue.code: issue.says for issue in hands.issues}
    assert ("hand_charts_slow" in told) is hand_slow
    assert ("reader_charts_slow" in told) is reader_slow
    assert "A hand that changes is seen late or never by scores" in told.get("hand_charts_slow", "") or not hand_slow
    assert "A reader that changes is seen late or never" in told.get("reader_charts_slow", "") or not reader_slow
