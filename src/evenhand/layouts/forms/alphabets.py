"""Whether a text that is not Unicode is in a code page beside the usual two, as its words tell by their letters.

Read by a page that it is not in, a word has signs amid its letters (¦cibor, W±sacz), capitals inside, or letters that
no one language has together. Source of the pages: the tables of Python's codecs, which follow the mappings that the
Unicode Consortium publishes. Which letters a language has is common practice, no source.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Mapping, Sequence

__all__ = ["PAGES", "best_pages", "has_signs", "parts_of"]

LETTERS_OF: Mapping[str, Sequence[str]] = {
    "central": (
        "ąćęłńóśźż",  # Polish
        "áčďéěíňóřšťúůýž",  # Czech
        "áäčďéíĺľňóôŕšťúýž",  # Slovak
        "áéíóöőúüű",  # Hungarian
        "ăâîşţ",  # Romanian
        "čćđšž",  # Croatian, Slovene
        "äöüß",  # German
    ),
    "western": (
        "áéíñóúü",  # Spanish
        "àâæçèéêëîïôœùûüÿ",  # French
        "ßäöü",  # German
        "àáâãçéêíóôõú",  # Portuguese
        "àèéìíòóù",  # Italian
        "åæéø",  # Danish, Norwegian
        "äåéö",  # Swedish
        "áèéëíïóöúü",  # Dutch
    ),
}
PAGES: Mapping[str, str] = {
    "windows-1252": "western",
    "windows-1250": "central",
    "iso8859-2": "central",
    "mac-latin2": "central",
    "cp852": "central",
    "mac-roman": "western",
    "cp850": "western",
}
BETWEEN = re.compile("[\xa0\xad\xb7\xaa\xba\xb0´`‘’‚“”„•…°]+|[–—](?![a-z])")  # what may stand amid words in any text


def best_pages(words: Collection[bytes]) -> list[str]:
    """Return the pages that read all words as words, those by which one language holds the most of them.

    Of pages that read the words alike only the first is there.
    """
    found: dict[tuple[str, ...], tuple[int, str]] = {}
    for page, where in PAGES.items():
        read, fitting = [], []
        for part in (part for word in words for part in parts_of(word, page)):
            fits = {at for at, letters in enumerate(LETTERS_OF[where]) if _letters(part) <= {*letters}}
            if not fits or has_signs(part):
                break
            read.append(part)
            fitting.append(fits)
        else:
            together = max(sum(at in fits for fits in fitting) for at in range(len(LETTERS_OF[where])))
            found.setdefault(tuple(read), (together, page))
    most = max((together for together, _ in found.values()), default=0)
    return [page for together, page in found.values() if together == most]


def parts_of(word: bytes, page: str) -> list[str]:
    """Return the words that some bytes are by a page, without numbers and those of plain letters alone."""
    parts = BETWEEN.split(word.decode(page, errors="replace"))
    return [part for part in parts if not part.isascii() and not any(map(str.isdigit, part))]


def has_signs(word: str) -> bool:
    """Return whether a word holds what is no letter beside plain letters, or a letter of the wrong case inside."""
    if sum(letter.isascii() and letter.isalpha() for letter in word) < 2:
        return False
    for at, letter in enumerate(word):
        if letter.isascii():
            continue
        if unicodedata.category(letter) not in ("Lu", "Ll"):
            return True
        beside = word[at + 1] if at + 1 < len(word) else word[at - 1]
        if at and letter not in "ßÿ" and beside.isalpha() and beside.isupper() != letter.isupper():
            return True
    return False


def _letters(word: str) -> set[str]:
    return {letter for letter in word.lower() if not letter.isascii()}
