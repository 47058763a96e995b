"""Everything about one number: whose it is and was, where it is enrolled, what came under it and was decided."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.today import Today, cases_of
from evenhand.terms.cases import Case
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import told
from evenhand.terms.likeness.explain import KINDS
from evenhand.terms.likeness.slips import slips_toward
from evenhand.terms.records import Finding, Unknown
from evenhand.terms.workplace import not_left

__all__ = ["UNDER_NUMBER", "NumberHub", "number_hub", "numbers_near"]

_INSTANT = "s since 1970-01-01T00:00:00Z"

UNDER_NUMBER = Table(
    "under_number",
    "What came under a number, by reader and by whose it is",
    (
        Column("reader", "text", "At which reader", required=True),
        Column("person", "text", "Whose the accepted ones are; empty where they are nobody's yet, or all were refused"),
        Column("accepted", "count", "How many were accepted", required=True),
        Column("refused", "count", "How many were refused", required=True),
        Column("first_at", "instant", "The first", required=True, unit=_INSTANT),
        Column("last_at", "instant", "The last", required=True, unit=_INSTANT),
    ),
)


@dataclass(frozen=True)
class NumberHub:
    """What is known of a number.

    `holders` (PEOPLE) have it on the roster, `former` (FORMER_NUMBERS) had it there; `enrolments` list it at readers
    now, `gone` (ENROLMENT_HISTORY) did before; `keyed` (UNDER_NUMBER) came under it within the half year looked at;
    `near` tells which numbers of others one slip leads to or from, with whose and which slip; `given` (CORRECTIONS)
    are attributions of punches under it, `ruled_out` (REJECTED_ATTRIBUTIONS) whose they were said not to be.
    """

    number: str
    holders: Sequence[Mapping[str, Any]]
    former: Sequence[Mapping[str, Any]]
    enrolments: Sequence[Mapping[str, Any]]
    gone: Sequence[Mapping[str, Any]]
    keyed: Sequence[Mapping[str, Any]]
    near: Sequence[tuple[str, str, str, str]]
    findings: Sequence[Finding]
    cases: Mapping[str, Case]
    given: Sequence[Mapping[str, Any]]
    ruled_out: Sequence[Mapping[str, Any]]
    names: Mapping[str, str]
    zones: Mapping[str, str]


def number_hub(reckoning: Reckoning, today: Today, number: str) -> NumberHub:
    """Return everything about a number; raises Unknown where it stands nowhere."""
    of, same = reckoning.snapshot, pl.col("number") == number
    holders, former = of.people.filter(same), of.former_numbers.filter(same)
    listed, history = of.enrolments.filter(same), of.enrolment_history.filter(same)
    keyed = _keyed(reckoning, number)
    if all(frame.is_empty() for frame in (holders, former, history, keyed)):
        raise Unknown(
            told(
                '"{number}" is nobody\'s number, is listed at no reader, and was keyed nowhere in half a year.',
                number=number,
            )
        )
    findings = [finding for finding in today.findings if finding.is_under(number)]
    punches = of.recorded.filter(same)["punch"]
    given = of.standing_corrections.filter(pl.col("action") == "attribute", pl.col("punch").is_in(punches.implode()))
    return NumberHub(
        number=number,
        holders=holders.rows(named=True),
        former=former.sort("until", descending=True).rows(named=True),
        enrolments=listed.join(of.readers.select("reader", "site", "place"), on="reader", how="left").rows(named=True),
        gone=history.filter(pl.col("gone_at").is_not_null()).rows(named=True),
        keyed=keyed.rows(named=True),
        near=numbers_near(of.people, reckoning.day, number),
        findings=findings,
        cases=cases_of(today, findings),
        given=_once_each(given),
        ruled_out=of.rejected_attributions.filter(same).rows(named=True),
        names=of.names,
        zones=dict(of.readers.select("reader", "zone").iter_rows()),
    )


def _keyed(reckoning: Reckoning, number: str) -> Frame:
    came = reckoning.snapshot.recorded.filter(pl.col("number") == number)
    whose = reckoning.attribution.attributed.filter(pl.col("punch").is_in(came["punch"].implode()))
    refused = pl.col("outcome") == "refused"
    grouped = (
        came.join(whose.select("punch", pl.col("person").cast(pl.String)), on="punch", how="left")
        .group_by("reader", "person")
        .agg(accepted=(~refused).sum(), refused=refused.sum(), first_at=pl.col("at").min(), last_at=pl.col("at").max())
    )
    return UNDER_NUMBER.check(
        grouped.select(UNDER_NUMBER.names).cast({"accepted": pl.Int64, "refused": pl.Int64}).sort("reader", "person")
    )


def numbers_near(people: Frame, on: date, number: str) -> list[tuple[str, str, str, str]]:
    """Return number, identifier, name and the slip, of everybody here whose number one slip makes this one of."""
    here = people.filter(not_left(on))
    slips = slips_toward(pl.Series([number]), here["number"]).unique("meant", keep="first", maintain_order=True)
    rows = slips.join(here.select("person", "name", meant="number"), on="meant").sort("meant", "person")
    return [
        (meant, person, name, told(KINDS[kind], meant=meant))
        for meant, person, name, kind in rows.select("meant", "person", "name", "kind").iter_rows()
    ]


def _once_each(given: Frame) -> list[dict[str, Any]]:
    """Return attributions of many punches that were made together as one, with how many they are of, newest first."""
    said = ["person", "author", "reason", "made_at"]
    grouped = given.group_by(said).agg(pl.col("correction").max(), punches=pl.len())
    return grouped.sort("made_at", "correction", descending=True).rows(named=True)
