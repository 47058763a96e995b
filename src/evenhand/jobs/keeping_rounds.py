"""Keep a planned round under a name of its own, and refuse one that is there already."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.enrolment.rounds import round_states
from evenhand.jobs.enrolment_day import AskedDay
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.decisions import decide_alone
from evenhand.store.rounds import add_round
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told as tell
from evenhand.terms.records import Refusal
from evenhand.terms.rounds import OFF_ROUND

__all__ = ["free_round_name", "keep_round", "planned_already"]


def free_round_name(snapshot: Snapshot, day: date) -> str:
    """Return the name of the day's next round."""
    taken = set(snapshot.rounds["round"].to_list())
    running = 1
    while f"{day}-{running}" in taken:
        running += 1
    return f"{day}-{running}"


def keep_round(workspace: Workspace, name: str, asked: AskedDay, author: str, as_of: datetime, items: Frame) -> None:
    """Keep a round with its items; raises Refusal where it is there already, or its name was taken meanwhile."""
    header = {
        "round": name,
        "title": asked.title,
        "day": asked.day,
        "asked": json.dumps(asdict(asked), default=str),
        "author": author,
        "made_at": int(as_of.timestamp()),
    }
    with workspace.store.writing() as conn:
        decide_alone(conn)
        _refuse_planned(conn, header, items)
        add_round(conn, header, items)


def _refuse_planned(conn: Connection, header: Mapping[str, Any], items: Frame) -> None:
    """Refuse a round that is there already: asked for alike, with the same to do; and one whose name was just taken."""
    rounds, told = frames.rounds(conn), ("reader", "action", "number")
    if header["round"] in rounds["round"]:
        raise Refusal(
            tell("{round} was planned meanwhile by somebody else; nothing was kept, plan again.", round=header["round"])
        )
    for name in rounds.filter(pl.col("asked") == header["asked"])["round"]:
        states = round_states(frames.round_items(conn, name), frames.outcomes(conn, name))
        stays = states.filter(pl.col("reason").ne_missing(pl.lit(OFF_ROUND)))
        if set(stays.select(told).iter_rows()) == set(items.select(told).iter_rows()):
            raise planned_already(name)


def planned_already(name: str) -> Refusal:
    """Return what refuses a plan that a round is already."""
    return Refusal(
        tell(
            "{round} is this plan already, and everybody in it would be called twice; nothing was kept. `evenhand "
            "enrol show {round}` shows it, and `evenhand enrol change {round}` plans what is left of it anew.",
            round=name,
        )
    )
