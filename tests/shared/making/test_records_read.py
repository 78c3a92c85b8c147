"""The simulated saw reads records: right ones of random jobs, and wrong ones planted in them."""

from collections.abc import Iterator
from dataclasses import fields, replace
from functools import cache
from random import Random

import pytest

from shared.geometry import Rect
from shared.lengths import METRE, MM
from shared.making.lifting import Moved
from shared.making.outcome import PieceFate
from shared.making.record import (
    Bearers,
    Bed,
    CutRecord,
    Edge,
    Face,
    Guard,
    RailLaid,
    SheetCheck,
    SizeCheck,
    Squared,
    SquaredBy,
    Way,
)
from shared.making.recording import records
from shared.making.settings import Device
from shared.plan import Keep
from shared.saw.records import wrong_records
from shared.shop import Rail, Support
from tests.soak.recording import any_plan, any_shop, compare

UNSEEN = {"find_hazards"}
"""What follows from rules of what can happen, not from what lies there."""
JOBS = 40
SEEDS = (10, 16, 19, 21, 33, 36)
"""Small jobs that have joined rails, an edge guide, a table saw and faces between them."""


def test_records_of_random_jobs_lie() -> None:
    """Every way to lead, every bed and device comes; no plan is refused, and no record."""
    counts, refused = compare(JOBS)
    assert refused == []
    assert counts["not accepted"] == 0
    wanted = [f"led by {one}" for one in Way] + [f"on {one}" for one in Bed]
    wanted += [f"set by {one}" for one in Device]
    wanted += ["rail changed", "rails joined", "rails parted", "sizes to check", "proves"]
    assert [one for one in wanted if not counts[one]] == []


def wrong_rails(laid: RailLaid | None) -> Iterator[RailLaid | None]:
    """Yield a rail with one figure wrong each, and none."""
    if laid is None:
        yield RailLaid(
            rail=Rail(length=1),
            run_up=0,
            run_out=0,
            enough=True,
            change=False,
            fetched=False,
            joins=False,
            parted=False,
            edge_at=0,
            width=0,
        )
        return
    yield None
    rail = laid.rail
    yield replace(laid, rail=replace(rail, length=rail.length + 1))
    yield replace(laid, rail=replace(rail, joined=rail.joined + 1))
    yield replace(laid, rail=replace(rail, joined=0))
    yield replace(laid, rail=replace(rail, count=rail.count + 1))
    yield replace(laid, run_up=laid.run_up + 1)
    yield replace(laid, run_out=laid.run_out - 1)
    far = laid.run_up + laid.run_out
    yield replace(laid, run_up=far + 4, run_out=-4)
    yield replace(laid, enough=not laid.enough)
    yield replace(laid, change=not laid.change)
    yield replace(laid, fetched=not laid.fetched)
    yield replace(laid, joins=not laid.joins)
    yield replace(laid, parted=not laid.parted)
    yield replace(laid, edge_at=laid.edge_at + 1)
    yield replace(laid, width=laid.width + 1)


