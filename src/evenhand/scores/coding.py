"""Names as codes: people and readers as small whole numbers, by which millions of rows are grouped and sorted."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["code_names", "codes_of"]

Codes = npt.NDArray[np.int32]
NAMED = ("person", "reader")


def code_names(presented: Frame) -> Frame:
    """Return presentations (PRESENTED) by time, people and readers as enumerations in the order of their names."""
    enumerated = presented.with_columns(
        pl.col(name).cast(pl.Enum(presented[name].unique().sort()))
        for name in NAMED
        if presented[name].dtype == pl.String
    )
    return enumerated if enumerated["at"].is_sorted() else enumerated.sort("at", "punch")


def codes_of(column: pl.Series) -> tuple[Codes, list[str]]:
    """Return the code of each name of an enumeration in order, and the names that occur, which the codes count."""
    assert isinstance(column.dtype, pl.Enum)
    names = column.dtype.categories
    codes = column.to_physical().to_numpy().astype(np.int32)
    occurs = np.bincount(codes, minlength=len(names)) > 0
    if occurs.all():
        return codes, names.to_list()
    renumbered = (np.cumsum(occurs) - 1).astype(np.int32)
    return renumbered[codes], names.filter(pl.Series(occurs)).to_list()
