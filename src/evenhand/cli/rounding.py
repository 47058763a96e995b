"""Show whether rounding averages out, for sites, departments and people."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.cli.speaking import word
from evenhand.terms import cautions
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.rules_told import rounding_in_words
from evenhand.terms.words import signed_figures

__all__ = ["command"]


@click.command()
@click.option("--weeks", type=int, default=26, show_default=True, help="How many weeks up to the last closed period.")
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, weeks: int, as_of: str | None, as_json: bool) -> None:
    """Audit what rounding gave or took: mean, 95 % interval, a test of neutrality, and the money at stake."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.rounding import MOST_WEEKS, audit_between

    if not 1 <= weeks <= MOST_WEEKS:
        raise Refusal(told("--weeks {weeks} cannot be audited; give 1 to {most}.", weeks=weeks, most=MOST_WEEKS))
    reckoning = reckon_period(workspace_asked(ctx), now_or(as_of), history=timedelta(weeks=weeks + 1))
    period = reckoning.period()
    audit = audit_between(reckoning, period.last - timedelta(days=7 * weeks - 1), period.last)
    if as_json:
        print_json({"first": audit.first, "last": audit.last, "rows": audit.rows})
        return
    names = reckoning.snapshot.names
    say("What rounding did, workweeks from {first:iso} to {last:iso}", bold=True, first=audit.first, last=audit.last)
    for site, rules in audit.rules.items():
        say("{site}: {says}", site=site or told("no site"), says=rounding_in_words(rules.rounding_s))
    print_table(
        ("Of", "Name", "People", "Days", "In all", "A day [s]", "95 % interval", "Chance", "Money", "With overtime"),
        (_cells(row, names) for row in audit.rows.iter_rows(named=True)),
        right=(2, 3, 4, 5, 6, 7, 8, 9),
    )
    say(
        "+ was given to people, - was taken. Chance: of this much or more if rounding were neutral, adjusted for how "
        "many were looked at.",
        lead="\n",
    )
    say(
        "An average that is neutral for a site proves nothing for one person (29 CFR 785.48(b)). {caution}",
        caution=told(cautions.CALCULATION),
    )


def _cells(row: dict[str, Any], names: dict[str, str]) -> tuple[object, ...]:
    interval = (
        None
        if row["day_low_s"] is None
        else told("{low:+.0f} to {high:+.0f}", low=row["day_low_s"], high=row["day_high_s"])
    )
    return (
        word(row["level"]),
        names.get(row["name"], row["name"]) if row["level"] == "person" else row["name"],
        row["people"],
        row["days"],
        signed_figures(row["total_s"]) or "0:00",
        f"{row['per_day_s']:+.1f}",
        interval,
        f"{row['adjusted']:.3f}",
        None if row["money"] is None else f"{row['money']:+.2f}",
        None if row["overtime_money"] is None else f"{row['overtime_money']:+.2f}",
    )
