"""How a sample file of a payroll differs from its import definition, column by column.

Nothing of the sample is kept or taken: it is held against what a file of ours would look like.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from evenhand.pay.payroll.asked import FileAsked
from evenhand.pay.payroll.fields import WHOSE, PayrollField
from evenhand.terms.csv_text import MARK
from evenhand.terms.languages import Sentence, sentence, told
from evenhand.terms.payroll import ImportDefinition, PayrollColumn

__all__ = ["SampleCheck", "check_sample"]

DELIMITERS = (",", ";", "\t", "|")
NAMES = {
    ",": told("comma"),
    ";": told("semicolon"),
    "\t": told("tab"),
    "|": told("bar"),
    "\r\n": "CR LF",
    "\n": "LF",
}
SHOWN = 4
NO_COLUMN, ONE_EACH = sentence("no such column"), sentence("one for each person")
PEOPLES = {
    "person": sentence("identifiers of people here"),
    "number": sentence("numbers of people here"),
    "name": sentence("names of people here"),
}
KINDS = (
    (sentence('hours:minutes: "{value}"'), r"-?\d+:[0-5]\d"),
    (sentence('whole numbers: "{value}"'), r"-?\d+"),
    (
        sentence('numbers with a decimal {mark} and {decimals} decimals: "{value}"'),
        r"-?\d+(?P<mark>[.,])(?P<decimals>\d+)",
    ),
    (sentence('numbers with thousands set apart: "{value}"'), r"-?\d{1,3}(?:[.,' ]\d{3})+(?:[.,]\d+)?"),
    (sentence('days such as {value}: "{value}"'), r"\d{1,4}[./-]\d{1,2}[./-]\d{1,4}|\d{8}"),
)


@dataclass(frozen=True)
class SampleCheck:
    """One thing that was compared: where (the file, or a column by its header), as asked for and as found."""

    place: str
    asked: str
    found: str
    differs: bool


def check_sample(content: bytes, asked: FileAsked, known: Collection[str] = ()) -> list[SampleCheck]:
    """Return what was compared, the file as a whole first and then each column in the definition's order.

    `known` are the identifiers, numbers and names of people here; whose row is whose is compared where any are given.
    """
    definition = asked.definition
    text, found = _decoded(content, definition)
    found += _line_ends(text, definition)
    delimiter = _delimiter(text, definition)
    found.append(
        _compared(
            told("delimiter"),
            NAMES.get(definition.delimiter, definition.delimiter),
            NAMES.get(delimiter, delimiter),
        )
    )
    rows = [row for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter) if any(row)]
    if not rows:
        return [*found, SampleCheck(told("rows"), told("at least one"), told("none"), differs=True)]
    places, checks, body = _places(rows, asked)
    found += checks
    for column, field, place in zip(definition.columns, asked.fields, places, strict=True):
        if place is not None:
            values = [row[place] for row in body if place < len(row) and row[place] != ""]
            found.append(_column(column, field, values, asked, known))
    return found + _whose(asked, places, body)


def _compared(place: str, asked: str, found: str) -> SampleCheck:
    return SampleCheck(place, asked, found, differs=asked != found)


def _decoded(content: bytes, definition: ImportDefinition) -> tuple[str, list[SampleCheck]]:
    """Return the sample's text, and whether it is in the definition's encoding, with or without the mark of UTF-8."""
    has_mark = content.startswith(MARK.encode())
    asked = _encoding(definition.encoding, has_mark=definition.has_mark)
    if content.startswith((b"\xff\xfe", b"\xfe\xff")) and not definition.encoding.lower().startswith("utf-16"):
        return content.decode("utf-16", "replace"), [SampleCheck(told("encoding"), asked, "utf-16", differs=True)]
    try:
        in_utf_8 = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        in_utf_8 = None
    try:
        text = content.decode(definition.encoding).removeprefix(MARK)
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        says = told("bytes that are not {encoding}, in line {line}", encoding=definition.encoding, line=line)
        text = in_utf_8 if in_utf_8 is not None else content.decode("latin-1")
        return text, [SampleCheck(told("encoding"), asked, says if in_utf_8 is None else "utf-8", differs=True)]
    if in_utf_8 is not None and not content.isascii() and in_utf_8 != text:
        text, seen = in_utf_8, _encoding("utf-8", has_mark=has_mark)
    else:
        seen = _encoding(definition.encoding, has_mark=has_mark)
    return text, [_compared(told("encoding"), asked, seen)]


def _encoding(name: str, *, has_mark: bool) -> str:
    return told("{encoding} with its mark", encoding=name) if has_mark else name


def _line_ends(text: str, definition: ImportDefinition) -> list[SampleCheck]:
    if "\n" not in text and "\r" not in text:
        return []
    crlf = text.count("\r\n")
    single = text.count("\n") - crlf
    found = told("CR LF and LF mixed") if crlf and single else NAMES["\r\n" if crlf else "\n"]
    return [_compared(told("line ends"), NAMES[definition.line_end], found)]


def _delimiter(text: str, definition: ImportDefinition) -> str:
    """Return the definition's delimiter where it cuts the sample into columns, else the one that cuts it most alike."""
    lines = text.splitlines()[:50]

    def fits(one: str) -> tuple[bool, int]:
        widths = {len(row) for row in csv.reader(lines, delimiter=one) if row}
        widest = max(widths, default=1)
        return len(widths) == 1 and widest > 1, -abs(widest - len(definition.columns))

    return max((definition.delimiter, *DELIMITERS), key=fits)


