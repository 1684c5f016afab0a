"""Sentences from acts: the imperative, one instruction each, the same words for the same deed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from compiler.derive.filling import own_amount
from compiler.derive.handling import hand_lift
from compiler.model import Condition, Fastener, Fluid, Handling, Part, Selection
from compiler.walk.nodes import Act, Deed, Spot, Target
from compiler.wording.fasteners import described, goes_on, is_threaded, locks_by_turning, stack_line
from compiler.wording.isolation import isolation_lines
from compiler.wording.lifting import lift_text
from compiler.wording.nouns import called, name_of, noun
from compiler.wording.operands import is_many, operand, operands, phrase, phrases, prose
from compiler.wording.text import Line, Piece, line, paragraph, parted, sentence, words_only
from compiler.wording.tightening import (
    counter_hold,
    thread_line,
    tighten_lines,
    without_hold,
)
from compiler.wording.values import measure
from compiler.wording.verbs import verb_word
from compiler.wording.voice import Voice, count_meant

Lines = tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Turning:
    """What turns a fastener, by its key: `a 5 mm hex key`; and all sizes that fit it.

    `named` are the keys of fasteners that this step has named in full before. `people` and
    `handling` tell how what the step names is lifted by hand.
    """

    tools: Mapping[str, str] = field(default_factory=dict)
    sizes: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    named: frozenset[str] = frozenset()
    people: int = 1
    handling: tuple[Handling, ...] = ()


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


_BENT = frozenset({"tab washer", "lock plate", "fastener", ""})
"""What is bent back and stays where it is, so that it is undone and not taken out."""

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
    if not is_threaded(thing):
        return (sentence("fit ", named.words, _phrases(voice, act)),)
    by_hand = "" if any(p.word in ("hand-tight", "by") for p in act.phrases) else " by hand"
    # A self-locking thread can be started by hand and no more.
    verb, where = ("start ", "") if thing.running is not None else ("put ", " in")
    if verb == "put " and goes_on(thing):
        where = " on"
    put = sentence(verb, named.words, where, by_hand, _phrases(voice, act))
    before = (thread_line(voice, thing, spot), _stack(voice, thing, spot))
    return (*(one for one in before if one), put)


def _stack(voice: Voice, thing: Fastener, target: Target) -> Line:
    """Return the order of what sits on each fastener; () for nothing."""
    if not thing.stack:
        return ()
    named = noun(voice, replace(target, age="", each=False), brief=True)
    return stack_line(thing, f"each {called(thing)}" if named.many else words_only(named.words))


def _unlock(voice: Voice, act: Act, spot: Spot, turning: Turning) -> Lines:
    thing = _fastener_at(voice, spot)
    if not isinstance(spot, Target) or thing is None:
        return (sentence("undo ", operand(voice, spot), _phrases(voice, act)),)
    if locks_by_turning(thing):
        turned = Act(Deed.SLACKEN, (spot,), act.span, None, act.phrases, implied=True)
        return _turned(voice, turned, spot, turning)
    verb = "undo " if described(thing)[1] in _BENT else "remove "
    tool = turning.tools.get(spot.key, "")
    by = f" with {tool}" if tool and not any(p.word == "with" for p in act.phrases) else ""
    return (sentence(verb, noun(voice, spot).words, _phrases(voice, act), by),)


def _lock(voice: Voice, act: Act, spot: Spot, turning: Turning) -> Lines:
    thing = _fastener_at(voice, spot)
    if not isinstance(spot, Target) or thing is None:
        return (sentence("secure ", operand(voice, spot), _phrases(voice, act)),)
    if locks_by_turning(thing):
        return _tighten(voice, act, spot, turning)
    locked = thing.locks
    secured: Piece = ""
    if locked is not None:
        members = tuple(m for m in locked.members if isinstance(m, str))
        held = Target(locked.key, members or spot.members)
        secured = noun(voice, held, brief=locked.key in turning.named).words
    means = noun(voice, spot, new=act.new_part).words
    if not secured:
        return (sentence("lock ", means, _phrases(voice, act)),)
    return (sentence("secure ", secured, " with ", means, _phrases(voice, act, "with")),)


def _tighten(voice: Voice, act: Act, spot: Spot, turning: Turning) -> Lines:
    if isinstance(spot, Target):
        tool, brief = turning.tools.get(spot.key, ""), spot.key in turning.named
        return tighten_lines(voice, act, spot, tool, brief=brief)
    return (sentence("tighten ", operand(voice, spot), _phrases(voice, act)),)


# --- Parts and what they hold -----------------------------------------------------------------


_WORTH_SAYING = 3
"""Kilograms. ISO 11228-1 is about lifting 3 kg and more by hand (from memory); what is lighter does
not need a word in every sentence. The mass of each part is on the machine's page."""


