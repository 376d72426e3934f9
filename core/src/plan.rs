//! The plan: everything worked out from a brief. Lengths are millimetres, strains and ratios fractions.

use std::borrow::Cow;

use serde::Serialize;

use crate::error::Unit;
use crate::order::SewingStep;
use crate::source::Source;
pub use crate::working::Rule;

/// The schema name a plan's JSON carries.
pub const SCHEMA: &str = "lieflat.plan";
/// The schema version a plan's JSON carries.
pub const VERSION: u32 = 1;

/// Everything worked out from a brief.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plan {
    /// Always [`SCHEMA`].
    pub schema: &'static str,
    /// Always [`VERSION`].
    pub version: u32,
    /// The brief's title, as given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// The seam line, by halves and whole.
    pub seam_line: SeamLine,
    /// The garment's knit.
    pub garment_knit: KnitReport,
    /// The knit of the strip or facing.
    pub strip_knit: KnitReport,
    /// How the knit suits what the pattern asks; empty where it asks nothing.
    pub suitability: Vec<Suitability>,
    /// What the fibre content tells, as common practice and never as a measurement.
    pub fibre_notes: Vec<FibreNote>,
    /// The strip, for a band, a facing strip or a bound edge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strip: Option<StripPlan>,
    /// The facing, where that is the finish.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub facing: Option<FacingPlan>,
    /// Where to clip the allowance, for a finish that is turned inside.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clips: Option<ClipPlan>,
    /// What to stay.
    pub stays: StayPlan,
    /// Whether the head passes.
    pub opening: OpeningPlan,
    /// The order of work, from washing to the last pressing.
    pub order: Vec<SewingStep>,
    /// What was taken for granted because the brief does not say it.
    pub assumptions: Vec<Assumption>,
    /// For each figure: the rule, the numbers put in, the result, the source.
    #[cfg_attr(not(feature = "working"), serde(serialize_with = "nothing"))]
    pub working: Vec<Step>,
}

/// The working where none is compiled in: an empty list, without the names of all rules that writing a step would bring.
#[cfg(not(feature = "working"))]
fn nothing<S: serde::Serializer>(_: &[Step], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(core::iter::empty::<()>())
}

/// The seam line, by halves and whole.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeamLine {
    /// Centre front to neck point.
    pub front: HalfLine,
    /// Centre back to neck point.
    pub back: HalfLine,
    /// Both halves of front and back: the whole round. mm.
    pub whole_length_mm: f64,
    /// Turning of the whole round, front and back laid flat and joined at the shoulders, less points. Degrees.
    pub whole_turning_deg: f64,
    /// Turning at each neck point, where front and back meet. Degrees; 0 where they meet square to the shoulder.
    pub neck_point_turning_deg: f64,
}

/// One half's lines.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HalfLine {
    /// Length of the cut edge as it is drawn: without the loops of an edge set back further than its radius. mm.
    pub cut_edge_length_mm: f64,
    /// Length of the seam line. mm.
    pub length_mm: f64,
    /// Turning of the seam line. Degrees.
    pub turning_deg: f64,
    /// The opening's half width at the seam line, from the finished centre line to the neck point. mm.
    pub half_width_mm: f64,
    /// The opening's depth at the seam line. mm.
    pub depth_mm: f64,
    /// The tightest radius that curves round the opening; none on a straight line. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tightest_radius_mm: Option<f64>,
    /// Half the angle of a point at the centre; none where the line crosses the centre smoothly. Degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub point_half_angle_deg: Option<f64>,
    /// Where the finished centre line stands in the half's own frame: x there is read as the brief's outline is, from the
    /// centre's edge as cut or from its seam line, so that this is a centre seam's allowance where readings are of the
    /// cut edge, and 0 on a fold or where they are of the seam line. mm.
    pub centre_line_x_mm: f64,
    /// The cut edge in the half's own frame (x outward, y down from the neck point): points, centre first. mm.
    pub cut_edge: Vec<[f64; 2]>,
    /// The seam line in the same frame. mm.
    pub seam_line: Vec<[f64; 2]>,
    /// The shoulder's direction from the neck point: a unit vector in the same frame.
    pub shoulder_direction: [f64; 2],
}

