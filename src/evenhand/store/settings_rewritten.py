"""Change single values in the text of a settings file: comments, order and layout stay as they are.

What comes out is read again before it is given back, and is refused where it says anything but what was asked for.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = [
    "LINES",
    "KeyChange",
    "TomlBlock",
    "block_end",
    "blocks_of",
    "dated_value_added",
    "key_in_toml",
    "key_line",
    "rewritten",
    "within",
]

LATER = "from"
BARE = re.compile(r"[A-Za-z0-9_-]+")
QUOTED = re.compile(r"\"(?:\\.|[^\"\\])*\"|'[^']*'")
LINES = re.compile(r"[^\n]*\n|[^\n]+")
"""The lines of a text, each with its end."""


@dataclass(frozen=True)
class KeyChange:
    """A key of a table, such as `("site", "Mill North")`, to be set, or to be taken out where `value` is None.

    With `since` it is set in the table of what changes from that day on, `[[site."Mill North".from]]`.
    """

    table: tuple[str, ...]
    key: str
    value: Any
    since: date | None = None

    @property
    def named(self) -> str:
        """Return what the key is called in a sentence."""
        since = f" from {self.since}" if self.since else ""
        return f"{self.key} of [{_header(self.table)}]{since}"


@dataclass(frozen=True)
class TomlBlock:
    """A table that has a header of its own: its path, whether it is one of a list, and its lines."""

    path: tuple[str, ...]
    is_listed: bool
    first: int
    end: int


def rewritten(text: str, changes: Iterable[KeyChange], path: Path) -> str:
    """Return the text of the file at `path` with the changes made, one after another.

    Raises Refusal where the text is not TOML, and where a change cannot be made without harm to what stands around it.
    """
    for change in changes:
        text = _rewritten(text, change, path)
    return text


def dated_value_added(
    text: str, name: str, about: Mapping[str, str], value: tuple[date, int | list[int], str], path: Path
) -> str:
    """Return the text of a file of numbers (`own_rules`) with a value of one more: its date, value and source.

    `about` are the keys of a number that the file does not hold yet. Raises Refusal where it has a value of that date.
    """
    content, (since, number, cites) = _read(text, path), value
    values = content.get(name, {}).get("values", [])
    if any(one.get("from") == since for one in values):
        raise Refusal(
            told(
                "{path}: {name} has a value from {since} already; change it in the text of the file.",
                path=path,
                name=name,
                since=str(since),
            )
        )
    expected = deepcopy(content)
    expected.setdefault(name, dict(about)).setdefault("values", []).append(
        {"from": since, "value": number, "cites": cites}
    )
    expected[name]["values"].sort(key=lambda one: one["from"])
    at = sum(one["from"] < since for one in values)
    lines = LINES.findall(text)
    own = [one for one in blocks_of(lines) if one.path == (name, "values") and one.is_listed]
    table = [one for one in blocks_of(lines) if one.path == (name,)]
    header = [
        f"[[{_header((name, 'values'))}]]",
        f"from = {since}",
        f"value = {_value(number)}",
        f"cites = {_value(cites)}",
    ]
    if not table:
        header = [f"[{key_in_toml(name)}]", *(f"{key} = {_value(said)}" for key, said in about.items()), "", *header]
    before = own[at - 1 : at] or table or list(blocks_of(lines))[-1:]
    made = (
        _added(lines, before[0], *header, apart=True) if before else "\n".join([*([text] if text else []), *header, ""])
    )
    if _says(made) != expected:
        raise Refusal(
            told(
                "{path}: {name} is written in a way that nothing can be added to; add it in the text of the file.",
                path=path,
                name=name,
            )
        )
    return made


def _rewritten(text: str, change: KeyChange, path: Path) -> str:
    content = _read(text, path)
    expected = _expected(content, change)
    if expected == content:
        return text
    for made in _ways(text, content, change):
        if made is not None and _says(made) == expected:
            return made
    raise Refusal(
        told(
            "{path}: {named} is written so that it cannot be changed here without harm to what "
            "stands around it; change it in the text of the file, on the page Settings.",
            path=path,
            named=change.named,
        )
    )


def _read(text: str, path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise Refusal(told("{path} is not valid TOML: {why}; correct that place.", path=path, why=fault)) from fault


def _says(text: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return None


def _expected(content: Mapping[str, Any], change: KeyChange) -> dict[str, Any]:
    """Return what the file is to say once the change is made."""
    after = deepcopy(dict(content))
    table: dict[str, Any] = after
    for name in change.table:
        if name not in table and change.value is None:
            return after
        table = table.setdefault(name, {})
    if change.since is not None:
        later = table.setdefault(LATER, [])
        at = _place(later, change.since)
        if at == len(later) or later[at].get("date") != change.since:
            later.insert(at, {"date": change.since})
        table = later[at]
    if change.value is None:
        table.pop(change.key, None)
    else:
        table[change.key] = change.value
    return after


def _place(later: list[dict[str, Any]], since: date) -> int:
    """Return the place among later tables of the one of a date, or that before which it belongs."""
    return next((at for at, one in enumerate(later) if one.get("date", since) >= since), len(later))


def _ways(text: str, content: Mapping[str, Any], change: KeyChange) -> Iterator[str | None]:
    """Yield the text as each way of writing the change leaves it, the one that moves least first."""
    table: Any = content
    for name in change.table:
        table = table.get(name, {}) if isinstance(table, dict) else {}
    lines = LINES.findall(text)
    blocks = list(blocks_of(lines))
    own = [one for one in blocks if one.path == change.table and not one.is_listed]
    if change.since is not None:
        at = _place(table.get(LATER, []), change.since)
        listed = [one for one in blocks if one.path == (*change.table, LATER) and one.is_listed]
        before, own = listed[at - 1 : at] if at else own, listed[at : at + 1]
        table = next((one for one in table.get(LATER, ()) if one.get("date") == change.since), None)
    if table and change.key in table:
        if change.value is None and isinstance(table[change.key], dict):
            yield from (_without(lines, one) for one in blocks if one.path == (*change.table, change.key))
        yield from (_within(lines, one, change) for one in own)
        yield _replaced(text, change.table, change)
    elif change.since is None or table:
        yield from _adding(text, lines, blocks, own, change, is_there=bool(table))
    else:
        header = [
            f"[[{_header((*change.table, LATER))}]]",
            f"date = {change.since}",
            key_line(change.key, change.value),
        ]
        yield from (_added(lines, one, *header, apart=True) for one in before)


def _adding(
    text: str, lines: list[str], blocks: list[TomlBlock], own: list[TomlBlock], change: KeyChange, *, is_there: bool
) -> Iterator[str | None]:
    """Yield the text with a key that is not there yet: in its table, or in one that is made beside its kin."""
    yield from (_added(lines, one, key_line(change.key, change.value)) for one in own)
    if is_there:
        yield _replaced(text, change.table, change)
    kin = [one for one in blocks if len(change.table) > 1 and one.path[: len(change.table) - 1] == change.table[:-1]]
    header = [f"[{_header(change.table)}]", key_line(change.key, change.value)]
    last = kin[-1:] or blocks[-1:]
    yield _added(lines, last[0], *header, apart=True) if last else "\n".join([*([text] if text else []), *header, ""])


def key_line(key: str, value: Any) -> str:
    """Return a key with its value, as they stand on a line of TOML."""
    return f"{key_in_toml(key)} = {_value(value)}"


def _replaced(text: str, path: tuple[str, ...], change: KeyChange) -> str | None:
    """Return the text with the value of a key of the table at `path` replaced, or taken out with its line."""
    try:
        document = tomlkit.parse(text)
        if tomlkit.dumps(document) != text:
            return None
        table: Any = document
        for name in path:
            table = table[name]
        if change.value is None:
            table.remove(change.key)
        elif (
            isinstance(change.value, list)
            and isinstance(table.get(change.key), list)
            and "\n" in _raw(table[change.key])
        ):
            before, gone = _comments(table[change.key]), set(table[change.key]) - set(change.value)
            _relist(table[change.key], change.value)
            if before - _comments(table[change.key]) > len(gone):
                return None
        else:
            table[change.key] = change.value
        return tomlkit.dumps(document)
    except (TOMLKitError, KeyError, TypeError, ValueError):
        return None  # written so that it cannot be found or changed; whoever asked is told


def _within(lines: list[str], block: TomlBlock, change: KeyChange) -> str | None:
    """Return the text with a key replaced in a table that has a header; nothing else is read or written anew."""
    body = _replaced("".join(lines[block.first + 1 : block.end]), (), change)
    return None if body is None else "".join([*lines[: block.first + 1], body, *lines[block.end :]])


def within(lines: list[str], block: TomlBlock, change: KeyChange, *, is_there: bool) -> str | None:
    """Return the text with a key of a table set or taken out; None where it stands so that it cannot be."""
    return _within(lines, block, change) if is_there else _added(lines, block, key_line(change.key, change.value))


def _raw(item: Any) -> str:
    return str(item.as_string())


def _comments(item: Any) -> int:
    return QUOTED.sub("", _raw(item)).count("#")


def _relist(array: Any, wanted: list[Any]) -> None:
    """Make a list that stands on several lines hold what is wanted, and keep the lines of what stays."""
    for one in [one for one in array if one not in wanted]:
        array.remove(one)
    for one in wanted:
        if one not in array:
            array.append(one)


def _added(lines: list[str], after: TomlBlock, *written: str, apart: bool = False) -> str:
    """Return the text with lines added behind the last one of a table that is neither empty nor a comment."""
    end = block_end(lines, after)
    before = lines[end - 1]
    ending = "\r\n" if before.endswith("\r\n") else "\n"
    indent = "" if apart or end == after.first + 1 else before[: len(before) - len(before.lstrip())]
    joined = [before if before.endswith("\n") else before + ending, *([ending] if apart else [])]
    return "".join([*lines[: end - 1], *joined, *(f"{indent}{line}{ending}" for line in written), *lines[end:]])


def block_end(lines: list[str], block: TomlBlock) -> int:
    """Return the line behind the last one that belongs to a table: what follows may belong to the next."""
    end = block.end
    while end > block.first + 1 and lines[end - 1].strip().partition("#")[0] == "":
        end -= 1
    about = next((at for at in range(end, len(lines)) if not lines[at].lstrip().startswith("#")), len(lines))
    is_its_own = about == len(lines) or not lines[about].strip()
    return about if is_its_own else end  # comments that follow at once, and stand before no other table


def _without(lines: list[str], block: TomlBlock) -> str:
    """Return the text without a table, its own comments and the empty line before it."""
    first = block.first - 1 if block.first and not lines[block.first - 1].strip() else block.first
    return "".join([*lines[:first], *lines[block_end(lines, block) :]])


def blocks_of(lines: list[str]) -> Iterator[TomlBlock]:
    """Yield the tables that have a header of their own, in their order."""
    headers = [(at, *found) for at, line in enumerate(lines) if (found := _header_of(line)) is not None]
    for (first, path, is_listed), (end, _, _) in pairwise([*headers, (len(lines), (), False)]):
        yield TomlBlock(path, is_listed, first, end)


def _header_of(line: str) -> tuple[tuple[str, ...], bool] | None:
    """Return the path that a line is the header of, and whether it is of a list; None where it is none."""
    if not line.lstrip().startswith("["):
        return None
    content: Any = _says(line.strip())
    path: list[str] = []
    while isinstance(content, dict) and len(content) == 1:
        ((name, content),) = content.items()
        path.append(name)
    if content == {}:
        return tuple(path), False
    return (tuple(path), True) if content == [{}] else None


def _header(table: tuple[str, ...]) -> str:
    return ".".join(map(key_in_toml, table))


def key_in_toml(name: str) -> str:
    """Return a key as it stands in TOML: in quotes where it must."""
    return name if BARE.fullmatch(name) else _value(name)


def _value(value: Any) -> str:
    return str(tomlkit.item(value).as_string())
