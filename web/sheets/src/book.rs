//! The pages together: what stands at the foot of each, and the file.

use lieflat::Brief;
use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};

use crate::drawing::{Drawing, Kind};
use crate::ink::{BOLD_FONT, PLAIN_FONT, Page, Pen, Point, TERSE};
use crate::letters::quoted;
use crate::metrics::Face;
use crate::options::Options;
use crate::text::{POINT_MM, Type};
use crate::tile::{OVERLAP_MM, Tiling};
use crate::words::Words;

/// Left free along the paper's edges, mm: more than most printers need.
pub(crate) const MARGIN_MM: f64 = 10.0;

/// Kept for the foot of every page, mm: the test squares and a gap.
pub(crate) const FOOT_MM: f64 = 55.0;

/// Sides of the test squares, mm.
const TWO_INCHES_MM: f64 = 50.8;
const FIFTY_MM: f64 = 50.0;

/// From the left margin to the foot's words, mm.
const FOOT_WORDS_MM: f64 = TWO_INCHES_MM + 5.0 + FIFTY_MM + 5.0;

/// Room for the foot's words, mm: what an upright A4 has.
const FOOT_WORDS_WIDTH_MM: f64 = 190.0 - FOOT_WORDS_MM;

/// What a page's foot says.
#[derive(Debug, Clone)]
pub(crate) struct Foot {
    /// The sheet's title.
    pub title: String,
    /// For a tile: its map, row and column.
    pub tile: Option<(usize, usize, usize)>,
}

/// Where a drawing lies on its tiles.
struct Map {
    tiling: Tiling,
    outline: Vec<Vec<Point>>,
}

/// Pages in the making.
pub(crate) struct Book<'a> {
    pub words: Words<'a>,
    title: Option<&'a str>,
    date: &'a str,
    language: &'a str,
    /// Letters that cannot be printed, as they are quoted.
    replaced: Vec<String>,
    maps: Vec<Map>,
    pages: Vec<(Page, Foot)>,
}

impl<'a> Book<'a> {
    pub(crate) fn new(brief: &'a Brief, options: &'a Options, replaced: &[char]) -> Self {
        Self {
            words: Words::new(options),
            title: brief.title.as_deref(),
            date: &options.date,
            language: &options.language,
            replaced: replaced.iter().copied().map(quoted).collect(),
            maps: Vec::new(),
            pages: Vec::new(),
        }
    }

    pub(crate) fn add(&mut self, page: Page, foot: Foot) {
        self.pages.push((page, foot));
    }

    pub(crate) const fn pages(&self) -> usize {
        self.pages.len()
    }

    pub(crate) fn map(&mut self, drawing: &Drawing, tiling: &Tiling) -> usize {
        let drawn = drawing.lines.iter().filter(|line| matches!(line.kind, Kind::Cut | Kind::Fold));
        let outline = drawn.map(|line| line.points.clone()).collect();
        self.maps.push(Map { tiling: tiling.clone(), outline });
        self.maps.len() - 1
    }

    /// Draws the feet and writes the file.
    pub(crate) fn finish(mut self) -> Vec<u8> {
        let mut pages = core::mem::take(&mut self.pages);
        let count = pages.len();
        for (i, (page, foot)) in pages.iter_mut().enumerate() {
            self.draw_foot(page, foot, i + 1, count);
        }
        self.write(pages.into_iter().map(|(page, _)| page).collect())
    }

    fn draw_foot(&self, page: &mut Page, foot: &Foot, number: usize, count: usize) {
        let [width, height] = page.size();
        let foot_y = height - MARGIN_MM;
        self.test_square(page, [MARGIN_MM, foot_y - TWO_INCHES_MM], TWO_INCHES_MM, "2\u{a0}in");
        let beside = MARGIN_MM + TWO_INCHES_MM + 5.0;
        self.test_square(page, [beside, foot_y - FIFTY_MM], FIFTY_MM, "50\u{a0}mm");

        let x = MARGIN_MM + FOOT_WORDS_MM;
        let mut y = foot_y - TWO_INCHES_MM;
        let mut say = |page: &mut Page, text: &str, letters: Type, most: usize| {
            for line in letters.wrap_at_most(text, FOOT_WORDS_WIDTH_MM, most) {
                y += letters.leading();
                page.text([x, y], &line, letters);
            }
        };
        say(page, &foot.title, Type::bold(4.0), 1);
        if let Some(title) = self.title {
            say(page, title, Type::plain(3.0), 1);
        }
        say(page, &self.words.t("print_at_100"), Type::plain(2.8), 4);
        let mut place = self.words.fill("page", &[("page", &number.to_string()), ("pages", &count.to_string())]);
        if let Some((_, row, column)) = foot.tile {
            place = format!("{} · {place}", self.words.fill("tile", &[("tile", &Tiling::name(row, column))]));
        }
        if !self.date.is_empty() {
            place = format!("{place} · {}", self.date);
        }
        say(page, &place, Type::bold(2.8), 1);
        if foot.tile.is_some() {
            say(page, &self.words.t("join"), Type::plain(2.4), 3);
        }
        if !self.replaced.is_empty() {
            say(page, &self.words.fill("replaced", &[("letters", &self.replaced.join(" "))]), Type::plain(2.4), 1);
        }
        if let Some((map, row, column)) = foot.tile
            && let Some(map) = self.maps.get(map)
        {
            let lying = width - 2.0 * MARGIN_MM > FOOT_WORDS_MM + FOOT_WORDS_WIDTH_MM + 40.0;
            let corner = if lying { [x + FOOT_WORDS_WIDTH_MM + 5.0, foot_y - TWO_INCHES_MM] } else { [x, y + 2.0] };
            let room = [width - MARGIN_MM - corner[0], foot_y - corner[1]];
            draw_map(page, map, (row, column), corner, room);
        }
    }

