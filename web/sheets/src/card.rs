//! The cut card: every figure with its range, the marks, the stays, the clips, the order of sewing, cautions, the
//! brief in short, and the link that opens it again.

use crate::book::Book;
use crate::flow::Flow;
use crate::options::{Options, Paper};
use crate::plan::{Cure, Ends, Figure, Plan, Zone};
use crate::qr::Code;
use crate::text::Type;
use crate::told::{Half, Knit, Stitch, Told};
use crate::words::Words;

/// The largest the link's code may be, mm.
const LARGEST_CODE_MM: f64 = 62.0;

/// Lays the card into the book.
pub(crate) fn card<'a>(book: &mut Book<'a>, told: &'a Told, plan: &'a Plan, options: &Options) {
    let words = book.words;
    let size = Paper::size_mm(options.paper);
    let mut card = Card { flow: Flow::new(book, words.t("card.title"), size), words, told, plan };
    card.head(options);
    card.figures();
    card.marks();
    card.stays();
    card.clips();
    card.steps();
    card.cautions();
    card.brief();
    card.assumptions();
    card.link(options);
    card.flow.finish();
}

struct Card<'b, 'a> {
    flow: Flow<'b, 'a>,
    words: Words<'a>,
    told: &'a Told,
    plan: &'a Plan,
}

impl Card<'_, '_> {
    fn t(&self, key: &str) -> String {
        self.words.t(key)
    }

    fn length(&self, mm: f64) -> String {
        self.words.length(mm)
    }

    /// The words for a code of a group.
    fn code(&self, group: &str, code: &str) -> String {
        self.words.t(&format!("{group}.{code}"))
    }

    fn head(&mut self, options: &Options) {
        let title = self.told.title.clone().unwrap_or_else(|| self.t("card.untitled"));
        self.flow.large(&title, Type::bold(6.4));
        let kind = self.t("card.title");
        let line = if options.date.is_empty() { kind } else { format!("{kind} · {}", options.date) };
        self.flow.paragraph(&line);
        self.flow.gap(1.5);
        self.cut_figure();
        self.verdicts();
    }

    fn cut_figure(&mut self) {
        let what = self.t(&format!("card.cut.{}", self.told.finish.kind.key()));
        let figure = match (&self.plan.strip, &self.plan.facing) {
            (Some(strip), _) => {
                format!("{} × {}", self.length(strip.cut_length.cut), self.length(strip.cut_width.cut))
            }
            (None, Some(facing)) => self.length(facing.cut_width.cut),
            (None, None) => return,
        };
        self.flow.large(&format!("{what}: {figure}"), Type::bold(5.2));
        self.flow.gap(1.0);
    }

    fn verdicts(&mut self) {
        if let Some(strip) = &self.plan.strip {
            let verdict = self.code("outcome", &strip.outcome);
            self.flow.strong(&verdict);
            if strip.outcome != "lies_flat" {
                for cure in &strip.cures {
                    let text = self.cure(cure);
                    self.flow.item("·", &text);
                }
            }
        }
        let opening = &self.plan.opening;
        let key = if opening.passes { "head.passes" } else { "head.stops" };
        let by = self.length(opening.spare.abs());
        let text = self.words.fill(key, &[("by", &by)]);
        self.flow.strong(&text);
        self.remedies();
        self.stitch_advice();
    }

    /// What would let the head pass, best first.
    fn remedies(&mut self) {
        let remedies = &self.plan.opening.remedies;
        for remedy in remedies {
            let (length, percent) = (self.length(remedy.number), self.words.percent(remedy.number));
            let values = [("length", length.as_str()), ("percent", &percent), ("line", &self.length(remedy.line))];
            let text = self.words.fill_code("remedy", &remedy.words, &values);
            self.flow.item("·", &text);
        }
        if !remedies.is_empty() && self.told.girth.months.is_some() {
            let text = self.words.fill_code("remedy", "children", &[]);
            self.flow.item("·", &text);
        }
    }

