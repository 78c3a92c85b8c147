"""What the guillotine algorithms of a general library pack can be cut, and is recognised.

The library `rectpack`, version 0.2, packs rectangles; its guillotine algorithms
divide free rectangles by cuts from edge to edge, so all they place can be cut. It knows no
kerf: parts and sheet are one kerf larger there. Merging of free rectangles is switched off,
since what is merged is not divided by cuts any more.
"""

from itertools import product
from random import Random

import pytest
import rectpack

from shared.geometry import Rect
from shared.plan import Placement
from shared.recognise import Pace, find_tree, is_cuttable, problems
from shared.tree import places

FITS = ("Baf", "Blsf", "Bssf")
SPLITS = ("Las", "Llas", "Maxas", "Minas", "Sas", "Slas")
SHEET = Rect(x=0, y=0, length=2440, width=1220)
PACE = Pace(cut_s=60, setup_s=60)


def packed(name: str, kerf: int, chance: Random) -> list[Placement]:
    """Return what an algorithm of the library places of some forty parts."""
    pack = getattr(rectpack, name)(SHEET.length + kerf, SHEET.width + kerf, rot=False, merge=False)
    for number in range(40):
        pack.add_rect(chance.randint(60, 700) + kerf, chance.randint(60, 400) + kerf, number)
    return [
        Placement(
            part=f"p{one.rid}",
            copy=1,
            sheet="1",
            x=one.x,
            y=one.y,
            length=one.width - kerf,
            width=one.height - kerf,
        )
        for one in pack
    ]


@pytest.mark.parametrize(("fit", "split"), list(product(FITS, SPLITS)))
def test_what_is_packed_by_cuts_is_cuttable(fit: str, split: str) -> None:
    """Each choice of free rectangle and of split, with a kerf and without."""
    chance = Random(f"{fit}{split}")
    for kerf in (0, 3):
        lying = packed(f"Guillotine{fit}{split}", kerf, chance)
        assert len(lying) > 10
        assert problems(SHEET, lying, kerf) == ()
        assert is_cuttable(SHEET, lying, kerf)
        tree = find_tree(SHEET, lying, kerf, pace=PACE)
        cut = {(at.part, box) for at, box in places(tree, SHEET, kerf)}
        assert cut == {(one.part, one.rect) for one in lying}