def _places(rows: list[list[str]], asked: FileAsked) -> tuple[list[int | None], list[SampleCheck], list[list[str]]]:
    """Return where each column of the definition stands in the sample, how headers and order compare, and the rows."""
    definition, first = asked.definition, [cell.strip() for cell in rows[0]]
    headers = [column.header for column in definition.columns]
    checks = []
    has_header = sum(header in first for header in headers if header) * 2 > len(headers) or _reads_as_header(
        rows, asked
    )
    checks.append(_compared(told("header"), _is_there(definition.has_header), _is_there(has_header)))
    body = rows[1:] if has_header else rows
    if not (has_header and definition.has_header):
        checks.append(_compared(told("columns"), str(len(headers)), str(len(first))))
        return [place if place < len(first) else None for place in range(len(headers))], checks, body
    places: list[int | None] = []
    left = list(range(len(first)))
    for place, header in enumerate(headers):
        found = next((at for at in left if first[at] == header), None)
        alike = next((at for at in left if first[at].casefold() == header.casefold()), None)
        at = alike if found is None else found
        places.append(at)
        if at is None:
            checks.append(SampleCheck(header, _column_at(place), told(NO_COLUMN), differs=True))
            continue
        left.remove(at)
        if first[at] != header:
            checks.append(SampleCheck(header, _headed(header), _headed(first[at]), differs=True))
        checks.append(_compared(header, _column_at(place), _column_at(at)))
    checks += [SampleCheck(first[at], told(NO_COLUMN), _column_at(at), differs=True) for at in left]
    return places, checks, body


def _column_at(place: int) -> Sentence:
    return told("column {number}", number=place + 1)


def _headed(header: str) -> Sentence:
    return told('header "{text}"', text=header)


def _is_there(has_header: bool) -> Sentence:
    return told("in the first row") if has_header else told("none")


def _reads_as_header(rows: Sequence[Sequence[str]], asked: FileAsked) -> bool:
    """Whether the first row has no figure where all others have one."""
    if len(rows) < 2:
        return asked.definition.has_header
    figures = [
        at for at in range(len(rows[0])) if all(at < len(row) and re.match(r"-?\d", row[at]) for row in rows[1:])
    ]
    return bool(figures) and not any(re.match(r"-?\d", rows[0][at]) for at in figures)


