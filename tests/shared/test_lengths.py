"""Lengths as they are read: what is taken, what is refused, what is asked.

Sources named below: the inch is 25.4 mm exactly by the international yard and pound agreement of
1959. Point or comma as the decimal mark, and a space between groups of three digits, are the
rules of the SI brochure, section 5.4.4 (from memory). The fraction slash takes all digits before
it, Unicode Standard, section 6.2 (from memory). How makers write sizes is common practice.
"""

import time

import pytest

from shared.lengths import (
    CM,
    FOOT,
    INCH,
    METRE,
    MM,
    TICK_NM,
    AmbiguousLength,
    LengthError,
    Unit,
    parse_length,
)

QUARTER = INCH // 4
SIXTY_FOURTH = 15_875  # 25,400,000 nm / 64 / 25 nm, by hand


def test_the_inch_is_25_point_4_millimetres() -> None:
    """The tick and the units agree with the 1959 agreement and with the metre's prefixes."""
    assert 10 * INCH == 254 * MM  # 1 in = 25.4 mm exactly, 1959 agreement
    assert MM * TICK_NM == 1_000_000  # 1 mm = 1,000,000 nm
    assert (CM, METRE, FOOT) == (10 * MM, 1_000 * MM, 12 * INCH)


def test_the_tick_holds_the_finest_steps_of_both_worlds() -> None:
    """One 64th, one thousandth of an inch and a hundredth of a millimetre are whole ticks."""
    assert SIXTY_FOURTH * 64 == INCH
    assert INCH == 1_016 * 1_000  # 0.001 in = 25,400 nm = 1,016 ticks
    assert MM == 400 * 100  # 0.01 mm = 10,000 nm = 400 ticks


@pytest.mark.parametrize(
    ("inches", "millimetres"),
    [  # 25.4 mm divided by hand; exact, by the 1959 agreement
        ("1/16 in", "1.5875 mm"),
        ("1/32 in", "0.79375 mm"),
        ("1/64 in", "0.396875 mm"),
        ("23 1/4 in", "590.55 mm"),
        ("1 ft", "304.8 mm"),
        ("96 in", "2438.4 mm"),
        ("39 3/8 in", "100.0125 cm"),
        ("0.5 in", "0.0127 m"),
    ],
)
def test_inches_and_millimetres_meet_exactly(inches: str, millimetres: str) -> None:
    """A size written in either unit is the same number of ticks."""
    assert parse_length(inches, Unit.MM) == parse_length(millimetres, Unit.INCH)


@pytest.mark.parametrize(
    "text",
    [  # 23 1/4 in in the ways makers write it, common practice
        "23 1/4",
        "23-1/4",
        '23-1/4"',
        "23 1/4 in",
        "23 1/4in.",
        "23 1/4 inches",
        "23-1/4-inch",
        "23.25",
        "23,25",
        "  23   1/4  ",
        "+23 1/4",
        "23¼",
        "23 ¼",
        "23-¼",
        "23¼″",
        "23 2/8",
        "23 1⁄4",
        "23\u00a01/4",
        "23\u202f1/4",
        "23‑1/4",
        "1' 11 1/4\"",
        "1'11-1/4\"",
        "1'-11 1/4\"",
        "1'-11-1/4\"",
        "1' 11 1/4",
        "1' 11.25\"",
        "1′ 11¼″",
        "1’ 11 1/4”",
        "1' 11 1/4''",
        "1 ft 11 1/4 in",
        "1ft 11 1/4in",
        "1 FT. 11 1/4 IN.",
        "1 foot-11 1/4",
        "1ft.-11¼-inch",
        "1.9375 ft",
        "1 15/16'",
        "22 + 1 1/4",
        "22+1 1/4",
        "24 - 3/4",
        "24 − 3/4",
        "2' - 0' 0 3/4\"",
        "590.55 mm",
        "59.055 cm",
        "59,0550 cm",
        "0.59055 m",
        "0,59055 metres",
        "1 + 1 + 21 1/4",
        "-1 + 24 1/4",
    ],
)
def test_twenty_three_and_a_quarter_in_every_usual_way(text: str) -> None:
    """Every usual way to write 23 1/4 in gives the same ticks."""
    assert parse_length(text, Unit.INCH) == 93 * QUARTER


