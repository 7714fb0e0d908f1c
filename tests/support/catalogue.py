"""Small catalogues of invented models, and what two stores have in common."""

from __future__ import annotations

from pathlib import Path

from catalogue_models import model_text

# Models of four and five instruments: each is planned in a fraction of a second.
SMALL = (2, 14, 19, 121)


def write_some(folder: Path, numbers: tuple[int, ...] = SMALL) -> Path:
    """A folder with the models of those numbers."""
    folder.mkdir(parents=True)
    for number in numbers:
        path = folder / f"model-{number:03}.toml"
        path.write_text(model_text(number), encoding="utf-8", newline="\n")
    return folder


def contents(store: Path) -> dict[str, bytes]:
    """Every file of a store by its path in it, hidden ones too."""
    return {
        path.relative_to(store).as_posix(): path.read_bytes()
        for path in store.rglob("*")
        if path.is_file()
    }
