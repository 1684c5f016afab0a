"""Whole procedures: the demo, the examples of the language page, bodies made up at random."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from walk_support import ROOT, compile_world, demo, job, play, steps

from compiler.model import World
from compiler.walk import walk_all, walk_procedure
from compiler.walk.flat import flat_steps, sections
from compiler.walk.nodes import (
    BranchNode,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
    Target,
    Walk,
)

_FENCE = re.compile(r"^```proc\n(.*?)^```", re.MULTILINE | re.DOTALL)
PAGE = (ROOT / "grammar" / "language.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def house() -> World:
    return demo()


def shown(nodes: tuple[Node, ...]) -> Iterator[str]:
    """Yield the ids of all nodes a reader may meet, general bodies included."""
    for node in nodes:
        yield node.id
        match node:
            case SectionNode():
                yield from shown(node.nodes)
            case RepeatNode():
                yield from shown(node.general)
                for body in node.rounds:
                    yield from shown(body)
            case BranchNode():
                for _, body in node.arms:
                    yield from shown(body)
            case LanesNode():
                for _, body in node.lanes:
                    yield from shown(body)
            case StepNode():
                pass


def check(walk: Walk) -> None:
    """Check what holds for every walk."""
    ids = list(shown(walk.nodes))
    assert len(ids) == len(set(ids)), [i for i in ids if ids.count(i) > 1]
    for flat in flat_steps(walk):
        for act in flat.node.acts:
            assert act.implied == bool(act.why)
            assert not any(t.each for t in act.targets if isinstance(t, Target))


def test_everything_in_the_demo_can_be_written_out(house: World) -> None:
    walks, findings = walk_all(house)
    assert findings == ()
    assert len(walks) > 30
    for walk in walks.values():
        check(walk)


def test_the_same_world_gives_the_same_walk(house: World) -> None:
    assert walk_all(house)[0] == walk_all(demo())[0]


@pytest.mark.parametrize("text", _FENCE.findall(PAGE))
def test_the_examples_of_the_language_page(text: str) -> None:
    walks, findings = walk_all(compile_world(text))
    assert findings == ()
    for walk in walks.values():
        check(walk)


def test_no_step_of_the_demo_says_refit_and_means_nothing(house: World) -> None:
    for walk in walk_all(house)[0].values():
        for section in sections(walk):
            if section.origin and section.origin[-1].kind == "refit":
                assert section.nodes, (walk.procedure, section.id)
                assert section.way_back


def test_a_new_step_before_others_leaves_their_ids_alone() -> None:
    body = "remove guard\nremove plate\nrefit everything"
    found, longer = (list(steps(_walk(text))) for text in (body, f"wipe hub\n{body}"))
    assert found == longer[1:]


def _walk(body: str) -> Walk:
    world = compile_world(job(body))
    return walk_procedure(world, world.procedures["job"], "P-1")[0]


# --- Put together at random -------------------------------------------------------------------

LINES = (
    "remove guard",
    "remove plate",
    "remove wheel",
    "remove cap[1]",
    "fit guard",
    "tighten guard",
    "replace wheel",
    "replace gasket",
    "slacken wheel-nut",
    "lock wheel-nut",
    "isolate supply, oil",
    "restore supply",
    "drain sump-oil",
    "fill sump-oil",
    "support wheel with hoist",
    "release wheel",
    "fit chock",
    "remove chock",
    "move arm aside",
    "bring brake to released",
    "disconnect cable",
    "reach gasket",
    "refit everything",
    "follow other",
    "follow other way in",
    "follow other way back",
    'remove arm  only if "it is there"',
    'stop "Enough."',
    'measure gap "Gap" at most 1 mm',
    '"Look."',
)
IN_A_ROUND = ("remove cap[{v}]", "fit cap[{v}]", "slacken cap-screw[{v}]", "wipe cap[{v}]")
OTHER = """\
## file: other.proc
procedure other "Other"
  machine press
  revision A 2026-11-02
  remove guard
  section deep "Deep"
    remove plate
    remove gasket
  repeat for each n in 1..3  shown once
    remove cap[n]
"""


def indented(lines: list[str]) -> list[str]:
    return [f"  {line}" for line in lines]


@st.composite
def bodies(draw: st.DrawFn, depth: int = 2, variable: str = "") -> list[str]:
    """Draw the lines of a body."""
    found: list[str] = []
    for _ in range(draw(st.integers(1, 4))):
        kind = draw(st.integers(0, 9)) if depth else 0
        if kind <= 4:
            pool = LINES + (IN_A_ROUND if variable else ())
            found.append(draw(st.sampled_from(pool)).format(v=variable))
        elif kind == 5:
            found += ['section "Part"', *indented(draw(bodies(depth - 1, variable)))]
        elif kind == 6:
            shown_as = draw(st.sampled_from(("", "  shown once", "  shown each")))
            name = f"v{depth}"
            found.append(f"repeat for each {name} in 1..3{shown_as}")
            found += indented(draw(bodies(depth - 1, name)))
        elif kind == 7:
            found += ['if "it is so"', *indented(draw(bodies(depth - 1, variable)))]
            if draw(st.booleans()):
                found += ["otherwise", *indented(draw(bodies(depth - 1, variable)))]
        elif kind == 8:
            found += ["repeat 2 times", *indented(draw(bodies(depth - 1, variable)))]
        else:
            lanes = [draw(bodies(0, variable)) for _ in range(2)]
            found.append("side by side")
            for who, lane in zip("AB", lanes, strict=True):
                found += [f'  lane "{who}"', *indented(indented(lane))]
    return found


@settings(max_examples=150)
@given(bodies())
def test_any_body_can_be_walked(lines: list[str]) -> None:
    """Whatever is written: no crash, ids unique, every act says whether it is implied."""
    text = "\n".join(lines)
    # One name may stand for one measurement only.
    for number in range(text.count("measure gap ")):
        text = text.replace("measure gap ", f"measure gap{number} ", 1)
    folder = job(text, more=OTHER)
    world = compile_world(folder)
    walk, findings = walk_procedure(world, world.procedures["job"], "P-1")
    check(walk)
    assert {f.rule for f in findings} <= {"cannot-refit", "cannot-reach"}
    play(folder)
