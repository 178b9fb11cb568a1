"""A page of a PDF as a picture to trace over.

The viewer has no PDF library and its policy lets none in; the one here is imported where a page
is drawn: by the server in another process, as the file may be damaged.
"""

import struct
import zlib
from dataclasses import dataclass

import numpy as np
import pypdfium2

from hullchange.errors import ModelError
from hullchange.hull_sources.cloud_files import LARGEST_FILE, MEGABYTE

LONGER_SIDE = 3000  # [px] of the picture
LEAST_SCALE, MOST_SCALE = 0.05, 8.0  # pixels for a point of the page (1/72 inch)


@dataclass(frozen=True)
class PagePicture:
    """A page as a PNG file, and how many pages there are."""

    png: bytes
    pages: int


def page_picture(content: bytes, number: int) -> PagePicture:
    """A page of a PDF file, 3000 pixels along its longer side.

    Args:
        content: the file's bytes.
        number: of the page, from 1.

    Raises:
        ModelError: ``too-large``, ``not-a-pdf``, ``unknown-page``.
    """
    if len(content) > LARGEST_FILE:
        sentence = f"A PDF may be {LARGEST_FILE // MEGABYTE} MB here: save the one page alone."
        raise ModelError("too-large", sentence)
    try:
        document = pypdfium2.PdfDocument(content)
        pages = len(document)
        if not 1 <= number <= pages:
            sentence = f"There is no page {number}: the PDF has {pages}."
            raise ModelError("unknown-page", sentence)
        page = document[number - 1]
        side = max(page.get_width(), page.get_height(), 1.0)
        scale = min(max(LONGER_SIDE / side, LEAST_SCALE), MOST_SCALE)
        bitmap = page.render(scale=scale, rev_byteorder=True, prefer_bgrx=False)
        pixels = np.asarray(bitmap.to_numpy())[:, :, :3]
    except pypdfium2.PdfiumError as error:
        sentence = "This PDF cannot be read: save the page again, without a password."
        raise ModelError("not-a-pdf", sentence) from error
    return PagePicture(_png(pixels), pages)


def _png(pixels: np.ndarray) -> bytes:
    """A PNG file of pixels (height, width, 3), 8 bits for each colour.

    Source: ISO/IEC 15948, Portable Network Graphics (memory).
    """
    height, width, _ = pixels.shape
    rows = np.concatenate([np.zeros((height, 1), np.uint8), pixels.reshape(height, -1)], axis=1)

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = zlib.crc32(kind + data)
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    data = zlib.compress(rows.tobytes(), 6)
    parts = chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + parts
