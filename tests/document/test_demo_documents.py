"""Documents of the demo: nothing is lost on the way, and every line can be read aloud."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import asdict, fields, is_dataclass

import pytest
from document_support import demo, plain, steps

from compiler.document import build_library
from compiler.document.context import shown_body
from compiler.document.model import (
    BranchView,
    Document,
    LanesView,
    Line,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
    VisitPage,
    WhyView,
)
from compiler.document.numbers import every_node
from compiler.walk.nodes import (
    BranchNode,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
)

NAMES = sorted(one.id for one in demo()[1].documents)


def named(name: str) -> Document:
    """Return one document of the demo."""
    return next(one for one in demo()[1].documents if one.id == name)


def seen(nodes: Sequence[Node]) -> Iterator[StepNode]:
    """Return the steps of a walk that a reader must see."""
    for node in nodes:
        match node:
            case StepNode():
                yield node
            case SectionNode():
                yield from seen(node.nodes)
            case RepeatNode():
                shown = shown_body(node)
                for body in node.rounds if shown is None else (shown,):
                    yield from seen(body)
            case BranchNode():
                for _, body in node.arms:
                    yield from seen(body)
            case LanesNode():
                for _, body in node.lanes:
                    yield from seen(body)


@pytest.mark.parametrize("name", NAMES)
def test_every_step_of_every_walk_appears(name: str) -> None:
    compiled, _ = demo()
    document = named(name)
    for model in document.models or ("",):
        walk = compiled.walks[name, model]
        here = [s.id for s in steps(document.body) if not s.models or model in s.models]
        assert here == [node.id for node in seen(walk.nodes)]


@pytest.mark.parametrize("name", NAMES)
def test_every_step_says_what_to_do(name: str) -> None:
    for step in steps(named(name).body):
        assert step.lines, step.id
        assert step.source, step.id


@pytest.mark.parametrize("name", NAMES)
def test_numbers_are_consecutive(name: str) -> None:
    check_numbers(named(name).body, "")


def check_numbers(body: Sequence[NodeView], prefix: str) -> None:
    """Check that the steps and sections of one level are counted 1, 2, 3 without a gap."""
    found: dict[str, str] = {}
    for node in level(body):
        assert found.setdefault(node.id, node.number) == node.number
        if isinstance(node, SectionView):
            check_numbers(node.nodes, f"{node.number}.")
    assert list(found.values()) == [f"{prefix}{n}" for n in range(1, len(found) + 1)]


def level(body: Sequence[NodeView]) -> Iterator[StepView | SectionView]:
    """Return what is numbered on one level: repeats, branches and lanes add none of their own."""
    for node in body:
        match node:
            case StepView() | SectionView():
                yield node
            case RepeatView():
                yield from level(node.nodes)
            case BranchView():
                for arm in node.arms:
                    yield from level(arm.nodes)
            case LanesView():
                for lane in node.lanes:
                    yield from level(lane.nodes)


@pytest.mark.parametrize("name", NAMES)
def test_models_never_overlap(name: str) -> None:
    document = named(name)
    groups: dict[str, list[str]] = {}
    for step in steps(document.body):
        groups.setdefault(step.id, []).extend(step.models or document.models or ("",))
    for id, models in groups.items():
        assert len(models) == len(set(models)), id


def reasons(page: Document | VisitPage) -> Iterator[tuple[str, tuple[WhyView, ...]]]:
    """Return tools and supplies with their reasons."""
    yield from ((tool.text, tool.whys) for tool in page.tools)
    yield from ((supply.text, supply.whys) for supply in page.supplies)


@pytest.mark.parametrize("name", NAMES)
def test_every_tool_part_and_torque_has_its_reason(name: str) -> None:
    compiled, _ = demo()
    document = named(name)
    numbers = {step.number for step in steps(document.body)}
    for text, whys in reasons(document):
        assert whys, text
        assert all(why.text and why.step_number in numbers for why in whys), text
    for torque in document.torques:
        assert torque.step_numbers, torque.fastener
        assert set(torque.step_numbers) <= numbers
    for model in document.models or ("",):
        derived = compiled.derived[name, model]
        tools = [t for t in document.tools if not t.models or model in t.models]
        supplies = [s for s in document.supplies if not s.models or model in s.models]
        torques = [t for t in document.torques if not t.models or model in t.models]
        assert {t.need or t.label for t in derived.tools} == {t.text for t in tools}
        wanted: Counter[str] = Counter()
        for part in derived.parts:
            if part.number and part.amount is None:
                wanted[part.number] += part.count
        # Nothing that is counted gets lost on the way to the printed list.
        shown: Counter[str] = Counter()
        for row in supplies:
            shown[row.number.split(" (")[0]] += int(row.quantity) if row.quantity.isdigit() else 0
        assert {part.number for part in derived.parts} <= {*shown, ""}
        assert +wanted == +Counter({number: shown[number] for number in wanted})
        assert len(derived.torques) == len(torques)


@pytest.mark.parametrize("name", NAMES)
def test_fields_and_branches_belong_together(name: str) -> None:
    document = named(name)
    fields_by_id = {f.id: f for step in steps(document.body) for f in step.fields}
    places = {n.id for n in every_node(document.body)}
    for node in every_node(document.body):
        if isinstance(node, BranchView):
            for arm in node.arms:
                assert not arm.field or arm.field in fields_by_id
                assert bool(arm.field) == bool(arm.answers)
        if isinstance(node, StepView) and node.go_to:
            assert node.go_to in places


NOT_READ = frozenset(
    {"id", "anchor", "path", "source", "source_file", "digest", "words", "step_id", "go_to"}
    | {"field", "sign", "name"}
)
"""Fields that hold an id, a path or a mark, not words."""
INLINE = ("Plain", "Link", "Measure", "Strong")


def sentences(page: object) -> Iterator[str]:
    """Return every text and every line of a document or page in plain words."""
    if isinstance(page, str):
        yield page.replace("\N{NO-BREAK SPACE}", " ")
    elif is_dataclass(page) and not isinstance(page, type):
        for field in fields(page):
            if field.name not in NOT_READ:
                yield from sentences(getattr(page, field.name))
    elif isinstance(page, tuple):
        if page and all(type(item).__name__ in INLINE for item in page):
            yield plain(page)
        else:
            for item in page:
                yield from sentences(item)


WRONG = {
    "doubled word": re.compile(r"\b([a-z]+) \1\b", re.IGNORECASE),
    "two spaces": re.compile(r"  "),
    "a for an": re.compile(r"\b[Aa] (?:[aeio]|8|11 |18 |hour)"),
    "an for a": re.compile(r"\b[Aa]n (?:[bcdfgjklmnpqrstvwxyz](?!-)|h(?!our|onest)|uni|use|one)"),
    "space before a mark": re.compile(r" [,.;:?!](?:\s|$)"),
    "doubled mark": re.compile(r"[,;:]{2}|\.\.(?!\.)|\(\(|\)\)"),
    "bare name": re.compile(r"\b[a-z]+/[a-z-]+\b"),
    "brackets inside brackets": re.compile(r"\([^()]*\("),
    "many of one": re.compile(
        r"\b(?:[Tt]wo|[Tt]hree|[Ff]our|[Ss]ix|[Ee]ight|[Tt]welve) M\d+ × \d+ "
        r"[a-z -]*\b(?:screw|bolt|nut)\b(?! \()(?!s)"
    ),
}
"""What a reader would stumble over, by what is wrong with it."""

STUMBLES = (
    "Remove the the cover.",
    "Two  spaces.",
    "Use a old key.",
    "Use a 8 mm key.",
    "Use an spanner.",
    "An union nut.",
    "Before , a comma.",
    "A stop too many..",
    "It is at pump/seal-face.",
    "The cover (9 kg (19.8 lb)).",
    "Remove the four M6 × 16 hexagon screw.",
)


@pytest.mark.parametrize("text", STUMBLES)
def test_the_patterns_find_what_is_wrong(text: str) -> None:
    assert any(pattern.search(text) for pattern in WRONG.values())


EVERYTHING = [
    *((f"procedure {one.id}", one) for one in demo()[1].documents),
    *((f"machine {one.id}", one) for one in demo()[1].machines),
    *((f"visit {one.id}", one) for one in demo()[1].visits),
]


@pytest.mark.parametrize("page", [page for _, page in EVERYTHING], ids=[id for id, _ in EVERYTHING])
def test_every_line_can_be_read_aloud(page: object) -> None:
    found = [
        f"{what}: {text}"
        for text in sentences(page)
        for what, pattern in WRONG.items()
        if pattern.search(text)
    ]
    assert not found, "\n".join(found)


def instructions(document: Document) -> Iterator[Line]:
    """Return all that is an instruction, a condition, a remark or a message."""
    yield from (*document.needs, *document.leaves, *document.notes)
    messages = [*document.safety]
    for node in every_node(document.body):
        match node:
            case StepView():
                yield from (*node.lines, *node.notes, *node.whys)
                if node.condition:
                    yield node.condition
                messages += node.safety
            case SectionView() | RepeatView():
                yield from (*node.notes, *node.whys)
                messages += node.safety
                if isinstance(node, RepeatView):
                    yield node.heading
            case BranchView():
                yield from (arm.heading for arm in node.arms)
            case LanesView():
                pass
    for message in messages:
        yield from (line for line in (message.text, message.consequence, message.avoid) if line)


@pytest.mark.parametrize("name", NAMES)
def test_sentences_begin_and_end_as_they_should(name: str) -> None:
    for line in instructions(named(name)):
        text = plain(line)
        assert text.strip() == text
        assert text
        first = text.lstrip("“\"'(")[0]
        assert first.isupper() or first.isdigit(), text
        assert text.rstrip("”\"'").endswith((".", "?", "!", ":")), text


@pytest.mark.parametrize("name", NAMES)
def test_titles_are_short_and_said_once(name: str) -> None:
    for node in every_node(named(name).body):
        if isinstance(node, SectionView):
            assert node.title, node.id
            assert node.title[0].isupper() or node.title[0].isdigit() or node.title[0] == "“"
            assert not node.title.isdigit(), "a round is called by what it is about"
            assert not node.title.endswith(".")


def test_the_library_is_plain_data() -> None:
    _, library = demo()
    text = json.dumps(asdict(library), ensure_ascii=False, allow_nan=False)
    assert json.loads(text)["title"] == library.title


def test_two_builds_are_equal() -> None:
    compiled, library = demo()
    again = build_library(compiled.world, compiled.walks, compiled.derived, compiled.sources)
    assert again == library
    assert repr(again) == repr(library)


def test_digests_tell_documents_apart() -> None:
    _, library = demo()
    digests = [one.digest for one in library.documents]
    digests += [one.digest for one in library.visits]
    assert len(set(digests)) == len(digests)


def test_every_procedure_and_machine_has_its_page() -> None:
    compiled, library = demo()
    wanted = {p.name for p in compiled.world.procedures.values() if not p.is_block}
    assert {d.id for d in library.documents} == wanted == {row.id for row in library.rows}
    assert [m.id for m in library.machines] == sorted(compiled.world.machines)
    for page in library.machines:
        machine = compiled.world.machines[page.id]
        own = {
            key
            for variant in machine.variants
            for key, thing in variant.things.items()
            if thing.owner == machine.name
        }
        shown = {part.anchor for part in page.parts} | {row.anchor for row in page.fasteners}
        assert shown <= own
        assert [row.machine_id for row in page.procedures] == [page.id] * len(page.procedures)


def test_tool_pages_say_where_each_tool_is_needed() -> None:
    _, library = demo()
    for page in library.tools:
        uses = {row.id for row, _ in page.uses}
        needed = {d.id for d in library.documents if any(t.anchor == page.id for t in d.tools)}
        assert uses == needed
        assert all(whys for _, whys in page.uses)


def test_visits_bring_what_their_jobs_need() -> None:
    _, library = demo()
    for visit in library.visits:
        brought = {tool.text.split(",")[0] for tool in visit.tools}
        assert brought
        assert [job.number for job in visit.jobs] == list(range(1, len(visit.jobs) + 1))
        assert all(whys for _, whys in reasons(visit))
