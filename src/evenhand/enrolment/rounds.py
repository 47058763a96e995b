"""A round as it stands: what came of each item, and whose turn it is at a reader."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

import polars as pl

from evenhand.enrolment.places import making_room
from evenhand.terms.characters import escaped
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import sentence, told
from evenhand.terms.rounds import OUTCOMES, RESULTS, ROUND_ITEMS

__all__ = [
    "DONE",
    "FINAL",
    "LAID_DOWN",
    "MOST_STOPS",
    "NOT_THERE",
    "STATES",
    "TOUCHING",
    "checked_outcome",
    "done_in_order",
    "last_running",
    "round_items",
    "round_states",
    "still_to_do",
    "waiting",
]

Row = Mapping[str, Any]

NOT_OF_ITEM = sentence('"{result}" is no outcome of an item that says "{action}".')
DONE = ("enrolled", "removed")
"""What came of an item that was done, and not given up."""
FINAL = (*DONE, "cannot", "not_done")
TOUCHING = ("enrolled", "try_again", "stopped", "cannot", "not_done", "undone")
"""What may have come of a hand laid down: from then on what the reader held under the number before is not known."""
LAID_DOWN = ("enrolled", "try_again", "stopped", "cannot")
"""What is tapped only after a hand was laid down: a turn put aside without any of it has changed nothing."""
NOT_THERE = ("passed_over", "did_not_come")
"""What is tapped where a person is called and does not lay a hand down for now."""
MOST_PRESENTATIONS = 20
MOST_STOPS = 2
"""How often five presentations are made on one day; after that the hand rests (common practice, no source)."""
CALLED_LATER = {"passed_over": 1, "try_again": 1, "stopped": 2, "did_not_come": 2}
"""By how much a turn falls behind the others each time that this comes of it."""

STATES = Table(
    "states",
    "Each item of a round with what came of it last",
    (
        *ROUND_ITEMS.columns,
        Column("result", "text", "What came of it last; empty while nothing has", allowed=RESULTS),
        *(column for column in OUTCOMES.columns if column.name in ("presentations", "scores", "reason", "other_way")),
        Column("author", "text", "Who tapped it"),
        Column(
            "at",
            "instant",
            "When something came of it last, even if it was undone",
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column("called", "count", "How often the person was called before that", required=True),
        Column("stopped", "count", "How often five presentations did not agree", required=True),
        Column(
            "put_off",
            "count",
            "How far it fell behind the others: 1 each time it was passed over or is to be tried again, 2 each time "
            "nobody came or the hand rests; 0 unless that came of it last",
            required=True,
        ),
        Column("tried", "text", "What came of it last that may have changed what the reader holds", allowed=TOUCHING),
        Column("tried_at", "instant", "When that was", unit="s since 1970-01-01T00:00:00Z"),
        Column(
            "laid_down", "count", "How often a hand was laid down, by what was tapped and not undone", required=True
        ),
    ),
    key=("item",),
)


def round_states(items: Frame, outcomes: Frame) -> Frame:
    """Return the items (ROUND_ITEMS) with what came of each last (STATES), by reader and position.

    The last outcome by the phone's clock counts, then by its name; `undone` takes the item back to nothing, and `at`
    says when that was. What was undone at once counts for nothing else either.
    """
    said = ("result", "presentations", "scores", "reason", "other_way", "author")
    stands = pl.col("result").shift(-1).fill_null("") != "undone"
    touching = pl.col("result").is_in(TOUCHING)
    behind = pl.col("result").replace_strict(CALLED_LATER, default=0, return_dtype=pl.Int64)
    last = (
        outcomes.join(items, on="item", how="semi")
        .sort("made_at", "outcome")
        .group_by("item", maintain_order=True)
        .agg(
            pl.all().last(),
            called=pl.len() - 1,
            stopped=((pl.col("result") == "stopped") & stands).sum(),
            put_off=pl.when(pl.col("result").last().is_in(list(CALLED_LATER))).then(behind.filter(stands).sum()),
            tried=pl.col("result").filter(touching).last(),
            laid_down=(pl.col("result").is_in(LAID_DOWN) & stands).sum(),
            tried_at=pl.col("made_at").filter(touching).last(),
        )
        .with_columns(pl.when(pl.col("result") != "undone").then(pl.col(name)).alias(name) for name in said)
        .select("item", *said, "called", "stopped", "put_off", "tried", "tried_at", "laid_down", at="made_at")
    )
    joined = items.join(last, on="item", how="left").with_columns(
        pl.col("called", "stopped", "put_off", "laid_down").fill_null(0)
    )
    return STATES.frame(joined.sort("reader", "position").select(STATES.names).to_dict(as_series=True))


def still_to_do() -> pl.Expr:
    """Return whether an item (STATES) is still to be done: nothing that ends it has come of it."""
    return ~pl.col("result").is_in(FINAL).fill_null(value=False)


def done_in_order(states: Frame, reader: str) -> Iterator[dict[str, Any]]:
    """Yield what was enrolled at a reader and what was taken off it (STATES), by when."""
    done = pl.col("result").is_in(DONE)
    return states.filter(pl.col("reader") == reader, done).sort("at", "item").iter_rows(named=True)


def waiting(states: Frame, reader: str, held: Collection[str] = (), *, first: Collection[str] = ()) -> Frame:
    """Return what is still to be done at a reader (STATES), in the order in which to do it, without items `held` back.

    Whoever is `first` and not called yet comes before everybody; who was passed over or asked to try again, did not
    come, or whose hand is to rest, after those not called yet, the more often the later. Nobody of them is next again
    while somebody else waits.
    """
    here = states.filter(pl.col("reader") == reader)
    is_off = pl.col("put_off") > 0
    order = here.filter(still_to_do(), ~pl.col("item").is_in(list(held))).sort(
        ~(pl.col("item").is_in(list(first)) & pl.col("result").is_null()),
        "put_off",
        pl.when(is_off).then("at").otherwise(0),
        "position",
    )
    if order.height > 1 and order["put_off"][0] and order["at"][0] == here["at"].max():
        return pl.concat([order[1:2], order[:1], order[2:]])
    return order


def round_items(
    round_name: str,
    plan: Frame,
    steps: Frame,
    attended: Frame,
    people: Frame,
    starts: list[int],
    *,
    languages: Mapping[str, str],
    capacity: Mapping[str, int] | None = None,
    held: Mapping[str, Collection[str]] | None = None,
    stay: Collection[tuple[str, str]] = (),
) -> Frame:
    """Return the items of a round: a plan's visits slot by slot, then what is to be taken off each reader.

    `plan` and `attended` are PLAN and ATTENDED, `steps` READER_STEPS: it says how each planned person is enrolled,
    and its removals need nobody to come. Where a reader of known `capacity` has no place for one more hand beside the
    numbers `held` there, a removal comes first, none of the (reader, number) that `stay` for now.
    Numbers are the roster's (PEOPLE), never what somebody remembers.
    """
    roster = {row["person"]: row for row in people.iter_rows(named=True)}
    acts = {(row["reader"], row["person"]): row["action"] for row in steps.to_dicts() if row["action"] != "remove"}
    stands = {(row["reader"], row["slot"]): roster[row["person"]]["name"] for row in attended.to_dicts()}
    enrolling: dict[str, list[dict[str, Any]]] = {}
    order = plan.sort("reader", "slot", "is_supervisor", "visit", descending=[False, False, True, False])
    for row in order.iter_rows(named=True):
        reader, person = row["reader"], row["person"]
        enrolling.setdefault(reader, []).append(
            {
                "reader": reader,
                "starts_at": starts[row["slot"]],
                "action": "enrol_supervisor" if row["is_supervisor"] else acts.get((reader, person), "enrol"),
                **{name: roster[person][name] for name in ("person", "name", "number")},
                "language": languages.get(person, "en"),
                "stands": stands.get((reader, row["slot"])),
            }
        )
    removing: dict[str, list[dict[str, Any]]] = {}
    for row in steps.filter(pl.col("action") == "remove").sort("reader", "position").iter_rows(named=True):
        kept = {name: row[name] for name in ("reader", "action", "number", "person", "name")}
        removing.setdefault(row["reader"], []).append({**kept, "language": languages.get(row["person"] or "", "en")})
    most, there = capacity or {}, held or {}
    return ROUND_ITEMS.rows(
        row
        for reader in sorted({*enrolling, *removing})
        for row in _at_reader(
            enrolling.get(reader, []), removing.get(reader, []), there.get(reader, ()), most.get(reader), stay
        )
    ).pipe(_named, round_name)


def _at_reader(
    enrolling: Sequence[Row],
    removing: Sequence[Row],
    held: Collection[str],
    capacity: int | None,
    stay: Collection[tuple[str, str]],
) -> list[Row]:
    """Return what is to be done at one reader in its order; what stays for now makes room for nobody and is last."""
    goes = [row for row in removing if (row["reader"], row["number"]) not in stay]
    stays = [row for row in removing if (row["reader"], row["number"]) in stay]
    return [*making_room(enrolling, goes, held, capacity), *stays]


def _named(items: Frame, round_name: str) -> Frame:
    running = pl.int_range(1, pl.len() + 1)
    return items.with_columns(
        item=pl.format("{}-{}", pl.lit(round_name), running),
        round=pl.lit(round_name),
        position=running.over("reader"),
    )


def last_running(items: Frame) -> int:
    """Return the running number of the last of a round's items (ROUND_ITEMS), 0 where there is none.

    Counting them would name a new one as another that is there, once one is erased.
    """
    return max((int(item.rpartition("-")[2]) for item in items["item"]), default=0)


def checked_outcome(said: Mapping[str, Any], action: str) -> str | None:
    """Return what is wrong with an outcome (a row of OUTCOMES) of an item with this action; None where nothing is."""
    result, presentations = said["result"], said["presentations"]
    if result not in RESULTS:
        return told(
            '"{result}" is no outcome; give one of {results}.',
            result=escaped(str(result)),
            results=", ".join(RESULTS),
        )
    if (result == "removed") != (action == "remove") and result in ("removed", "enrolled"):
        return told(NOT_OF_ITEM, result=result, action=action)
    if result in ("stopped", "cannot") and action == "remove":
        return told(NOT_OF_ITEM, result=result, action=action)
    if presentations is not None and not 1 <= presentations <= MOST_PRESENTATIONS:
        return told(
            "{count} presentations are not between 1 and {most}; count them again.",
            count=presentations,
            most=MOST_PRESENTATIONS,
        )
    if result == "not_done" and not said["reason"]:
        return told("what is put aside undone is put aside for a reason; say why.")
    if result == "cannot" and not said["reason"]:
        return told("nobody is left without a word on why they cannot be enrolled; give the reason.")
    if result == "cannot" and not said["other_way"]:
        return told("somebody who cannot be enrolled is offered another way to clock; say which.")
    bad = [score for score in (said["scores"] or "").split() if not _is_score(score)]
    if not bad:
        return None
    return told('"{score}" is no score: a score is a figure from 0 up, as the reader showed it.', score=bad[0])


def _is_score(text: str) -> bool:
    try:
        return 0 <= float(text) < 1e6
    except ValueError:
        return False
