"""Set the sheets of a round as PDF, or as pictures of its pages."""

from __future__ import annotations

import io
import json
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from evenhand.enrolment.paper.drawings import DRAWINGS, drawing
from evenhand.enrolment.written import clock_in, day_in
from evenhand.terms.columns import Frame
from evenhand.terms.languages import LANGUAGES, Words
from evenhand.terms.papers import PAPER_SIZES

__all__ = ["Heading", "Stationery", "print_cards", "print_round", "print_slips", "print_steps"]

_LARGEST, _LINE, _WIDE = 60, 235, 0.61  # points: a slip's largest digits, their line; a digit's width in its size


@dataclass(frozen=True)
class Heading:
    """What stands over each sheet of a round: `zones` and `places` by reader, `address` opens the round at one.

    At the items in `unreleased` no hand is enrolled, since no release is in force; those in `stays` wait, with why in
    the supervisors' language, and those in `together` are done in one visit with others, as it says. Where it
    `names_zones` each time has its own beside it.
    """

    title: str
    day: date
    zones: Mapping[str, str]
    places: Mapping[str, str | None]
    address: Callable[[str], str] | None = None
    unreleased: Collection[str] = ()
    stays: Mapping[str, str] = field(default_factory=dict)
    together: Mapping[str, str] = field(default_factory=dict)
    names_zones: bool = False


@dataclass(frozen=True)
class Stationery:
    """What sheets are set from: the files beside this module, by name, and the words of each language."""

    files: Mapping[str, str]
    words: Mapping[str, Words]


def print_round(
    items: Frame, heading: Heading, stationery: Stationery, *, language: str, paper: str = "letter"
) -> bytes:
    """Return the round (ROUND_ITEMS) as a PDF in the supervisors' language: a page a reader, longer ones go on."""
    say = stationery.words[language].__getitem__
    readers = [
        {
            "reader": reader,
            "place": heading.places.get(reader) or "",
            "qr": None if heading.address is None else _qr(heading.address(reader)),
            "items": [_item(row, heading, language, say) for row in rows],
        }
        for reader, rows in _by_reader(items)
    ]
    shown = {
        "title": stationery.words[language].get(heading.title, heading.title),
        "day": day_in(language, heading.day),
        "language": language,
        "readers": readers,
        "caution": say("Collect the sheets: they show people's numbers."),
    }
    return _set("round.typ", shown, stationery, paper)


def print_slips(items: Frame, heading: Heading, stationery: Stationery, *, paper: str = "letter") -> bytes:
    """Return tear-off slips as a PDF, ten a page: each person's own number, each in the person's language."""
    slips = [
        {
            "name": row["name"] or "",
            "number": row["number"],
            "size": min(_LARGEST, _LINE / (_WIDE * max(len(row["number"]), 1))),
            "time": clock_in(heading.zones[row["reader"]], row["starts_at"], is_named=heading.names_zones),
            "where": " · ".join(filter(None, (reader, heading.places.get(reader)))),
            "language": row["language"],
        }
        for reader, rows in _by_reader(items)
        for row in rows
        if row["action"] != "remove"
    ]
    return _set("slips.typ", {"slips": slips}, stationery, paper)


def print_cards(
    stationery: Stationery,
    *,
    card: str,
    languages: Sequence[str] = LANGUAGES,
    steps: Sequence[Mapping[str, Any]] = (),
    paper: str = "letter",
) -> bytes:
    """Return the `wall_card` or the `supervisor_card` as a PDF, a page a language.

    The latter goes on with the workplace's own `steps`, as `print_steps` sets them.
    """
    return _set(f"{card}.typ", {"languages": list(languages), "steps": list(steps)}, stationery, paper)


def print_steps(steps: Sequence[Mapping[str, Any]], stationery: Stationery, *, paper: str = "letter") -> bytes:
    """Return the workplace's own steps as a PDF for the wall: a page for each kind of reader and language.

    Each has `kind`, `readers`, `language` and `parts`, with a `title` of the catalogue and `steps` that say what to do
    and, where one must be quick, in how many `seconds`.
    """
    return _set("own_steps.typ", {"steps": list(steps)}, stationery, paper)


def _by_reader(items: Frame) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    parts = items.sort("reader", "position").partition_by("reader", as_dict=True, maintain_order=True)
    return ((str(reader), rows.to_dicts()) for (reader,), rows in parts.items())


def _item(row: dict[str, Any], heading: Heading, language: str, say: Callable[[str], str]) -> dict[str, Any]:
    return {
        "time": clock_in(heading.zones[row["reader"]], row["starts_at"], is_named=heading.names_zones),
        "number": row["number"],
        "name": row["name"] or "",
        "action": row["action"],
        "spoken": "" if row["action"] == "remove" or row["language"] == language else _speaks(row["language"], say),
        "stands": row["stands"] or "",
        "stays": heading.stays.get(row["item"], ""),
        "together": heading.together.get(row["item"], ""),
        "withheld": say("No release in force: the person reads and decides first.")
        if row["item"] in heading.unreleased
        else "",
    }


def _speaks(language: str, say: Callable[[str], str]) -> str:
    return say("speaks English") if language == "en" else say("speaks Spanish")


def _qr(address: str) -> str:
    """Return a QR code of the address as SVG, readable with about 15 % of it spoilt.

    Source: ISO/IEC 18004, as segno writes it.
    """
    import segno

    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="svg", border=4, scale=4)
    return drawn.getvalue().decode("utf-8")


def _set(template: str, shown: dict[str, Any], stationery: Stationery, paper: str) -> bytes:
    import typst

    parts = ("sheet.typ", "steps_page.typ", template)
    source = "\n".join(stationery.files[name] for name in parts).encode("utf-8")
    told = {
        **shown,
        "paper": PAPER_SIZES[paper],
        "hands": {name: drawing(name) for name in DRAWINGS},
        "words": {language: dict(words) for language, words in stationery.words.items()},
    }
    # What is handed in stays text, whatever it holds; without system fonts the sheet is the same on every machine.
    return typst.compile(source, sys_inputs={"data": json.dumps(told)}, ignore_system_fonts=True, format="pdf")
