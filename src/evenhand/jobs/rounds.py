"""Run a round: see it, take in what came of it, prove it by the punches, and print it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

import polars as pl

from evenhand.enrolment.proof import PROOF, prove
from evenhand.enrolment.rounds import DONE, checked_outcome, round_states, waiting
from evenhand.jobs.enrolment_quality import judge_enrolments
from evenhand.jobs.releases_at_reader import unreleased_enrolments
from evenhand.jobs.snapshot import Snapshot, take_snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.rounds import add_outcomes
from evenhand.terms.characters import escaped
from evenhand.terms.columns import Frame
from evenhand.terms.languages import said_of, told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.rounds import JUDGED, OUTCOMES
from evenhand.terms.zones import FIRST_YEAR, LAST_YEAR, is_reckoned

__all__ = [
    "AtReader",
    "OutcomesTaken",
    "RoundSeen",
    "done_at",
    "judge_round",
    "list_rounds",
    "prove_now",
    "prove_rounds",
    "record_now",
    "record_outcomes",
    "see_round",
]

HISTORY_S = 8 * 7 * 86_400


@dataclass(frozen=True)
class AtReader:
    """How far a round is at one reader."""

    reader: str
    total: int
    done: int
    not_done: int
    not_come: int

    @property
    def is_over(self) -> bool:
        """Whether nothing is left to do."""
        return self.done + self.not_done == self.total


@dataclass(frozen=True)
class RoundSeen:
    """A round (a row of ROUNDS) with its items and what came of them (STATES)."""

    header: dict[str, Any]
    states: Frame

    def waiting(self, reader: str, held: Collection[str] = ()) -> Frame:
        """Return what is still to be done at a reader, in order, without the items `held` back for now."""
        return waiting(self.states, reader, held)

    @property
    def readers(self) -> list[str]:
        """Return the readers of the round, by name."""
        return self.states["reader"].unique().sort().to_list()

    def at_readers(self) -> list[AtReader]:
        """Return how far the round is at each reader, by name."""
        counts = self.states.group_by("reader").agg(
            total=pl.len(),
            done=pl.col("result").is_in(DONE).sum(),
            not_done=pl.col("result").is_in(("cannot", "not_done")).sum(),
            not_come=(pl.col("result") == "did_not_come").sum(),
        )
        return [AtReader(**row) for row in counts.sort("reader").iter_rows(named=True)]


@dataclass(frozen=True)
class OutcomesTaken:
    """What became of outcomes sent in: how many were `new`, how many `known`, and why others were `rejected`."""

    new: int
    known: int
    rejected: tuple[tuple[str, str], ...]


def list_rounds(workspace: Workspace) -> Frame:
    """Return the rounds (ROUNDS), latest first."""
    with workspace.store.reading() as conn:
        return frames.rounds(conn).sort("day", "round", descending=True)


def see_round(workspace: Workspace, name: str) -> RoundSeen:
    """Return a round as it stands; raises Refusal where there is none of that name."""
    with workspace.store.reading() as conn:
        headers = frames.rounds(conn).filter(pl.col("round") == name).to_dicts()
        items, outcomes = frames.round_items(conn, name), frames.outcomes(conn, name)
    if not headers:
        raise _unknown(name)
    return RoundSeen(headers[0], round_states(items, outcomes))


def record_outcomes(
    workspace: Workspace,
    name: str,
    said: Sequence[Mapping[str, Any]],
    *,
    as_of: datetime,
    reader: str | None = None,
) -> OutcomesTaken:
    """Take in outcomes (rows of OUTCOMES without `received_at`) of a round; the same one sent again changes nothing.

    One that cannot be, or is of an item at another reader than a named `reader`, is rejected with the reason, and the
    others are kept all the same. So is rejected that a hand was enrolled without a release in force: it is to come off.
    """
    states = see_round(workspace, name).states
    here = states if reader is None else states.filter(pl.col("reader") == reader)
    actions = dict(here.select("item", "action").iter_rows())
    unreleased = unreleased_enrolments(workspace, here, said, as_of=as_of)
    with workspace.store.reading() as conn:
        known = set(frames.outcomes(conn, name)["outcome"])
    received_at = int(as_of.timestamp())
    kept, rejected = [], []
    for one in said:
        row = {column: one.get(column) for column in OUTCOMES.names} | {"received_at": received_at}
        try:
            row = _in_lines(row)
            wrong = _wrong(row, actions)
            if wrong is None and row["result"] == "enrolled" and row["outcome"] not in known:
                wrong = unreleased.get(row["item"])
        except Refusal as refusal:
            wrong = said_of(refusal)
        if wrong is None:
            kept.append(row)
        else:
            rejected.append((escaped(str(row["outcome"])), wrong if wrong == escaped(wrong) else escaped(wrong)))
    with workspace.store.writing() as conn:
        new = add_outcomes(conn, kept)
    return OutcomesTaken(new, len(kept) - new, tuple(rejected))


def record_now(
    workspace: Workspace, name: str, said: Mapping[str, Any], *, as_of: datetime, reader: str | None = None
) -> OutcomesTaken:
    """Take in one outcome made as of now; it counts over the others of its item, whatever the phones' clocks say."""
    states = see_round(workspace, name).states
    before: dict[str, int | None] = dict(states.select("item", "at").iter_rows())
    made_at = max(int(as_of.timestamp()), (before.get(said["item"]) or 0) + 1)
    return record_outcomes(workspace, name, [{**said, "made_at": made_at}], as_of=as_of, reader=reader)


