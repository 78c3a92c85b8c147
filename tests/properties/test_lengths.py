"""Lengths against exact fractions, for every form a maker may write.

The expected values come from `fractions.Fraction` and from the size of the units in nanometres
(1 in = 25.4 mm exactly, 1959 agreement; 12 in to the foot), not from the module under test.
"""

from fractions import Fraction
from math import floor

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shared.length_reading import LONGEST
from shared.lengths import (
    AmbiguousLength,
    LengthError,
    LengthStyle,
    Unit,
    format_down,
    format_exact,
    format_length,
    format_mark,
    format_up,
    format_with_remainder,
    parse_length,
    round_down,
    round_nearest,
    round_up,
    step,
)
from tests.examples import some_of

TICK_NM = 25
NM = {"in": 25_400_000, "ft": 304_800_000, "mm": 10**6, "cm": 10**7, "m": 10**9}
NAMES = {
    "in": [" in", "in", "in.", " inch", " inches", '"', "″", "”", "''", " IN", "-inch"],
    "ft": [" ft", "ft", "ft.", " foot", " feet", "'", "′", "’", " Ft"],
    "mm": [" mm", "mm", " MM", " millimetres", " millimeter"],
    "cm": [" cm", "cm", " centimetre", " centimeters"],
    "m": [" m", "m", " metres", " meter"],
}
VULGAR = {"½": (1, 2), "⅓": (1, 3), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8)}
SPACES = [" ", "  ", "\u00a0", "\u2009", "\u202f", "\t"]

Written = tuple[str, Fraction]
"""A text, and what it says in nanometres."""

