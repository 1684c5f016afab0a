"""A procedure as schema.org HowTo, for search engines of an intranet."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence

from compiler.document.model import (
    BranchView,
    Document,
    LanesView,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
    plain_text,
)


def howto(document: Document) -> str:
    """Return the JSON-LD text, safe to stand inside a script element."""
    body: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": document.title,
        "tool": [
            {"@type": "HowToTool", "name": tool.text, "requiredQuantity": tool.count}
            for tool in document.tools
        ],
        "supply": [
            {"@type": "HowToSupply", "name": s.text, "requiredQuantity": s.quantity}
            for s in document.supplies
        ],
        "step": list(_steps(document.body)),
    }
    if document.purpose:
        body["description"] = document.purpose
    text = json.dumps(body, ensure_ascii=False)
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _steps(nodes: Sequence[NodeView]) -> Iterator[dict[str, object]]:
    for node in nodes:
        if isinstance(node, StepView):
            yield {
                "@type": "HowToStep",
                "name": node.number,
                "text": " ".join(plain_text(line) for line in node.lines),
            }
        elif isinstance(node, SectionView):
            steps = list(_steps(node.nodes))
            yield {"@type": "HowToSection", "name": node.title, "itemListElement": steps}
        else:
            yield from _steps(inner_nodes(node))


def inner_nodes(node: RepeatView | BranchView | LanesView) -> tuple[NodeView, ...]:
    """Return what stands inside a repeat, a branch or work side by side, one after the other."""
    if isinstance(node, RepeatView):
        return node.nodes
    if isinstance(node, BranchView):
        return tuple(inner for arm in node.arms for inner in arm.nodes)
    return tuple(inner for lane in node.lanes for inner in lane.nodes)
