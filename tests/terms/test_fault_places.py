"""A fault is told by its place: what it says may hold what is known of people."""

from __future__ import annotations

from evenhand.terms.fault_places import place_of, places_of


def _fail() -> None:
    try:
        {}["Tess Marrow"]
    except KeyError as fault:
        raise ValueError("number 4101") from fault


def test_kinds_and_lines_are_told_and_no_value() -> None:
    try:
        _fail()
    except ValueError as fault:
        told = [*places_of(fault), place_of(fault)]
    assert [one.split(" at ")[0] for one in told] == ["KeyError", "ValueError", "ValueError"]
    assert all(f"{__name__} line " in one for one in told)
    assert not any("Marrow" in one or "4101" in one for one in told)
