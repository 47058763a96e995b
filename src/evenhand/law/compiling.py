"""Run a pass over columns as plain Python, or compiled where there are enough punches to pay for it.

Importing the compiler costs about a second, and a plain pass well under a microsecond a punch; so a site's
own hours never wait for the compiler, and a large run never goes without it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

__all__ = ["is_large", "run_pass"]

COLD, WARM = 80_000, 1_000
"""Punches from which a run is compiled: while no pass has been compiled in this process, and once one has.

Measured on one core: plain passes take 6.4 us a punch under the federal rules and 8.2 under California's, compiled ones
0.5 and 0.75. Importing the compiler and loading the passes from its cache on disk takes 0.6 s, once in a process: as
much as 80,000 to 100,000 plain punches. After that a run of 1,000 takes 8 ms compiled and 13 ms plain. So a command
over a small site never waits for the compiler, and a server, which loads the passes while it starts, always has it.
"""


def is_large(punches: int) -> bool:
    """Tell whether so many punches are worth compiled passes."""
    return punches >= (WARM if _passes else COLD)


_passes: dict[Callable[..., Any], Callable[..., Any]] = {}


def _compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    if (known := _passes.get(function)) is not None:
        return known
    from numba import njit

    try:
        compiled: Callable[..., Any] = njit(cache=True, nogil=True)(function)
    except RuntimeError:  # no place to keep compiled code: compile for this run alone
        compiled = njit(nogil=True)(function)
    # Blocks may ask for the same pass side by side: all get the one that came first, which compiles once.
    return _passes.setdefault(function, compiled)


def run_pass(
    function: Callable[..., Any], inputs: Sequence[Any], outputs: Sequence[np.ndarray[Any, Any]], *, large: bool
) -> int:
    """Run `function(*inputs, *outputs)`, which fills `outputs` in place, and return the count it gives back.

    Plain Python reads lists several times faster than arrays, so the small way hands lists to the same function.
    Compiled code checks no bounds: outputs must be sized for the worst case.
    """
    if large:
        return int(_compiled(function)(*map(_alike, inputs), *outputs) or 0)
    given = [column.tolist() if isinstance(column, np.ndarray) else column for column in inputs]
    filled = [column.tolist() for column in outputs]
    count = function(*given, *filled)
    for column, values in zip(outputs, filled, strict=True):
        column[:] = values
    return int(count or 0)


def _alike(given: Any) -> Any:
    """Return a column in one piece and not to be written to: a pass is compiled anew for each way its inputs lie."""
    if not isinstance(given, np.ndarray):
        return given
    column = np.ascontiguousarray(given).view()
    column.flags.writeable = False
    return column
