"""All that follows from the designation of a fastener: geometry, strength, drive, tool."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from compiler.reckon.answer import Answer, Result, Step, Table, Unclear
from compiler.reckon.units import said, significant, symbol
from compiler.reckon.written import designation_in, one_text
from compiler.trade.designation import Designation
from compiler.trade.drives import HEX_DIN, HEX_ISO
from compiler.trade.geometry import Fact, Geometry, geometry_of
from compiler.trade.standards import is_listed, nearest
from compiler.trade.units import Quantity, convert

EXAMPLE = 'witnessmark fastener "M6×16 ISO 4762 8.8"'

CAUTIONS = (
    (
        "What is marked on the part in your hand comes first: standards have editions, and makers "
        "have parts of their own."
    ),
)
_NO_CLASS = (
    "No class, no strength: read it on the head (8.8, A2-70, lines) and add it, as in the example "
    "M6×16 ISO 4762 8.8."
)
_IN_INCHES = {"mm": "in", "N": "lbf", "MPa": "psi"}


def fastener(words: Sequence[str]) -> Answer:
    """Return what is known of a fastener by its designation. Raises Unclear."""
    text = one_text(list(words), "a designation", EXAMPLE)
    what = designation_in(text, EXAMPLE)
    facts = geometry_of(what)
    rows = facts.rows()
    if not rows:
        reason = f"Of {facts.kind} alone nothing is known here."
        raise Unclear(reason, f"Name its size and its standard: {EXAMPLE}")
    results = tuple(_result(label, fact) for label, fact in rows)
    return Answer(
        "fastener",
        _title(facts),
        {
            "kind": facts.kind,
            "size": facts.size,
            "thread": what.thread,
            "standard": what.standard,
            "class": what.grade,
        },
        results,
        steps=_steps(facts),
        cautions=CAUTIONS,
        table=_table(results, inches=what.threaded and not what.thread.startswith(("M", "G", "R"))),
        remarks=_remarks(what, facts),
    )


def _title(facts: Geometry) -> str:
    what = facts.designation
    kind = facts.kind if facts.kind != "fastener" else "thread"
    grade = what.grade if what.grade.startswith("grade") else f"class {what.grade}"
    parts = [f"{facts.size} {kind}".strip(), what.standard, grade if what.grade else ""]
    return ", ".join(part for part in parts if part)


def _result(label: str, fact: Fact) -> Result:
    name = label.replace(" ", "-")
    others: tuple[Result, ...] = ()
    if fact.number is not None and fact.unit in _IN_INCHES:
        exact = convert(Quantity(Fraction(f"{fact.number:.12g}"), fact.unit), _IN_INCHES[fact.unit])
        digits = significant(float(exact.value), 4)
        text = said(Quantity(exact.value, exact.unit, digits))
        others = (Result(name, label, text, float(exact.value), symbol(exact.unit)),)
    return Result(name, label, fact.text, fact.number, fact.unit, others, source=fact.source)


def _table(results: Sequence[Result], *, inches: bool) -> Table:
    if not inches:
        rows = tuple((r.label, r.text, _short(r)) for r in results)
        return Table(("", "", ""), rows)
    both = tuple(
        (r.label, r.text, r.others[0].text if r.others else "", _short(r)) for r in results
    )
    return Table(("", "", "", ""), both)


def _short(result: Result) -> str:
    """Return the source as it fits into a line."""
    return f"  {result.source.removesuffix(', no source')}"


def _steps(facts: Geometry) -> tuple[Step, ...]:
    """Return the two formulas behind the table: that of the stress area, that of the load."""
    area, wide, pitch = facts.stress_area, facts.diameter, facts.pitch
    if area is None or wide is None or pitch is None:
        return ()
    depth = 0.9382 if facts.designation.thread.startswith("M") else 0.9743
    steps = [Step(f"As = π/4 · ({wide.text} − {depth} × {pitch.text})² = {area.text}", area.source)]
    stress, load = facts.proof_stress, facts.proof_load
    if stress is not None and load is not None:
        text = f"proof load = Sp · As = {stress.text} × {area.text} = {load.text}"
        steps.append(Step(text, load.source))
    return tuple(steps)


def _remarks(what: Designation, facts: Geometry) -> tuple[str, ...]:
    remarks = []
    size = what.thread.partition("×")[0]
    iso, din = HEX_ISO.get(size), HEX_DIN.get(size)
    if facts.drive is not None and facts.drive.text == "hexagon" and iso and din and iso != din:
        remarks.append(
            f"Hexagons of {size} come in two sizes: {iso} mm across flats by ISO, {din} mm by the "
            "older DIN. Measure before you lay out the tool."
        )
    number = what.standard.partition(" ")[2]
    if number and not is_listed(what.standard):
        near = " or ".join(nearest(what.standard)[:3])
        meant = f" Did you mean {near}?" if near else ""
        remarks.append(
            f"{what.standard} is not among the standards that are known here, so nothing is said "
            f"of head and tool.{meant}"
        )
    if what.threaded and not what.grade and facts.stress_area is not None:
        remarks.append(_NO_CLASS)
    return tuple(remarks)
