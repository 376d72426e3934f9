//! The text of a drawn path is read whole or refused with its place. The outside reference is SVG 2, chapter 9
//! (Paths, https://www.w3.org/TR/SVG2/paths.html): its grammar, its rules of interpretation and its own examples.

use kurbo::{PathEl, Point, Shape as _};
use lieflat::brief::{Drawn, Outline};
use lieflat::error::{AcceptedCode, Problem};
use lieflat::length::LengthUnit;
use lieflat::path::{PathStop, read_path};
use lieflat::sizes::{Growth, HalfGrowth, HalfSize, Size, SizeSet, size_briefs};
use lieflat::{Brief, BriefErrors};
use lieflat_tests::close;
use proptest::prelude::*;

fn drawn(path: &str) -> Brief {
    let text = include_str!("../briefs/band-sweetheart.json");
    let mut brief = Brief::from_json(text).expect("a worked brief reads");
    brief.neckline.front.outline = Outline::Drawn(Drawn { path_mm: path.to_owned(), uncertainty_mm: None });
    brief
}

fn planned(path: &str) -> Result<f64, BriefErrors> {
    lieflat::plan_without_ranges(&drawn(path)).map(|plan| plan.seam_line.front.length_mm)
}

fn read(text: &str) -> Vec<PathEl> {
    read_path(text).unwrap_or_else(|stop| panic!("{text:?}: {stop:?}")).elements().to_vec()
}

#[track_caller]
fn same(one: &str, other: &str) {
    assert_eq!(read(one), read(other), "{one:?} and {other:?} are one path");
}

/// Signs, marks, markup and letters of other alphabets that are in no path, however it is written.
const FOREIGN: [&str; 14] =
    [";", "(shoulder)", "#", "\0", "<b>", "🧵", "—", "°", "!,", "&nbsp;", "С", "\u{202e}", "\u{ad}", "½"];

#[test]
fn a_path_with_something_foreign_in_the_middle_is_never_planned_in_part() {
    for foreign in FOREIGN {
        let path = format!("M 0 115 C 30 115 60 105 75 80 {foreign} C 84 64 88 30 88 0");
        let refused = planned(&path).expect_err("what is foreign is refused");
        let [error] = refused.errors.as_slice() else { panic!("one problem: {refused}") };
        assert_eq!(error.field, "neckline.front.outline.drawn.path_mm", "the field");
        assert_eq!(error.accepted.code, Some(AcceptedCode::PathSyntax), "what is accepted");
        let Problem::PathStrayAt { place, found } = &error.problem else { panic!("{foreign:?}: {error:?}") };
        // The last number before it is the 8 and the 0 in places 28 and 29.
        assert_eq!(*place, 31, "the place of {foreign:?}");
        let code = format!("U+{:04X}", foreign.chars().next().map_or(0, u32::from));
        assert!(found == foreign || found.ends_with(&code), "what stood there: {found} for {foreign:?}");
        assert!(refused.to_string().contains("character 31"), "the place is in the words: {refused}");
    }
}

#[test]
fn a_size_of_a_path_that_is_refused_is_refused_too() {
    let growth = HalfGrowth { depth_mm: 3.0, ..HalfGrowth::default() };
    let size = |steps| Size {
        name: "one".into(),
        front: HalfSize::Steps(steps),
        back: HalfSize::Steps(0.0),
        head_girth_mm: None,
    };
    let set =
        SizeSet { growth: Growth { front: growth, ..Growth::default() }, sizes: [-1.0, 0.0, 1.0].map(size).to_vec() };
    for foreign in FOREIGN {
        let path = format!("M 0 115 C 30 115 60 105 75 80 {foreign} C 84 64 88 30 88 0");
        let briefs = size_briefs(&drawn(&path), &set).expect("the table itself is right");
        for brief in briefs {
            let refused = lieflat::plan(&brief).expect_err("no size of it is planned");
            assert!(matches!(refused.errors[0].problem, Problem::PathStrayAt { place: 31, .. }), "{refused}");
        }
    }
}

