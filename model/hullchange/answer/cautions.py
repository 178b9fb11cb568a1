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
    "strength", "Strength is not checked.", "no load or stress is calculated yet"
)
"""Said by every pack, sign-off, report and shared file, and by the Float page."""

CAUTIONS = (
    STRENGTH,
    CautionRecord(
        "what this is",
        "Calm-water statics: an aid to judgement, not an approval. A competent engineer and "
        "the authority decide; local codes and licensed practice come first.",
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
        "as the hull: always read the range without it too. Leaving its volume out does not "
        "flood it: a broken window floods the hull.",
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
        "keel boxes are the same hazard. Never enter without testing (at least 19.5 % "
        "oxygen), not even to rescue.",
        "29 CFR 1915 subpart B (opened in part); MAIB Safety Bulletin 2/2008 (opened in part)",
    ),
    CautionRecord(
        "fumes and current",
        "Burning foam and old paint give off poison (cyanide, lead). Weld with batteries and "
        "electronics disconnected and the return clamp beside the weld.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "cement and pours",
        "No galvanised steel or aluminium in cement (hydrogen). Wet concrete presses on the "
        "shell: pour in layers.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "sealed ballast",
        "Open or drill sealed ballast only ashore and after a gas test; vent a void while its "
        "lid is welded.",
        "29 CFR 1915.54, hollow structures (from memory)",
    ),
    CautionRecord(
        "old plate",
        "Measure the thickness of old plate before fairing or welding to it; never grind into "
        "the plate to fair it.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "dust and solvents",
        "Blasting dust and coating solvents: supplied air, no flame.",
        "29 CFR 1915.34 and 1915.35 (from memory)",
    ),
    CautionRecord(
        "shoring and shape",
        "Ashore, move the shores as weights move. Brace the hull and the opening before the "
        "deck or house is cut, and check the shape afterwards.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "compass",
        "New steel deflects the compass: swing it.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "slip and launch",
        "Aground or on the slip in mid-refit, the load on the keel takes away GM. At launch "
        "leave her in the slings until freeboards, bilges and drains are checked.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "raised mast",
        "Check the air draught, and that shrouds and stays have been lengthened.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "ballast",
        "Ballast: beware of heat, fumes, trapped water and corrosion. It must not shift at "
        "any heel. Record material, mass and place.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "batteries",
        "Batteries: secure them against inversion, ventilate and isolate them. Ask the "
        "insurer first.",
        "ISO 23625 (title seen, text not opened)",
    ),
    CautionRecord(
        "rig loads",
        "Cutting the deck, house or mast partner releases rig loads: take the rig down, "
        "shore, and work to an engineer's drawing.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "plate strength",
        "A plate check is not class approval: weld quality, fatigue, buckling, chainplates "
        "and the keel root are left out unless stated.",
        COMMON_PRACTICE,
    ),
    CautionRecord(
        "approval",
        "A change of propulsion or of main dimensions may need approval before work starts, "
        "and limits differ fivefold between authorities. Ask.",
        "Directive 2013/53/EU, major craft conversion (opened in part)",
    ),
)
"""In the order they are printed."""
