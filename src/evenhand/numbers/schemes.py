"""Ways of choosing numbers so that a slip lands on nobody."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np

from evenhand.numbers.slip_counts import Ints
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["CHECKS", "Scheme", "members", "obvious"]

# Check digits that can be keyed. MOD 11-2 makes X of one payload in eleven, and those are left out; MOD 37,36 makes
# letters of most. Sources: ISO/IEC 7812-1 (Luhn), Verhoeff 1969, Damm 2004, ISO/IEC 7064:2003, as in python-stdnum.
CHECKS = ("luhn", "verhoeff", "damm", "iso7064.mod_11_2", "iso7064.mod_11_10", "iso7064.mod_97_10")


@dataclass(frozen=True)
class Scheme:
    """A set of numbers of one length: `any`, a fixed `remainder` by `step`, or with the digits of a `check`."""

    digits: int
    step: int = 1
    remainder: int = 0
    check: str = ""

    @property
    def says(self) -> str:
        """Return the scheme in words."""
        if self.check:
            return told("{digits} digits, the last by {check}", digits=self.digits, check=_named(self.check))
        if self.step > 1:
            return told(
                "{digits} digits, remainder {remainder} when divided by {step}",
                digits=self.digits,
                remainder=self.remainder,
                step=self.step,
            )
        return told("any {digits} digits", digits=self.digits)


def members(scheme: Scheme) -> Ints:
    """Return the numbers of the scheme, in order, obvious ones included.

    Raises Refusal for a length no reader takes, a check that is not known, or a step without numbers.
    Source of the step: arithmetic codes, J. M. Diamond, Proc. IRE 43 (1955) (from memory).
    """
    if not 1 <= scheme.digits <= 8:
        raise Refusal(told("numbers of {digits} digits cannot be designed; choose 1 to 8.", digits=scheme.digits))
    if scheme.check:
        return _with_check(scheme.check, scheme.digits)
    if scheme.step < 1:
        raise Refusal(told("a step of {step} leads nowhere; choose 1 or more.", step=scheme.step))
    return np.arange(scheme.remainder % scheme.step, 10**scheme.digits, scheme.step, dtype=np.int64)


@cache
def _with_check(check: str, digits: int) -> Ints:
    if check not in CHECKS:
        raise Refusal(
            told(
                '"{check}" gives no check digit that can be keyed; choose one of {checks:commas}.',
                check=check,
                checks=CHECKS,
            )
        )
    from stdnum import damm, luhn, verhoeff
    from stdnum.iso7064 import mod_11_2, mod_11_10, mod_97_10

    makers: tuple[Callable[[str], str], ...] = (
        luhn.calc_check_digit,
        verhoeff.calc_check_digit,
        damm.calc_check_digit,
        mod_11_2.calc_check_digit,
        mod_11_10.calc_check_digit,
        mod_97_10.calc_check_digits,
    )
    makes: Callable[[str], str] = dict(zip(CHECKS, makers, strict=True))[check]
    last = 2 if makes is mod_97_10.calc_check_digits else 1
    if digits <= last:
        raise Refusal(
            told(
                "{digits} digits leave nothing before the check of {check}; choose more digits.",
                digits=digits,
                check=check,
            )
        )
    payloads = (str(value).zfill(digits - last) for value in range(10 ** (digits - last)))
    numbers = (payload + str(makes(payload)) for payload in payloads)
    values = np.array([int(number) for number in numbers if number.isdigit()], dtype=np.int64)
    values.flags.writeable = False
    return values


def obvious(digits: int) -> Ints:
    """Return the numbers anybody would try: one digit repeated, runs up and down, zero, years from 1900 to 2099.

    Common practice, no source.
    """
    alike = {str(digit) * digits for digit in range(10)}
    runs = "01234567890", "09876543210"
    up_and_down = {run[at : at + digits] for run in runs for at in range(len(run) - digits + 1)}
    years = {str(year) for year in range(1900, 2100)} if digits == 4 else set()
    return np.array(sorted(int(number) for number in alike | up_and_down | years), dtype=np.int64)


def _named(check: str) -> str:
    """Return a check as people call it: Verhoeff's, Damm's, or a standard with its number."""
    return check.replace("iso7064.", "ISO 7064 ") if "." in check else check.capitalize()
