"""Tightening in words: to what, in which order, in which passes and stages; threads and locks."""

from __future__ import annotations

from collections.abc import Sequence as Many
from dataclasses import replace
from fractions import Fraction

from compiler.derive.tightening import ends_of, middle
from compiler.model import Amount, Fastener, Sequence, Stage
from compiler.trade.units import Quantity, format_number, format_quantity
from compiler.walk.nodes import Act, Target, WalkPhrase
from compiler.wording import english
from compiler.wording.nouns import Noun, name_of, noun
from compiler.wording.operands import operands, phrase, phrases
from compiler.wording.text import Line, Piece, Strong, line, paragraph, sentence
from compiler.wording.values import (
    amount_text,
    measure,
    measured_range,
    measured_setting,
    nominal,
)
from compiler.wording.voice import Voice, count_meant

_TO = ("to", "hand-tight", "snug", "")


def tighten_lines(
    voice: Voice, act: Act, target: Target, tool: str = "", *, brief: bool = False
) -> tuple[Line, ...]:
    """Return what is said to tighten one group of fasteners.

    `tool` turns it where no torque is asked for; `brief` is for what was named just before.
    """
    thing = voice.thing(target.key)
    named = noun(voice, target, brief=brief)
    said = without_hold(act.phrases)
    rest = phrases(voice, said, skip=_TO)
    with_tool = "" if not tool or any(p.word == "with" for p in said) else f" with {tool}"
    given = _given_amount(act.phrases)
    if not isinstance(thing, Fastener):
        to: Piece = (" to ", measure(voice, given)) if given else ""
        return (sentence("tighten ", named.words, rest, to),)
    by_hand = _by_hand(act, thing, given)
    after = paragraph(*_after(voice, act, thing, named, measured=not by_hand))
    if by_hand:
        turned = "" if by_hand == "by hand" else with_tool
        return (paragraph(sentence("tighten ", named.words, rest, turned, " ", by_hand), after),)
    if given is not None and given.low.dimension != "torque":
        by = measure(voice, given)
        turned_by = sentence("turn ", named.words, " ", by, " further", rest, with_tool)
        return (paragraph(turned_by, after),)
    until = given is None and any(p.word == "until" for p in said)
    stages = () if until else _stages(thing, given)
    if not stages:
        return (paragraph(sentence("tighten ", named.words, rest, with_tool), after),)
    made = _stage_lines(voice, thing, target, named, stages, rest)
    return (*made[:-1], paragraph(made[-1], after))


def wrench_settings(voice: Voice, settings: Many[tuple[Quantity, Quantity]]) -> Line:
    """Return what the wrench is set to where an adapter changes it, for each torque on the way."""
    each: list[Piece] = []
    for torque, setting in settings:
        each += [", then " if each else "", "to ", measured_setting(voice, setting)]
        each += [" for ", format_quantity(torque)]
    return sentence("set the torque wrench ", each, ", because the adapter changes its length")


def drag_settings(voice: Voice, sums: Many[tuple[Quantity, Quantity]], factor: float) -> Line:
    """Return what the wrench is set to where an adapter changes torque plus running torque.

    What the thread takes is known only at the machine, so the factor is told, with both ends.
    """
    each: list[Piece] = []
    for at, (total, setting) in enumerate(sums):
        each += [
            ", " if at else "",
            measured_setting(voice, setting),
            " for ",
            format_quantity(total),
        ]
    why = "because the adapter changes the length of the wrench, set it to "
    return sentence(why, f"{_three(factor)} times torque plus running torque: ", each)


def running_setting_text(factor: float) -> str:
    """Return what an adapter makes of torque plus running torque, for a table."""
    return f"{_three(factor)} × (torque + running torque)"


def _three(factor: float) -> str:
    return format_number(Fraction(f"{factor:.3g}"))


def _given_amount(phrases: Many[WalkPhrase]) -> Amount | None:
    """Return the torque or angle the author gave in the line itself."""
    for given in phrases:
        if given.word in ("to", ""):
            for spot in given.operands:
                if isinstance(spot, Amount):
                    return spot
    return None


