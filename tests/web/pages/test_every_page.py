"""What holds for every page alike."""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

import pytest

from evenhand.terms.rooms import rooms_of
from evenhand.web import pages
from evenhand.web.show import menu_of

ROOMS = rooms_of(pages, ("MENU", "ROUTES"))
AS_IT_IS = {"Glossary"}
"""Pages that show what is there as it is, so that nothing is worked out for them."""


@pytest.mark.parametrize("room", ROOMS, ids=lambda room: room.MENU.title)
def test_a_page_has_its_parts_and_is_described(room: ModuleType) -> None:
    folder = Path(str(room.__file__)).parent
    parts = {"page.py", "page.html"} if room.MENU.title in AS_IT_IS else {"page.py", "view.py", "page.html"}
    assert parts <= {part.name for part in folder.iterdir()}
    described = (Path(__file__).parents[3] / "docs" / "pages.md").read_text()
    assert f"| {room.MENU.title} | `{room.MENU.address}" in described


def test_no_two_pages_stand_in_one_place() -> None:
    assert len({room.MENU.place for room in ROOMS}) == len(ROOMS)


def test_every_listed_page_stands_in_one_part_of_the_menu() -> None:
    shown = [entry.title for _, entries in menu_of(room.MENU for room in ROOMS) for entry in entries]
    assert sorted(shown) == sorted(room.MENU.title for room in ROOMS if room.MENU.is_listed)
