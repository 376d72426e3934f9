//! The plan as cards of markup: one function for each card, each a plain function of the plan.

use lieflat::Plan;
use lieflat::brief::Direction;
use lieflat::length::LengthUnit;
use lieflat::plan::{Figure, HalfLine, KnitReport, Outcome, Span, StripPlan};

use crate::markup::Markup;
use crate::words;

/// What the cards need beside the plan.
pub(crate) struct Terms<'a> {
    /// The unit lengths are shown in.
    pub(crate) unit: LengthUnit,
    /// The finish's name: band, tape or facing.
    pub(crate) finish: &'a str,
    /// A field's label, by its path in the brief.
    pub(crate) label: &'a dyn Fn(&str) -> String,
}

impl Terms<'_> {
    fn length(&self, mm: f64) -> String {
        words::length(mm, self.unit)
    }

    /// A figure's range and what it mostly comes from, as a sentence.
    fn range(&self, name: &str, figure: &Figure) -> String {
        let mut text = format!(
            "{name}: between {} and {}, as far as the readings can tell",
            self.length(figure.low_mm),
            self.length(figure.high_mm)
        );
        if let Some(path) = &figure.most_from {
            text.push_str(&format!("; most of that range comes from “{}”", (self.label)(path)));
        }
        text.push('.');
        text
    }
}

/// Every card: the id of its place on the page, and its markup.
pub(crate) fn cards(plan: &Plan, terms: &Terms<'_>) -> Vec<(&'static str, String)> {
    vec![
        ("headline", headline(plan, terms)),
        ("cures", cures(plan, terms)),
        ("marks", marks(plan, terms)),
        ("spans", spans(plan, terms)),
        ("facing-card", facing(plan, terms)),
        ("stays", stays(plan, terms)),
        ("head-card", head(plan, terms)),
        ("clips", clips(plan, terms)),
        ("lines", lines(plan, terms)),
        ("knit", knit(plan, terms)),
        ("assumptions", assumptions(plan)),
        ("working-body", working(plan)),
    ]
}

/// The plan in one short line, for the bar at a phone's foot and for listeners.
pub(crate) fn short(plan: &Plan, terms: &Terms<'_>) -> String {
    if let Some(strip) = &plan.strip {
        let (_, _, verdict) = words::outcome(strip.outcome);
        let head = if plan.opening.passes { "" } else { "; head does not pass" };
        return format!("Cut {}: {verdict}{head}", size(strip, terms));
    }
    plan.facing
        .as_ref()
        .map_or_else(String::new, |facing| format!("Cut the facing {} wide", terms.length(facing.cut_width.cut_mm)))
}

fn size(strip: &StripPlan, terms: &Terms<'_>) -> String {
    format!("{} × {}", terms.length(strip.cut_length.cut_mm), terms.length(strip.cut_width.cut_mm))
}

fn headline(plan: &Plan, terms: &Terms<'_>) -> String {
    let mut m = Markup::default();
    if let Some(title) = &plan.title {
        m.leaf("p", &[("class", "title")], title);
    }
    if let Some(strip) = &plan.strip {
        m.leaf("p", &[("class", "lead")], &format!("Cut the {} (length × width)", terms.finish));
        m.leaf("p", &[("class", "cut"), ("id", "cut-figure")], &size(strip, terms));
        m.leaf("p", &[("class", "range")], &terms.range("Length", &strip.cut_length));
        m.leaf("p", &[("class", "range")], &terms.range("Width", &strip.cut_width));
        verdict(&mut m, strip);
    } else if let Some(facing) = &plan.facing {
        m.leaf("p", &[("class", "lead")], "Cut the facing, from raw neck edge to raw outer edge");
        m.leaf("p", &[("class", "cut"), ("id", "cut-figure")], &terms.length(facing.cut_width.cut_mm));
        m.leaf("p", &[("class", "range")], &terms.range("Width", &facing.cut_width));
    }
    let spare = plan.opening.spare_mm.abs();
    if plan.opening.passes {
        let text = format!("The head passes, with {} to spare.", terms.length(spare));
        notice(&mut m, "flat", "●", &text);
    } else {
        let text = format!("The head does not pass: the opening is {} too small.", terms.length(spare));
        notice(&mut m, "in", "◆", &text);
    }
    m.finish()
}

fn verdict(m: &mut Markup, strip: &StripPlan) {
    let (class, mark, _) = words::outcome(strip.outcome);
    let text = match strip.outcome {
        Outcome::LiesFlat => "It lies flat all round.",
        Outcome::StandsAway => "It stands away: the free edge is slack somewhere.",
        Outcome::PullsIn => "It pulls in: an edge is stretched too far somewhere.",
    };
    notice(m, class, mark, text);
}

