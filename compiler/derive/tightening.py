"""What a tightening comes to: the torques that have to be measured, the target, its window."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from compiler.model import Amount, AnyThing, Fastener, Stage, Tool
from compiler.trade.torque import adapter_setting
from compiler.trade.units import Quantity, convert, format_number, format_quantity, three_digits
from compiler.walk.nodes import Act, Target, WalkPhrase


def own_phrases(act: Act) -> tuple[WalkPhrase, ...]:
    """Return the phrases about the thing itself, without `holding A with B` at their end."""
    at = next((n for n, p in enumerate(act.phrases) if p.word == "holding"), len(act.phrases))
    held = {id(p) for p in act.phrases[at:] if p.word in ("holding", "with")}
    return tuple(p for p in act.phrases if id(p) not in held)


def stages_of(fastener: Fastener, act: Act) -> tuple[Stage, ...]:
    """Return the stages: those of the fastener, or the one value that the line itself gives.

    () when nothing is measured: hand-tight, snug, until something is seen, or nothing said.
    """
    said = own_phrases(act)
    if any(phrase.word in ("hand-tight", "snug") for phrase in said):
        return ()
    given = given_amount(said)
    if given is not None:
        kind: Literal["torque", "angle"] = "torque" if is_torque(given) else "angle"
        return (Stage(given.span, kind, given),)
    until = any(phrase.word == "until" for phrase in said)
    if until or fastener.tightening is None or fastener.tightening.how != "torque":
        return ()
    return fastener.tightening.stages


def given_amount(phrases: Iterable[WalkPhrase]) -> Amount | None:
    """Return the torque or angle that a line itself gives; None when it gives none."""
    for phrase in phrases:
        for operand in phrase.operands if phrase.word in ("to", "") else ():
            if isinstance(operand, Amount) and operand.low.dimension in ("torque", "angle"):
                return operand
    return None


def is_torque(amount: Amount) -> bool:
    """Return whether an amount is a torque, and not an angle to turn by."""
    return amount.low.dimension == "torque"


def is_by_hand(fastener: Fastener, act: Act) -> bool:
    """Return whether fingers are enough."""
    said = {phrase.word for phrase in own_phrases(act)}
    if "hand-tight" in said:
        return True
    how = fastener.tightening.how if fastener.tightening is not None else ""
    return how == "hand-tight" and "snug" not in said and not stages_of(fastener, act)


def measured(stages: tuple[Stage, ...]) -> tuple[Quantity, ...]:
    """Return the torques that a wrench has to show: of each stage, the middle of a range.

    On the way to the next pin hole the wrench must show up to the most that is allowed.
    """
    found: dict[Quantity, None] = {}
    for stage in stages:
        if stage.amount is not None and stage.kind in ("torque", "next-hole"):
            found[middle(stage.amount)] = None
    return tuple(found)


def with_running(torques: Iterable[Quantity], running: Amount | None) -> tuple[Quantity, ...]:
    """Return what the wrench shows where the running torque of a lock nut comes on top.

    Of the running torque the most that is allowed, so that the wrench reaches it.
    """
    if running is None:
        return ()
    most = running.high or running.low
    return tuple(added(torque, most) for torque in torques)


def added(torque: Quantity, other: Quantity) -> Quantity:
    """Return the sum of two torques in the unit of the first."""
    return Quantity(torque.value + convert(other, torque.unit).value, torque.unit)


def middle(amount: Amount) -> Quantity:
    """Return what a wrench is set to: the value, or the middle of a window that it is the end of.

    A range has no other value to aim at. Of a tolerance that is shut on one side the value is the
    end: a wrench that is set to it is outside every other time (common practice, no source).
    """
    ends = ends_of(amount)
    if ends is None or all(end.value != amount.low.value for end in ends):
        return amount.low
    return Quantity((ends[0].value + ends[1].value) / 2, amount.low.unit)


def ends_of(amount: Amount) -> tuple[Quantity, Quantity] | None:
    """Return the least and the most that an amount allows, in its first unit; None for one value.

    What is written is what they are told as: the ends of a range keep their digits.
    """
    if amount.high is not None:
        return amount.low, convert(amount.high, amount.low.unit)
    if amount.tolerance is None:
        return None
    return (
        _shifted(amount.low, amount.tolerance.minus, -1),
        _shifted(amount.low, amount.tolerance.plus, 1),
    )


def target_of(stages: tuple[Stage, ...]) -> Amount | None:
    """Return the final torque: that of the last stage that gives one."""
    torques = [s.amount for s in stages if s.kind == "torque" and s.amount is not None]
    return torques[-1] if torques else None


def window_of(stages: tuple[Stage, ...]) -> tuple[Quantity | None, Quantity | None]:
    """Return the least and the most torque; None, None when neither tolerance nor range is said.

    A torque that goes on to the next pin hole may be anything up to the most that is allowed.
    """
    target = target_of(stages)
    if target is None:
        return None, None
    unit = target.low.unit
    last = stages[-1]
    if last.kind == "next-hole" and last.amount is not None:
        return target.low, convert(last.amount.low, unit)
    return ends_of(target) or (None, None)


# One torque is asked for by the lists, the checks and the words of its step: twenty times over.
@lru_cache(maxsize=1024)
def _shifted(value: Quantity, by: Quantity, sign: int) -> Quantity:
    """Return a value shifted by a tolerance, in per cent of it or in a unit of its own."""
    share = by.dimension == "ratio"
    change = value.value * by.si if share else convert(by, value.unit).value
    moved = value.value + sign * change
    return Quantity(moved, value.unit, format_number(moved))


def amount_words(amount: Amount) -> str:
    """Return a value or a range in words: `9 N·m`, `8 to 10 N·m`."""
    if amount.high is None:
        return format_quantity(amount.low)
    low = amount.low.text or format_number(amount.low.value)
    same = amount.low.unit == amount.high.unit
    first = low if same else format_quantity(amount.low)
    return f"{first} to {format_quantity(amount.high)}"


@dataclass(frozen=True, slots=True)
class Adapter:
    """What stands between wrench and fastener, and at which angle in degrees."""

    tool: Tool
    angle: float = 0.0


def adapter_of(things: Mapping[str, AnyThing], act: Act) -> Adapter | None:
    """Return the adapter of `via crowfoot-18 at 90 deg`, None without one."""
    tool: Tool | None = None
    angle = Fraction(0)
    for phrase in own_phrases(act):
        for operand in phrase.operands:
            if phrase.word == "via" and isinstance(operand, Target):
                thing = things.get(operand.key)
                tool = thing if isinstance(thing, Tool) else tool
            if phrase.word == "at" and isinstance(operand, Amount):
                angle = operand.low.si * 360 if operand.low.dimension == "angle" else angle
    return Adapter(tool, float(angle)) if tool is not None else None


def setting_for(torque: Quantity, wrench: Tool, adapter: Adapter | None) -> Quantity | None:
    """Return what the wrench is set to so that the torque arrives; None when it is the torque.

    Lengths must be known; an adapter straight across changes nothing.
    """
    if adapter is None or adapter.tool.extends is None or wrench.length is None:
        return None
    try:
        exact = adapter_setting(
            float(torque.value),
            float(wrench.length.si),
            float(adapter.tool.extends.si),
            adapter.angle,
        )
    except ValueError:
        return None
    if abs(exact - float(torque.value)) < 1e-9 * max(1.0, abs(exact)):
        return None
    # Nine digits are more than any wrench shows, and hide what the cosine leaves behind.
    return three_digits(Quantity(Fraction(f"{exact:.9g}"), torque.unit))
