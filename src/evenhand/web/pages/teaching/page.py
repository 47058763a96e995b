"""Routes of Teaching: the round to practise on, as a page and as a file, and letting a phone in to it."""

from __future__ import annotations

from pathlib import Path

from fastapi import APIRouter, Request
from starlette.responses import FileResponse, JSONResponse, RedirectResponse, Response

from evenhand.jobs.added_turns import spoken_languages
from evenhand.jobs.at_turn import NAMES
from evenhand.jobs.practice import (
    drawings,
    keep_practice,
    practice_round,
    practice_steps,
    sent_along,
    take_practice_back,
)
from evenhand.jobs.teaching import see_work, supervisor_of, work_of
from evenhand.jobs.teaching_cover import see_cover
from evenhand.terms.languages import sentence, told
from evenhand.web.addresses import in_path
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, IncompleteForm, answer
from evenhand.web.invitations import check_reached, invitation, is_reached
from evenhand.web.listing import ListQuery, list_rows
from evenhand.web.pages.teaching import view
from evenhand.web.show import MenuEntry, show
from evenhand.web.speaking import language_at, language_at_desk

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Teaching", "/teaching", 26)
ROUTES = APIRouter()
HERE = Path(__file__).parent
NO_PHONE_PRACTISES = sentence(
    "no phone reaches these pages, since they are served to this machine alone; give the round as a file, or stop "
    "`evenhand serve` and start it with --host, --certificate and --key."
)
STATIC = HERE.parents[1] / "static"


@ROUTES.get("/teaching")
def teaching(request: Request, desk: AtDesk, page: int = 1) -> Response:
    """Show the round to practise on, who of the supervisors can, and where nobody is who can."""
    work, language = see_work(desk.reckoning), language_at_desk(request)
    # the desk's own order, which is by name
    listed = list_rows(work, ListQuery("/teaching", page=page), {"": lambda one: 0}, lambda one: one.who.name, "")
    return show(
        request,
        "pages/teaching/page.html",
        language=language,
        supervisors=[one.who for one in work],
        work=[view.work_shown(one, language) for one in listed.rows],
        list=listed,
        cover=[view.cover_shown(one) for one in see_cover(desk.reckoning)],
        rule=view.RULE,
        not_known=view.NOT_KNOWN,
        lets_phones_in=is_reached(request),
        others=[(code, called) for code, called in NAMES.items() if code != language],
        files={code: view.file_name(code) for code in NAMES},
    )


@ROUTES.get("/practice.html")
@ROUTES.get("/practice.{speak}.html")
def practice_file(request: Request, desk: AtDesk, speak: str = "en") -> Response:
    """Give the round to practise on as one file that needs nothing else, in one language.

    Its address is the file's name: without script its links lead to the other language's file beside it, here too.
    """
    whole = view.whole(
        style=[(STATIC / name).read_text(encoding="utf-8") for name in ("round.css", "practice.css")],
        script=[(STATIC / name).read_text(encoding="utf-8") for name in ("practice_play.js", "practice.js")],
    )
    page = _play(request, desk, speak, whole=whole)
    name = view.file_name(view.language_of(speak))
    page.headers["content-disposition"] = f'attachment; filename="{name}"'
    return page


