"""The tools of one step: what is named beside it, and what turns its fasteners by hand."""

from __future__ import annotations

from compiler.document.context import Context
from compiler.walk.nodes import StepNode
from compiler.wording.actions import Turning


def step_tools(ctx: Context, id: str) -> tuple[str, ...]:
    """Return the tools of one step in words, with their tags."""
    made: list[str] = []
    for tool in ctx.derived.tools:
        if any(ctx.shown_id(reason.step_id) == id for reason in tool.reasons):
            words = tool.need or tool.label
            made.append(f"{words} ({tool.tag})" if tool.tag else words)
    return tuple(dict.fromkeys(made))


def turning_for(ctx: Context, node: StepNode) -> Turning:
    """Return what turns the fasteners of a step by hand."""
    return Turning()
