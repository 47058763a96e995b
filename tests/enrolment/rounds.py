"""Rounds for the tests."""

from __future__ import annotations

from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS


def items(*rows):
    """Make items from (item, reader, position, action, person, number)."""
    return ROUND_ITEMS.rows(
        {
            "item": item,
            "round": "r1",
            "reader": reader,
            "position": position,
            "action": action,
            "person": person,
            "name": person,
            "number": number,
            "language": "en",
        }
        for item, reader, position, action, person, number in rows
    )


def outcomes(*rows, **more):
    """Make outcomes from (outcome, item, result, made_at)."""
    return OUTCOMES.rows(
        {"outcome": outcome, "item": item, "result": result, "made_at": at, "received_at": at, "author": "Sol", **more}
        for outcome, item, result, at in rows
    )
