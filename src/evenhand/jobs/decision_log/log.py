"""Put the decision log together, narrow it down, and give it away as a file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime

import polars as pl

from evenhand.jobs.decision_log import of_people, of_punches, of_workplace
from evenhand.jobs.decision_log.columns import LOG, LOG_KINDS
from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.csv_text import MARK, as_csv
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["LogAsked", "decision_log", "log_as_csv", "narrowed"]

PARTS = (
    of_punches.corrections,
    of_punches.ruled_out,
    of_punches.hours_owed,
    of_people.consents,
    of_people.signoffs,
    of_people.disputes,
    of_people.suggestions,
    of_people.holds,
    of_workplace.settled,
    of_workplace.hand_offs,
    of_workplace.files,
    of_workplace.policies,
    of_workplace.erasures,
    of_workplace.rounds,
    of_workplace.teaching,
    of_workplace.settings,
)


@dataclass(frozen=True)
class LogAsked:
    """Which decisions are wanted; what is empty narrows nothing down.

    `person` is an identifier, a number or a name that only one person has; `day` the one on which it was decided at the
    workplace, or that it is about.
    """

    person: str = ""
    author: str = ""
    kind: str = ""
    day: date | None = None


def decision_log(reckoning: Reckoning) -> Frame:
    """Return every decision (LOG), the newest first."""

    def make() -> Frame:
        every = pl.concat([part(reckoning.snapshot) for part in PARTS])
        # Running numbers are in order within a table; of one instant the later one stands first.
        order = pl.col("number").str.to_integer(strict=False).fill_null(0)
        return LOG.check(every.sort("made_at", "table", order, descending=[True, False, True]))

    return reckoning.part("decision log", make)


def narrowed(reckoning: Reckoning, asked: LogAsked) -> Frame:
    """Return the decisions (LOG) that are wanted; raises Refusal where a kind is none, or nobody is meant."""
    log = decision_log(reckoning)
    if asked.kind:
        if asked.kind not in LOG_KINDS:
            raise Refusal(
                told(
                    '"{kind}" is no kind of decision; these are: {known:listed 99}.',
                    kind=asked.kind,
                    known=[told(kind) for kind in LOG_KINDS],
                )
            )
        log = log.filter(pl.col("kind") == asked.kind)
    if asked.author:
        log = log.filter(pl.col("author") == asked.author)
    if asked.person:
        log = log.filter(pl.col("person") == reckoning.snapshot.find_person(asked.person)["person"])
    if asked.day:
        made_on = civil_days(log["made_at"], pl.repeat(reckoning.zone, log.height, dtype=pl.String, eager=True))
        log = log.filter((pl.col("day") == asked.day).fill_null(value=False) | (made_on == asked.day))
    return log


def log_as_csv(log: Frame, names: Mapping[str, str]) -> str:
    """Return decisions (LOG) as comma-separated text, instants in UTC, with the name beside each identifier."""
    header = [name for name in LOG.names if name not in ("table", "count")]
    at, who = header.index("made_at"), header.index("person")
    rows = []
    for row in log.select(header).iter_rows():
        made_at = datetime.fromtimestamp(row[at], UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        rows.append([*row[:at], made_at, *row[at + 1 : who + 1], names.get(row[who], ""), *row[who + 1 :]])
    header.insert(who + 1, "name")
    return MARK + as_csv(header, rows)
