"""Clicks at the middle of every part and tag of twelve plans: ``python -m tests.soak.clicking``.

The demo projects and ten workshop lists, each at three scales: as wide as the bench, all sheets
in view, and twice as large as the first. A click has to find the part whose middle it is, unless
another part is drawn over it there; a tag has to be found by some
point of its disc. Prints how many are not.
"""

import argparse
import json
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import product
from pathlib import Path

from PySide6.QtCore import QPointF
from PySide6.QtWidgets import QApplication

from layout_app.bench.sheet_item import SheetItem
from layout_app.bench.view import BenchView
from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.store.project_file import read_project
from shared.job import Job
from tests.benchmarks.neutral import load
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import planned

HOME = Path(__file__).resolve().parents[2]
DEMOS = sorted((HOME / "assets").glob("*.ripfirst.json"))
LISTS = sorted((HOME / "tests/benchmarks/workshop").glob("shop*.json"))[:10]
ZOOMS = ("width", "all", "twice")
STEPS = 9
"""Points looked at along either side of a tag's disc."""


def plans(number: int) -> Iterator[tuple[str, Document]]:
    """Yield documents with their first plans: the demo projects, then workshop lists."""
    for path in (*DEMOS, *LISTS)[:number]:
        document = Document(Project(job=_job(path)))
        adopt(document, planned(document.job))
        yield path.name, document


def _job(path: Path) -> Job:
    if path in DEMOS:
        return read_project(path).job
    return load(path)[0].job


def count(view: BenchView, zoom: str) -> Counter[str]:
    """Count parts and tags at a scale, and those that no click finds."""
    view.fit_all() if zoom == "all" else view.fit_width()
    if zoom == "twice":
        view.zoom(2.0)
    found: Counter[str] = Counter()
    for item in view.bench.sheet_items:
        lying = view.hand.document.layout.sheet(item.stand.sheet).placements
        for before, one in zip((lying[-1], *lying), lying, strict=False):
            (rect,) = view.bench.rects_of([one.key])
            found["parts"] += 1
            found["parts missed"] += view.hand.spot(rect.center()).part != one.key
            view.hand.document.selection.select_parts([before.key])
            found["beside a selected one missed"] += view.hand.spot(rect.center()).part != one.key
            view.hand.document.selection.clear()
        for place in range(len(item.tags(view.scale_px).written)):
            found["tags"] += 1
            found["tags missed"] += not any(_finds(view, item, place))
    return found


def _finds(view: BenchView, item: SheetItem, place: int) -> Iterator[bool]:
    """Yield whether points over a tag's disc find its tag."""
    tag = item.tags(view.scale_px).written[place]
    half = tag.diameter / 2
    for across, along in product(range(STEPS), repeat=2):
        dx, dy = (half * (2 * step / (STEPS - 1) - 1) for step in (along, across))
        if dx * dx + dy * dy <= half * half:
            at = QPointF(tag.x + dx, tag.y + dy) / view.scale_px
            spot = view.hand.spot(item.stand.rect.topLeft() + at)
            yield spot.tag is not None and spot.tag.number == tag.tag.number


def main(words: Sequence[str] | None = None) -> int:
    """Count, and print what was found."""
    parser = argparse.ArgumentParser(prog="python -m tests.soak.clicking")
    parser.add_argument("--n", type=int, default=12, help="plans")
    number = parser.parse_args(words).n
    app = QApplication.instance() or QApplication([])
    whole: Counter[str] = Counter()
    for name, document in plans(number):
        view = BenchView(document, Theme.light())
        view.resize(1000, 700)
        view.show()
        app.processEvents()
        for zoom in ZOOMS:
            found = count(view, zoom)
            print(name, zoom, json.dumps(found))
            whole += found
        view.close()
        view.deleteLater()
    print("all", json.dumps(whole))
    return int(bool(whole["parts missed"] or whole["tags missed"]))


if __name__ == "__main__":
    sys.exit(main())
