"""Plan an enrolment day as a round, and change it while it runs."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

import click

from evenhand.cli.asked import LINE, as_json, as_of, author, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.cli.speaking import word
from evenhand.terms.columns import Frame
from evenhand.terms.languages import clock_told, told
from evenhand.terms.records import Refusal
from evenhand.terms.words import called

__all__ = ["change", "plan", "told_zones"]


@click.command()
@click.argument("day")
@click.option(
    "--title", type=LINE, metavar="TEXT", default="Enrolment", show_default=True, help="What the round is about."
)
@click.option(
    "--from",
    "begins",
    metavar="HH:MM",
    default="08:00",
    show_default=True,
    help="When the first slot begins, workplace time.",
)
@click.option(
    "--to", "ends", metavar="HH:MM", default="16:00", show_default=True, help="When the last slot ends, workplace time."
)
@click.option("--slot-minutes", metavar="MIN", default=20, show_default=True, help="How long a slot is.")
@click.option(
    "--enrolment-minutes", metavar="MIN", default=5, show_default=True, help="What one enrolment takes, talk included."
)
@click.option("--reader", "readers", metavar="READER", multiple=True, help="Only at this reader; may be given again.")
@click.option("--person", "people", metavar="PERSON", multiple=True, help="Only this person; may be given again.")
@click.option("--enrol-again", metavar="PERSON", multiple=True, help="Enrol this hand again wherever it is held.")
@click.option("--busy", metavar="[DEPT@]HH:MM-HH:MM", multiple=True, help="Nobody (of DEPT) is called away then.")
@click.option("--most-away", metavar="N", type=int, help="At most N people of a department away at once.")
@click.option("--language", metavar="PERSON=LANGUAGE", multiple=True, help="Speak to this person in es, not en.")
@click.option("--unattended", is_flag=True, help="Do not keep a supervisor at each reader.")
@click.option("--search-seconds", default=8.0, show_default=True, help="How long to look for a better plan.")
@click.option("--dry-run", is_flag=True, help="Show the plan without keeping it.")
@author
@as_of
@as_json
@click.pass_context
def plan(ctx: click.Context, /, day: str, author: str | None, as_of: str | None, as_json: bool, **given: Any) -> None:
    """Plan the enrolment day DAY, such as 2026-11-16, from what readers and roster disagree on.

    Supervisors come first, two for each reader; nobody is enrolled without consent on record; the day's disruption
    is the least. The minutes an enrolment takes differ by site: measure yours.
    """
    from evenhand.jobs.enrolling import plan_round
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.teaching_cover import lacking_in_plan

    asked = _asked_day(day, given)
    workspace = workspace_asked(ctx)
    planned = plan_round(
        workspace,
        asked,
        author=author or "",
        as_of=now_or(as_of),
        seconds=given["search_seconds"],
        keep=not given["dry_run"],
    )
    lacking = lacking_in_plan(reckon_period(workspace, now_or(as_of)), planned)
    _show_plan(planned, lacking, as_json=as_json)


@click.command()
@click.argument("name", metavar="ROUND")
@click.option("--absent", metavar="PERSON", multiple=True, help="Does not come today; may be given again.")
@click.option("--search-seconds", default=8.0, show_default=True, help="How long to look for a better plan.")
@author
@as_of
@as_json
@click.pass_context
def change(
    ctx: click.Context,
    name: str,
    absent: tuple[str, ...],
    search_seconds: float,
    author: str | None,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Plan the rest of ROUND again: who missed a slot gets another, everybody else stays where they can."""
    from evenhand.jobs.planned_anew import change_round
    from evenhand.jobs.reckoning import reckon_period
    from evenhand.jobs.teaching_cover import lacking_in_plan

    workspace = workspace_asked(ctx)
    changed = change_round(
        workspace, name, absent=absent, author=author or "", as_of=now_or(as_of), seconds=search_seconds
    )
    lacking = lacking_in_plan(reckon_period(workspace, now_or(as_of)), changed)
    _show_plan(changed, lacking, as_json=as_json)


def _asked_day(day: str, given: dict[str, Any]) -> Any:
    from evenhand.jobs.enrolment_day import AskedDay

    wanted = day_asked(day, "DAY")
    assert isinstance(wanted, date)
    return AskedDay(
        day=wanted,
        title=given["title"].strip() or "Enrolment",
        starts_s=_seconds(given["begins"], "--from"),
        ends_s=_seconds(given["ends"], "--to"),
        slot_s=given["slot_minutes"] * 60,
        each_s=given["enrolment_minutes"] * 60,
        readers=given["readers"],
        people=given["people"],
        again=given["enrol_again"],
        busy=tuple(_busy(text) for text in given["busy"]),
        crew_most=given["most_away"],
        attended=not given["unattended"],
        languages=tuple(_language(text) for text in given["language"]),
    )


