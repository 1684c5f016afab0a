"""The demo is whole: it compiles without a finding and has every kind of job that was promised."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from datetime import date
from xml.etree import ElementTree

import demo_support as demo

from compiler import model as m
from compiler import syntax as s
from compiler.derive.lists import Derived
from compiler.source import KEPT, LEDGER
from compiler.trade.units import Quantity
from compiler.walk.nodes import Act, Deed, StepNode, Target, Walk

FIRST_PLANNED = date(2026, 11, 26)
"""The day after the demo was last gone through: visits lie after it, revisions before."""


def world() -> m.World:
    """Return the model of the demo."""
    return demo.compiled().world


def procedures() -> list[m.Procedure]:
    """Return the procedures, without the shared blocks."""
    return [p for p in world().procedures.values() if not p.is_block]


def walks() -> Iterator[Walk]:
    """Yield every walk-through of a procedure."""
    names = {p.key for p in procedures()}
    return (walk for (key, _), walk in demo.compiled().walks.items() if key in names)


def acts(walk: Walk) -> list[Act]:
    """Return the acts of a walk-through in the order in which they are done."""
    return [thing for thing in demo.inside(walk.nodes) if isinstance(thing, Act)]


def of(act: Act) -> tuple[str, ...]:
    """Return the keys of what an act is done to."""
    return act.keys()


def keys(walk: Walk, deed: Deed) -> list[str]:
    """Return the keys of all that a deed is done to in a walk-through."""
    return [key for act in acts(walk) if act.deed is deed for key in of(act)]


def all_keys(deed: Deed) -> set[str]:
    """Return the keys of all that a deed is done to anywhere in the demo."""
    return {key for walk in walks() for key in keys(walk, deed)}


def kilograms(amount: m.Amount | None) -> float:
    """Return a mass in kilograms, 0 for one that is not known."""
    if amount is None:
        return 0
    assert amount.low.unit == "kg"
    return float(amount.low.value)


def test_it_compiles_without_any_finding() -> None:
    assert demo.folder().findings == ()
    assert [f"{f.span.file}: {f.rule}: {f.message}" for f in demo.compiled().findings] == []


def test_every_procedure_was_walked_through_on_every_model() -> None:
    expected = {(p.key, v.model) for p in world().procedures.values() for v in p.variants}
    assert set(demo.compiled().walks) == expected


def test_there_are_machines_and_procedures_enough() -> None:
    assert len(world().machines) >= 5
    assert len(procedures()) >= 14
    served = Counter(p.machine for p in procedures())
    assert all(served[name] >= 1 for name in world().machines)


def test_jobs_are_of_all_sizes() -> None:
    sizes = [sum(isinstance(n, StepNode) for n in demo.inside(w.nodes)) for w in walks()]
    assert min(sizes) <= 15
    assert sum(40 <= size <= 120 for size in sizes) >= 3


def test_a_machine_is_set_up_and_levelled() -> None:
    (set_up,) = (p for p in procedures() if p.name == "set-up-filler")
    assert sum(end.kind == "starts" and end.state == "off" for end in set_up.ends) >= 5
    tools = {key for act in acts(demo.compiled().walks[set_up.key, ""]) for key in _with(act)}
    assert "spirit-level" in {tool_kind(key) for key in tools}


def test_a_flange_is_tightened_in_a_star_pattern_in_passes() -> None:
    stars = {
        key
        for key, fastener in demo.things(m.Fastener).items()
        if fastener.sequence.pattern == "star" and len(fastener.sequence.passes) >= 3
    }
    tightened = all_keys(Deed.TIGHTEN)
    assert "mixer/flange-bolt" in stars & tightened
    assert demo.things(m.Fastener)["mixer/flange-bolt"].total >= 8


def test_a_hub_is_held_by_a_pin_and_what_is_before_it_by_a_ring() -> None:
    fasteners = demo.things(m.Fastener)
    assert _held(fasteners["labeller/hub-pin"]) == {"labeller/hub"}
    assert fasteners["labeller/hub-pin"].designation.text.startswith("spring-pin")
    ring = fasteners["labeller/drum-ring"]
    assert ring.designation.text.startswith("retaining-ring")
    hub = demo.things(m.Part)["labeller/hub"]
    assert {selection.key for selection in hub.behind} == _held(ring)


def test_a_nozzle_block_moves_to_another_station() -> None:
    walk = demo.compiled().walks["block-to-station-3", ""]
    assert set(keys(walk, Deed.MOVE)) == {"filler/nozzle-block", "filler/blanking-cap"}
    places = {p.key: p for p in demo.things(m.Place).values()}
    assert len(places["filler/station"].members) == 4


def test_isolation_and_opening_are_shared() -> None:
    followed = Counter(step.target for step in demo.models_of(m.FollowStep))
    assert followed["pump-isolation"] >= 2
    assert followed["open-pump"] >= 2
    halves = {step.half for step in demo.models_of(m.FollowStep)}
    assert halves == {"", "way in", "way back"}


def test_models_differ() -> None:
    with_models = [machine for machine in world().machines.values() if len(machine.models) > 1]
    assert len(with_models) >= 2
    for machine in with_models:
        first, second = (dict(v.things) for v in machine.variants[:2])
        assert first != second


def test_a_measurement_with_limits_decides_what_is_done() -> None:
    asked = {c.subject for c in demo.models_of(m.StateIs) if c.state in ("out", "above", "below")}
    limited = {step.name for step in demo.models_of(m.MeasureStep) if step.limits}
    assert len(asked & limited) >= 5


def test_single_use_parts_are_renewed() -> None:
    renewed = {key for walk in walks() for act in acts(walk) if act.new_part for key in of(act)}
    parts = {key for key, part in demo.things(m.Part).items() if part.renew}
    fasteners = {key for key, fastener in demo.things(m.Fastener).items() if fastener.renew}
    assert len(parts & renewed) >= 10
    assert len(fasteners & renewed) >= 4


def test_what_is_too_heavy_is_lifted_with_gear() -> None:
    shop = world().shop
    assert shop is not None
    assert shop.lift_limit is not None
    limit = float(shop.lift_limit.value)
    heavy = {k for k, part in demo.things(m.Part).items() if kilograms(part.mass) > limit}
    supported = all_keys(Deed.SUPPORT)
    assert len(heavy & supported) >= 4
    gear = [t for t in demo.things(m.Tool).values() if t.lifts is not None]
    heaviest = max(kilograms(demo.things(m.Part)[k].mass) for k in heavy & supported)
    assert max(float(_quantity(t.lifts).value) for t in gear) > heaviest


def test_nothing_too_heavy_is_taken_off_without_a_support() -> None:
    """The lift limit is the shop's own; what is stated is common practice, no source."""
    for walk in walks():
        shop = world().shop
        assert shop is not None
        limit = float(_quantity(shop.lift_limit).value)
        parts = demo.things(m.Part)
        held: set[str] = set()
        for act in acts(walk):
            if act.deed is Deed.SUPPORT:
                held |= set(of(act))
            if act.deed is Deed.LET_GO:
                held -= set(of(act))
            if act.deed is Deed.REMOVE:
                heavy = {k for k in of(act) if k in parts and kilograms(parts[k].mass) > limit}
                assert heavy <= held, walk.procedure


