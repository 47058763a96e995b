"""What a statement says of each line, in words of the catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from evenhand.terms.languages import Sentence, Speech, clock_told, sentence, told
from evenhand.terms.open_punches import WAYS_IN_WORDS
from evenhand.terms.records import Step
from evenhand.terms.rules_told import cited
from evenhand.terms.signing import DISPUTED_IN_WORDS

__all__ = [
    "ASKED_OF",
    "CLASSES",
    "about_dispute",
    "premium_rule",
    "punch_line",
    "rule_in_words",
    "rule_of_step",
    "state_of_dispute",
]

CLASSES = {
    "ordinary": sentence("Ordinary time"),
    "overtime": sentence("Overtime"),
    "double": sentence("Double time"),
}
ASKED_OF = {
    "missing_in": sentence("A punch at {at} ends something that nothing began. When did it begin?"),
    "missing_out": sentence("A punch at {at} begins something that nothing ended. When did it end?"),
    "long_span": sentence("What begins at {at} lasts unusually long. Is a punch missing?"),
    "same_time": sentence("Two punches bear the time {at}. Which of them is meant?"),
}
PREMIUMS = {
    "meal": sentence("meal premium"),
    "rest": sentence("rest premium"),
    "split_shift": sentence("split shift premium"),
    "reporting": sentence("reporting premium"),
    "call_back": sentence("call back premium"),
}
RULES = {
    "repeats": sentence("repeats"),
    "pairing": sentence("pairing"),
    "grace": sentence("grace"),
    "trifles": sentence("trifles"),
    "automatic_meal": sentence("automatic meal"),
    "rest_breaks": sentence("rest breaks"),
    "rounding": sentence("rounding"),
    "workweek": sentence("workweek"),
    "workweek_moved": sentence("workweek moved"),
    "overtime": sentence("overtime"),
    "workday": sentence("workday"),
    "moving_workday": sentence("moving workday"),
    "daily": sentence("daily"),
    "twelve_hours": sentence("twelve hours"),
    "weekly": sentence("weekly"),
    "fortnight": sentence("fortnight"),
    "work_period": sentence("work period"),
    "alternative_workweek": sentence("alternative workweek"),
    "health_care_schedule": sentence("health care schedule"),
    "seventh_day": sentence("seventh day"),
    "rest_periods": sentence("rest periods"),
}
"""What the rules that leave steps are called, by the last part of their names."""
STATES = {
    "accepted": sentence("accepted"),
    "rejected": sentence("not accepted"),
}


def rule_of_step(step: Step, speech: Speech) -> str:
    """Return the rule that made a step, with its sources."""
    return f"{rule_in_words(step.rule, speech)}: {cited(step.cites, speech)}"


def rule_in_words(rule: str, speech: Speech) -> str:
    """Return what a rule is called."""
    name = rule.rpartition(".")[2]
    return speech(RULES[name]) if name in RULES else name.replace("_", " ")


def premium_rule(kind: str, cites: str, speech: Speech) -> str:
    """Return what hours of pay are owed for, with the sources."""
    return f"{speech(PREMIUMS[kind])}: {cited(cites, speech)}"


def punch_line(row: Mapping[str, Any], zone: str) -> Sentence:
    """Return a punch (a row of ATTRIBUTED) as its line says it."""
    way = told(WAYS_IN_WORDS[row["direction"]]) if row["direction"] else told("way not said")
    where = row["reader"] or told("added by a correction")
    return told("Punch at {at}, {way}, {where}", at=clock_told(row["at"], zone), way=way, where=where)


def about_dispute(kind: str, day: date | None) -> Sentence:
    """Return what a dispute is about, with its day where it has one."""
    what = told(DISPUTED_IN_WORDS[kind])
    return told("{what}, {day}", what=what, day=day) if day else what


def state_of_dispute(state: str, answer_by: date, speech: Speech) -> str:
    """Return what became of a dispute, or by when it is answered."""
    if state == "withdrawn":
        return speech.meaning("a dispute", "taken back")
    return speech.said(told(STATES[state]) if state in STATES else told("to be answered by {day}", day=answer_by))
