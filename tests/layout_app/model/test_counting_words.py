"""How minutes are counted is said with every figure of the shop's pace."""

from dataclasses import replace

from layout_app.model.words.counting_words import how_counted
from shared.check_shop import SECONDS
from shared.lengths import Unit
from shared.practice import USUAL_SHOP
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
    """23 kg or 51 lb, the NIOSH load as OSHA quotes it; on a grid nothing is turned a quarter."""
    metric, inches = (" ".join(how_counted(USUAL_SHOP, unit)) for unit in (Unit.MM, Unit.INCH))
    assert "You lift 23 kg alone." in metric
    assert "lb alone." in inches
    assert "turned a quarter" not in metric
    assert "turned a quarter" in " ".join(
        how_counted(replace(USUAL_SHOP, support=Support.GRID), Unit.MM)
    )
