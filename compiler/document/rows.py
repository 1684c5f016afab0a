"""Tools, parts and torques as rows before the work, each with the steps they are for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias, TypeVar

from compiler.derive.lists import PartLine, Reason, ToolLine, TorqueLine
from compiler.derive.tools import sizes_words
from compiler.document.context import Context
from compiler.document.merge import Models, by_models
from compiler.document.model import Measure, SupplyView, ToolView, TorqueRow, WhyView, WorkingView
from compiler.model import AnyThing, Fastener, Tool
from compiler.trade.units import format_quantity
from compiler.wording.english import listed, lower_first, plural
from compiler.wording.fasteners import designation_text
from compiler.wording.nouns import name_of
from compiler.wording.phrases import LABELS
from compiler.wording.tables import sequence_words, stage_words, thread_words
from compiler.wording.tightening import running_setting_text, stage_texts
from compiler.wording.totals import add_quantities
from compiler.wording.values import (
    amount_text,
    measure,
    measured_range,
    measured_setting,
    sizes_text,
)
from compiler.wording.workings import reckoned

Whys: TypeAlias = tuple[WhyView, ...]
_Row = TypeVar("_Row")


def tool_views(contexts: Mapping[str, Context], numbers: Mapping[str, str]) -> tuple[ToolView, ...]:
    """Return the tools of all models, each once, with the models that need it."""
    found = {
        model: [
            (tool_view(ctx, one), whys_of(ctx, one.reasons, numbers)) for one in ctx.derived.tools
        ]
        for model, ctx in contexts.items()
    }
    return tuple(replace(row, models=models, whys=whys) for row, models, whys in joined(found))


def tool_view(ctx: Context, line: ToolLine) -> ToolView:
    """Return a tool without models and reasons."""
    thing = ctx.voice.thing(line.key) if line.key else None
    shop = ctx.world.shop
    in_crib = shop is not None and line.key in shop.things
    text = line.need or line.label
    return ToolView(
        text=text,
        detail=_tool_detail(ctx, line, thing, text),
        tag=line.tag,
        count=line.count,
        anchor=thing.name if in_crib and thing is not None else "",
        missing=not line.key and ctx.world.shop is not None,
        models=(),
        whys=(),
    )


def _tool_detail(ctx: Context, line: ToolLine, thing: AnyThing | None, text: str) -> str:
    """Return what the text leaves open: another label, a number, sizes, what does as well.

    Nobody knows here on which day the work is done, so the end of a calibration is printed.
    """
    said: list[str] = []
    if not _says(text, line.label):
        said.append(line.label)
    if isinstance(thing, Tool) and thing.number:
        said.append(f"number {thing.number}")
    if line.sizes and not line.need:
        said.append(sizes_words(line.sizes))
    others = [ctx.voice.thing(key) for key in line.alternatives]
    names = [name_of(other) for other in others if other is not None]
    if names:
        said.append(f"or {listed(names, 'or')}")
    if isinstance(thing, Tool) and thing.calibrated_until is not None:
        until = thing.calibrated_until.isoformat()
        said.append(f"{lower_first(LABELS.calibrated_until)} {until}")
    return ", ".join(said)


def _says(text: str, label: str) -> bool:
    """Return whether the text has every word of the label: `4 mm hex key` says `hex keys`."""
    words = text.replace(",", "").split()
    return {*label.replace(",", "").split()} <= {*words, *map(plural, words)}


def supply_views(
    contexts: Mapping[str, Context], numbers: Mapping[str, str]
) -> tuple[SupplyView, ...]:
    """Return parts, fluids and consumables of all models, each once."""
    found = {
        model: added_up(
            (_supply(ctx, one), whys_of(ctx, one.reasons, numbers)) for one in ctx.derived.parts
        )
        for model, ctx in contexts.items()
    }
    return tuple(replace(row, models=models, whys=whys) for row, models, whys in joined(found))


def added_up(rows: Iterable[tuple[SupplyView, Whys]]) -> list[tuple[SupplyView, Whys]]:
    """Return the supplies of one model, each once: whoever fetches it sees only what is printed.

    The same ring on two bolts is one line with the sum of both.
    """
    found: dict[SupplyView, tuple[str, Whys]] = {}
    for row, whys in rows:
        printed = replace(row, quantity="")
        if printed in found:
            quantity, before = found[printed]
            quantity = add_quantities(quantity, row.quantity)
            found[printed] = quantity, tuple(dict.fromkeys((*before, *whys)))
        else:
            found[printed] = row.quantity, whys
    return [(replace(row, quantity=quantity), whys) for row, (quantity, whys) in found.items()]


def _supply(ctx: Context, line: PartLine) -> SupplyView:
    kind = line.kind if line.kind in ("fluid", "consumable") else "part"
    text = f"{line.label} (spare)" if line.kind == "spare" else line.label
    thing = ctx.voice.thing(line.key)
    if line.kind == "fastener" and isinstance(thing, Fastener):
        text = f"{line.label}, {designation_text(thing)}"
    if line.sizes:
        text = f"{line.label}, {sizes_text(line.sizes)}"
    number = line.number
    if number and line.formerly:
        number += f" (formerly {listed(line.formerly)})"
    return SupplyView(
        kind="fluid" if kind == "fluid" else "consumable" if kind == "consumable" else "part",
        text=text,
        number=number,
        quantity=_quantity(line),
        condition=f"only if {line.only_if}" if line.only_if else "",
        models=(),
        whys=(),
    )


def _quantity(line: PartLine) -> str:
    if line.amount is not None:
        times = f"{line.count} × " if line.count > 1 else ""
        return f"{times}{amount_text(line.amount)}"
    return str(line.count) if line.count else LABELS.as_needed


def torque_rows(
    contexts: Mapping[str, Context], numbers: Mapping[str, str]
) -> tuple[TorqueRow, ...]:
    """Return the torque table of all models; a row that differs stands once a group of models."""
    found = {
        model: [_torque(ctx, line, numbers) for line in ctx.derived.torques]
        for model, ctx in contexts.items()
    }
    return tuple(replace(row, models=models) for row, models in by_models(found))


def _torque(ctx: Context, line: TorqueLine, numbers: Mapping[str, str]) -> TorqueRow:
    thing = ctx.voice.thing(line.key)
    wrench = ctx.voice.thing(line.wrench) if line.wrench else None
    ids = dict.fromkeys(ctx.shown_id(id) for id in line.step_ids)
    return TorqueRow(
        fastener=line.label,
        name=thing.name if thing is not None else line.key.rsplit("/", 1)[-1],
        designation=designation_text(thing) if isinstance(thing, Fastener) else line.designation,
        count=line.count,
        target=_target(ctx, line),
        window=_window(ctx, line),
        stages=stage_words(stage_texts(line.stages)),
        sequence=sequence_words(line.sequence, line.count),
        order=line.order,
        thread=thread_words(thing) if isinstance(thing, Fastener) else line.thread,
        wrench=_wrench(wrench),
        drive=line.drive_tool,
        setting=_setting(ctx, line),
        remarks=(
            *_remarks(line, has_crib=ctx.world.shop is not None),
            *_apart(ctx, line),
            *_instead(ctx, line),
        ),
        models=(),
        step_numbers=tuple(numbers[id] for id in ids if id in numbers),
        workings=tuple(WorkingView(one.label, one.text, one.source) for one in reckoned(line)),
    )


def _wrench(thing: AnyThing | None) -> str:
    if not isinstance(thing, Tool):
        return ""
    return thing.tag or name_of(thing)


def _target(ctx: Context, line: TorqueLine) -> Measure:
    if line.target.high is None and line.second is not None:
        return Measure(
            amount_text(replace(line.target, tolerance=None)), format_quantity(line.second)
        )
    return measure(ctx.voice, replace(line.target, tolerance=None))


def _setting(ctx: Context, line: TorqueLine) -> Measure | None:
    if line.with_running and line.factor is not None:
        return Measure(running_setting_text(line.factor))
    return measured_setting(ctx.voice, line.setting) if line.setting is not None else None


def _window(ctx: Context, line: TorqueLine) -> Measure | None:
    if line.low is None or line.high is None:
        return None
    return measured_range(ctx.voice, line.low, line.high)


def _remarks(line: TorqueLine, *, has_crib: bool) -> tuple[str, ...]:
    made: list[str] = []
    if line.left_hand:
        made.append(LABELS.left_hand)
    if line.working is not None and line.working.running is not None:
        said = LABELS.running_torque if line.with_running else LABELS.plus_running
        made.append(f"{said} ({amount_text(line.working.running)})")
    if line.from_house:
        made.append(LABELS.from_house)
    if has_crib and not line.wrench:
        made.append(LABELS.no_wrench)
    return tuple(made)


def _apart(ctx: Context, line: TorqueLine) -> Iterator[str]:
    """Yield what is done about stages and passes that the wrench does not show."""
    for torque, key in line.apart:
        other = _wrench(ctx.voice.thing(key)) if key else ""
        said = f"{other} for {format_quantity(torque)}"
        by_feel = f"does not show {format_quantity(torque)}: take that pass by feel"
        yield said if other else by_feel


def _instead(ctx: Context, line: TorqueLine) -> Iterator[str]:
    """Yield why a visit has another wrench than the sheet of the job, if it has."""
    usual = _wrench(ctx.voice.thing(line.instead_of)) if line.instead_of else ""
    if usual:
        why = LABELS.run_out_by_then if line.is_run_out else LABELS.comes_along
        yield f"{LABELS.on_its_own_sheet} {usual}: {why}"


def joined(
    found: Mapping[str, Sequence[tuple[_Row, Whys]]],
) -> list[tuple[_Row, Models, Whys]]:
    """Return each different row once, with its models (() for all) and all its reasons."""
    whys: dict[_Row, dict[WhyView, None]] = {}
    for rows in found.values():
        for row, reasons in rows:
            whys.setdefault(row, {}).update(dict.fromkeys(reasons))
    plain = {model: [row for row, _ in rows] for model, rows in found.items()}
    return [(row, models, tuple(whys[row])) for row, models in by_models(plain)]


def whys_of(ctx: Context, reasons: Iterable[Reason], numbers: Mapping[str, str]) -> Whys:
    """Return reasons with the numbers of their steps, each once."""
    made: list[WhyView] = []
    for reason in reasons:
        id = ctx.shown_id(reason.step_id)
        made.append(WhyView(reason.text, id, numbers.get(id, "")))
    return tuple(dict.fromkeys(made))
