"""How well headers are told by their words alone, list by list: the right declared column, none, another one.

`python -m bench.wording --part third --show` also prints the headers that are not told rightly.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterator

from bench.corpus.kit import load
from bench.corpus.training import words_of

from evenhand.layouts.evidence.column import ColumnSeen, KnownTexts, columns_seen
from evenhand.layouts.evidence.fit import by_header, part_by_header
from evenhand.layouts.evidence.profile import profiles_of
from evenhand.layouts.wording.concepts import FIELD_CONCEPTS

LISTS = {
    "training": "words.toml",
    "second": "second_words.toml",
    "third": "third_words.toml",
    "fourth": "fourth_words.toml",
}

# The declared columns that a header of each kind stands above; of the last kinds it stands above none.
MEANT: dict[str, dict[str, str]] = {
    "person": {"people": "person", "schedules": "person", "consent": "person", "rates": "person"},
    "name": {"people": "name", "enrolments": "name"},
    "family": {"people": "name"},
    "given": {"people": "name"},
    "number": {"people": "number", "enrolments": "number", "punches": "number"},
    "site": {"people": "site", "readers": "site"},
    "department": {"people": "department"},
    "supervisor": {"people": "is_supervisor"},
    "role": {"people": "is_supervisor"},
    "hired": {"people": "hired_on"},
    "left": {"people": "left_on"},
    "phone": {"people": "phone"},
    "address": {"people": "address"},
    "rate": {"people": "hourly_rate"},
    "reader": {"readers": "reader", "enrolments": "reader", "punches": "reader"},
    "place": {"readers": "place"},
    "zone": {"readers": "zone"},
    "digits": {"readers": "max_digits"},
    "capacity": {"readers": "capacity"},
    "at": {"punches": "at"},
    "direction": {"punches": "direction"},
    "outcome": {"punches": "outcome"},
    "score": {"punches": "score"},
    "enrolled": {"enrolments": "enrolled_on"},
    "presentations": {"enrolments": "presentations"},
    "level": {"enrolments": "is_supervisor"},
    "starts": {"schedules": "starts_at"},
    "ends": {"schedules": "ends_at"},
    "given_on": {"consent": "given_on"},
    "form": {"consent": "form"},
    "withdrawn": {"consent": "withdrawn_on"},
    "valid_from": {"rates": "valid_from"},
    "valid_to": {"rates": "valid_to"},
    "amount": {"rates": "amount"},
    **{one: dict.fromkeys(("people", "punches"), "") for one in ("birthday", "email", "account", "boss", "remark")},
    **{one: dict.fromkeys(("people", "punches"), "") for one in ("running", "age", "checksum", "title")},
}
HALVES = {"date": ("at", 0), "time": ("at", 1)}
PLAINLY = 0.0  # what a header says for a column, from which on it is told
NOTHING = KnownTexts(frozenset(), frozenset(), frozenset(), frozenset(), frozenset())


def seen(header: str) -> ColumnSeen:
    """Return a column of which nothing is known but its header."""
    return columns_seen([header], profiles_of([[]]), NOTHING)[0]


def told(header: str, kind: str, table: str) -> str:
    """Return what a header of a kind is told as in a table: right, nothing, or which other column."""
    column = seen(header)
    worth = {name: by_header(column, table, field.concepts) for name, field in FIELD_CONCEPTS[table].items()}
    best = max(worth, key=lambda name: worth[name])
    wanted = MEANT[kind][table]
    if worth[best] < PLAINLY:
        return "right" if not wanted else "nothing"
    return "right" if wanted and worth[wanted] >= worth[best] - 0.3 else best


def outcomes(part: str) -> Iterator[tuple[str, str, str, str, str, str]]:
    """Yield language, kind, style, header, table and what it is told as."""
    for language, kinds in words_of(load(LISTS[part])).items():
        for kind, styles in kinds.items():
            for style, headers in styles.items():
                for header in headers:
                    for table in MEANT.get(kind, {}):
                        yield language, kind, style, header, table, told(header, kind, table)
                    if kind in HALVES:
                        name, half = HALVES[kind]
                        fits = part_by_header(seen(header), "punches", name, half) >= PLAINLY
                        yield language, kind, style, header, "punches", "right" if fits else "nothing"


def main() -> None:
    """Print the share of headers that are told rightly, by list and kind."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--part", choices=sorted(LISTS))
    parser.add_argument("--show", action="store_true", help="print the headers that are not told rightly")
    given = parser.parse_args()
    print("no seed: every header of the lists is asked about")
    for part in [given.part] if given.part else LISTS:
        found = list(outcomes(part))
        right = sum(one[-1] == "right" for one in found)
        nothing = sum(one[-1] == "nothing" for one in found)
        shares = [100 * count / len(found) for count in (right, nothing, len(found) - right - nothing)]
        print(f"{part}: {len(found):,} headers; told rightly {shares[0]:.1f} %, ", end="")
        print(f"as nothing {shares[1]:.1f} %, as another column {shares[2]:.1f} %")
        for at, name in ((0, "language"), (1, "kind"), (2, "style")):
            every, good = Counter(one[at] for one in found), Counter(one[at] for one in found if one[-1] == "right")
            print(f"  by {name}: " + ", ".join(f"{one} {100 * good[one] / count:.0f}" for one, count in every.items()))
        if given.show:
            for language, kind, _, header, table, as_what in found:
                if as_what != "right":
                    print(f"    {language} {kind} {table}: {header!r} told as {as_what}")


if __name__ == "__main__":
    main()
