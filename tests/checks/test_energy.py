"""Energies: what is opened or given back at the wrong time is found, what is safe is not."""

from __future__ import annotations

import pytest
from order_support import check_job

WRONG = {
    "isolated a line too late": """
        remove guard    # error: opened-live
        isolate drive
        fit guard
        tighten guard-screw
        restore drive
    """,
    "the wrong energy": """
        isolate air
        remove guard    # error: opened-live
        fit guard
        tighten guard-screw
        restore air
    """,
    "given back in between": """
        isolate air
        restore air
        remove bowl    # error: opened-live
        fit bowl
        tighten bowl-nut
    """,
    "isolated in one arm": """
        ask noisy "Is it noisy?"
        if noisy is yes
          isolate drive
        remove guard    # error: opened-live
        fit guard
        tighten guard-screw
        if noisy is yes
          restore drive
    """,
    "last nut out under pressure": """
        remove bowl-nut    # error: opened-live
        isolate air
        remove bowl
        fit bowl
        tighten bowl-nut
        restore air
    """,
    "plug slackened under pressure": """
        slacken air-plug    # error: opened-live
        tighten air-plug
    """,
    "cable pulled live": """
        disconnect cable    # error: opened-live
        isolate drive
        connect cable
        restore drive
    """,
    "guard out with the unit": """
        disconnect sensor
        remove unit    # error: opened-live
        isolate drive
        fit unit
        restore drive
        connect sensor
    """,
    "guard moved": """
        isolate drive
        restore drive
        move guard aside    # error: opened-live
        fit guard
    """,
    "spring not eased": """
        remove catch    # error: opened-live
        fit catch
    """,
    "on the second model only": """
        remove screen only for M-2    # error: opened-live
        fit screen only for M-2
    """,
    "given back before the guard": """
        isolate drive
        remove guard
        restore drive    # error: live-with-guard-off
        fit guard
        tighten guard-screw
    """,
    "given back with the plug out": """
        isolate air
        remove air-plug
        restore air    # error: live-with-guard-off
        fit air-plug
        tighten air-plug
    """,
    "given back with the cable off": """
        isolate drive
        disconnect cable
        restore drive    # error: live-with-guard-off
        connect cable
    """,
    "proved before": """
        verify drive    # error: isolation-order
        isolate drive
        restore drive
    """,
    "let out before": """
        release air    # error: isolation-order
        isolate air
        restore air
    """,
    "proved after it was given back": """
        isolate air
        restore air
        verify air    # error: isolation-order
    """,
}

RIGHT = {
    "the other energy is live": """
        isolate air
        remove bowl
        fit bowl
        tighten bowl-nut
        restore air
    """,
    "isolated in a block": """
        follow make-safe
        remove guard
        fit guard
        tighten guard-screw
        restore drive
    """,
    "proved once more just before": """
        isolate drive
        remove shade
        verify drive
        remove guard
        fit guard
        tighten guard-screw
        fit shade
        restore drive
    """,
    "isolated at the start": """
        needs drive isolated
        remove guard
        fit guard
        tighten guard-screw
    """,
    "isolated and opened in the same arm": """
        ask noisy "Is it noisy?"
        if noisy is yes
          isolate drive
          remove guard
        check belt
        if noisy is yes
          fit guard
          tighten guard-screw
          restore drive
    """,
    "only one model has the screen": """
        isolate drive
        remove screen only for M-2
        fit screen only for M-2
        restore drive
    """,
    "cable that carries nothing": """
        disconnect sensor
        connect sensor
    """,
    "plug of a fluid": """
        remove oil-plug
        drain oil
        fit oil-plug
        tighten oil-plug
        fill oil
    """,
    "spring eased, without a switch": """
        release tension
        verify tension
        remove catch
        fit catch
        restore tension
    """,
    "a test run in between": """
        isolate drive
        remove guard
        replace belt
        fit guard
        tighten guard-screw
        restore drive
        run "the mill" for 1 min
        isolate drive
        remove guard
        check belt
        fit guard
        tighten guard-screw
        restore drive
    """,
    "ends with the lock on": """
        isolate drive
        remove guard
        if "the belt is torn"
          stop "The lock stays on. Tell the shift lead."
        fit guard
        tighten guard-screw
        restore drive
    """,
    "two at work": """
        isolate drive, air
        side by side
          lane "Left"
            remove guard
            fit guard
            tighten guard-screw
          lane "Right"
            remove bowl
            fit bowl
            tighten bowl-nut
        restore drive, air
    """,
    "left off and isolated": """
        leaves guard off
        leaves drive isolated
        isolate drive
        remove guard
    """,
    "half the screws out, live": """
        slacken guard-screw
        tighten guard-screw
    """,
    "on the bench": """
        starts with unit off
        leaves unit off
        remove shield
        fit shield
    """,
}


@pytest.mark.parametrize("name", WRONG)
def test_danger_is_found_at_its_line(name: str) -> None:
    check_job(WRONG[name])


@pytest.mark.parametrize("name", RIGHT)
def test_safe_work_is_left_in_peace(name: str) -> None:
    check_job(RIGHT[name])
