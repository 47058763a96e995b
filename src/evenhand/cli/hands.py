"""Show what scores and refusals tell of hands and readers."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.hands_printing import (
    caution,
    day,
    number,
    print_alarms,
    print_findings,
    print_forecasts,
    print_health,
    print_parts,
)
from evenhand.cli.printing import print_json, print_table, say, with_names
from evenhand.cli.speaking import word
from evenhand.terms.languages import sentence, told

if TYPE_CHECKING:
    from evenhand.jobs.hands import Hands

__all__ = ["command"]


LEVELS = (sentence("all"), sentence("site"), sentence("reader"), sentence("person"))
"""Of whom rates are, in the words of their table."""


@click.group(invoke_without_command=True)
@as_of
@as_json
@click.option(
    "--false-alarms-a-month", default=1.0, show_default=True, help="False alarms a month that all charts may make."
)
@click.option(
    "--refused-share", default=0.05, show_default=True, help="Share of refused presentations that is too much, of 1."
)
@click.pass_context
def command(
    ctx: click.Context, as_of: str | None, as_json: bool, false_alarms_a_month: float, refused_share: float
) -> None:
    """Show which hands and readers changed, and whom to enrol again."""
    ctx.meta["asked"] = (now_or(as_of), false_alarms_a_month, refused_share, as_json)
    if ctx.invoked_subcommand is not None:
        return
    hands = _looked(ctx)
    if as_json:
        from evenhand.jobs.today import listed

        print_json(
            {
                "findings": listed(hands.findings, hands.names),
                "issues": hands.issues,
                "alarms": with_names(hands.alarms, hands.names),
                "forecasts": with_names(hands.forecasts, hands.names),
                "reader_health": hands.health,
                "refused_hands": with_names(hands.watch.logs.refused_hands, hands.names),
            }
        )
        return
    print_alarms(hands)
    print_forecasts(hands)
    print_health(hands)
    for issue in hands.issues:
        say("{says}", lead="  ", says=issue.says)
    caution()


@command.command()
@as_json
@click.pass_context
def findings(ctx: click.Context, as_json: bool) -> None:
    """Show what needs somebody, as the page Hands does: hands and readers that changed, whom to enrol again."""
    from evenhand.jobs.today import listed

    hands = _looked(ctx)
    found = hands.findings
    if as_json or ctx.meta["asked"][3]:
        print_json(listed(found, hands.names))
        return
    print_findings(found)
    caution()


@command.command()
@click.argument("person")
@as_json
@click.pass_context
def person(ctx: click.Context, person: str, as_json: bool) -> None:
    """Show one person's scores by day and reader, with what each high score is made of."""
    from evenhand.jobs.hands import person_hands

    hands = _looked(ctx)
    seen = person_hands(hands, str(hands.reckoning.snapshot.find_person(person)["person"]))
    if as_json or ctx.meta["asked"][3]:
        print_json(seen)
        return
    say("{name} ({person})", name=seen.name, person=seen.person)
    for enrolled_on, reader in seen.enrolled:
        say("enrolled on {day:short} at {reader}", lead="  ", day=enrolled_on, reader=reader)
    print_table(
        ("Day", "Reader", "Presented", "Refused", "Median score", "Highest"),
        (
            (
                day(row["day"]),
                row["reader"],
                row["presentations"],
                row["refused"],
                number(row["median"]),
                number(row["highest"]),
            )
            for row in seen.daily.tail(20).iter_rows(named=True)
        ),
        right=(2, 3, 4, 5),
    )
    print_parts(seen.explained)
    for row in seen.alarms.iter_rows(named=True):
        say("{day:short}: {says:again}", day=row["on"], says=row["says"])
    if seen.forecast:
        say("{says:again}", says=seen.forecast["says"])
    caution()


@command.command()
@click.option("--of", "of", type=click.Choice(["all", "site", "reader", "person"]), help="Only these rows.")
@as_json
@click.pass_context
def rates(ctx: click.Context, of: str | None, as_json: bool) -> None:
    """Show rates of refusal, per presentation and per transaction, with their intervals."""
    found = _looked(ctx).rates
    found = found.filter(found["of"] == of) if of else found.filter(found["of"] != "person")
    if as_json or ctx.meta["asked"][3]:
        print_json(found)
        return
    print_table(
        ("", "Which", "Rate", "Errors", "Trials", "People", "%", "95 % interval", ""),
        (
            (
                word(row["of"]),
                word("everybody") if row["of"] == "all" else row["name"],
                word(row["measure"].replace("_", " ")),
                row["errors"],
                row["trials"],
                row["people"],
                f"{100 * row['rate']:.2f}",
                told("{low:.2f} to {high:.2f}", low=100 * row["low"], high=100 * row["high"]),
                told("{note:again}", note=row["note"]),
            )
            for row in found.iter_rows(named=True)
        ),
        right=(3, 4, 5, 6),
    )
    say("Rates of false matches cannot be read off a log; `evenhand hands threshold` takes a planned test.")


@command.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--present-threshold", type=float, help="The threshold the readers have now.")
@click.option("--presentations-a-week", type=float, required=True, help="Presentations in a week.")
@click.option("--refusal-minutes", default=0.25, show_default=True, help="Minutes a refused presentation costs.")
@click.option("--wrong-hands-a-year", default=0.0, help="Times a year that a wrong hand is tried.")
@click.option("--false-match-minutes", default=0.0, help="Minutes that one false match is held to cost.")
@click.option(
    "--non-mated-from",
    type=click.Choice(["test", "simulation", "assumption"]),
    default="test",
    show_default=True,
    help="Where the non-mated scores come from.",
)
@as_json
@click.pass_context
def threshold(
    ctx: click.Context,
    file: Path,
    present_threshold: float | None,
    presentations_a_week: float,
    refusal_minutes: float,
    wrong_hands_a_year: float,
    false_match_minutes: float,
    non_mated_from: str,
    as_json: bool,
) -> None:
    """Weigh thresholds by a planned test's scores: minutes lost a week against the chance that a wrong hand passes."""
    from evenhand.jobs.planned_test import read_planned_test, weigh_thresholds

    test = read_planned_test(file)
    weighed = weigh_thresholds(
        test,
        non_mated_from,
        presentations_a_week=presentations_a_week,
        minutes_a_refusal=refusal_minutes,
        wrong_hands_a_year=wrong_hands_a_year,
        minutes_a_false_match=false_match_minutes,
        present=present_threshold,
    )
    if as_json or ctx.meta["asked"][3]:
        print_json({"curve": weighed.curve, "advice": weighed.advice})
        return
    say("{says}", says=weighed.advice.says)
    say(
        "Rests on {mated:,} mated and {other:,} non-mated scores ({source}).",
        mated=len(test.mated),
        other=len(test.non_mated),
        source=word(non_mated_from),
    )


@command.command()
@click.argument("directory", type=click.Path(path_type=Path))
@as_json
@click.pass_context
def export(ctx: click.Context, directory: Path, as_json: bool) -> None:
    """Write the data behind every table and picture as CSV into DIRECTORY."""
    from evenhand.jobs.hands import export as write

    written = write(_looked(ctx), directory)
    if as_json or ctx.meta["asked"][3]:
        print_json(written)
        return
    for path in written:
        click.echo(path)


def _looked(ctx: click.Context) -> Hands:
    from evenhand.jobs.hands import find_hands
    from evenhand.jobs.reckoning import reckon_period

    now, budget, limit, _ = ctx.meta["asked"]
    return find_hands(reckon_period(workspace_asked(ctx), now), budget=budget, limit=limit)
