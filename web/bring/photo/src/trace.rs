//! The half neckline between two ends: way, places, curve, figures.

use kurbo::{CubicBez, ParamCurve, ParamCurveArclen, ParamCurveDeriv, Point, Vec2};

use crate::fit::{Along, Even, between, blurred_mm, corners, cubics, even};
use crate::follow::{Station, follow};
use crate::grey::at_share;
use crate::messages::{Doubt, Edge, Place, Refused, Trace};
use crate::range::{Seen, parts};
use crate::sheet::Sheet;
use crate::sides::{Straight, side};
use crate::way::way;
use crate::{Photo, place, point};

/// The least contrast that figures are given from, grey levels: with less, printed lines and shadows are followed in the edge's
/// stead.
pub const LEAST_CONTRAST: f64 = 30.0;
/// Contrast from which none is lacking, grey levels. Our judgement.
const ENOUGH_CONTRAST: f64 = 60.0;
/// Ends nearer each other than this are no neckline, mm. Our judgement.
pub const LEAST_APART_MM: f64 = 20.0;
/// The least that a neckline is wide and deep, mm: as a drawn outline may be.
const LEAST_WIDE_DEEP_MM: [f64; 2] = [10.0, 1.0];
/// The place down the centre line is at least so far from its end, mm: nearer, a pixel turns it by a third of a degree.
pub const LEAST_DOWN_MM: f64 = 30.0;
/// An end beside the line by more is told of, and by yet more refused, mm. Our judgement.
const BESIDE_MM: [f64; 2] = [1.5, 4.0];
/// The longest stretch that may be carried on over unseen, mm, and the share of the way. Our judgement.
const MOST_GAP_MM: f64 = 15.0;
const MOST_UNSEEN: f64 = 0.25;
/// Stretches from this are told of, mm.
const TOLD_GAP_MM: f64 = 4.0;
/// The most places to go through.
pub const MOST_VIA: usize = 20;
/// A printed line's width as a standard deviation, mm: half a millimetre wide.
const LINE_MM: f64 = 0.2;
/// At the ends other edges come in across: so much of the line is left out there, mm and px.
const END_MM: f64 = 1.2;
const END_PX: f64 = 5.0;
/// How far beside the two places on the centre line an edge or a line is taken for it, px.
const FOLD_PX: f64 = 4.0;
/// The most cubics of a drawn outline, as the core takes it.
const MOST_CUBICS: usize = 200;
/// How far apart smooth places are, mm.
const EVEN_MM: f64 = 1.0;

/// The edge between two ends.
///
/// # Errors
/// Why there is none.
pub(crate) fn trace(photo: &Photo, sheet: &Sheet, asked: &Trace) -> Result<Edge, Refused> {
    let ends = asked.ends.map(point);
    let down = point(asked.down);
    let via: Vec<Point> = asked.via.iter().map(|p| point(*p)).collect();
    check_places(photo, sheet, ends, down, &via)?;
    let plane = &sheet.plane;
    let mm_per_px = plane.mm_per_px(ends[0].midpoint(ends[1]));

    let mut through = vec![ends[0]];
    through.extend(via);
    through.push(ends[1]);
    let rough = way(&photo.grey, &through, asked.edge, mm_per_px);
    let stations = follow(&photo.grey, &rough, asked.edge, 9.0, LINE_MM / mm_per_px);
    let lost = |at: Place| Refused::EdgeLost { at, gap_mm: 0.0, unseen_percent: 100.0 };
    let line = Followed::new(sheet, &stations, mm_per_px).ok_or_else(|| lost(asked.ends[0]))?;
    let contrast = line.contrast();
    if contrast < LEAST_CONTRAST {
        return Err(Refused::TooFaint { contrast_levels: contrast, least_levels: LEAST_CONTRAST });
    }
    let gap = line.gap();
    let unseen = line.unseen();
    if gap.0 > MOST_GAP_MM || unseen > MOST_UNSEEN {
        return Err(Refused::EdgeLost { at: place(gap.1), gap_mm: gap.0, unseen_percent: unseen * 100.0 });
    }
    let curve = line.curve(ends.map(|p| plane.mm(p))).ok_or_else(|| lost(asked.ends[0]))?;
    let beside = curve.beside_mm;
    for (off, at) in beside.iter().zip(asked.ends) {
        if *off > BESIDE_MM[1] {
            return Err(Refused::EndOff { at, off_mm: *off, most_mm: BESIDE_MM[1] });
        }
    }

    let frame = Frame::new(curve.cubics[0].p0, curve.end(), fold(photo, sheet, ends[1], down));
    let (width_mm, depth_mm) = frame.checked()?;
    let cubics: Vec<CubicBez> = curve.cubics.iter().map(|c| frame.of(*c)).collect();
    if cubics.len() > MOST_CUBICS || crosses(&cubics) {
        return Err(Refused::LineCrosses);
    }
    let over: Vec<Point> = samples(&curve.cubics).into_iter().map(|p| plane.px(p)).collect();
    let length_mm: f64 = cubics.iter().map(|c| c.arclen(1e-6)).sum();
    let seen = Seen { over: &over, turn: turn(&cubics), contrast, length_mm, mm_per_px, gap_mm: gap.0 };
    let parts = parts(sheet, &seen);

    let mut doubts = sheet.doubts.clone();
    let mut doubt = |is: bool, what: Doubt| doubts.extend(is.then_some(what));
    doubt(contrast < ENOUGH_CONTRAST, Doubt::Faint);
    doubt(sheet.is_far(&over), Doubt::RectangleFar);
    doubt(beside.iter().any(|off| *off > BESIDE_MM[0]), Doubt::EndBesideLine);
    doubt(gap.0 > TOLD_GAP_MM, Doubt::Gaps);
    Ok(Edge {
        path_mm: path_text(&cubics),
        length_mm,
        width_mm,
        depth_mm,
        uncertainty_mm: parts.both_sides_mm(),
        parts,
        over_photo: over.into_iter().map(place).collect(),
        contrast_levels: contrast,
        doubts,
    })
}

