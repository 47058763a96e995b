"""What is said of somebody's refusals now and to come: never an advice that the figures beside it speak against."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.terms.words import SPARED

__all__ = ["ForecastWords", "forecast_says"]


@dataclass(frozen=True)
class ForecastWords:
    """What is said of one person, by the state of the forecast (FORECASTS).

    `lately` is how many presentations were refused and made over the last 28 days, `share` what is to be expected by
    the level now, `limit` what is too much; `days` are those until it is passed: soonest, likely, latest; None where no
    date is given. `spared` are the refusals a month that enrolling again would save; a chart may tell of a change.
    """

    state: str
    lately: tuple[int, int]
    share: float
    limit: float
    days: tuple[float, float, float] | None
    spared: float
    has_changed: bool


def forecast_says(of: ForecastWords) -> str:
    """Return the sentence of one person's forecast."""
    refused, presented = of.lately
    counts = f"{refused} of {presented} presentations were refused" if presented else "no presentation was seen"
    now = (
        f"{counts} in the last 28 days, and by the level of the last days {100 * of.share:.1f} % refused are to be "
        "expected"
    )
    if of.state == "locked_out":
        if of.spared < SPARED:
            return (
                "The last four presentations were refused, but that the hand has changed is not sure: let it be laid "
                "down with care; if it is refused again, offer another way to clock."
            )
        return "The last four presentations were refused: a changed hand that is refused is never learnt; enrol again."
    if of.state == "rising" and of.days is not None:
        soon, late = (_in_days(count) for count in of.days[::2])
        return f"Scores rise; {now}, and {100 * of.limit:.0f} % is passed {soon} at the soonest, {late} at the latest."
    if of.state == "rising" and of.share < of.limit:
        return f"Scores rise; {now}. No date: {100 * of.limit:.0f} % may be passed already."
    if of.state == "rising":
        advice = "enrol again" if of.spared >= SPARED else "so few that a new enrolment would hardly spare any"
        return f"Scores rise, and {now}: {advice}."
    if of.state == "raised":
        return f"Scores rose; {now}. No date: whether they rise further is not sure."
    if of.has_changed:
        unsure = "the hand has changed, but what a new enrolment would spare is not sure"
        return f"{now}; {unsure}: offer another way to clock."
    return f"{now}, as before: a new enrolment may help little; offer another way to clock."


def _in_days(count: float) -> str:
    if not np.isfinite(count):
        return "in two years or more"
    return "tomorrow" if count < 2 else f"in {count:.0f} days"
