"""Small pictures as bytes, written by hand as the standards have them."""

from __future__ import annotations

import struct
import zlib


def png(width: int = 8, height: int = 6) -> bytes:
    """Return a grey picture of 8 by 6 dots (ISO/IEC 15948): a header, the dots, the end.

    The header may claim another size.
    """

    def chunk(kind: bytes, body: bytes) -> bytes:
        summed = zlib.crc32(kind + body)
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", summed)

    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    dots = zlib.compress(b"".join(b"\0" + bytes(range(8)) for _ in range(6)))
    chunks = chunk(b"IHDR", header) + chunk(b"IDAT", dots) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + chunks


def jpeg(width: int = 8, height: int = 8) -> bytes:
    """Return a grey picture of 8 by 8 dots (ITU-T T.81, annex B): one block with nothing in it.

    Each of the two code tables has the one code that the block needs. The header may claim another
    size.
    """

    def segment(marker: int, body: bytes) -> bytes:
        return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body

    one_code = bytes([1]) + bytes(15) + b"\0"
    return b"".join(
        (
            b"\xff\xd8",
            segment(0xDB, b"\0" + bytes([16] * 64)),
            segment(0xC0, struct.pack(">BHHBBBB", 8, height, width, 1, 1, 0x11, 0)),
            segment(0xC4, b"\x00" + one_code),
            segment(0xC4, b"\x10" + one_code),
            segment(0xDA, bytes([1, 1, 0x00, 0, 63, 0])),
            b"\x3f",
            b"\xff\xd9",
        )
    )
