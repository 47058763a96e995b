"""What words mean, however they are inflected, joined, taken apart, cut short or drawn together.

Every answer gives the meanings that a word may have, each with what its spelling costs: 0 for the word itself, more the
further it is from one that is known, and the more other words it fits as well.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from functools import cache, lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA

from evenhand.layouts.wording.words import MEANINGS, SILENT

__all__ = [
    "ANY",
    "Meanings",
    "Spoken",
    "Words",
    "languages_of",
    "is_silent",
    "meanings_of",
    "parts_of",
    "spoken_in",
    "together",
    "words_of",
]

Words = tuple[str, ...]
Meanings = Mapping[str, float]
"""What a word may mean, each with what its spelling costs; nothing where it is not known."""

Spoken = frozenset[str]
"""The languages in which a file is written; none where that is not known."""

ANY: Spoken = frozenset()
INFLECTED = 0.15
FOREIGN, ENGLISH = 0.9, 0.3  # a word of another language than the file's; of English, which stands in files of all
FOREIGN_CUT, ENGLISH_CUT = 0.2, 0.5  # how much less likely such a word is cut short
SPOKEN_ABOUT, SPOKEN_LIKE = 1.5, 0.6  # words that tell a language; how many others of it another one may tell
CUT, CUT_OF_TWO, INITIAL = 0.6, 1.4, 1.0  # a word cut short: to three letters or more, to two, to its first
DRAWN, SLIP = 0.9, 1.0  # drawn together (dpto), a letter off
UNSURE = 0.6  # times the logarithm of how many words are meant as well
RARE = 0.12  # of the words that are fitted, the share of those that mean something, below which it is not thought of
SHORTEST_CUT, SHORTEST_STEM = 3, 3
SPELT = 7  # letters from which on two of them may be wrong; one from five letters on
LONGEST_DRAWN = 8
VOWELS = frozenset("aeiouy")

# The meanings that people write by one letter alone, beside a word that says of what: F. nac., H. arr., N. tel.
HEADS = frozenset(
    ["amount", "code", "date", "end", "given_name", "hours", "name", "number", "rate", "start", "time", "zone"]
)
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


@lru_cache(maxsize=16384)
def meanings_of(words: Words, spoken: Spoken = ANY) -> Meanings:
    """Return what a word, or a row of words, means as it stands or inflected."""
    if meant := _index().get(_row(words)):
        return {meaning: _foreign(languages, spoken) for meaning, languages in meant.items()}
    found: dict[str, float] = {}
    for language in ENDINGS:
        cost = INFLECTED + _foreign(frozenset([language]), spoken)
        for meaning in _stems().get((language, *(_stem(word, language) for word in words)), ()):
            found[meaning] = min(cost, found.get(meaning, cost))
    return found


@lru_cache(maxsize=16384)
def together(words: Words, spoken: Spoken = ANY) -> Meanings:
    """Return what several words mean together: as they stand, written as one, or each of them cut short."""
    if meant := meanings_of(words, spoken):
        return meant
    joined = "".join(words)
    if len(joined) > 4 and (meant := meanings_of((joined,), spoken)):
        return meant
    return _all_cut(words, spoken)


@lru_cache(maxsize=16384)
def parts_of(word: str, spoken: Spoken = ANY) -> tuple[tuple[Meanings, ...], ...]:
    """Return the ways to read one word, each as the meanings of its parts: as one word, or as a compound of some."""
    meant = meanings_of((word,), spoken)
    if meant and (len(word) < SHORTEST_CUT or min(meant.values()) < ENGLISH):
        return ((meant,),)
    ways = [(meant,)] if meant else []
    if len(word) == 1:
        return (*ways, (_initial(word),)) if (meant or _initial(word)) else (({},),)
    if meant:
        # A word of another language may be one of the file's own cut short.
        return (*ways, (own,)) if (own := _cut(word, spoken)) else tuple(ways)
    if compound := _headed(word, spoken) or _compound(word, spoken) or _clipped(word, spoken):
        ways.append(compound)
    if cut := _cut(word, spoken):
        ways.append((cut,))
    if ways:
        return tuple(ways)
    if SHORTEST_CUT <= len(word) <= LONGEST_DRAWN and (drawn := _drawn_together(word, spoken)):
        return ((drawn,),)
    if len(word) > 4:
        most = 2 if len(word) > SPELT else 1
        if like := process.extractOne(word, _single_words(), scorer=OSA.distance, score_cutoff=most):
            return (({meaning: SLIP + cost for meaning, cost in meanings_of((like[0],), spoken).items()},),)
    return (({},),)


def _foreign(languages: frozenset[str], spoken: Spoken) -> float:
    return 0.0 if not spoken or languages & spoken else ENGLISH if "en" in languages else FOREIGN


def _headed(word: str, spoken: Spoken) -> tuple[Meanings, ...]:
    """Return what a word means whose last part is a head word written in another way: zutrittsnr for zutrittsnummer."""
    for at in range(3, len(word) - 1):
        if (head := _heads().get(word[at:])) and (meant := _index().get((word[:at], head))):
            return ({meaning: _foreign(languages, spoken) for meaning, languages in meant.items()},)
    return ()


def _compound(word: str, spoken: Spoken) -> tuple[Meanings, ...]:
    """Return the parts of a compound, the longest first part that is known with a known rest."""
    for at in range(len(word) - 2, 1, -1):
        first, rest = word[:at], word[at:]
        if (len(first) > 2 or len(rest) > 3) and (len(rest) > 2 or rest in _heads()):
            if not (known := _linked(first, spoken)):
                continue
            if meant := meanings_of((rest,), spoken):
                return (known, meant)
            if len(rest) > 5 and (parts := _compound(rest, spoken)):
                return (known, *parts)
    return ()


def _linked(first: str, spoken: Spoken) -> Meanings:
    """Return what the first part of a compound means, also with the letter by which it is linked."""
    return meanings_of((first,), spoken) or next(
        (
            meant
            for link in ("s", "es", "n", "en", "e", "er")
            if first.endswith(link)
            and len(first) > len(link) + 2
            and (meant := meanings_of((first.removesuffix(link),), spoken))
        ),
        {},
    )


def _clipped(word: str, spoken: Spoken) -> tuple[Meanings, ...]:
    """Return the parts of a compound one of which is cut short: kartnr, startdat."""
    for at in range(2, len(word) - 1):
        first, rest = word[:at], word[at:]
        if len(rest) < SHORTEST_CUT and rest not in _heads():
            break
        if len(first) >= SHORTEST_CUT and (known := meanings_of((rest,), spoken)) and (cut := _cut(first, spoken)):
            return (cut, known)
        if len(first) > 3 and len(rest) >= SHORTEST_CUT and (known := _linked(first, spoken)):
            if cut := _cut(rest, spoken):
                return (known, cut)
    return ()


Fitting = Iterable[tuple[Mapping[str, frozenset[str]], float]]


def _graded(fitting: Fitting, cost: float, spoken: Spoken) -> Meanings:
    """Return the meanings of words that are fitted, with their weights: the fewer others are meant, the cheaper."""
    weights: defaultdict[str, float] = defaultdict(float)
    total = 0.0
    for meanings, weight in fitting:
        likeliest = 0.0
        for meaning, languages in meanings.items():
            away = _foreign(languages, spoken)
            of_it = weight * (1.0 if not away else ENGLISH_CUT if away == ENGLISH else FOREIGN_CUT)
            weights[meaning] += of_it
            likeliest = max(likeliest, of_it)
        total += likeliest
    return {
        meaning: cost - UNSURE * math.log(min(1.0, weight / total))
        for meaning, weight in weights.items()
        if weight >= RARE * total
    }


@lru_cache(maxsize=8192)
def _cut(word: str, spoken: Spoken) -> Meanings:
    """Return what a word cut short means; the more of a word's letters are left, the likelier it is meant."""
    fitting = [
        (meanings, (len(word) / len(full)) ** 2)
        for full, meanings in _longer().get(word[:2], ())
        if full.startswith(word)
    ]
    return _graded(fitting, CUT if len(word) >= SHORTEST_CUT else CUT_OF_TWO, spoken)


