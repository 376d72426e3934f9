//! From the form's fields to a brief. Each field that is read is remembered with its path in the
//! brief, so that the core's errors find their way back to it.

use lieflat::brief::{
    AdultGroup, Band, Brief, Centre, ChildGroup, Direction, Drafted, Facing, Finish, Half, Head, HeadGirth, Knit,
    Layers, Measured, Neckline, Outline, PatternAsks, PointFinish, ReadingsAt, Rounding, Rules, SCHEMA, Shape,
    ShapeKind, Stays, Stitch, Stretch, Tape, Tolerances, VERSION,
};
use lieflat::length::{LengthError, LengthUnit, parse_length_mm, parse_number};

use crate::dom::Dom;

/// A field of the form and its path in the brief.
#[derive(Debug, Clone)]
pub(crate) struct Place {
    /// The field's id.
    pub(crate) id: String,
    /// Its path in the brief.
    pub(crate) path: String,
}

/// A field whose text is no number.
#[derive(Debug, Clone)]
pub(crate) struct Unread {
    /// The field's id.
    pub(crate) id: String,
    /// What is wrong with it.
    pub(crate) message: String,
}

/// What the form says.
#[derive(Debug)]
pub(crate) struct Reading {
    /// The brief; NaN stands where a text is no number, so that the core says what it would accept.
    pub(crate) brief: Brief,
    /// The fields that were read.
    pub(crate) places: Vec<Place>,
    /// The fields whose text is no number.
    pub(crate) unread: Vec<Unread>,
}

/// Reads the form.
pub(crate) fn read(dom: &Dom, unit: LengthUnit) -> Reading {
    let mut reader = Reader { dom, unit, places: Vec::new(), unread: Vec::new() };
    let brief = reader.brief();
    Reading { brief, places: reader.places, unread: reader.unread }
}

/// A length field's value: what was kept when the unit was switched, or the text read in the unit.
pub(crate) fn length_of(dom: &Dom, id: &str, unit: LengthUnit) -> Result<f64, LengthError> {
    let text = dom.value(id);
    let kept = dom.by_id(id).and_then(|e| {
        let shown = e.get_attribute("data-shown")?;
        (shown == text).then(|| e.get_attribute("data-mm")?.parse::<f64>().ok()).flatten()
    });
    kept.map_or_else(|| parse_length_mm(&text, unit), Ok)
}

struct Reader<'a> {
    dom: &'a Dom,
    unit: LengthUnit,
    places: Vec<Place>,
    unread: Vec<Unread>,
}