def test_isolation_is_proved_before_anything_comes_off() -> None:
    """29 CFR 1910.147 (d)(3) to (d)(6): isolate, lock, relieve, verify, and only then work."""
    for walk in walks():
        order = (Deed.SHUT_DOWN, Deed.ISOLATE, Deed.LOCK_OUT, Deed.DISCHARGE, Deed.VERIFY)
        deeds = [act.deed for act in acts(walk)]
        if Deed.ISOLATE not in deeds or _starts_isolated(walk):
            continue
        first = [deeds.index(deed) for deed in order if deed in deeds]
        assert first == sorted(first), walk.procedure
        off = [i for i, deed in enumerate(deeds) if deed in (Deed.REMOVE, Deed.UNDO)]
        assert not off or first[-1] < off[0], walk.procedure


def test_guards_are_back_before_their_energy_is() -> None:
    """29 CFR 1910.147 (e)(1): parts operationally intact before release from lockout."""
    for walk in walks():
        parts = demo.things(m.Part)
        off: set[str] = set()
        for act in acts(walk):
            guards = {k for k in of(act) if k in parts and parts[k].guards}
            if act.deed is Deed.REMOVE:
                off |= guards
            if act.deed is Deed.FIT:
                off -= guards
            if act.deed is Deed.ENERGIZE:
                live = set(of(act))
                assert not [g for g in off if live & set(parts[g].guards)], walk.procedure


