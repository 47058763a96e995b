"""Hours where the rules of a site change: each workweek under the rules in force when it begins.

Source: 29 CFR 778.301 and 778.302 for a workweek whose beginning moves: hours that lie in the last old and in the
first new workweek are counted in the old one, then in the new one, and the person gets the better of the two.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import polars as pl

from evenhand.law.hours import ACCOUNT, PARTS_FOR_ALL, Hours, compute_once
from evenhand.law.ordering import Each
from evenhand.law.overlapping import Overlap, overlap_steps
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.parameters import OwnRules
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.zones import day_start

__all__ = ["compute_hours"]


def compute_hours(
    attributed: Frame,
    rules: SiteRules,
    policy: Policy,
    *,
    keep_steps: bool,
    parts: Collection[str] = PARTS_FOR_ALL,
    schedules: Frame | None = None,
    rates: Frame | None = None,
    own: Mapping[str, OwnRules] | None = None,
    each: Each = map,
) -> Hours:
    """Return the hours of everybody in `attributed`, all of whom `rules` bind.

    `attributed` has the columns of ATTRIBUTED and `schedules` those of SCHEDULES, in any order of rows; `parts` names
    the frames wanted beside the weeks, and `keep_steps` says whether recorded spans and every step are told, for the
    few people that are looked at. `rates` are hourly rates with their days (person, since, until, amount [1/10000 of
    the currency an hour], null where no hour has one), for laws that ask for the rate of a day; `own` are the
    workplace's own jurisdictions by name. `each` applies the work to blocks of people, none of which knows of another,
    as `map` does. Raises Refusal where a setting is one the law does not allow, and KeyError where a zone is unknown.
    """
    beside: dict[str, Any] = {
        "parts": (*parts, *ACCOUNT) if keep_steps else parts,
        "schedules": schedules,
        "rates": rates,
        "own": own,
        "each": each,
    }
    if not rules.changes:
        return compute_once(attributed, rules, policy, **beside)
    versions = _versions(rules)
    options = [
        _joined(attributed, versions, policy, beside, old_keeps_overlap=keeps)
        for keeps in ((True, False) if _moves(versions) else (True,))
    ]
    if len(options) == 1:
        return options[0]
    first, second = options
    gains = _gains(first, second)
    better = _better(first, second, gains)
    return _telling(better, first, second, gains, _overlaps(versions)) if keep_steps else better


@dataclass(frozen=True)
class _Version:
    """Rules for the workweeks that begin from `since` on, up to `until`."""

    rules: SiteRules
    since: date
    until: date


def _versions(rules: SiteRules) -> list[_Version]:
    for before, after in pairwise((rules, *rules.changes)):
        if after.since is None:
            raise Refusal(told("{named}: a change of its rules has no date; give each one.", named=rules.named))
        if before.since is not None and after.since <= before.since:
            raise Refusal(
                told(
                    "{named}: its changes of rules overlap at {since:iso}; give each a date, earliest first.",
                    named=rules.named,
                    since=after.since,
                )
            )
    begins = [date.min, *(one.first_workweek for one in rules.changes)]
    return [
        _Version(one, since, until)
        for one, since, until in zip(
            (replace(rules, changes=()), *rules.changes), begins, [*begins[1:], date.max], strict=True
        )
    ]


def _moves(versions: list[_Version]) -> bool:
    starts = {(one.rules.workweek_day, one.rules.workweek_s, one.rules.zone) for one in versions}
    return len(starts) > 1


def _joined(
    attributed: Frame, versions: list[_Version], policy: Policy, beside: dict[str, Any], *, old_keeps_overlap: bool
) -> Hours:
    """Return the weeks of each version; hours in both an old and a new workweek go to the one or to the other."""
    parts = []
    for place, version in enumerate(versions):
        moved: dict[date, int] = {}
        if place and old_keeps_overlap:
            moved[version.since] = _old_end(versions[place - 1], version)
        if place + 1 < len(versions):
            following = versions[place + 1]
            end = _old_end(version, following) if old_keeps_overlap else _begins(following)
            moved[_last_week(version, following) + timedelta(days=7)] = end
        hours = compute_once(attributed, version.rules, policy, moved=moved, **beside)
        within = (pl.col("workweek") >= version.since) & (pl.col("workweek") < version.until)
        parts.append({name: frame.filter(within) for name, frame in hours.frames.items()})
    return Hours(
        {name: pl.concat([part[name] for part in parts]).sort("person", maintain_order=True) for name in parts[0]}
    )


def _begins(version: _Version) -> int:
    return day_start(version.rules.zone, version.since, version.rules.workweek_s)


def _last_week(old: _Version, new: _Version) -> date:
    """Return the date of the last old workweek that begins before the new rules do."""
    before = new.since - timedelta(days=1)
    return before - timedelta(days=(before.weekday() - old.rules.workweek_day) % 7)


def _old_end(old: _Version, new: _Version) -> int:
    return day_start(old.rules.zone, _last_week(old, new) + timedelta(days=7), old.rules.workweek_s)


def _overlaps(versions: list[_Version]) -> list[Overlap]:
    """Return which instants lie in the last workweek of one version and in the first of the next."""
    found = (
        Overlap(_last_week(old, new), new.since, _begins(new), _old_end(old, new)) for old, new in pairwise(versions)
    )
    return [one for one in found if one.starts < one.ends]


def _gains(first: Hours, second: Hours) -> list[str]:
    """Return who has more overtime in the second; where they are equal the first holds."""
    worth = [
        hours.weeks.group_by("person").agg((pl.col("overtime_s") + 2 * pl.col("double_s")).sum().alias("worth"))
        for hours in (first, second)
    ]
    both = worth[0].join(worth[1], on="person", how="full", coalesce=True).fill_null(0)
    return both.filter(pl.col("worth_right") > pl.col("worth"))["person"].to_list()


def _better(first: Hours, second: Hours, gains: list[str]) -> Hours:
    """Return the hours of the second for those who gain by it, and of the first for everybody else."""
    takes = pl.col("person").is_in(gains)
    return Hours(
        {
            name: pl.concat([frame.filter(~takes), second.frames[name].filter(takes)]).sort(
                "person", maintain_order=True
            )
            for name, frame in first.frames.items()
        }
    )


def _telling(better: Hours, first: Hours, second: Hours, gains: list[str], overlaps: list[Overlap]) -> Hours:
    """Return the hours with a step for what lies in two workweeks: in which it counts, and what the other makes."""
    classed, weeks = better.frames["classed"], better.weeks
    stay = sorted(set(weeks["person"]) - set(gains))
    told = [
        overlap_steps(classed, weeks, otherwise.weeks, overlaps, people)
        for otherwise, people in ((second, stay), (first, gains))
    ]
    steps = pl.concat([better.steps, *told]).sort("person", maintain_order=True)
    return Hours({**better.frames, "steps": steps})
