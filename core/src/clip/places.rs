//! Where clips stand along the half round: one into each point and inner corner, more along curves.

use kurbo::{Point, Vec2};

use super::cut::{ClipKind, ClipLine, Cut, SHORT_OF_SEAM_MM, cut_at, met, nearest};
use crate::brief::neckline::HalfName;
use crate::curve::garment_side;
use crate::ring::Ring;
use crate::seam_line::{Bend, CORNER, Line};
use crate::stay::zone::StayZone;

/// How far a clip into a point or corner stops short of the stitching's own corner, mm, a thread or two: common practice,
/// no published source.
const SHORT_OF_CORNER_MM: f64 = 1.0;
/// Clips along a curve stand no nearer to each other than this, mm: 1/4 in, the closest of 'Apparel: Design, Textiles and
/// Construction' (Goodheart-Willcox, 2012), p. 452.
pub(crate) const LEAST_APART_MM: f64 = 6.35;

/// A difference that is rounding, mm.
pub(crate) const SAME_MM: f64 = 1e-6;

/// Both halves' seam lines and the half round they make.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Round<'a> {
    pub ring: &'a Ring,
    pub front: &'a Line,
    pub back: &'a Line,
}

/// An allowance that is turned to the inside along curves.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Turned<'a> {
    /// mm.
    pub width: f64,
    /// The strain that the knit gives where nothing holds it.
    pub comfort: f64,
    /// How far one clip opens, mm.
    pub opening: f64,
    /// What is stayed.
    pub stayed: &'a [StayZone],
}

/// A clip by its place along the half round from centre back, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Clip {
    pub s: f64,
    pub kind: ClipKind,
    /// The corner's whole turn, radians; 0 along a curve.
    theta: f64,
}

/// The clips of one half round, and what those along its curves open there.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Clips {
    pub clips: Vec<Clip>,
    /// Turning that the clips along curves open for, radians.
    pub theta: f64,
    /// What the knit gives, mm.
    pub gives: f64,
}

impl Clips {
    /// Those into points and corners alone: what a strip that is set along the edge needs.
    pub(crate) fn of_corners(round: Round<'_>) -> Self {
        Self { clips: corners(&round.bends()), ..Self::default() }
    }

    /// Those of an allowance that is turned to the inside.
    pub(crate) fn of_turned(round: Round<'_>, turned: &Turned<'_>) -> Self {
        if turned.width <= SHORT_OF_SEAM_MM {
            return Self::default();
        }
        let bends = round.bends();
        let mut all = Self { clips: corners(&bends), ..Self::default() };
        // Along the half round so many clips are owed; each stands in the middle of what it opens for.
        let (mut owed, mut next) = (0.0, 0.5);
        for bend in bends.iter().filter(|bend| bend.theta > 0.0 && !is_corner(bend)) {
            // Half of what a centre turns is the other half's.
            let own = if bend.at_centre { 0.5 } else { 1.0 };
            all.theta += own * bend.theta;
            // A slight corner opens whole at one clip, or is taken along with the curves beside it.
            if bend.length == 0.0 {
                let clips = 2.0 * turned.width * bend.theta / turned.opening;
                if clips >= 0.5 {
                    all.clips.push(Clip { s: bend.s, kind: ClipKind::Curve, theta: bend.theta });
                } else {
                    owed += own * clips;
                }
                continue;
            }
            for (from, to, live) in turned.parts(bend) {
                let (needs, gives) = turned.share(bend, to - from, live);
                all.gives += gives;
                let clips = ((needs - gives) / turned.opening).min((to - from) / LEAST_APART_MM);
                while clips > 0.0 && next <= owed + clips {
                    let s = from + ((next - owed) / clips).max(0.0) * (to - from);
                    all.clips.push(Clip { s, kind: ClipKind::Curve, theta: 0.0 });
                    next += 1.0;
                }
                owed += clips;
            }
        }
        all.clips = kept_apart(all.clips, round.ring.length);
        all
    }

    /// How many there are all round: one at a centre is both halves'.
    pub(crate) fn count(&self, ring: &Ring, of: impl Fn(ClipKind) -> bool) -> usize {
        let each = |clip: &Clip| if clip.s <= 0.0 || clip.s >= ring.length { 1 } else { 2 };
        self.clips.iter().filter(|clip| of(clip.kind)).map(each).sum()
    }
}

impl Turned<'_> {
    /// A bend cut where tape begins and ends: from, to, and whether it is live.
    fn parts(&self, bend: &Bend) -> Vec<(f64, f64, bool)> {
        let end = bend.s + bend.length;
        let zones = || self.stayed.iter().filter_map(|zone| zone.from_mm.zip(zone.to_mm));
        let live = |s: f64| !zones().any(|(from, to)| from <= s && s <= to);
        let (mut parts, mut from) = (Vec::new(), bend.s);
        while from < end {
            let to = zones().flat_map(|(a, b)| [a, b]).filter(|s| *s > from).fold(end, f64::min);
            parts.push((from, to, live(0.5 * (from + to))));
            from = to;
        }
        parts
    }

    /// What a part of a bend of this length needs to open, and what the knit gives of it, mm.
    fn share(&self, bend: &Bend, length: f64, live: bool) -> (f64, f64) {
        let needs = 2.0 * self.width * bend.theta * length / bend.length;
        let raw = (1.0 - self.width * bend.theta / bend.length).max(0.0) * length;
        (needs, if live { (self.comfort * raw).min(needs) } else { 0.0 })
    }
}

