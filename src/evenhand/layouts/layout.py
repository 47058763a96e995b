"""One kind of file as a person confirmed it, kept as a small readable TOML file."""

from __future__ import annotations

import codecs
import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any, Literal

from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.fields import cell_parser
from evenhand.terms.columns import Column
from evenhand.terms.languages import in_a_row, of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES
from evenhand.terms.words import as_toml
from evenhand.terms.zones import is_zone

__all__ = ["Form", "Layout", "Source"]

Form = Literal["delimited", "fixed", "sheet", "json_lines"]

# A column of the file: its header word, or its position from 1.
Source = str | int

FORMS = ("delimited", "fixed", "sheet", "json_lines")
MOST = 999_999  # lines, columns and positions that a file may have
ORDERS = ("", "dmy", "mdy", "ymd")


@dataclass(frozen=True)
class Layout:
    """How the files of one kind are read.

    `columns` maps each declared column to one source column, or to several that are joined (a date and a time).
    `header` is the line that holds the header words, 0 where there is none; `width` is the number of columns of a
    file without header. `starts` are the positions, from 1, at which the fields of a fixed-width line begin.
    `date_order` empty means: decide from the whole column. `zone` is the IANA zone in which its times are written,
    where that is not the reader's or the site's. `number_width` None means: nobody has said yet whether numbers lost
    their zeros; 0 means that they did not. `ignored` are source columns that a person said are none of the table's.
    `words` says what a file's own words stand for. `last_year` is the last that a year of two digits may be where the
    date cannot lie in the future, 0 where the file has no such year that could be one of two. `roster` says of a list
    of people whether it is the "whole" roster, which whoever it leaves out is on no longer, or a "part"; '' if nobody
    has said.
    """

    table: str
    form: Form
    columns: Mapping[str, tuple[Source, ...]]
    encoding: str = ""
    delimiter: str = ""
    header: int = 0
    width: int = 0
    starts: tuple[int, ...] = ()
    sheet: str = ""
    date_order: str = ""
    decimal: str = "."
    reader: str = ""
    zone: str = ""
    number_width: int | None = None
    last_year: int = 0
    roster: str = ""
    ignored: tuple[Source, ...] = ()
    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    @property
    def origin(self) -> str:
        """Return a name for the files whose columns are called so and used so; '' where no header names them."""
        if not self.header:
            return ""
        return "; ".join(f"{name}: {sources}" for name, sources in sorted(self.columns.items()))

    def to_toml(self) -> str:
        """Return the layout as TOML; keys that say nothing are left out."""
        lines = ["# How files of this kind are read. Every key is explained in docs/files.md."]
        for key in fields(self):
            value = getattr(self, key.name)
            if key.name in ("columns", "words") or value in (key.default, ()):
                continue
            lines.append(f"{key.name} = {as_toml(value)}")
        lines += ["", "[columns]"]
        for name, sources in self.columns.items():
            lines.append(f"{name} = {as_toml(sources[0] if len(sources) == 1 else sources)}")
        for column, meanings in self.words.items():
            lines += ["", f"[words.{column}]"]
            lines += [f"{as_toml(seen)} = {as_toml(meant)}" for seen, meant in meanings.items()]
        return "\n".join(lines) + "\n"

    @classmethod
    def from_toml(cls, text: str, name: str) -> Layout:
        """Return the layout that `text` holds; raises Refusal naming the file `name`, the key and the reason."""
        try:
            found = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            raise Refusal(
                of_file(name, told("not a readable TOML file ({error}); correct that place.", error=error))
            ) from error
        for key in found:
            if key not in CHECKS:
                raise Refusal(
                    of_file(name, told("key '{key}' is unknown; the keys are {keys}.", key=key, keys=", ".join(CHECKS)))
                )
        for key in ("table", "form", "columns"):
            if key not in found:
                raise Refusal(of_file(name, told("key '{key}' is missing; add it.", key=key)))
        for key, value in found.items():
            if (wanted := CHECKS[key](value)) is not None:
                raise Refusal(
                    of_file(
                        name,
                        told(
                            "key '{key}' is {seen}, but must be {wanted}; correct it.",
                            key=key,
                            seen=_shown(value),
                            wanted=wanted,
                        ),
                    )
                )
        layout = cls(
            **{
                **found,
                "columns": {c: tuple(s) if isinstance(s, list) else (s,) for c, s in found["columns"].items()},
                "starts": tuple(found.get("starts", ())),
                "ignored": tuple(found.get("ignored", ())),
            }
        )
        _check_whole(layout, name)
        return layout


