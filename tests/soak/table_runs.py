"""Sheets at random whose narrow runs go to the table saw, sawn by the independent saw.

python -m tests.soak.table_runs --n 10000
"""

import argparse
from random import Random

from tests.solver.assemble.test_table_runs import check_at_random


def main() -> None:
    """Check so many sheets; say which are refused, or leave other offcuts than they did."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=1000)
    parser.add_argument("--first", type=int, default=0)
    asked = parser.parse_args()
    went, wrong = 0, []
    for seed in range(asked.first, asked.first + asked.n):
        try:
            went += check_at_random(Random(seed))
        except AssertionError:
            wrong.append(seed)
    print(f"sheets={asked.n} table_runs={went} wrong={len(wrong)}", *wrong)


if __name__ == "__main__":
    main()
