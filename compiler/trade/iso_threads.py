"""Metric threads of ISO 261 and 262: which diameters and pitches there are.

Coarse pitches: library data; third-choice diameters and fine pitches from memory.
"""

from __future__ import annotations

from fractions import Fraction

COARSE = {
    "1": "0.25", "1.1": "0.25", "1.2": "0.25", "1.4": "0.3", "1.6": "0.35", "1.8": "0.35",
    "2": "0.4", "2.2": "0.45", "2.5": "0.45", "3": "0.5", "3.5": "0.6", "4": "0.7",
    "4.5": "0.75", "5": "0.8", "6": "1", "7": "1", "8": "1.25", "9": "1.25", "10": "1.5",
    "11": "1.5", "12": "1.75", "14": "2", "16": "2", "18": "2.5", "20": "2.5", "22": "2.5",
    "24": "3", "27": "3", "30": "3.5", "33": "3.5", "36": "4", "39": "4", "42": "4.5",
    "45": "4.5", "48": "5", "52": "5", "56": "5.5", "60": "5.5", "64": "6", "68": "6",
}  # fmt: skip
"""The coarse pitch of each diameter that has one."""

_ONLY_FINE = {
    "5.5": "0.5", "15": "1.5", "17": "1.5", "25": "2", "26": "1.5", "28": "2", "32": "2",
    "35": "1.5", "38": "1.5", "40": "3", "50": "3", "55": "4", "58": "4", "62": "4", "65": "4",
    "70": "6", "72": "6", "75": "4", "76": "6", "78": "2", "80": "6", "82": "2", "85": "6",
    "90": "6", "95": "6", "100": "6", "105": "6", "110": "6", "115": "6", "120": "6",
    "125": "6", "130": "6", "140": "6", "150": "6", "160": "6", "170": "6", "180": "6",
    "190": "6", "200": "6",
}  # fmt: skip
"""The largest pitch of each diameter that is made with fine pitches only."""

_FINE_TEXT = """
    0.2 0.25 0.35 0.5 0.75 1 1.25 1.5 2 3 4 6
"""
_FINE = frozenset(Fraction(text) for text in _FINE_TEXT.split())

DIAMETERS = frozenset((*COARSE, *_ONLY_FINE))
"""Nominal diameters as they are written."""

_LOCK_NUTS_TEXT = """
    10×0.75 12×1 15×1 17×1 20×1 25×1.5 30×1.5 35×1.5 40×1.5 45×1.5 50×1.5 55×2 60×2 65×2 70×2 75×2
    80×2 85×2 90×2 95×2 100×2
"""
LOCK_NUTS = {f"KM{number}": f"M{size}" for number, size in enumerate(_LOCK_NUTS_TEXT.split())}
"""Threads of bearing lock nuts by their short sign, DIN 981; from memory."""


def largest_pitch(size: str) -> Fraction | None:
    """Return the largest pitch in mm that a diameter is made with; None for an unknown one."""
    text = COARSE.get(size) or _ONLY_FINE.get(size)
    return Fraction(text) if text else None


def is_made(size: str, pitch: str) -> bool:
    """Return whether there is such a pitch on such a diameter; yes for an unknown diameter."""
    largest, value = largest_pitch(size), Fraction(pitch)
    if largest is None:
        return True
    return value == largest or (value in _FINE and value < largest)


def too_small_for_a_length(size: str, number: str) -> bool:
    """Return whether a number behind a diameter can only be meant as a pitch.

    A screw has a turn of thread at least, and the shortest set screws are about half as long as
    they are thick (ISO 4026, from memory): up to a quarter nothing is a length.
    """
    least = max(largest_pitch(size) or Fraction(0), Fraction(size) / 4)
    return Fraction(number) <= least


def nearest_diameter(size: str) -> str:
    """Return the diameter of ISO 261 nearest to one that there is not."""
    return min(DIAMETERS, key=lambda s: (abs(Fraction(s) - Fraction(size)), Fraction(s)))