#[test]
fn a_path_that_ends_early_or_runs_over_says_where() {
    let ends = |place| PathStop::Ends { place };
    let stray = |place, found: &str| PathStop::Stray { place, found: found.into() };
    let large = |place, found: &str| PathStop::TooLarge { place, found: found.into() };
    for (text, stop) in [
        ("M", ends(2)),
        ("M 0", ends(4)),
        ("M 0 95 L 88", ends(12)),
        ("M 0 95 C 50 95 88 60 88 ", ends(25)),
        ("L 0 95", stray(1, "L")),
        ("5 5", stray(1, "5")),
        ("Z", stray(1, "Z")),
        ("M 0 95 X 1", stray(8, "X")),
        ("M 0 95 Z 1 1", stray(10, "1")),
        ("M 0 95 L 88 0 and so on for ever", stray(16, "nd")),
        ("M 0mm 95mm", stray(4, "mm")),
        ("M 0 95 L 88 1e", stray(14, "e")),
        ("M 0 95 L 88 - 1", stray(13, "-")),
        ("M 0 95 L 88 --1", stray(13, "--1")),
        ("M 0 95 L 88 .", stray(13, ".")),
        ("M,0 95", stray(2, ",0")),
        ("M 0,,95", stray(5, ",95")),
        ("M 0 95 L 88 0,,", stray(15, ",")),
        ("M 0 95 A 9 9 0 2 0 88 0", stray(16, "2")),
        ("M 0 95 A 9 9 0 01", ends(18)),
        ("M 0 95 L 88 NaN", stray(13, "NaN")),
        ("M 0 95 L 88 inf", stray(13, "inf")),
        ("M 0 95 L 88 0x1p3", stray(14, "x1p3")),
        ("M 0 95 L 88 0 \u{a0}\u{7}", stray(16, "U+0007")),
        ("M 0 95 Ｌ ８８ ½", stray(13, "½ U+00BD")),
        ("M 0 95 L 88 1e999", large(13, "1e999")),
        ("M 0 95 L -88e8 0", large(10, "-88e8")),
        ("M 0 95 A 1e300 1e300 0 0 0 88 0", large(10, "1e300")),
    ] {
        let got = read_path(text).expect_err("refused");
        assert_eq!(got, stop, "{text:?}");
    }
    assert_eq!(read_path("M 0 1e9").map(|path| path.elements().len()), Ok(1), "the largest number there is");
}

/// The grammar's own examples: 9.3.1 on what may be left out, 9.3.9 on where a number ends.
#[test]
fn the_examples_of_the_recommendation_are_read_as_it_says() {
    same("M 100 100 L 200 200", "M100 100L200 200");
    same("M 100 200 L 200 100 L -100 -200", "M 100 200 L 200 100 -100 -200");
    same("M 100-200", "M 100 -200");
    same("M 0.6.5", "M 0.6 0.5");
}

/// By the chapter's grammar, and SVG 1.1's for a number's exponent and its last point.
#[test]
fn every_way_to_write_a_path_is_read() {
    for (short, long) in [
        ("M0 95 60 40 88 0", "M 0 95 L 60 40 L 88 0"),
        ("m0 95 60-55 28-40", "M 0 95 L 60 40 L 88 0"),
        ("M0 95+60+40+88+0", "M 0 95 L 60 40 L 88 0"),
        ("M1.5.5.25.125", "M 1.5 0.5 L 0.25 0.125"),
        ("M1e1 9.5E+1L880e-1-0", "M 10 95 L 88 0"),
        ("M5.,95.L88. 0", "M 5 95 L 88.0 0"),
        ("M0,95\tH60\n70\rV 40 , 30\u{c}l18-30", "M 0 95 L 60 95 L 70 95 L 70 40 L 70 30 L 88 0"),
        ("M0 95h60 10v-40-15", "M 0 95 L 60 95 L 70 95 L 70 55 L 70 40"),
        ("M0 95c1 2 3 4 5 6 1 2 3 4 5 6", "M 0 95 C 1 97 3 99 5 101 C 6 103 8 105 10 107"),
        ("M0 95C1 2 3 4 5 6S9 10 11 12", "M 0 95 C 1 2 3 4 5 6 C 7 8 9 10 11 12"),
        ("M0 95c1 2 3 4 5 6s3 4 5 6", "M 0 95 C 1 97 3 99 5 101 C 7 103 8 105 10 107"),
        ("M0 95Q1 2 3 4T7 8 9 9", "M 0 95 Q 1 2 3 4 Q 5 6 7 8 Q 9 10 9 9"),
        ("M0 95 S 1 2 3 4", "M 0 95 C 0 95 1 2 3 4"),
        ("M0 95 T 3 4", "M 0 95 Q 0 95 3 4"),
        // A curve of another kind before it is not mirrored.
        ("M0 95 Q 1 2 3 4 S 5 6 7 8", "M 0 95 Q 1 2 3 4 C 3 4 5 6 7 8"),
        ("M0 95 C 1 2 3 4 5 6 T 7 8", "M 0 95 C 1 2 3 4 5 6 Q 5 6 7 8"),
        ("M0 95 A 9 9 0 0 0 18 95 S 5 6 7 8", "M0 95 A 9 9 0 0 0 18 95 C 18 95 5 6 7 8"),
        ("M0 95A9 9 0 0018 95", "M 0 95 A 9 9 0 0 0 18 95"),
        ("M0 95a9,9,0,0,0,18,0,9 9 0 1118 0", "M 0 95 A 9 9 0 0 0 18 95 A 9 9 0 1 1 36 95"),
        ("M0 95A9 9 0 01.5 95", "M 0 95 A 9 9 0 0 1 0.5 95"),
        ("M0 95A-9 9 0 0 0 18 95", "M 0 95 A 9 9 0 0 0 18 95"),
        ("M0 95 A 0 9 0 0 0 18 95", "M 0 95 L 18 95"),
        ("M1 2L3 4zl5 6", "M 1 2 L 3 4 Z M 1 2 L 6 8"),
        ("M1 2L3 4zm5 6", "M 1 2 L 3 4 Z M 6 8"),
        ("  M 0 95,L 88 0,", "M 0 95 L 88 0"),
    ] {
        same(short, long);
    }
    assert_eq!(read(" \n\u{feff}"), [], "nothing is a path of nothing");
}

