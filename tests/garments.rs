//! The invented garments of `tests/garments`: briefs whose whole plans are kept beside them, as JSON to be held against
//! later plans and as text to be read line by line.
//!
//! What is kept is the plan without its working; its numbers to [`KEPT_TO`], so that the last digits of a sum, which differ
//! from machine to machine, do not matter; a line of points as how many there are and how long they run.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use lieflat::{Brief, Plan};
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

/// Kept numbers are rounded to this, in their own unit.
pub const KEPT_TO: f64 = 0.01;
/// Points from which a list of them is a drawn line and not a place or two.
const LINE_POINTS: usize = 5;

/// A value of JSON whose fields stay in their order.
#[derive(Debug, Clone, PartialEq)]
pub enum Tree {
    /// Nothing.
    Null,
    /// Yes or no.
    Bool(bool),
    /// A number.
    Number(f64),
    /// Text.
    Text(String),
    /// A list.
    List(Vec<Tree>),
    /// Named fields.
    Fields(Vec<(String, Tree)>),
}

impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(Reader)
    }
}

struct Reader;

// Whole numbers of a plan are counts, far under what a float holds exactly.
#[allow(clippy::cast_precision_loss)]
impl<'de> Visitor<'de> for Reader {
    type Value = Tree;

    fn expecting(&self, to: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        to.write_str("any value of JSON")
    }

