"""Characters that are not seen where they stand, or turn the text around them.

Source: Unicode Standard Annex 9, section 2 (characters that change direction); Unicode Technical Standard 39,
section 5.4 (invisible characters in identifiers).
"""

from __future__ import annotations

import re

__all__ = ["escaped", "hidden_in"]

# Joiners belong to the spelling of names in scripts that follow Latin, Greek, Cyrillic, Armenian and Hebrew.
HIDDEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    "\U000e0000-\U000e007f\ud800-\udfff]|(?<![\u0600-\u1fff\u2e80-\ufdff])[\u200c\u200d]"
)


def hidden_in(text: str) -> str:
    """Return the first character of the text that is not seen or turns it, such as `U+202E`; '' where none is.

    Tab and line feed are no such characters: they show.
    """
    found = HIDDEN.search(text)
    return f"U+{ord(found.group()):04X}" if found else ""


def escaped(text: str) -> str:
    """Return the text with an escape for every character that does not show, such as `\\u202e`; tabs stay."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        c if (c.isprintable() and not HIDDEN.match(c)) or c == "\t" else c.encode("unicode_escape").decode()
        for c in text
    )