/// A verdict: its mark is a shape of its own, so that colour is not needed.
fn notice(m: &mut Markup, class: &str, mark: &str, text: &str) {
    m.open("p", &[("class", &format!("verdict {class}"))]);
    m.leaf("span", &[("class", "mark"), ("aria-hidden", "true")], mark);
    m.text(text);
    m.close("p");
}

fn cures(plan: &Plan, terms: &Terms<'_>) -> String {
    let Some(strip) = plan.strip.as_ref().filter(|strip| !strip.cures.is_empty()) else { return String::new() };
    let mut m = Markup::default();
    m.leaf("h3", &[], "What would cure it");
    let items: Vec<String> = strip.cures.iter().map(|cure| words::cure(*cure, terms.unit)).collect();
    m.list(&items);
    m.finish()
}

fn marks(plan: &Plan, terms: &Terms<'_>) -> String {
    let Some(strip) = &plan.strip else { return String::new() };
    let mut m = Markup::default();
    m.leaf("h3", &[], "Marks");
    let rows: Vec<Vec<String>> = strip
        .marks
        .iter()
        .map(|mark| {
            vec![
                words::place(mark.place).to_owned(),
                terms.length(mark.on_strip_mm),
                terms.length(mark.on_seam_line_mm),
            ]
        })
        .collect();
    let caption = "From centre back to centre front, one side; the other side mirrors it. Measured from centre back.";
    m.table(caption, &["Place", "On the strip", "On the seam line"], &rows);
    if strip.end_extra_mm > 0.0 {
        let text = format!("Each end of the strip has {} more for its join or end.", terms.length(strip.end_extra_mm));
        m.leaf("p", &[], &text);
    }
    m.leaf("p", &[], &words::ends(strip.ends, terms.unit));
    let text = format!(
        "Marking plain quarters instead would be off by {} at the worst place.",
        terms.length(strip.quartering_error_mm)
    );
    m.leaf("p", &[], &text);
    m.finish()
}

fn spans(plan: &Plan, terms: &Terms<'_>) -> String {
    let Some(strip) = &plan.strip else { return String::new() };
    let mut m = Markup::default();
    m.leaf("h3", &[], "Between the marks");
    let rows: Vec<Vec<String>> = strip
        .spans
        .iter()
        .map(|span| {
            vec![
                format!("{} to {}", words::place(span.from), words::place(span.to)),
                format!("{} onto {}", terms.length(span.strip_mm), terms.length(span.seam_line_mm)),
                span_verdict(span, strip, terms),
            ]
        })
        .collect();
    m.table("What the strip does on each span.", &["Span", "Strip onto seam line", "What it does"], &rows);
    let whole = format!(
        "All round, {} of strip goes onto {} of seam line: {}{}.",
        terms.length(strip.relaxed_length_mm),
        terms.length(plan.seam_line.whole_length_mm),
        words::percent(strip.ratio_percent),
        if strip.own_ratio { ", your own ratio" } else { "" }
    );
    m.leaf("p", &[], &whole);
    let text = match strip.widest_flat_mm {
        Some(mm) => format!("The widest that lies flat here is {} finished.", terms.length(mm)),
        None => "No finished width lies flat all round here with this knit.".to_owned(),
    };
    m.leaf("p", &[], &text);
    m.finish()
}

fn span_verdict(span: &Span, strip: &StripPlan, terms: &Terms<'_>) -> String {
    let (_, mark, verdict) = words::outcome(span.outcome);
    let how = match span.outcome {
        Outcome::LiesFlat if span.free_edge_least_percent < 0.0 => format!(
            "{} of slack evens out along it; free edge held by up to {}",
            terms.length(span.slack_mm),
            words::percent(span.free_edge_most_percent)
        ),
        Outcome::LiesFlat => format!(
            "free edge held by {} to {}",
            words::percent(span.free_edge_least_percent),
            words::percent(span.free_edge_most_percent)
        ),
        Outcome::StandsAway => {
            format!("{} slack, up to {} off the flat", terms.length(span.slack_mm), terms.length(span.stands_off_mm))
        }
        Outcome::PullsIn => format!(
            "an edge stretched {}, where {} is comfortable",
            words::percent(span.seam_edge_most_percent.max(span.free_edge_most_percent)),
            words::percent(strip.comfort_percent)
        ),
    };
    format!("{mark} {verdict}: {how}")
}