def _check_whole(layout: Layout, name: str) -> None:
    """Raise Refusal where keys that are right alone do not go together."""
    table = SOURCES[layout.table]
    for key, named in (("columns", layout.columns), ("words", layout.words)):
        for column in named:
            if column not in table.names:
                raise Refusal(
                    of_file(
                        name,
                        told(
                            "key '{key}.{column}' is no column of {table}; they are {names}.",
                            key=key,
                            column=column,
                            table=layout.table,
                            names=", ".join(table.names),
                        ),
                    )
                )
    for column, meanings in layout.words.items():
        for seen, meant in meanings.items():
            if (wanted := _unmeant(table.column(column), meant)) is not None:
                raise Refusal(
                    of_file(
                        name,
                        told(
                            "key 'words.{column}' says that {seen} is {meant}, but it must be {wanted}; correct it.",
                            column=column,
                            seen=_shown(seen),
                            meant=_shown(meant),
                            wanted=wanted,
                        ),
                    )
                )
    if layout.form == "delimited" and not layout.delimiter:
        raise Refusal(of_file(name, told("key 'delimiter' is missing; a delimited file needs it.")))
    if layout.form == "fixed" and not layout.starts:
        raise Refusal(
            of_file(name, told("key 'starts' is missing; a fixed-width file needs the first position of each field."))
        )
    named_by_word = [s for sources in layout.columns.values() for s in sources if isinstance(s, str)]
    if named_by_word and not layout.header and layout.form != "json_lines":
        raise Refusal(
            of_file(
                name,
                told(
                    "key 'columns' names the header {header}, but 'header' says that there is none; give the "
                    "header's line or name the columns by position.",
                    header=_shown(named_by_word[0]),
                ),
            )
        )


def _unmeant(column: Column, meant: str) -> str | None:
    """Return what a word of a column may stand for, None where it may stand for this."""
    if not meant or not (column.allowed or column.kind == "yes_no"):
        return None
    try:
        cell_parser(column)(meant)
    except Unfit:
        return in_a_row("{one} or {other}", [f'"{one}"' for one in column.allowed or ("yes", "no")])
    return None


def _shown(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, default=str)[:60]


def _one_of(*allowed: str) -> Any:
    return lambda value: (
        None if value in allowed else told("one of {allowed}", allowed=", ".join(f'"{a}"' for a in allowed if a))
    )


def _text(value: Any) -> str | None:
    return None if isinstance(value, str) else told("a text in quotes")


def _count(value: Any) -> str | None:
    return None if _is_count(value) else told("a whole number from 0 to {most}", most=MOST)


def _is_count(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= MOST


def _delimiter(value: Any) -> str | None:
    fits = isinstance(value, str) and len(value) == 1 and value not in '"\n\r\0'
    return None if fits else told("one character, such as ; or \\t")


def _encoding(value: Any) -> str | None:
    try:
        return (
            None
            if isinstance(value, str) and codecs.lookup(value)._is_text_encoding
            else told("the name of an encoding")
        )
    except (LookupError, ValueError):
        return told("the name of an encoding, such as utf-8 or windows-1252")


def _starts(value: Any) -> str | None:
    fits = isinstance(value, list) and value and all(_is_count(v) and v > 0 for v in value)
    rises = fits and sorted(set(value)) == value
    return None if rises else told("a list of rising positions from 1 to {most}, such as [1, 9, 30]", most=MOST)


def _zone(value: Any) -> str | None:
    return (
        None if isinstance(value, str) and is_zone(value) else told("the name of a time zone, such as America/Chicago")
    )


def _ignored(value: Any) -> str | None:
    fits = isinstance(value, list) and all((isinstance(s, str) and s) or (_is_count(s) and s > 0) for s in value)
    return None if fits else told("a list of headers in quotes or positions from 1")


def _columns(value: Any) -> str | None:
    fits = isinstance(value, dict) and all(
        sources and all((isinstance(s, str) and s) or (_is_count(s) and s > 0) for s in sources)
        for sources in (s if isinstance(s, list) else [s] for s in value.values())
    )
    return None if fits else told("a table of columns, each a header in quotes, a position from 1, or a list of them")


def _words(value: Any) -> str | None:
    fits = isinstance(value, dict) and all(
        isinstance(meanings, dict) and all(isinstance(meant, str) for meant in meanings.values())
        for meanings in value.values()
    )
    return None if fits else told('a table such as [words.direction] with lines like "E" = "in"')


CHECKS: dict[str, Any] = {
    "table": _one_of(*SOURCES),
    "form": _one_of(*FORMS),
    "columns": _columns,
    "encoding": _encoding,
    "delimiter": _delimiter,
    "header": _count,
    "width": _count,
    "starts": _starts,
    "sheet": _text,
    "date_order": _one_of(*ORDERS),
    "decimal": _one_of(".", ","),
    "reader": _text,
    "zone": _zone,
    "last_year": lambda value: None if _is_count(value) and value <= 2100 else told("a year, such as 2026"),
    "roster": _one_of("", "whole", "part"),
    "number_width": lambda value: None if _is_count(value) and value <= 32 else told("a whole number from 0 to 32"),
    "ignored": _ignored,
    "words": _words,
}
