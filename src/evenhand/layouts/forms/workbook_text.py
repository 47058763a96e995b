"""All the text of a workbook's file, wherever it stands in it: every sheet, remarks, who wrote it."""

from __future__ import annotations

import html
import io
import zipfile

__all__ = ["workbook_says"]

PACKED = b"PK"
LARGEST = 200_000_000  # bytes of a part, unpacked


def workbook_says(content: bytes) -> str:
    """Return whatever a workbook's file says as text; of one that is not packed, its bytes read in both ways it may be.

    Source: ECMA-376, Part 2 (a package is a ZIP file whose parts are XML).
    """
    if not content.startswith(PACKED):
        return "\n".join((content.decode("utf-16-le", errors="replace"), content.decode("latin-1")))
    try:
        packed = zipfile.ZipFile(io.BytesIO(content))
        parts = [packed.read(one) for one in packed.infolist() if one.file_size <= LARGEST]
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError):
        return content.decode("latin-1")
    return "\n".join(html.unescape(part.decode("utf-8", errors="replace")) for part in parts)