#[test]
fn a_path_as_it_is_typeset_is_the_plain_one() {
    let plain = "M 0 115 C 30 115 60 105 75 80 C 84 64 88 -30.5 88 0";
    let length = planned("M 0 115 C 30 115 60 105 75 80 C 84 64 88 30 88 0").expect("the plain path plans");
    for space in ["\u{a0}", "\u{2009}", "\u{202f}", "\u{2002}", "\u{3000}", "\u{200b}", "\u{2028}", "\u{feff} "] {
        same(&plain.replace(' ', space), plain);
        let path = format!("M 0 115 C 30 115 60 105 75 80{space}C 84 64 88 30 88 0");
        close(planned(&path).expect("it plans"), length, 0.0, "the whole path's length");
    }
    for minus in ['−', '–', '‐', '‑', '‒', '－', '\u{fe63}'] {
        same(&plain.replace('-', &minus.to_string()), plain);
    }
    for mark in ['\u{200e}', '\u{200f}', '\u{61c}', '\u{2066}', '\u{2069}', '\u{202b}', '\u{202c}', '\u{2060}'] {
        let marked: String = plain.chars().flat_map(|c| [c, mark]).collect();
        same(&marked, plain);
    }
    let full: String = plain
        .chars()
        .map(|c| if c == ' ' { c } else { char::from_u32(u32::from(c) + 0xfee0).expect("a form") })
        .collect();
    same(&full, plain);
    let eastern: String =
        plain.chars().map(|c| c.to_digit(10).and_then(|d| char::from_u32(0x660 + d)).unwrap_or(c)).collect();
    same(&eastern.replace('.', "٫"), plain);
}

/// Between a number and a command stands nothing but what the grammar has there, of all characters of planes 0 and 1
/// and the tags of plane 14: the rest are ideographs and private.
#[test]
fn of_all_characters_only_those_with_a_meaning_are_taken() {
    let mut taken = String::new();
    for c in ('\0'..='\u{1ffff}').chain('\u{e0000}'..='\u{e01ff}') {
        if read_path(&format!("M0 95{c}L88 0")).is_ok() {
            taken.push(c);
        }
    }
    // Unicode Character Database: White_Space in PropList.txt, and the zero-width space.
    let spaces = "\t\n\u{b}\u{c}\r \u{85}\u{a0}\u{1680}\u{2000}\u{2001}\u{2002}\u{2003}\u{2004}\u{2005}\u{2006}\u{2007}\
        \u{2008}\u{2009}\u{200a}\u{2028}\u{2029}\u{202f}\u{205f}\u{3000}\u{200b}";
    // Bidi_Control in PropList.txt without the two overrides, the joiners, and the byte-order mark.
    let passed_over = "\u{61c}\u{200e}\u{200f}\u{202a}\u{202b}\u{202c}\u{2066}\u{2067}\u{2068}\u{2069}\u{200c}\u{200d}\u{2060}\u{feff}";
    // General category Nd with the values 0 to 9, of which a further digit of the number is made; its point; a comma.
    let number = "0123456789٠١٢٣٤٥٦٧٨٩۰۱۲۳۴۵۶۷۸۹０１２３４５６７８９.．٫,，،";
    let closes = "ZzＺｚ";
    let mut expected: Vec<char> = [spaces, passed_over, number, closes].concat().chars().collect();
    expected.sort_unstable();
    assert_eq!(taken.chars().collect::<Vec<_>>(), expected, "what is taken");
}

