"""A job as a form: what is typed, as a tree of the job file and back; messages at their fields; units switched.

Reading what is typed needs the job's model, which takes a while to load; it is fetched when a form is first asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from axlewright.on_demand import on_demand

if TYPE_CHECKING:
    from axlewright.web.form.messages import Messages, anchors_shown, messages_for
    from axlewright.web.form.rows import changed_rows
    from axlewright.web.form.sheet import Sheet, dimension_sheet, redrawn
    from axlewright.web.form.switching import switched
    from axlewright.web.form.tree import as_typed, tree_of, typed_of
    from axlewright.web.form.typed import Typed, blank, cleaned

__all__ = [
    "Messages",
    "Sheet",
    "Typed",
    "anchors_shown",
    "as_typed",
    "blank",
    "changed_rows",
    "cleaned",
    "dimension_sheet",
    "messages_for",
    "redrawn",
    "switched",
    "tree_of",
    "typed_of",
]

__getattr__ = on_demand(
    __name__,
    {
        "axlewright.web.form.messages": ("Messages", "anchors_shown", "messages_for"),
        "axlewright.web.form.rows": ("changed_rows",),
        "axlewright.web.form.sheet": ("Sheet", "dimension_sheet", "redrawn"),
        "axlewright.web.form.switching": ("switched",),
        "axlewright.web.form.tree": ("as_typed", "tree_of", "typed_of"),
        "axlewright.web.form.typed": ("Typed", "blank", "cleaned"),
    },
)