/// A knit as worked out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KnitReport {
    /// Crosswise stretch. Percent.
    pub crosswise_percent: f64,
    /// Lengthwise stretch. Percent.
    pub lengthwise_percent: f64,
    /// Stretch at 45 degrees. Percent.
    pub diagonal_percent: f64,
    /// Share of the crosswise stretch given back. Percent.
    pub recovery_percent: f64,
    /// Growth after release, of the length at rest, where a reading tells. Percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub growth_percent: Option<f64>,
    /// Turn of cloth. mm.
    pub turn_of_cloth_mm: f64,
    /// What the recovery means.
    pub recovery: RecoveryVerdict,
    /// Whether pieces may be cut with their wales running across: stretch alike both ways.
    pub turns_on_the_other_grain: bool,
    /// Its class by crosswise stretch.
    pub class: KnitClass,
}

/// Classes of knits by crosswise stretch: under 18 percent, 18, 25, 50 and 100 percent.
/// Source: H. J. Armstrong, 'Patternmaking for Fashion Design', chapter on knits (numbers from memory).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum KnitClass {
    /// Under 18 percent: hardly a stretch knit.
    Rigid,
    /// 18 to 25 percent.
    Stable,
    /// 25 to 50 percent.
    Moderate,
    /// 50 to 100 percent.
    Stretchy,
    /// 100 percent and more: super-stretch knits and ribs.
    SuperStretch,
}

/// What a fibre content tells: common practice, no published source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FibreNote {
    /// No elastane: the knit's structure alone brings an edge back; a rib does, a plain jersey less so.
    NoElastane,
    /// Under 8 percent: rayon, bamboo and modal jerseys with about 5 percent tend to grow.
    LittleElastane,
    /// 8 percent and more: recovers better.
    AmpleElastane,
    /// The released reading contradicts what the elastane would lead one to expect: trust the reading.
    ReadingSaysPoor,
}

/// What a recovery means for an edge under strain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RecoveryVerdict {
    /// 90 percent or more comes back.
    Good,
    /// 75 to 90 percent.
    Fair,
    /// Less: an edge under strain grows.
    Poor,
    /// No reading.
    NotRead,
}

/// How a knit suits what the pattern asks one way.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Suitability {
    /// Which way.
    pub direction: crate::brief::Direction,
    /// What the pattern asks. Percent.
    pub asked_percent: f64,
    /// What the knit has. Percent.
    pub has_percent: f64,
    /// Whether it is enough.
    pub suits: bool,
    /// How far it falls short, in percent points; 0 where it is enough.
    pub short_by_points: f64,
    /// Whether it would be enough with the pieces' wales running across.
    pub suits_turned: bool,
}

/// A cut figure: exact, rounded to what can be cut, with its range.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figure {
    /// As worked out. mm.
    pub exact_mm: f64,
    /// Rounded to what can be cut, within the range: to the nearest step of the brief's rounding; where that lies outside
    /// the range, to the next step on the other side; where that does too, to half steps (1/2 mm, 1/16 in) in the same
    /// way. A range that no half step lies in is surer than anyone cuts: then this is the nearest half step, outside the
    /// range by less than a quarter of a step. Without ranges it is the nearest step. mm.
    pub cut_mm: f64,
    /// Low end of the range that the readings leave. mm.
    pub low_mm: f64,
    /// High end. mm.
    pub high_mm: f64,
    /// The reading that matters most: its field in the brief.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_from: Option<String>,
}

/// What an edge does along a span.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// The free edge is in hold and nothing is over-stretched.
    LiesFlat,
    /// The free edge is slack.
    StandsAway,
    /// An edge is stretched past its comfortable share.
    PullsIn,
}

