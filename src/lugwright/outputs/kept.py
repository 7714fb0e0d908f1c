"""What a person filled in or put into a folder of ours, and how it outlives the next writing.

A folder this program writes holds ``SHA256SUMS``: digest and name of every file in it, in the form
that ``sha256sum -c`` reads. A file that is not listed there, or is no longer as listed, is a
person's: it stays under its name, or, where a new file takes that name, beside it as
``test-readings.kept-1.csv``.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

SUMS_FILE = "SHA256SUMS"
_MOST_BYTES = 1_000_000  # thousands of names; a longer list is none of ours


@dataclass(frozen=True)
class Carried:
    """An entry of the folder that stands, and the name it has in the folder to come.

    ``persons``: it is a person's, not as this program wrote it.
    """

    entry: Path
    name: str
    persons: bool

    @property
    def moved(self) -> bool:
        """True where it had to give up its name."""
        return self.name != self.entry.name


def sums_of(files: Mapping[str, bytes]) -> dict[str, str]:
    """Digest by name."""
    return {name: sha256(data).hexdigest() for name, data in files.items()}


def sums_text(sums: Mapping[str, str]) -> bytes:
    """The list as it is written, names in order."""
    return "".join(f"{sums[name]}  {name}\n" for name in sorted(sums)).encode()


def read_sums(folder: Path) -> dict[str, str]:
    """What the list of a folder says; nothing where it has none, or one that is not readable."""
    path = folder / SUMS_FILE
    try:
        if not path.is_file() or path.is_symlink() or path.stat().st_size > _MOST_BYTES:
            return {}
        text = path.read_text(encoding="utf-8")
    except (OSError, ValueError):
        return {}
    rows = (line.partition("  ") for line in text.splitlines())
    return {name: digest for digest, mark, name in rows if mark and name}


def carried(place: Path, files: Mapping[str, bytes], *, whole: bool) -> Iterator[Carried]:
    """What goes over from the folder that stands into one that is to hold ``files``.

    ``whole``: the files take the place of all that this program wrote there; else only of those
    with their names. A person's file that is word for word the new one does not go over.
    """
    sums = read_sums(place)
    taken = {*files, SUMS_FILE, *(entry.name for entry in place.iterdir())}
    for entry in sorted(place.iterdir()):
        if entry.name == SUMS_FILE:
            continue
        digest = _digest(entry)
        ours = digest is not None and digest == sums.get(entry.name)
        if entry.name not in files:
            if not (whole and ours):
                yield Carried(entry, entry.name, persons=not ours)
        elif not ours and digest != sha256(files[entry.name]).hexdigest():
            name = _free_name(entry.name, taken)
            taken.add(name)
            yield Carried(entry, name, persons=True)


def carry(one: Carried, folder: Path) -> None:
    """Put it into the folder to come; the folder that stands keeps it too. Raises OSError."""
    target = folder / one.name
    if one.entry.is_dir() and not one.entry.is_symlink():
        shutil.copytree(one.entry, target, symlinks=True)
        return
    try:
        os.link(one.entry, target, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(one.entry, target, follow_symlinks=False)


def _digest(entry: Path) -> str | None:
    """Digest of a plain file; None for anything else, and for what cannot be read."""
    if entry.is_symlink() or not entry.is_file():
        return None
    try:
        return sha256(entry.read_bytes()).hexdigest()
    except OSError:
        return None


def _free_name(name: str, taken: set[str]) -> str:
    """``test-readings.kept-1.csv``, or the next number that is free."""
    stem, dot, suffix = name.partition(".")
    number = 1
    while f"{stem}.kept-{number}{dot}{suffix}" in taken:
        number += 1
    return f"{stem}.kept-{number}{dot}{suffix}"
