"""How `evenhand hands` prints what it saw: changes, forecasts, readers, findings and the parts of a score."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

import click

from evenhand.cli.printing import print_table
from evenhand.terms import cautions
from evenhand.terms.said import some_saved
from evenhand.terms.words import as_short_day

if TYPE_CHECKING:
    from evenhand.jobs.hands import Hands
    from evenhand.terms.columns import Frame
    from evenhand.terms.records import Finding

__all__ = [
    "caution",
    "day",
    "number",
    "print_alarms",
    "print_findings",
    "print_forecasts",
    "print_health",
    "print_parts",
]


def print_findings(found: Sequence[Finding]) -> None:
    """Print what needs somebody, each with what to do."""
    for finding in found:
        click.echo(finding.says)
        for line in finding.evidence:
            click.echo(f"    {line}")
        click.echo(f"    {finding.next_step}")
    if not found:
        click.echo("Nothing at hands or readers needs anybody.")


def print_alarms(hands: Hands) -> None:
    """Print what changed, with how many false alarms are accepted."""
    click.echo(f"Changed (about {hands.promised:.2g} false alarms a month are to be expected of all charts together)")
    if not hands.alarms.height:
        click.echo("  nothing")
        return
    print_table(
        ("Noticed", "Since", "Until", "Hand or reader", "Shape", "What was seen"),
        (
            (
                day(row["on"]),
                day(row["since"]),
                day(row["until"]),
                hands.names.get(row["person"], row["person"]) or row["reader"],
                row["shape"],
                row["says"],
            )
            for row in hands.alarms.iter_rows(named=True)
        ),
    )


def print_forecasts(hands: Hands) -> None:
    """Print whom to enrol again, those first that save most."""
    click.echo("\nEnrol again, those first that save most refused presentations")
    worth = hands.forecasts.filter(hands.forecasts["saved"] >= 1)
    if not worth.height:
        click.echo("  nobody")
        return
    print_table(
        ("Refusals saved a month", "Name", "Expected now", "After", "Forecast"),
        (
            (
                some_saved(row["saved"]),
                hands.names.get(row["person"], row["person"]),
                f"{100 * row['refusal_now']:.1f} %",
                f"{100 * row['refusal_after']:.1f} %",
                row["says"],
            )
            for row in worth.iter_rows(named=True)
        ),
        right=(0, 2, 3),
    )


def print_health(hands: Hands) -> None:
    """Print what is wrong with readers, and what is proposed."""
    click.echo("\nReaders")
    found = [one for one in hands.findings if one.reader and not one.person and not one.number]
    for finding in found:
        click.echo(f"  {finding.says} {finding.next_step}")
    if not found:
        click.echo("  nothing to report")


def print_parts(explained: Frame) -> None:
    """Show the highest scores and how much of each is whose."""
    high = explained.sort("above", descending=True).head(5).sort("at")
    if not high.height:
        return
    click.echo("The highest scores, and what they are made of (differences on the scale of the fit, which add up)")
    print_table(
        ("Score", "Reader", "Above usual", "Person", "Reader's part", "That day", "What is left"),
        (
            (
                f"{row['score']:g}",
                row["reader"],
                *(f"{row[part]:+.2f}" for part in ("above", "of_person", "of_reader", "of_day", "rest")),
            )
            for row in high.iter_rows(named=True)
        ),
        right=(0, 2, 3, 4, 5, 6),
    )


def day(day: date | None) -> str:
    """Return a day in short, empty where there is none."""
    return as_short_day(day) if day else ""


def number(value: float | None) -> str:
    """Return a figure with one decimal, empty where there is none."""
    return "" if value is None else f"{value:.1f}"


def caution() -> None:
    """Print that a person confirms."""
    click.echo(f"\n{cautions.HANDS}")
