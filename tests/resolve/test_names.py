"""Names: looked up where they are used, with the exact place and the nearest one there is."""

from __future__ import annotations

import pytest
from resolve_support import PUMP, job, parsed, resolved, told, world

from compiler import model
from compiler.parse import parse_text
from compiler.resolve import no_pictures, resolve

COVER = """\
parts
  cover  "cover"
  foot[1..4]  "foot"
fasteners
  screw  4 × M6×16 ISO 4762 8.8  holds cover  torque 9 N·m
energy
  supply electrical "400 V"
    isolate at "Q3"
conditions
  brake "brake"
    released
    set by "pull the lever"
places
  bench "bench"
tools
  hoist hoist "hoist"
consumables
  cloth "cloth"
roles
  electrician "electrician"
"""


def fault(body: str, declared: str = COVER, head: str = "") -> list[tuple[str, str]]:
    """Return what is told of steps, apart from things that this small job does not use."""
    return [f for f in told(job(body, declared, head)) if f[0] != "unused-name"]


@pytest.mark.parametrize(
    ("body", "piece"),
    [
        ("remove covr", "covr"),
        ("remove cover with hosit", "hosit"),
        ("remove foot[5]", "5"),
        ("remove foot[1, left]", "left"),
        ("remove cover[1]", "cover[1]"),
        ("clean cover and lid", "lid"),
        ('"Look at {covr} first."', "covr"),
        ('note "a"\nremove cover\n  note "at {foot[7]}"', "7"),
        ("if covr was removed\n  fit cover", "covr"),
        ("if covr is set\n  fit cover", "covr"),
        ("go back to nowhere", "nowhere"),
        ("refit nothing", "nothing"),
        ("follow nobody", "nobody"),
        ("hold for boss", "boss"),
        ("remove cover by boss", "boss"),
        ("hand over to boss", "boss"),
    ],
)
def test_an_unknown_name_is_told_where_it_stands(body: str, piece: str) -> None:
    assert fault(body) == [("unknown-name", piece)]


def test_the_nearest_name_is_offered_with_a_fix() -> None:
    _, findings = resolved(job("remove covr\nfit cover", 'parts\n  cover "cover"'))
    (finding,) = findings
    assert "cover" in finding.hint
    assert finding.fix is not None
    assert finding.fix.text == "cover"
    assert finding.fix.span == finding.span


def test_what_is_like_nothing_gets_another_hint() -> None:
    _, findings = resolved(job("remove xylophone"))
    (finding,) = findings
    assert finding.fix is None
    assert "quotes" in finding.hint


@pytest.mark.parametrize(
    ("body", "piece"),
    [
        ("isolate cover", "cover"),
        ("tighten hoist", "hoist"),
        ("remove cover with bench", "bench"),
        ("remove cover via cloth", "cloth"),
        ("support screw", "screw"),
        ("fill cover", "cover"),
        ("lock cover", "cover"),
        ("move cover to hoist", "hoist"),
        ("open brake", "brake"),
        ("bring cover to set", "cover"),
        ("remove 5 mm", "5 mm"),
        ("remove cover.width", "width"),
        ("remove", "remove"),
        ("sign cover", "cover"),
        ("if cover is off\n  fit cover", "cover"),
        ("if bench was removed\n  fit cover", "bench"),
        ("repeat for each f in cover\n  clean f", "cover"),
    ],
)
def test_a_thing_of_a_wrong_kind_is_told(body: str, piece: str) -> None:
    assert fault(body) == [("wrong-kind", piece)]


@pytest.mark.parametrize(
    "body",
    [
        "tighten cover",
        "tighten screw to 9 N·m",
        "move cover to bench",
        "move cover aside",
        "bring brake to set",
        'isolate "the whole line"',
        "clean cover with cloth",
        "lean cover on foot[1] beside bench",
        "if brake is set\n  fit cover",
        "if cover was removed\n  fit cover",
        "repeat for each f in foot\n  clean f",
        "repeat for each n in 1..4\n  clean foot[n]",
        "repeat for each n in foot\n  clean foot[n]",
        "repeat for each x in foot[1], cover\n  clean x",
        "refit cover",
        'hold for electrician "Look."',
    ],
)
def test_what_is_right_is_silent(body: str) -> None:
    assert fault(body) == []


def test_a_word_of_a_line_that_was_lost_is_not_told() -> None:
    text = job("remove covr", 'parts\n  covr "cover" behind\n  other "other"')
    file, findings = parse_text(text, "a.proc")
    assert findings
    assert file is not None
    assert "covr" in file.lost_words
    assert [f.rule for f in resolve([file], no_pictures)[1]] == ["unused-name"]


