"""What the sheets may load: the fonts we ship and the pictures at hand, nothing else.

Imported by `pdf.py` when the first sheet is made, since WeasyPrint takes long to start.
"""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import unquote

from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

from compiler.paths import font_files

SCHEME = "asset:"
_KINDS = {"svg": "image/svg+xml", "png": "image/png", "jpg": "image/jpeg", "jpeg": "image/jpeg"}


class Shelf(URLFetcher):
    """Hands out fonts (`asset:fonts/NAME`) and pictures (`asset:pictures/PATH`).

    Anything else stops the sheet, whether it is on the disk or elsewhere.
    """

    def __init__(self, pictures: Mapping[str, bytes]) -> None:
        """Take the pictures by path."""
        super().__init__(allowed_protocols=(), allow_redirects=False, fail_on_errors=True)
        self._pictures = pictures

    def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
        """Return one of the things on the shelf."""
        name = unquote(url.removeprefix(SCHEME).lstrip("/"))
        if url.startswith(SCHEME) and name.startswith("fonts/"):
            for font in font_files():
                if font.path.name == name.removeprefix("fonts/"):
                    return URLFetcherResponse(url, font.read(), {"Content-Type": "font/ttf"})
        path = name.removeprefix("pictures/")
        if url.startswith(SCHEME) and path in self._pictures:
            kind = _KINDS[path.rsplit(".", 1)[-1].lower()]
            return URLFetcherResponse(url, self._pictures[path], {"Content-Type": kind})
        raise FatalURLFetchingError(f"a sheet may not load {url}")
