"""The template engine of pages and sheets: escaping on, nothing undefined, no rules in it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

from compiler.emit.finder import meta
from compiler.emit.job import digest
from compiler.paths import SUBSTITUTES, template_files, templates_dir
from compiler.wording.phrases import LABELS

if TYPE_CHECKING:
    from jinja2 import Environment

_SHARED = "told"
"""The folder of what pages that stand alone have in common."""

_SUBSTITUTION = str.maketrans(dict(SUBSTITUTES))


@cache
def environment(folder: str) -> Environment:
    """Return the engine for the templates in `site_templates/<folder>`."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    engine = Environment(
        loader=FileSystemLoader([templates_dir() / folder, templates_dir() / _SHARED]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    engine.globals["L"] = LABELS
    engine.filters["kind_of"] = kind_of
    engine.filters["hours"] = hours
    engine.filters["meta"] = meta
    return engine


def render(folder: str, template: str, **values: object) -> str:
    """Render one template; characters that no shipped font has become ones that read alike."""
    page = environment(folder).get_template(template)
    return page.render(once=_once(), **values).translate(_SUBSTITUTION)


def render_alone(folder: str, template: str, style: str, title: str, **values: object) -> str:
    """Render a page that stands alone, with the style of all of them and the one named `style`."""
    sheets = (template_files(_SHARED)["base.css"], template_files(folder)[style])
    both = b"".join(sheets).decode("utf-8")
    return render(folder, template, title=title, style=both, **values)


def kind_of(view: object) -> str:
    """Return the kind of a piece of a document: `step`, `section`, `plain`, `measure` …"""
    return type(view).__name__.removesuffix("View").lower()


def hours(minutes: float) -> str:
    """Return a time that passed, as a person says it: `45 min`, `3 h 05 min`, `2 days 4 h`."""
    whole = round(minutes)
    days, rest = divmod(whole, 24 * 60)
    if days:
        return f"{days} {'day' if days == 1 else 'days'} {rest // 60} h"
    return f"{whole // 60} h {whole % 60:02} min" if whole >= 60 else f"{whole} min"


def _once() -> Callable[[str], str]:
    """Return a function that keeps an id the first time and numbers it when it comes again.

    A step that differs between models stands once for each of them under one id.
    """
    seen: dict[str, int] = {}

    def once(name: str) -> str:
        seen[name] = seen.get(name, 0) + 1
        return name if seen[name] == 1 else f"{name}--{seen[name]}"

    return once


def templates_digest(folder: str) -> str:
    """Return a digest of all templates of a folder, to tell when one changed."""
    files = template_files(folder)
    return digest(*files, *files.values())
