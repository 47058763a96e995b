"""Routes of Today: the findings, and settling one."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.today import settle
from evenhand.web.desk import AtDesk
from evenhand.web.forms import Answers, answer, way_back
from evenhand.web.pages.today import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Today", "/", 1)
ROUTES = APIRouter()


@ROUTES.get("/")
def today(request: Request, desk: AtDesk, show_only: str = "", kind: str = "", reader: str = "") -> Response:
    """Show what needs a person; at most one of the three parameters narrows it."""
    shown = view.view(desk.today, view.FindingFilter(show_only == "pay", kind, reader))
    return show(request, "pages/today/page.html", shown=shown)


@ROUTES.post("/settle")
def settle_finding(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Put a finding aside for good, with who decided and why."""
    author = answer(answers, "author", "say who settles the finding")
    reason = answer(answers, "reason", "say why the finding may stand")
    key = answer(answers, "key", "no finding was named")
    finding = settle(desk.workspace, desk.reckoning, key, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = f"Settled by {author}: {finding.says}"
    return RedirectResponse(way_back(answers, "/"), 303)
