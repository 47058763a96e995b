"""The decisions in the ledger: all of them in order, narrowed down, and as a file."""

from __future__ import annotations

from datetime import date

from fastapi import Request
from starlette.responses import Response

from evenhand.jobs.decision_log import LOG, LogAsked, log_as_csv, narrowed
from evenhand.jobs.ledger import sealed_in
from evenhand.terms.characters import escaped
from evenhand.terms.languages import said_of, told
from evenhand.terms.records import Unknown
from evenhand.terms.zones import check_reckoned
from evenhand.web.desk import AtDesk
from evenhand.web.forms import IncompleteForm
from evenhand.web.pages.ledger import decisions_view
from evenhand.web.show import show

__all__ = ["decisions", "decisions_file"]


def _asked(person: str, by: str, kind: str, day: str) -> LogAsked:
    """Return what is asked for; a form sends what is not filled in as empty."""
    try:
        on = check_reckoned(date.fromisoformat(day)) if day else None
    except ValueError as fault:
        raise IncompleteForm(told('"{written}" is no day; write it as 2026-03-04.', written=escaped(day))) from fault
    return LogAsked(person.strip(), by, kind, on)


def decisions(
    request: Request, desk: AtDesk, person: str = "", by: str = "", kind: str = "", day: str = "", page: int = 1
) -> Response:
    """Show every decision in order, the newest first, with what it decided and how it is taken back."""
    asked = _asked(person, by, kind, day)
    problem = ""
    try:
        log = narrowed(desk.reckoning, asked)
    except Unknown as unknown:  # nobody is meant, or several are: it can be said otherwise in its place
        problem, log = said_of(unknown), LOG.empty()
    shown = decisions_view.page(desk.reckoning, log, asked, page)
    entries = sealed_in(desk.workspace, {(line.table, line.number) for line in shown.lines})
    return show(request, "pages/ledger/decisions.html", shown=shown, entries=entries, problem=problem, zone=desk.zone)


def decisions_file(desk: AtDesk, person: str = "", by: str = "", kind: str = "", day: str = "") -> Response:
    """Give away every decision that is asked for."""
    log = narrowed(desk.reckoning, _asked(person, by, kind, day))
    content = log_as_csv(log, desk.reckoning.snapshot.names)
    given = {"content-disposition": 'attachment; filename="decisions.csv"'}
    return Response(content, media_type="text/csv; charset=utf-8", headers=given)
