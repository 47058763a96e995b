"""Take a person out of every table, of those that takes are folded into and of those that hold what was decided.

A row about the person goes, with the rows that hang on it; in a row about others only the person's name is replaced.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from io import BytesIO
from typing import Any

import polars as pl
import sqlalchemy as sa

from evenhand.store.comparing import FOLDED
from evenhand.store.folding import folding
from evenhand.store.known_again import hidden
from evenhand.store.ledger import erase_author, erase_seals
from evenhand.store.ledger_tables import LEDGER
from evenhand.store.parts import add_missing
from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.store.written import add_row, change_row, entry_says, erase_row, note_takes, written_on

__all__ = [
    "Touched",
    "Traces",
    "add_erasure",
    "add_hold",
    "erase_earlier",
    "erase_rows",
    "forget_presentations",
    "forget_seals",
]

ABOUT = ("person", "holder")
BY = ("supervisor",)
"""Columns that hold the identifier of whoever did something to somebody else's row, which stays without it."""
BESIDE = {"folding", "clearing", "erased_sources"}
LINES = ("handoff_lines", "adjustment_lines", "handoff_figures")


@dataclass(frozen=True)
class Traces:
    """By what a person is known: `ids` (identifiers, and numbers that stood for one), `names` that nobody else bears.

    `numbers` are those that were the person's and nobody else's, `shared` those that others held too. `longer` are
    names of others within which one of the person's stands, such as `Quill, Ada M.` of somebody beside `Quill, Ada`;
    `spared` are names of the person's that somebody else bears too, `borne` identifiers that are others' numbers.
    """

    ids: frozenset[str]
    names: tuple[str, ...]
    numbers: frozenset[str]
    shared: frozenset[str] = frozenset()
    longer: tuple[str, ...] = ()
    spared: tuple[str, ...] = ()
    borne: frozenset[str] = frozenset()

    @cached_property
    def alone(self) -> frozenset[str]:
        """Return the identifiers and numbers that are nobody else's, wherever they stand."""
        return self.ids - self.borne | self.numbers

    @cached_property
    def words(self) -> re.Pattern[str] | None:
        """What finds the person in a sentence: a name, or an identifier that is no other word, nor an amount."""
        telling = {text for text in self.ids - self.borne if len(text) >= 4 and _is_mixed(text)}
        return _finding({*self.names, *telling}, self.longer)

    @cached_property
    def named(self) -> re.Pattern[str] | None:
        """What finds the person in the name of a file: a name or an identifier, not a number, which may be a year."""
        return _finding({*self.names, *filter(_is_mixed, self.ids - self.numbers)}, self.longer)

    @cached_property
    def _segments(self) -> re.Pattern[str]:
        """What finds an identifier or number as all that stands between quotes, or as a part of a finding's key."""
        every = sorted(self.alone, key=lambda one: (-len(one), one))
        return re.compile(rf"(?<=[/\"])(?:{'|'.join(map(re.escape, every))})(?=[/\"]|$)")

    @cached_property
    def _spared(self) -> re.Pattern[str] | None:
        return _finding(self.spared, self.longer)

    @cached_property
    def whose(self) -> re.Pattern[str]:
        """What finds the person in a cell that says whose a row is: a name, an identifier or a number."""
        bare = {one.lstrip("0") for one in self.alone if one.isdigit()}
        zeroed = "|".join(f"0*{one}" for one in sorted(bare) if one)
        found = _finding({*self.names, *self.alone}, self.longer)
        texts = [found.pattern.removeprefix("(?i)")] if found else []
        return re.compile("(?i)" + "|".join([*texts, *([rf"(?<![^\W_])(?:{zeroed})(?![^\W_])"] if zeroed else [])]))

    def replaced(self, text: str, stand_in: str) -> str:
        """Return a text with `stand_in` where it names the person, also as an identifier in quotes.

        Where it is told by an identifier whom it means, a name that others bear too is the person's, unless
        somebody else's identifier stands behind it.
        """
        said = self.words.sub(stand_in, text) if self.words else text
        said = self._segments.sub(stand_in, said) if self.alone else said
        if said == text or not self._spared:
            return said
        return self._spared.sub(lambda one: one[0] if _is_told_apart(one, stand_in) else stand_in, said)

    def names_in_line(self, line: str) -> bool:
        """Whether a line that evenhand wrote is about the person: by name, or where it writes whose something is."""
        if self.words and self.words.search(line):
            return True
        return bool(self._placed and self._placed.search(line))

    @cached_property
    def _placed(self) -> re.Pattern[str] | None:
        """What finds an identifier or number in brackets, in a finding's key, or behind `under` or `number`."""
        every = "|".join(map(re.escape, sorted(self.alone, key=lambda one: (-len(one), one))))
        before = r"(?<=[(/\[])|(?<=under )|(?<=number )|(?<=^  )"
        return re.compile(rf"(?:{before})(?:{every})(?=[)/\],:]|$)") if every else None

    def names_in(self, row: Mapping[str, Any]) -> bool:
        """Whether a row is about the person: by whom it says it is, by its number, or by the key of its finding."""
        if any(row.get(name) in self.ids for name in ABOUT if row.get(name)):
            return True
        if row.get("number") in self.numbers:
            return True
        segments = set(str(row.get("finding") or "").split("/")[1:])
        return not segments.isdisjoint(self.alone)


