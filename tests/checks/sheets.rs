//! The sheets as they leave the printer: rendered by poppler, checked by qpdf, measured in pixels.
//!
//! Needs `pdftoppm`, `pdfinfo`, `pdftotext` (poppler) and `qpdf`; `tests/setup.sh` installs them.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use lieflat::brief::{Centre, Finish, ShapeKind};
use lieflat::{Brief, Plan};
use lieflat_sheets::{NothingToPrint, Options, Paper, Sheet, StripForm, Unit, pdf, svgs};
use lieflat_tests::{band, brief as example_with, drafted, plain};
use proptest::prelude::*;

const DPI: f64 = 300.0;
const PX_MM: f64 = 25.4 / DPI;
/// What a measured length may be off, mm.
const WITHIN_MM: f64 = 0.2;
/// Above this grey a dot is paper or a guide.
const DARK: u8 = 128;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn options(language: &str, paper: &str, unit: &str) -> Options {
    let file = root().join(format!("www/words/{language}.json"));
    let words: serde_json::Value = serde_json::from_str(&fs::read_to_string(file).expect("a catalogue")).expect("JSON");
    let value = serde_json::json!({
        "paper": paper, "unit": unit, "language": language, "words": words, "date": "2026-11-25",
        "link": "https://example.org/lieflat/#brief=1AbCdEf", "sheets": Sheet::ALL,
    });
    serde_json::from_value(value).expect("options")
}

fn worked(name: &str) -> (Brief, Plan) {
    let text = fs::read_to_string(root().join(format!("tests/briefs/{name}.json"))).expect("a worked brief");
    let brief = Brief::from_json(&text).expect("a brief");
    let plan = lieflat::plan(&brief).expect("a plan");
    (brief, plan)
}

/// A folder of the target directory for one test, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("sheets-{name}"));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn run(program: &str, arguments: &[&str]) -> String {
    let said = Command::new(program).args(arguments).output().unwrap_or_else(|error| panic!("{program}: {error}"));
    let (out, err) = (String::from_utf8_lossy(&said.stdout), String::from_utf8_lossy(&said.stderr));
    assert!(said.status.success(), "{program} {arguments:?}: {out}{err}");
    assert_eq!(err, "", "{program} {arguments:?} has nothing to complain of");
    out.into_owned()
}

/// The PDF as a file that qpdf accepts.
fn printed(folder: &Path, brief: &Brief, plan: &Plan, options: &Options) -> String {
    let file = folder.join("sheets.pdf");
    fs::write(&file, pdf(brief, plan, options).expect("sheets").bytes).expect("written");
    let file = file.to_str().expect("a path of letters").to_owned();
    run("qpdf", &["--check", &file]);
    file
}

/// A page as poppler draws it, 0 black to 255 white.
struct Scan {
    width: usize,
    height: usize,
    dots: Vec<u8>,
}

impl Scan {
    /// Reads a binary greymap: `P5 WIDTH HEIGHT 255`, one white space, then a byte a dot.
    fn read(file: &Path) -> Self {
        let bytes = fs::read(file).expect("a picture");
        let mut fields = bytes.splitn(4, u8::is_ascii_whitespace);
        let mut field = || String::from_utf8_lossy(fields.next().expect("a head")).into_owned();
        let (kind, width, height) = (field(), field(), field());
        let (width, height): (usize, usize) = (width.parse().expect("a width"), height.parse().expect("a height"));
        assert_eq!(kind, "P5", "a greymap");
        let dots = bytes[bytes.len() - width * height..].to_vec();
        Self { width, height, dots }
    }

    fn dot(&self, x: usize, y: usize) -> u8 {
        self.dots[y * self.width + x]
    }

    /// Upright lines between two heights (dots from the top): the middle of each run of columns for which `is_line`
    /// holds of their dots, weighed by darkness, in mm.
    fn upright(&self, rows: core::ops::Range<usize>, is_line: impl Fn(&[u8]) -> bool) -> Vec<f64> {
        let column = |x: usize| rows.clone().map(|y| self.dot(x, y)).collect::<Vec<u8>>();
        middles((0..self.width).map(column), is_line)
    }