def _by_hand(act: Act, thing: Fastener, given: Amount | None) -> str:
    said = {p.word for p in act.phrases}
    how = thing.tightening.how if thing.tightening is not None and given is None else ""
    if "hand-tight" in said or how == "hand-tight":
        return "by hand"
    return "until snug" if "snug" in said or how == "snug" else ""


def _stages(thing: Fastener, given: Amount | None) -> tuple[Stage, ...]:
    if given is not None:
        return (Stage(given.span, "torque", given),)
    return thing.tightening.stages if thing.tightening is not None else ()


def _stage_lines(
    voice: Voice,
    thing: Fastener,
    target: Target,
    named: Noun,
    stages: Many[Stage],
    rest: Many[Line],
) -> list[Line]:
    """Return one line a stage; the sequence is said with the first torque."""
    made: list[Line] = []
    torqued = slackened = False
    for stage in stages:
        if stage.kind == "torque" and stage.amount is not None:
            again = " again" if slackened else ""
            what: Piece = named.it if torqued else named.words
            to = (" to ", measured_torque(voice, stage.amount))
            order = "" if torqued else sequence_text(thing, target)
            made.append(sentence("tighten ", what, again, "" if torqued else rest, to, order))
            if not torqued and thing.sequence.then_circular and _is_group(thing, target):
                made[-1] = paragraph(made[-1], sentence("then go round once more at full torque"))
            torqued, slackened = True, False
        elif stage.kind == "slacken":
            made.append(sentence("slacken ", named.it, " again"))
            slackened = True
        elif stage.amount is not None:
            made.append(_turned(voice, stage, named))
    return made


def _turned(voice: Voice, stage: Stage, named: Noun) -> Line:
    """Return the sentence of an angle, a turn back, or the way on to the next pin hole."""
    assert stage.amount is not None, "only stages with an amount come here"
    amount = measure(voice, stage.amount)
    each = "each" if named.many else "it"
    if stage.kind == "angle":
        return sentence("turn ", each, " ", amount, " further")
    if stage.kind == "back-off":
        return sentence("turn ", each, " back ", amount)
    return paragraph(
        sentence("turn ", each, " on until the next pin hole lines up"),
        sentence("never turn ", named.it, " back, and never go above ", amount),
    )


def measured_torque(voice: Voice, amount: Amount) -> Line:
    """Return a torque after `to`: `60 N·m`, or `a torque of 8 to 10 N·m` for a window.

    Its tolerance stands in the torque table and beside the place to write down what was reached.
    """
    if amount.high is not None:
        return line("a torque of ", measure(voice, amount))
    if middle(amount).value != amount.low.value and (ends := ends_of(amount)) is not None:
        window = measured_range(voice, *ends)
        twin = window.second if amount.twin is None else amount_text(amount.twin)
        return line("a torque of ", replace(window, second=twin))
    return line(nominal(voice, amount))


def _is_group(thing: Fastener, target: Target) -> bool:
    return count_meant(thing, target) > 1


def sequence_text(thing: Fastener, target: Target) -> str:
    """Return ` in a star pattern, in three passes: 30 %, 70 %, 100 %`; '' for a single one."""
    count = count_meant(thing, target)
    if count < 2:
        return ""
    order = pattern_text(thing.sequence, count)
    several_groups = thing.count > 1 and count > thing.count
    if order and several_groups:
        order = f"{order} at each place"
    return order + passes_text(thing.sequence)


def pattern_text(sequence: Sequence, count: int) -> str:
    """Return ` in a star pattern` and the like, '' when any order will do."""
    if sequence.pattern == "star" and count > 2:
        return " in a star pattern"
    if sequence.pattern == "middle" and count > 2:
        return " from the middle outwards"
    if sequence.pattern == "circular" and count > 2:
        return " one after the other round the group"
    if sequence.pattern == "given" and len(sequence.given) == count:
        return f" in the order {', '.join(str(n) for n in sequence.given)}"
    return ""


