"""`python -m tests.seeding [MACHINES]`: seeds defects and writes tests/seeding/REPORT.md."""

from __future__ import annotations

import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

HERE = Path(__file__).resolve().parent
# The modules beside this one are no package: tests find them the same way.
sys.path.insert(0, str(HERE))

MACHINES = 64
SITES_IN_DEMO = 3


def main(machines: int) -> int:
    """Write the report; return 1 when a correct original has findings."""
    from seed_report import report
    from seed_run import demo, generated, run_folder, together

    shown = demo(HERE.parent.parent / "procedures")
    made = generated(range(machines))
    sites = [SITES_IN_DEMO] * len(shown) + [1] * len(made)
    with ProcessPoolExecutor(2) as pool:
        result = together(pool.map(run_folder, [*shown, *made], sites))
    (HERE / "REPORT.md").write_text(report(result), encoding="utf-8", newline="")
    return 1 if result.clean else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else MACHINES))
