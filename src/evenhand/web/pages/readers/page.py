"""Routes of Readers: all of them, one with its steps, and what to do before a supervisor leaves."""

from __future__ import annotations

from datetime import timedelta

from fastapi import APIRouter, Request
from starlette.responses import Response

from evenhand.jobs.overview import steps_at
from evenhand.jobs.reader_hub import reader_hub
from evenhand.jobs.succession import plan_succession
from evenhand.jobs.supervision import supervision_of
from evenhand.jobs.taking_off import steps_told
from evenhand.terms.csv_text import as_csv
from evenhand.terms.languages import told
from evenhand.terms.records import Unknown
from evenhand.web import hubs
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
    for seen in _seen(desk):
        if seen.standing.reader == reader:
            reckoning = desk.reckoning
            standing, hub = supervision_of(reckoning), reader_hub(reckoning, reader)
            steps = steps_told(reckoning, steps_at(desk.today, reader), speech_at_desk(request))
            shown = view.reader(desk.today, seen, standing, hub, reckoning.snapshot.names, asked, steps)
            zones_meet = desk.today.zones_meet
            return show(request, "pages/readers/reader.html", shown=shown, zone=desk.zone, zones_meet=zones_meet)
    raise Unknown(told('there is no reader "{reader}"; Readers lists them all.', reader=reader))


@ROUTES.get("/readers/{reader:name}/traffic.csv")
def traffic_of(desk: AtDesk, reader: str) -> Response:
    """Give away how many presentations there were on each day of a reader's picture, as CSV."""
    for seen in _seen(desk):
        if seen.standing.reader == reader:
            rows = [(seen.first_day + timedelta(days=at), count) for at, count in enumerate(seen.per_day)]
            given = {"content-disposition": 'attachment; filename="traffic.csv"'}
            content = as_csv(("day", "presentations"), rows)
            return Response(content, media_type="text/csv; charset=utf-8", headers=given)
    raise Unknown(told('there is no reader "{reader}"; Readers lists them all.', reader=reader))


@ROUTES.get("/succession/{person:name}")
def succession(request: Request, desk: AtDesk, person: str) -> Response:
    """Show what to do, reader by reader, before somebody stops being a supervisor; to be printed."""
    return show(request, "pages/readers/succession.html", made=plan_succession(desk.reckoning, person))