    /// Level lines between two places (dots from the left).
    fn level(&self, columns: core::ops::Range<usize>, from: usize, is_line: impl Fn(&[u8]) -> bool) -> Vec<f64> {
        let row = |y: usize| columns.clone().map(|x| self.dot(x, y)).collect::<Vec<u8>>();
        let offset = from as f64 * PX_MM;
        middles((from..self.height).map(row), is_line).into_iter().map(|mm| mm + offset).collect()
    }
}

fn middles(lines: impl Iterator<Item = Vec<u8>>, is_line: impl Fn(&[u8]) -> bool) -> Vec<f64> {
    let mut found = Vec::new();
    let mut run: Vec<(f64, f64)> = Vec::new();
    let mut close = |run: &mut Vec<(f64, f64)>| {
        if !run.is_empty() {
            let ink: f64 = run.iter().map(|(_, ink)| ink).sum();
            found.push(run.iter().map(|(at, ink)| at * ink).sum::<f64>() / ink * PX_MM);
            run.clear();
        }
    };
    for (i, dots) in lines.enumerate() {
        if is_line(&dots) {
            let ink = dots.iter().map(|dot| 255.0 - f64::from(*dot)).sum();
            run.push((i as f64 + 0.5, ink));
        } else {
            close(&mut run);
        }
    }
    close(&mut run);
    found
}

/// The longest unbroken run of ink, mm. Half-dark dots at a line's edge count, so that its middle is found.
fn longest(dots: &[u8]) -> f64 {
    let runs = dots.split(|dot| *dot > 230).map(<[u8]>::len);
    runs.max().unwrap_or(0) as f64 * PX_MM
}

/// All dark dots, mm.
fn dark(dots: &[u8]) -> f64 {
    dots.iter().filter(|dot| **dot < DARK).count() as f64 * PX_MM
}

fn dots(mm: f64) -> usize {
    // A page is a few thousand dots, and no place on it is negative.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let dots = (mm / PX_MM).round() as usize;
    dots
}

fn scans(folder: &Path, file: &str) -> Vec<Scan> {
    let stem = folder.join("page");
    run("pdftoppm", &["-r", "300", "-gray", file, stem.to_str().expect("a path")]);
    let mut pages: Vec<PathBuf> = fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "pgm"))
        .collect();
    pages.sort();
    pages.iter().map(|page| Scan::read(page)).collect()
}

fn close(measured: f64, expected: f64, what: &str) {
    assert!((measured - expected).abs() <= WITHIN_MM, "{what}: {measured:.3} mm measured, {expected:.3} mm meant");
}

/// Both squares at the foot of a page, by their sides across and down.
fn squares(page: &Scan, what: &str) {
    let top = page.height - dots(64.0);
    let sides = page.upright(top..page.height, |dots| longest(dots) > 45.0);
    let [a, b, c, d] = sides[..] else { panic!("{what}: sides at {sides:?}") };
    close(b - a, 50.8, &format!("{what}: two inches across"));
    close(d - c, 50.0, &format!("{what}: fifty millimetres across"));
    for (left, right, side) in [(a, b, 50.8), (c, d, 50.0)] {
        let within = dots(left + 1.0)..dots(right - 1.0);
        let lines = page.level(within, top, |dots| longest(dots) > 45.0);
        let [upper, lower] = lines[..] else { panic!("{what}: levels at {lines:?}") };
        close(lower - upper, side, &format!("{what}: {side} mm down"));
    }
}

#[test]
fn every_page_of_every_finish_has_true_squares_and_the_paper_it_says() {
    let kinds = [
        ("band-round", "en", "a4", "mm", (595.276, 841.89)),
        ("tape-v", "es", "letter", "in", (612.0, 792.0)),
        ("facing-scoop", "es", "a4", "cm", (595.276, 841.89)),
        ("bound-scoop", "en", "letter", "in", (612.0, 792.0)),
    ];
    for (name, language, paper, unit, (short, long)) in kinds {
        let folder = folder(&format!("squares-{name}"));
        let (brief, plan) = worked(name);
        let file = printed(&folder, &brief, &plan, &options(language, paper, unit));
        let pages = scans(&folder, &file);
        assert!(pages.len() >= 4, "{name}: a card and the pieces, not {} pages", pages.len());
        for (i, page) in pages.iter().enumerate() {
            squares(page, &format!("{name} page {}", i + 1));
        }
        let boxes = run("pdfinfo", &["-box", "-f", "1", "-l", "99", &file]);
        let count = |start: &str| boxes.lines().filter(|line| line.contains(start)).count();
        assert_eq!(count("MediaBox"), pages.len(), "{name}: a box a page");
        assert_eq!(count(" rot:"), pages.len(), "{name}: a rotation a page");
        for line in boxes.lines().filter(|line| line.contains(" rot:")) {
            assert!(line.trim_end().ends_with(" 0"), "{name}: no page is turned: {line}");
        }
        for line in boxes.lines().filter(|line| line.contains("MediaBox")) {
            let mut numbers: Vec<f64> = line.split_whitespace().filter_map(|word| word.parse().ok()).collect();
            let mut size = numbers.split_off(numbers.len() - 2);
            size.sort_by(f64::total_cmp);
            let off = (size[0] - short).abs().max((size[1] - long).abs());
            assert!(off < 0.02, "{name}: {line} is {paper}");
        }
    }
}

