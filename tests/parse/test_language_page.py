"""The reference of the language says what the parser reads, down to the last table."""

from __future__ import annotations

import re

import pytest
from parse_support import LANGUAGE, found

from compiler.parse import parse_text
from compiler.parse.table import key_words, reserved_words
from compiler.trade.designation import parse_designation
from compiler.trade.safety import ENERGIES, HAZARDS, PROTECTION
from compiler.trade.tools import KINDS
from compiler.trade.verbs import Effect, synonyms

PAGE = LANGUAGE.read_text(encoding="utf-8")
BELOW = "    remove z\n"

FRAMES = (
    'procedure a "A"\n  {}\n',
    f'procedure a "A"\n  {{}}\n{BELOW}',
    'procedure a "A"\n  {}\n    lane "x"\n      remove y\n',
    'procedure a "A"\n  remove x {}\n',
    'procedure a "A"\n  remove x\n    {}\n',
    'procedure a "A"\n  measure x "X" {}\n',
    'procedure a "A"\n  measure x "X"\n    {}\n',
    f'procedure a "A"\n  measure x "X"\n  if x is {{}}\n{BELOW}',
    f'procedure a "A"\n  measure x "X"\n  if "y"\n    remove x\n  {{}}\n{BELOW}',
    f'procedure a "A"\n  side by side\n    {{}}\n  {BELOW}',
    'procedure a "A"\n  parts\n    x "x" {}\n',
    'procedure a "A"\n  fasteners\n    x 4 × M6 {}\n',
    'procedure a "A"\n  fasteners\n    x M6\n      stack\n        y "y" {}\n',
    'procedure a "A"\n  connections\n    x cable {}\n',
    'procedure a "A"\n  tools\n    x kind {}\n',
    'procedure a "A"\n  fluids\n    x {}\n',
    'machine a "A"\n  {}\n',
    'shop a "A"\n  {}\n',
    'visit a "A"\n  {}\n',
    'visit a "A"\n  do x\n    {}\n',
)
WORDS_ALONE = {"only for", "otherwise …"}


def rows() -> list[str]:
    """Return the pieces of the language in the first column of every table of the page."""
    codes = []
    for line in PAGE.split("\n"):
        if line.startswith("|") and not line.startswith("|---"):
            codes += re.findall(r"`([^`]+)`", line.split("|")[1])
    return codes


def plain_fences() -> list[str]:
    """Return the examples that are pieces of a file."""
    fences: list[str] = []
    kind: str | None = None
    for line in PAGE.split("\n"):
        if line.startswith("```"):
            kind = None if kind is not None else line[3:]
            if kind == "":
                fences.append("")
        elif kind == "":
            fences[-1] += line + "\n"
    return fences


@pytest.mark.parametrize("code", sorted(set(rows()) - WORDS_ALONE))
def test_what_the_tables_show_is_read_somewhere(code: str) -> None:
    assert any(not parse_text(frame.replace("{}", code), "a.proc")[1] for frame in FRAMES)


def test_there_are_tables() -> None:
    assert len(rows()) > 150
    assert len(plain_fences()) >= 5


@pytest.mark.parametrize("fence", plain_fences())
def test_short_examples_are_read(fence: str) -> None:
    if fence.split()[0] in ("machine", "procedure", "shop", "visit"):
        assert found(fence) == []
    else:
        lines = "".join(f"  {line}\n" for line in fence.splitlines())
        assert found(f'procedure a "A"\n{lines}') == []


def test_the_page_names_every_word_of_the_language() -> None:
    for word in key_words():
        assert re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", PAGE), word


def wrapped(words: tuple[str, ...]) -> str:
    return ", ".join(f"`{word}`" for word in words)


def lists() -> dict[str, str]:
    """Return what stands at the end of the page under each marker."""
    verbs = [
        f"- **{effect.value}**: {wrapped(words)}"
        for effect, words in synonyms().items()
        if effect is not Effect.NEUTRAL
    ]
    neutral = wrapped(synonyms()[Effect.NEUTRAL])
    return {
        "verbs": "\n".join(
            [
                "Verbs that change the machine, each with the words that mean the same:",
                "",
                *verbs,
                "",
                "Verbs that only say what the hands do:",
                "",
                neutral,
            ]
        ),
        "tools": "Each stands after the tool's name:\n\n" + wrapped(tuple(KINDS)),
        "worn": "Words for `wear`:\n\n" + wrapped(tuple(PROTECTION)),
        "reserved": "These words cannot be names of things, because they go on with a step:\n\n"
        + wrapped(reserved_words()),
    }


def test_the_page_names_every_hazard_and_kind_of_energy() -> None:
    for word in (*HAZARDS, *ENERGIES):
        assert f"`{word}`" in PAGE, word


@pytest.mark.parametrize("name", ["verbs", "tools", "worn", "reserved"])
def test_the_lists_at_the_end_are_those_of_the_compiler(name: str, accept: bool) -> None:
    page = LANGUAGE.read_text(encoding="utf-8")
    pattern = re.compile(rf"(<!-- {name}: [^>]*-->\n).*?(?=\n## |\Z)", re.DOTALL)
    expected = pattern.sub(lambda marker: f"{marker[1]}\n{lists()[name]}\n", page)
    if accept:
        LANGUAGE.write_text(expected, encoding="utf-8")
    assert accept or page == expected, "run the tests with --accept"


def test_every_designation_of_the_page_is_one() -> None:
    rows = PAGE[PAGE.index("| `M6×16 ISO 4762 8.8`") : PAGE.index("From thread and standard")]
    shown = [text for row in rows.splitlines() for text in re.findall(r"`([^`]+)`", row)]
    assert len(shown) > 12
    assert [text for text in shown if parse_designation(text)[1]] == []
