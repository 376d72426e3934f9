//! A piece as SVG in real millimetres, its lines grouped by what is done along them: cut, sew, marks, text.

use crate::drawing::{Anchor, Drawing, Kind, LEVEL, Label, Layer, Line};
use crate::ink::Point;
use crate::metrics::Face;
use crate::tile::pen;

/// Left free round the piece, mm.
const PADDING_MM: f64 = 5.0;

/// Writes a piece. One user unit is one millimetre; the size is in millimetres, so that programs need no scale.
pub(crate) fn svg(drawing: &Drawing, language: &str) -> String {
    let [low, high] = drawing.bounds();
    let (x, y) = (low[0] - PADDING_MM, low[1] - PADDING_MM);
    let (width, height) = (high[0] - low[0] + 2.0 * PADDING_MM, high[1] - low[1] + 2.0 * PADDING_MM);
    let mut text = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" xml:lang=\"{}\" \
         width=\"{w}mm\" height=\"{h}mm\" viewBox=\"{} {} {w} {h}\">\n<title>{}</title>\n",
        escaped(language),
        short(x),
        short(y),
        escaped(&drawing.title),
        w = short(width),
        h = short(height),
    );
    for (layer, id) in [(Layer::Marks, "marks"), (Layer::Sew, "sew"), (Layer::Cut, "cut")] {
        text += &format!("<g id=\"{id}\" fill=\"none\" stroke=\"#000\">\n");
        if layer == Layer::Marks {
            for area in &drawing.areas {
                text += &format!("<path class=\"tape\" fill=\"#ddd\" stroke=\"none\" d=\"{}Z\"/>\n", path(area));
            }
        }
        for line in drawing.lines.iter().filter(|line| line.kind.layer() == layer) {
            text += &line_element(line);
        }
        text += "</g>\n";
    }
    text += "<g id=\"text\" font-family=\"Helvetica, Arial, sans-serif\">\n";
    for label in &drawing.labels {
        text += &label_element(label);
    }
    text += "</g>\n</svg>\n";
    text
}

fn line_element(line: &Line) -> String {
    let pen = pen(line.kind);
    let dashes: Vec<String> = pen.dashes.iter().map(|mm| short(*mm)).collect();
    let dashes = if dashes.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", dashes.join(" ")) };
    format!(
        "<path class=\"{}\" stroke-width=\"{}\"{dashes} d=\"{}{}\"/>\n",
        class(line.kind),
        short(pen.width),
        path(&line.points),
        if line.closed { "Z" } else { "" }
    )
}

const fn class(kind: Kind) -> &'static str {
    match kind {
        Kind::Cut => "cut-line",
        Kind::Sew => "seam-line",
        Kind::Stitch => "stitch-line",
        Kind::Fold => "fold",
        Kind::Mark => "mark",
        Kind::Clip => "clip",
        Kind::CornerClip => "corner-clip",
        Kind::Trim => "trim-line",
        Kind::Outline => "outline",
    }
}

fn label_element(label: &Label) -> String {
    let [x, y] = label.at.map(short);
    let turn = if label.along == LEVEL { String::new() } else { format!(" transform=\"{}\"", turned(label)) };
    let anchor = match label.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = if label.letters.face == Face::Bold { " font-weight=\"bold\"" } else { "" };
    format!(
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\"{weight} text-anchor=\"{anchor}\"{turn}>{}</text>\n",
        short(label.letters.size),
        escaped(&label.text)
    )
}

/// A turn about the label's place, as a matrix.
fn turned(label: &Label) -> String {
    let ([x, y], [cos, sin]) = (label.at, label.along);
    let [a, b, c, d, e, f] = [cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y].map(short);
    format!("matrix({a} {b} {c} {d} {e} {f})")
}

fn path(points: &[Point]) -> String {
    let mut text = String::new();
    for (i, [x, y]) in points.iter().enumerate() {
        text += &format!("{}{} {}", if i == 0 { "M" } else { "L" }, short(*x), short(*y));
    }
    text
}

/// A number to 0.1 micrometre without trailing zeros.
fn short(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text for an element's content or an attribute: XML's own marks escaped, and what XML 1.0 cannot hold left
/// out as a replacement character. Controls of writing direction go too: they could turn a label round.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            '\t' | '\n' | '\r' => out.push(' '),
            '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => out.push('\u{fffd}'),
            letter => out.push(letter),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_breaks_out_of_its_element() {
        let text = escaped("</text><script>\"&'\u{0}\u{202e}\u{ffff}😀");
        assert_eq!(text, "&lt;/text&gt;&lt;script&gt;&quot;&amp;'\u{fffd}\u{fffd}\u{fffd}😀", "marks are escaped");
    }

    #[test]
    fn numbers_are_short() {
        assert_eq!([short(-0.000_01), short(12.5), short(100.0)], ["0", "12.5", "100"], "no trailing zeros");
    }
}
