"""Weights are typed in kilograms or pounds and kept in whole grams."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.lengths import Unit
from shared.practice import usual
from shared.weighing import WeightError, format_weight, parse_weight


@pytest.mark.parametrize(
    ("text", "unit", "grams"),
    [
        ("23", Unit.MM, 23_000),
        ("23.5 kg", Unit.INCH, 23_500),
        ("23,5", Unit.MM, 23_500),
        ("850 g", Unit.INCH, 850),
        ("1 lb", Unit.MM, 454),
        ("100", Unit.INCH, 45_359),
        ("100 lbs.", Unit.MM, 45_359),
        ("0", Unit.INCH, 0),
    ],
)
def test_weights_are_read(text: str, unit: Unit, grams: int) -> None:
    """A pound is 453.59237 g exactly (1959 agreement); a bare number goes with the lengths."""
    assert parse_weight(text, unit) == grams


@pytest.mark.parametrize("text", ["", "heavy", "-3", "5 stone", "1e3", "99999999"])
def test_what_is_no_weight_is_refused(text: str) -> None:
    """The sentence names the text."""
    with pytest.raises(WeightError, match=r"\.$"):
        parse_weight(text, Unit.MM)


def test_the_usual_load_is_written_as_it_is_published() -> None:
    """23 kg and 51 lb are the load constant of the NIOSH lifting equation, as OSHA quotes it."""
    assert format_weight(usual(Unit.MM).lift_g, Unit.MM) == "23 kg"
    assert format_weight(usual(Unit.INCH).lift_g, Unit.INCH) == "51 lb"


@given(tenths=st.integers(0, 90_000), unit=st.sampled_from(Unit))
def test_what_is_written_is_read_again(tenths: int, unit: Unit) -> None:
    """A weight of whole tenths comes back the same."""
    grams = parse_weight(f"{tenths / 10:.1f}", unit)
    assert parse_weight(format_weight(grams, unit), unit) == grams
