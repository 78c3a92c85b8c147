"""A look for pictures of cuts: black on white, in millimetres."""

from layout_app.paper import ink
from layout_app.paper.cut_picture import CutLook

LOOK = CutLook(
    stays="#ffffff",
    off="#d9d9d9",
    waste="#ffffff",
    hatching=ink.Pen(width=0.18),
    apart=2.2,
    kerf="#ffffff",
    sliver=1.0,
    outline=ink.Pen(width=0.5),
    rail=ink.Pen(width=0.9),
    dashes=(2.0, 1.2),
    beyond=3.0,
    mark=ink.Pen(width=0.55),
    mark_at=(5.0, 3.0),
    mark_half=1.5,
    mark_tall=2.4,
)
