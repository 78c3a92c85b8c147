"""What moves are said to cost against what they do: ``python -m tests.soak.costing [--n 2000]``.

Plans of workshop lists and of the demo projects are changed at random as on the bench: parts laid
elsewhere, alone, together, on a sheet opened for them or pushing others aside; set aside, resized,
drawn. Each is priced first and then made; cuts, set-ups, minutes, money and offcuts of the plan
before and after are counted by `tally` and by plain sums over both whole plans. Prints how many
were compared, of which kinds, and each that differs.
"""

import argparse
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import cycle
from pathlib import Path
from random import Random

from layout_app.document import edit_layout, edit_parts
from layout_app.document.costing import cost_of
from layout_app.document.document import Document
from layout_app.document.judging_many import judge_all
from layout_app.document.push_aside import PushAside
from layout_app.document.ticks import tick, untick
from layout_app.model import layout_edits
from layout_app.model.at_hand import rows_left
from layout_app.model.cost import Cost, Costing
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn
from layout_app.store.project_file import read_project
from shared.cuts.tally import Tally, layout_seconds, tally
from shared.lengths import MM
from shared.plan import Placement, Plan
from shared.stock import orientations
from tests.benchmarks.neutral import in_usual_shop, load
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import planned

ROOT = Path(__file__).parents[2]
LISTS, DEMOS = ROOT / "tests/benchmarks/workshop", ROOT / "assets"
STEPS_OF_ONE = 40
"""So many changes are made of a plan before the next one comes."""


def main() -> None:
    """Compare and print."""
    parser = argparse.ArgumentParser(description="Holds costs said against those found.")
    parser.add_argument("--n", type=int, default=2000)
    count, wrong = compare(parser.parse_args().n, list(documents()))
    print(dict(count))
    print("\n".join(wrong) or "all equal")


def documents(most: int = 12) -> Iterator[Document]:
    """Yield planned documents: the demo projects, then workshop lists with prices and a guide."""
    for path in sorted(DEMOS.glob("*.ripfirst.json")):
        yield _planned(read_project(path))
    for path in sorted(LISTS.glob("*.json"))[: most - 2]:
        job = in_usual_shop(load(path)[0]).job
        stock = tuple(replace(row, price=4200 + 100 * at) for at, row in enumerate(job.stock))
        shop = replace(job.shop, keep_length=300 * MM, keep_width=200 * MM)
        yield _planned(Project(job=replace(job, stock=stock, shop=shop)))


def _planned(project: Project) -> Document:
    made = Document(project)
    if not any(sheet.placements for sheet in project.layout.sheets):
        adopt(made, planned(made.job))
    return made


# --- what is said, and what is found -----------------------------------------------------


def compare(
    number: int, documents: Sequence[Document], seed: int = 1
) -> tuple[Counter[str], list[str]]:
    """Price and make so many changes; return how many of each kind, and those that differ."""
    rng, count, wrong = Random(seed), Counter[str](), list[str]()
    turns = cycle(documents)
    doc = next(turns)
    for step in range(number):
        if step and step % STEPS_OF_ONE == 0:
            doc = next(turns)
        if step % STEPS_OF_ONE == 0 or not any(one.placements for one in doc.layout.sheets):
            _begin(doc, rng)
        kind, (after, make) = change(doc, rng)
        said, before, problems = cost_of(doc, after), doc.sawn, set(doc.problems)
        make()
        if said is None:
            count[f"{kind}: cannot be cut"] += 1
            was = {one.id: one for one in before.project.layout.sheets}
            bad = {one.id for one in doc.layout.sheets if was.get(one.id) != one} & set(
                doc.problems
            )
            if not bad and not set(doc.problems) - problems and doc.sawn is not before:
                wrong.append(f"{step} {kind}: nothing said")
        elif said.mended:
            count[f"{kind}: mends"] += 1
        else:
            count[f"{kind}: beside a sheet uncut" if problems else kind] += 1
            found = _found(before, doc.sawn)
            if not said == found == Costing(before).done(doc.sawn):
                wrong.append(f"{step} {kind}: said {said}, found {found}")
        if doc.problems and rng.random() < 0.9:
            doc.undo()
    return count, wrong


