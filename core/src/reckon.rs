//! From a checked brief to the plan, in the order a maker would ask.

use crate::assumption::{Assumption, AssumptionCode};
use crate::brief::{Brief, Direction, Facing, Finish, Outline};
use crate::clip::{self, Clips, Round, Turned};
use crate::clip::{ClipKind, ClipPlan};
use crate::ends::Joints;
use crate::error::{BriefError, BriefErrors};
use crate::explain;
use crate::facing::{self, HalfFacing, too_wide};
use crate::facing::{FacingPiece, FacingPlan, Interfacing};
use crate::girth::Rings;
use crate::given::{Given, Which};
use crate::knit::Suitability;
use crate::knit::fibre_notes;
use crate::learned::LearnedHold;
use crate::learned::{self, Learned};
use crate::lines::{HalfLine, SeamLine};
use crate::opening::{needed, opening, stitch_extension};
use crate::order::order;
use crate::plan::{Plan, SCHEMA, VERSION};
use crate::range::{Touches, figures};
use crate::remedy::remedies;
use crate::ring::Ring;
use crate::seam_line::Line;
use crate::stay::zone::StayZone;
use crate::stay::{choose, stays};
use crate::strip::spans::{Outcome, Span};
use crate::strip::{
    Edges, Side, Strip, StripGiven, TOPSTITCH_INSIDE_MM, cures, cut_width, runs_the_stretchy_way, widest_flat, worst,
};
use crate::strip::{StitchLine, StripPlan};
use crate::working::{Changes, Working};

/// Works everything out from a brief.
///
/// ```
/// let brief = lieflat::example::brief();
/// let plan = lieflat::plan(&brief)?;
/// let strip = plan.strip.ok_or("a band has a strip")?;
/// assert!(strip.cut_length.cut_mm < plan.seam_line.whole_length_mm, "a stretched band is shorter than its seam");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// Every problem of the brief at once, each with its field, its value and what is accepted.
pub fn plan(brief: &Brief) -> Result<Plan, BriefErrors> {
    reckon(&Given::new(brief)?)
}

/// The same figures without ranges and without the working, for a drawing that is dragged: each range is the exact
/// figure alone, and `working` is empty.
///
/// # Errors
/// As [`plan`].
pub fn plan_without_ranges(brief: &Brief) -> Result<Plan, BriefErrors> {
    let mut given = Given::new(brief)?;
    given.quick = true;
    reckon(&given)
}

fn reckon(given: &Given<'_>) -> Result<Plan, BriefErrors> {
    let brief = given.brief;
    let lines = Lines::new(given)?;
    let mut working = Working { off: given.quick, ..Working::default() };
    let seam_line = lines.report(given, &mut working);
    explain::knits(given, &mut working);
    let (strip, rings) = strip_plan(given, &lines, &mut working)?.unzip();
    let stitch = stitch_extension(brief.stitch).0;
    let rings = rings.unwrap_or_else(|| Rings::of_facing(given, &lines.ring, stitch));
    let chosen = choose(given, &lines.ring, &rings, needed(brief));
    let (reach, stayed) = (chosen.reach, chosen.runs());
    let stays = stays(given, &lines.ring, chosen, &lines.front.1, &lines.back.1, &mut working);
    // What is stayed does not give, and decides how far a wide allowance is trimmed: clips come after the stays.
    let clips = clip_plan(given, &lines, &stays.zones, &mut working)?;
    let facing = match &brief.finish {
        Finish::Facing(facing) => Some(facing_plan(given, facing, &lines, clips.as_ref(), &mut working)?),
        _ => None,
    };
    let mut opening = opening(brief, &rings, &reach, &stayed);
    if !given.quick {
        opening.remedies = remedies(given, &opening);
    }
    explain::opening(given, &opening, &rings, &reach, &stayed, &mut working);
    let mut plan = Plan {
        schema: SCHEMA,
        version: VERSION,
        title: brief.title.clone(),
        seam_line,
        garment_knit: given.garment.report(),
        strip_knit: given.strip.report(),
        suitability: suitability(given),
        fibre_notes: fibre_notes(&brief.garment_knit, &given.garment),
        strip,
        facing,
        clips,
        stays,
        opening,
        order: Vec::new(),
        assumptions: assumptions(given, &lines),
        working: working.steps,
    };
    plan.order = order(brief, &plan);
    Ok(plan)
}

