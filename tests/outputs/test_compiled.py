"""Templates that are kept compiled: the same page, whatever stands where they are kept."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from jinja2 import Environment, FileSystemLoader

from lugwright.outputs.pages.compiled import CompiledBeside


def page(folder: Path, settings: str = "") -> str:
    """What the one template of a folder says, asked by an environment of its own."""
    kept = CompiledBeside(settings)
    made = Environment(loader=FileSystemLoader(folder), autoescape=True, bytecode_cache=kept)
    return made.get_template("page.html.j2").render(name="<b>")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one template, in a Python that keeps what it compiles."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", None)
    (tmp_path / "page.html.j2").write_text("for {{ name }}", encoding="utf-8")
    return tmp_path


def kept(folder: Path) -> list[Path]:
    """The compiled templates of a folder."""
    return sorted((folder / "__pycache__").glob("*"))


def test_kept_beside_the_template(folder: Path) -> None:
    """One file, whole, under the name of this Python; the second page is made from it."""
    assert page(folder) == "for &lt;b&gt;"
    (file,) = kept(folder)
    assert file.name == f"page.html.{sys.implementation.cache_tag}.j2c"
    before = file.stat().st_mtime_ns
    assert page(folder) == "for &lt;b&gt;" and file.stat().st_mtime_ns == before


def test_what_no_longer_fits_is_made_anew(folder: Path) -> None:
    """Another template, other settings, or a spoilt file: the page is right all the same."""
    page(folder)
    (folder / "page.html.j2").write_text("of {{ name }}", encoding="utf-8")
    assert page(folder) == "of &lt;b&gt;"
    (file,) = kept(folder)
    good = file.read_bytes()
    page(folder, "other")
    assert file.read_bytes() != good
    for spoilt in (b"", good[:-3], good[:40] + b"?" * 40, b"?" * 200):
        file.write_bytes(spoilt)
        assert page(folder, "other") == "of &lt;b&gt;"


def test_nothing_is_kept_where_it_may_not(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As Python does: not under dont_write_bytecode, nor where nothing can be written."""
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert page(folder) == "for &lt;b&gt;" and not (folder / "__pycache__").exists()
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    (folder / "__pycache__").write_text("a file", encoding="utf-8")
    assert page(folder) == "for &lt;b&gt;"
