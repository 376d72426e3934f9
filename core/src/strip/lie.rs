//! How a strip lies where its free edge is pressed together: flat, rippling, or standing up; and whether that passes.

use core::f64::consts::FRAC_PI_2;

use crate::brief::Rules;

/// How a part of a strip lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Lie {
    Flat,
    /// The free edge goes up and down; its crest above the plane, mm.
    Ripples(f64),
    /// It stands up.
    Stands(Lobe),
}

/// A part that stands up, as far as a place of it goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lobe {
    /// Lean from the plane, radians.
    pub lean: f64,
    /// Where the part stands up most.
    pub peak: Here,
    /// How far from there, mm.
    pub off: f64,
}

impl Lobe {
    /// At a place, mm from centre back.
    pub(crate) fn new(peak: Here, s: f64) -> Self {
        let (off, laid) = ((peak.s - s).abs(), peak.laid);
        let lean = peak.lean() * (-0.5 * (off / laid.standing().max(f64::MIN_POSITIVE)).powi(2)).exp();
        Self { lean, peak, off }
    }
}

/// A place along a strip, as far as its lie goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Here {
    /// mm from centre back.
    pub s: f64,
    /// Compression of the free edge in the plane. Fraction; under 0 it is stretched.
    pub compression: f64,
    /// The line's curvature toward the free edge, over six widths, 1/mm.
    pub bend: f64,
    /// The strip there.
    pub laid: Laid,
}

impl Here {
    pub(crate) fn is_pressed(&self) -> bool {
        self.compression > self.laid.pressed_from()
    }

    /// How high its ripples are, mm.
    pub(crate) fn crest(&self) -> f64 {
        self.laid.crest(self.compression, self.bend)
    }

    /// How far it leans where a part stands up most: as folded along the seam's curve, or, where that bends too little over six
    /// widths to stand so, as far as a single crest does. Radians.
    pub(crate) fn lean(&self) -> f64 {
        self.laid.lean(self.bend).max(FRAC_PI_2 - (self.crest() / self.laid.width).min(1.0).acos())
    }
}

/// What passes: judgement, the brief's to change.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Passing {
    /// How high a free edge may rise off the flat by ripples, and in front in any way, mm.
    pub rise: f64,
    /// How far it may lean off the flat where it stands up at the neck points and at the back, radians.
    pub lean: f64,
}

impl Passing {
    pub(crate) fn new(rules: &Rules) -> Self {
        Self { rise: rules.passing_rise_mm, lean: rules.passing_lean_deg.to_radians() }
    }
}

/// From this bend of the line over the strip's width on, the reckoning is not trusted: tension along the seam moves the strip
/// out of its own shape. Held against a model in three dimensions up to 0.27.
pub(crate) const TRUSTED_BEND: f64 = 0.3;

/// Over how many widths the line's curvature is taken for how far a strip stands up, each way.
pub(crate) const STANDING_WIDTHS: f64 = 3.0;

/// Strain that is rounding and not slack. Fraction.
const UNSEEN: f64 = 1e-3;

/// Share of the compression at which a strip ripples from which it is taken to: what a place is pressed is reckoned too small by a
/// point where a strip is stretched hard about a corner, and a span that may ripple is not to be called flat. Held against the plane
/// model of `tests/reference/sewn.sh`: of its 124 spans one that ripples by more than 2 percent was called flat without it. Our
/// judgement.
pub(crate) const SURELY_FLAT: f64 = 0.9;

/// When a strip of some thickness and width ripples.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rippling {
    /// 0.645 (t/w)^(2/3).
    root: f64,
    /// The least compression from which it ripples. Fraction.
    least: f64,
}

impl Rippling {
    /// Of a layer's thickness over the width.
    pub(crate) fn new(thin: f64) -> Self {
        Self { root: 0.645 * thin.powf(2.0 / 3.0), least: (1.45 * thin * thin).max(UNSEEN) }
    }

    /// Whether a free edge that is pressed together so much is taken to ripple, at a strain of the seam edge: as [`Self::from`] has it,
    /// with nothing to solve. Fractions.
    pub(crate) fn at(self, seam: f64) -> impl Fn(f64) -> bool {
        let (seam, cubed) = (seam.max(0.0), self.root.powi(3));
        move |pressed| {
            let pressed = pressed / SURELY_FLAT;
            pressed > self.least && pressed.powi(3) > cubed * (seam + pressed).powi(2)
        }
    }

