"""Random numbers of the compiled search: a 48-bit linear congruential generator.

Multiplier and increment are those of the POSIX ``drand48`` family. One array of one
integer is the state, so a search can be repeated from its seed.
"""

import numpy as np
import numpy.typing as npt

from solver.search.kernel.compiled import compiled

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

_MULTIPLIER = 25214903917
_INCREMENT = 11
_MASK = (1 << 48) - 1
_TOP = float(1 << 31)


def seeded(seed: int) -> Ints:
    """Return a state that starts from a seed; neighbouring seeds are well apart."""
    return np.array([(seed * 0x9E3779B97F4A7C15 + 0x2545F491) & _MASK], np.int64)


@compiled
def share(state: Ints) -> float:
    """Return a number from 0 (included) to 1 (left out)."""
    state[0] = (state[0] * _MULTIPLIER + _INCREMENT) & _MASK
    return float(state[0] >> 17) / _TOP


@compiled
def below(state: Ints, count: int) -> int:
    """Return a whole number from 0 to count - 1."""
    return int(share(state) * count)
