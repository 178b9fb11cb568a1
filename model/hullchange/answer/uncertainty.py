"""What is not known of a float, as an answer: plus/minus, its causes, and what draws say."""

from typing import Literal

from pydantic import Field

from hullchange.answer.wire import Wire

Method = Literal["linear", "sampled"]
"""Whose word a plus/minus is: the slopes of the answer, or many draws of what is not known."""
Percentiles = tuple[float, float, float]
"""5 %, median and 95 % of the draws."""


class PlusMinus(Wire):
    """One standard deviation of each."""

    displacement_kg: float
    lcg_m: float
    tcg_m: float
    vcg_m: float
    sinkage_mm: float
    trim_mm: float
    heel_deg: float
    gm_m: float
    sinkage_bow_mm: float | None = Field(
        default=None, description="null in results of older versions"
    )
    sinkage_stern_mm: float | None = Field(
        default=None, description="null in results of older versions"
    )


class HeeledPlusMinus(Wire):
    """One standard deviation of what is read off the levers; null where there is no angle."""

    by: Method
    vanishing_angle_deg: float | None
    downflooding_angle_deg: float | None
    range_deg: float | None
    greatest_gz_m: float | None
    vanishing_angle_without_house_deg: float | None = Field(
        default=None, description="null in a change, and in older revisions"
    )


class HeeledChange(Wire):
    """The refit minus the boat as found, of what is read off the levers.

    Null where one of the boats has none, and in revisions that did not tell it.
    """

    vanishing_angle_deg: float | None
    downflooding_angle_deg: float | None
    range_deg: float | None
    greatest_gz_m: float | None
    plus_minus: HeeledPlusMinus
    vanishing_angle_port_deg: float | None = None
    vanishing_angle_starboard_deg: float | None = None
    vanishing_angle_without_house_deg: float | None = None
    vanishing_angle_wells_full_deg: float | None = None
    downflooding_angle_in_use_deg: float | None = None
    downflooding_angle_all_open_deg: float | None = None
    downflooding_by_area_deg: float | None = None
    deck_edge_angle_deg: float | None = None
    coaming_angle_deg: float | None = None
    greatest_gz_at_deg: float | None = None
    roll_period_s: float | None = Field(default=None, description="of the one to expect")
    area_under_gz: dict[str, float] | None = None


class SampledResult(Wire):
    """The answer for many draws of what is not known: [5 %, median, 95 %] of each."""

    draws: int
    why: str = Field(description="in words: what makes linear plus/minus doubtful")
    unstable_percent: float = Field(
        description="of the samples that do not stay upright: GM is not positive, or they "
        "capsize"
    )
    capsized_percent: float = Field(description="of the samples that come to rest upside down")
    gm_upright_m: Percentiles = Field(description="held at no heel, free surfaces taken off")
    heel_deg: Percentiles = Field(description="where she rests, let go upright")
    heel_either_side_deg: Percentiles = Field(description="the same without its side")
    vanishing_angle_deg: Percentiles | None = Field(default=None, description="smaller of both")
    range_deg: Percentiles | None = None
    greatest_gz_m: Percentiles | None = None


class ShareResult(Wire):
    """What one cause is worth of the square of a plus/minus."""

    cause: str = Field(
        description="dotted path of the figure, or what many share: 'plate tolerance', "
        "'one scale', 'one datum'"
    )
    share_percent: float


class SharesResult(Wire):
    """What to weigh or measure next: the causes that are worth most, largest first."""

    displacement_kg: tuple[ShareResult, ...]
    trim_mm: tuple[ShareResult, ...]
    heel_deg: tuple[ShareResult, ...]
    gm_m: tuple[ShareResult, ...]
    sinkage_mm: tuple[ShareResult, ...] = ()
    lcg_m: tuple[ShareResult, ...] = ()
    tcg_m: tuple[ShareResult, ...] = ()
    vcg_m: tuple[ShareResult, ...] = ()
    vanishing_angle_deg: tuple[ShareResult, ...] = Field(
        default=(), description="of the smaller one, by its slopes; none where there is none"
    )
    greatest_gz_m: tuple[ShareResult, ...] = ()
