"""The record `.witnessmark.json` in an output folder: what this tool wrote there.

On its own, as every check reads it (what was built is not read as source), and few write.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

RECORD = ".witnessmark.json"

FOLDERS = frozenset({"site", "sheets", "lists", "data", "alone"})
"""What a build writes to. A record that names anything else is not believed: it is only a file, and
believing it would take away what somebody else put there."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What the record says of one file: the key it was made from and the digest of its bytes."""

    key: str
    sha256: str


def folders_written(folder: Path) -> frozenset[str]:
    """Return the names of what this tool wrote directly in `folder`; empty in any other folder."""
    return frozenset(recorded_folders(read_record(folder)))


def recorded_folders(record: Mapping[str, Kept]) -> set[str]:
    """Return the folders that the files of a record lie in."""
    return {path.split("/", 1)[0] for path in record} & FOLDERS


def read_record(out: Path) -> dict[str, Kept]:
    """Return the record of the last build; a missing or damaged one counts as none."""
    try:
        raw = json.loads((out / RECORD).read_text(encoding="utf-8"))
        return {
            path: Kept(entry["key"], entry["sha256"])
            for path, entry in raw["files"].items()
            if _is_plain(path)
        }
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _is_plain(path: str) -> bool:
    parts = path.split("/")
    return len(parts) > 1 and all(part not in ("", ".", "..") for part in parts)


def write_record(out: Path, record: Mapping[str, Kept]) -> None:
    """Write the record: the old one stays until the new one is whole."""
    files = {path: {"key": k.key, "sha256": k.sha256} for path, k in sorted(record.items())}
    text = json.dumps({"files": files}, indent=1) + "\n"
    temporary = out / f"{RECORD}.new"
    temporary.write_text(text, encoding="utf-8")
    temporary.replace(out / RECORD)
