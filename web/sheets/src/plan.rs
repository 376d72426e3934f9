//! What the sheets read of a plan, by the names of its JSON (`lieflat.plan`, version 1).
//!
//! The page hands over the very plan it shows, so that sheet and screen agree. Codes stay texts, since all that is
//! done with most of them is to look up words.

use crate::ink::Point;
use crate::node::Node;
use crate::order::Step;

/// A plan.
#[derive(Debug, Clone)]
pub(crate) struct Plan {
    pub front: HalfLine,
    pub back: HalfLine,
    pub whole_length: f64,
    pub strip: Option<Strip>,
    pub facing: Option<Facing>,
    pub clips: Option<Clips>,
    pub stays: Stays,
    pub opening: Opening,
    pub order: Vec<Step>,
    pub assumptions: Vec<String>,
}

/// One half's lines. mm.
#[derive(Debug, Clone)]
pub(crate) struct HalfLine {
    pub length: f64,
    /// Where the finished centre line stands in the half's own frame.
    pub centre_line_x: f64,
    pub cut_edge: Vec<Point>,
    pub seam_line: Vec<Point>,
    pub shoulder_direction: Point,
}

/// A cut figure. mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Figure {
    /// Before rounding.
    pub exact: f64,
    pub cut: f64,
    pub low: f64,
    pub high: f64,
}

/// A strip. Lengths in mm.
#[derive(Debug, Clone)]
pub(crate) struct Strip {
    pub pieces: u64,
    pub cut_length: Figure,
    pub cut_width: Figure,
    pub rows: Rows,
    pub relaxed_length: f64,
    pub ratio_percent: f64,
    pub hold_percent: f64,
    pub end_extra: f64,
    pub ends: Ends,
    /// At centre back, where front and back both have a point.
    pub back_ends: Option<Ends>,
    /// Whether the ends meet at centre back.
    pub joined_at_back: bool,
    /// A bound edge: the line it is sewn on.
    pub stitch_line: Option<StitchLine>,
    /// A bound edge: what is first trimmed off.
    pub trim: Option<f64>,
    pub topstitch: Option<f64>,
    pub marks: Vec<Mark>,
    pub outcome: String,
    pub widest_flat: Option<f64>,
    pub cures: Vec<Cure>,
}

/// The lines along a strip, from the raw edge that is sewn. mm.
#[derive(Debug, Clone)]
pub(crate) struct Rows {
    pub seams: Vec<f64>,
    /// The fold, or the line its free edge is turned under on.
    pub fold: Option<f64>,
    pub free_edge: f64,
}

/// What would cure a strip that does not lie flat: its code, and the number or code that comes with it.
#[derive(Debug, Clone)]
pub(crate) struct Cure {
    pub code: String,
    pub number: f64,
    pub text: String,
}

/// A bound edge's stitch line. mm.
#[derive(Debug, Clone)]
pub(crate) struct StitchLine {
    pub length: f64,
    pub front: Vec<Point>,
    pub back: Vec<Point>,
}

/// How a strip's ends meet. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Ends {
    Ring,
    Mitre { degrees: f64, free_edge_shorter: f64 },
    Lap { width: f64 },
    Overhang { length: f64 },
}

/// A mark, both places from centre back. mm.
#[derive(Debug, Clone)]
pub(crate) struct Mark {
    pub place: String,
    /// Which of the marks in between it is, from centre back; 0 for a named place, whose words need none.
    pub number: u64,
    pub on_strip: f64,
    pub on_seam_line: f64,
    /// Strip over line since the mark before; none at the first. Percent.
    pub ratio_percent: Option<f64>,
}

/// A facing. mm.
#[derive(Debug, Clone)]
pub(crate) struct Facing {
    pub front: FacingPiece,
    pub back: FacingPiece,
    pub cut_width: Figure,
    pub favour: f64,
    /// What it is interfaced with, a code.
    pub interfacing: String,
    pub understitch_length: f64,
    pub understitch_distance: f64,
    /// How far it stops short of points and corners.
    pub understitch_stops: Option<f64>,
    pub topstitch_length: Option<f64>,
}

