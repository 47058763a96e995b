"""The readers' punch logs, in seven forms of our own."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime

import numpy as np

from evenhand.terms.columns import Frame
from evenhand.twin.files.broken import break_lines
from evenhand.twin.files.written import civil_times, delimited, fixed_width, in_order
from evenhand.twin.workplace import Workplace

__all__ = ["punch_logs"]

# reader, number, civil time, in or out, accepted or not or None, score or None
Line = tuple[str, str, datetime, str, bool | None, float | None]


def punch_logs(rng: np.random.Generator, workplace: Workplace) -> dict[str, bytes]:
    """Return each reader's log as a file, times by its own clock on the wall, in the order they were written.

    One log has lines that cannot be read, one comes as two exports that share a week.
    """
    written = {}
    for reader in workplace.hung:
        punches = workplace.punches.filter(workplace.punches["reader"] == reader.name)
        lines = _lines(punches, dict(workplace.readers.select("reader", "zone").rows())[reader.name])
        suffix, write = _FORMS[reader.form]
        name = f"punches_{reader.name}"
        if "overlapping_exports" in reader.faults:
            middle, week = len(lines) // 2, len(lines) // (workplace.days // 7)
            written[f"{name}_1.{suffix}"] = write(lines[:middle])
            written[f"{name}_2.{suffix}"] = write(lines[middle - week :])
        elif "broken_lines" in reader.faults:
            written[f"{name}.{suffix}"] = break_lines(rng, write(lines))
        else:
            written[f"{name}.{suffix}"] = write(lines)
    return written


def _lines(punches: Frame, zone: str) -> list[Line]:
    times = civil_times(punches["at"], zone)
    return [
        (row[0], row[1], time, row[3], None if row[4] is None else row[4] == "accepted", row[5])
        for row, time in zip(punches.rows(), times, strict=True)
    ]


def _titled(lines: list[Line]) -> bytes:
    body = delimited(
        ("Reader", "Badge number", "Date time", "In/Out", "Result", "Score"),
        (
            (reader, number, f"{at:%Y-%m-%d %H:%M:%S}", way, "accepted" if ok else "refused", score)
            for reader, number, at, way, ok, score in lines
        ),
    )
    return f"Punches of the bakery's readers\r\n{body}Total {len(lines)} punches\r\n".encode()


def _semicolon(lines: list[Line]) -> bytes:
    rows = (
        (reader, number, in_order(at, "dots"), f"{at:%H:%M}", way, "accepted" if ok else "refused", score)
        for reader, number, at, way, ok, score in lines
    )
    return delimited((), rows, ";").encode()


def _fixed(lines: list[Line]) -> bytes:
    columns = (("READER", 9), ("NUMBER", 8), ("DATE TIME", 19), ("WAY", 3), ("RESULT", 8), ("SCORE", 6))
    rows = (
        (reader, number, f"{at:%Y-%m-%d %H:%M:%S}", way.upper(), "accepted" if ok else "refused", str(score))
        for reader, number, at, way, ok, score in lines
    )
    return fixed_width(columns, rows).encode()


def _json_lines(lines: list[Line]) -> bytes:
    return "".join(
        json.dumps(
            {
                "reader": reader,
                "number": number,
                "at": at.isoformat(),
                "direction": way,
                "accepted": ok,
                "dissimilarity": score,
            }
        )
        + "\n"
        for reader, number, at, way, ok, score in lines
    ).encode()


def _spanish(lines: list[Line]) -> bytes:
    ways = {"in": "entrada", "out": "salida"}
    rows = (
        (reader, number, f"{at:%d/%m/%Y %H:%M:%S}", ways[way], "aceptado" if ok else "rechazado", score)
        for reader, number, at, way, ok, score in lines
    )
    return delimited(("Lector", "Número", "Fecha y hora", "Sentido", "Resultado", "Puntaje"), rows, ",").encode()


def _tabs(lines: list[Line]) -> bytes:
    rows = (
        (reader, number, in_order(at, "us"), f"{at:%I:%M %p}", way, "yes" if ok else "no", score)
        for reader, number, at, way, ok, score in lines
    )
    header = ("Unit", "Pin", "Date", "Time", "Direction", "Accepted", "Score")
    return delimited(header, rows, "\t").encode("utf-16")


def _plain(lines: list[Line]) -> bytes:
    rows = ((number, f"{at:%Y-%m-%d %H:%M:%S}", way) for _, number, at, way, _, _ in lines)
    return delimited(("Number", "Time", "In/Out"), rows).encode()


_FORMS: dict[str, tuple[str, Callable[[list[Line]], bytes]]] = {
    "titled": ("csv", _titled),
    "semicolon": ("csv", _semicolon),
    "fixed": ("txt", _fixed),
    "json_lines": ("jsonl", _json_lines),
    "spanish": ("csv", _spanish),
    "tabs": ("tsv", _tabs),
    "plain": ("csv", _plain),
}
