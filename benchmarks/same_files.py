"""Whether two states of the program write the same plan folders, byte for byte.

Run: python benchmarks/same_files.py OTHER_CHECKOUT [--sizes 12,24] [--time SECONDS]
Every scenario that comes with the program, and consoles of those sizes in every layout, are
planned by this checkout and by the other one; each file that differs is named. Ends with 1 where
one does. A plan that time cut short is not compared.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from consoles import LAYOUTS, scenario_text

ROOT = Path(__file__).resolve().parent.parent


def planned(checkout: Path, scenario: Path, out: Path, seconds: str) -> int:
    """Plan a scenario with the program of a checkout; its exit code, the build list in a file."""
    surroundings = os.environ | {"PYTHONPATH": str(checkout / "src")}
    call = [sys.executable, "-m", "lugwright", "plan", str(scenario), "--out", str(out)]
    call += ["--quiet", "--no-why", "--time", seconds]
    ended = subprocess.run(call, env=surroundings, capture_output=True, check=False)
    if out.is_dir():
        (out / "standard-output").write_bytes(ended.stdout)
    return ended.returncode


def content(folder: Path) -> dict[str, bytes]:
    """File name to content; nothing where there is no folder."""
    files = sorted(folder.iterdir()) if folder.is_dir() else []
    return {file.name: file.read_bytes() for file in files}


def main() -> int:
    """Plan everything twice and tell what differs."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("other", type=Path)
    parser.add_argument("--sizes", default="12,24")
    parser.add_argument("--time", default="120")
    options = parser.parse_args()
    different = compared = 0
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        scenarios = sorted((ROOT / "scenarios").glob("*.toml"))
        for size in filter(None, options.sizes.split(",")):
            for layout in LAYOUTS:
                scenarios.append(folder / f"{size}-{layout}.toml")
                scenarios[-1].write_text(scenario_text(int(size), layout), encoding="utf-8")
        for scenario in scenarios:
            ours, theirs = folder / "ours" / scenario.stem, folder / "theirs" / scenario.stem
            codes = (
                planned(ROOT, scenario, ours, options.time),
                planned(options.other, scenario, theirs, options.time),
            )
            if 4 in codes or 5 in codes:
                print(f"{scenario.stem}: not compared, time ran out", flush=True)
                continue
            mine, other = content(ours), content(theirs)
            named = sorted(x for x in mine | other if mine.get(x) != other.get(x))
            compared += len(mine)
            different += bool(named) or codes[0] != codes[1]
            told = ", ".join(named) or f"{len(mine)} files the same"
            print(f"{scenario.stem}: {told}, exit {codes[0]} and {codes[1]}", flush=True)
    print(f"{compared} files compared; {different} scenarios differ")
    return 1 if different else 0


if __name__ == "__main__":
    sys.exit(main())
