// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.

/** Everything the person tells us. */
export interface Brief {
  /** Always this name. */
  schema: 'lieflat.brief';
  /** Always this version. */
  version: 1;
  /** A name for the brief, shown and never interpreted. */
  title?: string | null;
  /** The neckline's outline and allowances. */
  neckline: Neckline;
  /** The knit the garment is cut from. */
  garment_knit: Knit;
  /** The knit the strip or facing is cut from; the garment's own where absent. */
  strip_knit?: Knit | null;
  /** Which way the strip's length runs in its knit. Default: "crosswise". */
  strip_direction?: Direction;
  /** How the neckline is finished. */
  finish: Finish;
  /** The stitch of the neckline seam. Default: "overlock". */
  stitch?: Stitch;
  /** The head that must pass. */
  head: Head;
  /** Which parts may be stayed. */
  stays?: Stays;
  /** The stretch the pattern asks of the garment's knit, where it says so. */
  pattern_asks?: PatternAsks | null;
  /** What cut figures are rounded to. Default: "millimetre". */
  rounding?: Rounding;
  /** How far each reading may be off. */
  tolerances?: Tolerances;
  /** The constants of the rules, the person's to change. */
  rules?: Rules;
}

/** The neckline: two halves and what their readings stand for. */
export interface Neckline {
  /** Whether outlines and lengths are of the cut edge or of the seam line. */
  readings_at: ReadingsAt;
  /** The neckline's seam allowance, from cut edge to seam line. mm. From 0 to 60. */
  neckline_allowance_mm: number;
  /** The front half, centre front to neck point. */
  front: Half;
  /** The back half, centre back to neck point. */
  back: Half;
}

/** Which line the outlines and lengths describe. */
export type ReadingsAt =
  /** The pattern piece's edge, allowances included. */
  | 'cut_edge'
  /** The line that is sewn. */
  | 'seam_line';

/** One half of the neckline, from the centre to the neck point. */
export interface Half {
  /** The outline, in one of three ways. */
  outline: Outline;
  /** Whether the centre is a fold or a seam. Default: "fold". */
  centre?: Centre;
  /** The shoulder's seam allowance. mm. From 0 to 60. */
  shoulder_allowance_mm: number;
  /** The shoulder's slope below the horizontal. Degrees. From 0 to 45. Default: 20. */
  shoulder_slope_deg?: number;
}

/** The three ways an outline is told. */
export type Outline =
  /** A length along the line with the opening's half width or depth. */
  | { measured: Measured; drafted?: undefined; drawn?: undefined }
  /** Half width and depth. */
  | { drafted: Drafted; measured?: undefined; drawn?: undefined }
  /** A path. */
  | { drawn: Drawn; measured?: undefined; drafted?: undefined };

/** A half known by tape-measure readings. */
export interface Measured {
  /** Length along the line, from its own centre to its shoulder end: edge to edge of the piece where readings are of the cut edge. mm. From 20 to 1500. */
  half_length_mm: number;
  /** From the line's own centre straight out to the neck point: from the fold; with a centre seam, from its cut edge or from its seam line, as `readings_at` says. mm. Give this, the depth, or both. From 10 to 600. */
  half_width_mm?: number | null;
  /** From the neck point down to the centre's lowest point. mm. From 2 to 700. */
  depth_mm?: number | null;
  /** The shape taken for granted between the readings. */
  shape: Shape;
}

/** A neckline's shape and what makes it fuller or flatter. */
export interface Shape {
  /** Which shape. */
  kind: ShapeKind;
  /** Round, scoop and boat: how far the curve fills its corner. Percent. Usual, where it is absent: round 55.2, scoop 68, boat 60. From 20 to 90. */
  roundness_percent?: number | null;
  /** Square: the radius of its corner. mm. From 0 to 200. */
  corner_radius_mm?: number | null;
  /** V: how far the middle of a leg is hollowed toward the garment, as a share of the leg. Percent. From -8 to 8. */
  leg_hollow_percent?: number | null;
}

