"""A table given away as a file: the figures behind a picture."""

from __future__ import annotations

import polars as pl
from starlette.responses import StreamingResponse

from evenhand.terms.columns import Frame
from evenhand.terms.csv_text import frame_as_csv

__all__ = ["csv_file"]


def csv_file(name: str, frame: Frame) -> StreamingResponse:
    """Return the answer that gives a frame away as `name`.csv, piece by piece; `at` [s] is written in UTC, ISO 8601."""
    if "at" in frame.columns:
        frame = frame.with_columns(pl.from_epoch("at", time_unit="s").dt.strftime("%Y-%m-%dT%H:%M:%SZ"))
    headers = {"content-disposition": f'attachment; filename="{name}.csv"'}
    return StreamingResponse(frame_as_csv(frame), media_type="text/csv; charset=utf-8", headers=headers)
