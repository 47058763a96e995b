"""The route of Rounding."""

from __future__ import annotations

from datetime import timedelta
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from evenhand.jobs.rounding import MOST_WEEKS, audit_between
from evenhand.web.desk import AtDesk
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
    today = desk.today
    first = today.period.last - timedelta(days=7 * weeks - 1)
    edge = timedelta(days=7)
    reckoning = desk.reckoning_over(first - edge, today.period.last + edge)
    audit = audit_between(reckoning, first, today.period.last)
    asked = ListQuery("/rounding", q.strip(), page=page, kept=(("weeks", str(weeks)),))
    shown = view.view(audit, today.people, weeks, asked, speech_at_desk(request))
    return show(request, "pages/rounding/page.html", shown=shown)
