"""Records that come back from the pages: read, held against the procedures, summed up."""

from compiler.records.judge import Calibration, judge_record
from compiler.records.model import Fault, Read, Record
from compiler.records.read import read_record
from compiler.records.summary import Summary, summarize

__all__ = [
    "Calibration",
    "Fault",
    "Read",
    "Record",
    "Summary",
    "judge_record",
    "read_record",
    "summarize",
]
