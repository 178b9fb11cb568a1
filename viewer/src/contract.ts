// Made by `make contract`; change the models, not this file.

/** Limit lines, conditions as dots, and what roof, arch and cabin may still take. */
export interface AllowedResult {
  readonly water_density_kg_m3: number;
  readonly lines: readonly (LimitLineResult)[];
  readonly dots: readonly (LoadedDot)[];
  readonly rooms: readonly (RoomResult)[];
  readonly remarks: readonly (string)[];
}

/** The whole answer. */
export interface Assessment {
  readonly hullchange: string;
  readonly boat: string;
  readonly document_sha256: string;
  readonly option: string | null;
  readonly reference_condition: string;
  readonly hull: HullResult;
  readonly survey: SurveyResult;
  readonly parts: readonly (PartResult)[];
  readonly replaced: readonly (ReplacedResult)[];
  readonly changes: readonly (ChangeResult)[];
  readonly items: readonly (ItemResult)[];
  readonly waterfall: Waterfall;
  readonly conditions: readonly (ConditionResult | UnansweredResult)[];
  readonly cockpits: readonly (CockpitResult)[];
  /** empty in the first answer to an edit */
  readonly thresholds: readonly (ThresholdResult)[];
  /** null where none were timed */
  readonly rolls: RollsResult | null;
  readonly targets: readonly (TargetResult)[];
  readonly record: RecordResult;
  readonly findings: readonly (FindingResult)[];
}

/** A photo, scale ticket or certificate. */
export interface AttachmentCard {
  readonly id: string;
  readonly name: string;
  readonly media_type: string;
  readonly size_bytes: number;
  readonly sha256: string;
  readonly author: string;
  readonly through: string;
  readonly written_at: string;
  /** when it was deleted; null where it was not */
  readonly removed_at: string | null;
}

/** A new refit's name. */
export interface Beginning {
  readonly name: string;
}

/** A caution shown with the results. */
export interface Caution {
  readonly topic: string;
  readonly sentence: string;
  readonly source: string;
}

/** A change bundles what comes off, goes on and moves. */
export interface ChangeResult {
  readonly id: string;
  readonly stage: string;
  readonly added_kg: number;
  readonly removed_kg: number;
  readonly moved_kg: number;
  readonly net_kg: number;
  /** null in the first answer to an edit that does not touch the change, and where the boat without it does not float */
  readonly effect: Effect | null;
  /** one sentence on what is easily missed, or empty */
  readonly reminder: string;
}

/** One value that is not as it was signed. */
export interface Changed {
  readonly path: string;
  readonly before: JsonValue;
  readonly after: JsonValue;
}

/** A cockpit full of water to its coamings, in the reference condition. */
export interface CockpitResult {
  /** path of the part */
  readonly id: string;
  readonly stage: "as_found" | "refit";
  readonly volume_m3: number;
  readonly water_kg: number;
  /** lowest corner of the sole; negative: below */
  readonly sole_above_sea_mm: number;
  /** null where no drains are given */
  readonly drain_area_cm2: number | null;
  /** until it is empty; null where it never is, or no drains are given */
  readonly drain_time_s: number | null;
  readonly criteria: readonly (CriterionResult)[];
}

/** A comment with its thread. */
export interface Comment {
  readonly id: string;
  readonly on: PinOutput;
  readonly kind: "question" | "defect" | "condition";
  readonly gate: "before-cutting" | "before-welding-out" | "before-launch" | "after-inclining" | null;
  readonly text: string;
  readonly author: string;
  readonly through: string;
  readonly written_at: string;
  /** by the server's clock; null for a record of a version that did not keep it */
  readonly arrived_at: string | null;
  readonly revision_sha256: string | null;
  readonly state: "open" | "closed";
  /** what it is pinned to is no longer in the refit */
  readonly is_adrift: boolean;
  readonly thread: readonly (Remark)[];
}

/** Two revisions, or one and the working copy, side by side; and both drawings. */
export interface Compared {
  readonly comparison: Comparison;
  readonly scene_before: readonly (ScenePart)[];
  readonly scene_after: readonly (ScenePart)[];
}

/** One thing that is not the same. */
export interface ComparedRow {
  readonly group: "tool" | "dimensions" | "weights" | "other figures" | "parts" | "plates" | "results" | "criteria" | "formulas";
  /** dotted path of the value or the result */
  readonly path: string;
  /** part, change, or condition and boat; empty for the whole */
  readonly where: string;
  readonly what: string;
  /** null where it is new */
  readonly before: JsonValue;
  /** null where it is gone */
  readonly after: JsonValue;
  readonly unit: string;
  /** to which a result is shown; null for an input */
  readonly step: number | null;
  /** less than one step: nothing to act on */
  readonly is_small: boolean;
}

/** Two answers side by side; what is the same is left out. */
export interface Comparison {
  /** in words: which revision */
  readonly before: string;
  /** in words: which revision, or the working copy */
  readonly after: string;
  readonly sentence: string;
  /** by group; in a group, as documented */
  readonly rows: readonly (ComparedRow)[];
}

/** One boat in one loading condition. */
export interface ConditionResult {
  readonly id: string;
  readonly stage: "as_found" | "refit";
  readonly water_density_kg_m3: number;
  readonly displacement_kg: number;
  readonly centre_of_gravity_m: readonly [number, number, number];
  readonly vcg_above_keel_m: number;
  readonly loaded: readonly (LoadedResult)[];
  readonly plus_minus: PlusMinus;
  /** also of the freeboards; sampled: of the draws that rest the same way up */
  readonly plus_minus_by: "linear" | "sampled";
  /** null where linear plus/minus can be trusted */
  readonly sampled: SampledResult | null;
  readonly shares: SharesResult;
  readonly sinkage_mm: number;
  readonly sinkage_bow_mm: number;
  readonly sinkage_stern_mm: number;
  readonly trim_mm: number;
  readonly trim_deg: number;
  readonly heel_deg: number;
  readonly freeboards: readonly (FreeboardResult)[];
  /** upright, however she rests: about her centreline plane, sinkage and trim in balance, no list; likewise GM solid, KM and every plus/minus and change of GM */
  readonly gm_m: number;
  /** the same about the attitude she comes to rest in: of a listed, lolling or capsized boat another figure, which no rule means; null in revisions older than it */
  readonly gm_at_rest_m: number | null;
  readonly gm_solid_m: number;
  readonly km_m: number;
  readonly gm_longitudinal_m: number;
  readonly waterplane_area_m2: number;
  readonly kg_per_cm: number;
  readonly trim_moment_kgm_per_cm: number;
  readonly lcf_m: number;
  readonly change: Difference | null;
  readonly righting_levers: RightingLevers | null;
  /** why she could not be followed as she heels, and nothing below is judged */
  readonly not_followed: string;
  /** null where the condition floods no well */
  readonly wells_full: WellsFullResult | null;
  readonly free_surface: FreeSurfaceResult | null;
  /** with the smaller area under the levers to 90 degrees */
  readonly worse_side: "port" | "starboard" | null;
  /** of each side what is told below of both: the smaller */
  readonly sides: Readonly<Record<string, SideAngles>> | null;
  readonly heeled_plus_minus: HeeledPlusMinus | null;
  /** smaller of both sides, house counted */
  readonly vanishing_angle_deg: number | null;
  readonly vanishing_angle_without_house_deg: number | null;
  /** 0 where she does not right herself, 180 where from every heel */
  readonly vanishing_angle_port_deg: number | null;
  /** likewise */
  readonly vanishing_angle_starboard_deg: number | null;
  readonly greatest_gz_m: number | null;
  readonly greatest_gz_at_deg: number | null;
  /** first opening into the hull that nothing closes, the worse side */
  readonly downflooding_angle_deg: number | null;
  /** the same with what people open at sea left open: boards out */
  readonly downflooding_angle_in_use_deg: number | null;
  /** first opening of all, wherever it leads, nothing shut */
  readonly downflooding_angle_all_open_deg: number | null;
  /** by the sailing code's rule: openings in use at sea together of more than displacement in tonnes / 1500 m2 */
  readonly downflooding_by_area_deg: number | null;
  /** id of the opening of downflooding_angle_deg */
  readonly critical_opening: string | null;
  /** on which it lies */
  readonly critical_side: "port" | "starboard" | "centreline" | null;
  /** where the sea comes in first, and through what people open */
  readonly flooding_sentence: string;
  readonly downflooding_by_rule: readonly (FloodingByRule)[];
  /** smaller of vanishing and downflooding angle */
  readonly range_deg: number | null;
  readonly deck_edge_angle_deg: number | null;
  readonly coaming_angle_deg: number | null;
  readonly openings: readonly (OpeningResult)[];
  readonly rests: readonly (RestResult)[];
  readonly area_under_gz: Readonly<Record<string, number>> | null;
  /** to expect, with its low and high bound; rough */
  readonly roll_period_s: readonly [number, number, number] | null;
  readonly criteria: readonly (CriterionResult)[];
}

