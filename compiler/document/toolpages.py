"""Pages of the tool crib: what a tool is and where it is needed."""

from __future__ import annotations

from collections.abc import Mapping

from compiler.document.model import Document, ProcedureRow, ToolPage, WhyView
from compiler.model import Tool, World
from compiler.trade.units import format_quantity
from compiler.wording.english import listed
from compiler.wording.nouns import kind_name, name_of
from compiler.wording.phrases import LABELS
from compiler.wording.text import upper_first
from compiler.wording.values import amount_text

Uses = tuple[tuple[ProcedureRow, tuple[WhyView, ...]], ...]


def tool_pages(
    world: World, documents: Mapping[str, Document], rows: Mapping[str, ProcedureRow]
) -> tuple[ToolPage, ...]:
    """Return one page a tool of the crib, sorted by id."""
    if world.shop is None:
        return ()
    tools = [thing for thing in world.shop.things.values() if isinstance(thing, Tool)]
    made = [
        ToolPage(
            id=tool.name,
            title=tool_title(tool),
            kind=kind_name(tool.kind),
            facts=_facts(tool),
            uses=_uses(tool.name, documents, rows),
        )
        for tool in tools
    ]
    return tuple(sorted(made, key=lambda page: page.id))


def tool_title(tool: Tool) -> str:
    """Return what a tool is called on its page: its label, or kind and range or sizes."""
    plain = tool.name.replace("-", " ")
    if tool.label and tool.label != plain:
        return upper_first(tool.label)
    kind = upper_first(kind_name(tool.kind) if tool.kind != "special" else name_of(tool))
    if tool.range is not None:
        return f"{kind}, {amount_text(tool.range)}"
    return f"{kind}, {_sizes(tool)}" if tool.sizes else kind


def _sizes(tool: Tool) -> str:
    """Return sizes as they are said: `4, 5 and 6 mm`; the unit once when it is the same."""
    texts = [format_quantity(size) for size in tool.sizes]
    if len({size.unit for size in tool.sizes}) == 1:
        texts = [text.split("\N{NO-BREAK SPACE}")[0] for text in texts[:-1]] + texts[-1:]
    return listed(texts)


def _facts(tool: Tool) -> tuple[tuple[str, str], ...]:
    day = tool.calibrated_until
    found = (
        (LABELS.tag, tool.tag),
        (LABELS.number, tool.number),
        (LABELS.sizes, _sizes(tool) if tool.sizes else ""),
        (LABELS.range, amount_text(tool.range) if tool.range is not None else ""),
        (LABELS.square, format_quantity(tool.drive) if tool.drive is not None else ""),
        (LABELS.accuracy, format_quantity(tool.accuracy) if tool.accuracy is not None else ""),
        (LABELS.length, format_quantity(tool.length) if tool.length is not None else ""),
        (LABELS.extends, format_quantity(tool.extends) if tool.extends is not None else ""),
        (LABELS.lifts, format_quantity(tool.lifts) if tool.lifts is not None else ""),
        (LABELS.ends, listed(tool.ends)),
        (LABELS.calibrated_until, day.isoformat() if day is not None else ""),
        (LABELS.count, str(tool.total) if tool.total > 1 else ""),
    )
    return tuple((name, value) for name, value in found if value)


def _uses(anchor: str, documents: Mapping[str, Document], rows: Mapping[str, ProcedureRow]) -> Uses:
    made: list[tuple[ProcedureRow, tuple[WhyView, ...]]] = []
    for key, document in documents.items():
        whys = [why for tool in document.tools if tool.anchor == anchor for why in tool.whys]
        if any(tool.anchor == anchor for tool in document.tools):
            made.append((rows[key], tuple(dict.fromkeys(whys))))
    return tuple(sorted(made, key=lambda use: use[0].id))
