"""The words by which a procedure is found."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from compiler.document.context import Context, steps_in
from compiler.document.model import Document, SectionView
from compiler.document.numbers import every_node
from compiler.walk.nodes import Target
from compiler.wording.nouns import name_of

_WORD = re.compile(r"[^\W_]+(?:[-.][^\W_]+)*")


def search_words(document: Document, contexts: Mapping[str, Context]) -> str:
    """Return words of titles, things, tools, numbers and tags: lower case, each once, in order."""
    words: dict[str, None] = {}
    for text in _texts(document, contexts):
        words.update(dict.fromkeys(_WORD.findall(text.casefold())))
    return " ".join(words)


def _texts(document: Document, contexts: Mapping[str, Context]) -> Iterator[str]:
    yield from (document.title, document.machine_title, document.location, document.purpose)
    yield from document.models
    for node in every_node(document.body):
        if isinstance(node, SectionView):
            yield node.title
    for ctx in contexts.values():
        for step in steps_in(ctx.walk.nodes):
            for act in step.acts:
                for spot in act.targets:
                    thing = ctx.voice.thing(spot.key) if isinstance(spot, Target) else None
                    if thing is not None:
                        yield from (name_of(thing), thing.number)
    for tool in document.tools:
        yield from (tool.text, tool.tag)
    for supply in document.supplies:
        yield from (supply.text, supply.number)
