"""Every decision stands in one log, with of whom it is, what it is about, and whether it stands."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from string import Formatter
from typing import Any

import polars as pl
import pytest

from evenhand.jobs.decision_log import LOG_KINDS, LogAsked, decision_log, decision_told, log_as_csv, narrowed
from evenhand.jobs.decision_log.in_words import PATTERNS
from evenhand.jobs.decision_log.of_workplace import CAME
from evenhand.jobs.holds import decide_hold
from evenhand.jobs.languages import say_in
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, kept
from evenhand.store.tables import DECISIONS
from evenhand.terms.columns import Table
from evenhand.terms.consent import CONSENT_DECISIONS, CONSENT_POLICIES
from evenhand.terms.files_told import SETTINGS_NOTICED
from evenhand.terms.languages import Sentence, told
from evenhand.terms.own_steps import OWN_STEPS
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.retention import ERASURES, HOLDS
from evenhand.terms.rounds import OUTCOMES, RESULTS, ROUND_ITEMS, ROUNDS
from evenhand.terms.signing import DISPUTE_ANSWERS, DISPUTES, SIGNOFFS
from evenhand.terms.suggestions import SUGGESTION_ANSWERS, SUGGESTIONS
from evenhand.terms.tables import CORRECTIONS, PREMIUM_DECISIONS, REJECTED_ATTRIBUTIONS
from evenhand.terms.teaching import PRACTICES
from tests.jobs.workplaces import made

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
AT = int(NOW.timestamp())
SAID = {"author": "R. Hale", "reason": "seen leaving", "made_at": AT, "withdraws": None, "holder": None}


@pytest.fixture
def mill(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


def correct(workspace: Workspace, *rows: dict[str, Any]) -> list[int]:
    whole = [{"punch": None, "at": None, "direction": None, **SAID, **row} for row in rows]
    with workspace.store.writing() as conn:
        return decisions.add_corrections(conn, whole)


def log_of(workspace: Workspace) -> pl.DataFrame:
    log = decision_log(reckon_period(workspace, NOW))
    rows = log.filter(pl.col("table") != "settled").iter_rows(named=True)
    assert all(isinstance(decision_told(row["table"], row["says"]), Sentence) for row in rows)  # in any language
    return log


def of_kind(workspace: Workspace, kind: str) -> list[dict[str, Any]]:
    return log_of(workspace).filter(pl.col("kind") == kind).rows(named=True)


PLAUSIBLE = {
    "date": date(2026, 11, 4),
    "instant": AT,
    "seconds": 60,
    "count": 1,
    "score": 1.0,
    "yes_no": False,
    "money": Decimal(1),
}
TABLES: dict[str, Table] = {
    **{table.name: table for table in (CORRECTIONS, PREMIUM_DECISIONS, REJECTED_ATTRIBUTIONS, CONSENT_POLICIES)},
    **{table.name: table for table in (CONSENT_DECISIONS, SIGNOFFS, DISPUTES, DISPUTE_ANSWERS, HOLDS, ERASURES)},
    **{table.name: table for table in (kept.SETTLED, kept.HANDOFFS, kept.ADJUSTMENTS, kept.TAKE_DECISIONS)},
    **{table.name: table for table in (ROUNDS, ROUND_ITEMS, OUTCOMES, SETTINGS_NOTICED, SUGGESTIONS)},
    **{table.name: table for table in (SUGGESTION_ANSWERS, PRACTICES, OWN_STEPS)},
}


def test_no_table_in_which_people_decide_is_left_out(mill: Workspace) -> None:
    def row(table: Table) -> dict[str, Any]:
        return {one.name: one.allowed[0] if one.allowed else PLAUSIBLE.get(one.kind, "x") for one in table.columns}

    reckoning = reckon_period(mill, NOW)
    one_of_each = {name: table.rows([row(table)]) for name, table in TABLES.items()}
    log = decision_log(Reckoning(replace(reckoning.snapshot, **one_of_each), NOW))
    assert set(log["table"]) == {*DECISIONS, "rounds", "outcomes", "settings_texts"}
    assert set(log["kind"]) == set(LOG_KINDS)
    assert log["count"].to_list() == [1] * log.height


def test_a_correction_tells_its_day_and_time_on_the_persons_clock(mill: Workspace) -> None:
    # 17:30 of 4 November in New York, five hours behind, is 22:30 in UTC.
    at = int(datetime(2026, 11, 4, 22, 30, tzinfo=UTC).timestamp())
    correct(mill, {"action": "add", "person": "P3", "at": at, "direction": "out"})
    (row,) = of_kind(mill, "correction")
    assert (row["says"], row["day"]) == ("a punch added at 17:30, out", date(2026, 11, 4))
    assert (row["person"], row["author"], row["reason"], row["stands"]) == ("P3", "R. Hale", "seen leaving", True)


def test_what_is_taken_back_stands_no_longer_and_again_once_that_is_taken_back(mill: Workspace) -> None:
    (first,) = correct(mill, {"action": "add", "person": "P3", "at": AT - 86_400, "direction": "out"})
    (second,) = correct(mill, {"action": "withdraw", "person": "P3", "withdraws": first})
    standing = {row["number"]: (row["stands"], row["taken_back_by"]) for row in of_kind(mill, "correction")}
    assert standing == {str(first): (False, str(second)), str(second): (True, None)}
    (third,) = correct(mill, {"action": "withdraw", "person": "P3", "withdraws": second})
    standing = {row["number"]: (row["stands"], row["taken_back_by"]) for row in of_kind(mill, "correction")}
    assert standing == {str(first): (True, None), str(second): (False, str(third)), str(third): (True, None)}
    # all of them are about the day of the punch
    assert {row["day"] for row in of_kind(mill, "correction")} == {date(2026, 11, 8)}


def test_punches_given_together_are_one_decision(mill: Workspace) -> None:
    recorded = reckon_period(mill, NOW).snapshot.recorded.filter(pl.col("number") == "7315")
    given = [{"action": "attribute", "person": "P1", "punch": punch} for punch in recorded["punch"]]
    correct(mill, *given)
    (row,) = of_kind(mill, "attribution")
    assert (row["count"], row["person"], row["about"]) == (4, "P1", "GATE/7315")
    assert row["says"] == "4 punches under 7315 at GATE given to this person"


def test_punches_given_and_returned_stand_no_longer_and_the_person_is_told_of_both(mill: Workspace) -> None:
    punches = reckon_period(mill, NOW).snapshot.recorded.filter(pl.col("number") == "7315")["punch"].to_list()
    early, late = punches[:2], punches[2:]
    first = correct(mill, *({"action": "attribute", "person": "P1", "punch": punch} for punch in early))
    second = correct(mill, *({"action": "attribute", "person": "P1", "punch": one, "made_at": AT + 60} for one in late))
    back = {"action": "attribute", "person": "", "made_at": AT + 120}
    returned = correct(mill, *({**back, "punch": punch} for punch in early + late))
    of_person = narrowed(reckon_period(mill, NOW), LogAsked(person="P1", kind="attribution"))
    assert of_person.select("number", "count", "stands", "taken_back_by").rows() == [
        (str(returned[-1]), 4, True, None),
        (str(second[-1]), 2, False, str(returned[-1])),
        (str(first[-1]), 2, False, str(returned[-1])),
    ]
    # Given again, the return counts no longer; that taken back, it counts again.
    again = correct(mill, *({"action": "attribute", "person": "P3", "punch": punch} for punch in punches))
    standing = {row["number"]: (row["stands"], row["taken_back_by"]) for row in of_kind(mill, "attribution")}
    assert standing[str(returned[-1])] == (False, str(again[-1]))
    correct(mill, *({"action": "withdraw", "person": "P3", "withdraws": one} for one in again))
    standing = {row["number"]: (row["stands"], row["taken_back_by"]) for row in of_kind(mill, "attribution")}
    assert standing[str(returned[-1])] == (True, None)


def test_punches_given_in_part_to_another_stand_in_part(mill: Workspace) -> None:
    punches = reckon_period(mill, NOW).snapshot.recorded.filter(pl.col("number") == "7315")["punch"].to_list()
    given = correct(mill, *({"action": "attribute", "person": "P1", "punch": punch} for punch in punches))
    correct(mill, {"action": "attribute", "person": "P3", "punch": punches[0]})
    standing = {row["number"]: (row["stands"], row["taken_back_by"]) for row in of_kind(mill, "attribution")}
    assert standing[str(given[-1])] == (True, None)


def test_the_last_word_counts_where_there_are_several(mill: Workspace) -> None:
    with mill.store.writing() as conn:
        for at, is_withdrawn in ((AT, False), (AT + 60, True)):
            said = {"author": "R. Hale", "reason": "was ill", "made_at": at, "is_withdrawn": is_withdrawn}
            decisions.add_settled(conn, finding="no_punches/P3/2026-11-04", says="P3 left no punch.", **said)
    newer, older = of_kind(mill, "settlement")
    assert (newer["says"], newer["stands"]) == ("opened again: no_punches/P3/2026-11-04", True)
    assert (older["says"], older["stands"]) == ("P3 left no punch.", False)
    assert {(row["person"], row["day"]) for row in (newer, older)} == {("P3", date(2026, 11, 4))}
    decide_hold(mill, "P2", is_lifted=False, author="R. Hale", reason="a suit", as_of=NOW)
    (hold,) = of_kind(mill, "legal hold")
    assert (hold["says"], hold["person"], hold["stands"]) == ("legal hold 1 placed", "P2", True)
    decide_hold(mill, "P2", is_lifted=False, author="R. Hale", reason="an audit", as_of=NOW)
    decide_hold(mill, "P2", is_lifted=True, author="R. Hale", reason="over", as_of=NOW, hold=1)
    told = {(row["says"], row["stands"]) for row in of_kind(mill, "legal hold")}
    assert told == {("legal hold 1 placed", False), ("legal hold 2 placed", True), ("legal hold 1 lifted", True)}


@pytest.fixture
def decided(mill: Workspace) -> Reckoning:
    out = {"action": "add", "person": "P3", "at": int(datetime(2026, 11, 4, 22, 30, tzinfo=UTC).timestamp())}
    correct(mill, {**out, "reason": '=cmd|"x"'}, {**out, "person": "P1", "author": "A. Lind"})
    decide_hold(mill, "P2", is_lifted=False, author="A. Lind", reason="a suit", as_of=NOW)
    return reckon_period(mill, NOW)


@pytest.mark.parametrize(
    ("asked", "people"),
    [
        (LogAsked(person="P3"), ["P3"]),
        (LogAsked(person="marlow"), ["P1"]),
        (LogAsked(author="A. Lind"), ["P1", "P2"]),
        (LogAsked(kind="legal hold"), ["P2"]),
        (LogAsked(day=date(2026, 11, 4)), ["P1", "P3"]),
        (LogAsked(day=date(2026, 11, 9)), ["P1", "P2", "P3"]),
        (LogAsked(author="A. Lind", kind="correction"), ["P1"]),
        (LogAsked(author="nobody"), []),
    ],
)
def test_decisions_are_narrowed_down(decided: Reckoning, asked: LogAsked, people: list[str]) -> None:
    found = narrowed(decided, asked).filter(pl.col("kind") != "settings")
    assert sorted(found["person"]) == people


def test_what_cannot_be_meant_is_refused(decided: Reckoning) -> None:
    with pytest.raises(Refusal, match='"guess" is no kind of decision; these are: correction, '):
        narrowed(decided, LogAsked(kind="guess"))
    with pytest.raises(Unknown):
        narrowed(decided, LogAsked(person="nobody at all"))


def test_the_file_tells_the_same_and_begins_no_formula(decided: Reckoning) -> None:
    text = log_as_csv(narrowed(decided, LogAsked(person="P3")), decided.snapshot.names)
    (row,) = csv.DictReader(io.StringIO(text.removeprefix("\ufeff")))
    assert (row["person"], row["name"], row["made_at"]) == ("P3", "Lena Fisk", "2026-11-09T14:00:00Z")
    assert row["reason"] == '\'=cmd|"x"'  # OWASP, CSV Injection
    assert row["stands"] == "true"


def test_every_outcome_of_a_turn_is_said_in_words() -> None:
    assert set(CAME) == set(RESULTS)
    assert not any("_" in words for words in CAME.values())


def test_the_log_follows_what_is_decided(mill: Workspace) -> None:
    before = reckon_period(mill, NOW)
    assert decision_log(before).filter(pl.col("kind") == "correction").is_empty()
    correct(mill, {"action": "add", "person": "P3", "at": AT})
    after = before.following(reckon_period(mill, NOW).snapshot, NOW)
    assert decision_log(after).filter(pl.col("kind") == "correction").height == 1


@pytest.mark.parametrize(("table", "pattern"), [(table, one) for table, every in PATTERNS.items() for one in every])
def test_what_a_decision_says_is_found_again_by_the_pattern_that_made_it(table: str, pattern: str) -> None:
    given = {name: f"<{name}>" for _, name, _, _ in Formatter().parse(pattern) if name}
    made = told(pattern, **given)
    again = decision_told(table, str(made))
    assert isinstance(again, Sentence)
    assert (again.pattern, again, dict(again.given)) == (pattern, made, given)


def test_a_decision_that_no_pattern_made_stays_as_it_was_written() -> None:
    assert decision_told("settled", "Bram Ostler has no punch out.") == "Bram Ostler has no punch out."
    assert decision_told("consent_decisions", "agreed to the policy on hands, paper") == (
        "agreed to the policy on hands, paper"
    )
    spanish = say_in("es").written(decision_told("consent_decisions", "agreed to the policy on hands, paper"))
    assert spanish == "aceptó la política sobre las manos, en papel"
