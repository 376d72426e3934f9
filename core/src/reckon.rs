//! From a checked brief to the plan, in the order a maker would ask.

use crate::brief::{Brief, Direction, Finish, ReadingsAt, Stretch};
use crate::clip::clips;
use crate::error::{Accepted, BriefError, BriefErrors, Problem, Unit};
use crate::facing::HalfFacing;
use crate::given::{Given, Which};
use crate::opening::opening;
use crate::plan::{
    Assumption, Ends, FacingPiece, FacingPlan, HalfLine, Outcome, Plan, SCHEMA, SeamLine, StripPlan, Suitability,
    VERSION,
};
use crate::range::{Touches, figures};
use crate::ring::Ring;
use crate::seam_line::Line;
use crate::stay::stays;
use crate::strip::{Strip, StripGiven, cures, cut_width, ends, runs_the_stretchy_way, widest_flat, worst};
use crate::working::{COMMON, OWN_RULE, STEINER, Working};

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
    reckon(Given::new(brief)?)
}

/// The same plan with every range left at its exact figure: for a line that is being dragged.
///
/// # Errors
/// As [`plan()`].
pub fn plan_without_ranges(brief: &Brief) -> Result<Plan, BriefErrors> {
    reckon(Given { ranges: false, ..Given::new(brief)? })
}

fn reckon(given: Given<'_>) -> Result<Plan, BriefErrors> {
    let brief = given.brief;
    let lines = Lines::new(&given)?;
    let mut working = Working::default();
    let seam_line = lines.report(&given, &mut working);
    let strip = strip_plan(&given, &lines, &mut working);
    let facing = facing_plan(&given, &mut working)?;
    let clips = (!matches!(brief.finish, Finish::Band(_))).then(|| {
        let comfort = brief.rules.comfort_share * given.garment.crosswise.min(given.garment.lengthwise);
        clips(&lines.ring, given.allowance, comfort, brief.rules.clip_opening_mm)
    });
    if let Some((clips, theta)) = &clips {
        working.add(
            "clips.opens_mm",
            "2 a theta, where the seam line turns round the opening",
            &[("a", given.allowance, Unit::Mm), ("theta", *theta, Unit::Ratio)],
            clips.opens_mm,
            Unit::Mm,
            STEINER,
        );
    }
    let (stays, seam_girth) = stays(&given, &lines.ring, &lines.front.1, &lines.back.1);
    let pull = 1.0 + brief.rules.pull_share * given.strip.one_way(brief.strip_direction);
    let strip_girth = strip.as_ref().map(|strip| strip.relaxed_length_mm * pull);
    let opening = opening(brief, seam_girth, strip_girth);
    working.add(
        "opening.spare_mm",
        "smallest ring - (head + margin)",
        &[
            ("ring", opening.smallest_girth_mm, Unit::Mm),
            ("head", opening.head_girth_mm, Unit::Mm),
            ("margin", opening.margin_mm, Unit::Mm),
        ],
        opening.spare_mm,
        Unit::Mm,
        opening.head_source,
    );
    knit_working(&given, &mut working);
    Ok(Plan {
        schema: SCHEMA,
        version: VERSION,
        title: brief.title.clone(),
        seam_line,
        garment_knit: given.garment.report(),
        strip_knit: given.strip.report(),
        suitability: suitability(&given),
        strip,
        facing,
        clips: clips.map(|(clips, _)| clips),
        stays,
        opening,
        assumptions: assumptions(&given, &lines),
        working: working.steps,
    })
}

/// Both halves' known and seam lines, and the half round they make.
struct Lines {
    front: (Line, Line),
    back: (Line, Line),
    ring: Ring,
}

