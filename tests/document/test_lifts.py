"""Every number of a lift by hand can be worked out again from what the page itself says."""

from __future__ import annotations

import math
import re

import pytest

from compiler.document.model import LiftRow, StepView
from compiler.pipeline import compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile
from compiler.wording.text import plain_text

WORK = """procedure lift "Lift the rotor out"
  revision A 2026-10-05
  leaves rotor off, hood off, lid off
  parts
    rotor "rotor" 9 kg  lifted 60..110 cm  hands out 40 cm  turned 30 deg  fair grasp
    hood  "hood"  6 kg  without lamp  lifted 70..80 cm  hands out 20 cm  good grasp
    lamp  "lamp"  1 kg  on hood
    lid   "lid"   4 kg
  remove rotor
  remove hood
  remove lid
"""


@pytest.fixture(scope="module")
def rows() -> dict[str, LiftRow]:
    """Return the lifts of the procedure by the name of their part."""
    compiled = compile_sources([SourceFile("lift.proc", WORK)], no_pictures)
    assert compiled.is_clean, compiled.findings
    (document,) = compiled.library().documents
    return {row.part: row for row in document.lifts}


def _numbers(text: str) -> list[float]:
    return [float(one) for one in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", text)]


def test_only_what_is_described_is_worked_out(rows: dict[str, LiftRow]) -> None:
    assert list(rows) == ["rotor", "hood"]
    assert rows["hood"].mass.endswith("without lamp")


def test_each_multiplier_follows_from_what_is_printed(rows: dict[str, LiftRow]) -> None:
    """NIOSH 94-110: HM = 25/H, VM = 1 − .003|V − 75|, DM = .82 + 4.5/D, AM = 1 − .0032 A (R2)."""
    found = {one.label[:2]: _numbers(one.text) for one in rows["rotor"].workings}
    near, out, hm = found["HM"]
    assert hm == pytest.approx(near / out, abs=0.0005)
    one, slope, height, waist, vm = found["VM"]
    assert vm == pytest.approx(one - slope * abs(height - waist), abs=0.0005)
    base, over, travel, dm = found["DM"]
    assert dm == pytest.approx(base + over / travel, abs=0.0005)
    assert (out, travel) == (40, 50)
    assert found["AM"][2:] == pytest.approx([30, 1 - 0.0032 * 30], abs=0.0005)
    limit = found["RW"][-1]
    product = 23 * math.prod(found[name][-1] for name in ("HM", "VM", "DM", "AM", "FM", "CM"))
    assert limit == pytest.approx(product, abs=0.06)
    load, again, index = found["LI"][:3]
    assert (load, again) == (9, limit)
    assert index == pytest.approx(load / limit, abs=0.01)


def test_a_step_that_lifts_it_otherwise_has_a_row_of_its_own() -> None:
    """The step says 30..60 cm and 25 cm out; what it does not say is that of the part (turned)."""
    text = WORK.replace(
        "  remove rotor\n", "  remove rotor\n    lifted 30..60 cm  hands out 25 cm\n"
    )
    text = text.replace("rotor off, ", "") + "  fit rotor\n"
    compiled = compile_sources([SourceFile("lift.proc", text)], no_pictures)
    assert compiled.is_clean, compiled.findings
    (document,) = compiled.library().documents
    own, hood, usual = document.lifts
    assert (own.part, own.step_numbers) == ("rotor", ("1",))
    assert (usual.part, usual.step_numbers) == ("rotor", ("4",))
    assert (hood.part, hood.step_numbers) == ("hood", ())
    said = {one.label[:2]: _numbers(one.text) for one in own.workings}
    by_hand = 23 * 25 / 25 * (1 - 0.003 * abs(30 - 75)) * (0.82 + 4.5 / 30) * 0.904 * 0.95
    assert said["RW"][-1] == pytest.approx(by_hand, abs=0.05)
    assert said["AM"][2] == 30


def test_the_step_says_the_limit_of_its_own_lift() -> None:
    """The sentence and the table say one thing: 23 kg × 1 × 0.865 × 0.97 × 0.904 × 0.95 (R2)."""
    text = WORK.replace(
        "  remove rotor\n", "  remove rotor  people 2\n    lifted 30..60 cm  hands out 25 cm\n"
    )
    compiled = compile_sources([SourceFile("lift.proc", text)], no_pictures)
    (document,) = compiled.library().documents
    (step, *_) = document.body
    assert isinstance(step, StepView)
    said = " ".join(plain_text(one) for one in step.lines)
    limit = 23 * (1 - 0.003 * 45) * (0.82 + 4.5 / 30) * 0.904 * 0.95
    words = f"One person lifts at most {limit:.1f} kg so (RWL, NIOSH 94-110; LI {4.5 / limit:.2f}"
    assert f"{words}, shared by 2)" in said.replace("\N{NO-BREAK SPACE}", " ")


def test_several_people_share_a_load_on_the_page_as_in_the_check() -> None:
    """NIOSH 94-110 is about one person: even shares are a guide only (common practice)."""
    text = WORK.replace("9 kg", "18 kg").replace("remove rotor\n", "remove rotor  people 2\n")
    text = text.replace("rotor off, ", "") + "  check rotor\n  fit rotor  people 3\n"
    compiled = compile_sources([SourceFile("lift.proc", text)], no_pictures)
    assert compiled.is_clean, compiled.findings
    (document,) = compiled.library().documents
    two, _, three = document.lifts
    assert [(one.part, one.step_numbers) for one in (two, three)] == [
        ("rotor", ("1",)),
        ("rotor", ("5",)),
    ]
    for row, people in ((two, 2), (three, 3)):
        said = {one.label: _numbers(one.text) for one in row.workings}
        assert said["Share of each"] == pytest.approx([18, people, 18 / people])
        load, limit, index = said["LI, lifting index"][:3]
        assert load == 18 / people
        assert index == pytest.approx(load / limit, abs=0.01)


def test_the_worse_end_counts(rows: dict[str, LiftRow]) -> None:
    """V is 60 or 110 cm: 1 − .003 × 35 is less than 1 − .003 × 15, though CM is 1 up there."""
    by_hand = {
        height: 23 * 25 / 40 * (1 - 0.003 * abs(height - 75)) * (0.82 + 4.5 / 50) * 0.904 * cm
        for height, cm in ((60, 0.95), (110, 1.00))
    }
    limit = next(one for one in rows["rotor"].workings if one.label.startswith("RWL"))
    assert _numbers(limit.text)[-1] == pytest.approx(min(by_hand.values()), abs=0.05)


def test_near_and_short_lifts_say_why_they_count_full(rows: dict[str, LiftRow]) -> None:
    """NIOSH 94-110: HM is 1 below 25 cm, DM below 25 cm (R2)."""
    said = {one.label[:2]: one.text for one in rows["hood"].workings}
    assert said["HM"] == "20 cm is less than 25 cm = 1.000"
    assert said["DM"] == "10 cm is less than 25 cm = 1.000"
    assert "LI" not in said, "the lamp may be on or off"
