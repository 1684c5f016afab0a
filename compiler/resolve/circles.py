"""Finds circles: procedures that follow each other, parts that stand behind each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler import model
from compiler.resolve.blocks import follow_steps
from compiler.resolve.report import Report
from compiler.source import Span


def circles(arrows: Mapping[str, Sequence[str]]) -> list[tuple[str, ...]]:
    """Return the circles among the arrows, each once, starting with its first name.

    Of circles that share a name, one is enough: it is mended first. Works without recursion, for a
    long chain must not be a fault.
    """
    found: list[tuple[str, ...]] = []
    done: set[str] = set()
    for start in sorted(arrows):
        if start not in done:
            found += _from(start, arrows, done)
    return found


def _from(start: str, arrows: Mapping[str, Sequence[str]], done: set[str]) -> list[tuple[str, ...]]:
    """Go along the arrows from `start`; what is in `done` was seen before."""
    found: list[tuple[str, ...]] = []
    path = [start]
    on_path = {start}
    waiting = [iter(sorted(arrows.get(start, ())))]
    while waiting:
        following = next(waiting[-1], None)
        if following is None:
            waiting.pop()
            on_path.discard(path[-1])
            done.add(path.pop())
        elif following in on_path:
            found.append(_turned(path[path.index(following) :]))
        elif following not in done:
            path.append(following)
            on_path.add(following)
            waiting.append(iter(sorted(arrows.get(following, ()))))
    return found


def _turned(circle: Sequence[str]) -> tuple[str, ...]:
    """Return the circle starting with the name that comes first in the alphabet."""
    at = circle.index(min(circle))
    return (*circle[at:], *circle[:at])


def check_follow(procedures: Mapping[str, model.Procedure], report: Report) -> None:
    """Report procedures that follow themselves, straight or through others."""
    places: dict[tuple[str, str], Span] = {}
    arrows: dict[str, list[str]] = {}
    for procedure in procedures.values():
        for step in follow_steps(procedure):
            arrows.setdefault(procedure.key, []).append(step.target)
            places.setdefault((procedure.key, step.target), step.span)
    for circle in circles(arrows):
        hops = list(zip(circle, (*circle[1:], circle[0]), strict=True))
        first, *others = [places[hop] for hop in hops]
        hint = "Take one of these lines out, or put what both need into a procedure of its own."
        if len(circle) == 1:
            message = f"{circle[0]} follows itself: this never ends."
            hint = "To do something again, put it into a `repeat`, or write `go back to` a section."
        else:
            message = f"{round_in_words(circle, 'follows')}: this never ends."
        report.add(
            "circular-follow",
            first,
            message,
            *(
                (span, f"{hop[0]} follows {hop[1]}")
                for span, hop in zip(others, hops[1:], strict=True)
            ),
            hint=hint,
        )


def round_in_words(names: Sequence[str], relation: str) -> str:
    """Return the circle in words: `a follows b, b follows a`."""
    hops = zip(names, (*names[1:], names[0]), strict=True)
    return ", ".join(f"{name} {relation} {following}" for name, following in hops)


def check_things(things: Mapping[str, model.AnyThing], report: Report) -> None:
    """Report parts that are behind, or carried by, themselves."""
    behind: dict[str, list[str]] = {}
    carried: dict[str, list[str]] = {}
    for thing in things.values():
        if isinstance(thing, model.Part):
            behind[thing.key] = [s.key for s in thing.behind]
            carried[thing.key] = [thing.on.key] if thing.on is not None else []
    _report_parts(things, circles(behind), "is behind", "behind", report)
    _report_parts(things, circles(carried), "is carried by", "on", report)


def _report_parts(
    things: Mapping[str, model.AnyThing],
    found: Sequence[tuple[str, ...]],
    relation: str,
    clause: str,
    report: Report,
) -> None:
    for circle in found:
        ring = [things[key] for key in circle]
        report.add(
            "circular-follow",
            ring[0].span,
            f"{round_in_words([thing.name for thing in ring], relation)}: nobody could get there.",
            *((thing.span, f"{thing.name} is declared here") for thing in ring[1:]),
            hint=f"Take `{clause}` off the one that comes out first.",
        )