/// Marks right of the middle of a ring's strip, from the middle, and the cut end. mm.
fn marks_from_middle(plan: &Plan) -> Vec<f64> {
    let strip = plan.strip.as_ref().expect("a strip");
    let half = 0.5 * strip.relaxed_length_mm;
    let mut places: Vec<f64> = strip.marks.iter().map(|mark| half - mark.on_strip_mm).collect();
    places.push(0.5 * strip.cut_length.cut_mm);
    places.sort_by(f64::total_cmp);
    places
}

#[test]
fn marks_of_half_a_strip_lie_where_the_plan_says() {
    let folder = folder("half-strip");
    let (brief, plan) = worked("band-round");
    let options = Options { sheets: vec![Sheet::Strip], strip: StripForm::Half, ..options("en", "a4", "mm") };
    let file = printed(&folder, &brief, &plan, &options);
    let pages = scans(&folder, &file);
    let [page] = &pages[..] else { panic!("half of this strip fits one page, not {}", pages.len()) };
    let wide = plan.strip.as_ref().expect("a strip").cut_width.cut_mm;
    let lines =
        page.upright(0..page.height - dots(66.0), |dots| longest(dots) > wide - 3.0 && longest(dots) < wide + 3.0);
    // The middle is the fold, a broken line; every other mark and the end are whole lines.
    let expected = &marks_from_middle(&plan)[1..];
    assert_eq!(lines.len(), expected.len(), "lines at {lines:?}, meant {expected:?}");
    for (pair, meant) in lines.windows(2).zip(expected.windows(2)) {
        close(pair[1] - pair[0], meant[1] - meant[0], "between marks");
    }
}

/// An off-shoulder neckline of more than two metres: invented.
fn long_neckline() -> (Brief, Plan) {
    let half = || drafted(500.0, 300.0, plain(ShapeKind::Round));
    let mut brief = example_with(half(), half(), 10.0);
    brief.finish = band(30.0);
    if let Finish::Band(band) = &mut brief.finish {
        band.join_allowance_mm = 6.0;
    }
    let plan = lieflat::plan(&brief).expect("a plan");
    (brief, plan)
}

#[test]
fn a_strip_of_two_metres_is_tiled_and_joins_to_its_true_length() {
    let folder = folder("long-strip");
    let (brief, plan) = long_neckline();
    let strip = plan.strip.as_ref().expect("a strip");
    assert!(strip.cut_length.cut_mm > 1900.0, "it is long: {}", strip.cut_length.cut_mm);
    let options = Options { sheets: vec![Sheet::Strip], strip: StripForm::Whole, ..options("es", "a4", "mm") };
    let file = printed(&folder, &brief, &plan, &options);
    let pages = scans(&folder, &file);
    assert!(pages.len() >= 8, "{} pages", pages.len());
    let wide = strip.cut_width.cut_mm;
    let mut found: Vec<f64> = Vec::new();
    // Where the page's joining line lies along the strip, from the first page's left edge.
    let mut join_at = 0.0;
    for (i, page) in pages.iter().enumerate() {
        squares(page, &format!("long strip, page {}", i + 1));
        let window = dots(11.0)..page.height - dots(66.0);
        let tall = window.len() as f64 * PX_MM;
        let joins = page.upright(window.clone(), |dots| dark(dots) > 0.4 * tall && longest(dots) < 20.0);
        let lines = page.upright(window, |dots| longest(dots) > wide - 3.0 && longest(dots) < wide + 3.0);
        let expected_joins = if i == 0 || i + 1 == pages.len() { 1 } else { 2 };
        assert_eq!(joins.len(), expected_joins, "page {}: joining lines at {joins:?}", i + 1);
        let before = if i == 0 { 0.0 } else { join_at - joins[0] };
        found.extend(lines.iter().map(|x| before + x));
        join_at = before + joins[joins.len() - 1];
    }
    found.sort_by(f64::total_cmp);
    // What lies in an overlap is on both pages, at the same place.
    found.dedup_by(|a, b| (*a - *b).abs() < 0.3);
    let half = marks_from_middle(&plan);
    let mut expected: Vec<f64> = half.iter().flat_map(|x| [*x, -*x]).collect();
    expected.sort_by(f64::total_cmp);
    expected.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    assert_eq!(found.len(), expected.len(), "lines at {found:?}, meant {expected:?}");
    for (pair, meant) in found.windows(2).zip(expected.windows(2)) {
        close(pair[1] - pair[0], meant[1] - meant[0], "between marks");
    }
    close(found[found.len() - 1] - found[0], strip.cut_length.cut_mm, "from end to end over all pages");
}

