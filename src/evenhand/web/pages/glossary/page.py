"""The route of the glossary."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from evenhand.terms.explained import GLOSSARY_WORDS
from evenhand.web.show import MenuEntry, show

__all__ = ["MENU", "ROUTES"]

MENU = MenuEntry("Glossary", "/glossary", 98, is_listed=False)
ROUTES = APIRouter()


@ROUTES.get("/glossary")
def glossary(request: Request) -> Response:
    """Show each word with what it means and where it is from."""
    return show(request, "pages/glossary/page.html", explained=GLOSSARY_WORDS)
