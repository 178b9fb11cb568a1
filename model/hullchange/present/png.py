"""PNG files (ISO/IEC 15948), eight bits a colour with transparency."""

import struct
import zlib

import numpy as np
from numpy.typing import NDArray

SIGNATURE = b"\x89PNG\r\n\x1a\n"
RGBA, NO_FILTER = 6, 0


def png(pixels: NDArray[np.uint8]) -> bytes:
    """The file; the same pixels always give the same bytes.

    Args:
        pixels: (h, w, 4) red, green, blue and opacity.
    """
    height, width, _ = pixels.shape
    rows = pixels.reshape(height, -1)
    unfiltered = np.hstack([np.full((height, 1), NO_FILTER, np.uint8), rows])
    head = struct.pack(">IIBBBBB", width, height, 8, RGBA, 0, 0, 0)
    body = zlib.compress(unfiltered.tobytes(), 9)
    return SIGNATURE + _chunk(b"IHDR", head) + _chunk(b"IDAT", body) + _chunk(b"IEND", b"")


def _chunk(kind: bytes, body: bytes) -> bytes:
    checked = zlib.crc32(kind + body)
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", checked)
