"""What taking a file would change, in rows and in sentences; nothing is stored."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from typing import Any

import polars as pl

from evenhand.jobs.seen import MOST_NAMED, Choice, Question, RowsChanged, as_read
from evenhand.layouts import Rows
from evenhand.store import frames
from evenhand.store.database import Connection, Store
from evenhand.store.keyed import Checked, checked_against, stored_rows
from evenhand.store.row_changes import RowChanges, compare_rows, missing_rows
from evenhand.store.taking import FileStored, FileTaken, taking
from evenhand.terms.column_words import column_in_words
from evenhand.terms.columns import Frame, Table
from evenhand.terms.languages import Sentence, of_file, sentence, told
from evenhand.terms.tables import REJECTS
from evenhand.terms.words import called

__all__ = ["are_many", "ask_roster", "foresee", "leaves_others"]

NAMED = 6  # rows that a sentence names one by one
MOST_GONE = 0.1
"""Up to a tenth of a list may be gone from it unasked; more look like a list cut short (common practice, no source)."""
MOST_AT_ONCE = 50
"""Nor may more than so many, however long the list is (our own bound, no source)."""
ROWS = {
    "people": sentence("{count:# person|# people}"),
    "readers": sentence("{count:# reader|# readers}"),
    "enrolments": sentence("{count:# enrolment|# enrolments}"),
    "schedules": sentence("{count:# shift|# shifts}"),
    "consent": sentence("{count:# consent|# consents}"),
    "rates": sentence("{count:# rate|# rates}"),
    "earnings": sentence("{count:# entry|# entries}"),
}
NEW_ROWS = {
    "people": sentence("{count:# new person|# new people}"),
    "readers": sentence("{count:# new reader|# new readers}"),
    "enrolments": sentence("{count:# new enrolment|# new enrolments}"),
    "schedules": sentence("{count:# new shift|# new shifts}"),
    "consent": sentence("{count:# new consent|# new consents}"),
    "rates": sentence("{count:# new rate|# new rates}"),
    "earnings": sentence("{count:# new entry|# new entries}"),
}

NOTHING = FileTaken("", "", "", 0)

Row = Mapping[str, Any]


class _Undone(Exception):  # noqa: N818  (no error: it ends a transaction that is only looked at)
    """Ends the transaction in which punches are stored to see what becomes of them."""


def foresee(
    store: Store,
    rows: Rows,
    given: Collection[str],
    zones: Mapping[str, str],
    roster: str = "",
    today: date | None = None,
) -> tuple[RowsChanged, Frame]:
    """Return what storing the rows would change, and the rows that contradict others of the file (REJECTS).

    `given` names the columns that the file holds; about the others it says nothing. `zones` maps people to the zone in
    which their times are told. `roster` is what was said of a list of people, see `missing_rows`; `today` is the day.
    """
    if rows.table.name == "punches":
        return _foresee_punches(store, rows, given), REJECTS.empty()
    with store.reading() as conn:
        names = dict(frames.people(conn).select("person", "name").rows())
        checked, before = _checked(conn, rows, today)
    is_whole = not rows.rejects.height and not checked.rejects.height
    compared = compare_rows(rows.table, before, checked.frame, given, is_whole=is_whole, roster=roster)
    compared = replace(compared, gone=compared.gone.sort(rows.table.key))
    known = checked.repeated + checked.frame.height - compared.added.height - compared.changed.height
    wording = _Wording(rows.table, names, zones)
    says = wording.of(compared)
    missing = missing_rows(rows.table, before, checked.frame, given, roster)
    if missing.is_part and missing.rows.height:
        says.append(wording.left_out(missing.rows.sort(rows.table.key)))
    changes = RowsChanged(
        compared.added.height,
        compared.changed.height,
        compared.gone.height,
        known,
        left_out=missing.rows.height if missing.is_part else 0,
        says=tuple(one.sentence for one in says),
        in_full=tuple(one.rows if len(one.rows) > NAMED else () for one in says),
    )
    return changes, checked.rejects


def _checked(conn: Connection, rows: Rows, today: date | None = None) -> tuple[Checked, Frame]:
    """Return the rows of a keyed table as they would be kept, and those stored before that they may be about."""
    people = stored_rows(conn, rows.table, rows.frame) if rows.table.name == "people" else rows.frame.clear()
    checked = checked_against(rows.table, people, rows.frame, rows.lines, today)
    return checked, stored_rows(conn, rows.table, checked.frame)


def ask_roster(store: Store, file: str, rows: Rows, given: Collection[str]) -> Question | None:
    """Return what has to be asked of a list of people that leaves out many of those on the roster, or None.

    One that leaves out more than half of them is a part without being asked about.
    """
    if rows.table.name != "people" or rows.rejects.height:
        return None
    with store.reading() as conn:
        checked, before = _checked(conn, rows)
    missing = missing_rows(rows.table, before, checked.frame, given)
    count = missing.rows.height
    if missing.is_part or checked.rejects.height or not are_many(count, missing.listed):
        return None
    calls = [called(*row) for row in missing.rows.sort("name", "person").select("name", "person").iter_rows()]
    return Question(
        "roster",
        of_file(
            file,
            told(
                "it leaves out {count:,} of the {before:,} people listed before: {whom:listed}. Is it the whole "
                "roster, or a part of it?",
                count=count,
                before=missing.listed,
                whom=calls,
            ),
        ),
        (
            Choice("part", told("a part: whoever it leaves out stays on the roster as they are")),
            Choice(
                "whole",
                told("the whole roster: these {count:,} are on it no longer, and their numbers with them", count=count),
            ),
        ),
    )


def leaves_others(store: Store, rows: Rows, given: Collection[str], roster: str) -> bool:
    """Whether rows are a part of the roster, as was said or by how many they leave out: the others stay as they are."""
    if rows.table.name != "people":
        return False
    with store.reading() as conn:
        checked, before = _checked(conn, rows)
    return missing_rows(rows.table, before, checked.frame, given, roster).is_part


def are_many(gone: int, listed_before: int) -> bool:
    """Whether so many have gone from a list at once that somebody is asked before it is believed."""
    return gone > max(1, min(MOST_GONE * listed_before, MOST_AT_ONCE))


def _foresee_punches(store: Store, rows: Rows, given: Collection[str]) -> RowsChanged:
    """Store the punches, see how many were there already, and undo it: what is one punch is the store's to say.

    Punches of readers that are only supposed are all new.
    """
    with store.reading() as conn:
        is_stored = rows.frame["reader"].is_in(frames.readers(conn)["reader"].to_list())
    frame, lines = rows.frame.filter(is_stored), rows.lines[is_stored.to_numpy()]
    found: list[FileStored] = []
    source = replace(NOTHING, to_minute=rows.to_minute)
    with suppress(_Undone), taking(store, source, rows.table, frame, lines, given=given) as kept:
        found.append(kept)
        raise _Undone
    new = rows.frame.height - frame.height + found[0].taken
    knows_more = found[0].enriched
    more = told("{count:# known punch|# known punches} of which this file tells more.", count=knows_more)
    says = (more,) if knows_more else ()
    return RowsChanged(new=new, changed=0, gone=0, known=found[0].known, knows_more=knows_more, says=says)


@dataclass(frozen=True)
class _Told:
    """A sentence about rows that names the first of them, and how each of them is named."""

    sentence: str
    rows: tuple[str, ...]


def _told(pattern: str, rows: Frame, say: Callable[[Row], str], **given: Any) -> _Told:
    """Return what a pattern says of rows, of which it names the first as {rows:listed}."""
    named = tuple(say(row) for row in rows.head(MOST_NAMED).iter_rows(named=True))
    return _Told(told(pattern, rows=[*named, *([""] * (rows.height - len(named)))], **given), named)


@dataclass(frozen=True)
class _Wording:
    """The sentences of a comparison: which rows are new, which columns change for whom, what is gone."""

    table: Table
    names: Mapping[str, str]
    zones: Mapping[str, str]

    def of(self, compared: RowChanges) -> list[_Told]:
        """Return a sentence for what is new, one for each column that changes, and one for what is gone."""
        says = []
        if compared.added.height:
            says.append(self._of_whom(compared.added))
        for name in compared.columns:
            rows = compared.changed.filter(pl.col(name).ne_missing(pl.col(f"{name}_before")))
            if rows.height:
                label = column_in_words(name.removeprefix("is_"))
                pattern = sentence("{of}: {column} changes: {rows:listed}.")
                says.append(_told(pattern, rows, partial(self._change, name), of=self._rows(rows), column=label))
        again = compared.changed.filter(pl.col("gone").is_not_null())
        if again.height:
            pattern = sentence("{of} listed again: {rows:listed}.")
            says.append(_told(pattern, again, self._subject, of=self._rows(again)))
        if compared.gone.height == 1:
            says.append(_told(sentence("{rows:listed} is no longer listed."), compared.gone, self._subject))
        elif compared.gone.height:
            pattern = sentence("{of} are no longer listed: {rows:listed}.")
            says.append(_told(pattern, compared.gone, self._subject, of=self._rows(compared.gone)))
        return says

    def _rows(self, rows: Frame) -> Sentence:
        return told(ROWS[self.table.name], count=rows.height)

    def left_out(self, rows: Frame) -> _Told:
        """Say whom a part of the roster leaves out."""
        pattern = sentence(
            "It is taken as a part of the roster; {count:# person not in it stays|# people not in it stay} listed: "
            "{rows:listed}."
        )
        return _told(pattern, rows, self._subject, count=rows.height)

    def _of_whom(self, rows: Frame) -> _Told:
        """Say which rows they are; of shifts, rates and the like whose, each person once."""
        new = told(NEW_ROWS[self.table.name], count=rows.height)
        if self.table.name in ("people", "readers", "enrolments"):
            return _told(sentence("{of}: {rows:listed}."), rows, self._subject, of=new)
        people = rows.unique("person", maintain_order=True)
        pattern = sentence("{of}, for {rows:listed}.")
        return _told(pattern, people, lambda row: called(self.names.get(row["person"]), row["person"]), of=new)

    def _change(self, name: str, row: Row) -> str:
        column, zone = self.table.column(name), self._zone(row)
        was, now = (as_read(row[of], column, zone) or told("nothing") for of in (f"{name}_before", name))
        return told("{subject} {was} to {now}", subject=self._subject(row), was=was, now=now)

    def _subject(self, row: Row) -> str:
        match self.table.name:
            case "people":
                return called(row["name"], row["person"])
            case "readers":
                return str(row["reader"])
            case "enrolments":
                return told("{who} at {reader}", who=called(row["name"], row["number"]), reader=row["reader"])
        on = next(column for column in self.table.columns if column.kind in ("instant", "date"))
        person = called(self.names.get(row["person"]), row["person"])
        return told("{person} on {day}", person=person, day=as_read(row[on.name], on, self._zone(row)))

    def _zone(self, row: Row) -> str:
        return self.zones.get(str(row.get("person")), "UTC")
