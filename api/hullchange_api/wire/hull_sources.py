"""HTTP schemas for where a hull comes from: what is sent, and the lines it gives."""

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from hullchange.answer.wire import Wire
from hullchange.document.quantities import FARTHEST_M, HEAVIEST_KG, Coordinate
from hullchange.hull_sources.found import SourceKind
from hullchange.hull_sources.main_dimensions import HullType
from hullchange.start.proportions import FirstDimensions, KeelType
from hullchange_api.wire.working_copy import ProblemFault

Length = Annotated[float, Field(allow_inf_nan=False, gt=0.0, le=FARTHEST_M)]
PointPlace = tuple[Coordinate, Coordinate, Coordinate]
LineName = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60)]
LineKindWord = Literal["fair", "chine", "sheer"]
Unit = Annotated[
    str,
    StringConstraints(max_length=20),
    Field(description="of numbers given without one: m, cm, mm, ft, in or ft-in-8"),
]


class TableText(Wire):
    """A table of points or of offsets, as pasted or read from a file."""

    csv: str = Field(description="cells parted by commas, semicolons or tabs")
    unit: Unit = ""
    columns: Annotated[
        tuple[Literal["line", "kind", "x", "y", "z", "knuckle", ""], ...],
        Field(
            max_length=50,
            description="meaning of each column, where the table has no heading",
        ),
    ] = ()
    decimal: Literal[".", ","] | None = None


class NineDimensions(Wire):
    """Main dimensions of a boat whose lines are not known."""

    hull_type: HullType
    length_m: Length
    waterline_m: Length
    beam_m: Length
    displacement_kg: Annotated[
        float,
        Field(gt=0.0, le=200_000.0, description="of the canoe body, less keel and rudder"),
    ]
    water_density_kg_m3: Annotated[float, Field(ge=950.0, le=1250.0)] = 1025.0
    freeboard_forward_m: Length
    freeboard_least_m: Length
    freeboard_aft_m: Length
    transom_m: Annotated[
        float, Field(ge=0.0, le=FARTHEST_M, description="breadth at the deck; 0 if pointed")
    ]


class FirstNumbers(Wire):
    """What an owner knows of her boat before she measures anything; the rest is assumed."""

    hull_type: HullType
    length_m: Length
    waterline_m: Length
    beam_m: Length
    displacement_kg: Annotated[
        float, Field(gt=0.0, le=HEAVIEST_KG, description="all up, as she lies")
    ]
    water_density_kg_m3: Annotated[float, Field(ge=950.0, le=1250.0)] = 1025.0
    draught_m: Length = Field(description="to the lowest point of the keel")
    freeboard_forward_m: Length
    freeboard_least_m: Length
    freeboard_aft_m: Length
    transom_m: Annotated[
        float, Field(ge=0.0, le=FARTHEST_M, description="breadth at the deck; 0 if pointed")
    ]
    keel: KeelType

    def dimensions(self) -> FirstDimensions:
        """The same for the model."""
        return FirstDimensions(
            self.hull_type,
            self.length_m,
            self.waterline_m,
            self.beam_m,
            self.displacement_kg,
            self.draught_m,
            (self.freeboard_forward_m, self.freeboard_least_m, self.freeboard_aft_m),
            self.transom_m,
            self.keel,
            self.water_density_kg_m3,
        )


class NewRefit(Wire):
    """A new refit: her name, and her dimensions where they are known."""

    name: Annotated[str, StringConstraints(max_length=200)]
    dimensions: FirstNumbers | None = Field(
        default=None, description="left out: an invented boat, to be replaced part by part"
    )


class TapeText(Wire):
    """Marks of known place and distances from them, as two tables."""

    marks_csv: str = Field(description="columns mark, x, y, z; marks to starboard")
    distances_csv: str = Field(description="columns line, kind, and one for each mark")
    unit: Unit = ""
    decimal: Literal[".", ","] | None = None
    plus_minus_mm: Annotated[
        float, Field(gt=0.0, le=500.0, description="one standard deviation of the tape")
    ] = 5.0


Pixel = Annotated[float, Field(allow_inf_nan=False, ge=-1e6, le=1e6)]


class PictureMark(Wire):
    """A mark picked on a picture, and its place in the axes of the view."""

    at_px: tuple[Pixel, Pixel]
    place_m: tuple[Coordinate, Coordinate]


