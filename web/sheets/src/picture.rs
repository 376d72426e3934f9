//! The card's picture: the neckline laid flat, front below and back above, with all that is marked on it, and what is sewn to it, both
//! to one scale.

use lieflat::brief::{Centre, HalfName};
use lieflat::plan::{FinishKind, HalfLine, Mark, Part, StayZone};
use lieflat::{Brief, Plan};

use crate::drawing::{Anchor, Drawing, Kind, LEVEL, Label, label_bounds};
use crate::geometry::{add, at, direction, length, to_opening};
use crate::ink::Point;
use crate::text::Type;
use crate::words::{Code, Words};
use crate::{facing, strip};

/// How many times smaller than true a picture may be: the first at which it fits.
const SMALLER: [f64; 16] = [1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 6.0, 7.0, 8.0, 10.0, 15.0, 20.0, 30.0];

/// How much of the shoulders is drawn, mm of cloth, and of the centre, mm of paper: a dash and a gap.
const SHOULDER_MM: f64 = 42.0;
const CENTRE_MM: f64 = 8.5;

/// Half of a mark across the line it is on, and between a line and its words, mm of paper.
const MARK_MM: f64 = 1.6;
const OFF_MM: f64 = 1.0;

/// How much farther off words are tried each time, mm of paper.
const STEP_MM: f64 = 1.3;

const WORDS: Type = Type::bold(2.5);
const QUIET: Type = Type::plain(2.3);

/// The picture's two drawings in mm of paper: the neckline, and what is sewn to it.
pub(crate) struct Picture {
    pub neckline: Drawing,
    pub below: Drawing,
}

/// The largest picture whose neckline and what is sewn to it fit their widths; a strip below the neckline is with it at most as tall as
/// `tall`, and facing pieces beside it each.
pub(crate) fn picture(brief: &Brief, plan: &Plan, words: &Words<'_>, neckline: f64, width: f64, tall: f64) -> Picture {
    let draw = |smaller: f64| Picture {
        neckline: Sketch { brief, plan, words, scale: 1.0 / smaller }.neckline(),
        below: match &plan.facing {
            Some(facing) => facing::small(facing, words, 1.0 / smaller),
            None => strip::small(brief, plan, words, 1.0 / smaller),
        },
    };
    let fits = |picture: &Picture| {
        let [above, below] = [&picture.neckline, &picture.below].map(|drawing| {
            let [low, high] = drawing.bounds();
            add(high, low, -1.0)
        });
        let together = if plan.facing.is_some() { above[1].max(below[1]) } else { above[1] + below[1] };
        above[0] <= neckline && below[0] <= width && together <= tall
    };
    // Words take long to place: where the strip is too long without them, or the neckline too tall, nothing is drawn.
    let long = plan.strip.as_ref().map_or(0.0, |strip| strip.cut_length.cut_mm);
    let deep = [HalfName::Front, HalfName::Back].map(|side| depth(half(plan, side))).iter().sum::<f64>();
    let may_fit = |smaller: &f64| long <= smaller * width && deep <= smaller * tall;
    SMALLER.into_iter().filter(may_fit).map(draw).find(fits).unwrap_or_else(|| draw(100.0))
}

const fn half(plan: &Plan, side: HalfName) -> &HalfLine {
    match side {
        HalfName::Front => &plan.seam_line.front,
        HalfName::Back => &plan.seam_line.back,
    }
}

/// From the neck point down to the seam line's lowest place. mm.
fn depth(half: &HalfLine) -> f64 {
    let neck = half.seam_line.last().map_or(0.0, |neck| neck[1]);
    half.seam_line.iter().map(|p| p[1] - neck).fold(0.0, f64::max)
}

