//! What a person may choose about the sheets, and the words they are written in.

use serde_json::Value;

/// What to print, on what, and in which words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Options {
    /// The paper.
    pub paper: Paper,
    /// The unit lengths are written in.
    pub unit: Unit,
    /// The language of the words, as a language tag: `en`, `es`.
    pub language: String,
    /// The page's catalogue in this language. Only what is under `sheets.pdf`, `codes`, `order`,
    /// `place` and `part` is used.
    pub words: Value,
    /// The date as it is to be printed; the sheets ask no clock.
    pub date: String,
    /// The link that opens this brief again, printed as text and as a code.
    pub link: Option<String>,
    /// Which sheets.
    pub sheets: Vec<Sheet>,
    /// How much of the strip is drawn.
    pub strip: StripForm,
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216 A4: `a4`.
    A4,
    /// US Letter: `letter`.
    Letter,
}

impl Paper {
    /// Width and height of the sheet held upright. mm.
    #[must_use]
    pub const fn size_mm(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }
}

/// The units of the page, by its own names: `mm`, `cm`, `in`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    In,
}

/// The sheets: `card`, `strip`, `facing`, `template`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// The cut card: every figure, the order of sewing, the brief, the link.
    Card,
    /// The strip at true scale; nothing for a facing.
    Strip,
    /// The facing's pieces at true scale; nothing for a strip.
    Facing,
    /// The neckline at true scale.
    Template,
}

/// How much of the strip is drawn: `auto`, `whole`, `half`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum StripForm {
    /// Half, to be cut on the fold, where that takes fewer sheets of paper.
    #[default]
    Auto,
    /// All of it.
    Whole,
    /// Half of it.
    Half,
}

impl Options {
    /// Reads options from JSON with the fields of this struct, choices by the names given at their types.
    ///
    /// `date`, `link` and `strip` may be left out.
    ///
    /// # Errors
    /// The name of the first field that is missing or is none of its choices.
    pub fn read(options: &Value) -> Result<Self, &'static str> {
        let text = |name| options.get(name).and_then(Value::as_str);
        let sheets = options.get("sheets").and_then(Value::as_array).ok_or("sheets")?;
        Ok(Self {
            paper: chosen(text("paper"), &[("a4", Paper::A4), ("letter", Paper::Letter)]).ok_or("paper")?,
            unit: chosen(text("unit"), &[("mm", Unit::Mm), ("cm", Unit::Cm), ("in", Unit::In)]).ok_or("unit")?,
            language: text("language").ok_or("language")?.to_owned(),
            words: options.get("words").ok_or("words")?.clone(),
            date: text("date").unwrap_or_default().to_owned(),
            link: text("link").map(str::to_owned),
            sheets: sheets.iter().map(sheet).collect::<Option<_>>().ok_or("sheets")?,
            strip: strip_form(text("strip").unwrap_or("auto")).ok_or("strip")?,
        })
    }
}

fn sheet(name: &Value) -> Option<Sheet> {
    let sheets =
        [("card", Sheet::Card), ("strip", Sheet::Strip), ("facing", Sheet::Facing), ("template", Sheet::Template)];
    chosen(name.as_str(), &sheets)
}

fn strip_form(text: &str) -> Option<StripForm> {
    chosen(Some(text), &[("auto", StripForm::Auto), ("whole", StripForm::Whole), ("half", StripForm::Half)])
}

fn chosen<T: Copy>(text: Option<&str>, choices: &[(&str, T)]) -> Option<T> {
    choices.iter().find(|(name, _)| Some(*name) == text).map(|(_, value)| *value)
}
