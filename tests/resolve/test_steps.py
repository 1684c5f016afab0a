"""Steps: what they are done to, their ids, loops, conditions, and what hangs under them."""

from __future__ import annotations

import pytest
from resolve_support import PUMP, job, resolved, told, world

from compiler import model
from compiler.resolve.blocks import blocks

COVER = 'parts\n  cover "cover"\n  foot[1..4] "foot"'


def body_of(text: str) -> tuple[model.Block, ...]:
    found, _ = resolved(text)
    return next(iter(found.procedures.values())).body


def ids(body: str, declared: str = COVER) -> list[str]:
    steps = blocks(body_of(job(body, declared)))
    return [step.id for step in steps]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("remove cover", ["remove-cover"]),
        ("remove cover as open-up", ["open-up"]),
        ("clean foot[1]\nclean foot[2, 3]", ["clean-foot-1", "clean-foot-2-3"]),
        ("clean cover\nclean cover", ["clean-cover", "clean-cover-2"]),
        ("clean cover\nclean foot as clean-cover", ["clean-cover-2", "clean-cover"]),
        ('clean "the sight glass"', ["clean-the-sight-glass"]),
        ('"Walk once round the press, slowly."', ["walk-once-round-the-press"]),
        ('measure gap "Gap" at most 1 mm', ["measure-gap"]),
        ('confirm "It ran for 5 min."', ["confirm-it-ran-for-5-min"]),
        ('stop "Tell them."', ["stop-tell-them"]),
        ('section "Clean it"\n  clean cover', ["clean-it", "clean-cover"]),
        ("section a\n  clean cover", ["a", "clean-cover"]),
        ("repeat 3 times\n  clean cover", ["repeat-3-times", "clean-cover"]),
        ("repeat for each f in foot\n  clean f", ["each-f-foot", "clean-f"]),
        ('if "it is worn"\n  clean cover', ["if-it-is-worn", "clean-cover"]),
        ("way back\n  clean cover", ["way-back", "clean-cover"]),
        ("refit everything", ["refit-everything"]),
        ("remove cover as a\ngo back to a", ["a", "go-back-a"]),
    ],
)
def test_ids_are_made_of_what_is_done(body: str, expected: list[str]) -> None:
    assert ids(body) == expected


def test_steps_that_are_put_before_change_no_id() -> None:
    after = ids('clean cover\nmeasure gap "Gap" at most 1 mm\nclean foot[1]\nclean cover')
    before = ids(
        '"Look."\noil foot\nclean cover\nmeasure gap "Gap" at most 1 mm\nclean foot[1]\nclean cover'
    )
    assert before[2:] == after


def action(body: str, declared: str = COVER) -> model.ActionStep:
    steps = blocks(body_of(job(body, declared)))
    return next(step for step in steps if isinstance(step, model.ActionStep))


def test_targets_and_phrases_are_looked_up() -> None:
    tools = COVER + '\ntools\n  driver special "driver"  ends "24 mm", "32 mm"'
    step = action(
        'turn foot[1, 3] 1/4 turn clockwise with driver end "32 mm" until "it stops"', tools
    )
    (target,) = step.targets
    assert isinstance(target, model.Selection)
    assert (target.key, target.members) == ("job/foot", ("1", "3"))
    assert [(p.word, p.end, len(p.operands)) for p in step.phrases] == [
        ("", "", 1),
        ("clockwise", "", 0),
        ("with", "32 mm", 1),
        ("until", "", 1),
    ]
    turn = step.phrases[0].operands[0]
    assert isinstance(turn, model.Amount)
    assert (str(turn.low.value), turn.low.unit) == ("1/4", "turn")


def test_an_end_that_the_tool_has_not_is_told() -> None:
    tools = COVER + '\ntools\n  driver special "driver"  ends "24 mm", "32 mm"'
    found = told(job('clean cover, foot with driver end "33 mm"', tools))
    assert found == [("unknown-name", '"33 mm"')]


def test_new_and_old_are_kept() -> None:
    step = action("transfer foot[1] from old cover to new cover")
    ages = [o.age for p in step.phrases for o in p.operands if isinstance(o, model.Selection)]
    assert ages == ["old", "new"]


