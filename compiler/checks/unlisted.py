"""A fastener of which nothing tells the tool: it has no standard, or one that is not known here,
often by a slip of the fingers.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.subject import Job, Subject
from compiler.derive.tightening import is_by_hand, own_phrases
from compiler.findings.model import Finding
from compiler.model import Fastener, Tool, World
from compiler.trade.designation import Designation
from compiler.trade.standards import has_thread, is_listed, is_number, kind_of, nearest
from compiler.trade.wrenching import drive_of, hand_need
from compiler.walk.assembly import turns
from compiler.walk.nodes import Act, Deed, Target

_TURNED = frozenset({Deed.UNLOCK, Deed.SLACKEN, Deed.UNDO, Deed.TIGHTEN, Deed.LOCK})
_NO_HEAD_TEXT = """
    fastener, screw, bolt, set screw, button head screw, countersunk screw, shoulder screw
"""
_NO_HEAD = frozenset(kind.strip() for kind in _NO_HEAD_TEXT.split(","))
"""Kinds that say nothing of the head or of its size."""


def unlisted_standard(subject: Subject) -> Iterator[Finding]:
    """Find standards that are not known here, where nobody says what turns the fastener either."""
    named = {key for key, always in _turned_and_named(subject).items() if always}
    for fastener in _fasteners(subject.world):
        what = fastener.designation
        number = what.standard.partition(" ")[2]
        if not number or is_listed(what.standard) or not is_number(number):
            continue
        if not _says_tool(fastener) and fastener.key not in named:
            yield from _unlisted(fastener)


def tool_not_said(subject: Subject) -> Iterator[Finding]:
    """Find fasteners that get a torque while neither line nor step says what turns them.

    What is only put in or slackened may be a knob or a wing; a torque needs a bit on the wrench.
    """
    turned = _turned_and_named(subject)
    for fastener in _fasteners(subject.world):
        what, tight = fastener.designation, fastener.tightening
        if turned.get(fastener.key, True) or tight is None or tight.how != "torque":
            continue
        if what.standard or drive_of(what) is not None or what.kind not in _NO_HEAD:
            continue
        yield Finding(
            "tool-not-said",
            fastener.said_at,
            f"{fastener.name} gets a torque, but nothing says what turns it, so no bit or socket "
            "is on the tool list.",
            hint=_say_what_turns(what),
        )


def _say_what_turns(what: Designation) -> str:
    """Return what to write: sizes as the thread has them, and no head for what has none."""
    is_inch = what.thread[:1].isdigit() or what.thread.startswith("#")
    socket, hexagon = ("3/16 in", "7/16 in") if is_inch else ("5 mm", "13 mm")
    if what.kind == "set screw":
        return (
            f"Write its standard, such as ISO 4026, or the size of its socket: `hex key {socket}`."
        )
    return (
        "Write its standard, such as ISO 4762 or ISO 4017, or the size of its head: "
        f"`across flats {hexagon}`, `hex key {socket}`."
    )


def _unlisted(fastener: Fastener) -> Iterator[Finding]:
    """Yield the finding; where the word before tells the tool, only for what looks like a slip."""
    what = fastener.designation
    near = [other for other in nearest(what.standard, most=20) if _may_be(what, other)]
    known = _is_known_without(what)
    if known:
        near = [other for other in near if _last(kind_of(other)) == _last(what.kind)]
        if not near:
            return
    so = "" if known else f", so what turns {fastener.name} cannot be worked out"
    yield Finding(
        "unlisted-standard",
        fastener.said_at,
        f"{what.standard} is not among the standards that are known here{so}.",
        hint=_hint(near[:3], known),
    )


def _fasteners(world: World) -> Iterator[Fastener]:
    """Yield every fastener of the folder, those of machines without a procedure as well."""
    seen: set[str] = set()
    variants = [v for machine in world.machines.values() for v in machine.variants]
    variants += [v for procedure in world.procedures.values() for v in procedure.variants]
    for variant in variants:
        for key, thing in variant.things.items():
            if isinstance(thing, Fastener) and key not in seen:
                seen.add(key)
                yield thing


def _says_tool(fastener: Fastener) -> bool:
    """Return whether the line itself says what turns it: a size, or fingers."""
    by_fingers = fastener.tightening is not None and fastener.tightening.how == "hand-tight"
    return by_fingers or fastener.designation.drive is not None


def _turned_and_named(subject: Subject) -> dict[str, bool]:
    """Return the fasteners that steps turn, with whether every such step names its tool."""
    found: dict[str, bool] = {}
    for job in subject.jobs:
        for flat in job.acts:
            for fastener in _turned(job, flat.act):
                found[fastener.key] = found.get(fastener.key, True) and _names_tool(job, flat.act)
    return found


def _turned(job: Job, act: Act) -> Iterator[Fastener]:
    """Yield the fasteners that an act takes a tool to."""
    for target in act.targets:
        thing = job.things.get(target.key) if isinstance(target, Target) else None
        if not isinstance(thing, Fastener) or is_by_hand(thing, act):
            continue
        if act.deed in _TURNED or (act.deed is Deed.START and not turns(thing)):
            yield thing


def _names_tool(job: Job, act: Act) -> bool:
    return any(
        isinstance(operand, Target) and isinstance(job.things.get(operand.key), Tool)
        for phrase in own_phrases(act)
        if phrase.word in ("with", "via")
        for operand in phrase.operands
    )


def _is_known_without(what: Designation) -> bool:
    """Return whether the word before it tells the tool, or that it takes none, just as well."""
    need = hand_need(what)
    if need.kind == "spanner":
        return bool(need.size)
    return need.kind != "none" or what.kind not in _NO_HEAD


def _may_be(what: Designation, standard: str) -> bool:
    """Return whether a listed standard can be the one that is meant, by what else is said."""
    kind = kind_of(standard)
    if what.thread and has_thread(kind):
        is_nut = kind.endswith("nut")
        return not is_nut if what.length else not kind.endswith(("screw", "bolt", "stud"))
    return bool(what.thread) or not (what.size and has_thread(kind))


def _last(kind: str) -> str:
    return kind.rpartition(" ")[2]


def _hint(near: list[str], known: bool) -> str:
    meant = " or ".join(f"{standard}, {kind_of(standard)}" for standard in near)
    if known:
        return f"Did you mean {meant}?"
    say = "say what turns it (`across flats 13 mm`, `hex key 5 mm`), or name the tool in each step"
    if not meant:
        return f"Look at the number. If it is right, {say}."
    return f"Did you mean {meant}? If the number is right, {say}."
