//! What the sheets read of a brief, by the names of its JSON (`lieflat.brief`, version 1), with the core's defaults
//! where the brief leaves something out.

use crate::node::Node;

/// A brief. Lengths in mm.
#[derive(Debug, Clone)]
pub(crate) struct Told {
    pub title: Option<String>,
    pub readings_at: String,
    pub neckline_allowance: f64,
    pub front: Half,
    pub back: Half,
    pub garment_knit: Knit,
    pub strip_knit: Option<Knit>,
    pub strip_direction: String,
    pub finish: Finish,
    pub stitch: Stitch,
    pub girth: Girth,
    /// Names of edges to stay.
    pub edges: Vec<String>,
}

/// One half of the neckline. mm.
#[derive(Debug, Clone)]
pub(crate) struct Half {
    /// A shape's code, or `drawn`.
    pub shape: String,
    pub length: Option<f64>,
    pub width: Option<f64>,
    pub depth: Option<f64>,
    /// None on a fold.
    pub centre_allowance: Option<f64>,
    pub shoulder_allowance: f64,
}

/// A knit.
#[derive(Debug, Clone)]
pub(crate) struct Knit {
    pub name: Option<String>,
    /// Percent, as read.
    pub crosswise: Option<f64>,
    pub lengthwise: Option<f64>,
    pub diagonal: Option<f64>,
}

/// The finishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    Band,
    Tape,
    Facing,
    Bound,
}

/// A finish. mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Finish {
    pub kind: Kind,
    pub width: f64,
    pub turn_under: f64,
    /// A facing: from the seam to its topstitching.
    pub topstitch: Option<f64>,
}

/// The stitch. mm.
#[derive(Debug, Clone)]
pub(crate) enum Stitch {
    Zigzag {
        width: f64,
        advance: f64,
    },
    /// By its code.
    Plain(String),
}

/// Whose head.
#[derive(Debug, Clone)]
pub(crate) struct Girth {
    /// `own` or a group's code.
    pub whose: String,
    pub months: Option<f64>,
}

impl Told {
    pub(crate) fn read(brief: Node<'_>) -> Self {
        let neckline = brief.at("neckline");
        let usual = |text: &str, usual: &str| if text.is_empty() { usual.to_owned() } else { text.to_owned() };
        let strip_knit = brief.at("strip_knit");
        Self {
            title: brief.at("title").text().map(str::to_owned),
            readings_at: neckline.code("readings_at"),
            neckline_allowance: neckline.mm("neckline_allowance_mm"),
            front: Half::read(neckline.at("front")),
            back: Half::read(neckline.at("back")),
            garment_knit: Knit::read(brief.at("garment_knit")),
            strip_knit: strip_knit.is_there().then(|| Knit::read(strip_knit)),
            strip_direction: usual(&brief.code("strip_direction"), "crosswise"),
            finish: Finish::read(brief.at("finish")),
            stitch: Stitch::read(brief.at("stitch")),
            girth: Girth::read(brief.at("head").at("girth")),
            edges: brief.at("stays").at("edges").items().map(|edge| edge.code("name")).collect(),
        }
    }

    /// The texts that people wrote themselves.
    pub(crate) fn own_texts(&self) -> impl Iterator<Item = &str> {
        let knits = [Some(&self.garment_knit), self.strip_knit.as_ref()].into_iter().flatten();
        let names = knits.filter_map(|knit| knit.name.as_deref());
        self.title.as_deref().into_iter().chain(names).chain(self.edges.iter().map(String::as_str))
    }
}

impl Half {
    fn read(half: Node<'_>) -> Self {
        let (_, outline) = half.at("outline").choice().unwrap_or(("", half));
        let shape = outline.at("shape").code("kind");
        let seam = half.at("centre").at("seam");
        Self {
            shape: if shape.is_empty() { "drawn".to_owned() } else { shape },
            length: outline.at("half_length_mm").number(),
            width: outline.at("half_width_mm").number(),
            depth: outline.at("depth_mm").number(),
            centre_allowance: seam.is_there().then(|| seam.mm("allowance_mm")),
            shoulder_allowance: half.mm("shoulder_allowance_mm"),
        }
    }
}

impl Knit {
    fn read(knit: Node<'_>) -> Self {
        Self {
            name: knit.at("name").text().map(str::to_owned),
            crosswise: stretch(knit.at("crosswise")),
            lengthwise: stretch(knit.at("lengthwise")),
            diagonal: stretch(knit.at("diagonal")),
        }
    }
}

fn stretch(stretch: Node<'_>) -> Option<f64> {
    match stretch.choice()? {
        ("percent", percent) => percent.at("stretch_percent").number(),
        (_, readings) => {
            let (rest, stretched) = (readings.mm("rest_mm"), readings.mm("stretched_mm"));
            Some(100.0 * (stretched - rest) / rest.max(1.0))
        }
    }
}

impl Finish {
    fn read(finish: Node<'_>) -> Self {
        let (name, finish) = finish.choice().unwrap_or(("", finish));
        let kind = match name {
            "tape" => Kind::Tape,
            "facing" => Kind::Facing,
            "bound" => Kind::Bound,
            _ => Kind::Band,
        };
        Self {
            kind,
            width: finish.mm("width_mm"),
            turn_under: finish.mm("turn_under_mm") + finish.mm("edge_allowance_mm"),
            topstitch: finish.at("topstitch_mm").number(),
        }
    }
}

impl Kind {
    /// Its key in the catalogue.
    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::Band => "band",
            Self::Tape => "tape",
            Self::Facing => "facing",
            Self::Bound => "bound",
        }
    }
}

impl Stitch {
    fn read(stitch: Node<'_>) -> Self {
        match stitch.choice() {
            Some(("zigzag", zigzag)) => Self::Zigzag { width: zigzag.mm("width_mm"), advance: zigzag.mm("advance_mm") },
            Some((plain, _)) => Self::Plain(plain.to_owned()),
            None => Self::Plain("overlock".to_owned()),
        }
    }
}

impl Girth {
    fn read(girth: Node<'_>) -> Self {
        let whose = match girth.choice() {
            Some(("adult", group)) => group.text().unwrap_or_default().to_owned(),
            Some(("child", child)) => child.code("group"),
            _ => "own".to_owned(),
        };
        Self { whose, months: girth.at("child").at("age_months").number() }
    }
}
