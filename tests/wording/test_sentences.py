"""Lines of an author and the sentences they come to, verb by verb."""

# ruff: noqa: E501 (whole sentences on one line read better here)

from __future__ import annotations

import pytest
from wording_support import sentences

FASTENERS = (
    ("slacken guard-screw", ["Slacken the four M6 × 16 socket-head screws (guard screw)."]),
    (
        "slacken wheel-nut",
        [
            "Undo the tab washer (wheel tab).",
            "Slacken the M16 hexagon nut (wheel nut). Left-hand thread: it comes off clockwise. Hold the wheel while you turn it.",
        ],
    ),
    ("back-off plate-bolt", ["Back off the six M8 × 25 hexagon screws (plate bolt)."]),
    ("slacken cap-screw[2]", ["Slacken the two M5 × 10 socket-head screws (cap screw 2)."]),
    (
        "slacken rim-bolt with spanners",
        ["Slacken the four M8 × 20 hexagon screws (rim bolt) with a spanner."],
    ),
    (
        "tighten guard-screw",
        ["Tighten the four M6 × 16 socket-head screws (guard screw) to 9 N·m in a star pattern."],
    ),
    (
        "tighten plate-bolt",
        [
            "Tighten the six M8 × 25 hexagon screws (plate bolt) to 20 N·m in a star pattern, in two passes: 50 %, 100 %."
        ],
    ),
    (
        "tighten wheel-nut",
        [
            "Tighten the M16 hexagon nut (wheel nut) to 80 N·m. Left-hand thread: turn it counter-clockwise to tighten. Hold the wheel while you turn it."
        ],
    ),
    (
        "tighten cap-screw[2]",
        ["Tighten the two M5 × 10 socket-head screws (cap screw 2) to 5 N·m."],
    ),
    (
        "tighten gear-nut[left]",
        [
            "Tighten the M10 self-locking nut (left gear nut) to 35 N·m. Before it seats, the thread must take 1 to 10 N·m to turn. Set the wrench to the torque plus what you measured there."
        ],
    ),
    (
        "tighten gear-nut",
        [
            "Tighten the two M10 self-locking nuts (gear nut) to 35 N·m. Before they seat, the threads must take 1 to 10 N·m to turn. Set the wrench to the torque plus what you measured there."
        ],
    ),
    ("tighten block-knob", ["Tighten the two block knobs by hand."]),
    ("tighten strap", ["Tighten the 25 to 40 mm hose clamp (strap) until snug."]),
    (
        "tighten shaft-nut",
        [
            "Tighten the M20 castle nut (shaft nut) to 100 N·m.",
            "Turn it on until the next pin hole lines up. Never turn it back, and never go above 160 N·m.",
        ],
    ),
    (
        "tighten set-nut",
        [
            "Tighten the M12 hexagon nut (set nut) to 40 N·m.",
            "Slacken it again.",
            "Tighten it again to 15 N·m.",
            "Turn it back a quarter turn.",
        ],
    ),
    (
        "tighten head-bolt",
        [
            "Tighten the six M8 × 70 socket-head screws (head bolt) to 12 N·m in the order 2, 5, 1, 6, 3, 4.",
            "Turn each 60° further.",
        ],
    ),
    (
        "tighten rim-bolt",
        [
            "Tighten the four M8 × 20 hexagon screws (rim bolt) to a torque of 18 to 22 N·m one after the other round the group."
        ],
    ),
    ("tighten cover-screw", ["Tighten the two 1/4-20 × 3/4 cover screws to 9 N·m (80 lbf·in)."]),
    (
        "tighten end-bolt",
        [
            "Tighten the eight M6 × 20 socket-head screws (end bolt) to 10 N·m in a star pattern at each place."
        ],
    ),
    (
        "tighten end-bolt[front]",
        [
            "Tighten the four M6 × 20 socket-head screws (front end bolt) to 10 N·m in a star pattern."
        ],
    ),
    ("tighten end-stop", ["Tighten the M10 × 60 hexagon screw (end stop) by hand."]),
    (
        "tighten guard-screw to 5 N·m",
        ["Tighten the four M6 × 16 socket-head screws (guard screw) to 5 N·m in a star pattern."],
    ),
    (
        "tighten plate-bolt snug",
        ["Tighten the six M8 × 25 hexagon screws (plate bolt) until snug."],
    ),
    (
        "tighten plate-bolt hand-tight",
        ["Tighten the six M8 × 25 hexagon screws (plate bolt) by hand."],
    ),
    (
        "tighten union holding block with bar",
        [
            "Tighten the two M14 × 1.5 × 30 hexagon screws (union) to 40 N·m. Hold the block with the pry bar while you turn them."
        ],
    ),
    ("tighten plug", ["Tighten the G1/2 plug to 30 N·m."]),
    ("unlock wheel-tab", ["Undo the tab washer (wheel tab)."]),
    ("unlock split-pin", ["Remove the 4 × 40 cotter pin (split pin)."]),
    ("unlock lock-nut", ["Slacken the M10 thin hexagon nut (lock nut)."]),
    ("unlock arm-clip", ["Remove the arm clip."]),
    ("lock wheel-tab", ["Secure the M16 hexagon nut (wheel nut) with the tab washer (wheel tab)."]),
    (
        "lock split-pin",
        ["Secure the M20 castle nut (shaft nut) with the 4 × 40 cotter pin (split pin)."],
    ),
    ("lock lock-nut", ["Tighten the M10 thin hexagon nut (lock nut) to 15 N·m."]),
    (
        "fit plate-bolt",
        [
            "Oil the threads of the plate bolts.",
            "Put the six M8 × 25 hexagon screws (plate bolt) in by hand.",
        ],
    ),
    ("fit plug", ["Put a new copper ring on the plug.", "Put the G1/2 plug in by hand."]),
    (
        "fit union",
        [
            "Put on each union, from the head: a flat washer, then up to four shims, then a new disc spring (hollow side in).",
            "Put the two M14 × 1.5 × 30 hexagon screws (union) in by hand.",
        ],
    ),
    (
        "fit rim-bolt",
        [
            "Apply thread locker (medium) to the threads of the rim bolts.",
            "Put the four M8 × 20 hexagon screws (rim bolt) in by hand.",
        ],
    ),
    ("fit ring", ["Fit the 35 mm external retaining ring."]),
    (
        "remove ring with ring-pliers",
        ["Remove the 35 mm external retaining ring with the external retaining-ring pliers."],
    ),
    (
        "fit cap-screw[1]",
        [
            "Clean the threads of the two M5 × 10 socket-head screws (cap screw 1) and leave them dry.",
            "Put the two M5 × 10 socket-head screws (cap screw 1) in by hand.",
        ],
    ),
    ("fit cover-screw", ["Put the two 1/4-20 × 3/4 cover screws in by hand."]),
)