#[test]
fn the_words_are_there_in_both_languages_and_none_is_missing() {
    let folder = folder("words");
    let expected = [
        ("en", vec!["Print at 100 percent", "Order of work", "Rotary blade", "Page 1 of"]),
        (
            "es",
            vec!["Imprime al 100 %", "línea de costura", "Página 1 de", "Orden de trabajo", "Cúter rotatorio", "niños"],
        ),
    ];
    for (language, words) in expected {
        for name in ["band-round", "tape-v", "facing-scoop", "bound-scoop", "band-sweetheart"] {
            let (brief, plan) = worked(name);
            let file = printed(&folder, &brief, &plan, &options(language, "a4", "mm"));
            let text = run("pdftotext", &["-layout", &file, "-"]);
            let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
            for word in &words {
                assert!(flat.contains(word), "{name}, {language}: {word:?} is printed");
            }
            assert!(flat.contains(brief.title.as_deref().expect("a title")), "{name}: its title is printed");
            for flaw in ["sheets.pdf", "{", "}", "NaN", "inf "] {
                assert!(!flat.contains(flaw), "{name}, {language}: no {flaw:?} in {flat}");
            }
        }
    }
}

#[test]
fn figures_are_the_plans_own_in_the_persons_unit() {
    let folder = folder("figures");
    let (brief, plan) = worked("band-round");
    let strip = plan.strip.as_ref().expect("a strip");
    for (unit, language, written) in [
        (Unit::Mm, "en", lieflat::length::LengthUnit::Millimetre),
        (Unit::Cm, "es", lieflat::length::LengthUnit::Centimetre),
        (Unit::In, "en", lieflat::length::LengthUnit::Inch),
    ] {
        let options = Options { unit, sheets: vec![Sheet::Card], ..options(language, "a4", "mm") };
        let file = printed(&folder, &brief, &plan, &options);
        let text = run("pdftotext", &["-layout", &file, "-"]);
        let figures =
            [strip.cut_length.cut_mm, strip.cut_width.cut_mm, strip.cut_length.low_mm, strip.cut_length.high_mm];
        let marks = strip.marks.iter().flat_map(|mark| [mark.on_strip_mm, mark.on_seam_line_mm]);
        for mm in figures.into_iter().chain(marks) {
            let number = lieflat::length::format_length(mm, written);
            let number = if language == "es" { number.replace('.', ",") } else { number };
            let figure = format!("{number} {}", written.symbol());
            assert!(text.contains(&figure), "{figure} is on the card:\n{text}");
        }
    }
}

#[test]
fn the_code_reads_as_the_link() {
    let folder = folder("code");
    let (brief, plan) = worked("tape-v");
    let long = format!("https://example.org/lieflat/#brief=1{}", "aB3-_x9".repeat(120));
    for link in ["https://example.org/lieflat/#brief=1AbCdEf", &long] {
        let options = Options { sheets: vec![Sheet::Card], link: Some(link.to_owned()), ..options("en", "a4", "mm") };
        let folder = folder.join(link.len().to_string());
        fs::create_dir_all(&folder).expect("a folder");
        let file = printed(&folder, &brief, &plan, &options);
        let read: Vec<String> = scans(&folder, &file)
            .iter()
            .flat_map(|page| {
                let mut picture =
                    rqrr::PreparedImage::prepare_from_greyscale(page.width, page.height, |x, y| page.dot(x, y));
                picture.detect_grids().iter().filter_map(|grid| Some(grid.decode().ok()?.1)).collect::<Vec<_>>()
            })
            .collect();
        assert_eq!(read, [link], "one code, and it is the link");
    }
}

