"""What is said or asked of a file as a whole, once its columns are known: reader, dates, zeros, in and out."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from evenhand.layouts.asking import about_consents, about_reader, about_zone, about_zone_named, label_of
from evenhand.layouts.decimal_hours import about_decimal_hours
from evenhand.layouts.layout import Layout
from evenhand.layouts.matching import Matching
from evenhand.layouts.meanings import about_words, with_sense, with_ways, with_words
from evenhand.layouts.ordering import ask_order, ask_turned, order_of, refuse_turned, turned_in, with_years
from evenhand.layouts.other_ends import about_other_ends
from evenhand.layouts.pay_units import about_pay_units
from evenhand.layouts.proposal import OWN_CLOCK, Answers, Choice, KnownCells, Question
from evenhand.layouts.sketch import Cut, above_header
from evenhand.layouts.source_file import SourceFile
from evenhand.layouts.values.keyed import lost_zeros, width_known
from evenhand.layouts.values.words import plain
from evenhand.layouts.wording.header import order_customary
from evenhand.layouts.wording.zones import is_universal, zone_words, zone_words_above
from evenhand.terms.languages import in_a_row, of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES
from evenhand.terms.zones import is_zone

__all__ = ["Draft", "reader_named", "settle"]

MOSTLY = 0.7  # of the cells
UNSAID, FAINT = -9.0, -1.4  # how well a header fits a concept: not at all, most of its words


@dataclass(frozen=True)
class Draft:
    """A layout for the file as far as it is known, what speaks for each column, and what was found open so far."""

    layout: Layout
    cut: Cut
    matching: Matching
    questions: tuple[Question, ...] = ()
    notices: tuple[str, ...] = ()
    kept: str = ""


def settle(file: SourceFile, answers: Answers, known: KnownCells, draft: Draft) -> Draft:
    """Return the draft with what answers say of the whole file, and with questions about what is still open."""
    layout = draft.layout
    if answers.zone:
        zone = "" if answers.zone == OWN_CLOCK else answers.zone
        if zone and not is_zone(zone):
            raise Refusal(
                told("{zone} is not a time zone; give an IANA name such as America/Chicago.", zone=repr(zone))
            )
        layout = replace(layout, zone=zone)
    if answers.dates:
        layout = replace(layout, date_order=answers.dates)
    if answers.zeros is not None:
        layout = replace(layout, number_width=answers.zeros)
    questions = list(draft.questions)
    if any(question.about in ("table", "field") for question in questions):
        return replace(draft, layout=layout)
    consents = about_consents(file.name, draft.matching)
    subjects = {one.subject for one in consents}
    questions = [one for one in questions if one.about != "column" or one.subject not in subjects] + consents
    if _wants_reader(layout):
        layout = replace(layout, reader=answers.reader or reader_named(file, known.readers, layout))
        if not layout.reader:
            questions.append(about_reader(file.name, known, layout.table))
    if layout.table == "readers" and "zone" not in layout.columns and not layout.zone:
        questions.append(about_zone(file.name))
    notices = (*draft.notices, *_reader_unused(answers, layout), *_times_unread(draft, layout))
    named, where = _zones_named(draft)
    if not draft.kept and not answers.zone and not layout.zone and named:
        if is_universal(named):
            layout = replace(layout, zone="UTC")
            notices = (
                *notices,
                told(
                    "Times are read as written in UTC, as {where} says; give a zone where that is wrong.", where=where
                ),
            )
        else:
            questions.append(about_zone_named(file.name, named, where))
    layout = with_sense(layout, file.cells(layout))
    if answers.words:
        layout = with_words(file.name, layout, file.cells(layout), answers.words)
    if (width := _width_known(file, layout, known)) is not None:
        layout = replace(layout, number_width=width)
    if not draft.kept:
        questions += about_decimal_hours(file.name, draft.matching, file.cells(layout))
        meant = about_pay_units(file.name, draft.matching, layout, file.cells(layout))
        meant += about_other_ends(file.name, draft.matching, known.today)
        subjects = {one.subject for one in meant}
        questions = [one for one in questions if one.about != "column" or one.subject not in subjects] + meant
    # What a person has answered is not asked again, whatever the dates say: those that are none so are refused.
    layout, asked = (layout, []) if answers.dates else _dates_asked(file, draft, layout, known)
    if not asked:
        cells = file.cells(layout)
        layout = with_years(layout, cells, order_of(layout, cells).order, known.today)
        layout = with_ways(layout, file.cells(layout))
        # What the words of a column stand for depends on what the column is.
        is_open = any(question.about == "column" for question in questions)
        asked = [] if is_open else about_words(file.name, layout, file.cells(layout))
    asked = [*asked, *_zeros_asked(file, layout)]
    return replace(draft, layout=layout, questions=(*questions, *asked), notices=notices)


def _reader_unused(answers: Answers, layout: Layout) -> list[str]:
    """Say that a reader was named for a file whose rows name theirs."""
    if not answers.reader or layout.table == "readers" or "reader" not in layout.columns:
        return []
    columns = [str(one) for one in layout.columns["reader"]]
    return [
        told(
            "Each row names its own reader, in column {columns:listed}, so {reader} is not used; say first "
            "that this column is nothing if all rows come from one reader.",
            columns=columns,
            reader=answers.reader,
        )
    ]


def _times_unread(draft: Draft, layout: Layout) -> list[str]:
    """Say that columns of a plan hold times that are not read, as of a second shift of the day; not those of breaks."""
    if layout.table != "schedules":
        return []
    matching = draft.matching
    used = {at for name, sources in matching.best.columns.items() if name in layout.columns for at in sources}
    unread = [
        label_of(one)
        for one in matching.seen
        if one.position not in used | matching.barred
        and one.profile.times > MOSTLY
        and not any(one.concepts.get(concept, UNSAID) > FAINT for concept in ("break", "sum"))
    ]
    if not unread:
        return []
    return [
        told(
            "Times are not read in {columns}: a row is one shift, from its start to its end; where a "
            "day has two, write a row for each.",
            columns=in_a_row("{one}, {other}", unread),
        )
    ]


def _wants_reader(layout: Layout) -> bool:
    required = any(column.name == "reader" and column.required for column in SOURCES[layout.table].columns)
    return required and "reader" not in layout.columns and layout.table != "readers"


def _zones_named(draft: Draft) -> tuple[list[str], str]:
    """Return the words for zones in the headers of the columns that say when, else in a note above; and where."""
    matching = draft.matching
    times = [
        sources for name, sources in matching.best.columns.items() if matching.table.column(name).kind == "instant"
    ]
    if named := zone_words(matching.seen[at].header for sources in times for at in sources):
        return named, told("the header")
    return (zone_words_above(draft.cut.above) if times else []), told("a note above the header")


def _dates_asked(file: SourceFile, draft: Draft, layout: Layout, known: KnownCells) -> tuple[Layout, list[Question]]:
    """Return the layout with the order of its dates, where the file or others of its origin decide it; or ask."""
    origins = draft.kept, layout.reader, layout.origin
    stated = next((known.orders[origin] for origin in origins if origin in known.orders), "")
    custom = order_customary([one.header for one in draft.matching.seen])
    found = order_of(layout, file.cells(layout), today=known.today, stated=stated, custom=custom)
    if asked := ask_order(file.name, found):
        return layout, [asked]
    if turned := turned_in(layout, file.cells(layout), found.order, known.today):
        if turned.beside:
            refuse_turned(file.name, turned)
        return layout, [ask_turned(file.name, turned)]
    if found.how == "needless" or (draft.kept and found.told_by not in ("today", "origin")):
        # A kept layout stays as it is where the file's own dates tell their order to whoever reads it.
        return layout, []
    return replace(layout, date_order=found.order), []


def _width_known(file: SourceFile, layout: Layout, known: KnownCells) -> int | None:
    """Return how wide numbers are where those that are known already tell, None where they do not."""
    if layout.number_width is not None or "number" not in layout.columns or not known.numbers:
        return None
    return width_known(file.cells(layout).coded["number"], known.numbers)


def _zeros_asked(file: SourceFile, layout: Layout) -> list[Question]:
    """Return the question whether numbers lost their zeros, where some are short and none begins with one."""
    if layout.number_width is not None or "number" not in layout.columns:
        return []
    lost = lost_zeros(file.cells(layout).coded["number"])
    if lost is None:
        return []
    width, short, shorter, all_of = lost
    padded = short.zfill(width)
    choices = (
        Choice(
            str(width),
            told("numbers have {width} digits: {short} is {padded}", width=width, short=short, padded=padded),
        ),
        Choice("0", told("numbers are as they are written: {short} is {short}", short=short)),
    )
    asks = of_file(
        file.name,
        told(
            "{shorter} of {all_of} numbers are shorter than {width} digits, such as {short}, and "
            "none begins with a zero; did they lose their zeros?",
            shorter=shorter,
            all_of=all_of,
            width=width,
            short=short,
        ),
    )
    return [Question("zeros", asks, choices)]


def reader_named(file: SourceFile, known_readers: Collection[str], layout: Layout | None = None) -> str:
    """Return the known reader that the file's name, or a line above its header, names; '' where none does."""
    above = above_header(file, layout) if layout else ""
    for place in (file.name, above):
        words = f" {plain(place)} "
        named = sorted((reader for reader in known_readers if f" {plain(reader)} " in words), key=len)
        # DOCK stands inside DOCK-2: the longest name is meant where it holds the others.
        if named and all(f" {plain(shorter)} " in f" {plain(named[-1])} " for shorter in named):
            return named[-1]
    return ""
