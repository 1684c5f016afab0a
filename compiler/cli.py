"""The command `witnessmark`: arguments, files, exit codes.

Exit codes: 0 clean, 1 findings of error weight, 2 wrong use, 3 a fault of this program; 130 when
it is stopped by hand.
Heavy libraries are loaded only by the commands that need them, so `--help` is quick.
"""

from __future__ import annotations

import sys

from compiler.exit_codes import CLEAN, INTERRUPTED, OUR_FAULT, WRONG_USE

# `typing` would take as long to load as all the rest of `--version`; checkers know this name.
TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable, Sequence

    from compiler.terminal import Terminal

    Commands = argparse._SubParsersAction


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command with `argv` (default: the process's own) and return its exit code."""
    words = list(sys.argv[1:] if argv is None else argv)
    if words == ["--version"]:  # asked for by scripts, so it does not wait for argparse
        return _version()
    try:
        arguments = _parser().parse_args(words)
    except SystemExit as stop:  # argparse has said why
        return stop.code if isinstance(stop.code, int) else WRONG_USE
    if arguments.version:
        return _version()
    run: Callable[[argparse.Namespace, Terminal], int] | None = getattr(arguments, "run", None)
    if run is None:
        _parser().print_help()
        return WRONG_USE
    from compiler.terminal import AnswerLost, Terminal

    terminal = Terminal.of_process(getattr(arguments, "format", "text"))
    try:
        return run(arguments, terminal)
    except KeyboardInterrupt:
        terminal.say("Stopped.")
        return INTERRUPTED
    except AnswerLost as lost:
        terminal.say(str(lost))
        return WRONG_USE
    except Exception as error:
        return _own_fault(error, words, terminal)


def _version() -> int:
    from compiler import __version__

    sys.stdout.write(f"witnessmark {__version__}\n")
    return CLEAN


def _own_fault(error: Exception, words: Sequence[str], terminal: Terminal) -> int:
    """Say that the program is to blame and not the procedure, and what to send to its makers."""
    import traceback

    terminal.say(
        "This is a fault of witnessmark itself; your procedure is not to blame, and nothing was\n"
        f"written. Please send the makers what follows, and the files of: {' '.join(words)}\n"
    )
    terminal.say("".join(traceback.format_exception(error)))
    return OUR_FAULT


def _parser() -> argparse.ArgumentParser:
    import argparse

    from compiler.helping import add_help
    from compiler.reckon.arguments import add_questions

    parser = argparse.ArgumentParser(
        prog="witnessmark",
        description="Check service procedures written as plain text; make pages and sheets.",
        epilog="`witnessmark COMMAND --help` says more of each, with examples.\n"
        "Exit codes: 0 clean, 1 something is wrong in the files, 2 wrong use.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="store_true", help="say which version this is")
    commands = parser.add_subparsers(metavar="COMMAND")
    _add_check(commands)
    _add_build(commands)
    _add_watch(commands)
    _add_tools(commands)
    _add_records(commands)
    _add_changes(commands)
    _add_issue(commands)
    _add_new(commands)
    _add_explain(commands)
    add_questions(commands)
    add_help(commands.choices)
    return parser


def _add_check(commands: Commands[argparse.ArgumentParser]) -> None:
    check = commands.add_parser("check", help="say what is wrong in the files")
    check.add_argument(
        "paths", nargs="*", metavar="PATH", help="files or folders (default: procedures, or here)"
    )
    check.add_argument(
        "--fix", action="store_true", help="write the changes into the files that findings offer"
    )
    _add_format(check)
    check.set_defaults(run=_lazy("check"))


def _add_build(commands: Commands[argparse.ArgumentParser]) -> None:
    build = commands.add_parser("build", help="check a folder and make its pages, sheets and lists")
    _add_folder(build)
    _add_output(build)
    build.add_argument(
        "--one-file",
        action="store_true",
        help="make each page once more as one file with all it needs, to carry on a stick",
    )
    build.add_argument(
        "--workers",
        type=_few,
        metavar="N",
        default=0,
        help="set the sheets in so many processes, 90 MB each (default: one a core, if many)",
    )
    _add_format(build)
    build.set_defaults(run=_lazy("build"))


def _add_watch(commands: Commands[argparse.ArgumentParser]) -> None:
    watch = commands.add_parser("watch", help="build again whenever a file is saved")
    _add_folder(watch)
    _add_output(watch)
    watch.set_defaults(run=_lazy("watch"))


def _add_tools(commands: Commands[argparse.ArgumentParser]) -> None:
    tools = commands.add_parser(
        "tools", help="list the tools and parts that a procedure needs, and why"
    )
    tools.add_argument("procedure", metavar="PROCEDURE", help="its name, or its file")
    tools.add_argument(
        "--folder", metavar="FOLDER", help="where the files are (default: procedures, or here)"
    )
    tools.add_argument("--model", metavar="MODEL", help="for this model only")
    _add_format(tools)
    tools.set_defaults(run=_lazy("tools"))


def _add_records(commands: Commands[argparse.ArgumentParser]) -> None:
    records = commands.add_parser(
        "records", help="hold the records that pages saved against their procedures"
    )
    records.add_argument("records", metavar="FOLDER", help="where the records are, or one record")
    records.add_argument(
        "--procedures",
        metavar="FOLDER",
        help="where the procedures are (default: procedures, or here)",
    )
    records.add_argument("--page", metavar="FILE", help="write an HTML page that sums them up")
    records.add_argument(
        "--format",
        choices=("text", "json", "csv"),
        default="text",
        help="how to print (default: text)",
    )
    records.set_defaults(run=_lazy("records"))


def _add_changes(commands: Commands[argparse.ArgumentParser]) -> None:
    changes = commands.add_parser(
        "changes", help="say what changed between two issues, and who is affected"
    )
    changes.add_argument("old", metavar="OLD", help="a folder, or a git revision: HEAD~3")
    changes.add_argument(
        "new", nargs="?", metavar="NEW", help="the same (default: the folder as it is now)"
    )
    changes.add_argument(
        "--folder",
        metavar="FOLDER",
        help="the folder that a git revision is of (default: procedures, or here)",
    )
    changes.add_argument("--page", metavar="FILE", help="write it as an HTML page, too")
    _add_format(changes)
    changes.set_defaults(run=_lazy("changes"))


def _add_issue(commands: Commands[argparse.ArgumentParser]) -> None:
    issue = commands.add_parser(
        "issue", help="write down which content goes out under which revision"
    )
    issue.add_argument("names", nargs="*", metavar="PROCEDURE", help="which (default: all)")
    issue.add_argument(
        "--folder", metavar="FOLDER", help="where they are (default: procedures, or here)"
    )
    issue.add_argument(
        "--again",
        action="store_true",
        help="write the present content down under a revision that is in the list already",
    )
    issue.set_defaults(run=_lazy("issue"))


def _add_new(commands: Commands[argparse.ArgumentParser]) -> None:
    new = commands.add_parser("new", help="start a file that compiles and shows how to go on")
    new.add_argument(
        "kind", choices=("machine", "procedure", "shop", "visit"), help="what the file describes"
    )
    new.add_argument("name", metavar="NAME", help="letters, digits and hyphens: seal-change")
    new.add_argument("--machine", metavar="NAME", help="the machine that a procedure is for")
    new.add_argument(
        "--folder", metavar="FOLDER", help="where to put it (default: procedures, or here)"
    )
    new.set_defaults(run=_lazy("new"))


def _add_explain(commands: Commands[argparse.ArgumentParser]) -> None:
    explain = commands.add_parser("explain", help="tell more about a finding, with examples")
    explain.add_argument(
        "name", nargs="?", metavar="NAME", help="as printed in brackets (default: list all)"
    )
    explain.set_defaults(run=_lazy("explain"))


def _add_folder(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "folder",
        nargs="?",
        metavar="FOLDER",
        help="where the files are (default: procedures, or here)",
    )


def _add_output(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--out", default="build", metavar="FOLDER", help="where to write (default: build)"
    )
    parser.add_argument(
        "--paper",
        choices=("a4", "letter", "a5", "a6"),
        default="a4",
        help="paper of the sheets (default: a4); a5 and a6 are set anew for the pocket",
    )
    parser.add_argument(
        "--no-sheets", action="store_true", help="make no PDF sheets (much quicker)"
    )


def _add_format(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="how to print (default: text)"
    )


def _few(text: str) -> int:
    """Return a number of processes."""
    from argparse import ArgumentTypeError

    if not (text.isascii() and text.isdecimal() and 1 <= int(text[:9]) <= 64):
        raise ArgumentTypeError(f"{text!r} is no number from 1 to 64")
    return int(text)


def _lazy(name: str) -> Callable[[argparse.Namespace, Terminal], int]:
    """Return a command that is loaded only when it runs."""

    def run(arguments: argparse.Namespace, terminal: Terminal) -> int:
        from compiler import commands

        command: Callable[[argparse.Namespace, Terminal], int] = getattr(commands, name)
        return command(arguments, terminal)

    return run


if __name__ == "__main__":
    sys.exit(main())