/// Both halves' known and seam lines, and the half round they make.
struct Lines {
    front: (Line, Line),
    back: (Line, Line),
    ring: Ring,
}

impl Lines {
    fn new(given: &Given<'_>) -> Result<Self, BriefErrors> {
        let (front, back) = both(|which| given.lines(which))?;
        let ring = Ring::new(&front.1, &back.1);
        Ok(Self { front, back, ring })
    }

    /// The half round where a reading has moved; none where the reading does not bear on it. Fails where no
    /// neckline has the moved reading.
    fn ring_moved(&self, moved: &Given<'_>, touches: Touches) -> Option<Option<Ring>> {
        let (front, back) = match touches {
            Touches::Neither => return Some(None),
            Touches::Front => (&moved.seam_line(Which::Front).ok()?, &self.back.1),
            Touches::Back => (&self.front.1, &moved.seam_line(Which::Back).ok()?),
            Touches::Both => (&moved.seam_line(Which::Front).ok()?, &moved.seam_line(Which::Back).ok()?),
        };
        Some(Some(Ring::new(front, back)))
    }

    /// The seam line all round, as clips see it.
    fn round(&self) -> Round<'_> {
        Round { ring: &self.ring, front: &self.front.1, back: &self.back.1 }
    }

    fn report(&self, given: &Given<'_>, working: &mut Working) -> SeamLine {
        let seam_line = SeamLine {
            front: half_line(given.centre_taken_off(Which::Front), &self.front),
            back: half_line(given.centre_taken_off(Which::Back), &self.back),
            whole_length_mm: 2.0 * self.ring.length,
            whole_turning_deg: 2.0 * self.ring.turning.to_degrees(),
            neck_point_turning_deg: self.ring.neck_turn.to_degrees(),
        };
        explain::seam_line(given, [&self.front.1, &self.back.1], &self.ring, &seam_line, working);
        seam_line
    }
}

/// Something of both halves, front first; the problems of both where either fails.
fn both<T>(of: impl Fn(Which) -> Result<T, BriefErrors>) -> Result<(T, T), BriefErrors> {
    match (of(Which::Front), of(Which::Back)) {
        (Ok(front), Ok(back)) => Ok((front, back)),
        (front, back) => {
            let failed = front.err().into_iter().chain(back.err());
            let mut errors: Vec<BriefError> = failed.flat_map(|e| e.errors).collect();
            errors.dedup();
            Err(BriefErrors { errors })
        }
    }
}

fn half_line(centre: f64, (known, seam): &(Line, Line)) -> HalfLine {
    let (cut_edge, cut_edge_length_mm) = known.without_loops();
    HalfLine {
        cut_edge_length_mm,
        length_mm: seam.length(),
        turning_deg: seam.turning().to_degrees(),
        half_width_mm: seam.half_width(),
        depth_mm: seam.depth(),
        tightest_radius_mm: seam.tightest_radius(),
        point_half_angle_deg: seam.point_half_angle().map(f64::to_degrees),
        centre_line_x_mm: centre,
        cut_edge,
        seam_line: seam.points(),
        shoulder_direction: [seam.shoulder.x, seam.shoulder.y],
    }
}

/// The strip's length and width to cut, mm.
fn cut_figures(given: &Given<'_>, ring: &Ring, strip: &Strip) -> [f64; 2] {
    [Joints::new(given, ring).cut_length(strip.half_length()), cut_width(given, strip.given.width)]
}

/// What the strip is sewn on: the seam line, or a bound edge's stitch line with both its halves.
struct SewnOn {
    ring: Ring,
    stitch_line: Option<StitchLine>,
    halves: Option<(Line, Line)>,
}

impl SewnOn {
    fn new(given: &Given<'_>, lines: &Lines, width: f64) -> Result<Self, BriefErrors> {
        if !matches!(given.brief.finish, Finish::Bound(_)) {
            return Ok(Self { ring: lines.ring.clone(), stitch_line: None, halves: None });
        }
        let (front, back) = both(|which| given.stitch_line(which, width))?;
        let ring = Ring::new(&front, &back);
        let stitch_line = StitchLine { length_mm: 2.0 * ring.length, front: front.points(), back: back.points() };
        Ok(Self { ring, stitch_line: Some(stitch_line), halves: Some((front, back)) })
    }

