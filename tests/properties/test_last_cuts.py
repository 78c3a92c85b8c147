"""What stays to be seen of a sheet's last cuts, against the cuts a plan of the same tree has."""

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings

from shared.cuts.sequence import saw_up
from shared.drawing import Role
from shared.drawing.last_cuts import cut_boxes, fall_boxes
from shared.plan import CutKind
from tests.strategies import LaidOut, laid_out


@given(laid_out())
@settings(max_examples=25)
def test_last_cuts_lie_where_the_cuts_were(drawn: LaidOut) -> None:
    """Dust and falls are those of the numbered cuts, which are derived without this drawing."""
    job = replace(drawn.job, shop=replace(drawn.job.shop, table=None))
    plan = saw_up(job, drawn.sheets)
    for sheet in plan.sheets:
        assert sheet.tree is not None
        boxes = list(cut_boxes(sheet.tree, sheet.rect, job.shop.kerf))
        cuts = [
            cut.rect
            for cut in plan.cuts
            if cut.sheet == sheet.id and cut.kind is not CutKind.FINISH
        ]
        assert {box.role for box in boxes} <= {Role.LAST_CUT}
        assert Counter(box.rect for box in boxes) == Counter(cuts)
        falls = [box.rect for box in fall_boxes(sheet.tree, sheet.rect, job.shop)]
        assert Counter(falls) == Counter(one.rect for one in plan.offcuts if one.sheet == sheet.id)
