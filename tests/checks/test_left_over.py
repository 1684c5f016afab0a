"""What a tired author forgets is found, at the step that did it and by the right rule.

Each text of wrong.txt is a small job; the line to be found ends in `# error: RULE`.
"""

from __future__ import annotations

import pytest
from replay_support import cases, job, left_over, messages

WRONG = cases("wrong.txt")


@pytest.mark.parametrize("name", WRONG)
def test_found_at_the_step_that_did_it(name: str) -> None:
    found, marked = left_over(WRONG[name])
    assert found == marked
    assert marked


SAID = {
    "remove lid": "lid is still off when the work ends.",
    "remove lid only for P-2": "On P-2, lid is still off when the work ends.",
    "slacken foot-lock\ntighten foot-lock[1, 3]": (
        "foot-lock[2, 4] is still slackened when the work ends."
    ),
    'ask worn "Worn?"\nif worn is yes\n  remove lid': (
        "When worn is yes, lid is still off when the work ends."
    ),
    'ask worn "Worn?"\nremove lid\nif worn is yes\n  fit lid': (
        "When worn is no, lid is still off when the work ends."
    ),
    'remove lid only if "it is wet"': (
        "When “it is wet” holds, lid is still off when the work ends."
    ),
    'remove lid\nfit lid only if "it is dry"': (
        "Unless “it is dry” holds, lid is still off when the work ends."
    ),
    # A decision that makes no difference is not told, whichever way it went first.
    'ask a "A?"\nif a is yes\n  move arm aside\nremove lid\nif a is yes\n  fit arm': (
        "lid is still off when the work ends."
    ),
    'ask a "A?"\nask b "B?"\nif a is yes\n  move arm aside\nremove lid only if b is yes\n'
    "if a is yes\n  fit arm": "When b is yes, lid is still off when the work ends.",
    'ask a "A?"\nask b "B?"\nif a is yes\n  if b is yes\n    remove lid': (
        "When a is yes and when b is yes, lid is still off when the work ends."
    ),
    'only for P-1\n  ask a "A?"\n  remove lid only if a is yes': (
        "On P-1, when a is yes, lid is still off when the work ends."
    ),
    "remove guard\nfit guard": "guard-screw is still only put in by hand when the work ends.",
    "slacken plate-bolt\ntighten plate-bolt to 12 N·m": (
        "plate-bolt is still only at 12\u00a0N·m when the work ends."
    ),
    "move block to station[3]": "block is at station[3] when the work ends.",
}


@pytest.mark.parametrize("body", SAID)
def test_the_shortest_story_is_told(body: str) -> None:
    assert messages(job(body)) == [SAID[body]]


def test_what_follows_from_a_part_that_is_off_is_not_told_as_well() -> None:
    """The nut, its pin and the cable of a wheel that is off are no findings of their own."""
    assert messages(job("remove wheel", "needs guard off, plate off")) == [
        "wheel is still off when the work ends."
    ]


def test_each_aspect_of_a_part_is_told_at_its_own_step() -> None:
    found, marked = left_over(
        job(
            "support block with hoist  # error: left-supported\n"
            "open block  # error: left-open\n"
            "move block to station[2]  # error: left-moved"
        )
    )
    assert found == marked
