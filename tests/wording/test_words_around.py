"""Tools that turn, second units, brief names, headings, titles and safety messages."""

# ruff: noqa: E501 (whole sentences on one line read better here)

from __future__ import annotations

import pytest
from wording_support import sentences, spoken, walked

from compiler.document.panels import panels
from compiler.walk.nodes import BranchNode, RepeatNode, SectionNode, StepNode, Walk
from compiler.wording.actions import Turning, act_lines
from compiler.wording.headings import branch_heading, repeat_heading, round_title, section_title
from compiler.wording.text import plain_text
from compiler.wording.voice import Voice


def test_the_tool_that_turns_is_named_once() -> None:
    turning = Turning({"bench/guard-screw": "a 5 mm hex key", "bench/strap": "a screwdriver"})
    assert sentences("remove guard", turning=turning) == [
        "Remove the four M6 × 16 socket-head screws (guard screw) with a 5 mm hex key.",
        "Remove the guard.",
    ]
    # A torque needs a torque wrench, which stands beside the step with its tag.
    assert "hex key" not in sentences("tighten guard-screw", turning=turning)[0]
    assert sentences("tighten strap", turning=turning) == [
        "Tighten the 25 to 40 mm hose clamp (strap) with a screwdriver until snug."
    ]


def test_the_authors_tool_goes_before_ours() -> None:
    turning = Turning({"bench/rim-bolt": "a socket"}, {"bench/rim-bolt": ("13 mm",)})
    assert sentences("slacken rim-bolt with spanners", turning=turning) == [
        "Slacken the four M8 × 20 hexagon screws (rim bolt) with a 13 mm spanner."
    ]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            "tighten plate-bolt",
            "Tighten the plate bolts to 20 N·m in a star pattern, in two passes: 50 %, 100 %.",
        ),
        (
            "tighten gear-nut[left] to 30 N·m",
            "Tighten the left gear nut to 30 N·m. Before it seats, the thread must take 1 to 10 N·m to turn. Set the wrench to the torque plus what you measured there.",
        ),
        ("tighten plug", "Tighten the plug to 30 N·m."),
        # Two screws at each place: `cap screws 1` would be a puzzle.
        (
            "tighten cap-screw[1]",
            "Tighten the two M5 × 10 socket-head screws (cap screw 1) to 5 N·m.",
        ),
        ("lock split-pin", "Secure the shaft nut with the 4 × 40 cotter pin (split pin)."),
    ],
)
def test_what_was_named_in_full_is_called_by_its_name(line: str, said: str) -> None:
    names = ("plate-bolt", "gear-nut", "plug", "cap-screw", "shaft-nut")
    turning = Turning(named=frozenset(f"bench/{name}" for name in names))
    assert sentences(line, turning=turning) == [said]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            "tighten guard-screw",
            "Tighten the four M6 × 16 socket-head screws (guard screw) to 9 N·m (6.6 lbf·ft) in a star pattern.",
        ),
        # The author's own pair goes before what we would work out.
        ("tighten cover-screw", "Tighten the two 1/4-20 × 3/4 cover screws to 9 N·m (80 lbf·in)."),
        ("heat sleeve to 80 degC", "Heat the sleeve to 80 °C (176 °F)."),
        ("support wheel", "Support the wheel. It weighs 30 kg (66 lb)."),
        # Nobody weighed it, so the other unit claims no tenth of a pound (45 kg are 99.2 lb).
        ("support block", "Support the block. It weighs over 45 kg (over 99 lb)."),
        ("measure gap below 60 degC", "Measure the gap. It must be below 60 °C (140 °F)."),
        ("turn wheel 90 deg", "Turn the wheel 90°."),
        ("wait 5 min", "Wait 5 min."),
    ],
)
def test_second_units(line: str, said: str) -> None:
    assert sentences(line, second=True) == [said]


