"""Compares the tables before the work: torques, tools, parts, energies."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from compiler.changes.lines import line_texts
from compiler.changes.model import Change, Deed, Subject
from compiler.changes.pairs import explained, paired
from compiler.document.model import EnergyView, Measure, SupplyView, ToolView, TorqueRow
from compiler.wording.changing import PLACES, for_models, from_to, only_for
from compiler.wording.english import listed, number
from compiler.wording.text import words_only

_NUMBER = re.compile(r"\d+(?:\.\d+)?")
Told = list[tuple[str, str]]
"""What rows said before and now: a step that differs in nothing else has nothing to tell."""


def torque_changes(
    old: Sequence[TorqueRow], new: Sequence[TorqueRow], told: Told
) -> Iterator[Change]:
    """Yield what is different in tightening, one line for each value of each fastener.

    `told` has what is told of the tools, and gets what is told here.
    """
    pairs = paired(
        old,
        new,
        lambda r: (r.name, r.fastener, r.models, _value(r)),
        lambda r: (r.name, r.fastener, r.models),
        lambda r: (r.name, r.fastener),
        lambda r: r.name,
    )
    otherwise: list[str] = []
    for before, after in pairs:
        if before is None and after is not None:
            now = _value(after)
            yield _row("torque", "new", f"{_fastener(after)}: now tightened to {now}", "", now)
            told.append(("", _all_of(after)))
        elif after is None and before is not None:
            was = _value(before)
            text = f"{_fastener(before)}: no longer tightened here ({was} before)"
            yield _row("torque", "gone", text, was, "")
            told.append((_all_of(before), ""))
        elif before is not None and after is not None:
            made = tuple(_torque(before, after, told))
            yield from made
            if not made and before.workings != after.workings:
                otherwise.append(_fastener(after))
    if otherwise:
        text = f"how the numbers are worked out has changed, for {listed(otherwise)}"
        yield _row("torque", "changed", text, "", "")


def _torque(before: TorqueRow, after: TorqueRow, told: Told) -> Iterator[Change]:
    same_value = _value(before) == _value(after)
    values = (
        ("", _value(before), _value(after)),
        ("fastener", before.designation, after.designation),
        ("how many", str(before.count), str(after.count)),
        ("stages", before.stages, after.stages),
        ("order", before.sequence, after.sequence),
        ("thread", before.thread, after.thread),
        ("torque wrench", before.wrench, after.wrench),
        # With another torque the wrench is of course set otherwise.
        ("wrench setting", *(("", "") if not same_value else (_set(before), _set(after)))),
        ("driver", before.drive, after.drive),
        ("remark", "; ".join(before.remarks), "; ".join(after.remarks)),
    )
    changed = [
        one
        for one in values
        if one[1] != one[2] and not (one[0] in _OF_TOOLS and explained(one[1], one[2], told))
    ]
    for label, was, now in changed:
        name = f"{_fastener(after)}, {label}" if label else _fastener(after)
        yield _row("torque", _deed(was, now), from_to(name, was, now), was, now)
    if before.models != after.models:
        was, now = for_models(before.models), for_models(after.models)
        yield _row("torque", "changed", from_to(_fastener(after), was, now), was, now)
    if changed:
        told.append((_all_of(before), _all_of(after)))


_OF_TOOLS = frozenset({"torque wrench", "driver"})
"""Values that the list of tools tells as well."""


def _fastener(row: TorqueRow) -> str:
    return f"{row.fastener}{only_for(row.models)}"


def _value(row: TorqueRow) -> str:
    return f"{row.target.text} ({row.window.text})" if row.window is not None else row.target.text


def _set(row: TorqueRow) -> str:
    return row.setting.text if row.setting is not None else ""


def _all_of(row: TorqueRow) -> str:
    """Return all that a step may say of the row."""
    measures = [row.target, *((row.window,) if row.window is not None else ())]
    said = [_both(one) for one in measures]
    said += [
        row.designation,
        str(row.count),
        number(row.count),
        row.stages,
        row.sequence,
        row.thread,
        row.wrench,
    ]
    said += [row.drive, _set(row), *row.remarks, *(one.text for one in row.workings)]
    return " ".join(said)


def _both(measure: Measure) -> str:
    return f"{measure.text} {measure.second}".strip()


def tool_changes(old: Sequence[ToolView], new: Sequence[ToolView], told: Told) -> Iterator[Change]:
    """Yield tools needed now, tools needed no longer, and those of which something is different."""
    pairs = paired(
        old,
        new,
        lambda t: (t.text, t.tag, t.models),
        lambda t: (t.text, t.tag),
        lambda t: t.text,
        lambda t: t.anchor or _NUMBER.sub("", t.text),
    )
    for before, after in pairs:
        if before is None and after is not None:
            yield _row("tool", "new", f"needed now: {_tool(after)}", "", after.text)
        elif after is None and before is not None:
            yield _row("tool", "gone", f"needed no longer: {_tool(before)}", before.text, "")
        elif before is not None and after is not None:
            yield from _tool_change(before, after)
    came = " ".join(f"{t.text} {t.detail} {t.tag}" for t in new if t not in old)
    went = " ".join(f"{t.text} {t.detail} {t.tag}" for t in old if t not in new)
    told.append((went, came))


def _tool(tool: ToolView) -> str:
    count = f"{tool.count} × " if tool.count > 1 else ""
    tag = f", {tool.tag}" if tool.tag else ""
    return f"{count}{tool.text}{tag}{only_for(tool.models)}"


def _tool_change(before: ToolView, after: ToolView) -> Iterator[Change]:
    name = after.text
    if before.text != after.text:
        text = f"{before.text} → {after.text}"
        yield _row("tool", "changed", text, before.text, after.text)
    values = (
        ("number on it", before.tag, after.tag),
        ("how many", str(before.count), str(after.count)),
        ("which", before.detail, after.detail),
        ("needed", for_models(before.models), for_models(after.models)),
    )
    for label, was, now in values:
        if was != now:
            text = from_to(f"{name}, {label}", was, now)
            yield _row("tool", _deed(was, now), text, was, now)
    if before.missing != after.missing:
        text = f"{name}: {'not in the crib now' if after.missing else 'in the crib now'}"
        yield _row("tool", "changed", text, "", "")


def supply_changes(
    old: Sequence[SupplyView], new: Sequence[SupplyView], told: Told
) -> Iterator[Change]:
    """Yield parts and supplies to bring now, no longer, in another amount, by another number."""
    pairs = paired(
        old,
        new,
        lambda s: (s.kind, s.text, s.number, s.condition, s.models),
        lambda s: (s.kind, s.text, s.number, s.models),
        lambda s: (s.kind, s.text, s.models),
        lambda s: (s.kind, s.text),
        lambda s: (s.kind, s.number or s.text),
    )
    for before, after in pairs:
        if before is None and after is not None:
            yield _row("part", "new", f"needed now: {_supply(after)}", "", after.text)
        elif after is None and before is not None:
            yield _row("part", "gone", f"needed no longer: {_supply(before)}", before.text, "")
        elif before is not None and after is not None:
            yield from _supply_change(before, after, told)


def _supply(row: SupplyView) -> str:
    number = f", number {row.number}" if row.number else ""
    condition = f", {row.condition}" if row.condition else ""
    return f"{row.text}, {row.quantity}{number}{condition}{only_for(row.models)}"


def _supply_change(before: SupplyView, after: SupplyView, told: Told) -> Iterator[Change]:
    if before.text != after.text:
        text = f"{before.text} → {after.text}"
        yield _row("part", "changed", text, before.text, after.text)
    if before.number != after.number:
        yield _number_change(before, after)
    values = (
        ("how much", before.quantity, after.quantity),
        ("condition", before.condition, after.condition),
        ("needed", for_models(before.models), for_models(after.models)),
    )
    for label, was, now in values:
        if was != now:
            text = from_to(f"{after.text}, {label}", was, now)
            yield _row("part", _deed(was, now), text, was, now)
    if (before.number, before.quantity) != (after.number, after.quantity):
        told.append((f"{before.number} {before.quantity}", f"{after.number} {after.quantity}"))


def _number_change(before: SupplyView, after: SupplyView) -> Change:
    """Return the line on a part number; one that names the old as former has taken its place."""
    was, now = before.number, after.number
    if was and was.split(" (")[0] in now and "formerly" in now:
        text = f"{after.text}, number {was} is superseded by {now.split(' (')[0]}"
    else:
        text = from_to(f"{after.text}, number", was, now)
    return _row("part", _deed(was, now), text, was, now)


def energy_changes(
    old: Sequence[EnergyView], new: Sequence[EnergyView], told: Told
) -> Iterator[Change]:
    """Yield what is different in locking out: where, how it is let out, how it is proved dead."""
    pairs = paired(
        old, new, lambda e: (e.anchor, e.name, e.models), lambda e: e.anchor, lambda e: e.name
    )
    for before, after in pairs:
        if before is None and after is not None:
            text = f"to be isolated now: {_energy(after)}"
            yield _row("isolation", "new", text, "", after.name)
        elif after is None and before is not None:
            text = f"no longer to be isolated: {_energy(before)}"
            yield _row("isolation", "gone", text, before.name, "")
        elif before is not None and after is not None:
            yield from _energy_change(before, after)
            told.append((_isolated(before), _isolated(after)))


def _isolated(row: EnergyView) -> str:
    """Return all that a step which isolates says of the energy."""
    return " ".join((row.name, *line_texts((row.level, *row.device, *row.release, *row.verify))))


def _energy(row: EnergyView) -> str:
    at = ", ".join(line_texts(row.device))
    return f"{row.name}{f', at {at}' if at else ''}{only_for(row.models)}"


def _energy_change(before: EnergyView, after: EnergyView) -> Iterator[Change]:
    values = (
        ("called", before.name, after.name),
        ("kind", before.kind, after.kind),
        ("size", words_only(before.level), words_only(after.level)),
        ("isolated at", *_joined(before.device, after.device)),
        ("let out", *_joined(before.release, after.release)),
        ("proved dead", *_joined(before.verify, after.verify)),
        ("needed", for_models(before.models), for_models(after.models)),
    )
    for label, was, now in values:
        if was != now:
            name = f"{after.name}{only_for(after.models)}, {label}"
            yield _row("isolation", _deed(was, now), from_to(name, was, now), was, now)


def _joined(*columns: Sequence[tuple[object, ...]]) -> tuple[str, str]:
    old, new = ("; ".join(line_texts(column)) for column in columns)  # type: ignore[arg-type]
    return old, new


def _deed(was: str, now: str) -> Deed:
    if was and now:
        return "changed"
    return "new" if now else "gone"


def _row(subject: Subject, deed: Deed, text: str, was: str, now: str) -> Change:
    return Change(subject, deed, PLACES[subject], text, was, now)