def _in_lines(row: Mapping[str, Any]) -> dict[str, Any]:
    """Return the row with every text as one clean line, and none where nothing is in it."""
    texts = {name: as_line(value, name) for name, value in row.items() if isinstance(value, str)}
    return {**row, **texts}


def _wrong(row: Mapping[str, Any], actions: Mapping[str, str]) -> str | None:
    for column in OUTCOMES.columns:
        value = row[column.name]
        if value is None or value == "":
            if column.required:
                return told('the outcome says no "{name}"; say it.', name=column.name)
        elif column.kind == "text" and not isinstance(value, str):
            return told('"{name}" of the outcome is no text; write it.', name=column.name)
        elif column.kind != "text" and (not isinstance(value, int) or isinstance(value, bool) or abs(value) > 2**53):
            return told('"{name}" of the outcome is no whole number; give one.', name=column.name)
        elif column.kind == "instant" and not is_reckoned(value):
            return told(
                "{name} {value} is no time between {first} and {last}; set the phone's clock.",
                name=column.name,
                value=value,
                first=FIRST_YEAR + 1,
                last=LAST_YEAR - 1,
            )
    if row["item"] not in actions:
        return told(
            '"{item}" is nothing to be done here in this round; open the round again.', item=escaped(row["item"])
        )
    return checked_outcome(row, actions[row["item"]])


def done_at(workspace: Workspace, name: str, reader: str) -> int | None:
    """Return when the last outcome at a reader came in, where nothing is left to do there; otherwise None.

    As received here, since phones' clocks may say anything. Raises Refusal where there is no such round.
    """
    seen = see_round(workspace, name)
    if not seen.waiting(reader).is_empty():
        return None
    here = seen.states.filter(pl.col("reader") == reader)
    with workspace.store.reading() as conn:
        received = frames.outcomes(conn, name).join(here, on="item", how="semi")["received_at"].max()
    return None if received is None else int(received)  # type: ignore[arg-type]


def prove_rounds(snapshot: Snapshot, name: str | None = None, *, since: date | None = None) -> Frame:
    """Return what the punches say of a round, or of all rounds from a day on (PROOF).

    Raises Refusal where a round is named that is not there.
    """
    rounds, items = snapshot.rounds, snapshot.round_items
    if name is not None:
        if name not in rounds["round"]:
            raise _unknown(name)
        items = items.filter(pl.col("round") == name)
    if since is not None:
        items = items.join(rounds.filter(pl.col("day") >= since), on="round", how="semi")
    outcomes = snapshot.outcomes.join(items, on="item", how="semi")
    if outcomes.is_empty():
        return PROOF.empty()
    first = int(outcomes["made_at"].min())  # type: ignore[arg-type]
    recorded = snapshot.recorded.filter(pl.col("at") >= first - HISTORY_S)
    states = round_states(items, outcomes)
    return prove(states, recorded, snapshot.people, judge_enrolments(states, recorded))


def prove_now(workspace: Workspace, name: str | None = None, *, as_of: datetime) -> Frame:
    """Return what the punches say of a round, or of all, as the store is now (PROOF)."""
    days = [see_round(workspace, name).header["day"]] if name else list_rounds(workspace)["day"].to_list()
    # an outcome may be told up to some days before its round, and the punches before it say what is usual
    first = min(days, default=as_of.date()) - timedelta(seconds=2 * HISTORY_S)
    return prove_rounds(take_snapshot(workspace, first), name)


def _unknown(name: str) -> Unknown:
    return Unknown(told('there is no round "{name}"; `evenhand enrol list` lists them.', name=name))


def judge_round(workspace: Workspace, name: str) -> Frame:
    """Return what the scores noted at the readers say of a round's enrolments (JUDGED); Refusal where there is none."""
    states = see_round(workspace, name).states
    first = states["at"].min()
    if not isinstance(first, int):
        return JUDGED.empty()
    with workspace.store.reading() as conn:
        return judge_enrolments(states, frames.recorded(conn, since=first - HISTORY_S))
