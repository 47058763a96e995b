"""What a column of keyed numbers shows as a whole: zeros that a spreadsheet took away."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection

from evenhand.layouts.values.coded import Coded
from evenhand.terms.languages import sentence, told

__all__ = ["lost_zeros", "number_notices", "width_known"]

USUAL = 0.5  # of the distinct numbers, those of the commonest width, from which on it counts as the width meant
FEWEST_KNOWN, MOST_KNOWN = 4, 0.8  # distinct numbers; of the short ones, those that have to be known
MOST_CHANCE = 0.05  # of all numbers of a width, those that are known, so that few numbers are hardly known by chance
MOST_LOST = 0.35  # of the distinct numbers; zeros lead one number in ten by chance


def number_notices(coded: Coded, width: int | None) -> list[str]:
    """Return what should be said about the numbers; `width` is what the layout pads them to, 0 for nothing."""
    digits = _digits(coded)
    notices = []
    if any(value.endswith(".0") for value in coded.values):
        notices.append(sentence("Numbers written as 1234.0 were read as 1234."))
    if width:
        padded = sum(len(text) < width for text in digits)
        return (
            [*notices, told("Numbers padded with zeros to {width} digits: {padded}.", width=width, padded=padded)]
            if padded
            else notices
        )
    if width is None and (lost := lost_zeros(coded)):
        usual, short, shorter, of_all = lost
        notices.append(
            told(
                "{shorter} of {of_all} numbers are shorter than {usual} digits, such as {short}, and "
                "none begins with a zero; if a spreadsheet took zeros away, put number_width = {usual} "
                "into the layout.",
                shorter=shorter,
                of_all=of_all,
                usual=usual,
                short=short,
            )
        )
    return notices


def lost_zeros(coded: Coded) -> tuple[int, str, int, int] | None:
    """Return the usual width of the numbers, the shortest one, and how many of how many are shorter than usual.

    None where no numbers seem to have lost their zeros.
    """
    digits = _digits(coded)
    widths = [len(text) for text in digits]
    if len(widths) < 4 or any(text.startswith("0") for text in digits):
        return None
    usual = max(set(widths), key=lambda seen: (widths.count(seen), seen))
    shorter = sorted((text for text in digits if len(text) < usual), key=lambda text: (len(text), text))
    if not shorter or len(widths) * USUAL > widths.count(usual) or len(shorter) > MOST_LOST * len(widths):
        return None
    return usual, shorter[0], len(shorter), len(digits)


def width_known(coded: Coded, known: Collection[str]) -> int | None:
    """Return the width to which numbers have to be padded to be `known` ones, 0 where they are known as they are.

    None where they tell neither, or no number is shorter than the usual ones.
    """
    digits = _digits(coded)
    widths = Counter(len(text) for text in known)
    if not digits or not widths or any(text.startswith("0") for text in digits):
        return None
    width = widths.most_common(1)[0][0]
    shorter = [text for text in digits if len(text) < width]
    if not shorter:
        return None
    listed = set(known)
    as_they_are, padded = (
        sum(text in listed for text in texts) / len(shorter)
        for texts in (shorter, [text.zfill(width) for text in shorter])
    )
    if len(digits) < FEWEST_KNOWN and (as_they_are or padded < 1 or len(listed) > MOST_CHANCE * 10**width):
        return None
    if max(as_they_are, padded) < MOST_KNOWN or min(as_they_are, padded) > 1 - MOST_KNOWN:
        return None
    return width if padded > as_they_are else 0


def _digits(coded: Coded) -> set[str]:
    return {text for text in (value.removesuffix(".0") for value in coded.values) if text.isdigit()}
