"""Real strips met while proving: proper, on the exact scale, for integer programs."""

from collections import Counter
from collections.abc import Iterable, Sequence

from solver.material.instance import Block, Instance, Lying, Strip
from solver.proof.shapes import SheetShape


class StripPool:
    """Distinct strips of each shape, in order of discovery."""

    def __init__(self, instance: Instance) -> None:
        self._instance = instance
        self._strips: dict[SheetShape, dict[Strip, None]] = {}

    def of(self, shape: SheetShape) -> tuple[Strip, ...]:
        """Return the strips found for a shape."""
        return tuple(self._strips.get(shape, ()))

    def add(self, shape: SheetShape, blocks: Iterable[Sequence[Lying]]) -> None:
        """Keep what really fits of a strip given by the items of its blocks."""
        strip = self._proper(shape, blocks)
        if strip.blocks:
            self.keep(shape, strip)

    def keep(self, shape: SheetShape, strip: Strip) -> None:
        """Keep a strip that is known to be sound."""
        self._strips.setdefault(shape, {})[strip] = None

    def _proper(self, shape: SheetShape, blocks: Iterable[Sequence[Lying]]) -> Strip:
        """Drop items of which there are no more copies, or no room, blocks likewise."""
        left = Counter({i: item.demand for i, item in enumerate(self._instance.items)})
        room = shape.length
        kept: list[Block] = []
        for stack in blocks:
            block = self._block(shape, stack, left)
            if block.stack and block.length <= room:
                kept.append(block)
                room -= block.length
                left.subtract(lying.item for lying in block.stack)
        return self._instance.strip(sorted(kept))

    def _block(self, shape: SheetShape, stack: Sequence[Lying], left: Counter[int]) -> Block:
        free, room = left.copy(), shape.width
        fitting: list[Lying] = []
        for lying in stack:
            width = self._instance.size(*lying)[1]
            if free[lying.item] > 0 and width <= room:
                free[lying.item] -= 1
                room -= width
                fitting.append(lying)
        return self._instance.block(sorted(fitting))
