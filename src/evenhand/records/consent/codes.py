"""The code on a person's sheet, by which the signed sheet is keyed back.

It follows from the policy version, the person and the version's secret, so that a sheet printed again bears the same
code, a sheet of an earlier version is known as one, and nobody works it out who holds neither the sheet nor the store.
Versions of before codes had a secret have none: what is printed on their sheets proves nothing, the signature does.
"""

from __future__ import annotations

import hashlib
import hmac

from evenhand.records.codes import BITS, LENGTH, LETTERS, checked, read_code

__all__ = ["code_of", "read_code"]


def code_of(digest: str, person: str, secret: str) -> str:
    """Return the code of a person's sheet for the version with this digest and `secret` (hexadecimal), as printed.

    Among 100,000 sheets two bear one code with a chance of about 1 in 7 million.
    """
    of = f"{digest}\n{person}".encode()
    sheet = hmac.digest(bytes.fromhex(secret), of, "sha256") if secret else hashlib.sha256(of).digest()
    number = int.from_bytes(sheet[:8], "big") >> (64 - BITS)
    return checked("".join(LETTERS[number >> (5 * place) & 31] for place in reversed(range(LENGTH))))
