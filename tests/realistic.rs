//! Random briefs as people write them: necklines that are worn, knits that are sold, finishes that are sewn, readings in
//! whole millimetres or eighths of an inch. All invented. For properties that ordinary necklines must have; briefs at
//! the edges of what is accepted are those of `checks/properties.rs`.
//!
//! The ranges are our judgement of what is common, no published source.

use lieflat::Brief;
use lieflat::brief::{
    AdultGroup, Band, Bound, Centre, ChildGroup, Direction, Drafted, Drawn, Facing, Finish, Half, Head, HeadGirth,
    Knit, Layers, Measured, Outline, PatternAsks, PointFinish, ReadingsAt, Rounding, Shape, ShapeKind, Stitch, Stretch,
    Tape,
};

/// An eighth of an inch, mm.
const EIGHTH_INCH_MM: f64 = 3.175;

/// So many random realistic briefs; the same ones for the same seed, whatever the count. A few of them are refused, as
/// a few of those that people write are (an allowance too wide for a tight curve). [`brief`] is one of them alone.
pub fn briefs(count: u32, seed: u64) -> impl Iterator<Item = Brief> {
    (0..count).map(move |i| brief(seed, i))
}

/// The random realistic brief of this number, to look at one of [`briefs`] alone.
#[must_use]
pub fn brief(seed: u64, number: u32) -> Brief {
    let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ (u64::from(number) << 20));
    let mut brief = write(&mut dice);
    brief.title = Some(format!("Invented: random neckline {number} of seed {seed}"));
    brief
}

/// A row of random numbers: `SplitMix64` (Steele, Lea and Flood 2014), enough for picking test cases.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Evenly from 0 to 1.
    pub(crate) fn share(&mut self) -> f64 {
        // The upper 32 bits are plenty and fit a float exactly.
        f64::from(u32::try_from(self.next() >> 32).unwrap_or(0)) / f64::from(u32::MAX)
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.share() * (high - low)
    }

    /// In whole numbers, as people write percentages.
    pub(crate) fn whole(&mut self, low: f64, high: f64) -> f64 {
        self.between(low, high).round()
    }

    /// One time out of so many.
    pub(crate) fn one_in(&mut self, times: f64) -> bool {
        self.share() * times < 1.0
    }

    pub(crate) fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        let most = from.len().saturating_sub(1);
        // A share is at most 1, and lists here are short.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)]
        let i = (self.share() * from.len() as f64) as usize;
        from[i.min(most)]
    }
}

/// How a person reads lengths.
#[derive(Clone, Copy)]
struct Ruler {
    inches: bool,
}

impl Ruler {
    /// A length as it is read, mm.
    fn read(self, mm: f64) -> f64 {
        let step = if self.inches { EIGHTH_INCH_MM } else { 1.0 };
        // To a thousandth, as a brief carries it.
        ((mm / step).round().max(1.0) * step * 1000.0).round() / 1000.0
    }
}

/// Who wears it: the head, and the neckline's size beside a woman's.
fn wearer(dice: &mut Dice, ruler: Ruler) -> (HeadGirth, f64) {
    let (girth, mean, size) = match dice.pick(&[0, 1, 2, 3]) {
        0 | 1 => (HeadGirth::Adult(AdultGroup::Women), 561.0, dice.between(0.92, 1.1)),
        2 => (HeadGirth::Adult(AdultGroup::Men), 574.0, dice.between(0.96, 1.15)),
        _ => {
            let age_months = dice.whole(0.0, 60.0);
            let group = dice.pick(&[ChildGroup::Girls, ChildGroup::Boys]);
            // WHO medians run from about 340 to 500 mm over these ages, fast at first; necklines follow.
            let mean = 340.0 + 160.0 * (age_months / 60.0).powf(0.4);
            (HeadGirth::Child { group, age_months }, mean, mean / 590.0)
        }
    };
    let own = HeadGirth::OwnMm(ruler.read(dice.between(0.96, 1.05) * mean));
    (if dice.one_in(3.0) { own } else { girth }, size)
}