impl Lines {
    fn new(given: &Given<'_>) -> Result<Self, BriefErrors> {
        let (front, back) = match (given.lines(Which::Front), given.lines(Which::Back)) {
            (Ok(front), Ok(back)) => (front, back),
            (front, back) => {
                let failed = front.err().into_iter().chain(back.err());
                let mut errors: Vec<BriefError> = failed.flat_map(|e| e.errors).collect();
                errors.dedup();
                return Err(BriefErrors { errors });
            }
        };
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

    fn report(&self, given: &Given<'_>, working: &mut Working) -> SeamLine {
        let whole = 2.0 * self.ring.length;
        let (front, back) = (half_line(&self.front), half_line(&self.back));
        for (figure, half) in [("seam_line.front.length_mm", &front), ("seam_line.back.length_mm", &back)] {
            let at_seam = given.brief.neckline.readings_at == ReadingsAt::SeamLine;
            // What the trims at shoulder and centre take off is the rest of Steiner's sum.
            let a = if at_seam { 0.0 } else { given.allowance };
            let theta = half.turning_deg.to_radians();
            let known = if at_seam { half.length_mm } else { half.cut_edge_length_mm };
            working.add(
                figure,
                "L + a theta - trims",
                &[
                    ("L", known, Unit::Mm),
                    ("a", a, Unit::Mm),
                    ("theta", theta, Unit::Ratio),
                    ("trims", known + a * theta - half.length_mm, Unit::Mm),
                ],
                half.length_mm,
                Unit::Mm,
                STEINER,
            );
        }
        working.add(
            "seam_line.whole_length_mm",
            "2 (front + back)",
            &[("front", front.length_mm, Unit::Mm), ("back", back.length_mm, Unit::Mm)],
            whole,
            Unit::Mm,
            "two halves",
        );
        SeamLine {
            front,
            back,
            whole_length_mm: whole,
            whole_turning_deg: 2.0 * self.ring.turning.to_degrees(),
            neck_point_turning_deg: self.ring.neck_turn.to_degrees(),
        }
    }
}

fn half_line((known, seam): &(Line, Line)) -> HalfLine {
    HalfLine {
        cut_edge_length_mm: known.length(),
        length_mm: seam.length(),
        turning_deg: seam.turning().to_degrees(),
        half_width_mm: seam.half_width(),
        depth_mm: seam.depth(),
        tightest_radius_mm: seam.tightest_radius(),
        point_half_angle_deg: seam.point_half_angle().map(f64::to_degrees),
        cut_edge: known.points(),
        seam_line: seam.points(),
        shoulder_direction: [seam.shoulder.x, seam.shoulder.y],
    }
}

/// The strip's length and width to cut, mm.
fn cut_figures(given: &Given<'_>, ring: &Ring, strip: &Strip) -> [f64; 2] {
    let (_, extra) = ends(given.brief, ring.front_point, given.allowance);
    let length = 2.0 * (strip.half_length() + extra);
    [length, cut_width(given.brief, strip.given.width, given.allowance, given.strip.turn_mm)]
}

fn strip_plan(given: &Given<'_>, lines: &Lines, working: &mut Working) -> Option<StripPlan> {
    let (brief, ring) = (given.brief, &lines.ring);
    let rule = StripGiven::new(given)?;
    let strip = Strip::new(ring, rule);
    let exact = cut_figures(given, ring, &strip);
    let [cut_length, cut_width] = figures(given, exact, |moved, touches| {
        let again = lines.ring_moved(moved, touches)?;
        let ring = again.as_ref().unwrap_or(ring);
        Some(cut_figures(moved, ring, &Strip::new(ring, StripGiven::new(moved)?)))
    });
    let (ends, end_extra_mm) = ends(brief, ring.front_point, given.allowance);
    let marks = strip.marks(ring, brief.rules.mark_tolerance_mm);
    let spans = strip.spans(ring, &marks);
    let outcome = worst(&spans);
    let widest_flat_mm = widest_flat(ring, rule);
    let cures = if outcome == Outcome::LiesFlat {
        Vec::new()
    } else {
        cures(ring, rule, brief.rules.comfort_share, widest_flat_mm)
    };
    let relaxed_length_mm = 2.0 * strip.half_length();
    let plan = StripPlan {
        cut_length,
        cut_width,
        relaxed_length_mm,
        ratio_percent: 100.0 * strip.half_length() / ring.length,
        own_ratio: rule.own_ratio.is_some(),
        hold_percent: 100.0 * rule.hold,
        comfort_percent: 100.0 * rule.comfort,
        end_extra_mm,
        ends,
        marks,
        spans,
        outcome,
        widest_flat_mm,
        quartering_error_mm: strip.even_error(),
        cures,
    };
    strip_working(given, ring, &rule, &plan, working);
    Some(plan)
}

fn strip_working(given: &Given<'_>, ring: &Ring, rule: &StripGiven, plan: &StripPlan, working: &mut Working) {
    let by_rule = match given.brief.finish {
        Finish::Band(_) => (2.0 * ring.length - rule.width * 2.0 * ring.turning) / (1.0 + rule.hold),
        _ => (2.0 * ring.length - rule.turn * 2.0 * ring.turning) / (1.0 + rule.hold),
    };
    let (text, reach) = match given.brief.finish {
        Finish::Band(_) => ("(L - w theta) / (1 + hold) + limits", rule.width),
        _ => ("(L - t theta) / (1 + hold) + limits", rule.turn),
    };
    let common = [("L", 2.0 * ring.length, Unit::Mm), ("theta", 2.0 * ring.turning, Unit::Ratio)];
    if let Some(own) = rule.own_ratio {
        let inputs = [common[0], ("ratio", own, Unit::Ratio)];
        let rule = "L ratio";
        working.add(
            "strip.relaxed_length_mm",
            rule,
            &inputs,
            plan.relaxed_length_mm,
            Unit::Mm,
            "the maker's own ratio",
        );
    } else {
        let symbol = if text.contains('w') { "w" } else { "t" };
        let inputs = [
            common[0],
            common[1],
            (symbol, reach, Unit::Mm),
            ("hold", rule.hold, Unit::Ratio),
            ("limits", plan.relaxed_length_mm - by_rule, Unit::Mm),
        ];
        working.add("strip.relaxed_length_mm", text, &inputs, plan.relaxed_length_mm, Unit::Mm, OWN_RULE);
    }
    if matches!(given.brief.finish, Finish::Band(_)) && rule.own_ratio.is_none() {
        working.add(
            "strip.hold_percent",
            "100 h S / R",
            &[
                ("h", given.brief.rules.hold_share, Unit::Ratio),
                ("S", given.strip.one_way(given.brief.strip_direction), Unit::Ratio),
                ("R", given.strip.recovery_or_usual(), Unit::Ratio),
            ],
            plan.hold_percent,
            Unit::Percent,
            OWN_RULE,
        );
    }
    working.add(
        "strip.cut_length.exact_mm",
        "relaxed + 2 end",
        &[("relaxed", plan.relaxed_length_mm, Unit::Mm), ("end", plan.end_extra_mm, Unit::Mm)],
        plan.cut_length.exact_mm,
        Unit::Mm,
        if plan.ends == Ends::Ring { COMMON } else { OWN_RULE },
    );
    width_working(given, rule, plan, working);
}

fn width_working(given: &Given<'_>, rule: &StripGiven, plan: &StripPlan, working: &mut Working) {
    let (w, a) = (("w", rule.width, Unit::Mm), ("a", given.allowance, Unit::Mm));
    let figure = "strip.cut_width.exact_mm";
    let result = plan.cut_width.exact_mm;
    let folded = matches!(&given.brief.finish, Finish::Band(b) if b.layers == crate::brief::Layers::Folded);
    if folded {
        let source =
            "a photo handbook's chapter 'Ribbed edges': 2 w + 1/2 in with a 1/4 in seam; turn of cloth our rule";
        let inputs = [w, a, ("turn", given.strip.turn_mm, Unit::Mm)];
        working.add(figure, "2 (w + a) + turn", &inputs, result, Unit::Mm, source);
    } else {
        let under = result - rule.width - given.allowance;
        working.add(
            figure,
            "w + a + turned under",
            &[w, a, ("turned under", under, Unit::Mm)],
            result,
            Unit::Mm,
            COMMON,
        );
    }
}

/// One half of the facing.
fn facing_piece(given: &Given<'_>, which: Which) -> Result<HalfFacing, BriefErrors> {
    let width = match &given.brief.finish {
        Finish::Facing(facing) => facing.width_mm + given.width_off,
        _ => 0.0,
    };
    let (arcs, off) = given.known(which)?;
    HalfFacing::new(&arcs, off, given.garment.turn_mm.min(width), width).map_err(|(problem, largest)| {
        let most = largest.map(|most| most - off.neckline);
        let accepted = match most {
            Some(most) if most >= 20.0 => Accepted::range(20.0, most, Unit::Mm),
            _ => Accepted::words("a narrower facing, or another finish"),
        };
        let problem = if problem == Problem::NothingLeft { Problem::OutOfRange } else { problem };
        BriefErrors::from(BriefError::new("finish.facing.width_mm", Some(width.to_string()), problem, accepted))
    })
}

/// Seam and outer edge of a half piece, mm.
fn edges(piece: &HalfFacing) -> [f64; 2] {
    [piece.seam_edge.length(), piece.outer_edge.length()]
}

fn facing_plan(given: &Given<'_>, working: &mut Working) -> Result<Option<FacingPlan>, BriefErrors> {
    let Finish::Facing(facing) = &given.brief.finish else { return Ok(None) };
    let (front, back) = (facing_piece(given, Which::Front)?, facing_piece(given, Which::Back)?);
    let ([a, b], [c, d]) = (edges(&front), edges(&back));
    let width = facing.width_mm + given.allowance;
    let [front_seam, front_outer, back_seam, back_outer, cut_width] =
        figures(given, [a, b, c, d, width], |moved, touches| {
            let again = |which| facing_piece(moved, which).ok().map(|piece| edges(&piece));
            // A facing is not stretched: only lines and width bear on it.
            let still = touches == Touches::Neither && moved.width_off == 0.0;
            let [a, b] = if still || touches == Touches::Back { [a, b] } else { again(Which::Front)? };
            let [c, d] = if still || touches == Touches::Front { [c, d] } else { again(Which::Back)? };
            Some([a, b, c, d, facing.width_mm + moved.width_off + moved.allowance])
        });
    let understitch = |which: Which| -> Result<f64, BriefErrors> {
        let (arcs, off) = given.known(which)?;
        let line =
            Line::moved(&arcs, crate::seam_line::TakeOff { neckline: off.neckline + facing.understitch_mm, ..off });
        Ok(line.map_or(0.0, |line| line.length()))
    };
    let understitch_length_mm = 2.0 * (understitch(Which::Front)? + understitch(Which::Back)?);
    let piece = |half: HalfFacing, seam_edge, outer_edge| FacingPiece {
        seam_edge,
        outer_edge,
        outer_line: half.outer_edge.points(),
        seam_line: half.seam_edge.points(),
    };
    working.add(
        "facing.cut_width.exact_mm",
        "w + a",
        &[("w", facing.width_mm, Unit::Mm), ("a", given.allowance, Unit::Mm)],
        width,
        Unit::Mm,
        COMMON,
    );
    Ok(Some(FacingPlan {
        front: piece(front, front_seam, front_outer),
        back: piece(back, back_seam, back_outer),
        cut_width,
        favour_mm: given.garment.turn_mm,
        understitch_length_mm,
        understitch_distance_mm: facing.understitch_mm,
    }))
}

fn suitability(given: &Given<'_>) -> Vec<Suitability> {
    let Some(asks) = given.brief.pattern_asks else { return Vec::new() };
    let rows = [
        (Direction::Crosswise, asks.crosswise_percent, given.garment.crosswise),
        (Direction::Lengthwise, asks.lengthwise_percent, given.garment.lengthwise),
    ];
    rows.into_iter()
        .filter_map(|(direction, asked, has)| {
            let asked_percent = asked?;
            let has_percent = 100.0 * has;
            // A hair under what is asked is rounding, not a lack.
            Some(Suitability { direction, asked_percent, has_percent, suits: has_percent + 1e-6 >= asked_percent })
        })
        .collect()
}

fn knit_working(given: &Given<'_>, working: &mut Working) {
    let Stretch::Readings { rest_mm, stretched_mm, released_mm } = given.brief.garment_knit.crosswise else { return };
    let (a, b) = (("A", rest_mm, Unit::Mm), ("B", stretched_mm, Unit::Mm));
    working.add(
        "garment_knit.crosswise_percent",
        "100 (B - A) / A",
        &[a, b],
        100.0 * given.garment.crosswise,
        Unit::Percent,
        "ASTM D2594 and ISO 20932-1, elongation (formula from memory)",
    );
    let Some(released) = released_mm else { return };
    let c = ("C", released, Unit::Mm);
    let recovery = 100.0 * given.garment.recovery_or_usual();
    if given.garment.recovery.is_some() {
        working.add(
            "garment_knit.recovery_percent",
            "100 (B - C) / (B - A)",
            &[a, b, c],
            recovery,
            Unit::Percent,
            COMMON,
        );
    }
    working.add(
        "garment_knit.growth_percent",
        "100 (C - A) / A",
        &[a, c],
        100.0 * given.garment.growth.unwrap_or(0.0),
        Unit::Percent,
        "ASTM D2594, growth (formula from memory)",
    );
}

fn assumptions(given: &Given<'_>, lines: &Lines) -> Vec<Assumption> {
    // Readings a tape may be off by do not make two halves that cannot be sewn together.
    let apart = (lines.front.1.half_width() - lines.back.1.half_width()).abs();
    let do_not_meet = apart > 10.0_f64.max(2.0 * given.brief.tolerances.reading_mm);
    let brief = given.brief;
    let strip = brief.strip_knit.as_ref().unwrap_or(&brief.garment_knit);
    let measured = [&brief.neckline.front.outline, &brief.neckline.back.outline]
        .iter()
        .any(|outline| matches!(outline, crate::brief::Outline::Measured(_)));
    let rows = [
        (
            measured,
            "shape",
            "Lengths have no shape: the shape you chose was fitted to them, and the range holds what that may cost.",
        ),
        (brief.strip_knit.is_none(), "same_knit", "The strip is cut from the garment's own knit."),
        (given.strip.recovery.is_none(), "recovery", "The strip's recovery was not read: 90 percent is taken."),
        (
            brief.garment_knit.lengthwise.is_none(),
            "lengthwise",
            "The garment's lengthwise stretch was not read: half the crosswise is taken.",
        ),
        (strip.thickness_mm.is_none(), "thickness", "The knit's thickness was not read: 0.8 mm is taken."),
        (!runs_the_stretchy_way(given), "strip_direction", "The strip does not run where its knit stretches most."),
        (
            do_not_meet,
            "widths",
            "At the seam line front and back end at half widths more than 10 mm apart, so they would not meet at the neck point: a reading or the shape may be off.",
        ),
        (true, "flat", "Pieces are reckoned flat: cloth bends without changing its curves."),
    ];
    rows.into_iter().filter(|row| row.0).map(|(_, code, text)| Assumption { code, text }).collect()
}