def mass_lines(voice: Voice, spots: Sequence[Spot], turning: Turning = NO_TURNING) -> Line:
    """Return what the parts weigh, as far as it is worth saying: `It weighs 31 kg.`

    With it, how much may be lifted so by hand, where that is described.
    """
    made: list[Line] = []
    for spot in spots:
        thing = voice.thing(spot.key) if isinstance(spot, Target) else None
        if not isinstance(spot, Target) or not isinstance(thing, Part) or thing.mass is None:
            continue
        if (thing.mass.high or thing.mass.low).si < _WORTH_SAYING:
            continue
        named = noun(voice, replace(spot, age=""))
        who: Piece = named.they if len(spots) == 1 else named.words
        verb = " weigh " if named.many else " weighs "
        each = " each" if count_meant(thing, spot) > 1 else ""
        mass = replace(measure(voice, thing.mass), of="mass")
        made.append(sentence(who, verb, mass, each, _left_out(voice, thing)))
        # What it weighs with all that is on it is known only where it stands in the work.
        weighed = replace(thing, mass=None) if thing.without else thing
        found = hand_lift(weighed, turning.people, handling=turning.handling)
        if found is not None:
            made.append(sentence(lift_text(found, turning.people)))
    return paragraph(*made)


def _left_out(voice: Voice, part: Part) -> Piece:
    """Return ` without the motor` behind a mass that leaves out what is on the part."""
    each = [
        noun(voice, Target(one.key, tuple(m for m in one.members if isinstance(m, str)))).words
        for one in part.without
    ]
    return (" without ", parted(each)) if each else ""


def _with_mass(voice: Voice, act: Act, turning: Turning) -> Lines:
    """Remove, support, move: the verb, the things, the phrases; then what they weigh."""
    first = sentence(_word(act), " ", operands(voice, act.targets), _phrases(voice, act))
    return (paragraph(first, mass_lines(voice, act.targets, turning)),)


def _fit(voice: Voice, act: Act, turning: Turning) -> Lines:
    word = _word(act)
    if act.new_part and word in ("refit", "put back"):
        word = "fit"
    made: list[Line] = []
    for spot in act.targets:
        if isinstance(spot, Target):
            new = act.new_part or spot.age == "new"
            made.append(noun(voice, spot, new=new).words)
        else:
            made.append(operand(voice, spot))
    first = sentence(word, " ", parted(made), _phrases(voice, act))
    return (paragraph(first, mass_lines(voice, act.targets, turning)),)


def _let_go(voice: Voice, act: Act, turning: Turning) -> Lines:
    its = "their support" if is_many(voice, act.targets) else "its support"
    return (
        sentence("release ", operands(voice, act.targets), f" from {its}", _phrases(voice, act)),
    )


def _aside(voice: Voice, act: Act, turning: Turning) -> Lines:
    stays = "they stay attached" if is_many(voice, act.targets) else "it stays attached"
    rest = _phrases(voice, act, "aside", "away")
    first = sentence(_word(act), " ", operands(voice, act.targets), " aside", rest)
    return (paragraph(first, sentence(stays), mass_lines(voice, act.targets, turning)),)


def _renew(voice: Voice, act: Act, turning: Turning) -> Lines:
    """What is off stays off; what goes back in is a new one."""
    old = "the old ones" if is_many(voice, act.targets) else "the old one"
    named = operands(voice, act.targets)
    first = sentence("take ", named, f" in place of {old}", _phrases(voice, act))
    return (paragraph(first, mass_lines(voice, act.targets, turning)),)


