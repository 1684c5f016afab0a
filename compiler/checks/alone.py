"""What is declared and tied to nothing, though its name and the work say that it should be.

Names are not proof, so each of these asks for two signs: what a thing is called, and what a job
does with what it is called after.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import TypeVar

from compiler.checks.moments import moments_of
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding, Label
from compiler.model import AnyThing, Connection, Energy, Fastener, Part
from compiler.source import Span
from compiler.walk.assembly import turns
from compiler.walk.nodes import Deed
from compiler.walk.stored import without_device

_T = TypeVar("_T")
_TURNED = frozenset({Deed.SLACKEN, Deed.TIGHTEN, Deed.UNDO, Deed.START})
_OFF, _ON = frozenset({Deed.REMOVE}), frozenset({Deed.FIT})
_ALL = frozenset(Deed)
_COMES_OFF = frozenset({Deed.REMOVE, Deed.FIT})
_FASTENER_WORDS = frozenset(
    {"screw", "screws", "bolt", "bolts", "nut", "nuts", "stud", "studs", "knob"}
)
_SEAL_WORDS = re.compile(r"(?:^|[- ])(?:gasket|o[- ]?ring|joint|sealing[- ]ring)s?$", re.IGNORECASE)


def holds_nothing(subject: Subject) -> Iterator[Finding]:
    """Find screws that a job turns and that hold nothing, while what they are called after is
    taken off or put on as if nothing held it."""
    told: set[Span] = set()
    for job in subject.jobs:
        free = [thing for thing in job.things.values() if _is_free(thing)]
        moved, turned = (_spans(job, d) if free else {} for d in (_COMES_OFF, _TURNED))
        for fastener in free:
            part = _called_after(fastener.name, _things(job, moved, Part))
            if part is None or _is_held(job, part.key):
                continue
            own = fastener.owner == job.procedure.key
            if fastener.key not in turned and (own or not _is_locked(job, fastener)):
                continue  # told as unused
            if fastener.span in told:
                continue
            told.add(fastener.span)
            yield Finding(
                "holds-nothing",
                fastener.span,
                f"Nothing says what {fastener.name} holds, and nothing holds {part.name}.",
                (Label(moved[part.key], f"{part.name} comes off or goes on here"),),
                f"If it holds it, write on this line: holds {part.name}. Then `remove {part.name}` "
                "undoes it too, and the way back tightens it.",
            )


def gasket_alone(subject: Subject) -> Iterator[Finding]:
    """Find gaskets that are neither on nor behind what they are called after, where a job takes
    that off and puts it on again and leaves out the gasket, which another one speaks of.

    One that no job speaks of is told as unused.
    """
    told: set[Span] = set()
    gaskets_of = {id(job): _untied_gaskets(job) for job in subject.jobs}
    jobs = subject.jobs if any(gaskets_of.values()) else ()
    used = {key for job in jobs for key in _spans(job, _ALL)}
    for job in jobs:
        gaskets = [part for part in gaskets_of[id(job)] if part.key in used]
        off, back = (_spans(job, d) if gaskets else {} for d in (_OFF, _ON))
        for gasket in gaskets:
            stem = _SEAL_WORDS.sub("", gasket.name)
            parts = (part for part in _things(job, off, Part) if part.key != gasket.key)
            cover = _called_after(f"{stem}-screw", parts) if stem else None
            if cover is None or cover.key not in back or gasket.span in told:
                continue
            if gasket.key in _spans(job, _ALL) or not _is_loose(job, gasket):
                continue
            told.add(gasket.span)
            yield Finding(
                "gasket-alone",
                gasket.span,
                f"{cover.name} comes off and goes on again, and {gasket.name} is left out: nothing "
                "says where it sits.",
                (Label(back[cover.key], f"{cover.name} goes on here"),),
                f"Write on its line where it sits: on {cover.name}, if it comes off with it, or "
                f"behind {cover.name}; and `renew`, if it is single use.",
            )


def energy_alone(subject: Subject) -> Iterator[Finding]:
    """Find energies that nothing keeps in or people from, and that one job isolates before a part
    comes off, while another takes the same part off without."""
    safe: dict[tuple[str, str], Span] = {}
    live: dict[tuple[str, str], tuple[Energy, Span]] = {}
    alone = {id(job): tuple(untied(job)) for job in subject.jobs}
    for job, moment in moments_of(subject, Deed.REMOVE):
        span, keys = moment.doing.step.step.span, moment.doing.act.keys()
        for energy in alone[id(job)]:
            state = moment.before.state.energy((energy.key, ""))
            for key in keys:
                if state.isolated or state.discharged:
                    safe.setdefault((energy.key, key), span)
                else:
                    live.setdefault((energy.key, key), (energy, span))
    told: set[Span] = set()
    spans = set(safe.values())
    for pair, (energy, span) in live.items():
        first = safe.get(pair)
        if first is None or span in spans or energy.span in told:
            continue
        told.add(energy.span)
        part = pair[1].rpartition("/")[2]
        yield Finding(
            "energy-alone",
            energy.span,
            f"{part} comes off in one job with {energy.name} isolated, in another without. Which "
            f"is right cannot be told: nothing says what keeps {energy.name} in, or people from "
            "it.",
            (Label(first, "isolated here"), Label(span, "not isolated here")),
            f"Write it on the part that does: guards {energy.name}, or contains {energy.name}. "
            "Then every job that opens it is held to it.",
        )


def _is_free(thing: AnyThing) -> bool:
    """Return whether it is a fastener that is turned and is said to hold, lock and seal nothing."""
    if not isinstance(thing, Fastener) or thing.holds or thing.locks or thing.seals:
        return False
    return turns(thing)


def _is_locked(job: Job, fastener: AnyThing) -> bool:
    return any(job.assembly.lockers.get(unit) for unit in job.assembly.units(fastener.key))


def untied(job: Job) -> Iterator[Energy]:
    """Yield the energies that nothing is said to keep in or people from."""
    tied: set[str] = set()
    for thing in job.things.values():
        if isinstance(thing, Part):
            tied.update(thing.guards, thing.contains)
        elif isinstance(thing, Fastener):
            tied.update(thing.seals)
        elif isinstance(thing, Connection):
            tied.update(thing.contains, (thing.carries,))
    for thing in job.things.values():
        if isinstance(thing, Energy) and thing.key not in tied and not without_device(thing):
            yield thing


def _spans(job: Job, deeds: frozenset[Deed]) -> dict[str, Span]:
    """Return what such deeds of the author's are done to, each with the step of the last one."""
    if job.procedure.is_block:
        return {}
    found: dict[str, Span] = {}
    for flat in job.acts:
        if flat.act.deed in deeds and not flat.act.implied:
            found.update(dict.fromkeys(flat.act.keys(), flat.step.node.step.span))
    return found