def _begin(doc: Document, rng: Random) -> None:
    """Take all back, and tick a few cuts of every third plan."""
    untick(doc, doc.progress.made)
    while doc.undo_stack.canUndo():
        doc.undo_stack.undo()
    if rng.random() < 0.3:
        tick(doc, range(1, rng.randint(2, 5)))


def _found(before: Sawn, after: Sawn) -> Cost:
    """Return what the whole plan after a change takes more than the one before."""
    was, now = _tally(before), _tally(after)
    kept = [
        Counter((o.length, o.width) for o in sawn.plan.offcuts if o.keep)
        if sawn.plan
        else Counter()
        for sawn in (before, after)
    ]
    used = [_used(sawn) for sawn in (before, after)]
    return Cost(
        cuts=now.cuts - was.cuts,
        setups=now.setups - was.setups,
        minutes=_minutes(after) - _minutes(before),
        price=_price(after) - _price(before),
        opened=tuple(sheet for sheet in used[1] if sheet not in used[0]),
        freed=tuple(sheet for sheet in used[0] if sheet not in used[1]),
        gained=_largest_first(kept[1] - kept[0]),
        lost=_largest_first(kept[0] - kept[1]),
    )


def _minutes(sawn: Sawn) -> int:
    """Return the time in full minutes as far as the layout decides it: an order comes later."""
    return -(-layout_seconds(sawn.plan or Plan(), sawn.project.job.shop) // 60)


def _tally(sawn: Sawn) -> Tally:
    plan, shop = sawn.plan or Plan(), sawn.project.job.shop
    return tally(plan, shop)


def _used(sawn: Sawn) -> list[str]:
    return [sheet.id for sheet in sawn.project.layout.sheets if sheet.placements]


def _price(sawn: Sawn) -> int:
    """Add up the prices of the rows that sheets in use are of."""
    rows = {row.id: row for row in sawn.project.job.stock}
    sheets = [sheet for sheet in sawn.project.layout.sheets if sheet.placements]
    return sum(rows[sheet.stock].price or 0 for sheet in sheets)


def _largest_first(sizes: Counter[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    return tuple(sorted(sizes.elements(), key=lambda one: (-one[0] * one[1], one)))


# --- changes, drawn at random -----------------------------------------------------------

Change = tuple[Project, Callable[[], object]]
"""What a project is to become, and what makes it so."""


def change(doc: Document, rng: Random) -> tuple[str, Change]:
    """Return a kind of change, and one of that kind."""
    kind = rng.choice(("lay", "lay", *KINDS))
    one = rng.choice([one for sheet in doc.layout.sheets for one in sheet.placements])
    return kind, KINDS[kind](doc, one, rng)


def _lay(doc: Document, one: Placement, rng: Random) -> Change:
    """Lay a part elsewhere, or one that lies nowhere."""
    waiting = [waits.key for waits in doc.layout.waiting]
    if waiting and rng.random() < 0.5:
        part = doc.job.part(waiting[0][0])
        length, width = part.cut_length, part.cut_width
        one = replace(one, part=part.id, copy=waiting[0][1], length=length, width=width)
        one = replace(one, turned=False)
    return _laid(doc, [_good(doc, one, rng)])


def _lay_together(doc: Document, one: Placement, rng: Random) -> Change:
    """Lay up to three parts of a sheet elsewhere as one."""
    beside = doc.layout.sheet(one.sheet).placements
    chosen = rng.sample(beside, min(3, len(beside)))
    to = _elsewhere(doc, chosen[0], rng)
    x, y = to.x - chosen[0].x, to.y - chosen[0].y
    return _laid(doc, [replace(p, sheet=to.sheet, x=p.x + x, y=p.y + y) for p in chosen])


def _open_sheet(doc: Document, one: Placement, rng: Random) -> Change:
    """Lay a part at the corner of a sheet that is opened for it; elsewhere where none is left."""
    rows = rows_left(doc.job, doc.layout, doc.job.part(one.part).material)
    if not rows:
        return _lay(doc, one, rng)
    row = rng.choice(rows)
    sheet = layout_edits.add_sheet(doc.layout, row).sheets[-1].id
    new = [replace(one, sheet=sheet, x=row.usable.x, y=row.usable.y)]
    after = edit_layout.laid(doc, edit_layout.moving(doc, new), opens=row.id)
    return after, lambda: edit_layout.open_sheet(doc, row.id, new)


def _push(doc: Document, one: Placement, rng: Random) -> Change:
    """Lay a part onto another one, which gives way."""
    found = PushAside(doc, [one.key]).push([_elsewhere(doc, one, rng, onto=True)])
    held, aside = edit_layout.moving(doc, found.held), edit_layout.moving(doc, found.moved)
    after = edit_layout.laid(doc, [*held, *aside])
    return after, lambda: edit_layout.move_parts(doc, held, aside)


def _set_aside(doc: Document, one: Placement, rng: Random) -> Change:
    """Set one part aside, or all of its sheet."""
    keys = [p.key for p in doc.layout.sheet(one.sheet).placements]
    keys = sorted(keys if rng.random() < 0.2 else rng.sample(keys, 1))
    return edit_layout.without(doc, keys), lambda: edit_layout.set_aside(doc, keys)


def _resize(doc: Document, one: Placement, rng: Random) -> Change:
    part = doc.job.part(one.part)
    size = part.length - rng.randint(0, 40) * MM, part.width - rng.randint(-5, 20) * MM
    after = edit_parts.with_size(doc, part.id, size, one.copy)
    return after, lambda: edit_parts.resize_part(doc, part.id, *size, copy=one.copy)


def _draw(doc: Document, one: Placement, rng: Random) -> Change:
    there = _good(doc, one, rng)
    rect = replace(there.rect, length=one.length // 2, width=one.width // 2)
    after = edit_parts.with_drawn(doc, there.sheet, rect)
    return after, lambda: edit_parts.draw_part(doc, there.sheet, rect)


KINDS: dict[str, Callable[[Document, Placement, Random], Change]] = {
    "lay": _lay,
    "lay together": _lay_together,
    "open a sheet": _open_sheet,
    "push": _push,
    "set aside": _set_aside,
    "resize": _resize,
    "draw": _draw,
}


def _good(doc: Document, one: Placement, rng: Random) -> Placement:
    """Return a place for a part, one of six that can be cut if there is one."""
    places = [_elsewhere(doc, one, rng) for _ in range(6)]
    return next((p for p in places if judge_all(doc, [p]).good), places[0])


def _laid(doc: Document, placements: Sequence[Placement]) -> Change:
    new = edit_layout.moving(doc, placements)
    return edit_layout.laid(doc, new), lambda: edit_layout.move_parts(doc, new)


def _elsewhere(doc: Document, one: Placement, rng: Random, *, onto: bool = False) -> Placement:
    """Return a placement moved to a likely place: beside what lies there, or where it lies now.

    Or ``onto`` another part, which has to give way.
    """
    sheet = rng.choice(doc.layout.sheets)
    stock = doc.job.stock_row(sheet.stock)
    turned = rng.choice(orientations(doc.job.part(one.part).grain_rule, stock.grain))
    length, width = (one.length, one.width)
    if turned != one.turned:
        length, width = width, length
    usable, kerf = stock.usable, doc.job.shop.kerf
    others = [other for other in sheet.placements if other.key != one.key]
    xs = [
        usable.x,
        *(p.right + kerf for p in (other.rect for other in others)),
        *(p.x for p in others),
    ]
    ys = [
        usable.y,
        *(p.bottom + kerf for p in (other.rect for other in others)),
        *(p.y for p in others),
    ]
    free = [
        (x, y)
        for x in xs
        for y in ys
        if usable.contains(rect := replace(one.rect, x=x, y=y, length=length, width=width))
        and not any(rect.overlaps(other.rect) for other in others)
    ]
    if onto and others:
        under = rng.choice(others)
        return replace(one, sheet=sheet.id, x=under.x, y=under.y)
    x, y = rng.choice(free or [(rng.choice(xs), rng.choice(ys))])
    return replace(one, sheet=sheet.id, x=x, y=y, length=length, width=width, turned=turned)


if __name__ == "__main__":
    main()