@pytest.mark.parametrize(
    ("declared", "piece"),
    [
        ('parts\n  cover "a"\n  cover "b"', "cover"),
        ('parts\n  cover "a"\nconsumables\n  cover "b"', "cover"),
        ('parts\n  cover[1, 2, 1] "a"', "1"),
        ('conditions\n  cover "a"\n    on\n    off\n    on', "on"),
        ("fasteners\n  cover M6 ISO 4032 8 snug hand-tight", "hand-tight"),
    ],
)
def test_a_name_with_two_meanings_is_told_at_the_second(declared: str, piece: str) -> None:
    assert fault("clean cover", declared) == [("duplicate-name", piece)]


def test_the_first_place_is_shown_too() -> None:
    text = job("clean cover", 'parts\n  cover "a"\n  cover "b"')
    _, findings = resolved(text)
    (finding,) = findings
    (label,) = finding.labels
    assert text[label.span.start : label.span.end] == "cover"
    assert label.span.start < finding.span.start


@pytest.mark.parametrize(
    ("body", "piece"),
    [
        ('measure gap "Gap" at most 1 mm\nmeasure gap "Gap" at most 2 mm', "gap"),
        ("clean cover as one\nclean screw as one", "one"),
        ("section one\n  clean cover\nclean screw as one", "one"),
        ("repeat for each n in 1..4\n  repeat for each n in 1..4\n    clean foot[n]", "n"),
        ("repeat for each cover in foot\n  clean screw", "cover"),
        ('ask a "A?"  answers low, high, low', "low"),
        (
            'picture "a.png"\n  mark 1 cover at 1 %, 1 %\n  mark 1 screw at 2 %, 2 %\nclean cover',
            "1",
        ),
    ],
)
def test_a_name_made_twice_in_a_body_is_told(body: str, piece: str) -> None:
    found = [f for f in fault(body) if f[0] != "picture-missing"]
    assert found == [("duplicate-name", piece)]


def test_the_shop_may_list_what_the_procedure_lists_again() -> None:
    shop = '## file: shop.proc\nshop s "S"\n  consumables\n    cloth "cloth"\n'
    own = job('clean "it" with cloth', 'consumables\n  cloth "own cloth"')
    found = world(own + shop)
    variant = found.procedures["job"].variants[0]
    assert variant.things[variant.scope["cloth"]].label == "own cloth"


def test_a_name_of_the_shop_with_another_meaning_is_told() -> None:
    shop = '## file: shop.proc\nshop s "S"\n  consumables\n    cloth "cloth"\n'
    assert fault("clean cloth", 'parts\n  cloth "own cloth"') == []
    assert told(job("clean cloth", 'parts\n  cloth "own cloth"') + shop) == [
        ("duplicate-name", "cloth")
    ]


class TestUnused:
    def test_a_declared_thing_that_nothing_uses(self) -> None:
        text = job('"Look."', 'parts\n  cover "cover"')
        assert told(text) == [("unused-name", "cover")]

    def test_a_pair_that_only_speaks_of_each_other(self) -> None:
        declared = 'parts\n  cover "c"\nfasteners\n  screw M6 ISO 4032 8 holds cover snug'
        assert told(job('"Look."', declared)) == [
            ("unused-name", "cover"),
            ("unused-name", "screw"),
        ]

    def test_what_comes_along_is_used(self) -> None:
        declared = """\
parts
  cover  "cover"  behind lid
  lid    "lid"
  badge  "badge"  on cover
  spare  "spare"  spare for cover
fasteners
  screw  M6 ISO 4032 8   holds cover  snug
  tab    tab-washer  locks screw
  plug   plug G1/2   seals oil  snug
fluids
  oil "oil" 1 L in cover
connections
  cable cable "cable" joins cover
"""
        assert told(job("remove cover", declared)) == []

    def test_a_machine_whose_procedures_are_elsewhere_is_left_alone(self) -> None:
        assert told(PUMP) == []

    def test_in_a_machine_it_is_enough_that_a_thing_speaks_of_it(self) -> None:
        text = "## file: p.proc\n" + job("clean unit", "", "machine pump")
        assert told(PUMP + text) == []
        more = PUMP.replace("  parts\n", '  parts\n    odd "odd"\n')
        assert told(more + text) == [("unused-name", "odd")]

    def test_a_block_that_nothing_follows(self) -> None:
        block = '  block wipe "Wipe"\n    clean unit\n'
        own = "## file: p.proc\n" + job("clean unit", "", "machine pump")
        assert told(PUMP + block + own) == [("unused-name", "wipe")]
        own = "## file: p.proc\n" + job("follow wipe", "", "machine pump")
        assert told(PUMP + block + own) == []

    def test_tools_are_left_to_the_tool_lists(self) -> None:
        tools = 'tools\n  keys hex-keys 4, 5 mm\n  driver special "driver"'
        assert told(job('"Look."', tools)) == []


