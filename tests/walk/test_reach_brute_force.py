"""`reach` on small assemblies drawn at random, against trying out every order of removals.

Parts stand behind each other, lie on each other, are held by screws that stand behind something
themselves, and are guards. The rules are written out here anew, over sets of letters: a fault in
the way that is worked out does not hide behind the same fault here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from hypothesis import event, given, settings
from hypothesis import strategies as st
from walk_support import walked

from compiler.model import AnyThing, Energy, Fastener, Part, Selection
from compiler.source import Span
from compiler.trade.designation import parse_designation
from compiler.walk.assembly import build_assembly
from compiler.walk.reach import Blocked, Way, shortest_way
from compiler.walk.state import ISOLATED, State

NAMES = "abcdef"
SCREW = parse_designation("M6×16 ISO 4762 8.8")[0]


@dataclass(frozen=True, slots=True)
class Drawn:
    """An assembly in letters. A screw has the letter of what it holds."""

    behind: dict[str, str]
    screw_behind: dict[str, str]
    on: dict[str, str]
    guards: frozenset[str]
    live: bool

    def carriers(self, name: str) -> list[str]:
        """Return a part and what carries it, the nearest first."""
        found = [name]
        while found[-1] in self.on:
            found.append(self.on[found[-1]])
        return found

    def clear(self, name: str, blockers: str, off: frozenset[str]) -> bool:
        """Return whether none of the blockers is in the way; one under `name` too is no way out."""
        own = self.carriers(name)
        return all(
            any(each in off for each in self.carriers(blocker) if each not in own)
            for blocker in blockers
        )

    def reached(self, goal: str, off: frozenset[str]) -> bool:
        """Return whether nothing stands in the way of a part, or of what carries it and is on."""
        for at, each in enumerate(self.carriers(goal)):
            if at and each in off:
                break
            if not self.clear(goal, self.behind[each], off):
                return False
        return True

    def comes_off(self, name: str, off: frozenset[str]) -> bool:
        """Return whether a part can be taken off: reached, and so are its screws."""
        return self.reached(name, off) and self.clear(name, self.screw_behind.get(name, ""), off)

    def opens(self, name: str, off: frozenset[str]) -> bool:
        """Return whether a live energy lies open when a part comes off: a guard goes with it."""
        going = {other for other in NAMES if name in self.carriers(other) and other not in off}
        return self.live and bool(going & self.guards)


def fewest(drawn: Drawn, goal: str) -> int | None:
    """Return the fewest removals by trying out all orders, None when there is no safe one."""
    edge, seen, count = {frozenset[str]()}, {frozenset[str]()}, 0
    while edge:
        if any(drawn.reached(goal, off) for off in edge):
            return count
        edge = set(chain.from_iterable(_further(drawn, goal, off) for off in edge)) - seen
        seen |= edge
        count += 1
    return None


def _further(drawn: Drawn, goal: str, off: frozenset[str]) -> Iterator[frozenset[str]]:
    for name in NAMES:
        if name in off or name == goal or drawn.opens(name, off):
            continue
        if drawn.comes_off(name, off):
            yield off | {name}


def things_of(drawn: Drawn) -> dict[str, AnyThing]:
    """Return the same as things of a machine."""
    here = Span("x.proc", 0, 0)
    things: dict[str, AnyThing] = {
        "live": Energy(key="live", name="live", label="", span=here, owner="x", kind="electrical")
    }
    for at, name in enumerate(NAMES):
        things[name] = Part(
            key=name,
            name=name,
            label=name,
            span=Span("x.proc", at, at),
            owner="x",
            behind=tuple(Selection(here, other) for other in drawn.behind[name]),
            on=Selection(here, drawn.on[name]) if name in drawn.on else None,
            guards=("live",) if name in drawn.guards else (),
        )
    for name, behind in drawn.screw_behind.items():
        things[f"{name}-screw"] = Fastener(
            key=f"{name}-screw",
            name=f"{name}-screw",
            label="",
            span=here,
            owner="x",
            designation=SCREW,
            said_at=here,
            holds=(Selection(here, name),),
            behind=tuple(Selection(here, other) for other in behind),
        )
    return things


@st.composite
def assemblies(draw: st.DrawFn) -> Drawn:
    """Draw an assembly."""

    def some(name: str, most: int) -> str:
        return "".join(sorted(draw(st.sets(st.sampled_from(NAMES), max_size=most)) - {name}))

    on = {}
    for at, name in enumerate(NAMES[1:], start=1):
        carrier = draw(st.sampled_from((None, None, None, *NAMES[:at])))
        if carrier is not None:
            on[name] = carrier
    return Drawn(
        {name: some(name, 2) for name in NAMES},
        {name: some(name, 1) for name in NAMES if draw(st.booleans())},
        on,
        frozenset(draw(st.sets(st.sampled_from(NAMES), max_size=2))),
        draw(st.booleans()),
    )


@settings(max_examples=200)
@given(assemblies(), st.sampled_from(NAMES))
def test_the_way_is_the_shortest_that_opens_nothing_live(drawn: Drawn, goal: str) -> None:
    state = State({} if drawn.live else {("live", ""): ISOLATED})
    found = shortest_way(build_assembly(things_of(drawn)), state, (goal, ""))
    least = fewest(drawn, goal)
    event("blocked" if least is None else f"{least} to take off")
    if isinstance(found, Blocked):
        assert least is None
        return
    off: frozenset[str] = frozenset()
    for name, _ in found.units:
        assert drawn.comes_off(name, off)
        assert not drawn.opens(name, off)
        off |= {name}
    assert drawn.reached(goal, off)
    assert len(found.units) == least


def test_a_guard_does_not_come_off_with_what_carries_it() -> None:
    drawn = Drawn(dict.fromkeys(NAMES, "") | {"c": "a"}, {}, {"b": "a"}, frozenset("b"), live=True)
    assembly = build_assembly(things_of(drawn))
    assert shortest_way(assembly, State(), ("c", "")) == Blocked(("a", ""), ("live", ""))
    safe = State({("live", ""): ISOLATED})
    assert shortest_way(assembly, safe, ("c", "")) == Way((("a", ""),))


def test_it_is_told_which_guard_would_go_along() -> None:
    text = (
        'procedure job "P"\n  revision A 2026-10-05\n  energy\n'
        '    supply electrical "400 V three-phase"\n      isolate at "switch Q3"\n'
        '      verify "all phases dead"\n  parts\n    frame "frame"\n'
        '    guard "belt guard"  on frame  guards supply\n    belt "belt"  behind frame\n'
        "  {}reach belt\n"
    )
    found = walked(text.format(""), of_model="")[1]
    assert [one.rule for one in found] == ["cannot-reach"]
    assert "supply is not isolated" in found[0].message
    assert walked(text.format("isolate supply\n  "), of_model="")[1] == ()
