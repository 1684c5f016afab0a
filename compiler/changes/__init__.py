"""What is different between two issues of a folder, in the words of the shop."""

from compiler.changes.compare import compare_documents, compare_libraries
from compiler.changes.model import Change, Changes, LeftOut, ProcedureChanges

__all__ = [
    "Change",
    "Changes",
    "LeftOut",
    "ProcedureChanges",
    "compare_documents",
    "compare_libraries",
]
