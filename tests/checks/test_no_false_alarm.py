"""Procedures that are unusual and right: none of them leaves anything over.

Each is common practice in some workshop, no source; the machine is made up.
"""

from __future__ import annotations

import pytest
from replay_support import job, left_over

RIGHT: dict[str, tuple[str, str, str]] = {
    "torqued twice": ("slacken guard-screw\ntighten guard-screw\ntighten guard-screw", "", ""),
    "torque looked at again later": (
        "remove guard\nfit guard\ntighten guard-screw\ncheck guard-screw\n"
        'repeat 2 times\n  "Run it for a minute."\n  tighten guard-screw',
        "",
        "",
    ),
    "left off on purpose": ("remove guard", "leaves guard off", ""),
    "slackened on purpose": (
        "slacken foot-lock, foot",
        "leaves foot slackened, foot-lock slackened",
        "",
    ),
    "slackened and torqued again": ('slacken plate-bolt\n"Ease it."\ntighten plate-bolt', "", ""),
    "first a lower torque, then all of it": (
        "slacken plate-bolt\ntighten plate-bolt to 8 N·m\ntighten plate-bolt",
        "",
        "",
    ),
    "first snug, then all of it": (
        "remove guard\nfit guard\ntighten guard-screw snug\ntighten guard-screw",
        "",
        "",
    ),
    "a little more than declared": ("slacken plate-bolt\ntighten plate-bolt to 22 N·m", "", ""),
    "the low end of the tolerance": ("slacken plate-bolt\ntighten plate-bolt to 18 N·m", "", ""),
    "a range declared": ("slacken lid-bolt\ntighten lid-bolt", "", ""),
    "the low end of a range": ("slacken lid-bolt\ntighten lid-bolt to 20 N·m", "", ""),
    "a range in the line": ("slacken lid-bolt\ntighten lid-bolt to 21..23 N·m", "", ""),
    "another unit than declared": (
        "slacken guard-screw\ntighten guard-screw to 79.5 in-lb",
        "",
        "",
    ),
    "feet for metres": (
        "slacken foot, foot-lock\ntighten foot to 59 ft-lb\nlock foot-lock",
        "",
        "",
    ),
    "by an angle": ("slacken guard-screw\ntighten guard-screw by 90 deg", "", ""),
    "until it is felt": ('slacken guard-screw\ntighten guard-screw until "it is home"', "", ""),
    "slacken and angle stages": ("slacken drive-bolt\ntighten drive-bolt", "", ""),
    "on to the next hole, new pin": (
        "remove guard\nremove plate\nremove wheel\nfit wheel\ntighten wheel-nut\n"
        "fit new wheel-pin\nfit plate\ntighten plate-bolt\nfit guard\ntighten guard-screw\n"
        "connect cable",
        "",
        "",
    ),
    "lock nuts": (
        "unlock foot-lock\nslacken foot\nturn foot 1/4 turn\ntighten foot\nlock foot-lock",
        "",
        "",
    ),
    "lock nuts one by one": (
        "repeat for each n in 1..4\n  unlock foot-lock[n]\n  slacken foot[n]\n"
        "repeat for each n in 1..4  shown each\n  tighten foot[n]\n  lock foot-lock[n]",
        "",
        "",
    ),
    "hand-tight by declaration": ("remove block\nfit block\ntighten block-knob", "", ""),
    "hand-tight said once more": (
        "slacken block-knob\ntighten block-knob hand-tight",
        "",
        "",
    ),
    "snug by declaration": ("slacken clamp-bolt\ntighten clamp-bolt", "", ""),
    "tightened by its part": (
        "remove guard\nremove plate\nfit plate\ntighten plate\nfit guard\ntighten guard",
        "",
        "",
    ),
    "taken apart only": (
        "remove guard\nremove plate\nremove wheel",
        "leaves guard off, plate off, wheel off",
        "",
    ),
    "put together only": (
        "fit wheel\ntighten wheel-nut\nfit new wheel-pin\nconnect cable\n"
        "fit plate\ntighten plate-bolt\nfit guard\ntighten guard-screw",
        "starts with guard off, plate off, wheel off\nstarts with cable disconnected",
        "",
    ),
    "found off and left off": ("check wheel", "starts with guard off, plate off", ""),
    "found slackened and left slackened": ("check foot", "starts with foot slackened", ""),
    "off in one arm, on in a later one": (
        'if "the bush is worn"\n  remove guard\n"Look."\n'
        'if "the bush is worn"\n  fit guard\n  tighten guard-screw',
        "",
        "",
    ),
    "the same said the other way round": (
        'measure runout "Runout" with gauge at most 0.05 mm\n'
        "if runout is in\n  check guard\notherwise\n  remove guard\n"
        "if runout is out\n  fit guard\n  tighten guard-screw",
        "",
        "",
    ),
    "above and below are out": (
        'measure gap "Gap" with gauge 1..2 mm\n'
        "if gap is above\n  remove guard\notherwise if gap is below\n  remove guard\n"
        "if gap is out\n  fit guard\n  tighten guard-screw",
        "",
        "",
    ),
    "all answers but one": (
        'ask level "Where is it?" answers low, middle, high\n'
        "if level is low\n  check guard\notherwise if level is middle\n  check plate\n"
        "otherwise\n  remove guard\n"
        "if level is high\n  fit guard\n  tighten guard-screw",
        "",
        "",
    ),
    "put back if it was taken off": (
        'ask worn "Is the bush worn?"\nif worn is yes\n  remove guard\n"Look."\n'
        "if guard was removed\n  fit guard\n  tighten guard-screw",
        "",
        "",
    ),
    "was taken off, said twice": (
        'ask wet "Is it wet?"\nif wet is yes\n  remove guard\n  fit guard\n  tighten guard-screw\n'
        "if guard was removed\n  remove lid\ncheck plate\n"
        "if guard was removed\n  fit lid",
        "",
        "",
    ),
    "only if, and only if again": (
        'ask worn "Is the bush worn?"\nremove guard only if worn is yes\n'
        "fit guard only if worn is yes\ntighten guard-screw only if worn is yes",
        "",
        "",
    ),
    "one of three caps, asked for each": (
        'ask wet "Is it wet?"\nif wet is yes\n  remove cap[2]\n  "Dry it."\n'
        "  fit cap[2]\n  tighten cap-screw[2]",
        "",
        "",
    ),
    "replaced inside one arm": (
        'ask worn "Is the bush worn?"\nremove guard\nremove plate\n'
        "if worn is yes\n  replace bush\nfit plate\ntighten plate-bolt\n"
        "fit guard\ntighten guard-screw",
        "",
        "",
    ),
    "way back worked out over a branch": (
        'ask worn "Is the bush worn?"\nsection access "Open"\n  remove guard\n'
        "  if worn is yes\n    remove plate\nrefit access",
        "",
        "",
    ),
    "aids in and out one by one": (
        "repeat for each n in 1..2\n  fit chock[n]\n"
        '"Look."\nrepeat for each n in 1..2\n  remove chock[n]',
        "",
        "",
    ),
    "one aid round after round": (
        'repeat 3 times\n  fit rig-pin\n  "Turn."\n  remove rig-pin',
        "",
        "",
    ),
    "moved to a place and back": (
        'slacken block-knob\nmove block to station[3]\n"Try."\nmove block to station[1]\n'
        "tighten block-knob",
        "",
        "",
    ),
    "moved to a place for good": (
        "slacken block-knob\nmove block to station[2]\ntighten block-knob",
        "leaves block at station[2]",
        "",
    ),
    "found elsewhere, brought home": (
        "slacken block-knob\nmove block to station[1]\ntighten block-knob",
        "starts with block at station[2]",
        "",
    ),
    "aside and back": ('move arm aside\n"Look."\nfit arm', "", ""),
    "left aside on purpose": ("move arm aside", "leaves arm aside", ""),
    "oil out and in": (
        "remove sump-plug\ndrain sump-oil\nfit sump-plug\ntighten sump-plug\n"
        'fill sump-oil to "the upper mark"',
        "",
        "",
    ),
    "drained to stand dry": ("drain sump-oil", "leaves sump-oil drained", ""),
    "isolated in a block, given back outside": (
        "follow make-safe\ncheck guard\nrestore mains, water",
        "",
        "",
    ),
    "all of one energy, then of the other": (
        "isolate mains\nisolate water\nrestore water\nrestore mains",
        "",
        "",
    ),
    "isolated from the start, given back": ("restore mains", "starts with mains isolated", ""),
    "isolated for the next one": ("isolate mains", "leaves mains isolated", ""),
    "ended in one arm": (
        'ask crack "Is there a crack?"\nremove guard\nif crack is yes\n'
        '  stop "Lock it out and tell the shift lead."\nfit guard\ntighten guard-screw',
        "",
        "",
    ),
    "way in of another, and its way back": (
        "follow open-up way in\ncheck bush\nfollow open-up way back",
        "",
        "## file: open-up.proc\n"
        'procedure open-up "Open up"\n  machine press\n  revision A 2026-11-02\n'
        "  remove guard\n  remove plate\n"
        "  way back\n    fit plate\n    tighten plate-bolt\n    fit guard\n    tighten guard-screw\n",
    ),
    "way in of another, its way back worked out": (
        "follow open-up way in\ncheck bush\nfollow open-up way back",
        "",
        "## file: open-up.proc\n"
        'procedure open-up "Open up"\n  machine press\n  revision A 2026-11-02\n'
        "  leaves guard off, plate off\n  remove guard\n  remove plate\n",
    ),
    "for one model only": (
        "only for P-2\n  remove guard\n  fit guard\n  tighten guard-screw\ncheck lid",
        "",
        "",
    ),
    "off and on for one model only": (
        "remove lid only for P-2\ncheck guard\nfit lid only for P-2",
        "",
        "",
    ),
    "half by each of two": (
        'side by side\n  lane "Left"\n    remove cap[1]\n    fit cap[1]\n    tighten cap-screw[1]\n'
        '  lane "Right"\n    remove cap[2, 3]\n    fit cap[2, 3]\n    tighten cap-screw[2, 3]',
        "",
        "",
    ),
    "off by one, on by the other": (
        'side by side\n  lane "Left"\n    remove lid\n  lane "Right"\n    check arm\nfit lid',
        "",
        "",
    ),
    "pin and clip": ("remove arm\ncheck arm\nfit arm\nfit arm-clip", "", ""),
    "brake released and set": ("bring brake to released\nbring brake to set", "", ""),
    "brake found released": ("check brake", "starts with brake released", ""),
    "supported, off, on, let go": (
        "remove guard\nremove plate\nsupport wheel with hoist\nremove wheel\nfit wheel\n"
        "tighten wheel-nut\nfit new wheel-pin\nrelease wheel\nconnect cable\nfit plate\n"
        "tighten plate-bolt\nfit guard\ntighten guard-screw",
        "",
        "",
    ),
    "until it is right": (
        'repeat until runout is in at most 4 times\n  slacken drive-bolt\n  turn "the motor" 1/4 turn\n'
        '  tighten drive-bolt\n  measure runout "Runout" with gauge at most 0.05 mm',
        "",
        "",
    ),
    "slackened once, tightened in each round": (
        "slacken drive-bolt\nrepeat until runout is in at most 4 times\n  tighten drive-bolt\n"
        '  measure runout "Runout" with gauge at most 0.05 mm',
        "",
        "",
    ),
    "sub-part to a new carrier": (
        "remove guard\nremove plate\nreplace wheel\ntransfer hub to new wheel\n"
        "fit plate\ntighten plate-bolt\nfit guard\ntighten guard-screw",
        "",
        "",
    ),
    "row by row": (
        "repeat for each row in size\n  slacken clamp-bolt\n  set guard to row.count\n"
        "  tighten clamp-bolt",
        "",
        "",
    ),
    "opened and closed": ("open lid\ncheck lid\nclose lid", "", ""),
    "opened, then off and on": ("open lid\nremove lid\nfit lid", "", ""),
    "reached and put back": (
        'section access "Get there"\n  reach bush\ncheck bush\nrefit access',
        "",
        "",
    ),
}