/// A band's, a facing strip's or a bound edge's strip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StripPlan {
    /// How many strips to cut: 2 where front and back both have a point, else 1.
    pub pieces: u32,
    /// Length to cut each, joins and ends included.
    pub cut_length: Figure,
    /// Width to cut, folds and allowances included.
    pub cut_width: Figure,
    /// Relaxed length along the whole seam line, without joins and ends. mm.
    pub relaxed_length_mm: f64,
    /// Relaxed length over seam line. Percent.
    pub ratio_percent: f64,
    /// Whether the maker's own ratio was used.
    pub own_ratio: bool,
    /// Strain the free edge keeps (a facing strip: its seam edge), by the rule or learned from records. Percent.
    pub hold_percent: f64,
    /// A band or a bound edge: the strain its free edge keeps on a straight run; between the two where the line bends
    /// little. Percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub straight_hold_percent: Option<f64>,
    /// Where records of this knit in this finish were used: what they say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub learned: Option<LearnedHold>,
    /// The length that the held edge takes up: where the strip's free edge lies (a facing strip: its seam edge), its straight runs
    /// told as long as they would be with the whole hold. Relaxed length, where no limit adds to it, times (1 + hold). mm.
    pub held_line_mm: f64,
    /// The most an edge may stay stretched. Percent.
    pub comfort_percent: f64,
    /// What is added at each of the two ends, past the relaxed length. mm.
    pub end_extra_mm: f64,
    /// How the ends meet, at centre front where the front has a point, else at centre back.
    pub ends: Ends,
    /// How the ends at centre back meet, where front and back both have a point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back_ends: Option<Ends>,
    /// Where the strip's ends meet: `centre_back` or `centre_front`.
    pub join_at: MarkPlace,
    /// A bound edge: the line the strip is sewn on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitch_line: Option<StitchLine>,
    /// A bound edge: what is first trimmed off the cut edge, down to the finished edge. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trim_mm: Option<f64>,
    /// A facing strip: from the seam to the topstitching that holds its free edge down. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub topstitch_mm: Option<f64>,
    /// Marks, in order along one half from centre back to centre front.
    pub marks: Vec<Mark>,
    /// The spans between neighbouring marks.
    pub spans: Vec<Span>,
    /// The worst outcome of all spans.
    pub outcome: Outcome,
    /// The widest finished width that lies flat all along; none where none from 3 mm up does. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub widest_flat_mm: Option<f64>,
    /// How far an even spread over the whole strip, as by quartering, would be off at its worst place. mm.
    pub quartering_error_mm: f64,
    /// What would cure a strip that does not lie flat, best first.
    pub cures: Vec<Cure>,
    /// A facing strip: how far its understitching stops short of each point and corner; none where there is none. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub understitch_stops_mm: Option<f64>,
}

/// A hold learned from how strips of this knit came out in this finish.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LearnedHold {
    /// How many records were used.
    pub records: usize,
    /// The mean of the holds they tell. Percent.
    pub mean_percent: f64,
    /// What the rule alone says. Percent.
    pub usual_percent: f64,
    /// The low end of the learned hold's range: two standard deviations. Percent.
    pub low_percent: f64,
    /// The high end. Percent.
    pub high_percent: f64,
}

/// The line that a bound edge's strip is sewn on, a finished width below the finished edge.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StitchLine {
    /// All round. mm.
    pub length_mm: f64,
    /// The front half in its own frame. mm.
    pub front: Vec<[f64; 2]>,
    /// The back half in its own frame. mm.
    pub back: Vec<[f64; 2]>,
}

/// How a strip's ends meet.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Ends {
    /// Joined into a ring, the join at centre back.
    Ring,
    /// Mitred at the point.
    Mitre {
        /// Angle of the mitre seam to the strip's edge. Degrees.
        angle_deg: f64,
        /// How much shorter the free edge is at each end. mm.
        free_edge_shorter_mm: f64,
    },
    /// One end over the other at the point.
    Lap {
        /// Width of the lap along the other leg's seam line. mm.
        lap_width_mm: f64,
        /// How far short of the point the two free edges cross, on each side. mm.
        free_edge_shorter_mm: f64,
    },
    /// Open ends that run past the point and are caught in the centre seam.
    Overhang {
        /// How far each end runs past the point. mm.
        overhang_mm: f64,
    },
}

/// The places marks stand at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum MarkPlace {
    /// Centre back.
    CentreBack,
    /// Neck point.
    NeckPoint,
    /// Centre front.
    CentreFront,
    /// In between, where an even spread would be off.
    Between,
}

/// A mark on the strip and its twin on the seam line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Mark {
    /// Where.
    pub place: MarkPlace,
    /// Which of those in between it is, counted from centre back from 1 on; none where its place has a name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<usize>,
    /// Along the relaxed strip from centre back. mm.
    pub on_strip_mm: f64,
    /// Along the line it is sewn on from centre back: the seam line, or a bound edge's stitch line. mm.
    pub on_seam_line_mm: f64,
}

