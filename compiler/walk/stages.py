"""Splits one job of the way back into the steps a reader does: hold, fit, tighten, release."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from compiler.model import Extras
from compiler.walk.deeds import Deeds
from compiler.walk.nodes import Act, Deed

_SUFFIXES = (".support", ".fit", ".tighten", ".release")
_FIT = 1
_RANKS: Mapping[Deed, int] = {
    Deed.SUPPORT: 0,
    Deed.MOVE: _FIT,
    Deed.FIT: _FIT,
    Deed.CONNECT: _FIT,
    Deed.START: _FIT,
    Deed.TIGHTEN: 2,
    Deed.LOCK: 2,
    Deed.CLOSE: 3,
    Deed.LET_GO: 3,
}
"""In which stage a deed is done; any other one is done in the stage that it comes in."""


@dataclass(frozen=True, slots=True)
class Stage:
    """One step: its deeds, and what is put behind the id of the job ('' for the main one).

    The main stage, in which the thing goes back, keeps the id of the job.
    """

    suffix: str
    deeds: Deeds


def stages(deeds: Deeds) -> tuple[Stage, ...]:
    """Return the deeds of one job as steps, in order; all of them know the state at the end."""
    acts = dict[int, list[Act]]()
    for rank, act in zip(_ranks(deeds.acts), deeds.acts, strict=True):
        acts.setdefault(rank, []).append(act)
    done = list(zip(_ranks(one.act for one in deeds.done), deeds.done, strict=True))
    main = _FIT if _FIT in acts else min(acts, default=0)
    return tuple(
        Stage(
            "" if rank == main else _SUFFIXES[rank],
            replace(deeds, acts=given, done=[one for at, one in done if at == rank]),
        )
        for rank, given in acts.items()
    )


def _ranks(acts: Iterable[Act]) -> Iterator[int]:
    """Yield the stage of each act; nothing goes back to a stage that is over."""
    rank = 0
    for act in acts:
        rank = max(rank, _RANKS.get(act.deed, rank))
        yield rank


def untold(extras: Extras, before: Iterable[Extras]) -> Extras:
    """Return the attachments of a step without the messages that an earlier one of its job told."""
    told = {message for given in before for message in given.safety}
    return replace(extras, safety=tuple(one for one in extras.safety if one not in told))
