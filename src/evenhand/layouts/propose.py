"""Propose how a file is read, by the kept layout that fits best or by what it most likely is, and ask what is open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from evenhand.layouts.asking import about_columns, about_table, about_tables, is_sure_of_table
from evenhand.layouts.contested import explains_better
from evenhand.layouts.evidence.column import ColumnSeen, KnownTexts
from evenhand.layouts.evidence.profile import ROLE_MARKS, Profile
from evenhand.layouts.kept import KeptFit, choose_kept, fit_kept
from evenhand.layouts.layout import Layout, Source
from evenhand.layouts.matching import Matching
from evenhand.layouts.proposal import Answers, ColumnUse, KnownCells, Proposal, Question
from evenhand.layouts.settling import Draft, reader_named, settle
from evenhand.layouts.sketch import Cut, Sketch, sketch
from evenhand.layouts.source_file import SourceFile
from evenhand.layouts.understanding import Understanding, said_of, understand
from evenhand.layouts.values.words import YES_NO, plain
from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = ["propose"]

NOTHING_SAID, NOTHING_KNOWN = Answers(), KnownCells()
NONE_KEPT: Mapping[str, Layout] = {}
OFFERED = 0.8  # how likely a column has to be one that a kept layout leaves out
CONTRARY = 0.8  # how likely a file has to name its readers, to be no log of one reader
SAMPLES = 3


def propose(
    file: SourceFile,
    answers: Answers = NOTHING_SAID,
    known: KnownCells = NOTHING_KNOWN,
    kept: Mapping[str, Layout] = NONE_KEPT,
    seen: Sketch | None = None,
) -> Proposal:
    """Return how the file would be read, by a layout kept under some key or a fresh one, and what has to be asked.

    `seen` is the file's sketch, where it was made before. Raises Refusal for a file without a table of rows, and for
    answers that cannot be followed.
    """
    seen = seen or sketch(file)
    texts = KnownTexts.of(known)
    found, others = understand(file.name, seen, answers, texts)
    draft = _by_kept(file, answers, known, texts, kept, found, seen)
    if draft is None or not draft.kept:
        fresh = _fresh(file, answers, found, known)
        notices = _other_sheets(found, others) + (draft.notices if draft else ())
        draft = draft if draft and draft.layout.columns else replace(fresh, notices=notices)
    draft = settle(file, answers, known, draft)
    return Proposal(
        draft.layout,
        _uses(draft),
        draft.questions,
        _offers(draft) if draft.kept else (),
        "" if draft.kept and draft.layout != _as_kept(kept[draft.kept], draft.layout) else draft.kept,
        draft.notices,
    )


def _as_kept(kept: Layout, layout: Layout) -> Layout:
    """Return a kept layout with what is each file's own: reader, up to which year its dates go, whether it is whole."""
    return replace(kept, reader=layout.reader, last_year=layout.last_year, roster=layout.roster)


def _fresh(file: SourceFile, answers: Answers, found: Understanding, known: KnownCells) -> Draft:
    """Return the layout under which the file is likeliest."""
    table, matching, cut = SOURCES[found.table], found.matching, found.cut
    questions = () if answers.table else tuple(about_table(file.name, found))
    # What a column is depends on the table: one thing is asked after the other.
    reader = answers.reader or reader_named(file, known.readers, replace(cut.shape, table=table.name))
    questions = questions or tuple(about_columns(file.name, found, ("reader",) if reader else ()))
    columns = matching.best.columns
    layout = replace(
        cut.shape,
        table=table.name,
        columns={name: _sources(sources, found.seen) for name, sources in columns.items()},
        ignored=_sources(tuple(sorted(matching.barred)), found.seen),
        words=_words(matching),
    )
    return Draft(replace(layout, decimal=_decimal(cut, matching)), cut, matching, questions)


