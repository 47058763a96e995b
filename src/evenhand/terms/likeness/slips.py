"""How a number that was meant becomes the number that was keyed: P(keyed | meant) for each kind of slip.

Source: the kinds of slip are those counted by J. Verhoeff, Error Detecting Decimal Codes, Mathematical Centre
Tracts 29, 1969 (from memory), with a digit dropped, doubled or added, and zeros lost in front.
"""

from __future__ import annotations

from collections.abc import Container, Iterator

import polars as pl

from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.likeness.keypad import substitution

__all__ = ["NEIGHBOUR_SHARE", "SLIPS", "likelihoods", "lost_zeros", "one_slip_away", "slips_toward"]

DIGITS = "0123456789"

# No published rate was found for readers' pads; 26/90 would say that nearness on the pad has no effect.
NEIGHBOUR_SHARE = 0.45

SLIPS = Table(
    "slips",
    "Numbers that were keyed, with every number that one slip makes them of",
    (
        Column("keyed", "text", "The number that was keyed", required=True),
        Column(
            "kind",
            "text",
            "The kind of slip",
            required=True,
            allowed=(
                "single",
                "adjacent",
                "jump",
                "twin",
                "jump_twin",
                "phonetic",
                "dropped",
                "doubled",
                "added",
                "zeros_lost",
                "zeros_added",
            ),
        ),
        Column("meant", "text", "The number that was meant", required=True),
        Column("likelihood", "score", "P(keyed | meant, kind)", required=True),
    ),
    key=("keyed", "kind", "meant"),
)


def slips_toward(
    keyed: pl.Series,
    meant: pl.Series,
    *,
    neighbour_share: float | None = NEIGHBOUR_SHARE,
) -> Frame:
    """Return SLIPS: of the numbers keyed, which can be one slip of which of those meant; by number keyed and kind.

    Candidates are made from each distinct keyed number and looked up among those meant.
    """
    held = set(meant.drop_nulls())
    lengths = {len(number) for number in held}
    rows: list[tuple[str, str, str, float]] = []
    for number in keyed.drop_nulls().unique().sort():
        for other in sorted(held.intersection(one_slip_away(number, lengths)) - {number}):
            slips = likelihoods(number, other, neighbour_share=neighbour_share)
            rows.extend((number, kind, other, chance) for kind, chance in slips.items())
    columns = zip(*rows, strict=True) if rows else ((),) * 4
    return SLIPS.frame(dict(zip(SLIPS.names, columns, strict=True)))


def likelihoods(
    keyed: str,
    meant: str,
    *,
    neighbour_share: float | None = NEIGHBOUR_SHARE,
) -> dict[str, float]:
    """Return P(keyed | meant, kind) for every kind of slip that turns `meant` into `keyed`; empty where none does."""
    if keyed == meant or not keyed or not meant:
        return {}
    if len(keyed) == len(meant):
        found = {**_same_length(keyed, meant), **_single(keyed, meant, neighbour_share)}
    elif len(keyed) == len(meant) - 1:
        found = {"dropped": sum(_without(meant, at) == keyed for at in range(len(meant))) / len(meant)}
    elif len(keyed) == len(meant) + 1:
        found = _one_more(keyed, meant)
    else:
        found = {}
    found.update(_zeros(keyed, meant))
    return {kind: chance for kind, chance in found.items() if chance > 0}


def lost_zeros(keyed: str, meant: str) -> bool:
    """Return whether the two differ only by zeros in front."""
    return keyed != meant and keyed.lstrip("0") == meant.lstrip("0") != ""


def one_slip_away(number: str, lengths: Container[int] = range(1, 21)) -> Iterator[str]:
    """Yield every number from which one slip leads to `number`, or to which one leads; some come twice.

    Only numbers of these `lengths` are wanted.
    """
    if len(number) in lengths:
        yield from _of_its_length(number)
    if len(number) - 1 in lengths:
        yield from (_without(number, at) for at in range(len(number)))
    if len(number) + 1 in lengths:
        yield from (number[:at] + digit + number[at:] for at in range(len(number) + 1) for digit in DIGITS)
    bare = number.lstrip("0")
    yield from ("0" * zeros + bare for zeros in range(1 + max(8 - len(bare), 0)) if len(bare) + zeros in lengths)


