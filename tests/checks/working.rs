//! The working: each figure recomputed from the numbers its rule says were put in, and no figure without one.

use std::collections::BTreeSet;

use lieflat::brief::{
    Band, Bound, Centre, ChildGroup, Direction, EdgePart, Facing, Finish, HeadGirth, Layers, PointFinish, PoissonRatio,
    ReadingsAt, Rounding, SewnWidth, ShapeKind, StayEdge, Stitch, SwatchWidth, SwatchWidths, Tape, Tolerances,
};
use lieflat::learned::{SewnFinish, SewnOutcome, SewnRecord};
use lieflat::order::StepCode;
use lieflat::plan::{Input, Rule, Step};
use lieflat::{Brief, Plan, Source};
use lieflat_tests::{drafted, plain, worked_briefs};
use serde_json::Value;

/// What a rule gives, by its own symbols.
fn recompute(step: &Step) -> f64 {
    let n = |symbol: &str| {
        let input = step.inputs.iter().find(|i| i.symbol == symbol);
        input.unwrap_or_else(|| panic!("{} lacks {symbol}", step.figure)).value
    };
    let values = || step.inputs.iter().map(|i| i.value);
    // In a range every number but the exact figure is a change.
    let changes = || values().skip(1).map(|by| by * by).sum::<f64>().sqrt();
    let lap = || (2.0 * n("alpha")).sin().max(0.05);
    let widened = || 1.0 + (n("shorter") / n("L") * (n("e_s") + 2.0 * n("e_f")) / 6.0).max(0.0);
    match step.rule {
        Rule::RowFromFar => n("cut") - n("x"),
        Rule::RowMiddle => n("cut") / 2.0,
        Rule::RowAtEdge => n("w") + n("w") + n("turn") / 2.0,
        Rule::SeamLineHalf => n("L") + n("a") * n("theta") - n("trims"),
        Rule::FacingEdge => n("L") + n("d") * n("theta") - n("trims"),
        Rule::StitchLine => n("L") + n("w") * n("theta") + n("ends"),
        Rule::Turning => n("start") - n("end") + n("turns"),
        Rule::HalfWidth => n("x_neck") - n("x_centre"),
        Rule::Depth => n("y_centre") - n("y_neck"),
        Rule::TightestRadius => 1.0 / n("k"),
        Rule::SeamLineWhole | Rule::Topstitch => 2.0 * (n("front") + n("back")),
        Rule::Understitch => 2.0 * (n("front") + n("back")) - n("short"),
        Rule::TurningWhole => 2.0 * (n("back") + n("neck") + n("front")),
        Rule::StripByCurve => {
            let bent = n("L") - n("w") * n("theta") - n("straight");
            bent / (1.0 + n("hold")) + n("straight") / (1.0 + n("hold_0")) + n("limits")
        }
        Rule::StripByTurn => (n("L") - n("t") * n("theta")) / (1.0 + n("hold")) + n("limits"),
        Rule::StripByRatio => n("L") * n("ratio"),
        Rule::Ratio => 100.0 * n("relaxed") / n("L"),
        Rule::BandHold => 100.0 * n("h") * n("S") / n("R"),
        Rule::StraightHold => 100.0 * n("hold_0").min(n("hold")),
        Rule::TapeHold => 100.0 * n("hold_t").min(n("phi") * n("S")),
        Rule::LearnedMean => values().sum::<f64>() / step.inputs.len() as f64,
        Rule::LearnedHold => ((n("m") * n("usual") + n("n") * n("mean")) / (n("m") + n("n"))).max(0.0),
        Rule::LearnedLow => (n("hold") - n("d") * n("s") / (n("m") + n("n")).sqrt()).max(0.0),
        Rule::LearnedHigh => n("hold") + n("d") * n("s") / (n("m") + n("n")).sqrt(),
        Rule::HeldLine => {
            let lengthened = n("straight") * (n("hold") - n("hold_0")) / (1.0 + n("hold_0"));
            n("L") - n("w") * n("theta") + lengthened
        }
        Rule::Comfort => 100.0 * n("phi") * n("S"),
        Rule::MarkOnStrip => n("before") + n("span"),
        Rule::MarkBetween => n("i") * n("L") / n("n"),
        Rule::MarkAtNeckPoint => n("back"),
        Rule::MarkAtCentreFront => n("back") + n("front"),
        Rule::FreeEdge => {
            let inputs: Vec<f64> = values().collect();
            100.0 * (inputs.chunks(2).map(|pair| pair[0] / pair[1]).sum::<f64>() - 1.0)
        }
        Rule::RipplesFrom => {
            let (seam, thin) = (1.0 / n("r") - 1.0, n("t") / n("w"));
            100.0 * (0.645 * ((seam + n("e")) * thin).powf(2.0 / 3.0)).max(1.45 * thin * thin)
        }
        Rule::Bend => n("w") * n("theta") / n("over"),
        Rule::Crest => n("w").min(1.05 * n("w") * n("f") * (n("e") - 0.9 * n("e_c")).sqrt()),
        Rule::Leans => {
            let folded = ((1.0 - (1.0 - 0.9 * n("e_c")) * n("r")) / n("kw")).acos();
            let peak = folded.max((n("crest") / n("w")).asin());
            let width = 2.3 * (n("w") * n("t") / (1.0 / n("r") - 1.0).max(1e-3)).sqrt();
            (peak * (-0.5 * (n("d") / width).powi(2)).exp()).to_degrees()
        }
        Rule::StandsUp => n("w") * n("lean").sin(),
        Rule::SeamEdge => 100.0 * (1.0 / n("r") - 1.0),
        Rule::DrawnIn => {
            let gives = n("n") * n("kw") * 1.4;
            100.0 * 0.74 * n("e") * gives / (1.0 + gives)
        }
        Rule::Slack => n("over") * n("r") * n("e"),
        Rule::PoissonRead => (-n("width").ln() / n("length").ln()).clamp(0.0, 1.0),
        Rule::LearnedPoisson => (n("m") * n("usual") + n("n") * n("mean")) / (n("m") + n("n")),
        Rule::MeanStretch => 100.0 * ((n("L") - 0.5 * n("shorter")) / n("relaxed") - 1.0),
        Rule::Unnarrowed => n("rest") * widened(),
        Rule::WidthAtRest => n("w") / (widened() / n("lambda").powf(n("nu"))).min(1.0),
        Rule::WidthAsSewn => n("rest") * (widened() / n("lambda").powf(n("nu"))).min(1.0),
        // Sought: that it passes and no wider one does is a check of its own.
        Rule::Widest => n("w"),
        Rule::QuarteringError => (n("even") - n("strip")).abs(),
        Rule::EndJoin => n("j"),
        Rule::EndMitre => n("j") / n("alpha").sin() + n("a") / n("alpha").tan(),
        Rule::EndLap => n("a") / lap() + n("past"),
        Rule::EndOverhang => n("w") / n("alpha").tan() + n("c") / n("alpha").sin(),
        Rule::MitreAngle => 90.0 - n("turn"),
        Rule::MitreShorter => n("w") / n("alpha").tan(),
        Rule::LapWidth => n("w") / lap(),
        Rule::CutLength => (n("relaxed") + 2.0 * n("end") + 2.0 * n("back_end")) / n("pieces"),
        Rule::CutWidthFolded => 2.0 * (n("w") + n("a")) + n("turn"),
        Rule::CutWidthSingle => n("w") + n("a"),
        Rule::CutWidthTape | Rule::CutWidthFacing => n("w") + n("a") + n("under"),
        Rule::CutWidthBound => 3.0 * n("w") + n("turn") + n("under"),
        Rule::CutWidthBoundFolded => 2.0 * (3.0 * n("w") + n("turn") + n("over")),
        Rule::TapeTopstitch => n("w") - n("inside"),
        Rule::Rounded => n("step") * (n("exact") / n("step")).round(),
        Rule::RoundedDown => n("step") * (n("exact") / n("step")).floor(),
        Rule::RoundedUp => n("step") * (n("exact") / n("step")).ceil(),
        Rule::RangeLow => n("exact") - changes(),
        Rule::RangeHigh => n("exact") + changes(),
        Rule::Favour => n("t"),
        Rule::ClipsOpen => 2.0 * n("a") * n("theta"),
        Rule::ClipsKnitGives => 2.0 * n("half"),
        Rule::ClipCount => 2.0 * n("half") - n("centres"),
        Rule::StayStretch => {
            let mixed = 4.0 * n("S45") - n("Sx") - n("Sy");
            (n("Sx") * n("m4") + n("Sy") * n("n4") + mixed * n("mn")).max(0.0)
        }
        Rule::StayTape => n("sides") * (n("to") - n("from")),
        Rule::StayMitre => 2.0 * (n("to") - n("from")) + 2.0 * n("q") / n("alpha").tan(),
        Rule::StayWidest => (n("d") + n("reach")).max(0.0),
        Rule::StayWithin => n("b").min(n("widest")),
        Rule::StayPast => n("p") + n("b") - n("d"),
        Rule::StayPlace => (n("a") + n("catch") - n("b")).max(0.0),
        Rule::StaySnips => (n("b") * n("theta") / n("g") - 1e-9).ceil(),
        Rule::StayTotal => values().sum(),
        Rule::GatheringRatio => n("before") / n("after"),
        Rule::Taken | Rule::AsGiven => n("x"),
        Rule::HeadByAge => {
            n("a") + ((n("age") - n("from")) / (n("to") - n("from"))).clamp(0.0, 1.0) * (n("b") - n("a"))
        }
        Rule::StitchZigzag => 100.0 * ((1.0 + (n("w") / n("p")).powi(2)).sqrt() - 1.0),
        Rule::SeamGirth => n("stayed") + n("live") * (1.0 + n("e")),
        Rule::SewnGirth => n("garment") + n("finish"),
        Rule::StripGirth => (n("relaxed") - n("shorter")) * (1.0 + n("pull") * n("S")),
        Rule::SeamAsks => 100.0 * n("pull") * n("S"),
        Rule::ZigzagLength => {
            let exact = n("w") / ((1.0 + n("e")).powi(2) - 1.0).sqrt();
            ((2.0 * exact).floor() / 2.0).clamp(0.5, 2.5)
        }
        Rule::SmallestRing => values().fold(f64::INFINITY, f64::min),
        Rule::Spare => n("ring") - (n("head") + n("margin")),
        Rule::Stretch => 100.0 * (n("B") - n("A")) / n("A"),
        Rule::Recovery => 100.0 * (n("B") - n("C")) / (n("B") - n("A")),
        Rule::Growth => 100.0 * (n("C") - n("A")) / n("A"),
        Rule::LengthwiseTaken => n("share") * n("crosswise"),
        Rule::DiagonalTaken => 0.5 * (n("crosswise") + n("lengthwise")),
        Rule::TurnOfCloth => n("c") * n("thickness"),
    }
}

