"""Each chart's figures can be taken away as a file, from a link beside it, and are those that it draws."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable

import httpx
import pytest

from tests.web.conftest import Served
from tests.web.pages.test_hands import WEIGHED


def rows(answer: httpx.Response) -> list[dict[str, str]]:
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith("text/csv")
    return list(csv.DictReader(io.StringIO(answer.text)))


def linked(client: httpx.Client, page: str) -> list[dict[str, str]]:
    """Return the rows of the one file that a page links beside its chart."""
    (link,) = re.findall(r'<a href="([^"]+)" download>The figures behind it', client.get(page).text)
    return rows(client.get(link.replace("&amp;", "&")))


def test_the_figures_of_a_hand_and_of_a_reader_are_those_drawn(twin: Served) -> None:
    with twin.enter() as client:
        one = rows(client.get("/hands/data/explained"))[0]
        assert re.fullmatch(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}Z", one["at"])
        scores = linked(client, f"/hands/person/{one['person']}")
        assert {"day", "reader", "median", "highest", "refused"} <= scores[0].keys()
        drawn = client.get(f"/hands/person/{one['person']}").text
        assert len(re.findall(r'<g class="(?:accepted|refused)">', drawn)) == sum(row["median"] != "" for row in scores)
        traffic = linked(client, f"/readers/{one['reader']}")
        (says,) = re.findall(r'aria-label="Presentations a day from [^"]*?: (\d+) to (\d+), (\d+) on the last"',
                             client.get(f"/readers/{one['reader']}").text)  # fmt: skip
        counts = [int(row["presentations"]) for row in traffic]
        assert [str(one) for one in (min(counts), max(counts), counts[-1])] == list(says)
        assert client.get("/readers/nowhere/traffic.csv").status_code == 404


def test_the_figures_of_a_line_and_of_rounding_are_files_too(twin: Served, mill: Served) -> None:
    with twin.enter() as client:
        reader = rows(client.get("/hands/data/explained"))[0]["reader"]
        times = rows(client.get(f"/rounds/queues/{reader}/times.csv?takes=8"))
        page = client.get(f"/rounds/queues/{reader}?takes=8").text
        assert len(times) == len(re.findall(r'<td data-label="People a week"', page)) > 0
        assert f"/rounds/queues/{reader}/times.csv?takes=8" in page
    with mill.enter() as client:
        audit = linked(client, "/rounding?weeks=4")
        assert {"site", "department", "person"} >= {row["level"] for row in audit} != set()


@pytest.mark.parametrize("present", ["", "18"])
def test_thresholds_weighed_are_given_away(
    mill: Served, form_token: Callable[[httpx.Client], str], present: str
) -> None:
    with mill.enter() as client:
        asked = WEIGHED | {"present": present, "form_token": form_token(client)}
        assert 'formaction="/hands/threshold/figures"' in client.post("/hands/threshold", data=asked).text
        asked |= {"form_token": form_token(client)}
        curve = rows(client.post("/hands/threshold/figures", data=asked))
        # 90 of 100 mated at 5, 10 at 25, all non-mated at 40: 10 % are refused at 5, none at 25
        assert [(row["threshold"], float(row["false_non_match_rate"])) for row in curve] == [
            ("5.0", pytest.approx(0.1)), ("25.0", 0.0), ("40.0", 0.0),
        ]  # fmt: skip
        assert client.post("/hands/threshold/figures", data=asked | {"scores": ""}).status_code == 400