styles = st.one_of(
    st.builds(LengthStyle, denominator=st.sampled_from([16, 32, 64])),
    st.builds(LengthStyle, unit=st.just(Unit.MM), decimals=st.sampled_from([0, 1, 2])),
)
units = st.sampled_from(Unit)
lengths = st.integers(-LONGEST // 2, LONGEST // 2)
wholes = st.integers(0, 300)


def ticks_of(nanometres: Fraction) -> int:
    """Round to ticks as promised: halves away from zero."""
    size = floor(abs(nanometres) / TICK_NM + Fraction(1, 2))
    return -size if nanometres < 0 else size


@st.composite
def fractions_below_one(draw: st.DrawFn) -> Written:
    """Write n/d below 1, for any d up to 99."""
    bottom = draw(st.integers(2, 99))
    top = draw(st.integers(0, bottom - 1))
    return f"{top}{draw(st.sampled_from('/⁄∕'))}{bottom}", Fraction(top, bottom)


@st.composite
def mixed_numbers(draw: st.DrawFn) -> Written:
    """Write a whole number and a fraction, with a gap, a dash or a vulgar fraction."""
    whole = draw(wholes)
    if draw(st.booleans()):
        sign, (top, bottom) = draw(st.sampled_from(sorted(VULGAR.items())))
        return f"{whole}{draw(st.sampled_from(['', '-', *SPACES]))}{sign}", whole + Fraction(
            top, bottom
        )
    text, part = draw(fractions_below_one())
    return f"{whole}{draw(st.sampled_from(['-', '‑', *SPACES]))}{text}", whole + part


@st.composite
def decimals(draw: st.DrawFn) -> Written:
    """Write a decimal with a point, or with a comma that cannot be a group of thousands."""
    places = draw(st.integers(1, 9))
    digits = draw(st.integers(0, 10**places - 1))
    whole = draw(wholes)
    mark = "." if places == 3 else draw(st.sampled_from(".,"))
    return f"{whole}{mark}{digits:0{places}d}", whole + Fraction(digits, 10**places)


numbers = st.one_of(
    wholes.map(lambda n: (str(n), Fraction(n))),
    fractions_below_one(),
    mixed_numbers(),
    decimals(),
)


@st.composite
def with_unit(draw: st.DrawFn) -> Written:
    """Write a number with any name of any unit."""
    text, value = draw(numbers)
    unit = draw(st.sampled_from(sorted(NM)))
    return text + draw(st.sampled_from(NAMES[unit])), value * NM[unit]


@st.composite
def feet_and_inches(draw: st.DrawFn) -> Written:
    """Write whole feet and less than 12 inches, with or without a mark for the inches."""
    feet = draw(wholes)
    text, inches = draw(numbers.filter(lambda number: number[1] < 12))
    gap = draw(st.sampled_from(["-", "", *SPACES]))
    marks = draw(st.sampled_from(NAMES["ft"])), draw(st.sampled_from(["", *NAMES["in"]]))
    return f"{feet}{marks[0]}{gap}{text}{marks[1]}", feet * NM["ft"] + inches * NM["in"]


terms = st.one_of(with_unit(), feet_and_inches())


@given(lengths, styles)
def test_what_is_written_is_read_back(steps: int, style: LengthStyle) -> None:
    """Every length on a style's steps is written so that it reads back as itself."""
    ticks = steps // step(style) * step(style)
    assert parse_length(format_length(ticks, style), style.unit) == ticks


@given(numbers, units)
def test_bare_numbers_are_read_exactly(written: Written, unit: Unit) -> None:
    """A bare number in any form is that number of the unit asked for."""
    text, value = written
    assert parse_length(text, unit) == ticks_of(value * NM[unit])


@given(terms, units, st.sampled_from(["", "+", "-", "−"]), st.sampled_from(["", *SPACES]))
def test_named_units_are_read_exactly(written: Written, unit: Unit, sign: str, pad: str) -> None:
    """A number with its unit reads the same whatever the usual unit, sign and padding."""
    text, nanometres = written
    expected = ticks_of(nanometres)
    got = parse_length(f"{pad}{sign}{text}{pad}", unit)
    assert got == (-expected if sign in ("-", "−") else expected)


@given(st.lists(with_unit(), min_size=2, max_size=4), st.data(), units)
def test_sums_are_rounded_once(written: list[Written], data: st.DataObject, unit: Unit) -> None:
    """A sum of terms with units is the sum of exact fractions, rounded at its end."""
    text, total = written[0]
    for term, value in written[1:]:
        sign = data.draw(st.sampled_from(" +-"))
        operator = {" ": "+", "+": " + ", "-": " - "}[sign]
        if operator == " - " and text.endswith(("'", "′", "’")) and not text.endswith("''"):
            operator = " + "  # after a prime a spaced dash is ambiguous, tested elsewhere
        text += operator + term
        total += -value if operator == " - " else value
    assert parse_length(text, unit) == ticks_of(total)


@given(st.lists(numbers, min_size=1, max_size=5), units)
def test_bare_sums_are_in_the_usual_unit(written: list[Written], unit: Unit) -> None:
    """A sum of bare numbers is in the unit asked for."""
    text = " + ".join(number for number, _ in written)
    total = sum((value for _, value in written), Fraction(0))
    assert parse_length(text, unit) == ticks_of(total * NM[unit])


@given(st.integers(1, 999), st.integers(0, 999), units, st.sampled_from(", "))
def test_a_lone_group_of_three_digits_is_asked(head: int, tail: int, unit: Unit, mark: str) -> None:
    """One group of three digits after a comma or a space has two readings, never a guess."""
    with pytest.raises(AmbiguousLength) as caught:
        parse_length(f"{head}{mark}{tail:03d}", unit)
    thousands = Fraction(1000 * head + tail) * NM[unit]
    got = [ticks for _, ticks in caught.value.readings]
    assert got == [ticks_of(thousands), ticks_of(thousands / 1000)]


alphabet = st.sampled_from("0123456789 0123456789 ''\"\"//..,,+-−–½¼⁄ inftmc m\u00a0′″x\n")
scribbles = st.one_of(st.text(max_size=150), st.text(alphabet, max_size=40))
tokens = st.sampled_from(
    [
        "1",
        "23",
        "250",
        "1,234",
        "1/4",
        "½",
        ".5",
        "0",
        "'",
        '"',
        " ",
        " - ",
        " + ",
        "-",
        "mm",
        "in",
        "ft",
    ]
)
salads = st.lists(tokens, max_size=8).map("".join)


def outcome(text: str, unit: Unit) -> int | LengthError:
    """What comes of a text; anything else that is raised fails the test."""
    try:
        return parse_length(text, unit)
    except LengthError as error:
        return error


@settings(max_examples=some_of(1000), deadline=2000)
@given(st.one_of(scribbles, salads), units)
def test_any_text_is_read_or_refused(text: str, unit: Unit) -> None:
    """Any text gives whole ticks or a LengthError of one line, in good time."""
    got = outcome(text, unit)
    if isinstance(got, LengthError):
        assert str(got).isprintable()
        assert str(got).endswith(".")
    else:
        assert type(got) is int
        assert abs(got) <= LONGEST


@given(
    st.integers(1_000, 10**6 - 1),
    st.integers(0, 10**4 - 1).map(lambda n: f"{n:04d}"),
    st.sampled_from([(",", "."), (".", ","), *((space, m) for space in SPACES for m in ".,")]),
)
def test_groups_beside_decimals_are_clear(whole: int, tail: str, marks: tuple[str, str]) -> None:
    """Groups of three digits before another decimal mark can only be thousands."""
    group, mark = marks
    text = f"{whole:,}".replace(",", group) + mark + tail
    assert parse_length(text, Unit.MM) == ticks_of(Fraction(f"{whole}.{tail}") * NM["mm"])


@given(st.integers(1, 300), st.integers(1, 31), st.sampled_from([8, 16, 32, 64]), units)
def test_a_lost_gap_is_asked(whole: int, top: int, bottom: int, unit: Unit) -> None:
    """A mixed number without its gap and the improper fraction it seems are both offered."""
    improper = Fraction(int(f"{whole}{top}"), bottom)
    assume(top < bottom and improper >= 1)
    with pytest.raises(AmbiguousLength) as caught:
        parse_length(f"{whole}{top}/{bottom}", unit)
    got = {ticks for _, ticks in caught.value.readings}
    assert got >= {ticks_of(n * NM[unit]) for n in (improper, whole + Fraction(top, bottom))}


groups = st.builds(
    "{}{}{:03d}{}".format,
    st.integers(1, 999),
    st.sampled_from(", "),
    st.integers(0, 999),
    st.sampled_from(["", " mm", " cm", '"']),
)
dashes = st.builds("{}' - {}{}".format, wholes, st.integers(1, 11), st.sampled_from(["", '"']))
sums = st.lists(
    st.one_of(groups, dashes, numbers.map(lambda n: n[0]), terms.map(lambda n: n[0])), max_size=3
)


@given(st.one_of(groups, dashes), sums, units, units)
def test_every_reading_offered_is_clear(
    doubt: str, rest: list[str], unit: Unit, other: Unit
) -> None:
    """The text of each reading says its length without doubt, whatever the usual unit."""
    with pytest.raises(AmbiguousLength) as caught:
        parse_length(" + ".join([doubt, *rest]), unit)
    readings = caught.value.readings
    assert len({ticks for _, ticks in readings}) == len(readings) > 1
    for clear, ticks in readings:
        assert abs(ticks) > LONGEST or outcome(clear, other) == ticks


@given(lengths, styles)
def test_shown_and_remainder_make_the_length(ticks: int, style: LengthStyle) -> None:
    """What is written and the remainder add up, and the remainder is half a step at most."""
    text, remainder = format_exact(ticks, style)
    assert parse_length(text, style.unit) + remainder == ticks
    assert 2 * abs(remainder) <= step(style)


@given(lengths, styles)
def test_signs_are_written_alike(ticks: int, style: LengthStyle) -> None:
    """A negative length is the positive one with a minus in front, and zero has none."""
    text = format_length(abs(ticks), style)
    assert format_length(-abs(ticks), style) == (text if text == "0" else f"-{text}")


@given(lengths, styles)
def test_rounding_brackets_the_length(ticks: int, style: LengthStyle) -> None:
    """Down and up enclose a length by less than a step, and the nearest is one of the two."""
    low, high = round_down(ticks, style), round_up(ticks, style)
    assert low <= ticks <= high
    assert high - low == (0 if ticks % step(style) == 0 else step(style))
    assert low % step(style) == high % step(style) == 0
    assert round_nearest(ticks, style) in (low, high)


@given(st.integers(-(10**5), 10**5), styles)
def test_a_remainder_reads_back_as_a_sum(steps: int, style: LengthStyle) -> None:
    """A length on 64ths or hundredths, written with its remainder, reads back as itself."""
    ticks = steps * (25_400_000 // 64 // TICK_NM if style.unit is Unit.INCH else 400)
    assert parse_length(format_with_remainder(ticks, style), style.unit) == ticks


@given(st.integers(-(10**7), 10**7), styles)
def test_a_mark_is_less_than_a_step_off_and_says_on_which_side(
    ticks: int, style: LengthStyle
) -> None:
    """What must fit is never larger than the length, what must cover never smaller.

    Where no side is named, the mark is at most a quarter of a step off.
    """
    whole, quarter = step(style), Fraction(step(style), 4)
    for write, low, high in ((format_down, 0, whole), (format_up, -whole, 0)):
        text, _, side = write(ticks, style).partition(" s")
        over = ticks - parse_length(text, style.unit)
        assert low <= over <= high
        assert (side == "hy") <= (over < -quarter)
        assert (side == "trong") <= (over > quarter)
        assert side or abs(over) <= quarter
    near, _, _ = format_mark(ticks, style).partition(" s")
    assert abs(ticks - parse_length(near, style.unit)) <= whole / 2
