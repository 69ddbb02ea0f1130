"""The shop file: it reads back as written, loses nothing, and says which field is damaged."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shop.shop_results import housings

from axlewright.errors import ShopFileError
from axlewright.shop.evidence import Evidence, Observation
from axlewright.shop.posterior import learn
from axlewright.shop.shop_file import Shop, read_shop, reset_shop, shop_path, write_shop
from axlewright.shop.shop_text import parse_shop, shop_text

SHOP = Shop(tuple(housings(3)), "shop.toml")
NUMBERS = st.floats(-1e6, 1e6).map(float)
ABOVE = st.floats(1e-9, 1e6)
WORDS = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=30)


@st.composite
def results(draw: st.DrawFn) -> Evidence:
    """Any result that can be written down."""
    seen = tuple(
        Observation(
            draw(WORDS),
            draw(st.sampled_from(("rad", "m", "K", "1"))),
            draw(NUMBERS),
            draw(ABOVE),
            draw(NUMBERS),
            tuple(draw(st.lists(NUMBERS, min_size=4, max_size=4))),
            draw(ABOVE),
            draw(st.sampled_from(("factor", "logarithm"))),
        )
        for _ in range(draw(st.integers(1, 4)))
    )
    kind = draw(st.sampled_from(("housing", "log", "trial")))
    at = draw(st.sampled_from(((0.0, 0.0, 0.0, 0.0), (0.1, -0.25, 1e-3, 0.3))))
    return Evidence(
        draw(WORDS),
        draw(st.sampled_from(("", "2025-03-01"))),
        kind,
        seen,
        None,
        at,
        draw(st.text(max_size=40).filter(_encodes)),
    )


def _encodes(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


@given(results())
def test_any_result_reads_back_as_written(result: Evidence) -> None:
    """Every number to the last digit, every letter of names and notes."""
    assert parse_shop(shop_text((result,), learn([])), "shop.toml") == (result,)


def test_results_that_go_together_read_back(tmp_path: Path) -> None:
    """Housings with correlated errors come back the same, with the same factors to the last digit."""
    write_shop(SHOP, tmp_path / "shop.toml")
    again = read_shop(tmp_path / "shop.toml")
    assert again.evidence == SHOP.evidence
    assert again.factors.mean.tolist() == SHOP.factors.mean.tolist()


def test_what_was_learned_stands_on_top() -> None:
    """The text begins with a comment that names the results, each factor before and after, and whom to doubt."""
    text = SHOP.text
    head = text[: text.index("axlewright_shop")]
    assert "3 housings measured" in head and "without results 1.00 (0.72 to 1.40)" in head
    assert all(line.startswith("#") for line in head.splitlines())


def test_no_file_is_a_shop_without_results(tmp_path: Path) -> None:
    """A shop that has kept nothing yet has no results and is no fault."""
    shop = read_shop(tmp_path / "none.toml")
    assert shop.evidence == () and not shop.factors.learned


def test_taking_a_result_out_restores_what_was_before() -> None:
    """Added and removed again, the factors are what they were, to the last digit."""
    two, extra = Shop(SHOP.evidence[:2]), SHOP.evidence[2]
    after = two.with_result(extra).without_result(extra.name)
    assert after.evidence == two.evidence
    assert after.factors.mean.tolist() == two.factors.mean.tolist()
    assert after.factors.covariance.tolist() == two.factors.covariance.tolist()
    assert two.with_result(extra).factors.mean.tolist() != two.factors.mean.tolist()


def test_names_are_kept_apart() -> None:
    """A second result of a name is refused, and so is removing one that is not there; the same result counts once."""
    with pytest.raises(ShopFileError, match="job 1"):
        SHOP.with_result(SHOP.evidence[1])
    with pytest.raises(ShopFileError, match=r"job 0.*job 2"):
        SHOP.without_result("job 9")
    assert SHOP.with_all(SHOP.evidence).evidence == SHOP.evidence
    assert len(Shop(SHOP.evidence[:1]).with_all(SHOP.evidence[1:]).evidence) == 3


DAMAGED = {
    "foreign": ("axlewright_shop = 1", "[job]", "axlewright_shop is missing"),
    "newer": ("axlewright_shop = 1", "axlewright_shop = 2", "axlewright_shop is 2"),
    "yes": ("axlewright_shop = 1", "axlewright_shop = true", "axlewright_shop is"),
    "extra": ("axlewright_shop = 1", "axlewright_shop = 1\nextra = 2", "extra"),
    "kind": ('kind = "housing"', 'kind = "axle"', 'result 1 ("job 0"), kind'),
    "date": ('date = "2025-03-01"', 'date = "yesterday"', 'result 1 ("job 0"), date'),
    "error": ("error = ", "error = -", 'result 1 ("job 0"), figure 1 ("camber left"), error'),
    "nan": ("measured = ", "measured = nan, was = ", "figure 1"),
    "unit": ('unit = "rad"', 'unit = "deg"', "unit"),
    "slopes": ("sensitivities = [", "sensitivities = [1.0, ", "sensitivities"),
    "twice": ('name = "job 1"', 'name = "job 0"', "is there twice"),
    "rows": ("correlation = [\n", "correlation = [\n    [1.0],\n", "correlation"),
    "alike": ("correlation = [\n    [1.0, 0.4,", "correlation = [\n    [1.0, -0.4,", "correlation"),
    "cut": ("[[result]]", "[[result]", "line"),
}


@pytest.mark.parametrize("how", DAMAGED)
def test_a_damaged_file_names_the_field(how: str, tmp_path: Path) -> None:
    """One clear error that names the place, and the file stays as it was."""
    old, new, named = DAMAGED[how]
    text = SHOP.text
    assert old in text
    path = tmp_path / "shop.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    before = path.read_bytes()
    with pytest.raises(ShopFileError) as caught:
        read_shop(path)
    assert named in str(caught.value) and caught.value.faults[0].remedy
    assert path.read_bytes() == before


def test_correlations_that_contradict_one_another_are_refused() -> None:
    """Three errors cannot go together like this, though every pair could."""
    rows = ((1.0, 0.9, -0.9), (0.9, 1.0, 0.9), (-0.9, 0.9, 1.0))
    seen = SHOP.evidence[0].observations[:3]
    text = shop_text((Evidence("job", "", "housing", seen, rows),), learn([]))
    with pytest.raises(ShopFileError, match="correlation"):
        parse_shop(text, "shop.toml")


@given(st.integers(0, len(SHOP.text)), st.text(max_size=5).filter(_encodes))
def test_whatever_stands_in_it_is_results_or_one_error(at: int, noise: str) -> None:
    """Text put in anywhere gives results or a `ShopFileError`, never anything else."""
    text = SHOP.text[:at] + noise + SHOP.text[at:]
    try:
        parse_shop(text, "shop.toml")
    except ShopFileError as error:
        assert error.faults


def test_bytes_that_are_no_text_are_refused(tmp_path: Path) -> None:
    """A file in another encoding, and a folder in its place, are named and not touched."""
    path = tmp_path / "shop.toml"
    path.write_bytes(b'name = "\xff"')
    with pytest.raises(ShopFileError, match="UTF-8"):
        read_shop(path)
    with pytest.raises(ShopFileError, match="unreadable"):
        read_shop(tmp_path)


def test_a_failed_write_keeps_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the disk refuses, the old file is as it was and nothing half-written is left."""
    path = tmp_path / "shop.toml"
    write_shop(SHOP, path)
    before = path.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(ShopFileError, match="No space"):
        write_shop(Shop(SHOP.evidence[:1]), path)
    assert path.read_bytes() == before and [p.name for p in tmp_path.iterdir()] == ["shop.toml"]


