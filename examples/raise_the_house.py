"""What a higher deckhouse weighs, and what it does to Saltmarrow: one line per height."""

from pathlib import Path

from hullchange.assess.assessment import assessment
from hullchange.boat.boat import boat_of
from hullchange.document.paths import with_value
from hullchange.document.reading import document_of, read_document

SALTMARROW = Path(__file__).with_name("saltmarrow.yaml")
HEIGHT = "changes.deckhouse.parts.house.side_height_m"
Row = tuple[float, float, float, float]


def main() -> list[Row]:
    """Height [m], mass of the house [kg], VCG and GM of the refit [m], in the survey state."""
    drawing = read_document(SALTMARROW)
    rows = []
    print("height m  house kg   VCG m    GM m")
    for height_m in (0.50, 0.55, 0.60, 0.65, 0.70):
        boat = boat_of(
            document_of(with_value(drawing.plain, HEIGHT, height_m), SALTMARROW.parent)
        )
        answer = assessment(boat, only="survey-state")
        house = next(part for part in answer.parts if part.id == "house")
        refit = next(row for row in answer.conditions if row.stage == "refit")
        row = (height_m, house.mass_kg, refit.centre_of_gravity_m[2], refit.gm_m)
        print(f"{row[0]:8.2f}  {row[1]:8.1f}  {row[2]:6.3f}  {row[3]:6.3f}")
        rows.append(row)
    return rows


if __name__ == "__main__":
    main()
