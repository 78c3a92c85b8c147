"""Lengths as they are written: rounded, reduced, with their remainder, sign and unit.

Reduced fractions without trailing zeros are common practice on cut lists.
"""

import pytest

from shared.lengths import (
    INCH,
    MM,
    LengthStyle,
    Unit,
    format_down,
    format_exact,
    format_length,
    format_mark,
    format_pair,
    format_up,
    format_with_remainder,
    round_down,
    round_nearest,
    round_up,
    step,
    with_unit,
)

SIXTEENTHS = LengthStyle(denominator=16)
THIRTY_SECONDS = LengthStyle(denominator=32)
SIXTY_FOURTHS = LengthStyle(denominator=64)
WHOLE_MM = LengthStyle(unit=Unit.MM, decimals=0)
TENTHS_MM = LengthStyle(unit=Unit.MM, decimals=1)
HUNDREDTHS_MM = LengthStyle(unit=Unit.MM, decimals=2)

QUARTER = INCH // 4
SIXTY_FOURTH = 15_875  # 25,400,000 nm / 64 / 25 nm, by hand


@pytest.mark.parametrize(
    ("ticks", "style", "text"),
    [  # reduced mixed fractions, no trailing zeros: common practice on cut lists
        (93 * QUARTER, THIRTY_SECONDS, "23 1/4"),
        (23 * INCH, THIRTY_SECONDS, "23"),
        (QUARTER, THIRTY_SECONDS, "1/4"),
        (0, THIRTY_SECONDS, "0"),
        (-93 * QUARTER, THIRTY_SECONDS, "-23 1/4"),
        (-QUARTER, THIRTY_SECONDS, "-1/4"),
        (SIXTY_FOURTH, SIXTY_FOURTHS, "1/64"),
        (SIXTY_FOURTH, THIRTY_SECONDS, "1/32"),  # a half goes away from zero
        (-SIXTY_FOURTH, THIRTY_SECONDS, "-1/32"),
        (SIXTY_FOURTH, SIXTEENTHS, "0"),
        (-SIXTY_FOURTH, SIXTEENTHS, "0"),  # never "-0"
        (INCH - 1, SIXTY_FOURTHS, "1"),
        (590 * MM + MM // 2, TENTHS_MM, "590.5"),
        (590 * MM, HUNDREDTHS_MM, "590"),
        (100 * MM, WHOLE_MM, "100"),
        (590 * MM + MM // 2, WHOLE_MM, "591"),
        (-590 * MM - MM // 2, WHOLE_MM, "-591"),
        (MM // 20, TENTHS_MM, "0.1"),
        (MM // 20, HUNDREDTHS_MM, "0.05"),
        (MM // 20 - 1, TENTHS_MM, "0"),
        (93 * QUARTER, HUNDREDTHS_MM, "590.55"),  # 23.25 x 25.4
    ],
)
def test_lengths_are_written_rounded_and_reduced(ticks: int, style: LengthStyle, text: str) -> None:
    """Inches are written as reduced mixed fractions, millimetres without trailing zeros."""
    assert format_length(ticks, style) == text


def test_the_remainder_is_told() -> None:
    """What the rounding left over comes with its sign."""
    # 7 53/64 = 7 13/16 + 1/64; 7 51/64 = 7 13/16 - 1/64
    assert format_exact(501 * SIXTY_FOURTH, SIXTEENTHS) == ("7 13/16", SIXTY_FOURTH)
    assert format_exact(499 * SIXTY_FOURTH, SIXTEENTHS) == ("7 13/16", -SIXTY_FOURTH)
    assert format_exact(INCH, TENTHS_MM) == ("25.4", 0)


@pytest.mark.parametrize(
    ("ticks", "style", "text"),
    [
        (501 * SIXTY_FOURTH, SIXTEENTHS, "7 13/16 + 1/64"),  # 7 53/64
        (499 * SIXTY_FOURTH, SIXTEENTHS, "7 13/16 - 1/64"),  # 7 51/64
        (-501 * SIXTY_FOURTH, SIXTEENTHS, "-7 13/16 - 1/64"),
        (93 * QUARTER, SIXTEENTHS, "23 1/4"),
        # 100 mm = 3.93701 in = 3 15/16 (3.9375) less 0.0005, rounded to 0.000 (0.00049)
        (100 * MM, SIXTY_FOURTHS, "3 15/16"),
        # 590 mm = 23.22835 in = 23 15/64 (23.234375) less 0.00603
        (590 * MM, SIXTY_FOURTHS, "23 15/64 - 0.006"),
        (590 * MM + 4 * MM // 100, TENTHS_MM, "590 + 0.04"),
        (93 * QUARTER, WHOLE_MM, "591 - 0.45"),  # 590.55 mm
        (590 * MM + 199, TENTHS_MM, "590"),  # 0.004975 mm is less than half of 0.01
    ],
)
def test_the_remainder_is_written_beside_the_length(
    ticks: int, style: LengthStyle, text: str
) -> None:
    """A length is written with the remainder that a careful maker adds by eye."""
    assert format_with_remainder(ticks, style) == text


@pytest.mark.parametrize(
    ("ticks", "style", "text"),
    [
        # 28 11/32 and 1/64 less, on a rule of 32nds: half a step off the mark
        (28 * INCH + 21 * SIXTY_FOURTH, THIRTY_SECONDS, "28 11/32 shy"),
        (502 * SIXTY_FOURTH, SIXTEENTHS, "7 7/8 shy"),  # 7 27/32: half a step, rounded up
        (28 * INCH + 21 * SIXTY_FOURTH, SIXTY_FOURTHS, "28 21/64"),
        # a quarter of 1/16 is 1/64: just that is still on the mark, a tick more is not
        (7 * INCH + SIXTY_FOURTH, SIXTEENTHS, "7"),
        (7 * INCH + SIXTY_FOURTH + 1, SIXTEENTHS, "7 strong"),
        (7 * INCH - SIXTY_FOURTH - 1, SIXTEENTHS, "7 shy"),
        # 590 mm = 23.22835 in = 23 15/64 less 0.00603, of a step of 0.015625
        (590 * MM, SIXTY_FOURTHS, "23 15/64 shy"),
        (894 * MM + 98 * MM // 100, TENTHS_MM, "895"),  # 0.02 of 0.1 is less than a quarter
        (894 * MM + 97 * MM // 100, TENTHS_MM, "894.97"),
        (93 * QUARTER, WHOLE_MM, "590.6"),  # 590.55
        (-894 * MM - 97 * MM // 100, TENTHS_MM, "-894.97"),
    ],
)
def test_a_length_off_the_mark_is_shy_or_strong(ticks: int, style: LengthStyle, text: str) -> None:
    """By hand: a quarter of a step is 1/64, 1/128, 1/256 in, 0.25, 0.025, 0.0025 mm."""
    assert format_mark(ticks, style) == text


def test_fits_round_down_and_covers_round_up() -> None:
    """Rounding down never enlarges, rounding up never shrinks, whatever the sign."""
    length = 93 * QUARTER + 1
    assert round_down(length, SIXTEENTHS) == 93 * QUARTER
    assert round_up(length, SIXTEENTHS) == 93 * QUARTER + 4 * SIXTY_FOURTH
    assert round_down(-1, WHOLE_MM) == -MM
    assert round_up(-1, WHOLE_MM) == 0
    assert round_up(93 * QUARTER, SIXTEENTHS) == 93 * QUARTER
    assert round_nearest(length, SIXTEENTHS) == 93 * QUARTER


def test_steps_follow_the_style() -> None:
    """The finest step is the fraction or the last decimal of the style."""
    assert [step(s) for s in (SIXTEENTHS, THIRTY_SECONDS, SIXTY_FOURTHS)] == [
        4 * SIXTY_FOURTH,
        2 * SIXTY_FOURTH,
        SIXTY_FOURTH,
    ]
    assert [step(s) for s in (WHOLE_MM, TENTHS_MM, HUNDREDTHS_MM)] == [40_000, 4_000, 400]


def test_a_size_is_labelled() -> None:
    """A size is never a bare pair of numbers."""
    assert format_pair(72 * INCH, 95 * INCH // 8, THIRTY_SECONDS) == "L 72 × W 11 7/8"
    assert format_pair(1_830 * MM, 300 * MM + MM // 2, TENTHS_MM) == "L 1830 × W 300.5"


def test_the_unit_is_added_where_it_is_wanted() -> None:
    """The unit follows the number after a space."""
    assert with_unit("23 1/4", THIRTY_SECONDS) == "23 1/4 in"
    assert with_unit("590.5", TENTHS_MM) == "590.5 mm"


def test_a_style_starts_in_inches() -> None:
    """Unless told otherwise lengths are shown in inches to 1/32, or in millimetres to 0.1."""
    assert LengthStyle() == LengthStyle(unit=Unit.INCH, denominator=32, decimals=1)


def test_a_style_nobody_can_read_is_refused() -> None:
    """Only the fractions of a tape and up to two decimals can be chosen."""
    with pytest.raises(ValueError, match="not 10"):
        LengthStyle(denominator=10)
    with pytest.raises(ValueError, match="not 3"):
        LengthStyle(decimals=3)


@pytest.mark.parametrize(
    ("ticks", "style", "down", "up"),
    [
        # Three fronts 24 in high with gaps of 1/8: 7-5/6; to 1/32 down to 7-13/16, and with
        # 1/48 to spare each (workshop practice, worked by hand).
        (23_500 * INCH // 3_000, THIRTY_SECONDS, "7 13/16 strong", "7 27/32 shy"),
        # 600 mm, gaps of 2 mm: 197.33, down to 197, 1 mm spare in all.
        (592 * MM // 3, WHOLE_MM, "197.3", "197.4"),
        # 11-7/8 x 25.4 = 301.625; 18 / 25.4 = 0.70866, and 45/64 = 0.703125.
        (95 * INCH // 8, TENTHS_MM, "301.6", "301.63"),
        (18 * MM, SIXTY_FOURTHS, "45/64 strong", "23/32 shy"),
        (501 * SIXTY_FOURTH, SIXTEENTHS, "7 13/16", "7 7/8 shy"),
        (93 * QUARTER, THIRTY_SECONDS, "23 1/4", "23 1/4"),
    ],
)
def test_fits_are_written_rounded_down_and_covers_up(
    ticks: int, style: LengthStyle, down: str, up: str
) -> None:
    """By hand: what is more than a quarter of a step off the mark says on which side it is."""
    assert format_down(ticks, style) == down
    assert format_up(ticks, style) == up
