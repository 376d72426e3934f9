//! The neckline at true scale, by halves: cut edge, seam line, marks, clips, and where stay tape lies.

use lieflat::brief::{Centre, Half, HalfName};
use lieflat::plan::{FinishKind, HalfLine, MeasuredFrom, Part, TapeFit};
use lieflat::{Brief, Plan};

use crate::drawing::{Anchor, Drawing, Kind, UPWARD};
use crate::geometry::{add, at, direction, length, meet, portion, to_opening};
use crate::ink::Point;
use crate::text::Type;
use crate::words::{Code, Words};

/// How much of the shoulder and of the centre is drawn beyond the neckline, mm.
const BEYOND_MM: f64 = 60.0;

const TITLE: Type = Type::bold(4.2);
const NOTE: Type = Type::plain(2.8);
const SMALL: Type = Type::plain(2.6);

/// Front and back.
pub(crate) fn templates(brief: &Brief, plan: &Plan, words: &Words<'_>) -> [Drawing; 2] {
    [HalfName::Front, HalfName::Back].map(|side| Sketch::new(brief, plan, words, side).draw())
}

struct Sketch<'a> {
    brief: &'a Brief,
    plan: &'a Plan,
    words: &'a Words<'a>,
    side: HalfName,
    half: &'a Half,
    line: &'a HalfLine,
}

impl<'a> Sketch<'a> {
    const fn new(brief: &'a Brief, plan: &'a Plan, words: &'a Words<'a>, side: HalfName) -> Self {
        let (half, line) = match side {
            HalfName::Front => (&brief.neckline.front, &plan.seam_line.front),
            HalfName::Back => (&brief.neckline.back, &plan.seam_line.back),
        };
        Self { brief, plan, words, side, half, line }
    }

    fn draw(&self) -> Drawing {
        let (name, key) = match self.side {
            HalfName::Front => ("neckline-front", "template.front"),
            HalfName::Back => ("neckline-back", "template.back"),
        };
        let mut d = Drawing::new(name, self.words.t(key));
        self.tapes(&mut d);
        self.edges(&mut d);
        self.stitch_line(&mut d);
        self.clips(&mut d);
        self.marks(&mut d);
        self.notes(&mut d);
        d
    }

    fn allowance(&self) -> f64 {
        self.brief.neckline.neckline_allowance_mm
    }

    /// Where the raw centre edge lies: past the finished centre line by a centre seam's allowance.
    fn raw_centre(&self) -> f64 {
        match self.half.centre {
            Centre::Fold => self.line.centre_line_x_mm,
            Centre::Seam { allowance_mm } => self.line.centre_line_x_mm - allowance_mm,
        }
    }

    fn neck(&self) -> Point {
        self.line.seam_line.last().copied().unwrap_or_default()
    }

    /// A point of the raw shoulder edge.
    fn raw_shoulder(&self) -> Point {
        add(self.neck(), to_opening(self.line.shoulder_direction), self.half.shoulder_allowance_mm)
    }

    /// The cut edge from the raw centre edge to the raw shoulder edge.
    fn cut_edge(&self) -> Vec<Point> {
        let mut points = self.line.cut_edge.clone();
        if let [first, second, ..] = points[..]
            && let Some(start) = meet(first, direction(first, second), [self.raw_centre(), 0.0], [0.0, 1.0])
        {
            points.retain(|p| p[0] > start[0] + 1e-6);
            points.insert(0, start);
        }
        let raw = self.raw_shoulder();
        let inward = self.line.shoulder_direction;
        if let [.., before, last] = points[..]
            && let Some(end) = meet(last, direction(before, last), raw, inward)
        {
            let below = |p: &Point| (p[1] - raw[1]) * inward[0] - (p[0] - raw[0]) * inward[1] > 1e-6;
            points.retain(below);
            points.push(end);
        }
        points
    }