def _transfer(voice: Voice, act: Act, turning: Turning) -> Lines:
    first = sentence("transfer ", operands(voice, act.targets), _phrases(voice, act))
    return (_if_lifted(voice, act, turning, first),)


def _if_lifted(voice: Voice, act: Act, turning: Turning, first: Line) -> Line:
    """Return a sentence with what may be lifted behind it, where the step says how it lifts."""
    return paragraph(first, mass_lines(voice, act.targets, turning)) if turning.handling else first


def _plain(voice: Voice, act: Act, turning: Turning) -> Lines:
    """The verb, the things, the phrases: what most actions need."""
    named = operands(voice, act.targets)
    gap = " " if named else ""
    rest = without_hold(act.phrases)
    first = sentence(_word(act), gap, named, phrases(voice, rest, _sizes(act, turning)))
    held: Line = ()
    only = act.targets[0] if len(act.targets) == 1 else None
    if len(rest) != len(act.phrases) and isinstance(only, Target):
        held = counter_hold(voice, act, None, noun(voice, only))
    return (_if_lifted(voice, act, turning, paragraph(first, held)),)


def _sizes(act: Act, turning: Turning) -> tuple[str, ...]:
    """Return the sizes of wrench that fit what is acted on."""
    return tuple(size for key in dict.fromkeys(act.keys()) for size in turning.sizes.get(key, ()))


# --- Fluids and conditions --------------------------------------------------------------------


def _fluid_at(voice: Voice, spot: Spot) -> Fluid | None:
    thing = voice.thing(spot.key) if isinstance(spot, Target) else None
    return thing if isinstance(thing, Fluid) else None


def _drain(voice: Voice, act: Act, turning: Turning) -> Lines:
    first = sentence(_word(act), " ", operands(voice, act.targets), _phrases(voice, act))
    amounts = [f.amount for f in (_fluid_at(voice, s) for s in act.targets) if f and f.amount]
    expect = sentence("expect ", measure(voice, amounts[0])) if len(amounts) == 1 else ()
    return (paragraph(first, expect),)


def _fluid(fluid: Fluid, fresh: bool) -> str:
    """Return a fluid with what is known of it: `new gear oil (ISO VG 220, number OIL-220)`."""
    head, _, rest = name_of(fluid).partition(",")
    said = [rest.strip()] if rest.strip() else []
    if fresh and fluid.number:
        said.append(f"number {fluid.number}")
    return f"{'new ' if fresh else ''}{head}" + (f" ({', '.join(said)})" if said else "")


_INTO = frozenset({"into", "in", "with", "through", "via"})


def _fill(voice: Voice, act: Act, turning: Turning) -> Lines:
    """Fill a part with an amount of a fluid; each fluid in its own sentence."""
    word, rest = _word(act), _phrases(voice, act)
    own, others = own_amount(act)
    if word not in ("fill", "refill"):
        return (sentence(word, " ", operands(voice, act.targets), rest),)
    rest = phrases(voice, others)
    made: list[Line] = []
    for spot in act.targets:
        fluid = _fluid_at(voice, spot)
        if fluid is None:
            made.append(sentence(word, " ", operand(voice, spot), rest))
            continue
        new = fluid.renew or act.new_part or (isinstance(spot, Target) and spot.age == "new")
        stuff: Piece = _fluid(fluid, new)
        amount = own or fluid.amount
        if amount is not None:
            stuff = (measure(voice, amount), " of ", stuff)
        into: Piece = "fill in "
        if fluid.within is not None and not any(p.word in _INTO for p in others):
            into = (word, " ", noun(voice, _selected(fluid.within)).words, " with ")
        made.append(sentence(into, stuff, rest))
    return tuple(made)


def _selected(selection: Selection) -> Target:
    return Target(selection.key, tuple(m for m in selection.members if isinstance(m, str)))


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
    Deed.RENEW: _renew,
    Deed.TRANSFER: _transfer,
    Deed.BRING: _bring,
    Deed.NEUTRAL: _plain,
    Deed.PROSE: _prose,
}
