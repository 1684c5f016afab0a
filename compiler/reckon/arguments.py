"""The questions of the command line and their options; nothing heavy is loaded here."""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable

    from compiler.terminal import Terminal

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


QUESTIONS = ("torque", "stress", "adapter", "star", "fastener", "convert", "lift", "estimate")
"""What can be asked, by the names of the commands."""

CONDITIONS = {
    "one-handed": "with one hand",
    "seated": "sitting or kneeling",
    "confined": "where nobody can stand upright",
    "unstable": "a load that shifts",
}
"""Ways of lifting that the equation says nothing about, as `trade/lifting.py` names them."""


def add_questions(commands: Commands) -> None:
    """Add a command for each question."""
    torque = _question(
        commands, "torque", "THREAD", "how tight: a thread, its class, the state of its surface"
    )
    torque.add_argument("--k", metavar="K", help="the torque factor, where you know it: 0.15")
    torque.add_argument("--preload", metavar="FORCE", help="the preload wanted: 20 kN")
    _shop(torque)
    stress = _question(commands, "stress", "THREAD", "what a torque or a preload does to a screw")
    stress.add_argument("--torque", metavar="TORQUE", help="the torque: 25 N·m")
    stress.add_argument("--preload", metavar="FORCE", help="or the preload: 20 kN")
    stress.add_argument("--k", metavar="K", help="the torque factor, where you know it: 0.15")
    stress.add_argument(
        "--into", metavar="METAL", help="screwed into aluminium, brass, cast iron or zinc"
    )
    stress.add_argument("--deep", metavar="LENGTH", help="depth of the thread there: 12 mm")
    _add_adapter(commands)
    star = _question(commands, "star", "COUNT", "in which order to tighten a circle of bolts")
    star.add_argument("--passes", metavar="SHARES", help="in per cent (default: 30,70,100)")
    star.add_argument("--torque", metavar="TORQUE", help="the full torque: 60 N·m")
    _question(
        commands, "fastener", "DESIGNATION", "geometry, strength, drive and tool of a fastener"
    )
    convert = _question(commands, "convert", "VALUE", "a value in the trade's other units")
    convert.add_argument("--to", metavar="UNIT", help="in this unit only")
    _shop(convert)
    _add_lift(commands)
    _question(commands, "estimate", "TIMES", "expected time: shortest, likeliest, longest")


def _add_lift(commands: Commands) -> None:
    lift = _question(commands, "lift", "LOAD", "how much one person may lift with two hands")
    lift.add_argument("--out", metavar="LENGTH", help="hands out from the ankles: 40 cm")
    lift.add_argument("--height", metavar="LENGTH", help="hands above the floor: 75 cm")
    lift.add_argument("--travel", metavar="LENGTH", help="how far up or down: 50 cm")
    lift.add_argument("--turned", metavar="DEG", help="body turned aside (default: 0)")
    lift.add_argument("--often", metavar="NUMBER", help="lifts a minute (default: 0.2)")
    lift.add_argument("--hours", metavar="NUMBER", help="how long it goes on (default: 1)")
    lift.add_argument("--hold", metavar="WORD", help="good, fair or poor (default: fair)")
    for name, words in CONDITIONS.items():
        help = f"{words}: the equation does not hold then"
        lift.add_argument(f"--{name}", action="store_true", help=help)
    _shop(lift)


def _add_adapter(commands: Commands) -> None:
    adapter = _question(
        commands, "adapter", "TORQUE", "what to set a torque wrench to with a crowfoot on it"
    )
    adapter.add_argument("--length", metavar="LENGTH", help="of the wrench, drive to hand: 300 mm")
    adapter.add_argument(
        "--extends", metavar="LENGTH", help="the adapter, drive to fastener: 40 mm"
    )
    adapter.add_argument(
        "--angle", metavar="DEG", help="0 straight out (default), 90 square, 180 folded back"
    )
    _shop(adapter)


def _question(commands: Commands, name: str, what: str, help: str) -> argparse.ArgumentParser:
    question = commands.add_parser(name, help=help)
    question.add_argument("words", nargs="*", metavar=what)
    question.add_argument(
        "--format", choices=("text", "json"), default="text", help="how to print (default: text)"
    )
    question.set_defaults(run=_lazy(), question=name)
    return question


def _shop(question: argparse.ArgumentParser) -> None:
    question.add_argument("--shop", metavar="FILE", help="your shop file, for values of the house")


def _lazy() -> Callable[[argparse.Namespace, Terminal], int]:
    def run(arguments: argparse.Namespace, terminal: Terminal) -> int:
        from compiler.reckon.ask import ask

        return ask(arguments, terminal)

    return run
