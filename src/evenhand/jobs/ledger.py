"""Prove by the ledger that nothing was altered, list what was done when and by whom, and write proofs for others."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from evenhand.jobs.workspace import Workspace
from evenhand.store.handed_off import files_told
from evenhand.store.handing import digest_of
from evenhand.store.ledger import head
from evenhand.store.ledger_check import prove
from evenhand.store.ledger_entries import (
    LedgerEntry,
    authors_named,
    consistency_proof,
    content_of,
    inclusion_proof,
    read_entries,
    rows_sealed,
    sealing,
    sealing_entries,
)
from evenhand.store.ledger_log import LedgerFault, Log
from evenhand.store.ledger_tables import row_tables
from evenhand.store.replacing import replace_file
from evenhand.store.sealed import take_text
from evenhand.store.standing import standing
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import said_of, told
from evenhand.terms.ledger.entries import every_kind
from evenhand.terms.ledger.head import Head, head_of
from evenhand.terms.records import Refusal

__all__ = [
    "FileProved",
    "HeadShown",
    "LedgerVerified",
    "entries",
    "entry_and_text",
    "head_now",
    "kinds_and_authors",
    "proof_of",
    "proof_since",
    "rows_of_entry",
    "sealed_in",
    "verify",
    "write_proof",
]


@dataclass(frozen=True)
class HeadShown:
    """The ledger's head: how many entries there are and the root over them; `text` is both in groups to compare."""

    size: int
    root: str
    text: str


@dataclass(frozen=True)
class FileProved:
    """The entry that handed a file off, and the erasure that last changed what was kept of that hand-off, if any."""

    entry: int
    erasure: int | None


