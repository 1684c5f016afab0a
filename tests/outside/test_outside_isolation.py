"""Isolation and restoration against 29 CFR 1910.147, safety messages against ANSI Z535.6.

The clauses are those of the rule's text, sequence included: "shall be done in the following
sequence". What Z535.6 asks of a message (hazard, consequence, avoidance; before the step) is known
from published summaries and general manual practice, the standard itself was not seen.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from itertools import pairwise
from pathlib import Path

import pytest
from case_support import check_texts, rules_of

from compiler.document.model import Library, SafetyPanel, plain_text
from compiler.emit.html import page_jobs
from compiler.load import load_folder
from compiler.model import Energy, Procedure
from compiler.pipeline import Compiled, compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile
from compiler.trade.safety import ENERGIES
from compiler.walk.flat import flat_steps
from compiler.walk.nodes import Deed, StepNode, Target
from compiler.walk.things import gather_things

D, E = "(d)", "(e)"
CLAUSES = {
    Deed.SHUT_DOWN: (D, 2),  # orderly shutdown
    Deed.ISOLATE: (D, 3),  # every energy isolating device is operated
    Deed.LOCK_OUT: (D, 4),  # locks and tags on
    Deed.DISCHARGE: (D, 5),  # after the locks: stored energy relieved
    Deed.VERIFY: (D, 6),  # isolation verified before the work
    Deed.CLEAR: (E, 1),  # area inspected, (e)(2)(i) people safely positioned
    Deed.UNLOCK_OUT: (E, 2),  # (e)(3): by those who put them on
    Deed.TELL: (E, 3),  # (e)(2)(ii): after removal and before the start
    Deed.ENERGIZE: (E, 4),
}
NEEDED = {Deed.SHUT_DOWN, Deed.ISOLATE, Deed.LOCK_OUT, Deed.VERIFY}
BACK = [Deed.CLEAR, Deed.UNLOCK_OUT, Deed.TELL, Deed.ENERGIZE]


def job(lines: str, kind: str = "pneumatic", text: str = '"the line"') -> dict[str, str]:
    """Return a small job with one energy of a kind."""
    body = "".join(f"  {line}\n" for line in lines.splitlines())
    return {
        "job.proc": 'procedure job "Job"\n  revision A 2026-10-05\n  energy\n'
        f'    force {kind} {text}\n      isolate at "device D1"\n      release "ease it"\n'
        f'      verify "it is dead"\n  parts\n    bowl "bowl"  contains force\n{body}'
    }


def compiled(texts: dict[str, str]) -> Compiled:
    """Compile texts that are on no disk."""
    return compile_sources([SourceFile(p, t) for p, t in texts.items()], no_pictures)


def deeds(step: StepNode, energy: str) -> list[Deed]:
    """Return what a step does to an energy, of what the rule speaks of."""
    return [a.deed for a in step.acts if a.deed in CLAUSES and energy in {*a.keys()}]


def isolating_steps(made: Compiled) -> Iterator[tuple[Procedure, str, list[Deed]]]:
    """Yield procedure, energy and deeds of every step that isolates or gives back something."""
    for (key, model), walk in made.walks.items():
        procedure = made.world.procedures[key]
        things = gather_things(made.world, procedure, model)
        energies = [k for k, thing in things.items() if isinstance(thing, Energy)]
        for step in flat_steps(walk):
            for energy in energies:
                done = deeds(step.node, energy)
                if done:
                    yield procedure, energy, done


@pytest.mark.parametrize("kind", ENERGIES)
def test_isolating_follows_the_sequence_of_the_rule(kind: str) -> None:
    """29 CFR 1910.147 (d)(2) to (d)(6) (R), whatever the kind of energy."""
    steps = [done for _, _, done in isolating_steps(compiled(job("isolate force", kind)))]
    assert steps == [
        [Deed.SHUT_DOWN, Deed.ISOLATE, Deed.LOCK_OUT, Deed.DISCHARGE, Deed.VERIFY],
    ]


@pytest.mark.parametrize("kind", ENERGIES)
def test_giving_back_follows_the_sequence_of_the_rule(kind: str) -> None:
    """29 CFR 1910.147 (e)(1), (e)(2)(i), (e)(3), then (e)(2)(ii) (R)."""
    made = compiled(job("isolate force\nrestore force", kind))
    steps = [done for _, _, done in isolating_steps(made)]
    assert steps[1] == BACK


def test_the_demo_isolates_and_gives_back_in_the_sequence(demo: Compiled) -> None:
    """The same on real work: what is followed, the way back that is worked out, each model."""
    isolated, given_back = 0, 0
    for procedure, energy, done in isolating_steps(demo):
        where = (procedure.key, energy, done)
        assert all(CLAUSES[a] < CLAUSES[b] for a, b in pairwise(done)), where
        if Deed.ISOLATE in done:
            isolated += 1
            assert set(done) >= NEEDED, where
            assert done[-1] is Deed.VERIFY, where
        if Deed.ENERGIZE in done:
            given_back += 1
            assert done == BACK, where
    assert isolated > 10
    assert given_back > 10


@pytest.fixture(scope="module")
def demo(project_root: Path) -> Compiled:
    """Return the demo folder, compiled."""
    folder = load_folder(project_root / "procedures")
    return compile_sources(folder.sources, folder.probe)


OUT_OF_SEQUENCE = {
    # (d)(6) before (d)(3), (d)(5) before (d)(3)
    "verify force\nisolate force\nrestore force": ["isolation-order"],
    "release force\nisolate force\nrestore force": ["isolation-order"],
    # work before it is isolated, or on what was let out and proved only
    "remove bowl\nisolate force\nfit bowl\nrestore force": ["opened-live"],
    "release force\nverify force\nremove bowl\nfit bowl": [
        "isolation-order",
        "isolation-order",
        "opened-live",
    ],
    # given back before the machine is whole, (e)(1); twice; too early; never
    "isolate force\nremove bowl\nrestore force\nfit bowl": ["live-with-guard-off"],
    "isolate force\nrestore force\nrestore force": ["already-so"],
    "isolate force\nrestore force\nremove bowl\nfit bowl": ["opened-live"],
    "isolate force\nremove bowl\nfit bowl": ["left-isolated"],
}
IN_SEQUENCE = {
    "as the rule says": "isolate force\nremove bowl\nfit bowl\nrestore force",
    "let out once more and proved again, (d)(5)(ii)": (
        "isolate force\nrelease force\nverify force\nremove bowl\nverify force\nfit bowl\n"
        "restore force"
    ),
}


@pytest.mark.parametrize(("lines", "rules"), OUT_OF_SEQUENCE.items())
def test_a_hand_written_order_that_is_not_the_rules_is_found(lines: str, rules: list[str]) -> None:
    found = check_texts(job(lines)).findings
    assert rules_of(f for f in found if f.rule != "unused-name") == rules


@pytest.mark.parametrize("name", IN_SEQUENCE)
def test_a_hand_written_order_that_is_the_rules_is_not(name: str) -> None:
    checked = check_texts(job(IN_SEQUENCE[name]))
    assert checked.rendered() == ""


def test_what_is_done_in_one_step_is_done_energy_by_energy_in_sequence() -> None:
    """Two energies at once: both are locked before the first is let out, both proved last."""
    texts = job("isolate force, mains\nrestore force, mains")
    mains = '    mains electrical "400 V"\n      isolate at "switch Q1"\n      verify "dead"\n'
    texts["job.proc"] = texts["job.proc"].replace("  parts\n", f"{mains}  parts\n")
    walk = next(iter(compiled(texts).walks.values()))
    first, second = (step.node for step in flat_steps(walk))
    for step in (first, second):
        order = [CLAUSES[act.deed] for act in step.acts]
        assert order == sorted(order)
    proof = next(act for act in first.acts if act.deed is Deed.VERIFY)
    assert len([t for t in proof.targets if isinstance(t, Target)]) == 2


def every_panel(value: object) -> Iterator[SafetyPanel]:
    """Yield the safety messages in a piece of a document."""
    if isinstance(value, SafetyPanel):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from every_panel(one)
    elif is_dataclass(value):
        for each in fields(value):
            yield from every_panel(getattr(value, each.name))


def test_messages_of_the_demo_name_hazard_consequence_and_avoidance(
    demo_library: Library,
) -> None:
    """ANSI Z535.6 (R2): what every message about injury has; 30 and more in the demo."""
    panels = {
        panel
        for document in demo_library.documents
        for panel in every_panel(document)
        if panel.signal != "notice"
    }
    assert len(panels) >= 30
    for panel in panels:
        assert panel.hazard, plain_text(panel.text)
        assert plain_text(panel.consequence), plain_text(panel.text)
        assert plain_text(panel.avoid), plain_text(panel.text)


def test_a_message_stands_before_its_step_the_most_severe_first() -> None:
    """General manual practice (R2): read before the hands move; most severe first (M)."""
    texts = job(
        'clean "the bowl rim"\n  caution slip "Juice drips." avoid "Wipe it up."\n'
        '  danger crush "The press sinks." avoid "Prop it."'
    )
    pages = page_jobs(compiled(texts).library(), {})
    page = next(j.make().decode("utf-8") for j in pages if j.path.endswith("job.html"))
    step = page[page.index('<li class="step') :]
    places = [step.index(words) for words in ("The press sinks.", "Juice drips.", 'class="do"')]
    assert places == sorted(places)
