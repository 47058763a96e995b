"""Find whose punches arrive under numbers nobody holds."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, confirm_or_leave, now_or, workspace_asked
from evenhand.cli.correct import print_briefly, print_warnings
from evenhand.cli.printing import print_beside, print_json, print_table, say
from evenhand.cli.speaking import tell
from evenhand.terms import cautions
from evenhand.terms.languages import Moment, told
from evenhand.terms.words import as_figures, called

__all__ = ["command"]

# Signed bits as a bar, so that the largest part is seen at once.
WIDEST = 24
LEAST_SHOWN = 0.001

reason = click.option("--reason", required=True, type=LINE, metavar="TEXT", help="Why; kept with the decision.")


@click.group(invoke_without_command=True)
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """Find whose punches arrive under numbers nobody holds, or under somebody else's.

    Without a further word it lists them, most minutes of pay first. Nothing is given to anybody until confirmed.
    """
    ctx.obj = now_or(as_of)
    if ctx.invoked_subcommand is None:
        _print_list(ctx, ctx.obj, as_json)


@command.command("list")
@as_json
@click.pass_context
def list_them(ctx: click.Context, as_json: bool) -> None:
    """List the strays, most minutes of pay in doubt first, and what has been confirmed."""
    _print_list(ctx, ctx.obj, as_json)


@command.command()
@click.argument("stray")
@as_json
@click.pass_context
def show(ctx: click.Context, stray: str, as_json: bool) -> None:
    """Show STRAY (reader/number) with every part of the evidence, in bits that add up."""
    from evenhand.jobs.json_records import StrayShown
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.strays import find_strays, proposal_of

    found = find_strays(reckon_period(workspace_asked(ctx), ctx.obj))
    proposal = proposal_of(found, stray)
    if as_json:
        print_json(StrayShown(**vars(proposal), why_rough=found.why_rough))
        return
    held = told(", the number of {name}, whom they do not fit", name=proposal.holder_name) if proposal.holder else ""
    say(
        "{count:# punch|# punches} under {number} at {reader}{held}; {time} in doubt.",
        count=len(proposal.punches),
        number=proposal.number,
        reader=proposal.reader,
        held=held,
        time=as_figures(60 * proposal.minutes),
    )
    if proposal.note:
        say("{says}", says=proposal.note)
    if proposal.swapped_with and proposal.best:
        say(
            "{holder_name} and {name} are enrolled under each other's number at {reader}: confirm {swapped_with} too, "
            "and have both enrolled anew.",
            holder_name=proposal.holder_name,
            name=proposal.best.name,
            reader=proposal.reader,
            swapped_with=proposal.swapped_with,
        )
    click.echo()
    _say_chance(proposal.nobody, told("nobody on the roster"), is_rough=proposal.is_rough)
    if proposal.others >= LEAST_SHOWN:
        _say_chance(proposal.others, told("somebody else on the roster, not looked at"), is_rough=proposal.is_rough)
    for one in proposal.candidates:
        _say_chance(one.probability, called(one.name, one.person), is_rough=proposal.is_rough)
    if found.why_rough:
        say("{says}", lead="\n", says=found.why_rough)
    for one in proposal.candidates[:2]:
        say(
            "Why {name}: {bits:+.1f} bits against nobody; ten bits are a thousand to one",
            lead="\n",
            name=one.name,
            bits=one.bits,
        )
        for part in one.parts:
            bar = ("+" if part.bits > 0 else "-") * min(WIDEST, max(1, round(abs(part.bits))))
            print_beside(f"  {part.bits:+6.1f}  {bar:<{WIDEST}}  ", tell(part.says))
        if one.impossible:
            say(
                "{count:# of the punches cannot be theirs and stays as it is|# of the punches cannot be theirs and "
                "stay as they are}",
                lead="  ",
                count=len(one.impossible),
            )


@command.command()
@click.argument("stray", required=False)
@click.argument("person", required=False)
@click.option(
    "--least-probability",
    type=click.FloatRange(0, 1),
    metavar="P",
    help="Instead: confirm all whose likeliest candidate reaches P.",
)
@click.option("--same-times", is_flag=True, help="Also punches at the instants of punches of their own.")
@author
@reason
@click.option("--yes", is_flag=True, help="Confirm without asking.")
@as_json
@click.pass_context
def confirm(
    ctx: click.Context,
    stray: str | None,
    person: str | None,
    least_probability: float | None,
    same_times: bool,
    author: str | None,
    reason: str,
    yes: bool,
    as_json: bool,
) -> None:
    """Give STRAY's punches to PERSON, the likeliest without one; the punches themselves stay as they are."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.stray_decisions import confirm_above, confirm_stray, preview_confirmation, reaching
    from evenhand.jobs.strays import find_strays, proposal_of

    workspace, now = workspace_asked(ctx), ctx.obj
    reckoning = reckon_period(workspace, now)
    if (stray is None) == (least_probability is None):
        raise click.UsageError(told("name a stray, or give --least-probability; `evenhand strays` lists them."))
    if least_probability is not None:
        if not yes:
            reaching(find_strays(reckoning), least_probability)  # refuses one that is too low before anybody is asked
            confirm_or_leave(ctx, told("Confirm every stray that reaches {least:g}?", least=least_probability))
        done = confirm_above(workspace, reckoning, least_probability, author=author or "", reason=reason, as_of=now)
        if as_json:
            print_json({"confirmed": done})
            return
        for one in done:
            say(
                "{stray}: {count:# punch|# punches} to {name} ({percent}).",
                stray=one.stray,
                count=len(one.punches),
                name=one.name,
                percent=_percent(one.probability, one.is_rough),
            )
        say(
            "{count:# stray|# strays} confirmed by {author}. {caution}",
            count=len(done),
            author=author,
            caution=told(cautions.CALCULATION),
        )
        return
    assert stray is not None
    if person is None:
        if any(one.stray == stray for one in find_strays(reckoning).decided):
            raise click.UsageError(told("{stray} is confirmed already; name the person it belongs to.", stray=stray))
        best = proposal_of(find_strays(reckoning), stray).best
        if best is None:
            raise click.UsageError(
                told("{stray} is most likely nobody's on the roster; name the person it belongs to.", stray=stray)
            )
        person = best.person
    confirmation = preview_confirmation(reckoning, stray, person)
    if not as_json:
        _print_confirmation(confirmation)
    if not yes:
        confirm_or_leave(ctx, "Confirm?")
    said = {"author": author or "", "reason": reason}
    confirm_stray(workspace, reckoning, stray, person, **said, as_of=now, same_times=same_times)
    if as_json:
        print_json(confirmation)
        return
    say("Confirmed by {author}. {caution}", author=author, caution=told(cautions.CALCULATION))


