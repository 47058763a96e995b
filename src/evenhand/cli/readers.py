"""List readers, and the steps that make each agree with the roster."""

from __future__ import annotations

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Moment, Sentence, sentence, told
from evenhand.terms.records import Refusal

__all__ = ["command"]

ACTIONS = {
    "enrol_supervisor": sentence("enrol as supervisor"),
    "enrol": sentence("enrol"),
    "remove": sentence("remove"),
    "enrol_again": sentence("enrol again"),
}


@click.command()
@click.argument("reader", required=False)
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, reader: str | None, as_of: str | None, as_json: bool) -> None:
    """List the readers; with READER, the ordered steps that make it agree with the roster."""
    from evenhand.jobs.overview import readers_seen, steps_at
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.taking_off import steps_told
    from evenhand.jobs.today import find_today

    reckoning = reckon_period(workspace_asked(ctx), now_or(as_of))
    today = find_today(reckoning)
    seen = readers_seen(today)
    if reader is not None:
        if reader not in {one.reader for one in seen}:
            raise Refusal(
                told(
                    'there is no reader "{reader}"; the readers are {readers:commas}.',
                    reader=reader,
                    readers=[one.reader for one in seen],
                )
            )
        steps = steps_told(reckoning, steps_at(today, reader))
        if as_json:
            print_json(steps)
        elif steps.height == 0:
            say("{reader} agrees with the roster.", reader=reader)
        else:
            _print_steps(steps)
        return
    if as_json:
        print_json(seen)
        return
    print_table(
        ("Reader", "Site", "Place", "Enrolled", "Room", "Supervisors", "Accepted", "Refused", "Last punch", "Steps"),
        (
            (
                one.reader,
                one.site,
                one.place,
                one.enrolled,
                one.capacity,
                one.supervisors,
                one.accepted,
                one.refused,
                told("{at:short}", at=Moment(one.last_at, one.zone)) if one.last_at else told("none"),
                one.steps or None,
            )
            for one in seen
        ),
        right=(3, 4, 5, 6, 7, 9),
    )
    say(
        "`evenhand readers READER` gives the steps at one reader, in an order that keeps a supervisor on it.", lead="\n"
    )


def _again(text: str) -> Sentence:
    return told("{text:again}", text=text)


def _print_steps(steps: Frame) -> None:
    print_table(
        ("", "Do", "Number", "Name", "Why"),
        (
            (
                row["position"],
                told(ACTIONS[row["action"]]),
                row["number"],
                row["name"],
                told("{parts:row}", parts=[_again(one) for one in (row["waits"], row["together"], row["why"]) if one]),
            )
            for row in steps.iter_rows(named=True)
        ),
        right=(0,),
    )
    if steps["waits"].count():
        say("Leave undone what says not yet: a number may be the only one that works for somebody.", lead="\n")