/** The shapes of neckline. */
export type ShapeKind =
  /** A round neck, its ends square to the shoulder. */
  | 'round'
  /** A fuller, deeper round. */
  | 'scoop'
  /** Straight or slightly hollowed legs that meet in a point. */
  | 'v'
  /** Straight across and straight up, the corner rounded by a radius. */
  | 'square'
  /** Wide and shallow, meeting the shoulder at a slant. */
  | 'boat';

/** A half known by its draft. */
export interface Drafted {
  /** From the line's own centre straight out to the neck point, as `Measured::half_width_mm`. mm. From 10 to 600. */
  half_width_mm: number;
  /** From the neck point down to the centre's lowest point. mm. From 2 to 700. */
  depth_mm: number;
  /** The shape. */
  shape: Shape;
}

/** A half known by a path in SVG's path syntax, millimetres. */
export interface Drawn {
  /** One open path between the line's own centre (x = 0), as `Measured::half_width_mm`, and the neck point, drawn from either end; y runs down. 1 to 200 segments, coordinates within 2000 mm. */
  path_mm: string;
  /** By how much its length may be longer or shorter than drawn, where it was read off a photo or a file. mm. From 0 to 20. */
  uncertainty_mm?: number | null;
}

/** What the centre line is. */
export type Centre =
  /** The piece is cut on a fold there. */
  | 'fold'
  /** A seam runs there. */
  | { seam: { allowance_mm: number } };

/** A knit: how it stretches and how thick it is. */
export interface Knit {
  /** A name, shown and never interpreted. */
  name?: string | null;
  /** Stretch across the wales, along the courses: usually the stretchier way. */
  crosswise: Stretch;
  /** Stretch along the wales; half the crosswise stretch is taken where it was not read. */
  lengthwise?: Stretch | null;
  /** Stretch at 45 degrees; the mean of the other two is taken where it was not read. */
  diagonal?: Stretch | null;
  /** Which kind of knit it is; a plain jersey is taken where it is not told. */
  kind?: KnitKind | null;
  /** Poisson's ratio, where somebody worked it out; before a swatch's width. */
  poisson_ratio?: PoissonRatio | null;
  /** How wide the swatch of the stretch test was. */
  swatch_width?: SwatchWidths | null;
  /** Thickness of one layer. mm. From 0 to 10. Default: 0.8. */
  thickness_mm?: number | null;
  /** Elastane in the yarn, for the notes alone. Percent. From 0 to 50. */
  elastane_percent?: number | null;
  /** How strips cut from this knit came out. At most 200. */
  learned?: SewnRecord[];
}

/** Stretch in one direction, by readings or as percentages. */
export type Stretch =
  /** Marks on the cloth, read with a ruler. */
  | { readings: { rest_mm: number; stretched_mm: number; released_mm?: number | null }; percent?: undefined }
  /** Percentages somebody else worked out. */
  | { percent: { stretch_percent: number; recovery_percent?: number | null }; readings?: undefined };

/** Kinds of knit, as far as they narrow alike. */
export type KnitKind =
  /** A single jersey and the like: narrows about as much as most cloth. */
  | 'jersey'
  /** A rib: hardly narrows when it is stretched crosswise. */
  | 'rib'
  /** An interlock or another double jersey. */
  | 'interlock';

/** How much a knit narrows when it is stretched: the strain across over the strain along. */
export interface PoissonRatio {
  /** Stretched crosswise. A ratio. From 0 to 1. */
  crosswise?: number | null;
  /** Stretched lengthwise. A ratio. From 0 to 1. */
  lengthwise?: number | null;
}

/** How wide the swatch of a stretch test was, each way that it was stretched. */
export interface SwatchWidths {
  /** Stretched crosswise. */
  crosswise?: SwatchWidth | null;
  /** Stretched lengthwise. */
  lengthwise?: SwatchWidth | null;
}

/** A swatch's width in its middle, at rest and stretched as far as in the stretch test. */
export interface SwatchWidth {
  /** At rest. mm. From 5 to 1000. */
  rest_mm: number;
  /** Stretched: a third of that to the whole of it. mm. */
  stretched_mm: number;
}