@command.command()
@click.argument("stray")
@click.argument("person")
@author
@reason
@click.option("--take-back", is_flag=True, help="Take the rejection back.")
@as_json
@click.pass_context
def reject(
    ctx: click.Context, stray: str, person: str, author: str | None, reason: str, take_back: bool, as_json: bool
) -> None:
    """Say that STRAY is not PERSON's; they are no longer proposed for it."""
    from evenhand.jobs.reckoning import reckon_period, renewed
    from evenhand.jobs.stray_decisions import reject_candidate, take_back_rejection
    from evenhand.jobs.strays import find_strays

    decide = take_back_rejection if take_back else reject_candidate
    workspace = workspace_asked(ctx)
    reckoning = reckon_period(workspace, ctx.obj)
    decide(workspace, reckoning, stray, person, author=author or "", reason=reason, as_of=ctx.obj)
    now = next((one for one in find_strays(renewed(workspace, reckoning)).proposals if one.stray == stray), None)
    if as_json:
        print_json({"stray": stray, "proposal": now})
        return
    if now is None:
        say("{stray} is no longer proposed to anybody.", stray=stray)
        return
    if now.best is None:
        say("{stray} is most likely nobody on the roster now.", stray=stray)
        return
    percent = _percent(now.best.probability, now.is_rough)
    say("{stray} is most likely {name} ({percent}) now.", stray=stray, name=now.best.name, percent=percent)


