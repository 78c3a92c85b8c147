"""Matrix codes on labels, read from rendered pages by two readers that are not ours."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import cv2
import numpy as np
import pypdfium2 as pdfium
import pytest
import zxingcpp

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.label_code import BYTES, MODULE, code_text, modules, version_in
from layout_app.paper.pack.label_sheet import LabelSheet
from layout_app.paper.pack.label_words import labels_of
from layout_app.paper.pack.labels import label_pages
from layout_app.paper.rendering import pdf
from tests.layout_app.paper import packs

DOTS = 200
"""To the inch: less than any printer prints, and than a telephone's camera sees."""
SMALL = LabelSheet(columns=4, rows=10, left=8, top=21.5, between_columns=0)
"""48.5 by 25.4 mm: small labels as they are sold, four beside each other."""
SMALLEST = LabelSheet(columns=5, rows=13, left=5, top=10, between_columns=2)


def by_zxing(label: np.ndarray) -> str:
    """Read a code with ZXing, a general library."""
    found = zxingcpp.read_barcodes(
        label, formats=zxingcpp.BarcodeFormat.QRCode, text_mode=zxingcpp.TextMode.Plain
    )
    return "".join(code.text for code in found)


def by_opencv(label: np.ndarray) -> str:
    """Read a code with OpenCV, which shares nothing with the other.

    As a telephone takes picture after picture, each of its two ways to find a code is tried on
    the label as it is rendered, and on the same dots magnified.
    """
    for scale in (1, 3, 2):
        seen = cv2.resize(label, None, fx=scale, fy=scale, interpolation=cv2.INTER_CUBIC)
        for find in (cv2.QRCodeDetectorAruco(), cv2.QRCodeDetector()):
            if text := find.detectAndDecode(seen)[0]:
                return text
    return ""


READERS = {"ZXing": by_zxing, "OpenCV": by_opencv}


def rendered(matter: Matter, form: LabelSheet, paper: Paper) -> Iterator[np.ndarray]:
    """Render label pages and yield every label as it is printed, in grey."""
    each = len(list(form.frames(paper)))
    left = len(labels_of(matter))
    dots = DOTS / 25.4
    for page in pdfium.PdfDocument(pdf(label_pages(matter, form, paper), "labels")):
        grey = np.asarray(page.render(scale=DOTS / 72, grayscale=True).to_numpy()).squeeze()
        for frame in list(form.frames(paper))[:left]:
            rows = slice(int(frame.y * dots), int(frame.bottom * dots))
            columns = slice(int(frame.x * dots), int(frame.right * dots))
            yield np.ascontiguousarray(grey[rows, columns])
        left -= each


def read(
    matter: Matter, form: LabelSheet, paper: Paper, reader: Callable[[np.ndarray], str]
) -> list[str]:
    """Return what the codes of all labels hold, in their order."""
    return [reader(label) for label in rendered(matter, form, paper)]


def pieces(matter: Matter) -> set[str]:
    """Return the names of the pieces that become parts, from the records of the cuts alone."""
    sides = [side for one in matter.told for side in (one.record.makes, one.record.left) if side]
    return {side.name for side in sides if side.part}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(
    ("form", "paper"),
    [
        (LabelSheet(), Paper.A4),
        (LabelSheet(columns=3, rows=8), Paper.LETTER),
        (SMALL, Paper.A4),
        (SMALLEST, Paper.A4),
    ],
    ids=["usual", "three by eight", "small", "smallest"],
)
def test_every_code_is_read_and_says_which_part(
    form: LabelSheet, paper: Paper, reader: str, qapp
) -> None:
    """Each says what it is on and the plan's number; no two of a plan say the same."""
    matter = packs.matter(5)
    found = read(matter, form, paper, READERS[reader])
    assert len(found) == len(labels_of(matter)) > 10
    assert len(set(found)) == len(found)
    assert all(text.endswith(f", {matter.number}") for text in found)
    said = {text.split(", ")[-2].removeprefix("piece ") for text in found}
    assert pieces(matter) <= said


def test_hostile_names_are_read_alike_by_both(qapp) -> None:
    """Emoji, Hebrew, markup, line ends, lone surrogates and names of 300 letters."""
    matter = packs.matter(0)
    job = matter.job
    names = dict(zip([part.id for part in job.parts], HOSTILE, strict=False))
    told = replace(
        matter,
        job=replace(
            job, parts=tuple(replace(one, name=names.get(one.id, one.name)) for one in job.parts)
        ),
    )
    first, second = (read(told, LabelSheet(), Paper.A4, one) for one in READERS.values())
    assert first == second
    assert all(first)
    assert any(text.startswith("<script>") for text in first)


HOSTILE = ("<script>&\"'", "=1+1", "שלום 🪚", "a\x00b\x1f", "9" * 300, "\ud800 half", "日本")


@pytest.mark.parametrize("version", BYTES)
@pytest.mark.parametrize("name", ["Side", "🪚" * 40, "é" * 60, ""])
def test_a_code_holds_what_iso_18004_lets_it_hold(version: int, name: str) -> None:
    """Names give way, whole letters at a time; the piece and the plan stay."""
    tails = (" 1 of 12, cut 144, piece 12a1b2, K7-3F2", ", 12a1b2, K7-3F2")
    text = code_text(name, tails, version)
    assert 16 <= len(text.encode()) <= BYTES[version]
    assert text.endswith("12a1b2, K7-3F2")
    assert len(modules(text, version)) == 4 * version + 17


def test_modules_stay_large_enough() -> None:
    """0.4 mm at least in every corner that a label has."""
    for side in (13.2, 14.8, 16.4, 26.0):
        assert side / (4 * version_in(side) + 17 + 8) >= MODULE - 1e-9


def test_each_offcut_worth_keeping_has_a_label() -> None:
    """As it is named on the list, each once."""
    matter = packs.matter(0)
    said = [
        words.text
        for page in label_pages(matter, LabelSheet(), Paper.A4)
        for words, _ in ink.words_on(page.items)
        if words.text.startswith("offcut ")
    ]
    assert sorted(said) == sorted(one.called for one in matter.kept if one.sheet)
    assert said
