"""The whole demo gives the same lists and data from any folder, in any process."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from compiler.document.model import Library
from compiler.emit.data import data_jobs
from compiler.emit.lists import list_jobs

AGAIN = """
import hashlib, json, sys
from pathlib import Path
from compiler.emit.data import data_jobs
from compiler.emit.lists import list_jobs
from compiler.load import load_folder
from compiler.pipeline import compile_sources
folder = load_folder(Path(sys.argv[1]))
library = compile_sources(folder.everything, folder.probe).library()
jobs = [*list_jobs(library), *data_jobs(library)]
print(json.dumps({job.path: [job.key, hashlib.sha256(job.make()).hexdigest()] for job in jobs}))
"""


def test_the_demo_elsewhere_and_in_another_process(
    demo_library: Library, tmp_path: Path, project_root: Path
) -> None:
    """Another process has another order in every set; the seed makes sure of it."""
    shutil.copytree(project_root / "procedures", tmp_path / "Ö r t")
    ran = subprocess.run(
        [sys.executable, "-c", AGAIN, "Ö r t"], cwd=tmp_path, check=True, capture_output=True,
        env={**os.environ, "PYTHONHASHSEED": "7"}, timeout=120,
    )  # fmt: skip
    jobs = [*list_jobs(demo_library), *data_jobs(demo_library)]
    here = {job.path: [job.key, hashlib.sha256(job.make()).hexdigest()] for job in jobs}
    there = json.loads(ran.stdout)
    assert [path for path in here if here[path] != there.get(path)] == []
    assert here.keys() == there.keys()
    assert len(here) > 100