@pytest.mark.parametrize(
    ("text", "ticks"),
    [  # in ticks of 25 nm: 1 mm = 40,000
        ("590.5", 23_620_000),
        ("590,5", 23_620_000),
        ("1234", 49_360_000),
        ("1.234", 49_360),
        ("0,125", 5_000),
        (",5", 20_000),
        (".5", 20_000),
        ("1234,567", 49_382_680),
        ("1,2345", 49_380),
        ("1,234.5", 49_380_000),
        ("1.234,5", 49_380_000),
        ("1 234,5", 49_380_000),
        ("12,345,678.5 mm - 12345678 mm", 20_000),
        ("1,000,000,000 mm - 999999999 mm", 40_000),
        ("1,234 1/2", 49_380_000),
        ("5/8", 25_000),
        ("5/4", 50_000),
        ("11/16", 27_500),  # proper as it stands, so no gap is missed
        ("2⁄2", 40_000),
        ("50/4", 500_000),  # no gap makes a mixed number of it
        ("1 15/16", 77_500),
        ("1' 51/4 in", 17_526_000),  # 1 ft 5 1/4 in; 51/4 in is more than a foot
        ("½", 20_000),
        ("59,05 cm", 23_620_000),
        ("0.5 m", 20_000_000),
        ('12"', 12_192_000),
        ("12 mm - 3 mm", 360_000),
        ("600 + 18 mm", 24_720_000),
        ("0", 0),
        ("-0", 0),
        ("-3/4 mm", -30_000),
        ("−5", -200_000),
        ("-1' 2\"", -14_224_000),
        ("5 - 7 1/2", -100_000),
        ("1,000,000", 40_000_000_000),
    ],
)
def test_bare_numbers_are_in_the_unit_asked_for(text: str, ticks: int) -> None:
    """With millimetres as the unit, bare numbers are millimetres and named units stay."""
    assert parse_length(text, Unit.MM) == ticks


@pytest.mark.parametrize(
    ("text", "ticks"),
    [
        ("0.0000125 mm", 1),  # half a tick (12.5 nm) goes away from zero
        ("-0.0000125 mm", -1),
        ("0.0000124 mm", 0),
        ("1/3 in", 338_667),  # 1,016,000 / 3 = 338,666.67
        ("1/3 + 1/3", 677_333),  # 677,333.33; two rounded thirds would give 677,334
        ("1/3 + 1/3 + 1/3", 1_016_000),
    ],
)
def test_a_sum_is_rounded_once(text: str, ticks: int) -> None:
    """Fractions are summed exactly and rounded to whole ticks at the end."""
    assert parse_length(text, Unit.INCH) == ticks


@pytest.mark.parametrize(
    ("text", "readings"),
    [  # a group of thousands or a decimal comma: both are in use (SI brochure 5.4.4)
        ("1,234", [("1234 mm", 49_360_000), ("1.234 mm", 49_360)]),
        ("12,500", [("12500 mm", 500_000_000), ("12.500 mm", 500_000)]),
        ("1,234 mm", [("1234 mm", 49_360_000), ("1.234 mm", 49_360)]),
        ("2 440", [("2440 mm", 97_600_000), ("2.440 mm", 97_600)]),
        ("-1,000", [("-1000 mm", -40_000_000), ("-1.000 mm", -40_000)]),
        # a mixed number that has lost its gap, or an improper fraction
        ("93/4", [("23 1/4 mm", 930_000), ("9 3/4 mm", 390_000)]),
        ("16/16", [("1 mm", 40_000), ("1 6/16 mm", 55_000)]),
        ("231⁄2", [("115 1/2 mm", 4_620_000), ("23 1/2 mm", 940_000)]),
        ("105/8", [("13 1/8 mm", 525_000), ("10 5/8 mm", 425_000)]),
        ("-12/4 in", [("-3 in", -3_048_000), ("-1 2/4 in", -1_524_000)]),
        # a dash that joins feet and inches (common practice on drawings) or a minus
        ("3' - 2\"", [("3 ft - 2 in", 34 * INCH), ("3 ft 2 in", 38 * INCH)]),
        # a bare number beside a named unit that is not the usual one
        ('1" + 3', [("1 in + 3 mm", 1_136_000), ("1 in + 3 in", 4_064_000)]),
        ("5 - 1 cm", [("5 mm - 1 cm", -200_000), ("5 cm - 1 cm", 1_600_000)]),
    ],
)
def test_what_can_be_meant_in_two_ways_is_asked(text: str, readings: list[tuple[str, int]]) -> None:
    """An ambiguous text raises with every reading, and the sentence names text and readings."""
    with pytest.raises(AmbiguousLength) as caught:
        parse_length(text, Unit.MM)
    assert caught.value.readings == tuple(readings)
    first, second = (clear for clear, _ in readings)
    assert str(caught.value) == f"“{text}” can be read as {first} or as {second}."


def test_every_doubt_is_asked_at_once() -> None:
    """Two doubts in one text give all readings that make sense, each once."""
    with pytest.raises(AmbiguousLength) as caught:
        parse_length("1,000 + 2 mm", Unit.INCH)
    assert [clear for clear, _ in caught.value.readings] == [
        "1000 in + 2 mm",
        "1000 mm + 2 mm",
        "1.000 in + 2 mm",
        "1.000 mm + 2 mm",
    ]


def test_every_place_of_a_lost_gap_is_asked() -> None:
    """A long numerator may have lost its gap at more than one place."""
    with pytest.raises(AmbiguousLength) as caught:
        parse_length("1231/64 + 3/4", Unit.INCH)
    assert [clear for clear, _ in caught.value.readings] == [
        "19 15/64 in + 3/4 in",  # 1231 = 19 x 64 + 15
        "123 1/64 in + 3/4 in",
        "12 31/64 in + 3/4 in",
    ]


