"""The words of a round in each language: English as it stands in the code, others from their catalogues."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from io import StringIO

from evenhand.terms.rounds import LANGUAGES
from evenhand.terms.words import as_clock

__all__ = ["NAMES", "Words", "clock_in", "day_in", "read_words", "sentence"]

NAMES = {"en": "English", "es": "español"}


Words = Mapping[str, str]
"""What each English sentence is in one language."""


def read_words(catalogues: Mapping[str, str]) -> dict[str, Words]:
    """Return the words of each language of a round, from the text of its catalogue (GNU gettext's PO format).

    English stands in the code and has none. Raises KeyError for a language without a catalogue, and where a sentence
    has not been translated.
    """
    from babel.messages.pofile import read_po

    words: dict[str, Words] = {}
    for language in LANGUAGES:
        if language == "en":
            continue
        catalogue = read_po(StringIO(catalogues[language]), locale=language)
        messages = [message for message in catalogue if message.id]
        lacking = [message.id for message in messages if not message.string or message.fuzzy]
        if lacking:
            raise KeyError(f"not translated: {lacking[0]}")
        words[language] = {str(message.id): str(message.string) for message in messages}
    return {"en": {english: english for said in words.values() for english in said}} | words


def sentence(english: str) -> str:
    """Return an English sentence of the catalogue as it is: what is kept in English and said in any language."""
    return english


def day_in(language: str, day: date) -> str:
    """Return a day in full, such as Monday, March 9, 2026, or lunes, 9 de marzo de 2026."""
    from babel.dates import format_date

    return str(format_date(day, "full", locale=language))


def clock_in(zone: str, instant: int | None) -> str:
    """Return a time of day in a zone, such as 07:30; nothing for none."""
    return "" if instant is None else as_clock(instant, zone)
