"""Whether what somebody wrote as their signature is their own name."""

from __future__ import annotations

import re
import unicodedata

__all__ = ["is_name_of"]

WORD = re.compile(r"[^\W\d_]+")


def is_name_of(signature: str, name: str) -> bool:
    """Whether a signature has the first and the last word of a name, in any order, and no word that is not in it.

    Small letters and letters without their marks count as the same: a phone's keyboard may have no others.
    """
    signed, words = _words(signature), _words(name)
    return bool(words) and {words[0], words[-1]} <= {*signed} <= {*words}


def _words(text: str) -> list[str]:
    bare = "".join(one for one in unicodedata.normalize("NFKD", text) if not unicodedata.combining(one))
    return [word.casefold() for word in WORD.findall(bare)]
