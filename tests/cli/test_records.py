"""`witnessmark records`: from a folder of saved files to an answer."""

from __future__ import annotations

import json
import re
from pathlib import Path

from browser.worlds import _PART
from records.records_support import (
    AT,
    FOLDER,
    _steps,
    document_in,
    entry,
    record_of,
    retell,
    sealed,
)

from cli.cli_support import Run


def write_folder(root: Path) -> None:
    (root / "procedures").mkdir()
    names = _PART.findall(FOLDER)
    for name, text in zip(names, re.split(_PART, FOLDER)[2::2], strict=True):
        (root / "procedures" / name).write_text(text, encoding="utf-8")
    (root / "in" / "deep").mkdir(parents=True)


def test_a_folder_of_records(run: Run, tmp_path: Path) -> None:
    write_folder(tmp_path)
    (tmp_path / "scratch").mkdir()
    document = document_in(tmp_path / "scratch")
    good = record_of(document)
    bad = record_of(document, job="20261127", serial="118")
    bad["entries"][0] = entry(document, "measure-runout", "0.07", verdict="above")
    (turned,) = [step for step, sure in _steps(document) if not sure and not step.condition]
    told = {**bad["steps"][0], "step": turned.id, "number": turned.number, "at": AT.format(6)}
    bad["steps"].append(told)
    retell(bad)
    bad = json.loads(json.dumps(bad).replace("2026-11-26T", "2026-11-27T"))
    Path("in/a.json").write_bytes(sealed(good))
    assert run("records", "in").code == 0
    Path("in/deep/b.json").write_bytes(sealed(bad))
    Path("in/c.json").write_bytes(sealed(good)[:-200])
    answer = run("records", "in", "--page", "sum.html")
    assert answer.code == 1
    assert "in/c.json:" in answer.out
    assert "[cut-off]" in answer.out
    assert "in/deep/b.json:1:1  [out-of-limits]" in answer.out
    assert "3 records, 2 errors, 0 warnings." in answer.out
    assert "Shaft runout" in Path("sum.html").read_text(encoding="utf-8")
    told = json.loads(run("records", "in", "--format", "json").out)
    assert [fault["kind"] for fault in told["faults"]] == ["cut-off", "out-of-limits"]
    table = run("records", "in", "--format", "csv").out.splitlines()
    assert table[0].startswith("file,procedure,")
    assert sum("0.07" in line for line in table) == 1


def test_the_same_job_twice_counts_once(run: Run, tmp_path: Path) -> None:
    write_folder(tmp_path)
    (tmp_path / "scratch").mkdir()
    record = sealed(record_of(document_in(tmp_path / "scratch")))
    Path("in/a.json").write_bytes(record)
    Path("in/b.json").write_bytes(record)
    answer = run("records", "in")
    assert answer.code == 0
    assert "[saved-twice]" in answer.out
    assert "1 readings" not in answer.out
    assert "1 reading" in answer.out


def test_a_job_that_was_saved_on_the_way(run: Run, tmp_path: Path) -> None:
    """The record with the most in it counts; two that part are no one job."""
    write_folder(tmp_path)
    (tmp_path / "scratch").mkdir()
    record = record_of(document_in(tmp_path / "scratch"))
    early = {**record, "journal": record["journal"][:4], "entries": [], "ended": ""}
    for kind in ("steps", "rounds"):
        early[kind] = [{**one, "done": False, "at": "", "by": ""} for one in early[kind]]
    Path("in/a.json").write_bytes(sealed(record))
    Path("in/z.json").write_bytes(sealed(early))
    answer = run("records", "in")
    assert answer.code == 0
    assert "in/a.json:1:1  [saved-twice]" in answer.out
    assert "1 reading" in answer.out
    parted = json.loads(json.dumps(early))
    parted["journal"][1][1] = "B. Jones"
    Path("in/z.json").write_bytes(sealed(parted))
    answer = run("records", "in")
    assert answer.code == 1
    assert "and there it went otherwise" in answer.out


def test_a_record_that_was_made_from_another_one(run: Run, tmp_path: Path) -> None:
    """Whoever does a job once and hands it in for two machines is found, well sealed or not."""
    write_folder(tmp_path)
    (tmp_path / "scratch").mkdir()
    record = record_of(document_in(tmp_path / "scratch"))
    Path("in/a.json").write_bytes(sealed(record))
    Path("in/b.json").write_bytes(sealed({**record, "job": "20261126090000-1", "serial": "118"}))
    answer = run("records", "in")
    assert answer.code == 1
    assert "in/b.json:1:1  [copied]" in answer.out


def test_what_is_not_there(run: Run, tmp_path: Path) -> None:
    write_folder(tmp_path)
    gone = run("records", "nowhere")
    assert (gone.code, gone.out) == (2, "")
    assert gone.err == "There is no nowhere. Name the folder that the saved records lie in.\n"
    assert run("records", "in").code == 2
    Path("in/a.json").write_bytes(b"{}")
    assert run("records", "in", "--procedures", "nowhere").code == 2
    assert run("records", "in", "--page", "no/such/folder/sum.html").code == 2
    assert "[not-a-record]" in run("records", "in/a.json").out
