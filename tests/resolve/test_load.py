"""Reading a folder: what is read, what is refused and why, and which pictures can be shown."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_pictures import jpeg, png

from compiler.load import Folder, load_folder, project_of


def put(root: Path, path: str, content: str | bytes = "") -> Path:
    file = root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return file


def paths(folder: Folder) -> list[str]:
    return [source.path for source in folder.sources]


def test_files_come_in_the_order_of_their_paths(tmp_path: Path) -> None:
    for path in ("b.proc", "a/z.proc", "a.proc", "a/b/c.proc", "notes.txt", ".hidden/x.proc"):
        put(tmp_path, path, "shop s\n")
    assert paths(load_folder(tmp_path)) == ["a.proc", "a/b/c.proc", "a/z.proc", "b.proc"]


def test_a_byte_order_mark_is_no_part_of_the_text(tmp_path: Path) -> None:
    put(tmp_path, "a.proc", b"\xef\xbb\xbfshop s\n")
    assert load_folder(tmp_path).sources[0].text == "shop s\n"


def test_text_that_is_not_utf8_is_reported_with_its_line(tmp_path: Path) -> None:
    put(tmp_path, "a.proc", b"shop s\n# caf\xe9\n")
    folder = load_folder(tmp_path)
    assert folder.sources == ()
    (finding,) = folder.findings
    assert finding.rule == "not-text"
    assert finding.span.file == "a.proc"
    assert "line 2" in finding.message


def test_a_file_that_is_too_big_is_reported(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("compiler.load.MOST_BYTES", 100)
    put(tmp_path, "big.proc", b"#" * 101)
    put(tmp_path, "small.proc", b"#" * 100)
    folder = load_folder(tmp_path)
    assert paths(folder) == ["small.proc"]
    assert [f.rule for f in folder.findings] == ["file-too-large"]


def test_links_that_lead_in_a_circle_end(tmp_path: Path) -> None:
    put(tmp_path, "a/x.proc", "shop s\n")
    (tmp_path / "a" / "again").symlink_to(tmp_path, target_is_directory=True)
    assert paths(load_folder(tmp_path)) == ["a/x.proc"]


def test_a_link_to_nothing_and_a_pipe_are_reported(tmp_path: Path) -> None:
    import os

    (tmp_path / "gone.proc").symlink_to(tmp_path / "nowhere")
    os.mkfifo(tmp_path / "pipe.proc")
    folder = load_folder(tmp_path)
    assert sorted(f.span.file for f in folder.findings) == ["gone.proc", "pipe.proc"]
    assert {f.rule for f in folder.findings} == {"not-readable"}


def test_a_folder_that_is_not_there_is_a_finding(tmp_path: Path) -> None:
    folder = load_folder(tmp_path / "nowhere")
    assert [f.rule for f in folder.findings] == ["not-readable"]


def test_a_file_belongs_to_the_folder_of_its_shop(tmp_path: Path) -> None:
    put(tmp_path, "shop.proc", "# ours\nshop packhouse\n")
    inner = put(tmp_path, "pump/seal.proc", 'procedure seal "Seal"\n')
    assert project_of(inner) == tmp_path
    lonely = put(tmp_path / "other", "lone/seal.proc", 'procedure seal "Seal"\n')
    put(tmp_path / "other", "lone/shop.proc", "shop lone\n")
    assert project_of(lonely) == tmp_path / "other" / "lone"


def test_without_a_shop_a_file_belongs_to_its_own_folder(tmp_path: Path) -> None:
    inner = put(tmp_path, "pump/seal.proc", 'procedure seal "Seal"\n')
    assert project_of(inner) == tmp_path / "pump"


def test_pictures_are_told_apart(tmp_path: Path) -> None:
    put(tmp_path, "shop.proc", "shop s\n")
    put(tmp_path, "d/pump.png", png())
    put(tmp_path, "d/seal.jpg", jpeg())
    put(tmp_path, "d/hub.svg", '<svg xmlns="http://www.w3.org/2000/svg"/>')
    put(tmp_path, "d/seal.mp4", b"\0\0")
    put(tmp_path, "d/notes.bmp", b"BM" + bytes(60))
    folder = load_folder(tmp_path)
    kinds = {
        p: folder.probe(p).kind for p in ("d/pump.png", "d/seal.jpg", "d/hub.svg", "d/seal.mp4")
    }
    assert kinds == {
        "d/pump.png": "png",
        "d/seal.jpg": "jpeg",
        "d/hub.svg": "svg",
        "d/seal.mp4": "clip",
    }
    assert not any(folder.probe(path).problem for path in kinds)
    assert "SVG, PNG and JPEG" in folder.probe("d/notes.bmp").problem
    assert folder.picture_bytes["d/pump.png"] == png()
    assert "d/notes.bmp" not in folder.picture_bytes


def test_a_missing_picture_gets_the_nearest_one(tmp_path: Path) -> None:
    put(tmp_path, "drawings/pump.svg", '<svg xmlns="http://www.w3.org/2000/svg"/>')
    folder = load_folder(tmp_path)
    assert folder.probe("drawings/pmp.svg").kind == "missing"
    assert folder.probe("drawings/pmp.svg").near == "drawings/pump.svg"
    assert folder.probe("pump.png").near == "drawings/pump.svg"
    assert folder.probe("q.png").near == ""


@pytest.mark.parametrize("path", ["../secret.png", "/etc/logo.png", "C:/logo.png"])
def test_nothing_outside_of_the_folder_is_shown(tmp_path: Path, path: str) -> None:
    assert "outside" in load_folder(tmp_path).probe(path).problem


@pytest.mark.parametrize("name", ["a.png", "a.mp4"])
def test_a_link_to_a_file_elsewhere_is_not_shown(tmp_path: Path, name: str) -> None:
    """What is shown is copied into the output, so a link must not bring in any file there is."""
    outside, inside = tmp_path / "outside", tmp_path / "inside"
    outside.mkdir()
    inside.mkdir()
    (outside / name).write_bytes(b"secret")
    (inside / name).symlink_to(outside / name)
    folder = load_folder(inside)
    assert "leads out" in folder.probe(name).problem
    with pytest.raises(KeyError):
        folder.picture_bytes[name]
