"""What turns a fastener by hand, in words for a table."""

from __future__ import annotations

from compiler.model import Fastener
from compiler.trade.wrenching import hand_need


def turning_text(thing: Fastener) -> str:
    """Return `5 mm hex key`, or what is known of it without its size; '' when nothing is."""
    return hand_need(thing.designation).text
