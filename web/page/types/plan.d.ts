// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.

import type { Direction, Layers } from './brief.d.ts';
export type { Direction, Layers } from './brief.d.ts';

/** Everything worked out from a brief. */
export interface Plan {
  /** Always this name. */
  schema: 'lieflat.plan';
  /** Always this version. */
  version: 1;
  /** The brief's title, as given. */
  title?: string;
  /** The seam line, by halves and whole. */
  seam_line: SeamLine;
  /** The garment's knit. */
  garment_knit: KnitReport;
  /** The knit of the strip or facing. */
  strip_knit: KnitReport;
  /** How the knit suits what the pattern asks; empty where it asks nothing. */
  suitability: Suitability[];
  /** What the fibre content tells, as common practice and never as a measurement. */
  fibre_notes: FibreNote[];
  /** What the finish is. */
  finish: FinishPlan;
  /** The strip, for a band, a facing strip or a bound edge. */
  strip?: StripPlan;
  /** The facing, where that is the finish. */
  facing?: FacingPlan;
  /** Where to clip the allowance, for a finish that is turned inside. */
  clips?: ClipPlan;
  /** What to stay. */
  stays: StayPlan;
  /** Whether the head passes. */
  opening: OpeningPlan;
  /** The order of work, from washing to the last pressing. */
  order: SewingStep[];
  /** What was taken for granted because the brief does not say it. */
  assumptions: Assumption[];
  /** For each figure: the rule, the numbers put in, the result, the source. */
  working: Step[];
}

/** The seam line, by halves and whole. */
export interface SeamLine {
  /** Centre front to neck point. */
  front: HalfLine;
  /** Centre back to neck point. */
  back: HalfLine;
  /** Both halves of front and back: the whole round. mm. */
  whole_length_mm: number;
  /** Turning of the whole round, front and back laid flat and joined at the shoulders, less points. Degrees. */
  whole_turning_deg: number;
  /** Turning at each neck point, where front and back meet. Degrees; 0 where they meet square to the shoulder. */
  neck_point_turning_deg: number;
}

/** One half's lines. */
export interface HalfLine {
  /** Length of the cut edge as it is drawn: without the loops of an edge set back further than its radius. mm. */
  cut_edge_length_mm: number;
  /** Length of the seam line. mm. */
  length_mm: number;
  /** Turning of the seam line. Degrees. */
  turning_deg: number;
  /** The opening's half width at the seam line, from the finished centre line to the neck point. mm. */
  half_width_mm: number;
  /** The opening's depth at the seam line. mm. */
  depth_mm: number;
  /** The tightest radius that curves round the opening; none on a straight line. mm. */
  tightest_radius_mm?: number;
  /** Half the angle of a point at the centre; none where the line crosses the centre smoothly. Degrees. */
  point_half_angle_deg?: number;
  /** Where the finished centre line stands in the half's own frame: x there is read as the brief's outline is, from the centre's edge as cut or from its seam line, so that this is a centre seam's allowance where readings are of the cut edge, and 0 on a fold or where they are of the seam line. mm. */
  centre_line_x_mm: number;
  /** The cut edge in the half's own frame (x outward, y down from the neck point): points, centre first. mm. */
  cut_edge: [number, number][];
  /** The seam line in the same frame. mm. */
  seam_line: [number, number][];
  /** The shoulder's direction from the neck point: a unit vector in the same frame. */
  shoulder_direction: [number, number];
}

/** A knit as worked out. */
export interface KnitReport {
  /** Crosswise stretch. Percent. */
  crosswise_percent: number;
  /** Lengthwise stretch. Percent. */
  lengthwise_percent: number;
  /** Stretch at 45 degrees. Percent. */
  diagonal_percent: number;
  /** Share of the crosswise stretch given back. Percent. */
  recovery_percent: number;
  /** Growth after release, of the length at rest, where a reading tells. Percent. */
  growth_percent?: number;
  /** Turn of cloth. mm. */
  turn_of_cloth_mm: number;
  /** What the recovery means. */
  recovery: RecoveryVerdict;
  /** Whether pieces may be cut with their wales running across: stretch alike both ways. */
  turns_on_the_other_grain: boolean;
  /** Its class by crosswise stretch. */
  class: KnitClass;
}

/** What a recovery means for an edge under strain. */
export type RecoveryVerdict =
  /** 90 percent or more comes back. */
  | 'good'
  /** 75 to 90 percent. */
  | 'fair'
  /** Less: an edge under strain grows. */
  | 'poor'
  /** No reading. */
  | 'not_read';

/** Classes of knits by crosswise stretch: under 18 percent, 18, 25, 50 and 100 percent. Source: H. J. Armstrong, 'Patternmaking for Fashion Design', chapter on knits (numbers from memory). */
export type KnitClass =
  /** Under 18 percent: hardly a stretch knit. */
  | 'rigid'
  /** 18 to 25 percent. */
  | 'stable'
  /** 25 to 50 percent. */
  | 'moderate'
  /** 50 to 100 percent. */
  | 'stretchy'
  /** 100 percent and more: super-stretch knits and ribs. */
  | 'super_stretch';

/** How a knit suits what the pattern asks one way. */
export interface Suitability {
  /** Which way. */
  direction: Direction;
  /** What the pattern asks. Percent. */
  asked_percent: number;
  /** What the knit has. Percent. */
  has_percent: number;
  /** Whether it is enough. */
  suits: boolean;
  /** How far it falls short, in percent points; 0 where it is enough. */
  short_by_points: number;
  /** Whether it would be enough with the pieces' wales running across. */
  suits_turned: boolean;
}

/** What a fibre content tells: common practice, no published source. */
export type FibreNote =
  /** No elastane: the knit's structure alone brings an edge back; a rib does, a plain jersey less so. */
  | 'no_elastane'
  /** Under 8 percent: rayon, bamboo and modal jerseys with about 5 percent tend to grow. */
  | 'little_elastane'
  /** 8 percent and more: recovers better. */
  | 'ample_elastane'
  /** The released reading contradicts what the elastane would lead one to expect: trust the reading. */
  | 'reading_says_poor';