/// Adds words beside a place, on the first of several ways from it, and at the least of several distances, where they lie over nothing
/// drawn so far. Where there is no such place they are left out: all that a picture says stands in words on the card.
pub(crate) fn say(d: &mut Drawing, from: Point, ways: &[Point], letters: Type, text: &str) {
    let label = |way: Point, step: u8| {
        let anchor = match way[0] {
            x if x > 0.5 => Anchor::Start,
            x if x < -0.5 => Anchor::End,
            _ => Anchor::Middle,
        };
        let at = add(from, way, OFF_MM + f64::from(step) * STEP_MM);
        // The words' own middle stands at the place; above and below it their foot and head.
        let down = letters.size * (0.36 + 0.36 * way[1]);
        Label { at: [at[0], at[1] + down], along: LEVEL, anchor, letters, text: text.to_owned() }
    };
    let clear = |label: &Label| d.bounds_within(label_bounds(label)).is_none();
    let mut tries =
        ways.iter().flat_map(|way| (0..8).map(move |step| (*way, step))).map(|(way, step)| label(way, step));
    d.labels.extend(tries.find(clear));
}

/// A mark's name in the fewest letters.
pub(crate) fn short_name(mark: &Mark, words: &Words<'_>) -> String {
    mark.number
        .map_or_else(|| words.page(&format!("drawing.place_short.{}", Code(mark.place))), |number| number.to_string())
}

struct Sketch<'a> {
    brief: &'a Brief,
    plan: &'a Plan,
    words: &'a Words<'a>,
    scale: f64,
}

