"""Routes of Files: the list, putting files on, looking at one, and what was taken, to be taken back or read again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from fastapi import APIRouter, Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response

from evenhand.jobs import folder_state, waiting
from evenhand.jobs.day_seen import proved_by_take
from evenhand.jobs.freshness import find_freshness
from evenhand.jobs.numbering import NUMBERS_FILE
from evenhand.jobs.ready import look_at_waiting, take_first, take_ready
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.take import Answers as AnswersSaid
from evenhand.jobs.take import Seen, look_at
from evenhand.jobs.takes import list_takes
from evenhand.jobs.waiting import KEPT_S, LARGEST, find_waiting, list_waiting, path_of, receive, take_waiting
from evenhand.terms.characters import escaped
from evenhand.terms.languages import Sentence, in_a_row, of_file, said_of, sentence, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.doorkeeper import Leads, Session
from evenhand.web.forms import Answers, IncompleteForm, SentFiles, answer
from evenhand.web.listing import ListQuery
from evenhand.web.pages.files import deciding, proposal_view, view
from evenhand.web.pages.files.answering import CHANGED, address_of, read_answers
from evenhand.web.show import MenuEntry, show
from evenhand.web.words import clipped

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Files", "/files", 31)
ROUTES = APIRouter()


@ROUTES.get("/files")
def files(request: Request, desk: AtDesk, q: str = "", sort: str = "", order: str = "", page: int = 1) -> Response:
    """Show what waits, how fresh the readers' punches are, and what was taken."""
    workspace, reckoning = desk.workspace, desk.reckoning
    shown = view.view(
        list_takes(workspace),
        list_waiting(workspace),
        folder_state.look(workspace),
        reckoning.part("freshness", lambda: find_freshness(reckoning)),
        int(reckoning.as_of.timestamp()),
        ListQuery("/files", q.strip(), sort or "taken", order == "down" or not sort, page),
    )
    return show(
        request,
        "pages/files/page.html",
        shown=shown,
        zone=desk.zone,
        largest=LARGEST,
        days=KEPT_S // 86_400,
        sized=view.sized,
        stands=view.stands,
    )


@ROUTES.post("/files")
def drop(request: Request, desk: AtDesk, sent: SentFiles) -> Response:
    """Keep the files that were put on until somebody has looked at them; those that cannot be kept are named."""
    if not sent:
        raise IncompleteForm(told("no file was chosen; nothing was changed."))
    kept, refused, renamed = [], [], []
    for one in sent:
        try:
            kept.append(receive(desk.workspace, one.filename or "", one.file))
            if kept[-1].file != one.filename:
                name = clipped(escaped(one.filename), 60) if one.filename else told("A file without a name")
                renamed.append(told("{name} is kept as {file}.", name=name, file=kept[-1].file))
        except Refusal as refusal:
            refused.append(said_of(refusal))
    if not kept:
        raise IncompleteForm(in_a_row("{one} {other}", refused))
    several = told("{count:# file|# files} to be looked at; nothing of them is taken yet.", count=len(kept))
    said = [several] if len(kept) > 1 else []
    request.state.session.notice = in_a_row("{one} {other}", (*said, *renamed, *refused))
    to = "/files/waiting" if len(kept) > 1 else f"/files/waiting/{kept[0].key}"
    # The page's script sends the form itself, to show how far it is, and opens what it is told.
    is_followed = request.headers.get("accept") != "text/plain"
    return RedirectResponse(to, 303) if is_followed else PlainTextResponse(to)


@ROUTES.get("/files/waiting")
def ready(request: Request, desk: AtDesk) -> Response:
    """Show which of the files that were put on are ready as they stand, and why others are not."""
    found, more = look_at_waiting(desk.workspace)
    return show(
        request,
        "pages/files/ready.html",
        lines=[proposal_view.ready_line(one) for one in found],
        ready=sum(not one.why for one in found),
        more=more,
        plain=proposal_view.plain,
        sized=view.sized,
    )


