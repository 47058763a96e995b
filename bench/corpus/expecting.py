"""How a file is to be met: read, or what has to be asked first, found from how it was written alone."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bench.corpus.moments import order_of
from bench.corpus.open_orders import possible_orders
from bench.corpus.records import AnyOf, Around, Expects, Row
from bench.corpus.sheets import Sheet
from bench.corpus.writing import Writer

__all__ = ["Expecting", "with_lost_zeros"]


@dataclass(frozen=True)
class Expecting:
    """What is known of how the file was written."""

    writer: Writer
    table: str
    kind: str
    headless: bool
    nasty: int

    def of(self, sheet: Sheet, around: Around, knows: str, ours: int) -> tuple[Expects, set[str], str]:
        """Return how the file is to be met, what may have to be asked, and why."""
        w = self.writer
        must: dict[str, str] = {}
        may: dict[str, str] = {}
        if sheet.dimensions.get("reader") == "nowhere":
            (may if len(around.reader_zones) == 1 else must)["reader"] = "nothing says from which reader it comes"
        if self.table in {"punches", "schedules"} and knows == "nothing":
            must["zone"] = "no clock is known"
        if self.table == "enrolments" and knows == "nothing":
            may["reader"] = "no reader is known"
        self._orders(sheet, around, ours, must, may)
        if not w.keeps_zeros and w.place.digits and self.table in {"people", "enrolments", "punches"}:
            may["zeros"] = "zeros are lost"
        if not w.place.digits and knows != "everything" and self.table in {"people", "enrolments", "punches"}:
            may["zeros"] = "numbers differ in length, and none is known"
        if self.headless and self.table != "punches":
            may["column"] = may["table"] = "no header says what the columns are"
        elif self.headless and knows != "everything":
            may["column"] = may["table"] = "no header, and neither numbers nor people are known"
        elif self.headless:
            may["column"] = "no header"
        if self.kind == "delimited" and w.sloppy and self.nasty == 2:
            may.setdefault("column", "its header is sloppy")
        if w.doubted:
            may.setdefault("column", "a header or a code may mean several things")
        rows = len(sheet.truth)
        if rows < 4:
            may["table"] = may["column"] = "there are hardly any rows"
        if must:
            return "ask", {*must, *may}, "; ".join(must.values())
        return ("either" if may else "read"), set(may), "; ".join(may.values())

    def _orders(self, sheet: Sheet, around: Around, ours: int, must: dict[str, str], may: dict[str, str]) -> None:
        w = self.writer
        written = [column for column in w.written[:ours] if column]
        if not written:
            return
        forward = sheet.dimensions.get("log order") in {"forward", "backward"}
        orders = possible_orders(
            w.dates,
            written,
            today=around.today,
            runs=self.table == "punches" and forward,
            may_be_future=self.table in {"schedules", "people", "rates"},
            earliest=2000 if self.table != "people" else 1950,
        )
        if around.orders and sheet.dimensions["reader"] in {"file name", "title"}:
            return  # a person has stated the order for this reader's files
        dotted = "." in w.dates and order_of(w.dates) == "dmy"
        # days one after the other would, the other way round, be the same day of month after month
        follow = self.table in {"punches", "schedules"} and len(set(written[0])) > 2
        if {"dmy", "mdy"} <= orders and not dotted and not follow:
            must["dates"] = "day and month may be either way round"
        elif len(orders) > 1:
            may["dates"] = "other orders cannot be ruled out"


def with_lost_zeros(rows: tuple[Row, ...], w: Writer, knows: str) -> tuple[Row, ...]:
    """Return the rows, numbers being allowed without the zeros that the file lost, where no number is known."""
    if w.keeps_zeros or not w.place.digits:
        return rows
    freed = []
    for row in rows:
        number = row.values.get("number")
        if isinstance(number, str) and knows != "everything":
            row = replace(row, values={**row.values, "number": AnyOf((number, str(int(number))))})  # noqa: PLW2901
        freed.append(row)
    return tuple(freed)
