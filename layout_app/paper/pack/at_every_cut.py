"""What holds at every cut, and the cautions of a job by their letters: once, at the front."""

from typing import Final, NamedTuple

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.pack.blocks import beside, height, paragraph, points
from layout_app.paper.pack.book import GUTTER, TEXT, Book
from layout_app.paper.pack.setting import length_of, rule, words
from layout_app.paper.pack.signs import SIGN, danger_sign, handling_mark
from layout_app.paper.pack.tables import TableRow
from shared.cautions import DEFER, SUPPORT, cautions_for
from shared.making.hazards import BY_CODE, PRACTICE, Sort
from shared.shop import Support
from shared.telling.general import in_general

EVERY_CUT: Final = "At every cut"
BY_LETTER: Final = "Cautions by letter (common practice where nobody is named)"
MEANS: Final = "Triangle: danger, something can kick, tip, fall, pinch or be thrown. H: handling."


class CautionOnce(NamedTuple):
    """A caution of a job: its letter, whether it is a danger, what to do, why, and who says so.

    ``source`` is ``""`` for common practice alone.
    """

    letter: str
    danger: bool
    do: str
    why: str
    source: str

    @property
    def reason(self) -> str:
        """Why, and who says so."""
        return f"{self.why} ({self.source})" if self.source else self.why


def cautions_once(matter: Matter) -> tuple[CautionOnce, ...]:
    """Return the cautions that any cut of a job has, dangers first; a long source is said once."""
    said: dict[str, str] = {PRACTICE: ""}
    found = []
    met = {caution.code for one in matter.told for caution in one.cautions}
    for code, letter in matter.letters.items():
        if code not in met:
            continue
        rule = BY_CODE[code]
        source = said.get(rule.source, rule.source)
        found.append(
            CautionOnce(letter, rule.sort is Sort.DANGER, in_general(code), rule.reason, source)
        )
        if len(rule.source) > LONG:
            said.setdefault(rule.source, f"as at {letter}")
    return tuple(found)


LONG: Final = 15
"""A source of more letters is named once, then by the letter of the caution that names it."""
_CLOSE: Final = 1.2
"""From line to line, in text sizes."""


def put_cautions(book: Book, matter: Matter) -> None:
    """Put what holds at every cut, and below it what holds at some, by letter."""
    book.heading(EVERY_CUT)
    shown = any(one.record.bearers for one in matter.told)
    held = [
        one
        for one in cautions_for(matter.job.shop)
        if not (shown and one == SUPPORT[Support.HORSES])
    ]  # bearers have a picture of their own then
    for rows in points((DEFER, *held), book.room.length, TEXT):
        book.keep(height(rows))
        for row in rows:
            book.put(_CLOSE * TEXT, row.draw)
    found = cautions_once(matter)
    if not found:
        return
    book.heading(BY_LETTER)
    book.paragraph(MEANS)
    letter = max(length_of(one.letter, TEXT, bold=True) for one in found)
    for one in found:
        row = _row(one, book.room.length, SIGN + letter + TEXT / 2)
        book.put(row.height, row.draw)


ABOVE: Final = 0.25
"""Free above and below a row, in mm."""


def _row(one: CautionOnce, length: float, inside: float) -> TableRow:
    """Set a caution: sign and letter, ``inside`` mm from the left what to do, beside that why."""
    column = (length - inside - GUTTER / 2) / 2
    do = paragraph(one.do, column, TEXT, bold=True, leading=_CLOSE)
    why = paragraph(one.reason, column, TEXT, leading=_CLOSE)
    high = max(height(do), height(why)) + 2 * ABOVE

    def draw(x: float, y: float, length: float) -> list[ink.Item]:
        middle = y + ABOVE + _CLOSE * TEXT / 2
        sign = danger_sign if one.danger else handling_mark
        items = [*sign(x, middle), words(one.letter, x + SIGN, middle, TEXT, bold=True)]
        for rows, left in ((do, x + inside), (why, x + inside + column + GUTTER / 2)):
            items += beside([rows], 0.0).draw(left, y + ABOVE, length)
        return [*items, rule(x, x + length, y + high)]

    return TableRow(high, draw)
