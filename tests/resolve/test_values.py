"""Values: units, dimensions, ranges, tolerances, printed pairs."""

from __future__ import annotations

from fractions import Fraction

import pytest
from resolve_support import job, one, resolved, told

from compiler import model, syntax
from compiler.resolve.numbers import number_of
from compiler.resolve.report import Report
from compiler.source import Span
from compiler.trade.units import Quantity


def screw(clauses: str) -> str:
    return job("tighten screw", f"fasteners\n  screw 4 × M6×16 ISO 4762 8.8  {clauses}")


def part(clauses: str) -> str:
    return job("clean cover", f'parts\n  cover "cover" {clauses}')


@pytest.mark.parametrize(
    ("text", "rule", "piece"),
    [
        (screw("torque 9 Nmm2"), "unknown-unit", "Nmm2"),
        (screw("torque 9 mm"), "wrong-dimension", "9 mm"),
        (screw("torque 9..10 mm"), "wrong-dimension", "10 mm"),
        (screw("torque 20 N·m then 90 mm"), "wrong-dimension", "90 mm"),
        (screw("torque 20 N·m then back off 5 N·m"), "wrong-dimension", "5 N·m"),
        (screw("running torque 5 mm"), "wrong-dimension", "5 mm"),
        (screw("torque 9 N·m in 3 N·m, 9 N·m"), "wrong-dimension", "3 N·m"),
        (part("5 N·m"), "wrong-dimension", "5 N·m"),
        (part("over 5 mm"), "wrong-dimension", "5 mm"),
        (job('"x" takes 5 kg'), "wrong-dimension", "5 kg"),
        (job('"x" timer 5 mm'), "wrong-dimension", "5 mm"),
        (job("wait for 5 mm"), "wrong-dimension", "5 mm"),
        (job('"x"', head="every 5 kg"), "wrong-dimension", "5 kg"),
        (job('turn "it" to 5', ""), "", ""),
        (job("wait for 5"), "unknown-unit", "5"),
        (job('measure g "G" between 1 mm and 2 kg'), "wrong-dimension", "between 1 mm and 2 kg"),
        ('shop s "S"\n  lift limit 25 mm\n', "wrong-dimension", "25 mm"),
        ('shop s "S"\n  units N·m, foo\n', "unknown-unit", "foo"),
        ('shop s "S"\n  tools\n    h hoist "h" lifts 3 m\n', "wrong-dimension", "3 m"),
        ('shop s "S"\n  tools\n    h torque-wrench 5..25 mm\n', "wrong-dimension", "25 mm"),
        ('shop s "S"\n  tools\n    h sockets 5, 6 kg\n', "wrong-dimension", "6 kg"),
        ('shop s "S"\n  tools\n    h sockets 5 mm drive 3 kg\n', "wrong-dimension", "3 kg"),
        ('shop s "S"\n  tools\n    h sockets 5 mm accuracy 3 mm\n', "wrong-dimension", "3 mm"),
        ('shop s "S"\n  torques\n    M6 8.8 9 mm\n', "wrong-dimension", "9 mm"),
    ],
)
def test_units_and_dimensions(text: str, rule: str, piece: str) -> None:
    found = [f for f in told(text) if f[0] == rule]
    assert found[-1:] == ([(rule, piece)] if rule else [])


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        (screw("torque 10..8 N·m"), "10..8 N·m"),
        (screw("torque 0 N·m"), "0 N·m"),
        (screw("torque 9 N·m ±100 %"), "100 %"),
        (screw("torque 9 N·m +1 -9 N·m"), "9 N·m"),
        (screw("torque 90 deg"), "90 deg"),
        (screw("torque 40 N·m then next hole up to 30 N·m"), "next hole up to 30 N·m"),
        (screw("torque 9 N·m in 70 %, 30 %, 100 %"), "in 70 %, 30 %, 100 %"),
        (screw("torque 9 N·m in 30 %, 70 %"), "in 30 %, 70 %"),
        (part("0 kg"), "0 kg"),
        (part("9000000 kg"), "9000000 kg"),
        (job('"x" takes 20..5 min'), "20..5 min"),
        (job('"x" takes 5..20 min likely 30 min'), "30 min"),
        (job('measure g "G" between 2 mm and 1 mm'), "between 2 mm and 1 mm"),
        (
            job('picture "a.png"\n  mark 1 "it" at 120 %, 5 %\n"x"'),
            "120 %",
        ),
    ],
)
def test_values_that_make_no_sense(text: str, piece: str) -> None:
    found = [f for f in told(text) if f[0] != "picture-missing"]
    assert found == [("quantity-sanity", piece)]


