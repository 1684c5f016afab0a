"""Which file of the folder declares a name, for a line in another file that does not find it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from compiler import syntax
from compiler.resolve.heads import head
from compiler.resolve.scope import with_article
from compiler.source import Span


@dataclass(frozen=True, slots=True)
class Declared:
    """A thing that a file declares: `fastener` of the `machine` called `pump`."""

    span: Span
    thing: syntax.ThingKind
    kind: str
    owner: str


@dataclass(frozen=True, slots=True)
class Folder:
    """What all files declare, by name; the machine of each file that is for one, by path.

    `described` are the machines that a file describes.
    """

    declared: Mapping[str, tuple[Declared, ...]] = field(default_factory=dict)
    machines: Mapping[str, str] = field(default_factory=dict)
    described: frozenset[str] = frozenset()

    def lacks_machine(self, path: str) -> bool:
        """Return whether a file is for a machine that no file describes."""
        return path in self.machines and self.machines[path] not in self.described

    def others(self, name: str, path: str) -> tuple[Declared, ...]:
        """Return where a name is declared in other files than this one: machines, or procedures.

        A machine's things are meant for many files, so a procedure counts only without one.
        """
        found = [one for one in self.declared.get(name, ()) if one.span.file != path]
        kind = "machine" if any(one.kind == "machine" for one in found) else "procedure"
        return tuple(one for one in found if one.kind == kind)


def folder_of(files: Sequence[syntax.File]) -> Folder:
    """Return what the machines and procedures of a folder declare."""
    declared: dict[str, list[Declared]] = {}
    machines: dict[str, str] = {}
    for file in files:
        ref = head(file.head).arg("machine", syntax.Ref)
        if file.kind == "machine":
            machines[file.span.file] = file.name.text
        elif ref is not None:
            machines[file.span.file] = ref.name.text
        for thing in file.things if file.kind in ("machine", "procedure") else ():
            one = Declared(thing.name.span, thing.kind, file.kind, file.name.text)
            declared.setdefault(thing.name.text, []).append(one)
    described = frozenset(file.name.text for file in files if file.kind == "machine")
    return Folder({name: tuple(found) for name, found in declared.items()}, machines, described)


def told(folder: Folder, others: Sequence[Declared], path: str) -> tuple[str, str]:
    """Return the end of a sentence that says where the name is declared, and what to try."""
    first = others[0]
    owners = sorted({one.owner for one in others if one.thing == first.thing})
    shown = " and ".join([", ".join(owners[:-1]), owners[-1]] if len(owners) > 1 else owners)
    several = "s" if len(owners) > 1 else ""
    said = f"it is {with_article(first.thing)} of the {first.kind}{several} {shown}"
    here = folder.machines.get(path, "")
    if first.kind == "procedure":
        hint = "Declare it here too, or on the machine, where all of its procedures find it."
        return said, hint
    if here:
        return (
            f"{said}, and this is for {here}",
            f"Declare it on {here} too, or name what is meant.",
        )
    return said, f"If this is for {owners[0]}, write under the first line: machine {owners[0]}."
