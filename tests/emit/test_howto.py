"""A procedure as schema.org HowTo: types and property names of the vocabulary, all steps, safe."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any

from compiler.document.model import Library
from compiler.emit.howto import howto

# schema.org, the types HowTo, HowToStep, HowToSection, HowToTool and HowToSupply with what they
# take over from CreativeWork, ListItem and Thing (read in schema-dts 2.1.0; the part used here).
THING = {"@type", "name", "description", "url", "image"}
PROPERTIES = {
    "HowTo": THING | {"@context", "step", "supply", "tool", "totalTime", "prepTime", "performTime",
                      "estimatedCost", "yield", "version", "dateModified", "author"},
    "HowToStep": THING | {"text", "position", "itemListElement"},
    "HowToSection": THING | {"text", "position", "itemListElement"},
    "HowToTool": THING | {"requiredQuantity", "position", "item"},
    "HowToSupply": THING | {"requiredQuantity", "estimatedCost", "position", "item"},
}  # fmt: skip
ALLOWED_IN = {
    "step": {"HowToStep", "HowToSection"},
    "itemListElement": {"HowToStep", "HowToSection"},
    "tool": {"HowToTool"},
    "supply": {"HowToSupply"},
}


def things(value: Any, place: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield every object with the property it is the value of."""
    if isinstance(value, dict):
        yield place, value
        for name, inner in value.items():
            yield from things(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from things(inner, place)


def steps(data: dict[str, Any]) -> list[str]:
    """Return the names of all steps in order."""
    return [thing["name"] for _, thing in things(data) if thing["@type"] == "HowToStep"]


def test_only_types_and_properties_of_the_vocabulary(demo_library: Library) -> None:
    seen = set()
    for document in demo_library.documents:
        data = json.loads(howto(document))
        assert (data["@context"], data["@type"]) == ("https://schema.org", "HowTo")
        for place, thing in things(data):
            kind = thing["@type"]
            seen.add(kind)
            assert set(thing) <= PROPERTIES[kind], f"{document.id}: {thing}"
            assert thing["name"], f"{document.id}: {thing}"
            if place:
                assert kind in ALLOWED_IN[place], f"{document.id}: {kind} in {place}"
            if kind == "HowToStep":
                assert thing["text"].strip(), f"{document.id}: {thing}"
    assert seen == set(PROPERTIES)


def test_every_step_is_there_in_its_order(demo_library: Library) -> None:
    from compiler.document.model import StepView
    from compiler.emit.howto import inner_nodes

    def numbers(nodes: Any) -> Iterator[str]:
        for node in nodes:
            if isinstance(node, StepView):
                yield node.number
            else:
                yield from numbers(node.nodes if hasattr(node, "nodes") else inner_nodes(node))

    for document in demo_library.documents:
        found = steps(json.loads(howto(document)))
        assert found == list(numbers(document.body))
        assert found


def test_it_cannot_end_the_script_element_it_stands_in(demo_library: Library) -> None:
    hostile = '</script><script>alert(1)</script><!-- " & \u2028'
    document = dataclasses.replace(demo_library.documents[0], title=hostile, purpose=hostile)
    page = f'<script type="application/ld+json">{howto(document)}</script>'
    tags: list[str] = []
    text: list[str] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: object) -> None:
            tags.append(tag)

        def handle_data(self, data: str) -> None:
            text.append(data)

    Reader().feed(page)
    assert tags == ["script"]
    assert json.loads("".join(text))["name"] == hostile
