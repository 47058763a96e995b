"""List what needs a person today, most at stake first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json
from evenhand.terms.records import Finding, Refusal, Stake
from evenhand.terms.words import as_figures, as_moment, counted

if TYPE_CHECKING:
    from evenhand.jobs.today import Today

__all__ = ["command", "print_today"]


@click.command()
@click.option("--period", metavar="DATE", help="The pay period that holds DATE; otherwise the last one closed.")
@click.option(
    "--most-findings", "most", type=click.IntRange(1), default=15, show_default=True, help="How many findings to print."
)
@click.option("--code", metavar="CODE", help="Only findings of this kind.")
@as_of
@as_json
@click.pass_context
def command(
    ctx: click.Context, period: str | None, most: int, code: str | None, as_of: str | None, as_json: bool
) -> None:
    """List what is wrong or doubtful, ranked by what is at stake, each with its evidence and next step."""
    from evenhand.cli.asked import day_asked
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.today import find_today, listed, titles_of_checks

    day = day_asked(period, "--period")
    reckoning = reckon_period(workspace_asked(ctx), now_or(as_of), day)
    today, names = find_today(reckoning, day), reckoning.snapshot.names
    if code is not None and code not in titles_of_checks():
        raise Refusal(f'there is no check "{code}"; there are {", ".join(sorted(titles_of_checks()))}.')
    findings = [finding for finding in today.findings if code is None or finding.code == code]
    if as_json:
        print_json(listed(findings, names))
        return
    print_today(today, findings, today.zone, most)


def print_today(today: Today, findings: Sequence[Finding], zone: str, most: int) -> None:
    """Print the period, what blocks it, and the findings, most at stake first."""
    period = today.period
    click.secho(
        f"Pay period {period.first} to {period.last}, payroll by {as_moment(period.deadline, zone)}",
        bold=True,
    )
    click.echo(f"{len(today.findings)} findings, {len(today.blockers)} of which keep the period from payroll.\n")
    for place, finding in enumerate(findings[:most], 1):
        mark = " [keeps pay back]" if finding.blocks_pay else ""
        click.secho(f"{place:3}. {finding.says}{mark}", bold=True)
        for line in finding.evidence:
            click.echo(f"     {line}")
        stake = _stake(finding.stake, zone)
        if stake:
            click.echo(f"     At stake: {stake}")
        click.echo(f"     Next: {finding.next_step}")
        click.echo(f"     {finding.key}\n")
    if len(findings) > most:
        click.echo(f"{len(findings) - most} more; --most-findings {len(findings)} prints them all.")


def _stake(stake: Stake, zone: str) -> str:
    parts = []
    if stake.minutes:
        parts.append(f"{as_figures(stake.minutes * 60)} h of pay")
    if stake.people:
        parts.append(counted(stake.people, "person", "people"))
    if stake.deadline:
        parts.append(f"by {as_moment(stake.deadline, zone)}")
    return ", ".join(parts)
