"""Write the columns of payroll's file in another order, or others, into the text of a settings file.

Each line or table goes with its own comments to its new place, and all else stays. What comes out is read again before
it is given back, and is refused where it says anything but what was asked for.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from copy import deepcopy
from pathlib import Path
from typing import Any, NamedTuple

import tomlkit
from tomlkit.exceptions import TOMLKitError

from evenhand.store.settings_rewritten import (
    LINES,
    KeyChange,
    TomlBlock,
    block_end,
    blocks_of,
    key_in_toml,
    key_line,
    within,
)
from evenhand.terms.languages import told
from evenhand.terms.payroll import PayrollColumn
from evenhand.terms.records import Refusal

__all__ = ["PlacedColumn", "columns_rewritten", "columns_written"]

ALONE = ("handoff", "columns")
KEYS = ("header", "field", "text")


class PlacedColumn(NamedTuple):
    """A column as it is to stand, and `was`, its place in the file as it is: None for one that is new."""

    was: int | None
    column: PayrollColumn


def columns_written(text: str, payroll: str) -> list[PayrollColumn]:
    """Return the columns that a settings file says: of `[payroll.NAME]`, or of `[handoff.columns]` without a name."""
    content = tomllib.loads(text)
    if not payroll:
        return [PayrollColumn(header, field) for header, field in content.get("handoff", {}).get("columns", {}).items()]
    return [
        PayrollColumn(one.get("header", ""), one.get("field", ""), one.get("text", ""))
        for one in content.get("payroll", {}).get(payroll, {}).get("column", ())
    ]


def columns_rewritten(text: str, payroll: str, columns: Sequence[PlacedColumn], path: Path) -> str:
    """Return the text of the file at `path` with these columns, in this order.

    Raises Refusal where the file is written so that they cannot be put in order without harm to what stands around.
    """
    before = columns_written(text, payroll)
    if [one.column for one in columns] == before:
        return text
    made = _listed(text, payroll, columns, before) if payroll else _alone(text, columns)
    wanted = [one.column for one in columns]
    if made is None or columns_written(made, payroll) != wanted or _rest(made, payroll) != _rest(text, payroll):
        raise Refusal(
            told(
                "{path}: payroll's columns are written so that they cannot be put in order here without harm to what "
                "stands around them; change them in the text of the file.",
                path=path,
            )
        )
    return made


def _rest(text: str, payroll: str) -> Mapping[str, Any]:
    """Return what a settings file says of all else."""
    content = deepcopy(tomllib.loads(text))
    if payroll:
        content.get("payroll", {}).get(payroll, {}).pop("column", None)
    elif handoff := content.get("handoff", {}):
        handoff.pop("columns", None)
    return {name: table for name, table in content.items() if table != {}}


def _alone(text: str, columns: Sequence[PlacedColumn]) -> str | None:
    """Return the text with `"Header" = "field"` lines in order; None where they stand otherwise."""
    lines = LINES.findall(text)
    own = [one for one in blocks_of(lines) if one.path == ALONE and not one.is_listed]
    written = [key_line(one.column.header, one.column.field) for one in columns]
    if not own:
        if columns_written(text, ""):
            return None
        head = text if not text or text.endswith("\n") else f"{text}\n"
        return "\n".join([head, "[handoff.columns]", *written, ""])
    [block] = own
    end = block_end(lines, block)
    heads: list[list[str]] = [[]]
    entries: list[str] = []
    for line in lines[block.first + 1 : end]:
        if line.strip().partition("#")[0]:
            entries.append(line)
            heads.append([])
        else:
            heads[-1].append(line)
    if len(entries) != len(columns_written(text, "")):
        return None
    top, tail = heads[0], heads[-1]
    body = list(top)
    for one, wanted in zip(columns, written, strict=True):
        if one.was is None:
            body.append(f"{wanted}\n")
            continue
        line = entries[one.was]
        said = tomllib.loads(line)
        if said != {one.column.header: one.column.field}:
            comment = _comment(line)
            if comment is None:
                return None
            line = f"{wanted}{comment}\n"
        body += [*(heads[one.was] if one.was else []), line if line.endswith("\n") else f"{line}\n"]
    return "".join([*lines[: block.first + 1], *body, *tail, *lines[end:]])


def _comment(line: str) -> str | None:
    """Return the comment behind a key, with the space before it; None where the line is no key by itself."""
    try:
        [item] = [item for key, item in tomlkit.parse(line).body if key is not None]
    except (TOMLKitError, ValueError):
        return None
    return f"{item.trivia.comment_ws}{item.trivia.comment}" if item.trivia.comment else ""


def _listed(text: str, payroll: str, columns: Sequence[PlacedColumn], before: Sequence[PayrollColumn]) -> str | None:
    """Return the text with tables `[[payroll.NAME.column]]` in order; None where they stand otherwise."""
    lines = LINES.findall(text)
    path = ("payroll", payroll, "column")
    every = list(blocks_of(lines))
    own = [one for one in every if one.path == path and one.is_listed]
    if not own or len(own) != len(before) or every.index(own[-1]) - every.index(own[0]) != len(own) - 1:
        return None
    begins = [_begin(lines, one) for one in own]
    end = block_end(lines, own[-1])
    chunks = [
        _Chunk(lines[first:last], block.first - first)
        for first, last, block in zip(begins, [*begins[1:], end], own, strict=True)
    ]
    made: list[str] = []
    for one in columns:
        if one.was is None:
            said = {name: value for name, value in _keys(one.column).items() if value is not None}
            chunk = [f"[[{'.'.join(map(key_in_toml, path))}]]\n", *(f"{key_line(*pair)}\n" for pair in said.items())]
        else:
            changed = _changed(chunks[one.was], before[one.was], one.column)
            if changed is None:
                return None
            chunk = changed
        made.append("".join(chunk).strip("\n") + "\n")
    return "".join([*lines[: begins[0]], "\n".join(made), *lines[end:]])


class _Chunk(NamedTuple):
    """The lines of one table with the comments above it, and which of them is its header."""

    lines: list[str]
    header: int


def _begin(lines: list[str], block: TomlBlock) -> int:
    """Return the first line of a table's own comments, which stand right above it."""
    first = block.first
    while first and lines[first - 1].lstrip().startswith("#"):
        first -= 1
    return first


def _keys(column: PayrollColumn) -> dict[str, str | None]:
    is_field = bool(column.field)
    return {
        "header": column.header or None,
        "field": column.field if is_field else None,
        "text": None if is_field else column.text,
    }


def _changed(chunk: _Chunk, before: PayrollColumn, after: PayrollColumn) -> list[str] | None:
    text = "".join(chunk.lines)
    was, now = _keys(before), _keys(after)
    for name in KEYS:
        if was[name] == now[name]:
            continue
        lines = LINES.findall(text)
        block = TomlBlock((), True, chunk.header, len(lines))
        made = within(lines, block, KeyChange((), name, now[name]), is_there=was[name] is not None)
        if made is None:
            return None
        text = made
    return LINES.findall(text)
