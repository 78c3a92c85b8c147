"""How minutes are counted is said with every figure of the shop's pace."""

import re
from dataclasses import replace
from pathlib import Path

from layout_app.model.words.counting_words import how_counted
from shared.check_shop import SECONDS
from shared.lengths import Unit
from shared.practice import USUAL_SHOP, usual
from shared.shop import Support


def test_each_figure_of_the_shop_is_in_the_help() -> None:
    """Whatever figure is another, one sentence is, and says that figure."""
    before = how_counted(USUAL_SHOP, Unit.MM)
    for field in SECONDS:
        after = how_counted(replace(USUAL_SHOP, **{field: 1_234}), Unit.MM)
        changed = [new for old, new in zip(before[:-1], after[:-1], strict=True) if new != old]
        assert len(changed) == 1, field
        assert "1234 s" in changed[0]
        assert "your own" in after[-1]


def test_what_is_lifted_alone_and_where_one_walks_round_is_said() -> None:
    """23 kg or 51 lb, the NIOSH load as OSHA quotes it, and twice that; a grid turns nothing."""
    metric, inches = (" ".join(how_counted(usual(unit), unit)) for unit in (Unit.MM, Unit.INCH))
    assert "You lift 23 kg, and turn 46 kg." in metric
    assert "You lift 51 lb, and turn 102 lb." in inches
    assert "turned a quarter" not in metric
    assert "turned a quarter" in " ".join(
        how_counted(replace(USUAL_SHOP, support=Support.GRID), Unit.MM)
    )


def test_the_table_in_the_readme_is_common_practice() -> None:
    """Each kind of work with its seconds, in the order of the form's names for them."""
    text = (Path(__file__).parents[3] / "README.md").read_text("utf-8")
    table = text.split("## How minutes are counted")[1].split("\n\n")[2]
    rows = re.findall(r"^\| [^|]+ \| (\d+) \|", table, re.MULTILINE)
    assert [int(seconds) for seconds in rows] == [getattr(USUAL_SHOP, one) for one in SECONDS]
