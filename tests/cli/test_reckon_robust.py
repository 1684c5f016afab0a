"""Whatever is typed: an answer, or a message with a fix to try; never a fault of the program."""

from __future__ import annotations

import json
import shlex
from collections.abc import Sequence

import jsonschema
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from cli.cli_support import Run
from cli.test_reckon import ANSWERED, schema
from compiler.reckon.arguments import QUESTIONS

LOOSE = settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])

ODD = (
    "",
    "\0",
    "\x1b[31m",
    "\u202e8",
    "9" * 400,
    "-",
    "--",
    "½",
    "٣",
    "1/0",
    "0/0 in",
    "M",
    "\ud800",
)


def held(run: Run, words: Sequence[str], validator: jsonschema.Draft202012Validator) -> None:
    """Ask, and hold what comes against what is promised."""
    ran = run(*words, "--format", "json")
    assert ran.code in (0, 2), (words, ran)
    if ran.code == 0:
        validator.validate(json.loads(ran.out))
    else:
        assert ran.out == ""
        assert ran.err.strip()
        assert not set(ran.err) & set("\x1b\x07\x08\r\u202e\u2028\0")


@pytest.fixture(scope="module")
def validator() -> jsonschema.Draft202012Validator:
    return schema()


@LOOSE
@given(question=st.sampled_from(QUESTIONS), text=st.text(max_size=60))
@example(question="convert", text="1/0 in")
@example(question="convert", text="0 degC ±5 %")
@example(question="star", text="٣")
def test_any_text(
    run: Run, validator: jsonschema.Draft202012Validator, question: str, text: str
) -> None:
    held(run, [question, "--", text], validator)


@st.composite
def slipped(draw: st.DrawFn) -> list[str]:
    """Draw a right question with characters dropped, doubled, swapped for others, or moved."""
    words = shlex.split(draw(st.sampled_from(ANSWERED)))
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(1, len(words) - 1))
        text = words[at]
        place = draw(st.integers(0, len(text)))
        match draw(st.sampled_from(("drop", "add", "double", "word"))):
            case "drop":
                text = text[:place] + text[place + 1 :]
            case "add":
                piece = st.sampled_from(("0", ",", ".", "-", "±", "(", "°", "in", "e9", "..", " %"))
                text = text[:place] + draw(piece) + text[place:]
            case "double":
                text = text[:place] + text
            case "word":
                text = draw(st.sampled_from(shlex.split(draw(st.sampled_from(ANSWERED)))))
        if not words[at].startswith("--"):
            words[at] = text
    return words


@LOOSE
@given(words=slipped())
def test_right_questions_with_slips(
    run: Run, validator: jsonschema.Draft202012Validator, words: list[str]
) -> None:
    held(run, words, validator)


@pytest.mark.parametrize("odd", ODD)
def test_odd_words_in_every_place(
    run: Run, validator: jsonschema.Draft202012Validator, odd: str
) -> None:
    for asked in ANSWERED:
        words = shlex.split(asked)
        for at in range(1, len(words)):
            if not words[at].startswith("--"):
                held(run, [*words[:at], odd, *words[at + 1 :]], validator)
