"""Whose clock a row's time is on, and the instant it means there."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import polars as pl

from evenhand.layouts.forms.grid import Grid
from evenhand.layouts.halves import refuse_lost_halves
from evenhand.layouts.layout import Layout
from evenhand.layouts.reading import Cells, Reading
from evenhand.layouts.values.civil import Civil, read_civil
from evenhand.layouts.values.coded import Coded, Codes, Unfit
from evenhand.layouts.values.dates import NO_OFFSET
from evenhand.layouts.values.instants import place
from evenhand.terms.columns import Column
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.zones import DAY_S

__all__ = ["RowClocks", "place_column"]

NO_SPAN = sentence(
    "the shift starts and ends at the same time, which may mean a day off or 24 hours; take "
    "the row out for a day off, or write the end as 24:00 or with the date of the next day"
)
SHOWN = 8  # lines listed in a notice
SET_BACK_S = 7200  # [s] clocks are set back by less


@dataclass
class RowClocks:
    """The clocks of a file's rows: a reader's for punches, that of a person's site for schedules.

    `column` names them; `zone_of` gives the zone of a name as the file writes it, `known` the name it stands for.
    """

    column: str
    coded: Coded
    known: Mapping[str, str]
    zones: Mapping[str, str]
    missing: str
    whole_file: str = ""
    respelt: dict[str, str] = field(default_factory=dict)

    @classmethod
    def of(
        cls,
        name: str,
        layout: Layout,
        coded: Mapping[str, Coded],
        zones: Mapping[str, str],
        person_zones: Mapping[str, str],
        site_zones: Mapping[str, str],
        height: int,
    ) -> RowClocks:
        """Return the clocks by which the file's times are read; raises Refusal for an unknown reader of the file."""
        if layout.table == "schedules":
            people = coded.get("person", Coded([], np.zeros(0, np.int32)))
            shared = set(site_zones.values())
            everybody = dict(person_zones)
            if len(shared) == 1:
                everybody = {**dict.fromkeys(people.values, next(iter(shared))), **everybody}
            missing = sentence("nobody on the roster is called {name}, so the zone is unknown; take the roster first")
            return cls("person", people, {person: person for person in everybody}, everybody, missing)
        known = _spellings(zones)
        missing = sentence("no reader is called {name}; take the readers table first, or correct the name")
        if layout.table != "punches":
            return cls("", Coded([], np.zeros(0, np.int32)), known, zones, missing, layout.reader)
        if "reader" in coded:
            return cls("reader", coded["reader"], known, zones, missing)
        reader = known.get(layout.reader, known.get(_folded(layout.reader), ""))
        if not reader:
            raise Refusal(told("{file}: {says}.", file=name, says=told(missing, name=repr(layout.reader))))
        whole = Coded([reader], np.zeros(height, np.int32))
        return cls("", whole, known, zones, missing, reader)

    def zone_of_values(self) -> list[str | None]:
        """Return the zone of each distinct clock, None where it is unknown."""
        return [self.zones.get(self._name(text) or "") for text in self.coded.values]

    def checked(self, parse: Callable[[str], Any]) -> Callable[[str], Any]:
        """Return `parse` followed by the check that the clock is known, under its own spelling."""

        def known_clock(text: str) -> str | None:
            value = parse(text)
            if value is None:
                return None
            if (found := self._name(value)) is None:
                raise Unfit(told(self.missing, name=repr(value)))
            if found != value:
                self.respelt[value] = found
            return found

        return known_clock

    def notices(self) -> list[str]:
        """Return which names were taken for a reader that is spelt otherwise."""
        return [
            told("Reader {seen} was taken for {meant}.", seen=repr(seen), meant=repr(meant))
            for seen, meant in sorted(self.respelt.items())
        ]

    def _name(self, text: str) -> str | None:
        return self.known.get(text, self.known.get(_folded(text)))


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def _spellings(zones: Mapping[str, str]) -> dict[str, str]:
    """Return each reader by its name, and by its name in small letters where that is no other's."""
    folded: dict[str, str] = {}
    for reader in zones:
        key = _folded(reader)
        folded[key] = "" if key in folded else reader
    return {**{key: reader for key, reader in folded.items() if reader}, **{reader: reader for reader in zones}}


