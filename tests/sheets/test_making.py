"""How sheets are made: once, in any process, from any folder, with the same bytes."""

from __future__ import annotations

import gc
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from compiler.document.model import Library
from compiler.emit import pdf
from compiler.emit.job import OutputJob
from compiler.emit.pdf import sheet_jobs
from compiler.emit.pdf_handouts import handout_jobs
from compiler.emit.workers import making
from compiler.emit.write import Written, write_outputs
from compiler.load import load_folder
from compiler.pipeline import compile_sources

pytestmark = pytest.mark.sheets

ROOT = Path(__file__).resolve().parents[2]
NAMES = ("sheets/walk-round.pdf", "sheets/magnet-check.pdf", "sheets/pump-isolation.pdf")


def test_a_second_build_sets_no_sheet(
    demo_library: Library,
    demo_pictures: Mapping[str, bytes],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The key of a sheet covers all that decides its bytes, so it is known without setting it."""
    jobs = [job for job in sheet_jobs(demo_library, demo_pictures, "a4") if job.path in NAMES[:2]]
    assert write_outputs(tmp_path, jobs, workers=1) == Written(2, 0)

    def never(*_: object) -> bytes:
        raise AssertionError("a sheet was set again")

    monkeypatch.setattr(pdf, "as_pdf", never)
    again = [job for job in sheet_jobs(demo_library, demo_pictures, "a4") if job.path in NAMES[:2]]
    assert write_outputs(tmp_path, again, workers=1) == Written(0, 2)
    letter = [j for j in sheet_jobs(demo_library, demo_pictures, "letter") if j.path in NAMES[:2]]
    with pytest.raises(AssertionError, match="a sheet was set again"):
        write_outputs(tmp_path, letter, workers=1)


def test_a_second_build_does_not_even_load_the_library(tmp_path: Path) -> None:
    (tmp_path / "a.proc").write_text(
        'procedure a "Look round"\n  revision A 2026-02-28\n  check "the floor is dry"\n',
        encoding="utf-8",
    )
    code = (
        "import sys; from compiler.cli import main; main(sys.argv[1:]); "
        "print(*sorted({'weasyprint', 'PIL', 'multiprocessing'} & set(sys.modules)))"
    )

    def build() -> tuple[str, str]:
        words = [sys.executable, "-c", code, "build", str(tmp_path), "--out", str(tmp_path / "out")]
        ran = subprocess.run(words, capture_output=True, text=True, check=True, cwd=ROOT)
        return ran.stdout, ran.stdout.splitlines()[-1]

    said, loaded = build()
    assert "kept 0 as" in said
    assert "PIL" in loaded
    assert "weasyprint" in loaded
    again, loaded = build()
    assert "Wrote 0 files" in again
    assert loaded == ""


def test_the_collector_waits_for_a_sheet_and_comes_back(
    demo_library: Library, demo_pictures: Mapping[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also behind one that failed; where it was off it stays off."""
    seen = []

    def failing(*_: object) -> bytes:
        seen.append(gc.isenabled())
        raise OSError("no room")

    monkeypatch.setattr(pdf, "_set", failing)
    (job,) = (j for j in sheet_jobs(demo_library, demo_pictures, "a4") if j.path == NAMES[0])
    try:
        for was_on in (True, False):
            (gc.enable if was_on else gc.disable)()
            with pytest.raises(OSError, match="no room"):
                job.make()
            assert gc.isenabled() is was_on
    finally:
        gc.enable()
    assert seen == [False, False]


def test_another_version_of_what_sets_the_sheets_sets_them_anew(
    demo_library: Library, demo_pictures: Mapping[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = {job.path: job.key for job in all_jobs(demo_library, demo_pictures)}
    assert before == {job.path: job.key for job in all_jobs(demo_library, demo_pictures)}
    monkeypatch.setattr(pdf, "made_by", lambda: "another")
    after = {job.path: job.key for job in all_jobs(demo_library, demo_pictures)}
    assert before.keys() == after.keys()
    assert not set(before.values()) & set(after.values())


def all_jobs(library: Library, pictures: Mapping[str, bytes]) -> list[OutputJob]:
    return [*sheet_jobs(library, pictures, "a4"), *handout_jobs(library, "a4")]


def test_the_same_bytes_from_another_folder_and_from_workers(
    demo_library: Library, demo_pictures: Mapping[str, bytes], tmp_path: Path
) -> None:
    other = tmp_path / "another place, with ä #1" / "procedures"
    shutil.copytree(ROOT / "procedures", other)
    folder = load_folder(other)
    library = compile_sources(folder.everything, folder.probe).library()
    first = {j.path: j for j in sheet_jobs(demo_library, demo_pictures, "a4") if j.path in NAMES}
    second = {j.path: j for j in sheet_jobs(library, folder.picture_bytes, "a4")}
    assert [job.key for job in first.values()] == [second[path].key for path in first]
    with making([second[path] for path in first], 2) as made:
        elsewhere = {path: made(second[path]) for path in first}
    here = {path: job.make() for path, job in first.items()}
    assert here == elsewhere
    assert len(here) == len(NAMES)
    for data in here.values():
        assert str(ROOT).encode() not in data
        assert str(tmp_path).encode() not in data
