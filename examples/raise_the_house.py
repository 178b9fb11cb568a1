"""What a higher deckhouse weighs, and what it does to Saltmarrow: one line per height."""

from pathlib import Path

import hullchange

SALTMARROW = Path(__file__).with_name("saltmarrow.yaml")
HEIGHT = "changes.deckhouse.parts.house.side_height_m"


def main() -> list[tuple[float, float, float, float]]:
    """Height [m], mass of the house [kg], VCG and GM of the refit [m], as surveyed."""
    refit = hullchange.read(SALTMARROW)
    rows = []
    print("height m  house kg   VCG m    GM m")
    for height_m in (0.50, 0.55, 0.60, 0.65, 0.70):
        answer = refit.changed(HEIGHT, height_m).assess("survey-state")
        house, boat = answer.part("house"), answer.condition("survey-state")
        vcg_m, gm_m = boat.centre_of_gravity_m[2], boat.gm_m
        print(f"{height_m:8.2f}  {house.mass_kg:8.1f}  {vcg_m:6.3f}  {gm_m:6.3f}")
        rows.append((height_m, house.mass_kg, vcg_m, gm_m))
    return rows


if __name__ == "__main__":
    main()
