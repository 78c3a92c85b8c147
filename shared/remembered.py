"""What was made of the same things the last times, so that it is not made of them again."""

from collections.abc import Callable
from threading import Lock
from typing import Final, Generic, ParamSpec, TypeVar

Of = ParamSpec("Of")
Made = TypeVar("Made")
BY_VALUE: Final = frozenset((int, str))


class Remembered(Generic[Of, Made]):
    """A function of things that never change, which remembers what it returned.

    Things are told by which they are, not by what they are like: asking costs no look at them,
    and what is merely equal is worked out anew; numbers and words are told by what they are. So
    the answer is the one the function gives, as long as it looks at nothing but its arguments,
    and these are frozen throughout. They are given by place.

    Parameters
    ----------
    make
        The function.
    most
        How many answers are remembered; the one that was worked out first goes first.
    """

    def __init__(self, make: Callable[Of, Made], most: int) -> None:
        self._make, self._most = make, most
        self._known: dict[tuple[object, ...], tuple[tuple[object, ...], Made]] = {}
        self._lock = Lock()

    def __call__(self, *of: Of.args, **named: Of.kwargs) -> Made:
        """Return what the function returns."""
        if named:
            raise TypeError("what is remembered is asked for by place")
        key = tuple([one if type(one) in BY_VALUE else (id(one),) for one in of])
        found = self._known.get(key)
        if found is not None:
            return found[1]
        made = self._make(*of, **named)
        with self._lock:
            self._known[key] = of, made  # holding them, no other thing can be taken for them
            while len(self._known) > self._most:
                del self._known[next(iter(self._known))]
        return made