@pytest.mark.parametrize(("line", "said"), FASTENERS)
def test_fasteners_are_undone_and_done_up(line: str, said: list[str]) -> None:
    assert sentences(line) == said


PARTS = (
    (
        "remove guard",
        ["Remove the four M6 × 16 socket-head screws (guard screw).", "Remove the guard."],
    ),
    (
        "take-off guard",
        ["Remove the four M6 × 16 socket-head screws (guard screw).", "Take off the guard."],
    ),
    (
        "withdraw wheel with hoist",
        [
            "Undo the tab washer (wheel tab).",
            "Remove the M16 hexagon nut (wheel nut). Left-hand thread: it comes off clockwise. Hold the wheel while you turn it.",
            "Withdraw the wheel with the chain hoist. It weighs 30 kg.",
        ],
    ),
    (
        "remove cap[2]",
        [
            "Remove the two M5 × 10 socket-head screws (cap screw 2).",
            "Remove blanking cap 2. It weighs 4 kg.",
        ],
    ),
    (
        "remove cap[1, 3]",
        [
            "Remove the four M5 × 10 socket-head screws (cap screws 1 and 3).",
            "Remove blanking caps 1 and 3. They weigh 4 kg each.",
        ],
    ),
    (
        "remove cap",
        [
            "Remove the eight M5 × 10 socket-head screws (cap screw).",
            "Remove the four blanking caps. They weigh 4 kg each.",
        ],
    ),
    (
        "remove gear[left]",
        ["Remove the M10 self-locking nut (left gear nut).", "Remove the left gear."],
    ),
    ("remove block", ["Remove the two block knobs.", "Remove the block. It weighs over 45 kg."]),
    ("remove arm", ["Remove the arm clip.", "Remove the arm pin.", "Remove the arm."]),
    ("remove gasket", ["Remove the gasket."]),
    ("fit guard", ["Fit the guard."]),
    ("insert sleeve", ["Insert the sleeve."]),
    ("replace gasket", ["Remove the old gasket.", "Fit a new gasket (number G-1)."]),
    ("replace seal", ["Remove the six old seals.", "Fit six new seals (number S-6)."]),
    ("fit cap[1..3]", ["Fit blanking caps 1 to 3. They weigh 4 kg each."]),
    ("fit new gasket", ["Fit a new gasket (number G-1)."]),
    ("refit guard", ["Fit the guard."]),
    (
        "support wheel with hoist and slings",
        ["Support the wheel with the chain hoist and the two round slings. It weighs 30 kg."],
    ),
    ("support block", ["Support the block. It weighs over 45 kg."]),
    ("release wheel", ["Release the wheel from its support."]),
    ("move block to station[2]", ["Move the block to station 2. It weighs over 45 kg."]),
    ("move arm aside", ["Move the arm aside. It stays attached."]),
    (
        "move cap[1, 2] aside",
        ["Move blanking caps 1 and 2 aside. They stay attached. They weigh 4 kg each."],
    ),
    ("transfer sleeve to new wheel", ["Transfer the sleeve to the new wheel."]),
    ("sling wheel with slings", ["Sling the wheel with the two round slings. It weighs 30 kg."]),
)


