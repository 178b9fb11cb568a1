"""The cautions that stand beside every result and in every export."""

from dataclasses import dataclass

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class CautionRecord:
    """One caution: what it is about, what it says, where it is from."""

    topic: str
    sentence: str
    source: str


STRENGTH = CautionRecord(
    "strength", "Strength is not screened.", "no load or stress is worked out yet"
)
"""Said by every pack, sign-off, report and shared file, and by the Float page."""

CAUTIONS = (
    STRENGTH,
    CautionRecord(
        "what this is",
        "Calm-water statics: an aid to judgement, not an approval. A competent engineer and "
        "the authority decide; local codes and licensed practice stand above it.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "before cutting",
        "Cut nothing on a stale or unsigned review. After a raised house, or a change of more "
        "than 2 to 3 % of weight, float her again, read the freeboards and incline her.",
        "IMO 2008 IS Code 7.1 (2 % of light displacement, opened in part); 46 CFR 28.510 (3 %)",
    ),
    CautionRecord(
        "mid-refit",
        "A boat in mid-refit, ballast or engine out, may be out of trim or unstable afloat.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "deckhouse volume",
        "Deckhouse volume counts only while shell, windows and doors are as strong and tight "
        "as the hull: range is always to be read without it too. Not counted is not flooded: a "
        "broken window floods the hull.",
        "TP 2534 Appendix I (opened in part)",
    ),
    CautionRecord(
        "hot work",
        "Former fuel tanks, hollow sections and foam: test and clear before burning or "
        "welding.",
        "29 CFR 1915 subpart B (opened in part); NFPA 306 (from memory)",
    ),
    CautionRecord(
        "closed spaces",
        "Sealed rusting steel uses up oxygen: chain lockers and ballast tanks have killed, "
        "keel boxes are the same hazard. Never enter untested (19.5 % oxygen at least), never "
        "to rescue.",
        "29 CFR 1915 subpart B (opened in part); MAIB Safety Bulletin 2/2008 (opened in part)",
    ),
    CautionRecord(
        "fumes and current",
        "Burning foam and old paint is poisonous (cyanide, lead). Weld with batteries and "
        "electronics disconnected and the return clamp beside the weld.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "cement and pours",
        "No galvanised steel or aluminium in cement (hydrogen). A wet pour loads the shell by "
        "its head: pour in lifts.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "sealed ballast",
        "Open or drill sealed ballast only ashore and gas-tested; vent a void while its lid is "
        "welded.",
        "29 CFR 1915.54, hollow structures (from memory)",
    ),
    CautionRecord(
        "old plate",
        "Gauge old plate before fairing or welding to it, and never fair below plate.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "dust and solvents",
        "Blasting dust and coating solvents: breathing air, no flame.",
        "29 CFR 1915.34 and 1915.35 (from memory)",
    ),
    CautionRecord(
        "shoring and shape",
        "Shore her anew ashore as weights move. Brace hull and opening before deck or house is "
        "cut, and check the shape after.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "compass",
        "New steel moves the compass: swing it.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "slip and launch",
        "In mid-refit, taking the ground or on the slip, she loses GM to the keel's reaction. "
        "At launch she stays in the slings until freeboards, bilges and drains are read.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "raised mast",
        "Check the air draught, and that shrouds and stays were lengthened.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "ballast",
        "Heat, fumes, trapped water, corrosion: it must not shift at any heel. Record "
        "material, mass and place.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "batteries",
        "Securing against inversion, ventilation, isolation. Ask the insurer first.",
        "ISO 23625 (title seen, text not opened)",
    ),
    CautionRecord(
        "rig loads",
        "Cutting deck, house or mast partner releases rig loads: rig down, shored, engineer's "
        "drawing.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "plate strength",
        "The plate screen is no class approval: weld quality, fatigue, buckling, chainplates "
        "and the keel root are outside unless stated.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "approval",
        "A change of propulsion or of main dimensions may need approval before the work: rules "
        "differ by a factor of five. Ask.",
        "Directive 2013/53/EU, major craft conversion (opened in part)",
    ),
)
"""In the order they are printed."""
