"""Routes of Consent: how everybody stands, a version's text, its sheets, one person, and recording what is said."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.campaign import campaign_of
from evenhand.jobs.consent import record_consents
from evenhand.jobs.consent_foreseen import NUMBER_ALONE, preview_consent
from evenhand.jobs.consent_listing import SAID_IN_WORDS, laws_shown, person_consent
from evenhand.jobs.consent_sheets import print_consent_sheets, sheet_of, sheets_asked
from evenhand.jobs.consent_versions import policy_of
from evenhand.jobs.consents import states_now
from evenhand.terms.languages import sentence
from evenhand.web.desk import AtDesk
from evenhand.web.forms import Answers, answer, way_back
from evenhand.web.listing import ListQuery
from evenhand.web.pages.consent import adding, view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Consent", "/consent", 32)
ROUTES = APIRouter()


@ROUTES.get("/consent")
def consent(
    request: Request,
    desk: AtDesk,
    q: str = "",
    sort: str = "",
    order: str = "",
    page: int = 1,
    kind: str = "",
) -> Response:
    """Show how everybody stands, the policy's versions, and how far asking for the last one has come."""
    reckoning, wanted = desk.reckoning, view.kind_asked(kind)
    kept = (("kind", wanted),) if wanted else ()
    asked = ListQuery("/consent", q.strip(), sort, order == "down", page, kept)
    shown = view.page(reckoning, asked, wanted)
    return show(
        request,
        "pages/consent/page.html",
        shown=shown,
        kinds=view.STANDS_CALLED,
        laws=laws_shown(reckoning.snapshot, reckoning.day),
        today=reckoning.day,
    )


ROUTES.get("/consent/new-policy")(adding.form)
ROUTES.post("/consent/new-policy")(adding.add)


@ROUTES.get("/consent/policies/{number}")
def policy(request: Request, desk: AtDesk, number: int) -> Response:
    """Show a version's text in each of its languages."""
    reckoning = desk.reckoning
    version = policy_of(reckoning.snapshot, number)
    campaign = campaign_of(reckoning.snapshot, version, reckoning.day, states_now(reckoning))
    return show(request, "pages/consent/policy.html", version=version, campaign=campaign, zone=desk.zone)


@ROUTES.get("/consent/policies/{number}/sheets.pdf")
def sheets(
    request: Request, desk: AtDesk, number: int, site: str | None = None, person: str = "", speak: str = ""
) -> Response:
    """Give the sheets of those still to be asked, or of one person, as PDF."""
    reckoning = desk.reckoning
    version = policy_of(reckoning.snapshot, number)
    campaign = campaign_of(reckoning.snapshot, version, reckoning.day, states_now(reckoning))
    rows = sheets_asked(campaign, people=[person] if person else [], site=site)
    pdf = print_consent_sheets(reckoning.snapshot, campaign, rows, language=speak)
    return Response(pdf, media_type="application/pdf")


@ROUTES.get("/consent/look")
def look(request: Request, desk: AtDesk) -> Response:
    """Show what would be recorded and what follows, before anything is; who records it, and why, is said there.

    The address holds what was said: whoever comes back to it, after a refusal too, finds it as it was.
    """
    answers, snapshot = request.query_params, desk.reckoning.snapshot
    foreseen = [preview_consent(snapshot, one, as_of=desk.now()) for one in view.read(answers, snapshot)]
    return show(
        request,
        "pages/consent/confirm.html",
        foreseen=foreseen,
        said=SAID_IN_WORDS,
        answers={name: answers[name] for name in view.KEPT_ANSWERS if answers.get(name)},
        last_seen=view.last_decision(snapshot),
    )


@ROUTES.post("/consent/record")
def record(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Record what was looked at, unless something else was recorded of the same people meanwhile."""
    author = answer(answers, "author", sentence("say who records it"))
    snapshot = desk.reckoning.snapshot
    asked = view.read(answers, snapshot, author)
    made = record_consents(desk.workspace, snapshot, asked, as_of=desk.now(), last_seen=view.last_seen(answers))
    request.state.session.author, request.state.session.notice = author, view.said(made)
    return RedirectResponse(way_back(answers, "/consent"), 303)


@ROUTES.get("/consent/people/{person:name}")
def person(request: Request, desk: AtDesk, person: str) -> Response:
    """Show how one person stands, all that is known of it, and what can be recorded."""
    reckoning = desk.reckoning
    seen = person_consent(reckoning.snapshot, person, reckoning.day)
    return show(
        request,
        "pages/consent/person.html",
        seen=seen,
        zone=desk.zone,
        today=reckoning.day,
        number_alone=NUMBER_ALONE,
        version=sheet_of(reckoning.snapshot, seen.person, reckoning.day),
        kinds=view.STANDS_CALLED,
    )
