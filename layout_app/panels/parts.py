"""The take-off: a table of parts, grouped by material."""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, replace
from typing import Final

from layout_app.document import edit_parts
from layout_app.model.project import fresh_ids
from layout_app.panels.columns import (
    Column,
    measured_size,
    measured_text,
    none_or_more,
    one_of,
    positive,
    size_text,
    words,
)
from layout_app.panels.edges import BAND_EDGES, BAND_GROUPS, read_edges, write_edges
from layout_app.panels.pasted import QUANTITY
from layout_app.panels.rows_model import Heading, RowsModel
from shared.amounts import parse_count
from shared.job import Job
from shared.lengths import LengthStyle, format_pair
from shared.parts import Bands, GrainRule, Part

YES_NO: Final = ("yes", "no")
RULES: Final = tuple(str(rule) for rule in GrainRule)


def _copies(text: str) -> int:
    count = parse_count(text)
    if count == 0:
        raise ValueError("Write how many are needed, at least 1, or remove the row.")
    return count


def reads_as_bands(text: str) -> bool:
    """Say whether a cell names edges with the thickness of their bands."""
    try:
        return any(read_edges(text, BAND_EDGES, BAND_GROUPS, LengthStyle()).values())
    except ValueError:
        return False


def bands_text(part: Part, style: LengthStyle) -> str:
    """Write the bands of a part for a cell."""
    return write_edges(asdict(part.bands), BAND_GROUPS, style)


def cut_size(part: Part, style: LengthStyle) -> str:
    """Write the cut size of a part; empty while a size is missing."""
    known = part.length and part.width
    return format_pair(part.cut_length, part.cut_width, style) if known else ""


COLUMNS: Final[tuple[Column[Part], ...]] = (
    Column(
        heading="part",
        also=("part name", "name", "description", "component", "panel", "item", "label"),
        field="name",
        show=lambda part, _: part.name,
        change=lambda part, text, _: replace(part, name=words(text, "part")),
        tip="What you call it",
        wide="Case top, bottom",
    ),
    Column(
        heading="L",
        also=("length", "long", "len", "finished length", "finished L", "part length"),
        field="length",
        show=lambda part, style: size_text(part.length, style),
        change=lambda part, text, style: replace(part, length=positive(text, style)),
        tip="Finished length, bands included; runs along the grain unless the rule says width",
        wide="34 19/32",
        grows=True,
    ),
    Column(
        heading="W",
        also=("width", "wide", "wd", "finished width", "finished W", "part width"),
        field="width",
        show=lambda part, style: size_text(part.width, style),
        change=lambda part, text, style: replace(part, width=positive(text, style)),
        tip="Finished width, bands included",
        wide="34 19/32",
        grows=True,
    ),
    Column(
        heading="quantity",
        also=QUANTITY,
        field="copies",
        show=lambda part, _: str(part.copies),
        change=lambda part, text, _: replace(part, copies=_copies(text)),
        tip="How many are needed",
        number=True,
    ),
    Column(
        heading="grain rule",
        also=("grain", "grain direction"),
        field="grain_rule",
        show=lambda part, _: str(part.grain_rule),
        change=lambda part, text, _: replace(part, grain_rule=GrainRule(one_of(text, RULES))),
        choices=RULES,
        tip="Which way the grain has to run on this part",
        wide="along length",
    ),
    Column(
        heading="bands",
        also=("edge bands", "banding", "edge banding"),
        perhaps=("edge", "edges", "edging"),
        reads=reads_as_bands,
        field="bands",
        show=bands_text,
        change=lambda part, text, style: replace(
            part, bands=Bands(**read_edges(text, BAND_EDGES, BAND_GROUPS, style))
        ),
        tip="Thickness of the bands, such as “long 1/50; left 2 mm”; they give the cut size",
        wide="long 1/50; ends 1/50",
    ),
    Column(
        heading="cut size",
        field="cut",
        show=cut_size,
        tip="Finished size less the bands; of a fit part with its allowance, the blank",
        wide="L 34 9/16 × W 11 7/8",
    ),
    Column(
        heading="material",
        also=("mat", "mtl", "stock", "sheet", "board"),
        field="material",
        show=lambda part, _: part.material,
        change=lambda part, text, _: replace(part, material=words(text, "material")),
        suggests=lambda job: job.materials,
        tip="What it is cut from, as under sheets & rack",
        wide="3/4 birch ply",
    ),
    Column(
        heading="match group",
        field="group",
        show=lambda part, _: part.group,
        change=lambda part, text, _: replace(part, group=" ".join(text.split())),
        suggests=lambda job: tuple(dict.fromkeys(part.group for part in job.parts if part.group)),
        tip="Parts of one group are cut from one block in this order, so that the figure flows"
        " across them; select one to say how many lie in a row",
        wide="Drawer fronts",
    ),
    Column(
        heading="fit allowance",
        field="fit_allowance",
        show=lambda part, style: size_text(part.fit_allowance, style),
        change=lambda part, text, style: replace(part, fit_allowance=none_or_more(text, style)),
        tip="For a part that waits for its mate to be built: its blank is cut so much longer and"
        " wider",
        wide="fit allowance",
    ),
    Column(
        heading="note",
        also=("notes", "remark", "remarks", "comment", "comments"),
        field="note",
        show=lambda part, _: part.note,
        change=lambda part, text, _: replace(part, note=" ".join(text.split())),
        tip="Anything you want to remember",
        wide="a note of some length",
    ),
    Column(
        heading="show face",
        field="show",
        show=lambda part, _: YES_NO[0] if part.show else YES_NO[1],
        change=lambda part, text, _: replace(part, show=one_of(text, YES_NO) == YES_NO[0]),
        choices=YES_NO,
        tip="Whether its face is shown: then it keeps clear of knots",
        wide="show face",
    ),
    Column(
        heading="oversize",
        field="oversize",
        show=lambda part, style: size_text(part.oversize, style),
        change=lambda part, text, style: replace(part, oversize=none_or_more(text, style)),
        tip="Finished at the table saw: cut so much larger both ways before",
        wide="oversize",
    ),
    Column(
        heading="measured L",
        field="measured_length",
        show=lambda part, style: size_text(part.measured_length, style),
        change=lambda part, text, style: replace(part, measured_length=measured_size(text, style)),
        tip="Finished length of a fit part once its opening is measured, bands included",
        wide="measured L",
    ),
    Column(
        heading="measured W",
        field="measured_width",
        show=lambda part, style: size_text(part.measured_width, style),
        change=lambda part, text, style: replace(part, measured_width=measured_size(text, style)),
        tip="Finished width of a fit part once its opening is measured, bands included",
        wide="measured W",
    ),
)


