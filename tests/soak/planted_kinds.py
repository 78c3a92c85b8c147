"""All kinds of errors that are planted in plan files."""

from typing import Final

from tests.soak.planted_claims import CLAIMS
from tests.soak.planted_cuts import CUTTING
from tests.soak.planting import Kind

KINDS: Final[dict[str, Kind]] = CUTTING | CLAIMS
"""Every kind by its name."""