/** A criterion, its value and what is known about it; it opens down to its inputs. */
export interface CriterionResult {
  readonly id: string;
  readonly title: string;
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: string;
  readonly sense: string;
  /** by the value, the doubt beside it; to be confirmed too where there is none */
  readonly state: "met" | "met_within_doubt" | "not_met_within_doubt" | "not_met" | "to_be_confirmed" | "not met" | "to be confirmed" | "not answered";
  /** one standard deviation of the value; null: not known */
  readonly plus_minus: number | null;
  /** standard deviations by which the value keeps the limit */
  readonly margin_sd: number | null;
  /** that the limit is kept, 0 to 1 */
  readonly probability: number | null;
  /** higher centre of gravity that uses the margin up; negative: it must come down so much; null where none within a metre does */
  readonly vcg_rise_m: number | null;
  /** title of the document it is taken from */
  readonly document: string;
  readonly source: string;
  readonly grade: string;
  readonly formula: string;
  readonly limit_in_words: string;
  readonly written_for: string;
  readonly inputs: readonly (QuantityResult)[];
  readonly remarks: readonly (string)[];
  /** id of the definition it takes; null where it asks for none */
  readonly downflooding_by: string | null;
  /** by that definition; null where none goes under that counts */
  readonly downflooding_angle_deg: number | null;
  /** in words, with its side */
  readonly downflooding_opening: string | null;
}

/** Everything a page shows of a cut pack. */
export interface CutAnswer {
  readonly boat: string;
  readonly document_sha256: string;
  readonly pieces: readonly (CutPiece)[];
  readonly bars: readonly (CutBar)[];
  readonly nests: readonly (CutNest)[];
  readonly purchase: readonly (CutPurchase)[];
  readonly sections: readonly (CutSection)[];
  readonly seams: readonly (CutSeam)[];
  readonly quantities: CutQuantities;
  readonly comes_off: readonly (CutComesOff)[];
  readonly openings: readonly (CutOpening)[];
  readonly gap_mm: number;
  readonly margin_mm: number;
  readonly findings: readonly (FindingResult)[];
}

/** One length of a flat or tube. */
export interface CutBar {
  readonly id: string;
  readonly mark: string;
  readonly part: string;
  readonly plate: string;
  readonly change: string;
  readonly shape: string;
  readonly section: string;
  readonly length_mm: number;
  readonly mass_kg: number;
}

/** Everything that one change takes off. */
export interface CutComesOff {
  readonly change: string;
  /** in the order of cutting */
  readonly plates: readonly (CutOldPlate)[];
  readonly weights: readonly (CutWeightOff)[];
}

/** One file of a pack. */
export interface CutFile {
  /** with its folder */
  readonly name: string;
  readonly size_bytes: number;
}

/** Every file of a pack, written and read again. */
export interface CutFiles {
  /** what every one of them carries */
  readonly stamp: string;
  readonly zip_name: string;
  readonly files: readonly (CutFile)[];
}

/** One sheet with what lies on it. */
export interface CutNest {
  readonly id: string;
  readonly thickness_mm: number;
  /** what it is called on a list */
  readonly sheet: string;
  /** it lies in the yard already */
  readonly is_leftover: boolean;
  readonly length_mm: number;
  readonly breadth_mm: number;
  /** SVG path data in mm: x to the right, y down from the drawing's lower left corner */
  readonly outline: string;
  readonly used_length_mm: number;
  /** strip of full breadth that is worth keeping */
  readonly left_length_mm: number;
  /** pieces over the whole sheet */
  readonly used_percent: number;
  readonly pieces: readonly (CutPlace)[];
}

/** An old plate that is cut out, bare, by the document's dimensions. */
export interface CutOldPlate {
  readonly id: string;
  /** what it is of, and its name there */
  readonly plate: string;
  readonly mass_kg: number;
  /** of gravity, in the boat */
  readonly centre_m: readonly [number, number, number];
  readonly lift_by: string;
  /** none where a sling goes round it */
  readonly hang_at_m: readonly (readonly [number, number, number])[];
}

/** A new part and the opening it goes into, as read after cutting out. */
export interface CutOpening {
  readonly part: string;
  /** of the readings in the document */
  readonly path: string;
  readonly readings: readonly (CutReading)[];
  /** dimensions that fit best, by their path; none where it has them */
  readonly values_m: Readonly<Record<string, number | readonly (number)[]>>;
}

/** One piece cut from plate, seen from its marked side. */
export interface CutPiece {
  /** mark, with a side or number where several are alike */
  readonly id: string;
  readonly mark: string;
  readonly part: string;
  readonly plate: string;
  readonly change: string;
  /** sign of its contours and thickness */
  readonly shape: string;
  readonly material: string;
  /** how many carry the mark */
  readonly count: number;
  readonly thickness_mm: number;
  readonly length_mm: number;
  readonly breadth_mm: number;
  readonly area_m2: number;
  readonly mass_kg: number;
  /** outer and inner edges together */
  readonly cut_length_m: number;
  readonly pierces_count: number;
  /** where the marked side faces */
  readonly side: string;
  /** tightest; None where it stays flat */
  readonly bend_radius_mm: number | null;
  /** centre of gravity, y up from the lower left */
  readonly lift_at_mm: readonly [number, number];
  readonly lift_by: string;
  /** over all its seams, from and to */
  readonly draws_in_mm: readonly [number, number];
  /** id of the nest it lies on */
  readonly nest: string | null;
  /** its surface in the boat's frame, nine numbers a triangle; None where it is a whole plate */
  readonly in_boat_m: readonly (number)[] | null;
  /** SVG path data in mm: x to the right, y down from the drawing's lower left corner */
  readonly contours: string;
  /** ticks, landings, arrow; SVG path data in mm: x to the right, y down from the drawing's lower left corner */
  readonly marks: string;
  /** rolling lines; SVG path data in mm: x to the right, y down from the drawing's lower left corner */
  readonly bends: string;
  /** lines of 100 mm; SVG path data in mm: x to the right, y down from the drawing's lower left corner */
  readonly checks: string;
  readonly words: readonly (CutWords)[];
}