fn facing(plan: &Plan, terms: &Terms<'_>) -> String {
    let Some(facing) = &plan.facing else { return String::new() };
    let mut m = Markup::default();
    m.leaf("h3", &[], "Facing pieces");
    let rows: Vec<Vec<String>> = [("front", &facing.front), ("back", &facing.back)]
        .iter()
        .map(|(name, piece)| {
            vec![
                format!("{name}, by half"),
                terms.length(piece.seam_edge.cut_mm),
                terms.length(piece.outer_edge.cut_mm),
            ]
        })
        .collect();
    m.table("Finished lengths of each half.", &["Piece", "Seam edge", "Outer edge"], &rows);
    let text = format!(
        "The seam edge is drawn in by {} so that the seam rolls to the inside. Understitch {} from the seam, {} all round.",
        terms.length(facing.favour_mm),
        terms.length(facing.understitch_distance_mm),
        terms.length(facing.understitch_length_mm)
    );
    m.leaf("p", &[], &text);
    m.finish()
}

fn stays(plan: &Plan, terms: &Terms<'_>) -> String {
    let mut m = Markup::default();
    m.leaf("h3", &[], "Stay tape");
    if plan.stays.zones.is_empty() {
        m.leaf("p", &[], "Nothing needs a stay.");
    }
    let items: Vec<String> = plan
        .stays
        .zones
        .iter()
        .map(|zone| {
            let tape = zone.tape_each_mm.map_or_else(
                || format!("{} pieces as long as the seam", zone.pieces),
                |mm| format!("{} × {}", zone.pieces, terms.length(mm)),
            );
            let snip = if zone.snip_or_bias { " Snip it or cut it on the bias: the curve is tight." } else { "" };
            format!(
                "{}: {tape}, its nearer edge {} from the raw edge. Why: {} (stretch along the seam {}).{snip}",
                first_upper(words::part(zone.part)),
                terms.length(zone.from_raw_edge_mm),
                words::reason(zone.reason),
                words::percent(zone.stretch_percent)
            )
        })
        .collect();
    if !items.is_empty() {
        m.list(&items);
        if plan.stays.total_tape_mm > 0.0 {
            m.leaf("p", &[], &format!("Tape in all, of known lengths: {}.", terms.length(plan.stays.total_tape_mm)));
        }
    }
    if !plan.stays.given_up.is_empty() {
        let parts: Vec<&str> = plan.stays.given_up.iter().map(|one| words::part(one.part)).collect();
        let text = format!("Given up so that the head passes: {}.", parts.join(", "));
        m.leaf("p", &[], &text);
    }
    m.finish()
}

fn head(plan: &Plan, terms: &Terms<'_>) -> String {
    let opening = &plan.opening;
    let mut m = Markup::default();
    m.leaf("h3", &[], "Over the head");
    let verdict = if opening.passes { "● passes" } else { "◆ does not pass" };
    let rows = vec![
        vec!["Head".to_owned(), terms.length(opening.head_girth_mm)],
        vec!["Ease over it".to_owned(), terms.length(opening.margin_mm)],
        vec!["Seam line, pulled".to_owned(), terms.length(opening.seam_line_girth_mm)],
        vec![
            "Free edge, pulled".to_owned(),
            opening.strip_girth_mm.map_or_else(|| "—".to_owned(), |mm| terms.length(mm)),
        ],
        vec!["Smallest ring".to_owned(), terms.length(opening.smallest_girth_mm)],
        vec![
            "Verdict".to_owned(),
            format!(
                "{verdict}, {} {}",
                terms.length(opening.spare_mm.abs()),
                if opening.passes { "to spare" } else { "short" }
            ),
        ],
    ];
    m.table("Girths.", &["What", "Figure"], &rows);
    m.leaf("p", &[("class", "source")], &format!("Head: {}", opening.head_source.text()));
    let text = format!(
        "The stitch itself stretches {}: {}",
        words::percent(opening.stitch_extension_percent),
        opening.stitch_source.text()
    );
    m.leaf("p", &[("class", "source")], &text);
    m.finish()
}

fn clips(plan: &Plan, terms: &Terms<'_>) -> String {
    let Some(clips) = &plan.clips else { return String::new() };
    let mut m = Markup::default();
    m.leaf("h3", &[], "Clips in the allowance");
    let text = format!(
        "The turned edge must open by {} in all; the knit gives {} of that. Clips all round: {}.",
        terms.length(clips.opens_mm),
        terms.length(clips.knit_gives_mm),
        clips.count
    );
    m.leaf("p", &[], &text);
    if !clips.places_mm.is_empty() {
        let places: Vec<String> = clips.places_mm.iter().map(|mm| terms.length(*mm)).collect();
        m.leaf("p", &[], &format!("On each half, from centre back along the seam line: {}.", places.join(", ")));
    }
    m.finish()
}