@command.command()
@click.argument("stray")
@author
@reason
@as_json
@click.pass_context
def undo(ctx: click.Context, stray: str, author: str | None, reason: str, as_json: bool) -> None:
    """Return STRAY's confirmed punches to nobody, or to whoever holds the number."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.stray_decisions import undo_stray

    workspace = workspace_asked(ctx)
    punches = undo_stray(
        workspace, reckon_period(workspace, ctx.obj), stray, author=author or "", reason=reason, as_of=ctx.obj
    )
    if as_json:
        print_json({"stray": stray, "punches": punches})
        return
    say("{count:# punch|# punches} of {stray} returned by {author}.", count=len(punches), stray=stray, author=author)


def _print_list(ctx: click.Context, now: datetime, as_json: bool) -> None:
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.strays import find_strays, once_each

    found = find_strays(reckon_period(workspace_asked(ctx), now))
    if as_json:
        print_json({"proposals": found.proposals, "decided": found.decided, "why_rough": found.why_rough})
        return
    print_table(
        ("Stray", "Punches", "In doubt", "Last", "Most likely", "", "Next", ""),
        (_line(proposal, other) for proposal, other in once_each(found.proposals)),
        right=(1, 2, 5, 7),
    )
    for one in found.decided:
        say(
            "Confirmed: {stray}, {count:# punch|# punches} to {name}, by {author}: {reason}",
            stray=one.stray,
            count=len(one.punches),
            name=one.name,
            author=one.author,
            reason=one.reason,
        )
        if one.holder:
            say(
                "Asked again: by the roster {number} is {holder}'s now; confirm it again, or undo it.",
                lead="  ",
                number=one.number,
                holder=one.holder_name,
            )
    say(
        "{count:# stray|# strays}. `evenhand strays show STRAY` gives the evidence; probabilities are proposals, and a "
        "person confirms.",
        lead="\n",
        count=len(found.proposals),
    )
    if found.why_rough:
        say("{says}", says=found.why_rough)


def _called(proposal: Any, swapped: Any) -> str:
    stray: str = proposal.stray
    if proposal.holder:
        stray = told("{stray} (of {name})", stray=stray, name=proposal.holder_name)
    return told("{stray}, swapped with {number}", stray=stray, number=swapped.number) if swapped else stray


def _line(proposal: Any, swapped: Any) -> tuple[object, ...]:
    ranked = [(one.name, one.probability) for one in proposal.candidates] + [
        (told("nobody here"), proposal.nobody),
        (told("others, not looked at"), proposal.others),
    ]
    ranked.sort(key=lambda one: -one[1])
    (first, chance), (second, less) = (*ranked, ("", 0.0))[:2]
    return (
        _called(proposal, swapped),
        len(proposal.punches),
        as_figures(60 * proposal.minutes),
        told("{at:short}", at=Moment(proposal.punches[-1][1], proposal.zone)),
        first,
        _percent(chance, proposal.is_rough),
        second if less >= LEAST_SHOWN else None,
        _percent(less, proposal.is_rough) if less >= LEAST_SHOWN else None,
    )


def _print_confirmation(confirmation: Any) -> None:
    say(
        "{count:# punch|# punches} of {stray} to {name}: paid time",
        count=len(confirmation.punches),
        stray=confirmation.stray,
        name=confirmation.name,
    )
    for change in confirmation.changes:
        say(
            "{name}: before {before}, after {after}",
            lead="  ",
            name=change.name,
            before=as_figures(change.before_s),
            after=as_figures(change.after_s),
        )
    print_briefly(confirmation.periods)
    print_warnings(confirmation.warnings, confirmation.undoes)
    if confirmation.left:
        say(
            "{count:# punch cannot be theirs and stays as it is|# punches cannot be theirs and stay as they are}",
            lead="  ",
            count=len(confirmation.left),
        )
    for place, step in enumerate(confirmation.steps, start=1):
        say("{place}. {step}", lead="  ", place=place, step=step)


def _percent(chance: float, is_rough: bool) -> str:
    """A probability, never rounded up to certainty; a word where it is rough."""
    from evenhand.jobs.stray_proposals import rough_word

    if is_rough and (word := rough_word(chance)):
        return word
    if chance > 0.999:
        return "> 99.9 %"
    return "< 0.1 %" if chance < 0.001 else f"{100 * chance:.1f} %"


def _say_chance(chance: float, whose: str, *, is_rough: bool) -> None:
    click.echo(f"{tell(_percent(chance, is_rough)):>8}  {tell(whose)}")
