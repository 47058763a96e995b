"""Show what scores and refusals tell of hands and readers."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenhand.cli.asked import as_json, as_of, now_or, workspace_asked
from evenhand.cli.printing import print_json, print_table

if TYPE_CHECKING:
    from evenhand.jobs.hands import Hands
    from evenhand.terms.columns import Frame

__all__ = ["command"]


@click.group(invoke_without_command=True)
@as_of
@as_json
@click.option("--false-alarms", default=1.0, show_default=True, help="False alarms a month that all charts may make.")
@click.option("--limit", default=0.05, show_default=True, help="Share of refused presentations that is too much.")
@click.pass_context
def command(ctx: click.Context, as_of: str | None, as_json: bool, false_alarms: float, limit: float) -> None:
    """Show which hands and readers changed, and whom to enrol again."""
    ctx.meta["asked"] = (now_or(as_of), false_alarms, limit, as_json)
    if ctx.invoked_subcommand is not None:
        return
    hands = _looked(ctx)
    if as_json:
        print_json(
            {
                "troubles": hands.sound.troubles,
                "alarms": hands.alarms,
                "forecasts": hands.forecasts,
                "reader_health": hands.health,
            }
        )
        return
    _print_alarms(hands)
    _print_forecasts(hands)
    _print_health(hands)
    for trouble in hands.sound.troubles:
        click.echo(f"  {trouble.says}")
    _caution()


@command.command()
@click.argument("person")
@click.pass_context
def person(ctx: click.Context, person: str) -> None:
    """Show one person's scores by day and reader, with what each high score is made of."""
    from evenhand.jobs.hands import person_hands
    from evenhand.jobs.hours import find_person

    who = find_person(workspace_asked(ctx), person)
    seen = person_hands(workspace_asked(ctx), _looked(ctx), str(who["person"]))
    if ctx.meta["asked"][3]:
        print_json(seen)
        return
    click.echo(f"{seen.name} ({seen.person})")
    for enrolled_on, reader in seen.enrolled:
        click.echo(f"  enrolled on {_day(enrolled_on)} at {reader}")
    print_table(
        ("Day", "Reader", "Presented", "Refused", "Median score", "Highest"),
        (
            (
                _day(row["day"]),
                row["reader"],
                row["presentations"],
                row["refused"],
                _number(row["median"]),
                _number(row["highest"]),
            )
            for row in seen.daily.tail(20).iter_rows(named=True)
        ),
        right=(2, 3, 4, 5),
    )
    _print_parts(seen.explained)
    for row in seen.alarms.iter_rows(named=True):
        click.echo(f"{_day(row['on'])}: {row['says']}")
    if seen.forecast:
        click.echo(seen.forecast["says"])
    _caution()


@command.command()
@click.option("--of", "of", type=click.Choice(["all", "site", "reader", "person"]), help="Only these rows.")
@click.pass_context
def rates(ctx: click.Context, of: str | None) -> None:
    """Show rates of refusal, per presentation and per transaction, with their intervals."""
    found = _looked(ctx).rates
    found = found.filter(found["of"] == of) if of else found.filter(found["of"] != "person")
    if ctx.meta["asked"][3]:
        print_json(found)
        return
    print_table(
        ("", "Which", "Rate", "Errors", "Trials", "People", "%", "95 % interval", ""),
        (
            (
                row["of"],
                row["name"],
                row["measure"].replace("_", " "),
                row["errors"],
                row["trials"],
                row["people"],
                f"{100 * row['rate']:.2f}",
                f"{100 * row['low']:.2f} to {100 * row['high']:.2f}",
                row["note"],
            )
            for row in found.iter_rows(named=True)
        ),
        right=(3, 4, 5, 6),
    )
    click.echo("Rates of false matches cannot be read off a log; `evenhand hands threshold` takes a planned test.")