/// The stretch of seam line between two neighbouring marks.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Span {
    /// Its end nearer centre back.
    pub from: MarkPlace,
    /// Its end nearer centre front.
    pub to: MarkPlace,
    /// Length of seam line. mm.
    pub seam_line_mm: f64,
    /// Relaxed length of strip. mm.
    pub strip_mm: f64,
    /// Relaxed strip over seam line. Percent.
    pub ratio_percent: f64,
    /// Least strain of the free edge in the span. Percent; under 0 is slack.
    pub free_edge_least_percent: f64,
    /// Greatest strain of the free edge in the span. Percent.
    pub free_edge_most_percent: f64,
    /// Greatest strain of the seam edge in the span. Percent.
    pub seam_edge_most_percent: f64,
    /// What the strip does there.
    pub outcome: Outcome,
    /// How high the free edge stands off the flat at its worst place. mm.
    pub stands_off_mm: f64,
    /// Slack length in the free edge over the span. mm.
    pub slack_mm: f64,
}

/// What would cure a strip that does not lie flat.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Cure {
    /// A narrower strip: at most this finished width. mm.
    Narrower(f64),
    /// A stretchier strip: at least this stretch in its length. Percent.
    Stretchier(f64),
    /// The rule instead of the maker's ratio.
    UseTheRule,
    /// The strip cut with its length another way in its knit.
    OtherDirection(crate::brief::Direction),
    /// A shaped facing.
    Facing,
}

/// A facing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FacingPlan {
    /// The front piece, by half.
    pub front: FacingPiece,
    /// The back piece, by half.
    pub back: FacingPiece,
    /// Cut width from raw neck edge to raw outer edge.
    pub cut_width: Figure,
    /// How far the seam rolls inside when it is pressed: the turn of cloth. The neck edge itself is cut like the garment's
    /// edge, as long as that, so that neither is eased. mm.
    pub favour_mm: f64,
    /// What the facing is interfaced with.
    pub interfacing: Interfacing,
    /// Understitching all round, as far as it is sewn. mm.
    pub understitch_length_mm: f64,
    /// From the seam to the understitching. mm.
    pub understitch_distance_mm: f64,
    /// How far it stops short of each point and corner; none where there is none. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub understitch_stops_mm: Option<f64>,
    /// Topstitching all round, where it is asked: through garment and facing, so measured from the garment's seam
    /// line. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub topstitch_length_mm: Option<f64>,
}

/// What a facing is interfaced with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Interfacing {
    /// Fusible knit interfacing, which steadies a knit and still gives with it: common practice, no published source.
    FusibleKnit,
}

/// Half a facing piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FacingPiece {
    /// Finished length of its seam edge. mm.
    pub seam_edge: Figure,
    /// Finished length of its outer edge. mm.
    pub outer_edge: Figure,
    /// The outer edge in the half's frame. mm.
    pub outer_line: Vec<[f64; 2]>,
    /// The seam edge in the half's frame. mm.
    pub seam_line: Vec<[f64; 2]>,
    /// Whether the centre is cut on a fold.
    pub on_fold: bool,
    /// The half piece as cut, allowances included: a closed path, its last point not repeated. mm.
    pub cut_outline: Vec<[f64; 2]>,
    /// The half piece within its seams: a closed path, its last point not repeated. mm.
    pub sewn_outline: Vec<[f64; 2]>,
    /// Where it is understitched, run by run from the centre: it stops short of points and corners. mm.
    pub understitch_lines: Vec<Vec<[f64; 2]>>,
    /// Where garment and facing are topstitched, where that is asked, beside the garment's seam line. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub topstitch_line: Vec<[f64; 2]>,
    /// Notches in the neck edge: one on the front, two on the back, and one at a fold.
    pub notches: Vec<Notch>,
    /// Clips in the neckline allowance: those of the garment, which is clipped with it.
    pub clips: Vec<ClipLine>,
    /// Where a wide neckline allowance is trimmed before it is clipped; empty where it is not. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trimmed_line: Vec<[f64; 2]>,
    /// The stretch arrow, crosswise, within the piece.
    pub arrow: Cut,
}

