//! How far each ring of the opening reaches while the head passes.
//!
//! There are three rings, and the head must pass the smallest: the garment's seam line alone, the same seam with the
//! finish sewn to it, and a strip's free edge. A piece ds of seam line reaches ds (1 + e), e the lesser of the share of
//! the knit's stretch that is used and the stitch's own extension; a stayed piece stays as it is. The strip sewn to it
//! holds r ds at rest and reaches r ds (1 + pull S); the two are sewn together, so that each piece of the seam reaches
//! no further than the shorter of the two. A free edge lies further in: at a mitre or a lap it is shorter than the
//! strip's seam edge, at its whole girth's own stretch. Geometry, with one judgement: the share of the stretch used.

use crate::brief::Direction;
use crate::ends::Joints;
use crate::given::Given;
use crate::ring::{Ring, STEPS};
use crate::strip::along::Strip;
use crate::strip::rule::StripGiven;

/// A stretch of the half seam line, from and to, mm from centre back.
pub(crate) type Run = (f64, f64);

/// A short piece of the seam, both halves together.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Piece {
    /// Its middle along the half seam line, mm from centre back.
    at: f64,
    /// mm
    length: f64,
    /// The garment's stretch in the seam's direction, fraction.
    stretch: f64,
    /// Relaxed length of the finish sewn to it, mm.
    finish: f64,
    /// The finish's stretch in its own direction, fraction.
    finish_stretch: f64,
}

/// The free edge of a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FreeEdge {
    /// Relaxed length of the strip all round, mm.
    pub relaxed: f64,
    /// How much shorter its free edge is at mitres and laps, all ends together, mm.
    pub shorter: f64,
    /// Its stretch, fraction.
    pub stretch: f64,
}

/// The rings of one opening.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Rings {
    seam: Vec<Piece>,
    /// Of a bound edge the line its strip is sewn on; else the seam line's own pieces.
    sewn: Vec<Piece>,
    pub free_edge: Option<FreeEdge>,
    stitch: f64,
}

/// What of the seam line is held and what is live in its greatest girth. mm and a fraction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Girth {
    pub stayed: f64,
    pub live: f64,
    /// Mean extension of the live part.
    pub extension: f64,
}

impl Girth {
    pub(crate) fn mm(&self) -> f64 {
        self.stayed + self.live * (1.0 + self.extension)
    }
}

/// How far the seam reaches with the finish sewn to it: the pieces that the garment limits, and those that the finish
/// does. mm
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Sewn {
    pub by_garment: f64,
    pub by_finish: f64,
}

impl Sewn {
    pub(crate) fn mm(&self) -> f64 {
        self.by_garment + self.by_finish
    }
}

/// How far all rings reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Reach {
    pub seam: Girth,
    pub sewn: Sewn,
    pub free_edge: Option<f64>,
}

impl Reach {
    pub(crate) fn smallest(&self) -> f64 {
        let sewn = self.seam.mm().min(self.sewn.mm());
        self.free_edge.map_or(sewn, |free| free.min(sewn))
    }
}

impl Rings {
    /// The rings where the seam line lies `by` mm further into the garment than it does, `line` giving the half round at
    /// any such distance and the strip's length running in a direction of its knit; none where there is no such line.
    pub(crate) fn moved(
        given: &Given<'_>,
        line: &dyn Fn(f64) -> Option<Ring>,
        by: f64,
        direction: Direction,
        stitch: f64,
    ) -> Option<Self> {
        let edge = line(by)?;
        let Some(rule) = StripGiven::running(given, direction) else {
            return Some(Self::of_facing(given, &edge, stitch));
        };
        let stretch = given.strip.one_way(direction);
        let of_strip = |on: &Ring| Self::of_strip(given, &edge, on, &Strip::new(on, rule), stretch, stitch);
        if given.form.goes_round_edge() {
            return Some(of_strip(&line(by + rule.width)?));
        }
        Some(of_strip(&edge))
    }