@cache
def _initial(letter: str) -> Meanings:
    """Return what a letter alone may stand for beside a word that says of what."""
    heads = {meaning for words, meanings in _index().items() if words[0][0] == letter for meaning in meanings}
    return dict.fromkeys(heads & HEADS, INITIAL)


@lru_cache(maxsize=4096)
def _drawn_together(word: str, spoken: Spoken) -> Meanings:
    """Return what a word means that longer ones, which hold its letters in turn, are drawn together to."""
    if sum(letter in VOWELS for letter in word[1:]) > 1:
        return {}
    pattern = re.compile(".*".join(map(re.escape, word)))
    consonants = _consonants(word)
    fitting = [
        (meanings, (len(word) / len(full)) ** 4)
        for full, meanings in _longer().get(word[0], ())
        if len(full) > len(word)
        and pattern.match(full)
        and ((full[-1] == word[-1] and len(word) <= len(full) * 0.7) or _consonants(full).startswith(consonants))
    ]
    return _graded(fitting, DRAWN, spoken)


def _consonants(word: str) -> str:
    return word[0] + "".join(letter for letter in word[1:] if letter not in VOWELS)


@lru_cache(maxsize=4096)
def _all_cut(words: Words, spoken: Spoken) -> Meanings:
    """Return what words mean that are known together, at least one of them cut short: Prén. us. for prénom usuel."""
    if sum(map(len, words)) < 4:
        return {}
    fitting, costs = [], []
    for full, meanings in _initials().get("".join(word[0] for word in words), ()):
        pairs = list(zip(_row(words), full, strict=True))
        if all(long.startswith(word) for word, long in pairs):
            fitting.append((meanings, 1.0))
            costs.append(sum(0.0 if word == long else 0.3 if len(word) > 2 else 0.5 for word, long in pairs))
    return _graded(fitting, min(costs), spoken) if fitting else {}


