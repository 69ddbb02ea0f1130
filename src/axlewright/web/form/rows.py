"""Adding, taking away, copying and mirroring entries, as the form's buttons ask."""

from __future__ import annotations

import re

from axlewright.tasks.describing import FieldSpec
from axlewright.units import LENGTH
from axlewright.web.form.layout import entry_name, may_be_mirrored, new_entry, schema_name, table_of
from axlewright.web.form.switching import written
from axlewright.web.form.typed import Typed, cleaned

_SIDES = {"left": "right", "right": "left"}


def changed_rows(typed: Typed, action: str) -> tuple[Typed, str]:
    """What is typed after an action, and the field to go on in; an action that asks for nothing known changes nothing.

    Args:
        typed: before.
        action: "add:truss", "add:truss.0.top", "after:truss.0.top.2", "remove:gusset.1", "copy:gusset.1" or
            "mirror:gusset.1".
    """
    verb, _, target = action.partition(":")
    try:
        if verb == "add":
            return _added(typed, target, typed.count(target))
        prefix, _, number = target.rpartition(".")
        if not number.isascii() or not number.isdecimal() or int(number) >= typed.count(prefix):
            return typed, ""
        return _on_entry(typed, verb, prefix, int(number))
    except (KeyError, AssertionError):
        return typed, ""


def _on_entry(typed: Typed, verb: str, prefix: str, number: int) -> tuple[Typed, str]:
    if verb == "after":
        return _added(typed, prefix, number + 1)
    if verb == "remove":
        kept = {
            name: text for name, text in typed.texts.items() if not name.startswith(f"{prefix}.{number}.")
        }
        return cleaned(kept), ""
    if verb not in ("copy", "mirror") or typed.count(prefix) >= _most(prefix):
        return typed, ""
    entry = _entry(typed, prefix, number)
    if verb == "mirror" and may_be_mirrored(schema_name(prefix)):
        entry = _mirrored(typed, entry, prefix)
    if "name" in entry:
        entry["name"] = _fresh(typed, prefix, entry["name"])
    place = typed.count(prefix)
    added = {f"{prefix}.{place}.{key}": text for key, text in entry.items()}
    return Typed({**typed.texts, **added}), f"{prefix}.{place}.{next(iter(entry))}"


def _entry(typed: Typed, prefix: str, number: int) -> dict[str, str]:
    """Texts of an entry by the rest of their names."""
    start = f"{prefix}.{number}."
    return {name.removeprefix(start): text for name, text in typed.texts.items() if name.startswith(start)}


def _most(prefix: str) -> int:
    """Entries a list may have; none where there is no list."""
    table, _, key = schema_name(prefix).rpartition(".")
    part = table_of(table).part(key)
    is_list = part.what == "pairs" if isinstance(part, FieldSpec) else part.many
    return part.most if is_list else 0


def _added(typed: Typed, prefix: str, place: int) -> tuple[Typed, str]:
    """An entry more at a place in a list."""
    if typed.count(prefix) >= _most(prefix):
        return typed, ""
    dotted = schema_name(prefix)
    entry = new_entry(dotted) or {"0": "", "1": ""}
    if "name" in entry:
        entry["name"] = _fresh(typed, prefix, entry["name"])
    shifted = {_shifted(name, prefix, place): text for name, text in typed.texts.items()}
    added = {f"{prefix}.{place}.{key}": text for key, text in entry.items()}
    return Typed({**shifted, **added}), f"{prefix}.{place}.{next(iter(entry))}"


def _shifted(name: str, prefix: str, place: int) -> str:
    if not name.startswith(prefix + "."):
        return name
    number, _, rest = name.removeprefix(prefix + ".").partition(".")
    return f"{prefix}.{int(number) + (int(number) >= place)}.{rest}"


def _fresh(typed: Typed, prefix: str, wanted: str) -> str:
    """A name nothing else has: the other side's, or numbered."""
    taken = {text.strip() for name, text in typed.texts.items() if name.endswith(".name")}
    stem = re.sub(r" [0-9]+$", "", wanted.strip()) or entry_name(schema_name(prefix))
    candidates = [wanted.strip(), _other_side(stem), *(f"{stem} {n}" for n in range(2, 200))]
    return next((one for one in candidates if one and one not in taken), wanted)


def _other_side(text: str) -> str:
    return re.sub(r"\b(left|right)\b", lambda found: _SIDES[found[1]], text)


def _mirrored(typed: Typed, entry: dict[str, str], prefix: str) -> dict[str, str]:
    """An entry on the other side of the middle of the axle; its place stays where the length is not known."""
    turned = {
        key: _other_side(text) if key in ("name", "end", "perch") else text for key, text in entry.items()
    }
    length = _length(typed)
    spec = next((one for one in table_of(schema_name(prefix)).fields if one.key == "at"), None)
    at = None if spec is None else spec.read(entry.get("at", "").strip(), typed.inch)
    if at is not None and length is not None and 0.0 <= at <= length:
        turned["at"] = written(round(length - at, LENGTH.digits), LENGTH, typed.inch)
    return turned


def _length(typed: Typed) -> float | None:
    spec = table_of("housing").part("length")
    assert isinstance(spec, FieldSpec)
    return spec.read(typed.text("housing.length").strip(), typed.inch)
