"""A record held against its procedure: what a foreman would ask about, and nothing else."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from browser.worlds import world

from compiler.document.model import Document, StepView
from compiler.records import Calibration, judge_record, read_record
from compiler.records.limits import decimal, reading, verdict
from compiler.records.model import Entry
from compiler.records.page import walked
from records.records_support import AT, document_in, entry, record_of, retell, sealed

CRIB = {"small": Calibration("TW-01", date(2026, 12, 31))}

Change = Callable[[dict[str, Any]], None]


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> Document:
    return document_in(tmp_path_factory.mktemp("reseal"))


def faults(document: Document | None, record: dict[str, Any]) -> dict[str, str]:
    read = read_record("a.json", sealed(record))
    assert read.record is not None, read.faults
    return {f.kind: f.message for f in judge_record("a.json", read.record, document, CRIB)}


def test_work_done_as_written_is_silent(document: Document) -> None:
    assert faults(document, record_of(document)) == {}


def test_an_unticked_step_that_may_be_left_out_is_silent(document: Document) -> None:
    record = record_of(document)
    assert any(not step["done"] and step["optional"] for step in record["steps"])
    assert faults(document, record) == {}


def drop_entry(label: str) -> Change:
    def change(record: dict[str, Any]) -> None:
        record["entries"] = [e for e in record["entries"] if label not in e["label"]]

    return change


def set_entry(**values: str) -> Change:
    if "entered" in values:
        values = {"value": decimal(reading(values["entered"], "mm", "in")), **values}
    return lambda record: record["entries"][0].update(values)


def untick(record: dict[str, Any]) -> None:
    record["steps"][0]["done"] = False


def drop_step(record: dict[str, Any]) -> None:
    del record["steps"][0]


def skip_round(record: dict[str, Any]) -> None:
    record["rounds"][1].update(done=False, at="", by="")
    retell(record)


def add_round(record: dict[str, Any]) -> None:
    record["rounds"].append({**record["rounds"][0], "name": "x-1"})


def add_step(record: dict[str, Any]) -> None:
    record["steps"].append({**record["steps"][0], "step": "paint-it", "number": "9"})


def own_hand(record: dict[str, Any]) -> None:
    record["entries"][1]["entered"] = " a.  SMITH"


def back_in_time(record: dict[str, Any]) -> None:
    record["journal"].append([AT.format(0), "", "tick", "step:x", True, ""])


def late(record: dict[str, Any]) -> None:
    record.update(begun="2027-01-01T08:00:00+01:00", journal=[])


@pytest.mark.parametrize(
    ("change", "kind", "says"),
    [
        (set_entry(entered="0.06", verdict="above"), "out-of-limits", "0.06 mm is above the limit"),
        (set_entry(entered="0.06"), "wrong-verdict", "0.06 was told as 'in', but is 'above'"),
        (set_entry(entered="0.06", high="0.1"), "does-not-fit", "not those of the procedure"),
        (set_entry(unit="in"), "does-not-fit", "not those of the procedure"),
        (set_entry(entered="about", verdict="unread"), "not-entered", "about mm is no number"),
        (
            set_entry(entered="0.002 in", verdict="above"),
            "out-of-limits",
            "0.002 in (0.0508 mm) is above the limit",
        ),
        (set_entry(entered="0.0019 in", verdict="above"), "wrong-verdict", "but is 'in'"),
        (set_entry(entered="0.0019 in", value="0.0019"), "does-not-fit", "is 0.04826 mm"),
        (set_entry(entered="0.01 cm", verdict="unread", value=""), "out-of-limits", "0.01 cm"),
        (set_entry(field="measure-play"), "does-not-fit", "which no step asks for"),
        (drop_entry("Shaft runout"), "not-entered", "Shaft runout: nothing was entered"),
        (drop_entry("Released"), "not-signed", "Released: not signed"),
        (untick, "not-ticked", "steps are not ticked: 1"),
        (drop_step, "does-not-fit", "Step 1 of the procedure does not stand in the record"),
        (skip_round, "not-ticked", "Finished, but 1 of 2 rounds are not ticked: nozzle 2"),
        (lambda r: r["rounds"].pop(), "does-not-fit", "The round nozzle 2 does not stand"),
        (lambda r: r["rounds"][0].update(optional=True), "does-not-fit", "may be left out"),
        (add_round, "does-not-fit", "a round x-1, which"),
        (lambda r: r["rounds"][0].update(by="B. Jones"), "journal-differs", "round nozzle 1"),
        (add_step, "does-not-fit", "a step paint-it, which the procedure does not have"),
        (own_hand, "own-hand", "who did the work too"),
        (back_in_time, "odd-times", "go back"),
        (lambda r: r.update(ended=AT.format(2)), "odd-times", "go back"),
        (lambda r: r.update(title="Reseal it"), "does-not-fit", "title is 'Reseal it'"),
        (lambda r: r.update(revision="C"), "does-not-fit", "revision is 'C'"),
        (lambda r: r.update(machine="other"), "does-not-fit", "machine is 'other'"),
        (lambda r: r["steps"][0].update(done=False, optional=True), "does-not-fit", "may be left"),
        (lambda r: r["journal"].pop(0), "journal-differs", "step 1"),
        (set_entry(entered="0.03"), "journal-differs", "Shaft runout"),
        (lambda r: r["steps"][1].update(by="B. Jones"), "journal-differs", "step 2"),
        (lambda r: r.update(ended=""), "not-finished", "is not finished"),
        (lambda r: r.update(begun="yesterday"), "odd-times", "none"),
        (
            lambda r: r.update(begun="2027-01-01T08:00:00+01:00", journal=[]),
            "wrench-overdue",
            "TW-",
        ),
        (lambda r: r.update(content="0" * 64), "older-content", "with other content"),
    ],
)
def test_what_is_asked_about(document: Document, change: Change, kind: str, says: str) -> None:
    record = json.loads(json.dumps(record_of(document)))
    change(record)
    found = faults(document, record)
    assert kind in found
    assert says in found[kind]


def test_a_reading_in_the_second_unit_is_silent(document: Document) -> None:
    record = record_of(document)
    set_entry(entered="0.0019 in")(record)
    retell(record)
    assert faults(document, record) == {}


def test_on_the_last_day_a_wrench_is_good(document: Document) -> None:
    day = "2026-12-31T23:59:00+01:00"
    assert "wrench-overdue" not in faults(document, record_of(document, begun=day, journal=[]))


def test_of_another_content_only_the_record_itself_is_judged(document: Document) -> None:
    record = record_of(document, content="0" * 64)
    record["entries"] = [entry(document, "measure-runout", "0.06", high="0.1")]
    retell(record)
    assert set(faults(document, record)) == {"older-content"}
    record["entries"] = [entry(document, "measure-runout", "0.2", high="0.1")]
    retell(record)
    assert set(faults(document, record)) == {"older-content", "out-of-limits"}


def test_a_procedure_that_is_not_here(document: Document) -> None:
    assert set(faults(None, record_of(document))) == {"unknown-procedure"}


LIMITS = Entry("", "", "", "", "number", "", "", "", "mm", "1", "2", False, False, "", "", "", "")


@pytest.mark.parametrize(
    ("entered", "is_open", "says"),
    [
        ("1", False, "in"),
        ("1", True, "below"),
        ("2,0", False, "in"),
        ("2", True, "above"),
        (" 1.5 ", True, "in"),
        ("0.99", False, "below"),
        ("-1", False, "below"),
        ("2.0001", False, "above"),
        ("1e0", False, "unread"),
        ("1.2.3", False, "unread"),
        ("١", False, "unread"),
        ("", False, ""),
    ],
)
def test_the_verdict_is_that_of_the_page(entered: str, is_open: bool, says: str) -> None:
    limits = dataclasses.replace(LIMITS, low_open=is_open, high_open=is_open)
    assert verdict(limits, entered) == says


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        # NIST SP 811, Appendix B.8: 1 in = 25.4 mm and 1 lbf·ft = 1.355 818 N·m (rounded there).
        ("1 in", "mm", "25.4"),
        ("-.5in", "mm", "-12.7"),
        ("1 lbf·ft", "N·m", "1.355817948"),
        ("14,5 psi", "bar", "0.999739808"),
        ("212 °F", "°C", "100"),
        ("-40 °F", "°C", "-40"),
        ("0,050", "mm", "0.05"),
        ("7. mm", "mm", "7"),
        ("1 kg", "mm", ""),
        ("1 in in", "mm", ""),
        ("1 1 in", "mm", ""),
        ("in", "mm", ""),
        ("0.0000000004", "mm", "0"),
        ("-0.0000000005", "mm", "-0.000000001"),
    ],
)
def test_what_was_typed_in_the_unit_of_the_limits(typed: str, unit: str, value: str) -> None:
    assert decimal(reading(typed, unit)) == value


def test_what_is_chosen_is_judged_by_the_good_choices() -> None:
    choice = dataclasses.replace(LIMITS, kind="choice")
    assert verdict(choice, "clear", ("clear",)) == "in"
    assert verdict(choice, "milky", ("clear",)) == "out"
    assert verdict(choice, "milky") == ""


@pytest.mark.parametrize(
    ("signed", "told"),
    [
        ("A. Smith", "error"), ("smith a", "error"), ("SMITH, A.", "error"),
        ("\u00c0. Smith", "error"),
        ("\uff21. Smith", "error"), ("Anna Smith", "warning"), ("Smith", "warning"),
        ("A. B. Smith", "warning"), ("B. Smith", ""), ("A. Smithson", ""), ("B. Jones", ""),
    ],
)  # fmt: skip
def test_who_signs_for_the_work_of_oneself_in_other_letters(
    document: Document, signed: str, told: str
) -> None:
    record = record_of(document)
    record["entries"][1]["entered"] = signed
    retell(record)
    read = read_record("a.json", sealed(record))
    assert read.record is not None
    found = judge_record("a.json", read.record, document, CRIB)
    assert [f.kind for f in found] == (["own-hand"] if told else [])
    assert all(f.is_error == (told == "error") for f in found)


@pytest.mark.parametrize(
    ("gaps", "told"),
    [
        ([1, 1, 1, 1], "5 steps one after the other were ticked within 4 seconds"),
        ([0, 0, 0, 0, 0], "6 steps one after the other were ticked within a second"),
        ([30, 2, 2, 2, 2, 40], "5 steps one after the other were ticked within 8 seconds"),
        ([1, 1, 1], ""),
        ([1, 1, 3, 1, 1], ""),
        ([20] * 8, ""),
    ],
)
def test_ticks_faster_than_a_hand_can_work(document: Document, gaps: list[int], told: str) -> None:
    record = record_of(document, content="0" * 64, steps=[], entries=[])
    seconds, rows = 0, []
    for number, gap in enumerate([0, *gaps]):
        seconds += gap
        at = f"2026-11-26T08:{1 + seconds // 60:02}:{seconds % 60:02}+01:00"
        rows.append([at, "A. Smith", "tick", f"step:s{number}", True, ""])
    record["journal"] = rows
    found = faults(document, record)
    assert ("ticked-at-once" in found) == bool(told)
    assert told in found.get("ticked-at-once", "")


ENDING = """\
## file: job.proc
procedure look "Look at the press"
  revision A 2026-11-02
  measure runout "Gap at the plates" with gauge  at most 1 mm
  section see "See what it is"
    if runout is out
      "Mark the plate."
      stop "Call the lead."
  section on "Go on"
    "Close the lid."