/** What the finish is, told alike for all of them. */
export interface FinishPlan {
  /** Which it is. */
  kind: FinishKind;
  /** Where it comes to lie. */
  side: Side;
  /** Whether it is cut in shaped pieces; else it is a straight strip. */
  shaped: boolean;
  /** Finished width as the brief asks it. mm. */
  width_mm: number;
  /** Of how many layers it is. */
  layers: Layers;
  /** Turned under at its free or outer edge; 0 where that is folded, raw or overlocked. mm. */
  turned_under_mm: number;
  /** Allowance of the join of a strip's ends; none of a facing. mm. */
  join_allowance_mm?: number;
}

/** The kinds of finish, by the names that they have in a brief. */
export type FinishKind =
  /** A stretched band that stands toward the neck. */
  | 'band'
  /** A facing strip, turned inside onto the garment. */
  | 'tape'
  /** Shaped pieces turned inside and understitched. */
  | 'facing'
  /** A strip wrapped round the raw edge. */
  | 'bound';

/** Where a finish comes to lie. */
export type Side =
  /** On from the seam line toward the neck. */
  | 'toward_neck'
  /** Inside the garment, turned there with the allowance, which is understitched to it. */
  | 'inside'
  /** Round the garment's edge, which is first trimmed to the seam line. */
  | 'around_edge';

/** A band's, a facing strip's or a bound edge's strip. */
export interface StripPlan {
  /** How many strips to cut: 2 where front and back both have a point, else 1. */
  pieces: number;
  /** Length to cut each, joins and ends included. */
  cut_length: Figure;
  /** Width to cut, folds and allowances included. */
  cut_width: Figure;
  /** How the strip narrows once it is sewn, and the finished width that is cut for it. */
  narrowing: Narrowing;
  /** The lines along it, by their distance from the raw edge that is sewn. */
  rows: StripRows;
  /** Relaxed length along the whole seam line, without joins and ends. mm. */
  relaxed_length_mm: number;
  /** Relaxed length over seam line. Percent. */
  ratio_percent: number;
  /** Whether the maker's own ratio was used. */
  own_ratio: boolean;
  /** Strain the free edge keeps (a facing strip: its seam edge), by the rule or learned from records. Percent. */
  hold_percent: number;
  /** A band or a bound edge: the strain its free edge keeps on a straight run; between the two where the line bends little. Percent. */
  straight_hold_percent?: number;
  /** Where records of this knit in this finish were used: what they say. */
  learned?: LearnedHold;
  /** The length that the held edge takes up: where the strip's free edge lies (a facing strip: its seam edge), its straight runs told as long as they would be with the whole hold. Relaxed length, where no limit adds to it, times (1 + hold). mm. */
  held_line_mm: number;
  /** The most an edge may stay stretched. Percent. */
  comfort_percent: number;
  /** What is added at each of the two ends, past the relaxed length. mm. */
  end_extra_mm: number;
  /** How the ends meet, at centre front where the front has a point, else at centre back. */
  ends: Ends;
  /** How the ends at centre back meet, where front and back both have a point. */
  back_ends?: Ends;
  /** Where the strip's ends meet: `centre_back` or `centre_front`. */
  join_at: MarkPlace;
  /** A bound edge: the line the strip is sewn on. */
  stitch_line?: StitchLine;
  /** A bound edge: what is first trimmed off the cut edge, down to the finished edge. mm. */
  trim_mm?: number;
  /** A facing strip: from the seam to the topstitching that holds its free edge down. mm. */
  topstitch_mm?: number;
  /** Marks, in order along one half from centre back to centre front. */
  marks: Mark[];
  /** The spans between neighbouring marks. */
  spans: Span[];
  /** The worst outcome of all spans. */
  outcome: Outcome;
  /** What it does in front, at the neck points and at the back. */
  parts: PartLies[];
  /** The widest finished width that passes all along; none where none from 3 mm up does, and in a plan without ranges. mm. */
  widest_mm?: number;
  /** What would come of an even spread over the whole strip, as by quartering. */
  quartered: Quartered;
  /** What would cure a strip that does not pass, best first; nothing in a plan without ranges. */
  cures: Cure[];
  /** A facing strip: how far its understitching stops short of each point and corner; none where there is none. mm. */
  understitch_stops_mm?: number;
}

/** A cut figure: exact, rounded to what can be cut, with its range. */
export interface Figure {
  /** As worked out. mm. */
  exact_mm: number;
  /** Rounded to what can be cut, within the range: to the nearest step of the brief's rounding; where that lies outside the range, to the next step on the other side; where that does too, to half steps (1/2 mm, 1/16 or 1/32 in) in the same way. A range that no half step lies in is surer than anyone cuts: then this is the nearest half step, outside the range by less than a quarter of a step. Without ranges it is the nearest step. mm. */
  cut_mm: number;
  /** Low end of the range that the readings leave. mm. */
  low_mm: number;
  /** High end. mm. */
  high_mm: number;
  /** The reading that matters most: its field in the brief. */
  most_from?: string;
}

/** How a strip narrows, and what is cut wider for it. */
export interface Narrowing {
  /** Poisson's ratio along the strip. */
  poisson_ratio: number;
  /** Where that comes from. */
  from: NarrowingFrom;
  /** Where records of widths as sewn were used: how many. */
  records?: number;
  /** The strip's mean stretch once sewn. Percent. */
  stretch_percent: number;
  /** The finished width as cut, at rest: what the cut width is made of. mm. */
  width_at_rest_mm: number;
  /** The finished width as sewn: what the brief asks. mm. */
  width_as_sewn_mm: number;
  /** The width that such a strip would have as sewn did its knit not narrow at all: for a record of what it came to. mm. */
  width_unnarrowed_mm: number;
}

/** Where a Poisson's ratio comes from. */
export type NarrowingFrom =
  /** The brief says it. */
  | 'given'
  /** A swatch's width, stretched and at rest. */
  | 'read'
  /** Taken by kind of knit, on thin evidence. */
  | 'taken'
  /** Records of strips' widths as sewn, and one of the others. */
  | 'learned';

/** The lines along a strip, each by its distance from the raw edge that is sewn first, across the strip as it is cut. */
export interface StripRows {
  /** The lines it is sewn along: one, or of a folded strip two that come to lie on each other. mm. */
  seams_mm: number[];
  /** The fold along a folded strip, or the line its free edge is turned under on; none where there is neither. mm. */
  fold_mm?: number;
  /** Where its free edge comes to lie once it is sewn: of a bound edge the finished edge that it goes round. mm. */
  free_edge_mm: number;
}

