"""The cells of an XLSX sheet that hold a spreadsheet error, which the library that reads the others leaves empty.

Source: ECMA-376 part 1, 18.3.1.4 (a cell of type `e` holds an error), 18.2.19 and 12.2 (a sheet's part in the package).
"""

from __future__ import annotations

import re
from html import unescape
from io import BytesIO
from posixpath import join, normpath
from zipfile import BadZipFile, ZipFile

__all__ = ["find_errors"]

WORKBOOK, RELATIONS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
ATTRIBUTE = re.compile(r'([\w:]+)="([^"]*)"')
CELL = re.compile(r"<(?:\w+:)?c\b([^>]*?)(?:/>|>(.*?)</(?:\w+:)?c>)", re.DOTALL)
FILLED = re.compile(r"<(?:\w+:)?(?:v>[^<]|is\b)")
PLACE = re.compile(r"([A-Z]+)([0-9]+)")


def find_errors(content: bytes, sheet: str) -> list[tuple[int, int]] | None:
    """Return row and column, from 0, of each error on a sheet, the first where it is ''; columns from its first filled.

    None where the workbook is not XLSX, so that an error cannot be told from an empty cell.
    """
    try:
        with ZipFile(BytesIO(content)) as package:
            parts = {each["id"]: each["Target"] for each in _elements(_text(package, RELATIONS), "Relationship")}
            sheets = {each["name"]: parts[each["id"]] for each in _elements(_text(package, WORKBOOK), "sheet")}
            target = sheets[sheet or next(iter(sheets))]
            text = _text(package, normpath(join("/xl", target)).lstrip("/"))
    except (BadZipFile, KeyError, StopIteration, UnicodeDecodeError):
        return None
    return _errors(text) if 't="e"' in text else []


def _errors(text: str) -> list[tuple[int, int]]:
    filled: list[int] = []
    errors: list[tuple[int, int]] = []
    for attributes, inside in CELL.findall(text):
        said = dict(ATTRIBUTE.findall(attributes))
        place = PLACE.fullmatch(said.get("r", ""))
        if place and FILLED.search(inside):
            column = 0
            for letter in place[1]:
                column = column * 26 + ord(letter) - ord("A") + 1
            filled.append(column)
            if said.get("t") == "e":
                errors.append((int(place[2]) - 1, column))
    return [(row, column - min(filled)) for row, column in errors]


def _elements(text: str, tag: str) -> list[dict[str, str]]:
    """Return the attributes of each element without their prefixes; a relation is called `id` in both parts."""
    found = re.findall(rf"<(?:\w+:)?{tag}\b([^>]*)>", text)
    return [
        {name.rpartition(":")[2].replace("Id", "id"): unescape(value) for name, value in ATTRIBUTE.findall(each)}
        for each in found
    ]


def _text(package: ZipFile, part: str) -> str:
    return package.read(part).decode("utf-8-sig")
