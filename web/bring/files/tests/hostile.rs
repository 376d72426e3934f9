//! Files made to harm: things in things without end, a million segments, files that lie about themselves. Each is refused with its
//! reason, and within the time that the page gives it even where nothing is optimised.
//!
//! What unpacks to gigabytes is stopped by the module's own limit of memory, which only the browser has: tests/browser.

use std::time::Duration;

use lieflat_files::Room;
use lieflat_files::messages::{Answer, Asked, EdgeAsked, PieceAsked, Refused, Scale};

/// The page gives a file 3 s; what is not optimised is some ten times slower.
const WITHIN: Duration = Duration::from_secs(30);

/// How many times each file is spoilt.
const ROUNDS: usize = 10;

/// How long this thread has been on a processor, whatever else the machine does; nothing where a system does not tell.
fn worked() -> Duration {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    Duration::from_nanos(told.split(' ').next().and_then(|nanos| nanos.parse().ok()).unwrap_or_default())
}

fn refused(what: &str, bytes: Vec<u8>) -> Refused {
    let begun = worked();
    let refused = Room::default().open(bytes).map(|opened| opened.lines.len()).expect_err(what);
    let took = worked().saturating_sub(begun);
    assert!(took < WITHIN, "{what} took {took:?}");
    refused
}

fn assert_too_much(what: &str, bytes: Vec<u8>) {
    let found = refused(what, bytes);
    assert!(matches!(found, Refused::TooMuch { .. }), "{what}: {found:?}");
}

/// A DXF of blocks and entities.
fn dxf(blocks: &str, entities: &str) -> Vec<u8> {
    format!("0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n")
        .into_bytes()
}

/// A PDF of numbered objects, the first its catalogue; its table of objects is left for the reader to find.
fn pdf(objects: &[String]) -> Vec<u8> {
    let body: String = objects.iter().zip(1..).map(|(object, i)| format!("{i} 0 obj\n{object}\nendobj\n")).collect();
    format!("%PDF-1.7\n{body}trailer\n<</Root 1 0 R/Size {}>>\nstartxref\n0\n%%EOF\n", objects.len() + 1).into_bytes()
}

fn stream(dict: &str, content: &str) -> String {
    format!("<<{dict}/Length {}>>\nstream\n{content}\nendstream", content.len())
}

/// A PDF of one page with this content, and forms by their content: each may use each, as F0, F1 and so on.
fn pdf_page(content: &str, forms: &[String]) -> Vec<u8> {
    let names: String = (0..forms.len()).map(|i| format!("/F{i} {} 0 R", i + 5)).collect();
    let resources = format!("/Resources<</XObject<<{names}>>>>");
    let mut objects = vec![
        "<</Type/Catalog/Pages 2 0 R>>".to_owned(),
        "<</Type/Pages/Kids[3 0 R]/Count 1>>".to_owned(),
        format!("<</Type/Page/Parent 2 0 R/MediaBox[0 0 600 800]/Contents 4 0 R{resources}>>"),
        stream("", content),
    ];
    objects
        .extend(forms.iter().map(|form| stream(&format!("/Type/XObject/Subtype/Form/BBox[0 0 9 9]{resources}"), form)));
    pdf(&objects)
}

#[test]
fn a_small_pdf_by_hand_is_read() {
    let bytes = pdf_page("0 0 m 100 0 l S q /F0 Do Q", &["0 9 m 9 9 l S".to_owned()]);
    let opened = Room::default().open(bytes).expect("it is a good file");
    assert_eq!(
        opened.lines.len(),
        2,
        "the page's line and the form's: what is refused below is not refused for its making"
    );
}

#[test]
fn blocks_in_blocks_without_end_are_refused() {
    let insert = |name: &str| format!("0\nINSERT\n8\n0\n2\n{name}\n10\n0\n20\n0\n");
    let block = |name: &str, inside: &str| format!("0\nBLOCK\n2\n{name}\n10\n0\n20\n0\n{inside}0\nENDBLK\n");
    let looped = block("A", &insert("B")) + &block("B", &insert("A"));
    assert_too_much("a loop of two blocks", dxf(&looped, &insert("A")));
    let line = "0\nLINE\n8\n0\n10\n0\n20\n0\n11\n9\n21\n9\n";
    let doubled: String = (1..16).map(|i| block(&format!("B{i}"), &insert(&format!("B{}", i - 1)).repeat(9))).collect();
    assert_too_much("a block of blocks of blocks", dxf(&(block("B0", line) + &doubled), &insert("B15")));
    let array = "0\nINSERT\n8\n0\n2\nB0\n10\n0\n20\n0\n70\n1000\n71\n1000\n";
    assert_too_much("a million columns and rows", dxf(&block("B0", line), array));
}

