"""What a settings file says of each payroll: its import definition, in a table `[payroll.NAME]`."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from typing import Any

from evenhand.store.sections import Section
from evenhand.terms.languages import in_a_row, told
from evenhand.terms.payroll import ImportDefinition, PayrollColumn
from evenhand.terms.words import as_toml

__all__ = ["payroll_lines", "read_payrolls"]

KEYS = (
    "sites",
    "header",
    "delimiter",
    "decimal_mark",
    "decimals",
    "day",
    "encoding",
    "mark",
    "line_end",
    "column",
    "codes",
)
DELIMITERS = {"tab": "\t"}
LINE_ENDS = {"crlf": "\r\n", "lf": "\n"}
DAY_PARTS = ("MM", "DD")
MOST_DECIMALS = 4


def read_payrolls(payroll: Section) -> tuple[ImportDefinition, ...]:
    """Return the import definitions under `[payroll]`; every site belongs to one of them at most."""
    found = tuple(_definition(name, payroll) for name in payroll.content)
    taken: dict[str, str] = {}
    for one in found:
        for site in one.sites or ("",):
            if site in taken:
                what = told("the site {site}", site=site) if site else told("whoever no other names")
                seen = told("{what}, whom payroll {other} is told of already", what=what, other=taken[site])
                payroll.refuse(one.name, told("sites of its own, so that nobody is paid twice"), seen=seen)
            taken[site] = one.name
    return found


def _definition(name: str, payroll: Section) -> ImportDefinition:
    if not re.fullmatch(r"[a-z0-9][a-z0-9_-]{0,39}", name):
        payroll.refuse(
            name, told("a name of small letters, figures, - and _, since files are called by it"), seen=repr(name)
        )
    section = payroll.section(name, KEYS)
    given: dict[str, Any] = {}
    if "sites" in section:
        given["sites"] = section.texts("sites")
    for key, place in (("header", "has_header"), ("mark", "has_mark")):
        if key in section:
            given[place] = section.value(key, told("true or false"), lambda seen: isinstance(seen, bool))
    if "delimiter" in section:
        seen = section.value("delimiter", told('one character, such as ";", or "tab"'), _is_delimiter)
        given["delimiter"] = DELIMITERS.get(seen, seen)
    if "decimal_mark" in section:
        given["decimal_mark"] = section.value(
            "decimal_mark", in_a_row("{one} or {other}", ('"."', '","')), lambda seen: seen in (".", ",")
        )
    if "decimals" in section:
        expected = told("a whole number from 2 to {most}, for hours", most=MOST_DECIMALS)
        given["decimals"] = section.value("decimals", expected, lambda seen: seen in range(2, MOST_DECIMALS + 1))
    if "day" in section:
        expected = told("YYYY or YY, MM and DD once each with marks between, such as DD.MM.YYYY")
        given["day"] = section.value("day", expected, _is_day)
    if "encoding" in section:
        expected = told("the name of an encoding, such as utf-8 or windows-1252")
        given["encoding"] = section.value("encoding", expected, _is_encoding)
    if given.get("has_mark") and codecs.lookup(given.get("encoding", "utf-8")).name != "utf-8":
        section.refuse("mark", told("false, since only a file in utf-8 begins with such a mark"))
    if "line_end" in section:
        ends = section.value(
            "line_end",
            in_a_row("{one} or {other}", ('"crlf"', '"lf"')),
            lambda seen: isinstance(seen, str) and seen in LINE_ENDS,
        )
        given["line_end"] = LINE_ENDS[ends]
    columns = tuple(_column(one) for one in section.sections("column", ("header", "field", "text")))
    if not columns:
        section.refuse("column", told("at least one table [[payroll.{name}.column]]", name=name))
    codes = section.section("codes", section.content.get("codes", {}))
    return ImportDefinition(
        name=name,
        where=f"evenhand.toml [payroll.{name}]",
        columns=columns,
        codes=tuple((field, codes.text(field)) for field in codes.content),
        **{"has_mark": False, **given},
    )


def _column(section: Section) -> PayrollColumn:
    if ("field" in section) == ("text" in section):
        section.refuse("field", told("a field, or a text that stands in every row; one of the two"))
    header = (
        section.value("header", told("text in quotes"), lambda seen: isinstance(seen, str))
        if "header" in section
        else ""
    )
    is_text = "text" in section
    text = section.value("text", told("text in quotes"), lambda seen: isinstance(seen, str)) if is_text else ""
    return PayrollColumn(header, "" if is_text else section.text("field"), text)


def _is_delimiter(seen: object) -> bool:
    if not isinstance(seen, str):
        return False
    return seen in DELIMITERS or (len(seen) == 1 and not seen.isalnum() and seen not in "\"'.-+:\r\n\0")


def _is_day(seen: object) -> bool:
    if not isinstance(seen, str):
        return False
    years = seen.replace("YYYY", "y", 1) if "YYYY" in seen else seen.replace("YY", "y", 1)
    left = re.sub("[^A-Za-z0-9]", "", years)
    return sorted((left.count("y"), left.count("MM"), left.count("DD"))) == [1, 1, 1] and len(left) == len("yMMDD")


def _is_encoding(seen: object) -> bool:
    try:
        return isinstance(seen, str) and bool(codecs.lookup(seen)._is_text_encoding)
    except LookupError:
        return False


def payroll_lines(definition: ImportDefinition) -> Iterator[str]:
    """Yield the lines of a settings file that say a definition."""
    plain = ImportDefinition(has_mark=False)
    yield ""
    yield f"[payroll.{definition.name}]  # one payroll's import definition, explained in docs/hand-off.md"
    if definition.sites:
        yield f"sites = {as_toml(list(definition.sites))}"
    delimiter = {written: name for name, written in DELIMITERS.items()}.get(definition.delimiter, definition.delimiter)
    line_end = {written: name for name, written in LINE_ENDS.items()}[definition.line_end]
    written = (
        ("header", definition.has_header, plain.has_header),
        ("delimiter", delimiter, plain.delimiter),
        ("decimal_mark", definition.decimal_mark, plain.decimal_mark),
        ("decimals", definition.decimals, plain.decimals),
        ("day", definition.day, plain.day),
        ("encoding", definition.encoding, plain.encoding),
        ("mark", definition.has_mark, plain.has_mark),
        ("line_end", line_end, "crlf"),
    )
    for key, value, default in written:
        if value != default:
            yield f"{key} = {str(value).lower() if isinstance(value, bool) else as_toml(value)}"
    if definition.codes:
        yield ""
        yield f"[payroll.{definition.name}.codes]  # what is owed = payroll's code for it"
        for field, code in definition.codes:
            yield f"{as_toml(field)} = {as_toml(code)}"
    for column in definition.columns:
        yield ""
        yield f"[[payroll.{definition.name}.column]]"
        yield f"header = {as_toml(column.header)}"
        yield f"field = {as_toml(column.field)}" if column.field else f"text = {as_toml(column.text)}"
