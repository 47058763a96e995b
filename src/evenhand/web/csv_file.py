"""A table given away as a file: the figures behind a picture."""

from __future__ import annotations

from starlette.responses import StreamingResponse

from evenhand.terms.columns import Frame
from evenhand.terms.csv_text import frame_as_csv

__all__ = ["csv_file"]


def csv_file(name: str, frame: Frame) -> StreamingResponse:
    """Return the answer that gives a frame away as `name`.csv, piece by piece."""
    headers = {"content-disposition": f'attachment; filename="{name}.csv"'}
    return StreamingResponse(frame_as_csv(frame), media_type="text/csv; charset=utf-8", headers=headers)
