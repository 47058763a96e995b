"""The words of a round in each language: English as it stands in the code, others from catalogues beside this file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import cache
from importlib import resources
from io import StringIO

from evenhand.terms.rounds import LANGUAGES
from evenhand.terms.words import as_clock

__all__ = ["NAMES", "clock_in", "day_in", "say_in", "sentence", "words_of"]

NAMES = {"en": "English", "es": "español"}


@cache
def words_of(language: str) -> Mapping[str, str]:
    """Return what each English sentence is in this language, from its catalogue (GNU gettext's PO format).

    Raises KeyError for a language without a catalogue, and where a sentence has not been translated.
    """
    from babel.messages.pofile import read_po

    if language not in LANGUAGES:
        raise KeyError(language)
    catalogue = resources.files(__name__).joinpath("es.po").read_text(encoding="utf-8")
    messages = [message for message in read_po(StringIO(catalogue), locale="es") if message.id]
    lacking = [message.id for message in messages if not message.string or message.fuzzy]
    if lacking:
        raise KeyError(f"not translated: {lacking[0]}")
    return {str(message.id): str(message.id if language == "en" else message.string) for message in messages}


def sentence(english: str) -> str:
    """Return an English sentence of the catalogue as it is: what is kept in English and said in any language."""
    return english


def say_in(language: str) -> Callable[[str], str]:
    """Return the function that says an English sentence of the catalogue in this language."""
    words = words_of(language)
    return lambda sentence: words[sentence]


def day_in(language: str, day: date) -> str:
    """Return a day in full, such as Monday, March 9, 2026, or lunes, 9 de marzo de 2026."""
    from babel.dates import format_date

    return str(format_date(day, "full", locale=language))


def clock_in(zone: str, instant: int | None) -> str:
    """Return a time of day in a zone, such as 07:30; nothing for none."""
    return "" if instant is None else as_clock(instant, zone)
