"""A part of an erased person's name in what others wrote: it may be theirs, somebody else's, or a common word.

Nobody can tell but who reads it, so each such text is shown, and rewritten or left as they say; so is one that has an
identifier or number of theirs, and one with their whole name where somebody else bears it too. An initial beside a part
goes with it. Initials alone, a part with one letter off, and a short number alone are looked for in free texts only,
and asked about behind the others (`faintly`).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

from evenhand.store.name_slips import NameSlips
from evenhand.store.own_numbers import OwnNumbers

__all__ = ["NamingText", "PartNames", "composed", "sharing"]

MARKS = "\u0300-\u036f"
WORD = re.compile(rf"(?:[^\W\d_][{MARKS}]*)+(?:['’](?:[^\W\d_][{MARKS}]*)+)*")
CLUSTER = re.compile(rf".[{MARKS}]*", re.DOTALL)
BEGINS = re.compile(r"(?:^|[.!?:;“\"(]\s*)$")
BETWEEN = re.compile(r"[,.]?[\s_]*")
SHORTEST = 4
"""Letters from which on a part is looked for in small letters too; below, `bo` would be found in anything."""
TELLING = 6
"""Letters from which on a part is looked for within longer words too, such as `zmquackenbush` or a genitive."""


@dataclass(frozen=True)
class NamingText:
    """A text that may name the person: the row it stands in, such as `corrections/12`, the column, and what it says.

    `is_likely` where it is written as on the roster, within a sentence, and nobody else bears that part of the name;
    `is_faint` where there is nothing but initials, a part with a letter off, or a short number alone.
    """

    row: str
    column: str
    says: str
    is_likely: bool
    is_faint: bool = False

    @property
    def key(self) -> str:
        """Return what names this text alone of those of its row, such as `corrections/12:reason`."""
        return f"{self.row}:{self.column}"

    def is_among(self, reword: Collection[str]) -> bool:
        """Whether a text is to be reworded: by itself, or with all of its row."""
        return self.row in reword or self.key in reword


@dataclass(frozen=True)
class PartNames:
    """Parts of a person's `name`, and the whole names of `others` that share one, which are not the person's.

    `words` are all the words of everybody else's names, in small letters and without accents; `numbers` by which
    identifiers and numbers others may have written of the person. `slips` finds initials alone and parts with a letter
    off too, where it is asked for.
    """

    name: str
    others: tuple[str, ...] = ()
    words: frozenset[str] = frozenset()
    numbers: OwnNumbers = field(default_factory=OwnNumbers)
    slips: NameSlips | None = None

    @cached_property
    def faintly(self) -> PartNames:
        """Return the same, by which texts are found too that name the person only perhaps."""
        written = [one.casefold() for one in WORD.findall(composed(self.name))]
        words = tuple(map(_plain, written))
        slips = NameSlips(tuple(written), words, self.words.union(words))
        return replace(self, numbers=replace(self.numbers, is_faint=True), slips=slips)

    @cached_property
    def parts(self) -> tuple[str, ...]:
        """Return the parts that are looked for: no initial, and no particle, unless all of it is in small letters."""
        words = [one for one in WORD.findall(composed(self.name)) if len(one) > 1 or not _has_case(one)]
        return tuple(dict.fromkeys([one for one in words if not one.islower()] or words))

    @cached_property
    def shared(self) -> frozenset[str]:
        """Return the parts, as `_plain` has them, that others bear too."""
        theirs = {_plain(word) for name in self.others for word in WORD.findall(composed(name))}
        return self._plain_parts & theirs

    @cached_property
    def _plain_parts(self) -> frozenset[str]:
        return frozenset(map(_plain, self.parts))

    @cached_property
    def _others(self) -> re.Pattern[str] | None:
        """Return what finds somebody else's whole name, unless it is the very same as the person's."""
        mine = _bag(self.name)
        names = {composed(one).rstrip(" .") for one in self.others if _bag(one) != mine}
        texts = sorted(names, key=lambda one: (-len(one), one))
        return re.compile(r"(?i)\b(?:" + "|".join(map(re.escape, texts)) + r")\b") if texts else None

    @cached_property
    def _joined(self) -> re.Pattern[str]:
        return _joined(self.name)

    @cached_property
    def _joined_others(self) -> re.Pattern[str]:
        """Return what finds names of others that are written in one word, such as a login."""
        ways = [_joined(one).pattern for one in dict.fromkeys(self.others)]
        return re.compile("|".join(ways) or r"(?!)")

    @cached_property
    def _uncased(self) -> re.Pattern[str] | None:
        """Return what finds parts in a script without capitals, where words may stand without blanks between."""
        parts = [one for one in self.parts if not _has_case(one) and len(one) > 1]
        return re.compile("|".join(map(re.escape, parts))) if parts else None

    def found_in(self, text: str) -> list[re.Match[str]]:
        """Return where a text has a part of the name that is no part of somebody else's whole name."""
        taken = [one.span() for one in self._others.finditer(text)] if self._others else []
        ways = [one for one in WORD.finditer(text) if self._is_part(_bare(one[0])) or self._is_in(one[0])]
        if self._uncased:
            ways += [one for one in self._uncased.finditer(text) if not any(_covers(other, one) for other in ways)]
        return [
            one
            for one in sorted(ways, key=re.Match.start)
            if not any(start <= one.start() < end for start, end in taken)
        ]

    def _is_part(self, word: str) -> bool:
        if word in self.parts:
            return True
        is_long = len(word) >= SHORTEST or word.isupper()
        return is_long and _plain(word) in self._plain_parts

    def _is_in(self, word: str) -> bool:
        """Whether a part stands in a longer word: the names in one, an initial before or behind it, an ending."""
        plain = _plain(word)
        if plain in self.words or plain in self._plain_parts:
            return False
        if len(plain) >= SHORTEST and self._joined.fullmatch(plain):
            return True
        is_telling = any(len(one) >= TELLING and one in plain for one in self._plain_parts)
        return is_telling and not self._joined_others.fullmatch(plain)

    def is_likely(self, text: str) -> bool:
        """Whether a text names the person: by a part nobody else bears, written as on the roster, in a sentence."""
        whole = composed(text)
        return self.numbers.is_likely(whole) or any(
            self._is_theirs(one[0])
            and (not self._is_part(_bare(one[0])) or begin < one.start() or not BEGINS.search(whole[:begin]))
            for one, (begin, _) in zip(self.found_in(whole), self._names_in(whole), strict=True)
        )

    def _is_theirs(self, word: str) -> bool:
        bare, plain = _bare(word), _plain(_bare(word))
        if bare in self.parts:
            return plain not in self.shared
        if not self._is_in(word) or self._joined_others.fullmatch(plain):
            return False
        return bool(self._joined.fullmatch(plain)) or any(
            one in plain for one in self._plain_parts - self.shared if len(one) >= TELLING
        )

    def names(self, text: str) -> bool:
        """Whether a text may name the person."""
        return bool(self.spans_in(text))

    def is_name(self, text: str) -> bool:
        """Whether a name says nothing but parts of the person's, such as `B. Rook`, and is nobody else's."""
        whole = composed(text).strip()
        if self._others and self._others.fullmatch(whole):
            return False
        words = WORD.findall(whole)
        initials = {one[0] for one in self._plain_parts}
        named = [word for word in words if _plain(word) in self._plain_parts or self._is_in(word)]
        return bool(named) and all(word in named or _plain(word) in initials for word in words)

    def is_likely_name(self, text: str) -> bool:
        """Whether a name alone is likely the person's: it says nothing else, and a part of it is nobody else's."""
        if not self.is_name(text):
            return False
        plain = [_plain(_bare(one[0])) for one in self.found_in(composed(text))]
        return any(one not in self.shared and not self._joined_others.fullmatch(one) for one in plain)

    def spans_in(self, text: str) -> list[tuple[int, int]]:
        """Return from where to where a text may name the person, by a part with the initials beside it or a number."""
        whole, places = _placed(text)
        slips = self.slips.spans_in(whole, _plain) if self.slips else []
        found = sorted([*self._names_in(whole), *self.numbers.spans_in(whole), *slips])
        spans: list[tuple[int, int]] = []
        for begin, end in found:
            if spans and (begin <= spans[-1][1] or self._is_one(whole, spans[-1][1], begin)):
                spans[-1] = spans[-1][0], max(end, spans[-1][1])
            else:
                spans.append((begin, end))
        return [(places[begin], places[end]) for begin, end in spans]

    def _is_one(self, text: str, end: int, begin: int) -> bool:
        """Whether two words between which a comma or blanks stand are parts of one name."""
        return bool(BETWEEN.fullmatch(text[end:begin])) and not text[begin].isdigit() and not text[end - 1].isdigit()

    def _names_in(self, text: str) -> list[tuple[int, int]]:
        if not self.parts:
            return []
        initials = re.escape("".join(dict.fromkeys(one[0] for one in self.parts)))
        before = re.compile(rf"(?:(?<![^\W_])[{initials}]\.?[\s_]*)+$")
        behind = re.compile(rf"(?:,?[\s_]*[{initials}](?![^\W_])\.?)+")
        spans: list[tuple[int, int]] = []
        for one in self.found_in(text):
            whole = _bare(one[0])
            begin, end = one.start(), one.start() + len(whole)
            if found := before.search(text[:begin]):
                begin = found.start()
            if len(whole) == len(one[0]) and (found := behind.match(text, end)):
                end = found.end()
            spans.append((max(begin, spans[-1][1]) if spans else begin, end))
        return spans

    def replaced(self, text: str, stand_in: str) -> str:
        """Return a text with `stand_in` in place of each part of the name."""
        for begin, end in reversed(self.spans_in(text)):
            text = text[:begin] + stand_in + text[end:]
        return text

    def blanked(self, text: str) -> str:
        """Return a text with blanks in place of each part of the name, as long as it was."""
        for begin, end in self.spans_in(text):
            text = text[:begin] + " " * (end - begin) + text[end:]
        return text

    @cached_property
    def pattern(self) -> str:
        """Return what finds every text that may have a part or a number, and others; empty where there are none."""
        spelled = {way for one in self.parts for way in (one, unicodedata.normalize("NFD", one), _plain(one))}
        ways = [*map(re.escape, sorted(spelled)), *self.numbers.ways, *(self.slips.ways if self.slips else ())]
        return r"(?i)(?:" + "|".join(ways) + ")" if ways else ""


