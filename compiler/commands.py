"""What each command does; `cli.py` reads the arguments and calls these."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from compiler.exit_codes import CLEAN, WRONG_USE
from compiler.findings.model import Finding
from compiler.load import Folder, load_folder, project_of
from compiler.pipeline import Compiled, compile_sources
from compiler.reporting import report
from compiler.source import SourceFile
from compiler.terminal import Terminal


def check(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Say what is wrong in the given files and folders."""
    paths = [Path(p) for p in arguments.paths] or [default_folder()]
    missing = [p for p in paths if not p.exists()]
    if missing:
        return _no_such(missing[0], terminal)
    findings: list[Finding] = []
    sources: dict[str, SourceFile] = {}
    for root, wanted in _by_project(paths).items():
        folder = load_folder(root)
        compiled = compile_sources(folder.sources, folder.probe, progress=terminal.progress)
        sources.update(compiled.sources)
        found = (*folder.findings, *compiled.findings)
        findings += [f for f in found if not wanted or f.span.file in wanted]
    return report(findings, sources.get, terminal)


def build(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Check a folder, and when nothing is wrong make everything of it."""
    from compiler.emit import output_jobs
    from compiler.emit.write import OutputRefused, write_outputs

    root = Path(arguments.folder) if arguments.folder else default_folder()
    if not root.is_dir():
        return _no_such(root, terminal)
    folder, compiled = compile_folder(root, terminal)
    code = report((*folder.findings, *compiled.findings), compiled.sources.get, terminal)
    if code != CLEAN:
        terminal.say("Nothing was written: mend what is marked as an error first.")
        return code
    out = Path(arguments.out)
    jobs = output_jobs(
        compiled.library(), folder.picture_bytes, arguments.paper, sheets=not arguments.no_sheets
    )
    try:
        written = write_outputs(out, jobs, terminal.progress)
    except OutputRefused as refused:
        terminal.say(str(refused))
        return WRONG_USE
    if terminal.format == "text":
        terminal.print(f"Wrote {written.made} files, kept {written.kept} that had not changed.")
        terminal.print(f"Pages:  {out / 'site' / 'index.html'}")
        if not arguments.no_sheets:
            terminal.print(f"Sheets: {out / 'sheets'}")
        terminal.print(f"Lists:  {out / 'lists'}   Data: {out / 'data'}")
    return CLEAN


def watch(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Build, then build again whenever a file of the folder is saved."""
    from compiler.watching import watch_folder

    root = Path(arguments.folder) if arguments.folder else default_folder()
    if not root.is_dir():
        return _no_such(root, terminal)
    return watch_folder(
        root, Path(arguments.out), arguments.paper, not arguments.no_sheets, terminal
    )


def tools(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """List what a procedure needs."""
    from compiler.tool_answer import tool_answer

    given = Path(arguments.procedure)
    if arguments.folder:
        root = Path(arguments.folder)
    elif given.suffix == ".proc" and given.exists():
        root = project_of(given)
    else:
        root = default_folder()
    if not root.is_dir():
        return _no_such(root, terminal)
    folder, compiled = compile_folder(root, terminal)
    if not compiled.is_clean:
        return report((*folder.findings, *compiled.findings), compiled.sources.get, terminal)
    name = given.stem if given.suffix == ".proc" else arguments.procedure
    answer = tool_answer(compiled, name, arguments.model or "", terminal.format)
    if answer.text:
        terminal.print(answer.text)
    if answer.refusal:
        terminal.say(answer.refusal)
        return WRONG_USE
    return CLEAN


def new(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Start a new file."""
    from compiler.starters import StarterRefused, write_starter

    folder = Path(arguments.folder) if arguments.folder else default_folder()
    try:
        path = write_starter(arguments.kind, arguments.name, arguments.machine or "", folder)
    except StarterRefused as refused:
        terminal.say(str(refused))
        return WRONG_USE
    terminal.print(f"Wrote {path}. Open it in your editor, then run: witnessmark check {path}")
    return CLEAN


def explain(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Tell more about a finding, or list them all."""
    from compiler.findings.pages import explain as page_of
    from compiler.findings.registry import RULES, nearest_rule

    if not arguments.name:
        for rule in RULES.values():
            terminal.print(f"{rule.name:<20}  {rule.severity.value:<8} {rule.meaning}")
        return CLEAN
    page = page_of(arguments.name)
    if page is None:
        near = nearest_rule(arguments.name)
        hint = f" Did you mean {near}?" if near else " `witnessmark explain` lists them all."
        terminal.say(f"There is no finding called {arguments.name!r}.{hint}")
        return WRONG_USE
    terminal.print(page)
    return CLEAN


def compile_folder(root: Path, terminal: Terminal) -> tuple[Folder, Compiled]:
    """Load and compile one folder, telling how far it is."""
    folder = load_folder(root)
    return folder, compile_sources(folder.sources, folder.probe, progress=terminal.progress)


def default_folder() -> Path:
    """Return the folder meant when none is named: `procedures` if it is there, or this one."""
    here = Path("procedures")
    return here if here.is_dir() else Path()


def _by_project(paths: Sequence[Path]) -> dict[Path, set[str]]:
    """Group the paths by the folder compiled; the set names the files asked for (empty: all)."""
    wanted: dict[Path, set[str]] = {}
    for path in paths:
        if path.is_dir():
            wanted[path] = set()
            continue
        root = project_of(path)
        if wanted.get(root) == set():
            continue
        wanted.setdefault(root, set()).add(path.resolve().relative_to(root.resolve()).as_posix())
    return wanted


def _no_such(path: Path, terminal: Terminal) -> int:
    terminal.say(
        f"There is no {path}. Name a folder or file that is there, "
        "or make one with: witnessmark new"
    )
    return WRONG_USE
