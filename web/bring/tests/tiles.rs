//! Tiled pages that come together by lines they share.

use kurbo::{BezPath, Rect};
use lieflat_bring::{Drawing, Laid, LineOf, Page, Style, lay};

/// Invented: two pages with one straight line of 150 each; on the second it stands twice, so that two places for it have as much to be said for.
fn undecided() -> Drawing {
    let page = |x: f64| {
        let own = Rect::new(x, 0.0, x + 200.0, 280.0);
        Page { place: own, own }
    };
    let mut drawing = Drawing { pages: vec![page(0.0), page(1000.0)], mm_per_unit: Some(1.0), ..Drawing::default() };
    let style = drawing.style(&Style { colour: [0, 0, 0], width: 1.0, dash: Vec::new() });
    for (at, page) in [(190.0, 0), (10.0, 1), (60.0, 1)] {
        let line = BezPath::from_svg(&format!("M{at} 20 V170")).expect("a path");
        drawing.add(&line, &LineOf { style, page, ..LineOf::default() });
    }
    drawing
}

#[test]
fn the_same_file_is_put_together_the_same_way_each_time() {
    let laid = || {
        let mut drawing = undecided();
        assert_eq!(lay(&mut drawing), Laid::Copies);
        drawing
    };
    let first = laid();
    for _ in 0..40 {
        assert_eq!(laid(), first);
    }
}
