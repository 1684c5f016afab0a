"""A small folder for the tests of changes, and one line of its text that is changed at a time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from case_support import parts

from compiler.document.model import Library
from compiler.pipeline import compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile

FOLDER = """\
## file: blower.proc
machine blower "Blower"
  models B-1, B-2
  location "Cellar"
  energy
    supply electrical "400 V"
      isolate at "switch Q3"
      verify "no voltage at T1"
  parts
    guard  "guard"  1.8 kg  guards supply
    filter "filter"  behind guard  renew  number "F-10"
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8  holds guard  torque 9 N·m ±10 %

## file: filter-change.proc
procedure filter-change "Change the filter"
  machine  blower
  revision C 2026-10-05 "Measured twice"
  author   "Workshop"
  purpose  "When it is clogged."
  every    500 h
  takes    30 min
  caution dust "Old dust is in the filter." avoid "Open it slowly."
  isolate supply
  section open "Open it"
    remove guard
  replace filter
  refit open
  restore supply
  section proof "Prove it"
    measure flow "Air flow" with meter  at least 20 m/s
      note "Hold it in the middle of the duct."
    "Write the day on the new filter."
    measure hum "Noise level" with dial  at most 0.5 mm
    wipe "the duct" with rag
    "Empty the tray into the bin."

## file: season-check.proc
procedure season-check "Check before the season"
  machine  blower
  revision A 2026-10-05
  follow filter-change
  "Tell the press crew."

## file: shop.proc
shop house "Trial bench"
  units N·m, mm, kg
  rules
    "Ask when in doubt."
  tools
    keys   hex-keys 5, 6 mm
    bits   hex-bits 5, 6 mm  drive 3/8 in
    small  torque-wrench 5..25 N·m  drive 3/8 in  accuracy 4 %  tag "TW-01"  calibrated until 2027-12-31
    dial   dial-indicator "dial indicator"
    meter  special "air speed meter"
  consumables
    rag    "lint-free rag"

## file: spring.proc
visit spring "Spring"
  date 2027-03-08
  do season-check on blower
    model B-1
    serial "1"
"""  # noqa: E501 (the file reads better in columns)


@dataclass(frozen=True)
class Seed:
    """One change of the text of the folder, and how it must be told: once, by these words."""

    name: str
    old: str
    new: str
    subject: str
    deed: str
    words: tuple[str, ...]
    procedure: str = "filter-change"


def library(text: str) -> Library:
    """Return the folder compiled; it must be without any error."""
    return _library(text)


@cache
def _library(text: str) -> Library:
    texts = parts(text, "none.proc")
    sources = [SourceFile(path, texts[path]) for path in sorted(texts)]
    compiled = compile_sources(sources, no_pictures)
    assert compiled.is_clean, [finding.message for finding in compiled.findings]
    return compiled.library()


def seeded(seeds: Iterable[Seed]) -> str:
    """Return the text of the folder with some changes in it."""
    text = FOLDER
    for seed in seeds:
        assert text.count(seed.old) == 1, seed.name
        text = text.replace(seed.old, seed.new)
    return text
