//! A piece as DXF, the exchange format that cutting machines and drawing programs read: text in pairs of lines, a number that says what
//! follows and then the value. Lengths are millimetres, y runs up, and the piece lies right of and above the origin.
//!
//! What is written is what the format's public reference asks of release 12 and of release 2000 (AC1015), and no more. Of the libraries
//! that write it the best kept, `dxf` 0.6, brings all that the format knows: 195 kB of packed WebAssembly, where this takes three.

use core::fmt::Display;

use crate::drawing::{Anchor, Drawing, Kind, Label};
use crate::finer::finer;
use crate::geometry::add;
use crate::ink::Point;
use crate::options::PieceForm;

/// What is written for every piece: see [`Writer::pairs`] for its form. Handles up to 2F are taken by these.
const R12_TABLES: &str = "0 SECTION|2 TABLES|\
    0 TABLE|2 LTYPE|70 1|0 LTYPE|2 CONTINUOUS|70 0|3 Solid line|72 65|73 0|40 0.0|0 ENDTAB";
const R12_STYLE: &str =
    "0 TABLE|2 STYLE|70 1|0 STYLE|2 STANDARD|70 0|40 0.0|41 1.0|50 0.0|71 0|42 2.5|3 txt|4 |0 ENDTAB|0 ENDSEC";
const R2000_TABLES: &str = "0 SECTION|2 CLASSES|0 ENDSEC|0 SECTION|2 TABLES|\
    0 TABLE|2 VPORT|5 8|330 0|100 AcDbSymbolTable|70 0|0 ENDTAB|\
    0 TABLE|2 LTYPE|5 2|330 0|100 AcDbSymbolTable|70 3|\
    0 LTYPE|5 10|330 2|100 AcDbSymbolTableRecord|100 AcDbLinetypeTableRecord|2 ByBlock|70 0|3 |72 65|73 0|40 0.0|\
    0 LTYPE|5 11|330 2|100 AcDbSymbolTableRecord|100 AcDbLinetypeTableRecord|2 ByLayer|70 0|3 |72 65|73 0|40 0.0|\
    0 LTYPE|5 12|330 2|100 AcDbSymbolTableRecord|100 AcDbLinetypeTableRecord|2 Continuous|70 0|3 Solid line|72 65|73 0|40 0.0|\
    0 ENDTAB";
const R2000_STYLE: &str = "0 TABLE|2 STYLE|5 3|330 0|100 AcDbSymbolTable|70 1|\
    0 STYLE|5 13|330 3|100 AcDbSymbolTableRecord|100 AcDbTextStyleTableRecord|2 Standard|70 0|40 0.0|41 1.0|50 0.0|71 0|42 2.5|3 txt|4 |\
    0 ENDTAB|\
    0 TABLE|2 VIEW|5 6|330 0|100 AcDbSymbolTable|70 0|0 ENDTAB|\
    0 TABLE|2 UCS|5 7|330 0|100 AcDbSymbolTable|70 0|0 ENDTAB|\
    0 TABLE|2 APPID|5 9|330 0|100 AcDbSymbolTable|70 1|\
    0 APPID|5 14|330 9|100 AcDbSymbolTableRecord|100 AcDbRegAppTableRecord|2 ACAD|70 0|0 ENDTAB|\
    0 TABLE|2 DIMSTYLE|5 A|330 0|100 AcDbSymbolTable|70 1|100 AcDbDimStyleTable|\
    0 DIMSTYLE|105 15|330 A|100 AcDbSymbolTableRecord|100 AcDbDimStyleTableRecord|2 Standard|70 0|0 ENDTAB|\
    0 TABLE|2 BLOCK_RECORD|5 1|330 0|100 AcDbSymbolTable|70 2|\
    0 BLOCK_RECORD|5 16|330 1|100 AcDbSymbolTableRecord|100 AcDbBlockTableRecord|2 *Model_Space|340 1D|\
    0 BLOCK_RECORD|5 17|330 1|100 AcDbSymbolTableRecord|100 AcDbBlockTableRecord|2 *Paper_Space|340 1E|\
    0 ENDTAB|0 ENDSEC|\
    0 SECTION|2 BLOCKS|\
    0 BLOCK|5 18|330 16|100 AcDbEntity|8 0|100 AcDbBlockBegin|2 *Model_Space|70 0|10 0.0|20 0.0|30 0.0|3 *Model_Space|1 |\
    0 ENDBLK|5 19|330 16|100 AcDbEntity|8 0|100 AcDbBlockEnd|\
    0 BLOCK|5 1A|330 17|100 AcDbEntity|67 1|8 0|100 AcDbBlockBegin|2 *Paper_Space|70 0|10 0.0|20 0.0|30 0.0|3 *Paper_Space|1 |\
    0 ENDBLK|5 1B|330 17|100 AcDbEntity|67 1|8 0|100 AcDbBlockEnd|0 ENDSEC";
