"""Rules that define what is counted; they have no limit of their own."""

from hullchange.criteria.criterion import Criterion, Publication, Sense
from hullchange.findings import Grade

UK_CODE = Publication(
    "UK Code of Practice for small commercial sailing vessels",
    "as transcribed",
    "UK small commercial sailing vessels under 24 m",
)
TP_2534 = Publication(
    "Transport Canada TP 2534, Appendix I",
    "as published on tc.gc.ca",
    "ships built to the load line convention; IS Code part B 3.6.2 says the same",
)

DOWNFLOODING_AREA = Criterion(
    id="downflooding-aggregate-area",
    title="When water coming in counts as downflooding",
    document=UK_CODE,
    clause="11.1",
    formula="immersed openings together [m2] > displacement [t] / 1500",
    limit="none: it defines the downflooding angle",
    sense=Sense.MORE_THAN,
    unit="m2",
    grade=Grade.B,
    seen="text opened; the same with an example in Transport Canada TP 13313, A 3.3",
)
HOUSE_VOLUME = Criterion(
    id="house-volume",
    title="When the volume of a house counts",
    document=TP_2534,
    clause="(5) to (9)",
    formula="a house counts where it meets the conditions of an enclosed superstructure; one "
    "that does not counts up to the heel at which its openings flood, where the levers step "
    "down, and not at all beyond",
    limit="none: it defines the lever curve",
    sense=Sense.AT_LEAST,
    unit="m",
    grade=Grade.B,
    seen="text opened",
)
DEFINITIONS = (DOWNFLOODING_AREA, HOUSE_VOLUME)
"""Shown beside the results that rest on them."""