#[test]
fn letters_that_cannot_be_printed_are_shown_as_such_and_said() {
    let folder = folder("letters");
    let (mut brief, plan) = worked("band-round");
    brief.title = Some("Ärmel ñandú \u{202e}ж😀\u{0}".to_owned());
    let options = options("es", "a4", "mm");
    let made = pdf(&brief, &plan, &options).expect("sheets");
    assert_eq!(made.replaced_letters, ['\u{0}', 'ж', '\u{202e}', '😀'], "those and no other");
    let file = printed(&folder, &brief, &plan, &options);
    let text = run("pdftotext", &["-layout", &file, "-"]);
    assert!(text.contains("Ärmel ñandú"), "what can be printed is");
    for said in ["U+0000", "U+0436", "U+202E", "U+1F600"] {
        assert!(text.contains(said), "{said} is said on the sheet");
    }
}

#[test]
fn the_same_call_gives_the_same_bytes() {
    let (brief, plan) = worked("facing-scoop");
    let options = options("es", "letter", "in");
    assert!(pdf(&brief, &plan, &options) == pdf(&brief, &plan, &options), "byte for byte");
    assert!(svgs(&brief, &plan, &options) == svgs(&brief, &plan, &options), "byte for byte");
}

#[test]
fn a_sheet_that_the_finish_has_not_is_refused() {
    let (brief, plan) = worked("facing-scoop");
    let options = Options { sheets: vec![Sheet::Strip], ..options("en", "a4", "mm") };
    assert_eq!(pdf(&brief, &plan, &options), Err(NothingToPrint), "a facing has no strip");
    assert!(svgs(&brief, &plan, &options).is_empty(), "nor an SVG of one");
}

/// A number of an SVG's attribute in millimetres.
fn svg_size(root: roxmltree::Node<'_, '_>, name: &str) -> f64 {
    let text = root.attribute(name).expect("a size");
    text.strip_suffix("mm").expect("millimetres").parse().expect("a number")
}

#[test]
fn pieces_are_well_formed_svg_in_real_millimetres() {
    for name in ["band-round", "tape-v", "facing-scoop", "bound-scoop", "band-sweetheart"] {
        let (mut brief, plan) = worked(name);
        brief.title = Some("</svg><script>alert(1)</script>\u{202e}\u{0}&".to_owned());
        for piece in svgs(&brief, &plan, &options("es", "a4", "mm")) {
            let document =
                roxmltree::Document::parse(&piece.svg).unwrap_or_else(|error| panic!("{}: {error}", piece.name));
            let root = document.root_element();
            let view: Vec<f64> =
                root.attribute("viewBox").expect("a viewBox").split(' ').filter_map(|n| n.parse().ok()).collect();
            assert_eq!(view[2], svg_size(root, "width"), "{}: one unit is a millimetre across", piece.name);
            assert_eq!(view[3], svg_size(root, "height"), "{}: and down", piece.name);
            for id in ["cut", "sew", "marks", "text"] {
                let group = root.children().find(|node| node.attribute("id") == Some(id));
                let group = group.unwrap_or_else(|| panic!("{}: group {id}", piece.name));
                assert!(group.children().any(|node| node.is_element()), "{}: {id} is not empty", piece.name);
            }
            assert!(!document.descendants().any(|node| node.has_tag_name("script")), "no text becomes markup");
        }
    }
}

