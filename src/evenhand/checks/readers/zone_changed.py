"""A reader's zone was changed after punches had been placed by the one before.

Silence would leave hours of work at the wrong time of day; a cry where nothing moves would be ignored next time. So
only punches that the new zone places elsewhere count, and files whose zone somebody stated are left alone.
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.columns import Frame
from evenhand.terms.languages import DaySpan, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.tables import PUNCH_SHIFT
from evenhand.terms.words import MINUS, as_duration
from evenhand.terms.zones import civil_date, offsets_of

CHECK = Check(
    code="zone_changed",
    title=told("A reader's zone changed after its punches were placed"),
    why=told(
        "The time in a log is that of the reader's clock. Punches that were placed by another "
        "zone than the reader is now said to run in lie hours away from where they were made: on "
        "another day, in another week, at other rates."
    ),
    next_step=told(
        "Read the files again with the zone in which their times are written, or correct the readers table."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader whose earlier punches would move."""
    for (reader,), changes in facts.clock_changes.group_by("reader", maintain_order=True):
        zone = facts.reader_zones.get(reader)
        if zone is None:
            continue
        moved = _moved(facts, reader, zone, changes)
        if moved.height:
            yield _finding(facts, reader, zone, moved)


def _moved(facts: Facts, reader: str, zone: str, changes: Frame) -> Frame:
    """Return the reader's punches (`take`, `number`, `at`, `was`, `by` [s]) that its zone of now places elsewhere."""
    punches = facts.recorded.filter(pl.col("reader") == reader).select(
        "at", "number", take=pl.col("punch") // (1 << PUNCH_SHIFT)
    )
    stated = facts.written_zones["take"].implode()
    # A file was placed by what the first change after it replaced.
    changed = changes.sort("take").select(pl.col("take").alias("changed"), was="zone")
    placed = punches.filter(~pl.col("take").is_in(stated)).sort("take")
    placed = placed.join_asof(changed, left_on="take", right_on="changed", strategy="forward").drop_nulls("was")
    found = []
    for (was,), rows in placed.filter(pl.col("was") != zone).group_by("was", maintain_order=True):
        at = rows["at"].to_numpy()
        anew, _, _ = offsets_of(zone).from_local(offsets_of(str(was)).to_local(at))
        found.append(rows.with_columns(by=pl.Series(anew - at, dtype=pl.Int64)))
    if not found:
        return placed.clear().with_columns(by=pl.lit(0, pl.Int64))
    return pl.concat(found).filter(pl.col("by") != 0)


def _finding(facts: Facts, reader: str, zone: str, moved: Frame) -> Finding:
    at, shifts = moved["at"].to_numpy(), moved.group_by("by").len().sort("len", "by", descending=True).rows()
    takes = moved["take"].unique().sort().to_list()
    files = dict(facts.files.iter_rows())
    came = [told("{file} (take {take})", file=files.get(take, told("a file")), take=take) for take in takes]
    moves = [told("{count:# punch|# punches} by {shift}", count=count, shift=_as_shift(by)) for by, count in shifts]
    first, last = (civil_date(zone, int(bound)) for bound in (at.min(), at.max()))
    others = sorted(_readers_of(facts, takes) - {reader})
    elsewhere = [name for name in others if facts.reader_zones.get(name) != zone]
    commands = told(
        "{names:listed 4}",
        names=[
            told("`evenhand takes again {take} --zone {zone} --author NAME --reason WHY`", take=take, zone=zone)
            for take in takes
        ],
    )
    again = told("{commands}, or read them again on Files; what that moves is shown first", commands=commands)
    if elsewhere:
        again = told("take those files back and take the log of {reader} by itself", reader=reader)
    return Finding(
        code=CHECK.code,
        subject=f"{reader}/{zone}",
        reader=reader,
        says=told(
            "{reader} is said to run in {zone} now, and {height:# punch was|# punches were} placed by {unique:listed}.",
            reader=reader,
            zone=zone,
            height=moved.height,
            unique=sorted(moved["was"].unique()),
        ),
        evidence=(
            told(
                "Read in {zone} these would move: {moves:listed} ({days}).",
                zone=zone,
                moves=moves,
                days=DaySpan(first, last),
            ),
            told("They came in {came:listed}.", came=came),
            told("Times written with their offset from UTC do not move."),
            *(
                [told("The same files hold punches of {elsewhere:listed}, in another zone.", elsewhere=elsewhere)]
                if elsewhere
                else []
            ),
        ),
        stake=Stake(people=moved["number"].n_unique()),
        next_step=(
            told(
                "If {zone} is right for these too, {again}. If the reader was moved, settle this; "
                "otherwise correct the readers table.",
                zone=zone,
                again=again,
            )
        ),
        details={"takes": takes, "zone": zone, "punches": moved.height, "by_s": dict(shifts)},
    )


def _readers_of(facts: Facts, takes: list[int]) -> set[str]:
    of_takes = facts.recorded.filter((pl.col("punch") // (1 << PUNCH_SHIFT)).is_in(takes))
    return set(of_takes["reader"].unique())


def _as_shift(seconds: int) -> str:
    return f"{'+' if seconds > 0 else MINUS} {as_duration(seconds)}"
