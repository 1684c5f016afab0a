"""Invented machines with correct procedures, as text: the same number gives the same machine."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from seed_shop import COUNTED, ELECTRICAL, HUNG, MACHINES, PARTS, PLAIN, SETS, SHOP, STORED, TURNED

HOLDING_IN = ("wash-water", "press-air", "lift-oil")
"""Energies that a part keeps in; from the others a guard keeps people away."""


@dataclass(frozen=True, slots=True)
class Made:
    """One machine and its procedures by path. `pictures` are the paths of pictures that exist."""

    number: int
    texts: dict[str, str]
    pictures: frozenset[str] = frozenset()


@dataclass(slots=True)
class _Fastener:
    name: str
    line: str
    lock: str = ""

    @property
    def turned(self) -> bool:
        """Return whether it is tightened after it is put in; a clip, pin or ring is just in."""
        return not self.line.startswith(("clip", "pin", "retaining-ring"))


@dataclass(slots=True)
class _Part:
    """`line` is its declaration; `members` those of a set, told apart."""

    name: str
    line: str
    members: tuple[str, ...] = ()
    heavy: bool = False
    renew: bool = False
    cable: str = ""
    only_for: str = ""
    fasteners: list[_Fastener] = field(default_factory=list)

    @property
    def trailer(self) -> str:
        """Return what stands behind each step about it."""
        return f"  only for {self.only_for}" if self.only_for else ""


@dataclass(slots=True)
class _Machine:
    rng: Random
    name: str
    title: str
    models: tuple[str, ...] = ()
    energies: list[str] = field(default_factory=list)
    energy_text: list[str] = field(default_factory=list)
    guard: _Part | None = None
    chain: list[_Part] = field(default_factory=list)
    subs: list[_Part] = field(default_factory=list)
    peep: _Part | None = None
    cables: list[str] = field(default_factory=list)
    oil: bool = False
    prop: bool = False
    brake: bool = False
    tray: bool = False
    block: bool = False
    picture: bool = False
    adjuster: bool = False
    weight: bool = False

    def chance(self, share: float) -> bool:
        """Return true in about that share of the calls."""
        return self.rng.random() < share


def make(number: int) -> Made:
    """Return machine number `number` with its procedures."""
    rng = Random(number)
    name, title = MACHINES[number % len(MACHINES)]
    machine = _Machine(rng, name, title)
    _choose(machine, number)
    jobs = _Jobs(machine)
    texts = {"shop.proc": SHOP, **jobs.write()}
    texts[f"{name}.proc"] = _machine_text(machine)
    pictures = frozenset({"drawings/view.svg"}) if machine.picture else frozenset()
    return Made(number, dict(sorted(texts.items())), pictures)


def _choose(machine: _Machine, number: int) -> None:
    rng = machine.rng
    if machine.chance(0.4):
        letters = rng.choice(("LB", "KM", "FD", "VR"))
        machine.models = tuple(f"{letters}-{size}" for size in (20, 40, 60)[: rng.choice((2, 3))])
    _choose_energies(machine, number)
    machine.oil = machine.chance(0.3)
    machine.prop = machine.chance(0.35)
    machine.brake = machine.chance(0.4)
    machine.tray = machine.chance(0.3)
    machine.block = machine.chance(0.4)
    machine.picture = machine.chance(0.3)
    machine.adjuster = machine.chance(0.3)
    machine.weight = number % 3 == 0
    guarded = [e for e in machine.energies if e not in HOLDING_IN]
    title = rng.choice(("side guard", "front guard", "belt guard"))
    guard = _Part(
        title.replace(" ", "-"),
        f'"{title}"  {rng.choice(("1.8", "4.2", "6.5"))} kg  guards {", ".join(guarded)}',
    )
    machine.guard = guard
    guard.fasteners.append(_fastener(machine, guard))
    _choose_chain(machine)
    if machine.chance(0.5):
        machine.peep = _Part("peep-plate", f'"peep plate"  behind {guard.name}')
        machine.peep.fasteners.append(_fastener(machine, machine.peep))


def _choose_energies(machine: _Machine, number: int) -> None:
    machine.energies = ["motor-supply"]
    machine.energy_text = [ELECTRICAL.format(name="motor-supply", number=number % 30 + 1)]
    for text in machine.rng.sample(STORED, machine.rng.choice((0, 0, 1, 1, 2))):
        machine.energies.append(text.split()[0])
        machine.energy_text.append(text.format(number=number % 30 + 31))


def _choose_chain(machine: _Machine) -> None:
    """Choose parts one behind the other, gaskets between, one that comes off with another."""
    rng = machine.rng
    names = rng.sample(PARTS, rng.choice((1, 2, 2, 3)))
    inside = [e for e in machine.energies if e in HOLDING_IN]
    assert machine.guard is not None
    front, heavy_left = machine.guard.name, machine.chance(0.5)
    for position, (name, title) in enumerate(names):
        words = f'"{title}"'
        part = _Part(name, "")
        if heavy_left and machine.chance(0.5):
            part.heavy, heavy_left = True, False
            words += f"  {rng.choice((31, 44, 58))} kg"
        elif machine.chance(0.7):
            words += f"  {rng.choice(('0.9', '2.4', '5', '9.5'))} kg"
        words += f"  behind {front}"
        if inside and position == 0:
            words += f"  contains {', '.join(inside)}"
        part.line = words
        if machine.models and machine.chance(0.3) and not part.heavy:
            part.line += f"\n      for {machine.models[-1]} 12 kg"
        part.fasteners = [_fastener(machine, part)]
        if machine.chance(0.25):
            part.fasteners.append(_fastener(machine, part, 2))
        if not part.heavy and machine.chance(0.3):
            part.cable = f"{name}-cable"
            machine.cables.append(
                f'{part.cable}  cable "{title} cable"  marked "W{position + 3}"'
                f"  joins {name}  carries motor-supply  behind {machine.guard.name}"
            )
        machine.chain.append(part)
        front = name
        if machine.chance(0.45):
            number = f'  number "GK-{rng.randrange(100, 999)}"' if machine.chance(0.5) else ""
            machine.chain.append(
                _Part(
                    f"{name}-gasket",
                    f'"{title} gasket"  behind {name}  renew{number}',
                    renew=True,
                )
            )
        if machine.chance(0.35):
            machine.subs.append(
                _Part(f"{name}-seal", f'"{title} seal"  on {name}  renew', renew=True)
            )
    if machine.chance(0.45):
        machine.chain.append(_set(machine, front))
    if machine.models and machine.chance(0.5):
        only = machine.models[-1]
        extra = _Part("wear-plate", f'"wear plate"  behind {front}  only for {only}', only_for=only)
        extra.fasteners = [_fastener(machine, extra)]
        machine.chain.append(extra)


def _set(machine: _Machine, front: str) -> _Part:
    name, title, members = machine.rng.choice(SETS)
    mass = f"  {machine.rng.choice(('0.4', '1.2', '2'))} kg" if machine.chance(0.6) else ""
    part = _Part(name, f'"{title}"{mass}  behind {front}', members)
    part.fasteners = [_fastener(machine, part)]
    return part


def _fastener(machine: _Machine, part: _Part, second: int = 0) -> _Fastener:
    rng = machine.rng
    suffix = f"-{rng.choice(('bolt', 'screw'))}" if not second else "-dog"
    name = part.name + suffix
    only = f"  only for {part.only_for}" if part.only_for else ""
    if not part.members and not second and machine.chance(0.18):
        return _locked(machine, part, only)
    if machine.chance(0.2):
        word = f"{rng.choice(PLAIN)}  holds {part.name}"
        return _Fastener(name, f"{word}{only}")
    designation, clause = rng.choice(TURNED).split("|")
    count = rng.choice(COUNTED)
    words = f"{count} × {designation}  holds {part.name}"
    if clause:
        words += f"  {clause}"
    if count in (4, 6, 8) and machine.chance(0.3):
        words += f"  rectangle 2 × {count // 2}"
    if clause and count >= 4 and machine.chance(0.3):
        words += "\n      star in 30 %, 70 %, 100 %"
    if clause and machine.chance(0.15):
        words += "\n      thread oiled"
    words += only
    if machine.models and not only and "±10 %" in clause and machine.chance(0.4):
        value = float(clause.split()[1]) + 1
        words += f"\n      for {machine.models[0]} torque {value:g} N·m ±10 %"
    return _Fastener(name, words)


def _locked(machine: _Machine, part: _Part, only: str) -> _Fastener:
    """Return a nut that is secured: by a tab washer, a cotter pin, or a second nut."""
    kind = machine.rng.choice(("tab", "cotter", "nut"))
    name = f"{part.name}-nut"
    if kind == "tab":
        line = f"M16 ISO 4032 8  holds {part.name}  torque 70 N·m ±10 %"
        lock = f"{part.name}-tab  tab-washer  locks {name}  renew"
    elif kind == "cotter":
        line = f"M20 DIN 935 8  holds {part.name}  torque 100 N·m then next hole up to 160 N·m"
        lock = f"{part.name}-cotter  cotter-pin 4×40 ISO 1234  locks {name}  renew"
    else:
        line = f"M16 ISO 4032 8  holds {part.name}  torque 70 N·m ±10 %"
        lock = f"{part.name}-lock-nut  M16 ISO 4035 04  locks {name}  torque 60 N·m ±10 %"
    return _Fastener(name, line + only, lock + only)


class _Jobs:
    """Writes the procedures of a machine: one service, and what it follows."""

    def __init__(self, machine: _Machine) -> None:
        self.machine = machine
        self.rng = machine.rng
        self.lines: list[str] = []

    def write(self) -> dict[str, str]:
        """Return the texts of all procedures by path."""
        machine, name = self.machine, self.machine.name
        texts: dict[str, str] = {}
        safe = machine.chance(0.35)
        if safe:
            texts[f"{name}-safe.proc"] = self._safe()
        look = machine.peep is not None and machine.chance(0.6)
        if look:
            texts[f"{name}-look.proc"] = self._look()
        texts[f"{name}-service.proc"] = self._service(safe, look)
        if machine.tray:
            texts[f"{name}-tray.proc"] = self._tray(machine.chance(0.5))
        if machine.weight:
            texts[f"{name}-rope.proc"] = self._rope()
        return texts

    def _head(self, key: str, title: str) -> list[str]:
        letter = self.rng.choice("ABCD")
        day = self.rng.randrange(1, 28)
        lines = [
            f'procedure {self.machine.name}-{key} "{title}"',
            f"  machine   {self.machine.name}",
            f"  revision  {letter}  2026-{self.rng.randrange(1, 12):02}-{day:02}",
        ]
        if self.machine.chance(0.4):
            lines.append('  author    "Workshop"')
        return lines

    def _isolated(self) -> str:
        return ", ".join(self.machine.energies)

    def _safe(self) -> str:
        lines = self._head("safe", "Make it safe")
        if self.machine.chance(0.5):
            lines.append('  "Tell the crew that it will stand."')
        if self.machine.brake:
            lines.append("  bring brake to set")
        lines += [f"  isolate {self._isolated()} with voltage-tester", "", "  way back"]
        lines.append(f"    restore {self._isolated()}")
        if self.machine.brake:
            lines.append("    bring brake to off")
        return "\n".join(lines) + "\n"

    def _look(self) -> str:
        """A procedure that is followed with the guard off, and puts back what it takes off."""
        peep, guard = self.machine.peep, self.machine.guard
        assert peep is not None
        assert guard is not None
        lines = self._head("look", "Look through the peep plate")
        lines.append(f"  needs {guard.name} off, motor-supply isolated")
        if self.machine.chance(0.5):
            lines += ['  section peep "Open the peep plate"', *_deep(self._off(peep))]
            lines += ['  check "the inside" with torch', "  refit peep"]
        else:
            lines += [*self._off(peep), '  check "the inside" with torch', *self._on(peep)]
        return "\n".join(lines) + "\n"

    def _tray(self, comes_back: bool) -> str:
        lines = self._head("tray", "Move the sorting desk")
        if not comes_back:
            lines.append("  leaves sorting-desk at station[2]")
        lines += [
            "  isolate motor-supply with voltage-tester",
            "  remove sorting-desk",
            "  move sorting-desk to station[2]",
        ]
        if comes_back:
            lines += [
                "  wipe sorting-desk with lint-free-cloth",
                "  move sorting-desk to station[1]",
            ]
        lines += ["  fit sorting-desk", "  tighten desk-screw", "  restore motor-supply"]
        return "\n".join(lines) + "\n"

    def _rope(self) -> str:
        """A procedure that lets an energy out by hand, with no device to isolate it at."""
        lines = self._head("rope", "Look at the rope of the counterweight")
        lines += [
            "  release hung-weight",
            "  verify hung-weight",
            "  remove rope-cover",
            '  check "the rope along its length" with torch',
            "  fit rope-cover",
            "  tighten rope-screw",
        ]
        return "\n".join(lines) + "\n"

    def _service(self, safe: bool, look: bool) -> str:
        machine = self.machine
        title = self.rng.choice(("Yearly service", "Change the wearing parts", "Open and clean it"))
        lines = self._head("service", title)
        if machine.chance(0.3):
            lines.append("  every     2000 h")
        if machine.chance(0.3):
            lines.append(
                "  people    2" if not any(p.heavy for p in machine.chain) else "  takes 2 h"
            )
        if machine.picture:
            guard = machine.guard
            assert guard is not None
            lines += ['  picture "drawings/view.svg" "From the front"']
            lines += [f"    mark 1 {guard.name} at 40 %, 30 %"]
        lines.append("")
        if safe:
            lines.append(f"  follow {machine.name}-safe way in")
        else:
            if machine.brake:
                lines.append("  bring brake to set")
            lines.append(f"  isolate {self._isolated()} with voltage-tester")
        if machine.prop:
            lines.append("  fit prop under frame")
        lines += self._open_close(look)
        if machine.prop:
            lines.append("  remove prop")
        if safe:
            lines.append(f"  follow {machine.name}-safe way back")
        else:
            lines.append(f"  restore {self._isolated()}")
            if machine.brake:
                lines.append("  bring brake to off")
        if machine.block:
            lines.append("  follow clean-down")
        lines.append('  confirm "It runs without a rattle."')
        return "\n".join(lines) + "\n"

    def _open_close(self, look: bool) -> list[str]:
        """Return the way in, the work and the way back."""
        machine = self.machine
        assert machine.guard is not None
        order = [machine.guard, *machine.chain]
        cut = self.rng.randrange(1, len(order) + 1)
        groups = [g for g in (order[:cut], order[cut:]) if g]
        names = ("open", "inside")[: len(groups)]
        style = self.rng.choice(("refit", "hand", "mixed", "everything", "hand"))
        lines: list[str] = []
        if machine.oil:
            lines += self._drain()
        for name, group in zip(names, groups, strict=True):
            heading = "Open it" if name == "open" else "Take out what is inside"
            lines += ["", f'  section {name} "{heading}"']
            for part in group:
                lines += _deep(self._off(part))
        lines += ["", *self._work(look), ""]
        if style == "everything":
            lines.append("  refit everything")
        else:
            for number, (name, group) in enumerate(reversed(list(zip(names, groups, strict=True)))):
                by_hand = style == "hand" or (style == "mixed" and number == 0)
                lines += self._back(name, group, by_hand)
        if machine.oil and style != "everything":
            lines += ["  fit drain-plug", "  tighten drain-plug"]
        if machine.oil:
            lines += ['  fill gear-oil to "the upper mark"']
        return lines

    def _drain(self) -> list[str]:
        return ["  remove drain-plug", '  drain gear-oil into "the oil can"']

    def _back(self, name: str, group: list[_Part], by_hand: bool) -> list[str]:
        if not by_hand:
            return [f"  refit {name}"]
        lines = [f'  section "Put it back: {name}"'] if self.machine.chance(0.6) else []
        inner = bool(lines)
        for part in reversed(group):
            steps = self._on(part)
            lines += _deep(steps) if inner else steps
        return lines

    def _off(self, part: _Part) -> list[str]:
        """Return the steps that take a part off."""
        lines: list[str] = []
        if part.cable:
            lines.append(f"  disconnect {part.cable}")
        if part.heavy:
            lines.append(f"  support {part.name} with hoist, slings")
        if part.members and self.machine.chance(0.7):
            over = part.name if self.machine.chance(0.5) else _members(part)
            lines += [f"  repeat for each n in {over}  shown once"]
            lines.append(f"    remove {'n' if over == part.name else part.name + '[n]'}")
        else:
            loosened = part.fasteners and self.machine.chance(0.2) and part.fasteners[0]
            if loosened and loosened.turned and not loosened.lock:
                lines.append(f"  slacken {loosened.name}{part.trailer}")
            lines.append(f"  remove {part.name}{part.trailer}")
        if part.heavy:
            lines.append(f"  release {part.name}")
        if self.machine.chance(0.2):
            lines.append(f'  check "the seat of the {part.name}" with torch{part.trailer}')
        return lines

    def _on(self, part: _Part) -> list[str]:
        """Return the steps that put a part on again, written out."""
        lines: list[str] = []
        new = "new " if part.renew else ""
        if part.heavy:
            lines.append(f"  support {part.name} with hoist, slings")
        if part.members:
            lines.append(f"  repeat for each n in {_members(part)}  shown once")
            lines.append(f"    fit {part.name}[n]")
            lines += [f"    tighten {f.name}[n]" for f in part.fasteners if f.turned]
        else:
            lines.append(f"  fit {new}{part.name}{part.trailer}")
            for fastener in part.fasteners:
                if fastener.turned:
                    lines.append(f"  tighten {fastener.name}{part.trailer}")
                if fastener.lock:
                    lines.append(f"  lock {fastener.name}{part.trailer}")
        if part.heavy:
            lines.append(f"  release {part.name}")
        if part.cable:
            lines.append(f"  connect {part.cable}")
        return lines

    def _work(self, look: bool) -> list[str]:
        machine = self.machine
        lines = ['  section "Do the work"']
        lines += [f"    replace {sub.name}" for sub in machine.subs]
        lines.append('    clean "all faces" with lint-free-cloth')
        kinds = ["stop", "ask", "grid", "table-of-ways"]
        lines += _deep(self._branch(self.rng.choice(kinds)))
        if machine.peep is not None:
            if look:
                lines.append(f"    follow {machine.name}-look")
            else:
                lines += _deep(self._arm(machine.peep))
        if machine.adjuster:
            lines += [
                "    unlock adjuster",
                "    turn adjuster 2 turns clockwise",
                "    lock adjuster",
            ]
        if machine.chance(0.3):
            lines += ["    repeat 2 times  shown once", '      rinse "the inside" in "cold water"']
        return lines

    def _arm(self, peep: _Part) -> list[str]:
        """An arm of a branch that takes something off and puts it back."""
        lines = ['  ask rattle "Does it rattle when shaken?"', "  if rattle is yes"]
        arm = [*self._off(peep), '  check "the inside" with torch', *self._on(peep)]
        lines += _deep(arm)
        if self.machine.chance(0.5):
            lines += ["  otherwise", f"    wipe {peep.name} with lint-free-cloth"]
        return lines

    def _branch(self, kind: str) -> list[str]:
        if kind == "stop":
            low, high = self.rng.choice(((0.1, 0.3), (1.8, 2.2), (4, 5)))
            return [
                f'  measure gap "Gap at the rim" with feeler  {low}..{high} mm',
                "  if gap is out",
                '    stop "Leave it locked and tell the shift lead."',
            ]
        if kind == "ask":
            return [
                '  ask grit "Is grit in the housing?"',
                "  if grit is yes",
                '    rinse "the housing" in "cold water"',
                "  otherwise",
                '    wipe "the housing" with lint-free-cloth',
            ]
        if kind == "grid":
            return [
                '  measure wear "Depth of wear" with calliper',
                "    at 3 points",
                "    each at most 0.4 mm",
                "    spread at most 0.2 mm",
                "  if wear is out",
                '    hand over to inspector "It is worn."',
            ]
        return [
            '  measure run "Runout of the shaft" with dial-indicator  between 0.01 mm and 0.05 mm',
            "  if run is above",
            '    stop "The shaft is bent."',
            "  otherwise if run is below",
            '    check "the dial" with torch',
        ]


def _members(part: _Part) -> str:
    if part.members[0] == "1":
        return f"1..{len(part.members)}"
    return ", ".join(part.members)


def _deep(lines: list[str]) -> list[str]:
    return [f"  {line}" if line else line for line in lines]


def _machine_text(machine: _Machine) -> str:
    lines = [f'machine {machine.name} "{machine.title}"']
    if machine.models:
        lines.append(f"  models    {', '.join(machine.models)}")
    lines += ['  location  "Press room"', "  wear      safety-shoes", "", "  energy"]
    lines += "".join(machine.energy_text).rstrip("\n").split("\n")
    if machine.weight:
        lines += HUNG
    if machine.brake:
        lines += ["", "  conditions", '    brake "brake"', '      off  by "lift the lever"']
        lines.append('      set  by "press the lever down"')
    if machine.tray:
        lines += ["", "  places", '    station[1..2]  "station"']
    lines += _things_text(machine)
    if machine.oil:
        lines.append("    drain-plug  plug G1/2 DIN 908  seals gear-oil  torque 30 N·m ±10 %")
        lines += ["", "  fluids", '    gear-oil  "gear oil, ISO VG 220"  2.4 L  in gearbox']
    if machine.cables:
        lines += ["", "  connections", *(f"    {cable}" for cable in machine.cables)]
    if machine.prop:
        lines += ["", "  aids", '    prop  "steel prop"  4 kg']
    if machine.block:
        lines += ["", '  block clean-down "Leave it clean"', '    count "the tools on the cloth"']
        lines.append('    wipe "the machine" with lint-free-cloth')
    return "\n".join(lines) + "\n"


def _things_text(machine: _Machine) -> list[str]:
    """Return the blocks of parts and fasteners."""
    parts = [p for p in (machine.guard, *machine.chain, *machine.subs, machine.peep) if p]
    lines = ["", "  parts"]
    fasteners = ["", "  fasteners"]
    for part in parts:
        members = f"[{_members(part)}]" if part.members else ""
        lines.append(f"    {part.name}{members}  {part.line}")
        for fastener in part.fasteners:
            fasteners.append(f"    {fastener.name}{members}  {fastener.line}")
            fasteners += [f"    {fastener.lock}"] if fastener.lock else []
    if machine.tray:
        lines.append('    sorting-desk  "sorting desk"  2 kg  at station[1]')
        held = "holds sorting-desk  torque 9 N·m ±10 %"
        fasteners.append(f"    desk-screw  2 × M6×16 ISO 4762 8.8  {held}")
    if machine.weight:
        lines.append('    rope-cover  "rope cover"  guards hung-weight')
        fasteners.append("    rope-screw  2 × M6×16 ISO 4762 8.8  holds rope-cover")
    if machine.prop:
        lines.append('    frame  "frame"')
    if machine.oil:
        lines.append('    gearbox  "gearbox"')
    if machine.adjuster:
        fasteners.append("    adjuster  M10×60 ISO 4017 8.8  hand-tight")
        fasteners.append("    adjuster-nut  M10 ISO 4035 04  locks adjuster  torque 15 N·m ±10 %")
    return [*lines, *fasteners]
