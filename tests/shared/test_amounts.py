"""Prices and counts; how prices are written is common practice, from memory."""

import pytest

from shared.amounts import (
    HIGHEST_COUNT,
    AmountError,
    format_price,
    parse_count,
    parse_price,
)


@pytest.mark.parametrize(
    ("text", "hundredths"),
    [
        ("52", 5_200),
        ("52.00", 5_200),
        ("52,50", 5_250),
        ("52,5", 5_250),
        ("52.05", 5_205),
        (" 0 ", 0),
        (".5", 50),
        ("1,250.00", 125_000),
        ("1.250,00", 125_000),
        ("1,250,000", 125_000_000),
        ("1.250.000,50", 125_000_050),
        ("999999999.99", 99_999_999_999),
    ],
)
def test_prices_are_read_to_the_hundredth(text: str, hundredths: int) -> None:
    """A price with a point or a comma is read as whole hundredths."""
    assert parse_price(text) == hundredths


@pytest.mark.parametrize(
    "text",
    [
        *("", " ", ".", ",", "52.", "52.505", "1.234", "-5", "+5", "$5", "5 kr", "1e3", "nan"),
        *("1 2", "1,23,456", "1,234.567", "1.234.567", "0,123.45", "٣", "9" * 10, "9" * 100_000),
        *("1,250.00,00", "12,34.5"),
    ],
)
def test_what_is_no_price_is_refused(text: str) -> None:
    """A text out of form is refused in a sentence, never read in part."""
    with pytest.raises(AmountError, match=r"is not a price: .*\.$"):
        parse_price(text)


@pytest.mark.parametrize("text", ["1,250", "12,500", "0,125"])
def test_a_price_with_two_readings_is_refused(text: str) -> None:
    """Three digits after a comma may be thousands or decimals, so nothing is guessed."""
    with pytest.raises(AmountError, match=f"“{text}” can be read in two ways"):
        parse_price(text)


@pytest.mark.parametrize(
    ("hundredths", "text"),
    [(31_200, "312.00"), (5, "0.05"), (50, "0.50"), (0, "0.00"), (-5_250, "-52.50"), (-5, "-0.05")],
)
def test_prices_are_written_with_two_decimals(hundredths: int, text: str) -> None:
    """Prices and their differences always have two decimals."""
    assert format_price(hundredths) == text


def test_counts_are_whole_numbers() -> None:
    """A count is a whole number from 0 to the most that makes sense."""
    assert parse_count("12") == 12
    assert parse_count(" 007 ") == 7
    assert parse_count("0") == 0
    assert parse_count("999999") == HIGHEST_COUNT == 999_999


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        *((text, "is not a count") for text in ("", "-1", "+1", "1.0", "1,000", "two", "1 2")),
        *((text, "is not a count") for text in ("٣", "²", "1e3", "0x1", "1_000", "9" * 5_000)),
        (str(HIGHEST_COUNT + 1), "is too many"),
        ("9" * 20, "is too many"),
    ],
)
def test_what_is_no_count_is_refused(text: str, reason: str) -> None:
    """Anything else is refused in a sentence."""
    with pytest.raises(AmountError, match=reason):
        parse_count(text)
