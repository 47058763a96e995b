"""Erase somebody: look first at what goes, what stays and what holds it back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, confirm_or_leave, now_or, refuse_later, workspace_asked
from evenhand.cli.printing import print_json, say
from evenhand.terms import cautions
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

if TYPE_CHECKING:
    from evenhand.jobs.cutting import What
    from evenhand.jobs.erasable import Erasable

__all__ = ["command"]

WHAT = {
    "hand": sentence("what came of the hand: scores, and how it was enrolled"),
    "all": sentence("everything about them"),
}


@click.command()
@click.argument("people", metavar="[PERSON]...", nargs=-1)
@click.option("--due", is_flag=True, help="Everybody whose time records may go.")
@click.option("--what", type=click.Choice(["hand", "all"]), help="Scores alone, or everything; what the dates allow.")
@click.option("--preview", is_flag=True, help="Only show what would go.")
@click.option("--despite-others", is_flag=True, help="Also where rows about other people would change.")
@click.option(
    "--reword",
    multiple=True,
    metavar="ROW",
    help="A text that names them, as the preview lists it, or `all`: what names them is replaced. `corrections/12` is "
    "every text of that row, `corrections/12:reason` one of them.",
)
@click.option(
    "--despite-hold", is_flag=True, help="Also scores under a legal hold, once counsel says that they may go."
)
@click.option("--leave-texts", is_flag=True, help="Leave the other texts that the preview lists: they name others.")
@author
@click.option("--reason", type=LINE, default="", help="Why; kept with the erasure.")
@click.option("--yes", is_flag=True, help="Erase without asking.")
@as_of
@as_json
@click.pass_context
def command(
    ctx: click.Context,
    people: tuple[str, ...],
    due: bool,
    what: str | None,
    preview: bool,
    despite_others: bool,
    reword: tuple[str, ...],
    despite_hold: bool,
    leave_texts: bool,
    author: str | None,
    reason: str,
    yes: bool,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Erase each PERSON: from the store, kept sources, copies of files for payroll, and the disk. There is no way back.

    Refused while a reader lists the hand, before the day through which time records must stay, and under a hold.
    """
    from evenhand.jobs.erasure import ALL, erase_each
    from evenhand.jobs.foreseen_erasure import look_at_erasures
    from evenhand.jobs.leavers import clocked_now, leavers_of

    workspace, now = workspace_asked(ctx), now_or(as_of)
    wanted = cast("What | None", what)
    if due:
        people = (*people, *(one.person for one in leavers_of(clocked_now(workspace, now)) if one.state == "may_go"))
    if not people:
        raise Refusal(told("nobody is named whose records may go; name a PERSON, or see `evenhand leavers`."))
    seen = look_at_erasures(workspace, people, as_of=now, what=wanted)
    if not as_json:
        for one in seen:
            _print_preview(one)
    if preview:
        if as_json:
            print_json(seen)
        return
    refuse_later(now, "an erasure")
    held = [one for one in seen if one.holds_back]
    if held:
        raise Refusal(
            told(
                "{name} ({person}) is not erased: {why}",
                name=held[0].name,
                person=held[0].person,
                why=held[0].holds_back[0],
            )
        )
    asking = [one for one in seen if one.asks_of_hold]
    if asking and not despite_hold:
        raise Refusal(
            told(
                "{name} ({person}) is under a legal hold ({hold}), and whether scores may go is for counsel to say; "
                "ask first, and say --despite-hold once they may.",
                name=asking[0].name,
                person=asking[0].person,
                hold=asking[0].hold,
            )
        )
    if not yes and not all(one.is_nothing for one in seen):
        confirm_or_leave(ctx, "Erase this? There is no way back.")
    every = [one for other in seen for one in other.texts]
    unknown = sorted({*reword} - {ALL, *(one.row for one in every), *(one.key for one in every)})
    if unknown:
        raise Refusal(
            told("{unknown} is no text that may name them; the preview lists those that may.", unknown=unknown[0])
        )
    is_said = leave_texts or ALL in reword or all(one.is_among(reword) for one in every)
    done = []
    for made in erase_each(
        workspace,
        seen,
        author=author or "",
        reason=reason,
        as_of=now,
        despite_others=despite_others,
        reword=lambda one: _of(one, reword) if is_said else None,
        despite_hold=despite_hold,
    ):
        done.append(made)
        if not as_json:
            say("{says}", says=made.says)
    if as_json:
        print_json(done)
        return
    say(cautions.CALCULATION)


def _print_preview(one: Erasable) -> None:
    say("Erasing {name} ({person}), {what}:", name=one.name, person=one.person, what=told(WHAT[one.what]))
    if one.is_nothing:
        say("nothing is left of it.", lead="  ")
    for said in one.goes:
        say("goes: {said}", lead="  ", said=said)
    if one.sources:
        say(
            "written anew: {sources:# kept source|# kept sources}, and {files:# other file|# other files}",
            lead="  ",
            sources=one.sources,
            files=one.files,
        )
    for said in one.loses_name:
        say("stays without the name: {said}", lead="  ", said=said)
    for said in one.stays:
        say("stays: {said}", lead="  ", said=said)
    for text in one.texts:
        how = (
            sentence("may name them, less surely: {row}, {column}: “{says}”")
            if text.is_faint
            else sentence("may name them: {row}, {column}: “{says}”")
        )
        say(how, lead="  ", row=text.row, column=text.column, says=text.says)
    for said in one.others:
        say("also changes: {said}", lead="  ", said=said)
    for said in one.laws:
        say("law: {said}", lead="  ", said=said)
    for said in one.holds_back:
        say("held back: {said}", lead="  ", said=said)


def _of(one: Erasable, reword: Sequence[str]) -> tuple[str, ...]:
    """Return which of the rows asked for are among those of one person."""
    rows = {text.row for text in one.texts}
    if "all" in reword:
        return tuple(sorted(rows))
    return tuple(sorted({*reword} & (rows | {text.key for text in one.texts})))