/// A notch: where it is cut, which way, and its twins.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Notch {
    /// On the cut edge, in the half's frame. mm.
    pub at: [f64; 2],
    /// A point on the seam edge that it runs toward. mm.
    pub toward: [f64; 2],
    /// Its place along the piece's seam edge from the centre. mm.
    pub on_piece_mm: f64,
    /// Its twin's place along the garment's seam line from the centre. mm.
    pub on_seam_line_mm: f64,
}

/// A short straight cut or line in a half's frame. mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Cut {
    /// One end.
    pub from: [f64; 2],
    /// The other.
    pub to: [f64; 2],
}

/// A clip in the garment's neckline allowance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ClipLine {
    /// In which half.
    pub half: HalfName,
    /// What it opens.
    pub kind: ClipKind,
    /// On the raw edge, trimmed where it is to be. mm.
    pub from: [f64; 2],
    /// Short of the stitching. mm.
    pub to: [f64; 2],
}

/// Front or back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum HalfName {
    /// The front half.
    Front,
    /// The back half.
    Back,
}

/// What a clip opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ClipKind {
    /// The point of a V, at its centre.
    Point,
    /// An inner corner.
    Corner,
    /// Part of a curve.
    Curve,
}

/// Where to clip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClipPlan {
    /// What a wide allowance is trimmed to before it is clipped, where it is to be. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trim_to_mm: Option<f64>,
    /// The trimmed edge of the front in its own frame; empty where nothing is trimmed. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trimmed_front: Vec<[f64; 2]>,
    /// The trimmed edge of the back. mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trimmed_back: Vec<[f64; 2]>,
    /// How far the raw edge must open in all along its curves, once turned. mm.
    pub opens_mm: f64,
    /// What the knit gives of that by itself, where it is not stayed. mm.
    pub knit_gives_mm: f64,
    /// Clips along a curve are at least this far apart. mm.
    pub least_apart_mm: f64,
    /// Clips on one half, as places along the seam line from centre back. mm.
    pub places_mm: Vec<f64>,
    /// Clips all round.
    pub count: usize,
    /// Those of them that go into a point or a corner.
    pub into_corners: usize,
    /// The clips of one half, in the same order, as lines in the halves' own frames: from the raw edge to just short of
    /// the stitching.
    pub lines: Vec<ClipLine>,
}

/// The parts that can be stayed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Both shoulder seams.
    Shoulders,
    /// The back neckline.
    BackNeckline,
    /// The legs of a V, or the sides of another front neckline.
    FrontSides,
    /// The lowest part of the front neckline, where it runs crosswise, or the point of a V.
    FrontCentre,
    /// A seam at centre front.
    CentreFrontSeam,
    /// A seam at centre back.
    CentreBackSeam,
    /// A gathered section.
    Gathered,
    /// Another edge that the person names.
    Other,
}

/// Why a part is stayed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum StayReason {
    /// Shoulders carry the garment.
    CarriesTheGarment,
    /// The finish wants a stable edge and the knit stretches along the seam there.
    StableEdge,
    /// A point is pulled open from both sides.
    Point,
    /// The knit recovers poorly, and an edge left live would grow.
    PoorRecovery,
    /// The edge receives gathers, whose weight would draw it out.
    Gathers,
}

