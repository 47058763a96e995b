"""One number stands for two people."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import polars as pl

from evenhand.checks.disagreement import Row, by
from evenhand.checks.estimates import in_period, minutes_behind
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="shared_number",
    title=told("One number for two people"),
    why=told(
        "Punches under a number that two people hold, or that holds somebody else's hand, cannot "
        "be paid to either of them without asking."
    ),
    next_step=told(
        "Give one of them another number on the roster, or enrol the hand under its own number; then attribute."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per number the roster gives to several people, and per reader with another's hand under it."""
    rows = facts.discrepancies_of("shared_number")
    yield from _on_roster(facts, rows.filter(pl.col("reader").is_null()))
    yield from _at_readers(facts, rows.filter(pl.col("reader").is_not_null()))


def _on_roster(facts: Facts, pairs: Frame) -> Iterator[Finding]:
    if pairs.is_empty():
        return
    strays = in_period(facts, facts.unattributed.filter(pl.col("number").is_in(pairs["number"].unique().implode())))
    behind = minutes_behind(facts, strays, ["reader", "number"]).group_by("number").agg(pl.col("minutes").sum())
    minutes = dict(behind.iter_rows())
    punches = _grouped(strays, ["number"])
    for (number,), rows in by(pairs.rows(named=True), "number").items():
        people = [rows[0]["person"], *(row["other"] for row in rows)]
        seen, in_doubt = punches.get((number,)), minutes.get(number, 0)
        yield Finding(
            code=CHECK.code,
            subject=number,
            number=number,
            says=told(
                "The roster gives {number} to {names:listed}.",
                number=number,
                names=[call(facts, person) for person in people],
            ),
            evidence=(
                *(told("{says:again}.", says=row["evidence"]) for row in rows),
                *(_unpaid(facts, number, seen, in_doubt) if seen else ()),
            ),
            stake=Stake(minutes=in_doubt, people=len(people), deadline=deadline(facts) if seen else None),
            next_step=told(
                "On People, leave {number} to whoever's hand the readers hold under it and give the "
                "others a number of their own; have a supervisor enrol them under it, and attribute the "
                "punches on Strays.",
                number=number,
            ),
            blocks_pay=seen is not None,
            details={"people": people, "punches": seen["punch"] if seen else []},
        )


def _unpaid(facts: Facts, number: str, seen: Row, minutes: int) -> Iterator[str]:
    first, last = (told("{at:zoned}", at=Moment(seen[end], facts.zone)) for end in ("first", "last"))
    count = told("{count:# punch|# punches}", count=len(seen["punch"]))
    where = told("{names:listed}", names=sorted(set(seen["reader"])))
    yield told(
        "{count} under {number} in the period at {where}, from {first} to {last}; nobody is paid for them yet.",
        count=count,
        number=number,
        where=where,
        first=first,
        last=last,
    )
    yield told("About {minutes:duration} of pay, estimated from the stretches of work they form.", minutes=60 * minutes)


def _at_readers(facts: Facts, rows: Frame) -> Iterator[Finding]:
    if rows.is_empty():
        return
    concerned = rows.select("reader", "number", person="other").unique()
    theirs = facts.attributed.filter(pl.col("person").is_in(concerned["person"].implode()))
    keyed = facts.recorded.select("punch", "number")
    mine = in_period(
        facts, theirs.join(keyed, on="punch").join(concerned, on=["reader", "number", "person"], how="semi")
    )
    behind = {(row[0], row[1]): row[2] for row in minutes_behind(facts, mine, ["reader", "person"]).iter_rows()}
    punches = _grouped(mine, ["reader", "person"])
    done: set[tuple[str, str]] = set()
    under = {_place(row): row for row in rows.iter_rows(named=True)}
    for place in under:
        if place in done:
            continue
        ring = _ring(place, under)
        done |= {_place(row) for row in ring}
        parts = [_at_reader(facts, row, punches.get(_place(row)), behind.get(_place(row), 0)) for row in ring]
        yield parts[0] if len(parts) == 1 else _exchanged(facts, ring, parts)


def _place(row: Row) -> tuple[str, str]:
    """Return the reader, and the holder of the number that the hand stands under there."""
    return row["reader"], row["other"]


