"""Names as codes: people and readers as small whole numbers, by which millions of rows are grouped and sorted."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["code_names", "codes_of"]

Codes = npt.NDArray[np.int32]
NAMED = ("person", "reader")
NOBODY = -1
"""The code of a name that is not known."""


def code_names(presented: Frame) -> Frame:
    """Return presentations by reader and time, people and readers as enumerations in the order of their names."""
    plain = [name for name in NAMED if presented[name].dtype == pl.String]
    coded = presented.with_columns(
        pl.col(name).cast(pl.Enum(presented[name].drop_nulls().unique().sort())) for name in plain
    )
    reader, at = coded["reader"].to_physical().to_numpy(), coded["at"].to_numpy()
    follows = (reader[1:] > reader[:-1]) | ((reader[1:] == reader[:-1]) & (at[1:] >= at[:-1]))
    return coded if bool(follows.all()) else coded.sort("reader", "at", "punch")


def codes_of(column: pl.Series) -> tuple[Codes, list[str]]:
    """Return the code of each name of an enumeration in order, and the names that occur, which the codes count."""
    assert isinstance(column.dtype, pl.Enum)
    names = column.dtype.categories
    codes = column.to_physical().cast(pl.Int32).fill_null(NOBODY).to_numpy()
    occurs = np.bincount(codes + 1, minlength=len(names) + 1)[1:] > 0
    if occurs.all():
        return codes, names.to_list()
    renumbered = np.r_[np.cumsum(occurs) - 1, NOBODY].astype(np.int32)
    return renumbered[codes], names.filter(pl.Series(occurs)).to_list()
