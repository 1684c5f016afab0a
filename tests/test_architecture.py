"""Reads the source as text: data flows one way, each library stays in its place, the map is true.

Imports are counted wherever they stand, inside functions and under TYPE_CHECKING too: a lazy import
saves time at the start, it does not make two modules independent.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "compiler"

ORDER = (
    ("source",),
    ("paths",),
    ("replacing",),
    ("trade",),
    ("findings",),
    ("syntax",),
    ("parse",),
    ("pictures",),
    ("load",),
    ("model",),
    ("resolve",),
    ("walk",),
    ("derive",),
    ("checks",),
    ("wording",),
    ("document",),
    ("records",),
    ("changes",),
    ("issued",),
    ("emit",),
    ("pipeline",),
    (
        "exit_codes",
        "helping",
        "terminal",
        "reporting",
        "tool_answer",
        "records_answer",
        "changes_answer",
        "issuing",
        "starters",
        "mending",
        "watching",
        "reckon",
        "commands",
        "cli",
    ),
)
"""The modules and packages of `compiler/`; each may import from its own row and those above it."""

MAY_ONLY_IMPORT = {
    "source": (),
    "paths": (),
    "findings": ("source",),
    "pictures": (),
    "syntax": ("source", "trade"),
}
"""Those that must know even less than their row would let them."""

MUST_NOT_IMPORT = {"emit": ("parse", "load", "resolve", "walk", "checks")}
"""An emitter knows the finished document and nothing of how it came about."""

LIBRARY_HOMES = {
    "lark": "parse",
    "pint": "trade",
    "jinja2": "emit",
    "PIL": "emit",
    "weasyprint": "emit",
    "segno": "emit",
    "watchdog": "watching",
}
"""The only module or package that may name the library."""

TOUCHES_DISK = (
    "records_answer",
    "changes_answer",
    "issuing",
    "cli",
    "starters",
    "mending",
    "replacing",
    "watching",
    "pipeline",
    "load",
    "emit.record",
    "emit.write",
    # What ships with the compiler: the first finds it, all three read it.
    "paths",
    "parse",
    "findings.pages",
)
DISK_CALLS = re.compile(
    r"open|read_text|read_bytes|write_text|write_bytes|iterdir|glob|rglob|scandir|listdir"
    r"|mkdir|makedirs|touch|unlink|rmdir|rmtree|copyfile|mkstemp|mkdtemp"
)

KNOWS_THE_TIME = (
    "cli",
    "watching",
    # Dates the revision of a new source file, which from then on is the author's.
    "starters",
)
CLOCK_CALLS = re.compile(
    r"(datetime|date)\.(now|utcnow|today)|time\.\w+|uuid\.uuid[14]|os\.urandom|getrandbits"
)
CHANCE = frozenset({"random", "secrets"})


@dataclass(frozen=True)
class Module:
    """One module of the compiler: its dotted name below `compiler`, its file and its tree."""

    name: str
    path: Path
    tree: ast.Module

    @property
    def part(self) -> str:
        """Return the module or package directly below `compiler` that this belongs to."""
        return self.name.split(".")[0]

    def at(self, node: ast.stmt | ast.expr) -> str:
        """Return file and line of a node, for a message."""
        return f"{self.path.relative_to(ROOT).as_posix()}:{node.lineno}"


def read_modules() -> dict[str, Module]:
    """Return all modules by dotted name; the package `compiler` itself has the name ''."""
    modules = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = list(path.relative_to(PACKAGE).with_suffix("").parts)
        if parts[-1] == "__init__":
            parts.pop()
        name = ".".join(parts)
        modules[name] = Module(name, path, ast.parse(path.read_text(encoding="utf-8")))
    return modules


MODULES = read_modules()


def imports(module: Module) -> Iterator[tuple[str, ast.stmt]]:
    """Yield every imported dotted name with its statement; `from a import b` gives `a.b`."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module.at(node)}: a relative import"
            yield from ((f"{node.module}.{alias.name}", node) for alias in node.names)


