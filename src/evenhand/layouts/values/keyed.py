"""What a column of keyed numbers shows as a whole: zeros that a spreadsheet took away."""

from __future__ import annotations

from evenhand.layouts.values.coded import Coded

__all__ = ["number_notices"]

USUAL = 0.5  # of the distinct numbers, those of the commonest width, from which on it counts as the width meant
MOST_LOST = 0.25  # of the distinct numbers; zeros lead one number in ten by chance


def number_notices(coded: Coded, width: int) -> list[str]:
    """Return what should be said about the numbers; `width` is what the layout pads them to, 0 for nothing."""
    digits = {text for text in (value.removesuffix(".0") for value in coded.values) if text.isdigit()}
    notices = []
    if any(value.endswith(".0") for value in coded.values):
        notices.append("Numbers written as 1234.0 were read as 1234.")
    widths = [len(text) for text in digits]
    if width:
        padded = sum(seen < width for seen in widths)
        return [*notices, f"Numbers padded with zeros to {width} digits: {padded}."] if padded else notices
    if len(widths) < 4 or any(text.startswith("0") for text in digits):
        return notices
    usual = max(set(widths), key=lambda seen: (widths.count(seen), seen))
    shorter = sorted((text for text in digits if len(text) < usual), key=lambda text: (len(text), text))
    if shorter and len(widths) * USUAL <= widths.count(usual) and len(shorter) <= MOST_LOST * len(widths):
        notices.append(
            f"{len(shorter)} of {len(digits)} numbers are shorter than {usual} digits, such as {shorter[0]}, and none "
            f"begins with a zero; if a spreadsheet took zeros away, put number_width = {usual} into the layout."
        )
    return notices
