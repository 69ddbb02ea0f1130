"""Files that are no model, made from one that is: damaged, foreign, harmful."""

from __future__ import annotations

import io
import os
import pickle
import random
import zipfile
from collections.abc import Callable

import numpy as np


class Harmful:
    """Something whose unpickling leaves a trace."""

    def __reduce__(self) -> tuple[Callable[..., object], tuple[object, ...]]:
        """Make a folder when unpickled."""
        return (os.mkdir, ("unpickled",))


SAVEZ = np.savez
"""The real thing, for tests that put something else in its place."""


def npz(**arrays: object) -> bytes:
    """Bytes of an archive of arrays."""
    data = io.BytesIO()
    SAVEZ(data, **arrays)  # type: ignore[arg-type]
    return data.getvalue()


def _npy(array: object) -> bytes:
    data = io.BytesIO()
    np.save(data, np.asarray(array), allow_pickle=True)
    return data.getvalue()


def _zip(names: dict[str, bytes], **how: int) -> bytes:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", **how) as file:
        for name, content in names.items():
            file.writestr(name, content)
    return data.getvalue()


def _encrypted(data: bytes) -> bytes:
    """The same archive with the flag for encryption set on its first entry."""
    spoilt = bytearray(data)
    spoilt[spoilt.index(b"PK\x01\x02") + 8] |= 1
    spoilt[6] |= 1
    return bytes(spoilt)


def _other_method(data: bytes) -> bytes:
    """The same archive with an unknown compression on its first entry."""
    spoilt = bytearray(data)
    spoilt[spoilt.index(b"PK\x01\x02") + 10] = 77
    spoilt[8] = 77
    return bytes(spoilt)


def _huge(data: bytes) -> bytes:
    """The same archive with an array that claims a shape of many terabytes."""
    claim = b"'shape': (9999999999999,), }"
    header = b"{'descr': '<f8', 'fortran_order': False, " + claim
    header += b" " * (117 - len(header)) + b"\n"
    npy = b"\x93NUMPY\x01\x00" + len(header).to_bytes(2, "little") + header + b"\0" * 80
    with zipfile.ZipFile(io.BytesIO(data)) as file:
        return _zip({name: npy if name == "rate.npy" else file.read(name) for name in file.namelist()})


def _one_number_changed(data: bytes) -> bytes:
    """A sound archive with the old digest and one figure of the compliance changed."""
    with np.load(io.BytesIO(data)) as file:
        arrays = {name: file[name].copy() for name in file.files}
    arrays["compliance"][0, 0] *= 1 + 1e-15
    assert arrays["compliance"][0, 0] != np.load(io.BytesIO(data))["compliance"][0, 0]
    return npz(**arrays)


def _without(data: bytes, gone: str) -> bytes:
    with np.load(io.BytesIO(data)) as file:
        return npz(**{name: file[name] for name in file.files if name != gone})


SPOILT: dict[str, Callable[[bytes], bytes]] = {
    "empty": lambda data: b"",
    "cut to a half": lambda data: data[: len(data) // 2],
    "last byte gone": lambda data: data[:-1],
    "first half zeros": lambda data: bytes(len(data) // 2) + data[len(data) // 2 :],
    "random bytes": lambda data: random.Random(1).randbytes(10_000),
    "text": lambda data: b"this is no model\n" * 100,
    "zip of something else": lambda data: _zip({"letter.txt": b"dear all"}),
    "compressed zip of something else": lambda data: _zip(
        {"digest": b"x" * 999}, compression=zipfile.ZIP_DEFLATED
    ),
    "a single array": lambda data: _npy(np.arange(9.0)),
    "a single pickled array": lambda data: _npy(np.array([Harmful()], dtype=object)),
    "a pickle": lambda data: pickle.dumps(Harmful()),
    "object arrays": lambda data: npz(
        compliance=np.array([Harmful()], dtype=object), digest=np.array("0" * 64)
    ),
    "no digest": lambda data: _without(data, "digest"),
    "an array gone": lambda data: _without(data, "thermal"),
    "one number changed": _one_number_changed,
    "encrypted": _encrypted,
    "unknown compression": _other_method,
    "array of terabytes": _huge,
}
