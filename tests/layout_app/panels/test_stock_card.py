"""The card of a row of sheets & rack: diagonals, density and weight, bad places."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.panels.bad_places import ELSEWHERE
from layout_app.panels.entry import Entry
from layout_app.panels.left_region import SHEETS, LeftRegion
from layout_app.panels.stock_card import (
    NOT_MEASURED,
    StockCard,
    density_choices,
    density_of,
    density_unit,
    place_of,
    read_density,
    read_diagonals,
    squaring_words,
    weight_words,
)
from shared.check import check_job
from shared.job import Job
from shared.lengths import INCH, MM, Length, LengthStyle, Unit
from shared.no_go import Corner
from shared.practice import usual
from shared.shop import Shop
from shared.squaring import squared
from shared.stock import NoGo, Stock, Trims
from shared.weighing import DENSITIES
from tests.layout_app.tables import ENTER, TAB, doc_of

MILLIMETRES = LengthStyle(unit=Unit.MM)
METRIC = Stock(
    id="full",
    name="full sheet",
    material="birch ply",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
)
FOUR_BY_EIGHT = replace(METRIC, length=96 * INCH, width=48 * INCH, thickness=3 * INCH // 4)


@pytest.fixture
def card(left: LeftRegion, qtbot: QtBot) -> StockCard:
    """Return the card, shown for the one row of the small job."""
    left.tabs.setCurrentIndex(SHEETS)
    left.stock.go_to("full")
    qtbot.waitUntil(left.stock_card.isVisible)
    return left.stock_card


def row(card: StockCard) -> Stock:
    """Return the row as the document has it now."""
    return card.places._document.job.stock_row("full")


def type_in(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    """Replace what a field holds and press Enter."""
    field.setFocus()
    field.clear()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, ENTER)


# --- words -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "style", "sheet", "difference"),
    [
        ("1/8", LengthStyle(), FOUR_BY_EIGHT, INCH // 8),
        ("", LengthStyle(), FOUR_BY_EIGHT, 0),
        ("-1/8", LengthStyle(), FOUR_BY_EIGHT, INCH // 8),
        ("107 3/8 and 107 1/4", LengthStyle(), FOUR_BY_EIGHT, INCH // 8),
        ("107 1/4; 107 3/8", LengthStyle(), FOUR_BY_EIGHT, INCH // 8),
        ("2726 & 2730", MILLIMETRES, METRIC, 4 * MM),
        ("272.6 cm And 2730 mm", MILLIMETRES, METRIC, 4 * MM),
    ],
)
def test_diagonals_are_read(
    text: str, style: LengthStyle, sheet: Stock, difference: Length
) -> None:
    """The difference may be typed, or both diagonals in either order and in any unit."""
    assert read_diagonals(text, sheet, style) == difference


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2730 and", "both diagonals"),
        ("and and 4", "Write the difference"),
        ("1 and 2 and 3", "both diagonals"),
        ("2440 and 2436", "are about 2728 mm"),
        ("crooked", "crooked"),
        ("1,234 and 2730", "1,234"),
    ],
)
def test_what_are_no_diagonals(text: str, said: str) -> None:
    """What cannot be read, or cannot be two diagonals of this sheet, is refused in a sentence."""
    with pytest.raises(ValueError, match=said):
        read_diagonals(text, METRIC, MILLIMETRES)


@pytest.mark.parametrize(
    ("sheet", "difference", "style", "said"),
    [
        # 4 mm x 2728 mm / (2 x 2440 mm) = 2.24 mm; with 2.2 and 2 mm it is 6.44, set to 6.5 mm
        (METRIC, 4 * MM, MILLIMETRES, "off by 2.2 mm: trims left (start) 6.5 mm, right (end) 2.3"),
        # 1/8 in makes 0.0699 in, 4.47 of 64 parts; with 2.2 mm and 2 mm it is 0.235 in,
        # set to 16/64 in
        (
            FOUR_BY_EIGHT,
            INCH // 8,
            LengthStyle(),
            "off by 1/16 in: trims left (start) 1/4 in, right (end) 5/64",
        ),
    ],
)
def test_what_the_diagonals_make(
    sheet: Stock, difference: Length, style: LengthStyle, said: str
) -> None:
    """The sentence says how far the short edge is off, and both trims as they will be set."""
    job = squared(Job(stock=(replace(sheet, diagonals=difference),)))
    assert said in squaring_words(job.stock[0], style)


def test_weights_are_said_in_the_unit_of_the_lengths() -> None:
    """18 mm birch at 1220 x 2440 is 36.4 kg, and more than one person lifts; unknown is said."""
    birch = replace(METRIC, density=DENSITIES["birch plywood"])
    assert weight_words(birch, Shop(), MILLIMETRES) == "36.4 kg"
    assert "36.4 kg, more than the 23 kg" in weight_words(birch, usual(Unit.MM), MILLIMETRES)
    mdf = replace(FOUR_BY_EIGHT, density=DENSITIES["MDF"])
    assert weight_words(mdf, Shop(), LengthStyle()) == "96 lb"
    assert weight_words(METRIC, Shop(), MILLIMETRES).startswith("not known")


@pytest.mark.parametrize("density", [0, 615, *DENSITIES.values()])
def test_every_density_has_its_place(density: int) -> None:
    """A published density is chosen by its name, another one stands as another."""
    place = place_of(density)
    assert place < len(density_choices(density))
    assert density_of(place) == (density if density != 615 else None)


@pytest.mark.parametrize(("text", "density"), [("680", 680), ("", 0), (" 650 kg/m³", 650)])
def test_densities_are_read(text: str, density: int) -> None:
    """A density is a whole number, its unit may stand behind it."""
    assert read_density(text) == density


@pytest.mark.parametrize("text", ["heavy", "-1", "6.8", "99999", "9" * 5000])
def test_what_is_no_density(text: str) -> None:
    """What is no density of a board is refused."""
    with pytest.raises(ValueError, match="whole number"):
        read_density(text)


# --- the card --------------------------------------------------------------------------


def test_the_card_is_there_for_one_row(left: LeftRegion, card: StockCard, qtbot: QtBot) -> None:
    """It takes no room until a row is selected, and goes when the row does."""
    assert card.squaring.text() == NOT_MEASURED
    edit_job.remove_stock(doc_of(left), ["full"])
    qtbot.waitUntil(lambda: not card.isVisible())


def test_typing_diagonals_is_one_step(left: LeftRegion, card: StockCard, qtbot: QtBot) -> None:
    """The trims rise in the table as well; the sentence tells, and undo takes all of it back."""
    type_in(qtbot, card.diagonals, "107 3/8 and 107 1/4")
    assert row(card).diagonals == INCH // 8
    assert row(card).trims == Trims(start=18 * INCH // 64, end=5 * INCH // 64)
    assert card.diagonals.text() == "1/8"
    assert "off by 1/16 in" in card.squaring.text()
    assert doc_of(left).undo_stack.undoText() == "diagonals of full sheet"
    doc_of(left).undo_stack.undo()
    assert card.squaring.text() == NOT_MEASURED
    assert not card.diagonals.text()


def test_diagonals_that_cannot_be_stay_with_a_sentence(card: StockCard, qtbot: QtBot) -> None:
    """What is no pair of diagonals of this sheet stays in the field, and nothing changes."""
    type_in(qtbot, card.diagonals, "96 and 95 7/8")
    assert card.diagonals.question is not None
    assert "about 107 11/32 in" in card.diagonals.question.sentence
    assert row(card).diagonals == 0


def test_a_density_is_chosen_or_typed(card: StockCard, qtbot: QtBot) -> None:
    """Choosing birch fills in 680 and the weight; a number of one's own is another density."""
    card.kind.setCurrentIndex(place_of(680))
    card.kind.activated.emit(place_of(680))
    assert row(card).density == 680
    assert card.density.text() == "680"
    assert card.weight.text() == "84.9 lb"
    type_in(qtbot, card.density, "615")
    assert row(card).density == 615
    assert card.kind.currentText() == "another"
    type_in(qtbot, card.density, "")
    assert row(card).density == 0
    assert card.kind.currentText() == "not known"


