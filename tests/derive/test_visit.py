"""The lists of a visit: one choice of tools for all jobs, supplies added up."""

from __future__ import annotations

from itertools import chain, combinations

from derive_support import PUMP, SHOP, compile_world, demo, folder
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.derive import derive, derive_visit
from compiler.derive.lists import Derived, VisitLists
from compiler.model import World
from compiler.walk import walk_all

TWO = """\
## file: other.proc
procedure other "Other"
  machine pump
  revision A 2026-11-02
  replace seal
    takes 5 min
  pull frame with puller
## file: both.proc
visit both "Both"
  date 2026-11-30
  do job on pump
  do other on pump
"""


def visit(world: World, name: str) -> tuple[VisitLists, dict[tuple[str, str], Derived]]:
    walks, _ = walk_all(world)
    derived = {k: derive(world, world.procedures[k[0]], walk) for k, walk in walks.items()}
    return derive_visit(world, world.visits[name], walks, derived), derived


def both(body: str) -> tuple[VisitLists, dict[tuple[str, str], Derived]]:
    return visit(compile_world(folder(body, more=SHOP + TWO, machine=PUMP)), "both")


def test_tools_are_chosen_for_all_jobs_together() -> None:
    """Alone the first job takes the bar, but the second one brings the puller anyway."""
    found, derived = both("lift cover with bar or puller\n  takes 10 min")
    assert [t.key for t in derived["job", ""].tools] == ["house/bar"]
    assert [t.key for t in found.tools] == ["house/puller"]
    assert [r.step_id for r in found.tools[0].reasons] == [
        "job: lift-cover",
        "other: pull-frame",
    ]


def test_supplies_add_up_and_say_which_job() -> None:
    found, _ = both("replace seal\n  takes 10 min")
    (line,) = [p for p in found.parts if p.label == "seal"]
    assert line.count == 2
    assert [r.step_id for r in line.reasons] == ["job: replace-seal", "other: replace-seal"]


def test_times_add_up_when_all_jobs_give_one() -> None:
    found, _ = both("wipe guard\n  takes 10 min")
    assert found.time is not None
    assert found.time.likely == 15
    assert both("wipe guard")[0].time is None


def test_torques_name_their_job() -> None:
    found, _ = both("slacken screw\ntighten screw")
    assert [t.step_ids for t in found.torques] == [("job: tighten-screw",)]


def test_the_demo_s_visits_take_no_more_tools_than_their_jobs() -> None:
    world = demo()
    for name in world.visits:
        found, derived = visit(world, name)
        alone = {
            tool.key
            for job in world.visits[name].jobs
            for key, lists in derived.items()
            if key[0] == job.procedure and job.model in ("", key[1])
            for tool in lists.tools
        }
        assert len(found.tools) <= len(alone)


CRIB = tuple(f"tool-{letter}" for letter in "abcdefg")

asked = st.tuples(
    st.lists(st.sampled_from(CRIB), min_size=1, max_size=3, unique=True),
    st.sampled_from((" or ", ", ")),
)
"""The tools that a step names: any of them, or all of them."""

jobs = st.lists(st.lists(asked, min_size=1, max_size=4), min_size=1, max_size=3)


def a_visit(of: list[list[tuple[list[str], str]]]) -> str:
    tools = "\n".join(f'    {name} special "{name}"' for name in CRIB)
    pieces = [f'## file: shop.proc\nshop house "House"\n  tools\n{tools}']
    for at, steps in enumerate(of):
        lines = "\n".join(f'  check "the bed" with {joined.join(names)}' for names, joined in steps)
        head = f'procedure job-{at} "Job"\n  revision A 2026-11-02'
        pieces.append(f"## file: job-{at}.proc\n{head}\n{lines}")
    do = "\n".join(f"  do job-{at}" for at in range(len(of)))
    return "\n".join((*pieces, f'## file: visit.proc\nvisit both "Both"\n{do}\n'))


def serves(chosen: frozenset[str], names: list[str], joined: str) -> bool:
    every = joined == ", "
    return chosen.issuperset(names) if every else not chosen.isdisjoint(names)


