"""The words of each language: English as it stands in the code, others from their catalogues."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from io import StringIO
from typing import Any

__all__ = ["LANGUAGES", "MEANT", "NAMES", "Words", "language_among", "read_words", "sentence"]

NAMES = {"en": "English", "es": "español"}
"""What each language calls itself."""
LANGUAGES = tuple(NAMES)

Words = Mapping[str, str]
"""What each English sentence, or pattern of one, is in one language."""
MEANT = "\x04"
"""Stands between what a word is said of (`msgctxt`) and the word, where it means two things: as gettext has it."""
PLURAL = "(n != 1)"
"""The one rule of plurals that is known here: English, Spanish and their like."""


def read_words(catalogues: Mapping[str, Iterable[str]]) -> dict[str, Words]:
    """Return the words of each language, from the texts of its catalogues (GNU gettext's PO format), one a subject.

    English stands in the code and has none. Raises KeyError for a language without a catalogue and where a sentence
    has not been translated, and ValueError where two catalogues say one sentence differently.
    """
    words: dict[str, Words] = {}
    for language in LANGUAGES:
        if language == "en":
            continue
        said: dict[str, str] = {}
        for text in catalogues[language]:
            for english, other in _entries(text, language):
                if said.setdefault(english, other) != other:
                    raise ValueError(f'said in two ways: "{english}"')
        words[language] = said
    return {"en": {key: key.rpartition(MEANT)[2] for said in words.values() for key in said}} | words


def _entries(text: str, language: str) -> Iterable[tuple[str, str]]:
    from babel.messages.pofile import read_po

    catalogue = read_po(StringIO(text), locale=language)
    if catalogue.plural_expr != PLURAL:
        raise ValueError(f"plurals by {catalogue.plural_expr}, where only {PLURAL} is known")
    for message in catalogue:
        if not message.id:
            continue
        ids = message.id if isinstance(message.id, tuple) else (message.id,)
        strings: tuple[Any, ...] = message.string if isinstance(message.string, tuple) else (message.string,)
        if message.fuzzy or len(strings) != len(ids) or not all(strings):
            raise KeyError(f"not translated: {ids[0]}")
        of = f"{message.context}{MEANT}" if message.context else ""
        yield from zip((f"{of}{one}" for one in ids), strings, strict=True)


def sentence(english: str) -> str:
    """Return an English sentence of the catalogue as it is: what is kept in English and said in any language."""
    return english


def language_among(accepted: str) -> str | None:
    """Return the first of our languages that an Accept-Language header names, or None.

    Source: RFC 9110, section 12.5.4: the higher the weight, the more preferred; 0 is not accepted.
    """
    weighed = []
    for place, one in enumerate(accepted.split(",")):
        name, _, weight = one.partition(";")
        language = name.strip().lower().partition("-")[0]
        try:
            quality = float(weight.strip().removeprefix("q=")) if weight.strip() else 1.0
        except ValueError:
            continue
        if language in NAMES and quality > 0:
            weighed.append((-quality, place, language))
    return min(weighed)[2] if weighed else None
