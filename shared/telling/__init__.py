"""What is to be done at each cut, in words: derived from plan and shop, never stored.

`strokes` lays every cut over its piece; `settings` names guide, stop and fence settings;
`rails` says which rail and where it lies; `outcome` what each side becomes; `minding` which
cautions apply to this very cut; `instruction` puts all of it into words.
"""

from shared.making.devices import name_settings
from shared.making.settings import Device, Setting
from shared.making.strokes import Stroke, strokes
from shared.telling.instruction import Instruction, Untold, instructions, instructions_of, untold
from shared.telling.minding import Caution

__all__ = [
    "Caution",
    "Device",
    "Instruction",
    "Setting",
    "Stroke",
    "Untold",
    "instructions",
    "instructions_of",
    "name_settings",
    "strokes",
    "untold",
]
