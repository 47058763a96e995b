"""Facts for a case, from a few lines of TOML: what a case leaves out is empty or usual."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

import polars as pl

from evenhand import reconcile, scores
from evenhand.checks import Facts
from evenhand.enrolment.proof import PROOF
from evenhand.jobs.consents import another_way
from evenhand.records import consent as records
from evenhand.records.retention import REMOVALS
from evenhand.terms.closing import ClosedPeriod
from evenhand.terms.columns import Frame, Table
from evenhand.terms.consent import CONSENT_DECISIONS, CONSENT_TAKES, EARLY_ENROLMENTS
from evenhand.terms.files_told import CLOCK_CHANGES, FILES, GONE_PEOPLE, NUMBERS_TOLD, TAKE_SPANS, WRITTEN_ZONES
from evenhand.terms.handed_off import CLOSED_CHANGES
from evenhand.terms.hours import BREACHES, ELSEWHERE, PROPOSALS, QUESTIONS, WEEKS
from evenhand.terms.records import WaitingFile, WatchedFolder
from evenhand.terms.settings import PayPeriod, Period, Settings, SiteRules
from evenhand.terms.signing import OPEN_DISPUTES, UNAPPROVED, UNDONE_SIGNOFFS
from evenhand.terms.sources import CONSENT, EARNINGS, ENROLMENTS, PEOPLE, READERS, SCHEDULES
from evenhand.terms.supervision import OWN_DECISIONS, UNCOVERED
from evenhand.terms.tables import CORRECTIONS, NUMBER_DOUBTS, OVERTAKEN_ATTRIBUTIONS, RECORDED
from evenhand.terms.wages import PAY_FAULTS, PAY_WEEKS, ROUNDING

ZONE = "America/Chicago"
FIRST, LAST = date(2026, 3, 1), date(2026, 3, 7)  # Sunday to Saturday
TODAY = date(2026, 3, 9)
AS_OF = "2026-03-09 09:00"
READER = {"reader": "North", "site": "Mill", "zone": ZONE}


def instant(text: str, zone: str = ZONE) -> int:
    """Return the instant of a civil time such as 2026-03-04 07:58."""
    return int(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).timestamp())


TAPPED = pl.DataFrame(schema={"reader": pl.String, "number": pl.String, "at": pl.Int64, "may": pl.Boolean})


def facts_of(case: dict[str, Any]) -> Facts:
    """Return the facts of a case; discrepancies, steps and attributions are worked out from its people and readers."""
    people = PEOPLE.rows({"site": "Mill"} | row for row in case.get("people", []))
    readers = READERS.rows(READER | row for row in case.get("readers", [{}]))
    enrolments = ENROLMENTS.rows({"reader": "North"} | row for row in case.get("enrolments", []))
    recorded = _rows(RECORDED, _punches(case.get("punches", [])))
    attribution = reconcile.attribute(recorded, people, readers, CORRECTIONS.empty())
    logs = _logs(case, recorded, people, readers)
    seen = reconcile.count_seen(recorded)
    states = _states(case, people)
    no_hand = another_way(states)
    found = reconcile.compare(people, readers, enrolments, seen, attribution.unattributed, as_of=TODAY)
    discrepancies = reconcile.with_releases(found, people, enrolments, no_hand, as_of=TODAY)
    rules = {site: SiteRules(site, ZONE) for site in case.get("sites", ["Mill"])}
    return Facts(
        as_of=instant(case.get("as_of", AS_OF)),
        today=TODAY,
        zone=ZONE,
        settings=Settings(
            "Mill and sons",
            PayPeriod(FIRST),
            rules,
            handoff_columns=tuple((field, field) for field in case.get("columns", [])),
        ),
        period=Period(FIRST, LAST, instant("2026-03-09 12:00")),
        people=people,
        readers=readers,
        enrolments=enrolments,
        recorded=recorded,
        seen=seen,
        attributed=attribution.attributed,
        unattributed=attribution.unattributed,
        consent=states,
        early_enrolments=EARLY_ENROLMENTS.rows(case.get("early", [])),
        discrepancies=discrepancies,
        reader_steps=reconcile.reader_steps(people, readers, enrolments, discrepancies, as_of=TODAY),
        weeks=_rows(WEEKS, case.get("weeks", [])),
        questions=_rows(QUESTIONS, case.get("questions", [])),
        settled=dict.fromkeys(case.get("settled", []), instant(case.get("settled_at", AS_OF))),
        proposals=_rows(PROPOSALS, case.get("proposals", [])),
        breaches=_rows(BREACHES, case.get("breaches", [])),
        elsewhere=_rows(ELSEWHERE, case.get("elsewhere", [])),
        assumed_sites=frozenset(case.get("assumed", [])),
        proof=_rows(PROOF, case.get("proof", [])),
        pay_weeks=PAY_WEEKS.rows(map(_in_decimal, case.get("pay_weeks", []))),
        pay_faults=PAY_FAULTS.rows(map(_in_decimal, case.get("pay_faults", []))),
        rounding=ROUNDING.rows(map(_in_decimal, case.get("rounding", []))),
        health=pl.concat([logs.health, _rows(scores.READER_HEALTH, case.get("health", []))]),
        refused_hands=logs.refused_hands,
        alarms=_rows(scores.ALARMS, case.get("alarms", [])),
        forecasts=_rows(scores.FORECASTS, case.get("forecasts", [])),
        watched=_watched(case.get("watched", {})),
        files=FILES.rows(case.get("files", [])),
        gone_people=_rows(GONE_PEOPLE, case.get("gone_people", [])),
        clock_changes=CLOCK_CHANGES.rows(case.get("clock_changes", [])),
        written_zones=WRITTEN_ZONES.rows(case.get("written_zones", [])),
        numbers_told=NUMBERS_TOLD.rows(case.get("numbers_told", _numbers_told(people, enrolments))),
        take_spans=_take_spans(recorded),
        closed=_closed(case.get("closed", []), case.get("handed_off", [date(2026, 2, 15), date(2026, 2, 22)])),
        gaps=_gaps(case, recorded, attribution.attributed, people, readers),
        overtaken=_rows(OVERTAKEN_ATTRIBUTIONS, case.get("overtaken", [])),
        undone=_rows(UNDONE_SIGNOFFS, case.get("undone", [])),
        unapproved=UNAPPROVED.rows(case.get("unapproved", [])),
        disputes=_rows(OPEN_DISPUTES, case.get("disputes", [])),
        supervision=reconcile.supervision(
            reconcile.AuthorityTold(people, readers, enrolments, TAPPED),
            recorded,
            reconcile.holders(recorded, people, readers),
            today=TODAY,
        ),
        uncovered=UNCOVERED.rows(case.get("uncovered", [])),
        own_decisions=_rows(OWN_DECISIONS, case.get("own_decisions", [])),
        removals=REMOVALS.rows(map(_dated, case.get("removals", []))),
        number_doubts=NUMBER_DOUBTS.rows(case.get("number_doubts", [])),
    )


def _states(case: dict[str, Any], people: Frame) -> Frame:
    """How people stand by `consent` (CONSENT), `said` (CONSENT_DECISIONS) and `versions` of the policy, at the Mill."""
    said = CONSENT_DECISIONS.rows(
        {"decision": number, "how": "paper", "author": "Ada", "made_at": number, **row}
        for number, row in enumerate(case.get("said", []), start=1)
    )
    history = records.history_of(CONSENT.rows(case.get("consent", [])), CONSENT_TAKES.empty(), said, {})
    versions = [records.Version(**row) for row in case.get("versions", [])]
    required = {"Mill": case.get("required", True)}
    return records.states_of(people, history, {"Mill": versions}, required, on=TODAY)


def _dated(row: dict[str, Any]) -> dict[str, Any]:
    usual = {"rule": "on the end of the purpose", "started_on": row["day"], "cites": "common practice, no source"}
    days = ("day", "started_on", "purpose_ended")
    said = {**usual, "is_listed": True, **row}
    return said | {name: date.fromisoformat(said[name]) for name in days if isinstance(said.get(name), str)}


def _closed(rows: list[dict[str, Any]], handed_off: list[date]) -> tuple[ClosedPeriod, ...]:
    """The weeks handed off, which begin on these days; `rows` have changed in the first."""
    if not handed_off:
        return ()
    first = handed_off[0]
    nothing = {"seconds_before": 0, "seconds_after": 0, "amount_before": "0", "amount_after": "0"}
    told = ({"workweek": first, **nothing, **row} for row in rows)
    changes = CLOSED_CHANGES.rows(
        {name: Decimal(value) if name.startswith("amount") else value for name, value in row.items()} for row in told
    )
    nothing_changed = changes.clear()
    return tuple(
        ClosedPeriod(
            4 + n, day, day + timedelta(days=6), "hours.csv", "Ada", 0, True, nothing_changed if n else changes
        )
        for n, day in enumerate(handed_off)
    )


def _gaps(case: dict[str, Any], recorded: Frame, attributed: Frame, people: Frame, readers: Frame) -> Frame:
    known = reconcile.Attendance(
        recorded=recorded,
        attributed=attributed,
        people=people,
        readers=readers,
        schedules=_rows(SCHEDULES, case.get("schedules", [])),
        earnings=EARNINGS.rows(case.get("earnings", [])),
        take_spans=_take_spans(recorded),
        zones={"Mill": ZONE},
    )
    return reconcile.find_gaps(known, FIRST, LAST)


def _numbers_told(people: Frame, enrolments: Frame) -> list[dict[str, Any]]:
    """Return that the roster was take 1 and the readers' lists take 2."""
    told = (("people", 1, people), ("enrolments", 2, enrolments))
    return [
        {"take": take, "table": table, "number": number}
        for table, take, frame in told
        for number in frame["number"].drop_nulls().unique(maintain_order=True)
    ]


