"""The data of the search on the first page, as a script: from a disk a page may load no other.

Ten thousand procedures have some ten thousand different words between them, so the words stand
once, and each procedure names its own by their places.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Iterable, Sequence

from compiler.document.model import Library, ProcedureRow
from compiler.wording.phrases import LABELS

LISTED = 200
"""Up to so many procedures stand on the page itself; beyond, a reader types or picks a machine."""


def finder_script(library: Library) -> str:
    """Return the script that gives the page its data, as `witness.finder`."""
    spoken = [_words(row.words) for row in library.rows]
    words = sorted({word for row in spoken for word in row})
    place = {word: number for number, word in enumerate(words)}
    tools = [tool.id for tool in library.tools]
    tool_place = {name: number for number, name in enumerate(tools)}
    data = {
        "words": " ".join(words),
        "rows": [
            [
                row.id,
                row.title,
                row.machine_id,
                row.machine_title,
                list(row.models),
                row.day,
                meta(row),
                _steps(sorted(place[word] for word in own)),
                [tool_place[name] for name in row.tools if name in tool_place],
            ]
            for row, own in zip(library.rows, spoken, strict=True)
        ],
    }
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    # What ends a line in JavaScript alone, and not in JSON, does not do so here.
    text = text.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return f"window.witness = window.witness || {{}};\nwindow.witness.finder = {text};\n"


def _words(text: str) -> set[str]:
    """Return words as they are compared: without accents, in lower case."""
    split = unicodedata.normalize("NFKD", text)
    bare = "".join(c for c in split if not unicodedata.combining(c))
    return set(bare.casefold().split())


def _steps(places: Sequence[int]) -> list[int]:
    """Return rising numbers as the first one and the steps between them: they are shorter."""
    return [at - before for before, at in zip([0, *places], places, strict=False)]


def meta(row: ProcedureRow) -> str:
    """Return the line under the title of a procedure in a list."""
    parts = [f"{LABELS.revision} {row.revision}, {row.day}"] if row.revision else []
    parts.append(LABELS.counted(row.steps, LABELS.steps_word))
    if row.time_text:
        parts.append(row.time_text)
    if row.people > 1:
        parts.append(LABELS.counted(row.people, LABELS.people_word))
    return " · ".join(parts)


def models_of(rows: Iterable[ProcedureRow]) -> list[str]:
    """Return every model that a procedure is for, in the order of the alphabet."""
    return sorted({model for row in rows for model in row.models})
