"""One column of a file as evidence: its header's concepts, its cells, and how many of them are known already."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from evenhand.layouts.evidence.profile import Profile, folded, is_digits, without_zeros
from evenhand.layouts.proposal import KnownCells
from evenhand.layouts.wording.header import concepts_of, spoken_in, words_of

__all__ = ["ColumnSeen", "KnownTexts", "columns_seen"]

MOST_DATED = 8  # columns of dates that are compared with each other
NEARLY_ALL = 0.95


@dataclass(frozen=True)
class KnownTexts:
    """What is known, in the form in which cells are compared with it."""

    readers: frozenset[str]
    numbers: frozenset[str]
    people: frozenset[str]
    names: frozenset[str]
    sites: frozenset[str]

    @classmethod
    def of(cls, known: KnownCells) -> KnownTexts:
        """Return the known cells without capitals, numbers without the zeros at their beginning."""

        def fold(texts: Collection[str]) -> frozenset[str]:
            return frozenset(map(folded, texts))

        numbers = frozenset(map(without_zeros, known.numbers))
        return cls(fold(known.readers), numbers, fold(known.people), fold(known.names), fold(known.sites))


@dataclass(frozen=True)
class ColumnSeen:
    """A column at a `position` from 0.

    `is_later` says that its dates follow those of another column, row by row. `silent` says that its header tells
    nothing: there is none, or its words are not known.
    """

    position: int
    header: str
    concepts: Mapping[str, float]
    profile: Profile
    known: KnownTexts
    is_later: bool = False

    @cached_property
    def plain_name(self) -> str:
        """Return the header as a declared column would be called by it."""
        return "_".join(words_of(self.header))

    @property
    def silent(self) -> bool:
        """Return whether the header tells nothing."""
        return not self.concepts

    def known_share(self, kind: str) -> float | None:
        """Return the share of filled cells that are known as `readers`, `numbers` ...; None where none are known."""
        listed: frozenset[str] = getattr(self.known, kind)
        if not listed:
            return None
        if kind != "numbers":
            return self.profile.known(listed)
        profile = self.profile
        hits = sum(count for text, count in profile.counts.items() if is_digits(text) and without_zeros(text) in listed)
        return hits / profile.size if profile.size else 0.0


def columns_seen(headers: Sequence[str], profiles: Sequence[Profile], known: KnownTexts) -> list[ColumnSeen]:
    """Return every column of a file as evidence."""
    headers = [*headers, *[""] * (len(profiles) - len(headers))]
    dated = [at for at, profile in enumerate(profiles) if max(profile.dates, profile.moments) > 0.5][:MOST_DATED]
    later = {at for at in dated if any(_follows(profiles[at], profiles[other]) for other in dated if other != at)}
    spoken = spoken_in(headers)
    return [
        ColumnSeen(at, header, concepts_of(header, spoken) if header else {}, profile, known, at in later)
        for at, (header, profile) in enumerate(zip(headers, profiles, strict=True))
    ]


def _follows(profile: Profile, other: Profile) -> bool:
    """Return whether a column's dates are later than another's wherever a row has both."""
    both = [
        (after, before)
        for after, before in zip(profile.days, other.days, strict=True)
        if after is not None and before is not None
    ]
    return bool(both) and sum(after > before for after, before in both) >= NEARLY_ALL * len(both)
