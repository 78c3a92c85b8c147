"""The records of plans, each read by the simulated saw before any word is found for it."""

from collections.abc import Sequence
from typing import NamedTuple

from shared.issues import Issue
from shared.making.record import CutRecord
from shared.making.recording import records
from shared.plan import Plan
from shared.remembered import Remembered
from shared.saw.records import wrong_records
from shared.shop import Shop


class Recorded(NamedTuple):
    """The record of every cut, and the first thing that is wrong with one, ``None`` for nothing."""

    records: tuple[CutRecord, ...]
    refused: Issue | None


class RecordRefusedError(ValueError):
    """A record does not lie on the sawhorses, so that nothing may be told of it."""


def recorded(plans: Sequence[Plan], shop: Shop) -> Recorded:
    """Return the records of plans in the order in which they are sawn, and what the saw says.

    Of the plans shown last they are remembered: whoever shows them asks once, and so do those
    who find words.
    """
    return _recorded(shop, *plans)


def _record(shop: Shop, *plans: Plan) -> Recorded:
    made = records(plans, shop)
    return Recorded(made, next(wrong_records(plans, shop, made), None))


_recorded = Remembered(_record, 4)
