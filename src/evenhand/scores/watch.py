"""The watch over hands and readers: one object whose parts are computed once each, when first asked for.

What readers' logs tell by themselves needs no scores and is cheap; what the charts tell rests on a fit of all scores.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import polars as pl

from evenhand.scores.alarms.daily import SETTLED
from evenhand.scores.alarms.design import Design, check_budget
from evenhand.scores.alarms.find import design_for, find_alarms
from evenhand.scores.coding import code_names
from evenhand.scores.forecasts.forecast import forecast
from evenhand.scores.lately import counted_lately
from evenhand.scores.model import FEWEST, ScoreModel, explain, fit_scores, group_levels
from evenhand.scores.rates.error_rates import error_rates
from evenhand.scores.rates.transactions import separate_suspects
from evenhand.scores.readers.bursts import refusal_bursts
from evenhand.scores.readers.clock import ahead_of_file, clock_offsets
from evenhand.scores.readers.logs import Logs, logs_of
from evenhand.scores.readers.offsets import reader_offsets
from evenhand.scores.readers.quiet import ended_logs, quiet_days, quiet_readers
from evenhand.scores.readers.refused_hands import refused_hands
from evenhand.scores.screening import DataIssue, Screened, screen_scores
from evenhand.scores.tables import ALARMS, EXPLAINED, FORECASTS, GROUP_LEVELS, READER_HEALTH
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

SLOW = 1.5
"""Times the limit of free days from which charts are said to be slow: by the adverse workplaces (see docs/hands.md)."""
SLOW_READERS = 3.0
"""Limit and spread of readers' days together, in those of free days, from which readers are slow; chosen likewise."""
NEEDED = ("punch", "person", "reader", "at", "day", "is_refused", "score")

__all__ = ["Charts", "ReaderLogs", "Watch"]


@dataclass(frozen=True)
class ReaderLogs:
    """What the logs of readers tell as of an instant, without scores; `today` is the civil day then."""

    presented: Frame
    sites: Mapping[str, str]
    as_of: int
    today: date

    @cached_property
    def _logs(self) -> Logs:
        return logs_of(self.presented)

    @cached_property
    def health(self) -> Frame:
        """Return what is wrong with readers (READER_HEALTH): silence, bursts of refusals, clocks."""
        logs = self._logs
        silent = quiet_readers(logs, self.as_of)
        days = quiet_days(logs, self.today, self.sites).filter(~pl.col("reader").is_in(silent["reader"].implode()))
        ended = ended_logs(logs, self.as_of, self.sites)
        found = [silent, ended, days, refusal_bursts(logs), clock_offsets(logs), ahead_of_file(logs, self.as_of)]
        return pl.concat(found).sort("reader", "kind", "since")

    @property
    def refused_lately(self) -> dict[str, tuple[int, int]]:
        """Return of how many presentations at each reader in the last four weeks how many were refused."""
        return counted_lately(self.presented, "reader", self.as_of)

    @cached_property
    def refused_hands(self) -> Frame:
        """Return the hands that one reader refuses far more often than the rest of its site does (REFUSED_HANDS)."""
        return refused_hands(self._logs, self.as_of, self.sites)


@dataclass(frozen=True)
class Charts:
    """What scores and refusals of people tell, over all presentations given, as of an instant.

    `budget` is how many false alarms a month all charts together may make, `limit` the share of refused presentations
    that is too much. Raises Refusal for a budget or a limit that cannot be.
    """

    presented: Frame
    sites: Mapping[str, str]
    as_of: int
    budget: float = 1.0
    limit: float = 0.05

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        if not 0 < self.limit < 1:
            raise Refusal(
                told(
                    "a limit of {limit:g} is no share of presentations; give one between 0 and 1, such as 0.05.",
                    limit=self.limit,
                )
            )
        check_budget(self.budget)

    @property
    def attributed(self) -> Frame:
        """Return the presentations (PRESENTED) under a number that one person holds, as far as the charts need them.

        Not kept: they are nearly all of them, cut out faster than they are looked at.
        """
        return code_names(self.presented.select(NEEDED).filter(pl.col("person").is_not_null()))

    @cached_property
    def screened(self) -> Screened:
        """Return the presentations fit for use, and what was wrong with the others."""
        screened = screen_scores(self.attributed)
        credible, suspect = separate_suspects(screened.presented)
        return replace(screened, presented=credible, issues=(*screened.issues, *_suspects(suspect)))

    @cached_property
    def model(self) -> ScoreModel | None:
        """Return the fit of all scores; None where they are too few."""
        return fit_scores(self.screened.presented)

    @cached_property
    def issues(self) -> tuple[DataIssue, ...]:
        """Return what was wrong with the presentations, and which charts cannot be drawn yet."""
        return (
            *self.screened.issues,
            *_undrawn(self.screened.presented, self.design),
            *_slow(self.design, self.model),
            *_unsettled(self.model),
        )

    @cached_property
    def design(self) -> Design | None:
        """Return the limits of all charts; None without presentations."""
        return design_for(self.model, self.screened.presented, self.budget) if self.screened.presented.height else None

    @cached_property
    def alarms(self) -> Frame:
        """Return what changed at hands and readers (ALARMS), the latest first."""
        return find_alarms(self.model, self.design) if self.design else ALARMS.empty()

    @cached_property
    def forecasts(self) -> Frame:
        """Return who is refused too often, or soon will be (FORECASTS), those first who gain most."""
        if self.model is None:
            return FORECASTS.empty()
        lasting = self.alarms.filter(pl.col("until").is_null(), pl.col("cause").is_in(["hand", "both"]))
        changed = frozenset(lasting["person"].drop_nulls())
        alarmed = frozenset(self.alarms.filter(pl.col("chart") == "hand")["person"].drop_nulls())
        return forecast(self.model, self.as_of, limit=self.limit, changed=changed, alarmed=alarmed)

    @property
    def refused_lately(self) -> dict[str, tuple[int, int]]:
        """Return of how many presentations of each person in the last four weeks how many were refused, of credible."""
        return counted_lately(self.screened.presented, "person", self.as_of)

    @cached_property
    def offsets(self) -> Frame:
        """Return the readers that score their people higher than others do (READER_HEALTH)."""
        return reader_offsets(self.model) if self.model else READER_HEALTH.empty()

    @cached_property
    def rates(self) -> Frame:
        """Return how often hands are refused (ERROR_RATES)."""
        return error_rates(self.attributed, self.sites)

    def explained(self, person: str | None = None) -> Frame:
        """Return what each score is made of (EXPLAINED), or each of one person's."""
        return explain(self.model, person) if self.model else EXPLAINED.empty()

    def group_levels(self, group_of: Mapping[str, str]) -> Frame:
        """Return how groups of people score at each reader of late (GROUP_LEVELS)."""
        return group_levels(self.model, group_of, self.as_of) if self.model else GROUP_LEVELS.empty()