@pytest.mark.parametrize(("line", "said"), PARTS)
def test_parts_come_off_and_go_back(line: str, said: list[str]) -> None:
    assert sentences(line) == said


OTHERS = (
    ("open plate", ["Open the plate."]),
    ("close plate", ["Close the plate."]),
    ("shut plate", ["Shut the plate."]),
    ('drain oil into "the can"', ["Drain the gear oil (ISO VG 220) into the can. Expect 2.4 L."]),
    ("drain coolant", ["Drain the coolant."]),
    (
        'fill oil to "the mark"',
        ["Fill the block with 2.4 L of new gear oil (ISO VG 220, number O-220) to the mark."],
    ),
    (
        "fill oil 500 mL",
        ["Fill the block with 500 mL of new gear oil (ISO VG 220, number O-220)."],
    ),
    (
        'fill oil with 1 L to "the mark"',
        ["Fill the block with 1 L of new gear oil (ISO VG 220, number O-220) to the mark."],
    ),
    (
        'fill oil into "the funnel"',
        ["Fill in 2.4 L of new gear oil (ISO VG 220, number O-220) into the funnel."],
    ),
    ('top-up coolant to "the mark"', ["Top up the coolant to the mark."]),
    ("bleed oil", ["Bleed the gear oil (ISO VG 220)."]),
    ('vent air until "it is quiet"', ["Vent the air until it is quiet."]),
    ("leak-test block", ["Test the block for leaks."]),
    ("pressure-test block", ["Test the block under pressure."]),
    ("connect cable", ["Connect the motor cable (marked W8)."]),
    ("disconnect cable", ["Disconnect the motor cable (marked W8)."]),
    ("unplug cable", ["Unplug the motor cable (marked W8)."]),
    ("bring brake to released", ["Bring the brake to “released”: lift the lever."]),
    ("bring brake to set", ["Bring the brake to “set”."]),
    ("fit chock under block", ["Fit the two wheel chocks under the block."]),
    ("remove chock", ["Remove the two wheel chocks."]),
    ("fit eye", ["Fit the lifting eye (M12)."]),
    ("remove eye", ["Remove the lifting eye (M12)."]),
    ("fit chock[1]", ["Fit wheel chock 1."]),
    ('fit seal[1] with driver end "24 mm"', ["Fit seal 1 with the 24 mm end of the seal driver."]),
)


@pytest.mark.parametrize(("line", "said"), OTHERS)
def test_fluids_connections_conditions_and_aids(line: str, said: list[str]) -> None:
    assert sentences(line) == said


PLAIN = (
    ("clean plate with cloth", ["Clean the plate with a lint-free cloth."]),
    ("grease sleeve with grease", ["Grease the sleeve with silicone grease."]),
    ("turn wheel 2 turns clockwise", ["Turn the wheel two turns clockwise."]),
    ("turn cap[1], cap[3]", ["Turn blanking caps 1 and 3."]),
    (
        "turn end-stop 1/2 turn counter-clockwise with spanners",
        [
            "Turn the M10 × 60 hexagon screw (end stop) half a turn counter-clockwise with a spanner."
        ],
    ),
    ("wait 5 min", ["Wait 5 min."]),
    ("stop-machine", ["Stop the machine."]),
    ("turn wheel 2 turns by hand", ["Turn the wheel two turns by hand."]),
    ('check "the rim for cracks" by eye', ["Check the rim for cracks by eye."]),
    ("line-up gear", ["Line up the two gears."]),
    (
        'pull wheel off "the shaft" with bar or hoist',
        ["Pull the wheel off the shaft with the pry bar or the chain hoist."],
    ),
    (
        "turn wheel holding block with bar",
        ["Turn the wheel. Hold the block with the pry bar while you turn it."],
    ),
    ("heat sleeve to 80 degC", ["Heat the sleeve to 80 °C."]),
    ("look at plate through station[1]", ["Look at the plate through station 1."]),
    ('"Walk once round the press."', ["Walk once round the press."]),
    (
        '"look at {gasket} and the {seal} beside {block}. {wheel} must stand."',
        ["Look at the gasket and the six seals beside the block. The wheel must stand."],
    ),
)


@pytest.mark.parametrize(("line", "said"), PLAIN)
def test_other_verbs_say_what_the_hands_do(line: str, said: list[str]) -> None:
    assert sentences(line) == said
