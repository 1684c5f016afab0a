"""What a fastener's designation means for the words around it; the stack that sits on it."""

from __future__ import annotations

import re

from compiler.model import Fastener, StackItem
from compiler.trade.designation import describe
from compiler.wording.english import a_or_an, listed, number, plural
from compiler.wording.text import Line, sentence
from compiler.wording.values import sizes_text

_GOES_ON = ("nut", "hose clamp", "retaining ring", "clip", "circlip", "cap")


def described(thing: Fastener) -> tuple[str, str]:
    """Return the size and what it is: (`M6 × 16`, `socket-head screw`); size '' for a bare kind."""
    size, kind = describe(thing.designation)
    if size and not thing.designation.thread and "×" not in size:
        size = f"{size}\N{NO-BREAK SPACE}mm"
    return size, kind


def designation_text(thing: Fastener) -> str:
    """Return the designation for a table, without a word of our own language in front.

    `M6×16 ISO 4762 8.8` stays, `retaining-ring 35 DIN 471` becomes `35 mm external retaining ring
    DIN 471`.
    """
    given = thing.designation
    if not re.match(r"[a-z]", given.text):
        return given.text
    size, kind = described(thing)
    return " ".join(word for word in (size, kind, given.standard, given.grade) if word)


def is_threaded(thing: Fastener) -> bool:
    """Return whether it is put in by turning."""
    return thing.designation.threaded or described(thing)[1].endswith(("screw", "plug", "bolt"))


def goes_on(thing: Fastener) -> bool:
    """Return whether it is put on something (a nut), not into something."""
    return described(thing)[1].endswith(_GOES_ON)


def locks_by_turning(thing: Fastener) -> bool:
    """Return whether it secures another by being tightened against it (a lock nut)."""
    return is_threaded(thing)


def stack_line(thing: Fastener, on: str) -> Line:
    """Return the order of what sits on a fastener, from its head inwards.

    `on` says on which: `the drain plug`, `each union bolt`.
    """
    if len(thing.stack) == 1:
        return sentence(f"put {stack_items(thing)} on {on}")
    return sentence(f"put on {on}, from the head: {stack_items(thing)}")


def stack_items(thing: Fastener, *, formerly: bool = False) -> str:
    """Return what sits on a fastener, in order: `a flat washer, then up to four shims`.

    `formerly` says the numbers that are no longer current too, for a table.
    """
    return ", then ".join(_stack_item(item, formerly) for item in thing.stack)


def _stack_item(item: StackItem, formerly: bool) -> str:
    label = item.label or item.name.replace("-", " ")
    if item.low != item.high:
        span = f"{item.low} to {item.high}" if item.low else f"up to {number(item.high)}"
        text = f"{span} {plural(label) if item.high > 1 else label}"
    elif item.high > 1:
        text = f"{number(item.high)} {'new ' if item.renew else ''}{plural(label)}"
    else:
        text = f"a {'new ' if item.renew else ''}{label}"
    if not item.renew and item.high == 1 and item.low == 1:
        text = a_or_an(label)
    said = [sizes_text(item.sizes)] if item.sizes else []
    said += [f"number {item.number}"] if item.number else []
    if formerly and item.formerly:
        said.append(f"formerly {listed(item.formerly)}")
    if item.facing:
        said.append(item.facing)
    return f"{text} ({', '.join(said)})" if said else text
