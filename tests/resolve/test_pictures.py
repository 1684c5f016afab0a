"""Which pictures can be shown: whole, harmless, and of a size that can be borne."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from small_pictures import jpeg, png

from compiler.pictures import picture_problem
from compiler.pictures.dots import MOST_DOTS

WHOLE = {"png": png(), "jpeg": jpeg()}


@pytest.mark.parametrize("kind", WHOLE)
def test_a_picture_that_breaks_off_is_refused(kind: str) -> None:
    whole = WHOLE[kind]
    assert picture_problem(kind, whole) == ""
    for end in range(len(whole) - 1):
        assert picture_problem(kind, whole[:end]), f"cut after {end} bytes"


def test_a_damaged_png_is_refused() -> None:
    """A check sum stands on every chunk (ISO/IEC 15948, clause 5.3)."""
    data = bytearray(png())
    data[20] ^= 1
    assert picture_problem("png", bytes(data)) == "it is damaged"


SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">{}</svg>'


@pytest.mark.parametrize(
    "inside",
    [
        "",
        '<style>path { fill: url(#grad) }</style><path d="M0 0"/>',
        '<use xlink:href="#hub"/>',
        '<image href="data:image/png;base64,AAAA"/>',
        '<rect fill="url(\'#a\')" filter="url( #b )"/>',
        "<text>switch on at Q3; see https://example.org</text>",
        "<style>@font-face { src: url(data:font/woff2;base64,AAAA) }</style>",
        '<g id="bolt"><path/></g>' + '<use href="#bolt" x="1"/>' * 500,
        "<g>" * 150 + "</g>" * 150,
        '<g clip-path="url(#c)"><path id="p"/></g><clipPath id="c"><use href="#p"/></clipPath>',
        '<text aria-label="C:\\drawings\\pump 2">pump</text>',
    ],
)
def test_a_drawing_that_keeps_to_itself_is_shown(inside: str) -> None:
    assert picture_problem("svg", SVG.format(inside).encode()) == ""


@pytest.mark.parametrize(
    ("inside", "reason"),
    [
        ("<script>alert(1)</script>", "script"),
        ('<path onclick="alert(1)"/>', "script"),
        ("<foreignObject><p/></foreignObject>", "foreign"),
        ('<image href="https://example.org/a.png"/>', "outside"),
        ('<image href="other.png"/>', "outside"),
        ('<use xlink:href="other.svg#a"/>', "outside"),
        ('<a href="javascript:alert(1)"><text>x</text></a>', "outside"),
        ('<a href=" JavaScript:alert(1)"/>', "outside"),
        ('<image href="data:image/svg+xml;base64,AAAA"/>', "outside"),
        ("<style>@import 'x.css';</style>", "outside"),
        ("<style>a { fill: url(http://example.org/a) }</style>", "outside"),
        ('<rect style="fill: url(&quot;//example.org/a&quot;)"/>', "outside"),
        ('<set attributeName="xlink:href" to="x"/>', "links"),
        (r"<style>a { fill: \75rl(http://example.org/a) }</style>", "outside"),
        (r'<rect style="fill: u\72 l(//example.org/a)"/>', "outside"),
        (r"<style>@\69mport 'x.css';</style>", "outside"),
        ("<style>a { background: image-set('x.png' 1x) }</style>", "outside"),
        ("<style>a { fill: url(data:image/svg+xml;base64,AAAA) }</style>", "outside"),
        ('<set attributeName=" href " to="x"/>', "links"),
        ('<meta xmlns="http://www.w3.org/1999/xhtml" http-equiv="refresh"/>', "foreign"),
        ('<img xmlns="http://www.w3.org/1999/xhtml" srcset="x.png 2x"/>', "foreign"),
        ("<g>", "well-formed"),
    ],
)
def test_a_drawing_that_runs_or_fetches_something_is_refused(inside: str, reason: str) -> None:
    assert reason in picture_problem("svg", SVG.format(inside).encode())


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "empty"),
        (b"<html/>", "not an SVG"),
        (b"<svg/>", "xmlns"),
        (b"GIF89a", "well-formed"),
        (b'<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg>&a;</svg>', "entities"),
        (b'<?xml-stylesheet href="x.css"?><svg/>', "style sheet"),
        (b'<?xml version="1.0" encoding="klingon"?><svg/>', "well-formed"),
    ],
)
def test_what_is_no_drawing_is_refused(data: bytes, reason: str) -> None:
    assert reason in picture_problem("svg", data)


def doubled(times: int) -> str:
    """Return pieces of which each draws the one before it twice."""
    pieces = (f'<g id="a{n}">{f"""<use href="#a{n - 1}"/>""" * 2}</g>' for n in range(1, times + 1))
    return f'<g id="a0"><path/></g>{"".join(pieces)}<use href="#a{times}"/>'


def test_a_drawing_that_would_never_be_done_is_refused() -> None:
    """Thirty lines that double what is drawn come to a thousand million pieces."""
    assert picture_problem("svg", SVG.format(doubled(10)).encode()) == ""
    assert "too often" in picture_problem("svg", SVG.format(doubled(30)).encode())
    many = '<use href="#hub"/>' * 20_001
    assert "too often" in picture_problem("svg", SVG.format(many).encode())


@pytest.mark.parametrize(
    "inside",
    [
        '<g id="a"><use href="#a"/></g><use href="#a"/>',
        '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g><use href="#a"/>',
        '<pattern id="p"><path fill="url(#p)"/></pattern><path fill="url(#p)"/>',
    ],
)
def test_a_drawing_that_draws_itself_is_refused(inside: str) -> None:
    assert "within itself" in picture_problem("svg", SVG.format(inside).encode())


def test_a_drawing_that_no_browser_reads_is_refused() -> None:
    deep = "<g>" * 300 + "</g>" * 300
    assert "deep in one another" in picture_problem("svg", SVG.format(deep).encode())


@pytest.mark.parametrize(("width", "height"), [(40_000, 40_000), (MOST_DOTS // 2000 + 1, 2000)])
@pytest.mark.parametrize("make", [png, jpeg])
def test_a_picture_that_unpacks_to_too_much_is_refused(
    make: Callable[[int, int], bytes], width: int, height: int
) -> None:
    kind = make.__name__
    assert "too many" in picture_problem(kind, make(width, height))
    assert picture_problem(kind, make(MOST_DOTS // 2000, 2000)) == ""
    assert "damaged" in picture_problem(kind, make(0, 8))
