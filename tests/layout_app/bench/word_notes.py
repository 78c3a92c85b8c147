"""A painter that paints nothing and notes where words, lines and grounds come to stand."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QStaticText, QTransform
from shapely import LineString
from shapely import box as shapely_box

Corners = NDArray[np.float64]
SLACK_PX = 1.5
"""Rounding of corners to whole pixels may bring boxes so much together."""


@dataclass(frozen=True)
class Noted:
    """Something that was painted, with its place in pixels; ``line`` only of a line."""

    kind: str
    text: str = ""
    box: QRectF = field(default_factory=QRectF)
    line: QLineF = field(default_factory=QLineF)


class Notes:
    """Notes what is painted; takes everything else a painter is told without a word.

    Parameters
    ----------
    ratio
        Pixels of the screen to a pixel that is told: words are as large as the font makes them.
    """

    def __init__(self, ratio: float, start: QTransform | None = None) -> None:
        self.noted: list[Noted] = []
        self._now, self._kept = QTransform(start or QTransform()), [QTransform()]
        self._ratio, self._font = ratio, QFont()
        self._filled = False

    @property
    def boxes(self) -> list[tuple[str, QRectF]]:
        """Return the words and where they stand."""
        return [(one.text, one.box) for one in self.noted if one.kind == "word"]

    def save(self) -> None:
        """Keep the transform."""
        self._kept.append(QTransform(self._now))

    def restore(self) -> None:
        """Bring it back."""
        self._now = self._kept.pop()

    def translate(self, x: float, y: float) -> None:
        """Move."""
        self._now.translate(x, y)

    def rotate(self, angle: float) -> None:
        """Turn."""
        self._now.rotate(angle)

    def worldTransform(self) -> QTransform:  # noqa: N802 - called as a painter is
        """Return the transform."""
        return QTransform(self._now)

    def resetTransform(self) -> None:  # noqa: N802 - as above
        """Forget it."""
        self._now = QTransform()

    def setFont(self, font: QFont) -> None:  # noqa: N802 - as above
        """Take a font."""
        self._font = font

    def setBrush(self, brush: object) -> None:  # noqa: N802 - as above
        """Remember whether shapes hide what is below them."""
        self._filled = brush != Qt.BrushStyle.NoBrush

    def drawStaticText(self, *told: object) -> None:  # noqa: N802 - as above
        """Note where a line of words stands, as large as the font makes it at this scaling."""
        text = told[-1]
        assert isinstance(text, QStaticText)
        place = QPointF(*told[:2]) if len(told) == 3 else told[0]
        if text.text().strip():
            text.prepare(QTransform.fromScale(self._ratio, self._ratio), self._font)
            box = QRectF(place, text.size())
            # Leading and descent of a line may lie over those of the next.
            box.adjust(0, 0.15 * box.height(), 0, -0.2 * box.height())
            self._note("word", box, text.text())

    def drawText(self, *told: object) -> None:  # noqa: N802 - as above
        """Note words on a base line, or in the middle of a rectangle."""
        words, metrics = str(told[-1]), self._metrics()
        ink = metrics.tightBoundingRect(words)
        ink = QRectF(ink.topLeft() / self._ratio, ink.size() / self._ratio)
        wide = metrics.horizontalAdvance(words) / self._ratio
        if isinstance(told[0], QPointF):
            box = QRectF(told[0].x(), told[0].y() + ink.top(), wide, ink.height())
        else:
            room = QRectF(told[0])
            box = QRectF(0, 0, wide, ink.height())
            box.moveCenter(room.center())
            if not Qt.AlignmentFlag(told[1]) & Qt.AlignmentFlag.AlignHCenter:
                box.moveLeft(room.left())
        self._note("word", box, words)

    def drawEllipse(self, middle: QPointF, across: float, down: float) -> None:  # noqa: N802 - its name in Qt
        """Note a disc; the square inside it hides what is below."""
        box = QRectF(middle.x() - across, middle.y() - down, 2 * across, 2 * down)
        self._note("disc" if self._filled else "ring", box)

    def fillRect(self, rect: QRectF, brush: object) -> None:  # noqa: N802 - as above
        """Note a ground."""
        self._note("ground", QRectF(rect))

    def drawRect(self, rect: QRectF) -> None:  # noqa: N802 - as above
        """Note a ground, or four lines."""
        if self._filled:
            self._note("ground", QRectF(rect))
        else:
            self.drawRects([rect])

    def drawRoundedRect(self, rect: QRectF, *radii: float) -> None:  # noqa: N802 - as above
        """Note a ground."""
        self.drawRect(rect)

    def drawRects(self, rects: list[QRectF]) -> None:  # noqa: N802 - as above
        """Note the sides."""
        for rect in rects:
            corners = [rect.topLeft(), rect.topRight(), rect.bottomRight(), rect.bottomLeft()]
            self.drawPolyline([*corners, corners[0]])

    def drawPolyline(self, points: list[QPointF]) -> None:  # noqa: N802 - as above
        """Note each stretch."""
        self.drawLines([QLineF(one, other) for one, other in pairwise(points)])

    def drawLine(self, *told: object) -> None:  # noqa: N802 - as above
        """Note a line."""
        self.drawLines([told[0] if len(told) == 1 else QLineF(*told)])

    def drawLines(self, lines: list[QLineF]) -> None:  # noqa: N802 - as above
        """Note lines."""
        mapped = (self._now.map(line) for line in lines)
        self.noted += [Noted("line", line=line) for line in mapped]

    def _metrics(self) -> QFontMetricsF:
        font = QFont(self._font)
        font.setPixelSize(round(font.pixelSize() * self._ratio))
        return QFontMetricsF(font)

    def _note(self, kind: str, box: QRectF, text: str = "") -> None:
        self.noted.append(Noted(kind, text, self._now.mapRect(box)))

    def __getattr__(self, name: str):
        return lambda *told, **more: None


def meeting(notes: Notes) -> list[tuple[str, str]]:
    """Return words that run into other words."""
    words = notes.boxes
    boxes = corners(box for _, box in words)
    return [
        (words[first][0], words[second][0])
        for first, second in near(boxes, boxes)
        if first < second and shares(words[first][1], words[second][1])
    ]


def shares(box: QRectF, other: QRectF) -> bool:
    """Say whether two boxes lie over each other by more than rounding explains."""
    shared = box.intersected(other)
    return min(shared.width(), shared.height()) > SLACK_PX


def corners(boxes: Iterable[QRectF]) -> Corners:
    """Return left, top, right and bottom of each box in pixels, a row for each."""
    return np.array([box.getCoords() for box in boxes], dtype=float).reshape(-1, 4)


def near(boxes: Corners, others: Corners) -> list[tuple[int, int]]:
    """Return which of the first may touch which of the others: quick, for a closer look at few."""
    one, other = boxes[:, None, :], others[None, :, :]
    apart = np.maximum(one[..., :2], other[..., :2]) - np.minimum(one[..., 2:], other[..., 2:])
    return [(int(first), int(second)) for first, second in np.argwhere((apart <= 1).all(axis=2))]


def struck(notes: Notes) -> Iterator[tuple[str, QLineF]]:
    """Yield words that a line runs through, unless a ground hides the line from them."""
    lines = [index for index, one in enumerate(notes.noted) if one.kind == "line"]
    words = [index for index, one in enumerate(notes.noted) if one.kind == "word"]
    ends = np.array([notes.noted[index].line.toTuple() for index in lines]).reshape(-1, 2, 2)
    spans = np.hstack((ends.min(axis=1), ends.max(axis=1)))
    slack = np.array([SLACK_PX, SLACK_PX, -SLACK_PX, -SLACK_PX])
    for place, which in near(corners(notes.noted[at].box for at in words) + slack, spans):
        at, index = words[place], lines[which]
        word, line = notes.noted[at], notes.noted[index].line
        inner = word.box.adjusted(SLACK_PX, SLACK_PX, -SLACK_PX, -SLACK_PX)
        if _crosses(line, inner):
            between = notes.noted[index + 1 : at]
            if index > at or not any(_hides(ground, word.box) for ground in between):
                yield word.text, line


def _hides(ground: Noted, box: QRectF) -> bool:
    if ground.kind == "disc":
        # A number may reach a little over the square inside its disc.
        return ground.box.contains(box.center())
    slack = SLACK_PX
    return ground.kind == "ground" and ground.box.adjusted(-slack, -slack, slack, slack).contains(
        box
    )


def _crosses(line: QLineF, box: QRectF) -> bool:
    if box.width() <= 0 or box.height() <= 0:
        return False
    ends = [(line.x1(), line.y1()), (line.x2(), line.y2())]
    return LineString(ends).intersects(
        shapely_box(box.left(), box.top(), box.right(), box.bottom())
    )
