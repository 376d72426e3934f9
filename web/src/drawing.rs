//! The plan drawn to one scale: the neckline laid flat, and the strip beneath it. User units are mm.

use lieflat::Plan;
use lieflat::length::LengthUnit;
use lieflat::plan::{Ends, HalfLine, MarkPlace, Part, StripPlan};

use crate::markup::Markup;
use crate::words;

type Points = [[f64; 2]];

/// The drawing as SVG.
pub(crate) fn drawing(plan: &Plan, unit: LengthUnit) -> String {
    let (front, back) = (&plan.seam_line.front, &plan.seam_line.back);
    let half_width = [front, back].iter().fold(40.0_f64, |most, half| most.max(reach(half, 0)));
    let strip_size = plan.strip.as_ref().map(|s| (s.cut_length.cut_mm, s.cut_width.cut_mm));
    let width = (half_width * 2.0).max(strip_size.map_or(0.0, |s| s.0)).max(200.0) + 60.0;
    let text = width / 30.0;
    let top = neck_point(back) - reach(back, 1) - text * 3.2;
    let neck_foot = reach(front, 1) - neck_point(front) + text * 3.0;
    let strip_top = neck_foot + text * 2.6;
    let foot = strip_size.map_or(neck_foot, |s| strip_top + s.1 + text * 2.6);

    let mut pen = Pen { m: Markup::default(), text };
    let view = format!("{} {} {} {}", r(-width / 2.0), r(top), r(width), r(foot - top));
    let font = r(text);
    pen.m.open(
        "svg",
        &[
            ("viewBox", view.as_str()),
            ("role", "img"),
            ("aria-labelledby", "drawing-name drawing-text"),
            ("font-size", font.as_str()),
        ],
    );
    pen.m.leaf("title", &[("id", "drawing-name")], "The neckline laid flat, and the strip, to one scale");
    pen.m.leaf("desc", &[("id", "drawing-text")], &told(plan, unit));
    neckline(&mut pen, plan);
    if let Some(strip) = &plan.strip {
        draw_strip(&mut pen, strip, strip_top);
    }
    pen.m.close("svg");
    pen.m.finish()
}

/// The drawing in words.
fn told(plan: &Plan, unit: LengthUnit) -> String {
    let mut text = format!(
        "Front below, back above, joined at the neck points. The seam line is {} all round.",
        words::length(plan.seam_line.whole_length_mm, unit)
    );
    for zone in &plan.stays.zones {
        text.push_str(&format!(" Stay: {}.", words::part(zone.part)));
    }
    if let Some(strip) = &plan.strip {
        text.push_str(&format!(
            " Beneath, the strip, {} long and {} wide, with marks at",
            words::length(strip.cut_length.cut_mm, unit),
            words::length(strip.cut_width.cut_mm, unit)
        ));
        for mark in &strip.marks {
            text.push_str(&format!(" {} {};", words::place(mark.place), words::length(mark.on_strip_mm, unit)));
        }
        text.push_str(" measured from centre back on either side.");
    }
    text
}

fn neckline(pen: &mut Pen, plan: &Plan) {
    let (front, back) = (&plan.seam_line.front, &plan.seam_line.back);
    let (front_way, back_way) = (Way { up: 1.0, lift: neck_point(front) }, Way { up: -1.0, lift: neck_point(back) });
    for (half, way) in [(front, front_way), (back, back_way)] {
        pen.both_sides("cut-edge", &half.cut_edge, way);
        pen.both_sides("seam-line", &half.seam_line, way);
    }
    if let Some(facing) = &plan.facing {
        pen.both_sides("facing-edge", &facing.front.outer_line, front_way);
        pen.both_sides("facing-edge", &facing.back.outer_line, back_way);
    }
    let text = pen.text;
    let mut number = 0;
    for zone in plan.stays.zones.iter().filter(|zone| zone.line.len() > 1) {
        number += 1;
        let way = if zone.part == Part::BackNeckline { back_way } else { front_way };
        pen.both_sides("stay", &zone.line, way);
        if let Some([x, y]) = zone.line.get(zone.line.len() / 2) {
            pen.label(*x + text * 1.4, way.y(*y) + text * 0.4, "start", "stay-label", &format!("stay {number}"));
        }
    }
    let centre = |points: &Points, way: Way| points.first().map_or(0.0, |p| way.y(p[1]));
    let (front_cut, front_seam) = (centre(&front.cut_edge, front_way), centre(&front.seam_line, front_way));
    let (back_cut, back_seam) = (centre(&back.cut_edge, back_way), centre(&back.seam_line, back_way));
    pen.label(0.0, front_cut - text * 0.6, "middle", "cut-label", "cut edge");
    pen.label(0.0, front_seam.max(front_cut) + text * 1.3, "middle", "seam-label", "seam line, centre front");
    pen.label(0.0, back_seam.min(back_cut) - text * 0.7, "middle", "", "centre back");
    let neck = front.half_width_mm.max(back.half_width_mm);
    pen.label(neck + text * 0.8, text * 0.3, "start", "", "neck point");
    pen.label(-neck - text * 0.8, text * 0.3, "end", "", "neck point");
}

