"""The rules that bind each site: what the settings say of it, and the law with its numbers in force on a day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import polars as pl

from evenhand import law
from evenhand.jobs.reckoning import Reckoning
from evenhand.law import RulesInForce
from evenhand.store.settings_rewritten import dated_value_added
from evenhand.terms.characters import escaped
from evenhand.terms.languages import of_file, told
from evenhand.terms.parameters import Parameter
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.settings import SiteRules

__all__ = ["SiteListed", "SiteSeen", "find_number", "jurisdictions", "list_sites", "see_site", "with_number"]


@dataclass(frozen=True)
class SiteListed:
    """A site at a glance: its rules on the day asked about, and how many people and readers it has.

    `has_table` says whether the settings describe it; without a table it is bound by what is usual.
    """

    site: str
    rules: SiteRules
    title: str
    has_table: bool
    people: int
    readers: int


@dataclass(frozen=True)
class SiteSeen:
    """A site with the rules in force on a day, and the days on which other rules of its begin."""

    listed: SiteListed
    day: date
    in_force: RulesInForce
    begins: Sequence[date]
    """First days of workweeks from which later rules of the settings hold."""


def jurisdictions(reckoning: Reckoning) -> dict[str, str]:
    """Return every jurisdiction that a site may name, with what a person calls it."""
    return law.jurisdiction_titles(reckoning.snapshot.own)


def find_number(reckoning: Reckoning, file: str, name: str) -> Parameter:
    """Return a number of the law as it holds by a file of the workplace's own rules; raises Unknown for none."""
    _, folder, stem = [*file.removesuffix(".toml").split("/"), "", ""][:3]
    found = law.number_known(folder, stem, name, reckoning.snapshot.own)
    if found is None:
        raise Unknown(
            told(
                "{file} can hold no number {name}; the page of a site lists those that can be your own.",
                file=file,
                name=name,
            )
        )
    return found


def with_number(text: str, number: Parameter, path: Path, *, since: date, value: str, cites: str) -> str:
    """Return the text of a file of own rules with one more value of a number; `value` is as somebody wrote it.

    Raises Refusal where it is no whole number, or no list of them where the law has a list.
    """
    is_list = isinstance(number.values[0][1], tuple)
    parts = [part.strip() for part in value.split(",")] if is_list else [value.strip()]
    if not all(part.isdecimal() and len(part) < 10 for part in parts):
        wanted = told("whole numbers with commas between, such as 300, 900") if is_list else told("a whole number")
        raise Refusal(
            of_file(
                number.name,
                told(
                    '"{value}" is not {wanted}, in {unit}; write it so.',
                    value=escaped(value),
                    wanted=wanted,
                    unit=number.unit,
                ),
            )
        )
    given = [int(part) for part in parts]
    about = {"meaning": number.meaning, "unit": number.unit}
    return dated_value_added(text, number.name, about, (since, given if is_list else given[0], cites), path)


def list_sites(reckoning: Reckoning, day: date) -> list[SiteListed]:
    """Return the sites that settings, roster or readers name, in order."""
    of = reckoning.snapshot
    named = {
        *of.settings.sites,
        *filter(None, of.people["site"].to_list()),
        *filter(None, of.readers["site"].to_list()),
    }
    return [_listed(reckoning, site, day) for site in sorted(named)]


def see_site(reckoning: Reckoning, site: str, day: date) -> SiteSeen:
    """Return one site with its rules on a day; raises Unknown where nothing names it, Refusal where no zone does."""
    of = reckoning.snapshot
    if site not in {one.site for one in list_sites(reckoning, day)}:
        raise Unknown(told("there is no site {site}; the page Settings lists them all.", site=site))
    rules = of.rules_of(site)
    found = law.rules_in_force(rules.on(day), of.settings.policy, of.own, day)
    begins = tuple(one.first_workweek for one in rules.changes)
    return SiteSeen(_listed(reckoning, site, day), day, found, begins)


def _listed(reckoning: Reckoning, site: str, day: date) -> SiteListed:
    of = reckoning.snapshot
    rules = of.rules_of(site).on(day)
    titles = jurisdictions(reckoning)
    return SiteListed(
        site,
        rules,
        titles.get(rules.jurisdiction, rules.jurisdiction),
        site in of.settings.sites,
        of.people.filter(pl.col("site") == site).height,
        of.readers.filter(pl.col("site") == site).height,
    )
