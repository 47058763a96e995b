"""Scores: what a log of dissimilarity scores and refusals says about hands, readers and thresholds.

`presentations_of` makes what this room works on. `ReaderLogs` tells of readers without scores, `Charts` of hands and
readers by scores and refusals, a `Watch` holds both; each part is computed when first asked for. A score is a
dissimilarity: lower is closer. Split key: a connected group of people and readers.
"""

from evenhand.scores.alarms.design import Design, design_charts
from evenhand.scores.alarms.find import design_for, find_alarms
from evenhand.scores.baselines import BaselineBreak, find_scale_breaks
from evenhand.scores.effects.fit import Effects, fit_effects
from evenhand.scores.enrolment_quality import EnrolmentQuality, PlacementNoise, assess_enrolment, estimate_placement
from evenhand.scores.forecasts.forecast import forecast
from evenhand.scores.model import ScoreModel, explain, fit_scores, group_levels
from evenhand.scores.moved_threshold import find_moved_thresholds
from evenhand.scores.presentations import presentations_of
from evenhand.scores.rates.error_rates import error_rates
from evenhand.scores.rates.tradeoff import ORIGIN_WORDS, ORIGINS, Costs, ThresholdAdvice, advise_threshold, tradeoff
from evenhand.scores.rates.transactions import Transactions, group_attempts, separate_suspects
from evenhand.scores.screening import DataIssue, Screened, screen_scores
from evenhand.scores.tables import (
    ALARMS,
    ERROR_RATES,
    EXPLAINED,
    FORECASTS,
    GROUP_LEVELS,
    PRESENTED,
    READER_HEALTH,
    REFUSED_HANDS,
)
from evenhand.scores.watch import Charts, ReaderLogs, Watch

__all__ = [
    "ALARMS",
    "ERROR_RATES",
    "EXPLAINED",
    "FORECASTS",
    "GROUP_LEVELS",
    "ORIGINS",
    "ORIGIN_WORDS",
    "PRESENTED",
    "READER_HEALTH",
    "REFUSED_HANDS",
    "BaselineBreak",
    "Charts",
    "Costs",
    "DataIssue",
    "Design",
    "Effects",
    "EnrolmentQuality",
    "PlacementNoise",
    "ReaderLogs",
    "ScoreModel",
    "Screened",
    "ThresholdAdvice",
    "Transactions",
    "Watch",
    "advise_threshold",
    "assess_enrolment",
    "design_charts",
    "design_for",
    "error_rates",
    "estimate_placement",
    "explain",
    "find_alarms",
    "find_moved_thresholds",
    "find_scale_breaks",
    "fit_effects",
    "fit_scores",
    "forecast",
    "group_attempts",
    "group_levels",
    "presentations_of",
    "screen_scores",
    "separate_suspects",
    "tradeoff",
]
