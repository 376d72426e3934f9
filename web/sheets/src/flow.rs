//! Text that runs down columns, from one to the next and on to further pages: headings, paragraphs, lists, tables.

use crate::book::{Book, MARGIN_MM};
use crate::geometry::add;
use crate::ink::{Page, Pen, Point};
use crate::qr::Code;
use crate::text::Type;

/// Between two columns of a table, and of a page, mm.
const GUTTER_MM: f64 = 3.0;
const BETWEEN_COLUMNS_MM: f64 = 6.0;

/// Paragraphs of so few lines and tables of so few rows are not broken.
const UNBROKEN_LINES: usize = 4;
const UNBROKEN_ROWS: usize = 6;

/// How many lines the last of all keep with them, so that they never stand on a page alone.
const COMPANY: usize = 6;

/// Something to be drawn, by its place in a block.
enum Ink {
    Text(Point, String, Type),
    Rule(Point, f64, f64),
    Code(Point, Code),
}

/// What is not broken over two columns.
struct Block {
    tall: f64,
    ink: Vec<Ink>,
    /// Whether what follows stands in the same column.
    keeps: bool,
}

/// Text of one width and size, in blocks from top to foot.
pub(crate) struct Flow {
    width: f64,
    /// Size of the plain letters, mm.
    size: f64,
    blocks: Vec<Block>,
}

/// How wide each of two columns of a page is, mm.
pub(crate) fn column_width(paper: Point) -> f64 {
    0.5 * (Book::room(paper)[0] - BETWEEN_COLUMNS_MM)
}

impl Flow {
    pub(crate) const fn new(width: f64, size: f64) -> Self {
        Self { width, size, blocks: Vec::new() }
    }

    const fn body(&self) -> Type {
        Type::plain(self.size)
    }

    const fn bold(&self) -> Type {
        Type::bold(self.size)
    }

    fn block(&mut self, tall: f64, keeps: bool, ink: Vec<Ink>) {
        self.blocks.push(Block { tall, ink, keeps });
    }

    /// A heading that stays with what follows it.
    pub(crate) fn heading(&mut self, text: &str) {
        self.block(0.6 * self.size, true, Vec::new());
        for line in Type::bold(1.25 * self.size).wrap_at_most(text, self.width, 2) {
            self.line(line, Type::bold(1.25 * self.size), 0.0, true);
        }
    }

    pub(crate) fn large(&mut self, text: &str, letters: Type) {
        for line in letters.wrap_at_most(text, self.width, 3) {
            self.line(line, letters, 0.0, false);
        }
    }

    pub(crate) fn paragraph(&mut self, text: &str) {
        self.lines(text, self.body(), 0.0);
    }

    pub(crate) fn strong(&mut self, text: &str) {
        self.lines(text, self.bold(), 0.0);
    }

    /// A list item: its number or dot hangs in the margin.
    pub(crate) fn item(&mut self, mark: &str, text: &str) {
        let first = self.blocks.len();
        let letters = self.bold();
        self.lines(text, self.body(), 1.9 * self.size);
        if let Some(block) = self.blocks.get_mut(first) {
            // Before its text, as it is read.
            block.ink.insert(0, Ink::Text([0.0, self.size], mark.to_owned(), letters));
        }
    }

    fn lines(&mut self, text: &str, letters: Type, indent: f64) {
        let lines = letters.wrap(text, self.width - indent);
        let count = lines.len();
        for (i, line) in lines.into_iter().enumerate() {
            self.line(line, letters, indent, count <= UNBROKEN_LINES && i + 1 < count);
        }
        if let Some(last) = self.blocks.last_mut() {
            last.tall += 0.15 * self.size;
        }
    }

    fn line(&mut self, text: String, letters: Type, indent: f64, keeps: bool) {
        self.block(letters.leading(), keeps, vec![Ink::Text([indent, letters.size], text, letters)]);
    }

    /// A table: the head in bold, a rule under each row. `shares` are the columns' parts of the width.
    pub(crate) fn table(&mut self, head: &[String], rows: &[Vec<String>], shares: &[f64]) {
        if !head.is_empty() {
            // A head is not left alone at a column's foot.
            self.row(head, shares, self.bold(), 0.0, true);
        }
        for (i, row) in rows.iter().enumerate() {
            self.row(row, shares, self.body(), 0.7, rows.len() <= UNBROKEN_ROWS && i + 1 < rows.len());
        }
        self.block(0.3 * self.size, false, Vec::new());
    }

    fn row(&mut self, cells: &[String], shares: &[f64], letters: Type, rule: f64, keeps: bool) {
        let whole: f64 = shares.iter().sum();
        let room = self.width - GUTTER_MM * (shares.len().saturating_sub(1)) as f64;
        let (mut ink, mut x, mut tallest) = (Vec::new(), 0.0, 0);
        for (cell, share) in cells.iter().zip(shares) {
            let width = room * share / whole;
            // What people wrote may be long without end; no row is taller than a page.
            let lines = letters.wrap_at_most(cell, width, 12);
            tallest = tallest.max(lines.len());
            for (i, line) in lines.into_iter().enumerate() {
                ink.push(Ink::Text([x, letters.size + i as f64 * letters.leading()], line, letters));
            }
            x += width + GUTTER_MM;
        }
        let tall = tallest as f64 * letters.leading();
        ink.push(Ink::Rule([0.0, tall + 0.12 * self.size], self.width, rule));
        self.block(tall + 0.3 * self.size, keeps, ink);
    }

