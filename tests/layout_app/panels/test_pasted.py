"""Pasted lists: what their columns are taken for, and what is asked."""

import csv
from dataclasses import replace
from io import StringIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.panels.parts import COLUMNS as PART_COLUMNS
from layout_app.panels.parts import PartsModel
from layout_app.panels.pasted import MOST_LINES, PasteError, read_text, uses_of
from layout_app.panels.pasted_rows import Answers, Outcome, read_pasted, summary
from layout_app.panels.stock import COLUMNS as STOCK_COLUMNS
from layout_app.panels.stock import StockModel
from shared.job import Job
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.stock import Stock
from tests.examples import some_of
from tests.layout_app.small_job import small_job

Model = PartsModel | StockModel
QUANTITIES = ("Qty", "QTY.", "Quantity", "Count", "Pcs", "pcs.", "Pieces", "Copies", "quantities")


def parts_of(job: Job) -> PartsModel:
    """Return the model of a job's parts, without a window."""
    return PartsModel(Document(Project(job=job)), PART_COLUMNS)


def stock_of(job: Job) -> StockModel:
    """Return the model of a job's sheets, without a window."""
    return StockModel(Document(Project(job=job)), STOCK_COLUMNS)


def read(text: str, model: Model, **answers: object) -> Outcome:
    """Read a pasted text with what the maker answered."""
    pasted = read_text(text, model.columns)
    assert pasted is not None
    uses = uses_of(pasted, model.columns, model.counted)
    return read_pasted(pasted, replace(Answers(uses=uses), **answers), model)


def told(text: str, model: Model) -> str:
    """Return what is said of the columns of a pasted text."""
    pasted = read_text(text, model.columns)
    assert pasted is not None
    return summary(pasted, read(text, model), model)


def sizes(outcome: Outcome) -> list[tuple[str, float, float, int]]:
    """Return name, L and W in inches, and quantity of each row."""
    return [(one.name, one.length / INCH, one.width / INCH, one.copies) for one in outcome.rows]


def in_mm(job: Job) -> Job:
    """Return a job whose lengths are in millimetres."""
    return replace(job, style=LengthStyle(unit=Unit.MM))


# --- columns -----------------------------------------------------------------------------


@pytest.mark.parametrize("word", QUANTITIES)
def test_words_for_the_quantity(word: str) -> None:
    """Every usual word for how many is read as the quantity."""
    outcome = read(f"Part\tL\tW\t{word}\nSide\t30\t12\t4\nShelf\t28\t11\t6", parts_of(small_job()))
    assert sizes(outcome) == [("Side", 30, 12, 4), ("Shelf", 28, 11, 6)]


@pytest.mark.parametrize("word", ["#", "No.", "no", "Number"])
def test_words_that_are_asked_about(word: str) -> None:
    """A number may be how many or which row: nothing is pasted until that is answered."""
    text = f"{word},Part,L,W\n2,Side,30,12\n4,Shelf,28,11"
    model = parts_of(small_job())
    asked = read(text, model).asked
    assert asked is not None
    assert f"“{word}”" in asked.sentence
    pasted = read_text(text, model.columns)
    assert pasted is not None
    found = [
        [one.copies for one in read_pasted(pasted, answers, model).rows]
        for _, answers in asked.answers
    ]
    assert [words for words, _ in asked.answers] == ["How many", "Row numbers", "Neither"]
    assert found == [[2, 4], [1, 1], [1, 1]]


@pytest.mark.parametrize("word", ["#", "No.", "Number", "Item"])
def test_a_column_that_counts_up_is_no_quantity(word: str) -> None:
    """1, 2, 3 under a number's heading are row numbers, and that is said."""
    text = f"{word},Part,L,W\n1,Side,30,12\n2,Shelf,28,11\n3,Back,30,28"
    model = parts_of(small_job())
    assert [one.copies for one in read(text, model).rows] == [1, 1, 1]
    assert f"{word} → row number" in told(text, model)


def test_a_quantity_that_counts_up_is_asked_about() -> None:
    """Three rows of which 1, 2 and 3 are needed may be so, or be numbered: the maker says."""
    text = "Part,Qty,L,W\nSide,1,30,12\nShelf,2,28,11\nBack,3,30,28"
    assert read(text, parts_of(small_job())).asked is not None


def test_lines_without_headings_lie_as_in_the_table() -> None:
    """Row numbers before the names are set aside; the rest is name, L, W and quantity."""
    text = "1\tSide\t30\t12\t2\n2\tShelf\t28\t11\t6"
    assert sizes(read(text, parts_of(small_job()))) == [("Side", 30, 12, 2), ("Shelf", 28, 11, 6)]


def test_what_each_column_was_taken_for_is_told() -> None:
    """A column with something in it is never dropped without a word."""
    text = "Qty\tPart\tLength (in)\tW\tEdge\n4\tSide\t30\t12\tyes"
    said = "Qty → quantity; Part; Length (in) → L; W; “Edge” not used."
    assert told(text, parts_of(small_job())) == said


