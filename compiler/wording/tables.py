"""Short words for tables: sequences, threads, stages, states, what else is known of a thing."""

from __future__ import annotations

from collections.abc import Sequence as Many

from compiler.model import (
    AnyThing,
    Connection,
    EndState,
    Fastener,
    Fluid,
    Part,
    Selection,
    Sequence,
)
from compiler.trade.safety import ENERGIES
from compiler.walk.nodes import Target
from compiler.wording.english import listed, spoken
from compiler.wording.fasteners import stack_items
from compiler.wording.nouns import noun
from compiler.wording.text import Line, Piece, line, parted, sentence
from compiler.wording.values import amount_text, measure
from compiler.wording.voice import Voice


def sequence_words(sequence: Sequence, count: int) -> str:
    """Return `star; 30 %, 70 %, 100 %, then once round`; '' for a single one."""
    if count < 2:
        return ""
    pattern = {
        "star": "star",
        "middle": "from the middle outwards",
        "circular": "round the group",
        "given": "given order",
        "any": "",
    }
    said = [pattern[sequence.pattern]] if pattern[sequence.pattern] else []
    if len(sequence.passes) > 1:
        said.append(", ".join(f"{share:g} %" for share in sequence.passes))
    text = "; ".join(said)
    if sequence.then_circular:
        text = f"{text}, then once round" if text else "once round at the end"
    return text


def stage_words(stages: Many[str]) -> str:
    """Return the stages of a joint as one text; '' for a plain torque."""
    return ", then ".join(stages) if len(stages) > 1 else ""


def thread_words(thing: Fastener) -> str:
    """Return the state of the thread: `oiled`, `with thread locker`."""
    if thing.thread == "with":
        return f"with {spoken(thing.thread_with.rsplit('/', 1)[-1])}"
    return thing.thread


def energy_kind(kind: str) -> str:
    """Return a kind of energy in words."""
    known = ENERGIES.get(kind)
    return known.label if known is not None else spoken(kind)


def chosen(voice: Voice, selection: Selection) -> Line:
    """Return a selection of the model in words."""
    members = tuple(m for m in selection.members if isinstance(m, str))
    return noun(voice, Target(selection.key, members, selection.age)).words


def chosen_all(voice: Voice, selections: Many[Selection]) -> Line:
    """Return several selections as one list."""
    return parted([chosen(voice, one) for one in selections])


def end_state_line(voice: Voice, end: EndState) -> Line:
    """Return what must hold before the work, or what is left after it, as a sentence."""
    members = tuple(m for m in end.subject.members if isinstance(m, str))
    named = noun(voice, Target(end.subject.key, members))
    verb = {
        "needs": "must be",
        "starts": "are" if named.many else "is",
        "leaves": "stay" if named.many else "stays",
    }[end.kind]
    state: Piece = _STATES.get(end.state, f"“{spoken(end.state)}”")
    if end.state == "at" and end.place is not None:
        state = ("at ", chosen(voice, end.place))
    already = " already" if end.kind == "starts" else ""
    return sentence(named.words, f" {verb} ", state, already)


def only_on(text: Line, models: Many[str]) -> Line:
    """Return a sentence that holds for some models with their names in front."""
    return line(f"{', '.join(models)}: ", text) if models else text


_STATES = {
    state: spoken(state)
    for state in (
        "off", "fitted", "aside", "torqued", "hand-tight", "slackened", "out", "in", "live",
        "isolated", "filled", "drained", "connected", "disconnected", "open",
    )
}  # fmt: skip
_STATES["hand-tight"] = "done up by hand"


def facts(voice: Voice, thing: AnyThing, holders: Many[Fastener] = ()) -> tuple[Line, ...]:
    """Return what else is known of a thing, one sentence each, for the machine's page."""
    if isinstance(thing, Part):
        return _part_facts(voice, thing, holders)
    if isinstance(thing, Fastener):
        return _fastener_facts(voice, thing)
    if isinstance(thing, Fluid):
        return _fluid_facts(voice, thing)
    if isinstance(thing, Connection):
        return _connection_facts(voice, thing)
    return ()


