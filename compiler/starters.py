"""First files for `witnessmark new`: each compiles as it is and shows how to go on.

What is written fits what the folder holds already: a procedure for a machine names that machine's
own parts and energies, a visit names procedures that are there. The compiler itself has the last
word: of several texts the first is taken that it has nothing to say about.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from compiler.findings.model import is_error
from compiler.findings.near import suggest

if TYPE_CHECKING:
    from compiler.load import Folder
    from compiler.model import Machine, Procedure, World

_NAME = re.compile(r"[^\W\d_][^\W_]*(-[^\W_]+)*")
_MOST_OF_A_NAME = 80
_FIRST_PROCEDURE = "look-over"


class StarterRefused(Exception):
    """The file cannot be started; the message says why and what to try."""


@dataclass(frozen=True, slots=True)
class Started:
    """The files that were written, the one asked for first, and a remark for the author."""

    paths: tuple[Path, ...]
    remark: str = ""


@dataclass(frozen=True, slots=True)
class _Place:
    """The folder that a file is started in, and what is known of it."""

    root: Path
    folder: Folder
    world: World

    def findings_in(self, path: str, text: str) -> list[bool]:
        """Return what compiling the folder with `text` finds in it: True for each error."""
        from compiler.pipeline import compile_sources
        from compiler.source import SourceFile

        sources = (*self.folder.sources, SourceFile(path, text))
        compiled = compile_sources(sources, self.folder.probe)
        return [is_error(f) for f in compiled.findings if f.span.file == path]


def write_starter(kind: str, name: str, machine: str, folder: Path) -> Started:
    """Write the first file of `kind` called `name` into `folder` and return its path.

    A visit in a folder without procedures gets one beside it, for it to name.

    Raises `StarterRefused` for a name that the language cannot take or that is taken, and when the
    disk refuses. Nothing is ever overwritten.
    """
    _check_name(name)
    if machine and kind != "procedure":
        raise StarterRefused(f"--machine says what a procedure is for; a {kind} has none.")
    place = _place(folder)
    _refuse_taken(kind, name, place)
    day = date.today().isoformat()
    if kind == "visit" and not place.world.procedures:
        first = _write(folder, _FIRST_PROCEDURE, _looking_over(_FIRST_PROCEDURE, day))
        visit = _write(folder, name, _visit(name, day, _bare_job(_FIRST_PROCEDURE)))
        return Started((visit, first), f"There was no procedure here yet; {first} is a first one.")
    path = f"{name}.proc"
    text = _first_clean(_texts(kind, name, machine, day, place.world), path, place)
    remark = ""
    if machine and machine not in place.world.machines:
        near = suggest(machine, place.world.machines)
        did_you_mean = f" Did you mean {near}?" if near else ""
        remark = (
            f"There is no machine {machine} in this folder yet.{did_you_mean} "
            f"To start one: witnessmark new machine {machine}"
        )
    return Started((_write(folder, name, text),), remark)


def _check_name(name: str) -> None:
    """Raise for what cannot be a name, with the nearest that can."""
    if _NAME.fullmatch(name) and len(name) <= _MOST_OF_A_NAME:
        return
    near = re.sub(r"[\W_]+", "-", name.strip()).strip("-").lower()[:_MOST_OF_A_NAME].strip("-")
    hint = f" Try {near}." if _NAME.fullmatch(near) else ""
    limit = f", {_MOST_OF_A_NAME} at most" if len(name) > _MOST_OF_A_NAME else ""
    raise StarterRefused(
        f"{name!r} cannot be a name: letters, digits and single hyphens, a letter first{limit}."
        f"{hint}"
    )


def _place(root: Path) -> _Place:
    from compiler.emit.record import folders_written
    from compiler.load import Folder, load_folder
    from compiler.pipeline import compile_sources

    folder = load_folder(root, folders_written) if os.path.isdir(root) else Folder(root, (), ())
    return _Place(root, folder, compile_sources(folder.sources, folder.probe).world)


def _refuse_taken(kind: str, name: str, place: _Place) -> None:
    """Raise when the folder has the thing already, in whatever file."""
    world = place.world
    if kind == "shop" and world.shop is not None:
        raise StarterRefused(
            f"{place.root / world.shop.span.file} is this folder's shop file already; one serves "
            "them all. Add to it what is missing."
        )
    files: list[str] = []
    if kind == "machine":
        files = [machine.span.file for machine in world.machines.values() if machine.name == name]
    elif kind == "visit":
        files = [visit.span.file for visit in world.visits.values() if visit.name == name]
    elif kind == "procedure":
        files = [p.file for p in world.procedures.values() if p.name == name and not p.is_block]
    if files:
        raise StarterRefused(
            f"{place.root / files[0]} describes a {kind} {name} already. Choose another name."
        )


def _first_clean(texts: Iterable[str], path: str, place: _Place) -> str:
    """Return the first text without findings, or without errors; the last one if none is."""
    best, least = "", 3
    for text in texts:
        found = place.findings_in(path, text)
        weight = 2 if any(found) else 1 if found else 0
        if weight < least or (weight == least == 2):
            best, least = text, weight
        if least == 0:
            break
    return best


def _write(folder: Path, name: str, text: str) -> Path:
    path = folder / f"{name}.proc"
    begun = False
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            begun = True
            file.write(text)
    except (OSError, ValueError) as error:
        if begun:  # half of a file helps nobody, and would be in the way of the next try
            path.unlink(missing_ok=True)
        elif os.path.lexists(path):
            raise StarterRefused(f"{path} is there already. Choose another name.") from error
        reason = getattr(error, "strerror", None) or str(error)
        raise StarterRefused(f"{path} cannot be written: {reason.lower()}.") from error
    return path


def _texts(kind: str, name: str, machine: str, day: str, world: World) -> Iterator[str]:
    """Yield the texts that may serve, the best one first."""
    if kind == "machine":
        yield _MACHINE.format(name=name, title=_title(name))
    elif kind == "shop":
        yield _SHOP.format(name=name, title=_title(name))
    elif kind == "visit":
        yield from (_visit(name, day, _job(p)) for p in world.procedures.values() if not p.is_block)
    elif machine:
        if machine in world.machines:
            yield from _for_machine(name, day, world.machines[machine])
        yield _looking_over(name, day, machine)
    else:
        yield _PROCEDURE.format(name=name, title=_title(name), day=day)
        yield _looking_over(name, day)


def _title(name: str) -> str:
    words = name.replace("-", " ")
    return words[:1].upper() + words[1:]


def _for_machine(name: str, day: str, machine: Machine) -> Iterator[str]:
    """Yield procedures that renew one part of the machine, those first that are worn parts."""
    from compiler.model import Energy, Part

    things = machine.variants[0].things.values()
    energies = [thing.name for thing in things if isinstance(thing, Energy)]
    parts = [thing for thing in things if isinstance(thing, Part) and not thing.members]
    live = ", ".join(energies)
    for part in sorted(parts, key=lambda part: not part.renew)[:4]:
        yield _PROCEDURE_FOR_MACHINE.format(
            name=name,
            title=_title(name),
            machine=machine.name,
            day=day,
            isolate=f"  isolate {live}\n\n" if live else "",
            part=part.name,
            reach=f"reach {part.name}",
            restore=f"  restore {live}\n" if live else "",
        )


def _looking_over(name: str, day: str, machine: str = "") -> str:
    line = f"  machine   {machine}\n" if machine else ""
    return _LOOKING_OVER.format(name=name, title=_title(name), machine=line, day=day)


def _visit(name: str, day: str, job: str) -> str:
    return _VISIT.format(name=name, title=_title(name), day=day, job=job)


def _job(procedure: Procedure) -> str:
    """Return the lines of a visit that do this procedure, on the first of its models."""
    models: Sequence[str] = [variant.model for variant in procedure.variants if variant.model]
    on = f" on {procedure.machine}" if procedure.machine else ""
    model = f"    model {models[0]}\n" if models else ""
    return _bare_job(procedure.name + on) + model


def _bare_job(words: str) -> str:
    return f"  do {words}\n"


_PROCEDURE = """\
# What is after a hash is for you, not for the reader. Change what you like, then run:
#   witnessmark check
procedure {name} "{title}"
  revision A  {day}
  purpose "Done when the cover weeps."

  # What is worked on: a name for you, the words for the reader, and what is worth knowing of it.
  parts
    cover     "cover"      1.2 kg
    gasket    "gasket"     behind cover  renew

  # What holds it: how many, the standard designation, and how tight.
  fasteners
    cover-screw  4 × M6×16 ISO 4762 8.8  holds cover  torque 9 N·m ±10 %

  section open "Take the cover off"
    caution cut "The edges of the cover are sharp." avoid "Wear gloves."
    remove cover                # takes the screws out too; the tool is worked out

  section "Do the work"
    replace gasket
    clean "the sealing face"
      note "Bare metal all the way round."

  refit open                    # the whole way back, worked out
  confirm "Nothing is left on the bench."
