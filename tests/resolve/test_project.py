"""A whole folder: machines, procedures, shop and visits together; pictures; nothing ever raises."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from resolve_support import (
    PUMP,
    demo,
    demo_folders,
    examples,
    job,
    parsed,
    parts,
    pictures_of,
    resolved,
    told,
    world,
)

from compiler import model
from compiler.load import PictureInfo
from compiler.resolve import followed_by, no_pictures, resolve

EXAMPLES = examples()


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_examples_of_the_language_page_are_right(name: str) -> None:
    assert told(EXAMPLES[name]) == []


def test_the_demo_is_right() -> None:
    files, pictures = demo()
    found, findings = resolve(files, pictures)
    assert [(f.span.file, f.rule, f.message) for f in findings] == []
    assert len(found.procedures) > 10


def test_the_demo_is_the_same_in_any_order() -> None:
    files, pictures = demo()
    forward, backward = resolve(files, pictures), resolve(files[::-1], pictures)
    assert forward == backward
    for mapping in ("machines", "procedures", "visits", "tables"):
        names = list(getattr(forward[0], mapping))
        assert names == sorted(names)
        assert names == list(getattr(backward[0], mapping))


def test_each_step_of_the_demo_has_an_id_of_its_own() -> None:
    from compiler.resolve.blocks import blocks

    files, pictures = demo()
    found, _ = resolve(files, pictures)
    for procedure in found.procedures.values():
        ids = [block.id for block in blocks(procedure.body)]
        assert len(set(ids)) == len(ids)
        assert all(re.fullmatch(r"[^\W_]+(-[^\W_]+)*", i) for i in ids), ids


def test_a_head() -> None:
    head = 'author "A"\napproved "B"\npurpose "C"\nevery 2000 h\npeople 2'
    found = world(job('"Look."', head=head)).procedures["job"]
    assert (found.author, found.approved, found.purpose, found.people) == ("A", "B", "C", 2)
    assert found.every is not None
    assert found.revision is not None
    assert (found.revision.name, str(found.revision.day)) == ("A", "2026-11-02")
    assert (found.machine, [v.model for v in found.variants]) == ("", [""])


def test_a_procedure_of_some_models() -> None:
    text = PUMP + "## file: p.proc\n" + job("clean unit", "", "machine pump\nmodels TP-60")
    assert [v.model for v in world(text).procedures["job"].variants] == ["TP-60"]
    assert told(text.replace("models TP-60\n", "models TP-6\n")) == [("unknown-model", "TP-6")]


def test_a_missing_machine_and_a_missing_revision() -> None:
    text = PUMP + "## file: p.proc\n" + job('"Look."', "", "machine pmp")
    assert told(text) == [("missing-machine", "pmp")]
    assert told('procedure job "Job"\n  "Look."\n') == [("missing-revision", "job")]
    assert told('procedure job "Job"\n  revision A 2026-11-02\n') == [("nothing-to-do", "job")]


def test_two_files_with_one_name() -> None:
    text = PUMP + "## file: z.proc\n" + PUMP
    _, findings = resolved(text)
    assert [(f.rule, f.span.file) for f in findings] == [("duplicate-name", "z.proc")]


def test_a_machine_and_a_procedure_may_share_a_name() -> None:
    own = '  parts\n    pad "pad"\n  clean pad, unit\n'
    text = PUMP + '## file: p.proc\nprocedure pump "P"\n  machine pump\n  revision A 2026-11-02\n'
    things = world(text + own).procedures["pump"].variants[0].things
    assert {"pump/unit", "pump.procedure/pad"} <= set(things)


def test_one_shop() -> None:
    text = 'shop s "S"\n## file: t.proc\nshop t "T"\n'
    assert told(text) == [("duplicate-name", "t")]
    assert world('shop s "S"\n').shop is not None
    assert world(job('"Look."')).shop is None


def test_a_shop() -> None:
    text = """\
shop s "S"
  units N·m, mm
  second units lbf·ft, in
  lift limit 25 kg
  site "http://pages.example/shop/"
  rules
    "Lock and tag."
"""
    shop = world(text).shop
    assert shop is not None
    assert (shop.units, shop.second_units) == (("N·m", "mm"), ("lbf·ft", "in"))
    assert (shop.site, shop.rules) == ("http://pages.example/shop", ("Lock and tag.",))
    assert shop.lift_limit is not None
    assert shop.lift_limit.value == 25


TP_40 = "    model TP-40\n"
VISIT = PUMP + "## file: p.proc\n" + job("clean unit", "", "machine pump") + "## file: v.proc\n"


def test_a_visit() -> None:
    text = (
        VISIT
        + """\
visit stop "Stop"
  date 2026-11-30
  crew 2
  do job on pump as first
    model TP-60
    serial "117"
  do job on pump
    model TP-40
    after first
