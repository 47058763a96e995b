"""The hand-off waits for what blocks it, and gives away the files it wrote and no others."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable

import httpx


def test_the_files_are_written_despite_findings_only_where_it_is_said(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    form = {"author": "R. Hale", "form_token": form_token(at_mill)}
    blocked = at_mill.post("/hand-off", data=form)
    assert blocked.status_code == 409
    assert "from payroll" in blocked.text
    assert at_mill.get("/hand-off/1/.csv").status_code == 404

    written = at_mill.post("/hand-off", data=form | {"despite": "yes"})
    assert (written.status_code, written.headers["location"]) == (303, "/hand-off")
    answer = at_mill.get("/hand-off/1/.csv")
    assert answer.headers["content-type"].startswith("text/csv")
    rows = list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"))))
    # Tess Marrow's only day is the 7 h 45 min reckoned for the day's page: 7.75 hours.
    assert [row["Ordinary hours"] for row in rows if row["Name"] == "Tess Marrow"] == ["7.75"]
    assert at_mill.get("/hand-off/1/-note.txt").text.startswith("Mill & Sons")
    assert at_mill.get("/hand-off/1/.xlsx").content[:2] == b"PK"


def test_no_other_file_is_given_away(at_mill: httpx.Client) -> None:
    for form in ("../evenhand.toml", "..%2Fevenhand.toml", ".sqlite", ""):
        assert at_mill.get(f"/hand-off/1/{form}").status_code == 404