/** A hold learned from how strips of this knit came out in this finish. */
export interface LearnedHold {
  /** How many records were used. */
  records: number;
  /** The mean of the holds they tell. Percent. */
  mean_percent: number;
  /** What the rule alone says. Percent. */
  usual_percent: number;
  /** The low end of the learned hold's range: two standard deviations. Percent. */
  low_percent: number;
  /** The high end. Percent. */
  high_percent: number;
}

/** How a strip's ends meet. */
export type Ends =
  /** Joined into a ring, the join at centre back. */
  | 'ring'
  /** Mitred at the point. */
  | { mitre: { angle_deg: number; free_edge_shorter_mm: number }; lap?: undefined; overhang?: undefined }
  /** One end over the other at the point. */
  | { lap: { lap_width_mm: number; free_edge_shorter_mm: number }; mitre?: undefined; overhang?: undefined }
  /** Open ends that run past the point and are caught in the centre seam. */
  | { overhang: { overhang_mm: number }; mitre?: undefined; lap?: undefined };

/** The places marks stand at. */
export type MarkPlace =
  /** Centre back. */
  | 'centre_back'
  /** Neck point. */
  | 'neck_point'
  /** Centre front. */
  | 'centre_front'
  /** In between, where an even spread would be off. */
  | 'between';

/** The line that a bound edge's strip is sewn on, a finished width below the finished edge. */
export interface StitchLine {
  /** All round. mm. */
  length_mm: number;
  /** The front half in its own frame. mm. */
  front: [number, number][];
  /** The back half in its own frame. mm. */
  back: [number, number][];
}

/** A mark on the strip and its twin on the seam line. */
export interface Mark {
  /** Where. */
  place: MarkPlace;
  /** Which of those in between it is, counted from centre back from 1 on; none where its place has a name. */
  number?: number;
  /** Along the relaxed strip from centre back. mm. */
  on_strip_mm: number;
  /** Along the line it is sewn on from centre back: the seam line, or a bound edge's stitch line. mm. */
  on_seam_line_mm: number;
}

/** The stretch of seam line between two neighbouring marks, with the strip spread evenly along it. */
export interface Span {
  /** Its end nearer centre back. */
  from: MarkPlace;
  /** Its end nearer centre front. */
  to: MarkPlace;
  /** Length of seam line. mm. */
  seam_line_mm: number;
  /** Relaxed length of strip. mm. */
  strip_mm: number;
  /** Relaxed strip over seam line. Percent. */
  ratio_percent: number;
  /** Least strain of the free edge in the span, were it held in the plane. Percent; under 0 it is pressed together. */
  free_edge_least_percent: number;
  /** Greatest strain of the free edge in the span. Percent. */
  free_edge_most_percent: number;
  /** Strain of the seam edge. Percent. */
  seam_edge_percent: number;
  /** How far the free edge can be pressed together before it ripples or stands up. Percent. */
  ripples_from_percent: number;
  /** The line's sharpest bend over six widths, as width over radius; from 0.3 on the reckoning is not trusted. */
  bend: number;
  /** Whether the reckoning is trusted at such a bend. */
  trusted: boolean;
  /** Finished width as sewn. mm. */
  width_mm: number;
  /** What the strip does there. */
  outcome: Outcome;
  /** How high the free edge stands off the flat at its worst place: the crest of its ripples, or its end where the strip stands up. mm. */
  stands_off_mm: number;
  /** Where the strip stands up: how far it leans off the flat at its worst place. Degrees. */
  leans_deg?: number;
  /** Slack length in the free edge over the span. mm. */
  slack_mm: number;
}

/** What a strip does along a span. */
export type Outcome =
  /** The free edge lies in the plane of the garment and nothing is over-stretched. */
  | 'lies_flat'
  /** The free edge ripples, no higher than passes. */
  | 'ripples'
  /** The strip stands up, no further than passes. */
  | 'stands'
  /** It ripples or stands up further than passes. */
  | 'gapes'
  /** An edge is stretched past its comfortable share. */
  | 'pulls_in';

/** What the strip does in a part of the half round, at its worst place there. */
export interface PartLies {
  /** Which part. */
  part: StripPart;
  /** What the strip does there. */
  outcome: Outcome;
  /** How high the free edge stands off the flat. mm. */
  stands_off_mm: number;
  /** Where the strip stands up: how far it leans off the flat. Degrees. */
  leans_deg?: number;
  /** Whether the line bends nowhere there too sharply for the reckoning to be trusted. */
  trusted: boolean;
  /** By how much a band's pull draws the garment's edge in there, an estimate; none where it is stayed, where the line bends to less than 0.15 as width over radius in the mean, where it is under 1, and with any other finish. Percent of its length. */
  drawn_in_percent?: number;
}

/** A part of a half round, as its strip's lie is told. */
export type StripPart =
  /** From the neck points' part to centre front. */
  | 'front'
  /** A third of the front half and a third of the back half, from the neck point on. */
  | 'neck_points'
  /** From centre back to the neck points' part. */
  | 'back';

/** What quartering comes to: strip and line each divided into even parts from centre back. */
export interface Quartered {
  /** How far it would be off at its worst place. mm. */
  error_mm: number;
  /** What the strip would do at its worst place. */
  outcome: Outcome;
  /** How high the free edge would stand off the flat at its worst place. mm. */
  stands_off_mm: number;
  /** Where the strip would stand up: how far it would lean at its worst place. Degrees. */
  leans_deg?: number;
  /** Least strain of the free edge, were it held in the plane. Percent; under 0 it is pressed together. */
  free_edge_least_percent: number;
}

/** What would cure a strip that does not pass. */
export type Cure =
  /** A narrower strip: at most this finished width. mm. */
  | { narrower: number; stretchier?: undefined; other_direction?: undefined }
  /** A stretchier strip: at least this stretch in its length. Percent. */
  | { stretchier: number; narrower?: undefined; other_direction?: undefined }
  /** The rule instead of the maker's ratio. */
  | 'use_the_rule'
  /** The strip cut with its length another way in its knit. */
  | { other_direction: Direction; narrower?: undefined; stretchier?: undefined }
  /** A shaped facing. */
  | 'facing';

