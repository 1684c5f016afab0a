"""The answer of `witnessmark tools`: what a procedure needs, and why."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from compiler.document.model import Document, Library, SupplyView, ToolView, VisitPage, WhyView
from compiler.emit.data import to_json
from compiler.findings.near import suggest
from compiler.pipeline import Compiled


@dataclass(frozen=True, slots=True)
class Answer:
    """Text for standard output, or a refusal that says what to try."""

    text: str = ""
    refusal: str = ""


def tool_answer(compiled: Compiled, name: str, model: str, format: str) -> Answer:
    """Return what the procedure or visit `name` needs, on one model or on all of them.

    A procedure comes before a visit of the same name. `format` is `text` or `json`.
    """
    library = compiled.library()
    found = next((page for page in _pages(library) if page.id == name), None)
    if found is None:
        return Answer(refusal=_unknown(library, name))
    if model and not isinstance(found, Document):
        return Answer(refusal=f"{name} is a visit: it says itself which models it is for.")
    if model and isinstance(found, Document) and model not in found.models:
        known = ", ".join(found.models) or "no models"
        return Answer(refusal=f"{name} knows no model {model!r}; it has {known}.")
    tools = [t for t in found.tools if _applies(t.models, model)]
    supplies = [s for s in found.supplies if _applies(s.models, model)]
    if format == "json":
        kind = "procedure" if isinstance(found, Document) else "visit"
        body = {kind: name, "tools": to_json(tools), "supplies": to_json(supplies)}
        return Answer(json.dumps(body, ensure_ascii=True, indent=1))
    return Answer("\n".join(_lines(f"{found.title}  ({found.id})", tools, supplies)))


def _pages(library: Library) -> tuple[Document | VisitPage, ...]:
    return (*library.documents, *library.visits)


def _applies(models: Sequence[str], model: str) -> bool:
    return not model or not models or model in models


def _unknown(library: Library, name: str) -> str:
    names = [page.id for page in _pages(library)]
    near = suggest(name, names)
    if near:
        return f"There is no procedure {name!r} here. Did you mean {near}?"
    return f"There is no procedure {name!r} here. There are: {', '.join(names) or 'none'}."


def _lines(title: str, tools: Sequence[ToolView], supplies: Sequence[SupplyView]) -> list[str]:
    lines = [title, "", "Tools"]
    for tool in tools:
        count = f"{tool.count} × " if tool.count > 1 else ""
        tag = f"  [{tool.tag}]" if tool.tag else ""
        missing = "  NOT IN THE CRIB" if tool.missing else ""
        lines.append(f"  {count}{_named(tool)}{tag}{_for(tool.models)}{missing}")
        lines += _why_lines(tool.whys)
    if not tools:
        lines.append("  none")
    if supplies:
        lines += ["", "Parts and consumables"]
    for supply in supplies:
        number = f"  number {supply.number}" if supply.number else ""
        only = f"  only if {supply.condition}" if supply.condition else ""
        lines.append(f"  {supply.text}: {supply.quantity}{number}{only}{_for(supply.models)}")
        lines += _why_lines(supply.whys)
    return lines


def _named(tool: ToolView) -> str:
    """Return what the tool is and, where that says more, what it is called in the crib."""
    if not tool.detail or tool.detail in tool.text:
        return tool.text
    if tool.text in tool.detail:
        return tool.detail
    return f"{tool.text}, {tool.detail.removeprefix(tool.text.split(', ')[0] + ', ')}"


def _for(models: Sequence[str]) -> str:
    return f"  (only {', '.join(models)})" if models else ""


def _why_lines(whys: Sequence[WhyView]) -> list[str]:
    """Return one line for each reason, with all the steps that give it.

    On a visit a step has the number of its job before it: `2: 1.2.1`.
    """
    steps: dict[str, list[str]] = {}
    for why in whys:
        steps.setdefault(why.text, []).append(why.step_number)
    return [
        f"      {text} (step{'s' if len(numbers) > 1 else ''} {', '.join(numbers)})"
        for text, numbers in steps.items()
    ]