    /// The half round where a reading has moved; a line that it does not bear on stays. Fails where there is none.
    fn ring_moved(&self, lines: &Lines, moved: &Given<'_>, touches: Touches, width: f64) -> Option<Ring> {
        let Some((front, back)) = &self.halves else {
            return Some(lines.ring_moved(moved, touches)?.unwrap_or_else(|| self.ring.clone()));
        };
        let line = |which| moved.stitch_line(which, width).ok();
        // A width sewn otherwise moves both halves.
        let touches = if moved.width_off == 0.0 { touches } else { Touches::Both };
        Some(match touches {
            Touches::Neither => self.ring.clone(),
            Touches::Front => Ring::new(&line(Which::Front)?, back),
            Touches::Back => Ring::new(front, &line(Which::Back)?),
            Touches::Both => Ring::new(&line(Which::Front)?, &line(Which::Back)?),
        })
    }
}

/// The strip, and the rings that the head must pass.
fn strip_plan(
    given: &Given<'_>,
    lines: &Lines,
    working: &mut Working,
) -> Result<Option<(StripPlan, Rings)>, BriefErrors> {
    let Some(rule) = StripGiven::new(given) else { return Ok(None) };
    let brief = given.brief;
    let sewn_on = SewnOn::new(given, lines, rule.width)?;
    let ring = &sewn_on.ring;
    let strip = Strip::new(ring, rule);
    let exact = cut_figures(given, ring, &strip);
    let [(cut_length, length_changes), (cut_width, width_changes)] = figures(given, exact, |moved, touches| {
        let rule = StripGiven::new(moved)?;
        let ring = sewn_on.ring_moved(lines, moved, touches, rule.width)?;
        Some(cut_figures(moved, &ring, &Strip::new(&ring, rule)))
    });
    let joints = Joints::new(given, ring);
    let marks = strip.marks(ring, brief.rules.mark_tolerance_mm);
    let (spans, edges): (Vec<Span>, Vec<Edges>) = strip.spans(ring, &marks).into_iter().unzip();
    let outcome = worst(&spans);
    let widest_flat_mm = widest_flat(&lines.ring, rule, given);
    let cures = if outcome == Outcome::LiesFlat { Vec::new() } else { cures(ring, rule, given, widest_flat_mm) };
    let (even, at) = strip.worst_even();
    let plan = StripPlan {
        pieces: joints.pieces(),
        cut_length,
        cut_width,
        relaxed_length_mm: 2.0 * strip.half_length(),
        ratio_percent: 100.0 * strip.half_length() / ring.length,
        own_ratio: rule.own_ratio.is_some(),
        hold_percent: 100.0 * rule.hold,
        straight_hold_percent: (rule.side == Side::Band).then(|| 100.0 * rule.straight_hold()),
        learned: rule.learned.map(learned_hold),
        held_line_mm: held_line(&strip, ring),
        comfort_percent: 100.0 * rule.comfort,
        end_extra_mm: joints.main.extra,
        ends: joints.main.ends,
        back_ends: joints.back.map(|joint| joint.ends),
        join_at: joints.at,
        trim_mm: sewn_on.stitch_line.is_some().then_some(given.allowance),
        stitch_line: sewn_on.stitch_line,
        topstitch_mm: matches!(brief.finish, Finish::Tape(_)).then(|| (rule.width - TOPSTITCH_INSIDE_MM).max(1.0)),
        marks,
        spans,
        outcome,
        widest_flat_mm,
        quartering_error_mm: (even - at).abs(),
        cures,
        understitch_stops_mm: (matches!(brief.finish, Finish::Tape(_)) && lines.round().has_corner())
            .then_some(facing::UNDERSTITCH_STOPS_MM),
    };
    if !working.is_off() {
        let reckoned = explain::Reckoned { given, edge: &lines.ring, ring, strip: &strip, joints: &joints };
        reckoned.strip(&plan, &edges, [&length_changes, &width_changes], working);
    }
    let (stretch, stitch) = (given.strip.one_way(brief.strip_direction), stitch_extension(brief.stitch).0);
    Ok(Some((plan, Rings::of_strip(given, &lines.ring, ring, &strip, stretch, stitch))))
}

/// The length that the strip's held edge takes up all round, mm.
fn held_line(strip: &Strip, ring: &Ring) -> f64 {
    let run = strip.run(ring, 0.0, ring.length);
    let lengthened = (strip.given.hold - strip.given.straight_hold()) / (1.0 + strip.given.straight_hold());
    2.0 * (run.length - strip.given.reach() * run.theta + run.straight * lengthened)
}

