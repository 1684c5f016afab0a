"""The walk-through of a procedure on one model: what is done, in order, with nothing left implied.

A `Walk` is a tree, because readers need sections, repeats and branches; its leaves are `StepNode`s
with the elementary `Act`s that change the machine. `follow`, `refit`, `reach`, `remove` and the
like are already written out. `flat.py` lists the acts in order.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Literal, TypeAlias

from compiler.model import Amount, Extras, Prose, Safety, Step, When
from compiler.source import Span
from compiler.trade.units import Quantity
from compiler.trade.verbs import Verb

NO_EXTRAS = Extras()


class Deed(Enum):
    """One elementary deed. The comment says what its targets are."""

    UNLOCK = "unlock"  # a locking fastener
    SLACKEN = "slacken"  # fasteners
    UNDO = "undo"  # fasteners, taken out
    REMOVE = "remove"  # parts (what they carry comes along)
    FIT = "fit"  # parts
    START = "start"  # fasteners, put in by hand
    TIGHTEN = "tighten"  # fasteners
    LOCK = "lock"  # a locking fastener
    SHUT_DOWN = "shut-down"  # energies: prepare and stop in the usual way
    ISOLATE = "isolate"  # energies: operate the isolating device
    LOCK_OUT = "lock-out"  # energies: lock and tag
    DISCHARGE = "discharge"  # energies: let out what is stored
    VERIFY = "verify"  # energies: prove the isolation
    CLEAR = "clear"  # energies: look round, people clear, before locks come off
    UNLOCK_OUT = "unlock-out"  # energies: locks and tags off
    TELL = "tell"  # energies: tell those affected
    ENERGIZE = "energize"  # energies: switch on
    PUT_AID = "put-aid"  # aids
    TAKE_AID = "take-aid"  # aids
    OPEN = "open"  # parts, fluids, energies, connections
    CLOSE = "close"
    DRAIN = "drain"  # fluids
    FILL = "fill"  # fluids
    BLEED = "bleed"  # fluids, energies
    LEAK_TEST = "leak-test"  # anything
    CONNECT = "connect"  # connections
    DISCONNECT = "disconnect"  # connections
    SUPPORT = "support"  # parts
    LET_GO = "let-go"  # parts
    MOVE = "move"  # parts to a place; with the bare phrase `back`, from aside to where they belong
    ASIDE = "aside"  # parts, still attached
    RENEW = "renew"  # what is off, out or disconnected: a new one stands in for it from here on
    TRANSFER = "transfer"  # parts from old to new carrier
    BRING = "bring"  # a condition into a state
    NEUTRAL = "neutral"  # changes no state
    PROSE = "prose"
    MEASURE = "measure"
    ASK = "ask"
    CONFIRM = "confirm"
    RECORD = "record"
    HOLD = "hold"
    SIGN = "sign"
    STOP = "stop"
    HAND_OVER = "hand-over"
    GO_BACK = "go-back"


@dataclass(frozen=True, slots=True)
class Target:
    """What is acted on: a thing and the members meant (empty: all, or the only one).

    `each` marks the body of a repeat that is shown once: "this foot", not "all four feet".
    """

    key: str
    members: tuple[str, ...] = ()
    age: Literal["", "new", "old"] = ""
    each: bool = False


Spot: TypeAlias = Target | Prose | Amount | str
"""An operand without loop variables; `str` is the value of a loop variable or a table cell.

Only in the general body of a repeat that is shown once, text keeps its loop variables: there a
`Prose` may hold a `LoopUse`, and one that is nothing but a `LoopUse` stands for its value.
"""


@dataclass(frozen=True, slots=True)
class WalkPhrase:
    """A phrase with loop variables put in; see `model.Phrase`."""

    word: str
    operands: tuple[Spot, ...] = ()
    joined: Literal["and", "or"] = "and"
    end: str = ""


@dataclass(frozen=True, slots=True)
class Act:
    """One elementary deed.

    `implied` is True for a deed that the author did not write (the screws of a removed cover).
    `why` then says in words where it comes from. `state` is a condition's new state. `new_part`
    marks the fitting of a new single-use part.
    """

    deed: Deed
    targets: tuple[Spot, ...]
    span: Span
    verb: Verb | None = None
    phrases: tuple[WalkPhrase, ...] = ()
    state: str = ""
    new_part: bool = False
    implied: bool = False
    why: str = ""

    def keys(self) -> tuple[str, ...]:
        """Return the keys of the things acted on."""
        return tuple(t.key for t in self.targets if isinstance(t, Target))


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a derived or followed step comes from: a link of the chain from caller to source."""

    kind: Literal["follow", "refit", "reach"]
    name: str
    title: str
    span: Span


@dataclass(frozen=True, slots=True)
class StepNode:
    """One step a reader does. `id` is unique in the walk and stable between revisions.

    `step` is the author's step it was made from (for a derived one the `refit`, `reach` or `follow`
    line), with loop values put in. `extras` are those to show here: the step's own, the safety and
    wear of the things it changes; for a derived step the ones that fit. `binding` is the text of
    the loop item it belongs to. The last `origin` of a refitted step names the step it undoes.
    """

    id: str
    step: Step
    acts: tuple[Act, ...]
    extras: Extras = NO_EXTRAS
    when: When | None = None
    timer: Quantity | None = None
    recorded: bool = False
    by: str = ""
    origin: tuple[Origin, ...] = ()
    binding: str = ""


@dataclass(frozen=True, slots=True)
class SectionNode:
    """A titled part of the work; also made for `follow`, `refit` and `reach` (then with `origin`).

    `title` is that of the section, procedure or part meant; `way_back` tells that it is undone.
    """

    id: str
    title: str
    nodes: tuple[Node, ...]
    extras: Extras = NO_EXTRAS
    origin: tuple[Origin, ...] = ()
    way_back: bool = False


@dataclass(frozen=True, slots=True)
class RepeatNode:
    """A repeat.

    `rounds` are the fully written-out bodies, one for each time. For `shown once`, `general` is the
    body as it is shown, and `items` names the rounds ("foot 1", or a row's first cell). For
    `until`, there is one round, `until` and `most` are given.
    """

    id: str
    rounds: tuple[tuple[Node, ...], ...]
    general: tuple[Node, ...]
    items: tuple[str, ...]
    shown: Literal["once", "each"]
    span: Span
    until: When | None = None
    most: int = 0
    set_key: str = ""
    extras: Extras = NO_EXTRAS


@dataclass(frozen=True, slots=True)
class BranchNode:
    """A branch: arms of (condition or None, nodes)."""

    id: str
    arms: tuple[tuple[When | None, tuple[Node, ...]], ...]
    span: Span


@dataclass(frozen=True, slots=True)
class LanesNode:
    """Work done side by side."""

    id: str
    lanes: tuple[tuple[str, tuple[Node, ...]], ...]
    span: Span


def prefix_of(id: str) -> str:
    """Return what stands before the ids of one procedure: `open-pump/` of `open-pump/step`."""
    return id[: id.rfind("/") + 1]


Node: TypeAlias = StepNode | SectionNode | RepeatNode | BranchNode | LanesNode


@dataclass(frozen=True, slots=True)
class Walk:
    """The walk-through of procedure `procedure` (a key) on `model`.

    `safety` and `wear` are those of the whole job: the procedure's own, its machine's, and what it
    takes over from the procedures it follows.
    """

    procedure: str
    model: str
    nodes: tuple[Node, ...]
    safety: tuple[Safety, ...] = ()
    wear: tuple[str, ...] = ()
