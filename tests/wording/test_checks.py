"""Measurements, questions, records, hold points, signatures and ends as sentences."""

# ruff: noqa: E501 (whole sentences on one line read better here)

from __future__ import annotations

import pytest
from wording_support import sentences

CHECKS = (
    (
        'measure runout "Shaft runout" with dial at most 0.05 mm',
        "Measure the shaft runout with the dial indicator. It must be at most 0.05 mm.",
    ),
    (
        'measure gap "Gap" between 1 mm and 2 mm',
        "Measure the gap. It must be between 1 mm and 2 mm.",
    ),
    (
        'measure t "Oil temperature" below 60 degC',
        "Measure the oil temperature. It must be below 60 °C.",
    ),
    ("measure p above 5 bar", "Measure the p. It must be above 5 bar."),
    ("measure p at least 2 bar", "Measure the p. It must be at least 2 bar."),
    (
        'measure w "What hangs on the magnet" by eye\n  pass "clear amber"\n  pass "dark but clear"\n  fail "milky"',
        "Look at what hangs on the magnet. Good: clear amber; dark but clear. Not good: milky.",
    ),
    (
        'measure play "Play of the wheel" by feel "none that a hand can feel"',
        "Feel the play of the wheel. Good: none that a hand can feel.",
    ),
    (
        'measure s "Sound of the gears" by ear "an even hum"',
        "Listen to the sound of the gears. Good: an even hum.",
    ),
    (
        'measure d "Depth, from the rim" with dial\n  grid 2 × 3\n  each at most 0.4 mm\n  sum at most 1.5 mm\n  spread at most 0.3 mm',
        "Measure the depth, from the rim, with the dial indicator, at six points in a grid of 2 × 3. Each reading must be at most 0.4 mm. The sum of all readings must be at most 1.5 mm. The difference of the largest and the smallest must be at most 0.3 mm.",
    ),
    (
        "measure slope at 3 points at most 0.2 mm",
        "Measure the slope, at three points. Each reading must be at most 0.2 mm.",
    ),
    ("measure lift 0.3 mm ±0.05 mm", "Measure the lift. It must be 0.3 mm ±0.05 mm."),
    ("measure lift 1..2 mm", "Measure the lift. It must be 1 to 2 mm."),
    ('ask metal "Was there metal?"', "Was there metal?"),
    ('ask level "Where does it stand?" answers low, middle', "Where does it stand?"),
    ('confirm "Both belts run level."', "Confirm: Both belts run level."),
    ('record serial "Serial number of the pump"', "Write down the serial number of the pump."),
    ('record what "Which machine, and why?"', "Write down: Which machine, and why?"),
    (
        'hold for inspector "Look at it together."',
        "Stop here until the inspector has signed. Look at it together.",
    ),
    ("hold for inspector", "Stop here until the inspector has signed."),
    ('sign inspector "Released for the shift"', "The inspector signs: Released for the shift."),
    ("sign inspector", "The inspector signs."),
    ('stop "Tell the shift lead."', "Stop the work here. Tell the shift lead."),
    ("stop", "Stop the work here."),
    (
        'hand over to inspector "The shaft is bent."',
        "Hand over to the inspector. The shaft is bent.",
    ),
)


@pytest.mark.parametrize(("line", "said"), CHECKS)
def test_what_is_checked_and_written_down(line: str, said: str) -> None:
    assert sentences(line) == [said]
