"""Counts cautions: how many of each rule a hundred cuts have, and what share of cards.

python -m tests.benchmarks.cautions FILE_OR_DIR ... [--table] [--inches]

Each file is a plan. It is sawn in the usual shop with the plan's own kerf, with ``--table``
with the usual table saw.
"""

import argparse
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from layout_app.store.plan_file import read_plan
from shared.lengths import Unit
from shared.making.hazards import HAZARDS, Sort
from shared.making.record import CutRecord
from shared.making.recording import records
from shared.practice import usual, usual_table


def counted(found: Iterable[CutRecord]) -> Counter[str]:
    """Count cuts, rules by code, and cuts with a danger or with anything to mind."""
    counts: Counter[str] = Counter()
    dangers = {rule.code for rule in HAZARDS if rule.sort is Sort.DANGER}
    for record in found:
        counts.update(record.hazards)
        counts["cuts"] += 1
        counts["cards with danger"] += bool(dangers & set(record.hazards))
        counts["cards with any"] += bool(record.hazards)
    return counts


def files(paths: Iterable[Path]) -> Iterator[Path]:
    """Yield the plans named, and those in the folders named."""
    for path in paths:
        yield from sorted(path.glob("*.json")) if path.is_dir() else (path,)


def main() -> None:
    """Print the counts of all plans together."""
    parser = argparse.ArgumentParser(description="Counts cautions for each hundred cuts.")
    parser.add_argument("paths", nargs="+", type=Path)
    parser.add_argument("--table", action="store_true")
    parser.add_argument("--inches", action="store_true")
    asked = parser.parse_args()
    unit = Unit.INCH if asked.inches else Unit.MM
    total: Counter[str] = Counter()
    for path in files(asked.paths):
        plan = read_plan(path)
        kerf = plan.cuts[0].kerf if plan.cuts else usual(unit).kerf
        shop = replace(usual(unit), kerf=kerf, table=usual_table(unit) if asked.table else None)
        total += counted(records((plan,), shop))
    sorts = {rule.code: rule.sort.value for rule in HAZARDS}
    print(f"{total['cuts']} cuts; for each hundred of them:")
    for name, number in total.most_common():
        if name != "cuts":
            print(f"{100 * number / total['cuts']:7.1f}  {name:20}{sorts.get(name, '')}")


if __name__ == "__main__":
    main()