def _things(job: Job, keys: Iterable[str], kind: type[_T]) -> list[_T]:
    return [thing for key in keys if isinstance(thing := job.things.get(key), kind)]


def _called_after(name: str, parts: Iterable[Part]) -> Part | None:
    """Return the one part that a screw is called after.

    `guard-screw` is called after `guard`; where there is none, after `belt-guard` or `guard-frame`.
    """
    *stem, last = name.split("-")
    if not stem or last not in _FASTENER_WORDS:
        return None
    words = [(part, part.name.split("-")) for part in parts]
    exact = [part for part, name in words if name == stem]
    ending = [part for part, name in words if name[-len(stem) :] == stem]
    chosen = exact or ending or [part for part, name in words if name[: len(stem)] == stem]
    return chosen[0] if len(chosen) == 1 else None


def _is_held(job: Job, key: str) -> bool:
    """Return whether something holds a part, or carries it."""
    units = job.assembly.units(key)
    return any(job.assembly.holders.get(u) or job.assembly.carriers.get(u) for u in units)


def _untied_gaskets(job: Job) -> list[Part]:
    """Return the gaskets whose own line ties them to nothing."""
    return [
        part
        for part in job.things.values()
        if isinstance(part, Part)
        and not (part.on or part.behind or part.spare_for or part.matched_with or part.at)
        and _SEAL_WORDS.search(part.name)
    ]


def _is_loose(job: Job, part: Part) -> bool:
    """Return whether nothing else is tied to a part."""
    assembly = job.assembly
    units = assembly.units(part.key)
    if _is_held(job, part.key) or any(assembly.carried.get(unit) for unit in units):
        return False
    return not any(unit in front for front in assembly.behind.values() for unit in units)
