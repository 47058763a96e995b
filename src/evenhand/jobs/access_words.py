"""What columns and fixed values are called in the report of what is held on a person."""

from __future__ import annotations

from collections.abc import Mapping

from evenhand.records.access import BLANK
from evenhand.terms.closing import item_in_words
from evenhand.terms.columns import Column
from evenhand.terms.languages import NAMES, Speech, sentence
from evenhand.terms.rules_told import cited

__all__ = ["COLUMNS_HELD", "VALUES_HELD", "column_said", "value_said"]

COLUMNS_HELD = (
    sentence("action"),
    sentence("adjusts"),
    sentence("answer"),
    sentence("answer by"),
    sentence("by"),
    sentence("cites"),
    sentence("column"),
    sentence("counted"),
    sentence("decision"),
    sentence("digest"),
    sentence("earned in"),
    sentence("edition"),
    sentence("evidence"),
    sentence("field"),
    sentence("figure"),
    sentence("finding"),
    sentence("first day"),
    sentence("hold"),
    sentence("holder"),
    sentence("how"),
    sentence("is lifted"),
    sentence("is withdrawn"),
    sentence("issue"),
    sentence("item"),
    sentence("language"),
    sentence("last day"),
    sentence("lifts"),
    sentence("line"),
    sentence("made at"),
    sentence("next step"),
    sentence("not well"),
    sentence("origin"),
    sentence("other way"),
    sentence("part"),
    sentence("period"),
    sentence("policy"),
    sentence("position"),
    sentence("practice"),
    sentence("rate"),
    sentence("reason"),
    sentence("received at"),
    sentence("refusal"),
    sentence("result"),
    sentence("rule"),
    sentence("said at"),
    sentence("said on"),
    sentence("says"),
    sentence("scores"),
    sentence("seen"),
    sentence("signoff"),
    sentence("stands"),
    sentence("stood by"),
    sentence("table"),
    sentence("takes back"),
    sentence("text"),
    sentence("told"),
    sentence("until"),
    sentence("was"),
    sentence("way"),
    sentence("well"),
    sentence("why"),
    sentence("withdraws"),
)
"""The columns of the report that no file of the workplace has, as they are said."""
VALUES_HELD: Mapping[str, str] = {
    "add": sentence("a punch added"),
    "agree": sentence("agreed"),
    "approve": sentence("approved"),
    "attribute": sentence("given to somebody"),
    "cannot": sentence("could not be enrolled"),
    "code": sentence("with a code"),
    "confirm": sentence("confirmed"),
    "direct": sentence("in or out said"),
    "excluded": sentence("left out of the rate"),
    "extended": sentence("put off"),
    "half_month": sentence("half a month"),
    "hourly": sentence("by the hour"),
    "job": sentence("by the job"),
    "leave": sentence("paid leave"),
    "leave_out": sentence("a punch left out"),
    "look": sentence("to be looked into"),
    "month": sentence("a month"),
    "other_way": sentence("another way to clock"),
    "owe": sentence("owed"),
    "piece": sentence("by the piece"),
    "presume": sentence("presumed"),
    "refuse": sentence("did not agree"),
    "refused": sentence("refused by the reader"),
    "rejected": sentence("was not accepted"),
    "removed": sentence("the hand removed"),
    "reopened": sentence("opened again"),
    "salary_fixed": sentence("a salary for fixed hours"),
    "salary_fluctuating": sentence("a salary for whatever hours"),
    "stopped": sentence("was stopped"),
    "straight": sentence("paid at the straight rate"),
    "strike": sentence("the hours struck"),
    "take_back": sentence("what was said taken back"),
    "try_again": sentence("to be tried again"),
    "undone": sentence("was undone"),
    "week": sentence("a week"),
    "withdraw": sentence("taken back by who said it"),
}
"""Fixed values that are said nowhere else, or otherwise there, by how they are kept."""
RETOLD = ("reason", "says", "label", "rule", "other_way")
"""Columns that hold sentences of evenhand as they were kept in English, beside what people wrote."""


def column_said(name: str, say: Speech) -> str:
    """Return what a column of the report is called; raises KeyError for one that has no name in the language."""
    match name:
        case "round":
            return say.meaning("a column", "round")
        case "take":
            return say.meaning("a column", "take")
    return say(name.replace("_", " "))


def value_said(part: str, column: Column, value: str, say: Speech) -> str:
    """Return a text of a part of the report as it is printed; in English it is as it was kept."""
    return value if say.language == "en" else _said(part, column, value, say).replace(BLANK, say(BLANK))


def _said(part: str, column: Column, value: str, say: Speech) -> str:
    if column.name == "language":
        return NAMES.get(value, value)
    if column.allowed:
        return say(VALUES_HELD.get(value, value.replace("_", " ")))
    if column.name == "table":
        return say.said(value.replace("_", " "))
    if column.name == "cites":
        return cited(value, say)
    if part == "handoffs" and column.name == "item":
        return say.said(item_in_words(value))
    return say.retold(value) if column.name in RETOLD else value
