"""First files for `witnessmark new`: each compiles as it is and shows how to go on."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

_NAME = re.compile(r"[^\W\d_][^\W_]*(-[^\W_]+)*")


class StarterRefused(Exception):
    """The file cannot be started; the message says why and what to try."""


def write_starter(kind: str, name: str, machine: str, folder: Path) -> Path:
    """Write the first file of `kind` called `name` into `folder` and return its path.

    Raises `StarterRefused` for a name that the language cannot take, for a file that exists, and
    when the disk refuses. Nothing is ever overwritten.
    """
    if not _NAME.fullmatch(name):
        near = re.sub(r"[^\w]+", "-", name.strip()).strip("-_").lower()
        hint = f" Try {near}." if _NAME.fullmatch(near) else ""
        raise StarterRefused(
            f"{name!r} cannot be a name: letters, digits and single hyphens, a letter first.{hint}"
        )
    path = folder / f"{name}.proc"
    text = starter_text(kind, name, machine, date.today().isoformat())
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError as error:
        raise StarterRefused(f"{path} is there already. Choose another name.") from error
    except OSError as error:
        raise StarterRefused(f"{path}: {error.strerror or error}") from error
    return path


def starter_text(kind: str, name: str, machine: str, day: str) -> str:
    """Return the text of a first file. `day` is an ISO date; it is only used in a revision line."""
    title = name.replace("-", " ")
    title = title[:1].upper() + title[1:]
    if kind == "procedure" and machine:
        return _PROCEDURE_FOR_MACHINE.format(name=name, title=title, machine=machine, day=day)
    return _TEXTS[kind].format(name=name, title=title, day=day)


_PROCEDURE = """\
# What is after a hash is for you, not for the reader. Change what you like, then run:
#   witnessmark check
procedure {name} "{title}"
  revision A  {day}

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

  # What the machine's file declares can be used here by its name, for example:
  #   isolate motor-supply
  #   section open "Open it up"
  #     remove coupling-guard
  #   refit open
  #   restore motor-supply
  "Look the machine over before you begin."
  confirm "Nothing unusual was seen."
"""

_MACHINE = """\
# A machine file says once what all procedures of the machine share.
machine {name} "{title}"

  energy
    motor-supply  electrical "400 V three-phase"
      isolate at "the main switch beside the machine"
      verify "dead at the motor terminals, with a proven tester"

  parts
    guard     "belt guard"     2 kg    guards motor-supply
    belt      "drive belt"     behind guard  renew

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
# A visit is several procedures done in one stop. Name them as their files do, one to a line:
#   do seal-change on transfer-pump
visit {name} "{title}"
  date  {day}
  crew  2
"""

_TEXTS = {"procedure": _PROCEDURE, "machine": _MACHINE, "shop": _SHOP, "visit": _VISIT}