def test_alternatives_are_kept_apart_from_both() -> None:
    tools = '\ntools\n  a special "a"\n  b special "b"'
    assert action("clean cover with a or b", COVER + tools).phrases[0].joined == "or"
    assert action("clean cover with a, b", COVER + tools).phrases[0].joined == "and"


class TestRepeats:
    def block(self, body: str, declared: str = COVER) -> model.RepeatBlock:
        (found,) = body_of(job(body, declared))
        assert isinstance(found, model.RepeatBlock)
        return found

    def test_times(self) -> None:
        block = self.block("repeat 3 times\n  clean cover")
        assert (block.bindings, block.variable, block.shown) == (("", "", ""), "", "each")

    def test_numbers(self) -> None:
        block = self.block("repeat for each n in 1..3\n  clean foot[n]")
        assert block.bindings == ("1", "2", "3")
        (step,) = block.body
        assert isinstance(step, model.ActionStep)
        (target,) = step.targets
        assert isinstance(target, model.Selection)
        (member,) = target.members
        assert isinstance(member, model.LoopUse)
        assert member.variable == "n"

    def test_a_set_gives_one_binding_for_each_member(self) -> None:
        block = self.block("repeat for each f in foot[2..3]\n  clean f")
        assert block.set_key == "job/foot"
        found = [b for b in block.bindings if isinstance(b, model.Selection)]
        assert [(b.key, b.members) for b in found] == [("job/foot", ("2",)), ("job/foot", ("3",))]

    def test_words(self) -> None:
        declared = 'parts\n  gear[left, right] "gear"'
        block = self.block("repeat for each side in left, right\n  clean gear[side]", declared)
        assert block.bindings == ("left", "right")

    def test_shown_each_up_to_four(self) -> None:
        assert self.block("repeat 4 times\n  clean cover").shown == "each"
        assert self.block("repeat 5 times\n  clean cover").shown == "once"
        assert self.block("repeat 5 times shown each\n  clean cover").shown == "each"

    def test_rows(self) -> None:
        table = COVER + "\ntable size\n  name | gap\n  small | 0.5 mm\n  large | 0.8 mm"
        block = self.block("repeat for each row in size\n  set cover to row.gap", table)
        first = block.bindings[0]
        assert isinstance(first, tuple)
        name, gap = first
        assert name == ("name", "small")
        assert isinstance(gap[1], model.Amount)
        (step,) = block.body
        assert isinstance(step, model.ActionStep)
        (use,) = step.phrases[0].operands
        assert isinstance(use, model.LoopUse)
        assert (use.variable, use.column) == ("row", "gap")

    @pytest.mark.parametrize(
        ("body", "rule", "piece"),
        [
            ("set cover to row.gpa", "unknown-name", "gpa"),
            ("set cover to row", "wrong-kind", "row"),
            ("clean foot[row]", "wrong-kind", "row"),
            ("remove row.name", "wrong-kind", "row.name"),
            ("clean cover with row.name", "wrong-kind", "row.name"),
            ("clean row[1]", "wrong-kind", "row[1]"),
        ],
    )
    def test_slips_with_rows(self, body: str, rule: str, piece: str) -> None:
        table = COVER + "\ntable size\n  name | gap\n  small | 0.5 mm"
        found = told(job(f"clean cover, foot\nrepeat for each row in size\n  {body}", table))
        assert found == [(rule, piece)]

    @pytest.mark.parametrize(
        ("body", "rule", "piece"),
        [
            ("repeat for each n in 1..5\n  clean foot[n]", "unknown-name", "n"),
            ("repeat for each n in 4..1\n  clean foot[n]", "count-sanity", "4..1"),
            ("repeat for each n in 1..9999\n  clean foot", "count-sanity", "1..9999"),
            ("repeat 0 times\n  clean foot", "count-sanity", "0"),
            ("repeat for each n in 1..4\n  remove n", "wrong-kind", "n"),
            ("repeat for each f in foot\n  isolate f", "wrong-kind", "f"),
            ("repeat for each f in foot\n  clean f.gap", "wrong-kind", "f.gap"),
            ("repeat for each f in feet\n  clean foot", "unknown-name", "feet"),
        ],
    )
    def test_slips(self, body: str, rule: str, piece: str) -> None:
        assert told(job(f"clean cover, foot\n{body}", COVER)) == [(rule, piece)]

    def test_until(self) -> None:
        body = 'repeat until gap is in  at most 5 times\n  measure gap "Gap" at most 1 mm'
        block = self.block(body)
        assert block.most == 5
        assert isinstance(block.until, model.StateIs)
        assert (block.until.kind, block.until.subject, block.until.state) == ("record", "gap", "in")


