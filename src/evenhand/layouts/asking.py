"""What a file leaves open, each as one plain question with the file's own examples."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from evenhand.layouts.contested import possible_tables, rival_tables
from evenhand.layouts.doubts import doubtful_columns, may_be
from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.lapsed import says_what_lapsed
from evenhand.layouts.matching import Matching
from evenhand.layouts.proposal import NO_COLUMN, Choice, KnownCells, Question
from evenhand.layouts.understanding import Understanding
from evenhand.layouts.values.words import WORDS, YES_NO, plain
from evenhand.layouts.wording.zones import zones_of
from evenhand.terms.column_words import column_in_words
from evenhand.terms.columns import Table
from evenhand.terms.languages import in_a_row, of_file, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = [
    "about_columns",
    "about_consents",
    "about_reader",
    "about_table",
    "about_tables",
    "about_zone",
    "about_zone_named",
    "answer_of",
    "is_sure_of_table",
    "label_of",
    "samples_of",
]

SURE_TABLE = 0.9
SURE_COLUMN = 0.8
POSSIBLE_TABLE = 0.02
POSSIBLE_USE = 0.05
MISSED = 0.3  # a column that is as likely as this to be used after all
TIMED = 0.8  # of the cells, that are times in a column of them
NOT_PLAIN = -0.75  # how well a header fits a concept, from which on its words are known
COMING, GOING = ("time_in", "punched_in", "start", "work_start"), ("time_out", "punched_out", "end", "work_end")
SAMPLES = 3
MOSTLY = 0.7  # of the cells
HARDLY, FAINTLY = -9.0, -1.4  # how well a header fits a concept: not at all, half a word of it
MOST_SHOWN = 200  # characters of the columns that a question shows
LONGEST = 24  # characters of a cell that a question shows


def about_table(name: str, found: Understanding) -> list[Question]:
    """Return the question which table the file holds, where the likeliest is not likely enough or has a rival."""
    likelihoods = found.likelihoods
    if is_sure_of_table(found):
        return []
    likely = [table for table, likelihood in likelihoods.items() if likelihood >= POSSIBLE_TABLE]
    possible = {*likely, *possible_tables(found)} if likely else {*likelihoods}
    choices = [Choice(table, _means(SOURCES[table], found)) for table in likelihoods if table in possible]
    return [_which_table(name, found, choices)]


def is_sure_of_table(found: Understanding) -> bool:
    """Return whether one table is likely enough, and has no rival."""
    return found.likelihoods[found.table] >= SURE_TABLE and not rival_tables(found)


def about_tables(name: str, found: Understanding, tables: Sequence[str]) -> Question:
    """Return the question which of these tables the file holds."""
    return _which_table(name, found, [Choice(table, _means(SOURCES[table], found)) for table in tables])


def _which_table(name: str, found: Understanding, choices: Sequence[Choice]) -> Question:
    labels = [label_of(one) for one in found.seen]
    while len(labels) > 1 and len(", ".join(labels)) > MOST_SHOWN:
        labels.pop()
    shown = in_a_row("{one}, {other}", labels)
    return Question(
        "table",
        of_file(name, told("what is one row of this file ({shown})?", shown=shown)),
        tuple(choices),
    )


def _means(table: Table, found: Understanding) -> str:
    columns = found.matchings[table.name].best.columns
    used = [
        told(
            "{columns:listed} is {use}",
            columns=[label_of(found.seen[at]) for at in sources],
            use=column_in_words(name),
        )
        for name, sources in columns.items()
    ]
    title = told(table.title)
    return (
        told("{title:low} ({uses})", title=title, uses=in_a_row("{one}, {other}", used))
        if used
        else told("{title:low}", title=title)
    )


def about_columns(name: str, found: Understanding, given: Collection[str] = ()) -> list[Question]:
    """Return the questions about columns whose use is not likely enough, and about required ones that are missing.

    `given` are declared columns that are said for the whole file.
    """
    matching = found.matching
    if matching.table.name == "punches":
        _refuse_two_times(name, matching)
    missing = [one for one in matching.missing() if not _is_given_otherwise(matching.table, one)]
    if missing:
        return [_where_is(name, matching, one) for one in missing]
    doubtful: dict[int, list[str]] = {}
    for declared, sources in matching.best.columns.items():
        if matching.likelihood_of(declared) < SURE_COLUMN:
            doubtful.setdefault(sources[-1], []).append(declared)
    used = {at for sources in matching.best.columns.values() for at in sources}
    for one in found.seen:
        if one.position not in used and (others := matching.others(one.position)) and others[0][1] > MISSED:
            doubtful.setdefault(one.position, []).append(others[0][0])
    for at, names in doubtful_columns(matching, given).items():
        doubtful[at] = list(dict.fromkeys([*doubtful.get(at, []), *names]))
    free = [one for one in found.seen if one.position not in {*used, *matching.barred, *doubtful}]
    return [
        *(_what_is(name, matching, found.seen[at], declared) for at, declared in doubtful.items()),
        *(_what_lapsed(name, matching, one) for one in free if says_what_lapsed(one, matching.table.name)),
    ]


def _refuse_two_times(name: str, matching: Matching) -> None:
    """Raise Refusal where each row of a log would have a time of coming and one of going, and one be left out."""
    used = {at for sources in matching.best.columns.values() for at in sources}
    timed = [
        one
        for one in matching.seen
        if max(one.profile.times, one.profile.moments) > TIMED and one.position not in matching.barred
    ]
    for begins in (one for one in timed if _speaks(one, COMING)):
        for ends in (one for one in timed if _speaks(one, GOING)):
            if begins.position != ends.position and {begins.position, ends.position} - used:
                raise Refusal(
                    of_file(
                        name,
                        told(
                            "a row has two times, {begins} and {ends}, so it is no punch but a day or a shift; "
                            "export the punches with one to a row, or say which column is not to be read.",
                            begins=label_of(begins),
                            ends=label_of(ends),
                        ),
                    )
                )


def _speaks(column: ColumnSeen, concepts: Collection[str]) -> bool:
    return any(column.concepts.get(concept, NOT_PLAIN) > NOT_PLAIN for concept in concepts)


def _is_given_otherwise(table: Table, declared: str) -> bool:
    """Return whether a required column may be said for the whole file: a log's reader, the zone of its readers."""
    return (declared == "reader" and table.name != "readers") or (declared == "zone" and table.name == "readers")