/// Briefs that between them bring every rule into play.
fn briefs() -> Vec<(String, Brief)> {
    let mut all = worked_briefs();
    let mut add = |name: &str, change: &dyn Fn(&mut Brief)| {
        let mut brief = lieflat::example::brief();
        change(&mut brief);
        all.push((name.to_owned(), brief));
    };
    let v = || drafted(85.0, 190.0, plain(ShapeKind::V));
    let band = |point, ratio_percent| {
        let layers = Layers::Single;
        Finish::Band(Band { width_mm: 20.0, layers, point, join_allowance_mm: 6.0, ratio_percent })
    };
    add("lapped V", &|b| {
        b.neckline.front = v();
        b.finish = band(PointFinish::Lap, None);
        b.stitch = Stitch::Zigzag { width_mm: 2.0, advance_mm: 1.5 };
    });
    add("points at both centres", &|b| {
        (b.neckline.front, b.neckline.back) = (v(), drafted(85.0, 90.0, plain(ShapeKind::V)));
        b.finish = band(PointFinish::Mitre, None);
    });
    add("own ratio, wide", &|b| b.finish = band(PointFinish::Mitre, Some(96.0)));
    add("learned from two bands", &|b| {
        let record = |outcome, by_mm| SewnRecord {
            finish: SewnFinish::Band,
            held_line_mm: 460.0,
            strip_mm: 436.0,
            outcome,
            by_mm,
            width: None,
            recorded: None,
        };
        b.garment_knit.learned = vec![record(SewnOutcome::LayFlat, None), record(SewnOutcome::StoodAway, Some(8.0))];
    });
    add("narrows as a swatch does", &|b| {
        let width = SwatchWidth { rest_mm: 50.0, stretched_mm: 42.0 };
        b.garment_knit.swatch_width = Some(SwatchWidths { crosswise: Some(width), lengthwise: None });
    });
    add("narrows as given", &|b| {
        b.garment_knit.poisson_ratio = Some(PoissonRatio { crosswise: Some(0.3), lengthwise: None });
    });
    add("narrows as two bands did", &|b| {
        let record = |sewn_mm| SewnRecord {
            finish: SewnFinish::Band,
            held_line_mm: 460.0,
            strip_mm: 436.0,
            outcome: SewnOutcome::LayFlat,
            by_mm: None,
            width: Some(SewnWidth { sewn_mm, unnarrowed_mm: 16.0, stretch_percent: 13.0 }),
            recorded: None,
        };
        b.garment_knit.learned = vec![record(15.2), record(14.6)];
    });
    // From 50 degrees below the level to all but level: a quotient of the two would be far from their difference.
    add("ends all but level", &|b| b.neckline.front = lieflat_tests::drawn("M 0 120 C 25 150 50 0.05 90 0"));
    add("bound, a corner", &|b| {
        (b.neckline.front, b.neckline.readings_at) =
            (lieflat_tests::drawn("M 0 120 L 60 100 L 90 0"), ReadingsAt::SeamLine);
        let (layers, turn_under_mm) = (Layers::Single, 0.0);
        b.finish =
            Finish::Bound(Bound { width_mm: 9.0, layers, turn_under_mm, join_allowance_mm: 6.0, ratio_percent: None });
    });
    // What it may be off by lies on the one side of it alone: a recovery of 100 percent cannot be more, an allowance of
    // nothing not less.
    add("rounded down", &|b| {
        b.garment_knit = lieflat_tests::knit(60.0, 100.0);
        b.tolerances = Tolerances {
            poisson_ratio: 0.0,
            slope_deg: 0.0,
            reading_mm: 0.0,
            stretch_points: 0.0,
            recovery_points: 30.0,
            allowance_mm: 0.0,
            width_mm: 0.0,
            roundness_points: 0.0,
        };
        let (layers, point) = (Layers::Single, PointFinish::Mitre);
        b.finish = Finish::Band(Band { width_mm: 20.0, layers, point, join_allowance_mm: 6.8, ratio_percent: None });
    });
    add("rounded up", &|b| {
        b.neckline.neckline_allowance_mm = 0.0;
        (b.tolerances.allowance_mm, b.rounding) = (3.0, Rounding::EighthInch);
        b.finish = lieflat_tests::facing(48.925);
    });
    add("bound, folded", &|b| {
        b.finish = Finish::Bound(Bound {
            width_mm: 9.0,
            layers: Layers::Folded,
            turn_under_mm: 0.0,
            join_allowance_mm: 6.0,
            ratio_percent: None,
        });
        b.head.girth = HeadGirth::Child { group: ChildGroup::Girls, age_months: 40.0 };
    });
    add("tape, turned under, with named edges", &|b| {
        let (width_mm, turn_under_mm) = (14.0, 6.0);
        b.finish = Finish::Tape(Tape { width_mm, turn_under_mm, join_allowance_mm: 6.0, ratio_percent: None });
        b.strip_direction = Direction::Diagonal;
        b.stays.shoulder_length_mm = Some(118.0);
        let edge = |name: &str, part, gathered_from_mm| StayEdge {
            name: name.to_owned(),
            part,
            length_mm: 120.0,
            gathered_from_mm,
            direction: Direction::Crosswise,
            allowance_mm: 10.0,
            pieces: 2,
        };
        b.stays.edges = vec![
            edge("Invented side panel", EdgePart::Gathered, Some(180.0)),
            edge("Invented centre seam", EdgePart::CentreFrontSeam, None),
        ];
        b.neckline.front.centre = Centre::Seam { allowance_mm: 10.0 };
    });
    // Its last direction, left and down, is more than half a turn from its first.
    add("curled in at the neck", &|b| {
        b.neckline.front = lieflat_tests::drawn("M 0 100 C 80 100 120 60 110 10 C 105 -10 80 -12 60 -8");
        b.neckline.readings_at = ReadingsAt::SeamLine;
    });
    // A wide allowance, trimmed before it is clipped, and a point, whose clip on the centre line is both halves'.
    add("a faced V, trimmed, clipped at its point", &|b| {
        b.neckline.front = v();
        b.neckline.neckline_allowance_mm = 16.0;
        b.finish = lieflat_tests::facing(55.0);
    });
    add("facing, topstitched, poor recovery", &|b| {
        b.finish = Finish::Facing(Facing {
            width_mm: 55.0,
            understitch_mm: 1.6,
            edge_allowance_mm: 6.0,
            topstitch_mm: Some(30.0),
        });
        b.garment_knit = lieflat_tests::knit(60.0, 65.0);
        b.head.girth = HeadGirth::OwnMm(400.0);
    });
    all
}

