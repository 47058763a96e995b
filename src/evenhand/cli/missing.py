"""List the days whose punches leave something open by whoever may know, keep what they say, and decide on it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_paragraph, print_table
from evenhand.terms.disk_faults import not_written, why_of
from evenhand.terms.languages import Sentence, sentence, told
from evenhand.terms.records import Refusal

if TYPE_CHECKING:
    from evenhand.jobs.suggestions import SuggestionListed

__all__ = ["command"]

STATES = {
    "open": sentence("waits"),
    "accepted": sentence("accepted"),
    "declined": sentence("declined"),
    "withdrawn": sentence("taken back"),
}
period = click.option("--period", metavar="DATE", help="Of the pay period that holds this day.")


@click.group()
def command() -> None:
    """Ask supervisors about their people's missing punches, keep what they say, and decide on it."""


@command.command("list")
@click.option("--supervisor", metavar="PERSON", help="Only the people whom this supervisor is asked about.")
@click.option("--csv", "file", type=click.Path(path_type=Path), help="Write the list to FILE, to be filled in.")
@period
@as_of
@as_json
@click.pass_context
def list_days(
    ctx: click.Context, supervisor: str | None, file: Path | None, period: str | None, as_of: str | None, as_json: bool
) -> None:
    """List the days with open questions, with what is proposed."""
    from evenhand.jobs.missing import as_csv, open_days
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.store.owner_only import write_file

    day = day_asked(period, "--period")
    reckoning = reckon_period(workspace_asked(ctx), now_or(as_of), day)
    of = reckoning.snapshot
    asked = None if supervisor is None else str(of.find_person(supervisor)["person"])
    days = open_days(reckoning, day, asked)
    if file is not None:
        try:
            write_file(file, as_csv(days).encode("utf-8-sig"))
        except OSError as fault:
            raise not_written(file, fault) from fault
    if as_json:
        print_json(days)
        return
    print_table(
        ("Person", "", "Day", "Asked", "Punches", "Proposed", "Said"),
        [
            (
                one.name,
                one.person,
                one.day,
                told("{asks:row}", asks=one.asks),
                told("{punches}", punches=one.punches),
                told("{proposed:row}", proposed=one.proposed),
                told("{said}", said=[_said(said) for said in one.said]),
            )
            for one in days
        ],
    )
    if not days:
        print_paragraph(told("No day of the period leaves a question open."))
    elif file is not None:
        print_paragraph(
            told("Written to {file}; hand it in filled in with `evenhand missing answers {file}`.", file=file)
        )


@command.command()
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--supervisor", required=True, metavar="PERSON", help="Whose answers they are.")
@author
@as_of
@as_json
@click.pass_context
def answers(
    ctx: click.Context, file: Path, supervisor: str, author: str | None, as_of: str | None, as_json: bool
) -> None:
    """Keep what a list that was filled in says: all of it, or nothing where a row cannot be understood."""
    from evenhand.jobs.missing_answers import take_answers
    from evenhand.jobs.reckoning import reckon_period

    workspace, now = workspace_asked(ctx), now_or(as_of)
    if not (author or "").strip():
        raise Refusal(told("answers are handed in by somebody; say who with --author."))
    try:
        content = file.read_bytes()
    except OSError as fault:
        raise Refusal(told("{file} cannot be read ({strerror}).", file=file, strerror=why_of(fault))) from fault
    made = take_answers(
        workspace,
        reckon_period(workspace, now),
        content,
        str(file),
        supervisor=supervisor,
        author=author or "",
        as_of=now,
    )
    _print(made, as_json=as_json)


