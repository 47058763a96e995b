"""What Ledger shows: entries in words, and the way to those before them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import urlencode

from evenhand.jobs.ledger import HeadShown
from evenhand.store.ledger_entries import LedgerEntry
from evenhand.terms.languages import DaySpan, sentence, told

__all__ = ["FAULTS", "SHOWN", "EntryLine", "LedgerView", "entry", "page"]

SHOWN, FAULTS = 100, 100


SAID = (
    sentence("adjustment"),
    sentence("adjustment lines"),
    sentence("adjustments"),
    sentence("beginning"),
    sentence("changes"),
    sentence("consent"),
    sentence("earnings"),
    sentence("enrolments"),
    sentence("people"),
    sentence("punch details"),
    sentence("punches"),
    sentence("rates"),
    sentence("readers"),
    sentence("refused rows"),
    sentence("schedules"),
    sentence("take spans"),
    sentence("consent decisions"),
    sentence("consent policies"),
    sentence("corrected punches"),
    sentence("correction"),
    sentence("corrections"),
    sentence("dispute answers"),
    sentence("disputes"),
    sentence("earlier rows"),
    sentence("erased sources"),
    sentence("erasures"),
    sentence("hand-off"),
    sentence("handoff figures"),
    sentence("handoff lines"),
    sentence("handoffs"),
    sentence("holds"),
    sentence("outcome"),
    sentence("outcomes"),
    sentence("own steps"),
    sentence("practices"),
    sentence("premium"),
    sentence("premium decisions"),
    sentence("rejected attributions"),
    sentence("rejection"),
    sentence("round"),
    sentence("round items"),
    sentence("round moved"),
    sentence("rounds"),
    sentence("settings"),
    sentence("settings texts"),
    sentence("settled"),
    sentence("settlement"),
    sentence("signoffs"),
    sentence("statement codes"),
    sentence("store made anew"),
    sentence("suggestion answers"),
    sentence("suggestions"),
    sentence("take"),
    sentence("take back"),
    sentence("take decisions"),
    sentence("take read again"),
    sentence("takes"),
    sentence("upgrade"),
)
"""What tables and kinds of entries are called, as the ledger names them."""


@dataclass(frozen=True)
class EntryLine:
    """An entry: when, what, who, in words what it seals and what it says openly, and whether its time goes back."""

    entry: int
    at: int
    kind: str
    who: Sequence[str]
    rows: Sequence[str]
    says: Sequence[str]
    goes_back: bool


@dataclass(frozen=True)
class LedgerView:
    """The entries that are asked for, the head, and the address of earlier ones, empty where there are none."""

    head: HeadShown
    kind: str
    by: str
    lines: Sequence[EntryLine]
    earlier: str


def page(listed: Sequence[LedgerEntry], head: HeadShown, kind: str, by: str) -> LedgerView:
    """Return what the page shows of the entries, of which one more than SHOWN is given where there are earlier ones."""
    asked = {name: value for name, value in (("kind", kind), ("by", by)) if value}
    shown = listed[:SHOWN]
    earlier = f"/ledger?{urlencode({**asked, 'before': shown[-1].entry})}" if len(listed) > SHOWN else ""
    return LedgerView(head, kind, by, [entry(one) for one in shown], earlier)


def entry(one: LedgerEntry) -> EntryLine:
    """Return an entry in words."""
    return EntryLine(
        one.entry,
        one.at,
        one.kind,
        tuple(told("a name that was erased") if name is None else name for name in one.who),
        [_sealed(table, count) for table, count in one.rows.items()],
        list(_said(one)),
        one.goes_back,
    )


def _words(table: str) -> str:
    named = table.replace("_", " ")
    return told(named) if named in SAID else named


def _sealed(table: str, count: object) -> str:
    return told("{table} {count}", table=_words(table), count=count)


def _said(one: LedgerEntry) -> Iterator[str]:
    for take in one.says.get("takes", ()):
        yield told("take {number}, {table}", number=take["take"], table=_words(take["table"]))
    for decided in one.says.get("take_decisions", ()):
        if "take" in decided:
            yield told("take {number}", number=decided["take"])
    for period in one.says.get("handoffs", ()):
        yield told(
            "hand-off {number}, {days}",
            number=period["handoff"],
            days=_days(period),
        )
    for adjusted in one.says.get("adjustments", ()):
        yield told(
            "adjustment {number}, {days}",
            number=adjusted["adjustment"],
            days=_days(adjusted),
        )


def _days(of: Mapping[str, Any]) -> DaySpan:
    return DaySpan(date.fromisoformat(of["first_day"]), date.fromisoformat(of["last_day"]))
