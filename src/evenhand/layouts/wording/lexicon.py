"""The words that are known, in eight languages: what each means as it stands, inflected, or in a row with others.

Every answer gives the meanings that words may have, each with what their spelling costs: 0 for the words themselves.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache

from evenhand.layouts.wording.words import MEANINGS, SILENT

__all__ = [
    "ANY",
    "ENGLISH",
    "Meanings",
    "Spoken",
    "Told",
    "Words",
    "foreign",
    "heads",
    "in_one_way",
    "in_rows",
    "index",
    "is_silent",
    "languages_of",
    "longer",
    "meanings_of",
    "single_words",
    "spoken_in",
    "words_of",
]

Words = tuple[str, ...]
Meanings = Mapping[str, float]
"""What a word may mean, each with what its spelling costs; nothing where it is not known."""

Told = Mapping[str, frozenset[str]]
"""What a word means, each with the languages in which it does."""

Spoken = frozenset[str]
"""The languages in which a file is written; none where that is not known."""

ANY: Spoken = frozenset()
INFLECTED = 0.15
FOREIGN, ENGLISH = 0.9, 0.3  # a word of another language than the file's; of English, which stands in files of all
SPOKEN_ABOUT, SPOKEN_LIKE = 1.0, 0.6  # words that tell a language; how many others of it another one may tell
SHORTEST_STEM = 3
SHORTEST_LONGER = 4  # letters of a word that is cut short or drawn together
SHORTEST_SPOKEN = 4  # letters of a row of words without those that are silent

# The meanings that are one word in a row of words, however they are written: nummer, nr, no, num.
HEAD_WORDS = ("number", "code", "date", "identifier", "name")

NUMERO = re.compile(r"[#№]|\bn\s?[º°]|\bn(?:o|r|um|ro)?\.(?=\s|\w|$)", re.IGNORECASE)
HUMP = re.compile(r"(?<=[a-zà-ÿ])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z])")
STROKED = str.maketrans({"ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "æ": "ae", "œ": "oe"})
UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})

# By what words end in the plural, as genitive and in other cases, for a man and a woman; the longest are tried first.
ENDINGS: dict[str, tuple[str, ...]] = {
    "en": ("ing", "ed", "es", "s", "e", "d"),
    "es": ("os", "as", "es", "o", "a", "e", "s"),
    "de": ("ern", "en", "er", "em", "es", "et", "e", "n", "s", "t"),
    "fr": ("ees", "es", "ee", "e", "s", "x"),
    "pt": ("oes", "os", "as", "es", "ao", "o", "a", "e", "s"),
    "it": ("he", "hi", "o", "a", "i", "e"),
    "nl": ("en", "er", "de", "e", "n", "s", "t"),
    "pl": (
        *("owego", "owej", "iego", "iemu", "owie", "ami", "ach", "ego", "emu", "iem", "owi", "ych", "ich", "ymi"),
        *("owa", "owy", "owe", "ie", "ow", "om", "em", "ej", "ym", "im", "a", "e", "i", "o", "u", "y"),
    ),
}


def words_of(text: str) -> Words:
    """Return the words of a header in small letters without accents; signs for 'number' and inner capitals part it."""
    parted = NUMERO.sub(" no ", HUMP.sub(" ", text.translate(STROKED)))
    apart = unicodedata.normalize("NFKD", parted.casefold())
    letters = "".join(c if c.isalnum() else " " for c in apart if not unicodedata.combining(c))
    return tuple(word for word in letters.split() if not word.isdigit())


def spoken_in(headers: Iterable[str]) -> Spoken:
    """Return the languages in which these headers are written; none where they tell too little."""
    told: defaultdict[str, float] = defaultdict(float)
    for word in (word for header in headers for word in words_of(header)):
        languages = languages_of(word)
        for language in languages:
            told[language] += 1 / len(languages)
    most = max(told.values(), default=0.0)
    if most < SPOKEN_ABOUT:
        return ANY
    return frozenset(language for language, share in told.items() if share >= SPOKEN_LIKE * most)


def languages_of(word: str) -> frozenset[str]:
    """Return the languages in which a word stands."""
    return _languages().get(word, frozenset())


def is_silent(word: str) -> bool:
    """Return whether a word parts others and mostly means nothing by itself."""
    return word in _silent()


@lru_cache(maxsize=16384)
def meanings_of(words: Words, spoken: Spoken = ANY) -> Meanings:
    """Return what a word, or a row of words, means as it stands or inflected."""
    if meant := index().get(in_one_way(words)):
        return {meaning: foreign(languages, spoken) for meaning, languages in meant.items()}
    found: dict[str, float] = {}
    for language in ENDINGS:
        cost = INFLECTED + foreign(frozenset([language]), spoken)
        for meaning in _stems().get((language, *(_stem(word, language) for word in words)), ()):
            found[meaning] = min(cost, found.get(meaning, cost))
    return found


def foreign(languages: frozenset[str], spoken: Spoken) -> float:
    """Return what it costs that a word is one of these languages in a file of others."""
    return 0.0 if not spoken or languages & spoken else ENGLISH if "en" in languages else FOREIGN


def in_one_way(words: Words) -> Words:
    """Return a row of words with its head words written in one way; a word alone stays as it is."""
    return words if len(words) == 1 else tuple(heads().get(word, word) for word in words)


@cache
def heads() -> dict[str, str]:
    """Return the words for a number, a code, a date, an identifier and a name, each with its meaning."""
    heads: dict[str, str] = {}
    for meaning in HEAD_WORDS:
        for listed in MEANINGS[meaning].values():
            for word in listed.split(","):
                words = words_of(word)
                if len(words) == 1 and len(words[0]) > 1:
                    heads.setdefault(words[0], meaning)
    return heads


@cache
def index() -> dict[Words, Told]:
    """Return what each word, and each row of words, may mean, and in which languages."""
    index: defaultdict[Words, defaultdict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
    for meaning, language, words in _entries():
        index[in_one_way(words)][meaning].add(language)
    return {
        words: {meaning: frozenset(languages) for meaning, languages in meanings.items()}
        for words, meanings in index.items()
    }


@cache
def longer() -> dict[str, list[tuple[str, Told]]]:
    """Return the words that may be cut short or drawn together, by their first two letters and by the first alone."""
    longer: defaultdict[str, list[tuple[str, Told]]] = defaultdict(list)
    for words, meanings in index().items():
        if len(words) == 1 and len(words[0]) >= SHORTEST_LONGER:
            longer[words[0][:2]].append((words[0], meanings))
            longer[words[0][0]].append((words[0], meanings))
    return longer


@cache
def in_rows() -> dict[str, list[tuple[Words, Told]]]:
    """Return the rows of words that are known together, by their first letters."""
    rows: defaultdict[str, list[tuple[Words, Told]]] = defaultdict(list)
    for words, meanings in index().items():
        if len(words) > 1:
            rows["".join(word[0] for word in words)].append((words, meanings))
    return rows


@cache
def single_words() -> list[str]:
    """Return the words of five letters or more."""
    return [words[0] for words in index() if len(words) == 1 and len(words[0]) > 4]


def _stem(word: str, language: str) -> str:
    for ending in ENDINGS[language]:
        if word.endswith(ending) and len(word) - len(ending) >= SHORTEST_STEM:
            return word.removesuffix(ending)
    return word


@cache
def _entries() -> list[tuple[str, str, Words]]:
    """Return each meaning with a language and one of its words, or rows of words, in every way to write it."""
    return [
        (meaning, language, row)
        for meaning, by_language in MEANINGS.items()
        for language, listed in by_language.items()
        for word in listed.split(", ")
        for row in _rows_of(word)
    ]


def _rows_of(text: str) -> set[Words]:
    """Return the ways to write a word, or a row of words: with umlauts apart, without silent words, its head apart."""
    rows = {words_of(spelling) for spelling in {text, text.translate(UMLAUTS)}}
    for words in list(rows):
        spoken = tuple(one for one in words if one not in _silent())
        if spoken != words and sum(map(len, spoken)) >= SHORTEST_SPOKEN:
            rows.add(spoken)
        if len(words) == 1 and (parted := _parted(words[0])):
            rows.add(parted)
    return rows


def _parted(word: str) -> Words:
    """Return a compound parted before its head word: zutrittsnummer as zutritts and nummer."""
    for at in range(3, len(word) - 2):
        if word[at:] in heads():
            return word[:at], word[at:]
    return ()


@cache
def _silent() -> frozenset[str]:
    return frozenset(SILENT.split())


@cache
def _languages() -> dict[str, frozenset[str]]:
    found: defaultdict[str, set[str]] = defaultdict(set)
    for _, language, words in _entries():
        for word in words:
            found[word].add(language)
    return {word: frozenset(languages) for word, languages in found.items()}


@cache
def _stems() -> dict[Words, frozenset[str]]:
    """Return what words mean by their stems, each behind its language."""
    stems: defaultdict[Words, set[str]] = defaultdict(set)
    for meaning, language, words in _entries():
        if len(words[-1]) >= SHORTEST_STEM:
            stems[(language, *(_stem(word, language) for word in words))].add(meaning)
    return {words: frozenset(meanings) for words, meanings in stems.items()}
