"""The workplace's own rules: dated numbers in `rules/<jurisdiction>/<rule>.toml` of the workspace.

A folder named after a shipped jurisdiction changes its numbers; one with another name makes a jurisdiction of that
name, and its `jurisdiction.toml` says with `based_on` which shipped one it changes. A file holds a table per number:
`meaning`, `unit`, and `values`, each with `from`, `value` and `cites`, in the order in which they took effect.
"""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from pathlib import Path

from evenhand.store.faults import refusing
from evenhand.store.listing import files_in
from evenhand.store.sections import Section, read_text, section_of
from evenhand.terms.languages import told
from evenhand.terms.parameters import OwnRules, Parameter
from evenhand.terms.records import Citation

__all__ = ["parse_jurisdiction", "parse_parameters", "read_own_rules"]

ABOUT = "jurisdiction.toml"
MOST = 1_000_000_000
"""The most that a number may be, in whatever unit: no law counts further."""


def read_own_rules(directory: Path) -> dict[str, OwnRules]:
    """Return the workplace's own rules by jurisdiction, none where there is no such directory.

    Raises Refusal, naming the file, the key and what is wrong, for a file that cannot be understood.
    """
    if not directory.is_dir():
        return {}
    with refusing(str(directory)):
        folders = [folder for folder in sorted(directory.iterdir()) if folder.is_dir()]
    return {folder.name: _folder(folder) for folder in folders}


def parse_parameters(text: str, path: Path) -> dict[str, Parameter]:
    """Return the numbers in the text of the file at `path`; raises Refusal at the first that is not understood."""
    top = section_of(text, path)
    return {name: _parameter(name, top.section(name, ("meaning", "unit", "values"))) for name in top.content}


def parse_jurisdiction(text: str, path: Path) -> str:
    """Return the shipped jurisdiction on which a folder rests, by the text of its `jurisdiction.toml` at `path`."""
    return section_of(text, path, ("based_on",)).text("based_on")


def _folder(folder: Path) -> OwnRules:
    about, based_on = folder / ABOUT, folder.name
    with refusing(str(folder)):
        is_told = about.exists()
    if is_told:
        based_on = parse_jurisdiction(read_text(about), about)
    files = {file.stem: parse_parameters(read_text(file), file) for file in files_in(folder, ".toml") if file != about}
    return OwnRules(folder.name, based_on, files)


def _parameter(name: str, section: Section) -> Parameter:
    values = [_value(one) for one in section.sections("values", ("from", "value", "cites"))]
    if not values:
        section.refuse("values", told("at least one value with its date of effect"))
    for (earlier, _, _), (later, _, _) in pairwise(values):
        if later <= earlier:
            section.refuse(
                "values",
                told("each date of effect once, earliest first"),
                seen=told("{later} after {earlier}", later=str(later), earlier=str(earlier)),
            )
    return Parameter(name, section.text("meaning"), section.text("unit"), tuple(values))


def _value(section: Section) -> tuple[date, int | tuple[int, ...], Citation]:
    since, cites = section.day("from"), section.text("cites")
    value = section.value("value", told("a whole number from 0 to {most}, or a list of such", most=MOST), _is_counted)
    return since, tuple(value) if isinstance(value, list) else value, Citation(cites, since=since)


def _is_counted(seen: object) -> bool:
    numbers = seen if isinstance(seen, list) else [seen]
    return bool(numbers) and all(type(number) is int and 0 <= number <= MOST for number in numbers)
