"""Add a punch, leave one out, say which way it went; take a correction back, or make another in its place."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import click

from evenhand.cli.asked import LINE, as_json, author, confirm_or_leave, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms import cautions
from evenhand.terms.correction_rules import CORRECTION_RULES
from evenhand.terms.languages import DaySpan, Sentence, sentence, told
from evenhand.terms.open_punches import say_proposal
from evenhand.terms.said import premium_in_words
from evenhand.terms.words import as_figures

if TYPE_CHECKING:
    from evenhand.jobs.correct import CorrectionPreview
    from evenhand.jobs.effects import PeriodChange, Worth
    from evenhand.jobs.reckoning import Reckoning
    from evenhand.jobs.workspace import Workspace

__all__ = ["command", "print_briefly", "print_changes", "print_warnings"]

MOST = 2**63 - 1  # the store's numbers go no further

person = click.argument("person")
punch = click.option(
    "--punch", type=click.IntRange(-MOST, MOST), required=True, metavar="N", help="The punch that is meant."
)
number = click.argument("correction", type=click.IntRange(1, MOST))
reason = click.option("--reason", required=True, type=LINE, metavar="TEXT", help="Why; kept with the correction.")
unasked = click.option("--yes", is_flag=True, help="Make it without asking.")
way = click.Choice(["in", "out"])
rule = click.option(
    "--rule",
    type=click.Choice([name.replace("_", "-") for name in CORRECTION_RULES]),
    help="What it rests on; kept with the reason.",
)


PARTS_OF_PAY = {
    "straight_pay": sentence("Straight pay"),
    "overtime_premium": sentence("Overtime premium"),
    "premium_pay": sentence("Premium pay"),
    "other_pay": sentence("Other pay"),
}


@click.group()
def command() -> None:
    """Correct people's punches. The punches stay as they are; a correction is a row of its own beside them.

    `evenhand hours why PERSON DAY` lists the punches of a day, and its corrections with their numbers.
    """


@command.command()
@person
@click.option("--at", metavar="TIME", required=True, help="In the site's time, such as 2026-11-12T17:02.")
@click.option("--direction", type=way, help="Which way it went.")
@rule
@reason
@author
@unasked
@as_json
@click.pass_context
def add(ctx: click.Context, /, person: str, **given: Any) -> None:
    """Add a punch of PERSON's."""
    _make(ctx, "add", person, **given)


@command.command("leave-out")
@person
@punch
@rule
@reason
@author
@unasked
@as_json
@click.pass_context
def leave_out(ctx: click.Context, /, person: str, **given: Any) -> None:
    """Leave out a punch of PERSON's; `withdraw` puts it back."""
    _make(ctx, "leave_out", person, **given)


@command.command()
@person
@punch
@click.option("--direction", type=way, required=True, help="Which way it went.")
@reason
@author
@unasked
@as_json
@click.pass_context
def direct(ctx: click.Context, /, person: str, **given: Any) -> None:
    """Say which way a punch of PERSON's went."""
    _make(ctx, "direct", person, **given)


@command.command()
@number
@reason
@author
@unasked
@as_json
@click.pass_context
def withdraw(ctx: click.Context, /, correction: int, **given: Any) -> None:
    """Take CORRECTION back, also one by which a stray's punch was given to somebody.

    That is a correction of its own: taking it back puts the first one back.
    """
    _make(ctx, "withdraw", None, correction=correction, **given)


@command.command()
@number
@click.option("--at", metavar="TIME", help="When an added punch was, in the site's time, such as 2026-11-12T17:02.")
@click.option("--direction", type=way, help="Which way an added punch, or one that was directed, went.")
@click.option("--to", metavar="PERSON", help="Whose a punch is that was given to somebody.")
@rule
@reason
@author
@unasked
@as_json
@click.pass_context
def change(ctx: click.Context, /, correction: int, **given: Any) -> None:
    """Take CORRECTION back and make another in its place, both or neither."""
    _make(ctx, "change", None, correction=correction, **given)


def _make(
    ctx: click.Context,
    action: str,
    person: str | None,
    *,
    reason: str,
    author: str | None,
    yes: bool,
    as_json: bool,
    at: str | None = None,
    punch: int | None = None,
    correction: int | None = None,
    rule: str | None = None,
    **said: str | None,
) -> None:
    from evenhand.jobs.correct import (
        CorrectionRequest,
        civil_instant,
        correct,
        preview_correction,
        reckon_around,
        whom_it_is_about,
    )

    workspace, now = workspace_asked(ctx), now_or(None)
    reckoning = reckon_around(workspace, at=at, punch=punch, correction=correction, as_of=now)
    if person is None:
        assert correction is not None
        person = whom_it_is_about(reckoning, correction)
    instant = civil_instant(reckoning.snapshot, person, at) if at else None
    asked = CorrectionRequest(
        action,
        person,
        author or "",
        reason,
        punch=punch,
        at=instant,
        correction=correction,
        rule=(rule or "").replace("-", "_"),
        **said,
    )
    seen = preview_correction(reckoning, asked, as_of=now)
    if not as_json:
        _print_proposed(workspace, now, reckoning, seen)
        _print_foreseen(seen)
    if not yes:
        confirm_or_leave(ctx, "Make this correction?")
    made = correct(workspace, reckoning, asked, as_of=now).number
    if as_json:
        print_json({"correction": made, "foreseen": seen})
        return
    say("Correction {made} made by {author}. {caution}", made=made, author=author, caution=told(cautions.CALCULATION))