#[test]
fn a_facings_outline_in_svg_is_the_plans() {
    let (brief, plan) = worked("facing-scoop");
    let facing = plan.facing.as_ref().expect("a facing");
    let pieces = svgs(&brief, &plan, &options("en", "a4", "mm"));
    for (name, piece) in [("facing-front", &facing.front), ("facing-back", &facing.back)] {
        let svg = &pieces.iter().find(|one| one.name == name).expect("the piece").svg;
        let document = roxmltree::Document::parse(svg).expect("XML");
        let cut = document.descendants().find(|node| node.attribute("id") == Some("cut")).expect("the group");
        let path = cut.children().find_map(|node| node.attribute("d")).expect("a path");
        let numbers: Vec<f64> =
            path.split(|c: char| "ML Z".contains(c)).filter_map(|number| number.parse().ok()).collect();
        let expected: Vec<f64> = piece.cut_outline.iter().flatten().copied().collect();
        assert_eq!(numbers.len(), expected.len(), "{name}: every point");
        let worst = numbers.iter().zip(&expected).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(worst <= 1e-4, "{name}: within 0.1 micrometre, {worst}");
    }
}

/// Names as people, phones and malice write them.
fn any_name() -> impl Strategy<Value = String> {
    let letters = prop_oneof![
        any::<char>(),
        proptest::char::range('\u{0}', '\u{1f}'),
        proptest::char::range('\u{2028}', '\u{202e}'),
        Just('('),
        Just(')'),
        Just('\\'),
        Just('😀'),
        Just('ñ'),
        Just(' '),
    ];
    proptest::collection::vec(letters, 0..300).prop_map(|letters| letters.into_iter().collect())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    #[test]
    fn any_name_gives_a_pdf_that_qpdf_accepts_and_an_svg_that_is_xml(
        title in any_name(), knit in any_name(), link in any_name(), letter in any::<bool>(), width in 3.0..80.0_f64,
    ) {
        let (mut brief, _) = worked("band-round");
        brief.title = Some(title);
        brief.garment_knit.name = Some(knit);
        if let Finish::Band(band) = &mut brief.finish {
            band.width_mm = width;
        }
        let plan = lieflat::plan(&brief).expect("a plan");
        let paper = if letter { Paper::Letter } else { Paper::A4 };
        let options = Options { paper, sheets: Sheet::ALL.to_vec(), link: Some(link), ..options("en", "a4", "mm") };
        printed(&folder("any-name"), &brief, &plan, &options);
        for piece in svgs(&brief, &plan, &options) {
            prop_assert!(roxmltree::Document::parse(&piece.svg).is_ok(), "{} is XML", piece.name);
        }
    }
}

/// The points of each path of a group of an SVG.
fn paths(document: &roxmltree::Document<'_>, id: &str) -> Vec<Vec<[f64; 2]>> {
    let group = document.descendants().find(|node| node.attribute("id") == Some(id)).expect("the group");
    let path = |d: &str| {
        let numbers: Vec<f64> =
            d.split(|c: char| "ML Z".contains(c)).filter_map(|number| number.parse().ok()).collect();
        numbers.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
    };
    group.children().filter_map(|node| node.attribute("d")).map(path).collect()
}

/// A leg from (0, 170) to (80, 0) with a centre seam of 12 mm: the piece is cut along x = 0 and sewn along x = 12.
#[test]
fn a_centre_seam_is_printed_its_allowance_in_from_the_cut_edge() {
    let mut front = drafted(80.0, 170.0, plain(ShapeKind::V));
    front.centre = Centre::Seam { allowance_mm: 12.0 };
    let brief = example_with(front, drafted(80.0, 60.0, plain(ShapeKind::Round)), 10.0);
    let plan = lieflat::plan(&brief).expect("a plan");
    let options = Options { sheets: vec![Sheet::Template], ..options("en", "a4", "mm") };
    let pieces = svgs(&brief, &plan, &options);
    let svg = &pieces.iter().find(|piece| piece.name == "neckline-front").expect("the front").svg;
    let document = roxmltree::Document::parse(svg).expect("XML");
    let upright = |id: &str| -> Vec<f64> {
        let found = paths(&document, id)
            .into_iter()
            .filter(|path| matches!(path[..], [a, b] if (a[0] - b[0]).abs() < 1e-6 && (a[1] - b[1]).abs() > 50.0));
        found.map(|path| path[0][0]).collect()
    };
    assert_eq!(upright("cut"), [0.0], "cut along the piece's own edge");
    assert_eq!(upright("sew"), [12.0], "sewn straight down, the allowance in from it");
    let cut = paths(&document, "cut");
    assert!(cut.iter().flatten().all(|point| point[0] > -1e-6), "nothing is cut beyond the edge: {cut:?}");
}
