"""Make and open a workspace: one directory with the settings, the store and what was read and refused."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evenhand.store import Store, frames, open_store
from evenhand.store.database import BUSY_S
from evenhand.store.faults import refusing
from evenhand.store.settings import read_settings, write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import PayPeriod, Settings, SiteRules
from evenhand.terms.zones import offsets_of

__all__ = ["SETTINGS_FILE", "STORE_FILE", "Workspace", "create_workspace", "open_workspace"]

SETTINGS_FILE, STORE_FILE = "evenhand.toml", "evenhand.sqlite"
FOLDERS = ("layouts", "refused", "handoff")
FIRST_ANCHOR = date(2026, 1, 4)  # a Sunday, as the default workweek begins on Sunday


@dataclass(frozen=True)
class Workspace:
    """An open workspace."""

    directory: Path
    settings: Settings
    store: Store

    @property
    def layouts(self) -> Path:
        """Where the confirmed layouts are kept."""
        return self.directory / "layouts"

    @property
    def refused(self) -> Path:
        """Where the refused rows of each file are written."""
        return self.directory / "refused"

    @property
    def handoff(self) -> Path:
        """Where the files for payroll are written."""
        return self.directory / "handoff"

    def _reader_zones(self) -> list[tuple[str, str]]:
        with self.store.reading() as conn:
            listed = frames.readers(conn)
        by_use = listed.group_by("site", "zone").len().sort("len", "zone", descending=[True, False])
        return by_use.select("site", "zone").rows()

    def site_rules(self, site: str | None) -> SiteRules:
        """Return the rules that bind `site`.

        A site that the settings do not describe gets the default rules, in the zone in which most of its readers
        run; one without readers gets the workplace's zone, or the readers' where all run in one. Raises Refusal
        where no zone follows, since hours cannot be placed in days without one.
        """
        if site and site in self.settings.sites:
            return self.settings.sites[site]
        reader_zones = self._reader_zones()
        anywhere = sorted({zone for _, zone in reader_zones})
        of_site = next((zone for place, zone in reader_zones if place == site), self.settings.zone)
        if not of_site and len(anywhere) == 1:
            of_site = anywhere[0]
        if of_site:
            return SiteRules(site or "", of_site)
        named = f"site {site!r}" if site else "people without a site"
        raise Refusal(
            f"{self.directory / SETTINGS_FILE}: no time zone is known for {named}, where no reader hangs; "
            "add zone under [workplace]" + (f', or a table [site."{site}"] with its zone.' if site else ".")
        )

    @property
    def zone(self) -> str:
        """The zone in which the workplace as a whole counts its days.

        The workplace's own; else the one most readers run in; UTC while there are none.
        """
        if self.settings.zone:
            return self.settings.zone
        with self.store.reading() as conn:
            zones = frames.readers(conn)["zone"]
        by_use = zones.value_counts().sort(["count", "zone"], descending=[True, False])
        return str(by_use["zone"][0]) if by_use.height else "UTC"

    def site_zones(self) -> dict[str, str]:
        """Return the zone of every site that the settings or the readers name."""
        # The most used zone of a site comes first; the settings have the last word.
        by_readers = dict(reversed(self._reader_zones()))
        return by_readers | {name: rules.zone for name, rules in self.settings.sites.items()}

    def close(self) -> None:
        """Close the store."""
        self.store.close()


def create_workspace(
    directory: Path | str,
    workplace: str = "Workplace",
    zone: str | None = None,
    *,
    period: PayPeriod | None = None,
    store: str = "",
) -> Workspace:
    """Make a workspace in `directory`, which may exist only if it is empty, and return it open.

    `zone` holds at sites that neither the settings nor the readers place; `store` is a PostgreSQL address for a
    team. Raises Refusal where the directory is in use or cannot be written.
    """
    directory = Path(directory)
    if zone is not None:
        try:
            offsets_of(zone)
        except KeyError as fault:
            raise Refusal(f"{zone!r} is not a time zone; give an IANA name such as America/Chicago.") from fault
    if not workplace.strip():
        raise Refusal("The workplace has no name; give one.")
    _check_free(directory)
    settings = Settings(workplace.strip(), period or PayPeriod(FIRST_ANCHOR), zone=zone or "", store=store)
    try:
        with refusing(str(directory)):
            for folder in FOLDERS:
                (directory / folder).mkdir(parents=True, exist_ok=True)
            open_store(store or directory / STORE_FILE).close()
            # The settings come last: a directory is a workspace once it has them.
            write_settings(directory / SETTINGS_FILE, settings)
    except OSError as fault:
        raise Refusal(f"{fault.filename or directory} cannot be made ({fault.strerror}); choose another.") from fault
    return open_workspace(directory)


def open_workspace(directory: Path | str, *, busy_s: float = BUSY_S) -> Workspace:
    """Return the workspace in `directory`; `busy_s` is how long to wait for another program's write [s].

    Raises Refusal where there is none, where its settings are not understood, and where its store is missing,
    newer than this program, damaged, locked or not writable.
    """
    directory = Path(directory)
    if not (directory / SETTINGS_FILE).is_file():
        raise Refusal(f"{directory} is no workspace, since it has no {SETTINGS_FILE}; make one, or name another.")
    settings = read_settings(directory / SETTINGS_FILE)
    if not settings.store and not (directory / STORE_FILE).is_file():
        raise Refusal(f"{directory / STORE_FILE} is missing; put back a backup of it.")
    return Workspace(directory, settings, open_store(settings.store or directory / STORE_FILE, busy_s=busy_s))


def _check_free(directory: Path) -> None:
    if directory.exists() and not directory.is_dir():
        raise Refusal(f"{directory} is a file; name a directory.")
    if (directory / SETTINGS_FILE).exists():
        raise Refusal(f"{directory} is a workspace already; open it, or name another directory.")
    # What an interrupted attempt left behind may be completed.
    ours = {*FOLDERS, STORE_FILE, f"{STORE_FILE}-wal", f"{STORE_FILE}-shm"}
    if directory.exists() and any(entry.name not in ours for entry in directory.iterdir()):
        raise Refusal(f"{directory} is not empty; name an empty directory, or one to be made.")