const R2000_OBJECTS: &str = "0 SECTION|2 OBJECTS|\
    0 DICTIONARY|5 C|330 0|100 AcDbDictionary|281 1|3 ACAD_GROUP|350 D|3 ACAD_LAYOUT|350 1C|\
    0 DICTIONARY|5 D|330 C|100 AcDbDictionary|281 1|\
    0 DICTIONARY|5 1C|330 C|100 AcDbDictionary|281 1|3 Model|350 1D|3 Layout1|350 1E";

/// The layers by their names, each with its colour's number: one for each thing that is done along a line.
const LAYERS: [(&str, u8); 5] = [("CUT", 1), ("SEAM", 5), ("FOLD", 6), ("MARKS", 3), ("TEXT", 7)];

/// The owner of all that is drawn in release 2000: the model's block record.
const MODEL: &str = "16";

/// How tall a capital is, in sizes of letters: the format tells a text's height so.
const CAPITAL: f64 = 0.72;

/// The first handle that is free for layers and lines.
const FREE_HANDLE: u32 = 0x30;

const fn layer(kind: Kind) -> &'static str {
    match kind {
        Kind::Cut => "CUT",
        Kind::Sew | Kind::Stitch => "SEAM",
        Kind::Fold => "FOLD",
        Kind::Mark | Kind::Clip | Kind::CornerClip | Kind::Trim | Kind::Outline => "MARKS",
    }
}

/// Writes a piece in letters of ASCII.
pub(crate) fn dxf(drawing: &Drawing, form: PieceForm) -> String {
    let [low, high] = drawing.bounds();
    let mut w =
        Writer { text: String::new(), old: form == PieceForm::DxfR12, next: FREE_HANDLE, origin: [low[0], high[1]] };
    w.pair(999, format_args!("Lieflat: {}. Units: millimetres.", plain(&drawing.title)));
    w.header(add(high, low, -1.0));
    w.tables();
    w.pairs("0 SECTION|2 ENTITIES");
    for area in &drawing.areas {
        w.line("MARKS", area, true);
    }
    for line in &drawing.lines {
        w.line(layer(line.kind), &finer(&line.points), line.closed);
    }
    for label in &drawing.labels {
        w.label(label);
    }
    w.pairs("0 ENDSEC");
    if !w.old {
        w.objects();
    }
    w.pairs("0 EOF");
    w.text
}

struct Writer {
    text: String,
    /// Release 12, which has neither owners nor classes.
    old: bool,
    /// The next free handle.
    next: u32,
    /// The drawing's place, y down, that is the file's origin.
    origin: Point,
}

impl Writer {
    fn pair(&mut self, code: u16, value: impl Display) {
        self.text += &format!("{code}\n{value}\n");
    }

    /// Pairs that are the same in every file: each its number, a space and its value, with a stroke in between.
    fn pairs(&mut self, pairs: &str) {
        for (code, value) in pairs.split('|').filter_map(|pair| pair.split_once(' ')) {
            self.text += &format!("{code}\n{value}\n");
        }
    }

    fn number(&mut self, code: u16, value: f64) {
        self.pair(code, format_args!("{value:.4}"));
    }

    /// A place, y up. `code` is that of x.
    fn place(&mut self, code: u16, [x, y]: Point) {
        self.number(code, x - self.origin[0]);
        self.number(code + 10, self.origin[1] - y);
    }

    fn place_in_space(&mut self, code: u16, at: Point) {
        self.place(code, at);
        self.number(code + 20, 0.0);
    }

    fn header(&mut self, [width, height]: Point) {
        self.pairs("0 SECTION|2 HEADER|9 $ACADVER");
        self.pairs(if self.old { "1 AC1009" } else { "1 AC1015|9 $INSUNITS|70 4|9 $MEASUREMENT|70 1" });
        self.pairs("9 $EXTMIN|10 0.0|20 0.0|30 0.0|9 $EXTMAX");
        self.number(10, width);
        self.number(20, height);
        self.pairs("30 0.0");
        if !self.old {
            // More than any piece needs: the number of its lines is known only once they are written.
            self.pairs("9 $HANDSEED|5 FFFFF");
        }
        self.pairs("0 ENDSEC");
    }

    fn tables(&mut self) {
        self.pairs(if self.old { R12_TABLES } else { R2000_TABLES });
        self.pairs("0 TABLE|2 LAYER");
        self.owned(&format!("5 4|330 0|100 AcDbSymbolTable|70 {}", LAYERS.len() + 1));
        for (name, colour) in [("0", 7)].into_iter().chain(LAYERS) {
            self.pairs("0 LAYER");
            self.named("330 4|100 AcDbSymbolTableRecord|100 AcDbLayerTableRecord");
            self.pairs(&format!("2 {name}|70 0|62 {colour}|6 CONTINUOUS"));
        }
        self.pairs("0 ENDTAB");
        self.pairs(if self.old { R12_STYLE } else { R2000_STYLE });
    }

