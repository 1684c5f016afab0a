"""`check --fix`: what is offered is written, whole or not at all, and told."""

from __future__ import annotations

from pathlib import Path

from cli.cli_support import Run, put


def wrong(name: str) -> str:
    """Return a procedure with one slip that has one remedy."""
    return (
        f'procedure {name} "Lid"\n'
        "  revision A 2026-10-05\n"
        "  parts\n"
        '    lid "lid"\n'
        "  remvoe lid\n"
        "  fit lid\n"
    )


def test_a_slip_is_written_right_and_told(run: Run, tmp_path: Path) -> None:
    path = put(tmp_path, "a.proc", wrong("a"))
    ran = run("check", "--fix")
    assert ran.code == 0
    assert "a.proc:5:3  'remvoe' is now 'remove'" in ran.err
    assert path.read_text(encoding="utf-8") == wrong("a").replace("remvoe", "remove")


def test_line_ends_and_a_byte_order_mark_stay(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "a.proc"
    path.write_bytes(b"\xef\xbb\xbf" + wrong("a").replace("\n", "\r\n").encode())
    assert run("check", "--fix").code == 0
    right = wrong("a").replace("remvoe", "remove").replace("\n", "\r\n").encode()
    assert path.read_bytes() == b"\xef\xbb\xbf" + right


def test_without_an_offer_nothing_is_written(run: Run, tmp_path: Path) -> None:
    path = put(tmp_path, "a.proc", wrong("a").replace("remvoe", "zzzzzz"))
    before = path.stat().st_mtime_ns
    ran = run("check", "--fix")
    assert ran.code == 1
    assert "Changed 0 places." in ran.err
    assert path.stat().st_mtime_ns == before


def test_only_the_files_that_were_named_are_changed(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a.proc", wrong("a"))
    other = put(tmp_path, "b.proc", wrong("b"))
    run("check", "--fix", "a.proc")
    assert other.read_text(encoding="utf-8") == wrong("b")


def test_permissions_stay(run: Run, tmp_path: Path) -> None:
    path = put(tmp_path, "a.proc", wrong("a"))
    path.chmod(0o640)
    run("check", "--fix")
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_new_line_goes_behind_all_that_belongs_to_its_line(run: Run, tmp_path: Path) -> None:
    text = (
        'procedure a "Lid"\n'
        "  revision A 2026-10-05\n"
        "  parts\n"
        '    lid "lid"\n'
        "  fasteners\n"
        "    screw 4 × M6×16 ISO 4762 8.8  holds lid  torque 9 N·m\n"
        "  remove lid\n"
        "  fit lid\n"
        '    note "Arrow up."\n'
    )
    path = put(tmp_path, "a.proc", text)
    ran = run("check", "--fix")
    assert ran.code == 0
    assert "a.proc:9:21  'tighten screw' was put in" in ran.err
    assert path.read_text(encoding="utf-8") == f"{text.removesuffix(chr(10))}\n  tighten screw\n"