    /// A square of a known side, measured between the middles of its lines.
    fn test_square(&self, page: &mut Page, corner: Point, side: f64, name: &str) {
        page.frame(corner, [side, side], Pen::whole(0.2));
        let mut y = corner[1] + 0.5 * side - 6.0;
        let mut say = |page: &mut Page, text: &str, letters: Type| {
            for line in letters.wrap_at_most(text, side - 8.0, 4) {
                y += letters.leading();
                page.text([corner[0] + 0.5 * (side - letters.width(&line)), y], &line, letters);
            }
        };
        say(page, name, Type::bold(5.0));
        say(page, &self.words.fill("test_square", &[("side", name)]), Type::plain(2.6));
    }

    fn write(&self, pages: Vec<Page>) -> Vec<u8> {
        let mut pdf = Pdf::with_settings(TERSE);
        let mut next = 1;
        let mut id = || {
            next += 1;
            Ref::new(next - 1)
        };
        let (catalog, tree, info, plain, bold) = (id(), id(), id(), id(), id());
        let ids: Vec<(Ref, Ref)> = pages.iter().map(|_| (id(), id())).collect();

        let mut root = pdf.catalog(catalog);
        root.pages(tree).lang(TextStr(self.language));
        // Readers that heed it print at true scale without being told.
        root.viewer_preferences().insert(Name(b"PrintScaling")).primitive(Name(b"None"));
        root.finish();
        let count = i32::try_from(pages.len()).unwrap_or(i32::MAX);
        pdf.pages(tree).kids(ids.iter().map(|(page, _)| *page)).count(count);
        let named = self.title.map_or_else(|| self.words.t("title"), |title| title.chars().take(200).collect());
        pdf.document_info(info).title(TextStr(&named)).producer(TextStr("Lieflat"));
        for (font, face) in [(plain, Face::Plain), (bold, Face::Bold)] {
            let name: &[u8] = if face == Face::Plain { b"Helvetica" } else { b"Helvetica-Bold" };
            pdf.type1_font(font).base_font(Name(name)).encoding_predefined(Name(b"WinAnsiEncoding"));
        }
        for (page, (page_id, content_id)) in pages.into_iter().zip(ids) {
            let [width, height] = page.size().map(|mm| mm / POINT_MM);
            #[allow(clippy::cast_possible_truncation)]
            let media = Rect::new(0.0, 0.0, width as f32, height as f32);
            let mut entry = pdf.page(page_id);
            entry.media_box(media).parent(tree).contents(content_id);
            entry.resources().fonts().pair(PLAIN_FONT, plain).pair(BOLD_FONT, bold);
            entry.finish();
            pdf.stream(content_id, &page.finish());
        }
        pdf.finish()
    }
}

/// All tiles small, this one shaded, the drawing's outline over them.
fn draw_map(page: &mut Page, map: &Map, (row, column): (usize, usize), corner: Point, room: Point) {
    let tiling = &map.tiling;
    let step = [tiling.window[0] - OVERLAP_MM, tiling.window[1] - OVERLAP_MM];
    let spread = [tiling.columns as f64 * step[0], tiling.rows as f64 * step[1]];
    let scale = (room[0] / spread[0]).min(room[1] / spread[1]).min(0.12);
    let cell = [step[0] * scale, step[1] * scale];
    for r in 0..tiling.rows {
        for c in 0..tiling.columns {
            let at = [corner[0] + c as f64 * cell[0], corner[1] + r as f64 * cell[1]];
            if (r, c) == (row, column) {
                page.block(at, cell, 0.8);
            }
            page.frame(at, cell, Pen::whole(0.15));
            let letters = Type::plain((0.45 * cell[0].min(cell[1])).min(2.8));
            let name = Tiling::name(r, c);
            page.text([at[0] + 0.6, at[1] + 0.9 * letters.size], &name, letters);
        }
    }
    let start = [tiling.corner[0] + 0.5 * OVERLAP_MM, tiling.corner[1] + 0.5 * OVERLAP_MM];
    for line in &map.outline {
        let small: Vec<Point> = line
            .iter()
            .map(|p| [corner[0] + (p[0] - start[0]) * scale, corner[1] + (p[1] - start[1]) * scale])
            .collect();
        page.polyline(&small, false, Pen::whole(0.2));
    }
}
