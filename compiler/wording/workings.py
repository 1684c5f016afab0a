"""How a torque's numbers were worked out, in words: each with its formula and where it is from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from compiler.derive.lists import TorqueLine
from compiler.derive.passes import shares_of
from compiler.derive.tightening import added, ends_of, middle
from compiler.derive.workings import Lever, Working
from compiler.trade.drives import AS_WRITTEN
from compiler.trade.threads import is_metric, pitch
from compiler.trade.torque import Bearing
from compiler.trade.units import Quantity, convert, find_unit, format_number, format_quantity
from compiler.wording.values import amount_text, from_to

_GAP = "\N{NO-BREAK SPACE}"


@dataclass(frozen=True, slots=True)
class Reckoned:
    """One number: what it is, how it comes about, and the table or formula it is from."""

    label: str
    text: str
    source: str


def reckoned(line: TorqueLine) -> tuple[Reckoned, ...]:
    """Return how the numbers of a torque line were worked out, in the order of the reckoning."""
    work = line.working
    if work is None:
        return ()
    return (
        *_said(line),
        *_aim(line),
        *_passes(line),
        *_thread(work),
        *_preload(line, work),
        *_tool(line, work),
        *_running(line, work),
        *(_setting(lever) for lever in work.levers),
        *_second(line),
    )


def _said(line: TorqueLine) -> Iterator[Reckoned]:
    source = "the house table" if line.from_house else "as written"
    yield Reckoned("Torque", amount_text(line.target), source)


def _aim(line: TorqueLine) -> Iterator[Reckoned]:
    """Say what to aim at where the torque is written as the end of a window."""
    ends, aim = ends_of(line.target), middle(line.target)
    if ends is not None and aim.value != line.target.low.value:
        window = from_to(*(format_quantity(end) for end in ends))
        source = "as much room below as above: common practice, no source"
        yield Reckoned("Aim", f"the middle of {window}, {format_quantity(aim)}", source)


def _passes(line: TorqueLine) -> Iterator[Reckoned]:
    final = format_quantity(middle(line.target))
    each = [
        f"{share:g}{_GAP}% of {final} = {format_quantity(torque)}"
        for share, torque in shares_of(line.sequence, line.target)
    ]
    if each:
        yield Reckoned("Passes", "; ".join(each), "as written")


def _thread(work: Working) -> Iterator[Reckoned]:
    thread, step = work.designation.thread, pitch(work.designation.thread)
    if not thread or step is None:
        return
    metric, bearing = is_metric(thread), work.bearing
    named = f"{thread}, pitch {_mm(step)}"
    yield Reckoned("Thread", named, "ISO 261" if metric else "threads per inch in its name")
    if bearing is None:
        return
    yield _area(bearing, step, metric)
    load = (
        f"{_three(bearing.area_mm2)}{_GAP}mm² × {_three(bearing.stress_mpa, 4)}{_GAP}MPa = "
        f"{_kn(bearing.load_n)}"
    )
    label = f"{bearing.kind[0].upper()}{bearing.kind[1:]}"
    grade = bearing.grade if bearing.grade.startswith("grade") else f"class {bearing.grade}"
    yield Reckoned(label, load, f"{bearing.source}, {grade}{_mated(work, bearing)}")


def _mated(work: Working, bearing: Bearing) -> str:
    """Return that a nut is judged by the screw it belongs on."""
    if bearing.grade == work.designation.grade:
        return ""
    return f", the screw that a nut of class {work.designation.grade} is made for"


def _area(bearing: Bearing, step: Fraction, metric: bool) -> Reckoned:
    size = format_number(Fraction(str(bearing.diameter_mm)))
    depth, source = ("0.9382", "ISO 898-1") if metric else ("0.9743", "ASME B1.1")
    formula = f"π/4 × ({size}{_GAP}mm − {depth} × {_mm(step)})²"
    return Reckoned("Stress area", f"{formula} = {_three(bearing.area_mm2)}{_GAP}mm²", source)


def _preload(line: TorqueLine, work: Working) -> Iterator[Reckoned]:
    """Say the factor and the preload: with both ends where torque or factor have two."""
    factors, bearing = work.state.factors, work.bearing
    if bearing is None or work.preload is None:
        return
    by = {"own": "on the fastener", "house": "for the house", "": ""}[work.state.said_by]
    said = f", stated {by}" if by else ""
    yield Reckoned("Factor K", f"{factors.text}, {factors.words}{said}", factors.source)
    low, high = ends_of(line.target) or (line.target.low, line.target.low)
    ends = [(low, factors.high, work.preload[0])]
    if factors.low != factors.high or low.value != high.value:
        ends.append((high, factors.low, work.preload[1]))
    size = format_number(Fraction(str(bearing.diameter_mm)))
    for at, (torque, factor, load) in enumerate(ends):
        newtons = format_quantity(_newton_metres(torque))
        text = (
            f"F = T / (K·D) = {newtons} / ({factor:.2f} × {size}{_GAP}mm) = {_kn(load)}, "
            f"{round(100 * load / bearing.load_n)}{_GAP}% of the {bearing.kind}"
        )
        label = "Preload" if len(ends) == 1 else ("Preload, least", "Preload, most")[at]
        yield Reckoned(label, text, "short form T = K·D·F")


def _tool(line: TorqueLine, work: Working) -> Iterator[Reckoned]:
    if not line.drive_tool:
        return
    source = work.drive.source if work.drive is not None else ""
    if work.levers or not source:
        source = "named in the step" if work.levers else "by its kind"
    yield Reckoned("Tool", line.drive_tool, source if source != AS_WRITTEN else "as written")


def _running(line: TorqueLine, work: Working) -> Iterator[Reckoned]:
    if work.running is None:
        return
    seat, run = middle(line.target), work.running
    low, high = added(seat, run.low), added(seat, run.high or run.low)
    shown = (
        from_to(format_quantity(low), format_quantity(high)) if run.high else format_quantity(low)
    )
    text = f"{format_quantity(seat)} to seat + {amount_text(run)} to turn = {shown}"
    on = "at the nut" if line.with_running else "on the wrench"
    source = "seating plus running: common practice, no source"
    yield Reckoned("With running torque", f"{text} {on}", source)


def _setting(lever: Lever) -> Reckoned:
    unit = convert(lever.length, "mm"), convert(lever.extends, "mm")
    length, extends = (format_quantity(Quantity(one.value, "mm")) for one in unit)
    text = (
        f"T·L / (L + E·cos a) = {format_quantity(lever.torque)} × {length} / "
        f"({length} + {extends} × cos {lever.angle:g}°) = {format_quantity(lever.setting)}"
    )
    return Reckoned("Wrench set to", text, "US Army TM 9-254, fig. 46")


def _second(line: TorqueLine) -> Iterator[Reckoned]:
    """Say how the other unit comes about; a pair that the author printed was only compared."""
    if line.target.twin is not None:
        text = f"{amount_text(replace(line.target, twin=None))} = {amount_text(line.target.twin)}"
        yield Reckoned("Other unit", text, "both as written, compared")
    elif line.second is not None:
        own, other = find_unit(line.target.low.unit), find_unit(line.second.unit)
        if own is None or other is None:
            return
        exact = convert(line.target.low, line.second.unit)
        written = line.target.low.text or format_number(line.target.low.value)
        product = f"{written} × {float(own.factor / other.factor):.6g} = {float(exact.value):.5g}"
        text = f"{product}{_GAP}{other.symbol}, rounded to {format_quantity(line.second)}"
        yield Reckoned("Other unit", text, "NIST SP 811, Appendix B.8")


def _newton_metres(torque: Quantity) -> Quantity:
    """Return a torque in N·m, the written number where it is in N·m already."""
    if (unit := find_unit(torque.unit)) is not None and unit.symbol == "N·m":
        return torque
    exact = convert(torque, "N·m")
    return Quantity(Fraction(f"{float(exact.value):.4g}"), "N·m")


def _mm(length: Fraction) -> str:
    return f"{_three(float(length), 4)}{_GAP}mm"


def _kn(load: float) -> str:
    return f"{_three(load / 1000)}{_GAP}kN"


def _three(value: float, digits: int = 3) -> str:
    """Return a number to three digits, in plain decimals."""
    return format_number(Fraction(f"{value:.{digits}g}"))