@pytest.mark.parametrize(
    ("line", "rule", "piece"),
    [
        ("wear glovse", "unknown-name", "glovse"),
        ('warning crsh "It moves." avoid "Wait."', "unknown-name", "crsh"),
    ],
)
def test_words_of_the_trade_are_looked_up(line: str, rule: str, piece: str) -> None:
    assert fault(f"remove cover\n  {line}") == [(rule, piece)]


def test_kinds_of_energy_and_tools_are_looked_up() -> None:
    declared = 'energy\n  supply elektrical "400 V"\ntools\n  key hex-kys 5 mm'
    assert fault("isolate supply", declared) == [
        ("unknown-name", "elektrical"),
        ("unknown-name", "hex-kys"),
    ]


def test_an_unknown_verb_is_told_and_a_house_verb_is_not() -> None:
    assert told(job('remoove "it"')) == [("unknown-verb", "remoove")]
    shop = '## file: shop.proc\nshop s "S"\n  verbs\n    fettle like clean\n'
    found = world(job('fettle "it"') + shop)
    (step,) = found.procedures["job"].body
    assert isinstance(step, model.ActionStep)
    assert (step.verb.word, step.verb.effect.value) == ("fettle", "neutral")


def test_a_house_verb_must_be_new_and_like_a_known_one() -> None:
    shop = 'shop s "S"\n  verbs\n    fettle like clen\n    remove like clean\n    fettle like oil\n'
    assert told(shop) == [
        ("unknown-verb", "clen"),
        ("duplicate-name", "remove"),
        ("duplicate-name", "fettle"),
    ]


@pytest.mark.parametrize(
    ("line", "piece"),
    [
        ("starts with cover gone", "gone"),
        ("starts with screw off", "off"),
        ("leaves supply off", "off"),
        ("needs brake on", "on"),
    ],
)
def test_a_state_that_a_thing_is_never_in_is_told(line: str, piece: str) -> None:
    assert fault("clean cover, screw, foot", head=line)[0] == ("unknown-name", piece)


@pytest.mark.parametrize(
    ("head", "piece"),
    [
        ("starts with cover off, cover aside", "cover aside"),
        ("leaves foot[1..2] off, foot[2..3] aside", "foot[2..3] aside"),
        ("leaves foot off, foot[3] off", "foot[3] off"),
    ],
)
def test_two_states_at_one_end_are_told(head: str, piece: str) -> None:
    assert fault("clean cover, foot", head=head) == [("duplicate-name", piece)]


def test_one_state_at_each_end_is_right() -> None:
    head = "starts with cover off\nleaves cover aside, foot[1] off, foot[2] aside"
    assert fault("clean cover, foot", head=head) == []


def test_a_record_that_is_called_like_a_condition() -> None:
    assert fault('ask brake "Is it set?"') == [("duplicate-name", "brake")]


def test_states_of_each_kind() -> None:
    head = """\
needs brake set
starts with cover off, screw slackened
starts with supply isolated
leaves foot[2] aside, cover at bench
"""
    found, findings = resolved(job("clean cover, screw, foot", COVER, head))
    assert [f.rule for f in findings if f.rule != "unused-name"] == []
    ends = found.procedures["job"].ends
    assert [(e.kind, e.subject.key, e.subject.members, e.state) for e in ends] == [
        ("needs", "job/brake", (), "set"),
        ("starts", "job/cover", (), "off"),
        ("starts", "job/screw", (), "slackened"),
        ("starts", "job/supply", (), "isolated"),
        ("leaves", "job/foot", ("2",), "aside"),
        ("leaves", "job/cover", (), "at"),
    ]
    assert ends[-1].place is not None
    assert ends[-1].place.key == "job/bench"


def test_files_may_come_in_any_order() -> None:
    text = PUMP + "## file: p.proc\n" + job("remove spacer, unit\nclean cvr", "", "machine pump")
    files = parsed(text)
    assert resolve(files, no_pictures) == resolve(files[::-1], no_pictures)
