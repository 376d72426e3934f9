//! What of CSS tells one kind of line from another: colour, width, dashes, and whether anything is shown.

use roxmltree::Node;

use super::scan::{Scan, with_unit};
use crate::byte::byte;
use crate::messages::{MOST_SEGMENTS, Refused};

/// What a line inherits from the groups that it is in.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Look {
    pub(crate) stroke: Option<[u8; 3]>,
    pub(crate) fill: Option<[u8; 3]>,
    pub(crate) colour: [u8; 3],
    pub(crate) width: f64,
    pub(crate) dash: Vec<f64>,
    pub(crate) on: bool,
    /// Where a style moves the element itself to, as CSS says it.
    pub(crate) transform: Option<String>,
}

impl Default for Look {
    fn default() -> Self {
        Self {
            stroke: None,
            fill: Some([0; 3]),
            colour: [0; 3],
            width: 1.0,
            dash: Vec::new(),
            on: true,
            transform: None,
        }
    }
}

/// One rule of a style sheet, its selector a single simple one.
#[derive(Debug)]
struct Rule<'a> {
    tag: Option<&'a str>,
    id: Option<&'a str>,
    classes: Vec<&'a str>,
    declarations: Vec<Declaration>,
}

/// A property in small letters, and its value.
type Declaration = (String, String);

impl Rule<'_> {
    /// How strong it is: by id, by classes, by element.
    fn weight(&self) -> (bool, usize, bool) {
        (self.id.is_some(), self.classes.len(), self.tag.is_some())
    }
}

/// The rules of all style sheets, the weakest first.
#[derive(Debug, Default)]
pub(crate) struct Sheet<'a> {
    rules: Vec<Rule<'a>>,
}

/// Most rules that are kept: each element is held against each.
const MOST_RULES: usize = 2000;

impl<'a> Sheet<'a> {
    /// Reads a style sheet: rules with simple selectors; others are passed over, as are those for a screen's size and the like.
    ///
    /// # Errors
    /// Of more rules than are kept, or one with a selector that is not read and that moves things.
    pub(crate) fn read(&mut self, text: &'a str) -> Result<(), Refused> {
        let mut rest = text;
        while let Some((selectors, after)) = rest.split_once('{') {
            let Some((declarations, next)) = after.split_once('}') else { break };
            rest = next;
            for selector in selectors.rsplit("*/").next().unwrap_or_default().split(',') {
                self.add(selector.trim(), told(declarations))?;
            }
        }
        Ok(())
    }

    fn add(&mut self, selector: &'a str, declarations: Vec<Declaration>) -> Result<(), Refused> {
        let moves = declarations.iter().any(|(name, _)| name == "transform" || MOVES.contains(&name.as_str()));
        let Some(rule) = rule(selector, declarations) else {
            // One that is passed over may not be what puts things in their place.
            return if moves && !selector.contains('@') { Err(Refused::Broken) } else { Ok(()) };
        };
        if self.rules.len() >= MOST_RULES {
            return Err(Refused::TooMuch { most: MOST_SEGMENTS });
        }
        let after = self.rules.partition_point(|one| one.weight() <= rule.weight());
        self.rules.insert(after, rule);
        Ok(())
    }

    /// How much work an element makes here, held against the work of reading it.
    pub(crate) fn weight(&self) -> usize {
        self.rules.len() / 8
    }

    /// What an element says of its own look, over what it inherits.
    pub(crate) fn look(&self, node: Node<'_, '_>, inherited: &Look) -> Look {
        // A place is nobody's to inherit.
        let mut look = Look { transform: None, ..inherited.clone() };
        for name in ["color", "stroke", "fill", "stroke-width", "stroke-dasharray", "display", "visibility"] {
            if let Some(value) = node.attribute(name) {
                look.set(name, value);
            }
        }
        for rule in self.rules.iter().filter(|rule| fits(rule, node)) {
            look.set_all(&rule.declarations);
        }
        look.set_all(&told(node.attribute("style").unwrap_or_default()));
        look
    }
}

fn rule(selector: &str, declarations: Vec<Declaration>) -> Option<Rule<'_>> {
    if selector.is_empty() || selector.contains(|c: char| c.is_whitespace() || "@:>+~[".contains(c)) {
        return None;
    }
    let mut rule = Rule { tag: None, id: None, classes: Vec::new(), declarations };
    let mut rest = selector;
    while !rest.is_empty() {
        let first = rest.chars().next()?;
        let after = if matches!(first, '.' | '#' | '*') { rest.get(1..)? } else { rest };
        let end = after.find(['.', '#']).unwrap_or(after.len());
        let (name, next) = (after.get(..end)?, after.get(end..)?);
        match first {
            '.' => rule.classes.push(name),
            '#' => rule.id = Some(name),
            '*' => {}
            _ => rule.tag = Some(name),
        }
        rest = next;
    }
    Some(rule)
}

