"""Find whose punches arrive under numbers nobody holds."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, confirm_or_leave, now_or, workspace_asked
from evenhand.cli.correct import print_briefly, print_warnings
from evenhand.cli.printing import print_json, print_table
from evenhand.terms import cautions
from evenhand.terms.words import as_figures, as_short_moment

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
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.strays import find_strays, proposal_of

    found = find_strays(reckon_period(workspace_asked(ctx), ctx.obj))
    proposal = proposal_of(found, stray)
    if as_json:
        print_json(proposal)
        return
    held = f", the number of {proposal.holder_name}, whom they do not fit" if proposal.holder else ""
    click.echo(
        f"{len(proposal.punches)} punches under {proposal.number} at {proposal.reader}{held}; "
        f"{as_figures(60 * proposal.minutes)} in doubt."
    )
    if proposal.note:
        click.echo(proposal.note)
    if proposal.swapped_with and proposal.best:
        click.echo(
            f"{proposal.holder_name} and {proposal.best.name} are enrolled under each other's number at "
            f"{proposal.reader}: confirm {proposal.swapped_with} too, and have both enrolled anew."
        )
    click.echo(f"\n{_percent(proposal.nobody, proposal.is_rough):>8}  nobody on the roster")
    if proposal.others >= LEAST_SHOWN:
        click.echo(f"{_percent(proposal.others, proposal.is_rough):>8}  somebody else on the roster, not looked at")
    for one in proposal.candidates:
        click.echo(f"{_percent(one.probability, proposal.is_rough):>8}  {one.name} ({one.person})")
    if found.why_rough:
        click.echo(f"\n{found.why_rough}")
    for one in proposal.candidates[:2]:
        click.echo(f"\nWhy {one.name}: {one.bits:+.1f} bits against nobody; ten bits are a thousand to one")
        for part in one.parts:
            bar = ("+" if part.bits > 0 else "-") * min(WIDEST, max(1, round(abs(part.bits))))
            click.echo(f"  {part.bits:+6.1f}  {bar:<{WIDEST}}  {part.says}")
        if one.impossible:
            click.echo(f"  {len(one.impossible)} of the punches cannot be theirs and stay as they are")


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
    from evenhand.jobs.stray_decisions import confirm_above, confirm_stray, preview_confirmation
    from evenhand.jobs.strays import find_strays, proposal_of

    workspace, now = workspace_asked(ctx), ctx.obj
    reckoning = reckon_period(workspace, now)
    if (stray is None) == (least_probability is None):
        raise click.UsageError("name a stray, or give --least-probability; `evenhand strays` lists them.")
    if least_probability is not None:
        if not yes:
            confirm_or_leave(ctx, f"Confirm every stray that reaches {least_probability:g}?")
        done = confirm_above(workspace, reckoning, least_probability, author=author or "", reason=reason, as_of=now)
        if as_json:
            print_json({"confirmed": done})
            return
        for one in done:
            click.echo(
                f"{one.stray}: {len(one.punches)} punches to {one.name} ({_percent(one.probability, one.is_rough)})."
            )
        click.echo(f"{len(done)} strays confirmed by {author}. {cautions.CALCULATION}")
        return
    assert stray is not None
    if person is None:
        if any(one.stray == stray for one in find_strays(reckoning).decided):
            raise click.UsageError(f"{stray} is confirmed already; name the person it belongs to.")
        best = proposal_of(find_strays(reckoning), stray).best
        if best is None:
            raise click.UsageError(f"{stray} is most likely nobody's on the roster; name the person it belongs to.")
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
    click.echo(f"Confirmed by {author}. {cautions.CALCULATION}")


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
        click.echo(f"{stray} is no longer proposed to anybody.")
        return
    best = f"{now.best.name} ({_percent(now.best.probability, now.is_rough)})" if now.best else "nobody on the roster"
    click.echo(f"{stray} is most likely {best} now.")


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
    click.echo(f"{len(punches)} punches of {stray} returned by {author}.")


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
        click.echo(f"Confirmed: {one.stray}, {len(one.punches)} punches to {one.name}, by {one.author}: {one.reason}")
        if one.holder:
            click.echo(
                f"  Asked again: by the roster {one.number} is {one.holder_name}'s now; confirm it again, or undo it."
            )
    click.echo(
        f"\n{len(found.proposals)} strays. `evenhand strays show STRAY` gives the evidence; "
        "probabilities are proposals, and a person confirms."
    )
    if found.why_rough:
        click.echo(found.why_rough)


def _line(proposal: Any, swapped: Any) -> tuple[object, ...]:
    ranked = [(one.name, one.probability) for one in proposal.candidates] + [
        ("nobody here", proposal.nobody),
        ("others, not looked at", proposal.others),
    ]
    ranked.sort(key=lambda one: -one[1])
    (first, chance), (second, less) = (*ranked, ("", 0.0))[:2]
    return (
        proposal.stray
        + (f" (of {proposal.holder_name})" if proposal.holder else "")
        + (f", swapped with {swapped.number}" if swapped else ""),
        len(proposal.punches),
        as_figures(60 * proposal.minutes),
        as_short_moment(proposal.punches[-1][1], proposal.zone),
        first,
        _percent(chance, proposal.is_rough),
        second if less >= LEAST_SHOWN else None,
        _percent(less, proposal.is_rough) if less >= LEAST_SHOWN else None,
    )


def _print_confirmation(confirmation: Any) -> None:
    click.echo(f"{len(confirmation.punches)} punches of {confirmation.stray} to {confirmation.name}: paid time")
    for change in confirmation.changes:
        click.echo(f"  {change.name}: before {as_figures(change.before_s)}, after {as_figures(change.after_s)}")
    print_briefly(confirmation.periods)
    print_warnings(confirmation.warnings, confirmation.undoes)
    if confirmation.left:
        click.echo(f"  {len(confirmation.left)} punches cannot be theirs and stay as they are")
    for place, step in enumerate(confirmation.steps, start=1):
        click.echo(f"  {place}. {step}")


def _percent(chance: float, is_rough: bool) -> str:
    """A probability, never rounded up to certainty; a word where it is rough."""
    from evenhand.jobs.stray_proposals import rough_word

    if is_rough and (word := rough_word(chance)):
        return word
    if chance > 0.999:
        return "> 99.9 %"
    return "< 0.1 %" if chance < 0.001 else f"{100 * chance:.1f} %"