def _print_proposed(workspace: Workspace, now: datetime, reckoning: Reckoning, seen: CorrectionPreview) -> None:
    """Print what is proposed for open punches of that day, beside what somebody says."""
    from evenhand.jobs.proposed import propose_for_day

    day = reckoning.person_day(str(seen.person["person"]), seen.day)
    proposals = propose_for_day(workspace, now, day).iter_rows(named=True)
    for says in dict.fromkeys(say_proposal(row, day.week.rules.zone, seen.day) for row in proposals):
        say("{says}", says=says)


def _print_foreseen(seen: CorrectionPreview) -> None:
    say("{name}, around {day:iso}:", name=seen.person["name"], day=seen.day)
    print_changes(seen.changes)
    print_warnings(seen.warnings, seen.undoes)


def print_changes(changes: tuple[PeriodChange, ...]) -> None:
    """Print what changes for each person and pay period: time and pay of the same workweeks, before and after."""
    for one in changes:
        named = told("workweek from {day}", day=one.first_week)
        if one.last_week != one.first_week:
            named = told("workweeks from {first} to that from {last}", first=one.first_week, last=one.last_week)
        standing = told("handed off already, {file}", file=one.file) if one.file else told("not handed off yet")
        period = DaySpan(one.first, one.last)
        say(
            "{name} ({person}), {named}; pay period {period}, {standing}",
            lead="\n",
            name=one.name,
            person=one.person,
            named=named,
            period=period,
            standing=standing,
        )
        rows = [(name, *values) for name, *values in _lines(one.before, one.after)]
        print_table(("", "Before", "After"), rows, right=(1, 2))


def print_briefly(changes: tuple[PeriodChange, ...]) -> None:
    """Print what changes for each person and pay period, a line each, those that payroll has already last."""
    rows = [
        (
            one.name,
            one.first_week,
            _from_to(as_figures(one.before.ordinary_s), as_figures(one.after.ordinary_s)),
            _from_to(as_figures(one.before.overtime_s), as_figures(one.after.overtime_s)),
            _from_to(as_figures(one.before.double_s), as_figures(one.after.double_s)),
            _from_to(f"{_owed(one.before):.2f}", f"{_owed(one.after):.2f}"),
            _from_to(_pay(one.before.pay), _pay(one.after.pay)),
            one.file or told("not handed off yet"),
        )
        for one in sorted(changes, key=lambda one: (one.file is not None, one.first_week))
    ]
    if rows:
        print_table(
            ("Who", "Week from", "Ordinary", "Overtime", "Double", "Owed [h]", "Pay", "Payroll has"),
            rows,
            right=(2, 3, 4, 5, 6),
        )


def _from_to(before: str, after: str) -> Sentence:
    return told("{before} to {after}", before=before, after=after)


def _pay(amount: Decimal | None) -> Sentence:
    return told("{amount:pay}", amount=amount)


def _owed(worth: Worth) -> Decimal:
    return sum((one.hours for one in worth.owed), Decimal(0))


def print_warnings(warnings: tuple[str, ...], undoes: tuple[str, ...]) -> None:
    """Print what does not fit, and whose sign-off is undone."""
    for says in warnings:
        say("Look at this: {says}", says=says)
    for says in undoes:
        say("{says}", says=says)


def _lines(before: Worth, after: Worth) -> list[tuple[str, ...]]:
    lines: list[tuple[str, ...]] = [
        (told("Ordinary"), as_figures(before.ordinary_s), as_figures(after.ordinary_s)),
        (told("Overtime"), as_figures(before.overtime_s), as_figures(after.overtime_s)),
        (told("Double time"), as_figures(before.double_s), as_figures(after.double_s)),
        (told("Paid time"), as_figures(before.paid_s), as_figures(after.paid_s)),
    ]
    was, now = ({one.kind: one.hours for one in side.owed} for side in (before, after))
    for kind in sorted({*was, *now}):
        lines.append(
            (told("Owed: {what}", what=premium_in_words(kind)), *(f"{one.get(kind, 0):.2f} h" for one in (was, now)))
        )
    lines.append((told("Open questions"), str(before.questions), str(after.questions)))
    if before.pay is not None or after.pay is not None:
        lines += [
            (told(PARTS_OF_PAY[name]), *(_pay(getattr(one, name)) for one in (before, after)))
            for name in PARTS_OF_PAY
            if getattr(before, name) or getattr(after, name)
        ]
    lines.append((told("Pay"), _pay(before.pay), _pay(after.pay)))
    return lines
