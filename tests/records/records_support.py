"""Records as pages save them, made from a small folder."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from browser.worlds import world

from compiler.document.model import Document, StepView
from compiler.records.page import page_of, walked

FOLDER = """\
## file: job.proc
procedure reseal "Reseal the feed pump"
  machine pump
  revision B 2026-11-02
  remove guard
  refit everything
  measure runout "Shaft runout" with dial  at most 0.05 mm
  if runout is out
    "Turn the shaft by half a turn."
  wipe guard  only if "it is dirty"
  repeat for each n in nozzle  shown once
    wipe nozzle[n]
  hold for lead "Look at the seal together."
  sign lead "Released"

## file: pump.proc
machine pump "Feed pump"
  parts
    guard  "guard"  1.8 kg
    nozzle[1..2]  "nozzle"
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8  holds guard  torque 9 N·m ±10 %

## file: shop.proc
shop house "Trial bench"
  units N·m, mm, kg
  second units lbf·ft, in, lb
  tools
    keys   hex-keys 5 mm
    bits   hex-bits 5 mm  drive 3/8 in
    small  torque-wrench 5..25 N·m  drive 3/8 in  accuracy 4 %  tag "TW-01"  calibrated until 2026-12-31
    dial   dial-indicator "dial indicator"
  roles
    lead "shift lead"  signs
"""  # noqa: E501 (the file reads better in columns)

TICKED = "2026-11-26T08:01:{:02}+01:00"
AT = "2026-11-26T08:0{}:00+01:00"


def document_in(folder: Path) -> Document:
    """Return the procedure of the folder, compiled."""
    library, _ = world(FOLDER, folder)
    (document,) = library.documents
    return document


def _steps(document: Document) -> list[tuple[StepView, bool]]:
    """Return every step, and whether each is done whatever is found."""
    return [(one, sure) for one, sure in walked(document.body) if isinstance(one, StepView)]


def entry(document: Document, field: str, entered: str, **changed: Any) -> dict[str, Any]:
    """Return an entry of a field as the page saves it, with the right verdict for `in` limits."""
    page = page_of(document, "")
    known, *_ = page.fields[field]
    step = next((s.id for s in page.steps.values() if known in s.fields), "")
    made = {
        "step": step, "field": field, "name": f"{field}-1-1", "label": known.label,
        "kind": known.kind, "told": "", "entered": entered,
        "value": entered if known.unit else "", "unit": known.unit, "low": known.low,
        "high": known.high, "low_open": known.low_open, "high_open": known.high_open,
        "limit": known.limit_text, "verdict": "in" if known.high else "", "at": AT.format(5),
        "by": "A. Smith",
    }  # fmt: skip
    return {**made, **changed}


def record_of(document: Document, **changed: Any) -> dict[str, Any]:
    """Return the record of a job that was done as written, finished and signed."""
    steps = [
        {
            "step": step.id, "number": step.number, "text": "", "done": not step.condition,
            "optional": bool(step.condition), "at": "" if step.condition else TICKED.format(5 * n),
            "by": "" if step.condition else "A. Smith",
        }
        for n, (step, certain) in enumerate(_steps(document))
        if certain or step.condition
    ]  # fmt: skip
    rounds = [
        {
            "name": name, "text": text, "optional": False, "done": True,
            "at": TICKED.format(40 + 5 * n), "by": "A. Smith",
        }
        for n, (name, text) in enumerate(page_of(document, "").rounds.items())
    ]  # fmt: skip
    signs = [f for step, _ in _steps(document) for f in step.fields if f.kind == "sign"]
    entries = [entry(document, "measure-runout", "0.04")]
    for field in (*signs, *document.signatures):
        named = {"name": f"{field.id}-name", "verdict": ""}
        entries.append(entry(document, field.id, "B. Jones", **named))
    made = {
        "record": "witnessmark-record", "version": 2, "procedure": document.id,
        "title": document.title, "revision": "B", "content": document.digest, "machine": "pump",
        "machine_title": "Feed pump", "serial": "117", "job": "20261126080000-00000000",
        "begun": AT.format(0), "ended": AT.format(9), "people": ["A. Smith"], "model": "",
        "complete": True, "steps": steps, "rounds": rounds, "entries": entries, "laid_out": [],
        "remarks": [], "journal": [],
    }  # fmt: skip
    retell(made)
    return {**made, **changed}


def retell(record: dict[str, Any]) -> None:
    """Write the journal of a record anew, from its steps and entries."""
    ticks = [
        [one["at"], one["by"], "tick", f"step:{one['step']}", True, ""]
        for one in record["steps"]
        if one["done"]
    ]
    ticks += [
        [one["at"], one["by"], "tick", f"tick:{one['name']}", True, ""]
        for one in record["rounds"]
        if one["done"]
    ]
    entries = [
        [one["at"], one["by"], "entry", one["name"], one["entered"], ""]
        for one in record["entries"]
    ]
    record["journal"] = sorted([*ticks, *entries])


def sealed(record: dict[str, Any]) -> bytes:
    """Return the record as a page saves it, with its seal."""
    text = json.dumps(record, ensure_ascii=False, separators=(",", ":"))
    seal = hashlib.sha256(text.encode()).hexdigest()
    return json.dumps({**record, "seal": seal}, ensure_ascii=False, indent=1).encode()