/** A facing. */
export interface FacingPlan {
  /** The front piece, by half. */
  front: FacingPiece;
  /** The back piece, by half. */
  back: FacingPiece;
  /** Cut width from raw neck edge to raw outer edge. */
  cut_width: Figure;
  /** How far the seam rolls inside when it is pressed: the turn of cloth. The neck edge itself is cut like the garment's edge, as long as that, so that neither is eased. mm. */
  favour_mm: number;
  /** What the facing is interfaced with. */
  interfacing: Interfacing;
  /** Understitching all round, as far as it is sewn. mm. */
  understitch_length_mm: number;
  /** From the seam to the understitching. mm. */
  understitch_distance_mm: number;
  /** How far it stops short of each point and corner; none where there is none. mm. */
  understitch_stops_mm?: number;
  /** Topstitching all round, where it is asked: through garment and facing, so measured from the garment's seam line. mm. */
  topstitch_length_mm?: number;
}

/** Half a facing piece. */
export interface FacingPiece {
  /** Finished length of its seam edge. mm. */
  seam_edge: Figure;
  /** Finished length of its outer edge. mm. */
  outer_edge: Figure;
  /** The outer edge in the half's frame. mm. */
  outer_line: [number, number][];
  /** The seam edge in the half's frame. mm. */
  seam_line: [number, number][];
  /** Whether the centre is cut on a fold. */
  on_fold: boolean;
  /** The half piece as cut, allowances included: a closed path, its last point not repeated. mm. */
  cut_outline: [number, number][];
  /** The half piece within its seams: a closed path, its last point not repeated. mm. */
  sewn_outline: [number, number][];
  /** Where it is understitched, run by run from the centre: it stops short of points and corners. mm. */
  understitch_lines: [number, number][][];
  /** Where garment and facing are topstitched, where that is asked, beside the garment's seam line. mm. */
  topstitch_line?: [number, number][];
  /** Notches in the neck edge: one on the front, two on the back, and one at a fold. */
  notches: Notch[];
  /** Clips in the neckline allowance: those of the garment, which is clipped with it. */
  clips: ClipLine[];
  /** Where a wide neckline allowance is trimmed before it is clipped; empty where it is not. mm. */
  trimmed_line?: [number, number][];
  /** The stretch arrow, crosswise, within the piece. */
  arrow: Cut;
}

/** A notch: where it is cut, which way, and its twins. */
export interface Notch {
  /** On the cut edge, in the half's frame. mm. */
  at: [number, number];
  /** A point on the seam edge that it runs toward. mm. */
  toward: [number, number];
  /** Its place along the piece's seam edge from the centre. mm. */
  on_piece_mm: number;
  /** Its twin's place along the garment's seam line from the centre. mm. */
  on_seam_line_mm: number;
}

/** A clip in the garment's neckline allowance. */
export interface ClipLine {
  /** In which half. */
  half: HalfName;
  /** What it opens. */
  kind: ClipKind;
  /** On the raw edge, trimmed where it is to be. mm. */
  from: [number, number];
  /** Short of the stitching. mm. */
  to: [number, number];
}

/** Front or back. */
export type HalfName =
  /** The front half. */
  | 'front'
  /** The back half. */
  | 'back';

/** What a clip opens. */
export type ClipKind =
  /** The point of a V, at its centre. */
  | 'point'
  /** An inner corner. */
  | 'corner'
  /** Part of a curve. */
  | 'curve';

/** A short straight cut or line in a half's frame. mm. */
export interface Cut {
  /** One end. */
  from: [number, number];
  /** The other. */
  to: [number, number];
}

/** What a facing is interfaced with. */
export type Interfacing =
  /** Fusible knit interfacing, which steadies a knit and still gives with it: common practice, no published source. */
  | 'fusible_knit';

/** Where to clip. */
export interface ClipPlan {
  /** What a wide allowance is trimmed to before it is clipped, where it is to be. mm. */
  trim_to_mm?: number;
  /** The trimmed edge of the front in its own frame; empty where nothing is trimmed. mm. */
  trimmed_front?: [number, number][];
  /** The trimmed edge of the back. mm. */
  trimmed_back?: [number, number][];
  /** How far the raw edge must open in all along its curves, once turned. mm. */
  opens_mm: number;
  /** What the knit gives of that by itself, where it is not stayed. mm. */
  knit_gives_mm: number;
  /** Clips along a curve are at least this far apart. mm. */
  least_apart_mm: number;
  /** Clips on one half, as places along the seam line from centre back. mm. */
  places_mm: number[];
  /** Clips all round. */
  count: number;
  /** Those of them that go into a point or a corner. */
  into_corners: number;
  /** The clips of one half, in the same order, as lines in the halves' own frames: from the raw edge to just short of the stitching. */
  lines: ClipLine[];
}

/** What to stay. */
export interface StayPlan {
  /** Parts to stay. */
  zones: StayZone[];
  /** Parts that would gain by staying but were given up so that the head passes, first given up first. */
  given_up: GivenUp[];
  /** Named edges that are stable by themselves and want no stay. */
  stable: StableEdge[];
  /** Stay tape in all, of every zone whose length is known and where a stay tape fits. mm. */
  total_tape_mm: number;
}

