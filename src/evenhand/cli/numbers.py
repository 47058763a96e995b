"""Design numbers so that a slip of the finger lands on nobody."""

from __future__ import annotations

from typing import Any

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say, with_names
from evenhand.terms.languages import told
from evenhand.terms.likeness.explain import SLIP_NAMES

__all__ = ["command"]

seed = click.option("--seed", type=click.IntRange(min=0), metavar="N", help="Draw the same numbers again.")
digits = click.option("--digits", type=int, metavar="N", help="The length of the numbers.")
step = click.option(
    "--divisor", "step", type=int, metavar="N", help="Only numbers with one remainder by N; 19 lets no slip through."
)
check = click.option("--check-digit", "check", metavar="NAME", help="Last digit: damm, verhoeff or luhn.")


@click.group(invoke_without_command=True)
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """Design numbers so that a slip lands on nobody; without a further word, compare ways of choosing them."""
    ctx.obj = now_or(as_of)
    if ctx.invoked_subcommand is not None:
        return
    from evenhand.jobs.numbers import design_numbers

    designed = design_numbers(workspace_asked(ctx), ctx.obj)
    if as_json:
        print_json(designed)
        return
    say(
        "{people} people now, {later} in ten years at 3 % a year; the readers take up to {digits} digits. A "
        "slip from a number of today is somebody else's {share:.2f} % of the time.",
        people=designed.people,
        later=designed.people_later,
        digits=designed.max_digits,
        share=100 * designed.today.overall,
    )
    print_table(
        ("Numbers", "How many", "A slip lands on somebody", "Why"),
        (
            (option.scheme.says, option.capacity, f"{100 * option.chance:.3f} %", option.why)
            for option in designed.options
        ),
        right=(1, 2),
    )
    say("Shares of slips after Verhoeff 1969, from memory; they were counted on copied numbers, not at readers.")


@command.command()
@as_json
@click.pass_context
def confusable(ctx: click.Context, as_json: bool) -> None:
    """List numbers one slip apart, those of people who share readers and hours first."""
    from evenhand.jobs.numbers import confusable_now
    from evenhand.jobs.reckoning import reckon_period

    reckoning = reckon_period(workspace_asked(ctx), ctx.obj)
    pairs, names = confusable_now(reckoning), reckoning.snapshot.names
    if as_json:
        print_json(with_names(with_names(pairs, names), names, "other", "other_name"))
        return
    print_table(
        ("Number", "Person", "Number", "Person", "Slip", "Chance", "Shared"),
        (
            (
                row["number"],
                row["person"],
                row["other_number"],
                row["other"],
                told(SLIP_NAMES[row["kind"]]),
                f"{100 * row['slip']:.2f} %",
                f"{100 * row['shared']:.0f} %",
            )
            for row in pairs.head(30).iter_rows(named=True)
        ),
        right=(5, 6),
    )
    say("{count:# pair|# pairs} one slip apart.", count=pairs.height)


@command.command()
@click.argument("count", type=int)
@digits
@step
@click.option("--remainder", type=int, default=1, show_default=True, metavar="N", help="The remainder by the divisor.")
@check
@seed
@as_json
@click.pass_context
def allocate(
    ctx: click.Context,
    count: int,
    digits: int | None,
    step: int | None,
    remainder: int,
    check: str | None,
    seed: int | None,
    as_json: bool,
) -> None:
    """Draw COUNT numbers for new people, far from every number in use."""
    from evenhand.jobs.numbers import allocate_numbers

    scheme = _scheme(digits, step, remainder, check)
    given = allocate_numbers(workspace_asked(ctx), count, ctx.obj, scheme=scheme, seed=seed)
    if as_json:
        print_json(given)
        return
    for one in given:
        near = told("  one slip from {numbers:commas}", numbers=one.nearest) if one.nearest else ""
        say("{number}{near}", number=one.number, near=near)


@command.command()
@digits
@step
@check
@seed
@as_json
@click.pass_context
def plan(
    ctx: click.Context, digits: int | None, step: int | None, check: str | None, seed: int | None, as_json: bool
) -> None:
    """Plan the move from today's numbers with the fewest enrolments.

    With a length and a divisor or a check digit, everybody moves onto that scheme; without, only as many people change
    as are needed to leave no two numbers one slip apart.
    """
    from evenhand.jobs.numbers import plan_migration

    moved = plan_migration(workspace_asked(ctx), ctx.obj, scheme=_scheme(digits, step, 1, check), seed=seed)
    if as_json:
        print_json(moved)
        return
    print_table(
        ("Person", "Name", "Now", "New", "Enrol at", "Why"),
        ((one.person, one.name, one.number, one.new_number, ", ".join(one.readers), one.why) for one in moved.changes),
    )
    say(
        "{count:# person changes|# people change}, {kept} keep theirs, {enrolments:# enrolment|# enrolments} at "
        "readers. A slip is somebody else's "
        "{before:.2f} % of the time before, {after:.2f} % after ({says}).",
        count=len(moved.changes),
        kept=moved.kept,
        enrolments=moved.enrolments,
        before=100 * moved.before.overall,
        after=100 * moved.after.overall,
        says=moved.scheme.says,
    )


def _scheme(digits: int | None, step: int | None, remainder: int, check: str | None) -> Any:
    from evenhand.jobs.numbers import Scheme

    if digits is None:
        if step is not None or check is not None:
            raise click.UsageError(told("say how long the numbers are with --digits."))
        return None
    return Scheme(digits, step or 1, remainder if step else 0, check or "")
