//! A curve in millimetres that one can go along by its length.

use kurbo::{ParamCurve, ParamCurveArclen, ParamCurveDeriv, ParamCurveNearest, PathSeg, Point, Vec2};

/// How exactly lengths along a curve are found, mm.
pub(crate) const ACCURACY_MM: f64 = 1e-6;

/// A curve without a break.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    segments: Vec<PathSeg>,
    /// How far along each segment begins, and the whole length.
    begins: Vec<f64>,
    closed: bool,
}

/// One of many places along a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Along {
    /// How far along it is, mm.
    pub(crate) at: f64,
    pub(crate) point: Point,
}

impl Run {
    /// A curve of these segments, each beginning where the one before ends. None where they have no length.
    #[must_use]
    pub fn new(segments: Vec<PathSeg>, closed: bool) -> Option<Self> {
        let segments: Vec<_> = segments.into_iter().filter(|s| s.arclen(ACCURACY_MM) > ACCURACY_MM).collect();
        let mut begins = vec![0.0];
        let mut length = 0.0;
        for segment in &segments {
            length += segment.arclen(ACCURACY_MM);
            begins.push(length);
        }
        (length > 0.0 && length.is_finite()).then_some(Self { segments, begins, closed })
    }

    /// Its segments.
    #[must_use]
    pub fn segments(&self) -> &[PathSeg] {
        &self.segments
    }

    /// Whether it comes back to where it begins.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.closed
    }

    /// Its length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.begins.last().copied().unwrap_or(0.0)
    }

    /// How far along each segment begins, and the whole length, mm.
    pub(crate) fn begins(&self) -> &[f64] {
        &self.begins
    }

    /// A length along it brought within it: round and round where it is closed.
    pub(crate) fn within(&self, at: f64) -> f64 {
        if self.closed { at.rem_euclid(self.length()) } else { at.min(self.length()).max(0.0) }
    }

    /// The segment at a length along it, and where on the segment.
    fn locate(&self, at: f64) -> (usize, f64) {
        let at = at.min(self.length()).max(0.0);
        let after = self.begins.partition_point(|begin| *begin <= at);
        let i = after.saturating_sub(1).min(self.segments.len() - 1);
        let into = at - self.begins[i];
        (i, self.segments[i].inv_arclen(into, ACCURACY_MM))
    }

    /// The place at a length along it.
    #[must_use]
    pub fn point(&self, at: f64) -> Point {
        let (i, t) = self.locate(self.within(at));
        self.segments[i].eval(t)
    }

    /// The way it goes at a length along it, of length 1; ahead of a corner that lies there.
    #[must_use]
    pub fn direction(&self, at: f64) -> Vec2 {
        let (i, t) = self.locate(self.within(at));
        unit(tangent(&self.segments[i], t))
    }

    /// How far along it the place nearest to a point is, and how far that is off.
    #[must_use]
    pub fn nearest(&self, to: Point) -> (f64, f64) {
        let mut best = (0.0, f64::INFINITY);
        for (segment, begin) in self.segments.iter().zip(&self.begins) {
            let found = segment.nearest(to, ACCURACY_MM);
            if found.distance_sq < best.1 {
                let into = segment.subsegment(0.0..found.t).arclen(ACCURACY_MM);
                best = (begin + into, found.distance_sq);
            }
        }
        (best.0, best.1.sqrt())
    }

    /// The segments between two lengths along it, cut exactly; of a closed one on over its beginning where `to` is less.
    #[must_use]
    pub fn part(&self, from: f64, to: f64) -> Vec<PathSeg> {
        if to < from {
            let mut whole = self.part(from, self.length());
            whole.extend(self.part(0.0, to));
            return whole;
        }
        let ((first, t0), (last, t1)) = (self.locate(from), self.locate(to));
        let mut part = Vec::new();
        for (i, segment) in self.segments.iter().enumerate().take(last + 1).skip(first) {
            let start = if i == first { t0 } else { 0.0 };
            let end = if i == last { t1 } else { 1.0 };
            let whole = start <= 0.0 && end >= 1.0;
            let cut = if whole { *segment } else { segment.subsegment(start..end) };
            if end > start && cut.arclen(ACCURACY_MM) > ACCURACY_MM {
                part.push(cut);
            }
        }
        part
    }

    /// Places along it, about so far apart, each segment's ends among them.
    pub(crate) fn places(&self, step: f64) -> Vec<Along> {
        let mut places = Vec::new();
        for (segment, pair) in self.segments.iter().zip(self.begins.windows(2)) {
            let [begin, end] = [pair[0], pair[1]];
            let count = ((end - begin) / step).ceil().clamp(1.0, 1e5);
            let mut i = 0.0;
            // Even by length on lines; on a curve even enough for how finely it is cut.
            while i < count {
                let t = i / count;
                let at = match segment {
                    PathSeg::Line(_) => begin + (end - begin) * t,
                    _ => begin + segment.subsegment(0.0..t).arclen(1e-3),
                };
                places.push(Along { at, point: segment.eval(t) });
                i += 1.0;
            }
        }
        if let Some(last) = self.segments.last() {
            places.push(Along { at: self.length(), point: last.end() });
        }
        places
    }
}

/// The way a segment goes at `t`, by its handles where it stands still there.
pub(crate) fn tangent(segment: &PathSeg, t: f64) -> Vec2 {
    let cubic = segment.to_cubic();
    let straight = cubic.deriv().eval(t).to_vec2();
    if straight.hypot() > 1e-9 * cubic.p0.distance(cubic.p3).max(1e-9) {
        return straight;
    }
    let near = if t < 0.5 { (t, t + 1e-3) } else { (t - 1e-3, t) };
    segment.eval(near.1) - segment.eval(near.0)
}

/// A direction of length 1; nothing stays nothing.
pub(crate) fn unit(v: Vec2) -> Vec2 {
    let length = v.hypot();
    if length > 0.0 { v / length } else { Vec2::ZERO }
}

/// The angle between two directions, degrees, 0 to 180.
pub(crate) fn turn_deg(before: Vec2, after: Vec2) -> f64 {
    before.cross(after).atan2(before.dot(after)).abs().to_degrees()
}