#[test]
fn forms_in_forms_without_end_are_refused() {
    // Refused for its depth, or for holding nothing where the reader of objects saw the circle.
    let two = ["/F1 Do /F1 Do".to_owned(), "/F0 Do /F0 Do".to_owned()];
    for (what, forms) in
        [("a form that uses itself", &["/F0 Do".to_owned()][..]), ("two forms that use each other", &two)]
    {
        let found = refused(what, pdf_page("/F0 Do", forms));
        assert!(matches!(found, Refused::TooMuch { .. } | Refused::NoLines), "{what}: {found:?}");
    }
    let tens: Vec<String> =
        (1..14).map(|i| format!("/F{i} Do ").repeat(10)).chain(["0 0 m 9 9 l S".to_owned()]).collect();
    assert_too_much("tens of tens of tens", pdf_page("/F0 Do", &tens));
}

#[test]
fn a_million_segments_are_refused() {
    let many = "L1,1 2,2 ".repeat(500_000);
    assert_too_much("in an SVG", format!("<svg viewBox='0 0 9 9'><path d='M0,0 {many}'/></svg>").into_bytes());
    let vertices: String = (0..1_000_000).map(|i| format!("10\n{}\n20\n1\n", i % 7)).collect();
    assert_too_much("in a DXF", dxf("", &format!("0\nLWPOLYLINE\n8\n0\n{vertices}")));
    let lines = "1 1 l 2 2 l ".repeat(500_000);
    assert_too_much("in a PDF", pdf_page(&format!("0 0 m {lines} S"), &[]));
    let lines = "0 0 m 1 1 l S\n".repeat(1_000_000);
    assert_too_much("in a PDF, each by itself", pdf_page(&lines, &[]));
}

#[test]
fn a_pdf_that_leads_in_circles_is_refused() {
    // A page tree whose pages are itself, and a table of objects that goes on to itself.
    let tree = ["<</Type/Catalog/Pages 2 0 R>>".to_owned(), "<</Type/Pages/Kids[2 0 R 2 0 R]/Count 2>>".to_owned()];
    let found = refused("a tree of itself", pdf(&tree));
    assert!(matches!(found, Refused::Broken | Refused::NoLines), "{found:?}");
    let table = "%PDF-1.4\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\nxref\n0 1\n0000000000 65535 f \ntrailer\n<</Root 1 0 R/Size 2/Prev 57>>\nstartxref\n57\n%%EOF\n";
    let found = refused("a table that goes on to itself", table.as_bytes().to_vec());
    assert!(matches!(found, Refused::Broken | Refused::NoLines), "{found:?}");
    // An object that is itself.
    let own = [
        "<</Type/Catalog/Pages 2 0 R>>",
        "<</Type/Pages/Kids[3 0 R]/Count 1>>",
        "<</Type/Page/Parent 2 0 R/MediaBox 4 0 R/Contents 4 0 R>>",
        "4 0 R",
    ];
    let found = refused("an object that is itself", pdf(&own.map(str::to_owned)));
    assert!(matches!(found, Refused::Broken | Refused::NoLines), "{found:?}");
}

#[test]
fn what_nests_deep_is_refused() {
    let deep = "<g>".repeat(200_000) + "<path d='M0 0h9'/>" + &"</g>".repeat(200_000);
    assert_too_much("groups in groups", format!("<svg viewBox='0 0 9 9'>{deep}</svg>").into_bytes());
    // A list in a list in a list.
    let list = "[".repeat(200_000) + &"]".repeat(200_000);
    let found = refused("lists in lists", pdf_page(&format!("{list} 0 d"), &[]));
    assert_eq!(found, Refused::NoLines, "it holds nothing");
}

#[test]
fn numbers_beyond_all_measure_draw_nothing() {
    for number in ["1e400", "-1e309", "1e-400", "nan", "99999999999999999999999999999999999999999"] {
        let svg = format!("<svg viewBox='0 0 9 9'><path d='M0 0L{number} 5'/></svg>");
        let drawn = format!("0\nLINE\n8\n0\n10\n0\n20\n0\n11\n{number}\n21\n5\n");
        let content = format!("0 0 m {number} 5 l S");
        for bytes in [svg.into_bytes(), dxf("", &drawn), pdf_page(&content, &[])] {
            // Read or refused; what is read is finite.
            let Ok(opened) = Room::default().open(bytes) else { continue };
            assert!(opened.view_box.iter().all(|v| v.is_finite()), "{number}: {:?}", opened.view_box);
        }
    }
}