/// A shape that is worn, with half width and depth of front and back for a woman, mm.
fn outlines(dice: &mut Dice, ruler: Ruler, size: f64) -> [Outline; 2] {
    let kinds = ["crew", "v", "scoop", "boat", "square", "sweetheart"];
    let kind = dice.pick(&kinds);
    let (width, depth, back) = match kind {
        "crew" => ((75.0, 95.0), (70.0, 115.0), (15.0, 35.0)),
        "v" => ((75.0, 105.0), (130.0, 230.0), (15.0, 40.0)),
        "scoop" => ((85.0, 120.0), (120.0, 200.0), (25.0, 120.0)),
        "boat" => ((110.0, 145.0), (30.0, 70.0), (15.0, 45.0)),
        "square" => ((85.0, 115.0), (90.0, 170.0), (20.0, 90.0)),
        _ => ((85.0, 110.0), (100.0, 150.0), (25.0, 70.0)),
    };
    let mut length = |(low, high): (f64, f64)| ruler.read(size * dice.between(low, high));
    let (width, depth, back) = (length(width), length(depth), length(back));
    let plain = |dice: &mut Dice, kind, low, high| {
        let roundness_percent = dice.one_in(3.0).then(|| dice.whole(low, high));
        Shape { roundness_percent, ..Shape::plain(kind) }
    };
    let square = |dice: &mut Dice| {
        let corner_radius_mm = dice.one_in(2.0).then(|| ruler.read(dice.between(3.0, 35.0)).min(back.min(width)));
        Shape { corner_radius_mm, ..Shape::plain(ShapeKind::Square) }
    };
    let drafted = |half_width_mm, depth_mm, shape| Outline::Drafted(Drafted { half_width_mm, depth_mm, shape });
    let front = match kind {
        "crew" => drafted(width, depth, plain(dice, ShapeKind::Round, 48.0, 66.0)),
        "v" => {
            let leg_hollow_percent = dice.one_in(3.0).then(|| dice.whole(-3.0, 5.0));
            drafted(width, depth, Shape { leg_hollow_percent, ..Shape::plain(ShapeKind::V) })
        }
        "scoop" => drafted(width, depth, plain(dice, ShapeKind::Scoop, 58.0, 80.0)),
        "boat" => drafted(width, depth, plain(dice, ShapeKind::Boat, 50.0, 75.0)),
        "square" => drafted(width, depth, square(dice)),
        _ => sweetheart(width, depth),
    };
    let back = match kind {
        "boat" => drafted(width, back, plain(dice, ShapeKind::Boat, 50.0, 75.0)),
        "square" if dice.one_in(2.0) => drafted(width, back, square(dice)),
        "v" if dice.one_in(6.0) => drafted(width, ruler.read(2.5 * back), Shape::plain(ShapeKind::V)),
        _ => drafted(width, back, plain(dice, ShapeKind::Round, 48.0, 66.0)),
    };
    [front, back]
}

/// A sweetheart of this half width and depth at its centre, its lobe a quarter deeper.
fn sweetheart(width: f64, depth: f64) -> Outline {
    let (x, y) = (|share: f64| share * width, |share: f64| share * depth);
    let path_mm = format!(
        "M 0 {depth} C {:.1} {:.1} {:.1} {:.1} {:.1} {:.1} C {:.1} {:.1} {width} {:.1} {width} 0",
        x(0.26),
        y(1.25),
        x(0.63),
        y(1.25),
        x(0.86),
        y(0.92),
        x(0.97),
        y(0.75),
        y(0.33),
    );
    Outline::Drawn(Drawn { path_mm, uncertainty_mm: None })
}

/// The same half told by tape readings: length and depth or width, as read.
fn measured(dice: &mut Dice, ruler: Ruler, length_mm: f64, draft: &Drafted) -> Outline {
    let by_depth = dice.one_in(2.0);
    Outline::Measured(Measured {
        half_length_mm: ruler.read(length_mm),
        half_width_mm: (!by_depth).then_some(draft.half_width_mm),
        depth_mm: by_depth.then_some(draft.depth_mm),
        shape: draft.shape.clone(),
    })
}

