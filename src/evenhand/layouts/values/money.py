"""How amounts of money are written: with the sign of a currency before or after them, and marks between thousands.

Source: Unicode CLDR for the marks of eight languages, ISO 4217 for the codes; short words for currencies are common
practice, no source.
"""

from __future__ import annotations

import re

__all__ = ["SIGN", "SPACES", "without_sign"]

SPACES = " \u00a0\u2009\u202f"  # that part thousands, or stand before a sign

SIGN = (
    r"(?:[A-Z]{0,2}\$|[€£¥₤₽₴₺₹₩₪]|zł|zl|Kč|Ft|kr\.?|Fr\.|lei|"
    "EUR|USD|GBP|PLN|CHF|CZK|BRL|MXN|CAD|AUD|NZD|SEK|NOK|DKK|HUF|RON|ARS|CLP|COP|PEN)"
)
"""The pattern of a currency's sign, in large or small letters."""

SIGNED = re.compile(rf"^{SIGN}[{SPACES}]*(?=[\d+-])|(?<=\d)[{SPACES}]*{SIGN}$", re.IGNORECASE)
SPACED = re.compile(rf"[{SPACES}]")


def without_sign(text: str) -> str:
    """Return an amount without a currency's sign, spaces of every kind written as plain ones."""
    return SPACED.sub(" ", SIGNED.sub("", text, count=1)).strip()