    /// The rings of a facing: as long as the seam line, of its own knit laid as the garment's.
    pub(crate) fn of_facing(given: &Given<'_>, edge: &Ring, stitch: f64) -> Self {
        let seam = pieces(given, edge, |c2, length| (length, given.strip.along(c2)));
        Self { sewn: seam.clone(), seam, free_edge: None, stitch }
    }

    /// The rings of a strip already worked out on the line it is sewn on.
    pub(crate) fn of_strip(
        given: &Given<'_>,
        edge: &Ring,
        on: &Ring,
        strip: &Strip,
        stretch: f64,
        stitch: f64,
    ) -> Self {
        let bare = |_: f64, _: f64| (0.0, 0.0);
        let mut sewn = pieces(given, on, bare);
        for (i, piece) in sewn.iter_mut().enumerate() {
            let ends = [i, i + 1].map(|i| strip.relaxed_at(on, i as f64 * on.step()));
            piece.finish = 2.0 * (ends[1] - ends[0]);
            piece.finish_stretch = stretch;
            piece.at = edge.place_of(on, piece.at);
        }
        let shorter = Joints::new(given, on).free_edge_shorter();
        let free_edge = Some(FreeEdge { relaxed: 2.0 * strip.half_length(), shorter, stretch });
        Self { seam: pieces(given, edge, bare), sewn, free_edge, stitch }
    }

    /// How far the rings reach with these runs stayed, where this share of the stretch is used.
    pub(crate) fn reach(&self, share: f64, stayed: &[Run]) -> Reach {
        let held = |piece: &Piece| stayed.iter().any(|(from, to)| *from <= piece.at && piece.at <= *to);
        let extension = |piece: &Piece| (share * piece.stretch).min(self.stitch);
        let (mut fixed, mut live, mut gain) = (0.0, 0.0, 0.0);
        for piece in &self.seam {
            if held(piece) {
                fixed += piece.length;
            } else {
                live += piece.length;
                gain += piece.length * extension(piece);
            }
        }
        let mut sewn = Sewn::default();
        for piece in &self.sewn {
            let garment = piece.length * (1.0 + if held(piece) { 0.0 } else { extension(piece) });
            let finish = piece.finish * (1.0 + share * piece.finish_stretch);
            if finish < garment {
                sewn.by_finish += finish;
            } else {
                sewn.by_garment += garment;
            }
        }
        let seam = Girth { stayed: fixed, live, extension: if live > 0.0 { gain / live } else { 0.0 } };
        let free_edge =
            self.free_edge.map(|edge| (edge.relaxed - edge.shorter).max(0.0) * (1.0 + share * edge.stretch));
        Reach { seam, sewn, free_edge }
    }

    /// The greatest stretch of the garment along a part that is not stayed, fraction; 0 where all of it is.
    pub(crate) fn liveliest(&self, stayed: &[Run]) -> f64 {
        let live = |piece: &&Piece| !stayed.iter().any(|(from, to)| *from <= piece.at && piece.at <= *to);
        self.sewn.iter().filter(live).map(|piece| piece.stretch).fold(0.0, f64::max)
    }
}

/// The pieces of a half round's grid; `finish` gives a piece's relaxed finish, mm, and its stretch, from the squared
/// cosine of the seam's direction and the piece's length.
fn pieces(given: &Given<'_>, ring: &Ring, finish: impl Fn(f64, f64) -> (f64, f64)) -> Vec<Piece> {
    let length = 2.0 * ring.step();
    let c2 = ring.courses();
    let middles = c2.iter().zip(c2.iter().skip(1)).map(|(a, b)| 0.5 * (a + b));
    let piece = |(i, c2): (usize, f64)| {
        let (relaxed, finish_stretch) = finish(c2, length);
        let at = (i as f64 + 0.5) * ring.step();
        Piece { at, length, stretch: given.garment.along(c2), finish: relaxed, finish_stretch }
    };
    middles.enumerate().take(STEPS).map(piece).collect()
}
