"""What Ledger shows: entries in words, and the way to those before them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from evenhand.jobs.ledger import HeadShown
from evenhand.store.ledger_entries import LedgerEntry

__all__ = ["FAULTS", "SHOWN", "EntryLine", "LedgerView", "entry", "page"]

SHOWN, FAULTS = 100, 100


@dataclass(frozen=True)
class EntryLine:
    """An entry: when, what, who, in words what it seals and what it says openly, and whether its time goes back."""

    entry: int
    at: int
    kind: str
    who: str
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
        ", ".join("a name that was erased" if name is None else name for name in one.who),
        [f"{_words(table)} {count}" for table, count in one.rows.items()],
        list(_said(one)),
        one.goes_back,
    )


def _words(table: str) -> str:
    return table.replace("_", " ")


def _said(one: LedgerEntry) -> Iterator[str]:
    for take in one.says.get("takes", ()):
        yield f"take {take['take']}, {_words(take['table'])}"
    for decided in one.says.get("take_decisions", ()):
        if "take" in decided:
            yield f"take {decided['take']}"
    for told in one.says.get("handoffs", ()):
        yield f"hand-off {told['handoff']}, {told['first_day']} to {told['last_day']}"
    for adjusted in one.says.get("adjustments", ()):
        yield f"adjustment {adjusted['adjustment']}, {adjusted['first_day']} to {adjusted['last_day']}"
