"""A name that another file of the folder declares, and units that are near to a wrong one."""

from __future__ import annotations

import pytest
from resolve_support import PUMP, resolved

from compiler.trade.units import nearest_units

FAN = '## file: fan.proc\nmachine fan "Fan"\n  parts\n    hub "hub"\n'
JOB = '## file: job.proc\nprocedure job "Job"\n  machine fan\n  revision A 2026-01-05\n'
OWN = (
    '## file: own.proc\nprocedure own "Own"\n  revision A 2026-01-05\n'
    '  parts\n    lever "lever"\n  check lever\n'
)


def told(text: str) -> list[tuple[str, str, list[str]]]:
    """Return message, hint and the labels of every finding about an unknown name."""
    return [
        (f.message, f.hint, [label.message for label in f.labels])
        for f in resolved(text)[1]
        if f.rule == "unknown-name"
    ]


def test_a_thing_of_another_machine() -> None:
    ((message, hint, labels),) = told(f"{PUMP}{FAN}{JOB}  remove guard-screw\n  check hub\n")
    assert message == (
        "Nothing is called guard-screw here: it is a fastener of the machine pump, and this is "
        "for fan."
    )
    assert hint == "Declare it on fan too, or name what is meant."
    assert labels == ["guard-screw is declared here"]


def test_a_thing_of_a_machine_where_none_is_named() -> None:
    job = JOB.replace("  machine fan\n", "")
    assert told(f"{PUMP}{job}  remove guard\n") == [
        (
            "Nothing is called guard here: it is a part of the machine pump.",
            "If this is for pump, write under the first line: machine pump.",
            ["guard is declared here"],
        )
    ]


def test_a_thing_of_another_procedure() -> None:
    assert told(f"{FAN}{OWN}{JOB}  check lever\n  check hub\n") == [
        (
            "Nothing is called lever here: it is a part of the procedure own.",
            "Declare it here too, or on the machine, where all of its procedures find it.",
            ["lever is declared here"],
        )
    ]


def test_a_thing_of_several_files() -> None:
    twice = PUMP.replace("machine pump", "machine pump-two")
    found = told(f"{PUMP}{FAN}## file: two.proc\n{twice}{JOB}  remove guard\n  check hub\n")
    assert found[0][0] == (
        "Nothing is called guard here: it is a part of the machines pump and pump-two, and this "
        "is for fan."
    )


def test_a_near_name_here_comes_first() -> None:
    job = f"{JOB}  check hubb\n  check hub\n"
    other = '## file: z.proc\nmachine z "Z"\n  parts\n    hubb "hub of Z"\n'
    ((message, hint, _),) = told(f"{FAN}{other}{job}")
    assert message.startswith("Nothing is called hubb here: it is a part of the machine z")
    assert hint == "Did you mean hub?"


def test_a_name_in_a_machine_that_another_machine_has() -> None:
    fan = FAN + '    cap "cap" behind guard\n'
    ((message, _, _),) = told(f"{PUMP}{fan}{JOB}  check hub, cap\n")
    assert message == (
        "Nothing is called guard here: it is a part of the machine pump, and this is for fan."
    )


def test_a_name_that_nothing_has_anywhere() -> None:
    ((message, hint, labels),) = told(f"{PUMP}{FAN}{JOB}  check zzz\n  check hub\n")
    assert (message, labels) == ("Nothing is called zzz here.", [])
    assert hint == 'Declare it, or put it in quotes: "zzz".'


@pytest.mark.parametrize(
    ("word", "near"),
    [
        ("kgs", ("kg",)),
        ("barr", ("bar",)),
        ("baar", ("bar",)),
        ("Nmm", ("N·mm",)),
        ("lbs.", ("lb",)),
        ("litr", ("L",)),
        ("ftlbs", ("lbf·ft",)),
        ("PSI", ("psi",)),
        ("torque", ()),
        ("pound", ("lb",)),
        ("mph", ()),
    ],
)
def test_only_near_units_are_offered(word: str, near: tuple[str, ...]) -> None:
    assert nearest_units(word) == near


def test_what_people_call_a_thing_is_offered_by_its_name() -> None:
    own = OWN.replace('lever "lever"\n', 'lever "lever"\n    cap "vent cap"\n')
    (found,) = resolved(f"{own}  check vent-cap\n  check cap\n")[1]
    assert (found.rule, found.hint) == ("unknown-name", "Did you mean cap?")