fn plans() -> Vec<(String, Plan)> {
    let planned = |(name, brief): (String, Brief)| {
        let plan = lieflat::plan(&brief).unwrap_or_else(|e| panic!("{name} is refused: {e}"));
        (name, plan)
    };
    briefs().into_iter().map(planned).collect()
}

#[test]
fn every_figure_follows_from_its_working() {
    for (name, plan) in plans() {
        let json = serde_json::to_value(&plan).expect("the plan writes");
        for step in &plan.working {
            let again = recompute(step);
            assert!((again - step.result).abs() < 1e-6, "{name}, {}: {again} is not {}", step.figure, step.result);
            let pointer = format!("/{}", step.figure.replace('.', "/"));
            let shown = json.pointer(&pointer).and_then(Value::as_f64);
            assert_eq!(shown, Some(step.result), "{name}: {} stands in the plan as its working says", step.figure);
        }
    }
}

/// A number's symbol in the formulas: a reading's path stands for what it changes.
fn symbol_of(input: &Input) -> &str {
    if input.symbol.contains('.') { "change" } else { &input.symbol }
}

/// A formula as people read it, reckoned with a step's numbers: sums, quotients, products written side by side, powers and
/// the functions that the formulas use.
struct Formula<'a> {
    rest: &'a str,
    step: &'a Step,
}

