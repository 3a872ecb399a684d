"""How long `blockwright --help` takes beside starting Python and importing argparse."""

import json
import statistics
import subprocess
import sys
import time


def seconds(arguments: list[str], runs: int = 9) -> float:
    """Median wall time of a command over `runs` runs."""
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        subprocess.run([sys.executable, *arguments], check=True, capture_output=True)
        times.append(time.perf_counter() - began)
    return statistics.median(times)


def main() -> None:
    """Prints one JSON line."""
    ours = seconds(["-m", "blockwright", "--help"])
    reference = seconds(["-c", "import argparse"])
    print(
        json.dumps(
            {
                "bench": "start-up of blockwright --help",
                "value": round(ours, 4),
                "unit": "s",
                "reference": f"python -c 'import argparse': {reference:.4f} s",
                "ratio": round(ours / reference, 2),
            }
        )
    )


if __name__ == "__main__":
    main()
