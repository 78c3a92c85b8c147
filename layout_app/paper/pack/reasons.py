"""Why the cards of a job say what they do: each of its rules with its reason and its source."""

from collections.abc import Iterator
from typing import Final

from layout_app.model.words.wording import numbers_in_words
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Book
from layout_app.paper.pack.tables import TableColumn
from shared.making.hazards import HAZARDS

REASONS: Final = "Dangers and handling, and why"

_COLUMNS: Final = (
    TableColumn(heading="", share=1.2),
    TableColumn(heading="Why", share=4),
    TableColumn(heading="Source", share=1.6),
    TableColumn(heading="Cuts", share=2.4),
)


def put_reasons(book: Book, matter: Matter) -> None:
    """Put the rules that any cut of the job has to mind, the heaviest first."""
    rows = list(_reasons(matter))
    if rows:
        book.headed_table(REASONS, _COLUMNS, rows)


def _reasons(matter: Matter) -> Iterator[tuple[str, ...]]:
    cuts: dict[str, list[int]] = {}
    for told in matter.told:
        for caution in told.cautions:
            cuts.setdefault(caution.code, []).append(told.number)
    for rule in HAZARDS:
        if rule.code in cuts:
            numbers = numbers_in_words(cuts[rule.code])
            yield rule.sort.capitalize(), rule.reason, rule.source, numbers
