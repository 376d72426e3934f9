//! The strip of a band, a facing strip or a bound edge: its relaxed length, what it does along the line it is sewn on, its
//! marks. A bound edge's strip is sewn a width below the finished edge and lies toward it, as a band does.
//!
//! A straight strip is cut with relaxed length r(s) ds per ds of seam line; its free edge lies at w from the
//! seam line, its element there is f ds with f = 1 - k w for a band and f = 1 + k w for a facing strip. Then the seam
//! edge's strain is 1/r - 1 and the free edge's f/r - 1.

pub(crate) mod along;
pub(crate) mod cures;
pub(crate) mod drawn_in;
pub(crate) mod lie;
pub(crate) mod marking;
pub(crate) mod marks;
pub(crate) mod parts;
pub(crate) mod rows;
pub(crate) mod rule;
pub(crate) mod sewn_on;
pub(crate) mod spans;
pub(crate) mod spread;
pub(crate) mod standing;

use std::rc::Rc;

use serde::Serialize;

use crate::ends::{Ends, Joints};
use crate::error::BriefErrors;
use crate::facing::stitching::UNDERSTITCH_STOPS_MM;
use crate::figure::{Changes, Figure};
use crate::finish::form::{CutWidth, Side};
use crate::given::Given;
use crate::learned::{LearnedHold, poisson};
use crate::lines::Lines;
use crate::narrowing::{Narrowing, Poisson, SewnPart};
use crate::range::{Touches, figures};
use crate::ring::Ring;
use along::Strip;
use cures::{Cure, Tried, cures, widest};
use marking::Marked;
use marks::{Mark, MarkPlace};
use parts::{PartBasis, PartLies};
pub use rows::StripRows;
use rows::rows;
use rule::StripGiven;
use sewn_on::SewnOn;
pub use sewn_on::StitchLine;
use spans::{AsSewn, Edges, Outcome, Quartered, Span, bends, worst};
use spread::{Places, Sharing, Spread};

/// A band's, a facing strip's or a bound edge's strip.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "read-plan", derive(serde::Deserialize), serde(deny_unknown_fields))]
pub struct StripPlan {
    /// How many strips to cut: 2 where front and back both have a point, else 1.
    pub pieces: u32,
    /// Length to cut each, joins and ends included.
    pub cut_length: Figure,
    /// Width to cut, folds and allowances included.
    pub cut_width: Figure,
    /// How the strip narrows once it is sewn, and the finished width that is cut for it.
    pub narrowing: Narrowing,
    /// The lines along it, by their distance from the raw edge that is sewn.
    pub rows: StripRows,
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
    /// What it does in front, at the neck points and at the back.
    pub parts: Vec<PartLies>,
    /// The widest finished width that passes all along; none where none from 3 mm up does, and in a plan without ranges. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub widest_mm: Option<f64>,
    /// What would come of an even spread over the whole strip, as by quartering.
    pub quartered: Quartered,
    /// What would cure a strip that does not pass, best first; nothing in a plan without ranges.
    pub cures: Vec<Cure>,
    /// A facing strip: how far its understitching stops short of each point and corner; none where there is none. mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub understitch_stops_mm: Option<f64>,
}

/// What a strip's figures were worked out from.
#[derive(Debug, Clone)]
pub(crate) struct StripBasis {
    /// The half round it is sewn on.
    pub ring: Rc<Ring>,
    pub strip: Strip,
    pub joints: Joints,
    /// The extremes along each span, and along the whole strip were it quartered.
    pub edges: Vec<Edges>,
    pub quarters: Edges,
    pub cut_width: CutWidth,
    /// What its parts' figures were worked out from.
    pub parts: Vec<PartBasis>,
    /// How the strip narrows, and the strip as a whole as far as its width goes.
    pub poisson: Poisson,
    pub whole: SewnPart,
    /// What each reading changes in the cut length and the cut width.
    pub changes: [Changes; 2],
}

