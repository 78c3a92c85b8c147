"""The number of a plan: a short digest, so that pages of two plans can be told apart."""

import json
from collections.abc import Collection
from dataclasses import fields, is_dataclass
from enum import Enum
from hashlib import sha256
from typing import Final

from shared.plan import Plan
from shared.remembered import Remembered
from shared.shop import Shop

DIGITS: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Without I, L, O and U, which are misread: the digits of base 32 as Crockford has them."""
LONG: Final = 5
"""So many digits: two plans share a number once in some 33 million times."""
PACE: Final = "_s"
"""How the names of a shop's seconds end: they change no page but its minutes."""
OF_SHEETS: Final = {"stock", "price", "cost", "by_area", "stays", "off_rule", "tree"}
"""What pages to saw from do not say of a sheet: prices, and how its plan came about."""
OF_SHOPS: Final = {"aside"}
"""Gear that lies aside."""


def _made(plan: Plan, shop: Shop) -> str:
    """Return the number of a plan that is sawn in a shop."""
    if not plan.cuts:
        return ""
    said = (
        [_said(part) for part in plan.parts],
        [_said(sheet, OF_SHEETS) for sheet in plan.sheets],
        [_said(one) for one in (*plan.placements, *plan.cuts, *plan.offcuts)],
        _said(shop, OF_SHOPS | {one.name for one in fields(shop) if one.name.endswith(PACE)}),
    )
    text = json.dumps(said, sort_keys=True, separators=(",", ":"))
    value = int.from_bytes(sha256(text.encode()).digest()[:8])
    written = "".join(DIGITS[value >> 5 * place & 31] for place in range(LONG))
    return f"{written[:2]}-{written[2:]}"


_remembered = Remembered(_made, 8)


def plan_number(plan: Plan, shop: Shop) -> str:
    """Return the number of a plan as it stands on every page, such as ``K7-3F2``.

    It is made of the parts and sheets by name and size, what is laid where, the cuts in their
    order, and the shop that saws them, so that equal numbers mean equal pages to saw from.
    Units, prices, proofs, paces, ticks and the name of the job change nothing. ``""`` for a plan
    without cuts.
    """
    return _remembered(plan, shop)


def _said(value: object, unsaid: Collection[str] = ()) -> object:
    """Return a value as JSON has it; fields that say nothing are left out.

    So a number stays what it was when a later version of the program has one field more.
    """
    if is_dataclass(value):
        named = {one.name: getattr(value, one.name) for one in fields(value)}
        return {name: _said(it) for name, it in named.items() if it and name not in unsaid}
    if isinstance(value, tuple):
        return [_said(one) for one in value]
    return value.value if isinstance(value, Enum) else value
