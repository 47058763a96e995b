"""Let a phone, or a machine at a reader, in to one page: where it reaches these pages, and the code that it opens."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import Request

from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal
from evenhand.web.doorkeeper import UNUSED_S, VISIT_S, Visit
from evenhand.web.marks import qr_code

__all__ = ["check_reached", "invitation", "is_reached"]

NO_PHONE = sentence(
    "no phone reaches these pages, since they are served to this machine alone; stop `evenhand serve` and start it "
    "with --host, --certificate and --key."
)


def is_reached(request: Request) -> bool:
    """Whether other machines than this one reach the pages."""
    return request.app.state.address is not None


def check_reached(request: Request, says: str = NO_PHONE) -> None:
    """Raise Refusal where no other machine reaches the pages; `says` that, and what can be done."""
    if not is_reached(request):
        raise Refusal(told(says))


def invitation(request: Request, place: str, is_over: Callable[[], bool] = lambda: False) -> dict[str, Any]:
    """Return what a page shows of a new one-time address that opens `place`, and nothing else, until `is_over`."""
    address = f"{request.app.state.address}/enter/{request.app.state.keeper.invite(Visit(place, is_over))}"
    return {"address": address, "code": qr_code(address), "unused_s": UNUSED_S, "visit_s": VISIT_S}
