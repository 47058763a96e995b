"""How everybody stands with the policy on hands: the versions, one history per person, whose hand is withheld."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from evenhand.jobs.consent_versions import OnFile, policies_at, policy_versions
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.records.consent import (
    early_enrolments,
    history_of,
    states_of,
)
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.consent import EARLY_ENROLMENTS, ENROLLED_AT, IN_FORCE, OTHER_WAY, stands_in_words
from evenhand.terms.languages import told
from evenhand.terms.zones import civil_date

__all__ = [
    "HandsGiven",
    "another_way",
    "consent_history",
    "consent_states",
    "early_hands",
    "hands_given",
    "states_now",
    "why_withheld",
    "withheld",
]


@dataclass(frozen=True)
class HandsGiven:
    """How everybody stands on a day (CONSENT_STATES), and hands that came before their release (EARLY_ENROLMENTS)."""

    states: Frame
    early: Frame

    @property
    def another_way(self) -> dict[str, str]:
        """Return who clocks another way by their own word, with that word."""
        return another_way(self.states)


def consent_history(snapshot: OnFile) -> Frame:
    """Return all that is known of what people said (CONSENT_HISTORY): of a form's versions the last one counts."""
    forms = {form.casefold(): one.policy for one in policy_versions(snapshot) for form in one.file.forms}
    return history_of(snapshot.consent, snapshot.consent_takes, snapshot.consent_decisions, forms)


def consent_states(snapshot: OnFile, on: date, at: int | None = None, *, history: Frame | None = None) -> Frame:
    """Return how everybody on the roster stands on a civil day, or at an instant of it (CONSENT_STATES)."""
    versions, rules = policy_versions(snapshot), snapshot.settings.consent
    sites: list[str | None] = snapshot.people["site"].unique().to_list()
    by_site = {site: [one.as_version for one in policies_at(snapshot, versions, site)] for site in sites}
    required = {site: rules.at(site).is_required for site in sites}
    said = consent_history(snapshot) if history is None else history
    ended = dict(snapshot.earlier_last_days.iter_rows())
    return states_of(snapshot.people, said, by_site, required, ended, on=on, at=at)


def states_now(reckoning: Reckoning) -> Frame:
    """Return how everybody stands on the day of the reckoning (CONSENT_STATES), worked out once."""
    return reckoning.part(("consent states", reckoning.day), lambda: consent_states(reckoning.snapshot, reckoning.day))


def hands_given(reckoning: Reckoning) -> HandsGiven:
    """Return how everybody stands on the day of the reckoning, and whose hand came before their release."""

    def make() -> HandsGiven:
        history, states = consent_history(reckoning.snapshot), states_now(reckoning)
        return HandsGiven(states, early_hands(reckoning.snapshot, history, states))

    return reckoning.part(("hands given", reckoning.day), make)


def early_hands(snapshot: Snapshot, history: Frame, states: Frame) -> Frame:
    """Return the hands enrolled or first presented before a release that is in force now (EARLY_ENROLMENTS)."""
    agreed = states.filter(pl.col("is_required"), pl.col("kind").is_in(IN_FORCE)).select("person")
    if agreed.is_empty():
        return EARLY_ENROLMENTS.empty()
    return early_enrolments(history, _enrolled(snapshot).join(agreed, on="person", how="semi"))


def _enrolled(snapshot: Snapshot) -> Frame:
    """Return when hands were enrolled, by the readers' lists and by rounds, or first presented (ENROLLED_AT)."""
    here = snapshot.people.filter(pl.col("left_on").is_null()).drop_nulls("number")
    alone = here.unique("number", keep="none").select("person", "number", "hired_on")
    listed = snapshot.enrolments.join(alone, on="number")
    dated = listed.drop_nulls("enrolled_on").rows(named=True)
    rows = [{"tells": "reader's list", "day": row["enrolled_on"], **_where(row)} for row in dated]
    zones = dict(snapshot.readers.select("reader", "zone").iter_rows())
    rows += _first_presented(snapshot, listed.filter(pl.col("enrolled_on").is_null()), zones)
    tapped = snapshot.outcomes.filter(pl.col("result") == "enrolled").join(snapshot.round_items, on="item")
    rows += [
        {
            "tells": "round",
            "at": row["made_at"],
            "day": civil_date(zones.get(row["reader"]) or snapshot.zone, row["made_at"]),
            **_where(row),
        }
        for row in tapped.drop_nulls("person").rows(named=True)
    ]
    return ENROLLED_AT.rows(rows)


def _first_presented(snapshot: Snapshot, undated: Frame, zones: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the first presentation in the logs read under numbers whose enrolment the reader's list does not date.

    Only from the day on which the person was hired: before it the number may have been somebody else's.
    """
    known = undated.drop_nulls("hired_on").select("person", "number", "reader", "hired_on")
    if known.is_empty():
        return []
    accepted = pl.col("outcome").fill_null("accepted") == "accepted"
    seen = snapshot.recorded.filter(accepted).select("reader", "number", "at").join(known, on=["reader", "number"])
    days = civil_days(seen["at"], seen["reader"].replace_strict(zones, default=snapshot.zone))
    theirs = seen.with_columns(day=days).filter(pl.col("day") >= pl.col("hired_on")).sort("at")
    first = theirs.unique(["reader", "number"], keep="first", maintain_order=True)
    return [
        {"tells": "first presentation", "at": row["at"], "day": row["day"], **_where(row)}
        for row in first.rows(named=True)
    ]


def _where(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: row[name] for name in ("person", "number", "reader")}


def another_way(states: Frame) -> dict[str, str]:
    """Return who clocks another way by their own word (CONSENT_STATES), with that word as half a sentence."""
    said = states.filter(pl.col("kind").is_in(OTHER_WAY))
    return {row["person"]: stands_in_words(row) for row in said.iter_rows(named=True)}


def withheld(snapshot: OnFile, states: Frame) -> dict[str, str]:
    """Return `why_withheld` as whole sentences, which name the person."""
    return {
        person: told("{name} {why}", name=snapshot.names.get(person) or person, why=why)
        for person, why in why_withheld(states).items()
    }


def why_withheld(states: Frame) -> dict[str, str]:
    """Return whose hand must not be enrolled (CONSENT_STATES), with what is missing and the way out.

    Whoever said no gives no hand anywhere; whoever said nothing gives none where a release is required.
    """
    found: dict[str, str] = {}
    for row in states.filter(~pl.col("kind").is_in(IN_FORCE)).iter_rows(named=True):
        person, kind = row["person"], row["kind"]
        if kind not in OTHER_WAY and not row["is_required"]:
            continue
        if kind in OTHER_WAY:
            way = told("offer another way to clock, such as the number alone; punctuality is judged alike")
        else:
            way = told(
                "print the sheet (`evenhand consent sheets --person {person}`), or offer another way to clock",
                person=person,
            )
        found[person] = told(
            "has no release in force ({stands}); nobody is enrolled without it: {way}.",
            stands=stands_in_words(row),
            way=way,
        )
    return found
