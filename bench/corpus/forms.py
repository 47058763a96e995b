"""The lines of a file as bytes, and on which line of the file each of them begins."""

from __future__ import annotations

import io
import json
import random
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

import xlsxwriter
from bench.corpus.spoiling import Line
from bench.corpus.writing import Cell, Field

__all__ = ["Form", "fits", "render"]


@dataclass(frozen=True)
class Form:
    """How a file is put into bytes.

    `kind` is delimited, fixed, sheet, JSON lines or JSON array. `quoting` is least, all, or words (texts only).
    """

    kind: str
    delimiter: str = ","
    quoting: str = "least"
    encoding: str = "utf-8"
    line_end: str = "\n"
    gap: int = 2
    sheets: str = "one"
    indent: bool = False
    right_aligned: bool = True


def render(form: Form, lines: Sequence[Line], fields: Sequence[Field], rng: random.Random) -> tuple[bytes, list[int]]:
    """Return the file, and for each line the number, from 1, at which it stands."""
    if form.kind == "sheet":
        return _sheet(form, lines, rng)
    if form.kind.startswith("JSON"):
        return _json(form, lines, fields)
    texts = _fixed(form, lines, fields) if form.kind == "fixed" else [_delimited(form, line) for line in lines]
    numbers, at = [], 1
    for text in texts:
        numbers.append(at)
        at += 1 + text.count("\n")
    whole = form.line_end.join(text.replace("\n", form.line_end) for text in texts) + form.line_end
    return _encoded(whole, form.encoding), numbers


def _encoded(text: str, encoding: str) -> bytes:
    marks = {
        "utf-8 with mark": ("utf-8-sig", ""),
        "utf-16 le": ("utf-16-le", "\ufeff"),
        "utf-16 be": ("utf-16-be", "\ufeff"),
    }
    codec, mark = marks.get(encoding, (encoding, ""))
    return (mark + text).encode(codec)


def fits(text: str, encoding: str) -> bool:
    """Return whether the encoding has all characters of the text."""
    try:
        _encoded(text, encoding)
    except UnicodeEncodeError:
        return False
    return True


def _text(cell: Cell) -> str:
    return "" if cell is None else str(cell)


def _delimited(form: Form, line: Line) -> str:
    cells = [_text(cell) for cell in line.cells]
    if line.kind == "above" and len(cells) == 1 and form.quoting != "all" and form.delimiter not in cells[0]:
        return cells[0]
    return form.delimiter.join(_quoted(form, cell) for cell in cells)


def _quoted(form: Form, cell: str) -> str:
    needs = any(mark in cell for mark in (form.delimiter, '"', "\n", "\r"))
    if form.quoting == "none":
        return cell.replace(form.delimiter, " ").replace("\n", " ").replace('"', "'")
    if form.quoting == "all" or needs or (form.quoting == "words" and cell and not cell.replace(".", "").isdigit()):
        return '"' + cell.replace('"', '""') + '"'
    return cell


def _fixed(form: Form, lines: Sequence[Line], fields: Sequence[Field]) -> list[str]:
    rows = [[_text(cell).replace("\n", " ") for cell in line.cells] for line in lines]
    tables = {"header", "good", "bad"}
    widths = [
        max(
            (len(row[at]) for row, line in zip(rows, lines, strict=True) if line.kind in tables and at < len(row)),
            default=1,
        )
        for at in range(len(fields))
    ]
    texts = []
    for row, line in zip(rows, lines, strict=True):
        if line.kind not in tables:
            texts.append((" " * form.gap).join(row).rstrip())
            continue
        placed = [
            cell.rjust(width) if one.right and form.right_aligned else cell.ljust(width)
            for cell, width, one in zip(row, widths, fields, strict=False)
        ]
        texts.append((" " * form.gap).join(placed).rstrip())
    return texts


def _json(form: Form, lines: Sequence[Line], fields: Sequence[Field]) -> tuple[bytes, list[int]]:
    names = [one.header for one in fields]
    objects = [dict(zip(names, line.cells, strict=False)) for line in lines]
    if form.kind == "JSON lines":
        text = "".join(json.dumps(one, ensure_ascii=False) + "\n" for one in objects)
    else:
        text = json.dumps(objects, ensure_ascii=False, indent=2 if form.indent else None)
    return text.encode("utf-8"), list(range(1, len(lines) + 1))


def _sheet(form: Form, lines: Sequence[Line], rng: random.Random) -> tuple[bytes, list[int]]:
    held = io.BytesIO()
    book = xlsxwriter.Workbook(held, {"in_memory": True})
    book.set_properties({"created": datetime(2026, 1, 1)})
    formats = {
        datetime: book.add_format(
            {"num_format": rng.choice(("yyyy-mm-dd hh:mm:ss", "dd/mm/yyyy hh:mm", "m/d/yy h:mm"))}
        ),
        date: book.add_format({"num_format": rng.choice(("yyyy-mm-dd", "dd.mm.yyyy", "m/d/yyyy"))}),
        time: book.add_format({"num_format": "hh:mm:ss"}),
    }
    if form.sheets == "cover first":
        book.add_worksheet("Info").write_string(0, 0, "Printed for the works council")
    sheet = book.add_worksheet("Data")
    for row, line in enumerate(lines):
        for column, cell in enumerate(line.cells):
            if cell is None or cell == "":
                continue
            if isinstance(cell, bool):
                sheet.write_boolean(row, column, cell)
            elif isinstance(cell, str):
                sheet.write_string(row, column, cell)
            elif type(cell) in formats:
                sheet.write_datetime(row, column, cell, formats[type(cell)])
            else:
                sheet.write_number(row, column, cell)
    if form.sheets == "notes after":
        book.add_worksheet("Notes").write_string(0, 0, "Numbers as of the first of the month")
    book.close()
    return held.getvalue(), list(range(1, len(lines) + 1))
