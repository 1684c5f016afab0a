"""Every rule by its name in words: how much it weighs, what it means, since when it is there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from compiler.findings.near import suggest


class Severity(Enum):
    """An error keeps outputs from being made; a warning does not."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule. `meaning` is one line in shop language; the page in `pages/` says the rest."""

    name: str
    severity: Severity
    meaning: str
    family: str
    since: str = "0.1.0"


def _error(family: str, name: str, meaning: str) -> Rule:
    return Rule(name, Severity.ERROR, meaning, family)


def _warning(family: str, name: str, meaning: str) -> Rule:
    return Rule(name, Severity.WARNING, meaning, family)


_ALL = (
    _error("reading", "not-understood", "a line that does not read as the step-language"),
    _error("reading", "indentation", "a line that stands further in or out than any line above"),
    _error("reading", "tab-in-indent", "a tab at the start of a line, whose width nobody can see"),
    _error("reading", "unclosed-quote", "text in quotes that does not end on its line"),
    _error("reading", "not-text", "a file that is not UTF-8 text"),
    _error("reading", "file-too-large", "a file too large or too deeply nested to be a procedure"),
    _error("reading", "not-readable", "a file or folder that cannot be opened"),
    _error("names", "unknown-name", "a name that nothing declares"),
    _error("names", "duplicate-name", "one name given to two things"),
    _warning("names", "unused-name", "something declared that no step ever uses"),
    _error("names", "circular-follow", "things that lead back to themselves, so work never ends"),
    _error("names", "unknown-verb", "a word at the start of a step that is no known verb"),
    _error("names", "wrong-kind", "a name used where another kind of thing belongs"),
    _error("names", "unknown-model", "a model that the machine does not have"),
    _error("names", "missing-machine", "a procedure for a machine that no file describes"),
    _error("values", "unknown-unit", "a unit that is not known"),
    _error(
        "values", "wrong-dimension", "a quantity of the wrong kind, such as a mass for a torque"
    ),
    _error("values", "bad-designation", "a fastener's designation that cannot be"),
    _warning("values", "unlisted-standard", "a standard not known here, so the tool is not either"),
    _warning("values", "tool-not-said", "a fastener gets a torque, and nothing says what turns it"),
    _error("values", "printed-pair", "two printed units that do not say the same"),
    _error("values", "count-sanity", "a count or range that cannot be"),
    _warning("values", "count-across-set", "one count of fasteners on a set of several parts"),
    _error("values", "quantity-sanity", "a value that cannot be, or limits the wrong way round"),
    _error("values", "bad-date", "a day that is not in the calendar"),
    _error("values", "bad-address", "a site that no phone finds from the code on a sheet"),
    _error("tightening", "missing-torque", "a fastener is tightened, but nothing says how tight"),
    _error("tightening", "adapter-setting", "an adapter changes the setting, but to what is open"),
    _warning("tightening", "holds-nothing", "a screw is turned, and nothing says what it holds"),
    _error("tightening", "torque-too-high", "a torque that strips or breaks what it is put on"),
    _warning("tightening", "torque-too-low", "a torque so low that another unit was meant"),
    _warning("tightening", "two-torques", "one fastener, two torques in two procedures"),
    _error("tools", "tool-not-in-shop", "a tool is needed that the crib does not have"),
    _error("tools", "wrong-wrench", "a torque wrench is named that does not do for the joint"),
    _warning("tools", "tool-not-used", "a procedure lists a tool that none of its steps uses"),
    _error("tools", "out-of-calibration", "a visit needs a tool whose calibration has run out"),
    _error("visits", "too-few-people", "a job of a visit needs more people than come"),
    _error("files", "picture-missing", "a picture that is not there"),
    _error("files", "picture-not-usable", "a picture that cannot or must not be shown"),
    _error(
        "files", "missing-revision", "a procedure without a revision, so an old print looks new"
    ),
    _error("files", "revision-not-raised", "other content under a revision that was issued"),
    _warning("files", "worded-otherwise", "issued text that Witnessmark words otherwise by now"),
    _warning("files", "nothing-to-do", "a procedure without a single step"),
    _warning("writing", "long-sentence", "an instruction too long to be read at the machine"),
    _warning("writing", "vague-words", "words that leave the reader to guess"),
    _warning("writing", "which-step", "a note between two steps, open which of them it is about"),
    _warning("writing", "not-printed", "letters that sheets would show as empty boxes"),
    _error("energy", "opened-live", "a guard comes off, or an energy is let out, while it is live"),
    _error("energy", "live-with-guard-off", "an energy comes back while a guard is off or loose"),
    _error(
        "energy", "isolation-order", "an energy is let out or proved dead before it is isolated"
    ),
    _warning(
        "safety", "no-avoidance", "a safety message that does not say how to avoid the danger"
    ),
    _error("energy", "isolation-not-said", "nothing says where, or how it is proved dead"),
    _warning("energy", "not-shut-again", "a drain is opened, and nothing says that it is shut"),
    _warning("energy", "tested-isolated", "a test while what it needs is still isolated"),
    _warning("energy", "energy-alone", "an energy of which nothing says what keeps it from people"),
    _error("lifting", "lifts-too-little", "a part hangs on gear that is made for less"),
    _error("lifting", "unsupported", "a heavy part comes free, or goes in, with nothing under it"),
    _warning("lifting", "hard-to-lift", "a part is lifted by hand in a way that asks too much"),
    _error("order", "in-the-way", "a part comes out or goes in behind another that is in place"),
    _error("order", "not-in-yet", "a fastener is turned that is not in, or holds nothing yet"),
    _error("order", "already-so", "something is taken off or put on that is so already"),
    _error("order", "runs-out-again", "a fluid is filled in while its drain plug is out or loose"),
    _error("single use", "used-again", "a single-use part goes back in after it was out"),
    _warning("single use", "not-renewed", "a single-use part goes off and back on what carries it"),
    _warning("single use", "renewed-each-round", "a whole set is renewed for each one of it"),
    _warning("single use", "gasket-alone", "a gasket of which nothing says where it sits"),
    _error("order", "never-reached", "a step that no way through the work comes to"),
    _error("left over", "left-off", "a part is still off when the work ends"),
    _error("left over", "left-loose", "a fastener is not tight when the work ends"),
    _error("left over", "left-isolated", "an energy is not given back when the work ends"),
    _error("left over", "left-in", "an aid is still in the machine when the work ends"),
    _error("left over", "left-supported", "a part still hangs on its support when the work ends"),
    _error("left over", "left-open", "something that was opened is not closed when the work ends"),
    _error("left over", "left-disconnected", "a cable, hose or pipe is not connected again"),
    _error("left over", "left-drained", "a fluid is not filled in again"),
    _error("left over", "left-moved", "a part ends in another place than it was at"),
    _error("left over", "left-changed", "a state of the machine is not brought back"),
    _error("left over", "not-left-so", "the work does not end as a `leaves` line says"),
    _error("work", "cannot-refit", "a way back where nothing was taken off"),
    _error("work", "cannot-reach", "a part that cannot be reached safely from here"),
    _error("work", "too-many-steps", "repeats that would write out more steps than anyone can do"),
)

RULES: Mapping[str, Rule] = {rule.name: rule for rule in _ALL}
"""Every rule by name, in the order of the work: reading, names, values, then the rest."""

RENAMED: Mapping[str, str] = {}
"""Old names of rules that still answer: old name -> new name."""


def rule_of(name: str) -> Rule:
    """Return the rule called `name`; an old name answers too. An unknown one is our own fault."""
    return RULES[RENAMED.get(name, name)]


def nearest_rule(name: str) -> str | None:
    """Return the name of the rule that was probably meant."""
    return suggest(name, RULES)
