"""Minutes of random jobs, in every outlet of the library: ``python -m tests.soak.timing``.

The jobs are those of `tests.soak.recording`, each at a pace drawn at random. The simulated saw
reads the records of each; what they add up to by plain arithmetic is held against what is worked
out of the plan without them, kind by kind, and against its tally. Prints how many seconds there
were of each kind, and each job that differs.
"""

import argparse
from collections import Counter
from dataclasses import asdict, replace
from random import Random

from shared.check_shop import SECONDS
from shared.cuts.tally import tally
from shared.lengths import METRE
from shared.making.recording import records
from shared.making.timing import Counts, seconds_of, total_of, worked
from shared.saw.records import wrong_records
from shared.shop import Shop
from tests.seconds import minutes_of, seconds_by_kind
from tests.soak.recording import any_plan, any_shop

PACES = (0, 7, 15, 20, 45, 60, 61, 120)


def main() -> None:
    """Draw jobs and print the counts."""
    parser = argparse.ArgumentParser(description="Adds up the minutes of random jobs.")
    parser.add_argument("--n", type=int, default=3_000)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args()
    counts, wrong = compare(asked.n, asked.seed)
    print(dict(sorted(counts.items())))
    print("\n".join(wrong) or "none differs")


def compare(number: int, seed: int = 0) -> tuple[Counter[str], list[str]]:
    """Return seconds of each kind in so many jobs, and what differs, in words."""
    counts: Counter[str] = Counter()
    wrong: list[str] = []
    for job in range(seed, seed + number):
        rng = Random(job)
        shop = paced(any_shop(rng), rng)
        plan = any_plan(rng, shop)
        if plan is None:
            counts["not accepted"] += 1
            continue
        made = records((plan,), shop)
        refused = [one.sentence for one in wrong_records((plan,), shop, made)]
        wrong += [f"job {job}: {sentence}" for sentence in refused]
        counts["jobs"] += 1
        true, took = seconds_by_kind(made, shop), worked(plan, shop)
        counts += true
        counted = tally(plan, shop)
        alike = {
            "worked out": +Counter(asdict(took.seconds)) == true,
            "of records": +Counter(asdict(total_of(made, shop))) == true,
            "cut by cut": sum(seconds_of(one, shop).total for one in made) == true.total(),
            "tally": counted.seconds == counted.took.total == true.total(),
            "minutes": counted.minutes == minutes_of(made, shop),
            "counts": added_up(counted.counts, shop, true["cutting"]) == true,
            "sawn": counted.counts.sawn == sum(one.length for one in made),
            "changes": counted.setup_changes == max(0, sum(one.anew for one in made) - 1),
        }
        wrong += [f"job {job}: {what}" for what, same in alike.items() if not same]
    return counts, wrong


def added_up(its: Counts, shop: Shop, cutting: int) -> Counter[str]:
    """Return how often times how long, as one adds it up from a page.

    ``cutting`` is what that has to be but for what is rounded, up to half a second a cut.
    """
    about = its.cuts * shop.cut_s + its.sawn * shop.metre_s / METRE
    return +Counter(
        cutting=cutting if abs(about - cutting) <= its.cuts / 2 else -1,
        setting=its.settings * shop.setup_s,
        measuring=its.proven * shop.measure_s,
        marking=its.marked * shop.unguided_s,
        rails=its.exchanged * shop.rail_s + its.joined * shop.join_s,
        lifting=its.lifts * shop.lift_s + its.turns * shop.turn_s + its.heavy * shop.heavy_s,
        skimming=its.skims * shop.skim_s,
    )


def paced(shop: Shop, rng: Random) -> Shop:
    """Return a shop at some pace; what takes none at all is drawn too."""
    return replace(shop, **{field: rng.choice(PACES) for field in SECONDS})


if __name__ == "__main__":
    main()