def test_what_would_not_read_back_is_not_written(tmp_path: Path) -> None:
    """A name over two lines is refused before the old file is touched."""
    path = tmp_path / "shop.toml"
    write_shop(SHOP, path)
    bad = Evidence("two\nlines", "", "housing", SHOP.evidence[0].observations)
    with pytest.raises(ShopFileError, match="name"):
        write_shop(SHOP.with_result(bad), path)
    assert read_shop(path).evidence == SHOP.evidence


def test_a_reset_puts_the_file_aside(tmp_path: Path) -> None:
    """Begun anew there are no results, and every earlier file is still there under another name."""
    path = tmp_path / "shop.toml"
    assert reset_shop(path) is None
    for count in (1, 2):
        write_shop(Shop(SHOP.evidence[:count]), path)
        aside = reset_shop(path)
        assert aside is not None and len(read_shop(aside).evidence) == count
        assert not path.exists()
    assert len(list(tmp_path.iterdir())) == 2


def test_where_the_file_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """AXLEWRIGHT_SHOP names it; else it lies in the user's own data folder."""
    monkeypatch.setenv("AXLEWRIGHT_SHOP", "/somewhere/mine.toml")
    assert shop_path() == Path("/somewhere/mine.toml")
    monkeypatch.delenv("AXLEWRIGHT_SHOP")
    assert shop_path().name == "shop.toml" and "axlewright" in str(shop_path())
