//! What holds of every file that is brought, whatever stands in it.

use lieflat_files::Room;
use lieflat_files::messages::{Answer, Asked, Check, EdgeAsked, Join, Opened, PieceAsked, Scale};

/// Most lines of one file that are pointed at.
const MOST_LINES: usize = 6;

/// Opens a file and asks all there is to ask of its first lines: no answer panics, every figure is a number, every edge is a path
/// that the core reads.
///
/// # Panics
/// Where something that must hold does not.
pub fn bring(bytes: Vec<u8>) {
    let mut room = Room::default();
    let Ok(opened) = room.open(bytes) else { return };
    assert!(!opened.lines.is_empty(), "what opens has lines");
    check_finite(&Answer::Opened(opened.clone()));
    for line in 0..opened.lines.len().min(MOST_LINES) {
        let mut ask = |asked: Asked| {
            let answer = room.answer(asked);
            check_finite(&answer);
            answer
        };
        ask(Asked::Scale(Scale { line: Some(line), mm: 200.0, ..Scale::default() }));
        ask(Asked::Check(Check { found_mm: 200.0, known_mm: 198.0 }));
        let Answer::Piece(piece) = ask(Asked::Piece(PieceAsked { line, at: None })) else { continue };
        if let Some(last) = piece.suggested.last() {
            let tapped = PieceAsked { line, at: Some(last.via) };
            let Answer::Piece(again) = ask(Asked::Piece(tapped)) else { panic!("the same piece, tapped") };
            assert_eq!(again.suggested.len(), piece.suggested.len(), "a tap changes the order alone");
        }
        let corners = piece.corners.iter().map(|corner| corner.at);
        let ends = [corners.clone().next(), corners.clone().nth(1).or(corners.clone().last())];
        let pairs = piece.suggested.iter().map(|one| (one.ends, Some(one.via)));
        let first = ends[0].zip(ends[1]).map(|(a, b)| ([a, b], None));
        for (ends, via) in pairs.chain(first) {
            let asked = EdgeAsked { line, ends, via, ..EdgeAsked::default() };
            check_edge(&ask(Asked::Edge(asked.clone())));
            check_edge(&ask(Asked::Edge(EdgeAsked { whole: Some(true), ..asked.clone() })));
            ask(Asked::Sizes(EdgeAsked { down: Some([0.0, 1e4]), whole: Some(false), ..asked }));
        }
    }
    if opened.pages.len() > 1 {
        let Opened { pages, .. } = &opened;
        let join = Join { columns: pages.len().min(3), overlap_x_mm: 10.0, overlap_y_mm: 7.0, ..Join::default() };
        check_finite(&room.answer(Asked::Join(join)));
    }
}

fn check_edge(answer: &Answer) {
    let Answer::Edge(edge) = answer else { return };
    assert!(edge.length_mm > 0.0 && edge.width_mm > 0.0 && edge.uncertainty_mm > 0.0, "an edge has a size: {edge:?}");
    assert!(lieflat::path::read_path(&edge.path_mm).is_ok(), "an edge is a path: {edge:?}");
}

/// JSON has no way to write what is not a finite number: it stands there as null, where no figure may be missing.
fn check_finite(answer: &Answer) {
    let json = serde_json::to_value(answer).expect("an answer becomes JSON");
    let paths = json.to_string();
    assert!(!paths.contains("NaN") && !paths.contains("inf,"), "no path holds what is no number");
    for figure in ["length_mm", "width_mm", "depth_mm", "uncertainty_mm", "turn_deg", "found"] {
        assert!(!paths.contains(&format!("\"{figure}\":null")), "{figure} is a number: {paths}");
    }
}
