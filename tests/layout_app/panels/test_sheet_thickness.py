"""A new sheet or offcut has the thickness of its material, if that has one."""

from dataclasses import replace

from PySide6.QtGui import QGuiApplication

from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.stock import COLUMNS, StockModel
from shared.check import check_job
from shared.job import Job
from shared.lengths import INCH
from tests.layout_app.small_job import small_job
from tests.layout_app.tables import doc_of

THICK = 3 * INCH // 4


def two_materials(thin: int = INCH // 4) -> Job:
    """Return the small job with a sheet of oak, 1/4 thick, beside its birch."""
    job = small_job()
    oak = replace(job.stock[0], id="oak", name="oak sheet", material="oak", thickness=thin)
    return replace(job, stock=(oak, *job.stock))


def typed(job: Job, **cells: str) -> StockModel:
    """Type a new row, and make it one of the job."""
    model = StockModel(Document(Project(job=job)), COLUMNS)
    for field, text in {"name": "Rest", "length": "30", "width": "20", **cells}.items():
        model.change(model.index(model.draft_line, model.column_of(field)), text)
    assert model.finish_draft()
    return model


def thickness(model: StockModel) -> int:
    """Return that of the last row."""
    return model.document.job.stock[-1].thickness


def test_a_typed_row_is_as_thick_as_its_material() -> None:
    """It shows while it is typed; no measured thickness is asked for any more."""
    model = typed(small_job())
    assert thickness(model) == THICK
    assert not [one for one in check_job(model.document.job) if one.field == "thickness"]


def test_the_thickness_goes_with_the_material_that_is_typed() -> None:
    """Unless it was typed itself, before or after."""
    assert thickness(typed(two_materials(), material="oak")) == INCH // 4
    assert thickness(typed(two_materials(), thickness="1", material="oak")) == INCH
    assert thickness(typed(two_materials(), material="oak", thickness="1/2")) == INCH // 2
    assert thickness(typed(two_materials(), material="walnut")) == 0


def test_of_a_material_of_two_thicknesses_none_is_taken() -> None:
    """The maker has to measure."""
    job = two_materials()
    other = replace(job.stock[1], id="other", thickness=THICK - INCH // 32)
    assert thickness(typed(replace(job, stock=(*job.stock, other)))) == 0


def test_pasted_rows_are_as_thick_as_their_material(left: LeftRegion) -> None:
    """Each as its own material; one that says its thickness keeps it."""
    doc = doc_of(left)
    doc.open(Project(job=two_materials()), None)
    QGuiApplication.clipboard().setText(
        "Sheet,L,W,Material,Thickness\nOne,30,20,oak,\nTwo,30,20,birch ply,\nThree,30,20,oak,1/2"
    )
    left.pasted_stock.paste()
    assert [row.thickness for row in doc.job.stock[2:]] == [INCH // 4, THICK, INCH // 2]
