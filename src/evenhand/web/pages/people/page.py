"""Routes of People: the roster, one person, one number."""

from __future__ import annotations

from datetime import timedelta

from fastapi import APIRouter, Request
from starlette.responses import Response

from evenhand.jobs.access import access_report
from evenhand.jobs.access_printed import as_json, as_pdf
from evenhand.jobs.number_hub import number_hub
from evenhand.jobs.person_hub import person_hub
from evenhand.web.desk import AtDesk
from evenhand.web.listing import ListQuery
from evenhand.web.pages.people import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("People", "/people", 21)
ROUTES = APIRouter()


@ROUTES.get("/people")
def people(request: Request, desk: AtDesk, q: str = "", sort: str = "", order: str = "", page: int = 1) -> Response:
    """Show the roster."""
    asked = ListQuery("/people", q.strip(), sort, order == "down", page)
    shown = view.roster(desk.today, desk.people(), asked)
    return show(request, "pages/people/page.html", shown=shown)


@ROUTES.get("/people/{person:name}/held.pdf")
def held_to_read(desk: AtDesk, person: str) -> Response:
    """Give away everything held on a person, as PDF in the language they read the policy in."""
    report = access_report(desk.workspace, person, as_of=desk.now())
    return Response(as_pdf(report), media_type="application/pdf", headers=_attached("held.pdf"))


@ROUTES.get("/people/{person:name}/held.json")
def held_for_a_machine(desk: AtDesk, person: str) -> Response:
    """Give away everything held on a person, as JSON."""
    report = access_report(desk.workspace, person, as_of=desk.now(), language="en")
    return Response(as_json(report), media_type="application/json", headers=_attached("held.json"))


def _attached(name: str) -> dict[str, str]:
    return {"content-disposition": f'attachment; filename="{name}"'}


@ROUTES.get("/people/{person:name}")
def person(request: Request, desk: AtDesk, person: str) -> Response:
    """Show everything about one person."""
    today = desk.today
    reckoning = desk.reckoning
    who = reckoning.snapshot.find_person(person)
    last = today.period.last
    first = today.period.first - timedelta(weeks=view.WEEKS_BEFORE)
    hours = reckoning.person_hours(str(who["person"])).between(first, last)
    rules, hub = reckoning.snapshot.rules_of(who["site"]), person_hub(reckoning, today, who)
    shown = view.person(today, who, hours, rules, hub, reckoning.snapshot.names)
    return show(request, "pages/people/person.html", shown=shown, zone=desk.zone)


@ROUTES.get("/numbers/{number:name}")
def number(request: Request, desk: AtDesk, number: str) -> Response:
    """Show everything about a number, whoever held it."""
    shown = number_hub(desk.reckoning, desk.today, number)
    return show(request, "pages/people/number.html", shown=shown, zone=desk.zone)