/// Whether the places can be a half neckline's at all.
fn check_places(photo: &Photo, sheet: &Sheet, ends: [Point; 2], down: Point, via: &[Point]) -> Result<(), Refused> {
    if via.len() > MOST_VIA {
        return Err(Refused::TooManyVia { most: MOST_VIA });
    }
    let told: [(&'static str, &[Point]); 3] = [("ends", &ends), ("down", &[down]), ("via", via)];
    for (what, points) in told {
        // Beyond the plane's horizon nothing is in mm.
        let on_plane = |p: &Point| photo.grey.holds(*p) && sheet.sees(*p);
        if !points.iter().all(on_plane) {
            return Err(Refused::PlaceOutside { what });
        }
    }
    let [neck, centre] = ends.map(|p| sheet.plane.mm(p));
    let apart_mm = neck.distance(centre);
    if apart_mm < LEAST_APART_MM {
        return Err(Refused::EndsNear { apart_mm, least_mm: LEAST_APART_MM });
    }
    let apart_mm = centre.distance(sheet.plane.mm(down));
    if apart_mm < LEAST_DOWN_MM {
        return Err(Refused::DownNear { apart_mm, least_mm: LEAST_DOWN_MM });
    }
    Frame::new(neck, centre, sheet.plane.mm(down) - centre).checked().map(|_| ())
}

/// Which way the centre line runs, mm in the plane: that of the edge or printed line that is seen there, and else that of the two
/// places.
fn fold(photo: &Photo, sheet: &Sheet, centre: Point, down: Point) -> Vec2 {
    let plane = &sheet.plane;
    let told = plane.mm(down) - plane.mm(centre);
    let seen = side(&photo.grey, centre, down, FOLD_PX, LINE_MM / plane.mm_per_px(centre));
    let points: Vec<Point> = seen.points.iter().map(|p| plane.mm(*p)).collect();
    match Straight::through(&points).filter(|_| seen.seen) {
        Some(line) if line.along.dot(told) < 0.0 => -line.along,
        Some(line) => line.along,
        None => told,
    }
}

/// The brief's frame: x from the centre line toward the neck point, y down from the neck point.
#[derive(Debug, Clone, Copy)]
struct Frame {
    neck: Point,
    centre: Point,
    across: Vec2,
    down: Vec2,
}

impl Frame {
    fn new(neck: Point, centre: Point, down: Vec2) -> Self {
        let down = down / down.hypot();
        let right = Vec2::new(-down.y, down.x);
        let across = if right.dot(neck - centre) < 0.0 { -right } else { right };
        Self { neck, centre, across, down }
    }

    fn point(&self, p: Point) -> Point {
        Point::new((p - self.centre).dot(self.across), (p - self.neck).dot(self.down))
    }

    fn of(&self, c: CubicBez) -> CubicBez {
        CubicBez::new(self.point(c.p0), self.point(c.p1), self.point(c.p2), self.point(c.p3))
    }

    /// Width and depth, where the neck point is beside the centre line and above its end.
    fn checked(&self) -> Result<(f64, f64), Refused> {
        let (width_mm, depth_mm) = (self.point(self.neck).x, self.point(self.centre).y);
        let [wide, deep] = LEAST_WIDE_DEEP_MM;
        if width_mm >= wide && depth_mm >= deep {
            Ok((width_mm, depth_mm))
        } else {
            Err(Refused::NotCentreToNeck { width_mm, depth_mm })
        }
    }
}

/// The line as it was followed, in mm.
struct Followed<'a> {
    stations: &'a [Station],
    /// Each station: how far along, and where.
    all: Vec<Along>,
    /// Those that are seen and clear of the ends.
    seen: Vec<Along>,
    /// How much is left out at each end, mm.
    end_mm: f64,
    /// How far places are blurred beside a corner, mm.
    blurred_mm: f64,
}

impl<'a> Followed<'a> {
    fn new(sheet: &Sheet, stations: &'a [Station], mm_per_px: f64) -> Option<Self> {
        let mut far = 0.0;
        let mut all: Vec<Along> = Vec::with_capacity(stations.len());
        for station in stations {
            let at = sheet.plane.mm(station.at);
            if !at.is_finite() {
                return None;
            }
            far += all.last().map_or(0.0, |last: &Along| last.at.distance(at));
            all.push(Along { far, at });
        }
        let end_mm = END_MM.max(END_PX * mm_per_px);
        let clear = end_mm..=far - end_mm;
        let seen: Vec<Along> = all
            .iter()
            .zip(stations)
            .filter(|(one, s)| s.seen && clear.contains(&one.far))
            .map(|(one, _)| *one)
            .collect();
        (seen.len() >= 12).then_some(Self { stations, all, seen, end_mm, blurred_mm: blurred_mm(mm_per_px) })
    }

    /// The contrast in the middle of all that are clear of the ends, grey levels.
    fn contrast(&self) -> f64 {
        let last = self.all.last().map_or(0.0, |one| one.far);
        let clear =
            self.all.iter().zip(self.stations).filter(|(one, _)| (self.end_mm..=last - self.end_mm).contains(&one.far));
        at_share(clear.map(|(_, station)| station.contrast).collect(), 0.5)
    }

    /// The longest stretch between two places that are seen, mm, and the place in its middle, px.
    fn gap(&self) -> (f64, Point) {
        let whole = [self.all.first(), self.all.last()].map(|one| one.map_or(0.0, |one| one.far));
        let mut fars = vec![whole[0] + self.end_mm];
        fars.extend(self.seen.iter().map(|one| one.far));
        fars.push(whole[1] - self.end_mm);
        let mut best = (0.0, 0.0);
        for pair in fars.windows(2) {
            if pair[1] - pair[0] > best.0 {
                best = (pair[1] - pair[0], (pair[0] + pair[1]) / 2.0);
            }
        }
        let middle = self.all.iter().zip(self.stations).find(|(one, _)| one.far >= best.1);
        (best.0, middle.map_or(Point::ORIGIN, |(_, station)| station.at))
    }

    /// Which share of the way is not seen.
    fn unseen(&self) -> f64 {
        let unseen = self.stations.iter().filter(|station| !station.seen).count();
        unseen as f64 / self.stations.len() as f64
    }

    /// Smooth cubics from the neck point to the centre line. Each end is where the line comes nearest to the end given.
    fn curve(&self, ends: [Point; 2]) -> Option<Curve> {
        let last = self.all.last()?.far;
        let turns = corners(&self.seen, self.blurred_mm);
        let mut stops = vec![None];
        stops.extend(turns.iter().copied().map(Some));
        stops.push(None);
        let mut out = Vec::new();
        let mut beside_mm = [0.0; 2];
        for (index, pair) in stops.windows(2).enumerate() {
            let from = pair[0].map_or(0.0, |corner| corner.far + self.blurred_mm);
            let to = pair[1].map_or(last, |corner| corner.far - self.blurred_mm);
            let part = between(&self.seen, from, to);
            let start = nearest(&part, pair[0].map_or(ends[0], |corner| corner.at), from)?;
            let end = nearest(&part, pair[1].map_or(ends[1], |corner| corner.at), to)?;
            let mut evens = evens(&part, start.far, end.far)?;
            let count = evens.len();
            if index == 0 {
                beside_mm[0] = evens[0].at.distance(ends[0]);
            }
            if index + 2 == stops.len() {
                beside_mm[1] = evens[count - 1].at.distance(ends[1]);
            }
            // Two runs meet at their corner, where their lines cross.
            for (at, corner) in [(0, pair[0]), (count - 1, pair[1])] {
                if let Some(corner) = corner {
                    evens[at].at = corner.at;
                }
            }
            out.extend(cubics(&evens));
        }
        out.retain(|c| c.p0.distance(c.p3) > 1e-3);
        (!out.is_empty()).then_some(Curve { cubics: out, beside_mm })
    }
}

/// Where the smooth line comes nearest to a place, near how far along it is thought to be.
fn nearest(part: &[Along], to: Point, far: f64) -> Option<Along> {
    let mut at = far;
    for _ in 0..8 {
        let here = even(part, at)?;
        let onward = (to - here.at).dot(here.run);
        at += onward.clamp(-3.0, 3.0);
    }
    let here = even(part, at)?;
    ((at - far).abs() <= 12.0).then_some(Along { far: at, at: here.at })
}

/// Smooth places from one far along to another.
fn evens(part: &[Along], from: f64, to: f64) -> Option<Vec<Even>> {
    let count = crate::grey::whole(((to - from) / EVEN_MM).ceil()).clamp(0, 4000);
    if count < 1 {
        return None;
    }
    (0..=count).map(|index| even(part, from + (to - from) * f64::from(index) / f64::from(count))).collect()
}

/// The curve from the neck point to the centre line, mm in the plane, and how far its ends are beside those given.
struct Curve {
    cubics: Vec<CubicBez>,
    beside_mm: [f64; 2],
}

impl Curve {
    fn end(&self) -> Point {
        self.cubics.last().map_or(Point::ORIGIN, |c| c.p3)
    }
}

/// Places along cubics, about a millimetre and a half apart.
fn samples(cubics: &[CubicBez]) -> Vec<Point> {
    let mut out: Vec<Point> = cubics.first().map(|c| c.p0).into_iter().collect();
    for c in cubics {
        let count = crate::grey::whole((c.p0.distance(c.p3) / 1.5).ceil()).clamp(1, 400);
        out.extend((1..=count).map(|index| c.eval(f64::from(index) / f64::from(count))));
    }
    out
}

/// How much the line turns in all, radians.
fn turn(cubics: &[CubicBez]) -> f64 {
    let mut runs = Vec::new();
    for c in cubics {
        let speed = c.deriv();
        runs.extend((0..=8).map(|index| speed.eval(f64::from(index) / 8.0).to_vec2()));
    }
    runs.windows(2).map(|pair| pair[0].cross(pair[1]).atan2(pair[0].dot(pair[1])).abs()).sum()
}

/// Whether the line crosses itself, or the centre line by half a millimetre.
fn crosses(cubics: &[CubicBez]) -> bool {
    let points = samples(cubics);
    if points.iter().any(|p| p.x < -0.5) {
        return true;
    }
    let pieces: Vec<(Point, Point)> = points.windows(2).map(|pair| (pair[0], pair[1])).collect();
    let apart = |(a, b): (Point, Point), c: Point, d: Point| (b - a).cross(c - a) * (b - a).cross(d - a) < 0.0;
    let cross = |one: (Point, Point), other: (Point, Point)| apart(one, other.0, other.1) && apart(other, one.0, one.1);
    pieces.iter().enumerate().any(|(index, one)| pieces.iter().skip(index + 2).any(|other| cross(*one, *other)))
}

/// The path's text, from the centre line to the neck point, to a thousandth of a millimetre.
fn path_text(cubics: &[CubicBez]) -> String {
    let mut out = String::from("M");
    let last = cubics.last().map_or(Point::ORIGIN, |c| c.p3);
    write_point(&mut out, Point::new(0.0, last.y));
    for c in cubics.iter().rev() {
        out.push_str(" C");
        for (index, p) in [c.p2, c.p1, c.p0].into_iter().enumerate() {
            if index > 0 {
                out.push(' ');
            }
            write_point(&mut out, p);
        }
    }
    out
}

fn write_point(out: &mut String, p: Point) {
    write_number(out, p.x);
    out.push(',');
    write_number(out, p.y);
}

/// A number to three decimals, without what weighs: the means to write any.
fn write_number(out: &mut String, v: f64) {
    let thousandths = crate::grey::whole((v * 1000.0).round());
    if thousandths < 0 {
        out.push('-');
    }
    let size = thousandths.unsigned_abs();
    out.push_str(&(size / 1000).to_string());
    let mut rest = size % 1000;
    if rest > 0 {
        out.push('.');
        for place in [100, 10, 1] {
            if rest > 0 {
                out.push(char::from(b'0' + u8::try_from(rest / place).unwrap_or(0)));
                rest %= place;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::write_number;

    #[test]
    fn numbers_are_written_to_a_thousandth() {
        for (v, text) in
            [(0.0, "0"), (-1.5, "-1.5"), (12.0305, "12.031"), (0.02, "0.02"), (-0.0004, "0"), (100.0, "100")]
        {
            let mut out = String::new();
            write_number(&mut out, v);
            assert_eq!(out, text, "{v}");
        }
    }
}
