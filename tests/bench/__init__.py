"""How quick it is: `python -m tests.bench` measures, as ratios within one run."""
