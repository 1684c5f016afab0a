"""Drawings (SVG): whether one is well-formed, shows all by itself, and can be drawn in good time.

A drawing is copied into the site, where a browser may open it as a page of its own. So what would
run or fetch something is refused.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

MOST_DRAWN = 200_000
"""Elements, with all that is drawn again and again; one from a drawing office has some 20 000."""

MOST_REFERENCES = 20_000
"""How often a drawing may refer to pieces of itself."""

MOST_DEPTH = 200
"""Groups in one another; what browsers read XML with gives up at 256."""

_SVG = "http://www.w3.org/2000/svg"
_OF_PAGES = frozenset(("http://www.w3.org/1999/xhtml", "http://www.w3.org/1998/Math/MathML"))
_ACTIVE = frozenset(("script", "foreignobject", "iframe", "object", "embed", "handler", "listener"))
_OUTSIDE_URL = re.compile(
    r"""url\(\s*["']?\s*(?!["']?\s*(?:#|data:(?:image/(?!svg)|font/|application/(?:x-)?font)))""",
    re.IGNORECASE,
)
_OUTSIDE_CSS = re.compile(
    r"@import|expression\(|javascript:|-moz-binding|image-set\(", re.IGNORECASE
)
_ESCAPE = re.compile(r"\\(?:([0-9a-f]{1,6})\s?|(.))", re.IGNORECASE | re.DOTALL)
_OWN_LINK = re.compile(r"\s*(?:#|data:image/(?:png|jpe?g|gif|webp)[;,]|$)", re.IGNORECASE)
_OWN_URL = re.compile(r"""url\(\s*["']?\s*#([^"')\s]*)""", re.IGNORECASE)


class _Refused(Exception):
    """A drawing that may not be shown; the message says why."""


@dataclass(slots=True)
class _Group:
    """An element with all that is in it: how many there are, and the pieces they refer to."""

    local: str
    name: str
    elements: int = 1
    refers: list[str] = field(default_factory=list)


class _Reader:
    """Takes a drawing piece by piece, as the parser of XML comes along."""

    def __init__(self) -> None:
        self._open: list[_Group] = []
        self._named: dict[str, _Group] = {}
        self._styles: list[str] = []
        self._references = 0
        self._whole = _Group("", "")

    def start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        if not self._open and local != "svg":
            raise _Refused("it is not an SVG drawing")
        if not self._open and space != _SVG:
            raise _Refused(f'its first element lacks xmlns="{_SVG}", so no browser would show it')
        if len(self._open) == MOST_DEPTH:
            raise _Refused(f"its groups stand more than {MOST_DEPTH} deep in one another")
        _refuse_element(space, local.lower(), attributes)
        group = _Group(local.lower(), attributes.get("id", ""))
        group.refers = [*_references(local, attributes)]
        self._references += len(group.refers)
        if self._references > MOST_REFERENCES:
            raise _Refused("it repeats pieces of itself too often")
        self._open.append(group)

    def end(self, name: str) -> None:
        done = self._open.pop()
        if done.name:
            self._named.setdefault(done.name, done)
        outer = self._open[-1] if self._open else self._whole
        outer.elements += done.elements
        outer.refers += done.refers

    def text(self, piece: str) -> None:
        if self._open and self._open[-1].local == "style":
            self._styles.append(piece)

    def entity(self, *_: object) -> None:
        raise _Refused("it defines entities")

    def instruction(self, target: str, _: str) -> None:
        if target.lower() == "xml-stylesheet":
            raise _Refused("it fetches a style sheet from elsewhere")

    def finish(self) -> None:
        """Look at what can only be judged once all was read."""
        _refuse_style("".join(self._styles))
        self._refuse_repeats()

    def _refuse_repeats(self) -> None:
        """Raise when a piece draws itself, or when pieces that repeat pieces add up to too much.

        The pieces are taken in an order in which those that others refer to come first.
        """
        drawn: dict[str, int] = {}
        begun: set[str] = set()
        waiting = [*self._whole.refers]
        while waiting:
            name = waiting[-1]
            group = self._named.get(name)
            if group is None or name in drawn:
                waiting.pop()
                continue
            inner = [one for one in group.refers if one in self._named and one not in drawn]
            if not inner:
                drawn[name] = _all_in(group, drawn)
                waiting.pop()
            elif name in begun:
                raise _Refused("a piece of it is drawn within itself")
            else:
                begun.add(name)
                waiting += dict.fromkeys(inner)
        _all_in(self._whole, drawn)


def _all_in(group: _Group, drawn: dict[str, int]) -> int:
    """Return how many elements a group comes to with what it refers to."""
    count = group.elements + sum(drawn.get(name, 0) for name in group.refers)
    if count > MOST_DRAWN:
        raise _Refused("it repeats pieces of itself too often")
    return count


def svg_problem(data: bytes) -> str:
    """Return why a drawing may not be shown, '' when it may."""
    from xml.parsers import expat

    reader = _Reader()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler, parser.EndElementHandler = reader.start, reader.end
    parser.CharacterDataHandler = reader.text
    parser.EntityDeclHandler = reader.entity
    parser.ProcessingInstructionHandler = reader.instruction
    try:
        parser.Parse(data, True)
        reader.finish()
    except _Refused as refused:
        return str(refused)
    except (expat.ExpatError, ValueError, LookupError):
        return "it is not a well-formed SVG drawing"
    return ""


def _references(local: str, attributes: dict[str, str]) -> list[str]:
    """Return the names of the pieces that an element draws: by `use`, and by `url(#…)`."""
    found = [name for value in attributes.values() for name in _OWN_URL.findall(value)]
    if local == "use":
        links = (v.strip() for a, v in attributes.items() if a.rpartition(" ")[2] == "href")
        found += [link[1:] for link in links if link.startswith("#")]
    return found


def _refuse_element(space: str, local: str, attributes: dict[str, str]) -> None:
    """Raise for an element or an attribute that runs or fetches something."""
    if local in _ACTIVE or space in _OF_PAGES:
        raise _Refused("it holds a script or a foreign object")
    for name, value in attributes.items():
        attribute = name.rpartition(" ")[2].lower()
        if attribute.startswith("on"):
            raise _Refused("it holds a script")
        if attribute in ("href", "src") and not _OWN_LINK.match(value):
            raise _Refused("it refers to something outside of itself")
        if attribute == "attributename" and value.strip().lower().endswith("href"):
            raise _Refused("it changes its own links")
        _refuse_style(value)


def _refuse_style(text: str) -> None:
    """Raise for style text, or an attribute, that would fetch something.

    A style may write any letter by its number (CSS Syntax, section 4.3.7), also those of `url`.
    """
    for read in {text, _ESCAPE.sub(_unescaped, text)} if "\\" in text else {text}:
        if _OUTSIDE_CSS.search(read) or _OUTSIDE_URL.search(read):
            raise _Refused("it refers to something outside of itself")


def _unescaped(found: re.Match[str]) -> str:
    if found[1] is None:
        return found[2]
    code = int(found[1], 16)
    return chr(code) if 0 < code < 0x110000 else "\N{REPLACEMENT CHARACTER}"