@settings(max_examples=40, deadline=None)
@given(jobs)
def test_no_smaller_set_serves_a_visit(of: list[list[tuple[list[str], str]]]) -> None:
    """Against trying out all 128 sets of seven tools."""
    found, _ = visit(compile_world(a_visit(of)), "both")
    asks = [ask for steps in of for ask in steps]
    taken = frozenset(tool.key.removeprefix("house/") for tool in found.tools)
    every = chain.from_iterable(combinations(CRIB, n) for n in range(len(CRIB) + 1))
    smallest = min(len(s) for s in every if all(serves(frozenset(s), *ask) for ask in asks))
    assert all(serves(taken, *ask) for ask in asks)
    assert len(taken) == smallest
    assert all(tool.reasons for tool in found.tools)


def test_out_of_calibration_on_the_day_another_is_taken() -> None:
    until = (
        'tag "TW-1"  calibrated until 2026-11-29\n    other torque-wrench 8..30 N·m drive 3/8 in'
    )
    more = SHOP.replace('tag "TW-1"', until) + TWO
    body = folder("slacken screw\ntighten screw", more=more)
    found, derived = visit(compile_world(body), "both")
    assert "house/small" in {tool.key for tool in derived["job", ""].tools}
    wrenches = {tool.key for tool in found.tools} & {"house/small", "house/other"}
    assert wrenches == {"house/other"}
    assert [line.wrench for line in found.torques] == ["house/other"]
    assert [(t.instead_of, t.is_run_out) for t in found.torques] == [("house/small", True)]
    found, _ = visit(compile_world(body.replace("2026-11-29", "2026-11-30")), "both")
    assert [line.wrench for line in found.torques] == ["house/small"], "the last day still counts"


def test_another_wrench_than_on_the_sheet_is_told() -> None:
    """20..24 N·m by itself take the small wrench; the large one comes along for 60 N·m anyway."""
    more = SHOP.replace("drive 3/8 in  length 280 mm", "drive 1/2 in  length 280 mm")
    body = folder("slacken bolt\ntighten bolt", more=more + TWO)
    both_jobs = body.replace("pull frame with puller", "slacken nut\n  tighten nut")
    found, derived = visit(compile_world(both_jobs), "both")
    alone = {line.key: line.wrench for line in derived["job", ""].torques}
    here = {line.key: line for line in found.torques}
    assert alone["pump/bolt"] == "house/small"
    assert here["pump/bolt"].wrench == "house/medium"
    assert (here["pump/bolt"].instead_of, here["pump/bolt"].is_run_out) == ("house/small", False)
    assert here["pump/nut"].instead_of == ""


def test_the_wrench_of_the_sheet_is_used_where_it_comes_along() -> None:
    """The large wrench is named first by the visit, but the first job alone takes the small one."""
    more = SHOP.replace("drive 3/8 in  length 280 mm", "drive 1/2 in  length 280 mm")
    body = folder("slacken bolt\ntighten bolt", more=more + TWO)
    mixed = body.replace(
        "pull frame with puller",
        "slacken nut\n  tighten nut\n  slacken screw\n  tighten screw with small",
    ).replace("do job on pump\n  do other on pump", "do other on pump\n  do job on pump")
    mixed = mixed.replace(
        "bits      hex-bits 4, 5, 6 mm   drive 3/8 in", "bits hex-bits 4, 5, 6 mm drive 1/2 in"
    )
    found, derived = visit(compile_world(mixed), "both")
    for name in ("job", "other"):
        for line in derived[name, ""].torques:
            same = [
                one
                for one in found.torques
                if one.step_ids == tuple(f"{name}: {s}" for s in line.step_ids)
            ]
            assert [one.wrench for one in same] == [line.wrench]
            assert not same[0].instead_of


def test_a_visit_is_planned_for_its_crew() -> None:
    found, _ = both("wipe guard\n  takes 10 min")
    assert found.schedule is not None
    # Both jobs are on one pump, so the second waits.
    assert [(s.id, s.start, s.end) for s in found.schedule.slots] == [
        ("job", 0, 10),
        ("other", 10, 15),
    ]
    assert found.schedule.path_length == 10
    assert found.open_times == ()
    assert both("wipe guard")[0].open_times == ("job",)