def _is_mixed(text: str) -> bool:
    """Whether an identifier is of letters and digits, as no word and no amount is."""
    return any(map(str.isdigit, text)) and any(map(str.isalpha, text))


def _is_told_apart(one: re.Match[str], stand_in: str) -> bool:
    """Whether behind a name stands, in brackets, another identifier than the one that stood for the person."""
    behind = re.match(r"\s*\(([^()]*)\)", one.string[one.end() :])
    return behind is not None and any(map(str.isdigit, behind[1])) and stand_in not in behind[1]


def _finding(texts: Collection[str], longer: Collection[str]) -> re.Pattern[str] | None:
    """Return what finds one of `texts` as words of their own, however parted, and not as a part of a `longer` one."""
    found = "|".join(map(_spelled, sorted(filter(None, texts), key=lambda text: (-len(text), text))))
    if not found:
        return None
    behind = "|".join(_spelled(one.rstrip(" .")) for one in longer)
    kept = rf"(?!(?:{behind})(?![^\W_]))" if behind else ""
    before = {
        one[: at.start()] for one in longer for text in texts if (at := re.search(re.escape(text), one, re.IGNORECASE))
    }
    kept += "".join(rf"(?<!{re.escape(one)})" for one in sorted(before) if one.strip())
    return re.compile(rf"(?i)(?<![^\W_]){kept}(?:{found})(?![^\W_])")


def _spelled(text: str) -> str:
    return r"[\s_,.+-]+".join(map(re.escape, re.split(r"[\s_]+", text)))


@dataclass(frozen=True)
class Touched:
    """How many rows of each table were taken out (`gone`), and in how many only the person's name (`reworded`)."""

    gone: Counter[str] = field(default_factory=Counter)
    reworded: Counter[str] = field(default_factory=Counter)


def erase_rows(conn: sa.Connection, traces: Traces, stand_in: str) -> Touched:
    """Erase what was decided about the person, and put `stand_in` where other rows name them.

    What takes are folded into is left alone.
    """
    touched = Touched()
    for name, table in STORED.items():
        if name in FOLDED or name in BESIDE or name in LINES or name == "earlier_rows":
            continue
        key = [column.name for column in table.primary_key.columns]
        for row in conn.execute(sa.select(table)).mappings().all():
            values = dict(row)
            at = values[key[0]] if len(key) == 1 else tuple(values[one] for one in key)
            if traces.names_in(values) and not _holds_for_others(values, traces):
                touched.gone.update(_erase_with_children(conn, name, at))
            elif changed := _reworded(table, key, values, traces, stand_in):
                change_row(conn, name, at, changed)
                touched.reworded[name] += 1
    for name in LINES:
        touched.gone.update(_without_lines(conn, name, traces))
    return touched


def _holds_for_others(row: Mapping[str, Any], traces: Traces) -> bool:
    """Whether a row is about somebody else and only tells whose number it was: a punch given to another by hand."""
    return "holder" in row and bool(row.get("person")) and row["person"] not in traces.ids


def _erase_with_children(conn: sa.Connection, name: str, key: Any) -> Counter[str]:
    touched: Counter[str] = Counter()
    if isinstance(key, tuple) is False:
        for child, table in STORED.items():
            for column in table.columns:
                if child in FOLDED or not any(link.column.table.name == name for link in column.foreign_keys):
                    continue
                own = [one.name for one in table.primary_key.columns]
                for row in conn.execute(sa.select(table).where(column == key)).mappings().all():
                    touched += _erase_with_children(
                        conn, child, row[own[0]] if len(own) == 1 else tuple(row[one] for one in own)
                    )
    found = conn.scalar(sa.select(sa.func.count()).select_from(STORED[name]).where(_at(name, key)))
    if found:
        erase_row(conn, name, key)
        touched[name] += 1
    return touched


def _at(name: str, key: Any) -> sa.ColumnElement[bool]:
    columns = STORED[name].primary_key.columns
    values = key if isinstance(key, tuple) else (key,)
    return sa.and_(*(column == value for column, value in zip(columns, values, strict=True)))


def _reworded(
    table: sa.Table, key: list[str], values: Mapping[str, Any], traces: Traces, stand_in: str
) -> dict[str, Any]:
    """Return the values of a row in which the person is named, without the name."""
    changed: dict[str, Any] = {}
    for name, value in values.items():
        if name in key or not isinstance(value, str):
            continue
        if name in (*ABOUT, *BY):
            if value in traces.ids:
                changed[name] = None
        elif name not in ("sha256", "digest") and (said := traces.replaced(value, stand_in)) != value:
            changed[name] = said
    return changed


