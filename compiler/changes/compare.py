"""Compares two issues of a folder, procedure by procedure."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from compiler.changes.lines import (
    clip_changes,
    line_texts,
    picture_changes,
    safety_changes,
    text_changes,
    word_change,
)
from compiler.changes.model import Change, Changes, LeftOut, ProcedureChanges
from compiler.changes.rows import (
    Told,
    energy_changes,
    supply_changes,
    tool_changes,
    torque_changes,
)
from compiler.changes.visits import visits_compared
from compiler.changes.work import work_changes
from compiler.document.digest import content_digest
from compiler.document.model import Document, Library, RevisionView
from compiler.wording.changing import PLACES, WHOLE_JOB, quoted
from compiler.wording.english import listed
from compiler.wording.text import upper_first


def compare_libraries(
    old: Library,
    new: Library,
    names: tuple[str, str] = ("", ""),
    left_out: Sequence[LeftOut] = (),
) -> Changes:
    """Return what is different between two issues; `names` are what they were asked for by.

    What could not be compiled on one side is in `left_out`, and is not told as new or gone.
    """
    before = {document.id: document for document in old.documents}
    after = {document.id: document for document in new.documents}
    unknown = {one.procedure for one in left_out}
    ids = sorted((before.keys() | after.keys()) - unknown)
    found = {id: _procedure(before.get(id), after.get(id)) for id in ids}
    changed = {id: one for id, one in found.items() if one.changes}
    return Changes(
        *names,
        tuple(_in_its_place(one, changed, before, after, new) for one in changed.values()),
        tuple(left_out),
        len(found) - len(changed),
        () if left_out else tuple(visits_compared(old.visits, new.visits)),
    )


def _procedure(old: Document | None, new: Document | None) -> ProcedureChanges:
    """Return the changes of one procedure, which is there on one side at least."""
    shown = new or old
    assert shown is not None
    was, now = (_name(one.revision) if one is not None else "" for one in (old, new))
    if old is not None and new is not None:
        same = _without_revision(old) == _without_revision(new)
        changes = compare_documents(old, new)
        return ProcedureChanges(
            shown.id, shown.title, was, now, bool(changes) and was == now and not same, changes
        )
    deed = "new" if old is None else "gone"
    text = f"the procedure is {deed}: {quoted(shown.title)}"
    change = Change("procedure", "new" if old is None else "gone", WHOLE_JOB, text)
    return ProcedureChanges(shown.id, shown.title, was, now, False, (change,))


def compare_documents(old: Document, new: Document) -> tuple[Change, ...]:
    """Return what is different in a procedure, the weighty changes first; () for the same content.

    Each change is told once: a torque with its fastener and not again in each step that names it.
    """
    if old.digest == new.digest:
        return ()
    told: Told = []
    # Each adds what has not to be told again by those after it; the steps come last.
    tools = tuple(tool_changes(old.tools, new.tools, told))
    supplies = tuple(supply_changes(old.supplies, new.supplies, told))
    torques = tuple(torque_changes(old.torques, new.torques, told))
    energies = tuple(energy_changes(old.energies, new.energies, told))
    content = (
        *energies,
        *safety_changes(WHOLE_JOB, old.safety, new.safety),
        *_wear(old, new),
        *torques,
        *_together(work_changes(old.body, new.body, told)),
        *tools,
        *supplies,
        *_head(old, new),
    )
    if not content and _without_revision(old) != _without_revision(new):
        content = (_rest(old, new),)
    return (*_revision(old.revision, new.revision), *content)


def _together(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Return the changes of steps, what is the same in several of them once, with all its places.

    A caution of a step stands again where the way back undoes it.
    """
    found: dict[tuple[object, ...], list[Change]] = {}
    for change in changes:
        alone = change.step if change.deed == "moved" else ""
        key = (change.subject, change.deed, change.text, change.details, alone)
        found.setdefault(key, []).append(change)
    return tuple(
        replace(same[0], where=listed(tuple(dict.fromkeys(one.where for one in same))))
        for same in found.values()
    )


def _revision(old: RevisionView | None, new: RevisionView | None) -> Iterator[Change]:
    if old == new:
        return
    was, now = (f"{one.name} {one.day}".strip() if one else "" for one in (old, new))
    said = new.change if new is not None and (old is None or new.change != old.change) else ""
    text = f"{was or 'none'} → {now or 'none'}" if was != now else now
    yield Change(
        "revision", "changed", PLACES["revision"], f"{text}: {quoted(said)}" if said else text,
        was, now,
    )  # fmt: skip


def _name(revision: RevisionView | None) -> str:
    return revision.name if revision is not None else ""


