"""What ``gloveside kit`` foretells from: ``python -m tests.bench.rates RUN.csv``.

Takes runs of the hearing benchmark (its ``--csv``) and writes, for each noise at each ratio and for
none, how many replies of jobs there were and how many were understood and taken for another, to the
file that comes with the program.
"""

from __future__ import annotations

import argparse
import csv
import re
from collections import Counter
from pathlib import Path

from tests.bench.cases import JOB

RATES = Path(__file__).parents[2] / "assistant" / "kit" / "understood.csv"


def main() -> None:
    """Write the file."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("run", type=Path, nargs="+", metavar="RUN.csv")
    counted: dict[tuple[str, str], Counter[str]] = {}
    for file in options.parse_args().run:
        with file.open(encoding="utf-8", newline="") as stream:
            for row in csv.DictReader(stream):
                at = re.fullmatch(r"clean|(.+) (\d+) dB", row["condition"])
                if row["ear"] == "ours" and row["group"] == JOB and at:
                    verdicts = counted.setdefault((at[1] or "", at[2] or ""), Counter())
                    verdicts[row["verdict"]] += 1
    with RATES.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(("noise", "ratio", "cases", "understood", "wrong"))
        for (noise, ratio), verdicts in sorted(counted.items()):
            counts = (verdicts.total(), verdicts["understood"], verdicts["wrong"])
            writer.writerow((noise, ratio, *counts))


if __name__ == "__main__":
    main()