def own_imports(module: Module) -> Iterator[tuple[str, ast.stmt]]:
    """Yield the modules of the compiler that this one imports, by dotted name below `compiler`."""
    for dotted, node in imports(module):
        root, _, name = dotted.partition(".")
        if root != "compiler":
            continue
        # The last word may be a module or something inside one.
        yield (name if name in MODULES else name.rpartition(".")[0]), node


def dotted_name(node: ast.expr) -> str:
    """Return `a.b.c` for an attribute chain, its last names for anything more involved."""
    if isinstance(node, ast.Attribute):
        return f"{dotted_name(node.value)}.{node.attr}"
    return node.id if isinstance(node, ast.Name) else ""


def calls(module: Module) -> Iterator[tuple[str, ast.Call]]:
    """Yield every call with the dotted name of what is called."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call):
            yield dotted_name(node.func), node


def belongs(module: Module, homes: tuple[str, ...]) -> bool:
    """Return whether the module is one of `homes` or lies inside one."""
    return any(module.name == home or module.name.startswith(f"{home}.") for home in homes)


def declared_dependencies() -> set[str]:
    """Return the names that pyproject.toml lists for running, as they are spelt there."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return {re.split(r"[<>=!~\[; ]", line)[0] for line in project["dependencies"]}


RANK = {part: rank for rank, row in enumerate(ORDER) for part in row}


def test_the_package_is_read() -> None:
    """The other tests would pass on an empty list of modules or of imports."""
    assert {"", "source", "syntax", "paths", "model"} <= set(MODULES)
    assert "source" in [name for name, _ in own_imports(MODULES["syntax"])]
    assert "dataclasses.dataclass" in [dotted for dotted, _ in imports(MODULES["source"])]


def test_every_part_has_a_rank() -> None:
    parts = {module.part for module in MODULES.values()} - {"", "__main__"}
    assert parts <= set(RANK), "give it a row in ORDER, and say in DEVELOPERS.md what it does"


def test_no_arrow_points_back() -> None:
    wrong = []
    for module in MODULES.values():
        rank = RANK.get(module.part, -1 if module.part == "" else len(ORDER))
        for name, node in own_imports(module):
            part = name.split(".")[0]
            if part and RANK[part] > rank:
                wrong.append(f"{module.at(node)}: {module.part} imports {part}, which comes later")
    assert not wrong, "\n".join(wrong)


def test_some_parts_know_even_less() -> None:
    wrong = []
    for module in MODULES.values():
        allowed = MAY_ONLY_IMPORT.get(module.part)
        forbidden = MUST_NOT_IMPORT.get(module.part, ())
        for name, node in own_imports(module):
            part = name.split(".")[0]
            if part in ("", module.part):
                continue
            if part in forbidden or (allowed is not None and part not in allowed):
                wrong.append(f"{module.at(node)}: {module.part} must not know {part}")
    assert not wrong, "\n".join(wrong)


def test_no_two_modules_import_each_other() -> None:
    graph = {
        module.name: {name for name, _ in own_imports(module)} - {module.name}
        for module in MODULES.values()
    }
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        pytest.fail("a cycle: " + " <- ".join(error.args[1]))


def test_libraries_stay_in_their_place() -> None:
    wrong = []
    for module in MODULES.values():
        for dotted, node in imports(module):
            home = LIBRARY_HOMES.get(dotted.split(".")[0])
            if home is not None and module.part != home:
                wrong.append(f"{module.at(node)}: {dotted} belongs in {home} only")
    assert not wrong, "\n".join(wrong)


def test_what_is_imported_is_declared_and_the_other_way_round() -> None:
    third_party = {
        dotted.split(".")[0]
        for module in MODULES.values()
        for dotted, _ in imports(module)
        if dotted.split(".")[0] not in sys.stdlib_module_names | {"compiler"}
    }
    fonts = {name for name in declared_dependencies() if name.startswith("font")}
    # The one library whose package is called otherwise.
    packages = {"pillow" if name == "PIL" else name for name in third_party}
    assert packages == declared_dependencies() - fonts


def test_starting_up_loads_no_heavy_library() -> None:
    heavy = sorted(LIBRARY_HOMES)
    code = f"import sys, compiler.cli; print(*[m for m in {heavy} if m in sys.modules])"
    shown = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert shown.stdout.split() == []


@pytest.mark.parametrize("name", sorted(MODULES))
def test_every_module_says_what_it_is(name: str) -> None:
    docstring = ast.get_docstring(MODULES[name].tree)
    assert docstring, f"{MODULES[name].path.name} has no docstring"
    assert docstring.strip()[-1] in ".:)"


def test_the_core_touches_no_files() -> None:
    wrong = [
        f"{module.at(node)}: {name}(…) touches the disk"
        for module in MODULES.values()
        if not belongs(module, TOUCHES_DISK)
        for name, node in calls(module)
        if DISK_CALLS.fullmatch(name.split(".")[-1])
        and not name.startswith("self.")
        # The place where a broken pipe's last words go is no file.
        and not (name == "os.open" and ast.unparse(node.args[0]) == "os.devnull")
    ]
    assert not wrong, "\n".join(wrong)


def test_no_clock_and_no_chance() -> None:
    wrong = []
    for module in MODULES.values():
        wrong += [
            f"{module.at(node)}: {dotted}"
            for dotted, node in imports(module)
            if dotted.split(".")[0] in CHANCE
        ]
        if belongs(module, KNOWS_THE_TIME):
            continue
        wrong += [
            f"{module.at(node)}: {name}()"
            for name, node in calls(module)
            if CLOCK_CALLS.fullmatch(name) or CLOCK_CALLS.fullmatch(".".join(name.split(".")[-2:]))
        ]
        wrong += [
            f"{module.at(node)}: {dotted}"
            for dotted, node in imports(module)
            if dotted.startswith("time.")
        ]
    assert not wrong, "\n".join(wrong)


def test_every_path_in_the_developers_page_exists() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    words = sorted(set(mentioned_paths(text)))
    assert words, "DEVELOPERS.md maps the code, so it names paths"
    known = checkout_paths()
    missing = [word for word in words if not path_exists(word, known)]
    assert not missing, f"DEVELOPERS.md names what is not there: {', '.join(missing)}"


SUFFIXES = (".py", ".md", ".lark", ".proc", ".toml", ".lock", ".sh")
WORD = re.compile(r"[\w.<>*/-]*[\w>*/]")
FENCED = re.compile(r"^```.*?^```", re.DOTALL | re.MULTILINE)


def mentioned_paths(text: str) -> Iterator[str]:
    """Yield the words of inline code and of fenced blocks that look like paths.

    Between backticks a slash or a suffix of ours makes one; in a fenced block only the suffix does.
    """
    for code in re.findall(r"`([^`\n]+)`", FENCED.sub("", text)):
        for word in WORD.findall(code):
            if "/" in word.strip("/") or word.endswith(("/", *SUFFIXES)):
                yield word
    for code in FENCED.findall(text):
        yield from (word for word in WORD.findall(code) if word.endswith(SUFFIXES))


def checkout_paths() -> list[str]:
    """Return all files and folders of the checkout, with a leading slash, folders ending in one."""
    hidden_but_ours = {".ci", ".gitignore"}
    found = []
    for top in sorted(ROOT.iterdir()):
        if top.name.startswith(".") and top.name not in hidden_but_ours:
            continue
        for path in (top, *(top.rglob("*") if top.is_dir() else ())):
            name = path.relative_to(ROOT).as_posix()
            found.append(f"/{name}/" if path.is_dir() else f"/{name}")
    return found


def path_exists(word: str, known: list[str]) -> bool:
    """Return whether a path of the checkout ends in `word`; `<name>` and `*` stand for any name."""
    if (ROOT / word).exists():
        return True
    pieces = re.split(r"<[^>]*>|\*+", word.strip("/"))
    pattern = re.compile("/" + "[^/]+".join(re.escape(piece) for piece in pieces) + "/?$")
    return any(pattern.search(path) for path in known)


def test_the_path_check_can_fail() -> None:
    text = "See `compiler/source.py`, `gone.py` and `nowhere/`.\n```\nold.lark  a/b\n```\n"
    words = list(mentioned_paths(text))
    assert words == ["compiler/source.py", "gone.py", "nowhere/", "old.lark"]
    known = checkout_paths()
    assert [path_exists(word, known) for word in words] == [True, False, False, False]
    assert path_exists("tests/test_<name>.py", known)