/// The strip, and what it was worked out from; none for a facing.
pub(crate) fn strip_plan(given: &Given<'_>, lines: &Lines) -> Result<Option<(StripPlan, StripBasis)>, BriefErrors> {
    let Some(rule) = StripGiven::new(given) else { return Ok(None) };
    let sewn_on = SewnOn::new(given, lines, rule.width)?;
    let strip = Strip::new(&sewn_on.ring, rule);
    let whole = strip.whole(&sewn_on.ring);
    let exact = cut_figures(given, &sewn_on.ring, &strip);
    let [(cut_length, length_changes), (cut_width, width_changes)] = figures(given, exact, |moved, touches| {
        let moved_rule = StripGiven::new(moved)?;
        let ring = sewn_on.ring_moved(lines, moved, touches, moved_rule.width)?;
        // The same strip on the same line narrows otherwise, no more.
        if touches == Touches::Neither && moved_rule == rule {
            return Some(cut_figures(moved, &ring, &strip));
        }
        Some(cut_figures(moved, &ring, &Strip::new(&ring, moved_rule)))
    });
    let SewnOn { ring, stitch_line, .. } = sewn_on;
    let joints = Joints::new(given, &ring);
    let places = Places::new(&ring);
    let sharing = Sharing::new(&ring, &rule, &places);
    let spread = Spread::new(&ring, &strip, &sharing);
    let marked = Marked::new(&ring, &strip, &spread);
    let sewn = marked.fewest(given.brief.rules.mark_tolerance_mm);
    let marks = marked.marks(&sewn);
    let poisson = poisson(given);
    let at_rest = rule.width / whole.keeps(poisson.ratio);
    let width_of = |from: f64, to: f64| at_rest * strip.part(&ring, from, to).keeps(poisson.ratio);
    let bends = bends(&ring, &rule, &places);
    let as_sewn = AsSewn::new(&ring, &bends, &marked, &sewn);
    let (spans, edges): (Vec<Span>, Vec<Edges>) = as_sewn.spans(&marks, &width_of).into_iter().unzip();
    let (parts, parts_basis) = as_sewn.parts().into_iter().unzip();
    let outcome = worst(spans.iter().map(|span| span.outcome));
    let line = Tried::new(&ring, &places, given).knowing(rule.width, &bends, &sharing);
    let passes = outcome.passes() && spans.iter().all(|span| span.trusted);
    // Both are found by more verdicts, for which a drag has no time.
    let widest_mm =
        if given.quick { None } else { widest(&line, rule, given, rule.own_ratio.is_none().then_some(passes)) };
    let cures = if given.quick || outcome.passes() { Vec::new() } else { cures(&line, rule, given, widest_mm) };
    let (even, at) = strip.worst_even();
    let evenly = marked.evenly();
    let (quartered, quarters) = AsSewn::new(&ring, &bends, &marked, &evenly).quartered((even - at).abs());
    let cut_width_basis = cut_width_of(given, at_rest);
    let understitched = given.form.turns_inside() && lines.round().has_corner();
    let plan = StripPlan {
        pieces: joints.pieces(),
        cut_length,
        rows: rows(&given.form, given.allowance, &cut_width_basis, cut_width.cut_mm),
        cut_width,
        narrowing: Narrowing {
            poisson_ratio: poisson.ratio,
            from: poisson.from,
            records: poisson.learned.map(|learned| learned.records),
            stretch_percent: 100.0 * (whole.stretched() - 1.0),
            width_at_rest_mm: at_rest,
            width_as_sewn_mm: rule.width,
            width_unnarrowed_mm: at_rest * (1.0 + whole.widened()),
        },
        relaxed_length_mm: 2.0 * strip.half_length(),
        ratio_percent: 100.0 * strip.half_length() / ring.length,
        own_ratio: rule.own_ratio.is_some(),
        hold_percent: 100.0 * rule.hold,
        straight_hold_percent: (rule.side != Side::Inside).then(|| 100.0 * rule.straight_hold()),
        learned: rule.learned.map(|learned| learned.report()),
        held_line_mm: held_line(&strip, &ring),
        comfort_percent: 100.0 * rule.comfort,
        end_extra_mm: joints.main.extra,
        ends: joints.main.ends,
        back_ends: joints.back.map(|joint| joint.ends),
        join_at: joints.at,
        trim_mm: stitch_line.is_some().then_some(given.allowance),
        stitch_line,
        topstitch_mm: given.form.topstitch,
        marks,
        spans,
        outcome,
        parts,
        widest_mm,
        quartered,
        cures,
        understitch_stops_mm: understitched.then_some(UNDERSTITCH_STOPS_MM),
    };
    let basis = StripBasis {
        ring,
        strip,
        joints,
        edges,
        quarters,
        parts: parts_basis,
        cut_width: cut_width_basis,
        poisson,
        whole,
        changes: [length_changes, width_changes],
    };
    Ok(Some((plan, basis)))
}

/// The width to cut for a strip that is this wide at rest, finished.
fn cut_width_of(given: &Given<'_>, width: f64) -> CutWidth {
    given.brief.finish.one().cut_width(&given.cloths(width))
}

/// The strip's length and width to cut, mm.
fn cut_figures(given: &Given<'_>, ring: &Ring, strip: &Strip) -> [f64; 2] {
    let at_rest = strip.given.width / strip.whole(ring).keeps(poisson(given).ratio);
    [Joints::new(given, ring).cut_length(strip.half_length()), cut_width_of(given, at_rest).mm]
}

/// The length that the strip's held edge takes up all round, mm.
fn held_line(strip: &Strip, ring: &Ring) -> f64 {
    let run = strip.run(ring, 0.0, ring.length);
    let lengthened = (strip.given.hold - strip.given.straight_hold()) / (1.0 + strip.given.straight_hold());
    2.0 * (run.length - strip.given.reach() * run.theta + run.straight * lengthened)
}
