"""Make and open a workspace: one directory with the settings, the store and what was read and rejected."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from evenhand.store import Store, frames, open_store
from evenhand.store.clearing import is_clearing
from evenhand.store.database import BUSY_S
from evenhand.store.faults import refusing
from evenhand.store.handing import put_in_place
from evenhand.store.owner_only import FOLDER, close_to_others
from evenhand.store.replacing import sweep_abandoned
from evenhand.store.settings import read_settings, write_settings
from evenhand.store.settings_stated import settings_texts, stated_settings
from evenhand.store.soundness import is_without_takes
from evenhand.store.sources import Sources
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.settings import PayPeriod, Settings
from evenhand.terms.workplace import workplace_paper, zones_meet
from evenhand.terms.zones import offsets_of

__all__ = [
    "SETTINGS_FILE",
    "STORE_FILE",
    "Workspace",
    "create_workspace",
    "do_zones_meet",
    "open_workspace",
    "paper_of",
]

SETTINGS_FILE, STORE_FILE = "evenhand.toml", "evenhand.sqlite"
STORE_FILES = tuple(f"{STORE_FILE}{ending}" for ending in ("", "-wal", "-shm"))
FOLDERS = ("layouts", "rejected", "handoff")
LEFT_IN = ("layouts", "rejected", "sources", "waiting")
"""Folders in which a program that was stopped may leave half a file; of hand-offs the store tells which are whole."""
WAYS_BACK = sentence(
    "put back a backup of it (docs/workspace.md, Backup), or make a workspace in another folder with `evenhand new` "
    "and take the files there again; what was decided by hand is in the backup alone"
)
FIRST_ANCHOR = date(2026, 1, 4)  # a Sunday, as the default workweek begins on Sunday


@dataclass(frozen=True)
class Workspace:
    """An open workspace; `address` is what its settings said of the store when it was opened.

    `notices` say what was put right, or could not be, when it was opened.
    """

    directory: Path
    store: Store
    address: str
    notices: tuple[str, ...] = ()

    @property
    def settings_file(self) -> Path:
        """Where the settings are."""
        return self.directory / SETTINGS_FILE

    @property
    def settings(self) -> Settings:
        """The settings as they are in the file now; raises Refusal where they are not understood."""
        return read_settings(self.settings_file)

    @property
    def rules(self) -> Path:
        """Where the workplace's own rules are kept."""
        return self.directory / "rules"

    @property
    def layouts(self) -> Path:
        """Where the confirmed layouts are kept."""
        return self.directory / "layouts"

    @property
    def rejected(self) -> Path:
        """Where the rejected rows of each file are written."""
        return self.directory / "rejected"

    @property
    def sources(self) -> Sources:
        """The bytes of every file taken."""
        return Sources(self.directory / "sources")

    @property
    def handoff(self) -> Path:
        """Where the files for payroll are written."""
        return self.directory / "handoff"

    @property
    def waiting(self) -> Path:
        """Where files lie that a person has yet to look at."""
        return self.directory / "waiting"

    def refuse_another_store(self, settings: Settings) -> None:
        """Refuse where the settings now name another store than the one that is open."""
        if settings.store != self.address:
            # The address may hold a password; the store's own name does not.
            raise Refusal(
                told(
                    "{settings_file}: store under [workplace] has been changed while {where} is open; nothing "
                    "was lost, stop `evenhand serve` and start it again, or put the setting back.",
                    settings_file=self.settings_file,
                    where=self.store.where,
                )
            )

    def looking(self) -> Workspace:
        """Return the same workspace as it is looked at as of another time than the machine's: nothing is written.

        An invented workplace lives in times of its own, so that there everything is done as of any time.
        """
        return self if self.settings.is_invented else replace(self, store=replace(self.store, only_looks=True))

    def close(self) -> None:
        """Close the store."""
        self.store.close()


def paper_of(workspace: Workspace) -> str:
    """Return on which of PAPERS the workplace prints, as its settings and readers are now."""
    with workspace.store.reading() as conn:
        return workplace_paper(workspace.settings, frames.readers(conn))


