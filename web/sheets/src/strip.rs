//! The strip at true scale: its edges, seam lines, fold, marks and the way it stretches.
//!
//! Drawn as long and wide as the card says to cut, its marks at their exact distances from its middle; rounding
//! to what can be cut goes into the allowances at the ends and edges.

use lieflat::plan::{Ends, MarkPlace, StripPlan, StripRows};
use lieflat::{Brief, Plan};

use crate::drawing::{Anchor, Drawing, Kind, UPWARD};
use crate::geometry::sorted;
use crate::picture::{say, short_name};
use crate::text::Type;
use crate::words::{Code, Words};

const TITLE: Type = Type::bold(3.4);
const NOTE: Type = Type::plain(2.8);

/// How far the arrows at a half's fold reach into it, mm.
const FOLD_ARROW_MM: f64 = 10.0;

/// The strip's drawing, half of it if asked; none for a facing.
pub(crate) fn strip(brief: &Brief, plan: &Plan, words: &Words<'_>, half: bool) -> Option<Drawing> {
    let strip = plan.strip.as_ref()?;
    // One of two strips runs from centre back to centre front: it is no mirror image of itself.
    Some(Sketch::new((brief, plan), strip, words, half && strip.pieces < 2).draw())
}

/// The strip small: its edges, the lines along it, its marks by their short names, and how far each is from centre back on one side.
pub(crate) fn small(brief: &Brief, plan: &Plan, words: &Words<'_>, scale: f64) -> Drawing {
    let mut d = Drawing::new("picture", String::new());
    let Some(strip) = &plan.strip else { return d };
    let sketch = Sketch::new((brief, plan), strip, words, false);
    let (end, width) = (sketch.length * scale, sketch.width * scale);
    d.closed(Kind::Mark, vec![[0.0, 0.0], [end, 0.0], [end, width], [0.0, width]]);
    for (y, kind, _) in &sketch.along {
        d.line(*kind, vec![[0.0, y * scale], [end, y * scale]]);
    }
    for mark in &strip.marks {
        for (i, x) in sketch.places(mark.on_strip_mm).into_iter().enumerate() {
            let x = x * scale;
            d.line(Kind::Clip, vec![[x, -1.5], [x, width + if i == 0 { 1.5 } else { 0.0 }]]);
            say(&mut d, [x, -1.5], &[UPWARD], Type::bold(2.5), &short_name(mark, words));
            if i == 0 {
                say(&mut d, [x, width + 1.5], &[[0.0, 1.0]], Type::plain(2.5), &words.length(mark.on_strip_mm));
            }
        }
    }
    for (at, ends) in sketch.mitred() {
        for [seam, free] in &sketch.mitre {
            d.line(Kind::Sew, vec![[at * scale, seam * scale], [ends * scale, free * scale]]);
        }
    }
    d
}

/// A line along the strip: where, what, and the key of its name.
type Along = (f64, Kind, &'static str);

/// A strip about to be drawn: x along it, y across it from one raw edge. mm.
struct Sketch<'a> {
    brief: &'a Brief,
    strip: &'a StripPlan,
    words: &'a Words<'a>,
    half: bool,
    title: String,
    /// As cut.
    length: f64,
    width: f64,
    along: Vec<Along>,
    /// Where a mitre's seam runs across: from each seam line to the finished edge.
    mitre: Vec<[f64; 2]>,
}

