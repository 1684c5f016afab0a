"""What a part weighs, where the models differ in nothing else: one step, all masses in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from compiler.document.model import StepView
from compiler.wording.english import listed
from compiler.wording.text import Inline, Line, Measure, Plain, line

_ANY = Measure("", of="mass")


def without_masses(step: StepView) -> StepView:
    """Return a step in which every mass is the same: two that are equal differ in nothing else."""
    if not any(_is_mass(piece) for given in step.lines for piece in given):
        return step
    lines = tuple(
        tuple(_ANY if _is_mass(piece) else piece for piece in given) for given in step.lines
    )
    return replace(step, lines=lines)


def with_masses(steps: Mapping[str, StepView]) -> StepView:
    """Return one step for several models that are equal without their masses.

    `It weighs 31 kg, on the TP-60 44 kg.`
    """
    models, views = tuple(steps), tuple(steps.values())
    lines = (_line(models, given) for given in zip(*(v.lines for v in views), strict=True))
    return replace(views[0], lines=tuple(lines))


def _line(models: Sequence[str], given: Sequence[Line]) -> Line:
    places = zip(*given, strict=True)
    return line(*(piece for place in places for piece in _pieces(models, place)))


def _pieces(models: Sequence[str], place: Sequence[Inline]) -> Iterator[Inline]:
    """Yield what stands at one place: what the first model has, then what others have instead."""
    on: dict[Inline, list[str]] = {}
    for model, piece in zip(models, place, strict=True):
        on.setdefault(piece, []).append(model)
    first, *others = on
    yield first
    for piece in others:
        yield Plain(f", on the {listed(on[piece])} ")
        yield piece


def _is_mass(piece: Inline) -> bool:
    return isinstance(piece, Measure) and piece.of == "mass"
