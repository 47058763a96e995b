"""Find the rooms of a package once, at start-up, and refuse one that lacks its agreed names."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Sequence
from types import ModuleType

__all__ = ["rooms_of"]


def rooms_of(package: ModuleType, agreed: Sequence[str]) -> tuple[ModuleType, ...]:
    """Return the modules of `package`, by name; each must have every name in `agreed`.

    Raises ImportError naming the file that lacks one, so that a half-written room stops start-up.
    """
    rooms = []
    for found in sorted(pkgutil.iter_modules(package.__path__), key=lambda module: module.name):
        room = importlib.import_module(f"{package.__name__}.{found.name}")
        missing = [name for name in agreed if not hasattr(room, name)]
        if missing:
            raise ImportError(f"{room.__file__} has no {' and no '.join(missing)}; every room here needs them")
        rooms.append(room)
    return tuple(rooms)
