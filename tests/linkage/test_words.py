"""The evidence in words: what stands on the page beside each part's bits, either way it speaks."""

from __future__ import annotations

from typing import Any

import pytest

from evenhand.linkage.tables import EVIDENCE
from evenhand.linkage.words import Part, parts_of
from evenhand.terms.likeness.explain import KINDS

ROW: dict[str, Any] = {
    **dict.fromkeys(EVIDENCE, 0.0),
    "kind": None,
    "meant": None,
    **{f"{name}_{what}": 0 for name in ("days", "parity", "name", "enrolment", "dates", "refused", "confirmed")
       for what in "kn"},
    "minutes_off": None,
    "impossible": 0,
    "unemployed": 0,
}  # fmt: skip


def says(name: str, bits: float = 1.0, **more: Any) -> str:
    [part] = parts_of(ROW | {name: bits} | more)
    assert (part.name, part.bits) == (name, bits)
    return part.says


@pytest.mark.parametrize(
    ("name", "more", "sentence"),
    [
        ("number", {}, "nothing explains how this person's number could become this one"),
        ("number", {"kind": "adjacent", "meant": "4821"}, "the number is 4821 with two digits swapped"),
        ("number", {"kind": "own", "meant": "4821"}, "the number is their own number"),
        ("name", {"name_k": 1}, "the name that the reader holds beside the number is this person's"),
        ("name", {}, "the name that the reader holds beside the number is not this person's"),
        ("days", {}, "no stretch to compare"),
        (
            "days",
            {"days_k": 3, "days_n": 5},
            "was to work then, and has no punch of their own, in 3 of 5 stretches looked at",
        ),
        (
            "parity",
            {"parity_k": 2, "parity_n": 4},
            "on 2 of 4 stretches with punches of their own, both together go in and out by turns",
        ),
        ("time", {}, "the times beside the hours this person usually punches"),
        ("time", {"minutes_off": float("nan")}, "the times beside the hours this person usually punches"),
        (
            "time",
            {"minutes_off": 7.6},
            "the times lie 8 minutes from scheduled starts, ends and meals, on average",
        ),
        ("enrolment", {"enrolment_k": 1}, "their own number is not enrolled at this reader"),
        ("enrolment", {}, "their own number is enrolled at this reader"),
        ("dates", {"dates_k": 1}, "hired in the three weeks before this number was enrolled"),
        ("dates", {}, "not hired in the three weeks before this number was enrolled"),
        ("refused", {"refused_k": 1}, "one of the two numbers was refused here seconds before the other was accepted"),
        ("refused", {}, "never tried both numbers one after the other"),
        ("confirmed", {"confirmed_k": 1}, "earlier punches under this number here were given to them by hand"),
        ("confirmed", {}, "earlier punches under this number here were given to somebody else by hand"),
        ("elsewhere", {"impossible": 2}, "punched at another site within ten minutes of 2 of these punches"),
        ("employed", {"unemployed": 3}, "was not employed on the day of 3 of these punches"),
    ],
)
def test_each_part_says_what_was_seen(name: str, more: dict[str, Any], sentence: str) -> None:
    assert says(name, **more) == sentence


def test_parts_whose_sign_tells_say_it() -> None:
    assert says("former", -1) == "the number was, or will be, that of somebody not employed then"
    assert says("former", 1) == "the number is not that of anybody who has left"
    assert says("site", 1) == "works at this site"
    assert says("site", -1) == "seldom or never works at this site"
    # 11 bits against: one to two to the eleventh
    assert says("prior", -11) == "before any evidence: it may be anybody here, or nobody (1 to 2,048)"


def test_every_kind_of_error_has_words() -> None:
    assert {says("number", kind=kind, meant="77") for kind in KINDS} == {
        f"the number is {words.format(meant='77')}" for words in KINDS.values()
    }


def test_parts_that_weigh_nothing_are_left_out_and_the_others_keep_their_order() -> None:
    assert parts_of(ROW) == ()
    row = ROW | {"employed": -10.0, "prior": -3.0, "site": 1e-9, "time": 1.1e-9, "days": -1.1e-9}
    assert [(part.name, part.bits) for part in parts_of(row)] == [
        ("prior", -3.0), ("days", -1.1e-9), ("time", 1.1e-9), ("employed", -10.0)
    ]  # fmt: skip
    assert parts_of(ROW | {"employed": -10.0, "unemployed": 1}) == (
        Part("employed", -10.0, "was not employed on the day of 1 of these punches"),
    )
