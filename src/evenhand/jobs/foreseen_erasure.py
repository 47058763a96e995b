"""Erase in a transaction: looked at first in one that is undone, so that what is foreseen is what would be done."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.cutting import CutSource, SourcesCut, What, cut_sources
from evenhand.jobs.erasable import Erasable, laws_of, may_be_erased, what_stays
from evenhand.jobs.erased_files import FilesCut, cut_handed_off, files_holding
from evenhand.jobs.fold import Folded, fold
from evenhand.jobs.retention import Clocked
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.traces import Whom, known_of
from evenhand.jobs.workspace import Workspace
from evenhand.store.comparing import Difference, differences, set_aside
from evenhand.store.database import Connection
from evenhand.store.erasing import erase_earlier, erase_rows, forget_presentations, forget_seals
from evenhand.store.ledger import erasing
from evenhand.store.part_names import reword_texts, texts_naming
from evenhand.store.written import change_row

__all__ = ["ErasedRows", "erase_in", "look_at_erasure"]

MOST = 100_000
SHOWN = 5
BY_ITSELF = {"takes", "take_spans", "punch_parts"}
"""What differs after any erasure: the counts of takes, how far they reach, and how rows lie in columns."""


@dataclass(frozen=True)
class ErasedRows:
    """What an erasure took out in a transaction, and what is to be put beside the store once it is committed."""

    cut: list[CutSource]
    folded: Folded | None
    files: FilesCut
    touched: Counter[str]


def look_at_erasure(workspace: Workspace, person: str, *, as_of: datetime, what: What | None = None) -> Erasable:
    """Return what erasing somebody would do, everything where nothing holds it back, else what came of the hand.

    Raises Unknown for nobody.
    """
    clocked, row = _clocked(workspace, person, as_of)
    who = str(row["person"])
    chosen: What = what or ("hand" if may_be_erased(clocked, who, "all") else "all")
    holds_back = may_be_erased(clocked, who, chosen)
    with workspace.sources.held(), workspace.store.trying() as conn:
        known = known_of(conn, who, workspace.settings)
        holds_back += _elsewhere(workspace, known) if chosen == "all" else []
        set_aside(conn)
        done = erase_in(workspace, conn, known, chosen, "erased", clocked.on)
        texts = texts_naming(conn, known.parts) if chosen == "all" else []
        _, differing = differences(conn, MOST)
    gone = Counter(one.table for one in differing if not one.is_new and _is_about(one, known))
    others = [one for one in differing if one.table not in BY_ITSELF and not _is_about(one, known)]
    rows = done.touched + Counter({name: many for name, many in gone.items() if name not in BY_ITSELF})
    return Erasable(
        who,
        str(row["name"]),
        chosen,
        tuple(holds_back),
        dict(sorted(rows.items())),
        len(done.cut),
        len(done.files.written) + len(done.files.removed),
        tuple(what_stays(clocked, who, chosen, known)),
        tuple(_shown(others)),
        tuple(laws_of(clocked, who)),
        tuple(texts),
    )


def erase_in(
    workspace: Workspace,
    conn: Connection,
    known: Whom,
    what: What,
    stand_in: str,
    on: date,
    reword: Collection[str] = (),
) -> ErasedRows:
    """Erase in the transaction `conn` is in; what is to be put beside the store is returned.

    `reword` are the rows, as `part_names.texts_naming` has them, in which a part of the name is replaced too.
    """
    cut = cut_sources(conn, workspace.sources, known, what)
    files = FilesCut({}, ())
    touched: Counter[str] = Counter()
    folded = None
    with erasing(conn):
        if what == "all":
            earlier = erase_earlier(conn, known.traces)
            files = cut_handed_off(workspace, conn, known.traces, str(on))
            touched = earlier + erase_rows(conn, known.traces, stand_in)
            touched += reword_texts(conn, known.parts, reword, stand_in) if reword else Counter()
        else:
            earlier, touched = Counter(), forget_presentations(conn, known.traces)
        for one in cut:
            for take in one.takes:
                change_row(conn, "takes", take, {"sha256": one.after})
        changed = {take for one in cut for take in one.takes}
        if changed or earlier:
            folded = fold(conn, SourcesCut(workspace.sources, cut), None if earlier else changed)
        forget_seals(conn, known.traces)
    return ErasedRows(cut, folded, files, touched)


def _clocked(workspace: Workspace, person: str, as_of: datetime) -> tuple[Clocked, dict[str, Any]]:
    snapshot = take_snapshot(workspace, as_of.date())
    return Clocked(snapshot, as_of.date()), snapshot.find_person(person)


def _elsewhere(workspace: Workspace, known: Whom) -> list[str]:
    return [
        f"{path} names them; take that out of it, or remove the file, first."
        for path in files_holding(workspace, known.traces)
    ]


def _is_about(one: Difference, known: Whom) -> bool:
    """Whether a row that differs is about the person."""
    traces, row = known.traces, one.row
    if any(str(value) in traces.ids | traces.numbers for value in row.values() if value is not None):
        return True
    if row.get("number") in traces.shared and str(row.get("name") or "").casefold() in known.cut_names:
        return True
    said = json.dumps(row, default=str, ensure_ascii=False)
    if traces.words and traces.words.search(said):
        return True
    if any(f'"{one}"' in said.replace('\\"', '"') for one in traces.ids | traces.numbers):
        return True
    if "at" not in row or "reader" not in row:
        return one.table == "punch_details"
    same = known.presentations.filter(
        pl.col("reader") == row["reader"], pl.col("number") == row.get("number"), pl.col("minute") == row["at"] // 60
    )
    return not same.is_empty()


def _shown(others: Sequence[Difference]) -> Iterator[str]:
    for one in others[:SHOWN]:
        said = ", ".join(f"{name} {value}" for name, value in one.row.items() if value is not None and name != "times")
        yield f"{one.table}: {'comes' if one.is_new else 'goes'}: {said[:200]}"
    if len(others) > SHOWN:
        yield f"and {len(others) - SHOWN} more"
