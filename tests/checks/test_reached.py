"""Steps that nobody comes to are found once; what can happen is not."""

from __future__ import annotations

import pytest
from order_support import check_job

PARTS = ("door", "shade[1]", "shade[2]", "shade[3]")


def every_way(parts: tuple[str, ...], ahead: str = "") -> str:
    """Return a step for each combination of parts that are off or on."""
    if not parts:
        return f"{ahead}check rail\n"
    rest = every_way(parts[1:], f"{ahead}  ")
    return f"{ahead}if {parts[0]} was removed\n{rest}{ahead}otherwise\n{rest}"


WRONG = {
    "behind the end": 'check bed\nstop "Done."\ncheck rail    # error: never-reached\ncheck fan',
    "behind two ends": 'if "it is wet"\n  stop "Dry it."\notherwise\n  stop "Done."\n'
    "check rail    # error: never-reached",
    "two answers at once": 'ask wet "Wet?"\nif wet is yes\n  check bed\n'
    "  if wet is no\n    check rail    # error: never-reached",
    "twice, with work between": 'ask wet "Wet?"\nif wet is yes\n  if wet is no\n'
    "    check rail    # error: never-reached\n  check bed\n  if wet is no\n"
    "    check fan    # error: never-reached",
}

RIGHT = {
    "an end in one arm": 'if "it is wet"\n  stop "Dry it."\ncheck rail',
    "one model only": "check rail only for M-2",
    "an end on one model": 'only for M-1\n  stop "Done."\ncheck rail',
    "asked again": 'ask wet "Wet?"\nif wet is yes\n  dry rail\n  ask still "Still wet?"\n'
    "  if still is yes\n    check bed",
    "measured again in a round": "repeat until gap is in at most 3 times\n"
    '  measure gap "Gap" with feeler at most 0.1 mm\n  if gap is above\n    check bed\n'
    "  otherwise if gap is in\n    check rail",
    # More ways than are followed: that a combination was not among them says nothing of the work.
    "past twelve ways": "".join(f'remove {part} only if "{part} is wet"\n' for part in PARTS)
    + every_way(PARTS)
    + "".join(f"fit {part} only if {part} was removed\n" for part in PARTS),
    "gone back to": 'ask first "First?"\nif first is yes\n  check bed as look\n'
    'otherwise if "it is wet"\n  go back to look',
    "both handed over": 'ask wet "Wet?"\nif wet is yes\n  stop "Dry it."\notherwise\n  check rail',
}


@pytest.mark.parametrize("name", WRONG)
def test_what_nobody_comes_to_is_found(name: str) -> None:
    check_job(WRONG[name])


@pytest.mark.parametrize("name", RIGHT)
def test_what_can_happen_is_left_in_peace(name: str) -> None:
    check_job(RIGHT[name])
