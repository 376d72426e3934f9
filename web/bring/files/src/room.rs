//! One opened file, and the answers to what the page asks of it.

use core::ops::RangeInclusive;

use kurbo::{PathEl, Point, Rect, Shape, Vec2};
use lieflat_bring::{Chosen, Drawing, Laid, NoEdge, Outline, lay_by_hand, path_of, suggested};

use crate::kind::kind;
use crate::known::{checked, known, look_for};
use crate::messages::{
    Answer, Asked, CentreFrom, CornerShown, Edge, EdgeAsked, Join, Joined, Kind, MOST_BYTES, Opened, Piece, PieceAsked,
    Place, Refused, Scale, Scaled, Size, Sizes, Suggested,
};
use crate::shown::{decimals, opened, path_text};

/// How near a corner or an end must be to what was pointed at to be meant, a share of the drawing's longer side. Our judgement.
const POINTED_SHARE: f64 = 0.01;

/// How exactly a known length is read off a tape and pointed at, mm. Our judgement.
const KNOWN_OFF_MM: f64 = 0.5;

/// How far from its origin a drawing may reach, in its units: ten kilometres of millimetres. Our judgement.
const FARTHEST: f64 = 1e7;

/// What a unit may be, mm: from a ten-millionth to a hundred metres. Our judgement.
const MM_PER_UNIT: RangeInclusive<f64> = 1e-7..=1e5;

/// Coordinates of a brief's outline are written to 1/10 000 mm.
const BRIEF_DECIMALS: u32 = 4;

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
    /// The drawing with every page by itself, where there are several.
    apart: Option<Drawing>,
    /// How far the scale may be off, as a share: by a known length.
    scale_off: f64,
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
        let mut drawing = read(kind, bytes)?;
        check_reach(&drawing)?;
        let apart = (drawing.pages.len() > 1).then(|| drawing.clone());
        let joined = joined(lieflat_bring::lay(&mut drawing));
        let file = self.file.insert(Opening { kind, drawing, joined, apart, scale_off: 0.0 });
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
            Asked::Check(check) => checked(check).map(Answer::Checked),
            Asked::Join(join) => file.join(&join).map(Answer::Opened),
            Asked::Piece(asked) => file.piece(&asked).map(Answer::Piece),
            Asked::Edge(asked) => file.edge(&asked).map(Box::new).map(Answer::Edge),
            Asked::Sizes(asked) => file.sizes(&asked).map(Answer::Sizes),
        }
    }
}

fn read(kind: Kind, bytes: Vec<u8>) -> Result<Drawing, Refused> {
    match kind {
        #[cfg(feature = "text")]
        Kind::Svg => crate::svg::read(&crate::kind::text(bytes)),
        #[cfg(feature = "text")]
        Kind::Dxf => crate::dxf::read(&crate::kind::text(bytes)),
        #[cfg(feature = "pdf")]
        Kind::Pdf => crate::pdf::read(bytes),
        // The other module's: the page never asks for it here.
        #[cfg(not(all(feature = "pdf", feature = "text")))]
        _ => Err(Refused::OtherKind),
    }
}

/// Refuses what no pattern is: lines, or a scale, so far out that figures would lose themselves.
fn check_reach(drawing: &Drawing) -> Result<(), Refused> {
    let Rect { x0, y0, x1, y1 } = drawing.bounds();
    let is_near = [x0, y0, x1, y1].iter().all(|at| at.abs() <= FARTHEST);
    if is_near && drawing.mm_per_unit.is_none_or(is_scale) { Ok(()) } else { Err(Refused::Broken) }
}

fn is_scale(mm_per_unit: f64) -> bool {
    MM_PER_UNIT.contains(&mm_per_unit)
}

