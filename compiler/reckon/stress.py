"""What a torque or a preload does to a screw: its stress, as a share of what it bears."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compiler.reckon.answer import Answer, Result, Step, Table, Unclear
from compiler.reckon.soft import CAUTION, soft_remarks, soft_results, soft_steps, soft_thread
from compiler.reckon.threads import STATE_WORDS, Named, known_class, named_thread, with_class
from compiler.reckon.units import said, significant, worked_out
from compiler.reckon.values import FORCE, TORQUE, Expected, one_value
from compiler.reckon.written import number_in, one_text
from compiler.trade.torque import (
    K_OF,
    K_SOURCE,
    SHARE_PERMANENT,
    Bearing,
    bearing_of,
    preload_at,
)
from compiler.trade.units import Quantity, convert

EXAMPLE = 'witnessmark stress "M8 8.8 oiled" --torque "25 N·m"'

CAUTIONS = (
    (
        "The preload that a torque really gives scatters by some ±25 % even with care (common "
        "practice, no source): near 100 % some screws are past it."
    ),
    "Only the pull of the tightening: the twist, and what the machine adds at work, come on top.",
)


@dataclass(frozen=True, slots=True)
class _Case:
    """One state of the thread, with the preload that it gives; K None where it was given."""

    name: str
    label: str
    k: float | None
    newtons: float


def stress(
    words: Sequence[str], torque: str, load: str, k: str, into: str = "", deep: str = ""
) -> Answer:
    """Return stress and share of the proof load, for each state that is possible. Raises Unclear.

    Either `torque` or `load` (the preload) is given, '' for the other. `into` and `deep` are the
    soft metal that the screw goes into and the depth of its thread, '' where it has a nut.
    """
    named = named_thread(one_text(list(words), "a thread with its class", EXAMPLE), EXAMPLE)
    known_class(named.what, EXAMPLE)
    bearing = bearing_of(named.what)
    if bearing is None or not bearing.known:
        raise Unclear(f"What {with_class(named.what)} bears is not known here.", EXAMPLE)
    if bool(torque) == bool(load):
        raise Unclear("Say either the torque or the preload.", EXAMPLE)
    cases = _by_preload(load) if load else _by_torque(torque, named, k, bearing)
    results = [result for case in cases for result in _results(case, bearing)]
    soft = soft_thread(named.what.thread, into, deep)
    most = max(case.newtons for case in cases)
    given = f"at a preload of {_one(load, FORCE)}" if load else f"at {_one(torque, TORQUE)}"
    return Answer(
        "stress",
        f"Stress of {with_class(named.what)} {given}",
        {
            "thread": named.what.thread,
            "class": named.what.grade,
            "state": ", ".join(named.states),
            "torque": _one(torque, TORQUE) if torque else "",
            "preload": _one(load, FORCE) if load else "",
            "k": ", ".join(f"{case.k:g}" for case in cases if case.k is not None),
            "into": soft.material.name if soft is not None else "",
            "deep": f"{soft.depth_mm:g} mm" if soft is not None else "",
        },
        (*results, *(soft_results(soft) if soft is not None else ())),
        steps=(*_steps(cases, bearing, torque), *(soft_steps(soft) if soft is not None else ())),
        cautions=(*CAUTIONS, *((CAUTION,) if soft is not None else ())),
        table=_table(cases, bearing),
        remarks=(
            *_remarks(cases, bearing),
            *(soft_remarks(soft, most) if soft is not None else ()),
        ),
    )


def _one(text: str, expected: Expected) -> str:
    return said(one_value(text, expected, EXAMPLE))


def _by_preload(text: str) -> list[_Case]:
    return [
        _Case("given-preload", "preload given", None, float(one_value(text, FORCE, EXAMPLE).si))
    ]


def _by_torque(text: str, named: Named, k: str, bearing: Bearing) -> list[_Case]:
    newton_metres = float(one_value(text, TORQUE, EXAMPLE).si)
    if k:
        factors = [("given", "K given", float(number_in(k, "K", "--k 0.18", 0.02, 1)))]
    else:
        factors = [(state, STATE_WORDS[state], K_OF[state]) for state in named.states or K_OF]
    return [
        _Case(name, label, factor, preload_at(newton_metres, factor, bearing.diameter_mm))
        for name, label, factor in factors
    ]


def _share(case: _Case, bearing: Bearing) -> float:
    return case.newtons / bearing.load_n


def _pull(case: _Case, bearing: Bearing) -> float:
    """Return F / As in MPa."""
    return case.newtons / bearing.area_mm2


def _results(case: _Case, bearing: Bearing) -> tuple[Result, ...]:
    pull, share = _pull(case, bearing), _share(case, bearing)
    return (
        _both(f"{case.name}/preload", f"{case.label}: preload", case.newtons, "N", "lbf"),
        _both(f"{case.name}/stress", f"{case.label}: stress", pull, "MPa", "psi"),
        Result(
            f"{case.name}/share",
            f"{case.label}: share of the {bearing.kind}",
            f"{significant(100 * share)} %",
            100 * share,
            "%",
            source=bearing.source,
        ),
    )


def _both(name: str, label: str, value: float, unit: str, other: str) -> Result:
    exact, text = worked_out(value, unit)
    second = convert(exact, other)
    shown = Quantity(second.value, other, significant(float(second.value)))
    shown_first = f"{significant(value / 1000)} kN" if unit == "N" else said(text)
    return Result(
        name, label, shown_first, value, unit,
        (Result(name, label, said(shown), float(second.value), other),),
    )  # fmt: skip


def _table(cases: Sequence[_Case], bearing: Bearing) -> Table:
    rows = []
    for case in cases:
        load, pull, share = _results(case, bearing)
        rows.append((case.label, load.text, pull.text, pull.others[0].text, share.text))
    return Table(("thread", "preload", "stress", "", f"of {bearing.kind}"), tuple(rows))


def _steps(cases: Sequence[_Case], bearing: Bearing, torque: str) -> tuple[Step, ...]:
    case = cases[0]
    load, area = f"{significant(case.newtons / 1000)} kN", f"{bearing.area_mm2:.3g} mm²"
    steps = []
    if len(cases) > 1:
        steps.append(Step("The first line; the others likewise, each with its own K:"))
    if case.k is not None:
        source = K_SOURCE if case.name in K_OF else "as given"
        text = (
            f"F = T / (K·D) = {_one(torque, TORQUE)} / ({case.k:.2f} × "
            f"{bearing.diameter_mm:g} mm) = {load}"
        )
        steps += [Step(f"K = {case.k:.2f}, {case.label}", source), Step(text)]
    steps += [
        Step(f"stress = F / As = {load} / {area} = {significant(_pull(case, bearing))} MPa"),
        Step(
            f"{bearing.kind} = {bearing.stress_mpa:.0f} MPa × {area} = "
            f"{significant(bearing.load_n / 1000)} kN",
            bearing.source,
        ),
    ]
    return tuple(steps)


_TORN = 2.5
"""Times the proof or yield load at which every screw is torn: its tensile strength is at most 2.4
times as much (A2-50, ISO 3506-1: 500 over 210 MPa; from memory)."""


def _remarks(cases: Sequence[_Case], bearing: Bearing) -> tuple[str, ...]:
    shares = [_share(case, bearing) for case in cases]
    if min(shares) > _TORN:
        torn = "the screw tears or strips before it gets there. Look at the number and its unit."
        return (f"It is far more than the {bearing.kind}: {torn}",)
    if max(shares) > 1:
        every = "" if min(shares) > 1 else "With some of these states it is "
        over = f"more than the {bearing.kind}: the screw may stretch for good."
        return (f"{every}{over}" if every else f"It is {over}",)
    if max(shares) > SHARE_PERMANENT:
        return (f"It is near the {bearing.kind}: nothing is left for the scatter.",)
    return ()
