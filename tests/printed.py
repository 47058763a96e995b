"""Read printed pages back, as whoever holds the paper does: their words, where a word stands, and their picture."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing, contextmanager

import pypdfium2
import zxingcpp
from PIL import Image

__all__ = ["Box", "box_of", "codes", "pictures", "sizes", "texts"]

POINTS_AN_INCH = 72  # ISO 32000-1 section 8.3.2.3: a unit of default user space is 1/72 inch

Box = tuple[int, int, int, int]


@contextmanager
def _pages(pdf: bytes) -> Iterator[list[pypdfium2.PdfPage]]:
    with closing(pypdfium2.PdfDocument(pdf)) as document:
        yield list(document)


def texts(pdf: bytes) -> list[str]:
    """Return the words of each page."""
    with _pages(pdf) as pages:
        return [page.get_textpage().get_text_range() for page in pages]


def sizes(pdf: bytes) -> set[tuple[int, int]]:
    """Return the widths and heights of the pages [points]."""
    with _pages(pdf) as pages:
        return {(round(page.get_width()), round(page.get_height())) for page in pages}


def pictures(pdf: bytes, dpi: int = 150) -> list[Image.Image]:
    """Return each page as a printer would show it."""
    with _pages(pdf) as pages:
        return [page.render(scale=dpi / POINTS_AN_INCH).to_pil() for page in pages]


def codes(pdf: bytes) -> list[list[str]]:
    """Return what a phone reads in the codes of each page."""
    return [[found.text for found in zxingcpp.read_barcodes(picture)] for picture in pictures(pdf)]


def box_of(word: str, pdf: bytes, *, page: int, dpi: int = 150) -> Box:
    """Return where a word stands on a page's picture (left, top, right, bottom), white around it included [pixels]."""
    with _pages(pdf) as pages:
        words = pages[page].get_textpage()
        found = words.search(word).get_next()
        assert found, f"{word} is not on page {page}"
        first, count = found
        boxes = [words.get_charbox(index, loose=True) for index in range(first, first + count)]
        height, scale = pages[page].get_height(), dpi / POINTS_AN_INCH
    left, bottom = min(box[0] for box in boxes), min(box[1] for box in boxes)
    right, top = max(box[2] for box in boxes), max(box[3] for box in boxes)
    return int(left * scale), int((height - top) * scale), int(right * scale), int((height - bottom) * scale)
