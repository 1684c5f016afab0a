"""What can be followed from where: procedures, blocks of the shop, blocks of one's machine."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from compiler import syntax
from compiler.resolve.machines import MachineParts
from compiler.resolve.procedures import machine_of, models_of
from compiler.resolve.report import Report
from compiler.resolve.work import Follows


def procedures_to_follow(
    files: Mapping[str, syntax.File], machines: Mapping[str, MachineParts]
) -> dict[str, Follows]:
    """Return every procedure file by its name."""
    found: dict[str, Follows] = {}
    for name, file in files.items():
        home = machine_of(file, machines)
        models = models_of(file, home)
        machine = home.machine.name if home is not None else ""
        found[name] = Follows(name, name, file.name.span, models, machine)
    return found


def blocks_to_follow(
    file: syntax.File | None, machine: str, others: Mapping[str, Follows], report: Report
) -> dict[str, Follows]:
    """Return the blocks of a machine or shop file; report names that are taken already."""
    found: dict[str, Follows] = {}
    for node in file.blocks if file is not None else ():
        name = node.name.text
        first = found.get(name) or others.get(name)
        if first is not None:
            report.add(
                "duplicate-name",
                node.name.span,
                f"Something to follow is called {name} already.",
                (first.span, f"{name} is here"),
                hint="Give one of the two another name.",
            )
        if file is not None and name not in found:
            key = f"{file.name.text}/{name}"
            found[name] = Follows(key, name, node.name.span, (), machine)
    return found


def first_blocks(file: syntax.File | None) -> Iterable[syntax.BlockDecl]:
    """Yield the blocks of a file, of those with one name the first."""
    seen: set[str] = set()
    for node in file.blocks if file is not None else ():
        if node.name.text not in seen:
            seen.add(node.name.text)
            yield node
