"""The address that a shop's pages are found at, as a browser shows it (RFC 3986)."""

from __future__ import annotations

from urllib.parse import urlsplit

from compiler import syntax
from compiler.resolve.report import Report

_LONGEST = 120
"""A longer address makes a code of squares too small for a greasy print."""

_ONLY_HERE = ("localhost", "127.", "0.0.0.0", "[::1]")


def site_address(report: Report, text: syntax.Text | None) -> str:
    """Return the address without a slash at its end; '' and a finding when nothing can be there."""
    if text is None:
        return ""
    fault, hint = _fault(text.value)
    if fault:
        report.add("bad-address", text.span, fault, hint=hint)
        return ""
    return text.value.rstrip("/")


def _fault(address: str) -> tuple[str, str]:
    """Return what is wrong and what to try, ('', '') when nothing is."""
    try:
        parts = urlsplit(address)
        host = parts.hostname or ""
        _ = parts.port
    except ValueError:
        return "No browser understands this address.", _EXAMPLE
    if parts.scheme not in ("http", "https") or not host:
        return "The site is the address of the pages, and this is none.", _EXAMPLE
    if not address.isascii() or not address.isprintable() or set(address) & set(' "<>\\^`{|}'):
        return "An address has no spaces and no letters beyond a to z.", _COPY
    if parts.query or parts.fragment or address.endswith(("?", "#")):
        return "The address of the pages ends before ? or #.", "Leave out what follows."
    if parts.username is not None:
        return "A name or password in the address would stand on each print.", "Leave it out."
    if parts.netloc.lower().startswith(_ONLY_HERE):
        return "Only this computer finds this address.", "Name the computer as others reach it."
    if len(address) > _LONGEST:
        return f"This address is longer than {_LONGEST} letters.", "Ask for a shorter one."
    return "", ""


_EXAMPLE = (
    'Write it as a browser shows it, up to the folder of the first page: site "http://pages.shop". '
    "Without a site, sheets carry no code."
)
_COPY = "Copy it from the browser's line, which writes such letters with % or xn--."
