"""What sheets weigh, against published figures that are not those in the code.

Ranges of densities, in kg/m3, each from two sources that the code does not use:

- EN 1991-1-1, table A.3 (from memory): softwood plywood 5.0 kN/m3, birch plywood 7.0,
  chipboard 7.0 to 8.0, medium density fibreboard 8.0;
- ASCE 7, table C3.1-1 (from memory): plywood 0.4 lb per square foot for each 1/8 in;
- a plywood maker's page (read): poplar core 520, birch 650 to 700, eucalyptus 570 to 600;
- a page on the weight of MDF (read): 680 to 830;
- ANSI A208.1 (from memory): medium density particleboard 40 to 50 lb per cubic foot.
"""

import pytest

from shared.lengths import FOOT, INCH, METRE, MM
from shared.weighing import DENSITIES, POUND_G, grams

G = 9.80665
"""Standard acceleration of free fall, m/s2: what makes kilograms of newtons."""
POUND_KG, FOOT_M = 0.45359237, 0.3048
PUBLISHED = {
    "softwood plywood": (5000 / G, 0.4 * 8 * 12 * POUND_KG / FOOT_M**3),
    "hardwood plywood": (520, 700),
    "birch plywood": (650, 7000 / G),
    "MDF": (680, 830),
    "chipboard": (40 * POUND_KG / FOOT_M**3, 8000 / G),
}


@pytest.mark.parametrize("what", sorted(DENSITIES))
def test_a_sheet_weighs_what_is_published(what: str) -> None:
    """18 mm, 2440 x 1220 mm: between the lightest and the heaviest that is published."""
    least, most = (0.018 * 2.440 * 1.220 * density for density in PUBLISHED[what])
    weight = grams(2440 * MM, 1220 * MM, 18 * MM, DENSITIES[what]) / 1000
    assert least <= weight <= most


def test_softwood_errs_on_the_heavy_side() -> None:
    """Published lists go down to 61 lb for a 3/4 sheet of 4 x 8 ft; lifting is warned of sooner."""
    weight = grams(8 * FOOT, 4 * FOOT, 3 * INCH // 4, DENSITIES["softwood plywood"]) / POUND_G
    assert 61 < weight < 61 * 1.25


def test_a_worked_example_of_the_weight_of_mdf() -> None:
    """4 x 8 ft, 1/2 in, 700 kg/m3: 26.39 kg, as a page reckons with 0.0833 and 0.0283 (read)."""
    assert grams(8 * FOOT, 4 * FOOT, INCH // 2, 700) / 1000 == pytest.approx(26.39, rel=0.003)


def test_one_cubic_metre_of_water() -> None:
    """The kilogram was meant to be a litre of water: 10 mm of it over a square metre are 10 kg."""
    assert grams(METRE, METRE, 10 * MM, 1000) == 10_000


def test_nothing_is_known_without_a_density() -> None:
    """A row whose density is not known weighs 0: no weight is shown of it."""
    assert grams(8 * FOOT, 4 * FOOT, 3 * INCH // 4, 0) == 0
