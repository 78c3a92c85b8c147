"""Whether a job can be sawn from the words of its panels alone: ``python -m tests.soak.reading``.

Plans workshop lists (``--lists N``, all 30 if none is said) in the usual shop, with a table saw
beside it, and without a rail; a reader does what each panel says and holds what it says of pieces
against what lies there (`tests.layout_app.paper.reader`). Prints for each shop how many cuts there
were, how many were followed, how many panels and rows they have, and how often the reader went by
a rule of the reading page; of the first cut that was not followed, why.
"""

import argparse
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from layout_app.paper.matter import Matter, matter_of
from shared.job import Job
from shared.lengths import LengthStyle, Unit
from shared.practice import running_on, usual, usual_table
from shared.shop import RunsOn, Shop
from solver.budget.stop import Budget
from solver.run import run
from tests.benchmarks.neutral import load
from tests.layout_app.paper.panel_reader import panels_in_words, sayings_of
from tests.layout_app.paper.reader import Reader, reader_of

LISTS = Path(__file__).parents[1] / "benchmarks" / "workshop"


def shops(kerf: int) -> Iterator[tuple[str, Shop]]:
    """Yield three kinds of shops by their names."""
    shop = replace(usual(Unit.MM), kerf=kerf)
    yield "rail", shop
    yield "table saw", replace(shop, table=usual_table(Unit.MM))
    yield "straightedge", running_on(shop, RunsOn.STRAIGHTEDGE, Unit.MM)


def read(made: Matter) -> tuple[Reader, list[str]]:
    """Return the reader after all cuts, and why one was not followed."""
    reader, faults = reader_of(made), []
    for said in sayings_of(made):
        try:
            reader.saw(said)
        except (AssertionError, KeyError) as fault:
            faults.append(f"cut {said.number}: {str(fault)[:300] or 'not as said'}: {said}")
            break  # what comes of it is not known
    return reader, faults


def main() -> int:
    """Read the panels of all lists; returns 1 if any cut could not be followed."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--lists", type=int, default=30)
    parser.add_argument("--unit", type=Unit, choices=tuple(Unit), default=Unit.MM)
    arguments = parser.parse_args()
    counts: dict[str, Counter[str]] = {}
    for path in sorted(LISTS.glob("*.json"))[: arguments.lists]:
        job = load(path)[0].job
        for name, shop in shops(job.shop.kerf):
            made = planned(replace(job, shop=shop), arguments.unit)
            reader, faults = read(made)
            panels = panels_in_words(made)
            rows = sum(len(panel.rows) for panel in panels)
            count = counts.setdefault(name, Counter())
            count.update(cuts=len(made.told), followed=reader.sawn, panels=len(panels), rows=rows)
            count.update({f"by rule, {rule}": times for rule, times in reader.by_rule.items()})
            for fault in faults:
                print(f"{path.stem}, {name}: {fault}")
    for name, count in counts.items():
        print(f"{name}:", *(f"  {what}: {number}" for what, number in count.items()), sep="\n")
    return 0 if all(count["cuts"] == count["followed"] for count in counts.values()) else 1


def planned(job: Job, unit: Unit) -> Matter:
    """Return a job with its first plan, written as finely as can be."""
    style = LengthStyle(unit=unit, denominator=64, decimals=2)
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    return matter_of(replace(job, style=style), plan)


if __name__ == "__main__":
    raise SystemExit(main())
