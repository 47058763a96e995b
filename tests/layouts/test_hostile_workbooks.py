"""Workbooks that claim more than they hold are refused before a library lays them out; honest ones are not."""

import io
import struct
import zipfile

import openpyxl
import pytest
import xlsxwriter

from bench import hostile
from evenhand.layouts import SourceFile
from evenhand.layouts.forms.extents import check_workbook
from evenhand.layouts.forms.packages import Package
from evenhand.layouts.forms.workbook_state import counts_from_1904
from evenhand.terms.records import Refusal


def refused(content):
    with pytest.raises(Refusal, match=r"^f\.xlsx: ") as said:
        SourceFile("f.xlsx", content).sheet("")
    assert "\n" not in str(said.value)
    return str(said.value)


@pytest.mark.parametrize("made", ["far_corner", "far_corner_oddly_written"])
def test_a_cell_at_the_far_corner_is_refused_with_its_place(made):
    assert "1,048,576 rows and 16,384 columns" in refused(hostile.FILES[made]())


@pytest.mark.parametrize(
    "mark",
    [
        "<c r='XFD1048576'><v>1</v></c>",
        '<c\n s="1" r="XFD1048576"><v>1</v></c>',
        '<c x="&gt;/&gt;" r="XFD1048576"><v>1</v></c>',
        '<y:c xmlns:y="urn:y" r="XFD1048576"><y:v>1</y:v></y:c>',
        '<!-- <c r="A1"> --><c r="xfd1048576"><v>1</v></c>',
    ],
)
def test_the_far_corner_is_seen_however_it_is_written(mark):
    assert "1,048,576" in refused(hostile.workbook({"Log": f'{hostile.LOG}<row r="1048576">{mark}</row>'}))


def test_a_cell_without_a_place_follows_the_one_before():
    row = '<row r="1048576">' + "<c/>" * 5 + "<c><v>1</v></c></row>"
    assert "1,048,576 rows and 6 columns" in refused(hostile.workbook({"Log": hostile.LOG + row}))


def test_empty_cells_with_a_border_far_away_do_not_count():
    book = openpyxl.Workbook()
    book.active.append(["Name", "Badge"])
    book.active.append(["Ana Ruiz", "0012"])
    book.active["XFD1048576"].border = openpyxl.styles.Border(top=openpyxl.styles.Side(style="thin"))
    held = io.BytesIO()
    book.save(held)
    assert [column.to_list() for column in SourceFile("f.xlsx", held.getvalue()).sheet("")] == [
        ["Name", "Ana Ruiz"],
        ["Badge", "0012"],
    ]


def test_a_part_that_says_it_is_small_is_not_believed():
    honest = hostile.workbook({"Log": hostile.LOG + " " * 5_000_000})
    size = next(part.file_size for part in zipfile.ZipFile(io.BytesIO(honest)).infolist() if part.file_size > 5_000_000)
    lying = honest.replace(size.to_bytes(4, "little"), (1000).to_bytes(4, "little"))
    assert lying != honest
    check_workbook("f.xlsx", honest)
    assert "damaged" in refused(lying)


@pytest.mark.parametrize(
    ("made", "said"),
    [
        ("nested_zip", "damaged"),
        ("entity_bomb", "cannot be read"),
        ("one_huge_string", "MiB"),
        ("thousands_of_sheets", "parts"),
        ("truncated_workbook", "damaged"),
    ],
)
def test_other_workbooks_made_to_hurt_are_refused_in_one_sentence(made, said):
    assert said in refused(hostile.FILES[made]())


def test_a_part_called_a_picture_is_measured_too():
    far = hostile.far_corner()
    held = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(far)) as source, zipfile.ZipFile(held, "w") as package:
        for part in source.namelist():
            text = source.read(part).replace(b"worksheets/sheet1.xml", b"media/logo.png")
            package.writestr(part.replace("worksheets/sheet1.xml", "media/logo.png"), text)
    assert "1,048,576" in refused(held.getvalue())


def test_honest_workbooks_of_two_programs_pass_whatever_is_in_them():
    held = io.BytesIO()
    book = xlsxwriter.Workbook(held)
    sheet = book.add_worksheet("Log")
    sheet.write_row(0, 0, ["Name", "Badge", "Note"])
    for at in range(1, 3000):
        sheet.write_row(at, 0, [f"Name {at}", at, "one note, which many rows share " * 60])
    chart = book.add_chart({"type": "line"})
    chart.add_series({"values": "=Log!$B$2:$B$3000"})
    sheet.insert_chart("H2", chart)
    sheet.write_formula("E2", "=A1")
    book.close()
    assert SourceFile("f.xlsx", held.getvalue()).sheet("")[0].len() == 3000


def test_a_packages_parts_are_what_the_zipfile_module_reads():
    content = hostile.workbook({"Log": hostile.LOG * 20_000, "Other": hostile.LOG})
    package, archive = Package(content), zipfile.ZipFile(io.BytesIO(content))
    assert list(package.parts) == archive.namelist()
    for part in archive.namelist():
        assert b"".join(package.pieces(part)) == archive.read(part)
    assert package.sheets == {"Log": "xl/worksheets/sheet1.xml", "Other": "xl/worksheets/sheet2.xml"}


def open_document(rows):
    """Return an ODS workbook with these rows, written as OpenDocument 1.3 part 3, 9.1 has them."""
    urn = "urn:oasis:names:tc:opendocument:xmlns"
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as package:
        package.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        package.writestr("META-INF/manifest.xml", f'<manifest:manifest xmlns:manifest="{urn}:manifest:1.0"/>')
        package.writestr(
            "content.xml",
            f'<office:document-content xmlns:office="{urn}:office:1.0" xmlns:table="{urn}:table:1.0" '
            f'xmlns:text="{urn}:text:1.0"><office:body><office:spreadsheet><table:table table:name="Log">{rows}'
            "</table:table></office:spreadsheet></office:body></office:document-content>",
        )
    return held.getvalue()


