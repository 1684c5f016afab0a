"""Isolation and the way back as sentences, in the order of 29 CFR 1910.147 (d) and (e) (published)."""

# ruff: noqa: E501 (whole sentences on one line read better here)

from __future__ import annotations

import pytest
from wording_support import sentences

PREPARED = [
    "Tell the people affected that the machine will be shut down and locked out.",
    "Know the kind, size and danger of {}.",
    "Stop the machine in the usual way.",
]
OWN_LOCK = "Each person who works here hangs a lock of their own."
CLEARED = [
    "Make sure that tools and loose things are out and that the machine is whole.",
    "Make sure that everyone stands clear.",
    "Take the locks and tags off. Each person takes off their own.",
    "Tell the people affected that the locks are off.",
]


def isolated(what: str, *rest: str) -> list[str]:
    """Return all lines: what comes first is the same for every energy."""
    return [line.format(what) for line in PREPARED] + list(rest)


def test_electrical_energy_is_proved_dead() -> None:
    assert sentences("isolate supply") == isolated(
        "the supply",
        "Isolate the supply at switch Q3 on panel P2.",
        f"Lock and tag the isolating device. {OWN_LOCK}",
        "Prove that the supply is dead: no voltage on any phase.",
    )


def test_pressure_is_relieved_and_proved() -> None:
    assert sentences("isolate air") == isolated(
        "the air",
        "Isolate the air at ball valve V2, locked across.",
        f"Lock and tag the isolating device. {OWN_LOCK}",
        "Relieve the pressure of the air: open the drain cock.",
        "Prove that the air is isolated: gauge PI-2 reads zero.",
    )


def test_a_raised_load_is_made_safe() -> None:
    # The author's text has a colon of its own, so it becomes a sentence of its own.
    assert sentences("isolate weight") == isolated(
        "the weight",
        "Isolate the weight at both props.",
        f"Lock and tag the isolating device. {OWN_LOCK}",
        "Make the weight safe: let the ram down onto the props.",
        "Prove that the weight is safe. Both carry: neither can be shaken.",
    )


def test_several_energies_go_through_each_stage_together() -> None:
    assert sentences("isolate supply, air") == isolated(
        "the supply and the air",
        "Isolate the supply at switch Q3 on panel P2.",
        "Isolate the air at ball valve V2, locked across.",
        f"Lock and tag each isolating device. {OWN_LOCK}",
        "Relieve the pressure of the air: open the drain cock.",
        "Prove that the supply is dead: no voltage on any phase.",
        "Prove that the air is isolated: gauge PI-2 reads zero.",
    )


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("release air", "Relieve the pressure of the air: open the drain cock."),
        ("verify supply", "Prove that the supply is dead: no voltage on any phase."),
        (
            "verify supply with tester",
            "Prove with the voltage tester that the supply is dead: no voltage on any phase.",
        ),
    ],
)
def test_release_and_verify_stand_alone(line: str, said: str) -> None:
    assert sentences(line) == [said]


@pytest.mark.parametrize(
    ("line", "last"),
    [
        ("restore supply", ["Restore the supply."]),
        ("restore air", ["Restore the air. Open V2 slowly."]),
        (
            "restore weight, bowl-heat",
            ["Undo the isolation of the weight.", "Undo the isolation of the bowl heat."],
        ),
    ],
)
def test_energies_come_back_after_the_locks_are_off(line: str, last: list[str]) -> None:
    assert sentences(line) == [*CLEARED, *last]


def test_what_has_no_device_is_neither_isolated_at_one_nor_locked() -> None:
    assert sentences("isolate belt-spring") == isolated(
        "the belt spring",
        "Make the belt spring safe: back the nut off.",
        "Prove that the belt spring is safe: it turns by hand.",
    )
    assert sentences("restore belt-spring") == [
        *CLEARED[:2],
        "Mind that the belt spring can act again from here on.",
    ]


def test_beside_what_has_a_device_only_that_is_locked() -> None:
    said = sentences("isolate supply, belt-spring")
    assert "Isolate the supply at switch Q3 on panel P2." in said
    assert f"Lock and tag the isolating device. {OWN_LOCK}" in said
    assert not any("perate" in one for one in said)