"""

_PROCEDURE_FOR_MACHINE = """\
# What is after a hash is for you, not for the reader. Change what you like, then run:
#   witnessmark check
procedure {name} "{title}"
  machine   {machine}
  revision  A  {day}

{isolate}  section open "Open it up"
    {reach:<27} # the shortest safe way in, worked out

  section "Do the work"
    replace {part}
      note "Look at the old one before it goes: how is it worn?"

  refit open                    # the whole way back, worked out
{restore}  confirm "Ran for a minute without a strange noise."
"""

_LOOKING_OVER = """\
# What is after a hash is for you, not for the reader. Change what you like, then run:
#   witnessmark check
procedure {name} "{title}"
{machine}  revision  A  {day}
  takes 4 min

  # A step may be prose alone. With parts and fasteners declared, verbs such as remove and tighten
  # are followed through: tools, torques and the way back are worked out.
  "Walk once round the machine."
    note "Listen first, then look."
  check "the floor below the machine"
  confirm dry "The floor is dry and nothing is loose."
  if dry is no
    stop "Tell the shift lead before anyone starts the machine."
"""

_MACHINE = """\
# A machine file says once what all procedures of the machine share. For a first procedure, run:
#   witnessmark new procedure NAME --machine {name}
machine {name} "{title}"

  energy
    motor-supply  electrical "400 V three-phase"
      isolate at "the main switch beside the machine"
      verify "dead at the motor terminals, with a proven tester"
    wash-water    pressure 2 bar
      isolate at "the valve in the wash line, locked shut"
      release "open the drain below it"
      verify "the drain has stopped running"
      restore "Shut the drain first."

  # What is behind what, and what keeps people from which energy.
  parts
    guard     "belt guard"     2 kg    guards motor-supply
    belt      "drive belt"     behind guard  renew

  # What holds it: how many, the standard designation, and how tight.
  fasteners
    guard-screw   4 × M6×16 ISO 4762 8.8   holds guard   torque 9 N·m ±10 %
"""

_SHOP = """\
# The shop file says what is in the tool crib. One serves a whole folder.
shop {name} "{title}"
  units         N·m, mm, kg, bar, degC
  second units  lbf·ft, in, lb, psi, degF
  lift limit    25 kg

  tools
    hex-keys      hex-keys 2, 2.5, 3, 4, 5, 6, 8, 10 mm
    spanners      spanners 8, 10, 13, 16, 18, 24 mm
    hex-bits      hex-bits 4, 5, 6, 8, 10 mm            drive 3/8 in
    sockets       sockets 8, 10, 13, 16, 18, 24 mm      drive 3/8 in
    wrench        torque-wrench 5..60 N·m               drive 3/8 in  accuracy 4 %  tag "TW-01"

  consumables
    cloth  "lint-free cloth"

  rules
    "Lock and tag by the site's own lockout programme."
"""

_VISIT = """\
# A visit is several procedures done in one stop. Name them as their files do, one to a line;
# what has to wait for another says so on a line below it:  after NAME
visit {name} "{title}"
  date  {day}
  crew  2
{job}"""
