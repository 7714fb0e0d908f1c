"""A folder put in its place whole or not at all.

It is written beside its place under a hidden name, flushed to the disk, and put in place by
renaming. Whatever goes wrong on the way, the folder that stood there before still stands. What a
person filled in or put there goes over into the new one (``kept``). Two runs that write into one
place do so one after the other.
"""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import refuse_lost_link
from lugwright.outputs.kept import SUMS_FILE, Carried, carried, carry, read_sums, sums_of, sums_text

try:
    import fcntl
except ImportError:  # no such locks on this system: there two runs are not parted
    fcntl = None  # type: ignore[assignment]

Tell = Callable[[str], None]
_NEW, _OLD = "lugwright-new", "lugwright-old"


def check_place(target: Path, is_ours: Callable[[Path], bool], whose: str) -> Path:
    """The real place of a folder, if it may be written there.

    ``is_ours`` says whether a folder that stands there may be replaced, ``whose`` what it must
    be. Raises BadInput where it may not, or where no folder can stand.
    """
    try:
        refuse_lost_link(target)
        return _free_place(target.resolve(), target, is_ours, whose)
    except (OSError, RuntimeError, ValueError) as error:  # a loop of links, a name of no file
        reason = getattr(error, "strerror", None) or "is a loop of links, or no name of a folder"
        raise refusal(target, f"cannot be written: {reason}") from error


def _free_place(place: Path, target: Path, is_ours: Callable[[Path], bool], whose: str) -> Path:
    """The real place, if nothing that stands there is in the way. Raises BadInput where it is."""
    if place.exists() and not place.is_dir():
        raise refusal(target, "is a file, not a folder")
    for parent in place.parents:
        if parent.exists() and not parent.is_dir():
            raise refusal(target, f"lies under {parent}, which is a file")
    if _stood_in(place):
        raise refusal(target, "is the folder you stand in, or one above it")
    if place.is_dir() and not _is_empty(place) and not is_ours(place):
        raise refusal(target, f"holds files that are not {whose}")
    return place


def put_folder(
    place: Path,
    target: Path,
    files: Mapping[str, bytes],
    *,
    whole: bool = True,
    tell: Tell | None = None,
) -> tuple[str, ...]:
    """Put files in a folder's place, all of them or none, over the folder that stands there.

    ``target`` is the place as the caller wrote it. ``whole``: what this program wrote there before
    goes; else only files of these names do. What a person changed or put there stays, and
    ``tell`` hears where. Returns the names of ``files``, sorted. Raises BadInput when it cannot be
    written; then nothing has changed.
    """
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with _alone(place.parent):
            _clean_leftovers(place)
            kept = list(carried(place, files, whole=whole)) if place.is_dir() else []
            if _stood_in(place):
                _put_one_by_one(place, _with_sums(place, files, kept), kept)
            else:
                _put_whole(place, _with_sums(place, files, kept), kept)
    except OSError as error:
        raise refusal(target, f"cannot be written: {error.strerror or error}") from error
    for one in kept if tell else ():
        if tell and one.persons and (whole or one.moved):
            tell(_kept_words(target, one))
    return tuple(sorted(files))


def _put_whole(place: Path, files: Mapping[str, bytes], kept: list[Carried]) -> None:
    """Write the folder under a hidden name, and swap it in."""
    new = _sibling(place, _NEW)
    try:
        _write_all(new, files)
        for one in kept:
            carry(one, new)
        _flush_folder(new)
        _swap_in(new, place)
    finally:
        shutil.rmtree(new, ignore_errors=True)