fn fits(rule: &Rule<'_>, node: Node<'_, '_>) -> bool {
    let has =
        |class: &&str| node.attribute("class").unwrap_or_default().split_ascii_whitespace().any(|one| one == *class);
    rule.tag.is_none_or(|tag| node.tag_name().name() == tag)
        && rule.id.is_none_or(|id| node.attribute("id") == Some(id))
        && rule.classes.iter().all(has)
}

/// What moves or sizes an element beside its `transform`, and what stands for one: no transform that can be read.
const MOVES: [&str; 4] = ["translate", "rotate", "scale", "offset-path"];
const UNREAD: &str = "?";

/// Declarations as names in small letters and values, without the comments between them.
pub(super) fn told(declarations: &str) -> Vec<Declaration> {
    let mut plain = String::new();
    let mut rest = declarations;
    while let Some((before, after)) = rest.split_once("/*") {
        plain.push_str(before);
        rest = after.split_once("*/").map_or("", |(_, after)| after);
    }
    plain.push_str(rest);
    let pairs = plain.split(';').filter_map(|one| one.split_once(':'));
    pairs.map(|(name, value)| (name.trim().to_ascii_lowercase(), value.trim().to_owned())).collect()
}

impl Look {
    fn set_all(&mut self, declarations: &[Declaration]) {
        for (name, value) in declarations {
            self.set(name, value);
        }
    }

    fn set(&mut self, name: &str, value: &str) {
        let value = value.trim().trim_end_matches("!important").trim();
        if value == "inherit" {
            return;
        }
        let paint = || if value == "none" { None } else { Some(colour(value).unwrap_or(self.colour)) };
        match name {
            "color" => self.colour = colour(value).unwrap_or(self.colour),
            "stroke" => self.stroke = paint(),
            "fill" => self.fill = paint(),
            "stroke-width" => {
                self.width = with_unit(value).map_or(self.width, |(v, unit)| v * super::px(&unit).unwrap_or(1.0));
            }
            "stroke-dasharray" => self.dash = dashes(value),
            "display" => self.on &= value != "none",
            "visibility" => self.on &= value == "visible",
            "transform" => self.transform = Some(value.to_owned()),
            // These move and size as well, in ways of their own: what has one is not drawn as if it had none.
            name if MOVES.contains(&name) && value != "none" => self.transform = Some(UNREAD.to_owned()),
            _ => {}
        }
    }
}

/// Most dashes and gaps that are told apart.
const MOST_DASHES: usize = 12;

fn dashes(value: &str) -> Vec<f64> {
    let mut scan = Scan::new(value);
    let mut all = Vec::new();
    while let Some(length) = scan.number().filter(|_| all.len() < MOST_DASHES) {
        let unit = scan.word().to_ascii_lowercase();
        all.push(length * super::px(&unit).unwrap_or(1.0));
    }
    if all.iter().any(|v| *v > 0.0) { all } else { Vec::new() }
}

/// A colour: in hexadecimal, by its parts, or one of the sixteen first names that CSS has.
fn colour(value: &str) -> Option<[u8; 3]> {
    const NAMES: [(&str, [u8; 3]); 17] = [
        ("black", [0, 0, 0]),
        ("silver", [192, 192, 192]),
        ("gray", [128, 128, 128]),
        ("white", [255, 255, 255]),
        ("maroon", [128, 0, 0]),
        ("red", [255, 0, 0]),
        ("purple", [128, 0, 128]),
        ("fuchsia", [255, 0, 255]),
        ("magenta", [255, 0, 255]),
        ("green", [0, 128, 0]),
        ("lime", [0, 255, 0]),
        ("olive", [128, 128, 0]),
        ("yellow", [255, 255, 0]),
        ("navy", [0, 0, 128]),
        ("blue", [0, 0, 255]),
        ("teal", [0, 128, 128]),
        ("aqua", [0, 255, 255]),
    ];
    if let Some(digits) = value.strip_prefix('#') {
        let digits: Vec<u8> =
            digits.chars().filter_map(|c| c.to_digit(16)).filter_map(|d| u8::try_from(d).ok()).collect();
        return match digits.as_slice() {
            [r, g, b] | [r, g, b, _] => Some([r * 17, g * 17, b * 17]),
            [r, s, g, h, b, c, ..] => Some([r * 16 + s, g * 16 + h, b * 16 + c]),
            _ => None,
        };
    }
    if let Some(parts) = value.strip_prefix("rgb(").or_else(|| value.strip_prefix("rgba(")) {
        let mut scan = Scan::new(parts);
        let mut part = || {
            let value = scan.number()?;
            let share = if scan.mark(b'%') { 2.55 } else { 1.0 };
            byte(value * share)
        };
        return Some([part()?, part()?, part()?]);
    }
    NAMES.iter().find(|(name, _)| name.eq_ignore_ascii_case(value)).map(|(_, colour)| *colour)
}