    /// What would serve where the stitch would break.
    fn stitch_advice(&mut self) {
        let Some(advice) = &self.plan.opening.stitch_advice else { return };
        let kind = if matches!(self.told.stitch, Stitch::Zigzag { .. }) { "zigzag" } else { "straight" };
        let percent = self.words.percent(advice.asks);
        let (width, length) = (self.length(advice.width), self.length(advice.length));
        let values = [("percent", percent.as_str()), ("width", &width), ("length", &length)];
        let text = self.words.fill_code("stitch_advice", kind, &values);
        self.flow.paragraph(&text);
    }

    fn cure(&self, cure: &Cure) -> String {
        let direction = if cure.text.is_empty() { String::new() } else { self.code("direction", &cure.text) };
        let (width, percent) = (self.length(cure.number), self.words.percent(cure.number));
        let values = [("width", width.as_str()), ("percent", &percent), ("direction", &direction)];
        self.words.fill(&format!("cure.{}", cure.code), &values)
    }

    fn figures(&mut self) {
        let mut rows: Vec<Vec<String>> = Vec::new();
        let mut cut = |key: &str, figure: &Figure| {
            rows.push(vec![self.words.t(key), self.words.length(figure.cut), self.words.range(figure)]);
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
            self.flow.gap(1.0);
            let ends = self.ends(strip.ends);
            self.flow.paragraph(&ends);
            if let Some(back) = strip.back_ends {
                let text = self.words.fill("ends.at_back", &[("ends", &self.ends(back))]);
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
            row("figure.relaxed", self.length(strip.relaxed_length));
            row("figure.ends", self.length(strip.end_extra));
            row("figure.ratio", self.words.percent(strip.ratio_percent));
            row("figure.hold", self.words.percent(strip.hold_percent));
            if let Some(widest) = strip.widest_flat {
                row("figure.widest_flat", self.length(widest));
            }
            if let Some(trim) = strip.trim {
                row("figure.trim", self.length(trim));
            }
            if let Some(line) = &strip.stitch_line {
                row("figure.stitch_line", self.length(line.length));
            }
            if let Some(topstitch) = strip.topstitch {
                row("figure.topstitch_at", self.length(topstitch));
            }
        }
        if let Some(facing) = &self.plan.facing {
            row("figure.favour", self.length(facing.favour));
            row("figure.understitch_at", self.length(facing.understitch_distance));
            row("figure.understitch", self.length(facing.understitch_length));
            if let Some(stops) = facing.understitch_stops {
                row("figure.understitch_stops", self.length(stops));
            }
            row("figure.interfacing", self.code("interfacing", &facing.interfacing));
            if let (Some(at), Some(length)) = (self.told.finish.topstitch, facing.topstitch_length) {
                row("figure.topstitch_at", self.length(at));
                row("figure.topstitch", self.length(length));
            }
        }
        row("figure.seam_line", self.length(self.plan.whole_length));
        row("figure.smallest_girth", self.length(self.plan.opening.smallest_girth));
        rows
    }

    fn ends(&self, ends: Ends) -> String {
        match ends {
            Ends::Ring => self.t("ends.ring"),
            Ends::Mitre { degrees, free_edge_shorter } => self.words.fill(
                "ends.mitre",
                &[("angle", &self.words.degrees(degrees)), ("shorter", &self.length(free_edge_shorter))],
            ),
            Ends::Lap { width } => self.words.fill("ends.lap", &[("width", &self.length(width))]),
            Ends::Overhang { length } => self.words.fill("ends.overhang", &[("length", &self.length(length))]),
        }
    }

    fn marks(&mut self) {
        let Some(strip) = &self.plan.strip else { return };
        let rows: Vec<Vec<String>> = strip
            .marks
            .iter()
            .map(|mark| {
                let ratio = mark.ratio_percent.map_or_else(String::new, |ratio| self.words.percent(ratio));
                vec![self.words.mark(mark), self.length(mark.on_strip), self.length(mark.on_seam_line), ratio]
            })
            .collect();
        let sewn_on = if strip.stitch_line.is_some() { "mark.on_stitch_line" } else { "mark.on_seam_line" };
        let head = ["mark.what", "mark.on_strip", sewn_on, "mark.ratio"].map(|key| self.t(key));
        let (heading, note) = (self.t("card.marks"), self.t("mark.note"));
        self.flow.heading(&heading);
        self.flow.table(&head, &rows, &[4.0, 3.0, 3.0, 2.0]);
        self.flow.gap(1.0);
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
            let rows: Vec<Vec<String>> = stays.zones.iter().map(|zone| self.zone(zone)).collect();
            let head = ["stay.part", "stay.tape", "stay.from_edge", "stay.note"].map(|key| self.t(key));
            self.flow.table(&head, &rows, &[4.0, 3.0, 2.5, 3.5]);
            self.flow.gap(1.0);
            if stays.total_tape > 0.0 {
                let text = self.words.fill("stay.total", &[("length", &self.length(stays.total_tape))]);
                self.flow.paragraph(&text);
            }
        }
        if !stays.given_up.is_empty() {
            let parts: Vec<String> = stays.given_up.iter().map(|part| self.code("part", part)).collect();
            let text = self.words.fill("stay.given_up", &[("parts", &parts.join(", "))]);
            self.flow.paragraph(&text);
        }
        if !stays.stable.is_empty() {
            let text = self.words.fill("stay.stable", &[("names", &stays.stable.join("; "))]);
            self.flow.paragraph(&text);
        }
    }