def others(record: CutRecord, name: str) -> Iterator[object]:  # noqa: PLR0912 - one a field
    """Yield wrong values of one field of a good record."""
    now = getattr(record, name)
    match name:
        case "stroke":
            yield replace(now, cut=replace(now.cut, size=now.cut.size + 1))
            yield replace(now, cut=replace(now.cut, number=now.cut.number + 1))
            yield replace(now, sheet=replace(now.sheet, thickness=1))
            yield replace(now, near=Rect(x=0, y=0, length=1, width=1))
            yield replace(now, far=Rect(x=0, y=0, length=1, width=1))
            yield replace(now, piece=replace(now.piece, length=now.piece.length + 1))
            yield replace(now, axis=now.axis.other)
        case "since" | "grams":
            yield now + 1
        case "makes" | "left":
            yield from _wrong_side(now)
        case "way" | "bed" | "entry" | "up" | "support" | "moved":
            kinds = {"way": Way, "bed": Bed, "entry": Edge, "up": Face, "support": Support}
            kinds["moved"] = Moved
            yield from (one for one in kinds[name] if one is not now)
        case "rail":
            yield from wrong_rails(now)
        case "setting":
            yield from (replace(now, device=one) for one in Device if one is not now.device)
            yield replace(now, size=now.size + 1)
            yield replace(now, tool="another saw")
            yield replace(now, name="G99")
        case "bearers":
            yield from _wrong_bearers(now, record)
        case "anew" | "again" | "proves" | "turn_over" | "face_matters":
            yield not now
        case "checks":
            side = record.left or record.makes
            yield (*now, SizeCheck(side=side, size=1))
            if now:
                yield ()
                yield (replace(now[0], size=now[0].size + 1),)
                other = record.makes if now[0].side is record.left else record.left
                if other is not None:
                    yield (replace(now[0], side=other),)
        case "position":
            yield 1 if now is None else None
            if now is not None:
                yield now + 1
        case "squared":
            yield from _wrong_squares(now)
        case "sheet_check":
            none = SheetCheck(rail=None, straight_first=False, bow=0, absorbs=0)
            yield none if now is None else None
            if now is not None:
                yield replace(now, straight_first=not now.straight_first)
                yield replace(now, rail=Rail(length=1))
                yield replace(now, bow=now.bow + 100 * MM)
                yield replace(now, absorbs=now.absorbs + METRE)
        case "guards":
            yield () if now else (Guard.SCORE,)
            if record.way is Way.RAIL and now:
                yield (Guard.SCORE,) if Guard.SPLINTER_GUARD in now else (Guard.SPLINTER_GUARD,)


def _wrong_squares(now: Squared | None) -> Iterator[Squared | None]:
    every = (Squared(edge=edge, by=by) for edge in Edge for by in SquaredBy)
    yield from (one for one in (None, *every) if one != now)


def _wrong_bearers(now: Bearers | None, record: CutRecord) -> Iterator[Bearers | None]:
    """Yield bearers where there are none, too few, and such as lie elsewhere."""
    if now is None:
        yield Bearers(keep=(record.stroke.kept // 2,), other=())
        return
    yield None
    wide = record.stroke.kept
    wrong = ((), (-1,), (wide + 1,), *(((now.keep[0],), now.keep[1:]) if now.keep[1:] else ()))
    yield from (replace(now, keep=at) for at in wrong)
    yield replace(now, other=() if now.other else (1,))


def _wrong_side(side: object) -> Iterator[object]:
    if side is None:
        return
    yield None
    yield replace(side, name="1zz")
    yield replace(side, rect=Rect(x=0, y=0, length=1, width=1))
    yield from (replace(side, end=one) for one in PieceFate if one is not side.end)
    yield replace(side, part="Part 99")
    yield replace(side, next_cut=side.next_cut + 1)


@cache
def good(seed: int) -> tuple[tuple, tuple[CutRecord, ...]] | None:
    """Return plans, shop and records of a random job."""
    rng = Random(seed)
    shop = any_shop(rng)
    plan = any_plan(rng, shop)
    return None if plan is None else (((plan,), shop), records((plan,), shop))


@pytest.mark.parametrize("name", [one.name for one in fields(CutRecord) if one.name not in UNSEEN])
def test_a_wrong_value_in_any_field_is_refused(name: str) -> None:
    """Each wrong value is planted in a good record of another job by turns, and refused."""
    tried, missed = 0, []
    for seed in SEEDS:
        found = good(seed)
        if found is None:
            continue
        job, made = found
        for at in {0, len(made) // 2, len(made) - 1}:
            for value in others(made[at], name):
                planted = (*made[:at], replace(made[at], **{name: value}), *made[at + 1 :])
                tried += 1
                if not any(wrong_records(*job, planted)):
                    missed.append((seed, at, value))
    assert tried > 5
    assert missed == []


def test_a_record_too_many_or_too_few_is_refused() -> None:
    """As many records as cuts, in their order."""
    found = good(SEEDS[0])
    assert found is not None
    job, made = found
    assert any(wrong_records(*job, made[1:]))
    assert any(wrong_records(*job, (*made, made[-1])))
    assert any(wrong_records(*job, (made[1], made[0], *made[2:])))
    assert made[0].stroke.cut.keep in set(Keep)
