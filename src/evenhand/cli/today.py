"""List what needs a person today: cases, the most at stake first, or the findings they hold."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json, say
from evenhand.cli.speaking import tell
from evenhand.terms.languages import Moment, Sentence, sentence, told
from evenhand.terms.records import Finding, Refusal, Stake
from evenhand.terms.words import as_figures

if TYPE_CHECKING:
    from evenhand.jobs.listed_before import Changed
    from evenhand.jobs.today import Today
    from evenhand.terms.cases import Case, CaseStep

__all__ = ["command", "print_today"]

MARKS = {"to_do": sentence("to do"), "waits": sentence("waits"), "done": sentence("done")}

NEW, KEEPS_BACK = sentence("new"), sentence("keeps pay back")
INDENT = 5 * " "


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
        raise Refusal(
            told('there is no check "{code}"; there are {things:commas}.', code=code, things=sorted(titles_of_checks()))
        )
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
        gone = [told("{count:# gone|# gone}: {title}", count=count, title=title) for title, count in changed.gone]
        say(
            "Since {day}: {count:# new|# new}{more}.",
            day=changed.since,
            count=len(changed.new),
            more=told("; {things:listed}", things=gone) if gone else "",
        )
    if not today.cases:
        say("Nothing needs you today.")
        return
    for place, case in enumerate(today.cases[:most], 1):
        _print_case(place, case, today.zone, isnew=changed is not None and case.key in changed.new)
    if len(today.cases) > most:
        _say_more(len(today.cases), most)


def _head(today: Today) -> None:
    period = today.period
    by = Moment(period.deadline, today.zone)
    say(
        "Pay period {first:iso} to {last:iso}, payroll by {by:zoned}",
        bold=True,
        first=period.first,
        last=period.last,
        by=by,
    )
    blocking = sum(case.blocks_pay for case in today.cases)
    say(
        "{cases:# case|# cases} of {findings:# finding|# findings}; "
        "{blocking:# of them keeps|# of them keep} the period from payroll.",
        cases=len(today.cases),
        findings=len(today.findings),
        blocking=blocking,
    )
    click.echo()


def _print_case(place: int, case: Case, zone: str, *, isnew: bool) -> None:
    marks = ([NEW] if isnew else []) + ([KEEPS_BACK] if case.blocks_pay else [])
    _say_title(place, case.story[0], marks)
    say("{story}", lead=INDENT, story=case.story[1])
    stake = case.stake
    parts = _stake(Stake(stake.minutes, stake.people, stake.deadline), zone)
    if stake.closed_minutes:
        time = as_figures(stake.closed_minutes * 60)
        parts.append(told("and {time} h in periods handed off", time=time))
    if stake.amount is not None:
        parts.append(told("{amount:+.2f} in periods handed off", amount=stake.amount))
    if parts:
        say("At stake: {parts:commas}", lead=INDENT, parts=parts)
    for step in case.steps:
        say("- [{mark}] {says}", lead=INDENT, mark=_mark(step), says=step.says)
    say("{findings:# finding|# findings}: {key}", lead=INDENT, findings=len(case.findings), key=case.key)
    click.echo()


def _mark(step: CaseStep) -> Sentence:
    waits = step.state == "waits" and step.waits_for
    return told("waits for {whom}", whom=step.waits_for) if waits else told(MARKS[step.state])


def _say_title(place: int, says: str, marks: Sequence[str]) -> None:
    bracketed = "".join(f" [{tell(told(mark))}]" for mark in marks)
    say("{place:3}. {says}{marks}", bold=True, place=place, says=says, marks=bracketed)


def _say_more(count: int, most: int) -> None:
    say("{more} more; --most {count} prints them all.", more=count - most, count=count)


def _print_findings(findings: Sequence[Finding], zone: str, most: int) -> None:
    for place, finding in enumerate(findings[:most], 1):
        _say_title(place, finding.says, [KEEPS_BACK] if finding.blocks_pay else [])
        for line in finding.evidence:
            say("{line}", lead=INDENT, line=line)
        if parts := _stake(finding.stake, zone):
            say("At stake: {parts:commas}", lead=INDENT, parts=parts)
        say("Next: {next_step}", lead=INDENT, next_step=finding.next_step)
        click.echo(f"{INDENT}{finding.key}\n")
    if len(findings) > most:
        _say_more(len(findings), most)


def _stake(stake: Stake, zone: str) -> list[Sentence]:
    parts = []
    if stake.minutes:
        parts.append(told("{time} h of pay", time=as_figures(stake.minutes * 60)))
    if stake.people:
        parts.append(told("{count:# person|# people}", count=stake.people))
    if stake.deadline:
        parts.append(told("by {at}", at=Moment(stake.deadline, zone)))
    return parts