    fn zone(&self, zone: &Zone) -> Vec<String> {
        let part = zone.name.clone().unwrap_or_else(|| self.code("part", &zone.part));
        let tape = zone.tape_each.map_or_else(|| self.t("stay.as_seam"), |mm| self.length(mm));
        let width = self.length(zone.tape_width);
        let mut notes = Vec::new();
        if zone.fit != "fits" {
            let (past, widest) = (self.length(zone.past_stitching), self.length(zone.widest_tape));
            let key = match zone.fit.as_str() {
                "too_wide" => format!("stay.fit.too_wide.{}", zone.measured_from),
                fit => format!("stay.fit.{fit}"),
            };
            notes.push(self.words.fill(&key, &[("past", &past), ("widest", &widest)]));
        }
        if ["mitred", "ends_at_seam"].contains(&zone.at_centre.as_str()) {
            notes.push(self.t(&format!("stay.at_centre.{}", zone.at_centre)));
        }
        if zone.snips > 0 {
            let key = self.words.counted("sheets.pdf.stay.snips", Some(zone.snips));
            notes.push(self.words.fill_page(&key, &[("count", &zone.snips.to_string())]));
        }
        if let Some(ratio) = zone.gathering {
            notes.push(self.words.fill("stay.gathering", &[("ratio", &self.words.number(ratio))]));
        }
        let pieces = zone.pieces.to_string();
        let key = if zone.fit == "none_fits" { "stay.row" } else { "stay.piece" };
        let from = self.length(zone.from_edge);
        let tape = self.words.fill(key, &[("count", &pieces), ("length", &tape), ("width", &width)]);
        let from = self.words.fill(&format!("stay.from.{}", zone.measured_from), &[("from", &from)]);
        vec![part, tape, from, notes.join("; ")]
    }

