"""English by rule: numbers in words, plurals, a and an, lists, lower case of a title.

Numbers up to twelve are written out; from the rules of plain technical English as commonly taught
(common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
)  # fmt: skip

_IRREGULAR = {
    "foot": "feet", "man": "men", "person": "people", "half": "halves", "knife": "knives",
    "shelf": "shelves", "leaf": "leaves", "tooth": "teeth", "radius": "radii", "axis": "axes",
    "matrix": "matrices", "gas": "gases", "staff": "staff", "means": "means", "pliers": "pliers",
    "scissors": "scissors", "tongs": "tongs", "tweezers": "tweezers", "bellows": "bellows",
    "brass": "brass", "apparatus": "apparatus", "chassis": "chassis", "series": "series",
}  # fmt: skip

_MASS_WORDS = frozenset({
    "grease", "oil", "water", "juice", "locker", "dressing", "spray", "paste", "foam", "soap",
    "degreaser", "cleaner", "solvent", "alcohol", "tape", "paper", "wool", "paint", "sealant",
    "glue", "compound", "emulsion", "caustic", "acid", "air", "nitrogen", "wire", "rubber",
    "acetone", "petrol", "spirit", "powder", "talc", "chalk", "wax", "silicone", "coolant",
})  # fmt: skip

_AFTER_NOUN = re.compile(
    r",| (?=(?:of|with|for|in|on|at|from|to|between|under|beside|behind|around|across) )| (?=\()"
)
_SOUNDS_LIKE_AN = re.compile(r"(8|11|18)([^0-9]|$)|8\d")
_LETTERS_AN = "AEFHILMNORSX"
_VOWEL_BUT_A = re.compile(r"(?i)(uni|use|usu|util|eu|one\b|once\b|ou?i|u-)")
_SILENT_H = re.compile(r"(?i)(hour|honest|heir)")


def number(count: int) -> str:
    """Return `four` for 4; figures from thirteen up."""
    return _NUMBERS[count] if 0 < count < len(_NUMBERS) else str(count)


def times(count: int) -> str:
    """Return `once`, `twice`, `three times`."""
    return {1: "once", 2: "twice"}.get(count, f"{number(count)} times")


def a_or_an(words: str) -> str:
    """Return the words with `a` or `an` in front, by how the first of them sounds."""
    return f"{'an' if _sounds_open(words) else 'a'} {words}"


def _sounds_open(words: str) -> bool:
    first = words.lstrip("\"'“(")
    if first[:1].isdigit():
        return bool(_SOUNDS_LIKE_AN.match(first))
    if re.match(r"[A-Z](?:[A-Z0-9]|\b|-)", first):
        return first[0] in _LETTERS_AN
    if _SILENT_H.match(first):
        return True
    return first[:1].lower() in tuple("aeiou") and not _VOWEL_BUT_A.match(first)


def plural(words: str) -> str:
    """Return the plural of a name: of its last word, before a comma, `of`, `with` and the like."""
    head, tail = split_at_noun(words)
    if not head:
        return words
    start, _, last = head.rpartition(" ")
    gap = " " if start else ""
    return f"{start}{gap}{_plural_word(last)}{tail}"


def split_at_noun(words: str) -> tuple[str, str]:
    """Split a name into its noun and what follows it: `ring | , 30 mm`, `bag | of screws`."""
    match = _AFTER_NOUN.search(words)
    return (words[: match.start()], words[match.start() :]) if match else (words, "")


def in_brackets(words: str) -> str:
    """Return a name with what is said after its comma in brackets: `jacking screw (M10)`."""
    head, comma, rest = words.partition(",")
    return f"{head.strip()} ({rest.strip()})" if comma and rest.strip() else words


def short(words: str) -> str:
    """Return a name without what is said after its noun: `calliper with dial, 0.1 mm`."""
    return split_at_noun(words)[0].strip() or words


def _plural_word(word: str) -> str:
    low = word.lower()
    stem, hyphen, last = low.rpartition("-")
    if hyphen and last in _IRREGULAR:
        return word[: len(word) - len(last)] + _IRREGULAR[last]
    if low in _IRREGULAR:
        made = _IRREGULAR[low]
        return made[:1].upper() + made[1:] if word[:1].isupper() and made else made
    if not word[-1:].isalpha():
        return word
    if low.endswith(("s", "x", "z", "ch", "sh")):
        return word + "es"
    if low.endswith("y") and low[-2:-1] not in tuple("aeiou"):
        return word[:-1] + "ies"
    if stem and low.endswith("-off"):
        return word
    return word + "s"


def is_plural(words: str) -> bool:
    """Return whether a label is plural already (`pliers`, `feeler gauges`, `slings`)."""
    last = split_at_noun(words)[0].rpartition(" ")[2].lower()
    if last in _IRREGULAR:
        return _IRREGULAR[last] == last and last not in ("brass", "apparatus", "chassis", "series")
    return last.endswith("s") and not last.endswith(("ss", "us", "is", "as", "ens"))


def is_mass(words: str) -> bool:
    """Return whether a label names a stuff (`grease`), which takes no `a`."""
    last = split_at_noun(words)[0].rpartition(" ")[2].lower()
    return last in _MASS_WORDS


def is_name(words: str) -> bool:
    """Return whether a label is a proper name that takes no article: `tank T2`, `station 3`."""
    last = words.split(" ")[-1]
    if "," in words or "(" in words:
        return False
    return bool(re.fullmatch(r"[A-Z]?[A-Z]?-?\d+[A-Za-z]?|[A-Z]", last)) and " " in words


def listed(words: Sequence[str], last: str = "and") -> str:
    """Return `a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def lower_first(words: str) -> str:
    """Return a title as it stands inside a sentence: `Shaft runout` becomes `shaft runout`.

    Words that are written large for a reason stay: `PI-7`, `V11 reading`, `I`.
    """
    first = words.split(" ", 1)[0]
    if first in ("A", "I") or (first[1:].lower() == first[1:] and not re.search(r"\d", first)):
        return words if first == "I" else words[:1].lower() + words[1:]
    return words


def with_the(words: str) -> str:
    """Return a name with its article: `the coupling spacer`, but `tank T2`."""
    return words if is_name(words) else f"the {words}"


def spoken(name: str) -> str:
    """Return an author's name as words: `guard-screw` becomes `guard screw`."""
    return name.replace("-", " ").replace("_", " ")
