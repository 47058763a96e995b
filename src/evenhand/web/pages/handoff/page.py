"""Routes of Hand-off: what blocks it, writing the files, and taking them away."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import FileResponse, RedirectResponse, Response

from evenhand.jobs.handoff import hand_off
from evenhand.terms.records import Unknown
from evenhand.web.desk import AtDesk
from evenhand.web.forms import Answers, answer
from evenhand.web.pages.handoff import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Hand-off", "/hand-off", 8)
ROUTES = APIRouter()


@ROUTES.get("/hand-off")
def show_handoff(request: Request, desk: AtDesk) -> Response:
    """Show what keeps the period from payroll and what was handed off before."""
    return show(request, "pages/handoff/page.html", shown=view.view(desk.today, desk.reckoning.snapshot.handoffs))


@ROUTES.post("/hand-off")
def write(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Write the files for payroll; despite open findings only where the form says so."""
    author = answer(answers, "author", "say who hands the period off")
    made = hand_off(
        desk.workspace, desk.reckoning, as_of=desk.now(), despite=answers.get("despite") == "yes", author=author
    )
    request.state.session.author = author
    *files, note = [path.name for path in made.paths]
    request.state.session.notice = f"Written: {', '.join(files)} and {note}."
    return RedirectResponse("/hand-off", 303)


@ROUTES.get("/hand-off/{number:int}/{form}")
def download(desk: AtDesk, number: int, form: str) -> Response:
    """Give one written file away; only files that the store knows, under the names it knows."""
    for before in view.handed_off(desk.reckoning.snapshot.handoffs):
        if before.number == number and before.is_latest and form in view.MEDIA_TYPES:
            path = desk.workspace.handoff / (before.row["file"].removesuffix(".csv") + form)
            if path.is_file():
                return FileResponse(path, media_type=view.MEDIA_TYPES[form], filename=path.name)
    raise Unknown("this file is no longer in the workspace's handoff folder; write it again.")
