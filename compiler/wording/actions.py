"""Sentences from acts: the imperative, one instruction each, the same words for the same deed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from compiler.model import Condition, Fastener, Fluid
from compiler.walk.nodes import Act, Deed, Spot, Target
from compiler.wording.fasteners import goes_on, is_threaded, locks_by_turning, stack_line
from compiler.wording.isolation import isolation_lines
from compiler.wording.nouns import name_of, noun
from compiler.wording.operands import is_many, operand, operands, phrase, phrases, prose
from compiler.wording.text import Line, Piece, line, paragraph, parted, sentence
from compiler.wording.tightening import (
    counter_hold,
    thread_line,
    tighten_lines,
    without_hold,
)
from compiler.wording.values import measure
from compiler.wording.verbs import verb_word
from compiler.wording.voice import Voice

Lines = tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Turning:
    """What turns a fastener, by its key: `5 mm hex key`; and all sizes that fit it."""

    tools: Mapping[str, str] = field(default_factory=dict)
    sizes: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


NO_TURNING = Turning()


def act_lines(voice: Voice, act: Act, turning: Turning = NO_TURNING) -> Lines:
    """Return the sentences of one act that changes the machine or is a plain action.

    Measurements, questions, signatures and ends are in `checks.py`; they give () here.
    """
    made = isolation_lines(voice, act, _with_tool(voice, act))
    if made:
        return made
    maker = _MAKERS.get(act.deed)
    return maker(voice, act, turning) if maker is not None else ()


def _with_tool(voice: Voice, act: Act) -> Line:
    given = [p for p in act.phrases if p.word == "with"]
    return line(*(phrase(voice, p) for p in given))


def _word(act: Act) -> str:
    return verb_word(act.deed, act.verb, act.implied)


def _phrases(voice: Voice, act: Act, *skip: str) -> list[Line]:
    return phrases(voice, act.phrases, skip=skip)


# --- Fasteners --------------------------------------------------------------------------------


def _each_target(
    make: Callable[[Voice, Act, Spot, Turning], Lines],
) -> Callable[[Voice, Act, Turning], Lines]:
    """Return a maker that speaks of each target in its own sentence."""

    def lines(voice: Voice, act: Act, turning: Turning) -> Lines:
        return tuple(one for spot in act.targets for one in make(voice, act, spot, turning))

    return lines


def _fastener_at(voice: Voice, spot: Spot) -> Fastener | None:
    thing = voice.thing(spot.key) if isinstance(spot, Target) else None
    return thing if isinstance(thing, Fastener) else None


def _turned(voice: Voice, act: Act, spot: Spot, turning: Turning) -> Lines:
    """Slacken or take out: with the tool that fits, and a word on a left-hand thread."""
    thing = _fastener_at(voice, spot)
    if not isinstance(spot, Target) or thing is None:
        return (sentence(_word(act), " ", operand(voice, spot), _phrases(voice, act)),)
    named = noun(voice, spot)
    rest = without_hold(act.phrases)
    sizes = turning.sizes.get(spot.key, ())
    said: list[Piece] = [*phrases(voice, rest, sizes)]
    if not any(p.word == "with" for p in rest):
        tool = turning.tools.get(spot.key, "")
        said.append(f" with {tool}" if tool else "")
    first = sentence(_word(act), " ", named.words, said)
    verb = "comes" if not named.many else "come"
    hand = (
        sentence(f"left-hand thread: {named.they} {verb} off clockwise") if thing.left_hand else ()
    )
    return (paragraph(first, hand, counter_hold(voice, act, thing, named)),)


def _start(voice: Voice, act: Act, spot: Spot, turning: Turning) -> Lines:
    """Put fasteners in by hand, after what the threads need."""
    thing = _fastener_at(voice, spot)
    if not isinstance(spot, Target) or thing is None:
        return (sentence("put ", operand(voice, spot), " in by hand", _phrases(voice, act)),)
    named = noun(voice, spot, new=act.new_part)
    many = named.many
    before = thread_line(voice, thing, many)
    if not is_threaded(thing):
        made = sentence("fit ", named.words, _phrases(voice, act))
        return (made,)
    by_hand = "" if any(p.word in ("hand-tight", "by") for p in act.phrases) else " by hand"
    # A self-locking thread can be started by hand and no more.
    verb, where = ("start ", "") if thing.running is not None else ("put ", " in")
    if verb == "put " and goes_on(thing):
        where = " on"
    put = sentence(verb, named.words, where, by_hand, _phrases(voice, act))
    stack = stack_line(thing, many) if thing.stack else ()
    return tuple(one for one in (before, stack, put) if one)


def _unlock(voice: Voice, act: Act, spot: Spot, turning: Turning) -> Lines:
    thing = _fastener_at(voice, spot)
    if not isinstance(spot, Target) or thing is None:
        return (sentence("undo ", operand(voice, spot), _phrases(voice, act)),)
    if locks_by_turning(thing):
        turned = Act(Deed.SLACKEN, (spot,), act.span, None, act.phrases, implied=True)
        return _turned(voice, turned, spot, turning)
    return (sentence("undo ", noun(voice, spot).words, _phrases(voice, act)),)


def _lock(voice: Voice, act: Act, spot: Spot, turning: Turning) -> Lines:
    thing = _fastener_at(voice, spot)
    if not isinstance(spot, Target) or thing is None:
        return (sentence("secure ", operand(voice, spot), _phrases(voice, act)),)
    if locks_by_turning(thing):
        return tighten_lines(voice, act, spot)
    locked = thing.locks
    secured: Piece = ""
    if locked is not None:
        members = tuple(m for m in locked.members if isinstance(m, str))
        secured = noun(voice, Target(locked.key, members or spot.members)).words
    means = noun(voice, spot, new=act.new_part).words
    if not secured:
        return (sentence("lock ", means, _phrases(voice, act)),)
    return (sentence("secure ", secured, " with ", means, _phrases(voice, act, "with")),)


def _tighten(voice: Voice, act: Act, spot: Spot, turning: Turning) -> Lines:
    if isinstance(spot, Target):
        return tighten_lines(voice, act, spot)
    return (sentence("tighten ", operand(voice, spot), _phrases(voice, act)),)


# --- Parts and what they hold -----------------------------------------------------------------


def _with_mass(voice: Voice, act: Act, turning: Turning) -> Lines:
    """Remove, support, move: the verb, the things with their mass, the phrases."""
    named = operands(voice, act.targets, mass=True)
    return (sentence(_word(act), " ", named, _phrases(voice, act)),)


def _fit(voice: Voice, act: Act, turning: Turning) -> Lines:
    word = _word(act)
    if act.new_part and word in ("refit", "put back"):
        word = "fit"
    made: list[Line] = []
    for spot in act.targets:
        if isinstance(spot, Target):
            new = act.new_part or spot.age == "new"
            made.append(noun(voice, spot, new=new, mass=True).words)
        else:
            made.append(operand(voice, spot))
    return (sentence(word, " ", parted(made), _phrases(voice, act)),)


def _let_go(voice: Voice, act: Act, turning: Turning) -> Lines:
    its = "their support" if is_many(voice, act.targets) else "its support"
    return (
        sentence("release ", operands(voice, act.targets), f" from {its}", _phrases(voice, act)),
    )


def _aside(voice: Voice, act: Act, turning: Turning) -> Lines:
    named = operands(voice, act.targets, mass=True)
    many = is_many(voice, act.targets)
    stays = "they stay attached" if many else "it stays attached"
    rest = _phrases(voice, act, "aside", "away")
    return (paragraph(sentence(_word(act), " ", named, " aside", rest), sentence(stays)),)


def _transfer(voice: Voice, act: Act, turning: Turning) -> Lines:
    return (sentence("transfer ", operands(voice, act.targets), _phrases(voice, act)),)


def _plain(voice: Voice, act: Act, turning: Turning) -> Lines:
    """The verb, the things, the phrases: what most actions need."""
    named = operands(voice, act.targets)
    gap = " " if named else ""
    rest = without_hold(act.phrases)
    first = sentence(_word(act), gap, named, phrases(voice, rest))
    held: Line = ()
    only = act.targets[0] if len(act.targets) == 1 else None
    if len(rest) != len(act.phrases) and isinstance(only, Target):
        held = counter_hold(voice, act, None, noun(voice, only))
    return (paragraph(first, held),)


# --- Fluids and conditions --------------------------------------------------------------------


def _fluid_at(voice: Voice, spot: Spot) -> Fluid | None:
    thing = voice.thing(spot.key) if isinstance(spot, Target) else None
    return thing if isinstance(thing, Fluid) else None


def _drain(voice: Voice, act: Act, turning: Turning) -> Lines:
    return (sentence(_word(act), " ", _fluids(voice, act), _phrases(voice, act)),)


def _fluids(voice: Voice, act: Act) -> Line:
    pieces: list[Line] = []
    for spot in act.targets:
        fluid = _fluid_at(voice, spot)
        pieces.append(_fluid(voice, fluid) if fluid is not None else operand(voice, spot))
    return parted(pieces)


def _fluid(voice: Voice, fluid: Fluid, fresh: bool = False, amount: bool = True) -> Line:
    """Return a fluid with what is known of it: `the gear oil (ISO VG 220, 2.4 kg)`."""
    head, _, rest = name_of(fluid).partition(",")
    said: list[Piece] = [rest.strip()] if rest.strip() else []
    if amount and fluid.amount is not None:
        said.append(measure(voice, fluid.amount))
    if fresh and fluid.number:
        said.append(f"number {fluid.number}")
    inside: list[Piece] = [piece for given in said for piece in (", ", given)][1:]
    lead = "new " if fresh else "the "
    return line(lead, head, (" (", inside, ")") if inside else "")


def _fill(voice: Voice, act: Act, turning: Turning) -> Lines:
    word = _word(act)
    pieces: list[Line] = []
    for spot in act.targets:
        fluid = _fluid_at(voice, spot)
        if fluid is None:
            pieces.append(operand(voice, spot))
            continue
        filled = word in ("fill", "refill")
        pieces.append(_fluid(voice, fluid, fresh=filled and fluid.renew, amount=filled))
    verb = {"fill": "fill in", "refill": "fill in"}.get(word, word)
    return (sentence(verb, " ", parted(pieces), _phrases(voice, act)),)


def _leak_test(voice: Voice, act: Act, turning: Turning) -> Lines:
    word = _word(act)
    named = operands(voice, act.targets)
    if word == "leak-test":
        return (sentence("test ", named, " for leaks", _phrases(voice, act)),)
    if word == "pressure-test":
        return (sentence("test ", named, " under pressure", _phrases(voice, act)),)
    return (sentence(word.replace("-", " "), " ", named, _phrases(voice, act)),)


def _bring(voice: Voice, act: Act, turning: Turning) -> Lines:
    made: list[Line] = []
    for spot in act.targets:
        named = operand(voice, spot)
        thing = voice.thing(spot.key) if isinstance(spot, Target) else None
        how: Piece = ""
        if isinstance(thing, Condition):
            by = dict(thing.states).get(act.state)
            how = (": ", prose(voice, by)) if by is not None else ""
        rest = _phrases(voice, act, "to")
        made.append(sentence("bring ", named, " to “", act.state.replace("-", " "), "”", how, rest))
    return tuple(made)


def _prose(voice: Voice, act: Act, turning: Turning) -> Lines:
    return tuple(sentence(operand(voice, spot)) for spot in act.targets)


_MAKERS: Mapping[Deed, Callable[[Voice, Act, Turning], Lines]] = {
    Deed.UNLOCK: _each_target(_unlock),
    Deed.SLACKEN: _each_target(_turned),
    Deed.UNDO: _each_target(_turned),
    Deed.START: _each_target(_start),
    Deed.TIGHTEN: _each_target(_tighten),
    Deed.LOCK: _each_target(_lock),
    Deed.REMOVE: _with_mass,
    Deed.FIT: _fit,
    Deed.PUT_AID: _plain,
    Deed.TAKE_AID: _plain,
    Deed.OPEN: _plain,
    Deed.CLOSE: _plain,
    Deed.DRAIN: _drain,
    Deed.FILL: _fill,
    Deed.BLEED: _plain,
    Deed.LEAK_TEST: _leak_test,
    Deed.CONNECT: _plain,
    Deed.DISCONNECT: _plain,
    Deed.SUPPORT: _with_mass,
    Deed.LET_GO: _let_go,
    Deed.MOVE: _with_mass,
    Deed.ASIDE: _aside,
    Deed.TRANSFER: _transfer,
    Deed.BRING: _bring,
    Deed.NEUTRAL: _plain,
    Deed.PROSE: _prose,
}