def test_a_column_that_cannot_be_read_is_told() -> None:
    """A grain rule in words that mean nothing is left out, and the sentence says why."""
    text = "Part,L,W,Grain\nSide,30,12,up and down"
    outcome = read(text, parts_of(small_job()))
    assert sizes(outcome) == [("Side", 30, 12, 1)]
    assert "“Grain” is not used, for line 2" in outcome.said[0]


def test_a_list_without_sizes_waits_for_a_choice() -> None:
    """Height and depth may be either of L and W: nothing is pasted, and the sentence says it."""
    outcome = read("Part,Qty,Height,Depth\nSide,4,30,12", parts_of(small_job()))
    assert outcome.rows == ()
    assert outcome.fault == "Nothing is pasted yet: choose which columns are L and W."


FIELDS = {
    "name": ("Part", "Name", "Description", "part name"),
    "length": ("L", "Length", "LENGTH", "length (in)", "Length [in]", "Long"),
    "width": ("W", "Width", "width, in", "Wide"),
    "copies": QUANTITIES,
    "material": ("Material", "mat.", "Materials"),
    "note": ("Note", "Remarks"),
    "": ("Edge", "Supplier"),
}
LISTED = [
    {
        "name": "Side, left",
        "length": "30 1/4",
        "width": "12",
        "copies": "2",
        "material": "birch ply",
        "note": "oil",
        "": "x",
    },
    {
        "name": 'Shelf "top"',
        "length": "28.5",
        "width": "11-1/2",
        "copies": "6",
        "material": "birch ply",
        "note": "",
        "": "x",
    },
    {
        "name": "Back",
        "length": "2' 6\"",
        "width": "28",
        "copies": "1",
        "material": "birch ply",
        "note": "late",
        "": "",
    },
]


@settings(max_examples=some_of(100))
@given(
    order=st.permutations(list(FIELDS)),
    mark=st.sampled_from("\t;,"),
    data=st.data(),
    title=st.sampled_from(["", "Cut list\n\n"]),
    total=st.booleans(),
)
def test_the_order_and_the_words_of_columns_are_no_matter(
    order: list[str], mark: str, data: st.DataObject, title: str, total: bool
) -> None:
    """Any order of columns, any words above them, any mark between them: the same parts."""
    words = {field: data.draw(st.sampled_from(choice)) for field, choice in FIELDS.items()}
    out = StringIO()
    writer = csv.writer(out, delimiter=mark)
    writer.writerow([words[field] for field in order])
    writer.writerows([row[field] for field in order] for row in LISTED)
    if total:
        writer.writerow(["Total" if field == "name" else "" for field in order])
    outcome = read(title + out.getvalue(), parts_of(small_job()))
    assert sizes(outcome) == [
        ("Side, left", 30.25, 12, 2),
        ('Shelf "top"', 28.5, 11.5, 6),
        ("Back", 30, 28, 1),
    ]
    assert [one.note for one in outcome.rows] == ["oil", "", "late"]


# --- cells and lines -----------------------------------------------------------------------


def test_columns_at_gaps() -> None:
    """Columns with two spaces or more between them are cells; one space is within a cell."""
    text = (
        "Part         L        W    Pcs\nSide panel   30 1/4   12   2\nShelf        28       11   6"
    )
    rows = [("Side panel", 30.25, 12, 2), ("Shelf", 28, 11, 6)]
    assert sizes(read(text, parts_of(small_job()))) == rows


def test_decimal_commas_between_semicolons() -> None:
    """590,5 settles what the comma means in the whole list: 1.220,25 is 1220.25 mm."""
    outcome = read(
        "Part;L;W;Qty\nSide;1.220,25;590,5;2\nShelf;1,125;300;4", parts_of(in_mm(small_job()))
    )
    found = [(one.length / MM, one.width / MM) for one in outcome.rows]
    assert found == [(1220.25, 590.5), (1.125, 300)]


def test_a_lone_comma_is_asked_about() -> None:
    """1,220 alone may be 1220 or 1.22; both answers are taken for the whole list."""
    text, model = "Part;L;W\nSide;1,220;560", parts_of(in_mm(small_job()))
    asked = read(text, model).asked
    assert asked is not None
    assert [words for words, _ in asked.answers] == ["1220", "1.220"]
    assert read(text, model, decimal_comma=False).rows[0].length == 1220 * MM
    assert read(text, model, decimal_comma=True).rows[0].length == 1220 * MM // 1000


@pytest.mark.parametrize("cell", ["1 220", "1,220.00", "1220", "122 cm", "1.22 m"])
def test_thousands_and_units_within_cells(cell: str) -> None:
    """Groups of thousands that can be nothing else, and units, are read as they stand."""
    outcome = read(f"Part\tL\tW\nSide\t{cell}\t560", parts_of(in_mm(small_job())))
    assert outcome.rows[0].length == 1220 * MM


