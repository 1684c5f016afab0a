"""What the torque wrench is set to with a crowfoot or another adapter on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from compiler.reckon.answer import Answer, Result, Step, Unclear
from compiler.reckon.house import House
from compiler.reckon.units import other_units, said, symbol
from compiler.reckon.values import ANGLE, LENGTH, TORQUE, one_value
from compiler.reckon.written import number_in, one_text
from compiler.trade.torque import adapter_setting
from compiler.trade.units import Quantity, convert, three_digits

EXAMPLE = 'witnessmark adapter "60 N·m" --length "300 mm" --extends "40 mm"'
SOURCE = "US Army TM 9-254, fig. 46"

CAUTIONS = (
    "Pull at the mark of the handle, square to it: the length is from the drive to there.",
    "A plain extension along the axis of the drive changes nothing.",
    "Look that the setting lies in the range of the wrench.",
)

LONGER = "The adapter is longer than the wrench: look at the two lengths and their units."


def adapter(words: Sequence[str], length: str, extends: str, angle: str, house: House) -> Answer:
    """Return the setting at which the torque wanted arrives. Raises Unclear.

    `length` from the drive to where the hand pulls, `extends` from the drive to the fastener,
    `angle` in degrees from straight out (0) over square (90) to folded back (180).
    """
    text = one_text(list(words), "the torque wanted at the fastener", EXAMPLE)
    wanted = one_value(text, TORQUE, EXAMPLE)
    long = _length(length, "--length", "the wrench, from the drive to where the hand pulls")
    reach = _length(extends, "--extends", "the adapter, from the drive to the fastener")
    degrees = _angle(angle)
    try:
        value = adapter_setting(
            float(wanted.value), float(long.si), float(reach.si), float(degrees)
        )
    except ValueError:
        reason = "Folded back like this, the adapter reaches as far as the hand."
        raise Unclear(reason, "Look at the two lengths, or turn the adapter out.") from None
    exact = Quantity(Fraction(f"{value:.9g}"), wanted.unit)
    setting = wanted if exact.value == wanted.value else three_digits(exact)
    unit = next(iter(other_units(wanted, house.all_units)), "")
    others = (_other(exact, wanted, unit),) if unit else ()
    return Answer(
        "adapter",
        f"{said(wanted)} at the fastener; wrench {said(long)}, adapter {said(reach)}, "
        f"{_where(degrees)}",
        {
            "torque": said(wanted),
            "length": said(long),
            "extends": said(reach),
            "angle": f"{float(degrees):g} deg",
        },
        (
            Result(
                "setting",
                "set the wrench to",
                said(setting),
                float(exact.value),
                wanted.unit,
                others,
                source=SOURCE,
            ),
        ),
        steps=(Step(_formula(wanted, long, reach, degrees, setting), SOURCE),),
        cautions=CAUTIONS,
        remarks=(LONGER,) if reach.si > long.si else (),
    )


def _length(text: str, option: str, what: str) -> Quantity:
    example = f'{option} "300 mm"' if option == "--length" else f'{option} "40 mm"'
    if not text:
        raise Unclear(f"Say the length of {what}.", f"For example: {example}")
    return one_value(text, LENGTH, example)


def _angle(text: str) -> Fraction:
    example = "--angle 90"
    plain = one_text(text or "0", "the angle", example)
    if plain.replace(".", "").replace(",", "").isdecimal():
        return number_in(plain, "angle", example, 0, 180)
    found = one_value(plain, replace(ANGLE, positive=False), example)
    degrees = found.si * 360
    if not 0 <= degrees <= 180:
        raise Unclear(f"{said(found)} is no angle of an adapter.", "It lies between 0 and 180.")
    return degrees


def _where(degrees: Fraction) -> str:
    words = {0: "straight out", 90: "square to the wrench", 180: "folded back"}
    return words.get(int(degrees), "") if degrees in words else f"{float(degrees):g}° from straight"


def _other(exact: Quantity, wanted: Quantity, unit: str) -> Result:
    full = convert(exact, unit)
    text = three_digits(full)
    return Result("setting", "", said(text), float(full.value), symbol(unit))


def _formula(
    wanted: Quantity, long: Quantity, reach: Quantity, degrees: Fraction, setting: Quantity
) -> str:
    return (
        f"T·L / (L + E·cos a) = {said(wanted)} × {said(long)} / "
        f"({said(long)} + {said(reach)} × cos {float(degrees):g}°) = {said(setting)}"
    )
