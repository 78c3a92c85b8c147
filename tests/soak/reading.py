"""Whether a job can be sawn from the words of its cards alone: ``python -m tests.soak.reading``.

Plans workshop lists (``--lists N``, all 30 if none is said) in the usual shop, with a table saw
beside it, and without a rail; a reader does what each card says and holds what it says of pieces
against what lies there (`tests.layout_app.paper.reader`). Prints for each shop how many cards there
were, how many were followed; of the first that was not, why.
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
from tests.layout_app.paper.reader import cards_of, reader_of

LISTS = Path(__file__).parents[1] / "benchmarks" / "workshop"


def shops(kerf: int) -> Iterator[tuple[str, Shop]]:
    """Yield three kinds of shops by their names."""
    shop = replace(usual(Unit.MM), kerf=kerf)
    yield "rail", shop
    yield "table saw", replace(shop, table=usual_table(Unit.MM))
    yield "straightedge", running_on(shop, RunsOn.STRAIGHTEDGE, Unit.MM)


def read(made: Matter) -> tuple[int, list[str]]:
    """Return how many cards were followed, and why each of the others was not."""
    reader, faults, cards = reader_of(made), [], cards_of(made)
    for card in cards:
        try:
            reader.saw(card)
        except (AssertionError, KeyError) as fault:
            faults.append(f"{str(fault)[:300] or 'not as said'}: {card[:400]}")
            break  # what comes of it is not known
    return reader.sawn, faults


def main() -> int:
    """Read the cards of all lists; returns 1 if any could not be followed."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--lists", type=int, default=30)
    parser.add_argument("--unit", type=Unit, choices=tuple(Unit), default=Unit.MM)
    arguments = parser.parse_args()
    cards: Counter[str] = Counter()
    followed: Counter[str] = Counter()
    for path in sorted(LISTS.glob("*.json"))[: arguments.lists]:
        job = load(path)[0].job
        for name, shop in shops(job.shop.kerf):
            made = planned(replace(job, shop=shop), arguments.unit)
            number, faults = read(made)
            cards[name] += len(made.told)
            followed[name] += number
            for fault in faults:
                print(f"{path.stem}, {name}: {fault}")
    for name, count in cards.items():
        print(f"{name}: {followed[name]} of {count} cards followed")
    return 0 if cards == followed else 1


def planned(job: Job, unit: Unit) -> Matter:
    """Return a job with its first plan, written as finely as can be."""
    style = LengthStyle(unit=unit, denominator=64, decimals=2)
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    return matter_of(replace(job, style=style), plan)


if __name__ == "__main__":
    raise SystemExit(main())
