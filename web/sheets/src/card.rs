//! The cut card, on one page where it can be: the picture, every figure with its range, the marks, the stays, the clips, the order of sewing, cautions, the
//! brief in short, and the link that opens it again.

use core::fmt::Display;
use std::rc::Rc;

use lieflat::brief::{Centre, Finish, Half, HeadGirth, Knit, Outline, Shape, Stitch, Stretch};
use lieflat::plan::{
    AssumptionCode, ClipKind, ClipLine, Cure, Ends, Figure, Mark, MarkPlace, Outcome, Remedy, Span, StayZone,
    StripPlan, TapeAtCentre, TapeFit,
};
use lieflat::{Brief, Plan};

use crate::book::{Book, MARGIN_MM};
use crate::flow::{Flow, Region, column_width, columns, pages_of};
use crate::geometry::add;
use crate::ink::{Page, Point};
use crate::options::Options;
use crate::order;
use crate::picture::{Picture, picture};
use crate::qr;
use crate::text::Type;
use crate::tile::draw_at;
use crate::words::{Code, Words};

/// The largest the link's code may be, mm.
const LARGEST_CODE_MM: f64 = 66.0;

/// How tall its picture may be and how large its letters, mm: the first of these with which it is one page. Letters of 2.2 mm are of
/// 6.2 points, a little larger than the small print of a pattern's envelope (from memory).
const SIZES_MM: [(f64, f64); 11] = [
    (98.0, 3.2),
    (98.0, 3.0),
    (98.0, 2.8),
    (98.0, 2.6),
    (84.0, 2.6),
    (98.0, 2.4),
    (84.0, 2.4),
    (98.0, 2.2),
    (84.0, 2.2),
    (72.0, 2.2),
    (60.0, 2.2),
];

/// The same where it is more than one page.
const OVER_PAGES_MM: (f64, f64) = (98.0, 3.0);

/// How wide the picture's neckline may be, and what is free round the picture, mm.
const NECKLINE_MM: f64 = 94.0;
const PICTURE_GAP_MM: f64 = 4.0;

/// Lays the card into the book.
pub(crate) fn card<'a>(book: &mut Book<'a>, brief: &'a Brief, plan: &'a Plan, options: &Options) {
    let words = book.words;
    let paper = options.paper.size_mm();
    let width = if plan.facing.is_some() { column_width(paper) } else { Book::room(paper)[0] };
    // Several sizes of letters go with one picture, which takes longer to draw than all the words.
    let mut drawn: Vec<(f64, Rc<Picture>)> = Vec::new();
    let mut picture_of = |tall: f64| {
        if let Some((_, known)) = drawn.iter().find(|(for_tall, _)| *for_tall == tall) {
            return Rc::clone(known);
        }
        let picture = Rc::new(picture(brief, plan, &words, NECKLINE_MM, width, tall));
        drawn.push((tall, Rc::clone(&picture)));
        picture
    };
    let code = options.link.as_deref().and_then(|link| qr::Code::new(link, LARGEST_CODE_MM));
    // Nothing is drawn until it is known how: which of the sizes is one page follows from how tall the words are.
    let mut set = |(tall, size): (f64, f64)| {
        let mut card = Card { flow: Flow::new(column_width(paper), size), words, brief, plan, code: code.as_ref() };
        card.body(options);
        let picture = picture_of(tall);
        let head = card.head(paper, &picture);
        let places = card.flow.places(paper, &head.regions);
        (head, picture, card.flow, places)
    };
    let on_one = SIZES_MM.into_iter().map(&mut set).find(|(.., places)| pages_of(places) == 1);
    let (head, picture, flow, places) = on_one.unwrap_or_else(|| set(OVER_PAGES_MM));
    let mut pages: Vec<Page> = (0..pages_of(&places)).map(|_| Page::new(paper)).collect();
    if let Some(first) = pages.first_mut() {
        head.draw(first, &picture);
    }
    flow.draw_on(&mut pages, &places);
    for page in pages {
        book.add(page);
    }
}

