"""Why the machine did not let a file or a port be used, to be told in the language of whoever reads it."""

from __future__ import annotations

from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

__all__ = ["not_written", "why_of"]

WHYS = (
    *(sentence("Permission denied"), sentence("Operation not permitted"), sentence("Read-only file system")),
    *(sentence("No such file or directory"), sentence("Is a directory"), sentence("Not a directory")),
    *(sentence("File exists"), sentence("File name too long"), sentence("Too many levels of symbolic links")),
    *(sentence("No space left on device"), sentence("Disk quota exceeded"), sentence("File too large")),
    *(sentence("Input/output error"), sentence("Too many open files"), sentence("Invalid argument")),
    *(sentence("Address already in use"), sentence("Cannot assign requested address")),
)
"""What the system says of the commonest, as the GNU C library words it."""


def why_of(fault: OSError) -> str:
    """Return why a file or a port could not be used: as a Sentence where it is known, else as the system says it."""
    says = fault.strerror or str(fault)
    return told(says) if says in WHYS else says


def not_written(file: object, fault: OSError) -> Refusal:
    """Return what refuses a file that somebody named to be written."""
    says = told("{file} cannot be written ({why}); name a file in a folder of yours.", file=file, why=why_of(fault))
    return Refusal(says)
