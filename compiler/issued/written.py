"""A digest of what the author wrote for a procedure, so that it is known who changed its content.

It is taken from the texts, not from what Witnessmark makes of them: so it stays the same with any
version of Witnessmark, whatever that understands or words otherwise.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping

from compiler.model import Procedure, World
from compiler.resolve import followed_by
from compiler.source import SourceFile

_DIGITS = 16
_STRAIGHT = r'"(?:[^"\\\r\n]|\\.)*"?'
_CURLY = r'[\u201c\u201e](?:[^\u201c\u201d"\\\r\n]|\\.)*["\u201c\u201d]?'
# A # before a digit is no comment, as the parser reads it.
_PIECE = re.compile(rf'{_STRAIGHT}|{_CURLY}|\#(?![0-9])[^\r\n]*|[^\s"\u201c\u201e#]+|\#')
_CALIBRATED = re.compile(r"\bcalibrated until \d{4}-\d\d-\d\d\b")


def written_digests(world: World, sources: Mapping[str, SourceFile]) -> dict[str, str]:
    """Return a digest of 16 hex digits for each procedure that is issued, by its name.

    It covers the files that a procedure may take something from: its own, those of what it follows,
    of their machines, and of the shop. How they are laid out is left out, comments too, and until
    when a tool is calibrated. `sources` are the texts by path.
    """
    texts = {path: _written(source.text) for path, source in sources.items()}
    found: dict[str, str] = {}
    for procedure in world.procedures.values():
        if not procedure.is_block:
            # Names of files are no content: a file may be moved.
            own = sorted(texts[file] for file in _files(world, procedure) if file in texts)
            said = "\0".join(own).encode("utf-8", "surrogatepass")
            found[procedure.name] = hashlib.sha256(said).hexdigest()[:_DIGITS]
    return found


def _files(world: World, procedure: Procedure) -> set[str]:
    """Return the files that a procedure may take something from."""
    files = {world.shop.span.file} if world.shop is not None else set()
    seen: set[str] = set()
    todo = [procedure.key]
    while todo:
        one = world.procedures.get(todo.pop())
        if one is None or one.key in seen:
            continue
        seen.add(one.key)
        files.add(one.file)
        if one.machine in world.machines:
            files.add(world.machines[one.machine].span.file)
        todo += followed_by(one)
    return files


def _written(text: str) -> str:
    """Return a text without comments, blank lines, and how wide anything is."""
    return "\n".join(_lines(text))


def _lines(text: str) -> Iterator[str]:
    margins = [0]
    for line in re.split(r"\r\n|\r|\n", text.removeprefix("\ufeff")):
        words = [piece for piece in _PIECE.findall(line) if not _is_comment(piece)]
        if not words:
            continue
        margin = len(line) - len(line.lstrip())
        while margin < margins[-1]:
            margins.pop()
        if margin > margins[-1]:
            margins.append(margin)
        yield f"{len(margins)} {_CALIBRATED.sub('', ' '.join(words)).strip()}"


def _is_comment(piece: str) -> bool:
    return piece.startswith("#") and len(piece) > 1
