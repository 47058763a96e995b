"""What changed in a closed period is shown on Hand-off and settled there, once, with who and why."""

from __future__ import annotations

import re
from collections.abc import Callable

import httpx

from evenhand.jobs.take import take_files
from tests.web.conftest import Served

MARCH = "2026-03-01"
LATE = "reader,number,time,direction\nMILL-1,4101,2026-03-04 08:00:00,in\nMILL-1,4101,2026-03-04 10:00:00,out\n"


def test_a_change_of_a_closed_period_is_shown_and_settled_once_in_either_way(
    at_mill: httpx.Client, mill: Served, form_token: Callable[[httpx.Client], str]
) -> None:
    signed = {"author": "R. Hale", "form_token": form_token(at_mill), "despite": "yes"}
    assert at_mill.post("/hand-off", data=signed).status_code == 303
    assert "Nothing has changed since." in at_mill.get("/hand-off").text
    _take(mill, LATE)
    page = at_mill.get("/hand-off").text
    assert "Tess Marrow" in page
    assert "+2:00 h worked" in page
    assert "Wed 4 Mar: ordinary time +2:00 h" in page
    form = signed | {"period": MARCH, f"way:{MARCH}": "adjust", "reason": "late", f"despite:{MARCH}": "yes"}
    form |= {f"seen:{MARCH}": _seen(page), f"of:{MARCH}": "2"}
    assert at_mill.post("/hand-off/changes", data=form).status_code == 400  # nobody is marked
    form |= {f"person:{MARCH}:P1": "yes"}
    assert at_mill.post("/hand-off/changes", data=form | {"reason": ""}).status_code == 400
    assert at_mill.post("/hand-off/changes", data=form | {f"seen:{MARCH}": "000000000000"}).status_code == 409
    assert at_mill.post("/hand-off/changes", data=form).headers["location"] == "/hand-off"
    after = at_mill.get("/hand-off").text
    assert "The next period&#39;s file carries it: 2026-03-01 to 2026-03-07, P1." in after
    assert "Nothing has changed since." in after
    assert at_mill.post("/hand-off/changes", data=form).status_code == 409  # once

    _take(mill, LATE.replace("-04", "-05"))
    form |= {f"seen:{MARCH}": _seen(at_mill.get("/hand-off").text), f"way:{MARCH}": "replace"}
    assert at_mill.post("/hand-off/changes", data=form).status_code == 303
    page = at_mill.get("/hand-off").text
    assert "replaced by file 2, counts no longer" in page
    assert "replaces file 1: late" in page
    first, second = (at_mill.get(f"/hand-off/{number}/.csv").content for number in (1, 2))
    assert (b"7.75" in first, b"11.75" in second) == (True, True)  # what waited is in the file that replaces its own


def _take(mill: Served, text: str) -> None:
    file = mill.workspace.directory.parent / "late.csv"
    file.write_text(text)
    take_files(mill.workspace, [file])


def _seen(page: str, period: str = MARCH) -> str:
    found = re.search(rf'name="seen:{period}" value="(\w+)"', page)
    assert found
    return found[1]
