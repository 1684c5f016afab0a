"""All things a walk-through can speak of: the procedure's own, its machine's, the shop's, and those
of what it follows.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.model import (
    AnyThing,
    Block,
    BranchBlock,
    FollowStep,
    LanesBlock,
    OnlyForBlock,
    Procedure,
    RepeatBlock,
    SectionBlock,
    Variant,
    World,
)


def variant_of(procedure: Procedure, model: str) -> Variant | None:
    """Return the variant for `model`; one without a model, or the first, stands in for it."""
    for wanted in (model, ""):
        for variant in procedure.variants:
            if variant.model == wanted:
                return variant
    return procedure.variants[0] if procedure.variants else None


def gather_things(world: World, procedure: Procedure, model: str) -> dict[str, AnyThing]:
    """Return the things by key, sorted by where they are declared.

    Keys are unique in the project, so what is followed only adds to them.
    """
    found: dict[str, AnyThing] = {}
    for each in followed(world, procedure):
        variant = variant_of(each, model)
        for key, thing in variant.things.items() if variant is not None else ():
            found.setdefault(key, thing)
    order = sorted(found.values(), key=lambda t: (t.span.file, t.span.start, t.key))
    return {thing.key: thing for thing in order}


def followed(world: World, procedure: Procedure) -> list[Procedure]:
    """Return the procedure and all that it follows, straight or through others, each once."""
    seen = {procedure.key: procedure}
    waiting = [procedure]
    while waiting:
        current = waiting.pop(0)
        for block in blocks_within(current.body):
            target = world.procedures.get(block.target) if isinstance(block, FollowStep) else None
            if target is not None and target.key not in seen:
                seen[target.key] = target
                waiting.append(target)
    return list(seen.values())


def blocks_within(body: tuple[Block, ...]) -> Iterator[Block]:
    """Yield every block and step in the order of the file, however deep it is nested."""
    waiting = [iter(body)]
    while waiting:
        block = next(waiting[-1], None)
        if block is None:
            waiting.pop()
            continue
        yield block
        waiting += [iter(inner) for inner in reversed(bodies_of(block))]


def bodies_of(block: Block) -> tuple[tuple[Block, ...], ...]:
    """Return the bodies of a block; () for a step."""
    if isinstance(block, SectionBlock | RepeatBlock | OnlyForBlock):
        return (block.body,)
    if isinstance(block, BranchBlock):
        return tuple(body for _, body in block.arms)
    if isinstance(block, LanesBlock):
        return tuple(body for _, body in block.lanes)
    return ()
