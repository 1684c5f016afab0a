"""The whole library: one document a procedure, pages of machines, tools and visits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias

from compiler.derive.lists import Derived
from compiler.document.before import (
    end_lines,
    energy_views,
    every_text,
    follows_of,
    people_of,
    times_of,
    worn,
)
from compiler.document.context import Context, make_context
from compiler.document.digest import content_digest
from compiler.document.lifts import lift_rows
from compiler.document.machines import machine_pages
from compiler.document.merge import merge
from compiler.document.model import Document, Field, Library, ProcedureRow, RevisionView
from compiler.document.nodes import Views
from compiler.document.numbers import numbered, numbers_of, steps_of
from compiler.document.panels import clip_views, panels, picture_views, text_lines
from compiler.document.rows import supply_views, tool_views, torque_rows
from compiler.document.search import search_words
from compiler.document.toolpages import tool_pages
from compiler.document.visits import visit_pages
from compiler.model import Procedure, World
from compiler.source import SourceFile
from compiler.walk.nodes import Walk
from compiler.wording.phrases import LABELS

WalkKey: TypeAlias = tuple[str, str]
Contexts: TypeAlias = Mapping[str, Context]


def build_library(
    world: World,
    walks: Mapping[WalkKey, Walk],
    derived: Mapping[WalkKey, Derived],
    sources: Mapping[str, SourceFile],
) -> Library:
    """Return everything to be published from one folder, sorted by id.

    `walks` and `derived` are keyed by a procedure's key and a model. `sources` are the texts by
    path, for the lines that steps come from. Blocks have no document: they are shown where they
    are followed.
    """
    contexts = {
        procedure.key: {
            variant.model: make_context(
                world,
                procedure,
                variant,
                walks[procedure.key, variant.model],
                derived[procedure.key, variant.model],
                sources,
            )
            for variant in procedure.variants
            if (procedure.key, variant.model) in walks
        }
        for procedure in world.procedures.values()
        if not procedure.is_block
    }
    shown = {key: on_models for key, on_models in contexts.items() if on_models}
    follows = {one.key: follows_of(world, one) for one in world.procedures.values()}
    documents = {key: _document(on_models, follows) for key, on_models in shown.items()}
    rows = {key: _row(documents[key], shown[key]) for key in documents}
    shop = world.shop
    return Library(
        title=shop.title if shop is not None else LABELS.procedures,
        documents=tuple(sorted(documents.values(), key=lambda one: one.id)),
        machines=machine_pages(world, rows),
        tools=tool_pages(world, documents, rows),
        visits=visit_pages(world, shown, documents, rows),
        rows=tuple(sorted(rows.values(), key=lambda one: one.id)),
        site=shop.site if shop is not None else "",
    )


Follows = Mapping[str, Sequence[tuple[str, str]]]
"""What each procedure follows, by its key: (name, title)."""


def _document(contexts: Contexts, follows: Follows) -> Document:
    """Return the document of one procedure on all of its models."""
    ctx = next(iter(contexts.values()))
    procedure, voice = ctx.procedure, ctx.voice
    machine = ctx.world.machines.get(procedure.machine)
    shop = ctx.world.shop
    views = {model: Views(one) for model, one in contexts.items()}
    bodies = {model: one.body() for model, one in views.items()}
    written = {id: at for one in views.values() for id, at in one.written.items()}
    undone = {model: one.undone for model, one in views.items()}
    body = numbered(merge(bodies, written), undone)
    numbers = numbers_of(body)
    time_text, time_note = times_of(contexts)
    extras = procedure.extras
    pictures = (*(machine.extras.pictures if machine is not None else ()), *extras.pictures)
    document = Document(
        id=procedure.name,
        title=procedure.title,
        machine_id=machine.name if machine is not None else "",
        machine_title=machine.title if machine is not None else "",
        location=machine.location if machine is not None else "",
        models=tuple(model for model in contexts if model),
        revision=_revision(procedure),
        author=procedure.author,
        approved=procedure.approved,
        purpose=procedure.purpose,
        every=every_text(procedure),
        people=people_of(contexts),
        time_text=time_text,
        time_note=time_note,
        needs=end_lines(contexts, ("needs", "starts")),
        leaves=end_lines(contexts, ("leaves",)),
        wear=worn(contexts),
        safety=panels(voice, [m for one in contexts.values() for m in one.walk.safety]),
        energies=energy_views(contexts),
        notes=text_lines(voice, extras.notes),
        pictures=picture_views(voice, tuple(dict.fromkeys(pictures))),
        clips=clip_views(voice, extras.clips),
        tools=tool_views(contexts, numbers),
        supplies=supply_views(contexts, numbers),
        torques=torque_rows(contexts, numbers),
        body=body,
        signatures=(Field("work-done", "sign", LABELS.work_done, role=LABELS.technician),),
        follows=tuple(follows[procedure.key]),
        followed_by=_followed_by(ctx.world, procedure, follows),
        rules=shop.rules if shop is not None else (),
        source_file=procedure.file,
        digest="",
        shop_title=shop.title if shop is not None else "",
        lifts=lift_rows(contexts, numbers),
    )
    return replace(document, digest=content_digest(document))


def _revision(procedure: Procedure) -> RevisionView | None:
    given = procedure.revision
    if given is None:
        return None
    return RevisionView(given.name, given.day.isoformat() if given.day else "", given.change)


def _followed_by(
    world: World, procedure: Procedure, follows: Follows
) -> tuple[tuple[str, str], ...]:
    found = [
        (other.name, other.title)
        for other in world.procedures.values()
        if not other.is_block and (procedure.name, procedure.title) in follows[other.key]
    ]
    return tuple(sorted(found))


def _row(document: Document, contexts: Contexts) -> ProcedureRow:
    revision = document.revision
    steps = {step.id for step in steps_of(document.body)}
    return ProcedureRow(
        id=document.id,
        title=document.title,
        machine_id=document.machine_id,
        machine_title=document.machine_title,
        models=document.models,
        revision=revision.name if revision is not None else "",
        day=revision.day if revision is not None else "",
        time_text=document.time_text,
        people=document.people,
        steps=len(steps),
        tools=tuple(dict.fromkeys(tool.anchor for tool in document.tools if tool.anchor)),
        words=search_words(document, contexts),
    )
