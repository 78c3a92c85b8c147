"""Matrix codes on labels, read from rendered pages by a reader that is not ours."""

from dataclasses import replace

import numpy as np
import pypdfium2 as pdfium
import pytest
import zxingcpp

from layout_app.paper import ink
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.labels import LabelSheet, label_pages, labels_of
from layout_app.paper.rendering import pdf
from tests.layout_app.paper import packs

DOTS = 300
"""To the inch: what a plain printer prints and a telephone's camera sees."""
SMALL = LabelSheet(columns=4, rows=11, left=8, top=10, between_columns=2, cut_lines=False)
"""48 by 25 mm: small labels as they are sold, four beside each other."""


def read(matter: Matter, form: LabelSheet, paper: Paper) -> list[str]:
    """Render label pages and return what all codes hold."""
    found = []
    for page in pdfium.PdfDocument(pdf(label_pages(matter, form, paper), "labels")):
        grey = np.asarray(page.render(scale=DOTS / 72, grayscale=True).to_numpy()).squeeze()
        codes = zxingcpp.read_barcodes(
            grey, formats=zxingcpp.BarcodeFormat.QRCode, text_mode=zxingcpp.TextMode.Plain
        )
        found += [code.text for code in codes]
    return found


def promised(matter: Matter) -> list[str]:
    """Return id and copy of all placements, from the plan alone."""
    return [f"{placed.part}/{placed.copy}" for placed in matter.plan.placements]


@pytest.mark.parametrize(
    ("form", "paper"),
    [(LabelSheet(), Paper.A4), (LabelSheet(columns=3, rows=8), Paper.LETTER), (SMALL, Paper.A4)],
    ids=["usual", "three by eight", "small"],
)
@pytest.mark.parametrize("seed", [0, 5])
def test_every_code_is_read_and_says_which_part(
    seed: int, form: LabelSheet, paper: Paper, qapp
) -> None:
    """One code a label: part and copy, also where ids hold emoji, Hebrew, markup or line ends."""
    matter = packs.matter(seed)
    assert len(labels_of(matter)) == len(matter.plan.placements) > 10
    assert sorted(read(matter, form, paper)) == sorted(promised(matter))


def test_each_offcut_worth_keeping_has_a_label() -> None:
    """Behind the labels of parts, as it is named on the list, each once, its size rounded down."""
    matter = packs.matter(0)
    said = [
        words.text
        for page in label_pages(matter, LabelSheet(), Paper.A4)
        for words, _ in ink.words_on(page.items)
        if words.text.startswith("offcut ")
    ]
    assert said == [one.called for one in matter.kept if one.sheet]
    assert said


HOSTILE = ("<script>&\"'", "=1+1", "שלום 🪚", "a\x00b\x1f", "9" * 120, "ä/b\\c%20\t", "日本")


def test_hostile_ids_come_back_letter_by_letter(qapp) -> None:
    """Control characters, quotes, slashes and 120 digits are read as they were written."""
    job = packs.random_job(5)
    names = dict(zip([part.id for part in job.parts], HOSTILE, strict=False))
    matter = packs.matter(5)
    plan = replace(
        matter.plan,
        placements=tuple(
            replace(one, part=names.get(one.part, one.part)) for one in matter.plan.placements
        ),
        parts=tuple(replace(one, id=names.get(one.id, one.id)) for one in matter.plan.parts),
    )
    renamed = tuple(replace(one, id=names.get(one.id, one.id)) for one in job.parts)
    told = matter_of(replace(job, parts=renamed), plan)
    assert len(labels_of(told)) == len(plan.placements)
    found = read(told, LabelSheet(), Paper.A4)
    assert sorted(found) == sorted(promised(told))
    assert {one.rpartition("/")[0] for one in found} >= set(list(names.values())[: len(job.parts)])