#[test]
fn a_line_of_which_a_number_is_missing_is_not_drawn_as_another() {
    let spline = |knots: usize, x: &str| {
        let knots: String = (0..knots).map(|k| format!("40\n{k}\n")).collect();
        let points = ["0", x, "20", "30"].map(|x| format!("10\n{x}\n20\n5\n")).concat();
        dxf("", &format!("0\nSPLINE\n8\n0\n71\n3\n{knots}{points}"))
    };
    assert!(Room::default().open(spline(8, "10")).is_ok(), "a whole one is read");
    let cases = [
        ("a coordinate of a line", dxf("", "0\nLINE\n8\n0\n10\n0\n20\n0\n11\n4x\n21\n5\n")),
        ("a control point", spline(8, "ten")),
        ("a knot", spline(7, "10")),
        ("a line's end", dxf("", "0\nLINE\n8\n0\n10\n0\n20\n0\n11\n4\n")),
        ("a circle's radius", dxf("", "0\nCIRCLE\n8\n0\n10\n0\n20\n0\n")),
        ("a corner of a polyline", dxf("", "0\nLWPOLYLINE\n8\n0\n10\n0\n20\n0\n10\n9\n10\n5\n20\n5\n")),
        ("a line's end in a PDF", pdf_page("0 0 m 10 l 10 10 l S", &[])),
        ("a curve's handle in a PDF", pdf_page("0 0 m 1 1 2 2 9 c S", &[])),
        ("a transform in a PDF", pdf_page("2 0 0 2 0 cm 0 0 m 10 10 l S", &[])),
    ];
    for (what, bytes) in cases {
        assert!(matches!(refused(what, bytes), Refused::Broken | Refused::BrokenAt { .. }), "{what}");
    }
}

#[test]
fn a_line_of_the_text_that_makes_no_sense_is_named() {
    // Ten lines of sections, and two for what kind it is, come before an entity's own.
    let unread = dxf("", "0\nLINE\n8\n0\n10\n0\n20\n0\n11\n4x\n21\n5\n");
    assert_eq!(refused("a coordinate", unread), Refused::BrokenAt { line: 20 });
    let without_end = dxf("", "0\nLINE\n8\n0\n10\n0\n20\n0\n11\n4\n");
    assert_eq!(refused("a line's end", without_end), Refused::BrokenAt { line: 12 });
}

#[test]
fn names_are_found_in_large_and_small_letters() {
    // The format's reference: names of tables and blocks are told in any letters. A block drawn at half, inserted at twice its size.
    let line = "0\nLINE\n8\nCut\n10\n0\n20\n0\n11\n9\n21\n0\n";
    let block = format!("0\nBLOCK\n2\nFRONT\n10\n0\n20\n0\n{line}0\nENDBLK\n");
    let opened = Room::default().open(dxf(&block, "0\nINSERT\n8\n0\n2\nFront\n10\n0\n20\n0\n41\n2\n42\n2\n"));
    assert_eq!(opened.expect("it is found").view_box[2], 18.0);
    let table = "0\nSECTION\n2\nTABLES\n0\nLAYER\n2\nCUT\n62\n-1\n0\nENDSEC\n";
    let file = format!("{table}0\nSECTION\n2\nENTITIES\n{line}0\nENDSEC\n0\nEOF\n").into_bytes();
    let opened = Room::default().open(file).expect("it is read");
    let layers: Vec<_> = opened.layers.iter().map(|layer| (layer.name.as_str(), layer.on)).collect();
    assert_eq!(layers, [("CUT", false)]);
}

#[test]
fn a_pdfs_path_goes_on_from_where_it_was_closed_to() {
    // ISO 32000-1, 8.5.2.1: after `h` the current point is where the subpath began. The curve by `v` from there, and the same by `m`.
    let [closed, begun] = ["0 0 m 90 0 l 0 90 l h 45 80 0 90 v S", "0 0 m 90 0 l 0 90 l h 0 0 m 45 80 0 90 v S"]
        .map(|content| Room::default().open(pdf_page(content, &[])).expect("it is read"));
    let paths = |opened: &lieflat_files::messages::Opened| {
        opened.lines.iter().map(|line| line.path.clone()).collect::<Vec<_>>()
    };
    assert_eq!(paths(&closed), paths(&begun));
}

