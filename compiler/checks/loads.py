"""What hangs on the hook: the mass of a part with what is on it, and masses that cannot be.

A mass that is written is that of the part as it comes off, with all that is `on` it; what `without`
names is added while it is on. Nothing is taken off a mass: too heavy is the safe side.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding, Label
from compiler.model import Amount, AnyThing, Part
from compiler.source import Span
from compiler.trade.units import Quantity, format_quantity
from compiler.walk.assembly import Assembly, Unit, build_assembly
from compiler.walk.state import State


@dataclass(frozen=True, slots=True)
class Load:
    """A mass to be lifted, and the names of what was added to the one that is written."""

    mass: Amount
    added: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """Return ` with motor` behind a mass that is more than what is written."""
        return f" with {_and(self.added)}" if self.added else ""


def load_of(
    job: Job, state: State, unit: Unit, above: frozenset[Unit] = frozenset()
) -> Load | None:
    """Return what a part weighs at a moment, with all that is on it then; None if not known.

    `above` is what carries it and was looked at: things that carry each other have no end.
    """
    part = job.assembly.part(unit)
    if part is None or part.mass is None or unit in above:
        return None
    left_out = _left_out(job.assembly, unit, part)
    total, over = _most(part.mass), part.mass.qualifier == "over"
    added: list[str] = []
    for other in left_out:
        between = tuple(_between(job.assembly, other, unit))
        on = all(state.part(one).seat != "off" for one in between)
        child, load = job.assembly.part(other), load_of(job, state, other, above | {unit})
        # What is on something that is left out itself is in the mass of that one.
        if not on or child is None or load is None or any(one in left_out for one in between[1:]):
            continue
        total += _most(load.mass) * child.count
        added += [child.name, *load.added]
        over = over or load.mass.qualifier == "over"
    if not added:
        return Load(part.mass)
    low = Quantity(total, "kg", f"{float(total):.3g}")
    mass = Amount(part.mass.span, low, qualifier="over" if over else part.mass.qualifier)
    return Load(mass, tuple(dict.fromkeys(added)))


def lighter_than_its_parts(subject: Subject) -> Iterator[Finding]:
    """Find masses that are less than what is on the part alone, which they are to hold."""
    seen: set[Span] = set()
    for things in _all_things(subject):
        if not any(isinstance(one, Part) and one.on is not None for one in things.values()):
            continue
        assembly = build_assembly(things)
        for thing in things.values():
            mass = thing.mass if isinstance(thing, Part) else None
            if isinstance(thing, Part) and mass is not None and mass.span not in seen:
                found = _too_light(assembly, thing, mass)
                if found is not None:
                    seen.add(mass.span)
                    yield found


def _all_things(subject: Subject) -> Iterator[Mapping[str, AnyThing]]:
    for machine in subject.world.machines.values():
        yield from (variant.things for variant in machine.variants)
    for procedure in subject.world.procedures.values():
        yield from (variant.things for variant in procedure.variants)


def _too_light(assembly: Assembly, part: Part, mass: Amount) -> Finding | None:
    if mass.qualifier == "over":
        return None
    for unit in assembly.units(part.key):
        left_out = _left_out(assembly, unit, part)
        on_it = [
            child
            for other in assembly.carried.get(unit, ())
            if other not in left_out and (child := assembly.part(other)) is not None
        ]
        total = sum((_least(child) for child in on_it), Fraction(0))
        if total > _most(mass):
            return _finding(part, mass, total, [child for child in on_it if _least(child)])
    return None


def _finding(part: Part, mass: Amount, total: Fraction, on_it: Iterable[Part]) -> Finding:
    parts = list(dict.fromkeys(on_it))
    names = [one.name for one in parts]
    whole = Quantity(total, "kg", f"{float(total):.4g}")
    return Finding(
        "quantity-sanity",
        mass.span,
        f"{part.name} is to weigh {format_quantity(mass.high or mass.low)} with what is on it, but "
        f"{_and(names)} alone {'weighs' if len(names) == 1 else 'weigh'} "
        f"{format_quantity(whole)}.",
        labels=tuple(
            Label(one.mass.span, "its mass is given here") for one in parts[:2] if one.mass
        ),
        hint=f"If the mass is that of {part.name} by itself, write `without {', '.join(names)}` "
        "behind it. Otherwise look at the numbers and their units.",
    )


def _left_out(assembly: Assembly, unit: Unit, part: Part) -> dict[Unit, None]:
    """Return what is on a part and not in its mass, in the order of their declaration."""
    named = {selection.key: selection.members for selection in part.without}
    return {
        other: None
        for other in assembly.load(unit)
        if other[0] in named
        and other != unit
        and (not named[other[0]] or other[1] in named[other[0]])
    }


def _between(assembly: Assembly, unit: Unit, carrier: Unit) -> Iterator[Unit]:
    """Yield a unit and what carries it, up to a carrier: all of it must be on."""
    for one in assembly.chain(unit):
        if one == carrier:
            return
        yield one


def _and(names: Sequence[str]) -> str:
    return " and ".join(names) if len(names) < 3 else f"{', '.join(names[:-1])} and {names[-1]}"


def _most(mass: Amount) -> Fraction:
    """Return the mass in kg, of a range its upper end."""
    return (mass.high or mass.low).si


def _least(part: Part) -> Fraction:
    """Return what a part weighs at least in kg, all there are of it; 0 where nobody knows."""
    if part.mass is None or part.mass.qualifier in ("under", "about"):
        return Fraction(0)
    return part.mass.low.si * part.count
