"""Holding and releasing: nothing on the bench moves, planning goes around it.

Each pushes one step and says whether anything changed.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from layout_app.document.document import Document
from layout_app.document.edit import Consequence, Edit
from layout_app.model import locks
from layout_app.model.merge_plan import after_hands
from shared.layout import Hold, Scope
from shared.parts import Copy


def hold(doc: Document, scope: Scope, keys: Iterable[Copy]) -> bool:
    """Hold parts, their strips or their sheets, as one step; those that wait are passed over."""
    free = [key for key in sorted(keys) if not locks.is_held(doc.held, scope, key)]
    return _hold(doc, locks.made(doc.project, scope, free))


def hold_sheet(doc: Document, sheet: str) -> bool:
    """Hold a sheet whole."""
    return _hold(doc, tuple(locks.of_sheet(doc.layout, sheet)))


def _hold(doc: Document, holds: Sequence[Hold]) -> bool:
    """Hold what can be held, and say why the rest cannot."""
    suspended = locks.judged(doc.project, holds)
    doc.tell(*suspended.values())
    new = [one for one in holds if one not in suspended]
    if not new:
        return False
    # A bound that was proven without the holds is still one.
    after = replace(doc.project, layout=locks.with_holds(doc.layout, new))
    same = locks.asked(doc.project) == locks.asked(after)
    consequence = Consequence.NOTHING if same else Consequence.PLAN_ON
    return doc.push(Edit(f"lock {locks.said(doc.job, new)}", after, consequence))


def release(doc: Document, scope: Scope | None, keys: Iterable[Copy]) -> bool:
    """Release copies, their strips or their sheets; with no scope all that holds them."""
    return release_holds(doc, locks.on(doc.layout, doc.held, scope, keys))


def release_holds(doc: Document, holds: Sequence[Hold]) -> bool:
    """Release these holds, in force or suspended, as one step; what is free now is planned."""
    if not holds:
        return False
    text = f"unlock {locks.said(doc.job, holds)}"
    after = replace(doc.project, layout=locks.without_holds(doc.layout, frozenset(holds)))
    if locks.asked(doc.project) == locks.asked(after):
        return doc.push(Edit(text, after, Consequence.NOTHING))
    return doc.push(Edit(text, after_hands(after), Consequence.PLAN_ANEW))


def hold_or_release(doc: Document, scope: Scope, keys: Iterable[Copy]) -> bool:
    """Hold what is selected, or release it if all of it is held in that way."""
    keys = sorted(keys)
    lying = [key for key in keys if doc.layout.find(key) is not None]
    if any(not locks.is_held(doc.held, scope, key) for key in lying):
        return hold(doc, scope, lying)
    return release(doc, scope, keys)
