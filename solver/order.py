"""In which order a pool of items is laid: large ones first, by one measure or another."""

from random import Random

from solver.state import Table

NOISES = (0.0, 0.1, 0.3)


class Order:
    """Sorts by area (4 of 10), width (3) or length (2), the keys blurred, or shuffles (1)."""

    def __init__(self, table: Table, rng: Random) -> None:
        items = table.instance.items
        lengths, widths = [it.length for it in items], [it.width for it in items]
        self._keys = (table.area,) * 4 + (widths,) * 3 + (lengths,) * 2
        self._rng = rng

    def sort(self, pool: list[int]) -> None:
        """Sort item types in place."""
        rng = self._rng
        choice = rng.randrange(len(self._keys) + 1)
        if choice == len(self._keys):
            rng.shuffle(pool)
            return
        key, noise, random = self._keys[choice], rng.choice(NOISES), rng.random
        if noise:
            keys = [key[item] * (1 - noise * random()) for item in pool]
            order = sorted(range(len(pool)), key=keys.__getitem__, reverse=True)
            pool[:] = [pool[at] for at in order]
        else:
            pool.sort(key=key.__getitem__, reverse=True)
