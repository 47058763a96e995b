"""What files that were made to hurt, or are broken, cost until they are taken or refused: memory and processor time.

Each is looked at in a process of its own, as `evenhand take` looks at it: read, proposed, read into typed columns.
"""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import tempfile
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

MOST_MEMORY = 500 << 20
MOST_SECONDS = 30
MOST_OF_HONEST = 750 << 20
"""A million honest rows are taken, not refused: they may cost as much as they hold, but no more."""
NOISE, LETTERS = 5, 6
"""Seeds of the files that are drawn at random."""
FUSE = 12 << 30  # address space of the process, so that a failure does not take the machine with it

LOOK = """
import resource
import sys
for limited, most in ((resource.RLIMIT_AS, int(sys.argv[2])), (resource.RLIMIT_CPU, int(sys.argv[3]))):
    resource.setrlimit(limited, (most, most))
from pathlib import Path
from evenhand import layouts
from evenhand.jobs.incoming import read_incoming
from evenhand.layouts import KnownCells
from evenhand.terms.records import Refusal
zones = {"A": "America/Chicago"}
try:
    file = read_incoming(Path(sys.argv[1])).file
    proposal = layouts.propose(file, known=KnownCells(readers=list(zones)))
    for question in proposal.questions:
        raise Refusal(question.asks)
    rows = layouts.read(file, proposal.layout, zones=zones)
    print(f"{rows.frame.height} rows taken, {rows.rejects.height} rejected")
except Refusal as refusal:
    print(refusal)
finally:
    # Not what the system counts for a child, which begins with the memory of the process that started it.
    peak = next(line for line in Path("/proc/self/status").read_text().splitlines() if line.startswith("VmHWM"))
    Path(sys.argv[4]).write_text(peak.split()[1])
"""


@dataclass(frozen=True)
class Cost:
    """What came of a file: what was said, processor time [s], largest memory [bytes], and how the process ended."""

    said: str
    seconds: float
    memory: int
    ended: int


def cost_of(path: Path) -> Cost:
    """Return what looking at the file at `path` costs in a process of its own."""
    with tempfile.TemporaryFile() as out, tempfile.NamedTemporaryFile() as peak:
        program = [sys.executable, "-c", LOOK, str(path), str(FUSE), str(4 * MOST_SECONDS), peak.name]
        child = subprocess.Popen(program, stdout=out, stderr=subprocess.STDOUT)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        out.seek(0)
        said = out.read().decode(errors="replace").strip()
        memory = int(Path(peak.name).read_text() or used.ru_maxrss) * 1024
    return Cost(said, used.ru_utime + used.ru_stime, memory, child.returncode)


# ---- what the files hold

HEADER = "reader,number,at,direction\n"
ROW = "A,0012,2026-03-04 07:00,in\n"
SHEET_NAMES = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


