"""How right proposals for missing punches are, on invented days that are known minute by minute.

The days of `bench.workdays` run through the law as the jobs run them: hours of everybody, then the proposals of each
workweek from it and the six before, with punches under nobody's number linked. Constants of the proposals were
chosen on the families with an even place in the list; those with an odd place are reported apart and chose nothing.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import numpy as np
import polars as pl
from bench.calibration import calibration
from bench.workdays import FAMILIES, Family, Presence, Spoilt, days_of, spoil

from evenhand import law
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.sources import SCHEDULES
from evenhand.terms.tables import ATTRIBUTED, RECORDED

PEOPLE, WEEKS = 40, 14
FIRST = date(2026, 8, 3)
HABIT = timedelta(weeks=6)
REPEAT_S = 60


@dataclass(frozen=True)
class Case:
    """One day that a question is about: what is true of it, and what was said; `error` in minutes.

    `truth` is `missing`, `stray`, `too_many` or `nothing`; `kind` which punch is missing.
    """

    family: str
    truth: str
    kind: str
    said: str
    likely: float
    error: float | None
    within: bool
    width: float
    right: bool
    linked: str


def cases_of(family: Family, seed: int) -> list[Case]:
    """Return the days of a family that a question is about."""
    punches = days_of(family, people=PEOPLE, weeks=WEEKS, first=FIRST, seed=seed)
    spoilt = spoil(family, punches, seed=seed + 1)
    attributed, strays, planned = _frames(family, spoilt, punches)
    policy = Policy()
    rules = SiteRules("invented", family.zone)
    hours = law.compute_hours(
        attributed, rules, policy, keep_steps=False, parts=("classed", "questions"), schedules=planned
    )
    weeks = hours.questions["workweek"].unique().sort().to_list()
    found = []
    for week in weeks:
        within = pl.col("workweek").is_between(week - HABIT, week)
        asked, classed = hours.questions.filter(pl.col("workweek") == week), hours.classed.filter(within)
        since, until = (_instant(day) for day in (week - HABIT, week + timedelta(days=9)))
        near = attributed.filter(pl.col("at").is_between(since, until))
        proposed = law.propose_punches(asked, near, classed, planned, policy, family.zone)
        found.append(law.link_strays(proposed, near, strays.filter(pl.col("at").is_between(since, until))))
    return _cases(family, pl.concat(found), spoilt)


def _instant(day: date) -> int:
    return (day - date(1970, 1, 1)).days * 86_400


def _frames(family: Family, spoilt: Spoilt, punches: Sequence[Presence]) -> tuple[Frame, Frame, Frame]:
    attributed = ATTRIBUTED.rows(
        {"punch": number, "person": one.person, "reader": "GATE", "zone": family.zone, "at": one.at}
        | {"direction": one.mark or None}
        for number, one in enumerate(spoilt.seen)
    )
    strays = RECORDED.rows(
        {"punch": len(spoilt.seen) + place, "reader": "GATE", "number": number, "at": one.at}
        | {"direction": one.mark or None}
        for place, (number, one) in enumerate(spoilt.strays)
    )
    shifts = {(one.person, one.scheduled) for one in punches if one.scheduled}
    planned = SCHEDULES.rows(
        {"person": person, "starts_at": starts, "ends_at": ends} for person, (starts, ends) in sorted(shifts)
    )
    return attributed, strays, planned


def _cases(family: Family, proposals: Frame, spoilt: Spoilt) -> list[Case]:
    """Return one case for each day asked about; where a day is asked about twice, the first."""
    truths: dict[tuple[str, date], tuple[str, Presence]] = {}
    seen: dict[tuple[str, date], list[Presence]] = {}
    for one in spoilt.seen:
        seen.setdefault((one.person, one.day), []).append(one)
    for double in spoilt.doubles:
        if _apart(double, seen[double.person, double.day]) >= REPEAT_S:
            truths[double.person, double.day] = "too_many", double
    for truth, those in (("too_many", spoilt.too_many), ("missing", spoilt.missing), ("stray", spoilt.stray)):
        truths |= {(one.person, one.day): (truth, one) for one in those}
    found, told = [], set()
    for row in proposals.iter_rows(named=True):
        of = spoilt.seen[row["punch"]]
        key = (of.person, of.day)
        if key in told:
            continue
        told.add(key)
        found.append(_case(family, row, *truths.get(key, ("nothing", of)), spoilt))
    return found


def _apart(double: Presence, day: Iterable[Presence]) -> int:
    return min(abs(double.at - one.at) for one in day if one is not double)


def _case(family: Family, row: dict[str, Any], truth: str, one: Presence, spoilt: Spoilt) -> Case:
    is_missing = truth in ("missing", "stray")
    timed = row["at"] is not None
    right = is_missing and row["kind"] == one.kind
    if row["kind"] == "too_many":
        right = truth == "too_many" and abs(spoilt.seen[row["suspect"]].at - one.at) < 90
    linked = ""
    if row["stray"]:
        linked = "right" if truth == "stray" and row["stray_at"] == one.at else "wrong"
    return Case(
        family=family.name,
        truth=truth,
        kind=one.kind if is_missing else truth,
        said=row["kind"],
        likely=row["likely"] or 0.0,
        error=abs(row["at"] - one.at) / 60 if timed and is_missing else None,
        within=timed and is_missing and row["earliest_at"] <= one.at <= row["latest_at"],
        width=(row["latest_at"] - row["earliest_at"]) / 60 if timed else 0.0,
        right=right,
        linked=linked,
    )


COLUMNS = ("days", "timed", "median", "p90", "stated", "held", "kind", "extra", "said", "right", "false", "strays",
           "linked", "amiss")  # fmt: skip
MEANING = """
days    questions where a punch is missing           timed   of these with a time proposed [%]
median  and p90 of the error of proposed times [min]  stated  chance of the interval, and how often it held [%]
kind    which punch is missing was right [%]         extra   questions where a punch is one too many
said    of these said to be so [%]                   right   how often that and the punch were right [%]
false   times proposed where nothing was missing     strays  questions whose punch stands under a wrong number
linked  of these linked to it [%]                    amiss   links to the punch of somebody else
"""


def _line(name: str, cases: Sequence[Case]) -> str:
    """Return one line of the table."""
    lacking = [one for one in cases if one.truth == "missing"]
    extra = [one for one in cases if one.truth == "too_many"]
    strays = [one for one in cases if one.truth == "stray"]
    timed = [one for one in cases if one.width]
    errors = [one.error for one in timed if one.error is not None]
    named = [one for one in (*lacking, *strays) if one.said not in ("not_sure", "too_many")]
    said = [one for one in cases if one.said == "too_many"]
    cells = (
        str(len(lacking)),
        _share(sum(one.width > 0 for one in lacking), len(lacking)),
        *(f"{np.quantile(errors, share):.1f}" if errors else "-" for share in (0.5, 0.9)),
        _share(sum(one.likely for one in timed), len(timed)),
        _share(sum(one.within for one in timed), len(timed)),
        _share(sum(one.right for one in named), len(named)),
        str(len(extra)),
        _share(sum(one.said == "too_many" for one in extra), len(extra)),
        _share(sum(one.right for one in said), len(said)),
        str(sum(one.error is None for one in timed)),
        str(len(strays)),
        _share(sum(one.linked == "right" for one in strays), len(strays)),
        str(sum(one.linked == "wrong" for one in cases)),
    )
    return f"{name:24}" + "".join(f"{cell:>8}" for cell in cells)


def _share(part: float, whole: int) -> str:
    return f"{100 * part / whole:.0f}" if whole else "-"


def _print(title: str, cases: Sequence[Case]) -> None:
    print(f"\n{title}\n{'':24}" + "".join(f"{name:>8}" for name in COLUMNS))
    for family in dict.fromkeys(one.family for one in cases):
        print(_line(family, [one for one in cases if one.family == family]))
    print(_line("all of these", cases))
    print("by the punch that is missing")
    for kind in sorted({one.kind for one in cases if one.truth in ("missing", "stray")}):
        print(_line(kind, [one for one in cases if one.kind == kind]))
    stated = [one for one in cases if one.width]
    found = calibration([one.within for one in stated], [one.likely for one in stated], edges=(0.5, 0.6, 0.7, 0.8))
    print("stated chance and how often the interval held the time:")
    print("  " + ", ".join(f"{p:.2f}: {held:.2f} of {count}" for p, count, held in found.table))


def main() -> None:
    """Print the tables of both halves."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="draws other days")
    parser.add_argument("--half", choices=("even", "odd", "both"), default="both")
    given = parser.parse_args()
    print(f"seed {given.seed}; spoilt by the next")
    print(MEANING)
    for half, first in (("even", 0), ("odd", 1)):
        if given.half not in (half, "both"):
            continue
        title = "Families on which constants were chosen" if first == 0 else "Families that chose nothing"
        _print(title, [case for family in FAMILIES[first::2] for case in cases_of(family, given.seed)])


if __name__ == "__main__":
    main()