def _column(
    column: PayrollColumn, field: PayrollField | None, values: Sequence[str], asked: FileAsked, known: Collection[str]
) -> SampleCheck:
    """Return how the values of a column compare with what stands under it in our file."""
    name = column.header or column.field or column.text
    if not values:
        return SampleCheck(name, _says(column, field, asked), told("nothing but empty cells"), differs=False)
    if column.text:
        others = [one for one in dict.fromkeys(values) if one != column.text]
        return SampleCheck(
            name, f'"{column.text}"', _some(others) if others else f'"{column.text}"', differs=bool(others)
        )
    if column.field == "code":
        codes = dict(asked.codes)
        unknown = [one for one in dict.fromkeys(values) if one not in codes]
        found = told("unknown codes {codes}", codes=_some(unknown)) if unknown else told("known codes")
        return SampleCheck(name, told("codes {codes}", codes=_some(list(codes))), found, differs=bool(unknown))
    wanted = _pattern(column, field, asked)
    if wanted is None:
        if field is not None and field.name in WHOSE and known and not set(values) & set(known):
            return SampleCheck(
                name, told(PEOPLES[field.name]), told("nobody's here: {values}", values=_some(values)), differs=True
            )
        return SampleCheck(name, _says(column, field, asked), _some(values), differs=False)
    wrong = [one for one in values if not re.fullmatch(wanted, one.strip())]
    seen = _kind_of(wrong[0]) if wrong else _some(values)
    return SampleCheck(name, _says(column, field, asked), seen, differs=bool(wrong))


def _some(values: Sequence[str]) -> str:
    few = [f'"{one}"' for one in dict.fromkeys(values)]
    return ", ".join(few[:SHOWN]) + (" ..." if len(few) > SHOWN else "")


def _form(column: PayrollColumn, field: PayrollField | None, asked: FileAsked) -> str:
    """Return the form of a column's cells, `figure` where it follows from the code of each row."""
    if field is not None:
        return field.form
    forms = {one.form for _, one in asked.codes if column.field == "value" or one.is_money == (column.field == "pay")}
    return forms.pop() if len(forms) == 1 else "figure"


def _pattern(column: PayrollColumn, field: PayrollField | None, asked: FileAsked) -> str | None:
    definition = asked.definition
    mark = re.escape(definition.decimal_mark)
    figures = {
        "hours": rf"-?\d+{mark}\d{{{definition.decimals}}}",
        "hm": r"-?\d+:[0-5]\d",
        "minutes": r"-?\d+",
        "seconds": r"-?\d+",
        "money": rf"-?\d+{mark}\d\d",
        "figure": rf"-?\d+(?:{mark}\d+)?",
    }
    form = _form(column, field, asked)
    if form == "day":
        pattern = re.escape(definition.day).replace("YYYY", r"\d{4}").replace("YY", r"\d\d")
        return pattern.replace("MM", "(?:0[1-9]|1[0-2])").replace("DD", "(?:0[1-9]|[12][0-9]|3[01])")
    return figures.get(form)


def _says(column: PayrollColumn, field: PayrollField | None, asked: FileAsked) -> str:
    definition, mark = asked.definition, _mark(asked.definition.decimal_mark)
    forms: dict[str, str] = {
        "hours": told("hours with a decimal {mark} and {decimals} decimals", mark=mark, decimals=definition.decimals),
        "hm": told("hours:minutes"),
        "minutes": told("whole minutes"),
        "seconds": told("whole seconds"),
        "money": told("money with a decimal {mark} and 2 decimals", mark=mark),
        "day": told("days as {form}", form=definition.day),
    }
    form = _form(column, field, asked)
    return forms.get(form, column.field if field is None else field.name)


def _mark(mark: str) -> Sentence:
    return told("point") if mark == "." else told("comma")


def _kind_of(value: str) -> str:
    for says, pattern in KINDS:
        if seen := re.fullmatch(pattern, value.strip()):
            parts = seen.groupdict()
            mark, decimals = _mark(parts.get("mark") or "."), len(parts.get("decimals") or "")
            return told(says, value=value, mark=mark, decimals=decimals)
    return told('text: "{value}"', value=value)


def _whose(asked: FileAsked, places: Sequence[int | None], body: Sequence[Sequence[str]]) -> list[SampleCheck]:
    """Return whether the sample has as many rows for a person as our file would."""
    if asked.by_code or asked.by_week:
        return []
    for field, place in zip(asked.fields, places, strict=True):
        if field is not None and field.name in WHOSE and place is not None:
            values = [row[place] for row in body if place < len(row)]
            several = len(set(values)) < len(values)
            return [
                _compared(told("rows"), told(ONE_EACH), told("several for one person") if several else told(ONE_EACH))
            ]
    return []