/// One part to stay.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StayZone {
    /// Which part; its twin on the other side is included in the stay tape's length.
    pub part: Part,
    /// The person's own name for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Why.
    pub reason: StayReason,
    /// The knit's mean stretch in the seam's own direction. Percent.
    pub stretch_percent: f64,
    /// Start along the half seam line from centre back; none for shoulders. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_mm: Option<f64>,
    /// End along the half seam line from centre back; none for shoulders. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to_mm: Option<f64>,
    /// Length of each piece of stay tape, along the seam line and with what a mitre takes up (of each row of stitching where no
    /// stay tape fits); none where the seam's length is not known. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tape_each_mm: Option<f64>,
    /// How many such pieces.
    pub pieces: u32,
    /// Which edge the stay tape's place is measured from.
    pub measured_from: MeasuredFrom,
    /// From that edge to the stay tape's nearer side. mm.
    pub from_edge_mm: f64,
    /// Width of the stay tape that is laid: the brief's, on a bound edge no wider than lies within the binding. mm.
    pub tape_width_mm: f64,
    /// How far the stay tape reaches past the line of stitching, toward the garment; negative where the stitching runs
    /// outside the stay tape. mm.
    pub past_stitching_mm: f64,
    /// The widest stay tape that fits: on a seam it lies on the allowance and reaches past the seam line by the catch, on a
    /// bound edge it lies within the stitching. mm.
    pub widest_tape_mm: f64,
    /// Whether the brief's stay tape fits.
    pub fit: TapeFit,
    /// How the stay tape lies at the centre; none where it does not come there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_centre: Option<TapeAtCentre>,
    /// Whether the curve is so tight that the stay tape needs snips or must be cut on the bias.
    pub snip_or_bias: bool,
    /// Snips in each piece of a straight stay tape that let it lie along the curve, made only where the line is curved; 0 where
    /// it lies by itself.
    pub snips: u32,
    /// Gathered sections: length before over length after.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gathering_ratio: Option<f64>,
    /// The zone along the seam line, in the half's own frame. mm.
    pub line: Vec<[f64; 2]>,
    /// The tape as it is laid, closed, in the half's own frame; at the centre it is cut or folded on the centre line.
    /// None for shoulders and named edges. mm.
    pub outline: Vec<[f64; 2]>,
}

/// The edge that a tape's place is measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum MeasuredFrom {
    /// The piece's edge as it is cut.
    RawEdge,
    /// The edge that is left once a bound neckline is trimmed to its seam line, which is done before it is stayed.
    TrimmedEdge,
}

/// Whether the brief's stay tape fits where it is laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TapeFit {
    /// It does.
    Fits,
    /// It is wider than fits. On a seam it lies at the raw edge and reaches further past the seam line than it should;
    /// on a bound edge one as wide as fits is taken in its place.
    TooWide,
    /// The binding covers less than the narrowest tape (3 mm: from memory): a row of straight stitching within it stays the
    /// edge instead. Staystitching a neckline from shoulder to centre is published (an N.C. extension leaflet on
    /// tailoring); in place of tape, our judgement.
    NoneFits,
}

/// How a tape lies at the centre. No published source: our judgement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TapeAtCentre {
    /// One piece runs on through a fold.
    RunsThrough,
    /// One piece, folded into a mitre at the point of a V on the fold: a point is pulled open from both sides, and two
    /// ends that meet there would hold it least where it is pulled most.
    Mitred,
    /// Two pieces, each ending at the line of a centre seam: the pieces are stayed flat, before that seam is sewn.
    EndsAtSeam,
}

/// What to stay.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StayPlan {
    /// Parts to stay.
    pub zones: Vec<StayZone>,
    /// Parts that would gain by staying but were given up so that the head passes, first given up first.
    pub given_up: Vec<GivenUp>,
    /// Named edges that are stable by themselves and want no stay.
    pub stable: Vec<StableEdge>,
    /// Stay tape in all, of every zone whose length is known and where a stay tape fits. mm.
    pub total_tape_mm: f64,
}

/// A part that would gain by staying but was given up so that the head passes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct GivenUp {
    /// Which.
    pub part: Part,
    /// The knit's mean stretch in the seam's own direction. Percent.
    pub stretch_percent: f64,
    /// Length left live, both sides. mm.
    pub length_mm: f64,
    /// What giving it up adds to the greatest girth of the seam line. mm.
    pub gains_mm: f64,
}

/// A named edge that is stable by itself.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StableEdge {
    /// The person's name for it.
    pub name: String,
    /// The knit's stretch along it. Percent.
    pub stretch_percent: f64,
}

