"""How `evenhand hands` prints what it saw: changes, forecasts, readers, findings and the parts of a score."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from evenhand.cli.printing import print_table, say
from evenhand.cli.speaking import word
from evenhand.terms import cautions
from evenhand.terms.languages import sentence, told
from evenhand.terms.said import some_saved

if TYPE_CHECKING:
    from evenhand.jobs.hands import Hands
    from evenhand.terms.columns import Frame
    from evenhand.terms.records import Finding

__all__ = [
    "caution",
    "day",
    "number",
    "print_alarms",
    "print_findings",
    "print_forecasts",
    "print_health",
    "print_parts",
]


SHAPES = (sentence("step"), sentence("drift"), sentence("unclear"))
"""How a change came, in the words of its table."""


def print_findings(found: Sequence[Finding]) -> None:
    """Print what needs somebody, each with what to do."""
    for finding in found:
        say("{says}", says=finding.says)
        for line in finding.evidence:
            say("{line}", lead="    ", line=line)
        say("{next_step}", lead="    ", next_step=finding.next_step)
    if not found:
        say("Nothing at hands or readers needs anybody.")


def print_alarms(hands: Hands) -> None:
    """Print what changed, with how many false alarms are accepted."""
    say(
        "Changed (false alarms to be expected of all charts together: about {promised:.2g} a month)",
        promised=hands.promised,
    )
    if not hands.alarms.height:
        say("nothing", lead="  ")
        return
    print_table(
        ("Noticed", "Since", "Until", "Hand or reader", "Shape", "What was seen"),
        (
            (
                day(row["on"]),
                day(row["since"]),
                day(row["until"]),
                hands.names.get(row["person"], row["person"]) or row["reader"],
                row["shape"] and word(row["shape"]),
                told("{says:again}", says=row["says"]),
            )
            for row in hands.alarms.iter_rows(named=True)
        ),
    )


def print_forecasts(hands: Hands) -> None:
    """Print whom to enrol again, those first that save most."""
    say("Enrol again, those first that save most refused presentations", lead="\n")
    worth = hands.forecasts.filter(hands.forecasts["saved"] >= 1)
    if not worth.height:
        say("nobody", lead="  ")
        return
    print_table(
        ("Refusals saved a month", "Name", "Expected now", "After", "Forecast"),
        (
            (
                some_saved(row["saved"], row["presentations_a_month"]),
                hands.names.get(row["person"], row["person"]),
                f"{100 * row['refusal_now']:.1f} %",
                f"{100 * row['refusal_after']:.1f} %",
                told("{says:again}", says=row["says"]),
            )
            for row in worth.iter_rows(named=True)
        ),
        right=(0, 2, 3),
    )


def print_health(hands: Hands) -> None:
    """Print what is wrong with readers, and what is proposed."""
    say("Readers", lead="\n")
    found = [one for one in hands.findings if one.reader and not one.person and not one.number]
    for finding in found:
        say("{says} {next_step}", lead="  ", says=finding.says, next_step=finding.next_step)
    if not found:
        say("nothing to report", lead="  ")


def print_parts(explained: Frame) -> None:
    """Show the highest scores and how much of each is whose."""
    high = explained.sort("above", descending=True).head(5).sort("at")
    if not high.height:
        return
    say("The highest scores, and what they are made of (differences on the scale of the fit, which add up)")
    print_table(
        ("Score", "Reader", "Above usual", "Person", "Reader's part", "That day", "What is left"),
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


def day(day: date | None) -> str:
    """Return a day in short, empty where there is none."""
    return told("{day:short}", day=day) if day else ""


def number(value: float | None) -> str:
    """Return a figure with one decimal, empty where there is none."""
    return "" if value is None else f"{value:.1f}"


def caution() -> None:
    """Print that a person confirms."""
    say("{scores} {forecasts}", lead="\n", scores=told(cautions.SCORES), forecasts=told(cautions.OF_FORECASTS))
