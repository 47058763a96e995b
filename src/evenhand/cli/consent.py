"""Keep the policy on hands, record what people say of theirs, and ask again where the policy changed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, confirm_or_leave, day_asked, now_or, workspace_asked
from evenhand.cli.consent_campaign import campaign, consents_asked, sheets
from evenhand.cli.consent_policy import policies, policy
from evenhand.cli.printing import print_json, print_table, say, with_names
from evenhand.terms import cautions
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.words import as_day

if TYPE_CHECKING:
    from evenhand.jobs.consent_foreseen import ConsentAsked
    from evenhand.jobs.snapshot import Snapshot

__all__ = ["command"]

KINDS = ("agreed", "due", "lapsed", "refused", "withdrawn", "other-way", "nothing")


@click.group()
def command() -> None:
    """Keep the policy on hands, and record who agreed, refused, withdrew or chose another way."""


@command.command("list")
@click.option("--kind", "kinds", type=click.Choice(KINDS), multiple=True, help="Only who stands so; may be repeated.")
@click.option("--site", metavar="SITE", help="Only people of this site.")
@as_of
@as_json
@click.pass_context
def list_them(ctx: click.Context, kinds: tuple[str, ...], site: str | None, as_of: str | None, as_json: bool) -> None:
    """List how everybody stands: who agreed, who is asked again, who clocks another way, who said nothing."""
    from evenhand.jobs.consent_listing import list_consents
    from evenhand.terms.consent import stands_in_words

    snapshot, today = consents_asked(ctx, as_of)
    rows = list_consents(snapshot, today, kinds=[kind.replace("-", "_") for kind in kinds], site=site)
    if as_json:
        print_json(with_names(rows, snapshot.names))
        return
    print_table(
        ("Person", "Name", "Site", "How they stand"),
        (
            (row["person"], snapshot.names.get(row["person"]), row["site"], stands_in_words(row))
            for row in rows.iter_rows(named=True)
        ),
    )
    say("{people:# person|# people}. {caution}", lead="\n", people=rows.height, caution=told(cautions.CALCULATION))


@command.command()
@click.argument("person")
@as_of
@as_json
@click.pass_context
def show(ctx: click.Context, person: str, as_of: str | None, as_json: bool) -> None:
    """Show how PERSON (an identifier, a number or a name) stands, and all that is known of it."""
    from evenhand.jobs.consent_listing import person_consent

    snapshot, today = consents_asked(ctx, as_of)
    seen = person_consent(snapshot, person, today)
    if as_json:
        print_json(seen)
        return
    say("{name} ({person}): {stands}.", name=seen.name, person=seen.person, stands=seen.stands)
    print_table(
        ("Row", "Day", "What was said", "Of which version", "Known from", ""),
        (
            (
                line.decision,
                as_day(line.said_on),
                line.says,
                line.called,
                line.source,
                "" if line.is_standing else told("does not count"),
            )
            for line in seen.history
        ),
        right=(0,),
    )


@command.command()
@click.argument("codes", metavar="CODE...", nargs=-1, required=True)
@click.option("--refused", is_flag=True, help="The sheets say no.")
@click.option("--other-way", is_flag=True, help="The sheets ask for another way to clock.")
@click.option("--signed", metavar="DATE", help="The day on which they were signed; today where it is not given.")
@author
@click.option("--yes", is_flag=True, help="Record without asking.")
@as_of
@as_json
@click.pass_context
def record(
    ctx: click.Context,
    codes: tuple[str, ...],
    refused: bool,
    other_way: bool,
    signed: str | None,
    author: str | None,
    yes: bool,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Record signed sheets by the CODE on each: all of them or none."""
    from evenhand.jobs.consent import asked_by_code

    if refused and other_way:
        raise Refusal(told("a sheet says no, or asks for another way; give one of --refused and --other-way."))
    action = "refuse" if refused else "other_way" if other_way else "agree"
    snapshot, _ = consents_asked(ctx, as_of)
    asked = asked_by_code(snapshot, codes, action, author or "", day_asked(signed, "--signed"))
    _record(ctx, snapshot, asked, as_of, yes=yes, as_json=as_json)


@command.command("say")
@click.argument("action", type=click.Choice(["agree", "refuse", "withdraw", "other-way"]))
@click.argument("person")
@click.option("--policy", metavar="N", type=int, help="Of which version; the one in force where it is not given.")
@click.option("--on", "said_on", metavar="DATE", help="The day on which it was said; today where it is not given.")
@click.option("--way", metavar="TEXT", type=LINE, help="The other way chosen; the number alone if not given.")
@author
@click.option("--yes", is_flag=True, help="Record without asking.")
@as_of
@as_json
@click.pass_context
def say_it(ctx: click.Context, /, action: str, person: str, as_of: str | None, as_json: bool, **given: Any) -> None:
    """Record what PERSON says without a code: a form signed on paper, a withdrawal, another way chosen.

    No reason is asked or kept.
    """
    from evenhand.jobs.consent_foreseen import ConsentAsked

    snapshot, _ = consents_asked(ctx, as_of)
    asked = ConsentAsked(
        action=action.replace("-", "_"),
        person=person,
        author=given["author"] or "",
        how="paper" if action == "agree" else "desk",
        policy=given["policy"],
        said_on=day_asked(given["said_on"], "--on"),
        other_way=given["way"],
    )
    _record(ctx, snapshot, [asked], as_of, yes=given["yes"], as_json=as_json)


@command.command("take-back")
@click.argument("person")
@click.argument("row", type=int)
@click.option("--reason", required=True, type=LINE, help="What was mistaken; kept with it.")
@author
@click.option("--yes", is_flag=True, help="Record without asking.")
@as_of
@as_json
@click.pass_context
def take_back(
    ctx: click.Context,
    person: str,
    row: int,
    reason: str,
    author: str | None,
    yes: bool,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Take ROW of PERSON's history back, which was recorded by mistake; `consent show` numbers the rows."""
    from evenhand.jobs.consent_foreseen import ConsentAsked

    snapshot, _ = consents_asked(ctx, as_of)
    asked = ConsentAsked("take_back", person, author or "", takes_back=row, reason=reason)
    _record(ctx, snapshot, [asked], as_of, yes=yes, as_json=as_json)


def _record(
    ctx: click.Context,
    snapshot: Snapshot,
    asked: list[ConsentAsked],
    as_of: str | None,
    *,
    yes: bool,
    as_json: bool,
) -> None:
    from evenhand.jobs.consent import record_consents
    from evenhand.jobs.consent_foreseen import preview_consent

    now = now_or(as_of)
    foreseen = [preview_consent(snapshot, one, as_of=now) for one in asked]
    if not as_json:
        for one in foreseen:
            of = told(" ({policy})", policy=one.called) if one.called else ""
            say(
                "{name} ({person}){of}: {before}; then {after}.",
                name=one.name,
                person=one.person,
                of=of,
                before=one.before,
                after=one.after,
            )
            for line in one.follows:
                say("{line}", lead="  ", line=line)
    if not yes:
        confirm_or_leave(ctx, "Record it?")
    made = record_consents(workspace_asked(ctx), snapshot, asked, as_of=now)
    if as_json:
        print_json(made)
        return
    fresh = sum(one.is_new for one in made)
    known = len(made) - fresh
    before = told("; {count:# was recorded already|# were recorded already}", count=known) if known else ""
    say("{count:# recorded|# recorded}{before}.", count=fresh, before=before)


for _part in (policies, policy, campaign, sheets):
    command.add_command(_part)
