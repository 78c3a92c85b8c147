"""How exports are wished: paper, colours, unit, division of label sheets."""

from dataclasses import dataclass, field

from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.label_sheet import LabelSheet
from shared.lengths import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportWish:
    """What the maker chose for exports.

    Attributes
    ----------
    paper
        Of PDF and of drawings that are fitted to a page.
    black
        Drawings in black and white; the pack always is.
    fitted
        Drawings fitted to a page with a stated scale, instead of true size.
    labels
        How sheets of labels are divided.
    unit
        In which sizes are written; ``None`` as the project says.
    """

    paper: Paper = Paper.A4
    black: bool = False
    fitted: bool = False
    labels: LabelSheet = field(default_factory=LabelSheet)
    unit: Unit | None = None