"""
    )
    found = world(text).visits["stop"]
    assert (str(found.day), found.crew) == ("2026-11-30", 2)
    jobs = [(j.id, j.procedure, j.machine, j.model, j.serial, j.after) for j in found.jobs]
    assert jobs == [
        ("first", "job", "pump", "TP-60", "117", ()),
        ("job", "job", "pump", "TP-40", "", ("first",)),
    ]


def test_a_job_that_is_for_no_machine_may_be_done_on_one() -> None:
    text = PUMP + "## file: p.proc\n" + job('"Look."') + '## file: v.proc\nvisit stop "Stop"\n'
    (done,) = world(text + "  do job on pump\n    model TP-60\n").visits["stop"].jobs
    assert (done.machine, done.model) == ("pump", "TP-60")
    (done,) = world(text + "  do job on pump\n").visits["stop"].jobs
    assert (done.machine, done.model) == ("pump", "")


@pytest.mark.parametrize(
    ("lines", "rule", "piece"),
    [
        ("do jbo\n    model TP-40", "unknown-name", "jbo"),
        ("do job on pmp\n    model TP-40", "missing-machine", "pmp"),
        ("do job on pump\n    model TP-4", "unknown-model", "TP-4"),
        ("do job on pump", "unknown-model", "do job on pump"),
        ("do job\n    model TP-40\n    after nobody", "unknown-name", "nobody"),
        ("do job\n    model TP-40\n    after job", "unknown-name", "job"),
        (
            f"do job as a\n    after b\n{TP_40}  do job as b\n    after a\n{TP_40}",
            "circular-follow",
            "do job as a\n    after b",
        ),
    ],
)
def test_slips_of_a_visit(lines: str, rule: str, piece: str) -> None:
    ((found, at),) = told(VISIT + f'visit stop "Stop"\n  {lines}\n')
    assert found == rule
    assert piece.startswith(at.split("\n")[0])


def test_followed_by() -> None:
    text = job('follow b\nif "x"\n  follow c\nfollow b') + "".join(
        f'## file: {n}.proc\nprocedure {n} "{n}"\n  revision A 2026-11-02\n  "Look."\n'
        for n in "bc"
    )
    assert followed_by(world(text).procedures["job"]) == ("b", "c")


class TestPictures:
    def told(self, line: str, **known: PictureInfo) -> list[tuple[str, str]]:
        return told(job(f'{line}\n"Look."'), pictures_of(**known))

    def test_one_that_can_be_shown(self) -> None:
        line = 'picture "drawings/pump.svg" "The pump"\n  mark 1 "arrow" at 30 %, 40 %'
        text = "## file: sub/p.proc\n" + job(f'{line}\n"Look."')
        found = world(text, pictures_of(pump=PictureInfo("svg")))
        (picture,) = found.procedures["job"].extras.pictures
        assert picture.path == "sub/drawings/pump.svg"
        (mark,) = picture.marks
        assert (mark.number, round(mark.x, 9), round(mark.y, 9)) == (1, 0.3, 0.4)

    def test_one_that_is_not_there(self) -> None:
        assert self.told('picture "pump.svg"') == [("picture-missing", '"pump.svg"')]
        _, (finding,) = resolved(
            job('picture "pmp.svg"\n"Look."'),
            pictures_of(pmp=PictureInfo("missing", near="drawings/pump.svg")),
        )
        assert finding.fix is not None
        assert finding.fix.text == '"drawings/pump.svg"'

    def test_one_that_cannot_be_shown(self) -> None:
        bad = PictureInfo("svg", problem="it holds a script")
        assert self.told('picture "pump.svg"', pump=bad) == [("picture-not-usable", '"pump.svg"')]
        clip = PictureInfo("clip")
        assert self.told('picture "a.mp4"', a=clip) == [("picture-not-usable", '"a.mp4"')]
        assert self.told('clip "a.mp4" from 0:01 to 0:09', a=clip) == []


TEXTS = [*EXAMPLES.values(), VISIT + 'visit v "V"\n  do job on pump\n    model TP-60\n']
WORDS = sorted(
    {word for text in TEXTS for word in re.split(r"\s+", text) if word}
    | {"1/0", "9..1", "{", "}", "{{", '"{foot[9]}"', "[1..900]", "9" * 50, "-", "new", "∞"}
)


FOLDERS = list(demo_folders().values())


@st.composite
def mutated(draw: st.DrawFn, texts: list[str]) -> str:
    """Return a text with some of its words replaced, lines dropped, doubled or swapped."""
    lines = draw(st.sampled_from(texts)).splitlines()
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(lines) - 1))
        words = re.split(r"(\s+)", lines[at])
        match draw(st.sampled_from(["word", "drop", "double", "swap"])):
            case "word":
                place = draw(st.integers(0, len(words) - 1))
                if words[place].strip() or place:
                    words[place] = (words[place].isspace() and " ") or draw(st.sampled_from(WORDS))
                lines[at] = "".join(words)
            case "drop" if len(lines) > 2:
                del lines[at]
            case "double":
                lines.insert(at, lines[at])
            case _:
                other = draw(st.integers(0, len(lines) - 1))
                lines[at], lines[other] = lines[other], lines[at]
    return "\n".join(lines) + "\n"


@given(mutated(TEXTS))
@settings(max_examples=300)
def test_nothing_an_author_writes_raises(text: str) -> None:
    check(text)


@given(mutated(FOLDERS))
@settings(max_examples=60)
def test_nothing_in_the_demo_raises_when_it_is_changed(text: str) -> None:
    check(text)


def check(text: str) -> None:
    """Resolve a folder in both orders; all places that are told must lie in its files."""
    contents = parts(text)
    files = parsed(text)
    found, findings = resolve(files, no_pictures)
    assert isinstance(found, model.World)
    for finding in findings:
        places = [finding.span, *(label.span for label in finding.labels)]
        assert all(0 <= p.start <= p.end <= len(contents[p.file]) for p in places)
        assert finding.message.strip()
    assert resolve(files[::-1], no_pictures) == (found, findings)