/** One part to stay. */
export interface StayZone {
  /** Which part; its twin on the other side is included in the stay tape's length. */
  part: Part;
  /** The person's own name for it. */
  name?: string;
  /** Why. */
  reason: StayReason;
  /** The knit's mean stretch in the seam's own direction. Percent. */
  stretch_percent: number;
  /** Start along the half seam line from centre back; none for shoulders. mm. */
  from_mm?: number;
  /** End along the half seam line from centre back; none for shoulders. mm. */
  to_mm?: number;
  /** Length of each piece of stay tape, along the seam line and with what a mitre takes up (of each row of stitching where no stay tape fits); none where the seam's length is not known. mm. */
  tape_each_mm?: number;
  /** How many such pieces. */
  pieces: number;
  /** Which edge the stay tape's place is measured from. */
  measured_from: MeasuredFrom;
  /** From that edge to the stay tape's nearer side. mm. */
  from_edge_mm: number;
  /** Width of the stay tape that is laid: the brief's, on a bound edge no wider than lies within the binding. mm. */
  tape_width_mm: number;
  /** How far the stay tape reaches past the line of stitching, toward the garment; negative where the stitching runs outside the stay tape. mm. */
  past_stitching_mm: number;
  /** The widest stay tape that fits: on a seam it lies on the allowance and reaches past the seam line by the catch, on a bound edge it lies within the stitching. mm. */
  widest_tape_mm: number;
  /** Whether the brief's stay tape fits. */
  fit: TapeFit;
  /** How the stay tape lies at the centre; none where it does not come there. */
  at_centre?: TapeAtCentre;
  /** Whether the curve is so tight that the stay tape needs snips or must be cut on the bias. */
  snip_or_bias: boolean;
  /** Snips in each piece of a straight stay tape that let it lie along the curve, made only where the line is curved; 0 where it lies by itself. */
  snips: number;
  /** Gathered sections: length before over length after. */
  gathering_ratio?: number;
  /** The zone along the seam line, in the half's own frame. mm. */
  line: [number, number][];
  /** The tape as it is laid, closed, in the half's own frame; at the centre it is cut or folded on the centre line. None for shoulders and named edges. mm. */
  outline: [number, number][];
}

/** The parts that can be stayed. */
export type Part =
  /** Both shoulder seams. */
  | 'shoulders'
  /** The back neckline. */
  | 'back_neckline'
  /** The legs of a V, or the sides of another front neckline. */
  | 'front_sides'
  /** The lowest part of the front neckline, where it runs crosswise, or the point of a V. */
  | 'front_centre'
  /** A seam at centre front. */
  | 'centre_front_seam'
  /** A seam at centre back. */
  | 'centre_back_seam'
  /** A gathered section. */
  | 'gathered'
  /** Another edge that the person names. */
  | 'other';

/** Why a part is stayed. */
export type StayReason =
  /** Shoulders carry the garment. */
  | 'carries_the_garment'
  /** The finish wants a stable edge and the knit stretches along the seam there. */
  | 'stable_edge'
  /** A point is pulled open from both sides. */
  | 'point'
  /** The knit recovers poorly, and an edge left live would grow. */
  | 'poor_recovery'
  /** The edge receives gathers, whose weight would draw it out. */
  | 'gathers';

/** The edge that a tape's place is measured from. */
export type MeasuredFrom =
  /** The piece's edge as it is cut. */
  | 'raw_edge'
  /** The edge that is left once a bound neckline is trimmed to its seam line, which is done before it is stayed. */
  | 'trimmed_edge';

/** Whether the brief's stay tape fits where it is laid. */
export type TapeFit =
  /** It does. */
  | 'fits'
  /** It is wider than fits. On a seam it lies at the raw edge and reaches further past the seam line than it should; on a bound edge one as wide as fits is taken in its place. */
  | 'too_wide'
  /** The binding covers less than the narrowest tape (3 mm: from memory): a row of straight stitching within it stays the edge instead. Staystitching a neckline from shoulder to centre is published (an N.C. extension leaflet on tailoring); in place of tape, our judgement. */
  | 'none_fits';

/** How a tape lies at the centre. No published source: our judgement. */
export type TapeAtCentre =
  /** One piece runs on through a fold. */
  | 'runs_through'
  /** One piece, folded into a mitre at the point of a V on the fold: a point is pulled open from both sides, and two ends that meet there would hold it least where it is pulled most. */
  | 'mitred'
  /** Two pieces, each ending at the line of a centre seam: the pieces are stayed flat, before that seam is sewn. */
  | 'ends_at_seam';

/** A part that would gain by staying but was given up so that the head passes. */
export interface GivenUp {
  /** Which. */
  part: Part;
  /** The knit's mean stretch in the seam's own direction. Percent. */
  stretch_percent: number;
  /** Length left live, both sides. mm. */
  length_mm: number;
  /** What giving it up adds to the greatest girth of the seam line. mm. */
  gains_mm: number;
}

/** A named edge that is stable by itself. */
export interface StableEdge {
  /** The person's name for it. */
  name: string;
  /** The knit's stretch along it. Percent. */
  stretch_percent: number;
}

/** Whether the head passes. */
export interface OpeningPlan {
  /** The head's girth. mm. */
  head_girth_mm: number;
  /** Where the girth comes from. */
  head_source: Source;
  /** The middle head of the same group: half of all are larger; none for a person's own measure. mm. */
  typical_head_mm?: number;
  /** Ease over it. mm. */
  margin_mm: number;
  /** How much of the knit's stretch is used while the head passes. Percent. */
  pull_share_percent: number;
  /** The greatest girth of the garment's seam line, stayed parts unstretched. mm. */
  seam_line_girth_mm: number;
  /** The greatest girth of the seam with the finish sewn to it: each piece as far as the shorter of the two reaches. mm. */
  sewn_girth_mm: number;
  /** The greatest girth of the strip where it is shortest across its width: at the free edge of a mitred or lapped band, else the same all across; none for a facing. mm. */
  strip_girth_mm?: number;
  /** The smallest of them. mm. */
  smallest_girth_mm: number;
  /** How far the smallest would reach with all of the stretch used. mm. */
  full_stretch_girth_mm: number;
  /** Whether it is at least the head's girth and the margin. */
  passes: boolean;
  /** How much there is over the girth and margin; negative where it falls short. mm. */
  spare_mm: number;
  /** The stitch's own extension. Percent. */
  stitch_extension_percent: number;
  /** Where that comes from. */
  stitch_source: Source;
  /** Where the stitch would break before the knit is stretched so far, and always for a straight stitch: what would serve. */
  stitch_advice?: StitchAdvice;
  /** What would let the head pass where it does not, best first; empty where it passes, and in a plan without ranges. */
  remedies?: Remedy[];
}

