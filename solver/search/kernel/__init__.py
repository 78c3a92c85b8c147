"""The search's inner loops, compiled to machine code.

Ruin and recreate lives on the number of tries it makes. Interpreted, a try on a workshop
list takes some 50 microseconds and more; compiled by Numba from the same Python source,
about 5, and that is what makes tight lists fit (figures: `tests/benchmarks/RESULTS.md`).
The compiled code is cached on disk by Numba and runs without the interpreter's lock.

Arrays hold the sheets being searched; their columns are named in `solver.search.kernel.sheets`.
Sizes are those of `solver.material.instance`: one kerf included.
"""