/// A few hundred kilobytes of arcs would be millions of curves.
#[test]
fn a_text_of_endless_curves_is_refused_early() {
    let arcs = format!("M0 95{}", "a1e9 1e9 0 1 1 1 1".repeat(20_000));
    assert!(matches!(read_path(&arcs), Err(PathStop::TooLong { place }) if place < 20_000), "after some of it");
    let refused = planned(&arcs).expect_err("no outline");
    let accepted = &refused.errors[0].accepted;
    assert_eq!(accepted.code, Some(AcceptedCode::OneOpenRun), "what is accepted");
    assert_eq!(accepted.describe(LengthUnit::Inch), "one open run of 1 to 200 segments", "with its figures");
    let far = planned("M 0 95 L 3000 0").expect_err("no outline").errors[0].accepted.describe(LengthUnit::Centimetre);
    assert_eq!(far, "coordinates within 200 cm of the neck point", "in the person's unit");
    // Slips of the pen are passed over, as many as there may be.
    let slips = format!("M 0 95 {} L 88 0", "L 0 95 ".repeat(5000));
    close(planned(&slips).expect("it plans"), planned("M 0 95 L 88 0").expect("it plans"), 1e-9, "the same line");
}

/// The recommendation's picture of arcs: three quarters of a circle of 150 about (300, 200).
#[test]
fn an_arc_is_the_arc_of_its_circle() {
    let path = read_path("M300,200 h-150 a150,150 0 1,0 150,-150 z").expect("it reads");
    let curves: Vec<_> = path.segments().filter(|s| matches!(s, kurbo::PathSeg::Cubic(_))).collect();
    for curve in &curves {
        for i in 0..=32 {
            let p = kurbo::ParamCurve::eval(curve, f64::from(i) / 32.0);
            close(p.distance(Point::new(300.0, 200.0)), 150.0, 1e-4, "the radius");
        }
    }
    let lines = 150.0 + 150.0;
    close(path.perimeter(1e-9) - lines, 1.5 * core::f64::consts::PI * 150.0, 1e-3, "three quarters round");
    assert_eq!(
        curves.last().map(kurbo::ParamCurve::end),
        Some(Point::new(300.0, 50.0)),
        "it ends where it was said to"
    );
}

/// An arc between ends that are almost one place has no direction that could be reckoned with.
#[test]
fn an_arc_of_no_length_is_left_out() {
    for text in
        ["M 0 95 A 5 5 0 1 0 0 95 L 88 0", "M 0 95 A 5 5 0 1 0 1e-200 95 L 88 0", "M 0 95 a 5 5 0 1 0 1e-12 0 L 88 0"]
    {
        close(read_path(text).expect("it reads").perimeter(1e-9), 88.0_f64.hypot(95.0), 1e-6, text);
    }
}

/// A number, and one way to write it. Eighths, so that sums of them are exact.
#[derive(Debug, Clone, Copy)]
struct Written {
    eighths: i32,
    how: u8,
}

fn written() -> impl Strategy<Value = Written> {
    (-8000..8000_i32, any::<u8>()).prop_map(|(eighths, how)| Written { eighths, how })
}

impl Written {
    fn value(self) -> f64 {
        f64::from(self.eighths) / 8.0
    }

    /// The number's text, the value moved by `base`.
    fn text(self, base: f64) -> String {
        let value = self.value() - base;
        let size = value.abs();
        let minus = ["-", "−", "–", "－"][usize::from(self.how >> 6)];
        let sign = if value < 0.0 { minus } else { ["", "", "+"][usize::from(self.how % 3)] };
        let digits = match self.how >> 3 & 3 {
            0 => format!("{}e-3", size * 1000.0),
            1 => format!("{size:.4}").trim_start_matches('0').to_owned(),
            2 => size
                .to_string()
                .chars()
                .map(|c| c.to_digit(10).and_then(|d| char::from_u32(0xff10 + d)).unwrap_or(c))
                .collect(),
            _ => size.to_string(),
        };
        format!("{sign}{digits}")
    }
}