    /// The compression of the free edge at which a strip held at its seam edge ripples: e = 0.645 ((e_s + e) t/w)^(2/3), and no less
    /// than 1.45 (t/w)^2, that of a strip whose seam edge is at rest. `seam` is the seam edge's strain. Fractions.
    ///
    /// A plate strip with one edge clamped, by Ritz's method (`tests/reference/plate.py`), within 4 percent. Layers are taken to
    /// slip on each other: each bends by itself.
    pub(crate) fn from(self, seam: f64) -> f64 {
        let (seam, root) = (seam.max(0.0), self.root);
        // With c^3 = e_s + e: c^3 - root c^2 - e_s = 0, by Newton's steps from above: a fourth root is over the third one up to 1.
        let mut cube = root + seam.sqrt().sqrt().max(seam);
        for _ in 0..NEWTONS_STEPS {
            let over = cube * cube * (cube - root) - seam;
            cube -= over / (cube * (3.0 * cube - 2.0 * root)).max(f64::MIN_POSITIVE);
        }
        (root * cube * cube).max(self.least)
    }
}

/// To the last bits from twice as high.
const NEWTONS_STEPS: usize = 7;

/// A strip between two marks, as far as its lie goes. mm and fractions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Laid {
    /// Finished width and a layer's thickness, mm.
    pub width: f64,
    pub thickness: f64,
    /// Relaxed strip over line.
    pub ratio: f64,
    /// The compression of the free edge from which it ripples.
    pub ripples_from: f64,
}

impl Laid {
    pub(crate) fn new(width: f64, thickness: f64, rippling: Rippling, ratio: f64) -> Self {
        Self { width, thickness, ratio, ripples_from: rippling.from(1.0 / ratio - 1.0) }
    }

    /// The compression of the free edge from which it is taken to ripple or to stand up.
    pub(crate) fn pressed_from(&self) -> f64 {
        SURELY_FLAT * self.ripples_from
    }

    /// How far it leans at the peak of a part that stands up, radians; `bend` is the line's curvature toward the free edge,
    /// over six widths about the peak. 0 where it does not stand.
    ///
    /// cos(lean) = (1 - (1 - e_c) r)/(k w), with e_c as [`Self::pressed_from`] has it: the relation of a curve and the folded surface on it, k_g = k cos(lean) (Fuchs and
    /// Tabachnikov, 'More on paperfolding', American Mathematical Monthly 106, 1999; from memory). Against a thin shell in
    /// three dimensions on ovals: within 5 degrees.
    pub(crate) fn lean(&self, bend: f64) -> f64 {
        let turns = bend * self.width;
        let cosine = (1.0 - (1.0 - self.pressed_from()) * self.ratio) / turns;
        if turns > 0.0 && cosine < 1.0 { cosine.max(0.0).acos() } else { 0.0 }
    }

    /// How wide a standing part is: its lean falls off from the peak as exp(-d^2/(2 s^2)), s = 2.3 sqrt(w t/e_s). mm
    ///
    /// Fitted to the three ovals of the same thin shell; the harder a strip is stretched, the sooner it is down again.
    pub(crate) fn standing(&self) -> f64 {
        2.3 * (self.width * self.thickness / (1.0 / self.ratio - 1.0).max(UNSEEN)).sqrt()
    }

    /// The crest of the ripples above the plane, mm: 1.2 (lambda/pi) sqrt(e - e_c); the wave's length lambda is 2.75 w along the
    /// seam, (1 - k w) times that along the free edge, 1.2 x 2.75/pi = 1.05. Fitted to five rings of the same shell, whose waves are
    /// weakly chosen: crests within 35 percent.
    pub(crate) fn crest(&self, compression: f64, bend: f64) -> f64 {
        let over = (compression - self.pressed_from()).max(0.0);
        (1.05 * self.width * self.shorter(bend) * over.sqrt()).min(self.width)
    }

    /// The free edge's length over the seam edge's, as far as its waves go.
    pub(crate) fn shorter(&self, bend: f64) -> f64 {
        (1.0 - bend * self.width).clamp(0.3, 1.0)
    }

    /// Whether it stands as a cone where the turning is spread out: hardly stretched, 1 - r under 0.45 sqrt(k t).
    pub(crate) fn stands_as_cone(&self, bend: f64) -> bool {
        1.0 - self.ratio < 0.45 * (bend.max(0.0) * self.thickness).sqrt()
    }
}

impl Lie {
    /// How high the free edge of a strip this wide rises off the flat, mm.
    pub(crate) fn rise(self, width: f64) -> f64 {
        match self {
            Self::Flat => 0.0,
            Self::Ripples(crest) => crest,
            Self::Stands(lobe) => width * lobe.lean.sin(),
        }
    }

    /// Whether it passes, in front or elsewhere.
    pub(crate) fn passes(self, width: f64, in_front: bool, passing: Passing) -> bool {
        match self {
            Self::Stands(lobe) if !in_front => lobe.lean <= passing.lean,
            _ => self.rise(width) <= passing.rise,
        }
    }
}