# --- bad places ------------------------------------------------------------------------


def test_a_damaged_corner_is_marked_with_keys(
    left: LeftRegion, card: StockCard, qtbot: QtBot
) -> None:
    """Corner, L and W, then Enter: one step marks it where the corner is."""
    card.entry.where.setCurrentIndex(list(Corner).index(Corner.BOTTOM_RIGHT))
    qtbot.keyClicks(card.entry.fields["length"], "4 1/2")
    type_in(qtbot, card.entry.fields["width"], "3")
    there = NoGo(x=91 * INCH + INCH // 2, y=45 * INCH, length=9 * INCH // 2, width=3 * INCH)
    assert row(card).no_go == (there,)
    assert doc_of(left).undo_stack.undoText() == "mark a damaged corner of full sheet"
    assert [field.text() for field in card.places.lines[0].fields] == ["91 1/2", "45", "4 1/2", "3"]
    assert not card.entry.fields["length"].text()


def test_a_knot_is_marked_where_it_lies(card: StockCard, qtbot: QtBot) -> None:
    """Elsewhere than in a corner, the place is asked for; the button marks it."""
    card.entry.where.setCurrentIndex(ELSEWHERE)
    for name, text in (("x", "30"), ("y", "0"), ("length", "2"), ("width", "1")):
        field = card.entry.fields[name]
        assert field.isVisible()
        qtbot.keyClicks(field, text)
    qtbot.mouseClick(card.entry.button, Qt.MouseButton.LeftButton)
    assert row(card).no_go == (NoGo(x=30 * INCH, y=0, length=2 * INCH, width=INCH),)
    assert card.places.lines[0].name.text() == "damaged edge"


@pytest.mark.parametrize(("length", "width", "lacks"), [("", "3", "length"), ("4", "0", "width")])
def test_half_a_bad_place_is_not_marked(
    card: StockCard, qtbot: QtBot, length: str, width: str, lacks: str
) -> None:
    """What lacks keeps the keys and says so; nothing is marked and nothing is forgotten."""
    qtbot.keyClicks(card.entry.fields["length"], length)
    qtbot.keyClicks(card.entry.fields["width"], width)
    assert not card.entry.mark()
    field: Entry = card.entry.fields[lacks]
    assert field.question is not None
    assert card.entry.fields["width"].text() == width
    assert row(card).no_go == ()


def test_a_bad_place_is_changed_and_removed(
    left: LeftRegion, card: StockCard, qtbot: QtBot
) -> None:
    """Each field is one step, so is what is kept out, and removing it."""
    knot = NoGo(x=30 * INCH, y=20 * INCH, length=2 * INCH, width=2 * INCH)
    edit_job.edit_stock(doc_of(left), replace(row(card), no_go=(knot, replace(knot, x=0))))
    first, second = card.places.lines
    type_in(qtbot, first.fields[0], "31")
    second.kept_out.activated.emit(1)
    moved = replace(knot, x=31 * INCH)
    assert row(card).no_go == (moved, replace(knot, x=0, show_only=True))
    qtbot.mouseClick(first.remove, Qt.MouseButton.LeftButton)
    assert row(card).no_go == (replace(knot, x=0, show_only=True),)
    assert len(card.places.lines) == 1
    assert card.places.lines[0].kept_out.currentText() == "no show faces"
    doc_of(left).undo_stack.undo()
    assert len(card.places.lines) == 2


@pytest.mark.parametrize(("at_hand", "left_over"), [(None, None), (5, 4)])
def test_the_one_flawed_sheet_is_set_apart(
    left: LeftRegion, card: StockCard, qtbot: QtBot, at_hand: int | None, left_over: int | None
) -> None:
    """One press gives it a row of its own; the others are sound and one fewer; one step."""
    knot = NoGo(x=30 * INCH, y=20 * INCH, length=2 * INCH, width=2 * INCH)
    whole = row(card)
    edit_job.edit_stock(doc_of(left), replace(whole, no_go=(knot,), at_hand=at_hand))
    assert card.apart.isVisible()
    qtbot.mouseClick(card.apart, Qt.MouseButton.LeftButton)
    sound, flawed = doc_of(left).job.stock
    assert sound == replace(whole, at_hand=left_over)
    assert flawed == replace(
        whole, id="sheet-1", name="full sheet, flawed", no_go=(knot,), at_hand=1
    )
    assert left.stock.chosen() == ["sheet-1"]
    assert not card.apart.isVisible()
    assert "stock-no-go-every-sheet" not in [one.code for one in check_job(doc_of(left).job)]
    doc_of(left).undo_stack.undo()
    assert row(card) == replace(whole, no_go=(knot,), at_hand=at_hand)


@pytest.mark.parametrize(
    ("changes", "focused"),
    [
        ({"diagonals": 20 * INCH}, "diagonals"),
        ({"density": -1}, "density"),
        ({"no_go": (NoGo(x=0, y=0, length=INCH, width=INCH),)}, "no_go"),
    ],
)
def test_an_issue_leads_to_its_field(
    left: LeftRegion, card: StockCard, changes: dict[str, object], focused: str
) -> None:
    """A click on what is wrong with a real sheet gives the keys to what mends it."""
    edit_job.edit_stock(doc_of(left), replace(row(card), **changes))
    left.go_to("full", focused)
    widgets = {"diagonals": card.diagonals, "density": card.kind}
    places = card.places.lines[0].fields[0] if card.places.lines else None
    widget = widgets.get(focused, places)
    assert widget is not None
    assert widget.hasFocus()


def test_keys_lead_from_the_table_through_the_card(
    left: LeftRegion, card: StockCard, qtbot: QtBot
) -> None:
    """From a row the keys go to its card, and Tab goes on there, line by line."""
    knot = NoGo(x=30 * INCH, y=20 * INCH, length=2 * INCH, width=2 * INCH)
    edit_job.edit_stock(doc_of(left), replace(row(card), no_go=(knot, knot)))
    left.go_to_card()
    assert card.diagonals.hasFocus()
    lines = [(*one.fields, one.kept_out, one.remove) for one in card.places.lines]
    entry = (card.entry.where, card.entry.fields["length"], card.entry.fields["width"])
    figures = (card.kind, card.density, card.area_price)
    for widget in (*figures, *lines[0], *lines[1], *entry, card.entry.button):
        qtbot.keyClick(left.focusWidget(), TAB)
        assert widget.hasFocus(), widget.accessibleName()
    left.go_to("side", "")
    left.go_to_card()
    assert left.card.finishing.show_face.hasFocus()


def test_all_of_the_card_has_a_name(card: StockCard) -> None:
    """Every field, list and button can be spoken."""
    edit_job.edit_stock(
        card.places._document,
        replace(row(card), no_go=(NoGo(x=0, y=0, length=INCH, width=INCH),)),
    )
    line = card.places.lines[0]
    spoken = [*line.fields, line.kept_out, line.remove, *card.entry.fields.values()]
    spoken += [card.entry.where, card.diagonals, card.density, card.kind]
    names = [widget.accessibleName() for widget in spoken]
    assert all(names)
    assert len(set(names)) == len(names)


def test_pasted_columns_may_leave_out_measured(left: LeftRegion) -> None:
    """Headings L and W name the measured sizes, as they always did."""
    QGuiApplication.clipboard().setText(
        "W\tL\tsheet or offcut\tmaterial\tthick\n47 15/16\t96\tBought\tbirch ply\t0.703"
    )
    left.stock.paste()
    new = doc_of(left).job.stock[-1]
    assert (new.length, new.width) == (96 * INCH, 48 * INCH - INCH // 16)
    assert new.thickness == 703 * INCH // 1000


def test_the_card_never_takes_the_table_away(left: LeftRegion, card: StockCard) -> None:
    """In a low window the card scrolls and rows of the table stay in sight."""
    places = tuple(NoGo(x=n * INCH, y=0, length=INCH, width=INCH) for n in range(12))
    edit_job.edit_stock(doc_of(left), replace(row(card), no_go=places))
    left.resize(340, 420)
    QGuiApplication.processEvents()
    assert left.stock.viewport().height() >= 2 * left.stock.rowHeight(0)
    assert card.height() > left.height()


def test_a_density_is_told_in_pounds_where_inches_are_used() -> None:
    """680 kg/m3 is 42.5 lb/ft3, as a pound per cubic foot is 16.0185 kg/m3 (NIST SP 811, B.8)."""
    assert density_unit(680, LengthStyle()) == "kg/m³, about 42 lb/ft³"
    assert density_unit(769, LengthStyle()) == "kg/m³, about 48 lb/ft³"
    assert density_unit(680, LengthStyle(unit=Unit.MM)) == density_unit(0, LengthStyle()) == "kg/m³"