def test_a_range_that_runs_backwards_is_turned_by_the_fix() -> None:
    _, (finding,) = resolved(screw("torque 10..8 N·m"))
    assert finding.fix is not None
    assert finding.fix.text == "8..10 N·m"


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        (screw("torque 9 N·m rectangle 2 × 3"), "rectangle 2 × 3"),
        (screw("torque 9 N·m order 1, 2, 3"), "order 1, 2, 3"),
        (screw("torque 9 N·m order 1, 2, 2, 3"), "order 1, 2, 2, 3"),
        (screw("torque 9 N·m order 1, 2, 3, 5"), "order 1, 2, 3, 5"),
        (screw('torque 9 N·m\n    stack\n      shim "s" 4..0 ×'), "4..0 ×"),
        (job("clean screw", "fasteners\n  screw 0 × M6 ISO 4032 8 snug"), "0"),
        (job('"x" people 0'), "0"),
        (job('"x"', 'parts\n  foot[1..900] "f"'), "1..900"),
    ],
)
def test_counts_that_make_no_sense(text: str, piece: str) -> None:
    found = [f for f in told(text) if f[0] != "unused-name"]
    assert [(rule, p.rstrip(" ×")) for rule, p in found] == [("count-sanity", piece.rstrip(" ×"))]


@pytest.mark.parametrize(
    ("pair", "fine"),
    [
        ("20 N·m (15 lbf·ft)", True),  # 14.75, rounded to whole pounds
        ("20 N·m (14.8 lbf·ft)", True),
        ("20 N·m (14.7 lbf·ft)", True),  # 19.93 N·m, rounded to 20
        ("20 N·m (14.2 lbf·ft)", False),
        ("20 N·m (16 lbf·ft)", False),
        ("9 N·m (80 lbf·in)", True),  # 79.7
        ("80 lbf·in (9 N·m)", True),
        ("8..10 N·m (71..88 lbf·in)", True),  # 70.8, 88.5: either way of rounding a half
        ("8..10 N·m (71..98 lbf·in)", False),
        ("200 N·m (150 lbf·ft)", True),  # 147.5, to tens
        ("200 N·m (160 lbf·ft)", False),
        ("203 N·m (150 lbf·ft)", True),
        ("210 N·m (150 lbf·ft)", True),  # 154.9
        ("12 N·m (120 lbf·in)", False),  # 106.2
        ("150 lbf·ft (20 N·m)", False),
    ],
)
def test_printed_pairs(pair: str, fine: bool) -> None:
    """With the factors of NIST SP 811: 1 lbf·ft is 1.355 818 N·m, 1 lbf·in is 0.112 984 8 N·m."""
    found = [rule for rule, _ in told(screw(f"torque {pair}"))]
    assert found == ([] if fine else ["printed-pair"])


def test_the_right_value_of_a_pair_is_offered() -> None:
    text = screw("torque 20 N·m (16 lbf·ft)")
    _, (finding,) = resolved(text)
    assert finding.fix is not None
    assert finding.fix.text == "15"
    assert text[finding.fix.span.start : finding.fix.span.end] == "16"


@pytest.mark.parametrize(
    ("pair", "rule"),
    [
        ("20 N·m (15 mm)", "wrong-dimension"),
        ("8..10 N·m (71 lbf·in)", "printed-pair"),
        ("9 N·m (80 foo)", "unknown-unit"),
    ],
)
def test_pairs_that_are_none(pair: str, rule: str) -> None:
    assert [found for found, _ in told(screw(f"torque {pair}"))] == [rule]


def test_a_value_is_kept_as_it_was_written() -> None:
    found = one(screw("torque 8.50..10 N·m ±10 % (75..89 lbf·in)"), "screw")
    assert isinstance(found, model.Fastener)
    assert found.tightening is not None
    value = found.tightening.stages[0].amount
    assert value is not None
    assert (value.low.value, value.low.unit) == (Fraction(17, 2), "N·m")
    assert value.high is not None
    assert value.high.value == 10
    assert value.tolerance is not None
    assert value.tolerance.plus == Quantity(Fraction(10), "%", "10")
    assert value.twin is not None
    assert value.twin.low.unit == "lbf·in"


def test_a_mass_that_nobody_weighed() -> None:
    found = one(part("over 45 kg"), "cover")
    assert isinstance(found, model.Part)
    assert found.mass is not None
    assert found.mass.qualifier == "over"
    assert found.mass.low == Quantity(Fraction(45), "kg", "45")


def test_limits() -> None:
    limits = "each at most 0.4 mm\n  sum at most 1.5 mm\n  between 1 mm and 2 mm"
    body = f'measure g "G"\n  grid 2 × 3\n  {limits}'
    found, findings = resolved(job(body))
    assert findings == ()
    (step,) = found.procedures["job"].body
    assert isinstance(step, model.MeasureStep)
    assert step.grid == (2, 3)
    assert [(li.relation, li.scope) for li in step.limits] == [
        ("at most", "each"),
        ("at most", "sum"),
        ("between", ""),
    ]


def test_limits_of_one_measurement_are_of_one_kind() -> None:
    body = 'measure g "G"\n  each at most 0.4 mm\n  sum at most 1.5 kg'
    assert told(job(body)) == [("wrong-dimension", "sum at most 1.5 kg")]


@pytest.mark.parametrize("text", ["1/0", "9" * 5000, "1 1/0"])
def test_numbers_that_are_none_raise_nothing(text: str) -> None:
    report = Report()
    assert number_of(report, syntax.NumberLit(Span("a.proc", 0, 1), text)) is None
    assert [f.rule for f in report.findings()] == ["quantity-sanity"]
