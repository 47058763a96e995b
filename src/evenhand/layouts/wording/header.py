"""Read a header: its words, whatever their language, order, number, compounding and cutting, and what they make."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA

from evenhand.layouts.wording.concepts import BESIDE, GENERIC, PHRASES
from evenhand.layouts.wording.words import MEANINGS, SILENT

__all__ = ["concepts_of", "is_header_word", "order_customary", "words_of"]

FAR = 2.6  # what a known word costs that stands beside a concept and belongs to another
UNKNOWN, UNKNOWN_OF = 1.3, 2.2  # what a word costs that is not known; more where it says what a date or number is of
OF_PERSON = 1.5
APART = 0.5  # what it costs to take words apart that are known together
SLIP, CUT, DRAWN = 1.0, 0.7, 1.0  # what a word costs that is a letter off, cut short, or drawn together
LONGEST_DRAWN = 5  # letters of a word drawn together to its first, its last and some between: ctro, dpto
SPELT = 7  # letters from which on two of them may be wrong; one from five letters on
LONGEST = 4  # words that stand for one meaning together
LONG_CUT = 5  # letters from which on a word that others begin with is cut short rather than made of parts
SHORTEST_CUT = 3  # letters that a word cut short still has
PLAIN = -1.8  # a cell that fits no concept better is no header
LONGEST_HEADER = 60  # characters
WORST = -4.0  # a concept that fits a header worse is none of it

AND = frozenset(["&", "+", "and", "y", "e", "und", "u.", "et", "i", "en"])
NUMERO = re.compile(r"[#№]|\bn\s?[º°]|\bn(?:o|r|um|ro)?\.(?=\s|\w|$)", re.IGNORECASE)
HUMP = re.compile(r"(?<=[a-zà-ÿ])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z])")
STROKED = str.maketrans({"ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "æ": "ae", "œ": "oe"})
UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})

Meanings = frozenset[str]
Path = tuple[str, ...]


@dataclass(frozen=True)
class WordPart:
    """A part of a header: what it may mean (nothing: `meanings` is empty), and what its spelling costs."""

    meanings: Meanings
    cost: float = 0.0


def words_of(text: str) -> Path:
    """Return the words of a header in small letters without accents; signs for 'number' and inner capitals part it."""
    parted = NUMERO.sub(" no ", HUMP.sub(" ", text.translate(STROKED)))
    apart = unicodedata.normalize("NFKD", parted.casefold())
    letters = "".join(c if c.isalnum() else " " for c in apart if not unicodedata.combining(c))
    return tuple(word for word in letters.split() if not word.isdigit())


@lru_cache(maxsize=16384)
def concepts_of(header: str) -> dict[str, float]:
    """Return the concepts that a header may name, each with the logarithm of how well it does: 0 is exactly."""
    found: dict[str, float] = {}
    for turn, parts in enumerate(_readings(words_of(header))):
        # Words that mean something together seldom mean something else apart.
        cost = sum(part.cost for part in parts) + (APART if turn else 0.0)
        unknown = sum(not part.meanings for part in parts)
        known = [part.meanings for part in parts if part.meanings]
        if not known:
            continue
        meant = frozenset().union(*known)
        for concept, phrase in dict.fromkeys(one for meaning in meant for one in _phrases().get(meaning, ())):
            is_generic = concept in GENERIC
            fit = -cost - (UNKNOWN_OF if is_generic else UNKNOWN) * unknown - _left_over(known, phrase)
            # A person's number is one of its own kind, and no number that just any column may hold.
            fit -= OF_PERSON if is_generic and "employee" not in phrase and "employee" in meant else 0.0
            if fit > max(WORST, found.get(concept, WORST)):
                found[concept] = fit
    if (
        found
        and max(found, key=found.__getitem__) in ("family_name", "given_name")
        and AND & set(header.casefold().split())
    ):
        # Two parts of a name, named with 'and' between, are the whole of it, however their words are cut.
        found = {"name": max(found.values())}
    return found


def is_header_word(text: str) -> bool:
    """Return whether a cell reads like a header; what holds digits is a value, whatever it resembles."""
    if any(character.isdigit() for character in text) or len(text) > LONGEST_HEADER:
        return False
    return max(concepts_of(text).values(), default=WORST) >= PLAIN


def _left_over(known: list[Meanings], phrase: Path) -> float:
    """Return what the parts that a phrase leaves over cost; endless where the phrase is not among them."""
    if len(phrase) > len(known):
        return float("inf")
    left = list(known)
    for meaning in phrase:
        holding = [part for part in left if meaning in part]
        if not holding:
            return float("inf")
        left.remove(min(holding, key=len))
    return sum(0.1 if part & set(phrase) else min(BESIDE.get(meaning, FAR) for meaning in part) for part in left)


def _readings(words: Path) -> Iterator[tuple[WordPart, ...]]:
    """Yield how the words may be parted: the longest that are known together first, then word by word."""
    spoken = tuple(word for word in words if word not in _silent()) or words
    for sequence in dict.fromkeys((words, spoken)):
        for longest in (LONGEST, 1):
            yield tuple(_parts(sequence, longest, keeps_silent=sequence is spoken))


def _parts(words: Path, longest: int, *, keeps_silent: bool) -> Iterator[WordPart]:
    at = 0
    while at < len(words):
        for size in range(min(longest, len(words) - at), 0, -1):
            if size > 1 and (meanings := _index().get(words[at : at + size])):
                yield WordPart(meanings)
                break
            if size == 1 and (keeps_silent or words[at] not in _silent()):
                yield from _of_word(words[at])
        at += size


@lru_cache(maxsize=8192)
def _of_word(word: str) -> tuple[WordPart, ...]:
    if meanings := _known(word):
        return (WordPart(meanings),)
    # A word that others begin with is cut short, before it is made of parts.
    cut = _cut(word) if len(word) >= SHORTEST_CUT else frozenset()
    if (compound := _compound(word)) and not (cut and len(word) >= LONG_CUT):
        return compound
    if cut:
        return (WordPart(cut, CUT),)
    if SHORTEST_CUT <= len(word) <= LONGEST_DRAWN and (drawn := _drawn_together(word)):
        return (WordPart(drawn, DRAWN),)
    if len(word) > 4:
        most = 2 if len(word) > SPELT else 1
        if like := process.extractOne(word, _single_words(), scorer=OSA.distance, score_cutoff=most):
            return (WordPart(_index()[(like[0],)], SLIP),)
    return (WordPart(frozenset()),)


def _known(word: str) -> Meanings:
    """Return what a word means, also where it stands in the plural or carries a linking letter."""
    for ending in ("", "s", "es", "n", "en", "e", "er"):
        stem = word.removesuffix(ending)
        if word.endswith(ending) and len(stem) > 1 and (meanings := _index().get((stem,))):
            return meanings
    return frozenset()


def _compound(word: str) -> tuple[WordPart, ...]:
    """Return the parts of a compound, the longest first part that is known with a known rest."""
    for at in range(len(word) - 2, 1, -1):
        first, rest = word[:at], word[at:]
        if (len(first) > 2 or len(rest) > 3) and (known := _known(first)):
            if meanings := _known(rest):
                return (WordPart(known), WordPart(meanings))
            if len(rest) > 5 and (parts := _compound(rest)):
                return (WordPart(known), *parts)
    return ()


def _cut(word: str) -> Meanings:
    """Return what a word cut short means, where most words that begin so mean the same."""
    meant = [meanings for full, meanings in _longer().get(word[:SHORTEST_CUT], ()) if full.startswith(word)]
    counts = Counter(meaning for meanings in meant for meaning in meanings)
    return frozenset(meaning for meaning, count in counts.items() if 2 * count >= len(meant))


@lru_cache(maxsize=4096)
def _drawn_together(word: str) -> Meanings:
    """Return what a word means that longer ones, which begin and end as it does, are drawn together to."""
    if sum(letter in "aeiou" for letter in word) > 1:
        return frozenset()
    pattern = re.compile(".*".join(map(re.escape, word)))
    fulls = [
        (len(full), meanings)
        for full, meanings in _longer().get(word[0], ())
        if len(full) > len(word) and full[-1] == word[-1] and pattern.fullmatch(full)
    ]
    # The more of a word's letters are left, the likelier it is meant.
    meant = [meanings for length, meanings in fulls if length == min(fulls, key=lambda one: one[0])[0]]
    counts = Counter(meaning for meanings in meant for meaning in meanings)
    return frozenset(meaning for meaning, count in counts.items() if 2 * count > len(meant))


def order_customary(headers: Iterable[str]) -> str:
    """Return the order of dates that is customary where these headers are written: "dmy", or '' where several are.

    Source: Unicode CLDR, dateFormats of es, de, fr, pt, it, nl and pl put the day first; those of en differ by region.
    """
    spoken: Counter[str] = Counter()
    for header in headers:
        for word in words_of(header):
            languages = _languages().get(word, frozenset())
            spoken.update(languages if len(languages) < 3 else ())
    return "dmy" if spoken and spoken["en"] < max(spoken.values()) else ""


@cache
def _languages() -> dict[str, frozenset[str]]:
    """Return the languages in which each word stands."""
    found: defaultdict[str, set[str]] = defaultdict(set)
    for text in MEANINGS.values():
        for of_language in text.split(" | "):
            language, words = of_language.split(" ", 1)
            for word in words_of(words):
                found[word].add(language)
    return {word: frozenset(languages) for word, languages in found.items()}


@cache
def _silent() -> frozenset[str]:
    return frozenset(SILENT.split())


@cache
def _phrases() -> dict[str, list[tuple[str, Path]]]:
    """Return the phrases, with the concept that each names, by their first meaning."""
    phrases: defaultdict[str, list[tuple[str, Path]]] = defaultdict(list)
    for concept, text in PHRASES.items():
        for phrase in (tuple(one.split()) for one in text.split("|")):
            assert set(phrase) <= MEANINGS.keys(), phrase
            phrases[phrase[0]].append((concept, phrase))
    return phrases


@cache
def _index() -> dict[Path, Meanings]:
    """Return what each word, and each row of words, may mean."""
    index: defaultdict[Path, set[str]] = defaultdict(set)
    for meaning, text in MEANINGS.items():
        for of_language in text.split(" | "):
            for word in of_language.split(" ", 1)[1].split(","):
                for spelling in {word.strip(), word.strip().translate(UMLAUTS)}:
                    words = words_of(spelling)
                    index[words].add(meaning)
                    if len(spoken := tuple(one for one in words if one not in _silent())) > 0:
                        index[spoken].add(meaning)
    return {words: frozenset(meanings) for words, meanings in index.items()}


@cache
def _single_words() -> list[str]:
    return [words[0] for words in _index() if len(words) == 1 and len(words[0]) > 4]


@cache
def _longer() -> dict[str, list[tuple[str, Meanings]]]:
    """Return the words that may be cut short or drawn together, by their first letters and by the first alone."""
    longer: defaultdict[str, list[tuple[str, Meanings]]] = defaultdict(list)
    for words, meanings in _index().items():
        if len(words) == 1 and len(words[0]) > SHORTEST_CUT:
            longer[words[0][:SHORTEST_CUT]].append((words[0], meanings))
            longer[words[0][0]].append((words[0], meanings))
    return longer
