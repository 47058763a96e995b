"""The code on a person's sheet, by which the signed sheet is keyed back.

It follows from the policy version's digest and the person, so that a sheet printed again bears the same code and a
sheet of an earlier version is known as one. It proves nothing: the signature on the sheet does.
"""

from __future__ import annotations

import hashlib

from evenhand.records.codes import BITS, LENGTH, LETTERS, checked, read_code

__all__ = ["code_of", "read_code"]


def code_of(digest: str, person: str) -> str:
    """Return the code of a person's sheet for the version with this digest, as printed.

    Among 100,000 sheets two bear one code with a chance of about 1 in 7 million.
    """
    sheet = hashlib.sha256(f"{digest}\n{person}".encode()).digest()
    number = int.from_bytes(sheet[:8], "big") >> (64 - BITS)
    return checked("".join(LETTERS[number >> (5 * place) & 31] for place in reversed(range(LENGTH))))
