"""Pages of machines: parts, fasteners and the rest, values that differ by model side by side."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from compiler.document.before import energy_view
from compiler.document.context import make_voice
from compiler.document.merge import Models, by_models
from compiler.document.model import (
    EnergyView,
    FastenerRow,
    Line,
    MachinePage,
    OtherRow,
    PartRow,
    ProcedureRow,
)
from compiler.document.panels import panels, picture_views, wear_views
from compiler.model import (
    Aid,
    AnyThing,
    Condition,
    Connection,
    Energy,
    Fastener,
    Fluid,
    Machine,
    Part,
    Place,
    Tool,
    World,
)
from compiler.wording.english import listed, spoken
from compiler.wording.fasteners import described, designation_text
from compiler.wording.nouns import name_of, with_members
from compiler.wording.phrases import LABELS
from compiler.wording.tables import facts, mass_text, only_on, torque_text
from compiler.wording.text import line, sentence, upper_first
from compiler.wording.turning import turning_text
from compiler.wording.voice import Voice

Voices = Mapping[str, Voice]


def machine_pages(world: World, rows: Mapping[str, ProcedureRow]) -> tuple[MachinePage, ...]:
    """Return one page a machine, sorted by id."""
    made = [_page(world, machine, rows) for machine in world.machines.values()]
    return tuple(sorted(made, key=lambda page: page.id))


def _page(world: World, machine: Machine, rows: Mapping[str, ProcedureRow]) -> MachinePage:
    voices = {v.model: make_voice(world, v.things, machine.name) for v in machine.variants}
    voice = next(iter(voices.values()))
    own = _things(voices, machine.name)
    only = {key: () if len(seen) == len(voices) else tuple(seen) for key, seen in own.items()}
    parts = [replace(_part(own[key]), models=only[key]) for key in _keys(own, Part)]
    fasteners = [replace(_fastener(own[key]), models=only[key]) for key in _keys(own, Fastener)]
    here = [row for row in rows.values() if row.machine_id == machine.name]
    return MachinePage(
        id=machine.name,
        title=machine.title,
        location=machine.location,
        models=machine.models,
        wear=wear_views(machine.extras.wear),
        safety=panels(voice, machine.extras.safety),
        pictures=picture_views(voice, machine.extras.pictures),
        energies=_energies(voices, machine.name),
        parts=tuple(parts),
        fasteners=tuple(fasteners),
        others=_others(own, only),
        procedures=tuple(sorted(here, key=lambda row: row.id)),
    )


Seen = Mapping[str, tuple[Voice, AnyThing]]
"""One thing as it is on each model that has it."""


def _things(voices: Voices, owner: str) -> dict[str, Seen]:
    found: dict[str, dict[str, tuple[Voice, AnyThing]]] = {}
    for model, voice in voices.items():
        for key, thing in voice.things.items():
            if thing.owner == owner:
                found.setdefault(key, {})[model] = (voice, thing)
    return dict(found)


def _first(seen: Seen) -> AnyThing:
    return next(iter(seen.values()))[1]


def _keys(own: Mapping[str, Seen], kind: type[AnyThing]) -> list[str]:
    return [key for key, seen in own.items() if isinstance(_first(seen), kind)]


def _energies(voices: Voices, owner: str) -> tuple[EnergyView, ...]:
    """Return the energies; one that is not the same on all models once for each group of them."""
    found = {
        model: [
            energy_view(voice, thing)
            for thing in voice.things.values()
            if isinstance(thing, Energy) and thing.owner == owner
        ]
        for model, voice in voices.items()
    }
    return tuple(replace(view, models=models) for view, models in by_models(found))


def _by_model(seen: Seen, text: Callable[[AnyThing], str]) -> str:
    """Return a value: once when all models agree, otherwise `1.8 kg (TP-60: 2.6 kg)`."""
    values = {model: text(thing) for model, (_, thing) in seen.items()}
    first = next(iter(values.values()))
    others: dict[str, list[str]] = {}
    for model, value in values.items():
        if value != first:
            others.setdefault(value, []).append(model)
    if not others:
        return first
    said = "; ".join(f"{listed(models)}: {value or '–'}" for value, models in others.items())
    return f"{first or '–'} ({said})"


def _part(seen: Seen) -> PartRow:
    thing = _first(seen)
    return PartRow(
        anchor=thing.key,
        label=_label(thing),
        name=thing.name,
        count=thing.total,
        mass=_by_model(seen, lambda t: mass_text(t) if isinstance(t, Part) else ""),
        number=_by_model(seen, _number),
        renew=thing.renew,
        facts=_facts(seen),
    )


def _label(thing: AnyThing) -> str:
    """Return the name with the members of its set: `levelling feet 1 to 4`."""
    words, _ = with_members(name_of(thing), thing.members, len(thing.members) or 1)
    return words


def _number(thing: AnyThing) -> str:
    if not thing.formerly:
        return thing.number
    return f"{thing.number}, formerly {listed(thing.formerly)}"


def _facts(seen: Seen) -> tuple[Line, ...]:
    found = {model: facts(voice, t, _holders(voice, t)) for model, (voice, t) in seen.items()}
    return tuple(only_on(fact, models) for fact, models in by_models(found))


def _holders(voice: Voice, thing: AnyThing) -> list[Fastener]:
    return [
        other
        for other in voice.things.values()
        if isinstance(other, Fastener) and any(held.key == thing.key for held in other.holds)
    ]


def _fastener(seen: Seen) -> FastenerRow:
    thing = _first(seen)
    return FastenerRow(
        anchor=thing.key,
        label=_label(thing),
        name=thing.name,
        designation=_by_model(seen, _designation),
        count=thing.total,
        tool=_by_model(seen, lambda t: turning_text(t) if isinstance(t, Fastener) else ""),
        torque=_by_model(seen, lambda t: torque_text(t) if isinstance(t, Fastener) else ""),
        facts=_facts(seen),
    )


def _designation(thing: AnyThing) -> str:
    if not isinstance(thing, Fastener):
        return ""
    size, kind = described(thing)
    what, text = f"{size} {kind}".strip(), designation_text(thing)
    return text if what in text else f"{text} ({what})"


def _others(
    own: Mapping[str, Seen], only: Mapping[str, Models]
) -> tuple[tuple[str, tuple[OtherRow, ...]], ...]:
    """Return conditions, fluids, connections, places, tools and aids, under their titles."""
    titles = (
        (LABELS.conditions, Condition),
        (LABELS.fluids, Fluid),
        (LABELS.connections, Connection),
        (LABELS.places, Place),
        (LABELS.special_tools, Tool),
        (LABELS.aids, Aid),
    )
    made: list[tuple[str, tuple[OtherRow, ...]]] = []
    for title, kind in titles:
        lines = [OtherRow(key, _other(own[key]), only[key]) for key in _keys(own, kind)]
        if lines:
            made.append((title, tuple(lines)))
    return tuple(made)


def _other(seen: Seen) -> Line:
    thing = _first(seen)
    label = upper_first(_label(thing))
    if isinstance(thing, Condition):
        states = listed([f"“{spoken(state)}”" for state, _ in thing.states], "or")
        return sentence(f"{label}: {states}")
    number = f" (number {thing.number})" if thing.number else ""
    said = _facts(seen)
    more = [piece for fact in said for piece in (" ", fact)]
    return line(sentence(label, number), more)
