"""A job of eighteen kinds of shelf, cut at the saw by a maker whose pace is known."""

from dataclasses import replace

from layout_app.document.document import Document
from layout_app.model.project import Project
from shared.making.work_of_cut import FIGURES, work_of
from shared.practice import USUAL_SHOP_IN
from shared.telling.recorded import recorded
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import part, planned, small_job


def long_document() -> Document:
    """Return a document of 47 cuts in the usual shop, none made yet."""
    parts = (part(f"p{i}", f"Shelf {i}", (18 + i, 10), 1 + i % 3) for i in range(18))
    made = Document(Project(job=replace(small_job(), shop=USUAL_SHOP_IN, parts=tuple(parts))))
    adopt(made, planned(made.job))
    return made


def saw_at(doc: Document, up_to: int | None = None, **pace: int) -> None:
    """Tick the cuts that are not made, up to one, in the time each takes by some figures."""
    assert doc.plan is not None
    shop = doc.job.shop
    true = {figure: pace.get(figure, getattr(shop, figure)) for figure in FIGURES}
    progress, last = doc.progress, up_to or len(doc.plan.cuts)
    for record in recorded((doc.plan,), shop).records:
        if record.number in progress.made or record.number > last:
            continue
        times = zip(FIGURES, work_of(record, shop), strict=True)
        took = round(sum(often * true[figure] for figure, often in times))
        progress = progress.with_ticks(doc.plan, [record.number])
        if record.number > 1:
            progress = progress.timed(record.number, took)
    doc.set_progress(progress)
