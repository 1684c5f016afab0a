"""`reach`: the fewest removals, against trying out everything; guards and contents stay shut."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from time import process_time

from hypothesis import given, settings
from hypothesis import strategies as st
from walk_support import PRESS, done, job, rules, walk, walked

from compiler.model import AnyThing, Energy, Fastener, Part, Selection
from compiler.source import Span
from compiler.trade.designation import parse_designation
from compiler.walk.assembly import Assembly, build_assembly
from compiler.walk.flat import sections
from compiler.walk.reach import Blocked, Way, shortest_way
from compiler.walk.state import ISOLATED, State

HERE = Span("x.proc", 0, 0)


def test_what_is_in_the_way_comes_off_from_the_outside_in() -> None:
    assert done("isolate supply\nreach gasket")[4:] == [
        "undo guard-screw",
        "remove guard",
        "undo plate-bolt",
        "remove plate",
    ]


def test_a_guard_stays_on_while_its_energy_is_live() -> None:
    assert rules(job("reach plate")) == ["cannot-reach"]
    (finding,) = walked(job("reach plate"))[1]
    assert "guard" in finding.message
    assert "supply is not isolated" in finding.message
    assert finding.hint == "Put `isolate supply` before this line."


def test_what_is_off_already_is_not_in_the_way() -> None:
    assert done("isolate supply\nremove guard\nreach wheel")[6:] == [
        "undo plate-bolt",
        "remove plate",
    ]
    assert done("isolate supply\nremove guard\nremove plate\nreach wheel")[8:] == []


def test_what_is_aside_is_not_in_the_way() -> None:
    machine = PRESS.replace('"wheel"     30 kg  behind plate', '"wheel"  30 kg  behind arm')
    text = job("isolate supply\nremove guard\nmove arm aside\nreach wheel", machine=machine)
    assert [s for s in sections(walk(text)) if s.origin] == []


def test_what_carries_the_obstacle_may_come_off_instead() -> None:
    """Two things in the way, both on one carrier: the carrier alone is the shorter way."""
    text = job(
        "reach valve",
        machine=_with_parts(
            'frame "frame"',
            'lamp "lamp" on frame',
            'fan "fan" on frame',
            'valve "valve" behind lamp, fan',
        ),
    )
    assert [a for a in _acts(text) if a.startswith("remove")] == ["remove frame"]


def _with_parts(*lines: str) -> str:
    added = "".join(f"    {line}\n" for line in lines)
    return PRESS.replace("  fasteners\n", f"{added}  fasteners\n")


def _acts(text: str) -> list[str]:
    from walk_support import acts

    return acts(walk(text))


def test_lines_that_would_be_torn_are_disconnected() -> None:
    machine = _with_parts('valve "valve" behind wheel')
    text = job("isolate supply\nreach valve", machine=machine)
    assert _acts(text)[4:] == [
        "undo guard-screw",
        "remove guard",
        "undo plate-bolt",
        "remove plate",
        "disconnect cable",
        "unlock wheel-tab",
        "undo wheel-nut",
        "remove wheel",
    ]


def test_what_holds_oil_stays_shut_until_it_is_drained() -> None:
    machine = _with_parts('lid "lid" contains sump-oil', 'valve "valve" behind lid')
    assert rules(job("reach valve", machine=machine)) == ["cannot-reach"]
    assert "remove lid" in _acts(job("drain sump-oil\nreach valve", machine=machine))


def test_the_section_says_where_it_comes_from() -> None:
    (section,) = [s for s in sections(walk(job("isolate supply\nreach gasket"))) if s.origin]
    assert (section.id, section.title) == ("reach-gasket", "gasket")
    assert section.origin[-1].kind == "reach"


def test_parts_behind_each_other_cannot_be_reached() -> None:
    things = _things({"a": ("b",), "b": ("a",), "c": ("a",)}, {}, ())
    assert shortest_way(build_assembly(things), State(), ("c", "")) == Blocked()


# --- Against trying out everything ------------------------------------------------------------

NAMES = tuple("abcdefg")


def _things(
    behind: Mapping[str, tuple[str, ...]], on: Mapping[str, str], guards: tuple[str, ...]
) -> dict[str, AnyThing]:
    """Return parts, and for each a screw that is behind what the part is behind."""
    things: dict[str, AnyThing] = {
        "live": Energy(key="live", name="live", label="", span=HERE, owner="x", kind="electrical")
    }
    for at, name in enumerate(NAMES):
        things[name] = Part(
            key=name,
            name=name,
            label=name,
            span=Span("x.proc", at, at),
            owner="x",
            behind=tuple(Selection(HERE, other) for other in behind.get(name, ())),
            on=Selection(HERE, on[name]) if name in on else None,
            guards=("live",) if name in guards else (),
        )
    return things


@st.composite
def assemblies(draw: st.DrawFn) -> tuple[dict[str, AnyThing], bool]:
    """Draw parts behind and on each other, some of them guards, and whether the energy is off."""
    behind = {
        name: tuple(sorted(draw(st.sets(st.sampled_from(NAMES), max_size=2)) - {name}))
        for name in NAMES
    }
    on: dict[str, str] = {}
    for at, name in enumerate(NAMES[1:], start=1):
        carrier = draw(st.sampled_from((None, None, *NAMES[:at])))
        if carrier is not None:
            on[name] = carrier
    guards = tuple(draw(st.sets(st.sampled_from(NAMES), max_size=2)))
    return _things(behind, on, guards), draw(st.booleans())


def _chain(things: Mapping[str, AnyThing], name: str) -> list[str]:
    found = [name]
    part = things[name]
    while isinstance(part, Part) and part.on is not None:
        found.append(part.on.key)
        part = things[part.on.key]
    return found


def _free(things: Mapping[str, AnyThing], name: str, off: frozenset[str]) -> bool:
    """Return whether nothing stands in the way of `name`; written without looking at `reach.py`."""
    mine = _chain(things, name)
    for level, each in enumerate(mine):
        if level and each in off:
            break  # what carries it lies on the bench: what that was behind does not matter
        part = things[each]
        for blocker in part.behind if isinstance(part, Part) else ():
            around = [x for x in _chain(things, blocker.key) if x not in mine]
            if not off.intersection(around):
                return False
    return True


def _fewest(things: Mapping[str, AnyThing], goal: str, live: bool) -> int | None:
    """Return the fewest removals by trying out all orders, None when the goal cannot be reached."""
    first: frozenset[str] = frozenset()
    waiting = deque([first])
    seen = {first}
    while waiting:
        off = waiting.popleft()
        if _free(things, goal, off):
            return len(off)
        for name in NAMES:
            part = things[name]
            guarded = isinstance(part, Part) and part.guards and live
            if name in off or name == goal or guarded or not _free(things, name, off):
                continue
            more = off | {name}
            if more not in seen:
                seen.add(more)
                waiting.append(more)
    return None


@settings(max_examples=400)
@given(assemblies(), st.sampled_from(NAMES))
def test_the_way_is_as_short_as_trying_everything_out(
    drawn: tuple[dict[str, AnyThing], bool], goal: str
) -> None:
    things, isolated = drawn
    state = State({("live", ""): ISOLATED} if isolated else {})
    found = shortest_way(build_assembly(things), state, (goal, ""))
    fewest = _fewest(things, goal, not isolated)
    if isinstance(found, Blocked):
        assert fewest is None
        return
    assert len(found.units) == fewest
    off: frozenset[str] = frozenset()
    for name, _ in found.units:
        assert _free(things, name, off)
        off |= {name}
    assert _free(things, goal, off)


def test_the_way_is_the_same_each_time() -> None:
    things = _things({"g": ("a", "b"), "a": ("c",), "b": ("c",)}, {}, ())
    found = shortest_way(build_assembly(things), State(), ("g", ""))
    assert found == Way((("c", ""), ("a", ""), ("b", "")))


def test_a_long_row_is_quick() -> None:
    """Sixty parts, each behind the one before: no search is needed, only the row."""
    span = HERE
    things: dict[str, AnyThing] = {}
    for at in range(60):
        behind = (Selection(span, f"p{at - 1}"),) if at else ()
        things[f"p{at}"] = Part(
            key=f"p{at}", name=f"p{at}", label="", span=span, owner="x", behind=behind
        )
    things["screw"] = Fastener(
        key="screw",
        name="screw",
        label="",
        span=span,
        owner="x",
        designation=parse_designation("M6×16 ISO 4762 8.8")[0],
        said_at=span,
        holds=(Selection(span, "p59"),),
    )
    assembly: Assembly = build_assembly(things)
    found = shortest_way(assembly, State(), ("screw", ""))
    assert isinstance(found, Way)
    assert len(found.units) == 59


def test_a_search_that_is_given_up_says_so_within_seconds() -> None:
    """Ten layers that carry each other and stand behind the next: nobody knows the shortest way."""
    lines = ['procedure job "Job"', "  revision A 2026-11-02", "  parts"]
    lines.append('    goal "goal" behind a0')
    for at in range(10):
        behind = f" behind a{at + 1}" if at < 9 else ""
        lines.append(f'    a{at} "a" on b{at}{behind}')
        lines.append(f'    b{at} "b" on c{at}{behind}')
        lines.append(f'    c{at} "c"{behind}')
    began = process_time()
    found, findings = walked("\n".join([*lines, "  reach goal", ""]), of_model="")
    assert process_time() - began < 5
    assert not found.nodes
    assert [one.rule for one in findings] == ["cannot-reach"]
    assert "too tangled" in findings[0].message
    assert "circle" not in findings[0].message


def test_a_row_of_two_hundred_is_not_tangled() -> None:
    things: dict[str, AnyThing] = {
        f"p{at}": Part(
            key=f"p{at}",
            name=f"p{at}",
            label="",
            span=HERE,
            owner="x",
            behind=(Selection(HERE, f"p{at + 1}"),) if at < 200 else (),
        )
        for at in range(201)
    }
    found = shortest_way(build_assembly(things), State(), ("p0", ""))
    assert isinstance(found, Way)
    assert len(found.units) == 200
