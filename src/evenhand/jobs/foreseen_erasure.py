"""Erase in a transaction: looked at first in one that is undone, so that what is foreseen is what would be done."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial
from typing import Any

import polars as pl

from evenhand.checks.hours import number_handed_on
from evenhand.jobs.beside_cells import call_sheets
from evenhand.jobs.cutting import Cuts, SourcesCut, What, cut_sources
from evenhand.jobs.erasable import Erasable, laws_of, may_be_erased, what_stays
from evenhand.jobs.erased_files import (
    CopiesKept,
    FilesCut,
    cut_handed_off,
    files_holding,
    files_perhaps_naming,
    stamped_files,
)
from evenhand.jobs.fold import Folded, fold
from evenhand.jobs.retention import Clocked
from evenhand.jobs.snapshot import Snapshot, take_snapshot
from evenhand.jobs.traces import Whom, known_of
from evenhand.jobs.workspace import Workspace
from evenhand.store.comparing import Difference, differences, set_aside
from evenhand.store.database import Connection
from evenhand.store.erasing import Touched, erase_earlier, erase_rows, forget_presentations, forget_seals
from evenhand.store.file_names import RenamedFile, files_naming, rename_files, rewrite_layouts
from evenhand.store.known_again import hide_earlier
from evenhand.store.ledger import erasing, head
from evenhand.store.naming_texts import reword_texts, texts_naming
from evenhand.store.sources import Sources
from evenhand.store.written import change_row
from evenhand.terms.languages import sentence, told
from evenhand.terms.words import called

__all__ = ["Beside", "ErasedRows", "erase_in", "look_at_erasure", "look_at_erasures", "state_of"]

MOST = 100_000
SHOWN = 5
BY_ITSELF = {"takes", "take_spans", "punch_parts"}
"""What differs after any erasure: the counts of takes, how far they reach, and how rows lie in columns."""


@dataclass(frozen=True)
class ErasedRows:
    """What an erasure took out in a transaction, and what is to be put beside the store once it is committed.

    `punched` are the takes whose punches may differ, None where that may be all.
    """

    cuts: Cuts
    folded: Folded | None
    files: FilesCut
    touched: Touched
    punched: tuple[int, ...] | None
    renamed: tuple[RenamedFile, ...]


def look_at_erasure(workspace: Workspace, person: str, *, as_of: datetime, what: What | None = None) -> Erasable:
    """Return what erasing somebody would do, as `look_at_erasures` does."""
    return look_at_erasures(workspace, [person], as_of=as_of, what=what)[0]


def look_at_erasures(
    workspace: Workspace, people: Iterable[str], *, as_of: datetime, what: What | None = None
) -> list[Erasable]:
    """Return what erasing each of these people would do once those before them are erased.

    That is everything where nothing holds it back, else what came of the hand. Raises Unknown for nobody.
    """
    state = state_of(workspace, as_of)
    clocked = Clocked(take_snapshot(workspace, as_of.date()), as_of.date())
    rows = {str(row["person"]): str(row["name"]) for row in map(clocked.of.find_person, people)}
    with workspace.sources.held(), workspace.store.trying() as conn:
        beside = Beside.of(workspace)
        found = []
        for who, name in rows.items():
            looking = _Look(workspace, clocked, who, name, what, state)
            one, beside = looking.at(conn, beside)
            found.append(one)
    return found


@dataclass(frozen=True)
class _Look:
    workspace: Workspace
    clocked: Clocked
    who: str
    name: str
    what: What | None
    state: str

    def at(self, conn: Connection, beside: Beside) -> tuple[Erasable, Beside]:
        """Erase in `conn`, which is undone later; return what that does, and what lies beside the store then."""
        clocked, who = self.clocked, self.who
        chosen: What = self.what or ("hand" if may_be_erased(clocked, who, "all") else "all")
        holds_back = may_be_erased(clocked, who, chosen)
        known = known_of(conn, who, self.workspace.settings)
        holds_back += _elsewhere(self.workspace, known) if chosen == "all" else []
        perhaps = files_perhaps_naming(self.workspace, known) if chosen == "all" else ()
        set_aside(conn)
        done = erase_in(beside, conn, known, chosen, "erased", clocked.on, is_tried=True)
        texts = [*texts_naming(conn, known.parts), *files_naming(conn, known.traces, known.parts)]
        texts += [*done.cuts.texts, *done.files.texts]
        _, differing = differences(conn, MOST, done.punched)
        differing = [one for one in differing if one.table not in BY_ITSELF]
        whose = _Whose(known, done.cuts, differing)
        gone = Counter(one.table for one in differing if not one.is_new and whose.is_about(one))
        others = [one for one in differing if not whose.is_about(one) and not whose.is_reworded(one)]
        seen = Erasable(
            who,
            self.name,
            chosen,
            tuple(holds_back),
            dict(sorted((done.touched.gone + gone).items())),
            len(done.cuts.sources),
            len(done.files.written) + len(done.files.removed),
            (*what_stays(clocked, who, chosen, known), *perhaps),
            (*done.cuts.others, *_shown(others), *_in_doubt(clocked.of, known)),
            tuple(laws_of(clocked, who)),
            # the surest first, so that they are read
            tuple(sorted(texts, key=lambda one: one.is_faint)) if chosen == "all" else (),
            dict(sorted(done.touched.reworded.items())),
            tuple(one.was for one in done.renamed),
            clocked.held.get(who, ""),
            self.state,
        )
        return seen, beside.after(done)


@dataclass(frozen=True)
class Beside:
    """What lies beside the store: kept sources, and the copies of what payroll was handed, some of them in memory."""

    sources: Sources
    handed_off: CopiesKept

    @classmethod
    def of(cls, workspace: Workspace) -> Beside:
        """Return what lies on the disk."""
        return cls(workspace.sources, CopiesKept(workspace.handoff))

    def after(self, done: ErasedRows) -> Beside:
        """Return what lies there once an erasure is done."""
        return Beside(SourcesCut(self.sources, done.cuts.sources), self.handed_off.with_cut(done.files))


def state_of(workspace: Workspace, as_of: datetime, conn: Connection | None = None) -> str:
    """Return what names all that a look at an erasure rests on: the ledger's head, the settings, other files, the day.

    Whatever was decided or taken since has another head.
    """
    if conn is None:
        with workspace.store.reading() as reading:
            return state_of(workspace, as_of, reading)
    settings = workspace.settings_file.read_text(encoding="utf-8", errors="replace")
    files = [(str(path), found.st_size, found.st_mtime_ns) for path, found in stamped_files(workspace)]
    return hashlib.sha256(repr((head(conn).in_groups, settings, files, as_of.date())).encode()).hexdigest()


def erase_in(
    beside: Beside,
    conn: Connection,
    known: Whom,
    what: What,
    stand_in: str,
    on: date,
    reword: Collection[str] = (),
    *,
    is_tried: bool = False,
) -> ErasedRows:
    """Erase in the transaction `conn` is in; what is to be put beside the store is returned.

    `reword` are the rows, as `naming_texts.texts_naming` has them, in which a part of the name is replaced too. Where
    it `is_tried` alone nothing is hashed slowly, which nobody would read.
    """
    cuts = cut_sources(conn, beside.sources, known, what, stand_in, reword)
    files = FilesCut({}, ())
    renamed: list[RenamedFile] = []
    folded = None
    with erasing(conn):
        if what == "all":
            earlier = erase_earlier(conn, known.traces)
            files = cut_handed_off(beside.handed_off, conn, known, str(on), stand_in, reword)
            touched = erase_rows(conn, known.traces, stand_in)
            touched.gone.update(earlier)
            touched.reworded.update(reword_texts(conn, known.parts, reword, stand_in) if reword else {})
            renamed = rename_files(conn, known.traces, known.parts, reword, stand_in)
        else:
            earlier, touched = Counter(), Touched(forget_presentations(conn, known.traces))
        for one in cuts.sources:
            for take in one.takes:
                change_row(conn, "takes", take, {"sha256": one.after})
                if one.sheets:
                    rewrite_layouts(conn, take, partial(call_sheets, sheets=one.sheets))
        changed = {take for one in cuts.sources for take in one.takes}
        if changed or earlier:
            folded = fold(conn, SourcesCut(beside.sources, cuts.sources), None if earlier else changed)
        if not is_tried:
            hide_earlier(conn)
        forget_seals(conn, known.traces)
    punched = None if earlier else folded.punched if folded else ()
    return ErasedRows(cuts, folded, files, touched, punched, tuple(renamed))


def _elsewhere(workspace: Workspace, known: Whom) -> list[str]:
    return [
        told("{file} names them; take that out of it, or remove the file, first.", file=path)
        for path in files_holding(workspace, known)
    ]


class _Whose:
    """Whose the rows are that differ: the person's, or others', who only lose the name in a text."""

    def __init__(self, known: Whom, cuts: Cuts, differing: Sequence[Difference]) -> None:
        self.known = known
        self._gone = {take: one.gone for one in cuts.sources for take in one.takes}
        before, after = (
            {_place(one) for one in differing if one.table == "refused_rows" and one.is_new is is_new}
            for is_new in (False, True)
        )
        self._stays = before & after

    def is_about(self, one: Difference) -> bool:
        """Whether a row that differs is about the person."""
        if one.table == "refused_rows" and one.row["take"] in self._gone:
            return one.row["line"] in self._gone[one.row["take"]]
        return _is_about(one, self.known)

    def is_reworded(self, one: Difference) -> bool:
        """Whether it is a rejected row of somebody else that stays without the name, as the kept source tells."""
        return one.table == "refused_rows" and _place(one) in self._stays


def _place(one: Difference) -> tuple[Any, ...]:
    return tuple(one.row.get(name) for name in ("take", "line", "column"))


def _is_about(one: Difference, known: Whom) -> bool:
    """Whether a row that differs is about the person."""
    traces, row = known.traces, one.row
    if any(value in traces.alone for value in row.values() if isinstance(value, str)):
        return True
    if row.get("number") in traces.shared and str(row.get("name") or "").casefold() in known.cut_names:
        return True
    said = json.dumps(row, default=str, ensure_ascii=False)
    if traces.words and traces.words.search(said):
        return True
    if any(f'"{one}"' in said.replace('\\"', '"') for one in traces.alone):
        return True
    if "at" not in row or "reader" not in row:
        return one.table == "punch_details"
    same = known.presentations.filter(
        pl.col("reader") == row["reader"], pl.col("number") == row.get("number"), pl.col("minute") == row["at"] // 60
    )
    return not same.is_empty()


def _in_doubt(of: Snapshot, known: Whom) -> Iterator[str]:
    """Say what counts as theirs and may be a later holder's of the number, where nobody has settled whose it is."""
    settled = set(of.settled_now["finding"])
    for row in known.doubtful.iter_rows(named=True):
        if f"{number_handed_on.CHECK.code}/{row['number']}/{row['person']}/{row['later']}" not in settled:
            yield told(
                "{count:# presentation|# presentations} under {number} from {first} to {last} may be those of {later}, "
                "who has the number since: no roster says whose they are, and they go with what is erased. Ask both, "
                "and give the others theirs on Hours first.",
                count=row["count"],
                number=row["number"],
                first=row["first_on"],
                last=row["last_on"],
                later=called(of.names.get(row["later"]), row["later"]),
            )


def _shown(others: Sequence[Difference]) -> Iterator[str]:
    for one in others[:SHOWN]:
        said = ", ".join(f"{name} {value}" for name, value in one.row.items() if value is not None and name != "times")
        pattern = sentence("{table}: comes: {row}") if one.is_new else sentence("{table}: goes: {row}")
        yield told(pattern, table=one.table, row=said[:200])
    if len(others) > SHOWN:
        yield told("and {count} more", count=len(others) - SHOWN)
