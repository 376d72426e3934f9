//! Which parts of a strip lie flat, ripple or stand up, from place to place.

use super::lie::{Here, Lie, Lobe};

/// A pressed part shorter than so many times [`Laid::standing`] stands up as a whole: turning is concentrated there. Ovals of
/// 75 by 45 mm, which stand, have 4 to 6, rings, which ripple, 20 and more; between them our judgement.
const SHORT: f64 = 10.0;

/// Within a longer part it stands up where the line bends so much more than the part does in the mean. Our judgement.
const SHARPER: f64 = 1.3;

/// How far from its peak a part stands, in [`Laid::standing`].
const STANDS_WITHIN: f64 = 3.0;

/// How a strip lies at each of these places, which go from centre back to centre front, `length` mm in all; it goes on mirrored
/// beyond both.
pub(crate) fn lies(places: &[Here], length: f64) -> Vec<Lie> {
    let mut lies = vec![Lie::Flat; places.len()];
    let mut from = 0;
    while from < places.len() {
        let pressed = places.iter().skip(from).take_while(|here| here.is_pressed()).count();
        if let (Some(part), Some(told)) = (places.get(from..from + pressed), lies.get_mut(from..from + pressed)) {
            Part::new(part, length).tell(told);
        }
        from += pressed.max(1);
    }
    lies
}

/// A part all along which the free edge is pressed past what it takes flat.
struct Part<'a> {
    places: &'a [Here],
    /// Where it stands up most.
    peaks: Vec<&'a Here>,
    is_short: bool,
}

impl<'a> Part<'a> {
    fn new(places: &'a [Here], length: f64) -> Self {
        let (Some(first), Some(last)) = (places.first(), places.last()) else {
            return Self { places, peaks: Vec::new(), is_short: false };
        };
        // A part at a centre goes on on the other side.
        let centres = [first.s <= 0.0, last.s >= length].into_iter().filter(|at| *at).count();
        let is_whole = centres == 2;
        let whole = (last.s - first.s) * if centres == 1 { 2.0 } else { 1.0 };
        let standing = places.iter().map(|here| here.laid.standing()).fold(f64::INFINITY, f64::min);
        let is_short = !is_whole && whole < SHORT * standing;
        let peaks = if is_short { most(places, Here::lean) } else { sharper(places) };
        Self { places, peaks, is_short }
    }

    fn tell(&self, lies: &mut [Lie]) {
        for (lie, here) in lies.iter_mut().zip(self.places) {
            *lie = self.lie(here);
        }
    }

    fn lie(&self, here: &Here) -> Lie {
        let lobes = self.peaks.iter().map(|peak| Lobe::new(**peak, here.s));
        let near = |lobe: &Lobe| self.is_short || lobe.off <= STANDS_WITHIN * lobe.peak.laid.standing();
        if let Some(lobe) = lobes.filter(near).max_by(|a, b| a.lean.total_cmp(&b.lean)) {
            return Lie::Stands(lobe);
        }
        if here.laid.stands_as_cone(here.bend) && here.laid.lean(here.bend) > 0.0 {
            return Lie::Stands(Lobe::new(*here, here.s));
        }
        Lie::Ripples(here.crest())
    }
}

/// The place of a part at which it stands up most.
fn most(places: &[Here], of: impl Fn(&Here) -> f64) -> Vec<&Here> {
    places.iter().max_by(|a, b| of(a).total_cmp(&of(b))).into_iter().collect()
}

/// Where a part bends most, and so much more than in the mean that it stands up there.
fn sharper(places: &[Here]) -> Vec<&Here> {
    let mean = places.iter().map(|here| here.bend).sum::<f64>() / places.len() as f64;
    let at = |i: Option<usize>| i.and_then(|i| places.get(i)).map_or(f64::NEG_INFINITY, |here| here.bend);
    let is_peak = |i: usize, here: &Here| here.bend >= at(i.checked_sub(1)) && here.bend > at(Some(i + 1));
    let peaks = places.iter().enumerate().filter(|(i, here)| is_peak(*i, here) && here.bend > SHARPER * mean);
    peaks.map(|(_, here)| here).filter(|here| here.laid.lean(here.bend) > 0.0).collect()
}

#[cfg(test)]
mod tests {
    //! Held to a thin shell in three dimensions (cubic splines, stability by its Hessian; worked out apart from this project): seam
    //! held in the plane, a layer 0.8 mm thick.

    use kurbo::CubicBez;

    use crate::curve::Arc;
    use crate::ring::Ring;
    use crate::seam_line::Line;
    use crate::strip::along::Strip;
    use crate::strip::lie::Lie;
    use crate::strip::marking::Marked;
    use crate::strip::rule::StripGiven;
    use crate::strip::spans::{AsSewn, bends};
    use crate::strip::spread::{Places, Sharing, Spread};

