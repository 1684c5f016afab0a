"""Where the walk is: which procedure, what it was followed from, which round of which repeat."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from compiler.model import Procedure
from compiler.walk.ahead import Ahead
from compiler.walk.bind import Binding, Loop, Loops, members_of
from compiler.walk.deeds import Generals
from compiler.walk.nodes import Origin


@dataclass(frozen=True, slots=True)
class Frame:
    """The surroundings of the block that is walked.

    `prefix` stands before the ids of what is followed, `suffix` after those of a round. `role` does
    what names nobody.
    """

    procedure: Procedure
    prefix: str = ""
    suffix: str = ""
    origin: tuple[Origin, ...] = ()
    loops: Loops = field(default_factory=dict)
    binding: str = ""
    role: str = ""
    conditional: bool = False
    depth: int = 0
    stack: tuple[str, ...] = ()
    ahead: Ahead = field(default_factory=Ahead)

    def id(self, local: str) -> str:
        """Return the id of a node made of a step of this procedure."""
        return f"{self.prefix}{local}{self.suffix}"

    def on_some_paths(self) -> Frame:
        """Return the frame of what is done only if something is the case."""
        return self if self.conditional else replace(self, conditional=True)

    def deeper(self) -> Frame:
        """Return the frame one level down."""
        return replace(self, depth=self.depth + 1)

    def with_ahead(self, ahead: Ahead) -> Frame:
        """Return the frame with what comes later."""
        return replace(self, ahead=ahead)

    def in_round(self, variable: str, loop: Loop, item: str, suffix: str) -> Frame:
        """Return the frame of one round of a repeat."""
        loops: Mapping[str, Loop] = {**self.loops, variable: loop} if variable else self.loops
        return replace(
            self,
            loops=loops,
            binding=" ".join(filter(None, (self.binding, item))) if item else self.binding,
            suffix=f"{self.suffix}.{suffix}" if suffix else self.suffix,
            depth=self.depth + 1,
        )

    def generals(self) -> Generals:
        """Return, for each variable of a general body, the member it stands for in the first round
        and all that it stands for.
        """
        return tuple(
            (member, loop.members)
            for loop in self.loops.values()
            if loop.general
            for member in members_of(loop.value)
        )


def item_text(binding: Binding, number: int, label: str) -> str:
    """Return what one round is called: `foot 1`, a row's first cell, '' when it has no name."""
    if isinstance(binding, str):
        return binding
    if isinstance(binding, tuple):
        cell = binding[0][1] if binding else ""
        return cell if isinstance(cell, str) else f"{number}"
    members = [m for m in binding.members if isinstance(m, str)]
    return f"{label} {' '.join(members)}".strip()


def round_suffix(binding: Binding, number: int) -> str:
    """Return what a round adds to the ids in it; it stays when other rounds are put before."""
    words = ""
    if isinstance(binding, str):
        words = binding
    elif isinstance(binding, tuple):
        cell = binding[0][1] if binding else ""
        words = cell if isinstance(cell, str) else ""
    else:
        members = [m for m in binding.members if isinstance(m, str)]
        words = " ".join(members) or binding.key.rsplit("/", 1)[-1]
    return slug(words) or str(number)


def slug(text: str) -> str:
    """Return a text as one lower-case word with hyphens; '' when nothing is left of it."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    return "-".join(re.findall(r"[^\W_]+", plain))[:40].strip("-")
