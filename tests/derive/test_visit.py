"""The lists of a visit: one choice of tools for all jobs, supplies added up."""

from __future__ import annotations

from derive_support import PUMP, SHOP, compile_world, demo, folder

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
