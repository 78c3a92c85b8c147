"""The number of a plan: a short digest, so that pages of two plans can be told apart."""

from dataclasses import fields
from hashlib import sha256
from typing import Final

from shared.plan import Plan
from shared.shop import Shop

DIGITS: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Without I, L, O and U, which are misread: the digits of base 32 as Crockford has them."""
LONG: Final = 5
"""So many digits: two plans share a number once in some 33 million times."""
PACE: Final = "_s"
"""How the names of a shop's seconds end: they change no page but its minutes."""


def plan_number(plan: Plan, shop: Shop) -> str:
    """Return the number of a plan as it stands on every page, such as ``K7-3F2``.

    It is made of what is laid where, the cuts in their order, and the shop that saws them, so
    that equal numbers mean equal pages to saw from. Units, prices, proofs, paces and ticks change
    nothing. ``""`` for a plan without cuts.
    """
    if not plan.cuts:
        return ""
    names = [one.name for one in fields(shop) if not one.name.endswith(PACE)]
    bare = [(name, getattr(shop, name)) for name in names]
    sheets = [(one.id, one.length, one.width, one.thickness, one.trims) for one in plan.sheets]
    said = repr((sheets, plan.placements, plan.cuts, plan.offcuts, bare))
    value = int.from_bytes(sha256(said.encode()).digest()[:8])
    written = "".join(DIGITS[value >> 5 * place & 31] for place in range(LONG))
    return f"{written[:2]}-{written[2:]}"
