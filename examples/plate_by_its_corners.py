"""A plate that no part knows: a knee under the arch, by its corners, added to the refit."""

from pathlib import Path

import hullchange

SALTMARROW = Path(__file__).with_name("saltmarrow.yaml")
KNEE = {
    "kind": "plating",
    "corners_m": [[10.30, 0.90, 1.13], [10.80, 0.90, 1.13], [10.30, 0.90, 1.63]],
    "thickness_mm": 6,
    "mirrored": True,
}


def main() -> tuple[float, float]:
    """Mass of both knees [kg], and what they do to the trim [mm, by the stern]."""
    refit = hullchange.read(SALTMARROW).changed("changes.arch.parts", {"knee": KNEE})
    knee = refit.assess("survey-state").part("knee")
    print(f"two knees: {knee.mass_kg:.2f} kg, trim {knee.effect.trim_mm:+.1f} mm")
    return knee.mass_kg, knee.effect.trim_mm


if __name__ == "__main__":
    main()
