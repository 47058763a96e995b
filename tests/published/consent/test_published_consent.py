"""Order and scope of consent against the statutes that cases.json names; each case says where its text is from."""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path

import pytest

from evenhand.records import consent
from evenhand.terms.consent import CONSENT_DECISIONS, CONSENT_TAKES, ENROLLED_AT
from evenhand.terms.sources import CONSENT

CASES = json.loads(Path(__file__).with_name("cases.json").read_text(encoding="utf-8"))["cases"]


def of_kind(kind):
    return [pytest.param(case, id=case["id"].replace(" ", "_")) for case in CASES if case["kind"] == kind]


@pytest.mark.parametrize("case", of_kind("scope"))
def test_what_a_law_says_of_hand_geometry(case):
    laws = [law for law in consent.laws_on(date.fromisoformat(case["on"])) if law.place == case["place"]]
    assert laws[0].covers.startswith("no:") is not case["covered"]
    assert case["words"] in laws[0].covers


@pytest.mark.parametrize("case", of_kind("electronic"))
def test_from_when_an_electronic_signature_is_a_written_release_in_illinois(case):
    laws = consent.laws_on(date.fromisoformat(case["on"]))
    assert any("electronic signature counts" in law.before for law in laws) is case["counts"]


@pytest.mark.parametrize("case", of_kind("order"))
def test_the_release_must_come_first(case):
    enrolled = datetime.fromisoformat(case["enrolled_at"])
    for text, is_lawful in zip(case["released_at"], case["lawful_order"], strict=True):
        released = datetime.fromisoformat(text)
        hand = (enrolled.date(), int(enrolled.timestamp()))
        assert consent.precedes((released.date(), int(released.timestamp())), hand) is is_lawful
        agreed = {
            "decision": 1,
            "action": "agree",
            "person": "P1",
            "said_on": released.date(),
            "said_at": int(released.timestamp()),
            "how": "phone",
            "author": "Ana",
            "made_at": int(released.timestamp()),
        }
        history = consent.history_of(CONSENT.empty(), CONSENT_TAKES.empty(), CONSENT_DECISIONS.rows([agreed]), {})
        listed = ENROLLED_AT.rows(
            [{"person": "P1", "number": "48", "reader": "North", "day": hand[0], "at": hand[1], "tells": "round"}]
        )
        assert consent.early_enrolments(history, listed).is_empty() is is_lawful