def sharing(name: str, others: Iterable[str], numbers: OwnNumbers | None = None) -> PartNames:
    """Return the parts of a name, with those names of `others` that share one."""
    mine, shared, words = {_plain(one) for one in PartNames(name).parts}, set(), set()
    for one in others:
        theirs = {_plain(word) for word in WORD.findall(composed(one))}
        words |= theirs
        if not mine.isdisjoint(theirs):
            shared.add(one)
    return PartNames(name, tuple(sorted(shared)), frozenset(words), numbers or OwnNumbers())


def composed(text: str) -> str:
    """Return a text with each accent in one character with its letter, as far as there is one."""
    return unicodedata.normalize("NFC", text)


def _placed(text: str) -> tuple[str, list[int]]:
    """Return a text composed, and where in `text` each of its characters begins; the last is the end."""
    if text.isascii() or unicodedata.is_normalized("NFC", text):
        return text, list(range(len(text) + 1))
    whole, places = [], []
    for one in CLUSTER.finditer(text):
        made = composed(one[0])
        whole.append(made)
        places += [one.start()] * len(made)
    return "".join(whole), [*places, len(text)]


def _plain(word: str) -> str:
    """Return a word in small letters, without accents."""
    parted = unicodedata.normalize("NFKD", word)
    return "".join(one for one in parted if not unicodedata.combining(one)).casefold()


def _bare(word: str) -> str:
    return word.removesuffix("'s").removesuffix("’s")


def _bag(name: str) -> list[str]:
    return sorted(_plain(one) for one in WORD.findall(composed(name)))


def _has_case(word: str) -> bool:
    return word.lower() != word.upper()


def _covers(one: re.Match[str], other: re.Match[str]) -> bool:
    return one.start() <= other.start() < one.end()


def _joined(name: str) -> re.Pattern[str]:
    """Return what finds a name written in one word, without accents: a part with initials or other parts beside it."""
    words = list(dict.fromkeys(_plain(one).replace("'", "").replace("’", "") for one in WORD.findall(composed(name))))
    parts = sorted((one for one in words if len(one) > 1), key=lambda one: (-len(one), one))
    if len(words) < 2 or not parts:
        return re.compile(r"(?!)")
    either = "|".join(map(re.escape, [*parts, *dict.fromkeys(one[0] for one in words if one)]))
    some = "|".join(map(re.escape, parts))
    return re.compile(rf"(?:(?:{either}){{1,3}}(?:{some})|(?:{some})(?:{either}){{1,3}})")
