"""The torques of the passes in which a group is tightened: shares of the final torque."""

from __future__ import annotations

from fractions import Fraction

from compiler.derive.tightening import middle, target_of
from compiler.model import Amount, Fastener, Sequence, Stage
from compiler.trade.units import Quantity, rounded


def pass_torques(fastener: Fastener, stages: tuple[Stage, ...]) -> tuple[Quantity, ...]:
    """Return the torque of each pass below the final one, in their order.

    Rounded as the sentence of the step tells them.
    """
    target = target_of(stages)
    shares = shares_of(fastener.sequence, target) if target is not None else ()
    return tuple(dict.fromkeys(torque for _, torque in shares))


def shares_of(sequence: Sequence, target: Amount) -> tuple[tuple[float, Quantity], ...]:
    """Return each pass below the final one: its share in per cent, and the torque it comes to."""
    if len(sequence.passes) < 2:
        return ()
    final = middle(target)
    torques = (
        (share, rounded(Quantity(final.value * Fraction(str(share)) / 100, final.unit), final))
        for share in sequence.passes
        if share < 100
    )
    # Without the digits they are rounded to: 18 N·m, not 18.0.
    return tuple((share, Quantity(one.value, one.unit)) for share, one in torques)