/// Half a facing piece. mm.
#[derive(Debug, Clone)]
pub(crate) struct FacingPiece {
    pub seam_edge: Figure,
    pub outer_edge: Figure,
    pub on_fold: bool,
    /// Closed, from the centre along the neck; the last point is not repeated.
    pub cut_outline: Vec<Point>,
    pub seam_line: Vec<Point>,
    pub outer_line: Vec<Point>,
    /// In runs: it stops short of points and corners.
    pub understitch_lines: Vec<Vec<Point>>,
    pub topstitch_line: Vec<Point>,
    /// From the raw edge toward the seam edge.
    pub notches: Vec<[Point; 2]>,
    pub clips: Vec<Clip>,
    /// Where a wide allowance is trimmed; empty where it is not.
    pub trimmed_line: Vec<Point>,
    pub arrow: Option<[Point; 2]>,
}

/// A clip from the raw edge to short of the stitching, and whether it goes into a point or a corner.
#[derive(Debug, Clone)]
pub(crate) struct Clip {
    pub line: [Point; 2],
    /// `point`, `corner` or `curve`.
    pub kind: String,
}

impl Clip {
    pub(crate) fn is_in_corner(&self) -> bool {
        self.kind != "curve"
    }
}

/// Where to clip.
#[derive(Debug, Clone)]
pub(crate) struct Clips {
    /// From centre back, one half. mm.
    pub places: Vec<f64>,
    /// Each place's kind.
    pub kinds: Vec<String>,
    pub front: Vec<Clip>,
    pub back: Vec<Clip>,
    /// All round.
    pub count: u64,
    /// Those into points and corners.
    pub into_corners: u64,
    /// What a wide allowance is trimmed to first, and the trimmed edges. mm.
    pub trim_to: Option<f64>,
    pub trimmed_front: Vec<Point>,
    pub trimmed_back: Vec<Point>,
}

/// What to stay.
#[derive(Debug, Clone)]
pub(crate) struct Stays {
    pub zones: Vec<Zone>,
    pub given_up: Vec<String>,
    /// Named edges that want no stay.
    pub stable: Vec<String>,
    pub total_tape: f64,
}

/// One part to stay. mm.
#[derive(Debug, Clone)]
pub(crate) struct Zone {
    pub part: String,
    /// The person's own name for it.
    pub name: Option<String>,
    /// Along the seam line from centre back; none for what is no part of it.
    pub place: Option<(f64, f64)>,
    pub tape_each: Option<f64>,
    pub pieces: u64,
    /// `raw_edge` or `trimmed_edge`, and how far from it the tape's nearer side lies.
    pub measured_from: String,
    pub from_edge: f64,
    pub tape_width: f64,
    pub past_stitching: f64,
    pub widest_tape: f64,
    /// `fits`, `too_wide` or `none_fits`.
    pub fit: String,
    /// `runs_through`, `mitred` or `ends_at_seam`; nothing where the tape does not come to the centre.
    pub at_centre: String,
    /// The tape as it is laid, closed, in the half's own frame; none for what is no part of the neckline.
    pub outline: Vec<Point>,
    pub snips: u64,
    /// Length before over length after gathering.
    pub gathering: Option<f64>,
}

/// Whether the head passes. mm.
#[derive(Debug, Clone)]
pub(crate) struct Opening {
    pub head_girth: f64,
    pub margin: f64,
    pub smallest_girth: f64,
    pub passes: bool,
    pub spare: f64,
    pub stitch_advice: Option<StitchAdvice>,
    pub remedies: Vec<Remedy>,
}

/// What would serve where the stitch would break. Percent and mm.
#[derive(Debug, Clone)]
pub(crate) struct StitchAdvice {
    pub asks: f64,
    pub width: f64,
    pub length: f64,
}

/// What would let the head pass: the name of its words, and the figures set into them.
#[derive(Debug, Clone)]
pub(crate) struct Remedy {
    pub words: String,
    pub number: f64,
    pub line: f64,
}

impl Remedy {
    fn read(remedy: Node<'_>) -> Option<Self> {
        let (code, value) = remedy.choice()?;
        let words = match code {
            "larger_neck" if value.flag("stayed") => "larger_neck_stayed".to_owned(),
            "larger_neck" => "larger_neck_live".to_owned(),
            "other_direction" => format!("other_direction_{}", value.text()?),
            _ => code.to_owned(),
        };
        let number = value.number().or_else(|| value.at("by_mm").number()).unwrap_or(0.0);
        Some(Self { words, number, line: value.mm("seam_line_mm") })
    }
}

