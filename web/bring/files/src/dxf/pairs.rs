//! The lines of a DXF two by two: a group code, and its value.

use lieflat::decimal;

use crate::messages::Refused;

/// Most pairs of one record: a polyline of as many points as are read at all.
const MOST_PAIRS: usize = 3_000_000;

/// Whether values of a group code are real numbers, by the published reference: coordinates, lengths, angles, directions.
const fn is_real(code: i32) -> bool {
    matches!(code, 10..=59 | 110..=149 | 210..=239)
}

/// A group code and its value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pair<'a> {
    pub(crate) code: i32,
    pub(crate) value: &'a str,
    /// The number that it is, where its code says that it is one.
    pub(crate) real: Option<f64>,
}

/// A file as it is read on.
#[derive(Debug)]
pub(crate) struct Pairs<'a> {
    lines: core::str::Lines<'a>,
    /// Lines read.
    passed: usize,
    /// A pair that was looked at and not taken.
    ahead: Option<Pair<'a>>,
}

/// A thing in a section: its kind, and the pairs up to the next thing.
#[derive(Debug)]
pub(crate) struct Record<'a> {
    pub(crate) kind: &'a str,
    pub(crate) pairs: Vec<Pair<'a>>,
    /// The line of the text that names its kind, from 1.
    pub(crate) line: usize,
}

impl<'a> Pairs<'a> {
    pub(crate) fn new(text: &'a str) -> Self {
        Self { lines: text.lines(), passed: 0, ahead: None }
    }

    /// The next pair; none at the end of the text.
    pub(crate) fn next(&mut self) -> Result<Option<Pair<'a>>, Refused> {
        if let Some(pair) = self.ahead.take() {
            return Ok(Some(pair));
        }
        let Some(code) = self.lines.next() else { return Ok(None) };
        self.passed += 1;
        if code.trim().is_empty() && self.lines.clone().next().is_none() {
            return Ok(None);
        }
        let code = code.trim().parse().map_err(|_| Refused::BrokenAt { line: self.passed })?;
        let value = self.lines.next().ok_or(Refused::CutShort)?.trim();
        self.passed += 1;
        let real = if is_real(code) { decimal::read(value).filter(|number| number.is_finite()) } else { None };
        // A coordinate that cannot be read must not leave its place to the next.
        if is_real(code) && real.is_none() {
            return Err(Refused::BrokenAt { line: self.passed });
        }
        Ok(Some(Pair { code, value, real }))
    }

    /// The next thing of a section; none at what ends it, which is passed. A text that ends before that was cut short.
    pub(crate) fn record(&mut self, ends: &str) -> Result<Option<Record<'a>>, Refused> {
        let kind = loop {
            let pair = self.next()?.ok_or(Refused::CutShort)?;
            if pair.code == 0 {
                break pair.value;
            }
        };
        if kind == ends {
            return Ok(None);
        }
        let line = self.passed;
        if kind == "ENDSEC" || kind == "EOF" {
            return Err(Refused::CutShort);
        }
        let mut pairs = Vec::new();
        while let Some(pair) = self.next()? {
            if pair.code == 0 {
                self.ahead = Some(pair);
                break;
            }
            if pairs.len() >= MOST_PAIRS {
                return Err(Refused::TooMuch { most: crate::messages::MOST_SEGMENTS });
            }
            pairs.push(pair);
        }
        Ok(Some(Record { kind, pairs, line }))
    }
}

impl<'a> Record<'a> {
    /// That it makes no sense.
    pub(crate) fn broken(&self) -> Refused {
        Refused::BrokenAt { line: self.line }
    }

    fn value(&self, code: i32) -> Option<&'a str> {
        self.pairs.iter().find(|pair| pair.code == code).map(|pair| pair.value)
    }

    /// A text; empty where there is none.
    pub(crate) fn text(&self, code: i32) -> &'a str {
        self.value(code).unwrap_or_default()
    }

    pub(crate) fn integer(&self, code: i32) -> Option<i32> {
        self.value(code)?.parse().ok()
    }

    pub(crate) fn number(&self, code: i32) -> Option<f64> {
        self.numbers(code).next()
    }

    /// All numbers of a code, in their order.
    pub(crate) fn numbers(&self, code: i32) -> impl Iterator<Item = f64> + '_ {
        self.pairs.iter().filter(move |pair| pair.code == code).filter_map(|pair| pair.real)
    }
}