    fn clips(&mut self) {
        let Some(clips) = &self.plan.clips else { return };
        let heading = self.t("card.clips");
        self.flow.heading(&heading);
        let mut texts: Vec<String> = Vec::new();
        texts.extend(clips.trim_to.map(|to| self.words.fill("clip.trim", &[("width", &self.length(to))])));
        let place = |(mm, kind): (&f64, &String)| match kind.as_str() {
            "curve" => self.length(*mm),
            corner => format!("{} ({})", self.length(*mm), self.code("clip_kind", corner)),
        };
        let places: Vec<String> = clips.places.iter().zip(&clips.kinds).map(place).collect();
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
            let text = step.text(self.plan, &self.words);
            self.flow.item(&format!("{}.", i + 1), &text);
        }
    }

    fn cautions(&mut self) {
        let heading = self.t("card.cautions");
        self.flow.heading(&heading);
        for key in ["caution.blades", "caution.iron", "caution.children", "caution.test"] {
            let text = self.t(key);
            self.flow.item("!", &text);
        }
    }

    fn brief(&mut self) {
        let told = self.told;
        let readings = format!("readings.{}", told.readings_at);
        let allowance = self.length(told.neckline_allowance);
        let mut rows = vec![
            ("brief.readings", self.words.fill(&readings, &[("length", &allowance)])),
            ("brief.front", self.half(&told.front)),
            ("brief.back", self.half(&told.back)),
            ("brief.garment_knit", self.knit(&told.garment_knit)),
        ];
        if let Some(knit) = &told.strip_knit {
            rows.push(("brief.strip_knit", self.knit(knit)));
        }
        rows.push(("brief.finish", self.finish()));
        rows.push(("brief.stitch", self.stitch()));
        rows.push(("brief.head", self.head_girth()));
        let rows: Vec<Vec<String>> = rows.into_iter().map(|(key, value)| vec![self.t(key), value]).collect();
        let heading = self.t("card.brief");
        self.flow.heading(&heading);
        self.flow.table(&[], &rows, &[2.6, 9.0]);
    }

    fn half(&self, half: &Half) -> String {
        let mut parts = vec![self.code("shape", &half.shape)];
        let mut say = |key: &str, mm: f64| parts.push(self.words.fill(key, &[("length", &self.length(mm))]));
        for (key, mm) in [("half.length", half.length), ("half.width", half.width), ("half.depth", half.depth)] {
            if let Some(mm) = mm {
                say(key, mm);
            }
        }
        match half.centre_allowance {
            None => parts.push(self.t("half.fold")),
            Some(mm) => say("half.seam", mm),
        }
        parts.push(self.words.fill("half.shoulder", &[("length", &self.length(half.shoulder_allowance))]));
        parts.join("; ")
    }

    fn knit(&self, knit: &Knit) -> String {
        let mut parts: Vec<String> = knit.name.iter().cloned().collect();
        let ways = [
            ("knit.crosswise", knit.crosswise),
            ("knit.lengthwise", knit.lengthwise),
            ("knit.diagonal", knit.diagonal),
        ];
        for (key, percent) in ways {
            if let Some(percent) = percent {
                parts.push(self.words.fill(key, &[("percent", &self.words.percent(percent))]));
            }
        }
        parts.join("; ")
    }

    fn finish(&self) -> String {
        let finish = &self.told.finish;
        let text = self.words.fill(&format!("finish.{}", finish.kind.key()), &[("width", &self.length(finish.width))]);
        if self.plan.strip.is_some() {
            format!("{text}; {}", self.code("direction", &self.told.strip_direction))
        } else {
            text
        }
    }

    fn stitch(&self) -> String {
        match &self.told.stitch {
            Stitch::Zigzag { width, advance } => self
                .words
                .fill("stitch.zigzag", &[("width", &self.length(*width)), ("advance", &self.length(*advance))]),
            Stitch::Plain(code) => self.code("stitch", code),
        }
    }

    fn head_girth(&self) -> String {
        let girth = &self.told.girth;
        let months = girth.months.map(|months| self.words.number(months)).unwrap_or_default();
        let whose = self.words.fill(&format!("girth.{}", girth.whose), &[("months", &months)]);
        let opening = &self.plan.opening;
        let values =
            [("whose", whose), ("girth", self.length(opening.head_girth)), ("margin", self.length(opening.margin))];
        let values = values.each_ref().map(|(name, value)| (*name, value.as_str()));
        self.words.fill("girth.line", &values)
    }

    /// Only those that the catalogue has words for.
    fn assumptions(&mut self) {
        let words = self.words;
        let known: Vec<&str> = self.plan.assumptions.iter().filter_map(|code| words.code("assumption", code)).collect();
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
        self.flow.heading(&heading);
        if let Some(code) = Code::new(link, LARGEST_CODE_MM) {
            self.flow.code(&code, link);
        } else {
            let text = self.t("link.too_long");
            self.flow.paragraph(&text);
            self.flow.paragraph(link);
        }
    }
}
