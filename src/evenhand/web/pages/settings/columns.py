"""Routes of payroll's columns: a table of rows that are added, taken out and moved, with what the file would hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any
from urllib.parse import urlencode

from fastapi import Request
from starlette.responses import Response

from evenhand.jobs.payroll_columns import (
    ColumnsAsked,
    begin_of_file,
    columns_now,
    fields_known,
    moved,
    nothing_there,
    with_columns,
)
from evenhand.jobs.settings_change import foresee_settings, read_file
from evenhand.store.columns_rewritten import PlacedColumn
from evenhand.terms.languages import said_of, told
from evenhand.terms.lines import as_line
from evenhand.terms.payroll import PayrollColumn
from evenhand.terms.records import Refusal
from evenhand.web.desk import AtDesk
from evenhand.web.forms import Answers, EveryAnswer, IncompleteForm
from evenhand.web.pages.settings import view
from evenhand.web.pages.settings.page import ROUTES, write_change
from evenhand.web.show import show

__all__ = ["ROUTES"]

ROW = ("was", "header", "field", "text")
MOST_ROWS = 200
MOVES = {"up": -1, "down": 1}


@ROUTES.get("/settings/columns")
def columns(request: Request, desk: AtDesk, payroll: str = "", do: str = "") -> Response:
    """Show payroll's columns as rows to be put in order, and what they would change."""
    file, path = read_file(desk.workspace), desk.workspace.settings_file
    now = columns_now(desk.reckoning, desk.today, file.text, payroll)
    given = {name: request.query_params.getlist(name) for name in ROW}
    problem, shown, begins = "", None, None
    asked = _asked(payroll, given) if do else now
    asked = _done(asked, do)
    if do == "look":
        try:
            after = with_columns(file, asked, path)
            shown = view.foreseen(foresee_settings(desk.workspace, file, after, desk.reckoning))
            begins = begin_of_file(desk.reckoning, desk.today, after, path, payroll)
        except Refusal as refusal:
            problem = said_of(refusal)
    return show(
        request,
        "pages/settings/columns.html",
        payroll=payroll,
        rows=[(place.was, place.column) for place in asked.rows],
        fields=fields_known(desk.reckoning, payroll),
        has_text=bool(payroll),
        problem=problem,
        shown=shown,
        begins=begins,
    )


@ROUTES.post("/settings/columns")
def write_columns(request: Request, desk: AtDesk, answers: Answers, every: EveryAnswer) -> Response:
    """Write the columns that were shown."""
    file, payroll = read_file(desk.workspace), answers.get("payroll", "")
    asked = _asked(payroll, every)
    after = with_columns(file, asked, desk.workspace.settings_file)
    again = urlencode([("payroll", payroll), ("do", "look"), *_fields(asked)])
    return write_change(request, desk, answers, file, after, f"/settings/columns?{again}", "/settings")


def _asked(payroll: str, given: Mapping[str, Sequence[str]]) -> ColumnsAsked:
    """Return the rows of a form; raises IncompleteForm where it does not hold each whole."""
    parts = [given.get(name, ()) for name in ROW]
    if len({len(part) for part in parts}) != 1 or len(parts[0]) > MOST_ROWS:
        raise IncompleteForm(told("the form does not hold its rows whole; open the page again. Nothing was changed."))
    return ColumnsAsked(payroll, tuple(_row(*row) for row in zip(*parts, strict=True)))


def _row(was: str, *said: str) -> PlacedColumn:
    header, field, text = (as_line(one) for one in said)
    return PlacedColumn(int(was) if was.isdecimal() and len(was) < 5 else None, PayrollColumn(header, field, text))


def _done(asked: ColumnsAsked, do: str) -> ColumnsAsked:
    """Return the rows after what was pressed: `up-2`, `down-2`, `out-2` or `add`."""
    what, _, place = do.partition("-")
    at = int(place) if place.isdecimal() and len(place) < 5 else -1
    rows: tuple[PlacedColumn, ...] = asked.rows
    if what in MOVES:
        rows = moved(rows, at, MOVES[what])
    elif what == "out":
        rows = tuple(row for place, row in enumerate(rows) if place != at)
    elif what == "add":
        rows = (*rows, nothing_there())
    return replace(asked, rows=rows)


def _fields(asked: ColumnsAsked) -> list[tuple[str, Any]]:
    return [
        pair
        for was, column in asked.rows
        for pair in zip(ROW, ("" if was is None else was, column.header, column.field, column.text), strict=True)
    ]
