"""Show paid hours, and why."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import click

from evenhand.cli.asked import as_json, as_of, day_asked, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table, say, with_names
from evenhand.cli.speaking import word
from evenhand.terms import cautions
from evenhand.terms.languages import Moment, Sentence, clock_told, told
from evenhand.terms.open_punches import say_meal_open, say_proposal, say_question
from evenhand.terms.records import Step
from evenhand.terms.said import decision_in_words, say_struck
from evenhand.terms.weeks import weeks_holding
from evenhand.terms.words import as_figures, signed_figures

if TYPE_CHECKING:
    from evenhand.jobs.history import DayDecision
    from evenhand.jobs.hours import DayHours
    from evenhand.terms.columns import Frame

__all__ = ["command"]


@click.group(invoke_without_command=True)
@click.option("--week", metavar="DATE", help="Everybody's workweek that holds DATE, wherever it begins.")
@as_of
@as_json
@click.pass_context
def command(ctx: click.Context, week: str | None, as_of: str | None, as_json: bool) -> None:
    """List everybody's hours of the period payroll waits for, or of one week."""
    if ctx.invoked_subcommand:
        return
    from evenhand.jobs.reckoning import reckon_period, reckon_weeks

    workspace, now = workspace_asked(ctx), now_or(as_of)
    first = day_asked(week, "--week")
    if first is None:
        reckoning = reckon_period(workspace, now, history=timedelta(0))
        period = reckoning.period()
        first, last = period.first, period.last
    else:
        first, last = weeks_holding(first)
        reckoning = reckon_weeks(workspace, now, first, last)
    hours = reckoning.weeks_between(first, last)
    weeks = hours.weeks.sort("person", "workweek")
    names = reckoning.snapshot.names
    if as_json:
        paid = (weeks["ordinary_s"] + weeks["overtime_s"] + weeks["double_s"]).alias("paid_s")
        print_json(with_names(weeks, names).with_columns(paid))
        return
    print_table(
        ("Person", "Name", "Week of", "Recorded", "Ordinary", "Overtime", "Double", "Paid", "Open"),
        (
            (
                row["person"],
                names.get(row["person"]),
                row["workweek"],
                as_figures(row["recorded_s"]),
                as_figures(row["ordinary_s"]),
                as_figures(row["overtime_s"]),
                as_figures(row["double_s"]),
                as_figures(row["ordinary_s"] + row["overtime_s"] + row["double_s"]),
                row["questions"] or None,
            )
            for row in weeks.iter_rows(named=True)
        ),
        right=(3, 4, 5, 6, 7, 8),
    )
    if hours.failing.height:
        say("Not shown: {what}", lead="\n", err=True, what=hours.says_failing)
    ordinary, overtime, double = (int(weeks[name].sum()) for name in ("ordinary_s", "overtime_s", "double_s"))
    say(
        "{weeks:# person-week|# person-weeks}, ordinary {ordinary}, overtime {overtime}, double {double}, "
        "{questions:# open question|# open questions}. {caution}",
        lead="\n",
        weeks=weeks.height,
        ordinary=as_figures(ordinary),
        overtime=as_figures(overtime),
        double=as_figures(double),
        questions=int(weeks["questions"].sum()),
        caution=told(cautions.CALCULATION),
    )