class TestConditions:
    RECORDS = """\
measure gap "Gap" at most 1 mm
ask smell "Does it smell?"
ask level "Where?"  answers low, high
confirm dry "It is dry."
record serial "Serial number"
"""

    @pytest.mark.parametrize(
        "test",
        ["gap is in", "gap is above", "smell is yes", "level is low", "dry is no"],
    )
    def test_what_a_record_can_be(self, test: str) -> None:
        assert told(job(f"clean cover, foot\n{self.RECORDS}if {test}\n  clean cover", COVER)) == []

    @pytest.mark.parametrize(
        ("test", "rule", "piece"),
        [
            ("gap is yes", "unknown-name", "yes"),
            ("smell is in", "unknown-name", "in"),
            ("level is yes", "unknown-name", "yes"),
            ("dry is out", "unknown-name", "out"),
            ("serial is yes", "wrong-kind", "serial"),
            ("gapp is in", "unknown-name", "gapp"),
            ("cover was lost", "unknown-name", "lost"),
        ],
    )
    def test_what_it_can_not(self, test: str, rule: str, piece: str) -> None:
        text = job(f"clean cover, foot\n{self.RECORDS}if {test}\n  clean cover", COVER)
        assert told(text) == [(rule, piece)]

    def test_arms_keep_their_conditions(self) -> None:
        body = """\
ask smell "Does it smell?"
if smell is yes
  clean cover
otherwise if foot[1] was removed
  clean foot
otherwise if "the shift is over"
  clean cover
otherwise
  clean foot
"""
        block = body_of(job(body, COVER))[1]
        assert isinstance(block, model.BranchBlock)
        kinds = [type(when).__name__ for when, _ in block.arms]
        assert kinds == ["StateIs", "WasDone", "Judged", "NoneType"]

    def test_a_condition_that_means_nothing_stays_a_condition(self) -> None:
        """Otherwise the arm would always be taken."""
        block = body_of(job("if nothing is out\n  clean cover\notherwise\n  clean foot", COVER))[0]
        assert isinstance(block, model.BranchBlock)
        assert [when is None for when, _ in block.arms] == [False, True]


class TestHanging:
    def test_lines_under_a_step(self) -> None:
        step = action(
            'clean cover  takes 10 min  people 2  timer 5 min  recorded\n  note "A."\n  why "B."\n'
            '  wear gloves\n  warning cut "Sharp." consequence "It cuts." avoid "Wear gloves."'
        )
        extras = step.extras
        assert extras.takes is not None
        assert (extras.takes.likely, extras.people, step.recorded) == (10, 2, True)
        assert step.timer is not None
        assert [p.parts for p in (*extras.notes, *extras.whys)] == [("A.",), ("B.",)]
        assert extras.wear == ("gloves",)
        (safety,) = extras.safety
        assert (safety.signal, safety.hazard) == ("warning", "cut")

    def test_three_points_of_time(self) -> None:
        takes = action("clean cover\n  takes 5..20 min likely 10 min").extras.takes
        assert takes is not None
        assert (takes.low, takes.likely, takes.high) == (5, 10, 20)
        takes = action("clean cover\n  takes 1..2 h").extras.takes
        assert takes is not None
        assert (takes.low, takes.likely, takes.high) == (60, 90, 120)

    def test_what_stands_between_steps_belongs_to_the_next(self) -> None:
        body = 'section a\n  caution cut "One."\n  clean cover\n  caution cut "Two."\n  clean foot'
        (section,) = body_of(job(body, COVER))
        assert isinstance(section, model.SectionBlock)
        first, second = section.body
        assert isinstance(first, model.ActionStep)
        assert isinstance(second, model.ActionStep)
        texts = [
            [s.text.parts for s in e.safety] for e in (section.extras, first.extras, second.extras)
        ]
        assert texts == [[("One.",)], [], [("Two.",)]]

    def test_before_a_branch_it_belongs_to_the_first_step_of_each_arm(self) -> None:
        body = 'clean foot\ncaution cut "Two."\nif "worn"\n  clean cover\notherwise\n  oil cover'
        branch = body_of(job(body, COVER))[1]
        assert isinstance(branch, model.BranchBlock)
        steps = [step for _, arm in branch.arms for step in arm]
        assert all(isinstance(s, model.ActionStep) and len(s.extras.safety) == 1 for s in steps)

    def test_what_nothing_follows_is_told(self) -> None:
        text = job('clean cover, foot\ncaution cut "Two."', COVER)
        assert told(text) == [("not-understood", 'caution cut "Two."')]

    def test_the_head_is_the_whole_jobs(self) -> None:
        text = job("clean cover, foot", COVER, "people 2\ntakes 1 h\nwear gloves")
        procedure = world(text).procedures["job"]
        assert procedure.takes is not None
        assert (procedure.people, procedure.takes.likely) == (2, 60)
        assert procedure.extras.wear == ("gloves",)


