"""Colours of the shop drawing: warm paper, graphite lines, wood; by day and by lamplight.

Every pair that has to be told apart differs in lightness, so that all reads in greyscale;
hatching, line weight and words carry the meaning, colour only helps.
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
        Lines between regions and around cards.
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
    """

    name: str
    paper: str
    panel: str
    card: str
    band: str
    graphite: str
    pencil: str
    faint: str
    rule: str
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

    @property
    def is_dark(self) -> bool:
        """Whether text is lighter than its ground."""
        return self.name == "dark"

    @classmethod
    def light(cls) -> "Theme":
        """Return paper by day."""
        return _LIGHT

    @classmethod
    def dark(cls) -> "Theme":
        """Return the same drawing by lamplight."""
        return _DARK


_LIGHT = Theme(
    name="light",
    paper="#eee7d8",
    panel="#f7f3e9",
    card="#fffefb",
    band="#e4dac6",
    graphite="#2a2825",
    pencil="#625c52",
    faint="#8d8577",
    rule="#d6ccb6",
    wood="#ead2a8",
    grain="#c9ad7d",
    grain_heavy="#b39362",
    kerf="#ffffff",
    waste="#e0c696",
    waste_hatch="#a98c5c",
    keeper="#f0dcb8",
    keeper_hatch="#cfb485",
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
    paper="#22201c",
    panel="#2a2823",
    card="#35322c",
    band="#1a1815",
    graphite="#efe8d9",
    pencil="#b9b0a0",
    faint="#8c8475",
    rule="#4a453b",
    wood="#6b583a",
    grain="#856f4b",
    grain_heavy="#9a8259",
    kerf="#11100e",
    waste="#4f4330",
    waste_hatch="#8a7650",
    keeper="#5f4f36",
    keeper_hatch="#7d6946",
    trim="#463b2a",
    accent="#7fb8d6",
    on_accent="#12222c",
    accent_wash="#2d3f49",
    warning="#f08a74",
    warning_wash="#4d2d26",
    tag="#35322c",
    tag_line="#efe8d9",
    on_tag="#efe8d9",
    tints=("#56633f", "#46586a", "#6f6335", "#6d5044", "#41615a", "#5a506d", "#705c3c", "#4a5744"),
)