def _where_is(name: str, matching: Matching, declared: str) -> Question:
    """Return the question which column of the file holds a required one; raises Refusal where none can."""
    column = matching.table.column(declared)
    used = {at for sources in matching.best.columns.values() for at in sources}
    free = [one for one in matching.seen if one.position not in used and one.profile.size and not one.profile.mails]
    free = [one for one in free if one.position not in matching.barred] or [
        one for one in matching.seen if one.profile.size and one.position not in matching.barred
    ]
    worth = matching.worth.get(declared, {})
    free.sort(key=lambda one: (-worth.get(one.position, -99.0), one.position))
    if not free or any(declared in one for one in matching.fixed):
        raise Refusal(
            of_file(
                name,
                told(
                    "no column holds '{declared}' ({meaning:low}), which {table} need; add such a column to the file.",
                    declared=declared,
                    meaning=told(column.meaning),
                    table=told(matching.table.name),
                ),
            )
        )
    asks = of_file(
        name, told("which column holds '{declared}' ({meaning:low})?", declared=declared, meaning=told(column.meaning))
    )
    choices = tuple(
        Choice(
            answer_of(one, matching.seen), told("{column}: {samples}", column=label_of(one), samples=samples_of(one))
        )
        for one in free
    )
    return Question("field", asks, choices, declared)


def _what_is(name: str, matching: Matching, column: ColumnSeen, likely: Sequence[str]) -> Question:
    others = [declared for declared, likelihood in matching.others(column.position) if likelihood >= POSSIBLE_USE]
    possible = list(dict.fromkeys([*likely, *others, *may_be(matching, column.position)]))
    choices = [
        Choice(declared, told("{column} is {use}", column=label_of(column), use=_meaning(matching.table, declared)))
        for declared in possible
    ]
    choices.append(Choice(NO_COLUMN, told("{column} is none of these and is not read", column=label_of(column))))
    asks = of_file(name, told("what is {column} ({samples})?", column=label_of(column), samples=samples_of(column)))
    return Question("column", asks, tuple(choices), answer_of(column, matching.seen))


