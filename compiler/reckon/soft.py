"""What a thread in soft metal bears, beside what the screw bears: for the answer of stress."""

from __future__ import annotations

from compiler.reckon.answer import Result, Step, Unclear
from compiler.reckon.units import significant, worked_out
from compiler.reckon.values import LENGTH, one_value
from compiler.reckon.written import one_text, shown
from compiler.trade.engagement import (
    AREA_SOURCE,
    MATERIALS,
    SHEAR_SHARE,
    Engagement,
    Material,
    engagement,
)
from compiler.trade.units import convert

EXAMPLE = '--into aluminium --deep "12 mm"'

CAUTION = (
    "Into soft metal: count full threads only. Wear, coarse tolerances and a thread that was "
    "stripped before leave less; a thread insert brings it back."
)

_OTHER_NAMES = {"aluminum": "aluminium", "alu": "aluminium", "iron": "cast iron", "zamak": "zinc"}


def soft_thread(thread: str, into: str, deep: str) -> Engagement | None:
    """Return the thread that the screw is in; None where neither word was given. Raises Unclear."""
    if not into and not deep:
        return None
    if not into or not deep:
        missing = "how deep its thread is" if into else "what the screw goes into"
        raise Unclear(f"Say {missing} too.", f"For example: {EXAMPLE}")
    depth = one_value(deep, LENGTH, '--deep "12 mm"')
    found = engagement(thread, _material(into), float(depth.si) * 1000)
    if found is None:
        raise Unclear(f"The profile of {thread} is not known here.", f"For example: {EXAMPLE}")
    return found


def _material(text: str) -> Material:
    name = one_text(text, "the material", EXAMPLE).lower().replace("-", " ")
    found = MATERIALS.get(_OTHER_NAMES.get(name, name))
    if found is None:
        reason = f"{shown(text)} is no soft metal of the table."
        raise Unclear(reason, f"It has: {', '.join(MATERIALS)}. Steel is judged by the screw.")
    return found


def soft_results(found: Engagement) -> tuple[Result, ...]:
    """Return at which loads the thread strips, in the weakest of its material and the strongest."""
    ends = zip(("weakest", "strongest"), found.loads_n, strict=True)
    return tuple(_load(name, load) for name, load in ends)


def _load(which: str, newtons: float) -> Result:
    pounds = float(convert(worked_out(newtons, "N")[0], "lbf").value)
    other = Result(f"strips/{which}", "", f"{significant(pounds)} lbf", pounds, "lbf")
    label = f"thread strips, {which}"
    text = f"{significant(newtons / 1000)} kN"
    return Result(f"strips/{which}", label, text, newtons, "N", (other,), source=AREA_SOURCE)


def soft_steps(found: Engagement) -> tuple[Step, ...]:
    """Return how the loads come about."""
    area = f"{significant(found.area_mm2)} mm²"
    loads = [f"{significant(load / 1000)} kN" for load in found.loads_n]
    one = found.material
    return (
        Step(
            f"shear area = 0.875·π·D·L = 0.875 × π × {found.diameter_mm:g} mm × "
            f"{found.depth_mm:g} mm = {area}",
            AREA_SOURCE,
        ),
        Step(
            f"strips at {SHEAR_SHARE:g}·Rm·A = {SHEAR_SHARE:g} × {one.low:g} to {one.high:g} MPa × "
            f"{area} = {loads[0]} to {loads[1]}",
            f"{one.words}: from memory",
        ),
    )


def soft_remarks(found: Engagement, most_n: float) -> tuple[str, ...]:
    """Return whether the largest preload strips it, and how deep it is against common practice."""
    one, low = found.material, found.loads_n[0]
    depth = found.depth_mm / found.diameter_mm
    usual = one.depth * found.diameter_mm
    made = []
    if most_n > found.loads_n[1]:
        made.append(f"{_first(one.name)} of any usual kind strips before this preload is reached.")
    elif most_n > low:
        made.append(
            f"The weakest {one.name} ({one.low:g} MPa) strips at {significant(low / 1000)} kN, "
            f"before the {significant(most_n / 1000)} kN that it may get."
        )
    deep = f"{significant(usual)} mm"
    short = "less than" if found.depth_mm < usual * 0.999 else "no less than"
    made.append(
        f"The thread is {depth:.2g} D deep, {short} the {one.depth:g} D ({deep}) usual in "
        f"{one.name} (common practice, no source)."
    )
    return tuple(made)


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
