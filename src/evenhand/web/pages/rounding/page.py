"""The route of Rounding."""

from __future__ import annotations

from datetime import timedelta
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from evenhand.jobs.rounding import MOST_WEEKS, Audit, audit_between
from evenhand.web.csv_file import csv_file
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.listing import ListQuery
from evenhand.web.pages.rounding import view
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import speech_at_desk

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Rounding", "/rounding", 35)
ROUTES = APIRouter()


@ROUTES.get("/rounding")
def rounding(
    request: Request,
    desk: AtDesk,
    weeks: Annotated[int, Query(ge=1, le=MOST_WEEKS)] = 26,
    q: str = "",
    page: int = 1,
) -> Response:
    """Show what rounding did in the weeks up to the end of the period payroll waits for."""
    audit = _audit(desk, weeks)
    asked = ListQuery("/rounding", q.strip(), page=page, kept=(("weeks", str(weeks)),))
    shown = view.view(audit, desk.today.people, weeks, asked, speech_at_desk(request))
    return show(request, "pages/rounding/page.html", shown=shown)


@ROUTES.get("/rounding/figures.csv")
def figures(desk: AtDesk, weeks: Annotated[int, Query(ge=1, le=MOST_WEEKS)] = 26) -> Response:
    """Give away what rounding did to each site, department and person, as CSV."""
    return csv_file("rounding", _audit(desk, weeks).rows)


def _audit(desk: Desk, weeks: int) -> Audit:
    period, edge = desk.today.period, timedelta(days=7)
    first = period.last - timedelta(days=7 * weeks - 1)
    return audit_between(desk.reckoning_over(first - edge, period.last + edge), first, period.last)
