"""Pure functions from the walk-through and the derived lists to findings, one module a family."""

from compiler.checks.run import run_checks

__all__ = ["run_checks"]
