"""Read the catalogues of what is said in each language."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources

from evenhand.terms.languages import LANGUAGES, Speech, Words, read_words

__all__ = ["said_in_english", "say_in", "words_said"]


@cache
def words_said(subject: str = "") -> Mapping[str, Words]:
    """Return what each English sentence is, by language: of the subjects that begin so, or of all."""
    return read_words({language: _texts(language, subject) for language in LANGUAGES if language != "en"})


def _texts(language: str, subject: str) -> list[str]:
    folder = resources.files("evenhand.terms.languages").joinpath(language)
    files = sorted((one for one in folder.iterdir() if one.name.endswith(".po")), key=lambda one: one.name)
    return [one.read_text(encoding="utf-8") for one in files if one.name.startswith(subject)]


def say_in(language: str, *, names_zones: bool = False) -> Speech:
    """Return what says the sentences of the catalogues in a language; where it `names_zones` each time has its own."""
    return _say_in(language, names_zones)


@cache
def _say_in(language: str, names_zones: bool) -> Speech:
    return Speech(language, words_said()[language], words_said("kept")[language], names_zones=names_zones)


def said_in_english(text: str, known: Iterable[str]) -> str:
    """Return the one of the English sentences `known` that a text says in any language; the text where it says none.

    So a form may show in its reader's language what is kept in one.
    """
    return next((one for one in known if any(say_in(language)(one) == text for language in LANGUAGES)), text)
