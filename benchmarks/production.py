"""Production at size: a family, a spool plan and standard lengths, each as a whole process.

Run on an idle machine: ``python benchmarks/production.py``. Prints JSON, seconds of wall time.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from random import Random

from consoles import scenario_text

from lugwright.production.standard_lengths import best_lengths


def timed(*arguments: str) -> tuple[float, str]:
    """Seconds and standard output of one call of the program."""
    started = time.monotonic()
    ended = subprocess.run(
        [sys.executable, "-m", "lugwright", *arguments], capture_output=True, text=True, check=False
    )
    if ended.returncode:
        raise SystemExit(f"{arguments[0]} ended with {ended.returncode}: {ended.stderr[-500:]}")
    return time.monotonic() - started, ended.stdout


def family_of_six(folder: Path) -> dict[str, object]:
    """Eight instruments and five options of it."""
    (folder / "eight.toml").write_text(scenario_text(8, "grid", 3), encoding="utf-8")
    lines = ['title = "Six variants"', 'part_price = "1.50"']
    for number in range(6):
        without = [f"dial {n:02}" for n in range(9 - number, 9)] if number else []
        lines += [
            "[[variant]]",
            f'name = "v{number}"',
            'scenario = "eight.toml"',
            f"without = {json.dumps(without)}",
            f"boats = {10 - number}",
        ]
    path = folder / "family.toml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    seconds, told = timed("family", str(path), "--json", "-q")
    data = json.loads(told)
    return {"seconds": round(seconds, 2), "ending": data["ending"], "hub": data["hub"]}


def spools_for_two_hundred(folder: Path) -> dict[str, object]:
    """Two hundred boats of twelve instruments."""
    (folder / "twelve.toml").write_text(scenario_text(12, "grid", 2), encoding="utf-8")
    plan = folder / "plan"
    timed("plan", str(folder / "twelve.toml"), "--out", str(plan), "-q")
    seconds, told = timed("spools", str(plan), "--boats", "200", "--json")
    spools = json.loads(told)["spools"]
    need = sum(one["need_dmm"] for one in spools)
    return {
        "seconds": round(seconds, 2),
        "metres": need / 10_000,
        "new_spools": sum(one["new_spools"] for one in spools),
        "bound": sum(one["new_spools_bound"] for one in spools),
    }


def ten_thousand_lengths() -> dict[str, object]:
    """The best 1 to 20 standard lengths over ten thousand jumpers, in this process."""
    random = Random(5)
    needs: dict[int, int] = {}
    for _ in range(10_000):
        length = random.randint(800, 12_000)
        needs[length] = needs.get(length, 0) + 1
    started = time.monotonic()
    sets = best_lengths(needs, 20)
    return {
        "seconds": round(time.monotonic() - started, 2),
        "different": len(needs),
        "waste_m": [round(one.waste_dmm / 10_000, 1) for one in sets[:8]],
    }


def main() -> None:
    """Run all three and print them."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        result = {
            "family of 6 variants, 8 instruments": family_of_six(folder),
            "spool plan, 200 boats": spools_for_two_hundred(folder),
            "standard lengths, 10000 jumpers": ten_thousand_lengths(),
        }
    print(json.dumps(result, indent=2))


if __name__ == "__main__":
    main()
