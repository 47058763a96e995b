"""Every decision in one order: what was decided of whom, when, by whom and why, and whether it stands."""

from evenhand.jobs.decision_log.columns import LOG, LOG_KINDS
from evenhand.jobs.decision_log.in_words import decision_told
from evenhand.jobs.decision_log.log import LogAsked, decision_log, log_as_csv, narrowed

__all__ = ["LOG", "LOG_KINDS", "LogAsked", "decision_log", "decision_told", "log_as_csv", "narrowed"]
