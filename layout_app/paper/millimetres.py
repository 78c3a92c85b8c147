"""Ticks as millimetres in text, exact: one tick is 0.000025 mm."""

from shared.lengths import MM, TICK_NM, Length

_NM_IN_MM = 1_000_000


def mm(ticks: Length) -> str:
    """Write ticks as millimetres, without trailing zeros."""
    whole, rest = divmod(abs(ticks) * TICK_NM, _NM_IN_MM)
    text = f"{whole}.{rest:06d}".rstrip("0").rstrip(".")
    return f"-{text}" if ticks < 0 else text


def rounded(value_mm: float) -> str:
    """Write millimetres that only say where words stand, to a hundredth."""
    text = f"{value_mm:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def to_mm(ticks: Length) -> float:
    """Return ticks as millimetres for setting words; never for sizes that are sawn."""
    return ticks / MM


def exact(value_mm: float) -> str:
    """Write millimetres to the millionth, which is finer than a tick, without trailing zeros."""
    text = f"{value_mm:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
