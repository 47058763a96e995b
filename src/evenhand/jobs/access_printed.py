"""The report of what is held on one person as it is given away: readable as PDF, and as JSON for a machine."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path
from typing import Any

from evenhand.jobs.access import AccessReport, access_report
from evenhand.jobs.access_words import column_said, value_said
from evenhand.jobs.languages import say_in, words_said
from evenhand.jobs.workspace import Workspace
from evenhand.records.access import AccessPart
from evenhand.store.owner_only import write_file
from evenhand.terms.columns import Column
from evenhand.terms.disk_faults import not_written
from evenhand.terms.json_form import as_json_value
from evenhand.terms.languages import Speech, told
from evenhand.terms.papers import PAPER_SIZES
from evenhand.terms.records import Refusal
from evenhand.terms.words import as_figures

__all__ = ["AccessWritten", "as_json", "as_pdf", "write_access"]


@dataclass(frozen=True)
class AccessWritten:
    """A report that was written: of whom, how many rows are in it, and how many names of others were left out."""

    file: Path
    person: str
    name: str
    parts: int
    rows: int
    blanked: int


def as_json(report: AccessReport) -> bytes:
    """Return a report in English as JSON: each part with its columns' meanings and its rows, instants in RFC 3339."""
    told = {
        "workplace": report.workplace,
        "person": report.person,
        "name": report.name,
        "made": report.made,
        "zone": report.zone,
        "note": report.says,
        "rights": [vars(right) for right in report.rights],
        "parts": [
            {
                "name": part.name,
                "title": part.title,
                "note": part.note,
                "columns": [
                    {"name": one.name, "kind": one.kind, "unit": one.unit, "meaning": one.meaning}
                    for one in part.columns
                ],
                "rows": [
                    {one.name: _at(row[one.name]) if one.kind == "instant" else row[one.name] for one in part.columns}
                    for row in part.rows
                ],
            }
            for part in report.parts
        ],
    }
    return (json.dumps(as_json_value(told), indent=1, ensure_ascii=False) + "\n").encode()


def _at(instant: int | None) -> datetime | None:
    return None if instant is None else datetime.fromtimestamp(instant, UTC)


def as_pdf(report: AccessReport) -> bytes:
    """Return the report as PDF in its language; names and sentences reach the page as plain text."""
    import typst

    say = say_in(report.language, names_zones=report.names_zones)
    content = {
        "paper": PAPER_SIZES[report.paper],
        "language": report.language,
        "words": words_said("access")[report.language],
        "workplace": report.workplace,
        "person": report.person,
        "name": report.name,
        "made": report.made,
        "says": say.written(report.says),
        "rights": [{name: say(text) for name, text in vars(right).items()} for right in report.rights],
        "parts": [
            {
                "title": say(part.title),
                "note": say.said(part.note),
                "columns": [column_said(one.name, say) for one in _shown(part)],
                "rows": [
                    [_in_words(part, one, row[one.name], report.zone, say) for one in _shown(part)] for row in part.rows
                ],
            }
            for part in report.parts
        ],
    }
    page = resources.files("evenhand.jobs").joinpath("access.typ").read_bytes()
    printed = typst.compile(page, format="pdf", sys_inputs={"content": json.dumps(content, ensure_ascii=False)})
    assert isinstance(printed, bytes)
    return printed


def _shown(part: AccessPart) -> list[Column]:
    """Return the columns that any row fills."""
    return [one for one in part.columns if any(row[one.name] not in (None, "") for row in part.rows)]


def _in_words(part: AccessPart, column: Column, value: Any, zone: str, say: Speech) -> str:
    if value is None:
        return ""
    match column.kind:
        case "instant":
            return say.moment(value, zone)
        case "date":
            return say.day(value)
        case "seconds":
            return as_figures(value)
        case "yes_no":
            return say("yes" if value else "no")
        case "score":
            return f"{value:g}"
        case "money":
            return f"{value:.2f}"
    return value_said(part.name, column, str(value), say)


def write_access(workspace: Workspace, person: str, file: Path, *, as_of: datetime, paper: str = "") -> AccessWritten:
    """Write the report of `person` for the owner alone: in English as JSON, in theirs as PDF.

    It is printed on the workplace's paper, or the `paper` that is named.
    """
    if file.suffix.lower() not in (".pdf", ".json"):
        raise Refusal(told("{file} is neither PDF nor JSON; name a file that ends in .pdf or .json.", file=file))
    is_json = file.suffix.lower() == ".json"
    report = access_report(workspace, person, as_of=as_of, language="en" if is_json else "")
    report = replace(report, paper=paper or report.paper)
    try:
        write_file(file, as_json(report) if is_json else as_pdf(report))
    except OSError as fault:
        raise not_written(file, fault) from fault
    rows = sum(len(part.rows) for part in report.parts)
    return AccessWritten(file, report.person, report.name, len(report.parts), rows, report.blanked)
