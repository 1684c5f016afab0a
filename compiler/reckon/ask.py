"""From the arguments of a question to its answer on the terminal."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from compiler.exit_codes import CLEAN, WRONG_USE
from compiler.reckon.answer import Answer, Unclear
from compiler.reckon.house import House
from compiler.terminal import Terminal


def ask(arguments: argparse.Namespace, terminal: Terminal) -> int:
    """Answer the question that the arguments name, or say what to try."""
    try:
        answer = _ANSWERS[arguments.question](arguments)
    except Unclear as unclear:
        hint = unclear.hint.removeprefix("For example: ")
        said = [unclear.reason, *([f"Try: {hint}"] if hint else [])]
        # What was typed may stand in it, and a control character must not reach the terminal.
        terminal.say("\n".join("".join(c if c.isprintable() else "?" for c in s) for s in said))
        return WRONG_USE
    if terminal.format == "json":
        import json

        from compiler.reckon.answer import to_json

        terminal.print(json.dumps(to_json(answer), ensure_ascii=True, indent=1))
    else:
        from compiler.reckon.render import render

        terminal.print(render(answer, terminal.width))
    return CLEAN


def _torque(arguments: argparse.Namespace) -> Answer:
    from compiler.reckon.torque import torque

    house = _house(arguments)
    return torque(arguments.words, arguments.k or "", arguments.preload or "", house)


def _convert(arguments: argparse.Namespace) -> Answer:
    from compiler.reckon.convert import conversion

    return conversion(arguments.words, arguments.to or "", _house(arguments))


def _star(arguments: argparse.Namespace) -> Answer:
    from compiler.reckon.star import star

    return star(arguments.words, arguments.passes or "", arguments.torque or "")


def _adapter(arguments: argparse.Namespace) -> Answer:
    from compiler.reckon.adapter import adapter

    return adapter(
        arguments.words,
        arguments.length or "",
        arguments.extends or "",
        arguments.angle or "",
        _house(arguments),
    )


def _fastener(arguments: argparse.Namespace) -> Answer:
    from compiler.reckon.fastener import fastener

    return fastener(arguments.words)


def _stress(arguments: argparse.Namespace) -> Answer:
    from compiler.reckon.stress import stress

    return stress(
        arguments.words,
        arguments.torque or "",
        arguments.preload or "",
        arguments.k or "",
        arguments.into or "",
        arguments.deep or "",
    )


def _lift(arguments: argparse.Namespace) -> Answer:
    from compiler.reckon.lift import Handling, lift
    from compiler.trade.lifting import NOT_FOR

    how = Handling(
        arguments.out or "",
        arguments.height or "",
        arguments.travel or "",
        arguments.turned or "",
        arguments.often or "",
        arguments.hours or "",
        arguments.hold or "",
        tuple(name for name in NOT_FOR if getattr(arguments, name.replace("-", "_"))),
    )
    return lift(arguments.words, how, _house(arguments))


def _estimate(arguments: argparse.Namespace) -> Answer:
    from compiler.reckon.estimate import estimate

    return estimate(arguments.words)


_ANSWERS = {
    "torque": _torque,
    "stress": _stress,
    "adapter": _adapter,
    "star": _star,
    "fastener": _fastener,
    "convert": _convert,
    "lift": _lift,
    "estimate": _estimate,
}


def _house(arguments: argparse.Namespace) -> House:
    """Return what the shop file says that was named, a house that says nothing without one."""
    if not arguments.shop:
        return House()
    from compiler.load import load_folder
    from compiler.reckon.house import house_of
    from compiler.reckon.written import shown

    path = Path(arguments.shop)
    if os.path.isdir(path):
        path = path / "shop.proc"
    if not os.path.isfile(path):
        reason = f"There is no file {shown(str(path))}."
        raise Unclear(reason, "Name your shop file: --shop procedures/shop.proc")
    folder = load_folder(path.parent)
    source = next((s for s in folder.sources if s.path == path.name), None)
    if source is None:
        reason = f"{shown(str(path))} cannot be read as a file of steps."
        raise Unclear(reason, "Name your shop file: --shop procedures/shop.proc")
    return house_of(source)