    /// How a band of this ratio lies at shares of the half round of an ellipse from its end at centre back on; `across` is half its
    /// width, `along` half its length from back to front. mm
    fn lies(along: f64, across: f64, width: f64, ratio: f64, shares: &[f64]) -> Vec<Lie> {
        let k = 0.552_284_749_830_793_5;
        let quarter = CubicBez::new((0.0, along), (k * across, along), (across, k * along), (across, 0.0));
        let line = Line::as_known(&[Arc::new(quarter)], 0.0);
        let ring = Ring::new(&line, &line);
        let given = StripGiven::band(width, 0.6, Some(ratio));
        let strip = Strip::new(&ring, given);
        let places = Places::new(&ring);
        let sharing = Sharing::new(&ring, &given, &places);
        let spread = Spread::new(&ring, &strip, &sharing);
        let marked = Marked::new(&ring, &strip, &spread);
        let evenly = marked.evenly();
        let sewn = AsSewn::new(&ring, &bends(&ring, &given, &places), &marked, &evenly);
        let near = |share: f64| {
            let s = share * ring.length;
            let places = places.all.iter().enumerate();
            places.min_by(|a, b| (a.1 - s).abs().total_cmp(&(b.1 - s).abs())).map(|(i, _)| i).expect("places")
        };
        shares.iter().map(|share| sewn.lies[near(*share)]).collect()
    }

    fn degrees(lie: Lie) -> f64 {
        match lie {
            Lie::Stands(lobe) => lobe.lean.to_degrees(),
            _ => 0.0,
        }
    }

    /// A ring of a radius ripples all round, its crest within 35 percent. mm
    fn ripples(radius: f64, width: f64, ratio: f64, crest: f64) {
        for lie in lies(radius, radius, width, ratio, &[0.0, 0.3, 1.0]) {
            let Lie::Ripples(got) = lie else { panic!("{width} mm at {ratio} ripples: {lie:?}") };
            assert!((got / crest - 1.0).abs() < 0.35, "{width} mm at {ratio}: {got} and not {crest} mm");
        }
    }

    /// An oval's strip leans so, within 10 degrees, at its sharp end, and a sixteenth and an eighth of the round from it.
    fn stands([along, across]: [f64; 2], width: f64, ratio: f64, leans: &[f64]) {
        for (lie, lean) in lies(along, across, width, ratio, &[0.0, 0.125, 0.25]).into_iter().zip(leans) {
            let got = degrees(lie);
            // A lean under 0 is to the other side; here it is told how far from the plane.
            assert!((got - lean.abs()).abs() < 10.0, "{width} mm at {ratio}: {got} and not {lean} degrees");
        }
    }

    #[test]
    fn rings_ripple_as_a_shell_does() {
        for (width, ratio, crest) in [(15.0, 0.851, 2.4), (15.0, 0.889, 4.9), (20.0, 0.815, 5.0), (30.0, 0.638, 2.4)] {
            ripples(75.0, width, ratio, crest);
        }
        for lie in lies(75.0, 75.0, 20.0, 0.756, &[0.0, 0.5]) {
            assert_eq!(lie, Lie::Flat, "pressed by 3 percent a band of 20 mm stays flat");
        }
    }

    #[test]
    fn a_ring_hardly_stretched_stands_as_a_cone() {
        let lean = degrees(lies(75.0, 75.0, 10.0, 0.963, &[0.5])[0]);
        assert!((lean - 67.0).abs() < 10.0, "{lean} degrees");
    }

    #[test]
    fn ovals_stand_at_their_sharp_ends_alone() {
        for (width, ratio, leans) in
            [(20.0, 0.746, [45.0, 15.0, 0.0]), (15.0, 0.838, [56.0, 22.0, -3.0]), (10.0, 0.929, [75.0, 45.0, -9.0])]
        {
            stands([75.0, 45.0], width, ratio, &leans);
        }
    }

    /// Rings and ovals of other sizes, by another thin shell: worked out by `tests/reference/stands.sh`.
    #[test]
    fn other_rings_and_ovals_lie_as_a_second_shell_has_them() {
        ripples(60.0, 12.0, 0.870, 2.7);
        ripples(100.0, 25.0, 0.806, 3.5);
        let lean = degrees(lies(100.0, 100.0, 10.0, 0.97, &[0.5])[0]);
        assert!((lean - 64.0).abs() < 10.0, "as a cone: {lean} degrees");
        // Its sharp end alone: away from it the shell is down sooner than the core.
        stands([90.0, 50.0], 10.0, 0.9, &[62.0]);
    }
}
