"""What changed between two issues: as JSON, as a page to look at."""

from __future__ import annotations

import json

from compiler.changes.model import Changes
from compiler.emit.data import schema_of, to_json
from compiler.emit.templating import render_alone
from compiler.wording import changing


def changes_page(changes: Changes) -> str:
    """Return one page that stands alone: no script, and nothing beside it."""
    sides = {"old": changes.old, "new": changes.new}
    return render_alone(
        "changes",
        "changes.html",
        "changes.css",
        changing.TITLE,
        changes=changes,
        W=changing,
        left_out=[changing.not_compared(o.procedure, sides[o.side]) for o in changes.left_out],
        summary=changing.summed_up(len(changes.procedures), changes.same, len(changes.visits)),
    )


def changes_json(changes: Changes) -> str:
    """Return all of it as JSON that keeps to `changes_schema()`; each group names its `type`."""
    return json.dumps(to_json(changes), ensure_ascii=True, indent=1)


def changes_schema() -> str:
    """Return the JSON Schema of `changes_json`, as `changes.schema.json` keeps it."""
    return json.dumps(schema_of("Changes", Changes), ensure_ascii=False, indent=1) + "\n"
