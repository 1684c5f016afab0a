"""Pictures made of dots: whether a PNG or JPEG file is whole, and not too big to be unpacked."""

from __future__ import annotations

import struct
import zlib

MOST_DOTS = 80_000_000
"""A good camera has half of it. Unpacked, a dot takes four bytes of a tablet's memory."""


def png_problem(data: bytes) -> str:
    """Go along the chunks of a PNG file (ISO/IEC 15948), each with its own check sum."""
    if not data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "it is not a PNG file"
    at, kinds = 8, []
    while at + 12 <= len(data):
        (length,) = struct.unpack_from(">I", data, at)
        kind = data[at + 4 : at + 8]
        body_end = at + 8 + length
        if body_end + 4 > len(data):
            return "the end of it is missing"
        if struct.unpack_from(">I", data, body_end)[0] != zlib.crc32(data[at + 4 : body_end]):
            return "it is damaged"
        kinds.append(kind)
        if kind == b"IEND":
            break
        at = body_end + 4
    if kinds[-1:] != [b"IEND"]:
        return "the end of it is missing"
    if kinds[0] != b"IHDR" or b"IDAT" not in kinds:
        return "it is damaged"
    return _size_problem(*struct.unpack_from(">II", data, 16))


def jpeg_problem(data: bytes) -> str:
    """Go along the segments of a JPEG file (ITU-T T.81, annex B) up to the picture itself."""
    if not data.startswith(b"\xff\xd8"):
        return "it is not a JPEG file"
    at = 2
    size: tuple[int, int] | None = None
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xFF:
            at += 1
            continue
        if marker == 0xDA:
            if size is None or b"\xff\xd9" not in data[at:]:
                return "the end of it is missing"
            return _size_problem(*size)
        if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC) and at + 9 <= len(data):
            height, width = struct.unpack_from(">HH", data, at + 5)
            size = (width, height)
        at += 2 + int(struct.unpack_from(">H", data, at + 2)[0])
    return "it is damaged"


def _size_problem(width: int, height: int) -> str:
    if not (width and height):
        return "it is damaged"
    if width * height > MOST_DOTS:
        most = MOST_DOTS // 1_000_000
        return f"its {width} × {height} dots are too many to be shown; {most} million are the most"
    return ""