def _without_revision(document: Document) -> str:
    return content_digest(replace(document, revision=None))


def _wear(old: Document, new: Document) -> Iterator[Change]:
    was, now = ([one.text for one in document.wear] for document in (old, new))
    for text in now:
        if text not in was:
            yield Change("wear", "new", PLACES["wear"], f"needed now: {text}", "", text)
    for text in was:
        if text not in now:
            yield Change("wear", "gone", PLACES["wear"], f"needed no longer: {text}", text, "")


def _head(old: Document, new: Document) -> Iterator[Change]:
    """Yield what is different in the head of the sheet, and in what is said of the whole job."""
    yield from word_change("time", PLACES["time"], "whole job", _time(old), _time(new))
    people = (str(one.people) for one in (old, new))
    yield from word_change("people", PLACES["people"], "needed", *people)
    values = (
        ("title", old.title, new.title),
        ("machine", old.machine_title, new.machine_title),
        ("where it stands", old.location, new.location),
        ("models", ", ".join(old.models), ", ".join(new.models)),
        ("written by", old.author, new.author),
        ("released by", old.approved, new.approved),
        ("purpose", old.purpose, new.purpose),
        ("due", old.every, new.every),
        ("workshop", old.shop_title, new.shop_title),
    )
    for label, was, now in values:
        yield from word_change("head", WHOLE_JOB, label, was, now)
    texts = (
        ("what it begins with", line_texts(old.needs), line_texts(new.needs)),
        ("what it leaves", line_texts(old.leaves), line_texts(new.leaves)),
        ("rule of the workshop", old.rules, new.rules),
        ("note", line_texts(old.notes), line_texts(new.notes)),
        ("signature", [f.label for f in old.signatures], [f.label for f in new.signatures]),
    )
    for label, before, after in texts:
        yield from text_changes("note" if label == "note" else "head", WHOLE_JOB, label,
                                before, after)  # fmt: skip
    yield from picture_changes(WHOLE_JOB, old.pictures, new.pictures)
    yield from clip_changes(WHOLE_JOB, old.clips, new.clips)


def _time(document: Document) -> str:
    note = f", {document.time_note}" if document.time_text and document.time_note else ""
    return f"{document.time_text}{note}"


def _rest(old: Document, new: Document) -> Change:
    """Return the line on what has no line of its own, with where it is: nothing goes untold."""
    parts = [
        upper_first(field.name.replace("_", " ").replace("body", "steps"))
        for field in dataclasses.fields(Document)
        if field.name not in ("digest", "revision", "source_file", "followed_by", "issues", "since")
        and content_digest((getattr(old, field.name),))
        != content_digest((getattr(new, field.name),))
    ]
    return Change("rest", "changed", PLACES["rest"], f"details of: {', '.join(parts)}")


# --- Who else is affected ------------------------------------------------------------------------


def _in_its_place(
    one: ProcedureChanges,
    changed: dict[str, ProcedureChanges],
    before: dict[str, Document],
    after: dict[str, Document],
    new: Library,
) -> ProcedureChanges:
    """Return the changes of a procedure with who is affected, and not what is told elsewhere."""
    id = one.procedure
    documents = after if id in after else before
    followers = _followers(id, documents)
    doing = {id, *followers}
    visits = tuple(
        visit.id for visit in new.visits if any(job.procedure.id in doing for job in visit.jobs)
    )
    through = tuple(name for name, _ in documents[id].follows if name in changed)
    elsewhere = {_key(change) for name in through for change in changed[name].changes}
    own = tuple(c for c in one.changes if c.subject in _OWN or _key(c) not in elsewhere)
    return replace(one, changes=own, through=through, followed_by=followers, visits=visits)


_OWN = frozenset({"procedure", "revision", "head", "time", "people", "rest"})
"""What is a procedure's own, even if one that it follows says the same."""


def _key(change: Change) -> tuple[str, ...]:
    """Return what makes a change the same in a procedure and in one that it follows.

    Numbers of steps are others there, and ids begin with the name of the followed one.
    """
    step = change.step.rpartition("/")[2]
    if change.deed == "moved":
        return (change.subject, change.deed, step)
    if change.subject == "step" and change.deed in ("new", "gone"):
        return (change.subject, change.deed, step, change.before, change.after)
    return (change.subject, change.deed, step, change.text)


def _followers(id: str, documents: dict[str, Document]) -> tuple[str, ...]:
    """Return the names of all that follow a procedure, over others too, in their order."""
    found: set[str] = set()
    todo = [id]
    while todo:
        for name, _ in documents[todo.pop()].followed_by:
            if name not in found and name in documents and name != id:
                found.add(name)
                todo.append(name)
    return tuple(sorted(found))
