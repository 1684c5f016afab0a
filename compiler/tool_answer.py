"""The answer of `witnessmark tools`: what a procedure needs, and why."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from compiler.document.model import Document, Library, SupplyView, ToolView, WhyView
from compiler.emit.data import to_json
from compiler.findings.near import suggest
from compiler.pipeline import Compiled


@dataclass(frozen=True, slots=True)
class Answer:
    """Text for standard output, or a refusal that says what to try."""

    text: str = ""
    refusal: str = ""


def tool_answer(compiled: Compiled, name: str, model: str, format: str) -> Answer:
    """Return what the procedure or visit `name` needs, on one model or on all of them."""
    library = compiled.library()
    document = next((d for d in library.documents if d.id == name), None)
    if document is None:
        return Answer(refusal=_unknown(library, name))
    if model and model not in document.models:
        known = ", ".join(document.models) or "no models"
        return Answer(refusal=f"{name} knows no model {model!r}; it has {known}.")
    tools = [t for t in document.tools if _applies(t.models, model)]
    supplies = [s for s in document.supplies if _applies(s.models, model)]
    if format == "json":
        body = {"procedure": name, "tools": to_json(tools), "supplies": to_json(supplies)}
        return Answer(json.dumps(body, ensure_ascii=False, indent=1))
    return Answer("\n".join(_lines(document, tools, supplies)))


def _applies(models: Sequence[str], model: str) -> bool:
    return not model or not models or model in models


def _unknown(library: Library, name: str) -> str:
    names = [d.id for d in library.documents]
    near = suggest(name, names)
    if near:
        return f"There is no procedure {name!r} here. Did you mean {near}?"
    return f"There is no procedure {name!r} here. There are: {', '.join(names) or 'none'}."


def _lines(
    document: Document, tools: Sequence[ToolView], supplies: Sequence[SupplyView]
) -> list[str]:
    lines = [f"{document.title}  ({document.id})", "", "Tools"]
    for tool in tools:
        count = f"{tool.count} × " if tool.count > 1 else ""
        tag = f"  [{tool.tag}]" if tool.tag else ""
        missing = "  NOT IN THE CRIB" if tool.missing else ""
        detail = f", {tool.detail}" if tool.detail else ""
        lines.append(f"  {count}{tool.text}{detail}{tag}{_for(tool.models)}{missing}")
        lines += _why_lines(tool.whys)
    if not tools:
        lines.append("  none")
    if supplies:
        lines += ["", "Parts and consumables"]
    for supply in supplies:
        number = f"  number {supply.number}" if supply.number else ""
        only = f"  {supply.condition}" if supply.condition else ""
        lines.append(f"  {supply.text}: {supply.quantity}{number}{only}{_for(supply.models)}")
        lines += _why_lines(supply.whys)
    return lines


def _for(models: Sequence[str]) -> str:
    return f"  (only {', '.join(models)})" if models else ""


def _why_lines(whys: Sequence[WhyView]) -> list[str]:
    return [f"      step {why.step_number}: {why.text}" for why in whys]
