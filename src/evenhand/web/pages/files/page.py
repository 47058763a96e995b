"""Routes of Files: the list, putting files on, looking at one, and what was taken, to be taken back or read again."""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response

from evenhand.jobs import watched
from evenhand.jobs.freshness import find_freshness
from evenhand.jobs.rejected import rejected_rows
from evenhand.jobs.take import Answers as Said
from evenhand.jobs.take import Seen, look_at
from evenhand.jobs.takes import (
    TakeListed,
    foresee_again,
    foresee_back,
    list_takes,
    read_again,
    source_of,
    take_back,
)
from evenhand.jobs.waiting import KEPT_S, LARGEST, NotAsSeen, finish, list_waiting, path_of, receive, take_waiting
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.words import counted
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, IncompleteForm, Uploads, answer
from evenhand.web.listing import ListQuery
from evenhand.web.pages.files import proposal_view, take_view, view
from evenhand.web.pages.files.answering import as_parameters, read_answers
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Files", "/files", 10)
ROUTES = APIRouter()
CHANGED = "What would be taken is no longer what was shown; look at it as it is now. Nothing was taken."
MOST_REJECTED = 500


@ROUTES.get("/files")
def files(request: Request, desk: AtDesk, q: str = "", sort: str = "", order: str = "", page: int = 1) -> Response:
    """Show what waits, how fresh the readers' punches are, and what was taken."""
    workspace, reckoning = desk.workspace, desk.reckoning
    shown = view.view(
        list_takes(workspace),
        list_waiting(workspace),
        watched.look(workspace),
        find_freshness(reckoning),
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
def drop(request: Request, desk: AtDesk, uploads: Uploads) -> Response:
    """Keep the files that were put on until somebody has looked at them; those that cannot be kept are named."""
    if not uploads:
        raise IncompleteForm("no file was chosen; nothing was changed.")
    kept, refused = [], []
    for upload in uploads:
        try:
            kept.append(receive(desk.workspace, upload.filename or "", upload.file))
        except Refusal as refusal:
            refused.append(str(refusal))
    if not kept:
        raise IncompleteForm(" ".join(refused))
    said = (
        [f"{counted(len(kept), 'file')} put on; nothing is taken before you have looked at it."]
        if len(kept) > 1
        else []
    )
    request.state.session.notice = " ".join((*said, *refused))
    to = "/files" if len(kept) > 1 else f"/files/waiting/{kept[0].key}"
    # The page's script sends the form itself, to show how far it is, and opens what it is told.
    is_followed = request.headers.get("accept") != "text/plain"
    return RedirectResponse(to, 303) if is_followed else PlainTextResponse(to)


@ROUTES.get("/files/waiting/{file}")
def look(request: Request, desk: AtDesk, file: str) -> Response:
    """Show one file as it would be read and what taking it would change."""
    one, path = path_of(desk.workspace, file)
    said, problem, shown = read_answers(request.query_params), "", None
    try:
        shown = proposal_view.view(look_at(desk.workspace, path, said), said, _readers(desk))
    except Refusal as refusal:
        problem = str(refusal)
    return show(
        request,
        "pages/files/look.html",
        one=one,
        shown=shown,
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
    here = _address(f"/files/waiting/{file}", said)
    if answers.get("do") != "take":
        return RedirectResponse(here, 303)

    def is_as_seen(seen: Seen) -> bool:
        return proposal_view.digest_of(seen) == answers.get("seen")

    try:
        receipt = take_waiting(desk.workspace, file, said, is_as_seen)
    except NotAsSeen:
        session.notice = CHANGED
        return RedirectResponse(here, 303)
    left = len(list_waiting(desk.workspace))
    session.notice = " ".join(
        (
            f"{receipt.file}: {counted(receipt.read, 'row')} read, {receipt.taken:,} taken, {receipt.known:,} known "
            f"already, {receipt.rejected:,} rejected.",
            *receipt.notices,
            *([f"{counted(left, 'file')} still wait{'s' if left == 1 else ''} on Files."] if left else []),
        )
    )
    return RedirectResponse(f"/files/takes/{receipt.take}" if receipt.take else "/files", 303)


@ROUTES.post("/files/waiting/{file}/give-up")
def give_up(request: Request, desk: AtDesk, file: str) -> Response:
    """Let a file go that is not to be taken."""
    one, _ = path_of(desk.workspace, file)
    finish(desk.workspace, file, is_taken=False)
    request.state.session.notice = f"{one.file} was given up; nothing of it was taken."
    return RedirectResponse("/files", 303)


@ROUTES.get("/files/takes/{take}")
def taken(request: Request, desk: AtDesk, take: int) -> Response:
    """Show one file taken: what became of its rows, by which layout, and what was decided about it."""
    one = _take(desk, take)
    rows = rejected_rows(desk.workspace, take)
    return show(
        request,
        "pages/files/take.html",
        one=one,
        rows=rows.head(MOST_REJECTED).rows(named=True),
        more=max(0, rows.height - MOST_REJECTED),
        waiting=list_waiting(desk.workspace),
        stands=view.stands(one),
        zone=desk.zone,
    )


@ROUTES.get("/files/takes/{take}/back")
def preview_back(request: Request, desk: AtDesk, take: int) -> Response:
    """Show what taking a file back would do, before anybody does."""
    one = _take(desk, take)
    shown = take_view.foreseen(foresee_back(desk.workspace, take, as_of=desk.now()))
    return show(request, "pages/files/back.html", one=one, shown=shown, zone=desk.zone)


@ROUTES.post("/files/takes/{take}/back")
def back(request: Request, desk: AtDesk, take: int, answers: Answers) -> Response:
    """Take a file back."""
    author, reason = _signed(answers)
    one = take_back(desk.workspace, take, author=author, reason=reason, as_of=desk.now())
    request.state.session.author = author
    request.state.session.notice = f"{one.file} was taken back by {author}; it can be read again from here."
    return RedirectResponse(f"/files/takes/{take}", 303)


@ROUTES.get("/files/takes/{take}/again")
def preview_again(request: Request, desk: AtDesk, take: int) -> Response:
    """Show a file as it would be read now, and what reading it so would change."""
    one, said = _take(desk, take), read_answers(request.query_params)
    problem, shown, changes = "", None, None
    try:
        seen = look_at(desk.workspace, source_of(desk.workspace, take), said)
        shown = proposal_view.view(seen, said, _readers(desk))
        is_other = one.is_back or seen.proposal.layout.to_toml() != one.layout_text
        if shown.may_take and is_other:
            found = foresee_again(desk.workspace, take, seen.proposal.layout, as_of=desk.now())
            changes = take_view.foreseen(found)
    except Refusal as refusal:
        problem = str(refusal)
    return show(
        request,
        "pages/files/again.html",
        one=one,
        shown=shown,
        changes=changes,
        problem=problem,
        said=said,
        back=f"/files/takes/{take}/again",
        tables=proposal_view.tables(said),
        plain=proposal_view.plain,
        zone=desk.zone,
    )


@ROUTES.post("/files/takes/{take}/again")
def again(request: Request, desk: AtDesk, take: int, answers: Answers) -> Response:
    """Look again by what was answered, or read the file so from now on, if that is what was shown."""
    said, session = read_answers(answers), request.state.session
    here = _address(f"/files/takes/{take}/again", said)
    if answers.get("do") != "again":
        return RedirectResponse(here, 303)
    author, reason = _signed(answers)
    seen = look_at(desk.workspace, source_of(desk.workspace, take), said)
    if proposal_view.digest_of(seen) != answers.get("seen"):
        session.notice = CHANGED
        return RedirectResponse(here, 303)
    layout = seen.proposal.layout
    one = read_again(desk.workspace, take, layout, author=author, reason=reason, as_of=desk.now())
    session.author = author
    session.notice = f"{one.file} was read again by {author}: {one.taken:,} rows taken, {one.known:,} known already."
    return RedirectResponse(f"/files/takes/{take}", 303)


def _take(desk: Desk, take: int) -> TakeListed:
    for one in list_takes(desk.workspace):
        if one.take == take:
            return one
    raise Unknown(f"there is no take {take}; Files lists them all.")


def _readers(desk: Desk) -> Sequence[str]:
    return sorted(desk.reckoning.snapshot.readers["reader"].to_list())


def _signed(answers: Answers) -> tuple[str, str]:
    return answer(answers, "author", "say who decides"), answer(answers, "reason", "say why")


def _address(place: str, said: Said) -> str:
    parameters = urlencode(as_parameters(said))
    return f"{place}?{parameters}" if parameters else place