def headings(body: str, head: str = "") -> list[str]:
    """Return the headings of repeats and branches of a job in which nothing is measured."""
    _, walk, voice = walked(body, head)
    made: list[str] = []
    for node in walk.nodes:
        if isinstance(node, RepeatNode):
            made.append(plain_text(repeat_heading(voice, node, {})))
        if isinstance(node, BranchNode):
            for at, (when, _) in enumerate(node.arms):
                made.append(plain_text(branch_heading(voice, when, {}, at == 0)))
    return made


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("repeat 2 times\n  clean plate", ["Do this twice:"]),
        ("repeat 7 times\n  clean plate", ["Do this seven times:"]),
        ('if "The bush is worn."\n  clean plate', ["If the bush is worn:"]),
        (
            'if "PI-7 reads high"\n  clean plate\notherwise if brake is set\n  clean guard\notherwise\n  clean arm',
            ["If PI-7 reads high:", "Otherwise, if the brake is “set”:", "Otherwise:"],
        ),
        (
            "remove cap\nif cap was removed\n  clean plate",
            ["If the four blanking caps were removed:"],
        ),
        ("remove gasket\nif gasket was removed\n  clean plate", ["If the gasket was removed:"]),
    ],
)
def test_headings(body: str, said: list[str]) -> None:
    assert headings(body) == said


def test_a_repeat_over_a_set_names_it() -> None:
    _, walk, voice = walked("repeat for each c in cap  shown once\n  clean c")
    (node,) = walk.nodes
    assert isinstance(node, RepeatNode)
    heading = repeat_heading(voice, node, {}, "blanking cap")
    assert plain_text(heading) == "For each blanking cap, 1 to 4:"
    assert round_title("blanking cap 1", 1) == "Blanking cap 1"
    assert round_title("", 2) == "Round 2"


def test_this_one_inside_a_repeat_that_is_shown_once() -> None:
    _, walk, voice = walked("repeat for each c in cap  shown once\n  remove c")
    (node,) = walk.nodes
    assert isinstance(node, RepeatNode)
    assert spoken(voice, node.general, Turning()) == [
        "Remove these two M5 × 10 socket-head screws (cap screw).",
        "Remove this blanking cap. It weighs 4 kg.",
    ]


def titles(walk: Walk) -> list[str]:
    """Return the titles of the outermost sections."""
    return [section_title(node) for node in walk.nodes if isinstance(node, SectionNode)]


def test_sections_say_which_way_they_go() -> None:
    body = 'isolate supply\nreach gasket\nsection out "Take the arm off"\n  remove arm\nrefit out\nrefit everything'
    _, walk, _ = walked(body)
    assert titles(walk) == [
        "Way in to the gasket",
        "Take the arm off",
        "Way back from “Take the arm off”",
        "Put everything back",
    ]


def test_safety_messages() -> None:
    head = (
        'caution slip "the floor is wet"\n'
        'warning crush "The {wheel} swings." avoid "Stand at the hub end."\n'
        'notice "Keep it clean."\n'
        'danger fall "It falls" consequence "It kills" avoid "Stay out"'
    )
    _, walk, voice = walked("clean plate", head)
    made = panels(voice, walk.safety)
    assert [panel.signal for panel in made] == ["danger", "warning", "caution", "notice"]
    said = [[plain_text(t) for t in (p.text, p.consequence, p.avoid)] for p in made]
    assert said[0] == ["It falls.", "It kills.", "Stay out."]
    assert said[1][0] == "The wheel swings."
    assert said[1][1].endswith(".")
    assert said[1][2] == "Stand at the hub end."
    assert said[2][0] == "The floor is wet."
    assert said[3] == ["Keep it clean.", "", ""]
    assert made[2].hazard == "Slippery floor"


def test_a_link_leads_to_the_machines_page() -> None:
    _, _, voice = walked("clean plate")
    assert isinstance(voice, Voice)
    plate = voice.thing("bench/plate")
    assert plate is not None
    assert voice.anchor(plate) == "bench/plate"


def test_a_number_and_its_unit_stay_together() -> None:
    _, walk, voice = walked("tighten plug")
    (node,) = walk.nodes
    assert isinstance(node, StepNode)
    (line,) = act_lines(voice, node.acts[0])
    assert "30\N{NO-BREAK SPACE}N·m" in plain_text(line)
