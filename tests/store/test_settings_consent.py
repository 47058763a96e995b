"""[consent]: required unless somebody says otherwise, by site."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenhand.store.settings import parse_settings, read_settings, write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import ConsentRule, ConsentRules, PayPeriod, Settings

USUAL = '[workplace]\nname = "Mill"\n[pay_period]\nanchor = 2026-01-04\n'


def read(text):
    return parse_settings(USUAL + text, Path("evenhand.toml")).consent


def test_without_a_word_a_release_is_required_everywhere() -> None:
    assert read("") == ConsentRules()
    assert read("").at("Mill").is_required


def test_a_site_says_otherwise_and_keeps_what_it_does_not_say() -> None:
    rules = read('[consent]\npolicy = "Hands"\n[consent.site."Far"]\nrequired = false\n')
    assert rules.at("Far") == ConsentRule(is_required=False, policy="Hands")
    assert rules.at("Mill") == ConsentRule(policy="Hands")
    assert rules.at(None) == ConsentRule(policy="Hands")


def test_which_policies_are_asked_for_where() -> None:
    rules = read('[consent.site."Far"]\npolicy = "Far hands"\n')
    assert rules.named("Far", {"Hands", "Far hands"}) == {"Far hands"}
    assert rules.named("Mill", {"Hands", "Far hands"}) == {"Hands"}
    assert rules.named("Far", {"Hands"}) == frozenset()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[consent]\nneeded = true\n", "consent.needed: found a key nobody knows"),
        ('[consent]\nrequired = "yes"\n', "consent.required: found 'yes', expected true or false"),
        ('[consent.site."Far"]\npolicy = ""\n', "consent.site.Far.policy: found ''"),
        ("[consent]\nsite = 3\n", "expected a table"),
    ],
)
def test_what_is_not_understood_is_refused_with_its_place(text, says) -> None:
    with pytest.raises(Refusal, match=says):
        read(text)


@pytest.mark.parametrize(
    "rules",
    [
        ConsentRules(),
        ConsentRules(ConsentRule(is_required=False)),
        ConsentRules(ConsentRule(policy="Hands"), {"Far": ConsentRule(False, "Hands"), "B c": ConsentRule(True, "X")}),
    ],
)
def test_what_is_written_reads_back(tmp_path, rules) -> None:
    write_settings(tmp_path / "evenhand.toml", Settings("Mill", PayPeriod(date(2026, 1, 4)), consent=rules))
    assert read_settings(tmp_path / "evenhand.toml").consent == rules
