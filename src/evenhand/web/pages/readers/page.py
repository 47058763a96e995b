"""Routes of Readers: all of them, one with its steps, and what to do before a supervisor leaves."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from evenhand.jobs.overview import steps_at
from evenhand.jobs.reader_hub import reader_hub
from evenhand.jobs.succession import plan_succession
from evenhand.jobs.supervision import supervision_of
from evenhand.jobs.taking_off import steps_told
from evenhand.terms.languages import told
from evenhand.terms.records import Unknown
from evenhand.web import hubs
from evenhand.web.csv_file import csv_file
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.listing import ListQuery
from evenhand.web.pages.readers import view
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import speech_at_desk

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Readers", "/readers", 22)
ROUTES = APIRouter()


def _seen(desk: Desk) -> list[view.ReaderLine]:
    today = desk.today
    return desk.reckoning.part(("traffic", today.has_charts), lambda: view.readers(today, desk.readers()))


def _line(desk: Desk, reader: str) -> view.ReaderLine:
    found = next((one for one in _seen(desk) if one.standing.reader == reader), None)
    if found is None:
        raise Unknown(told('there is no reader "{reader}"; Readers lists them all.', reader=reader))
    return found


@ROUTES.get("/readers")
def readers(request: Request, desk: AtDesk) -> Response:
    """Show every reader."""
    return show(request, "pages/readers/page.html", readers=_seen(desk), as_of=int(desk.today.as_of.timestamp()))


@ROUTES.get("/readers/{reader:name}")
def reader(
    request: Request, desk: AtDesk, reader: str, q: str = "", sort: str = "", order: str = "", page: int = 1
) -> Response:
    """Show everything about one reader; its steps, first of all, are printed and carried there."""
    asked = ListQuery(hubs.reader(reader), q.strip(), sort, order == "down", page)
    seen, reckoning = _line(desk, reader), desk.reckoning
    standing, hub = supervision_of(reckoning), reader_hub(reckoning, reader)
    steps = steps_told(reckoning, steps_at(desk.today, reader), speech_at_desk(request))
    shown = view.reader(desk.today, seen, standing, hub, reckoning.snapshot.names, asked, steps)
    return show(request, "pages/readers/reader.html", shown=shown, zone=desk.zone)


@ROUTES.get("/readers/{reader:name}/traffic.csv")
def traffic_of(desk: AtDesk, reader: str) -> Response:
    """Give away how many presentations there were on each day of a reader's picture, as CSV."""
    return csv_file("traffic", view.traffic(_line(desk, reader)))


@ROUTES.get("/succession/{person:name}")
def succession(request: Request, desk: AtDesk, person: str) -> Response:
    """Show what to do, reader by reader, before somebody stops being a supervisor; to be printed."""
    return show(request, "pages/readers/succession.html", made=plan_succession(desk.reckoning, person))