/** How one sewn strip came out. */
export interface SewnRecord {
  /** Which finish it was. */
  finish: SewnFinish;
  /** The plan's `strip.held_line_mm`: the length that the strip's held edge took up, all round. mm. From 100 to 4000. */
  held_line_mm: number;
  /** The strip as sewn, relaxed, all round, without joins and ends. mm, 0.6 to 1.3 times the held line. */
  strip_mm: number;
  /** What was seen. */
  outcome: SewnOutcome;
  /** Stood away: what could be pinched out of the strip, all round; pulled in: what it lacked. mm, up to a quarter of the strip. Needed with both, and absent where it lay flat. */
  by_mm?: number | null;
  /** How wide it came out. */
  width?: SewnWidth | null;
  /** When, shown and never interpreted. */
  recorded?: string | null;
}

/** The finishes that have a strip. */
export type SewnFinish =
  /** A stretched band. */
  | 'band'
  /** A facing strip, turned inside. */
  | 'tape'
  /** A bound edge. */
  | 'bound';

/** How a sewn strip lies. */
export type SewnOutcome =
  /** It lay flat. */
  | 'lay_flat'
  /** It was too long. */
  | 'stood_away'
  /** It was too short. */
  | 'pulled_in';

/** How wide a sewn strip came out, beside what its plan reckoned with. */
export interface SewnWidth {
  /** As sewn, from the seam to the free edge: the mean of a few places. mm, a third to one and a tenth of the next. */
  sewn_mm: number;
  /** The plan's `strip.narrowing.width_unnarrowed_mm`. mm. From 2 to 200. */
  unnarrowed_mm: number;
  /** The plan's `strip.narrowing.stretch_percent`. Percent. From 1 to 200. */
  stretch_percent: number;
}

/** Which way in the knit. */
export type Direction =
  /** Across the wales. */
  | 'crosswise'
  /** Along the wales. */
  | 'lengthwise'
  /** At 45 degrees to both. */
  | 'diagonal';

/** The finishes. */
export type Finish =
  /** A stretched band that stands toward the neck. */
  | { band: Band; bound?: undefined; tape?: undefined; facing?: undefined }
  /** A strip wrapped round the raw edge. */
  | { bound: Bound; band?: undefined; tape?: undefined; facing?: undefined }
  /** A strip turned inside onto the garment. */
  | { tape: Tape; band?: undefined; bound?: undefined; facing?: undefined }
  /** Shaped pieces turned inside and understitched. */
  | { facing: Facing; band?: undefined; bound?: undefined; tape?: undefined };

/** A stretched band. */
export interface Band {
  /** Finished width, from seam line to free edge. mm. From 3 to 150. */
  width_mm: number;
  /** Folded along its free edge, or one layer. Default: "folded". */
  layers?: Layers;
  /** How the ends meet at a point. Default: "mitre". */
  point?: PointFinish;
  /** Allowance of the join of the strip's ends. mm. From 0 to 60. Default: 6. */
  join_allowance_mm?: number;
  /** The maker's own ratio of strip to seam line, in place of the rule. Percent. From 30 to 120. */
  ratio_percent?: number | null;
}

/** How many layers a band has. */
export type Layers =
  /** Folded along the free edge, both raw edges in the seam. */
  | 'folded'
  /** One layer with a finished edge. */
  | 'single';

/** How a band's ends meet at the point of a V. */
export type PointFinish =
  /** A seam on the line that halves the point. */
  | 'mitre'
  /** One end over the other, caught in the neckline seam. */
  | 'lap';

/** A bound edge: the garment is first trimmed to the pattern's seam line, which becomes the finished edge; the strip is sewn a finished width below it, wrapped round the raw edge and caught on the inside. */
export interface Bound {
  /** Finished width on each side of the edge. mm. From 3 to 40. */
  width_mm: number;
  /** One layer, or folded along its length before it is sewn. Default: "single". */
  layers?: Layers;
  /** One layer only: turned under on the inside. mm; 0 for a raw or overlocked edge. From 0 to 30. Default: 0. */
  turn_under_mm?: number;
  /** Allowance of the join of the strip's ends. mm. From 0 to 60. Default: 6. */
  join_allowance_mm?: number;
  /** The maker's own ratio of strip to the line it is sewn on, in place of the rule. Percent. From 30 to 120. */
  ratio_percent?: number | null;
}

