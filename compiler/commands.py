"""What each command does; `cli.py` reads the arguments and calls these.

Whether a path that somebody typed is there is asked of `os.path`: it says no to a name that is too
long or holds a NUL, where `pathlib` raises.
"""

from __future__ import annotations

import argparse
import os
import shlex
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from compiler.exit_codes import CLEAN, FINDINGS, WRONG_USE
from compiler.findings.model import Finding, is_error
from compiler.load import project_of
from compiler.reporting import Checked, check_folder, report
from compiler.source import SourceFile
from compiler.terminal import Terminal


def check(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Say what is wrong in the given files and folders."""
    paths = [Path(p) for p in arguments.paths] or [default_folder()]
    for path in paths:
        if not os.path.lexists(path):
            return _no_such(path, terminal)
        if not os.path.isdir(path) and path.suffix.lower() != ".proc":
            terminal.say(f"{path} is no file of steps. Those end in .proc.")
            return WRONG_USE
    found = _check_all(paths, terminal)
    if isinstance(found, Found) and arguments.fix:
        if not _write_fixes(found, terminal):
            return WRONG_USE
        found = _check_all(paths, terminal)
    if not isinstance(found, Found):
        return found
    return report(found.findings, found.sources.get, terminal)


@dataclass(frozen=True, slots=True)
class Found:
    """What was found in all the files that were asked for, and their texts.

    `own` are the findings in those files themselves, without what held them up elsewhere.
    """

    findings: Sequence[Finding]
    own: Sequence[Finding]
    sources: Mapping[str, SourceFile]


def _check_all(paths: Sequence[Path], terminal: Terminal) -> Found | int:
    """Check the paths, folder by folder; an exit code when one of them cannot be meant."""
    findings: list[Finding] = []
    own: list[Finding] = []
    sources: dict[str, SourceFile] = {}
    for root, wanted in _by_project(paths).items():
        checked = check_folder(root, terminal)
        if checked.is_empty and not wanted:
            return _nothing_in(root, terminal)
        unread = sorted(wanted - _read(checked))
        if unread:
            terminal.say(
                f"{checked.root}{unread[0]} was not read: a hidden file or folder, or one that is "
                "also there under another name. Name the folder it really lies in."
            )
            return WRONG_USE
        sources.update(checked.sources)
        findings += _of_files(checked, wanted) if wanted else checked.findings
        named = {checked.root + file for file in wanted}
        own += [f for f in checked.findings if not named or f.span.file in named]
    return Found(findings, own, sources)


def _write_fixes(found: Found, terminal: Terminal) -> bool:
    """Write the changes that findings offer and say each; False when a file cannot be written."""
    from compiler.mending import mend

    try:
        changes = mend(found.own, found.sources.get)
    except OSError as error:
        terminal.say(f"{error.filename} cannot be written: {error.strerror}.")
        return False
    for change in changes:
        if change.before:
            terminal.say(f"{change.place}  {change.before!r} is now {change.after!r}")
        else:
            terminal.say(f"{change.place}  {change.after.strip()!r} was put in")
    terminal.say(f"Changed {len(changes)} places." if len(changes) != 1 else "Changed 1 place.")
    return True


def _read(checked: Checked) -> set[str]:
    """Return the files of a folder that were read, or of which it was said why not."""
    known = {source.path for source in checked.folder.sources}
    return known | {finding.span.file for finding in checked.folder.findings}


def _of_files(checked: Checked, wanted: Iterable[str]) -> list[Finding]:
    """Return the findings in the wanted files, and those that point at them.

    Errors in the rest of the folder belong to them when they kept a procedure from being walked
    through: without those, a file that was hardly checked would seem to be clean.
    """
    shown = {checked.root + file for file in wanted}
    walked = {key for key, _ in checked.compiled.walks}
    procedures = checked.compiled.world.procedures.values()
    held_up = any(p.file in wanted and p.key not in walked for p in procedures)
    return [
        f
        for f in checked.findings
        if (held_up and is_error(f))
        or shown & {f.span.file, *(place.span.file for place in f.labels)}
    ]


def build(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Check a folder, and when nothing is wrong make everything of it."""
    from compiler.emit import output_jobs
    from compiler.emit.write import OutputRefused, write_outputs

    checked = _checked(_named(arguments.folder), terminal)
    if isinstance(checked, int):
        return checked
    code = report(checked.findings, checked.sources.get, terminal)
    if code != CLEAN:
        terminal.say("Nothing was written: mend what is marked as an error first.")
        return code
    out = Path(arguments.out)
    sheets = not arguments.no_sheets
    library, pictures = checked.compiled.library(), checked.folder.picture_bytes
    try:
        jobs = output_jobs(library, pictures, arguments.paper, sheets, arguments.one_file)
        written = write_outputs(out, jobs, terminal.progress, arguments.workers)
    except OutputRefused as refused:
        terminal.say(str(refused))
        return WRONG_USE
    if terminal.format == "text":
        removed = f", took {written.removed} away" if written.removed else ""
        terminal.print(f"Wrote {_files(written.made)}, kept {written.kept} as they were{removed}.")
        terminal.print(f"Pages:  {out / 'site' / 'index.html'}")
        terminal.print(f"Sheets: {out / 'sheets' if sheets else 'none were asked for'}")
        terminal.print(f"Lists:  {out / 'lists'}")
        terminal.print(f"Data:   {out / 'data'}")
        if arguments.one_file:
            terminal.print(f"Alone:  {out / 'alone'}")
    return CLEAN


def _named(folder: str | None) -> Path:
    """Return the folder that was named, or else the usual one."""
    return Path(folder) if folder else default_folder()


def _checked(root: Path, terminal: Terminal) -> Checked | int:
    """Check a folder; an exit code when nothing is there to be checked."""
    if not os.path.isdir(root):
        return _no_such(root, terminal)
    checked = check_folder(root, terminal)
    return _nothing_in(root, terminal) if checked.is_empty else checked


def _files(count: int) -> str:
    return "1 file" if count == 1 else f"{count} files"


def watch(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Build, then build again whenever a file of the folder is saved."""
    from compiler.watching import watch_folder

    root = _named(arguments.folder)
    if not os.path.isdir(root):
        return _no_such(root, terminal)
    return watch_folder(
        root, Path(arguments.out), arguments.paper, not arguments.no_sheets, terminal
    )


def tools(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """List what a procedure needs."""
    from compiler.tool_answer import tool_answer

    given = Path(arguments.procedure)
    is_file = given.suffix.lower() == ".proc"
    if arguments.folder:
        root = Path(arguments.folder)
    elif is_file and os.path.isfile(given):
        root = _project(given)[0]
    else:
        root = default_folder()
    checked = _checked(root, terminal)
    if isinstance(checked, int):
        return checked
    if not checked.is_clean:
        return report(checked.findings, checked.sources.get, terminal)
    name = given.stem if is_file else arguments.procedure
    answer = tool_answer(checked.compiled, name, arguments.model or "", terminal.format)
    if answer.text:
        terminal.print(answer.text)
    if answer.refusal:
        terminal.say(answer.refusal)
        return WRONG_USE
    return CLEAN


def records(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Hold records against the procedures and sum them up."""
    from compiler.emit.records import records_csv, records_json, records_page
    from compiler.records.telling import as_text
    from compiler.records_answer import record_files, records_answer

    given = Path(arguments.records)
    root = _named(arguments.procedures)
    if not os.path.exists(given):
        terminal.say(f"There is no {given}. Name the folder that the saved records lie in.")
        return WRONG_USE
    if not os.path.isdir(root):
        return _no_such(root, terminal)
    files = record_files(given)
    if not files:
        terminal.say(f"There is no record in {given.absolute()}. Pages save them as .json files.")
        return WRONG_USE
    checked = check_folder(root, terminal)
    if checked.is_empty:
        return _nothing_in(root, terminal)
    if not checked.is_clean:
        return report(checked.findings, checked.sources.get, terminal)
    answer = records_answer(files, checked.compiled)
    told = (answer.reads, answer.faults, answer.summary)
    if arguments.format == "csv":
        terminal.print(records_csv(answer.reads).rstrip("\r\n"))
    else:
        terminal.print(records_json(*told) if arguments.format == "json" else as_text(*told))
    if arguments.page and not _write_page(arguments.page, records_page(*told), terminal):
        return WRONG_USE
    return FINDINGS if any(fault.is_error for fault in answer.faults) else CLEAN


def changes(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Say what changed between two issues of a folder."""
    from compiler.changes.telling import as_text
    from compiler.changes_answer import CannotCompare, changes_answer
    from compiler.emit.changes import changes_json, changes_page

    folder = _named(arguments.folder)
    try:
        found = changes_answer(arguments.old, arguments.new or "", folder, terminal)
    except CannotCompare as refused:
        terminal.say(str(refused))
        return WRONG_USE
    json = arguments.format == "json"
    terminal.print(changes_json(found) if json else as_text(found, terminal.width))
    if arguments.page and not _write_page(arguments.page, changes_page(found), terminal):
        return WRONG_USE
    return FINDINGS if found.left_out else CLEAN


def _write_page(path: str, page: str, terminal: Terminal) -> bool:
    """Write a page and say so; False when that cannot be."""
    from compiler.replacing import replace_file

    try:
        replace_file(Path(path), page.encode())
    except (OSError, ValueError) as error:  # a NUL in what was typed is no name
        reason = getattr(error, "strerror", None) or "no file is called so"
        terminal.say(f"{path} cannot be written: {reason}.")
        return False
    terminal.say(f"Wrote {path}")
    return True


def issue(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Write into the list of the folder which content goes out under which revision."""
    from compiler.issuing import CannotIssue, Held
    from compiler.issuing import issue as write_down

    checked = _checked(_named(arguments.folder), terminal)
    if isinstance(checked, int):
        return checked
    try:
        done = write_down(checked, arguments.names, arguments.again)
    except CannotIssue as refused:
        terminal.say(str(refused))
        return WRONG_USE
    if isinstance(done, Held):
        code = report(done.findings, checked.sources.get, terminal)
        terminal.say("Nothing was issued: mend what is marked as an error first.")
        return code
    for name, revision in done.added:
        terminal.print(f"Issued {name} {revision}")
    for name, revision in done.again:
        terminal.print(
            f"Issued again {name} {revision}: prints of it that are out say other things"
        )
    if not done.added and not done.again:
        terminal.print("Nothing to issue: all of it is in the list.")
    otherwise = sum(one.rule == "worded-otherwise" for one in checked.findings)
    if otherwise and not arguments.again:
        terminal.say(
            f"What Witnessmark words otherwise by now is left as it was issued ({otherwise}): "
            "witnessmark issue --again takes it as it is."
        )
    return CLEAN


def new(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Start a new file."""
    from compiler.starters import StarterRefused, write_starter

    folder = _named(arguments.folder)
    try:
        # The library that reads the words makes an empty list of a name that is `--`.
        name = arguments.name or ""
        started = write_starter(arguments.kind, name, arguments.machine or "", folder)
    except StarterRefused as refused:
        terminal.say(str(refused))
        return WRONG_USE
    for path in started.paths:
        terminal.print(f"Wrote {path}")
    if started.remark:
        terminal.say(started.remark)
    terminal.print(
        f"Open it in your editor, then run: witnessmark check {shlex.quote(str(started.paths[0]))}"
    )
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


def default_folder() -> Path:
    """Return the folder meant when none is named: `procedures` if it is there, or this one."""
    here = Path("procedures")
    return here if here.is_dir() else Path()


def _by_project(paths: Iterable[Path]) -> dict[Path, set[str]]:
    """Group the paths by the folder compiled; the set names the files asked for (empty: all)."""
    wanted: dict[Path, set[str]] = {path: set() for path in paths if path.is_dir()}
    for path in paths:
        if path not in wanted:
            root, file = _project(path)
            if wanted.get(root) != set():
                wanted.setdefault(root, set()).add(file)
    return wanted


def _project(file: Path) -> tuple[Path, str]:
    """Return the folder that a file is compiled with, as seen from here, and its path in there.

    Without a shop file above it, that is the default folder if the file lies below it, or else the
    file's own.
    """
    here = Path(os.path.abspath(file))
    root = project_of(here)
    usual = Path(os.path.abspath(default_folder()))
    if root == here.parent and usual.name == "procedures" and usual in here.parents:
        root = usual
    shown = root if file.is_absolute() else Path(os.path.relpath(root))
    return shown, here.relative_to(root).as_posix()


def _no_such(path: Path, terminal: Terminal) -> int:
    if os.path.isfile(path):
        terminal.say(f"{path} is a file. Name the folder that it lies in: {path.parent}")
    else:
        terminal.say(
            f"There is no {path}. Name a folder or file that is there, or make a first one with: "
            "witnessmark new procedure NAME"
        )
    return WRONG_USE


def _nothing_in(root: Path, terminal: Terminal) -> int:
    terminal.say(
        f"There is no .proc file in {root.absolute()}. Name the folder where they are, or make a "
        "first one with: witnessmark new procedure NAME"
    )
    return WRONG_USE
