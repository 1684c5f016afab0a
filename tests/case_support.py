"""What the tests of cases and of pages share: compiling a text of several files, reading marks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from compiler.findings.model import Finding, sort_and_dedupe
from compiler.findings.registry import RULES
from compiler.findings.render import render_text
from compiler.load import load_folder
from compiler.pipeline import compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile

WIDTH = 100
"""Columns of the terminal that the stored texts are rendered for."""

ON_DISK = frozenset(("not-text", "not-readable", "picture-missing", "picture-not-usable"))
"""Rules about files on the disk: a page cannot show them as text, a case needs a folder."""

_PART = re.compile(r"^## file: (\S+)\n", re.MULTILINE)
_MARK = re.compile(r"# (error|warning): ([a-z-]+)")

Place: TypeAlias = tuple[str, int, str]
"""File, line, and the weight and rule found there: `error: bad-date`."""


@dataclass(frozen=True, slots=True)
class Checked:
    """Texts by path, and what was found in them."""

    texts: Mapping[str, str]
    findings: tuple[Finding, ...]

    def source_of(self, path: str) -> SourceFile | None:
        """Return a text with its lines; None for a file that could not be read."""
        return SourceFile(path, self.texts[path]) if path in self.texts else None

    def found(self) -> list[Place]:
        """Return where each finding starts."""
        return sorted(map(self._place, self.findings))

    def _place(self, finding: Finding) -> Place:
        source = self.source_of(finding.span.file)
        line = source.position(finding.span.start).line if source is not None else 1
        return finding.span.file, line, f"{RULES[finding.rule].severity.value}: {finding.rule}"

    def rendered(self) -> str:
        """Return the findings as an author reads them."""
        blocks = (render_text(f, self.source_of, False, WIDTH) for f in self.findings)
        return "".join(f"{block}\n\n" for block in blocks)


def parts(text: str, first: str) -> dict[str, str]:
    """Return the files of a text by path; what stands before the first `## file:` is `first`."""
    pieces = _PART.split(text)
    files = {first: pieces[0]} if pieces[0].strip() or len(pieces) == 1 else {}
    return files | dict(zip(pieces[1::2], pieces[2::2], strict=True))


def check_texts(texts: Mapping[str, str]) -> Checked:
    """Compile texts that are on no disk."""
    sources = [SourceFile(path, texts[path]) for path in sorted(texts)]
    return Checked(dict(texts), compile_sources(sources, no_pictures).findings)


def check_folder(root: Path) -> Checked:
    """Compile a folder as the command line does."""
    folder = load_folder(root)
    compiled = compile_sources(folder.sources, folder.probe)
    texts = {source.path: source.text for source in folder.sources}
    return Checked(texts, sort_and_dedupe((*folder.findings, *compiled.findings)))


def marks(texts: Mapping[str, str]) -> list[Place]:
    """Return the places that comments in the texts mark."""
    return sorted(
        (path, number, f"{weight}: {rule}")
        for path, text in texts.items()
        for number, line in enumerate(re.split(r"\r\n|\r|\n", text), 1)
        for weight, rule in _MARK.findall(line)
    )


def mended(checked: Checked, finding: Finding) -> Checked:
    """Return what is found after the change of text that a finding offers."""
    fix = finding.fix
    assert fix is not None
    text = checked.texts[fix.span.file]
    changed = text[: fix.span.start] + fix.text + text[fix.span.end :]
    return check_texts({**checked.texts, fix.span.file: changed})


def rules_of(findings: Iterable[Finding]) -> Sequence[str]:
    """Return the rules of findings in the order of the alphabet."""
    return sorted(finding.rule for finding in findings)