    fn visit_unit<E>(self) -> Result<Tree, E> {
        Ok(Tree::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Tree, E> {
        Ok(Tree::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Tree, E> {
        Ok(Tree::Number(value as f64))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Tree, E> {
        Ok(Tree::Number(value as f64))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Tree, E> {
        Ok(Tree::Number(value))
    }

    fn visit_str<E>(self, value: &str) -> Result<Tree, E> {
        Ok(Tree::Text(value.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Tree, A::Error> {
        let mut all = Vec::new();
        while let Some(item) = items.next_element()? {
            all.push(item);
        }
        Ok(Tree::List(all))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Tree, A::Error> {
        let mut all = Vec::new();
        while let Some(field) = fields.next_entry()? {
            all.push(field);
        }
        Ok(Tree::Fields(all))
    }
}

impl Tree {
    /// Reads JSON.
    ///
    /// # Errors
    /// What the reader says of text that is no JSON.
    pub fn read(json: &str) -> Result<Self, serde_json::Error> {
        serde_json::from_str(json)
    }

    /// A field of this name, where it has one.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Self> {
        let Self::Fields(fields) = self else { return None };
        fields.iter().find(|(own, _)| own == name).map(|(_, value)| value)
    }

    fn number(&self) -> Option<f64> {
        if let Self::Number(value) = self { Some(*value) } else { None }
    }

    /// Whether it holds no other values.
    fn is_plain(&self) -> bool {
        !matches!(self, Self::List(_) | Self::Fields(_))
    }

    /// A list of places in the plane.
    fn points(&self) -> Option<Vec<[f64; 2]>> {
        let Self::List(items) = self else { return None };
        items.iter().map(Self::point).collect()
    }

    fn point(&self) -> Option<[f64; 2]> {
        let Self::List(pair) = self else { return None };
        if let [x, y] = &pair[..] { Some([x.number()?, y.number()?]) } else { None }
    }
}

/// The folder of the garments.
#[must_use]
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("garments")
}

/// The garments' names in their order: each has a brief `NAME.json`, a plan `NAME.plan.json` and a reading `NAME.txt`.
///
/// # Panics
/// Where the folder cannot be read: it is part of the project.
#[must_use]
pub fn names() -> Vec<String> {
    let entries = std::fs::read_dir(folder()).expect("the folder of garments is there");
    let files = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let mut names: Vec<String> = files
        .filter_map(|file| Some(file.strip_suffix(".json")?.to_owned()))
        .filter(|name| !name.contains('.'))
        .collect();
    names.sort();
    names
}

/// A garment's brief as it was written.
///
/// # Panics
/// Where there is none of this name.
#[must_use]
pub fn brief_json(name: &str) -> String {
    let path = folder().join(format!("{name}.json"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// A garment's brief.
///
/// # Panics
/// Where it cannot be read.
#[must_use]
pub fn brief(name: &str) -> Brief {
    Brief::from_json(&brief_json(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// What is kept of a plan.
///
/// # Panics
/// Where a plan cannot be written as JSON, which is no case of its types.
#[must_use]
pub fn kept(plan: &Plan) -> Tree {
    let json = serde_json::to_string(plan).expect("a plan writes");
    let whole = Tree::read(&json).expect("what was written reads");
    let Tree::Fields(fields) = whole else { return whole };
    let left_out = ["schema", "version", "working"];
    let fields = fields.into_iter().filter(|(name, _)| !left_out.contains(&name.as_str()));
    Tree::Fields(fields.map(|(name, value)| (name, shortened(value))).collect())
}

fn shortened(value: Tree) -> Tree {
    if let Some(points) = value.points().filter(|points| points.len() >= LINE_POINTS) {
        let length: f64 = points.windows(2).map(|p| (p[1][0] - p[0][0]).hypot(p[1][1] - p[0][1])).sum();
        // Rounded lengths of few chords or of many are not the same line.
        #[allow(clippy::cast_precision_loss)]
        let count = points.len() as f64;
        return Tree::Fields(vec![
            ("points".to_owned(), Tree::Number(count)),
            ("length_mm".to_owned(), Tree::Number(rounded(length))),
        ]);
    }
    match value {
        Tree::Number(number) => Tree::Number(rounded(number)),
        Tree::List(items) => Tree::List(items.into_iter().map(shortened).collect()),
        Tree::Fields(fields) => {
            Tree::Fields(fields.into_iter().map(|(name, value)| (name, shortened(value))).collect())
        }
        other => other,
    }
}

fn rounded(number: f64) -> f64 {
    // No minus before a nought.
    (number / KEPT_TO).round() * KEPT_TO + 0.0
}

/// Where a plan differs from the one that was kept: each place with what stood and what stands there. A number may
/// differ by what rounding can make of a hair.
#[must_use]
pub fn differences(kept: &Tree, now: &Tree) -> Vec<String> {
    let mut found = Vec::new();
    compare("", kept, now, &mut found);
    found
}

fn compare(at: &str, kept: &Tree, now: &Tree, found: &mut Vec<String>) {
    match (kept, now) {
        (Tree::Number(a), Tree::Number(b)) if (a - b).abs() <= 1.01 * KEPT_TO => {}
        (Tree::List(a), Tree::List(b)) if a.len() == b.len() => {
            a.iter().zip(b).enumerate().for_each(|(i, (a, b))| compare(&format!("{at}.{i}"), a, b, found));
        }
        (Tree::Fields(a), Tree::Fields(b)) => {
            for (name, old) in a {
                let at = format!("{at}.{name}");
                match now.get(name) {
                    Some(new) => compare(&at, old, new, found),
                    None => found.push(format!("{at}: {} is gone", json(old))),
                }
            }
            let new = b.iter().filter(|(name, _)| kept.get(name).is_none());
            found.extend(new.map(|(name, value)| format!("{at}.{name}: {} is new", json(value))));
        }
        _ if kept == now => {}
        _ => found.push(format!("{at}: {} is now {}", json(kept), json(now))),
    }
}

/// Widest line of what is kept, so that a change shows as the lines that changed.
const LINE: usize = 150;

/// A value as JSON: on one line where it fits, its numbers as short as they are.
#[must_use]
pub fn json(value: &Tree) -> String {
    let mut text = String::new();
    write_json(value, 0, &mut text);
    text
}

fn write_json(value: &Tree, indent: usize, to: &mut String) {
    let short = one_line(value);
    if indent + short.len() <= LINE {
        to.push_str(&short);
        return;
    }
    let (open, close, items): (_, _, Vec<(String, &Tree)>) = match value {
        Tree::List(items) => ('[', ']', items.iter().map(|item| (String::new(), item)).collect()),
        Tree::Fields(fields) => {
            ('{', '}', fields.iter().map(|(name, value)| (format!("{}: ", quoted(name)), value)).collect())
        }
        _ => return to.push_str(&short),
    };
    to.push(open);
    for (i, (name, item)) in items.iter().enumerate() {
        to.push_str(if i == 0 { "\n" } else { ",\n" });
        let _ = write!(to, "{:width$}{name}", "", width = indent + 2);
        write_json(item, indent + 2, to);
    }
    let _ = write!(to, "\n{:indent$}{close}", "");
}

fn one_line(value: &Tree) -> String {
    let joined = |items: Vec<String>| items.join(", ");
    match value {
        Tree::Null => "null".to_owned(),
        Tree::Bool(value) => value.to_string(),
        Tree::Number(number) => short(*number, 2),
        Tree::Text(text) => quoted(text),
        Tree::List(items) => format!("[{}]", joined(items.iter().map(one_line).collect())),
        Tree::Fields(fields) => {
            let each = fields.iter().map(|(name, value)| format!("{}: {}", quoted(name), one_line(value)));
            format!("{{ {} }}", joined(each.collect()))
        }
    }
}

fn quoted(text: &str) -> String {
    serde_json::to_string(text).unwrap_or_default()
}

/// A number with at most so many decimals, none of them a nought at the end.
fn short(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A brief and what is kept of its plan as text to be read: every field, each on a line, rows that are alike as a table.
#[must_use]
pub fn reading(brief: &Tree, kept: &Tree) -> String {
    let mut text = String::new();
    if let Some(Tree::Text(title)) = brief.get("title") {
        let _ = writeln!(text, "{title}\n{}", "=".repeat(title.chars().count()));
    }
    for (heading, fields) in [("WHAT WAS TOLD", brief), ("THE PLAN", kept)] {
        let _ = writeln!(text, "\n{heading}");
        let Tree::Fields(fields) = fields else { continue };
        for (name, value) in fields.iter().filter(|(name, _)| !["schema", "version", "title"].contains(&name.as_str()))
        {
            read_field(name, value, 0, &mut text);
        }
    }
    text
}

/// What fits on a line to be read.
const READ_LINE: usize = 110;

fn read_field(name: &str, value: &Tree, indent: usize, to: &mut String) {
    let (called, unit) = called(name);
    let start = format!("{:indent$}{called}", "");
    if value.is_plain() {
        let _ = writeln!(to, "{start}: {}", said(value, unit));
        return;
    }
    if let Some(figure) = figure(value).or_else(|| points_said(value)) {
        let _ = writeln!(to, "{start}: {figure}");
        return;
    }
    match value {
        Tree::List(items) if items.is_empty() => {
            let _ = writeln!(to, "{start}: none");
        }
        Tree::List(items) if items.iter().all(|item| item.is_plain() || item.point().is_some()) => {
            let each: Vec<String> = items.iter().map(|item| said(item, unit)).collect();
            let _ = writeln!(to, "{start}: {}", each.join("; "));
        }
        Tree::List(items) => {
            let _ = writeln!(to, "{start}");
            read_table(items, indent + 2, to);
        }
        Tree::Fields(_) if start.len() + said(value, "").len() <= READ_LINE => {
            let _ = writeln!(to, "{start}: {}", said(value, ""));
        }
        Tree::Fields(fields) => {
            let _ = writeln!(to, "{start}");
            fields.iter().for_each(|(name, value)| read_field(name, value, indent + 2, to));
        }
        _ => {}
    }
}

/// A field's name in words, and the unit it ends in.
fn called(name: &str) -> (String, &'static str) {
    const UNITS: [(&str, &str); 5] =
        [("_mm", " mm"), ("_percent", " %"), ("_deg", "°"), ("_months", " months"), ("_points", " points")];
    let found = UNITS.iter().find_map(|(end, unit)| Some((name.strip_suffix(end)?, *unit)));
    let (name, unit) = found.unwrap_or((name, ""));
    (name.replace('_', " "), unit)
}

/// A value that holds few others, on a line.
fn said(value: &Tree, unit: &str) -> String {
    match value {
        Tree::Null => "-".to_owned(),
        Tree::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Tree::Number(number) => format!("{}{unit}", short(*number, 1)),
        Tree::Text(text) => text.clone(),
        Tree::List(items) => {
            let each: Vec<String> = items.iter().map(|item| said(item, unit)).collect();
            format!("({})", each.join(", "))
        }
        Tree::Fields(fields) => points_said(value).or_else(|| figure(value)).unwrap_or_else(|| {
            let each = fields.iter().map(|(name, value)| {
                let (called, unit) = called(name);
                format!("{called} {}", said(value, unit))
            });
            each.collect::<Vec<_>>().join(", ")
        }),
    }
}

/// A figure to cut: rounded, exact, its range and what matters most for it.
fn figure(value: &Tree) -> Option<String> {
    let number = |name: &str| value.get(name).and_then(Tree::number);
    let (cut, exact) = (number("cut_mm")?, number("exact_mm")?);
    let (low, high) = (number("low_mm")?, number("high_mm")?);
    let inches = if cut.fract() == 0.0 { String::new() } else { format!(" = {} in", short(cut / 25.4, 3)) };
    let most = match value.get("most_from") {
        Some(Tree::Text(from)) => format!(", most from {from}"),
        _ => String::new(),
    };
    Some(format!("{} mm{inches} (exact {exact:.1}; {low:.1} to {high:.1}{most})", short(cut, 1)))
}

fn points_said(value: &Tree) -> Option<String> {
    let number = |name: &str| value.get(name).and_then(Tree::number);
    Some(format!("a line of {} points, {:.1} mm", number("points")?, number("length_mm")?))
}

/// Rows that are alike, in columns; others each on a line.
fn read_table(rows: &[Tree], indent: usize, to: &mut String) {
    let mut heads: Vec<&str> = Vec::new();
    let mut cells = 0;
    for row in rows {
        let Tree::Fields(fields) = row else { return read_lines(rows, indent, to) };
        let new = fields.iter().map(|(name, _)| name.as_str()).filter(|name| !heads.contains(name)).collect::<Vec<_>>();
        heads.extend(new);
        cells += fields.len();
    }
    if 2 * cells < heads.len() * rows.len() || rows.len() == 1 {
        return read_lines(rows, indent, to);
    }
    let words = |head: &&str| {
        let (called, unit) = called(head);
        format!("{called}{}", if unit.is_empty() { String::new() } else { format!(" ({})", unit.trim()) })
    };
    let cell = |row: &Tree, head: &&str| row.get(head).map_or_else(|| "-".to_owned(), |value| said(value, ""));
    let cells = rows.iter().map(|row| heads.iter().map(|head| cell(row, head)).collect::<Vec<_>>());
    let table: Vec<Vec<String>> = core::iter::once(heads.iter().map(words).collect()).chain(cells).collect();
    let width = |column: usize| table.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..heads.len()).map(width).collect();
    for row in &table {
        let padded = row.iter().zip(&widths).map(|(text, width)| format!("{text:<width$}"));
        let line = padded.collect::<Vec<_>>().join("  ");
        let _ = writeln!(to, "{:indent$}{}", "", line.trim_end());
    }
}

fn read_lines(rows: &[Tree], indent: usize, to: &mut String) {
    for (i, row) in rows.iter().enumerate() {
        let _ = writeln!(to, "{:indent$}{}. {}", "", i + 1, said(row, ""));
    }
}
