"""The values of the demo against published tables: torques, keys, belts, alignment, tools."""

from __future__ import annotations

import math
import re

import demo_support as demo
import pytest

from compiler import model as m

# Proof loads in N: ISO 898-1, read second-hand on two independent pages that agree.
PROOF_8_8 = {4: 5100, 5: 8230, 6: 11600, 8: 21200, 10: 33700, 12: 48900, 16: 91000, 20: 147000}
PROOF_10_9 = {4: 7290, 5: 11800, 6: 16700, 8: 30400, 10: 48100, 12: 70000, 16: 130000, 20: 203000}
# Stress areas in mm²: ISO 898-1, the same pages.
AREA = {4: 8.78, 5: 14.2, 6: 20.1, 8: 36.6, 10: 58.0, 12: 84.3, 16: 157, 20: 245}
# Yield of A2-70 and A4-70 in MPa: ISO 3506-1, read second-hand.
STAINLESS_YIELD = 450


def proof_load(diameter: int, grade: str) -> float | None:
    """Return the load in N that the thread is meant to bear, None for a class not in the tables."""
    if grade in ("8.8", "8"):
        return PROOF_8_8.get(diameter)
    if grade == "10.9":
        return PROOF_10_9.get(diameter)
    if grade in ("A2-70", "A4-70") and diameter in AREA:
        return AREA[diameter] * STAINLESS_YIELD
    return None


def torques() -> dict[str, tuple[m.Fastener, float]]:
    """Return the screws and nuts with a torque, and the highest that is asked of each, in N·m."""
    found = {}
    for key, fastener in demo.things(m.Fastener).items():
        if fastener.tightening is None or fastener.tightening.how != "torque":
            continue
        stages = [s for s in fastener.tightening.stages if s.amount is not None]
        newton = [
            float((s.amount.high or s.amount.low).value)
            for s in stages
            if s.amount is not None and s.amount.low.unit in ("N·m", "")
        ]
        if newton:
            found[key] = fastener, max(newton)
    return found


def test_torques_suit_size_and_class() -> None:
    """T = K·D·F, K 0.20 (Shigley, Table 8-15): preload between a tenth and all of the proof load.

    A torque wanted on the way to the next pin hole, or before an angle, counts like any other.
    """
    seen = 0
    for key, (fastener, torque) in torques().items():
        diameter = fastener.designation.diameter
        if diameter is None or diameter.denominator != 1:
            continue
        load = proof_load(int(diameter), fastener.designation.grade)
        if load is None or "plug" in fastener.designation.text:
            continue
        preload = torque * 1000 / (0.20 * float(diameter))
        assert 0.1 <= preload / load <= 1.0, (key, round(preload / load, 2))
        seen += 1
    assert seen >= 20


@pytest.mark.parametrize(
    ("ring", "key", "shaft"),
    [("extractor/wheel-ring", "extractor/wheel-key", range(31, 39))],
)
def test_a_key_suits_its_shaft(ring: str, key: str, shaft: range) -> None:
    """DIN 6885-1, from memory: 10 × 8 for shafts over 30 and up to 38 mm."""
    fasteners = demo.things(m.Fastener)
    assert int(fasteners[ring].designation.size) in shaft
    assert fasteners[key].designation.size.startswith("10×8")


def test_the_split_pin_goes_through_the_castle_nut() -> None:
    """DIN 935 with ISO 1234, from memory: M20 takes a pin of 4 mm."""
    fasteners = demo.things(m.Fastener)
    assert fasteners["mixer/shaft-nut"].designation.thread == "M20"
    assert fasteners["mixer/split-pin"].designation.size.startswith("4×")


def test_the_belt_gives_as_much_as_its_span_asks() -> None:
    """0.4 mm for each 25 mm of span: three makers' guides, read second-hand."""
    (step,) = {s.id: s for s in demo.models_of(m.MeasureStep) if s.name == "deflection"}.values()
    text = "".join(p for why in step.extras.whys for p in why.parts if isinstance(p, str))
    found = re.search(r"span is (\d+) mm", text)
    assert found is not None
    (limit,) = step.limits
    assert float(limit.low.low.value) == pytest.approx(int(found[1]) / 25 * 0.4)


def test_the_coupling_is_lined_up_to_a_good_grade() -> None:
    """At 1500 turns a minute 0.09 mm will do, 0.06 mm is excellent: one table, second-hand."""
    offsets = [s for s in demo.models_of(m.MeasureStep) if s.name in ("offset", "final-offset")]
    assert offsets
    assert {float(s.limits[0].low.low.value) for s in offsets} == {0.06}
    (foot,) = {s.id: s for s in demo.models_of(m.MeasureStep) if s.name == "foot-gap"}.values()
    assert float(foot.limits[0].low.low.value) <= 0.06  # soft foot: 2 mil, second-hand


def test_the_crowfoot_needs_no_correction_at_a_right_angle() -> None:
    """US Army TM 9-254, figure 46: T·L / (L + E·cos a)."""
    phrases = [p for p in demo.models_of(m.Phrase) if p.word == "at"]
    angles = [
        float(o.low.value)
        for p in phrases
        for o in p.operands
        if isinstance(o, m.Amount) and o.low.unit == "deg"
    ]
    assert angles == [90]
    tools = {t.name: t for t in demo.things(m.Tool).values()}
    arm, reach = tools["wrench-medium"].length, tools["crowfoot-18"].extends
    assert arm is not None
    assert reach is not None
    length, extra = float(arm.value), float(reach.value)
    setting = 70 * length / (length + extra * math.cos(math.radians(angles[0])))
    assert setting == pytest.approx(70)


def test_printed_pairs_agree() -> None:
    """1 lbf·ft = 1.355 818 N·m, 1 lbf·in = 0.112 984 8 N·m: NIST SP 811, appendix B.8."""
    factors = {"lbf·ft": 1.355818, "lbf·in": 0.1129848}
    pairs = [a for a in demo.models_of(m.Amount) if a.twin is not None]
    assert pairs
    for amount in pairs:
        twin = amount.twin
        assert twin is not None
        unit = (twin.high or twin.low).unit
        assert float(amount.low.value) == pytest.approx(
            float(twin.low.value) * factors[unit], rel=0.02
        )


def test_passes_follow_the_published_rounds() -> None:
    """ASME PCC-1, table 1, second-hand: 20–30 %, then 50–70 %, then 100 %, then once round."""
    flanges = [f.sequence for f in demo.things(m.Fastener).values() if len(f.sequence.passes) == 3]
    assert len(flanges) >= 4
    for sequence in flanges:
        first, second, last = (float(share) for share in sequence.passes)
        scale = 100 if last > 1 else 1
        assert 0.2 <= first / scale <= 0.3
        assert 0.5 <= second / scale <= 0.7
        assert last / scale == 1
        assert sequence.then_circular
