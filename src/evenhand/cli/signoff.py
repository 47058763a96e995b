"""Confirm hours by the code on a statement, approve them, take either back, and see who has not."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import (
    LINE,
    as_json,
    as_of,
    author,
    confirm_or_leave,
    day_asked,
    now_or,
    paper_asked,
    workspace_asked,
)
from evenhand.cli.printing import print_json, print_paragraph, print_table, say
from evenhand.terms import cautions
from evenhand.terms.languages import DaySpan, sentence, told
from evenhand.terms.words import as_figures

if TYPE_CHECKING:
    from evenhand.jobs.signed_period import PersonSigned

__all__ = ["command"]

period_asked = click.option(
    "--period", metavar="DATE", help="The pay period that holds DATE; otherwise the last one closed."
)
STATES = {"yes": sentence("yes"), "undone": sentence("changed since"), "no": ""}


@click.group()
def command() -> None:
    """Sign hours off: the person confirms, a supervisor approves; bound to the very hours, and never a waiver."""


@command.command("list")
@period_asked
@as_of
@as_json
@click.pass_context
def list_them(ctx: click.Context, period: str | None, as_of: str | None, as_json: bool) -> None:
    """List how far everybody's hours of a period are signed."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.signed_period import period_signed

    day = day_asked(period, "--period")
    signed = period_signed(reckon_period(workspace_asked(ctx), now_or(as_of), day, history=timedelta(0)), day)
    if as_json:
        print_json(signed)
        return
    say("{days}. {says}", days=DaySpan(signed.first, signed.last), says=signed.says)
    if not signed.has_ended:
        say("The period has not ended; its hours can be signed once it has.")
    print_table(
        ("Person", "", "Department", "Worked", "Premiums", "Confirmed", "Approved", "Disputes", "May approve"),
        [_row(one) for one in signed.people],
        right=(3, 4, 7),
    )
    print_paragraph(cautions.SIGNED)


def _row(one: PersonSigned) -> tuple[object, ...]:
    return (
        one.name,
        one.person,
        one.department,
        as_figures(one.worked_s),
        as_figures(one.premium_s) if one.premium_s else "",
        told("{state} {number}", state=told(STATES[one.confirmed]), number=one.confirmation or ""),
        told("{state} {number}", state=told(STATES[one.approved]), number=one.approval or ""),
        one.disputes or "",
        told("{names:listed 3}", names=one.supervisors) if one.supervisors else "",
    )


@command.command()
@click.argument("codes", metavar="CODE...", nargs=-1, required=True)
@author
@as_of
@as_json
@click.pass_context
def confirm(ctx: click.Context, codes: tuple[str, ...], author: str | None, as_of: str | None, as_json: bool) -> None:
    """Keep that whoever signed the paper with each CODE confirms the hours printed on it: all of them or none."""
    from evenhand.jobs.signing import confirm_papers

    made = confirm_papers(workspace_asked(ctx), codes, author=author or "", as_of=now_or(as_of))
    if as_json:
        print_json(made)
        return
    for one in made:
        known = told(", as they were before") if one.is_known else ""
        say(
            "Sign-off {signoff}: {name} confirms {days}{known}.",
            signoff=one.signoff,
            name=one.name,
            days=DaySpan(one.first, one.last),
            known=known,
        )
    print_paragraph(cautions.SIGNED)


@command.command()
@click.argument("people", metavar="[PERSON...]", nargs=-1)
@click.option("--supervisor", required=True, metavar="PERSON", help="Who approves.")
@period_asked
@author
@click.option("--yes", is_flag=True, help="Approve without asking.")
@as_of
@as_json
@click.pass_context
def approve(
    ctx: click.Context,
    people: tuple[str, ...],
    supervisor: str,
    period: str | None,
    author: str | None,
    yes: bool,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Keep that a supervisor approves the hours of each PERSON, or of all their people who wait."""
    from evenhand.jobs.approving import approve as approve_hours
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.signed_period import period_signed

    workspace, now, day = workspace_asked(ctx), now_or(as_of), day_asked(period, "--period")
    reckoning = reckon_period(workspace, now, day, history=timedelta(0))
    seen = {one.person: one for one in period_signed(reckoning, day).people}
    by = str(reckoning.snapshot.find_person(supervisor)["person"])
    if not as_json:
        theirs = [one for one in seen.values() if by in one.supervisors and one.waits]
        named = {str(reckoning.snapshot.find_person(one)["person"]) for one in people}
        shown = [one for one in theirs if not named or one.person in named]
        print_table(
            ("Person", "", "Worked", "Disputes"), [(*_row(one)[:2], _row(one)[3], _row(one)[7]) for one in shown]
        )
    if not yes:
        confirm_or_leave(ctx, "Does the supervisor approve these hours?")
    made = approve_hours(
        workspace,
        reckoning,
        by,
        people,
        day=day,
        seen={person: one.seen for person, one in seen.items()},
        author=author or "",
        as_of=now,
    )
    if as_json:
        print_json(made)
        return
    say(
        "{supervisor} approves the hours of {people:# person|# people}, {days}.",
        supervisor=made.supervisor,
        people=len(made.people),
        days=DaySpan(made.first, made.last),
    )


@command.command()
@click.argument("number", type=int)
@author
@click.option("--reason", required=True, type=LINE, help="Why; kept with the decision.")
@as_of
@as_json
@click.pass_context
def withdraw(
    ctx: click.Context, number: int, author: str | None, reason: str, as_of: str | None, as_json: bool
) -> None:
    """Take sign-off NUMBER back, such as one that was keyed by mistake; it stays on record."""
    from evenhand.jobs.signing import take_sign_off_back

    now = now_or(as_of)
    made = take_sign_off_back(workspace_asked(ctx), number, author=author or "", reason=reason, as_of=now)
    if as_json:
        print_json(made)
        return
    say(
        "Sign-off {number} of {person}, {days}, counts no longer.",
        number=number,
        person=made.person,
        days=DaySpan(made.first, made.last),
    )


@command.command("print")
@click.argument("people", metavar="[PERSON...]", nargs=-1)
@period_asked
@click.option("--out", required=True, type=click.Path(path_type=Path, file_okay=False), help="The folder to write to.")
@paper_asked
@as_of
@as_json
@click.pass_context
def print_them(
    ctx: click.Context,
    people: tuple[str, ...],
    period: str | None,
    out: Path,
    paper: str | None,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Print the statement of each PERSON, or of everybody with hours in the period, with its code."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.statement_files import print_statements

    workspace, now, day = workspace_asked(ctx), now_or(as_of), day_asked(period, "--period")
    reckoning = reckon_period(workspace, now, day, history=timedelta(0))
    made = print_statements(workspace, reckoning, out, people, day=day, as_of=now, paper=paper or "")
    if as_json:
        print_json(made)
        return
    say(
        "{statements:# statement|# statements} in {out}, each for one person alone. {caution}",
        statements=len(made),
        out=out,
        caution=told(cautions.CALCULATION),
    )
