"""What records say of rails and settings: ``python -m tests.benchmarks.recording DIR``.

Reads the plans that ``python -m tests.benchmarks tests/benchmarks/workshop --plans DIR`` wrote,
each for the usual shop with its own kerf and pace, and counts cuts whose rail lies on a side
narrower than itself though the other side is wider, and cuts whose guide or stop would size what
does not lie under the rail. Both are counted twice: as the records have it, and by the rule there
was before, which laid the rail on whatever keep side is as wide as the narrowest that carries it.
"""

import argparse
from collections import Counter
from dataclasses import replace
from pathlib import Path

from layout_app.store.plan_file import read_plan
from shared.lengths import Length
from shared.making.record import Bed, CutRecord
from shared.making.recording import records
from shared.making.settings import Device
from shared.plan import CutKind, Plan
from shared.practice import USUAL_SHOP
from shared.saw import verify
from shared.saw.records import wrong_records
from shared.shop import Axis, Shop

SIZED = {Device.GUIDE, Device.STOP}


def main() -> None:
    """Count and print."""
    parser = argparse.ArgumentParser(description="Counts what records say of rails.")
    parser.add_argument("plans", type=Path)
    counts: Counter[str] = Counter()
    for path in sorted(parser.parse_args().plans.glob("*.json")):
        counts.update(count(read_plan(path)))  # a sum would drop what is 0
    print("\n".join(f"{name}: {number}" for name, number in sorted(counts.items())))


def count(plan: Plan) -> Counter[str]:
    """Count the records of one plan."""
    was = plan.shop or USUAL_SHOP
    pace = {"cut_s": was.cut_s, "setup_s": was.setup_s, "skim_s": was.skim_s}
    shop = replace(USUAL_SHOP, tool=was.tool, kerf=was.kerf, **pace)
    plan = replace(plan, shop=shop)
    made = records((plan,), shop)
    found = Counter(
        {
            "plans": 1,
            "plans refused": bool(verify(plan)),
            "records refused": len(list(wrong_records((plan,), shop, made))),
        }
    )
    for record in made:
        found.update(_now(record, shop))
        found.update(_before(record, shop))
    return found


def _now(record: CutRecord, shop: Shop) -> Counter[str]:
    stroke, rail = record.stroke, record.rail
    under, beside = stroke.kept, stroke.other
    if record.bed is Bed.WASTE:
        under, beside = beside, under
    device = record.setting.device
    return Counter(
        {
            "cuts": 1,
            f"set by {device}": 1,
            "set anew": record.anew,
            "first of several at a set-up": record.proves,
            "rail changed": rail is not None and rail.change,
            "sizes to check": len(record.checks),
            "rail on the narrower side": _is_narrow(under, beside, shop),
            "sized beside the rail": device in SIZED and record.bed is not Bed.KEEP,
        }
    )


def _before(record: CutRecord, shop: Shop) -> Counter[str]:
    stroke = record.stroke
    on_keep = stroke.kept >= shop.carry or stroke.other < shop.carry
    under, beside = stroke.kept, stroke.other
    if not on_keep:
        under, beside = beside, under
    guide, size = shop.guide, stroke.cut.size
    rip = stroke.axis is Axis.RIP
    guided = rip and (guide is None or guide.least <= size <= guide.most)
    sized = stroke.cut.kind is not CutKind.TRIM and (guided or not rip)
    return Counter(
        {
            "before, rail on the narrower side": _is_narrow(under, beside, shop),
            "before, sized beside the rail": sized and not on_keep,
            "before, marked at both ends": rip
            and not guided
            and stroke.cut.kind is not CutKind.TRIM,
            "before, stop beyond its reach": not rip
            and sized
            and shop.stop is not None
            and size > shop.stop.most,
        }
    )


def _is_narrow(under: Length, beside: Length, shop: Shop) -> bool:
    return under < shop.rail_width and beside > under


if __name__ == "__main__":
    main()
