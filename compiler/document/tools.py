"""The tools of one step: what is named beside it, and what turns its fasteners by hand."""

from __future__ import annotations

from collections.abc import Sequence

from compiler.derive.lists import ToolLine, TurnLine
from compiler.derive.tools import tool_words
from compiler.document.context import Context
from compiler.model import Fastener, Tool
from compiler.trade.wrenching import hand_need, torque_need
from compiler.walk.nodes import StepNode
from compiler.wording.actions import Turning
from compiler.wording.english import a_or_an, is_plural, short
from compiler.wording.nouns import tool_noun
from compiler.wording.text import Line, words_only


def step_tools(ctx: Context, node: StepNode, lines: Sequence[Line]) -> tuple[str, ...]:
    """Return the tools of one step in words, of a set only the sizes that this step needs.

    What its sentences name already is left out, unless it has a tag to be found by.
    """
    said = " ".join(words_only(line) for line in lines).replace("\N{NO-BREAK SPACE}", " ")
    sizes = _sizes_of(ctx, node)
    made: dict[str, None] = {}
    for tool in ctx.tools.get(node.id, ()):
        words = _words(ctx, tool, sizes)
        if tool.tag:
            made[f"{words} ({tool.tag})"] = None
        elif short(words).replace("\N{NO-BREAK SPACE}", " ") not in said:
            made[words] = None
    return tuple(made)


def _words(ctx: Context, tool: ToolLine, sizes: Sequence[str]) -> str:
    thing = ctx.voice.thing(tool.key) if tool.key else None
    here = tuple(size for size in tool.sizes if size in sizes)
    if thing is not None and here and len(here) < len(tool.sizes):
        return tool_words(thing, here) or tool.label
    if isinstance(thing, Tool) and tool.sizes and not here and len(thing.sizes) > 1:
        return tool_words(thing) or tool.need or tool.label
    return tool.need or tool.label


def _sizes_of(ctx: Context, node: StepNode) -> tuple[str, ...]:
    """Return the sizes of wrench that the fasteners of a step take, and ends that it names."""
    found: dict[str, None] = {}
    for act in node.acts:
        found.update(dict.fromkeys(phrase.end for phrase in act.phrases if phrase.end))
        for key in act.keys():  # noqa: SIM118 (the keys of an act are no mapping's)
            found.update(dict.fromkeys(_sizes(ctx, key)))
    return tuple(found)


def _sizes(ctx: Context, key: str) -> tuple[str, ...]:
    thing = ctx.voice.thing(key)
    if not isinstance(thing, Fastener):
        return ()
    needs = (hand_need(thing.designation), torque_need(thing.designation))
    return tuple(dict.fromkeys(need.size for need in needs if need is not None and need.size))


def turning_for(ctx: Context, node: StepNode) -> Turning:
    """Return what turns the fasteners of a step by hand, and how it lifts what it names."""
    keys = dict.fromkeys(key for act in node.acts for key in act.keys())  # noqa: SIM118
    tools = {turn.key: _turner(ctx, turn) for turn in ctx.derived.turning if turn.key in keys}
    sizes = {key: _sizes(ctx, key) for key in keys}
    people = max(1, node.extras.people, ctx.procedure.people)
    return Turning(tools, sizes, people=people, handling=node.extras.handling)


def _turner(ctx: Context, turn: TurnLine) -> str:
    """Return the tools chosen to turn a fastener: `a 5 mm hex key`; the need when none is there."""
    found = [ctx.voice.thing(key) for key in turn.tools]
    tools = [tool for tool in found if isinstance(tool, Tool)]
    if tools:
        # What has a size goes on what has none: `an 18 mm socket on the ratchet`.
        tools.sort(key=lambda tool: not tool.sizes)
        size = turn.size.replace(" ", "\N{NO-BREAK SPACE}")
        sizes = [size if tool.sizes else "" for tool in tools]
        named = [tool_noun(ctx.voice, *pair).words for pair in zip(tools, sizes, strict=True)]
        return " on ".join(words_only(words) for words in named)
    need = short(turn.need)
    bare = not need or need.startswith(("a ", "an ")) or is_plural(need)
    return need if bare else a_or_an(need)