fn joined(laid: Laid) -> Joined {
    match laid {
        Laid::One => Joined::One,
        Laid::Copies => Joined::Copies,
        Laid::OwnPlaces => Joined::OwnPlaces,
        Laid::ByHand => Joined::ByHand,
        Laid::Apart => Joined::Apart,
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

fn place(p: Point) -> Place {
    [p.x, p.y]
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
        if !is_scale(mm_per_unit) {
            return Err(Refused::EndsTogether);
        }
        if !scale.only_check || before.is_none() {
            self.drawing.mm_per_unit = Some(mm_per_unit);
            self.scale_off = KNOWN_OFF_MM / mm;
        }
        Ok(Scaled {
            mm_per_unit: self.drawing.mm_per_unit.unwrap_or(mm_per_unit),
            found,
            off_percent: before.map(|_| (mm / found - 1.0) * 100.0),
            look_for: before.and_then(|_| look_for(found, mm)),
            ends: ends.map(place),
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
        let ends = self.drawing.lines.iter().flat_map(|line| line.path.elements()).filter_map(PathEl::end_point);
        let near = ends.filter(|end| end.distance(at) <= reach);
        near.min_by(|a, b| a.distance(at).total_cmp(&b.distance(at))).unwrap_or(at)
    }

    /// Lays the pages by hand.
    fn join(&mut self, join: &Join) -> Result<Opened, Refused> {
        let apart = self.apart.as_ref().ok_or(Refused::NoSuch)?;
        let scale = self.drawing.mm_per_unit.unwrap_or(1.0);
        let overlap = Vec2::new(join.overlap_x_mm, join.overlap_y_mm) / scale;
        let finite = |v: &f64| v.is_finite() && v.abs() < 1e6;
        let offsets = join.offsets.iter().flat_map(|offset| [offset.x_mm, offset.y_mm]);
        if !offsets.chain([overlap.x, overlap.y]).all(|v| finite(&v)) {
            return Err(Refused::NotUnderstood);
        }
        let mut places = vec![None; apart.pages.len()];
        if join.columns == 0 {
            for offset in &join.offsets {
                let place = places.get_mut(offset.page).ok_or(Refused::NoSuch)?;
                *place = Some(Vec2::new(offset.x_mm, offset.y_mm) / scale);
            }
        } else {
            let kept = (0..places.len()).filter(|page| !join.without.contains(page));
            for (i, page) in kept.enumerate() {
                let own = apart.pages[page].own;
                let (column, row) = ((i % join.columns) as f64, (i / join.columns) as f64);
                places[page] = Some(Vec2::new(column * (own.width() - overlap.x), row * (own.height() - overlap.y)));
            }
        }
        if places.iter().all(Option::is_none) {
            return Err(Refused::NoSuch);
        }
        let mut drawing = apart.clone();
        drawing.mm_per_unit = self.drawing.mm_per_unit;
        lay_by_hand(&mut drawing, &places);
        (self.drawing, self.joined) = (drawing, Joined::ByHand);
        Ok(opened(self.kind, &self.drawing, self.joined))
    }

    fn scale(&self) -> Result<f64, Refused> {
        self.drawing.mm_per_unit.ok_or(Refused::ScaleUnknown)
    }

    fn outline(&self, line: usize) -> Result<Outline, Refused> {
        Outline::of(&self.drawing, self.scale()?, line).ok_or(Refused::NoSuch)
    }

    fn piece(&self, asked: &PieceAsked) -> Result<Piece, Refused> {
        let outline = self.outline(asked.line)?;
        let scale = self.scale()?;
        let tapped = asked.at.map(|[x, y]| Point::new(x * scale, y * scale));
        if tapped.is_some_and(|at| !at.is_finite()) {
            return Err(Refused::NotUnderstood);
        }
        let decimals = decimals(self.drawing.bounds());
        let shown = |p: Point| place((p.to_vec2() / scale).to_point());
        let path = |segments: &[kurbo::PathSeg], closed| path_text(&path_of(segments, closed, 1.0 / scale), decimals);
        let suggested = suggested(&outline, tapped).into_iter().map(|one| Suggested {
            ends: one.ends.map(shown),
            via: shown(one.via),
            whole: one.whole,
            length_mm: one.length_mm,
            path: path(&one.segments, false),
        });
        Ok(Piece {
            path: path(outline.run.segments(), outline.run.is_closed()),
            closed: outline.run.is_closed(),
            length_mm: outline.run.length(),
            corners: outline
                .corners
                .iter()
                .map(|corner| CornerShown { at: shown(outline.run.point(corner.at)), turn_deg: corner.turn_deg })
                .collect(),
            notches: outline.notches.len(),
            suggested: suggested.collect(),
            lines: outline.lines,
        })
    }

    fn chosen(&self, asked: &EdgeAsked) -> Result<Chosen, Refused> {
        let scale = self.scale()?;
        let all = asked.ends.iter().chain(&asked.via).chain(&asked.down).flatten();
        if !all.copied().all(f64::is_finite) {
            return Err(Refused::NotUnderstood);
        }
        let mm = |[x, y]: Place| Point::new(x * scale, y * scale);
        Ok(Chosen {
            ends: asked.ends.map(mm),
            via: asked.via.map(mm),
            down: asked.down.map(mm).map(lieflat_bring::Down::To),
            whole: asked.whole,
            scale_off: self.scale_off,
        })
    }

    fn edge(&self, asked: &EdgeAsked) -> Result<Edge, Refused> {
        let chosen = self.chosen(asked)?;
        let found = lieflat_bring::edge(&self.outline(asked.line)?, &chosen).map_err(refused)?;
        Ok(self.edge_shown(&found))
    }

    fn edge_shown(&self, edge: &lieflat_bring::Edge) -> Edge {
        let scale = self.drawing.mm_per_unit.unwrap_or(1.0);
        Edge {
            path_mm: path_text(&edge.half, BRIEF_DECIMALS),
            length_mm: edge.length_mm,
            width_mm: edge.width_mm,
            depth_mm: edge.depth_mm,
            uncertainty_mm: edge.uncertainty_mm,
            over: path_text(&path_of(&edge.over, false, 1.0 / scale), decimals(self.drawing.bounds())),
            whole: edge.whole,
            mirror_off_mm: edge.mirror_off_mm,
            centre_from: match edge.centre_from {
                lieflat_bring::CentreFrom::Outline => CentreFrom::Outline,
                lieflat_bring::CentreFrom::Pointed => CentreFrom::Pointed,
                lieflat_bring::CentreFrom::Mirror => CentreFrom::Mirror,
            },
            smoothed: edge.smoothed,
            notches: edge.notches,
        }
    }

    fn sizes(&self, asked: &EdgeAsked) -> Result<Sizes, Refused> {
        let chosen = self.chosen(asked)?;
        if asked.line >= self.drawing.lines.len() {
            return Err(Refused::NoSuch);
        }
        let found = lieflat_bring::sizes(&self.drawing, self.scale()?, asked.line, &chosen).map_err(refused)?;
        let lines: Vec<_> = found.iter().filter_map(|size| self.drawing.lines.get(size.line)).collect();
        // Sizes are told apart by what differs among them.
        let differ = |of: fn(&lieflat_bring::Line) -> Option<usize>| {
            lines.iter().any(|line| of(line) != lines.first().and_then(|one| of(one)))
        };
        let (by_layer, by_group) = (differ(|line| line.layer), differ(|line| line.group));
        let size = |size: &lieflat_bring::Size| {
            let line = self.drawing.lines.get(size.line)?;
            let layer =
                line.layer.filter(|_| by_layer).and_then(|layer| Some(self.drawing.layers.get(layer)?.name.clone()));
            let group = line.group.filter(|_| by_group).and_then(|group| self.drawing.groups.get(group).cloned());
            let edge = self.edge_shown(&size.edge);
            Some(Size {
                line: size.line,
                name: layer.or(group),
                style: line.style,
                pointed: size.line == asked.line,
                edge,
            })
        };
        Ok(Sizes { sizes: found.iter().filter_map(size).collect() })
    }
}

fn refused(no: NoEdge) -> Refused {
    match no {
        NoEdge::EndsTogether => Refused::EndsTogether,
        NoEdge::OffLine(off_mm) => Refused::OffLine { off_mm },
        NoEdge::NoCentreLine => Refused::NoCentreLine,
        NoEdge::HalfOrWhole => Refused::HalfOrWhole,
        NoEdge::NotMirrored(off_mm) => Refused::NotMirrored { off_mm },
        NoEdge::OverCentre(over_mm) => Refused::OverCentre { over_mm },
        NoEdge::NotCentreToNeck([width_mm, depth_mm]) => Refused::NotCentreToNeck { width_mm, depth_mm },
        NoEdge::NoNeckline(length_mm) => Refused::NoNeckline { length_mm },
    }
}
