"""Small folders written as one text, for what the demo has no call for."""

# ruff: noqa: E501 (the files read better in columns)

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from compiler.document.model import Library
from compiler.load import load_folder
from compiler.pipeline import compile_sources

PICTURE = "a 100 % <b>'picture'</b> #1 ä.svg".replace("/", "")
"""A file name that has to be written otherwise in an address and in an attribute."""

_DRAWING = """\
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20" width="400" height="200">
<rect width="40" height="20" fill="#cde"/>
</svg>
"""

_PART = re.compile(r"^## file: (\S+)\n", re.MULTILINE)

_SHOP = """
## file: shop.proc
shop house "Trial bench"
  units N·m, mm, kg, bar
  second units lbf·ft, in, lb, psi
  tools
    keys     hex-keys 4, 5, 6 mm
    bits     hex-bits 4, 5, 6 mm  drive 3/8 in
    small    torque-wrench 5..25 N·m  drive 3/8 in  accuracy 4 %  tag "TW-01"  calibrated until 2027-04-30
    dial     dial-indicator "dial indicator"  tag "DI-01"  calibrated until 2027-04-30
    gauge    special "pressure gauge"
"""

BENCH = f"""\
## file: job.proc
procedure reseal "Reseal the feed pump"
  machine pump
  revision B 2026-11-02
  section open "Open it"
    remove guard
    remove cover only for P-40
    wipe "the flange" only for P-60
  refit open
  measure runout "Shaft runout" with dial  at most 0.05 mm
  if runout is out
    "Turn the shaft by half a turn."
  otherwise
    "Leave the shaft as it is."
  measure play "End play" with dial
    at 2 points
    each 0.1..0.4 mm
    spread at most 0.1 mm
  measure head "Head" with gauge  above 2 bar
  ask oil "What does the oil look like?"  answers clear, milky, black
  if oil is clear
    "Note it in the book."
  otherwise if oil is milky
    "Find the leak."
  otherwise
    "Change the oil."
  confirm "Ran without a drip."  timer 3 s
  record plate "Number on the plate"
  sign lead "Released"

## file: pump.proc
machine pump "Feed pump"
  models P-40, P-60
  parts
    guard  "guard"  1.8 kg
    cover  "cover"  9 kg  behind guard
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8  holds guard  torque 9 N·m ±10 %
{_SHOP}  roles
    lead "shift lead"  signs
"""
"""Everything a reader can do on a page: models, ticks, readings, answers, a clock, units."""

READINGS = """\
## file: job.proc
procedure gaps "Look at the gaps"
  machine press
  revision A 2026-11-02
  repeat for each n in nozzle  shown once
    wipe nozzle[n]
  measure gap "Gap" with dial  at most 0.5 mm
    for P-60  at most 0.2 mm
  measure rim "Rim" with dial  at most 0.05 mm
  measure warm "Oil" with probe  at most 60 °C
  measure play "End play" with dial
    at 2 points
    each 0.1..0.4 mm
    spread at most 0.1 mm
  measure pull "Pull" with probe  140..170 N
  if rim is out
    "Turn the rim down."

## file: press.proc
machine press "Cider press"
  models P-40, P-60
  parts
    nozzle[1..3]  "nozzle"

## file: shop.proc
shop house "Trial bench"
  units N·m, mm, kg, °C
  second units lbf·ft, in, lb, °F
  tools
    dial     dial-indicator "dial indicator"
    probe    special "probe"
"""
"""What is entered: in two units, by rounds, and otherwise on each model."""

NASTY = (
    "<script>window.harm = 1</script>",
    "<img src=x onerror='window.harm = 2'>",
    r"\"><svg onload=window.harm=3>",
    "</script><script>window.harm = 4</script>",
    "'; window.harm = 5; //",
    "&lt;b&gt; &amp; {{ 7 * 7 }}".replace("{{", r"\{\{").replace("}}", r"\}\}"),
    "W" + "a" * 300 + "!",
    "שלום עולם \u202eback to front\u202c 🔧🍎",
)
"""Texts that would do harm in a page that took them for markup, or that are hard to set."""


def hostile() -> str:
    """Return a folder that has every one of the nasty texts in every field an author writes."""
    files = []
    for number, text in enumerate(NASTY):
        files.append(_hostile_files(number, f'"{text}"'))
    shop = f"""
## file: shop.proc
shop house "{NASTY[0]} {NASTY[6]}"
  roles
    lead "{NASTY[0]}"  signs
  tools
{"".join(f'    tool-{n} special "{text}"  number "{text}"  tag "{text} {n}"{chr(10)}' for n, text in enumerate(NASTY))}\
  rules
{"".join(f'    "{text}"{chr(10)}' for text in NASTY)}
## file: visit.proc
visit round "{NASTY[1]}"
  date 2026-11-30
{"".join(f"  do job-{n} on machine-{n}{chr(10)}    serial {chr(34)}{text}{chr(34)}{chr(10)}" for n, text in enumerate(NASTY))}"""
    return "\n".join(files) + shop


def _hostile_files(n: int, text: str) -> str:
    return f"""\
## file: job-{n}.proc
procedure job-{n} {text}
  machine machine-{n}
  revision A 2026-11-02 {text}
  author {text}
  approved {text}
  purpose {text}
  danger cut {text} consequence {text} avoid {text}
  needs brake set
  picture "{PICTURE}" {text}
    mark 1 {text} at 20 %, 30 %
  isolate supply
  section one {text}
    remove part
      note {text}
      why {text}
      notice {text}
    {text}
    clean {text} with tool-{n}
  refit one
  if {text}
    {text}
  repeat for each t in cap
    note {text}
    clean t
  side by side
    lane {text}
      {text}
    lane "Other"
      {text}
  measure reading {text} with tool-{n}  at most 1 mm
  measure by-eye {text} by eye
    pass {text}
    fail "bad"
  ask answer {text}
  record kept {text}
  hold for lead {text}
  confirm done {text}
  if done is no
    stop {text}
  restore supply
  sign lead {text}

## file: machine-{n}.proc
machine machine-{n} {text}
  models "{f"M-{n}"}"
  location {text}
  warning crush {text}
  energy
    supply electrical {text}
      isolate at {text}
      release {text}
      verify {text}
  conditions
    brake {text}
      set by {text}
      free by {text}
  parts
    part {text}  number {text}  renew
    cap[1..3] {text}
  fasteners
    screw 2 × M6×16 ISO 4762 8.8  holds part  hand-tight
  fluids
    oil {text}  2 L  in part
"""


def world(text: str, folder: Path) -> tuple[Library, Mapping[str, bytes]]:
    """Compile a folder written as one text, with a picture in it; return document and pictures."""
    pieces = _PART.split(text)
    for path, content in zip(pieces[1::2], pieces[2::2], strict=True):
        (folder / path).write_text(content, encoding="utf-8")
    (folder / PICTURE).write_text(_DRAWING, encoding="utf-8")
    given = load_folder(folder)
    result = compile_sources(given.sources, given.probe)
    assert result.is_clean, [(f.rule, f.message, f.span) for f in result.findings]
    return result.library(), given.picture_bytes
