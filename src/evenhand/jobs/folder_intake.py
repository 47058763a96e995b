"""Watch a folder: take by itself what a confirmed layout fits, once it has stopped growing, and keep the rest waiting.

The folder is looked into every few seconds, which works on every file system, also on those of other machines, where
nobody is told that something has changed.
"""

from __future__ import annotations

import hashlib
import stat
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from threading import Event

from evenhand.jobs.doubts import doubt_about
from evenhand.jobs.folder_entries import Entry, entries_of, entry_at
from evenhand.jobs.folder_state import FileStanding, Folder, move_to_taken, noting, read
from evenhand.jobs.incoming import read_incoming
from evenhand.jobs.take import Layout, Receipt, look_at, take_file
from evenhand.jobs.waiting import sweep
from evenhand.jobs.workspace import Workspace
from evenhand.store.alone import HeldElsewhere, alone
from evenhand.store.listing import files_in
from evenhand.store.owner_only import FOLDER
from evenhand.store.standing import known_state, same_content, standing
from evenhand.terms.characters import escaped
from evenhand.terms.disk_faults import why_of
from evenhand.terms.fault_places import place_of
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Intake

__all__ = ["WatchedElsewhere", "Watcher", "folder_of", "watch"]

PAUSE_S = 2.0
RETRY_S = 60.0
"""When a file is tried again that should have been taken, where the store was busy or the disk full [s]."""
NOTED_S = 2.0
"""How long what was found may be known to this program alone [s]."""
SWEPT_S = 3600.0
"""How often what waits on the page Files is looked through for what has waited too long [s]."""
AUTHOR = "the watched folder"
"""Whom the ledger names of what is taken by itself."""
OWN = ("layouts", "rejected", "handoff", "rules", "sources", "waiting")
LINK = sentence("{file} is a link, which is not followed out of the folder; put the file itself there.")
NO_FILE = sentence("{file} is not an ordinary file; save what it gives as one.")

Tell = Callable[[str], None]


class WatchedElsewhere(Refusal):
    """Refuses to watch, since another program watches for the workspace."""


def watch(workspace: Workspace, intake: Callable[[], Intake], stop: Event, tell: Tell) -> None:
    """Watch the folder that `intake` names, until `stop` is set; what is done is told in sentences.

    Raises WatchedElsewhere where another program watches for this workspace already, and Refusal where `waiting/`,
    which holds what is known of the folder, cannot be written.
    """
    try:
        workspace.waiting.mkdir(mode=FOLDER, exist_ok=True)
        with alone(workspace.waiting / ".watching.lock", wait_s=0):
            _go_on(Watcher(workspace, tell), intake, stop)
    except HeldElsewhere as fault:
        raise WatchedElsewhere(
            told(
                "another `evenhand serve` or `evenhand watch` watches for {directory} already; stop it first.",
                directory=workspace.directory,
            )
        ) from fault
    except OSError as fault:
        raise Refusal(
            told(
                "{waiting} cannot be written ({strerror}), so nothing is watched.",
                waiting=workspace.waiting,
                strerror=why_of(fault),
            )
        ) from fault


def _go_on(watcher: Watcher, intake: Callable[[], Intake], stop: Event) -> None:
    """Look again and again; what may pass, such as settings that are being written or a busy store, is told once."""
    workspace, problem, sweeps_at = watcher.workspace, "", 0.0
    while not stop.is_set():
        now = ""
        try:
            workspace.refuse_another_store(workspace.settings)
            watcher.look(intake(), stop)
            if time.monotonic() > sweeps_at:
                sweep(workspace)
                sweeps_at = time.monotonic() + SWEPT_S
        except Refusal as refusal:
            now = said_of(refusal)
        except OSError as fault:
            now = told(
                "{place} cannot be read or written ({strerror}).",
                place=fault.filename or workspace.waiting,
                strerror=why_of(fault),
            )
        if now not in ("", problem):
            watcher.tell(now)
        problem = now
        stop.wait(PAUSE_S)


def folder_of(workspace: Workspace, intake: Intake) -> Path:
    """Return the folder to be watched; raises Refusal where it is the workspace's own."""
    folder = workspace.directory / intake.folder
    own = [workspace.directory, *(workspace.directory / name for name in OWN)]
    if any(folder.resolve() == place.resolve() for place in own):
        raise Refusal(told("{folder} is the workspace's own; name another folder to be watched.", folder=folder))
    return folder