def _seconds(text: str, option: str) -> int:
    hours, _, minutes = text.partition(":")
    if hours.isdecimal() and minutes.isdecimal() and int(hours) <= 24 and int(minutes) < 60:
        return int(hours) * 3600 + int(minutes) * 60
    raise Refusal(told('{option} "{text}" is no time of day; write it as 08:00.', option=option, text=text))


def _busy(text: str) -> Any:
    from evenhand.jobs.enrolment_day import Busy

    department, _, span = text.rpartition("@")
    begins, _, ends = span.partition("-")
    return Busy(_seconds(begins, "--busy"), _seconds(ends, "--busy"), department or None)


def _language(text: str) -> tuple[str, str]:
    person, _, language = text.rpartition("=")
    if not person or language not in ("en", "es"):
        raise Refusal(told('--language "{text}" is not understood; write it as P014=es.', text=text))
    return person, language


def _quality(planned: Any) -> dict[str, Any]:
    return {"minutes": planned.planned.minutes, "bound": planned.planned.bound, "gap": planned.planned.gap}


def _show_plan(planned: Any, lacking: list[str], *, as_json: bool) -> None:
    if as_json:
        shown = {"round": planned.name, "items": planned.items, "left_out": planned.left_out, "lacking": lacking}
        print_json({**shown, **_quality(planned)})
    else:
        _print_plan(planned, lacking)


def told_zones(zones: Mapping[str, str], items: Frame, workplace: str) -> list[str]:
    """Return in words by which clocks times are told, where a reader's is another than the workplace's."""
    by_zone: dict[str, list[str]] = {}
    for reader in sorted(set(items.drop_nulls("starts_at")["reader"])):
        by_zone.setdefault(zones.get(reader, workplace), []).append(reader)
    if set(by_zone) <= {workplace}:
        return []
    clocks = [told("{readers:commas} in {zone}", readers=readers, zone=zone) for zone, readers in by_zone.items()]
    return [
        told(
            "Times are told by the readers' clocks: {clocks}. --from, --to and --busy are workplace time, {zone}.",
            clocks=clocks,
            zone=workplace,
        )
    ]


def _print_plan(planned: Any, lacking: list[str]) -> None:
    print_table(
        ("Reader", "No.", "At", "Do", "Number", "Name", "Standing by"),
        (
            (
                row["reader"],
                row["position"],
                clock_told(row["starts_at"], planned.zone_at(row["reader"])) if row["starts_at"] else "",
                word(row["action"].replace("_", " ")),
                row["number"],
                row["name"],
                row["stands"],
            )
            for row in planned.items.iter_rows(named=True)
            if row["item"] not in planned.over
        ),
        right=(1,),
    )
    rings = {
        (row["reader"], *sorted([row["name"], *planned.beside(row["reader"], row["person"])])): None
        for row in planned.items.drop_nulls("person").iter_rows(named=True)
        if row["action"] != "remove" and planned.beside(row["reader"], row["person"])
    }
    for reader, *names in rings:
        say(
            "In one visit at {reader}, their hands being under each other's numbers: {names}.",
            reader=reader,
            names=names,
        )
    for (reader, number), name in planned.done_before.items():
        say(
            "Number {number} at {reader} was done on round {name} already, and is needed again.",
            number=number,
            reader=reader,
            name=name,
        )
    for line in told_zones(planned.zones, planned.items, planned.zone):
        say("{says}", says=line)
    for row in planned.left_out.iter_rows(named=True):
        named = called(planned.names.get(row["person"]), row["person"]) if row["person"] else ""
        who = f"{named}: " if named and not planned.names_whom(row) else ""
        say("Not in the plan: {who}{why:again}", who=who, why=row["why"])
    for line in lacking:
        say("Who stands by: {line}", line=line)
    gap = (
        told("no plan calls people away for less")
        if planned.planned.is_optimal
        else told("at most {share:.1%} above the best", share=planned.planned.gap)
    )
    say(
        "{count:# enrolment|# enrolments}, {minutes} weighted minutes away: {gap}.",
        lead="\n",
        count=planned.planned.plan.height,
        minutes=planned.planned.minutes,
        gap=gap,
    )
    if planned.name:
        say("Round {name}. `evenhand enrol print {name}` writes its sheets.", name=planned.name)
