"""Reading a folder: what is read, what is refused and why, and which pictures can be shown."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import pytest

from compiler.load import Folder, load_folder, picture_problem, project_of


def put(root: Path, path: str, content: str | bytes = "") -> Path:
    file = root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return file


def png() -> bytes:
    """Return a grey picture of 8 by 6 dots (ISO/IEC 15948): a header, the dots, the end."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        summed = zlib.crc32(kind + body)
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", summed)

    header = struct.pack(">IIBBBBB", 8, 6, 8, 0, 0, 0, 0)
    dots = zlib.compress(b"".join(b"\0" + bytes(range(8)) for _ in range(6)))
    chunks = chunk(b"IHDR", header) + chunk(b"IDAT", dots) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + chunks


def jpeg() -> bytes:
    """Return a grey picture of 8 by 8 dots (ITU-T T.81, annex B): one block with nothing in it.

    Each of the two code tables has the one code that the block needs.
    """

    def segment(marker: int, body: bytes) -> bytes:
        return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body

    one_code = bytes([1]) + bytes(15) + b"\0"
    return b"".join(
        (
            b"\xff\xd8",
            segment(0xDB, b"\0" + bytes([16] * 64)),
            segment(0xC0, struct.pack(">BHHBBBB", 8, 8, 8, 1, 1, 0x11, 0)),
            segment(0xC4, b"\x00" + one_code),
            segment(0xC4, b"\x10" + one_code),
            segment(0xDA, bytes([1, 1, 0x00, 0, 63, 0])),
            b"\x3f",
            b"\xff\xd9",
        )
    )


IMAGES = {"png": png, "jpeg": jpeg}


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


@pytest.mark.parametrize("kind", IMAGES)
def test_a_picture_that_breaks_off_is_refused(kind: str) -> None:
    whole = IMAGES[kind]()
    assert picture_problem(kind, whole) == ""
    for end in range(len(whole) - 1):
        assert picture_problem(kind, whole[:end]), f"cut after {end} bytes"


def test_a_damaged_png_is_refused() -> None:
    """A check sum stands on every chunk (ISO/IEC 15948, clause 5.3)."""
    data = bytearray(png())
    data[20] ^= 1
    assert picture_problem("png", bytes(data)) == "it is damaged"


SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">{}</svg>'


@pytest.mark.parametrize(
    "inside",
    [
        "",
        '<style>path { fill: url(#grad) }</style><path d="M0 0"/>',
        '<use xlink:href="#hub"/>',
        '<image href="data:image/png;base64,AAAA"/>',
        '<rect fill="url(\'#a\')" filter="url( #b )"/>',
        "<text>switch on at Q3; see https://example.org</text>",
    ],
)
def test_a_drawing_that_keeps_to_itself_is_shown(inside: str) -> None:
    assert picture_problem("svg", SVG.format(inside).encode()) == ""


@pytest.mark.parametrize(
    ("inside", "reason"),
    [
        ("<script>alert(1)</script>", "script"),
        ('<path onclick="alert(1)"/>', "script"),
        ("<foreignObject><p/></foreignObject>", "foreign"),
        ('<image href="https://example.org/a.png"/>', "outside"),
        ('<image href="other.png"/>', "outside"),
        ('<use xlink:href="other.svg#a"/>', "outside"),
        ('<a href="javascript:alert(1)"><text>x</text></a>', "outside"),
        ('<a href=" JavaScript:alert(1)"/>', "outside"),
        ('<image href="data:image/svg+xml;base64,AAAA"/>', "outside"),
        ("<style>@import 'x.css';</style>", "outside"),
        ("<style>a { fill: url(http://example.org/a) }</style>", "outside"),
        ('<rect style="fill: url(&quot;//example.org/a&quot;)"/>', "outside"),
        ('<set attributeName="xlink:href" to="x"/>', "links"),
        ("<g>", "well-formed"),
    ],
)
def test_a_drawing_that_runs_or_fetches_something_is_refused(inside: str, reason: str) -> None:
    assert reason in picture_problem("svg", SVG.format(inside).encode())


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "empty"),
        (b"<html/>", "not an SVG"),
        (b"GIF89a", "well-formed"),
        (b'<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg>&a;</svg>', "entities"),
        (b'<?xml-stylesheet href="x.css"?><svg/>', "style sheet"),
        (b'<?xml version="1.0" encoding="klingon"?><svg/>', "well-formed"),
    ],
)
def test_what_is_no_drawing_is_refused(data: bytes, reason: str) -> None:
    assert reason in picture_problem("svg", data)


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
