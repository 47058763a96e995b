"""How files that workplaces really write are met at the door: read, asked about, refused, or read wrongly.

`python -m bench.intake --part training --limit 600 --only punches`, or `--only moment=serial`; `--show 17` shows one
file with what is true of it and what became of it. Ends with 1 where a row was read wrongly or a table mistaken.
"""

from __future__ import annotations

import argparse
import io
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from itertools import islice

import openpyxl
from bench.corpus import PARTS, CorpusFile, files, kit_of, make
from bench.corpus.door import GOOD, VERDICTS, WORST, Outcome, known_cells, meet, true_text

from evenhand.layouts import SourceFile, propose
from evenhand.terms.records import Refusal


def _chosen(file: CorpusFile, only: str) -> bool:
    if not only:
        return True
    if "=" in only:
        name, value = only.split("=", 1)
        return file.dimensions.get(name) == value
    return only in {file.table, *file.dimensions.values()}


def _share(part: str, first: int, step: int, limit: int | None, only: str) -> list[Outcome]:
    return [meet(file) for file in files(part, first, step, limit) if _chosen(file, only)]


def _met(part: str, limit: int | None, only: str, processes: int) -> Iterator[Outcome]:
    """Yield the outcomes as they come, those of so many processes at once."""
    whole = limit or PARTS[part]
    shares = max(processes, whole // 100)
    if processes < 2:
        for share in range(shares):
            yield from _share(part, share, shares, whole, only)
        return
    with ProcessPoolExecutor(processes) as pool:
        waiting = [pool.submit(_share, part, share, shares, whole, only) for share in range(shares)]
        for share in waiting:
            yield from share.result()


def measure(part: str, *, limit: int | None = None, only: str = "", processes: int = 2) -> list[Outcome]:
    """Return what became of the files of the part, saying on the way how far it is."""
    outcomes: list[Outcome] = []
    begun = time.perf_counter()
    whole = limit or PARTS[part]
    coming = _met(part, limit, only, processes)
    while more := list(islice(coming, 50)):
        outcomes += more
        worst = sum(one.verdict in WORST for one in outcomes)
        spent = time.perf_counter() - begun
        print(
            f"  {len(outcomes):,} of {whole:,} files, {worst} of them wrong, {spent:.0f} s", file=sys.stderr, flush=True
        )
    return sorted(outcomes, key=lambda one: one.number)


def report(outcomes: list[Outcome], *, every: bool = False) -> bool:
    """Print the totals, the confusion by dimension and what is not good by cause; return whether nothing was wrong."""
    counts = Counter(one.verdict for one in outcomes)
    wrong_rows = sum(one.wrong for one in outcomes)
    spent = sum(one.seconds for one in outcomes)
    sure = [one for one in outcomes if one.expects == "read"]
    readable = [one for one in outcomes if one.expects in {"read", "either"}]
    closed = [one for one in outcomes if one.expects in {"ask", "refuse"}]
    rows = sum(one.rows for one in outcomes)
    print(f"{len(outcomes):,} files, {rows:,} rows, {spent:.0f} s of processor time at the door")
    print(
        f"  silently wrong: {wrong_rows:,} rows (target 0) in {counts['wrong rows']} files; "
        f"wrong table: {counts['wrong table']} (target 0); ended in an error: {counts['crashed']}"
    )
    print(f"  read right at the first proposal: {_share_of(sure, {'right'})} of those that tell all (target 97 %)")
    print(f"    {_share_of(readable, {'right'})} with those about which a careful reader may ask first")
    print(f"  asked or refused: {_share_of(closed, GOOD)} of those that must be")
    for verdict, says in VERDICTS.items():
        print(f"  {counts[verdict]:6,}  {verdict}: {says}")
    slowest = sorted(outcomes, key=lambda one: -one.seconds)[:5]
    print("  the slowest [s]: " + ", ".join(f"{one.number} {one.seconds:.1f}" for one in slowest))
    _print_dimensions(outcomes, every)
    _print_causes(outcomes)
    return not (wrong_rows or counts["wrong table"] or counts["crashed"])


def _share_of(outcomes: list[Outcome], verdicts: set[str]) -> str:
    met = sum(one.verdict in verdicts for one in outcomes)
    return f"{met:,} of {len(outcomes):,}, {100 * met / max(1, len(outcomes)):.1f} %,"


def _print_dimensions(outcomes: Iterable[Outcome], every: bool) -> None:
    by: dict[tuple[str, str], list[Outcome]] = defaultdict(list)
    for one in outcomes:
        for name, value in one.dimensions.items():
            by[name, value].append(one)
    heads = ("files", "right %", "asked %", "refused %", "wrong files", "wrong rows")
    print(f"\n{'dimension':18} {'value':34}" + "".join(f"{head:>12}" for head in heads))
    for (name, value), met in sorted(by.items()):
        right = sum(one.verdict in {"right", "guessed"} for one in met)
        asked = sum(one.verdict.startswith("asked") for one in met)
        refused = sum("refused" in one.verdict for one in met)
        wrong = [one for one in met if one.verdict in WORST]
        if name == "bad rows" and "," in value and not every:
            continue
        cells = (
            str(len(met)),
            f"{100 * right / len(met):.1f}",
            f"{100 * asked / len(met):.1f}",
            f"{100 * refused / len(met):.1f}",
            str(len(wrong)),
            str(sum(one.wrong for one in wrong)),
        )
        print(f"{name:18} {value[:34]:34}" + "".join(f"{cell:>12}" for cell in cells))


def _print_causes(outcomes: Iterable[Outcome]) -> None:
    """Print the causes of what is not good, the worst kinds first, with some files to look at."""
    by: dict[tuple[str, str, str], list[Outcome]] = defaultdict(list)
    for one in outcomes:
        if one.verdict not in GOOD:
            by[one.verdict, one.dimensions["table"] if one.verdict not in {"refused"} else "", one.cause].append(one)
    order = list(reversed(VERDICTS))
    print("\nwhat is not good, by cause; --show NUMBER shows a file")
    for (verdict, table, cause), met in sorted(by.items(), key=lambda one: (order.index(one[0][0]), -len(one[1]))):
        wrong = f", {sum(one.wrong for one in met):,} rows" if verdict == "wrong rows" else ""
        listed = ", ".join(str(one.number) for one in met[:8])
        print(f"  {verdict}: {len(met)} files{wrong} {table}: {cause or '-'} [{listed}]")


def show(part: str, number: int) -> None:
    """Print one file, what is true of it, how it is proposed, and what became of it."""
    file = make(kit_of(part), number)
    print(f"{file.number} {file.name}: {file.table or 'no table of ours'}; to be met by: {file.expects} {file.why}")
    print("  " + "; ".join(f"{name} {value}" for name, value in file.dimensions.items()))
    readers = dict(islice(file.around.reader_zones.items(), 4))
    print(f"  known: today {file.around.today}, readers {readers}, {len(file.around.numbers)} numbers")
    for at, uses in enumerate(file.uses):
        header = repr(file.headers[at]) if file.headers else ""
        print(f"  column {at + 1} {header} -> {' and '.join(uses) or 'nothing'}")
    print(_beginning(file))
    for row in file.rows[:4]:
        told = ", ".join(f"{name} {true_text(value)}" for name, value in row.values.items())
        print(f"  true, line {row.line}, {row.kind}: {told}")
    try:
        proposal = propose(SourceFile(file.name, file.content), known=known_cells(file.around))
        print(f"  proposed: {proposal.layout}")
        for question in proposal.questions:
            choices = [choice.answer for choice in question.choices]
            print(f"  asked about {question.about} {question.subject!r}: {question.asks} {choices}")
    except Refusal as refusal:
        print(f"  refused: {refusal}")
    outcome = meet(file)
    print(
        f"  {outcome.verdict}: {outcome.cause}; rows wrong {outcome.wrong}, with a value left out {outcome.left_out}, "
    )
    print(f"    refused {outcome.refused}; {outcome.seconds:.2f} s")
    for note in outcome.notes[:8]:
        print(f"    {note}")


def _beginning(file: CorpusFile) -> str:
    """Return the first lines of a file as text."""
    if file.dimensions["form"] == "sheet":
        book = openpyxl.load_workbook(io.BytesIO(file.content))
        return "\n".join(
            f"  {sheet.title}! {row}" for sheet in book for row in islice(sheet.iter_rows(values_only=True), 6)
        )
    encodings = {"utf-8 with mark": "utf-8-sig", "utf-16 le": "utf-16", "utf-16 be": "utf-16"}
    written = file.dimensions.get("encoding", "utf-8 with mark")
    text = file.content.decode(encodings.get(written, written))
    return "\n".join(f"  | {line}" for line in text[:1_500].splitlines()[:8])


def main() -> None:
    """Measure, or show one file; end with 1 where something was read wrongly."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--part", choices=sorted(PARTS), default="training")
    parser.add_argument("--limit", type=int, help="so many files of the part")
    parser.add_argument("--only", default="", help="a table, a dimension's value, or dimension=value")
    parser.add_argument("--show", type=int, metavar="NUMBER", help="show one file and what becomes of it")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--every", action="store_true", help="print every value of every dimension")
    given = parser.parse_args()
    try:
        kit_of(given.part)
    except LookupError as absent:
        parser.error(str(absent))
    if given.show is not None:
        show(given.part, given.show)
        return
    print(f"seeds: the words “{kit_of(given.part).name} NUMBER”, by the number of each file")
    outcomes = measure(given.part, limit=given.limit, only=given.only, processes=given.processes)
    if not report(outcomes, every=given.every):
        sys.exit(1)


if __name__ == "__main__":
    main()
