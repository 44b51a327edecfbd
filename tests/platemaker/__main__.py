"""``python -m tests.platemaker OUT --families tune --tier normal --count 40 --seed 1``."""

import argparse
import json
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

from tests.platemaker.photo import TIERS, make_photo
from tests.platemaker.truth import SETS


def write_one(seed: int, *, out: Path, tier: str, families: str) -> dict:
    made = make_photo(seed=seed, tier=tier, families=families)
    name = f"{families}-{tier}-{seed:05}.jpg"
    (out / name).write_bytes(made.jpeg)
    return {
        "file": name,
        "family": made.family,
        "tier": tier,
        "spoilings": made.spoilings,
        "truth": made.truth.as_json(),
    }


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.platemaker", description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("--families", choices=SETS, default="tune")
    parser.add_argument("--tier", choices=TIERS, default="normal")
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    one = partial(write_one, out=asked.out, tier=asked.tier, families=asked.families)
    with (
        ProcessPoolExecutor(asked.workers) as pool,
        (asked.out / "truth.jsonl").open("a") as truths,
    ):
        for row in pool.map(one, range(asked.seed, asked.seed + asked.count)):
            truths.write(json.dumps(row) + "\n")


if __name__ == "__main__":
    main()