def workbook(sheets: dict[str, str], *, strings: str = "", head: str = "") -> bytes:
    """Return a workbook with these sheets, each given as the XML inside its `sheetData`."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as package:
        listed = "".join(f'<sheet name="{name}" sheetId="{at}" r:id="rId{at}"/>' for at, name in enumerate(sheets, 1))
        package.writestr(
            "xl/workbook.xml",
            f'{head}<workbook xmlns="{SHEET_NAMES}" xmlns:r="{RELATIONS}"><sheets>{listed}</sheets></workbook>',
        )
        related = "".join(
            f'<Relationship Id="rId{at}" Type="{RELATIONS}/worksheet" Target="worksheets/sheet{at}.xml"/>'
            for at in range(1, len(sheets) + 1)
        )
        related += f'<Relationship Id="rIdS" Type="{RELATIONS}/sharedStrings" Target="sharedStrings.xml"/>'
        package.writestr(
            "xl/_rels/workbook.xml.rels",
            '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
            f"{related}</Relationships>",
        )
        package.writestr("[Content_Types].xml", "<Types/>")
        package.writestr(
            "_rels/.rels",
            '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
            f'<Relationship Id="rId1" Type="{RELATIONS}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        )
        for at, rows in enumerate(sheets.values(), 1):
            with package.open(f"xl/worksheets/sheet{at}.xml", "w") as part:
                part.write(f'{head}<worksheet xmlns="{SHEET_NAMES}"><sheetData>'.encode())
                part.write(rows.encode())
                part.write(b"</sheetData></worksheet>")
        package.writestr("xl/sharedStrings.xml", f'{head}<sst xmlns="{SHEET_NAMES}">{strings}</sst>')
    return held.getvalue()


def cell(place: str, text: str) -> str:
    """Return the XML of a cell of text."""
    return f'<c r="{place}" t="inlineStr"><is><t>{text}</t></is></c>'


def _rows(*cells: list[str]) -> str:
    return "".join(
        f'<row r="{at}">' + "".join(cell(f"{chr(65 + column)}{at}", text) for column, text in enumerate(row)) + "</row>"
        for at, row in enumerate(cells, 1)
    )


LOG = _rows(["reader", "number", "at", "direction"], ["A", "0012", "2026-03-04 07:00", "in"])


def far_corner() -> bytes:
    """A sheet whose last cell is the last that there can be: 17 billion cells if it is laid out."""
    return workbook({"Log": f'{LOG}<row r="1048576">{cell("XFD1048576", "x")}</row>'})


def far_corner_oddly_written() -> bytes:
    """The same, written so that a plain search for its place does not find it."""
    return workbook(
        {"Log": f"""{LOG}<row\n r='1048576'><c\n\tt='inlineStr'  r = '&#88;FD1048576' ><is><t>x</t></is></c></row>"""}
    )


def zip_bomb() -> bytes:
    """Two GiB of blanks in a sheet of two megabytes."""
    held = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(workbook({"Log": LOG}))) as source,
        zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as package,
    ):
        for part in source.namelist():
            if part != "xl/worksheets/sheet1.xml":
                package.writestr(part, source.read(part))
        with package.open("xl/worksheets/sheet1.xml", "w") as sheet:
            sheet.write(f'<worksheet xmlns="{SHEET_NAMES}"><sheetData>'.encode() + LOG.encode())
            for _ in range(2000):
                sheet.write(b" " * (1 << 20))
            sheet.write(b"</sheetData></worksheet>")
    return held.getvalue()


def lying_zip_bomb() -> bytes:
    """The bomb whose directory says that the sheet is small."""
    content = bytearray(zip_bomb())
    size = next(each.file_size for each in zipfile.ZipFile(io.BytesIO(content)).infolist() if each.file_size > 1 << 30)
    small = (1000).to_bytes(4, "little")
    return bytes(content.replace(size.to_bytes(4, "little"), small))


def nested_zip() -> bytes:
    """A ZIP in a ZIP in a ZIP."""
    content = b"0" * (10 << 20)
    for depth in range(5):
        held = io.BytesIO()
        with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as package:
            for copy in range(10):
                package.writestr(f"{depth}-{copy}.zip", content)
        content = held.getvalue()
    return content


def entity_bomb() -> bytes:
    """Entities that name each other ten at a time."""
    entities = '<!ENTITY a0 "ha">' + "".join(f'<!ENTITY a{at} "{f"&a{at - 1};" * 10}">' for at in range(1, 12))
    return workbook(
        {"Log": LOG.replace("0012", "&a11;")}, head=f'<?xml version="1.0"?><!DOCTYPE worksheet [{entities}]>'
    )


def huge_strings() -> bytes:
    """A table of five million texts of which the sheet uses none."""
    return workbook({"Log": LOG}, strings="<si><t>some text of some length</t></si>" * 5_000_000)


def one_huge_string() -> bytes:
    """A cell of 300 MB, used a thousand times."""
    rows = "".join(
        f'<row r="{at}"><c r="A{at}" t="s"><v>0</v></c><c r="B{at}"><v>1</v></c></row>' for at in range(1, 1001)
    )
    return workbook({"Log": rows}, strings=f"<si><t>{'x' * (30 << 20)}</t></si>")


def thousands_of_sheets() -> bytes:
    """Five thousand sheets, each with rows but without a header."""
    rows = _rows(["1", "2"], ["3", "4"])
    return workbook({f"S{at}": rows for at in range(5000)})


def wide_sheet() -> bytes:
    """A thousand rows of 16,384 columns."""
    from itertools import product
    from string import ascii_uppercase as letters

    names = [
        *letters,
        *("".join(p) for p in product(letters, repeat=2)),
        *("".join(p) for p in product(letters, repeat=3)),
    ]
    rows = "".join(
        f'<row r="{at}">' + "".join(f'<c r="{name}{at}"><v>1</v></c>' for name in names[:16_384]) + "</row>"
        for at in range(1, 1001)
    )
    return workbook({"Log": rows})


def many_rows_claimed() -> bytes:
    """A million rows that hold nothing, two columns apart."""
    rows = "".join(f'<row r="{at}"/>' for at in range(3, 1_048_577))
    return workbook({"Log": LOG + rows})


def million_rows() -> bytes:
    """A million honest rows, as large as a sheet can be: it may cost what it needs, but no more."""
    import xlsxwriter

    held = io.BytesIO()
    book = xlsxwriter.Workbook(held, {"constant_memory": True})
    sheet = book.add_worksheet("Log")
    sheet.write_row(0, 0, ["reader", "number", "at", "direction"])
    for at in range(1, 1_000_000):
        sheet.write_row(at, 0, ["A", f"{at % 5000:04}", f"2026-03-{at % 28 + 1:02} 07:{at % 60:02}", "in"])
    book.close()
    return held.getvalue()


def columns(count: int) -> bytes:
    """A hundred rows of `count` columns."""
    row = ",".join(f"c{at}" for at in range(count))
    cells = ",".join(str(at % 100) for at in range(count))
    return f"{row}\n".encode() + f"{cells}\n".encode() * 100


def columns_of_dates(count: int) -> bytes:
    """Thirty rows of `count` columns, each cell a date and time of its own, which is what takes longest to weigh."""
    rows = [
        [f"2026-0{1 + at % 9}-{1 + row * at % 28:02d} 0{row % 10}:{at % 60:02d}" for at in range(count)]
        for row in range(30)
    ]
    lines = [[f"Date {at}" for at in range(count)], *rows]
    return "\n".join(map(",".join, lines)).encode() + b"\n"


def million_columns() -> bytes:
    """One line of a million columns, twice: each is longer than a line may be."""
    return (b"1," * 1_000_000 + b"\n") * 2


def half_a_million_columns() -> bytes:
    """Lines as long as they may be, of nothing but delimiters and digits."""
    return (b"1," * 500_000 + b"\n") * 20


def empty_lines() -> bytes:
    """A log with ten million empty lines in the middle."""
    return (HEADER + ROW * 500).encode() + b"\n" * 10_000_000 + ROW.encode() * 500


def lines_of_blanks() -> bytes:
    """A log with lines of blanks at the end."""
    return (HEADER + ROW * 500).encode() + b"    \r\n" * 5_000_000


def short_lines() -> bytes:
    """Sixty million lines of one character."""
    return b"a\n" * 60_000_000


def quotes_only() -> bytes:
    """A hundred megabytes of quotes, a thousand to a line."""
    return (b'"' * 1000 + b"\n") * 100_000


def lines_of_one_quote() -> bytes:
    """Ten million lines of one quote under a header."""
    return HEADER.encode() + b'"\n' * 10_000_000


def open_quotes() -> bytes:
    """A log in which every line opens a quote."""
    return HEADER.encode() + b'A,"0012,2026-03-04 07:00,in\n' * 300_000


def deep_json() -> bytes:
    """Brackets a hundred thousand deep."""
    return b'{"reader":' * 100_000 + b"1" + b"}" * 100_000 + b"\n"


def deep_array() -> bytes:
    """Arrays in arrays, nine hundred thousand deep, broken into lines."""
    return b"[\n" * 900_000 + b"]\n" * 900_000


def huge_number() -> bytes:
    """A number of ten to the four hundredth of digits, as many as fit on a line."""
    number = "9" * 900_000
    return (HEADER + f"A,{number},2026-03-04 07:00,in\nA,0012,{number},in\n" + ROW * 20).encode()


def huge_json_number() -> bytes:
    """The same in JSON, with an exponent too."""
    lines = [{"reader": "A", "number": "0012", "at": "2026-03-04 07:00", "direction": "in"}] * 20
    text = "".join(json.dumps(line) + "\n" for line in lines)
    text += '{"reader": "A", "number": ' + "9" * 900_000 + ', "at": "2026-03-04 07:00", "direction": "in"}\n'
    text += '{"reader": "A", "number": 1e999999999, "at": "2026-03-04 07:00", "direction": "in"}\n'
    return text.encode()


def many_names() -> bytes:
    """JSON lines of which each has names of its own."""
    return "".join(f'{{"reader": "A", "n{at}": 1, "m{at}": 2}}\n' for at in range(30_000)).encode()


def nul_bytes() -> bytes:
    """A log with NUL in every cell."""
    return (HEADER + "A\0,00\x0012,2026-03-04 07:00\0,in\0\n" * 1000).encode()


def noise() -> bytes:
    """Bytes drawn at random."""
    import random

    return random.Random(NOISE).randbytes(50 << 20)


def letters() -> bytes:
    """Thirty megabytes of letters and line ends drawn at random, as far from a table as text can be."""
    import random

    return bytes(random.Random(LETTERS).choices(b"abcdefgh;,|\t 0123456789\n", k=30 << 20))


def truncated_workbook() -> bytes:
    """A workbook of which the last half is missing."""
    content = workbook({"Log": LOG * 1})
    return content[: len(content) // 2]


FILES: dict[str, Callable[[], bytes]] = {
    made.__name__: made
    for made in (
        far_corner, far_corner_oddly_written, zip_bomb, lying_zip_bomb, nested_zip, entity_bomb, huge_strings,
        one_huge_string, thousands_of_sheets, wide_sheet, many_rows_claimed, million_columns, half_a_million_columns,
        empty_lines, lines_of_blanks, short_lines, quotes_only, lines_of_one_quote, open_quotes, deep_json, deep_array,
        huge_number, huge_json_number, many_names, nul_bytes, noise, letters, truncated_workbook,
    )
}  # fmt: skip
FILES["three_thousand_columns"] = lambda: columns(3000)
FILES["thousand_columns"] = lambda: columns(1000)
FILES["most_columns_of_dates"] = lambda: columns_of_dates(1500)
HONEST: dict[str, Callable[[], bytes]] = {"million_rows": million_rows}


def sparse(path: Path, head: bytes, size: int) -> None:
    """Write a file of `size` bytes that begins with `head` and holds nothing but zeros after it."""
    with path.open("wb") as file:
        file.write(head)
        file.truncate(size)


def write_repeated(path: Path, head: bytes, block: bytes, size: int) -> None:
    """Write `head` and as many blocks as `size` bytes hold."""
    with path.open("wb") as file:
        file.write(head)
        many = block * max(1, (4 << 20) // len(block))
        for _ in range(size // len(many)):
            file.write(many)


TWO_GIB = 1_999_000_000  # as much as is taken at once

LARGE: dict[str, Callable[[Path, int], None]] = {
    "two_gib_of_zeros": lambda path, size: sparse(path, HEADER.encode(), size),
    "two_gib_in_one_line": lambda path, size: write_repeated(path, HEADER.encode(), b"x" * 4096, size),
    "two_gib_of_empty_lines": lambda path, size: write_repeated(path, HEADER.encode(), b"\n" * 4096, size),
    "two_gib_of_quotes": lambda path, size: write_repeated(path, HEADER.encode(), b'"' * 999 + b"\n", size),
    "two_gib_of_prose": lambda path, size: write_repeated(
        path, b"", b"Some words, that are no table\nof rows at all. \n", size
    ),
    "two_gib_of_prose_under_a_log": lambda path, size: write_repeated(
        path, HEADER.encode() + ROW.encode() * 5000, b"Some words; that are no table\nof rows at all. \n", size
    ),
    "two_gib_behind_a_zip_mark": lambda path, size: sparse(path, b"PK\x03\x04", size),
}


def write_apart(name: str, path: Path, size: int = TWO_GIB) -> None:
    """Write the file called `name` to `path`, in a process of its own.

    What a process has used once counts for those that it starts, too.
    """
    program = [sys.executable, "-m", "bench.hostile", "write", name, str(path), str(size)]
    subprocess.run(program, cwd=Path(__file__).parents[1], check=True)


def write(name: str, path: Path, size: int) -> None:
    """Write the file called `name` to `path`."""
    if name in LARGE:
        LARGE[name](path, size)
    else:
        path.write_bytes((FILES | HONEST)[name]())


def main(only: list[str]) -> None:
    """Print the cost of each file, and end with 1 where one costs more than it may."""
    dear = []
    print(
        f"each may take {MOST_SECONDS} s of a processor and {MOST_MEMORY >> 20} MiB, a million honest rows "
        f"{MOST_OF_HONEST >> 20} MiB; seeds {NOISE} and {LETTERS} draw noise and letters"
    )
    with tempfile.TemporaryDirectory() as folder:
        for name in [*FILES, *HONEST, *LARGE]:
            if only and name not in only:
                continue
            path = Path(folder) / f"{name}.csv"
            write_apart(name, path)
            size, cost = path.stat().st_size, cost_of(path)
            path.unlink()
            most = MOST_OF_HONEST if name in HONEST else MOST_MEMORY
            over = cost.ended or cost.seconds > MOST_SECONDS or cost.memory > most or cost.said.count("\n")
            if over:
                dear.append(name)
            print(
                f"{name:>30} {size / (1 << 20):8.1f} MiB: {cost.seconds:5.1f} s, {cost.memory >> 20:5} MiB"
                f"{'  TOO DEAR' if over else ''}  {cost.said[:110]}",
                flush=True,
            )
    if dear:
        sys.exit(f"cost too much or failed: {', '.join(dear)}")


if __name__ == "__main__":
    if sys.argv[1:2] == ["write"]:
        write(sys.argv[2], Path(sys.argv[3]), int(sys.argv[4]))
    else:
        main(sys.argv[1:])
