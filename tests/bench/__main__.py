"""`python -m tests.bench`: measures the bars of speed and writes tests/bench/REPORT.md."""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
# The tests find the modules beside this one the same way: below the folder `tests`.
sys.path.insert(0, str(HERE.parent))


def main() -> int:
    """Write the report; a bar that is missed is told there and is no failure."""
    from bench.report import report
    from bench.rows import Size, measure

    (HERE / "REPORT.md").write_text(report(measure(Size())), encoding="utf-8", newline="")
    return 0


if __name__ == "__main__":
    sys.exit(main())
