"""Process numbers of ISO 4063, from memory of the standard."""

from __future__ import annotations

import pytest

from axlewright.weld.arc import process_name


@pytest.mark.published
@pytest.mark.parametrize(
    ("process", "word"),
    [
        (111, "manual metal arc"),
        (121, "submerged arc"),
        (131, "MIG"),
        (135, "MAG"),
        (136, "flux-cored"),
        (138, "metal-cored"),
        (141, "TIG"),
        (15, "plasma"),
    ],
)
def test_process_names(process: int, word: str) -> None:
    """Each number names its process."""
    assert word in process_name(process)
