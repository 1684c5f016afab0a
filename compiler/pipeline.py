"""The whole journey on one screen: text, syntax, model, walk-through, findings, document.

Nothing here touches the disk: `cli.py` and `watching.py` bring the texts and take the outputs.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, TypeAlias

from compiler.findings.model import Finding, is_error, sort_and_dedupe
from compiler.source import KEPT, LEDGER, SourceFile

if TYPE_CHECKING:
    from compiler.derive.lists import Derived
    from compiler.document.model import Library
    from compiler.model import Procedure, World
    from compiler.resolve import PictureProbe
    from compiler.syntax import File
    from compiler.walk.nodes import Walk

WalkKey: TypeAlias = tuple[str, str]
"""A procedure's key and a model."""


@dataclass(frozen=True, slots=True)
class Compiled:
    """What came of a folder. `world` and what follows are as complete as the findings allow."""

    sources: Mapping[str, SourceFile]
    world: World
    walks: Mapping[WalkKey, Walk]
    derived: Mapping[WalkKey, Derived]
    findings: tuple[Finding, ...]
    _made: tuple[World, Library] | None = None

    @property
    def is_clean(self) -> bool:
        """Return whether outputs may be made: no finding of error weight."""
        return not any(map(is_error, self.findings))

    def library(self) -> Library:
        """Return the document of the whole folder. Only for a clean one."""
        from compiler.document import build_library

        if self._made is not None and self._made[0] is self.world:
            return self._made[1]
        assert self.is_clean, "outputs are made from a clean folder only"
        return build_library(self.world, self.walks, self.derived, self.sources)

    def sound_part(self) -> tuple[Library, tuple[str, ...]]:
        """Return the documents that no error is in the way of, and the names of the others.

        For looking back: an old issue may have faults that nobody looked for at its time. A folder
        with an error has no visits, since those need all of their jobs.
        """
        from compiler.document import build_library

        if self.is_clean:
            return self.library(), ()
        sound = {procedure.key for procedure in _sound(self.world, self.findings)}
        kept = {key: one for key, one in self.world.procedures.items() if key in sound}
        world = replace(self.world, procedures=kept, visits={})
        lost = sorted(one.name for key, one in self.world.procedures.items() if key not in sound)
        walks = {key: one for key, one in self.walks.items() if key[0] in sound}
        derived = {key: one for key, one in self.derived.items() if key[0] in sound}
        return build_library(world, walks, derived, self.sources), tuple(lost)


@dataclass(slots=True)
class Parser:
    """Parses files and keeps what did not change since the last time (for `watch`)."""

    _kept: dict[str, tuple[str, File | None, tuple[Finding, ...]]] = field(default_factory=dict)

    def __call__(self, source: SourceFile) -> tuple[File | None, tuple[Finding, ...]]:
        """Return the syntax of one file and what was found in it."""
        from compiler.parse import parse_text

        kept = self._kept.get(source.path)
        if kept and kept[0] == source.text:
            return kept[1], kept[2]
        file, findings = parse_text(source.text, source.path)
        self._kept[source.path] = (source.text, file, findings)
        return file, findings


def compile_sources(
    sources: Sequence[SourceFile],
    pictures: PictureProbe,
    parse: Callable[[SourceFile], tuple[File | None, tuple[Finding, ...]]] | None = None,
    progress: Callable[[int, int, str], None] = lambda done, total, path: None,
) -> Compiled:
    """Take the texts of a folder as far as they go.

    `pictures` tells whether a picture exists and what it is. A source that is called as `LEDGER`
    says is the list of what was issued, one called `KEPT` what is kept of the latest issues. Never
    raises for what an author wrote.
    """
    from compiler.checks import run_checks
    from compiler.checks.printing import unprinted
    from compiler.derive import derive
    from compiler.resolve import resolve
    from compiler.walk import walk_procedure

    parse = parse or Parser()
    findings: list[Finding] = []
    files: list[File] = []
    by_path = {source.path: source for source in sources}
    sources = [source for source in sources if source.path not in (LEDGER, KEPT)]
    for done, source in enumerate(sources):
        progress(done, len(sources), source.path)
        file, found = parse(source)
        findings += [*found, *unprinted(source)]
        if file is not None:
            files.append(file)
    world, found = resolve(files, pictures)
    findings += found

    walks: dict[WalkKey, Walk] = {}
    derived: dict[WalkKey, Derived] = {}
    for procedure in _sound(world, findings):
        for variant in procedure.variants:
            walk, found = walk_procedure(world, procedure, variant.model)
            findings += found
            walks[procedure.key, variant.model] = walk
            derived[procedure.key, variant.model] = derive(world, procedure, walk)
    findings += (_placed(found, by_path) for found in run_checks(world, walks, derived))
    compiled = Compiled(by_path, world, walks, derived, sort_and_dedupe(findings))
    return _held_to_issues(compiled) if LEDGER in by_path else compiled


def _held_to_issues(compiled: Compiled) -> Compiled:
    """Return the compiled folder held against what was issued: the last thing to be looked at.

    What is said can be compared only where all is clean; the documents made for it are kept. They
    are what it costs: with a list the demo takes 2.1 times the processor time of a check without
    one, of which reading the list, the pieces and the texts of the author is a fiftieth.
    """
    from compiler.issued import (
        issue_findings,
        read_issues,
        read_kept,
        with_history,
        written_digests,
    )

    sources, world = compiled.sources, compiled.world
    issues, findings = read_issues(sources[LEDGER])
    kept, of_kept = read_kept(sources[KEPT]) if KEPT in sources else ((), ())
    found = [*compiled.findings, *findings, *of_kept]
    made = None
    if compiled.is_clean:
        library = compiled.library()
        written = written_digests(world, sources)
        found += issue_findings(issues, library.documents, world.procedures, written)
        documents = tuple(
            with_history(issues, document, kept, written.get(document.id, ""))
            for document in library.documents
        )
        made = (world, replace(library, documents=documents))
    return replace(compiled, findings=sort_and_dedupe(found), _made=made)


def _placed(finding: Finding, sources: Mapping[str, SourceFile]) -> Finding:
    """Return the finding with the place of a new line that it offers."""
    if finding.fix is None or not finding.fix.as_line:
        return finding
    fix = finding.fix.placed_in(sources[finding.fix.span.file].text)
    return replace(finding, fix=fix)


def _sound(world: World, findings: Sequence[Finding]) -> list[Procedure]:
    """Return the procedures worth walking through.

    After an error in a file whatever is worked out from it is noise, so its procedures wait, and so
    do those of a machine whose file has one.
    """
    broken = {finding.span.file for finding in findings if is_error(finding)}
    machines = {m.name for m in world.machines.values() if m.span.file in broken}
    shop_broken = world.shop is not None and world.shop.span.file in broken
    bad = {p.key for p in world.procedures.values() if p.file in broken or p.machine in machines}
    if shop_broken:
        bad = set(world.procedures)
    return [p for p in world.procedures.values() if not _leads_to(world, p.key, bad)]


def _leads_to(world: World, key: str, bad: set[str]) -> bool:
    """Return whether the procedure or anything it follows is among `bad`."""
    from compiler.resolve import followed_by

    seen: set[str] = set()
    todo = [key]
    while todo:
        current = todo.pop()
        if current in bad:
            return True
        if current not in seen and current in world.procedures:
            seen.add(current)
            todo += followed_by(world.procedures[current])
    return False