impl<'a> Formula<'a> {
    fn value(step: &Step) -> f64 {
        let mut formula = Formula { rest: step.rule.formula(), step };
        let value = formula.sum();
        assert!(formula.rest.is_empty(), "{}: {} is left of {}", step.figure, formula.rest, step.rule.formula());
        value
    }

    fn takes(&mut self, sign: &str) -> bool {
        self.rest = self.rest.trim_start();
        let rest = self.rest.strip_prefix(sign);
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }

    fn sum(&mut self) -> f64 {
        let mut value = if self.takes("-") { -self.product() } else { self.product() };
        loop {
            if self.takes("+") {
                value += self.product();
            } else if self.takes("-") {
                value -= self.product();
            } else {
                return value;
            }
        }
    }

    /// What stands in a function's brackets: of one value, where the function goes over all, one for each time its symbols are put in.
    fn arguments(&mut self, over_all: bool) -> Vec<f64> {
        let (inner, alone) = self.within_brackets();
        if over_all && alone {
            self.rest = &self.rest[inner.len() + 1..];
            return self.each(inner);
        }
        let mut values = vec![self.sum()];
        while self.takes(",") {
            values.push(self.sum());
        }
        assert!(self.takes(")"), "{}: {}", self.step.rule.formula(), self.rest);
        values
    }