fn space(which: u8) -> &'static str {
    ["\u{a0}", " ", ",", " ,\n", "\u{2009}", "\u{200b}\u{200e}", "\u{202f},"][usize::from(which % 7)]
}

prop_compose! {
    /// A path's elements, and a text that says them by the grammar.
    fn said()(
        start in [written(), written()],
        steps in proptest::collection::vec((0..4_u8, any::<bool>(), any::<bool>(), any::<u8>(), proptest::array::uniform6(written())), 1..8),
    ) -> (Vec<PathEl>, String) {
        let point = |x: Written, y: Written| Point::new(x.value(), y.value());
        let mut at = point(start[0], start[1]);
        let mut elements = vec![PathEl::MoveTo(at)];
        let mut text = format!("M{}{}{}", start[0].text(0.0), space(start[0].how), start[1].text(0.0));
        let mut before = 'L';
        for (kind, relative, leaves_letter_out, parts, n) in steps {
            let (letter, used): (char, &[usize]) = match kind {
                0 => ('L', &[0, 1]),
                1 => ('H', &[0]),
                2 => ('Q', &[0, 1, 2, 3]),
                _ => ('C', &[0, 1, 2, 3, 4, 5]),
            };
            let letter = if relative { letter.to_ascii_lowercase() } else { letter };
            if leaves_letter_out && letter == before {
                text += space(parts);
            } else {
                text.push(letter);
            }
            for (i, number) in used.iter().map(|i| n[*i]).enumerate() {
                if i > 0 {
                    text += space(parts.rotate_left(u32::try_from(i).unwrap_or(0)));
                }
                let base = if i % 2 == 0 { at.x } else { at.y };
                text += &number.text(if relative { base } else { 0.0 });
            }
            let element = match kind {
                0 => PathEl::LineTo(point(n[0], n[1])),
                1 => PathEl::LineTo(Point::new(n[0].value(), at.y)),
                2 => PathEl::QuadTo(point(n[0], n[1]), point(n[2], n[3])),
                _ => PathEl::CurveTo(point(n[0], n[1]), point(n[2], n[3]), point(n[4], n[5])),
            };
            at = element.end_point().unwrap_or(at);
            elements.push(element);
            before = letter;
        }
        (elements, text)
    }
}

proptest! {
    #[test]
    fn what_a_path_says_is_read_to_its_last_element((elements, text) in said()) {
        let got = read_path(&text);
        prop_assert!(got.is_ok(), "{text:?}: {got:?}");
        let got = got.expect("it reads");
        prop_assert_eq!(got.elements().len(), elements.len(), "as many elements: {:?}", &text);
        for (got, said) in got.elements().iter().zip(&elements) {
            let off = points(*got).iter().zip(points(*said)).map(|(a, b)| a.distance(b)).fold(0.0, f64::max);
            prop_assert!(off < 1e-9, "{got:?} for {said:?} in {text:?}");
        }
    }

    /// A reader that stopped early anywhere would not notice what is put in after that.
    #[test]
    fn something_foreign_is_found_wherever_it_stands((_, text) in said(), which in 0..FOREIGN.len(), at in any::<proptest::sample::Index>()) {
        let letters: Vec<char> = text.chars().collect();
        let at = at.index(letters.len() + 1);
        let with: String = letters[..at].iter().copied().chain(FOREIGN[which].chars()).chain(letters[at..].iter().copied()).collect();
        let Err(PathStop::Stray { place, .. }) = read_path(&with) else {
            return Err(TestCaseError::fail(format!("{with:?} is taken: {:?}", read_path(&with))));
        };
        let begun: String = letters[(place - 1).min(at)..at].iter().collect();
        let is_begun_number = begun.chars().all(|c| "+-−–－.e\u{200e}".contains(c));
        prop_assert!(is_begun_number, "the place told, {place}, is not that of {:?} at {}: {with:?}", FOREIGN[which], at + 1);
        prop_assert!(place <= at + 1 + FOREIGN[which].chars().count(), "not after it: {place}");
    }
}

fn points(element: PathEl) -> Vec<Point> {
    match element {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => vec![p],
        PathEl::QuadTo(a, p) => vec![a, p],
        PathEl::CurveTo(a, b, p) => vec![a, b, p],
        PathEl::ClosePath => Vec::new(),
    }
}
