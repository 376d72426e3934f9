//! A drawing as the page is told of it.

use kurbo::{BezPath, PathEl, Rect};
use lieflat::decimal;
use lieflat_bring::Drawing;

use crate::messages::{Joined, Kind, LayerShown, LineShown, Opened, PageShown, StyleShown};

/// Coordinates that are only drawn are rounded to this share of the drawing's longer side: far under a pixel of any screen.
const DRAWN_SHARE: f64 = 1e-6;

/// All of a drawing.
pub(crate) fn opened(kind: Kind, drawing: &Drawing, joined: Joined) -> Opened {
    let bounds = drawing.bounds();
    let decimals = decimals(bounds);
    let mut layers: Vec<LayerShown> =
        drawing.layers.iter().map(|layer| LayerShown { name: layer.name.clone(), on: layer.on, lines: 0 }).collect();
    let digit = |half: u8| char::from_digit(u32::from(half), 16);
    let colour = |parts: [u8; 3]| {
        let digits = parts.into_iter().flat_map(|part| [part >> 4, part & 15]).filter_map(digit);
        core::iter::once('#').chain(digits).collect()
    };
    let mut styles: Vec<StyleShown> = drawing
        .styles
        .iter()
        .map(|style| StyleShown {
            colour: colour(style.colour),
            width: style.width,
            dash: style.dash.clone(),
            lines: 0,
        })
        .collect();
    let page =
        |place: Rect| PageShown { x: place.x0, y: place.y0, width: place.width(), height: place.height(), lines: 0 };
    let mut pages: Vec<PageShown> = drawing.pages.iter().map(|one| page(one.place)).collect();
    let mut lines = Vec::with_capacity(drawing.lines.len());
    for line in &drawing.lines {
        let of_layer = line.layer.and_then(|layer| layers.get_mut(layer)).map(|one| &mut one.lines);
        let of_style = styles.get_mut(line.style).map(|one| &mut one.lines);
        let of_page = pages.get_mut(line.page).map(|one| &mut one.lines);
        for count in [of_layer, of_style, of_page].into_iter().flatten() {
            *count += 1;
        }
        let path = path_text(&line.path, decimals);
        let closed = line.is_closed();
        lines.push(LineShown {
            path,
            layer: line.layer,
            style: line.style,
            group: line.group,
            page: line.page,
            closed,
        });
    }
    Opened {
        kind,
        mm_per_unit: drawing.mm_per_unit,
        view_box: [bounds.x0, bounds.y0, bounds.width(), bounds.height()],
        pages,
        joined,
        layers,
        styles,
        groups: drawing.groups.clone(),
        lines,
    }
}

/// How many decimals show a drawing of this size as it is.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it is held between 0 and 9")]
pub(crate) fn decimals(bounds: Rect) -> u32 {
    let step = bounds.width().max(bounds.height()) * DRAWN_SHARE;
    if step > 0.0 { (-step.log10()).ceil().clamp(0.0, 9.0) as u32 } else { 3 }
}

/// The text of a path, with so many decimals at most.
pub(crate) fn path_text(path: &BezPath, decimals: u32) -> String {
    let mut text = String::with_capacity(path.elements().len() * 16);
    for element in path.elements() {
        let (command, points) = match *element {
            PathEl::MoveTo(p) => ('M', [None, None, Some(p)]),
            PathEl::LineTo(p) => ('L', [None, None, Some(p)]),
            PathEl::QuadTo(a, p) => ('Q', [None, Some(a), Some(p)]),
            PathEl::CurveTo(a, b, p) => ('C', [Some(a), Some(b), Some(p)]),
            PathEl::ClosePath => ('Z', [None; 3]),
        };
        text.push(command);
        for (i, point) in points.into_iter().flatten().enumerate() {
            if i > 0 {
                text.push(' ');
            }
            write(&mut text, point.x, decimals);
            text.push(',');
            write(&mut text, point.y, decimals);
        }
    }
    text
}

/// Writes a number with so many decimals at most.
fn write(text: &mut String, value: f64, decimals: u32) {
    let steps = 10f64.powi(i32::try_from(decimals).unwrap_or(0));
    decimal::write_to(text, (value * steps).round() / steps);
}