@pytest.mark.parametrize(
    ("heading", "length"),
    [
        ("Length (mm)", 30 * MM),
        ("Length [cm]", 300 * MM),
        ("L, mm", 30 * MM),
        ('L (")', 30 * INCH),
        ("Length in inches", 30 * INCH),
        ("LENGTH (FT)", 360 * INCH),
    ],
)
def test_units_in_headings_are_believed(heading: str, length: int) -> None:
    """Bare numbers are in the unit that the heading names, whatever the project's is."""
    outcome = read(f"Part\t{heading}\tW (mm)\nSide\t30\t25", parts_of(small_job()))
    assert (outcome.rows[0].length, outcome.rows[0].width) == (length, 25 * MM)


def test_quantities_with_words_around_them() -> None:
    """4 pcs, x2 and 3.0 are 4, 2 and 3."""
    lines = "\n".join(f"Part {n},20,6,{cell}" for n, cell in enumerate(("4 pcs", "x2", "3.0")))
    outcome = read(f"Part,L,W,Qty\n{lines}", parts_of(small_job()))
    assert [one.copies for one in outcome.rows] == [4, 2, 3]


def test_lines_that_are_no_rows_are_told() -> None:
    """Titles, blank lines, totals and notes are set aside, and named with their lines."""
    text = "Herbarium\n\nPart,L,W,Qty\nSide,30,12,4\n\nTotal,,,4\nall from one sheet"
    outcome = read(text, parts_of(small_job()))
    assert sizes(outcome) == [("Side", 30, 12, 4)]
    assert outcome.said == (
        "Line 1 is no row: “Herbarium”.",
        "Line 6 is no row: “Total 4”.",
        "Line 7 is no row: “all from one sheet”.",
    )


def test_a_row_without_a_size_is_pasted_as_it_is() -> None:
    """A width that is missing is missing in the table, where it is named in place."""
    outcome = read("Part,L,W\nSide,30,\nShelf,28,11", parts_of(small_job()))
    assert sizes(outcome) == [("Side", 30, 0, 1), ("Shelf", 28, 11, 1)]


def test_nothing_and_far_too_much() -> None:
    """Blank lines are no list; more lines than anybody cuts are refused in a sentence."""
    model = parts_of(small_job())
    assert read_text("\n \n", model.columns) is None
    with pytest.raises(PasteError, match="more than"):
        read_text("Side\t30\t12\n" * (MOST_LINES + 1), model.columns)


# --- unit and material -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("job", "text"),
    [
        (small_job(), "Part,L,W\nSide,2440,560\nShelf,800,300"),
        (in_mm(small_job()), "Part,L,W\nSide,30 1/4,12\nShelf,96,48"),
        (in_mm(small_job()), "Part,L,W\nSide,30.25,12\nShelf,28,11.5"),
    ],
)
def test_sizes_that_are_not_of_the_projects_unit_are_asked_about(job: Job, text: str) -> None:
    """2440 in, or nothing over 96 mm and fractions: the unit is asked, and the answer taken."""
    model = parts_of(job)
    asked = read(text, model).asked
    assert asked is not None
    assert [words for words, _ in asked.answers] == ["millimetres", "inches"]
    first = read(text, model, unit=Unit.MM).rows[0].length
    assert read(text, model, unit=Unit.INCH).rows[0].length * MM == first * INCH


@pytest.mark.parametrize(
    ("job", "text"),
    [
        (small_job(), "Part,L,W\nSide,96,48\nShelf,28 1/2,11"),
        (in_mm(small_job()), "Part,L,W\nSide,2440,560\nSlip,60,40"),
        (small_job(), "Part,L (mm),W (mm)\nSide,2440,560"),
    ],
)
def test_sizes_of_the_projects_unit_are_not_asked_about(job: Job, text: str) -> None:
    """Usual sizes of either unit, and those whose heading says it, are simply read."""
    assert read(text, parts_of(job)).asked is None


def test_a_material_that_is_missing() -> None:
    """The only one is taken; of several the maker says which; before any sheet there is none."""
    text, job = "Part,L,W\nSide,30,12", small_job()
    assert read(text, parts_of(job)).rows[0].material == "birch ply"
    two = replace(job, stock=(*job.stock, replace(job.stock[0], id="b", material="oak ply")))
    asked = read(text, parts_of(two)).asked
    assert asked is not None
    assert [words for words, _ in asked.answers] == ["birch ply", "oak ply"]
    assert read(text, parts_of(two), material="oak ply").rows[0].material == "oak ply"
    assert read(text, parts_of(Job())).rows[0].material == ""


def test_sheets_are_pasted_the_same_way() -> None:
    """Sheet, sizes, thickness, how many and price of a list of stock, in any unit and order."""
    text = (
        "Qty;Sheet;Thickness (mm);Length (mm);Width (mm);Price;Supplier\n"
        "3;Birch 18;18;2440;1220;61,50;x"
    )
    outcome = read(text, stock_of(small_job()))
    (row,) = outcome.rows
    assert isinstance(row, Stock)
    assert (row.name, row.at_hand, row.price) == ("Birch 18", 3, 6150)
    assert (row.length, row.width, row.thickness) == (2440 * MM, 1220 * MM, 18 * MM)
    assert row.material == "birch ply"
    assert "“Supplier” not used" in told(text, stock_of(small_job()))