def passes_text(sequence: Sequence) -> str:
    """Return `, in three passes: 30 %, 70 %, 100 %`; '' for one pass."""
    if len(sequence.passes) < 2:
        return ""
    shares = ", ".join(f"{share:g} %" for share in sequence.passes)
    return f", in {english.number(len(sequence.passes))} passes: {shares}"


def _after(voice: Voice, act: Act, thing: Fastener, named: Noun, *, measured: bool) -> list[Line]:
    """Return what is said after the tightening: thread hand, running torque, what to hold."""
    said: list[Line] = []
    if thing.left_hand:
        hand = Strong("Left-hand thread")
        said.append(sentence(hand, ": turn ", named.it, " counter-clockwise to tighten"))
    if thing.running is not None:
        said.append(_running(voice, thing.running, named))
        torqued = thing.tightening is not None and thing.tightening.how == "torque"
        own = without_hold(act.phrases)
        if measured and (torqued or _given_amount(act.phrases) is not None):
            through = any(p.word == "via" for p in own)
            said.append(_ADD_TO_TORQUE if through else _ADD_RUNNING)
    held = counter_hold(voice, act, thing, named)
    return [*said, held] if held else said


_ADD_RUNNING = sentence("set the wrench to the torque plus what you measured there")
_ADD_TO_TORQUE = sentence("add to the torque what you measured there")
"""What drags before it seats does not clamp: seating torque plus running torque is what must arrive
(common practice, no source). Through an adapter the wrench is set to something else again."""


def _running(voice: Voice, torque: Amount, named: Noun) -> Line:
    """Return the check of a self-locking thread: it must be felt before the joint closes."""
    seats, threads = ("seat", "threads") if named.many else ("seats", "thread")
    drag = measure(voice, torque)
    return sentence(f"before {named.they} {seats}, the {threads} must take ", drag, " to turn")


def without_hold(phrases: Many[WalkPhrase]) -> tuple[WalkPhrase, ...]:
    """Return the phrases without `holding A` and the `with B` that belongs to it."""
    at = next((n for n, p in enumerate(phrases) if p.word == "holding"), len(phrases))
    return tuple(p for n, p in enumerate(phrases) if n < at or p.word not in ("holding", "with"))


def counter_hold(voice: Voice, act: Act, thing: Fastener | None, named: Noun) -> Line:
    """Return what is held while something turns; the author's line goes before the fastener's."""
    turned = f" while you turn {named.it}"
    at = next((n for n, p in enumerate(act.phrases) if p.word == "holding"), None)
    if at is not None:
        held = operands(voice, act.phrases[at].operands)
        means = [phrase(voice, p) for p in act.phrases[at + 1 :] if p.word == "with"]
        return sentence("hold ", held, means, turned)
    if thing is None or thing.counter_hold is None:
        return ()
    members = tuple(m for m in thing.counter_hold.members if isinstance(m, str))
    held_noun = noun(voice, Target(thing.counter_hold.key, members))
    return sentence("hold ", held_noun.words, turned)


def thread_line(voice: Voice, thing: Fastener, target: Target) -> Line:
    """Return what the threads need before they go in; () for nothing."""
    named = noun(voice, replace(target, age="", each=False), brief=True)
    threads = ("the threads of " if named.many else "the thread of ", named.words)
    if thing.thread == "oiled":
        return sentence("oil ", threads)
    if thing.thread == "dry":
        return sentence("clean ", threads, " and leave ", named.it, " dry")
    if thing.thread == "with":
        stuff = voice.thing(thing.thread_with)
        words = english.in_brackets(name_of(stuff)) if stuff is not None else "thread locker"
        return sentence("apply ", words, " to ", threads)
    return ()


def stage_texts(stages: Many[Stage]) -> tuple[str, ...]:
    """Return the stages for a table: `20 N·m`, `slacken`, `30 N·m`, `turn 90° further`."""
    made: list[str] = []
    for stage in stages:
        amount = amount_text(stage.amount) if stage.amount is not None else ""
        made.append(
            {
                "torque": amount,
                "slacken": "slacken",
                "angle": f"turn {amount} further",
                "back-off": f"back {amount}",
                "next-hole": f"on to the next pin hole, at most {amount}",
            }[stage.kind]
        )
    return tuple(made)
