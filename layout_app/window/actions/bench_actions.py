"""The actions of the bench: planning it, laying parts, holding them, looking at it."""

from typing import Final

from layout_app.window.actions import bench_deeds, cut_deeds, view_deeds
from layout_app.window.actions.making_actions import MAKING
from layout_app.window.actions.moving_actions import MOVING
from layout_app.window.actions.row import BENCH, ActionRow

PLANNING: Final = (
    ActionRow(
        id="bench.plan",
        text="&Plan",
        shortcut="F5",
        enabled=bench_deeds.has_parts,
        tip="Plan again; your layout, locked parts and parts set aside stay put",
        does=bench_deeds.plan,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.anew",
        text="Plan everything anew",
        shortcut="Ctrl+Shift+F5",
        enabled=bench_deeds.has_parts,
        tip="Plan your layout anew as well; asks first. Ticked cuts and locks stay",
        does=bench_deeds.plan_anew,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.again",
        text="Pla&n again",
        shortcut="Ctrl+F5",
        enabled=bench_deeds.run_broke_off,
        tip="Plan again after planning broke off; your sheets and the best plan so far stay",
        does=bench_deeds.plan_again,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.choices",
        text="Choices side &by side",
        tip="Lay other plans of this job side by side: dearer stock for less sawing",
        shortcut="F7",
        enabled=bench_deeds.has_choices,
        does=bench_deeds.show_choices,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.stop",
        text="&Stop planning",
        tip="End planning and keep the best so far",
        shortcut="Shift+F5",
        enabled=bench_deeds.is_planning,
        does=bench_deeds.stop,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.advice",
        text="What would sa&ve a sheet?",
        tip="Name what forces the last sheet, and small changes that save one",
        shortcut="Shift+F7",
        enabled=cut_deeds.has_cuts,
        does=bench_deeds.open_advice,
        menu="&Bench",
        ends_group=True,
    ),
)

LAYING: Final = (
    ActionRow(
        id="bench.turn",
        text="&Turn",
        tip="Turn the selected parts by a quarter",
        shortcut="T",
        where=BENCH,
        enabled=bench_deeds.some_placed,
        does=bench_deeds.turn,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.grain",
        text="&Grain rule",
        shortcut="G",
        where=BENCH,
        tip="Give the selected part the next grain rule",
        enabled=bench_deeds.one_part,
        does=bench_deeds.next_grain,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.grain_length",
        text="Grain along &length",
        where=BENCH,
        tip="The grain has to run along the part's length",
        no_key="G goes through the rules",
        enabled=bench_deeds.one_part,
        does=bench_deeds.grain_length,
        menu="&Bench/Set grain &rule",
    ),
    ActionRow(
        id="bench.grain_width",
        text="Grain along &width",
        where=BENCH,
        tip="The grain has to run along the part's width",
        no_key="G goes through the rules",
        enabled=bench_deeds.one_part,
        does=bench_deeds.grain_width,
        menu="&Bench/Set grain &rule",
    ),
    ActionRow(
        id="bench.grain_either",
        text="&Either way",
        where=BENCH,
        tip="The part may be cut either way",
        no_key="G goes through the rules",
        enabled=bench_deeds.one_part,
        does=bench_deeds.grain_either,
        menu="&Bench/Set grain &rule",
    ),
    ActionRow(
        id="bench.wait",
        text="Let &wait",
        shortcut="W",
        where=BENCH,
        tip="Take the selected parts from their sheets; planning leaves them waiting. Delete, too,"
        " does so on the bench",
        enabled=bench_deeds.some_placed,
        does=bench_deeds.let_wait,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.call_back",
        text="&Call back",
        shortcut="Shift+W",
        where=BENCH,
        tip="Let planning place the selected waiting part again",
        enabled=bench_deeds.one_sent,
        does=bench_deeds.call_back,
        menu="&Bench",
    ),
)

HOLDING: Final = (
    ActionRow(
        id="bench.hold",
        text="&Hold part",
        shortcut="H",
        where=BENCH,
        tip="Hold the selected parts, with what lies before them in their strips, or release them;"
        " planning goes around what is held",
        enabled=bench_deeds.can_hold,
        does=bench_deeds.hold_part,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.hold_strip",
        text="Hold str&ip",
        shortcut="Shift+H",
        where=BENCH,
        tip="Hold the strip of the selected part with all that lies in it, or release it",
        enabled=bench_deeds.can_hold,
        does=bench_deeds.hold_strip,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.hold_sheet",
        text="Hold sh&eet",
        shortcut="Ctrl+H",
        where=BENCH,
        tip="Hold the sheet of the selected part whole, or release it",
        enabled=bench_deeds.can_hold,
        does=bench_deeds.hold_sheet,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.release",
        text="Rele&ase",
        no_key="H, Shift+H and Ctrl+H release what they hold",
        where=BENCH,
        tip="Release all that holds the selected parts",
        enabled=bench_deeds.can_release,
        does=bench_deeds.release,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.release_suspended",
        text="&Forget suspended holds",
        no_key="seldom needed",
        tip="Release the holds that are not in force, since what they hold no longer fits",
        enabled=bench_deeds.some_suspended,
        does=bench_deeds.release_suspended,
        menu="&Bench",
        ends_group=True,
    ),
)

VIEWING: Final = (
    ActionRow(
        id="bench.sheet",
        text="Lay &out a sheet",
        tip="Put an empty sheet on the bench: of the row selected in sheets & rack, or one that"
        " suits the selected part",
        shortcut="Ctrl+Shift+N",
        enabled=bench_deeds.has_stock,
        does=bench_deeds.lay_out_sheet,
        menu="&Bench",
        ends_group=True,
    ),
    ActionRow(
        id="bench.whole",
        text="Whole wi&dth",
        shortcut="Ctrl+0",
        tip="Show the sheets as wide as the bench",
        does=bench_deeds.fit_width,
        menu="&Bench",
    ),
    ActionRow(
        id="bench.lamplight",
        text="&Lamplight",
        shortcut="Ctrl+Shift+L",
        tip="Change between light and dark",
        does=bench_deeds.switch_theme,
        menu="&Bench",
    ),
)

ZOOMING: Final = (
    ActionRow(
        id="bench.zoom_in",
        text="&Nearer",
        shortcut="Ctrl++",
        tip="Look at the bench from nearer; Ctrl and the wheel do so at the pointer",
        enabled=view_deeds.has_sheets,
        does=view_deeds.zoom_in,
        menu="&Bench/&Zoom",
    ),
    ActionRow(
        id="bench.zoom_out",
        text="&Farther",
        shortcut="Ctrl+-",
        tip="Look at the bench from farther; Ctrl and the wheel do so at the pointer",
        enabled=view_deeds.has_sheets,
        does=view_deeds.zoom_out,
        menu="&Bench/&Zoom",
    ),
    ActionRow(
        id="bench.all",
        text="&All sheets",
        shortcut="Ctrl+9",
        tip="Show all sheets at once",
        enabled=view_deeds.has_sheets,
        does=view_deeds.fit_all,
        menu="&Bench/&Zoom",
    ),
    ActionRow(
        id="bench.zoom_selection",
        text="&Selected parts",
        shortcut="Ctrl+8",
        tip="Show the selected parts large; on the bench the key Z does so too",
        enabled=bench_deeds.some_placed,
        does=view_deeds.zoom_to_selection,
        menu="&Bench/&Zoom",
    ),
)

BENCH_ACTIONS: Final = (*PLANNING, *LAYING, *MOVING, *MAKING, *HOLDING, *VIEWING, *ZOOMING)
