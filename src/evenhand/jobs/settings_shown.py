"""The settings as a page shows them, and what somebody wrote in its form as changes of the file."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from math import isfinite
from typing import Any

from evenhand import law
from evenhand.store.settings_rewritten import KeyChange
from evenhand.terms.characters import escaped
from evenhand.terms.languages import told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.setting_key import SettingKey, SettingTable
from evenhand.terms.settings import WEEKDAYS
from evenhand.terms.settings_keys import TABLES, table_of
from evenhand.terms.settings_of_site import DATED_KEYS, SITE

__all__ = [
    "LaterChange",
    "SettingShown",
    "TableShown",
    "changes_of",
    "other_tables",
    "shown_table",
    "shown_tables",
    "value_in_words",
]

LATER = "from"


@dataclass(frozen=True)
class SettingShown:
    """A key with what the file says of it: as a form holds it, in words, and since when; '' where it is silent."""

    key: SettingKey
    written: str
    value: str
    since: date | None

    @property
    def is_silent(self) -> bool:
        """Whether the file does not have it, so that what is usual holds."""
        return not self.written


@dataclass(frozen=True)
class LaterChange:
    """What a site changes from a day on, in words."""

    since: date
    says: tuple[str, ...]


@dataclass(frozen=True)
class TableShown:
    """A table with its keys, and for a site the day of the dated table that holds and every dated change there is."""

    table: SettingTable
    path: tuple[str, ...]
    rows: tuple[SettingShown, ...]
    since: date | None = None
    changes: tuple[LaterChange, ...] = ()

    @property
    def is_absent(self) -> bool:
        """Whether the file says nothing of it at all."""
        return all(row.is_silent for row in self.rows)


def shown_tables(text: str) -> list[TableShown]:
    """Return the tables that hold for the whole workplace; `text` is that of a file that is understood."""
    return [shown_table(text, table.path) for table in TABLES]


def shown_table(text: str, path: tuple[str, ...], on: date | None = None) -> TableShown:
    """Return one table; of a site as it holds on a day, or as it began where none is given.

    Raises Unknown where there is no such table of settings.
    """
    table = table_of(path)
    if table is None:
        raise Unknown(
            told("there is no table [{path}] of settings; the page Settings lists them all.", path=".".join(path))
        )
    content: Any = tomllib.loads(text)
    for name in path:
        content = content.get(name, {})
    content = {"repeat_seconds": content["double_seconds"], **content} if "double_seconds" in content else content
    dated = [one for one in content.get(LATER, ()) if path[0] == "site"]
    in_force: dict[str, tuple[Any, date | None]] = {key: (value, None) for key, value in content.items()}
    since = None
    for one in dated:
        if on is not None and one["date"] <= on:
            since = one["date"]
            in_force |= {key: (value, since) for key, value in one.items() if key != "date"}
    rows = tuple(_shown(key, *in_force.get(key.key, (None, None))) for key in table.keys)
    titles = {key.key: key for key in SITE.keys}
    changes = tuple(
        LaterChange(
            one["date"],
            tuple(
                told("{title}: {value}", title=told(titles[key].title), value=value_in_words(titles[key], value))
                for key, value in one.items()
                if key in titles
            ),
        )
        for one in dated
    )
    return TableShown(table, path, rows, since, changes)


def other_tables(text: str) -> dict[str, int]:
    """Return which tables the file has that are written as text alone, and how many of each."""
    content = tomllib.loads(text)
    found = {
        "policy.differential": len(content.get("policy", {}).get("differential", ())),
        "payroll": len(content.get("payroll", {})),
        "handoff.columns": len(content.get("handoff", {}).get("columns", {})),
        "authors": len(content.get("authors", {})),
        "consent.site": len(content.get("consent", {}).get("site", {})),
    }
    return {name: count for name, count in found.items() if count}


def changes_of(
    shown: TableShown, answers: Mapping[str, str], since: date | None, before: TableShown
) -> list[KeyChange]:
    """Return what somebody changed in the form of a table.

    `before` is the table as it holds from `since` on, which the answers are compared with; without a date it is changed
    where it stands. Raises Refusal, naming the setting, where an answer is not written as it must be.
    """
    at = since if since is not None else shown.since
    changes: list[KeyChange] = []
    for row in before.rows:
        given = answers.get(row.key.key)
        if given is None:
            continue
        value = _read(row.key, given)
        if value == _read(row.key, row.written):
            continue
        dated = at is not None and row.key.key in DATED_KEYS and shown.table is SITE
        if at is not None and shown.table is SITE and not dated:
            changes.append(KeyChange(shown.path, row.key.key, value))
        elif value is None and dated:
            changes.append(_left_out(shown, row, at, is_new=since is not None))
        else:
            changes.append(KeyChange(shown.path, row.key.key, value, at if dated else None))
    if shown.table.whole and changes and all(not answers.get(key.key, "").strip() for key in shown.table.keys):
        return [KeyChange(shown.path[:-1], shown.path[-1], None)]
    return changes


def _left_out(shown: TableShown, row: SettingShown, at: date | None, *, is_new: bool) -> KeyChange:
    if is_new or row.since != at:
        raise Refusal(
            told(
                "{title} cannot be left out from a day on; write what holds from then, such as {value}.",
                title=told(row.key.title),
                value=row.key.silent or told("another value"),
            )
        )
    return KeyChange(shown.path, row.key.key, None, at)


def value_in_words(key: SettingKey, value: Any) -> str:
    """Return a value as a page tells it."""
    if isinstance(value, bool):
        return told("yes") if value else told("no")
    if isinstance(value, list):
        return told("{things:commas}", things=[_named(key, str(one)) for one in value]) if value else told("nobody")
    if isinstance(value, date):
        return told("{day}", day=value)
    return told("{value} {unit}", value=str(value), unit=told(key.unit)) if key.unit else _named(key, str(value))


def _named(key: SettingKey, value: str) -> str:
    """Return a law by its title, and a weekday, with a time behind it or without, in words; any other text as it is."""
    if key.key == "jurisdiction" and value in (titles := law.jurisdiction_titles({})):
        return told(titles[value])
    day, _, clock = value.partition(" ")
    if day not in WEEKDAYS:
        return value
    return told("{day} {clock}", day=told(day), clock=clock) if clock else told(day)


def _shown(key: SettingKey, value: Any, since: date | None) -> SettingShown:
    if value is None:
        has_unit = bool(key.unit) and key.silent[:1].isdecimal()
        usual = told("{value} {unit}", value=key.silent, unit=told(key.unit)) if has_unit else _named(key, key.silent)
        return SettingShown(key, "", usual, None)
    return SettingShown(key, _written(value), value_in_words(key, value), since)


def _written(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "\n".join(map(str, value)) if isinstance(value, list) else str(value)


def _read(key: SettingKey, written: str) -> Any:
    """Return what an answer says as the file is to hold it, None where it says nothing."""
    if not written.strip():
        return None
    if key.kind in ("texts", "weekdays"):
        return list(_lines(written, key))
    line = as_line(written, told(key.title))
    if key.kind == "yes_no":
        return _one_of(key, line.lower(), ("yes", "no")) == "yes"
    if key.kind == "choice" and key.choices:
        chosen = _one_of(key, line, key.choices)
        return int(chosen) if chosen.isdecimal() else chosen
    if key.kind == "number":
        return _number(key, line)
    if key.kind == "day":
        try:
            return date.fromisoformat(line)
        except ValueError as fault:
            raise Refusal(
                told(
                    '{title}: "{written}" is no date; write it as 2026-01-04.',
                    title=told(key.title),
                    written=escaped(line),
                )
            ) from fault
    return line


def _lines(written: str, key: SettingKey) -> Iterator[str]:
    for line in written.replace(",", "\n").splitlines():
        if one := as_line(line, told(key.title)):
            yield _one_of(key, one.capitalize(), WEEKDAYS) if key.kind == "weekdays" else one


def _one_of(key: SettingKey, said: str, choices: tuple[str, ...]) -> str:
    if said not in choices:
        raise Refusal(
            told(
                '{title}: "{written}" is none of {choices}; choose one.',
                title=told(key.title),
                written=escaped(said),
                choices=", ".join(choices),
            )
        )
    return said


def _number(key: SettingKey, line: str) -> int | float:
    try:
        return int(line)
    except ValueError:
        pass
    try:
        number = float(line)
    except ValueError as fault:
        raise Refusal(
            told(
                '{title}: "{written}" is no number; write figures, such as 30 or 7.5.',
                title=told(key.title),
                written=escaped(line),
            )
        ) from fault
    if not isfinite(number):
        raise Refusal(
            told(
                '{title}: "{written}" is no number; write figures, such as 30 or 7.5.',
                title=told(key.title),
                written=escaped(line),
            )
        )
    return number