/// The strip flat on the table. A ring's join is at centre back; open ends are at the point in front.
fn draw_strip(pen: &mut Pen, strip: &StripPlan, top: f64) {
    let (length, width) = (strip.cut_length.cut_mm, strip.cut_width.cut_mm);
    let text = pen.text;
    pen.rect(-length / 2.0, top, length, width);
    pen.label(-length / 2.0, top - text * 1.6, "start", "", "strip");
    let half = strip.relaxed_length_mm / 2.0;
    let ring = matches!(strip.ends, Ends::Ring);
    let mut between = 0;
    for mark in &strip.marks {
        let from_middle = if ring { half - mark.on_strip_mm } else { mark.on_strip_mm };
        let name = match mark.place {
            MarkPlace::CentreBack => "CB".to_owned(),
            MarkPlace::NeckPoint => "NP".to_owned(),
            MarkPlace::CentreFront => "CF".to_owned(),
            MarkPlace::Between => {
                between += 1;
                between.to_string()
            }
        };
        let named = mark.place != MarkPlace::Between;
        let sides: &[f64] = if from_middle.abs() < 0.5 { &[1.0] } else { &[-1.0, 1.0] };
        for side in sides {
            let x = from_middle * side;
            pen.line(if named { "tick" } else { "tick between" }, x, top, x, top + width);
            let y = if named { top + width + text * 1.3 } else { top - text * 0.4 };
            pen.label(x, y, "middle", "", &name);
        }
    }
}

/// How far a half's lines reach: along x (0) or y (1).
fn reach(half: &HalfLine, axis: usize) -> f64 {
    half.cut_edge.iter().chain(&half.seam_line).filter_map(|p| p.get(axis)).fold(0.0, |most, v| most.max(*v))
}

/// How far down the seam line's neck point lies in the half's frame. Drawn moved up by this, front
/// and back meet in their seam lines, and the shoulders' allowances overlap as they do when sewn.
fn neck_point(half: &HalfLine) -> f64 {
    half.seam_line.last().map_or(0.0, |p| p[1])
}

/// A coordinate as text: a hundredth of a millimetre is finer than any screen.
fn r(value: f64) -> String {
    words::number(value, 2)
}

/// Which way up a half is drawn, and how far it is lifted to put its neck point at nought.
#[derive(Clone, Copy)]
struct Way {
    up: f64,
    lift: f64,
}

impl Way {
    fn y(self, y: f64) -> f64 {
        (y - self.lift) * self.up
    }
}

struct Pen {
    m: Markup,
    text: f64,
}

impl Pen {
    fn both_sides(&mut self, class: &str, points: &Points, way: Way) {
        for side in [-1.0, 1.0] {
            let mut path = String::new();
            for (i, [x, y]) in points.iter().enumerate() {
                path.push(if i == 0 { 'M' } else { 'L' });
                path.push_str(&format!("{} {}", r(x * side), r(way.y(*y))));
            }
            if !path.is_empty() {
                self.m.leaf("path", &[("class", class), ("d", path.as_str())], "");
            }
        }
    }

    fn line(&mut self, class: &str, x1: f64, y1: f64, x2: f64, y2: f64) {
        let path = format!("M{} {}L{} {}", r(x1), r(y1), r(x2), r(y2));
        self.m.leaf("path", &[("class", class), ("d", path.as_str())], "");
    }

    fn rect(&mut self, x: f64, y: f64, width: f64, height: f64) {
        let (x, y, width, height) = (r(x), r(y), r(width), r(height));
        let attributes = [("class", "strip"), ("x", x.as_str()), ("y", &y), ("width", &width), ("height", &height)];
        self.m.leaf("rect", &attributes, "");
    }

    fn label(&mut self, x: f64, y: f64, anchor: &str, class: &str, text: &str) {
        let (x, y) = (r(x), r(y));
        let attributes = [("x", x.as_str()), ("y", y.as_str()), ("text-anchor", anchor), ("class", class)];
        self.m.leaf("text", &attributes, text);
    }
}
