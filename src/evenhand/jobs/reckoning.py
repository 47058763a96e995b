"""Work out hours with everything the workspace knows: rules and their changes, schedules, rates, own numbers."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import polars as pl

from evenhand import law
from evenhand.jobs.workspace import Workspace
from evenhand.pay.rates import lowest_hourly_rates
from evenhand.store import frames
from evenhand.store.own_rules import read_own_rules
from evenhand.terms.columns import Frame
from evenhand.terms.settings import SiteRules
from evenhand.terms.sources import SCHEDULES
from evenhand.terms.tables import BREACHES, PROPOSALS
from evenhand.terms.zones import DAY_S

__all__ = ["HABIT", "RULES_FOLDER", "breaches_of", "proposals_for", "reckon"]

RULES_FOLDER = "rules"
HABIT = timedelta(weeks=6)
"""How far back habits are looked for."""

EUROPEAN = "eu_2003_88"


def reckon(workspace: Workspace, owned: Frame, rules: SiteRules, roster: Frame, *, keep_steps: bool) -> law.Hours:
    """Return the hours of everybody in `owned` (OWNED), all of whom `rules` bind; `roster` holds them (PEOPLE)."""
    return law.compute_hours(
        owned,
        rules,
        workspace.settings.policy,
        keep_steps=keep_steps,
        schedules=_schedules(workspace, owned),
        rates=_rates(workspace, roster),
        own=read_own_rules(workspace.directory / RULES_FOLDER),
    )


def _rates(workspace: Workspace, roster: Frame) -> dict[str, Decimal | None]:
    with workspace.store.reading() as conn:
        return lowest_hourly_rates(frames.rates(conn), roster)


def _schedules(workspace: Workspace, owned: Frame) -> Frame:
    """Return the schedules around the punches in `owned`."""
    if owned.is_empty():
        return SCHEDULES.empty()
    since, until = int(owned["at"].min()) - 2 * DAY_S, int(owned["at"].max()) + 2 * DAY_S  # type: ignore[arg-type]
    with workspace.store.reading() as conn:
        return frames.schedules(conn, since=since, until=until)


def proposals_for(workspace: Workspace, questions: Frame, classed: Frame, owned: Frame, zone: str) -> Frame:
    """Return when missing punches may have been (PROPOSALS), from spans that reach back some weeks."""
    if questions.is_empty():
        return PROPOSALS.empty()
    return law.propose_punches(questions, classed, _schedules(workspace, owned), zone)


def breaches_of(
    workspace: Workspace, classed: Frame, roster: Frame, rules_of: dict[str, SiteRules], day: date
) -> Frame:
    """Return where people of sites under the European directive do not keep to its limits (BREACHES)."""
    own = read_own_rules(workspace.directory / RULES_FOLDER)
    sites = roster.select("person", pl.col("site").fill_null(""))
    found = []
    for site, rules in rules_of.items():
        bound, numbers = law.resolve(rules.on(day), own)
        if bound.jurisdiction == EUROPEAN:
            people = sites.filter(pl.col("site") == site)["person"].to_list()
            mine = classed.filter(pl.col("person").is_in(people))
            found.append(law.find_breaches(mine, bound.zone, numbers))
    return pl.concat([BREACHES.empty(), *found])
