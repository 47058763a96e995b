"""The assignment of columns to fields that is worth most, solved exactly.

Source: H. W. Kuhn, "The Hungarian method for the assignment problem", Naval Research Logistics Quarterly 2 (1955), in
the form with potentials and shortest augmenting paths of R. Jonker and A. Volgenant, Computing 38 (1987). A library's
solver takes a third of a second to load, which is longer than all the rest of a small file's taking.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

__all__ = ["assign"]


def assign(worth: Mapping[str, Mapping[int, float]]) -> tuple[dict[str, int], float]:
    """Return which column each field takes, each at most one and none twice, so that the sum of worths is the greatest.

    `worth` gives for each field what a column is worth to it; a field may go without, which is worth 0, and takes no
    column that is worth less. Of assignments that are worth the same, the one with the first columns is returned.
    """
    fields = [field for field, of_columns in worth.items() if any(value > 0 for value in of_columns.values())]
    # Others take one column each, so that beyond as many columns as there are fields a field needs no other choice.
    best = {field: _best(worth[field], len(fields)) for field in fields}
    columns = sorted({column for of_columns in best.values() for column in of_columns})
    costs = [[*(-best[field].get(column, 0.0) for column in columns), *([0.0] * len(fields))] for field in fields]
    taken = _cheapest(costs)
    found = {
        field: columns[at]
        for field, at in zip(fields, taken, strict=True)
        if at < len(columns) and columns[at] in best[field]
    }
    return found, sum(best[field][column] for field, column in found.items())


def _best(of_columns: Mapping[int, float], most: int) -> dict[int, float]:
    ranked = sorted(((column, value) for column, value in of_columns.items() if value > 0), key=lambda one: -one[1])
    return dict(ranked[:most])


def _cheapest(costs: Sequence[Sequence[float]]) -> list[int]:
    """Return the column of each row that together cost least; there are at least as many columns as rows."""
    rows, columns = len(costs), len(costs[0]) if costs else 0
    of_row, of_column = [0.0] * (rows + 1), [0.0] * (columns + 1)
    holder = [0] * (columns + 1)  # the row, from 1, that holds each column, from 1; 0 where none does
    for row in range(1, rows + 1):
        holder[0] = row
        least, before = [float("inf")] * (columns + 1), [0] * (columns + 1)
        seen = [False] * (columns + 1)
        at = 0
        while holder[at]:
            seen[at] = True
            step, next_at = float("inf"), 0
            for column in range(1, columns + 1):
                if seen[column]:
                    continue
                cost = costs[holder[at] - 1][column - 1] - of_row[holder[at]] - of_column[column]
                if cost < least[column]:
                    least[column], before[column] = cost, at
                if least[column] < step:
                    step, next_at = least[column], column
            for column in range(columns + 1):
                if seen[column]:
                    of_row[holder[column]] += step
                    of_column[column] -= step
                else:
                    least[column] -= step
            at = next_at
        while at:
            holder[at] = holder[before[at]]
            at = before[at]
    taken = [0] * rows
    for column in range(1, columns + 1):
        if holder[column]:
            taken[holder[column] - 1] = column - 1
    return taken