def _sources(positions: Sequence[int], seen: Sequence[ColumnSeen]) -> tuple[Source, ...]:
    """Return source columns by their header words, by position from 1 where there is none or it stands twice."""
    headers = [one.header for one in seen]
    return tuple(headers[at] if headers[at] and headers.count(headers[at]) == 1 else at + 1 for at in positions)


def _words(matching: Matching) -> dict[str, dict[str, str]]:
    """Return what marks stand for that are no words for yes and no in any language: those of roles."""
    found = {}
    for name, sources in matching.best.columns.items():
        profile = matching.seen[sources[0]].profile
        if name == "is_supervisor" and profile.roles and not all(plain(text) in YES_NO for text in profile.counts):
            yes, _ = ROLE_MARKS
            found[name] = {text: "yes" if plain(text) in yes else "no" for text in sorted(profile.counts)}
    return found


def _decimal(cut: Cut, matching: Matching) -> str:
    """Return ',' where numbers with fractions are written with a comma, else '.'."""
    commas = points = 0
    for name, sources in matching.best.columns.items():
        if matching.table.column(name).kind in ("score", "money"):
            cells = cut.grid.columns[sources[0]]
            commas += int(cells.str.contains(r"\d,\d{1,2}\b").sum())
            points += int(cells.str.contains(r"\d\.\d{1,2}\b").sum())
    return "," if commas > points else "."


def _by_kept(
    file: SourceFile,
    answers: Answers,
    known: KnownCells,
    texts: KnownTexts,
    kept: Mapping[str, Layout],
    found: Understanding,
    seen: Sketch,
) -> Draft | None:
    """Return the kept layout that the file is read by, None where none fits; without columns, only what to say."""
    tried = {
        key: layout
        for key, layout in kept.items()
        if answers.table in ("", layout.table) and answers.layout in ("", key)
    }
    if answers.layout and not tried:
        raise Refusal(
            of_file(
                file.name,
                told(
                    "no kept layout is called {layout}; there are {kept}.",
                    layout=repr(answers.layout),
                    kept=", ".join(kept) or told("none"),
                ),
            )
        )
    fits = [fit for key, layout in sorted(tried.items()) if (fit := fit_kept(file, key, layout, texts, seen))]
    if answers.layout and not fits:
        raise Refusal(
            of_file(
                file.name, told("the layout {layout} does not fit it; choose another, or none.", layout=answers.layout)
            )
        )
    fits = [fit for fit in fits if answers.layout or not _is_contrary(fit, found)]
    is_said = bool(answers.layout or answers.table)
    untimed = [
        fit for fit in fits if not is_said and explains_better(found, fit.layout.table, _left_out(fit)) == "times"
    ]
    fits = [fit for fit in fits if fit not in untimed]
    chosen, questions = choose_kept(file.name, fits, answers.reader or reader_named(file, known.readers))
    if chosen is None:
        said = tuple(
            told("{layout} names this file's columns, but leaves out its times; so it is not used.", layout=fit.key)
            for fit in untimed
        )
        said += tuple(
            told("{layout} names this file's columns, but {fault}; so it is not used.", layout=fit.key, fault=fit.fault)
            for fit in fits
        )
        return Draft(Layout("", "delimited", {}), found.cut, found.matching, notices=said) if said else None
    if not is_said and explains_better(found, chosen.layout.table, _left_out(chosen)) and is_sure_of_table(found):
        questions = [about_tables(file.name, found, (chosen.layout.table, found.table))]
    return _adjusted(file, answers, chosen, tuple(questions))


def _left_out(fit: KeptFit) -> frozenset[int]:
    """Return the columns of the file that a layout neither uses nor says to be none of its table's."""
    used = frozenset(at for sources in fit.columns.values() for at in sources)
    return frozenset(one.position for one in fit.seen) - used - _ignored(fit)


def _ignored(fit: KeptFit, layout: Layout | None = None) -> frozenset[int]:
    ignored, headers = (layout or fit.layout).ignored, fit.cut.grid.headers
    return frozenset(at for at in range(len(fit.seen)) if at + 1 in ignored or (headers and headers[at] in ignored))


