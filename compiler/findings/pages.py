"""The page of each rule: what it checks, why it matters at the bench, an example of each kind."""

from __future__ import annotations

from importlib.resources import files

from compiler.findings.registry import RENAMED, RULES
from compiler.findings.weights import because


def explain(name: str) -> str | None:
    """Return the page of the rule called `name`, with why it weighs what it does.

    None when there is no such rule.
    """
    name = RENAMED.get(name, name)
    if name not in RULES:
        return None
    page = files("compiler.findings").joinpath("pages", f"{name}.md")
    title, meaning, rest = page.read_text(encoding="utf-8").rstrip("\n").split("\n\n", 2)
    return f"{title}\n\n{meaning}\n{because(name)}\n\n{rest}"
