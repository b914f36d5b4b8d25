"""Have another library draw the trends of random points, and hold the frozen ones against it.

Not part of the standard tests: it needs the extra `trend` of pyproject.toml, and then

    python -m tests.published.trends.rerun_trends

It ends with an error where a slope is not the frozen one; `--freeze` writes them anew.
"""

from __future__ import annotations

import csv
import sys

from scipy.stats import kendalltau, theilslopes

from tests.published.trends.points import FROZEN, SETS, points

CONFIDENCE = 0.95


def main() -> None:
    rows = []
    for number in range(SETS):
        places, values = zip(*points(number), strict=True)
        slope, _, low, high = theilslopes(values, places, CONFIDENCE)
        # Exact, and the chance of slopes that are all on one side: what the ranks of an interval are counted with.
        chance = kendalltau(range(len(places)), range(len(places)), method="exact").pvalue
        rows.append({"set": number, "slope": f"{slope:.9g}", "low": f"{low:.9g}", "high": f"{high:.9g}", "all_below": f"{chance:.6g}"})
    if "--freeze" in sys.argv:
        with FROZEN.open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, rows[0], lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
    with FROZEN.open(encoding="utf-8") as file:
        frozen = list(csv.DictReader(file))
    apart = [row for row, kept in zip(rows, frozen, strict=True) if {name: str(one) for name, one in row.items()} != kept]
    if apart:
        sys.exit(f"{len(apart)} of {SETS} are not as they are frozen: {apart[0]}")
    print(f"All {SETS} are as they are frozen.")


if __name__ == "__main__":
    main()