@dataclass(frozen=True)
class LedgerVerified:
    """What was proved: the head as the entries make it, what was looked at besides, and what is wrong, first first.

    `held` says of a head from outside that this ledger goes on from it, `files` of which hand-off each file is.
    `goes_back` are the entries whose time lies before that of the entry ahead of them, and `on_times` says what of it:
    their order is proved, their times are not, so that this is told and is no fault.
    """

    head: HeadShown
    held: str
    files: dict[str, FileProved]
    faults: tuple[LedgerFault, ...]
    goes_back: tuple[int, ...]

    @property
    def on_times(self) -> str:
        """What is to be told of times that go back; empty where none does."""
        if not self.goes_back:
            return ""
        if len(self.goes_back) == 1:
            return told(
                "Entry {entry} says an earlier time than the entry ahead of it: a clock was set back, or what was "
                "written was dated back. Their order is proved.",
                entry=self.goes_back[0],
            )
        return told(
            "Entry {entry} says an earlier time than the entry ahead of it, and so do {more} more: a clock was set "
            "back, or what was written was dated back. Their order is proved.",
            entry=self.goes_back[0],
            more=len(self.goes_back) - 1,
        )

    @property
    def is_whole(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults


def head_now(workspace: Workspace) -> HeadShown:
    """Return the ledger's head."""
    with workspace.store.reading() as conn:
        return _shown(head(conn))


def entries(
    workspace: Workspace, *, kind: str = "", by: str = "", before: int | None = None, most: int = 100
) -> list[LedgerEntry]:
    """Return the newest entries first: those of a kind, or by somebody, or earlier than entry `before`."""
    with workspace.store.reading() as conn:
        return list(read_entries(conn, kind=kind, by=by, before=before, most=most))


def entry_and_text(workspace: Workspace, entry: int) -> tuple[LedgerEntry, str]:
    """Return an entry and its canonical content; raises Unknown where there is none of this number."""
    with workspace.store.reading() as conn:
        content, read = content_of(conn, entry)
    return read, content


def sealed_in(workspace: Workspace, rows: Collection[tuple[str, str]]) -> dict[tuple[str, str], int]:
    """Return which entry seals each of these rows, named by table and number or name."""
    with workspace.store.reading() as conn:
        return sealing_entries(conn, rows)


def rows_of_entry(workspace: Workspace, entry: int) -> list[tuple[str, str]]:
    """Return the rows that an entry seals one by one, by table and number or name."""
    with workspace.store.reading() as conn:
        return rows_sealed(conn, entry)


def kinds_and_authors(workspace: Workspace) -> tuple[list[str], list[str]]:
    """Return which kinds of entries there may be, and whose."""
    with workspace.store.reading() as conn:
        return every_kind(row_tables()), authors_named(conn)


def verify(workspace: Workspace, held: str = "", files: Mapping[str, bytes] | None = None) -> LedgerVerified:
    """Prove the ledger and everything that it seals, and that it goes on from the head `held` outside.

    That is each entry, the tree over them, each row of the store, the files taken, those that were handed to payroll
    where they lie in the workspace, and `files`, by name, which are to be such files. Raises Refusal where the head is
    none.
    """
    outside = head_of(held) if held.strip() else None
    with workspace.store.reading() as conn:
        log, faults = prove(conn)
        takes = standing(conn)
        digested = {number: _digests_in(listed) for number, listed in files_told(conn).items()}
        sealed = sealing(conn, "handoffs") if files else {}
    faults += [_mended(take) for take in workspace.store.mended]
    altered = {fault.row for fault in faults if fault.table == "handoffs"}
    faults += _held_faults(log, outside) if outside else ()
    for take in takes:
        if take.layout is not None:
            try:
                workspace.sources.read(take.sha256, take.file)
            except Refusal as fault:
                says = told("Take {number}: {why}", number=take.take, why=said_of(fault))
                faults.append(LedgerFault(says, None, "takes", f"[{take.take}]"))
    known: dict[str, set[str]] = {}
    for digests in digested.values():
        for name, digest in digests.items():
            known.setdefault(name, set()).add(digest)
    for name, alike in sorted(known.items()):
        path = workspace.handoff / name
        if path.is_file() and digest_of(path.read_bytes()) not in alike:
            faults.append(
                LedgerFault(told("{file} is not the file that was handed off: it was altered since.", file=str(path)))
            )
    proved = {
        digest: FileProved(first, last if last > first else None)
        for number, digests in digested.items()
        if (key := f"[{number}]") in sealed and key not in altered
        for first, last in [sealed[key]]
        for digest in digests.values()
    }
    given, strange = _look_at(files or {}, proved)
    return LedgerVerified(
        _shown(log.head()),
        told("The ledger goes on from the {count} entries of the head held outside.", count=outside.size)
        if outside
        else "",
        given,
        tuple(sorted([*faults, *strange], key=_place)),
        tuple(log.goes_back),
    )


def _digests_in(listed: str) -> dict[str, str]:
    """Return the digests of files by name; none where the text is not what evenhand writes: its row is told altered."""
    try:
        digests = json.loads(listed)
    except ValueError:
        return {}
    return digests if isinstance(digests, dict) else {}


def proof_of(workspace: Workspace, entry: int) -> str:
    """Return, as JSON, what proves to somebody who holds the head that an entry is in the ledger."""
    with workspace.store.reading() as conn:
        now, path = inclusion_proof(conn, entry)
        content, _ = content_of(conn, entry)
    return _written(
        {
            "proves": "inclusion",
            "entry": entry,
            "content": content,
            "size": now.size,
            "root": now.root.hex(),
            "path": [one.hex() for one in path],
        }
    )


def proof_since(workspace: Workspace, old: int) -> str:
    """Return, as JSON, what proves that the ledger goes on from its first `old` entries, altering none of them."""
    with workspace.store.reading() as conn:
        before, now, path = consistency_proof(conn, old)
    return _written(
        {
            "proves": "consistency",
            "old_size": before.size,
            "old_root": before.root.hex(),
            "size": now.size,
            "root": now.root.hex(),
            "path": [one.hex() for one in path],
        }
    )


def write_proof(path: Path, proof: str) -> None:
    """Write a proof to a file; raises Refusal where that cannot be written."""
    try:
        replace_file(path, proof.encode())
    except OSError as fault:
        raise Refusal(
            told(
                "{path} cannot be written ({strerror}); name another file with --out.",
                path=path,
                strerror=why_of(fault),
            )
        ) from fault


def _shown(now: Head) -> HeadShown:
    return HeadShown(now.size, now.root.hex(), now.in_groups)


def _written(proof: dict[str, object]) -> str:
    return json.dumps(proof, indent=1, ensure_ascii=False) + "\n"


def _held_faults(log: Log, outside: Head) -> Iterator[LedgerFault]:
    if outside.size > log.size:
        yield LedgerFault(
            told(
                "Entries are missing: the head held outside is of {count}, and the ledger has {here}.",
                count=outside.size,
                here=log.size,
            ),
            log.size,
        )
    elif log.head(outside.size) != outside:
        yield LedgerFault(
            told(
                "The first {count} entries are not those of the head held outside: what stood in them was altered, "
                "removed or put in between, and the ledger was made to fit.",
                count=outside.size,
            ),
            0,
        )


def _mended(take: int) -> LedgerFault:
    return LedgerFault(
        told(
            "punch_parts did not hold the punches of take {number} when the store was opened: it was altered, and was "
            "made anew from the rows.",
            number=take,
        ),
        None,
        "punch_parts",
        take_text(take),
    )


def _look_at(
    files: Mapping[str, bytes], proved: Mapping[str, FileProved]
) -> tuple[dict[str, FileProved], list[LedgerFault]]:
    """Return of which hand-off each file is, and those that are of none."""
    digests = {name: digest_of(content) for name, content in files.items()}
    found = {name: proved[digest] for name, digest in digests.items() if digest in proved}
    strange = [
        told("{file} is no file that was handed off, or was altered since.", file=name)
        for name in files
        if name not in found
    ]
    return found, [LedgerFault(says) for says in strange]


def _place(fault: LedgerFault) -> tuple[bool, int]:
    return fault.entry is None, fault.entry or 0
