"""Scores: what a log of dissimilarity scores and refusals says about hands, readers and thresholds.

`fit_scores` fits a log once; `watch`, `forecast`, `explain` and `reader_offsets` read the fit; `error_rates`,
`quiet_readers`, `refusal_bursts` and `clock_offsets` need no scores. A score is a dissimilarity: lower is closer.
Split key: a connected group of people and readers.
"""

from evenhand.scores.alarms.design import Design, design_charts
from evenhand.scores.alarms.find import design_for, find_alarms
from evenhand.scores.baselines import BaselineBreak, find_scale_breaks
from evenhand.scores.effects.fit import Effects, fit_effects
from evenhand.scores.enrolment_quality import EnrolmentQuality, PlacementNoise, assess_enrolment, estimate_placement
from evenhand.scores.forecasts.forecast import forecast
from evenhand.scores.model import ScoreModel, explain, fit_scores
from evenhand.scores.moved_threshold import find_moved_thresholds
from evenhand.scores.rates.error_rates import error_rates
from evenhand.scores.rates.tradeoff import ORIGINS, Costs, ThresholdAdvice, advise_threshold, tradeoff
from evenhand.scores.rates.transactions import separate_suspects, transactions
from evenhand.scores.readers.bursts import refusal_bursts
from evenhand.scores.readers.clock import ahead_of_file, clock_offsets
from evenhand.scores.readers.offsets import reader_offsets
from evenhand.scores.readers.quiet import quiet_readers
from evenhand.scores.screening import DataIssue, Screened, screen_scores
from evenhand.scores.tables import ALARMS, ERROR_RATES, EXPLAINED, FORECASTS, PRESENTED, READER_HEALTH, TRANSACTIONS

__all__ = [
    "ALARMS",
    "ERROR_RATES",
    "EXPLAINED",
    "FORECASTS",
    "ORIGINS",
    "PRESENTED",
    "READER_HEALTH",
    "TRANSACTIONS",
    "BaselineBreak",
    "Costs",
    "DataIssue",
    "Design",
    "Effects",
    "EnrolmentQuality",
    "PlacementNoise",
    "ScoreModel",
    "Screened",
    "ThresholdAdvice",
    "advise_threshold",
    "ahead_of_file",
    "assess_enrolment",
    "clock_offsets",
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
    "quiet_readers",
    "reader_offsets",
    "refusal_bursts",
    "screen_scores",
    "separate_suspects",
    "tradeoff",
    "transactions",
]