/** A facing strip: turned inside, as narrow and straight as a tape, whose name it has in the brief. */
export interface Tape {
  /** Finished width, from seam line to free edge. mm. From 3 to 80. */
  width_mm: number;
  /** Turned under at the free edge. mm; 0 for a raw or overlocked edge. From 0 to 30. Default: 0. */
  turn_under_mm?: number;
  /** Allowance of the join of the strip's ends. mm. From 0 to 60. Default: 6. */
  join_allowance_mm?: number;
  /** The maker's own ratio of strip to seam line, in place of the rule. Percent. From 30 to 120. */
  ratio_percent?: number | null;
}

/** An understitched facing. */
export interface Facing {
  /** Finished width, from seam line to outer edge. mm. From 20 to 200. */
  width_mm: number;
  /** From the facing's own seam edge to the understitching. mm. From 0.5 to 6. Default: 1.6. */
  understitch_mm?: number;
  /** Turned under at the outer edge. mm; 0 for an overlocked edge. From 0 to 30. Default: 0. */
  edge_allowance_mm?: number;
  /** From the garment's seam line to a topstitching through garment and facing; none where it is absent. mm, at most the facing's width. From 1 to 100. */
  topstitch_mm?: number | null;
}

/** The neckline seam's stitch. */
export type Stitch =
  /** Lockstitch, ISO 4915 stitch type 301. */
  | 'straight'
  /** Zigzag lockstitch, ISO 4915 stitch type 304. */
  | { zigzag: { width_mm: number; advance_mm: number } }
  /** Overedge, ISO 4915 stitch types 504 and 514. */
  | 'overlock';

/** The head that must pass the opening. */
export interface Head {
  /** Whose head. */
  girth: HeadGirth;
  /** Ease over the head's girth: hair, ears, a hand. mm. From 0 to 200. Default: 20. */
  margin_mm?: number;
}

/** A head girth, measured or from reference data. */
export type HeadGirth =
  /** The person's own. mm. */
  | { own_mm: number; adult?: undefined; child?: undefined }
  /** A large head of a group of adults (the 95th percentile). */
  | { adult: AdultGroup; own_mm?: undefined; child?: undefined }
  /** A large head of children of an age (median plus two standard deviations). */
  | { child: { group: ChildGroup; age_months: number }; own_mm?: undefined; adult?: undefined };

/** Adults with reference data. */
export type AdultGroup =
  /** Women. */
  | 'women'
  /** Men. */
  | 'men';

/** Children with reference data. */
export type ChildGroup =
  /** Girls. */
  | 'girls'
  /** Boys. */
  | 'boys';

/** What may be stayed, and with what. */
export interface Stays {
  /** Width of the stay tape. mm. From 3 to 40. Default: 9.5. */
  tape_width_mm?: number;
  /** How far the stay tape reaches past the seam line, so that the stitching catches it. mm. From 0 to 10. Default: 1. */
  catch_mm?: number;
  /** Whether the shoulder seams may be stayed; where one of the edges is a shoulder and is stayed, it takes their place. Default: true. */
  shoulders?: boolean;
  /** The shoulder seam's length. mm; no length of stay tape is given for it where it is absent. From 20 to 400. */
  shoulder_length_mm?: number | null;
  /** Other edges that the person names. At most 12. */
  edges?: StayEdge[];
}

/** An edge that the person names, to be stayed where its stretch wants it. */
export interface StayEdge {
  /** Its name, shown and never interpreted. */
  name: string;
  /** What kind of edge it is. */
  part: EdgePart;
  /** Length of its seam line; for a gathered section the length between the notches it is drawn up to. mm. From 10 to 2000. */
  length_mm: number;
  /** Gathered sections: length along the seam line before gathering. mm, from `length_mm` to 8 times that. */
  gathered_from_mm?: number | null;
  /** Which way the edge runs in the garment's knit. */
  direction: Direction;
  /** Its seam allowance. mm. From 0 to 60. */
  allowance_mm: number;
  /** How many such edges the garment has. From 1 to 8. Default: 1. */
  pieces?: number;
}