@command.command()
@click.argument("person")
@click.option("--day", required=True, metavar="DATE", help="The day whose question it answers.")
@click.option("--at", metavar="TIME", help="When the punch was, such as 2026-11-12T17:02, on the clock of the site.")
@click.option("--in", "direction", flag_value="in", help="The person came in.")
@click.option("--out", "direction", flag_value="out", help="The person went out.")
@click.option("--one-too-many", "action", flag_value="leave_out", help="The punch at that time is one too many.")
@click.option("--other-way", "action", flag_value="direct", help="The punch at that time went the way given.")
@click.option("--says", default="", type=LINE, metavar="TEXT", help="What they say, in their own words.")
@click.option("--supervisor", metavar="PERSON", help="Which supervisor says so.")
@author
@as_of
@as_json
@click.pass_context
def suggest(
    ctx: click.Context,
    person: str,
    day: str,
    at: str | None,
    direction: str | None,
    action: str | None,
    says: str,
    supervisor: str | None,
    author: str | None,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Keep what somebody says of a question of PERSON's day; it changes nothing until it is accepted."""
    from evenhand.jobs import suggestions
    from evenhand.jobs.correct import civil_instant
    from evenhand.jobs.reckoning import reckon_day

    workspace, now = workspace_asked(ctx), now_or(as_of)
    if not (author or "").strip():
        raise Refusal(told("a suggestion is entered by somebody; say who with --author."))
    on = day_asked(day, "--day")
    assert on is not None
    reckoning = reckon_day(workspace, now, on)
    said = suggestions.Suggested(
        person,
        on,
        action or ("look" if at is None else "add"),
        "desk",
        None if at is None else civil_instant(reckoning.snapshot, person, at),
        direction,
        says,
        supervisor,
        author or "",
    )
    _print(suggestions.suggest(workspace, reckoning, [said], as_of=now), as_json=as_json)


@command.command("suggestions")
@click.option("--all", "with_answered", is_flag=True, help="Also those that were decided on.")
@as_of
@as_json
@click.pass_context
def list_them(ctx: click.Context, with_answered: bool, as_of: str | None, as_json: bool) -> None:
    """List the suggestions that wait, the oldest day first."""
    from evenhand.jobs.reckoning import reckon_day
    from evenhand.jobs.suggestions import list_suggestions

    now = now_or(as_of)
    found = list_suggestions(reckon_day(workspace_asked(ctx), now, now.date()).snapshot, with_answered=with_answered)
    _print(found, as_json=as_json)
    if not found and not as_json:
        print_paragraph(told("No suggestion waits."))


@command.command()
@click.argument("number", type=int)
@click.option("--accept", "outcome", flag_value="accepted", help="Make the correction that it asks for.")
@click.option("--decline", "outcome", flag_value="declined", help="Leave the day as it is.")
@click.option("--withdraw", "outcome", flag_value="withdrawn", help="Whoever said it takes it back.")
@click.option("--correction", type=int, metavar="NUMBER", help="The correction made by hand, of one in words.")
@click.option("--reason", required=True, type=LINE, help="Why; kept with the correction.")
@author
@as_of
@as_json
@click.pass_context
def decide(
    ctx: click.Context,
    number: int,
    outcome: str | None,
    correction: int | None,
    reason: str,
    author: str | None,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Decide on suggestion NUMBER; `evenhand correct` shows beforehand what a correction changes."""
    from evenhand.jobs import suggestion_answers, suggestions
    from evenhand.jobs.correct import reckon_around
    from evenhand.jobs.reckoning import reckon_day

    workspace, now = workspace_asked(ctx), now_or(as_of)
    if outcome is None:
        raise Refusal(told("say what becomes of it: --accept, --decline or --withdraw."))
    of = reckon_day(workspace, now, now.date()).snapshot
    said = {"reason": reason, "author": author or ""}
    if outcome == "accepted" and correction is None:
        day = next((one.day for one in suggestions.list_suggestions(of) if one.suggestion == number), now.date())
        around = reckon_around(workspace, at=f"{day}T12:00", as_of=now)
        made = suggestion_answers.accept_suggestion(workspace, around, number, **said, as_of=now)
    else:
        made = suggestion_answers.answer_suggestion(
            workspace, of, number, outcome, **said, correction=correction, as_of=now
        )
    _print([made], as_json=as_json)


def _print(made: list[SuggestionListed], *, as_json: bool) -> None:
    if as_json:
        print_json(made)
    elif made:
        print_table(("No.", "Person", "", "Day", "Says", "Who", "State"), [_row(one) for one in made])


def _said(one: SuggestionListed) -> Sentence:
    return told("{number}: {what}, {who}", number=one.suggestion, what=one.told, who=one.said_by)


def _row(one: SuggestionListed) -> tuple[object, ...]:
    return one.suggestion, one.name, one.person, one.day, one.told, one.said_by, told(STATES[one.state])