    /// A code with text beside it, in small letters; the text runs on under the code where it must.
    pub(crate) fn code(&mut self, code: Code, text: &str) {
        let side = code.side();
        let small = Type::plain(2.0);
        let beside = side + GUTTER_MM;
        let mut lines = small.wrap(text, self.width - beside);
        // A code's light border is room enough above and below.
        let rows = (0..).take_while(|i| f64::from(*i + 1) * small.leading() <= side).count();
        let rest = lines.split_off(rows.min(lines.len()));
        let mut ink: Vec<Ink> = vec![Ink::Code([0.0, 0.0], code)];
        for (i, line) in lines.into_iter().enumerate() {
            ink.push(Ink::Text([beside, small.size + i as f64 * small.leading()], line, small));
        }
        self.block(side, false, ink);
        // The rest is broken anew, since it has the whole width.
        for line in small.wrap(&rest.concat(), self.width) {
            self.line(line, small, 0.0, false);
        }
    }

    /// The last blocks so far stay with what follows.
    pub(crate) fn keep_company(&mut self) {
        for block in self.blocks.iter_mut().rev().take(COMPANY) {
            block.keeps = true;
        }
    }

    /// All of it, one block under the other. mm.
    pub(crate) fn tall(&self) -> f64 {
        self.blocks.iter().map(|block| block.tall).sum()
    }

    /// Draws all of it with its upper left corner at a place.
    pub(crate) fn draw(&self, page: &mut Page, corner: Point) {
        let mut y = corner[1];
        for block in &self.blocks {
            block.draw(page, [corner[0], y]);
            y += block.tall;
        }
    }

    /// Where each block stands on pages: on the first, which has something drawn already, in the regions given, on the others in two
    /// columns.
    pub(crate) fn places(&self, paper: Point, first: &[Region]) -> Vec<Place> {
        let columns = columns(paper, MARGIN_MM);
        let (mut places, mut page) = (Vec::new(), 0);
        let mut regions = first.iter();
        let mut region = regions.next().unwrap_or(&columns[0]);
        let mut y = region.top;
        let mut blocks = self.blocks.as_slice();
        while let Some((taken, rest)) = group(blocks) {
            let tall: f64 = taken.iter().map(|block| block.tall).sum();
            // What is taller than any column is begun at the top of one.
            let tallest = columns[0].foot - columns[0].top;
            while y + tall > region.foot && (y > region.top || region.top > MARGIN_MM) && tall <= tallest {
                region = regions.next().unwrap_or_else(|| {
                    page += 1;
                    regions = columns.iter();
                    regions.next().unwrap_or(&columns[0])
                });
                y = region.top;
            }
            for block in taken {
                places.push((page, [region.left, y]));
                // Room above a heading is not wanted at a column's top.
                if !block.ink.is_empty() || y > region.top {
                    y += block.tall;
                }
            }
            blocks = rest;
        }
        places
    }

    /// Draws each block where it stands.
    pub(crate) fn draw_on(&self, pages: &mut [Page], places: &[Place]) {
        for (block, (page, at)) in self.blocks.iter().zip(places) {
            if let Some(page) = pages.get_mut(*page) {
                block.draw(page, *at);
            }
        }
    }
}

/// Where a block stands: on which page, and its upper left corner there.
pub(crate) type Place = (usize, Point);

/// How many pages blocks stand on: the first at least.
pub(crate) fn pages_of(places: &[Place]) -> usize {
    places.last().map_or(1, |(page, _)| page + 1)
}

/// Where text may stand on a page: from its left edge as wide as a column, from its top to its foot. mm.
pub(crate) struct Region {
    pub left: f64,
    pub top: f64,
    pub foot: f64,
}

/// Both columns of a page from a height down.
pub(crate) fn columns(paper: Point, top: f64) -> [Region; 2] {
    let foot = MARGIN_MM + Book::room(paper)[1];
    [MARGIN_MM, MARGIN_MM + column_width(paper) + BETWEEN_COLUMNS_MM].map(|left| Region { left, top, foot })
}

/// The first blocks that stay together, and the rest; none where nothing is left.
fn group(blocks: &[Block]) -> Option<(&[Block], &[Block])> {
    let end = blocks.iter().position(|block| !block.keeps).unwrap_or(blocks.len().checked_sub(1)?);
    blocks.split_at_checked(end + 1)
}

impl Block {
    fn draw(&self, page: &mut Page, corner: Point) {
        for ink in &self.ink {
            match ink {
                Ink::Text(at, text, letters) => page.text(add(corner, *at, 1.0), text, *letters),
                Ink::Rule(at, long, grey) => {
                    let from = add(corner, *at, 1.0);
                    page.line(from, [from[0] + long, from[1]], Pen::grey(0.15, *grey));
                }
                Ink::Code(at, code) => code.draw(page, add(corner, *at, 1.0)),
            }
        }
    }
}
