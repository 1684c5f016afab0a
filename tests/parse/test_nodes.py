"""Each construct of the language becomes the node that stands for it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from parse_support import dump, read

from compiler import syntax as s


def step(line: str) -> Any:
    """Return the first step of a procedure that begins with this line."""
    return read(f'procedure a "A"\n  {line}\n').body[0]


def thing(block: str, line: str) -> s.Thing:
    """Return the first thing of a block."""
    return read(f'procedure a "A"\n  {block}\n    {line}\n').things[0]


def clauses(block: str, line: str) -> dict[str, tuple[Any, ...]]:
    return {clause.key: clause.args for clause in thing(block, line).clauses}


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("9", 9),
        ("9.50", Fraction(19, 2)),
        ("1/4", Fraction(1, 4)),
        ("1 9/16", Fraction(25, 16)),
        ("¼", Fraction(1, 4)),
        ("1½", Fraction(3, 2)),
        ("-0.3", Fraction(-3, 10)),
        ("−5", -5),
        ("+2", 2),
    ],
)
def test_numbers_keep_their_exact_value(written: str, value: Fraction) -> None:
    operand = step(f"set dial to {written} mm").phrases[0].operands[0]
    assert operand.low.number.text == written
    assert operand.low.number.value == value


@pytest.mark.parametrize(
    "unit",
    [
        "N·m",
        "Nm",
        "N-m",
        "N.m",
        "N*m",
        "in-lb",
        "in·lbf",
        "lbf·in",
        "ft-lb",
        "kgf·m",
        "mm",
        "%",
        "°",
        "°C",
        "degC",
        "µm",
        "m/s",
        "m²",
        "m^3",
        "1/min",
        "in",
        "turns",
    ],
)
def test_any_word_after_a_number_is_its_unit(unit: str) -> None:
    for gap in ("", " ") if unit != "1/min" else (" ",):
        operand = step(f"set dial to 3{gap}{unit}").phrases[0].operands[0]
        assert operand.low.unit.text == unit


def test_an_inch_is_no_preposition_after_a_number() -> None:
    action = step("move slide by 3/8 in in guide")
    by, within = action.phrases
    assert by.operands[0].low.unit.text == "in"
    assert (within.word, within.operands[0].name.text) == ("in", "guide")


@pytest.mark.parametrize("sign", ["..", "...", "…", "–"])
def test_ranges(sign: str) -> None:
    amount = step(f"set dial to 8{sign}10 N·m").phrases[0].operands[0]
    assert (amount.low.number.text, amount.low.unit) == ("8", None)
    assert (amount.high.number.text, amount.high.unit.text) == ("10", "N·m")


@pytest.mark.parametrize("sign", ["±", "+-", "+/-"])
def test_tolerances(sign: str) -> None:
    amount = step(f"set dial to 9 N·m {sign}10 %").phrases[0].operands[0]
    assert amount.tolerance.plus == amount.tolerance.minus
    assert amount.tolerance.minus.unit.text == "%"
    uneven = step("set dial to 9 N·m +1 -0.5 N·m").phrases[0].operands[0].tolerance
    assert (uneven.plus.number.text, uneven.minus.number.text) == ("1", "0.5")


def test_printed_pairs() -> None:
    amount = step("set dial to 8..10 N·m (71..88 lbf·in)").phrases[0].operands[0]
    assert amount.twin.low.number.text == "71"
    assert amount.twin.high.unit.text == "lbf·in"


@pytest.mark.parametrize("word", ["over", "under", "about"])
def test_masses_that_nobody_weighed(word: str) -> None:
    (mass,) = clauses("parts", f'cap "cap" {word} 45 kg')["mass"]
    assert (mass.qualifier, mass.low.number.text) == (word, "45")


@pytest.mark.parametrize("times", ["×", "x", "X", "*"])
def test_counts_and_designations(times: str) -> None:
    screw = thing("fasteners", f"screw 4 {times} M6{times}16 ISO 4762 8.8  holds cap")
    assert screw.designation is not None
    assert screw.designation.value == f"M6{times}16 ISO 4762 8.8"
    assert [clause.key for clause in screw.clauses] == ["count", "holds"]


@pytest.mark.parametrize(
    "designation",
    [
        "M6×16 ISO 4762 8.8",
        "M10×1.25×40 ISO 8765 10.9",
        "1/4-20 × 3/4 UNC grade 5",
        "#10-24 × 1/2 UNC",
        "cotter-pin 3.2×32 ISO 1234",
        "key 8×7×40 DIN 6885",
        "hose-clamp 25..40 mm",
        "hose-clamp 1..2 in",
        "tab-washer",
        "plug G1/2",
        "clip",
    ],
)
@pytest.mark.parametrize("after", ["", "  holds cap", "  behind cap", "  # a comment", "  renew"])
def test_a_designation_ends_where_a_clause_begins(designation: str, after: str) -> None:
    found = thing("fasteners", designation and f"screw {designation}{after}").designation
    assert found is not None
    assert found.value == designation


def test_passes_are_told_from_inches() -> None:
    found = clauses("fasteners", "nut 8 × M12 ISO 4032 8 in 30 %, 70 % then circular")
    assert [amount.low.number.text for amount in found["passes"]] == ["30", "70"]
    assert "then-circular" in found


def test_a_set_of_fasteners_keeps_its_brackets_apart() -> None:
    clamp = thing("fasteners", "clamp[left, right] hose-clamp 25..40 mm")
    assert clamp.designation is not None
    assert clamp.designation.value == "hose-clamp 25..40 mm"
    assert [part.text for part in clamp.index if isinstance(part, s.Word)] == ["left", "right"]


def test_stages_of_tightening() -> None:
    line = "bolt M10 ISO 4014 8.8 torque 20 N·m then slacken then 30 N·m then 90 deg"
    kinds = [stage.kind for stage in clauses("fasteners", line)["torque"]]
    assert kinds == ["torque", "slacken", "torque", "angle"]
    line = "nut M10 ISO 7035 8 torque 40 N·m then next hole up to 60 N·m"
    _, hole = clauses("fasteners", line)["torque"]
    assert (hole.kind, hole.amount.low.number.text) == ("next-hole", "60")
    _, back = clauses("fasteners", "nut M8 torque 9 N·m then back off ¼ turn")["torque"]
    assert (back.kind, back.amount.low.unit.text) == ("back-off", "turn")


def test_threads() -> None:
    assert clauses("fasteners", "nut M8 thread oiled")["thread"][0].text == "oiled"
    assert clauses("fasteners", "nut M8 thread with thread-locker")["thread"][0].name.text == (
        "thread-locker"
    )


def test_tools_have_sizes_or_a_range() -> None:
    sizes = clauses("tools", "keys hex-keys 2, 2.5, 3 mm")["sizes"]
    assert [(q.number.text, q.unit and q.unit.text) for q in sizes] == [
        ("2", None), ("2.5", None), ("3", "mm"),
    ]  # fmt: skip
    assert clauses("tools", "tw torque-wrench 5..25 N·m")["range"][0].high.number.text == "25"
    assert clauses("tools", "s sockets 1/4, 3/8 in drive 1/2 in")["drive"][0].low.unit.text == "in"


def test_overrides_for_a_model() -> None:
    lines = 'nut M8 torque 9 N·m\n      for TP-60, "TP 70" torque 8 N·m'
    text = f'machine a "A"\n  fasteners\n    {lines}\n'
    (override,) = read(text).things[0].overrides
    assert [getattr(m, "text", "") or getattr(m, "value", "") for m in override.models] == [
        "TP-60",
        "TP 70",
    ]
    assert override.clauses[0].key == "torque"


def test_phrases_with_alternatives() -> None:
    action = step('pry hub, guard off shaft with pry-bar or puller end "32 mm" until "it moves"')
    assert [ref.name.text for ref in action.targets] == ["hub", "guard"]
    off, using, until = action.phrases
    assert (off.word, using.word, until.word) == ("off", "with", "until")
    assert (using.joined, len(using.operands), using.end.value) == ("or", 2, "32 mm")


def test_everything_that_may_end_a_step() -> None:
    trailer = step(
        'tighten nut as seated only for TP-60 only if "it is new" takes 5..20 min likely 10 min'
        " people 2 timer 5 min recorded by electrician"
    ).trailer
    assert trailer.name.text == "seated"
    assert trailer.only_for[0].text == "TP-60"
    assert trailer.only_if.text.value == "it is new"
    assert trailer.takes.likely.low.number.text == "10"
    assert (trailer.people.count.text, trailer.timer.unit.text) == ("2", "min")
    assert (trailer.recorded, trailer.by.text) == (True, "electrician")


def test_words_of_the_language_may_be_names_where_only_a_name_can_stand() -> None:
    file = read(
        'procedure a "A"\n  parts\n    section "s"\n    drive "d" behind section\n  remove drive\n'
    )
    assert [part.name.text for part in file.things] == ["section", "drive"]
    action = file.body[0]
    assert isinstance(action, s.Action)
    assert dump(action.targets[0]) == "Ref\n  Word text=drive"


def test_states_may_be_words_of_the_language() -> None:
    file = read('procedure a "A"\n  starts with cap off, brake in\n  leaves block at station[2]\n')
    assert [line.state.text for line in file.ends] == ["off", "in", "at"]
    place = file.ends[2].place
    assert place is not None
    assert place.name.text == "station"


def test_a_measurement() -> None:
    measure = step(
        'measure slope "Slope" with level between jaw and plate at most 0.2 mm\n'
        "    at 2 points\n    grid 2 × 3\n    each at most 0.4 mm\n    sum at most 1.5 mm"
    )
    assert [phrase.word for phrase in measure.phrases] == ["with", "between"]
    assert [(limit.scope, limit.relation) for limit in measure.limits] == [
        ("", "at most"), ("each", "at most"), ("sum", "at most"),
    ]  # fmt: skip
    assert measure.points.text == "2"
    assert [number.text for number in measure.grid] == ["2", "3"]
    assert step('measure gap "Gap" between 1 mm and 2 mm').limits[0].relation == "between"
    assert step('measure gap "Gap" 0.3 mm ±0.05 mm').limits[0].relation == "about"
    assert step('measure play "Play" by feel "none"').sense == "feel"
    assert (
        step('measure tint "Tint" by eye\n    pass "clear"\n    fail "milky"').fails[0].value
        == "milky"
    )


def test_branches() -> None:
    branch = step(
        "if gap is out\n    remove cap\n  otherwise if cap was removed\n    fit cap\n"
        '  otherwise\n    "Go on."'
    )
    kinds = [type(arm.condition).__name__ for arm in branch.arms]
    assert kinds == ["CheckCondition", "HistoryCondition", "NoneType"]


def test_repeats() -> None:
    each = step("repeat for each n in 1..4 shown once\n    turn foot[n] 1/4 turn")
    assert (each.variable.text, each.shown) == ("n", "once")
    assert isinstance(each.source[0], s.IndexRange)
    until = step("repeat until slope is in at most 5 times\n    turn foot")
    assert (until.condition.state.text, until.most.text) == ("in", "5")
    assert step("repeat 4 times\n    turn foot").count.text == "4"


def test_follow_and_refit() -> None:
    assert step("follow open-pump way back").half == "way back"
    assert isinstance(step("refit access"), s.Refit)
    assert step("refit everything").target is None
    action = step("refit guard with puller")
    assert isinstance(action, s.Action)
    assert action.verb.text == "refit"


def test_holding_still_and_holding_for_somebody() -> None:
    hold = step('hold for inspector "Look at it."')
    assert (hold.kind, hold.role.text) == ("hold", "inspector")
    action = step("hold for 5 min")
    assert (action.verb.text, action.phrases[0].word) == ("hold", "for")


def test_lines_before_the_first_step_belong_to_the_whole() -> None:
    text = (
        'procedure a "A"\n  notice "Keep it dry."\n  section "B"\n    note "First."\n'
        '    remove cap\n    note "Then."\n    remove seat\n'
    )
    file = read(text)
    assert isinstance(file.attachments[0], s.SafetyLine)
    section = file.body[0]
    assert isinstance(section, s.Section)
    assert isinstance(section.attachments[0], s.NoteLine)
    assert [type(x).__name__ for x in section.body] == ["Action", "LooseAttachment", "Action"]


def test_safety_messages_may_go_on_below() -> None:
    action = step(
        'remove cap\n    warning crush "It swings."\n      consequence "It can crush."\n'
        '      avoid "Stand back."'
    )
    (safety,) = action.attachments
    assert safety.hazard.text == "crush"
    assert (safety.consequence.value, safety.avoid.value) == ("It can crush.", "Stand back.")


def test_phrases_may_go_on_below_a_step() -> None:
    action = step("tighten nut\n    with wrench via crowfoot at 90 deg\n    recorded")
    assert [phrase.word for phrase in action.phrases] == ["with", "via", "at"]
    assert action.trailer.recorded


def test_the_torques_of_the_house() -> None:
    text = (
        'shop a "A"\n  torques\n    M6 8.8  9 N·m\n    1/4-20 UNC grade 5  8 N·m ±10 % (6 lbf·ft)\n'
    )
    first, second = read(text).house_torques
    assert (first.designation.value, first.amount.low.number.text) == ("M6 8.8", "9")
    assert second.designation.value == "1/4-20 UNC grade 5"
    assert second.amount.twin is not None


def test_text_with_escapes_and_curly_quotes() -> None:
    prose = step(r'"Say \"stop\" to {cap} and \{so on\}, \n."')
    assert prose.text.value == r'Say "stop" to {cap} and {so on}, \n.'
    assert prose.text.raw == r"Say \"stop\" to {cap} and \{so on\}, \n."
    curly = step("“Wipe it dry.”")
    assert (curly.text.value, curly.text.raw) == ("Wipe it dry.", "")


@pytest.mark.parametrize("quotes", ['""', "“”", "„“", "„”", '“"'])
def test_a_quote_inside_text_whatever_quotes_stand_around_it(quotes: str) -> None:
    opening, closing = quotes[0], quotes[1]
    inside = r"Say \"stop\", # and \{wait\}."
    prose = step(f"{opening}{inside}{closing} # aside")
    assert prose.text.value == 'Say "stop", # and {wait}.'
    models = rf"{opening}TP \"40\",{closing}, TP-60"
    file = read(f'machine a "A"\n  models {models},\n    TP-70\n')
    assert [getattr(m, "value", getattr(m, "text", "")) for m in file.head[0].args] == [
        'TP "40",',
        "TP-60",
        "TP-70",
    ]


def test_a_condition_may_be_only_for_some_models() -> None:
    brake = thing("conditions", 'brake "brake" only for TP-60\n      free\n      set')
    assert [(c.key, [getattr(a, "text", "") for a in c.args]) for c in brake.clauses] == [
        ("only-for", ["TP-60"])
    ]
    assert [state.name.text for state in brake.states] == ["free", "set"]


def test_a_line_that_ends_in_a_comma_goes_on() -> None:
    file = read(
        'machine a "A"\n  models TP-40,   # the old one\n\n    # and\n    TP-60\n  wear gloves\n'
    )
    assert [getattr(m, "text", "") for m in file.head[0].args] == ["TP-40", "TP-60"]


def test_comments_at_any_indentation() -> None:
    file = read(
        '# first\nprocedure a "A" # here\n# left\n  remove cap #x\n      # deep\n'
        '  "# no comment" # one\n'
    )
    assert len(file.body) == 2


def test_names_of_other_languages() -> None:
    assert step("remove Überwurf-Mutter").targets[0].name.text == "Überwurf-Mutter"
    assert step("remove σωλήνας").targets[0].name.text == "σωλήνας"


def test_a_whole_file_as_text() -> None:
    """One picture of all there is in a small file, to see at once when something moves."""
    text = (
        'procedure vent-cap "Refit the vent cap"\n  revision A 2026-11-02\n  starts with cap off\n'
        '  parts\n    cap "vent cap" 0.4 kg\n  fit cap\n    note "Arrow up."\n'
    )
    assert dump(read(text)).splitlines() == [
        "File kind=procedure",
        "  Word text=vent-cap",
        "  Text value=Refit the vent cap",
        "  RevisionLine",
        "    Word text=A",
        "    DateLit text=2026-11-02",
        "  EndLine key=starts",
        "    Ref",
        "      Word text=cap",
        "    Word text=off",
        "  Thing kind=part",
        "    Word text=cap",
        "    Text value=vent cap",
        "    Clause key=mass",
        "      AmountLit",
        "        QuantityLit",
        "          NumberLit text=0.4",
        "          Word text=kg",
        "  Action",
        "    Word text=fit",
        "    Ref",
        "      Word text=cap",
        "    NoteLine kind=note",
        "      Text value=Arrow up.",
    ]
