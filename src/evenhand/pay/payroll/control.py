"""What lets payroll check the file it received: totals of its columns, and a digest of its sources."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from evenhand.pay.payroll.fields import FIELDS, PayrollField, figure_as_text
from evenhand.pay.payroll.rows import PayrollRow
from evenhand.terms.columns import Frame

__all__ = ["ColumnTotal", "ControlTotal", "Totals", "digest"]


@dataclass(frozen=True)
class ColumnTotal:
    """What a column, or the rows of a code, add up to.

    `printed` is the sum of the printed figures, each rounded once by itself: hours, minutes, seconds or money, as
    `form` says. `exact` is the sum of what was rounded: seconds of time, or money. `unknown` counts the rows whose
    money is not known, and which stand empty. `adjusting` is the part of `printed` in rows that adjust earlier
    weeks.
    """

    header: str
    field: str
    form: str
    printed: Decimal
    exact: Decimal
    unknown: int = 0
    adjusting: Decimal = Decimal(0)

    @property
    def is_time(self) -> bool:
        """Whether it is a total of time."""
        return self.form != "money"

    @property
    def as_printed(self) -> str:
        """Return the sum as the figures are printed."""
        return self.written(self.printed)

    def written(self, figure: Decimal) -> str:
        """Return a part of the sum as its figures are printed."""
        return figure_as_text(int(figure)) if self.form == "hm" else str(figure)


@dataclass(frozen=True)
class ControlTotal:
    """Totals of a hand-off file: its rows and people, and what each of its columns adds up to.

    `worked` and `money` add up the totals once more, over columns of which none holds what another does: worked time,
    as printed in one form, and money; None where no columns are so. `ordinary_s`, `overtime_s` and `double_s` are
    the exact seconds behind the file, and `printed_*` the same as the sums of each row's hours, rounded once.
    `rows_adjusting` are the people's weeks among them that adjust earlier ones.
    """

    rows: int
    people: int
    ordinary_s: int
    overtime_s: int
    printed_ordinary: Decimal
    printed_overtime: Decimal
    double_s: int = 0
    printed_double: Decimal = Decimal("0.00")
    columns: tuple[ColumnTotal, ...] = ()
    worked: str | None = None
    money: Decimal | None = None
    rows_adjusting: int = 0
    rows_without_money: int = 0


class Totals:
    """Adds up the figures of a file as they are printed, column by column, or code by code.

    `figures` are the headers or codes with their fields, in the order of the definition.
    """

    def __init__(self, decimals: int, figures: Iterable[tuple[str, PayrollField]]) -> None:
        self.decimals = decimals
        self._fields = {(header, field.name): field for header, field in figures}
        self._printed: dict[tuple[str, str], list[Decimal | None]] = {key: [] for key in self._fields}
        self._exact = dict.fromkeys(self._fields, Decimal(0))
        self._adjusting = dict.fromkeys(self._fields, Decimal(0))

    def count(self, header: str, field: PayrollField, row: PayrollRow) -> None:
        """Count the figure that the field prints of a row, under the column's header or the row's code."""
        key = (header, field.name)
        figure, exact = field.figure(row, self.decimals), field.exact(row)
        self._printed[key].append(None if figure is None else Decimal(figure))
        self._exact[key] += Decimal(exact or 0)
        if row.adjusts is not None:
            self._adjusting[key] += Decimal(figure or 0)

    def made(self, rows: Sequence[PayrollRow], lines: int) -> ControlTotal:
        """Return the control total of these rows, which stand in so many lines."""
        columns = tuple(self._column(key) for key in self._printed)
        fields = list(self._fields.values())
        seconds = {item: [row.seconds.get(item, 0) for row in rows] for item in ("ordinary", "overtime", "double")}
        printed = {
            item: sum((Decimal(FIELDS[f"{item}_hours"].figure(row) or 0) for row in rows), Decimal("0.00"))
            for item in seconds
        }
        asks = any(field.is_money for field in fields)
        return ControlTotal(
            rows=lines,
            people=len({row.person for row in rows}),
            ordinary_s=sum(seconds["ordinary"]),
            overtime_s=sum(seconds["overtime"]),
            double_s=sum(seconds["double"]),
            printed_ordinary=printed["ordinary"],
            printed_overtime=printed["overtime"],
            printed_double=printed["double"],
            columns=columns,
            worked=_worked(columns),
            money=_money(columns, fields),
            rows_adjusting=sum(row.adjusts is not None for row in rows),
            rows_without_money=sum(not row.is_known for row in rows) if asks else 0,
        )

    def _column(self, key: tuple[str, str]) -> ColumnTotal:
        field, figures = self._fields[key], self._printed[key]
        none = Decimal(0) if field.form in ("hm", "minutes", "seconds") else Decimal("0.00")
        return ColumnTotal(
            header=key[0],
            field=field.name,
            form=field.form,
            printed=sum((one for one in figures if one is not None), none),
            exact=self._exact[key],
            unknown=figures.count(None),
            adjusting=none + self._adjusting[key],
        )


def _worked(columns: Iterable[ColumnTotal]) -> str | None:
    """Return ordinary time, overtime and double time together, as printed; None where they have no one form."""
    parts = [one for one in columns if one.field.rpartition("_")[0] in ("ordinary", "overtime", "double")]
    if "ordinary" not in {one.field.rpartition("_")[0] for one in parts}:
        return None
    if len({one.form for one in parts}) > 1 or len({one.field for one in parts}) < len(parts):
        return None
    together = sum((one.printed for one in parts), Decimal(0))
    return figure_as_text(int(together)) if parts[0].form == "hm" else str(together)


def _money(columns: Iterable[ColumnTotal], fields: Iterable[PayrollField]) -> Decimal | None:
    """Return the money of all columns together; None where there is none, or where one holds what another does."""
    sums = [field for field in fields if field.is_money]
    for at, one in enumerate(sums):
        for other in sums[at + 1 :]:
            if any(map(one.tells, other.items)) or any(map(other.tells, one.items)):
                return None
    return sum((one.printed for one in columns if not one.is_time), Decimal("0.00")) if sums else None


def digest(frames: Mapping[str, Frame], settings: str) -> str:
    """Return a SHA-256 over the sources a file was computed from: the same sources give the same digest.

    Frames are written as sorted comma-separated rows under their names, so that neither the order in which
    punches arrived nor the machine changes it. Source: FIPS 180-4 for the hash.
    """
    total = hashlib.sha256(settings.encode())
    for name in sorted(frames):
        frame = frames[name]
        total.update(f"\n{name} {frame.height}\n".encode())
        total.update(frame.sort(frame.columns).write_csv(datetime_format="%FT%T").encode())
    return total.hexdigest()
