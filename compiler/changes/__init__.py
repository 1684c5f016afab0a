"""What is different between two issues of a folder, in the words of the shop."""

from compiler.changes.compare import compare_documents, compare_libraries
from compiler.changes.model import Change, Changes, LeftOut, ProcedureChanges, VisitChanges

__all__ = [
    "Change",
    "Changes",
    "LeftOut",
    "ProcedureChanges",
    "VisitChanges",
    "compare_documents",
    "compare_libraries",
]