@ROUTES.post("/teaching/phone")
def let_phone_in(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Show the one-time address that opens one supervisor's round to practise on to a phone, and nothing else."""
    check_reached(request, NO_PHONE_PRACTISES)
    who = supervisor_of(desk.reckoning, answer(answers, "person", sentence("say whose phone it is")))
    invited = invitation(request, f"/practice/{in_path(who.person)}")
    return show(request, "pages/teaching/phone.html", who=who, **invited)


@ROUTES.get("/teaching/{person:name}")
def one_supervisor(request: Request, desk: AtDesk, person: str) -> Response:
    """Show what one supervisor practised, and what became of their enrolments."""
    work, language = work_of(desk.reckoning, person), language_at_desk(request)
    return show(
        request,
        "pages/teaching/person.html",
        language=language,
        own=view.work_shown(work, language),
        rule=view.RULE,
        not_known=view.NOT_KNOWN,
    )


@ROUTES.get("/practice-worker.js")
def worker() -> Response:
    """Give the script that keeps the round at hand without a connection; it may act under /practice/ only."""
    return FileResponse(HERE / "worker.js", media_type="text/javascript")


@ROUTES.get("/practice")
def practise(request: Request, desk: AtDesk, speak: str = "") -> Response:
    """Show the round to practise on, for whoever tries it at the desk, in the language that is spoken there."""
    return _play(request, desk, speak or language_at_desk(request), back=view.Back("/teaching", title=told("Teaching")))


@ROUTES.get("/practice/{person:name}")
def practise_as(request: Request, desk: AtDesk, person: str, own: str = "") -> Response:
    """Show the round to practise on to one supervisor, on their phone, or what the desk has on their `own` work."""
    language = language_at(request, own=spoken_languages(desk.reckoning.snapshot).get(person, ""))
    if own:
        return show(
            request,
            "pages/teaching/own.html",
            language=language,
            own=view.work_shown(work_of(desk.reckoning, person), language),
            rule=view.RULE,
            not_known=view.NOT_KNOWN,
            person=person,
        )
    who = supervisor_of(desk.reckoning, person)
    return _play(
        request,
        desk,
        language,
        person=who.person,
        name=who.name,
        token=request.state.session.form_token,
        back=view.Back("?own=yes", word="record"),
    )


@ROUTES.post("/practice/{person:name}")
def take_result(desk: AtDesk, person: str, answers: Answers) -> Response:
    """Take in the result that a supervisor sends from their phone; the same one sent again changes nothing."""
    who = supervisor_of(desk.reckoning, person)
    code = answer(answers, "code", sentence("finish the round first"))
    kept = keep_practice(desk.workspace, who.person, code, way="phone", author=who.name, as_of=desk.now())
    return JSONResponse({"kept": kept.practice})


@ROUTES.post("/teaching/codes")
def key_code(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Keep the result that somebody read out or wrote down."""
    author = answer(answers, "author", sentence("say who keys the code"))
    person = answer(answers, "person", sentence("say who practised"))
    code = answer(answers, "code", sentence("key the code that the phone shows"))
    kept = keep_practice(desk.workspace, person, code, way="code", author=author, as_of=desk.now())
    request.state.session.author, request.state.session.notice = author, view.kept_in_words(kept)
    return RedirectResponse("/teaching", 303)


@ROUTES.post("/teaching/back")
def take_back(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Take back a practice that was kept under another's name."""
    author = answer(answers, "author", sentence("say who takes it back"))
    practice = answer(answers, "practice", sentence("say which practice"))
    if not (practice.isdecimal() and len(practice) < 12):
        raise IncompleteForm(told('"{written}" is no practice; nothing was changed.', written=practice))
    back = take_practice_back(desk.workspace, int(practice), author=author, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = told("Taken back: {name}'s practice of {day}.", name=back.name, day=back.day)
    return RedirectResponse("/teaching", 303)


def _play(
    request: Request,
    desk: Desk,
    speak: str,
    *,
    person: str = "",
    name: str = "",
    token: str = "",
    whole: view.Whole | None = None,
    back: view.Back | None = None,
) -> Response:
    language = view.language_of(speak)
    scenario = practice_round()
    pictures = view.pictures(drawings(), scenario, language)
    data = {
        "scenario": sent_along(scenario),
        "language": language,
        "person": person,
        "name": name,
        "token": token,
        "steps": practice_steps(desk.workspace),
    }
    return show(
        request,
        "pages/teaching/play.html",
        data=data,
        texts=view.texts(scenario, language, pictures),
        pictures=pictures,
        language=language,
        languages=NAMES,
        file_name=view.file_name,
        whole=whole,
        back=back,
    )
