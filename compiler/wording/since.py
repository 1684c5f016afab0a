"""The words for what is different from the issue before: beside the bars at the margin."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from compiler.wording.english import listed
from compiler.wording.phrases import LABELS

_PARTS: Mapping[str, str] = MappingProxyType(
    {
        "title": "title",
        "purpose": "purpose",
        "facts": "head",
        "safety": "safety messages before the work",
        "needs": "what the machine must be like",
        "wear": "what to wear",
        "notes": "notes before the work",
        "pictures": "pictures before the work",
        "energies": "energies to isolate",
        "tools": "tools",
        "supplies": "parts and supplies",
        "torques": "table of torques",
        "lifts": "what is lifted by hand",
        "leaves": "what is left on purpose",
        "signatures": "signatures",
        "rules": "house rules",
    }
)
_WITHOUT_NUMBER: Mapping[str, str] = MappingProxyType(
    {"repeat": "a repeat", "choice": "a choice", "lanes": "work side by side"}
)
_MOST_PLACES = 24
"""With more places than that, nobody reads them: the bars show them."""


def since_text(
    revision: str, day: str, parts: Sequence[str], altered: Sequence[str], gone: Sequence[str]
) -> str:
    """Return what a bar at the margin stands for and where bars are.

    `parts` are names of what stands round the work, `altered` and `gone` are labels of its pieces:
    numbers in their order, or `repeat`, `choice`, `lanes`.
    """
    issue = f"{LABELS.revision.lower()} {revision}{f' ({day})' if day else ''}"
    places = [_PARTS[part] for part in parts]
    if altered:
        places.append(_numbered(_ranges(altered)))
    said = f"{'; '.join(places)}." if places else ""
    if gone:
        said = f"{said} Taken out: {_numbered(_ranges(_outermost(gone)))} of {revision}.".strip()
    if not said:
        return f"Nothing but the revision has changed since {issue}."
    return f"{LABELS.since_bar} {issue}: {said}"


def taken_out(revision: str, labels: Sequence[str]) -> str:
    """Return what stood here in an earlier issue, `Taken out here: step 2.4 of D`; '' for none."""
    if not labels:
        return ""
    return f"{LABELS.since_out} {_numbered(_ranges(_outermost(labels)))} of {revision}"


def _outermost(labels: Sequence[str]) -> list[str]:
    """Return the labels without those of what was inside of something that is named as well."""
    named = set(labels)
    return [label for label in labels if named.isdisjoint(_holders(label))]


def _holders(label: str) -> list[str]:
    """Return the numbers of what holds a number: of 2.3.1 2.3 and 2."""
    levels = label.split(".")
    return [".".join(levels[:count]) for count in range(1, len(levels))]


def _ranges(labels: Sequence[str]) -> list[str]:
    """Return numbers in a row as `2.1 to 2.6`; what has no number is said in words, once."""
    runs: list[list[str]] = []
    words: dict[str, None] = {}
    for label in dict.fromkeys(labels):
        if label in _WITHOUT_NUMBER:
            words[_WITHOUT_NUMBER[label]] = None
        elif runs and _follows(runs[-1][-1], label):
            runs[-1].append(label)
        else:
            runs.append([label])
    found = [one for run in runs for one in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else run)]
    return [*found, *words]


def _follows(before: str, label: str) -> bool:
    """Return whether a number is the next one of the same section."""
    one, other = before.rpartition("."), label.rpartition(".")
    return one[0] == other[0] and int(other[2]) == int(one[2]) + 1


def _numbered(places: Sequence[str]) -> str:
    """Return `step 2.1`, `steps 2.1, 2.4 to 2.6 and a choice`."""
    numbers = [place for place in places if place[:1].isdecimal()]
    words = [place for place in places if place not in numbers]
    if len(numbers) > _MOST_PLACES:
        numbers = [*numbers[:_MOST_PLACES], f"{len(numbers) - _MOST_PLACES} more places"]
    if not numbers:
        return listed(words)
    word = "step" if len(numbers) == 1 and " to " not in numbers[0] else "steps"
    return f"{word} {listed([*numbers, *words])}"
