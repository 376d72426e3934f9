//! Words from the page's catalogue, with figures set into them.

use core::fmt;

use lieflat::length::LengthUnit;
use lieflat::plan::{Figure, Mark};
use lieflat::shown::{Nearness, shown};
use serde::Serialize;

use crate::options::{Options, Unit};

/// One of the core's codes as it is written in JSON, which is what the catalogue's keys are made of. Only for choices that carry
/// nothing: a formatter writes no others.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Code<T>(pub T);

impl<T: Serialize> fmt::Display for Code<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.serialize(f)
    }
}

/// The catalogue with the unit that lengths are written in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Words<'a> {
    options: &'a Options,
}

impl<'a> Words<'a> {
    pub(crate) const fn new(options: &'a Options) -> Self {
        Self { options }
    }

    /// The page's own words at KEY; the key itself where the catalogue lacks it, so that the lack is seen.
    pub(crate) fn page(&self, key: &str) -> String {
        self.find(key).unwrap_or(key).to_owned()
    }

    /// The page's own words at KEY, each `{name}` replaced by its value.
    pub(crate) fn fill_page(&self, key: &str, values: &[(&str, &str)]) -> String {
        set_in(self.page(key), values)
    }

    /// The key of words that depend on a count: KEY.one or KEY.other where the catalogue has two forms, else KEY.
    pub(crate) fn counted(&self, key: &str, count: Option<usize>) -> String {
        let one = self.find(key).is_some();
        match count {
            None => key.to_owned(),
            Some(_) if one => key.to_owned(),
            Some(1) => format!("{key}.one"),
            Some(_) => format!("{key}.other"),
        }
    }

    /// The words at `sheets.pdf.KEY`; the key itself where the catalogue lacks it, so that the lack is seen.
    pub(crate) fn t(&self, key: &str) -> String {
        self.page(&format!("sheets.pdf.{key}"))
    }

    /// The words at `sheets.pdf.KEY`, each `{name}` replaced by its value.
    pub(crate) fn fill(&self, key: &str, values: &[(&str, &str)]) -> String {
        set_in(self.t(key), values)
    }

    /// A mark's name, those in between by number.
    pub(crate) fn mark(&self, mark: &Mark) -> String {
        let number = mark.number.map(|number| number.to_string()).unwrap_or_default();
        self.fill_page(&format!("place.{}", Code(mark.place)), &[("n", &number)])
    }

    /// The catalogue's words for a code of the core's, where it has them.
    pub(crate) fn code(&self, group: &str, code: &str) -> Option<&'a str> {
        self.find(&format!("codes.{group}.{code}"))
    }

    /// The same with values set in; the code itself where the catalogue lacks it, so that the lack is seen.
    pub(crate) fn fill_code(&self, group: &str, code: &str, values: &[(&str, &str)]) -> String {
        let text = self.code(group, code).map_or_else(|| format!("codes.{group}.{code}"), str::to_owned);
        set_in(text, values)
    }

    /// A length with its unit, held together, and marked where it is not the length itself.
    pub(crate) fn length(&self, mm: f64) -> String {
        self.length_in(mm, self.unit())
    }

    /// A stitch's length or width: machines are set in millimetres everywhere.
    pub(crate) fn stitch_length(&self, mm: f64) -> String {
        self.length_in(mm, LengthUnit::Millimetre)
    }

    fn length_in(&self, mm: f64, unit: LengthUnit) -> String {
        let seen = shown(mm, unit);
        let length = format!("{}\u{a0}{}", self.decimal(seen.text).replace(' ', "\u{a0}"), unit.symbol());
        match seen.nearness {
            Nearness::Exact => length,
            Nearness::About => self.fill_page("length.about", &[("length", &length)]),
            Nearness::Under => self.fill_page("length.under", &[("length", &length)]),
        }
    }

    /// A percentage to one decimal.
    pub(crate) fn percent(&self, value: f64) -> String {
        format!("{}\u{a0}%", self.decimal(short(value)))
    }

    /// A number to one decimal.
    pub(crate) fn number(&self, value: f64) -> String {
        self.decimal(short(value))
    }

    /// An angle to one decimal.
    pub(crate) fn degrees(&self, value: f64) -> String {
        format!("{}°", self.decimal(short(value)))
    }

    /// The range of a figure.
    pub(crate) fn range(&self, figure: &Figure) -> String {
        let (low, high) = (self.length(figure.low_mm), self.length(figure.high_mm));
        self.fill("range", &[("low", &low), ("high", &high)])
    }

    /// The text at a dotted path of names.
    fn find(&self, key: &str) -> Option<&'a str> {
        self.options.words.find(key)
    }

    const fn unit(&self) -> LengthUnit {
        match self.options.unit {
            Unit::Mm => LengthUnit::Millimetre,
            Unit::Cm => LengthUnit::Centimetre,
            Unit::In => LengthUnit::Inch,
        }
    }

    fn decimal(&self, number: String) -> String {
        number.replace('.', &self.t("decimal"))
    }
}

/// Each `{name}` of a text replaced by its value.
fn set_in(text: String, values: &[(&str, &str)]) -> String {
    values.iter().fold(text, |text, (name, value)| text.replace(&format!("{{{name}}}"), value))
}

fn short(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").map(str::to_owned).unwrap_or(text);
    if text == "-0" { "0".to_owned() } else { text }
}