impl Plan {
    pub(crate) fn read(plan: Node<'_>) -> Self {
        let line = plan.at("seam_line");
        let some = |name: &str| Some(plan.at(name)).filter(|node| node.is_there());
        Self {
            front: HalfLine::read(line.at("front")),
            back: HalfLine::read(line.at("back")),
            whole_length: line.mm("whole_length_mm"),
            strip: some("strip").map(Strip::read),
            facing: some("facing").map(Facing::read),
            clips: some("clips").map(Clips::read),
            stays: Stays::read(plan.at("stays")),
            opening: Opening::read(plan.at("opening")),
            order: plan.at("order").items().map(Step::read).collect(),
            assumptions: plan.at("assumptions").items().map(|one| one.code("code")).collect(),
        }
    }
}

impl HalfLine {
    fn read(half: Node<'_>) -> Self {
        Self {
            length: half.mm("length_mm"),
            centre_line_x: half.mm("centre_line_x_mm"),
            cut_edge: half.points("cut_edge"),
            seam_line: half.points("seam_line"),
            shoulder_direction: half.at("shoulder_direction").point().unwrap_or([1.0, 0.0]),
        }
    }
}

impl Figure {
    fn read(figure: Node<'_>) -> Self {
        Self {
            exact: figure.mm("exact_mm"),
            cut: figure.mm("cut_mm"),
            low: figure.mm("low_mm"),
            high: figure.mm("high_mm"),
        }
    }
}

impl Strip {
    fn read(strip: Node<'_>) -> Self {
        // A span's ratio stands beside the mark it ends at.
        let ratios = strip.at("spans").items().map(|span| span.at("ratio_percent").number());
        let ratios = core::iter::once(None).chain(ratios);
        let mark = |(mark, ratio_percent): (Node<'_>, Option<f64>)| Mark {
            place: mark.code("place"),
            number: mark.count("number"),
            on_strip: mark.mm("on_strip_mm"),
            on_seam_line: mark.mm("on_seam_line_mm"),
            ratio_percent,
        };
        let cure = |cure: Node<'_>| {
            let (code, value) = cure.choice()?;
            let text = value.text().unwrap_or_default().to_owned();
            Some(Cure { code: code.to_owned(), number: value.number().unwrap_or(0.0), text })
        };
        let some = |name: &str| Some(strip.at(name)).filter(|node| node.is_there());
        let stitch_line = |line: Node<'_>| StitchLine {
            length: line.mm("length_mm"),
            front: line.points("front"),
            back: line.points("back"),
        };
        Self {
            pieces: strip.count("pieces").max(1),
            cut_length: Figure::read(strip.at("cut_length")),
            cut_width: Figure::read(strip.at("cut_width")),
            rows: Rows::read(strip.at("rows")),
            relaxed_length: strip.mm("relaxed_length_mm"),
            ratio_percent: strip.mm("ratio_percent"),
            hold_percent: strip.mm("hold_percent"),
            end_extra: strip.mm("end_extra_mm"),
            ends: Ends::read(strip.at("ends")),
            back_ends: some("back_ends").map(Ends::read),
            joined_at_back: strip.at("join_at").text() == Some("centre_back"),
            stitch_line: some("stitch_line").map(stitch_line),
            trim: strip.at("trim_mm").number(),
            topstitch: strip.at("topstitch_mm").number(),
            marks: strip.at("marks").items().zip(ratios).map(mark).collect(),
            outcome: strip.code("outcome"),
            widest_flat: strip.at("widest_flat_mm").number(),
            cures: strip.at("cures").items().filter_map(cure).collect(),
        }
    }
}

impl Rows {
    fn read(rows: Node<'_>) -> Self {
        Self { seams: rows.numbers("seams_mm"), fold: rows.at("fold_mm").number(), free_edge: rows.mm("free_edge_mm") }
    }
}

impl Ends {
    fn read(ends: Node<'_>) -> Self {
        match ends.choice() {
            Some(("mitre", mitre)) => {
                Self::Mitre { degrees: mitre.mm("angle_deg"), free_edge_shorter: mitre.mm("free_edge_shorter_mm") }
            }
            Some(("lap", lap)) => Self::Lap { width: lap.mm("lap_width_mm") },
            Some(("overhang", over)) => Self::Overhang { length: over.mm("overhang_mm") },
            _ => Self::Ring,
        }
    }
}