def _part_facts(voice: Voice, part: Part, holders: Many[Fastener]) -> tuple[Line, ...]:
    made: list[Line] = []
    if part.behind:
        made.append(sentence("behind ", chosen_all(voice, part.behind)))
    if part.on is not None:
        made.append(sentence("carried by ", chosen(voice, part.on)))
    if part.at is not None:
        made.append(sentence("stands at ", chosen(voice, part.at)))
    if holders:
        held = parted([noun(voice, Target(holder.key)).words for holder in holders])
        made.append(sentence("held by ", held))
    if part.guards:
        made.append(sentence("guards ", _keys(voice, part.guards)))
    if part.contains:
        made.append(sentence("contains ", _keys(voice, part.contains)))
    if part.matched_with:
        made.append(sentence("matched with ", chosen_all(voice, part.matched_with)))
    if part.made_to_fit:
        made.append(sentence("made to fit: mark it and keep it"))
    if part.spare_for is not None:
        made.append(sentence("spare for ", chosen(voice, part.spare_for)))
    return tuple(made)


def _keys(voice: Voice, keys: Many[str]) -> Line:
    return parted([noun(voice, Target(key)).words for key in keys])


def _fastener_facts(voice: Voice, thing: Fastener) -> tuple[Line, ...]:
    made: list[Line] = []
    if thing.holds:
        made.append(sentence("holds ", chosen_all(voice, thing.holds)))
    if thing.locks is not None:
        made.append(sentence("secures ", chosen(voice, thing.locks)))
    if thing.seals:
        made.append(sentence("seals in ", _keys(voice, thing.seals)))
    if thing.behind:
        made.append(sentence("behind ", chosen_all(voice, thing.behind)))
    if thing.left_hand:
        made.append(sentence("left-hand thread"))
    if thing.thread:
        made.append(sentence("thread ", thread_words(thing)))
    if thing.running is not None:
        made.append(sentence("running torque ", measure(voice, thing.running)))
    if thing.stack:
        where = ", from the head: " if len(thing.stack) > 1 else " "
        items = stack_items(thing, formerly=True)
        made.append(sentence(f"with{where}{items}", _each(thing)))
    if thing.renew:
        number = f", number {thing.number}" if thing.number else ""
        made.append(sentence("new each time", number))
    return tuple(made)


def _each(thing: Fastener) -> str:
    return " on each of them" if thing.total > 1 and len(thing.stack) == 1 else ""


def _fluid_facts(voice: Voice, fluid: Fluid) -> tuple[Line, ...]:
    said: list[Piece] = []
    if fluid.amount is not None:
        said.append(line(measure(voice, fluid.amount)))
    if fluid.within is not None:
        said.append(line("in ", chosen(voice, fluid.within)))
    pieces = [piece for one in said for piece in (", ", one)][1:]
    return (sentence(pieces),) if pieces else ()


def _connection_facts(voice: Voice, thing: Connection) -> tuple[Line, ...]:
    made: list[Line] = []
    if thing.marked:
        made.append(sentence(f"marked {thing.marked}"))
    if thing.joins:
        verb = "joins " if len(thing.joins) > 1 else "goes to "
        made.append(sentence(verb, chosen_all(voice, thing.joins)))
    if thing.carries:
        made.append(sentence("carries ", _keys(voice, (thing.carries,))))
    return tuple(made)


def torque_text(thing: Fastener) -> str:
    """Return how tight a fastener is done up, for a table."""
    how = thing.tightening
    if how is None:
        return ""
    if how.how != "torque":
        return how.how
    from compiler.wording.tightening import stage_texts

    return ", then ".join(stage_texts(how.stages))


def mass_text(part: Part) -> str:
    """Return a part's mass for a table: `58 kg without motor`."""
    if part.mass is None:
        return ""
    left_out = [spoken(one.key.rpartition("/")[2]) for one in part.without]
    return amount_text(part.mass) + (f" without {listed(left_out)}" if left_out else "")
