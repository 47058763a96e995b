"""Print what taking a file back, or reading it again, would do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from evenhand.cli.printing import print_table, say
from evenhand.cli.speaking import word
from evenhand.terms.languages import sentence, told
from evenhand.terms.words import as_figures

if TYPE_CHECKING:
    from evenhand.jobs.takes import Foreseen, WeekChange

__all__ = ["print_foreseen"]

FIRST = 12  # weeks and rows that are printed one by one; --json has all


def print_foreseen(foreseen: Foreseen) -> None:
    """Print what changes, the first rows and weeks one by one."""
    before = len(foreseen.tables) + len(foreseen.weeks)
    for table in foreseen.tables:
        for what, names in (
            (sentence("{table}: {count} come: {names:commas}{more}"), table.new),
            (sentence("{table}: {count} change: {names:commas}{more}"), table.changed),
            (sentence("{table}: {count} go: {names:commas}{more}"), table.gone),
        ):
            if names:
                more = told(" and {count} more", count=len(names) - FIRST) if len(names) > FIRST else ""
                named, count = table.table.replace("_", " "), len(names)
                say(what, lead="  ", table=word(named), count=count, names=names[:FIRST], more=more)
    punches = (
        (sentence("punches: {count} go"), foreseen.punches_gone),
        (sentence("punches: {count} come"), foreseen.punches_new),
        (sentence("punches: {count} move"), foreseen.punches_moved),
    )
    for what, count in punches:
        if count:
            say(what, lead="  ", count=count)
    for held in foreseen.punches_held:
        less = told(", which tells less or otherwise of {count}", count=held.otherwise) if held.otherwise else ""
        say("punches: {count} stay, by take {take}{less}", lead="  ", count=held.punches, take=held.take, less=less)
    if foreseen.others:
        say("read anew with it: take {takes:commas}", lead="  ", takes=list(map(str, foreseen.others)))
    if foreseen.weeks:
        _print_weeks(foreseen.weeks)
    for period in foreseen.periods:
        say(
            "{first_day:iso} to {last_day:iso} was handed off already as {file}: {people:# person|# people} in it "
            "would be paid otherwise",
            lead="  ",
            first_day=period.first_day,
            last_day=period.last_day,
            file=period.file,
            people=len(period.people),
        )
    for one in foreseen.hanging:
        say(
            "correction {correction} ({action}) by {author} would hang, since its punch under {number} at {reader} "
            "would not be there: {reason}",
            lead="  ",
            correction=one.correction,
            action=word(one.action.replace("_", " ")),
            author=one.author,
            number=one.number,
            reader=one.reader,
            reason=one.reason,
        )
    for says in foreseen.undoes:
        say("{says}", lead="  ", says=says)
    for notice in foreseen.notices:
        say("{notice}", lead="  ", notice=notice)
    if not before + sum(count for _, count in punches):
        say("nothing that is stored changes", lead="  ")


def _print_weeks(weeks: Sequence[WeekChange]) -> None:
    people = len({one.person for one in weeks})
    say(
        "paid time or pay changes in {weeks:# week|# weeks} of {people:# person|# people}:",
        lead="  ",
        weeks=len(weeks),
        people=people,
    )
    has_overtime = any(_overtime(one) for one in weeks)
    print_table(
        (
            *(sentence("Week"), sentence("Person"), sentence("Name"), sentence("Paid before"), sentence("after")),
            *((sentence("Of it overtime before"), sentence("after")) if has_overtime else ()),
            *(sentence("Pay before"), sentence("after")),
        ),
        (
            (
                *(one.workweek, one.person, one.name, as_figures(one.paid_before_s), as_figures(one.paid_after_s)),
                *(_overtime(one) or ("", "") if has_overtime else ()),
                *(told("{amount:pay}", amount=amount) for amount in (one.pay_before, one.pay_after)),
            )
            for one in weeks[:FIRST]
        ),
        right=range(3, 9 if has_overtime else 7),
    )
    if len(weeks) > FIRST:
        say("and {count} more, which --json lists", lead="  ", count=len(weeks) - FIRST)


def _with_double(paid_s: int, double_s: int) -> str:
    paid, double = as_figures(paid_s), as_figures(double_s)
    return told("{paid} ({double} double)", paid=paid, double=double) if double_s else paid


def _overtime(one: WeekChange) -> tuple[str, str] | None:
    """Return what is paid as overtime, double time included, before and after; None where that stays."""
    before, after = (one.overtime_before_s, one.double_before_s), (one.overtime_after_s, one.double_after_s)
    if before == after:
        return None
    texts = [_with_double(sum(of), of[1]) for of in (before, after)]
    return texts[0], texts[1]
