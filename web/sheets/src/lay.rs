//! The pieces of a set laid on pages at true scale: together and turned where that saves paper.

use lieflat::{Brief, Plan};

use crate::book::{Book, MARGIN_MM};
use crate::check;
use crate::drawing::{Drawing, LEVEL};
use crate::ink::{Page, Point};
use crate::options::{Options, Sheet, StripForm};
use crate::pack::{Spot, pack};
use crate::tile::{Cutting, Part, draw_part, map, parts};
use crate::words::Words;
use crate::{facing, strip, template};

/// Between two pieces on a page, mm.
const GAP_MM: f64 = 4.0;

/// The drawings of the sheets that are asked for, each sheet once, in the order they are used.
pub(crate) fn drawings(brief: &Brief, plan: &Plan, options: &Options, half_strip: bool) -> Vec<Drawing> {
    let words = Words::new(options);
    let of = |sheet: Sheet| match sheet {
        Sheet::Card => Vec::new(),
        Sheet::Strip => strip::strip(brief, plan, &words, half_strip).into_iter().collect(),
        Sheet::Facing => facing::pieces(plan, &words),
        Sheet::Template => template::templates(brief, plan, &words).into(),
    };
    Sheet::ALL.into_iter().filter(|sheet| options.sheets.contains(sheet)).flat_map(of).collect()
}

/// Lays the pieces into the book: in the way that takes fewest pages, and of those fewest parts to be joined.
pub(crate) fn lay(book: &mut Book<'_>, brief: &Brief, plan: &Plan, options: &Options) {
    let room = Book::room(options.paper.size_mm());
    let forms: &[bool] = match options.strip {
        StripForm::Whole => &[false],
        StripForm::Half => &[true],
        StripForm::Auto => &[false, true],
    };
    // What is tiled may have its tiles upright or lying: which is better hangs on what else lies beside them.
    let laid = |slanting: bool| {
        let ways = forms.iter().flat_map(|half| [false, true].map(|lying| (*half, Cutting { lying, slanting })));
        let all = ways.map(|(half, how)| Laid::new(drawings(brief, plan, options, half), room, how, &book.words));
        all.reduce(|best, other| if other.cost() < best.cost() { other } else { best })
    };
    let Some(mut best) = laid(true) else { return };
    // What lies on the slant takes a page by itself: in parts it may share one with others.
    if best.slants()
        && let Some(other) = laid(false)
        && other.pages() < best.pages()
    {
        best = other;
    }
    best.draw(book, options);
}

/// Drawings in parts, and where each part lies.
struct Laid {
    drawings: Vec<Drawing>,
    parts: Vec<Part>,
    spots: Vec<Spot>,
}

impl Laid {
    /// The test squares first, then the pieces, each that is tiled with its map.
    fn new(pieces: Vec<Drawing>, room: Point, how: Cutting, words: &Words<'_>) -> Self {
        let (mut drawings, mut all, mut joined) = (Vec::new(), Vec::new(), 0);
        let mut add = |drawing: Drawing| {
            let found = parts(drawings.len(), &drawing, room, how, &mut joined);
            let map = (found.len() > 1).then(|| map(&drawing, &found, words));
            drawings.push(drawing);
            all.extend(found);
            map
        };
        if !pieces.is_empty() {
            add(check::squares(words));
        }
        for drawing in pieces {
            if let Some(map) = add(drawing) {
                add(map);
            }
        }
        let sizes: Vec<Point> = all.iter().map(Part::size).collect();
        let spots = pack(&sizes, room, GAP_MM);
        Self { drawings, parts: all, spots }
    }

    fn pages(&self) -> usize {
        self.spots.iter().map(|spot| spot.page + 1).max().unwrap_or(0)
    }

    fn slants(&self) -> bool {
        self.parts.iter().any(|part| part.along != LEVEL)
    }

    /// Pages, then parts to be joined.
    fn cost(&self) -> (usize, usize) {
        (self.pages(), self.parts.len())
    }

    fn draw(&self, book: &mut Book<'_>, options: &Options) {
        for number in 0..self.pages() {
            let mut page = Page::new(options.paper.size_mm());
            for (part, spot) in self.parts.iter().zip(&self.spots).filter(|(_, spot)| spot.page == number) {
                if let Some(drawing) = self.drawings.get(part.drawing) {
                    let corner = [MARGIN_MM + spot.corner[0], MARGIN_MM + spot.corner[1]];
                    draw_part(&mut page, drawing, part, corner, spot.turned);
                }
            }
            book.add(page);
        }
    }
}
