"""What is to be done at each cut, in words: found from its record, never stored.

How a cut is made is decided in `shared.making`. `recorded` has the saw read the records first;
`words`, `squareness` and `supporting` say what they hold, `minding` their cautions;
`instruction` puts it together.
"""

from shared.telling.instruction import Instruction, Untold, instructions, instructions_of, untold
from shared.telling.minding import Caution

__all__ = [
    "Caution",
    "Instruction",
    "Untold",
    "instructions",
    "instructions_of",
    "untold",
]
