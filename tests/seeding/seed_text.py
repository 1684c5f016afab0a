"""Texts as lines to change: what stands where, and an edit that keeps track of places."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

WORD = re.compile(r"[A-Za-z][A-Za-z0-9-]*")
_STEP = re.compile(r"( *)([a-z-]+)(?: +(.*))?$")
_BLOCKS = frozenset(
    {
        "energy",
        "conditions",
        "places",
        "parts",
        "fasteners",
        "fluids",
        "connections",
        "tools",
        "consumables",
        "aids",
        "roles",
        "torques",
        "table",
        "verbs",
        "rules",
    }
)
_ABOVE = ("section", "if", "otherwise", "repeat", "only", "way", "lane", "side")
"""First words of lines that hold steps."""


@dataclass(frozen=True, slots=True)
class Step:
    """A line that says what to do: where it stands, its first word, and what follows it."""

    path: str
    line: int
    indent: int
    verb: str
    rest: str

    @property
    def names(self) -> list[str]:
        """Return the things it is about: up to the first word that goes on with the step."""
        plain = re.split(
            r'"|  | (?:with|to|from|under|only|at|by|until|holding|on|as|into) ', self.rest
        )
        words = re.sub(r"\[[^]]*\]", "", plain[0])
        return [word for word in WORD.findall(words) if word not in ("new", "old", "aside")]


@dataclass(frozen=True, slots=True)
class Declared:
    """A thing that a block of a file declares. `text` has its further lines too."""

    name: str
    block: str
    path: str
    line: int
    text: str

    def after(self, word: str) -> list[str]:
        """Return the names in the list behind a word of its clauses."""
        found = re.search(rf"(?<![\w-]){word} ([\w\[\].-]+(?:, [\w\[\].-]+)*)", self.text)
        return [re.sub(r"\[.*", "", n) for n in found[1].split(", ")] if found else []

    def has(self, word: str) -> bool:
        """Return whether a word stands among its clauses."""
        bare = re.sub(r'"[^"]*"', "", self.text)
        return re.search(rf"(?<![\w-]){word}(?![\w-])", bare) is not None


@dataclass(frozen=True, slots=True)
class Edit:
    """One defect: for each path and line what stands there instead, and what should be found.

    `rules` are those that name the fault, `names` the things it is about: a finding is at the right
    place on a changed line, a line that speaks of one of them, or one of `lines`.
    """

    changes: Mapping[tuple[str, int], Sequence[str]]
    rules: frozenset[str]
    names: frozenset[str]
    lines: frozenset[tuple[str, int]] = frozenset()


@dataclass(frozen=True)
class Texts:
    """A folder of texts by path, each as its lines."""

    title: str
    files: Mapping[str, tuple[str, ...]]
    pictures: frozenset[str] = frozenset()
    skipped: dict[str, int] = field(default_factory=dict)

    def skip(self, reason: str) -> None:
        """Count an edit that would leave the work correct."""
        self.skipped[reason] = self.skipped.get(reason, 0) + 1

    @cached_property
    def procedures(self) -> tuple[str, ...]:
        """Return the paths of the procedures."""
        return tuple(p for p, lines in self.files.items() if _first_word(lines) == "procedure")

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """Return all lines that may be steps, file by file."""
        return tuple(step for path in self.files for step in self._steps(path))

    def steps_of(self, path: str) -> list[Step]:
        """Return those of one file."""
        return [step for step in self.steps if step.path == path]

    def _steps(self, path: str) -> Iterator[Step]:
        lines = self.files[path]
        if _first_word(lines) == "visit":
            return
        block, in_block = "", _first_word(lines) != "procedure"
        for number, line in enumerate(lines):
            found = _STEP.match(line)
            if found is None:
                continue
            indent = len(found[1])
            if indent == 0:
                continue
            if indent == 2:
                block = found[2] if found[2] in _BLOCKS and not found[3] else ""
                in_block = _first_word(lines) != "procedure" and found[2] != "block"
            if not block and not in_block:
                yield Step(path, number, indent, found[2], found[3] or "")

    @cached_property
    def declared(self) -> Mapping[str, Declared]:
        """Return what is declared by name; of two of one name the first."""
        found: dict[str, Declared] = {}
        for path in self.files:
            for one in self._declared(path):
                found.setdefault(one.name, one)
        return found

    def _declared(self, path: str) -> Iterator[Declared]:
        lines, block = self.files[path], ""
        for number, line in enumerate(lines):
            words = line.split()
            indent = len(line) - len(line.lstrip())
            if not words or line.lstrip().startswith("#"):
                continue
            if indent <= 2:
                block = words[0] if words[0] in _BLOCKS and len(words) == 1 else ""
            elif indent == 4 and block:
                name = re.sub(r"\[.*", "", words[0])
                text = "\n".join([line, *(lines[i] for i in self.children(path, number))])
                yield Declared(name, block, path, number, text)

    def of_block(self, block: str) -> list[Declared]:
        """Return what stands in the blocks of that name."""
        return [one for one in self.declared.values() if one.block == block]

    def children(self, path: str, number: int) -> list[int]:
        """Return the lines under a line."""
        lines, found = self.files[path], []
        indent = len(lines[number]) - len(lines[number].lstrip())
        for at in range(number + 1, len(lines)):
            line = lines[at]
            if line.strip() and len(line) - len(line.lstrip()) <= indent:
                break
            if line.strip():
                found.append(at)
        return found

    def parent(self, path: str, number: int) -> int | None:
        """Return the line that a line stands under."""
        lines = self.files[path]
        indent = len(lines[number]) - len(lines[number].lstrip())
        for at in range(number - 1, -1, -1):
            if lines[at].strip() and len(lines[at]) - len(lines[at].lstrip()) < indent:
                return at
        return None

    def chain(self, path: str, number: int) -> list[int]:
        """Return the lines that a line stands under, the nearest first."""
        found: list[int] = []
        at = self.parent(path, number)
        while at is not None:
            found.append(at)
            at = self.parent(path, at)
        return found

    def block_of(self, path: str, number: int) -> list[str]:
        """Return a line with all that stands under it."""
        return [self.files[path][i] for i in (number, *self.children(path, number))]

    def drop(self, path: str, number: int) -> dict[tuple[str, int], Sequence[str]]:
        """Return the changes that take a line out, with what stands under it.

        What holds steps and would hold none is taken out too, as an author would.
        """
        gone = [number, *self.children(path, number)]
        above = self.parent(path, number)
        while above and self._first(path, above) in _ABOVE:
            if set(self.children(path, above)) - set(gone):
                break
            gone.append(above)
            above = self.parent(path, above)
        return {(path, line): () for line in gone}

    def _first(self, path: str, number: int) -> str:
        return (self.files[path][number].split() or [""])[0]

    def speaking_of(self, names: frozenset[str]) -> Iterator[tuple[str, int]]:
        """Yield the lines outside of quotes that name one of the things, or loop over it."""
        for path, lines in self.files.items():
            for number, line in enumerate(lines):
                bare = re.sub(r'"[^"]*"', "", line)
                if names & set(WORD.findall(bare)):
                    yield path, number
                    if bare.split()[0] == "repeat":
                        yield from ((path, under) for under in self.children(path, number))

    def apply(self, edit: Edit) -> tuple[dict[str, str], set[tuple[str, int]]]:
        """Return the changed texts, and the places (line from 1) that are right for a finding."""
        right = {*edit.changes, *edit.lines, *self.speaking_of(edit.names)}
        texts: dict[str, str] = {}
        places: set[tuple[str, int]] = set()
        for path, lines in self.files.items():
            made: list[str] = []
            for number, line in enumerate(lines):
                instead = edit.changes.get((path, number), (line,))
                made += instead
                if (path, number) in right:
                    places |= {(path, len(made) - i) for i in range(len(instead))}
            texts[path] = "\n".join(made) + "\n"
        return texts, places


def texts_of(title: str, files: Mapping[str, str], pictures: frozenset[str] = frozenset()) -> Texts:
    """Return texts as lines."""
    return Texts(
        title,
        {path: tuple(text.rstrip("\n").split("\n")) for path, text in files.items()},
        pictures,
    )


def _first_word(lines: Sequence[str]) -> str:
    for line in lines:
        if line.strip() and not line.startswith("#"):
            return line.split()[0]
    return ""