#[test]
fn what_lies_out_of_all_reach_is_refused_and_gives_no_scale() {
    for far in ["1e8", "-9.7e214"] {
        let line = format!("0\nLINE\n8\n0\n10\n0\n20\n0\n11\n{far}\n21\n5\n");
        assert_eq!(refused(far, dxf("", &line)), Refused::Broken, "in a DXF");
        let path = format!("<svg viewBox='0 0 9 9'><line stroke='red' x2='{far}'/></svg>");
        let found = refused(far, path.into_bytes());
        assert!(matches!(found, Refused::Broken | Refused::BrokenAt { .. }), "in an SVG: {found:?}");
    }
    let huge = "<svg viewBox='0 0 9 9'><path transform='scale(1e5)' d='M0 0h900'/></svg>".as_bytes().to_vec();
    assert_eq!(refused("a huge transform", huge), Refused::Broken);
    let tiny = "<svg viewBox='0 0 9 9'><path d='M0 0h1e-7'/></svg>".as_bytes().to_vec();
    let mut room = Room::default();
    room.open(tiny).expect("it is read");
    let scaled = room.answer(Asked::Scale(Scale { line: Some(0), mm: 200.0, ..Scale::default() }));
    assert!(matches!(scaled, Answer::Refused(Refused::EndsTogether)), "{scaled:?}");
}

#[test]
fn what_is_more_than_is_kept_is_refused_not_passed_over() {
    let line = "0\nLINE\n8\n0\n10\n0\n20\n0\n11\n9\n21\n9\n";
    let block = format!("0\nBLOCK\n2\nB\n10\n0\n20\n0\n{line}0\nENDBLK\n");
    let columns = |n: u32| dxf(&block, &format!("0\nINSERT\n8\n0\n2\nB\n10\n0\n20\n0\n44\n9\n70\n{n}\n"));
    assert_eq!(Room::default().open(columns(1000)).expect("as many as are read").lines.len(), 1000);
    assert_too_much("a column more", columns(1001));
    let states = |n: usize| pdf_page(&format!("{}0 0 m 9 9 l S {}", "q ".repeat(n), "Q ".repeat(n)), &[]);
    assert!(Room::default().open(states(1000)).is_ok());
    assert_too_much("a state more", states(1001));
    let rules = |n: usize| {
        let rules: String = (0..n).map(|i| format!(".r{i}{{stroke:red}}")).collect();
        format!("<svg viewBox='0 0 9 9'><style>{rules}</style><path d='M0,0 9,9'/></svg>").into_bytes()
    };
    assert!(Room::default().open(rules(2000)).is_ok());
    assert_too_much("a rule more", rules(2001));
}

/// Files of the checks with some of their bytes changed, taken out, or put in twice: read or refused, and what is read may be pointed
/// at. The fuzz targets do the same for longer.
#[test]
fn spoilt_files_are_read_or_refused() {
    let mut state = 1u64;
    let mut random = |most: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap_or(0) % most.max(1)
    };
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../../tests/brought/files");
    let mut opened = 0;
    for file in std::fs::read_dir(folder).expect("the files are there") {
        let path = file.expect("a file").path();
        let good = std::fs::read(&path).expect("it reads");
        for _ in 0..ROUNDS {
            let mut bytes = good.clone();
            for _ in 0..=random(4) {
                let at = random(bytes.len());
                let to = (at + 1 + random(40)).min(bytes.len());
                match random(4) {
                    0 => bytes[at] = u8::try_from(random(256)).expect("a byte"),
                    1 => drop(bytes.drain(at..to)),
                    2 => {
                        let again = bytes[at..to].to_vec();
                        bytes.splice(at..at, again);
                    }
                    _ => bytes[at] = b"0123456789-.eE<>()[]/ "[random(22)],
                }
            }
            let mut room = Room::default();
            let Ok(drawing) = room.open(bytes) else { continue };
            opened += 1;
            let line = random(drawing.lines.len());
            room.answer(Asked::Scale(Scale { line: Some(line), mm: 200.0, ..Scale::default() }));
            let Answer::Piece(piece) = room.answer(Asked::Piece(PieceAsked { line, at: None })) else { continue };
            for one in piece.suggested {
                let asked = EdgeAsked { line, ends: one.ends, via: Some(one.via), ..EdgeAsked::default() };
                room.answer(Asked::Sizes(asked));
            }
        }
    }
    assert!(opened > ROUNDS, "many are read all the same: {opened}");
}