def forget_presentations(conn: sa.Connection, traces: Traces) -> Counter[str]:
    """Forget how the person's hand was enrolled on rounds: the number of presentations and the scores they showed."""
    items, outcomes, touched = STORED["round_items"].c, STORED["outcomes"], Counter[str]()
    theirs = sa.select(items.item).where(items.person.in_(traces.ids))
    told = sa.or_(outcomes.c.scores.is_not(None), outcomes.c.presentations.is_not(None))
    for outcome in conn.scalars(sa.select(outcomes.c.outcome).where(outcomes.c.item.in_(theirs), told)).all():
        change_row(conn, "outcomes", outcome, {"scores": None, "presentations": None})
        touched["outcomes"] += 1
    return touched


def forget_seals(conn: sa.Connection, traces: Traces) -> None:
    """Forget the salts under which the ledger sealed what this transaction changed or took out, and who is erased.

    The entry that ends the transaction seals what is left, so that the log stays whole and tells nothing of the rest.
    """
    written = written_on(conn)
    if written is None:  # it is only tried
        return
    for table, keys in written.rows.items():
        erase_seals(conn, table, [key for key, is_new in keys.items() if not is_new])
    for table, takes in written.takes.items():
        erase_seals(conn, table, takes=takes)
    names = LEDGER["ledger_authors"].c.name
    for name in conn.scalars(sa.select(names).where(names.is_not(None))).all():
        if traces.words and traces.words.search(name):
            erase_author(conn, name)
    entry_says(conn, kind="erasure")


def _without_lines(conn: sa.Connection, name: str, traces: Traces) -> Counter[str]:
    """Take the person's lines out of what payroll was told; the control totals of the file stay as they were."""
    table, touched = STORED[name], Counter[str]()
    key = table.primary_key.columns[0]
    for number, content in conn.execute(sa.select(key, table.c.content)).all():
        lines = pl.read_ipc_stream(BytesIO(content))
        left = lines.filter(~pl.col("person").is_in(list(traces.ids)))
        if left.height < lines.height:
            written = BytesIO()
            left.write_ipc_stream(written, compression="zstd")
            change_row(conn, name, number, {"content": written.getvalue()})
            touched[name] += lines.height - left.height
    return touched


def erase_earlier(conn: sa.Connection, traces: Traces) -> Counter[str]:
    """Erase the person from what was stored before sources were kept: rows set down then, punches of those takes."""
    touched: Counter[str] = Counter()
    earlier = STORED["earlier_rows"]
    for running, content in conn.execute(sa.select(earlier.c.running, earlier.c.content)).all():
        if traces.names_in(json.loads(content)):
            erase_row(conn, "earlier_rows", running)
            touched["earlier_rows"] += 1
    takes, changes = STORED["takes"].c, STORED["changes"]
    before = conn.scalars(sa.select(takes["take"]).where(takes.layout_text.is_(None))).all()
    if not before:
        return touched
    with folding(conn):
        note_takes(conn, "changes", before)
        for change, row_key, was in conn.execute(
            sa.select(changes.c.change, changes.c.row_key, changes.c.was).where(changes.c["take"].in_(before))
        ).all():
            if traces.names_in(json.loads(was) | json.loads(row_key)):
                conn.execute(changes.delete().where(changes.c.change == change))
                touched["changes"] += 1
        for take in before:
            touched += _punches_of(conn, take, traces)
    return touched


def _punches_of(conn: sa.Connection, take: int, traces: Traces) -> Counter[str]:
    punches, details, takes = STORED["punches"], STORED["punch_details"], STORED["takes"]
    theirs = punches.c["take"] == take, punches.c.number.in_(traces.numbers)
    lines = conn.scalars(sa.select(punches.c.line).where(*theirs)).all()
    if not lines:
        return Counter()
    for name in ("punches", "punch_details"):
        note_takes(conn, name, [take])
    conn.execute(punches.delete().where(*theirs))
    conn.execute(details.delete().where(details.c.punch.in_([(take << PUNCH_SHIFT) + line for line in lines])))
    conn.execute(STORED["punch_parts"].delete().where(STORED["punch_parts"].c["take"] == take))
    left = takes.c.taken - len(lines)
    conn.execute(takes.update().where(takes.c["take"] == take).values(taken=left))
    add_missing(conn)
    return Counter({"punches": len(lines)})


def add_hold(
    conn: sa.Connection, *, person: str, is_lifted: bool, author: str, reason: str, made_at: int, lifts: int | None
) -> int:
    """Add that a hold is placed on somebody's time records, or one is lifted (HOLDS); returns the row's number."""
    said = {"person": person, "author": author, "reason": reason, "made_at": made_at}
    values = said | {"is_lifted": int(is_lifted), "lifts": lifts}
    return add_row(conn, "holds", values)


def add_erasure(conn: sa.Connection, values: Mapping[str, Any], sources: list[dict[str, Any]]) -> int:
    """Add what was erased (ERASURES without its number), and which sources were written anew for it."""
    number = add_row(conn, "erasures", values)
    for source in sources:
        before = hidden(conn, source["sha256_before"])
        add_row(conn, "erased_sources", {**source, "sha256_before": before, "erasure": number})
    conn.execute(STORED["clearing"].insert().values(running=number))
    return number