    /// The text up to the bracket that closes the one just opened, and whether it is one value.
    fn within_brackets(&self) -> (&'a str, bool) {
        let (mut depth, mut alone) = (0, true);
        let closes = self.rest.find(|c: char| {
            depth += i32::from(c == '(') - i32::from(c == ')');
            alone &= depth > 0 || c != ',';
            depth < 0
        });
        (&self.rest[..closes.expect("a bracket that closes")], alone)
    }

    /// A text's value for each time its symbols are put in; what is put in once stands for itself each time.
    fn each(&self, text: &str) -> Vec<f64> {
        let of = |name: &str| self.step.inputs.iter().filter(|input| symbol_of(input) == name).collect::<Vec<_>>();
        let names: BTreeSet<&str> = self.step.inputs.iter().map(symbol_of).filter(|name| text.contains(name)).collect();
        let rounds = names.iter().map(|name| of(name).len()).max().unwrap_or_default();
        let put_in = |i: usize| {
            let inputs = names.iter().filter_map(|&name| {
                let input = *of(name).get(i)?;
                Some(Input { symbol: name.to_owned().into(), ..input.clone() })
            });
            Step { inputs: inputs.collect(), ..self.step.clone() }
        };
        (0..rounds).map(|i| Formula { rest: text, step: &put_in(i) }.sum()).collect()
    }

    fn product(&mut self) -> f64 {
        let mut value = self.power();
        loop {
            self.rest = self.rest.trim_start();
            if self.takes("/") {
                value /= self.power();
            } else if self.rest.starts_with(|c: char| c.is_alphanumeric() || c == '(') {
                value *= self.power();
            } else {
                return value;
            }
        }
    }

    fn power(&mut self) -> f64 {
        let value = self.single();
        if self.takes("^") { value.powf(self.single()) } else { value }
    }

