"""Codes that are printed on paper and keyed back: three groups of four letters and digits, the last of which checks.

Eleven of them hold 55 bits. The twelfth finds every letter that was keyed wrong, and about every two that were changed.
Source: ISO/IEC 7064, a hybrid system over these 32 letters, as python-stdnum computes it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

__all__ = ["BITS", "LENGTH", "LETTERS", "checked", "drawn", "read_code"]

LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Crockford's base 32: no I, L, O or U, so that nothing is read as a digit or spells a word. Source:
https://www.crockford.com/base32.html."""
READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0", "-": "", " ": "", "–": ""})
LENGTH = 11
BITS = 5 * LENGTH
GROUP = 4


def checked(letters: str) -> str:
    """Return the code of LENGTH letters as printed, with the one that checks them."""
    from stdnum.iso7064 import mod_37_36

    return _grouped(letters + mod_37_36.calc_check_digit(letters, alphabet=LETTERS))


def drawn(draw: Callable[[Sequence[str]], str]) -> str:
    """Return a code that nobody can foresee, as printed; `draw` picks one of some letters, as `secrets.choice` does."""
    return checked("".join(draw(LETTERS) for _ in range(LENGTH)))


def read_code(keyed: str) -> str | None:
    """Return the code as printed for one that was keyed, in small letters and with or without dashes; None if wrong."""
    from stdnum.iso7064 import mod_37_36

    letters = keyed.upper().translate(READ_AS)
    if len(letters) != LENGTH + 1 or set(letters) - set(LETTERS):
        return None
    return _grouped(letters) if mod_37_36.is_valid(letters, alphabet=LETTERS) else None


def _grouped(letters: str) -> str:
    return "-".join(letters[at : at + GROUP] for at in range(0, len(letters), GROUP))
