"""Who may enrol others at each reader and what proves it, and what to do before one of them leaves."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_paragraph, print_table
from evenhand.cli.speaking import word
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Unknown
from evenhand.terms.supervision import STANDING_IN_WORDS

__all__ = ["command"]


@click.group(invoke_without_command=True)
@click.option("--reader", metavar="NAME", help="Only of this reader.")
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, reader: str | None, as_of: str | None, as_json: bool) -> None:
    """List who may enrol others at each reader, since when, and the punch that proved it last."""
    if ctx.invoked_subcommand is not None:
        return
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.supervision import supervision_of

    reckoning = reckon_period(workspace_asked(ctx), now_or(as_of))
    zones = dict(reckoning.snapshot.readers.select("reader", "zone").iter_rows())
    if reader is not None and reader not in zones:
        raise Unknown(told('there is no reader "{reader}"; `evenhand readers` lists them all.', reader=reader))
    rows = [row for row in supervision_of(reckoning).iter_rows(named=True) if reader in (None, row["reader"])]
    if as_json:
        print_json(rows)
        return
    print_table(
        ("Reader", "Number", "Name", "Person", "Told by", "Since", "Proved last", "Leaves", "Stands"),
        (
            (
                row["reader"],
                row["number"],
                row["name"],
                row["person"],
                told("a round") if row["told_by"] == "round" else told("its list"),
                row["since"],
                told("{at:short}", at=Moment(row["proved_at"], zones[row["reader"]])) if row["proved_at"] else None,
                row["leaves_on"],
                word(STANDING_IN_WORDS[row["state"]]),
            )
            for row in rows
        ),
    )


@command.command()
@click.argument("person")
@as_of
@as_json
@click.pass_context
def succession(ctx: click.Context, person: str, as_of: str | None, as_json: bool) -> None:
    """Say, reader by reader, what to do before PERSON stops being a supervisor, so that two stay proved throughout."""
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.succession import plan_succession

    made = plan_succession(reckon_period(workspace_asked(ctx), now_or(as_of)), person)
    if as_json:
        print_json(made)
        return
    leaves = told(", last day {day}", day=made.leaves_on) if made.leaves_on else ""
    print_paragraph(told("{name} ({person}){leaves}", name=made.name, person=made.person, leaves=leaves), title=True)
    for one in made.readers:
        print_paragraph(
            told(
                "{reader}: without {name}, {supervisors:# proved supervisor|# proved supervisors} who can come: "
                "{who:listed}.",
                reader=one.reader,
                name=made.name,
                supervisors=one.falls_to,
                who=one.stay,
            ),
            title=True,
        )
        for row in one.successors.iter_rows(named=True):
            held = told("enrolled there") if row["is_enrolled"] else told("not enrolled there")
            named = told("a supervisor") if row["is_supervisor"] else told("no supervisor yet")
            print_paragraph(
                told(
                    "Could follow: {name} ({person}), {named}, {held}, {punches:# punch|# punches} there in four "
                    "weeks, {shifts:# shift|# shifts} that nobody who stays covers.",
                    name=row["name"],
                    person=row["person"],
                    named=named,
                    held=held,
                    punches=row["presentations"],
                    shifts=row["shifts"],
                )
            )
        for place, step in enumerate(one.steps, start=1):
            print_paragraph(told("{place}. {step}", place=place, step=step))
        if one.lacks:
            print_paragraph(told("Not whole: {lacks}.", lacks=one.lacks))