    fn single(&mut self) -> f64 {
        // The longest symbol first, so that hold_0 is no hold.
        let mut symbols: Vec<(String, f64)> =
            self.step.inputs.iter().map(|input| (input.symbol.to_string(), input.value)).collect();
        symbols.sort_by_key(|(symbol, _)| core::cmp::Reverse(symbol.len()));
        let whole = |rest: &str| !rest.starts_with(|c: char| c.is_alphanumeric() || c == '_');
        self.rest = self.rest.trim_start();
        for (symbol, value) in symbols {
            if let Some(rest) = self.rest.strip_prefix(symbol.as_str()).filter(|rest| whole(rest)) {
                self.rest = rest;
                return value;
            }
        }
        let digits = self.rest.len() - self.rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').len();
        if digits > 0 {
            let (number, rest) = self.rest.split_at(digits);
            self.rest = rest;
            return number.parse().expect("a number");
        }
        if self.takes("|") {
            let value = self.sum();
            assert!(self.takes("|"), "{}", self.step.rule.formula());
            return value.abs();
        }
        let letters = self.rest.len() - self.rest.trim_start_matches(char::is_alphabetic).len();
        let (name, rest) = self.rest.split_at(letters);
        self.rest = rest;
        assert!(self.takes("("), "{}: what is {name}{}?", self.step.rule.formula(), self.rest);
        let values = self.arguments(["sum", "mean", "min"].contains(&name));
        match (name, &values[..]) {
            ("sum", values) => values.iter().sum(),
            ("mean", values) => values.iter().sum::<f64>() / values.len() as f64,
            ("min", values) => values.iter().copied().fold(f64::INFINITY, f64::min),
            ("", [value]) => *value,
            ("sqrt", [value]) => value.sqrt(),
            ("sin", [value]) => value.sin(),
            ("tan", [value]) => value.tan(),
            ("asin", [value]) => value.asin(),
            // Of more than 1 there is no angle, and max takes the other.
            ("acos", [value]) => value.acos(),
            ("deg", [value]) => value.to_degrees(),
            ("exp", [value]) => value.exp(),
            ("ln", [value]) => value.ln(),
            ("floor", [value]) => value.floor(),
            ("ceil", [value]) => value.ceil(),
            ("round", [value]) => value.round(),
            ("max", [a, b]) => a.max(*b),
            _ => panic!("{}: {name} of {values:?}", self.step.rule.formula()),
        }
    }
}

#[test]
fn every_formula_gives_its_figure_as_it_is_read() {
    for (name, plan) in plans() {
        for step in &plan.working {
            if step.rule == Rule::Widest {
                assert_eq!(step.rule.formula(), "passes(w)", "{name}: it is sought and not reckoned");
            } else {
                let again = Formula::value(step);
                let off = (again - step.result).abs();
                assert!(off < 1e-6, "{name}, {}: {} is {again}, not {}", step.figure, step.rule.formula(), step.result);
            }
        }
    }
}

#[test]
fn what_was_given_is_told_apart_from_what_was_taken() {
    let of = |change: &dyn Fn(&mut Brief), figure: &str| {
        let mut brief = lieflat::example::brief();
        change(&mut brief);
        let plan = lieflat::plan(&brief).expect("it plans");
        let step = plan.working.into_iter().find(|step| step.figure == figure).expect("its working");
        (step.rule, step.source)
    };
    let recovery = "garment_knit.recovery_percent";
    let percent = |recovery_percent| {
        move |b: &mut Brief| {
            b.garment_knit.crosswise = lieflat::brief::Stretch::Percent { stretch_percent: 60.0, recovery_percent };
        }
    };
    assert_eq!(of(&|_| {}, recovery), (Rule::Recovery, Source::CommonPractice), "read on the cloth");
    assert_eq!(of(&percent(Some(80.0)), recovery), (Rule::AsGiven, Source::OwnMeasure), "given as a percentage");
    assert_eq!(of(&percent(None), recovery), (Rule::Taken, Source::Judgement), "not known");
    let extra = "strip.end_extra_mm";
    assert_eq!(of(&|_| {}, extra), (Rule::EndJoin, Source::CommonPractice), "a ring's join");
    let v = |b: &mut Brief| b.neckline.front = drafted(85.0, 190.0, plain(ShapeKind::V));
    assert_eq!(of(&v, extra), (Rule::EndMitre, Source::OwnRule), "a mitre");
}

#[test]
fn a_bound_edges_mitre_is_worked_out_with_its_width_for_an_allowance() {
    // Sewn a width from its raw edge: 6 / sin(alpha) + 9 / tan(alpha), alpha by the draft of 85 by 190 mm.
    let mut brief = lieflat::example::brief();
    brief.neckline.front = drafted(85.0, 190.0, plain(ShapeKind::V));
    let (width_mm, join_allowance_mm) = (9.0, 6.0);
    let (layers, turn_under_mm, ratio_percent) = (Layers::Single, 0.0, None);
    brief.finish = Finish::Bound(Bound { width_mm, layers, turn_under_mm, join_allowance_mm, ratio_percent });
    let plan = lieflat::plan(&brief).expect("it plans");
    let step = plan.working.iter().find(|step| step.figure == "strip.end_extra_mm").expect("its working");
    let alpha = 85.0_f64.atan2(190.0);
    lieflat_tests::close(step.result, 6.0 / alpha.sin() + 9.0 / alpha.tan(), 1e-9, "by hand");
    lieflat_tests::close(recompute(step), step.result, 1e-9, "by its working");
}