@ROUTES.post("/files/waiting")
def take_those_ready(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Take the files that were marked, each if it is what was shown and is ready still."""
    shown = {name.removeprefix("take-"): digest for name, digest in answers.items() if name.startswith("take-")}
    if not shown:
        raise IncompleteForm(told("no file was marked; nothing was taken."))
    receipts, left = take_ready(
        desk.workspace,
        list(shown),
        lambda key, seen: proposal_view.digest_of_ready(seen) == shown[key],
        author=_who_takes(request, answers),
    )
    taken = told("{count:# file|# files} taken.", count=len(receipts))
    said = [
        told("{file}: {taken:,} taken, {known:,} known already.", file=one.file, taken=one.taken, known=one.known)
        for one in receipts
    ]
    notices = [of_file(one.file, notice) for one in receipts for notice in one.notices]
    proved = _proved(desk, [one.take for one in receipts])
    request.state.session.notice = in_a_row("{one} {other}", [taken, *said, *notices, *proved, *left])
    _lead_to_proof(request.state.session, proved)
    return RedirectResponse("/files/waiting" if list_waiting(desk.workspace) and left else "/files", 303)


@ROUTES.get("/files/waiting/{file}")
def look(request: Request, desk: AtDesk, file: str) -> Response:
    """Show one file as it would be read and what taking it would change."""
    one = find_waiting(desk.workspace, file)
    said, problem, shown = read_answers(request.query_params), "", None
    if one.file.startswith(NUMBERS_FILE) and not said.roster:
        said = replace(said, roster="part")
    try:
        _, path = path_of(desk.workspace, file)
        shown = proposal_view.view(look_at(desk.workspace, path, said), said, desk.reckoning.snapshot.readers)
    except Unknown:
        raise
    except Refusal as refusal:
        problem = said_of(refusal)
    # the list reads it as it would be after others that wait: by itself it may lose rows, or be asked about, for that
    loses = shown is not None and (shown.asked or shown.seen.refused)
    first = take_first(desk.workspace, file) if loses and not one.is_watched else ()
    # Why it waits is what the page says itself, unless nothing is open and nobody has answered anything yet.
    is_first = shown is not None and not shown.asked and said == AnswersSaid()
    return show(
        request,
        "pages/files/look.html",
        one=one,
        why=one.why if is_first else "",
        shown=shown,
        first=first,
        problem=problem,
        said=said,
        back=f"/files/waiting/{one.key}",
        tables=proposal_view.tables(said),
        plain=proposal_view.plain,
        sized=view.sized,
        zone=desk.zone,
    )


@ROUTES.post("/files/waiting/{file}")
def take(request: Request, desk: AtDesk, file: str, answers: Answers) -> Response:
    """Look again by what was answered, or take the file, if it is what was shown."""
    said, session = read_answers(answers), request.state.session
    here = address_of(f"/files/waiting/{file}", said)
    if answers.get("do") != "take":
        return RedirectResponse(here, 303)

    def is_as_seen(seen: Seen) -> bool:
        return proposal_view.digest_of(seen) == answers.get("seen")

    try:
        receipt = take_waiting(desk.workspace, file, said, is_as_seen, _who_takes(request, answers))
    except NotAsSeen:
        session.notice = CHANGED
        return RedirectResponse(here, 303)
    left = len(list_waiting(desk.workspace))
    says = told(
        "{file}: {read:# row|# rows} read, {taken:,} taken, {known:,} known already, {rejected:,} rejected.",
        file=receipt.file,
        read=receipt.read,
        taken=receipt.taken,
        known=receipt.known,
        rejected=receipt.rejected,
    )
    wait = told("{count:# file still waits|# files still wait} on Files.", count=left)
    proved = _proved(desk, [receipt.take])
    session.notice = in_a_row("{one} {other}", (says, *receipt.notices, *proved, *([wait] if left else [])))
    _lead_to_proof(session, proved)
    return RedirectResponse(f"/files/takes/{receipt.take}" if receipt.take else "/files", 303)


def _proved(desk: Desk, takes: Sequence[int]) -> list[Sentence]:
    """Return the sentence that tells whose enrolment the punches of files prove; none where they prove nobody's."""
    found = [one for take in takes if take for one in proved_by_take(desk.reckoning, take)]
    if not found:
        return []
    names = [told("{who} at {reader}", who=name, reader=reader) for name, reader in dict.fromkeys(found)]
    return [told("{count:# enrolment|# enrolments} proved: {names:listed 5}.", count=len(names), names=names)]


def _lead_to_proof(session: Session, proved: Sequence[Sentence]) -> None:
    if proved:
        session.leads = Leads(session.notice, (("/enrolment#proof", told("What the punches prove")),))


def _who_takes(request: Request, answers: Mapping[str, str]) -> str:
    """Return who takes a file, and keep it for the next form; '' where nobody says."""
    if not answers.get("author", "").strip():
        return ""
    request.state.session.author = answer(answers, "author", sentence("say who takes it"))
    return str(request.state.session.author)


@ROUTES.post("/files/waiting/{file}/give-up")
def give_up(request: Request, desk: AtDesk, file: str) -> Response:
    """Let a file go that is not to be taken."""
    one, _ = path_of(desk.workspace, file)
    waiting.give_up(desk.workspace, file)
    request.state.session.notice = told("{file} was given up; nothing of it was taken.", file=one.file)
    return RedirectResponse("/files", 303)


ROUTES.get("/files/takes/{take}")(deciding.taken)
ROUTES.get("/files/takes/{take}/back")(deciding.preview_back)
ROUTES.post("/files/takes/{take}/back")(deciding.back)
ROUTES.get("/files/takes/{take}/again")(deciding.preview_again)
ROUTES.post("/files/takes/{take}/again")(deciding.again)
