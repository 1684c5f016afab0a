"""What one person may lift, in words."""

from __future__ import annotations

from compiler.trade.lifting import WeightLimit


def lift_text(found: WeightLimit) -> str:
    """Return `one person lifts at most 9.8 kg so (RWL, NIOSH 94-110; LI 1.43)`.

    LI is the mass against the limit: above 1 it is too much.
    """
    if not found.limit:
        return "nobody may lift anything so (RWL 0 kg, NIOSH 94-110)"
    index = f"; LI {found.index:.2f}" if found.index is not None else ""
    return f"one person lifts at most {found.limit:.1f} kg so (RWL, NIOSH 94-110{index})"
