"""Lines that nobody can read, put into a log."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from evenhand.twin.mistakes import BROKEN_LINES

__all__ = ["break_lines"]

# each of `mistakes.BROKEN_LINES` as a change of the line's fields: reader, number, time, way, result, score
_HOW: dict[str, Callable[[list[str]], list[str]]] = {
    "cut": lambda fields: fields[:2],
    "garbage": lambda fields: ["¤¤#@~", "", "?", "", "", ""],
    "no such time": lambda fields: [*fields[:2], fields[2][:11] + "27:61:00", *fields[3:]],
    "no such day": lambda fields: [*fields[:2], "31/02" + fields[2][5:], *fields[3:]],
    "words for a score": lambda fields: [*fields[:5], "a lot"],
}


def break_lines(rng: np.random.Generator, content: bytes) -> bytes:
    """Return the comma log with one more line, unreadable, for each of `mistakes.BROKEN_LINES`."""
    lines = content.decode().split("\r\n")
    places = sorted(rng.choice(np.arange(2, len(lines) - 1), len(BROKEN_LINES), replace=False).tolist(), reverse=True)
    for place, how in zip(places, BROKEN_LINES, strict=True):
        lines.insert(place, ",".join(_HOW[how](lines[place - 1].split(","))))
    return "\r\n".join(lines).encode()
