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
  readonly conditions: readonly (ConditionResult)[];
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
  readonly effect: Effect;
  /** one sentence on what is easily missed, or empty */
  readonly reminder: string;
}

/** One value that is not as it was signed. */
export interface Changed {
  readonly path: string;
  readonly before: JsonValue;
  readonly after: JsonValue;
}

/** A cockpit full of water to the deck beside it, in the reference condition. */
export interface CockpitResult {
  /** path of the part */
  readonly id: string;
  readonly stage: "as_found" | "refit";
  readonly volume_m3: number;
  readonly water_kg: number;
  /** lowest corner of the sole; negative: below */
  readonly sole_above_sea_mm: number;
  readonly drain_area_cm2: number;
  /** until it is empty; null where water stands in it for good */
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
  readonly revision_sha256: string | null;
  readonly state: "open" | "closed";
  /** what it is pinned to is no longer in the refit */
  readonly is_adrift: boolean;
  readonly thread: readonly (Remark)[];
}

/** One boat in one loading condition. */
export interface ConditionResult {
  readonly id: string;
  readonly stage: "as_found" | "refit";
  readonly water_density_kg_m3: number;
  readonly displacement_kg: number;
  readonly centre_of_gravity_m: readonly [number, number, number];
  readonly vcg_above_keel_m: number;
  readonly plus_minus: PlusMinus;
  readonly shares: SharesResult;
  readonly sinkage_mm: number;
  readonly sinkage_bow_mm: number;
  readonly sinkage_stern_mm: number;
  readonly trim_mm: number;
  readonly trim_deg: number;
  readonly heel_deg: number;
  readonly freeboards: readonly (FreeboardResult)[];
  readonly gm_m: number;
  readonly gm_solid_m: number;
  readonly km_m: number;
  readonly kg_per_cm: number;
  readonly trim_moment_kgm_per_cm: number;
  readonly lcf_m: number;
  readonly change: Difference | null;
  readonly righting_levers: RightingLevers | null;
  /** null where the condition floods no well */
  readonly wells_full: WellsFullResult | null;
  readonly free_surface: FreeSurfaceResult | null;
  readonly worse_side: "port" | "starboard" | null;
  /** smaller of both sides, house counted */
  readonly vanishing_angle_deg: number | null;
  readonly vanishing_angle_without_house_deg: number | null;
  readonly vanishing_angle_port_deg: number | null;
  readonly vanishing_angle_starboard_deg: number | null;
  readonly greatest_gz_m: number | null;
  readonly greatest_gz_at_deg: number | null;
  /** by aggregate area of what stands open */
  readonly downflooding_angle_deg: number | null;
  /** the same with every opening left open */
  readonly downflooding_angle_all_open_deg: number | null;
  readonly critical_opening: string | null;
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
  readonly state: "met" | "not met" | "to be confirmed" | "not answered";
  /** title of the document it is taken from */
  readonly document: string;
  readonly source: string;
  readonly grade: string;
  readonly formula: string;
  readonly limit_in_words: string;
  readonly written_for: string;
  readonly inputs: readonly (QuantityResult)[];
  readonly remarks: readonly (string)[];
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
}