/** Where a piece lies on a sheet: turned about its lower left corner, then moved there. */
export interface CutPlace {
  readonly id: string;
  /** counter-clockwise as it is seen */
  readonly turn_deg: number;
  /** y up from the sheet's lower left corner */
  readonly at_mm: readonly [number, number];
}

/** One thickness or section: bought and from leftovers is used, left over and scrap. */
export interface CutPurchase {
  readonly material: string;
  /** whole sheets or bars; empty where nothing is bought */
  readonly buy: string;
  /** of the yard, that are cut into; empty for none */
  readonly leftovers: string;
  readonly bought_kg: number;
  /** of those leftovers, whole */
  readonly from_leftovers_kg: number;
  readonly used_kg: number;
  /** strips and lengths worth keeping */
  readonly left_over_kg: number;
  readonly scrap_kg: number;
  readonly used_percent: number;
  /** None where any of it has no price */
  readonly price: number | null;
  /** ids of what no stock takes; empty for none */
  readonly not_covered: string;
  readonly not_covered_kg: number;
}

/** Sums over everything. */
export interface CutQuantities {
  readonly mass_kg: number;
  readonly cut_length_m: number;
  readonly pierces_count: number;
  readonly seams_m: number;
  readonly weld_metal_kg: number;
  readonly process: string;
  /** to buy, from and to */
  readonly consumable_kg: readonly [number, number];
  readonly paint_area_m2: number;
}

/** One reading of an opening, beside what the part would make of it. */
export interface CutReading {
  readonly key: string;
  /** by the part's dimensions as they are */
  readonly drawn_mm: number;
  readonly read_mm: number | null;
  /** by the dimensions that fit what was read */
  readonly fitted_mm: number | null;
}

/** One seam as it is welded. */
export interface CutSeam {
  readonly first: string;
  readonly second: string;
  readonly kind: "butt" | "corner" | "tee" | "lap";
  readonly length_m: number;
  readonly angle_deg: number;
  /** of a fillet; zero for a butt */
  readonly leg_mm: number;
  readonly sides_count: number;
  readonly weld_metal_kg: number;
}

/** All bars of one section. */
export interface CutSection {
  readonly section: string;
  /** how many of each length; empty where none is long enough */
  readonly buy: string;
  /** no choice of bars costs less */
  readonly is_proven: boolean;
  /** the same in words, or what any choice takes at least */
  readonly bound: string;
  readonly bars: readonly (CutStockBar)[];
}

/** One bar as bought, and what is cut from it. */
export interface CutStockBar {
  readonly number: number;
  /** as it is sold */
  readonly length_mm: number;
  /** ids, the longest first */
  readonly pieces: readonly (string)[];
  readonly left_mm: number;
}

/** A weight that comes off by the ledger. */
export interface CutWeightOff {
  readonly id: string;
  readonly mass_kg: number;
  readonly centre_m: readonly [number, number, number];
  readonly lift_by: string;
  /** the part that takes its place, or empty */
  readonly replaced_by: string;
}

/** A line of text on a piece. */
export interface CutWords {
  readonly text: string;
  /** lower left corner, y down */
  readonly at_mm: readonly [number, number];
  readonly height_mm: number;
  readonly length_mm: number;
  /** counter-clockwise as it is seen */
  readonly turn_deg: number;
}

/** How the cut pack of a working copy or a revision is doing. */
export interface Cutting {
  readonly refit: string;
  /** None: the working copy */
  readonly revision: number | null;
  readonly option: string | null;
  readonly state: "none" | "working" | "done" | "cancelled" | "failed";
  /** what is in hand; kept are those of a revision, which stay */
  readonly nests: "none" | "quick" | "good" | "kept";
  /** what is being done, or empty */
  readonly said: string;
  /** edit of the working copy it was made for */
  readonly edit: number | null;
  readonly document_sha256: string | null;
  /** the boat has changed since */
  readonly is_outdated: boolean;
  /** what it was made for, and whether that still stands */
  readonly sentence: string;
  /** of the review, as of now */
  readonly standing: WholeStanding;
  readonly problem: Problem | null;
}

/** The refit minus the boat as found in the same condition; shared errors cancel. */
export interface Difference {
  readonly displacement_kg: number;
  readonly lcg_m: number;
  readonly tcg_m: number;
  readonly vcg_m: number;
  readonly sinkage_mm: number;
  readonly trim_mm: number;
  readonly heel_deg: number;
  readonly gm_m: number;
  readonly freeboards: readonly (FreeboardResult)[];
  readonly plus_minus: PlusMinus;
  readonly plus_minus_by: "linear" | "sampled";
  readonly heeled: HeeledChange | null;
}

/** Edits applied together, as one step of undo. */
export interface Edit {
  /** what it is called in undo, e.g. 'side height 580 mm'; long ones are cut */
  readonly label: string;
  readonly steps: readonly (Set | Remove)[];
  readonly condition?: string | null;
  /** heel the chosen condition round in the first answer too */
  readonly levers?: boolean;
  /** edits of one gesture (a drag) join to a single step of undo */
  readonly gesture?: string | null;
}

/** Difference of two floats, each an exact equilibrium; signs as everywhere. */
export interface Effect {
  readonly sinkage_mm: number;
  readonly trim_mm: number;
  readonly heel_deg: number;
  readonly vcg_mm: number;
  readonly gm_mm: number;
}

/** The secret of a link, sent once by the page it opened. */
export interface Entry {
  readonly token: string;
}

/** A figure opened: formula, what it was made from, source, grade. */
export interface Explanation {
  readonly path: string;
  readonly name: string;
  /** the boat, condition, part or weight it belongs to, or empty */
  readonly of: string;
  /** null where it is no single number */
  readonly value: number | null;
  readonly unit: string;
  /** one standard deviation, where it is known */
  readonly plus_minus: number | null;
  readonly formula: string;
  readonly inputs: readonly (Ingredient)[];
  readonly source: string;
  /** how the figure comes about, or how well its text is known */
  readonly grade: string;
  readonly note: string;
  /** path in the document where it is entered, or empty */
  readonly entered: string;
}

/** A comment that was written in a shared page. */
export interface FiledComment {
  readonly id: string;
  readonly on: PinInput;
  readonly kind: "question" | "defect" | "condition";
  /** by when it must be closed */
  readonly gate?: "before-cutting" | "before-welding-out" | "before-launch" | "after-inclining" | null;
  readonly text: string;
  readonly author: string;
  /** None: the working copy */
  readonly revision_sha256?: string | null;
  /** by the clock of the reviewer's machine */
  readonly written_at: string;
}

/** A reply, a closing or a reopening that was written in a shared page. */
export interface FiledRemark {
  readonly id: string;
  readonly kind: "reply" | "closing" | "reopening";
  readonly text: string;
  readonly evidence?: readonly (string)[];
  readonly author: string;
  /** what it is about */
  readonly comment: string;
  readonly written_at: string;
}

