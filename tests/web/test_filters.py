"""What the templates write is what `terms.words` says, with figure and unit on one line."""

from __future__ import annotations

from evenhand.web import words
from evenhand.web.addresses import in_path

NO_BREAK = "\u00a0"


def test_a_figure_and_its_unit_are_never_parted() -> None:
    assert words.FILTERS["spelled"](29_100) == f"8{NO_BREAK}h{NO_BREAK}05{NO_BREAK}min"
    assert words.FILTERS["plural"](2, "person", "people") == f"2{NO_BREAK}people"


def test_a_name_in_an_address_cannot_end_the_address() -> None:
    assert in_path("Dock 2/3?x#y") == "Dock%202~2F3%3Fx%23y"


def test_a_share_is_written_in_figures_also_where_it_is_the_whole() -> None:
    written = [words.FILTERS["share_of"](part, 1000) for part in (0, 3, 37, 99.6, 432, 997, 1000)]
    assert written == [f"{figures} %" for figures in ("0", "0.3", "3.7", "10", "43", "100", "100")]
