"""Who has answered a version of the policy and who is still to be asked, by site, department and shift."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from evenhand.jobs.consent_versions import PolicyVersion, people_asked, sheet_secrets
from evenhand.jobs.consents import consent_states
from evenhand.jobs.snapshot import Snapshot
from evenhand.records.consent import code_of
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.consent import OTHER_WAY
from evenhand.terms.zones import day_start

__all__ = ["ASKED", "CAMPAIGN", "Campaign", "SiteProgress", "campaign_of"]

ASKED = ("agreed", "to ask", "said no")
NEAR = timedelta(days=14)

CAMPAIGN = Table(
    "campaign",
    "Everybody who is asked to agree to a version of the policy, by site, department, shift and name",
    (
        Column("person", "text", "The person", required=True),
        Column("name", "text", "The person's name"),
        Column("site", "text", "The site"),
        Column("department", "text", "The department"),
        Column("shift", "text", "When most of the person's shifts of these weeks begin, as HH:MM in the site's zone"),
        Column("answer", "text", "What became of asking", required=True, allowed=ASKED),
        Column("kind", "text", "How the person stands today", required=True),
        Column("said_on", "date", "Since when"),
        Column("due_by", "date", "The last day on which an earlier release counts, where one does"),
        Column("code", "text", "The code on the person's sheet of this version", required=True),
    ),
    key=("person",),
)


@dataclass(frozen=True)
class SiteProgress:
    """How far asking has come at a site."""

    site: str
    agreed: int
    to_ask: int
    said_no: int

    @property
    def everybody(self) -> int:
        """Return how many are asked there."""
        return self.agreed + self.to_ask + self.said_no


@dataclass(frozen=True)
class Campaign:
    """A version, and everybody who is asked to agree to it (CAMPAIGN)."""

    version: PolicyVersion
    rows: Frame

    @property
    def to_ask(self) -> Frame:
        """Return who is still to be asked."""
        return self.rows.filter(pl.col("answer") == "to ask")

    def sites(self) -> list[SiteProgress]:
        """Return how far asking has come, by site."""
        counted = Counter((row["site"] or "", row["answer"]) for row in self.rows.iter_rows(named=True))
        sites = sorted({site for site, _ in counted})
        return [SiteProgress(site, *(counted[site, answer] for answer in ASKED)) for site in sites]

    @property
    def whole(self) -> SiteProgress:
        """Return how far asking has come everywhere."""
        counted = Counter(self.rows["answer"].to_list())
        return SiteProgress("", *(counted[answer] for answer in ASKED))


def campaign_of(snapshot: Snapshot, version: PolicyVersion, on: date, states: Frame | None = None) -> Campaign:
    """Return who of those here on a day has agreed to the version, is to be asked, or said no.

    Whoever said no to an earlier version, or chose another way, has answered and is not asked again. `states` are
    everybody's (CONSENT_STATES) on that day, where they are known.
    """
    states = consent_states(snapshot, on) if states is None else states
    stands = {row["person"]: row for row in states.iter_rows(named=True)}
    agreed_to = version.agreed_to(snapshot)
    people = people_asked(snapshot, version, on)
    shifts = _shifts(snapshot, on, people["person"].to_list())
    rows, secret = [], sheet_secrets(snapshot)[version.policy]
    for who in people.iter_rows(named=True):
        state = stands[who["person"]]
        said_no = state["kind"] in OTHER_WAY
        has_agreed = state["policy"] in agreed_to and state["ended_on"] is None and state["kind"] != "nothing"
        rows.append(
            {
                "answer": "said no" if said_no else "agreed" if has_agreed else "to ask",
                "shift": shifts.get(who["person"]),
                "code": code_of(version.digest, who["person"], secret),
                **{name: who[name] for name in ("person", "name", "site", "department")},
                **{name: state[name] for name in ("kind", "said_on")},
                "due_by": None if said_no or has_agreed else version.renew_by,
            }
        )
    order = ["site", "department", "shift", "name", "person"]
    return Campaign(version, CAMPAIGN.rows(rows).sort(order, nulls_last=True))


def _shifts(snapshot: Snapshot, on: date, people: Collection[str]) -> dict[str, str]:
    """Return when most of each person's shifts around a day begin, in the zone of the site."""
    since, until = (day_start(snapshot.zone, day) for day in (on - NEAR, on + NEAR))
    zones = {site: rules.zone for site, rules in snapshot.rules.items()}
    zone = pl.col("site").fill_null("").replace_strict(zones, default=snapshot.zone, return_dtype=pl.String)
    near = (
        snapshot.schedules.filter(pl.col("starts_at").is_between(since, until), pl.col("person").is_in(list(people)))
        .join(snapshot.people.select("person", zone=zone), on="person")
        .select("person", "zone", begins=pl.from_epoch("starts_at", time_unit="s").dt.replace_time_zone("UTC"))
    )
    times = [
        rows.select("person", time=pl.col("begins").dt.convert_time_zone(str(name)).dt.strftime("%H:%M"))
        for (name,), rows in near.partition_by("zone", as_dict=True).items()
    ]
    if not times:
        return {}
    often = pl.concat(times).group_by("person", "time").len().sort("len", "time", descending=[True, False])
    return dict(often.unique("person", keep="first", maintain_order=True).select("person", "time").iter_rows())