/** A word on what the shared page holds; its hash may be that of the document alone. */
export interface FiledSignature {
  readonly id: string;
  /** what was looked at */
  readonly revision_sha256: string;
  readonly part?: string | null;
  readonly verdict: "agreed" | "agreed-with-conditions" | "send-again" | "not-looked-at";
  /** what was looked at, such as 'floating and stability only' */
  readonly scope: string;
  readonly conditions?: readonly (string)[];
  readonly author: string;
  readonly written_at: string;
}

/** One sentence beside the thing it concerns. */
export interface FindingResult {
  readonly code: string;
  readonly severity: "fail" | "warn" | "note";
  readonly place: string;
  readonly sentence: string;
  readonly source: string;
}

/** What one publication takes for downflooding, and the angle that gives. */
export interface FloodingByRule {
  readonly id: string;
  readonly document: string;
  /** which openings count, in words */
  readonly openings: string;
  /** what follows from the angle, in words */
  readonly follows: string;
  /** null where none goes under that counts */
  readonly angle_deg: number | null;
  /** in words, with its side; empty where none */
  readonly opening: string;
  readonly heeled_to: "port" | "starboard" | null;
  /** openings counted because the document says too little of them */
  readonly undecided: readonly (string)[];
  readonly source: string;
  readonly grade: string;
}

/** A lever by two roads: liquids that move, and G raised by their free surfaces. */
export interface FreeSurfaceResult {
  /** to the worse side */
  readonly heel_deg: number;
  /** of G: GM with the liquids frozen, less GM */
  readonly rise_mm: number;
  /** liquids moving as they do, house and wells as at rest */
  readonly gz_m: number;
  /** liquids frozen as they lie, G raised */
  readonly gz_virtual_m: number;
  /** virtual minus moving */
  readonly difference_mm: number;
}

/** Sheer to water at a measured mark. */
export interface FreeboardResult {
  readonly mark: string;
  readonly side: "port" | "starboard";
  /** of the sheer there */
  readonly half_breadth_m: number;
  readonly freeboard_mm: number;
  readonly plus_minus_mm: number;
}

/** What a new revision is made for. */
export interface Freezing {
  readonly note?: string;
}

/** A revision as it was frozen: document, results, drawing. */
export interface Frozen {
  readonly refit: string;
  readonly revision: RevisionCard;
  readonly standing: WholeStanding;
  readonly document: Readonly<Record<string, JsonValue>>;
  readonly options: readonly (string)[];
  readonly option: string | null;
  readonly condition: string;
  readonly assessment: Assessment;
  readonly profile: Profile;
  readonly scene: readonly (ScenePart)[];
  /** version that draws it now; the results are as frozen */
  readonly drawn_by: string;
}

/** The refit minus the boat as found, of what is read off the levers. */
export interface HeeledChange {
  readonly vanishing_angle_deg: number | null;
  readonly downflooding_angle_deg: number | null;
  readonly range_deg: number | null;
  readonly greatest_gz_m: number | null;
  readonly plus_minus: HeeledPlusMinus;
}

/** One standard deviation of what is read off the levers; null where there is no angle. */
export interface HeeledPlusMinus {
  readonly by: "linear" | "sampled";
  readonly vanishing_angle_deg: number | null;
  readonly downflooding_angle_deg: number | null;
  readonly range_deg: number | null;
  readonly greatest_gz_m: number | null;
  /** null in a change, and in revisions that did not tell it */
  readonly vanishing_angle_without_house_deg: number | null;
}

/** The hull with keel and skeg, upright at the design waterline, in the document's water. */
export interface HullResult {
  readonly length_m: number;
  readonly length_waterline_m: number;
  readonly beam_m: number;
  readonly beam_waterline_m: number;
  readonly draught_m: number;
  readonly displacement_at_dwl_kg: number;
  readonly kg_per_cm: number;
  readonly trim_moment_kgm_per_cm: number;
  readonly lcb_m: number;
  readonly lcf_m: number;
  readonly vcb_m: number;
  readonly km_m: number;
  readonly km_longitudinal_m: number;
  readonly waterplane_area_m2: number;
  readonly wetted_area_m2: number;
  readonly block_coefficient: number;
  readonly prismatic_coefficient: number;
  readonly midship_coefficient: number;
  readonly waterplane_coefficient: number;
}

/** One thing a figure was made from. */
export interface Ingredient {
  /** as the formula writes it, or empty */
  readonly symbol: string;
  readonly name: string;
  /** null where it is no single number */
  readonly value: number | null;
  readonly unit: string;
  /** what it is besides or instead of its number, or empty */
  readonly words: string;
  /** opens in turn */
  readonly path: string;
}

/** One line of the ledger of changes. */
export interface ItemResult {
  readonly path: string;
  readonly change: string;
  readonly role: "removed" | "added" | "moved" | "part" | "allowance";
  readonly mass_kg: number;
  readonly plus_minus_kg: number;
  /** where it is; for a moved item, where it comes from */
  readonly at_m: readonly [number, number, number];
  /** where a moved item goes */
  readonly to_m: readonly [number, number, number] | null;
  readonly provenance: string;
  readonly replaced_by: string | null;
  readonly may_lie_x_m: readonly [number, number] | null;
  /** of this item alone; null until the quiet second answer */
  readonly effect: Effect | null;
}

export type JsonValue = unknown;

/** The highest centre of gravity one criterion allows, over displacement. */
export interface LimitLineResult {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly grade: string;
  /** False: to be confirmed, whatever the numbers say */
  readonly can_be_judged: boolean;
  readonly displacement_kg: readonly (number)[];
  /** above the design waterline */
  readonly vcg_m: readonly (number)[];
  /** False where the limit lies beyond what was searched */
  readonly found: readonly (boolean)[];
}

/** Lines as CSV text: line,kind,x_m,y_m,z_m. */
export interface LinesText {
  readonly csv: string;
}

/** What became of a filled cut list. */
export interface ListTaken {
  /** what it said that was not known */
  readonly taken_count: number;
  /** ids that this pack has not */
  readonly not_here: readonly (string)[];
  /** ids whose piece has another shape now */
  readonly other_shape: readonly (string)[];
  /** cells that say neither done nor not done */
  readonly unclear: readonly (string)[];
  readonly progress: ShopProgress;
}

/** A revision with where it stands now. */
export interface ListedRevision {
  readonly number: number;
  readonly note: string;
  readonly made_at: string;
  /** edit of the working copy that was frozen */
  readonly edit: number;
  /** version that worked the results out */
  readonly tool: string;
  readonly document_sha256: string;
  /** over the document, its files, the results and the tool */
  readonly sha256: string;
  readonly standing: WholeStanding;
}

/** The refit in one loading condition, to be held against the lines. */
export interface LoadedDot {
  readonly condition: string;
  readonly displacement_kg: number;
  readonly vcg_m: number;
  /** raised by the free surfaces of her tanks: this is held against the lines */
  readonly vcg_fluid_m: number;
}

/** One line of what a boat weighs in a condition, besides the lines of the refit. */
export interface LoadedResult {
  /** of the figure in the document; 'survey': all that floated */
  readonly path: string;
  /** negative: in the survey's mass, and not aboard here */
  readonly mass_kg: number;
  /** of a liquid, as it lies at rest */
  readonly at_m: readonly [number, number, number];
}