/// Whether the head passes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OpeningPlan {
    /// The head's girth. mm.
    pub head_girth_mm: f64,
    /// Where the girth comes from.
    pub head_source: Source,
    /// The middle head of the same group: half of all are larger; none for a person's own measure. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub typical_head_mm: Option<f64>,
    /// Ease over it. mm.
    pub margin_mm: f64,
    /// How much of the knit's stretch is used while the head passes. Percent.
    pub pull_share_percent: f64,
    /// The greatest girth of the garment's seam line, stayed parts unstretched. mm.
    pub seam_line_girth_mm: f64,
    /// The greatest girth of the seam with the finish sewn to it: each piece as far as the shorter of the two reaches. mm.
    pub sewn_girth_mm: f64,
    /// The greatest girth of the strip where it is shortest across its width: at the free edge of a mitred or lapped
    /// band, else the same all across; none for a facing. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strip_girth_mm: Option<f64>,
    /// The smallest of them. mm.
    pub smallest_girth_mm: f64,
    /// How far the smallest would reach with all of the stretch used. mm.
    pub full_stretch_girth_mm: f64,
    /// Whether it is at least the head's girth and the margin.
    pub passes: bool,
    /// How much there is over the girth and margin; negative where it falls short. mm.
    pub spare_mm: f64,
    /// The stitch's own extension. Percent.
    pub stitch_extension_percent: f64,
    /// Where that comes from.
    pub stitch_source: Source,
    /// Where the stitch would break before the knit is stretched so far, and always for a straight stitch: what would
    /// serve.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitch_advice: Option<StitchAdvice>,
    /// What would let the head pass where it does not, best first; empty where it passes, and in a plan without ranges.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub remedies: Vec<Remedy>,
}

/// A stitch that gives as much as the seam is stretched: an overlock stitch, or a zigzag of this size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StitchAdvice {
    /// How far the live part of the seam that stretches most is stretched while the head passes. Percent.
    pub seam_asks_percent: f64,
    /// The zigzag's stitch width. mm.
    pub zigzag_width_mm: f64,
    /// Its greatest stitch length. mm.
    pub zigzag_length_mm: f64,
}

/// What would let a head pass that does not.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Remedy {
    /// An envelope shoulder, the front and back overlapping there: for children's tops.
    EnvelopeShoulder,
    /// A larger neck: the seam line cut this much lower all round.
    LargerNeck {
        /// How much lower, at right angles to the line. mm.
        by_mm: f64,
        /// The seam line's length then, all round. mm.
        seam_line_mm: f64,
        /// Whether what is to be stayed stays so; where not, it is left live as far as the head needs.
        stayed: bool,
    },
    /// A narrower strip: at most this finished width. mm.
    Narrower(f64),
    /// A stretchier strip: at least this stretch in its length. Percent.
    Stretchier(f64),
    /// The strip cut with its length another way in its knit.
    OtherDirection(crate::brief::Direction),
    /// A stitch that gives more.
    AnotherStitch,
    /// An opening in a shoulder seam, closed by a button or the like, at least this long. mm.
    ShoulderOpening(f64),
    /// A placket or slit from the neckline down, at least this long. mm.
    Placket(f64),
}

/// Something taken for granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Assumption {
    /// What.
    pub code: AssumptionCode,
}

/// What can be taken for granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AssumptionCode {
    /// Lengths have no shape: the chosen shape was fitted to them, and the range holds what that may cost.
    Shape,
    /// The strip is cut from the garment's own knit.
    SameKnit,
    /// The strip's recovery was not read: 90 percent is taken.
    Recovery,
    /// The garment's lengthwise stretch was not read: half the crosswise is taken.
    Lengthwise,
    /// The knit's thickness was not read: 0.8 mm is taken.
    Thickness,
    /// The strip does not run where its knit stretches most.
    StripDirection,
    /// At the seam line front and back end too far apart to meet at the neck point.
    Widths,
    /// The maker's own ratio was used in place of the rule.
    OwnRatio,
    /// The hold comes from records of how this knit came out in this finish.
    LearnedHold,
    /// Pieces are reckoned flat: cloth bends without changing its curves.
    Flat,
}

/// One number put into a rule.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Input {
    /// The symbol in the rule; in a range, the reading's field in the brief.
    pub symbol: Cow<'static, str>,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
}

/// One line of the working.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// Which figure, as its path in the plan.
    pub figure: String,
    /// The rule.
    pub rule: Rule,
    /// The rule with its symbols.
    pub formula: &'static str,
    /// The numbers put in.
    pub inputs: Vec<Input>,
    /// What comes out.
    pub result: f64,
    /// The result's unit.
    pub unit: Unit,
    /// What the rule rests on.
    pub source: Source,
}