def _ring(place: tuple[str, str], under: Mapping[tuple[str, str], Row]) -> list[Row]:
    """Return the rows of hands that stand each under the next one's number, round to the holder at this place.

    `under` is by reader and holder the row of the hand that stands under their number. The row alone where following
    it leads elsewhere.
    """
    reader, holder = place
    ring, whose = [under[place]], under[place]["person"]
    while whose != holder:
        row = under.get((reader, whose))
        if row is None or row in ring:
            return ring[:1]
        ring.append(row)
        whose = row["person"]
    # told from each hand to the one whose number it stands under
    return [ring[0], *reversed(ring[1:])]


def _at_reader(facts: Facts, row: Row, seen: Row | None, minutes: int) -> Finding:
    reader, number = row["reader"], row["number"]
    holder, hand = call(facts, row["other"]), call(facts, row["person"])
    punches = seen["punch"] if seen else []
    count = told("{count:# punch|# punches}", count=len(punches))
    return Finding(
        code=CHECK.code,
        subject=f"{reader}/{number}",
        reader=reader,
        number=number,
        person=row["other"],
        says=told(
            "At {reader}, {number} may hold the hand of {hand}, while the roster gives {number} to {holder}.",
            reader=reader,
            number=number,
            hand=hand,
            holder=holder,
        ),
        evidence=(
            told("{says:again}.", says=row["evidence"]),
            told(
                "{count} at {reader} in the period count for {holder} as things stand.",
                count=count,
                reader=reader,
                holder=holder,
            ),
        ),
        stake=Stake(minutes=minutes, people=2, deadline=deadline(facts) if punches else None),
        next_step=told(
            "At {reader}, have a supervisor ask both to key {number}: the hand that is accepted is "
            "the one enrolled. Enrol each under their own number, and put the punches right on Hours.",
            reader=reader,
            number=number,
        ),
        blocks_pay=bool(punches),
        details={
            "people": [row["other"], row["person"]],
            "punches": punches,
            "hands": [_hand(row, len(punches))],
        },
    )


def _hand(row: Row, punches: int) -> dict[str, Any]:
    """Whose hand stands under whose number, and how many punches under it count for its holder."""
    return {"hand": row["person"], "holder": row["other"], "number": row["number"], "punches": punches}


def _exchanged(facts: Facts, ring: Sequence[Row], parts: Sequence[Finding]) -> Finding:
    """People under each other's numbers at a reader, two or more in a ring: enrolled in one visit, told once."""
    first, blocks_pay = parts[0], any(one.blocks_pay for one in parts)
    holders = [call(facts, row["other"]) for row in ring]
    if len(ring) == 2:
        says = told(
            "At {reader}, the hands of {first} and {second} may be enrolled under each other's "
            "number, {number} and {number2}.",
            reader=first.reader,
            first=holders[0],
            second=holders[1],
            number=ring[0]["number"],
            number2=ring[1]["number"],
        )
    else:
        whose = [
            told(
                "that of {hand} under {number} of {holder}",
                hand=call(facts, row["person"]),
                number=row["number"],
                holder=holder,
            )
            for row, holder in zip(ring, holders, strict=True)
        ]
        says = told(
            "At {reader}, {count} hands may be enrolled in a ring, each under the next one's number: {whose}.",
            reader=first.reader,
            count=len(ring),
            whose=whose,
        )
    return replace(
        first,
        says=says,
        evidence=tuple(line for one in parts for line in one.evidence),
        stake=Stake(
            minutes=sum(one.stake.minutes for one in parts),
            people=len(ring),
            deadline=deadline(facts) if blocks_pay else None,
        ),
        next_step=told(
            "At {reader}, have {people:listed} there together, and ask each to key their number: the hand that is "
            "accepted is the one enrolled. Enrol each under their own number in one visit, one right after the other; "
            "nobody leaves before each has keyed their own number and was accepted. Then give each their punches.",
            reader=first.reader,
            people=holders,
        ),
        blocks_pay=blocks_pay,
        details={
            "people": [row["other"] for row in ring],
            "punches": [punch for one in parts for punch in one.details["punches"]],
            "hands": [hand for one in parts for hand in one.hands],
        },
    )


def _grouped(punches: Frame, keys: list[str]) -> dict[tuple[str, ...], Row]:
    """Return of each group its punches, the first and last instant, and the readers, by time."""
    every = (
        punches.sort("at")
        .group_by(keys)
        .agg(
            "punch",
            first=pl.col("at").first(),
            last=pl.col("at").last(),
            **({} if "reader" in keys else {"reader": "reader"}),
        )
    )
    return {tuple(row[key] for key in keys): row for row in every.iter_rows(named=True)}
