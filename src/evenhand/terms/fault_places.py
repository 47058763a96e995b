"""Where a fault of the program's own happened, told without what it says: its text may hold what is known of people."""

from __future__ import annotations

from types import TracebackType

__all__ = ["place_of", "places_of"]


def places_of(fault: BaseException) -> list[str]:
    """Return the kinds of fault that led to this one, the first cause first, each with the lines it passed."""
    chain: list[BaseException] = []
    one: BaseException | None = fault
    while one is not None and one not in chain:
        chain.append(one)
        one = one.__cause__ or (None if one.__suppress_context__ else one.__context__)
    return [f"{_kind(each)} at {', '.join(_lines(each.__traceback__)) or 'no line'}" for each in reversed(chain)]


def place_of(fault: BaseException) -> str:
    """Return the kind of fault and the line of the program at which it was raised, such as `KeyError at a.b line 7`."""
    lines = _lines(fault.__traceback__)
    own = [line for line in lines if line.startswith("evenhand.")] or lines
    return f"{_kind(fault)} at {own[-1]}" if own else _kind(fault)


def _kind(fault: BaseException) -> str:
    return type(fault).__name__


def _lines(trace: TracebackType | None) -> list[str]:
    lines = []
    while trace is not None:
        lines.append(f"{trace.tb_frame.f_globals.get('__name__', '?')} line {trace.tb_lineno}")
        trace = trace.tb_next
    return lines