def _of_its_length(number: str) -> Iterator[str]:
    for at, digit in enumerate(number):
        head, tail = number[:at], number[at + 1 :]
        yield from (head + other + tail for other in DIGITS if other != digit)
    for step in (1, 2):
        for at in range(len(number) - step):
            yield _exchanged(number, at, at + step)
            if number[at] == number[at + step]:
                yield from (_with_both(number, at, at + step, other) for other in DIGITS if other != number[at])
    for at in range(len(number) - 1):
        first, second = number[at], number[at + 1]
        if second == "0" and first >= "2":
            yield number[:at] + "1" + first + number[at + 2 :]
        if first == "1" and second >= "2":
            yield number[:at] + second + "0" + number[at + 2 :]


def _same_length(keyed: str, meant: str) -> dict[str, float]:
    wrong = [at for at, (a, b) in enumerate(zip(meant, keyed, strict=True)) if a != b]
    if len(wrong) != 2:
        return {}
    first, second = wrong
    step = second - first
    if step > 2:
        return {}
    a, b = meant[first], meant[second]
    if keyed[first] == b and keyed[second] == a:
        kind = "adjacent" if step == 1 else "jump"
        return {kind: 1 / sum(meant[at] != meant[at + step] for at in range(len(meant) - step))}
    if a == b and keyed[first] == keyed[second]:
        kind = "twin" if step == 1 else "jump_twin"
        return {kind: 1 / (9 * sum(meant[at] == meant[at + step] for at in range(len(meant) - step)))}
    if step == 1 and _sounds_like(meant[first : second + 1], keyed[first : second + 1]):
        places = sum(
            (meant[at + 1] == "0" and meant[at] >= "2") or (meant[at] == "1" and meant[at + 1] >= "2")
            for at in range(len(meant) - 1)
        )
        return {"phonetic": 1 / places}
    return {}


def _sounds_like(meant: str, keyed: str) -> bool:
    """Thirty and thirteen: a0 for 1a and the other way round, a from 2 to 9."""
    return (meant[1] == "0" and meant[0] >= "2" and keyed == "1" + meant[0]) or (
        meant[0] == "1" and meant[1] >= "2" and keyed == meant[1] + "0"
    )


def _single(keyed: str, meant: str, neighbour_share: float | None) -> dict[str, float]:
    wrong = [(a, b) for a, b in zip(meant, keyed, strict=True) if a != b]
    return {"single": substitution(*wrong[0], neighbour_share) / len(meant)} if len(wrong) == 1 else {}


def _one_more(keyed: str, meant: str) -> dict[str, float]:
    doubled = sum(meant[:at] + meant[at - 1] + meant[at:] == keyed for at in range(1, len(meant) + 1)) / len(meant)
    places = [at for at in range(len(keyed)) if _without(keyed, at) == meant]
    added = len(places) / (10 * len(keyed))
    return {"doubled": doubled, "added": added}


def _zeros(keyed: str, meant: str) -> dict[str, float]:
    if not lost_zeros(keyed, meant):
        return {}
    if len(keyed) < len(meant):
        return {"zeros_lost": 1.0 if not keyed.startswith("0") else 0.1}
    return {"zeros_added": 0.5}


def _without(number: str, at: int) -> str:
    return number[:at] + number[at + 1 :]


def _exchanged(number: str, first: int, second: int) -> str:
    digits = list(number)
    digits[first], digits[second] = digits[second], digits[first]
    return "".join(digits)


def _with_both(number: str, first: int, second: int, digit: str) -> str:
    digits = list(number)
    digits[first] = digits[second] = digit
    return "".join(digits)