    /// Only release 2000 says where a thing belongs.
    fn owned(&mut self, pairs: &str) {
        if !self.old {
            self.pairs(pairs);
        }
    }

    /// A new thing's handle, and where it belongs.
    fn named(&mut self, pairs: &str) {
        if !self.old {
            let handle = self.next;
            self.next += 1;
            self.pair(5, format_args!("{handle:X}"));
            self.pairs(pairs);
        }
    }

    /// Begins something drawn.
    fn entity(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.named(&format!("330 {MODEL}|100 AcDbEntity"));
        self.pair(8, layer);
    }

    fn line(&mut self, layer: &str, points: &[Point], closed: bool) {
        let flag = u8::from(closed);
        match *points {
            [from, to] => {
                self.entity("LINE", layer);
                self.owned("100 AcDbLine");
                self.place_in_space(10, from);
                self.place_in_space(11, to);
            }
            _ if self.old => {
                self.entity("POLYLINE", layer);
                self.pairs(&format!("66 1|10 0.0|20 0.0|30 0.0|70 {flag}"));
                for point in points {
                    self.entity("VERTEX", layer);
                    self.place_in_space(10, *point);
                }
                self.entity("SEQEND", layer);
            }
            _ => {
                self.entity("LWPOLYLINE", layer);
                self.pairs(&format!("100 AcDbPolyline|90 {}|70 {flag}", points.len()));
                for point in points {
                    self.place(10, *point);
                }
            }
        }
    }

    fn label(&mut self, label: &Label) {
        self.entity("TEXT", "TEXT");
        self.owned("100 AcDbText");
        self.place_in_space(10, label.start_and_width().0);
        self.number(40, CAPITAL * label.letters.size);
        self.pair(1, plain(&label.text));
        let [cos, sin] = label.along;
        self.number(50, (-sin).atan2(cos).to_degrees());
        let anchor = match label.anchor {
            Anchor::Start => 0,
            Anchor::Middle => 1,
            Anchor::End => 2,
        };
        self.pair(72, anchor);
        if anchor != 0 {
            self.place_in_space(11, label.at);
        }
        self.owned("100 AcDbText");
    }

    /// The two layouts that release 2000 wants: the model's, and an empty one for paper. A margin left out is none.
    fn objects(&mut self) {
        self.pairs(R2000_OBJECTS);
        for (handle, name, order, block) in [("1D", "Model", 0, MODEL), ("1E", "Layout1", 1, "17")] {
            let model = if order == 0 { 1024 } else { 0 };
            self.pairs(&format!(
                "0 LAYOUT|5 {handle}|330 1C|100 AcDbPlotSettings|1 |4 |6 |40 0.0|41 0.0|42 0.0|43 0.0|44 0.0|45 0.0|46 0.0|47 0.0|\
                 48 0.0|49 0.0|140 0.0|141 0.0|142 1.0|143 1.0|70 {model}|72 1|73 0|74 5|7 |75 16|147 1.0|148 0.0|149 0.0|\
                 100 AcDbLayout|1 {name}|70 1|71 {order}|10 0.0|20 0.0|11 0.0|21 0.0|12 0.0|22 0.0|32 0.0|14 0.0|24 0.0|34 0.0|\
                 15 0.0|25 0.0|35 0.0|146 0.0|13 0.0|23 0.0|33 0.0|16 1.0|26 0.0|36 0.0|17 0.0|27 1.0|37 0.0|76 1|330 {block}"
            ));
        }
        self.pairs("0 ENDSEC");
    }
}

/// A text in ASCII, as both releases read it: other letters by their code points, and what the format itself would act on said so
/// that it does not. Controls become spaces, for a line's end ends a value.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\0'..='\u{1f}' | '\u{7f}' => out.push(' '),
            '%' if out.ends_with('%') => out += " %",
            '^' => out += "^ ",
            '\\' => out += "\\U+005C",
            ' '..='~' => out.push(letter),
            // What does not fit four digits is a pair of surrogates to some readers, and nothing to others.
            _ if u32::from(letter) > 0xffff => out.push('?'),
            _ => out += &format!("\\U+{:04X}", u32::from(letter)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_breaks_out_of_its_value() {
        assert_eq!(plain("a\n0\nEOF\r\u{0}"), "a 0 EOF  ", "a value is one line");
        assert_eq!(plain("ñ 100 % ½"), "\\U+00F1 100 % \\U+00BD", "letters beyond ASCII by their code points");
        assert_eq!(plain("%%d ^J \\P 😀"), "% %d ^ J \\U+005CP ?", "what the format acts on is text");
    }
}
