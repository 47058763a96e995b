"""The keys of a reader's pad, and which lie next to each other."""

from __future__ import annotations

from functools import cache

__all__ = ["TELEPHONE", "neighbours", "substitution"]

# Source: ITU-T Recommendation E.161 (layout from memory).
TELEPHONE = ("123", "456", "789", " 0 ")


@cache
def neighbours() -> dict[str, str]:
    """Return for each digit the digits beside, above and below it on the pad, in order."""
    places = {key: (row, column) for row, keys in enumerate(TELEPHONE) for column, key in enumerate(keys) if key != " "}
    return {
        key: "".join(
            sorted(
                other
                for other, (other_row, other_column) in places.items()
                if abs(row - other_row) + abs(column - other_column) == 1
            )
        )
        for key, (row, column) in places.items()
    }


def substitution(meant: str, keyed: str, neighbour_share: float | None) -> float:
    """Return P(keyed | meant) for one digit mistyped as another.

    `neighbour_share` is the chance that a mistyped digit is a neighbouring key; without it all nine are alike.
    """
    if meant == keyed:
        return 0.0
    if neighbour_share is None:
        return 1 / 9
    near = neighbours()[meant]
    return neighbour_share / len(near) if keyed in near else (1 - neighbour_share) / (9 - len(near))
