"""What the help of each command says beside its arguments: what it is for, and examples."""

from __future__ import annotations

# `typing` would be the slowest part of `--help` to load; checkers know this name.
TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse
    from collections.abc import Mapping

HELP: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "check": (
        (
            "Read the files and say what is wrong, where, and what to try.\n"
            "Exit code 0: nothing that is an error; 1: errors; 2: wrong use."
        ),
        (
            "witnessmark check",
            "witnessmark check procedures/shop.proc",
            "witnessmark check --fix",
        ),
    ),
    "build": (
        (
            "Check a folder; without errors make its pages, sheets, lists and data.\n"
            "The output is replaced whole or not at all; what did not change is kept."
        ),
        (
            "witnessmark build",
            "witnessmark build my-shop --out out --paper letter",
            "witnessmark build --no-sheets --one-file",
        ),
    ),
    "watch": (
        (
            "Build, and build again whenever a file is saved, until Ctrl-C.\n"
            "While something is wrong the last good output stays."
        ),
        ("witnessmark watch --out out", "witnessmark watch --no-sheets"),
    ),
    "tools": (
        (
            "List the tools, parts and consumables of a procedure or a visit, and which\n"
            "step needs each."
        ),
        ("witnessmark tools seal-change", "witnessmark tools seal-change --model TP-60"),
    ),
    "records": (
        (
            "Hold the records that pages saved against the procedures: values out of limits,\n"
            "open steps, missing signatures, tools past their calibration, broken seals.\n"
            "Exit code 1 when something of that kind is found."
        ),
        (
            "witnessmark records records",
            "witnessmark records records --page records.html",
            "witnessmark records records --format csv > readings.csv",
        ),
    ),
    "changes": (
        (
            "Say what changed between two folders or git revisions in words of the shop, and\n"
            "which procedures and visits are affected."
        ),
        (
            "witnessmark changes HEAD~3",
            "witnessmark changes HEAD~3 HEAD --page changes.html",
            "witnessmark changes ../last-year procedures",
        ),
    ),
    "issue": (
        (
            "Write into issued.txt which content goes out under which revision. From then on\n"
            "`check` finds content that changed while its revision did not."
        ),
        (
            "witnessmark issue",
            "witnessmark issue seal-change",
            "witnessmark issue --again seal-change",
        ),
    ),
    "new": (
        (
            "Start a file that compiles as it is, and shows how to go on.\n"
            "A procedure takes the energies and parts of its machine, a visit the procedures."
        ),
        (
            "witnessmark new machine juice-pump",
            "witnessmark new procedure oil-change --machine juice-pump",
            "witnessmark new shop workshop",
            "witnessmark new visit spring",
        ),
    ),
    "explain": (
        (
            "Tell why a finding matters, when it is silent on purpose and what to do, with an\n"
            "example that fails and one that passes."
        ),
        ("witnessmark explain", "witnessmark explain missing-torque"),
    ),
    "torque": (
        (
            "The torque of a thread by the short form of torque, T = K·D·F, with its sources.\n"
            "The machine's manual comes first."
        ),
        ('witnessmark torque "M8 10.9 oiled"', 'witnessmark torque "5/16-18 grade 8"'),
    ),
    "stress": (
        "The preload and the stress that a torque, or a preload, gives in a screw.",
        (
            'witnessmark stress "M8 8.8 oiled" --torque "25 N·m"',
            'witnessmark stress "M8 8.8" --preload "15 kN"',
        ),
    ),
    "adapter": (
        "What to set a torque wrench to when an adapter makes it longer.",
        ('witnessmark adapter "60 N·m" --length "300 mm" --extends "40 mm"',),
    ),
    "star": (
        "The crosswise order of a circle of bolts, drawn, with its passes.",
        ("witnessmark star 12", 'witnessmark star 8 --torque "60 N·m"'),
    ),
    "fastener": (
        "What follows from the designation on the parts list.",
        ('witnessmark fastener "M6×16 ISO 4762 8.8"', 'witnessmark fastener "plug G1/2"'),
    ),
    "convert": (
        "A value in the other units of the trade, rounded and with all its digits.",
        ('witnessmark convert "88 in-lb"', 'witnessmark convert "2 bar" --to psi'),
    ),
    "lift": (
        "The weight limit of a lift with two hands, by the NIOSH lifting equation.",
        ('witnessmark lift "14 kg" --out "40 cm" --height "75 cm" --travel "50 cm"',),
    ),
    "estimate": (
        (
            "The expected time of a task by its shortest, likeliest and longest time, or of\n"
            "several tasks in a row, parted by +."
        ),
        ("witnessmark estimate 3 10 20", 'witnessmark estimate "3 10 20 + 5 8 12 min"'),
    ),
}
"""For each command what it is for, and examples to copy."""


def add_help(parsers: Mapping[str, argparse.ArgumentParser]) -> None:
    """Give each command its description and examples, with their lines as they stand here."""
    from argparse import RawDescriptionHelpFormatter

    for name, parser in parsers.items():
        about, examples = HELP[name]
        parser.formatter_class = RawDescriptionHelpFormatter
        parser.description = about
        parser.epilog = "examples:\n" + "\n".join(f"  {line}" for line in examples)
