//! The pages together: what stands at the foot of each, and the file.

use lieflat::Brief;
use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};

use crate::check::{SCALE_MM, TICK_MM, scale};
use crate::ink::{BOLD_FONT, PLAIN_FONT, Page, Point, TERSE};
use crate::letters::quoted;
use crate::metrics::Face;
use crate::options::Options;
use crate::text::{POINT_MM, Type};
use crate::words::Words;

/// Left free along the paper's edges, mm: most home printers leave 3 to 6 mm white (from memory), and a sheet may lie askew.
pub(crate) const MARGIN_MM: f64 = 8.0;

/// Kept for the foot of every page, mm: its scale and words, and a gap above them.
const FOOT_MM: f64 = 14.0;

/// Between the scale and the foot's words, mm.
const BESIDE_MM: f64 = 6.0;

/// Pages in the making.
pub(crate) struct Book<'a> {
    pub words: Words<'a>,
    title: Option<&'a str>,
    date: &'a str,
    language: &'a str,
    /// Letters that cannot be printed, as they are quoted.
    replaced: Vec<String>,
    pages: Vec<Page>,
}

impl<'a> Book<'a> {
    pub(crate) fn new(brief: &'a Brief, options: &'a Options, replaced: &[char]) -> Self {
        Self {
            words: Words::new(options),
            title: brief.title.as_deref(),
            date: &options.date,
            language: &options.language,
            replaced: replaced.iter().copied().map(quoted).collect(),
            pages: Vec::new(),
        }
    }

    pub(crate) fn add(&mut self, page: Page) {
        self.pages.push(page);
    }

    pub(crate) const fn pages(&self) -> usize {
        self.pages.len()
    }

    /// What a page of a size has room for above its foot, from the margin's upper left corner. mm.
    pub(crate) const fn room(paper: Point) -> Point {
        [paper[0] - 2.0 * MARGIN_MM, paper[1] - 2.0 * MARGIN_MM - FOOT_MM]
    }

    /// Draws the feet and writes the file.
    pub(crate) fn finish(mut self) -> Vec<u8> {
        let mut pages = core::mem::take(&mut self.pages);
        let count = pages.len();
        for (i, page) in pages.iter_mut().enumerate() {
            self.draw_foot(page, i + 1, count);
        }
        self.write(pages)
    }

    /// The scale, and beside it what the page is and how it is printed.
    fn draw_foot(&self, page: &mut Page, number: usize, count: usize) {
        let [width, height] = page.size();
        let foot_y = height - MARGIN_MM;
        scale(page, [MARGIN_MM, foot_y - TICK_MM]);
        let x = MARGIN_MM + SCALE_MM + BESIDE_MM;
        let mut y = foot_y - 2.0 * TICK_MM - 2.4;
        let mut say = |text: &str, letters: Type, most: usize| {
            for line in letters.wrap_at_most(text, width - MARGIN_MM - x, most) {
                y += letters.leading();
                page.text([x, y], &line, letters);
            }
        };
        let mut place = self.words.fill("page", &[("page", &number.to_string()), ("pages", &count.to_string())]);
        for more in [Some(self.date).filter(|date| !date.is_empty()), self.title].into_iter().flatten() {
            place = format!("{place} · {more}");
        }
        say(&place, Type::bold(2.6), 1);
        if self.replaced.is_empty() {
            return say(&self.words.t("print_at_100"), Type::plain(2.2), 3);
        }
        say(&self.words.t("print_at_100"), Type::plain(2.0), 2);
        say(&self.words.fill("replaced", &[("letters", &self.replaced.join(" "))]), Type::plain(2.0), 1);
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