    fn edges(&self, d: &mut Drawing) {
        let cut = self.cut_edge();
        let (Some(start), Some(end)) = (cut.first().copied(), cut.last().copied()) else { return };
        let along = self.line.shoulder_direction;
        let centre_foot = [self.raw_centre(), start[1] + BEYOND_MM];
        let seam = self.line.seam_line.clone();
        let seam_start = seam.first().copied().unwrap_or_default();
        match self.half.centre {
            Centre::Fold => d.line(Kind::Fold, vec![start, centre_foot]),
            Centre::Seam { .. } => {
                d.line(Kind::Cut, vec![start, centre_foot]);
                d.line(Kind::Sew, vec![seam_start, [self.line.centre_line_x_mm, centre_foot[1]]]);
            }
        }
        d.line(Kind::Cut, vec![end, add(end, along, BEYOND_MM)]);
        if self.half.shoulder_allowance_mm > 0.0 {
            d.line(Kind::Sew, vec![self.neck(), add(self.neck(), along, BEYOND_MM)]);
        }
        d.line(Kind::Sew, seam);
        d.line(Kind::Cut, cut);
    }

    /// The seam line's place that lies a length from centre back, where it is on this half.
    fn on_seam_line(&self, from_centre_back: f64) -> Option<f64> {
        let (back, front) = (self.plan.seam_line.back.length_mm, self.plan.seam_line.front.length_mm);
        let s = match self.side {
            HalfName::Back => from_centre_back,
            HalfName::Front => back + front - from_centre_back,
        };
        let length = if self.side == HalfName::Back { back } else { front };
        (s > -0.01 && s < length + 0.01).then_some(s.clamp(0.0, length))
    }

    fn tapes(&self, d: &mut Drawing) {
        // Where no tape fits there is none to draw.
        for zone in self.plan.stays.zones.iter().filter(|zone| zone.fit != TapeFit::NoneFits) {
            let from_edge = self.words.length(zone.from_edge_mm);
            let label =
                self.words.fill(&format!("template.tape.{}", Code(zone.measured_from)), &[("from", &from_edge)]);
            if zone.part == Part::Shoulders && zone.name.is_none() {
                let along = self.line.shoulder_direction;
                let raw = self.raw_shoulder();
                let start = meet(raw, along, self.neck(), to_opening(along)).unwrap_or(raw);
                let inward = to_opening(along).map(|v| -v);
                let near = add(start, inward, zone.from_edge_mm);
                let far = add(near, inward, zone.tape_width_mm);
                d.area(vec![near, add(near, along, BEYOND_MM), add(far, along, BEYOND_MM), far]);
                d.turned_label(add(add(far, along, 8.0), inward, 3.4), along, Anchor::Start, SMALL, label);
                continue;
            }
            let Some((from, to)) = zone.from_mm.zip(zone.to_mm) else { continue };
            // Places on this half run from its centre outward, whichever way the zone runs.
            let (Some(a), Some(b)) = (self.on_seam_line(from), self.on_seam_line(to)) else { continue };
            let line = portion(&self.line.seam_line, a.min(b), a.max(b));
            d.area(zone.outline.clone());
            let past_seam_line = match zone.measured_from {
                MeasuredFrom::TrimmedEdge => zone.from_edge_mm + zone.tape_width_mm,
                MeasuredFrom::RawEdge => zone.past_stitching_mm,
            };
            if let Some((place, way)) = at(&line, 0.5 * (a - b).abs()) {
                let inward = to_opening(way).map(|v| -v);
                d.label(add(add(place, inward, past_seam_line + 3.0), [1.0, 1.0], 1.0), Anchor::Start, SMALL, label);
            }
        }
    }

    /// A bound edge's strip is sewn below the seam line, which becomes the finished edge.
    fn stitch_line(&self, d: &mut Drawing) {
        if self.plan.finish.kind == FinishKind::Bound {
            d.line(Kind::Stitch, self.sewn_on().0.to_vec());
        }
    }