impl Sketch<'_> {
    /// From a half's own frame to the paper: neck points level, the back turned up.
    fn place(&self, side: HalfName, p: Point) -> Point {
        let half = self.half(side);
        let lift = half.seam_line.last().map_or(0.0, |neck| neck[1]);
        let up = if side == HalfName::Back { -1.0 } else { 1.0 };
        [(p[0] - half.centre_line_x_mm) * self.scale, (p[1] - lift) * up * self.scale]
    }

    const fn half(&self, side: HalfName) -> &HalfLine {
        half(self.plan, side)
    }

    fn line(&self, side: HalfName, points: &[Point]) -> Vec<Point> {
        points.iter().map(|p| self.place(side, *p)).collect()
    }

    /// On both sides of the centre.
    fn both(&self, d: &mut Drawing, kind: Kind, side: HalfName, points: &[Point]) {
        let line = self.line(side, points);
        d.line(kind, line.iter().map(|p| [-p[0], p[1]]).collect());
        d.line(kind, line);
    }

    fn neckline(&self) -> Drawing {
        let mut d = Drawing::new("picture", String::new());
        let stays: Vec<(Point, Point)> = self.plan.stays.zones.iter().map(|zone| self.stay(&mut d, zone)).collect();
        for side in [HalfName::Front, HalfName::Back] {
            let half = self.half(side);
            self.both(&mut d, Kind::Mark, side, &half.cut_edge);
            // A bound edge's seam line is its finished edge; what is sewn is its stitch line.
            self.both(&mut d, Kind::Sew, side, &half.seam_line);
            if let Some(neck) = half.seam_line.last() {
                self.both(&mut d, Kind::Outline, side, &[*neck, add(*neck, half.shoulder_direction, SHOULDER_MM)]);
            }
            self.centre(&mut d, side);
        }
        if let Some(line) = self.plan.strip.as_ref().and_then(|strip| strip.stitch_line.as_ref()) {
            self.both(&mut d, Kind::Stitch, HalfName::Front, &line.front);
            self.both(&mut d, Kind::Stitch, HalfName::Back, &line.back);
        }
        for clip in self.plan.clips.iter().flat_map(|clips| &clips.lines) {
            self.both(&mut d, Kind::Clip, clip.half, &[clip.from, clip.to]);
        }
        let marks = self.marks(&mut d);
        // Words last, so that they keep clear of all lines.
        let [low, high] = d.bounds();
        let middle = [0.0, 0.5 * (low[1] + high[1])];
        for (from, way, name) in marks {
            say(&mut d, from, &[way, direction(from, middle)], WORDS, &name);
        }
        for (i, (from, way)) in stays.into_iter().enumerate() {
            let text = self.words.fill_page("drawing.stay", &[("number", &(i + 1).to_string())]);
            say(&mut d, from, &[way, direction([0.0; 2], add(way, [1.0, 0.0], 1.0)), [1.0, 0.0]], QUIET, &text);
        }
        let scale = self.words.fill("card.picture", &[("scale", &self.words.number(1.0 / self.scale))]);
        say(&mut d, [0.0, high[1] - 1.0], &[[-1.0, 0.0]], QUIET, &scale);
        d
    }

    fn centre(&self, d: &mut Drawing, side: HalfName) {
        let (half, own) = match side {
            HalfName::Front => (&self.brief.neckline.front, &self.plan.seam_line.front),
            HalfName::Back => (&self.brief.neckline.back, &self.plan.seam_line.back),
        };
        let Some(start) = own.seam_line.first() else { return };
        let kind = match half.centre {
            Centre::Fold => Kind::Fold,
            Centre::Seam { .. } => Kind::Sew,
        };
        d.line(kind, self.line(side, &[*start, [start[0], start[1] + CENTRE_MM / self.scale]]));
    }

    /// Tape as it lies. Returns where its number goes, on the right, and which way from there.
    fn stay(&self, d: &mut Drawing, zone: &StayZone) -> (Point, Point) {
        let side = match zone.part {
            Part::BackNeckline | Part::CentreBackSeam => HalfName::Back,
            _ => HalfName::Front,
        };
        let own = self.half(side);
        let on_shoulder = zone.part == Part::Shoulders && zone.name.is_none();
        let outline = if on_shoulder {
            let out = to_opening(own.shoulder_direction);
            let neck = own.seam_line.last().copied().unwrap_or_default();
            let near = add(neck, out, self.brief.neckline.front.shoulder_allowance_mm - zone.from_edge_mm);
            let far = add(near, out, -zone.tape_width_mm);
            let along = |from: Point| add(from, own.shoulder_direction, SHOULDER_MM);
            vec![along(near), along(far), far, near]
        } else {
            zone.outline.clone()
        };
        let area = self.line(side, &outline);
        let shoulder_end = area.first().copied().unwrap_or_default();
        d.area(area.iter().map(|p| [-p[0], p[1]]).collect());
        d.area(area);
        let line = self.line(side, &zone.line);
        match at(&line, 0.5 * length(&line)) {
            Some((place, _)) if !on_shoulder => {
                // Outward from the middle of the opening, which lies between the neck points.
                let middle = [
                    0.0,
                    0.5 * line.iter().map(|p| p[1]).fold(0.0, |low, y| if y.abs() > f64::abs(low) { y } else { low }),
                ];
                (place, direction(middle, place))
            }
            _ => (shoulder_end, [1.0, 0.0]),
        }
    }

    /// The strip's marks on both sides. Returns where their names go, on the right within the opening, and which way from there.
    fn marks(&self, d: &mut Drawing) -> Vec<(Point, Point, String)> {
        let mut names = Vec::new();
        let Some(strip) = &self.plan.strip else { return names };
        let (front, back) = match &strip.stitch_line {
            Some(line) => (&line.front, &line.back),
            None => (&self.plan.seam_line.front.seam_line, &self.plan.seam_line.back.seam_line),
        };
        let (front_long, back_long) = (length(front), length(back));
        let mut reach = self.brief.neckline.neckline_allowance_mm * self.scale;
        if self.plan.finish.kind == FinishKind::Bound {
            reach += self.plan.finish.width_mm * self.scale;
        }
        for mark in &strip.marks {
            let s = mark.on_seam_line_mm;
            let (side, line, s) = if s <= back_long {
                (HalfName::Back, back, s)
            } else {
                (HalfName::Front, front, back_long + front_long - s)
            };
            let Some((place, way)) = at(line, s) else { continue };
            // At a point on the centre line the legs' own directions would cross.
            let centred = (place[0] - self.half(side).centre_line_x_mm).abs() < 1e-6;
            let out = if centred { [0.0, -1.0] } else { to_opening(way) };
            let (from, to) = (add(place, out, -MARK_MM / self.scale), add(place, out, (reach + MARK_MM) / self.scale));
            self.both(d, Kind::Mark, side, &[from, to]);
            let (from, to) = (self.place(side, from), self.place(side, to));
            names.push((to, direction(from, to), short_name(mark, self.words)));
        }
        names
    }
}
