"""Prices and counts for any number and any text."""

from contextlib import suppress

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.amounts import HIGHEST_COUNT, AmountError, format_price, parse_count, parse_price
from tests.examples import some_of


@given(st.integers(0, 10**11 - 1))
def test_prices_read_back(hundredths: int) -> None:
    """Every price is written so that it reads back as itself, with a point or a comma."""
    assert parse_price(format_price(hundredths)) == hundredths
    assert parse_price(format_price(hundredths).replace(".", ",")) == hundredths
    assert parse_price(f"{hundredths // 100:,}.{hundredths % 100:02d}") == hundredths


@given(st.integers(0, HIGHEST_COUNT))
def test_counts_read_back(count: int) -> None:
    """Every count reads back as itself."""
    assert parse_count(str(count)) == count


@settings(max_examples=some_of(100))
@given(st.one_of(st.text(max_size=200), st.text("0123456789.,+- ", max_size=20)))
def test_any_text_is_an_amount_or_refused(text: str) -> None:
    """Any text gives a whole number, or an AmountError."""
    for parse in (parse_price, parse_count):
        with suppress(AmountError):
            assert parse(text) >= 0
