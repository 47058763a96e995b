"""Keep what a person says is wrong in their record, answer it, and list what waits."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_paragraph, print_table, say
from evenhand.cli.speaking import word
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

if TYPE_CHECKING:
    from evenhand.jobs.disputes import DisputeListed

__all__ = ["command"]

KINDS = ("day", "punch", "premium", "pay", "enrolment", "release", "other")
STATES = {
    "open": sentence("waits"),
    "extended": sentence("waits, extended"),
    "withdrawn": sentence("taken back"),
}


@click.group()
def command() -> None:
    """Keep what a person disputes in their own record, and answer it; it stands on Today until it is answered."""


@command.command("open")
@click.argument("person", required=False)
@click.option("--code", metavar="CODE", help="Instead of PERSON: the code on their statement.")
@click.option("--kind", required=True, type=click.Choice(KINDS), help="What is disputed.")
@click.option("--day", metavar="DATE", help="Of which day, where it is of one.")
@click.option("--line", default="", type=LINE, metavar="TEXT", help="The line, such as its number on the statement.")
@click.option("--says", required=True, type=LINE, metavar="TEXT", help="What it should say, and how the person knows.")
@author
@as_of
@as_json
@click.pass_context
def open_one(
    ctx: click.Context,
    person: str | None,
    code: str | None,
    kind: str,
    day: str | None,
    line: str,
    says: str,
    author: str | None,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Keep what PERSON says is wrong."""
    from evenhand.jobs.disputes import open_dispute
    from evenhand.jobs.reckoning import reckon_weeks
    from evenhand.jobs.statement_codes import find_code

    workspace, now = workspace_asked(ctx), now_or(as_of)
    if (person is None) == (code is None):
        raise Refusal(told("name the person, or give the code on their statement with --code."))
    if not (author or "").strip():
        raise Refusal(told("a dispute is entered for a person by somebody; say who with --author."))
    whose = person or find_code(workspace, code or "", as_of=now).person
    reckoning = reckon_weeks(workspace, now, now.date() - timedelta(weeks=1), now.date())
    made = open_dispute(
        workspace,
        reckoning,
        whose,
        kind=kind,
        says=says,
        day=day_asked(day, "--day"),
        line=line,
        way="paper" if code else "desk",
        author=author or "",
        as_of=now,
    )
    if as_json:
        print_json(made)
        return
    say(
        "Dispute {dispute} of {name}, to be answered by {day}. {rule}",
        dispute=made.dispute,
        name=made.name,
        day=made.answer_by,
        rule=made.rule,
    )


@command.command()
@click.argument("number", type=int)
@click.option("--accept", "outcome", flag_value="accepted", help="The person is right.")
@click.option("--reject", "outcome", flag_value="rejected", help="The line stands.")
@click.option("--extend", "outcome", flag_value="extended", help="Two months more, where GDPR art. 12(3) allows them.")
@click.option("--withdraw", "outcome", flag_value="withdrawn", help="The person takes it back.")
@click.option("--correction", type=int, metavar="NUMBER", help="The correction that mends it.")
@click.option("--decision", type=int, metavar="NUMBER", help="The decision about hours owed that mends it.")
@click.option("--reason", required=True, type=LINE, help="Why, in words for the person, who reads them.")
@author
@as_of
@as_json
@click.pass_context
def answer(
    ctx: click.Context,
    number: int,
    outcome: str | None,
    correction: int | None,
    decision: int | None,
    reason: str,
    author: str | None,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Answer dispute NUMBER."""
    from evenhand.jobs.dispute_answers import answer_dispute
    from evenhand.jobs.reckoning import reckon_weeks

    if outcome is None:
        raise Refusal(told("say whether the dispute is met: --accept, --reject, --extend or --withdraw."))
    workspace, now = workspace_asked(ctx), now_or(as_of)
    made = answer_dispute(
        workspace,
        reckon_weeks(workspace, now, now.date() - timedelta(weeks=1), now.date()),
        number,
        outcome,
        reason=reason,
        author=author or "",
        correction=correction,
        decision=decision,
        as_of=now,
    )
    if as_json:
        print_json(made)
        return
    say(
        "Dispute {number} of {name}: {state}.",
        number=number,
        name=made.name,
        state=word(STATES.get(made.state, made.state)),
    )


@command.command("list")
@click.option("--all", "with_answered", is_flag=True, help="Also those that were answered.")
@as_of
@as_json
@click.pass_context
def list_them(ctx: click.Context, with_answered: bool, as_of: str | None, as_json: bool) -> None:
    """List the disputes that wait, the first that is due first."""
    from evenhand.jobs.disputes import list_disputes
    from evenhand.jobs.reckoning import reckon_weeks

    now = now_or(as_of)
    of = reckon_weeks(workspace_asked(ctx), now, now.date() - timedelta(weeks=1), now.date()).snapshot
    listed = list_disputes(of, with_answered=with_answered)
    if as_json:
        print_json(listed)
        return
    print_table(("No.", "Person", "", "What", "Day", "State", "Answer by", "Says"), [_row(one) for one in listed])
    if not listed:
        print_paragraph(told("Nobody waits for an answer."))


def _row(one: DisputeListed) -> tuple[object, ...]:
    state = word(STATES.get(one.state, one.state))
    return one.dispute, one.name, one.person, word(one.kind), one.day, state, one.answer_by, one.says
