"""Isolation and the way back, in the order of 29 CFR 1910.147 (d) and (e).

The author's own words say which device, how what is stored is let out, and how the isolation is
proved. The sentences around them are ours; clause numbers stand beside them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from compiler.model import Energy, Prose
from compiler.walk.nodes import Act, Deed, Spot, Target
from compiler.walk.stored import without_device
from compiler.wording.nouns import noun
from compiler.wording.operands import prose
from compiler.wording.text import Line, Piece, line, paragraph, parted, sentence, words_only
from compiler.wording.values import measure
from compiler.wording.voice import Voice

_DEAD = frozenset({"electrical", "stored-charge", "external-supply"})
_NOTHING_STORED = frozenset({"electrical", "external-supply"})
_UNDER_PRESSURE = frozenset({"pressure", "hydraulic", "pneumatic", "steam"})
_FLOWS = _UNDER_PRESSURE | {"chemical"}
_SUPPLIED = _UNDER_PRESSURE | {"electrical", "external-supply"}


def isolation_lines(voice: Voice, act: Act, with_tool: Line = ()) -> tuple[Line, ...]:
    """Return the lines of one deed of isolation or restoration; () for any other deed."""
    make = _DEEDS.get(act.deed)
    made = make(voice, act.targets, with_tool) if make else ()
    operands = [o for p in act.phrases if p.word == "without" for o in p.operands]
    lacking = parted([noun(voice, o).words for o in operands if isinstance(o, Target)])
    if lacking and act.deed in _WITHOUT:
        made = (*made[:1], sentence(*_WITHOUT[act.deed], lacking), *made[1:])
    return made


_WITHOUT: Mapping[Deed, tuple[Piece, ...]] = {
    Deed.CLEAR: ("only for the run that follows, it goes without ",),
    Deed.ENERGIZE: ("it runs without ",),
}
"""What is said of a guard that stays off for a test run."""


def _energies(voice: Voice, targets: Sequence[Spot]) -> list[tuple[Target, Energy]]:
    found: list[tuple[Target, Energy]] = []
    for target in targets:
        if isinstance(target, Target):
            thing = voice.thing(target.key)
            if isinstance(thing, Energy):
                found.append((target, thing))
    return found


def _known(voice: Voice, targets: Sequence[Spot]) -> Line:
    return parted([noun(voice, target).words for target, _ in _energies(voice, targets)])


def _saying(lead: Piece, voice: Voice, text: Prose) -> Line:
    """Return our words, a colon, the author's words; two sentences if those have a colon too."""
    said = prose(voice, text)
    if ":" in words_only(said):
        return paragraph(sentence(lead), sentence(said))
    return sentence(lead, ": ", said)


def energy_size(voice: Voice, energy: Energy) -> Line:
    """Return how big an energy is and what the author says of it: `2 bar, juice`."""
    level: Piece = measure(voice, energy.level) if energy.level is not None else ""
    text: Piece = prose(voice, energy.text) if energy.text is not None else energy.label
    return line(level, ", " if level and text else "", text)


def _shut_down(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    """(c)(9): tell those affected; (d)(1): know the energies; (d)(2): stop in the usual way."""
    return (
        sentence("tell the people affected that the machine will be shut down and locked out"),
        sentence("know the kind, size and danger of ", _known(voice, targets)),
        sentence("stop the machine in the usual way"),
    )


def _isolate(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    """(d)(3): operate every device."""
    made: list[Line] = []
    for target, energy in _energies(voice, targets):
        named = noun(voice, target).words
        if not energy.isolate_at and not without_device(energy):
            made.append(sentence("operate the isolating device of ", named))
        made += [
            sentence("isolate ", named, " at ", prose(voice, device))
            for device in energy.isolate_at
        ]
    return tuple(made)


def _lock_out(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    """(d)(4): a lock or tag on each device, by each who does the work."""
    energies = [energy for _, energy in _energies(voice, targets) if not without_device(energy)]
    devices = sum(max(1, len(energy.isolate_at)) for energy in energies)
    if not devices:
        return ()
    which = "the isolating device" if devices == 1 else "each isolating device"
    return (
        line(
            sentence("lock and tag ", which),
            " Each person who works here hangs a lock of their own.",
        ),
    )


def _discharge(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    """(d)(5): what is stored is relieved, disconnected, restrained or made safe."""
    made: list[Line] = []
    for target, energy in _energies(voice, targets):
        named = noun(voice, target).words
        if not energy.release and energy.kind not in _NOTHING_STORED:
            made.append(sentence("let out, block or restrain what is stored in ", named))
        lead: Piece = ("make ", named, " safe")
        if energy.kind in _UNDER_PRESSURE:
            lead = ("relieve the pressure of ", named)
        made += [_saying(lead, voice, how) for how in energy.release]
    return tuple(made)


def _verify(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    """(d)(6): the isolation is proved before work starts."""
    made: list[Line] = []
    for target, energy in _energies(voice, targets):
        named = noun(voice, target).words
        tool: Piece = with_tool if energy.kind in _DEAD else ""
        safe = "isolated" if energy.kind in _FLOWS else "safe"
        state = " is dead" if energy.kind in _DEAD else f" is {safe}"
        if not energy.verify:
            made.append(sentence("prove", tool, " that ", named, state))
        made += [
            _saying(("prove", tool, " that ", named, state), voice, how) for how in energy.verify
        ]
    return tuple(made)


def _clear(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    """(e)(1) and (e)(2)(i): the area is looked over, people are clear."""
    return (
        sentence("make sure that tools and loose things are out and that the machine is whole"),
        sentence("make sure that everyone stands clear"),
    )


def _unlock_out(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    """(e)(3): each takes off the lock they put on."""
    if _nothing_locked(voice, targets):
        return ()
    return (line(sentence("take the locks and tags off"), " Each person takes off their own."),)


def _tell(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    """(e)(2)(ii): after the locks are off and before the start, those affected are told."""
    if _nothing_locked(voice, targets):
        return ()
    return (sentence("tell the people affected that the locks are off"),)


def _nothing_locked(voice: Voice, targets: Sequence[Spot]) -> bool:
    """Return whether there was no device to lock: a spring, a weight."""
    energies = _energies(voice, targets)
    return bool(energies) and all(without_device(energy) for _, energy in energies)


def _energize(voice: Voice, targets: Sequence[Spot], with_tool: Line) -> tuple[Line, ...]:
    made: list[Line] = []
    for target, energy in _energies(voice, targets):
        named = noun(voice, target).words
        how: list[Prose] = list(energy.restore)
        verb = "restore " if energy.kind in _SUPPLIED else "undo the isolation of "
        pieces: list[Piece] = [sentence(verb, named)]
        if without_device(energy) and energy.kind not in _SUPPLIED:
            pieces = [sentence("mind that ", named, " can act again from here on")]
        for text in how:
            pieces += [" ", sentence(prose(voice, text))]
        made.append(line(pieces))
    return tuple(made)


_DEEDS: Mapping[Deed, Callable[[Voice, Sequence[Spot], Line], tuple[Line, ...]]] = {
    Deed.SHUT_DOWN: _shut_down,
    Deed.ISOLATE: _isolate,
    Deed.LOCK_OUT: _lock_out,
    Deed.DISCHARGE: _discharge,
    Deed.VERIFY: _verify,
    Deed.CLEAR: _clear,
    Deed.UNLOCK_OUT: _unlock_out,
    Deed.TELL: _tell,
    Deed.ENERGIZE: _energize,
}