def _what_lapsed(name: str, matching: Matching, column: ColumnSeen) -> Question:
    label = label_of(column)
    choices = [
        Choice(NO_COLUMN, told("{label} is not read, and every row counts", label=label)),
        *(
            Choice(one, told("{column} is {use}", column=label, use=_meaning(matching.table, one)))
            for one in may_be(matching, column.position)
        ),
    ]
    asks = of_file(
        name,
        told(
            "{column} ({samples}) may say which rows no longer hold, and {table} have no place for "
            "that; does every row hold? If not, take those rows out of the file first.",
            column=label,
            samples=samples_of(column),
            table=told(matching.table.name),
        ),
    )
    return Question("column", asks, tuple(choices), answer_of(column, matching.seen))


def _meaning(table: Table, declared: str) -> str:
    meaning = told(table.column(declared).meaning)
    return told("{column}: {meaning:low}", column=column_in_words(declared), meaning=meaning)


def about_consents(name: str, matching: Matching) -> list[Question]:
    """Return a question for each column that may say no of a consent, since every row is read as one that was given."""
    if matching.table.name != "consent":
        return []
    used = {at for sources in matching.best.columns.values() for at in sources} | matching.barred
    return [
        Question(
            "column",
            of_file(
                name,
                told(
                    "{column} ({samples}) says yes or no, and every row is read as a consent that was given; "
                    "take the rows of those who said no, or took it back, out of the file. May the others "
                    "all be read?",
                    column=label_of(one),
                    samples=samples_of(one),
                ),
            ),
            (Choice(NO_COLUMN, told("every row is a consent, and {column} is not read", column=label_of(one))),),
            answer_of(one, matching.seen),
        )
        for one in matching.seen
        if one.position not in used and _may_say_no(one)
    ]


def _may_say_no(column: ColumnSeen) -> bool:
    """Return whether cells are yes and no, granted and refused, or a mark in some rows; not yes in all."""
    profile = column.profile
    if not profile.size or max(profile.yes_no, profile.outcomes) <= MOSTLY:
        return False
    is_agreed = any(column.concepts.get(one, HARDLY) > FAINTLY for one in ("given", "form"))
    is_yes = all(YES_NO.get(plain(text), WORDS["outcome"].get(plain(text)) == "accepted") for text in profile.counts)
    return not (is_agreed and is_yes and profile.filled == 1)


def about_reader(name: str, known: KnownCells, table: str) -> Question:
    """Return the question which reader a whole file comes from."""
    log, other = sentence("the whole file is the log of {reader}"), sentence("the whole file is the list of {reader}")
    whole = log if table == "punches" else other
    choices = tuple(Choice(reader, told(whole, reader=reader)) for reader in sorted(known.readers))
    return Question(
        "reader", told("{name} does not say which reader it comes from; name the reader.", name=name), choices
    )


def about_zone(name: str) -> Question:
    """Return the question in which time zone the clocks of a list of readers run."""
    asks = told(
        "{name} gives no time zone for its readers; in which do their clocks run, such as America/Chicago?", name=name
    )
    return Question("zone", asks, ())


def about_zone_named(name: str, words: Sequence[str], where: str) -> Question:
    """Return the question in which zone the times of a file are written that names zones, by these words, somewhere."""
    zones = dict.fromkeys(zone for word in words for zone in zones_of(word))
    choices = tuple(Choice(zone, _clocks_in(zone)) for zone in zones)
    asks = of_file(
        name,
        told(
            "{where} says that its times are in {words:listed}, which can mean several things; in which time zone?",
            where=where,
            words=list(words),
        ),
    )
    return Question("zone", asks, choices)


def _clocks_in(zone: str) -> str:
    if zone == "UTC":
        return told("times are in UTC")
    if not zone.startswith("Etc/"):
        return told("times are those of clocks in {zone}, summer time and all", zone=zone)
    hours = int(zone.removeprefix("Etc/GMT"))  # counted westward
    if hours > 0:
        return told("times are {hours} hours behind UTC all year", hours=hours)
    return told("times are {hours} hours ahead of UTC all year", hours=-hours)


def label_of(column: ColumnSeen) -> str:
    """Return a column's header, or its place in words."""
    return f"'{column.header}'" if column.header else told("column {position}", position=column.position + 1)


def samples_of(column: ColumnSeen) -> str:
    """Return some of a column's cells, as written."""
    return ", ".join(text[:LONGEST] for text in list(column.profile.counts)[:SAMPLES]) or told("empty")


def answer_of(column: ColumnSeen, seen: Sequence[ColumnSeen]) -> str:
    """Return how an answer names a column: by its header, by its position from 1 where that is not its own."""
    alone = column.header and sum(one.header == column.header for one in seen) == 1
    return column.header if alone else str(column.position + 1)