def open_row(*cells, rows=1, columns=1):
    written = "".join(
        f'<table:table-cell office:value-type="string" table:number-columns-repeated="{columns}">'
        f"<text:p>{cell}</text:p></table:table-cell>"
        for cell in cells
    )
    return f'<table:table-row table:number-rows-repeated="{rows}">{written}</table:table-row>'


def test_an_ods_is_read_and_one_that_repeats_its_cells_without_end_is_refused():
    honest = open_row("Name", "Badge") + open_row("Ana Ruiz", "0012")
    empty = '<table:table-row table:number-rows-repeated="1048000"><table:table-cell/></table:table-row>'
    assert [column.to_list() for column in SourceFile("f.ods", open_document(honest + empty)).sheet("")] == [
        ["Name", "Ana Ruiz"],
        ["Badge", "0012"],
    ]
    assert "1,048,000" in refused(open_document(honest + open_row("x", rows=1_047_998, columns=16_384)))
    far = open_document(
        honest
        + empty
        + '<table:table-row><table:table-cell table:number-columns-repeated="16000"/>'
        + open_row("x")[open_row("x").index(">") + 1 :]
    )
    assert "cells" in refused(far)


def old_workbook(*records, small=False, says=()):
    """Return an XLS workbook with one sheet of these records, written as [MS-CFB] and [MS-XLS] have them.

    `says` are further records before the sheet.
    """

    def record(kind, body=b""):
        return struct.pack("<HH", kind, len(body)) + body

    def begin(kind):
        return record(0x0809, struct.pack("<HHHHII", 0x0600, kind, 0, 0, 0, 0))

    sheet = begin(0x10) + b"".join(record(*each) for each in records) + record(0x0A)
    said = b"".join(record(*each) for each in says)
    globals_size = len(begin(5)) + len(record(0x85, bytes(8) + b"Log")) + len(said) + 4
    bound = record(0x85, struct.pack("<IBBBB", globals_size, 0, 0, 3, 0) + b"Log")
    stream = begin(5) + bound + said + record(0x0A) + sheet
    end, free, table = 0xFFFFFFFE, 0xFFFFFFFF, 0xFFFFFFFD
    size = len(stream) if small else max(len(stream), 4096)
    stream = stream.ljust(-(-size // 512) * 512, b"\0")
    count = len(stream) // 512

    def entry(name, kind, first, length):
        written = (name + "\0").encode("utf-16-le")
        head = written.ljust(64, b"\0") + struct.pack(
            "<HBBIII", len(written), kind, 1, free, free, 1 if kind == 5 else free
        )
        return (head + bytes(36) + struct.pack("<II", first, length)).ljust(128, b"\0")

    # Sectors: the table, the directory, the table of small sectors, and the stream.
    chain = [table, end, end, *range(4, 3 + count), end]
    small_chain = [*range(1, -(-size // 64)), end] if small else []
    header = bytes.fromhex("d0cf11e0a1b11ae1") + bytes(16) + struct.pack("<HHHHH", 0x3E, 3, 0xFFFE, 9, 6) + bytes(6)
    header += struct.pack("<IIIIIIIII", 0, 1, 1, 0, 4096, 2 if small else end, 1 if small else 0, end, 0)
    header += struct.pack("<109I", 0, *[free] * 108)
    directory = entry("Root Entry", 5, 3 if small else end, len(stream) if small else 0)
    directory += entry("Workbook", 2, 0 if small else 3, size)
    numbers = [each + [free] * (128 - len(each)) for each in (chain, small_chain)]
    return (
        header
        + struct.pack("<128I", *numbers[0])
        + directory.ljust(512, b"\0")
        + struct.pack("<128I", *numbers[1])
        + stream
    )


def number_cell(row, column):
    return 0x0203, struct.pack("<HHHd", row, column, 0, 1.5)


@pytest.mark.parametrize("small", [False, True])
def test_an_xls_is_read_and_one_with_a_cell_at_the_far_corner_or_such_a_claim_is_refused(small):
    honest = old_workbook(number_cell(0, 0), number_cell(1, 1), small=small)
    assert [column.to_list() for column in SourceFile("f.xls", honest).sheet("")] == [["1.5", ""], ["", "1.5"]]
    assert "65,536 rows and 256 columns" in refused(
        old_workbook(number_cell(0, 0), number_cell(65_535, 255), small=small)
    )
    claim = (0x0200, struct.pack("<IIHHH", 0, 0xFFFFFFFF, 0, 65_535, 0))
    assert "rows and 65,535 columns" in refused(old_workbook(claim, number_cell(0, 0), small=small))


def test_an_xls_whose_sectors_run_in_a_ring_is_refused():
    ring = bytearray(old_workbook(number_cell(0, 0)))
    ring[512 + 4 * 3 : 512 + 4 * 4] = struct.pack("<I", 3)
    assert "damaged" in refused(bytes(ring))


@pytest.mark.parametrize(
    ("says", "is_from_1904"), [((), False), (((0x22, b"\0\0"),), False), (((0x22, b"\1\0"),), True)]
)
def test_an_xls_says_from_which_day_it_counts(says, is_from_1904):
    """[MS-XLS], 2.4.77: the record Date1904 holds 1 where days are counted from 1904."""
    content = old_workbook(number_cell(0, 0), says=says)
    assert counts_from_1904(content) is is_from_1904
    assert SourceFile("f.xls", content).sheet("")[0].to_list() == ["1.5"]
