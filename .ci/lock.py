"""Writes the lock files from pyproject.toml: names, versions, markers and hashes, nothing else.

Run by `make lock`, with the path of the `uv` program as its only argument. Versions that still
satisfy pyproject.toml stay as they are; with UPGRADE=1 in the environment the newest are taken.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RUN_LOCK = ROOT / "requirements.lock"
DEV_LOCK = ROOT / "requirements-dev.lock"
HEADERS = {
    RUN_LOCK: "# What witnessmark runs with. Written by `make lock` from pyproject.toml.\n",
    DEV_LOCK: "# What the tests add to requirements.lock. Written by `make lock`.\n",
}
OPTIONS = (
    "--universal",
    "--python-version=3.11",
    "--generate-hashes",
    "--no-header",
    "--no-annotate",
    "--no-config",
    "--quiet",
)


def main(uv: str) -> None:
    """Resolve both sets and write them; a package of the first is left out of the second."""
    os.chdir(ROOT)
    run = compiled(uv, RUN_LOCK, "pyproject.toml", "--group=pyproject.toml:build")
    write(RUN_LOCK, run)
    names = {name(entry) for entry in run}
    dev = compiled(uv, DEV_LOCK, "--group=pyproject.toml:dev", f"--constraint={RUN_LOCK.name}")
    write(DEV_LOCK, [entry for entry in dev if name(entry) not in names])


def compiled(uv: str, lock: Path, *what: str) -> list[str]:
    """Return the entries that `uv` resolves, each a requirement with its hash lines."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder, lock.name)
        if os.environ.get("UPGRADE") != "1" and lock.exists():
            # The pins of today are taken as wishes, so that a lock changes only where it has to.
            shutil.copy(lock, out)
        args = [uv, "pip", "compile", *OPTIONS, *what, f"--output-file={out}"]
        subprocess.run(args, check=True)
        text = out.read_text(encoding="utf-8")
    text = re.sub(r"^#.*\n", "", text, flags=re.MULTILINE)
    return re.split(r"\n(?=\S)", text.strip())


def name(entry: str) -> str:
    """Return the package name that an entry begins with."""
    return entry.split("==")[0].split("[")[0]


def write(lock: Path, entries: list[str]) -> None:
    """Write a lock, and refuse one that would name a place to download from."""
    text = HEADERS[lock] + "\n".join(entries) + "\n"
    shape = re.compile(
        r"[a-z0-9-]+(\[[a-z0-9,-]+\])?==\S+( ; [^:/]+)? \\|    --hash=sha256:\w+( \\)?"
    )
    for line in text.splitlines()[1:]:
        if not shape.fullmatch(line):
            sys.exit(f"{lock.name}: a lock line of another shape than name, version, hash: {line}")
    lock.write_text(text, encoding="utf-8")
    print(f"{lock.name}: {len(entries)} packages")


if __name__ == "__main__":
    main(sys.argv[1])
