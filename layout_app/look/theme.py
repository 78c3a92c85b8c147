"""Colours of the shop drawing: warm paper, graphite lines, wood; by day and by lamplight.

Every pair that has to be told apart differs in lightness, so that all reads in greyscale;
hatching, line weight and words carry the meaning, colour only helps. Both are there with high
contrast too: black on white and white on black, with tints that stay near their ground.

What stands out from what, and how far, is a table in ``tests/layout_app/look/test_contrast.py``.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """Named colours as ``#rrggbb``.

    Attributes
    ----------
    paper, panel, card, band
        Grounds: the bench, the tables, cards and fields, and the bars above and below.
    graphite, pencil, faint
        Text and lines, from strong to weak.
    rule
        Lines between regions and around cards, which only set apart.
    edge
        Borders of fields, boxes to tick and handles, which have to be seen.
    wood, grain, grain_heavy
        A bare piece and the fine lines of its figure.
    kerf
        What the saw turned to dust.
    waste, waste_hatch, keeper, keeper_hatch
        Falls: cross-hatched waste and light-hatched keepers.
    trim
        Stock lost at a factory edge.
    accent, on_accent, accent_wash
        What is selected or the chief action; text upon it; a light wash of it.
    warning, warning_wash
        What cannot be cut, and a light wash of it.
    tag, tag_line, on_tag
        Round tags of cut numbers.
    tints
        Fills of parts by rip width, in turn.
    is_dark, is_high
        Whether text is lighter than its ground; whether all stands out more than usual.
    """

    name: str
    is_dark: bool
    is_high: bool
    paper: str
    panel: str
    card: str
    band: str
    graphite: str
    pencil: str
    faint: str
    rule: str
    edge: str
    wood: str
    grain: str
    grain_heavy: str
    kerf: str
    waste: str
    waste_hatch: str
    keeper: str
    keeper_hatch: str
    trim: str
    accent: str
    on_accent: str
    accent_wash: str
    warning: str
    warning_wash: str
    tag: str
    tag_line: str
    on_tag: str
    tints: tuple[str, ...]

    @classmethod
    def light(cls) -> "Theme":
        """Return paper by day."""
        return _LIGHT

    @classmethod
    def dark(cls) -> "Theme":
        """Return the same drawing by lamplight."""
        return _DARK

    @classmethod
    def high_contrast(cls, *, dark: bool) -> "Theme":
        """Return the drawing in black on white, or in white on black."""
        return _HIGH_DARK if dark else _HIGH_LIGHT

    @classmethod
    def of(cls, *, dark: bool, high: bool) -> "Theme":
        """Return one of the four."""
        if high:
            return cls.high_contrast(dark=dark)
        return _DARK if dark else _LIGHT


_LIGHT = Theme(
    name="light",
    is_dark=False,
    is_high=False,
    paper="#eee7d8",
    panel="#f7f3e9",
    card="#fffefb",
    band="#e4dac6",
    graphite="#2a2825",
    pencil="#565046",
    faint="#6a6357",
    rule="#d6ccb6",
    edge="#8a8274",
    wood="#ead2a8",
    grain="#c9ad7d",
    grain_heavy="#b39362",
    kerf="#ffffff",
    waste="#e6cfa3",
    waste_hatch="#7a6640",
    keeper="#f4e5c8",
    keeper_hatch="#8b7749",
    trim="#d5bb8c",
    accent="#1d5a7d",
    on_accent="#ffffff",
    accent_wash="#dfe9ee",
    warning="#a3301f",
    warning_wash="#f6ddd5",
    tag="#fffefb",
    tag_line="#2a2825",
    on_tag="#2a2825",
    tints=("#d3dcbf", "#c3cfd8", "#e8d99e", "#dcc3b4", "#bcd3cb", "#cfc6dc", "#e3cdaa", "#b9c4b0"),
)

_DARK = Theme(
    name="dark",
    is_dark=True,
    is_high=False,
    paper="#22201c",
    panel="#2a2823",
    card="#35322c",
    band="#1a1815",
    graphite="#efe8d9",
    pencil="#cdc5b6",
    faint="#a59d8d",
    rule="#4a453b",
    edge="#877f71",
    wood="#5c4b31",
    grain="#856f4b",
    grain_heavy="#9a8259",
    kerf="#11100e",
    waste="#41382a",
    waste_hatch="#948463",
    keeper="#54462f",
    keeper_hatch="#a7956c",
    trim="#3b3225",
    accent="#8cc3df",
    on_accent="#12222c",
    accent_wash="#2d3f49",
    warning="#f79a85",
    warning_wash="#4d2d26",
    tag="#35322c",
    tag_line="#efe8d9",
    on_tag="#efe8d9",
    tints=("#465232", "#3a4958", "#5b522a", "#593f35", "#34504a", "#4a4159", "#5c4a2f", "#3c4838"),
)

_HIGH_LIGHT = Theme(
    name="high contrast light",
    is_dark=False,
    is_high=True,
    paper="#ffffff",
    panel="#ffffff",
    card="#ffffff",
    band="#e8e8e8",
    graphite="#000000",
    pencil="#1c1c1c",
    faint="#3d3d3d",
    rule="#5a5a5a",
    edge="#000000",
    wood="#f6ecd9",
    grain="#b99f74",
    grain_heavy="#97794a",
    kerf="#ffffff",
    waste="#f2e9da",
    waste_hatch="#4d3d1c",
    keeper="#fffaf0",
    keeper_hatch="#5f4d26",
    trim="#e4d8c2",
    accent="#003b73",
    on_accent="#ffffff",
    accent_wash="#d6e8fa",
    warning="#8a0000",
    warning_wash="#ffe4de",
    tag="#ffffff",
    tag_line="#000000",
    on_tag="#000000",
    tints=("#e3f0cd", "#d3e6f7", "#fbefb4", "#f9ddcb", "#cdf0e6", "#e8def7", "#fbe6c4", "#dbe4d6"),
)

_HIGH_DARK = Theme(
    name="high contrast dark",
    is_dark=True,
    is_high=True,
    paper="#000000",
    panel="#000000",
    card="#0b0b0b",
    band="#1c1c1c",
    graphite="#ffffff",
    pencil="#ececec",
    faint="#c4c4c4",
    rule="#9a9a9a",
    edge="#ffffff",
    wood="#2b2111",
    grain="#6d5a38",
    grain_heavy="#8f794f",
    kerf="#000000",
    waste="#171208",
    waste_hatch="#c0aa7c",
    keeper="#22190b",
    keeper_hatch="#c9b385",
    trim="#120e06",
    accent="#8fd3ff",
    on_accent="#000000",
    accent_wash="#0d3350",
    warning="#ffb09e",
    warning_wash="#4a130a",
    tag="#000000",
    tag_line="#ffffff",
    on_tag="#ffffff",
    tints=("#25330f", "#14293d", "#383004", "#3d2215", "#0b352b", "#2c2044", "#3a2a0a", "#222c1d"),
)
