"""Print a round: sheets for the readers, slips for the people, cards for the wall and the supervisors."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlsplit

from evenhand.enrolment.paper import Heading, print_cards, print_round, print_slips
from evenhand.jobs.at_turn import shown_steps
from evenhand.jobs.languages import say_in
from evenhand.jobs.own_steps import own_steps_now
from evenhand.jobs.period import RECENT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.releases_at_reader import unreleased_items
from evenhand.jobs.round_files import round_stationery
from evenhand.jobs.rounds import RoundSeen, see_round
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.taking_off import before_turns, taking_off, until_decided
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.faults import refusing
from evenhand.store.owner_only import make_folder
from evenhand.store.replacing import replace_file
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.segments import as_segment
from evenhand.terms.workplace import zones_meet

__all__ = ["SHEETS", "heading_of", "print_sheet", "print_sheets", "steps_of_round", "with_stays"]

HERE_ALONE = ("127.0.0.1", "localhost", "::1", None)
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
        names_zones=zones_meet(workspace.settings, readers),
    )


def with_stays(heading: Heading, reckoning: Reckoning, seen: RoundSeen, language: str) -> Heading:
    """Return the heading with what must wait, and why, and what is done together, in the supervisors' language."""
    off = until_decided(taking_off(reckoning, seen.states), seen.states, heading.unreleased)
    told = before_turns(off, say_in(language))
    stays, together = (dict(told.select("item", name).drop_nulls().iter_rows()) for name in ("waits", "together"))
    return replace(heading, stays=stays, together=together)


def steps_of_round(workspace: Workspace, seen: RoundSeen) -> list[dict[str, Any]]:
    """Return the workplace's own steps at the readers of a round, kind by kind and language by language."""
    kinds = [one.steps for one in own_steps_now(workspace).values() if set(one.steps.readers) & set(seen.readers)]
    return [shown_steps(steps, language) for steps in kinds for language in steps.words]


def print_sheet(
    seen: RoundSeen,
    heading: Heading,
    sheet: str,
    *,
    language: str = "en",
    steps: Sequence[Mapping[str, Any]] = (),
    paper: str = "letter",
) -> bytes:
    """Return one of SHEETS as PDF, the round itself in the supervisors' language; raises Unknown for another.

    The supervisors' card goes on with the workplace's own `steps` at the readers of the round (`steps_of_round`).
    """
    if sheet == "round":
        return print_round(seen.states, heading, round_stationery(), language=language, paper=paper)
    if sheet == "slips":
        return print_slips(seen.states, heading, round_stationery(), paper=paper)
    if sheet in SHEETS:
        return print_cards(round_stationery(), card=sheet, steps=steps, paper=paper)
    raise Unknown(told('there is no sheet "{sheet}"; the round lists them.', sheet=sheet))


def print_sheets(
    workspace: Workspace,
    name: str,
    *,
    address: str | None,
    as_of: datetime,
    language: str = "en",
    paper: str = "",
) -> list[Path]:
    """Write the sheets of a round as PDF into the workspace's `rounds` folder and return where they are.

    Sheets and slips show people's numbers: they are for the supervisors, and each slip for one person. Raises Refusal
    where the address is one that no phone reaches.
    """
    if address and urlsplit(address).hostname in HERE_ALONE:
        raise Refusal(
            told(
                "{address} is this machine alone, and no phone gets there by a code; give the address of "
                "`evenhand serve --host`, or none, and no code is printed.",
                address=address,
            )
        )
    seen = see_round(workspace, name)
    reckoning = Reckoning(take_snapshot(workspace, as_of.date() - RECENT), as_of)
    heading = with_stays(heading_of(workspace, seen, address, as_of=as_of), reckoning, seen, language)
    own = steps_of_round(workspace, seen)
    folder = workspace.directory / "rounds" / name
    with refusing(str(folder)):
        make_folder(folder)
        paths = []
        for sheet in SHEETS:
            path = folder / f"{sheet}.pdf"
            pdf = print_sheet(
                seen, heading, sheet, language=language, steps=own, paper=paper or reckoning.snapshot.paper
            )
            replace_file(path, pdf)
            paths.append(path)
    return paths
