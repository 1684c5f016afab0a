"""The questions of the command line and their options; nothing heavy is loaded here."""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable

    from compiler.terminal import Terminal

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


QUESTIONS = ("torque", "convert", "star", "adapter")
"""What can be asked, by the names of the commands."""


def add_questions(commands: Commands) -> None:
    """Add a command for each question."""
    torque = _question(
        commands, "torque", "THREAD", "how tight: a thread, its class, the state of its surface"
    )
    torque.add_argument("--k", metavar="K", help="the torque factor, where you know it: 0.15")
    torque.add_argument("--preload", metavar="FORCE", help="the preload wanted: 20 kN")
    _shop(torque)
    convert = _question(commands, "convert", "VALUE", "a value in the trade's other units")
    convert.add_argument("--to", metavar="UNIT", help="in this unit only")
    _shop(convert)
    star = _question(commands, "star", "COUNT", "in which order to tighten a circle of bolts")
    star.add_argument("--passes", metavar="SHARES", help="in per cent (default: 30,70,100)")
    star.add_argument("--torque", metavar="TORQUE", help="the full torque: 60 N·m")
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