/** A freeboard mark at the sheer. */
export interface MarkOnProfile {
  readonly id: string;
  readonly x_m: number;
  readonly sheer_z_m: number;
}

/** What became of a review file. */
export interface Merged {
  /** what is new here */
  readonly new_count: number;
  /** what was here already */
  readonly known_count: number;
  /** what does not fit, each in a sentence */
  readonly conflicts: readonly (string)[];
}

/** A comment; its id is chosen by who writes it, so that it arrives once only. */
export interface NewComment {
  readonly id: string;
  readonly on: PinInput;
  readonly kind: "question" | "defect" | "condition";
  /** by when it must be closed */
  readonly gate?: "before-cutting" | "before-welding-out" | "before-launch" | "after-inclining" | null;
  readonly text: string;
  /** a share link knows its reviewer */
  readonly author?: string | null;
  /** None: the working copy */
  readonly revision_sha256?: string | null;
}

/** A link, told this once. */
export interface NewLink {
  readonly share: ShareCard;
  /** address that opens the review */
  readonly link: string;
  /** it names this computer, which no other reaches */
  readonly opens_here_alone: boolean;
}

/** What is added to a comment: a reply, its closing with evidence, its reopening. */
export interface NewRemark {
  readonly id: string;
  readonly kind: "reply" | "closing" | "reopening";
  readonly text: string;
  /** attachments */
  readonly evidence?: readonly (string)[];
  readonly author?: string | null;
}

/** A link for one reviewer. */
export interface NewShare {
  /** for whom it is */
  readonly label: string;
  readonly revisions: readonly (number)[];
  /** how long it opens */
  readonly opens_for_s?: number;
}

/** A reviewer's word on a revision, whole or on one part. */
export interface NewSignature {
  readonly id: string;
  /** what was looked at */
  readonly revision_sha256: string;
  readonly part?: string | null;
  readonly verdict: "agreed" | "agreed-with-conditions" | "send-again" | "not-looked-at";
  /** what was looked at, such as 'floating and stability only' */
  readonly scope: string;
  readonly conditions?: readonly (string)[];
  readonly author?: string | null;
}

/** What somebody ticks off. */
export interface NewTicks {
  readonly ticks: readonly (Tick)[];
  readonly author: string;
}

/** An opening, one side of it, and the heel at which its edge goes under. */
export interface OpeningResult {
  readonly id: string;
  readonly side: "port" | "starboard" | "centreline";
  /** smaller of both sides; null where it stays dry through the whole circle */
  readonly immersion_angle_deg: number | null;
  /** side to which she is heeled then */
  readonly heeled_to: "port" | "starboard" | null;
  /** of its lowest edge above the water at rest */
  readonly height_mm: number;
  /** where its edge first goes under */
  readonly edge_m: readonly (readonly [number, number, number])[];
  readonly area_m2: number;
  readonly closing: string;
  readonly stands_open: boolean;
  /** false: into a house that stands on it */
  readonly into_hull: boolean;
  /** in use at sea for access or air; null where nobody said */
  readonly regular: boolean | null;
  /** water through it spreads; null where nobody said */
  readonly progressive: boolean | null;
  readonly tank_air_pipe: boolean;
}

/** A shape in side view, (x, z) points; drawn closed where ``closed``. */
export interface Outline {
  readonly id: string;
  readonly role: "hull" | "sheer" | "chine" | "appendage" | "existing" | "part";
  readonly points_m: readonly (readonly [number, number])[];
  readonly closed: boolean;
}

/** A kind of part an owner can add, and the JSON Schema its form is drawn from. */
export interface PartKind {
  readonly kind: string;
  readonly title: string;
  readonly about: string;
  readonly parameters: Readonly<Record<string, unknown>>;
  readonly example: Readonly<Record<string, JsonValue>>;
}

/** How far one part is: as far as the last of its pieces. */
export interface PartProgress {
  readonly part: string;
  readonly change: string;
  readonly stage: "to cut" | "cut" | "checked" | "welded";
  readonly pieces_count: number;
  readonly cut_count: number;
  readonly checked_count: number;
  readonly welded_count: number;
}

/** A part of new steel: its plates and bars, what is welded and painted on, what it does. */
export interface PartResult {
  readonly id: string;
  readonly change: string;
  readonly kind: string;
  /** its plates and bars, without weld metal and paint, as it is cut */
  readonly mass_kg: number;
  /** with weld metal and paint: what the ledger counts and its effects leave out; null in results of a version that did not tell it */
  readonly mass_counted_kg: number | null;
  readonly centroid_m: readonly [number, number, number];
  /** volume of its plates and bars */
  readonly volume_m3: number;
  readonly plate_area_m2: number;
  /** closed volume it adds to (negative: takes from) what floats */
  readonly buoyant_volume_m3: number;
  readonly weld_metal_kg: number;
  readonly paint_kg: number;
  /** null in the first answer to an edit that does not touch the change, and where the boat without it does not float */
  readonly effect: Effect | null;
  /** the steel it replaces left off; what moves with it moves in both; null in the first answer to an edit */
  readonly effect_gross: Effect | null;
  readonly plates: readonly (PlateResult)[];
}

/** How far one piece is. */
export interface PieceProgress {
  readonly id: string;
  readonly stage: "to cut" | "cut" | "checked" | "welded";
  readonly done: readonly (StepDone)[];
  /** something was done to a piece of this name before its shape changed */
  readonly is_other_shape: boolean;
}

/** What a comment is about; a point is given with the part it lies on. */
export interface PinInput {
  /** id in the scene; None for the whole refit or a number */
  readonly part?: string | null;
  readonly plate?: string | null;
  /** dotted path of a number */
  readonly path?: string | null;
  /** in the boat's frame */
  readonly point_m?: readonly [number, number, number] | null;
}

/** What a comment is about; a point is given with the part it lies on. */
export interface PinOutput {
  /** id in the scene; None for the whole refit or a number */
  readonly part: string | null;
  readonly plate: string | null;
  /** dotted path of a number */
  readonly path: string | null;
  /** in the boat's frame */
  readonly point_m: readonly [number, number, number] | null;
}

/** One plate or bar of a part. */
export interface PlateResult {
  readonly id: string;
  readonly kind: "plate" | "flat_bar" | "tube";
  readonly thickness_mm: number;
  readonly area_m2: number;
  readonly mass_kg: number;
}

/** One standard deviation of each. */
export interface PlusMinus {
  readonly displacement_kg: number;
  readonly lcg_m: number;
  readonly tcg_m: number;
  readonly vcg_m: number;
  readonly sinkage_mm: number;
  readonly trim_mm: number;
  readonly heel_deg: number;
  readonly gm_m: number;
  /** null in results of a version that did not tell it */
  readonly sinkage_bow_mm: number | null;
  /** null in results of a version that did not tell it */
  readonly sinkage_stern_mm: number | null;
}

/** RFC 9457: one shape for every refusal. */
export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  /** stable; the sentence may change, the code does not */
  readonly code: string;
  readonly faults: readonly (ProblemFault)[];
}

/** One of several things wrong, with its dotted path. */
export interface ProblemFault {
  readonly code: string;
  readonly place: string;
  readonly sentence: string;
}

/** The boat from her port side turned so that the bow is left: x to the right, z up. */
export interface Profile {
  readonly outlines: readonly (Outline)[];
  readonly marks: readonly (MarkOnProfile)[];
  readonly length_waterline_m: number;
  readonly centre_of_flotation_x_m: number;
}

