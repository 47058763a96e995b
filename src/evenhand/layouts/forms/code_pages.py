"""Which of two code pages a text is in that is not Unicode: that of western or that of central Europe.

Most bytes mean other letters in the two, so a name read by the wrong one is a wrong name. What decides is the words:
a sign amid letters is a letter of the other page, and each alphabet sets its letters beside others in its own way.
What decides between languages is common practice, no source. Source of the pages: the tables of Python's codecs
`cp1252` and `cp1250`, which follow the mappings that the Unicode Consortium publishes.

Where signs stand amid letters by the page that was found, the pages of other systems are tried as well.
"""

from __future__ import annotations

import re

from evenhand.layouts.forms.alphabets import best_pages, has_signs, parts_of

__all__ = ["CENTRAL", "WESTERN", "better_pages", "code_page_of"]

WESTERN, CENTRAL, ISO = "windows-1252", "windows-1250", "iso8859-2"
MOST_WORDS, MOST_TRIED = 20_000, 1_000
CLEAR = 4  # votes of one page for each of the other

WORD = re.compile(rb"[A-Za-z0-9]*[\x80-\xff][A-Za-z0-9\x80-\xff]*")
VOWEL, CONSONANT = "[aeiouyáéíóúýäëöü]", "[bcdfghjklmnpqrstvwxzšž]"
LETTER = "[a-zß-öø-ÿšžœ]"

# In words read as western, lower case. The letters of Polish, Czech, Slovak, Hungarian, Romanian and Croatian:
FOR_CENTRAL = re.compile(
    "|".join(
        (
            f"[³£¥¹¾¼¯]{LETTER}",  # ł Ł Ą ą ľ Ľ Ż
            f"{LETTER}(?:[³¿¾]|¹{LETTER})",  # ł ż ľ ą
            "[\x8d\x8f\x9d]",  # Ť Ź ť; these bytes mean nothing in the other page
            "œ(?![ui])",  # ś; a French œ stands before u or i
            f"ñ(?!{VOWEL}|n)",  # ń, never before a vowel; ñ always
            f"[èø](?:[aiouyáíóúùì])|{VOWEL}ø{VOWEL}|{VOWEL}ø$",  # č ř
            f"ì{CONSONANT}",  # ě
            f"ù{CONSONANT}",  # ů
            f"{VOWEL}[òï](?:{VOWEL}|$)(?<!ïn)",  # ň ď between vowels and at the end
            f"{VOWEL}æ$",  # ć
            f"þ$|{VOWEL}þ{VOWEL}",  # ţ
        )
    )
)
# The letters of Spanish, French, Portuguese, Italian, Danish, Norwegian and Swedish:
FOR_WESTERN = re.compile(
    "|".join(
        (
            f"ñ{VOWEL}",
            "œ[ui]",
            "[åà]",
            "ã[oe]|õe",
            f"è{CONSONANT}{{1,2}}e",
            f"(?:^|{CONSONANT})ø{CONSONANT}",
            f"{CONSONANT}æ{CONSONANT}",
            f"{CONSONANT}ò$|ì$|{CONSONANT}ù$",
            "[ao]ï[sclmnrv]",
            "ð",
            "^[aeo][ªº]|^[ªº]$|[0-9a-z][ªº]$",
            "ÿ|^¡|£(?:[0-9]|$)|m[²³]$|^[0-9]*[½¼¾]$",
        )
    )
)


def code_page_of(content: bytes) -> tuple[str, str]:
    """Return the page of a text, '' where its words do not tell, and then a word that may be read either way."""
    words = _words(content)
    central = western = 0
    open_word = ""
    for word in words:
        as_western = _read(word, "cp1252")
        if as_western == _read(word, "cp1250"):
            continue
        says_central, says_western = bool(FOR_CENTRAL.search(as_western)), bool(FOR_WESTERN.search(as_western))
        central += says_central and not says_western
        western += says_western and not says_central
        open_word = open_word or word.decode("cp1252", errors="replace")
    if central >= max(1, CLEAR * western):
        return CENTRAL, ""
    if western >= max(1, CLEAR * central) or not open_word:
        return WESTERN, ""
    return "", open_word


def better_pages(content: bytes, page: str) -> tuple[list[str], str]:
    """Return the pages by which a text may be meant rather than by the one that its words voted for, '' if they did
    not, and a word that says so as it reads by that; one page alone is told clearly.

    None where the vote is right. Where signs stand amid the letters of many words and no page is better, only the word.
    """
    words = _words(content)
    usual = [page] if page else [CENTRAL, WESTERN]
    amiss = [word for word in words if all(any(map(has_signs, parts_of(word, one))) for one in usual)]
    told = [word for word in words if parts_of(word, usual[0])]
    if not amiss and page != CENTRAL:
        return [], ""
    pages = best_pages(told[:MOST_TRIED])
    shown = (amiss or told or [b""])[0].decode(usual[0], errors="replace")
    if amiss and pages and not {*pages} & {*usual}:
        return (pages if len(amiss) > 1 else [*pages, *usual]), shown
    if not amiss:  # the two pages of central Europe differ in few letters, and both may be letters of some language
        return ([ISO, CENTRAL], shown) if pages == [ISO] else ([], "")
    return [], shown if len(amiss) > 1 and CLEAR * len(amiss) >= len(told) else ""


def _words(content: bytes) -> list[bytes]:
    """Return the words that are not of plain letters alone, in their order, each once."""
    found = (found.group() for _, found in zip(range(MOST_WORDS), WORD.finditer(content), strict=False))
    return list(dict.fromkeys(found))


def _read(word: bytes, page: str) -> str:
    try:
        return word.decode(page).lower()
    except UnicodeDecodeError:
        return "".join(bytes([byte]).decode(page, errors="ignore") or chr(byte) for byte in word).lower()
