"""What was taken, and deciding about it: the answers to requests for one take, taking it back, reading it again."""

from __future__ import annotations

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.mended import forget_layout, layout_left, mend_kept
from evenhand.jobs.reading_again import look_again
from evenhand.jobs.rejected import rejected_rows
from evenhand.jobs.takes import (
    NotAsSeen,
    TakeListed,
    foresee_again,
    foresee_back,
    list_takes,
    read_again,
    take_back,
)
from evenhand.jobs.waiting import list_waiting
from evenhand.terms.languages import in_a_row, said_of, sentence, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, answer
from evenhand.web.pages.files import proposal_view, take_view, view
from evenhand.web.pages.files.answering import CHANGED, WOULD_CHANGE, address_of, read_answers
from evenhand.web.show import show

__all__ = ["again", "back", "preview_again", "preview_back", "taken"]

MOST_REJECTED = 500


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


def preview_back(request: Request, desk: AtDesk, take: int) -> Response:
    """Show what taking a file back would do, before anybody does."""
    one = _take(desk, take)
    problem, shown = "", None
    try:
        shown = take_view.foreseen(foresee_back(desk.workspace, take, as_of=desk.now()))
    except Refusal as refusal:
        problem = said_of(refusal)
    left = layout_left(desk.workspace, one)
    return show(request, "pages/files/back.html", one=one, shown=shown, problem=problem, left=left, zone=desk.zone)


def back(request: Request, desk: AtDesk, take: int, answers: Answers) -> Response:
    """Take a file back."""
    author, reason = _signed(answers)
    request.state.session.author = author
    try:
        one = take_back(
            desk.workspace,
            take,
            author=author,
            reason=reason,
            as_of=desk.now(),
            is_as_seen=lambda found: take_view.digest_of(found) == answers.get("would"),
        )
    except NotAsSeen:
        request.state.session.notice = WOULD_CHANGE
        return RedirectResponse(f"/files/takes/{take}/back", 303)
    gone = forget_layout(desk.workspace, one) if answers.get("forget") else ""
    left = layout_left(desk.workspace, one)
    said = [told("{file} was taken back by {author}; it can be read again from here.", file=one.file, author=author)]
    said += [told("Its layout {layout} was removed.", layout=gone)] if gone else []
    said += [told("Its layout {layout} stays for later files of its kind.", layout=left)] if left else []
    request.state.session.notice = in_a_row("{one} {other}", said)
    return RedirectResponse(f"/files/takes/{take}", 303)


def preview_again(request: Request, desk: AtDesk, take: int) -> Response:
    """Show a file as it would be read now, and what reading it so would change."""
    one, said = _take(desk, take), read_answers(request.query_params)
    alike = [other for other in list_takes(desk.workspace) if _is_alike(other, one)]
    problem, shown, changes = "", None, None
    try:
        seen = look_again(desk.workspace, take, said)
        shown = proposal_view.view(seen, said, desk.reckoning.snapshot.readers)
        is_other = one.is_back or seen.proposal.layout.to_toml() != one.layout_text
        if shown.may_take and is_other:
            found = foresee_again(desk.workspace, take, seen.proposal.layout, as_of=desk.now())
            changes = take_view.foreseen(found)
    except Refusal as refusal:
        problem = said_of(refusal)
    return show(
        request,
        "pages/files/again.html",
        one=one,
        shown=shown,
        changes=changes,
        alike=alike,
        problem=problem,
        said=said,
        back=f"/files/takes/{take}/again",
        tables=proposal_view.tables(said),
        plain=proposal_view.plain,
        zone=desk.zone,
    )


def again(request: Request, desk: AtDesk, take: int, answers: Answers) -> Response:
    """Look again by what was answered, or read the file so from now on, if that is what was shown."""
    said, session = read_answers(answers), request.state.session
    here = address_of(f"/files/takes/{take}/again", said)
    if answers.get("do") != "again":
        return RedirectResponse(here, 303)
    author, reason = _signed(answers)
    seen = look_again(desk.workspace, take, said)
    if proposal_view.digest_of(seen) != answers.get("seen"):
        session.notice = CHANGED
        return RedirectResponse(here, 303)
    layout = seen.proposal.layout
    was = _take(desk, take)
    session.author = author
    try:
        one = read_again(
            desk.workspace,
            take,
            layout,
            author=author,
            reason=reason,
            as_of=desk.now(),
            is_as_seen=lambda found: take_view.digest_of(found) == answers.get("would"),
        )
    except NotAsSeen:
        session.notice = WOULD_CHANGE
        return RedirectResponse(here, 303)
    mended = mend_kept(desk.workspace, was, layout) if answers.get("mend") else ""
    notices = [
        told(
            "{file} was read again by {author}: {taken:,} rows taken, {known:,} known already.",
            file=one.file,
            author=author,
            taken=one.taken,
            known=one.known,
        )
    ]
    notices += [told("Files of its kind are read so from now on, by {layout}.", layout=mended)] if mended else []
    session.notice = in_a_row("{one} {other}", notices)
    return RedirectResponse(f"/files/takes/{take}", 303)


def _take(desk: Desk, take: int) -> TakeListed:
    for one in list_takes(desk.workspace):
        if one.take == take:
            return one
    raise Unknown(told("there is no take {take}; Files lists them all.", take=take))


def _is_alike(other: TakeListed, one: TakeListed) -> bool:
    """Whether another take that counts was read by the same kept layout, so that it may be wrong as well."""
    return other.layout == one.layout and other.take != one.take and not other.is_back


def _signed(answers: Answers) -> tuple[str, str]:
    return answer(answers, "author", sentence("say who decides")), answer(answers, "reason", sentence("say why"))