impl<'a> Sketch<'a> {
    fn new((brief, plan): (&'a Brief, &Plan), strip: &'a StripPlan, words: &'a Words<'a>, half: bool) -> Self {
        let width = strip.cut_width.cut_mm;
        let (along, mitre) = lines(&strip.rows, width);
        let title = words.t(&format!("strip.{}", plan.finish.kind.name()));
        Self { brief, strip, words, half, title, length: strip.cut_length.cut_mm, width, along, mitre }
    }

    /// One strip of two, from centre back to centre front.
    const fn one_of_two(&self) -> bool {
        self.strip.pieces > 1
    }

    fn joined_at_back(&self) -> bool {
        self.strip.join_at == MarkPlace::CentreBack
    }

    fn end(&self) -> f64 {
        if self.half { 0.5 * self.length } else { self.length }
    }

    /// The relaxed length between the centres. mm.
    fn relaxed_half(&self) -> f64 {
        0.5 * self.strip.relaxed_length_mm
    }

    /// Where a place on the strip, measured from centre back, lies in the drawing: once, or on both sides.
    fn places(&self, on_strip: f64) -> Vec<f64> {
        if self.one_of_two() {
            // The allowance at the centre front end is known; what rounding changed is shared by both ends.
            let rounding = self.strip.cut_length.cut_mm - self.strip.cut_length.exact_mm;
            let front_end = self.length - self.strip.end_extra_mm - 0.5 * rounding;
            return vec![front_end - self.relaxed_half() + on_strip];
        }
        let from_middle = if self.joined_at_back() { self.relaxed_half() - on_strip } else { on_strip };
        if self.half {
            vec![from_middle]
        } else if from_middle.abs() < 1e-9 {
            vec![0.5 * self.length]
        } else {
            vec![0.5 * self.length + from_middle, 0.5 * self.length - from_middle]
        }
    }

    fn draw(&self) -> Drawing {
        let mut d = Drawing::new("strip", self.title.clone());
        self.outline(&mut d);
        self.lines_along(&mut d);
        self.marks(&mut d);
        self.mitres(&mut d);
        self.notes(&mut d);
        d
    }

    fn outline(&self, d: &mut Drawing) {
        let (end, width) = (self.end(), self.width);
        if !self.half {
            return d.closed(Kind::Cut, vec![[0.0, 0.0], [end, 0.0], [end, width], [0.0, width]]);
        }
        d.line(Kind::Cut, vec![[0.0, 0.0], [end, 0.0], [end, width], [0.0, width]]);
        d.line(Kind::Fold, vec![[0.0, 0.0], [0.0, width]]);
        for y in [width / 3.0, 2.0 * width / 3.0] {
            d.arrow([FOLD_ARROW_MM - 1.0, y], [0.4, y]);
        }
        d.turned_label([-2.0, 0.5 * width], UPWARD, Anchor::Middle, NOTE, self.words.t("place_on_fold"));
    }

    fn lines_along(&self, d: &mut Drawing) {
        for (y, kind, _) in &self.along {
            d.line(*kind, vec![[0.0, *y], [self.end(), *y]]);
        }
    }

    /// The lines' names, each over its line in a gap between marks that has nothing else in it; where there is none, beyond the end,
    /// which makes the piece longer.
    fn names(&self, d: &mut Drawing, taken: &[Option<(f64, f64)>]) {
        let names: Vec<(f64, String)> = self.along.iter().map(|(y, _, key)| (*y, self.words.t(key))).collect();
        let wide = names.iter().map(|(_, name)| NOTE.width(name)).fold(0.0, f64::max) + 4.0;
        let rows = sorted(names.iter().map(|(y, _)| *y).chain([0.0]));
        let low = neighbours(&rows).all(|(upper, lower)| lower - upper >= NOTE.leading());
        // Half a strip, which is often a page long. A mitre's seam runs across the last gap.
        let free = self.half && low && self.mitred().is_empty();
        let gaps = self.gaps();
        let gap = gaps.iter().rev().find(|gap| free && gap.1 - gap.0 >= wide && !taken.contains(&Some(**gap)));
        for (y, name) in names {
            let at = gap.map_or([self.end() + 2.0, y + 1.0], |(from, _)| [from + 2.0, y - 0.8]);
            d.label(at, Anchor::Start, NOTE, name);
        }
    }

    fn marks(&self, d: &mut Drawing) {
        let letters = Type::plain(2.6);
        for mark in &self.strip.marks {
            let name = self.words.mark(mark);
            let far = if mark.on_strip_mm == 0.0 { String::new() } else { self.words.length(mark.on_strip_mm) };
            for x in self.places(mark.on_strip_mm) {
                // A half's own fold is the mark at its middle.
                if !(self.half && x.abs() < 1e-9) {
                    d.line(Kind::Mark, vec![[x, 0.0], [x, self.width]]);
                }
                // Its name left of the mark and how far it is from centre back right of it: in one line they would stand
                // farther off the strip than a page has room for.
                d.turned_label([x - 0.7, -2.0], UPWARD, Anchor::Start, letters, name.clone());
                if !far.is_empty() {
                    d.turned_label([x + 2.6, -2.0], UPWARD, Anchor::Start, letters, far.clone());
                }
            }
        }
    }

    /// Along the strip, where each mitre's seam begins at the seam lines and ends at the finished edge.
    fn mitred(&self) -> Vec<(f64, f64)> {
        let shorter = |ends: Ends| match ends {
            Ends::Mitre { free_edge_shorter_mm, .. } => Some(free_edge_shorter_mm),
            Ends::Ring | Ends::Lap { .. } | Ends::Overhang { .. } => None,
        };
        let (front, back) = (self.relaxed_half(), 0.0);
        let main_end = if self.joined_at_back() { back } else { front };
        let mut ends: Vec<(f64, f64)> = Vec::new();
        ends.extend(shorter(self.strip.ends).map(|shorter| (main_end, shorter)));
        ends.extend(self.strip.back_ends.and_then(shorter).map(|shorter| (back, shorter)));
        let inward = |x: f64, shorter: f64| if x > 0.5 * self.end() { x - shorter } else { x + shorter };
        let both = |(place, shorter)| self.places(place).into_iter().map(move |x| (x, inward(x, shorter)));
        ends.into_iter().flat_map(both).collect()
    }

    fn mitres(&self, d: &mut Drawing) {
        for (x, ends) in self.mitred() {
            for [seam, free] in &self.mitre {
                d.line(Kind::Sew, vec![[x, *seam], [ends, *free]]);
            }
        }
    }

    /// The title and the arrow, each in one of the longest gaps between marks where it fits, else below the strip.
    fn notes(&self, d: &mut Drawing) {
        let gaps = self.gaps();
        let longest = longest(gaps.iter().copied());
        let next = longest.and_then(|taken| self::longest(gaps.iter().copied().filter(|gap| *gap != taken)));
        self.names(d, &[longest, next]);
        let below = self.arrow(d, next, self.width + 6.0);
        self.title_block(d, longest, below);
    }

    /// The room between neighbouring lines along the strip that is widest.
    fn lane(&self) -> (f64, f64) {
        let edges = sorted(self.along.iter().map(|(y, ..)| *y).chain([0.0, self.width]));
        longest(neighbours(&edges)).unwrap_or((0.0, self.width))
    }

    /// The stretches between neighbouring marks.
    fn gaps(&self) -> Vec<(f64, f64)> {
        let marks = self.strip.marks.iter().flat_map(|mark| self.places(mark.on_strip_mm));
        // Past the arrows that show the fold.
        let least = if self.half { FOLD_ARROW_MM } else { 0.0 };
        let places = sorted(marks.chain([0.0, self.end()]).map(|x| x.max(least)));
        neighbours(&places).collect()
    }

    fn title_notes(&self) -> Vec<(Type, String)> {
        let length = self.words.length(self.strip.cut_length.cut_mm);
        let width = self.words.length(self.strip.cut_width.cut_mm);
        let size = self.words.fill("strip.size", &[("length", &length), ("width", &width)]);
        let mut notes = vec![(TITLE, self.title.clone()), (NOTE, size)];
        if self.one_of_two() {
            notes.push((NOTE, self.words.fill("strip.pieces", &[("count", &self.strip.pieces.to_string())])));
        }
        if self.half {
            notes.push((NOTE, self.words.t("strip.half")));
        }
        notes
    }

    fn title_block(&self, d: &mut Drawing, gap: Option<(f64, f64)>, below: f64) {
        let notes = self.title_notes();
        let broken = |room: f64| -> Vec<(Type, String)> {
            let lines = notes
                .iter()
                .flat_map(|(letters, text)| letters.wrap(text, room).into_iter().map(|line| (*letters, line)));
            lines.collect()
        };
        let (top, foot) = self.lane();
        let (from, to) = gap.unwrap_or((0.0, 0.0));
        let room = to - from - 6.0;
        let inside = broken(room.max(20.0));
        let tall: f64 = inside.iter().map(|(letters, _)| letters.leading()).sum();
        let fits = room >= 20.0 && tall + 0.5 <= foot - top;
        let (lines, x, mut y) = if fits { (inside, from + 3.0, top - 0.4) } else { (broken(120.0), 3.0, below) };
        for (letters, line) in lines {
            y += letters.leading();
            d.label([x, y], Anchor::Start, letters, line);
        }
    }

    /// Returns where what comes below the strip may begin.
    fn arrow(&self, d: &mut Drawing, gap: Option<(f64, f64)>, below: f64) -> f64 {
        let words = self.words.t(&format!("arrow.{}", Code(self.brief.strip_direction)));
        let wide = NOTE.width(&words);
        let (top, foot) = self.lane();
        match gap {
            Some((from, to)) if to - from >= wide + 8.0 && foot - top >= 6.0 => {
                let y = 0.5 * (top + foot) + 2.0;
                d.double_arrow([from + 3.0, y], [to - 3.0, y]);
                d.label([0.5 * (from + to), y - 1.6], Anchor::Middle, NOTE, words);
                below
            }
            _ => {
                d.double_arrow([3.0, below], [43.0, below]);
                d.label([46.0, below + 1.0], Anchor::Start, NOTE, words);
                below + 2.0
            }
        }
    }
}

fn neighbours(values: &[f64]) -> impl Iterator<Item = (f64, f64)> + '_ {
    values.iter().copied().zip(values.iter().copied().skip(1))
}

/// The first of the longest.
fn longest(gaps: impl Iterator<Item = (f64, f64)>) -> Option<(f64, f64)> {
    gaps.reduce(|best, gap| if gap.1 - gap.0 > best.1 - best.0 { gap } else { best })
}

/// The lines along a strip as it lies on the sheet, and where a mitre's seam runs across it. A strip of one layer lies with the
/// edge that is sewn at the foot.
fn lines(rows: &StripRows, width: f64) -> (Vec<Along>, Vec<[f64; 2]>) {
    let folded = rows.seams_mm.len() > 1;
    let across = |y: f64| if folded { y } else { width - y };
    let mut lines: Vec<Along> = rows.seams_mm.iter().map(|y| (across(*y), Kind::Sew, "seam_line")).collect();
    let key = if folded { "fold" } else { "turn_under" };
    lines.extend(rows.fold_mm.map(|y| (across(y), Kind::Fold, key)));
    // The second seam line of a folded strip mirrors the first.
    let free = |i: usize| if i == 0 { rows.free_edge_mm } else { width - rows.free_edge_mm };
    let mitre = rows.seams_mm.iter().enumerate().map(|(i, y)| [across(*y), across(free(i))]);
    (lines, mitre.collect())
}
