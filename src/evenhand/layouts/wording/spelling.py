"""How people write words: joined, taken apart, compounded, cut short, drawn together or a letter off.

What a spelling costs is the more the further it is from a word that is known, and the more other words it fits as well.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable
from functools import lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA

from evenhand.layouts.wording.lexicon import (
    ANY,
    ENGLISH,
    Meanings,
    Spoken,
    Told,
    Words,
    foreign,
    heads,
    in_one_way,
    in_rows,
    index,
    longer,
    meanings_of,
    single_words,
)

__all__ = ["parts_of", "together"]

CUT, CUT_OF_TWO, INITIAL = 0.6, 1.4, 1.0  # a word cut short: to three letters or more, to two, to its first
CUT_IN_ROW, CUT_TO_TWO_IN_ROW = 0.3, 0.5  # the same for each of several words that are known together
DRAWN, SLIP = 0.9, 1.0  # drawn together (dpto), a letter off
UNSURE = 0.6  # times the logarithm of how many words are meant as well
RARE = 0.12  # of the words that are fitted, the share of those that mean something, below which it is not thought of
FOREIGN_CUT, ENGLISH_CUT = 0.2, 0.5  # how much less likely a word of another language is cut short
SHORTEST_CUT, SHORTEST_ROW = 3, 4
SPELT = 7  # letters from which on two of them may be wrong; one from five letters on
LONGEST_DRAWN = 8
VOWELS = frozenset("aeiouy")

# The meanings that people write by one letter alone, beside a word that says of what: F. nac., H. arr., N. tel.
HEADS = frozenset(
    ["amount", "code", "date", "end", "given_name", "hours", "name", "number", "rate", "start", "time", "zone"]
)

Fitting = Iterable[tuple[Told, float]]


@lru_cache(maxsize=16384)
def together(words: Words, spoken: Spoken = ANY) -> Meanings:
    """Return what several words mean together: as they stand, written as one, or each of them cut short."""
    if meant := meanings_of(words, spoken):
        return meant
    joined = "".join(words)
    if (len(joined) > 4 or len(joined) == len(words) > 2) and (meant := meanings_of((joined,), spoken)):
        return meant
    return _all_cut(words, spoken)


@lru_cache(maxsize=16384)
def parts_of(word: str, spoken: Spoken = ANY) -> tuple[tuple[Meanings, ...], ...]:
    """Return the ways to read one word, each as the meanings of its parts: as one word, or as a compound of some."""
    meant = meanings_of((word,), spoken)
    if meant and (len(word) < SHORTEST_CUT or min(meant.values()) < ENGLISH):
        return ((meant,),)
    ways: list[tuple[Meanings, ...]] = [(meant,)] if meant else []
    if len(word) == 1:
        return (*ways, (initial,)) if (initial := _initial(word, spoken)) else tuple(ways) or (({},),)
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
        if like := process.extractOne(word, single_words(), scorer=OSA.distance, score_cutoff=most):
            return (({meaning: SLIP + cost for meaning, cost in meanings_of((like[0],), spoken).items()},),)
    return (({},),)


def _headed(word: str, spoken: Spoken) -> tuple[Meanings, ...]:
    """Return what a word means whose last part is a head word written in another way: zutrittsnr for zutrittsnummer."""
    for at in range(3, len(word) - 1):
        if (head := heads().get(word[at:])) and (meant := index().get((word[:at], head))):
            return ({meaning: foreign(languages, spoken) for meaning, languages in meant.items()},)
    return ()


def _compound(word: str, spoken: Spoken) -> tuple[Meanings, ...]:
    """Return the parts of a compound, as few as there may be, the longest first part that is known first."""
    splits = [
        (known, word[at:])
        for at in range(len(word) - 2, 1, -1)
        if (at > 2 or len(word) - at > 3)
        and (len(word) - at > 2 or word[at:] in heads())
        and (known := _linked(word[:at], spoken))
    ]
    for known, rest in splits:
        if meant := meanings_of((rest,), spoken):
            return (known, meant)
    for known, rest in splits:
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
        if len(rest) < SHORTEST_CUT and rest not in heads():
            break
        if len(first) >= SHORTEST_CUT and (known := meanings_of((rest,), spoken)) and (cut := _cut(first, spoken)):
            return (cut, known)
        known = _linked(first, spoken) if len(first) > SHORTEST_CUT <= len(rest) else {}
        if known and (cut := _cut(rest, spoken)):
            return (known, cut)
    return ()


def _graded(fitting: Fitting, cost: float, spoken: Spoken) -> Meanings:
    """Return the meanings of words that are fitted, with their weights: the fewer others are meant, the cheaper."""
    weights: defaultdict[str, float] = defaultdict(float)
    total = 0.0
    for meanings, weight in fitting:
        likeliest = 0.0
        for meaning, languages in meanings.items():
            away = foreign(languages, spoken)
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
        for full, meanings in longer().get(word[:2], ())
        if full.startswith(word)
    ]
    return _graded(fitting, CUT if len(word) >= SHORTEST_CUT else CUT_OF_TWO, spoken)


@lru_cache(maxsize=512)
def _initial(letter: str, spoken: Spoken) -> Meanings:
    """Return what a letter alone may stand for beside a word that says of what."""
    found: dict[str, float] = {}
    for words, meanings in index().items():
        for meaning in meanings.keys() & HEADS if words[0][0] == letter else ():
            cost = INITIAL + foreign(meanings[meaning], spoken)
            found[meaning] = min(cost, found.get(meaning, cost))
    return found


@lru_cache(maxsize=4096)
def _drawn_together(word: str, spoken: Spoken) -> Meanings:
    """Return what a word means that longer ones, which hold its letters in turn, are drawn together to."""
    if sum(letter in VOWELS for letter in word[1:]) > 1:
        return {}
    pattern = re.compile(".*".join(map(re.escape, word)))
    consonants = _consonants(word)
    fitting = [
        (meanings, (len(word) / len(full)) ** 4)
        for full, meanings in longer().get(word[0], ())
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
    if sum(map(len, words)) < SHORTEST_ROW:
        return {}
    fitting, costs = [], []
    for full, meanings in in_rows().get("".join(word[0] for word in words), ()):
        pairs = list(zip(in_one_way(words), full, strict=True))
        if all(long.startswith(word) for word, long in pairs):
            fitting.append((meanings, 1.0))
            costs.append(
                sum(0.0 if word == long else CUT_IN_ROW if len(word) > 2 else CUT_TO_TWO_IN_ROW for word, long in pairs)
            )
    return _graded(fitting, min(costs), spoken) if fitting else {}
