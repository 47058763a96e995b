"""Read a header: what its words, whatever their language, order, number, compounding and cutting, make together."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from functools import cache, lru_cache
from itertools import islice, product

from evenhand.layouts.wording.concepts import BESIDE, GENERIC
from evenhand.layouts.wording.lexicon import (
    ANY,
    Meanings,
    Spoken,
    Words,
    is_silent,
    languages_of,
    meanings_of,
    spoken_in,
    words_of,
)
from evenhand.layouts.wording.phrases import PHRASES
from evenhand.layouts.wording.spelling import parts_of, together
from evenhand.layouts.wording.words import MEANINGS

__all__ = ["concepts_of", "is_header_word", "order_customary", "spoken_in", "words_of"]

FAR = 2.6  # what a known word costs that stands beside a concept and belongs to another
UNKNOWN, UNKNOWN_OF = 1.3, 2.2  # what a word costs that is not known; more where it says what a date or number is of
OF_PERSON = 1.5
APART, ASUNDER = 0.5, 1.5  # what it costs to read words otherwise; to take apart those that are known together
LONGEST = 5  # words that stand for one meaning together
MOST_READINGS = 12
PLAIN = -1.8  # a cell that fits no concept better is no header
LONGEST_HEADER = 60  # characters
WORST = -4.0  # a concept that fits a header worse is none of it
MEANT_TWICE = 0.1  # what a part costs that says once more what another says

AND = frozenset(["&", "+", "and", "y", "e", "und", "u.", "et", "i", "en"])


@lru_cache(maxsize=16384)
def concepts_of(header: str, spoken: Spoken = ANY) -> dict[str, float]:
    """Return the concepts that a header may name, each with the logarithm of how well it does: 0 is exactly.

    `spoken` are the languages of the file, where they are known.
    """
    found: dict[str, float] = {}
    words = words_of(header)
    # Words that mean something together seldom mean something else apart.
    apart = ASUNDER if len(words) > 1 and min(meanings_of(words, spoken).values(), default=1.0) <= 0.0 else APART
    for turn, parts in enumerate(_readings(words, spoken)):
        cost = apart if turn else 0.0
        unknown = sum(not part for part in parts)
        known = [part for part in parts if part]
        if not known:
            continue
        meant = frozenset().union(*known)
        is_of_person = "employee" in meant
        for concept, phrase in dict.fromkeys(one for meaning in meant for one in _phrases().get(meaning, ())):
            if not meant.issuperset(phrase):
                continue
            is_generic = concept in GENERIC
            fit = -cost - (UNKNOWN_OF if is_generic else UNKNOWN) * unknown - _spent(known, phrase)
            # A person's number is one of its own kind, and no number that just any column may hold.
            fit -= OF_PERSON if is_generic and "employee" not in phrase and is_of_person else 0.0
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


def _spent(parts: Sequence[Meanings], phrase: Words) -> float:
    """Return what it costs to mean a phrase by parts, and to leave the others over; endless where it is not meant."""
    if not phrase:
        return sum(min(cost + BESIDE.get(meaning, FAR) for meaning, cost in part.items()) for part in parts)
    meaning, rest = phrase[0], phrase[1:]
    ways = [
        part[meaning] + _spent_rest([*parts[:at], *parts[at + 1 :]], rest, meaning)
        for at, part in enumerate(parts)
        if meaning in part
    ]
    return min(ways, default=float("inf"))


def _spent_rest(parts: Sequence[Meanings], rest: Words, meaning: str) -> float:
    """Return what the other parts cost; one that says the same once more is no other word."""
    if rest:
        return _spent(parts, rest)
    return sum(
        min(MEANT_TWICE + cost if one == meaning else cost + BESIDE.get(one, FAR) for one, cost in part.items())
        for part in parts
    )


def _readings(words: Words, spoken: Spoken) -> Iterator[tuple[Meanings, ...]]:
    """Yield how the words may be parted: the longest that are known together first, then word by word."""
    said = tuple(word for word in words if not is_silent(word)) or words
    for sequence in dict.fromkeys((words, said)):
        for longest in (LONGEST, 1):
            choices = list(_parts(sequence, longest, spoken))
            for chosen in islice(product(*choices), MOST_READINGS):
                yield tuple(part for way in chosen for part in way)


def _parts(words: Words, longest: int, spoken: Spoken) -> Iterator[tuple[tuple[Meanings, ...], ...]]:
    """Yield the ways to read each word, or each row of words that is known together, one after the other."""
    at = 0
    while at < len(words):
        for size in range(min(longest, len(words) - at), 0, -1):
            if size > 1 and (meant := together(words[at : at + size], spoken)):
                yield ((meant,),)
                break
            if size == 1:
                yield _alone(words, at, spoken)
        at += size


def _alone(words: Words, at: int, spoken: Spoken) -> tuple[tuple[Meanings, ...], ...]:
    """Return the ways to read one word; one that parts others says something only where it stands at an end of them."""
    word = words[at]
    if not is_silent(word) or len(words) == 1:
        return parts_of(word, spoken)
    if at in (0, len(words) - 1) and (meant := meanings_of((word,), spoken)):
        return ((meant,), ())
    return ((),)


def order_customary(headers: Iterable[str]) -> str:
    """Return the order of dates that is customary where these headers are written: "dmy", or '' where several are.

    Source: Unicode CLDR, dateFormats of es, de, fr, pt, it, nl and pl put the day first; those of en differ by region.
    """
    spoken: Counter[str] = Counter()
    for header in headers:
        for word in words_of(header):
            languages = languages_of(word)
            spoken.update(languages if len(languages) < 3 else ())
    return "dmy" if spoken and spoken["en"] < max(spoken.values()) else ""


@cache
def _phrases() -> dict[str, list[tuple[str, Words]]]:
    """Return the phrases, with the concept that each names, by their first meaning."""
    phrases: defaultdict[str, list[tuple[str, Words]]] = defaultdict(list)
    for concept, text in PHRASES.items():
        for phrase in (tuple(one.split()) for one in text.split("|")):
            assert set(phrase) <= MEANINGS.keys(), phrase
            phrases[phrase[0]].append((concept, phrase))
    return phrases