def _stem(word: str, language: str) -> str:
    for ending in ENDINGS[language]:
        if word.endswith(ending) and len(word) - len(ending) >= SHORTEST_STEM:
            return word.removesuffix(ending)
    return word


def _row(words: Words) -> Words:
    """Return a row of words with its head words written in one way; a word alone stays as it is."""
    return words if len(words) == 1 else tuple(_heads().get(word, word) for word in words)


@cache
def _heads() -> dict[str, str]:
    """Return the words for a number, a code, a date, an identifier and a name, each with the one that stands for all."""
    heads: dict[str, str] = {}
    for meaning in HEAD_WORDS:
        for listed in MEANINGS[meaning].values():
            for word in listed.split(","):
                words = words_of(word)
                if len(words) == 1 and len(words[0]) > 1:
                    heads.setdefault(words[0], meaning)
    return heads


def _entries() -> Iterator[tuple[str, str, Words]]:
    """Yield each meaning with a language and one of its words, or rows of words, also without those that are silent."""
    for meaning, by_language in MEANINGS.items():
        for language, listed in by_language.items():
            for word in listed.split(","):
                for spelling in {word.strip(), word.strip().translate(UMLAUTS)}:
                    words = words_of(spelling)
                    yield meaning, language, words
                    spoken = tuple(one for one in words if one not in _silent())
                    if spoken and spoken != words:
                        yield meaning, language, spoken
                    if len(words) == 1 and (parted := _parted(words[0])):
                        yield meaning, language, parted


def _parted(word: str) -> Words:
    """Return a compound parted before its head word: zutrittsnummer as zutritts and nummer."""
    for at in range(3, len(word) - 2):
        if word[at:] in _heads():
            return word[:at], word[at:]
    return ()


@cache
def _silent() -> frozenset[str]:
    return frozenset(SILENT.split())


def is_silent(word: str) -> bool:
    """Return whether a word parts others and mostly means nothing by itself."""
    return word in _silent()


@cache
def _index() -> dict[Words, dict[str, frozenset[str]]]:
    """Return what each word, and each row of words, may mean, and in which languages."""
    index: defaultdict[Words, defaultdict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
    for meaning, language, words in _entries():
        index[_row(words)][meaning].add(language)
    return {
        words: {meaning: frozenset(languages) for meaning, languages in meanings.items()}
        for words, meanings in index.items()
    }


@cache
def _stems() -> dict[Words, frozenset[str]]:
    """Return what words mean by their stems, each behind its language."""
    stems: defaultdict[Words, set[str]] = defaultdict(set)
    for meaning, language, words in _entries():
        if len(words[-1]) > SHORTEST_STEM:
            stems[(language, *(_stem(word, language) for word in words))].add(meaning)
    return {words: frozenset(meanings) for words, meanings in stems.items()}


@cache
def _languages() -> dict[str, frozenset[str]]:
    found: defaultdict[str, set[str]] = defaultdict(set)
    for _, language, words in _entries():
        for word in words:
            found[word].add(language)
    return {word: frozenset(languages) for word, languages in found.items()}


def languages_of(word: str) -> frozenset[str]:
    """Return the languages in which a word stands."""
    return _languages().get(word, frozenset())


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


@cache
def _single_words() -> list[str]:
    return [words[0] for words in _index() if len(words) == 1 and len(words[0]) > 4]


@cache
def _longer() -> dict[str, list[tuple[str, dict[str, frozenset[str]]]]]:
    """Return the words that may be cut short or drawn together, by their first two letters and by the first alone."""
    longer: defaultdict[str, list[tuple[str, dict[str, frozenset[str]]]]] = defaultdict(list)
    for words, meanings in _index().items():
        if len(words) == 1 and len(words[0]) > SHORTEST_CUT:
            longer[words[0][:2]].append((words[0], meanings))
            longer[words[0][0]].append((words[0], meanings))
    return longer


@cache
def _initials() -> dict[str, list[tuple[Words, dict[str, frozenset[str]]]]]:
    """Return the rows of words that are known together, by their first letters."""
    rows: defaultdict[str, list[tuple[Words, dict[str, frozenset[str]]]]] = defaultdict(list)
    for words, meanings in _index().items():
        if len(words) > 1:
            rows["".join(word[0] for word in words)].append((words, meanings))
    return rows
