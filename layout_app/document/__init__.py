"""The project in memory: undo steps, selection, ticks, what is saved of it."""
