"""The sheet ``build-list.txt``."""

from __future__ import annotations

from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The build list as a file; plain text knows no paper size."""
    return {"build-list.txt": shown.build_list.encode()}
