"""Scores: what a log of dissimilarity scores and refusals says about hands, readers and thresholds.

`recognise` fits a log once; `watch`, `forecast`, `explain` and `reader_offsets` read the fit; `error_rates`,
`quiet_readers`, `refusal_bursts` and `clock_offsets` need no scores. A score is a dissimilarity: lower is closer.
Split key: a connected group of people and readers.
"""

from evenhand.scores.alarms.design import Design, design_charts
from evenhand.scores.breaks import Break, find_breaks
from evenhand.scores.effects.fit import Effects, fit_effects
from evenhand.scores.enrolling import Enrolment, Placing, judge_distances, judge_scores, usual_placing
from evenhand.scores.forecasts.forecast import forecast
from evenhand.scores.moved_threshold import find_moved_thresholds
from evenhand.scores.rates.error_rates import error_rates
from evenhand.scores.rates.tradeoff import Advice, Costs, advise, equal_error_rate, tradeoff
from evenhand.scores.rates.transactions import set_apart, transactions
from evenhand.scores.readers.bursts import refusal_bursts
from evenhand.scores.readers.clock import ahead_of_file, clock_offsets
from evenhand.scores.readers.offsets import reader_offsets
from evenhand.scores.readers.quiet import quiet_readers
from evenhand.scores.recognition import Recognition, explain, recognise
from evenhand.scores.sound import Sound, Trouble, look_over
from evenhand.scores.tables import ALARMS, ERROR_RATES, EXPLAINED, FORECASTS, PRESENTED, READER_HEALTH, TRANSACTIONS
from evenhand.scores.watch import design_for, watch

__all__ = [
    "ALARMS",
    "ERROR_RATES",
    "EXPLAINED",
    "FORECASTS",
    "PRESENTED",
    "READER_HEALTH",
    "TRANSACTIONS",
    "Advice",
    "Break",
    "Costs",
    "Design",
    "Effects",
    "Enrolment",
    "Placing",
    "Recognition",
    "Sound",
    "Trouble",
    "advise",
    "ahead_of_file",
    "clock_offsets",
    "design_charts",
    "design_for",
    "equal_error_rate",
    "error_rates",
    "explain",
    "find_breaks",
    "find_moved_thresholds",
    "fit_effects",
    "forecast",
    "judge_distances",
    "judge_scores",
    "look_over",
    "quiet_readers",
    "reader_offsets",
    "recognise",
    "refusal_bursts",
    "set_apart",
    "tradeoff",
    "transactions",
    "usual_placing",
    "watch",
]
