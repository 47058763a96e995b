"""The tables of consent: policy versions, what each person said, and how they stand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import polars as pl

from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import sentence, told

__all__ = [
    "CONSENT_ACTIONS",
    "CONSENT_DECISIONS",
    "CONSENT_HISTORY",
    "CONSENT_KINDS",
    "CONSENT_POLICIES",
    "CONSENT_STATES",
    "CONSENT_TAKES",
    "EARLY_ENROLMENTS",
    "ENROLLED_AT",
    "IN_FORCE",
    "OTHER_WAY",
    "stands_in_words",
    "unreleased",
]

_INSTANT = "s since 1970-01-01T00:00:00Z"

CONSENT_ACTIONS = ("agree", "refuse", "withdraw", "other_way", "take_back")
"""What is recorded of a person; `take_back` says that an earlier row was recorded by mistake."""
CONSENT_KINDS = ("agreed", "due", "lapsed", "refused", "withdrawn", "other_way", "nothing")
IN_FORCE = ("agreed", "due")
"""The kinds under which a hand may be enrolled."""
OTHER_WAY = ("refused", "withdrawn", "other_way")
"""The kinds of people who clock another way, by their own word."""

CONSENT_POLICIES = Table(
    "consent_policies",
    "Versions of the workplace's policy on hands, never changed; the last one in force is the one that is asked for",
    (
        Column("policy", "count", "Running number", required=True),
        Column("name", "text", "What the policy is called; versions of one name follow each other", required=True),
        Column("text", "text", "The whole policy file, as it was added", required=True),
        Column("digest", "text", "SHA-256 of that text in UTF-8, in hexadecimal", required=True),
        Column("in_force_from", "date", "The first day on which it is in force", required=True),
        Column("renew_by", "date", "The last day on which releases of earlier versions count; empty: they go on"),
        Column("author", "text", "Who added it", required=True),
        Column("made_at", "instant", "When it was added", required=True, unit=_INSTANT),
        Column(
            "secret", "text", "What the codes on its sheets are made with; empty in versions of before codes had one"
        ),
    ),
    key=("policy",),
)

CONSENT_DECISIONS = Table(
    "consent_decisions",
    "What people said of having their hand enrolled, as it was recorded here; never changed, the last word counts",
    (
        Column("decision", "count", "Running number", required=True),
        Column("action", "text", "What the person said", required=True, allowed=CONSENT_ACTIONS),
        Column("person", "text", "The person", required=True),
        Column("policy", "count", "Of which policy version; empty where it is of none"),
        Column("said_on", "date", "The civil day on which it was said, at the person's site", required=True),
        Column("said_at", "instant", "The instant, where it is known", unit=_INSTANT),
        Column("how", "text", "How it was said", required=True, allowed=("paper", "phone", "desk")),
        Column("language", "text", "In which language the policy was read"),
        Column("other_way", "text", "The other way to clock that was chosen; no reason is asked or kept"),
        Column("takes_back", "count", "The row that was recorded by mistake"),
        Column("author", "text", "Who recorded it", required=True),
        Column("reason", "text", "Why a row was recorded by mistake; empty otherwise"),
        Column("made_at", "instant", "When it was recorded", required=True, unit=_INSTANT),
        Column("stood_by", "text", "The supervisor who stood by when it was signed at a reader"),
    ),
    key=("decision",),
)

CONSENT_TAKES = Table(
    "consent_takes",
    "Which file told of a signed consent last",
    (
        Column("person", "text", "The person", required=True),
        Column("given_on", "date", "The day it was signed", required=True),
        Column("take", "count", "The taking", required=True),
    ),
    key=("person", "given_on"),
)

CONSENT_HISTORY = Table(
    "consent_history",
    "All that is known of what people said, from files and recorded here, by person, in the order it was said",
    (
        Column("person", "text", "The person", required=True),
        Column("said_on", "date", "The civil day", required=True),
        Column("said_at", "instant", "The instant, where it is known", unit=_INSTANT),
        Column("action", "text", "What was said", required=True, allowed=("agree", "refuse", "withdraw", "other_way")),
        Column("policy", "count", "Of which policy version, where that is known"),
        Column("form", "text", "The form as a file names it"),
        Column("how", "text", "How it was said", required=True, allowed=("file", "paper", "phone", "desk")),
        Column("language", "text", "In which language the policy was read"),
        Column("other_way", "text", "The other way to clock that was chosen"),
        Column("decision", "count", "The row recorded here; empty for what a file says"),
        Column("take", "count", "The taking of the file; empty for what was recorded here"),
        Column("author", "text", "Who recorded it here"),
        Column("made_at", "instant", "When it was recorded here", unit=_INSTANT),
        Column("stood_by", "text", "The supervisor who stood by when it was signed at a reader"),
    ),
)

CONSENT_STATES = Table(
    "consent_states",
    "How each person stands: agreed, due to agree to a later version, lapsed, refused, withdrawn, another way, nothing",
    (
        Column("person", "text", "The person", required=True),
        Column("site", "text", "The person's site"),
        Column("is_required", "yes_no", "Whether the site enrols nobody without a release", required=True),
        Column("kind", "text", "How the person stands", required=True, allowed=CONSENT_KINDS),
        Column("said_on", "date", "Since when; empty where nothing was said"),
        Column("said_at", "instant", "The instant, where it is known", unit=_INSTANT),
        Column("policy", "count", "The version agreed to, where it is known"),
        Column("asked", "count", "The version in force at the site"),
        Column("due_by", "date", "The last day on which the earlier release counts"),
        Column("ended_on", "date", "The last day of the earlier employment for which the release was given"),
        Column("other_way", "text", "The other way to clock that was chosen"),
    ),
    key=("person",),
)

ENROLLED_AT = Table(
    "enrolled_at",
    "When hands were enrolled or first presented, as far as the readers' lists, rounds and logs tell",
    (
        Column("person", "text", "Whose hand", required=True),
        Column("number", "text", "Under which number", required=True),
        Column("reader", "text", "At which reader", required=True),
        Column("day", "date", "The civil day there", required=True),
        Column("at", "instant", "The instant, where it is known", unit=_INSTANT),
        Column(
            "tells", "text", "What tells of it", required=True, allowed=("reader's list", "round", "first presentation")
        ),
    ),
)

EARLY_ENROLMENTS = Table(
    "early_enrolments",
    "Hands that were enrolled or presented before their release, with the first release after",
    (*ENROLLED_AT.columns, Column("released_on", "date", "The day of the release that came after", required=True)),
)


def unreleased(states: Frame) -> frozenset[str]:
    """Return who is not to be enrolled, since a release is required and none is in force; `states` CONSENT_STATES."""
    return frozenset(states.filter("is_required", ~pl.col("kind").is_in(IN_FORCE))["person"])


STANDS = {
    "agreed": sentence("agreed on {said_on}"),
    "due": sentence("agreed to an earlier version on {said_on}, which counts until {due_by}"),
    "lapsed": sentence("agreed to an earlier version on {said_on}, which no longer counts"),
    "ended": sentence("agreed on {said_on}, for an employment that ended on {ended_on}, so that it no longer counts"),
    "refused": sentence("did not agree on {said_on}"),
    "withdrawn": sentence("withdrew the release on {said_on}"),
    "other_way": sentence("chose another way to clock on {said_on}"),
    "nothing": sentence("nothing was said so far"),
}


def stands_in_words(row: Mapping[str, Any]) -> str:
    """Return how somebody stands (a row of CONSENT_STATES) as half a sentence."""
    kind = "ended" if row["kind"] == "lapsed" and row["ended_on"] else row["kind"]
    days = {name: row[name] or "" for name in ("said_on", "due_by", "ended_on")}
    return told(STANDS[kind], **days)
