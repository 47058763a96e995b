"""Routes of Settings: what holds, the rules of a site, changing a table or the text of a file, and taking it back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from evenhand.jobs.payroll_columns import payrolls
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.settings_change import (
    SettingsText,
    change_settings,
    foresee_settings,
    list_changes,
    list_files,
    read_file,
    text_before,
    text_shown,
    text_written,
)
from evenhand.jobs.settings_rules import find_number, jurisdictions, list_sites, see_site, with_number
from evenhand.jobs.settings_shown import changes_of, other_tables, shown_table, shown_tables
from evenhand.jobs.workspace import SETTINGS_FILE
from evenhand.store.settings_rewritten import rewritten
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.settings import WEEKDAYS
from evenhand.web.addresses import in_path
from evenhand.web.desk import AtDesk, Desk
from evenhand.web.forms import Answers, IncompleteForm, answer
from evenhand.web.pages.settings import view
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES", "write_change"]

MENU = MenuEntry("Settings", "/settings", 36)
ROUTES = APIRouter()

CHANGED = told("The file, or what follows from it, has changed since this was shown; nothing was written: look again.")
APART = ("table", "site", "from", "look")


@ROUTES.get("/settings")
def settings(request: Request, desk: AtDesk) -> Response:
    """Show what holds at the workplace, its sites, what is written as text, and what was changed."""
    workspace = desk.reckonings.workspace
    file, problem = read_file(workspace), ""
    reckoning = _reckoning(desk)
    if reckoning is None:
        problem = foresee_settings(workspace, file, file.text, None).problem
    return show(
        request,
        "pages/settings/page.html",
        tables=[] if problem else shown_tables(file.text),
        others={} if problem else other_tables(file.text),
        sites=list_sites(reckoning, reckoning.day) if reckoning else [],
        files=list_files(workspace),
        changes=list_changes(workspace),
        payrolls=payrolls(reckoning) if reckoning else [],
        problem=problem,
        zone=desk.zone if reckoning else "UTC",
    )


@ROUTES.get("/settings/site/{site:name}")
def one_site(request: Request, desk: AtDesk, site: str, on: date | None = None) -> Response:
    """Show what the settings say of a site, and every rule in force there on a day."""
    reckoning = desk.reckoning
    day = on or reckoning.day
    seen = see_site(reckoning, site, day)
    text = read_file(desk.workspace).text
    return show(
        request,
        "pages/settings/site.html",
        seen=seen,
        table=shown_table(text, ("site", site), day),
        consent=shown_table(text, ("consent", "site", site)),
        policy={row.key.key: row for row in shown_table(text, ("policy",)).rows},
        today=reckoning.day,
        jurisdictions=jurisdictions(reckoning),
        rule=view.rule_in_words,
        number=view.number_in_words,
    )


@ROUTES.get("/settings/change")
def preview(request: Request, desk: AtDesk) -> Response:
    """Show the form of a table, and what has been written in it would change."""
    answers = dict(request.query_params)
    path, file = _path(answers), read_file(desk.workspace)
    reckoning = desk.reckoning
    table = shown_table(file.text, path, reckoning.day)
    since, problem, shown = None, "", None
    try:
        since = _since(answers)
        if answers.get("look"):
            after = _after(desk, file, answers)
            shown = view.foreseen(foresee_settings(desk.workspace, file, after, reckoning))
    except Refusal as refusal:
        problem = said_of(refusal)
    return show(
        request,
        "pages/settings/change.html",
        table=table,
        answers={row.key.key: answers.get(row.key.key, row.written) for row in table.rows},
        since=since,
        is_site=path[0] == "site",
        site=path[-1] if path[0] in ("site", "consent") and len(path) > 1 else "",
        name=".".join(path[:2] if path[0] == "consent" and len(path) > 1 else path[:1] if path[0] == "site" else path),
        jurisdictions=jurisdictions(reckoning),
        weekdays=WEEKDAYS,
        back=_back(path),
        problem=problem,
        shown=shown,
        zone=desk.zone,
    )


@ROUTES.post("/settings/change")
def change(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Write what was shown."""
    path, file = _path(answers), read_file(desk.workspace)
    kept = {name: value for name, value in answers.items() if name in APART or name in _keys(file, path)}
    return write_change(
        request, desk, answers, file, _after(desk, file, answers), f"/settings/change?{urlencode(kept)}", _back(path)
    )


@ROUTES.get("/settings/text")
def text(request: Request, desk: AtDesk, file: str = SETTINGS_FILE) -> Response:
    """Show the text of a file, to be written as a whole."""
    now = read_file(desk.reckonings.workspace, file)
    return _show_text(request, desk, now, text_shown(now), None)