    fn clips(&self, d: &mut Drawing) {
        let Some(clips) = &self.plan.clips else { return };
        let trimmed = match self.side {
            HalfName::Front => &clips.trimmed_front,
            HalfName::Back => &clips.trimmed_back,
        };
        d.clips(clips.lines.iter().filter(|clip| clip.half == self.side));
        d.line(Kind::Trim, trimmed.clone());
    }

    /// The line that the strip is sewn on, on this half and on the other.
    fn sewn_on(&self) -> (&[Point], f64) {
        let (front, back) = match self.plan.strip.as_ref().and_then(|strip| strip.stitch_line.as_ref()) {
            Some(line) => (&line.front, &line.back),
            None => (&self.plan.seam_line.front.seam_line, &self.plan.seam_line.back.seam_line),
        };
        match self.side {
            HalfName::Front => (front, length(back)),
            HalfName::Back => (back, length(front)),
        }
    }

    /// The strip's marks, where they meet this half.
    fn marks(&self, d: &mut Drawing) {
        let (line, other) = self.sewn_on();
        let own = length(line);
        // A bound edge's marks stand on its stitch line, below the seam line.
        let reach =
            self.allowance() + if self.plan.finish.kind == FinishKind::Bound { self.plan.finish.width_mm } else { 0.0 };
        for mark in self.plan.strip.iter().flat_map(|strip| &strip.marks) {
            let s = match self.side {
                HalfName::Back => mark.on_seam_line_mm,
                HalfName::Front => own + other - mark.on_seam_line_mm,
            };
            if s < -0.05 || s > own + 0.05 {
                continue;
            }
            let Some((place, way)) = at(line, s) else { continue };
            let out = to_opening(way);
            d.line(Kind::Mark, vec![add(place, out, -2.0), add(place, out, reach + 3.0)]);
            let name = self.words.mark(mark);
            let from = self.words.length(mark.on_seam_line_mm);
            let text = self.words.fill("mark.at", &[("place", &name), ("at", &from)]);
            let foot = add(place, out, reach + 4.5);
            // On a side the words run into the opening; elsewhere they stand over the mark.
            if out[0] < -0.3 {
                d.label([foot[0], foot[1] + 1.0], Anchor::End, SMALL, text);
            } else {
                d.turned_label([foot[0] + 0.9, foot[1]], UPWARD, Anchor::Start, SMALL, text);
            }
        }
    }

    fn notes(&self, d: &mut Drawing) {
        let foot = self.line.seam_line.first().map_or(0.0, |p| p[1]);
        let centre = match self.half.centre {
            Centre::Fold => "template.on_fold",
            Centre::Seam { .. } => "template.at_seam",
        };
        let mut y = foot + 24.0;
        let title = d.title.clone();
        let mut say = |d: &mut Drawing, letters: Type, text: &str| {
            for line in letters.wrap(text, 85.0) {
                d.label([6.0, y], Anchor::Start, letters, line);
                y += letters.leading() + 0.4;
            }
        };
        say(d, TITLE, &title);
        say(d, NOTE, &self.words.t(centre));
        say(d, NOTE, &self.words.t("template.lines"));
        if self.plan.finish.kind == FinishKind::Bound {
            say(d, NOTE, &self.words.t("template.trim"));
        }
        if let Some(to) = self.plan.clips.as_ref().and_then(|clips| clips.trim_to_mm) {
            say(d, NOTE, &self.words.fill("template.trim_sewn", &[("width", &self.words.length(to))]));
        }
        if self.plan.clips.as_ref().is_some_and(|clips| clips.into_corners > 0) {
            say(d, NOTE, &self.words.t("template.corner_clips"));
        }
        if self.plan.stays.zones.iter().any(|zone| zone.name.is_none()) {
            say(d, NOTE, &self.words.t("template.grey"));
        }
    }
}
