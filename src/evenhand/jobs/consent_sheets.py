"""Print the policy for people to read and sign: a sheet for each, with the code by which it is keyed back."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from importlib import resources
from typing import Any

from evenhand.enrolment.written import day_in
from evenhand.jobs.campaign import CAMPAIGN, Campaign
from evenhand.jobs.consent_versions import PolicyVersion, people_asked, policy_asked
from evenhand.jobs.languages import say_in
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms import cautions
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.papers import PAPER_SIZES
from evenhand.terms.records import Refusal, Unknown

__all__ = ["MOST_SHEETS", "print_consent_sheets", "sheet_of", "sheets_asked"]

MOST_SHEETS = 2_000
"""As many as one file takes: longer lists are printed site by site."""


def sheets_asked(
    campaign: Campaign, *, people: Sequence[str] = (), site: str | None = None, everybody: bool = False
) -> Frame:
    """Return whose sheets are printed (CAMPAIGN): those still to be asked, or the people named.

    `everybody` prints them for those who have answered too. Raises Unknown for somebody who is not asked at all.
    """
    rows = campaign.rows if everybody or people else campaign.to_ask
    if people:
        unknown = sorted(set(people) - set(rows["person"].to_list()))
        if unknown:
            raise Unknown(
                told(
                    '"{name}" is not asked to agree to {policy}; `evenhand consent campaign` lists whom it asks.',
                    name=unknown[0],
                    policy=campaign.version.called,
                )
            )
        rows = rows.filter(rows["person"].is_in(list(people)))
    if site is not None:
        rows = rows.filter(rows["site"].fill_null("") == site)
    return CAMPAIGN.check(rows)


def sheet_of(snapshot: Snapshot, person: str, on: date) -> PolicyVersion | None:
    """Return the version of which a person's sheet can be printed on a day; None where they are asked for none."""
    version = policy_asked(snapshot, snapshot.find_person(person)["site"], on)
    return version if version and person in people_asked(snapshot, version, on)["person"] else None


def print_consent_sheets(
    snapshot: Snapshot, campaign: Campaign, rows: Frame, *, language: str = "", paper: str = ""
) -> bytes:
    """Return the sheets as one PDF, a page each in the order of `rows` (CAMPAIGN).

    Without a `language`, or where the policy does not speak it, sheets are in the policy's first. Raises Refusal where
    there is nobody to print one for, or where there are more than MOST_SHEETS.
    """
    import typst

    if rows.is_empty():
        raise Refusal(told("nobody is left to be asked here; name people, or print the sheets of everybody."))
    if rows.height > MOST_SHEETS:
        raise Refusal(
            told("{count:,} sheets are more than one file takes; print them site by site.", count=rows.height)
        )
    page = resources.files("evenhand.jobs").joinpath("consent_sheet.typ").read_bytes()
    content = json.dumps(_told(snapshot, campaign, rows, language, paper), ensure_ascii=False)
    printed = typst.compile(page, format="pdf", sys_inputs={"content": content}, ignore_system_fonts=True)
    assert isinstance(printed, bytes)
    return printed


def _told(snapshot: Snapshot, campaign: Campaign, rows: Frame, language: str, paper: str) -> dict[str, Any]:
    version = campaign.version
    words = version.file.spoken(language)
    say = say_in(words.language)
    return {
        "paper": PAPER_SIZES[paper or snapshot.paper],
        "language": words.language,
        "workplace": snapshot.settings.workplace,
        "called": version.called,
        "digest": version.digest,
        "in_force_from": day_in(words.language, version.in_force_from),
        "words": vars(words),
        "parts": words.parts,
        "labels": {
            "agree": say("I agree"),
            "refuse": say("I do not agree"),
            "sign": say("Date and signature"),
            "sheet": say("Sheet"),
            "from": say("In force from"),
            "page": say("page"),
        },
        "caution": cautions.CALCULATION,
        "sheets": [
            {
                "name": row["name"] or row["person"],
                "person": row["person"],
                "where": " · ".join(filter(None, (row["site"], row["department"], row["shift"]))),
                "code": row["code"],
            }
            for row in rows.iter_rows(named=True)
        ],
    }
