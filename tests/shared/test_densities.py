"""What sheets weigh, against published weights.

The figures are those of makers' tables and of a builders' manual, as read there; where a
table gives a density only, the weight is that density times the volume.
"""

import pytest

from shared.lengths import INCH, METRE, MM
from shared.weighing import DENSITIES, POUND_G, grams

FOUR_BY_EIGHT = (96 * INCH, 48 * INCH, 3 * INCH // 4)


@pytest.mark.parametrize(
    ("what", "size", "kilograms"),
    [
        ("birch plywood", (METRE, METRE, 18 * MM), 12.2),
        ("birch plywood", (2440 * MM, 1220 * MM, 18 * MM), 36.4),
        ("birch plywood", (1525 * MM, 1525 * MM, 18 * MM), 28.5),
        ("chipboard", (METRE, METRE, 18 * MM), 11.7),
        ("chipboard", (2800 * MM, 2070 * MM, 18 * MM), 67.8),
    ],
)
def test_metric_sheets_weigh_what_tables_say(
    what: str, size: tuple[int, int, int], kilograms: float
) -> None:
    """Birch at 680 and chipboard at 650 kg/m3 weigh what mills state, to a tenth of a kilogram."""
    assert round(grams(*size, DENSITIES[what]) / 1000, 1) == kilograms


@pytest.mark.parametrize(
    ("what", "size", "pounds"),
    [
        ("hardwood plywood", FOUR_BY_EIGHT, 74),  # 2.3 lb per square foot at 3/4 in
        ("MDF", FOUR_BY_EIGHT, 96),  # 3 lb per square foot at 3/4 in
        ("MDF", (97 * INCH, 49 * INCH, 3 * INCH // 4), 99),
    ],
)
def test_sheets_in_inches_weigh_what_tables_say(
    what: str, size: tuple[int, int, int], pounds: int
) -> None:
    """Hardwood plywood and MDF weigh what their tables state, to a pound."""
    assert round(grams(*size, DENSITIES[what]) / POUND_G) == pounds


def test_softwood_weighs_3_lb_a_square_foot_and_inch() -> None:
    """The rule of 3 lb makes 72 lb of a 3/4 sheet; published lists go down to 61 lb."""
    weight = grams(*FOUR_BY_EIGHT, DENSITIES["softwood plywood"]) / POUND_G
    assert round(weight) == round(3 * 32 * 3 / 4)
    assert weight > 61  # what is said of lifting errs on the heavy side


def test_nothing_is_known_without_a_density() -> None:
    """A row whose density is not known weighs 0: no weight is shown of it."""
    assert grams(*FOUR_BY_EIGHT, 0) == 0