## file: shop.proc
shop house "Trial bench"
  tools
    gauge  dial-indicator "dial indicator"
"""


@pytest.fixture(scope="module")
def ending(tmp_path_factory: pytest.TempPathFactory) -> Document:
    library, _ = world(ENDING, tmp_path_factory.mktemp("ending"))
    (document,) = library.documents
    return document


@pytest.mark.parametrize(
    ("entered", "left_out", "told"),
    [
        ("0.9", ("2.1", "2.2"), ""),
        ("1.2", ("3.1",), ""),
        ("", (), ""),
        ("0.9", ("2.1", "2.2", "3.1"), "Step 3.1 of the procedure does not stand in the record"),
        ("1.2", ("2.1", "3.1"), "Step 2.1 of the procedure does not stand in the record"),
        ("1.2", ("2.2", "3.1"), "Step 2.2 of the procedure does not stand in the record"),
        ("", ("1",), "Step 1 of the procedure does not stand in the record"),
    ],
)
def test_the_steps_of_the_ways_that_the_answers_opened_stand_there(
    ending: Document, entered: str, left_out: tuple[str, ...], told: str
) -> None:
    """As the page has it: an answer closes the other arms, a stop leaves out what comes after."""
    steps = [one for one, _ in walked(ending.body) if isinstance(one, StepView)]
    assert [step.number for step in steps] == ["1", "2.1", "2.2", "3.1"]
    record = record_of(ending, ended="", machine="", machine_title="")
    record["revision"] = "A"
    record["steps"] = [
        {
            "step": step.id, "number": step.number, "text": "", "optional": False,
            "done": False, "at": "", "by": "",
        }
        for step in steps
        if step.number not in left_out
    ]  # fmt: skip
    verdict = "above" if entered > "1" else "in"
    record["entries"] = (
        [entry(ending, "measure-runout", entered, verdict=verdict)] if entered else []
    )
    retell(record)
    found = faults(ending, record).get("does-not-fit", "")
    assert found.startswith(told)
    assert bool(found) == bool(told)