@command.command()
@click.argument("person")
@click.argument("day")
@as_json
@click.pass_context
def why(ctx: click.Context, person: str, day: str, as_json: bool) -> None:
    """Explain the paid time of PERSON (an identifier, a number or a name) on DAY, such as 2026-11-09."""
    from evenhand.jobs.history import day_history
    from evenhand.jobs.premiums import struck_between
    from evenhand.jobs.proposed import propose_for_day
    from evenhand.jobs.reckoning import reckon_day

    wanted = day_asked(day, "DAY")
    assert wanted is not None
    workspace, now = workspace_asked(ctx), now_or(None)
    reckoning = reckon_day(workspace, now, wanted)
    seen = reckoning.person_day(person, wanted)
    proposals = propose_for_day(workspace, now, seen)
    struck = struck_between(reckoning.snapshot, str(seen.week.person["person"]), wanted, wanted)
    if as_json:
        print_json(_explained(seen, proposals) | {"struck": struck, "history": day_history(reckoning, seen)})
        return
    zone = seen.week.rules.zone
    say(
        "{name} ({person}), {day:long}, {zone}",
        bold=True,
        name=seen.week.person["name"],
        person=seen.week.person["person"],
        day=wanted,
        zone=zone,
    )
    print_table(
        ("Punch", "Reader", "Time", "Went"),
        (
            (
                row["punch"],
                row["reader"] or told("added by hand"),
                clock_told(row["at"], zone),
                row["direction"] and word(row["direction"]),
            )
            for row in seen.punches.iter_rows(named=True)
        ),
        right=(0,),
    )
    click.echo()
    rows: list[tuple[str, ...]] = [(told("Recorded between paired punches"), as_figures(seen.recorded_s), "")]
    rows += [(_again(step.says), _change(step), _again(step.cites)) for step in seen.steps]
    print_table(("What", "Time", "Rule"), [*rows, (told("Paid"), as_figures(seen.paid_s), "")], right=(1,))
    for row in seen.differentials.iter_rows(named=True):
        starts, ends = (Moment(row[bound], zone) for bound in ("starts", "ends"))
        say(
            "{starts:short} to {ends:short}: {says:again} ({cites:again})",
            starts=starts,
            ends=ends,
            says=row["says"],
            cites=row["cites"],
        )
    for row in seen.premiums.iter_rows(named=True):
        say(
            "Owed beside the hours: {hours:f} h, {says:again} ({cites:again})",
            hours=row["hours"].normalize(),
            says=row["says"],
            cites=row["cites"],
        )
    for one in struck:
        say("{says}", says=say_struck(one))
    for row in seen.questions.iter_rows(named=True):
        say("Open: {question}", question=say_question(row["kind"], row["at"], zone, wanted))
    if says := say_meal_open(seen.premiums["kind"].to_list(), seen.questions["kind"].to_list()):
        say("{says}", says=says)
    for line in dict.fromkeys(_proposed(proposals, zone, wanted)):  # two questions may be answered by one punch
        say("{says}", says=line)
    _print_history(day_history(reckoning, seen), zone)
    click.echo()
    for week in seen.weeks:
        totals = week.totals
        say(
            "Workweek of {day:iso}: ordinary {ordinary}, overtime {overtime}, double {double}.",
            day=week.workweek,
            ordinary=as_figures(totals["ordinary_s"]),
            overtime=as_figures(totals["overtime_s"]),
            double=as_figures(totals["double_s"]),
        )
    say(cautions.CALCULATION)


def _proposed(proposals: Frame, zone: str, day: date) -> Iterator[str]:
    """Yield what is proposed for open punches, each time with the command that adds the punch."""
    for row in proposals.iter_rows(named=True):
        yield say_proposal(row, zone, day)
        if row["at"] is not None:
            at = datetime.fromtimestamp(row["at"], ZoneInfo(zone)).isoformat(timespec="minutes")
            yield f"  evenhand correct add {row['person']} --at {at} --direction {row['way']} --reason WHY"


def _print_history(history: list[DayDecision], zone: str) -> None:
    """Print what was decided about the day: who, when and why; what does not stand is marked."""
    if not history:
        return
    say("Decided about this day:", lead="\n")
    rows = []
    for one in history:
        says = decision_in_words(one.action, one.direction, one.name, one.withdraws)
        state = "" if one.stands else told("taken back by {name}", name=one.withdrawn_by)
        rows.append(
            (
                one.correction,
                clock_told(one.at, zone),
                says,
                state,
                one.author,
                told("{at}", at=Moment(one.made_at, zone)),
                one.reason,
            )
        )
    print_table(("Correction", "Punch at", "Says", "", "By", "When", "Why"), rows, right=(0,))
    say("`evenhand correct withdraw N` takes one back, or puts it back.")


def _explained(seen: DayHours, proposals: Frame) -> dict[str, Any]:
    classes = ("ordinary_s", "overtime_s", "double_s")
    return {
        "person": seen.week.person["person"],
        "name": seen.week.person["name"],
        "day": seen.day,
        "zone": seen.week.rules.zone,
        "starts": seen.starts,
        "ends": seen.ends,
        "recorded_s": seen.recorded_s,
        "paid_s": seen.paid_s,
        "punches": seen.punches,
        "steps": seen.steps,
        "classed": seen.classed,
        "differentials": seen.differentials,
        "premiums": seen.premiums,
        "questions": seen.questions,
        "proposals": proposals,
        "weeks": [
            {"workweek": week.workweek}
            | {name: week.totals[name] for name in classes}
            | {"paid_s": sum(week.totals[name] for name in classes)}
            for week in seen.weeks
        ],
    }


def _again(text: str) -> Sentence:
    """Return what rules say and cite in English, to be told again."""
    return told("{text:again}", text=text)


def _change(step: Step) -> str:
    """Time that a step added or took, or the time that it moved to another class."""
    if step.to_class:
        time = as_figures(step.ends - step.starts)
        return told("({time} {kind})", time=time, kind=word(step.to_class))
    return signed_figures(step.seconds)