impl Reader<'_> {
    fn brief(&mut self) -> Brief {
        let title = self.dom.value("title").trim().to_owned();
        let own_strip = self.dom.value("strip-knit") == "own";
        Brief {
            schema: SCHEMA.to_owned(),
            version: VERSION,
            title: (!title.is_empty()).then_some(title),
            neckline: Neckline {
                readings_at: match self.dom.value("readings-at").as_str() {
                    "seam_line" => ReadingsAt::SeamLine,
                    _ => ReadingsAt::CutEdge,
                },
                neckline_allowance_mm: self.length("neckline-allowance", "neckline.neckline_allowance_mm"),
                front: self.half("front"),
                back: self.half("back"),
            },
            garment_knit: self.knit("garment", "garment_knit"),
            strip_knit: own_strip.then(|| self.knit("strip", "strip_knit")),
            strip_direction: match self.dom.value("strip-direction").as_str() {
                "lengthwise" => Direction::Lengthwise,
                "diagonal" => Direction::Diagonal,
                _ => Direction::Crosswise,
            },
            finish: self.finish(),
            stitch: self.stitch(),
            head: self.head(),
            stays: Stays {
                tape_width_mm: self.length("stay-width", "stays.tape_width_mm"),
                catch_mm: self.length("stay-catch", "stays.catch_mm"),
                shoulders: self.dom.value("stay-shoulders") != "no",
                shoulder_length_mm: self.length_if_any("shoulder-length", "stays.shoulder_length_mm"),
                edges: Vec::new(),
            },
            pattern_asks: self.asks(),
            rounding: match self.dom.value("rounding").as_str() {
                "eighth_inch" => Rounding::EighthInch,
                _ => Rounding::Millimetre,
            },
            tolerances: Tolerances::default(),
            rules: Rules::default(),
        }
    }

    fn half(&mut self, side: &str) -> Half {
        let id = |name: &str| format!("{side}-{name}");
        let drafted = self.dom.value(&id("way")) == "drafted";
        let way = if drafted { "drafted" } else { "measured" };
        let path = |name: &str| format!("neckline.{side}.outline.{way}.{name}");
        let shape = self.shape(side, &path("shape"));
        let outline = if drafted {
            Outline::Drafted(Drafted {
                half_width_mm: self.length(&id("half-width"), &path("half_width_mm")),
                depth_mm: self.length(&id("depth"), &path("depth_mm")),
                shape,
            })
        } else {
            Outline::Measured(Measured {
                half_length_mm: self.length(&id("half-length"), &path("half_length_mm")),
                half_width_mm: self.length_if_any(&id("half-width"), &path("half_width_mm")),
                depth_mm: self.length_if_any(&id("depth"), &path("depth_mm")),
                shape,
            })
        };
        let path = |name: &str| format!("neckline.{side}.{name}");
        Half {
            outline,
            centre: match self.dom.value(&id("centre")).as_str() {
                "seam" => Centre::Seam {
                    allowance_mm: self.length(&id("centre-allowance"), &path("centre.seam.allowance_mm")),
                },
                _ => Centre::Fold,
            },
            shoulder_allowance_mm: self.length(&id("shoulder-allowance"), &path("shoulder_allowance_mm")),
            shoulder_slope_deg: self.number(&id("shoulder-slope"), &path("shoulder_slope_deg")),
        }
    }

    fn shape(&mut self, side: &str, path: &str) -> Shape {
        let id = |name: &str| format!("{side}-{name}");
        let kind = match self.dom.value(&id("shape")).as_str() {
            "scoop" => ShapeKind::Scoop,
            "v" => ShapeKind::V,
            "square" => ShapeKind::Square,
            "boat" => ShapeKind::Boat,
            _ => ShapeKind::Round,
        };
        let mut shape = Shape::plain(kind);
        match kind {
            ShapeKind::Round | ShapeKind::Scoop | ShapeKind::Boat => {
                shape.roundness_percent = self.number_if_any(&id("roundness"), &format!("{path}.roundness_percent"));
            }
            ShapeKind::Square => {
                shape.corner_radius_mm = self.length_if_any(&id("corner-radius"), &format!("{path}.corner_radius_mm"));
            }
            ShapeKind::V => {
                shape.leg_hollow_percent = self.number_if_any(&id("leg-hollow"), &format!("{path}.leg_hollow_percent"));
            }
        }
        shape
    }

    fn knit(&mut self, which: &str, path: &str) -> Knit {
        let crosswise = self.stretch(&format!("{which}-crosswise"), &format!("{path}.crosswise"));
        let lengthwise = (self.dom.value(&format!("{which}-lengthwise-way")) != "none")
            .then(|| self.stretch(&format!("{which}-lengthwise"), &format!("{path}.lengthwise")));
        Knit {
            name: None,
            crosswise,
            lengthwise,
            diagonal: None,
            thickness_mm: self.length_if_any(&format!("{which}-thickness"), &format!("{path}.thickness_mm")),
            elastane_percent: None,
            learned: Vec::new(),
        }
    }

    fn stretch(&mut self, id: &str, path: &str) -> Stretch {
        let id = |name: &str| format!("{id}-{name}");
        if self.dom.value(&id("way")) == "percent" {
            return Stretch::Percent {
                stretch_percent: self.number(&id("percent"), &format!("{path}.percent.stretch_percent")),
                recovery_percent: self.number_if_any(&id("recovery"), &format!("{path}.percent.recovery_percent")),
            };
        }
        Stretch::Readings {
            rest_mm: self.length(&id("rest"), &format!("{path}.readings.rest_mm")),
            stretched_mm: self.length(&id("stretched"), &format!("{path}.readings.stretched_mm")),
            released_mm: self.length_if_any(&id("released"), &format!("{path}.readings.released_mm")),
        }
    }

    fn finish(&mut self) -> Finish {
        match self.dom.value("finish").as_str() {
            "tape" => Finish::Tape(Tape {
                width_mm: self.length("tape-width", "finish.tape.width_mm"),
                turn_under_mm: self.length("tape-turn-under", "finish.tape.turn_under_mm"),
                join_allowance_mm: self.length("join-allowance", "finish.tape.join_allowance_mm"),
                ratio_percent: self.number_if_any("ratio", "finish.tape.ratio_percent"),
            }),
            "facing" => Finish::Facing(Facing {
                width_mm: self.length("facing-width", "finish.facing.width_mm"),
                understitch_mm: self.length("facing-understitch", "finish.facing.understitch_mm"),
                edge_allowance_mm: 0.0,
                topstitch_mm: None,
            }),
            _ => Finish::Band(Band {
                width_mm: self.length("band-width", "finish.band.width_mm"),
                layers: match self.dom.value("band-layers").as_str() {
                    "single" => Layers::Single,
                    _ => Layers::Folded,
                },
                point: match self.dom.value("band-point").as_str() {
                    "lap" => PointFinish::Lap,
                    _ => PointFinish::Mitre,
                },
                join_allowance_mm: self.length("join-allowance", "finish.band.join_allowance_mm"),
                ratio_percent: self.number_if_any("ratio", "finish.band.ratio_percent"),
            }),
        }
    }

    fn stitch(&mut self) -> Stitch {
        match self.dom.value("stitch").as_str() {
            "straight" => Stitch::Straight,
            "zigzag" => Stitch::Zigzag {
                width_mm: self.length("zigzag-width", "stitch.zigzag.width_mm"),
                advance_mm: self.length("zigzag-advance", "stitch.zigzag.advance_mm"),
            },
            _ => Stitch::Overlock,
        }
    }

    fn head(&mut self) -> Head {
        let girth = match self.dom.value("head-from").as_str() {
            "women" => HeadGirth::Adult(AdultGroup::Women),
            "men" => HeadGirth::Adult(AdultGroup::Men),
            "girls" => self.child(ChildGroup::Girls),
            "boys" => self.child(ChildGroup::Boys),
            _ => HeadGirth::OwnMm(self.length("head-girth", "head.girth.own_mm")),
        };
        Head { girth, margin_mm: self.length("head-margin", "head.margin_mm") }
    }

    fn child(&mut self, group: ChildGroup) -> HeadGirth {
        HeadGirth::Child { group, age_months: self.number("head-age", "head.girth.child.age_months") }
    }

    fn asks(&mut self) -> Option<PatternAsks> {
        let asks = PatternAsks {
            crosswise_percent: self.number_if_any("asks-crosswise", "pattern_asks.crosswise_percent"),
            lengthwise_percent: self.number_if_any("asks-lengthwise", "pattern_asks.lengthwise_percent"),
        };
        (asks.crosswise_percent.is_some() || asks.lengthwise_percent.is_some()).then_some(asks)
    }

    fn length(&mut self, id: &str, path: &str) -> f64 {
        let value = length_of(self.dom, id, self.unit);
        self.keep(id, path, value)
    }

    fn length_if_any(&mut self, id: &str, path: &str) -> Option<f64> {
        self.written(id, path).then(|| self.length(id, path))
    }

    fn number(&mut self, id: &str, path: &str) -> f64 {
        let value = parse_number(self.dom.value(id).trim().trim_end_matches(['%', '°']));
        self.keep(id, path, value)
    }

    fn number_if_any(&mut self, id: &str, path: &str) -> Option<f64> {
        self.written(id, path).then(|| self.number(id, path))
    }

    /// Whether anything stands in a field that may be left empty; an empty one keeps its place for errors.
    fn written(&mut self, id: &str, path: &str) -> bool {
        let any = !self.dom.value(id).trim().is_empty();
        if !any {
            self.places.push(Place { id: id.to_owned(), path: path.to_owned() });
        }
        any
    }

    fn keep(&mut self, id: &str, path: &str, value: Result<f64, LengthError>) -> f64 {
        self.places.push(Place { id: id.to_owned(), path: path.to_owned() });
        value.unwrap_or_else(|error| {
            self.unread.push(Unread { id: id.to_owned(), message: sentence(&error.to_string()) });
            f64::NAN
        })
    }
}

/// A phrase as a sentence.
fn sentence(phrase: &str) -> String {
    let mut chars = phrase.chars();
    chars.next().map(|first| format!("{}{}.", first.to_ascii_uppercase(), chars.as_str())).unwrap_or_default()
}

/// The field a path in the brief belongs to: itself, a part of it, or what it is part of.
pub(crate) fn place_of<'a>(places: &'a [Place], path: &str) -> Option<&'a Place> {
    let mut path = path;
    loop {
        let inside =
            |place: &&Place| place.path.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
        if let Some(place) = places.iter().find(inside) {
            return Some(place);
        }
        path = path.rsplit_once('.')?.0;
    }
}
