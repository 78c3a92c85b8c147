"""What the bench speaks: what is selected, and what is said beside a part in the hand.

The words are those of the readout, the tray and the words beside the pointer.
"""

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from layout_app.bench.around import placed, tell_copy
from layout_app.bench.carrying import Carrying
from layout_app.bench.hand import Hand
from layout_app.bench.shelf import Shelf
from layout_app.bench.slips import lines_of
from layout_app.document.judging_many import judge_here
from layout_app.look.speaking import Voice
from layout_app.model.off_sheets import NOT_PLACED
from shared.layout import Scope
from shared.parts import Copy
from shared.plan import ASIDE

MOST_NAMED = 4
"""So many parts are named where several are selected; the others are counted."""
SELECTED, IN_HAND = "selected", "in the hand"


class BenchVoice(QObject):
    """Speaks for a bench, and describes it by what is selected there."""

    def __init__(self, bench: QWidget, hand: Hand, shelf: Shelf) -> None:
        super().__init__(bench)
        self.voice = Voice(bench)
        self._bench, self._hand, self._shelf = bench, hand, shelf
        self._document = hand.document
        self._shown: tuple[str, ...] = ()
        for signal in (
            self._document.selection.changed,
            self._document.layout_changed,
            self._document.job_changed,
        ):
            signal.connect(self._look)
        hand.showed.connect(self._hear)
        self._document.gestures.changed.connect(self._begin_or_end)
        self._look()

    def selected(self) -> str:
        """What is said of the selected parts; of one all that is known of it."""
        chosen = sorted(self._document.selection.parts)
        if len(chosen) == 1:
            return self._copy(chosen[0])
        if not chosen:
            return ""
        names = [self._document.job.named(key) for key in chosen[:MOST_NAMED]]
        more = len(chosen) - len(names)
        return f"{len(chosen)} parts: {', '.join(names)}" + (f" and {more} more" if more else "")

    def in_hand(self) -> str:
        """What is said beside the pointer, and where what is carried would lie."""
        return ". ".join(line.rstrip(".") for line in (*self._shown, self._place) if line)

    def _look(self) -> None:
        """Speak of the selection, unless a hand is at work: what it does is spoken of."""
        self.voice.soon(SELECTED, self._describe)

    def _describe(self) -> str:
        words = self.selected()
        if self._bench.accessibleDescription() != words:
            self._bench.setAccessibleDescription(words)
        return "" if self._hand.busy else words

    def _hear(self, lines: Sequence[str]) -> None:
        self._shown = tuple(lines)
        self.voice.soon(IN_HAND, self.in_hand)

    def _begin_or_end(self) -> None:
        self.voice.forget(IN_HAND)
        if not self._hand.busy:
            self._look()

    @property
    def _place(self) -> str:
        """Say where what is carried would lie; what is not carried says it itself."""
        interaction = self._hand.interaction
        if not isinstance(interaction, Carrying) or interaction.held.waits:
            return ""
        first = interaction.placements()[0]
        if not first.sheet:
            return ""
        usable = self._hand.sheets.stock(first.sheet).usable
        style = self._document.job.style
        return f"sheet {first.sheet}, {placed(first.x - usable.x, first.y - usable.y, style)}"

    def _copy(self, key: Copy) -> str:
        """Say name, sizes, place, grain and lock of a copy, and what is wrong with it."""
        document = self._document
        lies = document.layout.find(key)
        if lies is None:
            return _joined((document.job.named(key), *self._off_sheets(key)))
        item = self._hand.scene.sheet_item(lies.sheet)
        usable = self._hand.sheets.stock(lies.sheet).usable
        told = ""
        if item is not None:
            told = tell_copy(item.drawing, key, (usable.x, usable.y), document.job.style).rest
        return _joined(
            (
                document.job.named(key),
                told,
                f"sheet {lies.sheet}",
                self._locked(key),
                self._wrong(key),
            )
        )

    def _off_sheets(self, key: Copy) -> Iterable[str]:
        for stack in self._shelf.stacks:
            if key in stack.copies:
                size = lines_of(stack, self._document.job.style).size
                aside = key in self._shelf.aside
                return (size, ASIDE) if aside else (size, NOT_PLACED, stack.reason)
        return ("sawn before",)

    def _locked(self, key: Copy) -> str:
        """Say what of a copy is locked and what that costs, or that its lock is not in force."""
        held = self._document.held
        holders = held.holders(key)
        mine = [one.scope for one in holders if one.scope is not Scope.PART or one.key == key]
        if mine:
            costs = self._hand.scene.lock_costs
            scopes = ", ".join(dict.fromkeys(mine))
            return _joined((f"{scopes} locked", *(costs.get(one, "") for one in holders)))
        if holders:
            return "locked with another"
        return "lock not in force" if any(hold.key == key for hold, _ in held.suspended) else ""

    def _wrong(self, key: Copy) -> str:
        """Say what is wrong with a copy on a sheet that cannot be cut."""
        document, lies = self._document, self._document.layout.find(key)
        if lies is None or lies.sheet not in document.problems:
            return ""
        sheet = document.layout.sheet(lies.sheet)
        if key in judge_here(document, sheet).troubled:
            return judge_here(document, sheet, lies).words
        return "its sheet can't be cut"


def _joined(words: Iterable[str]) -> str:
    return ", ".join(filter(None, words))