def test_nothing_that_guards_or_holds_back_an_energy_comes_off_while_it_is_live() -> None:
    """29 CFR 1910.147 (d)(6): isolation is verified before the work starts."""
    parts = demo.things(m.Part)
    energies = set(demo.things(m.Energy))
    for walk in walks():
        ends = world().procedures[walk.procedure].ends
        dead = {e.subject.key for e in ends if e.kind == "starts" and e.state == "isolated"}
        for act in acts(walk):
            if act.deed is Deed.VERIFY:
                dead |= set(of(act))
            if act.deed is Deed.ENERGIZE:
                dead -= set(of(act))
            if act.deed is Deed.REMOVE:
                for part in (parts[key] for key in of(act) if key in parts):
                    behind = energies & {*part.guards, *part.contains}
                    assert behind <= dead, (walk.procedure, part.name, behind - dead)


def test_aids_come_out_again() -> None:
    for walk in walks():
        put = Counter(keys(walk, Deed.PUT_AID))
        taken = Counter(keys(walk, Deed.TAKE_AID))
        assert put == taken, walk.procedure


def test_people_are_told_what_can_hurt_them_how_and_how_to_avoid_it() -> None:
    messages = demo.models_of(m.Safety)
    assert {message.signal for message in messages} == {"danger", "warning", "caution", "notice"}
    for message in messages:
        if message.signal != "notice":
            assert message.hazard
            assert message.avoid is not None, message.span


def test_drawings_are_our_own_and_their_marks_fall_on_them() -> None:
    pictures = {picture.path: picture for picture in demo.models_of(m.Picture)}
    assert len(pictures) >= 8
    for path, picture in pictures.items():
        assert path.endswith(".svg")
        root = ElementTree.fromstring((demo.DEMO / path).read_bytes())
        assert root.get("viewBox"), path
        assert root.find("{http://www.w3.org/2000/svg}title") is not None, path
        numbers = [mark.number for mark in picture.marks]
        assert numbers == list(range(1, len(numbers) + 1)), path
        assert len({(mark.x, mark.y) for mark in picture.marks}) == len(numbers), path
        for mark in picture.marks:
            assert 0.02 <= mark.x <= 0.98, path
            assert 0.02 <= mark.y <= 0.98, path


def test_every_drawing_and_clip_is_shown_somewhere() -> None:
    shown = {p.path for p in demo.models_of(m.Picture)} | {c.path for c in demo.models_of(m.Clip)}
    there = {
        path.relative_to(demo.DEMO).as_posix()
        for path in demo.DEMO.rglob("*")
        if path.is_file() and path.suffix != ".proc" and path.name not in (LEDGER, KEPT)
    }
    assert shown == there


def test_a_clip_is_short() -> None:
    clips = demo.models_of(m.Clip)
    assert clips
    for clip in clips:
        assert 0 <= clip.start < clip.end <= 60
        assert (demo.DEMO / clip.path).stat().st_size < 500_000


def test_visits_are_planned_and_can_be_done() -> None:
    visits = list(world().visits.values())
    assert len(visits) == 2
    crib = [t for t in demo.things(m.Tool).values() if t.calibrated_until is not None]
    for visit in visits:
        assert visit.day is not None
        assert visit.day >= FIRST_PLANNED
        assert visit.day.weekday() < 5
        for tool in crib:
            assert tool.calibrated_until is not None
            assert tool.calibrated_until >= visit.day, tool.key
        needed = [world().procedures[job.procedure].people for job in visit.jobs]
        assert max(needed) <= visit.crew
        seen: set[str] = set()
        for job in visit.jobs:
            assert set(job.after) <= seen, job.id
            seen.add(job.id)