fn lines(plan: &Plan, terms: &Terms<'_>) -> String {
    let mut m = Markup::default();
    m.leaf("h3", &[], "The seam line");
    let line = &plan.seam_line;
    let row = |name: &str, get: &dyn Fn(&HalfLine) -> String| vec![name.to_owned(), get(&line.front), get(&line.back)];
    let rows = vec![
        row("Cut edge", &|half| terms.length(half.cut_edge_length_mm)),
        row("Seam line", &|half| terms.length(half.length_mm)),
        row("Half width", &|half| terms.length(half.half_width_mm)),
        row("Depth", &|half| terms.length(half.depth_mm)),
        row("Turning", &|half| format!("{}°", words::number(half.turning_deg, 1))),
        row("Tightest radius", &|half| {
            half.tightest_radius_mm.map_or_else(|| "straight".to_owned(), |mm| terms.length(mm))
        }),
    ];
    m.table("By halves, at the seam line.", &["What", "Front", "Back"], &rows);
    let text = format!(
        "The whole round: {}, turning {}°.",
        terms.length(line.whole_length_mm),
        words::number(line.whole_turning_deg, 1)
    );
    m.leaf("p", &[], &text);
    m.finish()
}

fn knit(plan: &Plan, _terms: &Terms<'_>) -> String {
    let mut m = Markup::default();
    m.leaf("h3", &[], "The knits");
    let (garment, strip) = (&plan.garment_knit, &plan.strip_knit);
    let row = |name: &str, get: &dyn Fn(&KnitReport) -> String| vec![name.to_owned(), get(garment), get(strip)];
    let rows = vec![
        row("Crosswise", &|knit| words::percent(knit.crosswise_percent)),
        row("Lengthwise", &|knit| words::percent(knit.lengthwise_percent)),
        row("Diagonal", &|knit| words::percent(knit.diagonal_percent)),
        row("Recovery", &|knit| words::percent(knit.recovery_percent)),
        row("Growth", &|knit| knit.growth_percent.map_or_else(|| "not read".to_owned(), words::percent)),
    ];
    m.table("Stretch and what comes back.", &["What", "Garment", "Strip or facing"], &rows);
    m.leaf("p", &[], &format!("Recovery of the strip’s knit: {}.", words::recovery(strip.recovery)));
    if plan.strip_knit.turns_on_the_other_grain {
        m.leaf("p", &[], "It stretches alike both ways: pieces may be turned on the other grain.");
    }
    let items: Vec<String> = plan
        .suitability
        .iter()
        .map(|one| {
            let way = match one.direction {
                Direction::Crosswise => "Crosswise",
                Direction::Lengthwise => "Lengthwise",
                Direction::Diagonal => "Diagonally",
            };
            let verdict = if one.suits { "● enough" } else { "◆ too little" };
            format!(
                "{way} the pattern asks {} and the knit has {}: {verdict}.",
                words::percent(one.asked_percent),
                words::percent(one.has_percent)
            )
        })
        .collect();
    if !items.is_empty() {
        m.list(&items);
    }
    m.finish()
}

fn assumptions(plan: &Plan) -> String {
    if plan.assumptions.is_empty() {
        return String::new();
    }
    let mut m = Markup::default();
    m.leaf("h3", &[], "Taken for granted");
    let items: Vec<String> = plan.assumptions.iter().map(|one| words::assumption(one.code).to_owned()).collect();
    m.list(&items);
    m.finish()
}

fn working(plan: &Plan) -> String {
    let mut m = Markup::default();
    m.open("ol", &[("class", "steps")]);
    for step in &plan.working {
        let inputs: Vec<String> = step
            .inputs
            .iter()
            .map(|input| format!("{} = {}", input.symbol, words::exact(input.value, input.unit)))
            .collect();
        m.open("li", &[]);
        m.leaf("code", &[], &step.figure);
        m.leaf("p", &[("class", "rule")], step.formula);
        m.leaf("p", &[], &inputs.join("; "));
        m.leaf("p", &[("class", "result")], &format!("Result: {}", words::exact(step.result, step.unit)));
        m.leaf("p", &[("class", "source")], step.source.text());
        m.close("li");
    }
    m.close("ol");
    m.finish()
}

fn first_upper(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map(|first| format!("{}{}", first.to_ascii_uppercase(), chars.as_str())).unwrap_or_default()
}
