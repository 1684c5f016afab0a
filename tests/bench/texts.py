"""Texts of any size to measure with: an invented machine, and procedures on it."""

from __future__ import annotations

from compiler.source import SourceFile

_MODELS = ("PW-1", "PW-2", "PW-3", "PW-4", "PW-5")

_SHOP = """\
shop bench "Workshop"
  tools
    hex-keys        hex-keys 2, 2.5, 3, 4, 5, 6, 8, 10 mm
    hex-bits        hex-bits 4, 5, 6, 8 mm   drive 3/8 in
    torque-wrench   torque-wrench 5..25 N·m  drive 3/8 in
    torch           torch "inspection torch"
    feeler          feeler-gauges "feeler gauges, 0.05 to 1 mm"
"""


def _machine(plates: int, models: tuple[str, ...]) -> str:
    lines = ['machine washer "Crate washer"']
    lines += [f"  models  {', '.join(models)}"] if models else []
    lines += ["  parts"]
    lines += [f'    plate-{n} "plate {n}"' for n in range(plates)]
    lines += ['    shoe[1..4] "guide shoe"', "  fasteners"]
    lines += [
        f"    screw-{n}  4 × M6×16 ISO 4762 8.8  holds plate-{n}  torque 9 N·m ±10 %"
        for n in range(plates)
    ]
    lines += ["    shoe-screw[1..4]  M6×16 ISO 4762 8.8  holds shoe  torque 9 N·m ±10 %"]
    return "\n".join(lines) + "\n"


def _head(key: str) -> list[str]:
    return [f'procedure {key} "Clean it: {key}"', "  machine   washer", "  revision  A  2026-03-02"]


def one_procedure(lines: int, key: str = "clean-it") -> str:
    """Return a procedure of about so many lines: plates off, looked at, and put on again."""
    text, number = [*_head(key)], 0
    while len(text) + 5 <= lines:
        text += [
            f"  remove plate-{number}",
            f'  check "the seat of plate {number}" with torch',
            f'    note "Plate {number} keeps its own screws."',
            f"  fit plate-{number}",
            f"  tighten screw-{number}",
        ]
        number += 1
    return "\n".join(text) + "\n"


def plain(lines: int, procedures: int = 1) -> list[SourceFile]:
    """Return a folder: a shop, a machine, and procedures of so many lines each."""
    files = {"shop.proc": _SHOP, "washer.proc": _machine(max(1, (lines - 3) // 5), ())}
    for number in range(procedures):
        files[f"p{number:04}.proc"] = one_procedure(lines, f"clean-{number}")
    return [SourceFile(path, text) for path, text in sorted(files.items())]


def nested(steps: int) -> list[SourceFile]:
    """Return a folder with five models, ten branches, repeats in repeats, and so many more steps.

    The branches stand one after the other, as they do in real work: measure, and act on it.
    """
    plates = max(1, steps // 4)
    text = _head("service")
    for number in range(plates):
        text += [
            f"  remove plate-{number}",
            f'  check "the seat of plate {number}" with torch',
            f"  fit plate-{number}",
            f"  tighten screw-{number}",
        ]
    for number in range(10):
        text += [
            f'  measure gap-{number} "Gap {number}" with feeler  0.1..0.3 mm',
            f"  if gap-{number} is out",
            f'    check "the rim at gap {number}" with torch',
        ]
    text += [
        "  repeat 3 times  shown once",
        "    repeat for each n in shoe  shown once",
        "      remove n",
        "    repeat for each n in shoe  shown once",
        "      fit n",
        "      tighten shoe-screw[n]",
    ]
    files = {
        "shop.proc": _SHOP,
        "washer.proc": _machine(plates, _MODELS),
        "service.proc": "\n".join(text) + "\n",
    }
    return [SourceFile(path, text) for path, text in sorted(files.items())]
