//! The sheets as they leave the printer: rendered by poppler, checked by qpdf, measured in pixels.
//!
//! Needs `pdftoppm`, `pdfinfo`, `pdftotext` (poppler), `qpdf` and ezdxf; `tests/setup.sh` installs them.

#[path = "sheets_dxf.rs"]
mod dxf;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use lieflat::brief::{Centre, Finish, ShapeKind};
use lieflat::{Brief, Plan};
use lieflat_sheets::{NothingToPrint, Options, Paper, Piece, PieceForm, Sheet, StripForm, Unit, pdf, pieces};
use lieflat_tests::{band, brief as example_with, drafted, plain};
use proptest::prelude::*;

const DPI: f64 = 300.0;
const PX_MM: f64 = 25.4 / DPI;
/// What a measured length may be off, mm.
const WITHIN_MM: f64 = 0.2;

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

fn svgs(brief: &Brief, plan: &Plan, options: &Options) -> Vec<Piece> {
    pieces(brief, plan, options, PieceForm::Svg)
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

/// All ink, mm. Half-dark dots count here too.
fn inked(dots: &[u8]) -> f64 {
    dots.iter().filter(|dot| **dot <= 230).count() as f64 * PX_MM
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

/// Left free along the paper's edges, and the height of a page's foot, mm.
const MARGIN_MM: f64 = 8.0;
const FOOT_MM: f64 = 14.0;
/// The least that home printers leave white along an edge and more: ours is to be wider. From memory: 3 to 6 mm.
const UNPRINTED_MM: f64 = 6.0;

/// Both squares, which stand in the lower left corner over the foot of the first page at true scale: side by side, or turned and
/// one over the other.
fn squares(page: &Scan, what: &str) {
    let foot = page.height - dots(MARGIN_MM + FOOT_MM);
    let across = square_sides(page, foot - dots(45.0)..foot - dots(3.0), MARGIN_MM + 107.0);
    let pairs = match across[..] {
        [a, b, c, d, ..] if (c - b - 5.0).abs() < WITHIN_MM => {
            [(a, b, foot - dots(53.0), 50.8), (c, d, foot - dots(53.0), 50.0)]
        }
        [_, _, ..] => {
            let upper = square_sides(page, foot - dots(104.0)..foot - dots(62.0), MARGIN_MM + 52.0);
            let (&[a, b, ..], &[c, d, ..]) = (&across[..], &upper[..]) else { panic!("{what}: sides at {upper:?}") };
            [(a, b, foot - dots(53.0), 50.8), (c, d, foot - dots(108.0), 50.0)]
        }
        _ => panic!("{what}: sides at {across:?}"),
    };
    for (left, right, from, side) in pairs {
        close(right - left, side, &format!("{what}: {side} mm across"));
        let lines = page.level(dots(left + 1.0)..dots(right - 1.0), from, |dots| longest(dots) > 45.0);
        close(lines[1] - lines[0], side, &format!("{what}: {side} mm down"));
    }
}

/// Upright lines left of a place.
fn square_sides(page: &Scan, rows: core::ops::Range<usize>, left_of: f64) -> Vec<f64> {
    let tall = 0.9 * rows.len() as f64 * PX_MM;
    page.upright(rows, |dots| longest(dots) > tall).into_iter().filter(|x| *x < left_of).collect()
}

/// The scale along the foot of a page: centimetres over its line, inches under it.
fn scale(page: &Scan, what: &str) {
    let from = page.height - dots(MARGIN_MM + FOOT_MM);
    let across = dots(MARGIN_MM)..dots(MARGIN_MM + 103.0);
    let lines = page.level(across, from, |dots| longest(dots) > 100.0);
    let [line] = lines[..] else { panic!("{what}: the scale's line is at {lines:?}") };
    for (rows, step, count) in [(-3.8..-2.2, 10.0, 11), (2.2..3.8, 25.4, 5)] {
        let rows = dots(line + rows.start)..dots(line + rows.end);
        let ticks: Vec<f64> =
            page.upright(rows, |dots| dots.iter().all(|dot| *dot <= 230)).into_iter().take(count).collect();
        assert_eq!(ticks.len(), count, "{what}: ticks at {ticks:?}");
        for (i, tick) in ticks.iter().enumerate() {
            close(tick - ticks[0], i as f64 * step, &format!("{what}: tick {i} of {step} mm"));
        }
    }
}

#[test]
fn every_page_of_every_finish_has_a_true_scale_and_the_first_piece_true_squares() {
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
        for (i, page) in pages.iter().enumerate() {
            scale(page, &format!("{name} page {}", i + 1));
            assert_white_edges(page, &format!("{name} page {}", i + 1));
        }
        let of = |page: usize| {
            let number = page.to_string();
            run("pdftotext", &["-f", &number, "-l", &number, &file, "-"]).replace('\n', " ")
        };
        let squared = if language == "en" { "Test square" } else { "Cuadrado de prueba" };
        let counts: Vec<usize> = (1..=pages.len()).map(|page| of(page).matches(squared).count()).collect();
        let first = counts.iter().position(|count| *count > 0).expect("squares somewhere");
        assert_eq!(counts[first], 2, "{name}: two squares");
        assert_eq!(counts.iter().sum::<usize>(), 2, "{name}: once a set, {counts:?}");
        let card = Options { sheets: vec![Sheet::Card], ..options(language, paper, unit) };
        let card = pdf(&brief, &plan, &card).expect("a card").pages;
        let piece = if language == "en" { "half" } else { "mitad" };
        assert_eq!(first, card, "{name}: on the page after the card");
        assert!(of(first + 1).contains(piece), "{name}: with the first pieces");
        squares(&pages[first], &format!("{name} page {}", first + 1));
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

/// Nothing is printed where a home printer may not reach.
fn assert_white_edges(page: &Scan, what: &str) {
    let edge = dots(UNPRINTED_MM);
    let inked = |x: usize, y: usize| page.dot(x, y) < 250;
    let rows = (0..page.height).filter(|y| *y < edge || *y >= page.height - edge);
    assert!(!rows.into_iter().any(|y| (0..page.width).any(|x| inked(x, y))), "{what}: above and below");
    let mut columns = (0..page.width).filter(|x| *x < edge || *x >= page.width - edge);
    assert!(!columns.any(|x| (0..page.height).any(|y| inked(x, y))), "{what}: left and right");
}

/// A printer with black alone loses nothing: no page asks for a colour. ISO 32000-1, table 74: the operators that do.
#[test]
fn nothing_is_printed_in_colour() {
    let folder = folder("colour");
    for name in ["tape-v", "facing-scoop"] {
        let (brief, plan) = worked(name);
        let file = printed(&folder, &brief, &plan, &options("en", "a4", "mm"));
        let plain = folder.join("plain.pdf");
        run("qpdf", &["--qdf", &file, plain.to_str().expect("a path")]);
        let text = String::from_utf8_lossy(&fs::read(plain).expect("it")).into_owned();
        assert_greys_alone(&text, name);
    }
}

/// What a file's pages do asks for greys, and for nothing else of colour.
fn assert_greys_alone(text: &str, what: &str) {
    // What stands in parentheses is printed, not done.
    let unquoted = text.replace("\\(", "").replace("\\)", "");
    let done: String = unquoted
        .split('(')
        .map(|part| part.split_once(')').map_or(part, |(_, after)| after))
        .collect::<Vec<_>>()
        .join(" ");
    let operators: Vec<&str> = done.split_whitespace().collect();
    assert!(operators.contains(&"G") && operators.contains(&"g"), "{what}: it is drawn in greys");
    for colour in ["rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "sh"] {
        assert!(!operators.contains(&colour), "{what}: no {colour}");
    }
}

/// Every page of every worked garment: nothing where a home printer may not reach, upright, with no bleed and nothing cut off, and no
/// colour asked for. At 72 dots to the inch, where a line a tenth of a dot wide still shows as grey.
#[test]
fn no_garments_page_prints_at_its_edges_or_in_colour() {
    let folder = folder("edges");
    let edge = (UNPRINTED_MM * 72.0 / 25.4).floor();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let edge = edge as usize;
    let mut looked_at = 0;
    for (name, brief, plan) in &garments() {
        for (language, paper) in [("en", "letter"), ("es", "a4")] {
            let folder = folder.join(format!("{paper}-{looked_at}"));
            fs::create_dir_all(&folder).expect("a folder");
            let file = folder.join("sheets.pdf");
            let made = pdf(brief, plan, &options(language, paper, "in")).expect("sheets");
            // Nothing is packed: what a page does stands in the file as text.
            let text = String::from_utf8_lossy(&made.bytes);
            assert_greys_alone(&text, name);
            for turned in ["/BleedBox", "/CropBox", "/TrimBox", "/Rotate", "/ColorSpace"] {
                assert!(!text.contains(turned), "{name} on {paper}: no {turned}");
            }
            fs::write(&file, &made.bytes).expect("written");
            let stem = folder.join("page");
            run("pdftoppm", &["-r", "72", "-gray", file.to_str().expect("a path"), stem.to_str().expect("a path")]);
            let pages = fs::read_dir(&folder).expect("the folder").map(|entry| entry.expect("an entry").path());
            for page in pages.filter(|path| path.extension().is_some_and(|ending| ending == "pgm")) {
                let scan = Scan::read(&page);
                let inside = |x: usize, y: usize| {
                    (edge..scan.width - edge).contains(&x) && (edge..scan.height - edge).contains(&y)
                };
                let places = (0..scan.height).flat_map(|y| (0..scan.width).map(move |x| (x, y)));
                let stray = places.filter(|(x, y)| !inside(*x, *y)).find(|(x, y)| scan.dot(*x, *y) < 250);
                assert_eq!(stray, None, "{name} on {paper}: ink at the edge of {}", page.display());
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 200, "{looked_at} pages");
}

/// Sheets of paper for the whole set of each worked brief: on A4 and on Letter with English words, the same with Spanish; and why.
const MOST_PAGES: [(&str, [usize; 4], &str); 5] = [
    ("band-round", [3, 3, 3, 3], "card; squares with the strip turned beside them; both necklines"),
    ("band-sweetheart", [3, 3, 3, 3], "card; a front three quarters of a page tall with the squares; strip and back"),
    (
        "bound-scoop",
        [3, 4, 3, 4],
        "card; a front as tall as a page; squares, strip and back, which Letter is too short for",
    ),
    (
        "facing-scoop",
        [4, 5, 4, 5],
        "card; two fronts as large as a page; two backs of half a page, on Letter not with squares",
    ),
    ("tape-v", [3, 3, 3, 3], "card; a front as tall as a page; squares, half the strip in two parts, and the back"),
];

/// The same for each worked garment: card; front; back; strip or facing with the squares, or facings that each fill a page.
const MOST_OF_A_GARMENT: [usize; 2] = [4, 5];

/// The worked garments, by their files.
fn garments() -> Vec<(String, Brief, Plan)> {
    let files = fs::read_dir(root().join("tests/garments")).expect("a folder");
    let files = files.map(|file| file.expect("an entry").path());
    let briefs = files.filter(|file| {
        let name = file.to_string_lossy();
        name.ends_with(".json") && !name.ends_with(".plan.json")
    });
    let read = |file: PathBuf| {
        let brief = Brief::from_json(&fs::read_to_string(&file).expect("a garment")).expect("a brief");
        let plan = lieflat::plan(&brief).expect("a plan");
        (file.display().to_string(), brief, plan)
    };
    briefs.map(read).collect()
}

#[test]
fn every_worked_garment_takes_few_sheets_of_paper_and_most_cards_are_one() {
    let garments = garments();
    assert_eq!(garments.len(), 40, "all of them");
    let mut said = Vec::new();
    let mut long_cards = 0;
    for (name, brief, plan) in &garments {
        for (paper, most) in ["a4", "letter"].into_iter().zip(MOST_OF_A_GARMENT) {
            let options = options("es", paper, "mm");
            let made = pdf(brief, plan, &options).expect("sheets");
            if made.pages > most {
                said.push(format!("{name} on {paper}: {} pages, not {most}", made.pages));
            }
            let card = Options { sheets: vec![Sheet::Card], ..options };
            long_cards += pdf(brief, plan, &card).expect("a card").pages - 1;
        }
    }
    assert!(said.is_empty(), "{said:#?}");
    // One tape, of a neckline that gapes, with every kind of stay: its words fill more than a sheet of Letter.
    assert!(long_cards <= 1, "{long_cards} cards of 80 run on");
}

#[test]
fn every_worked_brief_takes_few_sheets_of_paper() {
    let mut said = Vec::new();
    for (name, most, why) in MOST_PAGES {
        let (brief, plan) = worked(name);
        let kinds = ["en", "es"].into_iter().flat_map(|language| ["a4", "letter"].map(|paper| (language, paper)));
        for ((language, paper), most) in kinds.zip(most) {
            let options = options(language, paper, "mm");
            let card = Options { sheets: vec![Sheet::Card], ..options.clone() };
            if pdf(&brief, &plan, &card).expect("a card").pages > 1 {
                said.push(format!("{name} on {paper}, {language}: its card is no one page"));
            }
            let made = pdf(&brief, &plan, &options).expect("sheets");
            if made.pages > most {
                said.push(format!("{name} on {paper}, {language}: {} pages, not {most} ({why})", made.pages));
            }
        }
    }
    assert!(said.is_empty(), "{said:#?}");
    let files = fs::read_dir(root().join("tests/briefs")).expect("a folder");
    let briefs =
        files.filter(|file| file.as_ref().is_ok_and(|file| file.path().extension().is_some_and(|end| end == "json")));
    assert_eq!(briefs.count(), MOST_PAGES.len(), "each worked brief has its bound");
}

/// A strip printed by itself shares a page with the test squares.
#[test]
fn every_garments_strip_printed_alone_takes_one_page() {
    let mut seen = 0;
    for (name, brief, plan) in garments().iter().filter(|(_, _, plan)| plan.strip.is_some()) {
        for (language, paper) in [("en", "a4"), ("es", "letter"), ("en", "letter"), ("es", "a4")] {
            let options = Options { sheets: vec![Sheet::Strip], ..options(language, paper, "mm") };
            let pages = pdf(brief, plan, &options).expect("a strip").pages;
            assert_eq!(pages, 1, "{name} on {paper}, {language}");
            seen += 1;
        }
    }
    assert!(seen > 80, "{seen} strips");
}

/// Words in their boxes on each page, as poppler finds them: left, top, right, foot. mm.
fn words_in_boxes(file: &str) -> Vec<Vec<(String, [f64; 4])>> {
    let mut pages = Vec::new();
    for line in run("pdftotext", &["-bbox", file, "-"]).lines() {
        if line.contains("<page ") {
            pages.push(Vec::new());
        }
        let Some((head, word)) = line.trim().strip_suffix("</word>").and_then(|line| line.split_once('>')) else {
            continue;
        };
        let sides: Vec<f64> = head.split('"').filter_map(|side| side.parse::<f64>().ok()).collect();
        let sides = [0, 1, 2, 3].map(|i| sides[i] * 25.4 / 72.0);
        pages.last_mut().expect("a page").push((word.to_owned(), sides));
    }
    pages
}

/// The diamonds that tiles are laid together by hide no words: neither the tile's own name nor a mark's.
#[test]
fn no_word_lies_under_a_diamond() {
    let folder = folder("diamonds");
    let (brief, plan) = long_neckline();
    for language in ["en", "es"] {
        let options = Options { sheets: vec![Sheet::Strip], strip: StripForm::Whole, ..options(language, "a4", "mm") };
        let file = printed(&folder, &brief, &plan, &options);
        let mut diamonds = 0;
        for page in words_in_boxes(&file) {
            // A diamond has a letter and a digit in its middle, and is 8 mm across and down.
            let is_mark = |word: &str| {
                word.len() == 2 && word.ends_with(['1', '2']) && word.starts_with(|c: char| c.is_ascii_lowercase())
            };
            for (mark, at) in page.iter().filter(|(word, _)| is_mark(word)) {
                diamonds += 1;
                let middle = [0.5 * (at[0] + at[2]), 0.5 * (at[1] + at[3])];
                for (word, other) in page.iter().filter(|(word, _)| !is_mark(word)) {
                    // A box is a little larger than its letters.
                    let apart = (0..2).any(|axis| {
                        other[axis] + 0.6 > middle[axis] + 4.0 || other[axis + 2] - 0.6 < middle[axis] - 4.0
                    });
                    assert!(apart, "{language}: {word} at {other:?} lies under {mark} at {at:?}");
                }
            }
        }
        assert!(diamonds > 20, "{language}: {diamonds} diamonds");
    }
}

/// The picture is to one scale, the one it says: the strip as long, and the neckline from a shoulder's drawn end (42 mm from the neck
/// point) to the centre as wide, as the plan's are, so many times smaller.
#[test]
fn the_cards_picture_is_to_one_scale() {
    for name in ["band-round", "tape-v", "bound-scoop"] {
        let folder = folder(&format!("picture-{name}"));
        let (brief, plan) = worked(name);
        let options = Options { sheets: vec![Sheet::Card], ..options("en", "a4", "mm") };
        let file = printed(&folder, &brief, &plan, &options);
        let text = run("pdftotext", &[&file, "-"]);
        let said =
            text.split("Picture at 1 : ").nth(1).and_then(|rest| rest.split_whitespace().next()).expect("a scale");
        let smaller: f64 = said.trim_end_matches('.').parse().expect("a number");
        let page = &scans(&folder, &file)[0];
        let strip = plan.strip.as_ref().expect("a strip");
        let (long, wide) = (strip.cut_length.cut_mm / smaller, strip.cut_width.cut_mm / smaller);
        // The strip lies at the left margin: level lines of its length, and its left end as tall as it is wide.
        let across = dots(MARGIN_MM - 1.0)..dots(MARGIN_MM + long + 1.0);
        let edges = page.level(across, 0, |dots| longest(dots) > long - 1.0 && longest(dots) < long + 1.0);
        let [upper, .., lower] = edges[..] else { panic!("{name}: the strip's edges at {edges:?}") };
        close(lower - upper, wide, &format!("{name}: the strip's width"));
        let rows = dots(upper + 0.5)..dots(lower - 0.5);
        let ends = page.upright(rows.clone(), |column| longest(column) > 0.9 * rows.len() as f64 * PX_MM);
        close(ends[ends.len() - 1] - ends[0], long, &format!("{name}: the strip's length"));
        // Above it the neckline: the leftmost black is a shoulder's end, the tall line the fold or seam at the centre.
        let above = dots(30.0)..dots(upper - 8.0);
        let black = |x: usize| above.clone().any(|y| page.dot(x, y) < 100);
        let left = (0..page.width).find(|x| black(*x)).expect("a shoulder") as f64 * PX_MM;
        // Greys are tape.
        let whole = |column: &[u8]| column.split(|dot| *dot > 150).map(<[u8]>::len).max().unwrap_or(0) as f64 * PX_MM;
        let centre = page.upright(above, |column| whole(column) > 6.5)[0];
        let half = &plan.seam_line.front;
        let neck = half.seam_line.last().expect("a neck point")[0] - half.centre_line_x_mm;
        let meant = (neck + 42.0 * half.shoulder_direction[0]) / smaller;
        close(centre - left, meant, &format!("{name}: from a shoulder's end to the centre"));
    }
}

/// What comes last, the link with its code, has company on its page however long the card is.
#[test]
fn no_link_stands_on_a_page_alone() {
    let folder = folder("company");
    let (mut brief, _) = worked("tape-v");
    let edge = brief.stays.edges.first().cloned();
    let (mut long, mut pages_seen) = (String::new(), Vec::new());
    for step in 0..8 {
        // A knit's name, longer and longer, pushes the end on by a line at a time.
        long.push_str(&"invented words about a knit, ".repeat(12));
        brief.garment_knit.name = Some(long.clone());
        brief.strip_knit = (step % 2 == 1).then(|| brief.garment_knit.clone());
        brief.stays.edges = edge.clone().into_iter().collect();
        let plan = lieflat::plan(&brief).expect("a plan");
        let link = format!("https://example.org/lieflat/#brief=1{}", "aB3-_x9".repeat(40 + 36 * step));
        let options = Options { sheets: vec![Sheet::Card], link: Some(link), ..options("es", "letter", "in") };
        let file = printed(&folder, &brief, &plan, &options);
        let text = run("pdftotext", &["-layout", &file, "-"]);
        let pages: Vec<&str> = text.split('\u{c}').filter(|page| !page.trim().is_empty()).collect();
        let heading = pages.iter().position(|page| page.contains("Volver a abrir")).expect("the link's heading");
        let company = pages[heading].split("Volver a abrir").next().expect("what is before it");
        assert!(company.split_whitespace().count() > 15, "{step}: before the link only {company:?}");
        pages_seen.push(pages.len());
    }
    assert!(pages_seen.contains(&2), "cards of two pages were among them: {pages_seen:?}");
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
    squares(page, "half a strip");
    let wide = plan.strip.as_ref().expect("a strip").cut_width.cut_mm;
    // It is as long as the page is tall: turned, its foldline down, right of the squares.
    let right = dots(MARGIN_MM + 56.0)..page.width;
    let is_mark = |dots: &[u8]| longest(dots) > wide - 3.0 && longest(dots) < wide + 3.0;
    let mut lines = page.level(right, 0, is_mark);
    lines.reverse();
    // The middle is the fold, a broken line; every other mark and the end are whole lines.
    let expected = &marks_from_middle(&plan)[1..];
    assert_eq!(lines.len(), expected.len(), "lines at {lines:?}, meant {expected:?}");
    for (pair, meant) in lines.windows(2).zip(expected.windows(2)) {
        close(pair[0] - pair[1], meant[1] - meant[0], "between marks");
    }
}

/// An off-shoulder neckline of more than two metres: invented.
fn long_neckline() -> (Brief, Plan) {
    let half = || drafted(410.0, 300.0, plain(ShapeKind::Round));
    let mut brief = example_with(half(), half(), 10.0);
    brief.finish = band(30.0);
    if let Finish::Band(band) = &mut brief.finish {
        band.join_allowance_mm = 6.0;
    }
    let plan = lieflat::plan(&brief).expect("a plan");
    (brief, plan)
}

/// The upper edge of each part of a strip on a page, mm: a long level line with another as far below it as the strip is wide.
fn rows(page: &Scan, wide: f64) -> impl Iterator<Item = f64> {
    let above_foot = page.height - dots(MARGIN_MM + FOOT_MM);
    let long = page.level(0..page.width, 0, |dots| longest(dots) > 120.0);
    let long: Vec<f64> = long.into_iter().filter(|y| dots(*y) < above_foot).collect();
    long.clone().into_iter().filter(move |y| long.iter().any(|other| (other - y - wide).abs() < WITHIN_MM))
}

/// The names of tiles, which follow the last word of a piece's title: page, name, how far down. mm.
fn named_tiles(file: &str, title_ends: &str) -> Vec<(usize, String, f64)> {
    let mut found = Vec::new();
    let (mut page, mut before) = (0, String::new());
    for line in run("pdftotext", &["-bbox", file, "-"]).lines() {
        page += usize::from(line.contains("<page "));
        let Some((head, word)) = line.trim().strip_suffix("</word>").and_then(|line| line.split_once('>')) else {
            continue;
        };
        let points = head.split('"').nth(3).and_then(|y| y.parse::<f64>().ok()).expect("yMin");
        if before == title_ends && word.starts_with('A') {
            found.push((page - 1, word.to_owned(), points * 25.4 / 72.0));
        }
        before = word.to_owned();
    }
    found
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
    let wide = strip.cut_width.cut_mm;
    let mut found: Vec<f64> = Vec::new();
    // Where the tile's joining line lies along the strip, from the first tile's left edge.
    let mut join_at = 0.0;
    let mut tiles: Vec<(String, usize, f64)> = Vec::new();
    for (i, name, y) in named_tiles(&file, "escote") {
        let top = rows(&pages[i], wide).find(|top| *top > y).expect("a part under its name");
        tiles.push((name, i, top));
    }
    tiles.sort_by_key(|(name, ..)| name.trim_start_matches('A').parse::<usize>().expect("A and a number"));
    assert!(tiles.len() >= 8 && pages.len() <= tiles.len() / 2 + 1, "two to a page: {tiles:?}");
    squares(&pages[0], "long strip");
    for (number, (_, i, top)) in tiles.iter().enumerate() {
        let page = &pages[*i];
        scale(page, &format!("long strip, page {}", i + 1));
        let window = dots(top - 4.0)..dots(top + wide + 4.0);
        let joins = page.upright(window.clone(), |dots| inked(dots) > 0.3 * wide && longest(dots) < 20.0);
        let lines = page.upright(window, |dots| longest(dots) > wide - 3.0 && longest(dots) < wide + 3.0);
        let expected_joins = if number == 0 || number + 1 == tiles.len() { 1 } else { 2 };
        assert_eq!(joins.len(), expected_joins, "part {}: joining lines at {joins:?}", number + 1);
        let before = if number == 0 { 0.0 } else { join_at - joins[0] };
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
            vec!["Imprime al 100 %", "línea de costura", "Página 1 de", "Orden de trabajo", "Cúter rotativo", "niños"],
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
            let number = lieflat::shown::shown(mm, written).to_string();
            let number = if language == "es" { number.replace('.', ",") } else { number };
            let figure = format!("{number} {}", written.symbol());
            assert!(text.contains(&figure), "{figure} is on the card:\n{text}");
        }
    }
}

/// The text of a card in English, in mm, its lines as one.
fn card_text(folder: &Path, brief: &Brief, plan: &Plan) -> String {
    let options = Options { sheets: vec![Sheet::Card], ..options("en", "a4", "mm") };
    let file = printed(folder, brief, plan, &options);
    run("pdftotext", &["-raw", &file, "-"]).replace(['\n', '\u{a0}'], " ")
}

/// A worked brief, some of it told otherwise.
fn told_otherwise(name: &str, change: impl FnOnce(&mut serde_json::Value)) -> (Brief, Plan) {
    let text = fs::read_to_string(root().join(format!("tests/briefs/{name}.json"))).expect("a worked brief");
    let mut told = serde_json::from_str(&text).expect("JSON");
    change(&mut told);
    let brief = Brief::from_json(&told.to_string()).expect("a brief");
    let plan = lieflat::plan(&brief).expect("a plan");
    (brief, plan)
}

#[test]
fn a_card_says_what_must_be_seen_before_anything_is_cut() {
    let folder = folder("warnings");
    let (brief, plan) = worked("band-round");
    let sound = card_text(&folder, &brief, &plan);
    let (apart, too_little) =
        ("Front and back cannot be sewn together", "Too little crosswise: the pattern asks for 90 %");
    assert!(!sound.contains(apart) && !sound.contains("Too little"), "{sound}");
    let (brief, plan) = told_otherwise("band-round", |told| {
        told["neckline"]["back"]["outline"] =
            serde_json::json!({ "drafted": { "half_width_mm": 120, "depth_mm": 20, "shape": { "kind": "round" } } });
        told["pattern_asks"] = serde_json::json!({ "crosswise_percent": 90 });
    });
    let text = card_text(&folder, &brief, &plan);
    let at = |wanted: &str| text.find(wanted).unwrap_or_else(|| panic!("{wanted} is on the card:\n{text}"));
    let head = at("The head ");
    assert!(at(apart) < head && at(too_little) < head, "before the verdicts:\n{text}");
}

#[test]
fn a_card_tells_the_gape_of_what_gapes() {
    let folder = folder("gapes");
    let mut seen = 0;
    for (name, brief, plan) in garments() {
        let Some(strip) = plan.strip.as_ref().filter(|strip| strip.outcome == lieflat::plan::Outcome::Gapes) else {
            continue;
        };
        let gaping = strip.spans.iter().filter(|span| span.outcome == strip.outcome);
        let most = gaping.map(|span| span.stands_off_mm).fold(0.0, f64::max);
        let told = lieflat::shown::shown(most, lieflat::length::LengthUnit::Millimetre);
        let text = card_text(&folder, &brief, &plan);
        assert!(text.contains(&format!("It gapes: its free edge stands up to {told} mm off")), "{name}:\n{text}");
        seen += 1;
    }
    assert!(seen > 3, "{seen} gape");
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

/// Named edges lengthen the card line by line, so that its end falls everywhere on a page.
#[test]
fn no_page_holds_the_link_alone() {
    let folder = folder("link-alone");
    let link = format!("https://example.org/lieflat/#brief=1{}", "0123456789".repeat(40));
    let (mut brief, _) = worked("band-round");
    let mut pages = Vec::new();
    for edges in 0..9 {
        brief.stays.edges.truncate(edges.min(8));
        if edges > 0 {
            brief.stays.edges.push(lieflat::brief::StayEdge {
                name: format!("invented edge {edges}"),
                part: lieflat::brief::EdgePart::Other,
                length_mm: 100.0,
                gathered_from_mm: None,
                direction: lieflat::brief::Direction::Crosswise,
                allowance_mm: 10.0,
                pieces: 1,
            });
        }
        let Ok(plan) = lieflat::plan(&brief) else { continue };
        for paper in ["a4", "letter"] {
            let options = Options { sheets: vec![Sheet::Card], link: Some(link.clone()), ..options("en", paper, "mm") };
            let text = run("pdftotext", &[&printed(&folder, &brief, &plan, &options), "-"]);
            for page in text.split('\u{c}').filter(|page| page.contains("example.org")) {
                assert!(page.contains("Open this brief again"), "its heading stands with it: {page}");
                assert!(
                    page.contains("Assumptions") || page.contains("Garment knit"),
                    "{edges} edges, {paper}: {page}"
                );
                pages.push(page.contains("Garment knit"));
            }
        }
    }
    assert!(pages.len() > 10, "cards of many lengths were looked at: {pages:?}");
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
                roxmltree::Document::parse(&piece.file).unwrap_or_else(|error| panic!("{}: {error}", piece.name));
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
        let svg = &pieces.iter().find(|one| one.name == name).expect("the piece").file;
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
            prop_assert!(roxmltree::Document::parse(&piece.file).is_ok(), "{} is XML", piece.name);
        }
        for piece in pieces(&brief, &plan, &options, PieceForm::DxfR12) {
            prop_assert!(piece.file.is_ascii() && piece.file.ends_with("0\nEOF\n"), "{} is whole", piece.name);
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
    let svg = &pieces.iter().find(|piece| piece.name == "neckline-front").expect("the front").file;
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