def _put_one_by_one(place: Path, files: Mapping[str, bytes], kept: list[Carried]) -> None:
    """Into a folder somebody stands in, which must stay the one it is; each file whole or not.

    What a person changed has its second name before anything is written; the list of digests is
    written last, so that a run cut short takes none of its own files for a person's but once.
    """
    news = {name: place / f".{name}.{_NEW}-{os.getpid()}" for name in files}
    try:
        for name, new in news.items():
            new.write_bytes(files[name])
        for one in kept:
            if one.moved:
                carry(one, place)
        for name, new in sorted(news.items(), key=lambda item: item[0] == SUMS_FILE):
            new.replace(place / name)
    finally:
        for new in news.values():
            new.unlink(missing_ok=True)


def _stood_in(place: Path) -> bool:
    """Whether a place is the folder one stands in, or lies above it."""
    here = Path.cwd()
    return place == here or place in here.parents


def _with_sums(place: Path, files: Mapping[str, bytes], kept: list[Carried]) -> dict[str, bytes]:
    """The files, and the list of their digests and of what else is as this program wrote it."""
    before = read_sums(place) if kept else {}
    sums = {one.name: before[one.name] for one in kept if not one.persons}
    return {**files, SUMS_FILE: sums_text({**sums, **sums_of(files)})}


def _kept_words(target: Path, one: Carried) -> str:
    """What became of a person's file."""
    if one.moved:
        return (
            f"{target.as_posix()}/{one.entry.name} was filled in or changed by hand: it is kept as "
            f"{one.name}"
        )
    return f"{target.as_posix()}/{one.name} is not as this program wrote it: it stays"


@contextlib.contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Alone among runs of this program that write under a folder, where the system can say so."""
    if fcntl is None:
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def refusal(target: Path, message: str) -> BadInput:
    """The complaint about a place that cannot be written to."""
    return BadInput(Complaint(str(target), 0, 0, "", message, "name another folder with --out"))


def _is_empty(folder: Path) -> bool:
    """True when the folder holds nothing."""
    return next(folder.iterdir(), None) is None


def _sibling(place: Path, mark: str) -> Path:
    """A hidden name beside the place, this process's own."""
    return place.with_name(f".{place.name}.{mark}-{os.getpid()}")


def _siblings(place: Path, mark: str) -> Iterator[Path]:
    """What earlier runs left under such names, in order."""
    prefix = f".{place.name}.{mark}-"
    found = (x for x in place.parent.iterdir() if x.name.startswith(prefix) and x.is_dir())
    return iter(sorted(x for x in found if _is_dead(x.name.removeprefix(prefix))))


def _is_dead(number: str) -> bool:
    """Whether a process of that number is no longer at work; a name without one is none of ours."""
    if not number.isdigit():
        return False
    if int(number) == os.getpid():
        return True
    try:
        os.kill(int(number), 0)
    except (ProcessLookupError, OverflowError):
        return True
    except OSError:
        return False
    return fcntl is not None  # we are alone here: another's work would hold the lock


def _clean_leftovers(place: Path) -> None:
    """Undo what an interrupted run left behind.

    A run killed between the two renames leaves the earlier folder under its hidden name and
    nothing in its place: it is put back.
    """
    for old in _siblings(place, _OLD):
        if place.exists():
            shutil.rmtree(old)
        else:
            old.rename(place)
    for new in _siblings(place, _NEW):
        shutil.rmtree(new)


def _write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write every file of a new folder and see it on the disk."""
    folder.mkdir()
    for name in sorted(files):
        with (folder / name).open("wb") as out:
            out.write(files[name])
            out.flush()
            os.fsync(out.fileno())
    _flush_folder(folder)


def _flush_folder(folder: Path) -> None:
    """See a folder's entries on the disk, where the system can do that for folders."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _swap_in(new: Path, place: Path) -> None:
    """Put the new folder in its place; when that fails, the earlier one is put back."""
    if not place.exists():
        new.rename(place)
        _flush_folder(place.parent)
        return
    old = _sibling(place, _OLD)
    place.rename(old)
    try:
        new.rename(place)
    except BaseException:
        old.rename(place)
        raise
    _flush_folder(place.parent)
    shutil.rmtree(old, ignore_errors=True)
