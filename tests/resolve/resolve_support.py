"""What the tests of the resolver share: a folder written as one text, and what is told of it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from compiler import model, syntax
from compiler.findings.model import Finding
from compiler.load import PictureInfo, load_folder
from compiler.parse import parse_text
from compiler.resolve import PictureProbe, no_pictures, resolve

ROOT = Path(__file__).resolve().parents[2]
_FENCE = re.compile(r"^```proc\n(.*?)^```", re.MULTILINE | re.DOTALL)
_PART = re.compile(r"^## file: (\S+)\n", re.MULTILINE)

PUMP = """\
machine pump "Pump"
  models TP-40, TP-60
  energy
    supply electrical "400 V"
      isolate at "switch Q3"
      verify "dead"
  parts
    guard  "guard"  1.8 kg  guards supply
    unit   "unit"   31 kg   behind guard
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8  holds guard  torque 9 N·m
    unit-nut     8 × M12 ISO 4032 8      holds unit   torque 60 N·m
"""


def examples() -> dict[str, str]:
    """Return each example of the language page as one folder."""
    page = (ROOT / "grammar" / "language.md").read_text(encoding="utf-8")
    return {f"example-{n}": text for n, text in enumerate(_FENCE.findall(page))}


def parts(text: str) -> dict[str, str]:
    """Return the files of a folder written as one text, by path."""
    pieces = _PART.split(text)
    files = {"a.proc": pieces[0]} if pieces[0].strip() else {}
    return files | dict(zip(pieces[1::2], pieces[2::2], strict=True))


def parsed(text: str) -> list[syntax.File]:
    """Return the syntax of the files that could be read."""
    files = (parse_text(content, path)[0] for path, content in parts(text).items())
    return [file for file in files if file is not None]


def resolved(
    text: str, pictures: PictureProbe = no_pictures
) -> tuple[model.World, tuple[Finding, ...]]:
    """Resolve a folder written as one text. Its files must be well written."""
    for path, content in parts(text).items():
        _, findings = parse_text(content, path)
        assert not findings, [f.message for f in findings]
    return resolve(parsed(text), pictures)


def told(text: str, pictures: PictureProbe = no_pictures) -> list[tuple[str, str]]:
    """Return what is found: the rule, and the piece of text it points at."""
    contents = parts(text)
    _, findings = resolved(text, pictures)
    return [(f.rule, contents[f.span.file][f.span.start : f.span.end]) for f in findings]


def world(text: str, pictures: PictureProbe = no_pictures) -> model.World:
    """Return the model of a folder in which nothing is wrong."""
    found, findings = resolved(text, pictures)
    assert not findings, [(f.rule, f.message) for f in findings]
    return found


def job(body: str, declared: str = "", head: str = "") -> str:
    """Return a procedure that stands alone, with steps and what they need."""
    lines = ['procedure job "Job"', "  revision A 2026-11-02"]
    for text in (head, declared, body):
        lines += [f"  {line}" for line in text.splitlines()]
    return "\n".join(lines) + "\n"


def one(text: str, name: str, of_model: str = "") -> model.AnyThing:
    """Return one thing of the first procedure or machine of a folder."""
    found, _ = resolved(text)
    variants = [v for procedure in found.procedures.values() for v in procedure.variants]
    variants += [v for machine in found.machines.values() for v in machine.variants]
    variant = next(v for v in variants if v.model == of_model)
    return variant.things[variant.scope[name]]


def pictures_of(**kinds: PictureInfo) -> PictureProbe:
    """Return a probe that knows pictures by the stem of their path."""
    known: Mapping[str, PictureInfo] = kinds

    def probe(path: str) -> PictureInfo | None:
        return known.get(Path(path).stem)

    return probe


def demo_folders() -> dict[str, str]:
    """Return each folder of the demo, with the shop file, as one text."""
    folder = load_folder(ROOT / "procedures")
    texts: dict[str, str] = {}
    for source in folder.sources:
        name, _, rest = source.path.partition("/")
        if rest:
            texts[name] = texts.get(name, "") + f"## file: {source.path}\n{source.text}"
    shop = next(s for s in folder.sources if s.path == "shop.proc")
    return {name: f"## file: shop.proc\n{shop.text}{text}" for name, text in texts.items()}


def demo() -> tuple[list[syntax.File], PictureProbe]:
    """Return the syntax of the demo and what is known of its pictures."""
    folder = load_folder(ROOT / "procedures")
    files = (parse_text(source.text, source.path)[0] for source in folder.sources)
    return [file for file in files if file is not None], folder.probe
