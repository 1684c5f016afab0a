"""In which order the bolts of a circle are tightened, in passes, with a small drawing."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from fractions import Fraction

from compiler.reckon.answer import Answer, Result, Step, Unclear
from compiler.reckon.units import other_units, said, symbol
from compiler.reckon.written import one_text, shown
from compiler.trade.patterns import positions, star_order
from compiler.trade.units import Quantity, convert, rounded

EXAMPLE = "witnessmark star 8"
PASSES = (Fraction(30), Fraction(70), Fraction(100))
MOST = 200
_DRAWN = 32

_PASSES_STEP = Step("Passes: 20 to 30 %, 50 to 70 %, 100 %, then round", "ASME PCC-1")

CAUTIONS = (
    "The machine's manual comes first: some joints have an order of their own.",
    "Snug by hand all round first, crosswise too, at no more than 20 % (ASME PCC-1).",
    "With a gasket, look at the gap all round after each crosswise pass.",
)


def star(words: Sequence[str], passes: str, target: str) -> Answer:
    """Return the crosswise order of so many bolts.

    `passes` are shares in per cent, '' for 30, 70, 100; `target` the full torque, '' if not said.
    Raises Unclear.
    """
    count = _count(one_text(list(words), "how many bolts", EXAMPLE))
    shares = _shares(passes) if passes else PASSES
    full = _full(target) if target else None
    order = star_order(count)
    return Answer(
        "star",
        f"{count} bolts on a circle, crosswise; number 1 at the top, then clockwise",
        {
            "count": str(count),
            "passes": ", ".join(f"{float(share):g} %" for share in shares),
            "torque": said(full) if full is not None else "",
        },
        (*tuple(_pass(at, share, full) for at, share in enumerate(shares, 1)), _round(full)),
        steps=(
            _source(count),
            _PASSES_STEP,
        ),
        cautions=CAUTIONS,
        drawing=_drawing(count, order),
        tip="" if target else f'With their torques: witnessmark star {count} --torque "60 N·m"',
        more={"order": list(order)},
    )


def _full(target: str) -> Quantity:
    # Imported when it is asked for: the language takes a while to load.
    from compiler.reckon.values import TORQUE, one_value

    return one_value(target, TORQUE)


def _count(text: str) -> int:
    found = re.fullmatch(r"0*(\d{1,9})(?:\s*[x×]?\s*(?:bolts?|screws?|nuts?|studs?|holes?))?", text)
    if found is None:
        raise Unclear(f"{shown(text)!r} is no number of bolts.", f"For example: {EXAMPLE}")
    count = int(found[1])
    if not 3 <= count <= MOST:
        raise Unclear(
            f"A circle of {count} bolt{'' if count == 1 else 's'} has no crosswise order here.",
            _limits(count),
        )
    return count


def _limits(count: int) -> str:
    if count < 3:
        return "Tighten them by turns, a little each time."
    return f"It is made for 3 to {MOST} bolts."


def _shares(text: str) -> tuple[Fraction, ...]:
    """Read `30,70,100`, `30 70 100 %`, `30/70/100`; they rise, and the last is 100."""
    example = "For example: --passes 30,70,100"
    plain = one_text(text, "the passes in per cent", "--passes 30,70,100")
    words = re.split(r"[\s,;/]+", plain.replace("%", " ").strip())
    if not all(re.fullmatch(r"\d{1,3}(?:\.\d{1,3})?", word) for word in words):
        raise Unclear(f"{shown(plain)!r} are no passes.", example)
    shares = tuple(Fraction(word) for word in words)
    if shares[-1] != 100 or any(a >= b for a, b in itertools.pairwise(shares)):
        raise Unclear("Passes rise from one to the next, and the last one is 100 %.", example)
    if not shares[0] or len(shares) > 10:
        raise Unclear("There are one to ten passes, each above 0 %.", example)
    return shares


def _pass(at: int, share: Fraction, full: Quantity | None) -> Result:
    text, others = f"{float(share):g} %", _torques(full, share)
    return Result(f"pass-{at}", f"pass {at}", text, float(share), "%", others, note="crosswise")


def _round(full: Quantity | None) -> Result:
    note = "once round, until none turns any more"
    return Result("round", "at last", "100 %", 100.0, "%", _torques(full, Fraction(100)), note=note)


def _of(full: Quantity, share: Fraction) -> Result:
    exact = Quantity(full.value * share / 100, full.unit)
    text = full if share == 100 else rounded(exact, full)
    return Result("torque", "torque", said(text), float(exact.value), symbol(full.unit))


def _torques(full: Quantity | None, share: Fraction) -> tuple[Result, ...]:
    """Return the torque of a pass, and in the first of the other units."""
    if full is None:
        return ()
    unit = next(iter(other_units(full)), "")
    if not unit:
        return (_of(full, share),)
    exact = convert(Quantity(full.value * share / 100, full.unit), unit)
    other = Result("torque", "torque", said(rounded(exact, full)), float(exact.value), unit)
    return _of(full, share), other


def _source(count: int) -> Step:
    if count in (4, 8, 12, 16, 20, 24):
        return Step("Order: the published one", "ASME PCC-1, legacy cross pattern")
    if count == 5:
        return Step("Order: the usual one", "general workshop advice")
    return Step("Order: opposite bolts after each other", "our own rule; none is published")


def _drawing(count: int, order: Sequence[int]) -> tuple[str, ...]:
    """Return the circle with its numbers, and the order below it, in fours where it has fours."""
    size = 4 if count % 4 == 0 else 2 if count % 2 == 0 else count
    groups = [order[at : at + size] for at in range(0, count, size)]
    wide = len(str(count))
    texts = ["-".join(str(bolt) for bolt in group) for group in groups]
    lines, line = [], ""
    for text in texts:
        if line and len(line) + 3 + len(text) > 66:
            lines.append(line)
            line = ""
        line = f"{line}   {text}" if line else text
    lines.append(line)
    if size == count and len(lines[-1]) > 66:
        lines = _broken(texts[-1])
    said_order = ["order  " + lines[0], *("       " + more for more in lines[1:])]
    return (*_circle(count, wide), "", *said_order) if count <= _DRAWN else tuple(said_order)


def _broken(text: str) -> list[str]:
    import textwrap

    return [
        line.strip().replace(" ", "-")
        for line in textwrap.wrap(text.replace("-", " "), 66, break_on_hyphens=False)
    ]


def _circle(count: int, wide: int) -> list[str]:
    """Draw the numbers on a circle; a line of a terminal is twice as high as a column is wide."""
    high = 2 * max(2, -(-count // 4)) + 1
    across = 2 * (high - 1)
    rows = [[" "] * (across + wide) for _ in range(high)]
    for bolt, (x, y) in enumerate(positions("circle", count), 1):
        text = str(bolt).rjust(wide)
        at, row = round(x * across), round(y * (high - 1))
        rows[row][at : at + wide] = list(text)
    return ["       " + "".join(row).rstrip() for row in rows]
