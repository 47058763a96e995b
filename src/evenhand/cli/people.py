"""List people, their numbers and where they are enrolled."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms.languages import Moment, told
from evenhand.terms.words import as_figures

if TYPE_CHECKING:
    from evenhand.jobs.overview import PersonSeen

__all__ = ["command"]


@click.command()
@click.argument("search", required=False)
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, search: str | None, as_of: str | None, as_json: bool) -> None:
    """List the people whose name, identifier, number or site holds SEARCH; everybody without it."""
    from evenhand.jobs.overview import people_seen
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.today import find_today

    today = find_today(reckon_period(workspace_asked(ctx), now_or(as_of)))
    wanted = (search or "").casefold()
    seen = [
        person
        for person in people_seen(today)
        if wanted in " ".join((person.name, person.person, person.number or "", person.site or "")).casefold()
    ]
    if as_json:
        print_json(seen)
        return
    print_table(
        ("Person", "Name", "Number", "Site", "Enrolled at", "Last punch", "Ordinary", "Overtime", "Double", "Findings"),
        (
            (
                person.person,
                told("{name}{stands}{mark}", name=person.name, stands=_stands(person), mark=_mark(person)),
                person.number,
                person.site,
                ", ".join(person.readers),
                told("{at:short}", at=Moment(person.last_at, today.zone)) if person.last_at else None,
                as_figures(person.ordinary_s),
                as_figures(person.overtime_s),
                as_figures(person.double_s),
                person.findings or None,
            )
            for person in seen
        ),
        right=(6, 7, 8, 9),
    )
    say(
        "{count:# person|# people}; * may enrol others. Hours of {first:iso} to {last:iso}.",
        lead="\n",
        count=len(seen),
        first=today.period.first,
        last=today.period.last,
    )


def _stands(person: PersonSeen) -> str:
    if person.has_left:
        return told(" (left)")
    return "" if person.is_listed else told(" (no longer listed)")


def _mark(person: PersonSeen) -> str:
    return " *" if person.is_supervisor else ""
