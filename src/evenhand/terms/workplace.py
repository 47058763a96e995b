"""Which zone and which rules hold where: the workplace as a whole, and each of its sites.

One answer for everybody: the settings have the last word; where they are silent, the zone in which most readers run.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.papers import usual_paper
from evenhand.terms.settings import Settings, SiteRules

__all__ = [
    "not_left",
    "rules_by_site",
    "rules_of_site",
    "site_zones",
    "workplace_paper",
    "workplace_zone",
    "zones_meet",
]


def not_left(day: date) -> pl.Expr:
    """Return which people (PEOPLE) have not left before `day`: the last day of employment counts."""
    return pl.col("left_on").is_null() | (pl.col("left_on") >= day)


def workplace_zone(settings: Settings, readers: Frame) -> str:
    """Return the zone in which the workplace as a whole counts its days and deadlines; `readers` are READERS.

    The workplace's own; else the one most readers run in, the first by name of two equally common; else the one most
    sites of the settings are in; else UTC.
    """
    sites = [rules.zone for rules in settings.sites.values()]
    return settings.zone or _most_common(readers["zone"].to_list()) or _most_common(sites) or "UTC"


def workplace_paper(settings: Settings, readers: Frame) -> str:
    """Return on which of PAPERS the workplace prints: the settings', else what is usual where its zone lies."""
    return settings.paper or usual_paper(workplace_zone(settings, readers))


def site_zones(settings: Settings, readers: Frame) -> dict[str, str]:
    """Return the zone of every site that settings or readers (READERS) name: the settings', else most readers'."""
    of_sites = {str(site): _most_common(zones) for site, zones in readers.group_by("site").agg("zone").iter_rows()}
    return of_sites | {name: rules.zone for name, rules in settings.sites.items()}


def zones_meet(settings: Settings, readers: Frame) -> bool:
    """Whether workplace, sites and readers (READERS) go by clocks of several zones, so that times name their own."""
    of_sites = site_zones(settings, readers).values()
    return len({workplace_zone(settings, readers), *of_sites, *readers["zone"]}) > 1


def rules_of_site(settings: Settings, readers: Frame, site: str | None) -> SiteRules | None:
    """Return the rules that bind `site`; None where no zone follows, since hours are placed in days by one.

    A site that the settings do not describe gets the default rules, in the zone in which most of its readers run; one
    without readers gets the workplace's own zone, or the readers' where all run in one.
    """
    if site and site in settings.sites:
        return settings.sites[site]
    anywhere = readers["zone"].unique().to_list()
    zone = site_zones(settings, readers).get(site or "") or settings.zone
    zone = zone or (anywhere[0] if len(anywhere) == 1 else "")
    return SiteRules(site or "", zone) if zone else None


def rules_by_site(settings: Settings, readers: Frame, people: Frame) -> dict[str, SiteRules]:
    """Return the rules of each site on the roster (PEOPLE) that has any, by name; '' is no site."""
    sites = sorted(people.select(pl.col("site").fill_null("").unique())["site"].to_list())
    bound = ((site, rules_of_site(settings, readers, site)) for site in sites)
    return {site: rules for site, rules in bound if rules is not None}


def _most_common(zones: Iterable[str]) -> str:
    by_use = sorted(Counter(zones).items(), key=lambda one: (-one[1], one[0]))
    return by_use[0][0] if by_use else ""
