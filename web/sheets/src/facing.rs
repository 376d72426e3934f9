//! The facing's pieces at true scale, by halves: outline, seam lines, stitching, notches, clips, the stretch arrow.

use lieflat::Plan;
use lieflat::plan::{FacingPiece, FacingPlan};

use crate::drawing::{Anchor, Drawing, Kind};
use crate::geometry::{add, bounds, direction};
use crate::ink::Point;
use crate::text::Type;
use crate::words::Words;

/// How long a notch is drawn, mm.
const NOTCH_MM: f64 = 5.0;

/// Where notes stand beside the centre, how far they keep from the outer edge, and how tall they may get, mm.
const NOTE_X: f64 = 6.0;
const NOTE_GAP: f64 = 3.0;
const NOTE_TALL: f64 = 26.0;
/// Their widest and narrowest lines, mm.
const WIDEST: f64 = 62.0;
const NARROWEST: f64 = 28.0;

const TITLE: Type = Type::bold(4.2);
const NOTE: Type = Type::plain(2.8);

/// Front and back; none without a facing.
pub(crate) fn pieces(plan: &Plan, words: &Words<'_>) -> Vec<Drawing> {
    let Some(facing) = &plan.facing else { return Vec::new() };
    let turned = plan.finish.turned_under_mm > 0.0;
    vec![
        draw("facing-front", words.t("facing.front"), &facing.front, turned, words),
        draw("facing-back", words.t("facing.back"), &facing.back, turned, words),
    ]
}

/// Both halves small, side by side, with their names.
pub(crate) fn small(facing: &FacingPlan, words: &Words<'_>, scale: f64) -> Drawing {
    let mut d = Drawing::new("picture", String::new());
    let mut left = 0.0;
    for (piece, name) in [(&facing.front, "front"), (&facing.back, "back")] {
        let Some([low, high]) = bounds(piece.cut_outline.iter().copied()) else { continue };
        let place = |p: &Point| [left + (p[0] - low[0]) * scale, (p[1] - high[1]) * scale];
        d.closed(Kind::Mark, piece.cut_outline.iter().map(place).collect());
        d.line(Kind::Sew, piece.seam_line.iter().map(place).collect());
        let text = words.page(&format!("drawing.facing_piece_{name}"));
        d.label([left, 3.2], Anchor::Start, Type::plain(2.5), text);
        left += (high[0] - low[0]) * scale + 12.0;
    }
    d
}

fn draw(name: &'static str, title: String, piece: &FacingPiece, turned: bool, words: &Words<'_>) -> Drawing {
    let mut d = Drawing::new(name, title);
    outline(&mut d, piece);
    seams(&mut d, piece, turned);
    for run in &piece.understitch_lines {
        d.line(Kind::Stitch, run.clone());
    }
    d.line(Kind::Stitch, piece.topstitch_line.clone());
    for notch in &piece.notches {
        d.line(Kind::Mark, vec![notch.at, add(notch.at, direction(notch.at, notch.toward), NOTCH_MM)]);
    }
    d.line(Kind::Trim, piece.trimmed_line.clone());
    d.clips(&piece.clips);
    let (from, to) = (piece.arrow.from, piece.arrow.to);
    d.double_arrow(from, to);
    let middle = [0.5 * (from[0] + to[0]), from[1] - 1.4];
    d.label(middle, Anchor::Middle, NOTE, words.t("arrow.crosswise"));
    notes(&mut d, piece, words);
    d
}

/// A centre on the fold is no cut.
fn outline(d: &mut Drawing, piece: &FacingPiece) {
    match (piece.cut_outline.first(), piece.cut_outline.last()) {
        (Some(first), Some(last)) if piece.on_fold => {
            d.line(Kind::Fold, vec![*last, *first]);
            d.line(Kind::Cut, piece.cut_outline.clone());
        }
        _ => d.closed(Kind::Cut, piece.cut_outline.clone()),
    }
}

fn seams(d: &mut Drawing, piece: &FacingPiece, turned: bool) {
    let ends = |line: &[Point]| line.first().copied().zip(line.last().copied());
    if let (Some((neck_centre, neck_end)), Some((outer_centre, outer_end))) =
        (ends(&piece.seam_line), ends(&piece.outer_line))
    {
        d.line(Kind::Sew, vec![neck_end, outer_end]);
        if !piece.on_fold {
            d.line(Kind::Sew, vec![neck_centre, outer_centre]);
        }
    }
    if turned {
        d.line(Kind::Fold, piece.outer_line.clone());
    }
    d.line(Kind::Sew, piece.seam_line.clone());
}

/// The room that notes at the centre have: as far as the outer edge beside them, all the way down. mm.
fn room(piece: &FacingPiece, top: f64, foot: f64) -> f64 {
    let beside = piece.outer_line.windows(2).filter_map(|pair| {
        let [[ax, ay], [bx, by]] = pair else { return None };
        let (low, high) = (ay.min(*by).max(top), ay.max(*by).min(foot));
        let at = |y: f64| ax + (bx - ax) * if (by - ay).abs() > 1e-9 { (y - ay) / (by - ay) } else { 0.0 };
        (low <= high).then(|| at(low).min(at(high)))
    });
    (beside.fold(f64::INFINITY, f64::min) - NOTE_X - NOTE_GAP).clamp(NARROWEST, WIDEST)
}

/// Below the seam edge at the centre, where a piece is as wide as the facing.
fn notes(d: &mut Drawing, piece: &FacingPiece, words: &Words<'_>) {
    let foot = piece.seam_line.first().map_or(0.0, |p| p[1]);
    let cut = if piece.on_fold { "facing.on_fold" } else { "facing.at_seam" };
    let mut y = foot + 10.0;
    let room = room(piece, y, y + NOTE_TALL);
    for (letters, text) in [(TITLE, d.title.clone()), (NOTE, words.t(cut)), (NOTE, words.t("facing.lines"))] {
        for line in letters.wrap(&text, room) {
            d.label([NOTE_X, y], Anchor::Start, letters, line);
            y += letters.leading() + 0.3;
        }
    }
}