/// What stands over a card's words, and where these may stand on the first page.
struct Head {
    title: Flow,
    /// Where the picture's two drawings lie.
    neckline: Point,
    below: Point,
    regions: Vec<Region>,
}

impl Head {
    fn draw(&self, page: &mut Page, picture: &Picture) {
        self.title.draw(page, [MARGIN_MM; 2]);
        draw_at(page, &picture.neckline, self.neckline);
        draw_at(page, &picture.below, self.below);
    }
}

/// A knit's stretch as it was told. Percent.
fn percent(stretch: Stretch) -> f64 {
    match stretch {
        Stretch::Percent { stretch_percent, .. } => stretch_percent,
        Stretch::Readings { rest_mm, stretched_mm, .. } => 100.0 * lieflat::knit::stretch(rest_mm, stretched_mm),
    }
}

struct Card<'a> {
    flow: Flow,
    words: Words<'a>,
    brief: &'a Brief,
    plan: &'a Plan,
    /// The link as a code, where there is a link that one can hold: made once, for it takes as long as all the words.
    code: Option<&'a qr::Code>,
}

impl Card<'_> {
    fn t(&self, key: &str) -> String {
        self.words.t(key)
    }

    fn length(&self, mm: f64) -> String {
        self.words.length(mm)
    }

    /// The words for a code of a group.
    fn code(&self, group: &str, code: impl Display) -> String {
        self.words.t(&format!("{group}.{code}"))
    }

    fn body(&mut self, options: &Options) {
        self.verdicts();
        self.figures();
        self.marks();
        self.stays();
        self.clips();
        self.steps();
        self.cautions();
        self.brief();
        // Before what always follows, so that no page holds the link alone.
        self.link(options);
        self.assumptions();
    }

    /// The title, what to cut, and the picture; the rest stands beside the neckline, and beside a short strip, where the second column
    /// is free; facing pieces stand there themselves.
    fn head(&self, paper: Point, picture: &Picture) -> Head {
        let mut title = Flow::new(Book::room(paper)[0], OVER_PAGES_MM.1);
        title.large(&self.brief.title.clone().unwrap_or_else(|| self.t("card.untitled")), Type::bold(5.2));
        title.large(&self.cut_figure(), Type::bold(4.6));
        let top = MARGIN_MM + title.tall() + PICTURE_GAP_MM;
        let [neckline, below] = [&picture.neckline, &picture.below].map(|drawing| {
            let [low, high] = drawing.bounds();
            add(high, low, -1.0)
        });
        let [left, right] = columns(paper, top);
        let at = [MARGIN_MM, top];
        if self.plan.facing.is_some() {
            let under = top + neckline[1].max(below[1]) + PICTURE_GAP_MM;
            return Head { title, neckline: at, below: [right.left, top], regions: columns(paper, under).into() };
        }
        let under = top + neckline[1] + PICTURE_GAP_MM;
        let foot = if below[0] <= column_width(paper) { under + below[1] } else { top + neckline[1] };
        let [lower_left, lower_right] = columns(paper, under + below[1] + PICTURE_GAP_MM);
        let regions = vec![Region { foot, ..right }, lower_left, lower_right];
        Head { title, neckline: at, below: [left.left, under], regions }
    }

    fn cut_figure(&self) -> String {
        let what = self.t(&format!("card.cut.{}", self.plan.finish.kind.name()));
        let figure = match (&self.plan.strip, &self.plan.facing) {
            (Some(strip), _) => {
                format!("{} × {}", self.length(strip.cut_length.cut_mm), self.length(strip.cut_width.cut_mm))
            }
            (None, Some(facing)) => self.length(facing.cut_width.cut_mm),
            (None, None) => return what,
        };
        format!("{what}: {figure}")
    }

    /// What must be seen before anything is cut: front and back that do not meet, a knit of too little stretch.
    fn warnings(&mut self) {
        if self.plan.assumptions.iter().any(|one| one.code == AssumptionCode::Widths) {
            let line = &self.plan.seam_line;
            let [front, back] = [&line.front, &line.back].map(|half| self.length(half.half_width_mm));
            let text = self.words.fill_page("doubt.apart", &[("front", &front), ("back", &back)]);
            self.flow.strong(&text);
        }
        for one in self.plan.suitability.iter().filter(|one| !one.suits) {
            let way = self.words.page(&format!("way_of_stretch.{}", Code(one.direction)));
            let [asked, has] = [one.asked_percent, one.has_percent].map(|percent| self.words.percent(percent));
            let text = self.words.fill_page("knits.falls_short", &[("way", &way), ("asked", &asked), ("has", &has)]);
            self.flow.strong(&text);
        }
    }

    fn verdicts(&mut self) {
        self.warnings();
        if let Some(strip) = &self.plan.strip {
            // Of those that do what it comes to: a crew's stand along the neck is no part of a gape in front.
            let worst = strip.spans.iter().filter(|span| span.outcome == strip.outcome);
            let most = worst.map(|span| span.stands_off_mm).fold(0.0, f64::max);
            let key = format!("outcome.{}", Code(strip.outcome));
            let verdict = self.words.fill(&key, &[("off", &self.length(most))]);
            self.flow.strong(&verdict);
            self.spans(strip);
            if !strip.outcome.passes() {
                for cure in &strip.cures {
                    let text = self.cure(*cure);
                    self.flow.item("·", &text);
                }
            }
        }
        let opening = &self.plan.opening;
        let key = if opening.passes { "head.passes" } else { "head.stops" };
        let by = self.length(opening.spare_mm.abs());
        let text = self.words.fill(key, &[("by", &by)]);
        self.flow.strong(&text);
        self.remedies();
        self.stitch_advice();
    }

    /// What the strip does from mark to mark, where it does not simply lie flat.
    fn spans(&mut self, strip: &StripPlan) {
        for (span, ends) in strip.spans.iter().zip(strip.marks.windows(2)) {
            let [from, to] = ends else { continue };
            if span.outcome != Outcome::LiesFlat || !span.trusted {
                let (from, to) = (self.words.mark(from), self.words.mark(to));
                let between = self.words.fill_page("spans.from_to", &[("from", &from), ("to", &to)]);
                let text = format!("{between}{}{}", self.words.page("list.inside"), self.does(span));
                self.flow.item("·", &text);
            }
        }
    }

    /// What one span does, with its figures. Gaping has words of its own where the strip stands up.
    fn does(&self, span: &Span) -> String {
        let (off, lean) = (self.length(span.stands_off_mm), self.words.degrees(span.leans_deg.unwrap_or(0.0).round()));
        let standing = if span.outcome == Outcome::Gapes && span.leans_deg.is_some() { "_standing" } else { "" };
        let key = format!("does.{}{standing}", Code(span.outcome));
        let does = self.words.fill_page(&key, &[("off", &off), ("lean", &lean)]);
        if span.trusted { does } else { self.words.fill_page("does.untrusted", &[("does", &does)]) }
    }

    /// What would let the head pass, best first.
    fn remedies(&mut self) {
        let remedies = &self.plan.opening.remedies;
        for remedy in remedies {
            let text = self.remedy(*remedy);
            self.flow.item("·", &text);
        }
        if !remedies.is_empty() && matches!(self.brief.head.girth, HeadGirth::Child { .. }) {
            let text = self.words.fill_code("remedy", "children", &[]);
            self.flow.item("·", &text);
        }
    }

    fn remedy(&self, remedy: Remedy) -> String {
        let say = |code: &str, values: &[(&str, &str)]| self.words.fill_code("remedy", code, values);
        let by_length = |code: &str, mm: f64| say(code, &[("length", &self.length(mm))]);
        match remedy {
            Remedy::EnvelopeShoulder => say("envelope_shoulder", &[]),
            Remedy::LargerNeck { by_mm, seam_line_mm, stayed } => {
                let code = if stayed { "larger_neck_stayed" } else { "larger_neck_live" };
                say(code, &[("length", &self.length(by_mm)), ("line", &self.length(seam_line_mm))])
            }
            Remedy::Narrower(mm) => by_length("narrower", mm),
            Remedy::Stretchier(percent) => say("stretchier", &[("percent", &self.words.percent(percent))]),
            Remedy::OtherDirection(way) => say(&format!("other_direction_{}", Code(way)), &[]),
            Remedy::AnotherStitch => say("another_stitch", &[]),
            Remedy::ShoulderOpening(mm) => by_length("shoulder_opening", mm),
            Remedy::Placket(mm) => by_length("placket", mm),
        }
    }

    /// What would serve where the stitch would break.
    fn stitch_advice(&mut self) {
        let Some(advice) = &self.plan.opening.stitch_advice else { return };
        let kind = if matches!(self.brief.stitch, Stitch::Zigzag { .. }) { "zigzag" } else { "straight" };
        let percent = self.words.percent(advice.seam_asks_percent);
        let [width, length] = [advice.zigzag_width_mm, advice.zigzag_length_mm].map(|mm| self.words.stitch_length(mm));
        let values = [("percent", percent.as_str()), ("width", &width), ("length", &length)];
        let text = self.words.fill_code("stitch_advice", kind, &values);
        self.flow.paragraph(&text);
    }

    fn cure(&self, cure: Cure) -> String {
        let say = |key: &str, name: &str, value: &str| self.words.fill(key, &[(name, value)]);
        match cure {
            Cure::Narrower(mm) => say("cure.narrower", "width", &self.length(mm)),
            Cure::Stretchier(percent) => say("cure.stretchier", "percent", &self.words.percent(percent)),
            Cure::UseTheRule => self.t("cure.use_the_rule"),
            Cure::OtherDirection(way) => say("cure.other_direction", "direction", &self.code("direction", Code(way))),
            Cure::Facing => self.t("cure.facing"),
        }
    }

    fn figures(&mut self) {
        let mut rows: Vec<Vec<String>> = Vec::new();
        let mut cut = |key: &str, figure: &Figure| {
            rows.push(vec![self.words.t(key), self.words.length(figure.cut_mm), self.words.range(figure)]);
        };
        if let Some(strip) = &self.plan.strip {
            cut("figure.cut_length", &strip.cut_length);
            cut("figure.cut_width", &strip.cut_width);
        }
        if let Some(facing) = &self.plan.facing {
            cut("figure.facing_width", &facing.cut_width);
            cut("figure.front_seam_edge", &facing.front.seam_edge);
            cut("figure.front_outer_edge", &facing.front.outer_edge);
            cut("figure.back_seam_edge", &facing.back.seam_edge);
            cut("figure.back_outer_edge", &facing.back.outer_edge);
        }
        rows.extend(self.plain_figures());
        let head = ["figure.what", "figure.cut", "figure.range"].map(|key| self.t(key));
        let heading = self.t("card.figures");
        self.flow.heading(&heading);
        self.flow.table(&head, &rows, &[5.0, 2.5, 4.5]);
        if let Some(strip) = &self.plan.strip {
            let neckline = &self.brief.neckline;
            let joined = if strip.join_at == MarkPlace::CentreBack { &neckline.back } else { &neckline.front };
            let ends = self.ends(strip.ends, joined);
            self.flow.paragraph(&ends);
            if let Some(back) = strip.back_ends {
                let text = self.words.fill("ends.at_back", &[("ends", &self.ends(back, &neckline.back))]);
                self.flow.paragraph(&text);
            }
        }
    }

    fn plain_figures(&self) -> Vec<Vec<String>> {
        let mut rows = Vec::new();
        let mut row = |key: &str, value: String| rows.push(vec![self.t(key), value, String::new()]);
        if let Some(strip) = &self.plan.strip {
            if strip.pieces > 1 {
                row("figure.pieces", strip.pieces.to_string());
            }
            row("figure.relaxed", self.length(strip.relaxed_length_mm));
            let [rest, sewn] =
                [strip.narrowing.width_at_rest_mm, strip.narrowing.width_as_sewn_mm].map(|mm| self.length(mm));
            if rest != sewn {
                row("figure.width_at_rest", rest);
                row("figure.width_as_sewn", sewn);
            }
            row("figure.ends", self.length(strip.end_extra_mm));
            row("figure.ratio", self.words.percent(strip.ratio_percent));
            row("figure.hold", self.words.percent(strip.hold_percent));
            if let Some(widest) = strip.widest_mm {
                row("figure.widest", self.length(widest));
            }
            if let Some(trim) = strip.trim_mm {
                row("figure.trim", self.length(trim));
            }
            if let Some(line) = &strip.stitch_line {
                row("figure.stitch_line", self.length(line.length_mm));
            }
            if let Some(topstitch) = strip.topstitch_mm {
                row("figure.topstitch_at", self.length(topstitch));
            }
        }
        if let Some(facing) = &self.plan.facing {
            row("figure.favour", self.length(facing.favour_mm));
            row("figure.understitch_at", self.length(facing.understitch_distance_mm));
            row("figure.understitch", self.length(facing.understitch_length_mm));
            if let Some(stops) = facing.understitch_stops_mm {
                row("figure.understitch_stops", self.length(stops));
            }
            row("figure.interfacing", self.code("interfacing", Code(facing.interfacing)));
            if let (Some(at), Some(length)) = (self.topstitch(), facing.topstitch_length_mm) {
                row("figure.topstitch_at", self.length(at));
                row("figure.topstitch", self.length(length));
            }
        }
        row("figure.seam_line", self.length(self.plan.seam_line.whole_length_mm));
        row("figure.smallest_girth", self.length(self.plan.opening.smallest_girth_mm));
        rows
    }

    /// From a facing's seam to its topstitching, mm.
    fn topstitch(&self) -> Option<f64> {
        match &self.brief.finish {
            Finish::Facing(facing) => facing.topstitch_mm,
            Finish::Band(_) | Finish::Tape(_) | Finish::Bound(_) => None,
        }
    }

    /// How a strip's ends meet at the centre of a half: open ends are caught in its seam, or cross where it is on a fold.
    fn ends(&self, ends: Ends, half: &Half) -> String {
        match ends {
            Ends::Ring => self.t("ends.ring"),
            Ends::Mitre { angle_deg, free_edge_shorter_mm } => self.words.fill(
                "ends.mitre",
                &[("angle", &self.words.degrees(angle_deg)), ("shorter", &self.length(free_edge_shorter_mm))],
            ),
            Ends::Lap { lap_width_mm, .. } => self.words.fill("ends.lap", &[("width", &self.length(lap_width_mm))]),
            Ends::Overhang { overhang_mm } => {
                let key = if half.centre == Centre::Fold { "ends.overhang.fold" } else { "ends.overhang.seam" };
                self.words.fill(key, &[("length", &self.length(overhang_mm))])
            }
        }
    }

    fn marks(&mut self) {
        let Some(strip) = &self.plan.strip else { return };
        // A span's ratio stands beside the mark it ends at; the first mark ends none.
        let ratios = strip.spans.iter().map(|span| self.words.percent(span.ratio_percent));
        let ratios = core::iter::once(String::new()).chain(ratios);
        let row = |(mark, ratio): (&Mark, String)| {
            vec![self.words.mark(mark), self.length(mark.on_strip_mm), self.length(mark.on_seam_line_mm), ratio]
        };
        let rows: Vec<Vec<String>> = strip.marks.iter().zip(ratios).map(row).collect();
        let sewn_on = if strip.stitch_line.is_some() { "mark.on_stitch_line" } else { "mark.on_seam_line" };
        let head = ["mark.what", "mark.on_strip", sewn_on, "mark.ratio"].map(|key| self.t(key));
        let (heading, note) = (self.t("card.marks"), self.t("mark.note"));
        self.flow.heading(&heading);
        self.flow.table(&head, &rows, &[4.0, 3.0, 3.0, 2.0]);
        self.flow.paragraph(&note);
    }

    fn stays(&mut self) {
        let stays = &self.plan.stays;
        let heading = self.t("card.stays");
        self.flow.heading(&heading);
        if stays.zones.is_empty() {
            let none = self.t("stay.none");
            self.flow.paragraph(&none);
        } else {
            let zones = stays.zones.iter().enumerate();
            let rows: Vec<Vec<String>> = zones.map(|(i, zone)| self.zone(i + 1, zone)).collect();
            let head = ["stay.part", "stay.tape", "stay.from_edge", "stay.note"].map(|key| self.t(key));
            self.flow.table(&head, &rows, &[3.2, 2.8, 2.0, 4.2]);
            if stays.total_tape_mm > 0.0 {
                let text = self.words.fill("stay.total", &[("length", &self.length(stays.total_tape_mm))]);
                self.flow.paragraph(&text);
            }
        }
        if !stays.given_up.is_empty() {
            let parts: Vec<String> = stays.given_up.iter().map(|one| self.code("part", Code(one.part))).collect();
            let text = self.words.fill("stay.given_up", &[("parts", &parts.join(", "))]);
            self.flow.paragraph(&text);
        }
        self.drawn_in();
        if !stays.stable.is_empty() {
            let names: Vec<&str> = stays.stable.iter().map(|edge| edge.name.as_str()).collect();
            let text = self.words.fill("stay.stable", &[("names", &names.join("; "))]);
            self.flow.paragraph(&text);
        }
    }

    /// Where the band draws the garment's edge in.
    fn drawn_in(&mut self) {
        let drawn = self.plan.strip.iter().flat_map(|strip| &strip.parts).filter_map(|part| {
            let share = self.words.percent(part.drawn_in_percent?.round());
            let place = self.words.page(&format!("verdict.at.{}", Code(part.part)));
            Some(self.words.fill_page("stays.drawn_in_part", &[("where", &place), ("share", &share)]))
        });
        let parts = drawn.collect::<Vec<_>>().join(&self.words.page("list.semicolon"));
        if !parts.is_empty() {
            let text = self.words.fill_page("stays.drawn_in", &[("parts", &parts)]);
            self.flow.paragraph(&text);
        }
    }

    fn zone(&self, number: usize, zone: &StayZone) -> Vec<String> {
        let part = zone.name.clone().unwrap_or_else(|| self.code("part", Code(zone.part)));
        let tape = zone.tape_each_mm.map_or_else(|| self.t("stay.as_seam"), |mm| self.length(mm));
        let width = self.length(zone.tape_width_mm);
        let mut notes = Vec::new();
        let misfit = match zone.fit {
            TapeFit::Fits => None,
            TapeFit::TooWide => Some(format!("stay.fit.too_wide.{}", Code(zone.measured_from))),
            TapeFit::NoneFits => Some("stay.fit.none_fits".to_owned()),
        };
        notes.extend(misfit.map(|key| {
            let (past, widest) = (self.length(zone.past_stitching_mm), self.length(zone.widest_tape_mm));
            self.words.fill(&key, &[("past", &past), ("widest", &widest)])
        }));
        if let Some(centre @ (TapeAtCentre::Mitred | TapeAtCentre::EndsAtSeam)) = zone.at_centre {
            notes.push(self.code("stay.at_centre", Code(centre)));
        }
        if zone.snips > 0 {
            let key = self.words.counted("sheets.pdf.stay.snips", Some(zone.snips as usize));
            notes.push(self.words.fill_page(&key, &[("count", &zone.snips.to_string())]));
        }
        if let Some(ratio) = zone.gathering_ratio {
            notes.push(self.words.fill("stay.gathering", &[("ratio", &self.words.number(ratio))]));
        }
        let pieces = zone.pieces.to_string();
        let key = if zone.fit == TapeFit::NoneFits { "stay.row" } else { "stay.piece" };
        let from = self.length(zone.from_edge_mm);
        let tape = self.words.fill(key, &[("count", &pieces), ("length", &tape), ("width", &width)]);
        let from = self.words.fill(&format!("stay.from.{}", Code(zone.measured_from)), &[("from", &from)]);
        vec![format!("{number}\u{a0}{part}"), tape, from, notes.join("; ")]
    }

    fn clips(&mut self) {
        let Some(clips) = &self.plan.clips else { return };
        let heading = self.t("card.clips");
        self.flow.heading(&heading);
        let mut texts: Vec<String> = Vec::new();
        texts.extend(clips.trim_to_mm.map(|to| self.words.fill("clip.trim", &[("width", &self.length(to))])));
        let place = |(mm, clip): (&f64, &ClipLine)| match clip.kind {
            ClipKind::Curve => self.length(*mm),
            corner => format!("{} ({})", self.length(*mm), self.code("clip_kind", Code(corner))),
        };
        let places: Vec<String> = clips.places_mm.iter().zip(&clips.lines).map(place).collect();
        texts.push(if places.is_empty() {
            self.t("clip.none")
        } else {
            let (count, corners) = (clips.count.to_string(), clips.into_corners.to_string());
            let values = [("count", count.as_str()), ("corners", &corners), ("places", &places.join("; "))];
            self.words.fill("clip.places", &values)
        });
        for text in texts {
            self.flow.paragraph(&text);
        }
    }

    fn steps(&mut self) {
        let heading = self.words.page("order.heading");
        self.flow.heading(&heading);
        for (i, step) in self.plan.order.iter().enumerate() {
            let text = order::text(step, self.plan, &self.words);
            self.flow.item(&format!("{}.", i + 1), &text);
        }
    }

    fn cautions(&mut self) {
        let heading = self.words.page("about.care");
        self.flow.heading(&heading);
        // Which there are, and in what order, the plan says with its steps.
        let cautions = self.plan.order.iter().flat_map(|step| &step.cautions);
        let keys = cautions.map(|caution| format!("caution.{}", Code(*caution)));
        for key in keys.chain(["about.rules_first".to_owned()]) {
            let text = self.words.page(&key);
            self.flow.item("!", &text);
        }
    }

    fn brief(&mut self) {
        let (brief, neckline) = (self.brief, &self.brief.neckline);
        let readings = format!("readings.{}", Code(neckline.readings_at));
        let allowance = self.length(neckline.neckline_allowance_mm);
        let mut rows = vec![
            ("brief.readings", self.words.fill(&readings, &[("length", &allowance)])),
            ("brief.front", self.half(&neckline.front)),
            ("brief.back", self.half(&neckline.back)),
            ("brief.garment_knit", self.knit(&brief.garment_knit)),
        ];
        if let Some(knit) = &brief.strip_knit {
            rows.push(("brief.strip_knit", self.knit(knit)));
        }
        rows.push(("brief.finish", self.finish()));
        rows.push(("brief.stitch", self.stitch()));
        rows.push(("brief.head", self.head_girth()));
        let rows: Vec<Vec<String>> = rows.into_iter().map(|(key, value)| vec![self.t(key), value]).collect();
        let heading = self.t("card.brief");
        self.flow.heading(&heading);
        self.flow.table(&[], &rows, &[1.8, 9.0]);
    }

    fn half(&self, half: &Half) -> String {
        let say = |key: &str, mm: f64| self.words.fill(key, &[("length", &self.length(mm))]);
        let shape = |shape: &Shape| self.code("shape", Code(shape.kind));
        let (shape, length, width, depth) = match &half.outline {
            Outline::Measured(read) => {
                (shape(&read.shape), Some(read.half_length_mm), read.half_width_mm, read.depth_mm)
            }
            Outline::Drafted(draft) => (shape(&draft.shape), None, Some(draft.half_width_mm), Some(draft.depth_mm)),
            Outline::Drawn(_) => (self.t("shape.drawn"), None, None, None),
        };
        let mut parts = vec![shape];
        parts.extend(length.map(|mm| say("half.length", mm)));
        parts.extend(width.map(|mm| say("half.width", mm)));
        parts.extend(depth.map(|mm| say("half.depth", mm)));
        parts.push(match half.centre {
            Centre::Fold => self.t("half.fold"),
            Centre::Seam { allowance_mm } => say("half.seam", allowance_mm),
        });
        parts.push(say("half.shoulder", half.shoulder_allowance_mm));
        parts.join("; ")
    }

    fn knit(&self, knit: &Knit) -> String {
        let mut parts: Vec<String> = knit.name.iter().cloned().collect();
        let ways = [
            ("knit.crosswise", Some(knit.crosswise)),
            ("knit.lengthwise", knit.lengthwise),
            ("knit.diagonal", knit.diagonal),
        ];
        for (key, stretch) in ways {
            if let Some(stretch) = stretch {
                parts.push(self.words.fill(key, &[("percent", &self.words.percent(percent(stretch)))]));
            }
        }
        parts.join("; ")
    }

    fn finish(&self) -> String {
        let finish = &self.plan.finish;
        let key = format!("finish.{}", finish.kind.name());
        let text = self.words.fill(&key, &[("width", &self.length(finish.width_mm))]);
        if self.plan.strip.is_some() {
            format!("{text}; {}", self.code("direction", Code(self.brief.strip_direction)))
        } else {
            text
        }
    }

    fn stitch(&self) -> String {
        match self.brief.stitch {
            Stitch::Zigzag { width_mm, advance_mm } => {
                let [width, advance] = [width_mm, advance_mm].map(|mm| self.words.stitch_length(mm));
                self.words.fill("stitch.zigzag", &[("width", &width), ("advance", &advance)])
            }
            plain @ (Stitch::Straight | Stitch::Overlock) => self.code("stitch", Code(plain)),
        }
    }

    fn head_girth(&self) -> String {
        let whose = match self.brief.head.girth {
            HeadGirth::OwnMm(_) => self.t("girth.own"),
            HeadGirth::Adult(group) => self.code("girth", Code(group)),
            HeadGirth::Child { group, age_months } => {
                let months = self.words.number(age_months);
                self.words.fill(&format!("girth.{}", Code(group)), &[("months", &months)])
            }
        };
        let opening = &self.plan.opening;
        let values = [
            ("whose", whose),
            ("girth", self.length(opening.head_girth_mm)),
            ("margin", self.length(opening.margin_mm)),
        ];
        let values = values.each_ref().map(|(name, value)| (*name, value.as_str()));
        self.words.fill("girth.line", &values)
    }

    /// Only those that the catalogue has words for.
    fn assumptions(&mut self) {
        let words = self.words;
        let taken = self.plan.assumptions.iter();
        let known: Vec<&str> = taken.filter_map(|one| words.code("assumption", &Code(one.code).to_string())).collect();
        if known.is_empty() {
            return;
        }
        let heading = self.t("card.assumptions");
        self.flow.heading(&heading);
        for text in known {
            self.flow.item("·", text);
        }
    }

    fn link(&mut self, options: &Options) {
        let Some(link) = options.link.as_deref().filter(|link| !link.is_empty()) else { return };
        let heading = self.t("card.link");
        self.flow.keep_company();
        self.flow.heading(&heading);
        if let Some(code) = self.code {
            self.flow.code(code.clone(), link);
        } else {
            let text = self.t("link.too_long");
            self.flow.paragraph(&text);
            self.flow.paragraph(link);
        }
    }
}
