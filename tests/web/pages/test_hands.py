"""Hands shows what changed without blame, draws one person's scores, and weighs thresholds by a planned test."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator
from datetime import date
from xml.etree import ElementTree

import httpx
import pytest

from evenhand.jobs.languages import say_in
from evenhand.web.pages.hands.charts import Point, round_marks, score_chart, tradeoff_chart
from tests.untranslated import language_of, left_in_english, untranslated
from tests.web.conftest import Served

DAYS = (date(2026, 3, 2), date(2026, 3, 12))

WEIGHED = {
    "scores": "comparison,score\n" + "mated,5\n" * 90 + "mated,25\n" * 10 + "non_mated,40\n" * 50,
    "origin": "simulation",
    "presentations": "1000",
    "minutes": "0.25",
    "wrong_hands": "0",
    "match_minutes": "0",
    "present": "18",
}
"""Scores and costs by which thresholds are weighed."""


@pytest.fixture
def at_twin(twin: Served) -> Iterator[httpx.Client]:
    with twin.enter() as client:
        yield client


def test_a_workplace_without_scores_is_told_what_cannot_be_known(at_mill: httpx.Client) -> None:
    page = at_mill.get("/hands").text
    assert "MILL-1 writes no scores" in page
    assert "never of conduct" in page
    assert "No score is known" in at_mill.get("/hands/person/P1").text


def test_the_twins_hands_are_shown_by_week_and_by_department(at_twin: httpx.Client) -> None:
    page = at_twin.get("/hands").text
    assert page.count("Median score in each of ten weeks") >= 8
    assert 'class="heat"' in page
    assert "false non match rate" in page
    assert not re.search(r"\b(fault|blame|fraud|cheat)", page.lower())


def test_readers_and_hands_count_the_same_refusals_of_each_reader(at_twin: httpx.Client) -> None:
    counted = [
        dict(
            re.findall(
                r'<a href="/readers/([^"]+)">.*?data-label="Refused"[^>]*>(.*?)</td>', at_twin.get(page).text, re.S
            )
        )
        for page in ("/readers", "/hands")
    ]
    assert counted[0].keys() >= counted[1].keys() != set()
    told = [
        {reader: re.sub(r"<[^>]+>", "", cell) for reader, cell in of.items() if reader in counted[1]} for of in counted
    ]
    assert told[0] == told[1]
    for cell in told[0].values():
        refused, presented, percent = re.fullmatch(r"([\d,]+) of ([\d,]+) \(([\d.e-]+) %\)", cell.strip()).groups()
        assert float(percent) == pytest.approx(
            100 * int(refused.replace(",", "")) / int(presented.replace(",", "")), rel=0.06
        )


def test_one_person_is_drawn_with_the_parts_of_the_highest_scores(at_twin: httpx.Client) -> None:
    person = next(csv.DictReader(io.StringIO(at_twin.get("/hands/data/explained").text)))["person"]
    page = at_twin.get(f"/hands/person/{person}").text
    assert "Scores by day" in page
    assert "The highest scores, in their parts" in page
    above = [float(re.sub("−", "-", cell)) for cell in re.findall(r'data-label="Above usual"[^>]*>([^<]+)</td>', page)]
    assert above == sorted(above, reverse=True)
    assert above[-1] > 0
    assert len(re.findall(r'data-label="When">[A-Z][a-z]{2} \d', page)) == len(above)


def test_the_data_behind_the_page_can_be_had(at_twin: httpx.Client) -> None:
    answer = at_twin.get("/hands/data/error_rates")
    assert answer.headers["content-type"].startswith("text/csv")
    assert next(csv.DictReader(io.StringIO(answer.text)))["measure"] == "false_rejection_rate"
    assert at_twin.get("/hands/data/salaries").status_code == 404


def test_thresholds_are_weighed_and_say_where_the_chance_comes_from(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    asked = WEIGHED | {"form_token": form_token(at_mill)}
    page = at_mill.post("/hands/threshold", data=asked).text
    # at 18, the 10 of 100 mated scores above it cost 1000 x 0.1 x 0.25 = 25 minutes a week
    assert "At 18 it is 25.0 minutes" in page
    assert "(simulation)" in page
    wrong = at_mill.post("/hands/threshold", data=asked | {"scores": "comparison,score\nmated,x\n"})
    assert "line 2" in wrong.text
    assert at_mill.post("/hands/threshold", data=asked | {"presentations": "many"}).status_code == 400


def test_a_test_whose_kinds_do_not_overlap_says_so_and_is_drawn_along_the_edges(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    apart = "comparison,score\n" + "mated,5\n" * 190 + "mated,9\n" * 10 + "non_mated,40\n" * 150
    asked = WEIGHED | {"scores": apart, "present": "6", "form_token": form_token(at_mill)}
    page = at_mill.post("/hands/threshold", data=asked).text
    assert "every threshold from 9 up to below 40 accepted all 200 right and refused all 150 wrong ones" in page
    # Clopper and Pearson (1934), no error in n tries: 1 - 0.05^(1/200) = 1.487 %, 1 - 0.05^(1/150) = 1.977 %
    assert "fewer than 1.5 % of right hands would be refused and fewer than 2 % of wrong ones pass" in page
    (curve,) = re.findall(r'class="curve" points="([^"]+)"', page)
    assert len(curve.split()) == 3
    rings = dict(re.findall(r'<circle class="(chosen|present)" cx="[^"]+" cy="([^"]+)"', page))
    assert float(rings["present"]) < float(rings["chosen"])  # 6 refuses 10 of 200, 9 none: it lies lower
    assert 'formaction="/hands/threshold?speak=es"' in page
    # an overlap of one score is one
    touching = at_mill.post("/hands/threshold", data=asked | {"scores": "comparison,score\nmated,5\nnon_mated,5\n"})
    assert "do not overlap" not in touching.text


def test_each_hand_that_needs_somebody_has_its_scores_beside_it(at_twin: httpx.Client) -> None:
    cards = re.findall(r'<article class="finding">(.*?)</article>', at_twin.get("/hands").text, re.S)
    of_hands = [card for card in cards if "/hands/person/" in card]
    assert of_hands
    assert all('class="mark scores strip"' in card for card in of_hands)


def test_the_explorer_opens_empty(at_mill: httpx.Client) -> None:
    assert "A punch log holds right hands only" in at_mill.get("/hands/threshold").text


def test_a_chart_places_days_and_scores_and_marks_refusals() -> None:
    points = [Point(DAYS[0], "A", 4.0, 9.0, 0), Point(DAYS[1], "A", 10.0, 20.0, 1)]
    drawn = score_chart(points, DAYS, threshold=18.0, changes=[(DAYS[1], "x")], enrolments=[], says="<scores>")
    root = ElementTree.fromstring(str(drawn))
    assert root.get("aria-label") == "<scores>"
    circles = [node.attrib for node in root.iter() if node.tag == "circle"]
    # the first day stands at the left edge, the last at the right; 4 lies lower on the page than 10
    assert (circles[0]["cx"], circles[1]["cx"]) == ("4.00%", "96.00%")
    assert float(circles[0]["cy"]) > float(circles[1]["cy"])
    kinds = [node.get("class") for node in root.iter() if node.tag == "g"]
    assert kinds == ["change", "accepted", "refused"]


@pytest.mark.parametrize(
    ("most", "marks"),
    [
        (20.7, [0, 5, 10, 15, 20, 25]),
        (57.3, [0, 10, 20, 30, 40, 50, 60]),
        (60.0, [0, 20, 40, 60]),
        (1.0, [0, 0.2, 0.4, 0.6, 0.8, 1.0]),
        (0.3, [0, 0.1, 0.2, 0.3]),
        (1234.0, [0, 200, 400, 600, 800, 1000, 1200, 1400]),
    ],
)
def test_scores_are_marked_in_round_steps(most: float, marks: list[float]) -> None:
    # Source: Heckbert (1990), Nice numbers for graph labels, Graphics Gems (from memory): steps of 1, 2 or 5
    assert round_marks(most) == marks


def test_a_trade_off_is_drawn_on_deviate_axes() -> None:
    # 5 % is -1.645: a curve point on both 5 % marks lies where their lines cross
    drawn = str(tradeoff_chart([(-1.645, -1.645)], [], "curve"))
    root = ElementTree.fromstring(drawn)
    (curve,) = [node.get("points") for node in root.iter() if node.tag == "polyline"]
    x, y = curve.split(",")
    lines = [node.attrib for node in root.iter() if node.tag == "line"]
    assert any(line["x1"] == line["x2"] == x for line in lines)
    assert any(line["y1"] == line["y2"] == y for line in lines)


def test_hands_with_scores_say_nothing_in_english_where_spanish_was_chosen(twin: Served) -> None:
    with twin.enter() as client:
        explained, alarms, forecasts = (
            list(csv.DictReader(io.StringIO(client.get(f"/hands/data/{name}").text)))
            for name in ("explained", "alarms", "forecasts")
        )
        people = {next(row["person"] for row in rows if row["person"]) for rows in (explained, alarms, forecasts)}
        for person in people:
            assert left_in_english(twin, client, f"/hands/person/{person}") == set()


def test_thresholds_are_weighed_in_spanish_too(
    at_mill: httpx.Client, form_token: Callable[[httpx.Client], str]
) -> None:
    asked = WEIGHED | {"form_token": form_token(at_mill)}
    english = at_mill.post("/hands/threshold", data=asked).text
    at_mill.get("/missing?speak=es")
    try:
        spanish = at_mill.post("/hands/threshold", data=asked).text
        assert (language_of(english), language_of(spanish)) == ("en", "es")
        assert untranslated(english, spanish, ("evenhand", "Mill & Sons")) == set()
        # 1000 x 0.1 x 0.25 = 25 minutes, as in English
        assert "Con 18 son 25.0 minutos" in spanish
        wrong = {"scores": "comparison,score\nmated,x\n"}, {"scores": ""}, {"presentations": "many"}, {"minutes": ""}
        for one in wrong:
            refused = at_mill.post("/hands/threshold", data=asked | one)
            assert refused.status_code in (400, 409)
            assert language_of(refused.text) == "es"
    finally:
        at_mill.get("/missing?speak=en")


def test_a_chart_is_drawn_in_spanish_with_its_days() -> None:
    points = [Point(DAYS[0], "A", 4.0, 9.0, 0), Point(DAYS[1], "A", 10.0, 20.0, 1)]
    drawn = str(
        score_chart(points, DAYS, threshold=18.0, changes=[(DAYS[1], "x")], enrolments=[], says="y", say=say_in("es"))
    )
    # Unicode CLDR calls March `mar` in Spanish
    assert "12 mar, A: mediana 10.0, la más alta 20.0, 1 sin aceptar" in drawn
    assert ">umbral 18<" in drawn
    assert ">cambio<" in drawn
    assert not re.search("threshold|median |refused<|>change<", drawn)