class PictureCurve(Wire):
    """Points picked along a line."""

    line: LineName
    kind: LineKindWord | None = None
    station_x_m: Coordinate | None = Field(default=None, description="of a body plan's section")
    points_px: Annotated[tuple[tuple[Pixel, Pixel], ...], Field(min_length=1, max_length=2000)]


class PictureView(Wire):
    """One view: profile (x, z), plan (x, y) or body plan (y, z)."""

    view: Literal["profile", "plan", "body"]
    is_flat: bool = Field(description="from a flatbed scan or a PDF; false for a photo")
    marks: Annotated[tuple[PictureMark, ...], Field(max_length=100)]
    curves: Annotated[tuple[PictureCurve, ...], Field(max_length=500)]


class TracedDrawing(Wire):
    """Views traced over pictures."""

    views: Annotated[tuple[PictureView, ...], Field(max_length=10)]


class ScanPicks(Wire):
    """What was picked on a scan, in the file's axes, z roughly up."""

    waterline_m: Annotated[tuple[PointPlace, ...], Field(max_length=50)] = ()
    bow_m: PointPlace | None = None
    chines: Annotated[
        dict[LineName, Annotated[tuple[PointPlace, ...], Field(min_length=2, max_length=100)]],
        Field(
            default_factory=dict,
            max_length=8,
            description="picks along each chine, the lowest first",
        ),
    ]


class CadQuery(Wire):
    """How to read a CAD file, which has z up."""

    name: Annotated[str, Field(max_length=200, description="of the file, with its ending")]
    waterline_z_m: Annotated[
        float,
        Field(
            allow_inf_nan=False,
            ge=-FARTHEST_M,
            le=FARTHEST_M,
            description="height of the waterline in the file",
        ),
    ]
    unit: Annotated[str, Field(max_length=20, description="if not as the file says")] = ""
    body_number: Annotated[int, Field(ge=1, le=10_000, description="by falling area")] = 1
    is_bow_aft: bool | None = Field(
        default=None, description="whether the bow is at the larger x"
    )


class CloudPoints(Wire):
    """A cloud thinned to some thousand points, to pick marks on."""

    points_m: tuple[PointPlace, ...]
    count: int = Field(description="of points in the file, or spread over its mesh")


class PreviewLine(Wire):
    """A line that was found; its errors are those of its points, where they differ."""

    kind: LineKindWord
    points_m: tuple[PointPlace, ...]
    knuckles_at_x_m: tuple[Coordinate, ...] = ()
    errors_mm: tuple[float, ...] = ()


class CellNotUnderstood(Wire):
    """A cell of a table that could not be read; its point is left out."""

    row: int = Field(description="number of the row in the text, from 1")
    column: str
    text: str
    sentence: str


class PreviewSize(Wire):
    """The hull these lines give, without keel and rudder."""

    length_m: float
    beam_m: float
    waterline_m: float
    volume_m3: float
    lcb_m: float | None


class PreviewDoubt(Wire):
    """A reading that does not fit the others."""

    place: str
    sentence: str


class LinesPreview(Wire):
    """Lines from a source; nothing is changed until they are sent to the working copy."""

    source: SourceKind
    lines: dict[str, PreviewLine]
    plus_minus_m: float
    worth: str = Field(description="their error in one sentence")
    notes: tuple[str, ...]
    missing: tuple[str, ...] = Field(description="what is still missing, one sentence each")
    not_understood: tuple[CellNotUnderstood, ...]
    faults: tuple[ProblemFault, ...] = Field(description="why they are no hull yet")
    doubts: tuple[PreviewDoubt, ...]
    size: PreviewSize | None


class OriginText(Wire):
    """Where lines come from, as the document says it under hull.from."""

    source: SourceKind
    plus_minus_m: Annotated[float, Field(gt=0.0, le=2.0, allow_inf_nan=False)]
    note: Annotated[str, StringConstraints(min_length=1, max_length=2000)] | None = None


class GivenLine(Wire):
    """A line to take over."""

    kind: LineKindWord
    points_m: Annotated[tuple[PointPlace, ...], Field(min_length=2, max_length=500)]
    knuckles_at_x_m: tuple[Coordinate, ...] = ()


class GivenLines(Wire):
    """Lines from a preview, to become the hull's, keel to sheer."""

    lines: Annotated[dict[LineName, GivenLine], Field(max_length=100)]
    origin: OriginText
    length_waterline_m: Length | None = Field(
        default=None, description="of these lines; the document's stays where it is left out"
    )
