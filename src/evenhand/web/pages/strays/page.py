"""Routes of Strays: the list, one stray, and deciding about it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.stray_decisions import (
    confirm_above,
    confirm_stray,
    least_threshold,
    plain_threshold,
    preview_confirmation,
    reaching,
    reject_candidate,
    take_back_rejection,
    undo_stray,
)
from evenhand.jobs.stray_proposals import Strays
from evenhand.jobs.strays import find_strays, proposal_of
from evenhand.terms.languages import in_a_row, sentence, told
from evenhand.web.addresses import in_path
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.doorkeeper import Undo
from evenhand.web.effects import by_standing
from evenhand.web.forms import Answers, IncompleteForm, answer, way_back
from evenhand.web.pages.strays import view
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import speech_at_desk

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Strays", "/strays", 13)
ROUTES = APIRouter()


def _found(desk: Desk) -> Strays:
    return find_strays(desk.reckoning)


@ROUTES.get("/strays")
def strays(request: Request, desk: AtDesk) -> Response:
    """Show the strays, most minutes of pay first."""
    found = _found(desk)
    return show(
        request,
        "pages/strays/page.html",
        shown=view.listed(found),
        percent=view.percent,
        zone=desk.zone,
        least=least_threshold(found),
        plain=plain_threshold(found),
    )


@ROUTES.get("/strays/above")
def preview_all(request: Request, desk: AtDesk, at: Annotated[float | None, Query(ge=0, le=1)] = None) -> Response:
    """Show what would be confirmed at a threshold, before anybody confirms it; what is plain where none is given."""
    found = _found(desk)
    at = plain_threshold(found) if at is None else at
    sure = reaching(found, at)
    return show(request, "pages/strays/above.html", sure=sure, at=at, percent=view.percent)


@ROUTES.post("/strays/above")
def confirm_all(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Confirm everything that reaches the threshold."""
    author = answer(answers, "author", sentence("say who confirms"))
    reason = answer(answers, "reason", sentence("say why"))
    try:
        threshold = float(answer(answers, "at", sentence("give the threshold")))
    except ValueError as fault:
        raise IncompleteForm(
            told('"{written}" is no threshold; nothing was changed.', written=answers.get("at"))
        ) from fault
    done = confirm_above(desk.workspace, desk.reckoning, threshold, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        "{count:# stray|# strays} confirmed by {author}.", count=len(done), author=author
    )
    return RedirectResponse("/strays", 303)


@ROUTES.get("/strays/{stray:name}/confirm")
def preview(request: Request, desk: AtDesk, stray: str, person: str, back: str = "") -> Response:
    """Show what confirming would do, before anybody confirms it; `back` is the page to come back to."""
    confirmation = preview_confirmation(desk.reckoning, stray, person)
    still_open, handed_off = by_standing(confirmation.periods)
    return show(
        request,
        "pages/strays/confirm.html",
        confirmation=confirmation,
        reason=view.reason_proposed(_found(desk), stray, confirmation.person),
        stray=stray,
        percent=view.percent,
        still_open=still_open,
        handed_off=handed_off,
        zone=desk.zone,
        asked_from=way_back({"back": back}, ""),
    )


@ROUTES.post("/strays/{stray:name}/confirm")
def confirm(request: Request, desk: AtDesk, stray: str, answers: Answers) -> Response:
    """Give the stray's punches to a person."""
    author = answer(answers, "author", sentence("say who confirms"))
    reason = answer(answers, "reason", sentence("say why"))
    person = answer(answers, "person", sentence("say whose punches they are"))
    said = {"author": author, "reason": reason}
    meant = answers.get("same_times") == "meant"
    done = confirm_stray(desk.workspace, desk.reckoning, stray, person, **said, as_of=desk.now(), same_times=meant)
    request.state.session.author = author
    request.state.session.notice = told(
        "{count:# punch|# punches} of {stray} given to {name} by {author}. To do now: {steps}",
        count=len(done.punches),
        stray=stray,
        name=done.name,
        author=author,
        steps=in_a_row("{one} {other}", done.steps),
    )
    back = way_back(answers, "/strays")
    session = request.state.session
    session.undo = Undo(session.notice, f"/strays/{in_path(stray)}/undo", (("back", back),))
    return RedirectResponse(back, 303)


@ROUTES.post("/strays/{stray:name}/reject")
def reject(request: Request, desk: AtDesk, stray: str, answers: Answers) -> Response:
    """Say that the stray is not a person's."""
    author = answer(answers, "author", sentence("say who rejects"))
    reason = answer(answers, "reason", sentence("say why"))
    person = answer(answers, "person", sentence("say whose punches they are not"))
    reject_candidate(desk.workspace, desk.reckoning, stray, person, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        "{stray} is not of {person}, says {author}.", stray=stray, person=person, author=author
    )
    return RedirectResponse(f"/strays/{in_path(stray)}", 303)


@ROUTES.post("/strays/{stray:name}/propose")
def propose_again(request: Request, desk: AtDesk, stray: str, answers: Answers) -> Response:
    """Let a person who was ruled out be proposed again."""
    author = answer(answers, "author", sentence("say who takes it back"))
    reason = answer(answers, "reason", sentence("say why"))
    person = answer(answers, "person", sentence("say who may be proposed again"))
    take_back_rejection(desk.workspace, desk.reckoning, stray, person, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        "{person} may be proposed for {stray} again, says {author}.", person=person, stray=stray, author=author
    )
    return RedirectResponse(f"/strays/{in_path(stray)}", 303)


@ROUTES.post("/strays/{stray:name}/undo")
def undo(request: Request, desk: AtDesk, stray: str, answers: Answers) -> Response:
    """Return the stray's punches to nobody."""
    author = answer(answers, "author", sentence("say who undoes it"))
    reason = answer(answers, "reason", sentence("say why"))
    punches = undo_stray(desk.workspace, desk.reckoning, stray, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told(
        "{count:# punch|# punches} of {stray} returned by {author}.", count=len(punches), stray=stray, author=author
    )
    return RedirectResponse(way_back(answers, "/strays"), 303)


@ROUTES.get("/strays/{stray:name}")
def stray(request: Request, desk: AtDesk, stray: str, back: str = "") -> Response:
    """Show one stray with every part of the evidence; `back` is the page that what is decided comes back to."""
    found = _found(desk)
    return show(
        request,
        "pages/strays/stray.html",
        shown=view.shown(
            found, proposal_of(found, stray), desk.reckoning.snapshot.rejected_attributions, speech_at_desk(request)
        ),
        percent=view.percent,
        zone=desk.zone,
        asked_from=way_back({"back": back}, ""),
    )
