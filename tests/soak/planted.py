"""Errors planted in plan files: each is refused, or the file cannot show it.

``python -m tests.soak.planted`` prints how many of each kind were refused, and of a kind that
was not, why that is fair. A file is read and judged as the command ``check`` does it.
"""

import argparse
import json
import tempfile
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from random import Random
from typing import Any, Final

from layout_app.cli.check import faults
from layout_app.store.errors import FileProblem
from layout_app.store.plan_file import plan_text, read_plan
from shared.plan import Plan
from tests.soak.planted_kinds import KINDS
from tests.soak.planted_plans import good_plans
from tests.soak.planting import planted

MOST: Final = 6
"""At so many places of a plan a kind is planted at most."""


def is_refused(path: Path, raw: dict[str, Any]) -> bool:
    """Say whether a file of this content is refused."""
    path.write_text(json.dumps(raw), encoding="utf-8")
    try:
        plan = read_plan(path)
    except FileProblem:
        return True
    return bool(faults(plan))


def try_planted(
    folder: Path,
    plans: Iterable[tuple[str, Plan]],
    most: int = MOST,
    seed: int = 0,
    *,
    once: bool = False,
) -> tuple[Counter[str], Counter[str]]:
    """Plant every kind in every plan; count by kind what was planted, and what was refused.

    At ``once`` a kind is left out of a plan if it was planted in an earlier one.
    """
    chance, path = Random(seed), folder / "plan.json"
    tried, refused = Counter[str](), Counter[str]()
    for what, plan in plans:
        raw = json.loads(plan_text(plan))
        if is_refused(path, raw):
            raise RuntimeError(f"the good plan “{what}” is refused")
        for name, kind in KINDS.items():
            if once and tried[name]:
                continue
            for wrong in planted(raw, kind, chance, most):
                tried[name] += 1
                refused[name] += is_refused(path, wrong)
    return tried, refused


def slipping(tried: Counter[str], refused: Counter[str]) -> list[str]:
    """Return the kinds that were not refused everywhere, though the file can show them."""
    return [name for name in tried if refused[name] < tried[name] and not KINDS[name].fair]


def main() -> None:
    """Print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--most", type=int, default=MOST, help="places of a kind in each plan")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--short", action="store_true", help="only the small plans")
    wish = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        plans = good_plans(short=wish.short)
        tried, refused = try_planted(Path(folder), plans, wish.most, wish.seed)
    for name, kind in KINDS.items():
        if refused[name] < tried[name]:
            why = f"fair, {kind.fair}" if kind.fair else "NOT REFUSED"
            print(f"{refused[name]:5} of {tried[name]:5}  {name}: {why}")
    somewhere = sum(refused[name] < tried[name] for name in tried)
    print(
        f"{refused.total()} of {tried.total()} refused; {len(tried)} kinds planted,"
        f" {somewhere} slip somewhere, {len(slipping(tried, refused))} of them without a reason"
    )


if __name__ == "__main__":
    main()
