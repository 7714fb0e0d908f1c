"""The mark by which paper and plan know each other."""

import subprocess
from pathlib import Path

from support.made_plan import small_plan

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.plan_json import write_plan


def test_digest_is_that_of_the_file(tmp_path: Path) -> None:
    """Anybody finds the printed digest again from plan.json, with a tool of the system."""
    write_plan(small_plan(), tmp_path / "plan.json")
    summed = subprocess.run(
        ["sha256sum", tmp_path / "plan.json"], capture_output=True, text=True, check=True
    )
    assert summed.stdout[:12] == plan_digest(small_plan())


def test_another_plan_has_another_digest() -> None:
    """One changed fact changes the digest; the same plan keeps it."""
    assert plan_digest(small_plan()) == plan_digest(small_plan())
    assert plan_digest(small_plan()) != plan_digest(small_plan(hub="volts"))
