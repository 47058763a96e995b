"""Route of Find: what was found, or straight the page of what alone can be meant."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.find import find
from evenhand.web.desk import AtDesk
from evenhand.web.pages.find import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Find", "/find", 99, is_listed=False)
ROUTES = APIRouter()


@ROUTES.get("/find")
def found(request: Request, desk: AtDesk, q: str = "") -> Response:
    """Show what was found, by kind; where one thing alone can be meant, go to its page."""
    searched = find(desk.reckoning, q)
    if searched.one is not None:
        return RedirectResponse(view.address_of(searched.one), 303)
    return show(request, "pages/find/page.html", shown=view.page(searched))
