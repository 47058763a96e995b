"""Print what taking a file back, or reading it again, would do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from evenhand.cli.printing import print_table
from evenhand.terms.words import as_figures, as_pay, counted

if TYPE_CHECKING:
    from evenhand.jobs.takes import Foreseen, WeekChange

__all__ = ["print_foreseen"]

FIRST = 12  # weeks and rows that are printed one by one; --json has all


def print_foreseen(foreseen: Foreseen) -> None:
    """Print what changes, the first rows and weeks one by one."""
    before = len(foreseen.tables) + len(foreseen.weeks)
    for table in foreseen.tables:
        for what, names in (("come", table.new), ("change", table.changed), ("go", table.gone)):
            if names:
                more = f" and {len(names) - FIRST} more" if len(names) > FIRST else ""
                click.echo(f"  {table.table}: {len(names)} {what}: {', '.join(names[:FIRST])}{more}")
    punches = (("go", foreseen.punches_gone), ("come", foreseen.punches_new), ("move", foreseen.punches_moved))
    for what, count in punches:
        if count:
            click.echo(f"  punches: {count} {what}")
    for held in foreseen.punches_held:
        told = f", which tells less or otherwise of {held.otherwise}" if held.otherwise else ""
        click.echo(f"  punches: {held.punches} stay, by take {held.take}{told}")
    if foreseen.others:
        click.echo(f"  read anew with it: take {', '.join(map(str, foreseen.others))}")
    if foreseen.weeks:
        _print_weeks(foreseen.weeks)
    for period in foreseen.periods:
        click.echo(
            f"  {period.first_day} to {period.last_day} was handed off already as {period.file}: "
            f"{counted(len(period.people), 'person', 'people')} in it would be paid otherwise"
        )
    for one in foreseen.hanging:
        click.echo(
            f"  correction {one.correction} ({one.action.replace('_', ' ')}) by {one.author} would hang, since its "
            f"punch under {one.number} at {one.reader} would not be there: {one.reason}"
        )
    for says in foreseen.undoes:
        click.echo(f"  {says}")
    for notice in foreseen.notices:
        click.echo(f"  {notice}")
    if not before + sum(count for _, count in punches):
        click.echo("  nothing that is stored changes")


def _print_weeks(weeks: Sequence[WeekChange]) -> None:
    people = len({one.person for one in weeks})
    whose = f"{counted(len(weeks), 'week', 'weeks')} of {counted(people, 'person', 'people')}"
    click.echo(f"  paid time or pay changes in {whose}:")
    has_overtime = any(_overtime(one) for one in weeks)
    print_table(
        (
            *("Week", "Person", "Name", "Paid before", "after"),
            *(("Of it overtime before", "after") if has_overtime else ()),
            *("Pay before", "after"),
        ),
        (
            (
                *(one.workweek, one.person, one.name, as_figures(one.paid_before_s), as_figures(one.paid_after_s)),
                *(_overtime(one) or ("", "") if has_overtime else ()),
                *(as_pay(one.pay_before), as_pay(one.pay_after)),
            )
            for one in weeks[:FIRST]
        ),
        right=range(3, 9 if has_overtime else 7),
    )
    if len(weeks) > FIRST:
        click.echo(f"  and {len(weeks) - FIRST} more, which --json lists")


def _overtime(one: WeekChange) -> tuple[str, str] | None:
    """Return what is paid as overtime, double time included, before and after; None where that stays."""
    before, after = (one.overtime_before_s, one.double_before_s), (one.overtime_after_s, one.double_after_s)
    if before == after:
        return None
    texts = [as_figures(sum(of)) + (f" ({as_figures(of[1])} double)" if of[1] else "") for of in (before, after)]
    return texts[0], texts[1]