@command.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--present", type=float, help="The threshold the readers have now.")
@click.option("--presentations", type=float, required=True, help="Presentations in a week.")
@click.option("--minutes", default=0.25, show_default=True, help="Minutes a refused presentation costs.")
@click.option("--wrong-hands", default=0.0, help="Times a year that a wrong hand is tried.")
@click.option("--match-minutes", default=0.0, help="Minutes that one false match is held to cost.")
@click.option(
    "--origin",
    type=click.Choice(["test", "simulation", "assumption"]),
    default="test",
    show_default=True,
    help="Where the non-mated scores come from.",
)
@click.pass_context
def threshold(
    ctx: click.Context,
    file: Path,
    present: float | None,
    presentations: float,
    minutes: float,
    wrong_hands: float,
    match_minutes: float,
    origin: str,
) -> None:
    """Weigh thresholds by a planned test's scores: minutes lost a week against the chance that a wrong hand passes."""
    from evenhand.jobs.planned_test import read_planned_test
    from evenhand.scores import Costs, advise, tradeoff

    test = read_planned_test(file)
    costs = Costs(presentations, minutes, wrong_hands, match_minutes)
    curve = tradeoff(test.mated, test.non_mated, origin, costs)  # type: ignore[arg-type]
    advice = advise(curve, costs, present)
    if ctx.meta["asked"][3]:
        print_json({"curve": curve, "advice": advice})
        return
    click.echo(advice.says)
    click.echo(f"Rests on {len(test.mated):,} mated and {len(test.non_mated):,} non-mated scores ({origin}).")


@command.command()
@click.argument("directory", type=click.Path(path_type=Path))
@click.pass_context
def export(ctx: click.Context, directory: Path) -> None:
    """Write the data behind every table and picture as CSV into DIRECTORY."""
    from evenhand.jobs.hands import export as write

    for path in write(_looked(ctx), directory):
        click.echo(str(path))


def _looked(ctx: click.Context) -> Hands:
    from evenhand.jobs.hands import look_at_hands

    now, budget, limit, _ = ctx.meta["asked"]
    return look_at_hands(workspace_asked(ctx), now, budget=budget, limit=limit)


def _print_alarms(hands: Hands) -> None:
    promised = hands.design.false_alarms_a_month if hands.design else 0.0
    click.echo(f"Changed (at most {promised:.2g} false alarms a month over all charts)")
    if not hands.alarms.height:
        click.echo("  nothing")
        return
    print_table(
        ("Noticed", "Since", "Until", "Hand or reader", "Shape", "What was seen"),
        (
            (
                _day(row["on"]),
                _day(row["since"]),
                _day(row["until"]),
                hands.names.get(row["person"], row["person"]) or row["reader"],
                row["shape"],
                row["says"],
            )
            for row in hands.alarms.iter_rows(named=True)
        ),
    )


def _print_forecasts(hands: Hands) -> None:
    click.echo("\nEnrol again, those first that save most refused presentations")
    worth = hands.forecasts.filter(hands.forecasts["saved"] >= 1)
    if not worth.height:
        click.echo("  nobody")
        return
    print_table(
        ("Saves a month", "Name", "Refused now", "After", "Forecast"),
        (
            (
                f"{row['saved']:.0f}",
                hands.names.get(row["person"], row["person"]),
                f"{100 * row['refusal_now']:.1f} %",
                f"{100 * row['refusal_after']:.1f} %",
                row["says"],
            )
            for row in worth.iter_rows(named=True)
        ),
        right=(0, 2, 3),
    )


def _print_health(hands: Hands) -> None:
    click.echo("\nReaders")
    for row in hands.health.iter_rows(named=True):
        click.echo(f"  {row['says']} {row['proposal']}")
    if not hands.health.height:
        click.echo("  nothing to report")


def _print_parts(explained: Frame) -> None:
    """Show the highest scores and how much of each is whose."""
    high = explained.sort("above", descending=True).head(5).sort("at")
    if not high.height:
        return
    click.echo("The highest scores, and what they are made of (differences on the scale of the fit, which add up)")
    print_table(
        ("Score", "Reader", "Above usual", "Person", "Reader's part", "That day", "That once"),
        (
            (
                f"{row['score']:g}",
                row["reader"],
                *(f"{row[part]:+.2f}" for part in ("above", "of_person", "of_reader", "of_day", "rest")),
            )
            for row in high.iter_rows(named=True)
        ),
        right=(0, 2, 3, 4, 5, 6),
    )


def _day(day: date | None) -> str:
    return f"{day:%d %b}" if day else ""


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:.1f}"


def _caution() -> None:
    from evenhand.jobs.hands import CAUTION

    click.echo(f"\n{CAUTION}")
