"""The code on a person's sheet, by which the signed sheet is keyed back.

It follows from the policy version's digest and the person, so that a sheet printed again bears the same code and a
sheet of an earlier version is known as one. It proves nothing: the signature on the sheet does.
"""

from __future__ import annotations

import hashlib

from stdnum.iso7064 import mod_37_36

__all__ = ["code_of", "read_code"]

LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Crockford's base 32: no I, L, O or U, so that nothing is read as a digit or spells a word. Source:
https://www.crockford.com/base32.html."""
READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0", "-": "", " ": "", "–": ""})
LENGTH = 11  # 55 bits: among 100,000 sheets two bear one code with a chance of about 1 in 7 million
WHOLE = LENGTH + 1


def code_of(digest: str, person: str) -> str:
    """Return the code of a person's sheet for the version with this digest, as printed: three groups of four.

    The last letter checks the others: a letter keyed wrong is always seen, two letters changed about nearly always.
    Source: ISO/IEC 7064, a hybrid system over these 32 letters, as python-stdnum computes it.
    """
    sheet = hashlib.sha256(f"{digest}\n{person}".encode()).digest()
    number = int.from_bytes(sheet[:8], "big") >> (64 - 5 * LENGTH)
    letters = "".join(LETTERS[number >> (5 * place) & 31] for place in reversed(range(LENGTH)))
    whole = letters + mod_37_36.calc_check_digit(letters, alphabet=LETTERS)
    return "-".join(whole[at : at + 4] for at in range(0, WHOLE, 4))


def read_code(keyed: str) -> str | None:
    """Return the code as printed for one that was keyed, in small letters and with or without dashes; None if wrong."""
    letters = keyed.upper().translate(READ_AS)
    if len(letters) != WHOLE or set(letters) - set(LETTERS):
        return None
    if not mod_37_36.is_valid(letters, alphabet=LETTERS):
        return None
    return "-".join(letters[at : at + 4] for at in range(0, WHOLE, 4))
