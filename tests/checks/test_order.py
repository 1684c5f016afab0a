"""The order of the hands: wrong lines are found, unusual but right work is left in peace."""

from __future__ import annotations

import pytest
from order_support import check_job

WRONG = {
    "belt before its guard": """
        remove belt    # error: in-the-way
        fit belt
    """,
    "guard back before the belt": """
        isolate drive
        remove guard
        remove belt
        fit guard
        fit belt    # error: in-the-way
        tighten guard-screw
        restore drive
    """,
    "guard of the wrong member": """
        remove shade[1]
        remove nozzle[2]    # error: in-the-way
        fit nozzle[2]
        fit shade[1]
    """,
    "moved aside behind what is there": """
        move belt aside    # error: in-the-way
        fit belt
    """,
    "door shut again": """
        open door
        close door
        remove filter     # error: in-the-way
        open door
        fit new filter
        close door
    """,
    "only on one way": """
        ask wet "Is it wet?"
        if wet is yes
          open door
        remove filter       # error: in-the-way
        fit new filter
        if wet is yes
          close door
    """,
    "tightened in the tray": """
        isolate drive
        remove guard
        tighten guard-screw    # error: not-in-yet
        fit guard
        tighten guard-screw
        restore drive
    """,
    "slackened in the tray": """
        isolate drive
        remove guard
        slacken guard-screw    # error: not-in-yet
        fit guard
        tighten guard-screw
        restore drive
    """,
    "second of two plates later": """
        remove bed, rail
        fit bed
        fit long-screw
        tighten long-screw    # error: not-in-yet
        fit rail
    """,
    "off twice": """
        remove shade[1]
        remove shade    # error: already-so
        fit shade
    """,
    "on twice": """
        fit shade[2]    # error: already-so
    """,
    "screw out twice": """
        remove oil-plug
        remove oil-plug    # error: already-so
        fit oil-plug
        tighten oil-plug
    """,
    "plugged in twice": """
        disconnect sensor
        connect sensor
        connect sensor    # error: already-so
    """,
    "chock in twice": """
        fit chock[1]
        fit chock    # error: already-so
        remove chock
    """,
    "never isolated": """
        restore air    # error: already-so
    """,
    "round by round, the last one twice": """
        repeat for each n in 1..3
          remove shade[n]
        remove shade[3]    # error: already-so
        fit shade
    """,
}

RIGHT = {
    "screws one by one": """
        isolate air
        remove bowl
        fit bowl
        tighten bowl-nut
        restore air
    """,
    "door open": """
        open door
        replace filter
        close door
    """,
    "door aside": """
        move door aside
        replace filter
        fit door
    """,
    "each nozzle in its turn": """
        repeat for each n in 1..3
          remove shade[n]
          remove nozzle[n]
          fit nozzle[n]
          fit shade[n]
    """,
    "slackened twice, tightened twice": """
        slacken motor-nut
        slacken motor-nut
        tighten motor-nut hand-tight
        tighten motor-nut
        tighten motor-nut
    """,
    "the rail stays off": """
        leaves rail off
        leaves long-screw torqued
        remove rail
        fit long-screw
        tighten long-screw
    """,
    "screws put in after the part": """
        isolate drive
        remove guard-screw
        remove guard
        fit guard
        fit guard-screw
        tighten guard-screw
        restore drive
    """,
    "replaced though it is off": """
        open door
        remove filter
        clean "the housing"
        replace filter
        close door
    """,
    "off at the start": """
        starts with shade off
        fit shade
    """,
    "off in both arms": """
        ask wet "Is it wet?"
        if wet is yes
          remove shade[1]
          dry shade[1]
        otherwise
          remove shade[1]
        fit shade[1]
    """,
    "the same question twice": """
        ask wet "Is it wet?"
        if wet is yes
          remove shade[1]
        check "the nozzle"
        if wet is yes
          fit shade[1]
    """,
    "until it fits": """
        repeat until gap is in at most 4 times
          remove shade[1]
          measure gap "Gap" with feeler at most 0.1 mm
          fit shade[1]
    """,
    "seal cleaned out of the machine": """
        disconnect sensor
        isolate drive
        disconnect cable
        remove unit
        check seal
        fit unit
        connect cable
        restore drive
        connect sensor
    """,
    "isolated twice": """
        isolate drive
        isolate drive
        restore drive
    """,
    "worked out": """
        isolate drive
        reach belt
        replace belt
        refit everything
        restore drive
    """,
}


@pytest.mark.parametrize("name", WRONG)
def test_wrong_order_is_found_at_its_line(name: str) -> None:
    check_job(WRONG[name])


@pytest.mark.parametrize("name", RIGHT)
def test_unusual_order_is_left_in_peace(name: str) -> None:
    check_job(RIGHT[name])