/** A number a criterion's result was made from. */
export interface QuantityResult {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
}

/** A ratio of both boats: a comparison, not a measure of safety. */
export interface RatioResult {
  readonly id: string;
  readonly title: string;
  /** null where `without` says why */
  readonly as_found: number | null;
  readonly refit: number | null;
  /** why there is no figure, or empty */
  readonly without: string;
  readonly formula: string;
  /** units, which the figure hangs on */
  readonly made_in: string;
  /** what is said of it, as hearsay */
  readonly usual: string;
  readonly grade: string;
  readonly seen: string;
}

/** The CAD record of an edit, once its workers are done. */
export interface RecordAnswer {
  readonly edit: number;
  readonly record: RecordResult;
}

/** One part weighed from its CAD solids. */
export interface RecordPart {
  readonly id: string;
  readonly solids: number;
  readonly mass_kg: number;
  readonly centroid_m: readonly [number, number, number];
  readonly mass_difference_percent: number;
  readonly centroid_difference_mm: number;
  readonly differs: boolean;
}

/** The CAD solids beside the plates' own meshes. */
export interface RecordResult {
  readonly state: "held" | "differs" | "left out" | "pending";
  readonly parts: readonly (RecordPart)[];
}

/** A refit in the list. */
export interface RefitCard {
  readonly id: string;
  readonly name: string;
  /** where edits are saved: the file's name, or the store */
  readonly kept_in: string;
}

/** A remark that was taken. */
export interface Remark {
  readonly id: string;
  readonly comment: string;
  readonly kind: "reply" | "closing" | "reopening";
  readonly text: string;
  readonly evidence: readonly (string)[];
  readonly author: string;
  /** how it came: this computer, a share link, a review file */
  readonly through: string;
  readonly written_at: string;
  /** by the server's clock; null for a record of a version that did not keep it */
  readonly arrived_at: string | null;
}

/** Take the value at a path away. */
export interface Remove {
  readonly op?: "remove";
  readonly path: string;
}

/** An existing part that a change replaces: the steel that comes off, and what that does. */
export interface ReplacedResult {
  /** path of the existing part */
  readonly id: string;
  readonly change: string;
  readonly mass_kg: number;
  /** null in the first answer to an edit that does not touch the change, and where the boat without it does not float */
  readonly effect: Effect | null;
}

/** How far a freeboard reading lies from the fitted plane. */
export interface ResidualResult {
  readonly mark: string;
  readonly side: "port" | "starboard";
  readonly freeboard_mm: number;
  readonly residual_mm: number;
}

/** A heel at which she rests, stable or not. */
export interface RestResult {
  readonly heel_deg: number;
  readonly stable: boolean;
  readonly inverted: boolean;
}

/** Everything that was said of a refit. */
export interface Review {
  readonly refit: string;
  readonly standing: WholeStanding;
  readonly comments: readonly (Comment)[];
  /** whose comment is not here */
  readonly loose_remarks: readonly (Remark)[];
  /** in the order in which they came */
  readonly signatures: readonly (Signature)[];
}

/** All that was said in a shared page. */
export interface ReviewFile {
  readonly form: "hullchange review 1";
  readonly boat: string;
  /** of the document that the page holds */
  readonly document_sha256: string;
  readonly comments?: readonly (FiledComment)[];
  readonly remarks?: readonly (FiledRemark)[];
  readonly signatures?: readonly (FiledSignature)[];
}

/** The reviewer's name, asked once. */
export interface ReviewerName {
  readonly name: string;
}

/** A frozen revision in the list. */
export interface RevisionCard {
  readonly number: number;
  readonly note: string;
  readonly made_at: string;
  /** edit of the working copy that was frozen */
  readonly edit: number;
  /** version that worked the results out */
  readonly tool: string;
  readonly document_sha256: string;
  /** over the document, its files, the results and the tool */
  readonly sha256: string;
}

/** Righting levers over heel at her displacement, free to trim, liquids moving. A lever is positive where it turns her towards upright, to either side. Where the house's own opening goes under, its heel stands twice: there the lever steps. */
export interface RightingLevers {
  readonly heel_deg: readonly (number)[];
  readonly gz_m: readonly (number)[];
  /** one standard deviation, from mass, place, survey and VCG */
  readonly gz_plus_minus_m: readonly (number)[];
  /** cockpit dry until its coaming goes under; gz_m counts it as lost always */
  readonly gz_well_dry_m: readonly (number)[];
  /** at the heels of heel_deg */
  readonly gz_without_house_m: readonly (number)[];
  /** she takes at each heel, by the stern */
  readonly trim_deg: readonly (number)[];
  /** a point lies up . point - offset above the water, up = (-sin trim, -cos trim sin heel, cos trim cos heel) */
  readonly water_offset_m: readonly (number)[];
}

/** Timed rolls: they tell by how much her GM has changed, never how large it is. */
export interface RollsResult {
  /** of a full swing */
  readonly before_period_s: number | null;
  readonly before_plus_minus_s: number | null;
  readonly after_period_s: number | null;
  readonly after_plus_minus_s: number | null;
  /** GM after over GM before, by the rolls alone */
  readonly gm_ratio: number | null;
  readonly gm_ratio_plus_minus: number | null;
  /** the same worked out in the reference condition */
  readonly gm_ratio_expected: number | null;
}

/** What one place may still take in one condition. */
export interface RoomResult {
  readonly condition: string;
  readonly place: string;
  /** above the design waterline */
  readonly height_m: number;
  /** by the criteria that can be judged */
  readonly mass_kg: number;
  /** the lines end there: at least so much */
  readonly up_to_there_none_fails: boolean;
  /** id of the criterion, or empty */
  readonly fails_first: string;
  readonly sentence: string;
}

/** The answer for many draws of what is not known: [5 %, median, 95 %] of each. */
export interface SampledResult {
  readonly draws: number;
  /** in words: what makes linear plus/minus doubtful */
  readonly why: string;
  /** of the draws that do not stay upright: GM is not positive, or they capsize */
  readonly unstable_percent: number;
  /** of the draws that come to rest upside down */
  readonly capsized_percent: number;
  /** held at no heel, free surfaces taken off */
  readonly gm_upright_m: readonly [number, number, number];
  /** where she rests, let go upright */
  readonly heel_deg: readonly [number, number, number];
  /** the same without its side */
  readonly heel_either_side_deg: readonly [number, number, number];
  /** smaller of both */
  readonly vanishing_angle_deg: readonly [number, number, number] | null;
  readonly range_deg: readonly [number, number, number] | null;
  readonly greatest_gz_m: readonly [number, number, number] | null;
}

/** One part of the scene; the mesh's name is the hash of its content. */
export interface ScenePart {
  readonly id: string;
  readonly role: "hull" | "appendage" | "new" | "replaced" | "existing";
  readonly change: string | null;
  /** path of its GLB, in the boat's frame turned to glTF axes */
  readonly mesh: string;
  /** that GLB, base64, where an edit drew it anew; else it is asked for */
  readonly glb: string;
}

/** Put a value at a path; a mapping adds or replaces a named thing. */
export interface Set {
  readonly op?: "set";
  readonly path: string;
  readonly value: JsonValue;
}

