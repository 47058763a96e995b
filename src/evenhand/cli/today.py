"""List what needs a person today: cases, the most at stake first, or the findings they hold."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json
from evenhand.terms.records import Finding, Refusal, Stake
from evenhand.terms.words import as_day, as_figures, as_moment, counted, listed

if TYPE_CHECKING:
    from evenhand.jobs.listed_before import Changed
    from evenhand.jobs.today import Today
    from evenhand.terms.cases import Case, CaseStep

__all__ = ["command", "print_today"]

MARKS = {"to_do": "to do", "waits": "waits", "done": "done"}


@click.command()
@click.option("--period", metavar="DATE", help="The pay period that holds DATE; otherwise the last one closed.")
@click.option("--most", type=click.IntRange(1), default=15, show_default=True, help="How many to print.")
@click.option(
    "--findings", "one_by_one", is_flag=True, help="Each finding by itself, instead of the cases they are of."
)
@click.option("--code", metavar="CODE", help="Only findings of this kind.")
@click.option("--case", "key", metavar="KEY", help="One case, with every finding of it.")
@click.option("--cases", "cases_asked", is_flag=True, help="With --json: the cases, instead of the findings.")
@as_of
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    period: str | None,
    most: int,
    one_by_one: bool,
    code: str | None,
    key: str | None,
    cases_asked: bool,
    as_of: str | None,
    as_json: bool,
) -> None:
    """List what is wrong or doubtful by its cause, most at stake first, each with its story and the way out."""
    from evenhand.cli.asked import day_asked
    from evenhand.jobs.listed_before import compare_with_earlier
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.today import case_of, find_today, titles_of_checks
    from evenhand.jobs.today import listed as as_listed_findings
    from evenhand.terms.cases import as_listed

    day, workspace = day_asked(period, "--period"), workspace_asked(ctx)
    reckoning = reckon_period(workspace, now_or(as_of), day)
    today, names = find_today(reckoning, day), reckoning.snapshot.names
    if code is not None and code not in titles_of_checks():
        raise Refusal(f'there is no check "{code}"; there are {", ".join(sorted(titles_of_checks()))}.')
    cases = [case_of(today, key)] if key is not None else list(today.cases)
    asked = {finding.key for case in cases for finding in case.findings if code in (None, finding.code)}
    findings = [finding for finding in today.findings if finding.key in asked]
    if as_json:
        print_json([as_listed(case) for case in cases] if cases_asked else as_listed_findings(findings, names, cases))
        return
    if one_by_one or code is not None:
        _head(today)
        _print_findings(findings, today.zone, most)
    elif key is not None:
        _print_case(1, cases[0], today.zone, isnew=False)
        _print_findings(findings, today.zone, len(findings))
    else:
        changed = compare_with_earlier(workspace, today) if day is None else None
        print_today(today, most, changed)


def print_today(today: Today, most: int, changed: Changed | None = None) -> None:
    """Print the period, what blocks it, what has changed, and the cases, most at stake first."""
    _head(today)
    if changed is not None and changed.since is not None:
        gone = [counted(count, "gone", "gone") + f": {title}" for title, count in changed.gone]
        click.echo(
            f"Since {as_day(changed.since)}: {len(changed.new)} new" + (f"; {listed(gone)}" if gone else "") + "."
        )
    if not today.cases:
        click.echo("Nothing needs you today.")
        return
    for place, case in enumerate(today.cases[:most], 1):
        _print_case(place, case, today.zone, isnew=changed is not None and case.key in changed.new)
    if len(today.cases) > most:
        click.echo(f"{len(today.cases) - most} more; --most {len(today.cases)} prints them all.")


def _head(today: Today) -> None:
    period = today.period
    by = f"{as_moment(period.deadline, today.zone)} ({today.zone})"
    click.secho(f"Pay period {period.first} to {period.last}, payroll by {by}", bold=True)
    blocking = sum(case.blocks_pay for case in today.cases)
    click.echo(
        f"{counted(len(today.cases), 'case')} of {counted(len(today.findings), 'finding')}; "
        f"{blocking} of them {'keeps' if blocking == 1 else 'keep'} the period from payroll.\n"
    )


def _print_case(place: int, case: Case, zone: str, *, isnew: bool) -> None:
    marks = (" [new]" if isnew else "") + (" [keeps pay back]" if case.blocks_pay else "")
    click.secho(f"{place:3}. {case.story[0]}{marks}", bold=True)
    click.echo(f"     {case.story[1]}")
    stake = case.stake
    told = _stake(Stake(stake.minutes, stake.people, stake.deadline), zone)
    if stake.closed_minutes:
        told += f", and {as_figures(stake.closed_minutes * 60)} h in periods handed off"
    if stake.amount is not None:
        told += f", {stake.amount:+.2f} in periods handed off"
    if told:
        click.echo(f"     At stake: {told.removeprefix(', ')}")
    for step in case.steps:
        click.echo(f"     - {_step(step)}")
    click.echo(f"     {counted(len(case.findings), 'finding')}: {case.key}\n")


def _step(step: CaseStep) -> str:
    mark = f"waits for {step.waits_for}" if step.state == "waits" and step.waits_for else MARKS[step.state]
    return f"[{mark}] {step.says}"


def _print_findings(findings: Sequence[Finding], zone: str, most: int) -> None:
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
        click.echo(f"{len(findings) - most} more; --most {len(findings)} prints them all.")


def _stake(stake: Stake, zone: str) -> str:
    parts = []
    if stake.minutes:
        parts.append(f"{as_figures(stake.minutes * 60)} h of pay")
    if stake.people:
        parts.append(counted(stake.people, "person", "people"))
    if stake.deadline:
        parts.append(f"by {as_moment(stake.deadline, zone)}")
    return ", ".join(parts)
