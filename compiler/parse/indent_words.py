"""What is said of each slip of indentation: what is wrong, and what to try."""

from __future__ import annotations

from compiler.parse.indent import MAX_LEVEL

RULES_OF_INDENTATION = {
    "tab": "tab-in-indent",
    "second-file": "not-understood",
    "deep": "file-too-large",
}
"""The rule of a slip; of any other it is `indentation`."""

INDENTATION: dict[str, tuple[str, str]] = {
    "tab": (
        "This line is indented with a tab.",
        "Indent with blanks: nobody can see how wide a tab is. Editors can turn tabs into blanks.",
    ),
    "odd-space": (
        "This line is indented with a blank that is none of the keyboard's.",
        "Type the blanks anew: such ones come along when text is copied from a page.",
    ),
    "first": ("The first line is indented.", "Move it to the very left."),
    "flush": (
        "This line is not indented, as if it began a file of its own.",
        "Indent every line below the first one by at least one blank, usually two.",
    ),
    "uneven": (
        "This line stands neither in line with those above it nor under one of them.",
        "Indent it by as many blanks as the lines it belongs with.",
    ),
    "deep": (
        f"This line is nested more than {MAX_LEVEL} levels deep.",
        "Make a section, a block or a procedure of its own of it.",
    ),
    "second-file": (
        "A second description begins here, and a file holds one.",
        "Put it into a file of its own.",
    ),
}
