//! Text that runs down a page and on to the next: headings, paragraphs, lists, tables.

use crate::book::{Book, MARGIN_MM};
use crate::ink::{Page, Pen, Point};
use crate::qr::Code;
use crate::text::Type;

const HEADING: Type = Type::bold(4.2);
const BODY: Type = Type::plain(3.2);
const STRONG: Type = Type::bold(3.2);

/// Between two columns of a table, mm.
const GUTTER_MM: f64 = 4.0;

/// A column of text over pages.
pub(crate) struct Flow<'b, 'a> {
    book: &'b mut Book<'a>,
    size: Point,
    page: Page,
    y: f64,
}

impl<'b, 'a> Flow<'b, 'a> {
    pub(crate) fn new(book: &'b mut Book<'a>, size: Point) -> Self {
        Self { book, size, page: Page::new(size), y: MARGIN_MM }
    }

    const fn width(&self) -> f64 {
        self.size[0] - 2.0 * MARGIN_MM
    }

    /// As far down as a page is written on.
    const fn foot(&self) -> f64 {
        MARGIN_MM + Book::room(self.size)[1]
    }

    /// Begins a new page where `height` no longer fits.
    fn need(&mut self, height: f64) {
        if self.y + height > self.foot() && self.y > MARGIN_MM {
            self.turn();
        }
    }

    fn turn(&mut self) {
        let page = core::mem::replace(&mut self.page, Page::new(self.size));
        self.book.add(page);
        self.y = MARGIN_MM;
    }

    /// The last page goes into the book.
    pub(crate) fn finish(mut self) {
        if self.y > MARGIN_MM {
            self.turn();
        }
    }

    pub(crate) fn gap(&mut self, mm: f64) {
        self.y += mm;
    }

    /// A heading with room for some of what follows it.
    pub(crate) fn heading(&mut self, text: &str) {
        self.heading_of(text, 3.0 * BODY.leading());
    }

    /// A heading on the page of what follows it, which is so tall, mm.
    pub(crate) fn heading_of(&mut self, text: &str, tall: f64) {
        self.y += 2.5;
        self.need(HEADING.leading() + 0.8 + tall);
        self.lines(text, HEADING, 0.0, 2);
        self.y += 0.8;
    }

    pub(crate) fn large(&mut self, text: &str, letters: Type) {
        self.lines(text, letters, 0.0, 3);
    }

    pub(crate) fn paragraph(&mut self, text: &str) {
        self.lines(text, BODY, 0.0, usize::MAX);
        self.y += 0.6;
    }

    pub(crate) fn strong(&mut self, text: &str) {
        self.lines(text, STRONG, 0.0, usize::MAX);
        self.y += 0.6;
    }

    /// A list item: its number or dot hangs in the margin.
    pub(crate) fn item(&mut self, mark: &str, text: &str) {
        self.need(BODY.leading());
        self.page.text([MARGIN_MM, self.y + BODY.size], mark, STRONG);
        self.lines(text, BODY, 6.0, usize::MAX);
        self.y += 0.6;
    }

    fn lines(&mut self, text: &str, letters: Type, indent: f64, most: usize) {
        let width = self.width() - indent;
        let lines =
            if most == usize::MAX { letters.wrap(text, width) } else { letters.wrap_at_most(text, width, most) };
        for line in lines {
            self.need(letters.leading());
            self.page.text([MARGIN_MM + indent, self.y + letters.size], &line, letters);
            self.y += letters.leading();
        }
    }

    /// A table: the head in bold, a rule under each row. `shares` are the columns' parts of the width.
    pub(crate) fn table(&mut self, head: &[String], rows: &[Vec<String>], shares: &[f64]) {
        if !head.is_empty() {
            // A head is not left alone at the foot of a page.
            self.need(2.0 * (BODY.leading() + 1.6));
            self.row(head, shares, STRONG, 0.0);
        }
        for row in rows {
            self.row(row, shares, BODY, 0.7);
        }
    }

    fn row(&mut self, cells: &[String], shares: &[f64], letters: Type, rule: f64) {
        let whole: f64 = shares.iter().sum();
        let room = self.width() - GUTTER_MM * (shares.len().saturating_sub(1)) as f64;
        let widths: Vec<f64> = shares.iter().map(|share| room * share / whole).collect();
        // What people wrote may be long without end; no row is taller than a page.
        let broken: Vec<Vec<String>> =
            cells.iter().zip(&widths).map(|(cell, width)| letters.wrap_at_most(cell, *width, 12)).collect();
        let tall = broken.iter().map(Vec::len).max().unwrap_or(0) as f64 * letters.leading();
        self.need(tall + 1.6);
        let mut x = MARGIN_MM;
        for (lines, width) in broken.iter().zip(&widths) {
            for (i, line) in lines.iter().enumerate() {
                self.page.text([x, self.y + letters.size + i as f64 * letters.leading()], line, letters);
            }
            x += width + GUTTER_MM;
        }
        self.y += tall + 0.9;
        let right = MARGIN_MM + self.width();
        self.page.line([MARGIN_MM, self.y], [right, self.y], Pen::grey(0.15, rule));
        self.y += 0.5;
    }

    /// A code with text beside it.
    pub(crate) fn code(&mut self, code: &Code, text: &str) {
        let beside = code.side() + GUTTER_MM;
        let lines = BODY.wrap(text, self.width() - beside);
        self.need(code.side());
        code.draw(&mut self.page, [MARGIN_MM, self.y]);
        let foot = self.y + code.side();
        let small = Type::plain(2.4);
        // A very long link runs on in smaller letters, and under the code where it must.
        let lines = if lines.len() as f64 * BODY.leading() <= code.side() {
            (lines, BODY)
        } else {
            (small.wrap(text, self.width() - beside), small)
        };
        let (lines, letters) = lines;
        for line in lines {
            self.need(letters.leading());
            self.page.text([MARGIN_MM + beside, self.y + letters.size], &line, letters);
            self.y += letters.leading();
        }
        self.y = self.y.max(foot.min(self.foot()));
    }
}