#[test]
fn every_rule_is_at_work_in_some_brief() {
    let used: BTreeSet<String> =
        plans().iter().flat_map(|(_, plan)| &plan.working).map(|step| format!("{:?}", step.rule)).collect();
    let idle: Vec<String> = Rule::ALL.iter().map(|rule| format!("{rule:?}")).filter(|r| !used.contains(r)).collect();
    assert!(idle.is_empty(), "no brief tries {idle:?}");
}

/// Numbers of a plan that are no figures of its own: places of points, what a knit or pattern was said to have,
/// what a mark's place on the line is given from, a mark's number, and the exact end of a figure, which has its own step.
/// The order of work tells figures that stand elsewhere in the plan (`order::no_step_has_a_length_of_its_own`).
fn is_a_figure(path: &str) -> bool {
    let given = [
        "version",
        "cut_edge_length_mm",
        "centre_line_x_mm",
        "point_half_angle_deg",
        "neck_point_turning_deg",
        "margin_mm",
        "pull_share_percent",
        "understitch_distance_mm",
        "from_mm",
        "to_mm",
        "pieces",
        "seam_line_mm",
        "on_piece_mm",
        "on_seam_line_mm",
        "asked_percent",
        "has_percent",
        "short_by_points",
        "length_mm",
        "gains_mm",
        "number",
    ];
    let last = path.rsplit('.').find(|part| part.parse::<usize>().is_err()).unwrap_or(path);
    let first_mark = path.starts_with("strip.marks.0.");
    let in_a_list = [
        "working",
        "suitability",
        "given_up",
        "stable",
        "notches",
        "cures",
        "remedies",
        "places_mm",
        "shoulder_direction",
    ];
    if path.starts_with("order.") {
        return false;
    }
    let listed = path.split('.').any(|part| in_a_list.contains(&part));
    let always = ["strip.stitch_line.length_mm", "seam_line.front.length_mm", "seam_line.back.length_mm"];
    always.contains(&path)
        || !(listed || first_mark || is_a_point(path) || given.contains(&last))
        || (path.starts_with("strip.marks.") && !first_mark && last != "number")
}

/// Coordinates end in two numbers, or in one after an end of a line.
fn is_a_point(path: &str) -> bool {
    let parts: Vec<&str> = path.split('.').collect();
    let number = |part: Option<&&str>| part.is_some_and(|part| part.parse::<usize>().is_ok());
    let before = parts.iter().rev().nth(1);
    number(parts.last()) && (number(before) || before.is_some_and(|b| ["from", "to", "at", "toward"].contains(b)))
}

fn numbers(value: &Value, path: String, found: &mut Vec<String>) {
    let join = |key: &str| if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
    match value {
        Value::Number(_) => found.push(path),
        Value::Object(fields) => fields.iter().for_each(|(key, value)| numbers(value, join(key), found)),
        Value::Array(items) => items.iter().enumerate().for_each(|(i, v)| numbers(v, join(&i.to_string()), found)),
        _ => {}
    }
}

#[test]
fn no_figure_is_without_its_working() {
    for (name, plan) in plans() {
        let mut found = Vec::new();
        numbers(&serde_json::to_value(&plan).expect("the plan writes"), String::new(), &mut found);
        let explained: BTreeSet<&str> = plan.working.iter().map(|step| step.figure.as_str()).collect();
        let bare: Vec<&String> =
            found.iter().filter(|path| is_a_figure(path) && !explained.contains(path.as_str())).collect();
        let slack_or_nothing = |path: &&String| {
            // An edge that is nowhere slack has no slack to explain.
            (path.ends_with("slack_mm") || path.ends_with("stands_off_mm") || path.ends_with("snips"))
                && serde_json::to_value(&plan)
                    .ok()
                    .and_then(|json| json.pointer(&format!("/{}", path.replace('.', "/"))).and_then(Value::as_f64))
                    == Some(0.0)
        };
        let bare: Vec<&&String> = bare.iter().filter(|path| !slack_or_nothing(path)).collect();
        assert!(bare.is_empty(), "{name}: no working for {bare:?}");
    }
}