/** Edits applied together, as one step of undo. */
export interface Edit {
  /** what it is called in undo, e.g. 'side height 580 mm' */
  readonly label: string;
  readonly steps: readonly (Set | Remove)[];
  readonly condition?: string | null;
  /** heel the chosen condition round in the first answer too */
  readonly levers?: boolean;
  /** edits of one gesture (a drag) join to a single step of undo; they are answered while they are still being written, the whole answer after them waits */
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

/** One sentence beside the thing it concerns. */
export interface FindingResult {
  readonly code: string;
  readonly severity: "fail" | "warn" | "note";
  readonly place: string;
  readonly sentence: string;
  readonly source: string;
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

/** The refit in one loading condition, to be held against the lines. */
export interface LoadedDot {
  readonly condition: string;
  readonly displacement_kg: number;
  readonly vcg_m: number;
  /** raised by the free surfaces of her tanks: this is held against the lines */
  readonly vcg_fluid_m: number;
}

/** A freeboard mark at the sheer. */
export interface MarkOnProfile {
  readonly id: string;
  readonly x_m: number;
  readonly sheer_z_m: number;
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

/** A part of new steel; mass is its plates and bars, allowances stand beside it. */
export interface PartResult {
  readonly id: string;
  readonly change: string;
  readonly kind: string;
  readonly mass_kg: number;
  readonly centroid_m: readonly [number, number, number];
  /** volume of the steel */
  readonly volume_m3: number;
  readonly plate_area_m2: number;
  /** closed volume it adds to (negative: takes from) what floats */
  readonly buoyant_volume_m3: number;
  readonly weld_metal_kg: number;
  readonly paint_kg: number;
  readonly effect: Effect;
  /** the steel it replaces left off; null in the first answer to an edit */
  readonly effect_gross: Effect | null;
  readonly plates: readonly (PlateResult)[];
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
  readonly effect: Effect;
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
  /** oldest first */
  readonly signatures: readonly (Signature)[];
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

/** One part of the scene; the mesh's name is the hash of its content. */
export interface ScenePart {
  readonly id: string;
  readonly role: "hull" | "appendage" | "new" | "replaced" | "existing";
  readonly change: string | null;
  /** path of its GLB, in the boat's frame turned to glTF axes */
  readonly mesh: string;
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
}

/** What one cause is worth of the square of a plus/minus. */
export interface ShareResult {
  /** dotted path of the figure, or 'new plate': all of it */
  readonly cause: string;
  readonly share_percent: number;
}

/** What to weigh or measure next: the causes that are worth most, largest first. */
export interface SharesResult {
  readonly displacement_kg: readonly (ShareResult)[];
  readonly trim_mm: readonly (ShareResult)[];
  readonly heel_deg: readonly (ShareResult)[];
  readonly gm_m: readonly (ShareResult)[];
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
  readonly written_at: string;
  readonly is_stale: boolean;
  /** what makes it stale, by path */
  readonly changed: readonly (Changed)[];
  /** the same in one sentence, or empty */
  readonly why_stale: string;
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
  readonly state: "met" | "missed" | "not answered yet";
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
  /** total minus the sum of each change's own (leave-one-out) effect */
  readonly leave_one_out_remainder: Effect;
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

/** Where a document stands: the last word on the whole of it. */
export interface WholeStanding {
  readonly standing: "unsigned" | "signed" | "signed with conditions" | "sent back" | "stale";
  readonly sentence: string;
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
  /** False where the last save was refused */
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
  'GET /api/refits/{refit}/revisions/working': { body: undefined; answer: Working };
  'PATCH /api/refits/{refit}/revisions/working': { body: Edit; answer: Working };
  'POST /api/refits/{refit}/revisions/working/undo': { body: undefined; answer: Working };
  'POST /api/refits/{refit}/revisions/working/redo': { body: undefined; answer: Working };
  'POST /api/refits/{refit}/revisions/working/lines': { body: LinesText; answer: Working };
  'GET /api/refits/{refit}/revisions/working/record': { body: undefined; answer: RecordAnswer };
  'GET /api/refits/{refit}/revisions/working/allowance': { body: undefined; answer: AllowedResult };
  'GET /api/refits/{refit}/revisions': { body: undefined; answer: readonly (RevisionCard)[] };
  'POST /api/refits/{refit}/revisions': { body: Freezing; answer: RevisionCard };
  'GET /api/refits/{refit}/revisions/{revision}': { body: undefined; answer: Frozen };
  'GET /api/refits/{refit}/review': { body: undefined; answer: Review };
  'POST /api/refits/{refit}/comments': { body: NewComment; answer: Review };
  'POST /api/refits/{refit}/comments/{comment}/remarks': { body: NewRemark; answer: Review };
  'POST /api/refits/{refit}/signatures': { body: NewSignature; answer: Review };
  'GET /api/refits/{refit}/attachments': { body: undefined; answer: readonly (AttachmentCard)[] };
  'POST /api/refits/{refit}/attachments': { body: undefined; answer: AttachmentCard };
  'GET /api/refits/{refit}/shares': { body: undefined; answer: readonly (ShareCard)[] };
  'POST /api/refits/{refit}/shares': { body: NewShare; answer: NewLink };
  'DELETE /api/refits/{refit}/shares/{share}': { body: undefined; answer: ShareCard };
  'GET /api/visitor': { body: undefined; answer: Visitor };
  'GET /api/kinds': { body: undefined; answer: readonly (PartKind)[] };
  'GET /api/cautions': { body: undefined; answer: readonly (Caution)[] };
}