def do_zones_meet(workspace: Workspace) -> bool:
    """Return whether the workplace goes by clocks of several zones, as its settings and readers are now."""
    with workspace.store.reading() as conn:
        return zones_meet(workspace.settings, frames.readers(conn))


def create_workspace(
    directory: Path | str,
    workplace: str = "Workplace",
    zone: str | None = None,
    *,
    period: PayPeriod | None = None,
    store: str = "",
    is_invented: bool = False,
) -> Workspace:
    """Make a workspace in `directory`, which may exist only if it is empty, and return it open.

    `zone` holds at sites that neither the settings nor the readers place; `store` is a PostgreSQL address for a
    team; where it `is_invented` everything may be done as of any time. Raises Refusal where the directory is in use or
    cannot be written.
    """
    directory = Path(directory)
    if zone is not None:
        try:
            offsets_of(zone)
        except KeyError as fault:
            raise Refusal(
                told("{zone} is not a time zone; give an IANA name such as America/Chicago.", zone=repr(zone))
            ) from fault
    if not workplace.strip():
        raise Refusal(told("The workplace has no name; give one."))
    with refusing(str(directory)):
        _check_free(directory)
    settings = Settings(
        workplace.strip(), period or PayPeriod(FIRST_ANCHOR), zone=zone or "", store=store, is_invented=is_invented
    )
    try:
        with refusing(str(directory)):
            directory.mkdir(mode=FOLDER, parents=True, exist_ok=True)
            directory.chmod(FOLDER)
            for folder in FOLDERS:
                (directory / folder).mkdir(mode=FOLDER, exist_ok=True)
            open_store(store or directory / STORE_FILE).close()
            # The settings come last: a directory is a workspace once it has them.
            write_settings(directory / SETTINGS_FILE, settings)
    except OSError as fault:
        raise Refusal(
            told(
                "{place} cannot be made ({strerror}); choose another.",
                place=fault.filename or directory,
                strerror=why_of(fault),
            )
        ) from fault
    return open_workspace(directory)


def open_workspace(directory: Path | str, *, busy_s: float = BUSY_S) -> Workspace:
    """Return the workspace in `directory`; `busy_s` is how long to wait for another program's write [s].

    Raises Refusal where there is none, where its settings are not understood, and where its store is missing,
    newer than this program, damaged, locked or not writable.
    """
    directory = Path(directory)
    with refusing(str(directory)):
        is_there = (directory / SETTINGS_FILE).is_file()
    if not is_there:
        raise Refusal(
            told(
                "{directory} is no workspace, since it has no {settings}; make one, or name another.",
                directory=directory,
                settings=SETTINGS_FILE,
            )
        )
    settings = read_settings(directory / SETTINGS_FILE)
    if not settings.store and not (directory / STORE_FILE).is_file():
        raise Refusal(told("{place} is missing; put back a backup of it.", place=directory / STORE_FILE))
    if not settings.store and not (directory / STORE_FILE).stat().st_size:
        raise Refusal(
            told("{place} is empty, where a store was; {back}.", place=directory / STORE_FILE, back=told(WAYS_BACK))
        )
    store = open_store(
        settings.store or directory / STORE_FILE, busy_s=busy_s, settings=lambda: settings_texts(directory)
    )
    if (directory / "refused").is_dir() and not (directory / "rejected").exists():
        with refusing(str(directory)):
            (directory / "refused").rename(directory / "rejected")  # as versions before called it
    workspace = Workspace(directory, store, settings.store, tuple(_closed_to_others(directory)))
    try:
        _refuse_emptied(workspace)
        _put_in_place(workspace)
        for folder in (directory, *(directory / name for name in LEFT_IN), *(directory / "rounds").glob("*/")):
            sweep_abandoned(folder)
        _state_settings(workspace)
        notices = [*workspace.notices, *_mended(workspace.store), *_cleared(workspace)]
    except BaseException:
        workspace.close()
        raise
    return replace(workspace, notices=tuple(notices))