/** A link that was handed out; its token is not kept. */
export interface ShareCard {
  readonly id: string;
  readonly label: string;
  readonly revisions: readonly (number)[];
  readonly reviewer: string;
  readonly made_at: string;
  readonly expires_at: string;
  readonly revoked_at: string | null;
  /** to the minute; null where nobody came yet */
  readonly last_used_at: string | null;
}

/** What one cause is worth of the square of a plus/minus. */
export interface ShareResult {
  /** dotted path of the figure, or what many share: 'plate tolerance', 'one scale', 'one datum' */
  readonly cause: string;
  readonly share_percent: number;
}

/** What to weigh or measure next: the causes that are worth most, largest first. */
export interface SharesResult {
  readonly displacement_kg: readonly (ShareResult)[];
  readonly trim_mm: readonly (ShareResult)[];
  readonly heel_deg: readonly (ShareResult)[];
  readonly gm_m: readonly (ShareResult)[];
  readonly sinkage_mm: readonly (ShareResult)[];
  readonly lcg_m: readonly (ShareResult)[];
  readonly tcg_m: readonly (ShareResult)[];
  readonly vcg_m: readonly (ShareResult)[];
  /** of the smaller one, by its slopes; none where there is none */
  readonly vanishing_angle_deg: readonly (ShareResult)[];
  readonly greatest_gz_m: readonly (ShareResult)[];
}

/** How far the steel of a pack is. */
export interface ShopProgress {
  readonly pieces: readonly (PieceProgress)[];
  readonly parts: readonly (PartProgress)[];
  readonly stages_offered: readonly (StageOffered)[];
}

/** Heels to one side at which something goes under; null where it does not. */
export interface SideAngles {
  readonly downflooding_angle_deg: number | null;
  readonly downflooding_angle_in_use_deg: number | null;
  readonly downflooding_angle_all_open_deg: number | null;
  readonly downflooding_by_area_deg: number | null;
  readonly deck_edge_angle_deg: number | null;
  readonly coaming_angle_deg: number | null;
}

/** A signature and whether it still stands for the working copy. */
export interface Signature {
  readonly id: string;
  readonly revision_sha256: string;
  /** None: a revision that is not here */
  readonly revision: number | null;
  readonly part: string | null;
  readonly verdict: "agreed" | "agreed-with-conditions" | "send-again" | "not-looked-at";
  readonly scope: string;
  readonly conditions: readonly (string)[];
  readonly author: string;
  readonly through: string;
  /** by the clock of the machine it was written on */
  readonly written_at: string;
  /** by the server's clock; null for a record of a version that did not keep it */
  readonly arrived_at: string | null;
  /** in what order it came, which no clock can turn round */
  readonly arrival: number;
  /** its reviewer's other words put it out of force */
  readonly is_superseded: boolean;
  readonly is_stale: boolean;
  /** what makes it stale, by path */
  readonly changed: readonly (Changed)[];
  /** the same in one sentence, or empty */
  readonly why_stale: string;
}

/** A change whose pieces are further than its stage says. */
export interface StageOffered {
  /** of the stage in the document; nothing is set by itself */
  readonly path: string;
  readonly change: string;
  readonly parts: readonly (string)[];
  readonly before: "proposed" | "agreed" | "cut" | "fitted";
  readonly stage: "proposed" | "agreed" | "cut" | "fitted";
}

/** A step that is done, by whose word and when. */
export interface StepDone {
  readonly step: "cut" | "checked" | "welded";
  readonly who: string;
  readonly written_at: string;
  /** as it stood in the list, or empty */
  readonly note: string;
}

/** The boat as found, from freeboards. */
export interface SurveyResult {
  readonly displacement_kg: number;
  readonly centre_of_gravity_m: readonly [number, number, number];
  readonly plus_minus: PlusMinus;
  /** share of plus/minus from the lines */
  readonly hull_shape_displacement_kg: number;
  readonly sinkage_mm: number;
  readonly trim_mm: number;
  readonly heel_deg: number;
  readonly gm_m: number;
  readonly residuals: readonly (ResidualResult)[];
  readonly chi_square: number;
  readonly degrees_of_freedom: number;
  /** in words: whether the readings agree with the hull */
  readonly agreement: string;
  readonly vcg_from: string;
}

/** What the owner wants of a result. */
export interface TargetResult {
  readonly id: string;
  readonly result: string;
  readonly condition: string;
  readonly value: number | null;
  readonly unit: string;
  readonly at_least: number | null;
  readonly at_most: number | null;
  /** by the value, the doubt beside it; to be confirmed: not answered */
  readonly state: "met" | "met_within_doubt" | "not_met_within_doubt" | "not_met" | "to_be_confirmed" | "missed" | "not answered yet";
  /** one standard deviation of the value; null: not known */
  readonly plus_minus: number | null;
  /** standard deviations to the nearest bound, inside positive */
  readonly margin_sd: number | null;
  /** that it is met, 0 to 1 */
  readonly probability: number | null;
}

/** A change from which a rule asks for a new look; it says whom to ask, and is no ruling. */
export interface ThresholdResult {
  readonly id: string;
  readonly title: string;
  readonly value: number;
  /** reached where the value is more */
  readonly limit: number;
  readonly unit: string;
  readonly state: "reached" | "not reached";
  readonly asks: string;
  readonly source: string;
  readonly grade: string;
}

/** One step of one piece: done, or not after all. */
export interface Tick {
  readonly piece: string;
  readonly step: "cut" | "checked" | "welded";
  readonly done: boolean;
}

/** The ratios owners quote. */
export interface TradeResult {
  readonly condition: string;
  readonly ratios: readonly (RatioResult)[];
  /** paths of what was counted as ballast */
  readonly ballast_from: readonly (string)[];
}

/** One boat in a loading condition in which she does not float, or finds no rest. Every other field of a condition's result is there, and null. */
export interface UnansweredResult {
  readonly id: string;
  readonly stage: "as_found" | "refit";
  /** why, in a sentence; a finding says it too */
  readonly unanswered: string;
  /** of the refusal: sinks, no-equilibrium ... */
  readonly code: string;
}

/** Who asks, as the server sees it. */
export interface Visitor {
  readonly role: "owner" | "reviewer";
  /** the one refit a reviewer sees */
  readonly refit: string | null;
  readonly revisions: readonly (number)[];
  readonly name: string;
  readonly expires_at: string | null;
}

/** From the boat as found to the refit, change by change; the steps add up exactly. */
export interface Waterfall {
  /** empty in the first answer to an edit */
  readonly steps: readonly (WaterfallStep)[];
  readonly total: Effect;
  /** total minus the sum of each change's own (leave-one-out) effect; null where one of those is */
  readonly leave_one_out_remainder: Effect | null;
}

/** One change put on top of those before it, in the stated order. */
export interface WaterfallStep {
  readonly change: string;
  readonly displacement_kg: number;
  readonly effect: Effect;
}

/** Levers with each flooded well as full as it can be at each heel, its water free. Other than in ``RightingLevers`` she spills as she heels, and takes the sea in where it stands above the rim; each lever is at the displacement with the water in her there. */
export interface WellsFullResult {
  readonly heel_deg: readonly (number)[];
  readonly gz_m: readonly (number)[];
  /** in her wells at each heel */
  readonly water_kg: readonly (number)[];
  /** smaller of both sides */
  readonly vanishing_angle_deg: number;
}

