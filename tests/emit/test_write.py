"""Writing the output: whole or not at all, nothing of anybody else's, unchanged files kept."""

from __future__ import annotations

import errno
import json
import os
import shutil
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from compiler.emit.job import OutputJob, digest, ready
from compiler.emit.record import RECORD, folders_written
from compiler.emit.write import OutputRefused, Written, write_outputs


def job(path: str, text: str) -> OutputJob:
    return ready(path, text.encode())


def failing(path: str, error: BaseException) -> OutputJob:
    def make() -> bytes:
        raise error

    return OutputJob(path, "never made", make)


def tree(out: Path) -> dict[str, str]:
    """Return every file below `out` but the record, by path, with its text."""
    return {
        path.relative_to(out).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(out.rglob("*"))
        if path.is_file() and path.name != RECORD
    }


FIRST = [job("site/index.html", "one"), job("site/a/b.html", "two"), job("lists/x.csv", "three")]
FIRST_TREE = {"site/index.html": "one", "site/a/b.html": "two", "lists/x.csv": "three"}


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """Return a folder that holds the output of one build."""
    folder = tmp_path / "deep" / "build"
    assert write_outputs(folder, FIRST) == Written(made=3, kept=0)
    return folder


def test_a_build_holds_just_its_files(out: Path) -> None:
    assert tree(out) == FIRST_TREE
    assert folders_written(out) == {"site", "lists"}


def test_unchanged_files_are_kept_and_not_made_again(out: Path) -> None:
    never = [OutputJob(j.path, j.key, failing(j.path, AssertionError()).make) for j in FIRST]
    before = {path: (out / path).stat().st_mtime_ns for path in FIRST_TREE}
    assert write_outputs(out, never) == Written(made=0, kept=3)
    assert tree(out) == FIRST_TREE
    assert {path: (out / path).stat().st_mtime_ns for path in FIRST_TREE} == before


def test_a_file_that_somebody_changed_or_lost_is_made_anew(out: Path) -> None:
    (out / "site/index.html").write_text("meddled with")
    (out / "lists/x.csv").unlink()
    assert write_outputs(out, FIRST) == Written(made=2, kept=1)
    assert tree(out) == FIRST_TREE


def test_what_is_no_longer_made_is_taken_away(out: Path) -> None:
    assert write_outputs(out, [job("site/index.html", "new")]) == Written(made=1, kept=0, removed=2)
    assert tree(out) == {"site/index.html": "new"}
    assert not (out / "lists").exists()
    assert not (out / "site/a").exists()


@pytest.mark.parametrize(
    ("error", "seen"),
    [
        (ValueError("a fault of ours"), ValueError),
        (KeyboardInterrupt(), KeyboardInterrupt),
        (OSError(errno.ENOSPC, "No space left on device"), OutputRefused),
    ],
)
def test_nothing_changes_when_a_file_cannot_be_made(
    out: Path, error: BaseException, seen: type[BaseException]
) -> None:
    record = (out / RECORD).read_bytes()
    jobs = [job("lists/x.csv", "newer"), failing("site/a/b.html", error), job("site/z", "newer")]
    with pytest.raises(seen):
        write_outputs(out, jobs)
    assert tree(out) == FIRST_TREE
    assert (out / RECORD).read_bytes() == record
    assert sorted(path.name for path in out.iterdir()) == [RECORD, "lists", "site"]


def failing_rename(monkeypatch: pytest.MonkeyPatch, fails: Callable[[Path, Path], bool]) -> None:
    rename = Path.rename

    def maybe(self: Path, target: Path) -> Path:
        if fails(self, Path(target)):
            raise OSError(errno.EACCES, "Permission denied")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", maybe)