class PartsModel(RowsModel[Part]):
    """The rows of the take-off."""

    invitation = "type or paste"
    counted = "copies"
    needed = ("name", "length", "width", "copies")

    def arranged(self) -> Iterable[Heading | Part]:
        """Yield parts by material, the maker's order within."""
        job = self.document.job
        for material in dict.fromkeys(part.material for part in job.parts):
            yield Heading(material_heading(job, material))
            yield from (part for part in job.parts if part.material == material)

    def blank(self) -> Part:
        """Return a part of the material that was used last, or of the only one there is."""
        job = self.document.job
        used = [part.material for part in job.parts if part.material]
        only = {row.material for row in job.stock}
        known = used[-1:] or (list(only) if len(only) == 1 else [])
        return replace(self.bare(), material=known[0] if known else "")

    def bare(self) -> Part:
        """Return a part with nothing in it."""
        return Part(id="", name="", length=0, width=0, material="")

    def edit(self, row: Part) -> None:
        """Change a part."""
        edit_parts.edit_part(self.document, row)

    def add(self, rows: Sequence[Part]) -> None:
        """Add parts under new ids."""
        ids = fresh_ids("part-", (part.id for part in self.document.job.parts), len(rows))
        named = [replace(row, id=new) for row, new in zip(rows, ids, strict=True)]
        edit_parts.add_parts(self.document, named)

    def remove(self, ids: Sequence[str]) -> None:
        """Remove parts."""
        edit_parts.remove_parts(self.document, ids)


def material_heading(job: Job, material: str) -> str:
    """Say what a group of parts is cut from, with the measured thickness where all sheets agree."""
    measured = {row.thickness for row in job.stock if row.material == material and row.thickness}
    if len(measured) != 1:
        return material or "no material"
    return f"{material}, {measured_text(measured.pop(), job.style)} measured"
