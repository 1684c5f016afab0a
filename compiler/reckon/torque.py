"""How tight: the short form of torque for a thread, its class and the state of its surface."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from compiler.reckon.answer import Answer, Result, Step, Table, Unclear
from compiler.reckon.house import House
from compiler.reckon.threads import STATE_WORDS, Named, known_class, named_thread, with_class
from compiler.reckon.units import in_unit, said, significant, worked_out
from compiler.reckon.written import number_in, one_text
from compiler.trade.geometry import geometry_of
from compiler.trade.torque import (
    K_OF,
    K_SOURCE,
    SHARE_PERMANENT,
    SHARE_REUSED,
    ShortForm,
    preload,
    short_form,
)
from compiler.trade.units import Quantity, convert

EXAMPLE = 'witnessmark torque "M8 10.9 oiled"'
CAUTIONS = (
    (
        "The value of the machine's maker and the rules of the site come first; this is for "
        "where there is none."
    ),
    (
        "K is a usual value, and other handbooks differ a lot. The preload that a torque really "
        "gives scatters by some ±25 % even with care (common practice, no source)."
    ),
    (
        "For steel screws in steel; not for self-locking nuts, gaskets, soft parts, or screws "
        "that are tightened past yield."
    ),
)

_JOINTS = (
    ("opened-again", "a joint that is opened again", SHARE_REUSED, "second-hand"),
    ("stays-closed", "a joint that stays closed", SHARE_PERMANENT, "from memory"),
)


@dataclass(frozen=True, slots=True)
class _Load:
    """A preload: which joint it is for, how it comes about."""

    name: str
    label: str
    newtons: float
    step: Step


def torque(words: Sequence[str], k: str, load: str, house: House) -> Answer:
    """Return the torque of a thread; for each state of the surface when none is said.

    `k` and `load`, '' where not given, stand in for the table's factor and for shares of the proof
    load. Raises Unclear.
    """
    named = named_thread(one_text(list(words), "a thread with its class", EXAMPLE), EXAMPLE)
    given_k = float(number_in(k, "K", "--k 0.18", 0.02, 1)) if k else None
    factors = _factors(named, given_k)
    loads = _given_load(load) if load else _loads(named)
    facts = geometry_of(named.what)
    if facts.diameter is None or facts.diameter.number is None:
        raise Unclear(f"The diameter of {named.what.thread} is not known here.", EXAMPLE)
    forms = {
        (factor, one.name): short_form(value, facts.diameter.number, one.newtons)
        for factor, value in factors
        for one in loads
    }
    units = _units(named, list(forms.values()), house)
    results = [_result(f, one, forms[f, one.name], units) for f, _ in factors for one in loads]
    return Answer(
        "torque",
        _title(named, given_k),
        _given(named, factors, loads),
        (*_house(named, house, units), *results),
        steps=_steps(factors, loads, forms, given_k),
        cautions=CAUTIONS,
        table=_table(named, factors, loads, results, _house(named, house, units)),
        remarks=_remarks(named, factors, house),
        tip="" if len(factors) == 1 else f"Say the state for one answer: {_asked(named)}",
    )


def _factors(named: Named, given: float | None) -> list[tuple[str, float]]:
    if given is not None:
        return [("given", given)]
    return [(state, K_OF[state]) for state in named.states or K_OF]


def _given_load(text: str) -> list[_Load]:
    # Imported when it is asked for: the language takes a while to load.
    from compiler.reckon.values import FORCE, one_value

    newtons = float(one_value(text, FORCE).si)
    step = Step(f"F = {significant(newtons / 1000, 4)} kN, as given")
    return [_Load("given-preload", "with the preload given", newtons, step)]


def _loads(named: Named) -> list[_Load]:
    what = named.what
    known_class(what, EXAMPLE)
    area, stress = geometry_of(what).stress_area, geometry_of(what).proof_stress
    found = []
    for name, label, share, source in _JOINTS:
        newtons = preload(what.thread, what.grade, share)
        if newtons is None or area is None or stress is None:
            raise Unclear(*_no_load(named))
        text = f"F = {share:.2f} × {stress.text} × {area.text} = {newtons / 1000:.3g} kN"
        found.append(_Load(name, label, newtons, Step(text, f"share of proof load: {source}")))
    return found


def _no_load(named: Named) -> tuple[str, str]:
    thread, grade = named.what.thread, named.what.grade
    hint = f'Give the preload that the maker asks for: witnessmark torque "{thread}" --preload 20kN'
    mates = {"8": "8.8", "10": "10.9", "12": "12.9"}
    if grade in mates and thread.startswith("M"):
        return (
            f"{grade} is a class of nuts; the torque follows from the screw.",
            f'witnessmark torque "{thread} {mates[grade]}"',
        )
    if "-" in grade:
        return f"Stainless {grade} has no proof load in its standard, ISO 3506-1.", hint
    return f"No proof load is known here for {with_class(named.what)}.", hint


def _units(named: Named, forms: Sequence[ShortForm], house: House) -> tuple[str, str]:
    """Return the units of the answer: inch-pounds where foot-pounds would be below ten."""
    least = min((form.torque_nm for form in forms), default=100.0)
    imperial = "lbf·ft" if convert(_newton_metres(least), "lbf·ft").value >= 10 else "lbf·in"
    own = [u for u in house.all_units if Quantity(Fraction(1), u).dimension == "torque"]
    usual = ("N·m", imperial) if named.what.thread.startswith("M") else (imperial, "N·m")
    first = own[0] if own else usual[0]
    second = own[1] if len(own) > 1 else next(u for u in usual if u != first)
    return first, second


def _newton_metres(value: float) -> Quantity:
    return worked_out(value, "N·m")[0]


def _result(factor: str, load: _Load, form: ShortForm, units: tuple[str, str]) -> Result:
    first, second = (_in(form.torque_nm, unit, factor, load) for unit in units)
    return Result(
        first.name, first.label, first.text, first.value, first.unit, (second,), note=first.note
    )


def _in(newton_metres: float, unit: str, factor: str, load: _Load) -> Result:
    exact = convert(_newton_metres(newton_metres), unit)
    text = said(Quantity(exact.value, unit, significant(float(exact.value))))
    state = STATE_WORDS.get(factor, "with the K given")
    return Result(f"{factor}/{load.name}", f"{state}: {load.label}", text, float(exact.value), unit)


def _house(named: Named, house: House, units: tuple[str, str]) -> tuple[Result, ...]:
    found = house.torque_of(named.what)
    if found is None:
        return ()
    from compiler.wording.values import amount_text

    text = amount_text(found).replace("\N{NO-BREAK SPACE}", " ")
    others = tuple(
        Result("", "", said(shown), float(exact.value), unit)
        for unit in units
        if Quantity(Fraction(1), unit) != Quantity(Fraction(1), found.low.unit)
        for exact, shown in [in_unit(found.low, unit)]
    )
    label = f"The house's own value, {house.file}"
    value = float(found.low.value)
    return (Result("house", label, text, value, found.low.unit, others[:1], source=house.file),)


def _table(
    named: Named,
    factors: Sequence[tuple[str, float]],
    loads: Sequence[_Load],
    results: Sequence[Result],
    house: Sequence[Result],
) -> Table:
    """Return the joints in rows for one state of the thread, the states in rows for several."""
    own = [(f"{r.label}", r.text, *(o.text for o in r.others)) for r in house]
    if len(factors) == 1:
        rows = [
            (load.label, _preload_text(load, named), result.text, result.others[0].text)
            for load, result in zip(loads, results, strict=True)
        ]
        return Table(("", "preload", "torque", ""), (*((r[0], "", *r[1:]) for r in own), *rows))
    heads = {"opened-again": "opened again", "stays-closed": "stays closed"}
    head: tuple[str, ...] = ("thread", "K")
    for load in loads:
        head += (heads.get(load.name, "torque"), "")
    by_state = [
        (STATE_WORDS[factor], f"{value:.2f}", *_cells(results, factor)) for factor, value in factors
    ]
    return Table(head, tuple(by_state))


def _preload_text(load: _Load, named: Named) -> str:
    if named.what.thread.startswith("M"):
        return f"{significant(load.newtons / 1000)} kN"
    pounds = convert(worked_out(load.newtons, "N")[0], "lbf")
    return f"{significant(float(pounds.value))} lbf"


def _cells(results: Sequence[Result], factor: str) -> list[str]:
    own = [result for result in results if result.name.startswith(f"{factor}/")]
    return [text for result in own for text in (result.text, result.others[0].text)]


def _steps(
    factors: Sequence[tuple[str, float]],
    loads: Sequence[_Load],
    forms: dict[tuple[str, str], ShortForm],
    given_k: float | None,
) -> tuple[Step, ...]:
    """Return the way to the first torque of each load, with its numbers."""
    state, value = factors[0]
    source = "as given" if given_k is not None else K_SOURCE
    k_text = f"K = {value:.2f}" + ("" if given_k is not None else f", {STATE_WORDS[state]}")
    steps = [Step(k_text, source)]
    if len(factors) > 1:
        steps.insert(0, Step("The first line; the others likewise, each with its own K:"))
    for load in loads:
        steps += [load.step, Step(forms[state, load.name].formula)]
    return tuple(steps)


def _remarks(named: Named, factors: Sequence[tuple[str, float]], house: House) -> tuple[str, ...]:
    said_nothing = not named.states and len(factors) > 1
    remarks = []
    own = _house(named, house, _units(named, [], house)) if len(factors) > 1 else ()
    remarks += [f"{r.label}: {', or '.join((r.text, *(o.text for o in r.others)))}." for r in own]
    if said_nothing:
        remarks.append(
            "The state of the thread decides, and it was not said: the same screw takes "
            "more than twice the torque dry that it takes with anti-seize. Look at it and say it; "
            "in doubt take the lowest."
        )
    elif len(factors) > 1:
        both = set(named.states) == {"zinc-plated", "black"}
        remarks.append(
            "A dry thread may be plated or not, and too much torque is what breaks screws: in "
            "doubt take the lower one. Or say `zinc-plated` or `not plated`."
            if both
            else "The table has no K for both at once: in doubt take the lower torque."
        )
    if house.file and house.torque_of(named.what) is None:
        remarks.append(f"{house.file} has no torque for {with_class(named.what)}.")
    return tuple(remarks)


def _title(named: Named, given_k: float | None) -> str:
    state = " or ".join(STATE_WORDS[state] for state in named.states)
    parts = [with_class(named.what), state if given_k is None else f"K {given_k:g}"]
    return "Torque for " + ", ".join(part for part in parts if part)


def _given(
    named: Named, factors: Sequence[tuple[str, float]], loads: Sequence[_Load]
) -> dict[str, str]:
    given = {"thread": named.what.thread, "class": named.what.grade}
    given["state"] = ", ".join(named.states)
    given["k"] = ", ".join(f"{value:g}" for _, value in factors)
    given["preload"] = ", ".join(f"{load.newtons:.6g} N" for load in loads)
    return given


def _asked(named: Named) -> str:
    words = f"{named.what.thread} {named.what.grade}".strip()
    state = STATE_WORDS[named.states[0]] if named.states else "oiled"
    return f'witnessmark torque "{words} {state}"'