/** What a rule or a value rests on. */
export type Source =
  /** Steiner's formula for parallel curves. */
  | 'steiner'
  /** Plain arithmetic or elementary geometry of the parts. */
  | 'geometry'
  /** Our rule, from the geometry of a strip along a curve. */
  | 'own_rule'
  /** Our rule, held against a plane model of cloth. */
  | 'plane_model'
  /** A ring on a hole in a sheet, by a plane model. */
  | 'sheet_model'
  /** A plate strip's buckling. */
  | 'plate_model'
  /** Our rule, held against a thin shell in three dimensions. */
  | 'shell_model'
  /** A swatch's width in the stretch test. */
  | 'swatch_width'
  /** Poisson's ratios of hand-knit swatches. */
  | 'knit_swatches'
  /** Our judgement. */
  | 'judgement'
  /** A rule of the trade. */
  | 'common_practice'
  /** Stays before an edge is handled. */
  | 'stays_first'
  /** A value from memory. */
  | 'memory'
  /** How near clips stand along a curve. */
  | 'clipped_curves'
  /** What a wide allowance is trimmed to. */
  | 'trimmed_seams'
  /** The maker's own ratio. */
  | 'own_ratio'
  /** Our rule, from the maker's own records. */
  | 'own_records'
  /** A photo handbook's chapter on ribbed edges. */
  | 'ribbed_edges'
  /** Elongation of the stretch standards. */
  | 'elongation'
  /** Growth of the stretch standards. */
  | 'growth'
  /** Stretch off the axes of orthotropic cloth. */
  | 'orthotropic'
  /** Independent readings: the root of the sum of squares. */
  | 'sum_of_squares'
  /** The person's own measure. */
  | 'own_measure'
  /** Adults' heads. */
  | 'ansur'
  /** Children's heads. */
  | 'who'
  /** Lockstitch extension. */
  | 'lockstitch_from_memory'
  /** A zigzag's own geometry. */
  | 'zigzag_geometry'
  /** Overedge extension. */
  | 'overedge_from_memory';

/** A stitch that gives as much as the seam is stretched: an overlock stitch, or a zigzag of this size. */
export interface StitchAdvice {
  /** How far the live part of the seam that stretches most is stretched while the head passes. Percent. */
  seam_asks_percent: number;
  /** The zigzag's stitch width. mm. */
  zigzag_width_mm: number;
  /** Its greatest stitch length. mm. */
  zigzag_length_mm: number;
}

/** What would let a head pass that does not. */
export type Remedy =
  /** An envelope shoulder, the front and back overlapping there: for children's tops. */
  | 'envelope_shoulder'
  /** A larger neck: the seam line cut this much lower all round. */
  | { larger_neck: { by_mm: number; seam_line_mm: number; stayed: boolean }; narrower?: undefined; stretchier?: undefined; other_direction?: undefined; shoulder_opening?: undefined; placket?: undefined }
  /** A narrower strip: at most this finished width. mm. */
  | { narrower: number; larger_neck?: undefined; stretchier?: undefined; other_direction?: undefined; shoulder_opening?: undefined; placket?: undefined }
  /** A stretchier strip: at least this stretch in its length. Percent. */
  | { stretchier: number; larger_neck?: undefined; narrower?: undefined; other_direction?: undefined; shoulder_opening?: undefined; placket?: undefined }
  /** The strip cut with its length another way in its knit. */
  | { other_direction: Direction; larger_neck?: undefined; narrower?: undefined; stretchier?: undefined; shoulder_opening?: undefined; placket?: undefined }
  /** A stitch that gives more. */
  | 'another_stitch'
  /** An opening in a shoulder seam, closed by a button or the like, at least this long. mm. */
  | { shoulder_opening: number; larger_neck?: undefined; narrower?: undefined; stretchier?: undefined; other_direction?: undefined; placket?: undefined }
  /** A placket or slit from the neckline down, at least this long. mm. */
  | { placket: number; larger_neck?: undefined; narrower?: undefined; stretchier?: undefined; other_direction?: undefined; shoulder_opening?: undefined };

/** One step of the work; its figures stand beside its other fields. */
export interface SewingStep {
  /** What is done. */
  step: StepCode;
  /** What its place in the order rests on. */
  source: Source;
  /** How many pieces to cut, or clips to make. */
  count?: number;
  /** How a strip's length runs in its knit. */
  direction?: Direction;
  /** Which centre it is about. */
  at?: MarkPlace;
  /** The strip's marks are to be made, each where this field of it says. */
  places?: MarkField;
  /** Parts to stay, by their index in the stays' zones; none where it is absent. */
  zones?: number[];
  /** What to take care of, said once each, where it first comes up; nothing where it is absent. */
  cautions?: Caution[];
  length_mm?: number;
  width_mm?: number;
  allowance_mm?: number;
  distance_mm?: number;
  by_mm?: number;
  over_mm?: number;
  shorter_mm?: number;
  angle_deg?: number;
}