/** What kind of edge a person names. */
export type EdgePart =
  /** A seam at centre front. */
  | 'centre_front_seam'
  /** A seam at centre back. */
  | 'centre_back_seam'
  /** A shoulder seam. */
  | 'shoulder'
  /** A section from notch to notch that receives or is drawn up into gathers. */
  | 'gathered'
  /** Any other. */
  | 'other';

/** The stretch a pattern asks of its knit. */
export interface PatternAsks {
  /** Crosswise. Percent. From 0 to 400. */
  crosswise_percent?: number | null;
  /** Lengthwise. Percent. From 0 to 400. */
  lengthwise_percent?: number | null;
}

/** What cut figures are rounded to. */
export type Rounding =
  /** Whole millimetres. */
  | 'millimetre'
  /** Eighths of an inch. */
  | 'eighth_inch'
  /** Sixteenths of an inch. */
  | 'sixteenth_inch';

/** How far readings may be off, either way. */
export interface Tolerances {
  /** A tape reading of the neckline, and a draft's width or depth. mm. From 0 to 50. Default: 2. */
  reading_mm?: number;
  /** A stretch percentage, in points. From 0 to 100. Default: 5. */
  stretch_points?: number;
  /** A recovery percentage, in points. From 0 to 100. Default: 10. */
  recovery_points?: number;
  /** A seam allowance as sewn. mm. From 0 to 20. Default: 1. */
  allowance_mm?: number;
  /** Poisson's ratio of the strip. A ratio. From 0 to 1. Default: 0.1. */
  poisson_ratio?: number;
  /** A shoulder's slope. Degrees. From 0 to 20. Default: 2. */
  slope_deg?: number;
  /** A finished width as sewn. mm. From 0 to 20. Default: 1. */
  width_mm?: number;
  /** The fullness of an assumed shape, in points of roundness. From 0 to 30. Default: 8. */
  roundness_points?: number;
}

/** The constants of the rules. Each is a judgement stated with its ground; none is a published value. */
export interface Rules {
  /** h: the part of the strip's stretch that its free edge keeps as hold, before recovery. Fraction. 0.10 puts ribs of 100 percent at two thirds to three quarters of a round neck for widths of about 15 to 20 mm, which is the published range (see the reference checks). From 0 to 0.5. Default: 0.1. */
  hold_share?: number;
  /** phi: the part of a knit's stretch that an edge may keep for good. Fraction. From 0.1 to 1. Default: 0.6. */
  comfort_share?: number;
  /** `hold_t`: the strain a facing strip's seam edge keeps, so that it is cut a little shorter. Fraction. From 0 to 0.2. Default: 0.02. */
  tape_hold?: number;
  /** The part of a knit's stretch that is used when the head passes. Fraction. From 0.1 to 1. Default: 0.8. */
  pull_share?: number;
  /** How far an even spread between two marks may be off before another mark is set. mm. From 0.5 to 50. Default: 3. */
  mark_tolerance_mm?: number;
  /** How high a strip's free edge may rise off the flat and still pass: by ripples anywhere, and in front in any way. mm. Steam and the knit's own give take up about 2 mm. From 0 to 20. Default: 2. */
  passing_rise_mm?: number;
  /** How far a strip may lean off the flat where it stands up at the neck points and at the back, and still pass. Degrees. The neck itself rises there, and a crew's band stands along it. From 0 to 90. Default: 60. */
  passing_lean_deg?: number;
  /** How far one clip opens. mm. From 1 to 20. Default: 4. */
  clip_opening_mm?: number;
  /** Turn of cloth for one layer folded over, as a multiple of its thickness. pi/2 is the length of the middle of the layer round a fold with no gap: a half circle of radius half the thickness. From 0 to 4. Default: 1.5707963267948966. */
  turn_per_thickness?: number;
}
