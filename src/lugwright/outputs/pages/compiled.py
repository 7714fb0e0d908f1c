"""Compiled templates, kept where Python keeps compiled modules: ``__pycache__`` beside the source.

The same terms hold as for modules. A changed template, or another version of Python, of the
template library or of this program, is compiled anew; nothing is written where Python would write
nothing, and where it cannot be written all goes on without.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sys
from importlib.metadata import version
from importlib.util import cache_from_source
from pathlib import Path

from jinja2.bccache import Bucket, BytecodeCache

from lugwright.base.version import __version__


class CompiledBeside(BytecodeCache):
    """Keeps the code of each template under a path made from its own."""

    def __init__(self, settings: str) -> None:
        self._settings = f"{__version__}\n{version('jinja2')}\n{settings}\n"

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        """The path of the compiled template; "" for one that is no file."""
        return cache_from_source(filename).removesuffix("pyc") + "j2c" if filename else ""

    def get_source_checksum(self, source: str) -> str:
        """A digest of all that the code depends on."""
        return hashlib.sha256(f"{self._settings}{source}".encode()).hexdigest()

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fill the bucket where the code is there and still right."""
        if not bucket.key:
            return
        try:
            bucket.bytecode_from_string(Path(bucket.key).read_bytes())
        except Exception:  # whatever is wrong with the file: it is only a copy
            bucket.reset()

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep the code, whole or not at all."""
        if sys.dont_write_bytecode or not bucket.key:
            return
        place = Path(bucket.key)
        new = place.with_name(f"{place.name}.{os.getpid()}")
        with contextlib.suppress(OSError):
            place.parent.mkdir(exist_ok=True)
            try:
                new.write_bytes(bucket.bytecode_to_string())
                new.replace(place)
            finally:
                new.unlink(missing_ok=True)