#[test]
fn the_widest_width_passes_and_a_wider_one_does_not() {
    for (name, brief) in briefs() {
        let plan = lieflat::plan(&brief).expect("it plans");
        let Some(widest) = plan.strip.as_ref().and_then(|strip| strip.widest_mm) else { continue };
        let passes = |width: f64| {
            let mut brief = brief.clone();
            match &mut brief.finish {
                Finish::Band(f) => (f.width_mm, f.ratio_percent) = (width, None),
                Finish::Tape(f) => (f.width_mm, f.ratio_percent) = (width, None),
                Finish::Bound(f) => (f.width_mm, f.ratio_percent) = (width, None),
                Finish::Facing(_) => {}
            }
            lieflat::plan(&brief)
                .ok()
                .and_then(|plan| plan.strip)
                .is_some_and(|strip| strip.outcome.passes() && strip.spans.iter().all(|span| span.trusted))
        };
        assert!(passes(widest), "{name} at {widest} mm");
        // A limit of the brief itself is no bound of the rule.
        let limit = match brief.finish {
            Finish::Band(_) => 150.0,
            Finish::Tape(_) => 80.0,
            _ => 40.0,
        };
        assert!(widest >= limit || !passes(widest + 0.5), "{name}: {} mm would pass too", widest + 0.5);
    }
}

#[test]
fn a_band_that_no_limit_touches_has_exactly_the_length_of_its_rule() {
    // r = (1 - k w) / (1 + hold) integrates to (L - w theta) / (1 + hold), apart from what counts as straight: the limits'
    // share is nothing, and the turning that the strip meets is that of the seam line.
    let mut brief = lieflat::example::brief();
    brief.finish = lieflat_tests::band(8.0);
    let plan = lieflat::plan(&brief).expect("it plans");
    let step = plan.working.iter().find(|s| s.figure == "strip.relaxed_length_mm").expect("its working");
    let input = |symbol: &str| step.inputs.iter().find(|i| i.symbol == symbol).expect("an input").value;
    assert!(input("limits").abs() < 1e-6, "limits took {} mm", input("limits"));
    let theta = plan.seam_line.whole_turning_deg.to_radians();
    assert!((input("theta") - theta).abs() < 1e-3, "{} is not {theta}", input("theta"));
}

#[test]
fn a_quick_plan_has_the_same_figures_without_ranges_and_working() {
    for (name, brief) in briefs() {
        let (plan, mut quick) =
            (lieflat::plan(&brief).expect("it plans"), lieflat::plan_without_ranges(&brief).expect("too"));
        assert!(quick.working.is_empty(), "{name}: no working");
        let quick_cuts = cuts(&quick);
        if let (Some(strip), Some(fast)) = (&plan.strip, &mut quick.strip) {
            for (figure, quick) in [(&strip.cut_length, &mut fast.cut_length), (&strip.cut_width, &mut fast.cut_width)]
            {
                assert_eq!(quick.low_mm, quick.exact_mm, "{name}: no range below");
                assert_eq!(quick.high_mm, quick.exact_mm, "{name}: no range above");
                *quick = figure.clone();
            }
            let mut strip = strip.clone();
            (strip.widest_mm, strip.cures) = (None, Vec::new());
            assert_eq!(
                &strip, fast,
                "{name}: the same strip but for its widest width and cures, which are tried one by one"
            );
        }
        assert_eq!(plan.seam_line, quick.seam_line, "{name}: the same seam line");
        assert_eq!(plan.stays, quick.stays, "{name}: the same stays");
        let mut opening = plan.opening.clone();
        opening.remedies.clear();
        assert_eq!(opening, quick.opening, "{name}: the same opening but for remedies, which are tried one by one");
        assert_eq!(plan.clips, quick.clips, "{name}: the same clips");
        // A figure that its range alone moves to another step is cut otherwise, and said so; the rest of the order is the same.
        let moved: Vec<(f64, f64)> = quick_cuts.into_iter().zip(cuts(&plan)).collect();
        let as_whole = |mm: f64| moved.iter().find(|(quick, _)| *quick == mm).map_or(mm, |(_, whole)| *whole);
        for step in &mut quick.order {
            if matches!(step.step, StepCode::CutStrip | StepCode::CutFacing) {
                step.figures.iter_mut().for_each(|(_, mm)| *mm = as_whole(*mm));
            }
        }
        assert_eq!(plan.order, quick.order, "{name}: the same order of work");
    }
}

/// What a plan says to cut, mm: a strip's length and width, a facing's width.
fn cuts(plan: &Plan) -> Vec<f64> {
    let strip = plan.strip.iter().flat_map(|strip| [strip.cut_length.cut_mm, strip.cut_width.cut_mm]);
    strip.chain(plan.facing.iter().map(|facing| facing.cut_width.cut_mm)).collect()
}