def place_column(
    name: str,
    reading: Reading,
    grid: Grid,
    cells: Cells,
    column: Column,
    order: str,
    clocks: RowClocks,
    last_year: int = 0,
) -> None:
    """Read a column of times into `reading`: instants on each row's clock, and the rows that cannot be one.

    `last_year` is the last that a year of two digits may be, 0 where nothing tells. Raises Refusal, naming the file
    `name`, where a log's times lost their AM and PM.
    """
    moments, label = cells.moments[column.name], cells.labels[column.name]
    civil = read_civil(moments, order, last_year=last_year)
    if column.name == "at":
        refuse_lost_halves(name, label, civil, [clocks.coded.codes, cells.coded["number"].codes])
    missing = (civil.faults > 0) & moments.are_empty()
    reading.reject(missing, label, "", told("the time {column} is missing; add it", column=column.name))
    reading.reject(civil.faults > 0, label, moments.texts, civil.why)
    if column.name == "ends_at" and cells.share_date:
        civil = _over_midnight(reading, cells, civil, order)
    zones = clocks.zone_of_values()

    def is_log() -> bool:
        return column.name == "at" and not _runs_by_number(civil, clocks.coded.codes, cells.coded["number"].codes)

    placed = place(civil, clocks.coded, zones, in_log_order=is_log)
    reading.reject(placed.skipped, label, moments.texts, lambda rows: _skipping(zones, clocks.coded.codes[rows]))
    doubtful = np.flatnonzero(placed.doubtful & ~reading.rejected)
    if len(doubtful):
        reading.notices.append(_occurring_twice(label, moments.texts(doubtful[:1])[0], grid.lines[doubtful].tolist()))
    if civil.fractions:
        reading.notices.append(told("{label}: fractions of a second were dropped.", label=label))
    reading.to_minute = civil.to_minute
    reading.values[column.name] = instants = pl.Series(placed.instants)
    if column.name == "ends_at" and "starts_at" in reading.values:
        backward = (instants <= reading.values["starts_at"]).to_numpy()
        empty = (instants == reading.values["starts_at"]).to_numpy()
        reading.reject(empty, label, moments.texts, NO_SPAN)
        reason = sentence("the shift ends before it starts; correct one of its times")
        reading.reject(backward, label, moments.texts, reason)


def _occurring_twice(label: str, time: str, lines: Sequence[int]) -> str:
    """Say which times occur twice, and that nothing tells which is meant."""
    listed = ", ".join(map(str, lines[:SHOWN]))
    if len(lines) <= SHOWN:
        return told(
            "{label}: line {lines}: {time} occurs twice when clocks are set back, and the order of the rows does not "
            "tell which is meant; the first was kept, so check it.",
            label=label,
            lines=listed,
            time=time,
        )
    return told(
        "{label}: line {lines} and {more} more: {time} occurs twice when clocks are set back, and the order of the "
        "rows does not tell which is meant; the first was kept, so check it.",
        label=label,
        lines=listed,
        more=len(lines) - SHOWN,
        time=time,
    )


def _runs_by_number(civil: Civil, clocks: Codes, numbers: Codes) -> bool:
    """Return whether rows are sorted by number, and by time only within each: a step back is then no clock set back."""
    rows = np.argsort(clocks, kind="stable")
    clocks, numbers = clocks[rows], numbers[rows]
    same = clocks[1:] == clocks[:-1]
    is_next = same & (numbers[1:] != numbers[:-1])
    pairs = len(np.unique(clocks.astype(np.int64) << 32 | numbers))
    if int(is_next.sum()) + int((~same).sum()) + 1 != pairs:  # some number stands apart from its other rows
        return False
    back = (np.diff(civil.local[rows]) < -SET_BACK_S) & same
    return bool(back.any()) and not bool((back & ~is_next).any())


def _skipping(zones: Sequence[str | None], clocks: Codes) -> pl.Series:
    """Return why times that no clock showed are rejected, by the zone of each row's clock."""
    reasons = [
        told(
            "clocks in {zone} skip this time when they are set forward; give the offset or correct the time", zone=zone
        )
        for zone in zones
    ]
    return pl.Series(map(str, reasons), dtype=pl.String).gather(clocks)


def _over_midnight(reading: Reading, cells: Cells, ends: Civil, order: str) -> Civil:
    """Move ends to the next day where start and end share one date and the end is earlier than the start."""
    starts = read_civil(cells.moments["starts_at"], order)
    over = (ends.faults == 0) & (starts.faults == 0) & (ends.offset == NO_OFFSET) & (ends.local < starts.local)
    if over.any():
        reading.notices.append(
            told("Shifts that end on the day after the date in their row: {count}.", count=int(over.sum()))
        )
    return replace(ends, local=ends.local + np.where(over, DAY_S, 0))