def test_when_the_second_folder_will_not_move_the_first_goes_back(
    out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on a system that lets nobody move a folder while a reader has a file of it open."""
    newer = [job("lists/x.csv", "newer"), job("site/index.html", "newer")]
    with monkeypatch.context() as patch:
        failing_rename(patch, lambda source, _: source == out / "site")
        with pytest.raises(OutputRefused, match="permission denied"):
            write_outputs(out, newer)
    assert tree(out) == FIRST_TREE
    assert write_outputs(out, newer) == Written(made=2, kept=0, removed=1)
    assert tree(out) == {"lists/x.csv": "newer", "site/index.html": "newer"}


@pytest.mark.parametrize("at", range(4))
def test_a_build_that_is_killed_while_folders_move_is_mended_by_the_next(
    out: Path, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    """Killed: not even the moving back happens. Sheets come new, lists go."""
    newer = [job("sheets/s.pdf", "newer"), job("site/index.html", "newer")]
    moves = 0

    class Killed(BaseException):
        """Ends the process, as far as the test can."""

    def killed(source: Path, target: Path) -> bool:
        nonlocal moves
        moves += 1
        if moves > at:
            raise Killed
        return False

    with monkeypatch.context() as patch:
        failing_rename(patch, killed)
        patch.setattr("shutil.rmtree", lambda *_, **__: None)
        with pytest.raises(Killed):
            write_outputs(out, newer)
    write_outputs(out, newer)
    assert tree(out) == {"sheets/s.pdf": "newer", "site/index.html": "newer"}
    assert sorted(path.name for path in out.iterdir()) == [RECORD, "sheets", "site"]


def test_a_folder_of_somebody_else_is_refused(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "theirs.txt").write_text("precious")
    with pytest.raises(OutputRefused, match=r"theirs\.txt was not made by this tool"):
        write_outputs(tmp_path, FIRST)
    assert tree(tmp_path) == {"site/theirs.txt": "precious"}


def test_a_file_that_somebody_put_among_ours_is_not_lost(out: Path) -> None:
    (out / "site/a/notes.txt").write_text("precious")
    with pytest.raises(OutputRefused, match=r"notes\.txt was not made by this tool"):
        write_outputs(out, FIRST)
    assert tree(out) == {**FIRST_TREE, "site/a/notes.txt": "precious"}


def test_what_a_desktop_leaves_lying_about_is_nobodys(out: Path) -> None:
    (out / "site" / ".DS_Store").write_text("")
    (out / "lists" / "Thumbs.db").write_text("")
    write_outputs(out, FIRST)
    assert tree(out) == FIRST_TREE


def test_a_file_where_a_folder_has_to_go_is_refused(tmp_path: Path) -> None:
    (tmp_path / "site").write_text("theirs")
    with pytest.raises(OutputRefused, match="site was not made by this tool"):
        write_outputs(tmp_path, FIRST)
    with pytest.raises(OutputRefused, match="is a file, not a folder"):
        write_outputs(tmp_path / "site", FIRST)
    with pytest.raises(OutputRefused, match="cannot be written"):
        write_outputs(tmp_path / "site" / "below", FIRST)
    assert (tmp_path / "site").read_text() == "theirs"


def test_links_are_not_followed_out_of_the_folder(out: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "index.html").write_text("precious")
    (out / "lists").rename(tmp_path / "lists")
    (out / "lists").symlink_to(elsewhere, target_is_directory=True)
    with pytest.raises(OutputRefused, match="is a link to another place"):
        write_outputs(out, FIRST)
    (out / "lists").unlink()
    (out / "site" / "more").symlink_to(elsewhere, target_is_directory=True)
    with pytest.raises(OutputRefused, match="more was not made by this tool"):
        write_outputs(out, FIRST)
    assert tree(elsewhere) == {"index.html": "precious"}


def test_a_link_in_place_of_one_of_our_files_is_replaced_and_its_target_left(
    out: Path, tmp_path: Path
) -> None:
    (tmp_path / "precious").write_text("one")
    (out / "site/index.html").unlink()
    (out / "site/index.html").symlink_to(tmp_path / "precious")
    write_outputs(out, [*FIRST[1:], job("site/index.html", "newer")])
    assert not (out / "site/index.html").is_symlink()
    assert (tmp_path / "precious").read_text() == "one"


def test_the_output_folder_itself_may_be_a_link(out: Path, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(out, target_is_directory=True)
    assert write_outputs(tmp_path / "link", FIRST) == Written(made=0, kept=3)


@pytest.mark.parametrize(
    "damage", ["", "{", "[]", '{"files": 7}', '{"files": {"site/index.html": 7}}', "\0", "null"]
)
def test_a_damaged_record_owns_nothing(out: Path, damage: str) -> None:
    (out / RECORD).write_text(damage)
    with pytest.raises(OutputRefused, match="was not made by this tool"):
        write_outputs(out, FIRST)
    assert tree(out) == FIRST_TREE


def test_a_record_cannot_point_out_of_the_folder(out: Path, tmp_path: Path) -> None:
    (tmp_path / "deep" / "victim").mkdir()
    (tmp_path / "deep" / "victim" / "x").write_text("precious")
    record = json.loads((out / RECORD).read_text())
    entry = record["files"]["lists/x.csv"]
    for path in ("../victim/x", "/etc/x", "./x", "site/../../victim/x", "x"):
        record["files"][path] = entry
    (out / RECORD).write_text(json.dumps(record))
    assert folders_written(out) == {"site", "lists"}
    write_outputs(out, [FIRST[0]])
    assert (tmp_path / "deep" / "victim" / "x").read_text() == "precious"


def test_two_builds_into_one_folder_take_turns(out: Path) -> None:
    """While the first makes a file, the second waits; both end well, and the second stays."""
    making, go_on = threading.Event(), threading.Event()

    def slow() -> bytes:
        making.set()
        assert go_on.wait(30)
        return b"slow"

    first = threading.Thread(
        target=write_outputs, args=(out, [OutputJob("site/index.html", "slow", slow)])
    )
    second = threading.Thread(target=write_outputs, args=(out, [job("site/index.html", "second")]))
    first.start()
    assert making.wait(30)
    second.start()
    second.join(0.05)
    assert second.is_alive()
    go_on.set()
    first.join(30)
    second.join(30)
    assert tree(out) == {"site/index.html": "second"}


def test_progress_counts_up_to_the_end(tmp_path: Path) -> None:
    seen: list[tuple[int, int, str]] = []
    write_outputs(tmp_path, FIRST, lambda *told: seen.append(told))
    assert seen == [
        (0, 3, "lists/x.csv"),
        (1, 3, "site/a/b.html"),
        (2, 3, "site/index.html"),
        (3, 3, ""),
    ]


def test_a_digest_knows_where_one_part_ends() -> None:
    assert digest("ab", "c") != digest("a", "bc")
    assert digest("ab") != digest("ab", "")
    assert digest("ä") == digest("ä".encode())
    assert len(digest("\udcff")) == 64


def test_the_mode_of_files_follows_the_umask(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        write_outputs(tmp_path, FIRST)
    finally:
        os.umask(before)
    assert (tmp_path / "site").stat().st_mode & 0o777 == 0o755
    assert (tmp_path / "site/index.html").stat().st_mode & 0o777 == 0o644


def test_a_record_that_names_the_folders_of_others_is_not_believed(tmp_path: Path) -> None:
    write_outputs(tmp_path, [ready("site/a.txt", b"a")])
    record = tmp_path / ".witnessmark.json"
    text = record.read_text(encoding="utf-8")
    record.write_text(text.replace("site/a.txt", "notes/mine.txt"), encoding="utf-8")
    shutil.rmtree(tmp_path / "site")
    notes = tmp_path / "notes" / "mine.txt"
    notes.parent.mkdir()
    notes.write_bytes(b"kept")
    write_outputs(tmp_path, [ready("site/b.txt", b"b")])
    assert notes.read_bytes() == b"kept"
    assert folders_written(tmp_path) == {"site"}


def test_who_stops_a_build_while_it_cleans_up_leaves_nothing_lying_about(
    out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    remove = shutil.rmtree
    stopped = False

    def stop_once(folder: Path, ignore_errors: bool) -> None:
        nonlocal stopped
        if not stopped:
            stopped = True
            raise KeyboardInterrupt
        remove(folder, ignore_errors=ignore_errors)

    monkeypatch.setattr(shutil, "rmtree", stop_once)
    with pytest.raises(KeyboardInterrupt):
        write_outputs(out, [job("site/index.html", "new")])
    assert tree(out) == {"site/index.html": "new"}
    assert sorted(path.name for path in out.iterdir()) == [RECORD, "site"]
