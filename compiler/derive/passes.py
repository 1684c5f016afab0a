"""The torques of the passes in which a group is tightened: shares of the final torque."""

from __future__ import annotations

from fractions import Fraction

from compiler.derive.tightening import middle, target_of
from compiler.model import Fastener, Stage
from compiler.trade.units import Quantity, rounded


def pass_torques(fastener: Fastener, stages: tuple[Stage, ...]) -> tuple[Quantity, ...]:
    """Return the torque of each pass below the final one, in their order.

    Rounded as the sentence of the step tells them.
    """
    target, shares = target_of(stages), fastener.sequence.passes
    if target is None or len(shares) < 2:
        return ()
    final = middle(target)
    torques = (
        rounded(Quantity(final.value * Fraction(str(share)) / 100, final.unit), final)
        for share in shares
        if share < 100
    )
    # Without the digits they are rounded to: 18 N·m, not 18.0.
    return tuple(dict.fromkeys(Quantity(one.value, one.unit) for one in torques))