/** Where a document stands: what its reviewers' last words come to. */
export interface WholeStanding {
  readonly standing: "unsigned" | "signed" | "signed with conditions" | "sent back" | "stale";
  readonly sentence: string;
  /** words that contradict, each in a sentence */
  readonly conflicts: readonly (string)[];
  readonly revision: number | null;
  readonly revision_sha256: string | null;
}

/** The working copy: document, answer, drawing. */
export interface Working {
  readonly refit: string;
  /** number of the edit; its quoted form is the ETag */
  readonly edit: number;
  readonly kept_in: string;
  readonly can_undo: boolean;
  readonly can_redo: boolean;
  readonly undo_label: string;
  readonly redo_label: string;
  /** True once the file holds this edit; it is written a moment after an edit is answered, which the events tell, or (trouble) cannot be */
  readonly saved: boolean;
  /** why it was refused and what became of the edits, or empty */
  readonly trouble: string;
  readonly document: Readonly<Record<string, JsonValue>>;
  readonly options: readonly (string)[];
  readonly option: string | null;
  readonly condition: string;
  /** True where only the chosen condition and no item effects are answered yet */
  readonly partial: boolean;
  readonly assessment: Assessment;
  readonly profile: Profile;
  readonly scene: readonly (ScenePart)[];
}

export interface Calls {
  'GET /api/refits': { body: undefined; answer: readonly (RefitCard)[] };
  'POST /api/refits': { body: Beginning; answer: RefitCard };
  'GET /api/deleted': { body: undefined; answer: readonly (RefitCard)[] };
  'POST /api/deleted/{refit}': { body: undefined; answer: RefitCard };
  'GET /api/refits/{refit}/revisions/working': { body: undefined; answer: Working };
  'PATCH /api/refits/{refit}/revisions/working': { body: Edit; answer: Working };
  'POST /api/refits/{refit}/revisions/working/undo': { body: undefined; answer: Working };
  'POST /api/refits/{refit}/revisions/working/redo': { body: undefined; answer: Working };
  'POST /api/refits/{refit}/revisions/working/lines': { body: LinesText; answer: Working };
  'GET /api/refits/{refit}/revisions/working/since/{before}': { body: undefined; answer: Compared };
  'GET /api/refits/{refit}/revisions/working/record': { body: undefined; answer: RecordAnswer };
  'GET /api/refits/{refit}/revisions/working/allowance': { body: undefined; answer: AllowedResult };
  'GET /api/refits/{refit}/revisions/working/ratios': { body: undefined; answer: TradeResult };
  'GET /api/refits/{refit}/revisions': { body: undefined; answer: readonly (ListedRevision)[] };
  'POST /api/refits/{refit}/revisions': { body: Freezing; answer: RevisionCard };
  'GET /api/refits/{refit}/revisions/{revision}': { body: undefined; answer: Frozen };
  'GET /api/refits/{refit}/revisions/{revision}/since/{before}': { body: undefined; answer: Compared };
  'GET /api/refits/{refit}/review': { body: undefined; answer: Review };
  'POST /api/refits/{refit}/comments': { body: NewComment; answer: Review };
  'POST /api/refits/{refit}/comments/{comment}/remarks': { body: NewRemark; answer: Review };
  'POST /api/refits/{refit}/signatures': { body: NewSignature; answer: Review };
  'POST /api/refits/{refit}/review-file': { body: ReviewFile; answer: Merged };
  'GET /api/refits/{refit}/attachments': { body: undefined; answer: readonly (AttachmentCard)[] };
  'POST /api/refits/{refit}/attachments': { body: undefined; answer: AttachmentCard };
  'DELETE /api/refits/{refit}/attachments/{attachment}': { body: undefined; answer: AttachmentCard };
  'POST /api/refits/{refit}/attachments/{attachment}/back': { body: undefined; answer: AttachmentCard };
  'GET /api/refits/{refit}/revisions/{revision}/cutting': { body: undefined; answer: Cutting };
  'POST /api/refits/{refit}/revisions/{revision}/cutting': { body: undefined; answer: Cutting };
  'DELETE /api/refits/{refit}/revisions/{revision}/cutting': { body: undefined; answer: Cutting };
  'GET /api/refits/{refit}/revisions/{revision}/cutting/answer': { body: undefined; answer: CutAnswer };
  'GET /api/refits/{refit}/revisions/{revision}/cutting/files': { body: undefined; answer: CutFiles };
  'GET /api/refits/{refit}/revisions/{revision}/cutting/progress': { body: undefined; answer: ShopProgress };
  'POST /api/refits/{refit}/revisions/{revision}/cutting/progress': { body: NewTicks; answer: ShopProgress };
  'POST /api/refits/{refit}/revisions/{revision}/cutting/progress/list': { body: undefined; answer: ListTaken };
  'GET /api/refits/{refit}/shares': { body: undefined; answer: readonly (ShareCard)[] };
  'POST /api/refits/{refit}/shares': { body: NewShare; answer: NewLink };
  'DELETE /api/refits/{refit}/shares/{share}': { body: undefined; answer: ShareCard };
  'POST /api/archive': { body: undefined; answer: RefitCard };
  'GET /api/visitor': { body: undefined; answer: Visitor };
  'GET /api/kinds': { body: undefined; answer: readonly (PartKind)[] };
  'GET /api/cautions': { body: undefined; answer: readonly (Caution)[] };
  'GET /api/refits/{refit}/revisions/working/explanation': { body: undefined; answer: Explanation };
  'GET /api/refits/{refit}/revisions/{revision}/explanation': { body: undefined; answer: Explanation };
}

export const LATIN: Readonly<Record<string, string>> = {
  а: 'a',
  б: 'b',
  в: 'v',
  г: 'g',
  д: 'd',
  е: 'e',
  ё: 'e',
  з: 'z',
  и: 'i',
  й: 'y',
  к: 'k',
  л: 'l',
  м: 'm',
  н: 'n',
  о: 'o',
  п: 'p',
  р: 'r',
  с: 's',
  т: 't',
  у: 'u',
  ф: 'f',
  ы: 'y',
  э: 'e',
  і: 'i',
  ґ: 'g',
  ў: 'u',
  ј: 'j',
  α: 'a',
  β: 'v',
  γ: 'g',
  δ: 'd',
  ε: 'e',
  ζ: 'z',
  η: 'i',
  ι: 'i',
  κ: 'k',
  λ: 'l',
  μ: 'm',
  ν: 'n',
  ξ: 'x',
  ο: 'o',
  π: 'p',
  ρ: 'r',
  σ: 's',
  ς: 's',
  τ: 't',
  υ: 'y',
  φ: 'f',
  ω: 'o',
  ж: 'zh',
  х: 'kh',
  ц: 'ts',
  ч: 'ch',
  ш: 'sh',
  щ: 'shch',
  ъ: '',
  ь: '',
  ю: 'yu',
  я: 'ya',
  ї: 'yi',
  є: 'ye',
  ђ: 'dj',
  љ: 'lj',
  њ: 'nj',
  ћ: 'c',
  џ: 'dz',
  ѓ: 'gj',
  ќ: 'kj',
  ѕ: 'dz',
  θ: 'th',
  χ: 'ch',
  ψ: 'ps',
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  ł: 'l',
  ħ: 'h',
  ı: 'i',
  ŋ: 'ng',
  ŧ: 't',
};