impl Facing {
    fn read(facing: Node<'_>) -> Self {
        Self {
            front: FacingPiece::read(facing.at("front")),
            back: FacingPiece::read(facing.at("back")),
            cut_width: Figure::read(facing.at("cut_width")),
            favour: facing.mm("favour_mm"),
            interfacing: facing.code("interfacing"),
            understitch_length: facing.mm("understitch_length_mm"),
            understitch_distance: facing.mm("understitch_distance_mm"),
            understitch_stops: facing.at("understitch_stops_mm").number(),
            topstitch_length: facing.at("topstitch_length_mm").number(),
        }
    }
}

impl FacingPiece {
    fn read(piece: Node<'_>) -> Self {
        Self {
            seam_edge: Figure::read(piece.at("seam_edge")),
            outer_edge: Figure::read(piece.at("outer_edge")),
            on_fold: piece.flag("on_fold"),
            cut_outline: piece.points("cut_outline"),
            seam_line: piece.points("seam_line"),
            outer_line: piece.points("outer_line"),
            understitch_lines: piece.at("understitch_lines").items().map(Node::as_points).collect(),
            topstitch_line: piece.points("topstitch_line"),
            notches: pairs(piece.at("notches"), ["at", "toward"]),
            clips: Clip::read(piece.at("clips").items()),
            trimmed_line: piece.points("trimmed_line"),
            arrow: pair(piece.at("arrow"), ["from", "to"]),
        }
    }
}

fn pair(node: Node<'_>, [a, b]: [&str; 2]) -> Option<[Point; 2]> {
    Some([node.at(a).point()?, node.at(b).point()?])
}

fn pairs(node: Node<'_>, names: [&str; 2]) -> Vec<[Point; 2]> {
    node.items().filter_map(|one| pair(one, names)).collect()
}

impl Clip {
    fn read<'a>(clips: impl Iterator<Item = Node<'a>>) -> Vec<Self> {
        clips.filter_map(|one| Some(Self { line: pair(one, ["from", "to"])?, kind: one.code("kind") })).collect()
    }
}

impl Clips {
    fn read(clips: Node<'_>) -> Self {
        let half = |name: &str| Clip::read(clips.at("lines").items().filter(|one| one.at("half").text() == Some(name)));
        Self {
            places: clips.numbers("places_mm"),
            kinds: clips.at("lines").items().map(|one| one.code("kind")).collect(),
            front: half("front"),
            back: half("back"),
            count: clips.count("count"),
            into_corners: clips.count("into_corners"),
            trim_to: clips.at("trim_to_mm").number(),
            trimmed_front: clips.points("trimmed_front"),
            trimmed_back: clips.points("trimmed_back"),
        }
    }
}

impl Stays {
    fn read(stays: Node<'_>) -> Self {
        let zone = |zone: Node<'_>| Zone {
            part: zone.code("part"),
            name: zone.at("name").text().map(str::to_owned),
            place: zone.at("from_mm").number().zip(zone.at("to_mm").number()),
            tape_each: zone.at("tape_each_mm").number(),
            pieces: zone.count("pieces"),
            measured_from: zone.code("measured_from"),
            from_edge: zone.mm("from_edge_mm"),
            tape_width: zone.mm("tape_width_mm"),
            past_stitching: zone.mm("past_stitching_mm"),
            widest_tape: zone.mm("widest_tape_mm"),
            fit: zone.code("fit"),
            at_centre: zone.code("at_centre"),
            outline: zone.points("outline"),
            snips: zone.count("snips"),
            gathering: zone.at("gathering_ratio").number(),
        };
        Self {
            zones: stays.at("zones").items().map(zone).collect(),
            given_up: stays.at("given_up").items().map(|one| one.code("part")).collect(),
            stable: stays.at("stable").items().map(|one| one.code("name")).collect(),
            total_tape: stays.mm("total_tape_mm"),
        }
    }
}

impl Opening {
    fn read(opening: Node<'_>) -> Self {
        Self {
            head_girth: opening.mm("head_girth_mm"),
            margin: opening.mm("margin_mm"),
            smallest_girth: opening.mm("smallest_girth_mm"),
            passes: opening.flag("passes"),
            spare: opening.mm("spare_mm"),
            stitch_advice: Some(opening.at("stitch_advice")).filter(|node| node.is_there()).map(|advice| {
                StitchAdvice {
                    asks: advice.mm("seam_asks_percent"),
                    width: advice.mm("zigzag_width_mm"),
                    length: advice.mm("zigzag_length_mm"),
                }
            }),
            remedies: opening.at("remedies").items().filter_map(Remedy::read).collect(),
        }
    }
}
