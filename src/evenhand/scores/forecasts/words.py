"""What is said of somebody's refusals now and to come: never an advice that the figures beside it speak against."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.terms.languages import told
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
    counts = (
        told("{refused} of {presented} presentations were refused", refused=refused, presented=presented)
        if presented
        else told("no presentation was seen")
    )
    now = told(
        "{counts} in the last 28 days, and by the level of the last days {share:.1f} % refused are to be expected",
        counts=counts,
        share=100 * of.share,
    )
    if of.state == "locked_out":
        if of.spared < SPARED:
            return told(
                "The last four presentations were refused, but that the hand has changed is not sure: "
                "let it be laid down with care; if it is refused again, offer another way to clock."
            )
        return told(
            "The last four presentations were refused: a changed hand that is refused is never learnt; enrol again."
        )
    if of.state == "rising" and of.days is not None:
        soon, late = (_in_days(count) for count in of.days[::2])
        return told(
            "Scores rise; {now}, and {limit:.0f} % is passed {soon} at the soonest, {late} at the latest.",
            now=now,
            limit=100 * of.limit,
            soon=soon,
            late=late,
        )
    if of.state == "rising" and of.share < of.limit:
        return told("Scores rise; {now}. No date: {limit:.0f} % may be passed already.", now=now, limit=100 * of.limit)
    if of.state == "rising":
        advice = (
            told("enrol again") if of.spared >= SPARED else told("so few that a new enrolment would hardly spare any")
        )
        return told("Scores rise, and {now}: {advice}.", now=now, advice=advice)
    if of.state == "raised":
        return told("Scores rose; {now}. No date: whether they rise further is not sure.", now=now)
    if of.has_changed:
        unsure = told("the hand has changed, but what a new enrolment would spare is not sure")
        return told("{now}; {unsure}: offer another way to clock.", now=now, unsure=unsure)
    return told("{now}, as before: a new enrolment may help little; offer another way to clock.", now=now)


def _in_days(count: float) -> str:
    if not np.isfinite(count):
        return told("in two years or more")
    return told("tomorrow") if count < 2 else told("in {count:.0f} days", count=count)
