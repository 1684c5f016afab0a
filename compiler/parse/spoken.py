"""Steps as they are spoken, that read as other steps than were meant: one remark for each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from compiler import syntax as s
from compiler.parse.build_values import Listing, over
from compiler.parse.remarks import Report
from compiler.trade.verbs import VERBS, Effect

_MINUS = ("-", "\u2212")
_POINTING = ("see", "refer", "view", "consult")
_PICTURES = (
    "picture", "pictures", "pic", "figure", "figures", "fig", "photo", "photograph", "image",
    "drawing", "sketch", "diagram", "illustration",
)  # fmt: skip


def points_to_picture(verb: s.Word, kids: Sequence[Any], report: Report) -> s.Text | None:
    """Remark `see picture 3`, and return the words of the step; None for any other step."""
    if verb.text.lower() not in _POINTING:
        return None
    for name in _names(kids):
        if name.text.lower() in _PICTURES:
            report(
                over(kids[:-1]),
                "A step does not point to a picture: the picture stands with the step.",
                'Put it on a line under the step it belongs to: picture "drawings/pump.svg"',
            )
            return s.Text(verb.span, f"{verb.text} {name.text}")
    return None


def _names(kids: Sequence[Any]) -> Iterable[s.Word]:
    for kid in kids:
        items = kid.items if isinstance(kid, Listing) else ()
        items = kid.operands if isinstance(kid, s.Phrase) else items
        for item in items:
            if isinstance(item, s.Ref):
                yield item.name


_PASSES = frozenset({"%", "pass", "passes", "stage", "stages", "step", "steps", "round", "rounds"})


_AS_SPECIFIED = frozenset({"spec", "specs", "specification", "torque", "value", "manual"})


def without_passes(
    verb: s.Word, phrases: Sequence[s.Phrase], report: Report
) -> tuple[s.Phrase, ...]:
    """Remark `tighten screw in 50 %, 100 %`, or `in 3 passes`: chart and wrench would not follow.

    So is `to spec`. Return the other phrases.
    """
    known = VERBS.get(verb.text)
    if known is None or known.effect is not Effect.TIGHTEN:
        return tuple(phrases)
    kept: list[s.Phrase] = []
    for phrase in phrases:
        values = [one for one in phrase.operands if isinstance(one, s.AmountLit)]
        units = {one.low.unit.text for one in values if one.low.unit is not None}
        names = {one.name.text for one in phrase.operands if isinstance(one, s.Ref)}
        if phrase.word == "to" and names & _AS_SPECIFIED:
            report(
                phrase.span,
                "How tight it is stands on the line of the fastener, and is printed.",
                "Take it out here, or give the torque: to 9 N·m",
                "",
            )
        elif phrase.word in ("in", "") and units & _PASSES:
            report(
                phrase.span,
                "Passes are not said in a step.",
                "Take them out here, and put them on the line of the fastener: in 50 %, 100 %",
                "",
            )
        else:
            kept.append(phrase)
    return tuple(kept)


def with_ranges(kids: Sequence[Any], report: Report) -> list[Any]:
    """Return what stands in a step; remark `to 8 to 10 mm` and `to 8-10 mm`, and join them."""
    joined: list[Any] = []
    for kid in kids:
        before = joined[-1] if joined else None
        if isinstance(kid, s.Phrase) and isinstance(before, s.Phrase):
            whole = _range(before, kid)
            if whole is not None:
                unit = whole.high.unit if whole.high else None
                text = f"{whole.low.number.text}..{whole.high.number.text if whole.high else ''}"
                text = f"{text} {unit.text}" if unit else text
                report(whole.span, "A range is written with two points.", f"Write: {text}", text)
                joined[-1] = s.Phrase(over((before, kid)), before.word, (whole,))
                continue
        joined.append(kid)
    return joined


def _range(first: s.Phrase, second: s.Phrase) -> s.AmountLit | None:
    """Return the range that two values in a row are, None when they are two things."""
    low, high = _plain(first), _plain(second)
    if low is None or high is None or first.word not in ("to", ""):
        return None
    if second.word == "" and (
        first.span.end != second.span.start or high.number.text[:1] not in _MINUS
    ):
        return None
    if second.word not in ("to", "") or (first.word == "" and low.unit is not None):
        return None
    if low.unit is not None and high.unit is not None and low.unit.text != high.unit.text:
        return None
    number = s.NumberLit(high.number.span, high.number.text.lstrip("-\u2212"))
    high = s.QuantityLit(high.span, number, high.unit or low.unit)
    low = s.QuantityLit(low.span, low.number, high.unit)
    return s.AmountLit(low.span.to(high.span), low, high)


def _plain(phrase: s.Phrase) -> s.QuantityLit | None:
    """Return the one plain value of a phrase."""
    if len(phrase.operands) != 1:
        return None
    value = phrase.operands[0]
    if isinstance(value, s.NumberLit):
        return s.QuantityLit(value.span, value, None)
    if not isinstance(value, s.AmountLit):
        return None
    plain = not (value.high or value.tolerance or value.twin or value.qualifier)
    return value.low if plain else None
