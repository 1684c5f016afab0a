"""Common slips, each known by an example, with what to say and how to mend it."""

from compiler.parse.mistakes.form import Mistake
from compiler.parse.mistakes.lines import LINES
from compiler.parse.mistakes.sentences import SENTENCES
from compiler.parse.mistakes.turns import TURNS
from compiler.parse.mistakes.values import NUMBER_WORDS, VALUES

MISTAKES: tuple[Mistake, ...] = (*LINES, *VALUES, *TURNS, *SENTENCES)
"""Looked through in this order; the first that fits speaks."""

__all__ = ["MISTAKES", "NUMBER_WORDS", "Mistake"]