def _is_contrary(fit: KeptFit, found: Understanding) -> bool:
    """Return whether a layout for one reader's log meets a file that names the reader in every row."""
    is_whole = fit.layout.reader and found.table == fit.layout.table and "reader" in found.matching.best.columns
    return bool(is_whole) and found.matching.likelihood_of("reader") > CONTRARY


def _adjusted(file: SourceFile, answers: Answers, fit: KeptFit, questions: tuple[Question, ...]) -> Draft:
    """Return a kept layout with what was said about the columns of this file."""
    fixed, barred = said_of(file.name, answers, fit.seen)
    table = SOURCES[fit.layout.table]
    if unknown := next((name for name in fixed if name not in table.names), ""):
        raise Refusal(
            of_file(
                file.name,
                told(
                    "'{unknown}' is no column of {table}; they are {names}.",
                    unknown=unknown,
                    table=table.name,
                    names=", ".join(table.names),
                ),
            )
        )
    said = barred.union(*fixed.values()) if fixed else barred
    columns = {
        name: sources
        for name, sources in fit.layout.columns.items()
        if name not in fixed and not said & set(fit.columns[name])
    }
    columns |= {name: _sources(sources, fit.seen) for name, sources in fixed.items()}
    ordered = {name: columns[name] for name in table.names if name in columns}
    used = {at for sources in fixed.values() for at in sources}
    named = {at + 1 for at in used} | {fit.seen[at].header for at in used}
    still = [source for source in fit.layout.ignored if source not in named]
    ignored = dict.fromkeys([*still, *_sources(tuple(sorted(barred)), fit.seen)])
    layout = fit.layout
    if fixed or barred:
        layout = replace(layout, columns=ordered, ignored=tuple(ignored))
    positions = {name: fixed.get(name, fit.columns.get(name, ())) for name in layout.columns}
    return Draft(layout, fit.cut, Matching(table, fit.seen, positions, _ignored(fit, layout)), questions, kept=fit.key)


def _uses(draft: Draft) -> tuple[ColumnUse, ...]:
    """Return what each column of the file is used as."""
    names: dict[int, list[str]] = {}
    for name, sources in draft.matching.best.columns.items():
        if name in draft.layout.columns:
            for at in sources:
                names.setdefault(at, []).append(name)
    return tuple(
        _use(one, names.get(one.position, []), _likelihood(draft.matching, one.position, names.get(one.position, [])))
        for one in draft.matching.seen
    )


def _use(column: ColumnSeen, names: Sequence[str], likelihood: float) -> ColumnUse:
    return ColumnUse(column.position + 1, column.header, tuple(names), likelihood, _samples(column.profile))


def _samples(profile: Profile) -> tuple[str, ...]:
    return tuple(list(profile.counts)[:SAMPLES])


def _likelihood(matching: Matching, position: int, names: Sequence[str]) -> float:
    if names:
        return min(matching.likelihood_of(name) for name in names)
    return 1 - max((likelihood for _, likelihood in matching.others(position)), default=0.0)


def _offers(draft: Draft) -> tuple[ColumnUse, ...]:
    """Return columns that a kept layout leaves out, and that seem to be declared ones."""
    matching = draft.matching
    return tuple(
        _use(matching.seen[at], [name], matching.likelihood_of(name))
        for name, sources in matching.best.columns.items()
        if name not in draft.layout.columns and not (name == "reader" and draft.layout.reader)
        for at in sources
        if matching.likelihood_of(name) >= OFFERED
    )


def _other_sheets(found: Understanding, others: Sequence[Understanding]) -> tuple[str, ...]:
    """Return what is said of the sheets of a workbook that are not read."""
    return tuple(
        told(
            "Only the sheet {sheet} is read, and not {other} with its {rows} rows; save that as a "
            "file of its own if it is wanted.",
            sheet=repr(found.cut.shape.sheet),
            other=repr(one.cut.shape.sheet),
            rows=len(one.cut.grid.lines),
        )
        for one in others
    )
