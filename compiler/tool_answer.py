"""The answer of `witnessmark tools`: what a procedure needs, and why."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace

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
    if model and isinstance(found, Document):
        found = _on_one_model(compiled, found, model)
    tools, supplies = found.tools, found.supplies
    if format == "json":
        kind = "procedure" if isinstance(found, Document) else "visit"
        body = {kind: name, "tools": to_json(tools), "supplies": to_json(supplies)}
        return Answer(json.dumps(body, ensure_ascii=True, indent=1))
    lines = _lines(
        f"{found.title}  ({found.id})", tools, supplies, has_crib=compiled.world.shop is not None
    )
    # The no-break spaces of pages would keep a terminal's search from finding `9 N·m`.
    return Answer("\n".join(lines).replace("\N{NO-BREAK SPACE}", " "))


def _pages(library: Library) -> tuple[Document | VisitPage, ...]:
    return (*library.documents, *library.visits)


def _on_one_model(compiled: Compiled, document: Document, model: str) -> Document:
    """Return what the procedure is on one model alone, with the step numbers of its page.

    The lists of the page say of a line which models need it, but not which of its reasons are
    whose; so the document is made again as if there were no other model.
    """
    world = compiled.world
    procedure = next(
        p for p in world.procedures.values() if p.name == document.id and not p.is_block
    )
    one = replace(procedure, variants=tuple(v for v in procedure.variants if v.model == model))
    alone = replace(world, procedures={**world.procedures, procedure.key: one})
    library = replace(compiled, world=alone).library()
    single = next(page for page in library.documents if page.id == document.id)
    lines: tuple[ToolView | SupplyView, ...] = (*document.tools, *document.supplies)
    numbers = {why.step_id: why.step_number for line in lines for why in line.whys}

    def renumbered(whys: Sequence[WhyView]) -> tuple[WhyView, ...]:
        return tuple(
            replace(why, step_number=numbers.get(why.step_id, why.step_number)) for why in whys
        )

    return replace(
        single,
        tools=tuple(replace(tool, whys=renumbered(tool.whys)) for tool in single.tools),
        supplies=tuple(replace(line, whys=renumbered(line.whys)) for line in single.supplies),
    )


def _unknown(library: Library, name: str) -> str:
    names = [page.id for page in _pages(library)]
    near = suggest(name, names)
    if near:
        return f"There is no procedure {name!r} here. Did you mean {near}?"
    return f"There is no procedure {name!r} here. There are: {', '.join(names) or 'none'}."


def _lines(
    title: str, tools: Sequence[ToolView], supplies: Sequence[SupplyView], has_crib: bool
) -> list[str]:
    lines = [title, "", "Tools"]
    for tool in tools:
        count = f"{tool.count} × " if tool.count > 1 else ""
        tag = f"  [{tool.tag}]" if tool.tag else ""
        missing = "  NOT IN THE CRIB" if tool.missing and has_crib else ""
        lines.append(f"  {count}{_named(tool)}{tag}{_for(tool.models)}{missing}")
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