class Watcher:
    """Looks into the folder again and again; it remembers only since when each file is what it is.

    `clock` tells seconds that never step back.
    """

    def __init__(self, workspace: Workspace, tell: Tell, clock: Callable[[], float] = time.monotonic) -> None:
        self.workspace, self.tell, self._clock = workspace, tell, clock
        self._still_since: dict[Path, tuple[Entry, float]] = {}
        self._retry_at: dict[Path, float] = {}

    def look(self, intake: Intake, stop: Event | None = None) -> None:
        """Look into the folder once: take what has stopped growing and is beyond doubt, and note what waits."""
        if not intake.folder:
            return
        folder = self.workspace.directory / intake.folder
        known = read(self.workspace)
        if known.path != str(folder):
            known = Folder(str(folder))
        now = replace(known, is_moved=intake.is_moved, problem="")
        try:
            entries = entries_of(folder_of(self.workspace, intake))
        except Refusal as refusal:
            if str(refusal) != known.problem:
                self.tell(said_of(refusal))
            self._note(replace(now, problem=said_of(refusal)), known)
            return
        files = {name: one for name, one in known.files.items() if folder / name in entries}
        rests_on, noted_at = self._rests_on(), self._clock()
        for entry in self._due(entries, intake, files, rests_on):
            if stop is not None and stop.is_set():
                break
            stands = self._one(entry, intake, files.pop(entry.name, None), rests_on)
            if stands is not None:
                files[entry.name] = stands
            if self._clock() > noted_at + NOTED_S:
                known, noted_at = self._note(replace(now, files=dict(files)), known), self._clock()
        self._note(replace(now, files=files), known)

    def _note(self, now: Folder, known: Folder) -> Folder:
        """Keep what is known of the folder and return it; what somebody took meanwhile stays taken."""
        if now == known == read(self.workspace):
            return known
        with noting(self.workspace) as held:
            taken = {name: one for name, one in held[0].files.items() if not one.why and name in now.files}
            held[0] = replace(now, files={**now.files, **{n: o for n, o in taken.items() if o == _taken(now.files[n])}})
            return held[0]

    def _due(
        self, entries: Mapping[Path, Entry], intake: Intake, stands: Mapping[str, FileStanding], rests_on: str
    ) -> Iterator[Entry]:
        """Yield the files to be looked at now, those that came first before the others."""
        now = self._clock()
        self._still_since = {
            path: was if (was := self._still_since.get(path)) and was[0] == entry else (entry, now)
            for path, entry in entries.items()
        }
        self._retry_at = {path: at for path, at in self._retry_at.items() if path in entries and at > now}
        for path, (entry, since) in sorted(self._still_since.items(), key=lambda one: one[1][0].changed_ns):
            stood = stands.get(path.name)
            is_settled = stood is not None and _is_of(stood, entry) and (not stood.why or stood.rests_on == rests_on)
            if not is_settled and now - since >= intake.quiet_s and path not in self._retry_at:
                yield entry

    def _one(self, entry: Entry, intake: Intake, was: FileStanding | None, rests_on: str) -> FileStanding | None:
        """Take one file or keep it waiting; None where it has been moved or is no longer what it was."""
        why, is_to_stay = self._why_it_waits(entry, intake)
        if not is_to_stay:
            return None
        was = was if was is not None and _is_of(was, entry) else None
        if why and (was is None or was.why != why):
            self.tell(told("{file} waits. {why}", file=entry.shown, why=why))
        now = int(time.time())  # noqa: TID251  when it was looked at, by the machine's clock
        rests_on = "" if entry.path in self._retry_at else rests_on
        return FileStanding(entry.size, entry.changed_ns, was.since if was else now, why, rests_on)

    def _why_it_waits(self, entry: Entry, intake: Intake) -> tuple[str, bool]:
        """Take a file if nothing is doubtful; return the sentence that says why it waits, and whether it stays."""
        if entry.kind != stat.S_IFREG:
            return told(LINK if entry.kind == stat.S_IFLNK else NO_FILE, file=entry.shown), True
        try:
            incoming = read_incoming(entry.path)
            if entry_at(entry.path) != entry:
                return "", False
            seen = look_at(self.workspace, incoming)
            if doubt := doubt_about(seen) or self._read_otherwise(incoming.sha256, seen.proposal.layout):
                return doubt, True
        except Refusal as refusal:
            return ("", False) if entry_at(entry.path) != entry else (said_of(refusal), True)
        except Exception as fault:  # noqa: BLE001  one file must not keep the others from being taken
            return _own_fault(fault), True
        try:
            self._told(take_file(self.workspace, incoming, author=AUTHOR))
            if intake.is_moved and entry_at(entry.path) == entry:
                move_to_taken(entry.path)
        except Refusal as refusal:
            self._retry_at[entry.path] = self._clock() + RETRY_S
            return said_of(refusal), True
        except Exception as fault:  # noqa: BLE001  nor must it end the watch
            return _own_fault(fault), True
        return "", not intake.is_moved

    def _read_otherwise(self, sha256: str, layout: Layout) -> str:
        """Return why a content waits that was taken back or read by another layout: to take it is a decision."""
        with self.workspace.store.reading() as conn:
            alike = same_content(conn, sha256, layout.table)
            back = [] if alike else [one for one in standing(conn) if one.sha256 == sha256 and one.is_back]
        if back:
            return told(
                "It was taken before, as take {take}, and taken back; take it on Files if it counts "
                "after all, or take it out of the folder.",
                take=back[-1].take,
            )
        if not alike or alike[0].layout is None or Layout.from_toml(alike[0].layout, alike[0].file) == layout:
            return ""
        return told(
            "It was taken before, as take {take}, by another layout; read that take again where it "
            "was read wrongly, or take this file out of the folder.",
            take=alike[0].take,
        )

    def _told(self, receipt: Receipt) -> None:
        self.tell(
            told(
                "{file}: {table}, {count:# row|# rows} read, {taken:,} taken, {known:,} known already, "
                "{rejected:,} rejected.",
                file=escaped(receipt.file),
                table=told(receipt.table),
                count=receipt.read,
                taken=receipt.taken,
                known=receipt.known,
                rejected=receipt.rejected,
            )
        )

    def _rests_on(self) -> str:
        """Return what grows or changes when a file that waits might no longer need to."""
        with self.workspace.store.reading() as conn:
            known = known_state(conn)
        settings = self.workspace.settings_file
        kept = sorted(
            (path.name, path.stat().st_mtime_ns) for path in (*files_in(self.workspace.layouts, ".toml"), settings)
        )
        return hashlib.sha256(repr((known, kept)).encode(errors="backslashreplace")).hexdigest()[:16]


def _own_fault(fault: Exception) -> str:
    return told("It brought evenhand to a fault of its own ({place}); please report it.", place=place_of(fault))


def _taken(one: FileStanding) -> FileStanding:
    return replace(one, why="")


def _is_of(one: FileStanding, entry: Entry) -> bool:
    """Whether it says how this very content stands."""
    return (one.size, one.changed_ns) == (entry.size, entry.changed_ns)
