"""Routes of Ledger: the entries, one of them, proving all of it, and proofs to take away."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from starlette.responses import Response

from evenhand.jobs.decision_log import decision_log
from evenhand.jobs.ledger import (
    entries,
    entry_and_text,
    head_now,
    kinds_and_authors,
    proof_of,
    proof_since,
    rows_of_entry,
    verify,
)
from evenhand.terms.languages import told
from evenhand.web.desk import AtDesk
from evenhand.web.forms import Answers, IncompleteForm, SentFiles
from evenhand.web.pages.ledger import decisions_view, view
from evenhand.web.pages.ledger.decisions import decisions, decisions_file
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Ledger", "/ledger", 34)
ROUTES = APIRouter()
ROUTES.get("/ledger/decisions")(decisions)
ROUTES.get("/ledger/decisions.csv")(decisions_file)
MOST_BYTES = 64 << 20
Number = Annotated[int, Query(ge=0, lt=2**53)]
EntryNumber = Annotated[int, Path(ge=0, lt=2**53)]


@ROUTES.get("/ledger")
def ledger(request: Request, desk: AtDesk, kind: str = "", by: str = "", before: Number | None = None) -> Response:
    """Show the entries, newest first, and the head with what to do with it."""
    listed = entries(desk.workspace, kind=kind, by=by, before=before, most=view.SHOWN + 1)
    kinds, authors = kinds_and_authors(desk.workspace)
    shown = view.page(listed, head_now(desk.workspace), kind, by)
    return show(request, "pages/ledger/page.html", shown=shown, kinds=kinds, authors=authors, zone=desk.zone)


@ROUTES.post("/ledger/verified")
def verified(request: Request, desk: AtDesk, answers: Answers, sent: SentFiles) -> Response:
    """Prove the ledger, against a head and files held outside where they are given; nothing is kept of them."""
    files = {}
    for one in sent:
        content = one.file.read(MOST_BYTES + 1)
        if len(content) > MOST_BYTES:
            raise IncompleteForm(told("a file for payroll has no such size; nothing was looked at."))
        files[one.filename or "the file"] = content
    proved = verify(desk.workspace, answers.get("head", ""), files)
    return show(request, "pages/ledger/verified.html", proved=proved, most=view.FAULTS)


@ROUTES.get("/ledger/consistency.json")
def consistency(desk: AtDesk, size: Number) -> Response:
    """Give away what proves that the ledger goes on from its first `size` entries."""
    return _file(proof_since(desk.workspace, size), f"ledger-since-{size}.json")


@ROUTES.get("/ledger/{number:int}")
def entry(request: Request, desk: AtDesk, number: EntryNumber) -> Response:
    """Show one entry with the decisions that it seals and the text that is hashed."""
    one, content = entry_and_text(desk.workspace, number)
    sealed = decisions_view.of_rows(desk.reckoning, decision_log(desk.reckoning), rows_of_entry(desk.workspace, number))
    shown = view.entry(one)
    return show(request, "pages/ledger/entry.html", shown=shown, content=content, zone=desk.zone, decided=sealed)


@ROUTES.get("/ledger/{number:int}/proof.json")
def proof(desk: AtDesk, number: EntryNumber) -> Response:
    """Give away what proves that an entry is in the ledger."""
    return _file(proof_of(desk.workspace, number), f"ledger-entry-{number}.json")


def _file(content: str, name: str) -> Response:
    return Response(
        content, media_type="application/json", headers={"Content-Disposition": f'attachment; filename="{name}"'}
    )