class TestProse:
    def parts(self, text: str, declared: str = COVER) -> list[object]:
        (step,) = body_of(job(f'"{text}"', declared))
        assert isinstance(step, model.ProseStep)
        return [
            p
            if isinstance(p, str)
            else p.key
            if isinstance(p, model.Selection)
            else p.low.unit
            if isinstance(p, model.Amount)
            else p.variable
            for p in step.text.parts
        ]

    def test_links(self) -> None:
        assert self.parts("Seat {cover} with {9 N·m}.") == [
            "Seat ",
            "job/cover",
            " with ",
            "N·m",
            ".",
        ]
        assert self.parts("{foot[1]}") == ["job/foot"]
        assert self.parts("No link.") == ["No link."]
        assert self.parts("{8..10 N·m}") == ["N·m"]

    def test_braces_as_such(self) -> None:
        assert self.parts("a {{b}} c") == ["a {b} c"]
        assert self.parts(r"a \{b\} \"c\" \\ d") == ['a {b} "c" \\ d']

    def test_the_place_of_a_link_is_exact_behind_escapes(self) -> None:
        assert told(job(r'"say \"{covr}\" {{x}} {ffoot}"')) == [
            ("unknown-name", "covr"),
            ("unknown-name", "ffoot"),
        ]

    def test_a_link_that_is_no_name_and_no_value(self) -> None:
        assert told(job('"say {?!}"')) == [("unknown-name", "?!")]
        assert told(job('"say {"')) == [("not-understood", "{")]

    def test_an_unknown_unit_in_a_link(self) -> None:
        assert told(job('"turn with {9 Nmm2}"')) == [("unknown-unit", "Nmm2")]

    def test_loop_variables(self) -> None:
        body = 'repeat for each n in 1..3\n  "Look at foot {n}."'
        (block,) = body_of(job(body, COVER))
        assert isinstance(block, model.RepeatBlock)
        (step,) = block.body
        assert isinstance(step, model.ProseStep)
        assert isinstance(step.text.parts[1], model.LoopUse)