SAFE = """\
## file: make-safe.proc
procedure make-safe "Make it safe"
  machine press
  revision A 2026-11-02
  leaves mains isolated, water isolated
  isolate mains, water
"""


@pytest.mark.parametrize("name", RIGHT)
def test_nothing_is_left_over(name: str) -> None:
    body, head, more = RIGHT[name]
    more += SAFE if "make-safe" in body else ""
    assert left_over(job(body, head, more))[0] == []


HOUSE = """\
procedure guard-on "Put the guard on"
  revision A 2026-11-02
  parts
    guard "guard"
  fasteners
    screw 4 × M6×16 ISO 4762 8.8  holds guard
  remove guard
  fit guard
  tighten screw
## file: shop.proc
shop packhouse "Workshop"
  torques
    M6 8.8   9 N·m
"""


def test_a_torque_of_the_house_is_enough() -> None:
    assert left_over(HOUSE)[0] == []


def test_a_block_need_not_come_to_an_end() -> None:
    press = (
        'machine press "Press"\n  parts\n    lid "lid"\n  block open-up "Open"\n    remove lid\n'
    )
    use = (
        'procedure look "Look"\n  machine press\n  revision A 2026-11-02\n'
        "  follow open-up\n  fit lid\n"
    )
    assert left_over(f"{use}## file: press.proc\n{press}")[0] == []
