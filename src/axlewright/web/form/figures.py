"""From what is typed to what is drawn: every figure that can be read, the last good one where it cannot."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from axlewright.tasks.describing import FieldSpec
from axlewright.web.drawing.measures import Measures
from axlewright.web.form.layout import label, schema_name
from axlewright.web.form.tree import plain_value
from axlewright.web.form.typed import LONGEST_TEXT, Typed

_LONGEST_SHOWN = 9
_MOST_LAST = 4000


@dataclass(frozen=True)
class Drawable:
    """What is drawn, and the texts it was read from, to be drawn again where a field stops being readable."""

    measures: Measures
    last: str


def drawable(typed: Typed, last: str = "") -> Drawable:
    """What can be drawn of a form.

    Args:
        typed: everything typed.
        last: what `Drawable.last` was when the form was last drawn.
    """
    before, kept = _last_good(last), dict[str, str]()
    values, shown, labels, counts = dict[str, float](), dict[str, str](), dict[str, str](), dict[str, int]()
    optional = set[str]()
    for place in typed.places():
        _count(place.name, counts)
        if not place.spec.needed:
            optional.add(place.name)
        labels[place.name] = label(schema_name(place.name))
        if place.spec.quantity is None and place.spec.what != "clock":
            continue
        for text in (place.text.strip(), before.get(place.name, "") if place.text.strip() else ""):
            value = place.spec.read(plain_value(place.spec, text), typed.inch) if text else None
            if value is not None:
                values[place.name], shown[place.name] = value, _shown(place.spec, text)
                kept[place.name] = text
                break
    measures = Measures(values, typed.texts, shown, labels, counts, optional)
    return Drawable(measures, json.dumps(kept, ensure_ascii=False, separators=(",", ":")))


def _count(name: str, counts: dict[str, int]) -> None:
    parts = name.split(".")
    for n, part in enumerate(parts):
        if part.isdecimal():
            prefix = ".".join(parts[:n])
            counts[prefix] = max(counts.get(prefix, 0), int(part) + 1)


def _last_good(text: str) -> Mapping[str, str]:
    """What was last drawn; nothing where the browser sent something else."""
    try:
        found = json.loads(text) if text else {}
    except ValueError:
        return {}
    if not isinstance(found, dict) or len(found) > _MOST_LAST:
        return {}
    return {
        str(name): one for name, one in found.items() if isinstance(one, str) and len(one) <= LONGEST_TEXT
    }


def _shown(spec: FieldSpec, text: str) -> str:
    """A value as it stands on the drawing: as typed, to four figures where that is too long."""
    if len(text) > _LONGEST_SHOWN:
        try:
            return f"{float(text):.4g}"
        except ValueError:
            return text[: _LONGEST_SHOWN + 3]
    return text