fn learned_hold(learned: Learned) -> LearnedHold {
    let (low, high) = learned.range();
    LearnedHold {
        records: learned.records,
        mean_percent: 100.0 * learned.mean,
        usual_percent: 100.0 * learned.usual,
        low_percent: 100.0 * low,
        high_percent: 100.0 * high,
    }
}

fn clip_plan(
    given: &Given<'_>,
    lines: &Lines,
    stayed: &[StayZone],
    working: &mut Working,
) -> Result<Option<ClipPlan>, BriefErrors> {
    let (brief, ring) = (given.brief, &lines.ring);
    let round = lines.round();
    let trim_to_mm = clip::trim_to(given, stayed);
    let width = trim_to_mm.unwrap_or(given.allowance);
    let turns = brief.finish.turns_inside();
    let clips = if turns {
        let comfort = brief.rules.comfort_share * given.garment.crosswise.min(given.garment.lengthwise);
        Clips::of_turned(round, &Turned { width, comfort, opening: brief.rules.clip_opening_mm, stayed })
    } else {
        Clips::of_corners(round)
    };
    if !turns && clips.clips.is_empty() {
        return Ok(None);
    }
    let trimmed = |which| match trim_to_mm {
        Some(to) => given.trimmed_edge(which, to).map(|line| line.points_without_loops()),
        None => Ok(Vec::new()),
    };
    let (trimmed_front, trimmed_back) = both(trimmed)?;
    let lines = if let Finish::Bound(bound) = &brief.finish {
        round.bound_lines(&clips.clips, bound.width_mm)
    } else if trim_to_mm.is_some() {
        round.lines(&clips.clips, [&trimmed_front, &trimmed_back], width)
    } else {
        let raw = [&lines.front.0, &lines.back.0].map(Line::points_without_loops);
        round.lines(&clips.clips, raw.each_ref().map(Vec::as_slice), width)
    };
    let plan = ClipPlan {
        trim_to_mm,
        trimmed_front,
        trimmed_back,
        opens_mm: 2.0 * width * 2.0 * clips.theta,
        knit_gives_mm: 2.0 * clips.gives,
        least_apart_mm: clip::LEAST_APART_MM,
        places_mm: clips.clips.iter().map(|clip| clip.s).collect(),
        count: clips.count(ring, |_| true),
        into_corners: clips.count(ring, |kind| kind != ClipKind::Curve),
        lines,
    };
    explain::clips(&plan, &clips, width, working);
    Ok(Some(plan))
}

/// One half of the facing: what its figures come from.
fn half_facing(given: &Given<'_>, facing: &Facing, which: Which) -> Result<HalfFacing, BriefErrors> {
    let width = facing.width_mm + given.width_off;
    let (arcs, off) = given.known(which)?;
    HalfFacing::new(&arcs, off, width).map_err(|failed| too_wide(failed, width, off.neckline))
}

/// Seam and outer edge of a half piece, mm.
fn edges(piece: &HalfFacing) -> [f64; 2] {
    [piece.seam_edge.length(), piece.outer_edge.length()]
}

