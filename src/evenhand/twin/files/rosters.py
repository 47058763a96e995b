"""The three sites' rosters: a semicolon file in Windows-1252, a comma file in UTF-8, a workbook."""

from __future__ import annotations

import io
from datetime import datetime, time

import xlsxwriter

from evenhand.twin.files.written import delimited, in_order
from evenhand.twin.readers import SITES
from evenhand.twin.workplace import Workplace

__all__ = ["rosters"]

_COLUMNS = ("person", "name", "number", "site", "department", "is_supervisor", "hired_on", "left_on")
_MORE = ("phone", "address", "hourly_rate")
_HEADER = (
    "Personnel number", "Employee name", "Badge number", "Site", "Department", "Supervisor", "Hired on", "Left on",
    "Phone", "Address", "Hourly rate",
)  # fmt: skip


def rosters(workplace: Workplace) -> dict[str, bytes]:
    """Return one roster a site."""
    first, second, third = (name for name, _ in SITES)
    return {
        f"roster_{first.lower()}.csv": _text(workplace, first, "dots", ";").encode("cp1252"),
        f"roster_{second.lower()}.csv": _text(workplace, second, "us", ",").encode("utf-8"),
        f"roster_{third.lower()}.xlsx": _workbook(workplace, third),
    }


def _text(workplace: Workplace, site: str, order: str, delimiter: str) -> str:
    rows = []
    for row in workplace.people.rows(named=True):
        if row["site"] == site:
            values = [row[name] for name in _COLUMNS[:5]]
            dates = [in_order(row["hired_on"], order), in_order(row["left_on"], order)]
            rate = f"{row['hourly_rate']:.2f}"
            rows.append([*values, "yes" if row["is_supervisor"] else "no", *dates, row["phone"], row["address"], rate])
    return delimited(_HEADER, rows, delimiter)


def _workbook(workplace: Workplace, site: str) -> bytes:
    # a number typed into a cell that is not text loses its leading zeros: these cells hold numbers
    lost = set(workplace.truth.mistakes.filter(workplace.truth.mistakes["kind"] == "roster_zeros")["person"].to_list())
    into = io.BytesIO()
    with xlsxwriter.Workbook(into, {"in_memory": True}) as book:
        # the workbook's own date is fixed, so that the same workplace gives the same bytes
        book.set_properties({"created": datetime.combine(workplace.first, time())})
        sheet = book.add_worksheet("Roster")
        as_date = book.add_format({"num_format": "yyyy-mm-dd"})
        sheet.write_row(0, 0, _HEADER)
        here = workplace.people.filter(workplace.people["site"] == site)
        for at, row in enumerate(here.rows(named=True), start=1):
            for column, name in enumerate((*_COLUMNS, *_MORE)):
                value = row[name]
                if value is None:
                    continue
                if name in {"hired_on", "left_on"}:
                    sheet.write_datetime(at, column, value, as_date)
                elif name == "number" and row["person"] in lost:
                    sheet.write_number(at, column, int(value))
                elif name == "hourly_rate":
                    sheet.write_number(at, column, float(value))
                else:
                    sheet.write_string(at, column, ("yes" if value else "no") if name == "is_supervisor" else value)
    return into.getvalue()
