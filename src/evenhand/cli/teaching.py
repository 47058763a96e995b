"""Who of the supervisors can do their part at the reader, where nobody is who can, and results of practices."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms.languages import Sentence, told

if TYPE_CHECKING:
    from evenhand.jobs.teaching_cover import ShiftUncovered

__all__ = ["command"]


@click.group(invoke_without_command=True)
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """List by name what supervisors practised, what became of their enrolments, and who should be shown again."""
    if ctx.invoked_subcommand is not None:
        return
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.teaching import see_work

    work = see_work(reckon_period(workspace_asked(ctx), now_or(as_of)))
    if as_json:
        print_json(work)
        return
    print_table(
        (
            "Supervisor",
            "Person",
            "Practised last",
            "No.",
            "Enrolled",
            "Proved",
            "Again",
            "Show again before the next day?",
        ),
        (
            (
                one.who.name,
                one.who.person,
                told("{day}", day=one.work.practised_on) if one.work.practised_on else told("not yet"),
                one.practices[0].practice if one.practices else None,
                one.work.enrolled,
                told("{part} of {whole}", part=one.work.proved, whole=one.work.told),
                one.work.again,
                _again(one.reasons, one.not_known),
            )
            for one in work
        ),
        right=(3, 4, 5, 6),
    )
    say("By name, no ranking; enrolments of the last half year. Small counts say little.", lead="\n")


@command.command()
@as_of
@as_json
@click.pass_context
def cover(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """Say for each reader who can, on which shifts nobody is who can, and whom to show."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.teaching_cover import see_cover

    found = see_cover(reckon_period(workspace_asked(ctx), now_or(as_of)))
    if as_json:
        print_json(found)
        return
    print_table(
        ("Reader", "Who can", "To be shown again", "Not known yet", "Shift", "Without", "Of", "Show"),
        (
            (
                one.reader if place == 0 else None,
                ("; ".join(one.can) or (told("nobody known") if one.not_known else told("nobody")))
                if place == 0
                else None,
                "; ".join(one.again) if place == 0 else None,
                "; ".join(one.not_known) if place == 0 else None,
                _times(shift),
                shift.alone if shift else None,
                shift.shifts if shift else None,
                told("{who:or}", who=shift.show) if shift else None,
            )
            for one in found
            for place, shift in enumerate(one.uncovered or (None,))
        ),
        right=(5, 6),
    )


def _times(shift: ShiftUncovered | None) -> Sentence | None:
    if shift is None:
        return None
    return told("{begins} to {ends}", begins=shift.begins, ends=shift.ends) if shift.begins else told("other times")


def _again(reasons: tuple[str, ...], not_known: str) -> str:
    if reasons:
        return told("yes: {reasons}", reasons=reasons)
    return told("not known yet: {what}", what=not_known) if not_known else told("nothing speaks for it")


@command.command()
@click.argument("person")
@click.argument("code", type=LINE)
@author
@as_of
@as_json
@click.pass_context
def record(ctx: click.Context, person: str, code: str, author: str | None, as_of: str | None, as_json: bool) -> None:
    """Keep the result that PERSON read out: the CODE that the phone shows at the end of a practice."""
    from evenhand.jobs.practice import keep_practice

    kept = keep_practice(workspace_asked(ctx), person, code, way="code", author=author or "", as_of=now_or(as_of))
    if as_json:
        print_json(kept)
        return
    known = "" if kept.is_new else told("; it was known already")
    say(
        "{name}, {day}: {well} of {of} parts went well (practice {practice}){known}.",
        name=kept.name,
        day=kept.day,
        well=kept.well,
        of=kept.of,
        practice=kept.practice,
        known=known,
    )


@command.command("take-back")
@click.argument("practice", type=int)
@author
@as_of
@as_json
@click.pass_context
def take_back(ctx: click.Context, practice: int, author: str | None, as_of: str | None, as_json: bool) -> None:
    """Take back PRACTICE, a practice that was kept under another's name."""
    from evenhand.jobs.practice import take_practice_back

    back = take_practice_back(workspace_asked(ctx), practice, author=author or "", as_of=now_or(as_of))
    if as_json:
        print_json(back)
        return
    say("Taken back: {name}'s practice of {day}.", name=back.name, day=back.day)
