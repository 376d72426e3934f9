//! One opened file, and the answers to what the page asks of it.

use kurbo::{Point, Shape};
use lieflat_bring::Drawing;

use crate::kind::{kind, text};
use crate::messages::{
    Answer, Asked, Check, Checked, Joined, Kind, LookFor, MOST_BYTES, OFF_PERCENT, Opened, Place, Refused, Scale,
    Scaled,
};
use crate::shown::opened;
use crate::svg;

/// The shortest and the longest known length, mm: a shorter one tells too little, a longer one is on no table. Our judgement.
const KNOWN_MM: [f64; 2] = [5.0, 5000.0];

/// How near a corner or an end must be to what was pointed at to be meant, a share of the drawing's longer side. Our judgement.
const POINTED_SHARE: f64 = 0.01;

/// Holds one opened file.
#[derive(Debug, Default)]
pub struct Room {
    file: Option<Opening>,
}

/// A file as it was read, and as it is now.
#[derive(Debug)]
struct Opening {
    kind: Kind,
    drawing: Drawing,
    joined: Joined,
}

impl Room {
    /// Opens a file in place of the one before.
    ///
    /// # Errors
    /// A [`Refused`] where it cannot be read; then none is open.
    pub fn open(&mut self, bytes: Vec<u8>) -> Result<Opened, Refused> {
        self.file = None;
        within_size(bytes.len() as f64)?;
        let kind = kind(&bytes)?;
        let (drawing, joined) = match kind {
            Kind::Svg => (svg::read(&text(&bytes))?, Joined::One),
            Kind::Dxf | Kind::Pdf => return Err(Refused::OtherKind),
        };
        drop(bytes);
        let file = self.file.insert(Opening { kind, drawing, joined });
        Ok(opened(file.kind, &file.drawing, file.joined))
    }

    /// Answers what is asked.
    pub fn answer(&mut self, asked: Asked) -> Answer {
        self.answered(asked).unwrap_or_else(Answer::Refused)
    }

    fn answered(&mut self, asked: Asked) -> Result<Answer, Refused> {
        if let Asked::Check(check) = asked {
            return checked(check).map(Answer::Checked);
        }
        let file = self.file.as_mut().ok_or(Refused::NothingOpen)?;
        match asked {
            Asked::Scale(scale) => file.scaled(&scale).map(Answer::Scaled),
            _ => Err(Refused::NotUnderstood),
        }
    }
}

/// Refuses a file of more bytes than are opened.
///
/// # Errors
/// [`Refused::TooLarge`].
pub fn within_size(bytes: f64) -> Result<(), Refused> {
    let most = f64::from(MOST_BYTES);
    if bytes > most { Err(Refused::TooLarge { bytes, most }) } else { Ok(()) }
}

fn known(mm: f64) -> Result<f64, Refused> {
    let [least_mm, most_mm] = KNOWN_MM;
    if mm >= least_mm && mm <= most_mm { Ok(mm) } else { Err(Refused::Length { least_mm, most_mm }) }
}

fn checked(Check { found_mm, known_mm }: Check) -> Result<Checked, Refused> {
    let (found, known) = (known(found_mm)?, known(known_mm)?);
    let off_percent = (known / found - 1.0) * 100.0;
    Ok(Checked { off_percent, look_for: look_for(found, known) })
}

/// What a known length that is off by more than a percent is most like. Our judgement.
fn look_for(found: f64, known: f64) -> Option<LookFor> {
    let off = (known / found - 1.0).abs() * 100.0;
    if off <= OFF_PERCENT {
        return None;
    }
    let times = (known / found).max(found / known);
    let near = |wanted: f64| (times / wanted - 1.0).abs() < 0.015;
    let dots = [96.0 / 72.0, 90.0 / 72.0, 96.0 / 90.0];
    let difference = (known - found).abs();
    Some(match times {
        _ if near(25.4) => LookFor::Inches,
        _ if near(10.0) => LookFor::Centimetres,
        _ if near(2.0) => LookFor::Half,
        _ if dots.into_iter().any(near) => LookFor::Dots,
        _ if times < 1.0 / 0.88 && found < 200.0 && difference < 4.0 => LookFor::FittedToPage,
        _ if (4.0..=60.0).contains(&difference) && times < 1.5 && found >= 60.0 && times > 1.0 / 0.94 => {
            LookFor::Allowance
        }
        _ if times < 1.0 / 0.88 => LookFor::FittedToPage,
        _ => LookFor::OtherLine,
    })
}

impl Opening {
    /// The scale by a known length.
    fn scaled(&mut self, scale: &Scale) -> Result<Scaled, Refused> {
        let mm = known(scale.mm)?;
        let ends = match (scale.line, scale.from, scale.to) {
            (Some(line), ..) => self.ends_of(line)?,
            (None, Some(from), Some(to)) => [self.pointed(from), self.pointed(to)],
            _ => return Err(Refused::NotUnderstood),
        };
        let units = ends[0].distance(ends[1]);
        let before = self.drawing.mm_per_unit;
        let found = units * before.unwrap_or(1.0);
        let mm_per_unit = mm / units;
        if !mm_per_unit.is_finite() || mm_per_unit <= 0.0 {
            return Err(Refused::EndsTogether);
        }
        if !scale.only_check || before.is_none() {
            self.drawing.mm_per_unit = Some(mm_per_unit);
        }
        Ok(Scaled {
            mm_per_unit: self.drawing.mm_per_unit.unwrap_or(mm_per_unit),
            found,
            off_percent: before.map(|_| (mm / found - 1.0) * 100.0),
            look_for: before.and_then(|_| look_for(found, mm)),
            ends: ends.map(|p| [p.x, p.y]),
        })
    }

    /// The ends of an open line; of a closed one those of its box's longer side.
    fn ends_of(&self, line: usize) -> Result<[Point; 2], Refused> {
        let line = self.drawing.lines.get(line).ok_or(Refused::NoSuch)?;
        if !line.is_closed() {
            return line.ends().ok_or(Refused::NoSuch);
        }
        let around = line.path.bounding_box();
        let start = around.origin();
        let to = if around.width() >= around.height() { (around.x1, around.y0) } else { (around.x0, around.y1) };
        Ok([start, to.into()])
    }

    /// The corner or end that is meant by a place, or the place itself.
    fn pointed(&self, [x, y]: Place) -> Point {
        let at = Point::new(x, y);
        let bounds = self.drawing.bounds();
        let reach = bounds.width().max(bounds.height()) * POINTED_SHARE;
        let ends = self.drawing.lines.iter().flat_map(|line| line.path.elements()).filter_map(kurbo::PathEl::end_point);
        let near = ends.filter(|end| end.distance(at) <= reach);
        near.min_by(|a, b| a.distance(at).total_cmp(&b.distance(at))).unwrap_or(at)
    }
}
