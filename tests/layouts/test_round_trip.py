"""The same rows written in every form that is understood are read back equal."""

import csv
import io
import json

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.layouts import Layout, SourceFile, read

from .proposed import layout_of

ZONES = {"North Gate": "America/Chicago", "Tor Süd": "Europe/Berlin"}
NAMES = ["reader", "number", "at", "direction", "outcome", "score"]

row = st.tuples(
    st.sampled_from(list(ZONES)),
    st.text("0123456789", min_size=3, max_size=6),
    st.datetimes().map(lambda when: when.replace(year=2026, month=when.month, day=min(when.day, 28))).map(
        lambda when: when.strftime("%Y-%m-%dT%H:%M:%SZ")
    ),
    st.sampled_from(["in", "out"]),
    st.sampled_from(["accepted", "refused"]),
    st.integers(0, 9999).map(lambda n: f"{n / 100:.2f}"),
)  # fmt: skip


def delimited(rows, delimiter, quoting=csv.QUOTE_MINIMAL):
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, quoting=quoting).writerows([NAMES, *rows])
    return out.getvalue()


def fixed(rows):
    widths = (14, 8, 24, 10, 12, 8)
    return "".join(
        "".join(f"{cell:<{w}}" for cell, w in zip(r, widths, strict=True)).rstrip() + "\n" for r in [NAMES, *rows]
    )


def sheet(rows):
    book = openpyxl.Workbook()
    for each in [NAMES, *rows]:
        book.active.append(each)
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def forms(rows):
    """Return the rows in each form, with the layout's own keys."""
    mapped = {name: (name,) for name in NAMES}
    for delimiter in ",;\t|":
        layout = Layout("punches", "delimited", mapped, delimiter=delimiter, header=1)
        yield delimited(rows, delimiter).encode(), layout
        yield delimited(rows, delimiter, csv.QUOTE_ALL).encode("utf-16"), layout
    yield delimited(rows, ";").encode("windows-1252"), Layout("punches", "delimited", mapped, delimiter=";", header=1)
    yield fixed(rows).encode(), Layout("punches", "fixed", mapped, starts=(1, 15, 23, 47, 57, 69), header=1)
    yield sheet(rows), Layout("punches", "sheet", mapped, header=1)
    objects = "".join(json.dumps(dict(zip(NAMES, r, strict=True))) + "\n" for r in rows)
    yield objects.encode(), Layout("punches", "json_lines", mapped)


@given(st.lists(row, min_size=1, max_size=12))
@settings(max_examples=20, deadline=None)
def test_every_form_gives_the_same_frame(rows):
    frames = [read(SourceFile("f", content), layout, zones=ZONES) for content, layout in forms(rows)]
    assert all(each.rejects.height == 0 for each in frames)
    assert frames[0].frame.height == len(rows)
    assert frames[0].frame["number"].to_list() == [r[1] for r in rows]
    assert frames[0].frame["score"].to_list() == [float(r[5]) for r in rows]
    for each in frames[1:]:
        assert each.frame.equals(frames[0].frame)


@pytest.mark.parametrize("at", range(12))
def test_the_proposed_layout_reads_every_form(at):
    rows = [
        ("Tor Süd", f"{n:04}", f"2026-03-{n % 28 + 1:02}T07:{n % 60:02}:00Z", "in", "refused", "8.25")
        for n in range(40)
    ]
    content, layout = list(forms(rows))[at]
    proposed = layout_of(SourceFile("file", content), known_readers=ZONES)
    assert (proposed.form, proposed.table) == (layout.form, "punches")
    assert read(SourceFile("f", content), proposed, zones=ZONES).frame.equals(
        read(SourceFile("f", content), layout, zones=ZONES).frame
    )
