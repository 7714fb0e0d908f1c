"""Reading a file somebody named: never for ever, never more than is wanted, and no device."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from lugwright.base.errors import BadInput, Complaint


def read_file(path: str | Path, most_bytes: int) -> bytes:
    """The bytes of a file of at most ``most_bytes``.

    Raises BadInput, with one complaint, when it is missing, a folder, a pipe or a device, not
    readable, or larger. A pipe that nobody writes into is refused without waiting for it.
    """
    try:
        with open(path, "rb", opener=_open_without_waiting) as stream:
            if not stat.S_ISREG(os.fstat(stream.fileno()).st_mode):
                raise refused(path, "this is a pipe or a device, not a file")
            data = stream.read(most_bytes + 1)
    except FileNotFoundError:
        raise refused(path, "there is no such file") from None
    except IsADirectoryError:
        raise refused(path, "this is a folder, not a file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise refused(path, f"the file cannot be read: {reason}") from None
    if len(data) > most_bytes:
        raise refused(path, f"the file is too large: at most {_size_text(most_bytes)} is read")
    return data


def read_text(path: str | Path, most_bytes: int) -> str:
    """The text of such a file in UTF-8; a byte order mark at its head is left out.

    Raises BadInput as ``read_file`` does, and where the bytes are no text.
    """
    try:
        return read_file(path, most_bytes).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refused(path, "is not text in UTF-8") from None


def refuse_lost_link(place: Path) -> None:
    """Raise BadInput where a place to write to is, or lies under, a link that leads nowhere.

    What such a link names would be made where nobody sees it from the call. A loop of links is
    none of these: the system itself refuses it.
    """
    for one in (place, *place.parents):
        if one.is_symlink() and not os.path.exists(one) and (to := _end_of(one)) is not None:
            message = f"{'is' if one == place else f'lies under {one},'} a link that leads nowhere"
            hint = f"make {to}, or name another place"
            raise BadInput(Complaint(str(place), 0, 0, "", message, hint))


def _end_of(link: Path) -> Path | None:
    """What a link names; None for a loop of links."""
    try:
        end = link.resolve()
    except (OSError, RuntimeError):
        return None
    return None if end.is_symlink() else end


def refused(path: str | Path, message: str) -> BadInput:
    """A complaint about a whole file."""
    return BadInput(Complaint(str(path), 0, 0, "", message))


def _open_without_waiting(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def _size_text(size_bytes: int) -> str:
    megabytes, rest = divmod(size_bytes, 1_000_000)
    return f"{size_bytes} bytes" if rest else f"{megabytes} MB"
