"""Where the battery bank may lie, and how Saltmarrow trims with it there."""

from pathlib import Path

import hullchange

SALTMARROW = Path(__file__).with_name("saltmarrow.yaml")
BANK = "changes.electric-drive.adds.battery"
PLACES = 5


def main() -> list[tuple[float, float]]:
    """Place of the bank x [m] and trim of the refit [mm by the stern], wherever it may lie."""
    refit = hullchange.read(SALTMARROW)
    low, high = refit.value(f"{BANK}.may_lie_m.x")
    rows = []
    for step in range(PLACES):
        x_m = low + (high - low) * step / (PLACES - 1)
        answer = refit.changed(f"{BANK}.at_m.x", x_m).assess("survey-state")
        trim_mm = answer.condition("survey-state").trim_mm
        print(f"bank at x {x_m:.2f} m: trim {trim_mm:+.0f} mm by the stern")
        rows.append((x_m, trim_mm))
    return rows


if __name__ == "__main__":
    main()
