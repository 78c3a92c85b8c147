"""What the pane beside the cards says, as rich text: one cut in full, or all settings."""

from collections.abc import Iterable, Sequence
from html import escape
from itertools import groupby
from typing import Final

from layout_app.look.theme import Theme
from layout_app.panels.cards import Card

SIZES: Final = "Sizes to set, each named once"
NOTE: Final = "Levels share a size here; as set-ups, which cost time, they count one a level."
"""Why there are not as many sizes as set-ups; see *Set-up* in `shared.cuts.tally`."""

JOINED: Final = "\N{WORD JOINER}"
STEP_PX: Final = 12


def cut_text(card: Card, theme: Theme) -> str:
    """Write all that is to be said of one cut, its cautions first."""
    told = card.told
    rows = "".join(_row(heading, words, theme) for heading, words in told.lines)
    minded = "".join(_caution(one.sentence, one.source, theme) for one in told.cautions)
    return f"<p><b>{told.number}&nbsp; {escape(told.title)}</b></p>{minded}{_table(rows)}"


def settings_text(cards: Sequence[Card], theme: Theme, *, narrow: bool = False) -> str:
    """List what is set in the whole sequence, each setting once, with the cuts it serves.

    Where it is ``narrow`` the cuts stand behind their setting and go on below it, not in a column.
    """
    if not cards:
        return ""
    served: dict[str, list[int]] = {}
    for card in cards:
        served.setdefault(card.label, []).append(card.number)
    line = _behind if narrow else _row
    rows = "".join(
        line(label, f"{'cut' if len(numbers) == 1 else 'cuts'} {ranges(numbers)}", theme)
        for label, numbers in served.items()
    )
    note = f'<p style="color:{theme.pencil}">{escape(NOTE)}</p>'
    return f"<p><b>{SIZES}</b></p>{note}{rows if narrow else _table(rows)}"


def settings_spoken(cards: Sequence[Card]) -> str:
    """Say how many settings there are, for a screen reader."""
    count = len({card.label for card in cards})
    return f"{count} sizes to set. {NOTE} Select a cut to hear all of it." if cards else ""


def ranges(numbers: Iterable[int]) -> str:
    """Write rising numbers in short, such as ``1-4, 9``."""
    groups = groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0])
    found = []
    for _, group in groups:
        run = [number for _, number in group]
        found.append(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}")
    return ", ".join(found)


def _table(rows: str) -> str:
    return f'<table cellspacing="0" cellpadding="0">{rows}</table>'


def _row(heading: str, words: str, theme: Theme) -> str:
    left = f'<td style="color:{theme.pencil}; padding-right:9px">{_whole(heading)}</td>'
    return f"<tr>{left}<td>{escape(words)}</td></tr>"


def _behind(heading: str, words: str, theme: Theme) -> str:
    """Write both on one line; where it is too long it goes on under the heading, a step in."""
    left = f'<span style="color:{theme.pencil}">{_whole(heading)}</span>'
    cuts = escape(words).replace("-", f"-{JOINED}").replace(" ", "&nbsp;", 1)
    return (
        f'<p style="margin:0 0 2px {STEP_PX}px; text-indent:-{STEP_PX}px">{left}&nbsp; {cuts}</p>'
    )


def _whole(words: str) -> str:
    """Return words that no end of a line breaks, also before the rest of a size."""
    return escape(words).replace("- ", f"-{JOINED} ").replace(" ", "&nbsp;")


def _caution(sentence: str, source: str, theme: Theme) -> str:
    from_where = f'<span style="color:{theme.pencil}">({escape(source)})</span>'
    return f'<p style="color:{theme.warning}"><b>!</b>&nbsp; {escape(sentence)} {from_where}</p>'
