"""What the punches of a day leave open, and what is proposed for one that is missing, in words."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from evenhand.terms.languages import Sentence, clock_told, sentence, told
from evenhand.terms.zones import civil_date

__all__ = [
    "WAYS_IN_WORDS",
    "Offered",
    "as_told",
    "minutes_in_doubt",
    "offered_of",
    "say_meal_open",
    "say_proposal",
    "say_punch",
    "say_question",
    "say_suggested",
]

QUESTIONS = {
    "missing_in": sentence("The punch at {at} ends something that nothing began. When did it begin?"),
    "missing_out": sentence("The punch at {at} begins something that nothing ended. When did it end?"),
    "long_span": sentence("What begins at {at} lasts unusually long. Is a punch missing in between?"),
    "same_time": sentence("Two punches bear the time {at}. Which of them is meant?"),
}
WAYS_IN_WORDS = {"in": sentence("in"), "out": sentence("out")}
"""Which way a punch goes, in words."""
SUGGESTED_IN_WORDS = {
    ("add", "in"): sentence("went in at {when}"),
    ("add", "out"): sentence("went out at {when}"),
    ("leave_out", None): sentence("the punch at {when} is one too many"),
    ("direct", "in"): sentence("the punch at {when} went in"),
    ("direct", "out"): sentence("the punch at {when} went out"),
}
OFTEN = sentence("{times} times in a hundred")
NEARLY_ALWAYS = sentence("over 99 times in a hundred")
"""How often, where rounding would say always."""
OF_A_STRAY = sentence(
    "A punch under number {number} at {reader} at {at} may be it: {says:again}. No time is proposed until it is "
    "decided whose that punch is."
)
PROPOSED = sentence(
    "Proposed {way}: {at} (between {earliest} and {latest}, {likely}): {says:again}. Nothing is paid from a proposal."
)


@dataclass(frozen=True)
class Offered:
    """What a form holds already: the punch to add (civil day, time and way), or the `suspect` among those there.

    `which` is the first or the second time that clocks show the hour; `action` what is offered, empty for nothing.
    """

    action: str = ""
    on: str = ""
    at: str = ""
    way: str = ""
    which: str = ""
    suspect: int | None = None


ACTIONS = {"too_many": "leave_out", "wrong_way": "direct"}


def offered_of(proposals: Iterable[Mapping[str, Any]], asked: Sequence[str], zone: str) -> Offered:
    """Return what the first of a day's `proposals` (rows of PROPOSALS) that says something puts into the forms.

    Where none does, the way of the punch that the first of the questions `asked` (kinds of QUESTIONS) lacks.
    """
    for row in proposals:
        if row["kind"] in ACTIONS:
            return Offered(ACTIONS[row["kind"]], way=row["way"] or "", suspect=row["suspect"])
        if row["at"] is not None:
            at = datetime.fromtimestamp(row["at"], ZoneInfo(zone))
            return Offered("add", at.date().isoformat(), f"{at:%H:%M}", row["way"], "second" if at.fold else "first")
    return Offered(way={"missing_in": "in", "missing_out": "out"}.get(asked[0], "") if asked else "")


def minutes_in_doubt(asked: Sequence[Mapping[str, Any]]) -> int:
    """Return how many minutes of pay the questions of one person's day (rows of QUESTIONS) leave in doubt together.

    Two punches the same way in a row are one span whose punch says the wrong way, more often than two spans: then the
    longer of the two counts (common practice, no source).
    """
    missing = [row for row in asked if row["kind"] in ("missing_in", "missing_out")]
    others = sum(int(row["minutes"]) for row in asked if row not in missing)
    minutes = [int(row["minutes"]) for row in missing]
    is_one_way = len(minutes) > 1 and len({row["kind"] for row in missing}) == 1
    return others + (max(minutes) if is_one_way else sum(minutes))


def say_question(kind: str, at: int, zone: str, day: date) -> str:
    """Return what a question (QUESTIONS) asks, on the clock of `zone`, where `day` is spoken of."""
    return told(QUESTIONS[kind], at=as_told(at, zone, day))


def say_meal_open(owed: Collection[str], asked: Collection[str]) -> str:
    """Return what is to be known of a meal where hours are `owed` for one and the day lacks a punch; '' else.

    `owed` are kinds of PREMIUMS, `asked` kinds of QUESTIONS. Source: 11 Cal.5th 58 (2021): what the record lacks is
    presumed not to have been given, and evidence may rebut it.
    """
    if "meal" not in owed or not any(kind.startswith("missing") for kind in asked):
        return ""
    return told(
        "A punch of this day is missing, and it may be one of a meal. As the punches stand an hour for it is owed; "
        "add the punch first, then look whether it still is."
    )


def _how_often(likely: float) -> str:
    times = round(100 * likely)
    return told(OFTEN, times=times) if times < 100 else told(NEARLY_ALWAYS)


def say_proposal(row: Mapping[str, Any], zone: str, day: date) -> str:
    """Return what a row of PROPOSALS says, on the clock of `zone`, where `day` is spoken of."""

    def at(name: str) -> Sentence:
        return as_told(row[name], zone, day)

    given: dict[str, Any] = {"says": row["says"], "way": told(WAYS_IN_WORDS[row["way"]]) if row["way"] else ""}
    given["likely"] = "" if row["likely"] is None else _how_often(row["likely"])
    if row["stray"]:
        reader, number = row["stray"].rsplit("/", 1)
        return told(OF_A_STRAY, number=number, reader=reader, at=at("stray_at"), says=row["says"])
    if row["kind"] == "too_many":
        return told("The punch at {at} is rather one too many ({likely}): {says:again}.", at=at("suspect_at"), **given)
    if row["kind"] == "wrong_way":
        return told("The punch at {at} rather went {way} ({likely}): {says:again}.", at=at("suspect_at"), **given)
    if row["at"] is None:
        return told("No time is proposed: {says:again}.", says=row["says"].partition("; the time is from")[0])
    return told(PROPOSED, at=at("at"), earliest=at("earliest_at"), latest=at("latest_at"), **given)


def say_suggested(row: Mapping[str, Any], zone: str, day: date) -> str:
    """Return what a row of SUGGESTIONS says the record should have, on the clock of `zone`."""
    words = f"“{row['says']}”" if row["says"] else ""
    if row["at"] is None:
        return words
    when = as_told(row["at"], zone, day)
    way = row["direction"] if row["action"] in ("add", "direct") else None
    said = told(SUGGESTED_IN_WORDS[row["action"], way], when=when)
    return told("{what} ({words})", what=said, words=words) if words else said


def say_punch(at: int, zone: str, way: str | None, reader: str | None) -> Sentence:
    """Return a punch of a day as lists name it: `06:53 in, GATE`."""
    went = told(WAYS_IN_WORDS[way]) if way else told("way not said")
    where: str = reader or told("added by a correction")
    return told("{clock} {way}, {where}", clock=clock_told(at, zone), way=went, where=where)


def as_told(at: int, zone: str, day: date) -> Sentence:
    """Return a time, with its day where that is not the one that is spoken of."""
    on, clock = civil_date(zone, at), clock_told(at, zone)
    return told("{at_clock}", at_clock=clock) if on == day else told("{day:short}, {at_clock}", day=on, at_clock=clock)