fn is_corner(bend: &Bend) -> bool {
    bend.length == 0.0 && bend.theta > CORNER
}

/// One clip into each point and corner.
fn corners(bends: &[Bend]) -> Vec<Clip> {
    let corner = |bend: &Bend| {
        let kind = if bend.at_centre { ClipKind::Point } else { ClipKind::Corner };
        Clip { s: bend.s, kind, theta: bend.theta }
    };
    bends.iter().filter(|bend| is_corner(bend)).map(corner).collect()
}

/// In order, clips along curves kept apart from all others; the other half mirrors them, so that one beside a centre line
/// is put on it, for both.
fn kept_apart(clips: Vec<Clip>, length: f64) -> Vec<Clip> {
    let beside = |s: f64, centre: f64| 2.0 * (s - centre).abs() < LEAST_APART_MM;
    let mut kept: Vec<Clip> = Vec::with_capacity(clips.len());
    for corners in [true, false] {
        for clip in clips.iter().filter(|clip| (clip.theta > 0.0) == corners) {
            let centre = [0.0, length].into_iter().find(|centre| beside(clip.s, *centre));
            let s = if clip.kind == ClipKind::Curve { centre.unwrap_or(clip.s) } else { clip.s };
            if corners || kept.iter().all(|other| (other.s - s).abs() > LEAST_APART_MM - SAME_MM) {
                let place = kept.iter().position(|other| other.s > s).unwrap_or(kept.len());
                kept.insert(place, Clip { s, ..*clip });
            }
        }
    }
    kept
}

impl Round<'_> {
    /// How the half round bends from centre back to centre front, corner by corner and piece by piece.
    fn bends(&self) -> Vec<Bend> {
        let ring = self.ring;
        let corner = |s, theta, at_centre| Bend { s, length: 0.0, theta, at_centre };
        // A centre turns by its half angle on each side.
        let centre = |line: &Line| 2.0 * line.half_turn_at_centre();
        let mut bends = vec![corner(0.0, centre(self.back), true)];
        bends.extend(self.back.bends());
        bends.push(corner(ring.back_length, ring.neck_turn, false));
        let mirrored = |bend: Bend| Bend { s: ring.length - bend.s - bend.length, ..bend };
        let front: Vec<Bend> = self.front.bends().map(mirrored).collect();
        bends.extend(front.into_iter().rev());
        bends.push(corner(ring.length, centre(self.front), true));
        bends
    }

    /// Whether it has a point or a corner, whichever way that turns.
    pub(crate) fn has_corner(&self) -> bool {
        self.bends().iter().any(|bend| bend.length == 0.0 && bend.theta.abs() > CORNER)
    }

    /// The half that a place along the half round lies on, and the place along that half from its own centre.
    fn own(&self, s: f64) -> (HalfName, &Line, f64) {
        if s <= self.ring.back_length {
            (HalfName::Back, self.back, s)
        } else {
            (HalfName::Front, self.front, self.ring.length - s)
        }
    }

    /// The seam line's place at a clip, and the way from there into the opening: at a corner halfway between its sides,
    /// at a point along the centre line, at the neck point along the shoulder.
    fn place(&self, clip: &Clip) -> Option<(Point, Vec2)> {
        let (_, line, own) = self.own(clip.s);
        let (at, direction) = line.place(own)?;
        let toward = if clip.kind == ClipKind::Point {
            Vec2::new(0.0, -1.0)
        } else if clip.theta > 0.0 && own >= line.length() - SAME_MM {
            -line.shoulder
        } else if clip.theta > 0.0 {
            let beside = |s: f64| line.place(s.max(0.0)).map_or(Vec2::ZERO, |(_, way)| garment_side(way));
            let both = beside(own - 1e-3) + beside(own + 1e-3);
            -both / both.hypot().max(f64::MIN_POSITIVE)
        } else {
            -garment_side(direction)
        };
        Some((at, toward))
    }

    /// The clips as lines in the halves' own frames: from the raw edges of front and back to just short of the stitching.
    pub(crate) fn lines(&self, clips: &[Clip], [front, back]: [&[[f64; 2]]; 2], width: f64) -> Vec<ClipLine> {
        let line = |clip: &Clip| {
            let (half, line, own) = self.own(clip.s);
            let raw = if half == HalfName::Back { back } else { front };
            let cut = if clip.theta > 0.0 {
                let (at, toward) = self.place(clip)?;
                let from = met(raw, at, toward).or_else(|| nearest(raw, at + width * toward))?;
                let short = SHORT_OF_CORNER_MM.min(0.5 * from.distance(at));
                Cut::between(from, at + short * toward)
            } else {
                cut_at(line, raw, own, width)?
            };
            Some(ClipLine { half, kind: clip.kind, from: cut.from, to: cut.to })
        };
        clips.iter().filter_map(line).collect()
    }

    /// The clips of a bound edge: from the seam line, to which it is trimmed, to just short of the strip's stitching, a
    /// finished width below.
    pub(crate) fn bound_lines(&self, clips: &[Clip], width: f64) -> Vec<ClipLine> {
        let line = |clip: &Clip| {
            let (at, toward) = self.place(clip)?;
            let deep = width / (0.5 * clip.theta).cos().max(0.05);
            let cut = Cut::between(at, at - (deep - SHORT_OF_CORNER_MM).max(0.5 * deep) * toward);
            Some(ClipLine { half: self.own(clip.s).0, kind: clip.kind, from: cut.from, to: cut.to })
        };
        clips.iter().filter_map(line).collect()
    }
}
