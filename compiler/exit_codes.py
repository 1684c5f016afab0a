"""What the command tells the shell: the exit codes, the same for every command."""

from __future__ import annotations

CLEAN = 0
"""Done, and nothing of error weight was found."""

FINDINGS = 1
"""Something of error weight was found."""

WRONG_USE = 2
"""The command was called with what it cannot take."""

OUR_FAULT = 3
"""This program is at fault, not a procedure."""

INTERRUPTED = 130
"""Stopped by hand: what shells give for Ctrl-C, 128 and the number of the signal."""