def test_a_doubt_that_changes_nothing_is_not_asked() -> None:
    """If all readings come to the same length there is nothing to ask."""
    assert parse_length("1,234 - 1,234", Unit.INCH) == 0


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "nothing is written"),
        (" \t\n", "nothing is written"),
        ("1/0", "0 below the line"),
        ("23 1/0", "0 below the line"),
        ("93/4 + 1/0", "0 below the line"),
        ("23 5/4", "smaller than 1"),
        ("23 4/4", "smaller than 1"),
        ("5' 14\"", "fewer than 12"),
        ("5' 12", "fewer than 12"),
        ("1'234", "fewer than 12"),
        ("1' 3 mm", "after feet come inches"),
        ("1e3", "“e” is no unit"),
        ("inf", "“inf” is no unit"),
        ("nan", "“nan” is no unit"),
        ("12 yards", "“yards” is no unit"),
        ("3 x 5", "“x” is no unit"),
        ("1,000,000.1 mm", "longer than 1 km"),
        ("-4000' 0\"", "longer than 1 km"),
        ("99999999999999999999 ft", "longer than 1 km"),
        ("1" * 120, "write it like"),
        ("1" * 121, "more than 120 characters"),
        ("1\u200b2", "cannot be seen"),
        ("\ud800", "cannot be seen"),
        *[
            (text, "write it like")
            for text in [
                "23-1",
                "23 -1",
                "23 -1/4",
                "23- 1/4",
                "1 2",
                "1/2 3",
                "1/2 1/4",
                "5½½",
                "½5",
                "1/½",
                "1/2/3",
                "1/12/4",
                "12/4/5",
                "12/4.5",
                "23.5 1/2",
                "1.5/2",
                "5,1/2",
                "1,234/5",
                "1.5' 3\"",
                "1 1/2' 3\"",
                "3' -2\"",
                "3'- 2\"",
                '3"- 2"',
                "3 in- 2 in",
                "3 ft.- 2 in",
                "3 ft -2 in",
                "3'-",
                "5−3",
                "5−1/2",
                "5 −1/2",
                "5− 1/2",
                "1,234,5",
                "1.234.5",
                "1,234,567/8",
                "1234,567.5",
                "1.2 345 678",
                "1/2 345 678",
                "1/2 345",
                "12 1,234",
                "12 1 234",
                "1/1,234",
                "23 51/4",
                "23-51/4",
                "23 - ",
                "5 +",
                "+ 5",
                "- 5",
                "5 + -3",
                "5 - - 3",
                "--5",
                "'",
                '"',
                "mm",
                "5 mm 3",
                "5 mm mm",
                '5" 1/4',
                "23.",
                "23,",
                "1,23,456",
                "12,34,5",
                "1 2345",
                "0 250",
                "1.2.3",
                "5 - in",
                "5 -in",
                "1" * 21,
                "٣",
                "２３",
                "23²",
                "$5",
                "(5)",
                "3 × 5",
                "_5",
                "1_000",
                "5 µm",
            ]
        ],
    ],
)
def test_what_is_no_length_is_refused(text: str, reason: str) -> None:
    """Nothing is guessed: a text out of form is refused with its reason, and is not ambiguous."""
    with pytest.raises(LengthError, match=reason) as caught:
        parse_length(text, Unit.INCH)
    assert not isinstance(caught.value, AmbiguousLength)


def test_a_refusal_is_one_sentence_that_names_the_text() -> None:
    """The sentence quotes the text on one line and ends with a full stop."""
    with pytest.raises(LengthError) as caught:
        parse_length(" 12\nyards ", Unit.INCH)
    assert str(caught.value) == "“12 yards” is not a length: “yards” is no unit known here."


def test_a_long_text_is_quoted_in_part() -> None:
    """A sentence stays short whatever was pasted."""
    for size in (41, 1_000_000):
        with pytest.raises(LengthError, match=f"^“{'7' * 40}…” is not a length: .{{9,60}}$"):
            parse_length("7" * size, Unit.INCH)
    with pytest.raises(LengthError, match=f"^“{'7' * 40}” is not a length"):
        parse_length("7" * 40, Unit.INCH)


@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize(
    "piece", ["1 ", "1,", "1,234", " 123", "1 + ", "1/", "½", "- ", "1' - ", "ft-", "⁄1", "93/4 + "]
)
def test_no_text_keeps_the_parser_busy(piece: str, unit: Unit) -> None:
    """Repetition to any length takes less than a second of this thread's own work."""
    start_s = time.thread_time()
    for length in (119, 120, 100_000):
        with pytest.raises(LengthError):
            parse_length((piece * length)[:length] + "!", unit)
    assert time.thread_time() - start_s < 1