fn facing_plan(
    given: &Given<'_>,
    facing: &Facing,
    lines: &Lines,
    clips: Option<&ClipPlan>,
    working: &mut Working,
) -> Result<FacingPlan, BriefErrors> {
    let (front, back) = both(|which| half_facing(given, facing, which))?;
    let ([a, b], [c, d]) = (edges(&front), edges(&back));
    let width = |given: &Given<'_>| facing.width_mm + given.width_off + given.allowance + facing.edge_allowance_mm;
    let reckoned = figures(given, [a, b, c, d, width(given)], |moved, touches| {
        let again = |which| half_facing(moved, facing, which).ok().map(|piece| edges(&piece));
        // A facing is not stretched: only lines and width bear on it.
        let still = touches == Touches::Neither && moved.width_off == 0.0;
        let [a, b] = if still || touches == Touches::Back { [a, b] } else { again(Which::Front)? };
        let [c, d] = if still || touches == Touches::Front { [c, d] } else { again(Which::Back)? };
        Some([a, b, c, d, width(moved)])
    });
    let changes: [Changes; 5] = reckoned.each_ref().map(|(_, changes)| changes.clone());
    let [front_seam, front_outer, back_seam, back_outer, cut_width] = reckoned.map(|(figure, _)| figure);
    let stitching = |which| {
        let (arcs, off) = given.known(which)?;
        let half = if which == Which::Front { &front } else { &back };
        facing::Lines::new(given, which, facing, (&arcs, off), (&half.seam_edge, lines.ring.neck_turn))
            .map_err(|failed| too_wide(failed, facing.width_mm, off.neckline))
    };
    let (front_lines, back_lines) = both(stitching)?;
    let piece = |which, half: &HalfFacing, lines_of: &facing::Lines, own: [_; 2]| -> FacingPiece {
        facing::piece(given, which, half, lines_of, clips, own)
    };
    let stitched = [&front_lines, &back_lines];
    let understitch = stitched.map(facing::Lines::understitch_length);
    let topstitch = front_lines.topstitch.as_ref().zip(back_lines.topstitch.as_ref());
    let topstitch = topstitch.map(|(front, back)| [front.length(), back.length()]);
    let plan = FacingPlan {
        front: piece(Which::Front, &front, &front_lines, [front_seam, front_outer]),
        back: piece(Which::Back, &back, &back_lines, [back_seam, back_outer]),
        cut_width,
        favour_mm: given.garment.turn_mm.min(facing.width_mm),
        interfacing: Interfacing::FusibleKnit,
        understitch_length_mm: 2.0 * understitch.iter().sum::<f64>(),
        understitch_distance_mm: facing.understitch_mm,
        understitch_stops_mm: stitched.iter().any(|lines| lines.stops_short()).then_some(facing::UNDERSTITCH_STOPS_MM),
        topstitch_length_mm: topstitch.map(|halves| 2.0 * halves.iter().sum::<f64>()),
    };
    if !working.is_off() {
        explain::facing(given, facing, &plan, [&front, &back], stitched, topstitch, &changes, working);
    }
    Ok(plan)
}

fn suitability(given: &Given<'_>) -> Vec<Suitability> {
    let Some(asks) = given.brief.pattern_asks else { return Vec::new() };
    let (across, along) = (given.garment.crosswise, given.garment.lengthwise);
    let rows = [
        (Direction::Crosswise, asks.crosswise_percent, across),
        (Direction::Lengthwise, asks.lengthwise_percent, along),
    ];
    // A hair under what is asked is rounding, not a lack.
    let enough = |asked: f64, has: f64| 100.0 * has + 1e-6 >= asked;
    let asked_of = |asked: Option<f64>, has: f64| asked.is_none_or(|asked| enough(asked, has));
    let suits_turned = asked_of(asks.crosswise_percent, along) && asked_of(asks.lengthwise_percent, across);
    rows.into_iter()
        .filter_map(|(direction, asked, has)| {
            let asked_percent = asked?;
            let suits = enough(asked_percent, has);
            let short_by_points = if suits { 0.0 } else { asked_percent - 100.0 * has };
            Some(Suitability {
                direction,
                asked_percent,
                has_percent: 100.0 * has,
                suits,
                short_by_points,
                suits_turned,
            })
        })
        .collect()
}

fn assumptions(given: &Given<'_>, lines: &Lines) -> Vec<Assumption> {
    // Readings a tape may be off by do not make two halves that cannot be sewn together.
    let apart = (lines.front.1.half_width() - lines.back.1.half_width()).abs();
    let do_not_meet = apart > 10.0_f64.max(2.0 * given.brief.tolerances.reading_mm);
    let brief = given.brief;
    let strip = brief.strip_knit.as_ref().unwrap_or(&brief.garment_knit);
    let outlines = [&brief.neckline.front.outline, &brief.neckline.back.outline];
    let measured = outlines.iter().any(|outline| matches!(outline, Outline::Measured(_)));
    let own_ratio = StripGiven::new(given).is_some_and(|rule| rule.own_ratio.is_some());
    let rows = [
        (measured, AssumptionCode::Shape),
        (brief.strip_knit.is_none(), AssumptionCode::SameKnit),
        (given.strip.recovery.is_none(), AssumptionCode::Recovery),
        (brief.garment_knit.lengthwise.is_none(), AssumptionCode::Lengthwise),
        (strip.thickness_mm.is_none(), AssumptionCode::Thickness),
        (!runs_the_stretchy_way(given), AssumptionCode::StripDirection),
        (do_not_meet, AssumptionCode::Widths),
        (own_ratio, AssumptionCode::OwnRatio),
        (!own_ratio && !learned::holds(brief).is_empty(), AssumptionCode::LearnedHold),
        (true, AssumptionCode::Flat),
    ];
    rows.into_iter().filter(|row| row.0).map(|(_, code)| Assumption { code }).collect()
}