def test_revisions_are_not_from_the_future() -> None:
    for procedure in procedures():
        assert procedure.revision is not None
        assert procedure.revision.day is not None
        assert procedure.revision.day < FIRST_PLANNED


def test_the_crib_is_one_that_a_workshop_could_have() -> None:
    shop = world().shop
    assert shop is not None
    tools = [t for t in shop.things.values() if isinstance(t, m.Tool)]
    wrenches = [t for t in tools if t.kind == "torque-wrench"]
    assert len(wrenches) >= 3
    for wrench in wrenches:
        assert wrench.range is not None
        assert wrench.range.high is not None
        most = float(wrench.range.high.value)
        # ISO 6789-1:2017, 5.1.5, from memory: 6 % up to 10 N·m, 4 % above.
        assert float(_quantity(wrench.accuracy).value) == (6 if most <= 10 else 4)
        assert wrench.calibrated_until is not None
        assert wrench.tag
    tags = [t.tag for t in tools if t.tag]
    assert len(tags) == len(set(tags))
    assert len(shop.rules) >= 4


def test_no_tool_is_missing_from_the_crib() -> None:
    for derived in _derived():
        assert not [tool.label for tool in derived.tools if not tool.key]


def test_nothing_conveys() -> None:
    word = re.compile(r"convey|roller track|belt line", re.IGNORECASE)
    for source in demo.folder().sources:
        assert not word.search(source.text), source.path


def test_what_is_written_is_plain() -> None:
    """No filler: words that ask for judgement without saying how (common practice, no source)."""
    word = re.compile(
        r"\b(properly|as required|as needed|if necessary|carefully|make sure|ensure|adequate\w*|"
        r"sufficient\w*|appropriate\w*|please|simply|just make)\b",
        re.IGNORECASE,
    )
    for text in demo.syntax_of(s.Text):
        assert not word.search(text.value), text.value


def test_sentences_are_short() -> None:
    """ASD-STE100 rule 5.1, read second-hand: a procedural sentence has at most 20 words."""
    for text in demo.syntax_of(s.Text):
        for sentence in re.split(r"[.!?:;]\s", text.value):
            assert len(sentence.split()) <= 20, text.value


def test_titles_and_names_are_short_and_no_name_is_used_for_two_things() -> None:
    for procedure in procedures():
        assert len(procedure.title) <= 48
    for machine in world().machines.values():
        for variant in machine.variants:
            labels = Counter(
                thing.label
                for thing in variant.things.values()
                if isinstance(thing, m.Part) and thing.owner == machine.name
            )
            assert not [label for label, count in labels.items() if count > 1], machine.name


def test_restored_energy_is_what_was_isolated() -> None:
    """Nobody leaves a lock behind: a job restores what it isolates, or says that it leaves it."""
    for walk in walks():
        procedure = world().procedures[walk.procedure]
        isolated = set(keys(walk, Deed.ISOLATE))
        restored = set(keys(walk, Deed.ENERGIZE))
        left = {e.subject.key for e in procedure.ends if e.kind == "leaves"}
        assert isolated - restored <= left, walk.procedure


# --- Small helpers ----------------------------------------------------------------------------


def tool_kind(key: str) -> str:
    """Return the kind of a tool, '' for no tool."""
    tool = demo.things(m.Tool).get(key)
    return tool.kind if tool is not None else ""


def _with(act: Act) -> set[str]:
    """Return the keys of what an act is done with."""
    return {
        spot.key
        for phrase in act.phrases
        if phrase.word == "with"
        for spot in phrase.operands
        if isinstance(spot, Target)
    }


def _held(fastener: m.Fastener) -> set[str]:
    return {selection.key for selection in fastener.holds}


def _quantity(quantity: Quantity | None) -> Quantity:
    assert quantity is not None
    return quantity


def _starts_isolated(walk: Walk) -> bool:
    ends = world().procedures[walk.procedure].ends
    return any(end.kind == "starts" and end.state == "isolated" for end in ends)


def _derived() -> list[Derived]:
    return list(demo.compiled().derived.values())