/// A name, and three ranges.
type Cloth = (&'static str, (f64, f64), (f64, f64), (f64, f64));

/// What people call a knit, with how it stretches (percent), how much of that runs lengthwise, and how thick it is (mm).
const KNITS: [Cloth; 4] = [
    ("jersey", (25.0, 75.0), (0.3, 0.9), (0.5, 0.9)),
    ("rib", (60.0, 120.0), (0.15, 0.4), (0.8, 1.4)),
    ("sweater knit", (30.0, 80.0), (0.3, 0.8), (1.5, 3.0)),
    ("ponte", (15.0, 35.0), (0.5, 0.9), (0.9, 1.3)),
];

fn knit(dice: &mut Dice, (name, stretch, lengthwise, thick): Cloth) -> Knit {
    let percent = dice.whole(stretch.0, stretch.1);
    let recovery = dice.whole(80.0, 99.0);
    let crosswise = if dice.one_in(2.0) {
        let released_mm = 100.0 + (percent * (100.0 - recovery) / 100.0).round();
        Stretch::Readings { rest_mm: 100.0, stretched_mm: 100.0 + percent, released_mm: Some(released_mm) }
    } else {
        Stretch::Percent { stretch_percent: percent, recovery_percent: (!dice.one_in(3.0)).then_some(recovery) }
    };
    let along = (percent * dice.between(lengthwise.0, lengthwise.1)).round();
    let lengthwise = (!dice.one_in(3.0)).then_some(Stretch::Percent { stretch_percent: along, recovery_percent: None });
    let thickness_mm = (!dice.one_in(3.0)).then(|| (10.0 * dice.between(thick.0, thick.1)).round() / 10.0);
    let elastane_percent = dice.one_in(2.0).then(|| dice.whole(0.0, 10.0));
    let name = Some(format!("Invented {name}"));
    Knit {
        name,
        crosswise,
        lengthwise,
        diagonal: None,
        kind: None,
        poisson_ratio: None,
        swatch_width: None,
        thickness_mm,
        elastane_percent,
        learned: Vec::new(),
    }
}

fn finish(dice: &mut Dice, ruler: Ruler) -> Finish {
    let join_allowance_mm = dice.pick(&[6.0, 6.0, 6.35, 10.0]);
    let ratio_percent = dice.one_in(10.0).then(|| dice.whole(75.0, 97.0));
    match dice.pick(&["band", "band", "bound", "tape", "facing"]) {
        "band" => Finish::Band(Band {
            width_mm: ruler.read(dice.between(8.0, 35.0)),
            layers: dice.pick(&[Layers::Folded, Layers::Folded, Layers::Single]),
            point: dice.pick(&[PointFinish::Mitre, PointFinish::Lap]),
            join_allowance_mm,
            ratio_percent,
        }),
        "bound" => {
            let layers = dice.pick(&[Layers::Single, Layers::Folded]);
            let turned = layers == Layers::Single && dice.one_in(2.0);
            let turn_under_mm = if turned { ruler.read(dice.between(3.0, 7.0)) } else { 0.0 };
            let width_mm = ruler.read(dice.between(5.0, 12.0));
            Finish::Bound(Bound { width_mm, layers, turn_under_mm, join_allowance_mm, ratio_percent })
        }
        "tape" => {
            let turn_under_mm = if dice.one_in(2.0) { ruler.read(dice.between(4.0, 8.0)) } else { 0.0 };
            let width_mm = ruler.read(dice.between(8.0, 20.0));
            Finish::Tape(Tape { width_mm, turn_under_mm, join_allowance_mm, ratio_percent })
        }
        _ => Finish::Facing(Facing {
            width_mm: ruler.read(dice.between(35.0, 65.0)),
            understitch_mm: dice.pick(&[1.6, 2.0, 3.2]),
            edge_allowance_mm: dice.pick(&[0.0, 0.0, 6.0]),
            topstitch_mm: dice.one_in(3.0).then(|| ruler.read(dice.between(6.0, 30.0))),
        }),
    }
}

fn stitch(dice: &mut Dice) -> Stitch {
    match dice.pick(&["overlock", "overlock", "overlock", "zigzag", "zigzag", "straight"]) {
        "overlock" => Stitch::Overlock,
        "zigzag" => {
            Stitch::Zigzag { width_mm: dice.pick(&[0.5, 1.0, 2.0, 3.0]), advance_mm: dice.pick(&[1.0, 1.5, 2.5]) }
        }
        _ => Stitch::Straight,
    }
}

fn write(dice: &mut Dice) -> Brief {
    let ruler = Ruler { inches: dice.one_in(3.0) };
    let (girth, size) = wearer(dice, ruler);
    let [front, back] = outlines(dice, ruler, size);
    // A quarter, three eighths and five eighths of an inch, or their metric cousins.
    let allowances: &[f64] = if ruler.inches { &[6.35, 9.525, 9.525, 15.875] } else { &[6.0, 7.0, 10.0, 10.0, 15.0] };
    let allowance = dice.pick(allowances);
    let shoulder_allowance_mm = dice.pick(allowances);
    let shoulder_slope_deg = dice.whole(14.0, 26.0);
    let centre_allowance = dice.pick(allowances);
    let mut half = |outline, times| {
        let seam = dice.one_in(times);
        let centre = if seam { Centre::Seam { allowance_mm: centre_allowance } } else { Centre::Fold };
        Half { outline, centre, shoulder_allowance_mm, shoulder_slope_deg }
    };
    let (front, back) = (half(front, 6.0), half(back, 8.0));
    let mut brief = lieflat::example::brief();
    brief.neckline.front = front;
    brief.neckline.back = back;
    brief.neckline.neckline_allowance_mm = allowance;
    brief.neckline.readings_at = dice.pick(&[ReadingsAt::CutEdge, ReadingsAt::SeamLine]);
    let cloth = dice.pick(&KNITS);
    brief.garment_knit = knit(dice, cloth);
    let ribbing = dice.one_in(3.0) && cloth.0 != "rib";
    brief.strip_knit = ribbing.then(|| knit(dice, KNITS[1]));
    brief.strip_direction = dice.pick(&[
        Direction::Crosswise,
        Direction::Crosswise,
        Direction::Crosswise,
        Direction::Crosswise,
        Direction::Crosswise,
        Direction::Crosswise,
        Direction::Lengthwise,
        Direction::Diagonal,
    ]);
    brief.finish = finish(dice, ruler);
    brief.stitch = stitch(dice);
    brief.head = Head { girth, margin_mm: dice.pick(&[20.0, 20.0, 20.0, 10.0, 40.0]) };
    brief.stays.tape_width_mm = dice.pick(&[9.5, 9.5, 6.0, 12.0]);
    brief.stays.shoulder_length_mm = dice.one_in(2.0).then(|| ruler.read(size * dice.between(60.0, 130.0)));
    brief.pattern_asks = dice.one_in(4.0).then(|| PatternAsks {
        crosswise_percent: Some(dice.pick(&[20.0, 25.0, 40.0, 50.0])),
        lengthwise_percent: dice.one_in(3.0).then_some(25.0),
    });
    brief.rounding = if ruler.inches { Rounding::EighthInch } else { Rounding::Millimetre };
    if dice.one_in(3.0) {
        told_by_tape(dice, ruler, &mut brief);
    }
    brief
}

/// Both drafted halves told by tape readings instead, where the lengths are known.
fn told_by_tape(dice: &mut Dice, ruler: Ruler, brief: &mut Brief) {
    let Ok(lines) = lieflat::plan_without_ranges(brief).map(|plan| plan.seam_line) else { return };
    let at_cut_edge = brief.neckline.readings_at == ReadingsAt::CutEdge;
    for (half, line) in [(&mut brief.neckline.front, &lines.front), (&mut brief.neckline.back, &lines.back)] {
        let length = if at_cut_edge { line.cut_edge_length_mm } else { line.length_mm };
        if let Outline::Drafted(draft) = &half.outline {
            half.outline = measured(dice, ruler, length, draft);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{brief, briefs};
    use lieflat::brief::{Finish, HeadGirth, Outline, Rounding};

    #[test]
    fn they_are_of_every_kind_and_nearly_all_plan() {
        let (mut planned, mut kinds) = (0, std::collections::BTreeMap::new());
        for brief in briefs(1000, 1) {
            planned += u32::from(lieflat::plan_without_ranges(&brief).is_ok());
            let finish = match brief.finish {
                Finish::Band(_) => "band",
                Finish::Bound(_) => "bound",
                Finish::Tape(_) => "tape",
                Finish::Facing(_) => "facing",
            };
            let outline = match &brief.neckline.front.outline {
                Outline::Drafted(draft) => format!("{:?} drafted", draft.shape.kind),
                Outline::Measured(measured) => format!("{:?} measured", measured.shape.kind),
                Outline::Drawn(_) => "drawn".to_owned(),
            };
            let head = match brief.head.girth {
                HeadGirth::OwnMm(_) => "own head",
                HeadGirth::Adult(_) => "adult",
                HeadGirth::Child { .. } => "child",
            };
            let unit = if brief.rounding == Rounding::Millimetre { "mm" } else { "inch" };
            for kind in [finish.to_owned(), outline, head.to_owned(), unit.to_owned()] {
                *kinds.entry(kind).or_insert(0) += 1;
            }
        }
        assert!(planned >= 970, "{planned} of 1000 plan");
        assert_eq!(kinds.len(), 4 + 11 + 3 + 2, "every kind: {kinds:?}");
        assert!(kinds.values().all(|count| *count >= 25), "none of them rare: {kinds:?}");
    }

    #[test]
    fn the_same_seed_writes_the_same_briefs() {
        let all: Vec<_> = briefs(20, 7).collect();
        assert_eq!(all[13], brief(7, 13), "one alone is the one of the row");
        assert_ne!(all[13], brief(8, 13), "another seed, another brief");
    }
}
