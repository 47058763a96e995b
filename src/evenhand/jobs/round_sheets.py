"""Print a round: sheets for the readers, slips for the people, cards for the wall and the supervisors."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from urllib.parse import quote

from evenhand.enrolment.paper import Heading, print_cards, print_round, print_slips
from evenhand.jobs.releases_at_reader import unreleased_items
from evenhand.jobs.round_files import round_stationery
from evenhand.jobs.rounds import RoundSeen, see_round
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.faults import refusing
from evenhand.store.owner_only import make_folder
from evenhand.store.replacing import replace_file
from evenhand.terms.records import Unknown
from evenhand.terms.segments import as_segment

__all__ = ["SHEETS", "heading_of", "print_sheet", "print_sheets"]

SHEETS = ("round", "slips", "wall_card", "supervisor_card")
"""What a round prints: a page a reader, tear-off slips, a card for the wall, a card for supervisors."""


def heading_of(workspace: Workspace, seen: RoundSeen, address: str | None, *, as_of: datetime | None = None) -> Heading:
    """Return what stands over the sheets of a round; `address` is where the pages are, such as http://127.0.0.1:8777.

    As of an instant it also tells at which items no hand is enrolled, since no release is in force.
    """
    with workspace.store.reading() as conn:
        readers = frames.readers(conn)
    name = seen.header["round"]
    return Heading(
        title=seen.header["title"],
        day=seen.header["day"],
        zones=dict(readers.select("reader", "zone").iter_rows()),
        places=dict(readers.select("reader", "place").iter_rows()),
        address=None
        if not address
        else lambda reader: (
            f"{address.rstrip('/')}/rounds/{quote(as_segment(name))}/{quote(as_segment(reader), safe='')}"
        ),
        unreleased=() if as_of is None else unreleased_items(workspace, seen.states, as_of=as_of),
    )


def print_sheet(
    seen: RoundSeen, heading: Heading, sheet: str, *, language: str = "en", paper: str = "us-letter"
) -> bytes:
    """Return one of SHEETS as PDF, the round itself in the supervisors' language; raises Unknown for another."""
    if sheet == "round":
        return print_round(seen.states, heading, round_stationery(), language=language, paper=paper)
    if sheet == "slips":
        return print_slips(seen.states, heading, round_stationery(), paper=paper)
    if sheet in SHEETS:
        return print_cards(round_stationery(), card=sheet, paper=paper)
    raise Unknown(f'there is no sheet "{sheet}"; the round lists them.')


def print_sheets(
    workspace: Workspace,
    name: str,
    *,
    address: str | None,
    as_of: datetime,
    language: str = "en",
    paper: str = "us-letter",
) -> list[Path]:
    """Write the sheets of a round as PDF into the workspace's `rounds` folder and return where they are.

    Sheets and slips show people's numbers: they are for the supervisors, and each slip for one person.
    """
    seen = see_round(workspace, name)
    heading = heading_of(workspace, seen, address, as_of=as_of)
    folder = workspace.directory / "rounds" / name
    with refusing(str(folder)):
        make_folder(folder)
        paths = []
        for sheet in SHEETS:
            path = folder / f"{sheet}.pdf"
            replace_file(path, print_sheet(seen, heading, sheet, language=language, paper=paper))
            paths.append(path)
    return paths