@ROUTES.post("/settings/text")
def write_text(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Show what the text would change, or write it if that is what was shown."""
    workspace = desk.reckonings.workspace
    now = read_file(workspace, answers.get("file", SETTINGS_FILE))
    after = text_written(now, answers.get("text", ""))
    if answers.get("do") != "write":
        foreseen = foresee_settings(workspace, now, after, _reckoning(desk))
        return _show_text(request, desk, now, answers.get("text", ""), view.foreseen(foreseen))
    return write_change(
        request, desk, answers, now, after, f"/settings/text?{urlencode({'file': now.file})}", "/settings"
    )


@ROUTES.get("/settings/number")
def preview_number(request: Request, desk: AtDesk, file: str = "", name: str = "") -> Response:
    """Show the form for a number of the workplace's own in place of the law's, and what it would change."""
    if not (file and name):
        return RedirectResponse("/settings", 303)  # the page of a site there lists the numbers
    answers = dict(request.query_params)
    number, now = find_number(desk.reckoning, file, name), read_file(desk.workspace, file)
    problem, shown = "", None
    try:
        if answers.get("look"):
            after = _with_number(desk, now, answers)
            shown = view.foreseen(foresee_settings(desk.workspace, now, after, desk.reckoning))
    except Refusal as refusal:
        problem = said_of(refusal)
    return show(
        request,
        "pages/settings/number.html",
        file=file,
        of=number,
        rule=view.rule_in_words(file.removesuffix(".toml").replace("/", ".")),
        answers={key: answers.get(key, "") for key in ("from", "value", "cites")},
        number=view.number_in_words,
        problem=problem,
        shown=shown,
        zone=desk.zone,
    )


@ROUTES.post("/settings/number")
def write_number(request: Request, desk: AtDesk, answers: Answers) -> Response:
    """Write the number that was shown."""
    now = read_file(desk.workspace, answers.get("file", ""))
    kept = {key: answers.get(key, "") for key in ("file", "name", "from", "value", "cites", "look")}
    return write_change(
        request,
        desk,
        answers,
        now,
        _with_number(desk, now, answers),
        f"/settings/number?{urlencode(kept)}",
        "/settings",
    )


@ROUTES.get("/settings/changes/{running}/back")
def preview_back(request: Request, desk: AtDesk, running: int) -> Response:
    """Show what taking a change back would do."""
    now, after, change = text_before(desk.reckonings.workspace, running)
    shown = view.foreseen(foresee_settings(desk.reckonings.workspace, now, after, _reckoning(desk)))
    return show(request, "pages/settings/back.html", change=change, shown=shown, zone=_zone(desk))


@ROUTES.post("/settings/changes/{running}/back")
def take_back(request: Request, desk: AtDesk, running: int, answers: Answers) -> Response:
    """Take a change back."""
    now, after, _ = text_before(desk.reckonings.workspace, running)
    again = f"/settings/changes/{running}/back"
    return write_change(request, desk, answers, now, after, again, "/settings", withdraws=running)


def write_change(
    request: Request,
    desk: Desk,
    answers: Mapping[str, str],
    now: SettingsText,
    after: str,
    again: str,
    back: str,
    withdraws: int | None = None,
) -> Response:
    """Write the text that was shown and go `back`, or look at it `again` where it is not as it was shown."""
    author, reason = (
        answer(answers, "author", sentence("say who decides")),
        answer(answers, "reason", sentence("say why")),
    )
    session = request.state.session
    session.author = author
    try:
        number = change_settings(
            desk.reckonings.workspace,
            now,
            after,
            seen=answers.get("seen", ""),
            author=author,
            reason=reason,
            as_of=desk.now(),
            withdraws=withdraws,
            reckoning=_reckoning(desk),
        )
    except NotAsSeen:
        session.notice = CHANGED
        return RedirectResponse(again, 303)
    done = (
        told("Change {number} of {file} was taken back by {author}", number=withdraws, file=now.file, author=author)
        if withdraws
        else told("{file} was changed by {author}", file=now.file, author=author)
    )
    session.notice = told(
        "{done}; it stands as change {number} below Settings and can be taken back there.", done=done, number=number
    )
    return RedirectResponse(back, 303)


def _show_text(
    request: Request, desk: Desk, now: SettingsText, written: str, shown: view.ChangeForeseenView | None
) -> Response:
    return show(request, "pages/settings/text.html", now=now, written=written, shown=shown, zone=_zone(desk))


def _after(desk: Desk, file: SettingsText, answers: Mapping[str, str]) -> str:
    """Return the text of the settings with what was written in the form of a table."""
    path, since = _path(answers), _since(answers)
    day = desk.reckoning.day
    shown = shown_table(file.text, path, day)
    before = shown if since is None else shown_table(file.text, path, since)
    return rewritten(file.text, changes_of(shown, answers, since, before), desk.workspace.directory / file.file)


def _with_number(desk: Desk, now: SettingsText, answers: Mapping[str, str]) -> str:
    number = find_number(desk.reckoning, now.file, answers.get("name", ""))
    since = _since(answers)
    if since is None:
        raise IncompleteForm(told("say from which day the number holds; nothing was changed."))
    return with_number(
        now.text,
        number,
        desk.workspace.directory / now.file,
        since=since,
        value=answer(answers, "value", sentence("say the number")),
        cites=answer(answers, "cites", sentence("say by which law, order or agreement it holds")),
    )


def _keys(file: SettingsText, path: tuple[str, ...]) -> set[str]:
    return {row.key.key for row in shown_table(file.text, path).rows}


def _path(answers: Mapping[str, str]) -> tuple[str, ...]:
    """Return which table is meant: `site` and `consent.site` with the site beside it, since its name may hold dots."""
    table, site = answers.get("table", ""), answers.get("site", "").strip()
    if table in ("site", "consent.site"):
        if not site:
            raise IncompleteForm(told("the form does not say which site is meant; nothing was changed."))
        return (*table.split("."), site)
    return tuple(table.split("."))


def _since(answers: Mapping[str, str]) -> date | None:
    said = answers.get("from", "").strip()
    try:
        return date.fromisoformat(said) if said else None
    except ValueError as fault:
        raise IncompleteForm(
            told('"{written}" is no date; write it as 2026-01-04. Nothing was changed.', written=said)
        ) from fault


def _back(path: tuple[str, ...]) -> str:
    is_of_site = path[0] == "site" or path[:2] == ("consent", "site")
    return f"/settings/site/{in_path(path[-1])}" if is_of_site else "/settings"


def _reckoning(desk: Desk) -> Reckoning | None:
    """Return what follows from the settings, None where they are not understood as they are."""
    try:
        return desk.reckoning
    except Refusal:
        return None


def _zone(desk: Desk) -> str:
    reckoning = _reckoning(desk)
    return reckoning.zone if reckoning else "UTC"