/** The steps, in the order in which they can come. */
export type StepCode =
  /** Wash and dry everything as the garment will be. */
  | 'wash'
  /** Sew a sample from scraps. */
  | 'sample'
  /** Cut the strip or strips. */
  | 'cut_strip'
  /** Cut the facing's pieces. */
  | 'cut_facing'
  /** Interface the facing. */
  | 'interface_facing'
  /** Trim the garment's edge to be bound down to the finished edge. */
  | 'trim_edge'
  /** Lay the stays. */
  | 'stay'
  /** Sew the garment's seam at a centre. */
  | 'centre_seam'
  /** Leave the garment's seam at a centre open, until the ends of the strip are caught in it. */
  | 'leave_centre_open'
  /** Sew the garment's shoulder seams. */
  | 'shoulders'
  /** Join the facing's halves at a centre. */
  | 'facing_centre'
  /** Join the facing at the shoulders. */
  | 'facing_shoulders'
  /** Turn the facing's outer edge under and stitch it. */
  | 'facing_edge_under'
  /** Overlock the facing's outer edge. */
  | 'facing_edge_flat'
  /** Join the strip's ends into a ring. */
  | 'ring'
  /** Mitre the strip's ends. */
  | 'mitre'
  /** A free edge that is not turned under is left raw or overlocked. */
  | 'free_edge'
  /** Press the free edge under. */
  | 'free_edge_under'
  /** Fold the strip along its length. */
  | 'fold'
  /** Mark the strip. */
  | 'mark_strip'
  /** Mark the neckline. */
  | 'mark_neckline'
  /** Match the facing's notches with the garment. */
  | 'match_facing'
  /** Clip into points and corners, so that they spread while a strip is set along them. */
  | 'clip_corners'
  /** Set the band. */
  | 'sew_band'
  /** Set a band whose ends lap: the last of it stays open. */
  | 'sew_lapped'
  /** Lap the ends and close the rest of the seam. */
  | 'lap'
  /** Set the strip that is turned inside. */
  | 'sew_tape'
  /** Set the strip of a bound edge. */
  | 'sew_bound'
  /** Set the facing. */
  | 'sew_facing'
  /** Trim the sewn allowance. */
  | 'trim_allowance'
  /** Clip the allowance so that it turns. */
  | 'clip'
  /** Mark where understitching stops short of points and corners. */
  | 'mark_stops'
  /** Understitch the strip. */
  | 'understitch_strip'
  /** Understitch the facing. */
  | 'understitch_facing'
  /** Press the band's allowances toward the garment. */
  | 'press_band'
  /** Turn the strip inside. */
  | 'turn_strip'
  /** Turn the facing inside. */
  | 'turn_facing'
  /** Wrap a bound edge's strip round the edge. */
  | 'wrap'
  /** Sew the centre seam and catch the strip's ends in it. */
  | 'catch_ends'
  /** Cross the strip's ends on the fold and stitch them down. */
  | 'cross_ends'
  /** Topstitch a band's allowances, if liked. */
  | 'topstitch_band'
  /** Topstitch the strip's free edge down. */
  | 'topstitch_strip'
  /** Topstitch a bound edge through its inner edge. */
  | 'topstitch_bound'
  /** Topstitch the facing. */
  | 'topstitch_facing'
  /** Tack the facing to the shoulder seams' allowances. */
  | 'tack_facing'
  /** Press the whole neckline and let it rest. */
  | 'press';

/** A field of the strip's marks. */
export type MarkField =
  /** Along the relaxed strip. */
  | 'on_strip_mm'
  /** Along the line it is sewn on. */
  | 'on_seam_line_mm';

/** What to take care of. */
export type Caution =
  /** Blades. */
  | 'blade'
  /** A hot iron and steam. */
  | 'iron'
  /** Ends of stay tape that must not hang loose. */
  | 'ends'
  /** A child's neckline. */
  | 'child';

/** Something taken for granted. */
export interface Assumption {
  /** What. */
  code: AssumptionCode;
}

/** What can be taken for granted. */
export type AssumptionCode =
  /** Lengths have no shape: the chosen shape was fitted to them, and the range holds what that may cost. */
  | 'shape'
  /** The finish is cut from the garment's own knit. */
  | 'same_knit'
  /** The recovery of the knit of the finish was not read: 90 percent is taken. */
  | 'recovery'
  /** The garment's lengthwise stretch was not read: half the crosswise is taken. */
  | 'lengthwise'
  /** The knit's thickness was not read: 0.8 mm is taken. */
  | 'thickness'
  /** The strip does not run where its knit stretches most. */
  | 'strip_direction'
  /** At the seam line front and back end too far apart to meet at the neck point. */
  | 'widths'
  /** The maker's own ratio was used in place of the rule. */
  | 'own_ratio'
  /** The hold comes from records of how this knit came out in this finish. */
  | 'learned_hold'
  /** Pieces are reckoned flat: cloth bends without changing its curves. */
  | 'flat';

/** One line of the working. */
export interface Step {
  /** Which figure, as its path in the plan. */
  figure: string;
  /** The rule; `Rule::formula` writes it with its symbols. */
  rule: Rule;
  /** The numbers put in. */
  inputs: Input[];
  /** What comes out. */
  result: number;
  /** The result's unit. */
  unit: Unit;
  /** What the rule rests on. */
  source: Source;
}