def _take_spans(recorded: Frame) -> Frame:
    told = recorded.group_by("reader", take=pl.col("punch") // (1 << 32), maintain_order=True)
    spans = told.agg(first_at=pl.col("at").min(), last_at=pl.col("at").max())
    return TAKE_SPANS.frame(spans.to_dict(as_series=True))


def _watched(told: dict[str, Any]) -> WatchedFolder:
    waiting = (
        WaitingFile(**{"key": "a1", "size": 90, "is_watched": True, **one, "since": instant(one["since"])})
        for one in told.get("waiting", [])
    )
    return WatchedFolder(told.get("path", ""), told.get("problem", ""), tuple(waiting))


def _logs(case: dict[str, Any], recorded: Frame, people: Frame, readers: Frame) -> scores.ReaderLogs:
    held = reconcile.holders(recorded, people, readers)
    unknown = pl.Series([None] * recorded.height, dtype=pl.Int64)
    presented = scores.presentations_of(recorded, held, readers, unknown)
    sites = dict(readers.select("reader", "site").iter_rows())
    return scores.ReaderLogs(presented, sites, instant(case.get("as_of", AS_OF)), TODAY)


MONEY = ("total_pay", "amount", "money", "overtime_money")


def _in_decimal(row: dict[str, Any]) -> dict[str, Any]:
    return {name: Decimal(value) if name in MONEY else value for name, value in row.items()}


def _rows(table: Table, rows: list[dict[str, Any]]) -> Frame:
    instants = {column.name for column in table.columns if column.kind == "instant"}
    return table.rows(
        {name: instant(value) if name in instants and isinstance(value, str) else value for name, value in row.items()}
        for row in rows
    )


def _punches(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Number the punches; `times` repeats a row, `every` minutes apart (10 where not given); `take` brought them."""
    punches: list[dict[str, Any]] = []
    for row in rows:
        plain = {name: value for name, value in row.items() if name not in ("times", "every", "take")}
        take = row.get("take", 0)
        begins = datetime.fromisoformat(row["at"])
        for again in range(row.get("times", 1)):
            at = begins + timedelta(minutes=again * row.get("every", 10))
            punches.append(
                {"reader": "North", **plain, "at": at.isoformat(" "), "punch": (take << 32) + len(punches) + 1}
            )
    return punches