class TestElsewhere:
    def test_refit_of_a_section_and_of_a_part(self) -> None:
        body = "section a\n  remove cover\nrefit a\nremove foot\nrefit foot\nrefit everything"
        steps = body_of(job(body, COVER))[1:]
        kinds = [type(s).__name__ for s in steps]
        assert kinds == ["RefitStep", "ActionStep", "ActionStep", "RefitStep"]
        assert isinstance(steps[0], model.RefitStep)
        assert steps[0].section == "a"
        assert isinstance(steps[2], model.ActionStep)
        assert steps[2].verb.effect.value == "fit"

    def test_a_section_that_is_called_like_a_part(self) -> None:
        text = job("section cover\n  remove cover, foot\nrefit cover", COVER)
        assert told(text) == [("duplicate-name", "cover")]

    def test_a_step_has_no_way_back(self) -> None:
        assert told(job("clean cover, foot as a\nrefit a", COVER)) == [("wrong-kind", "a")]

    def test_follow_a_procedure_and_a_block(self) -> None:
        text = (
            PUMP
            + '  block wipe "Wipe"\n    clean unit\n## file: p.proc\n'
            + job("follow wipe\nfollow other way in", "", "machine pump")
            + '## file: o.proc\nprocedure other "Other"\n  machine pump\n  revision A 2026-11-02\n'
            + "  remove guard\n"
        )
        found = world(text)
        steps = found.procedures["job"].body
        follows = [(s.target, s.half) for s in steps if isinstance(s, model.FollowStep)]
        assert follows == [("pump/wipe", ""), ("other", "way in")]
        assert found.procedures["pump/wipe"].is_block

    def test_what_is_for_another_machine_is_told(self) -> None:
        other = '## file: fan.proc\nmachine fan "Fan"\n## file: o.proc\nprocedure other "Other"\n'
        other += '  machine fan\n  revision A 2026-11-02\n  "Look."\n'
        text = PUMP + "## file: p.proc\n" + job("clean unit\nfollow other", "", "machine pump")
        assert told(text + other) == [("wrong-kind", "other")]

    def test_what_is_for_one_model_is_told(self) -> None:
        other = '## file: o.proc\nprocedure other "Other"\n  machine pump\n  models TP-60\n'
        other += "  revision A 2026-11-02\n  clean unit\n"
        text = PUMP + "## file: p.proc\n" + job("follow other", "", "machine pump")
        assert told(text + other) == [("unknown-model", "other")]
        text = PUMP + "## file: p.proc\n" + job("follow other only for TP-60", "", "machine pump")
        assert told(text + other) == []

    def test_circles_are_told_with_all_their_places(self) -> None:
        text = "".join(
            f'## file: {a}.proc\nprocedure {a} "{a}"\n  revision A 2026-11-02\n  follow {b}\n'
            for a, b in ("ab", "bc", "ca")
        )
        _, findings = resolved(text)
        (finding,) = findings
        assert finding.rule == "circular-follow"
        assert [finding.span.file, *(label.span.file for label in finding.labels)] == [
            "a.proc",
            "b.proc",
            "c.proc",
        ]
        assert [f.rule for f in resolved(job("follow job"))[1]] == ["circular-follow"]


def test_values_for_one_model() -> None:
    text = (
        PUMP
        + "## file: p.proc\n"
        + job("set guard to 0.3 mm\n  for TP-60 to 0.4 mm\nclean unit", "", "machine pump")
    )
    step = world(text).procedures["job"].body[0]
    assert isinstance(step, model.ActionStep)
    ((models, phrases),) = step.overrides
    assert models == ("TP-60",)
    (value,) = phrases[0].operands
    assert isinstance(value, model.Amount)
    assert str(value.low.value) == "2/5"


@pytest.mark.parametrize(
    ("body", "piece"),
    [
        ("clean unit only for TP-6", "TP-6"),
        ("only for TP-6\n  clean unit", "TP-6"),
        ("set unit to 1 mm\n  for TP-6 to 2 mm", "TP-6"),
        ("clean heater", "heater"),
        ("only for TP-40\n  clean heater", "heater"),
    ],
)
def test_models_that_are_not_there_are_told(body: str, piece: str) -> None:
    heater = PUMP.replace("  parts\n", '  parts\n    heater "heater" only for TP-60\n')
    found = told(heater + "## file: p.proc\n" + job(body + "\nclean unit", "", "machine pump"))
    assert [f for f in found if f[0] != "unused-name"] == [("unknown-model", piece)]


@pytest.mark.parametrize(
    "body",
    [
        "clean heater only for TP-60",
        "only for TP-60\n  clean heater",
        '"Look at {heater}." only for TP-60',
        'confirm "{heater} is dry." only for TP-60',
        "clean unit",
    ],
)
def test_a_thing_of_one_model_may_be_used_for_that_model(body: str) -> None:
    heater = PUMP.replace("  parts\n", '  parts\n    heater "heater" on unit only for TP-60\n')
    text = heater + "## file: p.proc\n" + job(body, "", "machine pump")
    variants = {v.model: v for v in world(text).procedures["job"].variants}
    assert "pump/heater" not in variants["TP-40"].things
    assert "pump/heater" in variants["TP-60"].things
    assert variants["TP-40"].scope["heater"] == "pump/heater"


def test_lanes() -> None:
    body = 'side by side\n  lane "A"\n    clean cover\n  lane "B"\n    clean foot'
    (lanes,) = body_of(job(body, COVER))
    assert isinstance(lanes, model.LanesBlock)
    assert [who for who, _ in lanes.lanes] == ["A", "B"]
    assert told(job(body.replace('"B"', '"A"'), COVER)) == [("duplicate-name", '"A"')]