def _mended(store: Store) -> Iterator[str]:
    if store.mended:
        yield told(
            "punch_parts in {where} did not hold the punches of {count:take|takes} {takes:listed}: somebody altered "
            "it; it was made anew from the rows: prove these with `evenhand ledger verify`.",
            where=store.where,
            count=len(store.mended),
            takes=list(map(str, store.mended)),
        )


def _cleared(workspace: Workspace) -> Iterator[str]:
    """Clear away what an erasure that was stopped left on the disk, and yield what is to be said of it."""
    if not is_clearing(workspace.store):
        return
    from evenhand.jobs.cleared import finish_erasing  # it works on an open workspace

    is_done = False
    with suppress(Refusal, OSError), workspace.sources.held(wait_s=0):
        is_done = finish_erasing(workspace)
    if not is_done:
        yield told(
            "What was erased is still to be cleared from free places of {where}, which another program has open; stop "
            "`evenhand serve` and run any command.",
            where=workspace.store.where,
        )


def _closed_to_others(directory: Path) -> Iterator[str]:
    """Let the owner alone read what the workspace holds, and yield what is to be said of it."""
    closed, open_still = close_to_others([directory])
    names = (SETTINGS_FILE, *STORE_FILES, *FOLDERS, "waiting", "sources")
    within, within_still = close_to_others(directory / name for name in names)
    if closed and within:
        yield told(
            "Other users of this machine could read {names:listed 99} in {directory}; from now on only its owner can.",
            names=[path.name for path in within],
            directory=directory,
        )
    elif closed:
        yield told(
            "Other users of this machine could look into {directory}; from now on only its owner can.",
            directory=directory,
        )
    if open_still:
        yield told(
            "Other users of this machine can read {names:listed 99} in {directory}, and this user may not change that; "
            "let the folder's owner do so.",
            names=[path.name for path in within_still] or [told("what is not closed to them")],
            directory=directory,
        )


def _refuse_emptied(workspace: Workspace) -> None:
    """Raise Refusal where the store knows no take and the workspace holds what takes brought.

    Of a first take that was stopped one source may lie there that the store does not name.
    """
    if workspace.sources.count() < 2:
        return
    with workspace.store.reading() as conn:
        if is_without_takes(conn):
            raise Refusal(
                told(
                    "{where} knows no take, and {folder} holds the files of {takes:# take|# takes}: it is not this "
                    "workspace's store, or was emptied; {back}.",
                    where=workspace.store.where,
                    folder=workspace.sources.folder,
                    takes=workspace.sources.count(),
                    back=told(WAYS_BACK),
                )
            )


def _state_settings(workspace: Workspace) -> None:
    """Have the ledger state the settings where they are not those that it stated last."""
    with workspace.store.reading() as conn:
        is_stated = stated_settings(conn) == settings_texts(workspace.directory)
    if not is_stated:
        with workspace.store.writing():
            pass  # whatever is written states them


def _put_in_place(workspace: Workspace) -> None:
    """Put in place, or clear away, files for payroll that a stopped program left beside their places."""
    if any(workspace.handoff.glob(".*.part")):
        # Where another program holds the files, it is at them itself; where they may only be read, it can wait.
        with suppress(Refusal, OSError), workspace.sources.held(wait_s=0):
            put_in_place(workspace.store, workspace.handoff)


def _check_free(directory: Path) -> None:
    if directory.exists() and not directory.is_dir():
        raise Refusal(told("{directory} is a file; name a directory.", directory=directory))
    if (directory / SETTINGS_FILE).exists():
        raise Refusal(
            told("{directory} is a workspace already; open it, or name another directory.", directory=directory)
        )
    # What an interrupted attempt left behind may be completed.
    ours = {*FOLDERS, *STORE_FILES}
    if directory.exists() and any(entry.name not in ours for entry in directory.iterdir()):
        raise Refusal(
            told("{directory} is not empty; name an empty directory, or one to be made.", directory=directory)
        )