/** The rules a plan is worked out by. `Rule::formula` writes each with its symbols. */
export type Rule =
  /** A half's line moved to the garment side; trims at shoulder and centre are taken off. */
  | 'seam_line_half'
  /** From the direction at the centre to that at the neck point. */
  | 'turning'
  /** The opening's half width. */
  | 'half_width'
  /** The opening's depth. */
  | 'depth'
  /** The radius where the line bends most round the opening. */
  | 'tightest_radius'
  /** Both halves of front and back. */
  | 'seam_line_whole'
  /** Front and back laid flat and joined at the shoulders. */
  | 'turning_whole'
  /** The line a bound edge's strip is sewn on. */
  | 'stitch_line'
  /** A band or bound edge: relaxed length by the curve; what counts as straight has a hold of its own, and the limits' share is what clamping adds. */
  | 'strip_by_curve'
  /** A facing strip: relaxed length by the turn of cloth. */
  | 'strip_by_turn'
  /** Relaxed length by the maker's ratio. */
  | 'strip_by_ratio'
  /** Relaxed strip over the line it is sewn on. */
  | 'ratio'
  /** The strain a band's free edge keeps. */
  | 'band_hold'
  /** The strain a facing strip's seam edge keeps. */
  | 'tape_hold'
  /** The strain a band's free edge keeps on a straight run. */
  | 'straight_hold'
  /** The hold that records tell: each record's own, line / (strip - or + by) - 1, averaged. */
  | 'learned_mean'
  /** The rule's hold and the records', by their weights. */
  | 'learned_hold'
  /** The low end of a learned hold's range. */
  | 'learned_low'
  /** The high end of a learned hold's range. */
  | 'learned_high'
  /** The length that a strip's held edge takes up. */
  | 'held_line'
  /** The most an edge may stay stretched. */
  | 'comfort'
  /** A mark's place along the strip. */
  | 'mark_on_strip'
  /** A mark's place along the line it is sewn on, on the grid of n steps. */
  | 'mark_between'
  /** The neck point's place along the line it is sewn on. */
  | 'mark_at_neck_point'
  /** Centre front's place along the line it is sewn on. */
  | 'mark_at_centre_front'
  /** Strain of the free edge where it is least or most: what a place shares of each span, over how the strip is spread there. */
  | 'free_edge'
  /** Strain of the seam edge. */
  | 'seam_edge'
  /** The compression of the free edge from which a strip ripples: a plate strip with one edge held. */
  | 'ripples_from'
  /** A line's sharpest bend over a strip's width. */
  | 'bend'
  /** How far a band draws the garment's edge in: a stretched ring on the hole of a sheet. */
  | 'drawn_in'
  /** Slack in a free edge over the part that is pressed together. */
  | 'slack'
  /** The crest of a free edge's ripples. */
  | 'crest'
  /** How far a strip leans where it stands up, by the relation of a curve and the folded surface on it. */
  | 'leans'
  /** How high a leaning strip's free edge stands. */
  | 'stands_up'
  /** Poisson's ratio from a swatch's width and length, each over that at rest. */
  | 'poisson_read'
  /** Poisson's ratio learned from records, with the one without them. */
  | 'learned_poisson'
  /** A strip's mean stretch once sewn. */
  | 'mean_stretch'
  /** A strip's width as sewn, did its knit not narrow: what it widens on the inside of a curve. */
  | 'unnarrowed'
  /** The finished width at rest that comes to the width asked for once sewn. */
  | 'width_at_rest'
  /** A finished width as sewn along a span. */
  | 'width_as_sewn'
  /** The widest finished width that passes. */
  | 'widest'
  /** How far an even spread is off at its worst place. */
  | 'quartering_error'
  /** A join's allowance. */
  | 'end_join'
  /** A mitred end. */
  | 'end_mitre'
  /** A lapped end. */
  | 'end_lap'
  /** An open end of a facing strip past the point. */
  | 'end_overhang'
  /** Half the angle of the point. */
  | 'mitre_angle'
  /** How much shorter a mitred free edge is. */
  | 'mitre_shorter'
  /** Width of a lap along the other leg. */
  | 'lap_width'
  /** Length to cut each strip. */
  | 'cut_length'
  /** A folded band. */
  | 'cut_width_folded'
  /** A band of one layer. */
  | 'cut_width_single'
  /** A facing strip with what is turned under. */
  | 'cut_width_tape'
  /** A bound edge of one layer: allowance, outside, inside. */
  | 'cut_width_bound'
  /** A bound edge folded before it is sewn. */
  | 'cut_width_bound_folded'
  /** A facing from raw edge to raw edge. */
  | 'cut_width_facing'
  /** A line along a strip, from its other raw edge. */
  | 'row_from_far'
  /** The fold along the middle of a strip. */
  | 'row_middle'
  /** The finished edge that a bound edge's strip goes round. */
  | 'row_at_edge'
  /** Topstitching near a facing strip's free edge. */
  | 'tape_topstitch'
  /** Rounded to what can be cut. */
  | 'rounded'
  /** Rounded down, as the nearest step lies above the range. */
  | 'rounded_down'
  /** Rounded up, as the nearest step lies below the range. */
  | 'rounded_up'
  /** Each reading moved by its tolerance, the changes that lessen the figure joined. */
  | 'range_low'
  /** Each reading moved by its tolerance, the changes that add to the figure joined. */
  | 'range_high'
  /** A facing's edge, moved from the known line. */
  | 'facing_edge'
  /** Understitching all round, less what it stops short at points and corners. */
  | 'understitch'
  /** Topstitching all round. */
  | 'topstitch'
  /** A seam rolls inside by the turn of cloth. */
  | 'favour'
  /** What the raw edge must open where the line turns round the opening. */
  | 'clips_open'
  /** What the knit gives of that. */
  | 'clips_knit_gives'
  /** A clip on a centre line is one for both halves. */
  | 'clip_count'
  /** Mean stretch in the seam's direction over the zone: m4, n4, mn are the means of c^4, s^4 and s^2 c^2. */
  | 'stay_stretch'
  /** A stay tape along the seam line. */
  | 'stay_tape'
  /** A stay tape along the seam line that turns a point in a mitre: q is how far its side on the garment lies past the seam line. */
  | 'stay_mitre'
  /** From the raw edge to the stay tape. */
  | 'stay_place'
  /** The widest stay tape that fits between its edge and where it should reach to, d the stitching's depth. */
  | 'stay_widest'
  /** The stay tape that lies within a binding. */
  | 'stay_within'
  /** How far a stay tape that lies p from its edge reaches past the stitching. */
  | 'stay_past'
  /** Snips in a straight stay tape along a curve. */
  | 'stay_snips'
  /** Stay tape in all. */
  | 'stay_total'
  /** Length before gathering over length after. */
  | 'gathering_ratio'
  /** Taken as it is from its source. */
  | 'taken'
  /** Between two ages of the table. */
  | 'head_by_age'
  /** A zigzag laid straight. */
  | 'stitch_zigzag'
  /** The seam line's greatest girth: stayed parts as they are, live parts extended by the lesser of knit and stitch. */
  | 'seam_girth'
  /** The greatest girth of the seam with the finish sewn to it: what the garment limits and what the finish does. */
  | 'sewn_girth'
  /** The strip's greatest girth where it is shortest across its width. */
  | 'strip_girth'
  /** How far the liveliest part of the seam is stretched. */
  | 'seam_asks'
  /** The longest stitch of a zigzag that gives so much, in half millimetres. */
  | 'zigzag_length'
  /** The smallest of the rings. */
  | 'smallest_ring'
  /** What there is over the head and its margin. */
  | 'spare'
  /** Stretch from two readings. */
  | 'stretch'
  /** Share of the stretch given back. */
  | 'recovery'
  /** Length left after release. */
  | 'growth'
  /** A percentage as the person gave it. */
  | 'as_given'
  /** Lengthwise stretch where it was not read. */
  | 'lengthwise_taken'
  /** Stretch at 45 degrees where it was not read. */
  | 'diagonal_taken'
  /** Turn of cloth of one layer folded over. */
  | 'turn_of_cloth';

/** One number put into a rule. */
export interface Input {
  /** The symbol in the rule; in a range, the reading's field in the brief. */
  symbol: string;
  /** Its value. */
  value: number;
  /** Its unit. */
  unit: Unit;
}

/** What a number in a brief counts. */
export type Unit =
  /** Millimetres. */
  | 'mm'
  /** Percent. */
  | 'percent'
  /** Degrees. */
  | 'deg'
  /** A plain fraction or ratio. */
  | 'ratio'
  /** Months of age. */
  | 'months'
  /** A count. */
  | 'count';