@dataclass(frozen=True)
class Watch:
    """Readers' logs and the charts together."""

    logs: ReaderLogs
    charts: Charts

    @cached_property
    def health(self) -> Frame:
        """Return all that is wrong with readers (READER_HEALTH), with what the scores tell of them."""
        return pl.concat([self.logs.health, self.charts.offsets]).sort("reader", "kind", "since")


def _undrawn(presented: Frame, design: Design | None) -> list[DataIssue]:
    """Say which charts of scores are not there, where there are scores at all."""
    count = presented["score"].count()
    if not count or (design and "reader" in design.limits):
        return []
    if not (design and "hand" in design.limits):
        why = (
            told("nobody's scores at a reader ever differ, in {count:,}", count=count)
            if count >= FEWEST
            else told("{count:# score|# scores} can be used, and it takes {fewest}", count=count, fewest=FEWEST)
        )
        says = told("No chart of scores can be drawn yet: {why}.", why=why)
        return [DataIssue("too_few_scores", None, count, says)]
    says = told(
        "No reader has a chart of scores yet: it begins when somebody has {settled} scores at a reader and then comes "
        "there on two more days.",
        settled=SETTLED,
    )
    return [DataIssue("too_few_days", None, count, says)]


def _slow(design: Design | None, model: ScoreModel | None) -> list[DataIssue]:
    """Say where charts of scores are slow: their limits are far above those of days that are free of each other."""
    found: list[DataIssue] = []
    if design is None or model is None:
        return found
    hand, reader = (design.limits.get(what) for what in ("hand", "reader"))
    if hand and hand.raised >= SLOW:
        says = told(
            "Charts of hands are slow here: days hang together, so that their limit is {raised:.1f} times "
            "as high as if they did not, for false alarms to stay few. A hand that changes is seen late or "
            "never by scores: look at how often hands are refused.",
            raised=hand.raised,
        )
        found.append(DataIssue("hand_charts_slow", None, 0, says))
    times = reader.raised * model.daily.reader_spread if reader else 1.0
    if times >= SLOW_READERS:
        says = told(
            "Charts of readers are slow here: days at a reader hang together, so that a change has to stand out "
            "{times:.1f} times as far as if they did not, for false alarms to stay few. A reader that changes is seen "
            "late or never by scores: look at how often each refuses.",
            times=times,
        )
        found.append(DataIssue("reader_charts_slow", None, 0, says))
    return found


def _unsettled(model: ScoreModel | None) -> list[DataIssue]:
    """Say where people, readers and single scores cannot be told apart by likelihood."""
    if model is None or model.effects.ratios.settled:
        return []
    says = told(
        "How far people and readers differ could not be fitted to these scores: the spread of their middles stands in. "
        "Take parts of scores and the causes named as rough."
    )
    return [DataIssue("variances_not_settled", None, len(model.values), says)]


def _suspects(suspect: Frame) -> list[DataIssue]:
    if not suspect.height:
        return []
    says = told(
        "{count:,} refused presentations were probably another hand, or a number keyed by a slip: far beyond "
        "the person's own scores, which were as ever before and after. They are set apart and not counted.",
        count=suspect.height,
    )
    return [DataIssue("suspect_claims", None, suspect.height, says)]
